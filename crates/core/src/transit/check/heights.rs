//! Marks whose tops are not seen: below the horizon, or hidden by the front mark.
//!
//! Where that begins and ends is the root of a quadratic equation, so no short part of the stretch is passed over.

use crate::Metres;
use crate::transit::eye::seen_radius_m;
use crate::transit::{Problem, ProblemReason, TransitReport};

pub(super) fn find(report: &TransitReport, problems: &mut Vec<Problem>) {
    let line = &report.line;
    for mark in [line.front(), line.rear()] {
        if mark.height.is_none() {
            problems.push(Problem::note(ProblemReason::HeightNotGiven { mark: mark.name.clone() }));
        }
    }
    horizon(report, problems);
    front_hides_rear(report, problems);
}

fn front_hides_rear(report: &TransitReport, problems: &mut Vec<Problem>) {
    let line = &report.line;
    let Some((front_top, rear_top)) = line.front().height.zip(line.rear().height) else { return };
    let (eye, separation_m) = (report.question.eye, line.separation().metres());
    let hides = |away_m: f64| {
        let front = eye.sight(front_top, Metres::computed(away_m)).elevation;
        eye.sight(rear_top, Metres::computed(away_m + separation_m)).elevation <= front
    };
    // slope to the front top less slope to the rear top, times D·(D+S): curvature brings the rear mark down by S/2R
    let (front_m, rear_m) =
        (front_top.metres() - eye.height().metres(), rear_top.metres() - eye.height().metres());
    let down = separation_m / (2.0 * seen_radius_m());
    let turns_m = roots(down, front_m - rear_m + down * separation_m, front_m * separation_m);
    let (front, rear) = (line.front().name.clone(), line.rear().name.clone());
    problems.extend(match parts(report, &turns_m, hides) {
        Parts::Nowhere => None,
        Parts::Everywhere => Some(Problem::error(ProblemReason::FrontHidesRear { front, rear })),
        Parts::These(parts_m) => {
            Some(Problem::warning(ProblemReason::FrontHidesRearInPart { front, rear, parts_m }))
        }
    });
}

fn horizon(report: &TransitReport, problems: &mut Vec<Problem>) {
    let (line, eye) = (&report.line, report.question.eye);
    let behind_m = line.separation().metres();
    for (mark, behind_m) in [(line.front(), 0.0), (line.rear(), behind_m)] {
        let Some(height) = mark.height else { continue };
        // a stone painted at the water's edge has no height and is in sight until the horizon all the same
        let below = |away_m: f64| height < eye.hidden_height(Metres::computed(away_m + behind_m));
        let over_m = (2.0 * seen_radius_m() * height.metres().max(0.0)).sqrt();
        let goes_under_m = eye.horizon().metres() + over_m - behind_m;
        let (mark, eye_height_m) = (mark.name.clone(), eye.height().metres());
        problems.extend(match parts(report, &[goes_under_m], below) {
            Parts::Nowhere => None,
            Parts::Everywhere => Some(Problem::error(ProblemReason::BelowHorizon { mark, eye_height_m })),
            Parts::These(parts_m) => {
                Some(Problem::warning(ProblemReason::BelowHorizonInPart { mark, eye_height_m, parts_m }))
            }
        });
    }
}

/// The zeros of a·x² + b·x + c, the smaller one first; none if there are none.
fn roots(a: f64, b: f64, c: f64) -> Vec<f64> {
    let under_root = b * b - 4.0 * a * c;
    if under_root < 0.0 {
        return Vec::new();
    }
    // the form that subtracts nothing from its like
    let larger = -0.5 * (b + under_root.sqrt().copysign(b));
    let mut found: Vec<f64> = [larger / a, c / larger].into_iter().filter(|root| root.is_finite()).collect();
    found.sort_by(f64::total_cmp);
    found
}

/// Over which parts of the stretch something holds.
enum Parts {
    Nowhere,
    Everywhere,
    /// From where to where, in metres.
    These(Vec<[f64; 2]>),
}

/// The parts over which something holds that changes only at these distances from the front mark.
fn parts(report: &TransitReport, turns_m: &[f64], holds: impl Fn(f64) -> bool) -> Parts {
    let (near_m, far_m) = (report.question.stretch.near().metres(), report.question.stretch.far().metres());
    let mut cuts_m = vec![near_m];
    cuts_m.extend(turns_m.iter().filter(|turn_m| (near_m..far_m).contains(*turn_m)));
    cuts_m.push(far_m);
    let all: Vec<[f64; 2]> = cuts_m.windows(2).map(|ends| [ends[0], ends[1]]).collect();
    let these: Vec<[f64; 2]> =
        all.iter().copied().filter(|[from_m, to_m]| holds(from_m.midpoint(*to_m))).collect();
    if these.is_empty() {
        Parts::Nowhere
    } else if these.len() == all.len() {
        Parts::Everywhere
    } else {
        Parts::These(these)
    }
}
