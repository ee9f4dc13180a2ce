//! From parts as given to indexed lines: clean, cut, turn, take what is walked both ways out, check.

use std::cell::OnceCell;
use std::collections::HashSet;

use super::circle::{Circle, alone};
use super::invalid::{Faults, RingName, pinch};
use super::lines::{GivenRings, Inexact, Lines, ranges};
use super::near::{Chains, Found, Pair, Tree, pairs};
use super::noding::{Noded, TOGETHER_M, next_in_rings, node};
use super::outline::{Outline, RingRole, outline};
use super::piece::Piece;
use super::ring::{CleanRing, CutRing, EdgeReading, MOST_PIECES, TOO_LONG};
use super::side::SideTable;
use super::{BoundaryFault, EdgeModel, InvalidBoundary, PartSpec};
use crate::geodesic::Vector;

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
    side: u32,
    side_miss_m: f64,
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
    let Clean { names, rings, circles, sides } = clean(parts)?;
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
        let under = UnderReading::new((&rings, &sides), *reading, Faults { names: &names, parts })?;
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
    sides: SideTable,
}

fn clean(parts: &[PartSpec]) -> Result<Clean, InvalidBoundary> {
    let mut clean =
        Clean { names: Vec::new(), rings: Vec::new(), circles: Vec::new(), sides: SideTable::default() };
    let alone = alone(parts);
    for (part, spec) in parts.iter().enumerate() {
        match spec {
            PartSpec::Polygon { exterior, holes } => {
                for (ring, spec) in std::iter::once(exterior).chain(holes).enumerate() {
                    let name = RingName { part, ring };
                    let ring = CleanRing::new(spec, &mut clean.sides).map_err(|fault| name.fault(fault))?;
                    clean.rings.push(ring);
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

/// How far beside a piece it is tried, in metres: less where another line is nearer.
const TRIED_AT_M: [f64; 4] = [1.0, 0.1, 0.01, 0.003];
/// Of more pieces than this only some are tried, spread evenly.
const MOST_TRIED: usize = 20_000;

/// What an outline was made from.
#[derive(Debug, Clone, Copy)]
pub(super) struct Given<'a> {
    /// The rings.
    pub(super) rings: &'a GivenRings,
    /// What they run along that is no outline.
    pub(super) dropped: &'a [Piece],
}

/// Where the side of the nearest line is not the side that the outline and the given rings run round, and the edge there;
/// none if it always is. No given rings if the outline has them as they are.
pub(super) fn wrong_side(lines: &Lines, given: Option<Given<'_>>) -> Option<(u32, Vector)> {
    let trial = Trial { lines, given: given.map(|given| given.rings), tree: OnceCell::new() };
    let stride = |count: usize| count.div_ceil(MOST_TRIED).max(1);
    // lines that nothing else meets are tried in the middle, others near their ends as well, where they were put together
    let shares = if given.is_some() { &[0.5, 0.01, 0.99][..] } else { &[0.5] };
    let pieces = (0..lines.pieces.len()).step_by(stride(lines.pieces.len()));
    let tries = pieces.filter(|at| !trial.is_plainly_right(*at)).flat_map(|at| {
        shares.iter().flat_map(move |share| [true, false].map(|is_left| (at, *share, is_left)))
    });
    let mut tries = tries;
    let wrong = tries.find(|(at, share, is_left)| trial.is_wrong((*at, *share), *is_left));
    if let Some((at, share, _)) = wrong {
        let piece = lines.pieces.get(at);
        return Some((piece.edge, piece.at(share)));
    }
    let dropped = given.map_or(&[][..], |given| given.dropped);
    let mut tried = dropped.iter().step_by(stride(dropped.len()));
    let wrong =
        tried.find(|piece| trial.is_dropped_wrongly(piece, true) || trial.is_dropped_wrongly(piece, false));
    wrong.map(|piece| (piece.edge, piece.at(0.5)))
}

struct Trial<'a> {
    lines: &'a Lines,
    given: Option<&'a GivenRings>,
    /// Made when it is first asked for.
    tree: OnceCell<Tree>,
}

impl Trial<'_> {
    fn tree(&self) -> &Tree {
        self.tree.get_or_init(|| {
            let pieces = self.lines.pieces.whole();
            let next: Vec<u32> = (0..pieces.len()).map(|at| self.lines.next(at)).map(number).collect();
            Tree::new(Chains { pieces, next: &next })
        })
    }

    /// Whether both sides of a piece are right in the middle of an outline that is the rings as they were given, and no
    /// other line is near enough to make it a question which line is the nearest.
    ///
    /// Places 1 m to either side are then nearest to the piece itself, and nothing but the piece lies between them and its
    /// middle: the outline runs round them as often as round places a hair beside it.
    fn is_plainly_right(&self, at: usize) -> bool {
        if self.given.is_some() || !self.lines.is_alone(at, 2.1 * TRIED_AT_M[0]) {
            return false;
        }
        let (left, right) = self.lines.sides_of(at);
        left > 0 && right <= 0
    }

    /// Whether one side of a piece is wrong.
    ///
    /// The outline's own winding has to agree wherever another line is not too near. Of the given rings it is enough
    /// that they agree in one place: in another they may run both ways within 1 mm, and leave a gap between.
    fn is_wrong(&self, (at, share): (usize, f64), is_left: bool) -> bool {
        let piece = self.lines.pieces.get(at);
        let (foot, left) = (piece.at(share), piece.left_at(share));
        let direction = if is_left { left } else { -left };
        let mut is_refuted = false;
        for off_m in TRIED_AT_M {
            let place = foot + direction * off_m;
            let beside = self.tree().beside(place, off_m * (1.0 + 1e-9) + 1e-6);
            let nearest = self.lines.nearest_of(&beside, place).filter(|nearest| nearest.away_m > TOGETHER_M);
            let Some(nearest) = nearest else { continue };
            let inside = self.lines.is_wound_round(place);
            if nearest.is_left.is_some_and(|is_left| is_left != inside) {
                return true;
            }
            if nearest.piece as usize == at {
                if inside != is_left {
                    return true;
                }
                if self.given.is_none_or(|given| given.hold(place) == inside) {
                    return false;
                }
                is_refuted = true;
            }
        }
        is_refuted
    }

    /// Whether the given rings hold a place beside a line that was dropped and the outline does not, or the other way round.
    fn is_dropped_wrongly(&self, piece: &Piece, is_left: bool) -> bool {
        let (middle, left) = (piece.at(0.5), piece.left_at(0.5));
        let direction = if is_left { left } else { -left };
        let mut is_refuted = false;
        for off_m in TRIED_AT_M {
            let place = middle + direction * off_m;
            let beside = self.tree().beside(place, TOGETHER_M);
            if self.lines.nearest_of(&beside, place).is_some_and(|nearest| nearest.away_m <= TOGETHER_M) {
                continue;
            }
            if self.given.is_none_or(|given| given.hold(place) == self.lines.is_wound_round(place)) {
                return false;
            }
            is_refuted = true;
        }
        is_refuted
    }
}

fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}

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
        (rings, sides): (&[CleanRing], &SideTable),
        reading: EdgeReading,
        faults: Faults<'_>,
    ) -> Result<Self, InvalidBoundary> {
        let mut turned = Turned::new(rings, reading, faults)?;
        let pieces: Vec<Piece> = turned.cut.iter().flatten().copied().collect();
        let found = turned.meetings(&pieces, faults)?;
        let is_hole: Vec<bool> = faults.names.iter().map(|name| name.is_hole()).collect();
        if found.is_empty() && rings.len() < 2 {
            turned.check_areas(faults)?;
            return turned.unchanged(pieces, &is_hole, sides);
        }
        let noded = node(&turned.cut, &found)
            .map_err(|near| turned.edges[nearest_edge(&pieces, near)].unsettled(near))?;
        let roles = roles(faults, &found, &turned, &pieces);
        let made = outline(&noded, &roles)
            .map_err(|why| faults.no_outline(why, (rings, &turned.edges), (&found, &pieces)))?;
        turned.check_areas(faults)?;
        turned.check_pinches(rings, (&noded, &made), faults)?;
        if found.is_empty() && made.kept.iter().all(|kept| *kept) {
            return turned.unchanged(pieces, &is_hole, sides);
        }
        let lines = Lines::of_outline(&made.ways);
        let ranges = ranges(&turned.cut);
        let given = GivenRings::new((turned.cut.drain(..).flatten().collect(), &ranges), &is_hole);
        let dropped = noded.runs.iter().zip(&made.kept).filter(|(_, kept)| !**kept);
        let dropped: Vec<Piece> = dropped.map(|(run, _)| run.piece).collect();
        turned.checked(lines, Some(Given { rings: &given, dropped: &dropped }), sides)
    }
}

fn nearest_edge(pieces: &[Piece], near: Vector) -> usize {
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
                    side: edge.side,
                    side_miss_m: edge.miss_m,
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
    fn unchanged(
        self,
        pieces: Vec<Piece>,
        is_hole: &[bool],
        sides: &SideTable,
    ) -> Result<UnderReading, InvalidBoundary> {
        let lines = Lines::of_rings(GivenRings::new((pieces, &ranges(&self.cut)), is_hole), &self.cut);
        self.checked(lines, None, sides)
    }

    fn checked(
        self,
        lines: Lines,
        given: Option<Given<'_>>,
        sides: &SideTable,
    ) -> Result<UnderReading, InvalidBoundary> {
        if let Some((edge, near)) = wrong_side(&lines, given) {
            return Err(self.edges[edge as usize].unsettled(near));
        }
        let side = |piece: &Piece| {
            self.edges.get(piece.edge as usize).map_or((0, 0.0), |edge| (edge.side, edge.side_miss_m))
        };
        let lines = if sides.are_all_open() { lines } else { lines.with_sides(sides.clone(), side) };
        Ok(UnderReading {
            lines: lines.with(Inexact::new(self.inexact)),
            edges: self.edges,
            perimeter_m: self.perimeter_m,
        })
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
