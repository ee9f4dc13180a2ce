//! With an index beside a zone file or without, the answer is the same, to the last letter; and an index that does not fit is
//! told and not used.
//!
//! At full size: `TAKELINE_PREPARED=20000 cargo test --release -p takeline-cli --test prepared -- --nocapture`.

#![expect(clippy::unwrap_used, reason = "a test whose program does not even run has failed")]

#[path = "program.rs"]
mod program;
#[path = "prepared/random_files.rs"]
mod random_files;

use std::fs;
use std::path::{Path, PathBuf};

use takeline::prepared::{FileOfZones, Index, Unfit, needs_all_zones, prepare, zones_for};
use takeline::rule::{Access, Gear};
use takeline::zone::{Zone, ZoneSet};
use takeline::{AccuracyKind, Fix, HorizontalUncertainty, Metres, Question, zone_file};
use takeline_report::words::English;
use takeline_report::{ExitStatus, HereDocument, here_text, json_page};
use takeline_test_util::Dice;
use tempfile::TempDir;

use program::Outcome;
use random_files::RandomFiles;

/// Everything that is said of a fix.
fn said(zones: &ZoneSet, fix: &Fix, question: &Question) -> (String, String, ExitStatus) {
    let assessment = zones.assess(fix, question);
    let document = HereDocument::of(&assessment, &English);
    (here_text(&document, 60), json_page(&document).unwrap(), document.exit_status)
}

fn asked(dice: &mut Dice) -> Question {
    let species = dice.one_of(&[vec![], vec![], vec!["cod"], vec!["local 1"], vec!["codd", "local 2"]]);
    let mut question = Question::default();
    question.species = species.into_iter().map(ToOwned::to_owned).collect();
    question.circumstances.gear = dice.chance(0.2).then(|| Gear("trap".to_owned()));
    question.circumstances.access = dice.one_of(&[None, Some(Access::Boat), Some(Access::Shore)]);
    question.standoff = dice.chance(0.3).then(|| Metres::new(dice.log_between(1.0, 20_000.0)).unwrap());
    question.all_zones = dice.chance(0.05);
    question
}

fn fix(dice: &mut Dice, files: &RandomFiles) -> Fix {
    let given = |radius_m: f64| HorizontalUncertainty::given(radius_m, AccuracyKind::P95).unwrap();
    let position = files.fix(dice);
    let uncertainty = match dice.below(4) {
        0 => given(dice.log_between(0.1, 2_000.0)),
        1 => given(1.0),
        _ => HorizontalUncertainty::assumed(),
    };
    let time = dice.one_of(&[None, Some("2026-07-01T10:00:00Z"), Some("2025-12-01T10:00:00Z")]);
    Fix::new(position, uncertainty).at_time(time.map(|time| time.parse().unwrap()))
}

/// The circles of overrides in a set, by the names of their zones.
fn circles(zones: &ZoneSet) -> Vec<Vec<&str>> {
    let named =
        |circle: &Vec<usize>| circle.iter().map(|number| zones.zones()[*number].name.as_str()).collect();
    zones.override_circles().iter().map(named).collect()
}

struct Whole {
    text: String,
    index: Vec<u8>,
    zones: Vec<Zone>,
}

#[test]
fn with_an_index_or_without_the_answer_is_the_same() {
    let sets: u64 = std::env::var("TAKELINE_PREPARED").map_or(40, |count| count.parse().unwrap());
    let (mut refused, mut asked_of, mut left_out, mut in_all) = (0, 0, 0, 0);
    for seed in 0..sets {
        let mut dice = Dice::new(seed);
        let files = RandomFiles::make(&mut dice);
        let whole: Result<Vec<Whole>, _> = files
            .texts
            .iter()
            .enumerate()
            .map(|(number, text)| {
                let made = prepare(&format!("{number}.json"), text.as_bytes())?;
                Ok::<_, zone_file::LoadZonesError>(Whole {
                    text: text.clone(),
                    index: made.index,
                    zones: made.loaded.zones,
                })
            })
            .collect();
        // some rings at poles enclose nothing, and some overrides go round in a circle: such a file has no index
        let Ok(whole) = whole else {
            refused += 1;
            continue;
        };
        let all = ZoneSet::new(whole.iter().flat_map(|file| file.zones.clone()).collect());
        for _ in 0..6 {
            let (fix, question) = (fix(&mut dice, &files), asked(&mut dice));
            let prepared: Vec<FileOfZones> = whole
                .iter()
                .enumerate()
                .map(|(number, file)| {
                    if whole.len() > 1 && dice.chance(0.2) {
                        return FileOfZones::Whole(file.zones.clone());
                    }
                    let source = file.text.as_bytes();
                    let index = Index::of(&file.index, source).unwrap();
                    FileOfZones::Prepared(index.with_source(&format!("{number}.json"), source.to_vec()))
                })
                .collect();
            let found = zones_for(prepared, &fix, &question).unwrap();
            assert!(found.unfit.is_empty(), "seed {seed}: {:?}", found.unfit);
            assert_eq!(circles(&found.zones), circles(&all), "seed {seed}");
            assert_eq!(
                said(&found.zones, &fix, &question),
                said(&all, &fix, &question),
                "seed {seed}: {fix:?}"
            );
            if needs_all_zones(&question) {
                assert_eq!(found.zones.zones().len(), all.zones().len());
            }
            asked_of += 1;
            in_all += all.zones().len();
            left_out += all.zones().len() - found.zones.zones().len();
        }
    }
    println!("{asked_of} questions, {refused} of {sets} sets refused, {left_out} of {in_all} zones not read");
    assert!(refused * 3 < sets, "{refused} of {sets} sets could not be read");
    assert!(left_out * 4 > in_all, "only {left_out} of {in_all} zones were left out");
}

const NOON: [&str; 2] = ["--time", "2026-07-01T10:00:00Z"];

/// Marrowick's demo zones in a folder of their own.
fn marrowick() -> TempDir {
    let folder = TempDir::new().unwrap();
    let demo = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data/zones");
    for name in ["marrowick.json", "harbour-board.json"] {
        fs::copy(demo.join(name), folder.path().join(name)).unwrap();
    }
    folder
}

fn takeline(folder: &Path, arguments: &[&str]) -> Outcome {
    program::run(folder, None, arguments, "")
}

fn prepared(folder: &Path) -> Outcome {
    takeline(folder, &["zones", "prepare", "."])
}

fn index(folder: &Path) -> PathBuf {
    folder.join("marrowick.json.prepared")
}

#[track_caller]
fn same(one: &Outcome, other: &Outcome) {
    assert_eq!((one.status, &one.out), (other.status, &other.out));
}

#[test]
fn the_command_answers_the_same_with_every_index_there() {
    let folder = marrowick();
    let ask = |place: [&str; 2], more: &[&str]| {
        takeline(folder.path(), &[&["here", place[0], place[1], "--zones", "."], &NOON[..], more].concat())
    };
    let places = [
        ["45.1182", "-30.1217"],
        ["45.0700", "-30.0700"],
        ["45.1870", "-30.0600"],
        ["-30.12", "45.11"],
        ["0", "0"],
    ];
    let options: [&[&str]; 5] = [
        &[],
        &["--format", "json"],
        &["--species", "cod"],
        &["--species", "cod", "--gear", "trap"],
        &["--all"],
    ];
    let questions: Vec<_> =
        places.iter().flat_map(|place| options.iter().map(|more| (*place, *more))).collect();
    let before: Vec<Outcome> = questions.iter().map(|(place, more)| ask(*place, more)).collect();
    let made = prepared(folder.path());
    assert_eq!(made.status, 0, "{}", made.err);
    assert!(made.err.contains("marrowick.json.prepared: made from ") && made.out.is_empty(), "{}", made.err);
    for ((place, more), before) in questions.iter().zip(&before) {
        let after = ask(*place, more);
        same(&after, before);
        assert_eq!(after.err, before.err, "{place:?} {more:?}");
    }
}

#[test]
fn an_index_of_another_state_of_the_file_is_told_and_not_used() {
    let folder = marrowick();
    let ask = || {
        takeline(
            folder.path(),
            &[&["here", "45.1182", "-30.1217", "--zones", "marrowick.json"], &NOON[..]].concat(),
        )
    };
    assert_eq!(prepared(folder.path()).status, 0);
    let file = folder.path().join("marrowick.json");
    let text = fs::read_to_string(&file).unwrap();
    fs::write(&file, text.replace("Sallow Cove", "Willow Cove")).unwrap();
    let stale = ask();
    assert!(
        stale.err.contains("note: not used: the zone file was changed since it was made"),
        "{}",
        stale.err
    );
    assert!(
        stale.err.contains("make it again with `takeline zones prepare marrowick.json`"),
        "{}",
        stale.err
    );
    fs::remove_file(index(folder.path())).unwrap();
    let plain = ask();
    same(&stale, &plain);
    assert!(plain.out.contains("Willow Cove") && plain.err.is_empty(), "{}{}", plain.out, plain.err);
}

#[test]
fn no_index_is_written_of_a_file_with_a_fault_nor_over_somebody_elses_file() {
    let folder = marrowick();
    let file = folder.path().join("marrowick.json");
    let text = fs::read_to_string(&file).unwrap();
    fs::write(index(folder.path()), "my notes").unwrap();
    let refused = prepared(folder.path());
    assert_eq!(refused.status, 3);
    assert!(refused.err.contains("is not an index of zones, so it is not overwritten"), "{}", refused.err);
    fs::remove_file(index(folder.path())).unwrap();
    fs::write(&file, text.replace("takeline.zones/1", "takeline.zones/9")).unwrap();
    let refused = prepared(folder.path());
    assert_eq!(refused.status, 3);
    assert!(refused.err.contains("until then no zone is used"), "{}", refused.err);
    assert!(!index(folder.path()).exists());
    // a name that leads to the zone file itself
    #[cfg(unix)]
    {
        fs::write(&file, &text).unwrap();
        std::os::unix::fs::symlink("marrowick.json", index(folder.path())).unwrap();
        let refused = takeline(folder.path(), &["zones", "prepare", "marrowick.json"]);
        assert_eq!(refused.status, 2, "{}", refused.err);
        assert_eq!(fs::read_to_string(&file).unwrap(), text);
    }
}

#[test]
fn in_a_folder_an_index_is_no_zone_file_but_zones_by_its_name_are_not_passed_over() {
    let folder = marrowick();
    let ask =
        || takeline(folder.path(), &[&["here", "45.1182", "-30.1217", "--zones", "."], &NOON[..]].concat());
    let before = ask();
    assert_eq!(prepared(folder.path()).status, 0);
    for asked in [&["zones", "prepare"][..], &["here", "45.1182", "-30.1217", "--zones"]] {
        let asked = takeline(folder.path(), &[asked, &["marrowick.json.prepared"]].concat());
        assert_eq!(asked.status, 3);
        assert!(asked.err.contains("give the zone file beside it"), "{}", asked.err);
    }
    let mut bytes = fs::read(index(folder.path())).unwrap();
    bytes[0] ^= 1;
    fs::write(index(folder.path()), &bytes).unwrap();
    let damaged = ask();
    same(&damaged, &before);
    assert!(damaged.err.contains("note: not used: it is not an index that"), "{}", damaged.err);
    // as it is, and with what says that it holds zones far behind its beginning
    let zones = fs::read_to_string(folder.path().join("harbour-board.json")).unwrap();
    let late = zones.replacen('{', &format!("{{{}", " ".repeat(5_000)), 1);
    for zones in [zones, late] {
        fs::write(index(folder.path()), zones).unwrap();
        let refused = ask();
        assert_eq!(refused.status, 3);
        let told = "marrowick.json.prepared looks like a zone file and is not read";
        assert!(refused.err.contains(told), "{}", refused.err);
    }
}

const SALLOW_COVE: &str = r#"{ "type": "FeatureCollection",
  "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
  "features": [
    { "type": "Feature", "id": "sallow-cove", "geometry": { "type": "Point", "coordinates": [-30.13, 45.11] },
      "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Marrowick Order 3" } } },
    { "type": "Feature", "id": "far-bank", "geometry": { "type": "Point", "coordinates": [-33.13, 42.11] },
      "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Marrowick Order 3" } } } ] }"#;

#[test]
fn an_index_cut_short_or_with_any_byte_flipped_is_refused() {
    let index = prepare("cove.json", SALLOW_COVE.as_bytes()).unwrap().index;
    assert!(Index::of(&index, SALLOW_COVE.as_bytes()).is_ok());
    for at in 0..index.len() {
        assert!(Index::of(&index[..at], SALLOW_COVE.as_bytes()).is_err(), "cut at {at}");
        for bit in 0..8 {
            let mut flipped = index.clone();
            flipped[at] ^= 1 << bit;
            let refused = Index::of(&flipped, SALLOW_COVE.as_bytes()).unwrap_err();
            assert!(matches!(refused, Unfit::OtherForm | Unfit::Damaged), "byte {at}, bit {bit}: {refused}");
        }
    }
    assert_eq!(Index::of(&[index, vec![0]].concat(), SALLOW_COVE.as_bytes()), Err(Unfit::Damaged));
    assert_eq!(Index::of(&[], b""), Err(Unfit::OtherForm));
}

#[test]
fn a_file_that_cannot_be_read_leaves_no_other_without_its_index() {
    let folder = marrowick();
    let path = |name: &str| folder.path().join(name);
    for name in ["a.json", "c.json"] {
        fs::copy(path("marrowick.json"), path(name)).unwrap();
    }
    fs::write(path("b.json"), "{").unwrap();
    let outcome =
        takeline(folder.path(), &["zones", "prepare", "nowhere.json", "a.json", "b.json", "c.json"]);
    assert_eq!(outcome.status, 3, "{}", outcome.err);
    for told in ["nowhere.json", "b.json"] {
        assert!(outcome.err.contains(told), "{told}: {}", outcome.err);
    }
    assert!(path("a.json.prepared").exists() && path("c.json.prepared").exists(), "{}", outcome.err);
    // an index of which next to nothing was written is made anew, and `--zones` does here as elsewhere
    fs::write(path("a.json.prepared"), &fs::read(path("c.json.prepared")).unwrap()[..5]).unwrap();
    let outcome = takeline(folder.path(), &["zones", "prepare", "--zones", "a.json"]);
    assert_eq!(outcome.status, 0, "{}", outcome.err);
    assert_eq!(
        fs::read(path("a.json.prepared")).unwrap().len(),
        fs::read(path("c.json.prepared")).unwrap().len()
    );
}
