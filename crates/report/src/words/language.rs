//! What a language has words for.

use jiff::ZonedDateTime;
use jiff::civil::{Date, Time};
use takeline::assess::{Assumption, Displacing, Remedy, Warning};
use takeline::rule::{
    Access, Bag, Bait, Condition, GearAllowance, Measure, MissingTime, RuleSummary, SetNames, Size,
    TimeReason, When,
};
use takeline::track::BagNote;
use takeline::zone::Slip;
use takeline::{Containment, TakeAnswer, Tristate, TrueBearing, assess as answer, binding, rule, track};

use super::here::{self, FieldPhrase, FishPhrase, Heading, Label, PlacePhrase, WaterPhrase};
use super::{assess, rules, seasons, trips};
use crate::cautions::CAUTIONS;

/// The words for what answers are made of. The provided methods are English.
///
/// Texts are fragments without a full stop, in the present tense, and name zones and fish as their files do.
///
/// # Examples
///
/// ```
/// use takeline_report::words::{English, Words};
/// use takeline::rule::{Bag, BagPer};
///
/// assert_eq!(English.bag(&Bag { count: 10, per: BagPer::PersonDay }), "at most 10 per person per day");
///
/// struct Deutsch;
/// impl Words for Deutsch {
///     fn bag(&self, bag: &Bag) -> String {
///         format!("höchstens {}", bag.count)
///     }
/// }
/// assert_eq!(Deutsch.bag(&Bag { count: 10, per: BagPer::PersonDay }), "höchstens 10");
/// ```
pub trait Words {
    /// Why a rule answers as it does.
    fn rule_reason(&self, reason: &rule::Reason) -> String {
        rules::reason(self, reason)
    }

    /// What has to be met.
    fn condition(&self, condition: &Condition) -> String {
        rules::condition(self, condition)
    }

    /// What would settle what a rule leaves open.
    fn rule_remedy(&self, remedy: &rule::Remedy) -> String {
        rules::remedy(self, remedy)
    }

    /// A rule in a few words: "only sprat, sand smelt", "anything but lobster; hook and line only".
    fn rule_summary(&self, rule: &RuleSummary) -> String {
        rules::summary(self, rule)
    }

    /// A set of fish: "pelagic fish, sprat (but not salmon)"; "nothing" if it is empty.
    fn set(&self, names: &SetNames) -> String {
        rules::set(names)
    }

    /// A fish by its name; none is one whose name the zone file does not know.
    fn fish(&self, name: Option<&str>) -> String {
        name.unwrap_or("this fish").to_owned()
    }

    /// From where people fish: "from a boat or by diving".
    fn access(&self, access: &[Access]) -> String {
        rules::access(access)
    }

    /// A bag: "at most 10 per person per day"; for 0, "none may be kept".
    fn bag(&self, bag: &Bag) -> String {
        rules::bag(*bag)
    }

    /// A size: "at least 20 cm, total length".
    fn size(&self, size: &Size) -> String {
        rules::size(self, size)
    }

    /// How a fish is measured.
    fn measure(&self, measure: &Measure) -> String {
        rules::measure(measure)
    }

    /// A rule on bait: "only mussel, lugworm as bait".
    fn bait(&self, bait: &Bait) -> String {
        rules::bait(bait)
    }

    /// A gear and how much of it: "hook and line: at most 1 line, 2 hooks (attended at all times)".
    fn gear(&self, gear: &GearAllowance) -> String {
        rules::gear(gear)
    }

    /// How a bag counts a row of a catch log: "the 11th of at most 10 per person per day in Gannet Bank (clause 10(1))".
    fn bag_note(&self, note: &BagNote) -> String {
        trips::bag_note(self, note)
    }

    /// A set of days and hours: "22:00 to 04:00, except on Saturdays".
    fn when(&self, when: &When) -> String {
        seasons::when(self, when)
    }

    /// Why an instant belongs to a set of days and hours, or does not.
    fn time_reason(&self, reason: &TimeReason) -> String {
        seasons::reason(self, reason)
    }

    /// A day: "3 June 2026".
    fn date(&self, date: Date) -> String {
        seasons::date(date)
    }

    /// A time by the clock: "08:00".
    fn clock(&self, time: Time) -> String {
        seasons::clock(time)
    }

    /// When something ends that ends with an instant: midnight is 24:00 of the day before.
    fn until(&self, end: &ZonedDateTime) -> String {
        seasons::until(self, end)
    }

    /// Why no time is known.
    fn missing_time(&self, missing: MissingTime) -> String {
        seasons::missing(missing).to_owned()
    }

    /// What would settle that.
    fn say_the_time(&self, missing: MissingTime) -> String {
        seasons::say_the_time(missing).to_owned()
    }

    /// Why a rule is in force or not, and until when.
    fn in_force_reason(&self, reason: &binding::Reason) -> String {
        seasons::in_force(self, reason)
    }

    /// Why a fix is answered as it is.
    fn reason(&self, reason: &answer::Reason) -> String {
        assess::reason(self, reason)
    }

    /// What would settle the answer about a fix.
    fn remedy(&self, remedy: &Remedy) -> String {
        assess::remedy(self, remedy)
    }

    /// What is to be known about the data.
    fn warning(&self, warning: &Warning) -> String {
        assess::warning(self, warning)
    }

    /// A part of an uncertainty that nobody stated.
    fn assumption(&self, assumption: Assumption) -> String {
        assess::assumption(assumption)
    }

    /// A zone whose rule displaces another one's here, for sure or perhaps.
    fn displacing(&self, by: &Displacing, is_sure: bool) -> String {
        assess::displacing(by, is_sure)
    }

    /// A slip in writing down a position.
    fn slip(&self, slip: Slip) -> String {
        assess::slip(slip).to_owned()
    }

    /// What stands before a value in the text of `here`.
    fn label(&self, label: Label) -> String {
        here::label(label).to_owned()
    }

    /// What stands above a section of the text of `here`.
    fn heading(&self, heading: Heading<'_>) -> String {
        here::heading(heading)
    }

    /// What the water is, on the first line of `here` and in a field.
    fn water(&self, phrase: &WaterPhrase<'_>) -> String {
        here::water(self, phrase)
    }

    /// Where that is, how sure, and what settles it.
    fn place(&self, phrase: &PlacePhrase<'_>) -> String {
        here::place(self, phrase)
    }

    /// What may be done with fish, on the line for it.
    fn fish_line(&self, phrase: &FishPhrase<'_>) -> String {
        here::fish_line(phrase)
    }

    /// The value of a field of `here`, or of a row of a batch.
    fn field(&self, phrase: &FieldPhrase<'_>) -> String {
        here::field(self, phrase)
    }

    /// A three-valued answer: "yes".
    fn answer(&self, answer: Tristate) -> String {
        here::answer(answer).to_owned()
    }

    /// A side of a line: "inside".
    fn side(&self, side: Containment) -> String {
        here::side(side).to_owned()
    }

    /// An answer about a fish: "RELEASE".
    fn take_answer(&self, answer: TakeAnswer) -> String {
        here::take_answer_word(answer).to_owned()
    }

    /// A true bearing: "045° true".
    fn bearing(&self, bearing: TrueBearing) -> String {
        bearing.to_string()
    }

    /// What no answer can know.
    fn cautions(&self) -> [&'static str; 4] {
        CAUTIONS
    }

    /// Why a visit or a catch is answered as it is.
    fn track_reason(&self, reason: &track::Reason) -> String {
        trips::reason(self, reason)
    }

    /// What would settle the answer about a catch.
    fn track_remedy(&self, remedy: &track::Remedy) -> String {
        trips::remedy(self, remedy)
    }
}

/// English.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct English;

impl Words for English {}

/// Texts in the order of what they say.
pub(crate) fn each<T>(list: &[T], words: impl Fn(&T) -> String) -> Vec<String> {
    list.iter().map(words).collect()
}

/// Texts one after another in one.
pub(super) fn joined<T>(list: &[T], separator: &str, words: impl Fn(&T) -> String) -> String {
    each(list, words).join(separator)
}
