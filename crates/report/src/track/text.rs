//! The text of a track: sections of labels and words, for people; and its one line for a batch.

use takeline::Tristate;
use takeline::track::Certainty;

use super::times::{span, way};
use super::{Third, TrackDocument, VisitDocument};
use crate::figures;
use crate::here::bear_in_mind;
use crate::lines::{Page, fit};
use crate::words::{FieldPhrase, instant};

/// How many suspects, gaps, notes and stops of each kind the text lists; the JSON has them all.
const LISTED: usize = 5;

/// Returns the text of a track, without colour, wrapped to so many columns; fewer than 20 count as 20.
///
/// The first three lines answer "was I inside, when, how sure"; with catches there is a fourth. Then come the visits,
/// near misses, catches, the state of the log, and the evidence with the command that makes the report again.
/// The wording is for people and may change; scripts read the JSON.
///
/// # Accuracy
///
/// Distances are rounded to whole metres and to two digits of their doubt, times to the second.
#[must_use]
pub fn track_text(document: &TrackDocument<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    head(&mut page, document);
    for (number, visit) in (1..).zip(&document.visits) {
        one_visit(&mut page, document, number, visit);
    }
    near_misses(&mut page, document);
    catches(&mut page, document);
    log(&mut page, document);
    reading(&mut page, document);
    settings(&mut page, document);
    evidence(&mut page, document);
    page.heading("WHAT A TRACK CANNOT SHOW");
    for limit in &document.limits {
        page.paragraph("  ", limit);
    }
    bear_in_mind(&mut page, document.words);
    page.finish()
}

/// Returns a track in one line without its end, for a batch: the answer, the log, what happened; of at most 100 columns.
#[must_use]
pub fn track_row_text(document: &TrackDocument<'_>) -> String {
    /// Longer rows break on the screen.
    const COLUMNS: usize = 100;
    let headline = &document.headline;
    let first = headline.first.first().map_or("", String::as_str);
    let path = document.input.path;
    let name = path.rsplit(['/', '\\']).next().filter(|name| !name.is_empty()).unwrap_or(path);
    let row = format!("{first} ({name})");
    let further: Vec<String> = headline
        .second
        .iter()
        .filter(|second| !second.is_empty())
        .map(|second| format!("{row}; {second}"))
        .collect();
    if further.is_empty() { fit(COLUMNS, &[row]) } else { fit(COLUMNS, &further) }
}

/// The first lines: three, one for the catches if there are any, and what has to be known of the log.
fn head(page: &mut Page, document: &TrackDocument<'_>) {
    let headline = &document.headline;
    page.fitted(&headline.first);
    if headline.catches.is_some() {
        page.fitted(&headline.catches_in_short);
    }
    page.fitted(&headline.second);
    match &headline.third {
        Third::Settle(way) => page.paragraph("", way),
        Third::Fact(fact) => page.fitted(std::slice::from_ref(fact)),
    }
    for remark in &document.remarks {
        page.paragraph("", remark);
    }
}

fn one_visit(page: &mut Page, document: &TrackDocument<'_>, number: usize, visit: &VisitDocument<'_>) {
    let words = document.words;
    let what = if document.is_plan() { "PLANNED CROSSING" } else { "VISIT" };
    page.heading(&format!("{what} {number} {}", visit.zone_name));
    page.field("outcome", &words.outcome_answer(visit.outcome.answer));
    page.fields("why", &visit.outcome.because);
    page.fields("not shown", &visit.outcome.not_shown);
    page.field("inside", &words.certainty(visit.certainty));
    page.field("known from", &words.known_from(document, visit));
    let (entered, left) = visit.end_labels();
    for (label, moment) in [(entered, &visit.entered), (left, &visit.left)] {
        page.field(label, &words.moment(moment, visit.zone));
        if let Some((before, after)) = moment.between
            && before != after
        {
            page.field("  fixes around it", &{
                let [before, after] = [before, after].map(|time| instant(&*words, time, visit.zone));
                format!("{before} and {after}")
            });
        }
    }
    if visit.certainty == Certainty::Certain {
        page.field("surely inside", &words.certain_span(visit));
    }
    page.field("at most", &words.possible_span(visit));
    page.field("deepest", &words.depth(visit));
    page.field("distance travelled", &words.visit_way(visit));
    if let Some(speeds) = visit.speed_kn {
        page.field("speed", &words.speeds(speeds));
    }
    stops(page, document, visit);
    page.fields("moved", &visit.movement);
    rule_then(page, document, visit);
}

fn stops(page: &mut Page, document: &TrackDocument<'_>, visit: &VisitDocument<'_>) {
    let words = document.words;
    // a stop that a term is held to may join several of these
    let label = figures::speed(words.units(), document.settings.stop_below_kn);
    let label = format!("slower than {}", figures::plain(&label));
    for stop in visit.stops.iter().take(LISTED) {
        let when = stop
            .from
            .time
            .map_or_else(String::new, |time| format!(" from {}", instant(&*words, time, visit.zone)));
        page.field(&label, &format!("{}{when}", span(stop.seconds)));
    }
    more(page, visit.stops.len(), "stops");
}

fn rule_then(page: &mut Page, document: &TrackDocument<'_>, visit: &VisitDocument<'_>) {
    page.field("in force then", &document.words.in_force_then(visit));
    page.fields("because", &visit.in_force_because);
    // what is not in force binds nobody, whatever else may displace it
    if !visit.binds_because.is_empty() && visit.in_force != Tristate::No {
        page.field("bound the boat", &document.words.answer(visit.binds));
        page.fields(visit.binds_label(), &visit.binds_because);
    }
    // where the rule may have bound the boat, the outcome tells each of them
    let untold = visit.conditions.iter().filter(|_| visit.binds == Tristate::No);
    for found in untold {
        let met = document.words.condition_met(found.met);
        // why it is not settled says so as well
        let met = if found.met == Tristate::Undecided { String::new() } else { format!("{met}; ") };
        page.field("condition", &format!("{}: {met}{}", found.condition, found.because));
    }
    if let Some(rule) = &visit.take_rule {
        page.field("rule", rule);
    }
    if let Some(source) = visit.source {
        let law: Vec<&str> = [source.instrument].into_iter().chain(source.clause).collect();
        page.field("law", &law.join(", "));
    }
    if let Some(record) = visit.proofread {
        page.field("proofread", &document.words.field(&FieldPhrase::Proofread(record)));
    }
}

/// The widest berth first: good news deserves the first place.
fn near_misses(page: &mut Page, document: &TrackDocument<'_>) {
    if document.closest_approach.is_empty() {
        return;
    }
    page.heading(if document.is_plan() { "NOT CROSSED" } else { "NEVER INSIDE" });
    for closest in document.closest_approach.iter().rev() {
        let figures = figures::distance_with_doubt(
            document.words.units(),
            closest.signed_distance,
            closest.uncertainty_95,
        );
        let when = closest
            .at
            .time
            .map_or_else(String::new, |time| format!(", {}", instant(&*document.words, time, None)));
        let place = closest.at.place.0;
        let place =
            place.map_or_else(String::new, |position| format!(", at {}", figures::position(position)));
        let over = document.words.crossable_from(closest);
        page.field(closest.zone_name, &format!("closest {figures}{when}{place}{over}"));
    }
}

fn catches(page: &mut Page, document: &TrackDocument<'_>) {
    if document.catches.is_empty() {
        return;
    }
    page.heading("CATCHES");
    for caught in &document.catches {
        page.field(&format!("line {}", caught.row), &document.words.caught(caught));
        for why in caught.because.iter().skip(1) {
            page.paragraph("    ", why);
        }
    }
}

fn log(page: &mut Page, document: &TrackDocument<'_>) {
    let quality = &document.quality;
    page.heading("LOG");
    page.field("fixes", &document.input.fixes.to_string());
    if let Some((first, last)) = document.input.first_time.zip(document.input.last_time) {
        page.field("from", &instant(&*document.words, first, None));
        page.field("to", &instant(&*document.words, last, None));
    }
    page.field("distance travelled", &way(document.words.units(), document.path));
    if document.gap_path.metres() > 0.0 {
        let least = way(document.words.units(), document.gap_path);
        page.field("and in gaps", &format!("at least {least}, straight across them"));
    }
    if quality.without_time > 0 {
        page.field("without a time", &quality.without_time.to_string());
    }
    if quality.unplaced > 0 {
        page.field("without a place", &format!("{} records", quality.unplaced));
    }
    page.fields("put in order", &document.words.log_order(quality));
    page.fields("on land", &document.words.on_land(quality));
    suspects(page, document);
    page.field("gaps", &quality.gap_count.to_string());
    for gap in quality.gaps.iter().take(LISTED) {
        page.paragraph("    ", &document.words.gap(gap));
    }
    more(page, usize::try_from(quality.gap_count).unwrap_or(usize::MAX), "gaps");
}

fn suspects(page: &mut Page, document: &TrackDocument<'_>) {
    let quality = &document.quality;
    for (kind, count) in quality.counts().into_iter().filter(|(_, count)| *count > 0) {
        page.field(&document.words.suspicion(kind), &format!("{count}, left out of what is certain"));
        for suspect in quality.suspects.iter().filter(|one| one.kind == kind).take(LISTED) {
            page.paragraph("    ", &document.words.suspect_fix(suspect));
        }
        more(page, usize::try_from(count).unwrap_or(usize::MAX), "of these");
    }
}

fn more(page: &mut Page, count: usize, what: &str) {
    if count > LISTED {
        page.paragraph("    ", &format!("and {} more {what}", count - LISTED));
    }
}

fn reading(page: &mut Page, document: &TrackDocument<'_>) {
    if document.notes.is_empty() {
        return;
    }
    page.heading("READING");
    for note in document.notes.iter().take(LISTED) {
        let left_out = if note.leaves_out { "; left out" } else { "" };
        page.field(&format!("line {}", note.line), &format!("{}{left_out}", note.text));
    }
    more(page, document.notes.len(), "notes");
}

fn settings(page: &mut Page, document: &TrackDocument<'_>) {
    let (settings, units) = (&document.settings, document.words.units());
    page.heading("SETTINGS");
    let (doubt, source) = (figures::doubt(units, settings.uncertainty_95), settings.uncertainty_source);
    page.field("accuracy of a fix", &format!("{doubt} (95 %), {source}, where the log gives none"));
    if let Some(metres) = settings.metres_per_hdop {
        page.field(
            "dilution of precision",
            &format!("{} (95 %) per unit, an estimate", figures::height(units, metres)),
        );
    }
    let top = figures::speed(units, settings.top_speed_kn);
    page.field("top speed", &format!("{top}, {}", settings.top_speed_source));
    page.field("a gap", &format!("longer than {}", span(settings.gap_after_s)));
    page.field("visits merged over", &format!("absences of up to {}, just outside", span(settings.linger_s)));
    page.field("a stop", &format!("slower than {}", figures::speed(units, settings.stop_below_kn)));
    if let Some(radius) = document.trimmed_ends {
        let radius = way(units, radius);
        page.field("withheld", &format!("positions within {radius} of both ends of the track"));
    }
}

fn evidence(page: &mut Page, document: &TrackDocument<'_>) {
    page.heading("EVIDENCE");
    page.field("log", document.input.path);
    page.field("sha256", document.input.sha256.unwrap_or("not known"));
    for file in &document.zone_files {
        page.field("zone file", file.path);
        page.field("  edition", file.edition.unwrap_or("not stated"));
        page.field("  sha256", file.sha256);
    }
    page.field("program", &format!("takeline {}", document.takeline_version));
    page.field("datum", "positions of the log are taken as WGS 84");
    page.field("to make it again", document.command);
}
