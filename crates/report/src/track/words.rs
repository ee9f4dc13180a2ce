//! Times, spans and names of things as people read them.

use jiff::Timestamp;
use takeline::Metres;
use takeline::rule::Access;
use takeline::track::{Audit, Certainty, Direction, Evidence, LoggedMoment, OpenEnd, Suspicion, Visit};
use takeline::zone::Zone;

/// Writes a span: `45 s`, `12 min`, `1 h 05 min`.
pub(crate) fn span(seconds: f64) -> String {
    const SECONDS_IN_A_MINUTE: f64 = 60.0;
    const MINUTES_IN_AN_HOUR: f64 = 60.0;
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

/// Writes a length of way in whole metres.
pub(crate) fn way(length: Metres) -> String {
    crate::figures::distance(length, Metres::ZERO)
}

/// Writes the way of a visit, and that more was made where nothing was logged.
pub(crate) fn way_and_gaps(visit: &Visit) -> String {
    let logged = way(visit.path);
    match visit.gaps {
        0 => logged,
        1 => format!("{logged} logged, and what was made in a gap"),
        gaps => format!("{logged} logged, and what was made in {gaps} gaps"),
    }
}

/// Writes an instant in UTC to the second.
pub(crate) fn utc(time: Timestamp) -> String {
    time.strftime("%Y-%m-%dT%H:%M:%SZ").to_string()
}

/// Writes an instant in UTC, and by the zone's own clock where that differs.
pub(crate) fn utc_and_local(time: Timestamp, zone: Option<&Zone>) -> String {
    let local = zone.map(|zone| time.to_zoned_datetime(zone.time_zone.clone()));
    match local.filter(|local| local.offset().seconds() != 0) {
        Some(local) => format!("{} ({} there)", utc(time), local.strftime("%H:%M:%S")),
        None => utc(time),
    }
}

/// Writes a stretch of time for a heading: `2026-07-25 06:31 to 06:43 UTC`.
pub(crate) fn from_to(from: &LoggedMoment, to: &LoggedMoment) -> Option<String> {
    let (from, to) = (from.time?, to.time?);
    let day = |time: Timestamp| time.strftime("%Y-%m-%d").to_string();
    let end = if day(from) == day(to) { to.strftime("%H:%M") } else { to.strftime("%m-%d %H:%M") };
    Some(format!("{} to {end} UTC", from.strftime("%Y-%m-%d %H:%M")))
}

/// Writes an instant for a heading: `2026-07-25 06:31 UTC`.
pub(crate) fn minute(time: Timestamp) -> String {
    time.strftime("%Y-%m-%d %H:%M UTC").to_string()
}

/// Writes a speed with one decimal.
pub(crate) fn knots(speed_kn: f64) -> String {
    format!("{speed_kn:.1}\u{a0}kn")
}

/// How long a visit surely lasted; by way where there are no times.
///
/// Where every fix has a gap before and after it, nothing is certain but the moments of the fixes.
pub(crate) fn certain_span(visit: &Visit) -> String {
    match visit.certain_s {
        Some(seconds) if seconds <= 0.0 && visit.gaps > 1 => {
            format!("at its fixes; all that lay between is {} gaps", visit.gaps)
        }
        seconds => long(visit, seconds),
    }
}

/// How long a visit can have lasted at most.
pub(crate) fn possible_span(visit: &Visit) -> String {
    if visit.possible_s.is_none() && visit.path.metres() <= 0.0 {
        return "not known".into();
    }
    long(visit, visit.possible_s)
}

fn long(visit: &Visit, seconds: Option<f64>) -> String {
    match seconds {
        Some(seconds) if seconds > 0.0 => span(seconds),
        Some(_) => "one moment".into(),
        None => format!("{} of way", way(visit.path)),
    }
}

/// Whether the log says how long the visit was.
pub(crate) fn is_timed(visit: &Visit) -> bool {
    visit.possible_s.is_some()
}

/// From where somebody fishes, as options and documents have it.
pub(crate) fn access(access: Access) -> &'static str {
    match access {
        Access::Boat => "boat",
        Access::Shore => "shore",
        Access::Diving => "diving",
    }
}

pub(crate) fn certainty(certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Certain => "certain",
        Certainty::Possible => "possible",
    }
}

pub(crate) fn evidence(evidence: Evidence) -> &'static str {
    match evidence {
        Evidence::Fixes => "fixes",
        Evidence::BetweenFixes => "between-fixes",
        Evidence::Gap => "gap",
    }
}

pub(crate) fn direction(direction: Direction) -> &'static str {
    match direction {
        Direction::In => "in",
        Direction::Out => "out",
    }
}

/// Where the top speed comes from.
pub(crate) fn top_speed_source(audit: &Audit) -> &'static str {
    if audit.quality.order.shown_kn.is_some() {
        "shown"
    } else if audit.settings.top_speed_given {
        "given"
    } else {
        "assumed"
    }
}

/// The end of a gap that nobody knows, in output.
pub(crate) fn open_end(open: OpenEnd) -> &'static str {
    match open {
        OpenEnd::BeforeTheFirst => "before-the-first-fix",
        OpenEnd::AfterTheLast => "after-the-last-fix",
        OpenEnd::Repeats => "repeats",
    }
}

/// The kinds of suspicion with their names in output, in the order in which the audit counts them.
pub(crate) const SUSPICIONS: [(&str, &str); 7] = [
    ("duplicate", "repeated fixes"),
    ("out-of-order", "out of order"),
    ("spike", "spikes, faster than a boat goes"),
    ("cold-start", "before the receiver had settled"),
    ("zero-island", "at latitude 0, longitude 0"),
    ("stale", "a last fix repeated by the receiver"),
    ("untimed", "without a time in a gap"),
];

pub(crate) fn suspicion(suspicion: Suspicion) -> &'static str {
    match suspicion {
        Suspicion::Duplicate => "duplicate",
        Suspicion::OutOfOrder => "out-of-order",
        Suspicion::Spike => "spike",
        Suspicion::ColdStart => "cold-start",
        Suspicion::NullIsland => "zero-island",
        Suspicion::RepeatedPosition => "stale",
        Suspicion::Untimed => "untimed",
        _ => "other",
    }
}
