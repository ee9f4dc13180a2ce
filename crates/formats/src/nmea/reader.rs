use std::io::Read;

use takeline::track::{LogPlace, LoggedFix};

use super::clock::Clock;
use super::epoch::Epoch;
use super::sentence::{self, Refusal, Sentence, Standing};
use crate::instant;
use crate::notes::Notes;
use crate::source::{Fault, LineSpan, Source};
use crate::{LogItem, LogNoteKind};

/// Reads sentences and joins those of one instant to a fix.
pub(crate) struct NmeaReader<R> {
    source: Source<R>,
    epoch: Option<Epoch>,
    clock: Clock,
    has_checksums: bool,
    has_ended: bool,
    notes: Notes,
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
        }
    }

    pub(crate) fn source(&self) -> &Source<R> {
        &self.source
    }

    /// Reads on to the next fix or note; none at the end.
    pub(crate) fn next_item(&mut self) -> Result<Option<LogItem>, Fault> {
        loop {
            if let Some(note) = self.notes.next() {
                return Ok(Some(LogItem::Note(note)));
            }
            if self.has_ended {
                return Ok(None);
            }
            let Some(span) = self.source.next_line()? else {
                self.has_ended = true;
                let last = self.epoch.take().and_then(|epoch| self.fix(&epoch));
                self.notes.sum_up();
                match last {
                    Some(fix) => return Ok(Some(LogItem::Fix(fix))),
                    None => continue,
                }
            };
            let place =
                LogPlace { line: self.source.token_line(), byte: self.source.token_byte(), stretch: 0 };
            let Some(sentence) = self.sentence(&span, place) else { continue };
            if let Some(fix) = self.join(&sentence, place) {
                return Ok(Some(LogItem::Fix(fix)));
            }
        }
    }

    /// Reads a line; what is damaged is told.
    fn sentence(&mut self, span: &LineSpan, place: LogPlace) -> Option<Sentence> {
        if let LineSpan::TooLong = span {
            self.leave_out(place, "it is far too long");
            return None;
        }
        let read = sentence::frame(self.source.line(span)).and_then(|framed| {
            let lost_before = framed.lost_before;
            let has_checksum = framed.has_checksum();
            framed.read().map(|sentence| (sentence, lost_before, has_checksum))
        });
        match read {
            Ok((sentence, lost_before, has_checksum)) => {
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
            self.leave_out(place, "it has no checksum although others have one");
            return None;
        }
        if !has_checksum {
            self.notes.tell_once(LogNoteKind::ChecksumMissing, place, || {
                "the sentences have no checksum: damage cannot be seen".to_owned()
            });
        }
        Some(sentence)
    }

    fn leave_out(&mut self, place: LogPlace, reason: &str) {
        let text = format!("a sentence is damaged ({reason}) and was left out");
        self.notes.tell(LogNoteKind::SentenceUnreadable, place, text);
    }

    /// Adds a sentence; gives the fix before it if a new instant begins.
    fn join(&mut self, sentence: &Sentence, place: LogPlace) -> Option<LoggedFix> {
        match &mut self.epoch {
            Some(epoch) if epoch.takes(sentence) => {
                epoch.join(sentence, place);
                None
            }
            _ => {
                let before = self.epoch.replace(Epoch::new(sentence, place));
                before.and_then(|epoch| self.fix(&epoch))
            }
        }
    }

    fn fix(&mut self, epoch: &Epoch) -> Option<LoggedFix> {
        let place = epoch.place;
        let time = epoch.time_of_day_ns.and_then(|time_ns| self.clock.instant(epoch.day, time_ns));
        let left_out = match epoch.standing {
            Standing::Good => None,
            Standing::NotMeasured => Some((
                LogNoteKind::FixNotMeasured,
                "the receiver says that the position was reckoned, typed in or simulated; it was left out",
            )),
            Standing::Void => {
                Some((LogNoteKind::FixVoid, "the receiver says that it has no fix; it was left out"))
            }
        };
        if let Some((kind, text)) = left_out {
            self.notes.tell_once(kind, place, || text.to_owned());
            return None;
        }
        let (_, position) = epoch.position?;
        if time.is_none() && epoch.time_of_day_ns.is_some() {
            self.notes.tell_once(LogNoteKind::TimeWithoutDate, place, || {
                "there was no date yet (sentences RMC and ZDA have one); read without time".to_owned()
            });
        }
        if epoch.disagrees {
            let text =
                "sentences of one instant give positions more than 0.001° apart; the fullest one was taken";
            self.notes.tell(LogNoteKind::PositionsDisagree, place, text);
        }
        if let Some((time, later)) = time.and_then(|time| Some((time, instant::a_round_later(time)?))) {
            self.notes.tell_once(LogNoteKind::DateSuspicious, place, || instant::suspicion(time, later));
        }
        Some(LoggedFix {
            position,
            time,
            uncertainty: None,
            hdop: epoch.hdop.filter(|hdop| *hdop > 0.0),
            speed_m_per_s: epoch.speed_m_per_s,
            time_between: None,
            place,
        })
    }
}
