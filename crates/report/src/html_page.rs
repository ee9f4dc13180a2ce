//! What all our HTML pages share: a head that lets nothing be fetched, and the list of zone files.

use maud::{Markup, PreEscaped, html};
use takeline::zone::ZoneFile;

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
