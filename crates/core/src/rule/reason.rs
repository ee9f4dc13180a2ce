//! Why a rule lets a fish be kept, or not, or leaves it open: as data. The words stand elsewhere.

use strum::{IntoStaticStr, VariantNames};

use super::{Access, Bag, Bait, Gear, RuleSummary, SetNames, Size, TimeReason};

use crate::coded::coded;

/// Why a rule answers as it does.
///
/// A fish is given by the name that people should see; none is a fish whose name the file does not know. A reason that
/// embeds others holds them.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Reason {
    /// Nothing may be taken.
    NothingMayBeTaken,
    /// Nothing may be taken, whatever the fish is, whose name is not known.
    NothingWhateverItIs,
    /// Any fish may be kept, whatever the fish is, whose name is not known.
    AnythingWhateverItIs,
    /// The zone file does not know the name.
    NameUnknown,
    /// The rule binds only some ways of fishing, and not this one.
    BindsOnly {
        /// Those that it binds.
        access: Vec<Access>,
    },
    /// The rule binds only some ways of fishing, and nobody said which this is.
    BindsOnlyAccessUnsaid {
        /// Those that it binds.
        access: Vec<Access>,
    },
    /// The rule does not restrict what may be taken.
    TakeUnrestricted,
    /// The fish is one of those that may not be taken.
    AmongExceptions {
        /// The fish.
        fish: Option<String>,
        /// Those that may not be taken.
        except: SetNames,
    },
    /// Anything may be taken but some fish, and this is none of them.
    AnythingBut {
        /// Those that may not be taken.
        except: SetNames,
    },
    /// Some fish may not be taken; whether this is one of them another reason says.
    ExceptionsForbidden {
        /// Those that may not be taken.
        except: SetNames,
    },
    /// The rule permits the fish.
    MayBeTaken {
        /// The fish.
        fish: Option<String>,
    },
    /// What the days and hours of a rule say.
    Time {
        /// That.
        reason: TimeReason,
    },
    /// The permission for the fish does not hold now.
    PermissionNotInForce {
        /// The fish.
        fish: Option<String>,
        /// Why not now.
        why: Vec<TimeReason>,
    },
    /// The fish is not among those that may be taken.
    NotAmongPermitted {
        /// The fish.
        fish: Option<String>,
        /// The rule in short.
        rule: RuleSummary,
    },
    /// Whether the fish belongs to a set is not settled.
    MembershipUnsettled {
        /// The fish.
        fish: Option<String>,
        /// The set.
        set: SetNames,
    },
    /// The name means several fish, of which only some belong to a set.
    OnlySomeAmong {
        /// The name.
        fish: Option<String>,
        /// The set.
        set: SetNames,
        /// Those that belong to it.
        with: Vec<String>,
        /// Those that do not.
        without: Vec<String>,
    },
    /// Whether the rule holds now is not settled.
    HoldingUnsettled {
        /// Why not.
        why: Vec<TimeReason>,
    },
    /// Of several fish of one name, those that may be kept.
    TheseMayBeKept {
        /// They.
        fish: Vec<String>,
    },
    /// Of several fish of one name, those that may not be kept.
    TheseMayNotBeKept {
        /// They.
        fish: Vec<String>,
    },
    /// Of several fish of one name, those of which it is not settled.
    TheseAreUnsettled {
        /// They.
        fish: Vec<String>,
    },
    /// A limit may or may not hold; keeping to it is enough either way.
    LimitMayHold,
    /// A limit is broken, if it holds.
    IfLimitHolds {
        /// How it is broken.
        reason: Box<Reason>,
    },
    /// The clause that another reason rests on.
    ByClause {
        /// That reason.
        reason: Box<Reason>,
        /// The clause.
        clause: String,
    },
    /// Limits cannot hold together.
    Clash {
        /// How they clash.
        clash: Clash,
        /// Whose they are.
        between: LimitsOf,
    },
    /// No rule that is loaded knows the word for the gear.
    GearUnknown {
        /// The word given.
        given: Gear,
    },
    /// The gear is one of those allowed.
    GearAllowed {
        /// The gear given.
        given: Gear,
    },
    /// The gear may be one of those allowed, in other words.
    GearPerhapsAllowed {
        /// The gear given.
        given: Gear,
        /// The gear that the rule allows.
        allowed: Gear,
    },
    /// The gear is none of those allowed.
    GearNotAllowed {
        /// The gear given.
        given: Gear,
        /// Those allowed.
        allowed: Vec<Gear>,
    },
    /// The gear is forbidden.
    GearForbidden {
        /// The gear given.
        given: Gear,
    },
    /// The gear may be one that is forbidden, in other words.
    GearPerhapsForbidden {
        /// The gear given.
        given: Gear,
        /// The gear that the rule forbids.
        forbidden: Gear,
    },
    /// The gear is not the one that is forbidden.
    GearNotForbidden {
        /// The gear given.
        given: Gear,
        /// The gear that the rule forbids.
        forbidden: Gear,
    },
    /// The bait keeps to the rule on bait.
    BaitKept {
        /// The bait given.
        given: String,
        /// The rule.
        rule: Bait,
    },
    /// The bait breaks the rule on bait.
    BaitBroken {
        /// The bait given.
        given: String,
        /// The rule.
        rule: Bait,
    },
    /// Whether the rule on bait means this bait is not settled.
    BaitUnsettled {
        /// The bait given.
        given: String,
        /// The rule.
        rule: Bait,
    },
    /// The size that the rule allows cannot be meant: one of its lengths is none.
    SizeCannotBeMeant {
        /// The size allowed.
        size: Size,
    },
    /// The length given is none.
    LengthInvalid {
        /// The length given, in centimetres.
        length_cm: f64,
    },
    /// The fish is too short or too long.
    LengthOutside {
        /// The length given, in centimetres.
        length_cm: f64,
        /// The size allowed.
        size: Size,
    },
    /// The length is within the size allowed.
    LengthWithin {
        /// The length given, in centimetres.
        length_cm: f64,
        /// The size allowed.
        size: Size,
    },
    /// The bag is 0.
    NoneMayBeKept,
    /// More are kept than the bag allows.
    TooMany {
        /// How many are kept.
        count: u32,
        /// The bag.
        bag: Bag,
    },
    /// No more are kept than the bag allows.
    CountWithin {
        /// How many are kept, this one included.
        count: u32,
        /// The bag.
        bag: Bag,
    },
    /// Fish caught elsewhere may be aboard.
    AboardAllowed,
    /// No fish may be aboard.
    AboardForbidden,
    /// Fish caught elsewhere may be aboard only while crossing.
    AboardWhileCrossing,
    /// Fish caught elsewhere may be aboard only while crossing, and that is not allowed.
    AboardWhileCrossingForbidden,
    /// Fish caught elsewhere may be aboard only while crossing, and how one may cross the file does not say.
    AboardWhileCrossingUnsaid,
    /// Only what may be taken may be aboard.
    AboardAsTake,
    /// The file does not say whether fish caught elsewhere may be aboard.
    AboardUnsaid,
    /// The file does not say so, but the fish could be taken here.
    AboardUnsaidButTakeable,
    /// Which of several zones a reason is of.
    OfZone {
        /// The zone's name.
        zone: String,
        /// The reason.
        reason: Box<Reason>,
    },
    /// Whether a zone applies is not settled; if it does, these hold.
    ZoneMayApply {
        /// The zone's name.
        zone: String,
        /// What it says if it applies.
        because: Vec<Reason>,
    },
}

coded!(Reason);

impl Reason {
    /// The same with the clause that it rests on, if there is one.
    pub(super) fn by(self, clause: Option<&String>) -> Self {
        match clause {
            Some(clause) => Self::ByClause { reason: Box::new(self), clause: clause.clone() },
            None => self,
        }
    }
}

/// Why limits cannot hold together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Clash {
    /// No length is allowed by all.
    Sizes,
    /// No gear is allowed by all.
    Gear,
    /// No bait is allowed by all.
    Bait,
    /// The lists of bait share no word, though words that differ may mean the same.
    BaitWords,
    /// There are more alternatives than are compared.
    TooMany,
}

/// Whose limits clash.
#[derive(Debug, Clone, PartialEq, Eq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum LimitsOf {
    /// Those of one permission.
    OnePermission,
    /// Those of a permission and of a limit of the same rule.
    PermissionAndLimit,
    /// Those of a permission and of a limit that may or may not hold.
    PermissionAndPossibleLimit,
    /// Those of the rules for several fish of one name.
    FishOfOneName,
    /// Those of these zones.
    Zones(Vec<String>),
}
