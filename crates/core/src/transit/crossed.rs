//! Lines of position and the position where they cross.

use super::{Eye, Problem, RangeLine};
use crate::landmark::Landmark;
use crate::{Fix, Metres, Position, TrueBearing};

/// A line that the observer is on, and how well that is known.
#[derive(Debug, Clone)]
pub enum LineOfPosition {
    /// Two marks seen in line. The doubt is that of the eye and of the marks' places.
    Transit {
        /// Their line.
        line: RangeLine,
        /// The eye that sees them.
        eye: Eye,
    },
    /// The direction of a mark.
    Bearing {
        /// The mark.
        mark: Landmark,
        /// Its true bearing, from the observer.
        bearing: TrueBearing,
        /// Standard error (68 %), in degrees, that of the variation included.
        standard_error_deg: f64,
    },
    /// The angle between two marks.
    HorizontalAngle {
        /// The mark to the left.
        left: Landmark,
        /// The mark to the right.
        right: Landmark,
        /// From the left mark to the right one, above 0 and below 180 degrees.
        angle_deg: f64,
        /// Standard error (68 %), in degrees.
        standard_error_deg: f64,
    },
}

/// A position from lines of position.
#[derive(Debug, Clone)]
pub struct CrossedPosition {
    /// The position that fits all lines best, each weighted by its doubt.
    pub position: Position,
    /// The ellipse that holds the true position 95 times in 100, for normal errors.
    pub ellipse: ErrorEllipse,
    /// Distance root mean square, one sigma, of the position: √(σ₁² + σ₂²).
    pub drms: Metres,
    /// The circle that holds the true position 95 times in 100.
    pub radius_95: Metres,
    /// Best angle at which two of the lines cut, 0 to 90 degrees.
    pub angle_of_cut_deg: f64,
    /// How far each line passes from the position, in its own standard errors, in the order given.
    pub misfits: Vec<f64>,
    /// Whether the lines meet within their errors; always so with two.
    pub agree: bool,
    /// Other positions that fit as well.
    pub others: Vec<Position>,
    /// What is wrong with the marks or the cut.
    pub problems: Vec<Problem>,
}

/// An ellipse about a position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ErrorEllipse {
    /// Half of the long axis.
    pub semi_major: Metres,
    /// Half of the short axis.
    pub semi_minor: Metres,
    /// Direction of the long axis, 0 ≤ b < 180.
    pub major_bearing: TrueBearing,
}

impl CrossedPosition {
    /// Returns the position as a fix, its doubt the circle of 95 %, as a GPS fix has it.
    #[must_use]
    pub fn fix(&self, time: Option<jiff::Timestamp>) -> Option<Fix> {
        let uncertainty =
            crate::HorizontalUncertainty::given(self.radius_95.metres(), crate::AccuracyKind::P95).ok()?;
        Some(Fix { position: self.position, uncertainty, time })
    }
}
