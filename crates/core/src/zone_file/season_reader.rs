//! Reads `when`: the seasons, days and hours of a rule.

use jiff::Timestamp;
use jiff::civil::{Date, Time};
use jiff::tz::TimeZone;

use super::FaultKind;
use super::wire::{
    WireAnnualWindow, WireDateRange, WireHours, WireNth, WireNthWeekday, WireSun, WireSunPlace, WireWhen,
};
use crate::geojson_text::{Log, Slot, YesNo, digits, plain_date, shown_text};
use crate::rule::{AnnualWindow, DateRange, Hours, NthWeekday, SunEvent, SunHours, SunPlace, SunTime, When};
use crate::{Position, Tristate};

/// How deep `any`, `all` and `not` may lie in one another.
pub(super) const DEPTH_LIMIT: usize = 12;

const WHEN_MEND: &str = "write an object like { \"yearly\": { \"from\": \"05-01\", \"to\": \"08-31\" } }";
const LIST_MEND: &str = "write a list of such objects: [ { … }, { … } ]";

/// Reads the member `when`; missing means always.
pub(super) fn when(log: &mut Log, slot: &Slot<WireWhen>) -> When {
    let wire = log.given("when", slot, WHEN_MEND);
    let found = wire.and_then(|wire| log.within("when", |log| read(log, wire, 1)));
    found.unwrap_or(When::Always)
}

/// How to mend a season that says nothing.
const MEANT: &str = "correct its days, say \"ends\": \"included\", or leave it out";

fn read(log: &mut Log, wire: &WireWhen, depth: usize) -> Option<When> {
    log.unknown_members(wire);
    if depth > DEPTH_LIMIT {
        log.fault(
            FaultKind::TooDeep,
            format!("\"any\", \"all\" and \"not\" are nested more than {DEPTH_LIMIT} deep"),
            "write it more simply",
        );
        return None;
    }
    let before = log.faults_so_far();
    let mut found = Vec::new();
    found.extend(inner(log, "dates", &wire.dates, dates).map(When::Dates));
    found.extend(days(log, wire));
    found.extend(inner(log, "yearly", &wire.yearly, yearly).map(When::Yearly));
    log.not_empty_list("weekdays", &wire.weekdays, "name at least one day of the week");
    let weekdays = log.words("weekdays", &wire.weekdays);
    found.extend((!weekdays.is_empty()).then_some(When::Weekdays(weekdays)));
    found.extend(inner(log, "nth_weekday", &wire.nth_weekday, nth_weekday).map(When::NthWeekday));
    found.extend(inner(log, "hours", &wire.hours, hours).map(When::Hours));
    found.extend(inner(log, "sun", &wire.sun, sun).map(When::Sun));
    found.extend(log.text("unknowable", &wire.unknowable).map(When::Unknowable));
    found.extend(list(log, "any", &wire.any, depth).map(When::Any));
    found.extend(list(log, "all", &wire.all, depth).map(When::All));
    found.extend(not(log, wire, depth));
    if found.is_empty() && log.faults_so_far() == before {
        log.fault(FaultKind::WrongValue, "says nothing", "leave \"when\" out if it holds at all times");
    }
    if log.faults_so_far() == before {
        // the members of lists have been read by themselves
        let is_leaf = |when: &&When| !matches!(when, When::All(_) | When::Any(_) | When::Not(_));
        for fault in found.iter().filter(is_leaf).filter_map(When::fault) {
            let (what, mend) = fault.split_once("; ").unwrap_or((&fault, MEANT));
            log.fault(FaultKind::Contradiction, what.to_owned(), mend);
        }
    }
    if found.len() == 1 { found.pop() } else { Some(When::All(found)) }
}

fn inner<T, R>(
    log: &mut Log,
    name: &str,
    slot: &Slot<T>,
    read: impl FnOnce(&mut Log, &T) -> Option<R>,
) -> Option<R> {
    let wire = log.given(name, slot, "write an object: { … }")?;
    log.within(name, |log| read(log, wire))
}

fn list(log: &mut Log, name: &str, slot: &Slot<Vec<Slot<WireWhen>>>, depth: usize) -> Option<Vec<When>> {
    log.not_empty_list(name, slot, "name at least one condition");
    let found = log.entries(name, slot, (LIST_MEND, WHEN_MEND), |log, wire| read(log, wire, depth + 1));
    found.filter(|list| !list.is_empty())
}

fn not(log: &mut Log, wire: &WireWhen, depth: usize) -> Option<When> {
    let denied = log.given("not", &wire.not, WHEN_MEND)?;
    let found = log.within("not", |log| read(log, denied, depth + 1))?;
    Some(When::Not(Box::new(found)))
}

fn days(log: &mut Log, wire: &WireWhen) -> Option<When> {
    log.not_empty_list("days", &wire.days, "name at least one day");
    let mends = ("write a list of days: [\"2026-05-01\"]", "write a day in quotes: \"2026-05-01\"");
    let days = log.entries("days", &wire.days, mends, |log, text| log.date_text(text))?;
    (!days.is_empty()).then_some(When::Days(days))
}

fn dates(log: &mut Log, wire: &WireDateRange) -> Option<DateRange> {
    log.unknown_members(wire);
    let (from, to) = (log.needed_date("from", &wire.from), log.needed_date("to", &wire.to));
    let ends = log.word("ends", &wire.ends).unwrap_or_default();
    let (from, to) = (from?, to?);
    if to < from {
        let text = format!("ends on {to}, before it starts on {from}");
        log.fault(FaultKind::Contradiction, text, "swap \"from\" and \"to\", or correct the year");
    }
    Some(DateRange { from, to, ends })
}

fn yearly(log: &mut Log, wire: &WireAnnualWindow) -> Option<AnnualWindow> {
    log.unknown_members(wire);
    let from = log.needed_day_of_year("from", &wire.from);
    let to = log.needed_day_of_year("to", &wire.to);
    let ends = log.word("ends", &wire.ends).unwrap_or_default();
    Some(AnnualWindow { from: from?, to: to?, ends })
}

fn nth_weekday(log: &mut Log, wire: &WireNthWeekday) -> Option<NthWeekday> {
    log.unknown_members(wire);
    let nth = nth(log, &wire.nth);
    if wire.day.is_missing() {
        log.missing("day", "name the weekday: \"day\": \"saturday\"");
    }
    let weekday = log.word("day", &wire.day);
    let month = in_range(log, "month", &wire.month, (1, 12));
    let then_days = in_range(log, "then_days", &wire.then_days, (0, 27)).unwrap_or(0);
    Some(NthWeekday { nth: nth?, weekday: weekday?, month, then_days })
}

fn nth(log: &mut Log, slot: &Slot<WireNth>) -> Option<i8> {
    const MEND: &str = "write a number from 1 to 5, or \"last\"";
    match log.needed("nth", slot, MEND)? {
        WireNth::Number(nth @ 1..=5) => Some(*nth),
        WireNth::Word(word) if word == "last" => Some(-1),
        WireNth::Number(other) => {
            let text = format!("{other} cannot be read");
            log.within("nth", |log| log.fault(FaultKind::WrongValue, text, MEND));
            None
        }
        WireNth::Word(other) => {
            let text = format!("{} cannot be read", shown_text(other));
            log.within("nth", |log| log.fault(FaultKind::WrongValue, text, MEND));
            None
        }
    }
}

fn in_range<T: Copy + PartialOrd + std::fmt::Display>(
    log: &mut Log,
    name: &str,
    slot: &Slot<T>,
    (least, most): (T, T),
) -> Option<T> {
    let mend = format!("write a whole number from {least} to {most}");
    let given = *log.given(name, slot, &mend)?;
    if (least..=most).contains(&given) {
        return Some(given);
    }
    let text = format!("{given} is outside {least} to {most}");
    log.within(name, |log| log.fault(FaultKind::WrongValue, text, mend));
    None
}

fn hours(log: &mut Log, wire: &WireHours) -> Option<Hours> {
    log.unknown_members(wire);
    let from = log.needed_time_of_day("from", &wire.from);
    let to = log.needed_time_of_day("to", &wire.to);
    if wire.from.get().is_some_and(|text| text == "24:00") {
        log.within("from", |log| {
            log.fault(FaultKind::WrongValue, "hours cannot start at \"24:00\"", "write \"00:00\"");
        });
    }
    if wire.from == wire.to && from.is_some() {
        let mend = "leave \"hours\" out if it holds all day, or correct one of the two";
        log.fault(FaultKind::Contradiction, "start and end at the same time", mend);
    }
    Some(Hours { from: from?, to: to? })
}

fn sun(log: &mut Log, wire: &WireSun) -> Option<SunHours> {
    log.unknown_members(wire);
    let from = log.needed_sun_time("from", &wire.from);
    let to = log.needed_sun_time("to", &wire.to);
    let mend =
        "name the place whose sun counts: \"at\": { \"name\": …, \"latitude_deg\": …, \"longitude_deg\": … }";
    let at = log.needed("at", &wire.at, mend);
    let at = at.and_then(|place| log.within("at", |log| sun_place(log, place)));
    let (from, to) = (from?, to?);
    if from == to {
        log.fault(FaultKind::Contradiction, "start and end at the same moment", "correct one of the two");
    }
    Some(SunHours { from, to, at: at? })
}

fn sun_place(log: &mut Log, wire: &WireSunPlace) -> Option<SunPlace> {
    log.unknown_members(wire);
    let mend = "write degrees as a number";
    let name = log.needed_text("name", &wire.name, "name the place as the law does");
    let latitude_deg = log.needed("latitude_deg", &wire.latitude_deg, mend);
    let longitude_deg = log.needed("longitude_deg", &wire.longitude_deg, mend);
    match Position::from_degrees(*latitude_deg?, *longitude_deg?) {
        Ok(position) => Some(SunPlace { name: name?, position }),
        Err(refused) => {
            log.fault(FaultKind::WrongValue, refused.to_string(), "correct the number");
            None
        }
    }
}

/// Reads `true`, `false` or `"unstated"`; missing is unstated.
pub(super) fn yes_no(log: &mut Log, name: &str, slot: &Slot<YesNo>) -> Tristate {
    let given = log.given(name, slot, "write true, false or \"unstated\"");
    given.map_or(Tristate::Undecided, |YesNo(answer)| *answer)
}

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
