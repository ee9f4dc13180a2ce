//! The curves that bound one kind of water from another, on the plane of a range line: how far along it and how far off it.
//!
//! Distances off the line are measured on geodesics square to it, so a length along such a geodesic is a true length, and an
//! area is short by the cosine of the distance off over the radius of the Earth: one part in a million at 9 km.

use super::looked_at::Looking;
use crate::geodesic::surface;
use crate::transit::{Eye, RangeLine, WorkingArea};
use crate::zone::Extent;
use crate::{Boundary, Metres, Position};

/// Neighbours of a densified boundary are no farther apart than this, in metres.
const LONGEST_STEP_M: f64 = 2_000.0;
/// In how many equal angles of their circles the curves of one look are cut, where they lie in the area.
const CIRCLE_STEPS: u32 = 64;

/// A place by its distance along the line from the front mark, seaward, and off the line, to the right; in metres.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct OnPlane {
    pub(super) along_m: f64,
    pub(super) off_m: f64,
}

/// What lies on one side of a curve only.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Bounds {
    /// The working area.
    Area,
    /// One of the zones near it.
    Zone(usize),
    /// One look of the marks.
    Look,
}

/// A curve that has one distance off the line for each distance along it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Curve {
    pub(super) bounds: Bounds,
    /// Whether somebody who goes to the right over it comes in.
    pub(super) enters: bool,
    pub(super) from_m: f64,
    pub(super) to_m: f64,
    shape: Shape,
}

#[derive(Debug, Clone, Copy)]
enum Shape {
    Straight {
        at_from_m: f64,
        at_to_m: f64,
    },
    /// Part of a circle through both marks: the places that see them under one angle, so many metres off for each
    /// metre of [`Opened`].
    Opened {
        how: Opened,
        sign: f64,
        far: bool,
    },
}

/// Two marks seen under an angle.
#[derive(Debug, Clone, Copy)]
struct Opened {
    separation_m: f64,
    tangent: f64,
}

impl Opened {
    /// Radius of the circle through both marks (inscribed angle).
    fn radius_m(self) -> f64 {
        self.separation_m / (2.0 * self.tangent.atan().sin())
    }

    /// The two distances off the line at which the circle is met; see [`RangeLine::offset_for`] for the nearer.
    fn off_m(self, along_m: f64, far: bool) -> f64 {
        let product_m2 = along_m * (along_m + self.separation_m);
        let under_root = self.separation_m.powi(2) - 4.0 * self.tangent.powi(2) * product_m2;
        let sum_m = self.separation_m + under_root.max(0.0).sqrt();
        if far { sum_m / (2.0 * self.tangent) } else { 2.0 * self.tangent * product_m2 / sum_m }
    }
}

impl Curve {
    /// The straight line between two places; none if it runs square to the range line.
    fn between(from: OnPlane, to: OnPlane, bounds: Bounds) -> Option<Self> {
        // who goes seaward has the right of somebody who looks at the marks on the left, which is where the inside is
        let enters = from.along_m < to.along_m;
        let (low, high) = if enters { (from, to) } else { (to, from) };
        let shape = Shape::Straight { at_from_m: low.off_m, at_to_m: high.off_m };
        let curve = Self { bounds, enters, from_m: low.along_m, to_m: high.along_m, shape };
        (low.along_m < high.along_m).then_some(curve)
    }

    /// Whether a straight curve may have a part between these distances along the line and off it.
    fn reaches_into(&self, along_m: (f64, f64), off_m: (f64, f64)) -> bool {
        let (one_m, other_m) = (self.off_m(self.from_m), self.off_m(self.to_m));
        let beside = one_m.max(other_m) < off_m.0 || one_m.min(other_m) > off_m.1;
        self.from_m < along_m.1 && self.to_m > along_m.0 && !beside
    }

    /// How far off the line it runs.
    pub(super) fn off_m(&self, along_m: f64) -> f64 {
        match self.shape {
            Shape::Straight { at_from_m, at_to_m } => {
                let share = (along_m - self.from_m) / (self.to_m - self.from_m);
                at_from_m + (at_to_m - at_from_m) * share
            }
            Shape::Opened { how, sign, far } => sign * how.off_m(along_m, far),
        }
    }
}

/// The working area with everything that matters in it.
#[derive(Debug)]
pub(super) struct Plane<'a> {
    pub(super) line: &'a RangeLine,
    pub(super) eye: Eye,
    pub(super) curves: Vec<Curve>,
    /// Distances along the line at which a curve would be cut too coarsely otherwise.
    pub(super) cuts_m: Vec<f64>,
    /// The counted zones that lie in the area or near it; [`Bounds::Zone`] is a place in here.
    pub(super) zones: Vec<&'a Boundary>,
    pub(super) along_m: (f64, f64),
    pub(super) off_m: (f64, f64),
}

impl<'a> Plane<'a> {
    /// Draws area, zones and looks; none if the area is none.
    pub(super) fn of(looking: &Looking<'a>) -> Option<Self> {
        let line = looking.line;
        let curves = area(looking);
        let (along_m, off_m) = spans(&curves);
        if along_m.0 >= along_m.1 || off_m.0 >= off_m.1 {
            return None;
        }
        let zones = Vec::new();
        let mut plane = Self { line, eye: looking.eye, curves, cuts_m: Vec::new(), zones, along_m, off_m };
        plane.add_zones(looking);
        plane.add_looks();
        Some(plane)
    }

    fn add_zones(&mut self, looking: &Looking<'a>) {
        let middle = |(low, high): (f64, f64)| f64::midpoint(low, high);
        let half = |(low, high): (f64, f64)| (high - low) / 2.0;
        let centre = place(self.line, middle(self.along_m), middle(self.off_m));
        let reach_m = half(self.along_m).hypot(half(self.off_m)) * 1.001 + 1.0;
        let at_centre = surface(centre).point;
        let near = |position| (surface(position).point - at_centre).norm() < reach_m + LONGEST_STEP_M;
        let all = looking.zones.zones();
        for zone in looking.counted.iter().filter_map(|number| all.get(*number)) {
            let Extent::Known(boundary) = &zone.extent else { continue };
            if boundary.locate(centre).least.metres() < reach_m {
                let edges = edges(self.line, boundary, Bounds::Zone(self.zones.len()), near);
                let (along_m, off_m) = (self.along_m, self.off_m);
                self.curves.extend(edges.into_iter().filter(|edge| edge.reaches_into(along_m, off_m)));
                self.zones.push(boundary);
            }
        }
    }

    /// The line itself and the circles of the eye's threshold, as far as the area reaches along the line.
    fn add_looks(&mut self) {
        let separation_m = self.line.separation().metres();
        let how = Opened { separation_m, tangent: self.eye.threshold().radians().tan() };
        let (middle_m, radius_m) = (-separation_m / 2.0, how.radius_m());
        let axis = Shape::Straight { at_from_m: 0.0, at_to_m: 0.0 };
        let mut looks = vec![(axis, self.along_m)];
        for sign in [-1.0, 1.0] {
            let arm = |far| Shape::Opened { how, sign, far };
            looks.push((arm(true), (middle_m - radius_m, middle_m + radius_m)));
            looks.push((arm(false), (0.0, middle_m + radius_m)));
            looks.push((arm(false), (middle_m - radius_m, -separation_m)));
        }
        let (first_m, last_m) = self.along_m;
        for (shape, (from_m, to_m)) in looks {
            let (from_m, to_m) = (from_m.max(first_m), to_m.min(last_m));
            if from_m < to_m {
                self.curves.push(Curve { bounds: Bounds::Look, enters: true, from_m, to_m, shape });
            }
        }
        // equal angles, because a circle runs square to the line at its ends
        let angle = |step: u32| std::f64::consts::PI * f64::from(step) / f64::from(CIRCLE_STEPS);
        self.cuts_m.extend((0..=CIRCLE_STEPS).map(|step| middle_m + radius_m * angle(step).cos()));
    }

    /// Turns a place of the plane into a position.
    pub(super) fn position(&self, at: OnPlane) -> Position {
        place(self.line, at.along_m, at.off_m)
    }
}

fn place(line: &RangeLine, along_m: f64, off_m: f64) -> Position {
    line.beside(Metres::computed(along_m), Metres::computed(off_m))
}

fn area(looking: &Looking<'_>) -> Vec<Curve> {
    match looking.area {
        WorkingArea::Strip { half_width } => {
            let (from_m, to_m) = (looking.stretch.near().metres(), looking.stretch.far().metres());
            let side = |enters, off_m| Curve {
                bounds: Bounds::Area,
                enters,
                from_m,
                to_m,
                shape: Shape::Straight { at_from_m: off_m, at_to_m: off_m },
            };
            vec![side(true, -half_width.metres()), side(false, half_width.metres())]
        }
        WorkingArea::Within(boundary) => edges(looking.line, boundary, Bounds::Area, |_| true),
    }
}

/// The edges of a boundary of which an end is near.
fn edges(
    line: &RangeLine,
    boundary: &Boundary,
    bounds: Bounds,
    near: impl Fn(Position) -> bool,
) -> Vec<Curve> {
    let mut curves = Vec::new();
    for ring in boundary.densified() {
        let after = |at: usize| (at + 1) % ring.len();
        let before = |at: usize| (at + ring.len() - 1) % ring.len();
        let close: Vec<bool> = ring.iter().map(|position| near(*position)).collect();
        // a vertex is placed once for its two edges, and not at all where both are far
        let placed: Vec<Option<OnPlane>> = (0..ring.len())
            .map(|at| (close[before(at)] || close[at] || close[after(at)]).then(|| on_plane(line, ring[at])))
            .collect();
        let edge = |at: usize| {
            let ends = placed[at].zip(placed[after(at)]);
            ends.filter(|_| close[at] || close[after(at)])
                .and_then(|(from, to)| Curve::between(from, to, bounds))
        };
        curves.extend((0..ring.len()).filter_map(edge));
    }
    curves
}

fn on_plane(line: &RangeLine, position: Position) -> OnPlane {
    let placed = line.place(position);
    OnPlane { along_m: placed.distance_from_front.metres(), off_m: placed.to_the_right.metres() }
}

/// The least and greatest distances along the line and off it.
fn spans(curves: &[Curve]) -> ((f64, f64), (f64, f64)) {
    let none = (f64::INFINITY, f64::NEG_INFINITY);
    let widen = |(low, high): (f64, f64), value: f64| (low.min(value), high.max(value));
    curves.iter().fold((none, none), |(along, off), curve| {
        let (from_m, to_m) = (curve.from_m, curve.to_m);
        (widen(widen(along, from_m), to_m), widen(widen(off, curve.off_m(from_m)), curve.off_m(to_m)))
    })
}
