//! Launching, landing and lying at the shore: a zone that says which side is the beach.
//!
//! The reserve is 1 km wide and its east side is the beach, known to 3 m. Places are metres off the beach and along it; fixes are good
//! to 4 m, one every 5 s.

use super::test_tracks::{at, fix, zone};
use super::{
    Audit, Auditor, Certainty, ConditionReason, Direction, LoggedFix, Outcome, OutcomeAnswer, OutcomeReason,
    TrackSettings, VisitEnd,
};
use crate::coast::CoastLine;
use crate::geodesic::direct;
use crate::rule::{Access, Condition, Passage};
use crate::zone::{Extent, Zone, ZoneSet};
use crate::{Boundary, Coast, EdgeModel, Metres, PartSpec, Position, RingSpec, Side, SideKind, Tristate};

/// So far off the beach, and to the north along it, in metres.
fn place(off_m: f64, north_m: f64) -> Position {
    let beach = direct(at(45.11, -30.12), 0.0, north_m);
    direct(beach, if off_m < 0.0 { 90.0 } else { 270.0 }, off_m.abs())
}

fn shore(uncertainty_m: f64) -> Side {
    let uncertainty = Some(Metres::non_negative(uncertainty_m).unwrap());
    Side { uncertainty, ..Side::from(SideKind::Shore) }
}

fn reserve_of(corners: Vec<Position>, sides: Vec<Side>, passage: Passage) -> Zone {
    let edges = vec![EdgeModel::Geodesic; corners.len()];
    let exterior = RingSpec { vertices: corners.clone(), edges, sides };
    let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    Zone { extent: Extent::Known(boundary), ..zone("sallow-cove", corners, Some(passage)) }
}

/// The reserve, with this on its east side.
fn reserve(east: Side, passage: Passage) -> ZoneSet {
    let corners =
        vec![place(0.0, -1000.0), place(0.0, 1000.0), place(1000.0, 1000.0), place(1000.0, -1000.0)];
    let open = Side::default;
    ZoneSet::new(vec![reserve_of(corners, vec![east, open(), open(), open()], passage)])
}

/// A passage without stops of more than so many minutes.
fn no_stop(minutes: f64) -> Passage {
    Passage { max_stop_min: Some(minutes), continuous: true, ..allowed(Tristate::Yes) }
}

fn allowed(allowed: Tristate) -> Passage {
    Passage {
        allowed,
        gear_state: None,
        continuous: false,
        min_speed_kn: None,
        max_stop_min: None,
        anchoring: Tristate::Undecided,
        conditions: Vec::new(),
        clause: None,
    }
}

/// A way from place to place at so many knots, or a stop for so many seconds.
enum Leg {
    To(f64, f64, f64),
    Stop(f64),
}

fn log(start: (f64, f64), legs: &[Leg]) -> Vec<LoggedFix> {
    log_good_to(4.0, start, legs)
}

/// The same of fixes that are good to so many metres.
fn log_good_to(radius_m: f64, start: (f64, f64), legs: &[Leg]) -> Vec<LoggedFix> {
    let (mut off_m, mut north_m, mut now_s) = (start.0, start.1, 0.0);
    let mut fixes = Vec::new();
    let mut wander = 0;
    let mut push = |off_m: f64, north_m: f64, now_s: f64| {
        // a receiver wanders by a metre or two
        wander = (wander + 1) % 4;
        let (east, north) = [(1.2, 0.3), (-0.4, -1.1), (-1.0, 0.8), (0.5, -0.6)][wander];
        fixes.push(fix(place(off_m + east, north_m + north), now_s, radius_m));
    };
    for leg in legs {
        let (to, seconds) = match leg {
            Leg::To(off, north, knots) => {
                ((*off, *north), (off - off_m).hypot(north - north_m) / (knots * 1852.0 / 3600.0))
            }
            Leg::Stop(seconds) => ((off_m, north_m), *seconds),
        };
        let steps = (seconds / 5.0).ceil().max(1.0);
        let mut step = 0.0;
        while step < steps {
            let share = step / steps;
            push(off_m + (to.0 - off_m) * share, north_m + (to.1 - north_m) * share, now_s + seconds * share);
            step += 1.0;
        }
        ((off_m, north_m), now_s) = (to, now_s + seconds);
    }
    push(off_m, north_m, now_s);
    fixes
}

fn audit(zones: &ZoneSet, fixes: &[LoggedFix]) -> Audit {
    let mut auditor = Auditor::new(zones, TrackSettings::default());
    for fix in fixes {
        auditor.push(*fix);
    }
    auditor.finish()
}

fn outcomes(zones: &ZoneSet, audit: &Audit) -> Vec<Outcome> {
    let rule = &zones.zones()[0].rule;
    audit.visits.iter().map(|visit| Outcome::of(visit, rule, &audit.settings)).collect()
}

fn ends(audit: &Audit) -> Vec<(VisitEnd, VisitEnd)> {
    audit.visits.iter().map(|visit| (visit.course.began_at, visit.course.ended_at)).collect()
}

#[test]
fn whoever_launches_on_the_beach_and_crosses_out_kept_the_terms() {
    let zones = reserve(shore(3.0), no_stop(5.0));
    // twenty minutes of rigging at the water's edge
    let fixes = log((-30.0, 0.0), &[Leg::To(4.0, 0.0, 1.5), Leg::Stop(1200.0), Leg::To(1300.0, 0.0, 2.6)]);
    let audit = audit(&zones, &fixes);
    assert_eq!(ends(&audit), [(VisitEnd::Shore, VisitEnd::Crossing)]);
    let crossed: Vec<Direction> = audit.crossings.iter().map(|crossing| crossing.direction).collect();
    assert_eq!(crossed, [Direction::Out], "nobody crosses a beach");
    let outcome = &outcomes(&zones, &audit)[0];
    assert_eq!(outcome.answer, OutcomeAnswer::NothingAgainst, "{outcome:?}");
    assert!(audit.visits[0].course.is_crossing());
    assert!(audit.visits[0].stops.is_empty(), "{:?}", audit.visits[0].stops);
    assert!(audit.visits[0].course.at_shore_s > 1000.0);

    // without a word of the beach nobody knows that it was one
    let blind = reserve(Side::default(), no_stop(5.0));
    let told = super::shore_tests::audit(&blind, &fixes);
    assert_ne!(outcomes(&blind, &told)[0].answer, OutcomeAnswer::NothingAgainst);
}

#[test]
fn home_over_the_line_and_up_the_beach_reads_as_landing() {
    let zones = reserve(shore(3.0), no_stop(5.0));
    let fixes = log((1300.0, 0.0), &[Leg::To(3.0, 0.0, 2.6), Leg::Stop(1800.0)]);
    let audit = audit(&zones, &fixes);
    assert_eq!(ends(&audit), [(VisitEnd::Crossing, VisitEnd::Shore)]);
    assert_eq!(audit.crossings.len(), 1);
    let outcome = &outcomes(&zones, &audit)[0];
    assert_eq!(outcome.answer, OutcomeAnswer::NothingAgainst, "{outcome:?}");
}

#[test]
fn whoever_lands_and_launches_again_has_two_visits_and_no_stop() {
    let zones = reserve(shore(3.0), Passage { continuous: false, ..no_stop(5.0) });
    let picnic = [Leg::To(-60.0, 0.0, 2.6), Leg::Stop(3600.0), Leg::To(1300.0, 0.0, 2.6)];
    let audit = audit(&zones, &log((1300.0, 0.0), &picnic));
    let (crossing, beach) = (VisitEnd::Crossing, VisitEnd::Shore);
    assert_eq!(ends(&audit), [(crossing, beach), (beach, crossing)]);
    for outcome in outcomes(&zones, &audit) {
        assert_eq!(outcome.answer, OutcomeAnswer::NothingAgainst, "{outcome:?}");
    }
}

#[test]
fn a_stop_to_fish_thirty_metres_off_the_beach_is_a_stop() {
    let zones = reserve(shore(3.0), no_stop(5.0));
    for start in [-30.0, 3.0] {
        let legs = [Leg::Stop(600.0), Leg::To(30.0, 0.0, 2.0), Leg::Stop(1500.0), Leg::To(1300.0, 0.0, 2.6)];
        let audit = audit(&zones, &log((start, 0.0), &legs));
        let outcome = &outcomes(&zones, &audit)[0];
        assert_eq!(outcome.answer, OutcomeAnswer::Against, "from {start}: {outcome:?}");
        let is_stop = |reason: &OutcomeReason| {
            matches!(reason, OutcomeReason::TermBroken { because, .. }
                if matches!(because[..], [ConditionReason::LongestStop { duration_s }, ..] if duration_s > 1300.0 && duration_s < 1520.0))
        };
        assert!(outcome.because.iter().any(is_stop), "{outcome:?}");
    }
}

#[test]
fn whoever_lies_for_long_before_the_beach_on_the_way_is_left_open() {
    // 12 m off: afloat or aground, nobody can say
    let zones = reserve(shore(3.0), no_stop(5.0));
    let legs = [Leg::To(12.0, 0.0, 2.6), Leg::Stop(1500.0), Leg::To(1300.0, 300.0, 2.6)];
    let audit = audit(&zones, &log((1300.0, -300.0), &legs));
    let outcome = &outcomes(&zones, &audit)[0];
    assert_eq!(outcome.answer, OutcomeAnswer::Undecided, "{outcome:?}");
}

/// How long the stops are that the log allows for, in seconds, where that leaves the term open.
fn open_stop_s(outcome: &Outcome) -> Option<f64> {
    outcome.because.iter().find_map(|reason| {
        let OutcomeReason::TermUnsettled { condition: Condition::MaxStop { .. }, because } = reason else {
            return None;
        };
        because.iter().find_map(|reason| {
            if let ConditionReason::CanHaveStopped { duration_s } = reason { Some(*duration_s) } else { None }
        })
    })
}

#[test]
fn hours_afloat_before_the_beach_are_no_launch_and_no_landing() {
    use Leg::{Stop, To};
    let hours = || Stop(10_800.0);
    for (name, side_m, fixes) in [
        ("begins 12 m off", 0.0, log_good_to(5.0, (12.0, 0.0), &[hours(), To(1300.0, 0.0, 2.6)])),
        ("ends 12 m off", 0.0, log_good_to(5.0, (1300.0, 0.0), &[To(12.0, 0.0, 2.6), hours()])),
        (
            "60 m off a side known to 50",
            50.0,
            log_good_to(5.0, (60.0, 0.0), &[hours(), To(1300.0, 0.0, 2.6)]),
        ),
        ("18 m off, ±10 m", 0.0, log_good_to(10.0, (18.0, 0.0), &[hours(), To(1300.0, 0.0, 2.6)])),
        ("100 m off, ±100 m", 0.0, log_good_to(100.0, (100.0, 0.0), &[hours(), To(1300.0, 0.0, 2.6)])),
        (
            "out, home and 12 m off again",
            0.0,
            log_good_to(5.0, (12.0, 0.0), &[hours(), To(1300.0, 0.0, 2.6), To(12.0, 0.0, 2.6), hours()]),
        ),
        (
            "ashore for a minute before",
            0.0,
            log_good_to(5.0, (-20.0, 0.0), &[Stop(60.0), To(12.0, 0.0, 1.5), hours(), To(1300.0, 0.0, 2.6)]),
        ),
    ] {
        let zones = reserve(shore(side_m), no_stop(10.0));
        for outcome in outcomes(&zones, &audit(&zones, &fixes)) {
            assert_eq!(outcome.answer, OutcomeAnswer::Undecided, "{name}: {outcome:?}");
            assert!(open_stop_s(&outcome).is_some_and(|most_s| most_s > 10_700.0), "{name}: {outcome:?}");
        }
    }
}

#[test]
fn way_made_along_the_shore_is_no_launch() {
    use Leg::{Stop, To};
    let zones = reserve(shore(0.0), no_stop(10.0));
    // up and down before the beach, near enough to it to wade or not
    for off_m in [12.0, 7.0, 3.0] {
        let along = [To(off_m, 650.0, 1.0), To(off_m, -650.0, 1.0), To(1300.0, -650.0, 2.9)];
        let audit = audit(&zones, &log_good_to(5.0, (off_m, -650.0), &along));
        let outcome = &outcomes(&zones, &audit)[0];
        assert_eq!(outcome.answer, OutcomeAnswer::Undecided, "{off_m} m off: {outcome:?}");
        assert!(audit.visits[0].course.way.metres() > 3000.0, "{:?}", audit.visits[0].course);
        assert!(!audit.visits[0].course.is_crossing());
    }
    // a drift, and a stop on the way
    for off_m in [12.0, 3.0] {
        let drift = [To(off_m, 200.0, 0.3), To(1300.0, 200.0, 2.9)];
        let stop = [Stop(900.0), To(off_m, 200.0, 2.0), Stop(900.0), To(1300.0, 200.0, 2.9)];
        for legs in [drift.as_slice(), &stop] {
            let told = audit(&zones, &log_good_to(5.0, (off_m, -500.0), legs));
            let outcome = &outcomes(&zones, &told)[0];
            assert_eq!(outcome.answer, OutcomeAnswer::Undecided, "{off_m} m off: {outcome:?}");
            assert!(open_stop_s(outcome).is_some_and(|most_s| most_s > 880.0), "{outcome:?}");
        }
    }
}

#[test]
fn a_worse_accuracy_never_makes_a_verdict_cleaner() {
    for side_m in [0.0, 3.0, 50.0] {
        let zones = reserve(shore(side_m), no_stop(5.0));
        for off_m in [-20.0, 1.0, 5.0, 8.0, 12.0, 18.0, 40.0, 100.0] {
            for stop_s in [600.0, 1100.0, 5400.0] {
                let mut was_open = false;
                for radius_m in [2.0, 5.0, 10.0, 20.0, 45.0, 100.0] {
                    let legs = [Leg::Stop(stop_s), Leg::To(1300.0, 0.0, 2.6)];
                    let audit = audit(&zones, &log_good_to(radius_m, (off_m, 0.0), &legs));
                    let outcome = &outcomes(&zones, &audit)[0];
                    let is_kept = outcome.answer == OutcomeAnswer::NothingAgainst;
                    let what = format!("{off_m} m off ±{side_m} m, {stop_s} s ±{radius_m} m");
                    assert!(!is_kept || !was_open, "{what}: {outcome:?}");
                    assert!(!is_kept || off_m <= 10.0, "{what}: {outcome:?}");
                    was_open |= !is_kept;
                }
            }
        }
    }
}

#[test]
fn ten_minutes_of_rigging_or_unloading_at_the_edge_are_a_launch_and_a_landing() {
    use Leg::{Stop, To};
    let at_the_edge = || Stop(600.0);
    for (radius_m, side_m) in [(5.0, 3.0), (10.0, 3.0), (10.0, 20.0)] {
        let zones = reserve(shore(side_m), no_stop(5.0));
        let fixes = log_good_to(
            radius_m,
            (-15.0, 0.0),
            &[
                Stop(300.0),
                To(3.0, 0.0, 1.5),
                at_the_edge(),
                To(1300.0, 0.0, 2.6),
                To(4.0, 30.0, 2.6),
                at_the_edge(),
            ],
        );
        let audit = audit(&zones, &fixes);
        let (beach, crossing) = (VisitEnd::Shore, VisitEnd::Crossing);
        assert_eq!(ends(&audit), [(beach, crossing), (crossing, beach)], "±{radius_m} m");
        for outcome in outcomes(&zones, &audit) {
            assert_eq!(outcome.answer, OutcomeAnswer::NothingAgainst, "±{radius_m} m: {outcome:?}");
            // and it says how long that was
            let is_said = |reason: &OutcomeReason| {
                matches!(reason, OutcomeReason::TermKept { condition: Condition::MaxStop { .. }, because }
                    if because.iter().any(|one| matches!(one, ConditionReason::AtTheShore { duration_s } if *duration_s >= 590.0)))
            };
            assert!(outcome.because.iter().any(is_said), "{outcome:?}");
        }
    }
}

#[test]
fn a_drift_along_the_shore_is_inside_and_no_crossing() {
    let zones = reserve(shore(3.0), no_stop(5.0));
    // 60 m off and under a knot: it never leaves the reserve by the beach
    let audit = audit(&zones, &log((60.0, -600.0), &[Leg::To(60.0, 600.0, 0.8)]));
    assert!(audit.crossings.is_empty());
    assert_eq!(audit.visits.len(), 1);
    assert_eq!(audit.visits[0].certainty, Certainty::Certain);
    assert_eq!(ends(&audit), [(VisitEnd::Log, VisitEnd::Log)]);
    // nearer to the beach than its doubt it is as sure
    let hugging = super::shore_tests::audit(&zones, &log((4.0, -600.0), &[Leg::To(4.0, 600.0, 2.0)]));
    assert_eq!(hugging.visits[0].certainty, Certainty::Certain);
    assert!(hugging.crossings.is_empty());
}

#[test]
fn somebody_who_walks_along_the_beach_is_accused_of_nothing() {
    let walk = log((2.0, -700.0), &[Leg::To(-3.0, -100.0, 2.5), Leg::Stop(900.0), Leg::To(3.0, 700.0, 2.5)]);
    for passage in [no_stop(5.0), allowed(Tristate::No), allowed(Tristate::Yes)] {
        let zones = reserve(shore(3.0), passage);
        let audit = audit(&zones, &walk);
        assert!(audit.crossings.is_empty());
        for outcome in outcomes(&zones, &audit) {
            assert_ne!(outcome.answer, OutcomeAnswer::Against, "{outcome:?}");
        }
        assert!(
            ends(&audit).iter().all(|ends| *ends == (VisitEnd::Shore, VisitEnd::Shore)),
            "{:?}",
            ends(&audit)
        );
    }
    // where no boat may be it says why that is open
    let zones = reserve(shore(3.0), allowed(Tristate::No));
    let told = &outcomes(&zones, &audit(&zones, &walk))[0];
    assert!(matches!(told.because[0], OutcomeReason::PerhapsAshore { .. }), "{told:?}");
    // and a boat that goes through afloat is told of
    let through = log((1300.0, 0.0), &[Leg::To(200.0, 0.0, 2.6), Leg::To(1300.0, 0.0, 2.6)]);
    assert_eq!(outcomes(&zones, &audit(&zones, &through))[0].answer, OutcomeAnswer::Against);
}

/// The reserve with a spit that reaches 600 m out from the beach, so wide.
fn with_a_spit(wide_m: f64) -> ZoneSet {
    let half = wide_m / 2.0;
    let corners = vec![
        place(0.0, -1000.0),
        place(0.0, -half),
        place(600.0, -half),
        place(600.0, half),
        place(0.0, half),
        place(0.0, 1000.0),
        place(1000.0, 1000.0),
        place(1000.0, -1000.0),
    ];
    let mut sides = vec![shore(3.0); 5];
    sides.extend([Side::default(), Side::default(), Side::default()]);
    ZoneSet::new(vec![reserve_of(corners, sides, no_stop(5.0))])
}

#[test]
fn a_leg_over_a_spit_between_two_fixes_inside_is_no_departure() {
    let zones = with_a_spit(80.0);
    // south of the spit, and half a minute later north of it: the log skips the way round the head
    let mut fixes = log((560.0, -400.0), &[Leg::To(560.0, -50.0, 3.0)]);
    let last_s = super::test_tracks::since_noon(fixes.last().unwrap().time);
    let after = log((560.0, 50.0), &[Leg::To(560.0, 400.0, 3.0)]);
    fixes.extend(after.into_iter().map(|one| {
        let at_s = super::test_tracks::since_noon(one.time);
        LoggedFix { time: Some(super::test_tracks::noon(last_s + 28.0 + at_s)), ..one }
    }));
    let audit = audit(&zones, &fixes);
    assert!(audit.crossings.is_empty(), "{:?}", audit.crossings);
    assert_eq!(audit.visits.len(), 1);
    assert_eq!(audit.visits[0].certainty, Certainty::Certain);
    assert!(audit.visits[0].certain_s.unwrap() < audit.visits[0].possible_s.unwrap());
}

#[test]
fn near_a_side_that_nobody_supplied_nothing_is_sure_and_far_from_it_all_is() {
    let nobody_knows =
        Side { uncertainty: Some(Metres::non_negative(400.0).unwrap()), ..Side::from(SideKind::Unresolved) };
    let zones = reserve(nobody_knows, no_stop(5.0));
    // off the side that nobody supplied, over it and on land or not: no crossing, and never sure
    let near = audit(&zones, &log((300.0, 0.0), &[Leg::To(-300.0, 0.0, 2.6)]));
    assert!(near.crossings.is_empty());
    assert_eq!(near.visits[0].certainty, Certainty::Possible);
    // 500 m from it, over the open side: as sure as without
    let far = audit(&zones, &log((500.0, 0.0), &[Leg::To(1200.0, 0.0, 2.6)]));
    assert_eq!(far.visits[0].certainty, Certainty::Certain);
    assert_eq!(far.crossings.len(), 1);
    // outside the open side, what may be off 1 km away makes nothing possible
    let outside = audit(&zones, &log((1100.0, -500.0), &[Leg::To(1100.0, 500.0, 2.6)]));
    assert!(outside.visits.is_empty(), "{:?}", outside.visits);
    let approach = &outside.closest_approaches[0];
    let crossable = approach.crossable.unwrap().signed_distance.metres();
    assert!((crossable - approach.signed_distance.metres()).abs() < 1e-6);
}

#[test]
fn a_log_that_lies_on_land_is_told_and_accuses_nobody() {
    let isle = vec![place(0.0, -3000.0), place(-3000.0, -3000.0), place(-3000.0, 3000.0), place(0.0, 3000.0)];
    let coast = || {
        let mut coast =
            Coast::from_lines(vec![CoastLine::island(isle.clone())], Metres::non_negative(8.0).unwrap())
                .unwrap();
        coast.title = Some("Coast of Marrowick".into());
        coast
    };
    let bare = reserve(shore(3.0), no_stop(5.0));
    let zones = bare.clone().with_coasts(vec![coast()]);
    let on_land = |fixes: &[LoggedFix]| {
        let mut auditor = Auditor::new(&zones, TrackSettings::default());
        for fix in fixes {
            auditor.push(*fix);
        }
        auditor.finish().quality.on_land.unwrap()
    };
    let afloat = on_land(&log((30.0, 0.0), &[Leg::To(1300.0, 0.0, 2.6)]));
    assert_eq!((afloat.fixes, afloat.legs, afloat.first), (0, 0, None));
    assert!(afloat.of > 100 && !afloat.is_most());
    assert_eq!(afloat.coasts, ["Coast of Marrowick"]);
    // nine metres up the beach may be the beach
    assert_eq!(on_land(&log((-9.0, 0.0), &[Leg::To(-9.0, 300.0, 2.6)])).fixes, 0);
    let drive = on_land(&log((-500.0, 0.0), &[Leg::To(-2500.0, 0.0, 20.0), Leg::To(-500.0, 0.0, 20.0)]));
    assert!(drive.fixes == drive.of && drive.is_most(), "{drive:?}");
    assert_eq!(drive.first.unwrap().time, Some(super::test_tracks::noon(0.0)));
    // who fishes from the shore may walk there
    let on_foot = TrackSettings { access: Some(Access::Shore), ..TrackSettings::default() };
    assert_eq!(Auditor::new(&zones, on_foot).finish().quality.on_land, None);
    // a route from one side of the isle to the other, both ends afloat
    let route = [100.0, -3100.0].map(|off_m| LoggedFix { time: None, ..fix(place(off_m, 0.0), 0.0, 4.0) });
    let settings = TrackSettings { is_plan: true, ..TrackSettings::default() };
    let mut auditor = Auditor::new(&zones, settings);
    for fix in route {
        auditor.push(fix);
    }
    let plan = auditor.finish().quality.on_land.unwrap();
    assert_eq!((plan.fixes, plan.legs), (0, 1), "a plan that leads over the isle");
    assert!(audit(&bare, &[]).quality.on_land.is_none());
}
