//! Sides that follow a coast, and straight ones that are the shore and do not.

use super::WarningKind;
use super::geometry_reader::{ListedParts, ListedRing, same};
use crate::coast::{Coast, NoStretch};
use crate::geodesic::{direct, inverse};
use crate::geojson_text::{Log, VertexRef};
use crate::{EdgeModel, Metres, Position, Side, SideKind, Tristate};

/// An end of a side that follows the coast lies no farther from it than this, in metres (common practice, no source).
const END_WITHIN_M: f64 = 100.0;
/// An edge whose middle is no farther from the coast than this, in metres, lies along it.
const ALONG_WITHIN_M: f64 = 1.0;
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

/// The stretch of the first coast that comes near both ends of a side, and that coast.
fn stretch(coasts: &[Coast], from: Position, to: Position) -> Option<(Vec<Position>, &Coast)> {
    let within = Metres::computed(END_WITHIN_M);
    coasts.iter().find_map(|coast| Some((coast.between(from, to, within).ok()?, coast)))
}

/// Places beside a coast are tried so far apart at most, in metres, and so far inland.
const TRIED_EVERY_M: f64 = 25.0;
const TRIED_INLAND_M: [f64; 5] = [5.0, 10.0, 15.0, 20.0, 25.0];
/// Turns from straight inland that are tried, in degrees.
const TRIED_TURNS_DEG: [f64; 3] = [0.0, 45.0, -45.0];

/// How wide the land behind an edge of a coast is at least, as far as it is drawn and no wider than is tried; nothing where that
/// is not known.
fn land_behind(coast: &Coast, from: Position, to: Position) -> Metres {
    // as it is drawn: what it may be off counts elsewhere
    let mut drawn = coast.clone();
    drawn.uncertainty = Metres::ZERO;
    let line = inverse(from, to);
    let is_land = |place: Position| drawn.is_on_land(place) == Tristate::Yes;
    let at = |share: f64| direct(from, line.azimuth_start_deg, line.distance_m * share);
    let bearings = [-90.0, 90.0].map(|turn_deg| line.azimuth_start_deg + turn_deg);
    let inland = bearings.into_iter().find(|bearing_deg| is_land(direct(at(0.5), *bearing_deg, 1.0)));
    let Some(inland_deg) = inland else { return Metres::ZERO };
    let mut tries = 1;
    while line.distance_m / f64::from(tries) > TRIED_EVERY_M {
        tries += 1;
    }
    let width_at_m = |number: i32| {
        let place = at((f64::from(number) + 0.5) / f64::from(tries));
        let is_all_land = |at_m: &f64| {
            TRIED_TURNS_DEG.iter().all(|turn_deg| is_land(direct(place, inland_deg + turn_deg, *at_m)))
        };
        TRIED_INLAND_M.iter().copied().take_while(is_all_land).last().unwrap_or(0.0)
    };
    Metres::computed((0..tries).map(width_at_m).fold(f64::INFINITY, f64::min))
}

/// What one edge of a side along a coast is. One that joins the coast to a vertex in the water is open water, of which nobody
/// knows where the law has it.
fn side_along((coast, asked): (&Coast, &Side), (from, to): (Position, Position), is_joint: bool) -> Side {
    let line = inverse(from, to);
    let middle = direct(from, line.azimuth_start_deg, line.distance_m / 2.0);
    let is_along = !is_joint
        || coast.nearest(middle).is_some_and(|(away, _)| away.metres() <= ALONG_WITHIN_M)
        || coast.is_on_land(middle) == Tristate::Yes;
    if !is_along {
        let uncertainty = Some(Metres::computed(line.distance_m / 2.0));
        return Side { uncertainty, ..SideKind::Open.into() };
    }
    let uncertainty = Some(asked.uncertainty.unwrap_or(coast.uncertainty));
    let land = Some(asked.land.unwrap_or_else(|| land_behind(coast, from, to)));
    Side { uncertainty, land, ..asked.clone() }
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
        let (path, coast) = stretch(coasts, *from, to)?;
        let between = path.into_iter().filter(|vertex| !same(*vertex, *from) && !same(*vertex, to));
        let places: Vec<Position> = std::iter::once(*from).chain(between).chain([to]).collect();
        let last = places.len().saturating_sub(2);
        for (number, ends) in places.windows(2).enumerate() {
            let side = side_along((coast, &edge.side), (ends[0], ends[1]), number == 0 || number == last);
            push(ends[0], ReadEdge { model: EdgeModel::Geodesic, side, follows_coast: false });
        }
    }
    Some((found, along))
}

/// Why a side cannot follow a coast that leads there, and how to mend it.
pub(super) const CROSSES_ITSELF: (&str, &str) =
    ("with which the ring would cross itself", "move its vertices to where the other sides meet the coast");

/// Why no coast can be followed from one place to another, and how to mend it; none if one can.
pub(super) fn why_not_followed(coasts: &[Coast], from: Position, to: Position) -> Option<(String, String)> {
    if coasts.is_empty() {
        let mend = "name its file for the whole file, \"takeline\": { …, \"coast\": [\"coast.geojson\"] }, or give the coast too";
        return Some(("which is not given".to_owned(), mend.to_owned()));
    }
    let mut faults = Vec::new();
    let mut mend = "";
    for coast in coasts {
        match coast.between(from, to, Metres::computed(END_WITHIN_M)) {
            Ok(_) => return None,
            Err(why) => {
                mend = mend_of(&why);
                faults.push(match coast.name() {
                    "" => why.to_string(),
                    name => format!("{name}: {why}"),
                });
            }
        }
    }
    Some((format!("which does not lead there ({})", faults.join("; ")), mend.to_owned()))
}

/// What to do in a zone file about a side that no coast leads along.
fn mend_of(why: &NoStretch) -> &'static str {
    match why {
        NoStretch::TooFar { .. } => "correct the vertex, or give the coast that it lies on",
        NoStretch::DifferentLines => "begin and end the side on one and the same line",
        NoStretch::EquallyLong { .. } => {
            "add a vertex on the way that is meant, and let both sides follow the coast"
        }
    }
}

/// Leaves those sides unresolved that follow the coast and cannot, and says why.
pub(super) fn leave_unresolved(
    log: &mut Log,
    listed: &ListedParts,
    edges: &mut [Vec<ReadEdge>],
    why_not: impl Fn(Position, Position) -> Option<(String, String)>,
) {
    for ((place, ring), edges) in listed.rings().zip(edges) {
        for (at, edge) in edges.iter_mut().enumerate().filter(|(_, edge)| edge.follows_coast) {
            let Some((why, mend)) = ends(ring, at).and_then(|(from, to)| why_not(from, to)) else { continue };
            let text = format!(
                "the side to the next vertex (edge {}) follows the coast, {why}; it stays unresolved, and near it no side is \
                 certain; {mend}",
                ring.number(at)
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
            let Some((path, coast)) = stretch(coasts, from, to) else { continue };
            let off_m = path.iter().map(|place| off_chord_m((from, to), *place)).fold(0.0, f64::max);
            let stated_m = edge.side.uncertainty.map_or(0.0, Metres::metres);
            if off_m <= NEAR_ENOUGH_M.max(stated_m + coast.uncertainty.metres()) {
                continue;
            }
            let text = format!(
                "the side to the next vertex (edge {}) is the shore and a straight line of {length_m:.0} m; the coast lies up to \
                 {off_m:.0} m from it; write {{ \"side\": \"shore\", \"along\": \"coast\" }} for it, or draw the vertices of the coast",
                ring.number(at)
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
