//! Boxes in earth-centred axes, rounded outwards to single precision.

use serde::{Deserialize, Serialize};

use crate::zone::{Extent, Zone, box_about};

/// Added to a box on every side, in metres: another machine may compute a box some billionths of a metre larger.
const ROOM_M: f64 = 0.5;

/// The least and the largest corner of a box, in metres.
type Corners = ([f64; 3], [f64; 3]);

/// Where a zone lies, as far as an index tells.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) enum Lies {
    /// It may be anywhere.
    Anywhere,
    /// Its line is known and lies in this box, with its inside and whatever adds doubt to it.
    InBox(OuterBox),
    /// Its line is not known; the area that it lies somewhere in is in this box.
    SomewhereInBox(OuterBox),
}

impl Lies {
    pub(super) fn of(zone: &Zone) -> Self {
        match (&zone.extent, box_about(zone)) {
            (_, None) => Self::Anywhere,
            (Extent::Known(_), Some(corners)) => Self::InBox(OuterBox::about(corners)),
            (Extent::Unknown { .. }, Some(corners)) => Self::SomewhereInBox(OuterBox::about(corners)),
        }
    }

    /// Whether a zone lies so.
    pub(super) fn is_true_of(&self, zone: &Zone) -> bool {
        match (self, &zone.extent, box_about(zone)) {
            (Self::Anywhere, _, about) => about.is_none(),
            (Self::InBox(outer), Extent::Known(_), Some(corners))
            | (Self::SomewhereInBox(outer), Extent::Unknown { .. }, Some(corners)) => outer.holds(corners),
            (Self::InBox(_) | Self::SomewhereInBox(_), _, _) => false,
        }
    }

    /// Its box; none for a zone that may be anywhere.
    pub(super) fn outer_box(&self) -> Option<&OuterBox> {
        match self {
            Self::Anywhere => None,
            Self::InBox(outer) | Self::SomewhereInBox(outer) => Some(outer),
        }
    }
}

/// A box that holds another one, in metres.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub(super) struct OuterBox {
    low_m: [f32; 3],
    high_m: [f32; 3],
}

impl OuterBox {
    fn about((low_m, high_m): Corners) -> Self {
        let down = |at_m: f64| rounded_down(at_m - ROOM_M);
        Self { low_m: low_m.map(down), high_m: high_m.map(|at_m| -down(-at_m)) }
    }

    fn holds(&self, (low_m, high_m): Corners) -> bool {
        let axes = 0..3;
        axes.into_iter().all(|axis| {
            f64::from(self.low_m[axis]) <= low_m[axis] && high_m[axis] <= f64::from(self.high_m[axis])
        })
    }

    /// How far off a point is from it, in metres; 0 inside. A corner that is no number never makes it farther.
    pub(super) fn away_m(&self, point: [f64; 3]) -> f64 {
        let off_m = |axis: usize| {
            let below_m = f64::from(self.low_m[axis]) - point[axis];
            let above_m = point[axis] - f64::from(self.high_m[axis]);
            below_m.max(above_m).max(0.0)
        };
        let [x_m, y_m, z_m] = [off_m(0), off_m(1), off_m(2)];
        (x_m * x_m + y_m * y_m + z_m * z_m).sqrt()
    }
}

/// The largest number of single precision that is not above this.
#[expect(
    clippy::cast_possible_truncation,
    reason = "rounded to single precision, and put right where that went up"
)]
fn rounded_down(at_m: f64) -> f32 {
    let rounded = at_m as f32;
    if f64::from(rounded) > at_m { rounded.next_down() } else { rounded }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounding_never_makes_a_box_smaller() {
        for step in 0..2_000_i32 {
            let at_m = f64::from(step - 1_000) * 6_378.137_001_3;
            let outer = OuterBox::about(([at_m; 3], [at_m; 3]));
            assert!(f64::from(outer.low_m[0]) <= at_m && at_m <= f64::from(outer.high_m[0]), "{at_m}");
            assert!(f64::from(outer.high_m[0]) - f64::from(outer.low_m[0]) <= 3.0, "{at_m}");
            assert!(
                outer.holds(([at_m; 3], [at_m + 0.4; 3])) && !outer.holds(([at_m; 3], [at_m + 2.0; 3])),
                "{at_m}"
            );
        }
    }

    #[test]
    fn a_box_is_as_far_off_as_its_nearest_corner() {
        let outer = OuterBox { low_m: [-1.0; 3], high_m: [1.0; 3] };
        assert!(outer.away_m([0.5, -1.0, 1.0]).abs() < 1e-12);
        assert!((outer.away_m([4.0, 5.0, 0.0]) - 5.0).abs() < 1e-12);
        let broken = OuterBox { low_m: [f32::NAN; 3], high_m: [f32::NAN; 3] };
        assert!(broken.away_m([9e6; 3]).abs() < 1e-12);
    }
}
