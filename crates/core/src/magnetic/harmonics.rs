//! The sum over spherical harmonics, in geocentric axes.
//!
//! With colatitude θ and longitude λ the field is the sum over degree n and order m of (a/r)ⁿ⁺² times
//!
//! ```text
//! north   (g cos mλ + h sin mλ) dP/dθ
//! east  m (g sin mλ − h cos mλ) P / sin θ
//! down  −(n + 1) (g cos mλ + h sin mλ) P
//! ```
//!
//! where P is Schmidt's semi-normalised associated Legendre function of cos θ. P / sin θ has a recursion of its own, so
//! that nothing is divided by sin θ, and the poles are places like any other.
//!
//! Source: NOAA NCEI and BGS, *The US/UK World Magnetic Model for 2025–2030: Technical Report*, doi:10.25923/prbc-s316,
//! section 1.2 (section number from memory). The recursions follow from those of the unnormalised functions.

use super::field::Term;
use crate::Position;
use crate::geodesic::{Vector, surface};

/// Geomagnetic reference radius a, in metres: part of the model, not of the ellipsoid.
const REFERENCE_RADIUS_M: f64 = 6_371_200.0;
/// The model's degree and one more, for n = 0.
const SIZE: usize = 13;

/// A vector of the field or of its yearly change: towards north, east and the centre.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(super) struct NorthEastDown {
    pub(super) north: f64,
    pub(super) east: f64,
    pub(super) down: f64,
}

impl NorthEastDown {
    fn add(&mut self, times: f64, part: Self) {
        self.north += times * part.north;
        self.east += times * part.east;
        self.down += times * part.down;
    }
}

/// The field in nT and its yearly change, in the axes of the ellipsoid at a position and height.
pub(super) fn field_and_rate(
    terms: &[Term],
    position: Position,
    height_m: f64,
    years: f64,
) -> (NorthEastDown, NorthEastDown) {
    let place = Geocentric::of(position, height_m);
    let legendre = Legendre::of(place.cos_colatitude, place.sin_colatitude);
    let (mut field, mut rate) = (NorthEastDown::default(), NorthEastDown::default());
    for term in terms {
        let (with_cosine, with_sine) = place.basis(&legendre, *term);
        field.add(term.cosine_nt + years * term.cosine_rate_nt, with_cosine);
        field.add(term.sine_nt + years * term.sine_rate_nt, with_sine);
        rate.add(term.cosine_rate_nt, with_cosine);
        rate.add(term.sine_rate_nt, with_sine);
    }
    (place.level(field), place.level(rate))
}

/// A place as the harmonics see it, and how its level stands to that of the ellipsoid.
struct Geocentric {
    /// (a/r)ⁿ⁺² by n.
    nearness: [f64; SIZE],
    cos_colatitude: f64,
    sin_colatitude: f64,
    /// cos mλ and sin mλ by m.
    turns: [(f64, f64); SIZE],
    /// Cosine and sine of geocentric less geodetic latitude.
    cos_tilt: f64,
    sin_tilt: f64,
}

impl Geocentric {
    fn of(position: Position, height_m: f64) -> Self {
        let ground = surface(position);
        let point = ground.point + ground.up * height_m;
        let radius_m = point.norm();
        let outward = point.unit();
        Self {
            nearness: powers(REFERENCE_RADIUS_M / radius_m),
            cos_colatitude: outward.z,
            sin_colatitude: outward.x.hypot(outward.y),
            turns: turns(ground.east),
            cos_tilt: ground.up.dot(outward),
            sin_tilt: ground.north.dot(outward),
        }
    }

    /// What a term adds to the field for one nT of its cosine and of its sine.
    fn basis(&self, legendre: &Legendre, term: Term) -> (NorthEastDown, NorthEastDown) {
        let (n, m) = (usize::from(term.degree), usize::from(term.order));
        let (cos, sin) = self.turns[m];
        let near = self.nearness[n];
        let north = near * legendre.slope[n][m];
        let east = near * f64::from(term.order) * legendre.over_sine[n][m];
        let down = -near * (f64::from(term.degree) + 1.0) * legendre.value[n][m];
        (
            NorthEastDown { north: north * cos, east: east * sin, down: down * cos },
            NorthEastDown { north: north * sin, east: -east * cos, down: down * sin },
        )
    }

    /// Turns a vector from the geocentric level to that of the ellipsoid.
    fn level(&self, vector: NorthEastDown) -> NorthEastDown {
        NorthEastDown {
            north: vector.north * self.cos_tilt - vector.down * self.sin_tilt,
            east: vector.east,
            down: vector.north * self.sin_tilt + vector.down * self.cos_tilt,
        }
    }
}

fn powers(ratio: f64) -> [f64; SIZE] {
    let mut power = ratio;
    [(); SIZE].map(|()| {
        power *= ratio;
        power
    })
}

/// Built up by adding angles, from the exact sine and cosine of the longitude, so that 180° W and 180° E are one place.
fn turns(east: Vector) -> [(f64, f64); SIZE] {
    let (cos, sin) = (east.y, -east.x);
    let mut turn = (1.0, 0.0);
    [(); SIZE].map(|()| {
        let this = turn;
        turn = (this.0 * cos - this.1 * sin, this.1 * cos + this.0 * sin);
        this
    })
}

type Triangle = [[f64; SIZE]; SIZE];

/// Schmidt's semi-normalised associated Legendre functions P of cos θ by degree and order.
struct Legendre {
    value: Triangle,
    /// P / sin θ; for orders from 1 on.
    over_sine: Triangle,
    /// dP/dθ.
    slope: Triangle,
}

impl Legendre {
    fn of(cos: f64, sin: f64) -> Self {
        let zero = [[0.0; SIZE]; SIZE];
        let mut all = Self { value: zero, over_sine: zero, slope: zero };
        all.value[0][0] = 1.0;
        for (n, degree) in (0_u8..).enumerate().take(SIZE).skip(1) {
            for (m, order) in (0_u8..).enumerate().take(n) {
                all.climb((n, degree), (m, order), (cos, sin));
            }
            all.widen(n, degree, (cos, sin));
        }
        all
    }

    /// From the two degrees below, at the same order; below the order everything is zero.
    fn climb(&mut self, (n, degree): (usize, u8), (m, order): (usize, u8), (cos, sin): (f64, f64)) {
        let (degree, order) = (f64::from(degree), f64::from(order));
        let scale = 1.0 / (degree * degree - order * order).sqrt();
        let first = scale * (2.0 * degree - 1.0);
        let second = scale * ((degree - 1.0) * (degree - 1.0) - order * order).sqrt();
        let below = |triangle: &Triangle| if n >= 2 { triangle[n - 2][m] } else { 0.0 };
        self.over_sine[n][m] = first * cos * self.over_sine[n - 1][m] - second * below(&self.over_sine);
        self.slope[n][m] =
            first * (cos * self.slope[n - 1][m] - sin * self.value[n - 1][m]) - second * below(&self.slope);
        self.value[n][m] = first * cos * self.value[n - 1][m] - second * below(&self.value);
    }

    /// The order that equals the degree.
    fn widen(&mut self, n: usize, degree: u8, (cos, sin): (f64, f64)) {
        let degree = f64::from(degree);
        let scale = if n == 1 { 1.0 } else { ((2.0 * degree - 1.0) / (2.0 * degree)).sqrt() };
        self.over_sine[n][n] = if n == 1 { 1.0 } else { scale * sin * self.over_sine[n - 1][n - 1] };
        self.slope[n][n] = scale * (sin * self.slope[n - 1][n - 1] + cos * self.value[n - 1][n - 1]);
        self.value[n][n] = scale * sin * self.value[n - 1][n - 1];
    }
}
