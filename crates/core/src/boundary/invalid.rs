use crate::Position;

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
    #[error("there is nothing in it; give at least one ring or circle")]
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
        "the edge that leaves it spans half the Earth, so which way it runs is not settled; add a vertex between"
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
        .order.as_ref().map_or(String::new(), ToString::to_string))]
    SelfCrossing {
        /// The other edge, by the vertex it leaves.
        other: usize,
        /// Where they cross.
        near: PositionText,
        /// An order of the vertices that does not cross, if one was found; offered, never applied.
        order: Option<UncrossedOrder>,
    },
    /// The ring passes the same vertex twice.
    #[error(
        "is passed again at vertex {other}, so which lobes are inside is not settled; write them as separate parts"
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
        "encloses {area_m2:.2} m²; a zone, and a hole in one, has at least 1 m², so correct its vertices or leave it out"
    )]
    TooSmall {
        /// What it encloses, in square metres.
        area_m2: f64,
    },
    /// The two sides of a ring are nearly as large as each other.
    #[error(
        "encloses more than 40 % of the Earth, so which of its sides is meant is not settled; write smaller parts"
    )]
    NearHalfEarth,
    /// The edges of the zone, one after the other, are longer than can be held at once.
    #[error(
        "is where the edges of the zone come to more than {longest_km} km; write it as several zones, or shorter"
    )]
    TooLong {
        /// The longest that is taken, in kilometres.
        longest_km: usize,
    },
    /// Lines run together so that their sides cannot be told apart.
    #[error(
        "the edge that leaves it runs so close to another near {near} that what lies inside cannot be told; \
         move the vertices there, or leave out what encloses nothing"
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

/// An order of a ring's vertices in which it would not cross itself.
#[derive(Debug, Clone, PartialEq)]
pub struct UncrossedOrder {
    /// The vertices, counted as those of the ring are.
    pub vertices: Vec<usize>,
    /// The area that it would enclose, in square nautical miles: a figure to hold against the law's.
    pub area_nm2: f64,
}

impl std::fmt::Display for UncrossedOrder {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let vertices: Vec<String> = self.vertices.iter().map(ToString::to_string).collect();
        let (order, area_nm2) = (vertices.join(" "), self.area_nm2);
        write!(
            f,
            "; in the order {order} it would not, and would enclose {area_nm2:.3} square nautical miles"
        )
    }
}
