//! One zone against one fix: the side and the doubt.

use super::error_budget::ErrorBudget;
use super::{Assumption, Containment, CrossablePoint, NearestPoint, NearestSide, ReadingGap, ZoneFinding};
use crate::binding::{BindingZone, ZoneHere};
use crate::boundary::Off;
use crate::zone::{Datum, Extent, Zone, ZoneSet};
use crate::{Boundary, Fix, HowFar, Located, Metres, Side, UncertaintySource};

/// Gaps between readings below this, in metres, are not worth a word.
const GAP_WORTH_SAYING_M: f64 = 0.1;

/// A zone with what a fix makes of it.
#[derive(Debug, Clone)]
pub(super) struct LocatedZone<'a> {
    /// Its place in the set.
    pub(super) number: usize,
    pub(super) zone: &'a Zone,
    pub(super) off: Option<Off>,
    pub(super) doubt: ErrorBudget,
    pub(super) side: Containment,
    pub(super) on_the_line: bool,
}

impl<'a> LocatedZone<'a> {
    pub(super) fn new((number, zone): (usize, &'a Zone), off: Option<Off>, doubt: ErrorBudget) -> Self {
        let (side, on_the_line) = side(zone, off.map(|off| off.far).as_ref(), doubt);
        Self { number, zone, off, doubt, side, on_the_line }
    }

    /// Distance to the line, however little is known of the zone itself, to sort by.
    pub(super) fn line_distance_m(&self) -> f64 {
        self.far().map_or(0.0, |far| far.signed_distance.metres().abs())
    }

    /// Whether its line, or that of the area in which it lies somewhere, is within 100 km.
    pub(super) fn is_in_reach(&self) -> bool {
        self.far().is_some_and(|far| far.signed_distance.metres() < ZoneSet::FAR_M)
    }

    pub(super) fn is_known(&self) -> bool {
        matches!(self.zone.extent, Extent::Known(_))
    }

    /// Distance to the line and its doubt; none where the line is not known.
    pub(super) fn distance(&self) -> Option<(f64, f64)> {
        let far = self.far().filter(|_| self.is_known())?;
        Some((far.signed_distance.metres(), self.doubt.whole(&far).metres()))
    }

    /// The least that the line may be off, doubt counted: where the line is not known, that of the area which it lies
    /// somewhere in; none where nothing is known of its place. Negative inside.
    pub(super) fn least_distance_m(&self) -> Option<f64> {
        let far = self.far()?;
        Some(far.signed_distance.metres() - self.doubt.whole(&far).metres())
    }

    /// The distances to its line, or to that of the area in which it lies somewhere; none where nothing is known of its place.
    pub(super) fn far(&self) -> Option<HowFar> {
        self.off.map(|off| off.far)
    }

    /// The zone as the judgement of what binds takes it.
    pub(super) fn here(&self) -> ZoneHere {
        ZoneHere { number: self.number, inside: self.side.into() }
    }

    pub(super) fn finding(&self, zones: &ZoneSet, fix: &Fix, binding: &BindingZone) -> ZoneFinding {
        let zone = self.zone;
        let known = self.off.filter(|_| self.is_known());
        let far = known.map(|off| off.far);
        let nearest = known.map(|off| off.located(fix.position));
        ZoneFinding {
            zone: zones.summary(self.number, zone),
            containment: self.side,
            on_the_line: self.on_the_line,
            signed_distance: far.map(|far| far.signed_distance),
            uncertainty_95: far
                .map_or_else(|| Metres::computed(self.doubt.random_95_m()), |far| self.doubt.whole(&far)),
            assumed: assumed(zone, fix),
            inside_probability: far.map(|far| self.doubt.inside_probability(&far, self.side)),
            nearest: nearest
                .map(|located| NearestPoint { position: located.nearest, bearing: located.bearing }),
            nearest_side: self.nearest_side(fix),
            crossable: nearest.and_then(|located| self.crossable(fix, located)),
            reading_gap: far.and_then(|far| reading_gap(&far)),
            in_force: binding.in_force,
            in_force_because: binding.in_force_because.clone(),
            access: binding.access,
            displaced: binding.displaced,
            binds: binding.binds,
            displaced_by: Vec::new(),
            perhaps_displaced_by: Vec::new(),
        }
    }
}

impl LocatedZone<'_> {
    fn line(&self) -> Option<&Boundary> {
        match &self.zone.extent {
            Extent::Known(boundary) => Some(boundary),
            Extent::Unknown { .. } => None,
        }
    }

    fn nearest_side(&self, fix: &Fix) -> Option<NearestSide> {
        let Side { kind, level, .. } = self.line()?.side_nearest(fix.position);
        Some(NearestSide { kind, level })
    }

    /// The side that follows a coast which nobody has supplied, and how far it may be off, in metres, if that reaches the fix.
    pub(super) fn missing_coast(&self, fix: &Fix) -> Option<(Side, f64)> {
        self.line()?.unresolved_within(fix.position, self.doubt.random_95_m())
    }

    /// The nearest point of the sides that can be crossed, where that of all sides is known.
    fn crossable(&self, fix: &Fix, nearest: Located) -> Option<CrossablePoint> {
        let boundary = self.line()?;
        let located = if boundary.has_sides() { boundary.locate_crossable(fix.position)? } else { nearest };
        Some(located.into())
    }
}

fn side(zone: &Zone, far: Option<&HowFar>, doubt: ErrorBudget) -> (Containment, bool) {
    match (&zone.extent, far) {
        (Extent::Known(_), Some(far)) => doubt.side(far, zone.line_belongs),
        // nowhere near the area that holds the unknown line is outside; anywhere else nobody can tell
        (Extent::Unknown { .. }, Some(far)) if far.signed_distance.metres() > doubt.whole(far).metres() => {
            (Containment::Outside, false)
        }
        _ => (Containment::Undecided, false),
    }
}

fn reading_gap(far: &HowFar) -> Option<ReadingGap> {
    let gap_m = far.greatest.metres() - far.least.metres();
    let sides_differ = far.greatest.metres() >= 0.0 && far.least.metres() <= 0.0;
    (gap_m > GAP_WORTH_SAYING_M).then(|| ReadingGap { gap: Metres::computed(gap_m), sides_differ })
}

fn assumed(zone: &Zone, fix: &Fix) -> Vec<Assumption> {
    let mut assumed = Vec::new();
    if fix.uncertainty.source() == UncertaintySource::Assumed {
        let uncertainty_95_m = fix.uncertainty.radius_95().metres();
        assumed.push(Assumption::FixAccuracy { uncertainty_95_m });
    }
    if zone.datum == Datum::Unstated {
        assumed.push(Assumption::Datum { uncertainty_95_m: zone.datum.uncertainty_95().metres() });
    }
    assumed
}
