//! Positions from lines of position against closed forms, known places and drawn errors.
//!
//! The differences seen are printed, and docs/accuracy.md quotes them:
//!
//! ```text
//! cargo test -p takeline --test lines_of_position -- --nocapture
//! ```
#![expect(clippy::unwrap_used, reason = "a test that cannot make its marks has failed")]
#![expect(clippy::print_stdout, reason = "the differences seen are what docs/accuracy.md quotes")]

#[path = "lines_of_position/closed_forms.rs"]
mod closed_forms;
#[path = "lines_of_position/drawn_errors.rs"]
mod drawn_errors;
#[path = "lines_of_position/known_places.rs"]
mod known_places;
#[path = "lines_of_position/told.rs"]
mod told;
#[path = "lines_of_position/zones.rs"]
mod zones;

use takeline::landmark::Landmark;
use takeline::transit::{
    CrossError, CrossedPosition, Eye, LineOfPosition, ProblemCode, RangeLine, Severity, cross,
};
use takeline::zone::ZoneSet;
use takeline::{
    Arcminutes, Containment, GeodesicSegment, Metres, Position, Question, TrueBearing, WaterStatus, zone_file,
};

fn at(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

fn go(from: Position, bearing_deg: f64, metres: f64) -> Position {
    let bearing = TrueBearing::from_degrees(bearing_deg).unwrap();
    GeodesicSegment::leaving(from, bearing, Metres::new(metres).unwrap()).unwrap().to()
}

fn apart_m(a: Position, b: Position) -> f64 {
    GeodesicSegment::between(a, b).length().metres()
}

fn azimuth_deg(from: Position, to: Position) -> f64 {
    GeodesicSegment::between(from, to).initial_bearing().degrees()
}

/// East and north of a place, metres, by distance and azimuth.
fn east_north(from: Position, to: Position) -> [f64; 2] {
    let (sin, cos) = azimuth_deg(from, to).to_radians().sin_cos();
    [apart_m(from, to) * sin, apart_m(from, to) * cos]
}

fn shifted(from: Position, [east, north]: [f64; 2]) -> Position {
    go(from, east.atan2(north).to_degrees(), east.hypot(north))
}

fn mark(name: &str, position: Position, error_95_m: f64) -> Landmark {
    Landmark { position_error_95: Metres::new(error_95_m).unwrap(), ..Landmark::at(name, position) }
}

fn bearing(mark: &Landmark, degrees: f64, error_deg: f64) -> LineOfPosition {
    LineOfPosition::bearing(mark.clone(), TrueBearing::from_degrees(degrees).unwrap(), error_deg).unwrap()
}

fn bearing_from(place: Position, mark: &Landmark, error_deg: f64) -> LineOfPosition {
    bearing(mark, azimuth_deg(place, mark.position), error_deg)
}

fn angle_from(place: Position, left: &Landmark, right: &Landmark, error_deg: f64) -> LineOfPosition {
    let turned = azimuth_deg(place, right.position) - azimuth_deg(place, left.position);
    let angle_deg = if turned < 0.0 { turned + 360.0 } else { turned };
    LineOfPosition::horizontal_angle(left.clone(), right.clone(), angle_deg, error_deg).unwrap()
}

fn transit(front: &Landmark, rear: &Landmark) -> LineOfPosition {
    LineOfPosition::transit(RangeLine::through(front.clone(), rear.clone()).unwrap(), Eye::default())
}

fn has(crossed: &CrossedPosition, code: ProblemCode) -> bool {
    crossed.problems.iter().any(|problem| problem.code() == code)
}

const SALLOW_COVE: (f64, f64) = (45.1182, -30.1217);

fn cove() -> Position {
    at(SALLOW_COVE.0, SALLOW_COVE.1)
}

/// Two exact marks at 1 km whose bearings differ by an angle, each bearing known to an error.
fn two_bearings(place: Position, apart_deg: f64, error_deg: f64) -> [LineOfPosition; 2] {
    [40.0, 40.0 + apart_deg]
        .map(|deg| bearing_from(place, &mark("mark", go(place, deg, 1000.0), 0.0), error_deg))
}
