//! Do two marks show a zone's line: the whole answer about one range line.

use std::borrow::Cow;

use super::along::{Along, LEAST_TOLERANCE_M, Least, ON_THE_LINE_M, greatest_doubt_m};
use super::faults::{self, counted};
use crate::magnetic::variation;
use crate::transit::land::{afloat, over_land_m};
use crate::transit::water::{Looking, PROMISED_SHARE, looked_at};
use crate::transit::{
    ClearsReason, CompassPoint, Drift, LinePoint, Magnetic, Meets, NEAR_M, Opens, RangeLine, Sensitivity,
    Severity, Side, TransitQuestion, TransitReport, ViewedWater, ZoneOnLine,
};
use crate::zone::{Extent, Zone, ZoneSet};
use crate::{Metres, NauticalMiles, Tristate, TrueBearing};

/// At so many points of the stretch it is asked on which side the zone lies.
const SIDE_PROBES: u32 = 32;
/// A boundary whose nearest point lies less than this share of its distance off the line lies ahead or astern, not beside.
const LEAST_BESIDE: f64 = 0.1;
/// Less of the working area than this share is rounding, not water.
const NO_WATER_SHARE: f64 = 1e-6;

impl RangeLine {
    /// Answers whether somebody who keeps the two marks in line stays outside every zone, and what they see if not.
    ///
    /// # Units
    ///
    /// Metres on WGS 84, signed distances negative inside; distances along the line from the front mark.
    ///
    /// # Accuracy
    ///
    /// Distances as [`crate::Boundary::locate`]; the least margin of a stretch to 5 cm or a thousandth of itself; visits
    /// to a zone shorter than 20 cm, or less than 1 cm deep, may be missed. The doubt is that of marks, zone line
    /// and datum in quadrature and the eye's whole offset on top, taken straight towards the boundary, which is cautious
    /// where the line runs at an angle to it. So it holds for a boat that is carried towards the zone until its eye just sees
    /// the marks open: of random lines through marks drawn anew fewer than 5 in 100 then enter a zone that is called clear by
    /// a hair (`tests/transits/clear_lines.rs`). Each zone has its own 95 %.
    ///
    /// # Edge cases
    ///
    /// A zone whose line is not known leaves the answer undecided near it. Zones that are no law (only proposed,
    /// repealed), or not in force at the time asked about, are left out. Without any zone near, nothing is shown, and
    /// a problem says so. A rule that another zone's displaces counts as if it stood. Where the eye never sees the marks
    /// open, or any other problem is an error, nothing is called clear. A line along a boundary is undecided, whichever side
    /// the line itself belongs to.
    ///
    /// The whole boundary of a zone counts, its shore too. Coasts of the set change no answer about a zone: what of the stretch lies
    /// surely over their land is told as a problem, and left out at its ends only where
    /// [`TransitQuestion::leave_out_land`] asks for that. The report then holds the stretch that was judged.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::landmark::Landmark;
    /// use takeline::transit::{CompassPoint, RangeLine, Side, Stretch, TransitQuestion};
    /// use takeline::{Tristate, Metres, Position, zone::ZoneSet};
    ///
    /// let file = br#"{ "type": "FeatureCollection",
    ///   "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "1", "datum": "WGS 84",
    ///                 "time_zone": "UTC", "taxa": [], "groups": [] },
    ///   "features": [ { "type": "Feature", "id": "sallow-cove",
    ///     "geometry": { "type": "Polygon", "coordinates":
    ///       [[[-30.15, 45.11], [-30.117, 45.11], [-30.117, 45.124], [-30.15, 45.124], [-30.15, 45.11]]] },
    ///     "properties": { "name": "Sallow Cove", "edges": "geodesic", "take": "none",
    ///                     "source": { "instrument": "Marrowick Waters Order" } } } ] }"#;
    /// let zones = ZoneSet::new(takeline::zone_file::read("marrowick.json", file)?.zones);
    /// let beacon = Landmark::at("beacon", Position::from_degrees(45.1252, -30.1310)?);
    /// let pine = Landmark::at("pine", Position::from_degrees(45.1255, -30.1120)?);
    /// let question = TransitQuestion::about(Stretch::new(Metres::new(100.0)?, Metres::new(1400.0)?)?);
    /// let report = RangeLine::through(beacon, pine)?.check(&zones, &question);
    /// assert_eq!(report.clears, Tristate::Yes);
    /// // who sees the pine to the right of the beacon is inside: the reserve lies to the south
    /// let opens = report.opens.ok_or("no side")?;
    /// assert_eq!((opens.rear_shows, opens.zone_lies), (Side::Right, CompassPoint::South));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn check(&self, zones: &ZoneSet, question: &TransitQuestion) -> TransitReport {
        let land_m = over_land_m(self, question.stretch, zones.coasts());
        let (question, left_out_m) = without_land(question, &land_m);
        let question = question.as_ref();
        let on_line = zones_on_line(self, zones, question);
        let (mut clears, mut clears_because) = clears(&on_line);
        let opens = opens(self, zones, question, &on_line);
        let counted: Vec<usize> = counted(zones, question).map(|(number, _)| number).collect();
        let water = opens.as_ref().map(|opens| water(self, (zones, &counted), question, opens.rear_shows));
        let mut report = TransitReport {
            line: self.clone(),
            question: question.clone(),
            bearing: self.bearing_at(question.stretch.middle()),
            magnetic: magnetic(self, question),
            sensitivity: sensitivity(self, question),
            zones: on_line,
            clears,
            clears_because: Vec::new(),
            opens,
            water,
            problems: Vec::new(),
        };
        report.problems = faults::find(&report, zones, (land_m, left_out_m));
        let errors = || report.problems.iter().filter(|problem| problem.severity == Severity::Error);
        if clears == Tristate::Yes && errors().next().is_some() {
            clears = Tristate::Undecided;
            clears_because = errors().map(|problem| problem.reason.clone().into()).collect();
        }
        TransitReport { clears, clears_because, ..report }
    }
}

/// The question about a stretch without the land at its ends, if that is to be left out, and what was left out.
fn without_land<'q>(
    question: &'q TransitQuestion,
    land_m: &[[f64; 2]],
) -> (Cow<'q, TransitQuestion>, Vec<[f64; 2]>) {
    let (stretch, left_out_m) = afloat(question.stretch, land_m);
    if !question.leave_out_land || left_out_m.is_empty() {
        return (Cow::Borrowed(question), Vec::new());
    }
    (Cow::Owned(TransitQuestion { stretch, ..question.clone() }), left_out_m)
}

/// The water of the working area, the zones with these places in the set counted.
fn water(
    line: &RangeLine,
    (zones, counted): (&ZoneSet, &[usize]),
    question: &TransitQuestion,
    inside: Side,
) -> ViewedWater {
    let TransitQuestion { stretch, eye, area, .. } = question;
    looked_at(&Looking { line, zones, counted, stretch: *stretch, area, eye: *eye, inside })
}

/// The zones that the stretch meets, comes near or may come into, and the nearest one; the least margin first.
fn zones_on_line(line: &RangeLine, zones: &ZoneSet, question: &TransitQuestion) -> Vec<ZoneOnLine> {
    let mut found: Vec<ZoneOnLine> = near_stretch(line, zones, question)
        .into_iter()
        .map(|(number, zone)| zone_on_line(line, (number, zone), question))
        .collect();
    found.sort_by(|a, b| urgency_m(a).total_cmp(&urgency_m(b)).then_with(|| a.id.cmp(&b.id)));
    let nearest_m = found.iter().filter_map(closest_m).fold(f64::INFINITY, f64::min);
    found.retain(|zone| {
        let near = closest_m(zone).is_some_and(|closest_m| closest_m <= NEAR_M.max(nearest_m));
        near || zone.clears == Tristate::Undecided
    });
    found
}

/// Zones that count and may lie near the stretch or within its doubt, those that may be anywhere, and at least one if
/// there is one.
fn near_stretch<'z>(
    line: &RangeLine,
    zones: &'z ZoneSet,
    question: &TransitQuestion,
) -> Vec<(usize, &'z Zone)> {
    let stretch = question.stretch;
    let middle = line.at(stretch.middle());
    // a line that may be kilometres off comes into zones that lie kilometres off
    let off_m = NEAR_M.max(greatest_doubt_m(line, question.eye, stretch));
    let near = zones.near_numbered(middle, Metres::computed(stretch.length().metres() / 2.0 + off_m));
    let near: Vec<usize> = near.into_iter().map(|(number, _)| number).collect();
    let mut found: Vec<(usize, &Zone)> = counted(zones, question)
        .filter(|(number, zone)| zone.extent.area().is_none() || near.contains(number))
        .collect();
    if !found.iter().any(|(_, zone)| matches!(zone.extent, Extent::Known(_))) {
        // all that are near are not in force
        let off_m = |zone: &Zone| match &zone.extent {
            Extent::Known(boundary) => boundary.locate(middle).signed_distance.metres(),
            Extent::Unknown { .. } => f64::INFINITY,
        };
        let known = counted(zones, question).filter(|(_, zone)| matches!(zone.extent, Extent::Known(_)));
        found.extend(known.min_by(|(_, a), (_, b)| off_m(a).total_cmp(&off_m(b))));
    }
    found
}

fn closest_m(zone: &ZoneOnLine) -> Option<f64> {
    zone.closest.map(|point| point.signed_distance.metres())
}

/// Least margin; a zone whose line is not known is as urgent as one on whose line one is.
fn urgency_m(zone: &ZoneOnLine) -> f64 {
    match zone.worst {
        Some(worst) => worst.margin().metres(),
        None if zone.clears == Tristate::Yes => f64::INFINITY,
        None => 0.0,
    }
}

fn zone_on_line(
    line: &RangeLine,
    (zone_number, zone): (usize, &Zone),
    question: &TransitQuestion,
) -> ZoneOnLine {
    let mut found = ZoneOnLine {
        zone_number,
        id: zone.id.clone(),
        name: zone.name.clone(),
        clears: Tristate::Undecided,
        worst: None,
        closest: None,
        near: None,
        middle: None,
        far: None,
        meetings: Vec::new(),
        inside: None,
        in_force: zone.in_force_at(question.time).answer,
        source: zone.source.clone(),
        proofread: zone.proofread.clone(),
        file: zone.file.clone(),
    };
    let Some(boundary) = zone.extent.area() else { return found };
    let zone_doubt_m = zone.line_doubt_m();
    let closure_error_m = boundary.largest_closure_error_m();
    let along =
        Along { line, boundary, zone_doubt_m, closure_error_m, eye: question.eye, stretch: question.stretch };
    let parts = along.parts();
    let Some(worst) = least_of(&parts, Least::Margin) else { return found };
    // the least margin may be as much less as it is searched to
    let is_clear = worst.margin().metres() > LEAST_TOLERANCE_M;
    if matches!(zone.extent, Extent::Unknown { .. }) {
        // near the area that holds the unknown line nobody can tell
        found.clears = if is_clear { Tristate::Yes } else { Tristate::Undecided };
        return found;
    }
    found.clears = if is_clear {
        Tristate::Yes
    } else if parts.iter().any(Along::surely_enters) {
        Tristate::No
    } else {
        Tristate::Undecided
    };
    found.worst = Some(worst);
    found.closest = least_of(&parts, Least::Distance);
    let point = |away: Metres| point_of(&parts, away);
    found.near = point(question.stretch.near());
    found.middle = point(question.stretch.middle());
    found.far = point(question.stretch.far());
    found.meetings = along.meetings();
    found.inside = inside(&along);
    found
}

/// The point of all parts where a figure is least.
fn least_of(parts: &[Along<'_>], least: Least) -> Option<LinePoint> {
    let value_m = |point: &LinePoint| match least {
        Least::Distance => point.signed_distance.metres(),
        Least::Margin | Least::Most => point.margin().metres(),
    };
    let points = parts.iter().map(|part| part.least(least));
    points.min_by(|one, other| value_m(one).total_cmp(&value_m(other)))
}

/// The point at a distance from the front mark, by the part that it is in.
fn point_of(parts: &[Along<'_>], away: Metres) -> Option<LinePoint> {
    let part = parts.iter().find(|part| away <= part.stretch.far()).or(parts.last())?;
    Some(part.point(away.metres()))
}

/// The side on which the zone's boundary lies all along the stretch; none if that changes, or if it lies nowhere beside it.
///
/// Off the zone its nearest point lies on its side; inside it, the nearest point of its boundary lies on the other one.
fn inside(along: &Along<'_>) -> Option<Side> {
    let mut seen = (false, false);
    for probe in 0..=SIDE_PROBES {
        let share = f64::from(probe) / f64::from(SIDE_PROBES);
        let stretch = along.stretch;
        let point = along.point(stretch.near().metres() + share * stretch.length().metres());
        let signed_m = point.signed_distance.metres();
        let to_the_right_m = along.line.place(point.nearest).to_the_right.metres();
        // what lies straight ahead, or under the keel, is left or right by chance
        if signed_m.abs() <= ON_THE_LINE_M || to_the_right_m.abs() < LEAST_BESIDE * signed_m.abs() {
            continue;
        }
        match Side::of(if signed_m < 0.0 { -to_the_right_m } else { to_the_right_m }) {
            Some(Side::Left) => seen.0 = true,
            Some(Side::Right) => seen.1 = true,
            None => {}
        }
    }
    match seen {
        (true, false) => Some(Side::Left),
        (false, true) => Some(Side::Right),
        _ => None,
    }
}

fn clears(zones: &[ZoneOnLine]) -> (Tristate, Vec<ClearsReason>) {
    let answer = zones.iter().map(|zone| zone.clears).fold(Tristate::Yes, Tristate::and);
    let because = zones.iter().filter(|zone| zone.clears == answer && answer != Tristate::Yes);
    (answer, because.map(because_of).collect())
}

fn because_of(zone: &ZoneOnLine) -> ClearsReason {
    let name = zone.name.clone();
    let Some(worst) = zone.worst else { return ClearsReason::LineNotKnown { zone: name } };
    let (signed_distance_m, uncertainty_95_m) =
        (worst.signed_distance.metres(), worst.uncertainty_95.metres());
    let distance_from_front_m = worst.distance_from_front.metres();
    let enters = zone.meetings.iter().find(|meeting| meeting.what == Meets::Enters);
    match (zone.clears, enters) {
        (Tristate::No, Some(enters)) => {
            let distance_from_front_m = enters.distance_from_front.metres();
            ClearsReason::Enters { zone: name, distance_from_front_m, side: enters.side }
        }
        (Tristate::No, None) => ClearsReason::RunsInside {
            zone: name,
            signed_distance_m,
            uncertainty_95_m,
            distance_from_front_m,
        },
        (Tristate::Yes | Tristate::Undecided, _) => ClearsReason::WithinDoubt {
            zone: name,
            signed_distance_m,
            uncertainty_95_m,
            distance_from_front_m,
            side: worst.nearest_side,
        },
    }
}

/// The side of the zone with the least margin; if that has none, no other one stands in for it.
fn opens(
    line: &RangeLine,
    zones: &ZoneSet,
    question: &TransitQuestion,
    found: &[ZoneOnLine],
) -> Option<Opens> {
    let zone = found.iter().position(|zone| zone.worst.is_some())?;
    let inside = side_of_water(line, zones, question, &found[zone])?;
    let turn_deg = match inside {
        Side::Left => -90.0,
        Side::Right => 90.0,
    };
    let towards = TrueBearing::wrapping(line.bearing_at(question.stretch.middle()).degrees() + turn_deg);
    // who stands to the right of the line sees the rear mark move to the right
    Some(Opens { zone, rear_shows: inside, zone_lies: CompassPoint::nearest(towards) })
}

/// The side that says inside: that of the nearest points of the boundary, held against the zone's water in the working
/// area; where the line runs along the boundary, that of the water.
///
/// None where a zone that the line keeps out of has water on the other side too, where most of its water is there, or where
/// its water is not known.
fn side_of_water(
    line: &RangeLine,
    zones: &ZoneSet,
    question: &TransitQuestion,
    zone: &ZoneOnLine,
) -> Option<Side> {
    let of_zone = water(line, (zones, &[zone.zone_number]), question, Side::Right);
    if of_zone.area_m2.is_nan() {
        return None;
    }
    let least_m2 = (NO_WATER_SHARE * of_zone.area_m2).max(1.0);
    let (left_m2, right_m2) = (of_zone.false_clear_open_m2, of_zone.inside_and_seen_m2);
    let runs_along = || {
        let on_the_line = closest_m(zone)?.abs() <= ON_THE_LINE_M;
        match (on_the_line, left_m2 > least_m2, right_m2 > least_m2) {
            (true, true, false) => Some(Side::Left),
            (true, false, true) => Some(Side::Right),
            _ => None,
        }
    };
    let side = zone.inside.or_else(runs_along)?;
    let (own_m2, other_m2) = match side {
        Side::Left => (left_m2, right_m2),
        Side::Right => (right_m2, left_m2),
    };
    let keeps_out =
        zone.meetings.is_empty() && closest_m(zone).is_some_and(|closest_m| closest_m > ON_THE_LINE_M);
    // no closer than areas are known
    let is_most_there = other_m2 + PROMISED_SHARE * of_zone.area_m2 >= own_m2;
    let misleads = other_m2 > least_m2 && (keeps_out || is_most_there);
    (!misleads).then_some(side)
}

fn magnetic(
    line: &RangeLine,
    question: &TransitQuestion,
) -> Option<Result<Magnetic, crate::magnetic::OutsideMagneticModel>> {
    let middle = question.stretch.middle();
    let found = variation(line.at(middle), question.time?);
    Some(
        found
            .map(|variation| Magnetic { bearing: variation.to_magnetic(line.bearing_at(middle)), variation }),
    )
}

/// Near end, middle and far end.
fn sensitivity(line: &RangeLine, question: &TransitQuestion) -> Vec<Sensitivity> {
    let stretch = question.stretch;
    [stretch.near(), stretch.middle(), stretch.far()].map(|away| sensitivity_at(line, question, away)).into()
}

fn sensitivity_at(line: &RangeLine, question: &TransitQuestion, away: Metres) -> Sensitivity {
    let eye = question.eye;
    let offset_at_threshold = line.offset_for(away, eye.threshold());
    let elevation = |height: Option<Metres>, away_m: f64| {
        height.map(|height| eye.sight(height, Metres::computed(away_m)).elevation.arcmin())
    };
    let front = elevation(line.front().height, away.metres());
    let rear = elevation(line.rear().height, away.metres() + line.separation().metres());
    let over_arcmin = rear.zip(front).map(|(rear, front)| rear - front);
    Sensitivity {
        distance_from_front: away,
        position: line.at(away),
        arcmin_per_m: line.arcmin_per_metre(away),
        offset_at_threshold,
        line_uncertainty_95: line.uncertainty_95(away),
        seconds_to_threshold: offset_at_threshold
            .and_then(|offset| seconds(question.drift, line.bearing_at(away), offset)),
        rear_above_front: over_arcmin.map(|over| over > 0.0),
        rear_over_front: over_arcmin.map(crate::Arcminutes::computed),
    }
}

/// Seconds until a drift has carried the boat so far off the line.
fn seconds(drift: Drift, line: TrueBearing, offset: Metres) -> Option<f64> {
    let across = drift.towards.map_or(1.0, |towards| faults::across(towards, line));
    let speed = drift.speed_kn * NauticalMiles::METRES / 3600.0 * across;
    (speed > 1e-3).then(|| offset.metres() / speed)
}
