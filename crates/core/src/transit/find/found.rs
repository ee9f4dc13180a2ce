//! What a search for pairs is asked and gives.

use crate::transit::{Eye, Problem, RangeLine, Side, Stretch};
use crate::{Metres, Position, Tristate};

/// What is searched for.
#[derive(Debug, Clone)]
pub struct PairQuestion {
    /// Where the boat is launched.
    pub launch: Position,
    /// How far from the launch the marks are to be used.
    pub range: Metres,
    /// Nearest and farthest distance from the front mark at which a pair is used.
    pub reach: Stretch,
    /// The observer's eye.
    pub eye: Eye,
    /// The zone to keep out of, by its place in the set.
    pub zone_number: usize,
    /// How many pairs of each side are wanted.
    pub at_most: usize,
    /// The day that the marks will be used, for how long ago they were confirmed.
    pub day: Option<jiff::civil::Date>,
}

/// A side of a zone that lies within range: edges that run nearly one way.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneSide {
    /// What it is called: north side.
    pub name: String,
    /// Its corners, in order with the zone on the left, the part within range only; at most 2 km apart.
    pub corners: Vec<Position>,
    /// How long that part is.
    pub length: Metres,
}

/// The pairs found for one side, the best first.
#[derive(Debug, Clone)]
pub struct SidePairs {
    /// The side.
    pub side: ZoneSide,
    /// Pairs, the best first; empty if no pair serves it.
    pub pairs: Vec<FoundPair>,
}

/// One pair of landmarks.
#[derive(Debug, Clone)]
pub struct FoundPair {
    /// Its line.
    pub line: RangeLine,
    /// The part of the line that runs along the side.
    pub stretch: Stretch,
    /// Whether that part keeps outside every zone, the doubt counted.
    pub clears: Tristate,
    /// Least margin over the stretch: signed distance less doubt; negative if it does not clear.
    pub margin: Metres,
    /// Mean distance of the stretch from the side: what is given away for each metre of side; negative if it runs inside.
    pub forgone: Metres,
    /// How far off the line at the far end the eye sees it; none: it never does.
    pub offset_at_threshold: Option<Metres>,
    /// How far the marks put the line off at the far end, 95 %.
    pub line_uncertainty_95: Metres,
    /// Length of the stretch as a share of that of the side, 0 to 1.
    pub covers: f64,
    /// The side to which the rear mark shows inside.
    pub inside: Option<Side>,
    /// The shares that make its rank.
    pub score: PairScore,
    /// Why it ranks so, one short sentence each: whether it clears, then the best reason first, then cautions.
    pub because: Vec<String>,
    /// What is wrong with it.
    pub problems: Vec<Problem>,
}

/// What ranks a pair: each share runs from 0 to 1, and the rank is their product.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PairScore {
    /// Clear of the zone, and not much farther away than it has to be.
    pub margin: f64,
    /// The eye sees soon that the line is left.
    pub sharpness: f64,
    /// The marks' places hold the line still.
    pub robustness: f64,
    /// Both marks are seen, the rear one over the front one, and will be there.
    pub visibility: f64,
    /// Share of the side that is served.
    pub coverage: f64,
}

impl PairScore {
    /// Returns the rank, 0 to 1.
    #[must_use]
    pub fn whole(&self) -> f64 {
        self.margin * self.sharpness * self.robustness * self.visibility * self.coverage
    }
}
