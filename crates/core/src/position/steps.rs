//! How finely positions were written, where nothing but their numbers is left: on which step of a digit all of them stand.

use super::{Position, PrintedPrecision};

/// Steps of the last digit in parts of a degree, widest first: degrees with 0 to 4 decimals, minutes with 0 to 2. Finer ones
/// are about a metre, which receivers do not know.
const STEPS_A_DEGREE: [f64; 8] = [1.0, 10.0, 60.0, 100.0, 600.0, 1_000.0, 6_000.0, 10_000.0];
/// So far from a step, in parts of one, a number may lie that was read from decimals.
const OFF_THE_STEP: f64 = 1e-6;

/// All but one position in so many show what the others were written with.
const MOST_OF: usize = 10;

/// Returns the widest step of a last digit, in degrees, on which the positions stand, but for one in ten; none where they have
/// digits enough.
///
/// # Edge cases
///
/// Some step for no position at all. One position stands on the step of its fourth decimal by chance once in a hundred times,
/// if its fifth is noise, and two once in ten thousand.
///
/// # Examples
///
/// ```
/// use takeline::{Position, widest_step_deg};
/// let coarse = [Position::from_degrees(45.117, -30.12)?, Position::from_degrees(45.118, -30.121)?];
/// assert_eq!(widest_step_deg(&coarse), Some(0.001));
/// assert_eq!(widest_step_deg(&[coarse[0], Position::from_degrees(45.118_123, -30.12)?]), None);
/// # Ok::<(), takeline::InvalidCoordinate>(())
/// ```
#[must_use]
pub fn widest_step_deg(positions: &[Position]) -> Option<f64> {
    let stands_on = |steps: f64| {
        let is_whole = |degrees: f64| (degrees * steps - (degrees * steps).round()).abs() < OFF_THE_STEP;
        let is_on =
            |one: &&Position| is_whole(one.latitude().degrees()) && is_whole(one.longitude().degrees());
        MOST_OF * (positions.len() - positions.iter().filter(is_on).count()) <= positions.len()
    };
    STEPS_A_DEGREE.into_iter().find(|steps| stands_on(*steps)).map(f64::recip)
}

impl PrintedPrecision {
    /// The precision of a position that stands on a step of so many degrees, as [`widest_step_deg`] tells it.
    #[must_use]
    pub fn on_step(position: Position, step_deg: f64) -> Self {
        Self::new(position.latitude(), step_deg / 2.0, step_deg / 2.0)
    }
}
