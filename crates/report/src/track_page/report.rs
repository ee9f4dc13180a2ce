use jiff::tz::TimeZone;
use takeline::ZoneSet;
use takeline::track::{Audit, Certainty, Crossing, Visit};
use takeline::zone::{Zone, ZoneId};

/// The log that was audited.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TrackInput<'a> {
    /// The path or label that the caller gave.
    pub path: &'a str,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: &'a str,
}

/// Catches held against the track, as a table of text.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct CatchTable {
    /// Headings.
    pub columns: Vec<String>,
    /// Rows; a row shorter than the headings leaves the rest empty.
    pub rows: Vec<Vec<String>>,
}

/// Everything that goes into the page; the same report makes the same bytes.
#[derive(Debug, Clone, Copy)]
pub struct TrackReport<'a> {
    /// What was found.
    pub audit: &'a Audit,
    /// The zones it was held against.
    pub zones: &'a ZoneSet,
    /// The log.
    pub input: TrackInput<'a>,
    /// Version of the program.
    pub program_version: &'a str,
    /// Why nothing is settled, the headline first ([`crate::track_undecided_because`]); empty where it is settled.
    pub undecided_because: &'a [String],
    /// What somebody who reads no further has to know of the log ([`crate::track_remarks`]): pauses, several boats, doubtful
    /// dates.
    pub remarks: &'a [String],
    /// Catches, if there was a log of them.
    pub catches: Option<&'a CatchTable>,
}

/// An audit that does not belong to the zones it came with.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum PageError {
    /// A visit, crossing or approach names a zone that the set does not hold.
    #[error("zone {zone} is not among the zones given; give the zones that the audit was made with")]
    UnknownZone {
        /// The zone.
        zone: ZoneId,
    },
    /// A visit names a crossing that the audit does not hold.
    #[error("a visit to zone {zone} names crossing {number} of {count}; give the audit as it was made")]
    UnknownCrossing {
        /// The zone.
        zone: ZoneId,
        /// The number of the crossing, counted from 0.
        number: usize,
        /// How many crossings there are.
        count: usize,
    },
}

impl<'a> TrackReport<'a> {
    /// Holds every number and name in the audit against the zones.
    pub(super) fn check(&self) -> Result<(), PageError> {
        let audit = self.audit;
        for visit in &audit.visits {
            self.zone_of(visit).ok_or_else(|| PageError::UnknownZone { zone: visit.zone.clone() })?;
            let count = audit.crossings.len();
            if let Some(number) = visit.crossings.iter().copied().find(|number| *number >= count) {
                return Err(PageError::UnknownCrossing { zone: visit.zone.clone(), number, count });
            }
        }
        let named = audit.crossings.iter().map(|crossing| &crossing.zone);
        for zone in named.chain(audit.closest_approaches.iter().map(|approach| &approach.zone)) {
            self.zone_called(zone).ok_or_else(|| PageError::UnknownZone { zone: zone.clone() })?;
        }
        Ok(())
    }

    /// The zone of a visit; none if number and name do not go together.
    pub(super) fn zone_of(&self, visit: &Visit) -> Option<&'a Zone> {
        self.zones.zones().get(visit.zone_number).filter(|zone| zone.id == visit.zone)
    }

    /// The first zone of that name; names are unique within a file, and a visit says which where files share one.
    pub(super) fn zone_called(&self, id: &ZoneId) -> Option<&'a Zone> {
        self.zones.zones().iter().find(|zone| zone.id == *id)
    }

    /// The visit that a crossing belongs to, counted from 0.
    pub(super) fn visit_of(&self, crossing: usize) -> Option<usize> {
        self.audit.visits.iter().position(|visit| visit.crossings.contains(&crossing))
    }

    /// The zone of a crossing: that of its visit, which is sure, else the first of its name.
    pub(super) fn zone_crossed(&self, number: usize, crossing: &Crossing) -> Option<&'a Zone> {
        let visited = self.visit_of(number).and_then(|visit| self.zone_of(&self.audit.visits[visit]));
        visited.or_else(|| self.zone_called(&crossing.zone))
    }

    /// Certain and possible visits.
    pub(super) fn visit_counts(&self) -> (usize, usize) {
        let certain = self.audit.visits.iter().filter(|visit| visit.certainty == Certainty::Certain).count();
        (certain, self.audit.visits.len() - certain)
    }

    /// The time zone for map and plot: that of all zones that the trip came near, if they agree; else UTC.
    pub(super) fn time_zone(&self) -> TimeZone {
        let visited = self.audit.visits.iter().filter_map(|visit| self.zone_of(visit));
        let approached =
            self.audit.closest_approaches.iter().filter_map(|approach| self.zone_called(&approach.zone));
        let mut zones = visited.chain(approached).map(|zone| &zone.time_zone);
        let Some(first) = zones.next() else { return TimeZone::UTC };
        if zones.all(|other| other == first) { first.clone() } else { TimeZone::UTC }
    }
}
