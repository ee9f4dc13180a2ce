use serde_json::{Value, json};

use super::wire::WireObject;
use super::*;
use crate::rule::{Bait, Possession, Take, When, WindowEnds};
use crate::zone::{Datum, Effective, Extent, LineBelongs, Status};
use crate::{EdgeModel, Kleene};

/// The smallest file of the format, with a square about Sallow Cove.
fn smallest() -> Value {
    json!({ "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "2026", "datum": "WGS 84",
                      "time_zone": "UTC",
                      "taxa": [ { "id": "sprat", "scientific": "Sprattus sprattus", "names": ["sprat", "brisling"],
                                  "fao": "SPR" } ],
                      "groups": [ { "id": "bait-fish", "members": ["sprat"] } ] },
        "features": [
            { "type": "Feature", "id": "sallow-cove", "geometry": square(),
              "properties": { "name": "Sallow Cove", "edges": "geodesic", "line_uncertainty_m": 0, "take": "none",
                              "source": { "instrument": "Marrowick Order 3" } } } ] })
}

fn square() -> Value {
    json!({ "type": "Polygon", "coordinates": [[
        [-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125], [-30.13, 45.11] ]] })
}

fn loaded(file: &Value) -> LoadedFile {
    read("marrowick.json", file.to_string().as_bytes()).unwrap_or_else(|error| panic!("{error}"))
}

fn refused(file: &Value) -> String {
    let error = read("marrowick.json", file.to_string().as_bytes()).expect_err("has a fault");
    error.to_string()
}

/// The smallest file with one member of the properties set.
fn with(member: &str, value: Value) -> Value {
    let mut file = smallest();
    file["features"][0]["properties"][member] = value;
    file
}

fn with_header(member: &str, value: Value) -> Value {
    let mut file = smallest();
    file["takeline"][member] = value;
    file
}

fn with_geometry(geometry: Value) -> Value {
    let mut file = smallest();
    file["features"][0]["geometry"] = geometry;
    file
}

fn with_ring(ring: Value) -> Value {
    with_geometry(json!({ "type": "Polygon", "coordinates": [ring] }))
}

fn without(pointer: &str, member: &str) -> Value {
    let mut file = smallest();
    file.pointer_mut(pointer).expect("is there").as_object_mut().expect("is an object").remove(member);
    file
}

fn when_of(when: Value) -> When {
    loaded(&with("when", when)).zones.remove(0).when
}

mod whole_files {
    use super::*;

    #[test]
    fn the_smallest_file_loads_as_it_stands() {
        let file = loaded(&smallest());
        assert_eq!(file.warnings, []);
        let zone = &file.zones[0];
        assert_eq!((zone.id.0.as_str(), zone.name.as_str()), ("sallow-cove", "Sallow Cove"));
        assert!(matches!(zone.extent, Extent::Known(_)));
        assert_eq!(zone.rule.take, Take::Nothing);
        assert_eq!(zone.datum, Datum::Wgs84);
        assert_eq!(zone.when, When::Always);
        assert_eq!(zone.source.instrument, "Marrowick Order 3");
        assert_eq!((zone.line_belongs, zone.status), (LineBelongs::ToZone, Status::InForce));
        assert_eq!(zone.file.catalogue.taxa[0].names[1].text, "brisling");
        assert_eq!(zone.file.edition.as_deref(), Some("2026"));
    }

    #[test]
    fn only_ids_a_circle_and_a_multipolygon_load_too() {
        let only = loaded(&with("take", json!({ "only": ["bait-fish", "sprat"] })));
        let Take::Only(permits) = &only.zones[0].rule.take else { panic!("only") };
        let taxa = permits[0].taxa.as_ref().expect("a set");
        assert_eq!((permits.len(), taxa.taxa.len(), taxa.groups.len()), (1, 1, 1));
        let mut circle = with("radius_m", json!(150));
        circle["features"][0]["geometry"] = json!({ "type": "Point", "coordinates": [-30.12, 45.12] });
        assert_eq!(loaded(&circle).warnings[0].kind, WarningKind::NoEffect);
        let mut two = square();
        two["type"] = json!("MultiPolygon");
        two["coordinates"] =
            json!([square()["coordinates"], [[[-30.2, 45.1], [-30.19, 45.1], [-30.19, 45.2]]]]);
        loaded(&with_geometry(two));
    }

    /// FIPS 180-4, the example "abc" of SHA-256, published by NIST.
    #[test]
    fn sha256_of_abc_is_that_of_fips_180_4() {
        let error = read("abc", b"abc").expect_err("is not JSON");
        assert_eq!(error.faults[0].kind, FaultKind::NotJson);
        assert_eq!(read::sha256(b"abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    }

    #[test]
    fn one_moved_vertex_changes_the_hash() {
        let mut moved = smallest();
        moved["features"][0]["geometry"]["coordinates"][0][1][0] = json!(-30.110_001);
        let (a, b) = (loaded(&smallest()), loaded(&moved));
        assert_eq!(a.file.sha256.len(), 64);
        assert_ne!(a.file.sha256, b.file.sha256);
    }

    #[test]
    fn every_fault_is_told_and_each_line_names_file_and_feature() {
        let mut file = smallest();
        let properties = &mut file["features"][0]["properties"];
        properties["line_uncertainty_m"] = json!("ten");
        properties["edgse"] = json!("rhumb");
        properties["take"] = json!({ "only": ["spratt"] });
        let text = refused(&file);
        assert_eq!(text.lines().count(), 3, "{text}");
        for line in text.lines() {
            assert!(line.starts_with("marrowick.json: feature 1 \"sallow-cove\", "), "{line}");
        }
        assert!(text.contains("the member \"edgse\" is not known here; did you mean \"edges\"?"), "{text}");
        assert!(text.contains("line_uncertainty_m: \"ten\" cannot be read here; write metres"), "{text}");
        assert!(
            text.contains("take > only > entry 1: no taxon and no group has the id \"spratt\""),
            "{text}"
        );
        assert!(text.contains("did you mean \"sprat\"?"), "{text}");
    }

    #[test]
    fn faults_beyond_the_limit_are_counted() {
        let ring: Vec<Value> = (0..1500).map(|_| json!(["x", 1])).collect();
        let error = read("a", with_ring(json!(ring)).to_string().as_bytes()).expect_err("has faults");
        assert_eq!((error.faults.len(), error.more), (1000, 500));
        assert!(error.to_string().ends_with("a: 500 more faults are not listed"));
    }

    #[test]
    fn broken_json_is_told_by_line_and_column() {
        let error = read("a.json", b"{ \"type\": \"FeatureCollection\",\n  \"features\": [ , ] }")
            .expect_err("broken");
        assert!(
            error.to_string().starts_with("a.json: line 2 column 17: expected value; look at"),
            "{error}"
        );
        let text = read("a.json", b"  ").expect_err("empty").to_string();
        assert!(text.contains("the file is empty"), "{text}");
        let text = read("a.json", b"\xFF\xFE{\0").expect_err("is UTF-16").to_string();
        assert!(text.contains("save the file as UTF-8"), "{text}");
    }

    #[test]
    fn nan_and_numbers_beyond_all_range_are_broken_json() {
        let text = smallest().to_string().replace("45.125", "NaN");
        assert_eq!(read("a", text.as_bytes()).expect_err("NaN").faults[0].kind, FaultKind::NotJson);
        let text = smallest().to_string().replace("45.125", "1e999");
        let error = read("a", text.as_bytes()).expect_err("infinite").to_string();
        assert!(error.contains("number out of range"), "{error}");
    }

    #[test]
    fn a_member_given_twice_is_not_dropped_in_silence() {
        let text =
            smallest().to_string().replace("\"take\":\"none\"", "\"take\":\"anything\",\"take\":\"none\"");
        let error = read("a", text.as_bytes()).expect_err("twice").to_string();
        assert!(
            error.contains("the member \"take\" is given twice in one object; keep one of the two"),
            "{error}"
        );
    }

    #[test]
    fn bottomless_nesting_is_refused_without_a_stack_overflow() {
        let error = read("a", &[b'['; 100_000]).expect_err("too deep").to_string();
        assert!(error.contains("lie more than 40 deep"), "{error}");
        let mut when = json!({ "weekdays": ["sunday"] });
        for _ in 0..13 {
            when = json!({ "any": [when] });
        }
        let error = refused(&with("when", when));
        assert!(error.contains("lie more than 12 deep; say it more plainly"), "{error}");
    }

    #[test]
    fn a_byte_order_mark_is_skipped() {
        let mut bytes = b"\xEF\xBB\xBF".to_vec();
        bytes.extend(smallest().to_string().bytes());
        assert!(read("a", &bytes).is_ok());
    }

    #[test]
    fn what_is_no_zone_file_says_what_one_is() {
        let lone = smallest()["features"][0].clone();
        assert!(refused(&lone).contains("a \"Feature\" is no feature collection; write { \"type\""));
        assert!(refused(&json!([1])).contains("[1] is no feature collection"));
        assert!(refused(&without("", "takeline")).contains("\"takeline\" is missing; add \"takeline\": {"));
        assert!(refused(&without("", "features")).contains("has no list \"features\""));
        let mut empty = smallest();
        empty["features"] = json!([]);
        assert!(refused(&empty).contains("holds no zone; add at least one feature"));
        let other = refused(&with_header("format", json!("takeline.zones/2")));
        assert!(other.contains("takeline > format: the format \"takeline.zones/2\" is not read"), "{other}");
        assert!(refused(&without("/takeline", "format")).contains("takeline: \"format\" is missing; write"));
    }

    #[test]
    fn a_reference_system_that_is_not_wgs_84_is_refused() {
        let mut file = smallest();
        file["crs"] = json!({ "type": "name", "properties": { "name": "urn:ogc:def:crs:OGC:1.3:CRS84" } });
        loaded(&file);
        file["crs"]["properties"]["name"] = json!("urn:ogc:def:crs:EPSG::27700");
        assert!(refused(&file).contains("crs: the datum \"urn:ogc:def:crs:EPSG::27700\" is not read"));
    }

    #[test]
    fn ids_are_needed_unique_and_may_be_numbers() {
        let mut file = smallest();
        file["features"][0]["id"] = json!(7);
        assert_eq!(loaded(&file).zones[0].id.0, "7");
        let text = refused(&without("/features/0", "id"));
        assert!(text.contains("feature 1: \"id\" is missing; give the feature an id"), "{text}");
        let mut twice = smallest();
        let copy = twice["features"][0].clone();
        twice["features"].as_array_mut().expect("a list").push(copy);
        let text = refused(&twice);
        assert!(
            text.contains("feature 2 \"sallow-cove\": the id \"sallow-cove\" is that of feature 1 too"),
            "{text}"
        );
        file["features"][0]["id"] = json!("a\u{1b}[2J");
        assert!(refused(&file).contains("cannot be read here"));
    }

    #[test]
    fn members_at_the_wrong_place_are_refused() {
        let mut file = smallest();
        file["features"][0]["when"] = json!({ "weekdays": ["sunday"] });
        assert!(
            refused(&file).contains("\"when\" stands beside \"properties\", where it has no effect; move it")
        );
        let text = refused(&with("id", json!("x")));
        assert!(text.contains("properties: \"id\" stands in \"properties\"; move it out"), "{text}");
    }

    #[test]
    fn remarks_and_foreign_members_are_left_alone() {
        let mut file = smallest();
        file["name"] = json!("layer");
        file["features"][0]["bbox"] = json!([0, 0, 1, 1]);
        file["takeline"]["comment"] = json!("how this was made");
        file["features"][0]["properties"]["x-fid"] = json!(3);
        file["features"][0]["properties"]["note"] = json!(["a", "b"]);
        assert_eq!(loaded(&file).warnings, []);
    }

    #[test]
    fn control_characters_are_refused() {
        let text = refused(&with("name", json!("Sallow\u{1b}[31m Cove")));
        assert!(
            text.contains("name: \"Sallow\\u{1b}[31m Cove\" holds the control character U+001B; take it out")
        );
    }
}

mod geometry {
    use super::*;

    #[test]
    fn swapped_latitude_and_longitude_are_told_with_the_vertex() {
        let text = refused(&with_ring(json!([[37, -122], [38, -122.5], [-123.4, 38], [45, -123]])));
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
        let told = "geometry, part 2, ring 2, vertex 3 (of 3): \"45.12\" is no number; take the quotes off";
        assert!(text.contains(told), "{text}");
    }

    #[test]
    fn positions_with_too_few_or_too_many_numbers_are_told() {
        let text = refused(&with_ring(json!([[-30.13], [-30.11, 45.11, 3, 9], [-30.11, 45.125, 3], 7])));
        assert!(
            text.contains("vertex 1 (of 4): [-30.13] holds 1 numbers; write two, [longitude, latitude]"),
            "{text}"
        );
        assert!(text.contains("vertex 2 (of 4): [-30.11,45.11,3,9] holds 4 numbers"), "{text}");
        assert!(text.contains("vertex 4 (of 4): 7 is no position"), "{text}");
        assert_eq!(text.lines().count(), 3, "{text}");
    }

    #[test]
    fn latitude_91_and_longitude_361_are_told() {
        let text = refused(&with_ring(json!([[-30.13, 91], [361, 45.11], [-30.11, 45.125]])));
        assert!(text.contains("vertex 1 (of 3): latitude 91 is outside -90 to 90"), "{text}");
        assert!(text.contains("vertex 2 (of 3): longitude 361 is outside -180 to 360"), "{text}");
    }

    /// Tricky case 6: clockwise or not, closed or not.
    #[test]
    fn either_winding_closed_or_not_gives_the_same_vertices() {
        let open = json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125]]);
        let rings = |value: &Value| {
            let mut log = log::Log::default();
            let listed = geometry_reader::polygons(&mut log, &json!([value]), false).expect("is read");
            listed.parts[0][0].vertices.clone()
        };
        assert_eq!(rings(&open), rings(&square()["coordinates"][0]));
        let mut backwards = open.as_array().expect("a list").clone();
        backwards.reverse();
        assert_eq!(loaded(&with_ring(json!(backwards))).warnings, []);
    }

    /// Tricky case 4: a zone over 180°, with longitudes counted either way; the first vertex repeated the other way.
    #[test]
    fn longitudes_may_be_counted_up_to_360() {
        let ring =
            json!([[177.9, -37.0], [182.566, -37.0], [-177.434, -38.0], [177.9, -38.0], [177.9, -37.0]]);
        assert_eq!(loaded(&with_ring(ring)).warnings, []);
        let closed_the_other_way = json!([[182.5, -37.0], [178.0, -37.0], [178.0, -38.0], [-177.5, -37.0]]);
        let mut log = log::Log::default();
        let listed =
            geometry_reader::polygons(&mut log, &json!([closed_the_other_way]), false).expect("is read");
        assert_eq!(listed.parts[0][0].vertices.len(), 3);
    }

    #[test]
    fn repeated_vertices_are_read_once_with_a_warning() {
        let ring =
            json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125]]);
        let mut file = with_ring(ring);
        file["features"][0]["properties"]["edges"] = json!(["rhumb", "rhumb", "geodesic", "rhumb", "lonlat"]);
        let warning = &loaded(&file).warnings[0];
        assert_eq!(warning.kind, WarningKind::RepeatedVertex);
        let text = warning.to_string();
        assert!(
            text.ends_with("geometry, ring 1: repeats the vertex before it and is read once: vertex 3"),
            "{text}"
        );
    }

    #[test]
    fn geometries_that_enclose_nothing_are_refused_with_a_way_out() {
        let text = |geometry| refused(&with_geometry(geometry));
        let collection = text(json!({ "type": "GeometryCollection", "geometries": [] }));
        assert!(
            collection
                .contains("a \"GeometryCollection\" is no zone; write its polygons as one MultiPolygon")
        );
        let line = text(json!({ "type": "LineString", "coordinates": [] }));
        assert!(line.contains("a line encloses nothing; close it and write a Polygon"), "{line}");
        assert!(text(json!({ "type": "Polygon" })).contains("the Polygon has no \"coordinates\""));
        assert!(text(json!({ "coordinates": [] })).contains("has no \"type\""));
        assert!(text(json!("here")).contains("\"here\" is no geometry"));
        assert!(text(json!({ "type": "Polygon", "coordinates": [] })).contains("ring 1: is not there"));
        assert!(text(json!({ "type": "MultiPolygon", "coordinates": [] })).contains("holds no polygon"));
        assert!(
            text(json!({ "type": "Polygon", "coordinates": [[-30, 45]] }))
                .contains("vertex 1 (of 2): -30 is no position")
        );
        assert!(
            text(json!({ "type": "Polygon", "coordinates": [7] }))
                .contains("ring 1: 7 is no ring; write a ring as")
        );
    }

    /// Tricky case 50 and requirement M24: a zone without geometry is never taken for outside.
    #[test]
    fn a_zone_without_geometry_needs_a_reason_and_is_unknown() {
        assert!(refused(&with_geometry(Value::Null)).contains("the geometry is null; draw it, or say why"));
        assert!(refused(&without("/features/0", "geometry")).contains("\"geometry\" is missing"));
        let mut file = with_geometry(Value::Null);
        file["features"][0]["properties"]["geometry_unknown"] =
            json!({ "reason": "see plan 2, not supplied" });
        let everywhere = loaded(&file);
        assert_eq!(everywhere.warnings[0].kind, WarningKind::UndecidedEverywhere);
        assert!(
            matches!(&everywhere.zones[0].extent, Extent::Unknown { somewhere_in: None, reason } if reason == "see plan 2, not supplied")
        );
        for area in [
            square(),
            json!({ "bbox": [-30.2, 45.0, -30.0, 45.2] }),
            json!({ "bbox": [179, -38, -179, -37] }),
        ] {
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
        assert!(text(json!({ "bbox": [-30, 45, -29] })).contains("does not hold four numbers"));
        assert!(
            text(json!({ "bbox": [-30, 45, -29, "46"] }))
                .contains("bbox: [-30,45,-29,\"46\"] cannot be read")
        );
        assert!(text(json!({ "bbox": [-30, 145, -29, 146] })).contains("latitude 145"));
        assert!(text(json!({ "type": "Point", "coordinates": [1, 2] })).contains("a Point is no area"));
        assert!(text(json!(7)).contains("7 is no geometry"));
        let mut both = smallest();
        both["features"][0]["properties"]["geometry_unknown"] = json!({ "reason": "r" });
        assert!(refused(&both).contains("has a geometry and \"geometry_unknown\"; keep one"));
    }

    #[test]
    fn circles_need_a_radius_above_zero() {
        let mut file = with_geometry(json!({ "type": "Point", "coordinates": [-30.12, 45.12] }));
        assert!(refused(&file).contains("\"radius_m\" is missing; a Point needs the radius"));
        file["features"][0]["properties"]["radius_m"] = json!(-5);
        assert!(refused(&file).contains("radius_m: -5 m is no radius; write the radius in metres, above 0"));
        file["features"][0]["geometry"]["coordinates"] = json!([-30.12]);
        assert!(refused(&file).contains("geometry: [-30.12] holds 1 numbers"));
        assert!(refused(&with("radius_m", json!(5))).contains("\"radius_m\" stands beside a Polygon"));
    }

    #[test]
    fn edges_may_differ_and_may_be_arcs() {
        let arc = json!({ "arc": { "centre": [-30.12, 45.12], "radius_m": 1000, "turn": "clockwise" } });
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
        assert!(text(json!([["rhumb"], ["rhumb"]])).contains("2 lists of edges stand against 1 rings"));
        assert!(
            text(json!(["rhumb", "rumb", "rhumb", "rhumb"]))
                .contains("edges > entry 2: \"rumb\" cannot be read")
        );
        let arc =
            text(json!(["rhumb", { "arc": { "centre": [-30.12, 95], "turn": "left" } }, "rhumb", "rhumb"]));
        assert!(arc.contains("edges > entry 2 > arc > centre: latitude 95"), "{arc}");
        assert!(arc.contains("arc: \"radius_m\" is missing"), "{arc}");
        assert!(arc.contains("turn: \"left\" is none of \"clockwise\", \"counterclockwise\""), "{arc}");
    }

    /// Tricky case 20: a point that only aims an edge is not to become a vertex.
    #[test]
    fn an_aiming_point_that_is_a_vertex_is_told() {
        let file =
            with("aiming_points", json!([{ "at": [-30.11, 45.125], "name": "chapel" }, { "at": [-30, 45] }]));
        let told = loaded(&file).warnings.remove(0).to_string();
        assert!(told.contains("ring 1, vertex 3 (of 4): is where chapel is"), "{told}");
    }

    #[test]
    fn a_refused_boundary_is_told_in_the_numbers_of_the_file() {
        use crate::{BoundaryFault, InvalidBoundary};
        let ring =
            json!([[-30.13, 45.11], [-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125]]);
        let mut log = log::Log::default();
        let listed = geometry_reader::polygons(&mut log, &json!([ring]), false).expect("is read");
        let fault = BoundaryFault::TooFewVertices(2);
        listed.report(&mut log, &InvalidBoundary { part: 0, ring: 0, vertex: Some(1), fault });
        let error = log.finish("a.json").expect_err("has a fault").to_string();
        assert_eq!(
            error,
            "a.json: ring 1, vertex 3 (of 5): has 2 different vertices; a ring needs at least three"
        );
    }
}

mod datums_and_times {
    use super::*;

    #[test]
    fn spellings_of_wgs_84_and_its_near_relatives_are_read() {
        for name in [
            "WGS 84",
            "WGS84",
            "wgs-84",
            "WGS_1984",
            "EPSG:4326",
            "World Geodetic System 1984",
            "WGS 84 (G2139)",
        ] {
            assert_eq!(loaded(&with_header("datum", json!(name))).zones[0].datum, Datum::Wgs84, "{name}");
        }
        for name in
            ["NAD 83", "NAD83(2011)", "GDA94", "GDA2020", "ETRS89", "ITRF2014", "NZGD2000", "EPSG:4269"]
        {
            let near = Datum::NearWgs84(name.to_owned());
            assert_eq!(loaded(&with("datum", json!(name))).zones[0].datum, near, "{name}");
        }
    }

    /// Tricky case 18: coordinates on another datum are not used as WGS 84.
    #[test]
    fn other_datums_are_refused_with_what_to_do() {
        for name in ["NAD27", "ED50", "OSGB36", "AGD66", "Tokyo", "WGS 72"] {
            let text = refused(&with_header("datum", json!(name)));
            assert!(text.contains(&format!("takeline > datum: the datum \"{name}\" is not read")), "{text}");
            assert!(
                text.contains("transform the coordinates to WGS 84 with a geodetic library first"),
                "{text}"
            );
        }
    }

    #[test]
    fn a_missing_datum_is_unstated_with_one_warning_for_all_zones() {
        let mut file = without("/takeline", "datum");
        let mut second = file["features"][0].clone();
        second["id"] = json!("outer-bank");
        file["features"].as_array_mut().expect("a list").push(second);
        let found = loaded(&file);
        assert_eq!(found.zones[1].datum, Datum::Unstated);
        assert_eq!(found.warnings.len(), 1);
        let text = found.warnings[0].to_string();
        assert!(text.contains("may lie 200 m off"), "{text}");
        assert!(text.ends_with("feature 1 \"sallow-cove\", feature 2 \"outer-bank\""), "{text}");
    }

    #[test]
    fn unknown_time_zones_are_refused_with_a_near_name() {
        let text = refused(&with_header("time_zone", json!("Atlantic/Azors")));
        assert!(
            text.contains(
                "time_zone: no time zone is called \"Atlantic/Azors\"; did you mean \"Atlantic/Azores\"?"
            ),
            "{text}"
        );
        let text = refused(&with("time_zone", json!("local time")));
        assert!(text.contains("write an IANA name like"), "{text}");
    }

    #[test]
    fn a_missing_time_zone_matters_only_with_dates() {
        let mut file = without("/takeline", "time_zone");
        assert_eq!(loaded(&file).warnings, []);
        file["features"][0]["properties"]["when"] = json!({ "weekdays": ["sunday"] });
        assert_eq!(loaded(&file).warnings[0].kind, WarningKind::TimeZoneMissing);
    }

    /// Tricky case 24: dates mean local midnight. The Azores keep UTC−1 in winter and UTC+0 in summer
    /// (IANA time zone database, Atlantic/Azores, rules of the European Union).
    #[test]
    fn plain_dates_mean_midnight_in_the_zones_own_time() {
        let mut file = with("effective", json!({ "from": "2026-01-10", "last_day": "2026-07-31" }));
        file["takeline"]["time_zone"] = json!("Atlantic/Azores");
        file["takeline"]["valid_until"] = json!("2027-01-01T00:00:00Z");
        let found = loaded(&file);
        let text = |instant: Option<jiff::Timestamp>| instant.expect("is set").to_string();
        assert_eq!(text(found.zones[0].effective.from), "2026-01-10T01:00:00Z");
        assert_eq!(text(found.zones[0].effective.until), "2026-08-01T00:00:00Z");
        assert_eq!(text(found.file.valid_until), "2027-01-01T00:00:00Z");
    }

    #[test]
    fn until_is_the_first_moment_after() {
        let found = loaded(&with("effective", json!({ "until": "2026-08-01" })));
        let until = "2026-08-01T00:00:00Z".parse().ok();
        assert_eq!(found.zones[0].effective, Effective { from: None, until });
    }

    #[test]
    fn faults_of_effective_are_told() {
        let text = |value| refused(&with("effective", value));
        let day = text(json!({ "from": "1 May 2026" }));
        assert!(
            day.contains("effective > from: \"1 May 2026\" cannot be read here; write a date like"),
            "{day}"
        );
        assert!(text(json!({ "from": "2026-05-01T06:00:00" })).contains("offset like"));
        assert!(text(json!({ "from": "2026-02-30" })).contains("\"2026-02-30\" cannot be read"));
        assert!(text(json!({ "from": "2026-05-02", "until": "2026-05-01" })).contains("not after it starts"));
        let both = text(json!({ "until": "2026-05-02", "last_day": "2026-05-01" }));
        assert!(both.contains("says both \"until\" and \"last_day\"; keep one"), "{both}");
    }
}

mod seasons {
    use super::*;
    use crate::rule::{AnnualWindow, SunEvent};

    #[test]
    fn each_condition_of_the_grammar_is_read() {
        for when in [
            json!({ "dates": { "from": "2026-05-01", "to": "2026-08-31", "ends": "excluded" } }),
            json!({ "days": ["2026-05-01", "2026-05-09"] }),
            json!({ "weekdays": ["saturday", "sunday"] }),
            json!({ "nth_weekday": { "nth": 2, "day": "saturday", "month": 5 } }),
            json!({ "hours": { "from": "08:00", "to": "16:00" } }),
            json!({ "unknowable": "when the quota is taken" }),
            json!({ "not": { "weekdays": ["sunday"] } }),
            json!({ "any": [{ "weekdays": ["sunday"] }, { "days": ["2026-05-01"] }] }),
        ] {
            assert!(!matches!(when_of(when), When::Always | When::All(_)));
        }
        let both = when_of(json!({ "weekdays": ["sunday"], "hours": { "from": "22:00", "to": "06:00" } }));
        assert!(matches!(both, When::All(conditions) if conditions.len() == 2));
    }

    /// Tricky cases 25 and 26: ends that the text does not state, and a window over New Year with 29 February.
    #[test]
    fn yearly_windows_keep_their_ends_and_may_wrap() {
        let when = when_of(json!({ "yearly": { "from": "04-30", "to": "11-01", "ends": "unstated" } }));
        let window = AnnualWindow { from: (4, 30), to: (11, 1), ends: WindowEnds::Unstated };
        assert_eq!(when, When::Yearly(window));
        let winter = when_of(json!({ "yearly": { "from": "12-01", "to": "02-29" } }));
        assert!(matches!(winter, When::Yearly(window) if window.to == (2, 29)));
    }

    /// Tricky case 26: "last Wednesday and the following Thursday".
    #[test]
    fn the_last_weekday_of_a_month_and_days_after_it() {
        let when = when_of(json!({ "nth_weekday": { "nth": "last", "day": "wednesday", "then_days": 1 } }));
        assert!(
            matches!(when, When::NthWeekday(nth) if nth.nth == -1 && nth.then_days == 1 && nth.month.is_none())
        );
    }

    /// Tricky case 27: the sun of the place that the law names, not of the zone.
    #[test]
    fn sun_hours_name_their_place() {
        let at = json!({ "name": "Marrowick chapel", "latitude_deg": 45.12, "longitude_deg": -30.1 });
        let when = when_of(json!({ "sun": { "from": "sunset+30", "to": "sunrise-30", "at": at } }));
        let When::Sun(sun) = when else { panic!("sun") };
        assert_eq!((sun.from.event, sun.from.offset_minutes), (SunEvent::Sunset, 30));
        assert_eq!((sun.to.event, sun.to.offset_minutes), (SunEvent::Sunrise, -30));
        assert_eq!(sun.at.name, "Marrowick chapel");
        let text = refused(&with("when", json!({ "sun": { "from": "sunset+30", "to": "dawn" } })));
        assert!(
            text.contains("when > sun > to: \"dawn\" cannot be read here; write sunrise, sunset"),
            "{text}"
        );
        assert!(text.contains("\"at\" is missing; name the place whose sun counts"), "{text}");
    }

    #[test]
    fn faults_of_seasons_name_member_value_and_mend() {
        for (when, told) in [
            (
                json!({ "yearly": { "from": "13-01", "to": "02-01" } }),
                "yearly > from: \"13-01\" cannot be read here; write month (01 to 12)",
            ),
            (json!({ "yearly": { "from": "01-01", "to": "02-30" } }), "yearly > to: \"02-30\" cannot"),
            (json!({ "yearly": { "from": "01-01" } }), "yearly: \"to\" is missing"),
            (
                json!({ "yearly": { "from": "01-01", "to": "02-01", "ends": "inclusive" } }),
                "ends: \"inclusive\" is none of \"included\"",
            ),
            (
                json!({ "dates": { "from": "2026-05-02", "to": "2026-05-01" } }),
                "ends on 2026-05-01, before it starts on 2026-05-02; swap",
            ),
            (json!({ "days": [] }), "days: is an empty list; name at least one day"),
            (json!({ "days": ["2026-05-01", 5] }), "days > entry 2: 5 cannot be read here"),
            (json!({ "weekdays": ["Saturday"] }), "weekdays > entry 1: \"Saturday\" is none of"),
            (json!({ "weekdays": ["Saturday"] }), "did you mean \"saturday\"?"),
            (
                json!({ "nth_weekday": { "nth": 6, "day": "monday" } }),
                "nth: 6 cannot be read; write a number from 1 to 5",
            ),
            (
                json!({ "nth_weekday": { "nth": 1, "day": "monday", "month": 13 } }),
                "month: 13 is outside 1 to 12",
            ),
            (json!({ "nth_weekday": { "nth": 1 } }), "\"day\" is missing"),
            (
                json!({ "hours": { "from": "8:00", "to": "25:00" } }),
                "hours > to: \"25:00\" cannot be read here; write hours and minutes",
            ),
            (json!({ "hours": { "from": "08:00", "to": "08:00" } }), "start and end at the same time"),
            (json!({ "hours": { "from": "24:00", "to": "08:00" } }), "from: \"24:00\" starts no hours"),
            (json!({ "any": [] }), "any: is an empty list"),
            (json!({}), "when: says nothing; leave \"when\" out"),
            (json!("summer"), "when: \"summer\" cannot be read here; write an object like"),
            (json!({ "yearl": {} }), "the member \"yearl\" is not known here; did you mean \"yearly\"?"),
            (
                json!({ "not": { "any": [{ "day": ["2026-05-01"] }] } }),
                "when > not > any > entry 1: the member \"day\"",
            ),
        ] {
            let text = refused(&with("when", when));
            assert!(text.contains(told), "{told}\nis not in\n{text}");
            assert!(text.contains("feature 1 \"sallow-cove\", when"), "{text}");
        }
    }

    #[test]
    fn hours_may_end_with_the_day() {
        assert!(matches!(when_of(json!({ "hours": { "from": "16:00", "to": "24:00" } })), When::Hours(_)));
    }
}

mod rules {
    use super::*;
    use crate::rule::{Access, BagPer, Measure};

    #[test]
    fn a_permit_with_everything_is_read() {
        let permit = json!({ "taxa": ["bait-fish"], "except": ["sprat"], "when": { "weekdays": ["sunday"] },
            "gear": { "only": ["hand net", { "kind": "hook and line", "max_lines": 1, "max_hooks": 3 }], "not": ["trap"] },
            "bait": { "not": ["sand eel"] }, "bag": { "count": 5, "per": "person-day" },
            "size": { "min_cm": 12.5, "measure": "fork-length" }, "conditions": ["landed whole"], "clause": "4(2)" });
        let found = loaded(&with("take", json!({ "only": [permit] })));
        let Take::Only(permits) = &found.zones[0].rule.take else { panic!("only") };
        let permit = &permits[0];
        assert_eq!(permit.taxa.as_ref().expect("a set").except.len(), 1);
        assert_eq!((permit.limits.gear.len(), permit.limits.gear[1].max_hooks), (2, Some(3)));
        assert_eq!(permit.limits.bait, Some(Bait::Not(vec!["sand eel".to_owned()])));
        assert!(permit.limits.bag.is_some_and(|bag| bag.count == 5 && bag.per == BagPer::PersonDay));
        assert!(permit.limits.size.as_ref().is_some_and(|size| size.measure == Measure::ForkLength));
        assert_eq!(permit.clause.as_deref(), Some("4(2)"));
    }

    #[test]
    fn gear_and_bait_of_the_zone_hold_for_every_fish() {
        let mut file = with("gear", json!({ "only": ["hook and line"] }));
        file["features"][0]["properties"]["take"] = json!("anything");
        let found = loaded(&file);
        let limit = &found.zones[0].rule.limits[0];
        assert!(limit.taxa.is_none() && limit.limits.gear.len() == 1);
        file["features"][0]["properties"]["take"] = json!("none");
        assert_eq!(loaded(&file).warnings[0].kind, WarningKind::NoEffect);
    }

    #[test]
    fn possession_crossing_binding_and_overrides_are_read() {
        let mut file = with("possession", json!("while-crossing"));
        let properties = &mut file["features"][0]["properties"];
        properties["crossing"] =
            json!({ "allowed": true, "gear_state": "stowed", "min_speed_kn": 3, "continuous": true });
        properties["binds"] = json!(["boat", "diving"]);
        properties["overrides"] = json!([{ "zone": "outer-bank", "clause": "12" }]);
        properties["may_change_by_notice"] = json!(true);
        properties["status"] = json!("proposed");
        let found = loaded(&file);
        let zone = &found.zones[0];
        assert_eq!(zone.rule.possession, Possession::WhileCrossing);
        let passage = zone.rule.passage.as_ref().expect("is there");
        assert_eq!((passage.allowed, passage.anchoring), (Kleene::Yes, Kleene::Undecided));
        assert!(passage.continuous);
        assert_eq!(zone.rule.binds, [Access::Boat, Access::Diving]);
        assert_eq!(zone.overrides[0].zone.0, "outer-bank");
        assert_eq!(zone.status, Status::Proposed);
        // tricky case 52: nothing offline can know of a closure by notice
        assert!(zone.may_change_by_notice);
        assert_eq!(found.warnings[0].kind, WarningKind::ZoneElsewhere);
    }

    #[test]
    fn faults_of_rules_name_member_value_and_mend() {
        for (member, value, told) in [
            ("take", json!("nothing"), "take: \"nothing\" cannot be read here; write \"take\": \"none\""),
            ("take", json!({ "only": [] }), "only: is an empty list; write \"take\": \"none\""),
            ("take", json!({ "only": "sprat" }), "only: \"sprat\" cannot be read here; write a list"),
            ("take", json!({}), "says neither \"only\" nor \"all_except\""),
            (
                "take",
                json!({ "only": ["sprat"], "all_except": ["sprat"] }),
                "says both \"only\" and \"all_except\"",
            ),
            ("take", json!({ "only": [{ "except": ["sprat"] }] }), "\"except\" stands without \"taxa\""),
            (
                "take",
                json!({ "only": [{ "taxa": ["sprat"], "except": ["bait-fish"] }] }),
                "\"bait-fish\" is a group; name taxa here",
            ),
            ("take", json!({ "only": [7] }), "only > entry 1: 7 cannot be read here; write an id in quotes"),
            ("limits", json!([{ "taxa": ["sprat"] }]), "limits > entry 1: limits nothing; add gear"),
            (
                "limits",
                json!([{ "bag": { "count": -1, "per": "day" } }]),
                "bag > count: -1 cannot be read here; write how many",
            ),
            (
                "limits",
                json!([{ "bag": { "count": 1, "per": "day" } }]),
                "per: \"day\" is none of \"person-day\"",
            ),
            (
                "limits",
                json!([{ "size": { "min_cm": 40, "max_cm": 30 } }]),
                "allows nothing: at least 40 cm and at most 30 cm",
            ),
            ("limits", json!([{ "size": { "min_cm": -4 } }]), "min_cm: -4 is too small; write centimetres"),
            ("limits", json!([{ "size": {} }]), "says neither \"min_cm\" nor \"max_cm\""),
            (
                "limits",
                json!([{ "size": { "min_cm": 4, "measure": "whole" } }]),
                "measure: \"whole\" is none of \"total-length\"",
            ),
            ("gear", json!({ "only": [] }), "gear > only: is an empty list"),
            ("gear", json!({}), "gear: says neither"),
            ("gear", json!({ "only": [{ "kinds": "x" }] }), "\"kind\" is missing"),
            ("bait", json!({ "only": ["a"], "not": ["b"] }), "bait: says both"),
            ("possession", json!("no"), "possession: \"no\" is none of \"unstated\", \"allowed\""),
            (
                "crossing",
                json!({ "allowed": "yes" }),
                "allowed: \"yes\" cannot be read here; write true, false",
            ),
            ("binds", json!([]), "binds: is an empty list; leave it out"),
            (
                "binds",
                json!(["kayak"]),
                "binds > entry 1: \"kayak\" is none of \"boat\", \"shore\", \"diving\"",
            ),
            ("conditions", json!("one"), "conditions: \"one\" cannot be read here; write a list of texts"),
            ("conditions", json!(["a", null]), "conditions > entry 2: null cannot be read"),
            ("overrides", json!([{ "zone": "a" }]), "\"clause\" is missing; cite the clause"),
            ("overrides", json!([{ "zone": "sallow-cove", "clause": "1" }]), "a zone cannot displace itself"),
            ("source", json!({ "instrument": "  " }), "source > instrument: is an empty text"),
            ("source", json!({}), "source: \"instrument\" is missing; name the law"),
            (
                "source",
                json!({ "instrument": "a", "retrieved": "May" }),
                "retrieved: \"May\" cannot be read here; write year",
            ),
            ("line_uncertainty_m", json!(-1), "line_uncertainty_m: -1 is too small"),
            ("line_uncertainty_m", json!(1e9), "line_uncertainty_m: 1000000000 is too large"),
            ("on_the_line", json!("out"), "on_the_line: \"out\" is none of \"inside\", \"outside\""),
            ("status", json!("in force"), "status: \"in force\" is none of \"in-force\""),
        ] {
            let text = refused(&with(member, value));
            assert!(text.contains(told), "{told}\nis not in\n{text}");
            assert!(text.starts_with("marrowick.json: feature 1 \"sallow-cove\", "), "{text}");
        }
    }

    #[test]
    fn take_and_source_have_to_be_there() {
        assert!(
            refused(&without("/features/0/properties", "take"))
                .contains("\"take\" is missing; write \"take\"")
        );
        assert!(
            refused(&without("/features/0/properties", "source"))
                .contains("\"source\" is missing; name the law")
        );
        assert!(refused(&without("/features/0", "properties")).contains("\"properties\" is missing"));
    }

    #[test]
    fn faults_of_the_catalogue_are_told() {
        let twice = json!([{ "id": "sprat" }, { "id": "sprat" }]);
        let text = refused(&with_header("taxa", twice));
        assert!(text.contains("takeline > taxa > entry 2: the id \"sprat\" is given twice"), "{text}");
        let text = refused(&with_header("taxa", json!([{ "id": "sprat", "parent": "clupea" }])));
        assert!(
            text.contains("entry 1 > parent: no taxon and no group has the id \"clupea\"; add it"),
            "{text}"
        );
        let text = refused(&with_header("groups", json!([{ "id": "bait-fish", "members": ["sprot"] }])));
        assert!(text.contains("groups > entry 1 > members > entry 1: no taxon"), "{text}");
        let text = refused(&with_header(
            "groups",
            json!([{ "id": "bait-fish" }, { "id": "sprat", "members": ["sprat"] }]),
        ));
        assert!(text.contains("\"members\" is missing"), "{text}");
        assert!(text.contains("entry 2: the id \"sprat\" is given twice"), "{text}");
        let text = refused(&with_header("taxa", json!([{ "id": "sprat", "names": [{ "txt": "x" }] }, 5])));
        assert!(text.contains("taxa > entry 2: 5 cannot be read here"), "{text}");
        assert!(
            text.contains("names > entry 1: the member \"txt\" is not known here; did you mean \"text\"?"),
            "{text}"
        );
    }
}

mod forms {
    use super::*;

    #[test]
    fn what_wire_types_write_they_read_again() {
        let when = json!({ "any": [{ "weekdays": ["sunday"] }, { "not": { "yearly": { "from": "05-01", "to": "08-31" } } }] });
        let properties = json!({ "name": "Sallow Cove", "edges": ["rhumb"], "take": { "only": ["sprat", { "taxa": ["sprat"],
            "bag": { "count": 5, "per": "person-day" } }] }, "when": when, "crossing": { "allowed": "unstated" },
            "source": { "instrument": "Marrowick Order 3" }, "x-fid": 3 });
        let wire: wire::WireProperties = serde_json::from_value(properties.clone()).expect("is read");
        assert_eq!(serde_json::to_value(&wire).expect("is written"), properties);
        assert!(wire::WireProperties::KEYS.contains(&"may_change_by_notice"));
        assert_eq!(wire.other().len(), 1);
    }

    #[test]
    fn edge_words_are_written_as_they_are_read() {
        let word = serde_json::to_value(wire::Word(EdgeModel::RhumbLine)).expect("is written");
        assert_eq!(word, json!("rhumb"));
    }
}
