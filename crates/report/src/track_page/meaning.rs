//! What a zone means for the time of one trip: its class, its hatch, and its words.

use jiff::Timestamp;
use maud::{Markup, html};
use takeline::binding::{BindingZone, ZoneHere};
use takeline::rule::{Access, TakeSummary};
use takeline::zone::{Status, Zone};
use takeline::{Tristate, ZoneSet};

use crate::drawing::chart::unit;
use crate::track::TrackDocument;

/// What a zone means at the time of a trip.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Meaning {
    Closed,
    Restricted,
    Unsettled,
    NotInForce,
    NotYetLaw,
    NoLongerLaw,
    Free,
}

/// Those that have a hatch of their own; the two kinds of no law share one.
pub(crate) const ALL: [Meaning; 7] = [
    Meaning::Closed,
    Meaning::Restricted,
    Meaning::Unsettled,
    Meaning::NotInForce,
    Meaning::NotYetLaw,
    Meaning::NoLongerLaw,
    Meaning::Free,
];

/// What a zone means, and how far.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Standing {
    pub(crate) meaning: Meaning,
    /// Whether so for a part of the trip only.
    pub(crate) for_part: bool,
    /// Whether its rule holds for other ways of fishing alone.
    pub(crate) for_others: bool,
}

impl Meaning {
    /// The class that gives hue and outline.
    pub(crate) const fn class(self) -> &'static str {
        match self {
            Self::Closed => "closed",
            Self::Restricted => "restricted",
            Self::Unsettled => "unsettled",
            Self::NotInForce => "idle",
            Self::NotYetLaw | Self::NoLongerLaw => "no-law",
            Self::Free => "free",
        }
    }

    /// The label on the map.
    pub(crate) const fn label(self) -> &'static str {
        match self {
            Self::Closed => "closed",
            Self::Restricted => "restricted",
            Self::Unsettled => "undecided",
            Self::NotInForce => "not in force",
            Self::NotYetLaw => "not yet law",
            Self::NoLongerLaw => "no longer law",
            Self::Free => "restricts nothing",
        }
    }

    /// The same in the legend.
    pub(crate) const fn words(self) -> &'static str {
        match self {
            Self::Closed => "Closed: nothing may be taken",
            Self::Restricted => "Restricted: some may be taken, or in some ways",
            Self::Unsettled => "Undecided: the zone file does not settle whether it was in force",
            Self::NotInForce => "Not in force during this trip",
            Self::NotYetLaw => "Not yet law at the time of this trip",
            Self::NoLongerLaw => "No longer law at the time of this trip",
            Self::Free => "Restricts nothing",
        }
    }

    /// The fill that gives the hatch.
    pub(crate) fn fill(self) -> String {
        format!("url(#hatch-{})", self.class())
    }

    /// The hatch: lines, each with its dashes.
    fn strokes(self) -> &'static [(f64, f64, f64, f64)] {
        match self {
            Self::Closed => &[
                (-2.0, 14.0, 14.0, -2.0),
                (-2.0, 2.0, 2.0, -2.0),
                (10.0, 14.0, 14.0, 10.0),
                (-2.0, -2.0, 14.0, 14.0),
                (10.0, -2.0, 14.0, 2.0),
                (-2.0, 10.0, 2.0, 14.0),
            ],
            Self::Restricted => &[(-2.0, 14.0, 14.0, -2.0), (-2.0, 2.0, 2.0, -2.0), (10.0, 14.0, 14.0, 10.0)],
            Self::Unsettled => &[(0.0, 8.5, 6.0, 3.5), (6.0, 3.5, 12.0, 8.5)],
            Self::NotInForce => &[(1.0, 3.0, 7.0, 3.0), (7.0, 9.0, 12.0, 9.0), (0.0, 9.0, 1.0, 9.0)],
            Self::NotYetLaw | Self::NoLongerLaw => &[(3.0, 3.0, 3.1, 3.0), (9.0, 9.0, 9.1, 9.0)],
            Self::Free => &[],
        }
    }

    /// The pattern of the hatch; that of a legend has its own name, because the map's changes its size with the map.
    pub(crate) fn pattern(self, id: &str) -> Markup {
        html! {
            pattern id=(id) .{ (self.class()) } width="12" height="12" patternUnits="userSpaceOnUse" {
                rect .wash width="12" height="12" {}
                @for (x1, y1, x2, y2) in self.strokes() {
                    line .ink x1=(unit(*x1)) y1=(unit(*y1)) x2=(unit(*x2)) y2=(unit(*y2)) {}
                }
            }
        }
    }

    /// A small square with the hatch, for legends.
    pub(crate) fn swatch(self) -> Markup {
        let id = format!("key-{}", self.label().replace(' ', "-"));
        html! {
            svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" {
                defs { (self.pattern(&id)) }
                rect .{ "zone " (self.class()) } fill={ "url(#" (id) ")" } x="1" y="1" width="22" height="14" {}
            }
        }
    }
}

impl Standing {
    /// What the zone with this number meant while the log ran.
    pub(crate) fn of(document: &TrackDocument<'_>, number: usize, zone: &Zone) -> Self {
        let span = document.input.first_time.zip(document.input.last_time);
        let span = span.filter(|_| !document.settings.dates_doubtful);
        let alone = |meaning| Self { meaning, for_part: false, for_others: false };
        match zone.status {
            Status::Proposed | Status::NotCommenced => return alone(Meaning::NotYetLaw),
            Status::Repealed => return alone(Meaning::NoLongerLaw),
            Status::InForce => {}
        }
        if let Some((first, last)) = span {
            if zone.effective.from.is_some_and(|from| from > last) {
                return alone(Meaning::NotYetLaw);
            }
            if zone.effective.until.is_some_and(|until| until <= first) {
                return alone(Meaning::NoLongerLaw);
            }
        }
        if zone.rule.restricts_nothing() {
            return alone(Meaning::Free);
        }
        let here = [ZoneHere { number, inside: Tristate::Yes }];
        let zones = document.zones();
        let access = document.audit_settings().access;
        let found: Vec<BindingZone> = match span {
            Some((first, last)) => zones
                .binding_spans(&here, first, last, access)
                .into_iter()
                .flat_map(|span| span.zones)
                .collect(),
            None => zones.binding_zones(&here, None, access),
        };
        Self::by_rule(zone, &found)
    }

    /// What the zone with this number means at a time, or at one that is not known, to somebody in a boat.
    pub(crate) fn at(zones: &ZoneSet, number: usize, zone: &Zone, time: Option<Timestamp>) -> Self {
        let alone = |meaning| Self { meaning, for_part: false, for_others: false };
        match zone.status {
            Status::Proposed | Status::NotCommenced => return alone(Meaning::NotYetLaw),
            Status::Repealed => return alone(Meaning::NoLongerLaw),
            Status::InForce => {}
        }
        if time.is_some_and(|time| zone.effective.from.is_some_and(|from| from > time)) {
            return alone(Meaning::NotYetLaw);
        }
        if time.is_some_and(|time| zone.effective.until.is_some_and(|until| until <= time)) {
            return alone(Meaning::NoLongerLaw);
        }
        if zone.rule.restricts_nothing() {
            return alone(Meaning::Free);
        }
        let here = [ZoneHere { number, inside: Tristate::Yes }];
        Self::by_rule(zone, &zones.binding_zones(&here, time, Some(Access::Boat)))
    }

    fn by_rule(zone: &Zone, found: &[BindingZone]) -> Self {
        let any = |answer| found.iter().any(|zone| zone.in_force == answer);
        let meaning = if !any(Tristate::Yes) && any(Tristate::Undecided) {
            Meaning::Unsettled
        } else if !any(Tristate::Yes) {
            Meaning::NotInForce
        } else if zone.rule.summary(&zone.file.catalogue).take == TakeSummary::Nothing {
            Meaning::Closed
        } else {
            Meaning::Restricted
        };
        Self {
            meaning,
            for_part: any(Tristate::Yes) && (any(Tristate::No) || any(Tristate::Undecided)),
            for_others: !found.is_empty() && found.iter().all(|zone| zone.access == Tristate::No),
        }
    }

    /// What the legend says behind the name of the zone.
    pub(crate) const fn remark(self) -> &'static str {
        match (self.for_part, self.for_others) {
            (true, true) => " (in force for part of the trip, for other ways of fishing)",
            (true, false) => " (in force for part of the trip)",
            (false, true) => " (for other ways of fishing)",
            (false, false) => "",
        }
    }
}
