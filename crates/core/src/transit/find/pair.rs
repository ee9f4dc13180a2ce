//! A pair of marks against one side, on the plane: the stretch, and what ranks it if it clears.

use super::found::Figures;
use super::marks::{Looked, MOST_RELATIVE_ERROR, Tops, standing_share};
use super::side::PlaneSide;
use crate::Metres;
use crate::landmark::Landmark;
use crate::transit::PairQuestion;
use crate::transit::plane::{Plane, Point};

/// Lines at a greater angle to a side do not run along it, in degrees (common practice, no source).
const MOST_ANGLE_DEG: f64 = 30.0;
/// A pair has to serve so much of a side (common practice, no source).
const LEAST_COVER: f64 = 1.0 / 3.0;
/// Marks nearer to each other than this make no line, in metres.
const LEAST_SEPARATION_M: f64 = 0.5;
/// A pair that misses by no more than this is worth telling where too few clear, in metres (common practice, no source).
pub(super) const NEARLY_M: f64 = 100.0;

/// A landmark on the plane.
#[derive(Debug, Clone, Copy)]
pub(super) struct PlaneMark<'a> {
    pub(super) landmark: &'a Landmark,
    pub(super) at: Point,
    /// Square of its 95 % error.
    error_m2: f64,
    /// Share of visibility that is left because it may not be there.
    standing: f64,
    height_m: Option<f64>,
}

/// What every pair is asked.
#[derive(Debug, Clone, Copy)]
pub(super) struct Asked<'a> {
    pub(super) question: &'a PairQuestion,
    /// Line and datum of the zone asked about, 95 %.
    pub(super) zone_doubt_m: f64,
    /// Tangent of the smallest opening that the eye sees.
    pub(super) threshold_tangent: f64,
}

/// A pair that runs along a side.
#[derive(Debug, Clone, Copy)]
pub(super) struct PlanePair {
    /// Places in the list of marks.
    pub(super) front: usize,
    pub(super) rear: usize,
    pub(super) near_m: f64,
    pub(super) far_m: f64,
    /// Mean distance of the line from the side, out of the zone.
    pub(super) given_away_m: f64,
    pub(super) covers: f64,
    pub(super) visibility: f64,
    /// The margin is no more than this: what it would be if the zone were this side only.
    pub(super) margin_at_most_m: f64,
    /// Its rank if it clears.
    pub(super) rank: f64,
}

impl<'a> PlaneMark<'a> {
    pub(super) fn new(landmark: &'a Landmark, plane: Plane, question: &PairQuestion) -> Self {
        let error_m = landmark.position_error_95.metres();
        Self {
            landmark,
            at: plane.point(landmark.position),
            error_m2: error_m * error_m,
            standing: standing_share(landmark, question.day),
            height_m: landmark.height.map(Metres::metres),
        }
    }
}

/// The line through two marks on the plane.
#[derive(Debug, Clone, Copy)]
struct PlaneLine<'a> {
    front: &'a PlaneMark<'a>,
    rear: &'a PlaneMark<'a>,
    separation_m: f64,
    /// One metre seaward.
    seaward: Point,
    /// One metre off the line, out of the zone.
    outward: Point,
    /// +1 if the side is walked seaward, −1 if shoreward.
    sense: f64,
}

impl<'a> PlaneLine<'a> {
    /// The line, if it runs along the side and its marks are not too close for their errors.
    fn along(side: &PlaneSide, front: &'a PlaneMark<'a>, rear: &'a PlaneMark<'a>) -> Option<Self> {
        let way = front.at.minus(rear.at);
        let square_m2 = way.dot(way);
        let (along_m, least_cos) = (way.dot(side.along), MOST_ANGLE_DEG.to_radians().cos());
        let too_close =
            front.error_m2 + rear.error_m2 > MOST_RELATIVE_ERROR * MOST_RELATIVE_ERROR * square_m2;
        if along_m * along_m < least_cos * least_cos * square_m2
            || too_close
            || square_m2 < LEAST_SEPARATION_M * LEAST_SEPARATION_M
        {
            return None;
        }
        let separation_m = square_m2.sqrt();
        let seaward = Point::ORIGIN.plus(way, 1.0 / separation_m);
        let right = seaward.to_the_right();
        let outward = if right.dot(side.outward) > 0.0 { right } else { Point::ORIGIN.minus(right) };
        Some(Self { front, rear, separation_m, seaward, outward, sense: along_m.signum() })
    }

    /// Whether the whole side lies out of reach, or the line runs so far inside of it that the pair does not nearly clear.
    fn misses(&self, side: &PlaneSide, question: &PairQuestion) -> bool {
        let (along_m, off_m) = self.place(side.middle);
        along_m + side.radius_m < question.reach.near().metres()
            || along_m - side.radius_m > question.reach.far().metres()
            || off_m + side.radius_m < -NEARLY_M
    }

    /// The distances from the front mark between which the line runs alongside, in reach and in range.
    fn stretch(&self, side: &PlaneSide, question: &PairQuestion) -> Option<(f64, f64)> {
        let (mut near_m, mut far_m) = (f64::INFINITY, f64::NEG_INFINITY);
        for corner in &side.corners {
            let (along_m, _) = self.place(*corner);
            near_m = near_m.min(along_m);
            far_m = far_m.max(along_m);
        }
        let range_m = question.range.metres();
        let (from_launch, middle_m) = (self.front.at, -self.front.at.dot(self.seaward));
        let square_m2 = middle_m * middle_m - from_launch.dot(from_launch) + range_m * range_m;
        if square_m2 <= 0.0 {
            return None;
        }
        let half_m = square_m2.sqrt();
        let near_m = near_m.max(question.reach.near().metres()).max(middle_m - half_m);
        let far_m = far_m.min(question.reach.far().metres()).min(middle_m + half_m);
        (far_m - near_m >= LEAST_COVER * side.length_m).then_some((near_m, far_m))
    }

    /// How far along the line a corner lies, and how far the line runs outside of it.
    fn place(&self, corner: Point) -> (f64, f64) {
        let from_front = corner.minus(self.front.at);
        (from_front.dot(self.seaward), -from_front.dot(self.outward))
    }

    /// Marks, eye and zone together at a distance, as [`crate::transit::RangeLine`] has them; infinite where the eye never
    /// sees the marks open so far.
    fn doubt_m(&self, away_m: f64, asked: &Asked<'_>) -> f64 {
        let offset_m = self.offset_m(away_m, asked);
        (self.marks_doubt_m2(away_m) + asked.zone_doubt_m * asked.zone_doubt_m).sqrt() + offset_m
    }

    fn marks_doubt_m2(&self, away_m: f64) -> f64 {
        let lever = away_m / self.separation_m;
        let of_front = 1.0 + lever;
        of_front * of_front * self.front.error_m2 + lever * lever * self.rear.error_m2
    }

    fn offset_m(&self, away_m: f64, asked: &Asked<'_>) -> f64 {
        let tangent = asked.threshold_tangent;
        let product_m2 = away_m * (away_m + self.separation_m);
        let under_root = self.separation_m * self.separation_m - 4.0 * tangent * tangent * product_m2;
        if under_root < 0.0 {
            return f64::INFINITY;
        }
        2.0 * tangent * product_m2 / (self.separation_m + under_root.sqrt())
    }

    /// The area between line and side over the stretch, and the least of distance less doubt.
    fn between(&self, side: &PlaneSide, (near_m, far_m): (f64, f64), asked: &Asked<'_>) -> (f64, f64) {
        let (mut area_m2, mut least_m) = (0.0, f64::INFINITY);
        let mut from = self.place(side.corners[0]);
        for corner in &side.corners[1..] {
            let to = self.place(*corner);
            let off_at = |away_m: f64| from.1 + (to.1 - from.1) * (away_m - from.0) / (to.0 - from.0);
            let (low_m, high_m) = (from.0.min(to.0).max(near_m), from.0.max(to.0).min(far_m));
            if low_m < high_m {
                let (low_off_m, high_off_m) = (off_at(low_m), off_at(high_m));
                area_m2 +=
                    (high_m - low_m) * low_off_m.midpoint(high_off_m) * self.sense * (to.0 - from.0).signum();
                least_m = least_m
                    .min(low_off_m - self.doubt_m(low_m, asked))
                    .min(high_off_m - self.doubt_m(high_m, asked));
            }
            from = to;
        }
        (area_m2, least_m)
    }
}

/// Judges one ordered pair against one side; none if it is no candidate.
pub(super) fn pair_on_side(
    side: &PlaneSide,
    marks: &[PlaneMark<'_>],
    (front, rear): (usize, usize),
    asked: &Asked<'_>,
) -> Option<PlanePair> {
    let line = PlaneLine::along(side, &marks[front], &marks[rear])?;
    if line.misses(side, asked.question) {
        return None;
    }
    let (near_m, far_m) = line.stretch(side, asked.question)?;
    let (area_m2, margin_at_most_m) = line.between(side, (near_m, far_m), asked);
    if margin_at_most_m < -NEARLY_M {
        return None;
    }
    let looked = Looked { separation_m: line.separation_m, near_m, far_m };
    let tops = Tops { front_m: line.front.height_m, rear_m: line.rear.height_m, eye: asked.question.eye };
    let visibility = line.front.standing * line.rear.standing * tops.share(looked);
    let given_away_m = area_m2 / (far_m - near_m);
    let covers = ((far_m - near_m) / side.length_m).min(1.0);
    let figures = Figures {
        given_away_m,
        offset_at_far_m: line.offset_m(far_m, asked),
        line_doubt_at_far_m: line.marks_doubt_m2(far_m).sqrt(),
        visibility,
        covers,
    };
    let rank = figures.score().whole();
    (visibility > 0.0).then_some(PlanePair {
        front,
        rear,
        near_m,
        far_m,
        given_away_m,
        covers,
        visibility,
        margin_at_most_m,
        rank,
    })
}
