//! Reads where a zone lies. Longitude comes first here and in `geojson_text`, and nowhere else.

use serde_json::Value;

use super::{FaultKind, WarningKind};
use crate::angle::wrap_degrees;
use crate::geojson_text::{Coordinates, Log, LonLat, VertexRef, position, shown, shown_text};
use crate::{BoundaryFault, InvalidBoundary, Position, UncrossedOrder};

const RING_MEND: &str = "write a ring as a list of positions: [[longitude, latitude], …]";

/// Two vertices nearer to each other than this are one: 1e-9° is 0.1 mm.
const SAME_DEG: f64 = 1e-9;

/// Polygons as a file lists them, each an outer ring and its holes.
#[derive(Debug, Default)]
pub(super) struct ListedParts {
    pub(super) parts: Vec<Vec<ListedRing>>,
    several: bool,
}

/// One ring: the vertices that count, and which of the file's they are.
#[derive(Debug)]
pub(super) struct ListedRing {
    pub(super) vertices: Vec<Position>,
    /// For each vertex its place in the file's list, counted from 0.
    pub(super) listed_as: Vec<usize>,
    /// How many positions the file lists.
    pub(super) positions: usize,
    /// How many edges these make: a first position repeated at the end makes none of its own.
    pub(super) edges: usize,
}

impl ListedParts {
    /// The place of a ring of a part, both counted from 0.
    pub(super) fn place(&self, part: usize, ring: usize) -> VertexRef {
        place(self.several, part, ring)
    }

    /// All rings in the order of the file, with the place of each.
    pub(super) fn rings(&self) -> impl Iterator<Item = (VertexRef, &ListedRing)> {
        let parts = self.parts.iter().enumerate();
        parts.flat_map(move |(p, rings)| {
            rings.iter().enumerate().map(move |(r, ring)| (self.place(p, r), ring))
        })
    }

    /// Reports a boundary that was refused, its counts from 0 turned into places of the file.
    pub(super) fn report(&self, log: &mut Log, refused: &InvalidBoundary) {
        let mut place = self.place(refused.part, refused.ring);
        let ring = |part: usize, ring: usize| self.parts.get(part).and_then(|rings| rings.get(ring));
        let here = ring(refused.part, refused.ring);
        place.vertex = refused.vertex.zip(here).map(|(vertex, ring)| (ring.number(vertex), ring.positions));
        let fault = match (&refused.fault, here) {
            (BoundaryFault::SelfCrossing { other, near, order }, Some(ring)) => BoundaryFault::SelfCrossing {
                other: ring.number(*other),
                near: *near,
                order: order.as_ref().map(|order| ring.renumbered(order)),
            },
            (BoundaryFault::RingsCross { part, ring, near }, _) => {
                BoundaryFault::RingsCross { part: part + 1, ring: ring + 1, near: *near }
            }
            (other, _) => other.clone(),
        };
        log.fault_at(place, FaultKind::Boundary, (fault.to_string(), ""));
    }
}

impl ListedRing {
    /// The number that the file's reader would count for a vertex that counts.
    pub(super) fn number(&self, vertex: usize) -> usize {
        self.listed_as.get(vertex).map_or(vertex, |listed| *listed) + 1
    }

    /// An order of vertices in the numbers of the file.
    pub(super) fn renumbered(&self, order: &UncrossedOrder) -> UncrossedOrder {
        let vertices = order.vertices.iter().map(|vertex| self.number(*vertex)).collect();
        UncrossedOrder { vertices, area_nm2: order.area_nm2 }
    }
}

fn place(several: bool, part: usize, ring: usize) -> VertexRef {
    VertexRef { part: several.then_some(part + 1), ring: ring + 1, vertex: None }
}

/// Reads the coordinates of a polygon or of several; none if any of it is wrong.
pub(super) fn polygons(log: &mut Log, coordinates: &Value, several: bool) -> Option<ListedParts> {
    let parts: &[Value] = if several {
        list(log, coordinates, "write a MultiPolygon's coordinates as a list of polygons")?
    } else {
        std::slice::from_ref(coordinates)
    };
    let before = log.faults_so_far();
    if parts.is_empty() {
        log.fault(FaultKind::Geometry, "holds no polygon", RING_MEND);
    }
    let mut found = ListedParts { parts: Vec::new(), several };
    for (p, part) in parts.iter().enumerate() {
        let rings = list(log, part, "write a polygon as a list of rings: [[[longitude, latitude], …]]")?;
        if rings.is_empty() {
            log.fault_at(place(several, p, 0), FaultKind::Geometry, ("is not there", RING_MEND));
        }
        let read =
            rings.iter().enumerate().filter_map(|(r, ring)| self::ring(log, ring, place(several, p, r)));
        found.parts.push(read.collect());
    }
    (log.faults_so_far() == before).then_some(found)
}

fn list<'v>(log: &mut Log, value: &'v Value, mend: &str) -> Option<&'v [Value]> {
    let found = value.as_array();
    if found.is_none() {
        log.fault(FaultKind::Geometry, format!("{} is no list", shown(value)), mend);
    }
    found.map(Vec::as_slice)
}

fn ring(log: &mut Log, value: &Value, place: VertexRef) -> Option<ListedRing> {
    let Some(listed) = value.as_array() else {
        log.fault_at(place, FaultKind::Geometry, (format!("{} is no ring", shown(value)), RING_MEND));
        return None;
    };
    if listed.is_empty() {
        log.fault_at(place, FaultKind::Geometry, ("lists no position", RING_MEND));
        return None;
    }
    let mut found = Vec::with_capacity(listed.len());
    for (v, value) in listed.iter().enumerate() {
        let place = VertexRef { vertex: Some((v + 1, listed.len())), ..place };
        match position(value) {
            Ok(position) => found.push(position),
            Err(fault) => log.fault_at(place, FaultKind::Geometry, fault),
        }
    }
    (found.len() == listed.len()).then(|| counted(log, found, place))
}

/// A ring from the positions that are listed for it.
fn counted(log: &mut Log, mut found: Vec<Position>, place: VertexRef) -> ListedRing {
    let positions = found.len();
    if let [first, .., last] = found.as_slice()
        && same(*first, *last)
    {
        found.pop();
    }
    let edges = found.len();
    let (vertices, listed_as) = without_repeats(log, found, place);
    ListedRing { vertices, listed_as, positions, edges }
}

/// The polygons of coordinates that stand apart; none if they are not those of a sound geometry of this type.
pub(super) fn sound_polygons(log: &mut Log, coordinates: &Coordinates, several: bool) -> Option<ListedParts> {
    let parts = match coordinates {
        Coordinates::Polygon(rings) if !several => std::slice::from_ref(rings),
        Coordinates::MultiPolygon(parts) if several => parts.as_slice(),
        Coordinates::Polygon(_) | Coordinates::MultiPolygon(_) => return None,
    };
    if parts.is_empty() || parts.iter().any(Vec::is_empty) {
        return None;
    }
    let mut sound_ring = |(r, ring): (usize, &Vec<LonLat>), p: usize| {
        let at = |LonLat([longitude_deg, latitude_deg]): &LonLat| {
            Position::from_degrees(*latitude_deg, *longitude_deg).ok()
        };
        let found: Vec<Position> = ring.iter().map(at).collect::<Option<_>>()?;
        (!found.is_empty()).then(|| counted(log, found, place(several, p, r)))
    };
    let parts = parts.iter().enumerate();
    let read = parts
        .map(|(p, rings)| rings.iter().enumerate().map(|ring| sound_ring(ring, p)).collect::<Option<_>>())
        .collect::<Option<_>>()?;
    Some(ListedParts { parts: read, several })
}

/// The vertices that count, and which of the listed ones they are.
fn without_repeats(log: &mut Log, listed: Vec<Position>, place: VertexRef) -> (Vec<Position>, Vec<usize>) {
    let (mut vertices, mut listed_as) = (Vec::<Position>::new(), Vec::new());
    let mut repeated = Vec::new();
    for (i, position) in listed.into_iter().enumerate() {
        // a repeat replaces the one before it, so that the edge which leaves the place keeps its own entry
        if vertices.last().is_some_and(|before| same(*before, position)) {
            repeated.push((i + 1).to_string());
            vertices.pop();
            listed_as.pop();
        }
        vertices.push(position);
        listed_as.push(i);
    }
    while let [first, .., last] = vertices.as_slice()
        && same(*first, *last)
    {
        repeated.extend(listed_as.pop().map(|i| (i + 1).to_string()));
        vertices.pop();
    }
    if !repeated.is_empty() {
        const SHOWN: usize = 8;
        let list = repeated.iter().take(SHOWN).map(String::as_str).collect::<Vec<_>>().join(", ");
        let rest = repeated.len().saturating_sub(SHOWN);
        let more = if rest > 0 { format!(" and {rest} more") } else { String::new() };
        let text = format!("repeats a neighbouring vertex and is read once: vertex {list}{more}");
        log.warn_at(place, WarningKind::RepeatedVertex, text);
    }
    (vertices, listed_as)
}

/// Whether two positions are the same place, whichever way round the longitudes were counted.
pub(super) fn same(a: Position, b: Position) -> bool {
    (a.latitude().degrees() - b.latitude().degrees()).abs() <= SAME_DEG
        && wrap_degrees(a.longitude().degrees() - b.longitude().degrees()).abs() <= SAME_DEG
}

/// Reads the type and coordinates of a geometry object.
pub(super) fn typed<'v>(log: &mut Log, geometry: &'v Value) -> Option<(&'v str, &'v Value)> {
    let mend = "write a Polygon, a MultiPolygon, or a Point with \"radius_m\" in the properties";
    let Some(members) = geometry.as_object() else {
        log.fault(FaultKind::Geometry, format!("{} is no geometry", shown(geometry)), mend);
        return None;
    };
    let Some(kind) = members.get("type").and_then(Value::as_str) else {
        log.fault(FaultKind::Geometry, "has no \"type\"", mend);
        return None;
    };
    if !matches!(kind, "Point" | "Polygon" | "MultiPolygon") {
        let mend = match kind {
            "GeometryCollection" => "write its polygons as one MultiPolygon",
            "LineString" | "MultiLineString" => {
                "a line encloses nothing; close it and write a Polygon (an open end is a zone whose geometry is unknown)"
            }
            "MultiPoint" => "write one feature for each circle",
            _ => mend,
        };
        log.fault(FaultKind::Geometry, format!("a {} is no zone", shown_text(kind)), mend);
        return None;
    }
    let coordinates = members.get("coordinates");
    if coordinates.is_none() {
        log.fault(FaultKind::Geometry, format!("the {kind} has no \"coordinates\""), mend);
    }
    Some((kind, coordinates?))
}
