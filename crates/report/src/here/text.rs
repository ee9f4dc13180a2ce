use takeline::assess::{Displacing, Reason};
use takeline::rule::Condition;
use takeline::zone::{Source, ZoneFile};
use takeline::{
    Assessment, Containment, TakeAnswer, TakeFinding, Tristate, UncertaintySource, WaterStatus, ZoneFinding,
};

use super::deciding::{binds, deciding_zone};
use super::headline;
use crate::cautions::CAUTIONS;
use crate::figures;
use crate::lines::{Page, fit, sanitised};
use crate::words::{Words, each};

/// How the text is laid out.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TextOptions {
    /// Columns of the screen; fewer than 20 count as 20.
    pub width: usize,
    /// Whether the time of the fix is what the clock of this device says, which is then printed beside it.
    pub time_by_clock: bool,
}

impl Default for TextOptions {
    /// 40 columns: a phone held upright.
    fn default() -> Self {
        Self { width: 40, time_by_clock: false }
    }
}

/// Returns the answer as plain text, without colour, wrapped.
///
/// The first three lines answer "may I keep it, how sure, why"; where something is undecided, what settles it is among
/// them. The rest gives the fish, the zones that bind first, doubt, sources, warnings and cautions. The wording is for
/// people and may change; scripts read [`super::here_json`].
///
/// # Accuracy
///
/// Distances are rounded to whole metres and to two digits of their doubt.
#[must_use]
pub fn here_text(assessment: &Assessment, options: &TextOptions, words: &dyn Words) -> String {
    let mut page = Page::new(options.width);
    headline::head(&mut page, assessment, words);
    body(&mut page, assessment, options, words);
    bear_in_mind(&mut page);
    page.finish()
}

/// Writes what stands between the first three lines and the cautions.
pub(crate) fn body(page: &mut Page, assessment: &Assessment, options: &TextOptions, words: &dyn Words) {
    warnings(page, assessment, words);
    here(page, assessment, options);
    why(page, assessment, words);
    for finding in &assessment.take {
        fish(page, finding, words);
    }
    let (binding, others): (Vec<_>, Vec<_>) = assessment.zones.iter().partition(|zone| binds(zone));
    for finding in binding.into_iter().chain(others) {
        zone(page, assessment, finding, words);
    }
}

/// Writes what no answer can know.
pub(crate) fn bear_in_mind(page: &mut Page) {
    page.heading("BEAR IN MIND");
    for caution in CAUTIONS {
        page.paragraph("  ", caution);
    }
}

/// Returns the answer in one line without its end, for a batch: the water, the fish, how sure, the zone.
#[must_use]
pub fn here_row_text(assessment: &Assessment, words: &dyn Words) -> String {
    let zone = deciding_zone(assessment);
    let whole = |candidates: Vec<String>| fit(usize::MAX, &candidates);
    let mut parts = vec![whole(headline::verdict(assessment, zone, words))];
    if !assessment.take.is_empty() {
        parts.push(whole(headline::fish(assessment, zone, words)));
    }
    parts.push(whole(headline::measure(zone)));
    parts.extend(zone.map(|zone| sanitised(&zone.name).into_owned()));
    parts.extend(assessment.settling_move.map(|way| format!("to settle: {}", headline::move_words(way))));
    parts.extend(assessment.standoff_kept.map(|kept| format!("stand-off kept: {}", answer(kept))));
    parts.join("; ")
}

/// The word for a three-valued answer.
pub(crate) fn answer(tristate: Tristate) -> &'static str {
    match tristate {
        Tristate::Yes => "yes",
        Tristate::No => "no",
        Tristate::Undecided => "undecided",
    }
}

/// Stands above the rest: an edition past its date spoils everything below.
fn warnings(page: &mut Page, assessment: &Assessment, words: &dyn Words) {
    if assessment.warnings.is_empty() {
        return;
    }
    page.heading("WARNINGS");
    for warning in &assessment.warnings {
        page.paragraph("  ", &words.warning(warning));
    }
}

fn here(page: &mut Page, assessment: &Assessment, options: &TextOptions) {
    page.heading("FIX");
    page.field("at", &figures::position(assessment.fix.position));
    page.field("doubt", &format!("{} (95 %), {}", fix_doubt(assessment), fix_doubt_source(assessment)));
    match assessment.fix.time {
        Some(time) => {
            let clock = if options.time_by_clock { ", by the clock of this device" } else { "" };
            page.field("time", &format!("{}{clock}", time.strftime("%Y-%m-%dT%H:%M:%SZ")));
        }
        None => page.field("time", "not known"),
    }
}

fn fix_doubt(assessment: &Assessment) -> String {
    figures::doubt(assessment.fix.uncertainty.radius_95())
}

fn fix_doubt_source(assessment: &Assessment) -> &'static str {
    match assessment.fix.uncertainty.source() {
        UncertaintySource::Given => "given",
        UncertaintySource::Assumed if assessment.fix.uncertainty.zero_was_given() => {
            "assumed: 0 counts as not given"
        }
        UncertaintySource::Assumed => "assumed, none was given",
    }
}

fn why(page: &mut Page, assessment: &Assessment, words: &dyn Words) {
    let reasons = |list: &[Reason]| each(list, |reason| words.reason(reason));
    page.heading("WATER");
    let is_open = assessment.zones.iter().any(|zone| zone.binds == Tristate::Yes && zone.restricts_nothing);
    if assessment.water != WaterStatus::Unzoned || assessment.water_because.is_empty() || is_open {
        page.field("answer", water_words(assessment));
    }
    page.fields("because", &reasons(&assessment.water_because));
    page.fields("to settle", &each(&assessment.settle, |remedy| words.remedy(remedy)));
    if let Some(way) = assessment.settling_move {
        page.field("the move ends at", &figures::position(way.to));
    }
    if let Some(kept) = assessment.standoff_kept {
        page.field("stand-off kept", answer(kept));
        page.fields("because", &reasons(&assessment.standoff_because));
    }
}

fn water_words(assessment: &Assessment) -> &'static str {
    match assessment.water {
        WaterStatus::Closed => "closed, nothing may be taken",
        WaterStatus::Restricted => "limited, a rule binds what may be kept",
        WaterStatus::Unzoned => "no loaded rule restricts anything; other rules may",
        WaterStatus::Undecided if headline::may_any_be_kept(assessment) => {
            "undecided; until it is settled keep only the fish that say KEEP"
        }
        WaterStatus::Undecided => "undecided; until it is settled keep nothing",
    }
}

fn fish(page: &mut Page, finding: &TakeFinding, words: &dyn Words) {
    let reasons = |list: &[Reason]| each(list, |reason| words.reason(reason));
    let conditions = |list: &[Condition]| each(list, |condition| words.condition(condition));
    page.heading(&format!("FISH {}", finding.asked));
    page.field("answer", headline::take_answer_word(finding.answer));
    page.fields("because", &reasons(&finding.because));
    page.fields("condition", &conditions(&finding.conditions));
    page.fields("to settle", &each(&finding.settle, |remedy| words.remedy(remedy)));
    if finding.answer == TakeAnswer::Unzoned {
        return;
    }
    let is_qualified = finding.possession == Tristate::Yes && !finding.possession_conditions.is_empty();
    let aboard = if is_qualified { "yes, as follows" } else { answer(finding.possession) };
    page.field("aboard, caught elsewhere", aboard);
    page.fields("because", &reasons(&finding.possession_because));
    page.fields("condition", &conditions(&finding.possession_conditions));
}

fn zone(page: &mut Page, assessment: &Assessment, finding: &ZoneFinding, words: &dyn Words) {
    let displacing = |list: &[Displacing], is_sure| each(list, |by| words.displacing(by, is_sure));
    page.heading(&format!("ZONE {}", finding.name));
    side(page, finding);
    if finding.signed_distance.is_some() {
        doubt(page, assessment, finding);
    }
    page.fields("assumed", &each(&finding.assumed, |assumption| words.assumption(*assumption)));
    page.field("in force", answer(finding.in_force));
    page.fields("because", &each(&finding.in_force_because, |reason| words.in_force_reason(reason)));
    page.field("rule", &words.rule_summary(&finding.take_rule));
    page.fields("condition", &finding.conditions);
    page.fields("to cross", &each(&finding.passage, |condition| words.condition(condition)));
    page.fields("but", &displacing(&finding.displaced_by, true));
    page.fields("but", &displacing(&finding.perhaps_displaced_by, false));
    source(page, &finding.source, &finding.file);
}

fn side(page: &mut Page, finding: &ZoneFinding) {
    let word = headline::containment_word(finding.containment);
    let figures =
        finding.signed_distance.map(|length| figures::distance_with_doubt(length, finding.uncertainty_95));
    let side = match (finding.containment, figures) {
        (_, None) => format!("{word}; where its line runs is not known"),
        (_, Some(figures)) if finding.on_the_line => format!("{word}, on the line ({figures})"),
        (Containment::Undecided, Some(figures)) => format!("{word}; the line is {figures} away"),
        (Containment::Inside | Containment::Outside, Some(figures)) => format!("{word} by {figures}"),
    };
    page.field("side", &side);
    if let Some(probability) = finding.inside_probability {
        page.field("inside, if errors are normal", &figures::percent(probability));
    }
    if let Some(nearest) = finding.nearest {
        let position = figures::position(nearest.position);
        page.field("nearest line", &format!("{}, at {position}", nearest.bearing));
    }
}

/// Whole metres are shown, so a smaller share of the doubt is not worth a word.
const LEAST_SHOWN_M: f64 = 0.5;

fn doubt(page: &mut Page, assessment: &Assessment, finding: &ZoneFinding) {
    let fix = assessment.fix.uncertainty.radius_95();
    let gap_m = finding.reading_gap.map_or(0.0, |reading| reading.gap.metres());
    let mut parts = vec![format!("fix {}", figures::doubt(fix))];
    let rest_m = finding.uncertainty_95.metres() - gap_m / 2.0 - fix.metres();
    if rest_m > LEAST_SHOWN_M {
        parts.push("line and datum as the file states them".into());
    }
    if let Some(reading) = finding.reading_gap {
        let gap = figures::distance(reading.gap, finding.uncertainty_95);
        let sides = if reading.sides_differ { ", which differ about the side" } else { "" };
        parts.push(format!("half of the {gap} between readings of edges the text leaves open{sides}"));
    }
    let whole = figures::doubt(finding.uncertainty_95);
    page.field("doubt", &format!("{whole} (95 %) from {}", parts.join("; ")));
}

/// Writes the law that a zone rests on, the edition of its file and the file's digest.
pub(crate) fn source(page: &mut Page, source: &Source, file: &ZoneFile) {
    let mut law = vec![source.instrument.clone()];
    law.extend(source.clause.clone());
    page.field("law", &law.join(", "));
    if let Some(words) = &source.quoted_text {
        page.field("its words", &format!("\"{words}\""));
    }
    let edition = file.edition.as_deref().unwrap_or("not stated");
    let read = source.retrieved.map_or_else(|| "on a day not stated".into(), |day| day.to_string());
    page.field("edition", &format!("{edition}; law read {read}"));
    let digits: String = file.sha256.chars().take(12).collect();
    page.field("file", &format!("{}, sha256 {digits}", file.path));
}
