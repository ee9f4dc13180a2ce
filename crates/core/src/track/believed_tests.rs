//! Which fixes are believed, and that the time of all others is time in which the boat was somewhere.

use super::test_tracks::{
    HOME, at, audit, audited_in, beside, eastward, fix, is_possible, noon, ordered, ordered_in, since_noon,
    strip_zone,
};
use super::{
    Audit, Auditor, Certainty, Evidence, LogOrder, LogPlace, LoggedFix, OpenEnd, TrackSettings,
    UnplacedRecord,
};
use crate::geodesic::direct;

/// The audit of fixes with records without a place before and behind them, at these seconds.
fn with_unplaced(before_s: &[f64], fixes: &[LoggedFix], after_s: &[f64]) -> Audit {
    let record = |seconds: &f64| UnplacedRecord { time: Some(noon(*seconds)), place: LogPlace::default() };
    let mut order = LogOrder::new(TrackSettings::default());
    for seconds in before_s {
        order.push_unplaced(record(seconds));
    }
    for fix in fixes {
        order.push(*fix);
    }
    for seconds in after_s {
        order.push_unplaced(record(seconds));
    }
    audited_in(&strip_zone(), &order.finish())
}

/// The last fix again and again, each second for so long.
fn repeated(fixes: &mut Vec<LoggedFix>, every_s: f64, for_s: f64) {
    let held = *fixes.last().unwrap();
    let mut passed_s = every_s;
    while passed_s <= for_s {
        fixes.push(LoggedFix { time: Some(noon(since_noon(held.time) + passed_s)), ..held });
        passed_s += every_s;
    }
}

#[track_caller]
fn is_never(found: &Audit) {
    assert!(found.visits.is_empty(), "{:#?}", found.visits);
}

#[test]
fn records_without_a_place_behind_the_last_fix_leave_open_where_the_boat_went() {
    let fixes = beside(300.0, 100.0, 60);
    // 60 s at 12 kn are 370 m, 40 s are 247 m; 10 m are the doubts of the fix
    let found = with_unplaced(&[], &fixes, &[170.0, 190.0, 219.0]);
    is_possible(&found);
    assert_eq!(found.quality.gaps[0].open, Some(OpenEnd::AfterTheLast));
    // 300 m less 5 m of doubt to the line, then inside to the end: 60 s less 300 m / 6.17 m/s
    let possible_s = found.visits[0].possible_s.unwrap();
    assert!((possible_s - (60.0 - 300.0 / 6.173_3)).abs() < 0.5, "{possible_s}");
    is_never(&with_unplaced(&[], &fixes, &[170.0, 199.0]));
    is_never(&ordered(&fixes));
}

#[test]
fn records_without_a_place_before_the_first_fix_leave_open_where_the_boat_came_from() {
    let fixes = beside(300.0, 100.0, 60);
    let found = with_unplaced(&[40.0, 70.0], &fixes, &[]);
    is_possible(&found);
    assert_eq!(found.quality.gaps[0].open, Some(OpenEnd::BeforeTheFirst));
    assert_eq!(found.visits[0].evidence, Evidence::Gap);
    is_never(&with_unplaced(&[60.0, 70.0], &fixes, &[]));
    // between two fixes that are believed the way is looked at all the same
    is_never(&with_unplaced(&[], &fixes, &[110.0, 120.0, 130.0]));
}

#[test]
fn spikes_and_nulls_at_the_ends_are_time_in_which_the_boat_was_somewhere() {
    let mut fixes = beside(300.0, 0.0, 60);
    fixes.extend((60..160).map(|second| fix(at(0.0, 0.0), f64::from(second), 5.0)));
    is_possible(&ordered(&fixes));
    let mut fixes: Vec<LoggedFix> =
        (0..100).map(|second| fix(at(0.0, 0.0), f64::from(second), 5.0)).collect();
    fixes.extend(beside(300.0, 100.0, 60));
    is_possible(&ordered(&fixes));
}

#[test]
fn a_receiver_that_repeats_one_place_to_the_end_leaves_open_where_the_boat_was() {
    // inside: it may have stayed as long as the log goes on
    for minutes in [20.0, 60.0, 120.0] {
        let mut fixes = eastward((-500.0, 400.0), 2.5, 10.0, 5.0);
        repeated(&mut fixes, 10.0, 60.0 * minutes);
        let found = ordered(&fixes);
        let [visit] = found.visits.as_slice() else { panic!("{:#?}", found.visits) };
        assert_eq!(visit.certainty, Certainty::Certain);
        let possible_s = visit.possible_s.unwrap();
        assert!((possible_s - 160.0 - 60.0 * minutes).abs() < 10.0, "{minutes} min: {possible_s}");
        assert!(
            visit.movement.iter().any(|motion| motion.code() == "repeats-one-place"),
            "{:?}",
            visit.movement
        );
        assert_eq!(found.quality.gaps.last().unwrap().open, Some(OpenEnd::Repeats));
    }
    // outside: within twenty minutes at top speed
    let beside_for = |west_m: f64| {
        let mut fixes = beside(west_m, 0.0, 60);
        repeated(&mut fixes, 1.0, 3_600.0);
        ordered(&fixes)
    };
    is_possible(&beside_for(300.0));
    is_possible(&beside_for(7_350.0));
    is_never(&beside_for(7_500.0));
}

#[test]
fn repeats_come_out_behind_the_fix_that_they_repeat() {
    // the receiver freezes at the first fix inside: one visit, not one of repeats beside it
    let mut fixes = eastward((-500.0, 6.0), 2.5, 1.0, 5.0);
    repeated(&mut fixes, 1.0, 600.0);
    assert_eq!(ordered(&fixes).visits.len(), 1);
}

#[test]
fn a_spike_that_needs_more_than_the_assumed_top_speed_accuses_nobody() {
    // 40 m off at 3 kn, farther than what can be reached in the 10 s about the spike; out and back by 150 m in 5 s each, 58 kn
    let mut fixes: Vec<LoggedFix> = beside(40.0, 0.0, 300).into_iter().step_by(5).collect();
    fixes[30].position = direct(fixes[30].position, 90.0, 150.0);
    let found = ordered(&fixes);
    is_possible(&found);
    assert_eq!(found.quality.counts[2], 1);
    // at 1 Hz by 40 m
    let mut fixes = beside(15.0, 0.0, 300);
    fixes[150].position = direct(fixes[150].position, 90.0, 40.0);
    is_possible(&ordered(&fixes));
}

#[test]
fn a_few_fixes_that_an_impossible_step_cuts_off_are_possible_only() {
    let inside = |seconds: f64, far_m: f64| fix(direct(at(HOME.0, HOME.1), 90.0, far_m), seconds, 5.0);
    for few in 1..=9_u32 {
        // a receiver that writes its last known place until it settles
        let mut fixes: Vec<LoggedFix> = (0..few).map(|second| inside(f64::from(second), 250.0)).collect();
        fixes.extend(beside(300.0, f64::from(few), 60));
        let found = ordered(&fixes);
        is_possible(&found);
        assert_eq!(found.quality.counts[3], u64::from(few), "cold start of {few}");
        // and a burst at the end
        let mut fixes = beside(300.0, 0.0, 60);
        fixes.extend((0..few).map(|second| inside(60.0 + f64::from(second), 250.0 + f64::from(second))));
        let found = ordered(&fixes);
        is_possible(&found);
        assert_eq!(found.quality.counts[2], u64::from(few), "burst of {few}");
        // and one in the middle from which the boat does not come back to where it was
        let mut fixes = beside(300.0, 0.0, 60);
        fixes.extend((0..few).map(|second| inside(60.0 + f64::from(second), 250.0 + f64::from(second))));
        fixes.extend(beside(900.0, 60.0 + f64::from(few), 60));
        is_possible(&ordered(&fixes));
    }
}

#[test]
fn a_boat_faster_than_assumed_for_a_while_is_believed() {
    // 20 kn all the way, a fix each 5 s: the log shows it
    let m_per_s = 20.0 * 1852.0 / 3600.0;
    let found = ordered(&eastward((-3_000.0, 3_000.0), m_per_s, 5.0, 5.0));
    assert_eq!((found.visits.len(), found.visits[0].certainty), (1, Certainty::Certain));
    assert_eq!(found.quality.counts, [0; 7]);
}

#[test]
fn a_receiver_frozen_for_less_than_two_minutes_before_a_jump_leaves_a_gap() {
    // 20 m off, frozen for 110 s, then 280 m on in 10 s, 54 kn
    let mut fixes = beside(20.0, 0.0, 60);
    repeated(&mut fixes, 10.0, 110.0);
    let last_s = since_noon(fixes.last().unwrap().time);
    let on = direct(fixes.last().unwrap().position, 0.0, 280.0);
    fixes.extend(
        (0..60)
            .map(f64::from)
            .map(|passed_s| fix(direct(on, 0.0, 2.5 * passed_s), last_s + 10.0 + passed_s, 5.0)),
    );
    let found = ordered(&fixes);
    is_possible(&found);
    assert_eq!((found.quality.gap_count, found.quality.counts[5]), (1, 11));
    let gap = found.quality.gaps[0];
    assert_eq!((since_noon(gap.before.time), gap.seconds), (59.0, Some(120.0)));
    // a boat that lay still for so long and goes on at its speed is believed
    let mut fixes = beside(20.0, 0.0, 60);
    repeated(&mut fixes, 10.0, 110.0);
    let last_s = since_noon(fixes.last().unwrap().time);
    let on = fixes.last().unwrap().position;
    fixes.extend(
        (1..60).map(f64::from).map(|passed_s| fix(direct(on, 0.0, 2.5 * passed_s), last_s + passed_s, 5.0)),
    );
    assert_eq!(ordered(&fixes).quality.counts, [0; 7]);
}

#[test]
fn a_gap_of_unknown_length_is_looked_at_as_if_it_had_taken_an_hour() {
    // the clock is set back by a week; an hour at 12 kn, there and back, reaches 11.1 km
    let set_back = |west_m: f64| {
        let mut fixes = beside(west_m, 0.0, 60);
        for fix in &mut fixes {
            fix.time = Some(noon(since_noon(fix.time) + 7.0 * 86_400.0));
        }
        fixes.extend(beside(west_m, 60.0, 60));
        audit(&strip_zone(), &fixes, TrackSettings::default())
    };
    is_possible(&set_back(9_000.0));
    is_never(&set_back(13_000.0));
    // in whatever order: a log that ends in fixes without times
    let mut fixes = beside(9_000.0, 0.0, 60);
    fixes.extend(beside(9_000.0, 60.0, 20).iter().map(|fix| LoggedFix { time: None, ..*fix }));
    is_possible(&ordered(&fixes));
}

#[test]
fn a_few_fixes_without_a_time_at_an_end_go_on_in_the_step_of_the_log() {
    let mut fixes = eastward((-500.0, 1_500.0), 2.5, 2.0, 5.0);
    let last = fixes.len() - 1;
    for at in [0, 1, last - 1, last] {
        fixes[at].time = None;
    }
    let found = ordered(&fixes);
    let [visit] = found.visits.as_slice() else { panic!("{:#?}", found.visits) };
    assert_eq!((visit.certainty, found.quality.order.times_placed), (Certainty::Certain, 4));
    assert!(visit.certain_s.is_some());
}

#[test]
fn a_leg_out_of_all_proportion_in_a_log_without_times_is_a_gap() {
    let untimed = |fixes: Vec<LoggedFix>| -> Vec<LoggedFix> {
        fixes.iter().map(|fix| LoggedFix { time: None, ..*fix }).collect()
    };
    // fixes 2.5 m apart, 30 m off the line, 800 m missing
    let hole = [beside(30.0, 0.0, 100), beside(30.0, 420.0, 100)].concat();
    let found = ordered(&untimed(hole));
    is_possible(&found);
    assert_eq!(found.quality.gap_count, 1);
    is_never(&ordered(&untimed(beside(30.0, 0.0, 500))));
    // far from the line it is nothing to speak of: twice the way at most
    let hole = [beside(900.0, 0.0, 100), beside(900.0, 420.0, 100)].concat();
    is_never(&ordered(&untimed(hole)));
    // a plan is the straight way, however long
    let plan = TrackSettings { is_plan: true, ..TrackSettings::default() };
    let hole = untimed([beside(30.0, 0.0, 100), beside(30.0, 420.0, 100)].concat());
    is_never(&audit(&strip_zone(), &hole, plan));
}

#[test]
fn silence_that_the_user_calls_the_time_between_trips_is_not_judged() {
    let days = [beside(500.0, 0.0, 60), {
        let mut next = beside(500.0, 0.0, 60);
        for fix in &mut next {
            fix.time = Some(noon(since_noon(fix.time) + 23.0 * 3_600.0));
        }
        next
    }]
    .concat();
    let audited_with = |settings: TrackSettings| audit(&strip_zone(), &days, settings);
    is_possible(&audited_with(TrackSettings::default()));
    let told = TrackSettings { new_trip_after_s: Some(6.0 * 3_600.0), ..TrackSettings::default() };
    let found = audited_with(told);
    is_never(&found);
    assert_eq!(found.quality.pauses, 1);
    is_possible(&audited_with(TrackSettings { new_trip_after_s: Some(24.0 * 3_600.0), ..told }));
}

#[test]
fn hours_of_records_without_a_place_are_no_pause_and_no_trip_that_may_be_left_out() {
    let settings = TrackSettings::default();
    let zones = strip_zone();
    let record =
        |hours: f64| UnplacedRecord { time: Some(noon(3_600.0 * hours)), place: LogPlace::default() };
    let mut auditor = Auditor::new(&zones, settings);
    // twelve hours between two places 600 m apart, a record without a place each hour
    for hour in 1..12 {
        auditor.push_unplaced(&record(f64::from(hour)));
    }
    for fix in [beside(3_000.0, 0.0, 60), beside(3_600.0, 12.0 * 3_600.0, 60)].concat() {
        auditor.push(fix);
    }
    let found = auditor.finish();
    assert_eq!((found.quality.pauses, found.visits.len()), (0, 1));
    // and a day before of which nothing is known
    let mut auditor = Auditor::new(&zones, settings);
    auditor.push_unplaced(&record(-24.0));
    for fix in beside(3_000.0, 0.0, 60) {
        auditor.push(fix);
    }
    let found = auditor.finish();
    assert_eq!((found.quality.lost_trips, found.visits.len()), (1, 0));
}

#[test]
fn records_with_neither_time_nor_place_are_lost_where_no_fixes_on_both_sides_bound_them() {
    let nowhere = UnplacedRecord { time: None, place: LogPlace::default() };
    let lost = |at: usize| {
        let fixes = beside(300.0, 0.0, 10);
        let mut order = LogOrder::new(TrackSettings::default());
        for (number, fix) in fixes.iter().enumerate() {
            if number == at {
                order.push_unplaced(nowhere);
            }
            order.push(*fix);
        }
        if at >= fixes.len() {
            order.push_unplaced(nowhere);
        }
        order.finish().findings.lost
    };
    assert_eq!([lost(0), lost(1), lost(9), lost(10)], [1, 0, 0, 1]);
}

/// A log with a place for each record: fixes, records without a place at these seconds or without a time, and fixes.
fn told(first: &[LoggedFix], between: &[Option<f64>], second: &[LoggedFix]) -> LogOrder {
    let byte = std::cell::Cell::new(0);
    let place = || LogPlace { byte: byte.replace(byte.get() + 50), ..LogPlace::default() };
    let mut order = LogOrder::new(TrackSettings::default());
    for fix in first {
        order.push(LoggedFix { place: place(), ..*fix });
    }
    for seconds in between {
        order.push_unplaced(UnplacedRecord { time: seconds.map(noon), place: place() });
    }
    for fix in second {
        order.push(LoggedFix { place: place(), ..*fix });
    }
    order
}

#[test]
fn hours_in_which_records_without_a_time_stand_are_no_pause() {
    let (evening, morning) = (beside(3_000.0, 0.0, 60), beside(3_600.0, 12.0 * 3_600.0, 60));
    let pauses = |first: &[LoggedFix], between: &[Option<f64>], second: &[LoggedFix]| {
        let found = audited_in(&strip_zone(), &told(first, between, second).finish());
        (found.quality.pauses, found.visits.len())
    };
    assert_eq!(pauses(&evening, &[], &morning), (1, 0));
    assert_eq!(pauses(&evening, &[None], &morning), (0, 1));
    assert_eq!(pauses(&evening, &vec![None; 2_500], &morning), (0, 1));
    // on another day of the same log they stand between other fixes
    let all = [evening.clone(), morning.clone()].concat();
    assert_eq!(pauses(&all[..30], &[None], &all[30..]), (1, 0));
    assert_eq!(pauses(&all[..90], &[None], &all[90..]), (1, 0));
    // fixes with a place and without a time are records of that time as well
    let untimed: Vec<LoggedFix> =
        beside(3_300.0, 60.0, 350).into_iter().map(|fix| LoggedFix { time: None, ..fix }).collect();
    let found =
        audited_in(&strip_zone(), &told(&[evening.clone(), untimed].concat(), &[], &morning).finish());
    assert_eq!((found.quality.pauses, found.visits.len()), (0, 1));
    // told newest first they stand between the same two
    let back = |fixes: &[LoggedFix]| fixes.iter().rev().copied().collect::<Vec<_>>();
    assert_eq!(pauses(&back(&morning), &[None], &back(&evening)), (0, 1));
    // nor does the word of the user that a new trip begins hold where records stand
    let mut next = beside(3_000.0, 0.0, 60);
    for fix in &mut next {
        fix.time = Some(noon(since_noon(fix.time) + 12.0 * 3_600.0));
    }
    let with_word = |between: &[Option<f64>]| {
        let mut log = told(&evening, between, &next).finish();
        log.settings.new_trip_after_s = Some(6.0 * 3_600.0);
        audited_in(&strip_zone(), &log).quality.pauses
    };
    assert_eq!((with_word(&[]), with_word(&[None])), (1, 0));
}

#[test]
fn of_records_without_a_place_few_are_held_and_all_are_counted() {
    let fixes = beside(3_000.0, 0.0, 60);
    let seconds: Vec<Option<f64>> = (60..100_000).map(|second| Some(f64::from(second))).collect();
    let log = told(&fixes, &seconds, &[]).finish();
    assert_eq!((log.findings.unplaced, log.findings.lost), (99_940, 0));
    assert!(log.unplaced[0].len() < 200, "{}", log.unplaced[0].len());
    let ends = [log.unplaced[0].first(), log.unplaced[0].last()].map(|record| record.unwrap().time);
    assert_eq!(ends, [Some(noon(60.0)), Some(noon(99_999.0))]);
    // to the last of them the boat was somewhere
    let found = audited_in(&strip_zone(), &log);
    assert_eq!(found.quality.gaps[0].seconds, Some(99_940.0));
    // without a time one stands for all; what is too much to hold in no order is lost
    let log = told(&fixes, &vec![None; 100_000], &fixes[..0]).finish();
    assert_eq!((log.findings.unplaced, log.findings.lost, log.unplaced[0].len()), (100_000, 100_000, 1));
    let jumping: Vec<Option<f64>> = (0..300_000).map(|at| Some(1e5 * f64::from(at % 2))).collect();
    let log = told(&fixes, &jumping, &[]).finish();
    assert_eq!(log.findings.unplaced, 300_000);
    assert_eq!((log.unplaced[0].len(), log.findings.lost), (LogOrder::MOST_HELD, 40_000));
}

#[test]
fn one_fix_dated_a_day_early_is_no_trip_of_its_own() {
    let mut fixes = beside(300.0, 0.0, 60);
    fixes[30].time = Some(noon(30.0 - 86_400.0));
    let found = ordered(&fixes);
    assert_eq!((found.quality.counts[1], found.quality.lost_trips), (1, 0));
    is_never(&found);
}

#[test]
fn a_receiver_that_stands_still_may_flicker_in_the_last_digit() {
    // 300 m off for twenty minutes, to a centimetre, then 130 m on in 5 s
    let mut fixes = beside(300.0, 0.0, 60);
    repeated(&mut fixes, 5.0, 1_200.0);
    for (number, fix) in fixes.iter_mut().enumerate().skip(60) {
        fix.position = direct(fix.position, 90.0, if number % 3 == 0 { 0.011 } else { 0.0 });
    }
    let last_s = since_noon(fixes.last().unwrap().time);
    let on = direct(fixes.last().unwrap().position, 0.0, 130.0);
    fixes.extend(
        (0..60)
            .map(f64::from)
            .map(|passed_s| fix(direct(on, 0.0, 2.5 * passed_s), last_s + 5.0 + passed_s, 5.0)),
    );
    let found = ordered(&fixes);
    is_possible(&found);
    assert_eq!((found.quality.counts[5], found.quality.gap_count), (240, 1));
}

#[test]
fn a_few_fixes_between_a_gap_and_an_impossible_step_are_possible_only() {
    let aside = |fixes: &mut [LoggedFix]| {
        for fix in fixes {
            fix.position = direct(fix.position, 90.0, 500.0);
        }
    };
    for (few, gap_s) in [(1, 60.0), (2, 60.0), (9, 120.0), (9, 300.0)] {
        let mut first = beside(300.0, 0.0, 120);
        let mut second = beside(300.0, 119.0 + gap_s, 200);
        aside(&mut second[..few]);
        is_possible(&ordered(&[first.clone(), second.clone()].concat()));
        second = beside(300.0, 119.0 + gap_s, 200);
        aside(&mut first[120 - few..]);
        is_possible(&ordered(&[first, second].concat()));
    }
}

/// A second trip the same night, a kilometre off the strip and eight hours on, a fix a second.
fn next_trip() -> Vec<LoggedFix> {
    let mut fixes = beside(1_000.0, 0.0, 120);
    for fix in &mut fixes {
        fix.time = Some(noon(since_noon(fix.time) + 8.0 * 3_600.0));
    }
    fixes
}

#[test]
fn the_end_of_a_trip_is_an_end_though_another_trip_follows() {
    let first = || beside(300.0, 0.0, 120);
    let night_s = 8.0 * 3_600.0;
    let with_records = |at_s: &[f64]| with_unplaced(at_s, &[first(), next_trip()].concat(), &[]);
    is_never(&with_records(&[]));
    // the log goes on without a place behind the first, or before the second
    for records in [(0..20).map(|step| 130.0 + 100.0 * f64::from(step)).collect::<Vec<_>>(), vec![1_900.0]] {
        let found = with_records(&records);
        is_possible(&found);
        assert_eq!((found.quality.pauses, found.quality.lost_trips), (1, 0));
    }
    is_possible(&with_records(&[night_s - 1_800.0]));
    // one place repeated to the end of the first
    let mut held = first();
    repeated(&mut held, 10.0, 2_000.0);
    let found = ordered(&[held, next_trip()].concat());
    is_possible(&found);
    assert_eq!(found.quality.gaps[0].open, Some(OpenEnd::Repeats));
    // a burst at its end, or before the second
    let mut burst = first();
    for fix in &mut burst[111..] {
        fix.position = direct(fix.position, 90.0, 500.0);
    }
    is_possible(&ordered(&[burst, next_trip()].concat()));
    let mut burst = next_trip();
    for fix in &mut burst[..9] {
        fix.position = direct(fix.position, 90.0, 1_200.0);
    }
    is_possible(&ordered(&[first(), burst].concat()));
}

#[test]
fn a_spike_faster_than_the_speed_that_was_given_accuses_nobody() {
    // 40 m off, a fix each 10 s; one 50 m inside: 90 m less 10 m of doubt in 10 s are 15.6 kn, out and back
    let mut fixes: Vec<LoggedFix> = beside(40.0, 0.0, 300).into_iter().step_by(10).collect();
    fixes[15].position = direct(fixes[15].position, 90.0, 90.0);
    let with_top_speed = |knots: f64| {
        let settings = TrackSettings::default().with_top_speed_kn(knots).unwrap();
        ordered_in(&strip_zone(), &fixes, settings)
    };
    is_possible(&with_top_speed(12.0));
    assert_eq!(with_top_speed(20.0).visits[0].certainty, Certainty::Certain);
    // nor does a road driven afterwards make it so
    let mut road: Vec<LoggedFix> = eastward((0.0, 12_000.0), 25.0, 5.0, 5.0);
    for fix in &mut road {
        fix.position = direct(fix.position, 180.0, 20_000.0);
        fix.time = Some(noon(since_noon(fix.time) + 4_000.0));
    }
    let with_road = [fixes.clone(), road].concat();
    let settings = TrackSettings::default().with_top_speed_kn(12.0).unwrap();
    let found = ordered_in(&strip_zone(), &with_road, settings);
    assert!(found.quality.order.shown_kn.is_some_and(|knots| knots > 40.0));
    is_possible(&found);
}

#[test]
fn a_leg_out_of_all_proportion_and_back_accuses_nobody_in_a_log_without_times() {
    let untimed = |count: usize| {
        let mut fixes = beside(100.0, 0.0, 300);
        for fix in &mut fixes[150..150 + count] {
            fix.position = direct(fix.position, 90.0, 300.0);
        }
        fixes.iter().map(|fix| LoggedFix { time: None, ..*fix }).collect::<Vec<_>>()
    };
    is_possible(&ordered(&untimed(1)));
    is_possible(&ordered(&untimed(5)));
    assert_eq!(ordered(&untimed(60)).visits[0].certainty, Certainty::Certain);
}

#[test]
fn repeats_at_the_end_leave_open_where_the_boat_went_whatever_the_step_and_however_few() {
    // 280 m off, and one place for 20 min; the twelve knots make that way in less than a minute
    for step_s in [10.0, 29.0, 31.0, 60.0, 300.0] {
        let mut fixes = beside(280.0, 0.0, 60);
        repeated(&mut fixes, step_s, 1_200.0);
        let found = ordered(&fixes);
        is_possible(&found);
        assert_eq!(found.quality.gaps.last().unwrap().open, Some(OpenEnd::Repeats), "{step_s} s");
    }
    // 40 m off at 5 kn, and then at one place for less than two minutes
    for for_s in [20.0, 60.0, 119.0] {
        let mut fixes = beside(40.0, 0.0, 60);
        repeated(&mut fixes, 1.0, for_s);
        is_possible(&ordered(&fixes));
    }
    // a boat that lies still and goes on is where it says
    let mut fixes = beside(100.0, 0.0, 60);
    repeated(&mut fixes, 1.0, 60.0);
    fixes.extend(
        beside(100.0, 0.0, 120)
            .into_iter()
            .skip(60)
            .map(|fix| LoggedFix { time: Some(noon(since_noon(fix.time) + 60.0)), ..fix }),
    );
    is_never(&ordered(&fixes));
}

#[test]
fn a_row_earlier_than_all_others_is_put_before_them() {
    // 60 m off at noon; the others 200 m off and going away, from five minutes later on
    let early = beside(60.0, 0.0, 1)[0];
    let others = beside(200.0, 300.0, 100);
    let told_first = ordered(&[vec![early], others.clone()].concat());
    is_possible(&told_first);
    for place in [50, 100] {
        let mut fixes = others.clone();
        fixes.insert(place, early);
        let found = ordered(&fixes);
        is_possible(&found);
        assert_eq!(found.visits[0].possible_s, told_first.visits[0].possible_s, "as row {place}");
    }
}

#[test]
fn fixes_without_a_time_at_an_end_go_on_in_the_step_of_the_log() {
    // 800 m off: 8 steps of 20 s leave open 493 m at 12 kn
    let mut fixes: Vec<LoggedFix> = beside(800.0, 0.0, 600).into_iter().step_by(20).collect();
    let count = fixes.len();
    for fix in &mut fixes[count - 8..] {
        fix.time = None;
    }
    let found = ordered(&fixes);
    assert_eq!((found.quality.order.times_placed, found.quality.counts.iter().sum::<u64>()), (8, 0));
    assert_eq!(found.quality.order.shown_kn, None);
    is_never(&found);
    // 25 m off, 20 s apart: 61 m are in reach
    let mut fixes: Vec<LoggedFix> = beside(25.0, 0.0, 80).into_iter().step_by(20).collect();
    fixes.extend(beside(400.0, 200.0, 600).into_iter().step_by(20));
    for fix in &mut fixes[..4] {
        fix.time = None;
    }
    is_possible(&ordered(&fixes));
}
