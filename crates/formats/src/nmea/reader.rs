use std::collections::VecDeque;
use std::io::Read;

use takeline::track::{LogPlace, LoggedFix, UnplacedRecord};
use takeline::{AccuracyKind, HorizontalUncertainty};

use super::epoch::{Clock, Epoch, Undated};
use super::sentence::{self, Refusal, Sentence, Standing};
use crate::notes::Notes;
use crate::source::{Fault, LineSpan, Source};
use crate::{LogItem, LogNoteKind};

/// So many damaged sentences in a row are a record that tells no place; fewer are about a second of a log.
const MOST_DAMAGED: u32 = 10;

/// Reads sentences and joins those of one instant to a fix.
pub(crate) struct NmeaReader<R> {
    source: Source<R>,
    epoch: Option<Epoch>,
    clock: Clock,
    has_checksums: bool,
    has_ended: bool,
    notes: Notes,
    /// Records that wait to be given out.
    ready: VecDeque<LogItem>,
    undated: Undated,
    /// Damaged sentences since the last one that could be read.
    damaged: u32,
    /// Whether a time of day has been told yet: before that the receiver had only been switched on.
    has_clock: bool,
}

impl<R: Read> NmeaReader<R> {
    pub(crate) fn new(source: Source<R>) -> Self {
        Self {
            source,
            epoch: None,
            clock: Clock::default(),
            has_checksums: false,
            has_ended: false,
            notes: Notes::default(),
            ready: VecDeque::new(),
            undated: Undated::default(),
            damaged: 0,
            has_clock: false,
        }
    }

    pub(crate) fn source(&self) -> &Source<R> {
        &self.source
    }

    /// Reads on to the next fix or note; none at the end.
    pub(crate) fn next_item(&mut self) -> Result<Option<LogItem>, Fault> {
        loop {
            if let Some(item) = self.ready.pop_front() {
                return Ok(Some(item));
            }
            if let Some(note) = self.notes.next() {
                return Ok(Some(LogItem::Note(note)));
            }
            if self.has_ended {
                return Ok(None);
            }
            let Some(span) = self.source.next_line()? else {
                self.has_ended = true;
                if let Some(epoch) = self.epoch.take() {
                    self.end(&epoch);
                }
                self.give_up_dates();
                self.notes.sum_up();
                continue;
            };
            let place =
                LogPlace { line: self.source.token_line(), byte: self.source.token_byte(), stretch: 0 };
            let Some(sentence) = self.sentence(&span, place) else { continue };
            self.join(&sentence, place);
        }
    }

    /// Reads a line; what is damaged is told.
    fn sentence(&mut self, span: &LineSpan, place: LogPlace) -> Option<Sentence> {
        if let LineSpan::TooLong = span {
            self.leave_out(place, "it is much too long");
            return None;
        }
        let read = sentence::frame(self.source.line(span)).and_then(|framed| {
            let lost_before = framed.lost_before;
            let has_checksum = framed.has_checksum();
            framed.read().map(|sentence| (sentence, lost_before, has_checksum))
        });
        match read {
            Ok((sentence, lost_before, has_checksum)) => {
                self.damaged = 0;
                if lost_before {
                    self.leave_out(place, "another sentence begins inside it");
                }
                self.accept(sentence, has_checksum, place)
            }
            Err(Refusal::NotOurs) => None,
            Err(Refusal::Checksum { computed, found }) => {
                let text = format!(
                    "the checksum is {found:02X} but the sentence gives {computed:02X}; the sentence was left out"
                );
                self.notes.tell(LogNoteKind::ChecksumWrong, place, text);
                self.count_damaged(place);
                None
            }
            Err(Refusal::Damaged(reason)) => {
                self.leave_out(place, &reason);
                None
            }
        }
    }

    /// A sentence without a checksum is taken only where none has one: elsewhere its end was cut off.
    fn accept(&mut self, sentence: Sentence, has_checksum: bool, place: LogPlace) -> Option<Sentence> {
        self.has_checksums |= has_checksum;
        if !has_checksum && self.has_checksums {
            self.leave_out(place, "it has no checksum, though others have");
            return None;
        }
        if !has_checksum {
            self.notes.tell_once(LogNoteKind::ChecksumMissing, place, || {
                "the sentences have no checksums, so damage cannot be detected".to_owned()
            });
        }
        if let Some(reason) = &sentence.impossible {
            let text = format!("the position in a sentence cannot be used ({reason}) and was left out");
            self.notes.tell(LogNoteKind::SentenceUnreadable, place, text);
        }
        Some(sentence)
    }

    fn leave_out(&mut self, place: LogPlace, reason: &str) {
        let text = format!("a sentence is damaged ({reason}) and was left out");
        self.notes.tell(LogNoteKind::SentenceUnreadable, place, text);
        self.count_damaged(place);
    }

    fn count_damaged(&mut self, place: LogPlace) {
        self.damaged = self.damaged.saturating_add(1);
        if self.damaged == MOST_DAMAGED {
            // the fix before them is whole, and stands before them
            if let Some(epoch) = self.epoch.take() {
                self.end(&epoch);
            }
            self.give(LogItem::Unplaced(UnplacedRecord { time: None, place }), None);
        }
    }

    /// Adds a sentence; the record before it is whole if a new instant begins.
    fn join(&mut self, sentence: &Sentence, place: LogPlace) {
        match &mut self.epoch {
            Some(epoch) if epoch.takes(sentence) => epoch.join(sentence, place),
            _ => {
                if let Some(epoch) = self.epoch.replace(Epoch::new(sentence, place)) {
                    self.end(&epoch);
                }
            }
        }
    }

    /// Gives out what the sentences of one instant came to.
    fn end(&mut self, epoch: &Epoch) {
        self.has_clock |= epoch.time_of_day_ns.is_some();
        if let Some((day, time_ns)) = epoch.day.zip(epoch.time_of_day_ns) {
            let dated = self.undated.date(day, time_ns);
            self.tell_undated(&dated);
            self.give_out(dated);
        }
        if let Some(item) = self.record(epoch) {
            self.give(item, epoch.time_of_day_ns);
        }
    }

    /// Gives a record out, behind those that wait for their date.
    fn give(&mut self, item: LogItem, time_of_day_ns: Option<i64>) {
        let time = match &item {
            LogItem::Fix(fix) => fix.time,
            LogItem::Unplaced(record) => record.time,
            LogItem::RoutePoint(_) | LogItem::Waypoint(_) | LogItem::Note(_) => None,
        };
        let waits = time.is_none() && (time_of_day_ns.is_some() || !self.undated.is_empty());
        if waits {
            let given_up = self.undated.push(item, time_of_day_ns);
            self.tell_undated(&given_up);
            self.give_out(given_up);
        } else {
            let placed = self.undated.placed(item);
            self.tell_date(&placed);
            self.ready.push_back(placed);
        }
    }

    /// Gives out records whose time is settled, and tells of dates that may be wrong.
    fn give_out(&mut self, items: Vec<LogItem>) {
        for item in &items {
            self.tell_date(item);
        }
        self.ready.extend(items);
    }

    fn tell_date(&mut self, item: &LogItem) {
        if let LogItem::Fix(LoggedFix { time: Some(time), place, .. }) = item {
            self.notes.tell_date(*time, *place);
        }
    }

    fn give_up_dates(&mut self) {
        let given_up = self.undated.give_up();
        self.tell_undated(&given_up);
        self.give_out(given_up);
    }

    fn tell_undated(&mut self, given_up: &[LogItem]) {
        for item in given_up {
            if let LogItem::Fix(fix @ LoggedFix { time: None, .. }) = item {
                self.notes.tell_once(LogNoteKind::TimeWithoutDate, fix.place, || {
                    "there is no date (sentences RMC and ZDA have one); read without time".to_owned()
                });
            }
        }
    }

    /// What the receiver says of its error, where that is more than what is assumed: many are too sure of themselves.
    ///
    /// The root mean square of equal errors in both directions is √2 times that of one.
    fn stated_error(&mut self, sigma_m: f64, place: LogPlace) -> Option<HorizontalUncertainty> {
        let rms_m = sigma_m * std::f64::consts::SQRT_2;
        let stated = self.notes.uncertainty(rms_m, AccuracyKind::Rms, place)?;
        (stated.radius_95().metres() > HorizontalUncertainty::ASSUMED_95_M).then_some(stated)
    }

    fn record(&mut self, epoch: &Epoch) -> Option<LogItem> {
        let place = epoch.place;
        let time = epoch.time_of_day_ns.and_then(|time_ns| self.clock.instant(epoch.day, time_ns));
        let left_out = match epoch.standing {
            Standing::Good => None,
            Standing::NotMeasured => Some((
                LogNoteKind::FixNotMeasured,
                "the receiver says the position was dead reckoning, typed in or simulated; it was left out",
            )),
            Standing::Void => {
                Some((LogNoteKind::FixVoid, "the receiver says it has no fix; the position was left out"))
            }
        };
        if let Some((kind, text)) = left_out {
            self.notes.tell_once(kind, place, || text.to_owned());
            let is_record = epoch.time_of_day_ns.is_some() || self.has_clock;
            return is_record.then_some(LogItem::Unplaced(UnplacedRecord { time, place }));
        }
        let Some((_, position)) = epoch.position else {
            let is_record = epoch.should_tell_position && epoch.time_of_day_ns.is_some();
            return is_record.then_some(LogItem::Unplaced(UnplacedRecord { time, place }));
        };
        if epoch.disagrees {
            let text =
                "sentences for one moment give positions more than 0.001° apart; the fullest one was used";
            self.notes.tell(LogNoteKind::PositionsDisagree, place, text);
        }
        let uncertainty = epoch.sigma_m.and_then(|sigma_m| self.stated_error(sigma_m, place));
        if self.notes.is_next_to_no_fix(epoch.hdop, uncertainty, place) {
            return Some(LogItem::Unplaced(UnplacedRecord { time, place }));
        }
        Some(LogItem::Fix(LoggedFix {
            position,
            time,
            uncertainty,
            hdop: epoch.hdop.filter(|hdop| *hdop > 0.0),
            speed_m_per_s: epoch.speed_m_per_s,
            time_between: None,
            jump_kn: None,
            place,
        }))
    }
}
