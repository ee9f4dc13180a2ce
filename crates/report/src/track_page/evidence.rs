//! What the page rests on: the log itself, with what was wrong with it, files and settings; and what it cannot know.

use maud::{Markup, html};
use takeline::Metres;
use takeline::zone::{Extent, Zone, ZoneFile};

use super::backdrop::Backdrop;
use super::sheet::Sheet;
use crate::drawing::frame::Frame;
use crate::drawing::land;
use crate::figures::{self, Units};
use crate::html_page;
use crate::lines::sanitised;
use crate::track::times::{span, utc_spaced};
use crate::track::{GapDocument, MomentDocument, SettingsDocument, SuspectDocument};
use crate::words::Spoken;

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
pub(super) fn section(sheet: &Sheet<'_>, frame: Option<&Frame>, backdrops: &[Backdrop]) -> Markup {
    let document = sheet.document;
    let zones = document.zones().zones();
    html! {
        section #evidence {
            h2 { "Sources" }
            p { "The same log, zone files, settings and program make the same page, byte for byte." }
            h3 { "The log" }
            dl .facts {
                div { dt { "File" } dd .path { (sanitised(document.input.path)) } }
                div { dt { "SHA-256" } dd .hash { (sanitised(document.input.sha256.unwrap_or_default())) } }
            }
            h3 { "Zone files" }
            @for file in files(zones) { (zone_file(document.words, file, zones)) }
            (unplaced(zones))
            @if !document.zones().coasts().is_empty() {
                h3 { "Coast" }
                p { "Where land is. It moves no boundary." }
                @for coast in document.zones().coasts() { (land::facts(coast, document.words.units())) }
            }
            @if !backdrops.is_empty() {
                h3 { "Backdrop" }
                p { "Drawn beneath the map and used in no answer." }
                @for backdrop in backdrops {
                    dl .facts {
                        div { dt { "File" } dd .path { (sanitised(backdrop.path())) } }
                        div { dt { "SHA-256" } dd .hash { (backdrop.sha256()) } }
                    }
                }
            }
            h3 { "Settings" }
            (settings(&document.settings, document.words.units()))
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

fn zone_file(words: Spoken<'_>, file: &ZoneFile, zones: &[Zone]) -> Markup {
    html! {
        dl .facts {
            div { dt { "File" } dd .path { (sanitised(&file.path)) } }
            div { dt { "SHA-256" } dd .hash { (sanitised(&file.sha256)) } }
            @if let Some(title) = &file.title { div { dt { "Title" } dd { (sanitised(title)) } } }
            div { dt { "Edition" } dd { (sanitised(file.edition.as_deref().unwrap_or("not given"))) } }
            @if let Some(until) = html_page::valid_until(words, file, zones) { div { dt { "Valid until" } dd { (until) } } }
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
            p { strong { "Boundary not known: " } (sanitised(&zone.name)) " (" (sanitised(reason)) "). No place near it can be called outside." }
        }
    }
}

fn settings(settings: &SettingsDocument, units: Units) -> Markup {
    let plural = if units == Units::Us { "Feet" } else { "Metres" };
    html! {
        dl .facts {
            div {
                dt { "Accuracy of fixes that have none of their own" }
                dd { (figures::doubt(units, settings.uncertainty_95)) " at 95\u{a0}%, " (settings.uncertainty_source) }
            }
            div {
                dt { (plural) " per unit of dilution of precision" }
                dd { (settings.metres_per_hdop.map_or("not used".to_owned(), |metres| format!("{} at 95\u{a0}%", figures::tenth(units, metres)))) }
            }
            div {
                dt { "Top speed of the boat" }
                dd { (figures::speed(units, settings.top_speed_kn)) ", " (settings.top_speed_source) }
            }
            div { dt { "A gap is longer than" } dd { (span(settings.gap_after_s)) } }
            div { dt { "A stay outside that does not end a visit is shorter than" } dd { (span(settings.linger_s)) } }
            div { dt { "A stop is slower than" } dd { (figures::speed(units, settings.stop_below_kn)) } }
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

/// Rows shown at once; more are folded away.
const SHOWN: usize = 12;

/// The section on the log.
pub(super) fn log(sheet: &Sheet<'_>) -> Markup {
    let (quality, input) = (&sheet.document.quality, &sheet.document.input);
    html! {
        section #quality {
            h2 { "The log itself" }
            dl .facts {
                div { dt { "Fixes read" } dd { (input.fixes) } }
                div { dt { "Without a time" } dd { (quality.without_time) } }
                div { dt { "First time" } dd { (input.first_time.map_or("none".to_owned(), utc_spaced)) } }
                div { dt { "Last time" } dd { (input.last_time.map_or("none".to_owned(), utc_spaced)) } }
                div { dt { "Distance from fix to fix" } dd { (figures::distance(sheet.document.words.units(), sheet.document.path, Metres::ZERO)) } }
            }
            @for sentence in sheet.document.words.on_land(quality) { p { "On land: " (sanitised(&sentence)) } }
            @for sentence in sheet.document.words.log_order(quality) { p { (sentence) } }
            (suspects(sheet))
            (gaps(sheet))
        }
    }
}

fn suspects(sheet: &Sheet<'_>) -> Markup {
    let words = sheet.document.words;
    let listed: Vec<_> = sheet.suspects().collect();
    let found: Vec<_> = sheet.document.quality.counts().into_iter().filter(|(_, count)| *count > 0).collect();
    html! {
        h3 { "Suspect fixes" }
        @if found.is_empty() {
            p { "None." }
        } @else {
            p { "They are left out of what is called certain. None of them is deleted: each is still in the log, at the line given." }
            dl .facts {
                @for (kind, count) in &found {
                    div { dt { (words.suspicion(*kind)) } dd { (count) } }
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
            (rest(found.iter().map(|(_, count)| count).sum(), listed.len()))
        }
    }
}

fn suspect_row(words: Spoken<'_>, suspect: &SuspectDocument) -> Markup {
    html! {
        tr {
            th scope="row" { (suspect.line) }
            td {
                (words.suspicion(suspect.kind))
                @if let Some(needed_kn) = suspect.needed_kn { " (it needs " (figures::speed(words.units(), needed_kn)) ")" }
            }
            td { (fix(words, &MomentDocument { time: suspect.time, place: suspect.place, between: None })) }
        }
    }
}

fn fix(words: Spoken<'_>, fix: &MomentDocument) -> Markup {
    html! {
        (fix.time.map_or("no time".to_owned(), utc_spaced)) br;
        span .place { (words.shown_place(fix.place)) }
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
            p { "While nothing was logged, the boat may have been anywhere within reach; the map outlines that water." }
            (folded(listed.len(), "gaps, in the order of the log", &html! {
                table {
                    thead { tr { th scope="col" { "Lines" } th scope="col" { "How long" } th scope="col" { "From" } th scope="col" { "To" } th scope="col" { "Off the straight line, at most" } } }
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
                (figures::distance(words.units(), gap.distance, Metres::ZERO)) " apart"
                @if let Some(remark) = words.gap_remark(gap) { br; (sanitised(&remark)) }
            }
            td { (fix(words, &gap.from)) }
            td { (fix(words, &gap.to)) }
            td { (gap.reach.map_or("not known".to_owned(), |reach| figures::distance(words.units(), reach, Metres::ZERO))) }
        }
    }
}

/// A table, folded away where it is long; a browser opens it without a script.
pub(super) fn folded(rows: usize, what: &str, table: &Markup) -> Markup {
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
