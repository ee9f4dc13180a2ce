//! Times, spans, ways, speeds and counts as people read them, in figures. Rounding is fixed, so that the same input gives the
//! same bytes.

use jiff::tz::TimeZone;
use jiff::{Timestamp, Unit};
use takeline::Metres;

use crate::figures::{self, Units};

/// Writes a span: `45 s`, `12 min`, `1 h 05 min`; `not known` for what is no number.
pub(crate) fn span(seconds: f64) -> String {
    const SECONDS_IN_A_MINUTE: f64 = 60.0;
    const MINUTES_IN_AN_HOUR: f64 = 60.0;
    if !seconds.is_finite() {
        return "not known".into();
    }
    if seconds < 2.0 * SECONDS_IN_A_MINUTE {
        return format!("{:.0}\u{a0}s", seconds.max(0.0));
    }
    let minutes = (seconds / SECONDS_IN_A_MINUTE).round();
    if minutes < MINUTES_IN_AN_HOUR {
        return format!("{minutes:.0}\u{a0}min");
    }
    let hours = (minutes / MINUTES_IN_AN_HOUR).floor();
    format!("{hours:.0}\u{a0}h\u{a0}{:02.0}\u{a0}min", minutes - hours * MINUTES_IN_AN_HOUR)
}

/// Writes a span within a sentence: `45 s`, `8 min`, `2 h 5 min`.
pub(crate) fn plain_span(seconds: f64) -> String {
    let whole = seconds.round();
    if whole < 60.0 {
        return format!("{whole:.0} s");
    }
    let minutes = (seconds / 60.0).round();
    if minutes < 60.0 {
        return format!("{minutes:.0} min");
    }
    format!("{:.0} h {:.0} min", (minutes / 60.0).floor(), minutes % 60.0)
}

/// Writes a span in seconds below two minutes, else in minutes however many.
pub(crate) fn in_minutes(seconds: f64) -> String {
    if seconds < 120.0 { format!("{seconds:.0} s") } else { format!("{:.0} min", seconds / 60.0) }
}

/// Writes a length of way, in metric units in whole metres.
pub(crate) fn way(units: Units, length: Metres) -> String {
    figures::distance(units, length, Metres::ZERO)
}

/// Writes an instant in UTC to the second.
pub(crate) fn utc(time: Timestamp) -> String {
    time.strftime("%Y-%m-%dT%H:%M:%SZ").to_string()
}

/// Writes an instant for a heading: `2026-07-25 06:31 UTC`.
pub(crate) fn minute(time: Timestamp) -> String {
    time.strftime("%Y-%m-%d %H:%M UTC").to_string()
}

/// To the second, as the page has times for programs.
pub(crate) fn whole_second(time: Timestamp) -> Timestamp {
    time.round(Unit::Second).unwrap_or(time)
}

/// Date and time in UTC, to the second, as the page has it.
pub(crate) fn utc_spaced(time: Timestamp) -> String {
    format!("{} UTC", whole_second(time).strftime("%Y-%m-%d %H:%M:%S"))
}

/// Time of day on the clock of a time zone, to the second.
pub(crate) fn clock(time: Timestamp, zone: &TimeZone) -> String {
    zone.to_datetime(whole_second(time)).strftime("%H:%M:%S").to_string()
}

/// Time of day on the clock of a time zone, to the minute.
pub(crate) fn clock_minutes(time: Timestamp, zone: &TimeZone) -> String {
    zone.to_datetime(time).strftime("%H:%M").to_string()
}

/// The name of a time zone, or its offset where it has none.
pub(crate) fn zone_name(zone: &TimeZone, at: Timestamp) -> String {
    zone.iana_name().map_or_else(|| format!("UTC{}", zone.to_offset(at)), |name| name.replace('_', " "))
}

/// `1 visit`, `2 visits`.
pub(crate) fn counted(count: u64, one: &str, many: &str) -> String {
    if count == 1 { format!("1\u{a0}{one}") } else { format!("{count}\u{a0}{many}") }
}

#[cfg(test)]
mod tests {
    use super::{in_minutes, plain_span, span};

    #[test]
    fn durations_carry_and_never_print_an_hour_and_sixty_minutes() {
        for (seconds, in_a_list, in_a_sentence, whole_minutes) in [
            (0.4, "0 s", "0 s", "0 s"),
            (9.96, "10 s", "10 s", "10 s"),
            (59.4, "59 s", "59 s", "59 s"),
            (59.6, "60 s", "1 min", "60 s"),
            (119.6, "120 s", "2 min", "120 s"),
            (500.0, "8 min", "8 min", "8 min"),
            (3569.0, "59 min", "59 min", "59 min"),
            (3599.7, "1 h 00 min", "1 h 0 min", "60 min"),
            (7170.0, "2 h 00 min", "2 h 0 min", "120 min"),
            (7500.0, "2 h 05 min", "2 h 5 min", "125 min"),
        ] {
            let plain = span(seconds).replace('\u{a0}', " ");
            assert_eq!(
                (plain.as_str(), plain_span(seconds).as_str()),
                (in_a_list, in_a_sentence),
                "{seconds}"
            );
            assert_eq!(in_minutes(seconds), whole_minutes, "{seconds}");
        }
        assert_eq!(span(f64::INFINITY), "not known");
        assert_eq!(span(f64::NAN), "not known");
    }
}
