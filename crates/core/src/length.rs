//! Lengths: metres, and nautical miles where a regulation prints them.

use std::fmt;

/// A length in metres. May be negative where a sign carries the side.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Metres(f64);

/// A length in nautical miles; one is 1852 m exactly (First International Extraordinary Hydrographic Conference, 1929).
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct NauticalMiles(f64);

/// A length that is not a finite number, or is negative where none may be.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{value} m {reason}")]
pub struct InvalidLength {
    /// The refused number, in metres.
    pub value: f64,
    /// Why it was refused.
    pub reason: &'static str,
}

impl Metres {
    /// No length at all.
    pub const ZERO: Self = Self(0.0);

    /// Makes a length; the sign is kept.
    ///
    /// # Errors
    ///
    /// [`InvalidLength`] if the number is not finite.
    pub fn new(metres: f64) -> Result<Self, InvalidLength> {
        if metres.is_finite() {
            return Ok(Self(metres));
        }
        Err(InvalidLength { value: metres, reason: "is not a finite number" })
    }

    /// Makes a length that must not be negative: a radius, an accuracy, an uncertainty.
    ///
    /// # Errors
    ///
    /// [`InvalidLength`] if the number is not finite or is below zero.
    pub fn non_negative(metres: f64) -> Result<Self, InvalidLength> {
        let length = Self::new(metres)?;
        if metres < 0.0 {
            return Err(InvalidLength { value: metres, reason: "is below zero" });
        }
        Ok(length)
    }

    /// For numbers that our own arithmetic produced and that are finite by construction.
    pub(crate) const fn computed(metres: f64) -> Self {
        Self(metres)
    }

    /// Returns the length in metres.
    #[must_use]
    pub const fn metres(self) -> f64 {
        self.0
    }
}

impl NauticalMiles {
    /// Metres in one nautical mile.
    pub const METRES: f64 = 1852.0;

    /// Returns the length in nautical miles.
    #[must_use]
    pub const fn nautical_miles(self) -> f64 {
        self.0
    }
}

impl From<Metres> for NauticalMiles {
    fn from(length: Metres) -> Self {
        Self(length.0 / Self::METRES)
    }
}

impl From<NauticalMiles> for Metres {
    fn from(length: NauticalMiles) -> Self {
        Self(length.0 * NauticalMiles::METRES)
    }
}

impl fmt::Display for Metres {
    /// Writes whole metres below 10 km and kilometres with one digit above: `38 m`, `12.4 km`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.0.abs() < 9_999.5 {
            write!(f, "{:.0} m", self.0)
        } else {
            write!(f, "{:.1} km", self.0 / 1000.0)
        }
    }
}
