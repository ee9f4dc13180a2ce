//! A zone held against what a law or a chart says of it.

use std::cmp::Ordering;

use takeline::Position;
use takeline::zone::{Extent, Zone};

use super::{Finding, FindingKind, Spot};
use crate::survey::ZoneSurvey;

/// What a law or a chart says of one zone.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Against {
    /// Its id; none: the only one of the file.
    pub zone: Option<String>,
    /// Its area in m², within 1 %.
    pub area_m2: Option<f64>,
    /// Its perimeter in metres, within 1 %.
    pub perimeter_m: Option<f64>,
    /// How many corners all its rings have, exactly.
    pub corners: Option<usize>,
    /// A place in it or near: no farther off than half its perimeter, or 1 km.
    pub near: Option<Position>,
}

/// How far figures may be from those that are said: laws print few digits.
const TOLERANCE: f64 = 0.01;
/// A place may always be this far off, in metres.
const NEAR_M: f64 = 1000.0;

impl Against {
    /// Whether nothing is said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        let Self { zone: _, area_m2, perimeter_m, corners, near } = self;
        area_m2.is_none() && perimeter_m.is_none() && corners.is_none() && near.is_none()
    }

    /// Holds the zone of a file that is meant to it.
    pub(super) fn findings(&self, zones: &[Zone]) -> Vec<Finding> {
        if self.is_empty() {
            return Vec::new();
        }
        let meant = match &self.zone {
            Some(id) => zones.iter().position(|zone| zone.id.0 == *id),
            None => (zones.len() == 1).then_some(0),
        };
        let Some(at) = meant else {
            return vec![Finding::at(FindingKind::NoSuchZone, Spot::default())];
        };
        let spot = Spot { feature: Some(at + 1), zone_id: Some(zones[at].id.0.clone()), ..Spot::default() };
        let Some(survey) = ZoneSurvey::of(&zones[at]).ok().flatten() else {
            return vec![Finding::at(FindingKind::LineNotKnown, spot)];
        };
        let kinds = self.of_survey(&survey).into_iter().chain(self.far_off(&zones[at], &survey));
        kinds.map(|kind| Finding::at(kind, spot.clone())).collect()
    }

    fn of_survey(&self, survey: &ZoneSurvey) -> Vec<FindingKind> {
        // a figure that is no number is never met
        let differs = |found: f64, said: f64| {
            (found - said).abs().partial_cmp(&(TOLERANCE * said.abs())).is_none_or(Ordering::is_gt)
        };
        let chords = survey.chords();
        let is_asked = self.area_m2.is_some() || self.perimeter_m.is_some();
        let chords_only = (chords > 0 && is_asked).then_some(FindingKind::ChordsOnly { sides: chords });
        // along a shore that nobody has supplied the law's figures are those of the shore
        let area = self.area_m2.filter(|said_m2| chords == 0 && differs(survey.area_m2, *said_m2));
        let found_m = survey.perimeter.metres();
        let perimeter = self.perimeter_m.filter(|said_m| chords == 0 && differs(found_m, *said_m));
        let found = survey.corners();
        let corners = self.corners.filter(|said| *said != found);
        let area = area.map(|said_m2| FindingKind::AreaDiffers { found_m2: survey.area_m2, said_m2 });
        let perimeter = perimeter.map(|said_m| FindingKind::PerimeterDiffers { found_m, said_m });
        let corners = corners.map(|said| FindingKind::CornersDiffer { found, said });
        [chords_only, area, perimeter, corners].into_iter().flatten().collect()
    }

    fn far_off(&self, zone: &Zone, survey: &ZoneSurvey) -> Option<FindingKind> {
        let (Extent::Known(boundary), Some(near)) = (&zone.extent, self.near) else { return None };
        let distance_m = boundary.locate(near).signed_distance.metres();
        let allowed_m = (0.5 * survey.perimeter.metres()).max(NEAR_M);
        (distance_m > allowed_m).then_some(FindingKind::NotNear { distance_m, allowed_m })
    }
}

#[cfg(test)]
mod tests {
    use takeline::rule::Take;
    use takeline::{Boundary, Metres, PartSpec};

    use super::*;

    /// π·200² is 125,664 m², and 2π·200 is 1,257 m.
    #[test]
    fn a_figure_more_than_a_hundredth_off_is_told_and_one_within_is_not() {
        let centre = Position::from_degrees(45.1170, -30.1190).unwrap();
        let circle = PartSpec::Circle { centre, radius: Metres::new(200.0).unwrap() };
        let extent = Extent::Known(Boundary::build(&[circle]).unwrap());
        let zones = [Zone::new("pinnacle", "Pinnacle", extent, Take::Nothing.into())];
        let told = |area_m2: f64, perimeter_m: f64| {
            let said =
                Against { area_m2: Some(area_m2), perimeter_m: Some(perimeter_m), ..Against::default() };
            said.findings(&zones).len()
        };
        assert_eq!(told(125_664.0 * 1.009, 1_257.0 * 0.992), 0);
        assert_eq!(told(125_664.0 * 1.012, 1_257.0), 1);
        assert_eq!(told(125_664.0, 1_257.0 * 0.988), 1);
        assert_eq!(told(f64::NAN, f64::NAN), 2, "what is no number is met by nothing");
    }
}
