//! What a language has words for.

use jiff::ZonedDateTime;
use jiff::civil::{Date, Time};
use takeline::assess::{Assumption, Displacing, Remedy, Warning};
use takeline::rule::{
    Access, Bag, Bait, Condition, GearAllowance, Measure, MissingTime, RuleSummary, SetNames, Size,
    TimeReason, When,
};
use takeline::track::BagNote;
use takeline::transit::{
    CalibrationReason, ClearsReason, CompassPoint, PairReason, ProblemReason, Severity, Side, SideName,
};
use takeline::zone::Slip;
use takeline::{assess as answer, binding, rule, track};

use super::transit::EyeSentence;
use super::{assess, calibration, rules, seasons, transit, trips};

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

    /// Why a visit or a catch is answered as it is.
    fn track_reason(&self, reason: &track::Reason) -> String {
        trips::reason(self, reason)
    }

    /// What would settle the answer about a catch.
    fn track_remedy(&self, remedy: &track::Remedy) -> String {
        trips::remedy(self, remedy)
    }

    // marks in line

    /// What is wrong with two marks, the line through them, or a position from lines.
    fn transit_problem(&self, problem: &ProblemReason) -> String {
        transit::problem(self, problem)
    }

    /// Why a line does not keep clear, or why that is undecided.
    fn clears_reason(&self, reason: &ClearsReason) -> String {
        transit::clears(self, reason)
    }

    /// What follows from fixes taken on a line.
    fn calibration_reason(&self, reason: &CalibrationReason) -> String {
        calibration::reason(self, reason)
    }

    /// Why a pair of marks ranks as it does.
    fn pair_reason(&self, reason: &PairReason) -> String {
        transit::pair(reason)
    }

    /// The sentence that two marks are remembered by.
    fn eye_sentence(&self, eye: &EyeSentence<'_>) -> String {
        transit::eye_sentence(self, eye)
    }

    /// What a side of a zone is called: "north side 2".
    fn zone_side(&self, side: &SideName) -> String {
        transit::zone_side(self, side)
    }

    /// One of eight directions: "north-east".
    fn compass_point(&self, point: CompassPoint) -> String {
        transit::compass_point(point).to_owned()
    }

    /// Left or right.
    fn left_or_right(&self, side: Side) -> String {
        transit::left_or_right(side).to_owned()
    }

    /// How bad a problem is.
    fn severity(&self, severity: Severity) -> String {
        transit::severity(severity).to_owned()
    }

    /// An area, given in square metres, in one unit: "4620 m²" below a hectare, "15 ha" above.
    ///
    /// To three digits below a hectare, to a tenth below ten hectares, to a whole hectare below a thousand, then to three
    /// digits: fishing water is not surveyed more closely. Nothing is "none"; what is no number is "not known".
    fn area(&self, area_m2: f64) -> String {
        transit::area(area_m2)
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
