use serde_json::{Value, json};
use takeline::track::{Audit, Certainty, Evidence};

use super::test_fixtures::*;
use super::{AuditReport, TrackDocument, TrimmedEnds, track_features, track_geojson};

fn features(audit: &Audit) -> Vec<Value> {
    written(&report(audit, &zones()))
}

fn written(report: &AuditReport<'_>) -> Vec<Value> {
    let found = track_geojson(track_features(&TrackDocument::of(report, &crate::words::English)));
    serde_json::to_value(found).unwrap()["features"].as_array().unwrap().clone()
}

fn of_kind(features: &[Value], kind: &str) -> Vec<Value> {
    features.iter().filter(|feature| feature["properties"]["kind"] == kind).cloned().collect()
}

fn numbers(value: &Value) -> Vec<f64> {
    match value.as_array() {
        Some(inner) => inner.iter().flat_map(numbers).collect(),
        None => value.as_f64().into_iter().collect(),
    }
}

#[test]
fn each_kind_has_the_geometry_that_belongs_to_it() {
    let found = features(&with(vec![visit(Certainty::Certain, Evidence::Fixes)]));
    for (kind, geometry) in [
        ("track", "LineString"),
        ("gap", "Polygon"),
        ("visit", "LineString"),
        ("crossing", "Point"),
        ("suspect", "Point"),
    ] {
        let found = of_kind(&found, kind);
        assert_eq!(found.len(), 1, "{kind}");
        assert_eq!(found[0]["geometry"]["type"], geometry, "{kind}");
        assert_eq!(found[0]["properties"]["track"], "morning.gpx");
    }
    let visit = &of_kind(&found, "visit")[0];
    let way = json!([[-30.117, 45.115], [-30.1174, 45.115], [-30.117, 45.115]]);
    assert_eq!(visit["geometry"]["coordinates"], way);
    assert_eq!(visit["properties"]["certainty"], "certain");
}

#[test]
fn a_line_stops_at_a_break() {
    let mut audit = with(vec![]);
    let more = point(moment(45.115, -30.115, "45:00"), 6);
    audit.sketch.push(more);
    audit.sketch[2].after_break = true;
    let ways = of_kind(&features(&audit), "track");
    assert_eq!(ways.len(), 2);
    assert_eq!(ways[0]["geometry"]["coordinates"], json!([[-30.112, 45.115], [-30.1174, 45.115]]));
}

/// RFC 7946, section 3.1.9: a line across 180° is cut there; section 3.1.6: outer rings run counter-clockwise.
#[test]
fn lines_and_areas_are_cut_at_180_degrees() {
    let (west, east) = (moment(45.0, 179.99, "30:00"), moment(45.002, -179.99, "50:00"));
    let mut audit = far_away();
    audit.sketch = vec![point(west, 2), point(east, 3)];
    audit.quality.gaps = vec![gap(west, east)];
    let found = features(&audit);
    assert_eq!(
        of_kind(&found, "track")[0]["geometry"],
        json!({ "type": "MultiLineString",
                "coordinates": [[[179.99, 45.0], [180.0, 45.001]], [[-180.0, 45.001], [-179.99, 45.002]]] })
    );
    let area = &of_kind(&found, "gap")[0]["geometry"];
    assert_eq!(area["type"], "MultiPolygon");
    for polygon in area["coordinates"].as_array().unwrap() {
        let ring: Vec<Vec<f64>> = polygon[0].as_array().unwrap().iter().map(numbers).collect();
        assert_eq!(ring.first(), ring.last());
        let twice_area: f64 =
            ring.windows(2).map(|pair| pair[0][0] * pair[1][1] - pair[1][0] * pair[0][1]).sum();
        assert!(twice_area > 0.0, "{ring:?}");
        assert!(ring.iter().all(|point| point[0] >= 0.0) || ring.iter().all(|point| point[0] <= 0.0));
    }
}

/// RFC 7946, section 11.2: more decimals than needed are no gain; trade practice is at most seven.
#[test]
fn coordinates_have_at_most_seven_decimals() {
    let mut audit = with(vec![visit(Certainty::Possible, Evidence::Gap)]);
    audit.sketch[0].fix.position = at(45.123_456_789_123, -30.123_456_789_123);
    for feature in features(&audit) {
        for number in numbers(&feature["geometry"]["coordinates"]) {
            let text = number.to_string();
            let decimals = text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
            assert!(decimals <= 7, "{text}");
        }
    }
}

#[test]
fn no_feature_shows_a_withheld_place() {
    let audit = with(vec![visit(Certainty::Certain, Evidence::Fixes)]);
    let zones = zones();
    let trimmed = TrimmedEnds::of(&audit, metres(100.0));
    let found = written(&AuditReport { trimmed: Some(trimmed), ..report(&audit, &zones) });
    assert!(of_kind(&found, "gap").is_empty());
    for feature in &found {
        for point in numbers(&feature["geometry"]["coordinates"]).chunks(2) {
            assert!(!trimmed.hides(at(point[1], point[0])), "{feature}");
        }
    }
}
