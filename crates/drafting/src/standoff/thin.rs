//! Fewer points, none of them farther from the distance wanted than allowed.

use geo::{LineString, SimplifyIdx};
use takeline::{GeodesicSegment, Position};

use super::level::Level;
use super::plane::Plane;

/// The span in which the distances of a line have to stay, beyond its level, in metres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Span {
    pub(super) least_m: f64,
    pub(super) most_m: f64,
}

/// Leaves out points of a line, its ends kept, while what is between the others stays in the span; `by_m` is what the plane may take
/// off first.
pub(super) fn thinned(level: &Level<'_>, line: &[Position], by_m: f64, span: Span) -> Vec<Position> {
    let Some(plane) = Plane::about(line.iter()) else { return line.to_vec() };
    let drawn: LineString = line.iter().map(|position| plane.drawn(*position)).collect();
    let mut kept: Vec<usize> = Vec::new();
    let first = drawn.simplify_idx(by_m);
    for pair in first.windows(2) {
        keep(level, line, (pair[0], pair[1]), span, &mut kept);
    }
    kept.extend(first.last());
    kept.into_iter().filter_map(|at| line.get(at).copied()).collect()
}

/// Keeps the first of two points, and as many between as it takes.
fn keep(level: &Level<'_>, line: &[Position], (from, to): (usize, usize), span: Span, kept: &mut Vec<usize>) {
    let is_within = |beyond_m: f64| (span.least_m..=span.most_m).contains(&beyond_m);
    if to - from < 2 || level.along(&GeodesicSegment::between(line[from], line[to])).all(is_within) {
        kept.push(from);
        return;
    }
    let middle = usize::midpoint(from, to);
    keep(level, line, (from, middle), span, kept);
    keep(level, line, (middle, to), span, kept);
}
