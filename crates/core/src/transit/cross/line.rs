//! What each kind of line of position says at a place, and how well.

use crate::angle::wrap_degrees;
use crate::fix::NORMAL_95;
use crate::geodesic::{EQUATORIAL_RADIUS_M, inverse};
use crate::landmark::Landmark;
use crate::transit::{CrossError, Eye, LineName, LineOfPosition, RangeLine, Stretch};
use crate::{Metres, Position};

/// Nobody in a small craft takes a line of a mark farther away, in metres.
pub(super) const FARTHEST_M: f64 = Stretch::LONGEST_M;
/// A place this near to a mark is the mark, in metres: circles through a shared mark meet there too.
pub(super) const ON_A_MARK_M: f64 = 0.5;

/// One line of position as it looks from a place.
///
/// The residual is in metres for a transit and in radians for bearings and angles; everything else follows it.
#[derive(Debug, Clone)]
pub(super) struct Observed {
    /// What the place would show, less what was seen.
    pub(super) residual: f64,
    /// How the residual grows with each metre east and north.
    pub(super) gradient: [f64; 2],
    /// Variance of the observation itself, and of marks that are not told apart.
    pub(super) variance: f64,
    /// What the marks' places do to it.
    pub(super) marks: Vec<MarkEffect>,
    /// Whether the place lies where the line is seen: before the front mark, not on the back bearing, not across the chord.
    pub(super) before_marks: bool,
    /// Distance to the nearest of its marks, in metres.
    pub(super) nearest_mark_m: f64,
}

/// What one standard error of a mark's place, east and north, does to a residual.
#[derive(Debug, Clone, Copy)]
pub(super) struct MarkEffect {
    pub(super) mark: Position,
    pub(super) effect: [f64; 2],
}

impl LineOfPosition {
    /// Refuses figures that no observation has; the fields are public, so nothing is taken for granted.
    pub(super) fn check(&self) -> Result<(), CrossError> {
        let (angle_deg, error_deg) = match self {
            Self::Transit { .. } => return Ok(()),
            Self::Bearing { standard_error_deg, .. } => (None, *standard_error_deg),
            Self::HorizontalAngle { angle_deg, standard_error_deg, .. } => {
                (Some(*angle_deg), *standard_error_deg)
            }
        };
        if let Self::HorizontalAngle { left, right, .. } = self
            && inverse(left.position, right.position).distance_m < ON_A_MARK_M
        {
            return Err(CrossError::OnePlace { left: left.name.clone(), right: right.name.clone() });
        }
        if let Some(value_deg) = angle_deg.filter(|angle| !(*angle > 0.0 && *angle < 180.0)) {
            return Err(CrossError::Angle { line: self.name(), value_deg });
        }
        if !(error_deg > 0.0 && error_deg < 45.0) {
            return Err(CrossError::StandardError { line: self.name(), value_deg: error_deg });
        }
        Ok(())
    }

    /// Its name.
    pub(super) fn name(&self) -> LineName {
        match self {
            Self::Transit { line, .. } => {
                LineName::Transit { front: line.front().name.clone(), rear: line.rear().name.clone() }
            }
            Self::Bearing { mark, .. } => LineName::Bearing { mark: mark.name.clone() },
            Self::HorizontalAngle { left, right, .. } => {
                LineName::HorizontalAngle { left: left.name.clone(), right: right.name.clone() }
            }
        }
    }

    /// Its marks, one or two.
    pub(super) fn marks(&self) -> (&Landmark, Option<&Landmark>) {
        match self {
            Self::Transit { line, .. } => (line.front(), Some(line.rear())),
            Self::Bearing { mark, .. } => (mark, None),
            Self::HorizontalAngle { left, right, .. } => (left, Some(right)),
        }
    }

    /// Looks along it from a place.
    pub(super) fn seen_at(&self, place: Position) -> Observed {
        match self {
            Self::Transit { line, eye } => transit(line, *eye, place),
            Self::Bearing { mark, bearing, standard_error_deg } => {
                let sight = Sighting::of(mark, place);
                Observed {
                    residual: sight.turned_deg(bearing.degrees()).to_radians(),
                    gradient: sight.gradient(Some(place)),
                    variance: standard_error_deg.to_radians().powi(2),
                    marks: vec![sight.effect(mark, 1.0)],
                    before_marks: sight.turned_deg(bearing.degrees()).abs() < 90.0,
                    nearest_mark_m: sight.distance_m,
                }
            }
            Self::HorizontalAngle { left, right, angle_deg, standard_error_deg } => {
                let (at_left, at_right) = (Sighting::of(left, place), Sighting::of(right, place));
                let shown_deg = at_right.turned_deg(at_left.azimuth_deg);
                let ([left_east, left_north], [right_east, right_north]) =
                    (at_left.gradient(None), at_right.gradient(None));
                Observed {
                    residual: wrap_degrees(shown_deg - angle_deg).to_radians(),
                    gradient: [right_east - left_east, right_north - left_north],
                    variance: standard_error_deg.to_radians().powi(2),
                    marks: vec![at_left.effect(left, -1.0), at_right.effect(right, 1.0)],
                    before_marks: shown_deg > 0.0,
                    nearest_mark_m: at_left.distance_m.min(at_right.distance_m),
                }
            }
        }
    }
}

/// One mark from a place.
struct Sighting {
    distance_m: f64,
    azimuth_deg: f64,
    /// The same direction where it comes to the mark.
    azimuth_there_deg: f64,
}

impl Sighting {
    fn of(mark: &Landmark, place: Position) -> Self {
        let to_mark = inverse(place, mark.position);
        Self {
            distance_m: to_mark.distance_m,
            azimuth_deg: to_mark.azimuth_start_deg,
            azimuth_there_deg: to_mark.azimuth_end_deg,
        }
    }

    /// How far the mark lies to the right of a direction.
    fn turned_deg(&self, from_deg: f64) -> f64 {
        wrap_degrees(self.azimuth_deg - from_deg)
    }

    /// How the bearing grows with each metre that the observer goes east and north, in radians.
    ///
    /// Going to the right turns the mark to the left. With a place, north turns too: by the convergence of the meridians,
    /// which counts near the poles; the difference of two bearings does not see it.
    fn gradient(&self, place: Option<Position>) -> [f64; 2] {
        let (sin, cos) = self.azimuth_deg.to_radians().sin_cos();
        let away = (self.distance_m / EQUATORIAL_RADIUS_M).max(1e-12);
        let per_metre = 1.0 / (EQUATORIAL_RADIUS_M * away.tan());
        let convergence = place.map_or(0.0, |place| place.latitude().radians().tan() / EQUATORIAL_RADIUS_M);
        [convergence - cos * per_metre, sin * per_metre]
    }

    /// What the place of the mark does to its bearing, taken so many times.
    fn effect(&self, mark: &Landmark, times: f64) -> MarkEffect {
        let sigma_m = mark.position_error_95.metres() / NORMAL_95;
        let radians = times * sigma_m / self.distance_m.max(1e-6);
        let (sin, cos) = self.azimuth_there_deg.to_radians().sin_cos();
        MarkEffect { mark: mark.position, effect: [cos * radians, -sin * radians] }
    }
}

fn transit(line: &RangeLine, eye: Eye, place: Position) -> Observed {
    let on_line = line.place(place);
    let along_m = on_line.distance_from_front.metres();
    let away = Metres::computed(along_m.max(1.0));
    let right_deg = line.bearing_at(on_line.distance_from_front).degrees() + 90.0;
    let (sin, cos) = right_deg.to_radians().sin_cos();
    let eye_m = eye_offset_m(line, eye, away) / NORMAL_95;
    let of_marks_m = line.uncertainty_95(away).metres() / NORMAL_95;
    let lever = away.metres() / line.separation().metres();
    let marks = [(line.front(), -1.0 - lever), (line.rear(), lever)].map(|(mark, times)| {
        let times_m = times * mark.position_error_95.metres() / NORMAL_95;
        MarkEffect { mark: mark.position, effect: [sin * times_m, cos * times_m] }
    });
    let independent_m2: f64 = marks.iter().map(|mark| mark.effect[0].powi(2) + mark.effect[1].powi(2)).sum();
    // a line known from calibration is better or worse known than its marks say, and then stands for itself
    let from_marks = (independent_m2.sqrt() - of_marks_m).abs() <= 1e-6 * (of_marks_m + 1e-6);
    let (marks, of_line_m2) =
        if from_marks { (marks.to_vec(), 0.0) } else { (Vec::new(), of_marks_m * of_marks_m) };
    Observed {
        residual: on_line.to_the_right.metres(),
        gradient: [sin, cos],
        variance: eye_m * eye_m + of_line_m2,
        marks,
        before_marks: along_m > 0.0,
        nearest_mark_m: along_m.hypot(on_line.to_the_right.metres()),
    }
}

/// How far off the line the eye may be and not see it; where the marks never open so far, the linear law doubled, which
/// carries on from where the exact one ends.
fn eye_offset_m(line: &RangeLine, eye: Eye, away: Metres) -> f64 {
    line.offset_for(away, eye.threshold()).map_or_else(
        || {
            let separation_m = line.separation().metres();
            let product_m2 = away.metres() * (away.metres() + separation_m);
            2.0 * eye.threshold().radians().tan() * product_m2 / separation_m
        },
        Metres::metres,
    )
}
