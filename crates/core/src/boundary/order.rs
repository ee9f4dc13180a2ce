//! An order of a ring's vertices in which it does not cross itself, to be offered, never applied.

use super::{EdgeModel, RingSpec, UncrossedOrder};
use crate::geodesic::{Vector, area_of, surface};
use crate::{NauticalMiles, Position};

/// Above this many vertices no order is searched for.
const MOST_VERTICES: usize = 40;

/// Offers an order that does not cross, found by turning round the stretch between two crossing
/// edges until none cross; none if that does not end or the ring has arcs.
pub(super) fn uncrossed_order(ring: &RingSpec) -> Option<UncrossedOrder> {
    let mut order: Vec<usize> = (0..ring.vertices.len()).collect();
    if super::ring::same_point(*ring.vertices.first()?, *ring.vertices.last()?) {
        order.pop();
    }
    if order.len() > MOST_VERTICES || ring.edges.iter().any(|edge| matches!(edge, EdgeModel::Arc(_))) {
        return None;
    }
    let points: Vec<Vector> = ring.vertices.iter().map(|vertex| surface(*vertex).point).collect();
    for _ in 0..200 {
        let Some((first, second)) = crossing_pair(&order, &points) else {
            return Some(offer(ring, order));
        };
        order[first + 1..=second].reverse();
    }
    None
}

fn crossing_pair(order: &[usize], points: &[Vector]) -> Option<(usize, usize)> {
    let count = order.len();
    let at = |place: usize| points[order[place % count]];
    for first in 0..count {
        for second in first + 2..count {
            if (first, second) != (0, count - 1)
                && cross([at(first), at(first + 1)], [at(second), at(second + 1)])
            {
                return Some((first, second));
            }
        }
    }
    None
}

/// Whether two edges, read as plane sections through the Earth's centre, cross.
fn cross(a: [Vector; 2], b: [Vector; 2]) -> bool {
    let (plane_a, plane_b) = (a[0].cross(a[1]), b[0].cross(b[1]));
    plane_a.dot(b[0]) * plane_a.dot(b[1]) < 0.0 && plane_b.dot(a[0]) * plane_b.dot(a[1]) < 0.0
}

fn offer(ring: &RingSpec, vertices: Vec<usize>) -> UncrossedOrder {
    let positions: Vec<Position> = vertices.iter().map(|at| ring.vertices[*at]).collect();
    let area_nm2 = area_of(positions).abs() / (NauticalMiles::METRES * NauticalMiles::METRES);
    UncrossedOrder { vertices, area_nm2 }
}
