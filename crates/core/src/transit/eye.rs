//! The observer's eye: how high it is, what it can tell apart, how far over the curved water it sees, and what it sees of two
//! marks.

use strum::{IntoStaticStr, VariantNames};

use super::TransitError;
use crate::coded::coded;
use crate::geodesic::MEAN_RADIUS_M;
use crate::{Arcminutes, Metres, TrueBearing};

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
            let reason = "m is not a possible height of an eye above the water: give 0 to 100";
            return Err(TransitError::Figure { what: "eye height", value: height_m, reason });
        }
        if !(arcmin > 0.0 && arcmin < 600.0) {
            let reason =
                "minutes of arc is not a possible threshold of an eye: give more than 0 and less than 600";
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

/// A place with respect to a range line.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct OnLine {
    /// Distance along the line from the front mark, seaward; negative towards the rear mark.
    #[cfg_attr(feature = "serde", serde(rename = "distance_from_front_m"))]
    pub distance_from_front: Metres,
    /// Distance off the line, positive to the right of somebody who looks at the marks.
    #[cfg_attr(feature = "serde", serde(rename = "to_the_right_m"))]
    pub to_the_right: Metres,
}

/// What an eye sees of two marks.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Seen {
    /// Angle from the front mark to the rear mark, positive if the rear mark shows to the right.
    #[cfg_attr(feature = "serde", serde(rename = "rear_from_front_arcmin"))]
    pub rear_from_front: Arcminutes,
    /// True bearing of the front mark.
    #[cfg_attr(feature = "serde", serde(rename = "front_bearing_true_deg"))]
    pub front_bearing: TrueBearing,
    /// Distance to the front mark.
    #[cfg_attr(feature = "serde", serde(rename = "front_distance_m"))]
    pub front_distance: Metres,
    /// Distance to the rear mark.
    #[cfg_attr(feature = "serde", serde(rename = "rear_distance_m"))]
    pub rear_distance: Metres,
}

/// Left or right of somebody who looks at the marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Side {
    /// Left.
    Left,
    /// Right.
    Right,
}

impl Side {
    /// Returns the other side.
    #[must_use]
    pub const fn other(self) -> Self {
        match self {
            Self::Left => Self::Right,
            Self::Right => Self::Left,
        }
    }

    /// The side of a number that is positive to the right; none for zero.
    pub(crate) fn of(to_the_right: f64) -> Option<Self> {
        if to_the_right > 0.0 {
            Some(Self::Right)
        } else if to_the_right < 0.0 {
            Some(Self::Left)
        } else {
            None
        }
    }
}

/// One of eight directions.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
#[expect(missing_docs, reason = "their names say it")]
pub enum CompassPoint {
    North,
    NorthEast,
    East,
    SouthEast,
    South,
    SouthWest,
    West,
    NorthWest,
}

impl CompassPoint {
    /// All eight, clockwise from north.
    pub const ALL: [Self; 8] = [
        Self::North,
        Self::NorthEast,
        Self::East,
        Self::SouthEast,
        Self::South,
        Self::SouthWest,
        Self::West,
        Self::NorthWest,
    ];

    /// Returns the one nearest to a bearing.
    #[must_use]
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "0 to 8")]
    pub fn nearest(bearing: TrueBearing) -> Self {
        Self::ALL[(bearing.degrees() / 45.0).round() as usize % 8]
    }
}

coded!(Side, CompassPoint);

/// What the marks look like, the eye's threshold counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Look {
    /// The rear mark shows over the front mark, as far as the eye can tell.
    InLine,
    /// The rear mark shows to this side of the front mark.
    RearShows(Side),
}

impl Seen {
    /// Returns what it looks like to an eye that sees no angle below `threshold`.
    #[must_use]
    pub fn look(&self, threshold: Arcminutes) -> Look {
        if self.rear_from_front.arcmin().abs() < threshold.arcmin() {
            return Look::InLine;
        }
        Side::of(self.rear_from_front.arcmin()).map_or(Look::InLine, Look::RearShows)
    }
}
