//! Many fixes, zone files from anywhere, and input that is wrong.

use std::fs;

use tempfile::TempDir;

use super::*;

fn batch(zones: &[&str], input: &str) -> Outcome {
    let outcome = takeline(&root(), &[&["here", "--fixes", "-"], zones].concat(), input);
    assert_no_verdict_of_law(&outcome);
    outcome
}

/// A grid of 100 by 100 fixes over all zones; each 1000th row is none.
fn grid() -> (Vec<Option<(f64, f64)>>, String) {
    let fixes: Vec<_> = (0..10_000_u32)
        .map(|row| {
            let fix = (44.99 + f64::from(row % 100) * 0.0025, -30.26 + f64::from(row / 100) * 0.0025);
            (row % 1000 != 999).then_some(fix)
        })
        .collect();
    let rows = fixes.iter().map(|fix| match fix {
        Some((latitude, longitude)) => format!("{latitude:.4},{longitude:.4},{NOON},5\n"),
        None => format!("95.0,-30.1,{NOON},5\n"),
    });
    let rows: String = rows.collect();
    (fixes, format!("lat,lon,time,accuracy_m\n{rows}"))
}

#[test]
fn ten_thousand_rows_are_answered_in_order_and_the_bad_ones_told() {
    let (fixes, input) = grid();
    let outcome = batch(&["--zones", "demo-data/zones"], &input);
    assert_eq!(outcome.status, 3);
    let expected_bad: Vec<_> = (1..=10).map(|thousand| format!("line {}", thousand * 1000 + 1)).collect();
    let bad: Vec<_> = outcome.err.lines().map(|line| line.split(':').next().unwrap()).collect();
    assert_eq!(bad, expected_bad);
    let answers = outcome.answers();
    let good: Vec<_> = (2_u64..).zip(&fixes).filter_map(|(line, fix)| Some((line, (*fix)?))).collect();
    assert_eq!(answers.len(), good.len());
    let mut in_the_cove = 0;
    for (answer, (line, (latitude, longitude))) in answers.iter().zip(good) {
        assert_eq!(answer["row"], line);
        // well inside the reserve: 0.0005° is four times the doubt. Off the two points that is its box; the cove between them is at
        // least as wide as the second box up to 30.1195 W (demo-data/coast)
        let off_the_points =
            (45.1105..45.1235).contains(&latitude) && (-30.1495..-30.1315).contains(&longitude);
        let in_between = (45.1145..45.1205).contains(&latitude) && (-30.1315..-30.1195).contains(&longitude);
        let inside = off_the_points || in_between;
        if inside {
            in_the_cove += 1;
            assert_eq!(answer["water"], "closed", "line {line}");
        }
    }
    // rows and columns are 0.0025° apart: 5 by 7 off the points and 3 by 5 between them
    assert_eq!(in_the_cove, 50);
}

#[test]
fn the_demo_files_of_fixes_are_answered_or_told() {
    let run = |file| takeline(&root(), &["here", "--zones", "demo-data/zones", "--fixes", file], "");
    let good = run("demo-data/fixes.csv");
    assert_eq!((good.answers().len(), good.err.as_str(), good.status), (15, "", 3));
    let waters: Vec<_> = good.answers().iter().map(|answer| answer["water"].clone()).collect();
    let [closed, limited, open, undecided] = ["closed", "limited", "no-loaded-zone", "undecided"];
    assert_eq!(
        waters,
        [
            closed, closed, closed, open, limited, limited, limited, open, limited, open, closed, limited,
            undecided, limited, open
        ]
    );
    let faulty = run("demo-data/fixes-with-faults.csv");
    assert_eq!((faulty.answers().len(), faulty.status), (2, 3));
    let lines: Vec<_> = faulty.err.lines().filter_map(|line| line.split(':').next()).collect();
    assert_eq!(lines, ["line 3", "line 4", "line 5", "line 6", "line 7"]);
}

#[test]
fn zones_may_come_from_the_environment() {
    let output = assert_cmd::Command::new(env!("CARGO_BIN_EXE_takeline"))
        .args(["here", BEACH, "--time", NOON])
        .current_dir(root())
        .env("TAKELINE_ZONES", "demo-data/zones")
        .output()
        .unwrap();
    assert_eq!(output.status.code(), Some(1));
    assert!(output.stdout.starts_with(b"CLOSED WATER"));
}

#[test]
fn a_fault_in_a_zone_file_names_file_zone_and_vertex_and_leaves_no_answer() {
    let folder = TempDir::new().unwrap();
    let sound = fs::read_to_string(root().join("demo-data/zones/marrowick.json")).unwrap();
    let broken = sound.replacen("[-30.1313, 45.1100]", "[-30.1313, 95.1100]", 1);
    assert_ne!(broken, sound);
    fs::write(folder.path().join("broken.json"), broken).unwrap();
    let outcome = takeline(folder.path(), &["here", BEACH, "--zones", ".", "--time", NOON], "");
    assert_no_verdict_of_law(&outcome);
    assert_eq!((outcome.status, outcome.out.as_str()), (3, ""));
    for part in ["broken.json", "sallow-cove", "vertex 2", "95.11"] {
        assert!(outcome.err.contains(part), "{part}: {}", outcome.err);
    }
}

#[test]
fn swapped_or_mirrored_numbers_are_pointed_out() {
    for (position, slip, words) in [
        ("-30.1190 45.1170", "exchanged", "latitude and longitude may be swapped"),
        ("45.1170 30.1190", "longitude-sign", "the sign of the longitude may be wrong"),
        ("-45.1170 -30.1190", "latitude-sign", "the sign of the latitude may be wrong"),
    ] {
        let answer = ask(position, NOON, &[]);
        assert_eq!(answer.status, 3, "an answer about a place that was likely not meant settles nothing");
        let second = answer.text.lines().nth(1).unwrap_or_default();
        assert!(second.starts_with("To settle: did you mean 45.1170"), "{position}: {second}");
        assert_eq!(answer.json["likely_misreading"]["slip"], slip);
        let settle = texts(&answer.json["settle"]);
        assert!(settle.contains(words) && settle.contains("Sallow Cove Reserve"), "{settle}");
    }
    let refused = takeline(&root(), &["here", "145.1170", "-30.1190", "--zones", "demo-data/zones"], "");
    assert_eq!((refused.status, refused.out.as_str()), (2, ""));
    assert!(refused.err.contains("may be swapped"), "{}", refused.err);
    // 500 km off is far, but no slip explains it
    let far = texts(&ask("49.6 -30.1", NOON, &[]).json["warnings"]);
    assert!(far.contains("check the position") && !far.contains("swapped"), "{far}");
}

#[test]
fn no_help_pronounces_what_the_program_cannot_know() {
    for arguments in [&["--help"][..], &["here", "--help"], &["here"], &["--version"]] {
        assert_no_verdict_of_law(&takeline(&root(), arguments, ""));
    }
}

#[test]
fn a_folder_passes_no_zone_file_over() {
    let folder = TempDir::new().unwrap();
    let zones = folder.path().join("zones");
    let one = fs::read(root().join("demo-data/zones/marrowick.json")).unwrap();
    let ask = |path: &str, bytes: &[u8]| {
        let path = zones.join(path);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(zones.join("a.json"), &one).unwrap();
        fs::write(&path, bytes).unwrap();
        let outcome = takeline(folder.path(), &["here", BEACH, "--time", NOON, "--zones", "zones"], "");
        fs::remove_dir_all(&zones).unwrap();
        outcome
    };
    let plain = ask("README.md", b"# Zones");
    for path in [
        "b.json.gz",
        "b.geojson.gz",
        "b.json.txt",
        "b.json~",
        "b.json ",
        ".b.json",
        "b.geojson.bak",
        "old/b.json",
        "old/older/b.geojson",
        "old/b.JSON.gz",
        "b.jsonl",
        "b.gz",
        "old/zones.zip",
        ".old/b.json",
    ] {
        let outcome = ask(path, &one);
        assert_eq!((outcome.status, outcome.out.as_str()), (3, ""), "{path}");
        let is_told = outcome.err.contains(path)
            && outcome.err.contains("open water")
            && outcome.err.contains("--zones");
        assert!(is_told, "{path}: {}", outcome.err);
    }
    // by what it says, whatever it is called
    let by_its_text = ask("b.txt", &one);
    assert!(by_its_text.status == 3 && by_its_text.err.contains("b.txt"), "{}", by_its_text.err);
    for path in ["notes.txt", "old/track.gpx", "map.png", ".DS_Store"] {
        assert_eq!(ask(path, b"a plan").out, plain.out, "{path}");
    }
    // AppleDouble: what a desktop keeps beside a file
    assert_eq!(ask("._a.json", &[0, 5, 0x16, 7, 0, 2, 0, 0]).out, plain.out);
}
