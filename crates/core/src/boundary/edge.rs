//! One edge as a curve: where it is at each share of its way.

use super::{Arc, ArcSense, BoundaryFault, EdgeModel};
use crate::angle::wrap_degrees;
use crate::geodesic::{EQUATORIAL_RADIUS_M, direct, inverse, surface};
use crate::{Latitude, Longitude, Position, RhumbLine};

/// How the straight readings of an unstated edge are told apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum EdgeReading {
    /// Unstated edges read as geodesics.
    Geodesic,
    /// Unstated edges read as rhumb lines.
    RhumbLine,
    /// Unstated edges read as straight in longitude and latitude.
    PlateCarree,
}

impl EdgeReading {
    pub(super) const ALL: [Self; 3] = [Self::Geodesic, Self::RhumbLine, Self::PlateCarree];

    fn model(self) -> EdgeModel {
        match self {
            Self::Geodesic => EdgeModel::Geodesic,
            Self::RhumbLine => EdgeModel::RhumbLine,
            Self::PlateCarree => EdgeModel::PlateCarree,
        }
    }
}

/// An edge with its model settled, ready to give positions along it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Curve {
    from: Position,
    to: Position,
    shape: Shape,
}

#[derive(Debug, Clone, Copy)]
enum Shape {
    Geodesic { azimuth_deg: f64, length_m: f64 },
    Rhumb(RhumbLine),
    PlateCarree { d_lat_deg: f64, d_lon_deg: f64 },
    Arc { centre: Position, start_deg: f64, sweep_deg: f64, start_m: f64, end_m: f64 },
}

/// Beyond this length, half the Earth less 1 %, the direction of a geodesic hangs on the last digits of its ends.
const LONGEST_GEODESIC_M: f64 = 19_800_000.0;
/// Largest radius read, in metres; about an eighth of the Earth's girth.
const LARGEST_CIRCLE_M: f64 = 5_000_000.0;

impl Curve {
    /// Settles the model of an edge; an unstated one is read as `reading` says.
    pub(super) fn new(
        from: Position,
        to: Position,
        model: EdgeModel,
        reading: EdgeReading,
    ) -> Result<Self, BoundaryFault> {
        let shape = match model {
            EdgeModel::Unstated => return Self::new(from, to, reading.model(), reading),
            EdgeModel::Geodesic => geodesic(from, to)?,
            EdgeModel::RhumbLine => {
                refuse_half_turn(from, to)?;
                Shape::Rhumb(RhumbLine::between(from, to))
            }
            EdgeModel::PlateCarree => {
                refuse_half_turn(from, to)?;
                Shape::PlateCarree {
                    d_lat_deg: to.latitude().degrees() - from.latitude().degrees(),
                    d_lon_deg: wrap_degrees(to.longitude().degrees() - from.longitude().degrees()),
                }
            }
            EdgeModel::Arc(arc) => arc_shape(from, to, arc)?,
        };
        Ok(Self { from, to, shape })
    }

    /// The position at a share of the way; 0 and 1 are the vertices themselves.
    pub(super) fn at(&self, share: f64) -> Position {
        if share <= 0.0 {
            return self.from;
        }
        if share >= 1.0 {
            return self.to;
        }
        match self.shape {
            Shape::Geodesic { azimuth_deg, length_m } => direct(self.from, azimuth_deg, length_m * share),
            Shape::Rhumb(line) => line.at(share),
            Shape::PlateCarree { d_lat_deg, d_lon_deg } => Position::new(
                Latitude::computed(self.from.latitude().degrees() + d_lat_deg * share),
                Longitude::wrapping(self.from.longitude().degrees() + d_lon_deg * share),
            ),
            Shape::Arc { centre, start_deg, sweep_deg, start_m, end_m } => {
                direct(centre, start_deg + sweep_deg * share, start_m + (end_m - start_m) * share)
            }
        }
    }

    /// A length not shorter than a tenth of the edge's own, in metres, to choose a first number of pieces from.
    pub(super) fn rough_length_m(&self) -> f64 {
        match self.shape {
            Shape::Geodesic { length_m, .. } => length_m,
            Shape::Rhumb(line) => line.length().metres(),
            Shape::PlateCarree { d_lat_deg, d_lon_deg } => d_lat_deg.hypot(d_lon_deg) * 111_000.0,
            Shape::Arc { sweep_deg, start_m, end_m, .. } => sweep_deg.to_radians().abs() * start_m.max(end_m),
        }
    }

    /// Whether pieces of it are geodesics, which need no bulge.
    pub(super) fn is_geodesic(&self) -> bool {
        matches!(self.shape, Shape::Geodesic { .. })
    }

    /// How far an arc's ends lie off its printed circle, in metres; zero for straight edges.
    pub(super) fn closure_error_m(&self, model: EdgeModel) -> f64 {
        match (self.shape, model) {
            (Shape::Arc { start_m, end_m, .. }, EdgeModel::Arc(arc)) => {
                let radius_m = arc.radius.metres();
                let closure_error_m = (start_m - radius_m).abs().max((end_m - radius_m).abs());
                // a micrometre is what computing the ends leaves
                if closure_error_m < 1e-6 { 0.0 } else { closure_error_m }
            }
            _ => 0.0,
        }
    }
}

fn geodesic(from: Position, to: Position) -> Result<Shape, BoundaryFault> {
    let line = inverse(from, to);
    if line.distance_m > LONGEST_GEODESIC_M {
        return Err(BoundaryFault::AmbiguousEdge);
    }
    Ok(Shape::Geodesic { azimuth_deg: line.azimuth_start_deg, length_m: line.distance_m })
}

fn refuse_half_turn(from: Position, to: Position) -> Result<(), BoundaryFault> {
    let d_lon_deg = wrap_degrees(to.longitude().degrees() - from.longitude().degrees());
    let at_pole = [from, to].iter().any(|end| end.latitude().degrees().abs() >= 90.0);
    if d_lon_deg.abs() > 179.999_999 && !at_pole {
        return Err(BoundaryFault::AmbiguousEdge);
    }
    Ok(())
}

/// Refuses radii that no zone has.
pub(super) fn check_radius(radius_m: f64) -> Result<(), BoundaryFault> {
    if radius_m > 0.0 && radius_m < LARGEST_CIRCLE_M { Ok(()) } else { Err(BoundaryFault::Radius(radius_m)) }
}

/// An arc's end may miss the printed circle by 100 m or 2 % of the radius, whichever is more: printed minutes and
/// rounded radii do (common practice, no source). Beyond that, centre, radius or vertex is wrong.
fn arc_shape(from: Position, to: Position, arc: Arc) -> Result<Shape, BoundaryFault> {
    let radius_m = arc.radius.metres();
    check_radius(radius_m)?;
    let (start, end) = (inverse(arc.centre, from), inverse(arc.centre, to));
    for distance_m in [start.distance_m, end.distance_m] {
        if (distance_m - radius_m).abs() > (0.02 * radius_m).max(100.0).min(0.5 * radius_m) {
            return Err(BoundaryFault::ArcMissesVertex { distance_m, radius_m });
        }
    }
    let turn_deg = wrap_degrees(end.azimuth_start_deg - start.azimuth_start_deg);
    let sweep_deg = match arc.sense {
        ArcSense::Clockwise if turn_deg <= 0.0 => turn_deg + 360.0,
        ArcSense::Counterclockwise if turn_deg >= 0.0 => turn_deg - 360.0,
        ArcSense::Clockwise | ArcSense::Counterclockwise => turn_deg,
    };
    Ok(Shape::Arc {
        centre: arc.centre,
        start_deg: start.azimuth_start_deg,
        sweep_deg,
        start_m: start.distance_m,
        end_m: end.distance_m,
    })
}

/// An upper bound of the distance between the straight readings of an edge, in metres.
///
/// A parallel departs from its geodesic by L² tan φ / 8a (`parallel_departs_from_geodesic` in `tests/reference`), and no
/// other direction or reading departs by a tenth more; where twice that is small the bound stands, else the readings
/// are compared at seven places along the edge.
pub(super) fn reading_gap_m(from: Position, to: Position, small_m: f64) -> Result<f64, BoundaryFault> {
    let chord_m = (surface(from).point - surface(to).point).norm();
    let steepest = from.latitude().radians().abs().max(to.latitude().radians().abs());
    let bound_m = 2.0 * chord_m * chord_m * steepest.tan() / (8.0 * EQUATORIAL_RADIUS_M);
    // near a pole the longitudes of a short edge may differ by half a turn, and the bound does not hold
    if bound_m < small_m && steepest < 1.5 && chord_m < 50_000.0 {
        return Ok(bound_m);
    }
    let curve = |reading| Curve::new(from, to, EdgeModel::Unstated, reading);
    let geodesic = curve(EdgeReading::Geodesic)?;
    let others = [curve(EdgeReading::RhumbLine)?, curve(EdgeReading::PlateCarree)?];
    let mut gap_m: f64 = 0.0;
    for step in 1..8 {
        let share = f64::from(step) / 8.0;
        let on_geodesic = geodesic.at(share);
        for other in &others {
            gap_m = gap_m.max(inverse(on_geodesic, other.at(share)).distance_m);
        }
    }
    Ok(gap_m)
}
