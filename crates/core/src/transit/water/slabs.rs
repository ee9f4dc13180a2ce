//! The working area cut into slabs square to the line, so thin that in each of them the same curves lie side by side in
//! the same order; between two neighbours of them all water is of one kind.
//!
//! Nothing is sampled or searched: a curve that begins, ends or crosses another one makes a cut, so no narrow zone is
//! passed over, and what is left to integrate is smooth.

use super::curves::{Bounds, Curve, OnPlane, Plane};
use crate::Boundary;
use crate::transit::Look;

/// The area is cut into so many slabs at least, for drawing and because circles bend.
const EVEN_SLABS: u32 = 192;
/// Curves that change places by less than this, in metres, are taken as keeping their order.
const ORDER_TOLERANCE_M: f64 = 1e-5;
/// Slabs are not cut thinner than this, in metres, to part curves that cross in them.
const THINNEST_CUT_M: f64 = 1e-4;
/// Slabs thinner than this, in metres, are left out.
const NO_SLAB_M: f64 = 1e-7;
/// Water narrower than this, in metres, is not looked at.
const NARROWEST_M: f64 = 1e-3;

/// A part of the area between two distances along the line.
#[derive(Debug)]
pub(super) struct Slab {
    pub(super) from_m: f64,
    pub(super) to_m: f64,
    /// Places of its curves in [`Plane::curves`], from left to right.
    order: Vec<usize>,
}

/// Water of one kind, between two curves of one slab.
#[derive(Debug, Clone, Copy)]
pub(super) struct Patch {
    /// The curve on its left.
    pub(super) left: Curve,
    /// The curve on its right.
    pub(super) right: Curve,
    pub(super) in_zone: bool,
    pub(super) look: Look,
}

impl Patch {
    /// Where it begins and ends at some distance along the line, in metres off it.
    pub(super) fn ends_m(&self, along_m: f64) -> (f64, f64) {
        (self.left.off_m(along_m), self.right.off_m(along_m))
    }
}

impl Slab {
    fn middle_m(&self) -> f64 {
        f64::midpoint(self.from_m, self.to_m)
    }
}

/// Cuts the area.
pub(super) fn slabs(plane: &Plane<'_>) -> Vec<Slab> {
    let cuts_m = cuts(plane);
    let mut waiting: Vec<usize> = (0..plane.curves.len()).collect();
    waiting.sort_by(|a, b| plane.curves[*b].from_m.total_cmp(&plane.curves[*a].from_m));
    let mut there: Vec<usize> = Vec::new();
    let mut slabs = Vec::new();
    for ends in cuts_m.windows(2) {
        let (from_m, to_m) = (ends[0], ends[1]);
        while waiting.last().is_some_and(|next| plane.curves[*next].from_m <= from_m) {
            there.extend(waiting.pop());
        }
        there.retain(|at| plane.curves[*at].to_m >= to_m);
        if to_m - from_m > NO_SLAB_M {
            part(plane, &there, (from_m, to_m), &mut slabs);
        }
    }
    slabs
}

/// Distances along the line at which curves begin and end, and even steps between.
fn cuts(plane: &Plane<'_>) -> Vec<f64> {
    let (first_m, last_m) = plane.along_m;
    let step_m = (last_m - first_m) / f64::from(EVEN_SLABS);
    let mut cuts_m: Vec<f64> =
        (0..=EVEN_SLABS).map(|step| (first_m + step_m * f64::from(step)).min(last_m)).collect();
    cuts_m.extend(&plane.cuts_m);
    cuts_m.extend(plane.curves.iter().flat_map(|curve| [curve.from_m, curve.to_m]));
    // the last even step may fall short of the end by a rounding
    cuts_m.push(last_m);
    cuts_m.retain(|cut_m| (first_m..=last_m).contains(cut_m));
    cuts_m.sort_by(f64::total_cmp);
    cuts_m.dedup();
    cuts_m
}

/// Cuts a slab where two of its curves cross, until none do.
fn part(plane: &Plane<'_>, there: &[usize], ends_m: (f64, f64), slabs: &mut Vec<Slab>) {
    let mut waiting = vec![ends_m];
    while let Some((from_m, to_m)) = waiting.pop() {
        let middle_m = f64::midpoint(from_m, to_m);
        let mut order = there.to_vec();
        let off_m = |at: usize| plane.curves[at].off_m(middle_m);
        order.sort_by(|a, b| off_m(*a).total_cmp(&off_m(*b)));
        if let Some(cut_m) = first_crossing(plane, &order, (from_m, to_m)) {
            waiting.push((cut_m, to_m));
            waiting.push((from_m, cut_m));
        } else {
            slabs.push(Slab { from_m, to_m, order });
        }
    }
}

/// Where two neighbours of the order at the middle cross, seen by their order at an end.
fn first_crossing(plane: &Plane<'_>, order: &[usize], (from_m, to_m): (f64, f64)) -> Option<f64> {
    let middle_m = f64::midpoint(from_m, to_m);
    let crossings = [from_m, to_m].into_iter().flat_map(|end_m| {
        order.windows(2).filter_map(move |pair| {
            let between_m =
                |along_m| plane.curves[pair[1]].off_m(along_m) - plane.curves[pair[0]].off_m(along_m);
            (between_m(end_m) < -ORDER_TOLERANCE_M).then(|| bisected(between_m, middle_m, end_m))
        })
    });
    let mut worth_it =
        crossings.filter(|cut_m| cut_m - from_m > THINNEST_CUT_M && to_m - cut_m > THINNEST_CUT_M);
    worth_it.next()
}

/// The zero between a place where the value is not negative and one where it is.
fn bisected(value: impl Fn(f64) -> f64, mut not_negative: f64, mut negative: f64) -> f64 {
    for _ in 0..50 {
        let middle = f64::midpoint(not_negative, negative);
        if value(middle) < 0.0 {
            negative = middle;
        } else {
            not_negative = middle;
        }
    }
    f64::midpoint(not_negative, negative)
}

/// A span between two neighbours in a slab that lies in the working area.
#[derive(Debug, Clone, Copy)]
struct Span {
    /// Place of its left curve in the slab's order.
    after: usize,
    /// How many curves on its left bound a look.
    looks_passed: usize,
    middle_m: f64,
    width_m: f64,
}

/// The water of a slab, from left to right.
pub(super) fn patches(plane: &Plane<'_>, slab: &Slab) -> Vec<Patch> {
    let spans = in_area(plane, slab);
    let Some(anywhere) = widest(&spans) else { return Vec::new() };
    let along_m = slab.middle_m();
    let zones = ZonesAlong::of(plane, slab, OnPlane { along_m, off_m: anywhere.middle_m });
    let mut patches = Vec::with_capacity(spans.len());
    for alike in spans.chunk_by(|one, other| one.looks_passed == other.looks_passed) {
        let Some(best) = widest(alike) else { continue };
        let position = plane.position(OnPlane { along_m, off_m: best.middle_m });
        // the marks are looked at from the place itself: which look a curve begins or ends is not relied on
        let look = plane.line.seen_from(position).look(plane.eye.threshold());
        patches.extend(alike.iter().map(|span| Patch {
            left: plane.curves[slab.order[span.after]],
            right: plane.curves[slab.order[span.after + 1]],
            in_zone: zones.hold(span.middle_m),
            look,
        }));
    }
    patches
}

fn widest(spans: &[Span]) -> Option<&Span> {
    spans.iter().max_by(|one, other| one.width_m.total_cmp(&other.width_m))
}

fn in_area(plane: &Plane<'_>, slab: &Slab) -> Vec<Span> {
    let along_m = slab.middle_m();
    let (mut depth, mut looks_passed) = (0, 0);
    let mut spans = Vec::new();
    for (after, pair) in slab.order.windows(2).enumerate() {
        let (left, right) = (&plane.curves[pair[0]], &plane.curves[pair[1]]);
        match left.bounds {
            Bounds::Area => depth += if left.enters { 1 } else { -1 },
            Bounds::Look => looks_passed += 1,
            Bounds::Zone(_) => {}
        }
        let (left_m, right_m) = (left.off_m(along_m), right.off_m(along_m));
        let width_m = right_m - left_m;
        if depth > 0 && width_m > NARROWEST_M {
            spans.push(Span { after, looks_passed, middle_m: f64::midpoint(left_m, right_m), width_m });
        }
    }
    spans
}

/// Where each zone begins and ends across the middle of a slab.
#[derive(Debug)]
struct ZonesAlong {
    /// For each zone whether it holds what is left of its first edge, and its edges from left to right: distance off the
    /// line, and what it adds to the number of times that the water is inside.
    zones: Vec<(bool, Vec<(f64, i32)>)>,
}

impl ZonesAlong {
    /// `anywhere` is some place of the area in the middle of the slab.
    fn of(plane: &Plane<'_>, slab: &Slab, anywhere: OnPlane) -> Self {
        let along_m = slab.middle_m();
        let mut edges: Vec<Vec<(f64, i32)>> = vec![Vec::new(); plane.zones.len()];
        for curve in slab.order.iter().map(|at| &plane.curves[*at]) {
            let off_m = curve.off_m(along_m);
            // edges beyond the area may have neighbours that were left out as too far to matter
            let in_reach = (plane.off_m.0..=plane.off_m.1).contains(&off_m);
            if let (Bounds::Zone(number), true) = (curve.bounds, in_reach) {
                edges[number].push((off_m, if curve.enters { 1 } else { -1 }));
            }
        }
        let starts_inside = |number: usize, edges: &[(f64, i32)]| match edges.first() {
            Some((_, adds)) => *adds < 0,
            None => holds(plane.zones[number], plane, anywhere),
        };
        let zones =
            edges.into_iter().enumerate().map(|(number, edges)| (starts_inside(number, &edges), edges));
        Self { zones: zones.collect() }
    }

    fn hold(&self, off_m: f64) -> bool {
        self.zones.iter().any(|(starts_inside, edges)| {
            let passed = edges.iter().take_while(|(edge_m, _)| *edge_m < off_m);
            i32::from(*starts_inside) + passed.map(|(_, adds)| adds).sum::<i32>() > 0
        })
    }
}

/// Whether a zone of which no edge is in reach holds a place.
fn holds(boundary: &Boundary, plane: &Plane<'_>, place: OnPlane) -> bool {
    let position = plane.position(place);
    let located = boundary.locate(position);
    let (least_m, greatest_m) = (located.least.metres(), located.greatest.metres());
    if (least_m < 0.0) == (greatest_m < 0.0) {
        return least_m < 0.0;
    }
    // between two readings of unstated edges: the geodesic one counts
    boundary.contains_by_crossings(position)
}
