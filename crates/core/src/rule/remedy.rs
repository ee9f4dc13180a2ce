//! What would settle an open answer of a rule, as data. The words stand elsewhere.

use strum::{IntoStaticStr, VariantNames};

use super::{Gear, TimeReason};

use crate::coded::coded;

/// What would settle an open answer of a rule.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Remedy {
    /// Find out whether the rule holds now.
    FindOutWhetherItHolds {
        /// Why it is not known.
        why: Vec<TimeReason>,
    },
    /// Find out whether a limit holds now.
    FindOutWhetherLimitHolds {
        /// The clause of the limit.
        clause: Option<String>,
    },
    /// Say which fish it is.
    SayWhichFish {
        /// Those that the name may mean.
        fish: Vec<String>,
    },
    /// Say which of the fish of that name it is.
    SayWhichOfThatName,
    /// Use a name that the zone file lists.
    UseAListedName,
    /// Ask again with one of these names.
    DidYouMean {
        /// They.
        names: Vec<String>,
    },
    /// Say from where the fishing is.
    SayAccess,
    /// Say which gear it is.
    SayWhichGear {
        /// Those that the rule names.
        named: Vec<Gear>,
    },
    /// Say whether the gear given is one that the rule names.
    SayWhetherGearMeans {
        /// The gear given.
        given: Gear,
        /// The gear that the rule names.
        named: Gear,
    },
    /// Say whether the bait given is one that the rule names.
    SayWhetherBaitMeans {
        /// The bait given.
        given: String,
        /// Those that the rule names.
        named: Vec<String>,
    },
    /// Say which bait is on the hook, in the words of the zone files.
    SayWhichBait,
    /// Give the length of the fish.
    GiveLength,
    /// Read the text of the rule.
    ReadTheRule,
    /// Ask how one may cross.
    AskHowToCross,
    /// Ask whether and how one may cross.
    AskWhetherToCross,
    /// Ask whether fish caught elsewhere may be aboard.
    AskAboutFishAboard,
    /// Settle which of several zones and limits apply.
    SettleWhichApply,
    /// Settle whether a zone applies.
    SettleWhetherZoneApplies {
        /// The zone's name.
        zone: String,
    },
    /// Which of several zones a remedy is for.
    OfZone {
        /// The zone's name.
        zone: String,
        /// The remedy.
        remedy: Box<Remedy>,
    },
}

coded!(Remedy);
