//! The English of ways: out of closed water, along the bow, home.

use takeline::TrueBearing;
use takeline::assess::NoWayOut;

use super::Words;
use crate::figures;

/// What is said of a way. Lengths and times are given as they are to be printed.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub enum WayPhrase<'a> {
    /// The way out, on a line of its own.
    Out(WayWords<'a>),
    /// The same in fewer words.
    OutInShort(WayWords<'a>),
    /// The same, in twenty columns where nothing is said of time and land.
    OutInFewest(WayWords<'a>),
    /// The same behind what the water is.
    OutBehind(WayWords<'a>),
    /// The same in fewer words.
    OutBehindInShort(WayWords<'a>),
    /// There is none to tell.
    NoneOut(&'a NoWayOut),
    /// The same, in twenty columns.
    NoneOutInShort(&'a NoWayOut),
    /// Along the bow: where the first boundary is, where clear water begins, and where the land is that ends it.
    Ahead {
        /// The heading.
        heading: TrueBearing,
        /// To the first boundary.
        boundary: Option<&'a str>,
        /// To clear water.
        clear: Option<&'a str>,
        /// To the land.
        land: Option<&'a str>,
    },
    /// The same where the search for clear water ended early.
    AheadUndecided {
        /// The heading.
        heading: TrueBearing,
        /// To the first boundary.
        boundary: Option<&'a str>,
        /// No clear water is nearer than this.
        none_within: &'a str,
        /// To the land.
        land: Option<&'a str>,
    },
    /// The same in fewer words: the heading, and how far there is no clear water.
    AheadUndecidedInShort(TrueBearing, &'a str),
    /// The same, in twenty columns.
    AheadUndecidedInFewest,
    /// The same where the water is clear at once.
    ClearAhead {
        /// The heading.
        heading: TrueBearing,
        /// To the first boundary.
        boundary: Option<&'a str>,
        /// To the land.
        land: Option<&'a str>,
    },
    /// The same, in twenty columns.
    ClearAheadInShort {
        /// To the first boundary.
        boundary: Option<&'a str>,
        /// To the land.
        land: Option<&'a str>,
    },
    /// Along the bow, in twenty columns.
    AheadInShort {
        /// To clear water.
        clear: Option<&'a str>,
        /// To the land.
        land: Option<&'a str>,
    },
    /// A way with all that is known of it, below the first lines.
    Whole(WayWords<'a>, &'a str),
    /// Whether a way surely keeps off the land that a coast draws.
    OffLand(bool),
    /// That it ends in clear water with none but closed or restricted water about it.
    Pocket,
    /// That the search ended early: nothing is clear nearer than this.
    NoneNearer(&'a str),
    /// What is entered on the way.
    Enters(&'a [&'a str]),
    /// A zone that the way home crosses, from where to where, whether its rule surely binds there, and how one may cross.
    Crosses {
        /// The zone.
        zone: &'a str,
        /// From where.
        from: &'a str,
        /// To where.
        to: &'a str,
        /// Whether its rule surely binds.
        is_sure: bool,
        /// How one may cross.
        passage: &'a [String],
    },
    /// The way home on a line of its own, and after how much of it land is met, if it is.
    Home(WayWords<'a>, Option<&'a str>),
    /// The same in fewer words.
    HomeInShort(WayWords<'a>, Option<&'a str>),
    /// The same, in twenty columns or so.
    HomeInFewest(WayWords<'a>, Option<&'a str>),
    /// A way with all that is known of it, land with it, below the first lines: where it ends, and after how much of it land is met.
    WholeWithLand(WayWords<'a>, &'a str, Option<&'a str>),
}

/// A way in figures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WayWords<'a> {
    /// How far.
    pub distance: &'a str,
    /// In which direction.
    pub bearing: TrueBearing,
    /// How long it takes, if a speed was given.
    pub time: Option<&'a str>,
    /// Whether the clear water at its end has no way on.
    pub is_pocket: bool,
    /// Whether there may be land in the way: it passes close to a coast, or none is known there.
    pub may_meet_land: bool,
}

impl WayWords<'_> {
    /// The same without how long it takes.
    pub(crate) fn without_time(self) -> Self {
        Self { time: None, ..self }
    }

    /// The same without a word about land.
    pub(crate) fn without_land(self) -> Self {
        Self { may_meet_land: false, ..self }
    }
}

pub(super) fn way(words: &(impl Words + ?Sized), phrase: &WayPhrase<'_>) -> String {
    match *phrase {
        WayPhrase::Out(way) => format!("Way out: {}{}", told(words, way), land_in(way, "look out for land")),
        WayPhrase::OutInShort(way) => {
            format!("Way out: {}{}", in_short(words, way, ", "), land_in(way, "mind land"))
        }
        WayPhrase::OutInFewest(way) => format!("Out {}{}", in_short(words, way, " "), land_in(way, "land?")),
        WayPhrase::OutBehind(way) => {
            format!("way out {}{}", in_short(words, way, ", "), land_in(way, "mind land"))
        }
        WayPhrase::OutBehindInShort(way) => {
            // at 40 columns no sign between has room beside closed water
            let land = if way.may_meet_land { " land?" } else { "" };
            format!("out {}{land}", in_short(words, way, " "))
        }
        WayPhrase::NoneOut(why) => none_out(words, why),
        WayPhrase::NoneOutInShort(_) => "No way out is known".into(),
        WayPhrase::Ahead { heading, boundary, clear, land } => ahead(words, heading, (boundary, clear, land)),
        WayPhrase::AheadUndecided { heading, boundary, none_within, land } => {
            ahead_undecided(&words.bearing(heading), (boundary, none_within, land))
        }
        WayPhrase::AheadUndecidedInShort(heading, none_within) => {
            format!("On {}: undecided past {none_within}", words.bearing(heading))
        }
        WayPhrase::AheadUndecidedInFewest => "Ahead: undecided".into(),
        WayPhrase::ClearAhead { heading, boundary, land } => clear_ahead(words, heading, (boundary, land)),
        WayPhrase::ClearAheadInShort { boundary: Some(boundary), .. } => format!("Ahead: edge {boundary}"),
        WayPhrase::ClearAheadInShort { land: Some(land), .. } => format!("Ahead: land {land}"),
        WayPhrase::ClearAheadInShort { .. } => "Ahead: clear".into(),
        WayPhrase::AheadInShort { clear: Some(clear), .. } => format!("Ahead: clear {clear}"),
        WayPhrase::AheadInShort { land: Some(land), .. } => format!("Ahead: land {land}"),
        WayPhrase::AheadInShort { .. } => "Ahead: never clear".into(),
        WayPhrase::Whole(way, to) => format!("{}, to {to}", told(words, way)),
        WayPhrase::OffLand(true) => "none in the way, by the coast loaded".into(),
        WayPhrase::OffLand(false) => "may be in the way: look out for it".into(),
        WayPhrase::Pocket => "a pocket: closed or restricted water lies all round it".into(),
        WayPhrase::NoneNearer(distance) => {
            format!("there may be a shorter one, but none shorter than {distance}")
        }
        WayPhrase::Enters(zones) => zones.join("; "),
        WayPhrase::Crosses { zone, from, to, is_sure, passage } => {
            let perhaps = if is_sure { "" } else { ", which may bind" };
            let how = if passage.is_empty() { String::new() } else { format!(": {}", passage.join("; ")) };
            format!("{zone} from {from} to {to}{perhaps}{how}")
        }
        WayPhrase::Home(way, land) => home(&told(words, way), (way, land), "look out for land"),
        WayPhrase::HomeInShort(way, land) => {
            let between = if land.is_some() { " " } else { ", " };
            home(&in_short(words, way, between), (way, land), "mind land")
        }
        WayPhrase::HomeInFewest(way, None) => {
            format!("Home {}{}", in_short(words, way, " "), land_in(way, "land?"))
        }
        WayPhrase::HomeInFewest(_, Some(land)) => format!("Home: land in {land}"),
        WayPhrase::WholeWithLand(way, to, None) => {
            format!("{}{}, to {to}", told(words, way), land_in(way, "look out for land"))
        }
        WayPhrase::WholeWithLand(way, to, Some(land)) => {
            format!("the straight way meets land after {land}; {}, to {to}", told(words, way))
        }
    }
}

fn told(
    words: &(impl Words + ?Sized),
    WayWords { distance, bearing, time, is_pocket, .. }: WayWords<'_>,
) -> String {
    let time = time.map_or_else(String::new, |time| format!(", {time}"));
    let pocket = if is_pocket { ", to a pocket" } else { "" };
    format!("{distance} toward {}{time}{pocket}", words.bearing(bearing))
}

/// A way in fewer words, with something between how far and where.
fn in_short(words: &(impl Words + ?Sized), way: WayWords<'_>, between: &str) -> String {
    let WayWords { distance, bearing, time, .. } = way;
    let time = time.map_or_else(String::new, |time| format!(", {time}"));
    format!("{distance}{between}{}{time}", words.bearing(bearing))
}

fn clear_ahead(
    words: &(impl Words + ?Sized),
    heading: TrueBearing,
    (boundary, land): (Option<&str>, Option<&str>),
) -> String {
    let until = match (boundary, land) {
        (Some(boundary), _) => format!(", boundary in {boundary}"),
        (None, Some(land)) => format!(", land in {land}"),
        (None, None) => format!(" for {}", figures::limit(words.units(), 100.0)),
    };
    format!("On {}: clear{until}", words.bearing(heading))
}

fn ahead_undecided(
    heading: &str,
    (boundary, none_within, land): (Option<&str>, &str, Option<&str>),
) -> String {
    let boundary = boundary.map_or_else(String::new, |boundary| format!("boundary {boundary}, "));
    let land = land.map_or_else(String::new, |land| format!("; land in {land}"));
    format!("On {heading}: {boundary}no clear water within {none_within}, undecided beyond{land}")
}

/// The way home, land before all else.
fn home(whole: &str, (way, land): (WayWords<'_>, Option<&str>), caution: &str) -> String {
    match land {
        None => format!("Home: {whole}{}", land_in(way, caution)),
        Some(land) => format!("Home: land in {land}; {whole}"),
    }
}

/// What is said of land that may be in the way.
fn land_in(way: WayWords<'_>, caution: &str) -> String {
    if way.may_meet_land { format!("; {caution}") } else { String::new() }
}

fn none_out(words: &(impl Words + ?Sized), why: &NoWayOut) -> String {
    let limit = |searched_m: f64| figures::limit(words.units(), searched_m / 1000.0);
    match why {
        NoWayOut::PlaceUnknown { zone } => format!("No way out: nobody knows where {zone} lies"),
        NoWayOut::FartherThan { searched_m } => format!("No way out within {}", limit(*searched_m)),
        NoWayOut::OnLand => "No way out: this is on land".into(),
        NoWayOut::OnFoot => "none on foot: it would lead over water".into(),
        NoWayOut::NoStraightWay { .. } => "No straight way out: land is between".into(),
        // and what this version does not know
        NoWayOut::TooIntricate | _ => "No straight way out was found".into(),
    }
}

fn ahead(
    words: &(impl Words + ?Sized),
    heading: TrueBearing,
    (boundary, clear, land): (Option<&str>, Option<&str>, Option<&str>),
) -> String {
    let heading = words.bearing(heading);
    let end = match (clear, land) {
        (Some(clear), _) => format!("clear in {clear}"),
        (None, Some(land)) => format!("land in {land}"),
        (None, None) => format!("no clear water within {}", figures::limit(words.units(), 100.0)),
    };
    match boundary {
        Some(boundary) => format!("On {heading}: boundary {boundary}, {end}"),
        None => format!("On {heading}: {end}"),
    }
}
