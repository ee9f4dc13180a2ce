//! The first screen: when the trip was, what it comes to, and what a log does not show.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use maud::{Markup, html};
use takeline::Metres;
use takeline::track::OutcomeAnswer;

use super::sheet::{Sheet, visit_stands_out};
use crate::figures;
use crate::lines::sanitised;
use crate::track::times::{clock, clock_minutes, counted, span, zone_name};
use crate::track::{Headline, TrackDocument, VisitDocument};

/// Visits and catches named on the first screen; the lists below have all.
const MOST_NAMED: usize = 5;

/// The verdict as a sentence, and the lines that follow it in the text.
pub(super) fn verdict(document: &TrackDocument<'_>) -> (String, Vec<String>) {
    let headline = &document.headline;
    let first = Headline { first: headline.first.clone(), ..Headline::default() };
    let further = headline.longest().into_iter().skip(1).filter(|line| !line.is_empty());
    (document.words.verdict_sentence(&first), further.collect())
}

/// A line of the text as a sentence.
pub(super) fn sentence(line: &str) -> String {
    let line = sanitised(line);
    if line.ends_with(['?', '!']) { line.into_owned() } else { format!("{}.", line.trim_end_matches('.')) }
}

/// The day of the trip and its hours: `25 July 2026, 05:30 to 06:33`; none in a log without times.
pub(super) fn when(document: &TrackDocument<'_>, zone: &TimeZone) -> Option<String> {
    let (first, last) = document.input.first_time.zip(document.input.last_time)?;
    let day = |time: Timestamp| document.words.date(zone.to_datetime(time).date());
    let (from, to) = (clock_minutes(first, zone), clock_minutes(last, zone));
    Some(if day(first) == day(last) {
        format!("{}, {from} to {to}", day(first))
    } else {
        format!("{}, {from}, to {}, {to}", day(first), day(last))
    })
}

/// Whose clock the page is by, and how it stands to UTC, once for the whole page.
pub(super) fn whose_clock(document: &TrackDocument<'_>, zone: &TimeZone) -> String {
    let Some(first) = document.input.first_time else { return String::new() };
    if zone == &TimeZone::UTC {
        return "Times are UTC.".to_owned();
    }
    let offset = zone.to_offset(first);
    let name = zone_name(zone, first);
    if offset.seconds() == 0 {
        format!("Times are by the clock of {name}, which is UTC on that day.")
    } else {
        format!("Times are by the clock of {name}, UTC{offset} on that day.")
    }
}

/// Everything above the map.
pub(super) fn top(sheet: &Sheet<'_>) -> Markup {
    let document = sheet.document;
    let (first, further) = verdict(document);
    html! {
        header .verdict .{ (verdict_class(document.verdict)) } {
            p .when {
                "Trip of "
                @match when(document, &sheet.clock) {
                    Some(when) => { strong { (when) } },
                    None => { strong { "an unknown day" } ": the log has no times" },
                }
            }
            h1 { (sentence(&first)) }
            @for line in further { p .further { (sentence(&line)) } }
            (caught(sheet))
            @for remark in &document.remarks { p .notice { (sanitised(remark)) } }
        }
    }
}

/// What follows the map on a phone, and stands beside it on a desk.
pub(super) fn further(sheet: &Sheet<'_>) -> Markup {
    let document = sheet.document;
    html! {
        div .more {
            (named(sheet))
            details .not-shown {
                summary { "What a log does not show" }
                ul { @for one in document.not_shown.iter().chain(&document.limits) { li { (sanitised(one)) } } }
            }
            p .fine {
                (counted(document.input.fixes, "fix", "fixes")) ", "
                (figures::distance(document.words.units(), document.path, Metres::ZERO)) " travelled, checked against "
                (counted(count(document.zones().zones().len()), "zone", "zones")) ". "
                (sanitised(&whose_clock(document, &sheet.clock)))
            }
        }
    }
}

/// How the frame of a verdict looks; its words alone say what it is.
pub(super) const fn verdict_class(verdict: OutcomeAnswer) -> &'static str {
    match verdict {
        OutcomeAnswer::NothingAgainst => "settled",
        OutcomeAnswer::Against => "stands-out",
        OutcomeAnswer::Undecided => "open",
    }
}

fn count(number: usize) -> u64 {
    u64::try_from(number).unwrap_or(u64::MAX)
}

/// The catches with their outcome: how many of each, and each of a few.
fn caught(sheet: &Sheet<'_>) -> Markup {
    let document = sheet.document;
    let is_few = document.catches.len() <= MOST_NAMED;
    html! {
        @if let Some(counts) = &document.headline.catches { p .further { a href="#catches" { (sanitised(counts)) } "." } }
        @if is_few && !document.catches.is_empty() {
            ul .caught {
                @for (letter, caught) in sheet.lettered_catches() {
                    li {
                        b { (letter) } " " (sanitised(caught.asked.unwrap_or_default())) ": "
                        strong { (document.words.take_answer(caught.answer)) }
                    }
                }
            }
        }
    }
}

/// The visits that stand out, a few of them, and how many there are in all.
fn named(sheet: &Sheet<'_>) -> Markup {
    let visits = &sheet.document.visits;
    let numbered = || (1_u64..).zip(visits);
    let loud: Vec<_> = numbered().filter(|(_, visit)| visit_stands_out(visit)).collect();
    let quiet = visits.len() - loud.len();
    html! {
        @if !visits.is_empty() {
            ul .digest {
                @for (number, visit) in loud.iter().take(MOST_NAMED) { li { (line(sheet, *number, visit)) } }
                @if loud.is_empty() && quiet <= MOST_NAMED {
                    @for (number, visit) in numbered() { li { (line(sheet, number, visit)) } }
                } @else {
                    @let unnamed = loud.len().saturating_sub(MOST_NAMED) + quiet;
                    @let more = if loud.is_empty() { "" } else { "more " };
                    @if unnamed > 0 {
                        li { a href="#visits" { (unnamed) " " (more) @if unnamed == 1 { "visit" } @else { "visits" } } }
                    }
                }
            }
        }
    }
}

fn line(sheet: &Sheet<'_>, number: u64, visit: &VisitDocument<'_>) -> Markup {
    let outcome = sheet.document.words.outcome_answer(visit.outcome.answer);
    html! {
        a href={ "#visit-" (number) } { b { (number) } " " (sanitised(visit.zone_name)) } ", "
        (sanitised(&outcome)) ": " (in_short(sheet, visit))
    }
}

/// A visit in short: how sure it is, from when to when, how long.
pub(super) fn in_short(sheet: &Sheet<'_>, visit: &VisitDocument<'_>) -> String {
    let words = sheet.document.words;
    let mut parts = vec![words.certainty(visit.certainty)];
    if let Some((from, to)) = visit.entered.time.zip(visit.left.time) {
        // the clock that the page names: visits of zones with clocks of their own would not be in order
        let zone = &sheet.clock;
        let day = other_day(sheet, from).map_or_else(String::new, |day| format!("{day} "));
        if from == to {
            parts.push(format!("{day}{}", clock(from, zone)));
        } else {
            parts.push(format!("{day}{} to {}", clock_minutes(from, zone), clock_minutes(to, zone)));
        }
    }
    match visit.certain_s.filter(|seconds| *seconds > 0.0) {
        Some(certain_s) => parts.push(span(certain_s)),
        None => parts.push(format!("up to {}", words.possible_span(visit))),
    }
    parts.join(", ")
}

/// The day, where it is not that on which the trip began.
pub(super) fn other_day(sheet: &Sheet<'_>, time: Timestamp) -> Option<String> {
    let day = |time: Timestamp| sheet.clock.to_datetime(time).date();
    let first = sheet.document.input.first_time?;
    (day(first) != day(time)).then(|| sheet.document.words.date(day(time)))
}
