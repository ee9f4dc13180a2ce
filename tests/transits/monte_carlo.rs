//! The doubt of the line against random draws of where the marks stand: 10⁵ draws each, on a plane of their own.

use takeline::landmark::Landmark;
use takeline::transit::RangeLine;
use takeline::{GeodesicSegment, Metres, Position, TrueBearing};

/// Half of the width that holds 95 % of a normal distribution, in standard deviations (any table of it).
pub(crate) const NORMAL_95: f64 = 1.959_963_985;

/// `SplitMix64` (Steele, Lea, Flood 2014) and Box–Muller: the same draws every time.
pub(crate) struct Draws(pub(crate) u64);

impl Draws {
    pub(crate) fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        let bits = u32::try_from((mixed ^ (mixed >> 31)) >> 32).unwrap();
        (f64::from(bits) + 0.5) / 4_294_967_296.0
    }

    pub(crate) fn normal(&mut self) -> f64 {
        let radius = (-2.0 * self.uniform().ln()).sqrt();
        radius * (std::f64::consts::TAU * self.uniform()).cos()
    }
}

/// Half of the width that holds 95 % of where the line through two drawn marks passes, D off the stated front mark.
fn drawn_95_m((separation_m, away_m): (f64, f64), (front_m, rear_m): (f64, f64), seed: u64) -> f64 {
    const DRAWS: usize = 100_000;
    let mut draws = Draws(seed);
    let mut off_m: Vec<f64> = (0..DRAWS)
        .map(|_| {
            // each mark off in both directions, x seaward, y across; 95 % figures are 1.96 standard deviations
            let mut drawn = |error_m: f64| error_m / NORMAL_95 * draws.normal();
            let (front_x, front_y) = (drawn(front_m), drawn(front_m));
            let (rear_x, rear_y) = (-separation_m + drawn(rear_m), drawn(rear_m));
            (front_y + (front_y - rear_y) / (front_x - rear_x) * (away_m - front_x)).abs()
        })
        .collect();
    let place = DRAWS * 95 / 100;
    *off_m.select_nth_unstable_by(place, f64::total_cmp).1
}

#[test]
fn the_doubt_of_the_line_holds_95_draws_in_100() {
    let cases = [
        ((100.0, 1000.0), (10.0, 10.0)),
        ((300.0, 1000.0), (10.0, 10.0)),
        ((1000.0, 1000.0), (10.0, 10.0)),
        ((1495.0, 1400.0), (2.0, 8.0)),
        ((400.0, 3000.0), (0.0, 15.0)),
        ((250.0, 800.0), (20.0, 1.0)),
        // a fifth of the separation together, from where on a check says that the figures are too small
        ((100.0, 1000.0), (14.14, 14.14)),
    ];
    for (number, ((separation_m, away_m), (front_m, rear_m))) in cases.into_iter().enumerate() {
        let at = Position::from_degrees(-33.9, 151.3).unwrap();
        let bearing = TrueBearing::from_degrees(217.0).unwrap();
        let rear = GeodesicSegment::leaving(at, bearing, Metres::new(separation_m).unwrap()).unwrap().to();
        let mark = |name, position, error_m| {
            let mut mark = Landmark::at(name, position);
            mark.position_error_95 = Metres::new(error_m).unwrap();
            mark
        };
        let line = RangeLine::through(mark("front", at, front_m), mark("rear", rear, rear_m)).unwrap();
        let stated = line.uncertainty_95(Metres::new(away_m).unwrap()).metres();
        let drawn = drawn_95_m((separation_m, away_m), (front_m, rear_m), 7 + number as u64);
        println!("S {separation_m} m, D {away_m} m: stated ±{stated:.2} m, drawn ±{drawn:.2} m");
        // 3 %: the figure; 10⁵ draws scatter by 0.5 %, the rest is what the form leaves out
        assert!(
            (stated / drawn - 1.0).abs() < 0.03,
            "S {separation_m}, D {away_m}: {stated} against {drawn}"
        );
    }
}
