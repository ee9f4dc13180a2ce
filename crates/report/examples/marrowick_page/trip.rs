//! A trip out over the seaward side of Sallow Cove Reserve and back, and what an audit would find in it, written by hand.
//!
//! Places and distances are the library's; visits, stops and sentences are made up, so that every part of the page has
//! something to show.

use std::error::Error;

use jiff::{SignedDuration, Timestamp};
use takeline::rule::{Condition, TimeReason};
use takeline::track::{
    Audit, Certainty, ClosestApproach, ConditionFinding, ConditionReason, Course, Crossing, DeepFixes,
    Direction, Evidence, Gap, LogPlace, LoggedFix, LoggedMoment, Motion, NearLine, Quality, Reason, Speeds,
    Stop, SuspectFix, Suspicion, TrackPoint, TrackSettings, Visit, VisitSpan,
};
use takeline::zone::{Extent, Zone, ZoneId};
use takeline::{Metres, Position, Tristate, ZoneSet, binding, zone_file};

type Outcome<T> = Result<T, Box<dyn Error>>;

const ZONES: &[u8] = include_bytes!("../../../../demo-data/zones/marrowick.json");
const START: &str = "2026-07-25T05:30:00Z";
const SECONDS_BETWEEN_FIXES: f64 = 10.0;
const DOUBT_M: f64 = 10.0;
/// Minutes from the start, latitude and longitude where the boat turns; the log has nothing between the two marked legs.
const TURNS: [(f64, f64, f64); 12] = [
    (0.0, 45.1170, -30.1480),
    (4.0, 45.1172, -30.1512),
    (9.0, 45.1190, -30.1536),
    (14.0, 45.1215, -30.1550),
    (20.0, 45.1222, -30.1552),
    (30.0, 45.1232, -30.150_05),
    (36.0, 45.1245, -30.1515),
    (39.0, 45.1252, -30.1450),
    (45.0, 45.1244, -30.1423),
    (51.0, 45.1225, -30.1410),
    (59.0, 45.1195, -30.1435),
    (63.0, 45.1180, -30.1475),
];
/// The leg in which nothing was logged, by the turn that it ends at.
const SILENT_LEG: usize = 7;

/// The zones of Marrowick, and what was found of the trip.
pub(crate) fn marrowick_trip() -> Outcome<(ZoneSet, Audit)> {
    let zones = ZoneSet::new(zone_file::read("demo-data/zones/marrowick.json", ZONES)?.zones);
    let sketch = sketch(zones.zones())?;
    let settings = TrackSettings::default();
    let crossings = crossings(&zones, &sketch)?;
    let gap = gap(&sketch)?;
    let visits = vec![
        visit(&sketch, (Certainty::Certain, Evidence::Fixes), (0, 15), -151.0)?,
        visit(&sketch, (Certainty::Possible, Evidence::Fixes), (177, 183), 4.0)?,
        visit(&sketch, (Certainty::Possible, Evidence::Gap), (216, 217), -188.0)?,
        visit(&sketch, (Certainty::Certain, Evidence::Fixes), (260, 361), -503.0)?,
    ];
    let mut audit = Audit {
        settings,
        quality: quality(&sketch, &gap),
        crossings,
        visits,
        closest_approaches: approaches(zones.zones(), &sketch)?,
        path: Metres::new(4021.0)?,
        gap_path: Metres::ZERO,
        sketch,
    };
    audit.visits[0].crossings = vec![0];
    audit.visits[0].span = VisitSpan::of(audit.visits[0].entered(), audit.crossings[0].at);
    if let Some(second) = audit.crossings.get(1) {
        audit.visits[3].span = VisitSpan::of(second.at, audit.visits[3].left());
        audit.visits[3].crossings = vec![1];
    }
    Ok((zones, audit))
}

fn sketch(zones: &[Zone]) -> Outcome<Vec<TrackPoint>> {
    let mut points = Vec::new();
    for (number, legs) in TURNS.windows(2).enumerate() {
        let [from, to] = [legs[0], legs[1]];
        if number + 1 == SILENT_LEG {
            continue;
        }
        let after_gap = number == SILENT_LEG;
        let whole_s = (to.0 - from.0) * 60.0;
        let mut at_s = if number == 0 || after_gap { 0.0 } else { SECONDS_BETWEEN_FIXES };
        while at_s <= whole_s {
            let share = at_s / whole_s;
            // a paddled track is never straight
            let sway_deg = 0.000_05 * (at_s / 23.0).sin() * (std::f64::consts::PI * share).sin();
            let position = Position::from_degrees(
                from.1 + share * (to.1 - from.1) + sway_deg,
                from.2 + share * (to.2 - from.2) - sway_deg,
            )?;
            points.push(point(zones, position, from.0 * 60.0 + at_s, points.len())?);
            at_s += SECONDS_BETWEEN_FIXES;
        }
        if after_gap && let Some(first) = points.iter_mut().rev().nth(36) {
            first.after_break = true;
        }
    }
    Ok(points)
}

fn point(zones: &[Zone], position: Position, at_s: f64, number: usize) -> Outcome<TrackPoint> {
    let line = u64::try_from(number)? + 2;
    let mut nearest: Option<NearLine> = None;
    let mut standing = None;
    for (zone_number, zone) in zones.iter().enumerate() {
        let Extent::Known(boundary) = &zone.extent else { continue };
        let signed_distance = boundary.locate(position).signed_distance;
        let is_nearer =
            nearest.is_none_or(|other| signed_distance.metres().abs() < other.signed_distance.metres().abs());
        if is_nearer {
            nearest = Some(NearLine { zone_number, signed_distance, uncertainty_95: Metres::new(DOUBT_M)? });
        }
        let found = match signed_distance.metres() {
            distance_m if distance_m < -DOUBT_M => Some(Certainty::Certain),
            distance_m if distance_m < DOUBT_M => Some(Certainty::Possible),
            _ => None,
        };
        standing = standing.max(found);
    }
    let fix = LoggedFix {
        position,
        time: Some(START.parse::<Timestamp>()? + SignedDuration::from_secs_f64(at_s)),
        uncertainty: None,
        hdop: None,
        speed_m_per_s: None,
        time_between: None,
        jump_kn: None,
        place: LogPlace { line, byte: line * 60, stretch: 0 },
    };
    Ok(TrackPoint { fix, standing, nearest, after_break: false })
}

fn instant(point: &TrackPoint) -> LoggedMoment {
    let time = point.fix.time;
    LoggedMoment { position: point.fix.position, time, between: time.map(|time| (time, time)) }
}

fn crossings(zones: &ZoneSet, sketch: &[TrackPoint]) -> Outcome<Vec<Crossing>> {
    let cove = &zones.zones()[0];
    let Extent::Known(boundary) = &cove.extent else { return Ok(Vec::new()) };
    let mut found = Vec::new();
    for pair in sketch.windows(2).filter(|pair| !pair[1].after_break) {
        let [from, to] = [&pair[0], &pair[1]];
        let distance_m = |point: &TrackPoint| boundary.locate(point.fix.position).signed_distance.metres();
        let (before_m, after_m) = (distance_m(from), distance_m(to));
        if (before_m < 0.0) == (after_m < 0.0) {
            continue;
        }
        let share = before_m / (before_m - after_m);
        let (a, b) = (from.fix.position, to.fix.position);
        let between = |from: f64, to: f64| from + share * (to - from);
        let position = Position::from_degrees(
            between(a.latitude().degrees(), b.latitude().degrees()),
            between(a.longitude().degrees(), b.longitude().degrees()),
        )?;
        let times = from.fix.time.zip(to.fix.time);
        let time =
            times.map(|(early, _)| early + SignedDuration::from_secs_f64(share * SECONDS_BETWEEN_FIXES));
        found.push(Crossing {
            zone: cove.id.clone(),
            direction: if after_m < 0.0 { Direction::In } else { Direction::Out },
            at: LoggedMoment { position, time, between: times },
        });
    }
    Ok(found)
}

fn gap(sketch: &[TrackPoint]) -> Outcome<Gap> {
    let at = sketch.iter().position(|point| point.after_break).ok_or("the trip has no gap")?;
    let (before, after) = (sketch[at - 1].fix, sketch[at].fix);
    Ok(Gap {
        before,
        after,
        seconds: Some(180.0),
        metres: Metres::new(517.0)?,
        impossible: false,
        between_trips: false,
        may_be_pause: true,
        open: None,
    })
}

fn visit(
    sketch: &[TrackPoint],
    (certainty, evidence): (Certainty, Evidence),
    (first, last): (usize, usize),
    signed_distance_m: f64,
) -> Outcome<Visit> {
    let [from, to] = [first, last].map(|at| sketch[at.min(sketch.len() - 1)]);
    let possible_s =
        from.fix.time.zip(to.fix.time).map_or(0.0, |(from, to)| to.duration_since(from).as_secs_f64());
    let is_certain = certainty == Certainty::Certain;
    let condition = |condition, met, because| ConditionFinding { condition, met, because: vec![because] };
    let listed = TimeReason::ListedDay { date: jiff::civil::date(2026, 7, 25) };
    let gear = "rods unstrung, hooks off the line".to_owned();
    Ok(Visit {
        zone: ZoneId("sallow-cove".into()),
        zone_number: 0,
        certainty,
        evidence,
        is_suspect: false,
        off_the_way: None,
        span: VisitSpan::of(instant(&from), instant(&to)),
        certain_s: Some(if is_certain { possible_s - 20.0 } else { 0.0 }),
        possible_s: Some(possible_s),
        deepest: Some(Metres::new(-signed_distance_m)?),
        deepest_uncertainty_95: Metres::new(DOUBT_M)?,
        path: Metres::new(possible_s * 1.1)?,
        course: Course::default(),
        deep: DeepFixes { count: 30, span: None },
        gaps: 0,
        speeds: (evidence == Evidence::Fixes).then_some(Speeds { min_kn: 0.3, mean_kn: 2.1, max_kn: 2.8 }),
        stops: if is_certain { vec![Stop { from: instant(&to), seconds: 95.0 }] } else { Vec::new() },
        crossings: Vec::new(),
        in_force: Tristate::Yes,
        in_force_because: vec![Reason::from(binding::Reason::Season { reason: listed })],
        in_force_certain_s: Some(if is_certain { possible_s - 20.0 } else { 0.0 }),
        in_force_possible_s: Some(possible_s),
        binds_certain_s: Some(if is_certain { possible_s - 20.0 } else { 0.0 }),
        binds_possible_s: Some(possible_s),
        binds: if is_certain { Tristate::Yes } else { Tristate::Undecided },
        binds_because: Vec::new(),
        displaced_by: Vec::new(),
        ruled: Vec::new(),
        conditions: vec![
            condition(
                Condition::MaxStop { stop_min: 10.0 },
                Tristate::Yes,
                ConditionReason::LongestStop { duration_s: 95.0 },
            ),
            condition(
                Condition::GearState { words: gear },
                Tristate::Undecided,
                ConditionReason::NotShownByTrack,
            ),
        ],
        movement: vec![
            Motion::Steady { speed_kn: 2.1, duration_s: 480.0 },
            Motion::Slow { below_kn: 1.0, duration_s: 95.0 },
        ],
    })
}

fn approaches(zones: &[Zone], sketch: &[TrackPoint]) -> Outcome<Vec<ClosestApproach>> {
    let mut found = Vec::new();
    for zone in zones.iter().skip(1).take(3) {
        let Extent::Known(boundary) = &zone.extent else { continue };
        let distance = |point: &&TrackPoint| boundary.locate(point.fix.position).signed_distance;
        let nearest = sketch.iter().min_by(|a, b| distance(a).metres().total_cmp(&distance(b).metres()));
        if let Some(point) = nearest {
            found.push(ClosestApproach {
                crossable: None,
                zone: zone.id.clone(),
                signed_distance: distance(&point),
                uncertainty_95: Metres::new(DOUBT_M)?,
                at: instant(point),
            });
        }
    }
    found.sort_by(|a, b| a.signed_distance.metres().total_cmp(&b.signed_distance.metres()));
    Ok(found)
}

fn quality(sketch: &[TrackPoint], gap: &Gap) -> Quality {
    let suspect = |at: usize, suspicion, needed_kn| SuspectFix { fix: sketch[at].fix, suspicion, needed_kn };
    Quality {
        fixes: sketch.iter().map(|_| 1).sum::<u64>() + 3,
        without_time: 0,
        first_time: sketch.first().and_then(|point| point.fix.time),
        last_time: sketch.last().and_then(|point| point.fix.time),
        suspects: vec![
            suspect(3, Suspicion::Duplicate, None),
            suspect(40, Suspicion::Spike, Some(212.4)),
            suspect(41, Suspicion::OutOfOrder, None),
        ],
        counts: [1, 1, 1, 0, 0, 0, 0],
        gaps: vec![*gap],
        gap_count: 1,
        ..Quality::default()
    }
}
