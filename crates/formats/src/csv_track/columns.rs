//! The columns of a table of fixes: what their headings mean, and what the first rows say of them.

use takeline::AccuracyKind;

use super::place::unread_place;
use crate::accuracy_name::{Meaning, accuracy, looks_like_an_accuracy};
use crate::instant::{self, ReadTime};
use crate::notes::shown;

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
            return Err(format!("the header \"{}\" has no lat and lon columns", shown(header.as_bytes())));
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
                    "the columns \"{}\" and \"{}\" hold the same thing",
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
    "a column looks like an accuracy but was not read; if it is one, in metres, call it accuracy_m (or hacc_68, hacc_95, hacc_rms); if not, take it out"
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

/// What a column holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Column {
    Latitude,
    Longitude,
    /// What else a coordinate is made of.
    Beside(Axis, Beside),
    /// Belongs to the place by its heading, and nobody knows how.
    UnreadPlace,
    /// The datum of the coordinates.
    Datum,
    /// The unit of the coordinates.
    Unit,
    /// Whether the receiver had a fix at all.
    Status(Status),
    /// Date and time; a time of day alone where there is a column of dates.
    Time,
    /// The date of a time of day in another column.
    Date,
    /// Seconds since 1970-01-01 UTC.
    UnixTime,
    /// How far the times are ahead of UTC.
    Offset,
    /// A radius in metres, and what it means; none: as the caller says.
    Accuracy(Option<AccuracyKind>),
    /// What looks like an accuracy, and does not say plainly what it is.
    UnreadAccuracy,
    Hdop,
    /// A speed, and what to multiply it with to get metres per second.
    Speed(f64),
    /// Of another thing, in which N, S, E and W say nothing of the place.
    Ignored,
    /// Anything else, and the coordinate that it stands right of, if it does.
    Unknown(Option<Axis>),
}

/// The two coordinates.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Axis {
    Latitude,
    Longitude,
}

/// What stands beside the degrees of a coordinate.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Beside {
    Minutes,
    Seconds,
    /// The hemisphere.
    Side,
    /// A column without a heading.
    Nameless,
}

/// How a column says that there was no fix.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Status {
    /// In words or by the letters of NMEA 0183.
    Words,
    /// The same, or 0 and no.
    YesOrNo,
    /// The same, or the codes of the sentence GGA for what is no measured fix.
    Gga,
    /// The same, or 0 and 1 where a plane fix is 2 and one in space 3.
    Dimensions,
}

/// Metres per second in one knot: 1852 m an hour (First International Extraordinary Hydrographic Conference, 1929).
pub(crate) const KNOT_M_PER_S: f64 = 1852.0 / 3600.0;
const KM_PER_H_M_PER_S: f64 = 1.0 / 3.6;

/// Words in the headings of columns whose values may be directions of something else (common practice, no source).
const WORDS_OF_DIRECTIONS: [&str; 14] = [
    "wind",
    "tide",
    "tidal",
    "current",
    "swell",
    "wave",
    "sea",
    "drift",
    "course",
    "cog",
    "heading",
    "bearing",
    "direction",
    "tack",
];

/// The columns of a header, in its order.
pub(crate) fn columns(headings: &[&str]) -> Vec<Column> {
    let mut columns: Vec<Column> = Vec::with_capacity(headings.len());
    for heading in headings {
        let found = column(heading);
        // a heading without a name of its own goes on with the coordinate on its left
        let before = columns.last().copied().and_then(axis_of);
        columns.push(match before {
            Some(axis) if found == Column::Unknown(None) => beside_without_axis(&plain(heading))
                .map_or(Column::Unknown(Some(axis)), |beside| Column::Beside(axis, beside)),
            _ => found,
        });
    }
    columns
}

/// The coordinate that a column belongs to, if it does.
fn axis_of(column: Column) -> Option<Axis> {
    if let Column::Beside(axis, _) = column {
        return Some(axis);
    }
    let coordinates = [(Column::Latitude, Axis::Latitude), (Column::Longitude, Axis::Longitude)];
    coordinates.into_iter().find(|(known, _)| *known == column).map(|(_, axis)| axis)
}

/// A heading as it is compared: in lower case, without brackets and quotation marks, its words set apart by `_`.
pub(crate) fn plain(heading: &str) -> String {
    let heading = heading.trim().trim_matches('"').trim();
    heading
        .chars()
        .take(40)
        .filter(|c| !matches!(c, '(' | ')' | '[' | ']'))
        .map(|c| if matches!(c, ' ' | '-' | '/') { '_' } else { c.to_ascii_lowercase() })
        .collect()
}

/// What a column holds by its heading alone.
pub(crate) fn column(heading: &str) -> Column {
    let plain = plain(heading);
    match plain.as_str() {
        "lat" | "latitude" | "lat_deg" | "latitude_deg" | "lat_degrees" | "latitude_degrees" => {
            Column::Latitude
        }
        "lon" | "lng" | "long" | "longitude" | "lon_deg" | "long_deg" | "longitude_deg" | "lon_degrees"
        | "longitude_degrees" => Column::Longitude,
        "time" | "time_utc" | "utc" | "utc_time" | "timestamp" | "datetime" | "date_time" => Column::Time,
        "date" | "date_utc" | "utc_date" => Column::Date,
        "unix" | "unix_s" | "unix_time" | "time_unix" | "epoch_s" => Column::UnixTime,
        "utc_offset" | "offset_utc" | "offset_from_utc" | "gmt_offset" | "tz_offset" | "timezone"
        | "time_zone" | "tz" | "timezone_offset" | "time_zone_offset" | "utcoffset" | "gmtoffset"
        | "tzoffset" => Column::Offset,
        "horizontal_accuracy_m" | "horizontal_accuracy_meters" | "horizontal_accuracy_metres" => {
            Column::Accuracy(None)
        }
        "hdop" => Column::Hdop,
        "speed_m_per_s" | "speed_m_s" | "speed_mps" | "speed_ms" => Column::Speed(1.0),
        "speed_kn" | "speed_knots" | "speed_kt" | "speed_kts" => Column::Speed(KNOT_M_PER_S),
        "speed_kmh" | "speed_km_h" | "speed_km_per_h" | "speed_kph" => Column::Speed(KM_PER_H_M_PER_S),
        "datum" | "geodetic_datum" | "map_datum" | "horizontal_datum" | "gps_datum" | "crs" | "srs"
        | "epsg" | "srid" | "coordinate_system" | "coord_system" => Column::Datum,
        "unit" | "units" | "coord_unit" | "coord_units" | "coordinate_unit" | "coordinate_units"
        | "position_unit" | "position_units" | "angle_unit" | "angle_units" => Column::Unit,
        "status" | "fix_status" | "gps_status" | "rmc_status" | "mode_indicator" | "faa_mode" => {
            Column::Status(Status::Words)
        }
        "fix" | "valid" | "validity" | "is_valid" | "gps_valid" | "fix_valid" | "has_fix" | "gps_fix"
        | "quality" => Column::Status(Status::YesOrNo),
        "fix_quality" | "gps_quality" | "quality_indicator" | "fix_indicator" => Column::Status(Status::Gga),
        "fix_type" | "fix_mode" => Column::Status(Status::Dimensions),
        other => by_parts(heading, other),
    }
}

fn by_parts(heading: &str, plain: &str) -> Column {
    if let Some(meaning) = accuracy(plain) {
        return Column::Accuracy(match meaning {
            Meaning::Unstated => None,
            Meaning::Stated(kind) => Some(kind),
        });
    }
    if looks_like_an_accuracy(heading) {
        return Column::UnreadAccuracy;
    }
    let words: Vec<&str> = plain.split(['_', '.']).collect();
    if let Some(beside) = beside(plain) {
        return beside;
    }
    let is_of_place = |word: &&str| matches!(*word, "lat" | "lon" | "lng" | "latlon" | "hemisphere" | "hemi");
    if words.iter().any(is_of_place) || plain.contains("latitude") || plain.contains("longitude") {
        return Column::UnreadPlace;
    }
    if words.iter().any(|word| WORDS_OF_DIRECTIONS.iter().any(|other| word.starts_with(other))) {
        return Column::Ignored;
    }
    Column::Unknown(None)
}

/// A part of a coordinate by a heading that names it: `lat_min`, `LonDir`, `N/S`.
fn beside(plain: &str) -> Option<Column> {
    const NAMES: [(&str, Axis); 6] = [
        ("latitude", Axis::Latitude),
        ("longitude", Axis::Longitude),
        ("lat", Axis::Latitude),
        ("long", Axis::Longitude),
        ("lon", Axis::Longitude),
        ("lng", Axis::Longitude),
    ];
    match plain.replace(['_', '.'], "").as_str() {
        "ns" | "nors" | "northsouth" | "northorsouth" | "nsindicator" | "nsind" | "nshemisphere" => {
            return Some(Column::Beside(Axis::Latitude, Beside::Side));
        }
        "ew" | "eorw" | "eastwest" | "eastorwest" | "ewindicator" | "ewind" | "ewhemisphere" => {
            return Some(Column::Beside(Axis::Longitude, Beside::Side));
        }
        _ => {}
    }
    let plain = plain.strip_prefix("gps").map_or(plain, |rest| rest.trim_start_matches('_'));
    let (rest, axis) = NAMES.iter().find_map(|(name, axis)| Some((plain.strip_prefix(name)?, *axis)))?;
    let rest = rest.replace(['_', '.'], "");
    let sides = match axis {
        Axis::Latitude => ["ns", "nors", "nsindicator"],
        Axis::Longitude => ["ew", "eorw", "ewindicator"],
    };
    let beside = match rest.as_str() {
        "min" | "mins" | "minute" | "minutes" => Beside::Minutes,
        "sec" | "secs" | "second" | "seconds" => Beside::Seconds,
        "dir" | "direction" | "hem" | "hemi" | "hemisphere" | "ref" | "side" | "sign" | "letter"
        | "indicator" => Beside::Side,
        other if sides.contains(&other) => Beside::Side,
        _ => return None,
    };
    Some(Column::Beside(axis, beside))
}

/// The same by a heading that names no coordinate, right of one that does.
fn beside_without_axis(plain: &str) -> Option<Beside> {
    match plain.replace(['_', '.'], "").as_str() {
        "min" | "mins" | "minute" | "minutes" => Some(Beside::Minutes),
        "sec" | "secs" | "second" | "seconds" => Some(Beside::Seconds),
        "" => Some(Beside::Nameless),
        _ => None,
    }
}
