//! The card as a whole, and what it needs beside the answer.

use maud::{DOCTYPE, Markup, html};
use takeline::transit::{TransitReport, ZoneOnLine};
use takeline::zone::{Zone, ZoneId};
use takeline::{Tristate, ZoneSet};

use super::problems::Printed;
use super::scene::Scene;
use super::sketch::{self, SKETCH_STYLE};
use super::{evidence, hidden, margins, plan, problems};
use crate::drawing::{COLOURS, DRAWING_STYLE};
use crate::lines::sanitised;
use crate::transit::document::TransitDocument;
use crate::transit::phrases;
use crate::words::Spoken;
use crate::{html_page, written};

const STYLE: &str = include_str!("card.css");
/// Nothing is fetched and no script runs.
const CONTENT_POLICY: &str =
    "default-src 'none'; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'";

/// Writes the answer about a range line as one self-contained HTML card that prints on half a sheet, both faces.
///
/// The front holds the sentence to remember, the sketch, where the marks cannot be seen in line, a plan, bearings, problems and
/// cautions; the back the figures along the line, the marks, the zones with their files and the command that makes it again. It fetches nothing, holds no script, and is the same bytes for the same report.
///
/// # Accuracy
///
/// Figures are rounded for reading. The plan is a local projection (see `docs/decisions/0008-html-report.md`).
///
/// # Edge cases
///
/// Marks that tell no side have no sentence and no sketch; the card says why. Half a sheet has room for some hundred words
/// of warnings and notes: what is over shows on the screen only, and the print says how many that are. Errors always print,
/// even if they take a second page.
///
/// # Errors
///
/// [`CardError`] if the report was not made with these zones.
pub fn transit_card(document: &TransitDocument<'_>, input: &CardInput<'_>) -> Result<String, CardError> {
    let report = document.report;
    check(report, input.zones)?;
    let title = title(report);
    let printed = Printed::of(document, input);
    let page = html! {
        (DOCTYPE)
        html lang="en-GB" {
            (html_page::head(&title, CONTENT_POLICY, &[COLOURS, DRAWING_STYLE, SKETCH_STYLE, STYLE]))
            body {
                header {
                    h1 { (title) }
                    p .marks-names { (phrases::name(&report.line.rear().name)) " behind " (phrases::name(&report.line.front().name)) }
                    (problems::errors(document))
                }
                main {
                    (to_remember(document, input.zones))
                    (kept(document, printed.reasons))
                    (hidden::figure(document))
                    (plan::figure(document, input.zones))
                    section { (margins::least(document)) (margins::bearings(document)) }
                    section { (problems::others(document, printed.others)) (evidence::cautions(document)) }
                }
                section .back {
                    h2 { "Figures and sources" }
                    (margins::table(document))
                    (margins::marks(document))
                    (evidence::zones(document, printed.zones))
                    (evidence::section(document, input))
                }
            }
        }
    };
    Ok(written::markup(page.into_string()))
}

fn title(report: &TransitReport) -> String {
    margins::deciding(report)
        .map_or_else(|| "Marks in line".into(), |zone| format!("Marks for {}", phrases::name(&zone.name)))
}

/// The sentence and the sketch.
fn to_remember(document: &TransitDocument<'_>, zones: &ZoneSet) -> Markup {
    let scene = Scene::of(document, zones);
    html! {
        section .remember {
            @match &document.opens.sentence {
                Some(sentence) => { p .sentence { (sentence) } }
                None => { p .sentence { "These marks do not tell inside from outside." } p { (sanitised(&document.no_side_because)) } }
            }
            @match &scene {
                Ok(scene) => {
                    figure {
                        (sketch::pictures(document.report, scene))
                        figcaption {
                            "Seen " (scene.away()) " from the front mark (filled; the rear mark is outlined). " (sketch::about_gaps(scene))
                            @for remark in scene.remarks() { " " (remark) }
                        }
                    }
                }
                Err(because) => {
                    @if document.report.opens.is_some() { p { "No sketch of the marks. " (sanitised(because)) } }
                }
            }
        }
    }
}

/// Whether keeping them in line keeps somebody outside.
fn kept(document: &TransitDocument<'_>, printed: usize) -> Markup {
    let report = document.report;
    let class = match report.clears {
        Tristate::Yes => "yes",
        Tristate::No => "no",
        Tristate::Undecided => "undecided",
    };
    html! {
        section .{ "kept " (class) } {
            p { strong { (keeping_in_line(report, document.words)) } }
            @for (number, because) in document.clears_because.iter().enumerate() {
                p .screen[number >= printed] { (sanitised(&phrases::sentence(because))) }
            }
        }
    }
}

/// What keeping the marks in line does for somebody, as a sentence.
fn keeping_in_line(report: &TransitReport, words: Spoken<'_>) -> String {
    let stretch = report.question.stretch;
    let length = |length| phrases::along(words, length);
    let seen = phrases::parts_seen(report, words);
    let whole = format!("from {} to {}", length(stretch.near()), length(stretch.far()));
    let part = format!("{} from the front mark", seen.unwrap_or(whole));
    match report.clears {
        Tristate::Yes => {
            format!(
                "Kept in line {part}, the marks keep you outside every loaded zone, uncertainty allowed for."
            )
        }
        Tristate::No => format!("Kept in line {part}, the marks do NOT keep you outside."),
        Tristate::Undecided => {
            format!("UNDECIDED: the marks kept in line {part} may or may not keep you outside.")
        }
    }
}

/// What a card needs beside the report.
#[derive(Debug, Clone, Copy)]
pub struct CardInput<'a> {
    /// The zones that the report was made with.
    pub zones: &'a ZoneSet,
    /// The command that makes the card again.
    pub command: &'a str,
    /// Version of the program.
    pub program_version: &'a str,
}

/// A report that does not belong to the zones it came with, or names a zone that it does not hold.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum CardError {
    /// The report names a zone that the set does not hold.
    #[error("zone {zone} is not among the zones given; give the zones that the report was made with")]
    UnknownZone {
        /// The zone.
        zone: ZoneId,
    },
    /// The marks are said to open on a zone that the report does not hold.
    #[error("the marks open on zone {number} of {count} of the report; give the report as it was made")]
    UnknownOpening {
        /// The number of the zone, counted from 0.
        number: usize,
        /// How many zones the report holds.
        count: usize,
    },
}

/// Holds every number and name in the report against the zones.
pub(super) fn check(report: &TransitReport, zones: &ZoneSet) -> Result<(), CardError> {
    for on_line in &report.zones {
        zone_of(on_line, zones).ok_or_else(|| CardError::UnknownZone { zone: on_line.id.clone() })?;
    }
    let count = report.zones.len();
    match &report.opens {
        Some(opens) if opens.zone >= count => Err(CardError::UnknownOpening { number: opens.zone, count }),
        _ => Ok(()),
    }
}

/// The zone of a finding; none if number and name do not go together.
pub(super) fn zone_of<'a>(on_line: &ZoneOnLine, zones: &'a ZoneSet) -> Option<&'a Zone> {
    zones.zones().get(on_line.zone_number).filter(|zone| zone.id == on_line.id)
}
