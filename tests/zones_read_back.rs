//! Zone files read back, proofread, listed and held to the manifest of their folder: by running the program.

#![expect(clippy::unwrap_used, clippy::panic, reason = "a test whose program does not even run has failed")]

use std::fs;
use std::path::Path;
use std::time::Instant;

use serde_json::{Value, json};
use tempfile::TempDir;

#[path = "program.rs"]
mod program;

use program::{Outcome, run};

/// A folder `zones` with these files of the demo in it.
fn folder(names: &[&str]) -> TempDir {
    let folder = tempfile::tempdir().unwrap();
    fs::create_dir(folder.path().join("zones")).unwrap();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    for name in names {
        fs::copy(demo.join("zones").join(name), folder.path().join("zones").join(name)).unwrap();
    }
    folder
}

#[track_caller]
fn ran(folder: &TempDir, line: &[&str]) -> Outcome {
    run(folder.path(), None, line, "")
}

#[track_caller]
fn json_of(outcome: &Outcome) -> Value {
    serde_json::from_str(&outcome.out)
        .unwrap_or_else(|error| panic!("{error}: {}{}", outcome.out, outcome.err))
}

/// The first zone at Sallow Cove, as `here` has it in JSON.
#[track_caller]
fn cove(folder: &TempDir) -> Value {
    let line = [
        "here",
        "45.1182",
        "-30.1217",
        "--zones",
        "zones",
        "--time",
        "2026-07-25T06:30:00Z",
        "--format",
        "json",
    ];
    let document = json_of(&ran(folder, &line));
    let zones = document["zones"].as_array().unwrap();
    zones.iter().find(|zone| zone["id"] == "sallow-cove").unwrap().clone()
}

const PROOFREAD: [&str; 9] = [
    "zones",
    "show",
    "zones/marrowick.json",
    "--zone=sallow-cove",
    "--against=Order of 2024",
    "--proofread-on=2026-06-03",
    "--proofread-by",
    "A. B.",
    "C. D.",
];

#[test]
fn who_proofread_a_zone_is_written_into_its_file_and_cited_until_it_changes() {
    let folder = folder(&["marrowick.json"]);
    let file = folder.path().join("zones/marrowick.json");
    let before = fs::read_to_string(&file).unwrap();
    assert!(cove(&folder)["proofread"].is_null());
    let done = ran(&folder, &PROOFREAD);
    assert_eq!(done.status, 0, "{}", done.err);
    assert!(done.err.contains("nothing else in the file was changed"), "{}", done.err);
    let after = fs::read_to_string(&file).unwrap();
    let added: Vec<&str> = after.lines().filter(|line| line.contains("\"proofread\"")).collect();
    assert_eq!(added.len(), 1, "one line more");
    assert_eq!(after.lines().count(), before.lines().count() + 1);
    let record = &cove(&folder)["proofread"];
    assert_eq!(record["by"], json!(["A. B.", "C. D."]));
    assert_eq!(
        (&record["on"], &record["against"], &record["unchanged"]),
        (&json!("2026-06-03"), &json!("Order of 2024"), &json!("yes"))
    );
    let here = ["here", "45.1182", "-30.1217", "--zones", "zones", "--width", "200"];
    let text = ran(&folder, &here).out;
    assert!(text.contains("proofread: by A. B. and C. D. on 3 June 2026, against Order of 2024\n"), "{text}");
    // somebody moves a corner
    fs::write(&file, after.replacen("45.110205", "45.110305", 1)).unwrap();
    let voided = ran(&folder, &here);
    assert!(voided.err.contains("that reading counts no longer"), "{}", voided.err);
    assert_eq!(cove(&folder)["proofread"]["unchanged"], "no");
}

#[test]
fn a_zone_that_is_not_there_is_named_and_nothing_is_written() {
    let folder = folder(&["marrowick.json"]);
    let file = folder.path().join("zones/marrowick.json");
    let before = fs::read(&file).unwrap();
    let wrong = ran(
        &folder,
        &["zones", "show", "zones/marrowick.json", "--zone", "creek", "--proofread-by", "A. B."],
    );
    assert_eq!(wrong.status, 2);
    assert!(
        wrong.err.contains("no zone with the id creek") && wrong.err.contains("sallow-cove"),
        "{}",
        wrong.err
    );
    let alone = ran(&folder, &["zones", "show", "zones/marrowick.json", "--against", "Order of 2024"]);
    assert_eq!(alone.status, 2, "{}", alone.err);
    let over = ran(&folder, &["zones", "show", "zones/marrowick.json", "--html", "zones/marrowick.json"]);
    assert_eq!(over.status, 2, "{}", over.err);
    assert_eq!(fs::read(&file).unwrap(), before);
}

#[test]
fn a_folder_is_held_to_its_manifest() {
    let folder = folder(&["marrowick.json", "harbour-board.json"]);
    let written = ran(&folder, &["zones", "list", "--write-manifest", "zones", "--format", "json"]);
    assert_eq!(written.status, 0, "{}", written.err);
    let listed = json_of(&written);
    assert_eq!(listed["files"].as_array().unwrap().len(), 2);
    assert_eq!(listed["manifests"][0]["differences"], json!([]));
    let here = ["here", "45.1182", "-30.1217", "--zones", "zones"];
    let sound = ran(&folder, &here);
    assert!(!sound.err.contains("manifest"), "{}", sound.err);
    let zones = folder.path().join("zones");
    let text = fs::read_to_string(zones.join("marrowick.json")).unwrap();
    fs::write(zones.join("marrowick.json"), format!("{text}\n")).unwrap();
    fs::copy(zones.join("harbour-board.json"), zones.join("new.json")).unwrap();
    let told = ran(&folder, &here);
    for word in ["marrowick.json is not the file that was written down", "new.json was not written down"] {
        assert!(told.err.contains(word), "{word}: {}", told.err);
    }
    fs::rename(zones.join("new.json"), zones.join("harbour-board.json")).unwrap();
    fs::remove_file(zones.join("marrowick.json")).unwrap();
    // what is missing would read as open water: no command answers
    let lines: [&[&str]; 5] = [
        &here,
        &["zones", "names", "zones"],
        &["zones", "export", "zones", "--to", "gpx", "--out", "zones.gpx"],
        &[
            "transit",
            "check",
            "--zones",
            "zones",
            "--front",
            "45.12 -30.12",
            "--rear",
            "45.13 -30.12",
            "--near-m",
            "100",
            "--far-m",
            "1400",
        ],
        &["zones", "compare", "zones", "zones"],
    ];
    for line in lines {
        let refused = ran(&folder, line);
        assert_eq!(refused.status, 3, "{line:?}: {}", refused.err);
        assert!(refused.err.contains("names marrowick.json, and that file is not there"), "{}", refused.err);
        assert!(refused.out.is_empty(), "{}", refused.out);
    }
    let checked = ran(&folder, &["zones", "check", "zones", "--format", "json"]);
    assert_eq!(checked.status, 3, "{}", checked.err);
    let found = json_of(&checked)["findings"].clone();
    let codes: Vec<&Value> = found.as_array().unwrap().iter().map(|one| &one["code"]).collect();
    assert!(codes.contains(&&json!("manifest-missing")), "{codes:?}");
    let listed = ran(&folder, &["zones", "list", "zones"]);
    assert_eq!(listed.status, 3);
    assert!(listed.out.starts_with("1 file MISSING: NO ZONE IS USED"), "{}", listed.out);
    let accepted = ran(&folder, &["zones", "list", "zones", "--write-manifest"]);
    assert_eq!(accepted.status, 0, "{}", accepted.err);
    assert!(accepted.err.contains("marrowick.json was written down and is missing"), "{}", accepted.err);
    assert_ne!(ran(&folder, &here).status, 3);
}

#[test]
fn a_file_that_only_bears_another_name_is_told_and_read() {
    let folder = folder(&["marrowick.json", "harbour-board.json"]);
    ran(&folder, &["zones", "list", "--write-manifest", "zones"]);
    let zones = folder.path().join("zones");
    fs::rename(zones.join("marrowick.json"), zones.join("isle.json")).unwrap();
    let told = ran(&folder, &["here", "45.1182", "-30.1217", "--zones", "zones"]);
    assert_eq!(told.status, 1, "{}", told.err);
    assert!(told.err.contains("marrowick.json bears the name isle.json now"), "{}", told.err);
    let listed = ran(&folder, &["zones", "list", "zones", "--format", "json"]);
    assert_eq!(listed.status, 1, "{}", listed.err);
    let manifest = &json_of(&listed)["manifests"][0];
    assert_eq!(manifest["difference_codes"], json!(["manifest-renamed"]));
    assert_eq!(manifest["difference_files"], json!(["isle.json"]));
    // a manifest that a shell names beside one of its files
    let named = [
        "here",
        "45.1182",
        "-30.1217",
        "--zones",
        "zones/isle.json",
        "--zones",
        "zones/takeline-manifest.json",
    ];
    let told = ran(&folder, &named);
    assert_eq!(told.status, 1, "{}", told.err);
}

#[test]
fn a_copy_counts_once() {
    let folder = folder(&["marrowick.json"]);
    let zones = folder.path().join("zones");
    fs::copy(zones.join("marrowick.json"), zones.join("copy.json")).unwrap();
    let listed = ran(&folder, &["zones", "list", "zones", "--width", "200"]);
    assert!(
        listed.out.starts_with("ZONE FILES: 20 zones in 2 files (1 of them read before)"),
        "{}",
        listed.out
    );
}

#[test]
fn a_draft_says_that_its_rule_is_to_be_written() {
    let folder = folder(&[]);
    let law = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/law/otter-ledge.txt");
    fs::copy(law, folder.path().join("law.txt")).unwrap();
    let drafted = ran(&folder, &["zones", "draft", "law.txt", "--out", "zones/ledge.json"]);
    assert!(drafted.status < 2, "{}", drafted.err);
    let checked = ran(&folder, &["zones", "check", "zones", "--format", "json"]);
    assert_eq!(checked.status, 1, "{}", checked.err);
    let found = json_of(&checked)["findings"].clone();
    let codes: Vec<&Value> = found.as_array().unwrap().iter().map(|one| &one["code"]).collect();
    assert!(codes.contains(&&json!("rule-not-stated")), "{codes:?}");
    // few digits settle nothing: what is missing is the rule
    let here = |place: [&str; 2]| {
        json_of(&ran(&folder, &["here", place[0], place[1], "--zones", "zones", "--format", "json"]))
    };
    for place in [["45.19", "-30.085"], ["45.1910000", "-30.0850000"]] {
        let answer = here(place);
        assert_eq!(answer["water"], "undecided", "{answer}");
        assert_eq!(answer["settle_codes"][0]["code"], "write-the-rule", "{}", answer["settle_codes"]);
    }
    let shown = json_of(&ran(&folder, &["zones", "show", "zones/ledge.json", "--format", "json"]));
    let zone = &shown["zones"][0];
    for (words, codes) in [("does_not_say", "does_not_say_codes"), ("rule_lines", "rule_line_codes")] {
        assert_eq!(zone[words].as_array().unwrap().len(), zone[codes].as_array().unwrap().len());
    }
    assert_eq!(zone["does_not_say_codes"][0], "rule");
    let late =
        ["zones", "show", "zones/ledge.json", "--proofread-by", "A. B.", "--proofread-on", "2199-01-01"];
    assert_eq!(ran(&folder, &late).status, 2);
}

#[test]
fn check_says_what_else_a_file_is_and_wants_a_figure_for_a_zone() {
    let folder = folder(&["marrowick.json"]);
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    fs::copy(demo.join("landmarks.geojson"), folder.path().join("landmarks.geojson")).unwrap();
    let other = ran(&folder, &["zones", "check", "landmarks.geojson"]);
    assert_eq!(other.status, 3);
    assert!(other.err.contains("it is a file of landmarks"), "{}", other.err);
    let alone = ran(&folder, &["zones", "check", "zones/marrowick.json", "--zone", "otter"]);
    assert_eq!(alone.status, 2);
    let unknown =
        ran(&folder, &["zones", "check", "zones/marrowick.json", "--zone", "otter", "--corners", "4"]);
    assert_eq!(unknown.status, 3, "{}", unknown.err);
    assert!(unknown.out.contains("no-such-zone"), "{}", unknown.out);
}

/// A chord in place of a shore is no figure of the law.
#[test]
fn a_shore_that_nobody_has_supplied_is_said_beside_every_figure() {
    let folder = folder(&["shore-waters.json"]);
    let coast = "coast/marrowick.geojson";
    fs::create_dir(folder.path().join("coast")).unwrap();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data");
    fs::copy(demo.join(coast), folder.path().join(coast)).unwrap();
    let shown = ran(
        &folder,
        &["zones", "show", "zones/shore-waters.json", "--zone", "long-strand", "--width", "200"],
    );
    assert_eq!(shown.status, 0, "{}", shown.err);
    let of = |label: &str| {
        let line = shown.out.lines().find(|line| line.trim_start().starts_with(label));
        line.unwrap_or_default().to_owned()
    };
    for label in ["area:", "perimeter:"] {
        assert!(of(label).contains("with a chord in place of the shore"), "{}", shown.out);
    }
    assert!(shown.out.contains("length and bearing are of the chord"), "{}", shown.out);
}

#[test]
fn zones_are_never_passed_over_for_the_name_of_a_manifest() {
    let folder = folder(&["marrowick.json", "harbour-board.json"]);
    let zones = folder.path().join("zones");
    fs::rename(zones.join("harbour-board.json"), zones.join("takeline-manifest.json")).unwrap();
    let refused = ran(&folder, &["here", "45.1182", "-30.1217", "--zones", "zones"]);
    assert_eq!(refused.status, 3);
    assert!(refused.err.contains("give that file another name"), "{}", refused.err);
}

#[test]
fn a_refused_file_is_listed_with_the_reason() {
    let folder = folder(&["marrowick.json"]);
    fs::write(folder.path().join("zones/bad.json"), "{}").unwrap();
    let listed = ran(&folder, &["zones", "list", "zones", "--format", "json"]);
    assert_eq!(listed.status, 3);
    let files = json_of(&listed)["files"].clone();
    assert!(files[0]["refused"].as_str().unwrap().contains("bad.json"), "{files}");
    assert_eq!(files[1]["file"]["zones"], 20);
    let refused = ran(&folder, &["zones", "list", "zones", "--write-manifest"]);
    assert_eq!(refused.status, 3, "{}", refused.err);
    assert!(!folder.path().join("zones/takeline-manifest.json").exists());
}

#[test]
fn an_edition_that_runs_out_soon_is_told() {
    let folder = folder(&["marrowick.json"]);
    let warnings = |time: &str| {
        let line = ["here", "45.1182", "-30.1217", "--zones", "zones", "--time", time, "--format", "json"];
        let document = json_of(&ran(&folder, &line));
        let codes = document["warnings_codes"].as_array().unwrap().iter();
        codes.map(|code| code["code"].as_str().unwrap().to_owned()).collect::<Vec<_>>()
    };
    // its makers vouch for it until the end of 2027
    assert!(!warnings("2027-11-20T06:30:00Z").contains(&"edition-runs-out".to_owned()));
    assert!(warnings("2027-12-20T06:30:00Z").contains(&"edition-runs-out".to_owned()));
    assert!(warnings("2028-01-20T06:30:00Z").contains(&"edition-expired".to_owned()));
}

/// 20 000 zones are the most that are loaded together: they are listed in seconds, and shown zone by zone.
#[test]
fn twenty_thousand_zones_are_listed_and_shown() {
    let folder = folder(&[]);
    let mut zones = Vec::new();
    for number in 0..20_000 {
        let (lat, lon) = (45.0 + f64::from(number / 200) * 0.01, -30.0 + f64::from(number % 200) * 0.01);
        zones.push(json!({
            "type": "Feature", "id": format!("z{number}"),
            "geometry": { "type": "Polygon", "coordinates":
                [[[lon, lat], [lon + 0.005, lat], [lon + 0.005, lat + 0.005], [lon, lat + 0.005], [lon, lat]]] },
            "properties": { "edges": "rhumb", "take": "none", "source": { "instrument": "Marrowick Order 3" } }
        }));
    }
    let file = json!({ "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" }, "features": zones });
    fs::write(folder.path().join("zones/many.json"), file.to_string()).unwrap();
    let begun = Instant::now();
    let listed = ran(&folder, &["zones", "list", "zones"]);
    assert_eq!(listed.status, 0, "{}", listed.err);
    // a busy machine and a program that is not optimised are slower than what people have
    assert!(begun.elapsed().as_secs() < 60, "{:?}", begun.elapsed());
    let one = ran(&folder, &["zones", "show", "zones/many.json", "--zone", "z777", "--html", "one.html"]);
    assert_eq!(one.status, 0, "{}", one.err);
    assert!(fs::metadata(folder.path().join("one.html")).unwrap().len() < 200_000);
    let all = ran(&folder, &["zones", "show", "zones/many.json", "--html", "all.html"]);
    assert_eq!(all.status, 2);
    assert!(all.err.contains("too many to read on one page"), "{}", all.err);
}
