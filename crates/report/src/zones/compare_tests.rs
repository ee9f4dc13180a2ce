//! The comparison as JSON, text and page, of the two editions of the demo.

use std::sync::Arc;

use serde_json::Value;
use takeline::zone::Zone;
use takeline::zone_file;
use takeline_drafting::editions::{Effect, compare};

use super::{CompareDocument, compare_page, compare_text};
use crate::words::English;

const OLD: &[u8] = include_bytes!("../../../../demo-data/editions/marrowick-2025.json");
const NEW: &[u8] = include_bytes!("../../../../demo-data/zones/marrowick.json");
const PAGE: &str = include_str!("../../../../docs/json-output.md");

fn zones(bytes: &[u8]) -> Vec<Zone> {
    zone_file::read("marrowick.json", bytes).unwrap().zones
}

fn with<T>(old: &[u8], new: &[u8], look: impl FnOnce(&CompareDocument<'_>) -> T) -> T {
    let (old, new) = (zones(old), zones(new));
    let comparison = compare(&old, &new);
    let files = [&old, &new].map(|zones| Arc::clone(&zones[0].file));
    look(&CompareDocument::of(&comparison, [&[&*files[0]], &[&*files[1]]], &English))
}

fn keys(value: &Value, found: &mut Vec<String>) {
    match value {
        Value::Object(members) => {
            for (key, value) in members {
                found.push(key.clone());
                keys(value, found);
            }
        }
        Value::Array(list) => list.iter().for_each(|value| keys(value, found)),
        Value::Null | Value::Bool(_) | Value::Number(_) | Value::String(_) => {}
    }
}

#[test]
fn every_key_is_described_and_those_of_the_contract_are_there() {
    let value = with(OLD, NEW, |document| serde_json::to_value(document).unwrap());
    let section = PAGE.split("## `takeline zones compare`").nth(1).unwrap();
    let mut found = Vec::new();
    keys(&value, &mut found);
    for key in &found {
        assert!(section.contains(&format!("`{key}`")), "docs/json-output.md does not describe {key}");
    }
    for key in ["schema", "added", "removed", "changed", "exit_status"] {
        assert!(value.get(key).is_some(), "{key}");
    }
    let changed =
        &value["changed"].as_array().unwrap().iter().find(|zone| zone["zone_id"] == "lantern-reach").unwrap();
    assert!(changed["moved"][0]["vertex"].is_u64() && changed["moved"][0]["metres"].is_f64());
    assert!(changed["gained_m2"].is_f64() && changed["lost_m2"].is_f64() && changed["rules"][0].is_string());
    assert_eq!((&value["schema"], &value["exit_status"]), (&"takeline.zones-compare/1".into(), &1.into()));
}

#[test]
fn the_first_three_lines_answer() {
    let text = with(OLD, NEW, |document| compare_text(document, 40));
    let lines: Vec<&str> = text.lines().take(3).collect();
    assert!(lines[0].starts_with("CHANGED: ") && lines[0].contains("4 new, 4 gone"), "{lines:?}");
    // the Kelp Garden lies nobody knows where any more
    assert_eq!(lines[1], "CLOSED NOW: 2.6 ha or more, see below");
    let plain = text.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(plain.contains("1 zone that closes water is new or changed, and nobody knows where"), "{text}");
    assert!(lines[2].starts_with("STRICTER "), "{lines:?}");
    let (stricter, looser) =
        (text.find("You may no longer").unwrap(), text.find("no longer forbid").unwrap());
    assert!(stricter < looser && looser > text.find("Undecided: ").unwrap());
    assert!(text.lines().all(|line| line.chars().count() <= 40));
}

#[test]
fn the_same_edition_twice_is_the_same() {
    with(NEW, NEW, |document| {
        assert_eq!(document.exit_status.code(), 0);
        assert!(compare_text(document, 80).starts_with("THE SAME: nothing differs\n"));
        assert!(compare_page(document).contains("THE SAME"));
    });
}

#[test]
fn nothing_is_said_twice_and_all_is_said_once() {
    with(OLD, NEW, |document| {
        let effects = [Effect::Stricter, Effect::Undecided, Effect::Looser, Effect::Reference];
        let told: usize = effects.iter().map(|effect| document.told(*effect).len()).sum();
        let in_zones: usize = document.changed.iter().map(|zone| zone.line.len() + zone.rules.len()).sum();
        let in_files: usize = document.files.iter().map(|file| file.changes.len()).sum();
        assert_eq!(told, in_zones + in_files + document.added.len() + document.removed.len());
    });
}

#[test]
fn the_page_fetches_nothing_and_tells_the_waters_apart_without_colour() {
    let page = with(OLD, NEW, compare_page);
    assert!(!page.contains("http://") && !page.contains("https://") && !page.contains("<script"));
    for part in ["id=\"gained\"", "id=\"lost\"", "url(#gained)", "url(#lost)", "Lantern Reach", "kelp"] {
        assert!(page.to_lowercase().contains(&part.to_lowercase()), "{part}");
    }
}
