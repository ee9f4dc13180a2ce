//! The lines that no boat crosses, as seen from a place: coasts, and sides of zones that no boat crosses either.
//!
//! **Afloat or ashore.** A way that begins in the water ends at the first line it meets; to touch a vertex is to meet it. A boat on the
//! beach has to be able to leave, though, and a beach is only known to within its uncertainty. So where the place lies on the land's side
//! of the nearest line, or on that line, and no farther from it than that and the doubt of the place in quadrature, the straight way may *launch*: its first
//! stretch over land does not count, if it comes off that land within as much. Everything that it meets later counts, the same
//! line included: no way leads over land but for this first stretch. A way that stays on land meets a line at 0, and so does every
//! way from farther inland. Of an open line nobody knows the land's side, so a boat on it, or beside it, crosses it nowhere.

use std::cell::OnceCell;

use super::Coast;
use super::skyline::Skyline;
use crate::Position;
use crate::boundary::{NearStrand, Ray, Strand, StrandKind, Strands, TOUCH_M};
use crate::geodesic::{Surface, Vector, surface};

/// How far past a line it is asked which side the way is on, in metres.
const PAST_M: f64 = 0.1;
/// More lines than these are not crossed while launching.
const MOST_LAUNCHES: usize = 1_000;

/// A line that no boat crosses, other than a coast's: its vertices, joined by geodesics.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct NoCrossing {
    pub(crate) positions: Vec<Position>,
    /// Whether land lies on the left of it. If not, nobody knows the side.
    pub(crate) has_land_on_left: bool,
    /// How far off the line may lie, 95 %, in metres.
    pub(crate) uncertainty_m: f64,
}

/// The lines that no boat crosses, as seen from a place.
#[derive(Debug)]
pub(crate) struct Barrier<'a> {
    coasts: Vec<&'a Strands>,
    more: Option<Strands>,
    about: Position,
    /// How far off that place may be, in metres.
    doubt_m: f64,
    here: Surface,
    within_m: f64,
    start: Start,
    skyline: OnceCell<Skyline>,
}

/// How a way begins.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Start {
    Afloat,
    /// On land or on its line, so that a way may launch within so many metres.
    Ashore {
        launch_m: f64,
        is_on_line: bool,
    },
    Inland,
}

impl<'a> Barrier<'a> {
    /// The lines of coasts and others, as seen from a place that may be off by `doubt_m`; those farther off than `within_m` are of
    /// no interest.
    ///
    /// Lines that cannot be (no two vertices, an edge across half the Earth) are left out: zones and coasts hold none.
    pub(crate) fn new(
        coasts: &[&'a Coast],
        more: &[NoCrossing],
        (about, doubt_m): (Position, f64),
        within_m: f64,
    ) -> Self {
        let strand = |line: &NoCrossing| Strand {
            positions: line.positions.clone(),
            kind: if line.has_land_on_left { StrandKind::LandOnLeft } else { StrandKind::Open },
            uncertainty_m: line.uncertainty_m,
        };
        let mut strands: Vec<Strand> = more.iter().map(strand).collect();
        let more = loop {
            match Strands::build(&mut strands) {
                Ok((built, _)) => break (!built.is_empty()).then_some(built),
                Err((refused, _, _)) => drop(strands.remove(refused)),
            }
        };
        let coasts = coasts.iter().map(|coast| coast.strands()).collect();
        let here = surface(about);
        let mut barrier = Self {
            coasts,
            more,
            about,
            doubt_m,
            here,
            within_m,
            start: Start::Afloat,
            skyline: OnceCell::new(),
        };
        barrier.start = barrier.start_at(here.point);
        barrier
    }

    fn parts(&self) -> impl Iterator<Item = &Strands> {
        self.coasts.iter().copied().chain(&self.more)
    }

    /// Whether there are no lines at all.
    pub(crate) fn is_empty(&self) -> bool {
        self.parts().next().is_none()
    }

    /// Where the straight way, the geodesic that leaves on this bearing, first meets a line: how many metres on, none if it meets none
    /// within `way_m`. What a start on a line or on land means is said above.
    ///
    /// Exact on the ellipsoid: within 1 mm, up to some thousand kilometres. Ways that pass within 1 mm of a vertex meet it.
    pub(crate) fn met_at_m(&self, from: Position, bearing_deg: f64, way_m: f64) -> Option<f64> {
        let ray = Ray::new(from, bearing_deg);
        let start = if from == self.about { self.start } else { self.start_at(surface(from).point) };
        match start {
            Start::Inland => Some(0.0),
            Start::Afloat => self.first_m(&ray, -1.0, way_m),
            Start::Ashore { launch_m, is_on_line } => self.launched(&ray, (launch_m, is_on_line), way_m),
        }
    }

    /// Whether every straight way from the place that the barrier is about, on bearings clockwise `from_deg` to `to_deg`, meets a line
    /// before `beyond_m`. Says no where it is not sure: bearings are widened by 10⁻⁵ degrees, and a line counts with the far end of
    /// each short stretch of it.
    ///
    /// The first time it is asked it looks at every stretch about, some 0.2 µs each; then it takes well under a microsecond.
    pub(crate) fn covers(&self, (from_deg, to_deg): (f64, f64), beyond_m: f64) -> bool {
        let launch_m = match self.start {
            Start::Inland => return true,
            Start::Afloat => 0.0,
            Start::Ashore { launch_m, .. } => launch_m + TOUCH_M,
        };
        let skyline = self.skyline.get_or_init(|| {
            let mut stretches = Vec::new();
            for part in self.parts() {
                part.pieces_within(self.here.point, self.within_m, |stretch| {
                    if launch_m <= 0.0 || stretch.away_m(self.here.point) > launch_m {
                        stretches.push(stretch);
                    }
                });
            }
            Skyline::new((self.about, &self.here), &stretches)
        });
        skyline.farthest_m(from_deg, to_deg) <= beyond_m
    }

    fn first_m(&self, ray: &Ray, after_m: f64, way_m: f64) -> Option<f64> {
        let found = self.parts().filter_map(|part| ray.first_meeting_m(part, after_m, way_m));
        found.min_by(f64::total_cmp)
    }

    fn nearest(&self, place: Vector) -> Option<NearStrand> {
        let mut nearest: Option<NearStrand> = None;
        for part in self.parts() {
            let within_m = nearest.map_or(f64::INFINITY, |near| near.away_m);
            nearest = part.nearest_strand(place, within_m).filter(|near| near.away_m < within_m).or(nearest);
        }
        nearest
    }

    /// Whether the place is surely on land, so that no way begins there.
    pub(crate) fn starts_inland(&self) -> bool {
        self.start == Start::Inland
    }

    fn start_at(&self, place: Vector) -> Start {
        let Some(near) = self.nearest(place) else { return Start::Afloat };
        let launch_m = near.uncertainty_m.hypot(self.doubt_m);
        let is_on_line = near.away_m <= TOUCH_M;
        match near.is_land_side {
            Some(true) if near.away_m > launch_m.max(TOUCH_M) => Start::Inland,
            Some(is_land) if is_land || is_on_line => Start::Ashore { launch_m, is_on_line },
            Some(_) | None => Start::Afloat,
        }
    }

    /// The way from ashore: over land to the water first, then as any way.
    fn launched(&self, ray: &Ray, (launch_m, is_on_line): (f64, bool), way_m: f64) -> Option<f64> {
        let mut off_m = if is_on_line { Some(0.0) } else { self.first_m(ray, -1.0, way_m) };
        for _ in 0..MOST_LAUNCHES {
            let Some(at_m) = off_m.filter(|at_m| *at_m <= launch_m.max(TOUCH_M)) else { break };
            let next_m = self.first_m(ray, at_m + 2.0 * TOUCH_M, way_m);
            let past_m = PAST_M.min(0.5 * (next_m.unwrap_or(f64::INFINITY) - at_m));
            let past = self.nearest(ray.at(at_m + past_m));
            if past.is_some_and(|near| near.is_land_side == Some(false)) {
                return next_m;
            }
            off_m = next_m;
        }
        Some(0.0)
    }
}
