//! A receiver that jumps accuses nobody, and clears nobody, on either side of the jump that the rest does not bear out.

use super::test_tracks::{
    HOME, at, beside, fix, is_possible, noon, ordered, ordered_in, since_noon, strip, strip_zone, zone,
};
use super::{Audit, Certainty, LogOrder, LogPlace, LoggedFix, TrackSettings, UnplacedRecord};
use crate::geodesic::direct;
use crate::zone::ZoneSet;

/// So many fixes of one a second from a time on, some metres inside the strip, each at another place.
fn inside(from_s: f64, many: u32) -> Vec<LoggedFix> {
    let place = |second: u32| direct(at(HOME.0, HOME.1), 90.0, 250.0 + f64::from(second % 5));
    (0..many).map(|second| fix(place(second), from_s + f64::from(second), 5.0)).collect()
}

/// The same, so far north of where it was.
fn moved(fixes: Vec<LoggedFix>, north_m: f64) -> Vec<LoggedFix> {
    fixes.into_iter().map(|fix| LoggedFix { position: direct(fix.position, 0.0, north_m), ..fix }).collect()
}

fn of(parts: &[Vec<LoggedFix>]) -> Audit {
    ordered(&parts.concat())
}

#[track_caller]
fn is_certain(found: &Audit) {
    assert!(found.visits.iter().any(|visit| visit.certainty == Certainty::Certain), "{:#?}", found.visits);
}

#[test]
fn a_receiver_that_takes_minutes_to_settle_accuses_nobody() {
    for many in [1, 9, 10, 30, 150] {
        let from = f64::from(many);
        let found = of(&[inside(0.0, many), beside(300.0, from, 700)]);
        is_possible(&found);
        assert_eq!(found.quality.counts[3], u64::from(many), "cold start of {many}");
        let found = of(&[beside(300.0, 0.0, 700), inside(700.0, many)]);
        is_possible(&found);
        assert_eq!(found.quality.counts[2], u64::from(many), "burst of {many}");
        let found = of(&[beside(300.0, 0.0, 700), inside(700.0, many), beside(300.0, 700.0 + from, 700)]);
        is_possible(&found);
        assert_eq!(found.quality.counts[2], u64::from(many), "burst of {many} in the middle");
    }
}

#[test]
fn where_two_sides_of_a_jump_are_as_good_neither_accuses() {
    for (wrong, honest) in [(60, 60), (100, 120), (300, 500), (360, 5_000), (600, 600)] {
        let until = f64::from(honest);
        is_possible(&of(&[beside(300.0, 0.0, honest), inside(until, wrong)]));
        is_possible(&of(&[inside(0.0, wrong), beside(300.0, f64::from(wrong), honest)]));
    }
}

#[test]
fn what_lies_between_two_sides_as_good_stays_possible() {
    // from 500 m west of the strip to 500 m east of it within a minute, 65 knots
    let (before, after) = (beside(500.0, 0.0, 100), beside(-1_500.0, 160.0, 100));
    is_possible(&of(&[before, after]));
}

#[test]
fn a_receiver_that_wanders_off_and_snaps_back_accuses_nobody() {
    for seconds in [60, 150] {
        // 5 m/s towards the strip from 200 m off it
        let walk = (0..seconds).map(|second| {
            let along = direct(at(HOME.0, HOME.1), 0.0, 2.5 * 900.0);
            fix(direct(along, 90.0, -200.0 + 5.0 * f64::from(second)), 900.0 + f64::from(second), 5.0)
        });
        let back = beside(200.0, 900.0 + f64::from(seconds), 1_500);
        is_possible(&of(&[beside(200.0, 0.0, 900), walk.collect(), back]));
    }
}

#[test]
fn one_fix_beside_a_silence_is_weighed_by_itself() {
    // 60 honest fixes, one inside, a minute of silence, 200 honest ones; and the other way round
    let wrong = |second: f64| moved(inside(second, 1), 2.5 * second);
    is_possible(&of(&[beside(300.0, 0.0, 60), wrong(60.0), beside(300.0, 120.0, 200)]));
    is_possible(&of(&[beside(300.0, 0.0, 200), wrong(260.0), beside(300.0, 261.0, 60)]));
    let wrong = moved(inside(2_120.0, 100), 2.5 * 2_120.0);
    is_possible(&of(&[beside(300.0, 0.0, 2_000), wrong, beside(300.0, 2_220.0, 150)]));
}

#[test]
fn what_only_jumps_lead_to_is_in_doubt() {
    // behind a burst far off there is one fix inside, or five between two bursts
    let far = |from_s: f64, many| moved(beside(900.0, from_s, many), 0.0);
    let wrong = |second: f64, many| moved(inside(second, many), 2.5 * second);
    is_possible(&of(&[beside(200.0, 0.0, 900), far(900.0, 40), wrong(940.0, 1)]));
    let honest = beside(200.0, 965.0, 900);
    is_possible(&of(&[beside(200.0, 0.0, 900), far(900.0, 30), wrong(930.0, 5), far(935.0, 30), honest]));
    is_possible(&of(&[wrong(0.0, 9), far(9.0, 5), beside(200.0, 14.0, 900)]));
}

#[test]
fn a_receiver_that_changes_between_two_places_accuses_nobody() {
    for (there, here) in [(11, 9), (60, 40), (120, 100)] {
        let mut fixes = Vec::new();
        for turn in 0..8 {
            let from_s = f64::from(turn * (there + here));
            fixes.extend(moved(inside(from_s, there), 2.5 * from_s));
            fixes.extend(beside(300.0, from_s + f64::from(there), here));
        }
        is_possible(&ordered(&fixes));
    }
}

#[test]
fn what_is_far_from_a_jump_stays_certain() {
    // an hour inside, and a burst half a kilometre off in the middle of it
    let mut fixes = beside(-300.0, 0.0, 3_600);
    for fix in &mut fixes[1_800..1_830] {
        fix.position = direct(fix.position, 90.0, 500.0);
    }
    let found = ordered(&fixes);
    is_certain(&found);
    assert_eq!(found.quality.counts[2], 30);
    // the receiver goes on 700 m aside: ten minutes on both sides are in doubt, and no more
    for fix in &mut fixes[1_800..] {
        fix.position = direct(fix.position, 90.0, 700.0);
    }
    let found = ordered(&fixes);
    is_certain(&found);
    let suspects = found.quality.suspects.iter().map(|suspect| since_noon(suspect.fix.time));
    assert!(suspects.into_iter().all(|second| (1_190.0..=2_410.0).contains(&second)));
    assert!((1_190..1_250).contains(&found.quality.counts[2]), "{}", found.quality.counts[2]);
}

#[test]
fn a_drive_between_two_ramps_is_no_jump() {
    // twenty minutes at 60 knots without a log
    let later = moved(beside(-300.0, 4_800.0, 1_200), 20_000.0);
    let found = of(&[beside(-300.0, 0.0, 3_600), later]);
    is_certain(&found);
    assert_eq!(found.quality.counts[2], 0);
}

/// A lane of so many metres, so far east of home.
fn lane(east_m: f64, width_m: f64) -> ZoneSet {
    ZoneSet::new(vec![zone("lane", strip(direct(at(HOME.0, HOME.1), 90.0, east_m), width_m), None)])
}

#[test]
fn the_ways_of_a_receiver_that_jumped_stay_possible() {
    // 200 fixes at 20 s, ten kilometres aside for twelve fixes that go 120 m each over a lane of 60 m, and back
    let mut fixes: Vec<LoggedFix> = beside(300.0, 0.0, 6_000).into_iter().step_by(20).collect();
    for (number, fix) in (0..).zip(&mut fixes[150..162]) {
        fix.position = direct(fix.position, 90.0, 10_000.0 + 120.0 * f64::from(number));
    }
    // the lane lies between the fifth and the sixth of them, which lie 30 m from it
    // not in reach of a boat of 13 knots that was where the others say
    let settings = TrackSettings::default().with_top_speed_kn(13.0).unwrap();
    is_possible(&ordered_in(&lane(10_210.0, 60.0), &fixes, settings));
    // one fix 78 m aside at 7.6 knots in a log whose boat makes 5: the lane between is crossed twice if it is true
    let mut fixes: Vec<LoggedFix> = beside(300.0, 0.0, 1_000).into_iter().step_by(20).collect();
    for (number, fix) in (0..).zip(&mut fixes) {
        fix.position = direct(at(HOME.0, HOME.1), 0.0, 5.0 * f64::from(number));
    }
    fixes[25].position = direct(fixes[25].position, 90.0, 78.0);
    let settings = TrackSettings::default().with_top_speed_kn(5.0).unwrap();
    is_possible(&ordered_in(&lane(56.0, 12.0), &fixes, settings));
}

#[test]
fn a_tracker_that_tells_one_place_each_hour_may_have_been_anywhere_meanwhile() {
    let mut fixes: Vec<LoggedFix> = beside(8_500.0, 0.0, 300).into_iter().step_by(10).collect();
    let held = fixes[29];
    fixes
        .extend((1..5).map(|hour| LoggedFix { time: Some(noon(300.0 + 3_600.0 * f64::from(hour))), ..held }));
    is_possible(&ordered(&fixes));
}

#[test]
fn records_of_a_clock_that_is_not_set_are_no_time_between_two_trips() {
    let trips = |from_s: f64| {
        let mut order = LogOrder::new(TrackSettings::default());
        for fix in beside(3_000.0, 0.0, 60) {
            order.push(LoggedFix { place: LogPlace { byte: 1, ..LogPlace::default() }, ..fix });
        }
        for byte in 2..5 {
            let place = LogPlace { byte, ..LogPlace::default() };
            order.push_unplaced(UnplacedRecord { time: "1980-01-06T00:00:00Z".parse().ok(), place });
        }
        for fix in beside(4_000.0, from_s, 60) {
            order.push(LoggedFix { place: LogPlace { byte: 9, ..LogPlace::default() }, ..fix });
        }
        super::test_tracks::audited_in(&strip_zone(), &order.finish())
    };
    assert_eq!(trips(8.0 * 3_600.0).quality.pauses, 0);
    is_possible(&trips(8.0 * 3_600.0));
}

#[test]
fn without_times_a_leg_may_have_been_made_another_way() {
    let untimed = |west_m: f64| {
        let mut fixes: Vec<LoggedFix> = beside(west_m, 0.0, 1_200).into_iter().step_by(40).collect();
        for fix in &mut fixes {
            fix.time = None;
        }
        ordered(&fixes)
    };
    // legs of 100 m: twice as long a way comes up to 87 m off the straight one, and more with the doubts of the fixes
    is_possible(&untimed(60.0));
    assert!(untimed(120.0).visits.is_empty());
}

#[test]
fn a_receiver_that_nears_its_place_step_by_step_accuses_nobody() {
    // 400 m off at first, and in each 15 s less by a factor e
    let settling = |second: f64| 400.0 * (-second / 15.0_f64).exp();
    let fixes: Vec<LoggedFix> = (0..)
        .map(f64::from)
        .zip(beside(250.0, 0.0, 1_000))
        .map(|(second, one)| LoggedFix { position: direct(one.position, 90.0, settling(second)), ..one })
        .collect();
    is_possible(&ordered(&fixes));
}

#[test]
fn a_few_fixes_without_times_beyond_a_long_leg_are_possible_only() {
    for few in [1, 9, 30] {
        let untimed = |parts: &[Vec<LoggedFix>]| {
            let fixes = parts.concat().into_iter().map(|fix| LoggedFix { time: None, ..fix });
            ordered(&fixes.collect::<Vec<_>>())
        };
        is_possible(&untimed(&[inside(0.0, few), beside(300.0, 0.0, 200)]));
        is_possible(&untimed(&[beside(300.0, 0.0, 200), inside(0.0, few)]));
        is_possible(&untimed(&[beside(300.0, 0.0, 100), inside(0.0, few), beside(300.0, 100.0, 100)]));
    }
}

#[test]
fn a_top_speed_that_the_log_refutes_is_used_no_more() {
    // 30 m off at 2 m/s, a fix a minute, with 3 knots given: it makes 3.9
    let mut fixes: Vec<LoggedFix> = beside(30.0, 0.0, 3_000).into_iter().step_by(60).collect();
    for (number, fix) in (0..).zip(&mut fixes) {
        let start = direct(at(HOME.0, HOME.1), 270.0, 30.0);
        fix.position = direct(start, 0.0, 120.0 * f64::from(number));
    }
    let settings = TrackSettings::default().with_top_speed_kn(3.0).unwrap();
    is_possible(&ordered_in(&strip_zone(), &fixes, settings));
}

#[test]
fn a_log_that_is_dense_where_the_receiver_errs_convicts_nobody() {
    // a fix a minute for 50 minutes, and at the end 31 of one a second, half a kilometre aside and inside
    let honest: Vec<LoggedFix> = beside(400.0, 0.0, 3_000).into_iter().step_by(60).collect();
    let wrong = moved(inside(2_941.0, 31), 2.5 * 2_941.0);
    is_possible(&of(&[honest, wrong]));
    let minutes =
        |from_s: f64| beside(400.0, from_s, 2_400).into_iter().step_by(60).collect::<Vec<LoggedFix>>();
    let wrong = moved(inside(2_341.0, 31), 2.5 * 2_341.0);
    is_possible(&of(&[minutes(0.0), wrong, minutes(2_372.0)]));
}

#[test]
fn silences_near_a_jump_take_nothing_from_the_sides_that_go_on_over_them() {
    // 1200 honest fixes with a minute of silence before and behind the last twelve of each side, and 100 wrong ones between
    let wrong = moved(inside(672.0, 100), 2.5 * 672.0);
    is_possible(&of(&[
        beside(300.0, 0.0, 600),
        beside(300.0, 660.0, 12),
        wrong,
        beside(300.0, 772.0, 12),
        beside(300.0, 844.0, 600),
    ]));
}

#[test]
fn a_boat_of_19_knots_in_a_log_of_one_fix_a_minute_is_no_receiver_that_jumps() {
    // a minute at 19 knots and two minutes lying still, again and again
    let m_per_s = 19.0 * 1852.0 / 3600.0;
    let runs = |passed_s: f64| (passed_s / 180.0).floor() + f64::min(passed_s % 180.0, 60.0) / 60.0;
    let start = direct(at(HOME.0, HOME.1), 270.0, 3_000.0);
    let fixes: Vec<LoggedFix> = (0..60)
        .map(|minute| 60.0 * f64::from(minute))
        .map(|passed_s| {
            fix(direct(start, 0.0, 60.0 * m_per_s * runs(passed_s) + passed_s / 300.0), passed_s, 5.0)
        })
        .collect();
    let found = ordered(&fixes);
    assert!(found.visits.is_empty() && 2 * found.quality.suspects.len() < fixes.len());
}

#[test]
fn a_hole_of_some_steps_over_which_a_clock_was_set_back_is_looked_at() {
    // drifting at 0.3 m/s, 15 m off; 60 m farther on the clock is five minutes back
    let drift = |from_s: f64, north_m: f64| {
        let start = direct(at(HOME.0, HOME.1), 270.0, 15.0);
        let place = move |second: f64| direct(start, 0.0, north_m + 0.3 * second);
        (0..1_200)
            .map(f64::from)
            .map(|second| fix(place(second), from_s + second, 5.0))
            .collect::<Vec<LoggedFix>>()
    };
    is_possible(&of(&[drift(0.0, 0.0), drift(900.0, 420.0)]));
    assert!(of(&[drift(0.0, 0.0), drift(900.0, 360.3)]).visits.is_empty());
}
