//! What was wrong with the log itself.

use maud::{Markup, html};
use takeline::Metres;

use super::sheet::Sheet;
use crate::figures;
use crate::lines::sanitised;
use crate::track::times::{knots, span, utc_spaced};
use crate::track::{GapDocument, MomentDocument, Spoken, SuspectDocument};

/// Rows shown at once; more are folded away.
const SHOWN: usize = 12;

/// The section on the log.
pub(super) fn section(sheet: &Sheet<'_>) -> Markup {
    let (quality, input) = (&sheet.document.quality, &sheet.document.input);
    html! {
        section #quality {
            h2 { "The log itself" }
            dl .facts {
                div { dt { "Fixes read" } dd { (input.fixes) } }
                div { dt { "Without a time" } dd { (quality.without_time) } }
                div { dt { "First time" } dd { (input.first_time.map_or("none".to_owned(), utc_spaced)) } }
                div { dt { "Last time" } dd { (input.last_time.map_or("none".to_owned(), utc_spaced)) } }
                div { dt { "Way from fix to fix" } dd { (figures::distance(sheet.document.path, Metres::ZERO)) } }
            }
            @for sentence in sheet.document.words.log_order(quality) { p { (sentence) } }
            (suspects(sheet))
            (gaps(sheet))
        }
    }
}

fn suspects(sheet: &Sheet<'_>) -> Markup {
    let words = sheet.document.words;
    let listed: Vec<_> = sheet.suspects().collect();
    let counts = sheet.document.quality.counts();
    html! {
        h3 { "Suspect fixes" }
        p { "They are left out of what is called certain. None of them is deleted: each still stands in the log at the line given." }
        dl .facts {
            @for (kind, count) in counts {
                div { dt { (words.suspicion(kind)) } dd { (count) } }
            }
        }
        @if !listed.is_empty() {
            (folded(listed.len(), "suspect fixes, in the order of the log", &html! {
                table {
                    thead { tr { th scope="col" { "Line" } th scope="col" { "Why" } th scope="col" { "Time and place" } } }
                    tbody { @for suspect in &listed { (suspect_row(words, suspect)) } }
                }
            }))
        }
        (rest(counts.iter().map(|(_, count)| count).sum(), listed.len()))
    }
}

fn suspect_row(words: Spoken<'_>, suspect: &SuspectDocument) -> Markup {
    html! {
        tr {
            th scope="row" { (suspect.line) }
            td {
                (words.suspicion(suspect.kind))
                @if let Some(needed_kn) = suspect.needed_kn { " (it needs " (knots(needed_kn)) ")" }
            }
            td { (fix(words, &MomentDocument { time: suspect.time, place: suspect.place, between: None })) }
        }
    }
}

fn fix(words: Spoken<'_>, fix: &MomentDocument) -> Markup {
    html! {
        (fix.time.map_or("no time".to_owned(), utc_spaced)) br;
        span .place { (words.place(fix.place)) }
    }
}

fn gaps(sheet: &Sheet<'_>) -> Markup {
    let gap_count = sheet.document.quality.gap_count;
    let words = sheet.document.words;
    let listed: Vec<_> = sheet.gaps().collect();
    html! {
        h3 { "Gaps" }
        @if gap_count == 0 {
            p { "None." }
        } @else {
            p { "While nothing was logged the boat may have been anywhere within reach; the map outlines that water." }
            (folded(listed.len(), "gaps, in the order of the log", &html! {
                table {
                    thead { tr { th scope="col" { "Lines" } th scope="col" { "How long" } th scope="col" { "From" } th scope="col" { "To" } th scope="col" { "Off the straight way, at most" } } }
                    tbody { @for gap in &listed { (gap_row(words, gap)) } }
                }
            }))
        }
        (rest(gap_count, listed.len()))
    }
}

fn gap_row(words: Spoken<'_>, gap: &GapDocument<'_>) -> Markup {
    html! {
        tr {
            th scope="row" { (gap.after_line) " to " (gap.gap.after.place.line) }
            td {
                (gap.seconds.map_or("no times".to_owned(), span)) ", "
                (figures::distance(gap.distance, Metres::ZERO)) " apart"
                @if let Some(remark) = words.gap_remark(gap) { br; (sanitised(&remark)) }
            }
            td { (fix(words, &gap.from)) }
            td { (fix(words, &gap.to)) }
            td { (gap.reach.map_or("not known".to_owned(), |reach| figures::distance(reach, Metres::ZERO))) }
        }
    }
}

/// A table, folded away where it is long; a browser opens it without a script.
fn folded(rows: usize, what: &str, table: &Markup) -> Markup {
    html! {
        @if rows > SHOWN {
            details { summary { (rows) " " (what) } div .wide { (table) } }
        } @else {
            div .wide { (table) }
        }
    }
}

fn rest(counted: u64, listed: usize) -> Markup {
    let unlisted = counted.saturating_sub(u64::try_from(listed).unwrap_or(u64::MAX));
    html! {
        @if unlisted > 0 { p { (unlisted) " more are counted above and not listed." } }
    }
}
