//! What the parts of a page are drawn from, and why some tracks have none.

use jiff::tz::TimeZone;
use takeline::Position;
use takeline::track::{Direction, OutcomeAnswer, TrackPoint};
use takeline::zone::ZoneId;

use crate::track::{
    CatchDocument, ClosestDocument, CrossingDocument, GapDocument, SuspectDocument, TrackDocument,
    VisitDocument,
};

/// What the parts of a page are drawn from: nothing of it is withheld.
pub(super) struct Sheet<'d> {
    pub(super) document: &'d TrackDocument<'d>,
    /// The way, cut where positions are withheld.
    pub(super) way: Vec<TrackPoint>,
    /// The time zone for map and plot: that of all zones that the trip came near, if they agree; else UTC.
    pub(super) clock: TimeZone,
}

/// A crossing whose place is shown.
pub(super) struct ShownCrossing {
    /// The number of its visit, counted from 0.
    pub(super) visit: Option<usize>,
    pub(super) label: String,
    pub(super) direction: Direction,
    pub(super) position: Position,
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
    #[error("it holds only routes, and a page is for a trip")]
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
        Ok(Self { document, way: document.shown_way(), clock: common_clock(document) })
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

    /// The crossings whose place is shown, each labelled by its visit.
    pub(super) fn crossings(&self) -> impl Iterator<Item = ShownCrossing> {
        self.document.crossings.iter().filter_map(|crossing| {
            Some(ShownCrossing {
                visit: crossing.visit,
                label: self.crossing_label(crossing),
                direction: crossing.direction,
                position: crossing.at.place.0?,
            })
        })
    }

    /// `2 in`: the number of the visit and which way; without a visit, which way alone.
    pub(super) fn crossing_label(&self, crossing: &CrossingDocument<'_>) -> String {
        let way = self.document.words.direction(crossing.direction);
        crossing.visit.map_or(way.clone(), |visit| format!("{} {way}", visit + 1))
    }

    /// The catches, each with its letter: A to Z, then AA and on.
    pub(super) fn lettered_catches(&self) -> impl Iterator<Item = (String, &'d CatchDocument<'d>)> {
        self.document.catches.iter().enumerate().map(|(number, caught)| (letters(number), caught))
    }

    /// Whether something in a visit is against a loaded rule, or not settled.
    pub(super) fn stands_out(&self, visit: usize) -> bool {
        self.document.visits.get(visit).is_some_and(visit_stands_out)
    }
}

/// The clock for a trip as a whole: that of all zones that it came near, if they agree; else UTC.
pub(super) fn common_clock(document: &TrackDocument<'_>) -> TimeZone {
    let zones = document.zones().zones();
    let visited = document.visits.iter().filter_map(|visit| visit.zone);
    let shown = document.closest_approach.iter().filter(|approach| approach.at.place.0.is_some());
    let approached = shown.filter_map(|approach| zones.get(approach.zone_number?));
    let mut clocks = visited.chain(approached).map(|zone| &zone.time_zone);
    let Some(first) = clocks.next() else { return TimeZone::UTC };
    if clocks.all(|other| other == first) { first.clone() } else { TimeZone::UTC }
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

/// Whether something in a visit is against a loaded rule, or not settled.
pub(super) fn visit_stands_out(visit: &VisitDocument<'_>) -> bool {
    visit.outcome.answer != OutcomeAnswer::NothingAgainst
}

/// A, B, … Z, AA, AB, …
fn letters(number: usize) -> String {
    let letter = |number: usize| ('A'..='Z').nth(number % 26).unwrap_or('A');
    let mut letters = vec![letter(number)];
    let mut rest = number / 26;
    while rest > 0 {
        letters.insert(0, letter(rest - 1));
        rest = (rest - 1) / 26;
    }
    letters.into_iter().collect()
}
