//! Coordinates for GeoJSON (RFC 7946): at most seven decimals, cut at 180°, outer rings counter-clockwise.

use geojson::{Geometry, GeometryValue};
use takeline::Position;

/// Longitude and latitude in degrees, in the order of GeoJSON; the longitude may run beyond 180° while it is unrolled.
type LonLat = [f64; 2];

/// A centimetre: the seventh decimal of a degree.
const DECIMALS: f64 = 1e7;

/// The geometry of one place.
pub(crate) fn point_geometry(position: Position) -> Geometry {
    GeometryValue::new_point(rounded(lon_lat(position))).into()
}

fn lon_lat(position: Position) -> LonLat {
    [position.longitude().degrees(), position.latitude().degrees()]
}

fn rounded([lon_deg, lat_deg]: LonLat) -> LonLat {
    // adding zero turns a negative zero into a plain one
    let round = |degrees: f64| (degrees * DECIMALS).round() / DECIMALS + 0.0;
    [round(lon_deg), round(lat_deg)]
}

/// The lines of a geometry, each of at least two points; a lone point is a line of two equal ones nowhere.
pub(crate) fn line_geometry(positions: &[Position]) -> Option<Geometry> {
    let lines = cut_line(positions);
    match lines.as_slice() {
        [] => positions.first().copied().map(point_geometry),
        [line] => Some(GeometryValue::new_line_string(coordinates(line)).into()),
        several => {
            let lines = several.iter().map(|line| coordinates(line));
            Some(GeometryValue::new_multi_line_string(lines).into())
        }
    }
}

fn coordinates(line: &[LonLat]) -> impl Iterator<Item = LonLat> {
    line.iter().map(|point| rounded(*point))
}

/// Cuts a line where it runs over 180°; pieces of fewer than two different points are dropped.
fn cut_line(positions: &[Position]) -> Vec<Vec<LonLat>> {
    let mut lines: Vec<Vec<LonLat>> = vec![Vec::new()];
    let mut last: Option<LonLat> = None;
    for here in positions.iter().map(|position| lon_lat(*position)) {
        if let Some(before) = last
            && (here[0] - before[0]).abs() > 180.0
        {
            let side = if before[0] < 0.0 { -180.0 } else { 180.0 };
            // the same point, counted on from the side that the line comes from
            let unrolled = here[0] + 2.0 * side;
            let share = (side - before[0]) / (unrolled - before[0]);
            let lat_deg = before[1] + share * (here[1] - before[1]);
            push(&mut lines, [side, lat_deg]);
            lines.push(vec![[-side, lat_deg]]);
        }
        push(&mut lines, here);
        last = Some(here);
    }
    lines.retain(|line| line.len() > 1);
    lines
}

fn push(lines: &mut [Vec<LonLat>], point: LonLat) {
    if let Some(line) = lines.last_mut()
        && line.last() != Some(&point)
    {
        line.push(point);
    }
}

/// The area inside an outline, cut at 180°; none where it holds a pole or is no area.
pub(crate) fn area_geometry(outline: &[Position]) -> Option<Geometry> {
    let ring = unrolled(outline)?;
    let mut parts: Vec<Vec<LonLat>> = Vec::new();
    for turn in [-360.0, 0.0, 360.0] {
        let moved = ring.iter().map(|[lon_deg, lat_deg]| [lon_deg + turn, *lat_deg]).collect();
        let east_of = clipped(moved, |lon_deg| lon_deg + 180.0, -180.0);
        let part = clipped(east_of, |lon_deg| 180.0 - lon_deg, 180.0);
        if twice_area(&part).abs() > 0.0 {
            parts.push(closed_counter_clockwise(part));
        }
    }
    match parts.as_slice() {
        [] => None,
        [one] => Some(GeometryValue::new_polygon([coordinates(one)]).into()),
        several => {
            let polygons = several.iter().map(|ring| [coordinates(ring)]);
            Some(GeometryValue::new_multi_polygon(polygons).into())
        }
    }
}

/// Longitudes counted on past 180° so that neighbours are never half a turn apart.
fn unrolled(outline: &[Position]) -> Option<Vec<LonLat>> {
    let mut ring: Vec<LonLat> = Vec::with_capacity(outline.len());
    for here in outline.iter().map(|position| lon_lat(*position)) {
        ring.push([here[0] + turn_to(ring.last(), here), here[1]]);
    }
    let (first, last) = (ring.first()?, ring.last()?);
    ((first[0] - last[0]).abs() <= 180.0).then_some(ring)
}

fn turn_to(before: Option<&LonLat>, here: LonLat) -> f64 {
    before.map_or(0.0, |before| ((before[0] - here[0]) / 360.0).round() * 360.0)
}

/// Keeps the side of a meridian on which `inside` is not negative.
fn clipped(ring: Vec<LonLat>, inside: impl Fn(f64) -> f64, meridian_deg: f64) -> Vec<LonLat> {
    let mut kept = Vec::with_capacity(ring.len() + 2);
    let Some(mut before) = ring.last().copied() else { return kept };
    for here in ring {
        let (was, is) = (inside(before[0]), inside(here[0]));
        if (was < 0.0) != (is < 0.0) {
            let share = was / (was - is);
            kept.push([meridian_deg, before[1] + share * (here[1] - before[1])]);
        }
        if is >= 0.0 {
            kept.push(here);
        }
        before = here;
    }
    kept
}

/// Twice the area in square degrees, positive counter-clockwise.
fn twice_area(ring: &[LonLat]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(one, other)| one[0] * other[1] - other[0] * one[1]).sum()
}

fn closed_counter_clockwise(mut ring: Vec<LonLat>) -> Vec<LonLat> {
    if twice_area(&ring) < 0.0 {
        ring.reverse();
    }
    ring.extend(ring.first().copied());
    ring
}
