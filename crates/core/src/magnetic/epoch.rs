//! The model's years: decimal years as its makers count them, and its life.

use jiff::Timestamp;

/// The first instant of each year of the model's life, and of the year after it, in seconds since 1970.
///
/// 2028 is the only leap year among them.
const EPOCH_YEARS: [i64; 6] =
    [1_735_689_600, 1_767_225_600, 1_798_761_600, 1_830_297_600, 1_861_920_000, 1_893_456_000];

/// Returns the years since 2025.0, or nothing outside 2025-01-01T00:00:00Z to 2030-01-01T00:00:00Z.
///
/// The first instant belongs to the life, the last does not. The fraction of a year is that of its own days, 365 or 366.
pub(super) fn years_of_life(time: Timestamp) -> Option<f64> {
    let mut whole_years = 0.0;
    for year in EPOCH_YEARS.windows(2) {
        let [start, end] = *year else { return None };
        if (start..end).contains(&time.as_second()) {
            let into_s = to_f64(time.as_second() - start) + f64::from(time.subsec_nanosecond()) * 1e-9;
            return Some(whole_years + into_s / to_f64(end - start));
        }
        whole_years += 1.0;
    }
    None
}

#[expect(clippy::cast_precision_loss, reason = "seconds of a year are far below 2^53")]
fn to_f64(seconds: i64) -> f64 {
    seconds as f64
}
