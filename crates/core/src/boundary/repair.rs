//! The smallest change that makes a ring sane: a sign, a digit, an exchange. Slips of the pen, looked for one by one.
//!
//! Nothing here is applied. A change is offered to whoever holds the law's page, with the area that comes of it.

use super::ring::same_point;
use super::{EdgeModel, RingSpec};
use crate::angle::wrap_degrees;
use crate::geodesic::{Vector, area_of, surface};
use crate::{NauticalMiles, Position};

/// Above this many vertices no exchange and no order is looked for.
const MOST_VERTICES: usize = 40;
/// A vertex is a stray where it lies this many times farther off than the others lie apart.
const STRAY_TIMES: f64 = 4.0;
/// The narrowest home of a stray, in degrees of latitude: about 1 km.
const LEAST_HOME_DEG: f64 = 0.01;
/// Two coordinates nearer than this are one: 0.1 mm.
const SAME_DEG: f64 = 1e-9;

/// A change of a ring's vertices, each counted as those of the ring are.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum RingChange {
    /// A vertex on the other side of the equator or of the meridian of Greenwich.
    Sign {
        /// Which one.
        vertex: usize,
        /// Where it would lie.
        to: Position,
    },
    /// Latitude and longitude of a vertex, exchanged.
    Exchanged {
        /// Which one.
        vertex: usize,
        /// Where it would lie.
        to: Position,
    },
    /// One digit of one coordinate of a vertex.
    Digit {
        /// Which one.
        vertex: usize,
        /// Where it would lie.
        to: Position,
    },
    /// Minutes of a vertex that were typed as decimals of a degree: 24°33.7' as 24.337.
    MinutesAsDecimals {
        /// Which one.
        vertex: usize,
        /// Where it would lie.
        to: Position,
    },
    /// Two vertices that follow each other, exchanged.
    Rows {
        /// The first of them.
        first: usize,
        /// The one after it.
        second: usize,
    },
    /// A run of vertices, turned round.
    Order {
        /// All vertices, in the order that would serve.
        vertices: Vec<usize>,
    },
}

/// A change of a ring's vertices, with the area that the ring would then enclose.
#[derive(Debug, Clone, PartialEq)]
pub struct RingRepair {
    /// What to change.
    pub change: RingChange,
    /// The area that it would enclose, in square nautical miles: a figure to hold against the law's.
    pub area_nm2: f64,
}

impl RingChange {
    /// Returns a code of this kind of change for machines; codes are stable.
    #[must_use]
    pub const fn code(&self) -> &'static str {
        match self {
            Self::Sign { .. } => "sign",
            Self::Exchanged { .. } => "latitude-longitude-exchanged",
            Self::Digit { .. } => "digit",
            Self::MinutesAsDecimals { .. } => "minutes-as-decimals",
            Self::Rows { .. } => "rows-exchanged",
            Self::Order { .. } => "order",
        }
    }

    /// The same change with the vertices counted in another way.
    #[must_use]
    pub fn renumbered(&self, number: impl Fn(usize) -> usize) -> Self {
        let mut changed = self.clone();
        match &mut changed {
            Self::Sign { vertex, .. }
            | Self::Exchanged { vertex, .. }
            | Self::Digit { vertex, .. }
            | Self::MinutesAsDecimals { vertex, .. } => *vertex = number(*vertex),
            Self::Rows { first, second } => (*first, *second) = (number(*first), number(*second)),
            Self::Order { vertices } => vertices.iter_mut().for_each(|vertex| *vertex = number(*vertex)),
        }
        changed
    }

    /// The vertices of a ring with this change; none if it has no such vertex.
    #[must_use]
    pub fn applied(&self, vertices: &[Position]) -> Option<Vec<Position>> {
        let mut changed = vertices.to_vec();
        match self {
            Self::Sign { vertex, to }
            | Self::Exchanged { vertex, to }
            | Self::Digit { vertex, to }
            | Self::MinutesAsDecimals { vertex, to } => *changed.get_mut(*vertex)? = *to,
            Self::Rows { first, second } => {
                (*first < changed.len() && *second < changed.len()).then(|| changed.swap(*first, *second))?;
            }
            Self::Order { vertices: order } => {
                changed = order.iter().map(|at| vertices.get(*at).copied()).collect::<Option<_>>()?;
            }
        }
        Some(changed)
    }
}

impl std::fmt::Display for RingChange {
    /// Writes `with vertices 3 and 4 exchanged`.
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (vertex, to, why) = match self {
            Self::Sign { vertex, to } => (vertex, to, "the other sign"),
            Self::Exchanged { vertex, to } => (vertex, to, "latitude and longitude exchanged"),
            Self::Digit { vertex, to } => (vertex, to, "one digit changed"),
            Self::MinutesAsDecimals { vertex, to } => (vertex, to, "its decimals read as minutes"),
            Self::Rows { first, second } => {
                return write!(f, "with vertices {first} and {second} exchanged");
            }
            Self::Order { vertices } => {
                let vertices: Vec<String> = vertices.iter().map(ToString::to_string).collect();
                return write!(f, "in the order {}", vertices.join(" "));
            }
        };
        let (lat, lon) = (to.latitude().degrees(), to.longitude().degrees());
        write!(f, "with vertex {vertex} at {lat:.5} {lon:.5} ({why})")
    }
}

impl RingRepair {
    /// Looks for the smallest change with which a ring would not cross itself: of a vertex far from all others its sign, an exchange
    /// of its coordinates or a digit; of a corner of a box the digit that takes it off its parallel or meridian; two neighbouring
    /// vertices exchanged; a run of vertices turned round. None where nothing so small serves, or more than one thing as small.
    #[must_use]
    pub fn uncrossing(ring: &RingSpec) -> Option<Self> {
        let vertices = without_closure(&ring.vertices);
        let has_arcs = ring.edges.iter().any(|edge| matches!(edge, EdgeModel::Arc(_)));
        if has_arcs || vertices.len() > MOST_VERTICES {
            return None;
        }
        if let Some(stray) = Stray::among(vertices) {
            // with one vertex astray, no order of the vertices is right
            return Self::if_sane(stray.homecoming(vertices)?, vertices);
        }
        let corners: Vec<(RingChange, bool)> =
            (0..vertices.len()).filter_map(|at| corner_of_a_box(vertices, at)).collect();
        if !corners.is_empty() {
            // all others make a box: no order of the vertices is right, and of two corners that would serve none is plain
            let slips = corners.into_iter().filter(|(_, is_slip)| *is_slip);
            let mut sane = slips.filter_map(|(change, _)| Self::if_sane(change, vertices));
            return sane.next().filter(|_| sane.next().is_none());
        }
        Self::rows(vertices).or_else(|| Self::turned_round(vertices))
    }

    /// Two neighbouring vertices exchanged; of several pairs that would serve, the one that makes the shortest ring.
    fn rows(vertices: &[Position]) -> Option<Self> {
        let pairs = (1..vertices.len()).map(|second| RingChange::Rows { first: second - 1, second });
        let sane = pairs.filter_map(|change| Self::if_sane(change, vertices));
        let length_m = |repair: &Self| {
            let changed = repair.change.applied(vertices).unwrap_or_default();
            let points: Vec<Vector> = changed.iter().map(|vertex| surface(*vertex).point).collect();
            (0..points.len()).map(|at| (points[(at + 1) % points.len()] - points[at]).norm()).sum::<f64>()
        };
        // of pairs that make the same ring, the last: the mistake came late in the list
        sane.map(|repair| (length_m(&repair), repair))
            .reduce(|best, next| if next.0 <= best.0 + 0.001 { next } else { best })
            .map(|(_, repair)| repair)
    }

    fn turned_round(vertices: &[Position]) -> Option<Self> {
        let points: Vec<Vector> = vertices.iter().map(|vertex| surface(*vertex).point).collect();
        let (first, second) = crossing_pair(&points)?;
        let mut order: Vec<usize> = (0..vertices.len()).collect();
        order[first + 1..=second].reverse();
        Self::if_sane(RingChange::Order { vertices: order }, vertices)
    }

    fn if_sane(change: RingChange, vertices: &[Position]) -> Option<Self> {
        let changed = change.applied(vertices)?;
        let points: Vec<Vector> = changed.iter().map(|vertex| surface(*vertex).point).collect();
        let repeats = (0..changed.len())
            .any(|at| changed[at + 1..].iter().any(|other| same_point(changed[at], *other)));
        if repeats || crossing_pair(&points).is_some() || Stray::among(&changed).is_some() {
            return None;
        }
        let area_nm2 = area_of(changed).abs() / (NauticalMiles::METRES * NauticalMiles::METRES);
        Some(Self { change, area_nm2 })
    }
}

impl std::fmt::Display for RingRepair {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let Self { change, area_nm2 } = self;
        write!(
            f,
            "{change} it would not, and would enclose {area_nm2:.3} square nautical miles: hold that against the law before you change anything"
        )
    }
}

fn without_closure(vertices: &[Position]) -> &[Position] {
    match vertices {
        [first, .., last] if same_point(*first, *last) => &vertices[..vertices.len() - 1],
        _ => vertices,
    }
}

/// The first two edges of a closed ring that cross, by the vertices they leave.
fn crossing_pair(points: &[Vector]) -> Option<(usize, usize)> {
    let count = points.len();
    let at = |place: usize| points[place % count];
    let pairs = (0..count).flat_map(|first| (first + 2..count).map(move |second| (first, second)));
    pairs
        .filter(|pair| *pair != (0, count - 1))
        .find(|(first, second)| cross([at(*first), at(first + 1)], [at(*second), at(second + 1)]))
}

/// Whether two edges, read as plane sections through the Earth's centre, cross.
fn cross(a: [Vector; 2], b: [Vector; 2]) -> bool {
    let (plane_a, plane_b) = (a[0].cross(a[1]), b[0].cross(b[1]));
    plane_a.dot(b[0]) * plane_a.dot(b[1]) < 0.0 && plane_b.dot(a[0]) * plane_b.dot(a[1]) < 0.0
}

/// A vertex much farther from all others than these are from each other.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Stray {
    /// Which one, counted from 0.
    pub vertex: usize,
    /// Where the others are: south, north, in degrees.
    lats: (f64, f64),
    /// West, east, in degrees counted on from the longitude of the first vertex.
    lons: (f64, f64),
    reference_deg: f64,
}

/// The least and the greatest of some values and their neighbours in order, with the places of the outermost.
#[derive(Debug, Clone, Copy)]
struct Ends {
    low: (f64, usize),
    next_low: f64,
    high: (f64, usize),
    next_high: f64,
}

impl Ends {
    const NONE: Self = Self {
        low: (f64::INFINITY, 0),
        next_low: f64::INFINITY,
        high: (f64::NEG_INFINITY, 0),
        next_high: f64::NEG_INFINITY,
    };

    fn take(&mut self, value: f64, at: usize) {
        if value < self.low.0 {
            self.next_low = self.low.0;
            self.low = (value, at);
        } else if value < self.next_low {
            self.next_low = value;
        }
        if value > self.high.0 {
            self.next_high = self.high.0;
            self.high = (value, at);
        } else if value > self.next_high {
            self.next_high = value;
        }
    }

    /// The vertex at an end that is far off by this coordinate alone.
    fn alone(&self) -> Option<usize> {
        let [below, above] = [self.next_low - self.low.0, self.high.0 - self.next_high];
        if below > STRAY_TIMES * (self.high.0 - self.next_low) {
            Some(self.low.1)
        } else if above > STRAY_TIMES * (self.next_high - self.low.0) {
            Some(self.high.1)
        } else {
            None
        }
    }
}

impl Stray {
    /// Looks for a vertex that lies four times farther from the box about all others, along the parallel or the meridian, than that
    /// box is wide or high. The first vertex must not be repeated at the end.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Position, Stray};
    /// let place = |lat, lon| Position::from_degrees(lat, lon);
    /// let mut ring = vec![place(45.11, -30.13)?, place(45.11, -30.11)?, place(45.12, -30.11)?, place(45.12, -30.13)?];
    /// assert_eq!(Stray::among(&ring), None);
    /// ring[2] = place(45.12, 30.11)?;
    /// let stray = Stray::among(&ring).expect("one lies 4700 km off");
    /// assert_eq!(stray.vertex, 2);
    /// assert_eq!(stray.homecoming(&ring).expect("its sign").code(), "sign");
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn among(vertices: &[Position]) -> Option<Self> {
        let reference_deg = vertices.first()?.longitude().degrees();
        if vertices.len() < 3 {
            return None;
        }
        let (mut by_lat, mut by_lon) = (Ends::NONE, Ends::NONE);
        for (at, vertex) in vertices.iter().enumerate() {
            by_lat.take(vertex.latitude().degrees(), at);
            by_lon.take(onward(reference_deg, *vertex), at);
        }
        let alone = [by_lat.alone(), by_lon.alone()];
        alone.into_iter().flatten().find_map(|vertex| Self::far_off(vertex, vertices, reference_deg))
    }

    fn far_off(vertex: usize, vertices: &[Position], reference_deg: f64) -> Option<Self> {
        let others = || vertices.iter().enumerate().filter(|(at, _)| *at != vertex).map(|(_, other)| *other);
        let span = |of: &dyn Fn(Position) -> f64| {
            others().map(of).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
                (low.min(value), high.max(value))
            })
        };
        let lats = span(&|place| place.latitude().degrees());
        let lons = span(&|place| onward(reference_deg, place));
        let stray = Self { vertex, lats, lons, reference_deg };
        let (away_deg, spread_deg) = (stray.away_deg(vertices[vertex]), stray.spread_deg());
        (away_deg > STRAY_TIMES * spread_deg).then_some(stray)
    }

    /// A degree of longitude there, in degrees of latitude.
    fn narrowing(&self) -> f64 {
        self.lats.0.midpoint(self.lats.1).to_radians().cos()
    }

    /// The longer side of the box about the others, in degrees of latitude.
    fn spread_deg(&self) -> f64 {
        (self.lats.1 - self.lats.0).max((self.lons.1 - self.lons.0) * self.narrowing())
    }

    /// How far off that box a place is, in degrees of latitude, by the coordinate that is farther off.
    fn away_deg(&self, place: Position) -> f64 {
        let beyond = |value: f64, (low, high): (f64, f64)| (low - value).max(value - high).max(0.0);
        let by_lat = beyond(place.latitude().degrees(), self.lats);
        by_lat.max(beyond(onward(self.reference_deg, place), self.lons) * self.narrowing())
    }

    /// How many times farther off it lies than the others lie apart, four or more.
    #[must_use]
    pub fn times(&self, vertices: &[Position]) -> f64 {
        vertices.get(self.vertex).map_or(0.0, |stray| self.away_deg(*stray) / self.spread_deg().max(SAME_DEG))
    }

    /// The one slip that brings it home, which is to no more than their own spread from the others; none if there is none or, among
    /// digits, more than one.
    #[must_use]
    pub fn homecoming(&self, vertices: &[Position]) -> Option<RingChange> {
        let stray = *vertices.get(self.vertex)?;
        let vertex = self.vertex;
        let is_home = |to: &Position| self.away_deg(*to) <= self.spread_deg().max(LEAST_HOME_DEG);
        let (lat, lon) = (stray.latitude().degrees(), stray.longitude().degrees());
        let place = |lat: f64, lon: f64| Position::from_degrees(lat, lon).ok().filter(is_home);
        if let Some(to) = [(-lat, lon), (lat, -lon), (-lat, -lon)].into_iter().find_map(|(a, b)| place(a, b))
        {
            return Some(RingChange::Sign { vertex, to });
        }
        if let Some(to) = place(lon, lat) {
            return Some(RingChange::Exchanged { vertex, to });
        }
        let mut digits: Vec<Position> = other_degrees(lat).filter_map(|lat| place(lat, lon)).collect();
        digits.extend(other_degrees(lon).filter_map(|lon| place(lat, lon)));
        if let [to] = digits.as_slice() {
            return Some(RingChange::Digit { vertex, to: *to });
        }
        let minutes = [(minutes(lat), minutes(lon)), (minutes(lat), Some(lon)), (Some(lat), minutes(lon))];
        let to =
            minutes.into_iter().find_map(|(lat, lon)| place(lat?, lon?)).filter(|_| digits.is_empty())?;
        Some(RingChange::MinutesAsDecimals { vertex, to })
    }
}

/// A longitude counted on from another one, at most half a turn.
fn onward(reference_deg: f64, place: Position) -> f64 {
    let lon = place.longitude().degrees();
    let away = lon - reference_deg;
    if away.abs() <= 180.0 { lon } else { reference_deg + wrap_degrees(away) }
}

/// The same coordinate with one digit of its whole degrees changed.
fn other_degrees(given_deg: f64) -> impl Iterator<Item = f64> {
    let whole = given_deg.abs().trunc();
    [1.0, 10.0, 100.0].into_iter().flat_map(move |unit| {
        let digit = (whole / unit).trunc() % 10.0;
        (0..10_u8)
            .map(f64::from)
            .filter(move |other| (*other - digit).abs() > 0.5)
            .map(move |other| given_deg + (other - digit) * unit * 1.0_f64.copysign(given_deg))
    })
}

/// What a coordinate would be if its decimals were minutes; none if they cannot be.
fn minutes(given_deg: f64) -> Option<f64> {
    let (whole, rest) = (given_deg.trunc(), given_deg.fract());
    (rest.abs() < 0.6).then(|| whole + rest / 0.6)
}

/// The corner that would make a ring a run of parallels and meridians, and whether it is one digit of this vertex that takes it off
/// them; none if the others make no such ring, or the vertex is in its place.
fn corner_of_a_box(vertices: &[Position], at: usize) -> Option<(RingChange, bool)> {
    let count = vertices.len();
    if count < 4 {
        return None;
    }
    let place = |step: usize| vertices[(at + step) % count];
    let same_lat =
        |a: Position, b: Position| (a.latitude().degrees() - b.latitude().degrees()).abs() < SAME_DEG;
    let same_lon =
        |a: Position, b: Position| (a.longitude().degrees() - b.longitude().degrees()).abs() < SAME_DEG;
    let others_are_square = (1..count - 1).all(|step| {
        let (from, to) = (place(step), place(step + 1));
        same_lat(from, to) != same_lon(from, to)
    });
    let (here, before, after) = (place(0), place(count - 1), place(1));
    if !others_are_square || same_lat(before, after) || same_lon(before, after) {
        return None;
    }
    // the sides about a corner take turns with those beyond them
    let runs_north = same_lon(after, place(2));
    let (lat_of, lon_of) = if runs_north { (after, before) } else { (before, after) };
    let (lat, lon) = (lat_of.latitude().degrees(), lon_of.longitude().degrees());
    let (is_lat, is_lon) = (
        (here.latitude().degrees() - lat).abs() < SAME_DEG,
        (here.longitude().degrees() - lon).abs() < SAME_DEG,
    );
    let is_slip = match (is_lat, is_lon) {
        (true, false) => is_one_digit_off(here.longitude().degrees(), lon),
        (false, true) => is_one_digit_off(here.latitude().degrees(), lat),
        (true, true) => return None,
        (false, false) => false,
    };
    let to = Position::from_degrees(lat, lon).ok()?;
    Some((RingChange::Digit { vertex: at, to }, is_slip))
}

/// The corners of a box, or of any ring of parallels and meridians, of which one digit makes a side slant: that side is the only one
/// that does, and a digit of either of its ends would set it right. Nothing where no side slants, or more do.
///
/// The first vertex must not be repeated at the end.
#[must_use]
pub fn corners_off(vertices: &[Position]) -> Vec<RingChange> {
    let found = (0..vertices.len()).filter_map(|at| corner_of_a_box(vertices, at));
    found.filter(|(_, is_slip)| *is_slip).map(|(change, _)| change).collect()
}

/// Whether two coordinates differ by one digit in any usual notation: decimals of a degree, of a minute or of a second.
#[must_use]
pub fn is_one_digit_off(one_deg: f64, other_deg: f64) -> bool {
    one_deg.is_sign_negative() == other_deg.is_sign_negative()
        && Notation::ALL.iter().any(|notation| {
            let digits = [one_deg, other_deg].map(|value| notation.digits(value.abs()));
            let [Some(one), Some(other)] = digits else { return false };
            one.bytes().zip(other.bytes()).filter(|(a, b)| a != b).count() == 1
        })
}

/// A way in which coordinates are printed.
#[derive(Debug, Clone, Copy)]
enum Notation {
    Degrees,
    Minutes,
    Seconds,
}

impl Notation {
    const ALL: [Self; 3] = [Self::Degrees, Self::Minutes, Self::Seconds];

    /// The digits of a coordinate; none if it is not printed with so few.
    #[expect(
        clippy::cast_possible_truncation,
        clippy::cast_sign_loss,
        reason = "a coordinate of at most 180°, in units of which that is some thousand million"
    )]
    fn digits(self, value_deg: f64) -> Option<String> {
        let (units, unit_per_deg): (f64, u64) = match self {
            Self::Degrees => (value_deg * 1e7, 10_000_000),
            Self::Minutes => (value_deg * 60.0 * 1e4, 600_000),
            Self::Seconds => (value_deg * 3600.0 * 10.0, 36_000),
        };
        if (units - units.round()).abs() > 0.01 {
            return None;
        }
        let units = units.round() as u64;
        let (degrees, rest) = (units / unit_per_deg, units % unit_per_deg);
        Some(match self {
            Self::Degrees => format!("{degrees:03}{rest:07}"),
            Self::Minutes => format!("{degrees:03}{:02}{:04}", rest / 10_000, rest % 10_000),
            Self::Seconds => format!("{degrees:03}{:02}{:03}", rest / 600, rest % 600),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(places: &[(f64, f64)]) -> Vec<Position> {
        places.iter().map(|(lat, lon)| Position::from_degrees(*lat, *lon).unwrap()).collect()
    }

    fn uncrossing(places: &[(f64, f64)]) -> Option<RingChange> {
        let spec = RingSpec { vertices: ring(places), edges: Vec::new(), sides: Vec::new() };
        RingRepair::uncrossing(&spec).map(|repair| repair.change)
    }

    #[test]
    fn digits_of_whole_degrees_change_one_by_one() {
        let others: Vec<f64> = other_degrees(-24.5).collect();
        assert_eq!(others.len(), 27);
        assert!(others.contains(&-25.5) && others.contains(&-34.5) && others.contains(&-20.5));
        assert!(!others.contains(&-24.5));
    }

    #[test]
    fn one_digit_is_one_digit_in_the_notation_that_was_printed() {
        let minutes = |d: f64, m: f64| d + m / 60.0;
        assert!(is_one_digit_off(minutes(24.0, 33.70), minutes(24.0, 36.70)));
        assert!(is_one_digit_off(-minutes(81.0, 40.80), -minutes(81.0, 40.81)));
        assert!(!is_one_digit_off(minutes(24.0, 33.70), minutes(24.0, 46.70)));
        assert!(is_one_digit_off(45.125, 45.115));
        assert!(!is_one_digit_off(45.125, -45.125));
        assert!(!is_one_digit_off(45.125, 45.125));
    }

    #[test]
    fn a_wrong_sign_is_not_mended_by_an_order() {
        let change = uncrossing(&[(45.11, -30.13), (45.11, -30.11), (45.12, 30.13), (45.13, -30.14)]);
        assert!(matches!(change, None | Some(RingChange::Sign { vertex: 2, .. })), "{change:?}");
    }

    #[test]
    fn a_side_of_a_box_that_slants_by_a_digit_is_seen_at_both_its_ends() {
        // the north-east corner reads 45.105 for 45.125, so that the box crosses itself; the other end of the slanting side
        // at 45.105 would make a box as well
        let change = uncrossing(&[(45.11, -30.13), (45.11, -30.11), (45.105, -30.11), (45.125, -30.13)]);
        assert_eq!(change, None, "of two no one is plain, and no order of the rows is right");
        let change = uncrossing(&[(45.11, -30.13), (45.11, -30.11), (45.095, -30.11), (45.125, -30.13)]);
        assert_eq!(change, None, "two digits");
        let off = corners_off(&ring(&[(45.11, -30.13), (45.11, -30.11), (45.136, -30.11), (45.125, -30.13)]));
        assert_eq!(off, [], "two digits");
        let off = corners_off(&ring(&[(45.11, -30.13), (45.11, -30.11), (45.165, -30.11), (45.125, -30.13)]));
        let to = |lat, lon| Position::from_degrees(lat, lon).unwrap();
        assert_eq!(
            off,
            [
                RingChange::Digit { vertex: 2, to: to(45.125, -30.11) },
                RingChange::Digit { vertex: 3, to: to(45.165, -30.13) },
            ]
        );
        let sound = ring(&[(45.11, -30.13), (45.11, -30.11), (45.125, -30.11), (45.125, -30.13)]);
        assert_eq!(corners_off(&sound), []);
    }

    #[test]
    fn two_rows_exchanged_in_a_ring_of_six_are_those_two() {
        let mut places = [
            (45.10, -30.10),
            (45.10, -30.08),
            (45.11, -30.06),
            (45.13, -30.06),
            (45.14, -30.08),
            (45.13, -30.12),
        ];
        places.swap(2, 3);
        assert_eq!(uncrossing(&places), Some(RingChange::Rows { first: 2, second: 3 }));
    }

    #[test]
    fn rings_across_180_degrees_have_no_strays() {
        assert_eq!(
            Stray::among(&ring(&[(-17.0, 179.9), (-17.0, -179.9), (-16.9, -179.9), (-16.9, 179.9)])),
            None
        );
        assert_eq!(Stray::among(&ring(&[(45.0, -30.0)])), None);
    }
}
