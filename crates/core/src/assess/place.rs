//! One zone against one fix: the side, the doubt, and whether the rule is in force.

use std::cell::RefCell;

use jiff::Timestamp;

use super::doubt::Doubt;
use super::{Containment, NearestPoint, ReadingGap, ZoneFinding};
use crate::rule::{Almanac, When, until_in_words};
use crate::zone::{Datum, Effective, Extent, Status, Zone};
use crate::{Fix, Kleene, Located, Metres, UncertaintySource};

/// Gaps between readings below this, in metres, are not worth a word.
const GAP_WORTH_SAYING_M: f64 = 0.1;

/// A zone with what a fix makes of it.
#[derive(Debug, Clone)]
pub(super) struct Placed<'a> {
    pub(super) zone: &'a Zone,
    pub(super) located: Option<Located>,
    pub(super) doubt: Doubt,
    pub(super) side: Containment,
    pub(super) on_the_line: bool,
    pub(super) in_force: Kleene,
    pub(super) in_force_because: Vec<String>,
}

/// The moment of a fix, with the sun's moments kept from zone to zone.
pub(super) struct Moment {
    pub(super) time: Option<Timestamp>,
    almanac: RefCell<Almanac>,
}

impl Moment {
    pub(super) fn new(time: Option<Timestamp>) -> Self {
        Self { time, almanac: RefCell::new(Almanac::default()) }
    }

    /// Whether a zone's time rule holds now.
    pub(super) fn holds(&self, when: &When, zone: &Zone) -> (Kleene, Vec<String>) {
        let timing = when.holds_by(&mut self.almanac.borrow_mut(), self.time, &zone.time_zone);
        (timing.answer, timing.because)
    }
}

impl<'a> Placed<'a> {
    pub(super) fn new(zone: &'a Zone, located: Option<Located>, doubt: Doubt, moment: &Moment) -> Self {
        let (side, on_the_line) = side(zone, located.as_ref(), doubt);
        let (in_force, in_force_because) = in_force(zone, moment);
        Self { zone, located, doubt, side, on_the_line, in_force, in_force_because }
    }

    /// The side alone, and how far one may move before it may be another; endless for a zone that may be anywhere.
    pub(super) fn side_alone(zone: &Zone, located: Option<Located>, fix: &Fix) -> (Containment, f64) {
        let doubt = Doubt::of(fix, zone);
        let (side, _) = side(zone, located.as_ref(), doubt);
        let slack_m = located.map_or(f64::INFINITY, |located| {
            (located.signed_distance.metres().abs() - doubt.whole(&located).metres()).abs()
        });
        (side, slack_m)
    }

    /// Whether the zone's rule applies: inside it and in force.
    pub(super) fn applies(&self) -> Kleene {
        let inside = match self.side {
            Containment::Inside => Kleene::Yes,
            Containment::Outside => Kleene::No,
            Containment::Undecided => Kleene::Undecided,
        };
        inside.and(self.in_force)
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

    pub(super) fn finding(&self, fix: &Fix) -> ZoneFinding {
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
            in_force: self.in_force,
            in_force_because: self.in_force_because.clone(),
            take_rule: zone.rule.describe(&zone.file.catalogue),
            conditions: zone.rule.conditions.clone(),
            passage: zone.rule.passage_sentences(),
            nothing_may_be_taken: zone.rule.take == crate::rule::Take::Nothing,
            displaced_by: Vec::new(),
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

impl Zone {
    /// Returns whether the zone's rule is law, has effect and is in season at an instant, and why.
    ///
    /// Undecided without a time, unless the rule knows no seasons.
    #[must_use]
    pub fn in_force_at(&self, time: Option<Timestamp>) -> (Kleene, Vec<String>) {
        in_force(self, &Moment::new(time))
    }
}

/// Whether the rule is law, in its span and in its season, at the moment of the fix.
fn in_force(zone: &Zone, moment: &Moment) -> (Kleene, Vec<String>) {
    let status = match zone.status {
        Status::InForce => None,
        Status::Proposed => Some("it is only proposed"),
        Status::NotCommenced => Some("it has not commenced"),
        Status::Repealed => Some("it has been repealed"),
    };
    if let Some(reason) = status {
        return (Kleene::No, vec![reason.to_owned()]);
    }
    let (in_span, span_because) = in_span(&zone.effective, zone, moment.time);
    if in_span == Kleene::No {
        return (Kleene::No, span_because);
    }
    let (in_season, season_because) = moment.holds(&zone.when, zone);
    let answer = in_span.and(in_season);
    let mut because: Vec<String> = [(in_span, span_because), (in_season, season_because)]
        .into_iter()
        .filter(|(one, _)| *one == answer)
        .flat_map(|(_, because)| because)
        .collect();
    because.extend(next_change(zone, answer, moment.time));
    because.dedup();
    (answer, because)
}

fn in_span(effective: &Effective, zone: &Zone, time: Option<Timestamp>) -> (Kleene, Vec<String>) {
    if effective.from.is_none() && effective.until.is_none() {
        return (Kleene::Yes, Vec::new());
    }
    let Some(time) = time else {
        return (Kleene::Undecided, vec!["no time was given".to_owned()]);
    };
    let words = |at: Timestamp| until_in_words(at, &zone.time_zone);
    if let Some(from) = effective.from.filter(|from| time < *from) {
        return (Kleene::No, vec![format!("this edition has effect only after {}", words(from))]);
    }
    if let Some(until) = effective.until.filter(|until| time >= *until) {
        return (Kleene::No, vec![format!("this edition had effect until {}", words(until))]);
    }
    (Kleene::Yes, Vec::new())
}

fn next_change(zone: &Zone, answer: Kleene, time: Option<Timestamp>) -> Option<String> {
    let time = time?;
    let season = zone.when.next_change(time, &zone.time_zone);
    let change = [season, zone.effective.until].into_iter().flatten().filter(|at| *at > time).min()?;
    let words = until_in_words(change, &zone.time_zone);
    Some(match answer {
        Kleene::Yes => format!("in force until {words}"),
        Kleene::No => format!("not in force until {words}"),
        Kleene::Undecided => format!("so until {words}"),
    })
}
