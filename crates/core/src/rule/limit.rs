//! Gear, bait, bag and size limits.

/// A kind of gear, in the words that the zone file uses ("hook and line", "hand net").
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Gear(pub String);

/// One allowed gear and how much of it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct GearAllowance {
    /// The kind.
    pub kind: Gear,
    /// At most so many lines (or nets, or pots).
    pub max_lines: Option<u32>,
    /// At most so many hooks.
    pub max_hooks: Option<u32>,
    /// More, in the law's words ("attended at all times").
    pub note: Option<String>,
}

/// What may or may not be on the hook.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Bait {
    /// Nothing but these.
    Only(Vec<String>),
    /// Anything but these.
    Not(Vec<String>),
}

/// Whom a bag limit counts for, and over what.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum BagPer {
    /// Each person, each day.
    PersonDay,
    /// Each boat, each day.
    BoatDay,
    /// Each person, each trip.
    PersonTrip,
    /// Each boat, each trip.
    BoatTrip,
}

/// At most so many.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bag {
    /// How many.
    pub count: u32,
    /// For whom, over what.
    pub per: BagPer,
}

/// How a fish is measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Measure {
    /// Tip of the snout to the end of the longest tail lobe.
    TotalLength,
    /// Tip of the snout to the fork of the tail.
    ForkLength,
    /// Along the shell of a crustacean.
    CarapaceLength,
    /// Across the shell.
    ShellWidth,
    /// As the law says.
    Other(String),
    /// The text does not say.
    Unstated,
}

/// Lengths that may be kept, in centimetres, both ends allowed.
#[derive(Debug, Clone, PartialEq)]
pub struct Size {
    /// Not shorter than this, in centimetres.
    pub min_cm: Option<f64>,
    /// Not longer than this, in centimetres.
    pub max_cm: Option<f64>,
    /// How it is measured.
    pub measure: Measure,
}
