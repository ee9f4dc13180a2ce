//! What all our HTML pages share: a head that lets nothing be fetched, and the list of zone files.

use jiff::civil::Time;
use jiff::tz::TimeZone;
use maud::{Markup, PreEscaped, html};
use takeline::zone::{Zone, ZoneFile};

use crate::words::Spoken;

/// The head of a page: its content policy, its title and its styles, in this order.
pub(crate) fn head(title: &str, content_policy: &str, styles: &[&str]) -> Markup {
    html! {
        head {
            meta charset="utf-8";
            meta http-equiv="Content-Security-Policy" content=(content_policy);
            meta name="viewport" content="width=device-width, initial-scale=1";
            meta name="color-scheme" content="light dark";
            meta name="referrer" content="no-referrer";
            title { (title) }
            style { @for style in styles { (PreEscaped(style)) } }
        }
    }
}

/// Files in their order, each once.
pub(crate) fn each_once<'a>(all: impl Iterator<Item = &'a ZoneFile>) -> Vec<&'a ZoneFile> {
    let mut files: Vec<&ZoneFile> = Vec::new();
    for file in all {
        if !files.iter().any(|known| known.path == file.path && known.sha256 == file.sha256) {
            files.push(file);
        }
    }
    files
}

/// The last day on which a file holds, or the end of it where that is not midnight, by the clock of its zones.
pub(crate) fn valid_until(words: Spoken<'_>, file: &ZoneFile, zones: &[Zone]) -> Option<String> {
    let until = file.valid_until?;
    let clock = zones.iter().find(|zone| zone.file.sha256 == file.sha256).map(|zone| zone.time_zone.clone());
    let until = until.to_zoned_datetime(clock.unwrap_or(TimeZone::UTC));
    Some(match until.date().yesterday() {
        Ok(day) if until.time() == Time::midnight() => words.date(day),
        _ => words.until(&until),
    })
}
