//! Lines that bound no zone, open and closed: coasts and shores, cut into pieces and indexed.
//!
//! Closed strands are turned so that land lies on their left, as the zone does of a boundary. Where they contradict themselves
//! ([`super::tangle`]) land and sea are told apart nowhere near; as lines they count all the same.

use super::lines::{GivenRings, Inexact, Lines};
use super::piece::Piece;
use super::ring::{CleanRing, CutRing, Edge, EdgeReading, MOST_PIECES, TOO_LONG, same_point};
use super::tangle::{Untangled, disc_about, untangle};
use super::{BoundaryFault, EdgeModel};
use crate::geodesic::{Surface, Vector, on_surface};
use crate::{Metres, Position};

/// Strands as near to each other as this, in metres, are equally near.
const TIE_M: f64 = 1e-6;

/// One line, its vertices joined by geodesics.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Strand {
    /// At least two; of a closed strand the first is not said again at the end.
    pub(crate) positions: Vec<Position>,
    pub(crate) kind: StrandKind,
    /// How far off the line may lie, 95 %, in metres.
    pub(crate) uncertainty_m: f64,
}

/// What a strand says of land.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum StrandKind {
    /// Open; nobody knows on which side land lies.
    Open,
    /// Open, with land on its left.
    LandOnLeft,
    /// Closed, with land inside.
    Island,
    /// Closed, with water inside, in the island listed last before it.
    Lake,
}

impl StrandKind {
    fn is_closed(self) -> bool {
        matches!(self, Self::Island | Self::Lake)
    }
}

/// What is odd about a strand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum StrandOddity {
    /// It crosses or touches itself first near this place, so land and sea about there are undecided.
    MeetsItself(Position),
    /// A lake that crosses its island's line or lies outside it: land and sea about it are undecided.
    LakeAstray,
    /// A closed line in the land of another: it may be a lake's, so land and sea about it are undecided.
    WithinLand,
    /// It encloses nothing, so it is a line with land on no known side.
    NoArea,
    /// It encloses nearly half of the Earth or more, so which side is land is undecided.
    TooWide,
}

/// Indexed strands.
#[derive(Debug, Clone)]
pub(crate) struct Strands {
    lines: Lines,
    /// The edge of its strand that each piece belongs to.
    edges: Vec<u32>,
    /// In the order of the ways of `lines`.
    chains: Vec<Chain>,
    /// Discs in which land and sea are not told apart: centre and radius in metres.
    doubts: Vec<(Vector, f64)>,
}

#[derive(Debug, Clone, Copy)]
struct Chain {
    kind: StrandKind,
    begins: u32,
    uncertainty_m: f64,
}

/// The nearest strand to a place.
#[derive(Debug, Clone, Copy)]
pub(crate) struct NearStrand {
    /// Which it is, in the order given.
    pub(crate) strand: usize,
    /// Straight-line distance, in metres.
    pub(crate) away_m: f64,
    pub(crate) uncertainty_m: f64,
    /// Whether the place lies on the land's side; none if nobody knows.
    pub(crate) is_land_side: Option<bool>,
    /// Which edge of the strand is nearest: the one that leaves this vertex.
    pub(crate) edge: usize,
    piece: usize,
    share: f64,
}

impl Strands {
    /// Cuts and indexes strands, and turns closed ones so that land lies on their left.
    ///
    /// # Errors
    ///
    /// A strand's number, the vertex and what is wrong: fewer than two vertices, an edge across half the Earth, more pieces than are held.
    #[expect(clippy::type_complexity, reason = "a fault with its place, used once")]
    pub(crate) fn build(
        strands: &mut [Strand],
    ) -> Result<(Self, Vec<(usize, StrandOddity)>), (usize, Option<usize>, BoundaryFault)> {
        let mut cuts: Vec<CutRing> = Vec::with_capacity(strands.len());
        let mut pieces = 0;
        for (number, strand) in strands.iter().enumerate() {
            let cut = strand.cut().map_err(|(vertex, fault)| (number, vertex, fault))?;
            pieces += cut.pieces.len();
            if pieces > MOST_PIECES {
                return Err((number, None, TOO_LONG));
            }
            cuts.push(cut);
        }
        let Untangled { is_turned, doubts, mut oddities } = untangle(strands, &cuts);
        for number in (0..strands.len()).filter(|number| is_turned[*number]) {
            strands[number].positions.reverse();
            cuts[number] = strands[number].cut().map_err(|(vertex, fault)| (number, vertex, fault))?;
        }
        for (number, oddity) in &oddities {
            if *oddity == StrandOddity::NoArea {
                strands[*number].kind = StrandKind::Open;
            }
        }
        let mut built = Self::indexed(strands, cuts, doubts);
        built.doubt_lines_within_land(&mut oddities);
        Ok((built, oddities))
    }

    fn indexed(strands: &[Strand], cuts: Vec<CutRing>, doubts: Vec<(Vector, f64)>) -> Self {
        let mut chains = Vec::with_capacity(strands.len());
        let (mut rings, mut is_hole) = (Vec::new(), Vec::new());
        let mut begins = 0;
        for (strand, cut) in strands.iter().zip(&cuts) {
            let (kind, uncertainty_m) = (strand.kind, strand.uncertainty_m);
            chains.push(Chain { kind, begins: u32::try_from(begins).unwrap_or(u32::MAX), uncertainty_m });
            if kind.is_closed() {
                rings.push(begins..begins + cut.pieces.len());
                is_hole.push(kind == StrandKind::Lake);
            }
            begins += cut.pieces.len();
        }
        let edges = cuts.iter().flat_map(|cut| cut.pieces.iter().map(|piece| piece.edge)).collect();
        let ways: Vec<Vec<Piece>> = cuts.into_iter().map(|cut| cut.pieces).collect();
        let pieces = ways.iter().flatten().copied().collect();
        let lines = Lines::of_rings(GivenRings::new((pieces, &rings), &is_hole), &ways);
        Self { lines: lines.with(Inexact::default()), edges, chains, doubts }
    }

    /// A closed line within other land may be the shore of a lake.
    fn doubt_lines_within_land(&mut self, oddities: &mut Vec<(usize, StrandOddity)>) {
        for number in 0..self.chains.len() {
            if self.chains[number].kind != StrandKind::Island {
                continue;
            }
            let begins = self.chains[number].begins as usize;
            let (_, outside) = self.lines.sides_of(begins);
            if outside > 0 {
                let way = self.lines.way_of(begins);
                self.doubts.push(disc_about(way.map(|at| self.lines.pieces.get(at).start)));
                oddities.push((number, StrandOddity::WithinLand));
            }
        }
    }

    pub(super) fn lines(&self) -> &Lines {
        &self.lines
    }

    /// Geodesic distance to the nearest point of any strand, in metres, and where that is; none if there are no strands.
    pub(crate) fn nearest(&self, position: Position, here: &Surface) -> Option<(Metres, Position)> {
        let nearest = self.lines.nearest(position, here)?;
        Some((Metres::computed(nearest.signed_m.abs()), on_surface(nearest.point)))
    }

    /// How often closed strands run round a place, lakes taken out; none where they contradict themselves.
    pub(crate) fn times_on_land(&self, here: Vector) -> Option<i32> {
        (!self.is_in_doubt(here)).then(|| self.lines.times_wound_round(here))
    }

    fn is_in_doubt(&self, here: Vector) -> bool {
        self.doubts.iter().any(|(centre, radius_m)| (here - *centre).norm() <= *radius_m)
    }

    /// The nearest strand by straight lines; none if there are none within some metres.
    pub(crate) fn nearest_strand(&self, here: Vector, within_m: f64) -> Option<NearStrand> {
        let mut best_m = within_m;
        let mut near: Vec<(u32, f64)> = Vec::new();
        self.lines.walk(here, within_m, |run| {
            for at in run {
                if self.lines.pieces.at_least_m(*at as usize, here) <= best_m + TIE_M {
                    let foot_m = self.lines.pieces.get(*at as usize).foot(here).chord_m;
                    if foot_m <= best_m + TIE_M {
                        near.push((*at, foot_m));
                        best_m = best_m.min(foot_m);
                    }
                }
            }
            best_m + TIE_M
        });
        near.retain(|(_, away_m)| *away_m <= best_m + TIE_M);
        let near: Vec<u32> = near.into_iter().map(|(at, _)| at).collect();
        let nearest = self.lines.nearest_of(&near, here)?;
        let piece = nearest.piece as usize;
        let strand = self.chains.partition_point(|chain| chain.begins as usize <= piece).checked_sub(1)?;
        let chain = self.chains[strand];
        let share = self.lines.pieces.get(piece).foot(here).share;
        let is_known = match chain.kind {
            StrandKind::Open => false,
            StrandKind::LandOnLeft => !self.is_end(piece, share),
            StrandKind::Island | StrandKind::Lake => !self.is_in_doubt(here),
        };
        Some(NearStrand {
            strand,
            away_m: nearest.away_m,
            uncertainty_m: chain.uncertainty_m,
            is_land_side: nearest.is_left.filter(|_| is_known),
            edge: self.edges[piece] as usize,
            piece,
            share,
        })
    }

    /// Whether a share of a piece is an end of the way it is in.
    fn is_end(&self, piece: usize, share: f64) -> bool {
        let way = self.lines.way_of(piece);
        (piece == way.start && share <= 0.0) || (piece + 1 == way.end && share >= 1.0)
    }

    /// Lengths in metres of the two ways between two places of one strand: from the one on along the strand to the other, and from the
    /// other on along it to the one. The strand has to be closed for both to be there.
    pub(crate) fn lengths_between_m(&self, one: &NearStrand, other: &NearStrand) -> (f64, f64) {
        let way = self.lines.way_of(one.piece);
        let length_m = |at: usize| self.lines.pieces.get(at).length_m;
        let before_m = |near: &NearStrand| -> f64 {
            (way.start..near.piece).map(length_m).sum::<f64>() + near.share * length_m(near.piece)
        };
        let whole_m: f64 = way.clone().map(length_m).sum();
        let forward_m = before_m(other) - before_m(one);
        if forward_m >= 0.0 { (forward_m, whole_m - forward_m) } else { (whole_m + forward_m, -forward_m) }
    }

    /// Whether the one near place comes before the other, from where their strand begins.
    pub(crate) fn is_before(&self, one: &NearStrand, other: &NearStrand) -> bool {
        (one.piece, one.share) <= (other.piece, other.share)
    }

    /// Where on its strand a near place has its foot.
    pub(crate) fn foot_of(&self, near: &NearStrand) -> Position {
        on_surface(self.lines.pieces.get(near.piece).at(near.share))
    }

    /// Tells every piece that may lie within some metres of a place: its uncertainty, and its points by shares of its length.
    pub(crate) fn pieces_within(&self, here: Vector, within_m: f64, mut look: impl FnMut(StretchOf)) {
        self.lines.walk(here, within_m, |run| {
            for at in run {
                look(StretchOf(self.lines.pieces.get(*at as usize)));
            }
            within_m
        });
    }

    /// Whether there are no strands.
    pub(crate) fn is_empty(&self) -> bool {
        self.chains.is_empty()
    }
}

/// A short stretch of a strand.
#[derive(Debug, Clone, Copy)]
pub(crate) struct StretchOf(Piece);

impl StretchOf {
    /// The point of the surface at a share of its length.
    pub(crate) fn at(&self, share: f64) -> Vector {
        self.0.at(share)
    }

    /// Its length in metres.
    pub(crate) fn length_m(&self) -> f64 {
        self.0.length_m
    }

    /// Straight distance to the nearest point of it, in metres.
    pub(crate) fn away_m(&self, place: Vector) -> f64 {
        self.0.foot(place).chord_m
    }
}

impl Strand {
    fn cut(&self) -> Result<CutRing, (Option<usize>, BoundaryFault)> {
        let next = |at: usize| {
            self.positions.get(at + 1).or(self.positions.first().filter(|_| self.kind.is_closed()))
        };
        let mut edges = Vec::with_capacity(self.positions.len());
        for (vertex, from) in self.positions.iter().enumerate() {
            if let Some(to) = next(vertex).filter(|to| !same_point(*from, **to)) {
                let model = EdgeModel::Geodesic;
                edges.push(Edge { from: *from, to: *to, model, vertex, side: 0, miss_m: 0.0 });
            }
        }
        if edges.is_empty() {
            return Err((None, BoundaryFault::TooFewVertices(self.positions.len().min(1))));
        }
        let ring = CleanRing { edges };
        let mut cut = ring.pieces(EdgeReading::Geodesic, 0)?;
        for piece in &mut cut.pieces {
            // from the edges that are left to the vertices as given
            let vertex = ring.edges.get(piece.edge as usize).map_or(0, |edge| edge.vertex);
            piece.edge = u32::try_from(vertex).unwrap_or(u32::MAX);
        }
        if cut.pieces.is_empty() {
            return Err((None, BoundaryFault::TooFewVertices(1)));
        }
        cut.closure_errors_m = Vec::new();
        Ok(cut)
    }
}
