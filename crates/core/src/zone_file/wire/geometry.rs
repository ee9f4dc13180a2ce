use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::{Slot, Word};
use crate::geojson_text::wire_object;
use crate::{ArcSense, EdgeModel, SideKind};

/// Longitude, latitude, and perhaps a height, which is ignored. Degrees, east and north positive.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[cfg_attr(feature = "schema", schemars(inline))]
#[cfg_attr(feature = "schema", schemars(extend("minItems" = 2, "maxItems" = 3)))]
pub struct WirePosition(pub Vec<f64>);

/// Where the zone lies, in the form of RFC 7946.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "type")]
pub enum WireGeometry {
    /// A circle: the properties give its `radius_m`.
    Point {
        /// Its centre.
        coordinates: WirePosition,
    },
    /// One outer ring, then any holes.
    Polygon {
        /// The rings.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        coordinates: Vec<Vec<WirePosition>>,
    },
    /// Several polygons.
    MultiPolygon {
        /// The polygons.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 1)))]
        coordinates: Vec<Vec<Vec<WirePosition>>>,
    },
}

/// How the edges run.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum WireEdges {
    /// All alike, and open water.
    Alike(Word<EdgeModel>),
    /// All alike.
    AlikeSides(WireSide),
    /// One ring: one entry for each edge; the first leaves the first vertex.
    PerEdge(Vec<WireEdge>),
    /// Several rings: one list for each, in the order of the file.
    PerRing(Vec<Vec<WireEdge>>),
}

/// How one edge runs.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum WireEdge {
    /// A line.
    Line(Word<EdgeModel>),
    /// Part of a circle, or what the side is.
    Side(WireSide),
}

wire_object! {
    /// How an edge runs, and what it is: open water, the shore, a mouth, or not supplied yet.
    pub WireSide {
        /// How it runs. Missing: `unstated`.
        runs: WireRuns,
        /// For an edge that is part of a circle: the circle and the way round it. The same as `runs` with an `arc`.
        arc: WireArc,
        /// What it is: a line over open water (`open`, also where this is missing), the `shore`, a line across a `mouth`, or
        /// `unresolved` where the text says "along the coast" and the coast has not been supplied.
        side: Word<SideKind>,
        /// That it does not run as drawn but along the coast that is supplied, from the place nearest to its first vertex to that
        /// nearest to its second. Without a coast it is `unresolved`.
        along: Word<Along>,
        /// Where the law has the shore, in its words: "mean high water", "surf line".
        level: String,
        /// How far the true line may be off where this edge is drawn, 95 %, in metres. Missing: half its length where it is
        /// `unresolved`, else 0.
        #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0)))]
        uncertainty_m: f64,
        /// How wide the land behind a shore is at least, in metres. Missing: 25. Write 0 for a pier.
        #[cfg_attr(feature = "schema", schemars(extend("minimum" = 0)))]
        land_m: f64,
    }
}

/// What an edge follows.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Along {
    /// The coast that is supplied.
    Coast,
}

/// How one edge runs, in an object.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum WireRuns {
    /// A line.
    Line(Word<EdgeModel>),
    /// Part of a circle.
    Arc(WireArcRuns),
}

wire_object! {
    /// An edge that is part of a circle.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["arc"])))]
    pub WireArcRuns {
        /// The circle and the way round it.
        arc: WireArc,
    }
}

wire_object! {
    /// The circle and the way round it.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["centre", "radius_m", "turn"])))]
    pub WireArc {
        /// Centre of the circle: longitude, latitude.
        #[cfg_attr(feature = "schema", schemars(with = "WirePosition"))]
        centre: Value,
        /// Radius as printed, in metres.
        #[cfg_attr(feature = "schema", schemars(extend("exclusiveMinimum" = 0)))]
        radius_m: f64,
        /// Which way the arc runs about its centre, seen from above.
        turn: Word<ArcSense>,
    }
}

wire_object! {
    /// For a zone whose line is not known: the reason, and the area inside which every answer is undecided.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["reason"])))]
    pub WireUnknownGeometry {
        /// Why it is not known ("see plan 2, not supplied").
        reason: String,
        /// The area that surely holds the zone. Missing: every answer is undecided, everywhere.
        #[cfg_attr(feature = "schema", schemars(with = "WireExtent"))]
        somewhere_in: Value,
    }
}

/// An area that surely holds a zone.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(untagged)]
pub enum WireExtent {
    /// A polygon or several; their edges are straight in longitude and latitude.
    Area(WireArea),
    /// A box between two parallels and two meridians.
    Box(WireBox),
}

/// A polygon or several, as in RFC 7946.
#[derive(Debug, Clone, PartialEq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(tag = "type")]
pub enum WireArea {
    /// One outer ring, then any holes.
    Polygon {
        /// The rings.
        coordinates: Vec<Vec<WirePosition>>,
    },
    /// Several polygons.
    MultiPolygon {
        /// The polygons.
        coordinates: Vec<Vec<Vec<WirePosition>>>,
    },
}

wire_object! {
    /// A box between two parallels and two meridians, narrower than 180°.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["bbox"])))]
    pub WireBox {
        /// West, south, east, north, in degrees. A west beyond the east means that the box crosses 180°.
        #[cfg_attr(feature = "schema", schemars(extend("minItems" = 4, "maxItems" = 4)))]
        bbox: Vec<f64>,
    }
}

wire_object! {
    /// A point that the law uses to aim an edge and that is not on the line.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["at"])))]
    pub WireAimingPoint {
        /// Where it is: longitude, latitude.
        #[cfg_attr(feature = "schema", schemars(with = "WirePosition"))]
        at: Value,
        /// Its name in the law.
        name: String,
    }
}

wire_object! {
    /// A vertex as the law prints it.
    #[cfg_attr(feature = "schema", schemars(extend("required" = ["text"])))]
    pub WirePublished {
        /// The position, as printed.
        text: String,
        /// What the law calls the point.
        point: String,
        /// The part of the zone, counted from 1. Missing: 1.
        #[cfg_attr(feature = "schema", schemars(range(min = 1)))]
        part: u32,
        /// The ring of the part, counted from 1. Missing: 1.
        #[cfg_attr(feature = "schema", schemars(range(min = 1)))]
        ring: u32,
        /// The vertex of the ring as the file lists it, counted from 1. Missing: the place in this list.
        #[cfg_attr(feature = "schema", schemars(range(min = 1)))]
        vertex: u32,
        /// The datum of the text, if the vertex was shifted from it to the zone's.
        datum: String,
    }
}
