//! Visits, crossings and nearest approaches, in words and tables.

use jiff::tz::TimeZone;
use maud::{Markup, html};
use takeline::track::{Certainty, ClosestApproach, Direction, Evidence, Visit};
use takeline::zone::{Status, Zone};
use takeline::{Metres, Tristate};

use super::report::TrackReport;
use super::words;
use crate::drawing::chart;
use crate::figures;
use crate::lines::sanitised;
use crate::words::{English, Words};

/// Every visit with all that is known of it.
pub(super) fn visits(report: &TrackReport<'_>) -> Markup {
    html! {
        section #visits {
            h2 { "Visits" }
            @if report.audit.visits.is_empty() {
                p { "The track shows no visit to a loaded zone, certain or possible." }
            }
            @for (number, visit) in (1_u64..).zip(&report.audit.visits) {
                @if let Some(zone) = report.zone_of(visit) {
                    (one(number, visit, zone))
                }
            }
        }
    }
}

fn one(number: u64, visit: &Visit, zone: &Zone) -> Markup {
    html! {
        article .visit .{ (words::certainty(visit.certainty)) } id={ "visit-" (number) } {
            h3 { (chart::swatch(visit.zone_number)) " " (number) ". " (sanitised(&zone.name)) " " (tag(visit.certainty)) }
            dl .facts {
                div { dt { "Zone" } dd { (sanitised(&zone.id.0)) } }
                div { dt { "Known from" } dd { (words::evidence(visit)) } }
                div { dt { "Entered" } dd { (words::moment(&visit.entered(), &zone.time_zone)) } }
                div { dt { "Left" } dd { (words::moment(&visit.left(), &zone.time_zone)) } }
                div { dt { "Certainly inside for" } dd { (certain_time(visit)) } }
                div { dt { "Possibly inside for up to" } dd { (words::possible_time(visit.possible_s)) } }
                div { dt { "Deepest" } dd { (deepest(visit)) } }
                div { dt { "Way made" } dd { (figures::distance(visit.path, Metres::ZERO)) } }
                div { dt { "Speed, slowest / mean / fastest" } dd { (speeds(visit)) } }
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
    html! { span .tag .{ (words::certainty(certainty)) } { (words::certainty(certainty)) } }
}

fn deepest(visit: &Visit) -> String {
    let Some(deepest) = visit.deepest else { return "not known, nor is the place of the zone".into() };
    let depth = figures::distance_with_doubt(deepest, visit.deepest_uncertainty_95);
    let side = if deepest.metres() < 0.0 { "outside, within the doubt" } else { "inside the line" };
    if visit.evidence == Evidence::Gap {
        return format!("could have been {depth} (95\u{a0}%) {side}, at the top speed below");
    }
    if visit.off_the_way.is_some() {
        return format!("{depth} {side}, and in reach of it at the top speed below");
    }
    format!("{depth} (95\u{a0}%) {side}")
}

fn certain_time(visit: &Visit) -> String {
    match visit.certain_s {
        Some(seconds) if seconds > 0.0 => words::duration(seconds),
        Some(_) if visit.certainty == Certainty::Certain && visit.gaps > 1 => {
            format!("the moments of its fixes; between them lie {} gaps", visit.gaps)
        }
        Some(_) if visit.certainty == Certainty::Certain => "one moment".into(),
        None if visit.certainty == Certainty::Certain => "a time not known".into(),
        Some(_) | None => "no time at all".into(),
    }
}

fn speeds(visit: &Visit) -> String {
    visit.speeds.map_or_else(
        || "not known from this log".to_owned(),
        |speeds| [speeds.min_kn, speeds.mean_kn, speeds.max_kn].map(words::knots).join(" / "),
    )
}

fn crossing_links(visit: &Visit) -> Markup {
    html! {
        @if visit.crossings.is_empty() { "none" }
        @for (place, number) in visit.crossings.iter().enumerate() {
            @if place > 0 { ", " }
            a href={ "#crossing-" (number + 1) } { (number + 1) }
        }
    }
}

fn stops(visit: &Visit, zone: &TimeZone) -> Markup {
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
                            " from " (words::utc(time)) " (" (words::clock(time, zone)) " " (words::zone_name(zone, time)) ")"
                        }
                        " at " span .place { (figures::position(stop.from.position)) }
                    }
                }
            }
        }
    }
}

fn movement(visit: &Visit) -> Markup {
    html! {
        @if !visit.movement.is_empty() {
            h4 { "How the boat moved" }
            ul { @for sentence in &visit.movement { li { (sanitised(sentence)) } } }
            p .fine { "A description of the motion. It does not say what anybody aboard was doing." }
        }
    }
}

fn rule(visit: &Visit, zone: &Zone) -> Markup {
    let source = &zone.source;
    let file = &zone.file;
    html! {
        h4 { "The rule, and where it stands" }
        dl .facts {
            div { dt { "Rule in short" } dd { (sanitised(&English.rule_summary(&zone.rule.summary(&file.catalogue)))) } }
            div {
                dt { "Then" }
                dd {
                    strong { (words::in_force(visit.in_force)) }
                    @if let Some(seconds) = visit.in_force_certain_s.filter(|seconds| *seconds > 0.0) {
                        br; "surely inside and in force for " (words::duration(seconds))
                    }
                    @for reason in &visit.in_force_because { br; (sanitised(&English.track_reason(reason))) }
                    @if visit.in_force != Tristate::No {
                        @for reason in &visit.binds_because { br; (sanitised(&English.track_reason(reason))) }
                    }
                    @if let Some(status) = status(zone.status) { br; (status) }
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

const fn status(status: Status) -> Option<&'static str> {
    match status {
        Status::InForce => None,
        Status::Proposed => Some("The instrument is only proposed."),
        Status::NotCommenced => Some("The instrument is made but has not commenced."),
        Status::Repealed => Some("The instrument has been repealed."),
    }
}

fn conditions(visit: &Visit) -> Markup {
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
pub(super) fn crossings(report: &TrackReport<'_>) -> Markup {
    html! {
        section #crossings {
            h2 { "Crossings of a line" }
            @if report.audit.crossings.is_empty() {
                p { "No straight way between two fixes crosses the line of a loaded zone." }
            } @else {
                p { "Where the straight way between two fixes meets a line. Numbers as on the map." }
                div .wide { table {
                    thead { tr { th scope="col" { "No." } th scope="col" { "Way" } th scope="col" { "Zone" } th scope="col" { "When and where" } th scope="col" { "Visit" } } }
                    tbody {
                        @for (number, crossing) in report.audit.crossings.iter().enumerate() {
                            @let zone = report.zone_crossed(number, crossing);
                            tr id={ "crossing-" (number + 1) } {
                                th scope="row" { (number + 1) }
                                td { (match crossing.direction { Direction::In => "in", Direction::Out => "out" }) }
                                td { (sanitised(zone.map_or(crossing.zone.0.as_str(), |zone| zone.name.as_str()))) }
                                td { (words::moment(&crossing.at, &zone.map_or(TimeZone::UTC, |zone| zone.time_zone.clone()))) }
                                td {
                                    @match report.visit_of(number) {
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
pub(super) fn approaches(report: &TrackReport<'_>) -> Markup {
    let approaches = &report.audit.closest_approaches;
    html! {
        section #approaches {
            h2 { "Nearest approach to zones not visited" }
            @if approaches.is_empty() {
                p { "No other loaded zone has its line within 20\u{a0}km of the track." }
            } @else {
                div .wide { table {
                    thead { tr { th scope="col" { "Zone" } th scope="col" { "Distance to its line (95\u{a0}%)" } th scope="col" { "When and where" } } }
                    tbody { @for approach in approaches { (approach_row(report, approach)) } }
                } }
            }
        }
    }
}

fn approach_row(report: &TrackReport<'_>, approach: &ClosestApproach) -> Markup {
    let zone = report.zone_called(&approach.zone);
    let side = if approach.signed_distance.metres() < 0.0 { "inside" } else { "outside" };
    html! {
        tr {
            th scope="row" { (sanitised(zone.map_or(approach.zone.0.as_str(), |zone| zone.name.as_str()))) }
            td { (figures::distance_with_doubt(approach.signed_distance, approach.uncertainty_95)) " " (side) }
            td { (words::moment(&approach.at, &zone.map_or(TimeZone::UTC, |zone| zone.time_zone.clone()))) }
        }
    }
}
