//! Rules that come into force and go out of it while the boat is inside, that others displace, or that bind only some.

use jiff::Timestamp;
use proptest::prelude::*;

use super::test_tracks::{HOME, at, audit, fix, noon, strip, zone};
use super::{Audit, Certainty, LoggedFix, Reason, TrackSettings, Visit};
use crate::assess::Displacing;
use crate::binding::ZoneHere;
use crate::geodesic::direct;
use crate::rule::{self, Access, Hours, When};
use crate::zone::{Effective, Extent, Override, Zone, ZoneId, ZoneSet};
use crate::{Position, Tristate};

use Tristate::{No, Undecided, Yes};

fn named(id: &str, from_m: f64, width_m: f64) -> Zone {
    zone(id, strip(east(from_m), width_m), None)
}

fn east(metres: f64) -> Position {
    direct(at(HOME.0, HOME.1), 90.0, metres)
}

fn hours(from: i8, to: i8) -> When {
    let clock = |hour| jiff::civil::time(hour, 0, 0, 0);
    When::Hours(Hours { from: clock(from), to: clock(to) })
}

fn day(clock: &str) -> Timestamp {
    format!("2026-07-{clock}Z").parse().unwrap()
}

/// The boat at places so many metres east of home and times, then a fix each 20 s on the straight way between them.
fn between(places: &[(f64, Timestamp)]) -> Vec<LoggedFix> {
    let mut fixes = Vec::new();
    for pair in places.windows(2) {
        let ((from_m, begins), (to_m, ends)) = (pair[0], pair[1]);
        let whole_s = ends.duration_since(begins).as_secs_f64();
        let mut passed_s = 0.0;
        while passed_s < whole_s {
            let share = passed_s / whole_s;
            let seconds = begins.duration_since(noon(0.0)).as_secs_f64() + passed_s;
            // a boat afloat never gives the same digits for long
            let place = direct(east(from_m + share * (to_m - from_m)), 0.0, 0.5 * (passed_s / 40.0).sin());
            fixes.push(fix(place, seconds, 5.0));
            passed_s += 20.0;
        }
    }
    if let Some((metres, time)) = places.last() {
        fixes.push(fix(east(*metres), time.duration_since(noon(0.0)).as_secs_f64(), 5.0));
    }
    fixes
}

fn one_visit(zones: Vec<Zone>, fixes: &[LoggedFix], access: Option<Access>) -> Visit {
    let settings = TrackSettings { access, ..TrackSettings::default() };
    let mut found = audit(&ZoneSet::new(zones), fixes, settings);
    found.visits.retain(|visit| visit.zone.0 == "reserve");
    assert_eq!(found.visits.len(), 1, "{:#?}", found.visits);
    found.visits.remove(0)
}

#[track_caller]
fn near(found: Option<f64>, expected_s: f64) {
    assert!((found.unwrap() - expected_s).abs() < 0.01, "{found:?}, not {expected_s}");
}

#[test]
fn a_closure_in_the_middle_of_a_stay_is_found() {
    let closed = Zone { when: hours(10, 12), ..named("reserve", 0.0, 1_000.0) };
    let fixes = between(&[(100.0, day("01T09:00:00")), (110.0, day("01T13:00:00"))]);
    let visit = one_visit(vec![closed], &fixes, None);
    assert_eq!((visit.in_force, visit.binds), (Yes, Yes));
    near(visit.certain_s, 4.0 * 3600.0);
    near(visit.in_force_certain_s, 2.0 * 3600.0);
    near(visit.in_force_possible_s, 2.0 * 3600.0);
    let parts: Vec<_> = visit.ruled.iter().map(|part| (part.from.unwrap(), part.in_force)).collect();
    assert_eq!(parts, [(day("01T09:00:00"), No), (day("01T10:00:00"), Yes), (day("01T12:00:00"), No)]);
}

#[test]
fn one_closed_day_of_three_and_a_closed_night_slept_through_are_found() {
    let fixes = between(&[(100.0, day("01T09:00:00")), (110.0, day("03T13:00:00"))]);
    let closed_day = When::Days([jiff::civil::date(2026, 7, 2)].into_iter().collect());
    let visit = one_visit(vec![Zone { when: closed_day, ..named("reserve", 0.0, 1_000.0) }], &fixes, None);
    assert_eq!(visit.binds, Yes);
    near(visit.in_force_certain_s, 24.0 * 3600.0);
    let fixes = between(&[(100.0, day("01T20:00:00")), (110.0, day("02T08:00:00"))]);
    let visit = one_visit(vec![Zone { when: hours(22, 5), ..named("reserve", 0.0, 1_000.0) }], &fixes, None);
    near(visit.in_force_certain_s, 7.0 * 3600.0);
}

/// A telephone that has not heard the time yet, in a zone whose rule began in 2020.
#[test]
fn dates_that_cannot_be_right_leave_open_what_was_in_force() {
    let effective = Effective { from: Some(day("01T00:00:00")), until: None };
    let begun = Zone { effective, ..named("reserve", 0.0, 1_000.0) };
    let unset: Timestamp = "1999-09-01T00:00:05Z".parse().unwrap();
    let seconds = unset.duration_since(noon(0.0)).as_secs_f64();
    let fixes: Vec<_> = (0..60_u32)
        .map(|step| fix(east(100.0 + f64::from(step)), seconds + 20.0 * f64::from(step), 5.0))
        .collect();
    let visit = one_visit(vec![begun], &fixes, None);
    assert_eq!((visit.certainty, visit.in_force, visit.binds), (Certainty::Certain, Undecided, Undecided));
}

/// They made visits possible of certain ones, or of none: with a top speed of −1 kn all fixes were suspect.
#[test]
fn settings_that_cannot_be_count_as_not_given() {
    let zones = ZoneSet::new(vec![named("reserve", 0.0, 1_000.0)]);
    let fixes = between(&[(-500.0, noon(0.0)), (300.0, noon(400.0)), (290.0, noon(1_000.0))]);
    let usual = audit(&zones, &fixes, TrackSettings::default());
    for knots in [-1.0, 0.0, f64::NAN, f64::INFINITY] {
        let odd = TrackSettings {
            top_speed_kn: knots,
            top_speed_given: true,
            given_top_speed_kn: Some(knots),
            gap_after_s: -knots.abs(),
            merge_within_s: f64::NAN,
            stop_below_kn: f64::NAN,
            digits_step_deg: Some(f64::NAN),
            ..TrackSettings::default()
        };
        let odd = TrackSettings { gap_after_s: if knots == 0.0 { f64::NAN } else { odd.gap_after_s }, ..odd };
        assert_eq!(audit(&zones, &fixes, odd).visits, usual.visits, "{knots}");
    }
}

#[test]
fn seconds_before_the_rule_began_do_not_count_as_in_force() {
    // in at noon, from 500 m off at 2 m/s; the rule begins 50 s later, when the boat lies 100 m inside
    let effective = Effective { from: Some(noon(300.0)), until: None };
    let begun = Zone { effective, ..named("reserve", 0.0, 1_000.0) };
    let fixes = between(&[(-500.0, noon(0.0)), (300.0, noon(400.0))]);
    let visit = one_visit(vec![begun], &fixes, None);
    near(visit.in_force_certain_s, 100.0);
    assert!(visit.certain_s.unwrap() > 140.0);
    assert_eq!(visit.binds, Yes);
}

#[test]
fn certain_before_the_rule_began_and_possible_after_is_undecided() {
    // out over the west side at 2 m/s, a fix each 20 s: surely in until 5 m before it, perhaps until 5 m after it, and while
    // 12 kn, 123 m in 20 s, let it come back: in the leg from 40 to 80 m off, until a share t of it at which
    // 35 + 40 t = √(t (1 − t) (123.5² − 30²)), the straight way less the doubts of two fixes; t = 0.595, so 20 + 11.9 s
    let effective = Effective { from: Some(noon(100.0)), until: None };
    let begun = Zone { effective, ..named("reserve", 0.0, 1_000.0) };
    let visit = one_visit(vec![begun], &between(&[(200.0, noon(0.0)), (-300.0, noon(250.0))]), None);
    assert_eq!((visit.certainty, visit.in_force, visit.binds), (Certainty::Certain, Undecided, Undecided));
    near(visit.in_force_certain_s, 0.0);
    let possible_s = visit.in_force_possible_s.unwrap();
    assert!((31.9..32.3).contains(&possible_s), "{possible_s}");
}

#[test]
fn a_rule_that_ended_before_the_boat_came_back_did_not_bind() {
    let effective = Effective { from: None, until: Some(noon(0.0)) };
    let ended = Zone { effective, ..named("reserve", 0.0, 1_000.0) };
    // a single fix at the very moment at which it ends, and a fix at its last second
    let at_its_end = one_visit(vec![ended.clone()], &[fix(east(100.0), 0.0, 5.0)], None);
    assert_eq!((at_its_end.in_force, at_its_end.binds), (No, No));
    let before = one_visit(vec![ended], &[fix(east(100.0), -1.0, 5.0)], None);
    assert_eq!((before.in_force, before.binds), (Yes, Yes));
}

fn with_lane(from_m: f64) -> Vec<Zone> {
    let over = Override { zone: ZoneId("reserve".to_owned()), clause: "clause 6".to_owned() };
    vec![named("reserve", 0.0, 1_000.0), Zone { overrides: vec![over], ..named("lane", from_m, 200.0) }]
}

/// A fix each so many seconds from noon on, 20 m from the side of a lane that begins 300 m in the reserve, the boat drifting.
fn near_the_side_of_a_lane(every_s: f64) -> Visit {
    let drifting = (0..12).map(|step| {
        let seconds = f64::from(step) * every_s;
        fix(direct(east(320.0), 0.0, 0.2 * seconds), seconds, 5.0)
    });
    one_visit(with_lane(300.0), &drifting.collect::<Vec<_>>(), None)
}

#[test]
fn a_lane_displaces_between_two_fixes_only_while_the_boat_cannot_have_left_it() {
    // 15 m less the doubt are made and undone at 12 kn in 4.9 s
    for every_s in [1.0, 4.0] {
        assert_eq!(near_the_side_of_a_lane(every_s).binds, No, "{every_s} s");
    }
    for every_s in [10.0, 20.0, 29.0, 31.0] {
        let visit = near_the_side_of_a_lane(every_s);
        assert_eq!((visit.in_force, visit.binds), (Yes, Undecided), "{every_s} s");
    }
}

/// Places so many metres inside the reserve, and seconds after noon, with a rule in force between two times.
fn in_force_between(places: &[(f64, f64)], from_s: f64, until_s: f64) -> Visit {
    let effective = Effective { from: Some(noon(from_s)), until: Some(noon(until_s)) };
    let fixes: Vec<_> = places.iter().map(|(in_m, seconds)| fix(east(*in_m), *seconds, 5.0)).collect();
    one_visit(vec![Zone { effective, ..named("reserve", 0.0, 1_000.0) }], &fixes, None)
}

#[test]
fn a_rule_that_begins_or_ends_between_two_fixes_binds_only_a_boat_that_cannot_have_left() {
    // 40 m inside, then 20 m outside; the straight way is inside until 13 s later, at 12 kn it is left in 6.5 s
    let out = [(60.0, 0.0), (40.0, 20.0), (-20.0, 40.0), (-60.0, 60.0)];
    let begun = in_force_between(&out, 30.0, 900.0);
    assert_eq!((begun.certainty, begun.in_force, begun.binds), (Certainty::Certain, Undecided, Undecided));
    near(begun.in_force_certain_s, 0.0);
    // a rule that began while it cannot have left yet binds it
    assert_eq!(in_force_between(&out, 21.0, 900.0).binds, Yes);
    // 12 m inside at both fixes, in force only between them
    let shallow = [(12.0, 0.0), (12.2, 28.0), (-60.0, 44.0), (-100.0, 74.0)];
    let within = in_force_between(&shallow, 4.0, 24.0);
    assert_eq!((within.in_force, within.binds), (Undecided, Undecided));
    near(within.in_force_certain_s, 0.0);
    assert!((within.in_force_possible_s.unwrap() - 20.0).abs() < 0.01, "{within:#?}");
    // 200 m inside no way out and back is short enough
    let deep = in_force_between(&[(200.0, 0.0), (200.5, 28.0)], 4.0, 24.0);
    assert_eq!((deep.in_force, deep.binds), (Yes, Yes));
    near(deep.in_force_certain_s, 20.0);
}

#[test]
fn seconds_in_a_lane_that_displaces_the_reserve_do_not_count_as_bound() {
    let mut zones = with_lane(300.0);
    zones[1].effective = Effective { from: None, until: Some(noon(110.0)) };
    let fixes = between(&[(390.0, noon(0.0)), (410.0, noon(160.0))]);
    let visit = one_visit(zones, &fixes, None);
    assert_eq!(visit.binds, Yes);
    near(visit.in_force_certain_s, 160.0);
    near(visit.binds_certain_s, 50.0);
    near(visit.binds_possible_s, 50.0);
}

#[test]
fn a_boat_that_stays_in_a_lane_that_displaces_the_reserve_is_not_accused() {
    let through = |from_m: f64, to_m: f64| {
        let fixes = between(&[(from_m, noon(0.0)), (to_m, noon(200.0))]);
        one_visit(with_lane(300.0), &fixes, None)
    };
    // 61 m and the doubt of 5 m from either side of it: between two fixes 20 s apart at 12 kn it cannot have left the lane
    let inside = through(370.0, 430.0);
    assert_eq!((inside.in_force, inside.binds), (Yes, No));
    assert_eq!(inside.displaced_by, [ZoneId("lane".to_owned())]);
    let by = Displacing { zone: "lane".to_owned(), clause: "clause 6".to_owned() };
    assert_eq!(inside.binds_because, [Reason::Displaced { by, is_sure: true }]);
    // 3 m inside the lane with 5 m of doubt: nobody can tell
    assert_eq!(through(303.0, 304.0).binds, Undecided);
    // out of the lane at last
    let out = through(350.0, 650.0);
    assert_eq!(out.binds, Yes);
    let bound_s: f64 =
        out.ruled.iter().filter(|part| part.binds == Yes).map(|part| part.seconds().unwrap()).sum();
    // 150 m behind the lane's far side, 30 m in each 20 s. In the legs that end and that begin 30 m off it, the boat can have
    // turned back to the lane: it comes 163.5 m nearer to where it was in each 20 s, 123.5 m by 12 kn and 40 m that it had
    // made, doubts included. So nothing but 2.6 s before that fix, 3.7 s after it and the last 5.7 s of that leg is sure,
    // and the 60 s from 60 m off on
    assert!((71.3..72.1).contains(&bound_s), "{bound_s}");
}

#[test]
fn a_fix_a_minute_in_a_lane_is_in_the_lane_at_its_fixes() {
    // in the middle of the lane, 100 m from either side, with a gap of 185 m in reach between any two fixes
    let fixes: Vec<_> =
        (0..20).map(f64::from).map(|step| fix(east(395.0 + step), 60.0 * step, 5.0)).collect();
    let visit = one_visit(with_lane(300.0), &fixes, None);
    let at_fixes: Vec<_> = visit.ruled.iter().filter(|part| part.inside == Yes).collect();
    assert!(!at_fixes.is_empty() && at_fixes.iter().all(|part| part.binds == No), "{at_fixes:#?}");
    assert_eq!(visit.binds, Undecided);
}

#[test]
fn a_lane_that_may_be_anywhere_leaves_open_whether_the_reserve_binds() {
    let mut zones = with_lane(300.0);
    zones[1].extent = Extent::Unknown { somewhere_in: None, reason: "plan missing".to_owned() };
    let fixes = between(&[(100.0, noon(0.0)), (200.0, noon(200.0))]);
    let visit = one_visit(zones.clone(), &fixes, None);
    assert_eq!((visit.in_force, visit.binds), (Yes, Undecided));
    assert_eq!(visit.displaced_by, [ZoneId("lane".to_owned())]);
    // unless it was not in force then
    zones[1].effective = Effective { from: None, until: Some(noon(-100.0)) };
    assert_eq!(one_visit(zones, &fixes, None).binds, Yes);
}

#[test]
fn a_lane_that_is_not_in_force_displaces_nothing() {
    let mut zones = with_lane(300.0);
    zones[1].when = hours(14, 16);
    let fixes = between(&[(350.0, noon(0.0)), (450.0, noon(200.0))]);
    assert_eq!(one_visit(zones, &fixes, None).binds, Yes);
}

#[test]
fn a_rule_that_binds_only_fishing_from_the_shore_does_not_bind_a_boat() {
    let mut shore = named("reserve", 0.0, 1_000.0);
    shore.rule.binds = vec![Access::Shore];
    let fixes = between(&[(100.0, noon(0.0)), (150.0, noon(100.0))]);
    let binds = |access| one_visit(vec![shore.clone()], &fixes, access);
    assert_eq!(binds(Some(Access::Boat)).binds, No);
    let from_the_shore = rule::Reason::BindsOnly { access: vec![Access::Shore] };
    assert_eq!(binds(Some(Access::Boat)).binds_because, [Reason::from(from_the_shore)]);
    assert_eq!(binds(Some(Access::Shore)).binds, Yes);
    assert_eq!(binds(None).binds, Undecided);
}

#[test]
fn a_suspect_fix_never_makes_a_rule_bind_for_sure() {
    let far = 60_000.0;
    let fixes = [(-300.0, 0.0), (far, 5.0), (-290.0, 10.0), (-280.0, 15.0), (-270.0, 20.0)]
        .map(|(metres, seconds)| fix(east(metres), seconds, 5.0));
    let visit = one_visit(vec![named("reserve", far - 500.0, 1_000.0)], &fixes, None);
    assert_eq!((visit.certainty, visit.binds, visit.is_suspect), (Certainty::Possible, Undecided, true));
    assert_eq!(visit.entered().time, Some(noon(5.0)));
}

/// What the binding function says at each second of a walk, asked of the fixes themselves.
fn by_the_second(zones: &ZoneSet, fixes: &[LoggedFix], access: Option<Access>) -> (bool, bool) {
    let (mut surely, mut perhaps) = (false, false);
    for fix in fixes {
        let here: Vec<ZoneHere> = zones
            .zones()
            .iter()
            .enumerate()
            .map(|(number, zone)| {
                let signed_m = zone.extent.area().unwrap().locate(fix.position).signed_distance.metres();
                let inside = if signed_m < -5.0 {
                    Yes
                } else if signed_m > 5.0 {
                    No
                } else {
                    Undecided
                };
                ZoneHere { number, inside }
            })
            .collect();
        let binds = zones.binding_zones(&here, fix.time, access)[0].binds;
        surely |= binds == Yes;
        perhaps |= binds != No;
    }
    (surely, perhaps)
}

fn sum_of(found: &Audit, answer: Tristate) -> bool {
    found.visits.iter().any(|visit| visit.zone.0 == "reserve" && visit.binds == answer)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(80))]

    /// Over random walks, hours and lanes: what binds at any fix is found in the visits, and the other way about, but for what
    /// happens between two fixes.
    #[test]
    fn a_visit_binds_as_the_binding_function_says_at_its_fixes(
        start_m in -100.0..900.0_f64,
        turns in proptest::collection::vec((-3.0..3.0_f64, 2_i64..20), 2..8),
        from in 10_i8..13, long in 1_i8..4,
        lane_m in 0.0..800.0_f64,
        access in prop::sample::select(vec![None, Some(Access::Boat), Some(Access::Shore)]),
        shore_only in any::<bool>(),
    ) {
        let mut zones = with_lane(lane_m);
        zones[0].when = hours(from, from + long);
        if shore_only {
            zones[1].rule.binds = vec![Access::Shore];
        }
        let mut places = vec![(start_m, day("01T09:50:00"))];
        for (m_per_s, minutes) in turns {
            let (metres, time) = places[places.len() - 1];
            let later = time + jiff::SignedDuration::from_mins(10 * minutes);
            places.push((metres + 0.1 * m_per_s * 600.0, later));
        }
        let fixes = between(&places);
        let zones = ZoneSet::new(zones);
        let settings = TrackSettings { access, ..TrackSettings::default() };
        let found = audit(&zones, &fixes, settings);
        let (surely, perhaps) = by_the_second(&zones, &fixes, access);
        prop_assert!(!surely || sum_of(&found, Yes), "{:#?}", found.visits);
        prop_assert!(!perhaps || sum_of(&found, Yes) || sum_of(&found, Undecided), "{:#?}", found.visits);
        for visit in &found.visits {
            prop_assert!(visit.in_force_certain_s <= visit.certain_s && visit.in_force_possible_s <= visit.possible_s);
            prop_assert!(visit.in_force_certain_s <= visit.in_force_possible_s);
            let bound_s: f64 = visit.ruled.iter().filter(|part| part.binds == Yes).map(|part| part.seconds().unwrap()).sum();
            // a fix each 20 s: what bound for longer than that was seen at one of them
            let is_reserve = visit.zone.0 == "reserve";
            prop_assert!(!is_reserve || bound_s <= 20.5 || surely, "{bound_s} {visit:#?}");
        }
    }
}
