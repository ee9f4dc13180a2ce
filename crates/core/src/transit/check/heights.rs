//! Marks whose tops are not seen: below the horizon, or hidden by the front mark.
//!
//! Where that begins and ends is the root of a quadratic equation, so no short part of the stretch is passed over.

use super::faults::{error, note, warning};
use crate::Metres;
use crate::transit::eye::seen_radius_m;
use crate::transit::{Problem, ProblemCode, TransitReport};

pub(super) fn find(report: &TransitReport, problems: &mut Vec<Problem>) {
    let line = &report.line;
    for mark in [line.front(), line.rear()] {
        if mark.height.is_none() {
            let text = format!(
                "the height of {} is not given, so whether it shows over horizon and front mark was not checked",
                mark.name
            );
            problems.push(note(ProblemCode::HeightNotGiven, text));
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
    let (front, rear) = (&line.front().name, &line.rear().name);
    match parts(report, &turns_m, hides) {
        Parts::Nowhere => {}
        Parts::Everywhere => {
            let text = format!(
                "{front} stands before {rear} and higher over the whole stretch, so {rear} is not seen over it; perhaps the \
                 two are exchanged"
            );
            problems.push(error(ProblemCode::FrontHidesRear, text));
        }
        Parts::These(words) => {
            let text = format!("{words} off, {front} hides {rear}");
            problems.push(warning(ProblemCode::FrontHidesRear, text));
        }
    }
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
        let high_m = eye.height().metres();
        match parts(report, &[goes_under_m], below) {
            Parts::Nowhere => {}
            Parts::Everywhere => {
                let text = format!("{} is below the horizon of an eye {high_m} m high", mark.name);
                problems.push(error(ProblemCode::BelowHorizon, text));
            }
            Parts::These(words) => {
                let text = format!(
                    "{words} off, {} is below the horizon of an eye {high_m} m high; in a trough sooner",
                    mark.name
                );
                problems.push(warning(ProblemCode::BelowHorizon, text));
            }
        }
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
    /// "from 200 m to 910 m and from 4000 m to 5000 m"
    These(String),
}

/// The parts over which something holds that changes only at these distances from the front mark.
fn parts(report: &TransitReport, turns_m: &[f64], holds: impl Fn(f64) -> bool) -> Parts {
    let (near_m, far_m) = (report.question.stretch.near().metres(), report.question.stretch.far().metres());
    let mut cuts_m = vec![near_m];
    cuts_m.extend(turns_m.iter().filter(|turn_m| (near_m..far_m).contains(*turn_m)));
    cuts_m.push(far_m);
    let all: Vec<(f64, f64)> = cuts_m.windows(2).map(|ends| (ends[0], ends[1])).collect();
    let these: Vec<(f64, f64)> =
        all.iter().copied().filter(|(from_m, to_m)| holds(from_m.midpoint(*to_m))).collect();
    if these.is_empty() {
        Parts::Nowhere
    } else if these.len() == all.len() {
        Parts::Everywhere
    } else {
        let words = these.iter().map(|(from_m, to_m)| format!("from {from_m:.0} m to {to_m:.0} m"));
        Parts::These(words.collect::<Vec<_>>().join(" and "))
    }
}
