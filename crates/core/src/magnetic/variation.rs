use jiff::Timestamp;

use crate::{Arcminutes, MagneticBearing, TrueBearing};

/// The angle from true to magnetic north at a place and time, east positive, and what it is from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MagneticVariation {
    pub(crate) degrees: f64,
    pub(crate) standard_error: Arcminutes,
    pub(crate) time: Timestamp,
}

/// A time at which the model does not hold.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("the variation is not known on {time}: {model} holds from 2025-01-01 until the end of 2029")]
pub struct OutsideMagneticModel {
    /// The time asked for.
    pub time: Timestamp,
    /// The model.
    pub model: &'static str,
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

/// Placeholder until the model is merged.
///
/// # Errors
///
/// [`OutsideMagneticModel`]
pub fn variation(
    _position: crate::Position,
    time: Timestamp,
) -> Result<MagneticVariation, OutsideMagneticModel> {
    Ok(MagneticVariation { degrees: 0.0, standard_error: Arcminutes::computed(0.0), time })
}
