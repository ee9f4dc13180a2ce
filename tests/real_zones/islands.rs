//! Natural Earth islands: rings of up to 10 877 vertices, one across 180°.

use geographiclib_rs::{Geodesic, PolygonArea, Winding};
use serde::Deserialize;
use takeline::{Boundary, BoundaryFault, EdgeModel, InvalidBoundary, PartSpec, RingSpec};

use crate::independent::Point;
use crate::regulations::position;
use crate::scatter::Chance;

#[derive(Debug, Deserialize)]
struct File {
    features: Vec<Island>,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Island {
    properties: Properties,
    geometry: Geometry,
}

#[derive(Debug, Deserialize)]
struct Properties {
    id: String,
    vertices: usize,
    holes: usize,
    exterior_perimeter_geodesic_m: f64,
    exterior_area_geodesic_m2: f64,
}

#[derive(Debug, Deserialize)]
struct Geometry {
    coordinates: Vec<Vec<[f64; 2]>>,
}

pub(crate) fn islands() -> Vec<Island> {
    let text = include_str!("../data/natural-earth/ne_10m_islands.geojson");
    let file: File = serde_json::from_str(text).expect("the file has the keys of its type");
    assert_eq!(file.features.len(), 9);
    file.features
}

impl Island {
    /// The exterior ring without its repeated end; none of the nine has a hole.
    pub(crate) fn ring(&self) -> Vec<Point> {
        assert_eq!(self.properties.holes, 0);
        let ring = &self.geometry.coordinates[0];
        let vertices: Vec<Point> = ring[..ring.len() - 1].iter().map(|[lon, lat]| (*lat, *lon)).collect();
        assert_eq!(vertices.len(), self.properties.vertices);
        vertices
    }
}

/// An island as a boundary that can be: packaging the data has rounded some coasts onto or across themselves.
struct Mended {
    boundary: Boundary,
    rings: Vec<Vec<Point>>,
    crossings_taken_out: usize,
}

/// Mends a ring as the refusals say: lobes that meet in one vertex become parts of their own, spikes of no area go,
/// and where edges cross, the vertex that pokes through goes.
fn mended(island: &Island) -> Mended {
    let mut rings = lobes(&island.ring());
    for crossings_taken_out in 0..10 {
        let parts: Vec<PartSpec> = rings.iter().map(|ring| part(ring)).collect();
        match Boundary::build(&parts) {
            Ok(boundary) => return Mended { boundary, rings, crossings_taken_out },
            Err(InvalidBoundary {
                part, fault: BoundaryFault::SelfCrossing { other, .. }, vertex, ..
            }) => {
                let vertex = vertex.expect("an edge");
                assert!(cross_in_the_plane(&rings[part], vertex, other), "{vertex} and {other}");
                let beyond = (vertex + 1) % rings[part].len();
                rings[part].remove(beyond);
            }
            Err(error) => panic!("{}: {error}", island.properties.id),
        }
    }
    panic!("{} crosses itself in more than 9 places", island.properties.id)
}

fn part(ring: &[Point]) -> PartSpec {
    let vertices = ring.iter().map(|vertex| position(*vertex)).collect();
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; ring.len()], sides: Vec::new() };
    PartSpec::Polygon { exterior, holes: vec![] }
}

/// Cuts a ring at vertices that it passes twice; what then has two vertices only is a spike and is dropped.
fn lobes(ring: &[Point]) -> Vec<Vec<Point>> {
    let mut found = Vec::new();
    let mut open: Vec<Point> = Vec::new();
    for vertex in ring {
        if let Some(at) = open.iter().position(|earlier| earlier == vertex) {
            found.push(open.split_off(at));
        }
        open.push(*vertex);
    }
    found.push(open);
    found.retain(|lobe| lobe.len() > 2);
    found
}

/// Whether two edges of some hundred metres cross, by the signs of four triangles in the plane of latitude and
/// longitude. One vertex of Baffin Island lies on another edge of that plane to the last printed decimal, and
/// beyond the geodesic: a triangle of less than that decimal counts as a crossing.
fn cross_in_the_plane(ring: &[Point], one: usize, other: usize) -> bool {
    let at = |vertex: usize| ring[vertex % ring.len()];
    let turn = |a: Point, b: Point, c: Point| (b.1 - a.1) * (c.0 - a.0) - (b.0 - a.0) * (c.1 - a.1);
    let (a, b, c, d) = (at(one), at(one + 1), at(other), at(other + 1));
    turn(a, b, c) * turn(a, b, d) < 1e-10 && turn(c, d, a) * turn(c, d, b) < 1e-10
}

/// Perimeter and area of a ring by GeographicLib's polygon, whether or not the ring crosses itself.
pub(crate) fn planimeter(ring: &[Point]) -> (f64, f64) {
    let geodesic = Geodesic::wgs84();
    let mut polygon = PolygonArea::new(&geodesic, Winding::CounterClockwise);
    for (lat, lon) in ring {
        polygon.add_point(*lat, *lon);
    }
    let (perimeter_m, area_m2, _) = polygon.compute(true);
    (perimeter_m, area_m2.abs())
}

/// Areas in the file are printed to 0.1 m², perimeters to 1 µm; ours sums over pieces of 2 km, with a rounding of a
/// few nm for each. What the mending takes off is taken off the file's figures too.
#[test]
fn islands_have_their_computed_areas_and_perimeters() {
    let (mut largest_m2, mut largest_m): (f64, f64) = (0.0, 0.0);
    let mut taken_out = Vec::new();
    for island in islands() {
        let wanted = &island.properties;
        let raw = planimeter(&island.ring());
        assert!((raw.0 - wanted.exterior_perimeter_geodesic_m).abs() < 1e-5, "{}", wanted.id);
        assert!((raw.1 - wanted.exterior_area_geodesic_m2).abs() < 0.1, "{}", wanted.id);
        let found = mended(&island);
        let (perimeter_m, area_m2) = found
            .rings
            .iter()
            .map(|ring| planimeter(ring))
            .fold((0.0, 0.0), |sum, one| (sum.0 + one.0, sum.1 + one.1));
        let off_m2 = (found.boundary.area_m2() - area_m2 + raw.1 - wanted.exterior_area_geodesic_m2).abs();
        let off_m = (found.boundary.perimeter().metres() - perimeter_m + raw.0
            - wanted.exterior_perimeter_geodesic_m)
            .abs();
        println!(
            "{}: {} rings, {} crossings taken out; area off by {off_m2:.3} m2, perimeter by {off_m:.1e} m",
            wanted.id,
            found.rings.len(),
            found.crossings_taken_out
        );
        assert!(off_m2 < 0.1 + 1e-12 * area_m2, "{}: {off_m2} m2", wanted.id);
        assert!(off_m < 1e-5, "{}: {off_m} m", wanted.id);
        (largest_m2, largest_m) = (largest_m2.max(off_m2), largest_m.max(off_m));
        taken_out.push((found.rings.len(), found.crossings_taken_out));
    }
    println!("islands: area within {largest_m2:.3} m2, perimeter within {largest_m:.1e} m");
    // one each in Iceland and twice in Baffin Island; all lobes but the main one were spikes
    assert_eq!(taken_out, [(1, 0), (1, 0), (1, 1), (1, 0), (1, 0), (1, 0), (1, 0), (1, 2), (1, 0)]);
}

/// Side by the nearest edge against side by counting crossings: two ways that share only the pieces.
#[test]
fn islands_nearest_edge_and_crossings_agree() {
    for island in islands() {
        let (ring, found) = (island.ring(), mended(&island).boundary);
        let mut chance = Chance::seeded(&island.properties.id);
        let (mut inside, mut nearest_m) = (0, f64::INFINITY);
        for number in 0..2_000 {
            let place = place_about(&ring, number, &mut chance);
            let signed_m = found.locate(position(place)).signed_distance.metres();
            nearest_m = nearest_m.min(signed_m.abs());
            let crossings = found.contains_by_crossings(position(place));
            assert_eq!(signed_m < 0.0, crossings, "{} at {place:?}: {signed_m} m", island.properties.id);
            inside += usize::from(crossings);
        }
        println!("{}: {inside} of 2000 inside, nearest to the line {nearest_m:.3} m", island.properties.id);
        assert!((200..1_900).contains(&inside), "{}: {inside} inside", island.properties.id);
    }
}

/// Half of the places in the box about the island, half within some 10 m to 1 km of a vertex.
fn place_about(ring: &[Point], number: usize, chance: &mut Chance) -> Point {
    let middle = ring[0].1;
    let lon = |lon: f64| middle + crate::independent::within_half_turn(lon - middle);
    if number.is_multiple_of(2) {
        let bounds = |value: fn(f64, f64) -> f64, of: &dyn Fn(&Point) -> f64| {
            ring.iter().map(of).reduce(value).expect("a ring")
        };
        let (south, north) = (bounds(f64::min, &|point| point.0), bounds(f64::max, &|point| point.0));
        let (west, east) = (bounds(f64::min, &|point| lon(point.1)), bounds(f64::max, &|point| lon(point.1)));
        return (chance.between(south, north), chance.between(west, east));
    }
    let at = number * 7_919 % ring.len();
    let reach_deg = chance.between(1e-4, 1e-2);
    (ring[at].0 + chance.between(-reach_deg, reach_deg), ring[at].1 + chance.between(-reach_deg, reach_deg))
}
