//! Places that are far from every zone and would not be if two numbers were exchanged or a sign were another.

use super::{Extent, ZoneSet};
use crate::{Located, Metres, Position};

/// A slip that brings a place near a zone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Slip {
    /// The sign of the longitude: east for west.
    LongitudeSign,
    /// The sign of the latitude: north for south.
    LatitudeSign,
    /// Both signs.
    BothSigns,
    /// Latitude and longitude in each other's place.
    Exchanged,
    /// In each other's place, and a sign or both missing.
    ExchangedAndSigns,
}

impl Slip {
    /// Returns a stable word for it.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Self::LongitudeSign => "longitude-sign",
            Self::LatitudeSign => "latitude-sign",
            Self::BothSigns => "both-signs",
            Self::Exchanged => "exchanged",
            Self::ExchangedAndSigns => "exchanged-and-signs",
        }
    }
}

/// What a place far from every zone was likely meant to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Misreading {
    /// The slip that explains it.
    pub slip: Slip,
    /// The place without the slip.
    pub position: Position,
    /// The zone near there: its place in [`ZoneSet::zones`].
    pub zone: usize,
    /// How far that zone's line is from there; negative inside.
    pub signed_distance: Metres,
    /// How far the nearest line is from the place as it was given.
    pub distance_as_given: Metres,
}

impl ZoneSet {
    /// Farther than this from every zone, in metres, a place is looked at again (common practice, no source).
    pub const FAR_M: f64 = 100_000.0;
    /// Within this of a zone, in metres, a place without a slip counts as meant (common practice, no source: the way of a
    /// long day at sea in a small craft).
    pub const MEANT_M: f64 = 50_000.0;

    /// Finds the slip that explains why a place is far from every zone, if one does.
    ///
    /// A place more than [`Self::FAR_M`] outside every line is read anew: with either sign or both turned, with latitude and
    /// longitude exchanged, and with both. A reading counts that lies inside a zone or within [`Self::MEANT_M`] of one; of
    /// several the one nearest to a line. Zones that were written with the slip show as a place that was.
    ///
    /// # Edge cases
    ///
    /// None where any zone's place is unknown everywhere, because then nowhere is far; none without a zone.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Position, ZoneSet, zone::Slip};
    ///
    /// let file = br#"{ "type": "FeatureCollection",
    ///   "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
    ///   "features": [ { "type": "Feature", "id": "nursery", "geometry": { "type": "Point", "coordinates": [-30.13, 45.11] },
    ///     "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Marrowick Order 3" } } } ] }"#;
    /// let zones = ZoneSet::new(takeline::zone_file::read("marrowick.json", file)?.zones);
    /// let slip = |latitude, longitude| -> Result<_, takeline::InvalidCoordinate> {
    ///     let found = zones.likely_misreading(Position::from_degrees(latitude, longitude)?);
    ///     Ok(found.map(|found| found.slip))
    /// };
    /// assert_eq!(slip(45.11, 30.13)?, Some(Slip::LongitudeSign));
    /// assert_eq!(slip(-30.13, 45.11)?, Some(Slip::Exchanged));
    /// assert_eq!(slip(45.11, -30.13)?, None);
    /// assert_eq!(slip(52.0, -20.0)?, None);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn likely_misreading(&self, position: Position) -> Option<Misreading> {
        if !self.has_every_place() || self.has_box_within(position, Self::FAR_M) && self.is_near(position) {
            return None;
        }
        let meant: Vec<(Slip, Position)> = readings(position)
            .into_iter()
            .filter(|(_, meant)| self.has_box_within(*meant, Self::MEANT_M))
            .collect();
        if meant.is_empty() {
            return None;
        }
        let distance_as_given = self.nearest_line(position)?.1.signed_distance;
        let readings = meant.into_iter().filter_map(|(slip, meant)| {
            let (zone, located) = self.nearest_line(meant)?;
            let signed_distance = located.signed_distance;
            let found = Misreading { slip, position: meant, zone, signed_distance, distance_as_given };
            (signed_distance.metres() <= Self::MEANT_M).then_some(found)
        });
        readings.min_by(|a, b| a.signed_distance.metres().total_cmp(&b.signed_distance.metres()))
    }

    fn is_near(&self, position: Position) -> bool {
        self.nearest_line(position).is_some_and(|(_, near)| near.signed_distance.metres() <= Self::FAR_M)
    }

    /// The zone whose line is nearest, or that the place is deepest inside of; of those whose line is known.
    fn nearest_line(&self, position: Position) -> Option<(usize, Located)> {
        let near = self.near_numbered(position, Metres::ZERO).into_iter();
        let known = near.filter(|(number, _)| matches!(self.zones()[*number].extent, Extent::Known(_)));
        known.min_by(|a, b| a.1.signed_distance.metres().total_cmp(&b.1.signed_distance.metres()))
    }
}

/// A place read anew in each way in which it may have been meant.
fn readings(position: Position) -> Vec<(Slip, Position)> {
    let (latitude_deg, longitude_deg) = (position.latitude().degrees(), position.longitude().degrees());
    let ways = [
        (Slip::LongitudeSign, latitude_deg, -longitude_deg),
        (Slip::LatitudeSign, -latitude_deg, longitude_deg),
        (Slip::BothSigns, -latitude_deg, -longitude_deg),
        (Slip::Exchanged, longitude_deg, latitude_deg),
        (Slip::ExchangedAndSigns, -longitude_deg, latitude_deg),
        (Slip::ExchangedAndSigns, longitude_deg, -latitude_deg),
        (Slip::ExchangedAndSigns, -longitude_deg, -latitude_deg),
    ];
    let valid = |(slip, latitude_deg, longitude_deg)| {
        Some((slip, Position::from_degrees(latitude_deg, longitude_deg).ok()?))
    };
    ways.into_iter().filter_map(valid).collect()
}
