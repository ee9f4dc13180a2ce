//! What is not known of a log's times and places never decides: it makes a visit possible, and takes none away.

use super::test_tracks::{
    HOME, at, audit, beside, eastward, fix, is_possible, noon, ordered, ordered_in, since_noon, strip,
    strip_zone, zone,
};
use super::{Audit, Auditor, Certainty, LogPlace, LoggedFix, OpenEnd, TrackSettings, UnplacedRecord};
use crate::geodesic::direct;
use crate::rule::{Hours, When};
use crate::zone::{Effective, ZoneSet};
use crate::{AccuracyKind, HorizontalUncertainty, Position, Tristate};

fn without_time(one: &LoggedFix) -> LoggedFix {
    LoggedFix { time: None, ..*one }
}

#[test]
fn one_fix_without_a_time_hides_no_gap() {
    let (early, late) = (beside(300.0, 0.0, 100), beside(300.0, 1_000.0, 100));
    let plain = ordered(&[early.clone(), late.clone()].concat());
    is_possible(&plain);
    let between = without_time(&beside(300.0, 100.0, 1)[0]);
    for found in [
        ordered(&[early.clone(), vec![between], late.clone()].concat()),
        // and where nobody put the log in order
        audit(&strip_zone(), &[early, vec![between], late].concat(), TrackSettings::default()),
    ] {
        is_possible(&found);
        let longest_s = |found: &Audit| found.visits[0].possible_s.unwrap();
        assert!((longest_s(&found) - longest_s(&plain)).abs() < 1.0, "{}", longest_s(&found));
    }
}

#[test]
fn many_fixes_without_a_time_are_not_spread_over_a_gap() {
    let (early, late) = (beside(800.0, 0.0, 100), beside(800.0, 690.0, 100));
    let untimed: Vec<LoggedFix> = beside(800.0, 100.0, 20).iter().map(without_time).collect();
    let found = ordered(&[early, untimed, late].concat());
    is_possible(&found);
    assert_eq!((found.quality.order.times_placed, found.quality.counts[6]), (0, 20));
}

#[test]
fn a_fix_without_a_time_inside_a_zone_in_a_gap_is_no_visit_at_a_known_time() {
    let (early, late) = (beside(300.0, 0.0, 60), beside(300.0, 600.0, 60));
    let inside = LoggedFix { position: direct(at(HOME.0, HOME.1), 90.0, 400.0), ..without_time(&early[0]) };
    let told = [early, vec![inside], late].concat();
    let mut later = zone("strip", strip(at(HOME.0, HOME.1), 1_000.0), None);
    later.effective = Effective { from: Some(noon(240.0)), ..Effective::default() };
    let found = ordered_in(&ZoneSet::new(vec![later.clone()]), &told, TrackSettings::default());
    is_possible(&found);
    assert!(found.visits.iter().all(|visit| visit.in_force == Tristate::Undecided));
    later.effective = Effective { until: Some(noon(240.0)), ..Effective::default() };
    let found = ordered_in(&ZoneSet::new(vec![later]), &told, TrackSettings::default());
    assert!(found.visits.iter().any(|visit| visit.binds != Tristate::No), "{:#?}", found.visits);
}

#[test]
fn a_placed_time_does_not_tell_what_was_in_force() {
    // inside at one fix, which was made at some moment of 20 s
    let home = at(HOME.0, HOME.1);
    let mut told: Vec<LoggedFix> = (0..20_u32)
        .map(|step| {
            let west_m = if step == 10 { -60.0 } else { 60.0 };
            // never one place twice, which would be a receiver that stands still
            let place = direct(direct(home, 270.0, west_m), 0.0, f64::from(step));
            fix(place, 20.0 * f64::from(step), 5.0)
        })
        .collect();
    told[10].time = None;
    let certain = |from_s: f64| {
        let mut later = zone("strip", strip(home, 1_000.0), None);
        later.effective = Effective { from: Some(noon(from_s)), ..Effective::default() };
        let found = ordered_in(&ZoneSet::new(vec![later]), &told, TrackSettings::default());
        found.visits.iter().map(|visit| visit.in_force).collect::<Vec<_>>()
    };
    // its neighbours were made at 180 s and 220 s, farther apart than a gap
    assert!(certain(200.0).iter().all(|in_force| *in_force == Tristate::Undecided), "{:?}", certain(200.0));
}

#[test]
fn parts_in_swapped_order_within_one_stretch_leave_the_gap_between_them() {
    let (early, late) = (beside(300.0, 0.0, 100), beside(300.0, 1_000.0, 100));
    let found = ordered(&[late.clone(), early.clone()].concat());
    is_possible(&found);
    assert_eq!((found.quality.gap_count, found.quality.order.boats), (1, 0));
    // a few fixes of the part before stand behind
    let found = ordered(&[late.clone(), early[95..].to_vec()].concat());
    is_possible(&found);
    // nobody put it in order: how long it was between the two is not known, but that there is something between is
    let found = audit(&strip_zone(), &[late, early].concat(), TrackSettings::default());
    assert_eq!((found.quality.gap_count, found.quality.gaps[0].seconds), (1, None));
}

#[test]
fn a_clock_set_back_over_a_hole_is_no_second_boat() {
    for back_s in [30.0, 99.0, 150.0, 3_600.0] {
        let first = beside(60.0, 0.0, 200);
        let second = beside(60.0, 280.0, 200).into_iter();
        let back =
            second.map(|fix| LoggedFix { time: Some(noon(since_noon(fix.time) - 80.0 - back_s)), ..fix });
        is_possible(&ordered(&first.into_iter().chain(back).collect::<Vec<_>>()));
    }
    // without a hole it goes on: 18 s are what a receiver is off by that has not heard of the leap seconds yet
    let first = beside(60.0, 0.0, 200);
    let second = beside(60.0, 200.0, 200).into_iter();
    let back = second.map(|fix| LoggedFix { time: Some(noon(since_noon(fix.time) - 18.0)), ..fix });
    assert!(ordered(&first.into_iter().chain(back).collect::<Vec<_>>()).visits.is_empty());
}

#[test]
fn a_clock_set_back_inside_takes_nothing_from_what_was_in_force_before() {
    // twenty minutes inside, the clock ten minutes back, and out; in force for the last of the twenty by the first clock
    let first = beside(-160.0, 0.0, 1_200);
    let second = beside(-160.0, 1_200.0, 300).into_iter();
    let back = second.map(|fix| LoggedFix { time: Some(noon(since_noon(fix.time) - 600.0)), ..fix });
    let told: Vec<_> = first.into_iter().chain(back).collect();
    let mut later = strip_zone().zones()[0].clone();
    let (from, until) = (Some(noon(1_000.0)), Some(noon(1_190.0)));
    later.effective = Effective { from, until };
    let found = ordered_in(&ZoneSet::new(vec![later]), &told, TrackSettings::default());
    assert!(found.visits.iter().any(|visit| visit.in_force == Tristate::Yes), "{:#?}", found.visits);
}

#[test]
fn a_clock_set_back_within_a_visit_leaves_a_gap_in_it() {
    let inside = beside(-200.0, 0.0, 60);
    let back: Vec<LoggedFix> = beside(-200.0, 60.0, 60)
        .into_iter()
        .map(|fix| LoggedFix { time: Some(noon(since_noon(fix.time) - 3_600.0)), ..fix })
        .collect();
    let found = audit(&strip_zone(), &[inside, back].concat(), TrackSettings::default());
    assert_eq!(found.quality.gap_count, 1);
    assert_eq!(found.visits[0].certainty, Certainty::Certain);
}

#[test]
fn a_long_pause_at_one_place_within_one_stretch_is_a_gap() {
    for hours in [5.9, 6.1, 20.0] {
        let evening = beside(800.0, 0.0, 100);
        let morning: Vec<LoggedFix> = beside(800.0, 100.0, 100)
            .into_iter()
            .map(|fix| LoggedFix { time: Some(noon(since_noon(fix.time) + 3_600.0 * hours)), ..fix })
            .collect();
        let found = ordered(&[evening.clone(), morning.clone()].concat());
        is_possible(&found);
        assert_eq!(found.quality.pauses, 0);
        // another segment says that another trip began
        let mut other = morning;
        for fix in &mut other {
            fix.place.stretch = 1;
        }
        let found = ordered(&[evening, other].concat());
        assert_eq!(found.quality.pauses, u64::from(hours > 6.0), "{hours} h");
    }
}

#[test]
fn an_end_that_nobody_knows_is_listed_behind_a_thousand_gaps() {
    let far = direct(at(HOME.0, HOME.1), 270.0, 900_000.0);
    let zones = strip_zone();
    let mut auditor = Auditor::new(&zones, TrackSettings::default());
    for step in 0..1_005_u32 {
        auditor.push(fix(direct(far, 0.0, 5.0 * f64::from(step)), 40.0 * f64::from(step), 5.0));
    }
    let until = noon(1_004.0 * 40.0 + 3_600.0);
    auditor.push_unplaced(&UnplacedRecord { time: Some(until), place: LogPlace::default() });
    let found = auditor.finish();
    assert_eq!(found.quality.gap_count, 1_005);
    assert_eq!(found.quality.gaps[1_000].open, Some(OpenEnd::AfterTheLast));
}

#[test]
fn the_first_and_the_last_time_are_those_of_all_that_was_heard() {
    let zones = strip_zone();
    let heard = |fixes: &[LoggedFix], unplaced: &[f64]| {
        let mut auditor = Auditor::new(&zones, TrackSettings::default());
        for one in fixes {
            auditor.push(*one);
        }
        for seconds in unplaced {
            let record = UnplacedRecord { time: Some(noon(*seconds)), place: LogPlace::default() };
            auditor.push_unplaced(&record);
        }
        let quality = auditor.finish().quality;
        (since_noon(quality.first_time), since_noon(quality.last_time))
    };
    let fixes = beside(3_000.0, 100.0, 60);
    assert_eq!(heard(&fixes, &[]), (100.0, 159.0));
    // a last row out of order, records without a place on either side, and a receiver that had no date yet
    let late = [fixes.clone(), beside(3_000.0, 50.0, 1)].concat();
    assert_eq!(heard(&late, &[]), (50.0, 159.0));
    assert_eq!(heard(&fixes, &[2_000.0, 10.0]), (10.0, 2_000.0));
    assert_eq!(heard(&fixes, &[-1.5e9]), (100.0, 159.0));
}

#[test]
fn a_visit_with_a_part_of_unknown_length_tells_both_times_in_force_or_neither() {
    let mut zones = vec![zone("strip", strip(at(HOME.0, HOME.1), 1_000.0), None)];
    let clock = |hour| jiff::civil::time(hour, 0, 0, 0);
    zones[0].when = When::Hours(Hours { from: clock(11), to: clock(14) });
    let zones = ZoneSet::new(zones);
    let inside = |metres: f64, seconds: f64| fix(direct(at(HOME.0, HOME.1), 90.0, metres), seconds, 5.0);
    for untimed in 1..5_u32 {
        let between = (0..untimed).map(|step| {
            let place = LogPlace { stretch: 1 + step, ..LogPlace::default() };
            LoggedFix { place, ..without_time(&inside(300.0 + 5.0 * f64::from(step), 0.0)) }
        });
        let last =
            LoggedFix { place: LogPlace { stretch: 9, ..LogPlace::default() }, ..inside(320.0, 1_551.0) };
        let fixes: Vec<LoggedFix> = [inside(300.0, 0.0)].into_iter().chain(between).chain([last]).collect();
        for visit in audit(&zones, &fixes, TrackSettings::default()).visits {
            let known = visit.certain_s.zip(visit.possible_s);
            let in_force = visit.in_force_certain_s.zip(visit.in_force_possible_s);
            assert_eq!(visit.in_force_certain_s.is_some(), visit.in_force_possible_s.is_some(), "{visit:#?}");
            assert_eq!(known.is_some(), in_force.is_some(), "{visit:#?}");
            let (Some((_, possible_s)), Some((sure_s, perhaps_s))) = (known, in_force) else { continue };
            assert!(sure_s <= perhaps_s && perhaps_s <= possible_s, "{visit:#?}");
        }
    }
}

#[test]
fn pauses_are_counted_beyond_the_gaps_that_are_listed() {
    let far = direct(at(HOME.0, HOME.1), 270.0, 900_000.0);
    let mut told: Vec<LoggedFix> = (0..1_005_u32)
        .map(|step| fix(direct(far, 0.0, 5.0 * f64::from(step)), 40.0 * f64::from(step), 5.0))
        .collect();
    let end_s = since_noon(told[1_004].time) + 12.0 * 3_600.0;
    told.extend((0..20).map(|step| fix(far, end_s + f64::from(step), 5.0)));
    let found = ordered(&told);
    // of each kind a thousand: the pause at the end is one of its own
    assert_eq!((found.quality.gaps.len(), found.quality.pauses), (1_001, 1));
    assert!(found.quality.gaps[1_000].between_trips);
}

#[test]
fn a_receiver_frozen_after_a_jump_with_growing_doubt_is_no_boat_at_anchor() {
    let zones = strip_zone();
    let (west, east) = (direct(at(HOME.0, HOME.1), 270.0, 20.0), direct(at(HOME.0, HOME.1), 90.0, 1_200.0));
    let p95 = |metres: f64| Some(HorizontalUncertainty::given(metres, AccuracyKind::P95).unwrap());
    let told_with = |growth_m: f64| {
        let mut told: Vec<LoggedFix> = (0..21)
            .map(|step| fix(direct(west, 270.0, 20.0 - f64::from(step)), f64::from(step), 3.0))
            .collect();
        told.extend((0..300).map(|step| LoggedFix {
            uncertainty: p95(3.0 + growth_m * f64::from(step)),
            ..fix(east, 21.0 + f64::from(step), 3.0)
        }));
        told.extend(
            (1..40).map(|step| fix(direct(east, 90.0, 1.5 * f64::from(step)), 320.0 + f64::from(step), 3.0)),
        );
        audit(&zones, &told, TrackSettings::default())
    };
    for growth_m in [0.0, 0.02] {
        let found = told_with(growth_m);
        assert!(found.quality.gaps.iter().any(|gap| gap.impossible), "{growth_m}");
        assert!(found.visits.iter().all(|visit| visit.certainty == Certainty::Possible), "{growth_m}");
    }
}

#[test]
fn a_receiver_that_jumps_off_faster_than_it_goes_on_did_not_lie_still() {
    let before = beside(300.0, 0.0, 200);
    let held = before[199];
    let frozen = (1..=360).map(|step| LoggedFix { time: Some(noon(199.0 + 10.0 * f64::from(step))), ..held });
    let told_with = |jump_m: f64, m_per_s: f64| {
        let on = (0..100).map(f64::from).map(|step| {
            fix(direct(held.position, 0.0, jump_m + 10.0 * m_per_s * step), 3_809.0 + 10.0 * step, 5.0)
        });
        ordered(&before.iter().copied().chain(frozen.clone()).chain(on).collect::<Vec<_>>())
    };
    is_possible(&told_with(55.0, 1.5));
    // a boat as fast as that goes on like this
    assert!(told_with(55.0, 5.0).visits.is_empty());
    assert!(told_with(15.0, 1.5).visits.is_empty());
}

#[test]
fn stretches_without_times_are_not_joined_for_certain() {
    let home = at(HOME.0, HOME.1);
    let along = |start: Position, stretch: u32, time: Option<f64>| -> Vec<LoggedFix> {
        (0..30)
            .map(|step| {
                let mut one = fix(direct(start, 0.0, 10.0 * f64::from(step)), 0.0, 5.0);
                one.time = time.map(noon);
                one.place.stretch = stretch;
                one
            })
            .collect()
    };
    let (west, east) = (direct(home, 270.0, 500.0), direct(home, 90.0, 1_500.0));
    for time in [None, Some(0.0)] {
        is_possible(&ordered(&[along(west, 0, time), along(east, 1, time)].concat()));
        // nor is a long way within one
        is_possible(&ordered(&[along(west, 0, time), along(east, 0, time)].concat()));
    }
    // of a plan the way between its points is the plan
    let told = [along(west, 0, None), along(east, 0, None)].concat();
    let plan = audit(&strip_zone(), &told, TrackSettings { is_plan: true, ..TrackSettings::default() });
    assert_eq!(plan.visits[0].certainty, Certainty::Certain);
}

#[test]
fn wrong_fixes_do_not_bear_each_other_out() {
    for wrong in 1..=8 {
        let mut told = beside(300.0, 0.0, 200);
        for fix in &mut told[100..100 + wrong] {
            fix.position = direct(fix.position, 90.0, 800.0);
        }
        let found = ordered(&told);
        is_possible(&found);
        assert_eq!(found.quality.counts[2], wrong as u64, "{wrong}");
        assert_eq!(found.quality.gap_count, 0, "{wrong}");
    }
    // a jump that goes on: one side is wrong, and nobody knows which
    let mut told = beside(300.0, 0.0, 200);
    for fix in &mut told[100..] {
        fix.position = direct(fix.position, 90.0, 800.0);
    }
    is_possible(&ordered(&told));
}

#[test]
fn a_log_that_tells_each_fix_twice_has_the_visits_of_the_log_told_once() {
    let once = eastward((-500.0, 1_500.0), 2.5, 6.0, 5.0);
    let twice: Vec<LoggedFix> = once.iter().flat_map(|fix| [*fix, *fix]).collect();
    let (once, twice) = (ordered(&once), ordered(&twice));
    assert_eq!(twice.quality.counts[0], once.quality.fixes);
    assert_eq!(once.visits, twice.visits);
}

#[test]
fn a_receiver_frozen_in_a_zone_fills_no_memory() {
    let mut told = beside(-300.0, 0.0, 60);
    let held = told[59];
    told.extend((1..=60_000).map(|step| LoggedFix { time: Some(noon(59.0 + f64::from(step))), ..held }));
    let found = ordered(&told);
    assert!(found.visits.iter().map(|visit| visit.ruled.len()).sum::<usize>() < 10);
    assert!(found.visits.iter().any(|visit| visit.certainty == Certainty::Certain));
}

#[test]
fn times_cut_to_the_minute_with_a_break_in_it_are_of_one_boat() {
    let mut told: Vec<LoggedFix> = beside(3_000.0, 0.0, 1_200).into_iter().step_by(10).collect();
    for fix in &mut told {
        fix.time = Some(noon((since_noon(fix.time) / 60.0).floor() * 60.0));
    }
    for fix in &mut told[63..] {
        fix.place.stretch = 1;
    }
    let found = ordered(&told);
    assert_eq!((found.quality.order.boats, found.quality.gap_count), (0, 0));
}

#[test]
fn times_that_are_taken_away_are_counted() {
    // one time for a kilometre, between others
    let mut told = beside(3_000.0, 0.0, 600);
    for fix in &mut told[100..500] {
        fix.time = Some(noon(100.0));
    }
    let found = ordered(&told);
    assert_eq!(found.quality.order.times_taken + found.quality.order.times_placed, 399);
}
