//! All rings under one reading of the edges whose course is not stated.

use std::collections::HashSet;

use super::build::{EdgeName, LEAST_AREA_M2};
use super::checked::{Given, wrong_side};
use super::edge::EdgeReading;
use super::faults::{Faults, pinch};
use super::lines::{GivenRings, Inexact, Lines, ranges};
use super::near::{Chains, Found, Pair, pairs};
use super::noding::{Noded, next_in_rings, node};
use super::outline::{Outline, RingRole, outline};
use super::piece::Piece;
use super::ring::{CleanRing, CutRing, MOST_PIECES, TOO_LONG};
use super::{BoundaryFault, InvalidBoundary};

/// Area of the Earth in square metres (WGS 84; NGA.STND.0036 v1.0.0, table 3.2, to five digits).
const EARTH_M2: f64 = 5.1007e14;
/// A ring that encloses more than this share of the Earth is refused: which of its sides is the smaller hangs on details.
const LARGEST_SHARE: f64 = 0.4;

/// Everything built under one reading of the unstated edges.
pub(super) struct UnderReading {
    pub(super) lines: Lines,
    pub(super) edges: Vec<EdgeName>,
    pub(super) perimeter_m: f64,
}

/// Rings cut into pieces, as far as possible with the zone on their left.
struct Turned {
    cut: Vec<Vec<Piece>>,
    edges: Vec<EdgeName>,
    /// The first edge of each ring.
    first_edges: Vec<u32>,
    is_reversed: Vec<bool>,
    /// The first ring that encloses nothing, or too much.
    no_area: Option<(usize, BoundaryFault)>,
    /// Pieces of edges that miss their printed circle, with what they miss by.
    inexact: Vec<(Piece, f64)>,
    perimeter_m: f64,
}

impl UnderReading {
    pub(super) fn new(
        rings: &[CleanRing],
        reading: EdgeReading,
        faults: Faults<'_>,
    ) -> Result<Self, InvalidBoundary> {
        let mut turned = Turned::new(rings, reading, faults)?;
        let pieces: Vec<Piece> = turned.cut.iter().flatten().copied().collect();
        let found = turned.meetings(&pieces, faults)?;
        let is_hole: Vec<bool> = faults.names.iter().map(|name| name.is_hole()).collect();
        if found.is_empty() && rings.len() < 2 {
            turned.check_areas(faults)?;
            return turned.unchanged(pieces, &is_hole);
        }
        let noded = node(&turned.cut, &found)
            .map_err(|near| turned.edges[nearest_edge(&pieces, near)].unsettled(near))?;
        let roles = roles(faults, &found, &turned, &pieces);
        let made = outline(&noded, &roles)
            .map_err(|why| faults.no_outline(why, (rings, &turned.edges), (&found, &pieces)))?;
        turned.check_areas(faults)?;
        turned.check_pinches(rings, (&noded, &made), faults)?;
        if found.is_empty() && made.kept.iter().all(|kept| *kept) {
            return turned.unchanged(pieces, &is_hole);
        }
        let lines = Lines::of_outline(&made.ways);
        let ranges = ranges(&turned.cut);
        let given = GivenRings::new((turned.cut.drain(..).flatten().collect(), &ranges), &is_hole);
        let dropped = noded.runs.iter().zip(&made.kept).filter(|(_, kept)| !**kept);
        let dropped: Vec<Piece> = dropped.map(|(run, _)| run.piece).collect();
        turned.checked(lines, Some(Given { rings: &given, dropped: &dropped }))
    }
}

fn nearest_edge(pieces: &[Piece], near: crate::geodesic::Vector) -> usize {
    let away_m = |piece: &Piece| piece.foot(near).chord_m;
    let nearest = pieces.iter().min_by(|a, b| away_m(a).total_cmp(&away_m(b)));
    nearest.map_or(0, |piece| piece.edge as usize)
}

fn roles(faults: Faults<'_>, found: &[Pair], turned: &Turned, pieces: &[Piece]) -> Vec<RingRole> {
    let mut roles: Vec<RingRole> = faults
        .names
        .iter()
        .map(|name| RingRole {
            part: name.part,
            is_hole: name.is_hole(),
            meets: false,
            doubtful: name.is_hole(),
        })
        .collect();
    for pair in found {
        let rings = pair.pieces.map(|piece| turned.ring_of_edge(pieces[piece as usize].edge));
        for ring in rings {
            roles[ring].meets = true;
            roles[ring].doubtful |= roles[rings[0]].part == roles[rings[1]].part;
        }
    }
    let doubtful: HashSet<usize> = roles.iter().filter(|role| role.doubtful).map(|role| role.part).collect();
    for role in &mut roles {
        role.doubtful = doubtful.contains(&role.part);
    }
    roles
}

impl Turned {
    fn new(rings: &[CleanRing], reading: EdgeReading, faults: Faults<'_>) -> Result<Self, InvalidBoundary> {
        let mut turned = Self {
            cut: Vec::with_capacity(rings.len()),
            edges: Vec::new(),
            first_edges: Vec::new(),
            is_reversed: Vec::new(),
            no_area: None,
            inexact: Vec::new(),
            perimeter_m: 0.0,
        };
        let mut pieces = 0;
        for (number, (name, ring)) in faults.names.iter().zip(rings).enumerate() {
            let first = u32::try_from(turned.edges.len()).unwrap_or(u32::MAX);
            let mut cut = ring.pieces(reading, first).map_err(|fault| name.fault(fault))?;
            turned.first_edges.push(first);
            turned.edges.extend(ring.edges.iter().zip(&cut.closure_errors_m).map(
                |(edge, closure_error_m)| EdgeName {
                    part: name.part,
                    ring: name.ring,
                    vertex: edge.vertex,
                    closure_error_m: *closure_error_m,
                },
            ));
            pieces += cut.pieces.len();
            if pieces > MOST_PIECES {
                return Err(name.fault((None, TOO_LONG)));
            }
            let (turns_left, fault) = turn(&cut);
            if let Some(fault) = fault {
                turned.no_area.get_or_insert((number, fault));
            }
            let is_reversed = turns_left == name.is_hole();
            if is_reversed {
                cut.reverse();
            }
            turned.inexact.extend(cut.inexact(first));
            turned.perimeter_m += cut.perimeter_m();
            turned.is_reversed.push(is_reversed);
            turned.cut.push(cut.pieces);
        }
        Ok(turned)
    }

    /// The rings as they are for an outline; these are their pieces.
    fn unchanged(self, pieces: Vec<Piece>, is_hole: &[bool]) -> Result<UnderReading, InvalidBoundary> {
        let lines = Lines::of_rings(GivenRings::new((pieces, &ranges(&self.cut)), is_hole), &self.cut);
        self.checked(lines, None)
    }

    fn checked(self, lines: Lines, given: Option<Given<'_>>) -> Result<UnderReading, InvalidBoundary> {
        match wrong_side(&lines, given) {
            Some((edge, near)) => Err(self.edges[edge as usize].unsettled(near)),
            None => Ok(UnderReading {
                lines: lines.with(Inexact::new(self.inexact)),
                edges: self.edges,
                perimeter_m: self.perimeter_m,
            }),
        }
    }

    fn ring_of_edge(&self, edge: u32) -> usize {
        self.first_edges.partition_point(|first| *first <= edge) - 1
    }

    /// Everything that meets; refused if edges of one part cross.
    fn meetings(&self, pieces: &[Piece], faults: Faults<'_>) -> Result<Vec<Pair>, InvalidBoundary> {
        let next = next_in_rings((0..).zip(&self.cut).flat_map(|(ring, cut)| cut.iter().map(move |_| ring)));
        let part = |piece: usize| self.edges[pieces[piece].edge as usize].part;
        let may_not_cross = |a: usize, b: usize| part(a) == part(b);
        let Found { pairs, gave_up } = pairs(Chains { pieces, next: &next }, may_not_cross);
        let edges = |pair: &Pair| {
            let [a, b] = pair.pieces.map(|piece| pieces[piece as usize].edge);
            (a.min(b), a.max(b))
        };
        let forbidden = |pair: &&Pair| {
            let [a, b] = pair.pieces;
            pair.meeting.crosses && may_not_cross(a as usize, b as usize)
        };
        if let Some(pair) = pairs.iter().filter(forbidden).min_by_key(|pair| edges(pair)) {
            return Err(faults.crossing(&self.edges, pair, pieces));
        }
        if gave_up {
            let place = pairs.first().map_or(0, |pair| pair.pieces[0] as usize);
            let piece = &pieces[place];
            return Err(self.edges[piece.edge as usize].unsettled(piece.start));
        }
        Ok(pairs)
    }

    fn check_areas(&self, faults: Faults<'_>) -> Result<(), InvalidBoundary> {
        match &self.no_area {
            Some((ring, fault)) => Err(faults.names[*ring].fault((None, fault.clone()))),
            None => Ok(()),
        }
    }

    /// Refuses rings that pass one of their own vertices twice with the outline leaving it both times.
    fn check_pinches(
        &self,
        rings: &[CleanRing],
        (noded, made): (&Noded, &Outline),
        faults: Faults<'_>,
    ) -> Result<(), InvalidBoundary> {
        // whether the run of an edge that lies at the vertex the edge leaves, as given, is left, and ways part there
        let mut leaves = vec![false; self.edges.len()];
        let mut seen = vec![false; self.edges.len()];
        let parts_at = made.nodes_of_several_ways(noded);
        for (run, left) in noded.runs.iter().zip(&made.left_of_ring) {
            let edge = run.piece.edge as usize;
            let is_reversed = self.is_reversed[run.ring as usize];
            if !seen[edge] || is_reversed {
                leaves[edge] = *left && parts_at.contains(&(run.ring, run.nodes[usize::from(is_reversed)]));
            }
            seen[edge] = true;
        }
        for (ring, (name, first)) in rings.iter().zip(faults.names.iter().zip(&self.first_edges)) {
            if let Some(fault) = pinch(ring, *first, |edge| leaves[edge as usize]) {
                return Err(name.fault(fault));
            }
        }
        Ok(())
    }
}

/// Whether the smaller side of a ring lies on its left, and what is wrong with its size.
fn turn(ring: &CutRing) -> (bool, Option<BoundaryFault>) {
    let Some(area_m2) = ring.signed_area_m2() else { return (true, Some(BoundaryFault::NoArea)) };
    let size_m2 = area_m2.abs();
    let fault = if size_m2 < LEAST_AREA_M2 {
        Some(BoundaryFault::TooSmall { area_m2: size_m2 })
    } else {
        (size_m2 > LARGEST_SHARE * EARTH_M2).then_some(BoundaryFault::NearHalfEarth)
    };
    (area_m2 > 0.0, fault)
}
