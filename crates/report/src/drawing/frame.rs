//! The projection of the map and the part of the sea it shows.

use takeline::{GeodesicSegment, Position};

/// Width of the map in units of the drawing; the height follows the track.
pub(crate) const WIDTH: f64 = 760.0;
const TALLEST: f64 = 820.0;
const FLATTEST: f64 = 470.0;
/// No frame is smaller than this, in metres, or a boat at its mooring would fill the page with its wander.
const SMALLEST_M: f64 = 240.0;
/// Water left around the track, as a share of its extent on each side.
const MARGIN: f64 = 0.09;

/// A local equirectangular projection: metres east and north of the middle, one scale for both.
///
/// Longitudes are taken as differences, the short way round, so that 180° is no edge.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Frame {
    middle_latitude_deg: f64,
    middle_longitude_deg: f64,
    metres_per_latitude_deg: f64,
    metres_per_longitude_deg: f64,
    /// Units of the drawing per metre.
    pub(crate) units_per_m: f64,
    pub(crate) height: f64,
}

/// The difference of two longitudes the short way round, −180 up to 180.
pub(crate) fn short_way_deg(difference_deg: f64) -> f64 {
    let turned = (difference_deg + 180.0) % 360.0;
    if turned < 0.0 { turned + 180.0 } else { turned - 180.0 }
}

fn span(values: impl Iterator<Item = f64>) -> (f64, f64) {
    values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
}

impl Frame {
    /// The frame that holds all these places; none if there are none.
    pub(crate) fn about(places: &[Position]) -> Option<Self> {
        Self::between(places, (FLATTEST, TALLEST))
    }

    /// As [`Self::about`], with another least and greatest height.
    pub(crate) fn between(places: &[Position], (flattest, tallest): (f64, f64)) -> Option<Self> {
        let first = places.first()?;
        let origin_deg = first.longitude().degrees();
        let east = |place: &Position| short_way_deg(place.longitude().degrees() - origin_deg);
        let (west_deg, east_deg) = span(places.iter().map(east));
        let (south_deg, north_deg) = span(places.iter().map(|place| place.latitude().degrees()));
        let middle_latitude_deg = south_deg.midpoint(north_deg);
        let middle_longitude_deg = short_way_deg(origin_deg + west_deg.midpoint(east_deg));
        let (per_latitude, per_longitude) = metres_per_degree(middle_latitude_deg, middle_longitude_deg)?;
        let padded = |extent_m: f64| (extent_m * (1.0 + 2.0 * MARGIN)).max(SMALLEST_M);
        let width_m = padded((east_deg - west_deg) * per_longitude);
        let height_m = padded((north_deg - south_deg) * per_latitude);
        let height = (WIDTH * height_m / width_m).clamp(flattest, tallest);
        Some(Self {
            middle_latitude_deg,
            middle_longitude_deg,
            metres_per_latitude_deg: per_latitude,
            metres_per_longitude_deg: per_longitude,
            units_per_m: (WIDTH / width_m).min(height / height_m),
            height,
        })
    }

    /// Where a place comes to lie on the drawing, x to the right and y down.
    pub(crate) fn place(&self, place: Position) -> (f64, f64) {
        let east_deg = short_way_deg(place.longitude().degrees() - self.middle_longitude_deg);
        self.at(place.latitude().degrees(), east_deg)
    }

    fn at(&self, latitude_deg: f64, east_deg: f64) -> (f64, f64) {
        let north_m = (latitude_deg - self.middle_latitude_deg) * self.metres_per_latitude_deg;
        let east_m = east_deg * self.metres_per_longitude_deg;
        (WIDTH / 2.0 + east_m * self.units_per_m, self.height / 2.0 - north_m * self.units_per_m)
    }

    /// A way along places, none of which is half the Earth from the next: it is not torn where it leaves ±180°.
    pub(crate) fn chain(&self, places: &[Position]) -> Vec<(f64, f64)> {
        let mut east_deg = None;
        let mut points = Vec::with_capacity(places.len());
        for place in places {
            let own_deg = short_way_deg(place.longitude().degrees() - self.middle_longitude_deg);
            let joined_deg = east_deg.map_or(own_deg, |before: f64| before + short_way_deg(own_deg - before));
            east_deg = Some(joined_deg);
            points.push(self.at(place.latitude().degrees(), joined_deg));
        }
        points
    }

    /// Whether a closed way has anything to show in the frame, by its box.
    pub(crate) fn shows(&self, points: &[(f64, f64)]) -> bool {
        let (left, right) = span(points.iter().map(|point| point.0));
        let (top, bottom) = span(points.iter().map(|point| point.1));
        right >= 0.0 && left <= WIDTH && bottom >= 0.0 && top <= self.height
    }

    /// The middle of the box of what the frame shows of a closed way; none if no corner of it is shown.
    pub(crate) fn middle_of(&self, points: &[(f64, f64)]) -> Option<(f64, f64)> {
        let is_shown =
            |point: &&(f64, f64)| (0.0..=WIDTH).contains(&point.0) && (0.0..=self.height).contains(&point.1);
        points.iter().find(is_shown)?;
        let shown = || points.iter().filter(is_shown);
        let (left, right) = span(shown().map(|point| point.0));
        let (top, bottom) = span(shown().map(|point| point.1));
        Some((left.midpoint(right), top.midpoint(bottom)))
    }

    /// Latitudes of the lower and upper edge, and longitudes east of the middle of the left and right one, in degrees.
    pub(crate) fn edges_deg(&self) -> [(f64, f64); 2] {
        let half_height_deg = self.height / 2.0 / self.units_per_m / self.metres_per_latitude_deg;
        let half_width_deg = WIDTH / 2.0 / self.units_per_m / self.metres_per_longitude_deg;
        [
            (self.middle_latitude_deg - half_height_deg, self.middle_latitude_deg + half_height_deg),
            (-half_width_deg, half_width_deg),
        ]
    }

    pub(crate) const fn middle_longitude_deg(&self) -> f64 {
        self.middle_longitude_deg
    }

    /// The point of the drawing for a latitude and a longitude east of the middle.
    pub(crate) fn at_degrees(&self, latitude_deg: f64, east_deg: f64) -> (f64, f64) {
        self.at(latitude_deg, east_deg)
    }

    /// By how much, in percent, the length of the worst edge or diagonal on the drawing differs from the geodesic.
    pub(crate) fn worst_scale_percent(&self) -> Option<f64> {
        let [(south_deg, north_deg), (west_deg, east_deg)] = self.edges_deg();
        let corner = |latitude_deg: f64, east_deg: f64| {
            let longitude_deg = short_way_deg(self.middle_longitude_deg + east_deg);
            Some((Position::from_degrees(latitude_deg, longitude_deg).ok()?, self.at(latitude_deg, east_deg)))
        };
        let [a, b, c, d] = [
            corner(south_deg, west_deg)?,
            corner(south_deg, east_deg)?,
            corner(north_deg, east_deg)?,
            corner(north_deg, west_deg)?,
        ];
        let off = |from: (Position, (f64, f64)), to: (Position, (f64, f64))| {
            let drawn_m = (from.1.0 - to.1.0).hypot(from.1.1 - to.1.1) / self.units_per_m;
            let true_m = GeodesicSegment::between(from.0, to.0).length().metres();
            (drawn_m / true_m - 1.0).abs() * 100.0
        };
        [off(a, b), off(b, c), off(c, d), off(a, c)]
            .into_iter()
            .filter(|off| off.is_finite())
            .reduce(f64::max)
    }
}

/// Metres per degree about a place, by short geodesics; none closer than a hundredth of a degree to a pole.
fn metres_per_degree(latitude_deg: f64, longitude_deg: f64) -> Option<(f64, f64)> {
    const STEP_DEG: f64 = 0.01;
    let middle_deg = latitude_deg.clamp(-90.0 + STEP_DEG, 90.0 - STEP_DEG);
    let position = |north_deg: f64, east_deg: f64| {
        Position::from_degrees(middle_deg + north_deg, short_way_deg(longitude_deg + east_deg)).ok()
    };
    let length_m = |from, to| GeodesicSegment::between(from, to).length().metres();
    let half = STEP_DEG / 2.0;
    let north_m = length_m(position(-half, 0.0)?, position(half, 0.0)?);
    let east_m = length_m(position(0.0, -half)?, position(0.0, half)?);
    Some((north_m / STEP_DEG, east_m / STEP_DEG))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(latitude_deg: f64, longitude_deg: f64) -> Position {
        Position::from_degrees(latitude_deg, longitude_deg).unwrap()
    }

    #[test]
    fn distances_on_the_map_are_geodesic_ones() {
        // measured against the library's own geodesics: a frame of 3 km at 45° is true to a twentieth of a percent
        let frame = Frame::about(&[at(45.10, -30.14), at(45.12, -30.10)]).unwrap();
        assert!(frame.worst_scale_percent().unwrap() < 0.05, "{:?}", frame.worst_scale_percent());
    }

    #[test]
    fn a_track_over_180_degrees_stays_in_one_piece() {
        let track = [at(-17.0, 179.99), at(-17.0, -179.99)];
        let frame = Frame::about(&track).unwrap();
        let points = frame.chain(&track);
        assert!(points[0].0 < points[1].0, "east is right: {points:?}");
        assert!((points[0].0 + points[1].0 - WIDTH).abs() < 0.01, "the middle is 180°: {points:?}");
    }

    #[test]
    fn longitudes_differ_the_short_way() {
        for (difference, expected) in [(359.0, -1.0), (-359.0, 1.0), (10.0, 10.0), (-180.0, -180.0)] {
            assert!((short_way_deg(difference) - expected).abs() < 1e-9, "{difference}");
        }
    }

    #[test]
    fn one_place_or_a_pole_still_make_a_frame() {
        assert!(Frame::about(&[]).is_none());
        for place in [at(45.0, -30.0), at(90.0, 0.0), at(-90.0, 12.0)] {
            let point = Frame::about(&[place]).unwrap().place(place);
            assert!(point.0.is_finite() && point.1.is_finite());
        }
    }
}
