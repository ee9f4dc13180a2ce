//! The exact answer, without an index and without anything of the library's: each edge a curve of which any point can be computed,
//! the nearest of them found by narrowing it down, lengths by Karney's inverse.

use geo::Coord;
use geographiclib_rs::{DirectGeodesic, Geodesic, InverseGeodesic};

/// The eccentricity of the ellipsoid of WGS 84 (NIMA TR8350.2: 1/f = 298.257223563), from e² = f (2 − f).
const ECCENTRICITY: f64 = 0.081_819_190_842_621_5;

/// The smaller share of the golden section.
const GOLDEN: f64 = 0.381_966_011_250_105_2;

/// How an edge runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Course {
    Geodesic,
    Rhumb,
    Straight,
}

/// Outlines of zones.
pub(crate) struct Truth<'a> {
    zones: Vec<Outline<'a>>,
    wgs_84: Geodesic,
}

struct Outline<'a> {
    ring: &'a [Coord],
    /// The box that holds it, in degrees.
    low: Coord,
    high: Coord,
    longest_edge_m: f64,
}

/// What is true of a place.
pub(crate) struct About {
    /// Metres to the nearest line of any zone.
    pub(crate) away_m: f64,
    /// The zones about it, and whether each holds it.
    pub(crate) zones: Vec<(usize, bool)>,
}

impl<'a> Truth<'a> {
    pub(crate) fn new(rings: &'a [Vec<Coord>]) -> Self {
        let wgs_84 = Geodesic::wgs84();
        let outline = |ring: &'a Vec<Coord>| {
            let length_m =
                |ends: &[Coord]| -> f64 { wgs_84.inverse(ends[0].y, ends[0].x, ends[1].y, ends[1].x) };
            let (low, high) = corners(ring);
            let longest_edge_m = ring.windows(2).map(length_m).fold(0.0, f64::max);
            Outline { ring, low, high, longest_edge_m }
        };
        Self { zones: rings.iter().map(outline).collect(), wgs_84 }
    }

    /// What is true of a place, of the zones whose box lies within about 50 km.
    pub(crate) fn about(&self, at: &Coord) -> About {
        let margin_lat = 0.46;
        let margin_lon = margin_lat / at.y.to_radians().cos();
        let mut about = About { away_m: f64::INFINITY, zones: Vec::new() };
        for (number, zone) in self.zones.iter().enumerate() {
            let is_near = at.y >= zone.low.y - margin_lat
                && at.y <= zone.high.y + margin_lat
                && at.x >= zone.low.x - margin_lon
                && at.x <= zone.high.x + margin_lon;
            if is_near {
                about.away_m = self.nearer_m(zone, at, about.away_m);
                about.zones.push((number, self.is_inside(zone.ring, at)));
            }
        }
        about
    }

    /// Metres to the nearest edge of a zone, or `best_m` where all are farther.
    fn nearer_m(&self, zone: &Outline<'_>, at: &Coord, mut best_m: f64) -> f64 {
        let vertex_m: Vec<f64> =
            zone.ring.iter().map(|vertex| self.wgs_84.inverse(at.y, at.x, vertex.y, vertex.x)).collect();
        best_m = vertex_m.iter().copied().fold(best_m, f64::min);
        for (ends, ends_m) in zone.ring.windows(2).zip(vertex_m.windows(2)) {
            // no point of an edge is nearer than this, by the inequality of the triangle at both ends
            if (ends_m[0] + ends_m[1] - zone.longest_edge_m) / 2.0 < best_m {
                best_m = best_m.min(away_m(Course::Geodesic, (ends[0], ends[1]), at));
            }
        }
        best_m
    }

    /// Whether the meridian from a place to the north crosses a ring an odd number of times.
    fn is_inside(&self, ring: &[Coord], at: &Coord) -> bool {
        let crosses = |ends: &&[Coord]| {
            let (from, to) = (ends[0], ends[1]);
            (from.x > at.x) != (to.x > at.x) && self.lat_at(from, to, at.x) > at.y
        };
        ring.windows(2).filter(crosses).count() % 2 == 1
    }

    /// The latitude at which the geodesic between two places meets a meridian between them.
    fn lat_at(&self, from: Coord, to: Coord, lon_deg: f64) -> f64 {
        let curve = Curve::new(&self.wgs_84, Course::Geodesic, (from, to));
        let (mut low, mut high) = (0.0, 1.0);
        for _ in 0..50 {
            let middle = f64::midpoint(low, high);
            let is_past = (curve.at(middle).x > lon_deg) == (to.x > from.x);
            (low, high) = if is_past { (low, middle) } else { (middle, high) };
        }
        curve.at(f64::midpoint(low, high)).y
    }
}

/// Metres from a place to an edge.
pub(crate) fn away_m(course: Course, ends: (Coord, Coord), at: &Coord) -> f64 {
    let wgs_84 = Geodesic::wgs84();
    let curve = Curve::new(&wgs_84, course, ends);
    let metres_at = |share: f64| -> f64 {
        let point = curve.at(share);
        wgs_84.inverse(at.y, at.x, point.y, point.x)
    };
    let (mut low, mut high) = (0.0, 1.0);
    let (mut left, mut right) = (GOLDEN, 1.0 - GOLDEN);
    let (mut left_m, mut right_m) = (metres_at(left), metres_at(right));
    let mut best_m = metres_at(0.0).min(metres_at(1.0));
    // each step leaves 0.618 of the stretch: 60 leave less than 1e-12 of it
    for _ in 0..60 {
        if left_m < right_m {
            (high, right, right_m) = (right, left, left_m);
            left = low + GOLDEN * (high - low);
            left_m = metres_at(left);
        } else {
            (low, left, left_m) = (left, right, right_m);
            right = high - GOLDEN * (high - low);
            right_m = metres_at(right);
        }
        best_m = best_m.min(left_m).min(right_m);
    }
    best_m
}

/// An edge of which any point can be computed. Longitudes do not wrap: no edge here comes near 180°.
struct Curve<'a> {
    wgs_84: &'a Geodesic,
    course: Course,
    from: Coord,
    to: Coord,
    azimuth_deg: f64,
    length_m: f64,
}

impl<'a> Curve<'a> {
    fn new(wgs_84: &'a Geodesic, course: Course, (from, to): (Coord, Coord)) -> Self {
        let (length_m, azimuth_deg, _, _): (f64, f64, f64, f64) = wgs_84.inverse(from.y, from.x, to.y, to.x);
        Self { wgs_84, course, from, to, azimuth_deg, length_m }
    }

    /// The point at a share of the edge.
    fn at(&self, share: f64) -> Coord {
        let between = |from: f64, to: f64| from + share * (to - from);
        match self.course {
            Course::Geodesic => {
                let away_m = share * self.length_m;
                let (y, x): (f64, f64) =
                    self.wgs_84.direct(self.from.y, self.from.x, self.azimuth_deg, away_m);
                Coord { x, y }
            }
            Course::Straight => {
                Coord { x: between(self.from.x, self.to.x), y: between(self.from.y, self.to.y) }
            }
            // longitude and isometric latitude change evenly along it
            Course::Rhumb => {
                let isometric = between(isometric(self.from.y), isometric(self.to.y));
                Coord { x: between(self.from.x, self.to.x), y: latitude_deg(isometric) }
            }
        }
    }
}

/// Isometric latitude (Snyder 1987, Map Projections: a Working Manual, equation 7-7).
fn isometric(lat_deg: f64) -> f64 {
    let sin = lat_deg.to_radians().sin();
    sin.atanh() - ECCENTRICITY * (ECCENTRICITY * sin).atanh()
}

/// The latitude of an isometric latitude, by going round until nothing changes.
fn latitude_deg(isometric: f64) -> f64 {
    let mut sin = isometric.tanh();
    for _ in 0..12 {
        sin = (isometric + ECCENTRICITY * (ECCENTRICITY * sin).atanh()).tanh();
    }
    sin.asin().to_degrees()
}

fn corners(ring: &[Coord]) -> (Coord, Coord) {
    let start = (Coord { x: f64::MAX, y: f64::MAX }, Coord { x: f64::MIN, y: f64::MIN });
    ring.iter().fold(start, |(low, high), at| {
        (Coord { x: low.x.min(at.x), y: low.y.min(at.y) }, Coord { x: high.x.max(at.x), y: high.y.max(at.y) })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// By symmetry: north of the middle of an edge along a parallel the nearest point is due south, at the length of the meridian
    /// for lines that keep to the parallel; the geodesic between the same ends runs north of it, so is nearer.
    #[test]
    fn north_of_an_edge_along_a_parallel_the_foot_is_due_south() {
        let ends = (Coord { x: -20.5, y: 35.0 }, Coord { x: -19.5, y: 35.0 });
        let at = Coord { x: -20.0, y: 35.1 };
        let meridian_m: f64 = Geodesic::wgs84().inverse(35.1, -20.0, 35.0, -20.0);
        for course in [Course::Rhumb, Course::Straight] {
            assert!((away_m(course, ends, &at) - meridian_m).abs() < 1e-7, "{course:?}");
        }
        assert!(away_m(Course::Geodesic, ends, &at) < meridian_m - 50.0);
    }

    #[test]
    fn a_place_in_a_square_is_inside_and_one_north_of_it_is_not() {
        let corner = |x, y| Coord { x, y };
        let ring = vec![
            corner(-20.0, 45.0),
            corner(-19.9, 45.0),
            corner(-19.9, 45.1),
            corner(-20.0, 45.1),
            corner(-20.0, 45.0),
        ];
        let rings = [ring];
        let truth = Truth::new(&rings);
        let inside = |lat: f64| truth.about(&corner(-19.95, lat)).zones;
        assert_eq!(inside(45.05), [(0, true)]);
        assert_eq!(inside(45.11), [(0, false)]);
        assert_eq!(inside(44.99), [(0, false)]);
        assert_eq!(inside(50.0), []);
    }
}
