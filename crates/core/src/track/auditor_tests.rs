//! Tracks with answers that can be had by hand: even speed along a geodesic across lines that are known.

use jiff::SignedDuration;
use proptest::prelude::*;

use super::test_tracks::{HOME, at, audit, eastward, fix, noon, since_noon, strip, strip_zone, zone};
use super::{Auditor, Certainty, Direction, Evidence, LoggedFix, Suspicion, TrackEvent, TrackSettings};
use crate::geodesic::{direct, inverse};
use crate::rule::Passage;
use crate::zone::ZoneSet;
use crate::{AccuracyKind, Fix, HorizontalUncertainty, Position, Tristate};

#[test]
fn crossings_by_closed_form_agree_to_1_mm_and_1_ms() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    // an accuracy of 0 counts as not known; 1 mm is as good as none here
    let found = audit(&zones, &eastward((-2_000.0, 3_000.0), 2.5, 7.0, 0.001), TrackSettings::default());
    assert_eq!(found.crossings.len(), 2);
    let entry = &found.crossings[0];
    assert_eq!(entry.direction, Direction::In);
    // the track runs through home itself, which is on the west side, 2000 m and so 800 s after its start
    assert!(inverse(entry.at.position, home).distance_m < 1e-3);
    assert!((since_noon(entry.at.time) - 800.0).abs() < 1e-3, "{}", since_noon(entry.at.time));
    let exit = &found.crossings[1];
    assert_eq!(exit.direction, Direction::Out);
    let line_m = zones.zones()[0].extent.area().unwrap().locate(exit.at.position).signed_distance.metres();
    assert!(line_m.abs() < 1e-3, "{line_m}");
    let way_m = inverse(home, exit.at.position).distance_m;
    assert!((since_noon(exit.at.time) - 800.0 - way_m / 2.5).abs() < 1e-3);
    let visit = &found.visits[0];
    assert_eq!((visit.certainty, visit.evidence), (Certainty::Certain, Evidence::Fixes));
    assert!((visit.certain_s.unwrap() - way_m / 2.5).abs() < 1e-2, "{}", visit.certain_s.unwrap());
    assert!((visit.path.metres() - way_m).abs() < 0.05);
    assert_eq!(visit.crossings, [0, 1]);
    let speeds = visit.speeds.unwrap();
    let knots = 2.5 * 3600.0 / 1852.0;
    assert!((speeds.mean_kn - knots).abs() < 1e-3 && (speeds.max_kn - knots).abs() < 1e-3, "{speeds:?}");
    assert!((visit.deepest.unwrap().metres() - 500.0).abs() < 10.0, "{}", visit.deepest.unwrap());
}

#[test]
fn durations_count_the_doubt() {
    let zones = ZoneSet::new(vec![zone("strip", strip(at(HOME.0, HOME.1), 1_000.0), None)]);
    let found = audit(&zones, &eastward((-2_000.0, 3_000.0), 2.5, 1.0, 10.0), TrackSettings::default());
    let visit = &found.visits[0];
    // 980 m and 1020 m of way at 2.5 m/s
    assert!((visit.certain_s.unwrap() - 392.0).abs() < 0.1, "{}", visit.certain_s.unwrap());
    // and within a second at 12 kn the boat was no more than 3.1 m off the straight way, 1.2 s of it at either end
    assert!((408.0..410.5).contains(&visit.possible_s.unwrap()), "{}", visit.possible_s.unwrap());
}

#[test]
fn a_zone_of_100_m_between_two_fixes_400_m_either_side_is_found() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 100.0), None)]);
    let fixes = [fix(direct(home, 270.0, 400.0), 0.0, 5.0), fix(direct(home, 90.0, 500.0), 25.0, 5.0)];
    let settings = TrackSettings { top_speed_kn: 80.0, top_speed_given: true, ..TrackSettings::default() };
    let found = audit(&zones, &fixes, settings);
    assert_eq!(found.crossings.len(), 2);
    let visit = &found.visits[0];
    assert_eq!(visit.evidence, Evidence::BetweenFixes);
    assert_eq!(visit.entered().between, Some((noon(0.0), noon(25.0))));
    assert!((since_noon(visit.entered().time) - 400.0 / 900.0 * 25.0).abs() < 0.01);
    // it may have gone round: the boat can have been 412 m off the straight way
    assert_eq!((visit.certainty, visit.certain_s, visit.off_the_way), (Certainty::Possible, Some(0.0), None));
}

#[test]
fn a_corner_clipped_between_two_outside_points_one_second_apart_is_possible_only() {
    let home = at(HOME.0, HOME.1);
    let corner = strip(home, 1_000.0)[3];
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let inside = direct(corner, 135.0, 0.4);
    let fixes = [fix(direct(inside, 225.0, 2.0), 0.0, 5.0), fix(direct(inside, 45.0, 2.0), 1.0, 5.0)];
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!(found.crossings.len(), 2, "{:?}", found.crossings);
    assert_eq!(found.visits.len(), 1);
    assert_eq!(found.visits[0].certainty, Certainty::Possible);
    assert!(found.visits[0].certain_s.unwrap() < 1e-9);
}

#[test]
fn wander_across_the_line_while_anchored_is_one_possible_visit() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let boat = direct(home, 270.0, 2.0);
    // forty swings of 8 m about the boat in an hour
    let fixes: Vec<LoggedFix> = (0..3600)
        .map(|second| {
            let seconds = f64::from(second);
            let swing_m = 8.0 * (seconds / 90.0 * std::f64::consts::TAU).sin();
            let across_m = 3.0 * (seconds / 37.0 * std::f64::consts::TAU).cos();
            fix(direct(direct(boat, 90.0, swing_m), 0.0, across_m), seconds, 9.0)
        })
        .collect();
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!(found.visits.len(), 1, "{:#?}", found.visits);
    assert_eq!(found.visits[0].certainty, Certainty::Possible);
    assert!(found.crossings.len() >= 70);
}

#[test]
fn a_gap_whose_straight_line_misses_the_zone_but_from_which_it_was_in_reach() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let west = direct(home, 270.0, 200.0);
    let fixes = [fix(direct(west, 180.0, 100.0), 0.0, 5.0), fix(direct(west, 0.0, 100.0), 300.0, 5.0)];
    let at_speed = |knots: f64| {
        let settings = TrackSettings::default().with_top_speed_kn(knots).unwrap();
        audit(&zones, &fixes, settings)
    };
    let quick = at_speed(6.0);
    assert_eq!(quick.visits.len(), 1);
    let visit = &quick.visits[0];
    assert_eq!((visit.certainty, visit.evidence), (Certainty::Possible, Evidence::Gap));
    // six knots for 300 s are 926 m; straight to the line and straight back are 200 m each, and 200 m inside join them,
    // so at most 300 s − 400 m / 3.087 m/s = 170.4 s inside, and not deeper than √(463² − 100²) − 200 = 252 m
    assert!((visit.possible_s.unwrap() - 170.4).abs() < 0.5, "{}", visit.possible_s.unwrap());
    assert!(
        visit.deepest.unwrap().metres() > 235.0 && visit.deepest.unwrap().metres() < 253.0,
        "{}",
        visit.deepest.unwrap()
    );
    assert!(visit.certain_s.unwrap() < 1e-9);
    // at 2.5 knots 386 m are less than the 447 m that a visit needs
    assert!(at_speed(2.5).visits.is_empty());
    assert_eq!(at_speed(2.5).quality.gap_count, 1);
}

#[test]
fn a_cold_start_3_km_off_inside_the_zone_is_suspect_and_a_possible_visit_at_most() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let mut fixes = vec![fix(direct(home, 90.0, 500.0), 0.0, 5.0)];
    let track = (1..600).map(|second| {
        let seconds = f64::from(second);
        fix(direct(direct(home, 270.0, 2_500.0), 0.0, 1.3 * seconds), seconds, 5.0)
    });
    fixes.extend(track);
    let found = audit(&zones, &fixes, TrackSettings::default());
    // nobody knows that the boat was not there, so what is suspect is never certain and always possible
    assert_eq!(found.visits.len(), 1);
    let visit = &found.visits[0];
    assert_eq!(
        (visit.certainty, visit.evidence, visit.is_suspect),
        (Certainty::Possible, Evidence::Fixes, true)
    );
    assert_eq!((visit.entered(), visit.binds), (visit.left(), Tristate::Undecided));
    assert_eq!(found.quality.suspects.len(), 1);
    assert_eq!(found.quality.suspects[0].suspicion, Suspicion::ColdStart);
    assert_eq!(found.quality.fixes, 600);
}

#[test]
fn spikes_duplicates_swaps_and_gaps_are_listed_and_20_s_inside_at_1_hz_survive() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    // 150 s westward at 2 m/s from 20 m inside: in for 10 s, and before that 10 s on the way in
    let along = |seconds: f64| {
        let offset_m = if seconds < 100.0 { -180.0 + 2.0 * seconds } else { 20.0 - 2.0 * (seconds - 100.0) };
        direct(direct(home, 90.0, offset_m), 0.0, 0.2 * seconds)
    };
    let mut fixes: Vec<LoggedFix> =
        (0..300).map(|second| fix(along(f64::from(second)), f64::from(second), 1.0)).collect();
    for spike in [20, 50, 80, 150, 200] {
        fixes[spike].position = direct(fixes[spike].position, 90.0, 1_500.0);
    }
    fixes.swap(240, 241);
    for duplicate in [290, 260, 30] {
        fixes.insert(duplicate, fixes[duplicate]);
    }
    fixes.drain(170..172);
    // two gaps of 40 s
    for later in [100, 210] {
        let from = fixes.len() - later;
        for fix in &mut fixes[from..] {
            fix.time = fix.time.map(|time| time.checked_add(SignedDuration::from_secs(40)).unwrap());
        }
    }
    let found = audit(&zones, &fixes, TrackSettings::default());
    let count = |suspicion: Suspicion| {
        found.quality.suspects.iter().filter(|suspect| suspect.suspicion == suspicion).count()
    };
    assert_eq!(count(Suspicion::Spike), 5);
    assert_eq!(count(Suspicion::Duplicate), 3);
    assert_eq!(count(Suspicion::OutOfOrder), 1);
    assert_eq!(found.quality.gap_count, 2);
    let certain: Vec<_> = found.visits.iter().filter(|visit| visit.certainty == Certainty::Certain).collect();
    assert_eq!(certain.len(), 1, "{:#?}", found.visits);
    assert!(certain[0].certain_s.unwrap() >= 10.0, "{}", certain[0].certain_s.unwrap());
}

#[test]
fn zero_island_and_a_repeat_of_20_minutes_that_ends_in_a_jump_are_suspect() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let far = direct(home, 270.0, 3_000.0);
    let mut fixes = vec![fix(far, 0.0, 5.0), fix(at(0.0, 0.0), 5.0, 5.0)];
    fixes.extend((1..1200).map(|second| fix(far, 10.0 + f64::from(second), 5.0)));
    // half a mile on after ten seconds: the boat went while the receiver repeated itself
    fixes.extend((0..3).map(|second| {
        fix(direct(far, 0.0, 900.0 + 2.0 * f64::from(second)), 1_219.0 + f64::from(second), 5.0)
    }));
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!(found.quality.counts[4], 1);
    assert_eq!(found.quality.counts[5], 1_199);
    assert_eq!(found.quality.gap_count, 1);
    assert_eq!(
        found.quality.gaps[0].before.time,
        Some(noon(0.0)),
        "nothing is known since the first of them"
    );
}

#[test]
fn a_log_without_times_is_audited_for_place_only() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let mut fixes = eastward((-2_000.0, 3_000.0), 2.5, 7.0, 5.0);
    for fix in &mut fixes {
        fix.time = None;
    }
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!(found.quality.without_time, found.quality.fixes);
    assert_eq!(found.visits.len(), 1);
    let visit = &found.visits[0];
    assert_eq!((visit.certainty, visit.entered().time), (Certainty::Certain, None));
    assert!(visit.speeds.is_none() && visit.certain_s.is_none());
}

#[test]
fn speed_stop_and_continuity_each_fail_in_turn() {
    use Tristate::{No, Undecided, Yes};

    let passage = Passage {
        allowed: Yes,
        gear_state: Some("lines inboard and bare".to_owned()),
        continuous: true,
        min_speed_kn: Some(3.0),
        max_stop_min: Some(3.0),
        anchoring: No,
        conditions: Vec::new(),
        clause: None,
    };
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), Some(passage))]);
    let with_stop = |stop_s: f64, m_per_s: f64| -> Vec<Tristate> {
        let mut fixes = eastward((-500.0, 1_500.0), m_per_s, 1.0, 3.0);
        let middle = fixes.len() / 2;
        let held = fixes[middle];
        let mut late = 0.0;
        let mut stay = Vec::new();
        while late < stop_s {
            late += 1.0;
            let rocked = direct(held.position, 90.0 * late, 0.3);
            stay.push(fix(rocked, since_noon(held.time) + late, 3.0));
        }
        for fix in &mut fixes[middle + 1..] {
            fix.time = Some(noon(since_noon(fix.time) + late));
        }
        let after = fixes.split_off(middle + 1);
        fixes.extend(stay);
        fixes.extend(after);
        let found = audit(&zones, &fixes, TrackSettings::default());
        assert_eq!(found.visits.len(), 1);
        found.visits[0].conditions.iter().map(|finding| finding.met).collect()
    };
    // speed, longest stop, continuity, gear
    assert_eq!(with_stop(0.0, 2.0), [Yes, Yes, Yes, Undecided]);
    assert_eq!(with_stop(0.0, 1.2), [No, Yes, Yes, Undecided]);
    // a law that lets boats stop for 3 min does not forbid a stop of 2: continuity then asks for a plain passage
    assert_eq!(with_stop(120.0, 2.0), [No, Yes, Yes, Undecided]);
    assert_eq!(with_stop(240.0, 2.0), [No, No, Yes, Undecided]);
}

#[test]
fn closest_approach_of_a_zone_never_visited() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let line = direct(home, 270.0, 112.0);
    let fixes: Vec<LoggedFix> = (-300..300)
        .map(|second| {
            let seconds = f64::from(second);
            fix(direct(direct(line, 270.0, 0.5 * seconds.abs()), 0.0, seconds), seconds + 300.0, 5.0)
        })
        .collect();
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert!(found.visits.is_empty());
    let closest = found.closest_approaches[0].signed_distance.metres();
    assert!((closest - 112.0).abs() < 1.2, "{closest}");
}

#[test]
fn a_fix_whose_doubt_grows_while_the_zone_was_too_far_to_matter_is_possible_and_never_outside() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    // from 150 m off the line outwards: nearest at first, so that nothing is due for the next hundred metres
    let mut fixes: Vec<LoggedFix> = (0..60)
        .map(|second| {
            let seconds = f64::from(second);
            fix(direct(home, 270.0, 150.0 + seconds), seconds, 5.0)
        })
        .collect();
    fixes.insert(0, fix(direct(home, 270.0, 140.0), -10.0, 5.0));
    for fix in &mut fixes[20..40] {
        fix.uncertainty = Some(HorizontalUncertainty::given(300.0, AccuracyKind::P95).unwrap());
    }
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!(found.visits.len(), 1);
    assert_eq!(found.visits[0].certainty, Certainty::Possible);
    // and deep inside, what was certain becomes possible for as long as the doubt is wide
    let mut fixes: Vec<LoggedFix> = (0..60)
        .map(|second| fix(direct(home, 90.0, 300.0 - f64::from(second)), f64::from(second), 5.0))
        .collect();
    for fix in &mut fixes[20..40] {
        fix.uncertainty = Some(HorizontalUncertainty::given(400.0, AccuracyKind::P95).unwrap());
    }
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!(found.visits.len(), 1);
    assert!(
        (found.visits[0].certain_s.unwrap() - 38.0).abs() <= 1.5,
        "{}",
        found.visits[0].certain_s.unwrap()
    );
}

#[test]
fn a_clock_set_back_starts_anew_and_loses_nothing() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let mut fixes = eastward((-2_000.0, 3_000.0), 2.5, 1.0, 5.0);
    let rolled_over = fixes.len() / 4;
    for fix in &mut fixes[rolled_over..] {
        let weeks_1024 = SignedDuration::from_hours(1024 * 7 * 24);
        fix.time = fix.time.map(|time| time.checked_sub(weeks_1024).unwrap());
    }
    let found = audit(&zones, &fixes, TrackSettings::default());
    // how long the boat was unlogged when the clock was set nobody knows: it may have been in before
    let certainties: Vec<_> = found.visits.iter().map(|visit| visit.certainty).collect();
    assert_eq!(
        found.visits.iter().filter(|visit| visit.certainty == Certainty::Certain).count(),
        1,
        "{certainties:?}"
    );
    assert_eq!(found.visits.len(), 2, "{certainties:?}");
    assert_eq!(found.quality.counts[1], 9, "out of order until it was clear that the clock had been set");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    /// S8: pushing fixes one by one and telling events gives the visits that the audit of the whole gives; and what an
    /// audit finds does not hang on what else is in the zone set.
    #[test]
    fn live_events_are_the_visits_of_the_audit(
        turns in proptest::collection::vec((0.0..360.0_f64, 10_u32..120), 3..14), p95_m in 1.0..12.0_f64,
    ) {
        let home = at(HOME.0, HOME.1);
        let strip_zone = zone("strip", strip(home, 300.0), None);
        let zones = ZoneSet::new(vec![strip_zone.clone()]);
        let more = ZoneSet::new(vec![strip_zone, zone("other", strip(direct(home, 90.0, 5_000.0), 50.0), None)]);
        let mut here = direct(home, 270.0, 50.0);
        let mut fixes = Vec::new();
        for (bearing, seconds) in turns {
            for _ in 0..seconds {
                here = direct(here, bearing, 2.0);
                let second = u32::try_from(fixes.len()).unwrap();
                fixes.push(fix(here, f64::from(second), p95_m));
            }
        }
        let whole = audit(&zones, &fixes, TrackSettings::default());
        let mut live = Auditor::new(&more, TrackSettings::default());
        let mut told = Vec::new();
        for fix in &fixes {
            told.extend(live.push(*fix));
        }
        let rest = live.finish();
        let crossed = told.iter().filter(|event| matches!(event, TrackEvent::Crossed(_))).count();
        prop_assert!(crossed <= whole.crossings.len());
        let of_strip: Vec<_> = rest.visits.iter().filter(|visit| visit.zone.0 == "strip").collect();
        prop_assert_eq!(of_strip.len(), whole.visits.len());
        for (one, other) in of_strip.into_iter().zip(&whole.visits) {
            prop_assert_eq!(one.certainty, other.certainty);
            prop_assert!((one.possible_s.unwrap() - other.possible_s.unwrap()).abs() < 1e-9);
            prop_assert!(one.certain_s.unwrap() <= one.possible_s.unwrap() + 1e-9);
        }
        // every certain second counted by hand from the fixes themselves, to the two ends of each stay
        let boundary = zones.zones()[0].extent.area().unwrap();
        let count = |number: usize| f64::from(u32::try_from(number).unwrap());
        let inside = fixes.iter().filter(|fix| boundary.locate(fix.position).signed_distance.metres() < -p95_m).count();
        let certain_s: f64 = whole.visits.iter().map(|visit| visit.certain_s.unwrap()).sum();
        prop_assert!((certain_s - count(inside)).abs() <= 2.0 * count(whole.visits.len()) + 4.0 * count(whole.crossings.len()) + 2.0);
    }
}

#[test]
fn a_slow_drift_through_a_strip_is_one_stop_as_long_as_the_time_within_the_doubt() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 30.0), None)]);
    // a leg is 5 m long, and the doubt cuts it four times
    let found = audit(&zones, &eastward((-100.0, 130.0), 0.2, 25.0, 3.0), TrackSettings::default());
    let stops = &found.visits[0].stops;
    // 30 m and twice 3 m of doubt at 0.2 m/s; less than 5 s at an end are not measured
    assert_eq!(stops.len(), 1);
    assert!((stops[0].seconds - 180.0).abs() < 5.1, "{stops:?}");
}

#[test]
fn a_gap_just_after_coming_out_may_have_been_spent_inside() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let west = |metres: f64| direct(home, 270.0, metres);
    // 5 m of doubt, and 25 m outside: not yet clear of the zone when the log falls silent for 280 s
    let fixes = [(-15.0, 0.0), (5.0, 10.0), (25.0, 20.0), (25.5, 300.0), (45.0, 310.0), (65.0, 320.0)]
        .map(|(metres, seconds)| fix(west(metres), seconds, 5.0));
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!((found.visits.len(), found.quality.gap_count), (1, 1));
    // 20 m to the edge of the doubt at 2 m/s, and 280 s less 25 m and 25.5 m at 12 kn, 6.17 m/s
    let least_s = 10.0 + 280.0 - 50.5 / 6.1733;
    // and in the 10 s legs before and after it at 12 kn the boat can have turned back to the line: in the first the boat can
    // have stayed until 20 m less the doubt can no more be made up, in the last from 20.5 m off on, for less than 6 s each
    let possible_s = found.visits[0].possible_s.unwrap();
    assert!((least_s..least_s + 12.0).contains(&possible_s), "{possible_s}");
}

#[test]
fn a_boat_faster_than_assumed_went_straight_through_in_a_gap() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 200.0), None)]);
    // 350 m in 40 s are 8.75 m/s, 17 kn, where 12 kn are assumed; more than half as much again is not believed
    let fixes = [(-90.0, 0.0), (-80.0, 1.0), (-70.0, 2.0), (280.0, 42.0), (290.0, 43.0), (300.0, 44.0)]
        .map(|(metres, seconds)| fix(direct(home, 90.0, metres), seconds, 5.0));
    let found = audit(&zones, &fixes, TrackSettings::default());
    let visit = &found.visits[0];
    assert_eq!((found.visits.len(), visit.evidence), (1, Evidence::Gap));
    // 200 m at 8.75 m/s
    assert!((visit.possible_s.unwrap() - 200.0 / 8.75).abs() < 0.1, "{}", visit.possible_s.unwrap());
}

#[test]
fn a_zone_at_the_edge_of_what_could_be_reached_is_reached_within_the_doubt() {
    let home = at(HOME.0, HOME.1);
    let zones = ZoneSet::new(vec![zone("strip", strip(home, 1_000.0), None)]);
    let settings = TrackSettings::default().with_top_speed_kn(3600.0 / 1852.0 * 2.0).unwrap();
    // out and back at 2 m/s in 100 s reaches 100 m, and two fixes good to 5 m spare 10 m of 210 m
    let visits = |offset_m: f64| {
        let place = direct(home, 270.0, offset_m);
        let fixes = [0.0, 1.0, 2.0, 102.0, 103.0, 104.0]
            .map(|seconds| fix(direct(place, 0.0, 0.001 * seconds), seconds, 5.0));
        audit(&zones, &fixes, settings).visits.len()
    };
    assert_eq!((visits(104.9), visits(105.1)), (1, 0));
}

/// An app has to say "you are inside" to somebody who sails in; it heard of a possible visit only.
#[test]
fn a_boat_that_sails_in_is_possibly_and_then_certainly_inside() {
    let mut auditor = Auditor::new(&strip_zone(), TrackSettings::default());
    let mut said = Vec::new();
    for step in 0..80_u32 {
        let east_m = 10.0 * f64::from(step) - 300.0;
        let place = direct(at(HOME.0, HOME.1), 90.0, east_m);
        for event in auditor.push(fix(place, 5.0 * f64::from(step), 5.0)) {
            if let TrackEvent::Entered { certainty, zone_number, at, .. } = &event {
                assert_eq!(*zone_number, 0);
                said.push((*certainty, event.is_certain_entry(), since_noon(at.time)));
            }
        }
    }
    let [(Certainty::Possible, false, first_s), (Certainty::Certain, true, then_s)] = said[..] else {
        panic!("{said:?}")
    };
    // over the line after 150 s; both sides of it in doubt for some metres
    assert!(first_s < 150.0 && (150.0..175.0).contains(&then_s), "{said:?}");
}

/// A place written to a tenth of a degree accused a boat that may have been kilometres away.
#[test]
fn a_fix_of_few_digits_keeps_its_doubt_in_a_log() {
    let typed = Fix::typed(&Position::parse("45.1 -30.1").unwrap(), HorizontalUncertainty::assumed());
    assert_eq!(LoggedFix::from(typed).uncertainty, Some(typed.uncertainty));
    let assumed = Fix::new(typed.position, HorizontalUncertainty::assumed());
    assert_eq!(LoggedFix::from(assumed).uncertainty, None);
}
