//! What samples are made of.

use jiff::ZonedDateTime;
use jiff::civil::date;

use crate::rule::{
    AnnualWindow, Bag, BagPer, Bait, Gear, GearAllowance, Measure, MissingTime, SetNames, Size, TimeReason,
    When, WindowEnds,
};

pub(super) fn texts(texts: &[&str]) -> Vec<String> {
    texts.iter().map(|text| (*text).to_owned()).collect()
}

pub(super) fn gear(kind: &str) -> Gear {
    Gear(kind.to_owned())
}

pub(super) fn lines() -> GearAllowance {
    GearAllowance { kind: gear("hook and line"), max_lines: Some(1), max_hooks: Some(2), note: None }
}

pub(super) fn sets() -> SetNames {
    SetNames { listed: texts(&["sprat", "sand smelt"]), except: texts(&["bass"]) }
}

pub(super) fn size() -> Size {
    Size { min_cm: Some(20.0), max_cm: Some(30.0), measure: Measure::TotalLength }
}

pub(super) fn bag() -> Bag {
    Bag { count: 10, per: BagPer::PersonDay }
}

pub(super) fn bait() -> Bait {
    Bait::Only(texts(&["mussel", "lugworm"]))
}

pub(super) fn season() -> When {
    When::Yearly(AnnualWindow { from: (5, 1), to: (8, 31), ends: WindowEnds::Included })
}

pub(super) fn no_time() -> Vec<TimeReason> {
    vec![TimeReason::NoTime { missing: MissingTime::NotGiven }]
}

pub(super) fn midnight() -> ZonedDateTime {
    let local = date(2026, 10, 1).at(0, 0, 0, 0);
    jiff::tz::TimeZone::UTC.to_timestamp(local).unwrap_or_default().to_zoned_datetime(jiff::tz::TimeZone::UTC)
}
