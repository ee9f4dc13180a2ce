use serde::{Deserialize, Serialize};

use super::{Slot, TextOr, WireWhen, Word, YesNo};
use crate::geojson_text::wire_object;
use crate::rule::{BagPer, Measure};

/// What may be taken.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(inline))]
#[serde(untagged)]
pub enum WireTake {
    /// One of the two words.
    Word(Word<TakeWord>),
    /// A list.
    Object(WireTakeObject),
}

/// The two words that need no list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TakeWord {
    /// Nothing may be taken.
    None,
    /// Anything may be taken.
    Anything,
}

wire_object! {
    /// Exactly one of the two members.
    #[cfg_attr(feature = "schema", schemars(extend("minProperties" = 1)))]
    pub WireTakeObject {
        /// Nothing but these: taxon or group ids, or objects that add when and how.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        only: Vec<Slot<TextOr<WireLimit>>>,
        /// Anything but these taxon or group ids.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        all_except: Vec<Slot<String>>,
    }
}

wire_object! {
    /// Which fish, when, how, and how many.
    pub WireLimit {
        /// Taxon or group ids. Missing: every fish.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        taxa: Vec<Slot<String>>,
        /// Taxon ids taken out of `taxa` again.
        except: Vec<Slot<String>>,
        /// When it holds. Missing: always.
        when: WireWhen,
        /// Gear. Missing: any.
        gear: WireGear,
        /// Bait. Missing: any.
        bait: WireBait,
        /// How many may be kept. Missing: the file does not say.
        bag: WireBag,
        /// How long a fish has to be. Missing: the file does not say.
        size: WireSize,
        /// Further conditions in the law's words, always shown.
        conditions: Vec<Slot<String>>,
        /// The clause that says so.
        clause: String,
    }
}

wire_object! {
    /// Which gear may be used.
    #[cfg_attr(feature = "schema", schemars(extend("minProperties" = 1)))]
    pub WireGear {
        /// None but these kinds.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        only: Vec<Slot<TextOr<WireGearKind>>>,
        /// None of these kinds.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        not: Vec<Slot<String>>,
    }
}

wire_object! {
    /// One kind of gear and how much of it.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["kind"])))]
    pub WireGearKind {
        /// The kind, like "hook and line".
        kind: String,
        /// At most so many lines, nets or pots.
        max_lines: u32,
        /// At most so many hooks.
        max_hooks: u32,
        /// More, in the law's words.
        note: String,
    }
}

wire_object! {
    /// What may be on the hook: exactly one of the two members.
    #[cfg_attr(feature = "schema", schemars(extend("minProperties" = 1)))]
    pub WireBait {
        /// Nothing but these.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        only: Vec<Slot<String>>,
        /// Anything but these.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        not: Vec<Slot<String>>,
    }
}

wire_object! {
    /// At most so many.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["count", "per"])))]
    pub WireBag {
        /// How many.
        count: u32,
        /// For whom and over what.
        per: Word<BagPer>,
    }
}

wire_object! {
    /// Lengths that may be kept, in centimetres; both ends may be kept.
    #[cfg_attr(feature = "schema", schemars(extend("minProperties" = 1)))]
    pub WireSize {
        /// Not shorter than this, in centimetres.
        #[cfg_attr(feature = "schema", schemars(range(min = 0)))]
        min_cm: f64,
        /// Not longer than this, in centimetres.
        #[cfg_attr(feature = "schema", schemars(range(min = 0)))]
        max_cm: f64,
        /// How the fish is measured. Missing: unstated.
        measure: WireMeasure,
    }
}

/// One of the usual measures, or the law's words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(inline))]
#[serde(untagged)]
pub enum WireMeasure {
    /// One of the usual measures.
    Usual(Word<Measure>),
    /// Another.
    Other(WireWords),
}

wire_object! {
    /// Something that only the law's own words say.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["words"])))]
    pub WireWords {
        /// The words.
        words: String,
    }
}

wire_object! {
    /// How one may cross the zone without fishing.
    pub WireCrossing {
        /// Whether crossing is allowed. Missing: unstated.
        allowed: YesNo,
        /// The state the gear has to be in, in the law's own words.
        gear_state: String,
        /// Whether one has to keep going. Missing: false.
        continuous: bool,
        /// Not slower than this, in knots.
        #[cfg_attr(feature = "schema", schemars(range(min = 0)))]
        min_speed_kn: f64,
        /// No stop longer than this, in minutes.
        #[cfg_attr(feature = "schema", schemars(range(min = 0)))]
        max_stop_min: f64,
        /// Whether anchoring is allowed. Missing: unstated.
        anchoring: YesNo,
        /// Further conditions in the law's words.
        conditions: Vec<Slot<String>>,
        /// The clause that says so.
        clause: String,
    }
}
