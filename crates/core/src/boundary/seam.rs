//! Seams: edges that two parts of one zone share, walked in opposite directions, are inside the zone and no boundary.
//!
//! RFC 7946 section 3.1.9 asks writers to cut polygons at the 180° meridian, which makes such seams; a slit that joins
//! a hole to its outer ring in one ring makes another kind.

use std::collections::HashMap;

use super::EdgeModel;
use super::ring::{CleanRing, Edge, point_key};
use crate::{Latitude, Longitude, Position};

type EdgeKey = ((u64, u64), (u64, u64));

/// Puts vertices on edges along the 180° meridian wherever any other edge there has one, so that seams cut by
/// different vertices match edge by edge.
pub(super) fn split_at_180(rings: &mut [CleanRing]) {
    let mut latitudes: Vec<f64> = rings
        .iter()
        .flat_map(|ring| &ring.edges)
        .filter(|edge| runs_along_180(edge))
        .flat_map(|edge| [edge.from.latitude().degrees(), edge.to.latitude().degrees()])
        .collect();
    latitudes.sort_by(f64::total_cmp);
    latitudes.dedup();
    if latitudes.len() < 3 {
        return;
    }
    for ring in rings {
        let mut at = 0;
        while at < ring.edges.len() {
            let edge = ring.edges[at];
            if runs_along_180(&edge)
                && let Some(lat_deg) = first_between(&edge, &latitudes)
            {
                ring.split(at, Position::new(Latitude::computed(lat_deg), Longitude::wrapping(180.0)));
            }
            at += 1;
        }
    }
}

fn runs_along_180(edge: &Edge) -> bool {
    let on = |position: Position| position.longitude().degrees().abs() >= 180.0;
    on(edge.from) && on(edge.to) && !matches!(edge.model, EdgeModel::Arc(_))
}

/// The listed latitude strictly between the edge's ends that lies nearest its start.
fn first_between(edge: &Edge, latitudes: &[f64]) -> Option<f64> {
    let (from, to) = (edge.from.latitude().degrees(), edge.to.latitude().degrees());
    let between = latitudes.iter().copied().filter(|lat| (lat - from) * (lat - to) < 0.0);
    between.min_by(|a, b| (a - from).abs().total_cmp(&(b - from).abs()))
}

/// Numbers of the edges that are walked both ways; `reversed` tells which rings are walked against their order.
pub(super) fn seams(rings: &[CleanRing], reversed: &[bool]) -> Vec<bool> {
    let mut waiting: HashMap<EdgeKey, Vec<usize>> = HashMap::new();
    let edges: Vec<(EdgeKey, Edge)> = rings
        .iter()
        .zip(reversed)
        .flat_map(|(ring, reversed)| {
            ring.edges.iter().map(move |edge| {
                let (from, to) = (point_key(edge.from), point_key(edge.to));
                (if *reversed { (to, from) } else { (from, to) }, *edge)
            })
        })
        .collect();
    let mut is_seam = vec![false; edges.len()];
    for (number, ((from, to), edge)) in edges.iter().enumerate() {
        let partners = waiting.entry((*to, *from)).or_default();
        let partner = partners.iter().position(|other| same_curve(edge, &edges[*other].1));
        if let Some(found) = partner {
            let other = partners.swap_remove(found);
            is_seam[other] = true;
            is_seam[number] = true;
        } else {
            waiting.entry((*from, *to)).or_default().push(number);
        }
    }
    is_seam
}

/// Whether two edges between the same points run along the same curve; along the 180° meridian all straight ones do.
fn same_curve(a: &Edge, b: &Edge) -> bool {
    if runs_along_180(a) && runs_along_180(b) {
        return true;
    }
    match (a.model, b.model) {
        (EdgeModel::Arc(one), EdgeModel::Arc(other)) => {
            one.centre == other.centre && one.radius == other.radius
        }
        (one, other) => one == other,
    }
}
