//! A plane on which areas are those of the ellipsoid.

use geo::{Coord, LineString, MapCoords, MultiPolygon, Polygon};
use takeline::{Boundary, Metres, NoOutline, Position};

/// Half the equator and the square of the eccentricity of WGS 84 (NGA.STND.0036, 2014).
const SEMI_MAJOR_M: f64 = 6_378_137.0;
const ECCENTRICITY_SQUARED: f64 = 6.694_379_990_141_316e-3;
/// Outlines are drawn this closely, in metres.
const DRAWN_TO_M: f64 = 0.005;
/// A line that is straight in longitude and latitude is cut where it climbs farther than this, in degrees: between the cuts
/// it is straight on the plane to 2 mm.
const STEP_DEG: f64 = 0.002;

/// The cylindrical equal-area projection of the ellipsoid, with its standard parallel and its middle where the water is.
///
/// Areas on it are true everywhere, whatever its size; shapes are true about its middle only.
///
/// # References
///
/// Snyder (1987), Map projections: a working manual, USGS professional paper 1395, eq. 10-14 to 10-16 and 3-12.
#[derive(Debug, Clone, Copy)]
pub(super) struct Plane {
    middle_lon_deg: f64,
    scale: f64,
    middle_north_m: f64,
}

/// The authalic function q of a latitude (eq. 3-12).
fn authalic(lat_deg: f64) -> f64 {
    let sine = lat_deg.to_radians().sin();
    let e = ECCENTRICITY_SQUARED.sqrt();
    let one_less = 1.0 - ECCENTRICITY_SQUARED;
    one_less * (sine / (1.0 - ECCENTRICITY_SQUARED * sine * sine) + (e * sine).atanh() / e)
}

impl Plane {
    /// The plane about a place.
    pub(super) fn about(middle: Position) -> Self {
        // nearer to a pole the plane would have no width
        let lat_deg = middle.latitude().degrees().clamp(-89.0, 89.0);
        let (sine, cosine) = lat_deg.to_radians().sin_cos();
        let scale = cosine / (1.0 - ECCENTRICITY_SQUARED * sine * sine).sqrt();
        let plane = Self { middle_lon_deg: middle.longitude().degrees(), scale, middle_north_m: 0.0 };
        Self { middle_north_m: plane.north_m(lat_deg), ..plane }
    }

    fn north_m(self, lat_deg: f64) -> f64 {
        SEMI_MAJOR_M * authalic(lat_deg) / (2.0 * self.scale) - self.middle_north_m
    }

    /// A place of x longitude and y latitude, in metres east and north.
    fn place(self, lon_lat: Coord) -> Coord {
        let east = (lon_lat.x - self.middle_lon_deg).to_radians();
        Coord { x: SEMI_MAJOR_M * self.scale * east, y: self.north_m(lon_lat.y) }
    }

    /// The position of a place on the plane; none beyond a pole.
    fn position(self, place: Coord) -> Option<Position> {
        let lon_deg = self.middle_lon_deg + (place.x / (SEMI_MAJOR_M * self.scale)).to_degrees();
        let wanted = (place.y + self.middle_north_m) * 2.0 * self.scale / SEMI_MAJOR_M;
        let lat_deg = latitude_of(wanted)?;
        let lon_deg = lon_deg - ((lon_deg + 180.0) / 360.0).floor() * 360.0;
        Position::from_degrees(lat_deg, lon_deg).ok()
    }

    /// A boundary on the plane, on the turn of the Earth that is nearest to its middle; the geodesic reading of unstated edges.
    ///
    /// # Errors
    ///
    /// [`NoOutline`] for a zone about a pole.
    pub(super) fn shape(self, boundary: &Boundary) -> Result<MultiPolygon, NoOutline> {
        let drawn = boundary.to_multi_polygon(Metres::non_negative(DRAWN_TO_M).unwrap_or_default())?;
        let polygon = |polygon: &Polygon| {
            let first = polygon.exterior().0.first().map_or(self.middle_lon_deg, |first| first.x);
            let turns_deg = ((first - self.middle_lon_deg) / 360.0).round() * 360.0;
            let ring = |ring: &LineString| self.ring(ring, turns_deg);
            Polygon::new(ring(polygon.exterior()), polygon.interiors().iter().map(ring).collect())
        };
        Ok(drawn.iter().map(polygon).collect())
    }

    fn ring(self, ring: &LineString, turns_deg: f64) -> LineString {
        let mut places: Vec<Coord> = Vec::with_capacity(ring.0.len());
        for line in ring.lines() {
            let climbs_deg = (line.end.y - line.start.y).abs();
            let runs_straight = line.dx().abs() < f64::EPSILON || climbs_deg <= STEP_DEG;
            let steps = if runs_straight { 1.0 } else { (climbs_deg / STEP_DEG).ceil() };
            let mut step = 0.0;
            while step < steps {
                places.push(line.start + (line.end - line.start) * (step / steps));
                step += 1.0;
            }
        }
        places.extend(places.first().copied());
        LineString(places).map_coords(|at| self.place(Coord { x: at.x - turns_deg, y: at.y }))
    }

    /// The rings of polygons as positions, each polygon's outer ring first; the first position is not said again at the end.
    pub(super) fn rings(self, shape: &MultiPolygon) -> Vec<Vec<Vec<Position>>> {
        let ring = |ring: &LineString| -> Vec<Position> {
            let open = ring.0.len().saturating_sub(1);
            ring.0.iter().take(open).filter_map(|place| self.position(*place)).collect()
        };
        let polygon = |polygon: &Polygon| {
            std::iter::once(polygon.exterior()).chain(polygon.interiors()).map(ring).collect()
        };
        shape.iter().map(polygon).collect()
    }
}

/// The latitude whose authalic function is this (eq. 3-16); none beyond a pole.
fn latitude_of(wanted: f64) -> Option<f64> {
    let most = authalic(90.0);
    if wanted.abs() > most {
        return (wanted.abs() < most * (1.0 + 1e-9)).then(|| 90.0_f64.copysign(wanted));
    }
    let mut lat = (wanted / 2.0).clamp(-1.0, 1.0).asin();
    for _ in 0..8 {
        let (sine, cosine) = lat.sin_cos();
        if cosine < 1e-9 {
            break;
        }
        let less = 1.0 - ECCENTRICITY_SQUARED * sine * sine;
        let slope = 2.0 * cosine * (1.0 - ECCENTRICITY_SQUARED) / (less * less);
        lat += (wanted - authalic(lat.to_degrees())) / slope;
    }
    Some(lat.to_degrees().clamp(-90.0, 90.0))
}
