//! Closed strands that meet themselves, lakes that stray: where land and sea are not told apart, and which way the rest turns.
//!
//! A closed line that passes one place twice is two loops from there. Without the shorter one it runs round all places as before but those
//! within half that loop's length of where they part: no point of a closed loop lies farther from another, nor does what it encloses. So
//! outside of such discs, one for each place that is passed twice, the line runs round each place as a line does that meets
//! itself nowhere.

use super::build::LEAST_AREA_M2;
use super::near::{Chains, Found, pairs};
use super::noding::next_in_rings;
use super::piece::Piece;
use super::ring::CutRing;
use super::strands::{Strand, StrandKind, StrandOddity};
use crate::geodesic::{Vector, area_of, from_earth_centred};

/// Where a strand meets itself so often, all about it is in doubt.
const MOST_PLACES: usize = 48;
/// A closed strand that encloses more, in square metres, may as well have land on its other side: 0.4 of the Earth.
const WIDEST_M2: f64 = 2.04e14;
/// Added to the radius of each disc, in metres: what pieces bend off their chords and what counts as one place.
const ROOM_M: f64 = 1.0;

/// What was found.
pub(super) struct Untangled {
    /// Which strands have land on their right.
    pub(super) is_turned: Vec<bool>,
    pub(super) doubts: Vec<(Vector, f64)>,
    pub(super) oddities: Vec<(usize, StrandOddity)>,
}

/// Looks at every island with its lakes.
pub(super) fn untangle(strands: &[Strand], cuts: &[CutRing]) -> Untangled {
    let mut found =
        Untangled { is_turned: vec![false; strands.len()], doubts: Vec::new(), oddities: Vec::new() };
    let mut first = 0;
    while first < strands.len() {
        let lakes = strands[first + 1..].iter().take_while(|strand| strand.kind == StrandKind::Lake).count();
        if strands[first].kind.is_closed_kind() {
            found.island(strands, cuts, first..first + 1 + lakes);
        }
        first += 1 + lakes;
    }
    found
}

impl StrandKind {
    fn is_closed_kind(self) -> bool {
        matches!(self, Self::Island | Self::Lake)
    }
}

impl Untangled {
    fn island(&mut self, strands: &[Strand], cuts: &[CutRing], of: std::ops::Range<usize>) {
        let rings = || (0..).zip(&cuts[of.clone()]);
        let pieces: Vec<Piece> = rings().flat_map(|(_, cut)| cut.pieces.iter().copied()).collect();
        let ring_of: Vec<u32> =
            rings().flat_map(|(ring, cut)| cut.pieces.iter().map(move |_| ring)).collect();
        let next = next_in_rings(ring_of.iter().copied());
        let Found { pairs, gave_up } = pairs(Chains { pieces: &pieces, next: &next }, |_, _| true);
        let crossings = pairs.iter().filter(|pair| pair.meeting.crosses).count();
        let is_hopeless = gave_up || crossings > MOST_PLACES;
        let mut begins = 0;
        for (number, ring) in of.clone().zip(0_u32..) {
            let cut = &cuts[number];
            let of_ring = |at: u32| ring_of[at as usize] == ring;
            let own = pairs.iter().filter(|pair| pair.pieces.into_iter().all(of_ring));
            let places: Vec<Place> = own
                .map(|pair| Place {
                    pieces: pair.pieces.map(|at| at as usize - begins),
                    shares: pair.meeting.shares,
                })
                .collect();
            let strays = ring > 0
                && pairs.iter().any(|pair| {
                    pair.meeting.crosses && pair.pieces.into_iter().filter(|at| of_ring(*at)).count() == 1
                });
            let is_lake = strands[number].kind == StrandKind::Lake;
            self.ring(number, cut, (&places, is_hopeless), is_lake);
            if strays || (ring > 0 && !lies_within(cut, &cuts[of.start])) {
                self.doubt_all(cut);
                self.oddities.push((number, StrandOddity::LakeAstray));
            }
            begins += cut.pieces.len();
        }
    }

    fn ring(&mut self, number: usize, cut: &CutRing, (places, is_hopeless): (&[Place], bool), is_lake: bool) {
        let mut loops = Vec::new();
        if let Some(place) = places.first() {
            let near = from_earth_centred(cut.pieces[place.pieces[0]].at(place.shares[0]));
            self.oddities.push((number, StrandOddity::MeetsItself(near)));
        }
        if is_hopeless || places.len() > MOST_PLACES {
            self.doubt_all(cut);
        } else {
            for place in places {
                let (loop_m, is_inner) = place.shorter_loop(cut);
                self.doubts.push((cut.pieces[place.pieces[0]].at(place.shares[0]), 0.5 * loop_m + ROOM_M));
                loops.extend(place.ways_of_loop(cut, is_inner));
            }
        }
        let area_m2 =
            if places.is_empty() { cut.signed_area_m2() } else { Some(rest_m2(cut, &loops, places)) };
        match area_m2.filter(|area_m2| area_m2.abs() >= LEAST_AREA_M2) {
            None => self.oddities.push((number, StrandOddity::NoArea)),
            Some(area_m2) => {
                // land lies on the left of an island that turns left, and of a lake that turns right
                self.is_turned[number] = (area_m2 > 0.0) == is_lake;
                if area_m2.abs() > WIDEST_M2 {
                    self.doubts.push((Vector::default(), f64::INFINITY));
                    self.oddities.push((number, StrandOddity::TooWide));
                }
            }
        }
    }

    fn doubt_all(&mut self, cut: &CutRing) {
        self.doubts.push(disc_about(cut.pieces.iter().map(|piece| piece.start)));
    }
}

/// A disc that holds a ring of these points, and what the smaller side of it encloses: centre and radius in metres.
pub(super) fn disc_about(points: impl Iterator<Item = Vector> + Clone) -> (Vector, f64) {
    let extent = |of: fn(Vector) -> f64| {
        let values = points.clone().map(of);
        let (low, high) = values.fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)));
        low.midpoint(high)
    };
    let centre = Vector::new(extent(|at| at.x), extent(|at| at.y), extent(|at| at.z));
    let radius_m = points.map(|at| (at - centre).norm()).fold(0.0, f64::max);
    (centre, radius_m + ROOM_M)
}

/// A place that a ring passes twice: on which pieces, and at which shares of them.
struct Place {
    pieces: [usize; 2],
    shares: [f64; 2],
}

impl Place {
    /// The length of the shorter loop from here to here, in metres, and whether it is the one between the two pieces.
    fn shorter_loop(&self, cut: &CutRing) -> (f64, bool) {
        let [one, other] = self.pieces;
        let length_m = |at: usize| cut.pieces[at].length_m;
        let between_m = (one..other).map(length_m).sum::<f64>() - self.shares[0] * length_m(one)
            + self.shares[1] * length_m(other);
        let other_m = cut.perimeter_m() - between_m;
        if between_m <= other_m { (between_m, true) } else { (other_m, false) }
    }

    /// Where along the ring it is passed: how many pieces before, and the share of the next.
    fn at(&self) -> [f64; 2] {
        let at = |which: usize| {
            f64::from(u32::try_from(self.pieces[which]).unwrap_or(u32::MAX)) + self.shares[which]
        };
        [at(0), at(1)]
    }

    /// From where to where along the ring the shorter loop runs; in two parts where the ring begins in it.
    fn ways_of_loop(&self, cut: &CutRing, is_inner: bool) -> Vec<(f64, f64)> {
        let [first, second] = self.at();
        if is_inner {
            return vec![(first, second)];
        }
        let count = f64::from(u32::try_from(cut.pieces.len()).unwrap_or(u32::MAX));
        // the ring begins on the loop, so that its first vertex is no end of it
        vec![(-1.0, first), (second, count)]
    }
}

/// The signed area of a ring without its shorter loops, in square metres.
fn rest_m2(cut: &CutRing, loops: &[(f64, f64)], places: &[Place]) -> f64 {
    let vertices = (0_u32..).zip(&cut.pieces).map(|(at, piece)| (f64::from(at), piece.start));
    // where a loop is left out the way goes on from the place that is passed twice
    let crossings = places.iter().flat_map(|place| {
        let point = cut.pieces[place.pieces[0]].at(place.shares[0]);
        place.at().map(|at| (at, point))
    });
    let is_left_out = |at: f64| loops.iter().any(|(from, to)| *from < at && at < *to);
    let mut rest: Vec<(f64, Vector)> =
        vertices.chain(crossings).filter(|(at, _): &(f64, Vector)| !is_left_out(*at)).collect();
    rest.sort_by(|one, other| one.0.total_cmp(&other.0));
    area_of(rest.into_iter().map(|(_, point)| from_earth_centred(point)))
}

/// Whether a lake lies in its island, as far as one point of its line shows.
fn lies_within(lake: &CutRing, island: &CutRing) -> bool {
    let Some(place) = lake.pieces.first().map(|piece| piece.at(0.5)) else { return false };
    let mut island = island.clone();
    if island.signed_area_m2().is_some_and(|area_m2| area_m2 < 0.0) {
        island.reverse();
    }
    let whole = 0..island.pieces.len();
    super::lines::GivenRings::new((island.pieces, &[whole]), &[false]).hold(place)
}
