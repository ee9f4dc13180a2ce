//! Why a text is no position, and what else it may mean.

use std::collections::BTreeSet;
use std::fmt::{self, Write};

use super::parse::{axes, is_one_coordinate, needs_letter, read_position};
use super::place::Shape;
use super::repair;

/// Which of the two coordinates of a position a complaint is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Axis {
    /// North or south of the equator.
    Latitude,
    /// East or west of the prime meridian.
    Longitude,
}

impl Axis {
    pub(super) const fn letters(self) -> [char; 2] {
        match self {
            Self::Latitude => ['N', 'S'],
            Self::Longitude => ['E', 'W'],
        }
    }

    pub(super) const fn other(self) -> Self {
        match self {
            Self::Latitude => Self::Longitude,
            Self::Longitude => Self::Latitude,
        }
    }
}

impl fmt::Display for Axis {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(match self {
            Self::Latitude => "latitude",
            Self::Longitude => "longitude",
        })
    }
}

/// A text that was not read as a position, with the reason and with what it may have meant.
///
/// The text form names the offending piece, says how to mend it, and ends with the readings where there are some.
/// A reading is an offer: nothing was chosen.
///
/// # Examples
///
/// ```
/// use takeline::{ParsePositionErrorKind, Position};
/// let error = Position::parse("45°60.0'N 030°07.3'W").unwrap_err();
/// assert!(matches!(error.kind(), ParsePositionErrorKind::SixtyOrMore { .. }));
/// assert_eq!(error.readings(), ["46°00.0′N, 030°07.3′W"]);
/// ```
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ParsePositionError {
    kind: ParsePositionErrorKind,
    readings: Vec<String>,
}

impl ParsePositionError {
    pub(super) const fn new(kind: ParsePositionErrorKind, readings: Vec<String>) -> Self {
        Self { kind, readings }
    }

    /// Returns the reason for the refusal.
    #[must_use]
    pub const fn kind(&self) -> &ParsePositionErrorKind {
        &self.kind
    }

    /// Returns what the text may have meant, each in a form that reads without doubt; often empty.
    #[must_use]
    pub fn readings(&self) -> &[String] {
        &self.readings
    }
}

impl fmt::Display for ParsePositionError {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        // pieces come from the text: an unprintable character must not reach a terminal
        for character in self.kind.to_string().chars() {
            match character {
                '\'' | '"' | '\\' => f.write_char(character)?,
                _ => write!(f, "{}", character.escape_debug())?,
            }
        }
        let mut lead = "; it may mean ";
        for reading in &self.readings {
            write!(f, "{lead}“{reading}”")?;
            lead = " or ";
        }
        Ok(())
    }
}

impl std::error::Error for ParsePositionError {}

/// Why a text was not read as a position. Every `piece` is copied from the text.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
#[expect(
    missing_docs,
    reason = "the fields say what the text of the error says: the piece, the axis, the part"
)]
pub enum ParsePositionErrorKind {
    /// Nothing but blanks.
    #[error("the text is empty; write a position such as 45°07.05′N 030°07.30′W")]
    Empty,
    /// More text than any position needs.
    #[error("the text is longer than {limit} characters; give one position at a time")]
    TooLong { limit: usize },
    /// A character that no position is written with.
    #[error("“{piece}” cannot be part of a position; take it out")]
    UnknownCharacter { piece: String },
    /// A word that no position is written with.
    #[error(
        "“{piece}” is not understood in a position; use N, S, E, W, deg, min, sec, latitude or longitude"
    )]
    UnknownWord { piece: String },
    /// An `s` that may be a plural, the mark of seconds or the south.
    #[error(
        "the s of “{piece}” may be a plural, a mark of seconds or south; write ′ or ″, and S with a space before it"
    )]
    SecondsOrSouth { piece: String },
    /// A number with a power of ten, such as 4.5e1.
    #[error(
        "“{piece}” looks like a power of ten; write the number out, or put a space beside the E for east"
    )]
    Exponent { piece: String },
    /// A point that belongs to no number, or may belong to two.
    #[error(
        "it is not clear which number the point at “{piece}” belongs to; write it between two digits, as in 0.5 or 07.05′"
    )]
    StrayPoint { piece: String },
    /// Two points in one number.
    #[error("“{piece}” has two points; mark degrees and minutes with ° and ′")]
    TwoPoints { piece: String },
    /// A sign that stands apart from its number.
    #[error("there is a gap between the sign at “{piece}” and the number; remove it, or use N, S, E or W")]
    DetachedSign { piece: String },
    /// A sign inside a coordinate: before minutes or seconds, or between two digits.
    #[error(
        "the sign at “{piece}” stands inside a coordinate; it belongs before the degrees, with a space or comma before it"
    )]
    SignInside { piece: String },
    /// A corrupted mark that may stand for more than one thing.
    #[error("“{piece}” has a mark that could mean several things; write °, ′ or ″")]
    UnreadableMark { piece: String },
    /// Marks that do not run degrees, minutes, seconds.
    #[error(
        "the mark at “{piece}” is out of order; degrees (°) come first, then minutes (′), then seconds (″)"
    )]
    MarkOutOfTurn { piece: String },
    /// A decimal point in degrees that minutes follow, or in minutes that seconds follow.
    #[error(
        "“{piece}” has decimals but is not the last number of its coordinate; only the last may have them"
    )]
    DecimalsBeforeLast { piece: String },
    /// Minutes or seconds that reach the next degree or minute.
    #[error("the {part} “{piece}” are 60 or more; they must be below 60")]
    SixtyOrMore { part: &'static str, piece: String },
    /// Minutes or seconds written with three or more whole digits.
    #[error("the {part} “{piece}” have more than two whole digits; write them with two")]
    TooManyDigits { part: &'static str, piece: String },
    /// Degrees and minutes run together without a mark.
    #[error("“{piece}” may be degrees and minutes run together; separate them, as in 28°30′")]
    RunTogether { piece: String },
    /// A coordinate that no place has.
    #[error("{axis} “{piece}” is outside {range}{hint}")]
    OutOfRange { axis: Axis, piece: String, range: &'static str, hint: String },
    /// Two hemispheres, or two words for the axis, on one coordinate.
    #[error("“{piece}” names two hemispheres; keep one")]
    TwoHemispheres { piece: String },
    /// A sign beside a hemisphere letter.
    #[error("“{piece}” has both a sign and a hemisphere; keep one")]
    SignAndHemisphere { piece: String },
    /// East or west on a latitude, north or south on a longitude.
    #[error("“{piece}” has a hemisphere that a {axis} cannot have; a {axis} is {} or {}", .axis.letters()[0], .axis.letters()[1], axis = .axis)]
    WrongHemisphere { piece: String, axis: Axis },
    /// No hemisphere where one is needed: the sign convention cannot be taken for granted.
    #[error("“{piece}” has no hemisphere; write {} or {} after it", .axis.letters()[0], .axis.letters()[1])]
    MissingHemisphere { piece: String, axis: Axis },
    /// Two coordinates of one kind.
    #[error("“{piece}” is a second {axis}; a position is one latitude and one longitude")]
    TwoOfAKind { piece: String, axis: Axis },
    /// One coordinate where two are needed.
    #[error("“{piece}” is only one coordinate; a position is a latitude and a longitude")]
    OnlyOne { piece: String },
    /// Numbers that could be cut into two coordinates in more than one way.
    #[error(
        "“{piece}” can be read in more than one way; mark the degrees with ° or put a comma and a space between the two coordinates"
    )]
    Ambiguous { piece: String },
    /// A piece that fits into no coordinate.
    #[error("“{piece}” is not one coordinate; write degrees, minutes and seconds once, with one hemisphere")]
    NotACoordinate { piece: String },
    /// Numbers without marks whose count does not fall into two coordinates of one form.
    #[error(
        "“{piece}” has {count} numbers, which do not split into a latitude and a longitude of the same form; mark the degrees with ° and add N, S, E or W"
    )]
    Uneven { piece: String, count: usize },
    /// Pieces that are not two coordinates.
    #[error("“{piece}” is not one latitude and one longitude; write them as in 45°07.05′N 030°07.30′W")]
    NotAPair { piece: String },
    /// No number at all.
    #[error("“{piece}” has no numbers; write a position such as 45°07.05′N 030°07.30′W")]
    NoNumber { piece: String },
    /// Read, but with a doubt, where no doubt is taken.
    #[error("{warning}; write it so that it can be read in only one way")]
    ReadWithDoubt { warning: PositionWarning },
}

impl ParsePositionErrorKind {
    /// How much a complaint tells: of several ways to cut a text, the one that got furthest is reported.
    #[expect(clippy::wildcard_enum_match_arm, reason = "all but the seven named weigh the same")]
    pub(super) const fn weight(&self) -> u8 {
        match self {
            Self::NotACoordinate { .. } | Self::NoNumber { .. } => 0,
            Self::TwoHemispheres { .. } | Self::SignInside { .. } => 1,
            Self::MarkOutOfTurn { .. } | Self::DecimalsBeforeLast { .. } | Self::Uneven { .. } => 2,
            Self::MissingHemisphere { .. } => 3,
            _ => 4,
        }
    }
}

/// Something that was read, but with a doubt the reader should see.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum PositionWarning {
    /// A minutes or seconds mark on what can only be decimal degrees, as in `120.60483 ″ W` (printed in a federal text).
    #[error("“{piece}” is decimal degrees with a mark of seconds; it was read as degrees")]
    SecondsMarkOnDegrees {
        /// The number with its mark.
        piece: String,
    },
    /// Seconds without their mark directly behind the mark of minutes, as in `24′21 N`: some texts print 24.21
    /// minutes as `24′.21`, and a lost point leaves the same.
    #[error("“{piece}” was read as minutes and seconds; it may be decimal minutes that lost their point")]
    SecondsWithoutMark {
        /// The minutes and seconds.
        piece: String,
    },
    /// One coordinate has a letter and the other a sign.
    #[error("“{piece}” has a sign where the other coordinate has a letter; the sign was used")]
    SignBesideLetter {
        /// The coordinate with the sign.
        piece: String,
    },
}

/// More readings than a person would compare.
const MOST_READINGS: usize = 8;

/// A refusal that still holds the shapes, so that readings can be offered.
#[derive(Debug)]
pub(super) struct Refusal {
    pub(super) kind: ParsePositionErrorKind,
    pub(super) offers: Vec<String>,
    pub(super) shapes: Option<Box<(Shape, Shape)>>,
}

impl Refusal {
    pub(super) fn of_pair(kind: ParsePositionErrorKind, first: Shape, second: Shape) -> Self {
        Self { kind, offers: Vec::new(), shapes: Some(Box::new((first, second))) }
    }

    /// Adds the readings that themselves read without a doubt.
    ///
    /// `text` is the whole text of a pair, from which a reading may be made; empty for a single coordinate.
    pub(super) fn into_error(self, text: &str) -> ParsePositionError {
        let mut offers = self.offers;
        if matches!(self.kind, ParsePositionErrorKind::SignInside { .. }) {
            offers.extend(with_separator_before_sign(text));
        }
        if let Some(shapes) = &self.shapes {
            let (first, second) = shapes.as_ref();
            offers.extend(pair_readings(first, second));
            if matches!(self.kind, ParsePositionErrorKind::OutOfRange { .. })
                && first.axis().is_none()
                && second.axis().is_none()
            {
                offers.extend(pair_readings(second, first));
            }
        }
        let mut seen = BTreeSet::new();
        let readable = |offer: &String| {
            read_position(offer).is_ok_and(|parsed| parsed.warnings.is_empty()) || is_one_coordinate(offer)
        };
        offers.retain(|offer| seen.insert(offer.clone()) && readable(offer));
        offers.truncate(MOST_READINGS);
        ParsePositionError::new(self.kind, offers)
    }
}

impl From<ParsePositionErrorKind> for Refusal {
    fn from(kind: ParsePositionErrorKind) -> Self {
        Self { kind, offers: Vec::new(), shapes: None }
    }
}

/// The readings of two coordinates together.
fn pair_readings(first: &Shape, second: &Shape) -> Vec<String> {
    let (first_axis, second_axis) = axes(first, second);
    let letters = [first, second].iter().any(|shape| !shape.hemispheres.is_empty());
    let needs = |shape: &Shape, other: &Shape| letters || (needs_letter(shape) && other.sign.is_none());
    let each = |shape: &Shape, axis: Axis, other: &Shape| {
        repair::readings(shape, axis, needs(shape, other) || repair::is_run_together(shape))
    };
    let seconds = each(second, second_axis, first);
    each(first, first_axis, second)
        .iter()
        .flat_map(|first| seconds.iter().map(move |second| format!("{first}, {second}")))
        .collect()
}

/// `45.1-30.1` with a comma before every sign that stands inside.
fn with_separator_before_sign(text: &str) -> Option<String> {
    let inner = text.char_indices().skip(1).find(|(_, character)| matches!(character, '-' | '−' | '–'))?;
    let (left, right) = text.split_at_checked(inner.0)?;
    Some(format!("{left}, {right}"))
}
