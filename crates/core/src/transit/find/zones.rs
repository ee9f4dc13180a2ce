//! The zones that a pair has to keep out of.

use crate::geodesic::SMALLEST_RADIUS_M;
use crate::transit::TransitError;
use crate::transit::plane::{Plane, Point};
use crate::zone::{Extent, Zone, ZoneSet};
use crate::{Boundary, Position};

/// A zone that counts.
#[derive(Debug, Clone)]
pub(super) struct CountedZone<'a> {
    pub(super) zone: &'a Zone,
    pub(super) boundary: &'a Boundary,
    /// False if the zone lies somewhere inside its boundary, nobody knows where.
    pub(super) line_known: bool,
    /// Line and datum, 95 %.
    pub(super) doubt_m: f64,
    /// Its line may lie so far from the outline that is drawn, in metres.
    bows_m: f64,
    bounds: Span,
    /// Its rings, drawn on the plane.
    rings: Vec<Vec<Point>>,
}

/// What lies between two corners of the plane.
#[derive(Debug, Clone, Copy)]
pub(super) struct Span {
    low: Point,
    high: Point,
}

/// All zones that count, the one asked about first.
#[derive(Debug)]
pub(super) struct CountedZones<'a> {
    pub(super) zones: Vec<CountedZone<'a>>,
    /// Zones that may be anywhere.
    pub(super) anywhere: Vec<&'a Zone>,
}

impl<'a> CountedZones<'a> {
    /// The zone asked about counts whatever its status is; others unless they are certainly not law.
    pub(super) fn new(set: &'a ZoneSet, asked: usize, plane: Plane) -> Result<Self, TransitError> {
        let all = set.zones();
        let zone = all.get(asked).ok_or(TransitError::NoSuchZone { number: asked, zones: all.len() })?;
        let first = CountedZone::new(zone, plane).ok_or_else(|| TransitError::LineNotKnown {
            zone: zone.name.clone(),
            reason: reason_unknown(zone),
        })?;
        let mut counted = Self { zones: vec![first], anywhere: Vec::new() };
        for number in set.may_bind_somewhere(None) {
            let zone = &all[number];
            if number == asked {
                continue;
            }
            match CountedZone::new(zone, plane) {
                Some(zone) => counted.zones.push(zone),
                None => counted.anywhere.push(zone),
            }
        }
        if !counted.zones[0].line_known {
            let (zone, reason) = (zone.name.clone(), reason_unknown(zone));
            return Err(TransitError::LineNotKnown { zone, reason });
        }
        Ok(counted)
    }
}

fn reason_unknown(zone: &Zone) -> String {
    match &zone.extent {
        Extent::Known(_) => String::new(),
        Extent::Unknown { reason, .. } => reason.clone(),
    }
}

impl<'a> CountedZone<'a> {
    fn new(zone: &'a Zone, plane: Plane) -> Option<Self> {
        let boundary = zone.extent.area()?;
        let outlines = boundary.outlines();
        let on_plane = |ring: &Vec<Position>| ring.iter().map(|position| plane.point(*position)).collect();
        let rings: Vec<Vec<Point>> = outlines.iter().map(on_plane).collect();
        Some(Self {
            zone,
            boundary,
            line_known: matches!(zone.extent, Extent::Known(_)),
            doubt_m: zone.line_doubt_m(),
            bows_m: bows_m(boundary, &outlines),
            bounds: Span::around(rings.iter().flatten().copied()),
            rings,
        })
    }

    /// No point of the box is nearer to the zone than this, in metres.
    ///
    /// The plane makes distances longer, never shorter by more than its error: within a quarter of the Earth's
    /// circumference by no more than π/2, which the factor allows for.
    pub(super) fn at_least_away_m(&self, place: &Span) -> f64 {
        (0.6 * self.bounds.gap_m(place) - self.bows_m).max(0.0)
    }

    /// Whether a point lies inside, and farther from the line than the plane can be wrong. Other readings of the edges do
    /// not matter: what one reading has inside is not surely outside.
    pub(super) fn holds(&self, point: Point, plane_slack_m: f64) -> bool {
        self.bounds.gap_m(&Span::around([point])) <= 0.0
            && self.rings.iter().filter(|ring| encloses(ring, point)).count() % 2 == 1
            && self.rings.iter().all(|ring| is_farther(ring, point, plane_slack_m))
    }
}

fn edges(ring: &[Point]) -> impl Iterator<Item = (Point, Point)> {
    ring.iter().copied().zip(ring.iter().copied().cycle().skip(1))
}

/// By the parity of the edges that a ray to the east meets.
fn encloses(ring: &[Point], point: Point) -> bool {
    let meets = |(from, to): &(Point, Point)| {
        let climbs = to.north_m > from.north_m;
        (from.north_m > point.north_m) != (to.north_m > point.north_m)
            && (to.minus(*from).cross(point.minus(*from)) > 0.0) == climbs
    };
    edges(ring).filter(meets).count() % 2 == 1
}

fn is_farther(ring: &[Point], point: Point, than_m: f64) -> bool {
    edges(ring).all(|(from, to)| {
        let way = to.minus(from);
        let share = (point.minus(from).dot(way) / way.dot(way).max(1e-12)).clamp(0.0, 1.0);
        point.minus(from.plus(way, share)).norm_m() > than_m
    })
}

/// A bound on how far other readings of the edges run from the drawn one, and on what that and arcs add to the doubt.
///
/// An edge is no longer than half of all edges together, and rhumb line, geodesic and plate carrée over a length L at a
/// latitude φ differ by up to L²/8R·tan φ; taken twice, with 100 m and 2 % of the perimeter for arcs that miss their circle.
fn bows_m(boundary: &Boundary, outlines: &[Vec<Position>]) -> f64 {
    let perimeter_m = boundary.perimeter().metres();
    let steepest = outlines
        .iter()
        .flatten()
        .map(|corner| corner.latitude().radians().tan().abs().min(100.0))
        .fold(0.0, f64::max);
    let half_m = perimeter_m / 2.0;
    110.0 + 0.02 * perimeter_m + 2.0 * half_m * half_m / (8.0 * SMALLEST_RADIUS_M) * steepest
}

impl Span {
    pub(super) fn around(points: impl IntoIterator<Item = Point>) -> Self {
        let infinite = |sign: f64| Point { east_m: sign * f64::INFINITY, north_m: sign * f64::INFINITY };
        let mut around = Self { low: infinite(1.0), high: infinite(-1.0) };
        for point in points {
            around.low.east_m = around.low.east_m.min(point.east_m);
            around.low.north_m = around.low.north_m.min(point.north_m);
            around.high.east_m = around.high.east_m.max(point.east_m);
            around.high.north_m = around.high.north_m.max(point.north_m);
        }
        around
    }

    fn gap_m(&self, other: &Self) -> f64 {
        let gap = |low: f64, high: f64, other_low: f64, other_high: f64| {
            (low - other_high).max(other_low - high).max(0.0)
        };
        let east_m = gap(self.low.east_m, self.high.east_m, other.low.east_m, other.high.east_m);
        let north_m = gap(self.low.north_m, self.high.north_m, other.low.north_m, other.high.north_m);
        east_m.hypot(north_m)
    }
}
