//! Logs that lie, beside the same way told plainly: what was certain may become possible, and nothing is lost.

use jiff::SignedDuration;
use proptest::prelude::*;

use super::test_tracks::{
    HOME, at, audit, eastward, fix, noon, ordered, ordered_in, since_noon, strip, strip_zone, zone,
};
use super::{
    Audit, Certainty, Evidence, LogOrder, LogPlace, LoggedFix, OrderFindings, Suspicion, TrackSettings,
    UnplacedRecord, is_of_a_set_clock,
};
use crate::geodesic::direct;
use crate::rule::{AnnualWindow, When, WindowEnds};
use crate::zone::ZoneSet;
use crate::{Position, Tristate};

fn in_stretch(mut fixes: Vec<LoggedFix>, stretch: u32) -> Vec<LoggedFix> {
    for fix in &mut fixes {
        fix.place.stretch = stretch;
    }
    fixes
}

fn later(mut fixes: Vec<LoggedFix>, seconds: f64) -> Vec<LoggedFix> {
    for fix in &mut fixes {
        fix.time = Some(noon(since_noon(fix.time) + seconds));
    }
    fixes
}

/// Eastward from so far east of home, at 5 kn, from noon.
fn on_from(start_m: f64, end_m: f64, every_s: f64) -> Vec<LoggedFix> {
    let all = eastward((-500.0, end_m), 2.5, every_s, 5.0);
    let since_s = (start_m + 500.0) / 2.5;
    let rest = all.into_iter().filter(|fix| since_noon(fix.time) >= since_s - 1e-6).collect();
    later(rest, -since_s)
}

fn suspects(found: &Audit) -> u64 {
    found.quality.counts.iter().sum()
}

/// East through the strip at 5 kn: in after 500 m, through it for 1000 m.
fn through() -> Vec<LoggedFix> {
    eastward((-500.0, 1_500.0), 2.5, 2.0, 5.0)
}

#[track_caller]
fn is_through(found: &Audit) {
    let [visit] = found.visits.as_slice() else { panic!("{:#?}", found.visits) };
    assert_eq!((visit.certainty, visit.evidence), (Certainty::Certain, Evidence::Fixes));
    assert!((visit.certain_s.unwrap() - 396.0).abs() < 3.0, "{}", visit.certain_s.unwrap());
    assert_eq!(suspects(found), 0, "{:?}", found.quality.counts);
}

#[test]
fn a_log_in_order_is_left_as_it_stands() {
    let found = ordered(&through());
    is_through(&found);
    assert_eq!(found.quality.order, OrderFindings::default());
}

#[test]
fn a_log_told_newest_first_is_turned_round() {
    let mut fixes = through();
    fixes.reverse();
    let found = ordered(&fixes);
    is_through(&found);
    assert_eq!(found.quality.order.newest_first, fixes.len() as u64);
}

#[test]
fn a_log_in_no_order_is_sorted() {
    let mut fixes = through();
    let length = fixes.len();
    for at in 0..length {
        fixes.swap(at, at * 7919 % length);
    }
    let found = ordered(&fixes);
    is_through(&found);
    assert_eq!(found.quality.order.unordered, length as u64);
}

#[test]
fn segments_in_swapped_order_are_joined_in_the_order_of_time_and_the_gap_between_is_looked_at() {
    let fixes = through();
    // 40 s without a log while it was inside
    let (early, late) = (fixes[..140].to_vec(), fixes[160..].to_vec());
    let found = ordered(&[in_stretch(late, 0), in_stretch(early, 1)].concat());
    assert_eq!((found.quality.gap_count, found.quality.order.stretches_moved), (1, 2));
    let [visit] = found.visits.as_slice() else { panic!("{:#?}", found.visits) };
    assert!(visit.entered().time < visit.left().time);
    assert!((visit.possible_s.unwrap() - 404.0).abs() < 4.0, "{}", visit.possible_s.unwrap());
}

#[test]
fn one_time_for_every_fix_is_no_time() {
    let mut fixes = through();
    for fix in &mut fixes {
        fix.time = Some(noon(0.0));
    }
    let found = ordered(&fixes);
    let [visit] = found.visits.as_slice() else { panic!("{:#?}", found.visits) };
    assert_eq!((visit.certainty, visit.entered().time), (Certainty::Certain, None));
    assert_eq!(found.quality.order.times_all_the_same, fixes.len() as u64);
    assert_eq!(suspects(&found), 0);
}

#[test]
fn a_steady_tow_at_twice_the_given_top_speed_raises_it() {
    let settings = TrackSettings::default().with_top_speed_kn(4.0).unwrap();
    let m_per_s = 8.0 * 1852.0 / 3600.0;
    let found = ordered_in(&strip_zone(), &eastward((-500.0, 1_500.0), m_per_s, 2.0, 5.0), settings);
    assert_eq!((suspects(&found), found.visits.len()), (0, 1));
    assert_eq!(found.visits[0].certainty, Certainty::Certain);
    let shown_kn = found.quality.order.shown_kn.unwrap();
    // two fixes good to 5 m take at most 10 m off the 82 m of 20 s; no more than 8 kn can be seen
    assert!((6.9..=8.1).contains(&shown_kn), "{shown_kn}");
    // what was given is refuted: what may lie between two fixes is asked of the assumed speed, which is more
    assert!((found.settings.top_speed_kn - 12.0).abs() < 1e-9 && found.settings.top_speed_given);
}

#[test]
fn spikes_and_jumps_raise_no_top_speed() {
    let mut fixes = through();
    for at in (20..fixes.len()).step_by(13) {
        fixes[at].position = direct(fixes[at].position, 0.0, 1_800.0);
    }
    for fix in &mut fixes[200..] {
        fix.position = direct(fix.position, 0.0, 300.0);
    }
    let found = ordered(&fixes);
    assert_eq!(found.quality.order.shown_kn, None);
}

#[test]
fn a_log_that_shows_20_kn_reaches_farther_in_a_gap() {
    let m_per_s = 20.0 * 1852.0 / 3600.0;
    let mut fixes = eastward((-3_000.0, -1_500.0), m_per_s, 2.0, 5.0);
    let last_s = since_noon(fixes.last().unwrap().time);
    let there = fixes.last().unwrap().position;
    // 320 s at 12 kn do not reach the strip, 1500 m off, and back; at 20 kn they do
    fixes.extend(
        (0..5).map(|step| {
            fix(direct(there, 270.0, 2.0 * f64::from(step)), last_s + 320.0 + f64::from(step), 5.0)
        }),
    );
    assert!(audit(&strip_zone(), &fixes, TrackSettings::default()).visits.is_empty());
    let found = ordered(&fixes);
    assert_eq!((found.visits.len(), found.visits[0].evidence), (1, Evidence::Gap));
}

#[test]
fn five_fixes_a_second_with_whole_seconds_are_spread_over_it() {
    let fixes: Vec<LoggedFix> = eastward((-100.0, 1_200.0), 2.5, 0.2, 5.0)
        .into_iter()
        .map(|mut fix| {
            fix.time = Some(noon(since_noon(fix.time).floor()));
            fix
        })
        .collect();
    let found = ordered(&fixes);
    is_through(&found);
    assert!(found.quality.order.times_placed > fixes.len() as u64 * 3 / 4);
}

#[test]
fn times_cut_to_the_minute_make_no_duplicates_of_fixes_in_different_places() {
    let fixes: Vec<LoggedFix> = eastward((-500.0, 1_500.0), 2.5, 10.0, 5.0)
        .into_iter()
        .map(|mut fix| {
            fix.time = Some(noon((since_noon(fix.time) / 60.0).floor() * 60.0));
            fix
        })
        .collect();
    let found = ordered(&fixes);
    assert_eq!((suspects(&found), found.quality.gap_count), (0, 0));
    assert!(
        (found.visits[0].certain_s.unwrap() - 396.0).abs() < 12.0,
        "{}",
        found.visits[0].certain_s.unwrap()
    );
}

#[test]
fn two_receivers_in_one_segment_lose_no_visit() {
    let one = through();
    let other: Vec<LoggedFix> =
        one.iter().map(|fix| LoggedFix { position: direct(fix.position, 0.0, 6.0), ..*fix }).collect();
    let mixed: Vec<LoggedFix> = one.iter().zip(&other).flat_map(|(one, other)| [*one, *other]).collect();
    let found = ordered(&mixed);
    assert_eq!((found.visits.len(), found.visits[0].certainty), (1, Certainty::Certain));
    assert_eq!(suspects(&found), 0);
}

#[test]
fn good_times_are_used_although_every_fifth_is_missing() {
    let mut fixes = through();
    for fix in fixes.iter_mut().skip(1).step_by(5) {
        fix.time = None;
    }
    let found = ordered(&fixes);
    is_through(&found);
    assert!((since_noon(found.visits[0].entered().time) - 200.0).abs() < 2.0);
    assert!(found.quality.order.times_placed > 70);
}

#[test]
fn a_boat_that_lies_still_in_the_eyes_of_its_receiver_stays_as_long_as_it_stayed() {
    for minutes in [3.0, 20.0, 120.0] {
        let anchored_s = 60.0 * minutes;
        let mut fixes = eastward((-500.0, 400.0), 2.5, 1.0, 5.0);
        let held = *fixes.last().unwrap();
        let (mut seconds, since_s) = (0.0, since_noon(held.time));
        while seconds < anchored_s {
            seconds += 1.0;
            fixes.push(LoggedFix { time: Some(noon(since_s + seconds)), ..held });
        }
        let on = later(on_from(402.5, 1_500.0, 1.0), since_s + anchored_s + 1.0);
        fixes.extend(on);
        let found = ordered(&fixes);
        assert_eq!((suspects(&found), found.quality.gap_count), (0, 0), "{minutes} min");
        let [visit] = found.visits.as_slice() else { panic!("{:#?}", found.visits) };
        assert!(
            (visit.certain_s.unwrap() - 396.0 - anchored_s).abs() < 3.0,
            "{minutes} min: {}",
            visit.certain_s.unwrap()
        );
    }
}

#[test]
fn a_place_repeated_to_the_end_of_the_log_is_suspect() {
    let mut fixes = eastward((-500.0, -400.0), 2.5, 1.0, 5.0);
    let held = *fixes.last().unwrap();
    fixes.extend(
        (1..=600)
            .map(|second| LoggedFix { time: Some(noon(since_noon(held.time) + f64::from(second))), ..held }),
    );
    let found = ordered(&fixes);
    assert_eq!(found.quality.counts, [0, 0, 0, 0, 0, 600, 0]);
}

#[test]
fn a_night_between_two_days_ends_one_trip_and_starts_another() {
    let morning = eastward((-3_000.0, -2_000.0), 2.5, 2.0, 5.0);
    let next_day = later(eastward((-2_900.0, -2_000.0), 2.5, 2.0, 5.0), 20.0 * 3600.0);
    let found = ordered(&[morning, next_day].concat());
    assert!(found.visits.is_empty(), "{:#?}", found.visits);
    assert!(found.quality.gaps[0].between_trips);
    // an hour without a log is a gap like any other
    let morning = eastward((-3_000.0, -2_000.0), 2.5, 2.0, 5.0);
    let later_on = later(eastward((-2_900.0, -2_000.0), 2.5, 2.0, 5.0), 2.0 * 3600.0);
    let found = ordered(&[morning, later_on].concat());
    assert_eq!((found.visits.len(), found.visits[0].evidence), (1, Evidence::Gap));
}

#[test]
fn a_boat_inside_before_and_after_a_night_may_have_stayed() {
    let evening = eastward((-500.0, 500.0), 2.5, 2.0, 5.0);
    let night_s = 10.0 * 3600.0;
    let morning = later(on_from(505.0, 1_500.0, 2.0), night_s);
    let found = ordered(&[evening, morning].concat());
    let [visit] = found.visits.as_slice() else { panic!("{:#?}", found.visits) };
    assert!(visit.possible_s.unwrap() > night_s - 500.0 && visit.certain_s.unwrap() < 400.0, "{visit:#?}");
}

#[test]
fn a_second_boat_is_not_joined_to_the_first() {
    let one = in_stretch(eastward((-3_000.0, -2_000.0), 2.5, 2.0, 5.0), 0);
    let other = in_stretch(later(on_from(2_500.0, 3_500.0, 2.0), 60.0), 1);
    let found = ordered(&[one, other].concat());
    assert_eq!((found.quality.order.boats, found.quality.gap_count), (2, 0));
    assert!(found.visits.is_empty(), "{:#?}", found.visits);
    // and what the second one did is not lost
    let one = in_stretch(eastward((-3_000.0, -2_000.0), 2.5, 2.0, 5.0), 0);
    let found = ordered(&[one, in_stretch(later(through(), 60.0), 1)].concat());
    is_through(&found);
}

#[test]
fn a_track_that_stands_twice_is_one() {
    let found = ordered(&[in_stretch(through(), 0), in_stretch(through(), 1)].concat());
    is_through(&found);
    assert_eq!((found.quality.order.stretches_repeated, found.quality.order.boats), (1, 0));
}

#[test]
fn dates_that_may_be_wrong_as_a_whole_leave_what_is_in_force_undecided() {
    let doubtful = TrackSettings { dates_doubtful: true, ..TrackSettings::default() };
    assert_eq!(
        ordered_in(&strip_zone(), &through(), doubtful).visits[0].in_force,
        Tristate::Yes,
        "always is at any date"
    );
    let mut winter = zone("strip", strip(at(HOME.0, HOME.1), 1_000.0), None);
    winter.when = When::Yearly(AnnualWindow { from: (11, 1), to: (2, 28), ends: WindowEnds::Included });
    let zones = ZoneSet::new(vec![winter]);
    let in_july = |settings| audit(&zones, &through(), settings).visits[0].in_force;
    assert_eq!(in_july(TrackSettings::default()), Tristate::No);
    assert_eq!(in_july(doubtful), Tristate::Undecided);
}

#[test]
fn only_equal_places_are_duplicates() {
    let place = at(HOME.0, HOME.1);
    let fixes = [fix(place, 0.0, 5.0), fix(place, 0.0, 5.0), fix(direct(place, 0.0, 3.0), 0.0, 5.0)];
    let found = audit(&strip_zone(), &fixes, TrackSettings::default());
    assert_eq!(found.quality.counts[0], 1);
    assert_eq!(found.quality.suspects[0].suspicion, Suspicion::Duplicate);
}

/// Ways to tell a log badly.
#[derive(Debug, Clone)]
enum Mischief {
    Backwards,
    Cut(u32),
    LoseTimes(usize),
    Repeat(usize),
    SwapHalves(usize),
    Spike(usize),
    Shuffle(usize),
    OneTime,
    Null(usize),
    /// The second half first, within one stretch.
    SwapRows(usize),
    /// A fix without a time where most time lies between two.
    FillHole,
    /// Each fix, and each next one, twice in turns: two receivers.
    TwoReceivers,
}

/// Ways that leave the times of the log what they are.
fn hiding_mischief() -> impl Strategy<Value = Mischief> {
    prop_oneof![
        Just(Mischief::Backwards),
        (2_usize..9).prop_map(Mischief::LoseTimes),
        (2_usize..40).prop_map(Mischief::Repeat),
        (1_usize..100).prop_map(Mischief::SwapRows),
        (1_usize..100).prop_map(Mischief::SwapHalves),
        (3_usize..50).prop_map(Mischief::Null),
        Just(Mischief::FillHole),
        Just(Mischief::TwoReceivers),
    ]
}

fn mischief() -> impl Strategy<Value = Mischief> {
    prop_oneof![
        Just(Mischief::Backwards),
        (2_u32..70).prop_map(Mischief::Cut),
        (2_usize..9).prop_map(Mischief::LoseTimes),
        (2_usize..40).prop_map(Mischief::Repeat),
        (1_usize..100).prop_map(Mischief::SwapHalves),
        (3_usize..50).prop_map(Mischief::Spike),
        (1_usize..5_000).prop_map(Mischief::Shuffle),
        Just(Mischief::OneTime),
        (3_usize..50).prop_map(Mischief::Null),
    ]
}

/// A fix without a time in the longest hole.
fn fill_hole(fixes: &mut Vec<LoggedFix>) {
    let since_s = |pair: &[LoggedFix]| {
        let times = pair[0].time.zip(pair[1].time);
        times.map_or(0.0, |(from, to)| to.duration_since(from).as_secs_f64())
    };
    let steps_s = fixes.windows(2).map(since_s).enumerate();
    if let Some((at, _)) = steps_s.max_by(|one, other| one.1.total_cmp(&other.1)) {
        fixes.insert(at + 1, LoggedFix { time: None, ..fixes[at] });
    }
}

fn spoil(mut fixes: Vec<LoggedFix>, mischief: &Mischief) -> Vec<LoggedFix> {
    let length = fixes.len();
    match *mischief {
        Mischief::Backwards => fixes.reverse(),
        Mischief::Cut(step_s) => {
            let step_s = f64::from(step_s);
            for fix in &mut fixes {
                fix.time = fix.time.map(|time| noon((since_noon(Some(time)) / step_s).floor() * step_s));
            }
        }
        Mischief::LoseTimes(every) => fixes.iter_mut().step_by(every).for_each(|fix| fix.time = None),
        Mischief::Repeat(every) => {
            fixes = fixes
                .iter()
                .enumerate()
                .flat_map(|(at, fix)| if at % every == 0 { vec![*fix, *fix] } else { vec![*fix] })
                .collect();
        }
        Mischief::SwapHalves(percent) => {
            let (early, late) = fixes.split_at(length * percent / 100);
            fixes = [in_stretch(late.to_vec(), 0), in_stretch(early.to_vec(), 1)].concat();
        }
        Mischief::Spike(every) => {
            for fix in fixes.iter_mut().skip(every).step_by(every) {
                fix.position = direct(fix.position, 20.0, 9_000.0);
            }
        }
        Mischief::Shuffle(step) => {
            for at in 0..length {
                fixes.swap(at, at * step % length);
            }
        }
        Mischief::SwapRows(percent) => fixes.rotate_left(length * percent / 100),
        Mischief::FillHole => fill_hole(&mut fixes),
        Mischief::TwoReceivers => {
            let other = |fix: &LoggedFix| LoggedFix { position: direct(fix.position, 0.0, 5.0), ..*fix };
            fixes = fixes
                .chunks(2)
                .flat_map(|pair| [pair.to_vec(), pair.iter().map(other).collect()].concat())
                .collect();
        }
        Mischief::OneTime => fixes.iter_mut().for_each(|fix| fix.time = fix.time.map(|_| noon(0.0))),
        Mischief::Null(every) => {
            let nowhere: Position = at(0.0, 0.0);
            fixes = fixes
                .iter()
                .enumerate()
                .flat_map(|(at, fix)| {
                    let null = LoggedFix { position: nowhere, ..*fix };
                    if at % every == 1 { vec![null, *fix] } else { vec![*fix] }
                })
                .collect();
        }
    }
    fixes
}

/// A boat that wanders about the strip.
fn wandering(turns: &[(f64, u32)]) -> Vec<LoggedFix> {
    let mut here = direct(at(HOME.0, HOME.1), 270.0, 60.0);
    let mut fixes = Vec::new();
    for (bearing, steps) in turns {
        for _ in 0..*steps {
            here = direct(here, *bearing, 6.0);
            let number = u32::try_from(fixes.len()).unwrap();
            fixes.push(LoggedFix {
                place: LogPlace { line: u64::from(number), ..LogPlace::default() },
                ..fix(here, 3.0 * f64::from(number), 4.0)
            });
        }
    }
    fixes
}

/// Whether a report of this audit would end in 0.
fn is_nothing(found: &Audit) -> bool {
    let [duplicates, wrong @ .., stale, untimed] = found.quality.counts;
    let (wrong, fixes) = (wrong.iter().sum::<u64>(), found.quality.fixes - duplicates);
    let idle = stale + untimed;
    let is_mostly_suspect =
        wrong > 0 && 2 * wrong >= fixes || wrong + idle > 0 && 10 * (wrong + idle) >= 9 * fixes;
    found.visits.is_empty() && !is_mostly_suspect
}

/// Whether something has to be left of the visits of the plain log. Those that only the time between two fixes shows go
/// with the times: where a log has one time for all of its fixes, that is not used, and nobody knows how far off its way the
/// boat can have been.
fn must_stay(before: &Audit, after: &Audit) -> bool {
    let is_timed = after.quality.without_time < after.quality.fixes;
    before.visits.iter().any(|visit| is_timed || visit.off_the_way.is_none())
}

/// How many logs are told badly; `TAKELINE_BAD_LOGS` sets it for a run at full size.
fn cases() -> u32 {
    let told = std::env::var("TAKELINE_BAD_LOGS").ok();
    told.map_or(150, |told| told.parse().expect("TAKELINE_BAD_LOGS is a number of logs"))
}

#[test]
fn a_log_with_repeated_rows_swapped_halves_and_shuffled_rows_loses_no_visit() {
    let plain = wandering(&[(0.0, 8), (90.0, 16), (0.0, 11), (270.0, 16), (0.0, 6)]);
    let mischiefs = [Mischief::Repeat(2), Mischief::SwapHalves(5), Mischief::Shuffle(3)];
    let told = mischiefs.iter().fold(plain.clone(), spoil);
    let (before, after) = (ordered(&plain), ordered(&told));
    assert_eq!(before.visits.len(), 1);
    assert!(!is_nothing(&after), "{:#?}", before.visits);
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(cases()))]

    /// However badly a log is told, a visit that the plain log has is not lost: something stays that is not "never".
    #[test]
    fn no_visit_is_lost_however_badly_a_log_is_told(
        turns in proptest::collection::vec((0.0..360.0_f64, 5_u32..60), 2..8),
        mischiefs in proptest::collection::vec(mischief(), 1..4),
    ) {
        let plain = wandering(&turns);
        let told = mischiefs.iter().fold(plain.clone(), spoil);
        let (before, after) = (ordered(&plain), ordered(&told));
        prop_assert_eq!(after.quality.fixes + after.quality.order.fixes_repeated, told.len() as u64);
        for visit in &after.visits {
            let timed = visit.entered().time.zip(visit.left().time);
            prop_assert!(timed.is_none_or(|(entered, left)| entered <= left), "{:?}", visit);
            let seconds = visit.certain_s.zip(visit.possible_s);
            prop_assert!(seconds.is_none_or(|(certain_s, possible_s)| certain_s <= possible_s + 1e-6));
        }
        if must_stay(&before, &after) {
            prop_assert!(!is_nothing(&after), "{mischiefs:?}");
        }
    }

    /// A part that is missing is a gap, whatever else is wrong with the log.
    #[test]
    fn no_gap_is_hidden_however_badly_a_log_is_told(
        turns in proptest::collection::vec((0.0..360.0_f64, 20_u32..60), 2..8),
        from_percent in 10_usize..60,
        mischiefs in proptest::collection::vec(hiding_mischief(), 1..4),
    ) {
        let mut plain = wandering(&turns);
        let length = plain.len();
        plain.drain(length * from_percent / 100..length * (from_percent + 30) / 100);
        let told = mischiefs.iter().fold(plain.clone(), spoil);
        let (before, after) = (ordered(&plain), ordered(&told));
        if must_stay(&before, &after) {
            prop_assert!(!is_nothing(&after), "{mischiefs:?}");
        }
    }

    /// Order puts no fix away and invents none.
    #[test]
    fn ordering_keeps_every_fix(
        turns in proptest::collection::vec((0.0..360.0_f64, 2_u32..30), 1..5),
        mischiefs in proptest::collection::vec(mischief(), 0..5),
    ) {
        let told = mischiefs.iter().fold(wandering(&turns), spoil);
        let mut order = LogOrder::new(TrackSettings::default());
        for fix in &told {
            order.push(*fix);
        }
        let log = order.finish();
        let places = |fixes: Vec<LoggedFix>| {
            let mut places: Vec<_> = fixes.iter().map(|fix| (fix.place.line, fix.position.latitude().degrees().to_bits())).collect();
            places.sort_unstable();
            places
        };
        // but for stretches that repeat another, which are told
        let (kept, all) = (places(log.boats.concat()), places(told));
        prop_assert_eq!(kept.len() as u64 + log.findings.fixes_repeated, all.len() as u64);
        if log.findings.fixes_repeated == 0 {
            prop_assert_eq!(&kept, &all);
        }
        let distinct = |mut places: Vec<_>| {
            places.dedup();
            places
        };
        prop_assert_eq!(distinct(kept), distinct(all));
        let span = SignedDuration::from_hours(24);
        for pair in log.boats.iter().flat_map(|boat| boat.windows(2)) {
            if let (Some(one), Some(other)) = (pair[0].time, pair[1].time) {
                prop_assert!(other.duration_since(one) < span);
            }
        }
    }
}

#[test]
fn a_clock_that_was_not_set_yet_tells_no_time_in_a_log_in_which_it_is() {
    let unset = |seconds: u32| format!("1980-01-06T00:00:{seconds:02}Z").parse().ok();
    let mut order = LogOrder::new(TrackSettings::default());
    // records and a fix of a receiver that starts
    for seconds in 0..20 {
        order.push_unplaced(UnplacedRecord { time: unset(seconds), place: LogPlace::default() });
    }
    let mut fixes = through();
    fixes[0].time = unset(20);
    for fix in &fixes {
        order.push(*fix);
    }
    let log = order.finish();
    assert_eq!((log.findings.lost, log.settings.dates_doubtful), (0, false));
    assert!(log.boats.concat().iter().all(|fix| fix.time.is_none_or(is_of_a_set_clock)));
    // one that never is counts the seconds between fixes
    let mut order = LogOrder::new(TrackSettings::default());
    for (fix, seconds) in fixes.iter().zip(0..60) {
        order.push(LoggedFix { time: unset(seconds), ..*fix });
    }
    let log = order.finish();
    assert!(log.settings.dates_doubtful && log.boats[0].iter().all(|fix| fix.time.is_some()));
}
