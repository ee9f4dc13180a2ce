//! A boundary as a whole: where a position is of it, and how far.

use std::f64::consts::PI;
use std::ops::Range;

use super::candidates::Trail;
use super::circle::Circle;
use super::lines::{self, Lines};
use super::piece::Piece;
use super::ring::EdgeReading;
use super::side::{LineSides, Side};
use super::spec::HeldPart;
use super::{InvalidBoundary, PartSpec, build};
use crate::geodesic::{SHORT_M, Surface, Vector, direct, from_earth_centred, inverse, on_surface, surface};
use crate::{Metres, Position, TrueBearing};

/// How far straight lines may leave a densified boundary, in metres.
const DENSIFIED_TO_M: f64 = 1e-3;

/// A boundary of any number of parts and holes, ready to be asked.
///
/// It may cross 180°, hold a pole, be 20 m or 10 000 km wide. Each edge runs as its own [`super::EdgeModel`] says. The zone is the
/// union of its parts, which may touch, share borders and overlap: what lies between them is no boundary. A ring encloses the smaller of the two areas that it bounds.
///
/// # Examples
///
/// ```
/// use takeline::{Boundary, EdgeModel, PartSpec, Position, RingSpec};
/// let corners = [(45.12, -30.14), (45.12, -30.12), (45.10, -30.12), (45.10, -30.14)];
/// let vertices = corners.iter().map(|(lat, lon)| Position::from_degrees(*lat, *lon)).collect::<Result<Vec<_>, _>>()?;
/// let exterior = RingSpec { vertices, edges: vec![EdgeModel::RhumbLine; 4], sides: Vec::new() };
/// let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }])?;
/// let located = boundary.locate(Position::from_degrees(45.11, -30.1395)?);
/// assert_eq!(located.signed_distance.metres().round(), -39.0); // 0.0005° of longitude inside
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct Boundary {
    /// One set of lines, or one per reading where unstated edges differ enough to matter.
    pub(super) readings: Vec<(EdgeReading, Lines)>,
    pub(super) circles: Vec<Circle>,
    largest_arc_closure_error_m: f64,
    small_gap_m: f64,
    perimeter_m: f64,
    /// What it was built from, to build unions.
    parts: std::sync::Arc<[HeldPart]>,
}

/// Where a position lies with respect to a boundary.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Located {
    /// Geodesic distance to the nearest point of the boundary, negative inside. Where unstated edges have several
    /// readings: the middle between the smallest and the largest.
    pub signed_distance: Metres,
    /// Half of the span of the readings, and what an arc misses its printed circle by; zero for stated straight edges.
    pub reading_doubt: Metres,
    /// The smallest signed distance of any reading.
    pub least: Metres,
    /// The largest signed distance of any reading.
    pub greatest: Metres,
    /// The nearest boundary point, under the reading that has it nearest.
    pub nearest: Position,
    /// The true bearing from the position to it.
    pub bearing: TrueBearing,
}

/// How far a position lies off a boundary; see [`Located`], which says where the nearest point is too.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct HowFar {
    /// Geodesic distance to the nearest point of the boundary, negative inside; the middle of all readings.
    pub signed_distance: Metres,
    /// Half of the span of the readings, and what an arc misses its printed circle by.
    pub reading_doubt: Metres,
    /// The smallest signed distance of any reading.
    pub least: Metres,
    /// The largest signed distance of any reading.
    pub greatest: Metres,
    /// How far other water is at least from a boat that is drawn inside, where some sides are shore: the land behind a shore
    /// counts with it. What edges may be off is taken off. None where the position is drawn outside under some reading, or all
    /// sides can be crossed.
    pub to_leave: Option<Metres>,
}

impl HowFar {
    /// What the edges may be off where they are drawn, in metres, beyond the span of their readings.
    pub(crate) fn missed_m(&self) -> f64 {
        self.reading_doubt.metres() - (self.greatest.metres() - self.least.metres()) / 2.0
    }

    /// The least that the signed distance can be, whatever way edges are read, and wherever those run that may be off.
    pub(crate) fn least_known_m(&self) -> f64 {
        self.least.metres() - self.missed_m()
    }

    /// The same of the greatest, for a boat afloat: beyond a shore it does not count as outside.
    pub(crate) fn greatest_known_m(&self) -> f64 {
        let drawn_m = self.greatest.metres() + self.missed_m();
        self.to_leave.map_or(drawn_m, |to_leave| drawn_m.min(-to_leave.metres()))
    }
}

/// How far a position lies off a boundary, with what it takes to tell where the nearest point is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Off {
    pub(crate) far: HowFar,
    pub(super) foot: Foot,
}

impl Off {
    /// The same with the nearest point, and the bearing to it from the position that was asked about.
    pub(crate) fn located(self, position: Position) -> Located {
        self.located_from(position, &surface(position))
    }

    pub(super) fn located_from(self, position: Position, here: &Surface) -> Located {
        let HowFar { signed_distance, reading_doubt, least, greatest, to_leave: _ } = self.far;
        let (nearest, azimuth_deg) = self.foot.seen_from(position, here);
        let bearing = TrueBearing::wrapping(azimuth_deg);
        Located { signed_distance, reading_doubt, least, greatest, nearest, bearing }
    }
}

/// The nearest point of a boundary.
#[derive(Debug, Clone, Copy)]
struct Reached {
    signed_m: f64,
    at: Foot,
}

#[derive(Debug, Clone, Copy)]
pub(super) enum Foot {
    /// A point of the surface.
    Point(Vector),
    OnCircle(Circle),
}

impl Foot {
    /// Where it is, and the azimuth to it.
    pub(super) fn seen_from(self, position: Position, here: &Surface) -> (Position, f64) {
        let place = match self {
            Self::Point(point) if (point - here.point).norm() <= SHORT_M => on_surface(point),
            Self::Point(point) => from_earth_centred(point),
            Self::OnCircle(circle) => circle.rim(position),
        };
        (place, inverse(position, place).azimuth_start_deg)
    }
}

impl Boundary {
    /// Builds a boundary from its parts.
    ///
    /// # Errors
    ///
    /// [`InvalidBoundary`] names part, ring, vertex and how to mend it: too few vertices, edges that span half the
    /// Earth, arcs that miss their vertices, rings that cross themselves, holes that cross or lie outside their ring.
    pub fn build(parts: &[PartSpec]) -> Result<Self, InvalidBoundary> {
        Ok(Self::of(build::build(parts)?, parts))
    }

    fn of(built: build::Built, parts: &[PartSpec]) -> Self {
        Self {
            largest_arc_closure_error_m: built
                .edges
                .iter()
                .map(|edge| edge.closure_error_m)
                .fold(0.0, f64::max),
            readings: built.readings,
            circles: built.circles,
            small_gap_m: built.small_gap_m,
            perimeter_m: built.perimeter_m,
            parts: parts.iter().map(HeldPart::from).collect(),
        }
    }

    /// Builds what several boundaries hold together. What lies within 1 mm of each other counts as touching.
    ///
    /// Edges that are not stated run in all of them under one reading at a time, and every reading that differs by more
    /// than 1 mm is told apart.
    pub(crate) fn union(boundaries: &[&Self]) -> Result<Self, InvalidBoundary> {
        let parts: Vec<PartSpec> = boundaries.iter().flat_map(|boundary| boundary.parts()).collect();
        Ok(Self::of(build::build_exact(&parts)?, &parts))
    }

    /// Whether every edge of it runs one way only, to 1 mm.
    pub(crate) fn is_read_one_way(&self) -> bool {
        self.readings.len() < 2 && self.small_gap_m <= DENSIFIED_TO_M
    }

    /// Whether its arcs end on their printed circles, to 1 mm.
    pub(crate) fn keeps_to_its_arcs(&self) -> bool {
        self.largest_arc_closure_error_m <= DENSIFIED_TO_M
    }

    /// Its parts as they were given: vertices, how each edge runs and what it is. What parts share is not taken out.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Boundary, Metres, PartSpec, Position};
    ///
    /// let centre = Position::from_degrees(45.1170, -30.1190)?;
    /// let circle = PartSpec::Circle { centre, radius: Metres::new(200.0)? };
    /// assert_eq!(Boundary::build(std::slice::from_ref(&circle))?.parts(), [circle]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn parts(&self) -> Vec<PartSpec> {
        self.parts.iter().map(HeldPart::given).collect()
    }

    /// How many vertices it was given.
    pub(crate) fn vertex_count(&self) -> usize {
        let in_part = |part: &HeldPart| match part {
            HeldPart::Polygon(rings) => rings.iter().map(|ring| ring.vertices.len()).sum::<usize>(),
            HeldPart::Circle { .. } => 180,
        };
        self.parts.iter().map(in_part).sum()
    }

    /// Finds the nearest point of the boundary and the side.
    ///
    /// # Units
    ///
    /// Metres on WGS 84, negative inside.
    ///
    /// # Accuracy
    ///
    /// Within 1 mm up to 100 km and 1 cm at any distance (docs/accuracy.md; tests/reference.rs, `point_to_edge`). The
    /// side is right wherever the distance is above 0.1 mm; where parts or a slit run together within 1 mm, above 1.5 mm.
    ///
    /// # Edge cases
    ///
    /// Any ring counts, holes included. On a tie one of the nearest points is returned. At a circle's centre the
    /// nearest point is the one to the north.
    #[must_use]
    pub fn locate(&self, position: Position) -> Located {
        let here = surface(position);
        self.off(position, &here, &mut []).located_from(position, &here)
    }

    /// As many empty trails as the boundary has readings.
    pub(super) fn trails(&self) -> Vec<Trail> {
        self.readings.iter().map(|_| Trail::default()).collect()
    }

    /// How far a position lies off the boundary, without where its nearest point is: what [`Boundary::locate`] says of
    /// distances, in less time.
    #[must_use]
    pub fn how_far(&self, position: Position) -> HowFar {
        self.off(position, &surface(position), &mut []).far
    }

    /// As [`Boundary::how_far`], for a position that is in earth-centred axes already.
    pub(crate) fn off_from(&self, position: Position, here: &Surface) -> Off {
        self.off(position, here, &mut [])
    }

    /// The distances and the nearest point; from what is remembered of the place before, where there are trails.
    pub(super) fn off(&self, position: Position, here: &Surface, trails: &mut [Trail]) -> Off {
        let (mut least_m, mut greatest_m, mut closure_error_m) = (f64::INFINITY, f64::NEG_INFINITY, 0.0_f64);
        let mut nearest = Reached { signed_m: f64::INFINITY, at: Foot::Point(here.point) };
        let mut trails = trails.iter_mut();
        for (_, lines) in &self.readings {
            let found = match trails.next() {
                Some(trail) => lines.nearest_along(position, here, trail),
                None => lines.nearest(position, here),
            };
            let reached = self.reach(position, here, found);
            let own_m = self.missed_m(lines, here.point, reached.signed_m);
            least_m = least_m.min(reached.signed_m);
            greatest_m = greatest_m.max(reached.signed_m);
            closure_error_m = closure_error_m.max(own_m);
            if reached.signed_m.abs() < nearest.signed_m.abs() {
                nearest = reached;
            }
        }
        let far = HowFar {
            signed_distance: Metres::computed(least_m.midpoint(greatest_m)),
            reading_doubt: Metres::computed(
                (greatest_m - least_m) / 2.0 + closure_error_m + self.small_gap_m,
            ),
            least: Metres::computed(least_m),
            greatest: Metres::computed(greatest_m),
            to_leave: self.to_leave(position, here, greatest_m),
        };
        Off { far, foot: nearest.at }
    }

    /// The nearest of lines and circles: the smallest signed distance is right because circles that are left as such lie
    /// clear of all else.
    fn reach(&self, position: Position, here: &Surface, found: Option<lines::Nearest>) -> Reached {
        let mut nearest = Reached { signed_m: f64::INFINITY, at: Foot::Point(here.point) };
        if let Some(found) = found {
            nearest = Reached { signed_m: found.signed_m, at: Foot::Point(found.point) };
        }
        for circle in &self.circles {
            let signed_m = circle.signed_m(position);
            if signed_m < nearest.signed_m {
                nearest = Reached { signed_m, at: Foot::OnCircle(*circle) };
            }
        }
        nearest
    }

    /// What edges may be off where they are drawn, as seen from a place so far off the nearest, in metres.
    fn missed_m(&self, lines: &Lines, here: Vector, nearest_m: f64) -> f64 {
        if self.largest_arc_closure_error_m <= 0.0 {
            return 0.0;
        }
        lines.closure_error_m(here, (nearest_m.abs(), 0.0))
    }

    /// The most that edges may be off where they are drawn, as seen from any place within so many metres of one.
    #[cfg(feature = "transit")]
    pub(crate) fn most_missed_within_m(&self, position: Position, within_m: f64) -> f64 {
        if self.largest_arc_closure_error_m <= 0.0 {
            return self.small_gap_m;
        }
        let here = surface(position);
        let of_lines = |lines: &Lines| {
            let nearest = self.reach(position, &here, lines.nearest(position, &here));
            lines.closure_error_m(here.point, (nearest.signed_m.abs(), within_m))
        };
        let missed_m = self.readings.iter().map(|(_, lines)| of_lines(lines)).fold(0.0, f64::max);
        missed_m + self.small_gap_m
    }

    /// How far other water is from a place that is drawn inside, where some sides are no open water.
    fn to_leave(&self, position: Position, here: &Surface, greatest_m: f64) -> Option<Metres> {
        let is_inside = greatest_m <= 0.0;
        is_inside.then(|| self.to_leave_anywhere_m(position, here)).flatten().map(Metres::computed)
    }

    /// The least distance to any side, the land behind a shore counted with it, in metres, of whatever place: it changes by no
    /// more than the way made. None where all sides can be crossed.
    pub(crate) fn to_leave_anywhere_m(&self, position: Position, here: &Surface) -> Option<f64> {
        if !self.has_sides() {
            return None;
        }
        let of_lines = |lines: &Lines| {
            let to_leave_m = |sides: &LineSides| lines.to_leave_m(here, sides);
            lines.sides.as_deref().map_or(f64::INFINITY, to_leave_m)
        };
        let lines_m = self.readings.iter().map(|(_, lines)| of_lines(lines)).fold(f64::INFINITY, f64::min);
        let circles_m = self.circles.iter().map(|circle| circle.signed_m(position).abs());
        Some(circles_m.fold(lines_m, f64::min) - self.small_gap_m)
    }

    /// Whether some side of it is other than open water.
    ///
    /// # Examples
    ///
    /// ```
    /// # use takeline::{Boundary, EdgeModel, PartSpec, Position, RingSpec, Side, SideKind};
    /// // a reserve before a beach: the east side is the shore
    /// let corners = [(45.12, -30.12), (45.12, -30.14), (45.10, -30.14), (45.10, -30.12)];
    /// let vertices = corners.iter().map(|(lat, lon)| Position::from_degrees(*lat, *lon)).collect::<Result<Vec<_>, _>>()?;
    /// let kinds = [SideKind::Open, SideKind::Open, SideKind::Open, SideKind::Shore];
    /// let sides = kinds.into_iter().map(Side::from).collect();
    /// let exterior = RingSpec { vertices, edges: vec![EdgeModel::RhumbLine; 4], sides };
    /// let reserve = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }])?;
    /// assert!(reserve.has_sides());
    ///
    /// // 79 m off the beach it is 1.1 km to the nearest side that a boat can cross
    /// let launch = Position::from_degrees(45.11, -30.121)?;
    /// assert_eq!(reserve.locate(launch).signed_distance.metres().round(), -79.0);
    /// let crossable = reserve.locate_crossable(launch).expect("three sides are open");
    /// assert_eq!(crossable.signed_distance.metres().round(), -1111.0);
    /// assert_eq!(reserve.side_nearest(launch).kind, SideKind::Shore);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn has_sides(&self) -> bool {
        self.readings.iter().any(|(_, lines)| lines.sides.is_some())
    }

    /// As [`Boundary::locate`], of the sides that a boat can cross; none if it can cross none.
    ///
    /// # Units, accuracy
    ///
    /// As those of [`Boundary::locate`]. The sign is that of the whole boundary: negative inside. What an edge may be off is
    /// that at the nearest edge that can be crossed.
    #[must_use]
    pub fn locate_crossable(&self, position: Position) -> Option<Located> {
        if !self.has_sides() {
            return Some(self.locate(position));
        }
        let here = surface(position);
        let whole = self.off(position, &here, &mut []);
        let is_inside = whole.far.signed_distance.metres() < 0.0;
        let (mut least_m, mut greatest_m, mut missed_m) = (f64::INFINITY, f64::NEG_INFINITY, 0.0_f64);
        let mut nearest = Reached { signed_m: f64::INFINITY, at: Foot::Point(here.point) };
        for (_, lines) in &self.readings {
            let found = match &lines.sides {
                Some(sides) => lines.nearest_crossable(position, &here, sides),
                None => lines.nearest(position, &here),
            };
            let mut reached = self.reach(position, &here, found);
            reached.signed_m = reached.signed_m.abs();
            least_m = least_m.min(reached.signed_m);
            greatest_m = greatest_m.max(reached.signed_m);
            missed_m = missed_m.max(self.missed_m(lines, here.point, reached.signed_m));
            if reached.signed_m < nearest.signed_m {
                nearest = reached;
            }
        }
        if !greatest_m.is_finite() {
            return None;
        }
        let signed = |metres: f64| if is_inside { -metres } else { metres };
        let (least_m, greatest_m) = if is_inside { (-greatest_m, -least_m) } else { (least_m, greatest_m) };
        let far = HowFar {
            signed_distance: Metres::computed(signed(nearest.signed_m)),
            reading_doubt: Metres::computed((greatest_m - least_m) / 2.0 + missed_m + self.small_gap_m),
            least: Metres::computed(least_m),
            greatest: Metres::computed(greatest_m),
            to_leave: None,
        };
        Some(Off { far, foot: nearest.at }.located_from(position, &here))
    }

    /// What the side nearest to a position is; under the first reading, where edges are not stated.
    #[must_use]
    pub fn side_nearest(&self, position: Position) -> Side {
        let here = surface(position);
        let Some((lines, sides)) = self.lines_with_sides() else { return Side::default() };
        let Some((piece, nearest_m)) = lines.nearest_piece(&here) else { return Side::default() };
        let in_circle = self.circles.iter().any(|circle| circle.signed_m(position).abs() < nearest_m);
        if in_circle { Side::default() } else { sides.side(piece).clone() }
    }

    /// The outline of the first reading and what its pieces are; none if all are open water.
    pub(super) fn lines_with_sides(&self) -> Option<(&Lines, &LineSides)> {
        let (_, lines) = self.readings.first()?;
        lines.sides.as_deref().map(|sides| (lines, sides))
    }

    /// What each piece of it is, under the first reading; none of one all of which is open water.
    pub(crate) fn sides(&self) -> impl Iterator<Item = &Side> {
        let lines = self.readings.first().and_then(|(_, lines)| lines.sides.as_deref());
        lines.into_iter().flat_map(LineSides::all)
    }

    /// The most that any arc misses its printed circle by, and what gaps between parts add, in metres: the share of
    /// [`Located::reading_doubt`] that is not the span of the readings is never more.
    pub(crate) fn largest_closure_error_m(&self) -> f64 {
        self.largest_arc_closure_error_m + self.small_gap_m
    }

    /// Whether the position is inside, found by counting crossings along its meridian instead of by the nearest edge.
    ///
    /// A second way to the answer of [`Boundary::locate`], without a distance; where unstated edges have several readings
    /// it speaks of the geodesic one. It counts the outline, in which inner borders and slits are no more.
    #[must_use]
    pub fn contains_by_crossings(&self, position: Position) -> bool {
        let here = surface(position).point;
        let in_lines = self.readings.first().is_some_and(|(_, lines)| lines.is_wound_round(here));
        in_lines || self.circles.iter().any(|circle| circle.signed_m(position) < 0.0)
    }

    /// Distance to every piece in turn, without the index; for tests of the index.
    #[cfg(test)]
    pub(crate) fn locate_by_full_scan(&self, position: Position) -> f64 {
        let here = surface(position).point;
        let pieces = self.readings.iter().flat_map(|(_, lines)| lines.pieces.iter());
        pieces
            .map(|piece| {
                let foot = from_earth_centred(piece.foot(here).point);
                inverse(position, foot).distance_m
            })
            .fold(f64::INFINITY, f64::min)
    }

    /// Area of the zone on the ellipsoid, in square metres, holes taken out.
    ///
    /// # Accuracy
    ///
    /// Within 1 m² for zones of some hundred km² (`tests/real_zones.rs`); the geodesic reading where edges are unstated.
    #[must_use]
    pub fn area_m2(&self) -> f64 {
        let lines_m2 = self.readings.first().map_or(0.0, |(_, lines)| lines.area_m2());
        lines_m2 + self.circles.iter().map(Circle::area_m2).sum::<f64>()
    }

    /// The boundary for drawing: closed rings of positions at most 2 km apart, the zone on the left of each.
    ///
    /// Borders that parts share are left out. Circles get 180 positions. Where unstated edges have several readings, the
    /// geodesic one is drawn.
    #[must_use]
    pub fn outlines(&self) -> Vec<Vec<Position>> {
        self.drawn(|_| ()).map(|ring| ring.into_iter().map(|(position, ())| position).collect()).collect()
    }

    /// The rings for drawing, each position with what is to be known of the side that leaves it.
    pub(super) fn drawn<K: Copy>(&self, of: impl Fn(&Side) -> K) -> impl Iterator<Item = Vec<(Position, K)>> {
        let open = of(&Side::default());
        let of_way = move |lines: &Lines, way: Range<usize>| {
            let place = |at: usize, piece: Piece| {
                let bends = piece.bulge_m.abs() > 0.5;
                let number = u32::try_from(at).unwrap_or(u32::MAX);
                let known = lines.sides.as_ref().map_or(open, |sides| of(sides.side(number)));
                let points = [Some(piece.start), bends.then(|| piece.at(0.5))].into_iter().flatten();
                points.map(move |point| (from_earth_centred(point), known))
            };
            way.flat_map(|at| place(at, lines.pieces.get(at))).collect()
        };
        let lines = self.readings.first().map(|(_, lines)| lines);
        let ways = lines.into_iter().flat_map(|lines| lines.way_ranges().map(move |way| (lines, way)));
        let rims = self.circles.iter().map(move |circle| {
            let at = |step: u32| direct(circle.centre, -2.0 * f64::from(step), circle.radius_m);
            (0..180).map(|step| (at(step), open)).collect()
        });
        ways.map(move |(lines, way)| of_way(lines, way)).chain(rims)
    }

    /// The boundary as closed rings of positions, the zone on the left of each, so close together that straight lines
    /// between them keep to it within [`DENSIFIED_TO_M`], seen from above; the geodesic reading.
    ///
    /// No two neighbours are farther apart than a piece is long. The first position is not said again at the end.
    #[cfg(feature = "transit")]
    pub(crate) fn densified(&self) -> Vec<Vec<Position>> {
        self.densified_readings(1)
    }

    /// As [`Boundary::densified`], with the rings of every reading of edges that are not stated, one after the other.
    pub(crate) fn densified_in_every_reading(&self) -> Vec<Vec<Position>> {
        self.densified_readings(self.readings.len())
    }

    fn densified_readings(&self, count: usize) -> Vec<Vec<Position>> {
        let ways = self.readings.iter().take(count).flat_map(|(_, lines)| lines.ways());
        let of_way = |way: Vec<Piece>| {
            let along = |piece: Piece| {
                let steps = steps_within_tolerance((piece.bulge_m.abs() / DENSIFIED_TO_M).sqrt());
                (0..steps).map(move |step| piece.at(f64::from(step) / f64::from(steps)))
            };
            way.into_iter().flat_map(along).map(from_earth_centred).collect()
        };
        let rims = self.circles.iter().map(|circle| {
            // a chord over the angle 2π/n leaves the circle by r·(π/n)²/2
            let steps =
                steps_within_tolerance(PI * (circle.radius_m / (2.0 * DENSIFIED_TO_M)).sqrt()).max(90);
            let at = |step: u32| {
                direct(circle.centre, -360.0 * f64::from(step) / f64::from(steps), circle.radius_m)
            };
            (0..steps).map(at).collect()
        });
        ways.map(of_way).chain(rims).collect()
    }

    /// Length of all rings together, in metres: of a zone of parts that touch or overlap more than its outline.
    #[must_use]
    pub fn perimeter(&self) -> Metres {
        Metres::computed(self.perimeter_m)
    }

    /// A box in earth-centred axes that holds the whole zone, not only its boundary: centre and half-diagonal.
    pub(crate) fn enclosing_box(&self) -> ([f64; 3], [f64; 3]) {
        let mut corners =
            (Vector::new(f64::MAX, f64::MAX, f64::MAX), Vector::new(f64::MIN, f64::MIN, f64::MIN));
        let mut widen = |point: Vector, by_m: f64| {
            let (low, high) = corners;
            corners = (
                Vector::new(low.x.min(point.x - by_m), low.y.min(point.y - by_m), low.z.min(point.z - by_m)),
                Vector::new(
                    high.x.max(point.x + by_m),
                    high.y.max(point.y + by_m),
                    high.z.max(point.z + by_m),
                ),
            );
        };
        for piece in self.readings.iter().flat_map(|(_, lines)| lines.pieces.iter()) {
            widen(piece.start, piece.reach_m());
            widen(piece.end, piece.reach_m());
        }
        for circle in &self.circles {
            widen(surface(circle.centre).point, circle.radius_m);
        }
        let (low, high) = corners;
        let diagonal_m = (high - low).norm();
        // the surface inside a ring rises over the ring by at most d²/8R of its diameter d; beyond a third of the
        // Earth's radius that stops being a bound worth having
        let rise_m = if diagonal_m > 2_000_000.0 {
            13_000_000.0
        } else {
            diagonal_m * diagonal_m / 8.0 / 6_000_000.0 + 1.0
        };
        (
            [low.x - rise_m, low.y - rise_m, low.z - rise_m],
            [high.x + rise_m, high.y + rise_m, high.z + rise_m],
        )
    }
}

/// A number of steps, rounded up, at least one; no more than 20 000, whose chords leave a circle of 600 km by 7 mm.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 1 to 20 000 before")]
fn steps_within_tolerance(steps: f64) -> u32 {
    steps.ceil().clamp(1.0, 20_000.0) as u32
}
