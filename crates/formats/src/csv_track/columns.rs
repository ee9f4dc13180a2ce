use takeline::AccuracyKind;

use super::headings::{Beside, Column, column, columns, plain};
use super::place::unread_place;
use crate::instant::{self, ReadTime};
use crate::shown::shown;

/// More columns than any log has.
const MOST_COLUMNS: usize = 256;

/// The header of a table.
#[derive(Debug)]
pub(crate) struct Columns {
    pub(crate) separator: u8,
    pub(crate) order: Vec<Column>,
    /// What is there beside the degrees.
    pub(super) beside: BesideDegrees,
    /// Whether the last column is a coordinate.
    pub(super) is_place_last: bool,
    /// Whether times are seconds since 1970.
    pub(super) has_unix: bool,
    /// What the accuracy is, where its column says so.
    pub(super) accuracy_kind: Option<AccuracyKind>,
    /// Metres per second in the unit of the column of speeds.
    pub(super) speed_m_per_s: Option<f64>,
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
        let columns = columns(&names);
        if let Some(at) = columns.iter().position(|column| *column == Column::UnreadPlace) {
            return Err(unread_place(names[at]));
        }
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
        Ok(Self {
            separator,
            is_place_last: matches!(columns.last(), Some(Column::Latitude | Column::Longitude)),
            beside: BesideDegrees::of(&columns),
            has_unix: columns.contains(&Column::UnixTime),
            accuracy_kind: accuracy_kind(&columns),
            speed_m_per_s: speed_unit(&columns),
            order: columns,
            remarks,
        })
    }
}

/// What a table holds beside the degrees of its places.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum BesideDegrees {
    /// A time, or nothing.
    TimeAlone,
    /// Nothing that says anything of the place.
    NoMoreOfPlace,
    /// What may say something of the place.
    MoreOfPlace,
}

impl BesideDegrees {
    fn of(order: &[Column]) -> Self {
        let is_place_or_time = |column: &Column| {
            matches!(column, Column::Latitude | Column::Longitude | Column::Time | Column::UnixTime)
        };
        if order.iter().any(says_more_of_place) {
            Self::MoreOfPlace
        } else if order.iter().all(is_place_or_time) {
            Self::TimeAlone
        } else {
            Self::NoMoreOfPlace
        }
    }
}

fn says_more_of_place(column: &Column) -> bool {
    match column {
        Column::Beside(..)
        | Column::UnreadPlace
        | Column::Datum
        | Column::Unit
        | Column::Status(_)
        | Column::Unknown(_) => true,
        Column::Latitude
        | Column::Longitude
        | Column::Time
        | Column::Date
        | Column::UnixTime
        | Column::Offset
        | Column::Accuracy(_)
        | Column::UnreadAccuracy
        | Column::Hdop
        | Column::Speed(_)
        | Column::Ignored => false,
    }
}

/// What the accuracy is, where its column says so.
fn accuracy_kind(order: &[Column]) -> Option<AccuracyKind> {
    order.iter().find_map(|column| if let Column::Accuracy(kind) = column { *kind } else { None })
}

fn speed_unit(order: &[Column]) -> Option<f64> {
    order.iter().find_map(|column| if let Column::Speed(unit) = column { Some(*unit) } else { None })
}

/// A column of a table of fixes that says where and when.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum FixColumn {
    /// Latitude.
    Latitude,
    /// Longitude.
    Longitude,
    /// Date and time; a time of day alone where there is a column of dates.
    Time,
    /// Accuracy in metres, and what it means where the heading says so.
    Accuracy(Option<AccuracyKind>),
    /// What looks like an accuracy, and does not say plainly what it is.
    UnreadAccuracy,
    /// The date of a time of day in another column.
    Date,
}

/// Returns what the column of a table of fixes holds, by its heading: the names that a track log may use.
///
/// # Edge cases
///
/// None for every other column, those of seconds since 1970 among them. What else belongs to a place, such as minutes and
/// hemispheres in columns of their own, is read by [`PlaceColumns`](crate::PlaceColumns).
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
        Column::Accuracy(kind) => Some(FixColumn::Accuracy(kind)),
        Column::UnreadAccuracy => Some(FixColumn::UnreadAccuracy),
        Column::Beside(..)
        | Column::UnreadPlace
        | Column::Datum
        | Column::Unit
        | Column::Status(_)
        | Column::Offset
        | Column::UnixTime
        | Column::Hdop
        | Column::Speed(_)
        | Column::Ignored
        | Column::Unknown(_) => None,
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

/// How to mend a table with a column that looks like an accuracy and is not read.
#[must_use]
pub fn unread_accuracy_mend() -> &'static str {
    "a column looks like an accuracy and was not read; if it is one in metres, call it accuracy_m (or hacc_68, hacc_95, \
     hacc_rms), else take it out"
}

fn is_same(one: Column, other: Column) -> bool {
    match (one, other) {
        (
            Column::Ignored
            | Column::Unknown(_)
            | Column::UnreadAccuracy
            | Column::Status(_)
            | Column::Beside(_, Beside::Nameless),
            _,
        ) => false,
        (Column::Accuracy(_), Column::Accuracy(_))
        | (Column::Time | Column::UnixTime, Column::Time | Column::UnixTime)
        | (Column::Speed(_), Column::Speed(_)) => true,
        _ => one == other,
    }
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
