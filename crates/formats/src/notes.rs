//! Notes that wait to be given out, and those that would hold for every fix and are summed up.

use std::collections::{BTreeMap, VecDeque};

use jiff::Timestamp;
use takeline::sanitised::is_harmful;
use takeline::track::{LogPlace, is_of_a_set_clock};
use takeline::{AccuracyKind, DateDoubt, HorizontalUncertainty};

use crate::instant::{self, ReadTime};
use crate::{LogNote, LogNoteKind};

/// From this dilution of precision on a fix is not used; receivers write 99 for none at all (common practice, no source).
const HOPELESS_HDOP: f64 = 20.0;

/// Notes of one reader.
#[derive(Debug, Default)]
pub(crate) struct Notes {
    waiting: VecDeque<LogNote>,
    repeated: BTreeMap<LogNoteKind, Repeated>,
}

/// How often a kind was met again after its first place.
#[derive(Debug)]
struct Repeated {
    again: u64,
    last: LogPlace,
}

impl Notes {
    /// Tells something at its place.
    pub(crate) fn tell(&mut self, kind: LogNoteKind, place: LogPlace, text: impl Into<String>) {
        self.waiting.push_back(LogNote { place, kind, text: text.into(), count: 1 });
    }

    /// Tells something at its first place; counts it at the others.
    pub(crate) fn tell_once(&mut self, kind: LogNoteKind, place: LogPlace, text: impl FnOnce() -> String) {
        if let Some(repeated) = self.repeated.get_mut(&kind) {
            repeated.again += 1;
            repeated.last = place;
            return;
        }
        self.repeated.insert(kind, Repeated { again: 0, last: place });
        self.tell(kind, place, text());
    }

    /// The doubt that an accuracy makes; none, with a note, for 0 and for more than any receiver means.
    pub(crate) fn uncertainty(
        &mut self,
        metres: f64,
        kind: AccuracyKind,
        place: LogPlace,
    ) -> Option<HorizontalUncertainty> {
        if !self.is_accuracy(metres, place) {
            return None;
        }
        let given = HorizontalUncertainty::given(metres, kind);
        if let Err(error) = &given {
            self.tell_once(LogNoteKind::AccuracyUnreadable, place, || {
                format!("accuracy {metres}: {error}; the fix was read without it")
            });
        }
        given.ok()
    }

    /// The kind of note for a figure that cannot be used.
    pub(crate) fn unusable(what: &str) -> LogNoteKind {
        if what == "accuracy" { LogNoteKind::AccuracyUnreadable } else { LogNoteKind::FigureUnusable }
    }

    /// Whether an accuracy is one: receivers write 0 when they do not know it, and that is told.
    fn is_accuracy(&mut self, metres: f64, place: LogPlace) -> bool {
        if metres <= 0.0 {
            self.tell_once(LogNoteKind::AccuracyZero, place, || {
                "receivers write an accuracy of 0 when they do not know it; the fix was read without accuracy"
                    .to_owned()
            });
        }
        metres > 0.0
    }

    /// Whether a fix without an accuracy of its own has a dilution of precision at which a receiver has next to no fix; that
    /// is told.
    pub(crate) fn is_next_to_no_fix(
        &mut self,
        hdop: Option<f64>,
        uncertainty: Option<HorizontalUncertainty>,
        place: LogPlace,
    ) -> bool {
        let Some(hdop) = hdop.filter(|hdop| *hdop >= HOPELESS_HDOP && uncertainty.is_none()) else {
            return false;
        };
        self.tell_once(LogNoteKind::FixVoid, place, || {
            format!("a dilution of precision (hdop) of {hdop} means hardly any fix; it was left out")
        });
        true
    }

    /// Tells of a date that may be wrong.
    pub(crate) fn tell_date(&mut self, time: Timestamp, place: LogPlace) {
        let Some(doubt) = DateDoubt::of(time) else { return };
        if is_of_a_set_clock(time) {
            self.tell_once(LogNoteKind::DateSuspicious, place, || instant::suspicion(doubt));
        } else {
            self.tell_once(LogNoteKind::ClockNotSet, place, || {
                format!(
                    "the time {time} is that of a clock nobody had set; where the log has others, it is not used"
                )
            });
        }
    }

    /// Tells how often the counted kinds were met again.
    pub(crate) fn sum_up(&mut self) {
        for (kind, repeated) in std::mem::take(&mut self.repeated) {
            if repeated.again > 0 {
                let text =
                    format!("the same {} more times, last at line {}", repeated.again, repeated.last.line);
                self.waiting.push_back(LogNote { place: repeated.last, kind, text, count: repeated.again });
            }
        }
    }

    /// Takes the oldest note that waits.
    pub(crate) fn next(&mut self) -> Option<LogNote> {
        self.waiting.pop_front()
    }
}

/// What a log says of the zone of its times.
#[derive(Debug, Clone, Copy)]
pub(crate) enum Zone<'a> {
    /// The standard of the format says that they are in UTC.
    Utc,
    /// Nothing but what each time says itself, and this field beside it.
    Beside(&'a [u8]),
}

/// Tells what is doubtful about a time, and gives the instant.
pub(crate) fn note_time(
    read: ReadTime,
    (text, zone): (&[u8], Zone<'_>),
    place: LogPlace,
    notes: &mut Notes,
) -> Option<Timestamp> {
    let read = if let Zone::Beside(offset) = zone { read.with_offset(offset) } else { read };
    let time = match read {
        ReadTime::At(time) => Some(time),
        ReadTime::WithoutZone(time) => {
            tell_zone((text, zone), place, notes);
            Some(time)
        }
        ReadTime::Empty => {
            notes.tell_once(LogNoteKind::TimeEmpty, place, || {
                "the time is empty; read without time".to_owned()
            });
            None
        }
        ReadTime::Unreadable => {
            notes.tell_once(LogNoteKind::TimeUnreadable, place, || {
                format!(
                    "the time \"{}\" cannot be read (write 2026-05-01T06:30:00Z); read without time",
                    shown(text)
                )
            });
            None
        }
    };
    if let Some(time) = time {
        notes.tell_date(time, place);
    }
    time
}

/// Tells of a time without an offset from UTC.
fn tell_zone((text, zone): (&[u8], Zone<'_>), place: LogPlace, notes: &mut Notes) {
    let Zone::Beside(beside) = zone else {
        notes.tell_once(LogNoteKind::TimeWithoutZone, place, || {
            format!(
                "the time \"{}\" has no time zone; it was read as UTC, as the GPX standard says",
                shown(text)
            )
        });
        return;
    };
    notes.tell_once(LogNoteKind::TimeZoneUnknown, place, || {
        let unread = if beside.trim_ascii().is_empty() {
            String::new()
        } else {
            format!(", and the zone \"{}\" beside it is not understood", shown(beside))
        };
        format!(
            "the time \"{}\" has no offset from UTC{unread}; write it after the time, as in 06:30:00Z or 06:30:00-01:00, or in a column utc_offset",
            shown(text)
        )
    });
}

/// The most characters of a log that a message repeats.
const MOST_CHARACTERS: usize = 40;

/// Makes a piece of a log fit for a message.
pub(crate) fn shown(piece: &[u8]) -> String {
    // four bytes hold any character: a piece of many megabytes is not walked through
    let head = &piece[..piece.len().min(4 * (MOST_CHARACTERS + 1))];
    let text = String::from_utf8_lossy(head);
    let mut kept: String = text
        .trim()
        .chars()
        .take(MOST_CHARACTERS)
        .map(|c| if is_harmful(c) { '\u{fffd}' } else { c })
        .collect();
    if text.trim().chars().count() > MOST_CHARACTERS {
        kept.push('…');
    }
    kept
}

#[cfg(test)]
mod shown_tests {
    use super::shown;

    #[test]
    fn long_pieces_are_cut_and_control_characters_replaced() {
        assert_eq!(shown(b" 45.1\x1b[2J "), "45.1\u{fffd}[2J");
        assert_eq!(shown(&vec![b'x'; 1_000_000]).chars().count(), 41);
        assert_eq!(shown(&[0xff, b'a']), "\u{fffd}a");
        assert_eq!(shown("\u{202e}a".as_bytes()), "\u{fffd}a");
    }
}
