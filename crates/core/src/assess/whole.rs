//! The whole answer about one fix.

use std::cell::LazyCell;
use std::sync::Arc;

use jiff::{SignedDuration, Timestamp};

use super::fish::{Names, judge};
use super::located_zone::LocatedZone;
use super::resolve::{place_all, remedies, settle_by_the_way_out, settling_move};
use super::standoff::standoff;
use super::together::lies_in_one_or_another;
use super::water::{Standing, standings, water};
use super::ways::{Land, add_way_out, on_heading, way_home};
use super::{
    Assessment, Containment, Displacing, Question, Reason, Remedy, TakeAnswer, TakeFinding, Warning,
    WaterStatus, ZoneFinding,
};
use crate::binding::{Displacement, Moment};
use crate::once::say_once;
use crate::rule::{Allowance, MissingTime};
use crate::zone::{Datum, Misreading, Zone, ZoneSet};
use crate::{DateDoubt, Fix, Tristate, UncertaintySource};

/// How long before an edition runs out one is told (common practice, no source).
const RUNS_OUT_SOON: SignedDuration = SignedDuration::from_hours(30 * 24);

impl ZoneSet {
    /// Answers where a fix is and what may be kept there.
    ///
    /// Zones that are surely outside are left out, but for the nearest one, unless the question asks for all.
    ///
    /// # Units
    ///
    /// Metres on WGS 84, signed distances negative inside; probabilities 0 to 1.
    ///
    /// # Accuracy
    ///
    /// The geometry to 1 mm within 100 km ([`crate::Boundary::locate`]); the doubt is what fix, line and datum make it.
    ///
    /// # Edge cases
    ///
    /// No zone at all: undecided, with a warning that nothing was loaded. No time, or one that cannot be right
    /// ([`DateDoubt`]): a rule with a season is undecided. A zone without a line: undecided near it.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{AccuracyKind, Containment, Fix, HorizontalUncertainty, Position, Question, WaterStatus, zone::ZoneSet};
    ///
    /// let file = br#"{ "type": "FeatureCollection",
    ///   "takeline": { "format": "takeline.zones/1", "title": "Marrowick", "edition": "1", "datum": "WGS 84",
    ///                 "time_zone": "UTC", "taxa": [], "groups": [] },
    ///   "features": [ { "type": "Feature", "id": "sallow-cove",
    ///     "geometry": { "type": "Polygon", "coordinates":
    ///       [[[-30.14, 45.12], [-30.14, 45.10], [-30.12, 45.10], [-30.12, 45.12], [-30.14, 45.12]]] },
    ///     "properties": { "name": "Sallow Cove", "edges": "rhumb", "take": "none",
    ///                     "source": { "instrument": "Marrowick Waters Order" } } } ] }"#;
    /// let loaded = takeline::zone_file::read("marrowick.json", file)?;
    /// let zones = ZoneSet::new(loaded.zones);
    /// let fix = Fix::new(Position::from_degrees(45.11, -30.13)?, HorizontalUncertainty::given(5.0, AccuracyKind::P68)?);
    /// let answer = zones.assess(&fix, &Question::default());
    /// assert_eq!(answer.water, WaterStatus::Closed);
    /// assert_eq!(answer.zones[0].containment, Containment::Inside);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn assess(&self, fix: &Fix, question: &Question) -> Assessment {
        let Some(doubt) = fix.time.and_then(DateDoubt::of) else { return self.assess_in_time(fix, question) };
        let question = question.clone().without_time_because(MissingTime::Doubted);
        let mut answer = self.assess_in_time(&fix.at_time(None), &question);
        answer.warnings.push(doubt.into());
        answer
    }

    /// As [`ZoneSet::assess`], of a time that nothing speaks against.
    fn assess_in_time(&self, fix: &Fix, question: &Question) -> Assessment {
        let moment = Moment::known(question.time_of(fix));
        let access = question.circumstances.access;
        let standings =
            standings(place_all(self, fix, question), |here| self.binding_at(here, &moment, access));
        let (water, water_because) = water(&standings);
        // looks at every zone, so only where a fish is asked about
        let names = LazyCell::new(|| Names::of(self.zones()));
        let take = |asked: &String| {
            let (mut finding, refusing) =
                judge(asked, &standings, &names, (&question.circumstances, &moment));
            let is_open = finding.answer == TakeAnswer::Undecided;
            if is_open && lies_in_one_or_another(self, (fix, question), &refusing) {
                let zones = names_of(&refusing);
                finding.refuse(Reason::NotKeptWhichever { zones: zones.clone() }, zones);
            }
            finding
        };
        let land = LazyCell::new(|| Land::about(self, fix, question.looks_for_land_m()));
        let asked = (fix, question);
        let settling_move =
            if is_a_side_open(&standings) { settling_move((self, &land), asked, &standings) } else { None };
        let mut settle = remedies((fix, question), &standings, settling_move.as_ref());
        let standoff = question.standoff().map(|distance| standoff(self, &standings, distance));
        settle.extend(standoff.iter().flat_map(|found| found.settle.iter().cloned()));
        say_once(&mut settle);
        let mut answer = Assessment {
            fix: *fix,
            water,
            water_because,
            zones: findings(self, &standings, fix, question),
            take: question.species.iter().map(take).collect(),
            settling_move,
            settle,
            settle_first: None,
            standoff_kept: standoff.as_ref().map(|found| found.kept),
            standoff_because: standoff.map(|found| found.because).unwrap_or_default(),
            misreading: None,
            closed_by_one_of: Vec::new(),
            looked_for_way_out: question.way_out,
            way_out: None,
            no_way_out: None,
            on_heading: None,
            way_home: None,
            warnings: warnings(self, &standings, (fix, question), water),
        };
        // beside a zone nothing was misread, and that a zone is near is known already
        if water == WaterStatus::Unzoned && !standings.iter().any(|standing| standing.placed.is_in_reach()) {
            answer.misreading = self.likely_misreading(fix.position);
        }
        let closing: Vec<&Standing<'_>> = standings.iter().filter(|standing| standing.may_close()).collect();
        if water == WaterStatus::Undecided && lies_in_one_or_another(self, (fix, question), &closing) {
            answer.close(&closing);
        }
        self.add_ways(&land, (fix, question), &standings, &mut answer);
        self.doubt_the_place(fix, &mut answer);
        answer.warn_if_far();
        self.warn_of_land(fix, &mut answer);
        answer
    }

    /// Takes back what was answered about a place that was likely not meant.
    fn doubt_the_place(&self, fix: &Fix, answer: &mut Assessment) {
        if self.zones().is_empty() {
            answer.doubt_the_place(Reason::NothingLoaded, &Remedy::LoadZones);
        } else if let Some(misreading) = answer.misreading {
            answer.doubt_the_misread(self, misreading);
        } else if answer.water == WaterStatus::Unzoned && self.is_zero_far_from_all(fix.position) {
            answer.doubt_the_place(Reason::NullIsland, &Remedy::GetAFix);
        }
    }

    /// Warns of a fix that lies on land by more than its own uncertainty and that of the coast, before anything else: of a place
    /// that is wrong all else is.
    fn warn_of_land(&self, fix: &Fix, answer: &mut Assessment) {
        let radius_m = fix.uncertainty.radius_95().metres();
        let on_land = self.coasts().iter().find_map(|coast| {
            let inland_m = coast.see(fix.position).surely_inland_m(radius_m)?;
            Some(Warning::OnLand { coast: coast.name().to_owned(), inland_m })
        });
        // what is wrong with the fix itself comes before all that is told of it
        if let Some(warning) = on_land {
            answer.warnings.insert(0, warning);
        }
    }

    /// Adds the ways that the question asks for.
    fn add_ways(
        &self,
        land: &Land<'_>,
        asked: (&Fix, &Question),
        standings: &[Standing<'_>],
        answer: &mut Assessment,
    ) {
        let (_, question) = asked;
        if !question.asks_for_ways() {
            return;
        }
        let here = (self, land);
        add_way_out(here, asked, standings, answer);
        settle_by_the_way_out(self, asked, standings, answer);
        answer.on_heading = question.heading.map(|heading| on_heading(here, asked, heading));
        answer.way_home = question.home.map(|home| way_home(here, asked, home));
    }
}

/// Whether it is open on which side of a zone's line the fix is, where that matters.
fn is_a_side_open(standings: &[Standing<'_>]) -> bool {
    standings.iter().any(|standing| {
        standing.placed.side == Containment::Undecided && standing.binds() == Tristate::Undecided
    })
}

impl Assessment {
    /// Warns of a fix that is far from every zone; the slip that may explain it is in the answer already.
    fn warn_if_far(&mut self) {
        let distances = self.zones.iter().filter_map(|zone| zone.signed_distance);
        let nearest_m = distances.map(crate::Metres::metres).fold(f64::INFINITY, f64::min);
        let is_settled = self.water == WaterStatus::Unzoned || self.misreading.is_some();
        if is_settled && nearest_m.is_finite() && nearest_m >= ZoneSet::FAR_M {
            self.warnings.push(Warning::FarFromEveryZone { distance_m: nearest_m });
        }
    }

    /// Nothing is answered about a place that was likely not meant.
    fn doubt_the_misread(&mut self, zones: &ZoneSet, misreading: Misreading) {
        let Misreading { slip, likely, zone_number, distance } = misreading;
        let settle = Remedy::WasItMeant {
            latitude_deg: likely.latitude().degrees(),
            longitude_deg: likely.longitude().degrees(),
            slip,
            zone: zones.zones().get(zone_number).map_or_else(String::new, |zone| zone.name.clone()),
        };
        self.doubt_the_place(Reason::FarFromEveryZone { distance_m: distance.metres(), slip }, &settle);
    }

    /// Nothing is answered about a place that is likely none.
    fn doubt_the_place(&mut self, because: Reason, settle: &Remedy) {
        self.water = WaterStatus::Undecided;
        self.water_because = vec![because];
        self.settle.insert(0, settle.clone());
        for finding in &mut self.take {
            finding.answer = TakeAnswer::Undecided;
            finding.because.clone_from(&self.water_because);
            finding.settle = vec![settle.clone()];
            finding.possession = Tristate::Undecided;
            finding.possession_because.clone_from(&self.water_because);
        }
        if self.standoff_kept.is_some() {
            self.standoff_kept = Some(Tristate::Undecided);
            self.standoff_because.clone_from(&self.water_because);
        }
        // nor is anything clear ahead of it, or on the way home
        (self.on_heading, self.way_home) = (None, None);
    }

    /// Every place that the fix may mean lies in one or another of several closed zones.
    fn close(&mut self, closing: &[&Standing<'_>]) {
        let zones = names_of(closing);
        self.water = WaterStatus::Closed;
        self.water_because = vec![Reason::ClosedWhichever { zones: zones.clone() }];
        self.settling_move = None;
        self.settle.clear();
        let is_closing = |finding: &ZoneFinding| {
            let is_it = |one: &&Standing<'_>| {
                one.placed.zone.id == finding.id && Arc::ptr_eq(&one.placed.zone.file, &finding.file)
            };
            closing.iter().any(is_it)
        };
        let places = self.zones.iter().enumerate().filter(|(_, finding)| is_closing(finding));
        self.closed_by_one_of = places.map(|(place, _)| place).collect();
        for finding in &mut self.take {
            finding.refuse(Reason::NothingWhichever { zones: zones.clone() }, zones.clone());
        }
    }
}

impl TakeFinding {
    /// It has to go back, whichever of several zones it was caught in.
    fn refuse(&mut self, because: Reason, zones: Vec<String>) {
        self.answer = TakeAnswer::Release;
        self.because = vec![because];
        self.conditions.clear();
        self.settle.clear();
        self.refused_by.clear();
        self.refused_by_one_of = zones;
        self.within = Allowance::default();
        self.otherwise.clear();
    }
}

fn names_of(standings: &[&Standing<'_>]) -> Vec<String> {
    standings.iter().map(|standing| standing.placed.zone.name.clone()).collect()
}

/// The zones to list: those not surely outside, the nearest, and all if all were asked for; nearest line first.
fn findings(zones: &ZoneSet, standings: &[Standing<'_>], fix: &Fix, question: &Question) -> Vec<ZoneFinding> {
    // the nearest line that is known, whatever else may be near
    let distances = |known: bool| {
        let of_kind = standings.iter().filter(move |standing| !known || standing.placed.is_known());
        of_kind.map(|standing| standing.placed.line_distance_m()).fold(f64::INFINITY, f64::min)
    };
    let nearest_known_m = distances(true);
    let nearest_m = if nearest_known_m.is_finite() { nearest_known_m } else { distances(false) };
    let standoff_m = question.standoff().map_or(0.0, crate::Metres::metres);
    let matters = |placed: &LocatedZone<'_>| {
        question.all_zones
            || placed.side != Containment::Outside
            || (placed.line_distance_m() <= nearest_m && (placed.is_known() || !nearest_known_m.is_finite()))
            || (standoff_m > 0.0 && placed.least_distance_m().is_some_and(|least_m| least_m < standoff_m))
    };
    let mut listed: Vec<&Standing<'_>> =
        standings.iter().filter(|standing| matters(&standing.placed)).collect();
    listed.sort_by(|a, b| {
        let by_distance = a.placed.line_distance_m().total_cmp(&b.placed.line_distance_m());
        by_distance.then_with(|| a.placed.zone.id.cmp(&b.placed.zone.id))
    });
    listed
        .into_iter()
        .map(|standing| {
            let mut finding = standing.placed.finding(zones, fix, &standing.binding);
            for displacement in &standing.binding.displaced_by {
                match displacement.certainty {
                    Tristate::Yes => finding.displaced_by.push(displacing(zones, displacement)),
                    Tristate::No | Tristate::Undecided => {
                        finding.perhaps_displaced_by.push(displacing(zones, displacement));
                    }
                }
            }
            finding
        })
        .collect()
}

fn displacing(zones: &ZoneSet, displacement: &Displacement) -> Displacing {
    let by = zones.zones().get(displacement.by);
    Displacing {
        zone: by.map_or_else(String::new, |zone| zone.name.clone()),
        clause: displacement.clause.clone(),
    }
}

/// What there is to say of how long the file of a zone is vouched for.
fn of_validity(zone: &Zone, time: Timestamp) -> Option<Warning> {
    let until = zone.file.valid_until?;
    let is_past = time >= until;
    if !is_past && until.duration_since(time) > RUNS_OUT_SOON {
        return None;
    }
    let until = until.to_zoned_datetime(zone.time_zone.clone());
    let (path, edition) = (zone.file.path.clone(), zone.file.edition.clone());
    Some(if is_past {
        Warning::EditionExpired { path, edition, until }
    } else {
        Warning::EditionRunsOut { path, edition, until }
    })
}

fn warnings(
    zones: &ZoneSet,
    standings: &[Standing<'_>],
    (fix, question): (&Fix, &Question),
    water: WaterStatus,
) -> Vec<Warning> {
    let mut warnings = Vec::new();
    if zones.zones().is_empty() {
        warnings.push(Warning::NoZones);
    }
    if fix.uncertainty.zero_was_given() {
        warnings.push(Warning::ZeroAccuracy {
            uncertainty_95_m: fix.uncertainty.radius_95().metres(),
            is_assumed: fix.uncertainty.source() == UncertaintySource::Assumed,
        });
    }
    for standing in standings {
        let zone = standing.placed.zone;
        warnings.extend(fix.time.and_then(|time| of_validity(zone, time)));
        let concerns = standing.placed.side != Containment::Outside;
        if concerns && zone.may_change_by_notice {
            warnings.push(Warning::MayChangeByNotice { zone: zone.name.clone() });
        }
        if concerns && zone.datum == Datum::Unstated {
            warnings.push(Warning::DatumUnstated { zone: zone.name.clone() });
        }
    }
    // whoever doubts a time says why
    if water == WaterStatus::Unzoned && question.time_of(fix) == Err(MissingTime::NotGiven) {
        warnings.push(Warning::NoTimeGiven);
    }
    say_once(&mut warnings);
    warnings
}
