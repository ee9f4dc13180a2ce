//! From a zone's rings to its sides: runs of edges that a boat can cross and that go nearly one way, within range of the launch.

use crate::transit::plane::{Plane, Point, within_circle};
use crate::transit::{CompassPoint, SideName, ZoneSide};
use crate::{Boundary, Metres, SideKind, TrueBearing};

/// Edges of one side run within this of the line between its ends, in degrees: 20 degrees between any two of them (common
/// practice, no source).
const MOST_TURN_DEG: f64 = 10.0;
/// A run whose corners lie within this of the line between its ends is straight whatever its short edges do, in metres
/// (common practice, no source).
const STRAIGHT_WITHIN_M: f64 = 5.0;
/// Shorter sides are left out where there are longer ones, in metres (common practice, no source).
const LEAST_SIDE_M: f64 = 20.0;
/// No more sides than this are searched for: the longest ones. A circle has 17.
const MOST_SIDES: usize = 32;

/// A side on the plane.
#[derive(Debug, Clone)]
pub(super) struct PlaneSide {
    /// What it is.
    kind: SideKind,
    /// At least two, in order, the zone on the left.
    pub(super) corners: Vec<Point>,
    /// The way from end to end, one metre long.
    pub(super) along: Point,
    /// Out of the zone, square to that.
    pub(super) outward: Point,
    pub(super) length_m: f64,
    /// Between the ends.
    pub(super) middle: Point,
    /// No corner is farther from the middle.
    pub(super) radius_m: f64,
}

/// The sides of a boundary that a boat can cross, in order, the zone on their left.
///
/// A side begins and ends where the kind changes, however straight the boundary runs on. One that may be off by half its length has
/// no direction that marks could show: the joint from a vertex in the water to the coast that a side follows is such a one.
pub(super) fn sides_within(boundary: &Boundary, plane: Plane, range_m: f64) -> Vec<PlaneSide> {
    let mut sides: Vec<PlaneSide> = Vec::new();
    for run in boundary.outline_runs().iter().filter(|run| run.kind.is_crossable()) {
        let corners: Vec<Point> = run.positions.iter().map(|position| plane.point(*position)).collect();
        let parts = if run.is_closed {
            ring_within(&corners, range_m)
        } else {
            way_within(corners.iter().copied(), range_m)
        };
        for part in parts {
            sides.extend(cut_at_turns(&part).into_iter().map(|corners| PlaneSide::new(run.kind, corners)));
        }
    }
    sides.retain(|side| side.has_direction(boundary, plane));
    if sides.iter().any(|side| side.length_m >= LEAST_SIDE_M) {
        sides.retain(|side| side.length_m >= LEAST_SIDE_M);
    }
    if sides.len() > MOST_SIDES {
        let mut lengths_m: Vec<f64> = sides.iter().map(|side| side.length_m).collect();
        lengths_m.sort_by(|a, b| b.total_cmp(a));
        let least_m = lengths_m[MOST_SIDES - 1];
        sides.retain(|side| side.length_m >= least_m);
        sides.truncate(MOST_SIDES);
    }
    sides
}

/// The parts of a closed ring within range, each as its corners in order.
fn ring_within(ring: &[Point], range_m: f64) -> Vec<Vec<Point>> {
    let outside = ring.iter().position(|corner| corner.norm_m() > range_m);
    let first = outside.unwrap_or_else(|| if ring.len() < 2 { 0 } else { sharpest_corner(ring) });
    way_within(ring.iter().cycle().skip(first).take(ring.len() + 1).copied(), range_m)
}

/// The parts of a way within range, each as its corners in order.
fn way_within(way: impl Iterator<Item = Point>, range_m: f64) -> Vec<Vec<Point>> {
    let mut runs: Vec<Vec<Point>> = Vec::new();
    let mut before: Option<Point> = None;
    let mut open = false;
    for to in way {
        let Some(from) = before.replace(to) else { continue };
        let Some((enters, leaves)) = within_circle(from, to, range_m) else {
            open = false;
            continue;
        };
        let edge = to.minus(from);
        if !open {
            runs.push(vec![from.plus(edge, enters)]);
        }
        if let Some(run) = runs.last_mut() {
            run.push(from.plus(edge, leaves));
        }
        open = leaves >= 1.0;
    }
    runs
}

/// The corner at which a ring turns most, so that no side is cut in two by where the ring happens to start.
fn sharpest_corner(ring: &[Point]) -> usize {
    let count = ring.len();
    let turn = |at: usize| {
        let before = ring[at].minus(ring[(at + count - 1) % count]).unit();
        let after = ring[(at + 1) % count].minus(ring[at]).unit();
        before.dot(after)
    };
    // the first of equals, whatever rounding makes of a circle's corners
    let mut sharpest = (0, turn(0));
    for at in 1..count {
        if turn(at) < sharpest.1 - 1e-9 {
            sharpest = (at, turn(at));
        }
    }
    sharpest.0
}

/// Cuts a run where it turns away from one line, from its start on.
fn cut_at_turns(run: &[Point]) -> Vec<Vec<Point>> {
    let mut cut = Vec::new();
    let mut start = 0;
    while start + 1 < run.len() {
        let mut end = start + 1;
        while end + 1 < run.len() && runs_one_way(&run[start..=end + 1]) {
            end += 1;
        }
        cut.push(run[start..=end].to_vec());
        start = end;
    }
    cut
}

fn runs_one_way(corners: &[Point]) -> bool {
    let (first, last) = (corners[0], corners[corners.len() - 1]);
    let along = last.minus(first).unit();
    let least_cos = MOST_TURN_DEG.to_radians().cos();
    let nearly = |edge: &[Point]| edge[1].minus(edge[0]).unit().dot(along) >= least_cos;
    let close = |corner: &Point| along.cross(corner.minus(first)).abs() <= STRAIGHT_WITHIN_M;
    along != Point::ORIGIN && (corners.windows(2).all(nearly) || corners.iter().all(close))
}

impl PlaneSide {
    fn new(kind: SideKind, corners: Vec<Point>) -> Self {
        let along = corners[corners.len() - 1].minus(corners[0]).unit();
        let length_m = corners.windows(2).map(|edge| edge[1].minus(edge[0]).norm_m()).sum();
        let middle = corners[0].plus(corners[corners.len() - 1].minus(corners[0]), 0.5);
        let radius_m = corners.iter().map(|corner| corner.minus(middle).norm_m()).fold(0.0, f64::max);
        Self { kind, corners, along, outward: along.to_the_right(), length_m, middle, radius_m }
    }

    /// Whether it is drawn where it is, to less than half its length.
    fn has_direction(&self, boundary: &Boundary, plane: Plane) -> bool {
        // what it may be off is told of an edge, not of a corner where two meet
        let of_edge = |edge: &[Point]| {
            let middle = plane.position(edge[0].plus(edge[1].minus(edge[0]), 0.5));
            boundary.side_nearest(middle).uncertainty.map_or(0.0, |own| own.metres().abs())
        };
        let off_m = self.corners.windows(2).map(of_edge).fold(f64::INFINITY, f64::min);
        // a plane is not the Earth
        2.0 * off_m < 0.99 * self.length_m
    }

    fn faces(&self) -> CompassPoint {
        CompassPoint::nearest(TrueBearing::wrapping(self.outward.bearing_deg()))
    }
}

/// The sides with their names: north side, or north side 1 and 2 where two look that way.
pub(super) fn named(sides: &[PlaneSide], plane: Plane) -> Vec<ZoneSide> {
    let facing: Vec<CompassPoint> = sides.iter().map(PlaneSide::faces).collect();
    let name = |at: usize| {
        let same = |up_to: usize| facing[..up_to].iter().filter(|faces| **faces == facing[at]).count();
        SideName { faces: facing[at], number: (same(facing.len()) > 1).then(|| same(at) + 1) }
    };
    let zone_side = |(at, side): (usize, &PlaneSide)| ZoneSide {
        name: name(at),
        kind: side.kind,
        corners: side.corners.iter().map(|corner| plane.position(*corner)).collect(),
        length: Metres::computed(side.length_m),
    };
    sides.iter().enumerate().map(zone_side).collect()
}
