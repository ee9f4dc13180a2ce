use strum::{IntoStaticStr, VariantNames};

use crate::coded::coded;
use crate::{Arcminutes, Metres, TrueBearing};

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

    /// Whether the observer stands where the marks can be in line: nearer to the front mark, and not between the two.
    #[must_use]
    pub fn is_before_both(&self) -> bool {
        self.front_distance < self.rear_distance && self.rear_from_front.arcmin().abs() < 90.0 * 60.0
    }
}
