//! Why a fix is answered as it is, as data. The words stand elsewhere.

use jiff::{Timestamp, ZonedDateTime};
use strum::{IntoStaticStr, VariantNames};

use super::WaterStatus;
use crate::coded::coded;
use crate::zone::Slip;
use crate::{DateDoubt, binding, rule};

/// Why the water, a fish or a stand-off is answered as it is. Zones are given by their names.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Reason {
    /// No loaded zone applies; other rules may.
    NoZoneApplies,
    /// Nothing may be taken in a zone.
    ZoneCloses {
        /// The zone.
        zone: String,
    },
    /// The rule of a zone limits what may be taken.
    ZoneRestricts {
        /// The zone.
        zone: String,
        /// Its rule in short.
        rule: rule::RuleSummary,
    },
    /// The rule of a zone restricts nothing; other rules may.
    ZoneRestrictsNothing {
        /// The zone.
        zone: String,
    },
    /// Where a zone lies is not known.
    PlaceUnknown {
        /// The zone.
        zone: String,
        /// Why not, in the words of the zone file.
        why: String,
    },
    /// Where a zone lies is not known, and it may lie near.
    PlaceUnknownNear {
        /// The zone.
        zone: String,
        /// Why not, in the words of the zone file.
        why: String,
        /// The least that it may be off, in metres.
        least_m: f64,
    },
    /// The line of a zone is not known.
    LineUnknown {
        /// The zone.
        zone: String,
    },
    /// The line of a zone is nearer than the doubt is wide.
    LineWithinDoubt {
        /// The zone.
        zone: String,
        /// How far the line is, in metres; negative inside.
        signed_distance_m: f64,
        /// The doubt of that, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// The line of a zone is nearer than the stand-off, or the fix is inside.
    WithinStandoff {
        /// The zone.
        zone: String,
        /// How far the line is, in metres; negative inside.
        signed_distance_m: f64,
        /// The doubt of that, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// Whether a zone's rule is in force is not settled.
    InForceUnsettled {
        /// The zone.
        zone: String,
        /// Why not.
        why: Vec<binding::Reason>,
    },
    /// A zone's rule binds only some ways of fishing, and which this is nobody said.
    AccessUnsaid {
        /// The zone.
        zone: String,
    },
    /// Whether the rule of another zone displaces that of a zone is not settled.
    DisplacementUnsettled {
        /// The zone.
        zone: String,
    },
    /// The water is closed, whichever of several zones the fix is in.
    ClosedWhichever {
        /// The zones.
        zones: Vec<String>,
    },
    /// Nothing may be taken, so not this fish either, whichever of several zones the fix is in.
    NothingWhichever {
        /// The zones.
        zones: Vec<String>,
    },
    /// The fish may not be kept, whichever of several zones the fix is in.
    NotKeptWhichever {
        /// The zones.
        zones: Vec<String>,
    },
    /// The place is far from every zone, and a slip in writing it down would explain that.
    FarFromEveryZone {
        /// How far, in metres.
        distance_m: f64,
        /// The slip.
        slip: Slip,
    },
    /// Latitude 0, longitude 0: what receivers write without a position.
    NullIsland,
    /// No zone is loaded, so nothing is known of any place.
    NothingLoaded,
    /// What a rule says.
    Rule {
        /// That.
        reason: rule::Reason,
    },
}

coded!(Reason, Remedy, Warning, Assumption);

impl From<DateDoubt> for Warning {
    fn from(doubt: DateDoubt) -> Self {
        match doubt {
            DateDoubt::Round { time, later } => Self::WeekCountDoubted { time, later },
            DateDoubt::Year { time } => Self::YearDoubted { time },
        }
    }
}

impl Reason {
    /// Whether it doubts that the position is where the boat is; then nothing is answered about it.
    pub(super) fn doubts_the_position(&self) -> bool {
        matches!(self, Self::FarFromEveryZone { .. } | Self::NullIsland)
    }

    /// Returns the zone that it is about, if it is about one.
    #[must_use]
    pub fn zone(&self) -> Option<&str> {
        match self {
            Self::ZoneCloses { zone }
            | Self::ZoneRestricts { zone, .. }
            | Self::ZoneRestrictsNothing { zone }
            | Self::PlaceUnknown { zone, .. }
            | Self::PlaceUnknownNear { zone, .. }
            | Self::LineUnknown { zone }
            | Self::LineWithinDoubt { zone, .. }
            | Self::WithinStandoff { zone, .. }
            | Self::InForceUnsettled { zone, .. }
            | Self::AccessUnsaid { zone }
            | Self::DisplacementUnsettled { zone } => Some(zone),
            Self::NoZoneApplies
            | Self::ClosedWhichever { .. }
            | Self::NothingWhichever { .. }
            | Self::NotKeptWhichever { .. }
            | Self::FarFromEveryZone { .. }
            | Self::NullIsland
            | Self::NothingLoaded
            | Self::Rule { .. } => None,
        }
    }
}

/// What would settle an open answer about a fix.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Remedy {
    /// A move.
    Move {
        /// How far, in metres.
        distance_m: f64,
        /// In which direction, in degrees from true north.
        bearing_true_deg: f64,
        /// What the water is there.
        water_there: WaterStatus,
    },
    /// A better fix.
    BetterFix {
        /// What its uncertainty may be at most, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// More digits of the position.
    MoreDigits,
    /// A fix at all.
    GetAFix,
    /// Zone files of the waters here.
    LoadZones,
    /// The place was likely meant to be another one.
    WasItMeant {
        /// That place: latitude, north positive.
        latitude_deg: f64,
        /// That place: longitude, east positive.
        longitude_deg: f64,
        /// What went wrong in writing it down.
        slip: Slip,
        /// The zone near there.
        zone: String,
    },
    /// Get the line of a zone.
    GetTheLine {
        /// The zone.
        zone: String,
    },
    /// Find out the datum of a zone.
    FindOutTheDatum {
        /// The zone.
        zone: String,
        /// The part of the doubt that is for it, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// Find out how the edges of a zone run.
    FindOutHowEdgesRun {
        /// The zone.
        zone: String,
        /// How far apart the readings put the line, in metres.
        apart_m: f64,
    },
    /// Get the coast that a side of a zone follows, which nobody has supplied.
    GetTheCoast {
        /// The zone.
        zone: String,
        /// Where the law has the shore, in its words, if the zone file says.
        level: Option<String>,
        /// How far the side may be off without it, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// Write the rule of a zone into its file, which is a draft without one.
    WriteTheRule {
        /// The zone.
        zone: String,
    },
    /// Ask whether a zone's rule is in force.
    AskWhetherInForce {
        /// The zone.
        zone: String,
    },
    /// Say the time.
    SayTheTime {
        /// Why it is not known.
        missing: rule::MissingTime,
    },
    /// Say from where the fishing is.
    SayAccess,
    /// What would settle what a rule leaves open.
    Rule {
        /// That.
        remedy: rule::Remedy,
    },
}

/// What is to be known about the data that an answer rests on.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Warning {
    /// No zones were loaded.
    NoZones,
    /// An accuracy of 0 counts as not given.
    ZeroAccuracy {
        /// What counts in its place, 95 %, in metres.
        uncertainty_95_m: f64,
        /// Whether that was assumed; else it was given.
        is_assumed: bool,
    },
    /// An edition is past the date to which its makers vouch for it.
    EditionExpired {
        /// The path of the zone file.
        path: String,
        /// The edition, if it has a name.
        edition: Option<String>,
        /// That date, in the time of its zone.
        until: ZonedDateTime,
    },
    /// An edition that its makers vouch for not much longer.
    EditionRunsOut {
        /// The path of the zone file.
        path: String,
        /// The edition, if it has a name.
        edition: Option<String>,
        /// When it runs out, in the time of its zone.
        until: ZonedDateTime,
    },
    /// A zone may be changed by notice.
    MayChangeByNotice {
        /// The zone.
        zone: String,
    },
    /// The file does not state the datum of a zone.
    DatumUnstated {
        /// The zone.
        zone: String,
    },
    /// No time was given.
    NoTimeGiven,
    /// The fix is far from every loaded zone, and no slip in writing it down explains that.
    FarFromEveryZone {
        /// How far the nearest one is, in metres.
        distance_m: f64,
    },
    /// The fix is on land by a coast that was supplied, surely.
    OnLand {
        /// The title of the coast, or the path of its file.
        coast: String,
        /// How far inland, in metres.
        inland_m: f64,
    },
    /// The position has so few digits that it may be well off.
    FewDigits {
        /// How far to north or south, in metres.
        north_south_m: f64,
        /// How far to east or west, in metres.
        east_west_m: f64,
        /// Whether that is counted as doubt; else an accuracy was given, which is taken as given.
        is_counted: bool,
    },
    /// The time is so old that the receiver's count of weeks may have started anew; it was left unknown.
    WeekCountDoubted {
        /// The time by that clock.
        time: Timestamp,
        /// What it was if the count has started anew.
        later: Timestamp,
    },
    /// The time is of a year in which nobody has a fix; it was left unknown.
    YearDoubted {
        /// The time as written.
        time: Timestamp,
    },
}

/// A part of an uncertainty that nobody stated.
#[derive(Debug, Clone, Copy, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Assumption {
    /// The accuracy of the fix.
    FixAccuracy {
        /// What counts, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// The datum.
    Datum {
        /// What counts for it, 95 %, in metres.
        uncertainty_95_m: f64,
    },
}

/// A zone whose rule displaces another one's, or may.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Displacing {
    /// Its name.
    pub zone: String,
    /// The clause that says so.
    pub clause: String,
}
