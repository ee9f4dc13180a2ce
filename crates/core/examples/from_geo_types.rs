//! Zones from polygons of `geo-types`, and their outlines back as polygons, for a map.
//!
//!     cargo run -p takeline --features geo --example from_geo_types

#![expect(clippy::print_stdout, reason = "this is what the example is for")]

use takeline::geo_types::{Point, polygon};
use takeline::rule::Take;
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, EdgeModel, Fix, HorizontalUncertainty, Metres, Position, Question, ZoneSet};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    // longitude first, as every map program has it
    let drawn = polygon![(x: -30.13, y: 45.11), (x: -30.11, y: 45.11), (x: -30.11, y: 45.125), (x: -30.13, y: 45.125)];
    let boundary = Boundary::from_polygon(&drawn, EdgeModel::PlateCarree)?;
    let mut zone = Zone::new("sallow-cove", "Sallow Cove", Extent::Known(boundary), Take::Nothing.into());
    zone.source.instrument = String::from("Marrowick Waters Order (invented)");
    zone.line_uncertainty = Metres::new(5.0)?; // drawn by hand
    let zones = ZoneSet::new(vec![zone]);

    let here = Position::try_from(Point::new(-30.12, 45.1170))?;
    let answer = zones.assess(&Fix::new(here, HorizontalUncertainty::assumed()), &Question::default());
    println!("the water at {:?} is {:?}", Point::from(here), answer.verdict().water);

    for zone in zones.zones() {
        let outline = zone.outline(Metres::new(1.0)?)?;
        let corners: usize = outline.iter().map(|polygon| polygon.exterior().coords().count()).sum();
        println!("{}: {} polygons, {corners} points, within a metre", zone.name, outline.iter().count());
    }
    Ok(())
}
