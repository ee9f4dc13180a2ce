//! Visits, crossings and nearest approaches, in words and tables.

use jiff::Timestamp;
use jiff::tz::TimeZone;
use maud::{Markup, html};
use takeline::Tristate;
use takeline::track::{Certainty, Evidence};
use takeline::zone::Zone;

use super::evidence;
use super::sheet::{Sheet, visit_stands_out};
use super::top::{in_short, other_day, verdict_class};
use crate::figures;
use crate::lines::sanitised;
use crate::track::times::{clock, span, whole_second, zone_name};
use crate::track::{ClosestDocument, MomentDocument, VisitDocument};
use crate::words::{FieldPhrase, Spoken};

/// Visits that stand out and lie open; more of them are folded like the others.
const MOST_OPEN: usize = 12;
/// Folded visits in a row; more are folded away together.
const MOST_FOLDED: usize = 12;

/// Every visit with all that is known of it: those that stand out first and open, the others folded.
pub(super) fn visits(sheet: &Sheet<'_>) -> Markup {
    let numbered = (1_u64..).zip(&sheet.document.visits);
    let (loud, quiet): (Vec<_>, Vec<_>) = numbered.partition(|(_, visit)| visit_stands_out(visit));
    let quiet_list = html! { @for (number, visit) in &quiet { (one(sheet, *number, visit, false)) } };
    html! {
        section #visits {
            h2 { "Visits" }
            @if loud.is_empty() && quiet.is_empty() {
                p { "The track shows no visit to a loaded zone, certain or possible." }
            }
            @for (place, (number, visit)) in loud.iter().enumerate() { (one(sheet, *number, visit, place < MOST_OPEN)) }
            @if !loud.is_empty() && !quiet.is_empty() { h3 { "Other visits" } }
            @if quiet.len() > MOST_FOLDED {
                details { summary { (quiet.len()) " visits with nothing against the rule" } (quiet_list) }
            } @else { (quiet_list) }
        }
    }
}

fn one(sheet: &Sheet<'_>, number: u64, visit: &VisitDocument<'_>, is_open: bool) -> Markup {
    html! {
        @if let Some(zone) = visit.zone {
            article .visit .{ (visit.certainty.code()) } .loud[visit_stands_out(visit)] id={ "visit-" (number) } {
                details open[is_open] {
                    summary {
                        h3 { (number) " " (sanitised(&zone.name)) }
                        " "
                        span .tag .{ (verdict_class(visit.outcome.answer)) } {
                            (sanitised(&sheet.document.words.outcome_answer(visit.outcome.answer)))
                        }
                        " " span .short { (in_short(sheet, visit)) }
                    }
                    (facts(sheet, visit, zone))
                }
            }
        }
    }
}

fn facts(sheet: &Sheet<'_>, visit: &VisitDocument<'_>, zone: &Zone) -> Markup {
    let document = sheet.document;
    let words = document.words;
    html! {
        (outcome(visit))
        dl .facts {
                div { dt { "Zone" } dd { (sanitised(&zone.id.0)) } }
                div { dt { "Known from" } dd { (sanitised(&words.known_from(document, visit))) } }
                div { dt { (capital(visit.end_labels().0)) } dd { (moment(sheet, &visit.entered, &zone.time_zone)) } }
                div { dt { (capital(visit.end_labels().1)) } dd { (moment(sheet, &visit.left, &zone.time_zone)) } }
                @if visit.certainty == Certainty::Certain {
                    div { dt { "Certainly inside for" } dd { (words.certain_span(visit)) } }
                }
                div { dt { "Possibly inside for up to" } dd { (words.possible_span(visit)) } }
                div { dt { "Deepest (95\u{a0}%)" } dd { (words.depth(visit)) } }
                div { dt { "Way made" } dd { (words.visit_way(visit)) } }
                @if let Some(speeds) = visit.speed_kn { div { dt { "Speed" } dd { (words.speeds(speeds)) } } }
                div { dt { "Crossings" } dd { (crossing_links(sheet, visit)) } }
            }
            (stops(sheet, visit, &zone.time_zone))
            (movement(visit))
            (rule(words, visit, zone))
            (conditions(words, visit))
    }
}

fn capital(label: &str) -> String {
    let mut letters = label.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A time of day by a clock; its day where that is not the first of the trip, its clock where that is not the page's, and UTC
/// where that differs.
pub(super) fn clock_time(sheet: &Sheet<'_>, time: Timestamp, zone: &TimeZone) -> Markup {
    let is_utc = zone.to_offset(time).seconds() == 0;
    html! {
        time datetime=(whole_second(time)) {
            @if let Some(day) = other_day(sheet, time) { (day) ", " }
            (clock(time, zone))
        }
        @if zone != &sheet.clock { " " (zone_name(zone, time)) }
        @if !is_utc { span .fine { " (" (clock(time, &TimeZone::UTC)) " UTC)" } }
    }
}

/// A moment: when, the fixes around it, and where.
fn moment(sheet: &Sheet<'_>, moment: &MomentDocument, zone: &TimeZone) -> Markup {
    html! {
        @match moment.time {
            Some(time) => { (clock_time(sheet, time, zone)) }
            None => { "no time in the log" }
        }
        @if let Some((before, after)) = moment.between && before != after {
            span.fine { ", between the fixes of " (clock(before, zone)) " and " (clock(after, zone)) }
        }
        br;
        span.place { (sheet.document.words.shown_place(moment.place)) }
    }
}

fn crossing_links(sheet: &Sheet<'_>, visit: &VisitDocument<'_>) -> Markup {
    let crossings =
        visit.crossings.iter().filter_map(|number| Some((number, sheet.document.crossings.get(*number)?)));
    html! {
        @if visit.crossings.is_empty() { "none" }
        @for (place, (number, crossing)) in crossings.enumerate() {
            @if place > 0 { ", " }
            a href={ "#crossing-" (number + 1) } { (sheet.crossing_label(crossing)) }
        }
    }
}

fn stops(sheet: &Sheet<'_>, visit: &VisitDocument<'_>, zone: &TimeZone) -> Markup {
    html! {
        h4 { "Stops" }
        @if visit.stops.is_empty() && (visit.evidence == Evidence::Gap || visit.off_the_way.is_some()) {
            p { "Not known: nothing was logged." }
        } @else if visit.stops.is_empty() {
            p { "None as slow as a stop." }
        } @else {
            ol {
                @for stop in &visit.stops {
                    li {
                        (span(stop.seconds))
                        @if let Some(time) = stop.from.time { " from " (clock_time(sheet, time, zone)) }
                        " at " span .place { (sheet.document.words.shown_place(stop.from.place)) }
                    }
                }
            }
        }
    }
}

/// Why the outcome is as it is, and what bears on it and is not shown.
fn outcome(visit: &VisitDocument<'_>) -> Markup {
    let outcome = &visit.outcome;
    html! {
        ul .findings { @for because in &outcome.because { li { (sanitised(because)) } } }
        @if !outcome.not_shown.is_empty() {
            p .fine { "The log does not show: " (sanitised(&outcome.not_shown.join("; "))) "." }
        }
    }
}

fn movement(visit: &VisitDocument<'_>) -> Markup {
    html! {
        @if !visit.movement.is_empty() {
            h4 { "How the boat moved" }
            ul { @for sentence in &visit.movement { li { (sanitised(sentence)) } } }
            p .fine { "How the boat moved. This does not say what anybody on board was doing." }
        }
    }
}

fn rule(words: Spoken<'_>, visit: &VisitDocument<'_>, zone: &Zone) -> Markup {
    let source = &zone.source;
    let file = &zone.file;
    html! {
        h4 { "The rule and its source" }
        dl .facts {
            div { dt { "Rule in short" } dd { (sanitised(visit.take_rule.as_deref().unwrap_or_default())) } }
            div {
                dt { "In force then" }
                dd {
                    strong { (words.in_force_then(visit)) }
                    @for reason in &visit.in_force_because { br; (sanitised(reason)) }
                    @if visit.in_force != Tristate::No {
                        @if visit.binds_label() != "because" && !visit.binds_because.is_empty() { br; (visit.binds_label()) ":" }
                        @for reason in &visit.binds_because { br; (sanitised(reason)) }
                    }
                    @if zone.may_change_by_notice { br; "It may be changed by a notice, which no file can know." }
                }
            }
            div { dt { "Instrument" } dd { (sanitised(&source.instrument)) } }
            div { dt { "Clause" } dd { (sanitised(source.clause.as_deref().unwrap_or("not given"))) } }
            div { dt { "Edition" } dd { (sanitised(file.edition.as_deref().unwrap_or("not given"))) } }
            @if let Some(record) = visit.proofread {
                div { dt { "Proofread" } dd { (sanitised(&words.field(&FieldPhrase::Proofread(record)))) } }
            }
            @if let Some(day) = source.retrieved { div { dt { "Read on" } dd { (day) } } }
            @if let Some(url) = &source.url { div { dt { "Read at" } dd { (sanitised(url)) } } }
        }
        @if let Some(text) = &source.quoted_text {
            blockquote { p { (sanitised(text)) } }
        }
    }
}

fn conditions(words: Spoken<'_>, visit: &VisitDocument<'_>) -> Markup {
    let of = |settled: bool| -> Vec<_> {
        visit.conditions.iter().filter(|found| (found.met != Tristate::Undecided) == settled).collect()
    };
    let (tested, open) = (of(true), of(false));
    html! {
        @if !tested.is_empty() {
            h4 { "Conditions of crossing that this track tests" }
            ul .findings {
                @for found in tested {
                    li {
                        (sanitised(&found.condition)) ": "
                        strong { (words.condition_met(found.met)) }
                        ". " span .fine { (sanitised(&found.because)) }
                    }
                }
            }
        }
        @if !open.is_empty() {
            h4 { "Conditions that this track cannot settle" }
            ul .findings {
                @for found in open { li { (sanitised(&found.condition)) ". " span .fine { (sanitised(&found.because)) } } }
            }
        }
    }
}

/// The crossings, labelled as on the map.
pub(super) fn crossings(sheet: &Sheet<'_>) -> Markup {
    let crossings = &sheet.document.crossings;
    let table = html! {
        table .cards {
            thead { tr { th scope="col" { "Visit" } th scope="col" { "Zone" } th scope="col" { "When and where" } } }
            tbody {
                @for (number, crossing) in crossings.iter().enumerate() {
                    @let clock = crossing.zone.map_or(TimeZone::UTC, |zone| zone.time_zone.clone());
                    tr id={ "crossing-" (number + 1) } {
                        th scope="row" {
                            @match crossing.visit {
                                Some(visit) => { a href={ "#visit-" (visit + 1) } { (sheet.crossing_label(crossing)) } }
                                None => { (sheet.crossing_label(crossing)) }
                            }
                        }
                        td data-label="Zone" { (sanitised(crossing.zone_name())) }
                        td data-label="When and where" { (moment(sheet, &crossing.at, &clock)) }
                    }
                }
            }
        }
    };
    html! {
        section #crossings {
            h2 { "Crossings" }
            @if crossings.is_empty() {
                p { "No straight line between two fixes crosses the boundary of a loaded zone." }
            } @else {
                p { "Where the straight line between two fixes meets a boundary. Numbers are those of the visits, as on the map." }
                (evidence::folded(crossings.len(), "crossings, in the order of the track", &table))
            }
        }
    }
}

/// The nearest approach to each zone near by that was never visited.
pub(super) fn approaches(sheet: &Sheet<'_>) -> Markup {
    let mut approaches = sheet.approaches().peekable();
    html! {
        section #approaches {
            h2 { "Nearest approach to zones not visited" }
            @if approaches.peek().is_none() {
                p { "No other loaded zone has its boundary within " (figures::held_limit(sheet.document.words.units(), 20.0)) " of the track." }
            } @else {
                @let rows: Vec<_> = approaches.collect();
                (evidence::folded(rows.len(), "zones, nearest first", &html! {
                    table .cards {
                        thead { tr { th scope="col" { "Zone" } th scope="col" { "Distance to its boundary (95\u{a0}%)" } th scope="col" { "When and where" } } }
                        tbody { @for approach in &rows { (approach_row(sheet, approach)) } }
                    }
                }))
            }
        }
    }
}

fn approach_row(sheet: &Sheet<'_>, approach: &ClosestDocument<'_>) -> Markup {
    let zone = approach.zone_number.and_then(|number| sheet.document.zones().zones().get(number));
    let clock = zone.map_or(TimeZone::UTC, |zone| zone.time_zone.clone());
    let side = if approach.signed_distance.metres() < 0.0 { "inside" } else { "outside" };
    html! {
        tr {
            th scope="row" { (sanitised(approach.zone_name)) }
            td data-label="Distance" { (figures::distance_with_doubt(sheet.document.words.units(), approach.signed_distance, approach.uncertainty_95)) " " (side) }
            td data-label="When and where" { (moment(sheet, &approach.at, &clock)) }
        }
    }
}
