//! What the card rests on: zones, their source, their files, and the command that makes it again.

use maud::{Markup, html};
use takeline::coast::Coast;
use takeline::transit::ZoneOnLine;
use takeline::zone::{Zone, ZoneFile};
use takeline::{Metres, Tristate};

use super::half_sheet::CardInput;
use crate::drawing::land;
use crate::figures::{self, Units};
use crate::html_page;
use crate::lines::sanitised;
use crate::transit::document::TransitDocument;
use crate::words::Spoken;

/// The zones that matter, each with its margin, its rule's state and its source.
pub(super) fn zones(document: &TransitDocument<'_>, printed: usize) -> Markup {
    let (report, units) = (document.report, document.words.units());
    html! {
        ul .zones {
            @for (number, zone) in report.zones.iter().enumerate() { li .screen[number >= printed] { (one_zone(zone, units)) } }
            @if report.zones.len() > printed {
                li .print { (report.zones.len() - printed) " more zones on the screen: no room here." }
            }
        }
    }
}

fn one_zone(zone: &ZoneOnLine, units: Units) -> Markup {
    let kept = match zone.clears {
        Tristate::Yes => "in line you stay outside",
        Tristate::No => "in line you do NOT stay outside",
        Tristate::Undecided => "UNDECIDED whether in line you stay outside",
    };
    let in_force = match zone.in_force {
        Tristate::Yes => "in force",
        Tristate::No => "not in force then",
        Tristate::Undecided => "not known whether it is in force",
    };
    html! {
        strong { (sanitised(&zone.name)) } ": " (kept)
        @if let Some(worst) = zone.worst {
            ", least margin "
            @if worst.margin() > Metres::ZERO { (figures::margin(units, worst.margin(), worst.uncertainty_95)) } @else { "none" }
        }
        "; " (in_force) "; " (sanitised(&zone.source.instrument))
        @if let Some(clause) = &zone.source.clause { ", " (sanitised(clause)) }
        "."
    }
}

/// What no card can know.
pub(super) fn cautions(document: &TransitDocument<'_>) -> Markup {
    html! {
        p .cautions {
            strong { "Nobody has checked for land, buildings or trees between you and the marks. " }
            @for caution in document.cautions { (caution) " " }
        }
    }
}

/// Zone files and the command.
pub(super) fn section(document: &TransitDocument<'_>, input: &CardInput<'_>) -> Markup {
    html! {
        section .evidence {
            @for file in files(&document.report.zones) { (zone_file(document.words, file, input.zones.zones())) }
            @for coast in input.zones.coasts() { (coast_file(document.words, coast)) }
            p { "Takeline " (sanitised(input.program_version)) " makes this card again with " code { (sanitised(input.command)) } }
        }
    }
}

/// The files that the zones come from, each once.
pub(super) fn files(zones: &[ZoneOnLine]) -> Vec<&ZoneFile> {
    html_page::each_once(zones.iter().map(|zone| &*zone.file))
}

fn coast_file(words: Spoken<'_>, coast: &Coast) -> Markup {
    html! {
        p {
            strong { "Coast: " } (land::words(coast, words.units()))
            @if let Some(source) = &coast.source { ", " (sanitised(source)) }
            ". " span .path { (sanitised(&coast.path)) } ", SHA-256 " span .hash { (sanitised(&coast.sha256)) }
        }
    }
}

fn zone_file(words: Spoken<'_>, file: &ZoneFile, zones: &[Zone]) -> Markup {
    html! {
        p {
            strong { (sanitised(file.title.as_deref().unwrap_or(&file.path))) }
            ", edition " (sanitised(file.edition.as_deref().unwrap_or("not given")))
            @if let Some(until) = html_page::valid_until(words, file, zones) { ", valid until " (until) }
            ". " span .path { (sanitised(&file.path)) } ", SHA-256 " span .hash { (sanitised(&file.sha256)) }
        }
    }
}
