//! Rows, bags and carrying, on two small zones; what is expected is reasoned by hand beside each case.

use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;

use super::*;
use crate::rule::{self, BagPer, Take};
use crate::track::{Certainty, LogPlace, LoggedFix, NoPosition, Reason, TrackSettings};
use crate::{HorizontalUncertainty, Position, TakeAnswer, Tristate, ZoneSet, zone_file};

/// Pond: sprat and sardine, so many of each permit as `bag` says. Gate: nothing taken, nothing aboard, 400 m to the east.
fn zones(bag: &str) -> ZoneSet {
    // the zone file has no word for it yet
    let at_once = bag.contains("person-at-once");
    let bag = bag.replace("person-at-once", "person-trip");
    let ring = |west: f64, east: f64| {
        format!("[[[{west},45.10],[{east},45.10],[{east},45.12],[{west},45.12],[{west},45.10]]]")
    };
    let feature = |id: &str, ring: String, rule: String| {
        format!(
            r#"{{"type":"Feature","id":"{id}","geometry":{{"type":"Polygon","coordinates":{ring}}},
            "properties":{{"name":"{id}","edges":"rhumb",{rule},"source":{{"instrument":"Marrowick Order"}}}}}}"#
        )
    };
    let pond = format!(
        r#""take":{{"only":[{{"taxa":["sprat","sardine"],"bag":{bag}}}]}},"limits":[{{"taxa":["sardine"],
        "size":{{"min_cm":12,"measure":"total-length"}}}}],"possession":"allowed""#
    );
    let gate = r#""take":"none","possession":"forbidden""#.to_owned();
    let file = format!(
        r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","title":"Marrowick","edition":"1",
        "datum":"WGS 84","time_zone":"Atlantic/Azores","groups":[],"taxa":[
        {{"id":"sprat","scientific":"Sprattus sprattus","names":["sprat"]}},
        {{"id":"sardine","scientific":"Sardina pilchardus","names":["sardine"]}}]}},
        "features":[{},{}]}}"#,
        feature("pond", ring(-30.20, -30.18), pond),
        feature("gate", ring(-30.175, -30.174), gate)
    );
    let mut zones = zone_file::read("marrowick.json", file.as_bytes()).unwrap().zones;
    if let (true, Take::Only(permits)) = (at_once, &mut zones[0].rule.take) {
        permits[0].limits.bag.as_mut().unwrap().per = BagPer::PersonAtOnce;
    }
    ZoneSet::new(zones)
}

const TEN_A_DAY: &str = r#"{"count":10,"per":"person-day"}"#;

fn at(seconds: i64) -> Timestamp {
    "2026-07-01T08:00:00Z".parse::<Timestamp>().unwrap() + SignedDuration::from_secs(seconds)
}

fn place(lat_deg: f64, lon_deg: f64) -> Position {
    Position::from_degrees(lat_deg, lon_deg).unwrap()
}

fn kept(row: u64, seconds: i64, count: u32) -> CatchEntry {
    CatchEntry {
        time: Some(at(seconds)),
        position: Some(place(45.11, -30.19)),
        count,
        kept: Some(true),
        ..CatchEntry::named(row, "sprat")
    }
}

fn fix(seconds: i64, lon_deg: f64) -> LoggedFix {
    LoggedFix {
        position: place(45.11, lon_deg),
        time: Some(at(seconds)),
        uncertainty: Some(HorizontalUncertainty::assumed()),
        hdop: None,
        speed_m_per_s: None,
        time_between: None,
        jump_kn: None,
        place: LogPlace::default(),
    }
}

fn found(bag: &str, entries: Vec<CatchEntry>, track: &[LoggedFix]) -> Vec<CatchFinding> {
    let zones = zones(bag);
    let mut join = CatchJoin::new(&zones, entries, CatchSettings::default());
    for fix in track {
        join.push(fix);
    }
    join.finish()
}

fn answers(bag: &str, entries: Vec<CatchEntry>) -> Vec<TakeAnswer> {
    found(bag, entries, &[]).iter().map(|finding| finding.answer).collect()
}

use TakeAnswer::{Keep, Release, Undecided};

#[test]
fn the_eleventh_of_ten_has_to_go_back_whatever_the_order_of_the_rows() {
    let rows = vec![kept(2, 60, 1), kept(3, 0, 6), kept(4, 30, 4)];
    let found = found(TEN_A_DAY, rows, &[]);
    let all: Vec<_> = found.iter().map(|finding| finding.answer).collect();
    assert_eq!(all, [Release, Keep, Keep]);
    let note = found[0].bags[0].clone();
    assert_eq!((note.last, note.bag.count, note.zone_name.as_str()), (11, 10, "pond"));
    assert_eq!(found[0].because, [Reason::CountsAgainstBag { note }]);
    assert_eq!((found[2].bags[0].first, found[2].bags[0].last), (7, 10));
}

#[test]
fn rows_of_one_moment_go_over_together() {
    assert_eq!(answers(TEN_A_DAY, vec![kept(2, 0, 6), kept(3, 0, 5)]), [Release, Release]);
}

#[test]
fn each_person_and_each_local_day_has_its_own_bag() {
    let named = |row, seconds, count, person: &str| CatchEntry {
        person: Some(person.to_owned()),
        ..kept(row, seconds, count)
    };
    let rows = vec![named(2, 0, 8, "Crew"), named(3, 10, 8, "skipper"), named(4, 20, 3, "crew ")];
    assert_eq!(answers(TEN_A_DAY, rows), [Keep, Keep, Release]);
    // 16 h later it is 00:00 UTC on 2 July; the Azores keep UTC in summer (IANA time zone data, Atlantic/Azores)
    assert_eq!(answers(TEN_A_DAY, vec![kept(2, 57_599, 8), kept(3, 57_600, 8)]), [Keep, Keep]);
    // a row without a name may be anybody's where others are named
    let rows = vec![named(2, 0, 8, "crew"), kept(3, 10, 3)];
    assert_eq!(answers(TEN_A_DAY, rows), [Keep, Undecided]);
}

#[test]
fn a_boats_bag_counts_everybody_and_fish_of_earlier_days_perhaps_count_for_a_trip() {
    let named =
        |row, count, person: &str| CatchEntry { person: Some(person.to_owned()), ..kept(row, 0, count) };
    let boat = r#"{"count":10,"per":"boat-day"}"#;
    assert_eq!(answers(boat, vec![named(2, 6, "crew"), named(3, 6, "skipper")]), [Release, Release]);
    for per in ["boat-trip", "person-trip", "person-at-once"] {
        let trip = format!(r#"{{"count":10,"per":"{per}"}}"#);
        let two_days = found(&trip, vec![kept(2, 0, 8), kept(3, 86_400, 3)], &[]);
        assert_eq!((two_days[0].answer, two_days[1].answer), (Keep, Undecided), "{per}");
        assert_eq!((two_days[1].bags[0].last, two_days[1].bags[0].at_most), (3, 11), "{per}");
    }
}

#[test]
fn fish_aboard_from_elsewhere_counts_for_a_limit_at_any_moment_only() {
    let elsewhere = CatchEntry { position: Some(place(45.11, -30.30)), ..kept(2, 0, 8) };
    let rows = vec![elsewhere, kept(3, 60, 3)];
    assert_eq!(answers(TEN_A_DAY, rows.clone()), [TakeAnswer::Unzoned, Keep]);
    assert_eq!(answers(r#"{"count":10,"per":"person-at-once"}"#, rows), [TakeAnswer::Unzoned, Release]);
}

#[test]
fn released_fish_are_answered_but_not_counted_and_doubtful_ones_perhaps_count() {
    let released = CatchEntry { kept: Some(false), ..kept(3, 10, 5) };
    assert_eq!(answers(TEN_A_DAY, vec![kept(2, 0, 10), released.clone()]), [Keep, Release]);
    assert_eq!(answers(TEN_A_DAY, vec![released, kept(2, 20, 10)]), [Keep, Keep]);
    let unsaid = CatchEntry { kept: None, ..kept(2, 0, 8) };
    assert_eq!(answers(TEN_A_DAY, vec![unsaid, kept(3, 10, 3)]), [Keep, Undecided]);
    let no_time = CatchEntry { time: None, ..kept(2, 0, 8) };
    assert_eq!(answers(TEN_A_DAY, vec![no_time, kept(3, 10, 3)]), [Undecided, Undecided]);
    let nowhere = CatchEntry { position: None, ..kept(2, 0, 8) };
    assert_eq!(answers(TEN_A_DAY, vec![nowhere, kept(3, 10, 3)]), [Undecided, Undecided]);
}

#[test]
fn a_length_is_decided_only_beyond_the_error_of_measuring() {
    let sardine = |length_cm: f64, error_cm: f64| {
        let zones = zones(TEN_A_DAY);
        let entry = CatchEntry { asked: "sardine".to_owned(), length_cm: Some(length_cm), ..kept(2, 0, 1) };
        let settings = CatchSettings { measuring_error_cm: error_cm, ..CatchSettings::default() };
        CatchJoin::new(&zones, vec![entry], settings).finish()[0].answer
    };
    assert_eq!(
        [11.6, 11.8, 12.0, 12.2, 12.4].map(|cm| sardine(cm, 0.3)),
        [Release, Undecided, Undecided, Undecided, Keep]
    );
    assert_eq!([11.9, 12.0].map(|cm| sardine(cm, 0.0)), [Release, Keep]);
}

#[test]
fn a_position_between_fixes_far_apart_carries_the_way_the_boat_can_have_made() {
    let entry = CatchEntry { position: None, ..kept(2, 25, 1) };
    let track = [fix(0, -30.19), fix(50, -30.19)];
    let finding = found(TEN_A_DAY, vec![entry.clone()], &track).remove(0);
    // nothing moved in 50 s at 12 kn (6.1733 m/s): out and back within 25 s, 154.3 m, and 10 m for the fixes
    let radius_m = finding.uncertainty.unwrap().radius_95().metres();
    assert!((radius_m - 164.3).abs() < 0.1, "{radius_m}");
    // however near the fixes are: half of 10 s and of 1 s at 12 kn, and nothing at a fix
    let radius_between = |from_s: i64, to_s: i64| {
        let near = found(TEN_A_DAY, vec![entry.clone()], &[fix(from_s, -30.19), fix(to_s, -30.19)]).remove(0);
        near.uncertainty.unwrap().radius_95().metres()
    };
    assert!((radius_between(20, 30) - 40.9).abs() < 0.1);
    assert!((radius_between(10, 40) - 102.6).abs() < 0.1);
    // 1 s after a fix: 6.2 m back from it, and 2 m that the straight way may have gone on by then, within the doubts
    assert!((radius_between(24, 34) - 18.2).abs() < 0.1, "{}", radius_between(24, 34));
    assert!((radius_between(25, 35) - 10.0).abs() < 1e-9);
    let nothing_logged = NoPosition::NothingLogged { gap_s: 61.0, from: at(0), to: at(61), within_s: 60.0 };
    for (track, why) in [
        (vec![fix(0, -30.19), fix(61, -30.19)], nothing_logged),
        (vec![fix(0, -30.19)], NoPosition::TrackEnded { before_s: 25.0 }),
        (vec![fix(60, -30.19)], NoPosition::TrackBegins { after_s: 35.0 }),
        (vec![], NoPosition::NoTimedFix),
        (vec![fix(0, -30.19), fix(50, -30.10)], NoPosition::FixesTooFarApart),
    ] {
        let finding = found(TEN_A_DAY, vec![entry.clone()], &track).remove(0);
        assert_eq!((finding.answer, finding.position.position()), (Undecided, None), "{why:?}");
        assert_eq!(finding.because[0], Reason::NoPosition { why });
    }
}

#[test]
fn a_kept_fish_carried_through_a_ban_is_found_even_between_two_fixes() {
    let entries = || vec![kept(2, 0, 1), CatchEntry { kept: Some(false), ..kept(3, 0, 1) }];
    // 79 m of gate between two fixes that are 197 m and 28 s apart
    let track = [fix(150, -30.1765), fix(172, -30.175_75), fix(200, -30.173_25)];
    let finding = found(TEN_A_DAY, entries(), &track);
    let [carried] = finding[0].carried.as_slice() else { panic!("{:?}", finding[0].carried) };
    // both fixes lie outside: the boat may have gone round
    assert_eq!(
        (carried.allowed, carried.certainty, carried.times),
        (Tristate::Undecided, Certainty::Possible, 1)
    );
    let entered = carried.entered.unwrap();
    // 59 m of 197 m to the line at 7.0 m/s, less 10 m of doubt and what the boat can have made by going faster
    assert!((at(174)..at(183)).contains(&entered), "{entered}");
    let nothing_aboard = Reason::from(rule::Reason::AboardForbidden);
    let because = vec![nothing_aboard, Reason::PerhapsNeverInside];
    let (zone, certainty) = ("gate".to_owned(), Certainty::Possible);
    let whole = Reason::CarriedInto { zone, entered: Some(entered), certainty, because };
    assert_eq!(carried.reason(), whole);
    // it may be kept in the pond, but perhaps not be carried where the boat went
    assert_eq!((finding[0].answer, &finding[0].because[0]), (Undecided, &whole));
    assert_eq!(finding[1].carried, []);
    // nobody knows whether it was kept
    let unsaid = found(TEN_A_DAY, vec![CatchEntry { kept: None, ..kept(2, 0, 1) }], &track);
    assert_eq!((unsaid[0].carried[0].allowed, unsaid[0].answer), (Tristate::Undecided, Undecided));
    // before the catch
    assert_eq!(found(TEN_A_DAY, vec![kept(2, 400, 1)], &track)[0].carried, []);
}

#[test]
fn a_place_that_its_own_track_contradicts_is_none() {
    let track = [fix(0, -30.19), fix(30, -30.19), fix(60, -30.19)];
    let at_place = |seconds: i64, position: Position| {
        let entry = CatchEntry { position: Some(position), ..kept(2, seconds, 1) };
        found(TEN_A_DAY, vec![entry], &track).remove(0)
    };
    // 5 km south of the boat, 10 s after a fix
    let far = at_place(10, place(45.065, -30.19));
    assert_eq!((far.answer, far.position.position()), (Undecided, None));
    let why = &far.because[0];
    // 0.045° of latitude are 5001.2 m by Karney's formulas: where the track is withheld that would tell how far off it is
    let Reason::ContradictsTrack { reach_m, top_speed_kn } = *why else { panic!("{why:?}") };
    assert!(reach_m < 500.0 && (top_speed_kn - 12.0).abs() < 1e-9, "{why:?}");
    let CatchPosition::Contradicted { given, logged, .. } = far.position else {
        panic!("{:?}", far.position)
    };
    assert_eq!((given, logged), (place(45.065, -30.19), place(45.11, -30.19)));
    let CatchPosition::Contradicted { apart, .. } = far.position else { panic!("{:?}", far.position) };
    assert!((apart.metres() - 5001.2).abs() < 0.3, "{apart:?}");
    // 80 m off 10 s after a fix: 61.7 m by 12 kn and 10 m for each position, and 20 s before the next
    assert_eq!(at_place(10, place(45.110_72, -30.19)).answer, Keep);
    assert_eq!(at_place(10, place(45.111, -30.19)).answer, Undecided);
    // a time in whole minutes is good to one
    assert_eq!(at_place(0, place(45.111, -30.19)).answer, Keep);
    assert_eq!(at_place(0, place(45.115, -30.19)).answer, Undecided);
    // no track then
    assert_eq!(at_place(7_200, place(45.065, -30.19)).answer, TakeAnswer::Unzoned);
    // what receivers write without a fix is not a position: the track's counts
    let zero = at_place(30, place(0.0, 0.0));
    assert_eq!((zero.answer, zero.position.position()), (Keep, Some(place(45.11, -30.19))));
    assert_eq!(zero.because[0], Reason::RowAtNullIsland);
}

#[test]
fn a_place_of_few_digits_is_known_no_better_than_they_say() {
    // 45.11, -30.13 without its zeros: 556 m to north or south of it and 394 m to east or west
    let at_place = |precise: &str| {
        let parsed = Position::parse(precise).unwrap();
        let precision = Some(parsed.precision);
        let entry = CatchEntry { position: Some(parsed.position), precision, ..kept(2, 7_207, 1) };
        found(TEN_A_DAY, vec![entry], &[]).remove(0)
    };
    let radius_m = |precise: &str| at_place(precise).uncertainty.unwrap().radius_95().metres();
    assert!((radius_m("45.11, -30.13") - 682.0).abs() < 3.0, "{}", radius_m("45.11, -30.13"));
    // half a metre beside ten
    assert!((radius_m("45.11000, -30.13") - 10.0).abs() < 0.05);
}

#[test]
fn near_the_line_it_is_perhaps_carried_and_twice_is_told_once() {
    // 7 m from the western line of the gate, with 10 m of doubt
    let near = -30.175_09;
    let track = [fix(0, -30.18), fix(100, near), fix(200, -30.18), fix(900, near), fix(1000, -30.18)];
    let finding = found(TEN_A_DAY, vec![kept(2, 0, 1)], &track);
    let [carried] = finding[0].carried.as_slice() else { panic!("{:?}", finding[0].carried) };
    assert_eq!(
        (carried.allowed, carried.certainty, carried.times),
        (Tristate::Undecided, Certainty::Possible, 2)
    );
    // nothing was logged for 100 s, and the gate lies 393 m from where that began: 64 s at 12 kn, less the doubt
    let entered = carried.entered.unwrap();
    assert!(entered > at(58) && entered <= at(64), "{entered}");
    assert_eq!(finding[0].answer, Undecided);
}

#[test]
fn many_fixes_far_from_any_line_cost_a_look_now_and_then() {
    let zones = zones(TEN_A_DAY);
    let mut join = CatchJoin::new(&zones, vec![kept(2, 0, 1)], CatchSettings::default());
    for second in 0..100_000 {
        join.push(&fix(second, -30.30 - 1e-6 * f64::from(u32::try_from(second % 1000).unwrap())));
    }
    assert_eq!(join.finish()[0].carried, []);
}

#[derive(Debug, Clone)]
struct Drawn {
    moment: i64,
    count: u32,
    kept: Option<bool>,
    person: Option<&'static str>,
    fish: &'static str,
}

fn drawn() -> impl Strategy<Value = Vec<Drawn>> {
    let one = (
        prop::sample::select(vec![0_i64, 60, 120, 86_400]),
        1_u32..5,
        prop::sample::select(vec![Some(true), Some(true), Some(false), None]),
        prop::sample::select(vec![None, Some("crew"), Some("skipper")]),
        prop::sample::select(vec!["sprat", "sardine", "fish"]),
    );
    let one = one.prop_map(|(moment, count, kept, person, fish)| Drawn { moment, count, kept, person, fish });
    prop::collection::vec(one, 1..8)
}

fn entries(drawn: &[Drawn]) -> Vec<CatchEntry> {
    (2..)
        .zip(drawn)
        .map(|(row, one)| CatchEntry {
            kept: one.kept,
            person: one.person.map(str::to_owned),
            asked: one.fish.to_owned(),
            ..kept(row, one.moment, one.count)
        })
        .collect()
}

/// How hard an answer is.
fn hard(answer: TakeAnswer) -> u8 {
    match answer {
        Keep | TakeAnswer::Unzoned => 0,
        Undecided => 1,
        Release => 2,
    }
}

const BAGS: [&str; 3] = [
    r#"{"count":5,"per":"person-day"}"#,
    r#"{"count":6,"per":"boat-trip"}"#,
    r#"{"count":5,"per":"person-at-once"}"#,
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]

    #[test]
    fn the_order_of_the_rows_changes_nothing(
        rows in drawn().prop_flat_map(|rows| (Just(rows.clone()), Just(entries(&rows)).prop_shuffle())),
        bag in prop::sample::select(BAGS.to_vec()),
    ) {
        let (rows, shuffled) = rows;
        let straight = found(bag, entries(&rows), &[]);
        for finding in found(bag, shuffled, &[]) {
            let same = straight.iter().find(|one| one.entry.row == finding.entry.row).unwrap();
            prop_assert_eq!(finding.answer, same.answer);
            prop_assert_eq!(&finding.bags, &same.bags);
            prop_assert_eq!(&finding.because, &same.because);
        }
    }

    #[test]
    fn more_fish_never_make_an_answer_laxer(
        rows in drawn(), which in any::<prop::sample::Index>(), more in 1_u32..6,
        bag in prop::sample::select(BAGS.to_vec()),
    ) {
        let mut richer = rows.clone();
        let grown = which.index(rows.len());
        richer[grown].count += more;
        if richer[grown].kept == Some(false) {
            richer[grown].kept = Some(true);
        }
        let (fewer, more) = (answers(bag, entries(&rows)), answers(bag, entries(&richer)));
        for (row, (fewer, more)) in fewer.into_iter().zip(more).enumerate() {
            prop_assert!(hard(more) >= hard(fewer), "row {}: {:?} became {:?}", row, fewer, more);
        }
    }

    /// Held against counting by hand, fish by fish: everybody named, everything kept for sure.
    #[test]
    fn a_day_bag_counts_as_one_would_on_paper(rows in drawn()) {
        let mut rows = rows;
        for row in &mut rows {
            (row.kept, row.fish) = (Some(true), "sprat");
            row.person = row.person.or(Some("crew"));
        }
        let answers = answers(BAGS[0], entries(&rows));
        for (row, answer) in rows.iter().zip(answers) {
            let same_bag = |other: &&Drawn| {
                other.person == row.person && (other.moment == 86_400) == (row.moment == 86_400) && other.moment <= row.moment
            };
            let total: u32 = rows.iter().filter(same_bag).map(|other| other.count).sum();
            prop_assert_eq!(answer, if total > 5 { Release } else { Keep });
        }
    }
}

#[test]
fn settings_say_what_they_assume() {
    let settings = CatchSettings::default();
    assert!(
        (settings.interpolate_within_s - 60.0).abs() < 1e-9
            && (settings.measuring_error_cm - 0.3).abs() < 1e-9
    );
    assert_eq!(settings.track, TrackSettings::default());
}

/// Gate closed to fish aboard only from half past eight on, for half an hour.
fn zones_with_hours() -> ZoneSet {
    let mut all = zones(TEN_A_DAY).zones().to_vec();
    all[1].time_zone = jiff::tz::TimeZone::UTC;
    let clock = |hour, minute| jiff::civil::time(hour, minute, 0, 0);
    all[1].when = rule::When::Hours(rule::Hours { from: clock(8, 30), to: clock(9, 0) });
    ZoneSet::new(all)
}

#[test]
fn a_fish_aboard_during_the_closed_hours_in_the_middle_of_a_stay_is_not_one_to_keep() {
    let zones = zones_with_hours();
    let in_gate = |until_s: i64| {
        let entry = CatchEntry { position: Some(place(45.11, -30.19)), ..kept(2, 0, 1) };
        let mut join = CatchJoin::new(&zones, vec![entry], CatchSettings::default());
        // 15 minutes to get there, then a swing of two metres about the middle of the gate
        for second in (900..=until_s).step_by(10) {
            let swing_deg = 2e-5 * f64::from(u32::try_from(second % 60).unwrap()) / 60.0;
            join.push(&fix(second, -30.174_5 + swing_deg));
        }
        join.finish().remove(0)
    };
    assert_eq!(in_gate(1_790).answer, Keep);
    let through = in_gate(7_200);
    assert_eq!((through.answer, through.carried[0].allowed), (Release, Tristate::No));
    assert_eq!(through.carried[0].entered, Some(at(1_800)));
    let Reason::CarriedInto { zone, entered, certainty, .. } = &through.because[0] else {
        panic!("{:?}", through.because)
    };
    assert_eq!((zone.as_str(), *certainty), ("gate", Certainty::Certain));
    assert_eq!(*entered, Some("2026-07-01T08:30:00Z".parse().unwrap()));
}

#[test]
fn a_fish_without_a_time_may_have_been_carried_wherever_the_boat_was() {
    let entry = CatchEntry { time: None, ..kept(2, 0, 1) };
    let track: Vec<_> = (0..10)
        .map(|step| fix(10 * step, -30.174_5 + 1e-6 * f64::from(i32::try_from(step).unwrap())))
        .collect();
    let finding = found(TEN_A_DAY, vec![entry], &track).remove(0);
    assert_eq!((finding.answer, finding.carried[0].allowed), (Undecided, Tristate::Undecided));
}

fn logged(row: u64, seconds: i64) -> CatchEntry {
    CatchEntry { position: None, ..kept(row, seconds, 1) }
}

#[test]
fn a_spike_tells_no_place_of_a_catch() {
    // far west of the pond, with one fix in it
    let mut track: Vec<LoggedFix> = (0..60).map(|second| fix(second, -30.21)).collect();
    track[30] = fix(30, -30.19);
    let found = found(TEN_A_DAY, vec![logged(2, 30), logged(3, 10)], &track);
    assert_eq!((found[0].answer, found[1].answer), (Undecided, TakeAnswer::Unzoned));
    assert_eq!(found[0].because[0], Reason::NoPosition { why: NoPosition::OnlySuspectFixes });
}

#[test]
fn a_spike_within_the_minute_of_a_row_in_whole_minutes_leaves_its_place_open() {
    // let go, so that it is a matter of where it was caught alone
    let row = || CatchEntry { position: None, kept: Some(false), ..kept(2, 0, 1) };
    let answer = |ten: usize| {
        let mut track = eastward(-30.21);
        track[18 + ten].position = place(45.11, -30.19);
        found(TEN_A_DAY, vec![row()], &track)[0].answer
    };
    // 30 s and 60 s from it, and 80 s: never between the two fixes about the row's own second
    assert_eq!((answer(3), answer(6)), (Undecided, Undecided));
    assert_eq!(answer(8), TakeAnswer::Unzoned);
}

#[test]
fn a_fix_dated_hours_ahead_does_not_hide_those_after_it() {
    let mut track: Vec<LoggedFix> = (0..60).map(|second| fix(second, -30.19)).collect();
    track.insert(20, fix(36_000, -30.19));
    let found = found(TEN_A_DAY, vec![logged(2, 50)], &track);
    assert!(matches!(found[0].position, CatchPosition::Fix(_) | CatchPosition::Unknown { .. }));
    assert_ne!(found[0].answer, Release);
}

#[test]
fn a_place_whose_time_is_placed_tells_no_catch() {
    let between = Some((at(0), at(60)));
    let track: Vec<LoggedFix> =
        (0..60).map(|second| LoggedFix { time_between: between, ..fix(second, -30.19) }).collect();
    assert_eq!(found(TEN_A_DAY, vec![logged(2, 30)], &track)[0].answer, Undecided);
}

#[test]
fn of_several_boats_nobody_knows_which_one_carried_it() {
    let zones = zones(TEN_A_DAY);
    let mut join = CatchJoin::new(&zones, vec![kept(2, 0, 1)], CatchSettings::default());
    (0..60).for_each(|second| join.push(&fix(second, -30.19)));
    join.next_boat();
    (100..160).for_each(|second| join.push(&fix(second, -30.1745)));
    let found = join.finish();
    assert_eq!(found[0].answer, Undecided);
    let Reason::CarriedInto { because, .. } = &found[0].because[0] else { panic!("{:?}", found[0].because) };
    assert!(because.contains(&Reason::SeveralBoats), "{because:?}");
}

/// A boat that goes east at 3 m/s with a fix each 10 s, for three minutes before and after it is at a longitude; a degree of
/// longitude is 78.8 km at this latitude (WGS 84).
fn eastward(lon_deg: f64) -> Vec<LoggedFix> {
    let tens = -18_i32..=18;
    tens.map(|ten| fix(i64::from(ten) * 10, lon_deg + f64::from(ten) * 30.0 / 78_800.0)).collect()
}

#[test]
fn a_time_in_whole_minutes_does_not_tell_where_in_its_minutes_the_boat_was() {
    // let go, so that it is a matter of where it was caught alone
    let unplaced = |seconds: i64| CatchEntry { position: None, kept: Some(false), ..kept(2, seconds, 1) };
    let answer =
        |seconds: i64, lon_deg: f64| found(TEN_A_DAY, vec![unplaced(seconds)], &eastward(lon_deg))[0].answer;
    // 158 m west of the gate, and in it 53 s later
    assert_eq!(answer(0, -30.177), Undecided);
    assert_eq!(answer(7, -30.177), TakeAnswer::Unzoned);
    // in the pond, or where nothing is forbidden: 180 m of way, 10 m of the fix, 30 m off the way
    assert_eq!(answer(0, -30.19), Keep);
    assert_eq!(answer(0, -30.21), TakeAnswer::Unzoned);
    // 300 m west of the gate: where the log begins, a minute at 12 kn (370 m) before it is open
    assert_eq!(answer(0, -30.1788), Keep);
    let late = eastward(-30.1788).split_off(18);
    assert_eq!(found(TEN_A_DAY, vec![unplaced(0)], &late)[0].answer, Undecided);
}

#[test]
fn all_fixes_within_its_minutes_may_contradict_a_place_in_whole_minutes() {
    let position = |north_m: f64, lon_deg: f64, seconds: i64| {
        let given = Some(place(45.11 + north_m / 111_100.0, lon_deg));
        let entry = CatchEntry { position: given, ..kept(2, seconds, 1) };
        found(TEN_A_DAY, vec![entry], &eastward(-30.19))[0].position
    };
    // 300 m north of the way all the time: the 370 m of a minute at 12 kn would allow it, the fixes of that minute do not
    let CatchPosition::Contradicted { apart, reach, .. } = position(300.0, -30.19, 0) else {
        panic!("not contradicted")
    };
    assert!((apart.metres() - 300.0).abs() < 1.0 && reach.metres() < 30.0, "{apart:?} {reach:?}");
    // where the boat was 50 s before or after
    let at_50_s = 150.0 / 78_800.0;
    assert!(matches!(position(0.0, -30.19 - at_50_s, 0), CatchPosition::Given(_)));
    assert!(matches!(position(0.0, -30.19 + at_50_s, 0), CatchPosition::Given(_)));
    assert!(matches!(position(0.0, -30.19 + at_50_s, 7), CatchPosition::Contradicted { .. }));
}

#[test]
fn without_zones_a_catch_is_undecided_and_the_remedy_is_said_once() {
    let mut join = CatchJoin::new(&ZoneSet::default(), vec![kept(2, 5, 1)], CatchSettings::default());
    for step in 0..3_u32 {
        join.push(&fix(10 * i64::from(step), -30.19 + 2e-4 * f64::from(step)));
    }
    let found = join.finish().remove(0);
    assert_eq!((found.answer, found.settle.len()), (Undecided, 1), "{:?}", found.settle);
}

/// The audit read them as not given, and the join as they stood: the way between two fixes was then no doubt of the place.
#[test]
fn settings_that_cannot_be_count_as_not_given() {
    let track: Vec<LoggedFix> =
        (0..30_u32).map(|step| fix(10 * i64::from(step), -30.19 + 2e-4 * f64::from(step))).collect();
    let found = |top_speed_kn: f64, other: f64| {
        let track_settings = TrackSettings { top_speed_kn, ..TrackSettings::default() };
        let mut settings = CatchSettings { track: track_settings, ..CatchSettings::default() };
        (settings.interpolate_within_s, settings.measuring_error_cm) =
            if other.is_nan() { (f64::NAN, f64::NAN) } else { (60.0, 0.3) };
        let mut join = CatchJoin::new(&zones(TEN_A_DAY), vec![kept(2, 25, 1)], settings);
        for fix in &track {
            join.push(fix);
        }
        join.finish()
    };
    let usual = found(12.0, 0.0);
    for knots in [f64::NAN, 0.0, -1.0, f64::INFINITY] {
        assert_eq!(format!("{:?}", found(knots, f64::NAN)), format!("{usual:?}"), "{knots}");
    }
}
