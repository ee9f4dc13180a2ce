//! A plane about one place: directions from there and distances to there are true.

use takeline::{GeodesicSegment, Metres, Position, TrueBearing};

/// The azimuthal equidistant plane about a place; x to its east, y to its north, in metres.
///
/// Lengths from its middle are true. Others are drawn up to [`Plane::stretch`] times as long as they are, never shorter but by what
/// the flattening of the Earth makes of it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    middle: Position,
}

/// A place on the plane.
pub(super) type OnPlane = geo::Coord<f64>;

/// Mean radius of the Earth (IUGG), for how far the plane stretches.
const EARTH_M: f64 = 6_371_008.8;

impl Plane {
    /// About the middle of positions; their mean direction from the middle of the Earth. None where there is no such direction.
    pub(super) fn about<'p>(positions: impl Iterator<Item = &'p Position>) -> Option<Self> {
        let sum = positions.fold([0.0_f64; 3], |[x, y, z], position| {
            let (lat, lon) = (position.latitude().radians(), position.longitude().radians());
            [x + lat.cos() * lon.cos(), y + lat.cos() * lon.sin(), z + lat.sin()]
        });
        let [x, y, z] = sum;
        let (lat_deg, lon_deg) = (z.atan2(x.hypot(y)).to_degrees(), y.atan2(x).to_degrees());
        let is_none = x.hypot(y).hypot(z) < 1e-6;
        Some(Self { middle: Position::from_degrees(lat_deg, lon_deg).ok().filter(|_| !is_none)? })
    }

    pub(super) fn drawn(&self, position: Position) -> OnPlane {
        let from = GeodesicSegment::between(self.middle, position);
        let (sin, cos) = from.initial_bearing().degrees().to_radians().sin_cos();
        OnPlane { x: from.length().metres() * sin, y: from.length().metres() * cos }
    }

    pub(super) fn position(&self, place: OnPlane) -> Option<Position> {
        let bearing = TrueBearing::from_degrees(place.x.atan2(place.y).to_degrees()).ok()?;
        let length = Metres::new(place.x.hypot(place.y)).ok()?;
        GeodesicSegment::leaving(self.middle, bearing, length).ok().map(|to| to.to())
    }

    /// How many times too long a length is drawn at most, so far from the middle.
    pub(super) fn stretch(away_m: f64) -> f64 {
        let angle = away_m / EARTH_M;
        // a hundredth of a part more than on a sphere
        1.0001 * if angle < 1e-3 { 1.0 + angle * angle } else { angle / angle.sin() }
    }
}
