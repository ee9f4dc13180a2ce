//! Which rules bind at a place over a time, divided where one comes into force or goes out of it.

use std::collections::HashMap;

use jiff::{SignedDuration, Timestamp};

use super::binds::bind;
use super::{BindingZone, InForce, Moment, Reason, ZoneHere};
use crate::Tristate;
use crate::rule::Access;
use crate::zone::{Zone, ZoneSet};

/// Seasons are not followed for longer than this; what lies beyond is undecided.
const LONGEST: SignedDuration = SignedDuration::from_hours(400 * 24);

/// A part of a time through which every rule here stays in force or out of it.
#[derive(Debug, Clone, PartialEq)]
pub struct BindingSpan {
    /// Its first instant.
    pub from: Timestamp,
    /// The first instant of the next span; of the last span, its own last instant.
    pub to: Timestamp,
    /// Whether each zone's rule binds, in the order asked.
    pub zones: Vec<BindingZone>,
}

/// Whether one zone's rule is in force, from each instant on until the next.
type Course = Vec<(Timestamp, InForce)>;

impl ZoneSet {
    /// Answers which of the zones at a place bind over a time: [`Self::binding_zones`] at every instant of it.
    ///
    /// The spans follow each other without a gap, and are divided wherever a rule of these zones comes into force or goes out
    /// of it: season, hours, sun, editions. The answer at each instant of a span is that of the span. Reasons are those of its
    /// first instant; they do not say when the rule changes next, because the span does.
    ///
    /// # Edge cases
    ///
    /// Both ends belong to the time. Where a rule changes at its very last instant, the last span is that instant alone. Ends
    /// in the wrong order are put in order. Seasons are followed for 400 days of 24 hours; beyond, a rule with a season is
    /// undecided, because a time so long is a wrong date more often than a stay.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Tristate, ZoneSet, binding::ZoneHere};
    ///
    /// let file = br#"{ "type": "FeatureCollection",
    ///   "takeline": { "format": "takeline.zones/1", "datum": "WGS 84", "time_zone": "UTC" },
    ///   "features": [ { "type": "Feature", "id": "nursery", "geometry": { "type": "Point", "coordinates": [-30.13, 45.11] },
    ///     "properties": { "radius_m": 900, "take": "none", "when": { "hours": { "from": "10:00", "to": "12:00" } },
    ///                     "source": { "instrument": "Marrowick Order 3" } } } ] }"#;
    /// let zones = ZoneSet::new(takeline::zone_file::read("marrowick.json", file)?.zones);
    /// let here = [ZoneHere { number: 0, inside: Tristate::Yes }];
    /// let (from, to) = ("2026-07-01T09:00Z".parse()?, "2026-07-01T13:00Z".parse()?);
    /// let spans = zones.binding_spans(&here, from, to, None);
    /// let binds: Vec<_> = spans.iter().map(|span| span.zones[0].binds).collect();
    /// assert_eq!(binds, [Tristate::No, Tristate::Yes, Tristate::No]);
    /// assert_eq!((spans[1].from, spans[1].to), ("2026-07-01T10:00Z".parse()?, "2026-07-01T12:00Z".parse()?));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn binding_spans(
        &self,
        here: &[ZoneHere],
        from: Timestamp,
        to: Timestamp,
        access: Option<Access>,
    ) -> Vec<BindingSpan> {
        let (from, to) = (from.min(to), from.max(to));
        let mut moment = Moment::new(Some(from));
        let courses: HashMap<usize, Course> = here
            .iter()
            .filter_map(|one| Some((one.number, self.zones().get(one.number)?)))
            .map(|(number, zone)| (number, course(zone, (from, to), &mut moment)))
            .collect();
        let mut starts: Vec<Timestamp> = courses.values().flatten().map(|(at, _)| *at).collect();
        starts.push(from);
        starts.sort_unstable();
        starts.dedup();
        let ends = starts.iter().skip(1).copied().chain([to]);
        let spans = starts.iter().zip(ends).map(|(start, end)| BindingSpan {
            from: *start,
            to: end,
            zones: bind(self, here, access, |number, _| at(courses.get(&number), *start)),
        });
        spans.collect()
    }
}

/// What a course says at an instant.
fn at(course: Option<&Course>, instant: Timestamp) -> InForce {
    let begun = course.into_iter().flatten().rfind(|(from, _)| *from <= instant);
    // every course begins with the span
    let unknown = || InForce { answer: Tristate::Undecided, because: Vec::new() };
    begun.map_or_else(unknown, |(_, in_force)| in_force.clone())
}

/// Follows one rule; an entry for the first instant, and one for each change of the answer.
fn course(zone: &Zone, (from, to): (Timestamp, Timestamp), moment: &mut Moment) -> Course {
    let horizon = from.checked_add(LONGEST).unwrap_or(Timestamp::MAX);
    let edges = moment.edges(zone, (from, to.min(horizon)));
    let has_seasons = edges.is_some();
    let mut instants = edges.unwrap_or_default();
    instants.extend([zone.effective.from, zone.effective.until].into_iter().flatten());
    instants.extend((has_seasons && horizon < to).then_some(horizon));
    instants.retain(|instant| from < *instant && *instant <= to);
    instants.push(from);
    instants.sort_unstable();
    instants.dedup();
    let mut course: Course = Vec::new();
    for instant in instants {
        moment.moved(instant);
        let in_force = if has_seasons && instant >= horizon {
            let mut beyond = moment.has_effect(zone);
            beyond.answer = beyond.answer.and(Tristate::Undecided);
            beyond.because.push(Reason::SeasonsNotFollowed);
            beyond
        } else {
            moment.in_force(zone)
        };
        if course.last().is_none_or(|(_, last)| last.answer != in_force.answer) {
            course.push((instant, in_force));
        }
    }
    course
}
