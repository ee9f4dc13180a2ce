//! What is wrong with two marks, or with the line through them, for what they are to be used for.

use jiff::tz::TimeZone;

use super::along::{Along, Least};
use super::figures::rounded_m;
use super::verdict::counted;
use super::{heights, light};
use crate::binding::ZoneHere;
use crate::boundary::Off;
use crate::geodesic::direct;
use crate::transit::{
    LinePoint, Meets, NEAR_M, Problem, ProblemCode, RangeLine, Severity, TransitReport, WorkingArea,
    ZoneOnLine, area_in_words, standing,
};
use crate::zone::{Extent, ZoneSet};
use crate::{Metres, Position, Tristate, TrueBearing};

/// A stretch may reach so many separations off the front mark before the marks count as too near to each other: the rule
/// that they should lie a third of the distance off apart (common practice, no source).
const SEPARATIONS_OFF: f64 = 3.0;
/// Above this share of the separation the marks' errors make the figures of the doubt too small.
const RELATIVE_ERROR_LIMIT: f64 = 0.2;
/// Below this angle, in degrees, a crossing shows no place (common practice, no source: as for an angle of cut).
const SHALLOW_DEG: f64 = 30.0;
/// How long a course from the launch is followed to see where it meets the line, in metres.
const COURSE_M: f64 = 20_000.0;
/// Water inside a zone, from which the marks do not say so, is a warning above this share of the working area; below it is
/// rounding.
const FALSE_SAFE_SHARE: f64 = 1e-6;

/// Finds every problem, the worst first.
pub(super) fn find(report: &TransitReport, zones: &ZoneSet) -> Vec<Problem> {
    let mut problems = Vec::new();
    order_of_marks(report, zones, &mut problems);
    too_close(report, &mut problems);
    heights::find(report, &mut problems);
    angles(report, &mut problems);
    zones_about(report, zones, &mut problems);
    launch(report, zones, &mut problems);
    false_clear(report, &mut problems);
    let day = report.question.time.map(|time| TimeZone::UTC.to_datetime(time).date());
    for mark in [report.line.front(), report.line.rear()] {
        problems.extend(standing::problems_of(mark, day));
    }
    problems.extend(light::find(report));
    variation(report, &mut problems);
    let text = "headlands, buildings and trees between you and the marks are not known; look before you rely on them";
    problems.push(note(ProblemCode::TerrainNotChecked, text));
    problems.sort_by_key(|problem| problem.severity);
    problems
}

/// Share of a movement that goes across a line: 1 square to it, 0 along it.
pub(super) fn across(towards: TrueBearing, line: TrueBearing) -> f64 {
    (towards.degrees() - line.degrees()).to_radians().sin().abs()
}

pub(super) fn error(code: ProblemCode, text: impl Into<String>) -> Problem {
    Problem { code, severity: Severity::Error, text: text.into() }
}

pub(super) fn warning(code: ProblemCode, text: impl Into<String>) -> Problem {
    Problem { code, severity: Severity::Warning, text: text.into() }
}

pub(super) fn note(code: ProblemCode, text: impl Into<String>) -> Problem {
    Problem { code, severity: Severity::Note, text: text.into() }
}

/// Swapped marks, and an observer between them: the working area and the course from the launch tell where they are used.
fn order_of_marks(report: &TransitReport, zones: &ZoneSet, problems: &mut Vec<Problem>) {
    let line = &report.line;
    let (front, rear) = (&line.front().name, &line.rear().name);
    let swapped = |who: &str| {
        error(
            ProblemCode::MarksSwapped,
            format!("{who} lies beyond {rear}, so {rear} is the front mark there; exchange front and rear"),
        )
    };
    let between = |who: &str| {
        error(
            ProblemCode::BetweenMarks,
            format!("{who} lies between {front} and {rear}, where they cannot be seen in line"),
        )
    };
    let places = places_of_use(report);
    for (who, along_m) in &places {
        let along_m = *along_m;
        if along_m < -line.separation().metres() {
            problems.push(swapped(who));
        } else if along_m <= 0.0 {
            problems.push(between(who));
        }
    }
    // who says where the marks are used, and is right there, is not asked again
    if places.is_empty() && looks_swapped(report, zones) {
        let text = format!(
            "no zone lies near the stretch before {front}, but one does on the far side of {rear}; if you fish there, \
             exchange front and rear"
        );
        problems.push(error(ProblemCode::PerhapsSwapped, text));
    }
}

/// Where the marks are to be used, as distances along the line.
fn places_of_use(report: &TransitReport) -> Vec<(&'static str, f64)> {
    let mut places = Vec::new();
    if let WorkingArea::Within(boundary) = &report.question.area {
        let along = |position: &Position| report.line.place(*position).distance_from_front.metres();
        let farthest = boundary.outlines().iter().flatten().map(along).fold(f64::NEG_INFINITY, f64::max);
        places.push(("the working area", farthest));
    }
    if let Some((launch, heading)) = report.question.launch.zip(report.question.heading) {
        places.extend(
            crossing_of_course(&report.line, launch, heading)
                .map(|along_m| ("the place where your course crosses the line", along_m)),
        );
    }
    places
}

/// Where a straight course from the launch crosses the line through the marks; none within [`COURSE_M`].
fn crossing_of_course(line: &RangeLine, launch: Position, heading: TrueBearing) -> Option<f64> {
    let off_m = |made_m: f64| line.place(direct(launch, heading.degrees(), made_m)).to_the_right.metres();
    let (mut low_m, mut high_m) = (0.0, COURSE_M);
    let starts_right = off_m(low_m) > 0.0;
    if (off_m(high_m) > 0.0) == starts_right {
        return None;
    }
    while high_m - low_m > 0.1 {
        let middle_m = f64::midpoint(low_m, high_m);
        if (off_m(middle_m) > 0.0) == starts_right {
            low_m = middle_m;
        } else {
            high_m = middle_m;
        }
    }
    Some(line.place(direct(launch, heading.degrees(), high_m)).distance_from_front.metres())
}

/// Whether zones lie near the stretch that exchanged marks would have, and none near the stretch as given.
fn looks_swapped(report: &TransitReport, zones: &ZoneSet) -> bool {
    if !report.zones.iter().all(is_far) {
        return false;
    }
    let (line, stretch) = (&report.line, report.question.stretch);
    let Ok(line) = RangeLine::through(line.rear().clone(), line.front().clone()) else { return false };
    let reach_m = stretch.length().metres() / 2.0 + NEAR_M;
    let near = zones.near_numbered(line.at(stretch.middle()), Metres::computed(reach_m));
    counted(zones, &report.question).any(|(number, zone)| {
        let Extent::Known(boundary) = &zone.extent else { return false };
        let eye = report.question.eye;
        let along = Along { line: &line, boundary, zone_doubt_m: 0.0, closure_error_m: 0.0, eye, stretch };
        near.iter().any(|(other, _)| *other == number)
            && along.least(Least::Distance).signed_distance.metres() <= NEAR_M
    })
}

fn too_close(report: &TransitReport, problems: &mut Vec<Problem>) {
    let line = &report.line;
    let far = report.question.stretch.far();
    let separation_m = line.separation().metres();
    let doubt_m = rounded_m(line.uncertainty_95(far).metres(), f64::round);
    if line.offset_for(far, report.question.eye.threshold()).is_none() {
        let text = format!(
            "the marks stand only {separation_m:.0} m apart, so {:.0} m off the eye never sees them open, however far off \
             the line; find marks farther apart, or keep nearer to them",
            far.metres()
        );
        problems.push(error(ProblemCode::MarksTooClose, text));
    } else if line.relative_error() > RELATIVE_ERROR_LIMIT {
        let text = format!(
            "the marks stand only {separation_m:.0} m apart and their places are not known well enough: {:.0} m off the \
             line may be off by ±{doubt_m:.0} m and more; find marks farther apart, or survey these",
            far.metres()
        );
        problems.push(error(ProblemCode::MarksTooClose, text));
    } else if far.metres() > SEPARATIONS_OFF * separation_m {
        let text = format!(
            "the marks stand {separation_m:.0} m apart, less than a third of the {:.0} m to the far end, where the line \
             may be off by ±{doubt_m:.0} m",
            far.metres()
        );
        problems.push(warning(ProblemCode::MarksTooClose, text));
    }
}

/// Angles to the boundary, to the drift and to the course.
fn angles(report: &TransitReport, problems: &mut Vec<Problem>) {
    for zone in &report.zones {
        let shallow = zone
            .meetings
            .iter()
            .find(|meeting| meeting.what != Meets::Touches && meeting.angle_deg < SHALLOW_DEG);
        if let Some(meeting) = shallow {
            let text = format!(
                "the line crosses the boundary of {} at only {:.0}°, {:.0} m off, which shows no place",
                zone.name,
                meeting.angle_deg,
                meeting.distance_from_front.metres()
            );
            problems.push(warning(ProblemCode::ObliqueToBoundary, text));
        }
    }
    leaves_the_boundary(report, problems);
    let line = report.bearing;
    let ways = [("drift", report.question.drift.towards), ("heading", report.question.heading)];
    for (what, way) in ways {
        let Some(way) = way else { continue };
        let angle_deg = across(way, line).asin().to_degrees();
        if angle_deg < SHALLOW_DEG {
            let text = format!(
                "the {what} of {way} makes only {angle_deg:.0}° with the line, so the marks open late"
            );
            problems.push(warning(ProblemCode::ObliqueToDrift, text));
        }
    }
}

/// A line that runs away from the boundary it is for gives water away at its far end.
fn leaves_the_boundary(report: &TransitReport, problems: &mut Vec<Problem>) {
    let Some(zone) = report.zones.first().filter(|zone| zone.meetings.is_empty()) else { return };
    let Some((near, far)) = zone.near.zip(zone.far) else { return };
    let apart_m = far.signed_distance.metres() - near.signed_distance.metres();
    let sine = (apart_m / report.question.stretch.length().metres()).abs().min(1.0);
    let angle_deg = sine.asin().to_degrees();
    if angle_deg >= SHALLOW_DEG {
        let off = |point: &LinePoint| {
            let signed_m = point.signed_distance.metres();
            let side = if signed_m < 0.0 { "inside" } else { "outside" };
            format!("{:.0} m {side}", signed_m.abs())
        };
        let text = format!(
            "the line runs at {angle_deg:.0}° to the boundary of {}: {} at the near end, {} at the far end",
            zone.name,
            off(&near),
            off(&far)
        );
        problems.push(warning(ProblemCode::ObliqueToBoundary, text));
    }
}

fn zones_about(report: &TransitReport, zones: &ZoneSet, problems: &mut Vec<Problem>) {
    if report.zones.is_empty() {
        let text = "no zone was loaded that counts, so the line shows no limit";
        problems.push(warning(ProblemCode::NoZoneNear, text));
        return;
    }
    if report.zones.iter().all(is_far) {
        let text = format!(
            "no zone lies within {:.0} km of the stretch, so the line shows no limit",
            NEAR_M / 1000.0
        );
        problems.push(warning(ProblemCode::NoZoneNear, text));
        return;
    }
    sides(report, problems);
    for zone in report.zones.iter().filter(|zone| zone.worst.is_none()) {
        let reason = match &zones.zones()[zone.zone_number].extent {
            Extent::Unknown { reason, .. } => reason.as_str(),
            Extent::Known(_) => "no reason given",
        };
        let text = format!("the line of {} is not known ({reason}), so nothing clears it here", zone.name);
        problems.push(warning(ProblemCode::ZoneLineNotKnown, text));
    }
}

/// Whether a zone is too far to matter: not near, and not where the line may stray to.
fn is_far(zone: &ZoneOnLine) -> bool {
    let is_near = zone.closest.is_none_or(|closest| closest.signed_distance.metres() <= NEAR_M);
    !is_near && zone.clears == Tristate::Yes
}

/// Zones on both sides of the line, and across it.
fn sides(report: &TransitReport, problems: &mut Vec<Problem>) {
    let Some(first) = report.zones.iter().find(|zone| zone.worst.is_some()) else { return };
    if report.opens.is_none() {
        let text = format!(
            "{} lies on both sides of the line, or straight along it, so no side of the marks says inside",
            first.name
        );
        problems.push(warning(ProblemCode::ZonesOnBothSides, text));
    }
    let opens = report.opens.as_ref().map(|opens| opens.rear_shows);
    let others = report.zones.iter().filter(|zone| zone.zone_number != first.zone_number);
    for zone in others {
        let Some(closest_m) = zone.closest.map(|closest| closest.signed_distance.metres()) else { continue };
        if closest_m < 0.0 || !zone.meetings.is_empty() {
            let text = format!("{} lies across the line too", zone.name);
            problems.push(warning(ProblemCode::CutByAnotherZone, text));
        } else if closest_m <= NEAR_M / 4.0 && opens.zip(zone.inside).is_some_and(|(one, other)| one != other)
        {
            let text = format!("{} lies on the other side of the line than {}", zone.name, first.name);
            problems.push(warning(ProblemCode::ZonesOnBothSides, text));
        }
    }
}

/// Launching inside a closed zone is usual; how one may cross it is worth a line.
fn launch(report: &TransitReport, zones: &ZoneSet, problems: &mut Vec<Problem>) {
    let Some(launch) = report.question.launch else { return };
    let inside = |(number, off): (usize, Off)| {
        let is_known = matches!(zones.zones()[number].extent, Extent::Known(_));
        (is_known && off.far.signed_distance.metres() < 0.0)
            .then_some(ZoneHere { number, inside: Tristate::Yes })
    };
    let near = zones.near_numbered(launch, Metres::ZERO);
    let here: Vec<ZoneHere> = near.into_iter().filter_map(inside).collect();
    for binding in zones.binding_zones(&here, report.question.time, None) {
        if binding.binds != Tristate::No {
            let zone = &zones.zones()[binding.number];
            let mut text = format!("the launch lies inside {}", zone.name);
            for condition in zone.rule.to_cross() {
                text.push_str("; ");
                text.push_str(&super::to_cross_words::to_cross(&condition));
            }
            problems.push(note(ProblemCode::LaunchInsideZone, text));
        }
    }
}

fn false_clear(report: &TransitReport, problems: &mut Vec<Problem>) {
    let Some(water) = &report.water else { return };
    // of a large zone a small one on the clear side is no share worth naming, and yet it is water to be fined in
    let least_m2 = (FALSE_SAFE_SHARE * water.area_m2).max(1.0);
    let (clear_m2, in_line_m2) = (water.false_clear_open_m2, water.false_clear_in_line_m2);
    let text = match (clear_m2 > least_m2, in_line_m2 > least_m2) {
        _ if water.area_m2.is_nan() => {
            "over how much of the working area the marks hide a zone could not be worked out".to_owned()
        }
        (true, _) => format!(
            "inside a zone the marks look clear over {} of the working area, and in line over {}",
            area_in_words(clear_m2),
            area_in_words(in_line_m2)
        ),
        // the eye sees no opening until the boat is inside
        (false, true) => format!(
            "inside a zone the marks still look in line over {} of the working area",
            area_in_words(in_line_m2)
        ),
        (false, false) => return,
    };
    problems.push(warning(ProblemCode::FalseSafeWater, text));
}

fn variation(report: &TransitReport, problems: &mut Vec<Problem>) {
    let Some(Err(outside)) = &report.magnetic else { return };
    problems.push(error(
        ProblemCode::VariationNotKnown,
        format!("{outside}, so no magnetic bearing is given; use the true one"),
    ));
}
