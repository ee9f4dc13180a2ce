//! Catch logs as CSV: one row per fish or per handful of the same, columns in any order.

use std::io::BufRead;

use csv::StringRecord;
use jiff::Timestamp;
use takeline::track::CatchEntry;
use takeline::{AccuracyKind, DateDoubt, HorizontalUncertainty, ParsedPosition, Position};
use takeline_formats::{FixColumn, PlaceColumns, fix_column, fix_date_and_time};
use takeline_report::words::{English, Words};

use crate::clock::timestamp;
use crate::fix_rows::Lines;

/// Rows that are read at most: a life's fishing, and far less than would fill the memory.
const MOST_ROWS: usize = 200_000;
/// Names of the columns, the names that mean the same beside them; those of place, time and accuracy are the ones of every
/// table of fixes besides.
const COLUMNS: [&[&str]; 14] = [
    &["time"],
    &["lat"],
    &["lon"],
    &["position"],
    &["species", "fish", "name"],
    &["count"],
    &["length_cm"],
    &["kept"],
    &["gear"],
    &["bait"],
    &["person"],
    &["date"],
    &["accuracy_m"],
    // what looks like an accuracy
    &[],
];
const TIME: usize = 0;
const LATITUDE: usize = 1;
const LONGITUDE: usize = 2;
const POSITION: usize = 3;
const SPECIES: usize = 4;
const COUNT: usize = 5;
const LENGTH: usize = 6;
const KEPT: usize = 7;
const GEAR: usize = 8;
const BAIT: usize = 9;
const PERSON: usize = 10;
const DATE: usize = 11;
const ACCURACY: usize = 12;
const UNREAD_ACCURACY: usize = 13;

/// A row that cannot be used, or can be used but for some doubt about it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct RowFault {
    /// Line, counted from 1.
    pub(crate) line: u64,
    /// What is wrong, and how to mend it.
    pub(crate) text: String,
}

/// What a catch log holds.
#[derive(Debug, Default)]
pub(crate) struct CatchLog {
    pub(crate) entries: Vec<CatchEntry>,
    /// Rows that were left out.
    pub(crate) faults: Vec<RowFault>,
    /// Rows that were read, with a warning.
    pub(crate) warnings: Vec<RowFault>,
    /// Columns that nobody asked for.
    pub(crate) ignored_columns: Vec<String>,
}

/// Reads a catch log. Bad rows are reported with their line, and the rest is used.
///
/// # Errors
///
/// In words, where nothing can be read at all: no header, no column of names, input that breaks off.
pub(crate) fn read_catches(input: impl BufRead) -> Result<CatchLog, String> {
    let mut lines = Lines::new(input);
    let mut next = move || lines.next().map_err(|error| format!("the catch log ends abruptly: {error}"));
    let Some((line, header)) = next()? else {
        return Err(
            "the catch log is empty; its first line names the columns, such as time,species,kept".into()
        );
    };
    let header = header.map_err(|why| format!("line {line}, the header of the catch log: {why}"))?;
    let (columns, ignored_columns) = columns(&header)?;
    let of_place = PlaceColumns::of(&header).map_err(|why| format!("the catch log: {why}"))?;
    let accuracy_kind = columns[ACCURACY].and_then(|at| stated_kind(header.get(at)?)).unwrap_or_default();
    let mut log = CatchLog { ignored_columns, ..CatchLog::default() };
    while let Some((line, row)) = next()? {
        if log.entries.len() + log.faults.len() == MOST_ROWS {
            return Err(format!("the catch log has more than {MOST_ROWS} rows; cut it into several"));
        }
        let read = row.and_then(|row| {
            entry(line, &Row { fields: &row, columns: &columns, of_place: &of_place, accuracy_kind })
        });
        match read {
            Ok((entry, warnings)) => {
                log.entries.push(entry);
                log.warnings.extend(warnings.into_iter().map(|text| RowFault { line, text }));
            }
            Err(text) => log.faults.push(RowFault { line, text }),
        }
    }
    Ok(log)
}

type Places = [Option<usize>; COLUMNS.len()];

fn columns(header: &StringRecord) -> Result<(Places, Vec<String>), String> {
    let mut places: Places = [None; COLUMNS.len()];
    let mut ignored = Vec::new();
    for (at, name) in header.iter().enumerate() {
        match column_of(name) {
            Some(column) if places[column].is_some() && column != UNREAD_ACCURACY => {
                let names = COLUMNS[column].join(" or ");
                return Err(format!("the catch log has two columns for {names}; take one out"));
            }
            Some(column) => places[column] = Some(at),
            None => ignored.push(name.to_owned()),
        }
    }
    let of_place = PlaceColumns::of(header).ok();
    let is_read = |name: &String| {
        let at = header.iter().position(|heading| heading == name);
        at.zip(of_place.as_ref()).is_some_and(|(at, of_place)| of_place.is_of_place(at))
    };
    ignored.retain(|name| !is_read(name));
    if places[SPECIES].is_none() {
        return Err(
            "the header of the catch log needs a column species (or fish, or name), separated from the \
                    others by commas: time,species,count,length_cm,kept,gear,bait,person"
                .into(),
        );
    }
    if places[LATITUDE].is_some() != places[LONGITUDE].is_some() {
        return Err(
            "the catch log has one of the columns lat and lon without the other; a position needs both"
                .into(),
        );
    }
    Ok((places, ignored))
}

/// The column of a heading: by the names of a catch log, else by those of every table of fixes.
fn column_of(heading: &str) -> Option<usize> {
    let known = |names: &&[&str]| names.iter().any(|known| heading.eq_ignore_ascii_case(known));
    COLUMNS.iter().position(known).or_else(|| match fix_column(heading)? {
        FixColumn::Latitude => Some(LATITUDE),
        FixColumn::Longitude => Some(LONGITUDE),
        FixColumn::Time => Some(TIME),
        FixColumn::Date => Some(DATE),
        FixColumn::Accuracy(_) => Some(ACCURACY),
        FixColumn::UnreadAccuracy => Some(UNREAD_ACCURACY),
        _ => None,
    })
}

/// What the heading of a column of accuracies says that they are: `hacc_95`, `hacc_rms`.
fn stated_kind(heading: &str) -> Option<AccuracyKind> {
    let FixColumn::Accuracy(kind) = fix_column(heading)? else { return None };
    kind
}

struct Row<'a> {
    fields: &'a StringRecord,
    columns: &'a Places,
    of_place: &'a PlaceColumns,
    accuracy_kind: AccuracyKind,
}

impl Row<'_> {
    fn field(&self, column: usize) -> Option<&str> {
        self.fields.get(self.columns[column]?).filter(|text| !text.is_empty())
    }

    fn owned(&self, column: usize) -> Option<String> {
        self.field(column).map(str::to_owned)
    }
}

fn entry(line: u64, row: &Row<'_>) -> Result<(CatchEntry, Vec<String>), String> {
    let species = row.field(SPECIES).ok_or("the name of the fish is missing; write it as people say it")?;
    let time = time(row)?;
    let (parsed, mut warnings) = position(row)?;
    let position = parsed.as_ref().map(|parsed| parsed.position);
    if time.is_none() && position.is_none() {
        warnings.push(
            "it has neither a time nor a position, so nobody can tell where the fish was caught".to_owned(),
        );
    }
    let doubt = time.and_then(DateDoubt::of);
    warnings.extend(doubt.map(|doubt| English.warning(&doubt.into())));
    let entry = CatchEntry {
        time,
        position,
        precision: parsed.map(|parsed| parsed.precision),
        count: row.field(COUNT).map_or(Ok(1), count)?,
        length_cm: row.field(LENGTH).map(length).transpose()?,
        kept: row.field(KEPT).map(kept).transpose()?,
        gear: row.owned(GEAR),
        bait: row.owned(BAIT),
        person: row.owned(PERSON),
        ..CatchEntry::named(line, species)
    };
    Ok((entry, warnings))
}

fn time(row: &Row<'_>) -> Result<Option<Timestamp>, String> {
    let Some(text) = row.field(TIME) else { return Ok(None) };
    let joined = row.field(DATE).and_then(|date| fix_date_and_time(date, text));
    let read = timestamp(joined.as_deref().unwrap_or(text));
    read.map(Some).map_err(|form| format!("time \"{text}\" is not understood; {form}"))
}

fn position(row: &Row<'_>) -> Result<(Option<ParsedPosition>, Vec<String>), String> {
    let (latitude, longitude) = row.of_place.texts(row.fields).map_err(|why| format!("position: {why}"))?;
    let text = match (row.field(POSITION), latitude.as_str(), longitude.as_str()) {
        (None, "", "") => return Ok((None, Vec::new())),
        (Some(text), "", "") => text.to_owned(),
        (None, _, "") => {
            return Err("lon is missing; a position needs both, or leave both empty".into());
        }
        (None, "", _) => {
            return Err("lat is missing; a position needs both, or leave both empty".into());
        }
        (None, latitude, longitude) => format!("{latitude}, {longitude}"),
        (Some(_), _, _) => return Err("it has both position and lat, lon; leave one of them empty".into()),
    };
    let parsed = Position::parse(&text).map_err(|error| format!("position: {error}"))?;
    row.of_place.check(row.fields, parsed.position).map_err(|why| format!("position: {why}"))?;
    check_accuracy(row)?;
    let warnings = parsed.warnings.iter().map(ToString::to_string).collect();
    Ok((Some(parsed), warnings))
}

/// A position of a row counts as good as fixes without an accuracy of their own: one that is said to be worse is refused.
fn check_accuracy(row: &Row<'_>) -> Result<(), String> {
    let Some(text) = row.field(ACCURACY).or_else(|| row.field(UNREAD_ACCURACY)) else { return Ok(()) };
    let metres = row.field(ACCURACY).and_then(|text| text.parse::<f64>().ok());
    let read = metres.and_then(|metres| HorizontalUncertainty::given(metres, row.accuracy_kind).ok());
    let most_m = HorizontalUncertainty::ASSUMED_95_M;
    if read.is_some_and(|read| read.radius_95().metres() <= most_m) {
        return Ok(());
    }
    Err(format!(
        "the accuracy \"{text}\" of the position is more than the {most_m:.0} m (95 %) that rows are taken to have, or cannot be read; leave the position empty, and it is taken from the track with the track's own uncertainty"
    ))
}

fn count(text: &str) -> Result<u32, String> {
    match text.parse() {
        Ok(0) => Err("count 0 is not a catch; take the row out, or write how many there were".into()),
        Ok(count) => Ok(count),
        Err(_) => Err(format!("count \"{text}\" is not a whole number of fish; leave it empty for one")),
    }
}

fn length(text: &str) -> Result<f64, String> {
    let length: Option<f64> = text.parse().ok();
    length.filter(|length_cm| length_cm.is_finite() && *length_cm > 0.0).ok_or_else(|| {
        format!(
            "length_cm \"{text}\" is not a length in centimetres, as in 40.5; leave it empty if not measured"
        )
    })
}

fn kept(text: &str) -> Result<bool, String> {
    let is = |words: &[&str]| words.iter().any(|word| text.eq_ignore_ascii_case(word));
    if is(&["yes", "y", "kept", "true"]) {
        Ok(true)
    } else if is(&["no", "n", "released", "false"]) {
        Ok(false)
    } else {
        Err(format!(
            "kept \"{text}\" is not understood; write yes, no or released, or leave it empty if unknown"
        ))
    }
}

#[cfg(test)]
#[path = "catches_tests.rs"]
mod tests;
