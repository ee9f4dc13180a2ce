//! Fixes as rows of CSV: one row per line, in constant memory whatever the input is.

use std::io::{self, BufRead, BufReader, Read};

use csv::StringRecord;
use csv_core::ReadRecordResult;
use jiff::Timestamp;
use takeline::assess::Warning;
use takeline::{AccuracyKind, Fix, HorizontalUncertainty, Position};
use takeline_formats::{
    CutRow, FixColumn, PlaceColumns, fix_column, fix_date_and_time, fix_separator, unread_accuracy_mend,
};

use crate::accuracy::with_rounding;
use crate::clock::timestamp;

/// The longest line that is read, in bytes; longer ones are refused so that memory stays bounded.
const LONGEST_LINE: usize = 65_536;

/// The most lines, and about the most bytes, that are handed on together.
const MOST_LINES_OF_CHUNK: usize = 128;
const MOST_BYTES_OF_CHUNK: usize = 16_384;

/// Lines as they stand, to be taken apart elsewhere.
#[derive(Debug)]
pub(crate) struct Chunk {
    /// How many lines stand before them.
    lines_before: u64,
    separator: u8,
    bytes: Vec<u8>,
    /// Whether the last of them was likely cut off.
    is_last_cut: bool,
}

impl Chunk {
    /// How many bytes there are.
    pub(crate) fn len(&self) -> u64 {
        self.bytes.len() as u64
    }

    /// The lines, with the numbers that they have in the whole input.
    pub(crate) fn lines(&self) -> Lines<&[u8]> {
        Lines {
            number: self.lines_before,
            separator: self.separator,
            rows: Rows::new(self.separator),
            is_last_cut: self.is_last_cut,
            ..Lines::new(&self.bytes)
        }
    }
}

/// The number of a line and its fields, or why they were refused.
pub(crate) type NumberedFields = (u64, Result<StringRecord, String>);

/// Lines of an input, counted from 1, none kept longer than needed.
#[derive(Debug)]
pub(crate) struct Lines<R> {
    pub(crate) input: R,
    number: u64,
    bytes: Vec<u8>,
    rows: Rows,
    /// The sign between fields.
    separator: u8,
    /// Whether the first line says which sign stands between fields.
    is_header_asked: bool,
    /// Where the last field of a row is a coordinate.
    cut_row: Option<CutRow>,
    /// Whether a line without an end was likely cut off.
    is_last_cut: bool,
}

impl<R: BufRead> Lines<R> {
    pub(crate) fn new(input: R) -> Self {
        let separator = b',';
        Self {
            input,
            number: 0,
            bytes: Vec::new(),
            rows: Rows::new(separator),
            separator,
            is_header_asked: false,
            cut_row: None,
            is_last_cut: false,
        }
    }

    /// Lines whose first is the header of a table of fixes, in which a comma, a semicolon or a tab may stand between fields.
    pub(crate) fn of_fixes(input: R) -> Self {
        Self { is_header_asked: true, ..Self::new(input) }
    }

    /// Takes note of what the header says of the columns.
    pub(crate) fn expect(&mut self, columns: &Columns) {
        self.cut_row = columns.place.is_coordinate_last().then(|| CutRow::new(self.separator));
    }

    /// Whether a comma may stand in a number.
    pub(crate) fn has_decimal_commas(&self) -> bool {
        self.separator != b','
    }

    /// Returns the next line that is not blank.
    pub(crate) fn next(&mut self) -> io::Result<Option<NumberedFields>> {
        loop {
            self.bytes.clear();
            let mut limited = self.input.by_ref().take(LONGEST_LINE as u64);
            if limited.read_until(b'\n', &mut self.bytes)? == 0 {
                return Ok(None);
            }
            self.number += 1;
            if self.bytes.len() == LONGEST_LINE && !self.bytes.ends_with(b"\n") {
                self.input.skip_until(b'\n')?;
                return Ok(Some((self.number, Err(format!("longer than {LONGEST_LINE} bytes")))));
            }
            if !self.bytes.trim_ascii().is_empty() {
                if std::mem::take(&mut self.is_header_asked) {
                    let header = String::from_utf8_lossy(&self.bytes);
                    self.separator = fix_separator(header.trim_start_matches('\u{feff}')).unwrap_or(b',');
                    self.rows = Rows::new(self.separator);
                }
                let is_cut = self.is_last_cut && !self.bytes.ends_with(b"\n");
                let fields = if is_cut { Err(CutRow::REASON.into()) } else { self.rows.read(&self.bytes) };
                return Ok(Some((self.number, fields)));
            }
        }
    }
}

impl<R: Read> Lines<BufReader<R>> {
    /// Returns the next lines, as many as can be had without waiting for more, but no more than a hundred or so; none at the end.
    ///
    /// # Errors
    ///
    /// What reading failed with, and the lines before that.
    pub(crate) fn next_chunk(&mut self) -> Result<Option<Chunk>, (Chunk, io::Error)> {
        let mut chunk = Chunk {
            lines_before: self.number,
            separator: self.separator,
            bytes: Vec::new(),
            is_last_cut: false,
        };
        for _ in 0..MOST_LINES_OF_CHUNK {
            let before = chunk.bytes.len();
            let has_more = self.add_line(&mut chunk);
            match has_more {
                Ok(true) => {}
                Ok(false) => break,
                Err(error) => {
                    chunk.bytes.truncate(before);
                    return Err((chunk, error));
                }
            }
            // of a line that is there in part the rest would be waited for
            if !self.input.buffer().contains(&b'\n') || chunk.bytes.len() >= MOST_BYTES_OF_CHUNK {
                break;
            }
        }
        Ok(if chunk.bytes.is_empty() { None } else { Some(chunk) })
    }

    /// Adds the next line, of one that is too long no more than shows it; false at the end.
    fn add_line(&mut self, chunk: &mut Chunk) -> io::Result<bool> {
        let bytes = &mut chunk.bytes;
        let read = self.input.by_ref().take(LONGEST_LINE as u64).read_until(b'\n', bytes)?;
        if read == 0 {
            return Ok(false);
        }
        self.number += 1;
        if read == LONGEST_LINE && !bytes.ends_with(b"\n") {
            self.input.skip_until(b'\n')?;
            bytes.push(b'\n');
        }
        let line = &bytes[bytes.len() - read..];
        chunk.is_last_cut = self.cut_row.as_mut().is_some_and(|rows| rows.is_cut(line));
        Ok(true)
    }
}

/// Takes lines apart, each by itself: a quotation mark that is never closed ends with its line.
#[derive(Debug)]
struct Rows {
    reader: csv_core::Reader,
    fields: Vec<u8>,
    ends: Vec<usize>,
}

impl Rows {
    fn new(separator: u8) -> Self {
        let reader = csv_core::ReaderBuilder::new().delimiter(separator).build();
        Self { reader, fields: Vec::new(), ends: Vec::new() }
    }

    /// The fields of a line, without blanks about them. A mark of the order of bytes before it is left out.
    fn read(&mut self, line: &[u8]) -> Result<StringRecord, String> {
        self.reader.reset();
        // no field is longer than the line, and no more than one ends with each byte of it
        self.fields.resize(line.len() + 1, 0);
        self.ends.resize(line.len() + 2, 0);
        let (mut rest, mut written, mut count) = (line, 0, 0);
        loop {
            let (result, read, more, ended) =
                self.reader.read_record(rest, &mut self.fields[written..], &mut self.ends[count..]);
            (rest, written, count) = (&rest[read..], written + more, count + ended);
            match result {
                ReadRecordResult::InputEmpty => {}
                ReadRecordResult::Record | ReadRecordResult::End => break,
                ReadRecordResult::OutputFull | ReadRecordResult::OutputEndsFull => {
                    return Err("holds more than its size says".into());
                }
            }
        }
        let mut record = StringRecord::with_capacity(written, count);
        let mut from = 0;
        for to in &self.ends[..count] {
            let field = std::str::from_utf8(&self.fields[from..*to]).map_err(|_| "is not UTF-8 text")?;
            record.push_field(field.trim());
            from = *to;
        }
        Ok(record)
    }
}

/// In which column what stands.
#[derive(Debug)]
pub(crate) struct Columns {
    place: PlaceColumns,
    time: Option<usize>,
    date: Option<usize>,
    /// The accuracy, and what it means where its heading says so.
    accuracy: Option<(usize, Option<AccuracyKind>)>,
    /// What look like accuracies, and are not read.
    unread_accuracies: Vec<usize>,
    /// How many there are.
    count: usize,
    /// Names of columns that nobody asked for.
    pub(crate) ignored: Vec<String>,
}

impl Columns {
    /// Reads the header.
    pub(crate) fn from_header(header: &StringRecord) -> Result<Self, String> {
        let first = |wanted: fn(FixColumn) -> bool| {
            let such = |name: &str| fix_column(name).is_some_and(wanted);
            let mut found = header.iter().enumerate().filter(|(_, name)| such(name));
            let (first, second) = (found.next(), found.next());
            match (first, second) {
                (Some((_, first)), Some((_, second))) => Err(hold_the_same(first, second)),
                (first, _) => Ok(first.map(|(at, _)| at)),
            }
        };
        let latitude = first(|column| column == FixColumn::Latitude)?;
        let longitude = first(|column| column == FixColumn::Longitude)?;
        let time = first(|column| column == FixColumn::Time)?;
        let date = first(|column| column == FixColumn::Date)?;
        let accuracy = first(|column| matches!(column, FixColumn::Accuracy(_)))?;
        if latitude.is_none() || longitude.is_none() {
            return Err(
                "the header needs the columns lat and lon: lat,lon,time,accuracy_m (the last two may be left out); for a track log such as GPX use takeline track"
                    .into(),
            );
        }
        let place = PlaceColumns::of(header)?;
        // a day without a time of day is no time
        let date = date.filter(|_| time.is_some());
        let is = |column: usize, wanted: FixColumn| header.get(column).and_then(fix_column) == Some(wanted);
        let unread_accuracies: Vec<usize> =
            (0..header.len()).filter(|column| is(*column, FixColumn::UnreadAccuracy)).collect();
        let accuracy = accuracy.map(|column| match header.get(column).and_then(fix_column) {
            Some(FixColumn::Accuracy(kind)) => (column, kind),
            _ => (column, None),
        });
        let is_read = |column: &usize| {
            place.is_of_place(*column)
                || [time, date, accuracy.map(|(column, _)| column)].contains(&Some(*column))
                || unread_accuracies.contains(column)
        };
        let ignored = header.iter().enumerate().filter(|(column, _)| !is_read(column));
        let ignored = ignored.map(|(_, name)| name.to_owned()).collect();
        Ok(Self { place, time, date, accuracy, unread_accuracies, count: header.len(), ignored })
    }
}

/// Two headings for one thing.
fn hold_the_same(first: &str, second: &str) -> String {
    if first == second {
        return format!("the column {} is there twice", first.escape_debug());
    }
    format!(
        "the columns \"{}\" and \"{}\" hold the same thing, and nothing says which is meant, so neither is read: take one out, or rename it",
        first.escape_debug(),
        second.escape_debug()
    )
}

/// What a row gets where it says nothing itself.
#[derive(Debug, Clone, Copy)]
pub(crate) struct RowDefaults {
    pub(crate) uncertainty: HorizontalUncertainty,
    pub(crate) accuracy_kind: AccuracyKind,
    pub(crate) time: Option<Timestamp>,
}

/// A fix and what its text made one wonder about.
#[derive(Debug)]
pub(crate) struct RowFix {
    pub(crate) fix: Fix,
    pub(crate) warnings: Vec<String>,
    /// What belongs to the answer itself.
    pub(crate) remark: Option<Warning>,
}

/// Reads one row.
pub(crate) fn read_fix(
    row: &StringRecord,
    (columns, has_decimal_commas): (&Columns, bool),
    defaults: &RowDefaults,
) -> Result<RowFix, String> {
    let number = |text: &str| if has_decimal_commas { text.replace(',', ".") } else { text.to_owned() };
    if row.iter().skip(columns.count).any(|surplus| !surplus.is_empty()) {
        return Err(format!(
            "has {} fields, but the header has {}: a decimal comma splits a number in two, so write 45.005",
            row.len(),
            columns.count
        ));
    }
    let field = |column: usize| row.get(column).filter(|text| !text.is_empty());
    let (latitude, longitude) = columns.place.texts(row)?;
    for (text, name) in [(&latitude, "lat"), (&longitude, "lon")] {
        if text.is_empty() {
            return Err(format!("{name} is missing"));
        }
    }
    let (latitude, longitude) = (number(&latitude), number(&longitude));
    let parsed = Position::parse(&format!("{latitude}, {longitude}")).map_err(|error| error.to_string())?;
    columns.place.check(row, parsed.position)?;
    let time = match columns.time.and_then(field) {
        Some(text) => time(text, columns.date.and_then(field))?,
        None => defaults.time,
    };
    let uncertainty = match columns.accuracy.and_then(|(column, kind)| Some((field(column)?, kind))) {
        Some((text, kind)) => accuracy(&number(text), kind, defaults)?,
        None if columns.unread_accuracies.iter().any(|column| field(*column).is_some()) => {
            return Err(unread_accuracy_mend().into());
        }
        None => defaults.uncertainty,
    };
    let warnings = parsed.warnings.iter().map(ToString::to_string).collect();
    let (uncertainty, remark) = with_rounding(uncertainty, parsed.precision);
    let fix = Fix::new(parsed.position, uncertainty).at_time(time);
    Ok(RowFix { fix, warnings, remark })
}

/// Reads a time; none where the row says that it is unknown.
fn time(text: &str, date: Option<&str>) -> Result<Option<Timestamp>, String> {
    if text.eq_ignore_ascii_case(UNKNOWN) {
        return Ok(None);
    }
    let joined = date.and_then(|date| fix_date_and_time(date, text));
    let read = timestamp(joined.as_deref().unwrap_or(text));
    read.map(Some).map_err(|form| {
        let written = match date {
            Some(date) => format!("date \"{date}\" and time \"{text}\" are"),
            None => format!("time \"{text}\" is"),
        };
        format!("{written} not understood; {form}; or write {UNKNOWN}")
    })
}

/// What stands in place of a time that nobody knows.
const UNKNOWN: &str = "unknown";

fn accuracy(
    text: &str,
    kind: Option<AccuracyKind>,
    defaults: &RowDefaults,
) -> Result<HorizontalUncertainty, String> {
    let accuracy_m: f64 = text
        .parse()
        .map_err(|_| format!("accuracy_m \"{text}\" is not a number of metres; leave it empty if unknown"))?;
    let given = HorizontalUncertainty::given(accuracy_m, kind.unwrap_or(defaults.accuracy_kind))
        .map_err(|error| format!("accuracy_m: {error}; leave it empty if unknown"))?;
    Ok(if given.zero_was_given() { defaults.uncertainty.with_zero_given() } else { given })
}
