//! What is wrong with two marks, or with the line through them, for what they are to be used for: their order, angles, zones
//! about, heights and light.

use jiff::tz::TimeZone;

use super::along::{Along, Least};
use crate::binding::ZoneHere;
use crate::boundary::Off;
use crate::geodesic::direct;
use crate::rule::sun_direction;
use crate::transit::eye::seen_radius_m;
use crate::transit::{
    CarriedBy, Meets, NEAR_M, PlaceOfUse, Problem, ProblemReason, RangeLine, TransitQuestion, TransitReport,
    WorkingArea, ZoneOnLine, land, problem,
};
use crate::zone::{Extent, Misreading, Zone, ZoneSet};
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

/// Finds every problem, the worst first; the parts of the stretch as it was asked about that are over land, and those of them
/// that were left out, are found already.
pub(super) fn find(
    report: &TransitReport,
    zones: &ZoneSet,
    (land_m, left_out_m): (Vec<[f64; 2]>, Vec<[f64; 2]>),
) -> Vec<Problem> {
    let mut problems = Vec::new();
    order_of_marks(report, zones, &mut problems);
    too_close(report, &mut problems);
    heights(report, &mut problems);
    angles(report, &mut problems);
    zones_about(report, zones, &mut problems);
    launch(report, zones, &mut problems);
    false_clear(report, &mut problems);
    let day = report.question.time.map(|time| TimeZone::UTC.to_datetime(time).date());
    for mark in [report.line.front(), report.line.rear()] {
        problems.extend(problem::problems_of(mark, day));
        problems.extend(land::problem_of_mark(mark, zones.coasts()));
    }
    let counted_m: Vec<[f64; 2]> = land_m.into_iter().filter(|part| !left_out_m.contains(part)).collect();
    problems.extend(land::problem_of_line(report.question.stretch, &counted_m));
    if !left_out_m.is_empty() {
        problems.push(Problem::note(ProblemReason::LandLeftOut { parts_m: left_out_m }));
    }
    problems.extend(light(report));
    variation(report, &mut problems);
    problems.push(Problem::note(ProblemReason::TerrainNotChecked));
    problems.sort_by_key(|problem| problem.severity);
    problems
}

/// Share of a movement that goes across a line: 1 square to it, 0 along it.
pub(super) fn across(towards: TrueBearing, line: TrueBearing) -> f64 {
    (towards.degrees() - line.degrees()).to_radians().sin().abs()
}

/// Zones that count: those that are law and, if a time is given, not surely out of force then.
pub(super) fn counted<'z>(
    zones: &'z ZoneSet,
    question: &TransitQuestion,
) -> impl Iterator<Item = (usize, &'z Zone)> + use<'z> {
    zones.may_bind_somewhere(question.time).into_iter().map(|number| (number, &zones.zones()[number]))
}

/// Swapped marks, and an observer between them: the working area and the course from the launch tell where they are used.
fn order_of_marks(report: &TransitReport, zones: &ZoneSet, problems: &mut Vec<Problem>) {
    let line = &report.line;
    let names = || (line.front().name.clone(), line.rear().name.clone());
    let places = places_of_use(report);
    for &(place, along_m) in &places {
        let (front, rear) = names();
        if along_m < -line.separation().metres() {
            problems.push(Problem::error(ProblemReason::MarksSwapped { place, front, rear }));
        } else if along_m <= 0.0 {
            problems.push(Problem::error(ProblemReason::BetweenMarks { place, front, rear }));
        }
    }
    // who says where the marks are used, and is right there, is not asked again
    if places.is_empty() && looks_swapped(report, zones) {
        let (front, rear) = names();
        problems.push(Problem::error(ProblemReason::PerhapsSwapped { front, rear }));
    }
}

/// Where the marks are to be used, as distances along the line.
fn places_of_use(report: &TransitReport) -> Vec<(PlaceOfUse, f64)> {
    let mut places = Vec::new();
    if let WorkingArea::Within(boundary) = &report.question.area {
        let along = |position: &Position| report.line.place(*position).distance_from_front.metres();
        let farthest = boundary.outlines().iter().flatten().map(along).fold(f64::NEG_INFINITY, f64::max);
        places.push((PlaceOfUse::WorkingArea, farthest));
    }
    if let Some((launch, heading)) = report.question.launch.zip(report.question.heading) {
        let crossing = crossing_of_course(&report.line, launch, heading);
        places.extend(crossing.map(|along_m| (PlaceOfUse::Course, along_m)));
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
    let (separation_m, far_m) = (line.separation().metres(), far.metres());
    let line_uncertainty_95_m = line.uncertainty_95(far).metres();
    if line.offset_for(far, report.question.eye.threshold()).is_none() {
        problems.push(Problem::error(ProblemReason::MarksNeverOpen { separation_m, far_m }));
    } else if line.relative_error() > RELATIVE_ERROR_LIMIT {
        let reason = ProblemReason::PlacesTooUncertain { separation_m, far_m, line_uncertainty_95_m };
        problems.push(Problem::error(reason));
    } else if far_m > SEPARATIONS_OFF * separation_m {
        let reason = ProblemReason::MarksTooClose { separation_m, far_m, line_uncertainty_95_m };
        problems.push(Problem::warning(reason));
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
            problems.push(Problem::warning(ProblemReason::CrossesObliquely {
                zone: zone.name.clone(),
                angle_deg: meeting.angle_deg,
                distance_from_front_m: meeting.distance_from_front.metres(),
            }));
        }
    }
    leaves_the_boundary(report, problems);
    let line = report.bearing;
    let ways =
        [(CarriedBy::Drift, report.question.drift.towards), (CarriedBy::Heading, report.question.heading)];
    for (carried_by, way) in ways {
        let Some(bearing) = way else { continue };
        let angle_deg = across(bearing, line).asin().to_degrees();
        if angle_deg < SHALLOW_DEG {
            problems.push(Problem::warning(ProblemReason::ObliqueToDrift { carried_by, bearing, angle_deg }));
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
        problems.push(Problem::warning(ProblemReason::RunsObliquely {
            zone: zone.name.clone(),
            angle_deg,
            near_signed_distance_m: near.signed_distance.metres(),
            far_signed_distance_m: far.signed_distance.metres(),
        }));
    }
}

fn zones_about(report: &TransitReport, zones: &ZoneSet, problems: &mut Vec<Problem>) {
    if zones.zones().is_empty() {
        problems.push(Problem::error(ProblemReason::NoZoneLoaded));
        return;
    }
    for mark in [report.line.front(), report.line.rear()] {
        if let Some(Misreading { slip, distance, .. }) = zones.likely_misreading(mark.position) {
            let (mark, distance_m) = (mark.name.clone(), distance.metres());
            problems.push(Problem::error(ProblemReason::MarkLikelyMisread { mark, distance_m, slip }));
        }
    }
    if report.zones.is_empty() {
        problems.push(Problem::warning(ProblemReason::NoZoneLoaded));
        return;
    }
    if report.zones.iter().all(is_far) {
        problems.push(Problem::warning(ProblemReason::NoZoneNear { within_m: NEAR_M }));
        return;
    }
    sides(report, problems);
    for zone in report.zones.iter().filter(|zone| zone.worst.is_none()) {
        if let Extent::Unknown { reason, .. } = &zones.zones()[zone.zone_number].extent {
            let (zone, why) = (zone.name.clone(), reason.clone());
            problems.push(Problem::warning(ProblemReason::ZoneLineNotKnown { zone, why }));
        }
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
        let zone = first.name.clone();
        problems.push(Problem::warning(ProblemReason::ZoneOnBothSides { zone }));
    }
    let opens = report.opens.as_ref().map(|opens| opens.rear_shows);
    let others = report.zones.iter().filter(|zone| zone.zone_number != first.zone_number);
    for zone in others {
        let Some(closest_m) = zone.closest.map(|closest| closest.signed_distance.metres()) else { continue };
        if closest_m < 0.0 || !zone.meetings.is_empty() {
            let zone = zone.name.clone();
            problems.push(Problem::warning(ProblemReason::CutByAnotherZone { zone }));
        } else if closest_m <= NEAR_M / 4.0 && opens.zip(zone.inside).is_some_and(|(one, other)| one != other)
        {
            let (zone, than) = (zone.name.clone(), first.name.clone());
            problems.push(Problem::warning(ProblemReason::ZoneOnTheOtherSide { zone, than }));
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
            let (zone, to_cross) = (zone.name.clone(), zone.rule.to_cross());
            problems.push(Problem::note(ProblemReason::LaunchInsideZone { zone, to_cross }));
        }
    }
}

fn false_clear(report: &TransitReport, problems: &mut Vec<Problem>) {
    let Some(water) = &report.water else { return };
    // of a large zone a small one on the clear side is no share worth naming, and yet it is water to be fined in
    let least_m2 = (FALSE_SAFE_SHARE * water.area_m2).max(1.0);
    let (clear_m2, in_line_m2) = (water.false_clear_open_m2, water.false_clear_in_line_m2);
    let reason = match (clear_m2 > least_m2, in_line_m2 > least_m2) {
        _ if water.area_m2.is_nan() => ProblemReason::HiddenWaterUnknown,
        (true, _) => ProblemReason::FalseClear { clear_m2, in_line_m2 },
        // the eye sees no opening until the boat is inside
        (false, true) => ProblemReason::StillInLine { in_line_m2 },
        (false, false) => return,
    };
    problems.push(Problem::warning(reason));
}

fn variation(report: &TransitReport, problems: &mut Vec<Problem>) {
    let Some(Err(outside)) = report.magnetic else { return };
    problems.push(Problem::error(ProblemReason::VariationNotKnown { outside }));
}

/// Marks whose tops are not seen: below the horizon, or hidden by the front mark.
///
/// Where that begins and ends is the root of a quadratic equation, so no short part of the stretch is passed over.
fn heights(report: &TransitReport, problems: &mut Vec<Problem>) {
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

/// Nearer than this to the line of sight, in degrees, the sun is in the eyes, or straight behind (common practice, no source).
const GLARE_DEG: f64 = 15.0;
/// Below this altitude, in degrees, the sun's upper edge is down: half a disc and standard refraction.
const SUNSET_DEG: f64 = -0.833;
/// Below this altitude, in degrees, civil twilight is over.
const NIGHT_DEG: f64 = -6.0;

/// What the light does to the marks at the time asked about; nothing without an hour.
fn light(report: &TransitReport) -> Option<Problem> {
    let time = report.question.time.filter(|_| report.question.hour_is_known)?;
    let place = report.line.at(report.question.stretch.middle());
    let sun = sun_direction(place, time)?;
    if sun.altitude_deg < NIGHT_DEG {
        return Some(Problem::warning(ProblemReason::Dark { time }));
    }
    if sun.altitude_deg < SUNSET_DEG {
        return None;
    }
    let turn_deg = sun.azimuth.degrees() - report.bearing.degrees();
    let ahead = sun.altitude_deg.to_radians().cos() * turn_deg.to_radians().cos();
    let from_sight_deg = ahead.clamp(-1.0, 1.0).acos().to_degrees();
    let (bearing, altitude_deg) = (sun.azimuth, sun.altitude_deg);
    if from_sight_deg <= GLARE_DEG {
        return Some(Problem::warning(ProblemReason::SunInTheEyes { time, bearing, altitude_deg }));
    }
    (from_sight_deg >= 180.0 - GLARE_DEG)
        .then(|| Problem::note(ProblemReason::SunBehind { time, bearing, altitude_deg }))
}
