//! What a track shows of a visit, and why rules bound a boat and what became of its fish, as values: words are made of them
//! elsewhere.

use jiff::Timestamp;
use strum::{IntoStaticStr, VariantNames};

use super::{BagNote, Certainty};
use crate::coded::{coded, takes_up};
use crate::{assess, binding, rule};

/// How the boat moved during a part of a visit, or what a time at an end of the log was taken for; never what for.
#[derive(Debug, Clone, Copy, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")
)]
#[non_exhaustive]
pub enum Motion {
    /// Slower than a boat under way.
    Slow {
        /// The speed that it stayed below, in knots.
        below_kn: f64,
        /// For how long, in seconds.
        duration_s: f64,
    },
    /// Under way.
    Steady {
        /// The mean speed, in knots.
        speed_kn: f64,
        /// For how long, in seconds.
        duration_s: f64,
    },
    /// Slow for so long that it looks like drifting with a line down, and like resting: an inference, not a fact.
    LooksLikeDriftOrRest {
        /// The speed that it stayed below, in knots.
        below_kn: f64,
        /// For how long at least that has to be, in seconds.
        least_s: f64,
    },
    /// The log had begun, and tells no place to believe before the first fix.
    NoPlaceBeforeFirstFix {
        /// For how long, in seconds.
        duration_s: f64,
        /// The top speed within which the boat may have been anywhere, in knots.
        top_speed_kn: f64,
    },
    /// The log goes on, and tells no place to believe after the last fix.
    NoPlaceAfterLastFix {
        /// For how long, in seconds.
        duration_s: f64,
        /// The top speed within which the boat may have been anywhere, in knots.
        top_speed_kn: f64,
    },
    /// The end of the log repeats one place: the boat lay there, or the receiver stood still.
    RepeatsOnePlace {
        /// For how long, in seconds.
        duration_s: f64,
    },
}

/// Why a condition of crossing was met, or not, or why that is not known.
#[derive(Debug, Clone, Copy, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")
)]
#[non_exhaustive]
pub enum ConditionReason {
    /// So long the boat was slower than the least speed.
    SlowerFor {
        /// In seconds.
        duration_s: f64,
    },
    /// So long was the longest stop.
    LongestStop {
        /// In seconds.
        duration_s: f64,
    },
    /// The boat was perhaps never inside.
    InsideNotSettled,
    /// Not all of the way was logged.
    NotAllLogged,
    /// The rule perhaps did not bind the boat.
    BindingNotSettled,
    /// A track does not show it.
    NotShownByTrack,
}

/// Why a visit or a catch is answered as it is.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")
)]
#[non_exhaustive]
pub enum Reason {
    /// What a rule says.
    Rule {
        /// That.
        reason: rule::Reason,
    },
    /// Why a rule is in force or not.
    InForce {
        /// That.
        reason: binding::Reason,
    },
    /// What the answer about a fix says.
    Fix {
        /// That.
        reason: assess::Reason,
    },
    /// The rule came into force or went out of it while the visit went on.
    RuleChanged,
    /// The rule of another zone displaces this one's, or may.
    Displaced {
        /// Its name and the clause that says so.
        by: assess::Displacing,
        /// Whether it surely does.
        is_sure: bool,
    },
    /// The fish was carried into a zone.
    CarriedInto {
        /// The zone's name.
        zone: String,
        /// From when the rule spoke of it; none if nothing says when.
        entered: Option<Timestamp>,
        /// Whether the boat was inside for sure.
        certainty: Certainty,
        /// What the rule says of it.
        because: Vec<Reason>,
    },
    /// The fish counts against a bag.
    CountsAgainstBag {
        /// How.
        note: BagNote,
    },
    /// The row's own 0, 0 is no position: receivers write it without a fix.
    RowAtNullIsland,
    /// The row's position contradicts its track: one of the two is wrong. How far apart they are, and where, is left to whoever
    /// knows which places are withheld: a few such distances give a place away.
    ContradictsTrack {
        /// The most that doubts and top speed allow between the two, in metres.
        reach_m: f64,
        /// That speed, in knots.
        top_speed_kn: f64,
    },
    /// The row has neither a time nor a position.
    NeitherTimeNorPosition,
    /// The track tells no position at the row's time.
    NoPosition {
        /// Why it does not.
        why: NoPosition,
    },
    /// A limit lies within the error of the length.
    LengthNearLimit {
        /// The length, in centimetres.
        length_cm: f64,
        /// How far a measure may be off, in centimetres.
        error_cm: f64,
    },
    /// The boat was inside for sure; whether the zone's rule bound it there and then is open.
    BindingUnsettled {
        /// The zone's name.
        zone: String,
    },
    /// The log is of several boats, and nothing says which of them had the fish aboard.
    SeveralBoats,
    /// The row does not say whether the fish was kept.
    KeptUnsaid,
    /// Nothing says whether the boat was in the zone before the catch or after it.
    BeforeOrAfterUnknown,
    /// The boat was perhaps never inside.
    PerhapsNeverInside,
}

/// Why a track tells no position at the time of a catch.
#[derive(Debug, Clone, Copy, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")
)]
#[non_exhaustive]
pub enum NoPosition {
    /// The only fixes about that time cannot be believed.
    OnlySuspectFixes,
    /// The boat cannot have gone from the fix before to the fix after.
    FixesTooFarApart,
    /// Nothing was logged for longer than positions are taken from the way between two fixes.
    NothingLogged {
        /// The time between the two fixes, in seconds.
        gap_s: f64,
        /// The fix before.
        from: Timestamp,
        /// The fix after.
        to: Timestamp,
        /// Up to so many seconds between two fixes a position is taken from the way between them.
        within_s: f64,
    },
    /// The track ends before.
    TrackEnded {
        /// So many seconds before.
        before_s: f64,
    },
    /// The track begins after.
    TrackBegins {
        /// So many seconds after.
        after_s: f64,
    },
    /// The track has no fix with a time, or none that is for sure this boat's.
    NoTimedFix,
}

/// What a log leaves open about how many fish count against a bag limit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum BagUnknown {
    /// On which day the fish was caught: the row has no time.
    Day,
    /// Who caught it: the row does not say, and others do.
    Person,
    /// Fish kept that day that are not in the log.
    OthersOfTheDay,
    /// Fish kept on the trip that are not in the log; a local day is taken for a trip.
    OthersOfTheTrip,
    /// Fish kept on other days, and whether earlier fish of the log were still aboard.
    StillAboard,
}

/// What would settle an open answer about a catch.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")
)]
#[non_exhaustive]
pub enum Remedy {
    /// What would settle what a rule leaves open.
    Rule {
        /// That.
        remedy: rule::Remedy,
    },
    /// What would settle the answer about a fix.
    Fix {
        /// That.
        remedy: assess::Remedy,
    },
    /// Find out whether the row or its track is right, and mend the row.
    MendTheRow,
    /// Say when or where it was caught.
    SayWhenOrWhere,
    /// Say where it was caught.
    SayWhere,
    /// Measure it again, more closely.
    MeasureAgain,
    /// Say of every row what was kept, when, and by whom.
    SayWhatWasKept,
    /// Say whether it was kept.
    SayWhetherKept,
    /// Give the log of the boat that it was aboard alone.
    GiveLogOfThatBoat,
}

takes_up!(Reason: Rule { reason: rule::Reason }, InForce { reason: binding::Reason }, Fix { reason: assess::Reason });
takes_up!(Remedy: Rule { remedy: rule::Remedy }, Fix { remedy: assess::Remedy });
coded!(Motion, ConditionReason, Reason, NoPosition, BagUnknown, Remedy);
