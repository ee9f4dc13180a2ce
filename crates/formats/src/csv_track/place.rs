//! A place of several columns: minutes, seconds and hemispheres beside the degrees, and what says that it is none.

use std::borrow::Cow;

use takeline::Position;
use takeline::zone::Datum;

use super::columns::{Axis, Beside, Column, Status, columns};
use crate::notes::shown;

/// Names of units of an angle in which coordinates are not read; a unit of anything else is none of theirs.
const OTHER_ANGLES: [&str; 22] = [
    "rad", "rads", "radian", "radians", "gon", "gons", "grad", "grads", "gradian", "gradians", "mil", "mils",
    "min", "mins", "minute", "minutes", "arcmin", "sec", "second", "seconds", "arcsec", "e7",
];
/// Words for "no fix".
const VOID: [&str; 8] = ["v", "void", "invalid", "no fix", "nofix", "no_fix", "not valid", "n"];

/// What the fields of a row say of its place.
#[derive(Debug, Default)]
pub(crate) struct Parts<'a> {
    lat: Coordinate<'a>,
    lon: Coordinate<'a>,
    datum: &'a [u8],
    unit: &'a [u8],
    status: Option<(Status, &'a [u8])>,
    /// Lone letters N, S, E and W in columns of other names: those right of the coordinate that they may belong to, and others.
    letters: [Letters; 2],
}

/// A lone N or S, and a lone E or W.
type Letters = [Option<u8>; 2];

#[derive(Debug, Default)]
struct Coordinate<'a> {
    degrees: &'a [u8],
    minutes: Option<&'a [u8]>,
    seconds: Option<&'a [u8]>,
    side: Option<&'a [u8]>,
    nameless: &'a [u8],
}

/// Why a row tells no usable place.
#[derive(Debug)]
pub(crate) struct NoPlace {
    /// Whether the row itself says that there was no fix.
    pub(crate) is_void: bool,
    pub(crate) reason: String,
}

impl NoPlace {
    fn because(reason: String) -> Self {
        Self { is_void: false, reason }
    }
}

impl<'a> Parts<'a> {
    pub(crate) fn put(&mut self, column: Column, field: &'a [u8]) {
        match column {
            Column::Latitude => self.lat.degrees = field,
            Column::Longitude => self.lon.degrees = field,
            Column::Beside(axis, beside) => {
                let coordinate = if axis == Axis::Latitude { &mut self.lat } else { &mut self.lon };
                match beside {
                    Beside::Minutes => coordinate.minutes = Some(field),
                    Beside::Seconds => coordinate.seconds = Some(field),
                    Beside::Side => coordinate.side = Some(field),
                    // of several without a heading one that is no letter refuses the row
                    Beside::Nameless
                        if side_of(coordinate.nameless).is_some() || is_empty(coordinate.nameless) =>
                    {
                        coordinate.nameless = field;
                    }
                    Beside::Nameless => {}
                }
            }
            Column::Datum => self.datum = field,
            Column::Unit => self.unit = field,
            Column::Status(kind) if !self.status.is_some_and(|(kind, field)| is_void(kind, field)) => {
                self.status = Some((kind, field));
            }
            Column::Unknown(right_of) => self.put_letter(field, right_of),
            Column::UnreadPlace
            | Column::Status(_)
            | Column::Time
            | Column::Date
            | Column::UnixTime
            | Column::Offset
            | Column::Accuracy(_)
            | Column::UnreadAccuracy
            | Column::Hdop
            | Column::Speed(_)
            | Column::Ignored => {}
        }
    }

    fn put_letter(&mut self, field: &[u8], right_of: Option<Axis>) {
        let [letter] = field.trim_ascii() else { return };
        let (axis, number) = match letter.to_ascii_uppercase() {
            b'N' | b'S' => (Axis::Latitude, 0),
            b'E' | b'W' => (Axis::Longitude, 1),
            _ => return,
        };
        self.letters[usize::from(right_of != Some(axis))][number] = Some(letter.to_ascii_uppercase());
    }

    /// Whether there is nothing but degrees, so that plain decimals are the place.
    pub(crate) fn is_plain(&self) -> bool {
        let is_alone = |one: &Coordinate<'_>| {
            one.minutes.is_none() && one.seconds.is_none() && one.side.is_none() && is_empty(one.nameless)
        };
        is_alone(&self.lat) && is_alone(&self.lon)
    }

    /// Refuses a row that says itself that its numbers are no place on WGS 84.
    pub(crate) fn check(&self) -> Result<(), NoPlace> {
        if let Some((_, field)) = self.status.filter(|(kind, field)| is_void(*kind, field)) {
            let reason = format!("its status \"{}\" says the receiver had no fix", shown(field));
            return Err(NoPlace { is_void: true, reason });
        }
        if self.datum.is_empty() && self.unit.is_empty() {
            return Ok(());
        }
        let datum = String::from_utf8_lossy(self.datum);
        let is_code = matches!(datum.trim(), "4326" | "4979");
        if !datum.trim().is_empty() && !is_code && !Datum::is_wgs_84(&datum) {
            return Err(NoPlace::because(format!(
                "the datum \"{}\" is not supported: the coordinates may be hundreds of metres off; convert them to WGS 84",
                shown(self.datum)
            )));
        }
        let unit = String::from_utf8_lossy(self.unit).trim().to_lowercase();
        if OTHER_ANGLES.contains(&unit.as_str()) {
            return Err(NoPlace::because(format!(
                "the unit \"{}\" is not supported; write the coordinates in degrees, or rename the column if it is the unit of something else",
                shown(self.unit)
            )));
        }
        Ok(())
    }

    /// Latitude and longitude, each as one text.
    pub(crate) fn joined(&self) -> Result<(Cow<'a, str>, Cow<'a, str>), NoPlace> {
        Ok((self.lat.joined("lat", "NS")?, self.lon.joined("lon", "EW")?))
    }

    /// Refuses a place that a lone letter in another column contradicts: right of its coordinate, or anywhere where neither
    /// coordinate is written with a minus, for who writes one has no need of letters.
    pub(crate) fn check_letters(&self, position: Position) -> Result<(), NoPlace> {
        if self.letters == [[None; 2]; 2] {
            return Ok(());
        }
        let (lat_deg, lon_deg) = (position.latitude().degrees(), position.longitude().degrees());
        let is_against = |letter: &u8| match letter {
            b'N' => lat_deg < 0.0,
            b'S' => lat_deg > 0.0,
            b'E' => lon_deg < 0.0,
            _ => lon_deg > 0.0,
        };
        let [beside, elsewhere] = self.letters;
        let has_minus = lat_deg < 0.0 || lon_deg < 0.0;
        let elsewhere = elsewhere.into_iter().filter(|_| !has_minus);
        let Some(letter) = beside.into_iter().chain(elsewhere).flatten().find(is_against) else {
            return Ok(());
        };
        Err(NoPlace::because(format!(
            "a column that was not read holds {}, which contradicts the sign of the coordinate; if it is a hemisphere, call the column {}; if not, give it a heading that says what it is, such as wind",
            char::from(letter),
            if matches!(letter, b'N' | b'S') { "lat_dir" } else { "lon_dir" }
        )))
    }
}

impl<'a> Coordinate<'a> {
    fn joined(&self, name: &str, sides: &str) -> Result<Cow<'a, str>, NoPlace> {
        let degrees = text(self.degrees)?;
        if is_empty(self.degrees) {
            return Ok(Cow::Borrowed(degrees));
        }
        let mut joined = Cow::Borrowed(degrees);
        let is_whole = |part: &str| !part.contains(['.', ',']);
        let mut may_go_on = is_whole(degrees);
        for (part, what) in [(self.minutes, "minutes"), (self.seconds, "seconds")] {
            let Some(field) = part else { continue };
            let part = text(field)?;
            if part.is_empty() && may_go_on {
                return Err(NoPlace::because(format!("the {what} of {name} are missing")));
            }
            if part.is_empty() {
                continue;
            }
            // a sign of its own would be lost among the signs between numbers
            if !part.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b',')) {
                return Err(NoPlace::because(format!(
                    "the {what} of {name}, \"{}\", are not a number",
                    shown(field)
                )));
            }
            may_go_on = is_whole(part);
            joined = Cow::Owned(format!("{joined} {part}"));
        }
        self.with_side(joined, (name, sides))
    }

    fn with_side(&self, joined: Cow<'a, str>, (name, sides): (&str, &str)) -> Result<Cow<'a, str>, NoPlace> {
        let field = match self.side {
            Some(field) => field,
            None if is_empty(self.nameless) => return Ok(joined),
            None => self.nameless,
        };
        let Some(side) = side_of(field).filter(|side| sides.contains(*side)) else {
            return Err(NoPlace::because(format!(
                "\"{}\" beside {name} is not a hemisphere; write {} or {}",
                shown(field),
                &sides[..1],
                &sides[1..]
            )));
        };
        let is_negative = joined.trim_start().starts_with(['-', '−']);
        match (is_negative, side) {
            // both say the same
            (true, 'S' | 'W') => Ok(joined),
            (true, _) => Err(NoPlace::because(format!(
                "{name} \"{joined}\" has a sign, and the hemisphere {side} beside it"
            ))),
            (false, _) => Ok(Cow::Owned(format!("{joined} {side}"))),
        }
    }
}

fn text(field: &[u8]) -> Result<&str, NoPlace> {
    let text = std::str::from_utf8(field)
        .map_err(|_| NoPlace::because("the position is not UTF-8 text; save the file as UTF-8".to_owned()))?;
    Ok(text.trim())
}

fn is_empty(field: &[u8]) -> bool {
    field.trim_ascii().is_empty()
}

fn side_of(field: &[u8]) -> Option<char> {
    let is = |word: &str| field.trim_ascii().eq_ignore_ascii_case(word.as_bytes());
    [("n", "north", 'N'), ("s", "south", 'S'), ("e", "east", 'E'), ("w", "west", 'W')]
        .into_iter()
        .find_map(|(letter, word, side)| (is(letter) || is(word)).then_some(side))
}

fn is_void(kind: Status, field: &[u8]) -> bool {
    let value = String::from_utf8_lossy(field).trim().to_lowercase();
    let codes: &[&str] = match kind {
        Status::Words => &[],
        Status::YesOrNo => &["0", "false", "no", "none"],
        // reckoned, typed in and simulated positions are no measured ones (NMEA 0183, GGA)
        Status::Gga => &["0", "6", "7", "8", "none"],
        Status::Dimensions => &["0", "1", "none"],
    };
    VOID.contains(&value.as_str()) || codes.contains(&value.as_str())
}

/// Why a table with a column that belongs to the place and is not understood is refused.
pub(super) fn unread_place(heading: &str) -> String {
    format!(
        "the column \"{}\" seems to be part of the position, but cannot be read: call columns of minutes, seconds and hemispheres lat_min, lat_sec, lat_dir, lon_min, lon_sec and lon_dir; take the column out if it is something else",
        shown(heading.as_bytes())
    )
}

/// The columns of a table that together tell a place, for readers of tables of their own.
///
/// # Examples
///
/// ```
/// use takeline_formats::PlaceColumns;
/// let columns = PlaceColumns::of(["lat", "N/S", "lon_deg", "lon_min", "E/W"])?;
/// let row = ["45.1175", "N", "30", "7.302", "W"];
/// assert_eq!(columns.texts(row)?, ("45.1175 N".to_owned(), "30 7.302 W".to_owned()));
/// assert!(columns.texts(["45.1175", "", "30", "7.302", "W"]).is_err_and(|why| why.contains("not a hemisphere")));
/// # Ok::<(), String>(())
/// ```
#[derive(Debug, Clone)]
pub struct PlaceColumns {
    order: Vec<Column>,
}

impl PlaceColumns {
    /// Reads the headings, in their order.
    ///
    /// # Errors
    ///
    /// In words, if one of them belongs to the place and cannot be read.
    pub fn of<'a>(headings: impl IntoIterator<Item = &'a str>) -> Result<Self, String> {
        let headings: Vec<&str> = headings.into_iter().collect();
        let order = columns(&headings);
        match order.iter().position(|column| *column == Column::UnreadPlace) {
            Some(at) => Err(unread_place(headings[at])),
            None => Ok(Self { order }),
        }
    }

    /// Returns whether the last column is a coordinate.
    #[must_use]
    pub fn is_coordinate_last(&self) -> bool {
        matches!(self.order.last(), Some(Column::Latitude | Column::Longitude))
    }

    /// Returns whether the column belongs to the place, counted from 0.
    #[must_use]
    pub fn is_of_place(&self, column: usize) -> bool {
        use Column::{Beside, Datum, Latitude, Longitude, Status, Unit};
        let found = self.order.get(column);
        matches!(found, Some(Latitude | Longitude | Beside(..) | Datum | Unit | Status(_)))
    }

    /// Returns latitude and longitude of a row, each as one text; empty where the row has none.
    ///
    /// # Errors
    ///
    /// In words, if the fields make no place: minutes or a hemisphere that are missing or none, a datum other than WGS 84, a
    /// unit other than degrees, a status that says that there was no fix.
    pub fn texts<'a>(&self, row: impl IntoIterator<Item = &'a str>) -> Result<(String, String), String> {
        let parts = self.parts(row);
        let joined = parts.check().and_then(|()| parts.joined());
        joined.map(|(lat, lon)| (lat.into_owned(), lon.into_owned())).map_err(|no| no.reason)
    }

    /// Refuses the place of a row that a lone N, S, E or W in a column of another name contradicts.
    ///
    /// # Errors
    ///
    /// In words, with how to mend the table.
    pub fn check<'a>(
        &self,
        row: impl IntoIterator<Item = &'a str>,
        position: Position,
    ) -> Result<(), String> {
        self.parts(row).check_letters(position).map_err(|no| no.reason)
    }

    fn parts<'a>(&self, row: impl IntoIterator<Item = &'a str>) -> Parts<'a> {
        let mut parts = Parts::default();
        for (column, field) in self.order.iter().zip(row) {
            parts.put(*column, field.as_bytes());
        }
        parts
    }
}
