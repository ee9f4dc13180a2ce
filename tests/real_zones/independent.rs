//! Distance and side without the library's geometry: curves by textbook formulas, densely sampled, then refined.

use geographiclib_rs::{DirectGeodesic, Geodesic, InverseGeodesic};

/// Latitude and longitude in degrees.
pub(crate) type Point = (f64, f64);

/// First eccentricity squared of WGS 84 (1/f = 298.257223563; NGA.STND.0036 v1.0.0).
const ECCENTRICITY_2: f64 = (2.0 - 1.0 / 298.257_223_563) / 298.257_223_563;
const EQUATORIAL_RADIUS_M: f64 = 6_378_137.0;
/// Samples per edge before the refinement.
const SAMPLES: usize = 48;

/// Up to this distance samples are ordered by straight lines through the Earth.
const STRAIGHT_M: f64 = 200_000.0;

/// One solver for all tests.
pub(crate) struct Ellipsoid(Geodesic);

impl Ellipsoid {
    pub(crate) fn wgs84() -> Self {
        Self(Geodesic::wgs84())
    }

    /// Distance in metres and the azimuth at the start.
    pub(crate) fn inverse(&self, from: Point, to: Point) -> (f64, f64) {
        let (distance_m, azimuth_deg, _, _): (f64, f64, f64, f64) =
            self.0.inverse(from.0, from.1, to.0, to.1);
        (distance_m, azimuth_deg)
    }

    pub(crate) fn distance_m(&self, from: Point, to: Point) -> f64 {
        self.inverse(from, to).0
    }

    pub(crate) fn direct(&self, from: Point, azimuth_deg: f64, distance_m: f64) -> Point {
        self.0.direct(from.0, from.1, azimuth_deg, distance_m)
    }
}

/// How an edge runs, in the words of the law.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Course {
    Geodesic,
    Rhumb,
    LonLat,
    /// A bend about a centre; from the first distance to the second, evenly with the azimuth.
    Bend {
        centre: Point,
        clockwise: bool,
    },
}

/// An edge as a curve over a share of its way.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Edge {
    from: Point,
    to: Point,
    d_lon: f64,
    shape: Shape,
}

#[derive(Debug, Clone, Copy)]
enum Shape {
    Geodesic { azimuth_deg: f64, length_m: f64 },
    Isometric,
    Plain,
    Bend { centre: Point, start_deg: f64, sweep_deg: f64, start_m: f64, end_m: f64 },
}

impl Edge {
    pub(crate) fn new(earth: &Ellipsoid, from: Point, to: Point, course: Course) -> Self {
        let d_lon = within_half_turn(to.1 - from.1);
        let shape = match course {
            Course::Geodesic => {
                let (length_m, azimuth_deg) = earth.inverse(from, to);
                Shape::Geodesic { azimuth_deg, length_m }
            }
            // along a parallel or a meridian a rhumb line is straight in latitude and longitude
            Course::Rhumb if from.0 == to.0 || d_lon == 0.0 => Shape::Plain,
            Course::Rhumb => Shape::Isometric,
            Course::LonLat => Shape::Plain,
            Course::Bend { centre, clockwise } => {
                let ((start_m, start_deg), (end_m, end_deg)) =
                    (earth.inverse(centre, from), earth.inverse(centre, to));
                let turn_deg = (end_deg - start_deg + 720.0) % 360.0;
                let sweep_deg = if clockwise { turn_deg } else { turn_deg - 360.0 };
                Shape::Bend { centre, start_deg, sweep_deg, start_m, end_m }
            }
        };
        Self { from, to, d_lon, shape }
    }

    /// The point at a share of the way. For a rhumb line it is the share of the latitude, not of the length.
    pub(crate) fn at(&self, earth: &Ellipsoid, share: f64) -> Point {
        let lat = self.from.0 + (self.to.0 - self.from.0) * share;
        match self.shape {
            Shape::Geodesic { azimuth_deg, length_m } => {
                earth.direct(self.from, azimuth_deg, length_m * share)
            }
            Shape::Plain => (lat, self.from.1 + self.d_lon * share),
            Shape::Isometric => {
                let whole = isometric(self.to.0) - isometric(self.from.0);
                (lat, self.from.1 + self.d_lon * (isometric(lat) - isometric(self.from.0)) / whole)
            }
            Shape::Bend { centre, start_deg, sweep_deg, start_m, end_m } => {
                earth.direct(centre, start_deg + sweep_deg * share, start_m + (end_m - start_m) * share)
            }
        }
    }
}

/// Area in m² of a ring whose edges are straight in longitude and latitude: Gauss's quadrature, 1000 nodes an edge, of
/// the area between the edge and the equator (Snyder 1987, eq. 3-12: q a²/2 per radian of longitude).
pub(crate) fn plain_area_m2(ring: &[Point]) -> f64 {
    // nodes and weights of the two-point rule are 1/√3 and 1; 500 panels
    let node = 1.0 / 3.0_f64.sqrt();
    // counted from the first vertex's latitude, so that the sums stay small
    let reference_m2 = zone_below_m2(ring[0].0);
    let mut area_m2 = 0.0;
    for (at, from) in ring.iter().enumerate() {
        let to = ring[(at + 1) % ring.len()];
        let mut mean_m2 = 0.0;
        for panel in 0..500 {
            for half in [-node, node] {
                let share = (f64::from(panel) + f64::midpoint(1.0, half)) / 500.0;
                mean_m2 += (zone_below_m2(from.0 + (to.0 - from.0) * share) - reference_m2) / 1_000.0;
            }
        }
        area_m2 += mean_m2 * within_half_turn(to.1 - from.1).to_radians();
    }
    area_m2.abs()
}

/// Area between the equator and a latitude, per radian of longitude.
fn zone_below_m2(lat_deg: f64) -> f64 {
    let (e, sin) = (ECCENTRICITY_2.sqrt(), lat_deg.to_radians().sin());
    let q = (1.0 - ECCENTRICITY_2) * (sin / (1.0 - ECCENTRICITY_2 * sin * sin) + (e * sin).atanh() / e);
    EQUATORIAL_RADIUS_M * EQUATORIAL_RADIUS_M / 2.0 * q
}

/// Isometric latitude by the logarithm of the textbooks (Snyder 1987, USGS Professional Paper 1395, eq. 7-7).
fn isometric(lat_deg: f64) -> f64 {
    let (e, lat) = (ECCENTRICITY_2.sqrt(), lat_deg.to_radians());
    let es = e * lat.sin();
    ((std::f64::consts::FRAC_PI_4 + lat / 2.0).tan() * ((1.0 - es) / (1.0 + es)).powf(e / 2.0)).ln()
}

pub(crate) fn within_half_turn(degrees: f64) -> f64 {
    degrees - 360.0 * (degrees / 360.0).round()
}

/// A ring, or a circle as four bends, with its samples.
pub(crate) struct Outline {
    pub(crate) edges: Vec<Edge>,
    samples: Vec<Vec<[f64; 3]>>,
}

impl Outline {
    pub(crate) fn new(earth: &Ellipsoid, edges: Vec<Edge>) -> Self {
        let sample =
            |edge: &Edge| (0..=SAMPLES).map(|at| earth_centred(edge.at(earth, share_of(at)))).collect();
        let samples = edges.iter().map(sample).collect();
        Self { edges, samples }
    }

    pub(crate) fn circle(earth: &Ellipsoid, centre: Point, radius_m: f64) -> Self {
        let quarter = |number: u32| {
            let rim = |quarter: u32| earth.direct(centre, f64::from(quarter) * 90.0, radius_m);
            Edge::new(earth, rim(number), rim(number + 1), Course::Bend { centre, clockwise: true })
        };
        Self::new(earth, (0..4).map(quarter).collect())
    }

    /// Distance to the nearest point: golden section about every sample that could be nearest.
    ///
    /// Between two samples the curve comes nearer than the nearer of them by at most half of their spacing. Straight
    /// lines through the Earth find the samples to refine while the place is near; from 1000 km they would have the
    /// nearest point some metres off along the edge, which is 20 µm of distance.
    pub(crate) fn distance_m(&self, earth: &Ellipsoid, place: Point) -> f64 {
        let here = earth_centred(place);
        let mut hollows: Vec<(f64, usize, usize)> = Vec::new();
        for (edge, samples) in self.samples.iter().enumerate() {
            let spacing_m = samples.windows(2).map(|pair| apart(pair[0], pair[1])).fold(0.0, f64::max);
            let far: Vec<f64> = if apart(samples[0], here) < STRAIGHT_M {
                samples.iter().map(|sample| apart(*sample, here)).collect()
            } else {
                let along = |at| earth.distance_m(place, self.edges[edge].at(earth, share_of(at)));
                (0..=SAMPLES).map(along).collect()
            };
            for at in 0..=SAMPLES {
                let before = at.checked_sub(1).map_or(f64::INFINITY, |before| far[before]);
                let after = far.get(at + 1).copied().unwrap_or(f64::INFINITY);
                if far[at] <= before && far[at] <= after {
                    hollows.push((far[at] - 0.6 * spacing_m, edge, at));
                }
            }
        }
        hollows.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut best_m = f64::INFINITY;
        for (least_m, edge, at) in hollows {
            if least_m > best_m * 1.000_1 {
                break;
            }
            let (low, high) = (share_of(at.saturating_sub(1)), share_of((at + 1).min(SAMPLES)));
            let along = |share| earth.distance_m(place, self.edges[edge].at(earth, share));
            let ends = along(low).min(along(high)).min(along(share_of(at)));
            best_m = best_m.min(ends).min(golden_section(low, high, along));
        }
        best_m
    }

    /// Whether the outline winds round the place: the sum of the turns of the geodesics from the place to the curve.
    ///
    /// A stretch counts once it is shorter than a third of its distance, so that its turn is under a quarter; else it is halved.
    /// For zones and distances well under a quarter of the Earth; the place must not lie on the curve.
    pub(crate) fn winds_round(&self, earth: &Ellipsoid, place: Point) -> bool {
        let mut turned_deg = 0.0;
        for edge in &self.edges {
            let mut stretches = vec![(0.0, 1.0, 0)];
            while let Some((low, high, depth)) = stretches.pop() {
                let (start, end) = (edge.at(earth, low), edge.at(earth, high));
                let ((start_m, start_deg), (end_m, end_deg)) =
                    (earth.inverse(place, start), earth.inverse(place, end));
                // two chords through the middle, so that a bend is not taken for its chord
                let middle = edge.at(earth, f64::midpoint(low, high));
                let length_m = earth.distance_m(start, middle) + earth.distance_m(middle, end);
                if (depth > 0 && 3.0 * length_m < start_m.min(end_m)) || depth > 60 {
                    turned_deg += within_half_turn(end_deg - start_deg);
                } else {
                    let half = f64::midpoint(low, high);
                    stretches.push((low, half, depth + 1));
                    stretches.push((half, high, depth + 1));
                }
            }
        }
        let turns = turned_deg / 360.0;
        assert!((turns - turns.round()).abs() < 1e-3, "a closed curve turns whole turns, not {turns}");
        turns.round() != 0.0
    }
}

#[expect(clippy::cast_precision_loss, reason = "at most 48")]
fn share_of(sample: usize) -> f64 {
    sample as f64 / SAMPLES as f64
}

fn golden_section(mut low: f64, mut high: f64, value: impl Fn(f64) -> f64) -> f64 {
    let golden = (5.0_f64.sqrt() - 1.0) / 2.0;
    let mut inner = (high - golden * (high - low), low + golden * (high - low));
    let mut values = (value(inner.0), value(inner.1));
    for _ in 0..42 {
        if values.0 < values.1 {
            high = inner.1;
            inner = (high - golden * (high - low), inner.0);
            values = (value(inner.0), values.0);
        } else {
            low = inner.0;
            inner = (inner.1, low + golden * (high - low));
            values = (values.1, value(inner.1));
        }
    }
    values.0.min(values.1)
}

pub(crate) fn earth_centred((lat_deg, lon_deg): Point) -> [f64; 3] {
    let ((sin_lat, cos_lat), (sin_lon, cos_lon)) =
        (lat_deg.to_radians().sin_cos(), lon_deg.to_radians().sin_cos());
    let normal_m = EQUATORIAL_RADIUS_M / (1.0 - ECCENTRICITY_2 * sin_lat * sin_lat).sqrt();
    [normal_m * cos_lat * cos_lon, normal_m * cos_lat * sin_lon, normal_m * (1.0 - ECCENTRICITY_2) * sin_lat]
}

fn apart(a: [f64; 3], b: [f64; 3]) -> f64 {
    a.iter().zip(b).map(|(a, b)| (a - b) * (a - b)).sum::<f64>().sqrt()
}
