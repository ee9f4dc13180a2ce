//! Single values of our files: dates, datums, positions, and texts that have to mean something.

use jiff::civil::Date;
use serde_json::Value;

use super::fault::FaultKind;
use super::log::{Log, shown, shown_text};
use super::slot::Slot;
use crate::Position;
use crate::zone::Datum;

const DATE_MEND: &str = "write year, month and day like \"2026-05-01\"";

/// Year, month and day in exactly that form; everything else is refused, times and short forms included.
pub(crate) fn plain_date(text: &str) -> Option<Date> {
    let [y1, y2, y3, y4, b'-', m1, m2, b'-', d1, d2] = *text.as_bytes() else { return None };
    let year = i16::try_from(digits(&[y1, y2, y3, y4])?).ok()?;
    Date::new(year, i8::try_from(digits(&[m1, m2])?).ok()?, i8::try_from(digits(&[d1, d2])?).ok()?).ok()
}

/// A whole number written with digits alone.
pub(crate) fn digits(text: &[u8]) -> Option<u32> {
    if text.is_empty() || !text.iter().all(u8::is_ascii_digit) {
        return None;
    }
    text.iter().try_fold(0_u32, |sum, digit| sum.checked_mul(10)?.checked_add(u32::from(digit - b'0')))
}

impl Log {
    /// What a text means; a fault if nothing.
    pub(crate) fn parsed<T>(
        &mut self,
        text: &str,
        parse: impl FnOnce(&str) -> Option<T>,
        mend: &str,
    ) -> Option<T> {
        let found = parse(text);
        if found.is_none() {
            self.fault(FaultKind::WrongValue, format!("{} cannot be read here", shown_text(text)), mend);
        }
        found
    }

    /// What a text that has to be there means.
    pub(crate) fn needed_parsed<T>(
        &mut self,
        name: &str,
        slot: &Slot<String>,
        (parse, mend): (impl FnOnce(&str) -> Option<T>, &str),
    ) -> Option<T> {
        let text = self.needed(name, slot, mend)?;
        self.within(name, |log| log.parsed(text, parse, mend))
    }

    pub(crate) fn date_text(&mut self, text: &str) -> Option<Date> {
        self.parsed(text, plain_date, DATE_MEND)
    }

    pub(crate) fn needed_date(&mut self, name: &str, slot: &Slot<String>) -> Option<Date> {
        self.needed_parsed(name, slot, (plain_date, DATE_MEND))
    }

    pub(crate) fn date(&mut self, name: &str, slot: &Slot<String>) -> Option<Date> {
        if slot.is_missing() { None } else { self.needed_date(name, slot) }
    }
}

const MEND: &str = "convert the coordinates to WGS 84 with a geodetic library first, then write \"WGS 84\"";

/// Reads the name of a datum; a fault if coordinates on it are not read as they stand.
pub(crate) fn datum(log: &mut Log, name: &str) -> Option<Datum> {
    if let Some(datum) = Datum::named(name) {
        return Some(datum);
    }
    let text = format!(
        "the datum {} is not supported: Takeline converts nothing, and the coordinates may be hundreds of metres off",
        shown_text(name)
    );
    log.fault(FaultKind::Datum, text, MEND);
    None
}

const POSITION_MEND: &str = "write [longitude, latitude] as two numbers in degrees";

/// Reads one position, longitude first; else what is wrong and how to mend it.
pub(crate) fn position(value: &Value) -> Result<Position, (String, String)> {
    let refuse = |text: String, mend: &str| Err((text, mend.to_owned()));
    let Some(numbers) = value.as_array() else {
        return refuse(format!("{} is not a position", shown(value)), POSITION_MEND);
    };
    if let Some(odd) = numbers.iter().find(|number| !number.is_number()) {
        let mend = match odd {
            Value::String(_) => "leave out the quotes and write decimal degrees: 45.1167, not 45°07'N",
            Value::Null | Value::Bool(_) | Value::Number(_) | Value::Array(_) | Value::Object(_) => {
                POSITION_MEND
            }
        };
        return refuse(format!("{} is not a number", shown(odd)), mend);
    }
    let (2 | 3, Some(longitude_deg), Some(latitude_deg)) =
        (numbers.len(), numbers.first().and_then(Value::as_f64), numbers.get(1).and_then(Value::as_f64))
    else {
        let text = format!("{} holds {} numbers", shown(value), numbers.len());
        let mend =
            "write two, [longitude, latitude], or three with a height; decimals have a point, no comma";
        return refuse(text, mend);
    };
    Position::from_degrees(latitude_deg, longitude_deg).or_else(|refused| {
        refuse(refused.to_string(), "write the longitude first, then the latitude, in degrees")
    })
}
