//! The page of the codes of findings, and what the page for people looks like.
//!
//! `UPDATE_CODES=1 cargo test -p takeline-report findings_page` writes the page anew.

use std::collections::BTreeMap;
use std::fmt::Write;

use serde_json::{Value, json};
use takeline_drafting::catalogue::Difference;
use takeline_drafting::check::{Against, Finding, FindingKind, Severity, SourceMember, Spot, check};

use super::check::{CheckDocument, check_text};
use super::check_words::text;

const HEAD: &str = "\
# What `takeline zones check` finds

Codes are a contract: new ones may be added, none is renamed or removed. The words are not.

An **error** means that the file is refused, or contradicts what it was held against (`--area-m2`, `--perimeter-m`, `--corners`,
`--near`). A **warning** asks somebody to look, with the law beside; the severity of some depends on the figures. A **note** is
worth knowing, and sound files have some. Where a change is offered under `repairs`, it is the smallest that makes the ring sane,
the ring that comes of it does not cross itself, and its area stands beside it: an offer to be held against the law, never applied. Where
several things as small would serve, or none, only what is wrong is said.

Figures held against the zone pass within 1 %. `--near` passes within half the perimeter, or 1 km. That files which load are
doubted too, and in which mistakes, stands in [typing mistakes](zone-mistakes.md). Codes of the reader that are not listed here
are those of the library: `FaultKind` and `WarningKind`.

A test holds this page to the program. `UPDATE_CODES=1 cargo test -p takeline-report findings_page` writes it anew.

| code | severity | for example |
|---|---|---|
";

fn file(ring: &Value, properties: &Value) -> Value {
    let mut all = json!({ "edges": "rhumb", "take": "none", "source": { "instrument": "Order" } });
    let members = all.as_object_mut().expect("an object");
    members.extend(properties.as_object().cloned().unwrap_or_default());
    json!({ "type": "FeatureCollection", "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
        "features": [ { "type": "Feature", "id": "sallow-cove", "properties": all,
            "geometry": { "type": "Polygon", "coordinates": [ring] } } ] })
}

fn found(file: &Value) -> Vec<Finding> {
    check("marrowick.json", file.to_string().as_bytes(), &[], None, &Against::default()).findings
}

/// Findings of the reader, each from a file that has it.
fn of_reader() -> Vec<Finding> {
    let square =
        json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.125], [-30.13, 45.125], [-30.13, 45.11]]);
    let bow_tie = json!([[-30.13, 45.125], [-30.11, 45.125], [-30.13, 45.11], [-30.11, 45.11]]);
    let mut circle = file(&square, &json!({ "radius_m": 1.6 }));
    circle["features"][0]["geometry"] = json!({ "type": "Point", "coordinates": [-30.13, 45.11] });
    circle["features"][0]["properties"].as_object_mut().expect("an object").remove("edges");
    let files = [
        file(&bow_tie, &json!({})),
        file(&json!([[-30.13, 45.11], [-30.11, 45.11]]), &json!({})),
        file(&json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 145.0]]), &json!({})),
        file(&json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 46.125], [-30.13, 45.125]]), &json!({})),
        file(&json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 46, 125], [-30.13, 45.125]]), &json!({})),
        file(&json!([[-30.13, 45.11], [-30.11, 45.11], [-30.11, 45.11], [-30.13, 45.125]]), &json!({})),
        file(&square, &json!({ "datum": "NAD 27" })),
        file(&square, &json!({ "take": { "only": ["sprat"] } })),
        file(&square, &json!({ "taek": "none" })),
        file(&square, &json!({ "when": { "yearly": { "from": "05-01", "to": "08-31" } } })),
        circle,
    ];
    let mut all: Vec<Finding> = files.iter().flat_map(found).collect();
    all.extend(check("marrowick.json", b"{ \"type\": ", &[], None, &Against::default()).findings);
    all.retain(|finding| matches!(finding.kind, FindingKind::Fault(_) | FindingKind::Odd(_)));
    all
}

fn of_check() -> Vec<Finding> {
    let day = jiff::civil::date(2026, 12, 1);
    let instant = "2028-01-01T00:00:00Z".parse().expect("an instant");
    let kinds = vec![
        FindingKind::MoreFaults(12),
        FindingKind::CornerOff { slight: true },
        FindingKind::CornerMissing,
        FindingKind::OtherNotation,
        FindingKind::MinutesAsDecimals { one_in: 129.0, coordinates: 10 },
        FindingKind::PrintedPrecision { half_m: 9.26, coarsest_half_m: None },
        FindingKind::SidesUnstated { apart_m: 48.9 },
        FindingKind::OutOfProportion { area_m2: 8.0, median_m2: Some(3.4e6) },
        FindingKind::NearlyShared { other: "lantern-reach".to_owned(), apart_m: 8.0, overlaps: false },
        FindingKind::SameLine { other: "lantern-reach".to_owned() },
        FindingKind::NeighboursLeft { zones: 120 },
        FindingKind::RuleNotStated,
        FindingKind::PublishedIncomplete { without: 1 },
        FindingKind::PublishedNotShifted { datum: "NAD 27".to_owned() },
        FindingKind::LineNotKnown,
        FindingKind::Manifest(Difference::Changed("marrowick.json".to_owned())),
        FindingKind::Manifest(Difference::Missing("harbour-board.json".to_owned())),
        FindingKind::Manifest(Difference::Renamed {
            from: "reef.json".to_owned(),
            to: "reef-2026.json".to_owned(),
        }),
        FindingKind::Manifest(Difference::Extra("new.json".to_owned())),
        FindingKind::ChordsOnly { sides: 2 },
        FindingKind::SourceIncomplete(vec![SourceMember::Clause, SourceMember::Retrieved]),
        FindingKind::EditionExpired(instant),
        FindingKind::EditionRunsOut(instant),
        FindingKind::RuleOver(instant),
        FindingKind::DateInFuture(day),
        FindingKind::DayMonth { written: (1, 5) },
        FindingKind::NeverInForce,
        FindingKind::NamesUnused(vec!["sprat".to_owned()]),
        FindingKind::Winding,
        FindingKind::AcrossAntimeridian,
        FindingKind::RingNotClosed,
        FindingKind::ReferenceSystem,
        FindingKind::Heights,
        FindingKind::AreaDiffers { found_m2: 1_119_856.0, said_m2: 974_200.0 },
        FindingKind::PerimeterDiffers { found_m: 4298.5, said_m: 4400.0 },
        FindingKind::CornersDiffer { found: 3, said: 4 },
        FindingKind::NotNear { distance_m: 110_000.0, allowed_m: 2_149.0 },
        FindingKind::NoSuchZone,
    ];
    kinds.into_iter().map(|kind| Finding::new(kind, Spot::default(), Vec::new())).collect()
}

#[test]
fn findings_page() {
    let mut rows = BTreeMap::new();
    for finding in of_check().into_iter().chain(of_reader()) {
        let example = format!("{} | {}", finding.severity.word(), text(&finding).replace('|', "\\|"));
        assert!(!example.contains("do not know"), "{finding:?}");
        rows.entry(finding.kind.code()).or_insert(example);
    }
    for code in ["edges-cross", "far-from-others", "third-coordinate", "out-of-proportion", "not-json"] {
        assert!(rows.contains_key(code), "{code}: {:?}", rows.keys());
    }
    let mut page = HEAD.to_owned();
    for (code, example) in rows {
        writeln!(page, "| `{code}` | {example} |").expect("a text takes it");
    }
    let path = format!("{}/../../docs/zone-findings.md", env!("CARGO_MANIFEST_DIR"));
    if std::env::var_os("UPDATE_CODES").is_some() {
        std::fs::write(&path, &page).expect("can be written");
    }
    let held = std::fs::read_to_string(&path).unwrap_or_default();
    assert!(held == page, "docs/zone-findings.md is out of date; its head says how to write it anew");
}

#[test]
fn the_verdict_comes_first_and_no_line_is_too_wide() {
    let bow_tie = json!([[-30.13, 45.125], [-30.11, 45.125], [-30.13, 45.11], [-30.11, 45.11]]);
    let file = file(&bow_tie, &json!({}));
    let checked = check("marrowick.json", file.to_string().as_bytes(), &[], None, &Against::default());
    let document = CheckDocument::of(&[("marrowick.json".to_owned(), checked)]);
    assert_eq!(document.exit_status.code(), 3);
    let shown = check_text(&document, 40);
    assert!(shown.starts_with("1 error, 1 note: MEND THIS FIRST\n"), "{shown}");
    assert!(shown.lines().all(|line| line.chars().count() <= 40), "{shown}");
    let words = shown.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("with vertices 3 and 4 exchanged"), "{shown}");
    assert_eq!(document.findings[0].repair_codes, ["rows-exchanged"]);
    assert_eq!(document.findings[0].severity, Severity::Error.word());
}
