//! The plane of a range line, on which water is parted: how far along the line from the front mark, seaward, and how far
//! off it, to the right of somebody who looks at the marks.
//!
//! Distances off the line are measured on geodesics square to it, so a length along such a geodesic is a true length, and
//! the plane shows an area too large by the cosine of the distance off over the radius of the Earth: one part in a million
//! at 9 km. Seen from above the axes are a right-handed pair, so what lies on the left of a ring there lies on its left here.

use std::f64::consts::{FRAC_PI_4, TAU};

use geo::algorithm::bool_ops::{FillRule, OpType};
use geo::{
    Area, BooleanOps, BoundingRect, Coord, Euclidean, Length, LineString, MapCoords, MultiPolygon, Polygon,
    Rect,
};

use crate::angle::wrap_degrees;
use crate::geodesic::{ECCENTRICITY_2, EQUATORIAL_RADIUS_M, Vector, surface};
use crate::transit::{Eye, RangeLine, Side};
use crate::{Boundary, Latitude, Longitude, Metres, Position};

/// What winds round no place is empty; rings have their water on the left.
pub(super) type Shape = MultiPolygon<f64>;

/// No area is measured that reaches farther than this from the front mark, in metres.
const FARTHEST_M: f64 = 2e6;
/// Neighbours of a densified boundary are no farther apart than this, in metres.
const LONGEST_STEP_M: f64 = 2_000.0;
/// What lies too far to matter is drawn on a circle, at so many places of it.
const NODES: i32 = 64;
/// A chord of a drawn circle leaves it by no more than this, in metres.
const CHORD_M: f64 = 0.002;
/// Nor is it longer than the sides of the area by this number.
const LEAST_CHORDS: u32 = 64;
/// On circles of more than this, in metres, the eye's threshold runs along the line, whatever the area.
const STRAIGHT_M: f64 = 1e15;
/// Water narrower than this on the mean, in metres, is a rounding.
const NARROWEST_M: f64 = 1e-3;

/// Parts the water of two shapes.
///
/// Boolean operations work on a grid as fine as the longer side of both shapes allows. So they are asked of shapes as wide
/// as they are long, lest a strip of a few metres be rounded as coarsely across as along.
pub(super) fn parted(one: &Shape, other: &Shape, how: OpType) -> Shape {
    let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for bounds in [one, other].into_iter().filter_map(BoundingRect::bounding_rect) {
        low = [low[0].min(bounds.min().x), low[1].min(bounds.min().y)];
        high = [high[0].max(bounds.max().x), high[1].max(bounds.max().y)];
    }
    let ratio = (high[0] - low[0]) / (high[1] - low[1]);
    let stretched = if ratio.is_normal() { ratio } else { 1.0 };
    let wide = |shape: &Shape| shape.map_coords(|at| Coord { x: at.x, y: at.y * stretched });
    let parts = wide(one).boolean_op_with_fill_rule(&wide(other), how, FillRule::Positive);
    parts.map_coords(|at| Coord { x: at.x, y: at.y / stretched })
}

/// The shape without parts and holes that are no wider than a rounding.
pub(super) fn without_slivers(mut shape: Shape) -> Shape {
    let is_wide = |ring: &LineString| {
        let length_m = Euclidean.length(ring);
        ring_area_m2(ring).abs() > NARROWEST_M * length_m / 2.0
    };
    shape.0.retain(|part| is_wide(part.exterior()));
    for part in &mut shape.0 {
        let holes = part.interiors().iter().filter(|hole| is_wide(hole)).cloned().collect();
        *part = Polygon::new(part.exterior().clone(), holes);
    }
    shape
}

fn ring_area_m2(ring: &LineString) -> f64 {
    Polygon::new(ring.clone(), Vec::new()).signed_area()
}

/// Cuts parts with holes square to the line, until no part has one.
pub(super) fn without_holes(shape: Shape) -> Vec<Polygon> {
    let mut waiting = shape.0;
    let mut whole = Vec::new();
    while let Some(part) = waiting.pop() {
        let Some(halves) = halves(&part) else {
            whole.push(Polygon::new(part.exterior().clone(), Vec::new()));
            continue;
        };
        let holes = |parts: &[Polygon]| parts.iter().map(|part| part.interiors().len()).sum::<usize>();
        let part = MultiPolygon::from(part);
        let cut: Vec<Polygon> =
            halves.iter().flat_map(|half| parted(&part, half, OpType::Intersection).0).collect();
        // a hole that no cut opens is thinner than the grid that the cut is made on
        if holes(&cut) < holes(&part.0) {
            waiting.extend(cut);
        } else {
            whole.extend(part.0.iter().map(|part| Polygon::new(part.exterior().clone(), Vec::new())));
        }
    }
    whole
}

/// Two rectangles that meet in the middle of the middle hole; none without a hole.
fn halves(part: &Polygon) -> Option<[Shape; 2]> {
    let mut middles: Vec<f64> =
        part.interiors().iter().filter_map(|hole| Some(hole.bounding_rect()?.center().x)).collect();
    middles.sort_by(f64::total_cmp);
    let cut_m = *middles.get(middles.len() / 2)?;
    let bounds = part.bounding_rect()?;
    let (low, high) = (bounds.min(), bounds.max());
    let rectangle = |from, to| MultiPolygon::from(Rect::new(from, to).to_polygon());
    Some([rectangle(low, Coord { x: cut_m, y: high.y }), rectangle(Coord { x: cut_m, y: low.y }, high)])
}

/// The plane.
#[derive(Debug, Clone, Copy)]
pub(super) struct LinePlane<'a> {
    line: &'a RangeLine,
    /// One over the radius of the sphere that bends as the ellipsoid does at the front mark.
    curvature: f64,
}

impl<'a> LinePlane<'a> {
    pub(super) fn of(line: &'a RangeLine) -> Self {
        let sin = line.front().position.latitude().radians().sin();
        // √(1 / (M·N)) of the two radii of curvature
        let squeeze = 1.0 - ECCENTRICITY_2 * sin * sin;
        let curvature = squeeze / (EQUATORIAL_RADIUS_M * (1.0 - ECCENTRICITY_2).sqrt());
        Self { line, curvature }
    }

    pub(super) fn position(self, at: Coord) -> Position {
        self.line.beside(Metres::computed(at.x), Metres::computed(at.y))
    }

    fn at(self, position: Position) -> Coord {
        let placed = self.line.place(position);
        Coord { x: placed.distance_from_front.metres(), y: placed.to_the_right.metres() }
    }

    /// The ellipsoid's area of a shape, in square metres.
    pub(super) fn area_m2(self, shape: &Shape) -> f64 {
        let rings = shape.iter().flat_map(|part| std::iter::once(part.exterior()).chain(part.interiors()));
        // the sum of nothing is −0
        rings.map(|ring| self.ring_m2(ring)).sum::<f64>() + 0.0
    }

    /// The signed area of what a ring has on its left.
    ///
    /// Geodesics square to the line draw together by cos(y/R), of which R·sin(y/R) is the integral; along a straight edge its
    /// mean has a closed form.
    fn ring_m2(self, ring: &LineString) -> f64 {
        let edge_m2 = |edge: geo::Line| {
            let half_turn = self.curvature * edge.dy() / 2.0;
            let shrinks = if half_turn.abs() < 1e-9 { 1.0 } else { half_turn.sin() / half_turn };
            let middle = self.curvature * f64::midpoint(edge.start.y, edge.end.y);
            -edge.dx() * middle.sin() / self.curvature * shrinks
        };
        ring.lines().map(edge_m2).sum()
    }

    /// The strip on both sides of a part of the line.
    pub(super) fn strip(along: (Metres, Metres), half_width: Metres) -> Shape {
        let (near_m, far_m) = (along.0.metres(), along.1.metres());
        let half_m = half_width.metres();
        let rectangle = Rect::new(Coord { x: near_m, y: -half_m }, Coord { x: far_m, y: half_m });
        MultiPolygon::from(rectangle.to_polygon())
    }

    /// A boundary all of which matters; none where the plane does not show it well.
    pub(super) fn whole(self, boundary: &Boundary) -> Option<Shape> {
        const SHOWN_WELL: f64 = 0.01;
        let ring = |ring: Vec<Position>| {
            Polygon::new(ring.into_iter().map(|position| self.at(position)).collect(), Vec::new())
        };
        let rings = MultiPolygon::new(boundary.densified().into_iter().map(ring).collect());
        let is_near = |at: Coord| at.x.abs() < FARTHEST_M && at.y.abs() < FARTHEST_M;
        let mut corners = rings.iter().flat_map(|ring| ring.exterior().coords());
        let area_m2 = boundary.area_m2();
        let shown_well = corners.all(|at| is_near(*at))
            && (self.area_m2(&rings) - area_m2).abs() <= SHOWN_WELL * area_m2.abs();
        // parts that overlap become one
        shown_well.then(|| parted(&rings, &MultiPolygon::new(Vec::new()), OpType::Union))
    }

    /// The water on one side from which the eye sees the marks open to that side, as far as it lies in or near a
    /// rectangle: what a circle through both marks holds there (inscribed angle).
    pub(super) fn opened(self, side: Side, eye: Eye, within: Rect) -> Shape {
        let (low, high) = (within.min(), within.max());
        let (from_m, to_m) = match side {
            Side::Right => (low.y, high.y),
            Side::Left => (-high.y, -low.y),
        };
        let window = widened(Rect::new(Coord { x: low.x, y: from_m }, Coord { x: high.x, y: to_m }));
        if window.max().y <= 0.0 {
            return MultiPolygon::new(Vec::new());
        }
        let window = Rect::new(Coord { x: window.min().x, y: window.min().y.max(0.0) }, window.max());
        let circle = Circle::of(self.line.separation().metres(), eye.threshold().radians());
        let water = circle.map_or_else(
            || MultiPolygon::from(window.to_polygon()),
            |circle| MultiPolygon::from(clipped(circle.drawn(window), window)),
        );
        match side {
            Side::Right => water,
            Side::Left => mirrored(water),
        }
    }
}

/// The shape on the other side of the line.
fn mirrored(mut shape: Shape) -> Shape {
    for part in &mut shape.0 {
        part.exterior_mut(|ring| {
            ring.0.reverse();
            ring.0.iter_mut().for_each(|at| at.y = -at.y);
        });
    }
    shape
}

/// The circle to the right of the line from which the marks show under the threshold.
#[derive(Debug, Clone, Copy)]
struct Circle {
    radius_m: f64,
    threshold: f64,
}

impl Circle {
    /// None if it is so large that nobody could tell it from the line.
    fn of(separation_m: f64, threshold: f64) -> Option<Self> {
        let radius_m = separation_m / (2.0 * threshold.sin());
        (radius_m < STRAIGHT_M).then_some(Self { radius_m, threshold })
    }

    /// The circle as a ring, counter-clockwise, drawn closely where it runs through a window.
    ///
    /// Corners stand off the circle by two thirds of what chords between would leave it by, so that the ring holds as much
    /// water as the circle.
    fn drawn(self, window: Rect) -> Vec<Coord> {
        let longest_m = (window.width() + window.height()) / f64::from(LEAST_CHORDS);
        let is_coarse = |turn: f64| self.leaves_m(turn) > CHORD_M || self.radius_m * turn > longest_m;
        let mut finest = FRAC_PI_4;
        while is_coarse(finest) {
            finest /= 2.0;
        }
        let out_m = self.leaves_m(finest) * 2.0 / 3.0;
        let mut waiting: Vec<(f64, f64)> =
            (0..8).rev().map(|part| (f64::from(part) * FRAC_PI_4, FRAC_PI_4)).collect();
        let mut ring = Vec::new();
        while let Some((from, turn)) = waiting.pop() {
            let leaves_m = self.leaves_m(turn);
            let ends = [self.at(from, 0.0), self.at(from + turn, 0.0)];
            if is_coarse(turn) && comes_near(ends, leaves_m, window) {
                let half = turn / 2.0;
                waiting.extend([(from + half, half), (from, half)]);
            } else {
                ring.push(self.at(from, out_m));
            }
        }
        ring
    }

    /// How far a chord over an angle leaves the circle.
    fn leaves_m(self, turn: f64) -> f64 {
        2.0 * self.radius_m * (turn / 4.0).sin().powi(2)
    }

    /// A place of the circle, or so far outside it, by its angle from the lowest point; written from the front mark, whose
    /// angle is the threshold (inscribed angle), so that no digits are lost on a large circle.
    fn at(self, angle: f64, out_m: f64) -> Coord {
        let half_sum = f64::midpoint(angle, self.threshold);
        let half_difference = (angle - self.threshold) / 2.0;
        let chord_m = 2.0 * self.radius_m * half_difference.sin();
        let (sin, cos) = angle.sin_cos();
        Coord { x: chord_m * half_sum.cos() + out_m * sin, y: chord_m * half_sum.sin() - out_m * cos }
    }
}

/// Whether the box of a chord, so much wider, meets a window.
fn comes_near([one, other]: [Coord; 2], by_m: f64, window: Rect) -> bool {
    let (low, high) = (window.min(), window.max());
    one.x.min(other.x) - by_m <= high.x
        && one.x.max(other.x) + by_m >= low.x
        && one.y.min(other.y) - by_m <= high.y
        && one.y.max(other.y) + by_m >= low.y
}

/// A rectangle a metre wider on every side.
fn widened(rectangle: Rect) -> Rect {
    let metre = Coord { x: 1.0, y: 1.0 };
    Rect::new(rectangle.min() - metre, rectangle.max() + metre)
}

/// The part of a ring in a window (Sutherland and Hodgman 1974), which winds round each place there as often as before:
/// large shapes are cut here, because boolean operations work on a grid that gets coarser as shapes get larger.
fn clipped(ring: Vec<Coord>, window: Rect) -> Polygon {
    let (low, high) = (window.min(), window.max());
    let sides: [&dyn Fn(Coord) -> f64; 4] =
        [&|at| at.x - low.x, &|at| high.x - at.x, &|at| at.y - low.y, &|at| high.y - at.y];
    let mut kept = ring;
    for inside_m in sides {
        let mut next = Vec::with_capacity(kept.len() + 2);
        for (number, &at) in kept.iter().enumerate() {
            let before = kept[(number + kept.len() - 1) % kept.len()];
            let (was_m, is_m) = (inside_m(before), inside_m(at));
            if (was_m < 0.0) != (is_m < 0.0) {
                next.push(before + (at - before) * (was_m / (was_m - is_m)));
            }
            if is_m >= 0.0 {
                next.push(at);
            }
        }
        kept = next;
    }
    Polygon::new(LineString::new(kept), Vec::new())
}

/// A rectangle of the plane with what lies about it: near places are shown where they are, all others on a circle round it,
/// in their direction, so that a zone of any size keeps the side on which the rectangle lies.
#[derive(Debug)]
pub(super) struct Surroundings<'a> {
    plane: LinePlane<'a>,
    middle: Coord,
    /// The rectangle, a metre wider on every side, so that its edges are no edges of the water.
    window: Rect,
    reach_m: f64,
    pub(super) centre: Position,
    centre_point: Vector,
    along: Vector,
    right: Vector,
}

impl<'a> Surroundings<'a> {
    pub(super) fn of(plane: LinePlane<'a>, within: Rect) -> Self {
        let middle = within.center();
        let centre = plane.position(middle);
        let centre_point = surface(centre).point;
        let up = centre_point.unit();
        let towards = |step: Coord| {
            let way = surface(plane.position(middle + step)).point - centre_point;
            (way - up * way.dot(up)).unit()
        };
        Self {
            plane,
            middle,
            window: widened(within),
            reach_m: within.width().hypot(within.height()) / 2.0 * 1.001 + 1.0,
            centre,
            centre_point,
            along: towards(Coord { x: 1.0, y: 0.0 }),
            right: towards(Coord { x: 0.0, y: 1.0 }),
        }
    }

    /// Whether a boundary, or the water in it, reaches into the rectangle.
    pub(super) fn meets(&self, boundary: &Boundary) -> bool {
        boundary.locate(self.centre).least.metres() < self.reach_m
    }

    /// The rings of a zone in the rectangle and a metre about it, each on its own; they wind once round its water and never
    /// round other water of the rectangle.
    pub(super) fn rings(&self, boundary: &Boundary) -> Vec<Polygon> {
        let mut rings: Vec<Polygon> =
            boundary.densified().iter().map(|ring| clipped(self.ring(ring), self.window)).collect();
        // seen from here, a zone that holds the other side of the Earth winds the wrong way round all that it does not hold
        if boundary.contains_by_crossings(opposite(self.centre)) {
            rings.push(self.window.to_polygon());
        }
        rings
    }

    /// Radius of the circle on which far places are shown: so large that no edge that matters ends on it, and that chords
    /// between its nodes keep out of the rectangle.
    fn circle_m(&self) -> f64 {
        1.01 * self.reach_m + LONGEST_STEP_M
    }

    fn ring(&self, ring: &[Position]) -> Vec<Coord> {
        let mut drawn: Vec<Coord> = Vec::with_capacity(ring.len());
        let mut before = ring.last().and_then(|last| self.direction_if_far(*last));
        for position in ring {
            let direction = self.direction_if_far(*position);
            match (before, direction) {
                (_, None) => drawn.push(self.plane.at(*position)),
                (None, Some(direction)) => drawn.push(self.node(node_number(direction))),
                (Some(before), Some(direction)) => {
                    let turned = wrap_degrees((direction - before).to_degrees()).to_radians();
                    let (from, to) = (node_number(before), node_number(before + turned));
                    let way = to - from;
                    drawn.extend((1..=way.abs()).map(|step| self.node(from + step * way.signum())));
                }
            }
            before = direction;
        }
        drawn
    }

    /// The direction of a place from the middle on the plane, in radians from seaward to the right; none if it is near.
    fn direction_if_far(&self, position: Position) -> Option<f64> {
        let way = surface(position).point - self.centre_point;
        (way.norm() > self.circle_m()).then(|| way.dot(self.right).atan2(way.dot(self.along)))
    }

    fn node(&self, number: i32) -> Coord {
        let (sin, cos) = (TAU * f64::from(number) / f64::from(NODES)).sin_cos();
        self.middle + Coord { x: cos, y: sin } * self.circle_m()
    }
}

#[expect(clippy::cast_possible_truncation, reason = "two turns at most")]
fn node_number(direction: f64) -> i32 {
    (direction / TAU * f64::from(NODES)).round() as i32
}

/// The place on the other side of the Earth.
fn opposite(place: Position) -> Position {
    let longitude = Longitude::wrapping(place.longitude().degrees() + 180.0);
    Position::new(Latitude::computed(-place.latitude().degrees()), longitude)
}
