//! How wide the screen is, and what stands out on it.

use std::borrow::Cow;
use std::io::{self, IsTerminal};

use anstream::{AutoStream, ColorChoice};
use anstyle::Style;
use clap::{Args, ValueEnum};

use crate::arguments::{Format, columns};
use crate::failure::Stop;

/// The width where nobody says one and there is no terminal: of a small phone, so that nothing is cut off anywhere.
const NOT_KNOWN: usize = 40;
/// Lines longer than this are hard to find back along.
const MOST_LEGIBLE: usize = 100;
const NARROWEST: usize = 20;

/// How an answer is put on the screen.
#[derive(Debug, Args)]
pub(crate) struct ScreenArguments {
    /// Columns of the screen [default: those of the terminal, at most 100; 40 where there is none]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = columns)]
    pub(crate) width: Option<u16>,

    /// Whether the first words stand out; they are the same words either way
    #[arg(long, visible_alias = "colour", value_enum, value_name = "WHEN", default_value = "auto")]
    color: ColorName,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum ColorName {
    /// On a terminal, unless `NO_COLOR` is set
    Auto,
    Always,
    Never,
}

impl ScreenArguments {
    /// Columns that a text may take.
    pub(crate) fn width(&self) -> usize {
        if let Some(asked) = self.width {
            return usize::from(asked);
        }
        // what is piped or kept in a file is the same wherever it is made
        let is_terminal = io::stdout().is_terminal();
        let found = is_terminal.then(terminal_size::terminal_size).flatten();
        found.map_or(NOT_KNOWN, |(width, _)| usize::from(width.0).clamp(NARROWEST, MOST_LEGIBLE))
    }

    /// The first lines of a text, which answer, and nothing of what stands below them; as the screen shows them.
    pub(crate) fn shown_in_brief<'t>(&self, text: &'t str) -> Cow<'t, str> {
        // they end where the first section begins
        let first = text.split_once("\n\n").map_or(text.len(), |(first, _)| first.len() + 1);
        self.shown(text.get(..first).unwrap_or(text))
    }

    /// A text as the screen shows it: the words that answer it stand out, if they may.
    pub(crate) fn shown<'t>(&self, text: &'t str) -> Cow<'t, str> {
        if !text.is_empty() && self.is_emphasis_wanted() { emphasised(text).into() } else { text.into() }
    }

    fn is_emphasis_wanted(&self) -> bool {
        match self.color {
            ColorName::Always => true,
            ColorName::Never => false,
            // whoever forces colours into pipes by the environment means other programs
            ColorName::Auto => {
                io::stdout().is_terminal() && AutoStream::choice(&io::stdout()) != ColorChoice::Never
            }
        }
    }
}

/// Sets the words in capitals that begin a text in bold; where it does not begin so, its first line.
///
/// Bold, and no hue: it reads alike for every eye and on every background, and says nothing by itself.
fn emphasised(text: &str) -> String {
    let line = text.lines().next().unwrap_or_default();
    let in_capitals = |word: &str| {
        let word = word.trim_end_matches([',', ':', '.', ';']);
        word.chars().any(char::is_alphabetic) && !word.contains(char::is_lowercase)
    };
    let mut end = 0;
    for word in line.split_inclusive(' ') {
        if !in_capitals(word.trim_end()) {
            break;
        }
        end += word.len();
    }
    let answer = line.get(..end).unwrap_or_default().trim_end_matches([' ', ',', ':', '.', ';']);
    let answer = if answer.is_empty() { line } else { answer };
    let rest = text.get(answer.len()..).unwrap_or_default();
    let bold = Style::new().bold();
    format!("{bold}{answer}{bold:#}{rest}")
}

/// JSON holds everything, or nothing could be found in it.
pub(crate) fn refuse_brief_json(brief: bool, format: Format) -> Result<(), Stop> {
    if brief && format == Format::Json {
        return Err(Stop::Usage("--brief shortens the text; leave it out with --format json".into()));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_stands_out_is_the_answer_and_the_words_stay() {
        for (text, answer) in [
            ("INSIDE by 42 m: Sallow Cove\nRELEASE cod\n", "INSIDE"),
            ("NOT SETTLED: why\n", "NOT SETTLED"),
            ("OUTSIDE, 31 m\n", "OUTSIDE"),
            ("Nothing here is against a rule\nmore\n", "Nothing here is against a rule"),
        ] {
            let shown = emphasised(text);
            assert!(shown.starts_with(&format!("\u{1b}[1m{answer}\u{1b}[0m")), "{shown:?}");
            assert_eq!(shown.replace("\u{1b}[1m", "").replace("\u{1b}[0m", ""), text);
        }
    }
}
