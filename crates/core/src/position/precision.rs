use crate::{Latitude, Metres};

/// How finely a position was printed: half of the last digit on each axis.
///
/// The printed number usually *is* the line, so this is a remark on the text, not a doubt about the boundary.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PrintedPrecision {
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
