//! Looks a landmark up by its id or name.

use std::fmt;

use super::LoadedLandmarks;
use crate::Position;
use crate::geojson_text::{nearest, shown_text};
use crate::landmark::{Landmark, LandmarkId};
use crate::rule::folded;

/// How many suggestions or ids a message gives.
const SHOWN: usize = 8;
/// Shorter texts are part of too many names.
const LEAST_PART: usize = 3;

/// No landmark, or more than one, is called as was asked.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum LandmarkNotFound {
    /// None has that id or name.
    Unknown {
        /// What was asked for.
        asked: String,
        /// Those whose id or name is like it, the likest first. None of them is taken unasked.
        near: Vec<NearLandmark>,
        /// The first ids of the file, for where none is like it.
        first: Vec<LandmarkId>,
        /// How many landmarks the file has.
        of: usize,
    },
    /// Several have that name, or ids that differ in case only.
    Ambiguous {
        /// What was asked for.
        asked: String,
        /// Their ids, in file order.
        ids: Vec<LandmarkId>,
    },
}

/// A landmark that may have been meant.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NearLandmark {
    /// Its id.
    pub id: LandmarkId,
    /// Its name.
    pub name: String,
}

impl std::error::Error for LandmarkNotFound {}

impl fmt::Display for LandmarkNotFound {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Unknown { asked, near, first, of } => {
                write!(f, "no landmark has the id or name {}; ", shown_text(asked))?;
                if near.is_empty() {
                    let rest = of.saturating_sub(first.len());
                    let more = if rest > 0 { format!(" and {rest} more") } else { String::new() };
                    return write!(f, "the file has {}{more}", ids_listed(first));
                }
                let near: Vec<String> = near.iter().map(NearLandmark::to_string).collect();
                write!(f, "did you mean {}?", near.join(" or "))
            }
            Self::Ambiguous { asked, ids } => {
                let name = shown_text(asked);
                write!(
                    f,
                    "{} landmarks are called {name}; give the id of the one you mean: {}",
                    ids.len(),
                    ids_listed(ids)
                )
            }
        }
    }
}

impl fmt::Display for NearLandmark {
    /// Writes `"chapel" (Marrowick Chapel)`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", shown_text(&self.id.0))?;
        if self.name == self.id.0 { Ok(()) } else { write!(f, " ({})", self.name) }
    }
}

fn ids_listed(ids: &[LandmarkId]) -> String {
    let rest = ids.len().saturating_sub(SHOWN);
    let more = if rest > 0 { format!(" and {rest} more") } else { String::new() };
    let shown: Vec<String> = ids.iter().take(SHOWN).map(|id| shown_text(&id.0)).collect();
    format!("{}{more}", shown.join(", "))
}

impl LoadedLandmarks {
    /// Looks a landmark up: by its id first, then by its name, ignoring case and surrounding blanks; where none is called so,
    /// by either, ignoring accents, hyphens and blanks too ("day beacon" for `day-beacon`).
    ///
    /// # Errors
    ///
    /// [`LandmarkNotFound`] with what may have been meant if none is called so, and with the ids if several are.
    ///
    /// # Examples
    ///
    /// See [`read`](super::read()).
    pub fn find(&self, asked: &str) -> Result<&Landmark, LandmarkNotFound> {
        let asked = asked.trim();
        if let Some(exact) = self.landmarks.iter().find(|landmark| landmark.id.0 == asked) {
            return Ok(exact);
        }
        let lower = asked.to_lowercase();
        let by_id = self.all(|landmark| landmark.id.0.to_lowercase() == lower);
        let found =
            if by_id.is_empty() { self.all(|landmark| landmark.name.to_lowercase() == lower) } else { by_id };
        let found = if found.is_empty() { self.called_alike(asked) } else { found };
        match found.as_slice() {
            [] => Err(self.unknown(asked)),
            [one] => Ok(one),
            several => Err(LandmarkNotFound::Ambiguous {
                asked: asked.to_owned(),
                ids: several.iter().map(|landmark| landmark.id.clone()).collect(),
            }),
        }
    }

    /// Those whose id or name is the same but for accents, hyphens, spaces and other marks.
    fn called_alike(&self, asked: &str) -> Vec<&Landmark> {
        // of a position every sign counts
        if Position::parse(asked).is_ok() {
            return Vec::new();
        }
        let asked = plain(asked);
        if asked.is_empty() {
            return Vec::new();
        }
        self.all(|landmark| plain(&landmark.id.0) == asked || plain(&landmark.name) == asked)
    }

    fn all(&self, called: impl Fn(&Landmark) -> bool) -> Vec<&Landmark> {
        self.landmarks.iter().filter(|landmark| called(landmark)).collect()
    }

    fn unknown(&self, asked: &str) -> LandmarkNotFound {
        LandmarkNotFound::Unknown {
            near: self.near(asked),
            first: self.landmarks.iter().take(SHOWN).map(|landmark| landmark.id.clone()).collect(),
            of: self.landmarks.len(),
            asked: asked.to_owned(),
        }
    }

    /// Those with a slip of the pen first, then those that have what was asked as a part of their name.
    fn near(&self, asked: &str) -> Vec<NearLandmark> {
        const SUGGESTED: usize = 3;
        let texts = self.landmarks.iter().flat_map(|landmark| {
            [Called { text: &landmark.id.0, landmark }, Called { text: &landmark.name, landmark }]
        });
        let slips = nearest(asked, texts).into_iter().map(|called| called.landmark);
        let lower = asked.to_lowercase();
        let has_part = |text: &str| lower.len() >= LEAST_PART && text.to_lowercase().contains(&lower);
        let parts =
            self.landmarks.iter().filter(|landmark| has_part(&landmark.id.0) || has_part(&landmark.name));
        let mut found: Vec<NearLandmark> = Vec::new();
        for landmark in slips.chain(parts) {
            if found.len() < SUGGESTED && !found.iter().any(|near| near.id == landmark.id) {
                found.push(NearLandmark { id: landmark.id.clone(), name: landmark.name.clone() });
            }
        }
        found
    }
}

/// A name as it is compared last: without case, accents, hyphens, blanks and other marks. What stands between two digits stays
/// a gap, so that 12 is not taken for 1-2.
fn plain(name: &str) -> String {
    let mut plain = String::new();
    for word in name.split(|letter: char| !letter.is_alphanumeric() && !is_combining(letter)) {
        let word = folded(word);
        let is_digit = |letter: Option<char>| letter.is_some_and(|letter| letter.is_ascii_digit());
        if is_digit(plain.chars().next_back()) && is_digit(word.chars().next()) {
            plain.push(' ');
        }
        plain.push_str(&word);
    }
    plain
}

/// Whether a sign is an accent of the letter before it (Unicode block Combining Diacritical Marks).
fn is_combining(letter: char) -> bool {
    ('\u{300}'..='\u{36f}').contains(&letter)
}

/// An id or name, with the landmark that has it.
struct Called<'l> {
    text: &'l str,
    landmark: &'l Landmark,
}

impl AsRef<str> for Called<'_> {
    fn as_ref(&self) -> &str {
        self.text
    }
}
