//! What is wrong with the marks or the line, the worst first.

use maud::{Markup, html};
use takeline::transit::Severity;

use super::room;
use crate::lines::sanitised;
use crate::transit::document::TransitDocument;
use crate::transit::words;

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
    let problems = room::others(document);
    let left_out = problems.len().saturating_sub(printed);
    html! {
        @if !problems.is_empty() {
            h2 { "Mind" }
            ul .problems {
                @for (number, problem) in problems.iter().enumerate() {
                    li .screen[number >= printed] {
                        strong { (words::capital(&problem.severity_word)) ": " } (sanitised(&problem.sentence()))
                    }
                }
                @if left_out > 0 {
                    li .print { strong { (left_out) " more" } " had no room on this print, but stand on the screen." }
                }
            }
        }
    }
}
