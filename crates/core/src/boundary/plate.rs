//! The outline in longitude and latitude, for maps that draw straight lines between such numbers.

use super::Boundary;
use super::piece::Piece;
use crate::angle::wrap_degrees;
use crate::geodesic::{direct, distance_m, from_earth_centred};
use crate::{Latitude, Longitude, Metres, Position};

/// A stretch of a curve is halved so often at most: 2 km to less than 0.1 mm.
const MOST_HALVINGS: u32 = 25;
/// A circle is looked at in so many stretches to begin with.
const CIRCLE_STRETCHES: u32 = 24;

/// A place on a plate carrée map. Along a ring the longitude runs on over 180° and never jumps.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct OnPlate {
    pub(crate) lon_deg: f64,
    pub(crate) lat_deg: f64,
}

impl Boundary {
    /// The outline as closed rings, the zone on the left of each, the first place said again at the end. Straight lines on a
    /// plate carrée map between the places keep to the geodesic reading of the outline within the tolerance.
    ///
    /// None where a ring runs round a pole or over it, which no such map can show.
    pub(crate) fn rings_on_plate(&self, tolerance: Metres) -> Option<Vec<Vec<OnPlate>>> {
        let ways = self.readings.first().map(|(_, lines)| lines.ways()).unwrap_or_default();
        let of_way = |way: &Vec<Piece>| {
            let mut ring = Drawn::from(way.first().map(|piece| from_earth_centred(piece.start))?, tolerance);
            for piece in way {
                ring.follow(&|share| from_earth_centred(piece.at(share)))?;
            }
            ring.closed()
        };
        let of_circle = |circle: &super::circle::Circle| {
            let mut ring = Drawn::from(direct(circle.centre, 0.0, circle.radius_m), tolerance);
            for step in 0..CIRCLE_STRETCHES {
                let turned = |share: f64| (f64::from(step) + share) / f64::from(CIRCLE_STRETCHES);
                ring.follow(&|share| direct(circle.centre, -360.0 * turned(share), circle.radius_m))?;
            }
            ring.closed()
        };
        ways.iter().map(of_way).chain(self.circles.iter().map(of_circle)).collect()
    }
}

/// A ring as far as it is drawn.
struct Drawn {
    places: Vec<OnPlate>,
    tolerance_m: f64,
}

impl Drawn {
    fn from(start: Position, tolerance: Metres) -> Self {
        let first = OnPlate { lon_deg: start.longitude().degrees(), lat_deg: start.latitude().degrees() };
        Self { places: vec![first], tolerance_m: tolerance.metres() }
    }

    /// Draws a curve that starts where the ring has come to; none if no straight lines keep to it.
    fn follow(&mut self, curve: &dyn Fn(f64) -> Position) -> Option<()> {
        self.follow_between(curve, (0.0, 1.0), MOST_HALVINGS)
    }

    fn follow_between(
        &mut self,
        curve: &dyn Fn(f64) -> Position,
        (from, to): (f64, f64),
        halvings: u32,
    ) -> Option<()> {
        let start = *self.places.last()?;
        let end = after(start, curve(to));
        let half = f64::midpoint(from, to);
        // what is bent one way is farthest from its chord about the middle
        if distance_m(middle(start, end), curve(half)) <= self.tolerance_m {
            self.places.push(end);
            return Some(());
        }
        let halvings = halvings.checked_sub(1)?;
        self.follow_between(curve, (from, half), halvings)?;
        self.follow_between(curve, (half, to), halvings)
    }

    /// The ring, if it comes back to where it began; one that runs round a pole ends 360° from there.
    fn closed(mut self) -> Option<Vec<OnPlate>> {
        let (first, last) = (*self.places.first()?, self.places.last_mut()?);
        if (last.lon_deg - first.lon_deg).abs() > 180.0 {
            return None;
        }
        *last = first;
        Some(self.places)
    }
}

/// A place with the longitude that is nearest to that of the place before.
fn after(before: OnPlate, place: Position) -> OnPlate {
    let turned_deg = wrap_degrees(place.longitude().degrees() - before.lon_deg);
    OnPlate { lon_deg: before.lon_deg + turned_deg, lat_deg: place.latitude().degrees() }
}

/// The middle of a straight line on the map.
fn middle(one: OnPlate, other: OnPlate) -> Position {
    Position::new(
        Latitude::computed(f64::midpoint(one.lat_deg, other.lat_deg)),
        Longitude::wrapping(f64::midpoint(one.lon_deg, other.lon_deg)),
    )
}
