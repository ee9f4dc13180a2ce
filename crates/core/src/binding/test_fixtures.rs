//! Zones without a place, for tests of what binds.

use std::sync::Arc;

use crate::Metres;
use crate::rule::{Possession, Take, TakeRule, When};
use crate::zone::{
    Datum, Effective, Extent, LineBelongs, Override, Source, Status, Zone, ZoneFile, ZoneId, ZoneSet,
};

/// A no-take zone of a file with this digest.
pub(super) fn zone_of(file: &str, id: &str) -> Zone {
    Zone {
        id: ZoneId(id.to_owned()),
        name: id.to_owned(),
        extent: Extent::Unknown { somewhere_in: None, reason: "not needed".to_owned() },
        line_uncertainty: Metres::ZERO,
        datum: Datum::Wgs84,
        datum_is_of_the_file: true,
        line_belongs: LineBelongs::ToZone,
        time_zone: jiff::tz::TimeZone::UTC,
        status: Status::InForce,
        effective: Effective::default(),
        when: When::Always,
        rule: TakeRule {
            take: Take::Nothing,
            limits: Vec::new(),
            possession: Possession::Unstated,
            passage: None,
            binds: Vec::new(),
            conditions: Vec::new(),
        },
        overrides: Vec::new(),
        source: Source::default(),
        proofread: None,
        may_change_by_notice: false,
        as_published: Vec::new(),
        file: Arc::new(ZoneFile { sha256: file.to_owned(), ..ZoneFile::default() }),
    }
}

pub(super) fn zone(id: &str) -> Zone {
    zone_of("one", id)
}

/// The same zone, displacing these.
pub(super) fn over(zone: Zone, under: &[&str]) -> Zone {
    let cite = |id: &&str| Override { zone: ZoneId((*id).to_owned()), clause: format!("clause on {id}") };
    Zone { overrides: under.iter().map(cite).collect(), ..zone }
}

pub(super) fn set(zones: impl IntoIterator<Item = Zone>) -> ZoneSet {
    ZoneSet::new(zones.into_iter().collect())
}
