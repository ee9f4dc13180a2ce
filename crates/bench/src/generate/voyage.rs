//! Tracks of small craft: a fix a second along straight ways between random places, at 2 to 9 m/s, wandering off them by some metres.

use fastrand::Rng;

use super::layout::{Spot, normal};

/// How much of the wander stays from one second to the next; it is about 5 m.
const WANDER_KEPT: f64 = 0.98;

/// A place of the way, metres east and north, and when the boat comes there, in seconds.
struct Mark {
    at_s: f64,
    east_m: f64,
    north_m: f64,
}

/// Latitude and longitude of so many fixes.
pub(super) fn fixes(random: &mut Rng, (about, spread_m): (&Spot, f64), count: usize) -> Vec<(f64, f64)> {
    let way = way(random, spread_m, count);
    let whole_s = way.last().map_or(1.0, |mark| mark.at_s);
    let (mut wander_east_m, mut wander_north_m) = (0.0, 0.0);
    let mut places = Vec::with_capacity(count);
    for second in 0..count {
        wander_east_m = WANDER_KEPT * wander_east_m + normal(random);
        wander_north_m = WANDER_KEPT * wander_north_m + normal(random);
        let (east_m, north_m) = on_way(&way, second as f64 % whole_s);
        places.push(about.offset(north_m + wander_north_m, east_m + wander_east_m));
    }
    places
}

fn way(random: &mut Rng, spread_m: f64, fixes: usize) -> Vec<Mark> {
    let marks = marks(spread_m, fixes);
    let mut way: Vec<Mark> = Vec::with_capacity(marks);
    for _ in 0..marks {
        let east_m = spread_m * (2.0 * random.f64() - 1.0);
        let north_m = spread_m * (2.0 * random.f64() - 1.0);
        let speed_m_per_s = 2.0 + 7.0 * random.f64();
        let at_s = way.last().map_or(0.0, |last| {
            last.at_s + (east_m - last.east_m).hypot(north_m - last.north_m) / speed_m_per_s
        });
        way.push(Mark { at_s, east_m, north_m });
    }
    way
}

/// So many that the way lasts for all fixes.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "some thousands")]
fn marks(spread_m: f64, fixes: usize) -> usize {
    4 + (fixes as f64 * 6.0 / spread_m.max(200.0)) as usize * 2
}

/// Metres east and north on the way after so many seconds.
fn on_way(way: &[Mark], at_s: f64) -> (f64, f64) {
    let next = way.partition_point(|mark| mark.at_s <= at_s).clamp(1, way.len() - 1);
    let (from, to) = (&way[next - 1], &way[next]);
    let share = ((at_s - from.at_s) / (to.at_s - from.at_s)).clamp(0.0, 1.0);
    (from.east_m + share * (to.east_m - from.east_m), from.north_m + share * (to.north_m - from.north_m))
}
