//! What the columns of a table hold, by their headings: the one list for every table that is read.

use takeline::AccuracyKind;

use crate::accuracy_name::{Meaning, accuracy, looks_like_an_accuracy};

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
