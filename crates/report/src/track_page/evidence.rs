//! What the page rests on, and what it cannot know.

use maud::{Markup, html};
use takeline::UncertaintySource;
use takeline::track::TrackSettings;
use takeline::zone::{Extent, Zone, ZoneFile};

use super::report::TrackReport;
use super::words;
use crate::cautions::CAUTIONS;
use crate::drawing::frame::Frame;
use crate::figures;
use crate::html_page;
use crate::lines::sanitised;

/// What no track can tell; one sentence each.
const LIMITS: [&str; 6] = [
    "A track shows where the receiver was. It does not show what anybody aboard was doing, or where a line or bait was.",
    "Between two fixes the straight way is drawn; the boat may have gone another.",
    "“Possible” means that the doubt, or a gap in the log, leaves it open. It is no finding against anybody.",
    "The doubts given are 95 % figures. Errors of small receivers last for minutes, so many fixes are not much better than one.",
    "Only the zones listed below were looked at. Other rules may apply in the same water.",
    "The clock of the receiver is taken as right.",
];

/// The statement of limits.
pub(super) fn limits() -> Markup {
    html! {
        section #limits {
            h2 { "What this page cannot know" }
            ul {
                @for limit in LIMITS { li { (limit) } }
                @for caution in CAUTIONS { li { (caution) } }
            }
        }
    }
}

/// Input, zone files, settings and program: what is needed to make the same page again.
pub(super) fn section(report: &TrackReport<'_>, frame: Option<&Frame>) -> Markup {
    html! {
        section #evidence {
            h2 { "What it rests on" }
            p { "The same log, zone files, settings and program make the same page, byte for byte." }
            h3 { "The log" }
            dl .facts {
                div { dt { "File" } dd .path { (sanitised(report.input.path)) } }
                div { dt { "SHA-256" } dd .hash { (sanitised(report.input.sha256)) } }
            }
            h3 { "Zone files" }
            @for file in files(report.zones.zones()) { (zone_file(file)) }
            (unplaced(report.zones.zones()))
            h3 { "Settings" }
            (settings(&report.audit.settings, report.audit.quality.order.shown_kn.is_some()))
            h3 { "Program and map" }
            dl .facts {
                div { dt { "Takeline" } dd { (sanitised(report.program_version)) } }
                @if let Some(frame) = frame { div { dt { "Map" } dd { (projection(frame)) } } }
            }
        }
    }
}

/// The files that the zones come from, in the order of the zones, each once.
fn files(zones: &[Zone]) -> Vec<&ZoneFile> {
    html_page::each_once(zones.iter().map(|zone| &*zone.file))
}

fn zone_file(file: &ZoneFile) -> Markup {
    html! {
        dl .facts {
            div { dt { "File" } dd .path { (sanitised(&file.path)) } }
            div { dt { "SHA-256" } dd .hash { (sanitised(&file.sha256)) } }
            @if let Some(title) = &file.title { div { dt { "Title" } dd { (sanitised(title)) } } }
            div { dt { "Edition" } dd { (sanitised(file.edition.as_deref().unwrap_or("not given"))) } }
            @if let Some(until) = file.valid_until { div { dt { "Vouched for until" } dd { (words::utc(until)) } } }
            @if let Some(licence) = &file.licence { div { dt { "Licence" } dd { (sanitised(licence)) } } }
        }
    }
}

fn unplaced(zones: &[Zone]) -> Markup {
    let unknown = zones.iter().filter_map(|zone| match &zone.extent {
        Extent::Unknown { reason, .. } => Some((zone, reason)),
        Extent::Known(_) => None,
    });
    html! {
        @for (zone, reason) in unknown {
            p { strong { "Line not known: " } (sanitised(&zone.name)) " (" (sanitised(reason)) "). Nowhere near it can be called outside." }
        }
    }
}

fn settings(settings: &TrackSettings, is_shown: bool) -> Markup {
    let assumed = |is_assumed: bool| if is_assumed { " (assumed, none was given)" } else { " (given)" };
    let uncertainty = settings.uncertainty;
    html! {
        dl .facts {
            div {
                dt { "Accuracy of fixes that bring none of their own" }
                dd { (figures::doubt(uncertainty.radius_95())) " at 95\u{a0}%" (assumed(uncertainty.source() == UncertaintySource::Assumed)) }
            }
            div {
                dt { "Metres per unit of dilution of precision" }
                dd { (settings.metres_per_hdop.map_or("not used".to_owned(), |metres| format!("{metres:.1}\u{a0}m at 95\u{a0}%"))) }
            }
            div {
                dt { "Top speed of the boat" }
                dd {
                    (words::knots(settings.top_speed_kn))
                    @if is_shown { " (shown by the log)" } @else { (assumed(!settings.top_speed_given)) }
                }
            }
            div { dt { "A gap is longer than" } dd { (words::duration(settings.gap_after_s)) } }
            div { dt { "A stay outside that does not end a visit is shorter than" } dd { (words::duration(settings.merge_within_s)) } }
            div { dt { "A stop is slower than" } dd { (words::knots(settings.stop_below_kn)) } }
        }
    }
}

fn projection(frame: &Frame) -> String {
    let scale = frame.worst_scale_percent().map_or_else(
        || "Its error at the edges could not be measured.".to_owned(),
        |percent| {
            let shown = if percent < 0.1 { "less than 0.1\u{a0}%".to_owned() } else { format!("at most {percent:.1}\u{a0}%") };
            format!("Along the edges and across, lengths on the map differ from those on the ellipsoid by {shown}.")
        },
    );
    format!(
        "Local equirectangular projection about the middle of the map, WGS 84, true north up. {scale} \
         Distances in the text are not measured on the map."
    )
}
