//! What goes to other crates and comes back: shapes of `geo-types`, and results as JSON.

use std::error::Error;
use std::path::Path;

use serde_json::json;
use takeline::geo_types::{LineString, MultiPolygon, Point, Polygon};
use takeline::test_util::samples;
use takeline::zone::{Extent, Zone};
use takeline::{
    AccuracyKind, Boundary, EdgeModel, Fix, HorizontalUncertainty, Metres, NoOutline, PartSpec, Position,
    Question, RingSpec, ZoneSet,
};
use takeline_test_util::bare_numbers;

type Outcome = Result<(), Box<dyn Error>>;

fn marrowick() -> Result<ZoneSet, Box<dyn Error>> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/zones/marrowick.json");
    Ok(ZoneSet::from_geojson("marrowick.json", &std::fs::read(path)?)?)
}

fn boundary(zone: &Zone) -> Option<&Boundary> {
    match &zone.extent {
        Extent::Known(boundary) => Some(boundary),
        Extent::Unknown { .. } => None,
    }
}

fn ring(edges: EdgeModel, corners: &[(f64, f64)]) -> Result<RingSpec, Box<dyn Error>> {
    let vertices: Result<Vec<_>, _> =
        corners.iter().map(|(lat, lon)| Position::from_degrees(*lat, *lon)).collect();
    Ok(RingSpec { vertices: vertices?, edges: vec![edges; corners.len()], sides: Vec::new() })
}

/// How far places along all straight lines of an outline are off the line, whichever reading of it is nearest, in metres.
fn distances_m(outline: &MultiPolygon, boundary: &Boundary) -> Result<Vec<f64>, Box<dyn Error>> {
    let mut found = Vec::new();
    for polygon in outline {
        for line in std::iter::once(polygon.exterior()).chain(polygon.interiors()) {
            for side in line.lines() {
                for share in [0.0, 0.2, 0.5, 0.8] {
                    let place = side.start + (side.end - side.start) * share;
                    let lon_deg = if place.x > 360.0 { place.x - 360.0 } else { place.x };
                    let place = Position::from_degrees(place.y, lon_deg)?;
                    let located = boundary.locate(place);
                    found.push(located.least.metres().max(-located.greatest.metres()).max(0.0));
                }
            }
        }
    }
    Ok(found)
}

fn farthest_m(outline: &MultiPolygon, boundary: &Boundary) -> Result<f64, Box<dyn Error>> {
    Ok(distances_m(outline, boundary)?.into_iter().fold(0.0, f64::max))
}

#[test]
fn a_position_is_a_point_with_the_longitude_first() -> Outcome {
    let here = Position::from_degrees(45.1170, -30.1190)?;
    let point = Point::from(here);
    assert_eq!((point.x(), point.y()), (-30.1190, 45.1170));
    assert_eq!(Position::try_from(point)?, here);
    assert!(Position::try_from(Point::new(45.0, 95.0)).is_err());
    assert!(Position::try_from(Point::new(f64::NAN, 5.0)).is_err());
    Ok(())
}

#[test]
fn outlines_of_the_demo_zones_keep_to_their_lines_within_the_tolerance() -> Outcome {
    let zones = marrowick()?;
    let mut drawn = 0;
    for zone in zones.zones() {
        let Some(boundary) = boundary(zone) else {
            assert_eq!(zone.outline(Metres::new(1.0)?), Err(NoOutline::Unknown));
            continue;
        };
        for tolerance_m in [0.01, 1.0, 50.0] {
            let outline = zone.outline(Metres::new(tolerance_m)?)?;
            let farthest_m = farthest_m(&outline, boundary)?;
            assert!(farthest_m <= tolerance_m + 2e-3, "{}: {farthest_m} m", zone.id);
        }
        drawn += 1;
    }
    assert!(drawn >= 5, "only {drawn} zones were drawn");
    Ok(())
}

#[test]
fn long_edges_far_north_are_divided_until_straight_lines_keep_to_them() -> Outcome {
    let corners = [(70.0, -40.0), (70.0, -10.0), (78.0, -10.0), (78.0, -40.0)];
    for edges in [EdgeModel::Geodesic, EdgeModel::RhumbLine, EdgeModel::PlateCarree] {
        let exterior = ring(edges, &corners)?;
        let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }])?;
        let outline = boundary.to_multi_polygon(Metres::new(0.1)?)?;
        let farthest_m = farthest_m(&outline, &boundary)?;
        assert!(farthest_m <= 0.1 + 0.01, "{edges:?}: {farthest_m} m");
    }
    Ok(())
}

#[test]
fn a_hole_belongs_to_the_ring_around_it_and_an_island_in_it_is_a_polygon_of_its_own() -> Outcome {
    let square = |half: f64| {
        let (lat, lon) = (45.1, -30.1);
        ring(
            EdgeModel::RhumbLine,
            &[
                (lat - half, lon - half),
                (lat - half, lon + half),
                (lat + half, lon + half),
                (lat + half, lon - half),
            ],
        )
    };
    let boundary = Boundary::build(&[
        PartSpec::Polygon { exterior: square(0.1)?, holes: vec![square(0.05)?] },
        PartSpec::Polygon { exterior: square(0.02)?, holes: vec![] },
        PartSpec::Circle { centre: Position::from_degrees(45.5, -30.1)?, radius: Metres::new(500.0)? },
    ])?;
    let outline = boundary.to_multi_polygon(Metres::new(0.5)?)?;
    let holes: Vec<usize> = outline.iter().map(|polygon| polygon.interiors().len()).collect();
    assert_eq!(holes.iter().sum::<usize>(), 1, "{holes:?}");
    assert_eq!(holes.len(), 3);
    let with_hole = outline.iter().find(|polygon| !polygon.interiors().is_empty()).ok_or("a hole")?;
    assert!(with_hole.exterior().coords().any(|coord| (coord.y - 45.2).abs() < 1e-9));
    assert!(farthest_m(&outline, &boundary)? <= 0.5 + 2e-3);
    Ok(())
}

#[test]
fn a_ring_over_180_degrees_does_not_jump_and_comes_back_as_the_same_zone() -> Outcome {
    let exterior =
        ring(EdgeModel::RhumbLine, &[(-17.0, 179.5), (-17.0, -179.5), (-16.5, -179.5), (-16.5, 179.5)])?;
    let hole =
        ring(EdgeModel::RhumbLine, &[(-16.9, -179.9), (-16.9, -179.8), (-16.8, -179.8), (-16.8, -179.9)])?;
    let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![hole] }])?;
    let outline = boundary.to_multi_polygon(Metres::new(0.05)?)?;
    let polygon = outline.iter().next().ok_or("a polygon")?;
    assert_eq!((outline.0.len(), polygon.interiors().len()), (1, 1));
    for line in std::iter::once(polygon.exterior()).chain(polygon.interiors()) {
        assert!(line.coords().all(|coord| (179.4..=180.6).contains(&coord.x)), "{line:?}");
    }
    let again = Boundary::from_multi_polygon(&outline, EdgeModel::PlateCarree)?;
    for (lat_deg, lon_deg) in [(-16.7, 179.9), (-16.7, -179.9), (-16.85, -179.85), (-16.4, 180.0)] {
        let place = Position::from_degrees(lat_deg, lon_deg)?;
        let difference_m =
            again.locate(place).signed_distance.metres() - boundary.locate(place).signed_distance.metres();
        assert!(difference_m.abs() <= 0.06, "{lat_deg} {lon_deg}: {difference_m} m");
    }
    Ok(())
}

#[test]
fn a_zone_about_a_pole_and_a_tolerance_of_nothing_are_refused() -> Outcome {
    let exterior = ring(EdgeModel::Geodesic, &[(85.0, 0.0), (85.0, 90.0), (85.0, 180.0), (85.0, -90.0)])?;
    let polar = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }])?;
    assert_eq!(polar.to_multi_polygon(Metres::new(10.0)?), Err(NoOutline::AboutAPole));
    let zones = marrowick()?;
    for tolerance_m in [0.0, -1.0, 1e-4] {
        assert_eq!(zones.zones()[0].outline(Metres::new(tolerance_m)?), Err(NoOutline::Tolerance));
    }
    Ok(())
}

#[test]
fn polygons_that_are_no_boundary_are_refused() {
    let polygon = |coords: Vec<(f64, f64)>| Polygon::new(LineString::from(coords), vec![]);
    for wrong in [
        polygon(vec![]),
        polygon(vec![(0.0, 0.0), (1.0, 1.0)]),
        polygon(vec![(0.0, 0.0), (1.0, 95.0), (2.0, 0.0)]),
        polygon(vec![(0.0, 0.0), (1.0, f64::NAN), (2.0, 0.0)]),
        polygon(vec![(0.0, 0.0), (1.0, 1.0), (1.0, 0.0), (0.0, 1.0)]),
    ] {
        assert!(Boundary::from_polygon(&wrong, EdgeModel::PlateCarree).is_err(), "{wrong:?}");
    }
    assert!(Boundary::from_multi_polygon(&MultiPolygon::new(vec![]), EdgeModel::PlateCarree).is_err());
}

#[test]
fn an_answer_is_written_with_the_units_in_its_keys() -> Outcome {
    let uncertainty = HorizontalUncertainty::given(5.0, AccuracyKind::P95)?;
    let fix =
        Fix::new(Position::from_degrees(45.1170, -30.1190)?, uncertainty).at("2026-07-01T05:30:00Z".parse()?);
    let zones = marrowick()?;
    let answer = zones.assess(&fix, &Question::default().fish("pollack"));
    let written = serde_json::to_value(&answer)?;
    assert_eq!(written["water"], "closed");
    assert_eq!(
        written["fix"],
        json!({ "position": { "latitude_deg": 45.1170, "longitude_deg": -30.1190 },
                "uncertainty": { "radius_95_m": 5.0, "source": "given", "zero_was_given": false },
                "time": "2026-07-01T05:30:00Z" })
    );
    let zone = &written["zones"][0];
    assert_eq!((&zone["id"], &zone["containment"]), (&json!("sallow-cove"), &json!("inside")));
    for key in ["signed_distance_m", "uncertainty_95_m", "inside_probability"] {
        assert!(zone[key].is_number(), "{key}: {zone}");
    }
    for key in ["latitude_deg", "longitude_deg", "bearing_true_deg"] {
        assert!(zone["nearest"][key].is_number(), "{key}: {zone}");
    }
    assert_eq!(written["take"][0]["answer"], "release");
    let verdict = serde_json::to_value(answer.verdict())?;
    assert_eq!((&verdict["water"], &verdict["binding"][0]["binds"]), (&json!("closed"), &json!("yes")));
    Ok(())
}

/// Keys of shares, ratios, counts and numbers of things, and of days of the year, which are a month and a day.
const PLAIN: [&str; 19] = [
    "inside_probability",
    "count",
    "max_lines",
    "max_hooks",
    "zone_number",
    "nth",
    "year",
    "from",
    "to",
    "first",
    "last",
    "at_most",
    "fixes",
    "independent",
    "numbers",
    "times",
    "share",
    "residual",
    "row",
];

#[test]
fn answers_anywhere_about_the_isle_tell_the_units_of_their_numbers() -> Outcome {
    let zones = marrowick()?;
    let mut fish = Question::default().fish("pollack").fish("sprat").keeping_off(Metres::new(200.0)?);
    fish.all_zones = true;
    let mut walked = 0;
    for step in 0..400_i32 {
        let (north, east) = (f64::from(step / 20), f64::from(step % 20));
        let place = Position::from_degrees(45.09 + 0.005 * north, -30.20 + 0.005 * east)?;
        let fix = Fix::new(place, HorizontalUncertainty::assumed());
        let fix = if step % 2 == 0 { fix } else { fix.at("2026-07-01T05:30:00Z".parse()?) };
        let answer = zones.assess(&fix, &fish);
        for written in [serde_json::to_value(&answer)?, serde_json::to_value(answer.verdict())?] {
            assert_eq!(bare_numbers(&written, &PLAIN), [""; 0], "{written}");
            walked += 1;
        }
    }
    assert_eq!(walked, 800);
    Ok(())
}

#[test]
fn reasons_and_remedies_of_every_kind_tell_the_units_of_their_numbers() -> Outcome {
    let written = json!([
        samples::rule_summaries(),
        samples::rule_reasons(),
        samples::conditions(),
        samples::rule_remedies(),
        samples::time_reasons(),
        samples::in_force_reasons(),
        samples::reasons(),
        samples::remedies(),
        samples::warnings(),
        samples::assumptions(),
        samples::motions(),
        samples::condition_reasons(),
        samples::missing_positions(),
        samples::bag_unknowns(),
        samples::track_reasons(),
        samples::track_remedies(),
        samples::evidences(),
        samples::certainties(),
        samples::directions(),
        samples::open_ends(),
        samples::outcome_answers(),
        samples::outcome_reasons(),
        samples::not_shown(),
        samples::transit_problems(),
        samples::clears_reasons(),
        samples::calibration_reasons(),
        samples::pair_reasons(),
    ]);
    assert!(written.as_array().ok_or("lists")?.iter().all(|list| !list.as_array().is_none_or(Vec::is_empty)));
    assert_eq!(bare_numbers(&written, &PLAIN), [""; 0]);
    Ok(())
}

#[test]
fn a_ring_that_runs_on_beyond_360_degrees_comes_back() -> Outcome {
    let along =
        |lat_deg: f64| (0..8_i32).map(move |step| (lat_deg, f64::from((165 + 30 * step + 180) % 360 - 180)));
    let corners: Vec<(f64, f64)> = along(-5.0).chain(along(5.0).rev()).collect();
    let boundary = Boundary::build(&[PartSpec::Polygon {
        exterior: ring(EdgeModel::RhumbLine, &corners)?,
        holes: vec![],
    }])?;
    let outline = boundary.to_multi_polygon(Metres::new(1.0)?)?;
    let coords = || outline.iter().flat_map(|polygon| polygon.exterior().coords());
    assert!(coords().any(|coord| coord.x > 360.0), "it does not run on");
    let again = Boundary::from_multi_polygon(&outline, EdgeModel::PlateCarree)?;
    for (lat_deg, lon_deg) in [(0.0, 170.0), (0.0, -90.0), (4.9, 10.0), (0.0, 100.0), (5.1, 0.0)] {
        let place = Position::from_degrees(lat_deg, lon_deg)?;
        let sides = [&again, &boundary].map(|boundary| boundary.locate(place).signed_distance.metres() < 0.0);
        assert_eq!(sides[0], sides[1], "{lat_deg} {lon_deg}");
    }
    Ok(())
}
