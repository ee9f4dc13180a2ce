//! Which word of the format stands for what.

use jiff::civil::Weekday;

use super::{TakeWord, Vocabulary};
use crate::rule::{Access, BagPer, Measure, Possession, WindowEnds};
use crate::zone::{LineBelongs, Status};
use crate::{ArcSense, EdgeModel};

impl Vocabulary for EdgeModel {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("geodesic", Self::Geodesic),
        ("rhumb", Self::RhumbLine),
        ("lonlat", Self::PlateCarree),
        ("unstated", Self::Unstated),
    ];
}

impl Vocabulary for TakeWord {
    const WORDS: &'static [(&'static str, Self)] = &[("none", Self::None), ("anything", Self::Anything)];
}

impl Vocabulary for ArcSense {
    const WORDS: &'static [(&'static str, Self)] =
        &[("clockwise", Self::Clockwise), ("counterclockwise", Self::Counterclockwise)];
}

impl Vocabulary for LineBelongs {
    const WORDS: &'static [(&'static str, Self)] = &[("inside", Self::ToZone), ("outside", Self::Outside)];
}

impl Vocabulary for Status {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("in-force", Self::InForce),
        ("proposed", Self::Proposed),
        ("not-commenced", Self::NotCommenced),
        ("repealed", Self::Repealed),
    ];
}

impl Vocabulary for Possession {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("unstated", Self::Unstated),
        ("allowed", Self::Allowed),
        ("while-crossing", Self::WhileCrossing),
        ("as-take", Self::AsTake),
        ("forbidden", Self::Forbidden),
    ];
}

impl Vocabulary for Access {
    const WORDS: &'static [(&'static str, Self)] =
        &[("boat", Self::Boat), ("shore", Self::Shore), ("diving", Self::Diving)];
}

impl Vocabulary for BagPer {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("person-day", Self::PersonDay),
        ("boat-day", Self::BoatDay),
        ("person-trip", Self::PersonTrip),
        ("boat-trip", Self::BoatTrip),
    ];
}

impl Vocabulary for Measure {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("total-length", Self::TotalLength),
        ("fork-length", Self::ForkLength),
        ("carapace-length", Self::CarapaceLength),
        ("shell-width", Self::ShellWidth),
        ("unstated", Self::Unstated),
    ];
}

impl Vocabulary for WindowEnds {
    const WORDS: &'static [(&'static str, Self)] =
        &[("included", Self::Included), ("excluded", Self::Excluded), ("unstated", Self::Unstated)];
}

impl Vocabulary for Weekday {
    const WORDS: &'static [(&'static str, Self)] = &[
        ("monday", Self::Monday),
        ("tuesday", Self::Tuesday),
        ("wednesday", Self::Wednesday),
        ("thursday", Self::Thursday),
        ("friday", Self::Friday),
        ("saturday", Self::Saturday),
        ("sunday", Self::Sunday),
    ];
}
