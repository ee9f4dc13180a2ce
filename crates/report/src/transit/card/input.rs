use takeline::ZoneSet;
use takeline::transit::{TransitReport, ZoneOnLine};
use takeline::zone::{Zone, ZoneId};

/// What a card needs beside the report.
#[derive(Debug, Clone, Copy)]
pub struct CardInput<'a> {
    /// The zones that the report was made with.
    pub zones: &'a ZoneSet,
    /// The command that makes the card again.
    pub command: &'a str,
    /// Version of the program.
    pub program_version: &'a str,
}

/// A report that does not belong to the zones it came with, or names a zone that it does not hold.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum CardError {
    /// The report names a zone that the set does not hold.
    #[error("zone {zone} is not among the zones given; give the zones that the report was made with")]
    UnknownZone {
        /// The zone.
        zone: ZoneId,
    },
    /// The marks are said to open on a zone that the report does not hold.
    #[error("the marks open on zone {number} of {count} of the report; give the report as it was made")]
    UnknownOpening {
        /// The number of the zone, counted from 0.
        number: usize,
        /// How many zones the report holds.
        count: usize,
    },
}

/// Holds every number and name in the report against the zones.
pub(super) fn check(report: &TransitReport, zones: &ZoneSet) -> Result<(), CardError> {
    for on_line in &report.zones {
        zone_of(on_line, zones).ok_or_else(|| CardError::UnknownZone { zone: on_line.id.clone() })?;
    }
    let count = report.zones.len();
    match &report.opens {
        Some(opens) if opens.zone >= count => Err(CardError::UnknownOpening { number: opens.zone, count }),
        _ => Ok(()),
    }
}

/// The zone of a finding; none if number and name do not go together.
pub(super) fn zone_of<'a>(on_line: &ZoneOnLine, zones: &'a ZoneSet) -> Option<&'a Zone> {
    zones.zones().get(on_line.zone_number).filter(|zone| zone.id == on_line.id)
}
