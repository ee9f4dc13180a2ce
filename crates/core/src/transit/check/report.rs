//! The values that the answer about a range line is made of.

use std::sync::Arc;

use strum::{IntoStaticStr, VariantNames};

use crate::coded::{coded, takes_up};
use crate::magnetic::{MagneticVariation, OutsideMagneticModel};
use crate::transit::{CompassPoint, Problem, ProblemReason, RangeLine, Side, TransitQuestion, ViewedWater};
use crate::zone::{Proofread, Source, ZoneFile, ZoneId};
use crate::{Arcminutes, MagneticBearing, Metres, Position, SideKind, Tristate, TrueBearing};

/// The whole answer about one range line.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct TransitReport {
    /// The line.
    pub line: RangeLine,
    /// What was asked.
    pub question: TransitQuestion,
    /// True bearing of the marks from the middle of the stretch.
    #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
    pub bearing: TrueBearing,
    /// Magnetic bearing and variation there; none without a time, an error outside the model's life.
    pub magnetic: Option<Result<Magnetic, OutsideMagneticModel>>,
    /// Zones that matter, the one with the least margin first: every zone that the stretch meets, that lies within
    /// [`crate::transit::NEAR_M`] of it or that it may enter for all that is known, and one that is nearest. Zones that lie
    /// in the working area only count in [`Self::water`].
    pub zones: Vec<ZoneOnLine>,
    /// Whether somebody who keeps the marks in line stays outside every zone, the doubt counted.
    pub clears: Tristate,
    /// Why not, or why undecided.
    pub clears_because: Vec<ClearsReason>,
    /// To which side the marks open on the zone's side of the line.
    pub opens: Option<Opens>,
    /// What eye and marks make of the line at its near end, middle and far end.
    pub sensitivity: Vec<Sensitivity>,
    /// The water of the working area, by zone and by look of the marks; none if no side is the zone's.
    pub water: Option<ViewedWater>,
    /// What is wrong with the marks or the line, the worst first.
    pub problems: Vec<Problem>,
}

/// Why a line does not keep clear, or why that is undecided. Zones are given by their names, distances along the line from the
/// front mark.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum ClearsReason {
    /// The line of a zone is not known.
    LineNotKnown {
        /// The zone.
        zone: String,
    },
    /// The line surely enters a zone.
    Enters {
        /// The zone.
        zone: String,
        /// Where, in metres.
        distance_from_front_m: f64,
        /// What the boundary is there: over a shore no boat comes in.
        side: SideKind,
    },
    /// The line surely runs inside a zone.
    RunsInside {
        /// The zone.
        zone: String,
        /// The distance to its boundary at the worst place, in metres; negative inside.
        signed_distance_m: f64,
        /// The doubt of that, 95 %, in metres.
        uncertainty_95_m: f64,
        /// Where that is, in metres.
        distance_from_front_m: f64,
    },
    /// The boundary of a zone is nearer than the doubt is wide, on either side.
    WithinDoubt {
        /// The zone.
        zone: String,
        /// The distance to its boundary at the worst place, in metres; negative inside.
        signed_distance_m: f64,
        /// The doubt of that, 95 %, in metres.
        uncertainty_95_m: f64,
        /// Where that is, in metres.
        distance_from_front_m: f64,
        /// What the boundary is where it is nearest.
        side: SideKind,
    },
    /// Something is wrong with the marks, so that nothing is called clear.
    Problem {
        /// What.
        problem: ProblemReason,
    },
}

takes_up!(ClearsReason: Problem { problem: ProblemReason });

/// A bearing off the compass, deviation not counted.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Magnetic {
    /// The bearing from magnetic north.
    #[cfg_attr(feature = "serde", serde(rename = "bearing_magnetic_deg"))]
    pub bearing: MagneticBearing,
    /// What lies between it and the true bearing.
    pub variation: MagneticVariation,
}

/// One zone with respect to the stretch.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ZoneOnLine {
    /// Its place in the set.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub zone_number: usize,
    /// Identifier.
    pub id: ZoneId,
    /// Its name.
    pub name: String,
    /// Whether the stretch keeps outside, the doubt counted.
    pub clears: Tristate,
    /// The point of the stretch with the least margin: signed distance less doubt. None if the zone's line is not known.
    pub worst: Option<LinePoint>,
    /// The point of the stretch with the least signed distance.
    pub closest: Option<LinePoint>,
    /// The near end.
    pub near: Option<LinePoint>,
    /// The middle.
    pub middle: Option<LinePoint>,
    /// The far end.
    pub far: Option<LinePoint>,
    /// Where the stretch enters, leaves or touches it, from near to far.
    pub meetings: Vec<Meeting>,
    /// The side on which its boundary lies beside the stretch, as seen from the nearest points; none if that changes, if it
    /// lies straight ahead, astern or underfoot, or if its line is not known. [`Opens`] says which side can be relied on.
    #[cfg_attr(feature = "serde", serde(rename = "rear_shows_inside"))]
    pub inside: Option<Side>,
    /// Whether its rule is in force at the time asked about; undecided without a time, unless it is always in force.
    pub in_force: Tristate,
    /// Where its rule comes from.
    pub source: Source,
    /// Who read the zone against the printed law, if anybody did.
    pub proofread: Option<Proofread>,
    /// The file it was read from.
    #[cfg_attr(feature = "serde", serde(rename = "zone_file"))]
    pub file: Arc<ZoneFile>,
}

/// A point of the stretch with respect to one zone.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct LinePoint {
    /// Distance from the front mark.
    #[cfg_attr(feature = "serde", serde(rename = "distance_from_front_m"))]
    pub distance_from_front: Metres,
    /// Where that is.
    pub position: Position,
    /// Distance to the nearest point of the zone's boundary, negative inside.
    #[cfg_attr(feature = "serde", serde(rename = "signed_distance_m"))]
    pub signed_distance: Metres,
    /// 95 % uncertainty of it: marks, zone line and datum in quadrature; the eye's offset, half the reading gap, and the most
    /// that any arc of the zone misses its circle by, added.
    #[cfg_attr(feature = "serde", serde(rename = "uncertainty_95_m"))]
    pub uncertainty_95: Metres,
    /// The nearest point of the boundary.
    pub nearest: Position,
    /// What the boundary is there.
    pub nearest_side: SideKind,
}

impl LinePoint {
    /// Signed distance less doubt, in metres: above zero is surely outside.
    #[must_use]
    pub fn margin(&self) -> Metres {
        Metres::computed(self.signed_distance.metres() - self.uncertainty_95.metres())
    }
}

/// What a stretch does where it meets a zone's boundary, seen going seaward.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Meets {
    /// From outside to inside.
    Enters,
    /// From inside to outside.
    Leaves,
    /// Comes to the boundary and goes back.
    Touches,
}

/// Where a stretch meets a zone's boundary.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Meeting {
    /// What it does.
    pub what: Meets,
    /// Distance from the front mark.
    #[cfg_attr(feature = "serde", serde(rename = "distance_from_front_m"))]
    pub distance_from_front: Metres,
    /// Where that is.
    pub position: Position,
    /// Angle between line and boundary there, 0 to 90 degrees.
    pub angle_deg: f64,
    /// What the boundary is there.
    pub side: SideKind,
}

/// How the marks look inside the zone that decides.
///
/// There is none where that zone has water of the working area on both sides of a line that keeps out of it. Another zone
/// on the other side does not take it away: that is told as a problem, with the area from which the marks mislead.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Opens {
    /// Which of [`TransitReport::zones`].
    pub zone: usize,
    /// The side to which the rear mark shows inside.
    pub rear_shows: Side,
    /// The direction in which the zone lies off the line.
    pub zone_lies: CompassPoint,
}

/// How sharply the marks show the line at one distance, and how far it may be off.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Sensitivity {
    /// Distance from the front mark.
    #[cfg_attr(feature = "serde", serde(rename = "distance_from_front_m"))]
    pub distance_from_front: Metres,
    /// Where that is.
    pub position: Position,
    /// Minutes of arc that the marks open for each metre off the line.
    pub arcmin_per_m: Arcminutes,
    /// Distance off the line at which the eye sees it; none: it never does.
    #[cfg_attr(feature = "serde", serde(rename = "offset_at_threshold_m"))]
    pub offset_at_threshold: Option<Metres>,
    /// How far the marks' places put the line off, 95 %.
    #[cfg_attr(feature = "serde", serde(rename = "line_uncertainty_95_m"))]
    pub line_uncertainty_95: Metres,
    /// Seconds until the drift has carried the boat so far off; none: it never does.
    #[cfg_attr(feature = "serde", serde(rename = "seconds_at_drift"))]
    pub seconds_to_threshold: Option<f64>,
    /// Whether the rear mark shows above the front mark; none without both heights.
    pub rear_above_front: Option<bool>,
    /// How far the rear mark's top shows above the front mark's; none without both heights.
    #[cfg_attr(feature = "serde", serde(rename = "rear_over_front_arcmin"))]
    pub rear_over_front: Option<Arcminutes>,
}

coded!(ClearsReason, Meets);
