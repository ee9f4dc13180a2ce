use takeline::AccuracyKind;

use crate::gpx::{Meaning, accuracy};
use crate::instant::{self, ReadTime};
use crate::shown::shown;

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Column {
    Latitude,
    Longitude,
    /// Date and time; a time of day alone where there is a column of dates.
    Time,
    /// The date of a time of day in another column.
    Date,
    /// Seconds since 1970-01-01 UTC.
    UnixTime,
    /// A radius in metres, and what it means; none: as the caller says.
    Accuracy(Option<AccuracyKind>),
    /// What looks like an accuracy, and does not say plainly what it is.
    UnreadAccuracy,
    Hdop,
    /// A speed, and what to multiply it with to get metres per second.
    Speed(f64),
    Ignored,
}

/// Metres per second in one knot: 1852 m an hour (First International Extraordinary Hydrographic Conference, 1929).
pub(crate) const KNOT_M_PER_S: f64 = 1852.0 / 3600.0;
const KM_PER_H_M_PER_S: f64 = 1.0 / 3.6;
/// More columns than any log has.
const MOST_COLUMNS: usize = 256;

/// The header of a table.
#[derive(Debug)]
pub(crate) struct Columns {
    pub(crate) separator: u8,
    pub(crate) order: Vec<Column>,
    /// Columns that look like something to read, and why they were not.
    pub(crate) remarks: Vec<String>,
}

/// The sign between the columns, if the line is a header of a track.
pub(crate) fn separator_of(header: &str) -> Option<u8> {
    [b',', b';', b'\t'].into_iter().find(|separator| {
        let has = |wanted| header.split(char::from(*separator)).any(|name| column(name) == wanted);
        has(Column::Latitude) && has(Column::Longitude)
    })
}

impl Columns {
    /// Reads the header.
    ///
    /// # Errors
    ///
    /// What is wrong with it, in words.
    pub(crate) fn of(header: &str) -> Result<Self, String> {
        let Some(separator) = separator_of(header) else {
            return Err(format!("the header \"{}\" has no columns lat and lon", shown(header.as_bytes())));
        };
        let names: Vec<&str> = header.split(char::from(separator)).collect();
        if names.len() > MOST_COLUMNS {
            return Err(format!("the header has more than {MOST_COLUMNS} columns"));
        }
        let columns: Vec<Column> = names.iter().map(|name| column(name)).collect();
        for (at, one) in columns.iter().enumerate() {
            let again = columns.iter().skip(at + 1).position(|other| is_same(*one, *other));
            if let Some(again) = again {
                let (first, second) = (names[at], names[at + 1 + again]);
                return Err(format!(
                    "the columns \"{}\" and \"{}\" hold the same",
                    shown(first.as_bytes()),
                    shown(second.as_bytes())
                ));
            }
        }
        let has_time = columns.iter().any(|column| matches!(column, Column::Time | Column::UnixTime));
        let remarks = names.iter().filter_map(|name| remark(name, has_time)).collect();
        Ok(Self { separator, order: columns, remarks })
    }
}

/// A column of a table of fixes that says where and when.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum FixColumn {
    /// Latitude.
    Latitude,
    /// Longitude.
    Longitude,
    /// Date and time; a time of day alone where there is a column of dates.
    Time,
    /// Accuracy in metres.
    Accuracy,
    /// The date of a time of day in another column.
    Date,
}

/// Returns what the column of a table of fixes holds, by its heading: the names that a track log may use.
///
/// # Edge cases
///
/// None for every other column, those of seconds since 1970 among them.
///
/// # Examples
///
/// ```
/// use takeline_formats::{FixColumn, fix_column};
/// assert_eq!(fix_column("Latitude"), Some(FixColumn::Latitude));
/// assert_eq!(fix_column("speed_kn"), None);
/// ```
#[must_use]
pub fn fix_column(heading: &str) -> Option<FixColumn> {
    match column(heading) {
        Column::Latitude => Some(FixColumn::Latitude),
        Column::Longitude => Some(FixColumn::Longitude),
        Column::Time => Some(FixColumn::Time),
        Column::Date => Some(FixColumn::Date),
        // a row of a table of fixes has one meaning of its accuracy, as the caller says
        Column::Accuracy(None) => Some(FixColumn::Accuracy),
        Column::Accuracy(Some(_))
        | Column::UnreadAccuracy
        | Column::UnixTime
        | Column::Hdop
        | Column::Speed(_)
        | Column::Ignored => None,
    }
}

/// Returns the sign between the columns of a table of fixes, by its header: a comma, a semicolon or a tab.
///
/// None if there are no columns of latitude and longitude, whatever separates them.
#[must_use]
pub fn fix_separator(header: &str) -> Option<u8> {
    separator_of(header)
}

/// Returns a date and a time of day as one text, as a track log joins them.
///
/// # Edge cases
///
/// None where the time brings its own date, and where the date is none: of the forms `2026-05-01`, `2026/05/01` and
/// `20260501`.
///
/// # Examples
///
/// ```
/// use takeline_formats::fix_date_and_time;
/// assert_eq!(fix_date_and_time("2026/05/01", "06:30:00Z").as_deref(), Some("2026-05-01T06:30:00Z"));
/// assert_eq!(fix_date_and_time("2026-05-01", "2026-05-02T06:30:00Z"), None);
/// ```
#[must_use]
pub fn fix_date_and_time(date: &str, time: &str) -> Option<String> {
    if instant::read(time.as_bytes()) != ReadTime::Unreadable {
        return None;
    }
    let date = instant::plain_date(date.as_bytes())?;
    Some(format!("{}T{}", std::str::from_utf8(&date).ok()?, time.trim()))
}

fn is_same(one: Column, other: Column) -> bool {
    match (one, other) {
        (Column::Ignored | Column::UnreadAccuracy, _) => false,
        (Column::Accuracy(_), Column::Accuracy(_))
        | (Column::Time | Column::UnixTime, Column::Time | Column::UnixTime)
        | (Column::Speed(_), Column::Speed(_)) => true,
        _ => one == other,
    }
}

fn plain(name: &str) -> String {
    let name = name.trim().trim_matches('"').trim();
    name.chars()
        .take(40)
        .filter(|c| !matches!(c, '(' | ')' | '[' | ']'))
        .map(|c| if matches!(c, ' ' | '-' | '/') { '_' } else { c.to_ascii_lowercase() })
        .collect()
}

fn column(name: &str) -> Column {
    match plain(name).as_str() {
        "lat" | "latitude" | "lat_deg" | "latitude_deg" => Column::Latitude,
        "lon" | "lng" | "long" | "longitude" | "lon_deg" | "longitude_deg" => Column::Longitude,
        "time" | "time_utc" | "utc" | "utc_time" | "timestamp" | "datetime" | "date_time" => Column::Time,
        "date" | "date_utc" | "utc_date" => Column::Date,
        "unix" | "unix_s" | "unix_time" | "time_unix" | "epoch_s" => Column::UnixTime,
        "horizontal_accuracy_m" | "horizontal_accuracy_meters" | "horizontal_accuracy_metres" => {
            Column::Accuracy(None)
        }
        "hdop" => Column::Hdop,
        "speed_m_per_s" | "speed_m_s" | "speed_mps" | "speed_ms" => Column::Speed(1.0),
        "speed_kn" | "speed_knots" | "speed_kt" | "speed_kts" => Column::Speed(KNOT_M_PER_S),
        "speed_kmh" | "speed_km_h" | "speed_km_per_h" | "speed_kph" => Column::Speed(KM_PER_H_M_PER_S),
        other => match accuracy(other) {
            Some(Meaning::Unstated) => Column::Accuracy(None),
            Some(Meaning::Stated(kind)) => Column::Accuracy(Some(kind)),
            None if looks_like_an_accuracy(other) => Column::UnreadAccuracy,
            None => Column::Ignored,
        },
    }
}

/// Words in the names of columns that hold how well a position is known (common practice, no source).
const WORDS_OF_ACCURACY: [&str; 18] = [
    "acc",
    "accuracy",
    "accuracym",
    "hacc",
    "haccuracy",
    "horacc",
    "epe",
    "ehpe",
    "eph",
    "hpe",
    "cep",
    "rms",
    "hrms",
    "drms",
    "2drms",
    "sigma",
    "uncertainty",
    "precision",
];
/// Words that make them tell of something else: heights, speeds, directions, times.
const WORDS_OF_OTHER_THINGS: [&str; 19] = [
    "v",
    "vert",
    "vertical",
    "alt",
    "altitude",
    "ele",
    "elevation",
    "height",
    "speed",
    "bearing",
    "course",
    "heading",
    "time",
    "clock",
    "kind",
    "type",
    "source",
    "x",
    "z",
];

/// Whether a plain name may be that of a horizontal accuracy that is read under no such name.
fn looks_like_an_accuracy(name: &str) -> bool {
    let words = || name.split(['_', '.']).map(|word| word.trim_end_matches(|c: char| c.is_ascii_digit()));
    let is_one = |word: &str| {
        WORDS_OF_ACCURACY.contains(&word) || word.starts_with("accuracy") || word.starts_with("horizontalacc")
    };
    words().any(is_one) && !words().any(|word| WORDS_OF_OTHER_THINGS.contains(&word))
}

/// Why a column was passed over that a person may think was read.
fn remark(name: &str, has_time: bool) -> Option<String> {
    match plain(name).as_str() {
        "speed" | "sog" | "velocity" => Some(format!(
            "the column \"{}\" does not say its unit and was not read; call it speed_m_per_s, speed_kn or speed_kmh",
            shown(name.as_bytes())
        )),
        "date" | "date_utc" | "utc_date" if has_time => None,
        "date" | "date_utc" | "utc_date" => Some(format!(
            "the column \"{}\" was not read; give the time of day in a column time beside it",
            shown(name.as_bytes())
        )),
        "local_time" | "time_local" => Some(format!(
            "the column \"{}\" was not read; give date and time with their zone in one column time",
            shown(name.as_bytes())
        )),
        _ => None,
    }
}
