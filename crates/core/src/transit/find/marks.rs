//! What the marks themselves are worth: are they seen, one over the other, and will they be there.

use jiff::civil::Date;

use crate::Metres;
use crate::landmark::Landmark;
use crate::transit::{Eye, PairQuestion, Problem, ProblemReason, RangeLine, Stretch, problem};

/// Shares of visibility that are left for what is wrong with a mark or a pair (common practice, no source).
const HEIGHT_UNKNOWN: f64 = 0.7;
const HIDDEN_IN_PART: f64 = 0.3;
const BELOW_AT_THE_FAR_END: f64 = 0.3;
const MOVABLE: f64 = 0.7;
const UNCONFIRMED: f64 = 0.8;
/// The share of the separation that errors may be for a pair to be ranked at all (common practice, no source).
pub(super) const MOST_RELATIVE_ERROR: f64 = 0.2;
/// Errors that are more than this share of the separation are told (common practice, no source).
const RELATIVE_ERROR_TOLD: f64 = 0.1;

/// How far two marks stand apart, and from which distances they are looked at.
#[derive(Debug, Clone, Copy)]
#[expect(clippy::struct_field_names, reason = "the unit ends the name of every bare number")]
pub(super) struct Looked {
    pub(super) separation_m: f64,
    pub(super) near_m: f64,
    pub(super) far_m: f64,
}

impl Looked {
    fn places_m(self) -> [f64; 3] {
        [self.near_m, self.near_m.midpoint(self.far_m), self.far_m]
    }
}

/// Heights of two marks, as far as they are known, seen by one eye.
#[derive(Debug, Clone, Copy)]
pub(super) struct Tops {
    pub(super) front_m: Option<f64>,
    pub(super) rear_m: Option<f64>,
    pub(super) eye: Eye,
}

impl Tops {
    pub(super) fn of(front: &Landmark, rear: &Landmark, eye: Eye) -> Self {
        Self { front_m: front.height.map(Metres::metres), rear_m: rear.height.map(Metres::metres), eye }
    }

    /// How far the rear mark shows over the front one, in minutes of arc.
    fn rear_over_front_arcmin(self, away_m: f64, separation_m: f64) -> Option<f64> {
        let elevation = |top_m: f64, away_m: f64| {
            self.eye.sight(Metres::computed(top_m), Metres::computed(away_m)).elevation.arcmin()
        };
        Some(elevation(self.rear_m?, away_m + separation_m) - elevation(self.front_m?, away_m))
    }

    /// At how many of near end, middle and far end the front mark stands before the rear one; none if a height is unknown.
    fn hidden_at(self, looked: Looked) -> Option<usize> {
        let mut hidden = 0;
        for away_m in looked.places_m() {
            hidden += usize::from(self.rear_over_front_arcmin(away_m, looked.separation_m)? <= 0.0);
        }
        Some(hidden)
    }

    fn is_below(self, top_m: Option<f64>, away_m: f64) -> bool {
        top_m.is_some_and(|top_m| !self.eye.sight(Metres::computed(top_m), Metres::computed(away_m)).in_sight)
    }

    /// The share of visibility that heights, curvature and refraction leave; 0 if a mark is never seen.
    pub(super) fn share(self, looked: Looked) -> f64 {
        let over = match self.hidden_at(looked) {
            None => HEIGHT_UNKNOWN,
            Some(0) => 1.0,
            Some(1 | 2) => HIDDEN_IN_PART,
            Some(_) => return 0.0,
        };
        let mut share = over;
        for (top_m, behind_m) in [(self.front_m, 0.0), (self.rear_m, looked.separation_m)] {
            if self.is_below(top_m, looked.near_m + behind_m) {
                return 0.0;
            }
            if self.is_below(top_m, looked.far_m + behind_m) {
                share *= BELOW_AT_THE_FAR_END;
            }
        }
        share
    }
}

/// The share of visibility that is left because a mark may not be there.
pub(super) fn standing_share(mark: &Landmark, day: Option<Date>) -> f64 {
    let stays = if mark.fixed == Some(false) { MOVABLE } else { 1.0 };
    stays * if problem::is_unconfirmed(mark, day) { UNCONFIRMED } else { 1.0 }
}

/// What is wrong with the marks of a line, the worst first.
pub(super) fn problems(line: &RangeLine, stretch: Stretch, question: &PairQuestion) -> Vec<Problem> {
    let looked = Looked {
        separation_m: line.separation().metres(),
        near_m: stretch.near().metres(),
        far_m: stretch.far().metres(),
    };
    let mut found = Vec::new();
    found.extend(too_close(line, stretch));
    found.extend(sight_problems(line, looked, question.eye));
    for mark in [line.front(), line.rear()] {
        found.extend(problem::problems_of(mark, question.day));
        found.extend(height_problem(mark));
    }
    found.sort_by_key(|problem| problem.severity);
    found
}

fn too_close(line: &RangeLine, stretch: Stretch) -> Option<Problem> {
    (line.relative_error() > RELATIVE_ERROR_TOLD).then(|| {
        Problem::warning(ProblemReason::PairTooUncertain {
            front: line.front().name.clone(),
            rear: line.rear().name.clone(),
            separation_m: line.separation().metres(),
            far_m: stretch.far().metres(),
            line_uncertainty_95_m: line.uncertainty_95(stretch.far()).metres(),
        })
    })
}

fn sight_problems(line: &RangeLine, looked: Looked, eye: Eye) -> Vec<Problem> {
    let (front, rear) = (line.front(), line.rear());
    let tops = Tops::of(front, rear, eye);
    let mut found = Vec::new();
    if let Some(hidden @ 1..) = tops.hidden_at(looked) {
        found.push(Problem::warning(ProblemReason::FrontBeforeRear {
            front: front.name.clone(),
            rear: rear.name.clone(),
            whole_stretch: hidden == looked.places_m().len(),
        }));
    }
    for (mark, top_m, behind_m) in [(front, tops.front_m, 0.0), (rear, tops.rear_m, looked.separation_m)] {
        let distance_m = looked.far_m + behind_m;
        if tops.is_below(top_m, distance_m) {
            let mark = mark.name.clone();
            found.push(Problem::warning(ProblemReason::BelowHorizonAtFarEnd { mark, distance_m }));
        }
    }
    found
}

fn height_problem(mark: &Landmark) -> Option<Problem> {
    let reason = || ProblemReason::PairHeightNotGiven { mark: mark.name.clone() };
    mark.height.is_none().then(|| Problem::note(reason()))
}
