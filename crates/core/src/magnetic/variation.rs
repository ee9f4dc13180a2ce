//! Magnetic variation at a place and time, with its error.

use jiff::Timestamp;

use super::field::field_within_reach;
use crate::{Arcminutes, MagneticBearing, Metres, Position, TrueBearing};

/// Standard error of the declination where the level field is strong, in degrees.
///
/// This and the next from memory of the WMM2025 technical report (doi:10.25923/prbc-s316, section 3.4), which was not at
/// hand; two packages that go back to it independently, `world_magnetic_model` 1.2025.0 and pygeomag 1.1.0, have the same.
const STEADY_ERROR_DEG: f64 = 0.26;
/// What grows as the level field falls: degrees times nT.
const WEAK_FIELD_ERROR_DEG_NT: f64 = 5_417.0;
/// The most that a standard error is given as: at a magnetic pole a compass points anywhere.
const LARGEST_ERROR_DEG: f64 = 180.0;

/// The angle from true to magnetic north at a place and time, east positive, and what it is from.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct MagneticVariation {
    #[cfg_attr(feature = "serde", serde(rename = "degrees_east"))]
    pub(crate) degrees: f64,
    #[cfg_attr(feature = "serde", serde(rename = "standard_error_arcmin"))]
    pub(crate) standard_error: Arcminutes,
    pub(crate) time: Timestamp,
}

/// A time at which the model does not hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[error("the variation is not known on {time}: {model} holds from 2025-01-01 until the end of 2029")]
pub struct OutsideMagneticModel {
    /// The time asked for.
    pub time: Timestamp,
    /// The model.
    pub model: &'static str,
}

/// Returns the magnetic variation at the surface of the sea, from the World Magnetic Model 2025.
///
/// This is the variation alone. The deviation of a compass, by hooks, batteries, loudspeakers and its own phone, is not in
/// it: nobody but the boat knows it.
///
/// # Units
///
/// Degrees, east positive; the standard error in minutes of arc.
///
/// # Accuracy
///
/// The model is evaluated to better than 1e-6°. The model itself has a standard error of √(0.26² + (5417 / H)²) degrees,
/// H being the level part of the field in nT: 0.33° at H = 27 000 nT, 0.94° at 6000 nT. It counts rocks and storms as the
/// model's makers found them on the whole Earth; near iron ore or volcanic rock the true error can be degrees. The two
/// figures are from memory of the makers' report. The sea is taken to be at the ellipsoid; it is within 110 m of it, which
/// moves the variation by less than a hundredth of the standard error (`the_height_of_the_sea_does_not_matter`).
///
/// # Edge cases
///
/// Near the magnetic poles the variation is still given, and the standard error tells how little it is worth. The model's
/// makers ask for caution where H is below 6000 nT and call a compass useless below 2000 nT (from memory): standard errors
/// above 0.94° and above 2.7°. It is never given as more than 180°. At a geographic pole the variation counts from the
/// meridian by which the position names it.
///
/// # Errors
///
/// [`OutsideMagneticModel`] before 2025-01-01T00:00:00Z and from 2030-01-01T00:00:00Z on.
///
/// # Examples
///
/// ```
/// use takeline::{Position, TrueBearing, magnetic};
///
/// let chapel = Position::from_degrees(45.1250, -30.1100)?;
/// let variation = magnetic::variation(chapel, "2026-08-03T10:00:00Z".parse()?)?;
/// assert_eq!(format!("{:.2}°", variation.degrees_east()), "-9.09°");
/// assert_eq!(variation.to_magnetic(TrueBearing::from_degrees(47.0)?).to_string(), "056° magnetic");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # References
///
/// NOAA NCEI and BGS, *The US/UK World Magnetic Model for 2025–2030: Technical Report*, doi:10.25923/prbc-s316.
pub fn variation(position: Position, time: Timestamp) -> Result<MagneticVariation, OutsideMagneticModel> {
    let field = field_within_reach(position, Metres::ZERO, time)?;
    Ok(MagneticVariation {
        degrees: field.declination_deg(),
        standard_error: standard_error(field.horizontal_nt()),
        time,
    })
}

pub(super) fn standard_error(horizontal_nt: f64) -> Arcminutes {
    // no level field at all divides to infinity, and so to the largest error
    let degrees = STEADY_ERROR_DEG.hypot(WEAK_FIELD_ERROR_DEG_NT / horizontal_nt);
    Arcminutes::computed(60.0 * degrees.min(LARGEST_ERROR_DEG))
}

impl MagneticVariation {
    /// What it is from.
    pub const MODEL: &'static str = "WMM2025";

    /// Returns the variation in degrees, east positive.
    #[must_use]
    pub fn degrees_east(self) -> f64 {
        self.degrees
    }

    /// Returns the standard error that the model's makers give for it.
    #[must_use]
    pub fn standard_error(self) -> Arcminutes {
        self.standard_error
    }

    /// Returns the time that it is for.
    #[must_use]
    pub fn time(self) -> Timestamp {
        self.time
    }

    /// Turns a true bearing into a magnetic one.
    #[must_use]
    pub fn to_magnetic(self, bearing: TrueBearing) -> MagneticBearing {
        MagneticBearing::wrapping(bearing.degrees() - self.degrees)
    }

    /// Turns a magnetic bearing into a true one.
    #[must_use]
    pub fn to_true(self, bearing: MagneticBearing) -> TrueBearing {
        TrueBearing::wrapping(bearing.degrees() + self.degrees)
    }
}
