//! The bearing of the marks off a compass, as far as it is known.

use jiff::Timestamp;
use takeline::magnetic::MagneticVariation;
use takeline::transit::TransitReport;
use takeline::{Arcminutes, MagneticBearing};

/// What a compass on the line says.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Compass {
    /// Not asked: no time was given.
    NoTime,
    /// Not known then, and why.
    NotKnown(String),
    /// Known.
    Known(Needle),
}

/// A bearing off the compass and what it was reckoned with.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Needle {
    pub(super) bearing: MagneticBearing,
    /// East positive.
    pub(super) variation_deg: f64,
    /// Standard error of the variation.
    pub(super) standard_error: Arcminutes,
    /// The time that the variation is for.
    pub(super) time: Timestamp,
}

impl Compass {
    pub(super) fn of(report: &TransitReport) -> Self {
        match &report.magnetic {
            None => Self::NoTime,
            Some(Err(outside)) => Self::NotKnown(outside.to_string()),
            Some(Ok(magnetic)) => Self::Known(Needle {
                bearing: magnetic.bearing,
                variation_deg: magnetic.variation.degrees_east(),
                standard_error: magnetic.variation.standard_error(),
                time: magnetic.variation.time(),
            }),
        }
    }

    pub(super) fn needle(&self) -> Option<Needle> {
        match self {
            Self::Known(needle) => Some(*needle),
            Self::NoTime | Self::NotKnown(_) => None,
        }
    }

    /// Why there is no magnetic bearing; none where there is one.
    pub(super) fn why_not(&self) -> Option<&str> {
        match self {
            Self::NoTime => Some("no time was given, and the variation changes with time"),
            Self::NotKnown(why) => Some(why),
            Self::Known(_) => None,
        }
    }
}

/// The name of the model that variations come from.
pub(super) const MODEL: &str = MagneticVariation::MODEL;
