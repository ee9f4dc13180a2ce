//! Zones whose edges are straight in longitude and latitude, a few kilometres wide, against `geo` on the plane: which side,
//! how far from the outline of the union, what area.
//!
//! The corners lie on a coarse lattice, so that parts share borders, meet in T-junctions, run over each other's corners and
//! cross. Plate carrée edges are exactly straight there, so `Contains` needs no tolerance. Distance and area are taken on
//! a plane that fits at the middle; how far that may be off is said at each.
//!
//! ```text
//! TAKELINE_SHAPES=10000 cargo test --release -p takeline --test planar_unions -- --nocapture
//! ```
#![expect(clippy::unwrap_used, reason = "a test whose shapes or zones cannot be made has failed")]
#![expect(clippy::cast_precision_loss, reason = "small lattices")]

use approx::assert_relative_eq;
use geo::line_intersection::{LineIntersection, line_intersection};
use geo::{
    Area, BooleanOps, BoundingRect, Contains, Coord, Distance, Euclidean, Line, LineString, LinesIter,
    MultiPolygon, Point, Polygon, Validation,
};
use takeline::{Boundary, EdgeModel, PartSpec, RingSpec};
use takeline_test_util::{Dice, earth::position};

/// Shapes of the ordinary suite, and places about each.
const SHAPES: u64 = 300;
const PLACES: usize = 60;

/// A lattice laid on the Earth.
#[derive(Debug)]
struct Plane {
    lat_deg: f64,
    lon_deg: f64,
    step_deg: f64,
    points: usize,
}

impl Plane {
    fn random(dice: &mut Dice) -> Self {
        let points = 4 + dice.below(6);
        // 200 m to 4 km in all
        let step_deg = dice.log_between(0.002, 0.04) / points as f64;
        let lon_deg = if dice.chance(0.3) { 180.0 } else { dice.between(-180.0, 180.0) };
        Self { lat_deg: dice.between(-65.0, 65.0), lon_deg, step_deg, points }
    }

    fn place(&self, (x, y): (f64, f64)) -> takeline::Position {
        let middle = self.points as f64 / 2.0;
        position(self.lat_deg + (y - middle) * self.step_deg, self.lon_deg + (x - middle) * self.step_deg)
    }

    /// Metres in one step east and one step north in the middle (radii of curvature of WGS 84).
    fn metres(&self) -> (f64, f64) {
        let (a, e2) = (6_378_137.0, 0.006_694_379_990_141_3);
        let lat = self.lat_deg.to_radians();
        let w2 = 1.0 - e2 * lat.sin().powi(2);
        let step = self.step_deg.to_radians();
        (step * lat.cos() * a / w2.sqrt(), step * a * (1.0 - e2) / w2.powf(1.5))
    }

    fn ring(&self, line: &LineString) -> RingSpec {
        let vertices: Vec<_> = line.coords().map(|corner| self.place((corner.x, corner.y))).collect();
        let edges = vec![EdgeModel::PlateCarree; vertices.len() - 1];
        RingSpec { vertices, edges, sides: Vec::new() }
    }

    fn part(&self, polygon: &Polygon) -> PartSpec {
        let holes = polygon.interiors().iter().map(|hole| self.ring(hole)).collect();
        PartSpec::Polygon { exterior: self.ring(polygon.exterior()), holes }
    }

    /// In metres, so that `geo` measures what the library does.
    fn scaled(&self, shape: &MultiPolygon) -> MultiPolygon {
        use geo::MapCoords;
        let (east_m, north_m) = self.metres();
        shape.map_coords(|corner| Coord { x: corner.x * east_m, y: corner.y * north_m })
    }
}

/// A ring about the middle of some corners of the lattice, in the order in which they are seen from there.
fn ring(dice: &mut Dice, points: usize) -> LineString {
    let count = 3 + dice.below(5);
    let corner = |dice: &mut Dice| (dice.below(points) as f64, dice.below(points) as f64);
    let mut corners: Vec<(f64, f64)> = (0..count).map(|_| corner(dice)).collect();
    corners.sort_by(|a, b| a.partial_cmp(b).unwrap());
    corners.dedup();
    let middle = |of: fn(&(f64, f64)) -> f64| corners.iter().map(of).sum::<f64>() / corners.len() as f64;
    let (x, y) = (middle(|corner| corner.0), middle(|corner| corner.1));
    corners.sort_by(|a, b| (a.1 - y).atan2(a.0 - x).total_cmp(&(b.1 - y).atan2(b.0 - x)));
    corners.push(corners[0]);
    LineString::from(corners)
}

/// A polygon that `geo` finds valid, sometimes with a hole; holes may touch their ring in a corner.
fn polygon(dice: &mut Dice, points: usize) -> Polygon {
    loop {
        let exterior = ring(dice, points);
        // a ring with all its corners on one line passes as valid, but encloses nothing
        let encloses = |ring: &LineString| Polygon::new(ring.clone(), vec![]).unsigned_area() > 0.0;
        if exterior.0.len() < 4 || !encloses(&exterior) {
            continue;
        }
        let holes = if dice.chance(0.4) { vec![ring(dice, points)] } else { vec![] };
        let with_holes = Polygon::new(exterior.clone(), holes);
        if with_holes.interiors().iter().all(|hole| hole.0.len() >= 4 && encloses(hole))
            && with_holes.is_valid()
        {
            return with_holes;
        }
        let plain = Polygon::new(exterior, vec![]);
        if plain.is_valid() {
            return plain;
        }
    }
}

fn check(seed: u64) -> usize {
    let mut dice = Dice::new(seed);
    let plane = Plane::random(&mut dice);
    let polygons: Vec<Polygon> = (0..=dice.below(4)).map(|_| polygon(&mut dice, plane.points)).collect();
    let parts: Vec<PartSpec> = polygons.iter().map(|polygon| plane.part(polygon)).collect();
    let what = format!("seed {seed}, {plane:?}, {polygons:?}");
    let boundary = Boundary::build(&parts).map_err(|refused| format!("{refused}: {what}")).unwrap();
    let union = polygons.iter().fold(MultiPolygon::new(vec![]), |union, polygon| {
        union.union(&MultiPolygon::new(vec![polygon.clone()]))
    });
    let measured = plane.scaled(&union);
    // a kilometre north of the middle a degree of longitude is tan φ / 6371 shorter
    let tall_m = plane.metres().1 * plane.points as f64;
    let plane_error = 1e-5 + tall_m * plane.lat_deg.to_radians().tan().abs().max(0.1) / 6_300_000.0;
    assert_relative_eq!(
        boundary.area_m2(),
        measured.unsigned_area(),
        epsilon = 2.0,
        max_relative = 2.0 * plane_error
    );
    let outline = lines_with_water_beside(&plane, &union, &polygons);
    let bounds = union.bounding_rect().unwrap();
    let mut asked = 0;
    for _ in 0..PLACES {
        let between = |dice: &mut Dice, low: f64, high: f64| dice.between(low - 0.7, high + 0.7);
        let mut at = (
            between(&mut dice, bounds.min().x, bounds.max().x),
            between(&mut dice, bounds.min().y, bounds.max().y),
        );
        if dice.chance(0.4) {
            // near a line of the lattice, where the corners are
            let off = dice.log_between(1e-5, 0.3) * dice.one_of(&[-1.0, 1.0]);
            at.0 = at.0.round() + off;
        }
        let inside = polygons.iter().any(|polygon| polygon.contains(&Point::new(at.0, at.1)));
        let (east_m, north_m) = plane.metres();
        let here = Point::new(at.0 * east_m, at.1 * north_m);
        let distance_m =
            outline.iter().map(|line| Euclidean.distance(&here, line)).fold(f64::INFINITY, f64::min);
        let signed_m = boundary.locate(plane.place(at)).signed_distance.metres();
        let what = format!("{signed_m} m, {distance_m} m on the plane at {at:?}: {what}");
        // the outline that `geo` makes of a union is rounded to about 1e-9 of its size
        if distance_m > 2e-3 {
            assert_eq!(signed_m < 0.0, inside, "{what}");
            assert_eq!(boundary.contains_by_crossings(plane.place(at)), inside, "by crossings: {what}");
        }
        let off_m = (signed_m.abs() - distance_m).abs();
        assert!(off_m <= 2e-3 + 2.0 * plane_error * (distance_m + tall_m * 0.02), "{what}");
        asked += 1;
    }
    asked
}

/// The lines of a union as `geo` makes it, in metres, without the stretches both sides of which some polygon holds by `geo`'s
/// own account: in about one of 3000 such unions it keeps a border that two polygons share, sometimes as part of a longer line.
fn lines_with_water_beside(plane: &Plane, union: &MultiPolygon, polygons: &[Polygon]) -> Vec<Line> {
    const BESIDE: f64 = 1e-4;
    let (east_m, north_m) = plane.metres();
    let is_inside = |at: Coord| polygons.iter().any(|polygon| polygon.contains(&Point::from(at)));
    let metres = |at: Coord| Coord { x: at.x * east_m, y: at.y * north_m };
    let mut lines = Vec::new();
    for line in union.lines_iter() {
        let way = line.end - line.start;
        let length = way.x.hypot(way.y);
        let aside = Coord { x: -way.y, y: way.x } * (BESIDE / length.max(BESIDE));
        for share in shares_at_other_lines(&line, polygons).windows(2) {
            // a stretch shorter than the step aside is no border
            if (share[1] - share[0]) * length < 10.0 * BESIDE {
                continue;
            }
            let middle = line.start + way * f64::midpoint(share[0], share[1]);
            if !(is_inside(middle + aside) && is_inside(middle - aside)) {
                let ends = [share[0], share[1]].map(|share| metres(line.start + way * share));
                lines.push(Line::new(ends[0], ends[1]));
            }
        }
    }
    lines
}

/// Where the lines of polygons meet a line, in shares of it, with its ends, in order.
fn shares_at_other_lines(line: &Line, polygons: &[Polygon]) -> Vec<f64> {
    let way = line.end - line.start;
    let share = |at: Coord| {
        let from_start = at - line.start;
        (from_start.x * way.x + from_start.y * way.y) / (way.x * way.x + way.y * way.y)
    };
    let mut shares = vec![0.0, 1.0];
    for other in polygons.iter().flat_map(LinesIter::lines_iter) {
        match line_intersection(*line, other) {
            Some(LineIntersection::SinglePoint { intersection, .. }) => shares.push(share(intersection)),
            Some(LineIntersection::Collinear { intersection }) => {
                shares.extend([share(intersection.start), share(intersection.end)]);
            }
            None => {}
        }
        // rounding may hide an end that lies on the line; a cut too many does no harm
        let ends = [other.start, other.end].into_iter().map(share);
        shares.extend(ends.filter(|share| (0.0..=1.0).contains(share)));
    }
    shares.sort_by(f64::total_cmp);
    shares
}

#[test]
fn unions_on_a_small_plane_answer_as_geo_does() {
    let shapes =
        std::env::var("TAKELINE_SHAPES").ok().map_or(SHAPES, |text| text.parse().expect("a whole number"));
    let first = std::env::var("TAKELINE_SEED").ok().map_or(1, |text| text.parse().expect("a whole number"));
    let asked: usize = (0..shapes).map(|shape| check(first + shape)).sum();
    println!("{shapes} shapes from seed {first} on, {asked} places: all agree with geo");
}
