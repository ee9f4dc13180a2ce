//! One zone against one fix: the side and the doubt.

use super::doubt::Doubt;
use super::{Containment, NearestPoint, ReadingGap, ZoneFinding};
use crate::binding::{BindingZone, ZoneHere};
use crate::zone::{Datum, Extent, Zone};
use crate::{Fix, Located, Metres, UncertaintySource};

/// Gaps between readings below this, in metres, are not worth a word.
const GAP_WORTH_SAYING_M: f64 = 0.1;

/// A zone with what a fix makes of it.
#[derive(Debug, Clone)]
pub(super) struct Placed<'a> {
    /// Its place in the set.
    pub(super) number: usize,
    pub(super) zone: &'a Zone,
    pub(super) located: Option<Located>,
    pub(super) doubt: Doubt,
    pub(super) side: Containment,
    pub(super) on_the_line: bool,
}

impl<'a> Placed<'a> {
    pub(super) fn new((number, zone): (usize, &'a Zone), located: Option<Located>, doubt: Doubt) -> Self {
        let (side, on_the_line) = side(zone, located.as_ref(), doubt);
        Self { number, zone, located, doubt, side, on_the_line }
    }

    /// Distance to the line, however little is known of the zone itself, to sort by.
    pub(super) fn line_distance_m(&self) -> f64 {
        self.located.map_or(0.0, |located| located.signed_distance.metres().abs())
    }

    pub(super) fn is_known(&self) -> bool {
        matches!(self.zone.extent, Extent::Known(_))
    }

    /// Distance to the line and its doubt; none where the line is not known.
    pub(super) fn distance(&self) -> Option<(f64, f64)> {
        let located = self.located.filter(|_| self.is_known())?;
        Some((located.signed_distance.metres(), self.doubt.whole(&located).metres()))
    }

    /// The least that the line may be off, doubt counted: where the line is not known, that of the area which it lies
    /// somewhere in; none where nothing is known of its place. Negative inside.
    pub(super) fn least_distance_m(&self) -> Option<f64> {
        let located = self.located?;
        Some(located.signed_distance.metres() - self.doubt.whole(&located).metres())
    }

    /// The zone as the judgement of what binds takes it.
    pub(super) fn here(&self) -> ZoneHere {
        ZoneHere { number: self.number, inside: self.side.into() }
    }

    pub(super) fn finding(&self, fix: &Fix, binding: &BindingZone) -> ZoneFinding {
        let zone = self.zone;
        let known = self.located.filter(|_| self.is_known());
        ZoneFinding {
            id: zone.id.clone(),
            name: zone.name.clone(),
            containment: self.side,
            on_the_line: self.on_the_line,
            signed_distance: known.map(|located| located.signed_distance),
            uncertainty_95: known.map_or_else(
                || Metres::computed(self.doubt.random_95_m()),
                |located| self.doubt.whole(&located),
            ),
            assumed: assumed(zone, fix),
            inside_probability: known.map(|located| self.doubt.inside_probability(&located, self.side)),
            nearest: known
                .map(|located| NearestPoint { position: located.nearest, bearing: located.bearing }),
            reading_gap: known.and_then(|located| reading_gap(&located)),
            in_force: binding.in_force,
            in_force_because: binding.in_force_because.clone(),
            access: binding.access,
            displaced: binding.displaced,
            binds: binding.binds,
            take_rule: zone.rule.describe(&zone.file.catalogue),
            conditions: zone.rule.conditions.clone(),
            passage: zone.rule.passage_sentences(),
            nothing_may_be_taken: zone.rule.take == crate::rule::Take::Nothing,
            restricts_nothing: zone.rule.restricts_nothing(),
            displaced_by: Vec::new(),
            perhaps_displaced_by: Vec::new(),
            source: zone.source.clone(),
            file: zone.file.clone(),
        }
    }
}

fn side(zone: &Zone, located: Option<&Located>, doubt: Doubt) -> (Containment, bool) {
    match (&zone.extent, located) {
        (Extent::Known(_), Some(located)) => doubt.side(located, zone.line_belongs),
        // nowhere near the area that holds the unknown line is outside; anywhere else nobody can tell
        (Extent::Unknown { .. }, Some(located))
            if located.signed_distance.metres() > doubt.whole(located).metres() =>
        {
            (Containment::Outside, false)
        }
        _ => (Containment::Undecided, false),
    }
}

fn reading_gap(located: &Located) -> Option<ReadingGap> {
    let gap_m = located.greatest.metres() - located.least.metres();
    let sides_differ = located.greatest.metres() >= 0.0 && located.least.metres() <= 0.0;
    (gap_m > GAP_WORTH_SAYING_M).then(|| ReadingGap { gap: Metres::computed(gap_m), sides_differ })
}

fn assumed(zone: &Zone, fix: &Fix) -> Vec<String> {
    let mut assumed = Vec::new();
    if fix.uncertainty.source() == UncertaintySource::Assumed {
        assumed.push(format!("accuracy of the fix: {}, 95 %", fix.uncertainty.radius_95()));
    }
    if zone.datum == Datum::Unstated {
        assumed.push(format!("datum not stated: {} counted for it", zone.datum.uncertainty_95()));
    }
    assumed
}
