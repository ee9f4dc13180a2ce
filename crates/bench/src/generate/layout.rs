//! How large each workload is and where its zones lie.

use std::f64::consts::TAU;

use fastrand::Rng;

use crate::arguments::Name;

/// Metres of a degree along the equator; good enough for laying things out.
pub(super) const METRES_PER_DEGREE: f64 = 111_319.490_793;

/// Points of a coast.
const COAST_POINTS: u32 = 4_001;

/// Centre and size of a zone.
#[derive(Debug, Clone, Copy)]
pub(super) struct Spot {
    pub(super) lat_deg: f64,
    pub(super) lon_deg: f64,
    pub(super) radius_m: f64,
}

impl Spot {
    /// Latitude and longitude of a place so many metres north and east of the centre.
    pub(super) fn offset(&self, north_m: f64, east_m: f64) -> (f64, f64) {
        let lon_m = METRES_PER_DEGREE * self.lat_deg.to_radians().cos();
        (self.lat_deg + north_m / METRES_PER_DEGREE, self.lon_deg + east_m / lon_m)
    }
}

/// What a workload is made of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Layout {
    pub(super) name: Name,
    pub(super) zones: usize,
    pub(super) vertices: u32,
    pub(super) fixes: usize,
    pub(super) tracks: usize,
    /// In the middle of all zones.
    radius_m: f64,
}

impl Layout {
    pub(super) fn of(name: Name, scale: f64) -> Self {
        let (zones, vertices, fixes, tracks, radius_m) = match name {
            Name::W1 => (1, 40, 36_000, 1, 6_000.0),
            Name::W2 => (1_000, 200, 1_000_000, 100, 4_000.0),
            Name::W3 => (1, 100_000, 100_000, 10, 120_000.0),
            Name::W4 => (20_000, 50, 1_000_000, 100, 1_500.0),
        };
        let zones = if zones > 1 { scaled(zones, scale, 1) } else { zones };
        Self { name, zones, vertices, fixes: scaled(fixes, scale, 100), tracks, radius_m }
    }

    /// Folder of the workload.
    pub(super) fn folder(&self) -> &'static str {
        match self.name {
            Name::W1 => "W1",
            Name::W2 => "W2",
            Name::W3 => "W3",
            Name::W4 => "W4",
        }
    }

    /// A generator of its own for each workload, so that one can be made without the others.
    pub(super) fn random(&self, seed: u64) -> Rng {
        let number = match self.name {
            Name::W1 => 1,
            Name::W2 => 2,
            Name::W3 => 3,
            Name::W4 => 4,
        };
        Rng::with_seed(seed.wrapping_mul(1_000_003).wrapping_add(number))
    }

    /// Where the zones lie: one by itself, or many within some ten kilometres of one coast or of ten.
    pub(super) fn spots(&self, random: &mut Rng) -> Vec<Spot> {
        let radius_m = self.radius_m;
        match self.name {
            Name::W1 => vec![Spot { lat_deg: 36.4, lon_deg: 14.6, radius_m }],
            Name::W3 => vec![Spot { lat_deg: 41.0, lon_deg: -31.0, radius_m }],
            Name::W2 | Name::W4 => {
                let count = if self.name == Name::W2 { 1 } else { 10 };
                let coasts: Vec<_> = (0..count).map(|number| coast(random, number, count)).collect();
                (0..self.zones).map(|number| self.spot_by(&coasts[number % coasts.len()], random)).collect()
            }
        }
    }

    fn spot_by(&self, coast: &[(f64, f64)], random: &mut Rng) -> Spot {
        let (lat_deg, lon_deg) = coast[random.usize(..coast.len())];
        let on_coast = Spot { lat_deg, lon_deg, radius_m: 0.0 };
        let (lat_deg, lon_deg) = on_coast.offset(30_000.0 * normal(random), 30_000.0 * normal(random));
        let radius_m = (self.radius_m * (0.8 * normal(random)).exp()).clamp(200.0, 40_000.0);
        Spot { lat_deg, lon_deg, radius_m }
    }
}

#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "at most ten times a million")]
fn scaled(count: usize, scale: f64, least: usize) -> usize {
    ((count as f64 * scale) as usize).max(least)
}

/// A line from 30°N to 50°N that swings east and west.
fn coast(random: &mut Rng, number: u32, count: u32) -> Vec<(f64, f64)> {
    let middle_deg = if count == 1 { -9.0 } else { -75.0 + 22.0 * f64::from(number) };
    let phases: Vec<f64> = (1..40).map(|_| random.f64() * TAU).collect();
    let point = |at: u32| {
        let share = f64::from(at) / f64::from(COAST_POINTS - 1);
        let swings = (1..).zip(&phases).map(|(wave, phase)| {
            let wave = f64::from(wave);
            2.2 * wave.powf(-1.1) * (TAU * wave * share + phase).cos()
        });
        (30.0 + 20.0 * share, middle_deg + swings.sum::<f64>())
    };
    (0..COAST_POINTS).map(point).collect()
}

/// A number from the normal distribution, by the method of Box and Muller.
pub(super) fn normal(random: &mut Rng) -> f64 {
    let (size, turn) = (1.0 - random.f64(), random.f64());
    (-2.0 * size.ln()).sqrt() * (TAU * turn).cos()
}
