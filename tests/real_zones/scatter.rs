//! Seeded random places: near a line, in its middle distance, far, and very far.

use crate::independent::{Edge, Ellipsoid, Point};

/// `SplitMix64` (Steele, Lea and Flood 2014): small, and the same on every machine.
pub(crate) struct Chance(u64);

impl Chance {
    /// A stream of its own for each name.
    pub(crate) fn seeded(name: &str) -> Self {
        let seed = name.bytes().fold(0xcbf2_9ce4_8422_2325, |hash: u64, byte| {
            (hash ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
        Self(seed)
    }

    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mixed = (self.0 ^ (self.0 >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        let mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// From `low` up to `high`, evenly.
    #[expect(clippy::cast_precision_loss, reason = "53 bits are kept")]
    pub(crate) fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * ((self.next() >> 11) as f64 / (1_u64 << 53) as f64)
    }

    /// From `low` to `high`, as many in each power of ten.
    fn magnitude(&mut self, low: f64, high: f64) -> f64 {
        self.between(low.ln(), high.ln()).exp()
    }

    fn one_of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        let number = usize::try_from(self.next() % all.len() as u64).expect("less than the length");
        &all[number]
    }
}

/// Places about an outline: 170 near the line, on both sides and at vertices; 60 from 100 m to 10 km; 60 up to
/// 100 km; 20 at 1000 km.
pub(crate) fn about(earth: &Ellipsoid, edges: &[Edge], chance: &mut Chance) -> Vec<Point> {
    let mut places = Vec::new();
    for number in 0..310 {
        let (least_m, most_m) = match number {
            0..170 => (0.002, 100.0),
            170..230 => (100.0, 10_000.0),
            230..290 => (10_000.0, 100_000.0),
            _ => (990_000.0, 1_010_000.0),
        };
        let edge = chance.one_of(edges);
        let offset_m = chance.magnitude(least_m, most_m);
        let share = if number % 5 == 0 { 0.0 } else { chance.between(0.0, 1.0) };
        let foot = edge.at(earth, share);
        // mostly square to the edge, so that the offset is the distance; about vertices in every direction
        let ahead = edge.at(earth, if share < 0.5 { share + 0.01 } else { share - 0.01 });
        let square_deg = earth.inverse(foot, ahead).1 + 90.0;
        let turn_deg = if share == 0.0 { chance.between(0.0, 360.0) } else { 180.0 * f64::from(number % 2) };
        places.push(earth.direct(foot, square_deg + turn_deg, offset_m));
    }
    places
}
