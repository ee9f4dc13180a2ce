//! Reads positions and single coordinates from text.

use std::str::FromStr;

use super::error::{Axis, ParsePositionError, ParsePositionErrorKind as Kind, PositionWarning};
use super::pair::{judge, read_position};
use super::refusal::Refusal;
use super::single::{coordinate, latitude_of, longitude_of, measured, one};
use super::{place::Position, precision::PrintedPrecision};
use crate::{Latitude, Longitude};

/// A position read from text.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ParsedPosition {
    /// The position, as printed: the datum of the text is not known here and nothing was shifted.
    pub position: Position,
    /// What was read with a doubt; empty in the ordinary case.
    pub warnings: Vec<PositionWarning>,
    /// Half of the last printed digit on each axis.
    pub precision: PrintedPrecision,
}

/// A latitude read from text.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ParsedLatitude {
    /// The latitude.
    pub latitude: Latitude,
    /// What was read with a doubt; empty in the ordinary case.
    pub warnings: Vec<PositionWarning>,
    /// Half of the last printed digit, in degrees of latitude.
    pub half_digit_deg: f64,
}

/// A longitude read from text.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ParsedLongitude {
    /// The longitude.
    pub longitude: Longitude,
    /// What was read with a doubt; empty in the ordinary case.
    pub warnings: Vec<PositionWarning>,
    /// Half of the last printed digit, in degrees of longitude.
    pub half_digit_deg: f64,
}

impl Position {
    /// Reads a latitude and a longitude from one text.
    ///
    /// Three forms are read, mixed or not: decimal degrees (`45.1175`), degrees and decimal minutes (`45°07.05′`),
    /// and degrees, minutes and seconds (`45°07′03″`). Marks tell the last two apart: `32°51.30′` is 51.30 minutes,
    /// `32°51′30″` is 51 minutes 30 seconds, 370 m away. Without marks the point decides: `32 51.30` is degrees and
    /// minutes, `32 51 30` has seconds. A corrupted degree sign (`ø`, `<>`, and `?` before marked minutes) is read.
    ///
    /// Hemispheres are letters or words before or after their coordinate, in which case either coordinate may come
    /// first, or signs. Without either, only decimal degrees are read, latitude first; minutes without a hemisphere
    /// are refused, because many texts leave out the W. Commas, semicolons, slashes or blanks separate; a comma is
    /// read as a decimal comma where it cannot be a separator.
    ///
    /// # Edge cases
    ///
    /// A longitude without a letter may run to 360 (`182.5` is 177.5° W); with a letter, to 180. `-0 30 00` is south
    /// or west. A text of more than 200 characters is refused. A swap of two numbers that are both latitudes, such
    /// as 40 and 30, cannot be seen here.
    ///
    /// # Errors
    ///
    /// [`ParsePositionError`] names the piece, the reason, and the readings the text may have had.
    /// Nothing is guessed: a text with two readings is refused.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Position;
    /// let landing = Position::parse("45°07.05'N 030°07.30'W")?;
    /// assert_eq!(landing.position.to_string(), "45°07.050′N 030°07.300′W");
    /// assert!(landing.warnings.is_empty());
    /// assert_eq!(Position::parse("45 07 03 N, 30 07 18 W")?.position, landing.position);
    ///
    /// let error = Position::parse("45°07.05'N 030°07.30'").unwrap_err();
    /// assert_eq!(error.readings(), ["45°07.05′N, 030°07.30′E", "45°07.05′N, 030°07.30′W"]);
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    pub fn parse(text: &str) -> Result<ParsedPosition, ParsePositionError> {
        measured(text).and_then(|()| read_position(text)).map_err(|refusal| refusal.into_error(text))
    }

    /// Reads a latitude and a longitude from two texts, as two arguments of a command give them.
    ///
    /// Prefer this to [`Latitude::parse`] and [`Longitude::parse`] where both texts are at hand: a hemisphere that
    /// only one of the two has is judged, and the hint that the two may be swapped can be given.
    ///
    /// # Errors
    ///
    /// As [`Position::parse`]; also if the first text is a longitude.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Position;
    /// let landing = Position::parse_pair("45 07.05", "-30 07.30")?;
    /// assert_eq!(landing.position.to_string(), "45°07.050′N 030°07.300′W");
    /// assert!(Position::parse_pair("30.12 W", "45.11 N").is_err());
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    pub fn parse_pair(latitude: &str, longitude: &str) -> Result<ParsedPosition, ParsePositionError> {
        let shapes = coordinate(latitude).and_then(|first| Ok((first, coordinate(longitude)?)));
        let (first, second) = shapes.map_err(|refusal| refusal.into_error(""))?;
        if first.axis() == Some(Axis::Longitude) {
            let kind = Kind::WrongHemisphere { piece: first.piece.clone(), axis: Axis::Latitude };
            return Err(Refusal::of_pair(kind, first, second).into_error(""));
        }
        judge(first, second).map(|read| read.parsed).map_err(|refusal| refusal.into_error(""))
    }
}

impl Latitude {
    /// Reads one latitude, in any form that [`Position::parse`] reads.
    ///
    /// # Errors
    ///
    /// [`ParsePositionError`]; in particular degrees and minutes with neither a letter nor a sign are refused.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Latitude;
    /// assert_eq!(Latitude::parse("45°07'30\"S")?.latitude.degrees(), -45.125);
    /// assert!(Latitude::parse("30.12 W").is_err());
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    pub fn parse(text: &str) -> Result<ParsedLatitude, ParsePositionError> {
        let (latitude, angle) = one(text, Axis::Latitude, latitude_of)?;
        Ok(ParsedLatitude {
            latitude,
            warnings: angle.warning.into_iter().collect(),
            half_digit_deg: angle.half_digit_deg,
        })
    }
}

impl Longitude {
    /// Reads one longitude, in any form that [`Position::parse`] reads.
    ///
    /// # Errors
    ///
    /// [`ParsePositionError`]; in particular degrees and minutes with neither a letter nor a sign are refused.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Longitude;
    /// assert_eq!(Longitude::parse("-0 30 00")?.longitude.degrees(), -0.5);
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    pub fn parse(text: &str) -> Result<ParsedLongitude, ParsePositionError> {
        let (longitude, angle) = one(text, Axis::Longitude, longitude_of)?;
        Ok(ParsedLongitude {
            longitude,
            warnings: angle.warning.into_iter().collect(),
            half_digit_deg: angle.half_digit_deg,
        })
    }
}

impl FromStr for Position {
    type Err = ParsePositionError;

    /// Reads a position where no doubt is taken: a text that [`Position::parse`] reads with a warning is an error
    /// that offers the position to type instead.
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let parsed = Self::parse(text)?;
        match parsed.warnings.into_iter().next() {
            None => Ok(parsed.position),
            Some(warning) => Err(ParsePositionError::new(
                Kind::ReadWithDoubt { warning },
                vec![parsed.position.to_decimal_degrees(6)],
            )),
        }
    }
}
