//! The catches, each with its letter, what may be done with it, and why.

use maud::{Markup, html};

use super::marks::Lettered;
use super::sheet::Sheet;
use super::visit::clock_time;
use crate::lines::sanitised;

/// The table; on a phone each row is a card.
pub(super) fn section(sheet: &Sheet<'_>, lettered: &Lettered) -> Markup {
    let document = sheet.document;
    html! {
        section #catches {
            h2 { "Catches" }
            @if document.catches.is_empty() { p { "The catch log has no rows." } } @else {
                table .cards {
                    thead { tr { @for column in ["", "Fish", "Answer", "When", "Why"] { th scope="col" { (column) } } } }
                    tbody {
                        @for (letter, caught) in sheet.lettered_catches() {
                            tr id={ "catch-" (letter) } {
                                th scope="row" { (letter) }
                                td data-label="Fish" { (sanitised(caught.asked.unwrap_or_default())) " "
                                    span .fine {
                                        "line " (caught.row)
                                        @if let Some(remark) = lettered.remark(&letter) { ", " (remark) }
                                    }
                                }
                                td data-label="Answer" {
                                    strong { (document.words.take_answer(caught.answer)) }
                                    br; span .fine { (document.words.outcome_answer(caught.outcome.answer)) }
                                }
                                td data-label="When" {
                                    @match caught.time { Some(time) => { (clock_time(sheet, time, &sheet.clock)) } None => { "not given" } }
                                }
                                td data-label="Why" {
                                    @if let [because] = caught.because.as_slice() { (sanitised(because)) } @else {
                                        ul { @for because in &caught.because { li { (sanitised(because)) } } }
                                    }
                                }
                            }
                        }
                    }
                }
            }
        }
    }
}
