//! The one file that talks to Karney's algorithm, and so the one file that says azimuth and passes bare degrees.

use std::sync::LazyLock;

use geographiclib_rs::{DirectGeodesic, Geodesic, InverseGeodesic, PolygonArea, Winding};

use crate::{InvalidLength, Latitude, Longitude, Metres, Position, TrueBearing};

static WGS_84: LazyLock<Geodesic> = LazyLock::new(Geodesic::wgs84);

/// The shortest line between two positions on WGS 84.
///
/// # Accuracy
///
/// Lengths within 15 nm (Karney 2013); see `tests/reference.rs`, `geodtest_100`.
///
/// # Examples
///
/// ```
/// use takeline::{GeodesicSegment, Position};
/// // JFK to Singapore: 15347628 m (GeographicLib, GeodSolve manual page)
/// let jfk = Position::from_degrees(40.0 + 38.0 / 60.0 + 23.0 / 3600.0, -(73.0 + 46.0 / 60.0 + 44.0 / 3600.0))?;
/// let sin = Position::from_degrees(1.0 + 21.0 / 60.0 + 33.0 / 3600.0, 103.0 + 59.0 / 60.0 + 22.0 / 3600.0)?;
/// assert_eq!(GeodesicSegment::between(jfk, sin).length().metres().round(), 15_347_628.0);
/// # Ok::<(), takeline::InvalidCoordinate>(())
/// ```
///
/// # References
///
/// Karney (2013), *Algorithms for geodesics*, doi:10.1007/s00190-012-0578-z
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GeodesicSegment {
    from: Position,
    to: Position,
    inverse: Inverse,
}

/// Distance and azimuths of the inverse problem; both azimuths point forward, in degrees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Inverse {
    pub(crate) distance_m: f64,
    pub(crate) azimuth_start_deg: f64,
    pub(crate) azimuth_end_deg: f64,
}

impl GeodesicSegment {
    /// Solves the inverse problem.
    #[must_use]
    pub fn between(from: Position, to: Position) -> Self {
        Self { from, to, inverse: inverse(from, to) }
    }

    /// Solves the direct problem: the segment that leaves `from` on `bearing` and is `length` long.
    ///
    /// # Errors
    ///
    /// [`InvalidLength`] if the length is negative.
    pub fn leaving(from: Position, bearing: TrueBearing, length: Metres) -> Result<Self, InvalidLength> {
        let length = Metres::non_negative(length.metres())?;
        let (to, azimuth_end_deg) = direct_with_azimuth(from, bearing.degrees(), length.metres());
        let inverse =
            Inverse { distance_m: length.metres(), azimuth_start_deg: bearing.degrees(), azimuth_end_deg };
        Ok(Self { from, to, inverse })
    }

    /// Returns where it starts.
    #[must_use]
    pub fn from(&self) -> Position {
        self.from
    }

    /// Returns where it ends.
    #[must_use]
    pub fn to(&self) -> Position {
        self.to
    }

    /// Returns its length on the ellipsoid, in metres.
    #[must_use]
    pub fn length(&self) -> Metres {
        Metres::computed(self.inverse.distance_m)
    }

    /// Returns its bearing where it starts.
    #[must_use]
    pub fn initial_bearing(&self) -> TrueBearing {
        TrueBearing::wrapping(self.inverse.azimuth_start_deg)
    }

    /// Returns its bearing where it ends, still going forward.
    #[must_use]
    pub fn final_bearing(&self) -> TrueBearing {
        TrueBearing::wrapping(self.inverse.azimuth_end_deg)
    }
}

pub(crate) fn inverse(from: Position, to: Position) -> Inverse {
    let (distance_m, azimuth_start_deg, azimuth_end_deg, _arc_deg) = WGS_84.inverse(
        from.latitude().degrees(),
        from.longitude().degrees(),
        to.latitude().degrees(),
        to.longitude().degrees(),
    );
    Inverse { distance_m, azimuth_start_deg, azimuth_end_deg }
}

pub(crate) fn direct(from: Position, azimuth_deg: f64, distance_m: f64) -> Position {
    direct_with_azimuth(from, azimuth_deg, distance_m).0
}

fn direct_with_azimuth(from: Position, azimuth_deg: f64, distance_m: f64) -> (Position, f64) {
    let (lat_deg, lon_deg, azimuth_end_deg) =
        WGS_84.direct(from.latitude().degrees(), from.longitude().degrees(), azimuth_deg, distance_m);
    (Position::new(Latitude::computed(lat_deg), Longitude::wrapping(lon_deg)), azimuth_end_deg)
}

/// Signed area, in square metres, of the polygon of geodesics through these positions.
///
/// Positive where the smaller of the two enclosed areas lies on the left.
pub(crate) fn area_of(ring: impl IntoIterator<Item = Position>) -> f64 {
    let mut polygon = PolygonArea::new(&WGS_84, Winding::CounterClockwise);
    for position in ring {
        polygon.add_point(position.latitude().degrees(), position.longitude().degrees());
    }
    let (_perimeter_m, area_m2, _count) = polygon.compute(true);
    area_m2
}
