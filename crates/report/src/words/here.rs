//! What the text of `here` says beside reasons: labels, headings, the phrases of its first lines and of its fields, in English.

use jiff::ZonedDateTime;
use takeline::assess::{Reason, Remedy, Warning};
use takeline::rule::{self, BagPer, Clash, MissingTime};
use takeline::zone::Proofread;
use takeline::{Containment, SideKind, TakeAnswer, Tristate, TrueBearing, UncertaintySource, WaterStatus};

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
    Also,
    CaughtElsewhere,
    Side,
    ChanceOfBeingInside,
    NearestBoundary,
    Shore,
    NearestToCross,
    WayOut,
    AsShort,
    OverLand,
    WayEnds,
    Ahead,
    Enters,
    WayHome,
    Crosses,
    WayToKeep,
    Assumed,
    InForce,
    Rule,
    ToCross,
    But,
    Law,
    ItsWords,
    Edition,
    Proofread,
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
    /// Ways from the fix.
    Ways,
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
    /// Any fish may be kept, with this gear only or within limits.
    AnyFish(Option<&'a str>),
    /// What the water is, in twenty columns.
    InShort {
        /// That.
        water: WaterStatus,
        /// Whether some fish may be kept all the same.
        may_any_be_kept: bool,
        /// Whether a zone applies and restricts nothing.
        is_open: bool,
    },
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
    /// So far inside a zone: the distance with its uncertainty, the zone.
    InZone(&'a str, &'a str),
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
    /// The same, in twenty columns.
    NoneNear,
    /// The nearest zone is so far off that the fix is to be checked.
    NoZoneWithin100Km,
    /// The same, in twenty columns.
    FarOff,
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
    /// A zone that is proposed, or not yet in force.
    NotLawYet(&'a str),
    /// A zone whose rule may be in force.
    InForceOrNot(&'a str),
    /// The stand-off is kept.
    StandoffKept,
    /// The stand-off is not kept, or it is open; and why, or the zone.
    Standoff(Tristate, &'a str),
    /// The same, in twenty columns.
    StandoffInShort(Tristate),
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
        /// Whether it is the shore there.
        is_shore: bool,
    },
    /// The same, and of which zone.
    MeasureOf {
        /// The side.
        side: Containment,
        /// The zone.
        zone: &'a str,
        /// How far its boundary is, with the uncertainty.
        figures: &'a str,
        /// Where that is, if the line has room for it.
        bearing: Option<TrueBearing>,
        /// Whether it is the shore there.
        is_shore: bool,
    },
    /// At the shore of a zone: the side, and the zone.
    AtItsShore(Containment, &'a str),
    /// How far the boundary is, in twenty columns.
    MeasureInShort(Containment, &'a str),
    /// On the boundary, in twenty columns.
    OnTheLineInShort(&'a str),
    /// That the boundary is not known, in twenty columns.
    LineNotKnownInShort,
    /// A warning that changes the answer.
    Warning(&'a str),
    /// Several of them.
    Warnings(&'a str),
    /// So many of them.
    CountedWarnings(usize),
    /// What settles it.
    ToSettle(&'a str),
    /// That nothing known settles it.
    NothingSettles,
    /// The same, in twenty columns.
    NothingSettlesInShort,
    /// A move that leads out of every zone, in twenty columns.
    MoveInShort {
        /// How far.
        distance: &'a str,
        /// Where to.
        bearing: TrueBearing,
    },
    /// That the full answer says it, in twenty columns.
    SeeFullAnswer,
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
    /// The fish may be kept within this size and bag, and under more conditions.
    KeepWithin {
        /// The fish.
        fish: &'a str,
        /// Size and bag.
        figures: &'a str,
        /// Where the conditions stand.
        rest: Rest,
        /// Whether the figures are short ones.
        is_short: bool,
    },
    /// The fish may be kept under conditions; none is the fish where there is no room for its name.
    KeepIf(Option<&'a str>, Rest),
    /// A size, from, to, in centimetres; and whether in short.
    SizeCm(Option<f64>, Option<f64>, bool),
    /// The same in the units that people are shown alone, where they are not those of the law.
    SizeInUnits(Option<f64>, Option<f64>, bool),
    /// A bag.
    AtMost(u32),
    /// The fish has to go back.
    Release {
        /// The fish; none where there is no room for its name.
        fish: Option<&'a str>,
        /// Why.
        why: &'a str,
        /// Whether it may be on board, or may be so, if it was caught elsewhere.
        is_caught_here: bool,
    },
    /// Why it has to go back: the zone that closes the water.
    ClosedBy(&'a str),
    /// Why it has to go back, and by the rule of which zone.
    OfZone(&'a str, &'a str),
    /// Why it has to go back, where no reason has words that are short.
    AgainstTheRule,
    /// A fish and, in a list of several, why it has to go back.
    FishWhy(&'a str, &'a str),
    /// One or another of these zones.
    OneOrAnother(&'a [String]),
    /// Whether the fish may be on board if it was caught elsewhere; and, where there are conditions, where they stand.
    CaughtElsewhere {
        /// Whether it may.
        possession: Tristate,
        /// Where the conditions stand, if there are any.
        rest: Option<Rest>,
        /// How many columns are saved: 0 none, 1 some, 2 as many as can be.
        shortness: u8,
    },
    /// The fish is undecided; none is the fish where there is no room for its name.
    UndecidedFish(Option<&'a str>),
    /// No loaded rule mentions the fish; none is the fish where there is no room for its name.
    NoRuleMentions(Option<&'a str>),
    /// Fish that may be kept under conditions, in a list of several answers: as it reads with room, and in as few columns as can be.
    KeepTheseIf(&'a str, bool),
    /// Answers about several fish, and where there are conditions, where they stand.
    SeveralFish(&'a str, Option<Rest>),
    /// The harshest answer about several fish, and how many more fish there are.
    AndMoreFish(&'a str, usize),
}

/// Where what the first lines have no room for stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[non_exhaustive]
pub enum Rest {
    /// Below.
    Below,
    /// In the full answer, of which only the first lines are asked for.
    InFull,
}

/// The value of a field, or of a row of a batch.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum FieldPhrase<'a> {
    /// The answer to a row of a batch.
    Row(u64, &'a str),
    /// Whether a fish caught elsewhere may be on board, and whether there are conditions below.
    OnBoard(Tristate, bool),
    /// The doubt of a fix.
    FixDoubt {
        /// How much.
        doubt: &'a str,
        /// Who says so.
        source: UncertaintySource,
        /// Whether an accuracy of 0 was given.
        zero_was_given: bool,
    },
    /// A time in the time of a zone.
    At {
        /// The time.
        time: &'a ZonedDateTime,
        /// The zone, where zones of other times are near.
        zone: Option<&'a str>,
        /// Whether it is what the clock of this device says.
        by_clock: bool,
    },
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
    NearestBoundary(TrueBearing, &'a str),
    /// What the nearest side is, where it is no open water, and the law's words for the shore.
    SideThere(SideKind, Option<&'a str>),
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
    /// Who read the zone against the printed law.
    Proofread(&'a Proofread),
    /// A file, and how its digest begins.
    File(&'a str, &'a str),
}

pub(super) fn label(label: Label) -> &'static str {
    match label {
        Label::At => "position",
        Label::Doubt => "uncertainty",
        Label::Time => "time",
        Label::Answer => "answer",
        Label::Because => "because",
        Label::ToSettle => "to settle",
        Label::TheMoveEndsAt => "move to",
        Label::StandoffKept => "stand-off kept",
        Label::Condition => "if",
        Label::Also => "also",
        Label::CaughtElsewhere => "caught elsewhere",
        Label::Side => "side",
        Label::ChanceOfBeingInside => "chance of being inside",
        Label::NearestBoundary => "nearest boundary",
        Label::Shore => "that boundary is",
        Label::NearestToCross => "nearest that a boat can cross",
        Label::WayOut => "way out",
        Label::AsShort => "as short",
        Label::OverLand => "land",
        Label::WayEnds => "it ends in",
        Label::Ahead => "ahead",
        Label::Enters => "enters",
        Label::WayHome => "way home",
        Label::Crosses => "crosses",
        Label::WayToKeep => "may be kept",
        Label::Assumed => "assumed",
        Label::InForce => "in force",
        Label::Rule => "rule",
        Label::ToCross => "to cross",
        Label::But => "but",
        Label::Law => "law",
        Label::ItsWords => "in its words",
        Label::Edition => "edition",
        Label::Proofread => "proofread",
        Label::File => "zone file",
    }
}

pub(super) fn heading(heading: Heading<'_>) -> String {
    match heading {
        Heading::Warnings => "WARNINGS".into(),
        Heading::Fix => "FIX".into(),
        Heading::Water => "WATER".into(),
        Heading::Ways => "WAYS".into(),
        Heading::Fish(asked) => format!("FISH {asked}"),
        Heading::Zone(name) => format!("ZONE {name}"),
        Heading::BearInMind => "BEAR IN MIND".into(),
    }
}

/// An instant in local time and in UTC, to the second at most: `1 July 2026 05:25 (UTC-1, 06:25Z)`.
pub(crate) fn at(words: &(impl Words + ?Sized), time: &ZonedDateTime) -> String {
    let local = format!("{} {}", words.date(time.date()), words.clock(time.time()));
    let offset_min = time.offset().seconds() / 60;
    if offset_min == 0 {
        return format!("{local} UTC");
    }
    let (hours, minutes) = (offset_min.abs() / 60, offset_min.abs() % 60);
    let sign = if offset_min < 0 { '-' } else { '+' };
    let minutes = if minutes == 0 { String::new() } else { format!(":{minutes:02}") };
    let utc = time.with_time_zone(jiff::tz::TimeZone::UTC);
    let day = if utc.date() == time.date() { String::new() } else { format!("{} ", words.date(utc.date())) };
    format!("{local} (UTC{sign}{hours}{minutes}, {day}{}Z)", words.clock(utc.time()))
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

/// Returns the word for an answer about a fish: `KEEP`, `RELEASE`, `UNDECIDED` or `NO LOADED RULE`.
#[must_use]
pub fn take_answer_word(answer: TakeAnswer) -> &'static str {
    match answer {
        TakeAnswer::Keep => "KEEP",
        TakeAnswer::Release => "RELEASE",
        TakeAnswer::Undecided => "UNDECIDED",
        TakeAnswer::Unzoned => "NO LOADED RULE",
    }
}

/// The water on the first line.
pub(super) fn water(words: &(impl Words + ?Sized), phrase: &WaterPhrase<'_>) -> String {
    match *phrase {
        WaterPhrase::ClosedWater => "CLOSED WATER: nothing may be taken here".into(),
        WaterPhrase::Closed(and) => format!("CLOSED WATER: {and}"),
        WaterPhrase::LimitedByZones(together) => format!("RESTRICTED WATER: rules of {together} zones"),
        WaterPhrase::Limited(by) => format!("RESTRICTED WATER: {by}"),
        WaterPhrase::LimitedWater => "RESTRICTED WATER: limits on your catch".into(),
        WaterPhrase::AnyFish(Some(gear)) => format!("RESTRICTED WATER: any fish, {gear}"),
        WaterPhrase::AnyFish(None) => "RESTRICTED WATER: any fish, with limits".into(),
        WaterPhrase::InShort { water, may_any_be_kept, is_open } => match water {
            WaterStatus::Closed => "CLOSED WATER",
            WaterStatus::Restricted => "RESTRICTED WATER",
            WaterStatus::Unzoned if is_open => "No loaded rule binds",
            WaterStatus::Unzoned => "No loaded zone here",
            WaterStatus::Undecided if may_any_be_kept => "UNDECIDED WATER",
            WaterStatus::Undecided => "UNDECIDED: keep none",
        }
        .into(),
        WaterPhrase::NothingRestricts => "No loaded rule restricts you here".into(),
        WaterPhrase::NoZoneApplies => "No loaded zone applies here".into(),
        WaterPhrase::NoZoneAppliesBy(figures) => format!("No loaded zone here; edge {figures}"),
        // a fish may be kept in undecided water where every side of the line allows it; then no line may forbid it
        WaterPhrase::Undecided { may_any_be_kept: true, and } => format!("UNDECIDED WATER: {and}"),
        WaterPhrase::Undecided { may_any_be_kept: false, and } => format!("UNDECIDED: do not keep; {and}"),
        WaterPhrase::UndecidedWater { may_any_be_kept: true } => "UNDECIDED WATER: see each fish".into(),
        WaterPhrase::UndecidedWater { may_any_be_kept: false } => {
            "UNDECIDED: do not keep what you catch".into()
        }
        WaterPhrase::SideBy(side, figures) => format!("{} by {figures}", words.side(side)),
        WaterPhrase::InZone(figures, zone) => format!("{figures} in {zone}"),
        WaterPhrase::OffTheLine { side: Containment::Inside, distance, doubt } => {
            format!("{distance} in, {doubt}")
        }
        WaterPhrase::OffTheLine { side: Containment::Outside, distance, doubt } => {
            format!("{distance} out, {doubt}")
        }
        WaterPhrase::OffTheLine { side: Containment::Undecided, distance, doubt } => {
            format!("edge {distance} {doubt}")
        }
        WaterPhrase::Water { water, may_any_be_kept } => match water {
            WaterStatus::Closed => "closed: nothing may be taken",
            WaterStatus::Restricted => "restricted: there are limits on what may be taken",
            WaterStatus::Unzoned => "no loaded rule restricts anything; other rules may apply",
            WaterStatus::Undecided if may_any_be_kept => {
                "undecided; until it is settled, keep only the fish marked KEEP"
            }
            WaterStatus::Undecided => "undecided; until it is settled, keep nothing",
        }
        .into(),
    }
}

/// The zone, the stand-off, the measure and what settles it.
#[expect(clippy::too_many_lines, reason = "one line for each phrase")]
pub(super) fn place(words: &(impl Words + ?Sized), phrase: &PlacePhrase<'_>) -> String {
    let upper = |side| words.side(side).to_uppercase();
    match *phrase {
        PlacePhrase::OnTheBorder(zones) => format!("In one or the other: {}", zones.join("; ")),
        PlacePhrase::OnTheBorderOf(count) => format!("In one of {count} zones"),
        PlacePhrase::InsideOneOrTheOther => "INSIDE one of them".into(),
        PlacePhrase::NoZoneIsNear => "No zone is near; other rules may apply".into(),
        PlacePhrase::NoneNear => "No zone is near".into(),
        PlacePhrase::FarOff => "Far off: check fix".into(),
        PlacePhrase::NoZoneWithin100Km => {
            format!("No zone within {}: check the fix", figures::limit(words.units(), 100.0))
        }
        PlacePhrase::Nearest(zone) => format!("Nearest: {zone}"),
        PlacePhrase::LineToward(bearing, zone) => format!("Boundary {}: {zone}", words.bearing(bearing)),
        PlacePhrase::UndecidedZone(zone) => format!("Undecided: {zone}"),
        PlacePhrase::RestrictsNothing(zone) => format!("Restricts nothing: {zone}"),
        PlacePhrase::DoesNotBind(zone) => format!("Does not bind you: {zone}"),
        PlacePhrase::InForceHere(zones) => format!("In force: {}", zones.join("; ")),
        PlacePhrase::InForceOneOf(together, zone) => format!("In force, 1 of {together}: {zone}"),
        PlacePhrase::NotInForce(zone) => format!("Not in force now: {zone}"),
        PlacePhrase::NotLawYet(zone) => format!("Not law yet: {zone}"),
        PlacePhrase::InForceOrNot(zone) => format!("May be in force: {zone}"),
        PlacePhrase::Standoff(Tristate::No, why) => format!("Stand-off NOT kept: {why}"),
        PlacePhrase::Standoff(Tristate::Yes | Tristate::Undecided, why) => {
            format!("Stand-off UNDECIDED: {why}")
        }
        PlacePhrase::StandoffKept | PlacePhrase::StandoffInShort(Tristate::Yes) => "Stand-off kept".into(),
        PlacePhrase::StandoffInShort(Tristate::No) => "Stand-off NOT kept".into(),
        PlacePhrase::StandoffInShort(Tristate::Undecided) => "Stand-off UNDECIDED".into(),
        PlacePhrase::NoLineLoaded => "No boundary is loaded near here".into(),
        PlacePhrase::LineNotKnown(side) => match side {
            Containment::Undecided => "UNDECIDED: boundary not known here",
            Containment::Inside => "INSIDE; boundary not known here",
            Containment::Outside => "OUTSIDE wherever its boundary may be",
        }
        .into(),
        PlacePhrase::OnTheLine(side, doubt) => format!("{}: on the boundary, {doubt}", upper(side)),
        PlacePhrase::Measure { side, figures, bearing, is_shore } => {
            let edge = if is_shore { "shore" } else { "edge" };
            let bearing = bearing.map(|bearing| words.bearing(bearing));
            match (side, bearing) {
                (Containment::Undecided, Some(bearing)) => {
                    format!("{}: {edge} {figures}, {bearing}", upper(side))
                }
                (Containment::Undecided, None) => format!("{}: {edge} {figures}", upper(side)),
                (_, Some(bearing)) => format!("{} by {figures}, {edge} {bearing}", upper(side)),
                (_, None) => format!("{} by {figures}", upper(side)),
            }
        }
        PlacePhrase::MeasureOf { side, zone, figures, bearing, is_shore } => {
            let edge = if is_shore { "shore" } else { "edge" };
            let bearing =
                bearing.map_or_else(String::new, |bearing| format!(", {edge} {}", words.bearing(bearing)));
            format!("{} {zone} by {figures}{bearing}", upper(side))
        }
        PlacePhrase::AtItsShore(side, zone) => format!("{} {zone}, at its shore", upper(side)),
        PlacePhrase::MeasureInShort(Containment::Inside, figures) => format!("{figures} in"),
        PlacePhrase::MeasureInShort(Containment::Outside, figures) => format!("{figures} out"),
        PlacePhrase::MeasureInShort(Containment::Undecided, figures) => format!("edge {figures}"),
        PlacePhrase::OnTheLineInShort(doubt) => format!("On edge, {doubt}"),
        PlacePhrase::LineNotKnownInShort => "Boundary not known".into(),
        PlacePhrase::Warning(what) => format!("WARNING: {what}"),
        PlacePhrase::Warnings(what) => format!("WARNINGS: {what}"),
        PlacePhrase::CountedWarnings(count) => format!("{count} WARNINGS"),
        PlacePhrase::ToSettle(what) => format!("To settle: {what}"),
        PlacePhrase::NothingSettles => "Nothing on hand can settle this".into(),
        PlacePhrase::NothingSettlesInShort => "Cannot be settled".into(),
        PlacePhrase::MoveInShort { distance, bearing } => {
            format!("go {distance} {}", words.bearing(bearing))
        }
        PlacePhrase::SeeFullAnswer => "see the full answer".into(),
        PlacePhrase::Move { distance, bearing, water_there } => {
            format!("move {distance} toward {}{}", words.bearing(bearing), there(water_there))
        }
    }
}

/// What a move leads to, where it does not lead out of every zone.
fn there(water: WaterStatus) -> &'static str {
    match water {
        WaterStatus::Unzoned => "",
        WaterStatus::Closed => ", into closed water",
        WaterStatus::Restricted => ", into restricted water",
        WaterStatus::Undecided => ", still undecided there",
    }
}

pub(super) fn fish_line(words: &(impl Words + ?Sized), phrase: &FishPhrase<'_>) -> String {
    let units = words.units();
    match *phrase {
        FishPhrase::Keep(fish) => format!("KEEP {fish}"),
        FishPhrase::KeepWithin { fish, figures, rest, is_short: false } => {
            format!("KEEP {fish}{figures}, if: {}", rest_words(rest))
        }
        FishPhrase::KeepWithin { fish, figures, rest, is_short: true } => {
            format!("KEEP {fish}{figures}; {}", rest_words(rest))
        }
        FishPhrase::KeepIf(Some(fish), rest) => format!("KEEP {fish}, if: {}", rest_words(rest)),
        FishPhrase::KeepIf(None, rest) => format!("KEEP if: {}", rest_words(rest)),
        FishPhrase::SizeCm(min, max, is_short) => {
            size(min, max, is_short, |between| figures::fish_sizes(units, min, max, between))
        }
        FishPhrase::SizeInUnits(min, max, is_short) => {
            size(min, max, is_short, |between| figures::fish_sizes_in_units(units, min, max, between))
        }
        FishPhrase::AtMost(count) => format!(", up to {count}"),
        FishPhrase::Release { fish, why, is_caught_here } => {
            let here = if is_caught_here { " caught here" } else { "" };
            format!("RELEASE{}{here}: {why}", after_blank(fish))
        }
        FishPhrase::ClosedBy(zone) => format!("closed by {zone}"),
        FishPhrase::OfZone(why, zone) => format!("{why} ({zone})"),
        FishPhrase::AgainstTheRule => "not allowed".into(),
        FishPhrase::FishWhy(fish, why) => format!("{fish} ({why})"),
        FishPhrase::OneOrAnother(zones) => zones.join(" or "),
        FishPhrase::CaughtElsewhere { possession, rest, shortness } => {
            caught_elsewhere(possession, rest, shortness)
        }
        FishPhrase::UndecidedFish(Some(fish)) => format!("UNDECIDED {fish}: do not keep it"),
        FishPhrase::UndecidedFish(None) => "UNDECIDED: keep none".into(),
        FishPhrase::NoRuleMentions(Some(fish)) => format!("No loaded rule on {fish} here"),
        FishPhrase::NoRuleMentions(None) => "No loaded rule on it".into(),
        FishPhrase::KeepTheseIf(fish, false) => format!("KEEP {fish} if…"),
        FishPhrase::KeepTheseIf(fish, true) => format!("KEEP {fish} if"),
        FishPhrase::SeveralFish(answers, Some(rest)) => format!("{answers}; {}", rest_words(rest)),
        FishPhrase::SeveralFish(answers, None) => answers.to_owned(),
        FishPhrase::AndMoreFish(answer, count) => format!("{answer}; {count} more"),
    }
}

/// A size that may be kept, as it follows the name of a fish.
fn size(
    min: Option<f64>,
    max: Option<f64>,
    is_short: bool,
    figures: impl Fn(&str) -> Option<String>,
) -> String {
    let Some(figures) = figures(if is_short { "-" } else { " to " }) else { return String::new() };
    match (min, max, is_short) {
        (Some(_), None, false) => format!(" of {figures} or more"),
        (None, _, false) => format!(" of {figures} or less"),
        (Some(_), Some(_), false) => format!(" of {figures}"),
        (Some(_), None, true) => format!(" {figures}+"),
        (None, _, true) => format!(" up to {figures}"),
        (Some(_), Some(_), true) => format!(" {figures}"),
    }
}

fn after_blank(fish: Option<&str>) -> String {
    fish.map_or_else(String::new, |fish| format!(" {fish}"))
}

fn rest_words(rest: Rest) -> &'static str {
    match rest {
        Rest::Below => "see below",
        Rest::InFull => "see full",
    }
}

fn caught_elsewhere(possession: Tristate, rest: Option<Rest>, shortness: u8) -> String {
    let may = match (possession, shortness) {
        (Tristate::Yes, 0 | 1) => "Caught elsewhere: may be on board",
        (Tristate::Yes, _) => "Elsewhere: may stay",
        (Tristate::No, 0 | 1) => "Caught elsewhere: may not be on board",
        (Tristate::No, _) => "Elsewhere: no",
        (Tristate::Undecided, 0) => "Caught elsewhere: undecided, ask first",
        (Tristate::Undecided, 1) => "Caught elsewhere: undecided",
        (Tristate::Undecided, _) => "Elsewhere: undecided",
    };
    match (rest.filter(|_| possession == Tristate::Yes), shortness) {
        (None, _) => may.to_owned(),
        (Some(rest), 0) => format!("{may}, if: {}", rest_words(rest)),
        (Some(_), 1) => format!("{may}, if: …"),
        (Some(Rest::Below), _) => "Elsewhere: see below".to_owned(),
        (Some(Rest::InFull), _) => "Elsewhere: see full".to_owned(),
    }
}

/// Why a fish has to go back, in a few words, the longest first and the last in ten columns or so; none where the reason is none
/// of going back.
#[expect(clippy::wildcard_enum_match_arm, reason = "other reasons are none of going back")]
pub(super) fn refusal(words: &(impl Words + ?Sized), reason: &Reason) -> Option<[String; 2]> {
    match reason {
        Reason::NothingWhichever { .. } | Reason::ClosedWhichever { .. } | Reason::ZoneCloses { .. } => {
            Some(both("closed", "closed"))
        }
        Reason::NotKeptWhichever { .. } => Some(both("not allowed here", "not allowed")),
        Reason::Rule { reason } => refusal_of_rule(words, reason),
        _ => None,
    }
}

fn both(long: &str, short: &str) -> [String; 2] {
    [long.to_owned(), short.to_owned()]
}

#[expect(clippy::wildcard_enum_match_arm, reason = "other reasons are none of going back")]
fn refusal_of_rule(words: &(impl Words + ?Sized), reason: &rule::Reason) -> Option<[String; 2]> {
    use rule::Reason;
    let of = |min, max| figures::fish_sizes(words.units(), min, max, "").unwrap_or_default();
    Some(match reason {
        Reason::NothingMayBeTaken | Reason::NothingWhateverItIs => both("closed", "closed"),
        Reason::AmongExceptions { .. }
        | Reason::ExceptionsForbidden { .. }
        | Reason::NotAmongPermitted { .. }
        | Reason::TheseMayNotBeKept { .. } => both("not allowed here", "not allowed"),
        Reason::PermissionNotInForce { .. } => both("not allowed now", "not now"),
        Reason::GearNotAllowed { given, .. } | Reason::GearForbidden { given } => {
            [format!("{given} not allowed"), "wrong gear".to_owned()]
        }
        Reason::BaitBroken { given, .. } => [format!("{given} not allowed as bait"), "wrong bait".to_owned()],
        Reason::LengthOutside { length_cm, size } => match (size.min_cm, size.max_cm) {
            (Some(min), _) if *length_cm < min => {
                [format!("under {}", of(Some(min), None)), "too small".to_owned()]
            }
            (_, Some(max)) => [format!("over {}", of(None, Some(max))), "too big".to_owned()],
            _ => both("wrong size", "wrong size"),
        },
        Reason::NoneMayBeKept => both("none may be kept", "keep none"),
        Reason::TooMany { bag, .. } => {
            [format!("more than {}{}", bag.count, per(bag.per)), "over bag".to_owned()]
        }
        Reason::Clash { clash, .. } => match clash {
            Clash::Sizes => both("no size suits all zones", "zones clash"),
            Clash::Gear => both("no gear suits all zones", "zones clash"),
            Clash::Bait | Clash::BaitWords => both("no bait suits all zones", "zones clash"),
            _ => return None,
        },
        Reason::OfZone { reason, .. } | Reason::ByClause { reason, .. } | Reason::IfLimitHolds { reason } => {
            return refusal_of_rule(words, reason);
        }
        Reason::ZoneMayApply { because, .. } => {
            return because.iter().find_map(|reason| refusal_of_rule(words, reason));
        }
        _ => return None,
    })
}

fn per(per: BagPer) -> &'static str {
    match per {
        BagPer::PersonDay => " a day",
        BagPer::BoatDay => " a day, whole boat",
        BagPer::PersonTrip => " a trip",
        BagPer::BoatTrip => " a trip, whole boat",
        BagPer::PersonAtOnce => " at any time",
        BagPer::BoatAtOnce => " on the boat",
    }
}

/// A warning that changes the answer, the longest first and the last in eleven columns.
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the rest has no shorter words than those of the full answer"
)]
pub(super) fn warning_in_short(words: &(impl Words + ?Sized), warning: &Warning) -> [String; 2] {
    match warning {
        Warning::EditionExpired { until, .. } => {
            [format!("zones expired {}", words.until(until).replace(" 24:00", "")), "old zones".to_owned()]
        }
        Warning::FarFromEveryZone { distance_m } => [
            format!("zones {} off; check fix", figures::far(words.units(), *distance_m)),
            "far off".to_owned(),
        ],
        Warning::OnLand { inland_m, .. } => [
            format!("on land, {} in; check fix", figures::short_in_sentence(words.units(), *inland_m)),
            "on land".to_owned(),
        ],
        Warning::FewDigits { north_south_m, east_west_m, .. } => {
            let [north_south, east_west] =
                [north_south_m, east_west_m].map(|off_m| figures::roughly_up(words.units(), *off_m));
            [format!("few digits: {north_south} N-S, {east_west} E-W"), "few digits".to_owned()]
        }
        Warning::WeekCountDoubted { .. } | Warning::YearDoubted { .. } => {
            both("clock doubtful, time not used", "bad clock")
        }
        _ => [words.warning(warning), "see below".to_owned()],
    }
}

/// What settles an answer in few words, the longest first and the last in twenty columns.
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the rest has no shorter words than those of the full answer"
)]
pub(super) fn remedy_in_short(remedy: &Remedy) -> Vec<String> {
    let one = |text: &str| vec![text.to_owned()];
    match remedy {
        Remedy::BetterFix { .. } => one("get a better fix"),
        Remedy::MoreDigits => one("give more digits"),
        Remedy::LoadZones => one("load zone files"),
        Remedy::GetAFix => one("wait for a fix"),
        Remedy::WasItMeant { latitude_deg, longitude_deg, .. } => {
            vec![
                format!("did you mean {latitude_deg:.4} {longitude_deg:.4}?"),
                "check the position".to_owned(),
            ]
        }
        Remedy::GetTheLine { zone } => {
            vec![format!("get the boundary of {zone}"), "get its boundary".to_owned()]
        }
        Remedy::FindOutTheDatum { zone, .. } => {
            vec![format!("find out the datum of {zone}"), "find out its datum".to_owned()]
        }
        Remedy::FindOutHowEdgesRun { .. } => {
            vec!["find out how its edges run".to_owned(), "find how edges run".to_owned()]
        }
        Remedy::AskWhetherInForce { zone } => {
            vec![format!("ask whether {zone} is in force"), "ask if in force".to_owned()]
        }
        Remedy::SayTheTime { missing: MissingTime::NotGiven } => one("give the time"),
        Remedy::SayTheTime { missing: MissingTime::Doubted } => one("give the true time"),
        Remedy::SayTheTime { missing: MissingTime::LogDoubted } => one("find the true dates"),
        Remedy::SayAccess => one("say how you fish"),
        Remedy::Rule { remedy } => rule_remedy_in_short(remedy),
        _ => one("see the full answer"),
    }
}

#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the rest has no shorter words than those of the full answer"
)]
fn rule_remedy_in_short(remedy: &rule::Remedy) -> Vec<String> {
    use rule::Remedy;
    let last = match remedy {
        Remedy::SayWhichFish { .. } | Remedy::SayWhichOfThatName => "say which fish",
        Remedy::UseAListedName => "use another name",
        Remedy::DidYouMean { .. } => "check the name",
        Remedy::SayAccess => "say how you fish",
        Remedy::SayWhichGear { .. } | Remedy::SayWhetherGearMeans { .. } => "name your gear",
        Remedy::SayWhetherBaitMeans { .. } | Remedy::SayWhichBait => "name your bait",
        Remedy::GiveLength => "give the length",
        Remedy::ReadTheRule => "read the rule",
        Remedy::AskHowToCross | Remedy::AskWhetherToCross => "ask how to cross",
        Remedy::AskAboutFishAboard => "ask the authority",
        Remedy::FindOutWhetherItHolds { .. } | Remedy::FindOutWhetherLimitHolds { .. } => "ask if in force",
        Remedy::OfZone { remedy, .. } => return rule_remedy_in_short(remedy),
        _ => "see the full answer",
    };
    let common_name = |name: &String| name.split(" (").next().unwrap_or(name).to_owned();
    let first = match remedy {
        Remedy::SayWhichFish { fish } if !fish.is_empty() => {
            let names: Vec<String> = fish.iter().map(common_name).collect();
            let mut different = names.clone();
            different.sort_unstable();
            different.dedup();
            (different.len() == names.len()).then(|| format!("say {}", names.join(" or ")))
        }
        Remedy::DidYouMean { names } => Some(format!("did you mean {}?", names.join(" or "))),
        Remedy::UseAListedName => Some("check the spelling, or use another name".to_owned()),
        Remedy::SayWhichGear { .. } => Some("name gear as the zone file has it".to_owned()),
        _ => None,
    };
    first.into_iter().chain([last.to_owned()]).collect()
}

/// What a side is, with the law's words for the shore.
fn side_with_level(kind: SideKind, level: Option<&str>) -> String {
    let level = level.map_or_else(String::new, |level| format!(", {level}"));
    match kind {
        SideKind::Open => "open water".to_owned(),
        SideKind::Shore => format!("the shore{level}"),
        SideKind::Mouth => "the line across a mouth".to_owned(),
        SideKind::Unresolved => format!("along a coast that nobody has supplied{level}"),
    }
}

/// Who read a zone against the printed law; never more than the record bears.
fn proofread(words: &(impl Words + ?Sized), record: &Proofread) -> String {
    let by = match record.by.split_last() {
        Some((last, others)) if !others.is_empty() => format!("{} and {last}", others.join(", ")),
        _ => record.by.join(", "),
    };
    let against = record.against.as_ref().map_or_else(String::new, |text| format!(", against {text}"));
    let since = match record.unchanged {
        Tristate::Yes => "",
        Tristate::No => "; changed since, so that reading counts no longer",
        Tristate::Undecided => "; whether it was changed since is not known",
    };
    format!("by {by} on {}{against}{since}", words.date(record.on))
}

pub(super) fn field(words: &(impl Words + ?Sized), phrase: &FieldPhrase<'_>) -> String {
    match *phrase {
        FieldPhrase::Row(number, text) => format!("line {number}: {text}"),
        FieldPhrase::OnBoard(Tristate::Yes, false) => "may be on board".into(),
        FieldPhrase::OnBoard(Tristate::Yes, true) => "may be on board, if:".into(),
        FieldPhrase::OnBoard(Tristate::No, _) => "may not be on board".into(),
        FieldPhrase::OnBoard(Tristate::Undecided, _) => "undecided whether it may be on board".into(),
        FieldPhrase::FixDoubt { doubt, source, zero_was_given } => {
            let source = match source {
                UncertaintySource::Given => "given",
                UncertaintySource::Assumed if zero_was_given => "assumed: 0 counts as not given",
                UncertaintySource::Assumed => "assumed: no accuracy given",
            };
            format!("{doubt} (95 %), {source}")
        }
        FieldPhrase::At { time, zone, by_clock } => {
            let zone = zone.map_or_else(String::new, |zone| format!(", time of {zone}"));
            let clock = if by_clock { ", by this device's clock" } else { "" };
            format!("{}{zone}{clock}", at(words, time))
        }
        FieldPhrase::TimeUnknown => "not known".into(),
        FieldPhrase::SideLineUnknown(side) => {
            format!("{}; its boundary is not known here", words.side(side))
        }
        FieldPhrase::SideOnTheLine(side, figures) => {
            format!("{}, on the boundary ({figures})", words.side(side))
        }
        FieldPhrase::SideLineAway(side, figures) => {
            format!("{}; the boundary is {figures} away", words.side(side))
        }
        // the ends are never claimed outright
        FieldPhrase::Percent(share) if share < 0.01 => "less than 1\u{a0}%".into(),
        FieldPhrase::Percent(share) if share > 0.99 => "more than 99\u{a0}%".into(),
        FieldPhrase::Percent(share) => format!("{:.0}\u{a0}%", share * 100.0),
        FieldPhrase::SideThere(kind, level) => side_with_level(kind, level),
        FieldPhrase::NearestBoundary(bearing, position) => {
            format!("{}, at {position}", words.bearing(bearing))
        }
        FieldPhrase::Doubt { whole, fix, has_line, reading_gap } => {
            let line = if has_line { "; boundary and datum as the file states them" } else { "" };
            let gap = reading_gap.map_or_else(String::new, |(gap, sides_differ)| {
                let sides = if sides_differ { ", which disagree about the side" } else { "" };
                format!("; half of the {gap} between the possible readings of its edges{sides}")
            });
            if line.is_empty() && gap.is_empty() {
                return format!("{whole} (95 %), all from the fix");
            }
            format!("{whole} (95 %): fix {fix}{line}{gap}")
        }
        FieldPhrase::Edition(edition, read) => {
            let read = read.unwrap_or("on a date not stated");
            format!("{}; law read {read}", edition.unwrap_or("not stated"))
        }
        FieldPhrase::Proofread(record) => proofread(words, record),
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
