//! All pieces of a boundary under one reading of its edges, indexed, and the nearest point among them.

use std::ops::Range;

use rstar::RTree;

use super::boxes::Boxes;
use super::candidates::{Near, TIE_SHARE, Trail, chord_of_geodesic_m, nearest_first, slack_m};
use super::near::{Chains, in_space};
use super::noding::next_in_rings;
use super::piece::{Chord, Foot, Piece, Pieces};
use super::ring::CutRing;
use super::side::{LineSides, SideTable};
use super::winding::{Winding, WoundRing};
use crate::geodesic::{SHORT_M, Surface, Vector, from_earth_centred, inverse, length_over_chord, surface};
use crate::{Position, golden_section};

/// Up to this distance the foot found with straight lines through the Earth is the geodesic's to 0.1 mm.
const STRAIGHT_FOOT_M: f64 = 300_000.0;
/// Feet whose distances differ by less, in metres and by [`TIE_SHARE`], are equally near: rounding decides which of them is
/// taken, so it may not decide the side.
const TIE_M: f64 = 1e-6;
/// Runs of pieces that are looked at before it is given up whether a piece is alone.
const MOST_RUNS: usize = 32;

/// The pieces of the outline, the zone on the left of each, with the pieces that follow and precede them.
#[derive(Debug, Clone)]
pub(super) struct Lines {
    pub(super) pieces: Pieces,
    /// Where each closed way begins among them.
    ways: Vec<u32>,
    boxes: Boxes,
    winding: Winding,
    /// None if there are none.
    inexact: Option<Box<Inexact>>,
    /// What the pieces are; none if all are open water.
    pub(super) sides: Option<Box<LineSides>>,
}

/// All pieces that may miss the line they stand for, also those that another part covers: the true line may come out.
#[derive(Debug, Clone, Default)]
pub(super) struct Inexact {
    pieces: Vec<(Piece, f64)>,
    tree: RTree<Chord>,
    reach_m: f64,
    largest_m: f64,
}

impl Inexact {
    /// From pieces, each with what it misses by in metres.
    pub(super) fn new(pieces: Vec<(Piece, f64)>) -> Self {
        let chord = |(number, (piece, _)): (u32, &(Piece, f64))| Chord {
            start: piece.start,
            end: piece.end,
            piece: number,
        };
        Self {
            tree: RTree::bulk_load((0..).zip(&pieces).map(chord).collect()),
            reach_m: pieces.iter().map(|(piece, _)| piece.reach_m()).fold(0.0, f64::max),
            largest_m: pieces.iter().map(|(_, closure_error_m)| *closure_error_m).fold(0.0, f64::max),
            pieces,
        }
    }
}

/// The rings as they were given, to check an outline against.
#[derive(Debug)]
pub(super) struct GivenRings {
    pieces: Vec<Piece>,
    winding: Winding,
}

impl GivenRings {
    /// From the pieces of rings, the range of each ring among them, and which are holes.
    pub(super) fn new((pieces, rings): (Vec<Piece>, &[Range<usize>]), is_hole: &[bool]) -> Self {
        let wound: Vec<WoundRing> = rings
            .iter()
            .zip(is_hole)
            .map(|(pieces, is_hole)| WoundRing { pieces: pieces.clone(), is_hole: *is_hole })
            .collect();
        let winding = Winding::new(&pieces, &wound);
        Self { pieces, winding }
    }

    /// Whether any part holds a point of the surface.
    pub(super) fn hold(&self, place: Vector) -> bool {
        self.winding.at(self.pieces.as_slice(), place) > 0
    }
}

/// The range of each way among the pieces of all.
pub(super) fn ranges(ways: &[Vec<Piece>]) -> Vec<Range<usize>> {
    let mut first = 0;
    ways.iter()
        .map(|way| {
            let range = first..first + way.len();
            first = range.end;
            range
        })
        .collect()
}

/// The piece nearest to a place, by straight lines.
#[derive(Debug, Clone, Copy)]
pub(super) struct NearestPiece {
    pub(super) piece: u32,
    pub(super) away_m: f64,
    /// Whether the place is on its left; none if pieces equally near differ.
    pub(super) is_left: Option<bool>,
}

/// The nearest point of the lines.
#[derive(Debug, Clone, Copy)]
pub(super) struct Nearest {
    /// Geodesic distance, negative if the place is on the left.
    pub(super) signed_m: f64,
    /// The point itself, on the surface.
    pub(super) point: Vector,
}

impl Lines {
    /// Indexes the pieces of rings that are the outline as they are.
    pub(super) fn of_rings(rings: GivenRings, ways: &[Vec<Piece>]) -> Self {
        Self::indexed(rings.pieces, rings.winding, ways)
    }

    /// Indexes the pieces of an outline.
    pub(super) fn of_outline(ways: &[Vec<Piece>]) -> Self {
        let pieces: Vec<Piece> = ways.iter().flatten().copied().collect();
        let winding = Winding::of_outline(&pieces, &ranges(ways));
        Self::indexed(pieces, winding, ways)
    }

    fn indexed(pieces: Vec<Piece>, winding: Winding, ways: &[Vec<Piece>]) -> Self {
        let next = next_in_rings((0..).zip(ways).flat_map(|(way, pieces)| pieces.iter().map(move |_| way)));
        let begins = |range: Range<usize>| u32::try_from(range.start).unwrap_or(u32::MAX);
        let ways = ranges(ways).into_iter().filter(|way| !way.is_empty()).map(begins).collect();
        let order = in_space(Chains { pieces: &pieces, next: &next });
        let boxes = Boxes::new(&pieces, order);
        Self { pieces: pieces.into(), ways, boxes, winding, inexact: None, sides: None }
    }

    /// The same lines with what the edges that they come from are: of each piece the number of its side, and how far that may be
    /// off, in metres.
    pub(super) fn with_sides(self, table: SideTable, side: impl Fn(&Piece) -> (u32, f64)) -> Self {
        let sides = LineSides::new(table, self.pieces.whole(), side, self.boxes.order());
        Self { sides: Some(Box::new(sides)), ..self }
    }

    /// The same lines with what the edges that they come from miss by.
    pub(super) fn with(mut self, inexact: Inexact) -> Self {
        self.winding.settle();
        self.pieces.settle();
        let inexact = (!inexact.pieces.is_empty()).then(|| Box::new(inexact));
        Self { inexact, ..self }
    }

    /// How often rings run round a point of the surface, holes taken out.
    pub(super) fn times_wound_round(&self, place: Vector) -> i32 {
        self.winding.at(&self.pieces, place)
    }

    /// Whether the outline runs round a point of the surface: the second way to the side.
    pub(super) fn is_wound_round(&self, place: Vector) -> bool {
        self.times_wound_round(place) > 0
    }

    /// Whether no other piece lies within some metres of the middle of a piece; no also where that takes long to find out.
    pub(super) fn is_alone(&self, at: usize, within_m: f64) -> bool {
        let middle = self.pieces.get(at).at(0.5);
        let mut is_alone = true;
        let mut runs = 0;
        self.boxes.walk(middle, within_m, |run| {
            let is_near = |number: &u32| {
                *number as usize != at && self.pieces.at_least_m(*number as usize, middle) <= within_m
            };
            runs += 1;
            is_alone = runs < MOST_RUNS && !run.iter().any(is_near);
            if is_alone { within_m } else { f64::NEG_INFINITY }
        });
        is_alone
    }

    /// Walks through the runs of pieces that may lie within a distance, as [`Boxes::walk`] does.
    pub(super) fn walk(&self, place: Vector, within_m: f64, look: impl FnMut(&[u32]) -> f64) {
        self.boxes.walk(place, within_m, look);
    }

    /// How often the outline runs round places a hair to the left and to the right of the middle of a piece.
    pub(super) fn sides_of(&self, at: usize) -> (i32, i32) {
        self.winding.sides_of(&self.pieces, at)
    }

    /// The nearest of some pieces to a point of the surface, for points within some metres of the lines.
    pub(super) fn nearest_of(&self, pieces: &[u32], place: Vector) -> Option<NearestPiece> {
        let candidates: Vec<(u32, Foot)> =
            pieces.iter().map(|piece| (*piece, self.pieces.get(*piece as usize).foot(place))).collect();
        let (piece, foot) = candidates.iter().min_by(|a, b| a.1.chord_m.total_cmp(&b.1.chord_m))?;
        let is_left = |piece: u32, foot: &Foot| (place - foot.point).dot(self.left_of(piece, foot)) > 0.0;
        let said = is_left(*piece, foot);
        let agree = candidates
            .iter()
            .filter(|(_, other)| other.chord_m <= foot.chord_m + TIE_M)
            .all(|(piece, foot)| is_left(*piece, foot) == said);
        Some(NearestPiece { piece: *piece, away_m: foot.chord_m, is_left: agree.then_some(said) })
    }

    /// Area on the left of the lines, in square metres: each closed way along them counted with its sign.
    pub(super) fn area_m2(&self) -> f64 {
        self.ways()
            .into_iter()
            .map(|way| CutRing { pieces: way, closure_errors_m: Vec::new() }.area_m2())
            .sum()
    }

    /// How long all closed ways are together, in metres.
    pub(super) fn length_m(&self) -> f64 {
        let ways = self.ways().into_iter();
        ways.map(|way| CutRing { pieces: way, closure_errors_m: Vec::new() }.perimeter_m()).sum()
    }

    /// The closed ways along the lines.
    pub(super) fn ways(&self) -> Vec<Vec<Piece>> {
        self.way_ranges().map(|way| way.map(|at| self.pieces.get(at)).collect()).collect()
    }

    /// The range of each closed way among the pieces.
    pub(super) fn way_ranges(&self) -> impl Iterator<Item = Range<usize>> {
        let ends = self.ways.iter().skip(1).map(|begins| *begins as usize).chain([self.pieces.len()]);
        self.ways.iter().map(|begins| *begins as usize).zip(ends).map(|(begins, ends)| begins..ends)
    }

    /// The first piece of the way that a piece is in, and the one after its last.
    pub(super) fn way_of(&self, at: usize) -> Range<usize> {
        let after = self.ways.partition_point(|begins| *begins as usize <= at);
        let begins =
            after.checked_sub(1).and_then(|way| self.ways.get(way)).map_or(0, |begins| *begins as usize);
        begins..self.ways.get(after).map_or(self.pieces.len(), |begins| *begins as usize)
    }

    /// The piece that follows another in its way.
    pub(super) fn next(&self, at: usize) -> usize {
        let way = self.way_of(at);
        if at + 1 < way.end { at + 1 } else { way.start }
    }

    fn previous(&self, at: usize) -> usize {
        let way = self.way_of(at);
        if at > way.start { at - 1 } else { way.end - 1 }
    }

    /// Finds the nearest point; none if there are no pieces.
    ///
    /// The side is that of the nearest piece. Where pieces equally near differ, and so far off that the nearest point is
    /// hardly settled, it is how often the outline runs round the place.
    pub(super) fn nearest(&self, place: Position, here: &Surface) -> Option<Nearest> {
        self.nearest_in(&self.boxes, place, here)
    }

    /// As [`Self::nearest`], among the pieces that some boxes hold.
    pub(super) fn nearest_in(&self, boxes: &Boxes, place: Position, here: &Surface) -> Option<Nearest> {
        let mut near = Near::default();
        boxes.walk(here.point, f64::INFINITY, |run| {
            for piece in run {
                near.look_at(*piece, &self.pieces, here.point);
            }
            near.limit_m
        });
        self.settled(place, here, &near)
    }

    /// The nearest piece, and how far off it is in a straight line, in metres.
    pub(super) fn nearest_piece(&self, here: &Surface) -> Option<(u32, f64)> {
        let mut near = Near::default();
        self.boxes.walk(here.point, f64::INFINITY, |run| {
            for piece in run {
                near.look_at(*piece, &self.pieces, here.point);
            }
            near.limit_m
        });
        let nearest =
            near.candidates().iter().min_by(|a, b| a.1.chord_m.total_cmp(&b.1.chord_m).then(a.0.cmp(&b.0)));
        nearest.map(|(piece, foot)| (*piece, foot.chord_m))
    }

    /// As [`Self::nearest`], for a place near the one before: the pieces that were near then are asked first.
    ///
    /// No straight distance changes faster than the place moves. So a piece that lay at least so far away is not nearer
    /// than that less the way made since, and where the nearest of the remembered ones is nearer than all others can be,
    /// nothing has to be searched.
    pub(super) fn nearest_along(
        &self,
        place: Position,
        here: &Surface,
        trail: &mut Trail,
    ) -> Option<Nearest> {
        let moved_m = (here.point - trail.place).norm();
        let mut near = Near::default();
        for (piece, at_least_m) in &trail.near {
            if at_least_m - moved_m > near.limit_m {
                break;
            }
            near.look_at_known(*piece, (&self.pieces, &mut trail.known), here.point);
        }
        // written so that no number, as of an empty trail, does not pass
        if near.limit_m < trail.others_m - moved_m {
            return self.settled(place, here, &near);
        }
        let near = self.search_about(here.point, trail);
        self.settled(place, here, &near)
    }

    /// Finds the pieces that may hold the nearest point, and remembers those about them.
    fn search_about(&self, here: Vector, trail: &mut Trail) -> Near {
        let mut near = Near::default();
        let margin_m = trail.margin_m;
        let mut about = std::mem::take(&mut trail.near);
        about.clear();
        // the least that pieces which were dropped for want of room can be away
        let mut dropped_m = f64::INFINITY;
        let left_m = self.boxes.walk(here, f64::INFINITY, |run| {
            for number in run {
                let at_least_m = self.pieces.at_least_m(*number as usize, here);
                if at_least_m <= dropped_m.min(near.best_m + margin_m) {
                    about.push((*number, at_least_m));
                }
                if at_least_m <= near.limit_m {
                    near.measure(*number, &self.pieces.get(*number as usize), here);
                }
            }
            if about.len() >= Trail::ROOM {
                dropped_m = nearest_first(&mut about)[2 * Trail::MOST].1;
                about.truncate(2 * Trail::MOST);
            }
            near.limit_m.max(dropped_m.min(near.best_m + margin_m))
        });
        let within_m = dropped_m.min(near.best_m + margin_m);
        about.retain(|(_, at_least_m)| *at_least_m <= within_m);
        nearest_first(&mut about);
        trail.place = here;
        trail.others_m = left_m.min(within_m);
        if let Some((_, beyond_m)) = about.get(Trail::MOST) {
            trail.others_m = trail.others_m.min(*beyond_m);
            trail.margin_m = (about[Trail::MOST / 2].1 - near.best_m).max(Trail::LEAST_MARGIN_M);
            about.truncate(Trail::MOST);
        } else if about.len() < Trail::MOST / 4 {
            trail.margin_m = (2.0 * margin_m).min(Trail::GREATEST_MARGIN_M);
        }
        trail.near = about;
        near
    }

    /// The nearest point, if those pieces are known that can hold it.
    fn settled(&self, place: Position, here: &Surface, near: &Near) -> Option<Nearest> {
        let best_m = near.best_m;
        if !best_m.is_finite() {
            return None;
        }
        if best_m > STRAIGHT_FOOT_M {
            let mut candidates = near.candidates().to_vec();
            candidates.sort_unstable_by_key(|(piece, _)| *piece);
            let (piece, share) = self.refine(place, &candidates);
            let found = self.measure(place, (piece, share));
            return Some(found.on_side(self.is_wound_round(here.point)));
        }
        let found = |(piece, foot): &(u32, Foot)| (*piece, self.measured(place, here, *piece, foot));
        let (inside, outside) = match near.candidates() {
            [candidate] => return Some(found(candidate).1),
            [one, other] => match self.left_at_vertex(one, other) {
                Some(left) if one.1.chord_m <= SHORT_M => return Some(aside(here, &one.1, left)),
                Some(_) | None => first_of_each_side(&[found(one), found(other)]),
            },
            all => first_of_each_side(&all.iter().map(found).collect::<Vec<_>>()),
        };
        let (Some(one), Some(other)) = (inside, outside) else { return inside.or(outside) };
        let (best, rival) = if one.away_m() < other.away_m() { (one, other) } else { (other, one) };
        let tie_m = best.away_m() + TIE_M + TIE_SHARE * best.away_m();
        if rival.away_m() <= tie_m {
            return Some(best.on_side(self.is_wound_round(here.point)));
        }
        Some(best)
    }

    /// The most that any edge which misses its printed circle can move the line by, as seen from a place whose nearest
    /// line is `nearest_m` away.
    ///
    /// Let edge i lie d(i) away and truly run up to m(i) from where it is drawn. The true distance then lies between the
    /// least d(i) − m(i), negative where the side changes, and the least d(i) + m(i). With d the least d(i), the first
    /// is d − max(m(i) − (d(i) − d)) and the second at most d + m of the nearest edge, which is one of the terms of that
    /// maximum. So that maximum covers both, from either side; and since no d changes faster than the place moves, it
    /// nowhere jumps. Distances are compared by chords, whose differences are no larger than those of the geodesics but
    /// for the slack. An edge that another part covers is among them, since its true line may come out: where it is nearer
    /// than the outline it counts in full.
    ///
    /// With a radius it is the most that it can be of any place within that: since both distances change by no more than the way,
    /// the share of each edge grows by no more than twice the radius.
    pub(super) fn closure_error_m(&self, here: Vector, (nearest_m, within_m): (f64, f64)) -> f64 {
        let Some(inexact) = &self.inexact else { return 0.0 };
        let nearest_chord_m = chord_of_geodesic_m(nearest_m);
        let slack_m = slack_m(nearest_chord_m) + 2.0 * within_m;
        let mut doubt_m: f64 = 0.0;
        for (chord, distance_2) in inexact.tree.nearest_neighbor_iter_with_distance_2(here.to_array()) {
            if distance_2.sqrt() - inexact.reach_m > nearest_chord_m + slack_m + inexact.largest_m {
                break;
            }
            let (piece, own_m) = &inexact.pieces[chord.piece as usize];
            if *own_m > doubt_m {
                let farther_m = piece.foot(here).chord_m - nearest_chord_m;
                let shared_m = if farther_m <= slack_m { *own_m } else { own_m - (farther_m - slack_m) };
                doubt_m = doubt_m.max(shared_m);
            }
        }
        doubt_m
    }

    /// The nearest point of distant pieces, by geodesics: best of three places on each, then golden section about it.
    fn refine(&self, place: Position, candidates: &[(u32, Foot)]) -> (u32, f64) {
        let distance_m = |piece: u32, share: f64| {
            inverse(place, from_earth_centred(self.pieces.get(piece as usize).at(share))).distance_m
        };
        let mut best = (candidates[0].0, 0.0, f64::INFINITY);
        for (piece, foot) in candidates {
            for share in [0.0, 0.5, 1.0, foot.share] {
                let candidate_m = distance_m(*piece, share);
                if candidate_m < best.2 {
                    best = (*piece, share, candidate_m);
                }
            }
        }
        let mut spans = vec![(best.0, best.1 - 0.5, best.1 + 0.5)];
        if best.1 <= 0.5 {
            spans.push((number(self.previous(best.0 as usize)), 0.5, 1.0));
        }
        if best.1 >= 0.5 {
            spans.push((number(self.next(best.0 as usize)), 0.0, 0.5));
        }
        for (piece, low, high) in spans {
            let (share, candidate_m) =
                golden_section::least((low.max(0.0), high.min(1.0)), 1e-7, |share| distance_m(piece, share));
            if candidate_m < best.2 {
                best = (piece, share, candidate_m);
            }
        }
        (best.0, best.1)
    }

    /// The foot on a piece as the nearest point.
    fn measured(&self, place: Position, here: &Surface, piece: u32, foot: &Foot) -> Nearest {
        if foot.chord_m > SHORT_M {
            return self.measure(place, (piece, foot.share));
        }
        aside(here, foot, self.left_of(piece, foot))
    }

    /// A point of a piece that is farther off than [`SHORT_M`] as the nearest point.
    fn measure(&self, place: Position, (piece, share): (u32, f64)) -> Nearest {
        let point = self.pieces.get(piece as usize).at(share);
        let position = from_earth_centred(point);
        let line = inverse(place, position);
        let foot = surface(position);
        let (sin, cos) = line.azimuth_end_deg.to_radians().sin_cos();
        let toward = -(foot.north * cos + foot.east * sin);
        let side = toward.dot(self.left_at(piece, share));
        let signed_m = if side > 0.0 { -line.distance_m } else { line.distance_m };
        Nearest { signed_m, point }
    }

    /// Direction to the left at the vertex that is the foot on two pieces, one of which follows the other.
    fn left_at_vertex(&self, (one, foot): &(u32, Foot), (other, beside): &(u32, Foot)) -> Option<Vector> {
        let follows = |(from, end): (u32, &Foot), (to, start): (u32, &Foot)| {
            end.share >= 1.0 && start.share <= 0.0 && self.next(from as usize) == to as usize
        };
        let is_one = follows((*one, foot), (*other, beside)) || follows((*other, beside), (*one, foot));
        (is_one && foot.point == beside.point).then(|| foot.left.unit() + beside.left.unit())
    }

    /// Direction to the left at a foot on a piece.
    fn left_of(&self, piece: u32, foot: &Foot) -> Vector {
        if 0.0 < foot.share && foot.share < 1.0 { foot.left } else { self.left_at(piece, foot.share) }
    }

    /// Direction to the left at a share of a piece; at a vertex the sum of both pieces' lefts, which points into the
    /// zone for every place that has the vertex as its nearest point.
    fn left_at(&self, piece: u32, share: f64) -> Vector {
        let on = self.pieces.get(piece as usize);
        let own = on.left_at(share);
        let neighbour = |at: usize, share: f64| self.pieces.get(at).left_at(share);
        if share <= 0.0 {
            own + neighbour(self.previous(piece as usize), 1.0)
        } else if share >= 1.0 {
            own + neighbour(self.next(piece as usize), 0.0)
        } else {
            own
        }
    }
}

impl Nearest {
    fn away_m(self) -> f64 {
        self.signed_m.abs()
    }

    fn is_inside(&self) -> bool {
        self.signed_m < 0.0
    }

    /// The same point with the side settled otherwise.
    fn on_side(self, inside: bool) -> Self {
        let away_m = self.away_m();
        Self { signed_m: if inside { -away_m } else { away_m }, ..self }
    }
}

/// A foot no farther off than [`SHORT_M`] as the nearest point, where it is known which way is left there.
fn aside(here: &Surface, foot: &Foot, left: Vector) -> Nearest {
    let away_m = length_over_chord(here.point, foot.point);
    let side = (here.point - foot.point).dot(left);
    Nearest { signed_m: if side > 0.0 { -away_m } else { away_m }, point: foot.point }
}

/// The nearest point inside and the nearest outside, by the pieces that they are on; in whatever order these were found, the first
/// along the line of those equally near.
fn first_of_each_side(found: &[(u32, Nearest)]) -> (Option<Nearest>, Option<Nearest>) {
    let first = |inside: bool| {
        let on_side = || found.iter().filter(move |(_, found)| found.is_inside() == inside);
        let least_m = on_side().map(|(_, found)| found.away_m()).fold(f64::INFINITY, f64::min);
        let nearest = on_side().filter(|(_, found)| found.away_m() <= least_m + TIE_M);
        nearest.min_by_key(|(piece, _)| *piece).map(|(_, found)| *found)
    };
    (first(true), first(false))
}

fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}
