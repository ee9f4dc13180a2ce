//! The words for what changed of where a zone lies.

use takeline::{ArcSense, EdgeModel, Side, SideKind};
use takeline_drafting::editions::{CircleChange, FromTo, LineFact, VertexAt, WholeRing};

use super::compare_words::{counted, metres};
use crate::words::Words;

/// So many vertices are named in a sentence; the JSON names all.
const MOST_NAMED: usize = 6;

/// What changed of where a zone lies, in one sentence.
pub(super) fn line_fact(words: &dyn Words, fact: &LineFact) -> String {
    match fact {
        LineFact::BecameKnown => "the line, not known before, is given now".to_owned(),
        LineFact::BecameUnknown => "where the zone lies was known, and is not any more".to_owned(),
        LineFact::StillUnknown => "where the zone lies is not known; what is said of it changed".to_owned(),
        LineFact::SameAsPrinted { to } => {
            format!("the line is the same to {}, as closely as it is printed", metres(to.metres()))
        }
        LineFact::NotMeasured => {
            "the line changed; the water gained and lost could not be measured".to_owned()
        }
        LineFact::WaterGained { area_m2, is_one_reading } => {
            format!("{} of water is new in the zone{}", words.area(*area_m2), reading(*is_one_reading))
        }
        LineFact::WaterLost { area_m2, is_one_reading } => {
            format!("{} of water is no longer in the zone{}", words.area(*area_m2), reading(*is_one_reading))
        }
        LineFact::VerticesMoved { count, most } => {
            let at_most = if *count == 1 || most.metres() < 0.01 { "" } else { " at most" };
            format!(
                "{}, by {}{at_most}",
                counted(*count, "vertex moved", "vertices moved"),
                metres(most.metres())
            )
        }
        LineFact::VerticesAdded { count } => counted(*count, "vertex is new", "vertices are new"),
        LineFact::VerticesRemoved { count } => counted(*count, "vertex is gone", "vertices are gone"),
        LineFact::CircleChanged(circle) => circle_words(circle),
        LineFact::RingAdded(ring) => whole(ring, "new"),
        LineFact::RingRemoved(ring) => whole(ring, "gone"),
        LineFact::EdgesRestated { at, runs } => {
            format!(
                "{}: now {}; before, {}",
                sides(at, "runs", "run"),
                runs_words(&runs.to),
                runs_words(&runs.from)
            )
        }
        LineFact::SidesRestated { at, side: FromTo { from, to } } => {
            format!("{}: now {}; before, {}", sides(at, "is", "are"), side_words(to), side_words(from))
        }
        other => other.code().to_owned(),
    }
}

fn reading(is_one: bool) -> &'static str {
    if is_one { ", sides that nobody states read as geodesics" } else { "" }
}

fn circle_words(circle: &CircleChange) -> String {
    let (from_m, to_m) = (circle.radius.from.metres(), circle.radius.to.metres());
    let moved_m = circle.moved.metres();
    let centre = (moved_m > 0.0).then(|| format!("the centre of a circle moved by {}", metres(moved_m)));
    let radius = (from_m.to_bits() != to_m.to_bits())
        .then(|| format!("the radius of a circle: now {to_m} m; before, {from_m} m"));
    [centre, radius].into_iter().flatten().collect::<Vec<_>>().join("; ")
}

fn whole(ring: &WholeRing, what: &str) -> String {
    match ring.ring {
        None => format!("a circle is {what}"),
        Some(1) => format!("part {} is {what}", ring.part),
        Some(_) => format!("a hole in part {} is {what}", ring.part),
    }
}

/// "side from vertex 3 runs", "sides from vertex 1, vertex 2 and 7 more run".
fn sides(at: &[VertexAt], one: &str, many: &str) -> String {
    let named: Vec<String> = at.iter().take(MOST_NAMED).map(vertex).collect();
    match at.len() {
        0 | 1 => format!("side from {} {one}", named.concat()),
        count if count > MOST_NAMED => {
            format!("sides from {} and {} more {many}", named.join(", "), count - MOST_NAMED)
        }
        _ => format!("sides from {} {many}", named.join(", ")),
    }
}

/// The name of a vertex, by the new edition's numbers.
pub(super) fn vertex(at: &VertexAt) -> String {
    match (at.part, at.ring) {
        (1, 1) => format!("vertex {}", at.vertex),
        (1, ring) => format!("vertex {} of hole {}", at.vertex, ring - 1),
        (part, 1) => format!("vertex {} of part {part}", at.vertex),
        (part, ring) => format!("vertex {} of hole {} in part {part}", at.vertex, ring - 1),
    }
}

/// How an edge runs.
pub(super) fn runs_words(model: &EdgeModel) -> String {
    match model {
        EdgeModel::Geodesic => "as a geodesic".to_owned(),
        EdgeModel::RhumbLine => "as a rhumb line".to_owned(),
        EdgeModel::PlateCarree => "straight in longitude and latitude".to_owned(),
        EdgeModel::Arc(arc) => {
            let sense = match arc.sense {
                ArcSense::Clockwise => "clockwise",
                ArcSense::Counterclockwise => "counterclockwise",
            };
            let centre = crate::figures::position(arc.centre);
            format!("{sense} along an arc of {} m about {centre}", arc.radius.metres())
        }
        EdgeModel::Unstated => "in a way that nobody states".to_owned(),
    }
}

pub(super) fn side_words(side: &Side) -> String {
    let kind = match side.kind {
        SideKind::Open => "open water",
        SideKind::Shore => "the shore",
        SideKind::Mouth => "a mouth",
        SideKind::Unresolved => "not supplied",
    };
    let level = side.level.as_ref().map_or_else(String::new, |level| format!(" at {level}"));
    let doubt = side.uncertainty.map_or_else(String::new, |by| format!(" (±{} m)", by.metres()));
    format!("{kind}{level}{doubt}")
}
