//! Longitude and latitude as maps have them: cut at 180°, outer rings counterclockwise.

use geo::orient::Direction;
use geo::{BooleanOps, BoundingRect, Coord, LineString, MultiPolygon, Orient, Polygon, Rect};
use takeline::Position;

/// Beyond what it holds a box for cutting reaches by this, in degrees.
const ROOM_DEG: f64 = 1.0;

/// Lines in longitude and latitude, cut where one runs over 180°.
pub(super) fn cut_line(places: &[Position]) -> Vec<Vec<Coord>> {
    let mut lines: Vec<Vec<Coord>> = vec![Vec::new()];
    let mut last: Option<Coord> = None;
    for here in places.iter().map(|place| Coord::from(*place)) {
        if let Some(before) = last.filter(|before| (here.x - before.x).abs() > 180.0) {
            let side = if before.x < 0.0 { -180.0 } else { 180.0 };
            // the same place, counted on from the side that the line comes from
            let share = (side - before.x) / (here.x + 2.0 * side - before.x);
            let y = if share.is_finite() { before.y + share * (here.y - before.y) } else { here.y };
            push(&mut lines, Coord { x: side, y });
            lines.push(vec![Coord { x: -side, y }]);
        }
        push(&mut lines, here);
        last = Some(here);
    }
    lines.retain(|line| line.len() > 1);
    lines
}

fn push(lines: &mut [Vec<Coord>], place: Coord) {
    if let Some(line) = lines.last_mut()
        && line.last() != Some(&place)
    {
        line.push(place);
    }
}

/// Areas whose longitudes may run on over 180°, cut there; outer rings counterclockwise, holes clockwise.
pub(super) fn cut_areas(areas: &MultiPolygon) -> MultiPolygon {
    let parts = areas.iter().flat_map(cut_area).collect::<Vec<Polygon>>();
    MultiPolygon::new(parts).orient(Direction::Default)
}

fn cut_area(area: &Polygon) -> Vec<Polygon> {
    let Some(about) = area.bounding_rect() else { return Vec::new() };
    if about.min().x >= -180.0 && about.max().x <= 180.0 {
        return vec![area.clone()];
    }
    let mut parts = Vec::new();
    for turn in [-360.0_f64, 0.0, 360.0] {
        let (west, east) =
            ((-180.0 - turn).max(about.min().x - ROOM_DEG), (180.0 - turn).min(about.max().x + ROOM_DEG));
        if west >= east {
            continue;
        }
        let (south, north) = (about.min().y - ROOM_DEG, about.max().y + ROOM_DEG);
        let window = Rect::new(Coord { x: west, y: south }, Coord { x: east, y: north }).to_polygon();
        parts.extend(area.intersection(&window).iter().map(|part| moved(part, turn)));
    }
    parts
}

/// Moved by whole turns; what is cut at 180° lies there to the last digit.
fn moved(part: &Polygon, turn: f64) -> Polygon {
    let ring = |ring: &LineString| -> LineString {
        let place = |at: &Coord| {
            let x = (at.x + turn).clamp(-180.0, 180.0);
            Coord { x: if (x.abs() - 180.0).abs() < 1e-8 { 180.0_f64.copysign(x) } else { x }, y: at.y }
        };
        ring.coords().map(place).collect()
    };
    Polygon::new(ring(part.exterior()), part.interiors().iter().map(ring).collect())
}

/// With eight decimals of a degree, a millimetre; zero has no sign.
pub(super) fn rounded(at: &Coord) -> [f64; 2] {
    let round = |degrees: f64| (degrees * 1e8).round() / 1e8 + 0.0;
    [round(at.x), round(at.y)]
}
