use serde::Serialize;
use takeline::rule::{Allowance, Bag, BagPer, Bait, GearAllowance, Measure, Size};

/// The limits that a fish is under, all zones together.
#[derive(Debug, Clone, Serialize)]
pub struct LimitsDocument<'a> {
    /// At most so many of each kind of bag.
    pub bags: Vec<BagDocument>,
    /// Lengths, all of which hold.
    pub sizes: Vec<SizeDocument<'a>>,
    /// Allowed gear; null: any kind.
    pub gear: Option<Vec<GearDocument<'a>>>,
    /// Forbidden gear.
    pub gear_forbidden: Vec<&'a str>,
    /// Bait rules, all of which hold.
    pub bait: Vec<BaitDocument<'a>>,
}

/// At most so many.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct BagDocument {
    /// How many.
    pub count: u32,
    /// `person-day`, `boat-day`, `person-trip`, `boat-trip`, `person-at-once` or `boat-at-once`.
    pub per: &'static str,
}

/// Lengths that may be kept, both ends allowed.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct SizeDocument<'a> {
    /// Not shorter than this, in centimetres.
    pub min_cm: Option<f64>,
    /// Not longer than this, in centimetres.
    pub max_cm: Option<f64>,
    /// How it is measured; null if the text does not say.
    pub measure: Option<&'a str>,
}

/// One allowed gear and how much of it.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct GearDocument<'a> {
    /// The kind.
    pub kind: &'a str,
    /// At most so many lines.
    pub max_lines: Option<u32>,
    /// At most so many hooks.
    pub max_hooks: Option<u32>,
    /// More, in the law's words.
    pub note: Option<&'a str>,
}

/// What may or may not be on the hook.
#[derive(Debug, Clone, Copy, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum BaitDocument<'a> {
    /// Nothing but these.
    Only(&'a [String]),
    /// Anything but these.
    Not(&'a [String]),
}

impl<'a> From<&'a Allowance> for LimitsDocument<'a> {
    fn from(limits: &'a Allowance) -> Self {
        Self {
            bags: limits.bags.iter().map(BagDocument::from).collect(),
            sizes: limits.sizes.iter().map(SizeDocument::from).collect(),
            gear: limits.gear.as_ref().map(|gear| gear.iter().map(GearDocument::from).collect()),
            gear_forbidden: limits.gear_forbidden.iter().map(|gear| gear.0.as_str()).collect(),
            bait: limits.bait.iter().map(BaitDocument::from).collect(),
        }
    }
}

impl From<&Bag> for BagDocument {
    fn from(bag: &Bag) -> Self {
        let per = match bag.per {
            BagPer::PersonDay => "person-day",
            BagPer::BoatDay => "boat-day",
            BagPer::PersonTrip => "person-trip",
            BagPer::BoatTrip => "boat-trip",
            BagPer::PersonAtOnce => "person-at-once",
            BagPer::BoatAtOnce => "boat-at-once",
        };
        Self { count: bag.count, per }
    }
}

impl<'a> From<&'a Size> for SizeDocument<'a> {
    fn from(size: &'a Size) -> Self {
        let measure = match &size.measure {
            Measure::TotalLength => Some("total-length"),
            Measure::ForkLength => Some("fork-length"),
            Measure::CarapaceLength => Some("carapace-length"),
            Measure::ShellWidth => Some("shell-width"),
            Measure::Other(text) => Some(text.as_str()),
            Measure::Unstated => None,
        };
        Self { min_cm: size.min_cm, max_cm: size.max_cm, measure }
    }
}

impl<'a> From<&'a GearAllowance> for GearDocument<'a> {
    fn from(gear: &'a GearAllowance) -> Self {
        Self {
            kind: &gear.kind.0,
            max_lines: gear.max_lines,
            max_hooks: gear.max_hooks,
            note: gear.note.as_deref(),
        }
    }
}

impl<'a> From<&'a Bait> for BaitDocument<'a> {
    fn from(bait: &'a Bait) -> Self {
        match bait {
            Bait::Only(names) => Self::Only(names),
            Bait::Not(names) => Self::Not(names),
        }
    }
}
