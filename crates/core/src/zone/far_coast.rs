//! A coast that lies far from every zone of its set: the wrong file, or numbers that were exchanged.

use super::misreading::other_readings;
use super::{Slip, ZoneSet};
use crate::coast::Coast;
use crate::geodesic::{Vector, from_earth_centred};
use crate::{Metres, Position};

/// In how many zones one slip is looked for that would explain where a coast lies.
const MOST_ASKED: usize = 1000;

/// A coast that is at least 100 km from every zone.
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
pub struct FarCoast {
    /// The coast, by its place in [`ZoneSet::coasts`].
    pub coast_number: usize,
    /// The zone that is nearest to it, by its place in the set.
    pub zone_number: usize,
    /// How far that is from the place on the coast which is nearest to the middle of a zone.
    pub distance: Metres,
    /// What would make the coast lie within 100 km of a zone, if it were undone in all its numbers.
    pub slip: Option<Slip>,
}

impl ZoneSet {
    /// Returns the coasts that lie at least [`ZoneSet::FAR_M`] from every zone, in the order in which they came.
    ///
    /// Such a coast keeps no way off the land that is there, so whoever gave it should be told. Up to 1000 zones are asked whether
    /// one slip in all numbers of the coast, such as latitudes and longitudes exchanged, explains it.
    ///
    /// # Edge cases
    ///
    /// Zones that may be anywhere are near nothing; if there are no others, no coast is called far.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::coast::{Coast, CoastLine};
    /// use takeline::zone::Slip;
    /// use takeline::{Metres, Position, ZoneSet};
    /// let place = |lat, lon| Position::from_degrees(lat, lon);
    /// let exchanged = vec![place(-30.14, 45.10)?, place(-30.10, 45.10)?, place(-30.10, 45.13)?];
    /// let coast = Coast::from_lines(vec![CoastLine::island(exchanged)], Metres::non_negative(10.0)?)?;
    /// let file = std::fs::read("../../demo-data/zones/marrowick.json")?;
    /// let zones = ZoneSet::from_geojson("marrowick.json", &file)?.with_coasts(vec![coast]);
    /// assert_eq!(zones.far_coasts()[0].slip, Some(Slip::Exchanged));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn far_coasts(&self) -> Vec<FarCoast> {
        let coasts = self.coasts().iter().enumerate();
        coasts.filter_map(|(number, coast)| self.far_coast(number, coast)).collect()
    }

    fn far_coast(&self, coast_number: usize, coast: &Coast) -> Option<FarCoast> {
        let mut nearest: Option<(Metres, Position)> = None;
        for middle in self.middles() {
            let Some(found) = coast.nearest(middle) else { continue };
            if found.0.metres() < Self::FAR_M {
                return None;
            }
            if nearest.is_none_or(|(away, _)| found.0 < away) {
                nearest = Some(found);
            }
        }
        // a wide zone reaches nearer to the coast than its middle
        let (zone_number, distance_m) = self.nearest_zone(nearest?.1)?;
        if distance_m < Self::FAR_M {
            return None;
        }
        let distance = Metres::computed(distance_m);
        Some(FarCoast { coast_number, zone_number, distance, slip: self.slip_of(coast) })
    }

    /// The slip that explains where a coast lies best. What leads from the coast to a zone leads from the zone to the coast too.
    fn slip_of(&self, coast: &Coast) -> Option<Slip> {
        let places = self.middles().take(MOST_ASKED).flat_map(other_readings);
        let near = places.filter_map(|(slip, place)| {
            let (away, _) = coast.nearest(place)?;
            (away.metres() < Self::FAR_M).then_some((away, slip))
        });
        near.min_by(|one, other| one.0.metres().total_cmp(&other.0.metres())).map(|(_, slip)| slip)
    }

    /// The middle of each zone, about.
    fn middles(&self) -> impl Iterator<Item = Position> + '_ {
        self.boxes().map(|(low, high)| {
            let middle = |axis: usize| f64::midpoint(low[axis], high[axis]);
            from_earth_centred(Vector::new(middle(0), middle(1), middle(2)))
        })
    }
}

#[cfg(test)]
mod tests {
    use crate::coast::CoastLine;
    use crate::zone_file;

    use super::*;

    fn zones(coordinates: &str) -> ZoneSet {
        let file = format!(
            r#"{{ "type": "FeatureCollection", "takeline": {{ "format": "takeline.zones/1", "datum": "WGS 84" }},
              "features": [ {{ "type": "Feature", "id": "cove", "geometry": {{ "type": "Polygon", "coordinates": [{coordinates}] }},
                "properties": {{ "edges": "geodesic", "take": "none", "source": {{ "instrument": "Order 3" }} }} }} ] }}"#
        );
        zone_file::read("zones.json", file.as_bytes()).unwrap().into()
    }

    /// A triangle of a kilometre at a place.
    fn isle(latitude_deg: f64, longitude_deg: f64) -> Coast {
        let corners = [(0.0, 0.0), (0.0, 0.01), (0.01, 0.01)];
        let at = |(north_deg, east_deg): (f64, f64)| {
            Position::from_degrees(latitude_deg + north_deg, longitude_deg + east_deg).unwrap()
        };
        Coast::from_lines(vec![CoastLine::island(corners.map(at).to_vec())], Metres::ZERO).unwrap()
    }

    const COVE: &str = "[[-30.13, 45.11], [-30.12, 45.11], [-30.12, 45.12], [-30.13, 45.11]]";

    #[test]
    fn a_coast_beside_a_zone_is_not_far_and_one_elsewhere_is() {
        let set = zones(COVE).with_coasts(vec![isle(45.1, -30.1), isle(48.0, -30.1), isle(-30.12, 45.11)]);
        let found = set.far_coasts();
        let told: Vec<_> = found.iter().map(|far| (far.coast_number, far.zone_number, far.slip)).collect();
        assert_eq!(told, [(1, 0, None), (2, 0, Some(Slip::Exchanged))]);
        // 2.88° of the meridian at 46.5° N, of 111.16 km each (WGS 84: 111 132.95 - 559.85 cos 2φ … m)
        assert!((found[0].distance.metres() - 320_100.0).abs() < 1_000.0, "{found:?}");
        assert_eq!(
            zones(COVE).with_coasts(vec![isle(45.1, 30.1)]).far_coasts()[0].slip,
            Some(Slip::LongitudeSign)
        );
    }

    #[test]
    fn a_coast_at_the_end_of_a_wide_zone_is_near_it() {
        let wide = "[[-30, 45], [-20, 45], [-20, 46], [-30, 46], [-30, 45]]";
        assert_eq!(zones(wide).with_coasts(vec![isle(45.5, -30.1)]).far_coasts(), []);
    }

    #[test]
    fn where_no_zone_has_a_place_no_coast_is_far() {
        assert_eq!(ZoneSet::new(Vec::new()).with_coasts(vec![isle(45.5, -30.1)]).far_coasts(), []);
    }
}
