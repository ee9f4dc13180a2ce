//! Times, durations, speeds and answers as people read them. Rounding is fixed, so that the same input gives the same bytes.

use jiff::tz::TimeZone;
use jiff::{Timestamp, Unit};
use maud::{Markup, html};
use takeline::Tristate;
use takeline::track::{Certainty, Evidence, LoggedMoment, Suspicion, Visit};

use crate::figures;

/// A duration in at most two units: `0.4 s`, `42 s`, `8 min 20 s`, `2 h 05 min`.
pub(super) fn duration(seconds: f64) -> String {
    if !seconds.is_finite() {
        return "not known".into();
    }
    let seconds = seconds.max(0.0);
    if seconds < 9.95 {
        return format!("{seconds:.1}\u{a0}s");
    }
    let whole = seconds.round();
    if whole < 60.0 {
        return format!("{whole:.0}\u{a0}s");
    }
    if whole < 3600.0 {
        return format!("{:.0}\u{a0}min {:02.0}\u{a0}s", (whole / 60.0).floor(), whole % 60.0);
    }
    let minutes = (whole / 60.0).round();
    format!("{:.0}\u{a0}h {:02.0}\u{a0}min", (minutes / 60.0).floor(), minutes % 60.0)
}

/// A duration at most; a moment where it is none, and not known without times.
pub(super) fn possible_time(seconds: Option<f64>) -> String {
    match seconds {
        Some(seconds) if seconds > 0.0 => duration(seconds),
        Some(_) => "one moment".into(),
        None => "a time not known".into(),
    }
}

/// A speed to a tenth of a knot.
pub(super) fn knots(speed_kn: f64) -> String {
    format!("{speed_kn:.1}\u{a0}kn")
}

fn whole_second(time: Timestamp) -> Timestamp {
    time.round(Unit::Second).unwrap_or(time)
}

/// Date and time in UTC, to the second.
pub(super) fn utc(time: Timestamp) -> String {
    format!("{} UTC", whole_second(time).strftime("%Y-%m-%d %H:%M:%S"))
}

/// Date and time on the clock of a time zone, to the second.
pub(super) fn local(time: Timestamp, zone: &TimeZone) -> String {
    zone.to_datetime(whole_second(time)).strftime("%Y-%m-%d %H:%M:%S").to_string()
}

/// Time of day on the clock of a time zone, to the second.
pub(super) fn clock(time: Timestamp, zone: &TimeZone) -> String {
    zone.to_datetime(whole_second(time)).strftime("%H:%M:%S").to_string()
}

/// Time of day on the clock of a time zone, to the minute.
pub(super) fn clock_minutes(time: Timestamp, zone: &TimeZone) -> String {
    zone.to_datetime(time).strftime("%H:%M").to_string()
}

/// The name of a time zone, or its offset where it has none.
pub(super) fn zone_name(zone: &TimeZone, at: Timestamp) -> String {
    zone.iana_name().map_or_else(|| format!("UTC{}", zone.to_offset(at)), |name| name.replace('_', " "))
}

/// A moment: UTC, the zone's own clock, the fixes around it, and where.
pub(super) fn moment(instant: &LoggedMoment, zone: &TimeZone) -> Markup {
    html! {
        @match instant.time {
            Some(time) => {
                time datetime=(whole_second(time)) { (utc(time)) }
                @if zone != &TimeZone::UTC {
                    br; (local(time, zone)) " " (zone_name(zone, time))
                }
            }
            None => { "no time in the log" }
        }
        @if let Some((before, after)) = instant.between && before != after {
            br;
            span.fine { "between the fixes of " (clock(before, &TimeZone::UTC)) " and " (clock(after, &TimeZone::UTC)) " UTC" }
        }
        br;
        span.place { (figures::position(instant.position)) }
    }
}

pub(super) const fn certainty(certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Certain => "certain",
        Certainty::Possible => "possible",
    }
}

pub(super) const fn standing(standing: Option<Certainty>) -> &'static str {
    match standing {
        Some(Certainty::Certain) => "certainly inside",
        Some(Certainty::Possible) => "possibly inside",
        None => "outside every loaded zone",
    }
}

pub(super) const fn evidence(visit: &Visit) -> &'static str {
    if visit.is_suspect {
        return "only suspect fixes, which may be wrong";
    }
    match visit.evidence {
        Evidence::Fixes => "at least one logged fix",
        Evidence::BetweenFixes if visit.off_the_way.is_some() => {
            "only that the boat can have left the straight way between two fixes so far, at the top speed below"
        }
        Evidence::BetweenFixes => {
            "only the straight way between two fixes that lie outside; the boat may have gone round"
        }
        Evidence::Gap => "only that the boat could have been there while nothing was logged",
    }
}

pub(super) const fn in_force(answer: Tristate) -> &'static str {
    match answer {
        Tristate::Yes => "in force",
        Tristate::No => "not in force",
        Tristate::Undecided => "not known whether in force",
    }
}

/// Whether a condition was kept; what is only possible is never put as a fact.
pub(super) const fn kept(met: Tristate, certainty: Certainty) -> &'static str {
    match (met, certainty) {
        (Tristate::Yes, _) => "kept, by this track",
        (Tristate::No, Certainty::Certain) => "not kept, by this track",
        (Tristate::No, Certainty::Possible) => "not kept, if the boat was inside at all",
        (Tristate::Undecided, _) => "not settled by this track",
    }
}

pub(super) const fn suspicion(suspicion: Suspicion) -> &'static str {
    match suspicion {
        Suspicion::Duplicate => "same instant and place as the fix before",
        Suspicion::OutOfOrder => "earlier than the fix before",
        Suspicion::Spike => "too far to get there and back in the time",
        Suspicion::ColdStart => "logged before the receiver had settled",
        Suspicion::NullIsland => "latitude 0, longitude 0",
        Suspicion::RepeatedPosition => "the same place for longer than a floating boat lies still",
        Suspicion::Untimed => "without a time, while nothing else was logged",
        _ => "suspect",
    }
}

/// `1 visit`, `2 visits`.
pub(super) fn counted(count: u64, one: &str, many: &str) -> String {
    if count == 1 { format!("1\u{a0}{one}") } else { format!("{count}\u{a0}{many}") }
}

#[cfg(test)]
mod tests {
    use super::duration;

    #[test]
    fn durations_carry_and_never_print_sixty() {
        for (seconds, expected) in [
            (0.4, "0.4 s"),
            (9.96, "10 s"),
            (59.6, "1 min 00 s"),
            (500.0, "8 min 20 s"),
            (3599.7, "1 h 00 min"),
            (7500.0, "2 h 05 min"),
            (f64::INFINITY, "not known"),
        ] {
            assert_eq!(duration(seconds).replace('\u{a0}', " "), expected);
        }
    }
}
