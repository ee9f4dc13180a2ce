//! The stand-off line as it is given out.

use std::num::NonZero;

use takeline::{Boundary, GeodesicSegment, InvalidBoundary, Metres, Position, SideKind};

use super::complete::missed;
use super::level::{Followed, Level, ON_A_MAP_DEG, gap_m, part_of, without_repeats};
use super::thin::{Span, thinned};
use super::trace::{Rough, rough};

/// The least distance that is kept, in metres: what is less is no stand-off, and no plane shows it.
const LEAST_M: f64 = 1.0;
/// The least tolerance, in metres.
const LEAST_TOLERANCE_M: f64 = 0.01;
/// What the last look may find beyond the tolerance, in metres: distances are good to a millimetre.
const ROUNDING_M: f64 = 0.002;
/// Where a line changes from water to shore is found to this, in metres.
const CUT_TO_M: f64 = 0.5;
/// Between places so far apart, in metres, a line of zones with shores is asked what is nearest: a shorter shore may be missed.
const ASKED_EVERY_M: f64 = 20.0;
/// A side that can be crossed counts as nearest where no other is nearer by more than this, in metres.
const NEAREST_TO_M: f64 = 0.01;

/// On which side of the zones a line runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum StandOffSide {
    /// In the water round them.
    Outside,
    /// In them.
    Inside,
}

/// What a stand-off line has to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StandOffWanted {
    /// How far off the boundary.
    pub distance: Metres,
    /// On which side.
    pub side: StandOffSide,
    /// How much farther off than that the line may run, so that fewer points are needed. It never runs nearer.
    pub tolerance: Metres,
    /// How many points one line may have; a longer one is given in several, each of which begins where the one before ends.
    pub most_points: Option<NonZero<usize>>,
}

/// A line all of whose points are so far off the boundary of zones.
///
/// Between its points it runs straight: on geodesics, on rhumb lines or on lines that are straight in longitude and latitude, all of
/// which keep to it.
///
/// # Examples
///
/// ```
/// use takeline::zone::Extent;
/// use takeline::Metres;
/// use takeline_drafting::standoff::{StandOff, StandOffSide, StandOffWanted};
///
/// let bytes = std::fs::read("../../demo-data/zones/marrowick.json")?;
/// let loaded = takeline::zone_file::read("marrowick.json", &bytes)?;
/// let boundaries: Vec<_> = loaded.zones.iter().filter_map(|zone| match &zone.extent {
///     Extent::Known(boundary) => Some(boundary),
///     Extent::Unknown { .. } => None,
/// }).collect();
/// let wanted = StandOffWanted {
///     distance: Metres::new(200.0)?,
///     side: StandOffSide::Outside,
///     tolerance: Metres::new(0.1)?,
///     most_points: None,
/// };
/// let kept = StandOff::of(&boundaries, &wanted)?;
/// assert!(kept.nearest.metres() >= 199.99 && kept.farthest.metres() <= 200.11);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct StandOff {
    /// The lines.
    pub lines: Vec<StandOffLine>,
    /// The least distance from the boundary that was found on them.
    pub nearest: Metres,
    /// The greatest.
    pub farthest: Metres,
    /// At how many places the distance was looked at: at each point and at ten places between it and the next.
    pub places_looked_at: usize,
    /// Where a line would have run along what no boat crosses.
    pub left_out: Vec<LeftOut>,
    /// Water between two lines, or between two arms of one, that is narrower than this may not be shown.
    pub narrowest_shown: Metres,
}

/// One line.
#[derive(Debug, Clone, PartialEq)]
pub struct StandOffLine {
    /// Its points in order, the zones on the left.
    pub positions: Vec<Position>,
    /// Whether it comes back to where it began; the first point is not said again at the end.
    pub is_closed: bool,
}

/// A stretch that was left out.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeftOut {
    /// What kind of side it would have run along: a shore, or a side that nobody has supplied.
    pub along: SideKind,
    /// Where the line ends before it.
    pub from: Position,
    /// Where the next one begins; the same place where all of a ring was left out.
    pub to: Position,
}

/// Why there is no stand-off line.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NoStandOff {
    /// No zone was given whose line is known.
    #[error("there is no zone whose line is known")]
    NoZone,
    /// The distance is no length from 1 m on.
    #[error("a stand-off is 1 m at least, not {} m", .0.metres())]
    Distance(Metres),
    /// The tolerance is below 1 cm, or not less than the distance.
    #[error("the tolerance is from 0.01 m to less than the stand-off, not {} m", .0.metres())]
    Tolerance(Metres),
    /// Lines of fewer than two points.
    #[error("a line has 2 points at least")]
    Points,
    /// The zones and the distance reach farther than 2000 km from their middle.
    #[error(
        "the zones, or a line so far from them, reach more than 2000 km from their middle, where 0.1 m cannot be held; take fewer of them, or a smaller distance"
    )]
    TooWide,
    /// The zones cannot be joined.
    #[error("the zones cannot be joined")]
    Joined(#[from] InvalidBoundary),
    /// No place is so far inside.
    #[error("no place is so far inside")]
    NowhereInside,
    /// The line would run along the shore, or along sides that nobody has supplied, all the way.
    #[error("it would run along what no boat crosses all the way")]
    AlongShoresOnly,
    /// The line reaches farther than 85° north or south, where what is straight on one map is not on another.
    #[error(
        "it reaches farther than 85° north or south, where no line is held that programs draw in different ways"
    )]
    NearPole,
    /// A place at the distance has no line by it.
    #[error("a line past {at} was not found")]
    Missed {
        /// Where.
        at: Position,
    },
    /// A place on the line is not where it has to be.
    #[error("at {} it is {:.2} m off the boundary, which is not within the tolerance", .at, .distance.metres())]
    NotHeld {
        /// Where.
        at: Position,
        /// How far off the boundary that is.
        distance: Metres,
    },
}

impl StandOff {
    /// Draws the line about what boundaries hold together.
    ///
    /// The distance is that of [`Boundary::how_far`]: outside from the nearest of all readings of unstated edges, inside from the
    /// nearest of all that hold the place. What the line of a zone itself may be off is not counted.
    ///
    /// Only sides that a boat can cross have a stand-off line. Where a shore, or a side that nobody has supplied, is nearer than all
    /// of those, the line is left out and ends open.
    ///
    /// # Errors
    ///
    /// [`NoStandOff`] says why there is none. Nothing is given out whose distance was not looked at.
    pub fn of(boundaries: &[&Boundary], wanted: &StandOffWanted) -> Result<Self, NoStandOff> {
        check(wanted)?;
        let joined;
        let boundary = match boundaries {
            [] => return Err(NoStandOff::NoZone),
            [one] => *one,
            several => {
                let parts: Vec<_> = several.iter().flat_map(|one| one.parts()).collect();
                joined = Boundary::build(&parts)?;
                &joined
            }
        };
        let (distance_m, tolerance_m) = (wanted.distance.metres(), wanted.tolerance.metres());
        let level = Level { boundary, side: wanted.side, at_m: distance_m + tolerance_m / 2.0 };
        let Rough { rings, blind_m } = rough(boundary, wanted.side, distance_m + tolerance_m)?;
        if rings.is_empty() {
            return Err(NoStandOff::NowhereInside);
        }
        let (mut lines, mut left_out) = (Vec::new(), Vec::new());
        for ring in traced(&level, rings, tolerance_m / 8.0) {
            lines.extend(afloat(boundary, &level, ring, &mut left_out));
        }
        if lines.is_empty() {
            return Err(NoStandOff::AlongShoresOnly);
        }
        let is_polar = |place: &Position| place.latitude().degrees().abs() > ON_A_MAP_DEG;
        if lines.iter().flat_map(|line| &line.positions).any(is_polar) {
            return Err(NoStandOff::NearPole);
        }
        let lines: Vec<StandOffLine> =
            lines.into_iter().flat_map(|line| fewer(&level, &line, wanted)).collect();
        // beside a shore a line ends open, and the next place that a boat can reach may be some metres on
        let counts = |place: Position| !boundary.has_sides() || is_open(boundary, place);
        if let Some(at) = missed(&level, &lines, (tolerance_m, blind_m), counts) {
            return Err(NoStandOff::Missed { at });
        }
        looked_over(&Level { at_m: distance_m, ..level }, lines, left_out, (tolerance_m, blind_m))
    }

    /// How many points its lines have together.
    #[must_use]
    pub fn points(&self) -> usize {
        self.lines.iter().map(|line| line.positions.len() + usize::from(line.is_closed)).sum()
    }
}

impl StandOffLine {
    /// Its points, the first one again at the end of a closed line.
    pub fn all_the_way(&self) -> impl Iterator<Item = Position> + '_ {
        let again = self.positions.first().filter(|_| self.is_closed);
        self.positions.iter().chain(again).copied()
    }
}

fn check(wanted: &StandOffWanted) -> Result<(), NoStandOff> {
    let (distance_m, tolerance_m) = (wanted.distance.metres(), wanted.tolerance.metres());
    if !(LEAST_M..).contains(&distance_m) {
        return Err(NoStandOff::Distance(wanted.distance));
    }
    if !(LEAST_TOLERANCE_M..distance_m).contains(&tolerance_m) {
        return Err(NoStandOff::Tolerance(wanted.tolerance));
    }
    match wanted.most_points {
        Some(most) if most.get() < 2 => Err(NoStandOff::Points),
        Some(_) | None => Ok(()),
    }
}

/// Rough rings brought to a level, to a tolerance in metres.
fn traced(level: &Level<'_>, rings: Vec<Vec<Position>>, tolerance_m: f64) -> Vec<Vec<Position>> {
    let followed: Vec<(Vec<Position>, Followed)> = rings
        .into_iter()
        .map(|ring| without_repeats(ring.into_iter().filter_map(|place| level.reach(place)).collect()))
        .map(|reached| {
            let followed = level.follow(&reached, tolerance_m);
            (reached, followed)
        })
        .collect();
    let walked: Vec<Position> = followed.iter().flat_map(|(_, ring)| ring.walked.iter().copied()).collect();
    // where a gap is narrower than a rough line can show, what lies behind it was walked round, and is a ring of its own that does
    // not close
    let is_new = |(reached, ring): &(Vec<Position>, Followed)| {
        ring.is_whole || !level.is_walked(reached, &walked, tolerance_m)
    };
    let rings = followed.into_iter().filter(is_new).map(|(_, ring)| without_repeats(ring.places));
    rings.filter(|ring| ring.len() > 2).collect()
}

/// What is left of a ring without what runs along shores.
fn afloat(
    boundary: &Boundary,
    level: &Level<'_>,
    ring: Vec<Position>,
    left_out: &mut Vec<LeftOut>,
) -> Vec<StandOffLine> {
    if !boundary.has_sides() {
        return vec![StandOffLine { positions: ring, is_closed: true }];
    }
    let mut ring = close_together(&ring);
    let is_open = |place: Position| is_open(boundary, place);
    let along = |place: Position| boundary.side_nearest(place).kind;
    let Some(first) = ring.iter().position(|place| !is_open(*place)) else {
        return vec![StandOffLine { positions: ring, is_closed: true }];
    };
    let start = ring[first];
    ring.rotate_left(first);
    ring.push(start);
    let mut lines: Vec<StandOffLine> = Vec::new();
    let mut before: Option<(Position, bool)> = None;
    for place in ring {
        let is_open_here = is_open(place);
        if let Some((last, was_open)) = before
            && was_open != is_open_here
        {
            let cut = if was_open { (last, place) } else { (place, last) };
            let cut = shore_cut(level, cut, &is_open);
            if !was_open {
                lines.push(StandOffLine { positions: Vec::new(), is_closed: false });
            }
            lines.last_mut().into_iter().for_each(|line| line.positions.push(cut));
        }
        if is_open_here {
            lines.last_mut().into_iter().for_each(|line| line.positions.push(place));
        }
        before = Some((place, is_open_here));
    }
    let mut lines: Vec<StandOffLine> = lines
        .into_iter()
        .map(|line| StandOffLine { positions: without_repeats(line.positions), ..line })
        .collect();
    lines.retain(|line| line.positions.len() > 1);
    left_out.extend(gaps(&lines, start, along));
    lines
}

/// Whether a side that can be crossed is nearest.
fn is_open(boundary: &Boundary, place: Position) -> bool {
    let nearest_m = boundary.locate(place).signed_distance.metres().abs();
    let crossable = boundary.locate_crossable(place);
    crossable.is_some_and(|located| located.signed_distance.metres().abs() <= nearest_m + NEAREST_TO_M)
}

/// A ring with more places on its straight lines.
fn close_together(ring: &[Position]) -> Vec<Position> {
    let next = ring.iter().cycle().skip(1);
    let mut places = Vec::with_capacity(ring.len());
    for (from, to) in ring.iter().zip(next) {
        let way = GeodesicSegment::between(*from, *to);
        let steps = (way.length().metres() / ASKED_EVERY_M).ceil().max(1.0);
        places.push(*from);
        let mut step = 1.0;
        while step < steps {
            places.extend(part_of(&way, step / steps));
            step += 1.0;
        }
    }
    places
}

/// The last place of a line that a boat can reach, between one that is such and one that is not.
fn shore_cut(
    level: &Level<'_>,
    (mut open, mut closed): (Position, Position),
    is_open: &impl Fn(Position) -> bool,
) -> Position {
    while gap_m(open, closed) > CUT_TO_M {
        let way = GeodesicSegment::between(open, closed);
        let Some(middle) = part_of(&way, 0.5).and_then(|place| level.reach(place)) else { return open };
        let before_m = way.length().metres();
        if is_open(middle) {
            open = middle;
        } else {
            closed = middle;
        }
        if gap_m(open, closed) > 0.9 * before_m {
            return open;
        }
    }
    open
}

fn gaps(lines: &[StandOffLine], start: Position, along: impl Fn(Position) -> SideKind) -> Vec<LeftOut> {
    if lines.is_empty() {
        return vec![LeftOut { along: along(start), from: start, to: start }];
    }
    let ends =
        |at: usize| Some((*lines[at].positions.last()?, *lines[(at + 1) % lines.len()].positions.first()?));
    // what was left out last is where the ring was cut open, on a shore for sure
    let kind = |at: usize, from: Position| if at + 1 == lines.len() { along(start) } else { along(from) };
    let gap = |at: usize| ends(at).map(|(from, to)| LeftOut { along: shore_kind(kind(at, from)), from, to });
    (0..lines.len()).filter_map(gap).collect()
}

/// At the very end of a line what it can follow and what it cannot are equally near.
fn shore_kind(kind: SideKind) -> SideKind {
    if kind.is_crossable() { SideKind::Shore } else { kind }
}

/// A line with fewer points, in pieces of so many as are allowed.
fn fewer(level: &Level<'_>, line: &StandOffLine, wanted: &StandOffWanted) -> Vec<StandOffLine> {
    let tolerance_m = wanted.tolerance.metres();
    let span = Span { least_m: -tolerance_m / 2.0, most_m: tolerance_m / 2.0 };
    let all: Vec<Position> = line.all_the_way().collect();
    let mut kept = thinned(level, &all, 5.0 / 16.0 * tolerance_m, span);
    let most = wanted.most_points.map_or(usize::MAX, NonZero::get);
    if kept.len() <= most {
        if line.is_closed {
            kept.pop();
        }
        return vec![StandOffLine { positions: kept, is_closed: line.is_closed }];
    }
    let mut pieces = Vec::new();
    let mut at = 0;
    while at + 1 < kept.len() {
        let end = (at + most).min(kept.len());
        pieces.push(StandOffLine { positions: kept[at..end].to_vec(), is_closed: false });
        at = end - 1;
    }
    pieces
}

/// Looks at the distance all along the lines.
fn looked_over(
    level: &Level<'_>,
    lines: Vec<StandOffLine>,
    left_out: Vec<LeftOut>,
    (tolerance_m, blind_m): (f64, f64),
) -> Result<StandOff, NoStandOff> {
    let span = -ROUNDING_M..=tolerance_m + ROUNDING_M;
    let (mut least_m, mut most_m, mut looked_at) = (f64::INFINITY, f64::NEG_INFINITY, 0);
    for line in &lines {
        let places: Vec<Position> = line.all_the_way().collect();
        for (at, place) in places.iter().enumerate() {
            let next = places.get(at + 1).map(|next| GeodesicSegment::between(*place, *next));
            let on_the_way = next.iter().flat_map(|way| level.along(way));
            for beyond_m in std::iter::once(level.beyond_m(*place)).chain(on_the_way) {
                if !span.contains(&beyond_m) {
                    let distance = Metres::new(level.at_m + beyond_m).unwrap_or(Metres::ZERO);
                    return Err(NoStandOff::NotHeld { at: *place, distance });
                }
                least_m = least_m.min(beyond_m);
                most_m = most_m.max(beyond_m);
                looked_at += 1;
            }
        }
    }
    let metres = |metres: f64| Metres::new(metres).unwrap_or(Metres::ZERO);
    Ok(StandOff {
        lines,
        nearest: metres(level.at_m + least_m),
        farthest: metres(level.at_m + most_m),
        places_looked_at: looked_at,
        left_out,
        narrowest_shown: metres(blind_m),
    })
}
