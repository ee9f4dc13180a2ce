//! Shapes of a source as shapes of a zone: rings that are closed, positions in degrees, and what is in doubt by that.

use std::collections::BTreeMap;

use takeline::{EdgeLine, EdgeModel, GeodesicSegment, Position};

use super::coordinate_system::{Bring, no_degrees};
use super::fault::ImportFault;
use super::layer::{Area, Line, Shape, SourceFeature, Xy};
use super::mapping::{LeftOut, Mapping};
use super::note::Notes;
use super::source::Format;

/// What a zone looks like, in degrees.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum ZoneShape {
    /// Areas, at least one.
    Areas(Vec<Area>),
    /// The centre of a circle.
    Centre(Xy),
    /// The source has no shape for it.
    Unknown,
}

/// A zone's shape, and how far what was done to it may have put its line off, 95 %, in metres.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Placed {
    pub(super) shape: ZoneShape,
    pub(super) doubt_95_m: f64,
}

/// Puts shapes where they belong.
pub(super) struct Placer<'m> {
    pub(super) format: Format,
    pub(super) mapping: &'m Mapping,
    /// How positions come to WGS 84; none: they are degrees.
    pub(super) bring: Option<Bring>,
    /// Operations that were used, with their stated accuracy in metres.
    pub(super) used: BTreeMap<String, f64>,
}

/// From an accuracy that a registry states, without saying how often it holds, to a radius that holds 95 times in 100: read as one
/// standard deviation along each axis, √(-2 ln 0.05). Less would not hold: see `takeline-reproject`, whose control points it is
/// tested with.
const STATED_TO_95: f64 = 2.447_747;
/// Shares of a side at which a straight side of a grid is looked at.
const SHARES: [f64; 3] = [0.25, 0.5, 0.75];

impl Placer<'_> {
    /// The shape of a zone; none where the feature is left out.
    pub(super) fn place(
        &mut self,
        feature: &SourceFeature,
        notes: &mut Notes,
    ) -> Result<Option<Placed>, ImportFault> {
        let Some(shape) = self.as_areas(feature, notes)? else { return Ok(None) };
        let mut doubt = Doubt::default();
        let shape = match shape {
            ZoneShape::Unknown => ZoneShape::Unknown,
            ZoneShape::Centre(xy) => ZoneShape::Centre(self.position(&feature.place, xy, &mut doubt)?),
            ZoneShape::Areas(areas) => {
                let areas = areas.iter().map(|area| self.area(&feature.place, area, &mut doubt));
                ZoneShape::Areas(areas.collect::<Result<_, _>>()?)
            }
        };
        Ok(Some(Placed { shape, doubt_95_m: doubt.total_95_m() }))
    }

    /// Areas, a centre or nothing, in the numbers of the source.
    fn as_areas(&self, feature: &SourceFeature, notes: &mut Notes) -> Result<Option<ZoneShape>, ImportFault> {
        let Shape { areas, lines, points } = &feature.shape;
        let has_radius =
            self.mapping.fields.contains_key("radius_m") || self.mapping.constants.contains_key("radius_m");
        let mut areas = areas.clone();
        for line in lines {
            match closed(line, (&feature.place, notes)) {
                Some(exterior) => areas.push(Area { exterior, holes: Vec::new() }),
                None if self.mapping.leaves_out(LeftOut::Lines) => notes.lost(&feature.place, "a line"),
                None => {
                    return Err(not_an_area(
                        feature,
                        "a line that does not come back to its beginning",
                        "lines",
                    ));
                }
            }
        }
        match points.as_slice() {
            [centre] if has_radius && areas.is_empty() => return Ok(Some(ZoneShape::Centre(*centre))),
            [] => {}
            _ if self.mapping.leaves_out(LeftOut::Points) => {
                notes.lost(&feature.place, format!("points: {}", points.len()));
            }
            _ => return Err(not_an_area(feature, "a point without a radius", "points")),
        }
        if !areas.is_empty() {
            return Ok(Some(ZoneShape::Areas(areas)));
        }
        if !lines.is_empty() || !points.is_empty() {
            return Ok(None); // all of it is left out, and listed
        }
        if self.mapping.leaves_out(LeftOut::WithoutShape) {
            notes.lost(&feature.place, "the feature: it has no shape");
            return Ok(None);
        }
        Ok(Some(ZoneShape::Unknown))
    }

    fn area(&mut self, place: &str, area: &Area, doubt: &mut Doubt) -> Result<Area, ImportFault> {
        let exterior = self.ring(place, &area.exterior, doubt)?;
        let holes = area.holes.iter().map(|hole| self.ring(place, hole, doubt)).collect::<Result<_, _>>()?;
        Ok(Area { exterior, holes })
    }

    fn ring(&mut self, place: &str, ring: &[Xy], doubt: &mut Doubt) -> Result<Vec<Xy>, ImportFault> {
        let mut placed: Vec<Xy> = Vec::with_capacity(ring.len());
        for xy in ring {
            placed.push(self.position(place, *xy, doubt)?);
        }
        let sides = ring.windows(2).zip(placed.windows(2));
        let is_grid = self.bring.is_some() && !self.mapping.constants.contains_key("edges");
        for (on_grid, in_degrees) in sides.filter(|_| is_grid) {
            let bend_m = self.bend_m(place, (on_grid[0], on_grid[1]), (in_degrees[0], in_degrees[1]))?;
            doubt.bend_m = doubt.bend_m.max(bend_m);
        }
        Ok(placed)
    }

    /// How far a side that is straight on the grid runs from the geodesic between its ends, about, in metres.
    fn bend_m(&mut self, place: &str, on_grid: (Xy, Xy), in_degrees: (Xy, Xy)) -> Result<f64, ImportFault> {
        let (Some(from), Some(to)) = (position_of(in_degrees.0), position_of(in_degrees.1)) else {
            return Ok(0.0);
        };
        let Ok(line) = EdgeLine::between(from, to, EdgeModel::Geodesic) else { return Ok(0.0) };
        let mut farthest_m: f64 = 0.0;
        for share in SHARES {
            let ([ax, ay], [bx, by]) = on_grid;
            let between = [ax + share * (bx - ax), ay + share * (by - ay)];
            let there = self.position(place, between, &mut Doubt::default())?;
            if let Some(there) = position_of(there) {
                let apart = GeodesicSegment::between(there, line.at(share)).length();
                farthest_m = farthest_m.max(apart.metres());
            }
        }
        Ok(farthest_m)
    }

    fn position(&mut self, place: &str, xy: Xy, doubt: &mut Doubt) -> Result<Xy, ImportFault> {
        let lon_lat = match &self.bring {
            None => xy,
            Some(bring) => {
                let brought = bring(xy).map_err(|why| {
                    ImportFault::at(
                        place,
                        why,
                        "check the position, or say the coordinate system with --from",
                    )
                })?;
                doubt.accuracy_m = doubt.accuracy_m.max(brought.accuracy_m);
                self.used.insert(brought.operation, brought.accuracy_m);
                brought.lon_lat_deg
            }
        };
        let [lon, lat] = lon_lat;
        // also false for what is no number
        let is_degrees = (-180.0..=360.0).contains(&lon) && (-90.0..=90.0).contains(&lat);
        if is_degrees { Ok(lon_lat) } else { Err(no_degrees(place, xy, self.format)) }
    }
}

/// What may have put a line off.
#[derive(Debug, Default)]
struct Doubt {
    /// The worst stated accuracy.
    accuracy_m: f64,
    /// The most that a side which is straight on the grid runs beside the geodesic.
    bend_m: f64,
}

impl Doubt {
    fn total_95_m(&self) -> f64 {
        self.accuracy_m * STATED_TO_95 + self.bend_m
    }
}

fn position_of([lon, lat]: Xy) -> Option<Position> {
    Position::from_degrees(lat, lon).ok()
}

/// A line as a ring; none where it is not one.
fn closed(line: &Line, (place, notes): (&str, &mut Notes)) -> Option<Vec<Xy>> {
    let positions = &line.positions;
    let comes_back = positions.len() > 3 && positions.first() == positions.last();
    if comes_back {
        notes.changed(place, "a closed line is read as the boundary of an area");
    } else if line.is_meant_closed && positions.len() > 2 {
        notes.changed(
            place,
            "the last point is joined to the first by a straight side, which the source does not have",
        );
    } else {
        return None;
    }
    Some(positions.clone())
}

fn not_an_area(feature: &SourceFeature, what: &str, word: &str) -> ImportFault {
    let mend = if word == "points" {
        "map radius_m for circles, or write leave_out = [\"points\"] into the mapping if points are no zones"
    } else {
        "close it in the source, or write leave_out = [\"lines\"] into the mapping if lines are no zones"
    };
    ImportFault::at(&feature.place, format!("its shape is {what}, which encloses nothing"), mend)
}
