//! What a boundary is made from, as a law or a file gives it.

use super::Side;
use crate::{Metres, Position};

/// How an edge runs between its two vertices.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum EdgeModel {
    /// The shortest line on the ellipsoid.
    Geodesic,
    /// A line of constant true bearing on the ellipsoid; parallels and meridians are rhumb lines.
    RhumbLine,
    /// Straight in longitude and latitude, as RFC 7946 section 3.1.1 defines an edge (plate carrée).
    PlateCarree,
    /// Part of a circle.
    Arc(Arc),
    /// The text does not say: every straight reading is computed and their gap counts as doubt.
    Unstated,
}

/// Part of a circle about a point; the radius is a geodesic length.
///
/// Printed ends rarely lie exactly on the printed circle. The edge then runs at a distance that changes evenly
/// with the direction from one end's own distance to the other's.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Arc {
    /// Centre of the circle.
    pub centre: Position,
    /// Radius as printed.
    pub radius: Metres,
    /// Which way the arc runs about its centre, seen from above.
    pub sense: ArcSense,
}

/// Which way an arc runs about its centre, seen from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum ArcSense {
    /// Bearings from the centre grow.
    Clockwise,
    /// Bearings from the centre shrink.
    Counterclockwise,
}

/// One ring: its vertices in order, how the edge that leaves each of them runs, and what it is.
///
/// Either winding; the first vertex may or may not be repeated at the end. An edge runs the short way round in
/// longitude. What the ring encloses is the smaller of the two areas that it bounds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RingSpec {
    /// The vertices in order.
    pub vertices: Vec<Position>,
    /// `edges[i]` leaves `vertices[i]`; the last one closes the ring.
    pub edges: Vec<EdgeModel>,
    /// What each edge is, in step with `edges`. Fewer, or none: the others are open water.
    pub sides: Vec<Side>,
}

/// One part of a zone.
#[derive(Debug, Clone, PartialEq)]
pub enum PartSpec {
    /// A ring with any number of holes.
    Polygon {
        /// The outer ring.
        exterior: RingSpec,
        /// The rings cut out of it.
        holes: Vec<RingSpec>,
    },
    /// A whole circle; the radius is a geodesic length.
    Circle {
        /// Its centre.
        centre: Position,
        /// Its radius.
        radius: Metres,
    },
}

/// A part as a boundary holds it: where all edges of a ring run alike, how they run is held once.
#[derive(Debug, Clone)]
pub(super) enum HeldPart {
    Polygon(Vec<HeldRing>),
    Circle { centre: Position, radius: Metres },
}

#[derive(Debug, Clone)]
pub(super) struct HeldRing {
    pub(super) vertices: Box<[Position]>,
    edges: HeldEdges,
    sides: Box<[Side]>,
}

#[derive(Debug, Clone)]
enum HeldEdges {
    Alike(EdgeModel, usize),
    Each(Box<[EdgeModel]>),
}

impl From<&PartSpec> for HeldPart {
    fn from(part: &PartSpec) -> Self {
        match part {
            PartSpec::Polygon { exterior, holes } => {
                Self::Polygon(std::iter::once(exterior).chain(holes).map(HeldRing::from).collect())
            }
            PartSpec::Circle { centre, radius } => Self::Circle { centre: *centre, radius: *radius },
        }
    }
}

impl From<&RingSpec> for HeldRing {
    fn from(ring: &RingSpec) -> Self {
        let edges = match ring.edges.split_first() {
            Some((first, rest)) if rest.iter().all(|edge| edge == first) => {
                HeldEdges::Alike(*first, ring.edges.len())
            }
            _ => HeldEdges::Each(ring.edges.as_slice().into()),
        };
        let sides = ring.sides.as_slice().into();
        Self { vertices: ring.vertices.as_slice().into(), edges, sides }
    }
}

impl HeldPart {
    /// The part as it was given.
    pub(super) fn given(&self) -> PartSpec {
        match self {
            Self::Polygon(rings) => {
                let mut rings = rings.iter().map(HeldRing::given);
                let exterior = rings.next().unwrap_or_default();
                PartSpec::Polygon { exterior, holes: rings.collect() }
            }
            Self::Circle { centre, radius } => PartSpec::Circle { centre: *centre, radius: *radius },
        }
    }
}

impl HeldRing {
    fn given(&self) -> RingSpec {
        let edges = match &self.edges {
            HeldEdges::Alike(model, count) => vec![*model; *count],
            HeldEdges::Each(edges) => edges.to_vec(),
        };
        RingSpec { vertices: self.vertices.to_vec(), edges, sides: self.sides.to_vec() }
    }
}
