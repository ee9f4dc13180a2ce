//! Dates as files write them, and single texts that have to mean something.

use jiff::civil::Date;

use super::fault::FaultKind;
use super::log::{Log, shown_text};
use super::slot::Slot;

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
