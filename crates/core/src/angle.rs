//! Latitude, longitude, bearings and small angles: kinds of angle that cannot be swapped for one another.

use std::fmt;

/// A latitude or longitude that no point on the Earth has.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{kind} {value} {reason}")]
pub struct InvalidCoordinate {
    /// Which of the two was refused: `latitude` or `longitude`.
    pub kind: &'static str,
    /// The refused number, in degrees.
    pub value: f64,
    /// The reason, with the range that is allowed.
    pub reason: &'static str,
}

/// Geodetic latitude on WGS 84, in degrees, north positive, from −90 to 90.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Latitude(f64);

/// Longitude on WGS 84, in degrees, east positive, from −180 to 180.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Longitude(f64);

/// A direction clockwise from true north, in degrees, 0 ≤ b < 360.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct TrueBearing(f64);

/// A direction clockwise from magnetic north, in degrees, 0 ≤ b < 360.
///
/// There is no way to a [`TrueBearing`] but through the variation: see [`crate::magnetic::MagneticVariation`].
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MagneticBearing(f64);

/// A small angle, in minutes of arc. May be negative where a sign carries the side.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Arcminutes(f64);

impl Latitude {
    /// Makes a latitude from degrees, north positive.
    ///
    /// # Errors
    ///
    /// [`InvalidCoordinate`] if the number is not finite or lies outside −90 to 90.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Latitude;
    /// assert_eq!(Latitude::from_degrees(45.1167)?.degrees(), 45.1167);
    /// assert!(Latitude::from_degrees(123.0).is_err());
    /// # Ok::<(), takeline::InvalidCoordinate>(())
    /// ```
    pub fn from_degrees(degrees: f64) -> Result<Self, InvalidCoordinate> {
        let refuse = |reason| Err(InvalidCoordinate { kind: "latitude", value: degrees, reason });
        if !degrees.is_finite() {
            return refuse("is not a finite number");
        }
        if degrees.abs() <= 90.0 {
            return Ok(Self(degrees));
        }
        if degrees.abs() <= 180.0 {
            return refuse("is outside -90 to 90; latitude and longitude may be swapped");
        }
        refuse("is outside -90 to 90")
    }

    /// For numbers that our own arithmetic produced and that lie within ±90 by construction.
    pub(crate) const fn computed(degrees: f64) -> Self {
        Self(degrees)
    }

    /// Returns the latitude in degrees, north positive.
    #[must_use]
    pub fn degrees(self) -> f64 {
        self.0
    }

    /// Returns the latitude in radians, north positive.
    #[must_use]
    pub fn radians(self) -> f64 {
        self.0.to_radians()
    }
}

impl Longitude {
    /// Makes a longitude from degrees, east positive.
    ///
    /// # Errors
    ///
    /// [`InvalidCoordinate`] if the number is not finite or lies outside −180 to 180.
    pub fn from_degrees(degrees: f64) -> Result<Self, InvalidCoordinate> {
        let refuse = |reason| Err(InvalidCoordinate { kind: "longitude", value: degrees, reason });
        if !degrees.is_finite() {
            return refuse("is not a finite number");
        }
        if degrees.abs() > 180.0 {
            return refuse("is outside -180 to 180");
        }
        Ok(Self(degrees))
    }

    /// Makes a longitude from degrees counted either way round: −180 to 180 or 0 to 360.
    ///
    /// # Errors
    ///
    /// [`InvalidCoordinate`] if the number is not finite or lies outside −180 to 360.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Longitude;
    /// assert_eq!(Longitude::from_degrees_either_way(182.5)?.degrees(), -177.5);
    /// # Ok::<(), takeline::InvalidCoordinate>(())
    /// ```
    pub fn from_degrees_either_way(degrees: f64) -> Result<Self, InvalidCoordinate> {
        let refuse = |reason| Err(InvalidCoordinate { kind: "longitude", value: degrees, reason });
        if !degrees.is_finite() {
            return refuse("is not a finite number");
        }
        if !(-180.0..=360.0).contains(&degrees) {
            return refuse("is outside -180 to 360");
        }
        Ok(Self::wrapping(degrees))
    }

    /// Makes a longitude from any finite number of degrees by taking off whole turns.
    ///
    /// A number that is not finite becomes 0: use [`Longitude::from_degrees`] where input is untrusted.
    ///
    /// # Examples
    ///
    /// ```
    /// assert_eq!(takeline::Longitude::wrapping(190.0).degrees(), -170.0);
    /// ```
    #[must_use]
    pub fn wrapping(degrees: f64) -> Self {
        if degrees.abs() <= 180.0 {
            return Self(degrees);
        }
        if !degrees.is_finite() {
            return Self(0.0);
        }
        Self(wrap_degrees(degrees))
    }

    /// Returns the longitude in degrees, east positive.
    #[must_use]
    pub fn degrees(self) -> f64 {
        self.0
    }

    /// Returns the longitude in radians, east positive.
    #[must_use]
    pub fn radians(self) -> f64 {
        self.0.to_radians()
    }
}

impl TrueBearing {
    /// Makes a bearing from any finite number of degrees, turned into 0 ≤ b < 360.
    ///
    /// # Errors
    ///
    /// [`InvalidCoordinate`] if the number is not finite.
    pub fn from_degrees(degrees: f64) -> Result<Self, InvalidCoordinate> {
        if degrees.is_finite() {
            return Ok(Self::wrapping(degrees));
        }
        Err(InvalidCoordinate { kind: "bearing", value: degrees, reason: "is not a finite number" })
    }

    pub(crate) fn wrapping(degrees: f64) -> Self {
        let signed = wrap_degrees(degrees);
        let turned = if signed < 0.0 { signed + 360.0 } else { signed };
        Self(if turned >= 360.0 { 0.0 } else { turned })
    }

    /// Returns the bearing in degrees, 0 ≤ b < 360.
    #[must_use]
    pub fn degrees(self) -> f64 {
        self.0
    }

    /// Returns the opposite direction.
    #[must_use]
    pub fn reversed(self) -> Self {
        Self::wrapping(self.0 + 180.0)
    }
}

impl MagneticBearing {
    /// Makes a bearing from any finite number of degrees, turned into 0 ≤ b < 360.
    ///
    /// # Errors
    ///
    /// [`InvalidCoordinate`] if the number is not finite.
    pub fn from_degrees(degrees: f64) -> Result<Self, InvalidCoordinate> {
        TrueBearing::from_degrees(degrees).map(|turned| Self(turned.0))
    }

    pub(crate) fn wrapping(degrees: f64) -> Self {
        Self(TrueBearing::wrapping(degrees).0)
    }

    /// Returns the bearing in degrees, 0 ≤ b < 360.
    #[must_use]
    pub fn degrees(self) -> f64 {
        self.0
    }
}

impl fmt::Display for MagneticBearing {
    /// Writes three digits and the word magnetic: `058° magnetic`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let whole = self.0.round();
        write!(f, "{:03}° magnetic", if whole >= 360.0 { 0.0 } else { whole })
    }
}

impl Arcminutes {
    /// Makes a small angle from minutes of arc.
    ///
    /// # Errors
    ///
    /// [`InvalidCoordinate`] if the number is not finite.
    pub fn new(arcmin: f64) -> Result<Self, InvalidCoordinate> {
        if arcmin.is_finite() {
            return Ok(Self(arcmin));
        }
        Err(InvalidCoordinate { kind: "angle", value: arcmin, reason: "is not a finite number" })
    }

    /// For numbers that our own arithmetic produced and that are finite by construction.
    pub(crate) const fn computed(arcmin: f64) -> Self {
        Self(arcmin)
    }

    /// Returns the angle in minutes of arc.
    #[must_use]
    pub const fn arcmin(self) -> f64 {
        self.0
    }

    /// Returns the angle in radians.
    #[must_use]
    pub fn radians(self) -> f64 {
        (self.0 / 60.0).to_radians()
    }
}

impl fmt::Display for TrueBearing {
    /// Writes three digits and the word true: `047° true`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let whole = self.0.round();
        write!(f, "{:03}° true", if whole >= 360.0 { 0.0 } else { whole })
    }
}

/// Takes whole turns off an angle in degrees: the result lies in −180 ≤ a < 180.
pub(crate) fn wrap_degrees(degrees: f64) -> f64 {
    let turned = degrees % 360.0;
    if turned >= 180.0 {
        turned - 360.0
    } else if turned < -180.0 {
        turned + 360.0
    } else {
        turned
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn latitude_beyond_the_pole_says_that_the_two_may_be_swapped() {
        let error = Latitude::from_degrees(-123.0).unwrap_err();
        assert_eq!(
            error.to_string(),
            "latitude -123 is outside -90 to 90; latitude and longitude may be swapped"
        );
    }

    #[test]
    fn not_a_number_is_refused_everywhere() {
        for bad in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY] {
            assert!(Latitude::from_degrees(bad).is_err());
            assert!(Longitude::from_degrees(bad).is_err());
            assert!(Longitude::from_degrees_either_way(bad).is_err());
            assert!(TrueBearing::from_degrees(bad).is_err());
        }
    }

    #[test]
    fn bearings_stay_below_360_even_from_tiny_negatives() {
        assert!(TrueBearing::wrapping(-1e-18).degrees() < 360.0);
        assert_eq!(TrueBearing::wrapping(359.9).to_string(), "000° true");
    }
}
