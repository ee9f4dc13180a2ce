//! Instants, days of the year, times of day and sun times as a zone file writes them.

use jiff::Timestamp;
use jiff::civil::{Date, Time};
use jiff::tz::TimeZone;

use crate::geojson_text::{Log, Slot, digits, plain_date};
use crate::rule::{SunEvent, SunTime};

const INSTANT_MEND: &str =
    "write a date like \"2026-05-01\", or date, time and offset like \"2026-05-01T06:00:00Z\"";

/// Month and day; 29 February counts.
fn day_of_year(text: &str) -> Option<(i8, i8)> {
    const LEAP_YEAR: i16 = 2000;
    let [m1, m2, b'-', d1, d2] = *text.as_bytes() else { return None };
    let date =
        Date::new(LEAP_YEAR, i8::try_from(digits(&[m1, m2])?).ok()?, i8::try_from(digits(&[d1, d2])?).ok()?);
    date.ok().map(|date| (date.month(), date.day()))
}

/// Hours and minutes, from 00:00 to 24:00 (which is 00:00 again).
fn time_of_day(text: &str) -> Option<Time> {
    let [h1, h2, b':', m1, m2] = *text.as_bytes() else { return None };
    let (hour, minute) = (digits(&[h1, h2])?, digits(&[m1, m2])?);
    if (hour, minute) == (24, 0) {
        return Some(Time::midnight());
    }
    Time::new(i8::try_from(hour).ok()?, i8::try_from(minute).ok()?, 0, 0).ok()
}

fn sun_time(text: &str) -> Option<SunTime> {
    const EVENTS: [(&str, SunEvent); 4] = [
        ("sunrise", SunEvent::Sunrise),
        ("sunset", SunEvent::Sunset),
        ("civil-dawn", SunEvent::CivilDawn),
        ("civil-dusk", SunEvent::CivilDusk),
    ];
    let (event, rest) =
        EVENTS.iter().find_map(|(word, event)| text.strip_prefix(word).map(|rest| (*event, rest)))?;
    let offset_minutes = match rest.as_bytes() {
        [] => 0,
        [sign @ (b'+' | b'-'), number @ ..] if number.len() <= 3 => {
            let minutes = i16::try_from(digits(number)?).ok()?;
            if *sign == b'-' { -minutes } else { minutes }
        }
        _ => return None,
    };
    // more than half a day from an event is surely a slip
    (offset_minutes.abs() <= 720).then_some(SunTime { event, offset_minutes })
}

impl Log {
    pub(super) fn needed_day_of_year(&mut self, name: &str, slot: &Slot<String>) -> Option<(i8, i8)> {
        let mend = "write month (01 to 12) and a day that the month has, like \"05-01\"";
        self.needed_parsed(name, slot, (day_of_year, mend))
    }

    pub(super) fn needed_time_of_day(&mut self, name: &str, slot: &Slot<String>) -> Option<Time> {
        self.needed_parsed(name, slot, (time_of_day, "write hours and minutes like \"08:00\""))
    }

    pub(super) fn needed_sun_time(&mut self, name: &str, slot: &Slot<String>) -> Option<SunTime> {
        let mend = "write sunrise, sunset, civil-dawn or civil-dusk with at most 720 minutes added or taken off: \
                    \"sunset+30\"";
        self.needed_parsed(name, slot, (sun_time, mend))
    }

    /// An instant: RFC 3339, or a date that means the first moment of its day in `time_zone`.
    pub(super) fn instant(
        &mut self,
        name: &str,
        slot: &Slot<String>,
        time_zone: &TimeZone,
    ) -> Option<Timestamp> {
        if slot.is_missing() {
            return None;
        }
        let parse = |text: &str| match plain_date(text) {
            Some(date) => first_moment(date, time_zone),
            None => text.parse().ok(),
        };
        self.needed_parsed(name, slot, (parse, INSTANT_MEND))
    }
}

/// The first moment of a day; where clocks skip midnight, the moment after the gap.
pub(super) fn first_moment(date: Date, time_zone: &TimeZone) -> Option<Timestamp> {
    date.to_zoned_datetime(time_zone.clone()).ok().map(|zoned| zoned.timestamp())
}
