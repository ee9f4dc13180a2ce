//! From parts as given to indexed lines: clean, cut, turn, take what is walked both ways out, check.

use super::circle::{Circle, alone};
use super::edge::EdgeReading;
use super::faults::{Faults, RingName};
use super::lines::Lines;
use super::meeting::TOGETHER_M;
use super::ring::CleanRing;
use super::under_reading::UnderReading;
use super::{BoundaryFault, EdgeModel, InvalidBoundary, PartSpec};

/// Readings of unstated edges that differ by less than this are not told apart; the gap counts as doubt whole.
const SMALL_GAP_M: f64 = 0.05;

/// A ring or circle that encloses less is no zone, in square metres.
pub(super) const LEAST_AREA_M2: f64 = 1.0;

/// Which edge a piece belongs to, in the terms of what was given.
#[derive(Debug, Clone, Copy)]
pub(super) struct EdgeName {
    pub(super) part: usize,
    pub(super) ring: usize,
    pub(super) vertex: usize,
    pub(super) closure_error_m: f64,
}

#[derive(Debug)]
pub(super) struct Built {
    pub(super) readings: Vec<(EdgeReading, Lines)>,
    pub(super) circles: Vec<Circle>,
    pub(super) edges: Vec<EdgeName>,
    pub(super) small_gap_m: f64,
    pub(super) perimeter_m: f64,
}

pub(super) fn build(parts: &[PartSpec]) -> Result<Built, InvalidBoundary> {
    // beside an edge whose course is stated the readings differ in whether the two run together
    let small_gap_m = if parts.len() > 1 && is_mixed(parts) { TOGETHER_M } else { SMALL_GAP_M };
    build_to(small_gap_m, parts)
}

/// As [`build`], with every reading told apart that differs by more than lines may that count as one.
pub(super) fn build_exact(parts: &[PartSpec]) -> Result<Built, InvalidBoundary> {
    build_to(TOGETHER_M, parts)
}

/// Whether some edges are stated and others are not.
fn is_mixed(parts: &[PartSpec]) -> bool {
    let rings = parts.iter().flat_map(|part| match part {
        PartSpec::Polygon { exterior, holes } => std::iter::once(exterior).chain(holes).collect(),
        PartSpec::Circle { .. } => Vec::new(),
    });
    let is_unstated = |edge: &EdgeModel| *edge == EdgeModel::Unstated;
    let (unstated, stated): (Vec<&EdgeModel>, Vec<&EdgeModel>) =
        rings.flat_map(|ring| &ring.edges).partition(|edge| is_unstated(edge));
    !unstated.is_empty()
        && (!stated.is_empty() || parts.iter().any(|part| matches!(part, PartSpec::Circle { .. })))
}

fn build_to(small_gap_m: f64, parts: &[PartSpec]) -> Result<Built, InvalidBoundary> {
    if parts.is_empty() {
        return Err(RingName { part: 0, ring: 0 }.fault((None, BoundaryFault::Empty)));
    }
    let Clean { names, rings, circles } = clean(parts)?;
    let mut gap_m: f64 = 0.0;
    for (name, ring) in names.iter().zip(&rings) {
        gap_m = gap_m.max(ring.reading_gap_m(small_gap_m).map_err(|fault| name.fault(fault))?);
    }
    let wanted = if gap_m > small_gap_m { &EdgeReading::ALL[..] } else { &EdgeReading::ALL[..1] };
    let mut built = Built {
        readings: Vec::with_capacity(wanted.len()),
        edges: Vec::new(),
        small_gap_m: if gap_m > small_gap_m { 0.0 } else { gap_m },
        perimeter_m: circles.iter().map(Circle::perimeter_m).sum(),
        circles,
    };
    for reading in wanted {
        let under = UnderReading::new(&rings, *reading, Faults { names: &names, parts })?;
        if built.readings.is_empty() {
            built.perimeter_m += under.perimeter_m;
            built.edges = under.edges;
        }
        built.readings.push((*reading, under.lines));
    }
    Ok(built)
}

struct Clean {
    names: Vec<RingName>,
    rings: Vec<CleanRing>,
    /// Circles that lie clear of all other parts; the others are among the rings.
    circles: Vec<Circle>,
}

fn clean(parts: &[PartSpec]) -> Result<Clean, InvalidBoundary> {
    let mut clean = Clean { names: Vec::new(), rings: Vec::new(), circles: Vec::new() };
    let alone = alone(parts);
    for (part, spec) in parts.iter().enumerate() {
        match spec {
            PartSpec::Polygon { exterior, holes } => {
                for (ring, spec) in std::iter::once(exterior).chain(holes).enumerate() {
                    let name = RingName { part, ring };
                    clean.rings.push(CleanRing::new(spec).map_err(|fault| name.fault(fault))?);
                    clean.names.push(name);
                }
            }
            PartSpec::Circle { centre, radius } => {
                let name = RingName { part, ring: 0 };
                let circle = Circle::new(*centre, *radius).map_err(|fault| name.fault((None, fault)))?;
                let area_m2 = std::f64::consts::PI * circle.radius_m * circle.radius_m;
                if area_m2 < LEAST_AREA_M2 {
                    return Err(name.fault((None, BoundaryFault::TooSmall { area_m2 })));
                }
                if alone[part] {
                    clean.circles.push(circle);
                } else {
                    clean.rings.push(circle.ring());
                    clean.names.push(name);
                }
            }
        }
    }
    Ok(clean)
}
