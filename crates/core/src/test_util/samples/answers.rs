//! Why a fix is answered as it is, what would settle it, and what is to be known of the data.

use super::parts::{midnight, texts};
use super::rules::rule_summaries;
use crate::assess::{Assumption, NoWayOut, Warning};
use crate::rule::MissingTime;
use crate::zone::Slip;
use crate::{WaterStatus, assess, binding, rule};

/// Reasons of answers about a fix, of every kind.
#[must_use]
pub fn reasons() -> Vec<assess::Reason> {
    use assess::Reason;
    let zone = || "Sallow Cove".to_owned();
    let zones = || texts(&["Sallow Cove", "Gannet Bank"]);
    let why = || "see plan MP2, not supplied".to_owned();
    vec![
        Reason::NoZoneApplies,
        Reason::ZoneCloses { zone: zone() },
        Reason::ZoneRestricts { zone: zone(), rule: rule_summaries().remove(4) },
        Reason::ZoneRestrictsNothing { zone: zone() },
        Reason::PlaceUnknown { zone: zone(), why: why() },
        Reason::PlaceUnknownNear { zone: zone(), why: why(), least_m: 40.0 },
        Reason::LineUnknown { zone: zone() },
        Reason::LineWithinDoubt { zone: zone(), signed_distance_m: -4.0, uncertainty_95_m: 9.2 },
        Reason::WithinStandoff { zone: zone(), signed_distance_m: -4.0, uncertainty_95_m: 9.2 },
        Reason::WithinStandoff { zone: zone(), signed_distance_m: 4.0, uncertainty_95_m: 9.2 },
        Reason::InForceUnsettled {
            zone: zone(),
            why: vec![binding::Reason::NoTime { missing: MissingTime::NotGiven }],
        },
        Reason::AccessUnsaid { zone: zone() },
        Reason::DisplacementUnsettled { zone: zone() },
        Reason::ClosedWhichever { zones: zones() },
        Reason::NothingWhichever { zones: zones() },
        Reason::NotKeptWhichever { zones: zones() },
        Reason::FarFromEveryZone { distance_m: 4_611_300.0, slip: Slip::Exchanged },
        Reason::NullIsland,
        Reason::NothingLoaded,
        Reason::Rule { reason: rule::Reason::NothingMayBeTaken },
    ]
}

/// Remedies of answers about a fix, of every kind.
#[must_use]
pub fn remedies() -> Vec<assess::Remedy> {
    use assess::Remedy;
    let zone = || "Sallow Cove".to_owned();
    let slips =
        [Slip::LongitudeSign, Slip::LatitudeSign, Slip::BothSigns, Slip::Exchanged, Slip::ExchangedAndSign];
    let meant = |slip| Remedy::WasItMeant { latitude_deg: 45.11, longitude_deg: -30.12, slip, zone: zone() };
    let places = [WaterStatus::Closed, WaterStatus::Restricted, WaterStatus::Unzoned, WaterStatus::Undecided];
    let way = |water_there| Remedy::Move { distance_m: 14.0, bearing_true_deg: 225.0, water_there };
    let mut remedies: Vec<Remedy> = slips.into_iter().map(meant).chain(places.into_iter().map(way)).collect();
    remedies.extend([
        Remedy::BetterFix { uncertainty_95_m: 4.0 },
        Remedy::MoreDigits,
        Remedy::GetAFix,
        Remedy::LoadZones,
        Remedy::GetTheLine { zone: zone() },
        Remedy::FindOutTheDatum { zone: zone(), uncertainty_95_m: 200.0 },
        Remedy::FindOutHowEdgesRun { zone: zone(), apart_m: 48.9 },
        Remedy::GetTheCoast {
            zone: zone(),
            level: Some("mean high water".to_owned()),
            uncertainty_95_m: 834.0,
        },
        Remedy::GetTheCoast { zone: zone(), level: None, uncertainty_95_m: 834.0 },
        Remedy::WriteTheRule { zone: zone() },
        Remedy::AskWhetherInForce { zone: zone() },
        Remedy::SayTheTime { missing: MissingTime::NotGiven },
        Remedy::SayAccess,
        Remedy::Rule { remedy: rule::Remedy::GiveLength },
    ]);
    remedies
}

/// Warnings of every kind.
#[must_use]
pub fn warnings() -> Vec<Warning> {
    let zone = || "Sallow Cove".to_owned();
    vec![
        Warning::NoZones,
        Warning::ZeroAccuracy { uncertainty_95_m: 10.0, is_assumed: true },
        Warning::EditionExpired {
            path: "marrowick.json".to_owned(),
            edition: Some("2026-1".to_owned()),
            until: midnight(),
        },
        Warning::EditionRunsOut {
            path: "marrowick.json".to_owned(),
            edition: Some("2026-1".to_owned()),
            until: midnight(),
        },
        Warning::MayChangeByNotice { zone: zone() },
        Warning::DatumUnstated { zone: zone() },
        Warning::NoTimeGiven,
        Warning::FarFromEveryZone { distance_m: 250_000.0 },
        Warning::OnLand { coast: "Coast of Marrowick".into(), inland_m: 340.0 },
        Warning::FewDigits { north_south_m: 560.0, east_west_m: 394.0, is_counted: true },
        Warning::FewDigits { north_south_m: 56.0, east_west_m: 39.4, is_counted: false },
        Warning::WeekCountDoubted { time: midnight().timestamp(), later: midnight().timestamp() },
        Warning::YearDoubted { time: midnight().timestamp() },
    ]
}

/// Reasons why there is no way out to tell, of every kind.
#[must_use]
pub fn missing_ways_out() -> Vec<NoWayOut> {
    vec![
        NoWayOut::PlaceUnknown { zone: "Kelp Garden".to_owned() },
        NoWayOut::FartherThan { searched_m: 100_000.0 },
        NoWayOut::OnLand,
        NoWayOut::OnFoot,
        NoWayOut::NoStraightWay { searched_m: 100_000.0 },
        NoWayOut::TooIntricate,
    ]
}

/// Assumptions of every kind.
#[must_use]
pub fn assumptions() -> Vec<Assumption> {
    vec![Assumption::FixAccuracy { uncertainty_95_m: 10.0 }, Assumption::Datum { uncertainty_95_m: 200.0 }]
}
