//! What is wrong with a draft, and what the text must still say.

/// Something in a law text that contradicts something else in it, or that cannot be drawn.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
#[expect(missing_docs, reason = "the fields say what the text of the finding says")]
pub enum DraftFinding {
    /// The names of the points do not begin with 1 or A: rows may be lost.
    LabelsStart { line: usize, label: String },
    /// A name is left out between two points: a row may be lost.
    LabelsGap { line: usize, before: String, label: String },
    /// A name comes again, or out of order.
    LabelsRepeat { line: usize, before: String, label: String },
    /// The text counts other corners than it lists.
    CornersDiffer { line: usize, stated: usize, listed: usize },
    /// A side is not as long as the text says.
    LengthDiffers { line: usize, stated: String, stated_m: f64, found_m: f64 },
    /// A side does not run as the text says.
    BearingDiffers { line: usize, stated_deg: f64, found_deg: f64 },
    /// A side along a parallel (or meridian) joins two of them.
    NotAlong { line: usize, parallel: bool },
    /// An end of an arc is not as far from its centre as the text says.
    RadiusDiffers { line: usize, stated: String, stated_m: f64, found_m: f64 },
    /// The area is not what the text says.
    AreaDiffers { line: usize, stated: String, stated_m2: f64, found_m2: f64 },
    /// A point that was read with a doubt.
    PointInDoubt { line: usize, text: String, doubt: String },
    /// A point is printed ten times coarser than the others: a digit may be lost.
    CoarserThanOthers { line: usize, text: String },
    /// The boundary crosses itself. `repairs`: exchanges of two rows that mend it, with the area in m².
    CrossesItself { line: usize, fault: String, repairs: Vec<(String, String, f64)> },
    /// It is no boundary.
    NoBoundary { fault: String },
    /// There is nothing to draw.
    NothingToDraw { points: usize },
    /// An arc without its centre or radius, or of which nobody can tell the way round.
    ArcIncomplete { line: usize, missing: &'static str },
    /// A side with a bearing, and the position it leads to is not given.
    SideWithoutPoint { line: usize },
    /// A box that lacks a side, has one twice, or lies upside down.
    BoxIncomplete { fault: String },
    /// Several datums are named.
    DatumsDiffer { first: String, other: String },
    /// Positions that are read and have no place in the boundary.
    PointsLeftOver { line: usize, text: String },
    /// The file would be refused.
    NotLoadable { fault: String },
    /// What the text says of a side, or of all, does not go together, or belongs to nothing.
    SideUnclear { line: usize, fault: SideFault },
    /// A second zone begins.
    SeveralZones { line: usize },
    /// The row that closes the ring is not where the ring began.
    ClosingDiffers { line: usize, text: String, first: String },
    /// A row without a name among rows that have one.
    LabelMissing { line: usize, text: String },
    /// The last corner is so near the first that it may be the first again, copied wrongly.
    NearlyCloses { line: usize, text: String, found_m: f64 },
    /// A radius whose unit or digits have several readings, and nothing in the text settles which.
    SeveralLengths { line: usize, stated: String, readings_m: Vec<f64> },
    /// Words among the rows that nobody here understands.
    WordsNotUnderstood { line: usize, words: String },
}

/// What is unclear about a side.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum SideFault {
    /// Two lengths, bearings, arcs or ends.
    Twice,
    /// Both a rhumb line and a geodesic.
    BothKinds,
    /// A radius or a circle, and the zone has corners.
    RoundWithCorners,
    /// A way round, and no arc.
    TurnWithoutArc,
    /// A length, bearing, course or shore before the first corner.
    BeforeFirst,
    /// A length or direction beside a circle, or a length beside an arc.
    BesideRound,
}

impl DraftFinding {
    /// Returns the code of this finding for machines.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::LabelsStart { .. } => "labels-start",
            Self::LabelsGap { .. } => "labels-gap",
            Self::LabelsRepeat { .. } => "labels-repeat",
            Self::CornersDiffer { .. } => "corners-differ",
            Self::LengthDiffers { .. } => "length-differs",
            Self::BearingDiffers { .. } => "bearing-differs",
            Self::NotAlong { .. } => "not-along",
            Self::RadiusDiffers { .. } => "radius-differs",
            Self::AreaDiffers { .. } => "area-differs",
            Self::PointInDoubt { .. } => "point-in-doubt",
            Self::CoarserThanOthers { .. } => "coarser-than-others",
            Self::CrossesItself { .. } => "crosses-itself",
            Self::NoBoundary { .. } => "no-boundary",
            Self::NothingToDraw { .. } => "nothing-to-draw",
            Self::ArcIncomplete { .. } => "arc-incomplete",
            Self::SideWithoutPoint { .. } => "side-without-point",
            Self::BoxIncomplete { .. } => "box-incomplete",
            Self::DatumsDiffer { .. } => "datums-differ",
            Self::PointsLeftOver { .. } => "points-left-over",
            Self::NotLoadable { .. } => "not-loadable",
            Self::SideUnclear { .. } => "side-unclear",
            Self::SeveralZones { .. } => "several-zones",
            Self::ClosingDiffers { .. } => "closing-differs",
            Self::LabelMissing { .. } => "label-missing",
            Self::NearlyCloses { .. } => "nearly-closes",
            Self::SeveralLengths { .. } => "several-lengths",
            Self::WordsNotUnderstood { .. } => "words-not-understood",
        }
    }

    /// Whether the text contradicts itself, so that a file is written only where somebody takes the coordinates for right.
    #[must_use]
    pub const fn is_contradiction(&self) -> bool {
        matches!(
            self,
            Self::LabelsStart { .. }
                | Self::LabelsGap { .. }
                | Self::LabelsRepeat { .. }
                | Self::CornersDiffer { .. }
                | Self::LengthDiffers { .. }
                | Self::BearingDiffers { .. }
                | Self::NotAlong { .. }
                | Self::RadiusDiffers { .. }
                | Self::AreaDiffers { .. }
                | Self::LabelMissing { .. }
        )
    }

    /// Whether there is no file in any case.
    #[must_use]
    pub const fn is_fatal(&self) -> bool {
        !self.is_contradiction()
            && !matches!(
                self,
                Self::PointInDoubt { .. }
                    | Self::CoarserThanOthers { .. }
                    | Self::NearlyCloses { .. }
                    | Self::WordsNotUnderstood { .. }
            )
    }
}

/// What the text must still say, or the person who reads it.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub enum Question {
    /// How the sides run.
    Edges,
    /// Which datum the coordinates are in.
    Datum,
    /// Whether the line itself belongs to the zone.
    OnTheLine,
    /// The time zone of dates and hours.
    TimeZone,
    /// What may be taken: the file says nothing may.
    Take,
    /// The name of the law.
    Instrument,
    /// Which way an arc turns; the shorter way was taken.
    ArcTurn {
        /// The line of the text.
        line: usize,
    },
    /// Where the coast runs.
    Coast {
        /// The line of the text.
        line: usize,
    },
    /// How far off "approximately" may be.
    Approximate {
        /// The line of the text.
        line: usize,
        /// The word.
        word: String,
    },
}

impl Question {
    /// Returns the code of this question for machines.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::Edges => "edges",
            Self::Datum => "datum",
            Self::OnTheLine => "on-the-line",
            Self::TimeZone => "time-zone",
            Self::Take => "take",
            Self::Instrument => "instrument",
            Self::ArcTurn { .. } => "arc-turn",
            Self::Coast { .. } => "coast",
            Self::Approximate { .. } => "approximate",
        }
    }
}
