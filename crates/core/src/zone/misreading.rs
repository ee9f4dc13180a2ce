//! A place that is far from every zone, though one slip in writing it down would explain that.

use super::ZoneSet;
use crate::{Metres, Position};

/// Below this, in degrees, a latitude or longitude is 0: a tenth of a metre, less than any receiver tells apart.
const ZERO_DEG: f64 = 1e-6;

/// What may have gone wrong when a position was written down.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum Slip {
    /// Latitude and longitude were exchanged.
    Exchanged,
    /// The sign (or the letter) of the longitude is wrong.
    LongitudeSign,
    /// The sign (or the letter) of the latitude is wrong.
    LatitudeSign,
    /// Both signs are wrong.
    BothSigns,
    /// Latitude and longitude were exchanged, and a sign is wrong.
    ExchangedAndSign,
}

/// How a position that is far from every zone was likely meant.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Misreading {
    /// What went wrong.
    pub slip: Slip,
    /// The place that was likely meant.
    pub likely: Position,
    /// The zone near that place, by its place among the zones of the set.
    pub zone_number: usize,
    /// How far the place as it stands is from every zone.
    #[cfg_attr(feature = "serde", serde(rename = "distance_m"))]
    pub distance: Metres,
}

impl ZoneSet {
    /// Farther than this from every zone, in metres, a place is worth a second look; and a place nearer than this to one
    /// explains it (common practice, no source).
    pub const FAR_M: f64 = 100_000.0;

    /// Returns how a place was likely meant that is at least 100 km from every zone: exchanged, with another sign, or
    /// both, if that lies within 100 km of a zone; the nearest such reading. None for a place that is near a zone, and
    /// for one that is honestly far.
    ///
    /// # Edge cases
    ///
    /// Zones whose line is not known at all are near nothing. A set of no zones explains nothing.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Position, ZoneSet};
    /// let nowhere = ZoneSet::new(Vec::new());
    /// assert_eq!(nowhere.likely_misreading(Position::from_degrees(45.11, -30.12)?), None);
    /// # Ok::<(), takeline::InvalidCoordinate>(())
    /// ```
    #[must_use]
    pub fn likely_misreading(&self, position: Position) -> Option<Misreading> {
        if self.is_near(position) {
            return None;
        }
        let near = other_readings(position).filter_map(|(slip, likely)| {
            // most readings lie far from every zone, and no line has to be looked at to know it
            if !self.has_box_within(likely, Self::FAR_M) {
                return None;
            }
            let (zone_number, near_m) = self.nearest_zone(likely)?;
            (near_m < Self::FAR_M).then_some((slip, likely, zone_number, near_m))
        });
        let (slip, likely, zone_number, _) = near.min_by(|one, other| one.3.total_cmp(&other.3))?;
        let (_, distance_m) = self.nearest_zone(position)?;
        Some(Misreading { slip, likely, zone_number, distance: Metres::computed(distance_m) })
    }

    /// Returns whether a place is 0, 0 to the last digit that receivers write, and no zone is within 100 km of it.
    ///
    /// Receivers write it when they have no position, and sheets of numbers where a cell was empty. Where zones lie about
    /// it, it may be meant.
    #[must_use]
    pub fn is_zero_far_from_all(&self, position: Position) -> bool {
        let is_zero = |degrees: f64| degrees.abs() < ZERO_DEG;
        let is_zero = is_zero(position.latitude().degrees()) && is_zero(position.longitude().degrees());
        is_zero && !self.is_near(position)
    }

    /// Whether a zone is within 100 km.
    pub(crate) fn is_near(&self, position: Position) -> bool {
        self.has_box_within(position, Self::FAR_M)
            && self.nearest_zone(position).is_some_and(|(_, distance_m)| distance_m < Self::FAR_M)
    }

    /// The zone whose line or inside is nearest, and how far, in metres; 0 inside. Of zones equally near the first in the set.
    pub(super) fn nearest_zone(&self, position: Position) -> Option<(usize, f64)> {
        let found = self.near_numbered(position, Metres::ZERO).into_iter();
        found
            .map(|(number, off)| (number, off.far.signed_distance.metres().max(0.0)))
            .min_by(|one, other| one.1.total_cmp(&other.1).then(one.0.cmp(&other.0)))
    }
}

/// The places that a position may have been meant for if one slip was made in writing it down.
pub(crate) fn other_readings(position: Position) -> impl Iterator<Item = (Slip, Position)> {
    let (lat_deg, lon_deg) = (position.latitude().degrees(), position.longitude().degrees());
    let readings = [
        (Slip::Exchanged, lon_deg, lat_deg),
        (Slip::LongitudeSign, lat_deg, -lon_deg),
        (Slip::LatitudeSign, -lat_deg, lon_deg),
        (Slip::BothSigns, -lat_deg, -lon_deg),
        (Slip::ExchangedAndSign, lon_deg, -lat_deg),
        (Slip::ExchangedAndSign, -lon_deg, lat_deg),
        (Slip::ExchangedAndSign, -lon_deg, -lat_deg),
    ];
    let places = readings.into_iter();
    places.filter_map(|(slip, lat_deg, lon_deg)| Some((slip, Position::from_degrees(lat_deg, lon_deg).ok()?)))
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use crate::zone_file;

    use super::*;

    const ZONES: &str = r#"{ "type": "FeatureCollection",
      "takeline": { "format": "takeline.zones/1", "datum": "WGS 84", "time_zone": "UTC" },
      "features": [ { "type": "Feature", "id": "cove",
        "geometry": { "type": "Polygon", "coordinates": [[[-30.13, 45.11], [-30.12, 45.11], [-30.12, 45.12], [-30.13, 45.11]]] },
        "properties": { "name": "Cove", "edges": "geodesic", "take": "none", "source": { "instrument": "Test" } } } ] }"#;

    fn slip(lat_deg: f64, lon_deg: f64) -> Option<Slip> {
        let zones = ZoneSet::new(zone_file::read("zones", ZONES.as_bytes()).unwrap().zones);
        let found = zones.likely_misreading(Position::from_degrees(lat_deg, lon_deg).unwrap())?;
        assert_abs_diff_eq!(found.likely.latitude().degrees(), 45.115, epsilon = 1e-9);
        assert!((found.likely.longitude().degrees() + 30.125).abs() < 1e-9 && found.zone_number == 0);
        Some(found.slip)
    }

    #[test]
    fn each_slip_is_told_from_an_honest_distance() {
        assert_eq!(slip(-30.125, 45.115), Some(Slip::Exchanged));
        assert_eq!(slip(45.115, 30.125), Some(Slip::LongitudeSign));
        assert_eq!(slip(-45.115, -30.125), Some(Slip::LatitudeSign));
        assert_eq!(slip(-45.115, 30.125), Some(Slip::BothSigns));
        assert_eq!(slip(30.125, 45.115), Some(Slip::ExchangedAndSign));
        assert_eq!(slip(45.115, -30.125), None);
        // far, and no slip would bring it near
        assert_eq!(slip(52.0, 3.0), None);
    }
}
