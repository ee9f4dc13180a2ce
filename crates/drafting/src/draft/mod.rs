//! From the text of a law to a zone file: what was found in the text, what contradicts itself, what it must still say, and the
//! file where nothing is in the way.

mod draft_zone;
mod finding;
mod outline;
mod stated;
mod write;

#[cfg(test)]
mod draft_tests;
#[cfg(test)]
mod nasty_tests;
#[cfg(test)]
mod wording_tests;

pub use draft_zone::{Draft, DraftRequest, draft};
pub use finding::{DraftFinding, Question, SideFault};
