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
    /// The same behind what the water is.
    OutBehind(WayWords<'a>),
    /// The same, in twenty columns.
    OutInShort(WayWords<'a>),
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
    /// That the straight way meets land after so much of it.
    LandAfter(&'a str),
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
}

pub(super) fn way(words: &(impl Words + ?Sized), phrase: &WayPhrase<'_>) -> String {
    match *phrase {
        WayPhrase::Out(way) => format!("Way out: {}", told(words, way)),
        WayPhrase::OutBehind(WayWords { distance, bearing, .. }) => {
            format!("way out {distance}, {}", words.bearing(bearing))
        }
        WayPhrase::OutInShort(WayWords { distance, bearing, .. }) => {
            format!("Out {distance} {}", words.bearing(bearing))
        }
        WayPhrase::NoneOut(why) => none_out(words, why),
        WayPhrase::NoneOutInShort(_) => "No way out is known".into(),
        WayPhrase::Ahead { heading, boundary, clear, land } => ahead(words, heading, (boundary, clear, land)),
        WayPhrase::ClearAhead { heading, boundary, land } => {
            let until = match (boundary, land) {
                (Some(boundary), _) => format!(", boundary in {boundary}"),
                (None, Some(land)) => format!(", land in {land}"),
                (None, None) => format!(" for {}", figures::limit(words.units(), 100.0)),
            };
            format!("On {}: clear{until}", words.bearing(heading))
        }
        WayPhrase::ClearAheadInShort { boundary: Some(boundary), .. } => format!("Ahead: edge {boundary}"),
        WayPhrase::ClearAheadInShort { land: Some(land), .. } => format!("Ahead: land {land}"),
        WayPhrase::ClearAheadInShort { .. } => "Ahead: clear".into(),
        WayPhrase::AheadInShort { clear: Some(clear), .. } => format!("Ahead: clear {clear}"),
        WayPhrase::AheadInShort { land: Some(land), .. } => format!("Ahead: land {land}"),
        WayPhrase::AheadInShort { .. } => "Ahead: never clear".into(),
        WayPhrase::Whole(way, to) => format!("{}, to {to}", told(words, way)),
        WayPhrase::OffLand(true) => "keeps off the coast that was given".into(),
        WayPhrase::OffLand(false) => "may be in the way: look for yourself".into(),
        WayPhrase::Pocket => "a pocket: closed or restricted water lies all round it".into(),
        WayPhrase::NoneNearer(distance) => {
            format!("no clear water within {distance}; a shorter way than this one is possible")
        }
        WayPhrase::Enters(zones) => zones.join("; "),
        WayPhrase::Crosses { zone, from, to, is_sure, passage } => {
            let perhaps = if is_sure { "" } else { ", which may bind" };
            let how = if passage.is_empty() { String::new() } else { format!(": {}", passage.join("; ")) };
            format!("{zone} from {from} to {to}{perhaps}{how}")
        }
        WayPhrase::LandAfter(distance) => format!("the straight way meets land after {distance}"),
    }
}

fn told(
    words: &(impl Words + ?Sized),
    WayWords { distance, bearing, time, is_pocket }: WayWords<'_>,
) -> String {
    let time = time.map_or_else(String::new, |time| format!(", {time}"));
    let pocket = if is_pocket { ", to a pocket" } else { "" };
    format!("{distance} toward {}{time}{pocket}", words.bearing(bearing))
}

fn none_out(words: &(impl Words + ?Sized), why: &NoWayOut) -> String {
    let limit = |searched_m: f64| figures::limit(words.units(), searched_m / 1000.0);
    match why {
        NoWayOut::PlaceUnknown { zone } => format!("No way out: nobody knows where {zone} lies"),
        NoWayOut::FartherThan { searched_m } => format!("No way out within {}", limit(*searched_m)),
        NoWayOut::OnLand => "No way out: this is on land".into(),
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
