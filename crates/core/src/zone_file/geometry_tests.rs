use serde_json::{Value, json};

use super::test_files::*;
use super::*;
use crate::zone::Extent;

#[test]
fn swapped_latitude_and_longitude_are_told_with_the_vertex() {
    let text = refused(&with_ring(&json!([[37, -122], [38, -122.5], [-123.4, 38], [45, -123]])));
    let first = text.lines().next().expect("a fault");
    let place = "marrowick.json: feature 1 \"sallow-cove\", geometry, ring 1, vertex 1 (of 4): latitude -122 is outside";
    assert!(first.starts_with(place), "{first}");
    assert!(first.contains("may be swapped; write the longitude first, then the latitude"), "{first}");
}

#[test]
fn part_ring_and_vertex_are_counted_from_one() {
    let hole = json!([[-30.125, 45.115], [-30.12, 45.115], [-30.12, "45.12"]]);
    let mut parts = json!([square()["coordinates"], square()["coordinates"]]);
    parts[1].as_array_mut().expect("a list").push(hole);
    let text = refused(&with_geometry(json!({ "type": "MultiPolygon", "coordinates": parts })));
    let told = "geometry, part 2, ring 2, vertex 3 (of 3): \"45.12\" is not a number; leave out the quotes";
    assert!(text.contains(told), "{text}");
}

#[test]
fn positions_with_too_few_or_too_many_numbers_are_told() {
    let text = refused(&with_ring(&json!([[-30.13], [-30.11, 45.11, 3, 9], [-30.11, 45.125, 3], 7])));
    assert!(
        text.contains("vertex 1 (of 4): [-30.13] holds 1 numbers; write two, [longitude, latitude]"),
        "{text}"
    );
    assert!(text.contains("vertex 2 (of 4): [-30.11,45.11,3,9] holds 4 numbers"), "{text}");
    assert!(text.contains("vertex 4 (of 4): 7 is not a position"), "{text}");
    assert_eq!(text.lines().count(), 3, "{text}");
}

#[test]
fn latitude_91_and_longitude_361_are_told() {
    let text = refused(&with_ring(&json!([[-30.13, 91], [361, 45.11], [-30.11, 45.125]])));
    assert!(text.contains("vertex 1 (of 3): latitude 91 is outside -90 to 90"), "{text}");
    assert!(text.contains("vertex 2 (of 3): longitude 361 is outside -180 to 360"), "{text}");
}

/// Tricky case 6: clockwise or not, closed or not.
#[test]
fn either_winding_closed_or_not_gives_the_same_vertices() {
    let open = json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125]]);
    let rings = |value: &Value| {
        let mut log = crate::geojson_text::Log::default();
        let listed = geometry_reader::polygons(&mut log, &json!([value]), false).expect("is read");
        listed.parts[0][0].vertices.clone()
    };
    assert_eq!(rings(&open), rings(&square()["coordinates"][0]));
    let mut backwards = open.as_array().expect("a list").clone();
    backwards.reverse();
    assert_eq!(loaded(&with_ring(&json!(backwards))).warnings, []);
}

/// Tricky case 4: a zone over 180°, with longitudes counted either way; the first vertex repeated the other way.
#[test]
fn longitudes_may_be_counted_up_to_360() {
    let ring = json!([[177.9, -37.0], [182.566, -37.0], [-177.434, -38.0], [177.9, -38.0], [177.9, -37.0]]);
    assert_eq!(loaded(&with_ring(&ring)).warnings, []);
    let closed_the_other_way = json!([[182.5, -37.0], [178.0, -37.0], [178.0, -38.0], [-177.5, -37.0]]);
    let mut log = crate::geojson_text::Log::default();
    let listed = geometry_reader::polygons(&mut log, &json!([closed_the_other_way]), false).expect("is read");
    assert_eq!(listed.parts[0][0].vertices.len(), 3);
}

#[test]
fn repeated_vertices_are_read_once_with_a_warning() {
    let ring = json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125]]);
    let mut file = with_ring(&ring);
    file["features"][0]["properties"]["edges"] = json!(["rhumb", "rhumb", "geodesic", "rhumb", "lonlat"]);
    let warning = &loaded(&file).warnings[0];
    assert_eq!(warning.kind, WarningKind::RepeatedVertex);
    let text = warning.to_string();
    assert!(
        text.ends_with("geometry, ring 1: repeats the vertex beside it, and is read once: vertex 3"),
        "{text}"
    );
}

#[test]
fn geometries_that_enclose_nothing_are_refused_with_a_way_out() {
    let text = |geometry| refused(&with_geometry(geometry));
    let collection = text(json!({ "type": "GeometryCollection", "geometries": [] }));
    assert!(
        collection
            .contains("a \"GeometryCollection\" cannot be a zone; write its polygons as one MultiPolygon")
    );
    let line = text(json!({ "type": "LineString", "coordinates": [] }));
    assert!(line.contains("a line encloses nothing; close it and write a Polygon"), "{line}");
    assert!(text(json!({ "type": "Polygon" })).contains("the Polygon has no \"coordinates\""));
    assert!(text(json!({ "coordinates": [] })).contains("has no \"type\""));
    assert!(text(json!("here")).contains("\"here\" is not a geometry"));
    assert!(text(json!({ "type": "Polygon", "coordinates": [] })).contains("ring 1: is missing"));
    assert!(text(json!({ "type": "MultiPolygon", "coordinates": [] })).contains("has no polygons"));
    assert!(
        text(json!({ "type": "Polygon", "coordinates": [[-30, 45]] }))
            .contains("vertex 1 (of 2): -30 is not a position")
    );
    assert!(
        text(json!({ "type": "Polygon", "coordinates": [7] }))
            .contains("ring 1: 7 is not a ring; write a ring as")
    );
}

/// Tricky case 50 and requirement M24: a zone without geometry is never taken for outside.
#[test]
fn a_zone_without_geometry_needs_a_reason_and_is_unknown() {
    assert!(refused(&with_geometry(Value::Null)).contains("the geometry is null; draw it, or say why"));
    assert!(refused(&without("/features/0", "geometry")).contains("\"geometry\" is missing"));
    let mut file = with_geometry(Value::Null);
    file["features"][0]["properties"]["geometry_unknown"] = json!({ "reason": "see plan 2, not supplied" });
    let everywhere = loaded(&file);
    assert_eq!(everywhere.warnings[0].kind, WarningKind::UndecidedEverywhere);
    assert!(
        matches!(&everywhere.zones[0].extent, Extent::Unknown { somewhere_in: None, reason } if reason == "see plan 2, not supplied")
    );
    for area in
        [square(), json!({ "bbox": [-30.2, 45.0, -30.0, 45.2] }), json!({ "bbox": [179, -38, -179, -37] })]
    {
        file["features"][0]["properties"]["geometry_unknown"]["somewhere_in"] = area;
        let bounded = loaded(&file);
        assert_eq!(bounded.warnings, []);
        assert!(matches!(&bounded.zones[0].extent, Extent::Unknown { somewhere_in: Some(_), .. }));
    }
}

#[test]
fn areas_of_unknown_zones_are_checked() {
    let mut file = with_geometry(Value::Null);
    let mut text = |area: Value| {
        file["features"][0]["properties"]["geometry_unknown"] =
            json!({ "reason": "r", "somewhere_in": area });
        refused(&file)
    };
    assert!(text(json!({ "bbox": [-180, -90, 180, 90] })).contains("make it narrower than 180°"));
    assert!(text(json!({ "bbox": [-30, 46, -29, 45] })).contains("north above south"));
    assert!(text(json!({ "bbox": [-30, 45, -29] })).contains("does not have four numbers"));
    assert!(
        text(json!({ "bbox": [-30, 45, -29, "46"] })).contains("bbox: [-30,45,-29,\"46\"] cannot be read")
    );
    assert!(text(json!({ "bbox": [-30, 145, -29, 146] })).contains("latitude 145"));
    assert!(text(json!({ "type": "Point", "coordinates": [1, 2] })).contains("a Point is not an area"));
    assert!(text(json!(7)).contains("7 is not a geometry"));
    let mut both = smallest();
    both["features"][0]["properties"]["geometry_unknown"] = json!({ "reason": "r" });
    assert!(refused(&both).contains("has a geometry and \"geometry_unknown\"; keep one"));
}

#[test]
fn circles_need_a_radius_above_zero() {
    let mut file = with_geometry(json!({ "type": "Point", "coordinates": [-30.12, 45.12] }));
    assert!(refused(&file).contains("\"radius_m\" is missing; a Point needs the radius"));
    file["features"][0]["properties"]["radius_m"] = json!(-5);
    assert!(
        refused(&file)
            .contains("radius_m: -5 m is not a possible radius; write the radius in metres, above 0")
    );
    file["features"][0]["geometry"]["coordinates"] = json!([-30.12]);
    assert!(refused(&file).contains("geometry: [-30.12] holds 1 numbers"));
    assert!(refused(&with("radius_m", json!(5))).contains("\"radius_m\" stands beside a Polygon"));
}

#[test]
fn edges_may_differ_and_may_be_arcs() {
    let arc =
        json!({ "arc": { "centre": [-30.11, 45.1175], "radius_m": 833.5, "turn": "counterclockwise" } });
    loaded(&with("edges", json!(["rhumb", arc, "geodesic", "lonlat"])));
    loaded(&with("edges", json!([["rhumb", arc, "geodesic", "unstated"]])));
}

#[test]
fn faults_of_edges_name_ring_and_entry() {
    let text = |edges| refused(&with("edges", edges));
    let parallel = text(json!("parallel"));
    assert!(parallel.contains("edges: \"parallel\" cannot be read here; write \"geodesic\", \"rhumb\" (parallels and meridians too)"), "{parallel}");
    let short = text(json!(["rhumb", "rhumb"]));
    assert!(
        short.contains("edges, ring 1: has 4 edges, but 2 entries; write one entry for each edge"),
        "{short}"
    );
    assert!(text(json!([["rhumb"], ["rhumb"]])).contains("there are 2 lists of edges for 1 rings"));
    assert!(
        text(json!(["rhumb", "rumb", "rhumb", "rhumb"])).contains("edges > entry 2: \"rumb\" cannot be read")
    );
    let arc = text(json!(["rhumb", { "arc": { "centre": [-30.12, 95], "turn": "left" } }, "rhumb", "rhumb"]));
    assert!(arc.contains("edges > entry 2 > arc > centre: latitude 95"), "{arc}");
    assert!(arc.contains("arc: \"radius_m\" is missing"), "{arc}");
    assert!(arc.contains("turn: \"left\" is not one of \"clockwise\", \"counterclockwise\""), "{arc}");
}

/// Tricky case 20: a point that only aims an edge is not to become a vertex.
#[test]
fn an_aiming_point_that_is_a_vertex_is_told() {
    let file =
        with("aiming_points", json!([{ "at": [-30.11, 45.125], "name": "chapel" }, { "at": [-30, 45] }]));
    let told = loaded(&file).warnings.remove(0).to_string();
    assert!(told.contains("ring 1, vertex 3 (of 5): is where chapel is"), "{told}");
}

#[test]
fn a_refused_boundary_is_told_in_the_numbers_of_the_file() {
    use crate::{BoundaryFault, InvalidBoundary};
    let ring = json!([[-30.13, 45.11], [-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125]]);
    let mut log = crate::geojson_text::Log::default();
    let listed = geometry_reader::polygons(&mut log, &json!([ring]), false).expect("is read");
    let fault = BoundaryFault::TooFewVertices(2);
    listed.report(&mut log, &InvalidBoundary { part: 0, ring: 0, vertex: Some(1), fault });
    let refusal = log.finish().expect_err("has a fault");
    let error = LoadZonesError::new("a.json", refusal).to_string();
    assert_eq!(
        error,
        "a.json: ring 1, vertex 3 (of 5): has 2 different vertices; a ring needs at least three"
    );
}

#[test]
fn a_first_vertex_repeated_twice_at_the_end_leaves_an_open_ring() {
    let ring = json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.11], [-30.13, 45.11]]);
    let mut log = crate::geojson_text::Log::default();
    let listed = geometry_reader::polygons(&mut log, &json!([ring]), false).expect("is read");
    let ring = &listed.parts[0][0];
    assert_eq!((ring.vertices.len(), ring.positions, ring.edges), (3, 5, 4));
    assert_eq!(log.finish().expect("no fault").len(), 1);
}

/// Tricky case 7: corners listed NW, NE, SW, SE, and the first one typed twice.
#[test]
fn a_change_with_which_it_would_not_cross_is_told_in_the_numbers_of_the_file() {
    let ring =
        json!([[-30.13, 45.125], [-30.13, 45.125], [-30.11, 45.125], [-30.13, 45.11], [-30.11, 45.11]]);
    let mut log = crate::geojson_text::Log::default();
    let listed = geometry_reader::polygons(&mut log, &json!([ring]), false).expect("is read");
    let ring = &listed.parts[0][0];
    let change = crate::RingChange::Order { vertices: vec![0, 1, 3, 2] };
    let renumbered = ring.renumbered(&crate::RingRepair { change, area_nm2: 1.0 }).change;
    assert_eq!(renumbered, crate::RingChange::Order { vertices: vec![2, 3, 5, 4] });
}

#[test]
fn a_side_says_what_it_is_beside_how_it_runs() {
    use crate::{Metres, SideKind};
    let beach = json!({ "runs": "rhumb", "side": "shore", "level": "mean high water", "uncertainty_m": 5, "land_m": 300 });
    let arc = json!({ "centre": [-30.11, 45.1175], "radius_m": 833.5, "turn": "counterclockwise" });
    let sides =
        json!([beach, { "runs": { "arc": arc }, "side": "mouth" }, { "side": "unresolved" }, "geodesic"]);
    let boundary = |edges: Value| {
        let zone = loaded(&with("edges", edges)).zones.remove(0);
        let Extent::Known(boundary) = zone.extent else { panic!("no line") };
        boundary
    };
    let read = boundary(sides);
    let of_kind = |kind| read.stretches(|side| side.kind == kind);
    for kind in [SideKind::Shore, SideKind::Mouth, SideKind::Unresolved, SideKind::Open] {
        assert_eq!(of_kind(kind).len(), 1, "{kind:?}");
    }
    let beach = |side: &crate::Side| {
        side.level.as_deref() == Some("mean high water")
            && side.uncertainty.map(Metres::metres) == Some(5.0)
            && side.land.map(Metres::metres) == Some(300.0)
    };
    assert_eq!(read.stretches(beach), of_kind(SideKind::Shore));
    // one object for all edges, an object that says nothing new, and an arc as it was written before
    assert!(
        boundary(json!({ "runs": "geodesic", "side": "shore" })).locate_crossable(square_middle()).is_none()
    );
    assert!(!boundary(json!({ "runs": "geodesic", "side": "open" })).has_sides());
    assert!(!boundary(json!(["rhumb", { "arc": arc }, "geodesic", "lonlat"])).has_sides());
}

fn square_middle() -> crate::Position {
    crate::Position::from_degrees(45.1175, -30.12).expect("a place")
}

#[test]
fn faults_of_sides_say_how_to_mend_them() {
    let text = |entry: Value| refused(&with("edges", json!(["rhumb", entry, "rhumb", "rhumb"])));
    let told = [
        (json!({ "side": "beach" }), "edges > entry 2 > side: \"beach\" is not one of \"open\", \"shore\""),
        (json!({}), "edges > entry 2: \"side\" is missing; write \"side\": \"shore\", or an \"arc\""),
        (
            json!({ "side": "shore", "uncertainty_m": -5 }),
            "edges > entry 2 > uncertainty_m: -5 m is not a possible length",
        ),
        (
            json!({ "side": "shore", "uncertainty_m": "5 m" }),
            "edges > entry 2 > uncertainty_m: \"5 m\" cannot be read here",
        ),
        (json!({ "side": "shore", "land_m": 1e300 }), "edges > entry 2 > land_m: "),
        (
            json!({ "runs": "straight", "side": "shore" }),
            "edges > entry 2 > runs: \"straight\" cannot be read here",
        ),
        (
            json!({ "runs": "rhumb", "arc": {}, "side": "shore" }),
            "edges > entry 2: has \"runs\" and \"arc\"; keep one of the two",
        ),
        (json!({ "runs": { "arc": 7 }, "side": "shore" }), "edges > entry 2 > runs"),
        (
            json!({ "side": "shore", "levle": "surf line" }),
            "the member \"levle\" has no meaning here; did you mean \"level\"?",
        ),
    ];
    for (entry, expected) in told {
        let found = text(entry.clone());
        assert!(found.contains(expected), "{entry}: {found}");
    }
    let warned = loaded(&with("edges", json!({ "side": "open", "level": "high water", "land_m": 3 })));
    assert_eq!(warned.warnings.len(), 2, "{:?}", warned.warnings);
}

/// What costs nothing is looked at whenever a file is read, so that the first answer comes with it.
#[test]
fn slips_that_load_are_warned_of_with_the_place_where_they_are() {
    let warned = |third: Value| {
        let mut file = smallest();
        file["features"][0]["geometry"]["coordinates"] =
            json!([[[-30.13, 45.11], [-30.11, 45.11], third, [-30.13, 45.125]]]);
        let found = loaded(&file).warnings;
        found
            .into_iter()
            .map(|warning| (warning.kind, warning.place.vertex.and_then(|at| at.vertex), warning.text))
            .collect::<Vec<_>>()
    };
    assert_eq!(warned(json!([-30.11, 45.125])), []);
    let far = warned(json!([-30.11, 46.125]));
    assert_eq!((far[0].0, far[0].1), (WarningKind::FarFromOthers, Some((3, 4))), "{far:?}");
    assert!(far[0].2.contains("with vertex 3 at 45.12500 -30.11000 (one digit changed)"), "{far:?}");
    let comma = warned(json!([-30.11, 46, 125]));
    assert!(comma.iter().any(|(kind, ..)| *kind == WarningKind::ThirdCoordinate), "{comma:?}");
    let leap = warned(json!([30.11, 48.0]));
    assert!(leap.iter().any(|(kind, ..)| *kind == WarningKind::OutOfProportion), "{leap:?}");
    // heights are nothing odd
    assert_eq!(warned(json!([-30.11, 45.125, 12.0])), []);
}

#[test]
fn a_circle_smaller_than_a_boat_is_in_other_units() {
    let mut file = smallest();
    file["features"][0]["geometry"] = json!({ "type": "Point", "coordinates": [-30.12, 45.12] });
    file["features"][0]["properties"]["radius_m"] = json!(1.6);
    file["features"][0]["properties"].as_object_mut().expect("an object").remove("edges");
    let found = loaded(&file).warnings;
    assert_eq!(found.len(), 1, "{found:?}");
    assert_eq!(found[0].kind, WarningKind::OutOfProportion);
    file["features"][0]["properties"]["radius_m"] = json!(16.0);
    assert!(loaded(&file).warnings.is_empty());
}
