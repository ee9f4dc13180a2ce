//! Several paths after one `--zones`: which of the words behind it are zone files, and which are something else.
//!
//! The words are sorted before they are parsed, because a parser that takes as many as there are would take a position or a
//! log too. What may be either is refused, so that no zone file is ever dropped and no coordinate becomes a path.

use std::ffi::{OsStr, OsString};
use std::path::Path;

use crate::zone_files::{holds_zone_files, looks_like_zones};

const OPTION: &str = "--zones";

/// What stands where a command takes words without an option.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Bare {
    /// A position.
    Position,
    /// Logs.
    Logs,
    /// Nothing.
    Nothing,
}

/// Puts `--zones` before every further path that follows one.
///
/// # Errors
///
/// The command, and which of its words may be two things and how to write it.
pub(crate) fn sorted(words: Vec<OsString>) -> Result<Vec<OsString>, (&'static str, String)> {
    let Some((command, bare)) = bare_words(&words) else { return Ok(words) };
    let mut sorted = Vec::with_capacity(words.len());
    let mut words = words.into_iter().peekable();
    while let Some(word) = words.next() {
        let is_zones = word == OPTION;
        let is_end = word == "--";
        sorted.push(word);
        if is_end {
            break;
        }
        if !is_zones {
            continue;
        }
        // the first is a path whatever it looks like
        sorted.extend(words.next_if(|word| !is_option(word)));
        while let Some(word) = words.peek() {
            if is_option(word) || !is_zone_path(word, bare).map_err(|reason| (command, reason))? {
                break;
            }
            sorted.push(OPTION.into());
            sorted.extend(words.next());
        }
    }
    sorted.extend(words);
    Ok(sorted)
}

/// What the command that is called takes without an option; none if it does not matter there.
fn bare_words(words: &[OsString]) -> Option<(&'static str, Bare)> {
    let named = |name: &str| match name {
        "here" => Some(("here", Bare::Position)),
        "track" => Some(("track", Bare::Logs)),
        "transit" => Some(("transit", Bare::Nothing)),
        _ => None,
    };
    words.iter().skip(1).find_map(|word| named(word.to_str()?))
}

/// Whether a word is an option, as against a coordinate or the name of standard input.
fn is_option(word: &OsStr) -> bool {
    let bytes = word.as_encoded_bytes();
    match bytes {
        [b'-', b'-', ..] => true,
        [b'-', second, ..] => second.is_ascii_alphabetic(),
        _ => false,
    }
}

/// Whether a word behind `--zones PATH` is another path.
fn is_zone_path(word: &OsStr, bare: Bare) -> Result<bool, String> {
    let path = Path::new(word);
    let shown = path.display();
    match bare {
        Bare::Nothing => Ok(true),
        Bare::Position => {
            let is_coordinate = looks_like_a_coordinate(&word.to_string_lossy());
            match (is_coordinate, path.exists()) {
                (true, true) => Err(format!(
                    "“{shown}” after --zones may be a part of the position, or the zone file of that name here: write \
                     ./{shown} for the file, or give the position before --zones"
                )),
                (true, false) => Ok(false),
                (false, true) => Ok(true),
                (false, false) => Err(format!(
                    "“{shown}” after --zones is neither a file or folder that exists nor part of a position: check the spelling"
                )),
            }
        }
        Bare::Logs => is_zone_path_not_log(path),
    }
}

/// Whether every sign of a word may stand in a coordinate, and one is a digit.
fn looks_like_a_coordinate(word: &str) -> bool {
    const SIGNS: &str = " \t.,;:+-−°º'’′\"”″NSEWnsew";
    let is_of_one = |letter: char| letter.is_ascii_digit() || SIGNS.contains(letter);
    word.contains(|letter: char| letter.is_ascii_digit()) && word.chars().all(is_of_one)
}

fn is_zone_path_not_log(path: &Path) -> Result<bool, String> {
    if path == "-" {
        return Ok(false);
    }
    let shown = path.display();
    if path.is_dir() {
        let (zones, logs) = holds_zone_files(path);
        if zones && logs {
            return Err(format!(
                "the folder {shown} after --zones holds zone files and logs: write --zones {shown} if its zones are meant, \
                 or give it before --zones if its logs are meant"
            ));
        }
        return Ok(zones);
    }
    Ok(looks_like_zones(path))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(line: &str) -> Vec<OsString> {
        line.split_whitespace().map(OsString::from).collect()
    }

    #[track_caller]
    fn becomes(line: &str, sorted_line: &str) {
        assert_eq!(sorted(words(line)), Ok(words(sorted_line)), "{line}");
    }

    // the folder of this crate is where its tests run: src and Cargo.toml are there
    #[test]
    fn a_coordinate_stays_one_in_every_order() {
        for line in [
            "takeline here --zones src 45.1 -30.1",
            "takeline here --zones src -45.1 -30.1",
            "takeline here 45.1 -30.1 --zones src",
            "takeline here --zones src -- 45.1 -30.1",
            "takeline here --zones src 45°07.09'N 030°07.30'W",
            "takeline here --zones=src 45.1 -30.1",
            "takeline here --zones src --all 45.1 -30.1",
            "takeline here --zones src --fixes -",
            "takeline here --zones 45 45 -30",
            "takeline zones prepare --zones src Cargo.toml",
            "takeline",
        ] {
            becomes(line, line);
        }
        becomes(
            "takeline here --zones src Cargo.toml 45.1 -30.1",
            "takeline here --zones src --zones Cargo.toml 45.1 -30.1",
        );
        becomes(
            "takeline here 45.1 -30.1 --zones src Cargo.toml --all",
            "takeline here 45.1 -30.1 --zones src --zones Cargo.toml --all",
        );
        becomes(
            "takeline here --zones src Cargo.toml -- 45.1 -30.1",
            "takeline here --zones src --zones Cargo.toml -- 45.1 -30.1",
        );
        becomes(
            "takeline --settings none transit check --zones a b --front x",
            "takeline --settings none transit check --zones a --zones b --front x",
        );
    }

    #[test]
    fn what_is_neither_path_nor_position_is_refused() {
        let reason = sorted(words("takeline here 45 -30 --zones src no-such.json")).unwrap_err().1;
        assert!(reason.contains("“no-such.json” after --zones is neither a file"), "{reason}");
    }

    #[test]
    fn logs_stay_logs() {
        for line in [
            "takeline track --zones src log.gpx",
            "takeline track --zones src logs/*.gpx",
            "takeline track --zones src -",
            "takeline track log.gpx --zones src",
        ] {
            becomes(line, line);
        }
        becomes(
            "takeline track --zones src other.geojson log.gpx",
            "takeline track --zones src --zones other.geojson log.gpx",
        );
    }
}
