//! What is wrong with the marks or the line, the worst first, and how much of what has no fixed length fits on half a sheet.

use maud::{Markup, html};
use takeline::transit::{ProblemCode, Severity, TransitReport};

use super::half_sheet::CardInput;
use super::hidden;
use crate::lines::sanitised;
use crate::transit::document::TransitDocument;
use crate::transit::parts::ProblemDocument;
use crate::transit::phrases;

/// The errors, above everything else: with one of them nothing below holds.
pub(super) fn errors(document: &TransitDocument<'_>) -> Markup {
    html! {
        @for problem in document.problems.iter().filter(|problem| problem.severity == Severity::Error) {
            p .error { strong { "Error: " } (sanitised(&problem.sentence())) }
        }
    }
}

/// Warnings and notes. What half a sheet has no room for stays on the screen, and the print says how many that are.
pub(super) fn others(document: &TransitDocument<'_>, printed: usize) -> Markup {
    let problems = warnings_and_notes(document);
    let left_out = problems.len().saturating_sub(printed);
    html! {
        @if !problems.is_empty() {
            h2 .problems-head { "Warnings and notes" }
            ul .problems {
                @for (number, problem) in problems.iter().enumerate() {
                    li .screen[number >= printed] {
                        strong { (phrases::capital(&problem.severity_word)) ": " } (sanitised(&problem.sentence()))
                    }
                }
                @if left_out > 0 {
                    li .print { strong { (left_out) " more" } " on the screen: no room here." }
                }
            }
        }
    }
}

/// Lines of 7.5 pt that the front of half a sheet has beside the fixed parts, those that its back has, and letters that one of them
/// holds in a wide typeface.
const LINES: usize = 17;
const LINES_ON_THE_BACK: usize = 44;
const LETTERS_IN_A_LINE: usize = 76;
/// Lines that the drawing of where the marks are not seen takes.
const LINES_OF_HIDDEN: usize = 8;
/// More reasons than these leave no room for warnings.
const MOST_REASONS: usize = 2;

/// How many of each list are printed, counted from the first; the screen shows all.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Printed {
    pub(super) reasons: usize,
    pub(super) others: usize,
    pub(super) zones: usize,
}

impl Printed {
    /// Gives room on the front to what has to print, then to reasons, warnings and notes; on the back to marks, files and the
    /// command, then to zones, of which at least the first prints.
    pub(super) fn of(document: &TransitDocument<'_>, input: &CardInput<'_>) -> Self {
        let report = document.report;
        let mut front = LINES.saturating_sub(always_on_the_front(document));
        let reasons = fitting(
            &mut front,
            document.clears_because.iter().take(MOST_REASONS).map(|because| lines(because)),
        );
        let others =
            fitting(&mut front, warnings_and_notes(document).into_iter().map(|problem| lines(&problem.text)));
        let first_zone = report.zones.first().map_or(0, zone_lines);
        let mut back = LINES_ON_THE_BACK.saturating_sub(always_on_the_back(report, input) + first_zone);
        let zones = fitting(&mut back, report.zones.iter().skip(1).map(zone_lines));
        Self { reasons, others, zones: zones + report.zones.len().min(1) }
    }
}

/// How many of these fit one after the other.
fn fitting(left: &mut usize, wanted: impl Iterator<Item = usize>) -> usize {
    let mut count = 0;
    for lines in wanted {
        let Some(rest) = left.checked_sub(lines) else { break };
        *left = rest;
        count += 1;
    }
    count
}

fn lines(text: &str) -> usize {
    text.chars().count().div_ceil(LETTERS_IN_A_LINE)
}

fn zone_lines(zone: &takeline::transit::ZoneOnLine) -> usize {
    // beside name and source a line has some ninety letters of ours
    const OWN: usize = 90;
    let clause = zone.source.clause.as_deref().map_or(0, |clause| clause.chars().count());
    let letters = zone.name.chars().count() + zone.source.instrument.chars().count() + clause;
    (letters + OWN).div_ceil(LETTERS_IN_A_LINE)
}

/// Errors, a long sentence, and the drawing of where the marks are not seen.
fn always_on_the_front(document: &TransitDocument<'_>) -> usize {
    const SENTENCE_LETTERS: usize = 48;
    let errors = document.problems.iter().filter(|problem| problem.severity == Severity::Error);
    // an error has a frame
    let errors: usize = errors.map(|problem| lines(&problem.text) + 1).sum();
    let parts = phrases::hidden_parts(document.report);
    let hidden = if parts.is_empty() { 0 } else { LINES_OF_HIDDEN };
    let sentence = document.opens.sentence.as_ref().map_or(0, |sentence| sentence.chars().count());
    // its letters are half as large again; two lines of it every card has
    let sentence = sentence.div_ceil(SENTENCE_LETTERS).saturating_sub(2) * 3 / 2;
    errors + hidden + sentence
}

/// Marks, zone files and the command.
fn always_on_the_back(report: &TransitReport, input: &CardInput<'_>) -> usize {
    const OWN_OF_A_MARK: usize = 85;
    const OWN_OF_A_FILE: usize = 130;
    let of_mark = |name: &str| (name.chars().count() + OWN_OF_A_MARK).div_ceil(LETTERS_IN_A_LINE);
    let marks = of_mark(&report.line.front().name) + of_mark(&report.line.rear().name);
    let of_file = |file: &takeline::zone::ZoneFile| {
        let title = file.title.as_deref().map_or(0, |title| title.chars().count());
        let edition = file.edition.as_deref().map_or(0, |edition| edition.chars().count());
        (file.path.chars().count() + title + edition + OWN_OF_A_FILE).div_ceil(LETTERS_IN_A_LINE)
    };
    let files: usize = super::evidence::files(&report.zones).into_iter().map(of_file).sum();
    marks + files + lines(input.command) + 1
}

/// Warnings and notes, the worst first, without those that a card says in a place of their own.
fn warnings_and_notes<'d, 'a>(document: &'d TransitDocument<'a>) -> Vec<&'d ProblemDocument<'a>> {
    let is_listed = |problem: &&ProblemDocument<'_>| {
        problem.severity != Severity::Error
            && problem.code != ProblemCode::TerrainNotChecked
            && !hidden::hides(problem.text_code)
    };
    let mut problems: Vec<&ProblemDocument<'_>> = document.problems.iter().filter(is_listed).collect();
    // water that looks clear and is not comes first: the plan shows where, and no other warning weighs as much
    problems.sort_by_key(|problem| (problem.severity, problem.code != ProblemCode::FalseSafeWater));
    problems
}
