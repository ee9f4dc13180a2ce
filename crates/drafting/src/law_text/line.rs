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
}

impl SideWords {
    /// Whether it says nothing.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        *self == Self { line: self.line, bearing_step_deg: self.bearing_step_deg, ..Self::default() }
    }
}

/// A length as printed.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Quantity {
    /// As printed.
    pub text: String,
    /// In metres.
    pub metres: f64,
    /// Half of its last digit, in metres.
    pub half_digit_m: f64,
}

/// A unit of areas.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AreaUnit {
    /// Square kilometres.
    SquareKilometres,
    /// Square nautical miles.
    SquareNauticalMiles,
    /// Square (statute) miles.
    SquareMiles,
    /// Hectares.
    Hectares,
    /// Acres.
    Acres,
    /// Square metres.
    SquareMetres,
}

impl AreaUnit {
    /// How many square metres it is: the nautical mile of 1852 m, the statute mile of 1609.344 m, the acre of 4046.8564224 m².
    #[must_use]
    pub const fn square_metres(self) -> f64 {
        match self {
            Self::SquareKilometres => 1.0e6,
            Self::SquareNauticalMiles => 1_852.0 * 1_852.0,
            Self::SquareMiles => 1_609.344 * 1_609.344,
            Self::Hectares => 1.0e4,
            Self::Acres => 4_046.856_422_4,
            Self::SquareMetres => 1.0,
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
        /// In m².
        m2: f64,
        /// Half of its last digit, in m².
        half_digit_m2: f64,
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
