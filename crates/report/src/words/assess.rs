//! The answer about a fix in English: why, what would settle it, and what is to be known about the data.

use jiff::tz::TimeZone;
use takeline::assess::{Assumption, Displacing, Reason, Remedy, Warning};
use takeline::zone::Slip;
use takeline::{TrueBearing, WaterStatus};

use super::{Words, joined};
use crate::figures;

pub(super) fn reason(words: &(impl Words + ?Sized), reason: &Reason) -> String {
    let units = words.units();
    match reason {
        Reason::NoZoneApplies => "no loaded zone applies here; other rules may apply".into(),
        Reason::ZoneCloses { zone } => format!("{zone}: nothing may be taken"),
        Reason::ZoneRestricts { zone, rule } => format!("{zone}: {}", words.rule_summary(rule)),
        Reason::ZoneRestrictsNothing { zone } => {
            format!("{zone}: its rule restricts nothing; other rules may apply")
        }
        Reason::PlaceUnknown { zone, why } => format!("{zone}: its boundary is not known here ({why})"),
        Reason::PlaceUnknownNear { zone, why, least_m } => {
            format!(
                "{zone}: its boundary is not known here ({why}); it may be as near as {}",
                figures::whole(units, *least_m)
            )
        }
        Reason::LineUnknown { zone } => format!("{zone}: its boundary here is not known"),
        Reason::LineWithinDoubt { zone, signed_distance_m, uncertainty_95_m } => {
            let [away, doubt] = figures::with_doubt_up(units, *signed_distance_m, *uncertainty_95_m);
            format!("{zone}: the boundary is {away} away, and the uncertainty is {doubt}")
        }
        Reason::WithinStandoff { zone, signed_distance_m, uncertainty_95_m } => {
            let [away, doubt] = figures::with_doubt_up(units, *signed_distance_m, *uncertainty_95_m);
            let side = if *signed_distance_m < 0.0 { "inside" } else { "outside" };
            format!("{zone}: {away} {side}, ±{doubt}")
        }
        Reason::InForceUnsettled { zone, why } => {
            let why = joined(why, "; ", |why| words.in_force_reason(why));
            format!("{zone}: it is undecided whether it is in force: {why}")
        }
        Reason::AccessUnsaid { zone } => {
            format!("{zone}: its rule is only for some ways of fishing, and yours was not given")
        }
        Reason::DisplacementUnsettled { zone } => {
            format!("{zone}: it is undecided whether the rule of another zone displaces it here")
        }
        Reason::ClosedWhichever { zones } => {
            format!("nothing may be taken, whichever zone you are in: {}", zones.join(" or "))
        }
        Reason::NothingWhichever { zones } => {
            format!("nothing may be taken here, whether you are in {}", zones.join(" or "))
        }
        Reason::NotKeptWhichever { zones } => {
            format!("it may not be kept here, whichever zone you are in: {}", zones.join(" or "))
        }
        Reason::FarFromEveryZone { distance_m, slip } => {
            format!("{} from the nearest zone; {}", figures::far(units, *distance_m), words.slip(*slip))
        }
        Reason::NothingLoaded => "no zones are loaded, so nothing is known about this place".into(),
        Reason::NullIsland => "0, 0 is what a receiver writes when it has no position".into(),
        Reason::Rule { reason } => words.rule_reason(reason),
        other => other.code().to_owned(),
    }
}

pub(super) fn remedy(words: &(impl Words + ?Sized), remedy: &Remedy) -> String {
    let units = words.units();
    match remedy {
        Remedy::Move { distance_m, bearing_true_deg, water_there } => {
            let bearing = bearing(*bearing_true_deg);
            let there = match water_there {
                WaterStatus::Closed => "the water is closed",
                WaterStatus::Restricted => "the water is restricted",
                WaterStatus::Unzoned => "no loaded zone applies",
                WaterStatus::Undecided => "it is undecided for another reason",
            };
            let far = figures::move_in_sentence(units, *distance_m);
            format!("move {far} toward {bearing}; there {there}")
        }
        Remedy::BetterFix { uncertainty_95_m } => {
            format!("get a fix accurate to {} (95 %)", figures::whole_down(units, *uncertainty_95_m))
        }
        Remedy::MoreDigits => "give more digits of the position, with the zeros at the end".into(),
        Remedy::LoadZones => "load the zone files for these waters".into(),
        Remedy::GetAFix => "wait for a fix: 0, 0 is what a receiver writes without one".into(),
        Remedy::WasItMeant { latitude_deg, longitude_deg, slip, zone } => {
            let slip = words.slip(*slip);
            format!("did you mean {latitude_deg:.4} {longitude_deg:.4}? {slip}; {zone} is near there")
        }
        Remedy::GetTheLine { zone } => format!("get the boundary of {zone} from its law or its authority"),
        Remedy::FindOutTheDatum { zone, uncertainty_95_m } => {
            let part = figures::length(units, *uncertainty_95_m);
            format!("find out the datum of {zone}: {part} of the uncertainty is for it")
        }
        Remedy::FindOutHowEdgesRun { zone, apart_m } => {
            format!(
                "find out how the edges of {zone} run between corners; the possible readings are {} apart",
                figures::whole(units, *apart_m)
            )
        }
        Remedy::GetTheCoast { zone, level, uncertainty_95_m } => {
            let off = figures::whole(units, *uncertainty_95_m);
            let level = level.as_ref().map_or_else(
                || "ask at which level of the sea".to_owned(),
                |level| format!("the law has it at {level}"),
            );
            format!(
                "get the coast that {zone} follows as a coast file ({level}); without it that side may be off by {off}"
            )
        }
        Remedy::WriteTheRule { zone } => {
            format!("write the rule of {zone} into its zone file, which is a draft without one")
        }
        Remedy::AskWhetherInForce { zone } => format!("ask the authority whether {zone} is in force today"),
        Remedy::SayTheTime { missing } => words.say_the_time(*missing),
        Remedy::SayAccess => words.rule_remedy(&takeline::rule::Remedy::SayAccess),
        Remedy::Rule { remedy } => words.rule_remedy(remedy),
        other => other.code().to_owned(),
    }
}

#[expect(clippy::too_many_lines, reason = "one line or two for each warning")]
pub(super) fn warning(words: &(impl Words + ?Sized), warning: &Warning) -> String {
    let units = words.units();
    match warning {
        Warning::NoZones => "no zone files were loaded".into(),
        Warning::ZeroAccuracy { uncertainty_95_m, is_assumed } => format!(
            "an accuracy of {} is what a receiver writes when it does not know it, so it counts as not given; {} (95 %) {}",
            figures::whole(units, 0.0),
            figures::length(units, *uncertainty_95_m),
            if *is_assumed { "is assumed" } else { "is used, as given" }
        ),
        Warning::EditionExpired { path, edition, until } => {
            let edition = named_edition(edition.as_deref());
            format!("{path}: {edition} was valid until {}; get the current one", words.until(until))
        }
        Warning::EditionRunsOut { path, edition, until } => {
            let edition = named_edition(edition.as_deref());
            format!("{path}: {edition} runs out {}; look for the next one", words.until(until))
        }
        Warning::MayChangeByNotice { zone } => {
            format!("{zone} may be changed by a notice, which cannot be known offline")
        }
        Warning::DatumUnstated { zone } => format!("{zone}: the zone file does not state its datum"),
        Warning::NoTimeGiven => words.missing_time(takeline::rule::MissingTime::NotGiven),
        Warning::FarFromEveryZone { distance_m } => {
            let far = figures::far(units, *distance_m);
            format!(
                "the nearest loaded zone is {far} away: check the position, and that these are the zones you need"
            )
        }
        Warning::OnLand { coast, inland_m } => {
            let inland = figures::short_in_sentence(units, *inland_m);
            format!("on land by {coast}, {inland} from its shore: check the position, its sign and its datum")
        }
        Warning::FewDigits { north_south_m, east_west_m, is_counted } => {
            let [north_south, east_west] =
                [north_south_m, east_west_m].map(|off_m| figures::roughly_up(units, *off_m));
            let counted = if *is_counted {
                "this is counted in the uncertainty"
            } else {
                "this is more than the accuracy given, which is used unchanged"
            };
            let more = words.remedy(&Remedy::MoreDigits);
            format!(
                "the position has so few digits that it may be off by {north_south} north or south and {east_west} east or \
                 west; {counted}; {more}"
            )
        }
        Warning::WeekCountDoubted { time, later } => format!(
            "the clock says {}, but the receiver's count of weeks may have started again, and then it is {} (1024 weeks \
             later); no time was used",
            to_the_second(*time),
            to_the_second(*later)
        ),
        Warning::YearDoubted { time } => {
            let year = TimeZone::UTC.to_datetime(*time).year();
            format!(
                "the time {} is in the year {year}, which is probably a mistake; no time was used",
                to_the_second(*time)
            )
        }
        other => other.code().to_owned(),
    }
}

pub(super) fn assumption(words: &(impl Words + ?Sized), assumption: Assumption) -> String {
    let length = |length_m: f64| figures::length(words.units(), length_m);
    match assumption {
        Assumption::FixAccuracy { uncertainty_95_m } => {
            format!("accuracy of the fix: {}, 95 %", length(uncertainty_95_m))
        }
        Assumption::Datum { uncertainty_95_m } => {
            format!("datum not stated: {} allowed for it", length(uncertainty_95_m))
        }
        other => other.code().to_owned(),
    }
}

pub(super) fn displacing(by: &Displacing, is_sure: bool) -> String {
    let perhaps = if is_sure { "" } else { "perhaps " };
    format!("{perhaps}displaced here by {} ({})", by.zone, by.clause)
}

pub(super) fn slip(slip: Slip) -> &'static str {
    match slip {
        Slip::LongitudeSign => "the sign of the longitude may be wrong",
        Slip::LatitudeSign => "the sign of the latitude may be wrong",
        Slip::BothSigns => "both signs may be wrong",
        Slip::Exchanged => "latitude and longitude may be swapped",
        Slip::ExchangedAndSign => "latitude and longitude may be swapped, and a sign wrong",
        _ => "the position may have been written down wrongly",
    }
}

/// An instant as people read it: no finer than seconds.
fn to_the_second(time: jiff::Timestamp) -> String {
    time.strftime("%Y-%m-%dT%H:%M:%SZ").to_string()
}

fn bearing(true_deg: f64) -> String {
    TrueBearing::from_degrees(true_deg)
        .map_or_else(|_| format!("{true_deg}° true"), |bearing| bearing.to_string())
}

fn named_edition(edition: Option<&str>) -> String {
    edition.map_or_else(|| "this edition".to_owned(), |name| format!("edition {name}"))
}
