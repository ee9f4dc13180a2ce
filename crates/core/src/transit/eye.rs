//! The observer's eye: how high it is, what it can tell apart, and how far over the curved water it sees.

use super::TransitError;
use crate::{Arcminutes, Metres};

/// Mean radius of the Earth, in metres (IUGG; (2a + b) / 3 of WGS 84).
const MEAN_RADIUS_M: f64 = 6_371_008.8;
/// Share of the curvature that refraction takes away on a mean day: the usual 0.13 of surveyors (Gauss).
const REFRACTION: f64 = 0.13;

/// Where the eye is and what it sees.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Eye {
    #[cfg_attr(feature = "serde", serde(rename = "height_m"))]
    height: Metres,
    #[cfg_attr(feature = "serde", serde(rename = "threshold_arcmin"))]
    threshold: Arcminutes,
}

/// How a mark stands over the horizon of an observer.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Sight {
    /// Angle of its top over the level line of the eye, curvature and refraction counted.
    #[cfg_attr(feature = "serde", serde(rename = "elevation_arcmin"))]
    pub elevation: Arcminutes,
    /// How much of it, from the water up, the curved water hides.
    #[cfg_attr(feature = "serde", serde(rename = "hidden_m"))]
    pub hidden: Metres,
    /// Whether its top stands over the water that hides it; not for a mark of no height, which shows nothing.
    pub in_sight: bool,
}

impl Eye {
    /// Height of the eye of somebody who sits in a kayak, in metres over the water (common practice, no source).
    pub const KAYAK_HEIGHT_M: f64 = 0.9;
    /// Smallest opening that is seen from a rocking boat at marks with soft edges, in minutes of arc (common practice, no
    /// source: 3 to 5 is what people give; a resting eye at sharp edges sees 1 and less).
    pub const ROCKING_THRESHOLD_ARCMIN: f64 = 5.0;

    /// Makes an eye.
    ///
    /// # Errors
    ///
    /// [`TransitError::Figure`] if the height is below zero or above 100 m, or the threshold not above 0 and below 600′.
    pub fn new(height: Metres, threshold: Arcminutes) -> Result<Self, TransitError> {
        let (height_m, arcmin) = (height.metres(), threshold.arcmin());
        if !(0.0..=100.0).contains(&height_m) {
            let reason = "m is no height of an eye over the water: 0 to 100";
            return Err(TransitError::Figure { what: "eye height", value: height_m, reason });
        }
        if !(arcmin > 0.0 && arcmin < 600.0) {
            let reason = "minutes of arc is no threshold of an eye: above 0, below 600";
            return Err(TransitError::Figure { what: "eye threshold", value: arcmin, reason });
        }
        Ok(Self { height, threshold })
    }

    /// Returns how high it is over the water.
    #[must_use]
    pub fn height(self) -> Metres {
        self.height
    }

    /// Returns the smallest opening that it sees.
    #[must_use]
    pub fn threshold(self) -> Arcminutes {
        self.threshold
    }

    /// Returns how far away the horizon is: √(2·R·h / (1 − k)), with k = 0.13 for refraction.
    ///
    /// # Accuracy
    ///
    /// The formula's; refraction over cold or warm water changes the distance by some per cent.
    ///
    /// # Examples
    ///
    /// ```
    /// // 3.6 km from 0.9 m
    /// assert_eq!(takeline::transit::Eye::default().horizon().metres().round(), 3631.0);
    /// ```
    #[must_use]
    pub fn horizon(self) -> Metres {
        Metres::computed((2.0 * seen_radius_m() * self.height.metres()).sqrt())
    }

    /// Returns how much of a thing at a distance, from the water up, the curved water hides.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Metres, transit::Eye};
    /// // from 0.9 m: 0.4 m at 6 km, 1.3 m at 8 km
    /// let hidden = |away_m| Eye::default().hidden_height(Metres::new(away_m).unwrap()).metres();
    /// assert_eq!(format!("{:.1} {:.1}", hidden(6000.0), hidden(8000.0)), "0.4 1.3");
    /// assert_eq!(hidden(3000.0), 0.0);
    /// ```
    #[must_use]
    pub fn hidden_height(self, away: Metres) -> Metres {
        let beyond_m = (away.metres() - self.horizon().metres()).max(0.0);
        Metres::computed(beyond_m * beyond_m / (2.0 * seen_radius_m()))
    }

    /// Tells how a top of some height shows at a distance.
    #[must_use]
    pub fn sight(self, top: Metres, away: Metres) -> Sight {
        let away_m = away.metres().max(1e-3);
        let drop_m = away_m * away_m / (2.0 * seen_radius_m());
        let radians = (top.metres() - self.height.metres() - drop_m).atan2(away_m);
        let hidden = self.hidden_height(away);
        Sight {
            elevation: Arcminutes::computed(radians.to_degrees() * 60.0),
            hidden,
            in_sight: top.metres() > hidden.metres(),
        }
    }
}

impl Default for Eye {
    /// The eye of somebody in a kayak: [`Self::KAYAK_HEIGHT_M`], [`Self::ROCKING_THRESHOLD_ARCMIN`].
    fn default() -> Self {
        Self {
            height: Metres::computed(Self::KAYAK_HEIGHT_M),
            threshold: Arcminutes::computed(Self::ROCKING_THRESHOLD_ARCMIN),
        }
    }
}

/// Radius of an Earth on which light would run straight.
pub(super) fn seen_radius_m() -> f64 {
    MEAN_RADIUS_M / (1.0 - REFRACTION)
}
