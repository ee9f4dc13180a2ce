//! Why a source is refused.

use std::fmt;

/// The most faults that are kept; the rest is only counted.
const MOST_FAULTS: usize = 100;

/// Everything that keeps a source from becoming a zone file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ImportError {
    /// What the source is called.
    pub label: String,
    /// What is wrong, in the order of the source, at most 100.
    pub faults: Vec<ImportFault>,
    /// How many more there are.
    pub more: usize,
}

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ImportFault {
    /// Where: "feature 3", "line 12"; empty for the whole source.
    pub place: String,
    /// What is wrong, with the value that is.
    pub text: String,
    /// How to mend it.
    pub mend: String,
}

impl ImportFault {
    pub(super) fn at(place: &str, text: impl Into<String>, mend: impl Into<String>) -> Self {
        Self { place: place.to_owned(), text: text.into(), mend: mend.into() }
    }

    pub(super) fn whole(text: impl Into<String>, mend: impl Into<String>) -> Self {
        Self::at("", text, mend)
    }
}

impl ImportError {
    pub(super) fn of(label: &str, mut faults: Vec<ImportFault>) -> Self {
        let more = faults.len().saturating_sub(MOST_FAULTS);
        faults.truncate(MOST_FAULTS);
        Self { label: label.to_owned(), faults, more }
    }
}

impl fmt::Display for ImportFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.place.is_empty() {
            write!(f, "{}: ", self.place)?;
        }
        write!(f, "{}", self.text)?;
        if self.mend.is_empty() { Ok(()) } else { write!(f, "\n  {}", self.mend) }
    }
}

impl fmt::Display for ImportError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (at, fault) in self.faults.iter().enumerate() {
            let newline = if at == 0 { "" } else { "\n" };
            write!(f, "{newline}{}: {fault}", self.label)?;
        }
        if self.more > 0 {
            write!(f, "\n{}: {} more faults are not listed", self.label, self.more)?;
        }
        Ok(())
    }
}

impl std::error::Error for ImportError {}
