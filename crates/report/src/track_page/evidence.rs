//! What the page rests on, and what it cannot know.

use maud::{Markup, html};
use takeline::zone::{Extent, Zone, ZoneFile};

use super::sheet::Sheet;
use crate::drawing::frame::Frame;
use crate::figures;
use crate::html_page;
use crate::lines::sanitised;
use crate::track::SettingsDocument;
use crate::track::times::{knots, span, utc_spaced};

/// The statement of limits.
pub(super) fn limits(sheet: &Sheet<'_>) -> Markup {
    html! {
        section #limits {
            h2 { "What this page cannot know" }
            ul {
                @for limit in sheet.document.limits.iter().chain(&sheet.document.words.page_limits()) { li { (limit) } }
                @for caution in sheet.document.cautions { li { (caution) } }
            }
        }
    }
}

/// Input, zone files, settings and program: what is needed to make the same page again.
pub(super) fn section(sheet: &Sheet<'_>, frame: Option<&Frame>) -> Markup {
    let document = sheet.document;
    let zones = document.zones().zones();
    html! {
        section #evidence {
            h2 { "What it rests on" }
            p { "The same log, zone files, settings and program make the same page, byte for byte." }
            h3 { "The log" }
            dl .facts {
                div { dt { "File" } dd .path { (sanitised(document.input.path)) } }
                div { dt { "SHA-256" } dd .hash { (sanitised(document.input.sha256.unwrap_or_default())) } }
            }
            h3 { "Zone files" }
            @for file in files(zones) { (zone_file(file)) }
            (unplaced(zones))
            h3 { "Settings" }
            (settings(&document.settings))
            h3 { "Program and map" }
            dl .facts {
                div { dt { "Takeline" } dd { (sanitised(document.takeline_version)) } }
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
            @if let Some(until) = file.valid_until { div { dt { "Vouched for until" } dd { (utc_spaced(until)) } } }
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

fn settings(settings: &SettingsDocument) -> Markup {
    html! {
        dl .facts {
            div {
                dt { "Accuracy of fixes that bring none of their own" }
                dd { (figures::doubt(settings.uncertainty_95)) " at 95\u{a0}%, " (settings.uncertainty_source) }
            }
            div {
                dt { "Metres per unit of dilution of precision" }
                dd { (settings.metres_per_hdop.map_or("not used".to_owned(), |metres| format!("{metres:.1}\u{a0}m at 95\u{a0}%"))) }
            }
            div {
                dt { "Top speed of the boat" }
                dd { (knots(settings.top_speed_kn)) ", " (settings.top_speed_source) }
            }
            div { dt { "A gap is longer than" } dd { (span(settings.gap_after_s)) } }
            div { dt { "A stay outside that does not end a visit is shorter than" } dd { (span(settings.linger_s)) } }
            div { dt { "A stop is slower than" } dd { (knots(settings.stop_below_kn)) } }
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
