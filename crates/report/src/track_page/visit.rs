//! Visits, crossings and nearest approaches, in words and tables.

use jiff::tz::TimeZone;
use maud::{Markup, html};
use takeline::track::{Certainty, Evidence};
use takeline::zone::Zone;
use takeline::{Metres, Tristate};

use super::sheet::Sheet;
use crate::drawing::chart;
use crate::figures;
use crate::lines::sanitised;
use crate::track::{ClosestDocument, VisitDocument};
use crate::words::track as words;

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
                    (one(number, visit, zone))
                }
            }
        }
    }
}

fn one(number: u64, visit: &VisitDocument<'_>, zone: &Zone) -> Markup {
    html! {
        article .visit .{ (visit.certainty.code()) } id={ "visit-" (number) } {
            h3 { (chart::swatch(visit.zone_number)) " " (number) ". " (sanitised(&zone.name)) " " (tag(visit.certainty)) }
            dl .facts {
                div { dt { "Zone" } dd { (sanitised(&zone.id.0)) } }
                div { dt { "Known from" } dd { (words::evidence_on_page(visit)) } }
                div { dt { "Entered" } dd { (words::moment_on_page(&visit.entered, &zone.time_zone)) } }
                div { dt { "Left" } dd { (words::moment_on_page(&visit.left, &zone.time_zone)) } }
                div { dt { "Certainly inside for" } dd { (words::certain_time_on_page(visit)) } }
                div { dt { "Possibly inside for up to" } dd { (words::possible_time(visit.possible_s)) } }
                div { dt { "Deepest" } dd { (words::depth_on_page(visit)) } }
                div { dt { "Way made" } dd { (figures::distance(visit.path, Metres::ZERO)) } }
                div { dt { "Speed, slowest / mean / fastest" } dd { (words::speeds_on_page(visit)) } }
                div { dt { "Crossings" } dd { (crossing_links(visit)) } }
            }
            (stops(visit, &zone.time_zone))
            (movement(visit))
            (rule(visit, zone))
            (conditions(visit))
        }
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

fn stops(visit: &VisitDocument<'_>, zone: &TimeZone) -> Markup {
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
                        (words::duration(stop.seconds))
                        @if let Some(time) = stop.from.time {
                            " from " (words::utc_spaced(time)) " (" (words::clock(time, zone)) " " (words::zone_name(zone, time)) ")"
                        }
                        " at " span .place { (words::place_on_page(stop.from.place)) }
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

fn rule(visit: &VisitDocument<'_>, zone: &Zone) -> Markup {
    let source = &zone.source;
    let file = &zone.file;
    html! {
        h4 { "The rule, and where it stands" }
        dl .facts {
            div { dt { "Rule in short" } dd { (sanitised(visit.take_rule.as_deref().unwrap_or_default())) } }
            div {
                dt { "Then" }
                dd {
                    strong { (words::in_force_on_page(visit.in_force)) }
                    @if let Some(seconds) = visit.outcome.in_force_certain_s.filter(|seconds| *seconds > 0.0) {
                        br; "surely inside and in force for " (words::duration(seconds))
                    }
                    @for reason in &visit.in_force_because { br; (sanitised(reason)) }
                    @if visit.in_force != Tristate::No {
                        @for reason in &visit.binds_because { br; (sanitised(reason)) }
                    }
                    @if let Some(status) = words::status(zone.status) { br; (status) }
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

fn conditions(visit: &VisitDocument<'_>) -> Markup {
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
                        strong { (words::kept(found.met, visit.certainty)) }
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
                                td { (crossing.direction.code()) }
                                td { (sanitised(crossing.zone_name())) }
                                td { (words::moment_on_page(&crossing.at, &clock)) }
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
                p { "No other loaded zone has its line within 20\u{a0}km of the track." }
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
            td { (figures::distance_with_doubt(approach.signed_distance, approach.uncertainty_95)) " " (side) }
            td { (words::moment_on_page(&approach.at, &clock)) }
        }
    }
}
