//! The first lines of `here` in English: the water, where it is, and what may be done with fish.

use takeline::{Containment, Tristate, WaterStatus};

use super::Words;
use super::here::{FishPhrase, PlacePhrase, Rest, WaterPhrase};
use crate::figures;

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
        PlacePhrase::MoveInShort { distance, bearing, may_meet_land } => {
            let land = if may_meet_land { "; land?" } else { "" };
            format!("go {distance} {}{land}", words.bearing(bearing))
        }
        PlacePhrase::SeeFullAnswer => "see the full answer".into(),
        PlacePhrase::Move { distance, bearing, water_there, may_meet_land } => {
            let land = if may_meet_land { "; mind land" } else { "" };
            format!("move {distance} toward {}{}{land}", words.bearing(bearing), there(water_there))
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
