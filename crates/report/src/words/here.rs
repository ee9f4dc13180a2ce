//! What the text of `here` says beside reasons: labels, headings, the phrases of its first lines and of its fields, in English.

use takeline::{Containment, TakeAnswer, Tristate, TrueBearing, UncertaintySource, WaterStatus};

use super::Words;
use crate::figures;

/// What stands before a value in the text of `here`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[expect(missing_docs, reason = "each is named as it reads in English")]
#[non_exhaustive]
pub enum Label {
    At,
    Doubt,
    Time,
    Answer,
    Because,
    ToSettle,
    TheMoveEndsAt,
    StandoffKept,
    Condition,
    AboardCaughtElsewhere,
    Side,
    InsideIfErrorsAreNormal,
    NearestLine,
    Assumed,
    InForce,
    Rule,
    ToCross,
    But,
    Law,
    ItsWords,
    Edition,
    File,
}

/// What stands above a section of the text of `here`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Heading<'a> {
    /// Warnings about the data.
    Warnings,
    /// The fix.
    Fix,
    /// The water.
    Water,
    /// A fish, as it was asked about.
    Fish(&'a str),
    /// A zone, by its name.
    Zone(&'a str),
    /// What no answer can know.
    BearInMind,
}

/// What the water is: the first line of `here`, and a field. Lengths are given as they are to be printed.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum WaterPhrase<'a> {
    /// The water is closed.
    ClosedWater,
    /// The water is closed, in short, and what else the line holds.
    Closed(&'a str),
    /// Rules of so many zones limit what may be kept.
    LimitedByZones(usize),
    /// A rule limits what may be kept, in short: which, whose, or how far its line is.
    Limited(&'a str),
    /// Rules limit what may be kept.
    LimitedWater,
    /// A zone applies, and restricts nothing.
    NothingRestricts,
    /// No loaded zone applies.
    NoZoneApplies,
    /// The same, and how far the nearest line is.
    NoZoneAppliesBy(&'a str),
    /// The water is undecided, and what else the line holds.
    Undecided {
        /// Whether some fish may be kept all the same.
        may_any_be_kept: bool,
        /// Why, or how far the line is.
        and: &'a str,
    },
    /// The water is undecided, and nothing else.
    UndecidedWater {
        /// Whether some fish may be kept all the same.
        may_any_be_kept: bool,
    },
    /// On a side by so much: the distance with its doubt.
    SideBy(Containment, &'a str),
    /// How far in or out of undecided water, in short.
    OffTheLine {
        /// The side.
        side: Containment,
        /// How far the line is.
        distance: &'a str,
        /// The doubt of that.
        doubt: &'a str,
    },
    /// What the water is.
    Water {
        /// That.
        water: WaterStatus,
        /// Whether some fish may be kept all the same.
        may_any_be_kept: bool,
    },
}

/// Where that is, how sure, and what settles it: the other first lines. Zones are given by their names.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum PlacePhrase<'a> {
    /// On the border of several zones: their names.
    OnTheBorder(&'a [&'a str]),
    /// On the border of so many zones.
    OnTheBorderOf(usize),
    /// Inside one or another of the zones.
    InsideOneOrTheOther,
    /// No zone is near.
    NoZoneIsNear,
    /// That other rules may apply.
    OtherRules,
    /// The nearest zone is so far off that the fix is to be checked.
    NoZoneWithin100Km,
    /// The nearest zone.
    Nearest(&'a str),
    /// The zone whose line is near, and where that line is.
    LineToward(TrueBearing, &'a str),
    /// The zone whose side is open.
    UndecidedZone(&'a str),
    /// A zone that restricts nothing.
    RestrictsNothing(&'a str),
    /// A zone whose rule does not bind whoever asks.
    DoesNotBind(&'a str),
    /// Zones whose rules bind.
    InForceHere(&'a [&'a str]),
    /// One of so many zones whose rules bind.
    InForceOneOf(usize, &'a str),
    /// A zone whose rule is not in force.
    NotInForce(&'a str),
    /// A zone whose rule may be in force.
    InForceOrNot(&'a str),
    /// The stand-off is kept.
    StandoffKept,
    /// The stand-off is not kept, or it is open; and why, or the zone.
    Standoff(Tristate, &'a str),
    /// No zone is loaded whose line could be measured to.
    NoLineLoaded,
    /// The line of the zone is not known here.
    LineNotKnown(Containment),
    /// On the line, and the doubt.
    OnTheLine(Containment, &'a str),
    /// How far the line is and where.
    Measure {
        /// The side.
        side: Containment,
        /// How far the line is, with its doubt.
        figures: &'a str,
        /// Where it is, if the line has room for that.
        bearing: Option<TrueBearing>,
    },
    /// What settles it.
    ToSettle(&'a str),
    /// That nothing known settles it.
    NothingSettles,
    /// A move that settles the side.
    Move {
        /// How far.
        distance: &'a str,
        /// Where to.
        bearing: TrueBearing,
        /// What the water is there.
        water_there: WaterStatus,
    },
}

/// What may be done with fish, on the line for it. Fish are given as they were asked about.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum FishPhrase<'a> {
    /// The fish may be kept.
    Keep(&'a str),
    /// The fish may be kept within these sizes and bags.
    KeepIf {
        /// The fish.
        fish: &'a str,
        /// Sizes and bags.
        figures: &'a str,
        /// Whether there is no room to point to the conditions below.
        is_short: bool,
    },
    /// The fish may be kept under conditions.
    KeepIfConditionsHold {
        /// The fish.
        fish: &'a str,
        /// Whether the name comes last, where it may be cut.
        is_short: bool,
    },
    /// A size: from, to, in centimetres.
    SizeCm(Option<f64>, Option<f64>),
    /// A bag.
    AtMost(u32),
    /// The fish has to go back; and why, or whose rule says so.
    Release(&'a str, Option<&'a str>),
    /// One or another of these zones.
    OneOrAnother(&'a [String]),
    /// The fish is undecided.
    UndecidedFish {
        /// The fish.
        fish: &'a str,
        /// Whether the name comes last, where it may be cut.
        is_short: bool,
    },
    /// No loaded rule mentions the fish.
    NoRuleMentions(&'a str),
    /// Answers about several fish, and whether there are conditions below.
    SeveralFish(&'a str, bool),
}

/// The value of a field, or of a row of a batch.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum FieldPhrase<'a> {
    /// The answer to a row of a batch.
    Row(u64, &'a str),
    /// Yes, under the conditions below.
    YesAsFollows,
    /// The doubt of a fix.
    FixDoubt {
        /// How much.
        doubt: &'a str,
        /// Who says so.
        source: UncertaintySource,
        /// Whether an accuracy of 0 was given.
        zero_was_given: bool,
    },
    /// A time as printed, and whether it is what the clock of this device says.
    At(&'a str, bool),
    /// The time is not known.
    TimeUnknown,
    /// The side of a zone whose line is not known.
    SideLineUnknown(Containment),
    /// The side of a zone on whose line the fix is.
    SideOnTheLine(Containment, &'a str),
    /// The side of a zone whose line is nearer than the doubt is wide.
    SideLineAway(Containment, &'a str),
    /// A share of 0 to 1.
    Percent(f64),
    /// Where the nearest line is: its direction, its position.
    NearestLine(TrueBearing, &'a str),
    /// The doubt of a distance.
    Doubt {
        /// The whole of it.
        whole: &'a str,
        /// The part of the fix.
        fix: &'a str,
        /// Whether line and datum have a part in it.
        has_line: bool,
        /// What the readings of edges differ by, and whether they differ about the side.
        reading_gap: Option<(&'a str, bool)>,
    },
    /// The edition of a file, and the day on which the law was read.
    Edition(Option<&'a str>, Option<&'a str>),
    /// A file, and how its digest begins.
    File(&'a str, &'a str),
}

pub(super) fn label(label: Label) -> &'static str {
    match label {
        Label::At => "at",
        Label::Doubt => "doubt",
        Label::Time => "time",
        Label::Answer => "answer",
        Label::Because => "because",
        Label::ToSettle => "to settle",
        Label::TheMoveEndsAt => "the move ends at",
        Label::StandoffKept => "stand-off kept",
        Label::Condition => "condition",
        Label::AboardCaughtElsewhere => "aboard, caught elsewhere",
        Label::Side => "side",
        Label::InsideIfErrorsAreNormal => "inside, if errors are normal",
        Label::NearestLine => "nearest line",
        Label::Assumed => "assumed",
        Label::InForce => "in force",
        Label::Rule => "rule",
        Label::ToCross => "to cross",
        Label::But => "but",
        Label::Law => "law",
        Label::ItsWords => "its words",
        Label::Edition => "edition",
        Label::File => "file",
    }
}

pub(super) fn heading(heading: Heading<'_>) -> String {
    match heading {
        Heading::Warnings => "WARNINGS".into(),
        Heading::Fix => "FIX".into(),
        Heading::Water => "WATER".into(),
        Heading::Fish(asked) => format!("FISH {asked}"),
        Heading::Zone(name) => format!("ZONE {name}"),
        Heading::BearInMind => "BEAR IN MIND".into(),
    }
}

/// The word for a three-valued answer.
pub(crate) fn answer(tristate: Tristate) -> &'static str {
    match tristate {
        Tristate::Yes => "yes",
        Tristate::No => "no",
        Tristate::Undecided => "undecided",
    }
}

/// The word for a side. The same three everywhere.
pub(super) fn side(side: Containment) -> &'static str {
    match side {
        Containment::Inside => "inside",
        Containment::Outside => "outside",
        Containment::Undecided => "undecided",
    }
}

/// Returns the word for an answer about a fish: `KEEP`, `RELEASE`, `UNDECIDED` or `NO LOADED ZONE`.
#[must_use]
pub fn take_answer_word(answer: TakeAnswer) -> &'static str {
    match answer {
        TakeAnswer::Keep => "KEEP",
        TakeAnswer::Release => "RELEASE",
        TakeAnswer::Undecided => "UNDECIDED",
        TakeAnswer::Unzoned => "NO LOADED ZONE",
    }
}

/// The water on the first line.
pub(super) fn water(words: &(impl Words + ?Sized), phrase: &WaterPhrase<'_>) -> String {
    match *phrase {
        WaterPhrase::ClosedWater => "CLOSED WATER: nothing may be taken here".into(),
        WaterPhrase::Closed(and) => format!("CLOSED WATER: {and}"),
        WaterPhrase::LimitedByZones(together) => format!("LIMITED WATER: rules of {together} zones bind"),
        WaterPhrase::Limited(by) => format!("LIMITED WATER: {by}"),
        WaterPhrase::LimitedWater => "LIMITED WATER: rules bind what you keep".into(),
        WaterPhrase::NothingRestricts => "No loaded rule restricts you here".into(),
        WaterPhrase::NoZoneApplies => "No loaded zone applies here".into(),
        WaterPhrase::NoZoneAppliesBy(figures) => format!("No loaded zone applies here; {figures}"),
        // a fish may be kept in undecided water where every side of the line allows it; then no line may forbid it
        WaterPhrase::Undecided { may_any_be_kept: true, and } => format!("UNDECIDED WATER; {and}"),
        WaterPhrase::Undecided { may_any_be_kept: false, and } => format!("UNDECIDED: do not keep; {and}"),
        WaterPhrase::UndecidedWater { may_any_be_kept: true } => "UNDECIDED WATER: keep only as said".into(),
        WaterPhrase::UndecidedWater { may_any_be_kept: false } => {
            "UNDECIDED: do not keep what you catch".into()
        }
        WaterPhrase::SideBy(side, figures) => format!("{} by {figures}", words.side(side)),
        WaterPhrase::OffTheLine { side: Containment::Inside, distance, doubt } => {
            format!("{distance} in, {doubt}")
        }
        WaterPhrase::OffTheLine { side: Containment::Outside, distance, doubt } => {
            format!("{distance} out, {doubt}")
        }
        WaterPhrase::OffTheLine { side: Containment::Undecided, distance, doubt } => {
            format!("line {distance} {doubt}")
        }
        WaterPhrase::Water { water, may_any_be_kept } => match water {
            WaterStatus::Closed => "closed, nothing may be taken",
            WaterStatus::Restricted => "limited, a rule binds what may be kept",
            WaterStatus::Unzoned => "no loaded rule restricts anything; other rules may",
            WaterStatus::Undecided if may_any_be_kept => {
                "undecided; until it is settled keep only the fish that say KEEP"
            }
            WaterStatus::Undecided => "undecided; until it is settled keep nothing",
        }
        .into(),
    }
}

/// The zone, the stand-off, the measure and what settles it.
pub(super) fn place(words: &(impl Words + ?Sized), phrase: &PlacePhrase<'_>) -> String {
    let upper = |side| words.side(side).to_uppercase();
    match *phrase {
        PlacePhrase::OnTheBorder(zones) => format!("On the border: {}", zones.join("; ")),
        PlacePhrase::OnTheBorderOf(count) => format!("On the border of {count} zones"),
        PlacePhrase::InsideOneOrTheOther => "INSIDE one or the other".into(),
        PlacePhrase::NoZoneIsNear => "No zone is near; other rules may apply".into(),
        PlacePhrase::OtherRules => "Other rules may apply".into(),
        PlacePhrase::NoZoneWithin100Km => {
            format!("No zone within {}: check the fix", figures::limit(words.units(), 100.0))
        }
        PlacePhrase::Nearest(zone) => format!("Nearest: {zone}"),
        PlacePhrase::LineToward(bearing, zone) => format!("Line {}: {zone}", words.bearing(bearing)),
        PlacePhrase::UndecidedZone(zone) => format!("Undecided: {zone}"),
        PlacePhrase::RestrictsNothing(zone) => format!("Restricts nothing: {zone}"),
        PlacePhrase::DoesNotBind(zone) => format!("Does not bind you: {zone}"),
        PlacePhrase::InForceHere(zones) => format!("In force: {}", zones.join("; ")),
        PlacePhrase::InForceOneOf(together, zone) => format!("In force, 1 of {together}: {zone}"),
        PlacePhrase::NotInForce(zone) => format!("Not in force now: {zone}"),
        PlacePhrase::InForceOrNot(zone) => format!("In force or not: {zone}"),
        PlacePhrase::StandoffKept => "Stand-off kept".into(),
        PlacePhrase::Standoff(Tristate::No, why) => format!("Stand-off NOT kept: {why}"),
        PlacePhrase::Standoff(Tristate::Yes | Tristate::Undecided, why) => {
            format!("Stand-off UNDECIDED: {why}")
        }
        PlacePhrase::NoLineLoaded => "Nearest line: none is loaded near here".into(),
        PlacePhrase::LineNotKnown(side) => match side {
            Containment::Undecided => "UNDECIDED: its line is not known here",
            Containment::Inside => "INSIDE; its line is not known here",
            Containment::Outside => "OUTSIDE of where its line may be",
        }
        .into(),
        PlacePhrase::OnTheLine(side, doubt) => format!("{}: on the line, {doubt}", upper(side)),
        PlacePhrase::Measure { side, figures, bearing } => {
            let bearing = bearing.map(|bearing| words.bearing(bearing));
            match (side, bearing) {
                (Containment::Undecided, Some(bearing)) => {
                    format!("{}: line {figures}, {bearing}", upper(side))
                }
                (Containment::Undecided, None) => format!("{}: line {figures}", upper(side)),
                (_, Some(bearing)) => format!("{} by {figures}, line {bearing}", upper(side)),
                (_, None) => format!("{} by {figures}", upper(side)),
            }
        }
        PlacePhrase::ToSettle(what) => format!("To settle: {what}"),
        PlacePhrase::NothingSettles => "To settle: nothing known here will do".into(),
        PlacePhrase::Move { distance, bearing, water_there } => {
            format!("move {distance} toward {}{}", words.bearing(bearing), there(water_there))
        }
    }
}

/// What a move leads to, where it does not lead out of every zone.
fn there(water: WaterStatus) -> &'static str {
    match water {
        WaterStatus::Unzoned => "",
        WaterStatus::Closed => ", which is surely closed water",
        WaterStatus::Restricted => ", which is surely limited water",
        WaterStatus::Undecided => ", which is still undecided",
    }
}

pub(super) fn fish_line(words: &(impl Words + ?Sized), phrase: &FishPhrase<'_>) -> String {
    let sizes = |min_cm, max_cm| figures::fish_sizes(words.units(), min_cm, max_cm, "-").unwrap_or_default();
    match *phrase {
        FishPhrase::Keep(fish) => format!("KEEP {fish}"),
        FishPhrase::KeepIf { fish, figures, is_short: false } => {
            format!("KEEP {fish} if {figures}; see below")
        }
        FishPhrase::KeepIf { fish, figures, is_short: true } => format!("KEEP {fish} if {figures}, …"),
        FishPhrase::KeepIfConditionsHold { fish, is_short: false } => {
            format!("KEEP {fish}, if the conditions hold")
        }
        FishPhrase::KeepIfConditionsHold { fish, is_short: true } => {
            format!("KEEP if conditions hold: {fish}")
        }
        FishPhrase::SizeCm(min @ Some(_), None) => format!("{} up", sizes(min, None)),
        FishPhrase::SizeCm(None, max @ Some(_)) => format!("{} down", sizes(None, max)),
        FishPhrase::SizeCm(min, max) => sizes(min, max),
        FishPhrase::AtMost(count) => format!("{count} max"),
        FishPhrase::Release(fish, None) => format!("RELEASE {fish}"),
        FishPhrase::Release(fish, Some(why)) => format!("RELEASE {fish}: {why}"),
        FishPhrase::OneOrAnother(zones) => zones.join(" or "),
        FishPhrase::UndecidedFish { fish, is_short: false } => format!("UNDECIDED {fish}: do not keep it"),
        FishPhrase::UndecidedFish { fish, is_short: true } => format!("UNDECIDED, do not keep: {fish}"),
        FishPhrase::NoRuleMentions(fish) => format!("NO LOADED ZONE speaks of {fish}"),
        FishPhrase::SeveralFish(answers, true) => format!("{answers}; see below"),
        FishPhrase::SeveralFish(answers, false) => answers.to_owned(),
    }
}

pub(super) fn field(words: &(impl Words + ?Sized), phrase: &FieldPhrase<'_>) -> String {
    match *phrase {
        FieldPhrase::Row(number, text) => format!("line {number}: {text}"),
        FieldPhrase::YesAsFollows => "yes, as follows".into(),
        FieldPhrase::FixDoubt { doubt, source, zero_was_given } => {
            let source = match source {
                UncertaintySource::Given => "given",
                UncertaintySource::Assumed if zero_was_given => "assumed: 0 counts as not given",
                UncertaintySource::Assumed => "assumed, none was given",
            };
            format!("{doubt} (95 %), {source}")
        }
        FieldPhrase::At(time, false) => time.to_owned(),
        FieldPhrase::At(time, true) => format!("{time}, by the clock of this device"),
        FieldPhrase::TimeUnknown => "not known".into(),
        FieldPhrase::SideLineUnknown(side) => {
            format!("{}; where its line runs is not known", words.side(side))
        }
        FieldPhrase::SideOnTheLine(side, figures) => format!("{}, on the line ({figures})", words.side(side)),
        FieldPhrase::SideLineAway(side, figures) => {
            format!("{}; the line is {figures} away", words.side(side))
        }
        // the ends are never claimed outright
        FieldPhrase::Percent(share) if share < 0.01 => "less than 1\u{a0}%".into(),
        FieldPhrase::Percent(share) if share > 0.99 => "more than 99\u{a0}%".into(),
        FieldPhrase::Percent(share) => format!("{:.0}\u{a0}%", share * 100.0),
        FieldPhrase::NearestLine(bearing, position) => format!("{}, at {position}", words.bearing(bearing)),
        FieldPhrase::Doubt { whole, fix, has_line, reading_gap } => {
            let line = if has_line { "; line and datum as the file states them" } else { "" };
            let gap = reading_gap.map_or_else(String::new, |(gap, sides_differ)| {
                let sides = if sides_differ { ", which differ about the side" } else { "" };
                format!("; half of the {gap} between readings of edges the text leaves open{sides}")
            });
            format!("{whole} (95 %) from fix {fix}{line}{gap}")
        }
        FieldPhrase::Edition(edition, read) => {
            let read = read.unwrap_or("on a day not stated");
            format!("{}; law read {read}", edition.unwrap_or("not stated"))
        }
        FieldPhrase::File(path, digits) => format!("{path}, sha256 {digits}"),
    }
}

#[cfg(test)]
mod tests {
    use super::FieldPhrase;
    use crate::words::{English, Words};

    #[test]
    fn certainty_is_never_claimed() {
        let percent = |share| English.field(&FieldPhrase::Percent(share));
        assert_eq!(percent(1.0), "more than 99\u{a0}%");
        assert_eq!(percent(0.0), "less than 1\u{a0}%");
        assert_eq!(percent(0.215), "22\u{a0}%");
    }
}
