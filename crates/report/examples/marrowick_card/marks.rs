//! Marks on Marrowick and what a check would say of their line, written by hand.
//!
//! Places, distances and angles are the library's; areas, problems and sentences are made up, so that every part of the card
//! has something to show.

use std::error::Error;

use takeline::landmark::Landmark;
use takeline::transit::{
    LinePoint, LookedAtWater, Meeting, Meets, Opens, Problem, ProblemCode, RangeLine, Sensitivity, Severity,
    Side, Stretch, TransitQuestion, TransitReport, ZoneOnLine,
};
use takeline::zone::{Extent, Zone};
use takeline::{Kleene, Metres, Position, UncertaintySource, ZoneSet, zone_file};

type Outcome<T> = Result<T, Box<dyn Error>>;

const ZONES: &[u8] = include_bytes!("../../../../demo-data/zones/marrowick.json");
/// Latitude of the north side of Sallow Cove Reserve.
const NORTH_SIDE_DEG: f64 = 45.124;
const METRES_PER_SECOND_AT_HALF_A_KNOT: f64 = 0.5 * 1852.0 / 3600.0;

/// The day beacon and the lone pine: a line that keeps north of Sallow Cove Reserve.
pub(crate) fn marrowick_marks() -> Outcome<(ZoneSet, TransitReport)> {
    let zones = ZoneSet::new(zone_file::read("demo-data/zones/marrowick.json", ZONES)?.zones);
    let pine =
        Landmark { fixed: Some(false), ..mark("Lone Pine", "tree", (45.1255, -30.1120), (41.0, 8.0))? };
    let line = RangeLine::through(beacon()?, pine)?;
    let stretch = Stretch::new(Metres::new(150.0)?, Metres::new(1450.0)?)?;
    let mut report = report(&zones, line, stretch)?;
    report.clears = Kleene::Yes;
    report.zones[0].clears = Kleene::Yes;
    report.problems = vec![
        problem(
            ProblemCode::MarkMovable,
            Severity::Warning,
            "Lone Pine can move or be taken away: look for it before you trust the line.",
        ),
        problem(
            ProblemCode::MarkUnconfirmed,
            Severity::Warning,
            "Nobody has confirmed Lone Pine since 2024-06-21, two years and a month before you go.",
        ),
        problem(
            ProblemCode::SunInTheEyes,
            Severity::Warning,
            "The sun stands 12° over the marks at 06:00 UTC.",
        ),
        problem(
            ProblemCode::TerrainNotChecked,
            Severity::Note,
            "What stands between you and the marks was not checked.",
        ),
    ];
    Ok((zones, report))
}

/// The same beacon before a gable too far north: a line that looks good at its near end and runs into the reserve.
pub(crate) fn misleading_marks() -> Outcome<(ZoneSet, TransitReport)> {
    let zones = ZoneSet::new(zone_file::read("demo-data/zones/marrowick.json", ZONES)?.zones);
    let gable = mark("Boathouse Gable", "house", (45.1290, -30.1180), (14.0, 25.0))?;
    let line = RangeLine::through(beacon()?, gable)?;
    let stretch = Stretch::new(Metres::new(150.0)?, Metres::new(1450.0)?)?;
    let mut report = report(&zones, line, stretch)?;
    report.clears = Kleene::No;
    report.zones[0].clears = Kleene::No;
    report.clears_because = vec!["The line enters Sallow Cove Reserve 345 m from the front mark.".into()];
    let entry = report.line.at(Metres::new(345.0)?);
    report.zones[0].meetings = vec![Meeting {
        what: Meets::Enters,
        distance_from_front: Metres::new(345.0)?,
        position: entry,
        angle_deg: 22.5,
    }];
    report.problems = vec![
        problem(
            ProblemCode::HeightNotGiven,
            Severity::Note,
            "The height of nothing else on the shore is known.",
        ),
        problem(
            ProblemCode::ObliqueToBoundary,
            Severity::Error,
            "The line meets the boundary of Sallow Cove Reserve at 22°, which shows no limit.",
        ),
        problem(
            ProblemCode::TerrainNotChecked,
            Severity::Note,
            "What stands between you and the marks was not checked.",
        ),
    ];
    Ok((zones, report))
}

fn beacon() -> Outcome<Landmark> {
    mark("Sallow Point Day Beacon", "beacon", (45.1252, -30.1310), (9.0, 2.0))
}

fn mark(name: &str, kind: &str, at: (f64, f64), (height_m, error_m): (f64, f64)) -> Outcome<Landmark> {
    Ok(Landmark {
        kind: Some(kind.into()),
        position_error_95: Metres::new(error_m)?,
        position_error_source: UncertaintySource::Given,
        height: Some(Metres::new(height_m)?),
        fixed: Some(true),
        last_confirmed: Some(jiff::civil::date(2025, 6, 21)),
        ..Landmark::at(name, Position::from_degrees(at.0, at.1)?)
    })
}

fn problem(code: ProblemCode, severity: Severity, text: &str) -> Problem {
    Problem { code, severity, text: text.into() }
}

/// A report about the north side of the reserve, with nothing decided yet.
fn report(zones: &ZoneSet, line: RangeLine, stretch: Stretch) -> Outcome<TransitReport> {
    let reserve = &zones.zones()[0];
    let rear_shows = inside(&line, stretch, reserve)?;
    let launch = Position::from_degrees(45.1170, -30.1190)?;
    let question = TransitQuestion { launch: Some(launch), ..TransitQuestion::about(stretch) };
    let ends = [stretch.near(), stretch.middle(), stretch.far()];
    let sensitivity = ends.map(|end| sensitivity(&line, &question, end)).to_vec();
    Ok(TransitReport {
        bearing: line.bearing_at(stretch.middle()),
        magnetic: None,
        zones: vec![on_line(&line, stretch, reserve, rear_shows)?],
        clears: Kleene::Undecided,
        clears_because: Vec::new(),
        opens: Some(Opens { zone: 0, rear_shows, compass_word: "south" }),
        sensitivity,
        water: Some(water(&line, stretch, rear_shows)?),
        problems: Vec::new(),
        line,
        question,
    })
}

/// The side to which the rear mark shows from a place of the reserve abreast of the middle of the stretch.
fn inside(line: &RangeLine, stretch: Stretch, reserve: &Zone) -> Outcome<Side> {
    let Extent::Known(boundary) = &reserve.extent else { return Err("the reserve has a line".into()) };
    for across_m in [400.0, -400.0] {
        let place = line.beside(stretch.middle(), Metres::new(across_m)?);
        if boundary.locate(place).signed_distance < Metres::ZERO {
            let to_the_right = line.seen_from(place).rear_from_front.arcmin() > 0.0;
            return Ok(if to_the_right { Side::Right } else { Side::Left });
        }
    }
    Err("the reserve lies on one side".into())
}

fn sensitivity(line: &RangeLine, question: &TransitQuestion, end: Metres) -> Sensitivity {
    let eye = question.eye;
    let offset = line.offset_for(end, eye.threshold());
    Sensitivity {
        distance_from_front: end,
        position: line.at(end),
        arcmin_per_m: line.arcmin_per_metre(end),
        offset_at_threshold: offset,
        line_uncertainty_95: line.uncertainty_95(end),
        seconds_to_threshold: offset.map(|offset| offset.metres() / METRES_PER_SECOND_AT_HALF_A_KNOT),
        rear_above_front: Some(true),
        rear_over_front: None,
    }
}

fn on_line(line: &RangeLine, stretch: Stretch, reserve: &Zone, inside: Side) -> Outcome<ZoneOnLine> {
    let Extent::Known(boundary) = &reserve.extent else { return Err("the reserve has a line".into()) };
    let point = |along: Metres| {
        let position = line.at(along);
        let located = boundary.locate(position);
        let uncertainty_m = line.uncertainty_95(along).metres().hypot(2.0);
        let uncertainty_95 = Metres::new(uncertainty_m).unwrap_or(Metres::ZERO);
        Some(LinePoint {
            distance_from_front: along,
            position,
            signed_distance: located.signed_distance,
            uncertainty_95,
            nearest: located.nearest,
        })
    };
    let ends = [stretch.near(), stretch.middle(), stretch.far()];
    let least = |figure: fn(&LinePoint) -> Metres| {
        let points = ends.into_iter().filter_map(point);
        points.min_by(|one, other| figure(one).metres().total_cmp(&figure(other).metres()))
    };
    Ok(ZoneOnLine {
        zone_number: 0,
        id: reserve.id.clone(),
        name: reserve.name.clone(),
        clears: Kleene::Undecided,
        worst: least(LinePoint::margin),
        closest: least(|point| point.signed_distance),
        near: point(stretch.near()),
        middle: point(stretch.middle()),
        far: point(stretch.far()),
        meetings: Vec::new(),
        inside: Some(inside),
        in_force: Kleene::Yes,
        source: reserve.source.clone(),
        file: reserve.file.clone(),
    })
}

/// The water between the line and the north side of the reserve: given away where the line runs north of it, false-safe
/// where it runs south. Both as they look on a plan; the areas are made up.
fn water(line: &RangeLine, stretch: Stretch, inside: Side) -> Outcome<LookedAtWater> {
    let mut north = Vec::new();
    let mut south = Vec::new();
    let share = |step: u8| f64::from(step) / 40.0;
    for step in 0..=40 {
        let along = Metres::new(stretch.near().metres() + share(step) * stretch.length().metres())?;
        let place = line.at(along);
        let way = if place.latitude().degrees() > NORTH_SIDE_DEG { &mut north } else { &mut south };
        way.push(place);
    }
    let ring = |mut way: Vec<Position>| -> Outcome<Vec<Vec<Position>>> {
        if way.len() < 2 {
            return Ok(Vec::new());
        }
        for place in way.clone().into_iter().rev() {
            way.push(Position::from_degrees(NORTH_SIDE_DEG, place.longitude().degrees())?);
        }
        Ok(vec![way])
    };
    let has_south = south.len() > 1;
    Ok(LookedAtWater {
        inside,
        area_m2: 1_300_000.0,
        false_safe_clear_m2: if has_south { 184_000.0 } else { 0.0 },
        false_safe_in_line_m2: if has_south { 2_300.0 } else { 0.0 },
        inside_and_seen_m2: 480_000.0,
        given_away_m2: if has_south { 6_100.0 } else { 149_000.0 },
        open_in_line_m2: 5_000.0,
        open_and_clear_m2: 650_000.0,
        false_safe: ring(south)?,
        given_away: ring(north)?,
    })
}
