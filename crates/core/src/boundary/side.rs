//! What the sides of a boundary are: water that a boat crosses, the shore, or a line that nobody has supplied yet.

use std::sync::Arc;

use super::Boundary;
use super::boxes::Boxes;
use super::circle::Circle;
use super::lines::{Lines, Nearest};
use super::piece::Piece;
use crate::geodesic::{Surface, surface};
use crate::{Metres, Position};

/// Land behind a shore side that does not say how wide it is, in metres (common practice, no source).
const DEFAULT_LAND_M: f64 = 25.0;
/// So many of the sides that came last are compared with a new one: in a file each edge may have a side of its own.
const LOOK_BACK: usize = 16;

/// What a side of a zone is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum SideKind {
    /// A line over open water.
    #[default]
    Open,
    /// The shore: no boat crosses it.
    Shore,
    /// The inner end of open water: a line across a mouth, from one shore to the other.
    Mouth,
    /// The text says no more than "along the coast", and nobody has supplied it: near it no side is sure.
    Unresolved,
}

impl SideKind {
    /// Whether a boat can cross it afloat.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::SideKind;
    /// assert!(SideKind::Mouth.is_crossable() && !SideKind::Shore.is_crossable());
    /// ```
    #[must_use]
    pub const fn is_crossable(self) -> bool {
        match self {
            Self::Open | Self::Mouth => true,
            Self::Shore | Self::Unresolved => false,
        }
    }
}

/// A side of a zone: what it is, and how sure it is.
///
/// # Examples
///
/// ```
/// use takeline::{Metres, Side, SideKind};
///
/// let mut beach = Side::from(SideKind::Shore);
/// beach.level = Some("mean high water".into());
/// beach.uncertainty = Some(Metres::non_negative(5.0)?);
/// # Ok::<(), takeline::InvalidLength>(())
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Side {
    /// What it is.
    pub kind: SideKind,
    /// Where the law has the shore, in its words: "mean high water", "surf line".
    pub level: Option<Arc<str>>,
    /// How far the true line may be off where this side is drawn, 95 %. It is counted in full, on top of what else may be
    /// off, and near this side only.
    ///
    /// Where it is missing, an unresolved side counts half its length, and any other nothing.
    pub uncertainty: Option<Metres>,
    /// How wide the land behind a shore is at least. Where it is missing, 25 m.
    ///
    /// A fix that is drawn inside and may be off by more than this beyond the shore may be in other water: a pier is narrow.
    pub land: Option<Metres>,
}

impl From<SideKind> for Side {
    fn from(kind: SideKind) -> Self {
        Self { kind, ..Self::default() }
    }
}

impl Side {
    /// How far the line may run from where it is drawn, for an edge of this length, in metres.
    pub(super) fn miss_m(&self, length_m: impl FnOnce() -> f64) -> f64 {
        match (self.uncertainty, self.kind) {
            (Some(uncertainty), _) => uncertainty.metres().abs(),
            (None, SideKind::Unresolved) => length_m() / 2.0,
            (None, SideKind::Open | SideKind::Shore | SideKind::Mouth) => 0.0,
        }
    }

    /// How much farther than the side the nearest other water is, in metres.
    fn land_m(&self) -> f64 {
        match self.kind {
            SideKind::Shore => self.land.map_or(DEFAULT_LAND_M, |land| land.metres().abs()),
            SideKind::Open | SideKind::Mouth | SideKind::Unresolved => 0.0,
        }
    }
}

/// The different sides of a boundary; the first is open water.
#[derive(Debug, Clone)]
pub(super) struct SideTable(Vec<Side>);

impl Default for SideTable {
    fn default() -> Self {
        Self(vec![Side::default()])
    }
}

impl SideTable {
    /// The number of a side, which may be one of several that are alike.
    pub(super) fn number(&mut self, side: &Side) -> u32 {
        // neighbours are mostly alike
        let known = self.0.iter().rev().take(LOOK_BACK).position(|known| known == side);
        let number = known.map_or(self.0.len(), |back| self.0.len() - 1 - back);
        if known.is_none() {
            self.0.push(side.clone());
        }
        u32::try_from(number).unwrap_or(u32::MAX)
    }

    pub(super) fn side(&self, number: u32) -> &Side {
        &self.0[(number as usize).min(self.0.len() - 1)]
    }

    pub(super) fn are_all_open(&self) -> bool {
        self.0.iter().all(|side| side.kind == SideKind::Open)
    }
}

/// What the pieces of an outline are, where they are not all open water.
#[derive(Debug, Clone)]
pub(super) struct LineSides {
    table: SideTable,
    /// For each piece of the outline, the number of its side.
    of: Box<[u32]>,
    /// How far each may be off where it is drawn, in metres.
    misses_m: Box<[f64]>,
    /// Boxes about the pieces that can be crossed.
    crossable: Boxes,
    /// The most that a piece counts as nearer than it is drawn, in metres.
    most_m: f64,
}

impl LineSides {
    /// From the pieces of an outline, each with the number of its side and how far it may be off, in metres; `order` has
    /// neighbours beside each other.
    pub(super) fn new(
        table: SideTable,
        pieces: &[Piece],
        side: impl Fn(&Piece) -> (u32, f64),
        order: &[u32],
    ) -> Self {
        let (of, misses_m): (Vec<u32>, Vec<f64>) = pieces.iter().map(side).unzip();
        let is_crossable = |at: &&u32| table.side(of[**at as usize]).kind.is_crossable();
        let crossable = Boxes::new(pieces, order.iter().filter(is_crossable).copied().collect());
        let most_m = misses_m.iter().copied().fold(0.0, f64::max);
        Self { of: of.into(), misses_m: misses_m.into(), crossable, most_m, table }
    }

    /// What a piece is.
    pub(super) fn side(&self, piece: u32) -> &Side {
        self.table.side(self.of.get(piece as usize).copied().unwrap_or(0))
    }

    /// What each piece is, in order.
    pub(super) fn all(&self) -> impl Iterator<Item = &Side> {
        self.of.iter().map(|number| self.table.side(*number))
    }

    /// How much farther than it is drawn other water is behind a piece, in metres: less than nothing where it may be off.
    fn beyond_m(&self, piece: u32) -> f64 {
        self.side(piece).land_m() - self.misses_m.get(piece as usize).copied().unwrap_or(0.0)
    }
}

impl Lines {
    /// The nearest point of pieces that can be crossed; none if there are none. Its side is not settled.
    pub(super) fn nearest_crossable(
        &self,
        place: Position,
        here: &Surface,
        sides: &LineSides,
    ) -> Option<Nearest> {
        self.nearest_in(&sides.crossable, place, here)
    }

    /// The least that other water can be off a place on the water inside, in metres: a shore counts with the land behind it,
    /// and what may be off where it is drawn with that. Below 0 where the place itself may be in it.
    ///
    /// By straight lines through the Earth, which are never longer than the geodesics: 10 cm less at 50 km.
    pub(super) fn to_leave_m(&self, here: &Surface, sides: &LineSides) -> f64 {
        let mut least_m = f64::INFINITY;
        self.walk(here.point, f64::INFINITY, |run| {
            for piece in run {
                let beyond_m = sides.beyond_m(*piece);
                if self.pieces.at_least_m(*piece as usize, here.point) + beyond_m < least_m {
                    let away_m = self.pieces.get(*piece as usize).foot(here.point).chord_m;
                    least_m = least_m.min(away_m + beyond_m);
                }
            }
            (least_m + sides.most_m).max(0.0)
        });
        least_m
    }

    /// The unresolved side that reaches nearest to a place with what it may be off, and that, in metres; none if none reaches
    /// within so many metres.
    fn unresolved_within(&self, here: &Surface, sides: &LineSides, within_m: f64) -> Option<(Side, f64)> {
        let (mut least_m, mut found) = (within_m, None);
        self.walk(here.point, f64::INFINITY, |run| {
            let unresolved = run.iter().filter(|piece| sides.side(**piece).kind == SideKind::Unresolved);
            for piece in unresolved {
                let off_m = sides.misses_m.get(*piece as usize).copied().unwrap_or(0.0);
                let reach_m = self.pieces.get(*piece as usize).foot(here.point).chord_m - off_m;
                if reach_m <= least_m {
                    (least_m, found) = (reach_m, Some((*piece, off_m)));
                }
            }
            (least_m + sides.most_m).max(0.0)
        });
        found.map(|(piece, off_m)| (sides.side(piece).clone(), off_m))
    }
}

/// A run of a boundary whose sides are of one kind.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct OutlineRun {
    /// What they are.
    pub kind: SideKind,
    /// In order, the zone on the left; at most 2 km apart.
    pub positions: Vec<Position>,
    /// Whether it is a whole ring, so that the last position is joined to the first.
    pub is_closed: bool,
}

impl Boundary {
    /// Length of its outline, in metres: what parts share is left out, and so is a cut along 180°. The geodesic reading where
    /// edges are unstated.
    #[must_use]
    pub fn outline_length(&self) -> Metres {
        let lines_m = self.readings.first().map_or(0.0, |(_, lines)| lines.length_m());
        Metres::computed(lines_m + self.circles.iter().map(Circle::perimeter_m).sum::<f64>())
    }

    /// The unresolved side that reaches nearest to a place with what it may be off, and that, in metres; none if none reaches
    /// within so many metres of it. By the first reading of edges.
    pub(crate) fn unresolved_within(&self, place: Position, within_m: f64) -> Option<(Side, f64)> {
        let here = surface(place);
        let (lines, sides) = self.lines_with_sides()?;
        lines.unresolved_within(&here, sides, within_m)
    }

    /// The boundary for drawing, as [`Boundary::outlines`], cut where one kind of side meets another.
    ///
    /// The runs of a ring come in order, and where two meet both have the position. A ring of one kind is one run.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Boundary, EdgeModel, PartSpec, Position, RingSpec, Side, SideKind};
    /// let corners = [(45.10, -30.14), (45.10, -30.12), (45.12, -30.12), (45.12, -30.14)];
    /// let vertices = corners.iter().map(|(lat, lon)| Position::from_degrees(*lat, *lon)).collect::<Result<_, _>>()?;
    /// let sides = [SideKind::Open, SideKind::Shore, SideKind::Open, SideKind::Open].map(Side::from).to_vec();
    /// let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; 4], sides };
    /// let reserve = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }])?;
    /// let kinds: Vec<SideKind> = reserve.outline_runs().iter().map(|run| run.kind).collect();
    /// assert_eq!(kinds, [SideKind::Shore, SideKind::Open]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn outline_runs(&self) -> Vec<OutlineRun> {
        let runs = self.drawn(|side| side.kind).flat_map(runs_of);
        runs.map(|(kind, positions, is_closed)| OutlineRun { kind, positions, is_closed }).collect()
    }

    /// The stretches of it whose sides are so, as lines of positions at most 2 km apart, under the first reading; for drawing,
    /// and for what no boat crosses. One that is a whole ring ends where it begins. None of a boundary all of which is open water.
    #[must_use]
    pub fn stretches(&self, is_so: impl Fn(&Side) -> bool) -> Vec<Vec<Position>> {
        if !self.has_sides() {
            return Vec::new();
        }
        let runs = self.drawn(is_so).flat_map(runs_of).filter(|(is_so, ..)| *is_so);
        let closed = runs.map(|(_, mut positions, is_closed)| {
            positions.extend(positions.first().copied().filter(|_| is_closed));
            positions
        });
        closed.collect()
    }
}

/// What a run of a ring is, its positions, and whether it is the whole ring, so that the last is joined to the first.
type RunOf<K> = (K, Vec<Position>, bool);

/// Cuts a ring, each position of which says what the side is that leaves it, where that changes.
fn runs_of<K: PartialEq + Copy>(mut ring: Vec<(Position, K)>) -> Vec<RunOf<K>> {
    let Some(first) = (1..ring.len()).find(|at| ring[*at].1 != ring[*at - 1].1) else {
        let kind = ring.first().map(|(_, kind)| *kind);
        let positions = ring.into_iter().map(|(position, _)| position).collect();
        return kind.map(|kind| (kind, positions, true)).into_iter().collect();
    };
    // begun where a run begins, so that none is cut in two by where the ring happens to start
    ring.rotate_left(first);
    let closing = ring[0].0;
    let mut runs: Vec<RunOf<K>> = Vec::new();
    for (position, kind) in ring {
        match runs.last_mut() {
            Some((last, positions, _)) if *last == kind => positions.push(position),
            last => {
                if let Some((_, positions, _)) = last {
                    positions.push(position);
                }
                runs.push((kind, vec![position], false));
            }
        }
    }
    if let Some((_, positions, _)) = runs.last_mut() {
        positions.push(closing);
    }
    runs
}
