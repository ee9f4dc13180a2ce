//! How the line of a zone changed.

use takeline::{
    Boundary, EdgeLine, EdgeModel, Metres, PartSpec, Position, RingSpec, Side, TrueBearing, widest_step_deg,
};

use super::change::FromTo;
use super::ring::{Laid, Step, moved, roughly_m};
use super::rings::{self, RingPairs};
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
    /// The vertex, from 1, in the order of the file; one that repeats the vertex before it is not counted.
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
    /// How far the readings are apart at most where one of the editions does not state it; zero where both do.
    pub readings_apart: Metres,
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
    /// How closely the coordinates are printed, the coarser of the two editions: from 5 cm to 5 m.
    pub printed_to: Metres,
    /// Water gained and lost; none where it cannot be measured.
    pub water: Option<Water>,
    /// Whether an edge of either edition is not stated, so that the water is that of one reading.
    pub is_one_reading: bool,
}

/// A ring or circle with its place.
pub(super) struct Placed {
    part: usize,
    ring: usize,
    pub(super) laid: Laid,
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
        change.printed_to = Metres::non_negative(precision_m).unwrap_or_default();
        change.apart = apart.unwrap_or_default();
        change.water = Water::between(old, new);
        change.is_one_reading = [old, new].into_iter().any(has_unstated);
        Some(change)
    }

    fn compare_rings(&mut self, old: Vec<Placed>, new: Vec<Placed>) {
        let RingPairs { pairs, only_old, only_new } = rings::pair(old, new);
        for (old, new) in &pairs {
            self.compare_ring(old, new);
        }
        let whole = |ring: Placed| WholeRing {
            part: ring.part,
            ring: Some(ring.ring),
            vertices: Some(ring.laid.vertices.len()),
        };
        self.rings_removed.extend(only_old.into_iter().map(whole));
        self.rings_added.extend(only_new.into_iter().map(whole));
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
                let (from, to) = (now.position, new.laid.vertices[next.1].position);
                let apart = |model| EdgeLine::between(from, to, model).map(|line| line.readings_apart());
                let readings_apart =
                    [before.edge, now.edge].into_iter().filter_map(|model| apart(model).ok());
                self.edges.push(EdgeChange {
                    at: at.clone(),
                    runs: FromTo { from: before.edge, to: now.edge },
                    readings_apart: readings_apart
                        .fold(Metres::ZERO, |one, two| if two.metres() > one.metres() { two } else { one }),
                });
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
    pub(super) fn is_hole(&self) -> bool {
        self.ring > 1
    }

    fn vertex(&self, at: usize) -> VertexAt {
        let corner = &self.laid.vertices[at];
        VertexAt { part: self.part, ring: self.ring, vertex: corner.number, position: corner.position }
    }
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

/// Places on a line: its vertices, and every 2 km at most between them.
fn places(line: &Boundary) -> impl Iterator<Item = Position> {
    line.outlines().into_iter().flatten().chain(rings_of(line).into_iter().flat_map(|ring| ring.vertices))
}

/// The greatest distance of one line from the other, in metres.
fn apart_m(one: &Boundary, other: &Boundary) -> f64 {
    let mut cursor = other.cursor();
    places(one).map(|place| cursor.locate(place).signed_distance.metres().abs()).fold(0.0, f64::max)
}

/// Whether a line is nowhere farther than this from the other.
pub(super) fn is_within_m(one: &Boundary, other: &Boundary, limit_m: f64) -> bool {
    let mut cursor = other.cursor();
    places(one).all(|place| cursor.locate(place).signed_distance.metres().abs() <= limit_m)
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
