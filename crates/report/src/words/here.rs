//! What the text of `here` says beside reasons: its phrases, and the English of labels, headings and fields.

use jiff::ZonedDateTime;
use takeline::zone::Proofread;
use takeline::{Containment, SideKind, TakeAnswer, Tristate, TrueBearing, UncertaintySource, WaterStatus};

use super::Words;

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
        /// Whether there may be land in the way.
        may_meet_land: bool,
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
        /// Whether there may be land in the way.
        may_meet_land: bool,
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
        Label::AsShort => "another as near",
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
