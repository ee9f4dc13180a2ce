//! Visits, crossings and nearest approaches, in words and tables.

use jiff::tz::TimeZone;
use maud::{Markup, html};
use takeline::Tristate;
use takeline::track::{Certainty, Evidence};
use takeline::zone::Zone;

use super::sheet::Sheet;
use crate::drawing::chart;
use crate::figures;
use crate::lines::sanitised;
use crate::track::times::{clock, local, span, utc_spaced, whole_second, zone_name};
use crate::track::{ClosestDocument, MomentDocument, VisitDocument};
use crate::words::Spoken;

/// Every visit with all that is known of it.
pub(super) fn visits(sheet: &Sheet<'_>) -> Markup {
    html! {
        section #visits {
            h2 { "Visits" }
            @if sheet.document.visits.is_empty() {
                p { "The track shows no visit to a loaded zone, certain or possible." }
            }
            @for (number, visit) in (1_u64..).zip(&sheet.document.visits) {
                @if let Some(zone) = visit.zone {
                    (one(sheet, number, visit, zone))
                }
            }
        }
    }
}

fn one(sheet: &Sheet<'_>, number: u64, visit: &VisitDocument<'_>, zone: &Zone) -> Markup {
    let document = sheet.document;
    let words = document.words;
    html! {
        article .visit .{ (visit.certainty.code()) } id={ "visit-" (number) } {
            h3 { (chart::swatch(visit.zone_number)) " " (number) ". " (sanitised(&zone.name)) " " (tag(visit.certainty)) }
            dl .facts {
                div { dt { "Zone" } dd { (sanitised(&zone.id.0)) } }
                div { dt { "Known from" } dd { (sanitised(&words.known_from(document, visit))) } }
                div { dt { "Entered" } dd { (moment(words, &visit.entered, &zone.time_zone)) } }
                div { dt { "Left" } dd { (moment(words, &visit.left, &zone.time_zone)) } }
                @if visit.certainty == Certainty::Certain {
                    div { dt { "Certainly inside for" } dd { (words.certain_span(visit)) } }
                }
                div { dt { "Possibly inside for up to" } dd { (words.possible_span(visit)) } }
                div { dt { "Deepest (95\u{a0}%)" } dd { (words.depth(visit)) } }
                div { dt { "Way made" } dd { (words.visit_way(visit)) } }
                @if let Some(speeds) = visit.speed_kn { div { dt { "Speed" } dd { (words.speeds(speeds)) } } }
                div { dt { "Crossings" } dd { (crossing_links(visit)) } }
            }
            (stops(words, visit, &zone.time_zone))
            (movement(visit))
            (rule(words, visit, zone))
            (conditions(words, visit))
        }
    }
}

/// A moment: UTC, the zone's own clock, the fixes around it, and where.
fn moment(words: Spoken<'_>, moment: &MomentDocument, zone: &TimeZone) -> Markup {
    html! {
        @match moment.time {
            Some(time) => {
                time datetime=(whole_second(time)) { (utc_spaced(time)) }
                @if zone != &TimeZone::UTC {
                    br; (local(time, zone)) " " (zone_name(zone, time))
                }
            }
            None => { "no time in the log" }
        }
        @if let Some((before, after)) = moment.between && before != after {
            br;
            span.fine { "between the fixes of " (clock(before, &TimeZone::UTC)) " and " (clock(after, &TimeZone::UTC)) " UTC" }
        }
        br;
        span.place { (words.shown_place(moment.place)) }
    }
}

fn tag(certainty: Certainty) -> Markup {
    html! { span .tag .{ (certainty.code()) } { (certainty.code()) } }
}

fn crossing_links(visit: &VisitDocument<'_>) -> Markup {
    html! {
        @if visit.crossings.is_empty() { "none" }
        @for (place, number) in visit.crossings.iter().enumerate() {
            @if place > 0 { ", " }
            a href={ "#crossing-" (number + 1) } { (number + 1) }
        }
    }
}

fn stops(words: Spoken<'_>, visit: &VisitDocument<'_>, zone: &TimeZone) -> Markup {
    html! {
        h4 { "Stops" }
        @if visit.stops.is_empty() && (visit.evidence == Evidence::Gap || visit.off_the_way.is_some()) {
            p { "Not known: nothing was logged." }
        } @else if visit.stops.is_empty() {
            p { "None slower than the speed of a stop." }
        } @else {
            ol {
                @for stop in &visit.stops {
                    li {
                        (span(stop.seconds))
                        @if let Some(time) = stop.from.time {
                            " from " (utc_spaced(time)) " (" (clock(time, zone)) " " (zone_name(zone, time)) ")"
                        }
                        " at " span .place { (words.shown_place(stop.from.place)) }
                    }
                }
            }
        }
    }
}

fn movement(visit: &VisitDocument<'_>) -> Markup {
    html! {
        @if !visit.movement.is_empty() {
            h4 { "How the boat moved" }
            ul { @for sentence in &visit.movement { li { (sanitised(sentence)) } } }
            p .fine { "A description of the motion. It does not say what anybody aboard was doing." }
        }
    }
}

fn rule(words: Spoken<'_>, visit: &VisitDocument<'_>, zone: &Zone) -> Markup {
    let source = &zone.source;
    let file = &zone.file;
    html! {
        h4 { "The rule, and where it stands" }
        dl .facts {
            div { dt { "Rule in short" } dd { (sanitised(visit.take_rule.as_deref().unwrap_or_default())) } }
            div {
                dt { "In force then" }
                dd {
                    strong { (words.in_force_then(visit)) }
                    @for reason in &visit.in_force_because { br; (sanitised(reason)) }
                    @if visit.in_force != Tristate::No {
                        @for reason in &visit.binds_because { br; (sanitised(reason)) }
                    }
                    @if zone.may_change_by_notice { br; "It may be changed by notice, which no file can know." }
                }
            }
            div { dt { "Instrument" } dd { (sanitised(&source.instrument)) } }
            div { dt { "Clause" } dd { (sanitised(source.clause.as_deref().unwrap_or("not given"))) } }
            div { dt { "Edition" } dd { (sanitised(file.edition.as_deref().unwrap_or("not given"))) } }
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

/// The numbered crossings; the numbers are those on the map.
pub(super) fn crossings(sheet: &Sheet<'_>) -> Markup {
    html! {
        section #crossings {
            h2 { "Crossings of a line" }
            @if sheet.document.crossings.is_empty() {
                p { "No straight way between two fixes crosses the line of a loaded zone." }
            } @else {
                p { "Where the straight way between two fixes meets a line. Numbers as on the map." }
                div .wide { table {
                    thead { tr { th scope="col" { "No." } th scope="col" { "Way" } th scope="col" { "Zone" } th scope="col" { "When and where" } th scope="col" { "Visit" } } }
                    tbody {
                        @for (number, crossing) in sheet.document.crossings.iter().enumerate() {
                            @let clock = crossing.zone.map_or(TimeZone::UTC, |zone| zone.time_zone.clone());
                            tr id={ "crossing-" (number + 1) } {
                                th scope="row" { (number + 1) }
                                td { (sheet.document.words.direction(crossing.direction)) }
                                td { (sanitised(crossing.zone_name())) }
                                td { (moment(sheet.document.words, &crossing.at, &clock)) }
                                td {
                                    @match crossing.visit {
                                        Some(visit) => { a href={ "#visit-" (visit + 1) } { (visit + 1) } }
                                        None => { "none" }
                                    }
                                }
                            }
                        }
                    }
                } }
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
                p { "No other loaded zone has its line within " (figures::held_limit(sheet.document.words.units(), 20.0)) " of the track." }
            } @else {
                div .wide { table {
                    thead { tr { th scope="col" { "Zone" } th scope="col" { "Distance to its line (95\u{a0}%)" } th scope="col" { "When and where" } } }
                    tbody { @for approach in approaches { (approach_row(sheet, approach)) } }
                } }
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
            td { (figures::distance_with_doubt(sheet.document.words.units(), approach.signed_distance, approach.uncertainty_95)) " " (side) }
            td { (moment(sheet.document.words, &approach.at, &clock)) }
        }
    }
}
