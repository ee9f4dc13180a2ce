//! How far one sees in each direction before a line is in the way: no farther than so many metres, by bearings.
//!
//! Seen from a place, a stretch of a line covers the bearings between its two ends, for it runs from the one to the other without a
//! gap, and no point of it is farther off than the farther end (of a geodesic that is short against the Earth). So each way on
//! those bearings meets it by then. Of all stretches over the same bearings the one with the nearest far end counts.

use crate::Position;
use crate::angle::wrap_degrees;
use crate::boundary::StretchOf;
use crate::geodesic::{SHORT_M, Surface, azimuth_deg, from_earth_centred, inverse, length_over_chord};

/// Bearings asked about are taken wider by this on both sides, in degrees: azimuths are good to less.
const ROOM_DEG: f64 = 1e-5;
/// Distances are taken longer by this, in metres: what they and the way's own are good to.
const ROOM_M: f64 = 0.01;
/// A stretch that covers more bearings, in degrees, or of which one end is this share farther than the other, and so many metres,
/// is halved: what lies behind it is hidden by no more than that too late.
const WIDE_DEG: f64 = 20.0;
const SLANTED: f64 = 0.01;
const SLANTED_M: f64 = 5.0;
/// Nor is it halved more often than this, nor where it is shorter, in metres.
const MOST_HALVINGS: u32 = 8;
const SHORT_STRETCH_M: f64 = 1.0;
/// Wider ones do not count: the place is on the line, or nearly.
const WIDEST_DEG: f64 = 170.0;
/// Nearer than this, in metres, an azimuth is rounding.
const TOO_NEAR_M: f64 = 0.01;
/// Farther than this, in metres, the far end of a stretch need not be its farthest point.
const TOO_FAR_M: f64 = 3_000_000.0;

/// The skyline about a place.
#[derive(Debug)]
pub(super) struct Skyline {
    /// Bearings at which another stretch may become the nearest, ascending, from 0 to 360 degrees, both there.
    begins_deg: Vec<f64>,
    /// The greatest of `far_m`, in a tree over the cells between them: leaf i at `cells + i`.
    greatest_m: Vec<f64>,
}

/// Bearings covered, clockwise, and by when each way on them meets a line.
#[derive(Debug, Clone, Copy)]
struct Cover {
    from_deg: f64,
    to_deg: f64,
    far_m: f64,
}

impl Skyline {
    pub(super) fn new(from: (Position, &Surface), stretches: &[StretchOf]) -> Self {
        let mut covers = Vec::with_capacity(stretches.len() + 16);
        for stretch in stretches {
            let end = |share: f64| End::new(from, stretch, share);
            add(&mut covers, (end(0.0), end(1.0)), &end, stretch.length_m(), 0);
        }
        Self::of_covers(covers)
    }

    fn of_covers(mut covers: Vec<Cover>) -> Self {
        let mut begins_deg: Vec<f64> =
            covers.iter().flat_map(|cover| [cover.from_deg, cover.to_deg]).collect();
        begins_deg.extend([0.0, 360.0]);
        begins_deg.sort_unstable_by(f64::total_cmp);
        begins_deg.dedup();
        let cells = begins_deg.len() - 1;
        let mut greatest_m = vec![f64::INFINITY; 2 * cells];
        // those with the nearest far ends are painted first, and each cell once
        covers.sort_unstable_by(|one, other| one.far_m.total_cmp(&other.far_m));
        let mut unpainted = Unpainted::new(cells);
        for cover in covers {
            let cell = |deg: f64| begins_deg.partition_point(|begins_deg| *begins_deg < deg);
            let (first, after) = (cell(cover.from_deg), cell(cover.to_deg));
            let mut at = unpainted.next(first);
            while at < after {
                greatest_m[cells + at] = cover.far_m;
                unpainted.paint(at);
                at = unpainted.next(at);
            }
        }
        for at in (1..cells).rev() {
            greatest_m[at] = greatest_m[2 * at].max(greatest_m[2 * at + 1]);
        }
        Self { begins_deg, greatest_m }
    }

    /// By when every way on bearings clockwise from one to another has met a line, in metres; infinite if that is not known.
    pub(super) fn farthest_m(&self, from_deg: f64, to_deg: f64) -> f64 {
        let width_deg = if to_deg - from_deg >= 360.0 { 360.0 } else { clockwise_deg(to_deg - from_deg) };
        if !width_deg.is_finite() {
            return f64::INFINITY;
        }
        if width_deg + 2.0 * ROOM_DEG >= 360.0 {
            return self.greatest_m(0.0, 360.0);
        }
        let first_deg = clockwise_deg(from_deg - ROOM_DEG);
        let last_deg = first_deg + width_deg + 2.0 * ROOM_DEG;
        if last_deg <= 360.0 {
            return self.greatest_m(first_deg, last_deg);
        }
        self.greatest_m(first_deg, 360.0).max(self.greatest_m(0.0, last_deg - 360.0))
    }

    /// The greatest in the cells from a bearing to another that is no less, both from 0 to 360 degrees.
    fn greatest_m(&self, from_deg: f64, to_deg: f64) -> f64 {
        let cells = self.begins_deg.len() - 1;
        let cell =
            |deg: f64| self.begins_deg.partition_point(|begins_deg| *begins_deg <= deg).clamp(1, cells) - 1;
        let (mut low, mut high) = (cells + cell(from_deg), cells + cell(to_deg) + 1);
        let mut greatest_m = 0.0_f64;
        while low < high {
            if low % 2 == 1 {
                greatest_m = greatest_m.max(self.greatest_m[low]);
                low += 1;
            }
            if high % 2 == 1 {
                high -= 1;
                greatest_m = greatest_m.max(self.greatest_m[high]);
            }
            low /= 2;
            high /= 2;
        }
        greatest_m
    }
}

/// An end of a stretch as seen from the place.
#[derive(Debug, Clone, Copy)]
struct End {
    share: f64,
    away_m: f64,
    azimuth_deg: f64,
}

impl End {
    fn new(from: (Position, &Surface), stretch: &StretchOf, share: f64) -> Self {
        let (position, here) = from;
        let point = stretch.at(share);
        if (point - here.point).norm() <= SHORT_M {
            let away_m = length_over_chord(here.point, point);
            return Self { share, away_m, azimuth_deg: azimuth_deg(here, point) };
        }
        let line = inverse(position, from_earth_centred(point));
        Self { share, away_m: line.distance_m, azimuth_deg: line.azimuth_start_deg }
    }
}

/// Adds what a stretch covers, or its halves do.
fn add(
    covers: &mut Vec<Cover>,
    (one, other): (End, End),
    end: &impl Fn(f64) -> End,
    length_m: f64,
    halvings: u32,
) {
    let (near_m, far_m) = (one.away_m.min(other.away_m), one.away_m.max(other.away_m));
    let turn_deg = wrap_degrees(other.azimuth_deg - one.azimuth_deg);
    let is_rough = turn_deg.abs() > WIDE_DEG || far_m - near_m > SLANTED_M.max(SLANTED * far_m);
    if is_rough && halvings < MOST_HALVINGS && length_m > SHORT_STRETCH_M {
        let middle = end(f64::midpoint(one.share, other.share));
        add(covers, (one, middle), end, length_m / 2.0, halvings + 1);
        add(covers, (middle, other), end, length_m / 2.0, halvings + 1);
        return;
    }
    if near_m < TOO_NEAR_M || far_m > TOO_FAR_M || turn_deg.abs() > WIDEST_DEG {
        return;
    }
    let (first, last) = if turn_deg >= 0.0 { (one, other) } else { (other, one) };
    // the same bearing gets the same number, whichever stretch it is an end of
    let [from_deg, to_deg] = [first, last].map(|end| clockwise_deg(end.azimuth_deg));
    let far_m = far_m + ROOM_M;
    if from_deg <= to_deg {
        covers.push(Cover { from_deg, to_deg, far_m });
    } else {
        covers.push(Cover { from_deg, to_deg: 360.0, far_m });
        covers.push(Cover { from_deg: 0.0, to_deg, far_m });
    }
}

/// A bearing from 0 to 360 degrees; 360 where it lies a rounding below 0.
fn clockwise_deg(bearing_deg: f64) -> f64 {
    let wrapped_deg = wrap_degrees(bearing_deg);
    if wrapped_deg < 0.0 { wrapped_deg + 360.0 } else { wrapped_deg }
}

/// Cells that are not painted yet: each points to itself, painted ones onwards.
struct Unpainted(Vec<usize>);

impl Unpainted {
    fn new(cells: usize) -> Self {
        Self((0..=cells).collect())
    }

    /// The first that is not painted, from one on; their number if all are.
    fn next(&mut self, from: usize) -> usize {
        let mut at = from;
        while self.0[at] != at {
            // halves the way for those who come later
            self.0[at] = self.0[self.0[at]];
            at = self.0[at];
        }
        at
    }

    fn paint(&mut self, at: usize) {
        self.0[at] = at + 1;
    }
}
