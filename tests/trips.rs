//! The demo trips, read from their files and audited against the demo zones.
//!
//! Every expected number is reasoned by hand beside the assertion, from the distances and speeds that
//! `demo-data/trips/make_trips.py` was given, never from what the engine says. Lengths of arcs that are not given are
//! from the closed form of the radius of a parallel (WGS 84: a = 6 378 137 m, e² = 0.006 694 38) or from Karney's
//! geographiclib 2.x for Python, which is no part of the project. 1 kn = 1852/3600 m/s.
//!
//! Tolerances: 1 s for times and 1 m for depths. Positions in the files are rounded to 1e-7° (1 cm), times to 1 ms, and
//! a fix stands at each turn, so these are wide.

#![expect(
    clippy::unwrap_used,
    clippy::panic,
    clippy::wildcard_enum_match_arm,
    clippy::format_push_string,
    reason = "a test may stop at the first surprise"
)]

use std::fs;
use std::io::Write as _;
use std::path::Path;

use flate2::{Compression, write::GzEncoder};
use jiff::Timestamp;
use takeline::rule::Condition;
use takeline::track::{
    Audit, Auditor, Certainty, Direction, Evidence, LoggedFix, Motion, Suspicion, TrackSettings, Visit,
};
use takeline::zone::{Extent, ZoneSet};
use takeline::{AccuracyKind, Tristate, zone_file};
use takeline_formats::{LogFormat, LogItem, ReadOptions, TrackReader};

const TRIPS: [&str; 8] =
    ["launch-and-cross", "bait-stop", "drift-over", "gap", "cold-start", "wander", "day-out", "over-land"];
const KNOT: f64 = 1852.0 / 3600.0;
/// The most that the boat can have been off the straight way between two fixes 5 s apart, at the 12 kn that are assumed.
const STRAY_M: f64 = 12.0 * KNOT * 5.0 / 2.0;

fn demo(name: &str) -> Vec<u8> {
    fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data").join(name)).unwrap()
}

fn demo_zones() -> ZoneSet {
    let files = ["zones/marrowick.json", "zones/harbour-board.json", "zones/shore-waters.json"];
    ZoneSet::new(files.iter().flat_map(|name| zone_file::read(name, &demo(name)).unwrap().zones).collect())
}

fn gpx(trip: &str) -> Vec<u8> {
    demo(&format!("trips/{trip}.gpx"))
}

/// The fixes of a log that has nothing to be noted.
fn fixes(name: &str, log: &[u8], format: LogFormat) -> Vec<LoggedFix> {
    let options = ReadOptions::default().accuracy_kind(AccuracyKind::P95);
    let reader = TrackReader::open_with(name, log, options).unwrap();
    assert_eq!(reader.format(), format);
    reader
        .map(|item| match item.unwrap() {
            LogItem::Fix(fix) => fix,
            other => panic!("{name}: {other:?}"),
        })
        .collect()
}

fn audit_of(zones: &ZoneSet, fixes: &[LoggedFix], settings: TrackSettings) -> Audit {
    let mut auditor = Auditor::new(zones, settings);
    for fix in fixes {
        let _events = auditor.push(*fix);
    }
    auditor.finish()
}

fn audited_with(trip: &str, settings: TrackSettings) -> Audit {
    audit_of(&demo_zones(), &fixes(trip, &gpx(trip), LogFormat::Gpx), settings)
}

fn audited(trip: &str) -> Audit {
    audited_with(trip, TrackSettings::default())
}

fn zones_of(audit: &Audit) -> Vec<&str> {
    audit.visits.iter().map(|visit| visit.zone.0.as_str()).collect()
}

/// Seconds from the first fix of the log.
fn seconds_in(audit: &Audit, time: Option<Timestamp>) -> f64 {
    time.unwrap().duration_since(audit.quality.first_time.unwrap()).as_secs_f64()
}

#[track_caller]
fn near(what: &str, found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, not {expected} ± {tolerance}");
}

/// Entered and left, certain and possible, in seconds, and the depth in metres.
struct Expected {
    entered_s: f64,
    left_s: f64,
    certain_s: f64,
    /// By the straight ways between fixes.
    possible_s: f64,
    /// How much more at most by what could be reached off them.
    stray_s: f64,
    deepest_m: f64,
}

#[track_caller]
fn check(audit: &Audit, visit: &Visit, expected: &Expected) {
    near("entered", seconds_in(audit, visit.entered().time), expected.entered_s, 1.0);
    near("left", seconds_in(audit, visit.left().time), expected.left_s, 1.0);
    near("certain", visit.certain_s.unwrap(), expected.certain_s, 1.0);
    let (least_s, possible_s) = (expected.possible_s - 1.0, visit.possible_s.unwrap());
    let most_s = expected.possible_s + expected.stray_s + 1.0;
    assert!((least_s..=most_s).contains(&possible_s), "possible: {possible_s}, not {least_s} to {most_s}");
    near("deepest", visit.deepest.unwrap().metres(), expected.deepest_m, 1.0);
}

/// The conditions and what was found of each: the words of the zone file where it has any, else the code.
fn conditions(visit: &Visit) -> Vec<(&str, Tristate)> {
    fn name(condition: &Condition) -> &str {
        match condition {
            Condition::GearState { words: text } | Condition::Law { text } => text,
            other => other.code(),
        }
    }
    visit.conditions.iter().map(|finding| (name(&finding.condition), finding.met)).collect()
}

const SALLOW_GEAR: &str = "rods unstrung, hooks off the line, and all of it below the gunwale";
const SALLOW_BEACH: &str = "launching from and landing on the beach count as crossing";

#[test]
fn launch_and_cross_is_two_steady_crossings_with_the_gear_undecided() {
    let found = audited("launch-and-cross");
    assert_eq!(zones_of(&found), ["sallow-cove", "sallow-cove"]);
    // the beach, 30.119 W, lies 0.031° east of the western side: 2439.3 m along the parallel of 45.117°
    let way_m = 2439.3;
    let v = 2.6 * KNOT;
    // the northern and southern sides lie 0.007° of latitude off, 777.9 m of meridian (geographiclib); the others are
    // farther from the middle of the way
    let out = Expected {
        entered_s: 0.0,
        left_s: way_m / v,
        // fixes are good to 5 m, and the beach is 157 m from the nearest side
        certain_s: (way_m - 5.0) / v,
        possible_s: (way_m + 5.0) / v,
        stray_s: STRAY_M / v,
        deepest_m: 777.9,
    };
    check(&found, &found.visits[0], &out);
    // 3000 m out, 30 min of drift at 0.6 kn, the same 555.6 m back up, and 560.7 m to the line
    let entered_s = 3000.0 / v + 1800.0 + (555.6 + 3000.0 - way_m) / v;
    let home = Expected { entered_s, left_s: entered_s + way_m / v, ..out };
    check(&found, &found.visits[1], &home);
    for visit in &found.visits {
        assert_eq!((visit.certainty, visit.evidence), (Certainty::Certain, Evidence::Fixes));
        assert_eq!(visit.crossings.len(), 1);
        assert_eq!(visit.in_force, Tristate::Yes);
        let told = [
            ("max-stop", Tristate::Yes),
            ("keep-going", Tristate::Yes),
            (SALLOW_GEAR, Tristate::Undecided),
            (SALLOW_BEACH, Tristate::Undecided),
        ];
        assert_eq!(conditions(visit), told);
        let speeds = visit.speeds.unwrap();
        // rounding to 1e-7° puts up to 2 cm on 13 m of way, 0.2 %
        near("slowest", speeds.min_kn, 2.6, 0.01);
        near("mean", speeds.mean_kn, 2.6, 0.01);
        near("fastest", speeds.max_kn, 2.6, 0.01);
        assert!(visit.stops.is_empty());
        // 1827.4 s are 30.5 min
        let [Motion::Steady { speed_kn, duration_s }] = visit.movement[..] else {
            panic!("{:?}", visit.movement)
        };
        near("speed", speed_kn, 2.6, 0.05);
        near("steady for", duration_s, 1_800.0, 30.0);
    }
    let directions: Vec<_> = found.crossings.iter().map(|crossing| crossing.direction).collect();
    assert_eq!(directions, [Direction::Out, Direction::In]);
    near("path", found.path.metres(), 2.0 * (3000.0 + 555.6), 1.0);
    assert_eq!((found.quality.fixes, found.quality.gap_count, found.quality.counts), (1345, 0, [0; 7]));
}

#[test]
fn bait_stop_shows_14_min_under_1_kn_in_lantern_reach() {
    let found = audited("bait-stop");
    assert_eq!(zones_of(&found), ["lantern-reach", "sallow-cove"]);
    let v = 3.0 * KNOT;
    let entered_s = 800.0 / v;
    // the file gives no accuracy: 10 m at 95 % are assumed
    let bait = Expected {
        entered_s,
        left_s: entered_s + 400.0 / v + 840.0,
        certain_s: 2.0 * 190.0 / v + 840.0,
        possible_s: 2.0 * 210.0 / v + 840.0,
        stray_s: 2.0 * STRAY_M / v,
        // 200 m beyond the eastern side, farther from all others; the drift runs along the meridian
        deepest_m: 200.0,
    };
    let visit = &found.visits[0];
    check(&found, visit, &bait);
    assert_eq!((visit.certainty, visit.evidence), (Certainty::Certain, Evidence::Fixes));
    assert_eq!((visit.crossings.as_slice(), visit.in_force), ([0, 1].as_slice(), Tristate::Yes));
    assert_eq!(conditions(visit), [("lines inboard and bare", Tristate::Undecided)]);
    assert!(visit.stops.is_empty(), "0.8 kn is no stop");
    let slow_s = visit.movement.iter().find_map(|motion| match motion {
        Motion::Slow { duration_s, .. } => Some(*duration_s),
        _ => None,
    });
    near("slow for", slow_s.unwrap(), 840.0, 30.0);

    // 1600 m east and 174.1 m more to the western side of the reserve (geographiclib), then 2506.9 m to the beach
    let entered_s = bait.left_s - 200.0 / v + (1600.0 + 174.1) / v;
    // it comes at 93.2° and goes on at 76.6°: 10 m of doubt are 10.0 m and 10.3 m of way
    let home = Expected {
        entered_s,
        left_s: entered_s + 2506.9 / v,
        certain_s: (2506.9 - 10.3) / v,
        possible_s: (2506.9 + 10.0) / v,
        stray_s: STRAY_M / v,
        // the southern side, 45.1100 N, falls away from 200.0 m while the rock of the cove's shore at 45.1108 N 30.1303 W comes up:
        // both are 500 m off at 45.1145 N 30.1339 W, 1301 m along the way (geographiclib); later the shore is nearer
        deepest_m: 500.0,
    };
    check(&found, &found.visits[1], &home);
}

#[test]
fn drift_over_is_30_m_deep_and_certain_for_98_s() {
    let found = audited("drift-over");
    assert_eq!(zones_of(&found), ["nursery-bank"]);
    let visit = &found.visits[0];
    // from 420 m off: 10 min at 0.5 kn and 10 min at 0.7 kn are 370.4 m; then 0.6 kn in, and 2.8 kn out
    let gone_m = 600.0 * (0.5 + 0.7) * KNOT;
    let (in_v, out_v) = (0.6 * KNOT, 2.8 * KNOT);
    let turned_s = 1200.0 + (420.0 - gone_m + 30.0) / in_v;
    let drift = Expected {
        entered_s: 1200.0 + (420.0 - gone_m) / in_v,
        left_s: turned_s + 30.0 / out_v,
        // fixes are good to 5 m: 25 m and 35 m of the 30 m way in, and of the way out
        certain_s: 25.0 / in_v + 25.0 / out_v,
        possible_s: 35.0 / in_v + 35.0 / out_v,
        stray_s: STRAY_M / in_v + STRAY_M / out_v,
        deepest_m: 30.0,
    };
    check(&found, visit, &drift);
    near("certain", visit.certain_s.unwrap(), 98.4, 1.0);
    near("doubt of the depth", visit.deepest_uncertainty_95.metres(), 5.0, 0.01);
    near("path", visit.path.metres(), 70.0, 1.0);
    assert_eq!((visit.certainty, visit.evidence), (Certainty::Certain, Evidence::Fixes));
    assert_eq!(visit.crossings, [0, 1]);
    // closed from 1 May to 31 August, and this is 4 July
    assert_eq!(visit.in_force, Tristate::Yes);
    // the crossing itself is forbidden there, so there is no condition to be met
    assert!(visit.conditions.is_empty(), "{:?}", visit.conditions);
    for crossing in &found.crossings {
        near("crossing", crossing.at.position.longitude().degrees(), -30.165, 1e-8);
    }
}

#[test]
fn gap_is_a_possible_visit_only_if_the_boat_was_fast_enough() {
    let found = audited("gap");
    let v = 3.0 * KNOT;
    assert_eq!(found.quality.gap_count, 1);
    let gap = &found.quality.gaps[0];
    near("gap", gap.seconds.unwrap(), 360.0, 0.002);
    // 360 s at 3 kn
    near("way", gap.metres.metres(), 555.6, 0.05);
    // 12 kn are assumed: 2222.4 m of way, so half axes of 1111.2 m and √(1111.2² − 277.8²) = 1075.9 m
    let half_minor_m = (1111.2_f64 * 1111.2 - 277.8 * 277.8).sqrt();
    near("reach", gap.reach(&found.settings).unwrap().metres(), half_minor_m, 0.5);

    assert_eq!(zones_of(&found), ["gannet-bank"]);
    let visit = &found.visits[0];
    // straight to the line and straight back from it, 250 m each, and the rest inside: 2222.4 m of way leave more than
    // the 555.6 m between the two places on the line
    let straight_s = 250.0 / (12.0 * KNOT);
    let before_s = 1500.0 / v - 180.0;
    let unlogged = Expected {
        entered_s: before_s + straight_s,
        left_s: before_s + 360.0 - straight_s,
        certain_s: 0.0,
        possible_s: 360.0 - 2.0 * straight_s,
        stray_s: 0.0,
        deepest_m: half_minor_m - 250.0,
    };
    check(&found, visit, &unlogged);
    assert_eq!((visit.certainty, visit.evidence), (Certainty::Possible, Evidence::Gap));
    assert!(visit.crossings.is_empty() && found.crossings.is_empty());

    // at 3.5 kn: √((180·3.5 kn)² − 277.8²) = √(324.1² − 277.8²) = 167 m, so the zone stays out of reach
    let slow = audited_with("gap", TrackSettings::default().with_top_speed_kn(3.5).unwrap());
    assert!(slow.visits.is_empty(), "{:?}", slow.visits);
    assert_eq!(slow.quality.gap_count, 1);
    let nearest = &slow.closest_approaches[0];
    assert_eq!(nearest.zone.0, "gannet-bank");
    // the zone's meridian and the boat's geodesic run 250 m apart within 0.1 m, its doubt is the assumed 10 m
    near("closest", nearest.signed_distance.metres(), 250.0, 1.0);
    near("its doubt", nearest.uncertainty_95.metres(), 10.0, 0.01);
}

#[test]
fn cold_start_leaves_the_first_fix_out_of_what_is_certain_and_says_so() {
    let zones = demo_zones();
    let logged = fixes("cold-start", &gpx("cold-start"), LogFormat::Gpx);
    let inside: Vec<_> = zones
        .zones()
        .iter()
        .filter(|zone| {
            let Extent::Known(area) = &zone.extent else { return false };
            area.locate(logged[0].position).signed_distance.metres() < -100.0
        })
        .map(|zone| zone.id.0.as_str())
        .collect();
    assert_eq!(inside, ["nursery-bank"], "the first fix is deep inside, and would be a certain visit");

    let found = audit_of(&zones, &logged, TrackSettings::default());
    assert!(found.crossings.is_empty());
    // nobody knows that the boat was not there: one moment, possible and never certain
    assert_eq!(zones_of(&found), ["nursery-bank"]);
    let visit = &found.visits[0];
    assert_eq!(
        (visit.certainty, visit.is_suspect, visit.binds),
        (Certainty::Possible, true, Tristate::Undecided)
    );
    assert_eq!((visit.entered(), visit.possible_s), (visit.left(), Some(0.0)));
    assert_eq!(found.quality.counts, [0, 0, 0, 1, 0, 0, 0]);
    let suspect = &found.quality.suspects[0];
    assert_eq!((suspect.suspicion, suspect.fix), (Suspicion::ColdStart, logged[0]));
    // 3000 m at 345°, and the second fix 7.7 m at 270°, an angle of 75°: 2998 m; less two doubts of 10 m; in 5 s
    near("needed", suspect.needed_kn.unwrap(), (2998.0 - 20.0) / 5.0 / KNOT, 1.0);
    // the believed part of the trip: out 1500 m and back, less the 5 s to the second fix
    near("path", found.path.metres(), 3000.0 - 5.0 * 3.0 * KNOT, 1.0);
    // the north-eastern corner of Board Roads, 45.127 N 30.190 W: 0.03° of the parallel less 1500 m are 860.0 m, and
    // 0.004° of the meridian are 444.5 m
    let board = &found.closest_approaches[0];
    assert_eq!(board.zone.0, "board-roads");
    near("closest", board.signed_distance.metres(), 860.0_f64.hypot(444.5), 1.0);
    // the northern side of Lantern Reach, 45.122 N: 0.009° of the meridian are 1000.2 m; the way sags 0.2 m
    let lantern = &found.closest_approaches[1];
    assert_eq!(lantern.zone.0, "lantern-reach");
    near("closest", lantern.signed_distance.metres(), 1000.2, 1.0);
    assert_eq!(found.quality.gap_count, 0);
}

#[test]
fn wander_is_one_possible_visit_of_half_an_hour() {
    let found = audited("wander");
    assert_eq!(zones_of(&found), ["sallow-cove"]);
    let visit = &found.visits[0];
    assert_eq!((visit.certainty, visit.evidence), (Certainty::Possible, Evidence::Fixes));
    // the distance to the line is 8 m − 14 m · sin(2πt / 450 s): within 10 m of doubt where the sine is above −1/7,
    // 54.6 % of eight whole swings; and never more than 22 m off, so that between any two fixes it can have been in
    let share = 0.5 + (1.0_f64 / 7.0).asin() / std::f64::consts::PI;
    let possible_s = visit.possible_s.unwrap();
    assert!(possible_s > 3600.0 * share - 1.0 && possible_s < 3600.0, "{possible_s}");
    assert!(visit.certain_s.unwrap().abs() < f64::EPSILON);
    near("deepest", visit.deepest.unwrap().metres(), 6.0, 0.1);
    near("doubt of the depth", visit.deepest_uncertainty_95.metres(), 10.0, 0.01);
    // over the line and back once in each swing
    assert_eq!((visit.crossings.len(), found.crossings.len()), (16, 16));
    // first over it where the sine is 4/7, last back in the eighth swing where it falls to 4/7
    let quarter_s = (4.0_f64 / 7.0).asin() / std::f64::consts::TAU * 450.0;
    near("entered", seconds_in(&found, visit.entered().time), quarter_s, 1.0);
    near("left", seconds_in(&found, visit.left().time), 7.0 * 450.0 + 225.0 - quarter_s, 1.0);
    // at most 14·2π/450 and 4·2π/190 m/s at once, 0.46 kn: stopped all the time
    assert_eq!(conditions(visit)[1], ("keep-going", Tristate::Undecided));
    assert_eq!((found.quality.gap_count, found.quality.counts), (0, [0; 7]));
}

#[test]
fn day_out_is_out_with_bait_beyond_the_pier_a_drift_over_the_line_and_home() {
    let found = audited("day-out");
    assert_eq!(zones_of(&found), ["sallow-cove", "pier-ground", "sallow-cove", "sallow-cove"]);
    // all lengths that are not in the script are from geographiclib; fixes are good to 5 m and 10 s apart
    let (v, drift_v) = (3.0 * KNOT, 0.4 * KNOT);
    let stray_m = 2.0 * STRAY_M;
    // 1650.0 m west and 777.9 m south to the southern side. It begins 2.4 m from the water's edge, which no boat crosses
    let out_m = 1650.0 + 777.9;
    let out = Expected {
        entered_s: 0.0,
        left_s: out_m / v,
        certain_s: (out_m - 5.0) / v,
        possible_s: (out_m + 5.0) / v,
        stray_s: stray_m / v,
        // the southern side, as long as that is straight, from the meridian of Withy Point to that of the turn
        deepest_m: 777.9,
    };
    check(&found, &found.visits[0], &out);
    // from the turn 1500.3 m south, 1255.2 m east to the meridian of the pier's head, at 96.4°, 249.5 m more to the bait; 15 min of
    // drift; and 261.9 m out at 288.8°
    let entered_s = (1650.0 + 1500.3 + 1255.2) / v;
    let bait = Expected {
        entered_s,
        left_s: entered_s + (249.5 + 261.9) / v + 900.0,
        certain_s: (249.5 - 5.0 + 261.9 - 5.3) / v + 900.0,
        possible_s: (249.5 + 5.0 + 261.9 + 5.3) / v + 900.0,
        stray_s: 2.0 * stray_m / v,
        // half of the 468.3 m from its western to its eastern side
        deepest_m: 234.2,
    };
    check(&found, &found.visits[1], &bait);
    // it left the bait at the end of a way of 1579.8 m, then 1045.0 m and 889.1 m; ten minutes at 0.4 kn along the side, 62.9 m off;
    // over it, 30 m in, and out again
    let turned_s = (1650.0 + 1500.3 + 1504.7 + 1579.8 + 1045.0 + 889.1) / v + 900.0 + 600.0;
    let (to_line_s, out_v) = (62.95 / drift_v, 2.8 * KNOT);
    let over = Expected {
        entered_s: turned_s + to_line_s,
        left_s: turned_s + to_line_s + 30.0 / drift_v + 30.0 / out_v,
        certain_s: 25.0 / drift_v + 25.0 / out_v,
        possible_s: 35.0 / drift_v + 35.0 / out_v,
        stray_s: stray_m / drift_v + stray_m / out_v,
        deepest_m: 30.0,
    };
    check(&found, &found.visits[2], &over);
    // 60 m off it stows for ten minutes and is set 30.9 m; 90.9 m to the line and 2596.1 m to the beach, at 87.9°
    let home_s = turned_s + to_line_s + 30.0 / drift_v + 90.0 / out_v + 600.0;
    let home = Expected {
        entered_s: home_s + 90.9 / v,
        left_s: home_s + (90.9 + 2596.1) / v,
        certain_s: (2596.1 - 5.0) / v,
        possible_s: (2596.1 + 5.0) / v,
        stray_s: stray_m / v,
        // at 45.11654 N 30.1348 W the southern side is 727 m off, and so is the rock of the shore at 45.1108 N 30.1303 W
        deepest_m: 727.0,
    };
    check(&found, &found.visits[3], &home);
    for visit in &found.visits {
        assert_eq!((visit.certainty, visit.evidence), (Certainty::Certain, Evidence::Fixes));
    }
    // a drift in and out over one side goes from no side to another
    let kept = |visit: usize| {
        let found = found.visits[visit].conditions.iter().find(|one| one.condition == Condition::KeepGoing);
        found.map(|found| found.met)
    };
    assert_eq!([0, 2, 3].map(kept), [Tristate::Yes, Tristate::Undecided, Tristate::Yes].map(Some));
    // none of them on the beach
    let directions: Vec<_> = found.crossings.iter().map(|crossing| crossing.direction).collect();
    let (inward, outward) = (Direction::In, Direction::Out);
    assert_eq!(directions, [outward, inward, outward, inward, outward, inward]);
    assert_eq!((found.quality.gap_count, found.quality.counts), (0, [0; 7]));
}

/// The same fixes as a table.
fn as_csv(fixes: &[LoggedFix]) -> Vec<u8> {
    let mut table = String::from("lat,lon,time,accuracy_m\n");
    for fix in fixes {
        let (lat, lon) = (fix.position.latitude().degrees(), fix.position.longitude().degrees());
        let accuracy = fix.uncertainty.map_or(String::new(), |own| own.radius_95().metres().to_string());
        table.push_str(&format!("{lat:.7},{lon:.7},{},{accuracy}\n", fix.time.unwrap()));
    }
    table.into_bytes()
}

fn gzipped(bytes: &[u8]) -> Vec<u8> {
    let mut packed = GzEncoder::new(Vec::new(), Compression::default());
    packed.write_all(bytes).unwrap();
    packed.finish().unwrap()
}

#[test]
fn the_same_trip_as_csv_and_packed_gives_the_same_visits() {
    let zones = demo_zones();
    let settings = TrackSettings::default();
    for trip in TRIPS {
        let log = gpx(trip);
        let logged = fixes(trip, &log, LogFormat::Gpx);
        let visits = audit_of(&zones, &logged, settings).visits;
        let csv = as_csv(&logged);
        let others = [
            fixes("packed.gpx.gz", &gzipped(&log), LogFormat::Gpx),
            fixes("table.csv", &csv, LogFormat::Csv),
            fixes("packed.csv.gz", &gzipped(&csv), LogFormat::Csv),
        ];
        for other in others {
            assert_eq!(audit_of(&zones, &other, settings).visits, visits, "{trip}");
        }
    }
}

#[test]
fn the_files_are_small_and_say_that_they_are_invented() {
    for trip in TRIPS {
        let log = gpx(trip);
        assert!(log.len() < 250_000, "{trip}: {} bytes", log.len());
        let text = String::from_utf8(log).unwrap();
        assert!(text.contains("creator=\"invented for Takeline\""), "{trip}");
        assert!(text.contains("SPDX-License-Identifier: CC0-1.0"), "{trip}");
    }
}

/// GPX files of another library's tests (tests/data/gpx-samples/README.md has source and licence): all are audited, no
/// fix is lost on the way, and none of them, all far from the invented isle, visits one of its zones.
#[test]
fn real_logs_that_nobody_here_wrote_are_audited_without_complaint() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../tests/data/gpx-samples");
    // Southern Straights and its like have lines; Kelp Garden's is unknown, but somewhere within a box
    let zones = zone_file::read("marrowick.json", &demo("zones/marrowick.json")).unwrap().zones;
    let zones = ZoneSet::new(zones);
    let mut logs = 0;
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.extension().is_none_or(|extension| extension != "gpx") {
            continue;
        }
        logs += 1;
        let name = path.display().to_string();
        let bytes = fs::read(&path).unwrap();
        let mut auditor = Auditor::new(&zones, TrackSettings::default());
        let mut fixes = 0;
        for item in TrackReader::open(&name, bytes.as_slice()).unwrap() {
            if let LogItem::Fix(fix) = item.unwrap() {
                fixes += 1;
                auditor.push(fix);
            }
        }
        let audit = auditor.finish();
        assert_eq!(audit.quality.fixes, fixes, "{name}");
        assert!(audit.visits.is_empty(), "{name}");
        let suspects: u64 = audit.quality.counts.iter().sum();
        assert!(suspects <= fixes, "{name}");
    }
    assert_eq!(logs, 11);
}
