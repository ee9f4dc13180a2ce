use jiff::civil::Date;

use crate::Tristate;

/// Who read a zone against the printed law, and when.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Proofread {
    /// Names or initials; at least one.
    pub by: Vec<String>,
    /// The day they did.
    pub on: Date,
    /// The edition of the law that they read it against, in their words.
    pub against: Option<String>,
    /// Whether the zone is still what they read; undecided where the record does not keep what it was.
    pub unchanged: Tristate,
}
