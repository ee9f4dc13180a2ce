//! Whether an instant lies in the set of instants that a rule writes, and why.

use jiff::Timestamp;
use jiff::civil::{Date, DateTime, Time};
use jiff::tz::TimeZone;

use super::sun::LocalDay;
use super::{
    Almanac, Hours, KnownTime, MissingTime, SunEvent, SunHours, SunMiss, SunMoment, SunSpan, TimeReason, When,
};
use crate::Tristate;

/// Whether a rule is in force at an instant, with the reasons that decide it.
#[derive(Debug, Clone, PartialEq)]
pub struct Timing {
    /// Whether it is.
    pub answer: Tristate,
    /// Why; empty where the set is all time.
    pub because: Vec<TimeReason>,
}

impl Timing {
    fn new(answer: impl Into<Tristate>, because: TimeReason) -> Self {
        Self { answer: answer.into(), because: vec![because] }
    }

    fn negated(self) -> Self {
        Self { answer: self.answer.negated(), ..self }
    }

    /// Combines members, and keeps the reasons only of those that have the deciding answer.
    fn combined(members: Vec<Self>, answer: Tristate) -> Self {
        let mut because = Vec::new();
        for member in members.into_iter().filter(|member| member.answer == answer) {
            for reason in member.because {
                if !because.contains(&reason) {
                    because.push(reason);
                }
            }
        }
        Self { answer, because }
    }
}

/// An instant, and what the zone's clocks show at it.
struct Moment<'a> {
    at: Timestamp,
    local: DateTime,
    zone_time: &'a TimeZone,
}

impl Moment<'_> {
    /// What the zone's clocks show: whole seconds, so that reasons within one second are the same reason.
    fn shown(&self) -> DateTime {
        self.local.with().subsec_nanosecond(0).build().unwrap_or(self.local)
    }
}

impl When {
    /// Says whether an instant belongs to the set, in the zone's own time, and why.
    ///
    /// Sets of days run from local midnight to local midnight, to the second: a season that opens on 1 November is
    /// closed at 23:59:59 on 31 October and open at 00:00:00. Hours are read off the local clock, so where the clock
    /// goes back both passes of the repeated hour count, and where it goes forward the hour that is left out never
    /// comes. Hours by the sun are those of the place that the law names, wherever the boat is.
    ///
    /// # Edge cases
    ///
    /// Undecided if no time is given (unless the set is all time), for what cannot be computed offline, on the end days
    /// of a window whose text leaves them open, and for a set that cannot be meant ([`When::fault`]).
    /// "From sunset to sunrise" means while the sun is down: never where it does not set, always where it does not rise.
    ///
    /// # Examples
    ///
    /// ```
    /// use jiff::tz::TimeZone;
    /// use takeline::{Tristate, rule::{AnnualWindow, When, WindowEnds}};
    ///
    /// let season = When::Yearly(AnnualWindow { from: (5, 1), to: (8, 31), ends: WindowEnds::Included });
    /// let timing = season.holds(Some("2026-06-03T12:00Z".parse()?), &TimeZone::UTC);
    /// assert_eq!(timing.answer, Tristate::Yes);
    /// assert_eq!(timing.because[0].code(), "day-within");
    /// assert_eq!(season.holds(None, &TimeZone::UTC).because[0].code(), "no-time");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn holds(&self, at: Option<Timestamp>, zone_time: &TimeZone) -> Timing {
        self.holds_by(&mut Almanac::default(), at, zone_time)
    }

    /// As [`When::holds`], with an almanac that keeps the sun's moments from one call to the next.
    ///
    /// Hours by the sun take one or two milliseconds for a day not yet in the almanac, and some microseconds for one that is.
    #[must_use]
    pub fn holds_by(&self, almanac: &mut Almanac, at: Option<Timestamp>, zone_time: &TimeZone) -> Timing {
        self.holds_known(almanac, at.ok_or(MissingTime::NotGiven), zone_time)
    }

    /// As [`When::holds_by`], with the reason for there being no time, where there is none.
    pub(crate) fn holds_known(&self, almanac: &mut Almanac, at: KnownTime, zone_time: &TimeZone) -> Timing {
        let moment = at.map(|at| Moment { at, local: zone_time.to_datetime(at), zone_time });
        self.judge_moment(moment.as_ref().map_err(|missing| *missing), Some(almanac))
    }

    /// The answer at an instant, hours by the sun left undecided: whatever else comes out holds with the sun too.
    pub(super) fn answer_without_sun(&self, at: Timestamp, zone_time: &TimeZone) -> Tristate {
        let moment = Moment { at, local: zone_time.to_datetime(at), zone_time };
        self.judge_moment(Ok(&moment), None).answer
    }

    fn judge_moment(
        &self,
        moment: Result<&Moment<'_>, MissingTime>,
        mut almanac: Option<&mut Almanac>,
    ) -> Timing {
        match self {
            Self::Always => Timing { answer: Tristate::Yes, because: Vec::new() },
            Self::Unknowable(words) => {
                let words = words.trim().to_owned();
                Timing::new(Tristate::Undecided, TimeReason::Unknowable { words })
            }
            Self::All(members) => {
                let members: Vec<_> =
                    members.iter().map(|when| when.judge_moment(moment, almanac.as_deref_mut())).collect();
                let answer = Tristate::all(members.iter().map(|timing| timing.answer));
                Timing::combined(members, answer)
            }
            Self::Any(members) => {
                let members: Vec<_> =
                    members.iter().map(|when| when.judge_moment(moment, almanac.as_deref_mut())).collect();
                let answer = Tristate::any(members.iter().map(|timing| timing.answer));
                Timing::combined(members, answer)
            }
            Self::Not(inner) => inner.judge_moment(moment, almanac).negated(),
            Self::Dates(range) => self.judge_day(moment, |date| range.holds_on(date)),
            Self::Yearly(window) => self.judge_day(moment, |date| window.holds_on(date)),
            Self::NthWeekday(nth) => self.judge_day(moment, |date| nth.holds_on(date).into()),
            Self::Days(days) => self.judge_day(moment, |date| days.contains(&date).into()),
            Self::Weekdays(weekdays) => {
                self.judge_day(moment, |date| weekdays.contains(&date.weekday()).into())
            }
            Self::Hours(hours) => self.judge_sound(moment, |moment| hours.judge(moment)),
            Self::Sun(hours) => self.judge_sound(moment, |moment| match almanac {
                Some(almanac) => hours.judge(moment, almanac),
                None => Timing { answer: Tristate::Undecided, because: Vec::new() },
            }),
        }
    }

    /// Judges a set that can be meant, at an instant that is known; undecided where either fails.
    fn judge_sound(
        &self,
        moment: Result<&Moment<'_>, MissingTime>,
        judge: impl FnOnce(&Moment<'_>) -> Timing,
    ) -> Timing {
        if let Some(fault) = self.fault() {
            return Timing::new(Tristate::Undecided, TimeReason::CannotBeMeant { fault });
        }
        match moment {
            Ok(moment) => judge(moment),
            Err(missing) => Timing::new(Tristate::Undecided, TimeReason::NoTime { missing }),
        }
    }

    /// Judges a set of whole days.
    fn judge_day(
        &self,
        moment: Result<&Moment<'_>, MissingTime>,
        holds_on: impl FnOnce(Date) -> Tristate,
    ) -> Timing {
        self.judge_sound(moment, |moment| {
            let date = moment.local.date();
            let answer = holds_on(date);
            Timing::new(answer, TimeReason::of_day(date, answer, self))
        })
    }
}

impl Hours {
    /// Whether a clock in the zone's own time shows one of these hours; the whole day where both ends are the same.
    #[must_use]
    pub fn holds_at(&self, clock: Time) -> bool {
        if self.from < self.to {
            self.from <= clock && clock < self.to
        } else {
            self.from <= clock || clock < self.to
        }
    }

    fn judge(&self, moment: &Moment<'_>) -> Timing {
        let (time, hours) = (moment.shown().time(), *self);
        if self.holds_at(moment.local.time()) {
            Timing::new(true, TimeReason::HourWithin { time, hours })
        } else {
            Timing::new(false, TimeReason::HourOutside { time, hours })
        }
    }
}

impl SunHours {
    fn judge(&self, moment: &Moment<'_>, almanac: &mut Almanac) -> Timing {
        let Ok(stretches) = self.stretches(moment.at, almanac) else {
            let year = moment.local.year();
            return Timing::new(Tristate::Undecided, TimeReason::SunOutOfReach { year });
        };
        let within = stretches.answer(moment.at);
        let ends = stretches.around(moment.at).and_then(|stretch| stretch.from.zip(stretch.until));
        let local = |at| moment.zone_time.to_datetime(at);
        let reason = TimeReason::Sun {
            at: moment.shown(),
            within,
            hours: self.clone(),
            span: ends.map(|(from, until)| SunSpan { from: local(from), until: local(until) }),
            misses: self.misses(moment, almanac),
        };
        Timing::new(within, reason)
    }

    /// Which of the two moments does not occur on the local date because the sun never gets there.
    fn misses(&self, moment: &Moment<'_>, almanac: &mut Almanac) -> Vec<SunMiss> {
        let day = LocalDay { date: moment.local.date(), zone_time: moment.zone_time };
        let mut misses = Vec::new();
        for event in [self.from.event, self.to.event] {
            let happens = almanac.event_on(event, day, self.at.position);
            misses.extend(never(event, happens).filter(|miss| !misses.contains(miss)));
        }
        misses
    }
}

/// What the sun does not do where it does not reach an event on a date.
fn never(event: SunEvent, happens: SunMoment) -> Option<SunMiss> {
    let limb = matches!(event, SunEvent::Sunrise | SunEvent::Sunset);
    match happens {
        SunMoment::StaysAbove if limb => Some(SunMiss::DoesNotSet),
        SunMoment::StaysBelow if limb => Some(SunMiss::DoesNotRise),
        SunMoment::StaysAbove => Some(SunMiss::TwilightDoesNotEnd),
        SunMoment::StaysBelow => Some(SunMiss::TwilightDoesNotBegin),
        SunMoment::At(_) | SunMoment::NotThatDay | SunMoment::OutOfReach => None,
    }
}
