//! What the parts of a page are drawn from, and why some tracks have none.

use jiff::tz::TimeZone;
use takeline::Position;
use takeline::track::{Certainty, TrackPoint};
use takeline::zone::ZoneId;

use crate::track::{ClosestDocument, GapDocument, SuspectDocument, TrackDocument, VisitDocument};

/// What the parts of a page are drawn from: nothing of it is withheld.
pub(super) struct Sheet<'d> {
    pub(super) document: &'d TrackDocument<'d>,
    /// The way, cut where positions are withheld.
    pub(super) way: Vec<TrackPoint>,
    /// The time zone for map and plot: that of all zones that the trip came near, if they agree; else UTC.
    pub(super) clock: TimeZone,
}

/// Why a track has no page.
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
    /// A plan: nothing says that anybody went.
    #[error("it holds routes only, and a page is of a trip that was made")]
    Plan,
    /// A visit cannot be drawn without a place that is withheld.
    #[error(
        "a visit begins or ends where --trim-ends withholds positions, and a map without that visit would mislead; write the \
         page without --trim-ends, or use --geojson"
    )]
    Withheld,
}

impl<'d> Sheet<'d> {
    pub(super) fn of(document: &'d TrackDocument<'_>) -> Result<Self, PageError> {
        if document.is_plan() {
            return Err(PageError::Plan);
        }
        check(document)?;
        if document.visits.iter().any(|visit| is_withheld(document, visit)) {
            return Err(PageError::Withheld);
        }
        let mut sheet = Self { document, way: document.shown_way(), clock: TimeZone::UTC };
        sheet.clock = sheet.common_clock();
        Ok(sheet)
    }

    /// The gaps with both ends shown.
    pub(super) fn gaps(&self) -> impl Iterator<Item = &'d GapDocument<'d>> {
        let gaps = self.document.quality.gaps.iter();
        gaps.filter(|gap| gap.from.place.0.is_some() && gap.to.place.0.is_some())
    }

    /// The suspect fixes that are shown.
    pub(super) fn suspects(&self) -> impl Iterator<Item = &'d SuspectDocument> {
        self.document.quality.suspects.iter().filter(|suspect| suspect.place.0.is_some())
    }

    /// The nearest approaches that are shown.
    pub(super) fn approaches(&self) -> impl Iterator<Item = &'d ClosestDocument<'d>> {
        self.document.closest_approach.iter().filter(|approach| approach.at.place.0.is_some())
    }

    /// The crossings, each with its number on the map and in the table.
    pub(super) fn numbered_crossings(&self) -> impl Iterator<Item = (u64, Position)> {
        let numbered = (1_u64..).zip(&self.document.crossings);
        numbered.filter_map(|(number, crossing)| Some((number, crossing.at.place.0?)))
    }

    /// Certain and possible visits.
    pub(super) fn visit_counts(&self) -> (usize, usize) {
        let visits = &self.document.visits;
        let certain = visits.iter().filter(|visit| visit.certainty == Certainty::Certain).count();
        (certain, visits.len() - certain)
    }

    fn common_clock(&self) -> TimeZone {
        let zones = self.document.zones().zones();
        let visited = self.document.visits.iter().filter_map(|visit| visit.zone);
        let approached = self.approaches().filter_map(|approach| zones.get(approach.zone_number?));
        let mut clocks = visited.chain(approached).map(|zone| &zone.time_zone);
        let Some(first) = clocks.next() else { return TimeZone::UTC };
        if clocks.all(|other| other == first) { first.clone() } else { TimeZone::UTC }
    }
}

/// Holds every number and name in the audit against the zones.
fn check(document: &TrackDocument<'_>) -> Result<(), PageError> {
    let unknown = |id: &str| PageError::UnknownZone { zone: ZoneId(id.to_owned()) };
    for visit in &document.visits {
        visit.zone.ok_or_else(|| unknown(visit.zone_id))?;
        let count = document.crossings.len();
        if let Some(number) = visit.crossings.iter().copied().find(|number| *number >= count) {
            let zone = ZoneId(visit.zone_id.to_owned());
            return Err(PageError::UnknownCrossing { zone, number, count });
        }
    }
    for crossing in &document.crossings {
        crossing.zone.ok_or_else(|| unknown(crossing.zone_id))?;
    }
    for approach in &document.closest_approach {
        approach.zone_number.ok_or_else(|| unknown(approach.zone_id))?;
    }
    Ok(())
}

/// Whether a visit begins, ends, crosses or stops at a withheld place.
fn is_withheld(document: &TrackDocument<'_>, visit: &VisitDocument<'_>) -> bool {
    let crossings = visit.crossings.iter().filter_map(|number| document.crossings.get(*number));
    let others = crossings.map(|crossing| &crossing.at).chain(visit.stops.iter().map(|stop| &stop.from));
    [&visit.entered, &visit.left].into_iter().chain(others).any(|moment| moment.place.0.is_none())
}
