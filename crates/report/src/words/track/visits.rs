//! What was found about visits, fixes, gaps and catches, in words: for the text, and as the page words it.

use jiff::tz::TimeZone;
use maud::{Markup, html};
use takeline::Tristate;
use takeline::rule::{Access, Condition};
use takeline::track::{Certainty, ConditionReason, Evidence, Motion, OpenEnd, Suspicion, TrackPoint};
use takeline::zone::{Status, Zone};

use super::{
    clock, duration, in_minutes, knots, local, plain_span, span, utc, utc_and_local, utc_spaced, way,
    whole_second, zone_name,
};
use crate::figures;
use crate::here::{answer, take_answer_word};
use crate::lines::sanitised;
use crate::track::{
    CatchDocument, ConditionDocument, GapDocument, MomentDocument, ShownPlace, SuspectDocument,
    TrackDocument, VisitDocument,
};
use crate::words::{English, Words};

/// What a track can never show; printed with every report.
pub const TRACK_LIMITS: [&str; 4] = [
    "A track shows where the receiver was, not what was done: gear, lines and fish are not in it.",
    "Between two fixes, and in a gap, the boat may have been anywhere that its top speed lets it reach.",
    "Times are those of the log; a wrong clock in the device is not seen.",
    "Possible means not settled, and is nothing against anybody.",
];

/// The same as the page words it, and what the page cannot know.
pub(crate) const PAGE_LIMITS: [&str; 6] = [
    "A track shows where the receiver was. It does not show what anybody aboard was doing, or where a line or bait was.",
    "Between two fixes the straight way is drawn; the boat may have gone another.",
    "“Possible” means that the doubt, or a gap in the log, leaves it open. It is no finding against anybody.",
    "The doubts given are 95 % figures. Errors of small receivers last for minutes, so many fixes are not much better than one.",
    "Only the zones listed below were looked at. Other rules may apply in the same water.",
    "The clock of the receiver is taken as right.",
];

/// How long a visit surely lasted; by way where there are no times.
///
/// Where every fix has a gap before and after it, nothing is certain but the moments of the fixes.
pub(crate) fn certain_span(visit: &VisitDocument<'_>) -> String {
    match visit.certain_s {
        Some(seconds) if seconds <= 0.0 && visit.gaps > 1 => {
            format!("at its fixes; all that lay between is {} gaps", visit.gaps)
        }
        seconds => long(visit, seconds),
    }
}

/// How long a visit can have lasted at most.
pub(crate) fn possible_span(visit: &VisitDocument<'_>) -> String {
    if visit.possible_s.is_none() && visit.path.metres() <= 0.0 {
        return "not known".into();
    }
    long(visit, visit.possible_s)
}

fn long(visit: &VisitDocument<'_>, seconds: Option<f64>) -> String {
    match seconds {
        Some(seconds) if seconds > 0.0 => span(seconds),
        Some(_) => "one moment".into(),
        None => format!("{} of way", way(visit.path)),
    }
}

/// From where somebody fishes, as options and documents have it.
pub(crate) fn access(access: Access) -> &'static str {
    match access {
        Access::Boat => "boat",
        Access::Shore => "shore",
        Access::Diving => "diving",
    }
}

/// Nearer to the line than this, in metres, no side is told: sides are right to 0.1 mm.
const ON_THE_LINE_M: f64 = 1e-4;

/// How deep, in words.
pub(crate) fn depth(visit: &VisitDocument<'_>) -> String {
    let Some(deepest) = visit.deepest else { return "not known, nor is the zone's place".into() };
    let figures = figures::distance_with_doubt(deepest, visit.deepest_uncertainty_95);
    if visit.evidence == Evidence::Gap {
        format!("up to {figures} inside in reach")
    } else if visit.off_the_way.is_some() {
        format!("{figures}, outside but in reach")
    } else if deepest.metres().abs() < ON_THE_LINE_M {
        format!("{figures}, on the line")
    } else if deepest.metres() < 0.0 {
        format!("{figures}, outside but in doubt")
    } else {
        format!("{figures} inside")
    }
}

/// Writes the way of a visit, and that more was made where nothing was logged.
pub(crate) fn way_and_gaps(visit: &VisitDocument<'_>) -> String {
    let logged = way(visit.path);
    match visit.gaps {
        0 => logged,
        1 => format!("{logged} logged, and what was made in a gap"),
        gaps => format!("{logged} logged, and what was made in {gaps} gaps"),
    }
}

pub(crate) fn sureness(certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Certain => "certain",
        Certainty::Possible => "possible, not settled either way",
    }
}

pub(crate) fn known_from(document: &TrackDocument<'_>, visit: &VisitDocument<'_>) -> String {
    if document.is_plan() {
        return "the points of a route".into();
    }
    if visit.suspect {
        return "suspect fixes alone: they may be wrong, and may be right".into();
    }
    if let Some(off) = visit.off_the_way {
        let is_given = document.audit_settings().top_speed_given;
        let narrows = if is_given { "" } else { "; a --top-speed-kn that you know of narrows it" };
        return format!(
            "the time between two fixes: in the {} between them the boat can have been up to {} off the straight way at \
             {}{narrows}",
            span(off.seconds),
            way(off.reach),
            knots(document.settings.top_speed_kn)
        );
    }
    match visit.evidence {
        Evidence::Fixes => "fixes of the log".into(),
        Evidence::BetweenFixes => {
            "the straight way between two fixes that lie outside: the boat may have gone round".into()
        }
        Evidence::Gap => "a gap in the log: the boat could have been there, nothing says that it was".into(),
    }
}

/// Whether the rule was in force, and for how long of the time inside where that was not all of it.
pub(crate) fn in_force(visit: &VisitDocument<'_>) -> String {
    let word = answer(visit.in_force);
    let is_part = |part: Option<f64>, whole: Option<f64>| {
        part.zip(whole).filter(|(part, whole)| *part > 0.0 && *part < *whole - 0.5)
    };
    if let Some((certain_s, whole_s)) = is_part(visit.outcome.in_force_certain_s, visit.certain_s) {
        return format!("{word}, for {} of the {} surely inside", span(certain_s), span(whole_s));
    }
    if let Some((possible_s, whole_s)) = is_part(visit.outcome.in_force_possible_s, visit.possible_s) {
        return format!("{word}, for at most {} of {}", span(possible_s), span(whole_s));
    }
    word.to_owned()
}

/// What came of one catch.
pub(crate) fn caught(catch: &CatchDocument<'_>) -> String {
    let asked = catch.asked.unwrap_or("fish not named");
    let mut parts = vec![format!("{} {asked}", take_answer_word(catch.answer))];
    parts.extend(catch.time.map(utc));
    parts.extend(catch.place.0.map(figures::position));
    if let Some(both) = catch.contradicted {
        let place = |place: ShownPlace| place.0.map_or_else(|| "a place withheld".into(), figures::position);
        // how far apart the two are would tell a withheld one
        let apart = both.row.0.zip(both.track.0).map_or_else(String::new, |(row, track)| {
            let metres = takeline::GeodesicSegment::between(row, track).length();
            format!(", {} apart", figures::distance(metres, metres))
        });
        parts.push(format!(
            "by its row at {}, by its track at {}{apart}",
            place(both.row),
            place(both.track)
        ));
    }
    parts.extend(catch.because.iter().cloned());
    parts.join("; ")
}

/// A suspect fix, and the speed that it would have needed.
pub(crate) fn suspect_fix(suspect: &SuspectDocument) -> String {
    let mut parts = vec![format!("line {}", suspect.line)];
    parts.extend(suspect.time.map(utc));
    parts.extend(suspect.needed_kn.map(|speed| format!("would have needed {}", knots(speed))));
    parts.join(", ")
}

/// A gap: how long, how far, and what the boat could reach in it.
pub(crate) fn gap(gap: &GapDocument<'_>) -> String {
    let side = if gap.open_end == Some(OpenEnd::BeforeTheFirst) { "before" } else { "after" };
    let mut parts = vec![format!("{side} line {}", gap.after_line)];
    parts.extend(gap.seconds.map(span));
    if let (Some(open), Some(reach)) = (gap.open_end, gap.reach) {
        let what = if open == OpenEnd::Repeats { "one place repeated" } else { "no place to believe" };
        parts.extend([what.to_owned(), format!("within {} of the fix", way(reach))]);
        return parts.join(", ");
    }
    parts.push(format!("{} apart", way(gap.distance)));
    if gap.between_trips {
        parts.push("the end of one trip and the start of another; not judged".into());
    } else if gap.impossible {
        parts.push("no boat makes that way in that time".into());
    } else if let Some(reach) = gap.reach {
        parts.push(format!("within {} of the straight way", way(reach)));
    }
    parts.join(", ")
}

/// What a track says of a condition of crossing.
pub(crate) fn condition(found: &ConditionDocument<'_>) -> String {
    let met = match found.met {
        Tristate::Yes => "met, as far as a track shows",
        Tristate::No => "not met",
        Tristate::Undecided => "not to be told from a track",
    };
    format!("{}: {met}; {}", found.condition, found.because)
}

/// When and where, with the clock of the zone.
pub(crate) fn moment(moment: &MomentDocument, zone: Option<&Zone>) -> String {
    let when = moment.time.map_or_else(|| "at a time not known".into(), |time| utc_and_local(time, zone));
    let place = moment.place.0.map_or_else(|| "place withheld".into(), figures::position);
    format!("{when}, {place}")
}

/// Suspect fixes of a kind, for the text.
pub(crate) fn suspicion(suspicion: Suspicion) -> &'static str {
    match suspicion {
        Suspicion::Duplicate => "repeated fixes",
        Suspicion::OutOfOrder => "out of order",
        Suspicion::Spike => "spikes, faster than a boat goes",
        Suspicion::ColdStart => "before the receiver had settled",
        Suspicion::NullIsland => "at latitude 0, longitude 0",
        Suspicion::RepeatedPosition => "a last fix repeated by the receiver",
        Suspicion::Untimed => "without a time in a gap",
        _ => "suspect",
    }
}

/// A duration at most; a moment where it is none, and not known without times: for the page.
pub(crate) fn possible_time(seconds: Option<f64>) -> String {
    match seconds {
        Some(seconds) if seconds > 0.0 => duration(seconds),
        Some(_) => "one moment".into(),
        None => "a time not known".into(),
    }
}

/// A moment: UTC, the zone's own clock, the fixes around it, and where.
pub(crate) fn moment_on_page(moment: &MomentDocument, zone: &TimeZone) -> Markup {
    html! {
        @match moment.time {
            Some(time) => {
                time datetime=(whole_second(time)) { (utc_spaced(time)) }
                @if zone != &TimeZone::UTC {
                    br; (local(time, zone)) " " (zone_name(zone, time))
                }
            }
            None => { "no time in the log" }
        }
        @if let Some((before, after)) = moment.between && before != after {
            br;
            span.fine { "between the fixes of " (clock(before, &TimeZone::UTC)) " and " (clock(after, &TimeZone::UTC)) " UTC" }
        }
        br;
        span.place { (place_on_page(moment.place)) }
    }
}

/// A place on the page.
pub(crate) fn place_on_page(place: ShownPlace) -> String {
    place.0.map_or_else(|| "place withheld".into(), figures::position)
}

/// On which side of the lines the boat was at a fix.
pub(crate) const fn standing(standing: Option<Certainty>) -> &'static str {
    match standing {
        Some(Certainty::Certain) => "certainly inside",
        Some(Certainty::Possible) => "possibly inside",
        None => "outside every loaded zone",
    }
}

/// What a visit is known from, for the page.
pub(crate) const fn evidence_on_page(visit: &VisitDocument<'_>) -> &'static str {
    if visit.suspect {
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

/// Whether the rule was in force, for the page.
pub(crate) const fn in_force_on_page(answer: Tristate) -> &'static str {
    match answer {
        Tristate::Yes => "in force",
        Tristate::No => "not in force",
        Tristate::Undecided => "not known whether in force",
    }
}

/// Whether a condition was kept; what is only possible is never put as a fact.
pub(crate) const fn kept(met: Tristate, certainty: Certainty) -> &'static str {
    match (met, certainty) {
        (Tristate::Yes, _) => "kept, by this track",
        (Tristate::No, Certainty::Certain) => "not kept, by this track",
        (Tristate::No, Certainty::Possible) => "not kept, if the boat was inside at all",
        (Tristate::Undecided, _) => "not settled by this track",
    }
}

/// Why a fix is suspect, for the page.
pub(crate) const fn suspicion_on_page(suspicion: Suspicion) -> &'static str {
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

/// How deep, for the page.
pub(crate) fn depth_on_page(visit: &VisitDocument<'_>) -> String {
    let Some(deepest) = visit.deepest else { return "not known, nor is the place of the zone".into() };
    let depth = figures::distance_with_doubt(deepest, visit.deepest_uncertainty_95);
    let side = if deepest.metres() < 0.0 { "outside, within the doubt" } else { "inside the line" };
    if visit.evidence == Evidence::Gap {
        return format!("could have been {depth} (95\u{a0}%) {side}, at the top speed below");
    }
    if visit.off_the_way.is_some() {
        return format!("{depth} {side}, and in reach of it at the top speed below");
    }
    format!("{depth} (95\u{a0}%) {side}")
}

/// How long a visit surely lasted, for the page.
pub(crate) fn certain_time_on_page(visit: &VisitDocument<'_>) -> String {
    match visit.certain_s {
        Some(seconds) if seconds > 0.0 => duration(seconds),
        Some(_) if visit.certainty == Certainty::Certain && visit.gaps > 1 => {
            format!("the moments of its fixes; between them lie {} gaps", visit.gaps)
        }
        Some(_) if visit.certainty == Certainty::Certain => "one moment".into(),
        None if visit.certainty == Certainty::Certain => "a time not known".into(),
        Some(_) | None => "no time at all".into(),
    }
}

/// Slowest, mean and fastest leg, for the page.
pub(crate) fn speeds_on_page(visit: &VisitDocument<'_>) -> String {
    visit.speed_kn.map_or_else(
        || "not known from this log".to_owned(),
        |speeds| [speeds.min, speeds.mean, speeds.max].map(knots).join(" / "),
    )
}

/// What has to be said of the instrument of a rule, for the page.
pub(crate) const fn status(status: Status) -> Option<&'static str> {
    match status {
        Status::InForce => None,
        Status::Proposed => Some("The instrument is only proposed."),
        Status::NotCommenced => Some("The instrument is made but has not commenced."),
        Status::Repealed => Some("The instrument has been repealed."),
    }
}

/// Which end of a gap nobody knows, for the page.
pub(crate) const fn open_end_on_page(open: OpenEnd) -> &'static str {
    match open {
        OpenEnd::BeforeTheFirst => "the log had begun, and tells no place to believe: anywhere within reach",
        OpenEnd::AfterTheLast => "the log goes on, and tells no place to believe: anywhere within reach",
        OpenEnd::Repeats => {
            "one place repeated to the end of the log: the boat lay there, or its receiver stood still"
        }
    }
}

/// Where the boat was at a fix: what the slider of the page says.
pub(crate) fn said_of(document: &TrackDocument<'_>, point: &TrackPoint, zone: &TimeZone) -> String {
    let time = point.fix.time.map_or_else(
        || format!("line {} of the log", point.fix.place.line),
        |time| format!("{} {}", clock(time, zone), zone_name(zone, time)),
    );
    let distance = point.nearest.map_or_else(
        || "no line within 20\u{a0}km".to_owned(),
        |line| {
            let side = if line.signed_distance.metres() < 0.0 { "inside" } else { "outside" };
            let name =
                document.zones().zones().get(line.zone_number).map_or("a zone", |zone| zone.name.as_str());
            let how_far = figures::distance_with_doubt(line.signed_distance, line.uncertainty_95);
            format!("{how_far} {side} the line of {}", sanitised(name))
        },
    );
    format!("{time}: {distance}; {}; {}", standing(point.standing), figures::position(point.fix.position))
}

/// Where a setting comes from, for the page.
pub(crate) fn source_on_page(source: &str) -> &'static str {
    match source {
        "shown" => " (shown by the log)",
        "given" => " (given)",
        _ => " (assumed, none was given)",
    }
}

/// How the boat moved, or what a time at an end of the log was taken for.
pub(crate) fn motion(motion: &Motion) -> String {
    match *motion {
        Motion::Slow { below_kn, duration_s } => {
            format!("under {below_kn:.0} kn for {}", plain_span(duration_s))
        }
        Motion::Steady { speed_kn, duration_s } => {
            format!("about {speed_kn:.1} kn for {}", plain_span(duration_s))
        }
        Motion::LooksLikeDriftOrRest { below_kn, least_s } => format!(
            "inference, not a fact: under {below_kn:.0} kn for {} or more is how drifting with a line down looks, and how \
             resting looks (common practice, no source)",
            plain_span(least_s)
        ),
        Motion::NoPlaceBeforeFirstFix { duration_s, top_speed_kn } => format!(
            "the {} before the first fix that is believed count as perhaps inside, at up to {top_speed_kn:.1} kn: the log \
             had begun, and tells no place",
            in_minutes(duration_s)
        ),
        Motion::NoPlaceAfterLastFix { duration_s, top_speed_kn } => format!(
            "the {} after the last fix that is believed count as perhaps inside, at up to {top_speed_kn:.1} kn: the log \
             goes on, and tells no place",
            in_minutes(duration_s)
        ),
        Motion::RepeatsOnePlace { duration_s } => format!(
            "the last {} repeat one place to the end of the log and count as perhaps inside: the boat lay there, or \
             the receiver stood still",
            in_minutes(duration_s)
        ),
        _ => motion.code().to_owned(),
    }
}

/// A condition of crossing a zone, as a track is held to it.
pub(crate) fn crossing_condition(condition: &Condition) -> String {
    // a track is held to these in other words than somebody who has yet to cross
    if let Condition::GearState { words } = condition {
        format!("state of the gear: “{words}”")
    } else if *condition == Condition::KeepGoing {
        "no stopping or anchoring on the way".to_owned()
    } else {
        English.condition(condition)
    }
}

/// Why a condition was met, or not, or why that is not known.
pub(crate) fn condition_reason(reason: ConditionReason) -> String {
    match reason {
        ConditionReason::SlowerFor { duration_s } => {
            format!("slower than that for {}", plain_span(duration_s))
        }
        ConditionReason::LongestStop { duration_s } => format!("longest stop {}", plain_span(duration_s)),
        ConditionReason::InsideNotSettled => "whether the boat was inside is not settled".to_owned(),
        ConditionReason::NotAllLogged => "not all of the way was logged".to_owned(),
        ConditionReason::BindingNotSettled => {
            "whether the rule bound the boat then is not settled".to_owned()
        }
        ConditionReason::NotShownByTrack => "a track cannot tell".to_owned(),
        _ => reason.code().to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use takeline::test_util::samples;

    use super::*;

    #[test]
    fn every_code_has_words_of_its_own() {
        let motions: Vec<String> = samples::motions().iter().map(motion).collect();
        let reasons: Vec<String> = samples::condition_reasons().into_iter().map(condition_reason).collect();
        for words in [motions, reasons] {
            assert!(words.iter().all(|text| text.contains(' ')), "{words:?}");
            assert_eq!(words.iter().collect::<BTreeSet<_>>().len(), words.len(), "{words:?}");
        }
    }

    #[test]
    fn motion_is_told_without_a_guess_at_what_for() {
        let steady = Motion::Steady { speed_kn: 2.61, duration_s: 1_800.0 };
        assert_eq!(motion(&steady), "about 2.6 kn for 30 min");
        let slow = Motion::Slow { below_kn: 1.0, duration_s: 840.0 };
        assert_eq!(motion(&slow), "under 1 kn for 14 min");
    }
}
