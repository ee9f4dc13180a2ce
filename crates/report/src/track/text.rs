use takeline::track::{Certainty, Evidence, Gap, LoggedMoment, OpenEnd, Stop, SuspectFix, Visit};
use takeline::{Tristate, UncertaintySource};

use super::report::TRACK_LIMITS;
use super::verdict::Verdict;
use super::words;
use super::{AuditReport, CatchAnswer, InputKind};
use super::{headline, log_state};
use crate::cautions::CAUTIONS;
use crate::figures;
use crate::here::{TextOptions, answer, take_answer_word};
use crate::lines::{Page, sanitised};
use crate::words::{English, Words, each};

/// How many suspects, gaps, notes and stops of each kind the text lists; the JSON has them all.
const LISTED: usize = 5;

/// Returns the report as plain text, without colour, wrapped.
///
/// The first three lines answer "was I inside, when, how sure"; with catches there is a fourth. Then come the visits,
/// near misses, catches, the state of the log, and the evidence with the command that makes the report again.
/// The wording is for people and may change; scripts read [`super::track_json`].
///
/// # Accuracy
///
/// Distances are rounded to whole metres and to two digits of their doubt, times to the second.
#[must_use]
pub fn track_text(report: &AuditReport<'_>, options: &TextOptions) -> String {
    let mut page = Page::new(options.width);
    headline::head(&mut page, report);
    for (number, visit) in report.audit.visits.iter().enumerate() {
        one_visit(&mut page, report, number + 1, visit);
    }
    near_misses(&mut page, report);
    catches(&mut page, report);
    log(&mut page, report);
    reading(&mut page, report);
    settings(&mut page, report);
    evidence(&mut page, report);
    page.heading("WHAT A TRACK CANNOT SHOW");
    for limit in TRACK_LIMITS {
        page.paragraph("  ", limit);
    }
    page.heading("BEAR IN MIND");
    for caution in CAUTIONS {
        page.paragraph("  ", caution);
    }
    page.finish()
}

/// Returns the report in one line without its end, for a batch: the log, the answer, when, the catches.
#[must_use]
pub fn track_row_text(report: &AuditReport<'_>) -> String {
    let verdict = Verdict::of(report);
    let first = headline::first(report, &verdict).swap_remove(0);
    let mut parts = vec![format!("{}: {first}", report.input.path), headline::second(report, &verdict)];
    parts.extend(headline::catches(report));
    parts.extend(log_state::first_remarks(report));
    sanitised(&parts.join("; ")).replace('\u{a0}', " ")
}

fn one_visit(page: &mut Page, report: &AuditReport<'_>, number: usize, visit: &Visit) {
    let is_plan = report.input.kind == InputKind::Plan;
    let what = if is_plan { "PLANNED CROSSING" } else { "VISIT" };
    page.heading(&format!("{what} {number} {}", report.zone_name(visit)));
    page.field("inside", &sureness(visit));
    page.field("known from", &known_from(report, visit));
    moment(page, report, visit, ("entered", &visit.entered()));
    moment(page, report, visit, ("left", &visit.left()));
    if visit.certainty == Certainty::Certain {
        page.field("surely inside", &words::certain_span(visit));
    }
    page.field("at most", &words::possible_span(visit));
    page.field("deepest", &headline::depth(visit));
    page.field("way", &words::way_and_gaps(visit));
    if let Some(speeds) = visit.speeds {
        let (min, max, mean) =
            (words::knots(speeds.min_kn), words::knots(speeds.max_kn), words::knots(speeds.mean_kn));
        page.field("speed", &format!("{min} to {max}, mean {mean}"));
    }
    stops(page, &visit.stops);
    page.fields("moved", &visit.movement);
    if !visit.movement.is_empty() {
        page.field("what for", "not known; a track does not show it");
    }
    rule_then(page, report, visit);
}

fn sureness(visit: &Visit) -> String {
    match visit.certainty {
        Certainty::Certain => "certain".into(),
        Certainty::Possible => "possible, not settled either way".into(),
    }
}

fn known_from(report: &AuditReport<'_>, visit: &Visit) -> String {
    if report.input.kind == InputKind::Plan {
        return "the points of a route".into();
    }
    if visit.is_suspect {
        return "suspect fixes alone: they may be wrong, and may be right".into();
    }
    if let Some(off) = visit.off_the_way {
        let settings = &report.audit.settings;
        let narrows =
            if settings.top_speed_given { "" } else { "; a --top-speed-kn that you know of narrows it" };
        return format!(
            "the time between two fixes: in the {} between them the boat can have been up to {} off the straight way at \
             {}{narrows}",
            words::span(off.seconds),
            words::way(off.reach),
            words::knots(settings.top_speed_kn)
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

fn moment(page: &mut Page, report: &AuditReport<'_>, visit: &Visit, (label, instant): (&str, &LoggedMoment)) {
    let when = instant.time.map_or_else(
        || "at a time not known".into(),
        |time| words::utc_and_local(time, report.zone_of(visit)),
    );
    let place = report.shown(instant.position).map_or_else(|| "place withheld".into(), figures::position);
    page.field(label, &format!("{when}, {place}"));
    if let Some((before, after)) = instant.between
        && before != after
    {
        page.field("  fixes around it", &format!("{} and {}", words::utc(before), words::utc(after)));
    }
}

fn stops(page: &mut Page, stops: &[Stop]) {
    for stop in stops.iter().take(LISTED) {
        let when = stop.from.time.map_or_else(String::new, |time| format!(" from {}", words::utc(time)));
        page.field("stopped", &format!("{}{when}", words::span(stop.seconds)));
    }
    more(page, stops.len(), "stops");
}

fn rule_then(page: &mut Page, report: &AuditReport<'_>, visit: &Visit) {
    page.field("in force then", &in_force(visit));
    page.fields("because", &each(&visit.in_force_because, |reason| English.track_reason(reason)));
    // what is not in force binds nobody, whatever else may displace it
    if !visit.binds_because.is_empty() && visit.in_force != Tristate::No {
        page.field("bound the boat", answer(visit.binds));
        page.fields("because", &each(&visit.binds_because, |reason| English.track_reason(reason)));
    }
    for condition in &visit.conditions {
        let met = match condition.met {
            Tristate::Yes => "met, as far as a track shows",
            Tristate::No => "not met",
            Tristate::Undecided => "not to be told from a track",
        };
        page.field("condition", &format!("{}: {met}; {}", condition.condition, condition.because));
    }
    let Some(zone) = report.zone_of(visit) else { return };
    page.field("rule", &English.rule_summary(&zone.rule.summary(&zone.file.catalogue)));
    let mut law = vec![zone.source.instrument.clone()];
    law.extend(zone.source.clause.clone());
    page.field("law", &law.join(", "));
}

/// Whether the rule was in force, and for how long of the time inside where that was not all of it.
fn in_force(visit: &Visit) -> String {
    let word = answer(visit.in_force);
    let is_part = |part: Option<f64>, whole: Option<f64>| {
        part.zip(whole).filter(|(part, whole)| *part > 0.0 && *part < *whole - 0.5)
    };
    if let Some((certain_s, whole_s)) = is_part(visit.in_force_certain_s, visit.certain_s) {
        return format!(
            "{word}, for {} of the {} surely inside",
            words::span(certain_s),
            words::span(whole_s)
        );
    }
    if let Some((possible_s, whole_s)) = is_part(visit.in_force_possible_s, visit.possible_s) {
        return format!("{word}, for at most {} of {}", words::span(possible_s), words::span(whole_s));
    }
    word.to_owned()
}

/// The widest berth first: good news deserves the first place.
fn near_misses(page: &mut Page, report: &AuditReport<'_>) {
    if report.audit.closest_approaches.is_empty() {
        return;
    }
    let is_plan = report.input.kind == InputKind::Plan;
    page.heading(if is_plan { "NOT CROSSED" } else { "NEVER INSIDE" });
    for closest in report.audit.closest_approaches.iter().rev() {
        let figures = figures::distance_with_doubt(closest.signed_distance, closest.uncertainty_95);
        let when = closest.at.time.map_or_else(String::new, |time| format!(", {}", words::utc(time)));
        let place = report
            .shown(closest.at.position)
            .map_or_else(String::new, |position| format!(", at {}", figures::position(position)));
        page.field(report.name_of(&closest.zone), &format!("closest {figures}{when}{place}"));
    }
}

fn catches(page: &mut Page, report: &AuditReport<'_>) {
    if report.catches.is_empty() {
        return;
    }
    page.heading("CATCHES");
    for caught in &report.catches {
        page.field(&format!("line {}", caught.row), &one_catch(report, caught));
    }
}

fn one_catch(report: &AuditReport<'_>, caught: &CatchAnswer) -> String {
    let asked = caught.asked.as_deref().unwrap_or("fish not named");
    let mut parts = vec![format!("{} {asked}", take_answer_word(caught.answer))];
    parts.extend(caught.time.map(words::utc));
    parts.extend(caught.position.and_then(|position| report.shown(position)).map(figures::position));
    if let Some((given, logged)) = caught.contradicted {
        let place =
            |position| report.shown(position).map_or_else(|| "a place withheld".into(), figures::position);
        // how far apart the two are would tell a withheld one
        let both = report.shown(given).zip(report.shown(logged));
        let apart = both.map_or_else(String::new, |(given, logged)| {
            let metres = takeline::GeodesicSegment::between(given, logged).length();
            format!(", {} apart", figures::distance(metres, metres))
        });
        parts.push(format!("by its row at {}, by its track at {}{apart}", place(given), place(logged)));
    }
    parts.extend(caught.because.iter().cloned());
    parts.join("; ")
}

fn log(page: &mut Page, report: &AuditReport<'_>) {
    let quality = &report.audit.quality;
    page.heading("LOG");
    page.field("fixes", &quality.fixes.to_string());
    if let Some((first, last)) = quality.first_time.zip(quality.last_time) {
        page.field("from", &words::utc(first));
        page.field("to", &words::utc(last));
    }
    page.field("way", &words::way(report.audit.path));
    if report.audit.gap_path.metres() > 0.0 {
        page.field(
            "and in gaps",
            &format!("at least {}, straight across them", words::way(report.audit.gap_path)),
        );
    }
    if quality.without_time > 0 {
        page.field("without a time", &quality.without_time.to_string());
    }
    if quality.order.unplaced > 0 {
        page.field("without a place", &format!("{} records", quality.order.unplaced));
    }
    for sentence in log_state::order_sentences(&quality.order) {
        page.field("put in order", &sentence);
    }
    for ((code, label), count) in words::SUSPICIONS.iter().zip(quality.counts) {
        if count == 0 {
            continue;
        }
        page.field(label, &format!("{count}, left out of what is certain"));
        let of_kind = quality.suspects.iter().filter(|one| words::suspicion(one.suspicion) == *code);
        for suspect in of_kind.take(LISTED) {
            page.paragraph("    ", &suspect_words(suspect));
        }
        more(page, usize::try_from(count).unwrap_or(usize::MAX), "of these");
    }
    page.field("gaps", &quality.gap_count.to_string());
    for gap in quality.gaps.iter().take(LISTED) {
        page.paragraph("    ", &gap_words(report, gap));
    }
    more(page, usize::try_from(quality.gap_count).unwrap_or(usize::MAX), "gaps");
}

fn suspect_words(suspect: &SuspectFix) -> String {
    let mut parts = vec![format!("line {}", suspect.fix.place.line)];
    parts.extend(suspect.fix.time.map(words::utc));
    parts.extend(suspect.needed_kn.map(|speed| format!("would have needed {}", words::knots(speed))));
    parts.join(", ")
}

fn gap_words(report: &AuditReport<'_>, gap: &Gap) -> String {
    let side = if gap.open == Some(OpenEnd::BeforeTheFirst) { "before" } else { "after" };
    let mut parts = vec![format!("{side} line {}", gap.before.place.line)];
    parts.extend(gap.seconds.map(words::span));
    if let (Some(open), Some(reach)) = (gap.open, gap.reach(&report.audit.settings)) {
        let what = if open == OpenEnd::Repeats { "one place repeated" } else { "no place to believe" };
        parts.extend([what.to_owned(), format!("within {} of the fix", words::way(reach))]);
        return parts.join(", ");
    }
    parts.push(format!("{} apart", words::way(gap.metres)));
    if gap.between_trips {
        parts.push("the end of one trip and the start of another; not judged".into());
    } else if gap.impossible {
        parts.push("no boat makes that way in that time".into());
    } else if let Some(reach) = gap.reach(&report.audit.settings) {
        parts.push(format!("within {} of the straight way", words::way(reach)));
    }
    parts.join(", ")
}

fn more(page: &mut Page, count: usize, what: &str) {
    if count > LISTED {
        page.paragraph("    ", &format!("and {} more {what}", count - LISTED));
    }
}

fn reading(page: &mut Page, report: &AuditReport<'_>) {
    if report.notes.is_empty() {
        return;
    }
    page.heading("READING");
    for note in report.notes.iter().take(LISTED) {
        let left_out = if note.leaves_out { "; left out" } else { "" };
        page.field(&format!("line {}", note.line), &format!("{}{left_out}", note.text));
    }
    more(page, report.notes.len(), "notes");
}

fn settings(page: &mut Page, report: &AuditReport<'_>) {
    let settings = &report.audit.settings;
    page.heading("SETTINGS");
    let source = match settings.uncertainty.source() {
        UncertaintySource::Given => "given",
        UncertaintySource::Assumed => "assumed",
    };
    let doubt = figures::doubt(settings.uncertainty.radius_95());
    page.field("doubt of a fix", &format!("{doubt} (95 %), {source}, where the log has none of its own"));
    if let Some(metres) = settings.metres_per_hdop {
        page.field("dilution of precision", &format!("{metres} m (95 %) per unit, an estimate"));
    }
    let given = words::top_speed_source(report.audit);
    page.field("top speed", &format!("{}, {given}", words::knots(settings.top_speed_kn)));
    page.field("a gap", &format!("longer than {}", words::span(settings.gap_after_s)));
    page.field("a visit goes on over", &format!("{} outside nearby", words::span(settings.merge_within_s)));
    page.field("a stop", &format!("slower than {}", words::knots(settings.stop_below_kn)));
    if let Some(trimmed) = report.trimmed {
        let radius = words::way(trimmed.radius());
        page.field("withheld", &format!("positions within {radius} of both ends of the track"));
    }
}

fn evidence(page: &mut Page, report: &AuditReport<'_>) {
    page.heading("EVIDENCE");
    page.field("log", &report.input.path);
    page.field("sha256", report.input.sha256.as_deref().unwrap_or("not known"));
    for file in report.zone_files() {
        page.field("zone file", &file.path);
        page.field("  edition", file.edition.as_deref().unwrap_or("not stated"));
        page.field("  sha256", &file.sha256);
    }
    page.field("program", &format!("takeline {}", env!("CARGO_PKG_VERSION")));
    page.field("datum", "positions of the log are taken as WGS 84");
    page.field("to make it again", &report.command);
}
