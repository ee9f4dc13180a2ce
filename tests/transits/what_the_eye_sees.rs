//! The left and right of the answer against a direct computation of what the eye sees, anywhere on Earth.
//!
//! The direct computation is our own here: places as vectors from the Earth's centre, the two marks' directions from the
//! observer projected on the level there, and the sign of their cross product about up. Nothing of it comes from the library.

use proptest::prelude::*;
use takeline::landmark::Landmark;
use takeline::transit::{RangeLine, Stretch, TransitQuestion};
use takeline::zone::ZoneSet;
use takeline::{GeodesicSegment, Metres, Position, TrueBearing};

type Vector = [f64; 3];

fn metres(value: f64) -> Metres {
    Metres::new(value).unwrap()
}

fn going(from: Position, bearing_deg: f64, length_m: f64) -> Position {
    let bearing = TrueBearing::from_degrees(bearing_deg).unwrap();
    GeodesicSegment::leaving(from, bearing, metres(length_m)).unwrap().to()
}

/// WGS 84, from its defining constants.
fn from_the_centre(place: Position) -> (Vector, Vector) {
    let (a, e2) = (6_378_137.0, 0.006_694_379_990_141_317);
    let (lat, lon) = (place.latitude().radians(), place.longitude().radians());
    let up = [lat.cos() * lon.cos(), lat.cos() * lon.sin(), lat.sin()];
    let n = a / (1.0 - e2 * lat.sin() * lat.sin()).sqrt();
    ([n * up[0], n * up[1], n * (1.0 - e2) * up[2]], up)
}

fn dot(a: Vector, b: Vector) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

fn cross(a: Vector, b: Vector) -> Vector {
    [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}

/// Whether an eye at a place sees the rear mark to the right of the front mark.
fn rear_shows_right(eye: Position, front: Position, rear: Position) -> bool {
    let (here, up) = from_the_centre(eye);
    let level = |mark: Position| {
        let (there, _) = from_the_centre(mark);
        let way = [there[0] - here[0], there[1] - here[1], there[2] - here[2]];
        let rise = dot(way, up);
        [way[0] - rise * up[0], way[1] - rise * up[1], way[2] - rise * up[2]]
    };
    // counted about up, a positive turn goes to the left
    dot(cross(level(front), level(rear)), up) < 0.0
}

/// A square zone of 600 m on one side of the line, its nearest side `gap_m` off, in the middle of a stretch of 800 m.
fn zone_beside(line: &RangeLine, to_the_right: bool, gap_m: f64) -> ZoneSet {
    let sign = if to_the_right { 1.0 } else { -1.0 };
    let corner = |along_m: f64, off_m: f64| line.beside(metres(along_m), metres(sign * off_m));
    let corners = [
        corner(700.0, gap_m),
        corner(1300.0, gap_m),
        corner(1300.0, gap_m + 600.0),
        corner(700.0, gap_m + 600.0),
    ];
    let ring: Vec<String> = corners
        .iter()
        .chain(&corners[..1])
        .map(|place| format!("[{:.12}, {:.12}]", place.longitude().degrees(), place.latitude().degrees()))
        .collect();
    let file = format!(
        r#"{{ "type": "FeatureCollection",
             "takeline": {{ "format": "takeline.zones/1", "title": "T", "edition": "1", "datum": "WGS 84",
                            "time_zone": "UTC", "taxa": [], "groups": [] }},
             "features": [{{ "type": "Feature", "id": "z",
               "geometry": {{ "type": "Polygon", "coordinates": [[{}]] }},
               "properties": {{ "name": "Z", "edges": "geodesic", "take": "none",
                                "source": {{ "instrument": "Test Order" }} }} }}] }}"#,
        ring.join(",")
    );
    ZoneSet::new(takeline::zone_file::read("t.json", file.as_bytes()).unwrap().zones)
}

/// Holds the answer for marks at a place, on a bearing, used from one side and then from the other.
fn hold(front: Position, bearing_deg: f64, to_the_right: bool) -> Result<(), TestCaseError> {
    let other = going(front, bearing_deg, 500.0);
    // from one side the first is the front mark, from the other side the second is
    for (front, rear) in [(front, other), (other, front)] {
        let line = RangeLine::through(Landmark::at("front", front), Landmark::at("rear", rear)).unwrap();
        let zones = zone_beside(&line, to_the_right, 150.0);
        let question = TransitQuestion::about(Stretch::new(metres(600.0), metres(1400.0)).unwrap());
        let report = line.check(&zones, &question);
        let opens = report.opens.ok_or_else(|| TestCaseError::fail("no side was found"))?;
        // somebody in the middle of the zone
        let sign = if to_the_right { 1.0 } else { -1.0 };
        let inside = line.beside(metres(1000.0), metres(sign * 450.0));
        let eye_says = if rear_shows_right(inside, front, rear) { "right" } else { "left" };
        prop_assert_eq!(opens.rear_shows.code(), eye_says);
        let outside = line.beside(metres(1000.0), metres(-sign * 100.0));
        let eye_says = if rear_shows_right(outside, front, rear) { "right" } else { "left" };
        prop_assert_eq!(opens.rear_shows.other().code(), eye_says);
        // the direction that is named is that of the zone
        let words =
            ["north", "north-east", "east", "south-east", "south", "south-west", "west", "north-west"];
        let towards = GeodesicSegment::between(line.at(metres(1000.0)), inside).initial_bearing().degrees();
        let named = words.iter().position(|word| *word == opens.zone_lies.code()).unwrap();
        let apart = (towards - 45.0 * f64::from(u8::try_from(named).unwrap())).to_radians().cos();
        prop_assert!(apart > 22.6_f64.to_radians().cos(), "{:?} is not {towards}°", opens.zone_lies);
    }
    Ok(())
}

#[test]
fn left_and_right_are_right_in_all_octants_hemispheres_and_across_180() {
    let places =
        [(45.12, -30.13), (-33.9, 151.3), (-16.5, 179.999), (16.5, -179.999), (0.0, 0.0), (71.0, 25.0)];
    for (latitude_deg, longitude_deg) in places {
        let front = Position::from_degrees(latitude_deg, longitude_deg).unwrap();
        for octant in 0..8 {
            for turn_deg in [0.0, 22.5] {
                for to_the_right in [false, true] {
                    let bearing_deg = 45.0 * f64::from(octant) + turn_deg;
                    let held = hold(front, bearing_deg, to_the_right);
                    assert!(held.is_ok(), "{latitude_deg} {longitude_deg}, {bearing_deg}°: {held:?}");
                }
            }
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn left_and_right_are_what_the_eye_sees(
        latitude_deg in -80.0..80.0_f64,
        longitude_deg in -180.0..180.0_f64,
        bearing_deg in 0.0..360.0_f64,
        to_the_right in any::<bool>(),
    ) {
        hold(Position::from_degrees(latitude_deg, longitude_deg).unwrap(), bearing_deg, to_the_right)?;
    }
}
