//! Writes positions as a receiver or a chart shows them.

use std::fmt;

use super::Position;
use super::error::Axis;

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
        self.written(|degrees, axis| {
            let thousandths = rounded(degrees, 60_000.0);
            let (whole, minutes) = (thousandths / 60_000, thousandths % 60_000);
            let width = whole_width(axis);
            let letter = letter(degrees, axis, thousandths == 0);
            format!("{whole:0width$}°{:02}.{:03}′{letter}", minutes / 1000, minutes % 1000)
        })
    }

    /// Writes degrees, minutes and seconds to 0.1″ (3.1 m or less) with hemisphere letters:
    /// `45°07′03.0″N 030°07′18.0″W`.
    ///
    /// Seconds and minutes that round to 60 are carried.
    #[must_use]
    pub fn to_degrees_minutes_seconds(self) -> String {
        self.written(|degrees, axis| {
            let tenths = rounded(degrees, 36_000.0);
            let (whole, rest) = (tenths / 36_000, tenths % 36_000);
            let (minutes, seconds) = (rest / 600, rest % 600);
            let width = whole_width(axis);
            let letter = letter(degrees, axis, tenths == 0);
            format!("{whole:0width$}°{minutes:02}′{:02}.{}″{letter}", seconds / 10, seconds % 10)
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
    reason = "an angle is at most 180°, so the product is at most 10 800 000 and is not negative"
)]
fn rounded(degrees: f64, per_degree: f64) -> u32 {
    (degrees.abs() * per_degree).round() as u32
}
