//! One edge by itself: how long it is, which way it leads, and how far its readings are apart.

use super::ring::{Curve, EdgeReading, reading_gap_m};
use super::{BoundaryFault, EdgeModel};
use crate::geodesic::inverse;
use crate::{Metres, Position, TrueBearing};

/// Steps in which the length of a line is summed up that has no formula.
const STEPS: u32 = 64;
/// How far along an edge a direction is taken, in metres.
const ASIDE_M: f64 = 1.0;
/// Gaps below this are bounded, not measured.
const SMALL_GAP_M: f64 = 0.001;

/// How one edge runs from one vertex to the next.
///
/// # Examples
///
/// ```
/// use takeline::{EdgeLine, EdgeModel, Position};
///
/// let (from, to) = (Position::from_degrees(45.0, -30.2)?, Position::from_degrees(45.0, -30.0)?);
/// let parallel = EdgeLine::between(from, to, EdgeModel::RhumbLine)?;
/// assert_eq!(parallel.initial_bearing().degrees(), 90.0);
/// assert_eq!(parallel.length().metres().round(), 15_769.0);
/// // unstated: the parallel and the geodesic are some metres apart half way
/// let unstated = EdgeLine::between(from, to, EdgeModel::Unstated)?;
/// assert!((4.0..6.0).contains(&unstated.readings_apart().metres()));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy)]
pub struct EdgeLine {
    curve: Curve,
    readings_apart_m: f64,
}

impl EdgeLine {
    /// Draws an edge; an unstated one as a geodesic.
    ///
    /// # Errors
    ///
    /// [`BoundaryFault`] where no boundary could have such an edge: half way round the Earth, or an arc that misses a vertex.
    pub fn between(from: Position, to: Position, model: EdgeModel) -> Result<Self, BoundaryFault> {
        let curve = Curve::new(from, to, model, EdgeReading::Geodesic)?;
        let readings_apart_m = match model {
            EdgeModel::Unstated => reading_gap_m(from, to, SMALL_GAP_M)?,
            EdgeModel::Geodesic | EdgeModel::RhumbLine | EdgeModel::PlateCarree | EdgeModel::Arc(_) => 0.0,
        };
        Ok(Self { curve, readings_apart_m })
    }

    /// Returns the position at a share of the way; 0 and 1 are the vertices.
    #[must_use]
    pub fn at(&self, share: f64) -> Position {
        self.curve.at(share)
    }

    /// Returns its length.
    ///
    /// # Accuracy
    ///
    /// That of geodesics and rhumb lines; of other lines within a millionth.
    #[must_use]
    pub fn length(&self) -> Metres {
        let summed_m = |steps: u32| -> f64 {
            let at = |step: u32| self.curve.at(f64::from(step) / f64::from(steps));
            (0..steps).map(|step| inverse(at(step), at(step + 1)).distance_m).sum()
        };
        // chords fall short by a square of their length, so that two sums tell the limit
        let extrapolated = || (4.0 * summed_m(2 * STEPS) - summed_m(STEPS)) / 3.0;
        Metres::computed(self.curve.exact_length_m().unwrap_or_else(extrapolated))
    }

    /// Returns the true bearing in which it leaves its first vertex; of an edge without length, north.
    #[must_use]
    pub fn initial_bearing(&self) -> TrueBearing {
        let tangent = || inverse(self.at(0.0), self.at(self.aside())).azimuth_start_deg;
        self.curve.constant_bearing().unwrap_or_else(|| TrueBearing::wrapping(tangent()))
    }

    /// Returns the true bearing in which it arrives at its last vertex.
    #[must_use]
    pub fn final_bearing(&self) -> TrueBearing {
        let back = || inverse(self.at(1.0), self.at(1.0 - self.aside())).azimuth_start_deg;
        self.curve.constant_bearing().unwrap_or_else(|| TrueBearing::wrapping(back() + 180.0))
    }

    /// Returns how far the straight readings of an unstated edge are apart at most; zero for a stated one.
    #[must_use]
    pub fn readings_apart(&self) -> Metres {
        Metres::computed(self.readings_apart_m)
    }

    /// The share of the way at which a direction is taken: near enough to be the tangent, far enough to have digits.
    fn aside(&self) -> f64 {
        let rough_m = self.curve.rough_length_m();
        if self.curve.is_geodesic() { 1.0 } else { (ASIDE_M / rough_m.max(ASIDE_M)).min(1.0) }
    }
}
