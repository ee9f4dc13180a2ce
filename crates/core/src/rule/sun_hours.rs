//! Whether an instant lies in hours by the sun, polar day and polar night included.
//!
//! The answer follows where the sun stands, not the calendar date: "sunset to sunrise" is the time while the sun is
//! down, however long that lasts. Where the sun misses one of two heights (a white night has a sunset but no civil
//! dusk), the stretch in which the missing moment would fall is undecided.

use std::ops::RangeInclusive;

use jiff::{SignedDuration, Timestamp};

use super::sun::{Almanac, Crossing, OutOfReach, SunHorizon, utc_day};
use super::{SunEvent, SunHours, SunTime};
use crate::Tristate;

/// Longer twilights occur near the poles only, where evening and morning twilight cannot be told apart.
const LONGEST_TOLD_TWILIGHT: SignedDuration = SignedDuration::from_hours(24);

/// A stretch of time, end excluded; an end that is not given lies beyond what was looked at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Stretch {
    pub(super) from: Option<Timestamp>,
    pub(super) until: Option<Timestamp>,
}

/// The stretches near an instant that belong to sun hours.
#[derive(Debug)]
pub(super) struct SunStretches {
    /// Surely.
    certain: Vec<Stretch>,
    /// Surely, or depending on how a moment that does not occur is read.
    possible: Vec<Stretch>,
}

impl Stretch {
    fn holds(self, instant: Timestamp) -> bool {
        self.from.is_none_or(|from| from <= instant) && self.until.is_none_or(|until| instant < until)
    }

    fn is_empty(self) -> bool {
        matches!((self.from, self.until), (Some(from), Some(until)) if from >= until)
    }
}

impl SunStretches {
    pub(super) fn answer(&self, instant: Timestamp) -> Tristate {
        if self.certain.iter().any(|stretch| stretch.holds(instant)) {
            return Tristate::Yes;
        }
        if self.possible.iter().any(|stretch| stretch.holds(instant)) {
            Tristate::Undecided
        } else {
            Tristate::No
        }
    }

    /// The sure stretch that holds the instant.
    pub(super) fn around(&self, instant: Timestamp) -> Option<Stretch> {
        self.certain.iter().copied().find(|stretch| stretch.holds(instant))
    }
}

impl SunTime {
    fn offset(self) -> SignedDuration {
        SignedDuration::from_mins(i64::from(self.offset_minutes))
    }

    pub(super) fn shifted(self, instant: Timestamp) -> Timestamp {
        instant.saturating_add(self.offset()).unwrap_or(instant)
    }
}

impl SunHours {
    /// Whether both moments are the same event, at different minutes.
    fn around_one_event(&self) -> bool {
        self.from.event == self.to.event
    }

    /// The heights that the two moments are defined by.
    pub(super) fn horizons(&self) -> Vec<SunHorizon> {
        let (from, to) = (self.from.event.horizon(), self.to.event.horizon());
        if from == to { vec![from] } else { vec![SunHorizon::Limb, SunHorizon::Civil] }
    }

    /// Finds the stretches that can matter for an instant.
    ///
    /// Looks one day further than the offsets reach on either side.
    pub(super) fn stretches(
        &self,
        instant: Timestamp,
        almanac: &mut Almanac,
    ) -> Result<SunStretches, OutOfReach> {
        let span = self.days_that_bear_on(instant, instant);
        let mut crossings = Vec::new();
        for horizon in self.horizons() {
            crossings.extend(almanac.crossings(self.at.position, horizon, span.clone())?);
        }
        crossings.sort_by_key(|crossing| crossing.at);
        if self.around_one_event() {
            return Ok(self.around_each(&crossings));
        }
        let sections = self.sections(&crossings, instant)?;
        Ok(SunStretches {
            certain: self.runs(&sections, |answer| answer == Tristate::Yes),
            possible: self.runs(&sections, |answer| answer != Tristate::No),
        })
    }

    /// The UTC days whose crossings can bear on a span of time.
    pub(super) fn days_that_bear_on(&self, start: Timestamp, end: Timestamp) -> RangeInclusive<i64> {
        let furthest = self.from.offset_minutes.unsigned_abs().max(self.to.offset_minutes.unsigned_abs());
        let margin = LONGEST_TOLD_TWILIGHT + SignedDuration::from_mins(i64::from(furthest));
        let first = start.checked_sub(margin).unwrap_or(Timestamp::MIN);
        let last = end.checked_add(margin).unwrap_or(Timestamp::MAX);
        utc_day(first)..=utc_day(last)
    }

    /// "From an hour before sunset to an hour after it", or the other way round: all but that.
    fn around_each(&self, crossings: &[Crossing]) -> SunStretches {
        let own = crossings.iter().filter(|crossing| crossing.event == self.from.event);
        let stretches: Vec<_> = if self.from.offset_minutes < self.to.offset_minutes {
            own.map(|crossing| Stretch {
                from: Some(self.from.shifted(crossing.at)),
                until: Some(self.to.shifted(crossing.at)),
            })
            .collect()
        } else {
            let moments: Vec<_> = own.map(|crossing| crossing.at).collect();
            let starts = std::iter::once(None).chain(moments.iter().map(|at| Some(self.from.shifted(*at))));
            let ends = moments.iter().map(|at| Some(self.to.shifted(*at))).chain(std::iter::once(None));
            starts.zip(ends).map(|(from, until)| Stretch { from, until }).collect()
        };
        let kept: Vec<_> = stretches.into_iter().filter(|stretch| !stretch.is_empty()).collect();
        SunStretches { certain: kept.clone(), possible: kept }
    }

    /// Cuts the time at the crossings, and says of each section whether it belongs, offsets left aside.
    fn sections(
        &self,
        crossings: &[Crossing],
        instant: Timestamp,
    ) -> Result<Vec<(Stretch, Tristate)>, OutOfReach> {
        let mut standing = self.standing_before(crossings, instant)?;
        let mut sections = Vec::new();
        for index in 0..=crossings.len() {
            let before = index.checked_sub(1).and_then(|previous| crossings.get(previous)).copied();
            let after = crossings.get(index).copied();
            if let Some(crossing) = before {
                standing.set(crossing.event.horizon(), crossing.event.rising());
            }
            let stretch = Stretch { from: before.map(|c| c.at), until: after.map(|c| c.at) };
            sections.push((stretch, self.belongs(standing.phases(before, after))));
        }
        Ok(sections)
    }

    /// How the sun stands before the first crossing.
    fn standing_before(&self, crossings: &[Crossing], instant: Timestamp) -> Result<Standing, OutOfReach> {
        let above = |horizon: SunHorizon| -> Result<bool, OutOfReach> {
            match crossings.iter().find(|crossing| crossing.event.horizon() == horizon) {
                Some(first) => Ok(!first.event.rising()),
                None => Almanac::is_above(self.at.position, horizon, instant),
            }
        };
        let mut standing = Standing { above_limb: None, above_civil: None };
        for horizon in self.horizons() {
            standing.set(horizon, above(horizon)?);
        }
        Ok(standing)
    }

    /// Whether a section belongs, given the phases it may be: undecided where they disagree.
    fn belongs(&self, phases: &[Phase]) -> Tristate {
        let inside = phases.iter().filter(|phase| phase.lies_between(self.from.event, self.to.event)).count();
        match inside {
            0 => Tristate::No,
            all if all == phases.len() => Tristate::Yes,
            _ => Tristate::Undecided,
        }
    }

    /// Joins neighbouring sections that count, and moves the ends by the offsets.
    fn runs(&self, sections: &[(Stretch, Tristate)], counts: impl Fn(Tristate) -> bool) -> Vec<Stretch> {
        let mut runs: Vec<Stretch> = Vec::new();
        let mut open: Option<Stretch> = None;
        for (stretch, answer) in sections {
            if counts(*answer) {
                let from = open.map_or(stretch.from, |run| run.from);
                open = Some(Stretch { from, until: stretch.until });
            } else {
                runs.extend(open.take());
            }
        }
        runs.extend(open);
        runs.into_iter()
            .map(|run| Stretch {
                from: run.from.map(|at| self.from.shifted(at)),
                until: run.until.map(|at| self.to.shifted(at)),
            })
            .filter(|run| !run.is_empty())
            .collect()
    }
}

/// A part of the day between two events.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Phase {
    Night,
    MorningTwilight,
    Day,
    EveningTwilight,
}

impl Phase {
    /// Its number, counted from civil dusk.
    fn number(self) -> u8 {
        match self {
            Self::Night => 0,
            Self::MorningTwilight => 1,
            Self::Day => 2,
            Self::EveningTwilight => 3,
        }
    }

    /// The phase that begins with an event.
    fn begun_by(event: SunEvent) -> Self {
        match event {
            SunEvent::CivilDusk => Self::Night,
            SunEvent::CivilDawn => Self::MorningTwilight,
            SunEvent::Sunrise => Self::Day,
            SunEvent::Sunset => Self::EveningTwilight,
        }
    }

    /// Whether it comes after the first event and before the next second one, going round the day.
    fn lies_between(self, from: SunEvent, to: SunEvent) -> bool {
        let round = |number: u8| (4 + number - Self::begun_by(from).number()) % 4;
        round(self.number()) < round(Self::begun_by(to).number())
    }
}

/// Where the sun stands against the two heights; none for a height that does not matter.
#[derive(Debug, Clone, Copy)]
struct Standing {
    above_limb: Option<bool>,
    above_civil: Option<bool>,
}

impl Standing {
    fn set(&mut self, horizon: SunHorizon, above: bool) {
        match horizon {
            SunHorizon::Limb => self.above_limb = Some(above),
            SunHorizon::Civil => self.above_civil = Some(above),
        }
    }

    /// The phases that a section between two crossings may be.
    fn phases(self, before: Option<Crossing>, after: Option<Crossing>) -> &'static [Phase] {
        match (self.above_limb, self.above_civil) {
            (Some(true), _) => &[Phase::Day],
            (_, Some(false)) => &[Phase::Night],
            (Some(false), None) => &[Phase::EveningTwilight, Phase::Night, Phase::MorningTwilight],
            (None, _) => &[Phase::MorningTwilight, Phase::Day, Phase::EveningTwilight],
            (Some(false), Some(true)) => twilight(before, after),
        }
    }
}

/// Tells evening from morning by the crossings on either side; both where they do not tell.
fn twilight(before: Option<Crossing>, after: Option<Crossing>) -> &'static [Phase] {
    let (Some(before), Some(after)) = (before, after) else {
        return &[Phase::EveningTwilight, Phase::MorningTwilight];
    };
    let short = after.at.duration_since(before.at) < LONGEST_TOLD_TWILIGHT;
    match (before.event, after.event) {
        (SunEvent::Sunset, SunEvent::CivilDusk) if short => &[Phase::EveningTwilight],
        (SunEvent::CivilDawn, SunEvent::Sunrise) if short => &[Phase::MorningTwilight],
        _ => &[Phase::EveningTwilight, Phase::MorningTwilight],
    }
}
