//! When the sun rises, sets, and passes civil twilight at a place, and where it stands.
//!
//! The solar position algorithm is the crate `solar-positioning`; this file turns it into our own types and is the
//! only one that knows it. UTC is taken for UT1 (they differ by less than a second) and ΔT is the crate's estimate.

use std::cell::RefCell;
use std::collections::HashMap;
use std::ops::RangeInclusive;

use jiff::civil::Date;
use jiff::tz::TimeZone;
use jiff::{SignedDuration, Timestamp};
use solar_positioning::time::JulianDate;
use solar_positioning::{Horizon, Location, SolarEvents, SolarPosition, SolarPositions, delta_t};

use super::SunEvent;
use crate::{Position, TrueBearing};

/// Julian date of 1970-01-01T00:00:00Z.
const UNIX_EPOCH_JD: f64 = 2_440_587.5;
const SECONDS_PER_DAY: i64 = 86_400;

/// What the sun does on one calendar day, as far as one event is concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SunMoment {
    /// The event happens then; the first one where it happens twice on that day.
    At(Timestamp),
    /// It does not happen: the sun stays above the event's horizon the whole day (polar day, for sunrise and sunset).
    StaysAbove,
    /// It does not happen: the sun stays below the event's horizon the whole day (polar night).
    StaysBelow,
    /// It does not happen on that date, but its counterpart does (the sun rises and sets only after midnight).
    NotThatDay,
    /// The year lies beyond the reach of the solar theory (about −500 to 3000).
    OutOfReach,
}

/// Finds when the sun has an event at a place on a calendar date, as the clocks of a time zone count that date.
///
/// The day runs from local midnight to local midnight, so far from Greenwich the instant may have another UTC date.
///
/// # Accuracy
///
/// Within 3 s of an independent library at 18 places from 78° N to 78° S (`tests/data/sun`), for a level sea horizon
/// and standard refraction. What an eye sees may differ by minutes with the weather.
///
/// # Edge cases
///
/// At high latitudes the answer may be [`SunMoment::StaysAbove`], [`SunMoment::StaysBelow`] or
/// [`SunMoment::NotThatDay`]; a date that the time zone skipped has no events.
///
/// # Examples
///
/// ```
/// use jiff::{civil::date, tz::TimeZone};
/// use takeline::{Position, rule::{SunEvent, SunMoment, sun_event}};
///
/// let chapel = Position::from_degrees(45.1250, -30.1100)?;
/// let SunMoment::At(sunset) = sun_event(SunEvent::Sunset, date(2026, 8, 3), chapel, &TimeZone::UTC) else {
///     return Err("the sun sets there every day".into());
/// };
/// assert_eq!(sunset.to_string().get(..16), Some("2026-08-03T21:24"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # References
///
/// I. Reda and A. Andreas, *Solar Position Algorithm for Solar Radiation Applications*, NREL/TP-560-34302 (2008).
#[must_use]
pub fn sun_event(event: SunEvent, date: Date, place: Position, zone_time: &TimeZone) -> SunMoment {
    Almanac::default().event_on(event, LocalDay { date, zone_time }, place)
}

/// Where the centre of the sun stands, seen from the surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SunDirection {
    /// The bearing of the point of the horizon below it.
    pub azimuth: TrueBearing,
    /// Its height above the level, in degrees, as if there were no air: negative below.
    pub altitude_deg: f64,
}

/// Finds where the sun stands at an instant, as seen from a place.
///
/// # Units
///
/// Degrees.
///
/// # Accuracy
///
/// Within 0.001° of an independent library at 12 places from 78° N to 78° S (`tests/data/sun`). Fractions of a second are
/// dropped, which is worth up to 0.004°. The altitude is that of the centre of the sun **without refraction**: the air
/// lifts what the eye sees by half a degree at the horizon and by less than 0.1° from 10° up, and the disc reaches
/// 0.27° to each side. So the upper edge rises when this altitude is −0.83°, as in [`sun_event`].
///
/// # Edge cases
///
/// Nothing for a year beyond the reach of the solar theory (about −500 to 3000). Straight overhead and at the poles the
/// azimuth means little; at a pole it counts from the meridian by which the position names it.
///
/// # Examples
///
/// ```
/// use takeline::{Position, rule::sun_direction};
///
/// let chapel = Position::from_degrees(45.1250, -30.1100)?;
/// let sun = sun_direction(chapel, "2026-08-03T09:00:00Z".parse()?).ok_or("a year of this century")?;
/// assert_eq!(sun.azimuth.to_string(), "087° true");
/// assert_eq!(format!("{:.1}°", sun.altitude_deg), "21.6°");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # References
///
/// I. Reda and A. Andreas, *Solar Position Algorithm for Solar Radiation Applications*, NREL/TP-560-34302 (2008).
#[must_use]
pub fn sun_direction(place: Position, instant: Timestamp) -> Option<SunDirection> {
    let sun = sun_position(place, instant).ok()?;
    Some(SunDirection { azimuth: TrueBearing::wrapping(sun.azimuth()), altitude_deg: sun.elevation_angle() })
}

/// The two heights of the sun's centre that events are defined by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum SunHorizon {
    /// −0.8333°: upper limb on the sea horizon with standard refraction.
    Limb,
    /// −6°.
    Civil,
}

impl SunEvent {
    /// The height that defines it.
    pub(super) fn horizon(self) -> SunHorizon {
        match self {
            Self::Sunrise | Self::Sunset => SunHorizon::Limb,
            Self::CivilDawn | Self::CivilDusk => SunHorizon::Civil,
        }
    }

    /// Whether the sun comes up through that height.
    pub(super) fn rising(self) -> bool {
        matches!(self, Self::Sunrise | Self::CivilDawn)
    }
}

impl SunHorizon {
    fn of_the_theory(self) -> Horizon {
        match self {
            Self::Limb => Horizon::SunriseSunset,
            Self::Civil => Horizon::CivilTwilight,
        }
    }

    fn event(self, rising: bool) -> SunEvent {
        match (self, rising) {
            (Self::Limb, true) => SunEvent::Sunrise,
            (Self::Limb, false) => SunEvent::Sunset,
            (Self::Civil, true) => SunEvent::CivilDawn,
            (Self::Civil, false) => SunEvent::CivilDusk,
        }
    }
}

/// The sun passing one of the two heights, to the whole second.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Crossing {
    pub(super) at: Timestamp,
    pub(super) event: SunEvent,
}

/// The year lies beyond the reach of the solar theory.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct OutOfReach;

impl From<solar_positioning::Error> for OutOfReach {
    /// Positions are valid by construction, so only the year can be at fault.
    fn from(_: solar_positioning::Error) -> Self {
        Self
    }
}

/// Days since 1970-01-01 by UTC.
pub(super) fn utc_day(instant: Timestamp) -> i64 {
    instant.as_second().div_euclid(SECONDS_PER_DAY)
}

/// The sun's moments at the places asked about, each day worked out once.
///
/// Costs nothing until it is asked; pass the same one to [`When::holds_by`](super::When::holds_by) for many instants.
///
/// Always the same whole UTC days are searched, so an instant comes out the same to the second whatever span is asked.
#[derive(Debug, Clone, Default)]
pub struct Almanac {
    days: HashMap<DayKey, Vec<Crossing>>,
}

/// Latitude and longitude as bits, the height, the UTC day.
type DayKey = (u64, u64, SunHorizon, i64);

/// Days kept for other almanacs of this thread: a year and a half of two heights at four places; then they begin anew.
const MOST_REMEMBERED: usize = 4_000;

thread_local! {
    /// What the sun does on a day never changes, and a millisecond a day is long where each of many fixes asks anew.
    static REMEMBERED: RefCell<HashMap<DayKey, Vec<Crossing>>> = RefCell::new(HashMap::new());
}

/// The crossings of a day, worked out once in this thread.
fn remembered(place: Position, key: DayKey) -> Result<Vec<Crossing>, OutOfReach> {
    let (_, _, horizon, day) = key;
    if let Some(known) = REMEMBERED.with_borrow(|days| days.get(&key).cloned()) {
        return Ok(known);
    }
    let computed = crossings_of_day(place, horizon, day)?;
    REMEMBERED.with_borrow_mut(|days| {
        if days.len() >= MOST_REMEMBERED {
            days.clear();
        }
        days.insert(key, computed.clone());
    });
    Ok(computed)
}

impl Almanac {
    /// Crossings of one height on some UTC days, in order of time.
    pub(super) fn crossings(
        &mut self,
        place: Position,
        horizon: SunHorizon,
        days: RangeInclusive<i64>,
    ) -> Result<Vec<Crossing>, OutOfReach> {
        let mut found = Vec::new();
        for day in days {
            let key =
                (place.latitude().degrees().to_bits(), place.longitude().degrees().to_bits(), horizon, day);
            if let Some(known) = self.days.get(&key) {
                found.extend_from_slice(known);
                continue;
            }
            let computed = remembered(place, key)?;
            found.extend_from_slice(&computed);
            self.days.insert(key, computed);
        }
        found.dedup(); // a crossing at midnight itself may be found from both sides
        Ok(found)
    }

    /// Whether the sun stands above a height at an instant.
    pub(super) fn is_above(
        place: Position,
        horizon: SunHorizon,
        instant: Timestamp,
    ) -> Result<bool, OutOfReach> {
        let sun = sun_position(place, instant)?;
        Ok(sun.elevation_angle() > horizon.of_the_theory().elevation_angle())
    }

    /// See [`sun_event`].
    pub(super) fn event_on(&mut self, event: SunEvent, day: LocalDay<'_>, place: Position) -> SunMoment {
        let Some((start, end)) = day.bounds() else { return SunMoment::OutOfReach };
        let Ok(all) = self.crossings(place, event.horizon(), utc_day(start)..=utc_day(end)) else {
            return SunMoment::OutOfReach;
        };
        let of_the_day: Vec<_> =
            all.iter().filter(|crossing| start <= crossing.at && crossing.at < end).collect();
        if let Some(crossing) = of_the_day.iter().find(|crossing| crossing.event == event) {
            return SunMoment::At(crossing.at);
        }
        if !of_the_day.is_empty() || start >= end {
            return SunMoment::NotThatDay;
        }
        match Self::is_above(place, event.horizon(), start) {
            Ok(true) => SunMoment::StaysAbove,
            Ok(false) => SunMoment::StaysBelow,
            Err(OutOfReach) => SunMoment::OutOfReach,
        }
    }
}

/// A calendar date as the clocks of a time zone count it.
#[derive(Debug, Clone, Copy)]
pub(super) struct LocalDay<'a> {
    pub(super) date: Date,
    pub(super) zone_time: &'a TimeZone,
}

impl LocalDay<'_> {
    /// Its first instant and that of the date after it.
    fn bounds(self) -> Option<(Timestamp, Timestamp)> {
        let midnight = |date: Date| self.zone_time.to_ambiguous_timestamp(date.into()).compatible().ok();
        Some((midnight(self.date)?, midnight(self.date.tomorrow().ok()?)?))
    }
}

fn location(place: Position) -> Location {
    Location { latitude: place.latitude().degrees(), longitude: place.longitude().degrees() }
}

/// From the surface of the sea, without refraction.
fn sun_position(place: Position, instant: Timestamp) -> Result<SolarPosition, OutOfReach> {
    let time = JulianDate::new(julian_date(instant), delta_t_of_day(utc_day(instant))?)?;
    Ok(SolarPositions::new().at_from_julian(time, location(place), 0.0, None)?)
}

#[expect(clippy::cast_precision_loss, reason = "days and seconds of four-digit years are far below 2^53")]
fn julian_date(instant: Timestamp) -> f64 {
    UNIX_EPOCH_JD + instant.as_second() as f64 / SECONDS_PER_DAY as f64
}

#[expect(clippy::cast_precision_loss, reason = "days of four-digit years are far below 2^53")]
fn delta_t_of_day(day: i64) -> Result<f64, OutOfReach> {
    // the mean Gregorian year is near enough: ΔT moves by less than a second a year
    Ok(delta_t::estimate(1970.0 + day as f64 / 365.2425)?)
}

fn crossings_of_day(place: Position, horizon: SunHorizon, day: i64) -> Result<Vec<Crossing>, OutOfReach> {
    let midnight = Timestamp::from_second(day.saturating_mul(SECONDS_PER_DAY)).map_err(|_| OutOfReach)?;
    let delta_t = delta_t_of_day(day)?;
    let (start, end) = (julian_date(midnight), julian_date(midnight) + 1.0);
    let sun = SolarEvents::new();
    let mut found = Vec::new();
    for rising in [true, false] {
        let mut cursor = start;
        loop {
            let (site, height) = (location(place), horizon.of_the_theory());
            let next = if rising {
                sun.next_rise_from_julian(cursor, end, site, delta_t, height)?
            } else {
                sun.next_set_from_julian(cursor, end, site, delta_t, height)?
            };
            let Some(moment) = next.filter(|moment| *moment > cursor) else { break };
            let elapsed = SignedDuration::from_secs(seconds_since(start, moment));
            let at = midnight.checked_add(elapsed).map_err(|_| OutOfReach)?;
            found.push(Crossing { at, event: horizon.event(rising) });
            cursor = moment;
        }
    }
    found.sort_by_key(|crossing| crossing.at);
    Ok(found)
}

#[expect(clippy::cast_possible_truncation, reason = "at most one day of seconds")]
#[expect(clippy::cast_precision_loss, reason = "86 400 is exact")]
fn seconds_since(start_jd: f64, moment_jd: f64) -> i64 {
    ((moment_jd - start_jd) * SECONDS_PER_DAY as f64).round() as i64
}
