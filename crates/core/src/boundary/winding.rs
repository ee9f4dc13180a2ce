//! How often rings run round a place, by the crossings of its meridian: a second way to the side, which shares only the
//! pieces with the way by the nearest one.
//!
//! Pieces are held in runs, a run in a box of longitudes and heights over the equator's plane. A box that the meridian
//! misses, or that lies to the south, holds no crossing; of one that lies to the north only the two ends count. So do they
//! of a run in a strip that the place lies beside, for then the straight way between its ends passes the place on the same
//! side. So a place is compared with the few pieces beside it, whatever the number of all.

use std::f64::consts::{PI, TAU};
use std::num::NonZero;
use std::ops::Range;

use super::boxes::{SlantedBox, Strip};
use super::piece::{Piece, Pieces};
use crate::geodesic::Vector;

/// Pieces in a run that is not divided further.
const LEAST_RUN: usize = 16;
/// Runs of no more pieces have no strip: it is dearer than to look at them.
const LEAST_STRIP: usize = 32;
/// Boxes are this much larger than what they hold, in metres: pieces that count as one line may lie so far apart.
const ROOM_M: f64 = 5e-3;
/// Nearer to the line through the ends of a run than this, in metres, its side is not told by them.
const CLEAR_M: f64 = 1e-6;
/// A run with a strip stays within so many radians of longitude: the straight way between its ends too, then.
const STRIP_SPAN: f64 = 3.0;
/// Nearer to the axis of the Earth than this, in metres, a point is a pole and has no longitude of its own.
const POLE_M: f64 = 1e-6;

/// Pieces by their numbers.
pub(super) trait ByNumber {
    fn piece(&self, at: usize) -> Piece;
}

impl ByNumber for [Piece] {
    fn piece(&self, at: usize) -> Piece {
        self[at]
    }
}

impl ByNumber for Pieces {
    fn piece(&self, at: usize) -> Piece {
        self.get(at)
    }
}

/// A ring of pieces as a range of them, and whether it is a hole.
#[derive(Debug, Clone)]
pub(super) struct WoundRing {
    pub(super) pieces: Range<usize>,
    pub(super) is_hole: bool,
}

/// The runs of closed rings, in the order of a walk down a tree.
#[derive(Debug, Clone)]
pub(super) struct Winding {
    runs: Vec<Run>,
    /// Strips, from number 1 on.
    strips: Vec<Strip>,
    at_pole: i32,
    /// Pieces that leave a pole, in order.
    turns: Vec<Turn>,
    /// The longitudes of the ends of each piece, while many places are asked; none afterwards, when they are worked out.
    known: Vec<(f64, f64)>,
}

/// A piece that leaves a pole: at the pole the way turns from the meridian it came along.
#[derive(Debug, Clone, Copy)]
struct Turn {
    piece: u32,
    came_along: f64,
    is_north: bool,
}

#[derive(Debug, Clone, Copy)]
struct Run {
    first: u32,
    last: u32,
    /// The run after this one and all it is divided into.
    after: u32,
    is_leaf: bool,
    /// Steps eastwards over 180° less those westwards.
    wraps: i32,
    low_z: f64,
    high_z: f64,
    west: f64,
    east: f64,
    from: f64,
    to: f64,
    ends: [Vector; 2],
    /// Which strip holds the run and the straight way between its ends; none if the run may go round a pole.
    strip: Option<NonZero<u32>>,
}

/// A place as the crossings are counted for it.
#[derive(Debug, Clone, Copy)]
struct Meridian {
    place: Vector,
    longitude: f64,
}

impl Winding {
    /// Runs over rings that have the zone on their left.
    pub(super) fn new(pieces: &[Piece], rings: &[WoundRing]) -> Self {
        let known = known_longitudes(pieces);
        let mut winding =
            Self { runs: Vec::new(), strips: Vec::new(), at_pole: 0, turns: turns(pieces, rings), known };
        if !rings.is_empty() {
            winding.add_rings(pieces, rings);
        }
        winding
    }

    /// Runs over the ways of an outline, which has the zone on their left and nowhere twice: in which of them the pole
    /// lies follows from the longest piece.
    pub(super) fn of_outline(pieces: &[Piece], ways: &[Range<usize>]) -> Self {
        let rings: Vec<WoundRing> =
            ways.iter().map(|way| WoundRing { pieces: way.clone(), is_hole: false }).collect();
        let mut winding = Self::new(pieces, &rings);
        let longest = (0..pieces.len()).max_by(|a, b| pieces[*a].length_m.total_cmp(&pieces[*b].length_m));
        if let Some(longest) = longest {
            let piece = &pieces[longest];
            let without = winding.without(pieces, piece.at(0.5), |other| other == longest);
            winding.at_pole += 1 - beside(piece, without, 1).0;
        }
        winding
    }

    /// Gives the memory back that served to ask many places.
    pub(super) fn settle(&mut self) {
        self.known = Vec::new();
        self.runs.shrink_to_fit();
        self.strips.shrink_to_fit();
    }

    fn longitudes_of(&self, piece: &Piece, at: usize) -> (f64, f64) {
        self.known.get(at).copied().unwrap_or_else(|| longitudes(piece))
    }

    fn add_rings(&mut self, pieces: &[Piece], rings: &[WoundRing]) -> Run {
        if let [ring] = rings {
            let run = self.add_run(pieces, ring.pieces.clone());
            self.at_pole += if ring.is_hole { run.wraps.min(0) } else { run.wraps.max(0) };
            return run;
        }
        let at = self.runs.len();
        self.runs.push(Run::EMPTY);
        let (one, other) = rings.split_at(rings.len() / 2);
        let halves = [self.add_rings(pieces, one), self.add_rings(pieces, other)];
        // rings end where they begin, so only their steps over 180° count
        let run = Run { from: 0.0, to: 0.0, strip: None, ..Run::joined(halves) };
        self.close(at, run)
    }

    fn add_run(&mut self, pieces: &[Piece], range: Range<usize>) -> Run {
        let (first, last) = (range.start, range.end);
        let at = self.runs.len();
        self.runs.push(Run::EMPTY);
        let run = if range.len() <= LEAST_RUN {
            Run::of((pieces, &self.known), range, &self.turns)
        } else {
            let middle = range.start.midpoint(range.end);
            let halves = [self.add_run(pieces, range.start..middle), self.add_run(pieces, middle..range.end)];
            Run::joined(halves)
        };
        let mut strip = None;
        if last - first > LEAST_STRIP && run.east - run.west < STRIP_SPAN {
            self.strips.push(SlantedBox::about(pieces[first..last].iter()).strip(ROOM_M));
            strip = NonZero::new(number(self.strips.len()));
        }
        self.close(at, Run { strip, ..run })
    }

    fn close(&mut self, at: usize, run: Run) -> Run {
        let run = Run { after: number(self.runs.len()), ..run };
        self.runs[at] = run;
        run
    }

    /// How often the rings run round a place of the surface: the number of parts that it is in, holes taken out.
    pub(super) fn at(&self, pieces: &(impl ByNumber + ?Sized), place: Vector) -> i32 {
        self.without(pieces, place, |_| false)
    }

    /// The same, with some pieces taken as lying to the south.
    pub(super) fn without(
        &self,
        pieces: &(impl ByNumber + ?Sized),
        place: Vector,
        skipped: impl Fn(usize) -> bool,
    ) -> i32 {
        self.about(pieces, &Meridian { place, longitude: longitude(place) }, skipped)
    }

    /// How often the rings run round places a hair to the left and to the right of the middle of a piece, if no other
    /// piece runs there.
    pub(super) fn sides_of(&self, pieces: &Pieces, at: usize) -> (i32, i32) {
        let piece = pieces.get(at);
        let middle = piece.at(0.5);
        let here = Meridian { place: middle, longitude: longitude(middle) };
        let without = self.about(pieces, &here, |other| other == at);
        here.sides_of((&piece, self.longitudes_of(&piece, at)), without, 1)
    }

    fn about(
        &self,
        pieces: &(impl ByNumber + ?Sized),
        here: &Meridian,
        skipped: impl Fn(usize) -> bool,
    ) -> i32 {
        let mut crossings = 0;
        let mut at = 0;
        while let Some(run) = self.runs.get(at) {
            at += 1;
            if here.longitude < run.west || here.longitude > run.east || run.high_z < here.place.z {
                at = run.after as usize;
            } else if run.low_z > here.place.z {
                crossings += here.stepped_over(run.from, run.to, run.wraps);
                at = run.after as usize;
            } else if let Some(passed) = here.passed_beside(run, &self.strips) {
                crossings += passed;
                at = run.after as usize;
            } else if run.is_leaf {
                let range = run.first as usize..run.last as usize;
                crossings += turns_among(&self.turns, range.clone())
                    .map(|turn| here.turned(pieces, turn))
                    .sum::<i32>();
                crossings += range
                    .filter(|piece| !skipped(*piece))
                    .map(|at| {
                        let piece = pieces.piece(at);
                        here.crossings(&piece, self.longitudes_of(&piece, at))
                    })
                    .sum::<i32>();
            }
        }
        self.at_pole - crossings
    }
}

impl Run {
    const EMPTY: Self = Self {
        first: 0,
        last: 0,
        after: 0,
        is_leaf: false,
        wraps: 0,
        low_z: f64::MAX,
        high_z: f64::MIN,
        west: f64::MAX,
        east: f64::MIN,
        from: 0.0,
        to: 0.0,
        ends: [Vector { x: 0.0, y: 0.0, z: 0.0 }; 2],
        strip: None,
    };

    fn of((pieces, known): (&[Piece], &[(f64, f64)]), range: Range<usize>, turns: &[Turn]) -> Self {
        let came_along = turns_among(turns, range.start..range.start + 1).next().map(|turn| turn.came_along);
        let mut run = Self {
            first: number(range.start),
            last: number(range.end),
            is_leaf: true,
            from: came_along.unwrap_or(known[range.start].0),
            to: known[range.end - 1].1,
            ends: [pieces[range.start].start, pieces[range.end - 1].end],
            ..Self::EMPTY
        };
        for turn in turns_among(turns, range.clone()) {
            run.wraps += wraps(turn.came_along, known[turn.piece as usize].0);
        }
        for (piece, (from, to)) in pieces[range.clone()].iter().zip(known[range].iter().copied()) {
            let wraps = wraps(from, to);
            run.wraps += wraps;
            let room_m = piece.reach_m() + ROOM_M;
            run.low_z = run.low_z.min(piece.start.z.min(piece.end.z) - room_m);
            run.high_z = run.high_z.max(piece.start.z.max(piece.end.z) + room_m);
            let off_axis_m = [piece.start, piece.end].map(off_axis_m);
            let nearest_m = off_axis_m[0].min(off_axis_m[1]) - piece.length_m - room_m;
            if wraps != 0 || nearest_m <= 10.0 * room_m || (to - from).abs() > 1.0 {
                (run.west, run.east) = (f64::NEG_INFINITY, f64::INFINITY);
            } else {
                let room = 1.1 * room_m / nearest_m;
                run.west = run.west.min(from.min(to) - room);
                run.east = run.east.max(from.max(to) + room);
            }
        }
        if run.west < -PI || run.east > PI {
            (run.west, run.east) = (f64::NEG_INFINITY, f64::INFINITY);
        }
        run
    }

    fn joined([one, other]: [Self; 2]) -> Self {
        Self {
            first: one.first,
            last: other.last,
            after: 0,
            is_leaf: false,
            wraps: one.wraps + other.wraps,
            low_z: one.low_z.min(other.low_z),
            high_z: one.high_z.max(other.high_z),
            west: one.west.min(other.west),
            east: one.east.max(other.east),
            from: one.from,
            to: other.to,
            ends: [one.ends[0], other.ends[1]],
            strip: None,
        }
    }
}

impl Meridian {
    /// Steps eastwards over the meridian less those westwards, of a way between two longitudes.
    fn stepped_over(&self, from: f64, to: f64, wraps: i32) -> i32 {
        wraps + i32::from(to >= self.longitude) - i32::from(from >= self.longitude)
    }

    /// Whether a piece that runs along the meridian, and ends before it is beside the place, lies to the north; none for
    /// other pieces. To its left or right is rounding then.
    fn past_end_is_north(&self, piece: &Piece, share: f64) -> Option<bool> {
        let up = self.place.unit();
        let north = Vector::new(0.0, 0.0, 1.0) - up * up.z;
        let heads_north = north.dot(piece.along);
        let is_past = !(0.0..=1.0).contains(&share) && heads_north.abs() > 0.5 * north.norm();
        is_past.then_some((share > 1.0) == (heads_north < 0.0))
    }

    /// Crossings at the pole that a piece leaves: the north pole lies to the north of every place, the south pole of none.
    fn turned(&self, pieces: &(impl ByNumber + ?Sized), turn: &Turn) -> i32 {
        let leaves_along = longitudes(&pieces.piece(turn.piece as usize)).0;
        let steps = self.stepped_over(turn.came_along, leaves_along, wraps(turn.came_along, leaves_along));
        if turn.is_north { steps } else { 0 }
    }

    /// Crossings to the north by a run that the place lies beside: those of the straight way between its ends. None if
    /// it does not lie beside it, or too near to that way.
    fn passed_beside(&self, run: &Run, strips: &[Strip]) -> Option<i32> {
        if !strips.get(run.strip?.get() as usize - 1)?.is_beside(self.place) {
            return None;
        }
        let steps = self.stepped_over(run.from, run.to, run.wraps);
        if steps == 0 {
            return Some(0);
        }
        let [from, to] = run.ends.map(|end| end - self.place);
        let left_m = from.cross(to).dot(self.place.unit()) / (to - from).norm();
        // north of the place is where the place lies to the right of a way eastwards, to the left of one westwards
        let is_north = (left_m < 0.0) == (steps > 0);
        (left_m.abs() > CLEAR_M).then_some(if is_north { steps } else { 0 })
    }

    /// Crossings of the meridian to the north of the place, eastwards ones less westwards ones.
    ///
    /// What counts is the way over the surface straight under the chord; a place between that way and the curve has it
    /// on its other side.
    fn crossings(&self, piece: &Piece, (from, to): (f64, f64)) -> i32 {
        let steps = self.stepped_over(from, to, wraps(from, to));
        if steps == 0 && piece.bulge_m == 0.0 {
            // not stepped over, and no place lies between the way and the curve
            return 0;
        }
        let room_m = piece.reach_m() + ROOM_M;
        let (left_m, share) = piece.offset(self.place);
        let is_north = if piece.start.z.max(piece.end.z) + room_m < self.place.z {
            false
        } else if piece.start.z.min(piece.end.z) - room_m > self.place.z {
            true
        } else {
            // north of the place is where the place lies to the right of a way eastwards, to the left of one westwards
            self.past_end_is_north(piece, share).unwrap_or((left_m < 0.0) == (steps > 0))
        };
        let mut crossings = if is_north { steps } else { 0 };
        let is_beside =
            (0.0..=1.0).contains(&share) && (self.place - piece.start).norm() < 2.0 * piece.length_m + room_m;
        if is_beside {
            let curve_m = piece.curve_left_m(share);
            crossings += i32::from(0.0 <= left_m && left_m < curve_m);
            crossings -= i32::from(curve_m <= left_m && left_m < 0.0);
        }
        crossings
    }

    /// As [`beside`], for the meridian of the middle of the piece, whose ends have these longitudes.
    fn sides_of(&self, (piece, (from, to)): (&Piece, (f64, f64)), without: i32, multiple: i32) -> (i32, i32) {
        let steps = self.stepped_over(from, to, wraps(from, to));
        let bends_left = piece.bulge_m > 0.0;
        let bends_right = piece.bulge_m < 0.0;
        if steps == 0 {
            // the meridian passes the whole piece on one side
            let passes_west = from >= self.longitude;
            let heads_north = piece.end.z >= piece.start.z;
            return if passes_west == heads_north {
                (without, without - multiple)
            } else {
                (without + multiple, without)
            };
        }
        // as `Meridian::crossings` counts them for a place a hair to the left or right of the curve
        let left = if bends_right { steps.max(0) - 1 } else { steps.min(0) };
        let right = if bends_left { steps.min(0) + 1 } else { steps.max(0) };
        (without - multiple * left, without - multiple * right)
    }
}

/// How often rings run round places just to the left and just to the right of a piece, if `multiple` rings walk it and
/// `without` is the count at its middle without all of these.
pub(super) fn beside(piece: &Piece, without: i32, multiple: i32) -> (i32, i32) {
    let middle = piece.at(0.5);
    let here = Meridian { place: middle, longitude: longitude(middle) };
    here.sides_of((piece, longitudes(piece)), without, multiple)
}

/// The turns of rings at the poles, in the order of the pieces.
fn turns(pieces: &[Piece], rings: &[WoundRing]) -> Vec<Turn> {
    let mut turns = Vec::new();
    for ring in rings {
        for at in ring.pieces.clone().filter(|at| is_pole(pieces[*at].start)) {
            let before = if at == ring.pieces.start { ring.pieces.end - 1 } else { at - 1 };
            let came_along = longitudes(&pieces[before]).1;
            turns.push(Turn { piece: number(at), came_along, is_north: pieces[at].start.z > 0.0 });
        }
    }
    turns.sort_by_key(|turn| turn.piece);
    turns
}

fn turns_among(turns: &[Turn], range: Range<usize>) -> impl Iterator<Item = &Turn> {
    let first = turns.partition_point(|turn| (turn.piece as usize) < range.start);
    turns[first..].iter().take_while(move |turn| (turn.piece as usize) < range.end)
}

fn is_pole(point: Vector) -> bool {
    off_axis_m(point) < POLE_M
}

fn off_axis_m(point: Vector) -> f64 {
    Vector::new(point.x, point.y, 0.0).norm()
}

/// The longitudes of all pieces; where one ends and the next begins they are worked out once.
fn known_longitudes(pieces: &[Piece]) -> Vec<(f64, f64)> {
    let mut last: Option<([u64; 3], f64)> = None;
    let mut of = |point: Vector| {
        let bits = point.to_array().map(f64::to_bits);
        match last {
            Some((other, known)) if other == bits => known,
            _ => {
                let found = longitude(point);
                last = Some((bits, found));
                found
            }
        }
    };
    pieces.iter().map(|piece| without_poles(piece, (of(piece.start), of(piece.end)))).collect()
}

/// Longitudes of the ends of a piece; of a pole that of the other end.
fn longitudes(piece: &Piece) -> (f64, f64) {
    without_poles(piece, (longitude(piece.start), longitude(piece.end)))
}

fn without_poles(piece: &Piece, (from, to): (f64, f64)) -> (f64, f64) {
    if is_pole(piece.start) {
        (to, to)
    } else if is_pole(piece.end) {
        (from, from)
    } else {
        (from, to)
    }
}

/// Longitude of a point, −π ≤ λ < π.
fn longitude(point: Vector) -> f64 {
    let found = point.y.atan2(point.x);
    if found >= PI { found - TAU } else { found }
}

/// Whether the short way between two longitudes steps over 180°: 1 eastwards, −1 westwards, 0 if not.
fn wraps(from: f64, to: f64) -> i32 {
    let step = to - from;
    i32::from(step < -PI) - i32::from(step >= PI)
}

fn number(at: usize) -> u32 {
    u32::try_from(at).unwrap_or(u32::MAX)
}
