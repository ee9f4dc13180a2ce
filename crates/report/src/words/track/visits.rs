//! Visits, gaps, fixes and motions of a track in English, for its text and its page alike.

use jiff::tz::TimeZone;
use takeline::rule::Condition;
use takeline::track::{
    Certainty, ConditionReason, Direction, Evidence, Motion, OpenEnd, Suspicion, TrackPoint,
};
use takeline::zone::Zone;
use takeline::{Metres, Tristate};

use crate::figures;
use crate::lines::sanitised;
use crate::track::times::{clock, in_minutes, plain_span, span, utc, way, zone_name};
use crate::track::{
    ClosestDocument, GapDocument, MomentDocument, ShownPlace, SpeedDocument, SuspectDocument, TrackDocument,
    VisitDocument,
};
use crate::words::Words;

/// What a track can never show.
const TRACK_LIMITS: [&str; 4] = [
    "A track shows where the receiver was, not what was done. Gear, lines and fish are not in it.",
    "Between two fixes, and in a gap, the boat may have been anywhere that its top speed lets it reach.",
    "Times are those of the log. If the clock of the device was wrong, that does not show.",
    "\"Possible\" means not settled. It counts against nobody.",
];

/// What its page cannot show beside that.
const PAGE_LIMITS: [&str; 3] = [
    "Between two fixes a straight line is drawn.",
    "Uncertainties are 95 % figures. Errors of small receivers last for minutes, so many fixes are not much better than one.",
    "Only the zones listed below were checked. Other rules may apply in the same water.",
];

pub(crate) fn track_limits() -> Vec<String> {
    TRACK_LIMITS.map(str::to_owned).to_vec()
}

pub(crate) fn page_limits() -> Vec<String> {
    PAGE_LIMITS.map(str::to_owned).to_vec()
}

/// How long a visit surely lasted; by way where there are no times.
///
/// Where every fix has a gap before and after it, nothing is certain but the moments of the fixes.
pub(crate) fn certain_span(words: &(impl Words + ?Sized), visit: &VisitDocument<'_>) -> String {
    match visit.certain_s {
        Some(seconds) if seconds <= 0.0 && visit.gaps > 1 => {
            format!("at its fixes; everything between them is {} gaps", visit.gaps)
        }
        seconds => long(words, visit, seconds),
    }
}

/// How long a visit can have lasted at most.
pub(crate) fn possible_span(words: &(impl Words + ?Sized), visit: &VisitDocument<'_>) -> String {
    if visit.possible_s.is_none() && visit.path.metres() <= 0.0 {
        return "not known".into();
    }
    long(words, visit, visit.possible_s)
}

fn long(words: &(impl Words + ?Sized), visit: &VisitDocument<'_>, seconds: Option<f64>) -> String {
    match seconds {
        Some(seconds) if seconds > 0.0 => span(seconds),
        Some(_) => "one moment".into(),
        None => format!("{} of way", way(words.units(), visit.path)),
    }
}

/// Nearer to the line than this, in metres, no side is told: sides are right to 0.1 mm.
const ON_THE_LINE_M: f64 = 1e-4;

/// How deep, in words.
pub(crate) fn depth(words: &(impl Words + ?Sized), visit: &VisitDocument<'_>) -> String {
    let Some(deepest) = visit.deepest else {
        return "not known, because it is not known where the zone is".into();
    };
    let figures = figures::distance_with_doubt(words.units(), deepest, visit.deepest_uncertainty_95);
    if visit.evidence == Evidence::Gap {
        format!("up to {figures} inside within reach")
    } else if visit.off_the_way.is_some() {
        format!("{figures}, outside but within reach")
    } else if deepest.metres().abs() < ON_THE_LINE_M {
        format!("{figures}, on the boundary")
    } else if deepest.metres() < 0.0 {
        format!("{figures}, outside but uncertain")
    } else {
        format!("{figures} inside")
    }
}

/// Writes the way of a visit, and that more was made where nothing was logged.
pub(crate) fn way_and_gaps(words: &(impl Words + ?Sized), visit: &VisitDocument<'_>) -> String {
    let logged = way(words.units(), visit.path);
    match visit.gaps {
        0 => logged,
        1 => format!("{logged} logged, plus what was covered in a gap"),
        gaps => format!("{logged} logged, plus what was covered in {gaps} gaps"),
    }
}

pub(crate) const fn certainty(certainty: Certainty) -> &'static str {
    match certainty {
        Certainty::Certain => "certain",
        Certainty::Possible => "possible: not settled either way",
    }
}

pub(crate) const fn direction(direction: Direction) -> &'static str {
    match direction {
        Direction::In => "in",
        Direction::Out => "out",
    }
}

pub(crate) fn known_from(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    visit: &VisitDocument<'_>,
) -> String {
    if document.is_plan() {
        return "the points of a route".into();
    }
    if visit.suspect {
        return "suspect fixes alone: they may be wrong or right".into();
    }
    if let Some(off) = visit.off_the_way {
        let is_given = document.audit_settings().top_speed_given;
        let narrows = if is_given { "" } else { "; if you know your top speed, --top-speed narrows it" };
        return format!(
            "the time between two fixes: in those {} the boat can have been up to {} off the straight line at {}{narrows}",
            span(off.seconds),
            way(words.units(), off.reach),
            figures::speed(words.units(), document.settings.top_speed_kn)
        );
    }
    match visit.evidence {
        Evidence::Fixes => "fixes of the log".into(),
        Evidence::BetweenFixes => {
            "the straight line between two fixes outside: the boat may have gone round".into()
        }
        Evidence::Gap => "a gap in the log: the boat could have been there; nothing shows that it was".into(),
    }
}

/// Whether the rule was in force, and for how long of the time inside where that was not all of it.
pub(crate) fn in_force_then(words: &(impl Words + ?Sized), visit: &VisitDocument<'_>) -> String {
    let word = words.answer(visit.in_force);
    let is_part = |part: Option<f64>, whole: Option<f64>| {
        part.zip(whole).filter(|(part, whole)| *part > 0.0 && *part < *whole - 0.5)
    };
    if let Some((certain_s, whole_s)) = is_part(visit.outcome.in_force_certain_s, visit.certain_s) {
        return format!("{word}, for {} of the {} surely inside", span(certain_s), span(whole_s));
    }
    if let Some((possible_s, whole_s)) = is_part(visit.outcome.in_force_possible_s, visit.possible_s) {
        return format!("{word}, for at most {} of {}", span(possible_s), span(whole_s));
    }
    word
}

/// A suspect fix, and the speed that it would have needed.
pub(crate) fn suspect_fix(words: &(impl Words + ?Sized), suspect: &SuspectDocument) -> String {
    let mut parts = vec![format!("line {}", suspect.line)];
    parts.extend(suspect.time.map(utc));
    parts.extend(
        suspect.needed_kn.map(|speed| format!("would have needed {}", figures::speed(words.units(), speed))),
    );
    parts.join(", ")
}

/// Slowest, fastest and mean leg.
pub(crate) fn speeds(words: &(impl Words + ?Sized), speeds: SpeedDocument) -> String {
    let [min, max, mean] =
        [speeds.min, speeds.max, speeds.mean].map(|speed_kn| figures::speed(words.units(), speed_kn));
    if min == max { mean } else { format!("{min} to {max}, mean {mean}") }
}

/// What has to be known of a gap beside its length: that an end of it is not known, or that nobody can have made its way.
pub(crate) fn gap_remark(gap: &GapDocument<'_>) -> Option<&'static str> {
    match gap.open_end {
        Some(OpenEnd::Repeats) => Some("one place repeated"),
        Some(OpenEnd::BeforeTheFirst | OpenEnd::AfterTheLast) => Some("no place to believe"),
        None if gap.between_trips => Some("between two trips; not judged"),
        None => gap.impossible.then_some("no boat can cover that in the time"),
    }
}

/// Sides whose distances differ by less, in metres, are one and the same.
const SAME_SIDE_M: f64 = 1.0;

/// How far the nearest side is that a boat can cross, where that is another one than the nearest of all.
pub(crate) fn crossable_from(words: &(impl Words + ?Sized), closest: &ClosestDocument<'_>) -> String {
    let other = closest.crossable.map(|crossable| crossable.signed_distance);
    let other = other.filter(|other| (other.metres() - closest.signed_distance.metres()).abs() > SAME_SIDE_M);
    other.map_or_else(String::new, |other| {
        let far = figures::distance(words.units(), other, Metres::ZERO);
        format!("; {far} to a side that a boat can cross")
    })
}

/// A gap: how long, how far, and what the boat could reach in it.
pub(crate) fn gap(words: &(impl Words + ?Sized), gap: &GapDocument<'_>) -> String {
    let side = if gap.open_end == Some(OpenEnd::BeforeTheFirst) { "before" } else { "after" };
    let mut parts = vec![format!("{side} line {}", gap.after_line)];
    parts.extend(gap.seconds.map(span));
    let remark = words.gap_remark(gap);
    if let (Some(_), Some(reach)) = (gap.open_end, gap.reach) {
        parts.extend(remark);
        parts.push(format!("within {} of the fix", way(words.units(), reach)));
        return parts.join(", ");
    }
    parts.push(format!("{} apart", way(words.units(), gap.distance)));
    let reach = gap.reach.filter(|_| remark.is_none());
    parts.extend(remark);
    parts.extend(reach.map(|reach| format!("within {} of the straight line", way(words.units(), reach))));
    parts.join(", ")
}

/// Whether a condition of crossing was met, as far as a track says.
pub(crate) const fn condition_met(met: Tristate) -> &'static str {
    match met {
        Tristate::Yes => "kept, as far as a track shows",
        Tristate::No => "not met",
        Tristate::Undecided => "a track cannot tell",
    }
}

/// When and where, with the clock of the zone.
pub(crate) fn moment(words: &(impl Words + ?Sized), moment: &MomentDocument, zone: Option<&Zone>) -> String {
    let when = moment.time.map_or_else(|| "at a time not known".into(), |time| instant(words, time, zone));
    format!("{when}, {}", words.shown_place(moment.place))
}

/// Writes an instant by the zone's own clock and in UTC, to the second.
pub(crate) fn instant(words: &(impl Words + ?Sized), time: jiff::Timestamp, zone: Option<&Zone>) -> String {
    let clock = zone.map_or(TimeZone::UTC, |zone| zone.time_zone.clone());
    crate::words::at(words, &time.to_zoned_datetime(clock))
}

/// Suspect fixes of a kind, for the text.
pub(crate) fn suspicion(suspicion: Suspicion) -> &'static str {
    match suspicion {
        Suspicion::Duplicate => "repeated fixes",
        Suspicion::OutOfOrder => "out of order",
        Suspicion::Spike => "spikes, faster than a boat can go",
        Suspicion::ColdStart => "before the receiver had settled",
        Suspicion::NullIsland => "at latitude 0, longitude 0",
        Suspicion::RepeatedPosition => "repeats of a last fix by the receiver",
        Suspicion::Untimed => "without a time in a gap",
        _ => "suspect",
    }
}

/// A place, or that it is withheld.
pub(crate) fn place(place: ShownPlace) -> String {
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

/// Where the boat was at a fix: what the slider of the page says.
pub(crate) fn at_fix(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    point: &TrackPoint,
    zone: &TimeZone,
) -> String {
    let time = point.fix.time.map_or_else(
        || format!("line {} of the log", point.fix.place.line),
        |time| format!("{} {}", clock(time, zone), zone_name(zone, time)),
    );
    let distance = point.nearest.map_or_else(
        || format!("no boundary within {}", figures::held_limit(words.units(), 20.0)),
        |line| {
            let side = if line.signed_distance.metres() < 0.0 { "inside" } else { "outside" };
            let name =
                document.zones().zones().get(line.zone_number).map_or("a zone", |zone| zone.name.as_str());
            let how_far =
                figures::distance_with_doubt(words.units(), line.signed_distance, line.uncertainty_95);
            format!("{how_far} {side} the boundary of {}", sanitised(name))
        },
    );
    format!(
        "{time}: {distance}; {}; {}",
        words.standing(point.standing),
        figures::position(point.fix.position)
    )
}

/// How the boat moved, or what a time at an end of the log was taken for.
pub(crate) fn motion(words: &(impl Words + ?Sized), motion: &Motion) -> String {
    let speed = |speed_kn: f64| figures::plain(&figures::speed(words.units(), speed_kn));
    let below = |speed_kn: f64| figures::speed_below(words.units(), speed_kn);
    match *motion {
        Motion::Slow { below_kn, duration_s } => {
            format!("under {} for {}", below(below_kn), plain_span(duration_s))
        }
        Motion::Steady { speed_kn, duration_s } => {
            format!("about {} for {}", speed(speed_kn), plain_span(duration_s))
        }
        Motion::LooksLikeDriftOrRest { below_kn, least_s } => format!(
            "an inference, not a fact: under {} for {} or more is what drifting with a line down looks like, and resting too (rule of thumb)",
            below(below_kn),
            plain_span(least_s)
        ),
        Motion::NoPlaceBeforeFirstFix { duration_s, top_speed_kn } => format!(
            "the {} before the first fix that can be believed count as perhaps inside, at up to {}: the log had begun, but has no place",
            in_minutes(duration_s),
            speed(top_speed_kn)
        ),
        Motion::NoPlaceAfterLastFix { duration_s, top_speed_kn } => format!(
            "the {} after the last fix that can be believed count as perhaps inside, at up to {}: the log goes on, but has no place",
            in_minutes(duration_s),
            speed(top_speed_kn)
        ),
        Motion::RepeatsOnePlace { duration_s } => format!(
            "for the last {} of the log one place is repeated, which counts as perhaps inside: the boat lay there, or the receiver had stopped",
            in_minutes(duration_s)
        ),
        _ => motion.code().to_owned(),
    }
}

/// A condition of crossing a zone, as a track is held to it.
pub(crate) fn crossing_condition(words: &(impl Words + ?Sized), condition: &Condition) -> String {
    // a track is held to these in other words than somebody who has yet to cross
    if let Condition::GearState { words } = condition {
        format!("your gear: “{words}”")
    } else {
        words.condition(condition)
    }
}

/// Why a condition was met, or not, or why that is not known.
pub(crate) fn condition_reason(words: &(impl Words + ?Sized), reason: ConditionReason) -> String {
    match reason {
        ConditionReason::SlowerFor { duration_s } => {
            format!("slower than that for {}", plain_span(duration_s))
        }
        ConditionReason::LongestStop { duration_s } => format!("longest stop {}", plain_span(duration_s)),
        ConditionReason::CanHaveStopped { duration_s } => {
            format!("longest stop the log allows for: {}", plain_span(duration_s))
        }
        ConditionReason::CanHaveBeenSlow { duration_s } => {
            format!("longest time below that speed the log allows for: {}", plain_span(duration_s))
        }
        ConditionReason::Wandered { way: inside, duration_s } => {
            let time =
                duration_s.map_or_else(String::new, |duration_s| format!(" in {}", plain_span(duration_s)));
            let way = figures::plain(&way(words.units(), inside));
            format!("it wandered inside: {way}{time}; a log cannot say whether that is crossing")
        }
        ConditionReason::OverOneSide { apart } => {
            let apart = figures::plain(&way(words.units(), apart));
            format!("in and out over one side, {apart} apart: a log cannot say whether that is crossing")
        }
        ConditionReason::NotGettingOn { duration_s } => format!(
            "{} there without getting on: a log cannot say whether that is crossing",
            plain_span(duration_s)
        ),
        ConditionReason::LogWithinZone => {
            "the log begins and ends inside, so it cannot say whether that is crossing".to_owned()
        }
        ConditionReason::WentThrough { way: inside } => {
            let way = figures::plain(&way(words.units(), inside));
            format!("{way} there, without wandering")
        }
        ConditionReason::PerhapsAshore => "the boat may have been ashore then".to_owned(),
        ConditionReason::AtTheShore { duration_s } => {
            format!("beside {} at the shore, taken as launching or landing", plain_span(duration_s))
        }
        ConditionReason::NotShownByPlan => "a plan cannot tell".to_owned(),
        ConditionReason::InsideNotSettled => "it is not settled whether the boat was inside".to_owned(),
        ConditionReason::NotAllLogged => "not all of it was logged".to_owned(),
        ConditionReason::BindingNotSettled => {
            "it is not settled whether the rule bound the boat then".to_owned()
        }
        ConditionReason::NotShownByTrack => "a track cannot tell".to_owned(),
        _ => reason.code().to_owned(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::English;

    #[test]
    fn motion_is_described_without_a_guess_at_what_for() {
        let steady = Motion::Steady { speed_kn: 2.61, duration_s: 1_800.0 };
        assert_eq!(motion(&English, &steady), "about 2.6 kn for 30 min");
        let slow = Motion::Slow { below_kn: 1.0, duration_s: 840.0 };
        assert_eq!(motion(&English, &slow), "under 1 kn for 14 min");
    }
}
