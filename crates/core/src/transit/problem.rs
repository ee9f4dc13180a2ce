//! What can be wrong with two marks, with the line through them or with a position from lines, as data; and what is to be said of a
//! mark by itself, whatever it is used for.

use jiff::Timestamp;
use jiff::civil::Date;
use strum::{IntoStaticStr, VariantNames};

use super::{LineName, Side};
use crate::coded::coded;
use crate::landmark::Landmark;
use crate::magnetic::OutsideMagneticModel;
use crate::rule::Condition;
use crate::zone::Slip;
use crate::{TrueBearing, UncertaintySource};

/// How bad a problem is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, IntoStaticStr)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Severity {
    /// The marks cannot be used so: nothing can be called clear.
    Error,
    /// The marks can mislead.
    Warning,
    /// Worth knowing.
    Note,
}

/// What can be wrong with two marks or the line through them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
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
    /// A mark is far from every zone, and a slip in writing its place down would explain that.
    MarkLikelyMisread,
    /// The line runs over land by the coast supplied.
    LineOverLand,
    /// A mark stands in the water by the coast supplied.
    MarkInWater,
    /// A position is on land by the coast supplied.
    PositionOnLand,
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

/// Something wrong with two marks or the line through them.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Problem {
    /// How bad.
    pub severity: Severity,
    /// What, with its figures.
    pub reason: ProblemReason,
}

impl Problem {
    /// Something because of which the marks cannot be used so.
    pub(super) fn error(reason: ProblemReason) -> Self {
        Self { severity: Severity::Error, reason }
    }

    /// Something that can mislead.
    pub(super) fn warning(reason: ProblemReason) -> Self {
        Self { severity: Severity::Warning, reason }
    }

    /// Something worth knowing.
    pub(super) fn note(reason: ProblemReason) -> Self {
        Self { severity: Severity::Note, reason }
    }

    /// Returns what kind of problem it is.
    #[must_use]
    pub fn code(&self) -> ProblemCode {
        self.reason.problem_code()
    }
}

/// Where marks are to be used, as far as the question says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum PlaceOfUse {
    /// In the working area.
    WorkingArea,
    /// Where the course from the launch crosses the line.
    Course,
}

/// What a boat goes by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum CarriedBy {
    /// The drift.
    Drift,
    /// The heading from the launch.
    Heading,
}

/// What is wrong, with its figures. Marks and zones are given by their names, distances along the line from the front mark.
///
/// Several reasons share one [`ProblemCode`], which says what kind of problem they are.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum ProblemReason {
    /// The marks are used from beyond the rear mark.
    MarksSwapped {
        /// Where they are used.
        place: PlaceOfUse,
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
    },
    /// No zone lies near the stretch, but one does on the far side of the rear mark.
    PerhapsSwapped {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
    },
    /// The marks are used from between them.
    BetweenMarks {
        /// Where they are used.
        place: PlaceOfUse,
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
    },
    /// At the far end the eye never sees the marks open.
    MarksNeverOpen {
        /// How far apart they stand, in metres.
        separation_m: f64,
        /// The far end, in metres.
        far_m: f64,
    },
    /// The places of the marks are not known well enough for how near they stand to each other.
    PlacesTooUncertain {
        /// How far apart they stand, in metres.
        separation_m: f64,
        /// The far end, in metres.
        far_m: f64,
        /// How far off the line may be there at the least, 95 %, in metres.
        line_uncertainty_95_m: f64,
    },
    /// The marks stand less than a third of the way to the far end apart.
    MarksTooClose {
        /// How far apart they stand, in metres.
        separation_m: f64,
        /// The far end, in metres.
        far_m: f64,
        /// How far off the line may be there, 95 %, in metres.
        line_uncertainty_95_m: f64,
    },
    /// Of a pair that was searched for: its places are little known for how near the marks stand to each other.
    PairTooUncertain {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
        /// How far apart they stand, in metres.
        separation_m: f64,
        /// The far end, in metres.
        far_m: f64,
        /// How far off the line may be there, 95 %, in metres.
        line_uncertainty_95_m: f64,
    },
    /// The front mark stands before the rear mark over the whole stretch.
    FrontHidesRear {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
    },
    /// The front mark stands before the rear mark over parts of the stretch.
    FrontHidesRearInPart {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
        /// From where to where, in metres.
        parts_m: Vec<[f64; 2]>,
    },
    /// Of a pair that was searched for: the front mark stands before the rear mark at its ends or in the middle.
    FrontBeforeRear {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
        /// Whether at all three.
        whole_stretch: bool,
    },
    /// A mark is below the horizon over the whole stretch.
    BelowHorizon {
        /// The mark.
        mark: String,
        /// Height of the eye, in metres.
        eye_height_m: f64,
    },
    /// A mark is below the horizon over parts of the stretch.
    BelowHorizonInPart {
        /// The mark.
        mark: String,
        /// Height of the eye, in metres.
        eye_height_m: f64,
        /// From where to where, in metres.
        parts_m: Vec<[f64; 2]>,
    },
    /// A mark is below the horizon from the far end.
    BelowHorizonAtFarEnd {
        /// The mark.
        mark: String,
        /// How far it is from there, in metres.
        distance_m: f64,
    },
    /// The height of a mark is not given, so that nobody can tell whether it shows over horizon and front mark.
    HeightNotGiven {
        /// The mark.
        mark: String,
    },
    /// Of a pair that was searched for: the height of a mark is not given.
    PairHeightNotGiven {
        /// The mark.
        mark: String,
    },
    /// The line crosses a boundary at an angle that shows no place.
    CrossesObliquely {
        /// The zone.
        zone: String,
        /// The angle between line and boundary, in degrees.
        angle_deg: f64,
        /// Where, in metres.
        distance_from_front_m: f64,
    },
    /// The line runs away from the boundary, or towards it.
    RunsObliquely {
        /// The zone.
        zone: String,
        /// The angle between line and boundary, in degrees.
        angle_deg: f64,
        /// How far off the boundary the near end is, in metres; negative inside.
        near_signed_distance_m: f64,
        /// How far off the boundary the far end is, in metres; negative inside.
        far_signed_distance_m: f64,
    },
    /// The boat is carried along the line rather than across it.
    ObliqueToDrift {
        /// By what.
        carried_by: CarriedBy,
        /// Where to.
        #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
        bearing: TrueBearing,
        /// The angle between that and the line, in degrees.
        angle_deg: f64,
    },
    /// The sun stands over the marks.
    SunInTheEyes {
        /// When.
        time: Timestamp,
        /// Where the sun stands.
        #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
        bearing: TrueBearing,
        /// How high, in degrees.
        altitude_deg: f64,
    },
    /// The sun stands straight behind the observer.
    SunBehind {
        /// When.
        time: Timestamp,
        /// Where the sun stands.
        #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
        bearing: TrueBearing,
        /// How high, in degrees.
        altitude_deg: f64,
    },
    /// It is night.
    Dark {
        /// When.
        time: Timestamp,
    },
    /// A mark can move or be taken away.
    MarkMovable {
        /// The mark.
        mark: String,
        /// What its file says about it.
        comment: Option<String>,
    },
    /// Nobody has ever confirmed that a mark stands.
    MarkNeverConfirmed {
        /// The mark.
        mark: String,
    },
    /// Nobody has confirmed for more than a year that a mark stands.
    MarkLongUnconfirmed {
        /// The mark.
        mark: String,
        /// The day somebody last did.
        last_confirmed: Date,
    },
    /// Nobody says how well the place of a mark is known.
    ErrorAssumed {
        /// The mark.
        mark: String,
        /// What is assumed, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// Inside a zone the marks look clear, and in line over more of the working area.
    FalseClear {
        /// Water from which they look clear, in square metres.
        clear_m2: f64,
        /// Water from which they look in line, in square metres.
        in_line_m2: f64,
    },
    /// Over how much of the working area the marks hide a zone could not be worked out.
    HiddenWaterUnknown,
    /// Inside a zone the marks still look in line.
    StillInLine {
        /// Water from which they do, in square metres.
        in_line_m2: f64,
    },
    /// One zone lies on both sides of the line, or straight along it.
    ZoneOnBothSides {
        /// The zone.
        zone: String,
    },
    /// Another zone lies on the other side of the line than the one that the line is for.
    ZoneOnTheOtherSide {
        /// That zone.
        zone: String,
        /// The zone that the line is for.
        than: String,
    },
    /// Of a pair that was searched for: a zone lies on the other side of the line.
    PairHasZoneBeyond {
        /// The zone.
        zone: String,
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
        /// The side to which the rear mark shows where that zone lies.
        rear_shows: Side,
    },
    /// Another zone than the one that the line is for lies across it.
    CutByAnotherZone {
        /// The zone.
        zone: String,
    },
    /// The line of a zone is not known.
    ZoneLineNotKnown {
        /// The zone.
        zone: String,
        /// Why not, in the words of the zone file.
        why: String,
    },
    /// Nobody knows where a zone lies, so that no pair can be said to clear it.
    ZoneAnywhere {
        /// The zone.
        zone: String,
    },
    /// The launch lies inside a zone.
    LaunchInsideZone {
        /// The zone.
        zone: String,
        /// How one may cross it.
        to_cross: Vec<Condition>,
    },
    /// No zone was loaded that counts. An error if the set has no zones at all; a warning if it holds some and none of them
    /// matters to the line ([`TransitReport::zones`](super::TransitReport::zones)).
    NoZoneLoaded,
    /// A mark is far from every zone, and a slip in writing its place down would explain that.
    MarkLikelyMisread {
        /// The mark.
        mark: String,
        /// How far it is from the nearest zone, as written, in metres.
        distance_m: f64,
        /// The slip.
        slip: Slip,
    },
    /// No zone lies near the stretch.
    NoZoneNear {
        /// How far was looked, in metres.
        within_m: f64,
    },
    /// The line is over land all along the stretch, by a coast that was supplied.
    OverLand,
    /// Parts of the stretch are surely over land, by a coast that was supplied. They count as the rest does.
    OverLandInPart {
        /// From where to where, in metres.
        parts_m: Vec<[f64; 2]>,
    },
    /// The stretch, which nobody gave, was made to begin or end at the water: these parts are surely over land.
    LandLeftOut {
        /// From where to where, in metres.
        parts_m: Vec<[f64; 2]>,
    },
    /// A mark that should stand on land is in the water, by every coast that was supplied.
    MarkInWater {
        /// The mark.
        mark: String,
        /// How far it is from the nearest land, in metres.
        distance_m: f64,
    },
    /// A position is on land, by a coast that was supplied.
    PositionOnLand {
        /// How far it is from the water, in metres.
        distance_m: f64,
    },
    /// The time is outside the life of the magnetic model.
    VariationNotKnown {
        /// The time and the model.
        outside: OutsideMagneticModel,
    },
    /// Always: what stands between the observer and the marks is not known.
    TerrainNotChecked,
    /// No two lines of position cut at a good angle.
    CutTooShallow {
        /// The best angle of any two, in degrees.
        angle_of_cut_deg: f64,
        /// What it ought to be at the least, in degrees.
        least_deg: f64,
    },
    /// Three lines of position do not meet within their errors.
    ThreeLinesDisagree,
    /// Lines of position do not meet within their errors.
    LinesDisagree {
        /// The line that is farthest off.
        farthest: LineName,
        /// How far off it is, in its own standard errors.
        residual: f64,
    },
    /// The lines of position also meet elsewhere.
    TwoPositionsFit {
        /// How far from the position taken, in metres.
        distance_m: f64,
        /// Where to from there.
        #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
        bearing: TrueBearing,
        /// Whether the place that was given as near says which is meant.
        told_apart: bool,
    },
    /// The lines of position are curved over the doubt of the position.
    EllipseTooLarge {
        /// The longest standard deviation as a share of the distance to the nearest mark.
        share: f64,
    },
}

impl ProblemReason {
    /// Returns what kind of problem it is.
    #[must_use]
    pub fn problem_code(&self) -> ProblemCode {
        match self {
            Self::MarksSwapped { .. } => ProblemCode::MarksSwapped,
            Self::PerhapsSwapped { .. } => ProblemCode::PerhapsSwapped,
            Self::BetweenMarks { .. } => ProblemCode::BetweenMarks,
            Self::MarksNeverOpen { .. }
            | Self::PlacesTooUncertain { .. }
            | Self::MarksTooClose { .. }
            | Self::PairTooUncertain { .. } => ProblemCode::MarksTooClose,
            Self::FrontHidesRear { .. }
            | Self::FrontHidesRearInPart { .. }
            | Self::FrontBeforeRear { .. } => ProblemCode::FrontHidesRear,
            Self::BelowHorizon { .. }
            | Self::BelowHorizonInPart { .. }
            | Self::BelowHorizonAtFarEnd { .. } => ProblemCode::BelowHorizon,
            Self::HeightNotGiven { .. } | Self::PairHeightNotGiven { .. } => ProblemCode::HeightNotGiven,
            Self::CrossesObliquely { .. } | Self::RunsObliquely { .. } => ProblemCode::ObliqueToBoundary,
            Self::ObliqueToDrift { .. } => ProblemCode::ObliqueToDrift,
            Self::SunInTheEyes { .. } => ProblemCode::SunInTheEyes,
            Self::SunBehind { .. } => ProblemCode::SunBehind,
            Self::Dark { .. } => ProblemCode::Dark,
            Self::MarkMovable { .. } => ProblemCode::MarkMovable,
            Self::MarkNeverConfirmed { .. } | Self::MarkLongUnconfirmed { .. } => {
                ProblemCode::MarkUnconfirmed
            }
            Self::ErrorAssumed { .. } => ProblemCode::ErrorAssumed,
            Self::FalseClear { .. } | Self::StillInLine { .. } | Self::HiddenWaterUnknown => {
                ProblemCode::FalseSafeWater
            }
            Self::ZoneOnBothSides { .. }
            | Self::ZoneOnTheOtherSide { .. }
            | Self::PairHasZoneBeyond { .. } => ProblemCode::ZonesOnBothSides,
            Self::CutByAnotherZone { .. } => ProblemCode::CutByAnotherZone,
            Self::ZoneLineNotKnown { .. } | Self::ZoneAnywhere { .. } => ProblemCode::ZoneLineNotKnown,
            Self::LaunchInsideZone { .. } => ProblemCode::LaunchInsideZone,
            Self::NoZoneLoaded | Self::NoZoneNear { .. } => ProblemCode::NoZoneNear,
            Self::MarkLikelyMisread { .. } => ProblemCode::MarkLikelyMisread,
            Self::OverLand | Self::OverLandInPart { .. } | Self::LandLeftOut { .. } => {
                ProblemCode::LineOverLand
            }
            Self::MarkInWater { .. } => ProblemCode::MarkInWater,
            Self::PositionOnLand { .. } => ProblemCode::PositionOnLand,
            Self::VariationNotKnown { .. } => ProblemCode::VariationNotKnown,
            Self::TerrainNotChecked => ProblemCode::TerrainNotChecked,
            Self::CutTooShallow { .. } => ProblemCode::CutTooShallow,
            Self::ThreeLinesDisagree | Self::LinesDisagree { .. } => ProblemCode::LinesDisagree,
            Self::TwoPositionsFit { .. } => ProblemCode::TwoPositionsFit,
            Self::EllipseTooLarge { .. } => ProblemCode::EllipseTooLarge,
        }
    }
}

coded!(Severity, ProblemCode, PlaceOfUse, CarriedBy, ProblemReason);

/// Marks that nobody has confirmed for longer, in days, may be gone (common practice, no source): a year, a leap year counted.
const CONFIRMED_FOR_DAYS: i32 = 366;

/// Whether nobody has confirmed a mark, or not for long before a day; without a day an old confirmation counts.
pub(super) fn is_unconfirmed(mark: &Landmark, day: Option<Date>) -> bool {
    let Some(last) = mark.last_confirmed else { return true };
    day.is_some_and(|day| (day - last).get_days() > CONFIRMED_FOR_DAYS)
}

/// What is wrong with a mark.
pub(super) fn problems_of(mark: &Landmark, day: Option<Date>) -> Vec<Problem> {
    let mut problems = Vec::new();
    let name = || mark.name.clone();
    if mark.fixed == Some(false) {
        let reason = ProblemReason::MarkMovable { mark: name(), comment: mark.comment.clone() };
        problems.push(Problem::warning(reason));
    }
    if is_unconfirmed(mark, day) {
        problems.push(match mark.last_confirmed {
            None => Problem::note(ProblemReason::MarkNeverConfirmed { mark: name() }),
            Some(last_confirmed) => {
                Problem::warning(ProblemReason::MarkLongUnconfirmed { mark: name(), last_confirmed })
            }
        });
    }
    if mark.position_error_source == UncertaintySource::Assumed {
        let uncertainty_95_m = mark.position_error_95.metres();
        problems.push(Problem::note(ProblemReason::ErrorAssumed { mark: name(), uncertainty_95_m }));
    }
    problems
}
