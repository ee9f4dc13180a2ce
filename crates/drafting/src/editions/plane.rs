//! A plane on which areas are those of the ellipsoid.

use geo::{Coord, LineString, MapCoords, Polygon};
use takeline::Position;

/// Half the equator and the square of the eccentricity of WGS 84 (NGA.STND.0036, 2014).
const SEMI_MAJOR_M: f64 = 6_378_137.0;
const ECCENTRICITY_SQUARED: f64 = 6.694_379_990_141_316e-3;
/// A line that is straight in longitude and latitude is cut so that between the cuts it is straight on the plane to this, in
/// metres on the ground.
const STRAIGHT_TO_M: f64 = 0.001;
/// However flat a line bends, it is cut where it climbs farther than this, in degrees.
const LONGEST_STEP_DEG: f64 = 0.05;

/// The authalic function q of a latitude (Snyder 1987, eq. 3-12).
fn authalic(lat_deg: f64) -> f64 {
    let sine = lat_deg.to_radians().sin();
    let e = ECCENTRICITY_SQUARED.sqrt();
    let one_less = 1.0 - ECCENTRICITY_SQUARED;
    one_less * (sine / (1.0 - ECCENTRICITY_SQUARED * sine * sine) + (e * sine).atanh() / e)
}

/// A place of x longitude and y latitude, on the plane, in metres: the cylindrical equal-area projection of the ellipsoid with
/// the equator as its standard parallel. Areas on it are true everywhere; shapes are true at the equator only.
///
/// # References
///
/// Snyder (1987), Map projections: a working manual, USGS professional paper 1395, eq. 10-14 and 10-15.
pub(super) fn on_plane(lon_lat: Coord) -> Coord {
    Coord { x: SEMI_MAJOR_M * lon_lat.x.to_radians(), y: SEMI_MAJOR_M * authalic(lon_lat.y) / 2.0 }
}

/// The position of a place on the plane; none beyond a pole.
fn position(place: Coord) -> Option<Position> {
    let lon_deg = (place.x / SEMI_MAJOR_M).to_degrees();
    let lon_deg = lon_deg - ((lon_deg + 180.0) / 360.0).floor() * 360.0;
    Position::from_degrees(latitude_of(2.0 * place.y / SEMI_MAJOR_M)?, lon_deg).ok()
}

/// A polygon of longitude and latitude with straight lines there, on the plane.
pub(super) fn laid(polygon: &Polygon) -> Polygon {
    let ring = |ring: &LineString| stepped(ring).map_coords(on_plane);
    Polygon::new(ring(polygon.exterior()), polygon.interiors().iter().map(ring).collect())
}

/// A ring with more places where it would bend on the plane.
fn stepped(ring: &LineString) -> LineString {
    let mut places: Vec<Coord> = Vec::with_capacity(ring.0.len());
    for line in ring.lines() {
        let climbs_deg = (line.end.y - line.start.y).abs();
        let step_deg = step_deg(line.start.y.abs().max(line.end.y.abs()));
        // a meridian is straight on both
        let runs_straight = line.dx().abs() < f64::EPSILON || climbs_deg <= step_deg;
        let steps = if runs_straight { 1.0 } else { (climbs_deg / step_deg).ceil() };
        let mut step = 0.0;
        while step < steps {
            places.push(line.start + (line.end - line.start) * (step / steps));
            step += 1.0;
        }
    }
    places.extend(places.first().copied());
    LineString(places)
}

/// How far a line may climb at a latitude: over a step s it bends by s² tan φ / 8 on a sphere of the Earth's size.
fn step_deg(lat_deg: f64) -> f64 {
    let bend = lat_deg.min(89.999_999).to_radians().tan();
    let step = (8.0 * STRAIGHT_TO_M / (SEMI_MAJOR_M * bend)).sqrt();
    step.to_degrees().min(LONGEST_STEP_DEG)
}

/// A stretch of the plane that keeps areas, after which shapes are true about a place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretch {
    middle: Coord,
    factor: f64,
}

impl Stretch {
    /// About a place on the plane.
    pub(super) fn about(middle: Coord) -> Self {
        // nearer to a pole the stretch would leave no width
        let lat_deg = latitude_of(2.0 * middle.y / SEMI_MAJOR_M).unwrap_or(90.0).clamp(-89.999, 89.999);
        let (sine, cosine) = lat_deg.to_radians().sin_cos();
        Self { middle, factor: cosine / (1.0 - ECCENTRICITY_SQUARED * sine * sine).sqrt() }
    }

    pub(super) fn of(self, polygon: &Polygon) -> Polygon {
        polygon.map_coords(|place| Coord {
            x: (place.x - self.middle.x) * self.factor,
            y: (place.y - self.middle.y) / self.factor,
        })
    }

    /// The rings of a stretched polygon as positions, the outer one first; the first position is not said again at the end.
    pub(super) fn positions(self, polygon: &Polygon) -> Vec<Vec<Position>> {
        let back = |place: &Coord| {
            let (x, y) = (place.x / self.factor + self.middle.x, place.y * self.factor + self.middle.y);
            position(Coord { x, y })
        };
        let ring = |ring: &LineString| -> Vec<Position> {
            let open = ring.0.len().saturating_sub(1);
            ring.0.iter().take(open).filter_map(back).collect()
        };
        std::iter::once(polygon.exterior()).chain(polygon.interiors()).map(ring).collect()
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
