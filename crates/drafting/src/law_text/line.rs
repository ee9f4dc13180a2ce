//! What is found in a law text.

use takeline::{Position, PrintedPrecision};

/// A law text, read.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
pub struct LawText {
    /// Every line, in order.
    pub lines: Vec<Line>,
    /// What the lines hold, in the order of the text.
    pub pieces: Vec<Piece>,
}

/// One line and what came of it.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Line {
    /// Counted from 1.
    pub number: usize,
    /// As it was given.
    pub text: String,
    /// What came of it.
    pub outcome: Outcome,
    /// Words among or beside its positions that nobody here understands.
    pub unknown: Vec<String>,
}

/// What came of a line.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Outcome {
    /// It is empty.
    Blank,
    /// It was read: points, sides, statements or a heading.
    Read,
    /// It holds no numbers and was not read as coordinates.
    Words,
    /// It holds numbers, none of which looks like a coordinate: look at them.
    WordsWithNumbers,
    /// It looks like coordinates and was not read.
    Refused {
        /// Why, and how to mend it.
        reason: String,
        /// What it may mean; nothing was chosen.
        readings: Vec<String>,
    },
    /// It holds something that may change the shape and is not understood: no file is made of the text.
    NotUnderstood {
        /// The words or the number.
        words: String,
        /// What they may be.
        gap: Gap,
    },
}

impl Outcome {
    /// Whether the line keeps a file from being written.
    #[must_use]
    pub const fn is_refused(&self) -> bool {
        matches!(self, Self::Refused { .. } | Self::NotUnderstood { .. })
    }
}

/// What words that are not understood may do to a shape.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Gap {
    /// A number that is no coordinate, quantity, bearing or count.
    Number,
    /// A word of shape, side, extent or direction.
    Shape,
    /// A second zone, or a second list, begins.
    Another,
    /// A corner whose place is given in words, or as a grid reference.
    Corner,
    /// Words between the rows of a list, which may be a corner or the heading of another list.
    Between,
}

/// Something that a line holds.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Piece {
    /// A position.
    Point(PrintedPoint),
    /// A parallel or meridian that bounds a box.
    Bound(Bound),
    /// What is said of the side between the point before it and the one after it.
    Side(SideWords),
    /// What is said of the whole.
    Statement(Statement),
}

impl Piece {
    /// Returns what it says of the whole.
    pub(crate) const fn statement(&self) -> Option<&Statement> {
        if let Self::Statement(statement) = self { Some(statement) } else { None }
    }

    /// Returns the position.
    pub(crate) const fn point(&self) -> Option<&PrintedPoint> {
        if let Self::Point(point) = self { Some(point) } else { None }
    }

    /// Returns the line it was read from, counted from 1.
    #[must_use]
    pub const fn line(&self) -> usize {
        match self {
            Self::Point(point) => point.line,
            Self::Bound(bound) => bound.line,
            Self::Side(side) => side.line,
            Self::Statement(
                Statement::Area { line, .. }
                | Statement::Corners { line, .. }
                | Statement::Datum { line, .. }
                | Statement::Approximate { line, .. },
            ) => *line,
        }
    }
}

/// A position as it was read.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct PrintedPoint {
    /// The line it was read from; of a latitude and a longitude on a line each, the first.
    pub line: usize,
    /// The text of the position by itself: [`Position::parse`] reads the same position from it.
    pub text: String,
    /// What the law calls the point.
    pub label: Option<String>,
    /// Where it is.
    pub position: Position,
    /// Half of the last printed digit.
    pub precision: PrintedPrecision,
    /// What was read with a doubt.
    pub doubts: Vec<String>,
    /// What the text uses it for.
    pub role: Role,
}

/// What a text uses a position for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Role {
    /// A corner of the boundary.
    Vertex,
    /// The centre of a circle or an arc.
    Centre,
}

/// One of the four lines about a box.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Bound {
    /// The line it was read from.
    pub line: usize,
    /// The side of the box that it is: `N`, `S`, `E` or `W`.
    pub side: char,
    /// The latitude or longitude as printed.
    pub text: String,
}

/// What a text says of a side.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
#[expect(
    clippy::struct_excessive_bools,
    reason = "each is one thing that a text may say, and several may be said"
)]
pub struct SideWords {
    /// The line it was read from.
    pub line: usize,
    /// "rhumb line", or a line that is one: a parallel, a meridian.
    pub rhumb: bool,
    /// "geodesic", "great circle".
    pub geodesic: bool,
    /// "along the parallel", "along the meridian": `true` for the parallel.
    pub parallel: Option<bool>,
    /// The true bearing, in degrees: also "due east".
    pub bearing_deg: Option<f64>,
    /// How many digits of a degree the bearing is printed to: 1 for whole degrees, 0.1 for tenths.
    pub bearing_step_deg: f64,
    /// The length.
    pub distance: Option<Quantity>,
    /// "arc": part of a circle.
    pub arc: bool,
    /// "circle": all of it.
    pub circle: bool,
    /// Radius of an arc or circle.
    pub radius: Option<Quantity>,
    /// `true`: clockwise.
    pub clockwise: Option<bool>,
    /// Where the text has the shore: "mean high water", "shore".
    pub shore: Option<String>,
    /// Roughly where it leads, in degrees: "westerly", "in a north-easterly direction".
    pub towards_deg: Option<f64>,
    /// It is said of all sides: "all lines are rhumb lines".
    pub of_all: bool,
    /// How often a side begins in these words: "thence".
    pub legs: usize,
    /// The corner it leads to, where it is named instead of given: empty for "the point of beginning".
    pub returns: Option<String>,
    /// The words are of a heading or of prose, not beside a position.
    pub apart: bool,
    /// Something is said twice.
    pub twice: bool,
}

impl SideWords {
    /// Whether it says nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let (line, bearing_step_deg, apart) = (self.line, self.bearing_step_deg, self.apart);
        *self == Self { line, bearing_step_deg, apart, ..Self::default() }
    }
}

/// A length as printed.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Quantity {
    /// As printed.
    pub text: String,
    /// In metres; of several readings, the first.
    pub metres: f64,
    /// Half of its last digit, in metres.
    pub half_digit_m: f64,
    /// Everything it may mean, in metres: a mile of the sea or of the land, 1,852 with a decimal comma or with thousands.
    pub readings_m: Vec<f64>,
}

impl Quantity {
    /// The reading that is nearest to a length, in metres.
    pub(crate) fn nearest_m(&self, found_m: f64) -> f64 {
        let off = |one: &&f64| (*one - found_m).abs();
        self.readings_m
            .iter()
            .min_by(|one, other| off(one).total_cmp(&off(other)))
            .copied()
            .unwrap_or(self.metres)
    }

    /// The same with one reading, so many times as long.
    pub(crate) fn settled(&self, metres: f64, times: f64) -> Self {
        let metres = metres * times;
        Self {
            text: self.text.clone(),
            metres,
            half_digit_m: self.half_digit_m * times,
            readings_m: vec![metres],
        }
    }
}

impl Statement {
    /// The line of an "approximately", and the word.
    pub(crate) fn approximate(&self) -> Option<(usize, &str)> {
        if let Self::Approximate { line, word } = self { Some((*line, word)) } else { None }
    }
}

/// What a text says of the whole.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Statement {
    /// An area.
    Area {
        /// The line it was read from.
        line: usize,
        /// As printed.
        text: String,
        /// Everything it may mean, in m², each with half of its last digit; never empty.
        readings_m2: Vec<(f64, f64)>,
    },
    /// How many corners or points there are.
    Corners {
        /// The line it was read from.
        line: usize,
        /// How many.
        count: usize,
    },
    /// The datum, as printed.
    Datum {
        /// The line it was read from.
        line: usize,
        /// Its name.
        name: String,
    },
    /// "approximately", "generally", "near".
    Approximate {
        /// The line it was read from.
        line: usize,
        /// The word.
        word: String,
    },
}
