//! What has to be met for an answer to hold, as data. The words stand elsewhere.

use strum::{IntoStaticStr, VariantNames};

use super::{Allowance, Bag, Bait, Gear, GearAllowance, Measure, Size};
use crate::Tristate;
use crate::coded::coded;

/// What has to be met for an answer to hold, or what one has to do to cross.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Condition {
    /// Only with one of these kinds of gear.
    OnlyWith {
        /// They, any one of which is enough.
        gear: Vec<GearAllowance>,
    },
    /// The gear in use is allowed within these numbers.
    With {
        /// They, any one of which is enough.
        gear: Vec<GearAllowance>,
    },
    /// Not with this gear.
    NotWith {
        /// The gear.
        gear: Gear,
    },
    /// A rule on bait.
    Bait {
        /// The rule.
        rule: Bait,
    },
    /// A size.
    Size {
        /// The size.
        size: Size,
    },
    /// A bag.
    Bag {
        /// The bag.
        bag: Bag,
    },
    /// The length given is measured as the rule measures it.
    MeasuredAs {
        /// How that is; unstated where the rule does not say.
        measure: Measure,
    },
    /// The length given is exactly on the limit: measure again.
    OnTheLimit {
        /// The length given, in centimetres.
        length_cm: f64,
    },
    /// In the words of the law.
    Law {
        /// The words.
        text: String,
    },
    /// One of several ways is enough.
    Either {
        /// They, each with all that it asks for.
        ways: Vec<Vec<Condition>>,
    },
    /// The limits of all zones together, one of which is enough.
    AllZonesTogether {
        /// They.
        ways: Vec<Allowance>,
    },
    /// Which of several zones a condition is of.
    OfZone {
        /// The zone's name.
        zone: String,
        /// The condition.
        condition: Box<Condition>,
    },
    /// Which of several fish of one name a condition is for.
    OfFish {
        /// The fish.
        fish: String,
        /// The condition.
        condition: Box<Condition>,
    },
    /// Whether one may cross without fishing.
    Crossing {
        /// Whether one may.
        allowed: Tristate,
        /// The clause that says so.
        clause: Option<String>,
    },
    /// The file does not say how one may cross.
    CrossingUnsaid,
    /// The state that the gear has to be in while crossing.
    GearState {
        /// The words of the law.
        words: String,
    },
    /// Keep going from one side to the other.
    KeepGoing,
    /// Not slower than this.
    MinSpeed {
        /// The speed, in knots.
        speed_kn: f64,
    },
    /// No stop longer than this.
    MaxStop {
        /// The time, in minutes.
        stop_min: f64,
    },
    /// Whether one may anchor.
    Anchoring {
        /// Whether one may.
        allowed: Tristate,
    },
    /// No anchoring on the way, since one has to keep going.
    NoAnchoringOnTheWay,
}

coded!(Condition);

impl Condition {
    /// Returns whether it offers several ways, one of which is enough.
    #[must_use]
    pub fn is_alternative(&self) -> bool {
        if let Self::OfZone { condition, .. } = self {
            return condition.is_alternative();
        }
        matches!(self, Self::Either { .. })
    }

    /// The words of a law as conditions.
    pub(crate) fn of_law(texts: &[String]) -> impl Iterator<Item = Self> + '_ {
        texts.iter().map(|text| Self::Law { text: text.clone() })
    }
}

impl Allowance {
    /// Returns the limits as conditions; none if there are none.
    #[must_use]
    pub fn conditions(&self) -> Vec<Condition> {
        let gear = self.gear.iter().map(|gear| Condition::OnlyWith { gear: gear.clone() });
        let not_with = self.gear_forbidden.iter().map(|gear| Condition::NotWith { gear: gear.clone() });
        let bait = self.bait.iter().map(|rule| Condition::Bait { rule: rule.clone() });
        let sizes = self.sizes.iter().map(|size| Condition::Size { size: size.clone() });
        let bags = self.bags.iter().map(|bag| Condition::Bag { bag: *bag });
        gear.chain(not_with).chain(bait).chain(sizes).chain(bags).collect()
    }
}
