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
        Reason::NoZoneApplies => "no loaded zone applies here; other rules may".into(),
        Reason::ZoneCloses { zone } => format!("{zone}: nothing may be taken"),
        Reason::ZoneRestricts { zone, rule } => format!("{zone}: {}", words.rule_summary(rule)),
        Reason::ZoneRestrictsNothing { zone } => {
            format!("{zone}: its rule restricts nothing; other rules may")
        }
        Reason::PlaceUnknown { zone, why } => format!("{zone}: where it lies is not known here ({why})"),
        Reason::PlaceUnknownNear { zone, why, least_m } => {
            format!(
                "{zone}: where it lies is not known here ({why}), perhaps only {} off",
                figures::whole(units, *least_m)
            )
        }
        Reason::LineUnknown { zone } => format!("{zone}: its line is not known here"),
        Reason::LineWithinDoubt { zone, signed_distance_m, uncertainty_95_m } => {
            let [off, doubt] = figures::with_doubt_up(units, *signed_distance_m, *uncertainty_95_m);
            format!("{zone}: its line is {off} off and the doubt is {doubt}")
        }
        Reason::WithinStandoff { zone, signed_distance_m, uncertainty_95_m } => {
            let [off, doubt] = figures::with_doubt_up(units, *signed_distance_m, *uncertainty_95_m);
            if *signed_distance_m < 0.0 {
                format!("{zone}: {off} inside its line, ±{doubt}")
            } else {
                format!("{zone}: its line is {off} off, ±{doubt}")
            }
        }
        Reason::InForceUnsettled { zone, why } => {
            let why = joined(why, "; ", |why| words.in_force_reason(why));
            format!("{zone}: whether it is in force is not settled: {why}")
        }
        Reason::AccessUnsaid { zone } => {
            format!("{zone}: it binds only some ways of fishing, and which is yours is not known")
        }
        Reason::DisplacementUnsettled { zone } => {
            format!("{zone}: whether the rule of another zone displaces it here is not settled")
        }
        Reason::ClosedWhichever { zones } => {
            format!("nothing may be taken, whichever it is in: {}", zones.join(" or "))
        }
        Reason::NothingWhichever { zones } => {
            format!("nothing may be taken here, whether in {}", zones.join(" or "))
        }
        Reason::NotKeptWhichever { zones } => {
            format!("it may not be kept here, whichever it is in: {}", zones.join(" or "))
        }
        Reason::FarFromEveryZone { distance_m, slip } => {
            format!("{} from every zone; {}", figures::far(units, *distance_m), words.slip(*slip))
        }
        Reason::NothingLoaded => "no zones are loaded, so nothing is known of this place".into(),
        Reason::NullIsland => "0, 0 is what receivers write when they have no position".into(),
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
                WaterStatus::Closed => "closed water",
                WaterStatus::Restricted => "limited water",
                WaterStatus::Unzoned => "that no loaded zone applies",
                WaterStatus::Undecided => "undecided for another reason",
            };
            let far = figures::move_in_sentence(units, *distance_m);
            format!("move {far} toward {bearing}: there the answer is {there}")
        }
        Remedy::BetterFix { uncertainty_95_m } => {
            format!("or get a fix good to {} (95 %)", figures::whole_down(units, *uncertainty_95_m))
        }
        Remedy::MoreDigits => "give more digits of the position, zeros at the end too".into(),
        Remedy::LoadZones => "load zone files of the waters here".into(),
        Remedy::GetAFix => "get a fix: 0, 0 is what receivers write without one".into(),
        Remedy::WasItMeant { latitude_deg, longitude_deg, slip, zone } => {
            let slip = words.slip(*slip);
            format!("was it {latitude_deg:.4} {longitude_deg:.4}? {slip}: {zone} is near there")
        }
        Remedy::GetTheLine { zone } => format!("get the line of {zone} from its law or its authority"),
        Remedy::FindOutTheDatum { zone, uncertainty_95_m } => {
            let doubt = figures::length(units, *uncertainty_95_m);
            format!("find out the datum of {zone}: {doubt} of the doubt is for it")
        }
        Remedy::FindOutHowEdgesRun { zone, apart_m } => {
            format!(
                "find out how the edges of {zone} run; the readings are {} apart",
                figures::whole(units, *apart_m)
            )
        }
        Remedy::AskWhetherInForce { zone } => format!("ask whether {zone} is in force today"),
        Remedy::SayTheTime { missing } => words.say_the_time(*missing),
        Remedy::SayAccess => words.rule_remedy(&takeline::rule::Remedy::SayAccess),
        Remedy::Rule { remedy } => words.rule_remedy(remedy),
        other => other.code().to_owned(),
    }
}

pub(super) fn warning(words: &(impl Words + ?Sized), warning: &Warning) -> String {
    let units = words.units();
    match warning {
        Warning::NoZones => "no zones were loaded".into(),
        Warning::ZeroAccuracy { uncertainty_95_m, is_assumed } => format!(
            "an accuracy of {} is what receivers write when they do not know it: it counts as not given, and {} are {} \
             (95 %)",
            figures::whole(units, 0.0),
            figures::length(units, *uncertainty_95_m),
            if *is_assumed { "assumed" } else { "given in its place" }
        ),
        Warning::EditionExpired { path, edition, until } => {
            let edition = edition.as_deref().unwrap_or("without a name");
            format!("{path}: edition {edition} was valid until {}; get the current one", words.until(until))
        }
        Warning::MayChangeByNotice { zone } => {
            format!("{zone} may be changed by notice, which nothing offline can know")
        }
        Warning::DatumUnstated { zone } => format!("{zone}: the zone file does not state its datum"),
        Warning::NoTimeGiven => words.missing_time(takeline::rule::MissingTime::NotGiven),
        Warning::FarFromEveryZone { distance_m } => {
            let far = figures::far(units, *distance_m);
            format!(
                "the nearest loaded zone is {far} away: check the fix, and whether these are the zones you need"
            )
        }
        Warning::FewDigits { north_south_m, east_west_m, is_counted } => {
            let [north_south, east_west] =
                [north_south_m, east_west_m].map(|off_m| figures::whole_up(units, *off_m));
            let counted = if *is_counted {
                "that is counted as doubt"
            } else {
                "that is more than the accuracy given, which is taken as it stands"
            };
            let more = words.remedy(&Remedy::MoreDigits);
            format!(
                "the position has so few digits that it may be {north_south} off to north or south and \
                 {east_west} to east or west: {counted}; {more}"
            )
        }
        Warning::WeekCountDoubted { time, later } => format!(
            "the clock says {time}: if the receiver's count of weeks has started anew, it was {later} (1024 weeks later); \
             the time was left unknown"
        ),
        Warning::YearDoubted { time } => {
            let year = TimeZone::UTC.to_datetime(*time).year();
            format!(
                "the time {time} is of the year {year}, which is likely written wrongly; the time was left unknown"
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
            format!("datum not stated: {} counted for it", length(uncertainty_95_m))
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
        Slip::Exchanged => "latitude and longitude may be exchanged",
        Slip::ExchangedAndSign => "latitude and longitude may be exchanged, and a sign wrong",
        _ => "the position may be written down wrongly",
    }
}

fn bearing(true_deg: f64) -> String {
    TrueBearing::from_degrees(true_deg)
        .map_or_else(|_| format!("{true_deg}° true"), |bearing| bearing.to_string())
}
