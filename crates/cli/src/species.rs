//! Names of fish as they are typed after `--species`, against those that the loaded files know.

use std::sync::Arc;

use takeline::rule::{Catalogue, NameMatch};
use takeline::zone::{ZoneFile, ZoneSet};

use crate::failure::{Stop, say};

/// Says which names no loaded file knows, and how to list those that one does.
///
/// # Errors
///
/// A name that no file knows and that looks like two.
pub(crate) fn check(asked: &[String], zones: &ZoneSet) -> Result<(), Stop> {
    let catalogues = catalogues(zones);
    let is_unknown = |name: &&String| {
        catalogues.iter().all(|catalogue| matches!(catalogue.resolve(name), NameMatch::Unknown { .. }))
    };
    // of files without a zone nearby nothing may be loaded
    let unknown = asked.iter().filter(|name| !catalogues.is_empty() && is_unknown(name));
    for name in unknown {
        let parts: Vec<&str> =
            name.split([',', ';']).map(str::trim).filter(|part| !part.is_empty()).collect();
        if parts.len() > 1 {
            let each: Vec<String> =
                parts.iter().map(|part| format!("--species {}", in_quotes(part))).collect();
            return Err(Stop::Usage(format!(
                "--species: no loaded zone file has the name “{name}”; for several fish give the option several times: {}",
                each.join(" ")
            )));
        }
        say(&format!(
            "note: no loaded zone file has the name “{name}”; `takeline zones names`, with the same --zones, lists those that \
             they have"
        ));
    }
    Ok(())
}

fn catalogues(zones: &ZoneSet) -> Vec<&Catalogue> {
    let mut files: Vec<&Arc<ZoneFile>> = Vec::new();
    for zone in zones.zones() {
        if !files.iter().any(|file| Arc::ptr_eq(file, &zone.file)) {
            files.push(&zone.file);
        }
    }
    files.into_iter().map(|file| &file.catalogue).collect()
}

fn in_quotes(name: &str) -> String {
    if name.contains(char::is_whitespace) { format!("\"{name}\"") } else { name.to_owned() }
}
