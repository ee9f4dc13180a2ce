//! What was wrong with the log itself.

use maud::{Markup, html};
use takeline::Metres;
use takeline::track::{Gap, LoggedFix, OpenEnd, Quality, SuspectFix, Suspicion};

use super::report::TrackReport;
use super::words;
use crate::figures;
use crate::track::order_sentences;

/// Kinds of suspects in the order of [`Quality::counts`].
const KINDS: [Suspicion; 7] = [
    Suspicion::Duplicate,
    Suspicion::OutOfOrder,
    Suspicion::Spike,
    Suspicion::ColdStart,
    Suspicion::NullIsland,
    Suspicion::RepeatedPosition,
    Suspicion::Untimed,
];
/// Rows shown at once; more are folded away.
const SHOWN: usize = 12;

/// The section on the log.
pub(super) fn section(report: &TrackReport<'_>) -> Markup {
    let quality = &report.audit.quality;
    html! {
        section #quality {
            h2 { "The log itself" }
            dl .facts {
                div { dt { "Fixes read" } dd { (quality.fixes) } }
                div { dt { "Without a time" } dd { (quality.without_time) } }
                div { dt { "First time" } dd { (quality.first_time.map_or("none".to_owned(), words::utc)) } }
                div { dt { "Last time" } dd { (quality.last_time.map_or("none".to_owned(), words::utc)) } }
                div { dt { "Way from fix to fix" } dd { (figures::distance(report.audit.path, Metres::ZERO)) } }
            }
            @for sentence in order_sentences(&quality.order) { p { (sentence) } }
            (suspects(quality))
            (gaps(report))
        }
    }
}

fn suspects(quality: &Quality) -> Markup {
    html! {
        h3 { "Suspect fixes" }
        p { "They are left out of what is called certain. None of them is deleted: each still stands in the log at the line given." }
        dl .facts {
            @for (kind, count) in KINDS.iter().zip(quality.counts) {
                div { dt { (words::suspicion(*kind)) } dd { (count) } }
            }
        }
        @if !quality.suspects.is_empty() {
            (folded(quality.suspects.len(), "suspect fixes, in the order of the log", &html! {
                table {
                    thead { tr { th scope="col" { "Line" } th scope="col" { "Why" } th scope="col" { "Time and place" } } }
                    tbody { @for suspect in &quality.suspects { (suspect_row(suspect)) } }
                }
            }))
        }
        (rest(quality.counts.iter().sum(), quality.suspects.len()))
    }
}

fn suspect_row(suspect: &SuspectFix) -> Markup {
    html! {
        tr {
            th scope="row" { (suspect.fix.place.line) }
            td {
                (words::suspicion(suspect.suspicion))
                @if let Some(needed_kn) = suspect.needed_kn { " (it needs " (words::knots(needed_kn)) ")" }
            }
            td { (fix(&suspect.fix)) }
        }
    }
}

fn fix(fix: &LoggedFix) -> Markup {
    html! {
        (fix.time.map_or("no time".to_owned(), words::utc)) br;
        span .place { (figures::position(fix.position)) }
    }
}

fn gaps(report: &TrackReport<'_>) -> Markup {
    let quality = &report.audit.quality;
    html! {
        h3 { "Gaps" }
        @if quality.gap_count == 0 {
            p { "None." }
        } @else {
            p { "While nothing was logged the boat may have been anywhere within reach; the map outlines that water." }
            (folded(quality.gaps.len(), "gaps, in the order of the log", &html! {
                table {
                    thead { tr { th scope="col" { "Lines" } th scope="col" { "How long" } th scope="col" { "From" } th scope="col" { "To" } th scope="col" { "Off the straight way, at most" } } }
                    tbody { @for gap in &quality.gaps { (gap_row(report, gap)) } }
                }
            }))
        }
        (rest(quality.gap_count, quality.gaps.len()))
    }
}

fn gap_row(report: &TrackReport<'_>, gap: &Gap) -> Markup {
    let reach = gap.reach(&report.audit.settings);
    html! {
        tr {
            th scope="row" { (gap.before.place.line) " to " (gap.after.place.line) }
            td {
                (gap.seconds.map_or("no times".to_owned(), words::duration)) ", "
                (figures::distance(gap.metres, Metres::ZERO)) " apart"
                @if gap.between_trips { br; "the end of one trip and the start of another: not judged" }
                @if let Some(open) = gap.open { br; (open_end(open)) }
                @if gap.impossible { br; "farther than the boat can have gone in the time" }
            }
            td { (fix(&gap.before)) }
            td { (fix(&gap.after)) }
            td { (reach.map_or("not known".to_owned(), |reach| figures::distance(reach, Metres::ZERO))) }
        }
    }
}

/// Which end of a gap nobody knows.
fn open_end(open: OpenEnd) -> &'static str {
    match open {
        OpenEnd::BeforeTheFirst => "the log had begun, and tells no place to believe: anywhere within reach",
        OpenEnd::AfterTheLast => "the log goes on, and tells no place to believe: anywhere within reach",
        OpenEnd::Repeats => {
            "one place repeated to the end of the log: the boat lay there, or its receiver stood still"
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
