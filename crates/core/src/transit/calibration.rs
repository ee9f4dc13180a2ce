//! What fixes taken on a line say about where its marks stand.

use super::RangeLine;
use crate::{Metres, TrueBearing};

/// The line that two marks really show, from fixes taken while they were seen in line.
#[derive(Debug, Clone)]
pub struct Calibration {
    /// The line as the marks' stated places have it.
    pub stated: RangeLine,
    /// The line really shown, its marks moved across the stated line, with the doubt of the fixes.
    pub shown: RangeLine,
    /// How many fixes were used.
    pub fixes: usize,
    /// How many of them count as independent: fixes within five minutes of one another count as one.
    pub independent: usize,
    /// Places in the list given of fixes that lie where the marks cannot be seen in line, and were not used.
    pub not_used: Vec<usize>,
    /// What the fixes can tell.
    pub told: Told,
    /// Where the line shown passes the front mark's stated place.
    pub at_front: LineOffset,
    /// Where the line shown passes the rear mark's stated place.
    pub at_rear: LineOffset,
    /// Where it passes the nearest, the middle and the farthest fix.
    pub at_fixes: Vec<LineOffset>,
    /// The error of the front mark that would explain the fixes if the rear mark stands where it is said to.
    pub front_alone: MarkError,
    /// The error of the rear mark that would explain them if the front mark does.
    pub rear_alone: MarkError,
    /// How far the fixes lie off the line shown, root mean square.
    pub scatter: Metres,
    /// Bearing of the marks on the line shown, seen from the middle fix.
    pub bearing: TrueBearing,
    /// What follows, in sentences for people, the most important first.
    pub because: Vec<String>,
}

/// What fixes can tell about the marks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Told {
    /// How far both marks are off across the line.
    BothMarks,
    /// How far the line is off where the fixes lie, and not which mark is to blame.
    OnlyWhereTheFixesLie,
    /// Nothing: the doubt of the fixes is wider than that of the stated places.
    Nothing,
}

/// How far a line passes from the stated line, to the right of somebody who looks at the marks.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LineOffset {
    /// Distance from the front mark along the stated line; negative at the rear mark.
    pub distance_from_front: Metres,
    /// How far to the right the line shown passes there.
    pub to_the_right: Metres,
    /// 95 % uncertainty of that.
    pub uncertainty_95: Metres,
}

/// How far one mark would have to stand from its stated place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MarkError {
    /// Across the line, to the right of somebody who looks at the marks. Along the line fixes on it tell nothing.
    pub to_the_right: Metres,
    /// 95 % uncertainty of that.
    pub uncertainty_95: Metres,
    /// Whether it explains the fixes: what is left over is no more than their doubt.
    pub explains: bool,
}
