//! Dates, annual windows, weekdays and clock hours, against the tricky cases of the trade and naive calendars.

use jiff::civil::{Date, Weekday, date, time};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;

use super::{
    AnnualWindow, DateRange, Hours, MissingTime, NthWeekday, SunEvent, SunHours, SunPlace, SunTime,
    TimeReason, When, WindowEnds,
};
use crate::Tristate::{No, Undecided, Yes};
use crate::{Position, Tristate};

fn zone(name: &str) -> TimeZone {
    TimeZone::get(name).unwrap()
}

fn at(text: &str) -> Timestamp {
    text.parse().unwrap()
}

fn yearly(from: (i8, i8), to: (i8, i8), ends: WindowEnds) -> When {
    When::Yearly(AnnualWindow { from, to, ends })
}

fn hours(from: (i8, i8), to: (i8, i8)) -> When {
    When::Hours(Hours { from: time(from.0, from.1, 0, 0), to: time(to.0, to.1, 0, 0) })
}

fn answer(set: &When, instant: &str, zone_name: &str) -> Tristate {
    set.holds(Some(at(instant)), &zone(zone_name)).answer
}

fn on(set: &When, day: Date) -> Tristate {
    let noon = TimeZone::UTC.to_timestamp(day.at(12, 0, 0, 0)).unwrap();
    set.holds(Some(noon), &TimeZone::UTC).answer
}

// M13 and case 24. Instants are written with their offset; the offsets are those of the tz database.

#[test]
fn season_opens_at_local_midnight_to_the_second() {
    let opens = yearly((11, 1), (2, 28), WindowEnds::Included);
    // New York is on daylight saving time (UTC−4) until 2 November 2025, 02:00
    assert_eq!(answer(&opens, "2025-10-31T23:59:59-04:00", "America/New_York"), No);
    assert_eq!(answer(&opens, "2025-10-31T23:59:59.999-04:00", "America/New_York"), No);
    assert_eq!(answer(&opens, "2025-11-01T00:00:00-04:00", "America/New_York"), Yes);
    // the Azores are on UTC−1 in winter, so that by UTC the season opens at 01:00
    assert_eq!(answer(&opens, "2025-11-01T00:59:59Z", "Atlantic/Azores"), No);
    assert_eq!(answer(&opens, "2025-11-01T01:00:00Z", "Atlantic/Azores"), Yes);
}

#[test]
fn season_edge_on_the_night_the_clocks_go_forward() {
    // New York, 9 March 2025: 02:00 UTC−5 becomes 03:00 UTC−4
    let ninth = yearly((3, 9), (3, 9), WindowEnds::Included);
    assert_eq!(answer(&ninth, "2025-03-08T23:59:59-05:00", "America/New_York"), No);
    assert_eq!(answer(&ninth, "2025-03-09T00:00:00-05:00", "America/New_York"), Yes);
    assert_eq!(answer(&ninth, "2025-03-09T23:59:59-04:00", "America/New_York"), Yes);
    assert_eq!(answer(&ninth, "2025-03-10T00:00:00-04:00", "America/New_York"), No);
    // Azores, 30 March 2025: 00:00 UTC−1 becomes 01:00 UTC, so that the day begins at 01:00
    let thirtieth = yearly((3, 30), (3, 30), WindowEnds::Included);
    assert_eq!(answer(&thirtieth, "2025-03-30T00:59:59Z", "Atlantic/Azores"), No);
    assert_eq!(answer(&thirtieth, "2025-03-30T01:00:00Z", "Atlantic/Azores"), Yes);
}

#[test]
fn season_edge_on_the_night_the_clocks_go_back() {
    // Azores, 26 October 2025: 01:00 UTC becomes 00:00 UTC−1; the first midnight is that of UTC
    let opens = yearly((10, 26), (12, 31), WindowEnds::Included);
    assert_eq!(answer(&opens, "2025-10-25T23:59:59Z", "Atlantic/Azores"), No);
    assert_eq!(answer(&opens, "2025-10-26T00:00:00Z", "Atlantic/Azores"), Yes);
    assert_eq!(answer(&opens, "2025-10-26T01:00:00Z", "Atlantic/Azores"), Yes);
    // New York, 2 November 2025: the day has 25 hours
    let second = yearly((11, 2), (11, 2), WindowEnds::Included);
    assert_eq!(answer(&second, "2025-11-02T00:00:00-04:00", "America/New_York"), Yes);
    assert_eq!(answer(&second, "2025-11-02T23:59:59-05:00", "America/New_York"), Yes);
    assert_eq!(answer(&second, "2025-11-03T00:00:00-05:00", "America/New_York"), No);
}

#[test]
fn clock_hours_on_the_nights_the_clocks_change() {
    let small_hours = hours((1, 30), (2, 30));
    // back: both passes of 01:30 to 02:00 count, the second one runs on to 02:30
    for instant in [
        "2025-11-02T01:30:00-04:00",
        "2025-11-02T01:59:59-04:00",
        "2025-11-02T01:30:00-05:00",
        "2025-11-02T02:29:59-05:00",
    ] {
        assert_eq!(answer(&small_hours, instant, "America/New_York"), Yes, "{instant}");
    }
    for instant in ["2025-11-02T01:00:00-05:00", "2025-11-02T01:29:59-05:00", "2025-11-02T02:30:00-05:00"] {
        assert_eq!(answer(&small_hours, instant, "America/New_York"), No, "{instant}");
    }
    // forward: 02:00 to 03:00 never comes
    assert_eq!(answer(&small_hours, "2025-03-09T01:59:59-05:00", "America/New_York"), Yes);
    assert_eq!(answer(&small_hours, "2025-03-09T03:00:00-04:00", "America/New_York"), No);
}

#[test]
fn two_instants_within_one_second_have_one_reason() {
    let position = Position::from_degrees(45.0, -31.0).unwrap();
    let sun = SunHours {
        from: SunTime { event: SunEvent::Sunset, offset_minutes: 0 },
        to: SunTime { event: SunEvent::Sunrise, offset_minutes: 0 },
        at: SunPlace { name: "Marrowick Chapel".to_owned(), position },
    };
    for set in [hours((8, 0), (18, 0)), When::Sun(sun)] {
        let because = |when| set.holds(Some(at(when)), &TimeZone::UTC).because;
        assert_eq!(because("2026-06-03T18:00:04.1Z"), because("2026-06-03T18:00:04.9Z"));
    }
}

#[test]
fn clock_hours_wrap_midnight() {
    let night = hours((22, 0), (4, 0));
    let cases = [
        ("21:59:59", No),
        ("22:00:00", Yes),
        ("23:59:59", Yes),
        ("00:00:00", Yes),
        ("03:59:59", Yes),
        ("04:00:00", No),
    ];
    for (clock, expected) in cases {
        assert_eq!(
            answer(&night, &format!("2026-06-01T{clock}+00:00"), "Atlantic/Azores"),
            expected,
            "{clock}"
        );
    }
    assert_eq!(answer(&hours((8, 0), (0, 0)), "2026-06-01T23:59:59Z", "UTC"), Yes);
    assert_eq!(answer(&hours((8, 0), (0, 0)), "2026-06-01T00:00:00Z", "UTC"), No);
    assert_eq!(answer(&hours((8, 0), (8, 0)), "2026-06-01T03:00:00Z", "UTC"), Yes);
}

#[test]
fn a_trip_across_midnight_changes_its_answer_at_local_midnight() {
    let set =
        When::Dates(DateRange { from: date(2026, 8, 4), to: date(2026, 8, 4), ends: WindowEnds::Included });
    // half past eight in the evening by New York's clocks is already tomorrow by UTC
    assert_eq!(answer(&set, "2026-08-04T00:30:00Z", "America/New_York"), No);
    assert_eq!(answer(&set, "2026-08-04T04:00:00Z", "America/New_York"), Yes);
    assert_eq!(answer(&set, "2026-08-05T03:59:59Z", "America/New_York"), Yes);
    assert_eq!(answer(&set, "2026-08-05T04:00:00Z", "America/New_York"), No);
}

#[test]
fn an_end_day_that_the_text_leaves_open_is_undecided() {
    let window = yearly((4, 30), (11, 1), WindowEnds::Unstated);
    let expected = [
        (date(2026, 4, 29), No),
        (date(2026, 4, 30), Undecided),
        (date(2026, 5, 1), Yes),
        (date(2026, 10, 31), Yes),
        (date(2026, 11, 1), Undecided),
        (date(2026, 11, 2), No),
    ];
    for (day, answer) in expected {
        assert_eq!(on(&window, day), answer, "{day}");
        assert_eq!(on(&When::Not(Box::new(window.clone())), day), answer.negated(), "{day}");
    }
    let timing = window.holds(Some(at("2026-11-01T12:00Z")), &TimeZone::UTC);
    assert_eq!(timing.because, [TimeReason::EndDay { date: date(2026, 11, 1), set: window.clone() }]);
    let once =
        When::Dates(DateRange { from: date(2026, 4, 30), to: date(2026, 11, 1), ends: WindowEnds::Unstated });
    assert_eq!(on(&once, date(2026, 4, 30)), Undecided);
    assert_eq!(on(&once, date(2027, 4, 30)), No);
    let excluded = yearly((4, 30), (11, 1), WindowEnds::Excluded);
    assert_eq!(on(&excluded, date(2026, 4, 30)), No);
    assert_eq!(on(&excluded, date(2026, 5, 1)), Yes);
}

#[test]
fn annual_window_wraps_new_year_and_meets_29_february() {
    let winter = yearly((12, 1), (2, 28), WindowEnds::Included);
    let expected = [
        (date(2027, 11, 30), No),
        (date(2027, 12, 1), Yes),
        (date(2027, 12, 31), Yes),
        (date(2028, 1, 1), Yes),
        (date(2028, 2, 28), Yes),
        (date(2028, 2, 29), No), // the text says 28 February, in leap years too
        (date(2028, 3, 1), No),
    ];
    for (day, answer) in expected {
        assert_eq!(on(&winter, day), answer, "{day}");
    }
    let to_the_end = yearly((12, 1), (2, 29), WindowEnds::Included);
    assert_eq!(on(&to_the_end, date(2028, 2, 29)), Yes);
    assert_eq!(on(&to_the_end, date(2027, 2, 28)), Yes);
    assert_eq!(on(&to_the_end, date(2027, 3, 1)), No);
    let from_leap_day = yearly((2, 29), (3, 31), WindowEnds::Included);
    assert_eq!(on(&from_leap_day, date(2028, 2, 29)), Yes);
    assert_eq!(on(&from_leap_day, date(2027, 2, 28)), No);
    assert_eq!(on(&from_leap_day, date(2027, 3, 1)), Yes);
}

#[test]
fn last_wednesday_and_following_thursday_spill_into_the_next_month() {
    let pair =
        When::NthWeekday(NthWeekday { nth: -1, weekday: Weekday::Wednesday, month: None, then_days: 1 });
    // 30 September 2026 is a Wednesday (calendar)
    let expected = [
        (date(2026, 9, 29), No),
        (date(2026, 9, 30), Yes),
        (date(2026, 10, 1), Yes),
        (date(2026, 10, 2), No),
        (date(2026, 10, 28), Yes),
        (date(2026, 10, 29), Yes),
        (date(2026, 10, 21), No),
    ];
    for (day, answer) in expected {
        assert_eq!(on(&pair, day), answer, "{day}");
    }
    let september_only =
        When::NthWeekday(NthWeekday { nth: -1, weekday: Weekday::Wednesday, month: Some(9), then_days: 1 });
    assert_eq!(on(&september_only, date(2026, 10, 1)), Yes);
    assert_eq!(on(&september_only, date(2026, 10, 28)), No);
    let fifth =
        When::NthWeekday(NthWeekday { nth: 5, weekday: Weekday::Wednesday, month: None, then_days: 0 });
    assert_eq!(on(&fifth, date(2026, 9, 30)), Yes);
    assert_eq!(on(&fifth, date(2026, 10, 28)), No);
}

#[test]
fn the_edition_in_force_at_the_fix_decides() {
    let window = |from, to| When::Dates(DateRange { from, to, ends: WindowEnds::Included });
    let old = window(date(2025, 1, 1), date(2026, 6, 14));
    let amended = window(date(2026, 6, 15), date(2030, 12, 31));
    // a trip by night over the amendment, in the Azores (UTC in summer, UTC−1 in winter)
    for (instant, by_old, by_amended) in [
        ("2026-06-14T23:59:59Z", Yes, No),
        ("2026-06-15T00:00:00Z", No, Yes),
        ("2031-01-01T01:00:00Z", No, No),
    ] {
        assert_eq!(answer(&old, instant, "Atlantic/Azores"), by_old);
        assert_eq!(answer(&amended, instant, "Atlantic/Azores"), by_amended);
    }
}

#[test]
fn listed_days_with_hours_hold_only_then() {
    let set =
        When::All(vec![When::Days(vec![date(2026, 11, 14), date(2026, 11, 15)]), hours((8, 0), (16, 0))]);
    assert_eq!(answer(&set, "2026-11-14T08:00:00Z", "UTC"), Yes);
    assert_eq!(answer(&set, "2026-11-14T16:00:00Z", "UTC"), No);
    assert_eq!(answer(&set, "2026-11-16T10:00:00Z", "UTC"), No);
}

#[test]
fn a_weekend_from_saturday_afternoon_to_monday_sunrise_can_be_composed() {
    let monday_before_sunrise = When::Sun(SunHours {
        from: SunTime { event: SunEvent::Sunset, offset_minutes: 0 },
        to: SunTime { event: SunEvent::Sunrise, offset_minutes: -30 },
        at: SunPlace {
            name: "Marrowick Chapel".to_owned(),
            position: Position::from_degrees(45.125, -30.11).unwrap(),
        },
    });
    let closed = When::Any(vec![
        When::All(vec![When::Weekdays(vec![Weekday::Saturday]), hours((16, 0), (0, 0))]),
        When::Weekdays(vec![Weekday::Sunday]),
        When::All(vec![When::Weekdays(vec![Weekday::Monday]), hours((0, 0), (12, 0)), monday_before_sunrise]),
    ]);
    // 6 June 2026 is a Saturday; sunrise on the 8th is at about 06:15 UTC
    assert_eq!(answer(&closed, "2026-06-06T15:59:59Z", "UTC"), No);
    assert_eq!(answer(&closed, "2026-06-06T16:00:00Z", "UTC"), Yes);
    assert_eq!(answer(&closed, "2026-06-07T12:00:00Z", "UTC"), Yes);
    assert_eq!(answer(&closed, "2026-06-08T05:00:00Z", "UTC"), Yes);
    assert_eq!(answer(&closed, "2026-06-08T07:00:00Z", "UTC"), No);
    assert_eq!(answer(&closed, "2026-06-08T23:00:00Z", "UTC"), No);
}

#[test]
fn without_a_time_only_what_is_constant_is_decided() {
    let season = yearly((5, 1), (8, 31), WindowEnds::Included);
    let no_time = |set: &When| set.holds(None, &TimeZone::UTC);
    assert_eq!(no_time(&When::Always).answer, Yes);
    assert_eq!(no_time(&When::Not(Box::new(When::Always))).answer, No);
    assert_eq!(no_time(&season).answer, Undecided);
    assert_eq!(no_time(&When::Any(vec![season.clone(), When::Always])).answer, Yes);
    let both = no_time(&When::All(vec![season, hours((8, 0), (16, 0))]));
    assert_eq!(
        (both.answer, both.because),
        (Undecided, vec![TimeReason::NoTime { missing: MissingTime::NotGiven }])
    );
}

#[test]
fn what_cannot_be_known_offline_is_undecided_in_the_laws_words() {
    let quota = When::Unknowable("when the quota is taken".to_owned());
    let season = yearly((5, 1), (8, 31), WindowEnds::Included);
    let closed = When::Any(vec![season.clone(), quota]);
    let timing = closed.holds(Some(at("2026-03-01T12:00Z")), &TimeZone::UTC);
    assert_eq!(timing.answer, Undecided);
    assert_eq!(timing.because, [TimeReason::Unknowable { words: "when the quota is taken".to_owned() }]);
    let in_season = closed.holds(Some(at("2026-06-01T12:00Z")), &TimeZone::UTC);
    assert_eq!(in_season.answer, Yes);
    assert_eq!(in_season.because, [TimeReason::DayWithin { date: date(2026, 6, 1), set: season }]);
}

#[test]
fn nonsense_is_named_and_undecided() {
    let place = |name: &str| SunPlace {
        name: name.to_owned(),
        position: Position::from_degrees(45.0, -30.0).unwrap(),
    };
    let sun = |from, to, name| {
        When::Sun(SunHours {
            from: SunTime { event: SunEvent::Sunset, offset_minutes: from },
            to: SunTime { event: SunEvent::Sunset, offset_minutes: to },
            at: place(name),
        })
    };
    let nth = |nth, month, then_days| {
        When::NthWeekday(NthWeekday { nth, weekday: Weekday::Monday, month, then_days })
    };
    let range = |from, to, ends| When::Dates(DateRange { from, to, ends });
    let bad = [
        yearly((13, 1), (2, 28), WindowEnds::Included),
        yearly((1, 1), (4, 31), WindowEnds::Included),
        yearly((i8::MIN, i8::MAX), (0, 0), WindowEnds::Unstated),
        yearly((5, 1), (5, 2), WindowEnds::Excluded),
        range(date(2026, 5, 2), date(2026, 5, 1), WindowEnds::Included),
        range(date(2026, 5, 1), date(2026, 5, 1), WindowEnds::Excluded),
        range(Date::MAX, Date::MAX, WindowEnds::Excluded),
        nth(6, None, 0),
        nth(0, None, 0),
        nth(i8::MIN, None, 0),
        nth(1, Some(13), 0),
        nth(1, None, u8::MAX),
        sun(i16::MIN, i16::MAX, "Marrowick Chapel"),
        sun(30, 30, "Marrowick Chapel"),
        sun(-30, 30, " "),
        When::Days(vec![]),
        When::Weekdays(vec![]),
        When::Unknowable(" ".to_owned()),
    ];
    for set in bad {
        assert!(set.fault().is_some(), "{set:?}");
        for instant in [Timestamp::MIN, at("2026-05-01T12:00Z"), Timestamp::MAX] {
            assert_eq!(set.holds(Some(instant), &zone("Atlantic/Azores")).answer, Undecided, "{set:?}");
            let _change = set.next_change(instant, &zone("Atlantic/Azores"));
        }
        assert!(When::All(vec![When::Always, When::Not(Box::new(set))]).fault().is_some());
    }
    assert!(When::All(vec![]).fault().is_some());
    assert!(yearly((2, 29), (2, 29), WindowEnds::Included).fault().is_none());
}

#[test]
fn a_day_is_told_by_what_it_is_to_the_set() {
    let day = date(2026, 6, 3);
    let told = |set: &When| set.holds(Some(at("2026-06-03T12:00Z")), &TimeZone::UTC).because[0].code();
    let weekday = |weekday| When::Weekdays(vec![weekday]);
    let first = |weekday| When::NthWeekday(NthWeekday { nth: 1, weekday, month: None, then_days: 0 });
    let cases = [
        (When::Days(vec![day]), "listed-day"),
        (When::Days(vec![date(2026, 6, 4)]), "unlisted-day"),
        (weekday(Weekday::Wednesday), "counted-weekday"),
        (weekday(Weekday::Sunday), "other-weekday"),
        (first(Weekday::Wednesday), "counted-day"),
        (first(Weekday::Sunday), "uncounted-day"),
        (yearly((5, 1), (8, 31), WindowEnds::Included), "day-within"),
        (yearly((7, 1), (8, 31), WindowEnds::Included), "day-outside"),
        (yearly((6, 3), (8, 31), WindowEnds::Unstated), "end-day"),
        (hours((11, 0), (13, 0)), "hour-within"),
        (hours((13, 0), (14, 0)), "hour-outside"),
        (yearly((13, 1), (8, 31), WindowEnds::Included), "cannot-be-meant"),
    ];
    for (set, code) in cases {
        assert_eq!(told(&set), code, "{set:?}");
    }
}

// Laws.

fn any_ends() -> impl Strategy<Value = WindowEnds> {
    prop_oneof![Just(WindowEnds::Included), Just(WindowEnds::Excluded), Just(WindowEnds::Unstated)]
}

fn any_weekday() -> impl Strategy<Value = Weekday> {
    (1_i8..=7).prop_map(|number| Weekday::from_monday_one_offset(number).unwrap())
}

/// Any clock-and-calendar set, sound or not.
pub(super) fn any_clock_set() -> impl Strategy<Value = When> {
    let leaf = prop_oneof![
        Just(When::Always),
        Just(When::Unknowable("when the quota is taken".to_owned())),
        ((1_i8..=12, 1_i8..=31), (1_i8..=12, 1_i8..=31), any_ends())
            .prop_map(|(from, to, ends)| When::Yearly(AnnualWindow { from, to, ends })),
        (0_i64..700, 0_i64..90, any_ends()).prop_map(|(start, length, ends)| {
            let from = date(2025, 6, 1) + SignedDuration::from_hours(24 * start);
            When::Dates(DateRange { from, to: from + SignedDuration::from_hours(24 * length), ends })
        }),
        proptest::collection::vec(any_weekday(), 1..4).prop_map(When::Weekdays),
        (1_i8..=5, any_weekday(), proptest::option::of(1_i8..=12), 0_u8..5).prop_map(
            |(nth, weekday, month, then_days)| When::NthWeekday(NthWeekday {
                nth: if nth == 5 { -1 } else { nth },
                weekday,
                month,
                then_days
            })
        ),
        ((0_i8..24, 0_i8..60), (0_i8..24, 0_i8..60)).prop_map(|(from, to)| hours(from, to)),
    ];
    leaf.prop_recursive(3, 12, 3, |inner| {
        prop_oneof![
            proptest::collection::vec(inner.clone(), 0..4).prop_map(When::All),
            proptest::collection::vec(inner.clone(), 0..4).prop_map(When::Any),
            inner.prop_map(|when| When::Not(Box::new(when))),
        ]
    })
}

pub(super) fn any_zone() -> impl Strategy<Value = TimeZone> {
    prop_oneof![
        Just("UTC"),
        Just("America/New_York"),
        Just("Atlantic/Azores"),
        Just("Australia/Lord_Howe"),
        Just("America/Havana"),
        Just("Pacific/Chatham")
    ]
    .prop_map(zone)
}

/// Instants of the years 2025 and 2026.
pub(super) fn any_instant() -> impl Strategy<Value = Timestamp> {
    (1_735_689_600_i64..1_798_761_600).prop_map(|second| Timestamp::from_second(second).unwrap())
}

proptest! {
    #[test]
    fn not_not_is_itself(set in any_clock_set(), instant in proptest::option::of(any_instant()), zone in any_zone()) {
        let twice = When::Not(Box::new(When::Not(Box::new(set.clone()))));
        prop_assert_eq!(twice.holds(instant, &zone), set.holds(instant, &zone));
    }

    #[test]
    fn all_and_any_agree_with_kleene(
        sets in proptest::collection::vec(any_clock_set(), 0..5),
        instant in proptest::option::of(any_instant()),
        zone in any_zone(),
    ) {
        let answers: Vec<_> = sets.iter().map(|set| set.holds(instant, &zone).answer).collect();
        let all = When::All(sets.clone()).holds(instant, &zone).answer;
        let any = When::Any(sets.clone()).holds(instant, &zone).answer;
        prop_assert_eq!(all, Tristate::all(answers.iter().copied()));
        prop_assert_eq!(any, Tristate::any(answers));
        // De Morgan
        let none = When::Any(sets.into_iter().map(|set| When::Not(Box::new(set))).collect());
        prop_assert_eq!(none.holds(instant, &zone).answer, all.negated());
    }

    #[test]
    fn undecided_always_says_why(set in any_clock_set(), instant in proptest::option::of(any_instant()), zone in any_zone()) {
        let timing = set.holds(instant, &zone);
        prop_assert!(timing.answer != Undecided || !timing.because.is_empty());
    }

    #[test]
    fn annual_windows_count_the_days_a_naive_calendar_counts(
        from in (1_i8..=12, 1_i8..=28),
        to in (1_i8..=12, 1_i8..=28),
        leap_start in any::<bool>(),
    ) {
        let from = if leap_start { (2, 29) } else { from };
        let window = AnnualWindow { from, to, ends: WindowEnds::Included };
        let mut day = date(2024, 1, 1);
        let mut counted = 0;
        while day.year() < 2032 {
            counted += usize::from(window.holds_on(day) == Yes);
            day = day.tomorrow().unwrap();
        }
        let naive: usize = (2024..2032).map(|year| naive_days_in(from, to, year)).sum();
        prop_assert_eq!(counted, naive);
    }
}

/// Days of one year in a window, from a table of month lengths and nothing else.
fn naive_days_in(from: (i8, i8), to: (i8, i8), year: i32) -> usize {
    let february = if year % 4 == 0 && (year % 100 != 0 || year % 400 == 0) { 29 } else { 28 };
    let lengths = [31, february, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
    let mut inside = 0;
    for (month, length) in (1_i32..).zip(lengths) {
        for day in 1..=length {
            let number = month * 100 + day;
            let [first, last] = [from, to].map(|(month, day)| i32::from(month) * 100 + i32::from(day));
            let holds = if first <= last {
                number >= first && number <= last
            } else {
                number >= first || number <= last
            };
            inside += usize::from(holds);
        }
    }
    inside
}

/// The Gregorian calendar repeats after 400 years of 146 097 days, 20 871 weeks exactly (ISO 8601 calendar arithmetic).
#[test]
fn weekday_rules_over_400_years_match_a_count_by_weeks() {
    let first_sunday = NthWeekday { nth: 1, weekday: Weekday::Sunday, month: None, then_days: 0 };
    let last_sunday = NthWeekday { nth: -1, weekday: Weekday::Sunday, month: None, then_days: 1 };
    let (mut days, mut firsts, mut lasts) = (0_u32, 0, 0);
    let mut day = date(2000, 1, 1);
    while day.year() < 2400 {
        days += 1;
        firsts += u32::from(first_sunday.holds_on(day));
        lasts += u32::from(last_sunday.holds_on(day));
        day = day.tomorrow().unwrap();
    }
    assert_eq!(days, 146_097);
    assert_eq!(firsts, 400 * 12);
    assert_eq!(lasts, 2 * 400 * 12);
}
