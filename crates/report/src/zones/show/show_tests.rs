use std::collections::BTreeSet;

use jiff::Timestamp;
use serde_json::{Value, json};
use takeline::zone_file::{LoadedFile, content_digest, read};
use takeline_drafting::catalogue::{Difference, ManifestEntry};

use super::super::{ListDocument, ListedFileDocument, ManifestDocument, list_text};
use super::{ShowDocument, show_page, show_text};
use crate::survey_figures::Notation;
use crate::words::English;

const PAGE: &str = include_str!("../../../../../docs/json-output.md");

fn marrowick(name: &str) -> LoadedFile {
    let path = format!("{}/../../demo-data/zones/{name}", env!("CARGO_MANIFEST_DIR"));
    read(name, &std::fs::read(path).unwrap()).unwrap()
}

fn document<'a>(loaded: &'a LoadedFile, ids: &[&str]) -> ShowDocument<'a> {
    let ids: Vec<String> = ids.iter().map(|id| (*id).to_owned()).collect();
    ShowDocument::of(loaded, &ids, &English)
}

/// Zones of a reference file as a zone file: rings as they are there, all edges of one model.
fn reference(features: &Value, edges: &str) -> LoadedFile {
    let zones = features["features"].as_array().unwrap().iter().map(|feature| {
        let properties = &feature["properties"];
        json!({
            "type": "Feature", "id": properties["id"], "geometry": feature["geometry"],
            "properties": {
                "name": properties["name"], "edges": edges, "take": "none", "radius_m": properties["radius_m"],
                "source": { "instrument": properties["citation"] }
            }
        })
    });
    let mut file = json!({
        "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
        "features": zones.collect::<Vec<_>>()
    });
    for zone in file["features"].as_array_mut().unwrap() {
        let properties = zone["properties"].as_object_mut().unwrap();
        if properties["radius_m"].is_null() {
            properties.shift_remove("radius_m");
        } else {
            properties.shift_remove("edges");
        }
    }
    read("reference.json", file.to_string().as_bytes()).unwrap()
}

/// Areas and perimeters by GeographicLib's Planimeter: `tests/data/regulations/zones`, `computed.csv`, good to about 0.1 m² and
/// 1 mm. The vertices of the files are rounded to 10 decimals of a degree (6 µm), which is 0.7 m² over 100 km of line.
#[test]
fn real_zones_have_the_areas_and_perimeters_computed_elsewhere() {
    let table = include_str!("../../../../../tests/data/regulations/zones/computed.csv");
    let mut rows = csv::Reader::from_reader(table.as_bytes());
    let computed: Vec<csv::StringRecord> = rows.records().map(Result::unwrap).collect();
    let texts = [
        include_str!("../../../../../tests/data/regulations/zones/us_florida_keys.geojson"),
        include_str!("../../../../../tests/data/regulations/zones/us_smz_boxes.geojson"),
        include_str!("../../../../../tests/data/regulations/zones/scotland.geojson"),
        include_str!("../../../../../tests/data/regulations/zones/us_other.geojson"),
    ];
    let mut held = BTreeSet::new();
    for (text, (edges, columns)) in
        texts.iter().flat_map(|text| [("geodesic", (3, 4)), ("rhumb", (5, 6))].map(|edges| (text, edges)))
    {
        let loaded = reference(&serde_json::from_str(text).unwrap(), edges);
        for zone in document(&loaded, &[]).zones {
            let row = computed.iter().find(|row| &row[0] == zone.id).unwrap();
            if &row[1] == "circle" {
                // the plane's circle, which the ellipsoid's falls short of by r²/6R²: real_zones/figures.rs
                continue;
            }
            let figure = |column: usize| row[column].parse::<f64>().unwrap();
            let (perimeter_m, area_m2) = (figure(columns.0), figure(columns.1));
            let (off_m, off_m2) = (zone.perimeter_m.unwrap() - perimeter_m, zone.area_m2.unwrap() - area_m2);
            assert!(off_m.abs() < 0.005, "{} {edges}: {off_m} m", zone.id);
            assert!(off_m2.abs() < 0.2 + perimeter_m * 1e-5, "{} {edges}: {off_m2} m²", zone.id);
            assert_eq!(zone.corners.to_string(), &row[2], "{}", zone.id);
            held.insert(zone.id.to_owned());
        }
    }
    assert!(held.len() >= 18, "{held:?}");
}

/// The positions as 15 CFR part 922, subpart P, appendix IV prints them: `tests/data/regulations/vertices.csv`.
#[test]
fn a_real_zone_comes_back_in_the_digits_of_its_law() {
    let text = include_str!("../../../../../tests/data/regulations/zones/us_florida_keys.geojson");
    let loaded = reference(&serde_json::from_str(text).unwrap(), "geodesic");
    let shown = show_text(&document(&loaded, &["fknms-western-sambo"]), None, 100);
    for position in ["24°33.70′N 081°40.80′W", "24°28.85′N 081°41.90′W", "24°28.50′N 081°43.70′W"]
    {
        assert!(shown.contains(position), "{shown}");
    }
}

#[test]
fn an_arc_is_read_back_whole() {
    let loaded = marrowick("marrowick.json");
    let shown = show_text(&document(&loaded, &["fulmar-bight"]), Some(Notation::DecimalMinutes), 100);
    insta::assert_snapshot!(shown.replace(&loaded.file.sha256, "[sha256]"));
}

#[test]
fn limits_and_seasons_are_read_back_whole() {
    let loaded = marrowick("marrowick.json");
    let shown = show_text(&document(&loaded, &["gannet-bank", "kelp-garden", "curlew-pinnacle"]), None, 100);
    insta::assert_snapshot!(shown.replace(&loaded.file.sha256, "[sha256]"));
}

#[test]
fn the_page_of_a_zone_is_this() {
    let loaded = marrowick("marrowick.json");
    let page = show_page(&document(&loaded, &["ring-shoal"]), &loaded.zones, &[], None);
    let (_, body) = page.split_once("<body").unwrap();
    insta::assert_snapshot!(body.replace(&loaded.file.sha256, "[sha256]").replace("><", ">\n<"));
}

#[test]
fn no_two_numbers_of_corners_lie_on_each_other_and_names_cannot_break_the_page() {
    let loaded = marrowick("marrowick.json");
    let few = ["ring-shoal", "gannet-bank", "fulmar-bight", "haven-2019", "northern-parallels"];
    let page = show_page(&document(&loaded, &few), &loaded.zones, &[], None);
    assert!(!page.contains("have no number on the map"));
    let page = show_page(&document(&loaded, &["sallow-cove"]), &loaded.zones, &[], None);
    assert!(page.contains("of its 137 corners have no number on the map"));
    let text = include_str!("../../../../../demo-data/zones/harbour-board.json");
    let hostile = text.replace("\"name\": \"", "\"name\": \"<script>alert(1)</script> ");
    let loaded = read("hostile.json", hostile.as_bytes()).unwrap();
    let page = show_page(&document(&loaded, &[]), &loaded.zones, &[], None);
    assert!(!page.contains("<script") && page.contains("&lt;script"));
}

/// An island of Natural Earth with 10 877 vertices: `tests/data/natural-earth`. The packaging of the data has rounded its coast
/// across itself; what lies between two edges that cross is taken out, as the refusal names them.
#[test]
fn an_island_of_ten_thousand_corners_makes_a_page_of_sane_size() {
    let text = include_str!("../../../../../tests/data/natural-earth/ne_10m_islands.geojson");
    let islands: Value = serde_json::from_str(text).unwrap();
    let is_baffin = |island: &&Value| island["properties"]["id"] == "baffin-island";
    let mut island = islands["features"].as_array().unwrap().iter().find(is_baffin).unwrap().clone();
    island["properties"] = json!({
        "edges": "geodesic", "take": "none", "source": { "instrument": "Natural Earth 1:10m, version 4.1.0" }
    });
    island["id"] = json!("baffin-island");
    let mut file = json!({ "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" }, "features": [island] });
    let loaded = loop {
        let refused = match read("island.json", file.to_string().as_bytes()) {
            Ok(loaded) => break loaded,
            Err(refused) => refused,
        };
        let ring = file["features"][0]["geometry"]["coordinates"][0].as_array_mut().unwrap();
        let fault = &refused.faults[0];
        let (from, _) = fault.place.vertex.as_ref().unwrap().vertex.unwrap();
        let digits = fault.text.split_once("leaves vertex ").unwrap().1.split(' ').next().unwrap();
        let to: usize = digits.parse().unwrap();
        assert!(from < to && to - from < 12, "{fault}");
        ring.drain(from..to);
    };
    let document = document(&loaded, &[]);
    assert!(document.zones[0].vertices.len() > 10_800, "{}", document.zones[0].vertices.len());
    let page = show_page(&document, &loaded.zones, &[], None);
    assert!(page.len() < 1_000_000, "{} bytes", page.len());
    assert!(page.contains("The table has the first 300 corners."));
}

/// A file that has one of everything the documents can say.
fn everything() -> LoadedFile {
    let path = concat!(env!("CARGO_MANIFEST_DIR"), "/../../demo-data/zones/marrowick.json");
    let mut file: Value = serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap();
    let head = file["takeline"].clone();
    let feature = &mut file["features"][0];
    let of = content_digest(feature, &head);
    feature["properties"]["proofread"] =
        json!({ "by": ["A. B.", "C. D."], "on": "2026-06-03", "against": "Order of 2024", "of": of });
    read("marrowick.json", file.to_string().as_bytes()).unwrap()
}

fn list() -> ListDocument {
    let now: Timestamp = "2026-06-03T00:00:00Z".parse().unwrap();
    let loaded = everything();
    let entry = ManifestEntry::of("marrowick.json", 40_000, &loaded);
    assert_eq!(entry.sha256, loaded.file.sha256);
    let entry = ManifestEntry { sha256: "0123456789abcdef".repeat(4), ..entry };
    let until = |time: &str| ManifestEntry { valid_until: Some(time.parse().unwrap()), ..entry.clone() };
    let path = |name: &str| format!("zones/{name}");
    ListDocument {
        schema: "takeline.zones-list/1",
        from: "TAKELINE_ZONES",
        files: vec![
            ListedFileDocument::read(path("good.json"), until("2027-01-01T00:00:00Z"), 0, now),
            ListedFileDocument::read(path("soon.json"), until("2026-07-02T00:00:00Z"), 2, now),
            ListedFileDocument::read(path("old.json"), until("2026-06-03T00:00:00Z"), 0, now),
            ListedFileDocument::refused(path("bad.json"), "bad.json: has no zones".to_owned()),
        ],
        manifests: vec![ManifestDocument::of(
            path("takeline-manifest.json"),
            &[Difference::Changed("good.json".into()), Difference::Missing("reef.json".into())],
        )],
    }
}

#[test]
fn a_list_says_what_is_loaded_and_what_runs_out() {
    let validity: Vec<&str> = list().files.iter().map(|file| file.validity).collect();
    assert_eq!(validity, ["good", "runs-out", "ran-out", "not-stated"]);
    insta::assert_snapshot!(list_text(&list(), 80));
}

#[test]
fn proofreading_is_told() {
    let loaded = everything();
    let id = loaded.zones[0].id.0.clone();
    let shown = show_text(&document(&loaded, &[&id]), None, 200);
    assert!(
        shown.contains("proofread: by A. B. and C. D. on 3 June 2026, against Order of 2024\n"),
        "{shown}"
    );
}

/// Each schema has a part of the page, and each row of it something that is written.
#[test]
fn the_docs_describe_every_key_and_no_other() {
    let loaded = everything();
    let documents = [
        ("takeline.zones-show/1", serde_json::to_value(document(&loaded, &[])).unwrap()),
        ("takeline.zones-list/1", serde_json::to_value(list()).unwrap()),
    ];
    for (schema, document) in documents {
        assert_eq!(document["schema"], schema);
        let (_, part) = PAGE.split_once(&format!("schema `{schema}`")).unwrap();
        let part = part.split("\n## ").next().unwrap();
        let (mut written, mut values) = (BTreeSet::new(), vec![document]);
        while let Some(value) = values.pop() {
            for (key, inner) in value.as_object().into_iter().flatten() {
                assert!(
                    part.contains(&format!("`{key}`")),
                    "docs/json-output.md does not describe {key} of {schema}"
                );
                written.insert(key.clone());
                values.push(inner.clone());
            }
            values.extend(value.as_array().into_iter().flatten().cloned());
        }
        for row in part.lines().filter(|line| line.starts_with("| `")) {
            for key in row.split('|').nth(1).unwrap().split('`').skip(1).step_by(2) {
                assert!(
                    written.contains(key),
                    "docs/json-output.md describes {key} of {schema}, which nothing writes"
                );
            }
        }
    }
}
