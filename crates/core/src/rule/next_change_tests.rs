//! The next change of an answer: named cases, and the law that nothing changes before it.

use jiff::civil::{Weekday, date, time};
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;

use super::in_force_tests::{any_clock_set, any_instant, any_zone};
use super::{
    Almanac, AnnualWindow, DateRange, Hours, SunEvent, SunHours, SunMoment, SunPlace, SunTime, When,
    WindowEnds, sun_event,
};
use crate::Position;

fn zone(name: &str) -> TimeZone {
    TimeZone::get(name).unwrap()
}

fn at(text: &str) -> Timestamp {
    text.parse().unwrap()
}

fn next(set: &When, after: &str, zone_name: &str) -> Option<Timestamp> {
    set.next_change(at(after), &zone(zone_name))
}

fn clock_hours(from: (i8, i8), to: (i8, i8)) -> When {
    When::Hours(Hours { from: time(from.0, from.1, 0, 0), to: time(to.0, to.1, 0, 0) })
}

#[test]
fn a_season_ends_with_its_last_day_in_local_time() {
    let season = When::Yearly(AnnualWindow { from: (5, 1), to: (9, 30), ends: WindowEnds::Included });
    let end = next(&season, "2026-06-03T12:00Z", "America/New_York").unwrap();
    assert_eq!(end, at("2026-10-01T00:00:00-04:00"));
    // from the edge itself on to the next one
    let begin = season.next_change(end, &zone("America/New_York")).unwrap();
    assert_eq!(begin, at("2027-05-01T00:00:00-04:00"));
}

#[test]
fn an_unstated_end_day_begins_and_ends_as_a_change_of_its_own() {
    let range = DateRange { from: date(2026, 4, 30), to: date(2026, 11, 1), ends: WindowEnds::Unstated };
    let set = When::Dates(range);
    let mut instant = at("2026-04-01T00:00Z");
    for expected in ["2026-04-30T00:00Z", "2026-05-01T00:00Z", "2026-11-01T00:00Z", "2026-11-02T00:00Z"] {
        instant = set.next_change(instant, &TimeZone::UTC).unwrap();
        assert_eq!(instant, at(expected));
    }
    assert_eq!(set.next_change(instant, &TimeZone::UTC), None);
}

#[test]
fn clock_hours_change_where_the_clock_jumps_over_their_edge() {
    // New York, 9 March 2025: hours to 02:30 end as 02:00 becomes 03:00
    let small_hours = clock_hours((1, 30), (2, 30));
    assert_eq!(
        next(&small_hours, "2025-03-09T01:45:00-05:00", "America/New_York"),
        Some(at("2025-03-09T03:00:00-04:00"))
    );
    // 2 November 2025: 01:30 is reached twice, and the clock goes back from 02:00 to 01:00 in between
    let mut instant = at("2025-11-02T00:00:00-04:00");
    for expected in [
        "2025-11-02T01:30:00-04:00",
        "2025-11-02T01:00:00-05:00",
        "2025-11-02T01:30:00-05:00",
        "2025-11-02T02:30:00-05:00",
    ] {
        instant = small_hours.next_change(instant, &zone("America/New_York")).unwrap();
        assert_eq!(instant, at(expected));
    }
}

#[test]
fn what_never_changes_or_not_within_400_days_has_no_next_change() {
    assert_eq!(next(&When::Always, "2026-06-03T12:00Z", "UTC"), None);
    assert_eq!(next(&When::Unknowable("when closed by notice".to_owned()), "2026-06-03T12:00Z", "UTC"), None);
    assert_eq!(next(&clock_hours((8, 0), (8, 0)), "2026-06-03T12:00Z", "UTC"), None);
    let leap_day = When::Yearly(AnnualWindow { from: (2, 29), to: (2, 29), ends: WindowEnds::Included });
    assert_eq!(next(&leap_day, "2025-01-01T00:00Z", "UTC"), None);
    assert_eq!(next(&leap_day, "2027-06-01T00:00Z", "UTC"), Some(at("2028-02-29T00:00Z")));
    let weekend = When::Weekdays(vec![Weekday::Saturday]);
    assert_eq!(weekend.next_change(Timestamp::MAX, &TimeZone::UTC), None);
    assert!(weekend.next_change(Timestamp::MIN, &TimeZone::UTC).is_some());
}

fn sun_hours(from: (SunEvent, i16), to: (SunEvent, i16), latitude_deg: f64) -> SunHours {
    SunHours {
        from: SunTime { event: from.0, offset_minutes: from.1 },
        to: SunTime { event: to.0, offset_minutes: to.1 },
        at: SunPlace {
            name: "Marrowick Chapel".to_owned(),
            position: Position::from_degrees(latitude_deg, -30.11).unwrap(),
        },
    }
}

#[test]
fn a_night_closure_begins_half_an_hour_after_the_sunset_of_its_place() {
    let hours = sun_hours((SunEvent::Sunset, 30), (SunEvent::Sunrise, -30), 45.125);
    let SunMoment::At(sunset) =
        sun_event(SunEvent::Sunset, date(2026, 8, 3), hours.at.position, &zone("Atlantic/Azores"))
    else {
        panic!()
    };
    let set = When::Sun(hours);
    let begin = next(&set, "2026-08-03T12:00Z", "Atlantic/Azores");
    assert_eq!(begin, Some(sunset + SignedDuration::from_mins(30)));
}

#[test]
fn a_polar_night_lasts_until_the_sun_comes_back() {
    // 78° N: no sunrise from the end of October to the middle of February (from memory of the almanac: ± a week)
    let set = When::Sun(sun_hours((SunEvent::Sunset, 0), (SunEvent::Sunrise, 0), 78.0));
    let end = next(&set, "2025-12-01T00:00Z", "UTC").unwrap();
    assert!(at("2026-02-08T00:00Z") < end && end < at("2026-02-22T00:00Z"), "{end}");
}

/// Instants between two, ends included, at the given parts in a thousand.
fn between(start: Timestamp, end: Timestamp, parts: &[i64]) -> Vec<Timestamp> {
    let seconds = end.as_second() - start.as_second() - 1;
    parts.iter().map(|part| start + SignedDuration::from_secs(seconds * part / 1000)).collect()
}

fn check_law(set: &When, after: Timestamp, zone: &TimeZone, parts: &[i64]) -> Result<(), TestCaseError> {
    let mut almanac = Almanac::default();
    let now = set.holds(Some(after), zone).answer;
    let change = set.next_change(after, zone);
    let until = change.unwrap_or(after + SignedDuration::from_hours(24 * 400));
    if change.is_some() {
        let before = until - SignedDuration::from_nanos(1);
        prop_assert_eq!(set.holds(Some(before), zone).answer, now, "just before {}", until);
        prop_assert_ne!(set.holds(Some(until), zone).answer, now, "at {}", until);
    }
    for instant in between(after, until, parts) {
        prop_assert_eq!(
            set.holds_by(&mut almanac, Some(instant), zone).answer,
            now,
            "{} before {}",
            instant,
            until
        );
    }
    Ok(())
}

fn any_sun_set() -> impl Strategy<Value = When> {
    let event = || {
        prop_oneof![
            Just(SunEvent::Sunrise),
            Just(SunEvent::Sunset),
            Just(SunEvent::CivilDawn),
            Just(SunEvent::CivilDusk)
        ]
    };
    ((event(), -120_i16..120), (event(), -120_i16..120), -80.0..80.0_f64)
        .prop_map(|(from, to, latitude)| When::Sun(sun_hours(from, to, latitude)))
}

proptest! {
    #[test]
    fn nothing_changes_before_the_next_change(
        set in any_clock_set(),
        after in any_instant(),
        zone in any_zone(),
        parts in proptest::collection::vec(0_i64..=1000, 50),
    ) {
        check_law(&set, after, &zone, &parts)?;
    }
}

proptest! {
    // each case works out the sun of up to 400 days
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn nothing_changes_before_the_next_change_by_the_sun(
        set in any_sun_set(),
        night in any_clock_set(),
        after in any_instant(),
        zone in any_zone(),
        parts in proptest::collection::vec(0_i64..=1000, 30),
    ) {
        check_law(&set, after, &zone, &parts)?;
        check_law(&When::All(vec![set, night]), after, &zone, &parts)?;
    }
}
