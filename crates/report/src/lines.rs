//! Lines that fit a narrow screen, and text from elsewhere made sanitised to a terminal.

use std::borrow::Cow;

pub(crate) use takeline::sanitised::line as sanitised;
use textwrap::core::display_width;
use textwrap::{WordSeparator, WordSplitter};

/// The narrowest screen that is laid out for; narrower ones get this width.
pub(crate) const NARROWEST: usize = 20;

/// Holds a number and its unit together while lines are wrapped; printed as a plain space.
const NO_BREAK_SPACE: char = '\u{a0}';

/// Text under construction, wrapped to one width.
#[derive(Debug)]
pub(crate) struct Page {
    width: usize,
    text: String,
}

impl Page {
    pub(crate) fn new(width: usize) -> Self {
        Self { width: width.max(NARROWEST), text: String::new() }
    }

    /// Adds one line: the first candidate that fits, else the last one cut to fit.
    pub(crate) fn fitted(&mut self, candidates: &[String]) {
        let line = fit(self.width, candidates);
        self.text.push_str(&line);
        self.text.push('\n');
    }

    /// Adds a paragraph, wrapped; lines after the first are set in by two more than `indent`.
    pub(crate) fn paragraph(&mut self, indent: &str, text: &str) {
        let hanging = format!("{indent}  ");
        // a hyphen belongs to a name, an id or a date and is no place to break
        let options = textwrap::Options::new(self.width)
            .initial_indent(indent)
            .subsequent_indent(&hanging)
            .word_splitter(WordSplitter::NoHyphenation)
            .word_separator(WordSeparator::AsciiSpace);
        let wrapped = textwrap::fill(&sanitised(text), options);
        self.text.push_str(&wrapped.replace(NO_BREAK_SPACE, " "));
        self.text.push('\n');
    }

    /// Adds `label: text`, wrapped.
    pub(crate) fn field(&mut self, label: &str, text: &str) {
        self.paragraph("  ", &format!("{label}: {text}"));
    }

    /// Adds `label: text` for each text.
    pub(crate) fn fields(&mut self, label: &str, texts: &[String]) {
        for text in texts {
            self.field(label, text);
        }
    }

    /// Adds an empty line and a heading.
    pub(crate) fn heading(&mut self, text: &str) {
        self.text.push('\n');
        self.paragraph("", text);
    }

    pub(crate) fn finish(self) -> String {
        self.text
    }
}

/// How many lines a paragraph takes.
pub(crate) fn lines_of(width: usize, text: &str) -> usize {
    let mut page = Page::new(width);
    page.paragraph("", text);
    page.finish().lines().count()
}

/// Returns the first candidate that is no wider than `width`, else the last one cut to fit.
pub(crate) fn fit(width: usize, candidates: &[String]) -> String {
    let fitting = candidates.iter().map(|text| sanitised(text)).find(|text| display_width(text) <= width);
    let last = || cut(width, &sanitised(candidates.last().map_or("", String::as_str)));
    fitting.map_or_else(last, Cow::into_owned).replace(NO_BREAK_SPACE, " ")
}

pub(crate) fn cut(width: usize, text: &str) -> String {
    let mut kept = String::new();
    let mut columns = 0;
    for letter in text.chars() {
        columns += display_width(letter.encode_utf8(&mut [0; 4]));
        if columns >= width {
            break;
        }
        kept.push(letter);
    }
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_cannot_drive_the_terminal_or_break_a_line() {
        assert_eq!(sanitised("cod\u{1b}[2J\nbass\u{202e}"), "cod\u{fffd}[2J bass\u{fffd}");
    }

    #[test]
    fn the_longest_candidate_that_fits_is_taken_else_the_last_is_cut() {
        let candidates = ["RELEASE cod: a long reason".to_owned(), "RELEASE cod".to_owned()];
        assert_eq!(fit(40, &candidates), "RELEASE cod: a long reason");
        assert_eq!(fit(12, &candidates), "RELEASE cod");
        assert_eq!(fit(10, &candidates), "RELEASE c…");
    }
}
