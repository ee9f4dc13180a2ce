//! Writes positions as a receiver or a chart shows them.

use std::fmt;

use super::Position;
use super::error::Axis;
use crate::{Latitude, Metres};

/// More decimals than a double holds at 180°.
const MOST_PLACES: usize = 12;

impl Position {
    /// Writes decimal degrees with hemisphere letters, latitude first: `45.1175°N 030.1217°W`.
    ///
    /// Rounds to the nearest; `places` above 12 counts as 12. Whatever rounds to zero is written N or E.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Position;
    /// let landing = Position::from_degrees(45.1175, -30.12167)?;
    /// assert_eq!(landing.to_decimal_degrees(4), "45.1175°N 030.1217°W");
    /// # Ok::<(), takeline::InvalidCoordinate>(())
    /// ```
    #[must_use]
    pub fn to_decimal_degrees(self, places: usize) -> String {
        let places = places.min(MOST_PLACES);
        self.written(|degrees, axis| {
            let point = usize::from(places > 0);
            let width = whole_width(axis) + point + places;
            let text = format!("{:0width$.places$}", degrees.abs());
            let is_zero = text.bytes().all(|byte| matches!(byte, b'0' | b'.'));
            format!("{text}°{}", letter(degrees, axis, is_zero))
        })
    }

    /// Writes degrees and minutes to 0.001′ (1.9 m or less) with hemisphere letters: `45°07.050′N 030°07.300′W`.
    ///
    /// Minutes that round to 60 are carried: 44°59.9996′ is written `45°00.000′`.
    #[must_use]
    pub fn to_degrees_minutes(self) -> String {
        self.to_degrees_minutes_of(3)
    }

    /// Writes degrees and minutes as [`Position::to_degrees_minutes`], with so many decimals of a minute; 6 at most.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Position;
    /// let landing = Position::from_degrees(45.1175, -30.12167)?;
    /// assert_eq!(landing.to_degrees_minutes_of(5), "45°07.05000′N 030°07.30020′W");
    /// # Ok::<(), takeline::InvalidCoordinate>(())
    /// ```
    #[must_use]
    pub fn to_degrees_minutes_of(self, places: usize) -> String {
        let (places, step) = decimals(places);
        self.written(|degrees, axis| {
            let steps = rounded(degrees, 60.0 * f64::from(step));
            let (whole, minutes) = (steps / u64::from(60 * step), steps % u64::from(60 * step));
            let (whole_minutes, rest) = (minutes / u64::from(step), minutes % u64::from(step));
            let width = whole_width(axis);
            let letter = letter(degrees, axis, steps == 0);
            format!("{whole:0width$}°{whole_minutes:02}{}′{letter}", fraction(rest, places))
        })
    }

    /// Writes degrees, minutes and seconds to 0.1″ (3.1 m or less) with hemisphere letters:
    /// `45°07′03.0″N 030°07′18.0″W`.
    ///
    /// Seconds and minutes that round to 60 are carried.
    #[must_use]
    pub fn to_degrees_minutes_seconds(self) -> String {
        self.to_degrees_minutes_seconds_of(1)
    }

    /// Writes degrees, minutes and seconds as [`Position::to_degrees_minutes_seconds`], with so many decimals of a second; 6 at most.
    #[must_use]
    pub fn to_degrees_minutes_seconds_of(self, places: usize) -> String {
        let (places, step) = decimals(places);
        self.written(|degrees, axis| {
            let steps = rounded(degrees, 3600.0 * f64::from(step));
            let (whole, rest) = (steps / u64::from(3600 * step), steps % u64::from(3600 * step));
            let (minutes, rest) = (rest / u64::from(60 * step), rest % u64::from(60 * step));
            let (seconds, rest) = (rest / u64::from(step), rest % u64::from(step));
            let width = whole_width(axis);
            let letter = letter(degrees, axis, steps == 0);
            format!("{whole:0width$}°{minutes:02}′{seconds:02}{}″{letter}", fraction(rest, places))
        })
    }

    fn written(self, write: impl Fn(f64, Axis) -> String) -> String {
        let latitude = write(self.latitude().degrees(), Axis::Latitude);
        let longitude = write(self.longitude().degrees(), Axis::Longitude);
        format!("{latitude} {longitude}")
    }
}

impl fmt::Display for Position {
    /// Writes degrees and decimal minutes, as [`Position::to_degrees_minutes`].
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.to_degrees_minutes())
    }
}

const fn whole_width(axis: Axis) -> usize {
    match axis {
        Axis::Latitude => 2,
        Axis::Longitude => 3,
    }
}

fn letter(degrees: f64, axis: Axis, is_zero: bool) -> char {
    let [positive, negative] = axis.letters();
    if degrees < 0.0 && !is_zero { negative } else { positive }
}

/// The magnitude of an angle in whole units of one `per_degree`th of a degree.
#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "an angle is at most 180°, so the product is at most 648 000 000 000 and is not negative"
)]
fn rounded(degrees: f64, per_degree: f64) -> u64 {
    (degrees.abs() * per_degree).round() as u64
}

/// So many decimals as are written, and how many of the last one a whole has.
fn decimals(places: usize) -> (usize, u32) {
    const STEPS: [u32; 7] = [1, 10, 100, 1000, 10_000, 100_000, 1_000_000];
    let places = places.min(STEPS.len() - 1);
    (places, STEPS[places])
}

/// The decimals of a number, with the point before them.
fn fraction(rest: u64, places: usize) -> String {
    if places == 0 { String::new() } else { format!(".{rest:0places$}") }
}

/// How finely a position was printed: half of the last digit on each axis.
///
/// The printed number usually *is* the line, so this is a remark on the text, not a doubt about the boundary.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct PrintedPrecision {
    #[cfg_attr(feature = "serde", serde(rename = "latitude_deg"))]
    latitude: Latitude,
    latitude_half_digit_deg: f64,
    longitude_half_digit_deg: f64,
}

/// WGS 84 semi-major axis in metres (NGA.STND.0036, table 3.1).
const SEMI_MAJOR_M: f64 = 6_378_137.0;
/// WGS 84 first eccentricity squared, from the flattening 1/298.257223563 of the same table.
const ECCENTRICITY_SQUARED: f64 = 0.006_694_379_990_141_33;

impl PrintedPrecision {
    pub(super) const fn new(latitude: Latitude, latitude_deg: f64, longitude_deg: f64) -> Self {
        Self { latitude, latitude_half_digit_deg: latitude_deg, longitude_half_digit_deg: longitude_deg }
    }

    /// The same where both coordinates count as printed to the finer of the two: for writers that leave out zeros at the end.
    #[must_use]
    pub fn as_the_finer(self) -> Self {
        let finer_deg = self.latitude_half_digit_deg.min(self.longitude_half_digit_deg);
        Self::new(self.latitude, finer_deg, finer_deg)
    }

    /// Returns half of the last printed digit of the latitude, in degrees.
    #[must_use]
    pub const fn latitude_half_digit_deg(self) -> f64 {
        self.latitude_half_digit_deg
    }

    /// Returns half of the last printed digit of the longitude, in degrees.
    #[must_use]
    pub const fn longitude_half_digit_deg(self) -> f64 {
        self.longitude_half_digit_deg
    }

    /// Returns half of the last printed digit of the latitude as a length along the meridian.
    ///
    /// # Accuracy
    ///
    /// Arc by the meridional radius of curvature at the printed latitude: better than 1 % for half a degree or less.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Position;
    /// let printed = Position::parse("45°07'N 030°07'W")?;
    /// // half a minute of latitude, 926 m, and of longitude at 45°07′, 656 m
    /// assert_eq!(printed.precision.north_south().metres().round(), 926.0);
    /// assert_eq!(printed.precision.east_west().metres().round(), 656.0);
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    #[must_use]
    pub fn north_south(self) -> Metres {
        let w_squared = self.w_squared();
        let radius_m = SEMI_MAJOR_M * (1.0 - ECCENTRICITY_SQUARED) / (w_squared * w_squared.sqrt());
        Metres::computed(radius_m * self.latitude_half_digit_deg.to_radians())
    }

    /// Returns half of the last printed digit of the longitude as a length along the parallel.
    #[must_use]
    pub fn east_west(self) -> Metres {
        let radius_m = SEMI_MAJOR_M / self.w_squared().sqrt() * self.latitude.radians().cos();
        Metres::computed(radius_m * self.longitude_half_digit_deg.to_radians())
    }

    fn w_squared(self) -> f64 {
        1.0 - ECCENTRICITY_SQUARED * self.latitude.radians().sin().powi(2)
    }
}

/// Steps of the last digit in parts of a degree, widest first: degrees with 0 to 4 decimals, minutes with 0 to 2. Finer ones
/// are about a metre, which receivers do not know.
const STEPS_A_DEGREE: [f64; 8] = [1.0, 10.0, 60.0, 100.0, 600.0, 1_000.0, 6_000.0, 10_000.0];
/// So far from a step, in parts of one, a number may lie that was read from decimals.
const OFF_THE_STEP: f64 = 1e-6;

/// All but one position in so many show what the others were written with.
const MOST_OF: usize = 10;

/// Returns the widest step of a last digit, in degrees, on which the positions stand, but for one in ten; none where they have
/// digits enough.
///
/// # Edge cases
///
/// Some step for no position at all. One position stands on the step of its fourth decimal by chance once in a hundred times,
/// if its fifth is noise, and two once in ten thousand.
///
/// # Examples
///
/// ```
/// use takeline::{Position, widest_step_deg};
/// let coarse = [Position::from_degrees(45.117, -30.12)?, Position::from_degrees(45.118, -30.121)?];
/// assert_eq!(widest_step_deg(&coarse), Some(0.001));
/// assert_eq!(widest_step_deg(&[coarse[0], Position::from_degrees(45.118_123, -30.12)?]), None);
/// # Ok::<(), takeline::InvalidCoordinate>(())
/// ```
#[must_use]
pub fn widest_step_deg(positions: &[Position]) -> Option<f64> {
    let stands_on = |steps: f64| {
        let is_whole = |degrees: f64| (degrees * steps - (degrees * steps).round()).abs() < OFF_THE_STEP;
        let is_on =
            |one: &&Position| is_whole(one.latitude().degrees()) && is_whole(one.longitude().degrees());
        MOST_OF * (positions.len() - positions.iter().filter(is_on).count()) <= positions.len()
    };
    STEPS_A_DEGREE.into_iter().find(|steps| stands_on(*steps)).map(f64::recip)
}

impl PrintedPrecision {
    /// The precision of a position that stands on a step of so many degrees, as [`widest_step_deg`] tells it.
    #[must_use]
    pub fn on_step(position: Position, step_deg: f64) -> Self {
        Self::new(position.latitude(), step_deg / 2.0, step_deg / 2.0)
    }
}
