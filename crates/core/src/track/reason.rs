//! What a track shows as values with codes, of which words are made elsewhere: how sure and from what a visit is known, how a boat
//! moved, why a fix is suspect, why rules bound a boat, what became of its fish, and what would settle it.

use jiff::Timestamp;
use jiff::civil::Date;
use strum::{IntoStaticStr, VariantNames};

use crate::coded::{coded, takes_up};
use crate::rule::Bag;
use crate::zone::ZoneId;
use crate::{Metres, assess, binding, rule};

/// How sure it is that the boat was inside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Certainty {
    /// Inside by less than the doubt, or only perhaps inside while nothing was logged.
    Possible,
    /// Inside by more than the doubt.
    Certain,
}

/// What a visit is known from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Evidence {
    /// Only that the boat could have been there in a gap of the log.
    Gap,
    /// The way between two fixes that lie outside: the straight one goes through the zone, or the boat can have left it so
    /// far ([`super::Visit::off_the_way`]).
    BetweenFixes,
    /// At least one fix.
    Fixes,
}

/// Which way the boat went over the line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Direction {
    /// From outside to inside.
    In,
    /// From inside to outside.
    Out,
}

/// Why a fix is left out of what is certain; it stays in the output.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Suspicion {
    /// The same instant and the same place as the fix before.
    Duplicate,
    /// Earlier than the fix before.
    OutOfOrder,
    /// No boat gets there and back in the time.
    Spike,
    /// The first fixes of a log, before the receiver had settled.
    ColdStart,
    /// Latitude 0, longitude 0: what some receivers log without a fix.
    #[strum(serialize = "zero-island")]
    #[cfg_attr(feature = "serde", serde(rename = "zero-island"))]
    NullIsland,
    /// Exactly one place for minutes, and no going on from there: a receiver repeating its last fix.
    #[strum(serialize = "stale")]
    #[cfg_attr(feature = "serde", serde(rename = "stale"))]
    RepeatedPosition,
    /// Without a time, in a time in which nothing else was logged: when the boat was there nobody knows.
    Untimed,
}

/// A time at an end of a log through which it went on without a place to believe: the boat was somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum OpenEnd {
    /// Before the first fix that is believed: the boat came from anywhere within reach.
    #[strum(serialize = "before-the-first-fix")]
    #[cfg_attr(feature = "serde", serde(rename = "before-the-first-fix"))]
    BeforeTheFirst,
    /// After the last fix that is believed: it went anywhere within reach.
    #[strum(serialize = "after-the-last-fix")]
    #[cfg_attr(feature = "serde", serde(rename = "after-the-last-fix"))]
    AfterTheLast,
    /// After the last fix, of which nothing but repeats follow: the boat lay there, or the receiver stood still.
    Repeats,
}

impl Suspicion {
    /// All kinds, in the order in which [`super::Quality::counts`] counts them.
    pub const ALL: [Self; 7] = [
        Self::Duplicate,
        Self::OutOfOrder,
        Self::Spike,
        Self::ColdStart,
        Self::NullIsland,
        Self::RepeatedPosition,
        Self::Untimed,
    ];
}

/// How the boat moved during a part of a visit, or what a time at an end of the log was taken for; never what for.
#[derive(Debug, Clone, Copy, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
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
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum ConditionReason {
    /// So long the boat was surely slower than the least speed.
    SlowerFor {
        /// In seconds.
        duration_s: f64,
    },
    /// So long the boat surely stayed in one place; what it did there is not known.
    LongestStop {
        /// In seconds.
        duration_s: f64,
    },
    /// So long the boat can have stopped at most, given how well its fixes are known.
    CanHaveStopped {
        /// In seconds.
        duration_s: f64,
    },
    /// So long at most it can have been slower than the least speed without a break, given how well its fixes are known.
    CanHaveBeenSlow {
        /// In seconds.
        duration_s: f64,
    },
    /// The boat was perhaps never inside.
    InsideNotSettled,
    /// Not all of the way was logged.
    NotAllLogged,
    /// The rule perhaps did not bind the boat.
    BindingNotSettled,
    /// The boat may have lain ashore: a log or a trip begins or ends there, nothing was logged for long, or it was at a side that is shore.
    PerhapsAshore,
    /// So long it was at the shore without a break, and is taken to have been launched or landed there.
    AtTheShore {
        /// In seconds.
        duration_s: f64,
    },
    /// The boat went to and fro inside, so that it did not plainly go through.
    Wandered {
        /// Way made inside.
        #[cfg_attr(feature = "serde", serde(rename = "way_m"))]
        way: Metres,
        /// In seconds; none where that is not known.
        duration_s: Option<f64>,
    },
    /// The boat came in and went out over one and the same side.
    OverOneSide {
        /// How far apart the two places are.
        #[cfg_attr(feature = "serde", serde(rename = "apart_m"))]
        apart: Metres,
    },
    /// The boat stayed about one place for so long.
    NotGettingOn {
        /// In seconds.
        duration_s: f64,
    },
    /// The log begins and ends inside.
    LogWithinZone,
    /// The boat went plainly through.
    WentThrough {
        /// Way made inside.
        #[cfg_attr(feature = "serde", serde(rename = "way_m"))]
        way: Metres,
    },
    /// A track does not show it.
    NotShownByTrack,
    /// A plan does not show it.
    NotShownByPlan,
}

/// Why a visit or a catch is answered as it is.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
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
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
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

/// How a row counted against one bag limit.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct BagNote {
    /// The zone whose limit it is.
    pub zone: ZoneId,
    /// Its place among the zones of the set.
    pub zone_number: usize,
    /// Its name.
    pub zone_name: String,
    /// The clause of the limit.
    pub clause: Option<String>,
    /// The limit.
    pub bag: Bag,
    /// Whose fish were counted; none: the boat's, or those of the one person that all rows are about.
    pub person: Option<String>,
    /// The local day of the zone; none where the row has no time.
    pub day: Option<Date>,
    /// The first fish of this row (and of others of the same moment), counted from 1.
    pub first: u64,
    /// The last one, likewise: so many there were for sure when this row is counted.
    pub last: u64,
    /// So many there were at most, fish counted of which it is not known whether they count.
    pub at_most: u64,
    /// What the log does not tell.
    pub not_known: Vec<BagUnknown>,
}

impl BagNote {
    /// Whether there were surely more than the limit.
    #[must_use]
    pub fn surely_over(&self) -> bool {
        self.last > u64::from(self.bag.count)
    }

    /// Whether there were perhaps more than the limit.
    #[must_use]
    pub fn perhaps_over(&self) -> bool {
        self.at_most > u64::from(self.bag.count)
    }
}

/// What would settle an open answer about a catch.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
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
coded!(
    Certainty,
    Evidence,
    Direction,
    OpenEnd,
    Suspicion,
    Motion,
    ConditionReason,
    Reason,
    NoPosition,
    BagUnknown,
    Remedy
);
