//! Decimal years and the two ends of the model's life, by the calendar of `jiff`.

use approx::assert_abs_diff_eq;
use jiff::civil::date;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};

use super::field::years_of_life;

fn at(text: &str) -> Timestamp {
    text.parse().unwrap()
}

#[test]
fn each_year_begins_at_a_whole_number() {
    for (year, years) in (2025..2030).zip([0.0, 1.0, 2.0, 3.0, 4.0]) {
        let start = TimeZone::UTC.to_timestamp(date(year, 1, 1).into()).unwrap();
        assert_eq!(years_of_life(start), Some(years), "{year}");
    }
}

#[test]
fn half_a_year_is_half_of_its_own_days() {
    assert_eq!(years_of_life(at("2025-07-02T12:00:00Z")), Some(0.5));
    assert_eq!(years_of_life(at("2028-07-02T00:00:00Z")), Some(3.5));
    // 29 February is the 60th day: 59 whole days of 366 have gone
    assert_eq!(years_of_life(at("2028-02-29T00:00:00Z")), Some(3.0 + 59.0 / 366.0));
}

#[test]
fn the_life_has_its_first_instant_and_not_the_one_after_its_last() {
    let (first, after) = (at("2025-01-01T00:00:00Z"), at("2030-01-01T00:00:00Z"));
    let instant = SignedDuration::from_nanos(1);
    assert!(years_of_life(first).is_some());
    assert_eq!(years_of_life(first - instant), None);
    assert_eq!(years_of_life(after), None);
    let last = years_of_life(after - instant).unwrap();
    assert_abs_diff_eq!(5.0, last, epsilon = 1e-12);
    for far in [Timestamp::MIN, Timestamp::UNIX_EPOCH, Timestamp::MAX] {
        assert_eq!(years_of_life(far), None);
    }
}
