//! The next instant at which a set of instants begins or ends.

use jiff::civil::{Date, DateTime, Time};
use jiff::tz::{AmbiguousOffset, TimeZone};
use jiff::{SignedDuration, Timestamp};

use super::{Almanac, SunHours, When};
use crate::Tristate;

/// How far ahead a change is looked for.
const HORIZON_DAYS: i64 = 400;
const ONE_DAY: SignedDuration = SignedDuration::from_hours(24);

impl When {
    /// Finds the first instant after another at which the answer of [`When::holds`] changes.
    ///
    /// Looks at every instant at which it can change: local midnights, the hours named, changes of the clocks, and the
    /// sun's moments with their offsets. Exact to the second; hours by the sun are as good as [`sun_event`](super::sun_event).
    ///
    /// # Edge cases
    ///
    /// None if nothing changes within 400 days (of 24 hours), so a window around 29 February may go unseen.
    ///
    /// # Examples
    ///
    /// ```
    /// use jiff::tz::TimeZone;
    /// use takeline::rule::{AnnualWindow, When, WindowEnds};
    ///
    /// let season = When::Yearly(AnnualWindow { from: (5, 1), to: (9, 30), ends: WindowEnds::Included });
    /// let end = season.next_change("2026-06-03T12:00Z".parse()?, &TimeZone::UTC);
    /// assert_eq!(end, Some("2026-10-01T00:00Z".parse()?));
    /// # Ok::<(), jiff::Error>(())
    /// ```
    #[must_use]
    pub fn next_change(&self, after: Timestamp, zone_time: &TimeZone) -> Option<Timestamp> {
        let edges = Edges::of(self);
        if edges.none() {
            return None;
        }
        let mut almanac = Almanac::default();
        let answer = |instant, almanac: &mut Almanac| match self.answer_without_sun(instant, zone_time) {
            Tristate::Undecided => self.holds_by(almanac, Some(instant), zone_time).answer,
            decided @ (Tristate::Yes | Tristate::No) => decided,
        };
        let now = answer(after, &mut almanac);
        let mut start = after;
        for _ in 0..HORIZON_DAYS {
            let end = start.checked_add(ONE_DAY).unwrap_or(Timestamp::MAX);
            for instant in edges.between((start, end), zone_time, &mut almanac) {
                if answer(instant, &mut almanac) != now {
                    return Some(instant);
                }
            }
            start = end;
        }
        None
    }
}

impl When {
    /// The instants after one and up to another at which the answer may change, in order: between two of them it does not.
    ///
    /// None for a set that knows no times: its answer never changes. Takes a millisecond or two a day where the sun counts.
    pub(crate) fn edges_within(
        &self,
        span: (Timestamp, Timestamp),
        zone_time: &TimeZone,
        almanac: &mut Almanac,
    ) -> Option<Vec<Timestamp>> {
        let edges = Edges::of(self);
        (!edges.none()).then(|| edges.between(span, zone_time, almanac))
    }
}

/// What can change an answer.
#[derive(Debug)]
struct Edges<'a> {
    /// The whole set.
    set: &'a When,
    /// Clock times of every day; midnight where whole days count.
    clocks: Vec<Time>,
    /// Hours by the sun.
    suns: Vec<&'a SunHours>,
}

impl<'a> Edges<'a> {
    fn of(when: &'a When) -> Self {
        let mut edges = Self { set: when, clocks: Vec::new(), suns: Vec::new() };
        edges.gather(when);
        edges.clocks.sort();
        edges.clocks.dedup();
        edges
    }

    fn gather(&mut self, when: &'a When) {
        match when {
            When::Always | When::Unknowable(_) => {}
            When::Dates(_) | When::Days(_) | When::Yearly(_) | When::Weekdays(_) | When::NthWeekday(_) => {
                self.clocks.push(Time::midnight());
            }
            When::Hours(hours) => self.clocks.extend([hours.from, hours.to]),
            When::Sun(hours) => self.suns.push(hours),
            When::All(members) | When::Any(members) => members.iter().for_each(|member| self.gather(member)),
            When::Not(inner) => self.gather(inner),
        }
    }

    fn none(&self) -> bool {
        self.clocks.is_empty() && self.suns.is_empty()
    }

    /// The instants after `start` and up to `end` that may change an answer, in order.
    fn between(
        &self,
        (start, end): (Timestamp, Timestamp),
        zone_time: &TimeZone,
        almanac: &mut Almanac,
    ) -> Vec<Timestamp> {
        let mut instants = Vec::new();
        if !self.clocks.is_empty() {
            instants.extend(self.on_clocks(start, end, zone_time));
            // a change of the clocks can jump into or out of hours and days
            instants.extend(
                zone_time
                    .following(start)
                    .map(|transition| transition.timestamp())
                    .take_while(|instant| *instant <= end),
            );
        }
        instants.retain(|instant| start < *instant && *instant <= end);
        if !self.sun_is_idle(start, &instants, zone_time) {
            for hours in &self.suns {
                instants.extend(hours.edges(start, end, almanac));
            }
            instants.retain(|instant| start < *instant && *instant <= end);
        }
        instants.sort();
        instants.dedup();
        instants
    }

    /// Whether the sun cannot matter between the given edges of clock and calendar: working it out is the slow part.
    fn sun_is_idle(&self, start: Timestamp, instants: &[Timestamp], zone_time: &TimeZone) -> bool {
        let decided = |instant| self.set.answer_without_sun(instant, zone_time) != Tristate::Undecided;
        self.suns.is_empty() || (decided(start) && instants.iter().all(|instant| decided(*instant)))
    }

    fn on_clocks(&self, start: Timestamp, end: Timestamp, zone_time: &TimeZone) -> Vec<Timestamp> {
        let first = zone_time.to_datetime(start).date();
        let last = zone_time.to_datetime(end).date();
        let mut instants = Vec::new();
        let mut day: Option<Date> = Some(first);
        while let Some(date) = day.filter(|date| *date <= last) {
            for clock in &self.clocks {
                instants.extend(instants_of(DateTime::from_parts(date, *clock), zone_time));
            }
            day = date.tomorrow().ok();
        }
        instants
    }
}

/// The instants at which clocks show a date and time: two where it is repeated, none where it is left out.
fn instants_of(local: DateTime, zone_time: &TimeZone) -> Vec<Timestamp> {
    let offsets = match zone_time.to_ambiguous_timestamp(local).offset() {
        AmbiguousOffset::Unambiguous { offset } => vec![offset],
        AmbiguousOffset::Gap { .. } => vec![],
        AmbiguousOffset::Fold { before, after } => vec![before, after],
    };
    offsets.into_iter().filter_map(|offset| offset.to_timestamp(local).ok()).collect()
}

impl SunHours {
    /// The instants at which hours by the sun can begin or end: every crossing, moved by either offset.
    fn edges(&self, start: Timestamp, end: Timestamp, almanac: &mut Almanac) -> Vec<Timestamp> {
        let days = self.days_that_bear_on(start, end);
        let mut instants = Vec::new();
        for horizon in self.horizons() {
            let Ok(crossings) = almanac.crossings(self.at.position, horizon, days.clone()) else { continue };
            for crossing in crossings {
                instants.extend([self.from.shifted(crossing.at), self.to.shifted(crossing.at)]);
            }
        }
        instants
    }
}
