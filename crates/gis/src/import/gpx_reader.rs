//! GPX: each route and each track walks round one zone; of several segments each has to come back to where it began. WGS 84 by the
//! format.

use serde_json::Value;

use super::fault::ImportFault;
use super::layer::{Layer, Line, SourceFeature, StatedSystem, Xy, number};
use super::note::Notes;
use super::xml_tree::{self, Element};

/// What a route or track says in words.
const WORDS: [&str; 6] = ["name", "cmt", "desc", "src", "type", "number"];

/// Reads all routes and tracks.
pub(super) fn read(bytes: &[u8]) -> Result<Layer, ImportFault> {
    let root = xml_tree::parse(bytes)?;
    if root.name != "gpx" {
        return Err(ImportFault::whole(
            format!("it begins with <{}>, so it is no GPX", root.name),
            "save it again as GPX",
        ));
    }
    let mut notes = Notes::default();
    let waypoints = root.all("wpt").count();
    if waypoints > 0 {
        notes.lost("", format!("{waypoints} waypoints: a point alone is no zone"));
    }
    let others = root.children.iter().filter(|child| !["wpt", "rte", "trk"].contains(&child.name.as_str()));
    notes.count_lost("elements beside routes and tracks, which say what the whole is", others.count());
    let routes = root.all("rte").enumerate().map(|(at, route)| {
        let place = format!("route {}", at + 1);
        let line = line(route.all("rtept"), &mut notes, &place)?;
        Ok(feature(route, place, (vec![line], &mut notes)))
    });
    let mut features: Vec<SourceFeature> = routes.collect::<Result<_, ImportFault>>()?;
    for (at, track) in root.all("trk").enumerate() {
        let place = format!("track {}", at + 1);
        let lines = track.all("trkseg").map(|segment| line(segment.all("trkpt"), &mut notes, &place));
        let mut lines: Vec<Line> = lines.collect::<Result<_, _>>()?;
        // a ring that was walked in two goes is no two rings, each closed by a side that nobody walked
        let is_one_walk = lines.len() == 1;
        for line in &mut lines {
            line.is_meant_closed = is_one_walk;
        }
        let others = |segment: &Element| segment.children.len() - segment.all("trkpt").count();
        notes.count_lost("what segments say beside their points", track.all("trkseg").map(others).sum());
        features.push(feature(track, place, (lines, &mut notes)));
    }
    Ok(Layer { system: StatedSystem::ByFormat, is_straight_in_lonlat: false, features, notes })
}

fn feature(element: &Element, place: String, (lines, notes): (Vec<Line>, &mut Notes)) -> SourceFeature {
    let mut feature = SourceFeature { place, ..Default::default() };
    for child in &element.children {
        match child.name.as_str() {
            word if WORDS.contains(&word) => add_word(child, &mut feature, notes),
            // what other programs say of it, under names of their own
            "extensions" => {
                child.children.iter().for_each(|said| add_word(said, &mut feature, notes));
            }
            "rtept" | "trkseg" => {}
            other => notes.lost(&feature.place, format!("the element {other:?}")),
        }
    }
    feature.shape.lines = lines;
    feature
}

/// An element of text as an attribute; what lies in it is lost.
fn add_word(element: &Element, feature: &mut SourceFeature, notes: &mut Notes) {
    let text = element.text.trim();
    if !text.is_empty() {
        feature.attributes.push((element.name.clone(), Value::from(text)));
    }
    let inside = element.children.len() + element.attributes.len();
    if inside > 0 {
        notes.lost(&feature.place, format!("what lies in the element {:?}: {inside}", element.name));
    }
}

fn line<'e>(
    points: impl Iterator<Item = &'e Element>,
    notes: &mut Notes,
    place: &str,
) -> Result<Line, ImportFault> {
    let mut positions: Vec<Xy> = Vec::new();
    for (at, point) in points.enumerate() {
        let place = format!("{place}, point {}", at + 1);
        let of = |name: &str| {
            let text = point.attribute(name).ok_or_else(|| {
                ImportFault::at(&place, format!("it has no {name}"), "every point needs lat and lon")
            })?;
            number(&place, name, text)
        };
        positions.push([of("lon")?, of("lat")?]);
        notes.count_lost("heights", point.all("ele").count());
        notes.count_lost("times of points", point.all("time").count());
        notes.count_lost("names of points", point.all("name").count());
        let others =
            point.children.iter().filter(|child| !["ele", "time", "name"].contains(&child.name.as_str()));
        notes.count_lost("other things that points say", others.count());
    }
    Ok(Line { positions, is_meant_closed: true })
}
