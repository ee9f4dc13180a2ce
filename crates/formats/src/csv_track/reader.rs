use std::io::Read;

use jiff::Timestamp;
use takeline::track::{LogPlace, LoggedFix, UnplacedRecord};
use takeline::{AccuracyKind, Latitude, Longitude, Position};

use super::columns::{BesideDegrees, Column, Columns, unread_accuracy_mend};
use super::cut_row::CutRow;
use super::place::{NoPlace, Parts};
use crate::instant::{self, ReadTime, TimeReader};
use crate::notes::{Notes, Zone, note_time, shown};
use crate::source::{Fault, LineSpan, Source};
use crate::{LogItem, LogNoteKind, number};

/// Reads a table row by row.
pub(crate) struct CsvReader<R> {
    source: Source<R>,
    columns: Columns,
    unstated: AccuracyKind,
    notes: Notes,
    times: TimeReader,
    /// Where the last number of a row is a coordinate.
    cut_row: Option<CutRow>,
}

/// What a row holds, before it is judged.
#[derive(Debug, Default)]
struct Row<'a> {
    /// Plain decimals.
    lat_deg: Option<f64>,
    lon_deg: Option<f64>,
    /// The fields themselves, for what else belongs to the place.
    cells: Cells<'a>,
    time: &'a [u8],
    date: &'a [u8],
    /// How far the time is ahead of UTC.
    offset: &'a [u8],
    accuracy: &'a [u8],
    /// What looks like an accuracy, in a column that is not read.
    unread_accuracy: &'a [u8],
    hdop: &'a [u8],
    speed: &'a [u8],
    fields: usize,
}

/// The fields of a row.
#[derive(Debug, Clone, Copy)]
enum Cells<'a> {
    /// Without quotation marks.
    Line(&'a [u8]),
    Fields(&'a [&'a [u8]]),
}

impl Default for Cells<'_> {
    fn default() -> Self {
        Self::Line(&[])
    }
}

impl<'a> Cells<'a> {
    /// What all of them say of the place.
    fn parts(self, columns: &Columns) -> Parts<'a> {
        let mut parts = Parts::default();
        let columns_in_order = columns.order.iter().copied();
        match self {
            Self::Line(line) => {
                let fields = line.split(|byte| *byte == columns.separator);
                columns_in_order.zip(fields).for_each(|(column, field)| parts.put(column, field));
            }
            Self::Fields(fields) => {
                columns_in_order.zip(fields).for_each(|(column, field)| parts.put(column, field));
            }
        }
        parts
    }
}

impl<R: Read> CsvReader<R> {
    /// Takes the source behind its header.
    pub(crate) fn new(source: Source<R>, columns: Columns, header: LogPlace, unstated: AccuracyKind) -> Self {
        let mut notes = Notes::default();
        for remark in &columns.remarks {
            notes.tell(LogNoteKind::ColumnIgnored, header, remark.as_str());
        }
        let cut_row = columns.is_place_last.then(|| CutRow::new(columns.separator));
        Self { source, columns, unstated, notes, times: TimeReader::default(), cut_row }
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
            let Some(span) = self.source.next_line()? else {
                self.notes.sum_up();
                return Ok(self.notes.next().map(LogItem::Note));
            };
            let place =
                LogPlace { line: self.source.token_line(), byte: self.source.token_byte(), stretch: 0 };
            if let LineSpan::TooLong = span {
                self.notes.tell(
                    LogNoteKind::RowUnreadable,
                    place,
                    "the row is too long for a fix; it was left out",
                );
                return Ok(Some(LogItem::Unplaced(UnplacedRecord { time: None, place })));
            }
            let line = self.source.line(&span);
            let line = line.strip_suffix(b"\r").unwrap_or(line);
            if line.iter().all(u8::is_ascii_whitespace) {
                continue;
            }
            let has_end = !self.source.line_has_no_end();
            let is_cut = self.cut_row.as_mut().is_some_and(|rows| rows.is_cut_off(line, has_end));
            let judge =
                Judge { unstated: self.unstated, place, notes: &mut self.notes, times: &mut self.times };
            return Ok(Some(if is_cut { judge.cut_off() } else { judge.line(line, &self.columns) }));
        }
    }
}

/// Turns one row into a fix, or tells why not.
struct Judge<'a> {
    unstated: AccuracyKind,
    place: LogPlace,
    notes: &'a mut Notes,
    times: &'a mut TimeReader,
}

impl Judge<'_> {
    fn line(mut self, line: &[u8], columns: &Columns) -> LogItem {
        if let Some(fix) = self.plain_row(line, columns) {
            return LogItem::Fix(fix);
        }
        if memchr::memchr(b'"', line).is_none() {
            let mut row = Row { cells: Cells::Line(line), ..Row::default() };
            cut(&mut row, line, columns);
            return self.row(&row, columns);
        }
        let Some(fields) = unquoted(line, columns.separator) else {
            return self.leave_out("a quotation mark is not closed on its line", None);
        };
        let fields: Vec<&[u8]> = fields.iter().map(Vec::as_slice).collect();
        self.row(&assign(&fields, columns), columns)
    }

    /// A row of plain degrees and a time with its zone, in a table that has nothing else; none for every other row.
    fn plain_row(&mut self, line: &[u8], columns: &Columns) -> Option<LoggedFix> {
        if columns.beside != BesideDegrees::TimeAlone {
            return None;
        }
        let (mut lat_deg, mut lon_deg, mut time) = (0.0, 0.0, &[][..]);
        let mut rest = Some(line);
        for column in &columns.order {
            let field = rest?;
            let used = if let Column::Latitude | Column::Longitude = column {
                let (value, used) = number::scan_plain(field)?;
                *(if *column == Column::Latitude { &mut lat_deg } else { &mut lon_deg }) = value;
                used
            } else {
                let used = memchr::memchr(columns.separator, field).unwrap_or(field.len());
                time = &field[..used];
                used
            };
            rest = match field.get(used) {
                None => None,
                Some(next) if *next == columns.separator => Some(&field[used + 1..]),
                Some(_) => return None,
            };
        }
        if rest.is_some() {
            return None;
        }
        let position = of_degrees(lat_deg, lon_deg).ok()?;
        let time = match time {
            [] => None,
            text => Some(self.plain_time(text, columns)?),
        };
        Some(LoggedFix {
            position,
            time,
            uncertainty: None,
            hdop: None,
            speed_m_per_s: None,
            time_between: None,
            jump_kn: None,
            place: self.place,
        })
    }

    fn plain_time(&mut self, text: &[u8], columns: &Columns) -> Option<Timestamp> {
        let read = if columns.has_unix { unix(text) } else { self.times.read(text) };
        let ReadTime::At(time) = read else { return None };
        self.notes.tell_date(time, self.place);
        Some(time)
    }

    /// The last row, whose last number may go on.
    fn cut_off(mut self) -> LogItem {
        self.leave_out(CutRow::REASON, None)
    }

    /// A row without a usable place is a record all the same.
    fn leave_out(&mut self, reason: &str, time: Option<Timestamp>) -> LogItem {
        self.notes.tell(LogNoteKind::RowUnreadable, self.place, format!("{reason}; the row was left out"));
        LogItem::Unplaced(UnplacedRecord { time, place: self.place })
    }

    /// As [`Self::leave_out`]; rows that say themselves that there was no fix are summed up.
    fn without_place(&mut self, no: &NoPlace, time: Option<Timestamp>) -> LogItem {
        if !no.is_void {
            return self.leave_out(&no.reason, time);
        }
        self.notes.tell_once(LogNoteKind::FixVoid, self.place, || format!("{}; it was not used", no.reason));
        LogItem::Unplaced(UnplacedRecord { time, place: self.place })
    }

    fn row(&mut self, row: &Row, columns: &Columns) -> LogItem {
        if row.fields != columns.order.len() {
            // which of its fields would be the time nobody knows
            let reason = format!("the row has {} fields, the header {}", row.fields, columns.order.len());
            return self.leave_out(&reason, None);
        }
        let position = match self.position(row, columns) {
            Ok(position) => position,
            Err(no) => {
                let time = self.time(row, columns);
                return self.without_place(&no, time);
            }
        };
        let read_m = self.figure("accuracy", row.accuracy);
        let kind = columns.accuracy_kind.unwrap_or(self.unstated);
        let uncertainty = read_m.and_then(|metres| self.notes.uncertainty(metres, kind, self.place));
        if uncertainty.is_none() && !row.unread_accuracy.trim_ascii().is_empty() {
            self.notes
                .tell_once(LogNoteKind::AccuracyUnreadable, self.place, || unread_accuracy_mend().to_owned());
        }
        let hdop = self.figure("hdop", row.hdop).filter(|hdop| *hdop > 0.0);
        if self.notes.is_next_to_no_fix(hdop, uncertainty, self.place) {
            let time = self.time(row, columns);
            return LogItem::Unplaced(UnplacedRecord { time, place: self.place });
        }
        let speed = self.figure("speed", row.speed);
        let speed_m_per_s = speed.and_then(|speed| Some(speed * columns.speed_m_per_s?));
        LogItem::Fix(LoggedFix {
            position,
            time: self.time(row, columns),
            uncertainty,
            hdop,
            speed_m_per_s: speed_m_per_s.filter(|speed| speed.is_finite()),
            time_between: None,
            jump_kn: None,
            place: self.place,
        })
    }

    fn position(&mut self, row: &Row, columns: &Columns) -> Result<Position, NoPlace> {
        let plain = row.lat_deg.zip(row.lon_deg);
        if columns.beside != BesideDegrees::MoreOfPlace
            && let Some((lat_deg, lon_deg)) = plain
        {
            return of_degrees(lat_deg, lon_deg).map_err(no_place);
        }
        let parts = row.cells.parts(columns);
        parts.check()?;
        let position = match plain.filter(|_| parts.is_plain()) {
            Some((lat_deg, lon_deg)) => of_degrees(lat_deg, lon_deg).map_err(no_place)?,
            None => self.joined(&parts)?,
        };
        parts.check_letters(position)?;
        Ok(position)
    }

    /// The place of a row in any other form than plain decimals alone.
    fn joined(&mut self, parts: &Parts) -> Result<Position, NoPlace> {
        let (lat, lon) = parts.joined()?;
        if let (Some(lat_deg), Some(lon_deg)) = (number::read(&lat), number::read(&lon)) {
            return of_degrees(lat_deg, lon_deg).map_err(no_place);
        }
        let parsed = Position::parse_pair(&lat, &lon).map_err(|error| {
            let text = error.to_string();
            no_place(format!("the position cannot be read: {}", text.chars().take(300).collect::<String>()))
        })?;
        for warning in &parsed.warnings {
            self.notes.tell(LogNoteKind::PositionDoubtful, self.place, warning.to_string());
        }
        Ok(parsed.position)
    }

    fn time(&mut self, row: &Row, columns: &Columns) -> Option<Timestamp> {
        let text = row.time;
        if text.is_empty() {
            return None;
        }
        // without a column of dates the date is empty
        if !columns.has_unix && !row.date.trim_ascii().is_empty() {
            return self.date_and_time(row, text);
        }
        let read = if columns.has_unix { unix(text) } else { self.times.read(text) };
        if read == ReadTime::Empty {
            return None;
        }
        note_time(read, (text, Zone::Beside(row.offset)), self.place, self.notes)
    }

    /// Joins a date and a time of day; a time that brings its own date needs no other.
    fn date_and_time(&mut self, row: &Row, time: &[u8]) -> Option<Timestamp> {
        let date = row.date;
        let joined = instant::plain_date(date).map(|date| [&date[..], b"T", time.trim_ascii()].concat());
        let read = match instant::read(time) {
            ReadTime::Unreadable => joined.map_or(ReadTime::Unreadable, |text| instant::read(&text)),
            read @ (ReadTime::At(_) | ReadTime::WithoutZone(_) | ReadTime::Empty) => read,
        };
        let text = [date.trim_ascii(), b" ", time.trim_ascii()].concat();
        if read == ReadTime::Empty {
            return None;
        }
        note_time(read, (&text, Zone::Beside(row.offset)), self.place, self.notes)
    }

    /// A number that is not negative; none for an empty field, and none with a note for anything else.
    fn figure(&mut self, what: &str, field: &[u8]) -> Option<f64> {
        let text = field.trim_ascii();
        if text.is_empty() {
            return None;
        }
        let value = std::str::from_utf8(text).ok().and_then(number::read).filter(|value| *value >= 0.0);
        if value.is_none() {
            self.notes.tell_once(Notes::unusable(what), self.place, || {
                format!(
                    "{what} \"{}\" is not a number of 0 or more; the fix was read without it",
                    shown(text)
                )
            });
        }
        value
    }
}

fn no_place(reason: String) -> NoPlace {
    NoPlace { is_void: false, reason }
}

fn of_degrees(lat_deg: f64, lon_deg: f64) -> Result<Position, String> {
    let latitude = Latitude::from_degrees(lat_deg).map_err(|error| error.to_string())?;
    let longitude = Longitude::from_degrees_either_way(lon_deg).map_err(|error| error.to_string())?;
    Ok(Position::new(latitude, longitude))
}

/// Seconds since 1970, whole or with decimals. More than eleven digits would be milliseconds.
fn unix(text: &[u8]) -> ReadTime {
    let text = text.trim_ascii();
    let (whole, fraction) = match memchr::memchr(b'.', text) {
        Some(point) => (&text[..point], &text[point + 1..]),
        None => (text, &[][..]),
    };
    let is_plain = |digits: &[u8]| digits.iter().all(u8::is_ascii_digit);
    if text.is_empty() {
        return ReadTime::Empty;
    }
    if whole.is_empty() || whole.len() > 11 || !is_plain(whole) || !is_plain(fraction) {
        return ReadTime::Unreadable;
    }
    let second = whole.iter().fold(0_i64, |sum, digit| sum * 10 + i64::from(digit - b'0'));
    if fraction.is_empty() {
        return Timestamp::from_second(second).map_or(ReadTime::Unreadable, ReadTime::At);
    }
    let nine = (0..9).map(|at| fraction.get(at).map_or(0, |digit| i32::from(digit - b'0')));
    let nanosecond = nine.fold(0, |sum, digit| sum * 10 + digit);
    Timestamp::new(second, nanosecond).map_or(ReadTime::Unreadable, ReadTime::At)
}

/// Cuts a row without quotation marks; plain decimals are read on the way.
fn cut<'a>(row: &mut Row<'a>, line: &'a [u8], columns: &Columns) {
    let mut at = 0;
    for column in &columns.order {
        let rest = &line[at..];
        let is_position = matches!(column, Column::Latitude | Column::Longitude);
        let plain = if is_position { number::scan_plain(rest) } else { None };
        let plain = plain.filter(|(_, used)| rest.get(*used).is_none_or(|next| *next == columns.separator));
        let length = match plain {
            Some((_, used)) => used,
            None => memchr::memchr(columns.separator, rest).unwrap_or(rest.len()),
        };
        row.put(*column, &rest[..length], plain.map(|(value, _)| value));
        row.fields += 1;
        at += length;
        if at == line.len() {
            return;
        }
        at += 1;
    }
    row.fields += 1 + memchr::memchr_iter(columns.separator, &line[at..]).count();
}

fn assign<'a>(fields: &'a [&'a [u8]], columns: &Columns) -> Row<'a> {
    let mut row = Row { cells: Cells::Fields(fields), fields: fields.len(), ..Row::default() };
    for (column, field) in columns.order.iter().zip(fields) {
        row.put(*column, field, None);
    }
    row
}

impl<'a> Row<'a> {
    fn put(&mut self, column: Column, field: &'a [u8], value: Option<f64>) {
        match column {
            Column::Latitude => self.lat_deg = value,
            Column::Longitude => self.lon_deg = value,
            Column::Time | Column::UnixTime => self.time = field,
            Column::Date => self.date = field,
            Column::Accuracy(_) => self.accuracy = field,
            Column::UnreadAccuracy => self.unread_accuracy = field,
            Column::Hdop => self.hdop = field,
            Column::Speed(_) => self.speed = field,
            Column::Offset => self.offset = field,
            Column::Beside(..)
            | Column::UnreadPlace
            | Column::Datum
            | Column::Unit
            | Column::Status(_)
            | Column::Ignored
            | Column::Unknown(_) => {}
        }
    }
}

/// Fields of a row with quotation marks (RFC 4180, 2); none if one is not closed.
///
/// A line feed inside quotation marks is not allowed: one mark too many would swallow the rest of the log.
fn unquoted(line: &[u8], separator: u8) -> Option<Vec<Vec<u8>>> {
    let mut fields = vec![Vec::new()];
    let mut is_quoted = false;
    let mut bytes = line.iter().copied().peekable();
    while let Some(byte) = bytes.next() {
        let field = fields.last_mut()?;
        match byte {
            b'"' if is_quoted && bytes.peek() == Some(&b'"') => {
                bytes.next();
                field.push(b'"');
            }
            // a mark inside a field is one of seconds or inches
            b'"' if !is_quoted && !field.trim_ascii().is_empty() => field.push(b'"'),
            b'"' => is_quoted = !is_quoted,
            _ if byte == separator && !is_quoted => fields.push(Vec::new()),
            _ => field.push(byte),
        }
    }
    (!is_quoted).then_some(fields)
}
