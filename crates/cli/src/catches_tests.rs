//! The catch log of the demo day, and logs that are wrong.
//!
//! The track is made here, by even speed on geodesics between way-points, one fix in ten seconds, and lies in
//! `demo-data/trips/catch-day.csv` as well. The answers were reasoned by hand from the zone files, before the first run.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};

use jiff::{SignedDuration, Timestamp};
use takeline::rule::Access;
use takeline::track::{
    CatchFinding, CatchJoin, CatchPosition, CatchSettings, Certainty, LogPlace, LoggedFix,
};
use takeline::{
    AccuracyKind, GeodesicSegment, HorizontalUncertainty, Metres, Position, TakeAnswer, Tristate, ZoneSet,
    zone_file,
};

use takeline_report::words::{English, Words};

use super::*;

fn demo(path: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data").join(path)
}

fn zones() -> ZoneSet {
    let mut zones = Vec::new();
    for name in ["zones/harbour-board.json", "zones/marrowick.json"] {
        zones.extend(zone_file::read(name, &fs::read(demo(name)).unwrap()).unwrap().zones);
    }
    ZoneSet::new(zones)
}

/// Clock (UTC, 1 July 2026), latitude and longitude. The logger is off between the two of 09:20 and 09:40.
const WAY_POINTS: [(&str, f64, f64); 19] = [
    ("05:30", 45.1170, -30.1190), // the launch beach in Sallow Cove
    ("05:40", 45.1160, -30.1600),
    ("05:45", 45.1080, -30.1760), // Lantern Reach, south of the lane
    ("06:15", 45.1075, -30.1772),
    ("06:20", 45.1130, -30.1825), // Lantern Lane
    ("06:35", 45.1128, -30.1823),
    ("07:00", 45.0720, -30.1300), // Gannet Bank, 790 m west of Petrel Ground
    ("08:00", 45.0715, -30.1310),
    ("08:05", 45.0740, -30.1150), // Gannet Bank and Petrel Ground
    ("08:20", 45.0738, -30.1152),
    ("08:35", 45.0425, -30.1175), // Plover Sound
    ("08:50", 45.0424, -30.1177),
    ("09:05", 45.0425, -30.0575), // Launce Flats
    ("09:20", 45.0424, -30.0577),
    ("09:40", 45.0560, -30.0850), // no zone
    ("10:00", 45.0562, -30.0853),
    ("10:30", 45.1050, -30.1500),
    ("10:40", 45.1168, -30.1400), // over the southern line of Sallow Cove Reserve
    ("10:50", 45.1170, -30.1190), // the launch beach
];
const OFF_FROM: &str = "09:20";

fn clock(text: &str) -> Timestamp {
    format!("2026-07-01T{text}:00Z").parse().unwrap()
}

fn day() -> Vec<LoggedFix> {
    let mut fixes = Vec::new();
    for pair in WAY_POINTS.windows(2) {
        let [(from_clock, ..), (to_clock, ..)] = [pair[0], pair[1]];
        let place =
            |(_, lat_deg, lon_deg): (&str, f64, f64)| Position::from_degrees(lat_deg, lon_deg).unwrap();
        let line = GeodesicSegment::between(place(pair[0]), place(pair[1]));
        let (from, to) = (clock(from_clock), clock(to_clock));
        let span_s = to.duration_since(from).as_secs();
        let step_s = if from_clock == OFF_FROM { span_s } else { 10 };
        for passed_s in (0..span_s).step_by(usize::try_from(step_s).unwrap()) {
            #[expect(clippy::cast_precision_loss, reason = "some thousands of seconds")]
            let way_m = line.length().metres() * passed_s as f64 / span_s as f64;
            let position =
                GeodesicSegment::leaving(line.from(), line.initial_bearing(), Metres::new(way_m).unwrap())
                    .unwrap()
                    .to();
            fixes.push((position, from + SignedDuration::from_secs(passed_s)));
        }
    }
    let (_, lat_deg, lon_deg) = WAY_POINTS[WAY_POINTS.len() - 1];
    fixes.push((Position::from_degrees(lat_deg, lon_deg).unwrap(), clock("10:50")));
    let logged = |(position, time)| LoggedFix {
        position,
        time: Some(time),
        uncertainty: HorizontalUncertainty::given(5.0, AccuracyKind::P68).ok(),
        hdop: None,
        speed_m_per_s: None,
        time_between: None,
        jump_kn: None,
        place: LogPlace::default(),
    };
    fixes.into_iter().map(logged).collect()
}

fn day_as_csv() -> String {
    let mut csv = "lat,lon,time,accuracy_m\n".to_owned();
    for fix in day() {
        let (lat_deg, lon_deg) = (fix.position.latitude().degrees(), fix.position.longitude().degrees());
        writeln!(csv, "{lat_deg:.6},{lon_deg:.6},{},5", fix.time.unwrap()).unwrap();
    }
    csv
}

#[test]
fn the_track_of_the_day_lies_in_the_demo_data() {
    if std::env::var_os("UPDATE_TRIPS").is_some() {
        fs::write(demo("trips/catch-day.csv"), day_as_csv()).unwrap();
    }
    let file = fs::read_to_string(demo("trips/catch-day.csv")).unwrap();
    assert!(file == day_as_csv(), "run this test with UPDATE_TRIPS=1 to write it anew");
}

fn findings(log: &str) -> Vec<CatchFinding> {
    let log = read_catches(log.as_bytes()).unwrap();
    assert_eq!(log.faults, []);
    let zones = zones();
    let settings = CatchSettings { access: Some(Access::Boat), ..CatchSettings::default() };
    let mut join = CatchJoin::new(&zones, log.entries, settings);
    for fix in day() {
        join.push(&fix);
    }
    join.finish()
}

/// Line, name, answer, and words that one of the reasons or of what would settle it has.
const EXPECTED: [(u64, &str, TakeAnswer, &str); 17] = [
    // clause 5(3): bait fish by hand net, 8 cm and more, 40 a person and day: 30 of 40
    (2, "sprat", TakeAnswer::Keep, "hand net is allowed gear"),
    // the sand eel is a bait fish too: fish 31 to 45 of the skipper's 40
    (
        3,
        "sand eel",
        TakeAnswer::Release,
        "takes skipper to 45; at most 40 per person per day in Lantern Reach",
    ),
    // the order takes the herring out of its bait fish
    (4, "herring", TakeAnswer::Release, "may not be taken here: only bait fish, squid"),
    // young sprat, which may be kept, or young herring, which may not
    (5, "whitebait", TakeAnswer::Undecided, "say which"),
    (6, "sprta", TakeAnswer::Undecided, "sprat"),
    // clause 6(2) displaces the rule of Lantern Reach in the lane; anything but herring and lobster. But it was kept and carried
    // south through the reach, where only what may be taken there may be aboard
    (7, "mackerel", TakeAnswer::Release, "carried into Lantern Reach"),
    // 20 cm with a limit of 20 cm, fork length, and 3 mm of doubt
    (8, "mackerel", TakeAnswer::Undecided, "20 cm is so near a limit"),
    // with the mackerel before it the skipper's 2nd to 10th of 10
    (9, "pollack", TakeAnswer::Keep, "may be taken here"),
    (
        10,
        "mackerel",
        TakeAnswer::Release,
        "to 11; at most 10 per person per day in Gannet Bank (clause 10(1))",
    ),
    // the crew's first, and it was released though it need not have been
    (11, "mackerel", TakeAnswer::Keep, "may be taken here"),
    // Petrel Ground lists bass, Gannet Bank does not, and both bind
    (12, "bass", TakeAnswer::Release, "Gannet Bank"),
    // Petrel Ground allows a trap, Gannet Bank does not
    (13, "mackerel", TakeAnswer::Release, "trap is not allowed; the rule allows hook and line, hand net"),
    (14, "pollack", TakeAnswer::Release, "gill net is forbidden"),
    // launce is another name of the sand eel
    (15, "bass", TakeAnswer::Release, "launce breaks the bait rule"),
    // the logger was off
    (16, "mackerel", TakeAnswer::Undecided, "no position at that time: nothing was logged for 20 min"),
    (17, "cod", TakeAnswer::Unzoned, "no loaded zone applies here"),
    // clause 5(4); no time, but the rule has no season
    (18, "squid", TakeAnswer::Keep, "hook and line is allowed gear"),
];

#[test]
fn each_row_of_the_demo_log_gets_the_answer_reasoned_by_hand() {
    let found = findings(&fs::read_to_string(demo("trips/catches.csv")).unwrap());
    assert_eq!(found.len(), EXPECTED.len());
    for (finding, (row, asked, answer, words)) in found.iter().zip(EXPECTED) {
        assert_eq!((finding.entry.row, finding.entry.asked.as_str()), (row, asked));
        let because = finding.because.iter().map(|reason| English.track_reason(reason));
        let settle = finding.settle.iter().map(|remedy| English.track_remedy(remedy));
        let said: Vec<String> = because.chain(settle).collect();
        assert_eq!(finding.answer, answer, "row {row}: {said:?}");
        assert!(said.iter().any(|text| text.contains(words)), "row {row}: {said:?}");
    }
}

#[test]
fn the_positions_of_the_demo_log_are_said_to_be_what_they_are() {
    let found = findings(&fs::read_to_string(demo("trips/catches.csv")).unwrap());
    let how = |finding: &CatchFinding| match finding.position {
        CatchPosition::Given(_) => "given",
        CatchPosition::Fix(_) => "fix",
        CatchPosition::Between { .. } => "between",
        CatchPosition::Contradicted { .. } => "contradicted",
        CatchPosition::Unknown { .. } => "unknown",
        _ => "other",
    };
    let ways: Vec<&str> = found.iter().map(how).collect();
    let of = |way: &str| ways.iter().filter(|one| **one == way).count();
    assert_eq!((of("given"), of("fix"), of("between"), of("unknown")), (1, 7, 8, 1), "{ways:?}");
    // 05:50:05 lies half-way between two fixes of a slow drift: 5/30 of it from 05:45
    let drift = found[0].position.position().unwrap();
    assert!((drift.latitude().degrees() - (45.1080 - 0.0005 * 305.0 / 1800.0)).abs() < 1e-6);
}

#[test]
fn kept_fish_is_followed_to_the_beach() {
    let found = findings(&fs::read_to_string(demo("trips/catches.csv")).unwrap());
    for finding in &found {
        let to_the_beach = finding.carried.iter().find(|carried| carried.zone.0 == "sallow-cove");
        assert_eq!(to_the_beach.is_some(), finding.entry.kept == Some(true), "row {}", finding.entry.row);
        let Some(carried) = to_the_beach else { continue };
        if finding.entry.time.is_none() {
            // nothing says whether the boat had been through before it was caught
            assert_eq!((carried.allowed, carried.certainty), (Tristate::Yes, Certainty::Possible));
            continue;
        }
        // clause 4 lets fish be aboard while crossing: conditions, no ban
        assert_eq!((carried.allowed, carried.certainty), (Tristate::Yes, Certainty::Certain));
        assert!(
            carried.conditions.iter().any(|one| English.condition(one).contains("rods unstrung")),
            "{carried:?}"
        );
        // the southern line, 45.11 N, lies 5/11.8 of the way from 10:30 to 10:40; well inside a few seconds later
        let entered = carried.entered.unwrap();
        let late_s = entered.duration_since(clock("10:34")).as_secs();
        assert!((10..=40).contains(&late_s), "{entered}");
    }
    // the mackerel of the lane may not be aboard in the reach, which the boat goes through on its way south
    let lane = &found[5];
    let through = lane.carried.iter().find(|carried| carried.zone.0 == "lantern-reach").unwrap();
    assert_eq!((through.allowed, through.certainty), (Tristate::No, Certainty::Certain), "{through:?}");
    // the sprats of the reach were caught there, and what may be taken there may be aboard there
    assert!(found[0].carried.iter().all(|carried| carried.zone.0 != "lantern-reach"));
    // beside the mackerel: the fish of an unknown name, perhaps carried through Fulmar Bight while the logger was off, and the
    // squid without a time, perhaps aboard in both zones that the boat went through
    let twice: Vec<u64> = found.iter().filter(|one| one.carried.len() > 1).map(|one| one.entry.row).collect();
    assert_eq!(twice, [6, 7, 18]);
}

#[test]
fn bad_rows_are_told_with_their_line_and_the_rest_is_used() {
    let log = "Fish,TIME,kept,count,length_cm,lat,lon,weather\n\
               sprat,2026-07-01T06:00:00Z,yes,2,10,,,fair\n\
               ,2026-07-01T06:00:00Z,yes,,,,,\n\
               sprat,6 o'clock,yes,,,,,\n\
               sprat,2026-07-01T06:00:00Z,perhaps,,,,,\n\
               sprat,2026-07-01T06:00:00Z,,0,,,,\n\
               sprat,2026-07-01T06:00:00Z,,,\"20,5\",,,\n\
               sprat,2026-07-01T06:00:00Z,,,,45.1,,\n\
               sprat,2026-07-01T06:00:00Z,,,,95.1,-30.1,\n\
               sprat,,released,,,45.1,-30.1\n\
               sprat,,,,,,\n";
    let log = read_catches(log.as_bytes()).unwrap();
    assert_eq!(log.ignored_columns, ["weather"]);
    let rows: Vec<u64> = log.entries.iter().map(|entry| entry.row).collect();
    assert_eq!(rows, [2, 10, 11]);
    let lines: Vec<u64> = log.faults.iter().map(|fault| fault.line).collect();
    assert_eq!(lines, [3, 4, 5, 6, 7, 8, 9]);
    let words = [
        "name of the fish",
        "offset from UTC",
        "yes, no or released",
        "is not a catch",
        "as in 40.5",
        "lon is missing",
    ];
    for (fault, words) in log.faults.iter().zip(words) {
        assert!(fault.text.contains(words), "{fault:?}");
    }
    assert_eq!(log.warnings.len(), 1);
    assert_eq!((log.entries[1].kept, log.entries[1].count), (Some(false), 1));
}

#[test]
fn a_log_without_a_column_of_names_is_refused() {
    for (log, words) in [
        ("", "is empty"),
        ("time;species\n", "separated from the others by commas"),
        ("time,lat,lon\n", "needs a column species"),
        ("species,fish\n", "two columns for species or fish or name"),
        ("species,lat\n", "one of the columns lat and lon"),
    ] {
        let why = read_catches(log.as_bytes()).unwrap_err();
        assert!(why.contains(words), "{log}: {why}");
    }
}

/// A position of a row counts as good to 10 m (95 %). Of a circular normal error 95 % lie within 2.4477 σ, the root mean square is
/// √2 σ, and 68 % lie within 1.5096 σ: 6 m of root mean square are 10.4 m, 6 m at 68 % are 9.7 m.
#[test]
fn the_heading_of_an_accuracy_says_of_what_kind_it_is() {
    let faults = |heading: &str, metres: &str| {
        let log = format!("lat,lon,species,kept,{heading}\n45.1170,-30.1190,sprat,yes,{metres}\n");
        read_catches(log.as_bytes()).unwrap().faults.len()
    };
    for (heading, good, bad) in [
        ("accuracy_m", "6", "6.5"),
        ("hacc_68", "6", "6.5"),
        ("hacc_95", "9.9", "10.1"),
        ("hacc_rms", "5.7", "6"),
    ] {
        assert_eq!(faults(heading, good), 0, "{heading} {good}");
        assert_eq!(faults(heading, bad), 1, "{heading} {bad}");
    }
}
