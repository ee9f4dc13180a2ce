//! Boxes round runs of pieces, turned along them: long teeth of a comb lie in thin boxes whichever way they run.

use super::meeting::TOGETHER_M;
use super::piece::Piece;
use crate::geodesic::{SMALLEST_RADIUS_M, Vector};

#[derive(Debug, Clone, Copy, Default)]
pub(super) struct SlantedBox {
    centre: Vector,
    axes: [Vector; 3],
    half_m: [f64; 3],
}

/// The two planes of a slanted box that stand along it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Strip {
    across: Vector,
    middle_m: f64,
    half_m: f64,
}

impl SlantedBox {
    /// The box about some pieces, its long side along their length as seen from above.
    pub(super) fn about<'a>(pieces: impl Iterator<Item = &'a Piece> + Clone) -> Self {
        let Some(first) = pieces.clone().next().map(|piece| piece.start) else { return Self::default() };
        let up = first.unit();
        let aside = if up.z.abs() < 0.9 { Vector::new(0.0, 0.0, 1.0) } else { Vector::new(1.0, 0.0, 0.0) };
        let east = aside.cross(up).unit();
        let north = up.cross(east);
        let (mut sum, mut squares, mut count) = ([0.0; 2], [0.0; 3], 0.0);
        for point in pieces.clone().map(|piece| piece.end) {
            let (x, y) = ((point - first).dot(east), (point - first).dot(north));
            sum = [sum[0] + x, sum[1] + y];
            squares = [squares[0] + x * x, squares[1] + y * y, squares[2] + x * y];
            count += 1.0;
        }
        let spread = [
            squares[0] - sum[0] * sum[0] / count,
            squares[1] - sum[1] * sum[1] / count,
            squares[2] - sum[0] * sum[1] / count,
        ];
        let angle = 0.5 * (2.0 * spread[2]).atan2(spread[0] - spread[1]);
        let along = east * angle.cos() + north * angle.sin();
        let axes = [along, up.cross(along), up];
        let (mut low, mut high) = ([f64::MAX; 3], [f64::MIN; 3]);
        for point in pieces.flat_map(|piece| [piece.start, piece.control(), piece.end]) {
            for (axis, direction) in axes.iter().enumerate() {
                let value = (point - first).dot(*direction);
                low[axis] = low[axis].min(value);
                high[axis] = high[axis].max(value);
            }
        }
        let middle = |axis: usize| axes[axis] * low[axis].midpoint(high[axis]);
        Self {
            centre: first + middle(0) + middle(1) + middle(2),
            axes,
            half_m: [0, 1, 2].map(|axis: usize| (high[axis] - low[axis]) / 2.0),
        }
    }

    /// Whether no plane square to an axis of the one or the other box lies between them.
    pub(super) fn meets(&self, other: &Self) -> bool {
        let apart = other.centre - self.centre;
        let divides = |axis: &Vector| {
            let half_m = |of: &Self| -> f64 {
                (0..3).map(|side| of.half_m[side] * of.axes[side].dot(*axis).abs()).sum()
            };
            apart.dot(*axis).abs() > half_m(self) + half_m(other) + 2.0 * TOGETHER_M
        };
        !self.axes.iter().chain(&other.axes).any(divides)
    }

    /// How far a place lies from the box, in metres; 0 within it.
    pub(super) fn away_m(&self, place: Vector) -> f64 {
        let apart = place - self.centre;
        let off_m = |side: usize| (apart.dot(self.axes[side]).abs() - self.half_m[side]).max(0.0);
        let [along_m, across_m, up_m] = [0, 1, 2].map(off_m);
        (along_m * along_m + across_m * across_m + up_m * up_m).sqrt()
    }

    /// The strip that holds the pieces and, with some metres of room, the straight way over the surface between any two
    /// of their points.
    ///
    /// A chord between two points L apart lies in the box, at most L²/8R under the surface. The vertical there leans by
    /// at most L/R against the box, so the way over the chord is at most L³/8R² outside.
    pub(super) fn strip(&self, room_m: f64) -> Strip {
        let length_m = 2.0 * self.half_m[0].hypot(self.half_m[1]);
        let lean = length_m / SMALLEST_RADIUS_M;
        Strip {
            across: self.axes[1],
            middle_m: self.centre.dot(self.axes[1]),
            half_m: self.half_m[1] + room_m + length_m * lean * lean / 4.0,
        }
    }
}

impl Strip {
    pub(super) fn is_beside(&self, place: Vector) -> bool {
        (place.dot(self.across) - self.middle_m).abs() > self.half_m
    }
}
