//! How the line of a zone changed.

use takeline::{
    Boundary, EdgeModel, Metres, PartSpec, Position, RingSpec, Side, TrueBearing, widest_step_deg,
};

use super::change::FromTo;
use super::ring::{Laid, Step, moved, roughly_m};
use super::water::Water;

/// Vertices that moved less than this, in metres, did not move: it is what rounding leaves.
const LEAST_MOVE_M: f64 = 1e-4;
/// However coarsely coordinates are printed, a line is never called the same farther than this, in metres (common practice,
/// no source): it is about what a receiver on a small craft is off.
const MOST_CALLED_SAME_M: f64 = 5.0;
/// Nor is it asked of any line to be the same more closely than this, in metres.
const LEAST_PRECISION_M: f64 = 0.05;

/// A vertex of an edition, by the numbers that it has there.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct VertexAt {
    /// The part, from 1.
    pub part: usize,
    /// The ring, from 1: the first is the outer one.
    pub ring: usize,
    /// The vertex, from 1, in the order of the file.
    pub vertex: usize,
    /// Where it is.
    pub position: Position,
}

/// A vertex that moved.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct MovedVertex {
    /// In the old edition.
    pub from: VertexAt,
    /// In the new one.
    pub to: VertexAt,
    /// How far.
    pub by: Metres,
    /// In which true bearing it went.
    pub towards: TrueBearing,
}

/// An edge between the same vertices that runs another way now.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct EdgeChange {
    /// The vertex that it leaves, in the new edition; in the order of that edition's ring.
    pub at: VertexAt,
    /// How it ran and runs.
    pub runs: FromTo<EdgeModel>,
}

/// An edge between the same vertices that is another kind of side now.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct SideChange {
    /// The vertex that it leaves, as in [`EdgeChange`].
    pub at: VertexAt,
    /// What it was and is.
    pub side: FromTo<Side>,
}

/// A circle with another centre or radius.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct CircleChange {
    /// Its centre.
    pub centre: FromTo<Position>,
    /// Its radius.
    pub radius: FromTo<Metres>,
    /// How far the centre moved.
    pub moved: Metres,
}

/// A ring or a circle that only one of the editions has.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct WholeRing {
    /// The part it is of, or is, from 1.
    pub part: usize,
    /// The ring, from 1; none for a circle.
    pub ring: Option<usize>,
    /// How many vertices it has; none for a circle.
    pub vertices: Option<usize>,
}

/// How a line changed between two editions.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
pub struct LineChange {
    /// Vertices that moved.
    pub moved: Vec<MovedVertex>,
    /// Vertices that are new, in the numbers of the new edition.
    pub added: Vec<VertexAt>,
    /// Vertices that are gone, in the numbers of the old one.
    pub removed: Vec<VertexAt>,
    /// Edges that run another way.
    pub edges: Vec<EdgeChange>,
    /// Sides that are another kind.
    pub sides: Vec<SideChange>,
    /// Circles that changed.
    pub circles: Vec<CircleChange>,
    /// Rings and circles that are new.
    pub rings_added: Vec<WholeRing>,
    /// Rings and circles that are gone.
    pub rings_removed: Vec<WholeRing>,
    /// The greatest distance of either line from the other, at vertices and every 2 km at most.
    pub apart: Metres,
    /// Where the two lines are nowhere farther apart than the coordinates are printed: how far. The line is then the same as
    /// closely as it was ever said.
    pub same_to: Option<Metres>,
    /// Water gained and lost; none where it cannot be measured.
    pub water: Option<Water>,
    /// Whether an edge of either edition is not stated, so that the water is that of one reading.
    pub is_one_reading: bool,
}

/// A ring or circle with its place.
struct Placed {
    part: usize,
    ring: usize,
    laid: Laid,
}

struct Circle {
    part: usize,
    centre: Position,
    radius: Metres,
}

impl LineChange {
    /// Compares two lines; none where nothing changed, whatever the order of parts and rings, whichever vertex a ring starts
    /// with and whichever way it runs.
    #[must_use]
    pub fn between(old: &Boundary, new: &Boundary) -> Option<Self> {
        let ((old_rings, old_circles), (new_rings, new_circles)) = (placed(old), placed(new));
        let mut change = Self::default();
        change.compare_rings(old_rings, new_rings);
        change.compare_circles(old_circles, new_circles);
        if change == Self::default() {
            return None;
        }
        let apart = Metres::non_negative(apart_m(old, new).max(apart_m(new, old))).ok();
        let precision_m =
            printed_to_m(old).max(printed_to_m(new)).clamp(LEAST_PRECISION_M, MOST_CALLED_SAME_M);
        change.same_to = apart.filter(|apart| apart.metres() <= precision_m);
        change.apart = apart.unwrap_or_default();
        change.water = Water::between(old, new);
        change.is_one_reading = [old, new].into_iter().any(has_unstated);
        Some(change)
    }

    fn compare_rings(&mut self, old: Vec<Placed>, new: Vec<Placed>) {
        let mut left: Vec<Option<Placed>> = new.into_iter().map(Some).collect();
        let same = |one: &Placed, two: &Placed| is_hole(one) == is_hole(two) && one.laid.is_same(&two.laid);
        let mut changed: Vec<Placed> = Vec::new();
        for ring in old {
            let found = left.iter_mut().find(|other| other.as_ref().is_some_and(|other| same(&ring, other)));
            match found {
                Some(found) => *found = None,
                None => changed.push(ring),
            }
        }
        let mut left: Vec<Placed> = left.into_iter().flatten().collect();
        for (old, new) in likely_pairs(&mut changed, &mut left) {
            self.compare_ring(&old, &new);
        }
        let whole = |ring: Placed| WholeRing {
            part: ring.part,
            ring: Some(ring.ring),
            vertices: Some(ring.laid.vertices.len()),
        };
        self.rings_removed.extend(changed.into_iter().map(whole));
        self.rings_added.extend(left.into_iter().map(whole));
    }

    fn compare_ring(&mut self, old: &Placed, new: &Placed) {
        let steps = old.laid.steps(&new.laid);
        let mut together: Vec<(usize, usize)> = Vec::new();
        for step in steps {
            match step {
                Step::OnlyOld(at) => self.removed.push(old.vertex(at)),
                Step::OnlyNew(at) => self.added.push(new.vertex(at)),
                Step::Both(one, two) => {
                    together.push((one, two));
                    let (from, to) = (old.vertex(one), new.vertex(two));
                    let way = moved(from.position, to.position);
                    let by = way.length();
                    if by.metres() >= LEAST_MOVE_M {
                        self.moved.push(MovedVertex { from, to, by, towards: way.initial_bearing() });
                    }
                }
            }
        }
        let (old_count, new_count) = (old.laid.vertices.len(), new.laid.vertices.len());
        for (place, (one, two)) in together.iter().enumerate() {
            let next = together[(place + 1) % together.len()];
            if ((one + 1) % old_count, (two + 1) % new_count) != next {
                continue;
            }
            let (before, now) = (&old.laid.vertices[*one], &new.laid.vertices[*two]);
            let at = new.vertex(*two);
            if before.edge != now.edge {
                self.edges
                    .push(EdgeChange { at: at.clone(), runs: FromTo { from: before.edge, to: now.edge } });
            }
            if before.side != now.side {
                let side = FromTo { from: before.side.clone(), to: now.side.clone() };
                self.sides.push(SideChange { at, side });
            }
        }
    }

    fn compare_circles(&mut self, old: Vec<Circle>, mut new: Vec<Circle>) {
        let away = |one: &Circle, other: &Circle| {
            roughly_m(one.centre, other.centre) + (one.radius.metres() - other.radius.metres()).abs()
        };
        let mut changed: Vec<Circle> = Vec::new();
        for circle in old {
            match new.iter().position(|other| away(&circle, other) < LEAST_MOVE_M) {
                Some(at) => drop(new.remove(at)),
                None => changed.push(circle),
            }
        }
        let whole = |circle: Circle| WholeRing { part: circle.part, ring: None, vertices: None };
        for circle in changed {
            let nearest = (0..new.len())
                .min_by(|one, two| away(&circle, &new[*one]).total_cmp(&away(&circle, &new[*two])));
            let Some(nearest) = nearest else {
                self.rings_removed.push(whole(circle));
                continue;
            };
            let other = new.remove(nearest);
            self.circles.push(CircleChange {
                centre: FromTo { from: circle.centre, to: other.centre },
                radius: FromTo { from: circle.radius, to: other.radius },
                moved: moved(circle.centre, other.centre).length(),
            });
        }
        self.rings_added.extend(new.into_iter().map(whole));
    }
}

impl Placed {
    fn vertex(&self, at: usize) -> VertexAt {
        let corner = &self.laid.vertices[at];
        VertexAt { part: self.part, ring: self.ring, vertex: corner.number, position: corner.position }
    }
}

fn is_hole(ring: &Placed) -> bool {
    ring.ring > 1
}

/// Takes those rings out of both lists that most likely became each other: by shared vertices, then by nearness.
fn likely_pairs(old: &mut Vec<Placed>, new: &mut Vec<Placed>) -> Vec<(Placed, Placed)> {
    let mut pairs = Vec::new();
    loop {
        let mut best: Option<((usize, usize), (usize, f64))> = None;
        for (one, ring) in old.iter().enumerate() {
            for (two, other) in new.iter().enumerate().filter(|(_, other)| is_hole(ring) == is_hole(other)) {
                let shared = ring.laid.shared(&other.laid);
                let away_m = nearest_start_m(&ring.laid, &other.laid);
                let is_better = best
                    .is_none_or(|(_, (most, least_m))| shared > most || (shared == most && away_m < least_m));
                if is_better {
                    best = Some(((one, two), (shared, away_m)));
                }
            }
        }
        let Some(((one, two), _)) = best else { return pairs };
        pairs.push((old.remove(one), new.remove(two)));
    }
}

fn nearest_start_m(one: &Laid, other: &Laid) -> f64 {
    let Some(first) = one.vertices.first() else { return f64::INFINITY };
    let away = other.vertices.iter().map(|corner| roughly_m(first.position, corner.position));
    away.fold(f64::INFINITY, f64::min)
}

fn placed(boundary: &Boundary) -> (Vec<Placed>, Vec<Circle>) {
    let (mut rings, mut circles) = (Vec::new(), Vec::new());
    for (at, part) in boundary.parts().iter().enumerate() {
        match part {
            PartSpec::Polygon { exterior, holes } => {
                for (number, ring) in std::iter::once(exterior).chain(holes).enumerate() {
                    rings.push(Placed { part: at + 1, ring: number + 1, laid: Laid::of(ring) });
                }
            }
            PartSpec::Circle { centre, radius } => {
                circles.push(Circle { part: at + 1, centre: *centre, radius: *radius });
            }
        }
    }
    (rings, circles)
}

/// All rings that a boundary was given.
fn rings_of(boundary: &Boundary) -> Vec<RingSpec> {
    let rings = boundary.parts().into_iter().flat_map(|part| match part {
        PartSpec::Polygon { exterior, holes } => std::iter::once(exterior).chain(holes).collect(),
        PartSpec::Circle { .. } => Vec::new(),
    });
    rings.collect()
}

fn has_unstated(boundary: &Boundary) -> bool {
    rings_of(boundary).iter().any(|ring| ring.edges.contains(&EdgeModel::Unstated))
}

/// The greatest distance of one line from the other, in metres.
fn apart_m(one: &Boundary, other: &Boundary) -> f64 {
    let vertices = rings_of(one).into_iter().flat_map(|ring| ring.vertices);
    let places = one.outlines().into_iter().flatten().chain(vertices);
    let mut cursor = other.cursor();
    places.map(|place| cursor.locate(place).signed_distance.metres().abs()).fold(0.0, f64::max)
}

/// How far a position may be off by the way the vertices are printed, in metres: half a step each way.
pub(super) fn printed_to_m(boundary: &Boundary) -> f64 {
    const METRES_PER_DEGREE: f64 = 111_320.0;
    let vertices: Vec<Position> = rings_of(boundary).into_iter().flat_map(|ring| ring.vertices).collect();
    let Some(first) = vertices.first() else { return 0.0 };
    let Some(step_deg) = widest_step_deg(&vertices) else { return 0.0 };
    let half_m = METRES_PER_DEGREE * step_deg / 2.0;
    half_m.hypot(half_m * first.latitude().degrees().to_radians().cos())
}
