//! What is wrong with a boundary, where, and how to mend it.

use super::build::EdgeName;
use super::near::Pair;
use super::outline::NoOutline;
use super::piece::Piece;
use super::ring::{CleanRing, RingFault, point_key};
use super::{PartSpec, RingRepair, RingSpec};
use crate::Position;
use crate::geodesic::{Vector, from_earth_centred};

/// A boundary that encloses nothing one could be inside of, or that contradicts itself.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[error("part {part}, ring {ring}{}: {fault}", .vertex.map_or(String::new(), |v| format!(", vertex {v}")))]
pub struct InvalidBoundary {
    /// Which part, counted from 0.
    pub part: usize,
    /// Which ring of the part, counted from 0; 0 is the outer one.
    pub ring: usize,
    /// Which vertex of the ring, counted from 0, if the fault has one.
    pub vertex: Option<usize>,
    /// What is wrong.
    pub fault: BoundaryFault,
}

/// What is wrong with a boundary, with how to mend it.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum BoundaryFault {
    /// There is no part at all.
    #[error("it is empty; give at least one ring or circle")]
    Empty,
    /// Fewer than three different vertices.
    #[error("has {0} different vertices; a ring needs at least three")]
    TooFewVertices(usize),
    /// The number of edges is not the number of vertices.
    #[error("has {edges} edge models for {vertices} edges; give one model, or one per edge")]
    EdgeCount {
        /// Edges given.
        edges: usize,
        /// Edges needed.
        vertices: usize,
    },
    /// Two vertices that follow each other lie 180° of longitude apart, or opposite each other on the Earth.
    #[error(
        "the edge that leaves it reaches half-way round the Earth, so it could run either way; add a vertex between"
    )]
    AmbiguousEdge,
    /// A vertex of an arc lies too far off the printed circle.
    #[error(
        "an arc ends {distance_m:.1} m from its centre where the radius is {radius_m:.1} m; check centre, radius and vertex"
    )]
    ArcMissesVertex {
        /// Distance of the vertex from the centre.
        distance_m: f64,
        /// Radius as printed.
        radius_m: f64,
    },
    /// The radius of a circle or arc is not above zero or reaches round the Earth.
    #[error("has a radius of {0} m; a radius is above 0 and below 5000000 m")]
    Radius(f64),
    /// The ring crosses itself.
    #[error("the edge that leaves it crosses the edge that leaves vertex {other} near {near}{}",
        .repair.as_ref().map_or(String::new(), |repair| format!("; {repair}")))]
    SelfCrossing {
        /// The other edge, by the vertex it leaves.
        other: usize,
        /// Where they cross.
        near: PositionText,
        /// The smallest change with which it would not cross, if one was found; offered, never applied.
        repair: Option<RingRepair>,
    },
    /// The ring passes the same vertex twice.
    #[error(
        "is passed again at vertex {other}, so it is not clear which loops are inside; write them as separate parts"
    )]
    RepeatedVertex {
        /// The vertex that repeats it.
        other: usize,
    },
    /// Two rings cross each other.
    #[error(
        "the edge that leaves it crosses ring {ring} of part {part} near {near}; a hole may touch its own ring and other holes but not cross them"
    )]
    RingsCross {
        /// The other part.
        part: usize,
        /// The other ring.
        ring: usize,
        /// Where they cross.
        near: PositionText,
    },
    /// A hole lies outside its outer ring, takes away all of it, or overlaps another hole.
    #[error("{0}")]
    Nesting(&'static str),
    /// The ring encloses next to nothing.
    #[error(
        "encloses {area_m2:.2} m²; a zone, and a hole in one, has at least 1 m²; correct its vertices or leave it out"
    )]
    TooSmall {
        /// What it encloses, in square metres.
        area_m2: f64,
    },
    /// The two sides of a ring are nearly as large as each other.
    #[error(
        "encloses more than 40 % of the Earth, so it is not clear which side is meant; write smaller parts"
    )]
    NearHalfEarth,
    /// The edges of the zone, one after the other, are longer than can be held at once.
    #[error(
        "is where the edges of the zone reach {longest_km} km in all, the longest boundary that is read; write it as several zones"
    )]
    TooLong {
        /// The longest that is taken, in kilometres.
        longest_km: usize,
    },
    /// Lines run together so that their sides cannot be told apart.
    #[error(
        "near {near} the edge that leaves it runs so close to another that inside and outside cannot be told apart; move the vertices there, or leave out what encloses nothing"
    )]
    Unsettled {
        /// Where.
        near: PositionText,
    },
    /// The ring encloses no area.
    #[error("encloses no area; its vertices lie on one line or the ring runs back on itself")]
    NoArea,
}

/// A position printed to 5 decimals of a degree in an error.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PositionText(pub Position);

impl std::fmt::Display for PositionText {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:.5} {:.5}", self.0.latitude().degrees(), self.0.longitude().degrees())
    }
}

/// Which part and ring a ring is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct RingName {
    pub(super) part: usize,
    pub(super) ring: usize,
}

impl RingName {
    pub(super) fn is_hole(self) -> bool {
        self.ring > 0
    }

    pub(super) fn fault(self, (vertex, fault): RingFault) -> InvalidBoundary {
        InvalidBoundary { part: self.part, ring: self.ring, vertex, fault }
    }
}

impl EdgeName {
    fn ring_name(self) -> RingName {
        RingName { part: self.part, ring: self.ring }
    }

    /// The fault of an edge that runs together with another so that the sides are left open.
    pub(super) fn unsettled(self, near: Vector) -> InvalidBoundary {
        let near = PositionText(from_earth_centred(near));
        self.ring_name().fault((Some(self.vertex), BoundaryFault::Unsettled { near }))
    }
}

const HOLE_OUTSIDE: &str = "a hole lies outside its outer ring, or overlaps another hole";
const NOTHING_LEFT: &str =
    "a hole covers the whole of its outer ring, so nothing is left; leave out the hole, or the part";

/// What is needed to name a place in the terms of what was given.
#[derive(Debug, Clone, Copy)]
pub(super) struct Faults<'a> {
    pub(super) names: &'a [RingName],
    pub(super) parts: &'a [PartSpec],
}

impl Faults<'_> {
    /// Two edges of one part that cross.
    pub(super) fn crossing(&self, edges: &[EdgeName], pair: &Pair, pieces: &[Piece]) -> InvalidBoundary {
        let [a, b] = pair.pieces.map(|piece| &pieces[piece as usize]);
        self.met(edges, [a.edge, b.edge], a.at(pair.meeting.shares[0]))
    }

    fn met(&self, edges: &[EdgeName], numbers: [u32; 2], near: Vector) -> InvalidBoundary {
        let [one, other] =
            [numbers[0].min(numbers[1]), numbers[0].max(numbers[1])].map(|n| edges[n as usize]);
        let name = one.ring_name();
        let near = PositionText(from_earth_centred(near));
        if name != other.ring_name() {
            let fault = BoundaryFault::RingsCross { part: other.part, ring: other.ring, near };
            return name.fault((Some(one.vertex), fault));
        }
        let repair = self.ring_of(name).and_then(RingRepair::uncrossing);
        name.fault((Some(one.vertex), BoundaryFault::SelfCrossing { other: other.vertex, near, repair }))
    }

    fn ring_of(&self, name: RingName) -> Option<&RingSpec> {
        match self.parts.get(name.part)? {
            PartSpec::Polygon { exterior, holes } => std::iter::once(exterior).chain(holes).nth(name.ring),
            PartSpec::Circle { .. } => None,
        }
    }

    /// Rings that make no outline.
    pub(super) fn no_outline(
        &self,
        why: NoOutline,
        (rings, edges): (&[CleanRing], &[EdgeName]),
        (found, pieces): (&[Pair], &[Piece]),
    ) -> InvalidBoundary {
        match why {
            NoOutline::Open { edge, near } => edges[edge as usize].unsettled(near),
            NoOutline::Nothing { ring } => {
                let name = self.names[ring];
                let has_hole = self.names.iter().find(|other| other.part == name.part && other.is_hole());
                match has_hole {
                    Some(hole) => hole.fault((None, BoundaryFault::Nesting(NOTHING_LEFT))),
                    None => name.fault((None, BoundaryFault::NoArea)),
                }
            }
            NoOutline::Contradiction { ring, edge, near } => {
                let name = self.names[ring];
                if let Some(fault) = passed_twice(&rings[ring]) {
                    return name.fault(fault);
                }
                let of = |piece: u32| edges[pieces[piece as usize].edge as usize];
                let met_itself = found.iter().find(|pair| {
                    let [one, other] = pair.pieces.map(of);
                    one.ring_name() == name && other.ring_name() == name && one.vertex != other.vertex
                });
                if let Some(pair) = met_itself {
                    return self.crossing(edges, pair, pieces);
                }
                let hole = self.names.iter().rfind(|other| other.part == name.part && other.is_hole());
                match hole {
                    Some(hole) => {
                        let hole = if name.is_hole() { name } else { *hole };
                        hole.fault((None, BoundaryFault::Nesting(HOLE_OUTSIDE)))
                    }
                    None => edges[edge as usize].unsettled(near),
                }
            }
        }
    }
}

/// The first vertex that a ring passes twice, if any.
fn passed_twice(ring: &CleanRing) -> Option<RingFault> {
    let mut edges: Vec<_> = ring.edges.iter().collect();
    edges.sort_by_key(|edge| (point_key(edge.from), edge.vertex));
    let twice = edges.windows(2).filter(|pair| point_key(pair[0].from) == point_key(pair[1].from));
    let first = twice.min_by_key(|pair| pair[0].vertex)?;
    Some((Some(first[0].vertex), BoundaryFault::RepeatedVertex { other: first[1].vertex }))
}

/// A vertex that a ring passes twice with lines of the outline leaving it both times: the ring has two lobes there, and
/// which of them are inside is not settled.
pub(super) fn pinch(ring: &CleanRing, first_edge: u32, leaves: impl Fn(u32) -> bool) -> Option<RingFault> {
    let kept = |edge: u32| leaves(first_edge + edge);
    let edges = (0..).zip(&ring.edges).filter(|(at, _)| kept(*at)).map(|(_, edge)| *edge).collect();
    passed_twice(&CleanRing { edges })
}
