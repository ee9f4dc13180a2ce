//! What may be taken, how, and when.

use jiff::civil::Weekday;
use serde::{Deserialize, Serialize};

use super::{Slot, TextOr, Word, YesNo};
use crate::geojson_text::wire_object;
use crate::rule::{BagPer, Measure, WindowEnds};

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

wire_object! {
    /// When a rule holds. Several members together mean: in all of them. Days and hours count in the zone's own time.
    #[cfg_attr(feature = "schema", schemars(extend("minProperties" = 1)))]
    pub WireWhen {
        /// The days between two dates.
        dates: WireDateRange,
        /// Single days, each like "2026-05-01".
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        days: Vec<Slot<String>>,
        /// The same days of every year. A window whose end lies before its start runs over New Year.
        yearly: WireAnnualWindow,
        /// Days of the week.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        weekdays: Vec<Slot<Word<Weekday>>>,
        /// The first, second … or last such weekday of a month, and days that follow it.
        nth_weekday: WireNthWeekday,
        /// Hours by the clock. Hours whose end is not later than their start run over midnight.
        hours: WireHours,
        /// Hours by the sun of a named place.
        sun: WireSun,
        /// What nothing offline can work out, in the law's words ("when the quota is taken"): always undecided.
        unknowable: String,
        /// At least one of these holds.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        any: Vec<Slot<WireWhen>>,
        /// All of these hold.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        all: Vec<Slot<WireWhen>>,
        /// This does not hold.
        not: WireWhen,
    }
}

wire_object! {
    /// The days between two dates.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["from", "to"])))]
    pub WireDateRange {
        /// First day, like "2026-05-01".
        from: String,
        /// Last day, like "2026-08-31".
        to: String,
        /// Whether first and last day belong to it. Missing: included.
        ends: Word<WindowEnds>,
    }
}

wire_object! {
    /// The same days of every year.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["from", "to"])))]
    pub WireAnnualWindow {
        /// First day: month and day, like "05-01".
        #[cfg_attr(feature = "schema", schemars(regex(pattern = r"^\d\d-\d\d$")))]
        from: String,
        /// Last day: month and day, like "08-31".
        #[cfg_attr(feature = "schema", schemars(regex(pattern = r"^\d\d-\d\d$")))]
        to: String,
        /// Whether first and last day belong to it. Missing: included.
        ends: Word<WindowEnds>,
    }
}

/// 1 to 5 from the start of the month, or "last".
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(inline))]
#[serde(untagged)]
pub enum WireNth {
    /// Counted from the start of the month.
    Number(#[cfg_attr(feature = "schema", schemars(range(min = 1, max = 5)))] i8),
    /// "last".
    Word(#[cfg_attr(feature = "schema", schemars(extend("const" = "last")))] String),
}

wire_object! {
    /// The nth such weekday of a month, and days that follow it.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["nth", "day"])))]
    pub WireNthWeekday {
        /// 1 to 5 from the start of the month, or "last".
        nth: WireNth,
        /// The weekday.
        day: Word<Weekday>,
        /// The month, 1 to 12. Missing: every month.
        #[cfg_attr(feature = "schema", schemars(range(min = 1, max = 12)))]
        month: i8,
        /// How many days that follow belong to it too, at most 27; they may run into the next month. Missing: none.
        #[cfg_attr(feature = "schema", schemars(range(min = 0, max = 27)))]
        then_days: u8,
    }
}

wire_object! {
    /// Hours by the clock.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["from", "to"])))]
    pub WireHours {
        /// First instant, like "08:00".
        from: String,
        /// First instant after, like "16:00"; "24:00" is the end of the day.
        to: String,
    }
}

wire_object! {
    /// Hours by the sun.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["from", "to", "at"])))]
    pub WireSun {
        /// "sunrise", "sunset", "civil-dawn" or "civil-dusk", with minutes after or before: "sunset+30".
        #[cfg_attr(feature = "schema", schemars(regex(pattern = r"^(sunrise|sunset|civil-dawn|civil-dusk)([+-]\d{1,3})?$")))]
        from: String,
        /// The same: "sunrise-30".
        #[cfg_attr(feature = "schema", schemars(regex(pattern = r"^(sunrise|sunset|civil-dawn|civil-dusk)([+-]\d{1,3})?$")))]
        to: String,
        /// The place whose sun counts, which the law names. It need not lie in the zone.
        at: WireSunPlace,
    }
}

wire_object! {
    /// The place whose sun counts.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["name", "latitude_deg", "longitude_deg"])))]
    pub WireSunPlace {
        /// Its name in the law.
        name: String,
        /// Degrees, north positive.
        #[cfg_attr(feature = "schema", schemars(range(min = -90, max = 90)))]
        latitude_deg: f64,
        /// Degrees, east positive.
        #[cfg_attr(feature = "schema", schemars(range(min = -180, max = 360)))]
        longitude_deg: f64,
    }
}
