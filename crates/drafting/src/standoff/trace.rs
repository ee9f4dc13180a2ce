//! Where a stand-off line runs, roughly: too far off by a little, with every arm and every gap that is wider than that.

use geo::{Area, BooleanOps, Buffer, Contains, LineString, MultiPolygon, Point, Polygon};
use takeline::{Boundary, EdgeModel, InvalidBoundary, PartSpec, Position, RingSpec};

use super::level::{Level, without_repeats};
use super::plane::{OnPlane, Plane};
use super::{NoStandOff, StandOffSide};
use crate::survey::readings_apart_m;

/// How far a drawn outline may leave the boundary, in metres.
const DRAWN_TO_M: f64 = 0.3;
/// Readings of unstated edges that are no farther apart than this need not be drawn each by itself, in metres.
const READ_ALIKE_M: f64 = 0.2;
/// A rough line is farther off than wanted by this, in metres …
const TOO_FAR_M: f64 = 1.0;
/// … and by this share of the distance.
const TOO_FAR_SHARE: f64 = 0.003;
/// The farthest that a zone may reach from the middle of all, in metres: beyond it the plane stretches too much.
const WIDEST_M: f64 = 2_000_000.0;

/// A rough stand-off line.
pub(super) struct Rough {
    /// Closed ways of places that are beyond the distance wanted.
    pub(super) rings: Vec<Vec<Position>>,
    /// Water between two arms of the line that is narrower than this is not seen, in metres.
    pub(super) blind_m: f64,
}

/// Draws what is about so far off a boundary.
pub(super) fn rough(boundary: &Boundary, side: StandOffSide, distance_m: f64) -> Result<Rough, NoStandOff> {
    let readings = readings_of(boundary)?;
    let rings: Vec<Vec<Vec<Position>>> = readings.iter().map(outline_of).collect();
    let plane = Plane::about(rings.iter().flatten().flatten()).ok_or(NoStandOff::TooWide)?;
    let drawn: Vec<MultiPolygon> = rings.iter().map(|rings| area_of(&plane, rings)).collect();
    let away_m = drawn
        .iter()
        .flat_map(MultiPolygon::iter)
        .flat_map(|polygon| polygon.exterior().coords())
        .map(|place| place.x.hypot(place.y))
        .fold(0.0, f64::max);
    if away_m + distance_m > WIDEST_M {
        return Err(NoStandOff::TooWide);
    }
    let wide_m = Plane::stretch(away_m + distance_m) * (distance_m * (1.0 + TOO_FAR_SHARE) + TOO_FAR_M);
    let area = match side {
        StandOffSide::Outside => joined(drawn, BooleanOps::union).buffer(wide_m),
        StandOffSide::Inside => joined(drawn, BooleanOps::intersection).buffer(-wide_m),
    };
    let ways = area.iter().flat_map(|polygon| std::iter::once(polygon.exterior()).chain(polygon.interiors()));
    let places =
        |way: &LineString| without_repeats(way.coords().filter_map(|at| plane.position(*at)).collect());
    let rings = ways.map(places).filter(|ring| ring.len() > 2).collect();
    Ok(Rough { rings, blind_m: 2.0 * (wide_m - distance_m) })
}

fn joined(
    areas: Vec<MultiPolygon>,
    join: impl Fn(&MultiPolygon, &MultiPolygon) -> MultiPolygon,
) -> MultiPolygon {
    areas.into_iter().reduce(|one, other| join(&one, &other)).unwrap_or_else(|| MultiPolygon::new(Vec::new()))
}

/// The boundary under each reading of its unstated edges, if they are apart enough to matter.
fn readings_of(boundary: &Boundary) -> Result<Vec<Boundary>, InvalidBoundary> {
    let parts = boundary.parts();
    if readings_apart_m(&parts) <= READ_ALIKE_M {
        return Ok(vec![boundary.clone()]);
    }
    let models = [EdgeModel::Geodesic, EdgeModel::RhumbLine, EdgeModel::PlateCarree];
    models.into_iter().map(|model| Boundary::build(&read_as(&parts, model))).collect()
}

fn read_as(parts: &[PartSpec], model: EdgeModel) -> Vec<PartSpec> {
    let ring = |ring: &RingSpec| {
        let read = |edge: &EdgeModel| if matches!(edge, EdgeModel::Unstated) { model } else { *edge };
        RingSpec { edges: ring.edges.iter().map(read).collect(), ..ring.clone() }
    };
    let part = |part: &PartSpec| match part {
        PartSpec::Polygon { exterior, holes } => {
            PartSpec::Polygon { exterior: ring(exterior), holes: holes.iter().map(ring).collect() }
        }
        PartSpec::Circle { .. } => part.clone(),
    };
    parts.iter().map(part).collect()
}

/// The outline, so close together that the plane may draw straight lines.
fn outline_of(boundary: &Boundary) -> Vec<Vec<Position>> {
    let line = Level { boundary, side: StandOffSide::Outside, at_m: 0.0 };
    boundary.outlines().iter().map(|ring| without_repeats(line.follow(ring, DRAWN_TO_M).places)).collect()
}

/// The area that rings with the zone on their left enclose.
fn area_of(plane: &Plane, rings: &[Vec<Position>]) -> MultiPolygon {
    let drawn = |ring: &Vec<Position>| -> Polygon {
        let places: Vec<OnPlane> = ring.iter().map(|position| plane.drawn(*position)).collect();
        Polygon::new(LineString::new(places), Vec::new())
    };
    let (outer, holes): (Vec<Polygon>, Vec<Polygon>) =
        rings.iter().filter(|ring| ring.len() > 2).map(drawn).partition(|ring| ring.signed_area() > 0.0);
    let mut outer = outer;
    for hole in holes {
        let places: Vec<Point> = hole.exterior().points().collect();
        // of those that hold it the smallest; where it touches its ring, most of its places are inside
        let holds = |ring: &Polygon| places.iter().filter(|place| ring.contains(*place)).count();
        let best = outer
            .iter_mut()
            .filter(|ring| 2 * holds(ring) > places.len())
            .min_by(|one, two| one.unsigned_area().total_cmp(&two.unsigned_area()));
        if let Some(ring) = best {
            ring.interiors_push(hole.exterior().clone());
        }
    }
    MultiPolygon::new(outer)
}
