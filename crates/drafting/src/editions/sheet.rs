//! Polygons anywhere on the Earth, united and taken from each other.
//!
//! The Earth is cut along one meridian where no polygon lies, if there is one, and laid on the plane; then polygons that may
//! meet are worked on together, about their own middle, so that what lies far off costs no accuracy.

use std::collections::BTreeSet;

use geo::algorithm::bool_ops::unary_union;
use geo::{Area, BooleanOps, BoundingRect, Coord, LineString, MultiPolygon, Polygon};
use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};
use takeline::{Boundary, Metres, NoOutline, Position};

use super::plane::{Stretch, laid};

/// Outlines are drawn this closely, in metres.
const DRAWN_TO_M: f64 = 0.005;
/// A piece that is narrower than this on average, in metres, lies between two drawings of one line and is no water.
const NARROWEST_M: f64 = 2.0 * DRAWN_TO_M;
/// Pieces of less than this, in m², are not drawn.
const LEAST_DRAWN_M2: f64 = 1.0;

/// The outline of a boundary as polygons of longitude and latitude; the geodesic reading of unstated edges.
///
/// # Errors
///
/// [`NoOutline`] for a zone about a pole.
pub(super) fn outline(boundary: &Boundary) -> Result<Vec<Polygon>, NoOutline> {
    Ok(boundary.to_multi_polygon(Metres::non_negative(DRAWN_TO_M).unwrap_or_default())?.0)
}

/// The Earth, cut along one meridian.
#[derive(Debug, Clone, Copy)]
pub(super) struct Sheet {
    west_deg: f64,
}

/// A polygon on a sheet, and the box that holds it.
#[derive(Debug, Clone)]
pub(super) struct Piece {
    polygon: Polygon,
    low: [f64; 2],
    high: [f64; 2],
}

/// What is left of some polygons.
#[derive(Debug, Clone, Default)]
pub(super) struct Rest {
    pub(super) area_m2: f64,
    /// The pieces worth drawing, each an outer ring and its holes.
    pub(super) pieces: Vec<Vec<Vec<Position>>>,
}

impl Sheet {
    /// The sheet for these polygons: cut in the middle of the widest gap between them; where they go round the Earth, at 180°.
    pub(super) fn about<'p>(polygons: impl IntoIterator<Item = &'p Polygon>) -> Self {
        let mut spans: Vec<(f64, f64)> = polygons.into_iter().filter_map(span_deg).collect();
        spans.sort_by(|one, two| one.0.total_cmp(&two.0));
        let Some(first) = spans.first().copied() else { return Self { west_deg: -180.0 } };
        // what runs on beyond 360° covers the beginning
        let beyond = spans.iter().map(|span| span.1 - 360.0).fold(0.0, f64::max);
        let mut reached = if beyond > 0.0 { beyond } else { first.0 };
        let (mut widest, mut middle) = (0.0, None);
        let mut see = |from: f64, to: f64| {
            if to - from > widest {
                (widest, middle) = (to - from, Some(f64::midpoint(from, to)));
            }
        };
        for (west, east) in &spans {
            see(reached, *west);
            reached = reached.max(*east);
        }
        see(reached, 360.0 + first.0);
        Self { west_deg: middle.unwrap_or(-180.0) }
    }

    /// Polygons of longitude and latitude on the sheet; those across the cut in two.
    pub(super) fn lay<'p>(self, polygons: impl IntoIterator<Item = &'p Polygon>) -> Vec<Piece> {
        polygons.into_iter().flat_map(|polygon| self.pieces(polygon)).collect()
    }

    fn pieces(self, polygon: &Polygon) -> Vec<Piece> {
        let Some(bounds) = polygon.bounding_rect() else { return Vec::new() };
        let turns_deg = ((bounds.min().x - self.west_deg) / 360.0).floor() * 360.0;
        let moved = |by_deg: f64| move |place: Coord| Coord { x: place.x - by_deg, y: place.y };
        let cut_deg = self.west_deg + 360.0;
        if bounds.max().x - turns_deg <= cut_deg {
            return Piece::of(&turned(polygon, &moved(turns_deg), &|ring| ring)).into_iter().collect();
        }
        let before = turned(polygon, &moved(turns_deg), &|ring| clipped(&ring, |x| cut_deg - x));
        let west_deg = self.west_deg;
        let after = turned(polygon, &moved(turns_deg + 360.0), &|ring| clipped(&ring, |x| x - west_deg));
        [before, after].iter().filter_map(Piece::of).collect()
    }
}

/// The longitudes of a polygon: its west from 0° to 360°, its east beyond that.
fn span_deg(polygon: &Polygon) -> Option<(f64, f64)> {
    let bounds = polygon.bounding_rect()?;
    let west = bounds.min().x - (bounds.min().x / 360.0).floor() * 360.0;
    Some((west, west + bounds.width()))
}

/// A polygon whose places are moved, and whose rings are then cut.
fn turned(
    polygon: &Polygon,
    place: &dyn Fn(Coord) -> Coord,
    cut: &dyn Fn(Vec<Coord>) -> Vec<Coord>,
) -> Polygon {
    let ring = |ring: &LineString| LineString(cut(ring.0.iter().copied().map(place).collect()));
    Polygon::new(ring(polygon.exterior()), polygon.interiors().iter().map(ring).collect())
}

/// What of a closed ring lies on one side of a meridian, joined along it (Sutherland and Hodgman 1974). Lines may run along the
/// meridian twice, which encloses nothing.
fn clipped(ring: &[Coord], inside: impl Fn(f64) -> f64) -> Vec<Coord> {
    let mut kept = Vec::with_capacity(ring.len());
    for pair in ring.windows(2) {
        let (from, to) = (inside(pair[0].x), inside(pair[1].x));
        if from >= 0.0 {
            kept.push(pair[0]);
        }
        if (from >= 0.0) != (to >= 0.0) {
            kept.push(pair[0] + (pair[1] - pair[0]) * (from / (from - to)));
        }
    }
    kept.extend(kept.first().copied());
    kept
}

impl Piece {
    fn of(polygon: &Polygon) -> Option<Self> {
        let polygon = laid(polygon);
        let bounds = polygon.bounding_rect()?;
        let (low, high) = (bounds.min(), bounds.max());
        Some(Self { polygon, low: [low.x, low.y], high: [high.x, high.y] })
    }

    fn bounds(&self) -> AABB<[f64; 2]> {
        AABB::from_corners(self.low, self.high)
    }
}

type Boxed = GeomWithData<Rectangle<[f64; 2]>, usize>;

fn boxes(pieces: &[&Piece]) -> RTree<Boxed> {
    let boxed =
        |(at, piece): (usize, &&Piece)| GeomWithData::new(Rectangle::from_corners(piece.low, piece.high), at);
    RTree::bulk_load(pieces.iter().enumerate().map(boxed).collect())
}

/// What lies in some pieces of a sheet and in none of the others of that sheet, each water once.
pub(super) fn less(pieces: &[&Piece], others: &[&Piece]) -> Rest {
    let near = boxes(others);
    let mut rest = Rest::default();
    for group in groups(pieces) {
        let met: BTreeSet<usize> = group
            .iter()
            .flat_map(|piece| near.locate_in_envelope_intersecting(piece.bounds()))
            .map(|other| other.data)
            .collect();
        let stretch = Stretch::about(middle(&group));
        let was = united(&group, stretch);
        let met: Vec<&Piece> = met.into_iter().map(|at| others[at]).collect();
        let left = if met.is_empty() { was } else { was.difference(&united(&met, stretch)) };
        for piece in left.iter().filter(|piece| is_water(piece)) {
            let area_m2 = piece.unsigned_area();
            rest.area_m2 += area_m2;
            if area_m2 >= LEAST_DRAWN_M2 {
                rest.pieces.push(stretch.positions(piece));
            }
        }
    }
    rest
}

fn united(pieces: &[&Piece], stretch: Stretch) -> MultiPolygon {
    let polygons: Vec<Polygon> = pieces.iter().map(|piece| stretch.of(&piece.polygon)).collect();
    if polygons.len() == 1 { MultiPolygon(polygons) } else { unary_union(&polygons) }
}

fn is_water(piece: &Polygon) -> bool {
    let rings = std::iter::once(piece.exterior()).chain(piece.interiors());
    let round_m: f64 = rings.flat_map(LineString::lines).map(|line| line.dx().hypot(line.dy())).sum();
    2.0 * piece.unsigned_area() >= NARROWEST_M * round_m
}

fn middle(group: &[&Piece]) -> Coord {
    let edge = |axis: usize| {
        let low = group.iter().map(|piece| piece.low[axis]).fold(f64::INFINITY, f64::min);
        f64::midpoint(low, group.iter().map(|piece| piece.high[axis]).fold(f64::NEG_INFINITY, f64::max))
    };
    Coord { x: edge(0), y: edge(1) }
}

/// Pieces whose boxes hang together.
fn groups<'p>(pieces: &[&'p Piece]) -> Vec<Vec<&'p Piece>> {
    let near = boxes(pieces);
    let mut is_known = vec![false; pieces.len()];
    let mut groups = Vec::new();
    for start in 0..pieces.len() {
        let mut waiting = if is_known[start] { Vec::new() } else { vec![start] };
        is_known[start] = true;
        let mut group = Vec::new();
        while let Some(at) = waiting.pop() {
            group.push(pieces[at]);
            for other in near.locate_in_envelope_intersecting(pieces[at].bounds()) {
                if !std::mem::replace(&mut is_known[other.data], true) {
                    waiting.push(other.data);
                }
            }
        }
        if !group.is_empty() {
            groups.push(group);
        }
    }
    groups
}
