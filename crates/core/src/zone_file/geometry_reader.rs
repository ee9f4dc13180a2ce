//! Reads where a zone lies. Longitude comes first here, in `geojson_text` and in `geo_interop`, and nowhere else.

use serde_json::Value;

use super::coast_sides::{
    CROSSES_ITSELF, ReadEdge, followed, leave_unresolved, warn_of_chords, why_not_followed,
};
use super::edge_reader::edges;
use super::published_reader;
use super::wire::{WireBox, WireProperties, WireUnknownGeometry};
use super::{FaultKind, WarningKind};
use crate::angle::wrap_degrees;
use crate::coast::Coast;
use crate::geojson_text::{Coordinates, Log, LonLat, Slot, VertexRef, position, shown, shown_text};
use crate::zone::{Extent, PublishedVertex};
use crate::{
    Boundary, BoundaryFault, EdgeModel, InvalidBoundary, Metres, PartSpec, Position, RingRepair, RingSpec,
    Side, Stray,
};

const RING_MEND: &str = "write a ring as a list of positions: [[longitude, latitude], …]";

/// Circles with a smaller radius are surely in other units. A rule of thumb: common practice, no source.
const LEAST_LIKELY_RADIUS_M: f64 = 10.0;

/// Longer sides, in degrees of longitude or latitude, are surely slips: no zone that we know of comes near. Common practice, no source.
const LONGEST_LIKELY_SIDE_DEG: f64 = 45.0;

/// Two vertices nearer to each other than this are one: 1e-9° is 0.1 mm.
const SAME_DEG: f64 = 1e-9;

/// Polygons as a file lists them, each an outer ring and its holes.
#[derive(Debug, Clone, Default)]
pub(super) struct ListedParts {
    pub(super) parts: Vec<Vec<ListedRing>>,
    pub(super) several: bool,
}

/// One ring: the vertices that count, and which of the file's they are.
#[derive(Debug, Clone)]
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
            (BoundaryFault::SelfCrossing { other, near, repair }, Some(ring)) => {
                BoundaryFault::SelfCrossing {
                    other: ring.number(*other),
                    near: *near,
                    repair: repair.as_ref().map(|repair| ring.renumbered(repair)),
                }
            }
            (BoundaryFault::RingsCross { part, ring, near }, _) => {
                BoundaryFault::RingsCross { part: part + 1, ring: ring + 1, near: *near }
            }
            (other, _) => other.clone(),
        };
        log.boundary_fault(place, fault);
    }
}

impl ListedRing {
    /// The number that the file's reader would count for a vertex that counts.
    pub(super) fn number(&self, vertex: usize) -> usize {
        self.listed_as.get(vertex).map_or(vertex, |listed| *listed) + 1
    }

    /// A change of vertices in the numbers of the file.
    pub(super) fn renumbered(&self, repair: &RingRepair) -> RingRepair {
        RingRepair {
            change: repair.change.renumbered(|vertex| self.number(vertex)),
            area_nm2: repair.area_nm2,
        }
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
        log.fault(FaultKind::Geometry, "has no polygons", RING_MEND);
    }
    let mut found = ListedParts { parts: Vec::new(), several };
    for (p, part) in parts.iter().enumerate() {
        let rings = list(log, part, "write a polygon as a list of rings: [[[longitude, latitude], …]]")?;
        if rings.is_empty() {
            log.fault_at(place(several, p, 0), FaultKind::Geometry, ("is missing", RING_MEND));
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
        log.fault(FaultKind::Geometry, format!("{} is not a list", shown(value)), mend);
    }
    found.map(Vec::as_slice)
}

fn ring(log: &mut Log, value: &Value, place: VertexRef) -> Option<ListedRing> {
    let Some(listed) = value.as_array() else {
        log.fault_at(place, FaultKind::Geometry, (format!("{} is not a ring", shown(value)), RING_MEND));
        return None;
    };
    if listed.is_empty() {
        log.fault_at(place, FaultKind::Geometry, ("has no positions", RING_MEND));
        return None;
    }
    let mut found = Vec::with_capacity(listed.len());
    for (v, value) in listed.iter().enumerate() {
        let place = VertexRef { vertex: Some((v + 1, listed.len())), ..place };
        match position(value) {
            Ok(position) => {
                warn_of_third_number(log, value, Some(place));
                found.push(position);
            }
            Err(fault) => log.fault_at(place, FaultKind::Geometry, fault),
        }
    }
    (found.len() == listed.len()).then(|| counted(log, found, place))
}

/// A ring from the positions that are listed for it.
pub(super) fn counted(log: &mut Log, mut found: Vec<Position>, place: VertexRef) -> ListedRing {
    let positions = found.len();
    if let [first, .., last] = found.as_slice()
        && same(*first, *last)
    {
        found.pop();
    }
    let edges = found.len();
    let (vertices, listed_as) = without_repeats(log, found, place);
    let whole = VertexRef { vertex: Some((0, positions)), ..place };
    warn_of_stray(log, (&vertices, &listed_as), whole);
    warn_of_leaps(log, (&vertices, &listed_as), whole);
    ListedRing { vertices, listed_as, positions, edges }
}

/// Sides that reach over a good part of the Earth.
fn warn_of_leaps(log: &mut Log, (vertices, listed_as): (&[Position], &[usize]), place: VertexRef) {
    let next = vertices.iter().cycle().skip(1);
    let leap = vertices.iter().zip(next).position(|(from, to)| {
        let north_deg = to.latitude().degrees() - from.latitude().degrees();
        let east_deg = to.longitude().degrees() - from.longitude().degrees();
        north_deg.abs() > LONGEST_LIKELY_SIDE_DEG || wrap_degrees(east_deg).abs() > LONGEST_LIKELY_SIDE_DEG
    });
    let Some(at) = leap else { return };
    let number = listed_as.get(at).map_or(at, |listed| *listed) + 1;
    let text = format!(
        "is more than {LONGEST_LIKELY_SIDE_DEG}° of longitude or latitude from the vertex after it; compare the signs and degrees of both with the law"
    );
    let vertex = place.vertex.map(|(_, of)| (number, of));
    log.warn_at(VertexRef { vertex, ..place }, WarningKind::OutOfProportion, text);
}

/// A vertex that one slip of the pen took far from all others. Without such a slip it may be meant so.
fn warn_of_stray(log: &mut Log, (vertices, listed_as): (&[Position], &[usize]), place: VertexRef) {
    let Some(stray) = Stray::among(vertices) else { return };
    let Some(change) = stray.homecoming(vertices) else { return };
    let number = listed_as.get(stray.vertex).map_or(stray.vertex, |listed| *listed) + 1;
    let times = stray.times(vertices);
    let text = format!(
        "lies {times:.0} times farther from the other vertices than these lie apart; {} it would lie beside them: compare it with the law",
        change.renumbered(|_| number)
    );
    let vertex = place.vertex.map(|(_, of)| (number, of));
    log.warn_at(VertexRef { vertex, ..place }, WarningKind::FarFromOthers, text);
}

/// A third number after a whole one, which a decimal comma may have made of one number.
fn warn_of_third_number(log: &mut Log, value: &Value, place: Option<VertexRef>) {
    let numbers: Vec<f64> = value.as_array().into_iter().flatten().filter_map(Value::as_f64).collect();
    let [longitude_deg, latitude_deg, third] = numbers[..] else { return };
    if third == 0.0 || latitude_deg.fract() != 0.0 {
        return;
    }
    let text = format!(
        "has a third number, {third}, which is not used; if a comma stands for a decimal point in {longitude_deg},{latitude_deg},{third}, write the point"
    );
    match place {
        Some(place) => log.warn_at(place, WarningKind::ThirdCoordinate, text),
        None => log.warn(WarningKind::ThirdCoordinate, text),
    }
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
        let text = format!("repeats the vertex beside it, and is read once: vertex {list}{more}");
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
        log.fault(FaultKind::Geometry, format!("{} is not a geometry", shown(geometry)), mend);
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
                "a line encloses nothing; close it and write a Polygon (if one end is open, the geometry of the zone is unknown)"
            }
            "MultiPoint" => "write one feature for each circle",
            _ => mend,
        };
        log.fault(FaultKind::Geometry, format!("a {} cannot be a zone", shown_text(kind)), mend);
        return None;
    }
    let coordinates = members.get("coordinates");
    if coordinates.is_none() {
        log.fault(FaultKind::Geometry, format!("the {kind} has no \"coordinates\""), mend);
    }
    Some((kind, coordinates?))
}

/// Every aiming point is compared with every vertex.
const AIMING_POINT_LIMIT: usize = 100;

pub(super) const RADIUS_MEND: &str = "write the radius in metres, above 0";

/// Reads where a zone lies; none if that is wrong or missing. The coordinates of its geometry may stand apart.
pub(super) fn extent(
    log: &mut Log,
    (geometry, apart): (Option<&Value>, Option<&Coordinates>),
    (wire, published): (&WireProperties, &[PublishedVertex]),
    coasts: &[Coast],
) -> Option<Extent> {
    let unknown = log.given("geometry_unknown", &wire.geometry_unknown, "write { \"reason\": \"…\" }");
    match (geometry, unknown) {
        (Some(Value::Null), Some(unknown)) => {
            log.within("geometry_unknown", |log| unknown_extent(log, unknown))
        }
        (Some(Value::Null), None)
            if !wire.as_published.is_missing() && wire.geometry_unknown.is_missing() =>
        {
            from_published(log, (wire, published), coasts)
        }
        (Some(Value::Null), None) => {
            if wire.geometry_unknown.is_missing() {
                let mend = "draw it, or say why it is not known: \"geometry_unknown\": { \"reason\": \"…\" }, or write its positions as printed in \"as_published\"";
                log.fault(FaultKind::MissingMember, "the geometry is null", mend);
            }
            None
        }
        (None, _) => {
            log.missing("geometry", "write where the zone lies, or null together with \"geometry_unknown\"");
            None
        }
        (Some(_), Some(_)) => {
            let mend = "keep one of the two; write the unknown part as a feature of its own";
            log.fault(FaultKind::Contradiction, "has a geometry and \"geometry_unknown\"", mend);
            None
        }
        (Some(geometry), None) => known_extent(log, (geometry, apart), (wire, published), coasts),
    }
}

/// A zone that gives its vertices only as the law prints them.
fn from_published(
    log: &mut Log,
    (wire, published): (&WireProperties, &[PublishedVertex]),
    coasts: &[Coast],
) -> Option<Extent> {
    if published.len() < wire.as_published.get().map_or(0, Vec::len) || published.is_empty() {
        return None;
    }
    if !wire.radius_m.is_missing() {
        let centre = log.within("as_published", |log| published_reader::centre_of(log, published));
        return circle(log, centre, wire);
    }
    let listed = log.within("as_published", |log| published_reader::rings_of(log, published))?;
    drawn(log, &listed, wire, coasts)
}

fn known_extent(
    log: &mut Log,
    (geometry, apart): (&Value, Option<&Coordinates>),
    (wire, published): (&WireProperties, &[PublishedVertex]),
    coasts: &[Coast],
) -> Option<Extent> {
    let (kind, coordinates) = log.within("geometry", |log| typed(log, geometry))?;
    if kind == "Point" {
        let centre = log.within("geometry", |log| found_position(log, coordinates));
        if let Some(centre) = centre {
            log.within("as_published", |log| published_reader::compare_centre(log, published, centre));
        }
        return circle(log, centre, wire);
    }
    if !wire.radius_m.is_missing() {
        let text = format!("\"radius_m\" stands beside a {kind}");
        log.fault(FaultKind::Contradiction, text, "take it out, or write the circle as a Point");
    }
    let several = kind == "MultiPolygon";
    let listed = log.within("geometry", |log| match apart {
        Some(apart) => sound_polygons(log, apart, several),
        None => polygons(log, coordinates, several),
    })?;
    log.within("as_published", |log| published_reader::compare(log, published, &listed));
    drawn(log, &listed, wire, coasts)
}

fn drawn(log: &mut Log, listed: &ListedParts, wire: &WireProperties, coasts: &[Coast]) -> Option<Extent> {
    aiming_points(log, wire, listed);
    let edges = edges(log, &wire.edges, listed)?;
    log.within("geometry", |log| along_coasts(log, listed, edges, coasts)).map(Extent::Known)
}

/// The boundary with its sides along the coasts that they follow.
fn along_coasts(
    log: &mut Log,
    listed: &ListedParts,
    mut edges: Vec<Vec<ReadEdge>>,
    coasts: &[Coast],
) -> Option<Boundary> {
    warn_of_chords(log, listed, &edges, coasts);
    leave_unresolved(log, listed, &mut edges, |from, to| why_not_followed(coasts, from, to));
    if let Some((followed, along)) = followed(listed, &edges, coasts) {
        if let Ok(boundary) = build(&followed, along) {
            return Some(boundary);
        }
        let (why, mend) = CROSSES_ITSELF;
        leave_unresolved(log, listed, &mut edges, |_, _| Some((why.to_owned(), mend.to_owned())));
    }
    boundary(log, listed, edges)
}

fn boundary(log: &mut Log, listed: &ListedParts, edges: Vec<Vec<ReadEdge>>) -> Option<Boundary> {
    build(listed, edges).map_err(|refused| listed.report(log, &refused)).ok()
}

fn build(listed: &ListedParts, edges: Vec<Vec<ReadEdge>>) -> Result<Boundary, InvalidBoundary> {
    let mut edges = edges.into_iter();
    let mut parts = Vec::with_capacity(listed.parts.len());
    for rings in &listed.parts {
        let mut specs = rings.iter().map(|ring| {
            let edges = edges.next().unwrap_or_default().into_iter();
            let (edges, mut sides): (Vec<EdgeModel>, Vec<Side>) =
                edges.map(|edge| (edge.model, edge.side)).unzip();
            if sides.iter().all(|side| *side == Side::default()) {
                sides = Vec::new();
            }
            RingSpec { vertices: ring.vertices.clone(), edges, sides }
        });
        let exterior = specs.next().unwrap_or_default();
        parts.push(PartSpec::Polygon { exterior, holes: specs.collect() });
    }
    Boundary::build(&parts)
}

fn circle(log: &mut Log, centre: Option<Position>, wire: &WireProperties) -> Option<Extent> {
    if !wire.edges.is_missing() {
        log.warn(WarningKind::NoEffect, "\"edges\" has no effect on a circle");
    }
    if wire.radius_m.is_missing() {
        log.missing("radius_m", "a Point needs the radius of its circle in metres, in the properties");
    }
    let radius = radius(log, &wire.radius_m);
    let radius = radius?;
    if radius.metres() < LEAST_LIKELY_RADIUS_M {
        let text = format!(
            "is {} m, less than a boat is long: if the law gives miles or kilometres, write them in metres (1 nautical mile is 1852 m)",
            radius.metres()
        );
        log.within("radius_m", |log| log.warn(WarningKind::OutOfProportion, text));
    }
    let circle = PartSpec::Circle { centre: centre?, radius };
    match Boundary::build(&[circle]) {
        Ok(boundary) => Some(Extent::Known(boundary)),
        Err(refused) => {
            log.within("geometry", |log| log.fault(FaultKind::Boundary, refused.fault.to_string(), ""));
            None
        }
    }
}

pub(super) fn found_position(log: &mut Log, value: &Value) -> Option<Position> {
    warn_of_third_number(log, value, None);
    position(value).map_err(|(text, mend)| log.fault(FaultKind::Geometry, text, mend)).ok()
}

pub(super) fn radius(log: &mut Log, slot: &Slot<f64>) -> Option<Metres> {
    let given = *log.given("radius_m", slot, RADIUS_MEND)?;
    let radius = Metres::new(given).ok().filter(|radius| radius.metres() > 0.0);
    if radius.is_none() {
        log.within("radius_m", |log| {
            log.fault(FaultKind::WrongValue, format!("{given} m is not a possible radius"), RADIUS_MEND);
        });
    }
    radius
}

fn unknown_extent(log: &mut Log, wire: &WireUnknownGeometry) -> Option<Extent> {
    log.unknown_members(wire);
    let reason = log.needed_text("reason", &wire.reason, "say why: \"reason\": \"see plan 2, not supplied\"");
    let somewhere_in = match &wire.somewhere_in {
        Slot::Missing => {
            let text =
                "may be anywhere, so every answer is undecided; give \"somewhere_in\" to narrow it down";
            log.warn(WarningKind::UndecidedEverywhere, text);
            None
        }
        Slot::Given(value) | Slot::Wrong(value) => {
            Some(log.within("somewhere_in", |log| somewhere_in(log, value))?)
        }
    };
    Some(Extent::Unknown { somewhere_in, reason: reason? })
}

fn somewhere_in(log: &mut Log, value: &Value) -> Option<Boundary> {
    if value.get("bbox").is_some() && value.get("type").is_none() {
        return bounding_box(log, value);
    }
    let (kind, coordinates) = typed(log, value)?;
    if kind == "Point" {
        let mend = "write a Polygon, or { \"bbox\": [west, south, east, north] }";
        log.fault(FaultKind::Geometry, "a Point is not an area", mend);
        return None;
    }
    let listed = polygons(log, coordinates, kind == "MultiPolygon")?;
    // RFC 7946 section 3.1.1: an edge is straight in longitude and latitude
    let edge = ReadEdge::from(EdgeModel::PlateCarree);
    let edges = listed.rings().map(|(_, ring)| vec![edge.clone(); ring.vertices.len()]).collect();
    boundary(log, &listed, edges)
}

fn bounding_box(log: &mut Log, value: &Value) -> Option<Boundary> {
    let mend = "write \"bbox\": [west, south, east, north] in degrees";
    let slot = Slot::<WireBox>::from_value(value);
    let wire = log.needed("somewhere_in", &slot, mend)?;
    log.unknown_members(wire);
    let [west, south, east, north] = log.needed("bbox", &wire.bbox, mend)?.as_slice() else {
        log.fault(FaultKind::Geometry, "\"bbox\" does not have four numbers", mend);
        return None;
    };
    let corner = |log: &mut Log, longitude: f64, latitude: f64| {
        found_position(log, &serde_json::json!([longitude, latitude]))
    };
    let (low, high) = (corner(log, *west, *south), corner(log, *east, *north));
    let (low, high) = (low?, high?);
    let eastward = high.longitude().degrees() - low.longitude().degrees();
    let width = if eastward < 0.0 { eastward + 360.0 } else { eastward };
    if !(width > 0.0 && width < 180.0 && south < north && *south > -90.0 && *north < 90.0) {
        let mend = "make it narrower than 180°, with north above south, and short of the poles; leave \"somewhere_in\" out if the zone may be anywhere";
        log.fault(FaultKind::Geometry, format!("the box {} is not an area", shown(&value["bbox"])), mend);
        return None;
    }
    let turns = [(*west, *south), (*east, *south), (*east, *north), (*west, *north)];
    let vertices = turns.iter().filter_map(|(lon, lat)| corner(log, *lon, *lat)).collect();
    // parallels and meridians are rhumb lines
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::RhumbLine; 4], sides: Vec::new() };
    match Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }]) {
        Ok(boundary) => Some(boundary),
        Err(refused) => {
            log.fault(FaultKind::Boundary, refused.fault.to_string(), mend);
            None
        }
    }
}

/// Warns where a point that only aims an edge is also a vertex: the zone would grow to it.
fn aiming_points(log: &mut Log, wire: &WireProperties, listed: &ListedParts) {
    let mends =
        ("write a list: [ { \"at\": [longitude, latitude] } ]", "write { \"at\": [longitude, latitude] }");
    let points = log.entries("aiming_points", &wire.aiming_points, mends, |log, point| {
        log.unknown_members(point);
        let name = log.text("name", &point.name);
        let at = log.needed("at", &point.at, "write \"at\": [longitude, latitude]");
        let at = at.and_then(|value| log.within("at", |log| found_position(log, value)))?;
        Some((name.unwrap_or_else(|| "an aiming point".to_owned()), at))
    });
    let points = points.unwrap_or_default();
    if points.len() > AIMING_POINT_LIMIT {
        let text = format!("holds more than {AIMING_POINT_LIMIT} points");
        log.within("aiming_points", |log| {
            log.fault(FaultKind::WrongValue, text, "keep those that are vertices");
        });
        return;
    }
    let mut found = Vec::new();
    for (place, ring) in listed.rings() {
        for (i, vertex) in ring.vertices.iter().enumerate() {
            let hit = points.iter().find(|(_, at)| same(*at, *vertex));
            found.extend(hit.map(|(name, _)| (place, (ring.number(i), ring.positions), name)));
        }
    }
    for (mut place, vertex, name) in found {
        place.vertex = Some(vertex);
        let text = format!(
            "is where {name} is, which the file says is not on the boundary; take the vertex out if that is so"
        );
        log.warn_at(place, WarningKind::AimingPointOnLine, text);
    }
}
