//! Fixes whose doubt is an ellipse, beside zones whose sides lie where plain arithmetic puts them.

use approx::assert_abs_diff_eq;

use super::spread::spread_m;
use super::{Containment, Question};
use crate::geodesic::direct;
use crate::zone::ZoneSet;
use crate::{
    AccuracyKind, Boundary, EdgeModel, ErrorEllipse, Fix, HorizontalUncertainty, Metres, PartSpec, Position,
    RingSpec, TrueBearing,
};

fn at(east_m: f64, north_m: f64) -> Position {
    let start = Position::from_degrees(45.1167, -30.1167).unwrap();
    direct(direct(start, 0.0, north_m), 90.0, east_m)
}

fn ellipse(semi_major_m: f64, semi_minor_m: f64, bearing_deg: f64) -> ErrorEllipse {
    ErrorEllipse {
        semi_major: Metres::computed(semi_major_m),
        semi_minor: Metres::computed(semi_minor_m),
        major_bearing: TrueBearing::wrapping(bearing_deg),
    }
}

fn boundary(corners: &[(f64, f64)]) -> Boundary {
    let vertices = corners.iter().map(|(east_m, north_m)| at(*east_m, *north_m)).collect();
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; corners.len()], sides: Vec::new() };
    Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }]).unwrap()
}

#[test]
fn along_a_straight_side_the_spread_is_the_support_of_the_ellipse() {
    // side along a parallel 300 m to the south; the support of an ellipse with axes a, b whose long axis makes the angle t
    // with the normal is √((a·cos t)² + (b·sin t)²)
    let zone = boundary(&[(-9000.0, -300.0), (9000.0, -300.0), (9000.0, -9000.0), (-9000.0, -9000.0)]);
    for bearing_deg in [0.0_f64, 30.0, 60.0, 90.0, 135.0] {
        let (sin, cos) = bearing_deg.to_radians().sin_cos();
        let expected = (200.0 * cos).hypot(20.0 * sin);
        let found = spread_m(&zone, at(0.0, 0.0), ellipse(200.0, 20.0, bearing_deg));
        // never less, but for 1 cm of curvature; no more than 2 % or half a metre above
        let most = expected + 0.5_f64.max(0.021 * expected);
        assert!(found > expected - 0.05 && found < most, "{bearing_deg}°: {found}, not {expected}");
    }
}

fn side_of(ellipse: ErrorEllipse, corners: &[(f64, f64)]) -> Containment {
    let ring: Vec<String> = corners
        .iter()
        .chain(&corners[..1])
        .map(|(east_m, north_m)| {
            let place = at(*east_m, *north_m);
            format!("[{:.12}, {:.12}]", place.longitude().degrees(), place.latitude().degrees())
        })
        .collect();
    let file = format!(
        r#"{{ "type": "FeatureCollection",
             "takeline": {{ "format": "takeline.zones/1", "title": "T", "edition": "1", "datum": "WGS 84",
                            "time_zone": "UTC", "taxa": [], "groups": [] }},
             "features": [{{ "type": "Feature", "id": "z",
               "geometry": {{ "type": "Polygon", "coordinates": [[{}]] }},
               "properties": {{ "name": "Z", "edges": "geodesic", "take": "none",
                                "source": {{ "instrument": "Marrowick Waters Order" }} }} }}] }}"#,
        ring.join(",")
    );
    let zones = ZoneSet::new(crate::zone_file::read("t.json", file.as_bytes()).unwrap().zones);
    let circle = HorizontalUncertainty::given(ellipse.semi_major.metres(), AccuracyKind::P95).unwrap();
    let fix = Fix { position: at(0.0, 0.0), uncertainty: circle, time: None };
    zones.assess(&fix, &Question { all_zones: true, ellipse_95: Some(ellipse), ..Question::default() }).zones
        [0]
    .containment
}

const SOUTH: [(f64, f64); 4] = [(-9000.0, -100.0), (9000.0, -100.0), (9000.0, -9000.0), (-9000.0, -9000.0)];

#[test]
fn a_boat_on_a_line_along_the_side_is_outside_however_badly_it_knows_where_on_the_line() {
    assert_eq!(side_of(ellipse(1500.0, 20.0, 90.0), &SOUTH), Containment::Outside);
    assert_eq!(side_of(ellipse(1500.0, 20.0, 0.0), &SOUTH), Containment::Undecided);
    assert_eq!(side_of(ellipse(1500.0, 20.0, 85.0), &SOUTH), Containment::Undecided); // 1500·sin 5° = 131 m
}

#[test]
fn a_zone_that_only_the_end_of_the_ellipse_reaches_leaves_it_undecided() {
    // a small zone 1200 m to the east, across the long axis
    let islet = [(1150.0, -50.0), (1250.0, -50.0), (1250.0, 50.0), (1150.0, 50.0)];
    assert_eq!(side_of(ellipse(1500.0, 20.0, 90.0), &islet), Containment::Undecided);
    assert_eq!(side_of(ellipse(1500.0, 20.0, 60.0), &islet), Containment::Outside);
}

#[test]
fn a_round_ellipse_is_a_circle() {
    let zone = boundary(&SOUTH);
    let found = spread_m(&zone, at(0.0, 0.0), ellipse(80.0, 80.0, 0.0));
    assert!((79.9..81.7).contains(&found), "{found}");
    assert!(spread_m(&zone, at(0.0, 0.0), ellipse(0.0, 0.0, 0.0)) < 0.51);
}

#[test]
fn the_nearest_reading_of_an_unstated_side_counts_all_over_the_ellipse() {
    // a side of 60 km along a parallel, 45.1°: rhumb line and geodesic lie 71 m apart at its middle (L²·tan φ/8R) and not at
    // all at its ends, so an ellipse from near an end to the middle comes nearer to one of them than its own middle says
    let side = |edge: EdgeModel| {
        let start = Position::from_degrees(45.1167, -30.1167).unwrap();
        let degrees_of_30_km = 0.3814;
        let corner = |east: f64, south: f64| {
            Position::from_degrees(start.latitude().degrees() - south, start.longitude().degrees() + east)
                .unwrap()
        };
        let vertices = vec![
            corner(-degrees_of_30_km, 0.0),
            corner(degrees_of_30_km, 0.0),
            corner(degrees_of_30_km, 0.2),
            corner(-degrees_of_30_km, 0.2),
        ];
        let exterior = RingSpec { vertices, edges: vec![edge; 4], sides: Vec::new() };
        Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }]).unwrap()
    };
    let middle = at(-15_000.0, 300.0);
    let long = ellipse(14_900.0, 1.0, 90.0);
    let unstated = spread_m(&side(EdgeModel::Unstated), middle, long);
    let geodesic = spread_m(&side(EdgeModel::Geodesic), middle, long);
    // the geodesic bows to the north, towards the boat, and is the nearest reading
    assert_abs_diff_eq!(unstated, geodesic, epsilon = 2.0);
}
