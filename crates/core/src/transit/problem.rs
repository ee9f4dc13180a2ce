/// How bad a problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Severity {
    /// The marks cannot be used so: nothing can be called clear.
    Error,
    /// The marks can mislead.
    Warning,
    /// Worth knowing.
    Note,
}

impl Severity {
    /// Returns the word.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Error => "error",
            Self::Warning => "warning",
            Self::Note => "note",
        }
    }
}

/// What can be wrong with two marks or the line through them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum ProblemCode {
    /// The observer is nearer to the rear mark than to the front mark.
    MarksSwapped,
    /// The zones lie on the other side of the marks.
    PerhapsSwapped,
    /// The launch or the working area lies between the marks.
    BetweenMarks,
    /// The marks are so near to each other that their errors turn the line by much more than the eye sees.
    MarksTooClose,
    /// The front mark stands before the rear mark over part of the stretch.
    FrontHidesRear,
    /// A mark is below the horizon over part of the stretch.
    BelowHorizon,
    /// The line meets a boundary, or leaves it, at an angle that shows no limit.
    ObliqueToBoundary,
    /// The boat is carried along the line rather than across it.
    ObliqueToDrift,
    /// The sun stands over the marks.
    SunInTheEyes,
    /// The sun stands behind the observer.
    SunBehind,
    /// It is night then.
    Dark,
    /// A mark can move or be taken away.
    MarkMovable,
    /// Nobody has confirmed a mark for long, or ever.
    MarkUnconfirmed,
    /// A height is not given.
    HeightNotGiven,
    /// The place of a mark is only assumed to be known so well.
    ErrorAssumed,
    /// Inside a zone the marks look clear, or in line still.
    FalseSafeWater,
    /// Zones lie on both sides of the line.
    ZonesOnBothSides,
    /// Another zone than the one the line is for lies across it.
    CutByAnotherZone,
    /// A zone's line is not known.
    ZoneLineNotKnown,
    /// The launch is inside a zone.
    LaunchInsideZone,
    /// No zone lies near the line.
    NoZoneNear,
    /// The variation is not known then.
    VariationNotKnown,
    /// Always: what stands between is not known.
    TerrainNotChecked,
    /// No two lines of position cut at 30 degrees or more.
    CutTooShallow,
    /// Lines of position do not meet within their errors.
    LinesDisagree,
    /// The lines of position meet at more than one place.
    TwoPositionsFit,
    /// The doubt of a position is so large that an ellipse describes it badly.
    EllipseTooLarge,
}

impl ProblemCode {
    /// Returns the word for machines; never changed, only added to.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::MarksSwapped => "marks-swapped",
            Self::PerhapsSwapped => "perhaps-swapped",
            Self::BetweenMarks => "between-marks",
            Self::MarksTooClose => "marks-too-close",
            Self::FrontHidesRear => "front-hides-rear",
            Self::BelowHorizon => "below-horizon",
            Self::ObliqueToBoundary => "oblique-to-boundary",
            Self::ObliqueToDrift => "oblique-to-drift",
            Self::SunInTheEyes => "sun-in-the-eyes",
            Self::SunBehind => "sun-behind",
            Self::Dark => "dark",
            Self::MarkMovable => "mark-movable",
            Self::MarkUnconfirmed => "mark-unconfirmed",
            Self::HeightNotGiven => "height-not-given",
            Self::ErrorAssumed => "error-assumed",
            Self::FalseSafeWater => "false-safe-water",
            Self::ZonesOnBothSides => "zones-on-both-sides",
            Self::CutByAnotherZone => "cut-by-another-zone",
            Self::ZoneLineNotKnown => "zone-line-not-known",
            Self::LaunchInsideZone => "launch-inside-zone",
            Self::NoZoneNear => "no-zone-near",
            Self::VariationNotKnown => "variation-not-known",
            Self::TerrainNotChecked => "terrain-not-checked",
            Self::CutTooShallow => "cut-too-shallow",
            Self::LinesDisagree => "lines-disagree",
            Self::TwoPositionsFit => "two-positions-fit",
            Self::EllipseTooLarge => "ellipse-too-large",
        }
    }
}

/// Something wrong with two marks or the line through them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Problem {
    /// What.
    pub code: ProblemCode,
    /// How bad.
    pub severity: Severity,
    /// One or two sentences for people, with figures.
    pub text: String,
}
