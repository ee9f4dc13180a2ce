//! The take rule of one zone, and what it says about one fish.

use super::allowance::same_gear;
use super::{Bag, Bait, Condition, Gear, GearAllowance, Reason, Remedy, Size, TaxonSet, When};
use crate::Tristate;

/// How somebody gets at the fish.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum Access {
    /// From a boat of any kind, a kayak or a board included.
    Boat,
    /// From the shore.
    Shore,
    /// Under water.
    Diving,
}

/// What somebody does with a fish; laws treat the two apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Activity {
    /// Catching it and keeping it.
    Take,
    /// Having it aboard, caught elsewhere.
    Possess,
}

/// Everything that bounds a permission.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Limits {
    /// Only these kinds of gear; empty: any kind.
    pub gear: Vec<GearAllowance>,
    /// None of these kinds of gear.
    pub gear_forbidden: Vec<Gear>,
    /// Bait.
    pub bait: Option<Bait>,
    /// Number.
    pub bag: Option<Bag>,
    /// Length.
    pub size: Option<Size>,
    /// Further conditions in the law's words, always shown.
    pub conditions: Vec<String>,
}

/// A set of fish, when, and within which limits.
#[derive(Debug, Clone, PartialEq)]
pub struct Permit {
    /// Which fish; none: every fish.
    pub taxa: Option<TaxonSet>,
    /// When it holds.
    pub when: When,
    /// Its limits.
    pub limits: Limits,
    /// The clause that says so.
    pub clause: Option<String>,
}

/// What may be taken at all.
#[derive(Debug, Clone, PartialEq)]
pub enum Take {
    /// Nothing.
    Nothing,
    /// Only what a permit names.
    Only(Vec<Permit>),
    /// Anything but these.
    AllExcept(TaxonSet),
    /// Anything; the zone restricts something else (gear, size, anchoring).
    Anything,
}

/// Whether fish caught elsewhere may be aboard.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Possession {
    /// The file does not say: undecided for fish that could not be taken here.
    #[default]
    Unstated,
    /// May be aboard.
    Allowed,
    /// May be aboard only while crossing as [`Passage`] says.
    WhileCrossing,
    /// Only what may be taken here may be aboard.
    AsTake,
    /// No fish at all may be aboard.
    Forbidden,
}

/// How one may cross the zone without fishing.
#[derive(Debug, Clone, PartialEq)]
pub struct Passage {
    /// Whether crossing is allowed at all.
    pub allowed: Tristate,
    /// The state the gear has to be in, in the law's own words.
    pub gear_state: Option<String>,
    /// No stopping or anchoring on the way.
    pub continuous: bool,
    /// Not slower than this, in knots.
    pub min_speed_kn: Option<f64>,
    /// No stop longer than this, in minutes.
    pub max_stop_min: Option<f64>,
    /// Whether anchoring is allowed.
    pub anchoring: Tristate,
    /// More, in the law's words.
    pub conditions: Vec<String>,
    /// The clause that says so.
    pub clause: Option<String>,
}

/// What a zone says about taking, possessing and passing.
#[derive(Debug, Clone, PartialEq)]
pub struct TakeRule {
    /// What may be taken at all.
    pub take: Take,
    /// Limits on what may be taken: all that match a fish hold together.
    pub limits: Vec<Permit>,
    /// Fish caught elsewhere.
    pub possession: Possession,
    /// Crossing without fishing.
    pub passage: Option<Passage>,
    /// Whom the rule binds by access; empty: everybody.
    pub binds: Vec<Access>,
    /// Further conditions in the law's words, always shown.
    pub conditions: Vec<String>,
}

impl From<Take> for TakeRule {
    /// A rule that says what may be taken and nothing else.
    fn from(take: Take) -> Self {
        Self {
            take,
            limits: Vec::new(),
            possession: Possession::Unstated,
            passage: None,
            binds: Vec::new(),
            conditions: Vec::new(),
        }
    }
}

impl TakeRule {
    /// Returns whether the rule names a gear, allowed or forbidden, by this word.
    #[must_use]
    pub fn names_gear(&self, word: &Gear) -> bool {
        let permits = match &self.take {
            Take::Only(permits) => permits.as_slice(),
            Take::Nothing | Take::AllExcept(_) | Take::Anything => &[],
        };
        permits.iter().chain(&self.limits).any(|permit| {
            let allowed = permit.limits.gear.iter().map(|one| &one.kind);
            allowed.chain(&permit.limits.gear_forbidden).any(|gear| same_gear(gear, word))
        })
    }

    /// Returns whether the rule lets anything at all be taken; undecided if that hangs on a time or a number.
    ///
    /// Where it does, somebody may be there to fish, and no rule on crossing speaks of that.
    #[must_use]
    pub fn lets_something_be_taken(&self) -> Tristate {
        let is_shut =
            |permit: &Permit| permit.taxa.is_none() && permit.limits.bag.is_some_and(|bag| bag.count == 0);
        let by_take = match &self.take {
            Take::Nothing => Tristate::No,
            Take::AllExcept(_) | Take::Anything => Tristate::Yes,
            Take::Only(permits) => {
                Tristate::any(permits.iter().map(|permit| match (&permit.when, permit.limits.bag) {
                    (_, Some(bag)) if bag.count == 0 => Tristate::No,
                    (When::Always, _) => Tristate::Yes,
                    _ => Tristate::Undecided,
                }))
            }
        };
        let by_limits = Tristate::all(
            self.limits
                .iter()
                .filter(|limit| is_shut(limit))
                .map(|limit| if limit.when == When::Always { Tristate::No } else { Tristate::Undecided }),
        );
        by_take.and(by_limits)
    }

    /// Returns whether the rule restricts nothing at all: anything may be taken, aboard and passed, without a limit or a
    /// condition.
    ///
    /// A file may hold such a zone to displace another one's rule, or to say that the water is open.
    #[must_use]
    pub fn restricts_nothing(&self) -> bool {
        let passes_freely = |passage: &Passage| {
            passage.allowed == Tristate::Yes
                && passage.anchoring != Tristate::No
                && passage.gear_state.is_none()
                && !passage.continuous
                && passage.min_speed_kn.is_none()
                && passage.max_stop_min.is_none()
                && passage.conditions.is_empty()
        };
        self.take == Take::Anything
            && self.limits.is_empty()
            && self.conditions.is_empty()
            && matches!(self.possession, Possession::Unstated | Possession::Allowed | Possession::AsTake)
            && self.passage.as_ref().is_none_or(passes_freely)
    }
}

/// What is known about the fishing itself. What is not given is unknown, and becomes a condition.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Circumstances {
    /// The gear in use.
    pub gear: Option<Gear>,
    /// What is on the hook.
    pub bait: Option<String>,
    /// From where.
    pub access: Option<Access>,
    /// Length of the fish, in centimetres.
    pub length_cm: Option<f64>,
    /// How many are kept already, this one included.
    pub count: Option<u32>,
}

/// What one zone's rule says about one fish.
#[derive(Debug, Clone, PartialEq)]
pub struct Ruling {
    /// Whether the rule lets it be kept.
    pub allowed: Tristate,
    /// Why.
    pub because: Vec<Reason>,
    /// What has to be met for the answer to hold.
    pub conditions: Vec<Condition>,
    /// What would settle an undecided answer.
    pub settle: Vec<Remedy>,
    /// Limits that the answer carries, for combining with other zones.
    pub within: Allowance,
    /// Other limits under which it is allowed as well: any one of these, or [`Self::within`], is enough.
    pub otherwise: Vec<Allowance>,
    /// Where limits that only may hold are counted in [`Self::within`] and [`Self::otherwise`]: the limits without them, any
    /// one of which is enough if those do not hold. None: there are no such limits.
    pub surely: Option<Vec<Allowance>>,
}

/// The limits that an allowed fish is under, of one zone or of several together.
#[derive(Debug, Clone, PartialEq, PartialOrd, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Allowance {
    /// The smallest bag of each kind.
    pub bags: Vec<Bag>,
    /// Sizes, all of which hold.
    pub sizes: Vec<Size>,
    /// Allowed gear; none: any kind.
    pub gear: Option<Vec<GearAllowance>>,
    /// Forbidden gear.
    pub gear_forbidden: Vec<Gear>,
    /// Bait rules, all of which hold.
    pub bait: Vec<Bait>,
}
