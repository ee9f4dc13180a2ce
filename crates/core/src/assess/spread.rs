//! How much nearer to a line the places of an ellipse about a fix lie than its middle.

use crate::best_first::BestFirst;
use crate::geodesic::direct;
use crate::{Boundary, ErrorEllipse, Position};

/// The spread is found to this share of itself, or to the metres below if that is more; what is left is counted in full.
const TOLERANCE_SHARE: f64 = 0.02;
const TOLERANCE_M: f64 = 0.5;
/// No more parts of an ellipse than this are looked at; what is then still open is counted in full.
const MOST_PARTS: usize = 20_000;

/// By how much the distance to the line at some place of the ellipse falls short of that at its middle, at most, in metres.
///
/// Beyond the line it counts on, so a spread below the distance means that the whole ellipse lies on one side.
///
/// Never too small: a signed distance changes by no more than the way made (it is 1-Lipschitz), so a part of the ellipse
/// comes no nearer than its middle by more than half its own size. The parts with the largest bound are halved until
/// nothing is left open.
pub(super) fn spread_m(boundary: &Boundary, middle: Position, ellipse: ErrorEllipse) -> f64 {
    // where unstated edges have several readings, the nearest one: their span may be wider elsewhere in the ellipse
    let is_outside = boundary.locate(middle).signed_distance.metres() >= 0.0;
    let away_m = |place: Position| {
        let far = boundary.how_far(place);
        if is_outside { far.least.metres() } else { -far.greatest.metres() }
    };
    let at_middle_m = away_m(middle);
    let difference_m = |part: &Part| at_middle_m - away_m(part.place(middle, ellipse));
    let mut most_m = 0.0_f64;
    let mut waiting = BestFirst::with(f64::INFINITY, Part::WHOLE);
    for _ in 0..MOST_PARTS {
        let tolerance_m = TOLERANCE_M.max(TOLERANCE_SHARE * most_m);
        let Some((bound_m, largest)) = waiting.pop() else { break };
        if bound_m <= most_m + tolerance_m {
            return most_m.max(bound_m);
        }
        for part in largest.halves(ellipse).into_iter().filter(Part::meets_the_ellipse) {
            let here_m = difference_m(&part);
            most_m = most_m.max(here_m);
            waiting.push(here_m + part.reach_m(ellipse), part);
        }
    }
    waiting.greatest_bound().map_or(most_m, |bound_m| most_m.max(bound_m))
}

/// A rectangle of the square about the unit circle, which stands for the ellipse: the first axis is the long one.
#[derive(Debug, Clone, Copy)]
struct Part {
    middle: [f64; 2],
    half: [f64; 2],
}

impl Part {
    const WHOLE: Self = Self { middle: [0.0, 0.0], half: [1.0, 1.0] };

    /// The nearest point of the rectangle to the middle of the circle lies in the circle.
    fn meets_the_ellipse(&self) -> bool {
        let nearest = |axis: usize| (self.middle[axis].abs() - self.half[axis]).max(0.0);
        nearest(0).hypot(nearest(1)) <= 1.0
    }

    /// Halves across its longer side, measured on the ellipse.
    fn halves(self, ellipse: ErrorEllipse) -> [Self; 2] {
        let along_m = self.half[0] * ellipse.semi_major.metres();
        let across_m = self.half[1] * ellipse.semi_minor.metres();
        let axis = usize::from(across_m > along_m);
        let (mut low, mut high) = (self, self);
        let quarter = self.half[axis] / 2.0;
        (low.half[axis], high.half[axis]) = (quarter, quarter);
        low.middle[axis] -= quarter;
        high.middle[axis] += quarter;
        [low, high]
    }

    /// The place of its middle, or where the way there from the middle of the ellipse leaves the ellipse.
    fn place(&self, middle: Position, ellipse: ErrorEllipse) -> Position {
        let [along, across] = self.inside();
        let (along_m, across_m) = (along * ellipse.semi_major.metres(), across * ellipse.semi_minor.metres());
        let turn_deg = across_m.atan2(along_m).to_degrees();
        direct(middle, ellipse.major_bearing.degrees() + turn_deg, along_m.hypot(across_m))
    }

    fn inside(&self) -> [f64; 2] {
        let [along, across] = self.middle;
        let radius = along.hypot(across).max(1.0);
        [along / radius, across / radius]
    }

    /// How far any place of it may lie from its place, in metres.
    fn reach_m(&self, ellipse: ErrorEllipse) -> f64 {
        let [along, across] = self.inside();
        let beyond =
            [(self.middle[0] - along).abs() + self.half[0], (self.middle[1] - across).abs() + self.half[1]];
        (beyond[0] * ellipse.semi_major.metres()).hypot(beyond[1] * ellipse.semi_minor.metres())
    }
}
