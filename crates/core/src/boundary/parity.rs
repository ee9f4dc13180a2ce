//! Containment by crossing parity: a second way to the side, kept apart from the nearest-piece way to hold the two
//! against each other.

use super::piece::Piece;
use crate::Position;
use crate::geodesic::{Vector, from_earth_centred, surface};

/// Whether a position lies on the left of a set of closed rings, by counting the crossings of its meridian northwards.
///
/// Every ring has its smaller side on the left or is a hole walked the other way. The north pole is inside as often
/// as the rings run round it eastwards.
pub(super) fn inside_by_parity<'a>(place: Position, pieces: impl IntoIterator<Item = &'a Piece>) -> bool {
    let here = surface(place);
    let lon_rad = place.longitude().radians();
    let mut crossings = 0_i32;
    let mut turned_rad = 0.0;
    for piece in pieces {
        let (from, to) = (longitude_from(piece.start, lon_rad), longitude_from(piece.end, lon_rad));
        let step = wrap_rad(to - from);
        turned_rad += step;
        let eastward = from < 0.0 && from + step >= 0.0;
        let westward = from >= 0.0 && from + step < 0.0;
        if (eastward || westward) && crosses_north_of(piece, &here.point, here.east, place) {
            crossings += if eastward { 1 } else { -1 };
        }
    }
    let turns = (turned_rad / std::f64::consts::TAU).round();
    // walking east with the zone on the left puts the zone to the north of the crossing; a zone that only the south
    // pole is in has the north pole outside, and no zone has both
    let inside_at_pole = i32::from(turns >= 1.0);
    inside_at_pole - crossings > 0
}

/// Longitude of a point counted from a meridian, −π ≤ λ < π.
fn longitude_from(point: Vector, lon_rad: f64) -> f64 {
    wrap_rad(point.y.atan2(point.x) - lon_rad)
}

fn wrap_rad(angle: f64) -> f64 {
    let turned = angle % std::f64::consts::TAU;
    if turned >= std::f64::consts::PI {
        turned - std::f64::consts::TAU
    } else if turned < -std::f64::consts::PI {
        turned + std::f64::consts::TAU
    } else {
        turned
    }
}

/// Whether the piece crosses the meridian plane north of the place.
fn crosses_north_of(piece: &Piece, here: &Vector, east: Vector, place: Position) -> bool {
    let (mut low, mut high) = (0.0, 1.0);
    let side = |share: f64| (piece.at(share) - *here).dot(east);
    let rising = side(1.0) > side(0.0);
    for _ in 0..60 {
        let middle: f64 = f64::midpoint(low, high);
        if (side(middle) > 0.0) == rising {
            high = middle;
        } else {
            low = middle;
        }
    }
    let crossing = from_earth_centred(piece.at(f64::midpoint(low, high)));
    crossing.latitude().degrees() > place.latitude().degrees()
}
