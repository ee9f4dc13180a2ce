//! What fixes taken on a line say about where its marks stand.

use strum::{IntoStaticStr, VariantNames};

use super::{CalibrationReason, UnusedFixes};
use crate::coded::coded;
use crate::transit::{RangeLine, TransitError};
use crate::{Metres, TrueBearing};

/// The line that two marks really show, from fixes taken while they were seen in line.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Calibration {
    /// The line as the marks' stated places have it.
    pub stated: RangeLine,
    /// The line really shown, its marks moved across the stated line.
    ///
    /// Its doubt is that of the fixes where they tell both marks; that of fixes and stated places together where they
    /// tell only where the fixes lie, the stated errors widened until they explain what was found; and where the fixes
    /// tell nothing it is the stated line as it stands.
    pub shown: RangeLine,
    /// How many fixes were used.
    pub fixes: usize,
    /// How many of them count as independent: fixes within five minutes of one another count as one, and so do fixes
    /// without a time that lie within 100 m, or three times their 95 % radius, of one another along the line.
    pub independent: usize,
    /// Places in the list given, from 0, of fixes that were not used: they lie where the marks cannot be seen in line, or
    /// far off all others. [`Self::because`] says why, and numbers them from 1.
    pub not_used: Vec<usize>,
    /// What the fixes can tell.
    pub told: Told,
    /// Where the line shown passes the front mark's stated place.
    pub at_front: LineOffset,
    /// Where the line shown passes the rear mark's stated place.
    pub at_rear: LineOffset,
    /// Where it passes the nearest, the middle and the farthest fix; fewer if there are fewer.
    pub at_fixes: Vec<LineOffset>,
    /// The error of the front mark that would explain the fixes if the rear mark stands where it is said to.
    pub front_alone: MarkError,
    /// The error of the rear mark that would explain them if the front mark does.
    pub rear_alone: MarkError,
    /// How far the fixes lie off the line shown, root mean square.
    #[cfg_attr(feature = "serde", serde(rename = "scatter_m"))]
    pub scatter: Metres,
    /// Bearing of the marks on the line shown, seen from the middle fix.
    #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
    pub bearing: TrueBearing,
    /// What follows, the most important first.
    pub because: Vec<CalibrationReason>,
}

/// What fixes can tell about the marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum Told {
    /// How far both marks are off across the line: each to better than 10 m, or than half of its stated error where that
    /// is more (95 %; common practice, no source).
    BothMarks,
    /// How far the line is off where the fixes lie, and not which mark is to blame.
    OnlyWhereTheFixesLie,
    /// Nothing: the doubt of the fixes is no better than that of the stated places, and they agree with them.
    Nothing,
}

/// How far a line passes from the stated line, to the right of somebody who looks at the marks.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct LineOffset {
    /// Distance from the front mark along the stated line; negative at the rear mark.
    #[cfg_attr(feature = "serde", serde(rename = "distance_from_front_m"))]
    pub distance_from_front: Metres,
    /// How far to the right the line shown passes there.
    #[cfg_attr(feature = "serde", serde(rename = "to_the_right_m"))]
    pub to_the_right: Metres,
    /// 95 % uncertainty of that.
    #[cfg_attr(feature = "serde", serde(rename = "uncertainty_95_m"))]
    pub uncertainty_95: Metres,
}

/// How far one mark would have to stand from its stated place.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct MarkError {
    /// Across the line, to the right of somebody who looks at the marks. Along the line fixes on it tell nothing.
    #[cfg_attr(feature = "serde", serde(rename = "to_the_right_m"))]
    pub to_the_right: Metres,
    /// 95 % uncertainty of that.
    #[cfg_attr(feature = "serde", serde(rename = "uncertainty_95_m"))]
    pub uncertainty_95: Metres,
    /// Whether it explains the fixes: with the other mark free as well they would be met no better than by chance (95 %).
    pub explains: bool,
}

/// Why fixes give no line.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum CalibrationError {
    /// There is none.
    #[error(
        "there is no fix to calibrate {front} and {rear} with; give at least one fix taken while the two were in line, better still some near and some far"
    )]
    NoFix {
        /// Name of the front mark.
        front: String,
        /// Name of the rear mark.
        rear: String,
    },
    /// None of them can have been taken with the marks in line.
    #[error("none of the {fixes} fixes can be used for {front} and {rear}: {}", not_used(.unused))]
    NoUsableFix {
        /// Name of the front mark.
        front: String,
        /// Name of the rear mark.
        rear: String,
        /// How many there are.
        fixes: usize,
        /// What is wrong with each.
        unused: Vec<UnusedFixes>,
    },
    /// The marks would have to stand where no pair of marks shows a line.
    #[error("by these fixes the marks stand where they show no line")]
    NoLine(#[from] TransitError),
}

coded!(Told);

/// How many fixes are not used for which reason, for the error: an answer names each in words.
fn not_used(all: &[UnusedFixes]) -> String {
    let counted = all.iter().map(|unused| format!("{} {}", unused.numbers.len(), unused.why.code()));
    counted.collect::<Vec<_>>().join(", ")
}
