//! What ranks a pair. The scales are common practice, no source: each is the figure at which half of the share is left.

use crate::transit::PairScore;

/// Water given away that halves the share of the margin, in metres.
const GIVEN_AWAY_HALF_M: f64 = 250.0;
/// Offset at the far end, as the eye sees it, that halves the share of sharpness, in metres.
const OFFSET_HALF_M: f64 = 20.0;
/// Doubt of the line at the far end that halves the share of robustness, in metres.
const DOUBT_HALF_M: f64 = 50.0;

/// What the shares are made from; lengths in metres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Figures {
    pub(super) given_away_m: f64,
    pub(super) offset_at_far_m: f64,
    pub(super) line_doubt_at_far_m: f64,
    pub(super) visibility: f64,
    pub(super) covers: f64,
}

impl Figures {
    /// The shares of a pair that clears.
    pub(super) fn score(self) -> PairScore {
        let half_at = |figure_m: f64, half_m: f64| 1.0 / (1.0 + figure_m.max(0.0) / half_m);
        PairScore {
            margin: half_at(self.given_away_m, GIVEN_AWAY_HALF_M),
            sharpness: half_at(self.offset_at_far_m, OFFSET_HALF_M),
            robustness: half_at(self.line_doubt_at_far_m, DOUBT_HALF_M),
            visibility: self.visibility,
            coverage: self.covers,
        }
    }
}
