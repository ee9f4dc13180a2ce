//! The values an assessment is made of.

use std::ops::Deref;
use std::sync::Arc;

use super::{Assumption, Displacing, NoWayOut, OnHeading, Reason, Remedy, Warning, WayHome, WayOut};
use crate::rule::{Allowance, Condition};
use crate::zone::{Misreading, ZoneSummary};
use crate::{Fix, Located, Metres, Position, SideKind, Tristate, TrueBearing, binding};

/// On which side of a zone's line a fix is, its doubt counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum Containment {
    /// Inside by more than the doubt, or on a line that belongs to the zone without any doubt.
    Inside,
    /// Outside by more than the doubt.
    Outside,
    /// The line is nearer than the doubt is wide, or the zone's line is not known here.
    Undecided,
}

impl From<Containment> for Tristate {
    /// Whether the fix is inside.
    fn from(side: Containment) -> Self {
        match side {
            Containment::Inside => Self::Yes,
            Containment::Outside => Self::No,
            Containment::Undecided => Self::Undecided,
        }
    }
}

/// What the water here is under, all zones taken together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum WaterStatus {
    /// Inside a zone in force where nothing may be taken.
    Closed,
    /// Inside a zone in force that allows some things and not others.
    #[cfg_attr(feature = "serde", serde(rename = "limited"))]
    Restricted,
    /// No loaded zone applies, or only such whose rules restrict nothing. Other rules may.
    #[cfg_attr(feature = "serde", serde(rename = "no-loaded-zone"))]
    Unzoned,
    /// What is known does not settle it.
    Undecided,
}

/// How the edges of a zone may be read where its text does not say.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ReadingGap {
    /// How far the readings put the nearest line apart, here.
    #[cfg_attr(feature = "serde", serde(rename = "gap_m"))]
    pub gap: Metres,
    /// Whether they disagree about the side.
    pub sides_differ: bool,
}

/// The nearest point of a zone's boundary.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct NearestPoint {
    /// The point.
    #[cfg_attr(feature = "serde", serde(flatten))]
    pub position: Position,
    /// True bearing from the fix to it.
    #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
    pub bearing: TrueBearing,
}

/// What the nearest side of a zone is.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct NearestSide {
    /// What it is.
    #[cfg_attr(feature = "serde", serde(rename = "side"))]
    pub kind: SideKind,
    /// Where the law has the shore, in its words.
    pub level: Option<Arc<str>>,
}

/// The nearest point of the sides of a zone that a boat can cross.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct CrossablePoint {
    /// How far it is, negative from inside.
    #[cfg_attr(feature = "serde", serde(rename = "signed_distance_m"))]
    pub signed_distance: Metres,
    /// The point.
    #[cfg_attr(feature = "serde", serde(flatten))]
    pub position: Position,
    /// True bearing from the fix to it.
    #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
    pub bearing: TrueBearing,
}

impl From<Located> for CrossablePoint {
    /// Of what [`Boundary::locate_crossable`](crate::Boundary::locate_crossable) says.
    fn from(located: Located) -> Self {
        let Located { signed_distance, nearest, bearing, .. } = located;
        Self { signed_distance, position: nearest, bearing }
    }
}

/// What one zone says about a fix. Of the zone itself it has what [`ZoneSummary`] has: `finding.name`, `finding.source`.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ZoneFinding {
    /// What is said of the zone wherever the fix is.
    #[cfg_attr(feature = "serde", serde(flatten))]
    pub zone: Arc<ZoneSummary>,
    /// The side the fix is on.
    pub containment: Containment,
    /// Whether the fix lies on the line to within the accuracy of the geometry.
    pub on_the_line: bool,
    /// Distance to the nearest point of the boundary, negative inside; none if the line is not known.
    #[cfg_attr(feature = "serde", serde(rename = "signed_distance_m"))]
    pub signed_distance: Option<Metres>,
    /// 95 % uncertainty of that distance: fix, line and datum in quadrature, half the reading gap added.
    #[cfg_attr(feature = "serde", serde(rename = "uncertainty_95_m"))]
    pub uncertainty_95: Metres,
    /// Its parts that were assumed.
    pub assumed: Vec<Assumption>,
    /// Probability that the true position is inside, for normal errors; none if the line is not known.
    pub inside_probability: Option<f64>,
    /// Nearest point of the boundary; none if the line is not known.
    pub nearest: Option<NearestPoint>,
    /// What the side there is: a boat does not cross a shore.
    pub nearest_side: Option<NearestSide>,
    /// Nearest point of the sides that a boat can cross; none if it can cross none, or the line is not known.
    pub crossable: Option<CrossablePoint>,
    /// What the readings of unstated edges make of it, if any edge is unstated and the gap exceeds 10 cm.
    pub reading_gap: Option<ReadingGap>,
    /// Whether its rule is in force at the time of the fix.
    pub in_force: Tristate,
    /// Why, and until when if the rule has seasons.
    pub in_force_because: Vec<binding::Reason>,
    /// Whether its rule binds the access asked about.
    pub access: Tristate,
    /// Whether the rule of another zone displaces this one's here.
    pub displaced: Tristate,
    /// Whether its rule binds: inside, in force, for this access, and not displaced.
    pub binds: Tristate,
    /// Zones whose rules displace this one's here; where there is any, this one does not bind.
    pub displaced_by: Vec<Displacing>,
    /// Zones whose rules may displace this one's here; while that is open it may bind or not.
    pub perhaps_displaced_by: Vec<Displacing>,
}

/// A finding reads as what is said of its zone.
impl Deref for ZoneFinding {
    type Target = ZoneSummary;

    fn deref(&self) -> &ZoneSummary {
        &self.zone
    }
}

/// The answer about a fish.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum TakeAnswer {
    /// The loaded rules let it be kept, under the conditions listed.
    Keep,
    /// It has to go back.
    Release,
    /// Not settled: do not keep it.
    Undecided,
    /// No loaded zone applies here, so the loaded rules say nothing about it.
    #[cfg_attr(feature = "serde", serde(rename = "no-loaded-zone"))]
    Unzoned,
}

/// What may be done with one fish.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct TakeFinding {
    /// The name as typed.
    pub asked: String,
    /// The answer.
    pub answer: TakeAnswer,
    /// Why.
    pub because: Vec<Reason>,
    /// What has to be met for it.
    pub conditions: Vec<Condition>,
    /// What would settle it.
    pub settle: Vec<Remedy>,
    /// Of a fish that has to go back: the names of the zones whose rules surely refuse it, each by itself.
    pub refused_by: Vec<String>,
    /// Of a fish that has to go back on the border of several zones: the names of those of which one or another holds the
    /// place, and each refuses it.
    pub refused_by_one_of: Vec<String>,
    /// Whether the fish may be aboard here if it was caught elsewhere.
    pub possession: Tristate,
    /// Why.
    pub possession_because: Vec<Reason>,
    /// What has to be met for it.
    pub possession_conditions: Vec<Condition>,
    /// The limits of all zones together.
    pub within: Allowance,
    /// Other limits under which it may be kept as well: to keep to one of these, or to `within`, is enough.
    pub otherwise: Vec<Allowance>,
    /// The way to where it may be kept, if it may not here and the question asks for ways out.
    pub way_to_keep: Option<WayOut>,
}

/// A move that settles an undecided side; verified by asking again there.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ClearingMove {
    /// How far.
    #[cfg_attr(feature = "serde", serde(rename = "distance_m"))]
    pub distance: Metres,
    /// In which direction.
    #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
    pub bearing: TrueBearing,
    /// Where that is.
    #[cfg_attr(feature = "serde", serde(flatten))]
    pub to: Position,
    /// What the water is there.
    pub water_there: WaterStatus,
}

/// The whole answer about one fix.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Assessment {
    /// The fix.
    pub fix: Fix,
    /// What the water is under.
    pub water: WaterStatus,
    /// Why.
    pub water_because: Vec<Reason>,
    /// Zones, nearest line first.
    pub zones: Vec<ZoneFinding>,
    /// One entry per fish asked about.
    pub take: Vec<TakeFinding>,
    /// Where to go for a sure answer, if the side is undecided.
    pub settling_move: Option<ClearingMove>,
    /// What would settle an undecided answer, the move included.
    pub settle: Vec<Remedy>,
    /// What to try before any move, where somebody who knows how the position came about says so; it is one of `settle`.
    pub settle_first: Option<Remedy>,
    /// Whether the asked stand-off is kept; none if none was asked.
    pub standoff_kept: Option<Tristate>,
    /// Why the stand-off is not kept or not settled, one reason for each zone; empty where it is kept or none was asked.
    pub standoff_because: Vec<Reason>,
    /// What the place was likely meant to be, where it is far from every zone and a slip explains it; the water and every
    /// fish are then undecided.
    pub misreading: Option<Misreading>,
    /// Where every place that the fix may mean lies in one or another of several closed zones, and none of them surely holds it:
    /// the places of those in `zones`. The water is then closed, whichever of them the boat is in.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub closed_by_one_of: Vec<usize>,
    /// Whether a way out was looked for.
    pub looked_for_way_out: bool,
    /// The way out, if the question asks for it and the water is not free of zones.
    pub way_out: Option<WayOut>,
    /// Why there is none, where there is something to get out of.
    pub no_way_out: Option<NoWayOut>,
    /// What lies along the bow, if the question gives a heading; none of a place that was likely not meant.
    pub on_heading: Option<OnHeading>,
    /// The straight way home, if the question gives a place; none from one that was likely not meant.
    pub way_home: Option<WayHome>,
    /// Warnings about the data: expired editions, changes by notice.
    pub warnings: Vec<Warning>,
}
