//! What people read: the words for every reason, condition, remedy and warning that the library gives as data.
//!
//! [`Words`] has a method for each kind. The provided ones are English; another language is one more file, with a type of its
//! own that implements those it has words for. Methods ask `self` for the parts of a sentence, so that a part in another
//! language is met wherever it stands. One file here holds the English of each subject.

mod assess;
mod calibration;
#[cfg(test)]
mod codes_tests;
mod first_lines;
mod here;
mod in_short;
mod language;
mod rules;
mod seasons;
mod track;
#[cfg(test)]
mod track_language_tests;
mod transit;
#[cfg(test)]
mod transit_tests;
mod ways;
#[cfg(test)]
mod words_tests;

pub use here::{FieldPhrase, FishPhrase, Heading, Label, PlacePhrase, Rest, WaterPhrase, take_answer_word};
pub(crate) use here::{answer, at};
pub use language::{English, EnglishIn, Words};
pub(crate) use language::{Spoken, each, joined};
pub(crate) use track::visits::instant;
pub use transit::EyeSentence;
pub use ways::{WayPhrase, WayWords};
