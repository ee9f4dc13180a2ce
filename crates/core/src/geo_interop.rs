//! Conversions to and from [`geo_types`], whose numbers are longitude and latitude in degrees, in this order.
//!
//! Straight lines between such numbers are no straight lines on the Earth: an outline goes out within a tolerance that the
//! caller states, and how the edges of a polygon run is said when it comes in.
//!
//! # Examples
//!
//! ```
//! use geo_types::{MultiPolygon, Point};
//! use takeline::{Boundary, EdgeModel, Metres, Position, ZoneSet};
//!
//! let here = Position::from_degrees(45.1170, -30.1190)?;
//! assert_eq!(Position::try_from(Point::from(here))?, here);
//!
//! let bytes = std::fs::read("../../demo-data/zones/marrowick.json")?;
//! let zones = ZoneSet::from_geojson("marrowick.json", &bytes)?;
//! let outline: MultiPolygon = zones.zones()[0].outline(Metres::new(1.0)?)?;
//! let again = Boundary::from_multi_polygon(&outline, EdgeModel::PlateCarree)?;
//! assert!(again.locate(here).signed_distance.metres() < 0.0); // inside, as before
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

use geo_types::{Coord, LineString, MultiPolygon, Point, Polygon};

use crate::boundary::OnPlate;
use crate::zone::{Extent, Zone};
use crate::{Boundary, EdgeModel, InvalidBoundary, InvalidCoordinate, Metres, PartSpec, Position, RingSpec};

/// A polygon that is no boundary.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum InvalidPolygon {
    /// A number that no place has.
    #[error("a coordinate is wrong")]
    Coordinate(#[from] InvalidCoordinate),
    /// Rings that enclose nothing or contradict themselves.
    #[error("the rings do not make a boundary")]
    Boundary(#[from] InvalidBoundary),
}

/// A zone that polygons in longitude and latitude cannot show.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum NoOutline {
    /// Where the zone lies is not known.
    #[error("where the zone is, is not known")]
    Unknown,
    /// The zone holds a pole, or a line of it runs over one.
    #[error("one of its edges runs round or over a pole")]
    AboutAPole,
    /// The tolerance is less than a millimetre, or no number.
    #[error("the tolerance is below one millimetre")]
    Tolerance,
}

impl From<Position> for Coord {
    fn from(position: Position) -> Self {
        Self { x: position.longitude().degrees(), y: position.latitude().degrees() }
    }
}

impl From<Position> for Point {
    fn from(position: Position) -> Self {
        Self(position.into())
    }
}

impl TryFrom<Coord> for Position {
    type Error = InvalidCoordinate;

    /// Takes x for the longitude and y for the latitude, in degrees.
    fn try_from(coord: Coord) -> Result<Self, InvalidCoordinate> {
        Self::from_degrees(coord.y, coord.x)
    }
}

impl TryFrom<Point> for Position {
    type Error = InvalidCoordinate;

    /// Takes x for the longitude and y for the latitude, in degrees.
    fn try_from(point: Point) -> Result<Self, InvalidCoordinate> {
        point.0.try_into()
    }
}

impl Boundary {
    /// Builds a boundary from a polygon whose edges all run alike.
    ///
    /// The numbers are read as WGS 84. Most programs that draw polygons mean [`EdgeModel::PlateCarree`], as GeoJSON does; where
    /// nobody says, [`EdgeModel::Unstated`] counts the difference as doubt. Longitudes may run on over 180° up to less than 540.
    ///
    /// # Errors
    ///
    /// [`InvalidPolygon`] if a number is no coordinate, or the rings do not make a boundary.
    pub fn from_polygon(polygon: &Polygon, edges: EdgeModel) -> Result<Self, InvalidPolygon> {
        Ok(Self::build(&[part(polygon, edges)?])?)
    }

    /// Builds a boundary from polygons whose edges all run alike; they may touch, share borders and overlap.
    ///
    /// # Errors
    ///
    /// As [`Boundary::from_polygon`].
    pub fn from_multi_polygon(polygons: &MultiPolygon, edges: EdgeModel) -> Result<Self, InvalidPolygon> {
        let parts: Result<Vec<PartSpec>, InvalidCoordinate> =
            polygons.iter().map(|polygon| part(polygon, edges)).collect();
        Ok(Self::build(&parts?)?)
    }

    /// Returns the outline as polygons whose straight lines in longitude and latitude keep to the true line within the
    /// tolerance, measured on the ground.
    ///
    /// # Accuracy
    ///
    /// Vertices lie on the line to a millimetre. Where edges are unstated this is the geodesic reading: what the readings
    /// differ by comes on top, and [`Boundary::locate`] says how much that is. For drawing: a side is asked of the boundary
    /// itself, never of this.
    ///
    /// # Edge cases
    ///
    /// Outer rings run counterclockwise, holes clockwise. Along a ring that crosses 180° the longitude runs on, up to less than
    /// 540, and does not jump. Borders that parts share are left out; rings may touch themselves and each other.
    ///
    /// # Errors
    ///
    /// [`NoOutline`] for a zone about a pole, and for a tolerance of less than a millimetre.
    pub fn to_multi_polygon(&self, tolerance: Metres) -> Result<MultiPolygon, NoOutline> {
        if tolerance.metres() < 1e-3 {
            return Err(NoOutline::Tolerance);
        }
        let rings = self.rings_on_plate(tolerance).ok_or(NoOutline::AboutAPole)?;
        let rings = rings.into_iter().map(Ring::of);
        let (holes, outer): (Vec<Ring>, Vec<Ring>) = rings.partition(|ring| ring.area < 0.0);
        let mut inside: Vec<Vec<LineString>> = vec![Vec::new(); outer.len()];
        for hole in holes {
            let held = |at: &usize| (hole.places_in(&outer[*at]), -outer[*at].area);
            let best = (0..outer.len()).max_by(|one, two| {
                let ((count, size), (other_count, other_size)) = (held(one), held(two));
                count.cmp(&other_count).then(size.total_cmp(&other_size))
            });
            let best = best.ok_or(NoOutline::AboutAPole)?;
            inside[best].push(hole.beside(&outer[best]).line());
        }
        Ok(outer.iter().zip(inside).map(|(ring, holes)| Polygon::new(ring.line(), holes)).collect())
    }
}

impl Zone {
    /// Returns the outline of the zone as [`Boundary::to_multi_polygon`] does.
    ///
    /// # Errors
    ///
    /// [`NoOutline`], also where it is not known where the zone lies.
    pub fn outline(&self, tolerance: Metres) -> Result<MultiPolygon, NoOutline> {
        match &self.extent {
            Extent::Known(boundary) => boundary.to_multi_polygon(tolerance),
            Extent::Unknown { .. } => Err(NoOutline::Unknown),
        }
    }
}

fn part(polygon: &Polygon, edges: EdgeModel) -> Result<PartSpec, InvalidCoordinate> {
    let ring = |line: &LineString| {
        let vertices = line.coords().map(|coord| Position::from_degrees(coord.y, once_round(coord.x)));
        let mut vertices: Vec<Position> = vertices.collect::<Result<_, _>>()?;
        if vertices.len() > 1 && vertices.first() == vertices.last() {
            vertices.pop();
        }
        let edges = vec![edges; vertices.len()];
        Ok(RingSpec { vertices, edges, sides: Vec::new() })
    };
    let holes: Result<Vec<RingSpec>, InvalidCoordinate> = polygon.interiors().iter().map(ring).collect();
    Ok(PartSpec::Polygon { exterior: ring(polygon.exterior())?, holes: holes? })
}

/// A longitude of a ring that runs on over 360°, as [`Boundary::to_multi_polygon`] draws it.
fn once_round(lon_deg: f64) -> f64 {
    if (360.0..540.0).contains(&lon_deg) { lon_deg - 360.0 } else { lon_deg }
}

/// A closed ring on a plate carrée map, and its signed area there.
struct Ring {
    places: Vec<OnPlate>,
    area: f64,
}

impl Ring {
    /// A ring drawn from −180° on.
    fn of(mut places: Vec<OnPlate>) -> Self {
        let west_deg = places.iter().map(|place| place.lon_deg).fold(f64::INFINITY, f64::min);
        let turns_deg = ((west_deg + 180.0) / 360.0).floor() * 360.0;
        for place in &mut places {
            place.lon_deg -= turns_deg;
        }
        let first_lon_deg = places.first().map_or(0.0, |place| place.lon_deg);
        let strip = |pair: &[OnPlate]| {
            let from_deg = pair[0].lon_deg - first_lon_deg;
            let to_deg = pair[1].lon_deg - first_lon_deg;
            (from_deg * pair[1].lat_deg - to_deg * pair[0].lat_deg) / 2.0
        };
        let area = places.windows(2).map(strip).sum();
        Self { places, area }
    }

    /// How many of its places lie in another ring, wherever on the map that is drawn.
    fn places_in(&self, other: &Self) -> usize {
        let turns_deg = other.turns_from(self);
        self.places.iter().filter(|place| other.holds(place.lon_deg + turns_deg, place.lat_deg)).count()
    }

    /// The ring drawn on the same stretch of the map as another.
    fn beside(mut self, other: &Self) -> Self {
        let turns_deg = other.turns_from(&self);
        for place in &mut self.places {
            place.lon_deg += turns_deg;
        }
        self
    }

    /// By what whole turns, in degrees, another ring has to be moved to be drawn where this one is.
    fn turns_from(&self, other: &Self) -> f64 {
        ((self.middle_deg() - other.middle_deg()) / 360.0).round() * 360.0
    }

    fn middle_deg(&self) -> f64 {
        let longitudes = self.places.iter().map(|place| place.lon_deg);
        let west_deg = longitudes.clone().fold(f64::INFINITY, f64::min);
        f64::midpoint(west_deg, longitudes.fold(f64::NEG_INFINITY, f64::max))
    }

    /// Whether a place is inside, by the lines that it has to its east.
    fn holds(&self, lon_deg: f64, lat_deg: f64) -> bool {
        let is_east = |pair: &&[OnPlate]| {
            let (one, two) = (pair[0], pair[1]);
            (one.lat_deg > lat_deg) != (two.lat_deg > lat_deg)
                && lon_deg
                    < one.lon_deg
                        + (lat_deg - one.lat_deg) / (two.lat_deg - one.lat_deg) * (two.lon_deg - one.lon_deg)
        };
        self.places.windows(2).filter(is_east).count() % 2 == 1
    }

    fn line(&self) -> LineString {
        self.places.iter().map(|place| Coord { x: place.lon_deg, y: place.lat_deg }).collect()
    }
}
