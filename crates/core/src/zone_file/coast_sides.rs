//! Sides that follow a coast, and straight ones that are the shore and do not.

use super::WarningKind;
use super::geometry_reader::{ListedParts, ListedRing, same};
use crate::coast::Coast;
use crate::geodesic::inverse;
use crate::geojson_text::{Log, VertexRef};
use crate::{EdgeModel, Metres, Position, Side, SideKind};

/// An end of a side that follows the coast lies no farther from it than this, in metres (common practice, no source).
const END_WITHIN_M: f64 = 100.0;
/// Nearer to the coast than this, in metres, or than the side may be off, an end lies on it.
const ON_THE_COAST_M: f64 = 1.0;
/// A straight side is not held to a coast that is nearer to it than this, in metres (common practice, no source).
const NEAR_ENOUGH_M: f64 = 25.0;

/// An edge as it is read.
#[derive(Debug, Clone)]
pub(super) struct ReadEdge {
    /// How it runs.
    pub(super) model: EdgeModel,
    /// What it is.
    pub(super) side: Side,
    /// Whether it follows the coast instead.
    pub(super) follows_coast: bool,
}

impl From<EdgeModel> for ReadEdge {
    fn from(model: EdgeModel) -> Self {
        Self { model, side: Side::default(), follows_coast: false }
    }
}

/// The stretch of the first coast that comes near both ends of a side, and how far off that coast may be.
fn stretch(coasts: &[Coast], from: Position, to: Position) -> Option<(Vec<Position>, Metres)> {
    let within = Metres::computed(END_WITHIN_M);
    coasts.iter().find_map(|coast| Some((coast.between(from, to, within).ok()?, coast.uncertainty)))
}

/// The rings with their sides along the coasts that they follow; none if no side does.
pub(super) fn followed(
    listed: &ListedParts,
    edges: &[Vec<ReadEdge>],
    coasts: &[Coast],
) -> Option<(ListedParts, Vec<Vec<ReadEdge>>)> {
    if !edges.iter().flatten().any(|edge| edge.follows_coast) {
        return None;
    }
    let mut found = ListedParts { parts: Vec::with_capacity(listed.parts.len()), several: listed.several };
    let mut all = Vec::with_capacity(edges.len());
    let mut edges = edges.iter();
    for rings in &listed.parts {
        let mut part = Vec::with_capacity(rings.len());
        for ring in rings {
            let (ring, along) = ring_along(ring, edges.next()?, coasts)?;
            part.push(ring);
            all.push(along);
        }
        found.parts.push(part);
    }
    Some((found, all))
}

fn ring_along(
    ring: &ListedRing,
    edges: &[ReadEdge],
    coasts: &[Coast],
) -> Option<(ListedRing, Vec<ReadEdge>)> {
    let mut found = ListedRing { vertices: Vec::new(), listed_as: Vec::new(), ..*ring };
    let mut along = Vec::with_capacity(edges.len());
    for (at, (edge, from)) in edges.iter().zip(&ring.vertices).enumerate() {
        let mut push = |vertex: Position, edge: ReadEdge| {
            found.vertices.push(vertex);
            found.listed_as.push(ring.listed_as.get(at).copied().unwrap_or(at));
            along.push(edge);
        };
        if !edge.follows_coast {
            push(*from, edge.clone());
            continue;
        }
        let to = ring.vertices[(at + 1) % ring.vertices.len()];
        let (path, uncertainty) = stretch(coasts, *from, to)?;
        let side =
            Side { uncertainty: Some(edge.side.uncertainty.unwrap_or(uncertainty)), ..edge.side.clone() };
        let ends = (*from, to);
        let edge_from = edges_along(side, ends, &path);
        push(*from, edge_from(*from, path.first().copied().unwrap_or(to)));
        let next = path.iter().skip(1).chain([&to]);
        for (vertex, next) in
            path.iter().zip(next).filter(|(vertex, _)| !same(**vertex, ends.0) && !same(**vertex, to))
        {
            push(*vertex, edge_from(*vertex, *next));
        }
    }
    Some((found, along))
}

/// What the edges are of a side that follows the coast: from a vertex to the next.
///
/// Where an end of the side lies off the coast, the way to the coast is no shore: it may lead over open water.
fn edges_along(
    side: Side,
    (from, to): (Position, Position),
    path: &[Position],
) -> impl Fn(Position, Position) -> ReadEdge {
    let on_it_m = side.uncertainty.map_or(0.0, Metres::metres).max(ON_THE_COAST_M);
    let is_off = |end: Position, foot: Option<&Position>| {
        foot.is_some_and(|foot| inverse(end, *foot).distance_m > on_it_m)
    };
    let (leads_on, leads_off) = (is_off(from, path.first()), is_off(to, path.last()));
    move |vertex, next| {
        let is_open = leads_on && same(vertex, from) || leads_off && same(next, to);
        let side = if is_open { Side::default() } else { side.clone() };
        ReadEdge { model: EdgeModel::Geodesic, side, follows_coast: false }
    }
}

/// Why a side cannot follow a coast that leads there.
pub(super) const CROSSES_ITSELF: &str = "with which the ring would cross itself";

/// Why no coast can be followed from one place to another; none if one can.
pub(super) fn why_not_followed(coasts: &[Coast], from: Position, to: Position) -> Option<String> {
    if coasts.is_empty() {
        return Some("which is not given; name its file in \"coast\"".to_owned());
    }
    let mut faults = Vec::new();
    for coast in coasts {
        match coast.between(from, to, Metres::computed(END_WITHIN_M)) {
            Ok(_) => return None,
            Err(why) => faults.push(why.to_string()),
        }
    }
    Some(format!("which does not lead there: {}", faults.join("; ")))
}

/// Leaves those sides unresolved that follow the coast and cannot, and says why.
pub(super) fn leave_unresolved(
    log: &mut Log,
    listed: &ListedParts,
    edges: &mut [Vec<ReadEdge>],
    why_not: impl Fn(Position, Position) -> Option<String>,
) {
    for ((place, ring), edges) in listed.rings().zip(edges) {
        for (at, edge) in edges.iter_mut().enumerate().filter(|(_, edge)| edge.follows_coast) {
            let Some(why) = ends(ring, at).and_then(|(from, to)| why_not(from, to)) else { continue };
            let text = format!(
                "the side to the next vertex follows the coast, {why}; it stays unresolved, and near it no side is certain"
            );
            let vertex = (ring.number(at), ring.positions);
            log.warn_at(VertexRef { vertex: Some(vertex), ..place }, WarningKind::CoastNotFollowed, text);
            edge.follows_coast = false;
            edge.side = SideKind::Unresolved.into();
        }
    }
}

fn ends(ring: &ListedRing, at: usize) -> Option<(Position, Position)> {
    Some((*ring.vertices.get(at)?, *ring.vertices.get((at + 1) % ring.vertices.len())?))
}

/// Warns of straight sides that are the shore while the coast runs elsewhere.
pub(super) fn warn_of_chords(log: &mut Log, listed: &ListedParts, edges: &[Vec<ReadEdge>], coasts: &[Coast]) {
    for ((place, ring), edges) in listed.rings().zip(edges) {
        for (at, edge) in edges.iter().enumerate() {
            let is_chord = edge.side.kind == SideKind::Shore && !edge.follows_coast;
            let Some((from, to)) = ends(ring, at).filter(|_| is_chord && !coasts.is_empty()) else {
                continue;
            };
            let length_m = inverse(from, to).distance_m;
            if length_m <= 2.0 * NEAR_ENOUGH_M {
                continue;
            }
            let Some((path, uncertainty)) = stretch(coasts, from, to) else { continue };
            let off_m = path.iter().map(|place| off_chord_m((from, to), *place)).fold(0.0, f64::max);
            let stated_m = edge.side.uncertainty.map_or(0.0, Metres::metres);
            if off_m <= NEAR_ENOUGH_M.max(stated_m + uncertainty.metres()) {
                continue;
            }
            let text = format!(
                "the side to the next vertex is the shore and a straight line of {length_m:.0} m; the coast lies up to \
                 {off_m:.0} m from it; write \"along\": \"coast\", or draw the vertices of the coast"
            );
            let vertex = (ring.number(at), ring.positions);
            log.warn_at(VertexRef { vertex: Some(vertex), ..place }, WarningKind::ChordAlongShore, text);
        }
    }
}

/// How far a place lies off a short straight line, in metres, as on a plane: for a figure in a warning.
fn off_chord_m((from, to): (Position, Position), place: Position) -> f64 {
    let (line, way) = (inverse(from, to), inverse(from, place));
    let turn = (way.azimuth_start_deg - line.azimuth_start_deg).to_radians();
    let along_m = (way.distance_m * turn.cos()).clamp(0.0, line.distance_m);
    (way.distance_m * turn.cos() - along_m).hypot(way.distance_m * turn.sin())
}
