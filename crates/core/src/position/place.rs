use crate::{InvalidCoordinate, Latitude, Longitude};

/// A place on the surface of the WGS 84 ellipsoid.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Position {
    #[cfg_attr(feature = "serde", serde(rename = "latitude_deg"))]
    latitude: Latitude,
    #[cfg_attr(feature = "serde", serde(rename = "longitude_deg"))]
    longitude: Longitude,
}

impl Position {
    /// Makes a position; the two types keep the order from being swapped.
    #[must_use]
    pub const fn new(latitude: Latitude, longitude: Longitude) -> Self {
        Self { latitude, longitude }
    }

    /// Makes a position from degrees, latitude first, longitude −180 to 360.
    ///
    /// # Errors
    ///
    /// [`InvalidCoordinate`] if either number is not finite or out of range.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Position;
    /// let sallow_cove = Position::from_degrees(45.1182, -30.1217)?;
    /// assert_eq!(sallow_cove.longitude().degrees(), -30.1217);
    /// assert!(Position::from_degrees(-123.0, 37.0).is_err());
    /// # Ok::<(), takeline::InvalidCoordinate>(())
    /// ```
    pub fn from_degrees(latitude_deg: f64, longitude_deg: f64) -> Result<Self, InvalidCoordinate> {
        Ok(Self::new(
            Latitude::from_degrees(latitude_deg)?,
            Longitude::from_degrees_either_way(longitude_deg)?,
        ))
    }

    /// Returns the latitude.
    #[must_use]
    pub const fn latitude(self) -> Latitude {
        self.latitude
    }

    /// Returns the longitude.
    #[must_use]
    pub const fn longitude(self) -> Longitude {
        self.longitude
    }
}
