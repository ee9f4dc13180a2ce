//! What a language has words for.

use std::fmt;
use std::ops::Deref;

use jiff::ZonedDateTime;
use jiff::civil::{Date, Time};
use jiff::tz::TimeZone;
use takeline::assess::{Assumption, Displacing, Remedy, Warning};
use takeline::magnetic::OutsideMagneticModel;
use takeline::rule::{
    Access, Bag, Bait, Condition, GearAllowance, Measure, MissingTime, RuleSummary, SetNames, Size,
    TimeReason, When,
};
use takeline::track::{
    BagNote, BagUnknown, Certainty, ConditionReason, Direction, Motion, NoPosition, NotShown, OutcomeAnswer,
    OutcomeReason, Suspicion, TrackPoint,
};
use takeline::transit::{
    CalibrationReason, ClearsReason, CompassPoint, LineName, PairReason, ProblemReason, Severity, Side,
    SideName, UnusedFixes,
};
use takeline::zone::{Slip, Zone};
use takeline::{
    Containment, MagneticBearing, SideKind, TakeAnswer, Tristate, TrueBearing, assess as answer, binding,
    rule, track,
};

use super::here::{self, FieldPhrase, FishPhrase, Heading, Label, PlacePhrase, WaterPhrase};
use super::track::{catches, headline, log, outcomes, visits};
use super::transit::EyeSentence;
use super::{WayPhrase, assess, calibration, first_lines, in_short, rules, seasons, transit, ways};
use crate::cautions::{CAUTIONS, TRANSIT_LIMITS};
use crate::figures::{self, Units};
use crate::track::{
    CatchDocument, ClosestDocument, GapDocument, Headline, MomentDocument, QualityDocument, ShownPlace,
    SpeedDocument, SuspectDocument, TrackDocument, Verdict, VerdictReason, VisitDocument, ZoneTally,
};
use crate::transit::PositionUnsettled;

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
    /// The units that lengths, speeds and areas are shown in; metric ones if nothing else is said.
    fn units(&self) -> Units {
        Units::Metric
    }

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

    /// How a bag counts a row of a catch log: "takes the count to 11; at most 10 per person
    /// per day in Gannet Bank (clause 10(1))".
    fn bag_note(&self, note: &BagNote) -> String {
        catches::bag_note(self, note)
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

    /// A warning that changes the answer, for the first lines: the longest first, and the last in ten columns.
    fn warning_in_short(&self, warning: &Warning) -> [String; 2] {
        in_short::warning_in_short(self, warning)
    }

    /// What would settle the answer about a fix, for the first lines: the longest first, and the last in twenty columns.
    fn remedy_in_short(&self, remedy: &Remedy) -> Vec<String> {
        in_short::remedy_in_short(remedy)
    }

    /// Why a fish has to go back, for the first lines: long, and in eleven columns; none where the reason is none of going back.
    fn refusal(&self, reason: &answer::Reason) -> Option<[String; 2]> {
        in_short::refusal(self, reason)
    }

    /// A part of an uncertainty that nobody stated.
    fn assumption(&self, assumption: Assumption) -> String {
        assess::assumption(self, assumption)
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
        first_lines::water(self, phrase)
    }

    /// Where that is, how sure, and what settles it.
    fn place(&self, phrase: &PlacePhrase<'_>) -> String {
        first_lines::place(self, phrase)
    }

    /// A way: out of closed water, along the bow, home.
    fn way(&self, phrase: &WayPhrase<'_>) -> String {
        ways::way(self, phrase)
    }

    /// What may be done with fish, on the line for it.
    fn fish_line(&self, phrase: &FishPhrase<'_>) -> String {
        first_lines::fish_line(self, phrase)
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

    /// A magnetic bearing: "053° magnetic".
    fn magnetic_bearing(&self, bearing: MagneticBearing) -> String {
        bearing.to_string()
    }

    /// A true bearing and the magnetic one for a narrow screen: "045° T, 053° M".
    fn bearings_in_short(&self, bearing: TrueBearing, magnetic: MagneticBearing) -> String {
        transit::bearings_in_short(bearing, magnetic)
    }

    /// Why there is no magnetic bearing: the time is outside the life of the model, or no time was given.
    fn variation_not_known(&self, outside: Option<&OutsideMagneticModel>) -> String {
        transit::variation_not_known(outside)
    }

    /// What no answer can know.
    fn cautions(&self) -> [&'static str; 4] {
        CAUTIONS
    }

    /// Why a visit or a catch is answered as it is.
    fn track_reason(&self, reason: &track::Reason) -> String {
        catches::reason(self, reason)
    }

    /// Why a track tells no position at the time of a catch.
    fn missing_position(&self, why: NoPosition) -> String {
        catches::missing_position(why)
    }

    /// What a log leaves open about how many fish count against a bag.
    fn bag_unknown(&self, unknown: BagUnknown) -> String {
        catches::bag_unknown(unknown)
    }

    /// What would settle the answer about a catch.
    fn track_remedy(&self, remedy: &track::Remedy) -> String {
        catches::remedy(self, remedy)
    }

    /// What came of one catch, in one sentence.
    fn caught(&self, catch: &CatchDocument<'_>) -> String {
        catches::caught(self, catch)
    }

    /// What a track comes to: the first lines of its text.
    fn track_headline(&self, document: &TrackDocument<'_>, verdict: &Verdict<'_>) -> Headline {
        headline::headline(self, document, verdict)
    }

    /// The verdict and what happened in one sentence.
    fn verdict_sentence(&self, headline: &Headline) -> String {
        headline::sentence(headline)
    }

    /// Whether something is against a loaded rule: "nothing against the rule".
    fn outcome_answer(&self, answer: OutcomeAnswer) -> String {
        outcomes::answer(answer).to_owned()
    }

    /// Why the outcome of a visit or a catch is as it is.
    fn outcome_reason(&self, reason: &OutcomeReason) -> String {
        outcomes::reason(self, reason)
    }

    /// Something that bears on a rule and that a log does not show.
    fn not_shown(&self, not_shown: &NotShown) -> String {
        outcomes::not_shown(self, not_shown)
    }

    /// Why the verdict of a trip is as it is.
    fn verdict_reason(&self, document: &TrackDocument<'_>, reason: &VerdictReason) -> String {
        outcomes::verdict_reason(self, document, reason)
    }

    /// What somebody who reads no further than the first lines has to know of the log, one sentence each.
    fn track_remarks(&self, document: &TrackDocument<'_>) -> Vec<String> {
        log::first_remarks(self, document)
    }

    /// How far the nearest side is that a boat can cross, where that is another one than the nearest of all.
    fn crossable_from(&self, closest: &ClosestDocument<'_>) -> String {
        visits::crossable_from(self, closest)
    }

    /// What of a log lies on land.
    fn on_land(&self, quality: &QualityDocument<'_>) -> Vec<String> {
        log::on_land(self, quality)
    }

    /// How the log was put in order, one sentence each.
    fn log_order(&self, quality: &QualityDocument<'_>) -> Vec<String> {
        log::order_sentences(quality)
    }

    /// What many tracks did at one zone.
    fn season_zone(&self, tally: &ZoneTally, tracks: u64) -> String {
        log::season_zone(self, tally, tracks)
    }

    /// How many logs there were, and of how many something is against a loaded rule, is not settled, or nothing is.
    fn season_counts(&self, logs: u64, counts: [u64; 3]) -> String {
        log::counts(logs, counts)
    }

    /// What is not in the figures of many tracks, or not to be relied on, one sentence each: how many logs could not be read, hold
    /// routes only, or are not settled.
    fn season_reservations(&self, unread: u64, plans: u64, unsettled: u64) -> Vec<String> {
        log::reservations(unread, plans, unsettled)
    }

    /// That no track came near any zone.
    fn season_without_zones(&self) -> String {
        format!("no loaded zone within {} of any of them", figures::limit(self.units(), 20.0))
    }

    /// What a track cannot show, one sentence each.
    fn track_limits(&self) -> Vec<String> {
        visits::track_limits()
    }

    /// What the page of a track cannot show beside that.
    fn page_limits(&self) -> Vec<String> {
        visits::page_limits()
    }

    /// How sure it is that the boat was inside.
    fn certainty(&self, certainty: Certainty) -> String {
        visits::certainty(certainty).to_owned()
    }

    /// Which way the boat went over a line.
    fn direction(&self, direction: Direction) -> String {
        visits::direction(direction).to_owned()
    }

    /// On which side of the lines the boat was at a fix; none is outside all.
    fn standing(&self, standing: Option<Certainty>) -> String {
        visits::standing(standing).to_owned()
    }

    /// What a visit is known from.
    fn known_from(&self, document: &TrackDocument<'_>, visit: &VisitDocument<'_>) -> String {
        visits::known_from(self, document, visit)
    }

    /// How long a visit surely lasted; by way where there are no times.
    fn certain_span(&self, visit: &VisitDocument<'_>) -> String {
        visits::certain_span(self, visit)
    }

    /// How long a visit can have lasted at most.
    fn possible_span(&self, visit: &VisitDocument<'_>) -> String {
        visits::possible_span(self, visit)
    }

    /// How deep inside the boat was.
    fn depth(&self, visit: &VisitDocument<'_>) -> String {
        visits::depth(self, visit)
    }

    /// The way of a visit, and that more was made where nothing was logged.
    fn visit_way(&self, visit: &VisitDocument<'_>) -> String {
        visits::way_and_gaps(self, visit)
    }

    /// The slowest and the fastest leg, and the mean.
    fn speeds(&self, speeds: SpeedDocument) -> String {
        visits::speeds(self, speeds)
    }

    /// Whether a rule was in force, and for how long of the time inside where that was not all of it.
    fn in_force_then(&self, visit: &VisitDocument<'_>) -> String {
        visits::in_force_then(self, visit)
    }

    /// A condition of crossing a zone, as a track is held to it.
    fn crossing_condition(&self, condition: &Condition) -> String {
        visits::crossing_condition(self, condition)
    }

    /// Whether such a condition was met, as far as a track says.
    fn condition_met(&self, met: Tristate) -> String {
        visits::condition_met(met).to_owned()
    }

    /// Why it was met, or not, or why that is not known.
    fn condition_reason(&self, reason: ConditionReason) -> String {
        visits::condition_reason(self, reason)
    }

    /// How the boat moved, or what a time at an end of the log was taken for.
    fn motion(&self, motion: &Motion) -> String {
        visits::motion(self, motion)
    }

    /// When and where, by the clock of the zone too.
    fn moment(&self, moment: &MomentDocument, zone: Option<&Zone>) -> String {
        visits::moment(self, moment, zone)
    }

    /// A place, or that it is withheld.
    fn shown_place(&self, place: ShownPlace) -> String {
        visits::place(place)
    }

    /// Suspect fixes of a kind.
    fn suspicion(&self, suspicion: Suspicion) -> String {
        visits::suspicion(suspicion).to_owned()
    }

    /// A suspect fix, and the speed that it would have needed.
    fn suspect_fix(&self, suspect: &SuspectDocument) -> String {
        visits::suspect_fix(self, suspect)
    }

    /// A gap: how long, how far, and what the boat could reach in it.
    fn gap(&self, gap: &GapDocument<'_>) -> String {
        visits::gap(self, gap)
    }

    /// That an end of a gap is not known, that it parts two trips, or that no boat makes its way; none otherwise.
    fn gap_remark(&self, gap: &GapDocument<'_>) -> Option<String> {
        visits::gap_remark(gap).map(str::to_owned)
    }

    /// Where the boat was at a fix, by the clock of a time zone.
    fn at_fix(&self, document: &TrackDocument<'_>, point: &TrackPoint, clock: &TimeZone) -> String {
        visits::at_fix(self, document, point, clock)
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

    /// What no check of marks can know, one sentence each. The first is left out where a problem says it at more length.
    fn transit_limits(&self) -> [&'static str; 4] {
        TRANSIT_LIMITS
    }

    /// What a line of position is called, by its marks: "the bearing of Lone Pine".
    fn line_name(&self, line: &LineName) -> String {
        transit::line_name(line)
    }

    /// What leaves a position from lines open, whatever the water is there.
    fn position_unsettled(&self, why: PositionUnsettled) -> String {
        transit::position_unsettled(why).to_owned()
    }

    /// What would settle that.
    fn position_remedy(&self, why: PositionUnsettled) -> String {
        transit::position_remedy(why).to_owned()
    }

    /// Which fixes on a line are not used, and why: "fixes 2 and 3 are not used: they are …".
    fn unused_fixes(&self, unused: &UnusedFixes) -> String {
        calibration::unused(self, unused)
    }

    /// What follows from fixes taken on a line.
    fn calibration_reason(&self, reason: &CalibrationReason) -> String {
        calibration::reason(self, reason)
    }

    /// Why a pair of marks ranks as it does.
    fn pair_reason(&self, reason: &PairReason) -> String {
        transit::pair(self, reason)
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

    /// What follows a distance to a boundary where no boat crosses it there: ", from its shore"; empty where one can.
    fn side_there(&self, side: SideKind) -> String {
        transit::side_there(side).to_owned()
    }

    /// Left or right.
    fn left_or_right(&self, side: Side) -> String {
        transit::left_or_right(side).to_owned()
    }

    /// How bad a problem is.
    fn severity(&self, severity: Severity) -> String {
        transit::severity(severity).to_owned()
    }

    /// An area, given in square metres, in one unit of [`Words::units`]: "4620 m²" below a hectare, "15 ha" above.
    ///
    /// To three digits below a hectare, to a tenth below ten hectares, to a whole hectare below a thousand, then to three
    /// digits, and in other units alike: fishing water is not surveyed more closely. Nothing is "none"; what is no number is "not known".
    fn area(&self, area_m2: f64) -> String {
        figures::area(self.units(), area_m2)
    }
}

/// English.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct English;

impl Words for English {}

/// English, with lengths, speeds and areas in these units.
///
/// # Examples
///
/// ```
/// use takeline_report::Units;
/// use takeline_report::words::{English, EnglishIn, Words};
///
/// assert_eq!(EnglishIn(Units::Us).area(4_620.0), "1.1 acres");
/// assert_eq!(EnglishIn(Units::Metric).area(4_620.0), English.area(4_620.0));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct EnglishIn(pub Units);

impl Words for EnglishIn {
    fn units(&self) -> Units {
        self.0
    }
}

/// The words of the language that a document speaks.
#[derive(Clone, Copy)]
pub(crate) struct Spoken<'a>(pub(crate) &'a dyn Words);

impl<'a> Deref for Spoken<'a> {
    type Target = dyn Words + 'a;

    fn deref(&self) -> &Self::Target {
        self.0
    }
}

impl fmt::Debug for Spoken<'_> {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("Spoken")
    }
}

/// Texts in the order of what they say.
pub(crate) fn each<T>(list: &[T], words: impl Fn(&T) -> String) -> Vec<String> {
    list.iter().map(words).collect()
}

/// Texts one after another in one.
pub(crate) fn joined<T>(list: &[T], separator: &str, words: impl Fn(&T) -> String) -> String {
    each(list, words).join(separator)
}
