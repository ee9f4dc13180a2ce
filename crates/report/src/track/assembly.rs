//! Draws up the document of a track from an audit and what stands beside it.

use std::collections::HashSet;

use jiff::Timestamp;
use takeline::rule::Condition;
use takeline::track::{
    CarriedFinding, CatchFinding, CatchPosition, ClosestApproach, ConditionFinding, Crossing, Gap, LoggedFix,
    LoggedMoment, OnLand, Outcome, OutcomeAnswer, OutcomeReason, Reason, Remedy, Speeds, Stop, SuspectFix,
    Suspicion, Visit,
};
use takeline::zone::{Zone, ZoneFile};
use takeline::{CrossablePoint, Position, Tristate, UncertaintySource};

use super::verdict::{Unsettled, Verdict};
use super::{
    AuditReport, CarriedDocument, CatchDocument, ClosestDocument, ConditionDocument, ContradictedDocument,
    CrossableDocument, CrossingDocument, GapDocument, Headline, InputDocument, MomentDocument,
    OnLandDocument, OutcomeDocument, QualityDocument, SaidCode, SettingsDocument, ShownPlace, SpeedDocument,
    StopDocument, SuspectDocument, TrackDocument, VisitDocument, VisitSourceDocument, ZoneFileDocument,
};
use crate::ExitStatus;
use crate::html_page::each_once;
use crate::words::{Spoken, Words, each, joined};

impl<'a> TrackDocument<'a> {
    /// Draws up all that is to be said of a track, in the words of a language; its views then speak it too.
    ///
    /// # Units
    ///
    /// Metres, degrees, seconds, knots; full precision.
    ///
    /// # Edge cases
    ///
    /// Withheld positions are left out of all of it; there are no durations in a log without times.
    ///
    /// The verdict is undecided (3) if there is no fix, or most fixes cannot be believed. Else it is against (1) if something that a
    /// visit or a catch shows surely is against a loaded rule; else undecided if something may be, or if the state of the log
    /// leaves open where the boat was; else nothing in it is against a loaded rule (0).
    #[must_use]
    pub fn of(report: &'a AuditReport<'a>, words: &'a dyn Words) -> Self {
        let audit = report.audit;
        let from = Assembly { report, words };
        let mut document = Self {
            schema: "takeline.track/1",
            takeline_version: env!("CARGO_PKG_VERSION"),
            input: InputDocument {
                path: &report.input.path,
                sha256: report.input.sha256.as_deref(),
                kind: report.input.kind,
                fixes: audit.quality.fixes,
                first_time: audit.quality.first_time,
                last_time: audit.quality.last_time,
                catch_rows_unread: report.catch_rows_unread,
            },
            quality: from.quality(),
            visits: audit.visits.iter().map(|one| from.visit(one)).collect(),
            crossings: from.crossings(),
            closest_approach: audit.closest_approaches.iter().map(|one| from.closest(one)).collect(),
            catches: report.catches.unwrap_or_default().iter().map(|one| from.caught(one)).collect(),
            path: audit.path,
            gap_path: audit.gap_path,
            settings: from.settings(),
            zone_files: each_once(report.zones.zones().iter().map(|zone| &*zone.file))
                .into_iter()
                .map(ZoneFileDocument::from)
                .collect(),
            notes: &report.notes,
            command: &report.command,
            trimmed_ends: report.trimmed.map(|trimmed| trimmed.radius()),
            limits: words.track_limits(),
            cautions: words.cautions(),
            exit_status: ExitStatus::Undecided,
            verdict: OutcomeAnswer::Undecided,
            verdict_because: Vec::new(),
            verdict_because_codes: Vec::new(),
            not_shown: Vec::new(),
            not_shown_codes: Vec::new(),
            undecided_because: Vec::new(),
            undecided_because_code: None,
            headline: Headline::default(),
            remarks: Vec::new(),
            report,
            words: Spoken(words),
        };
        document.conclude();
        document
    }

    /// Fills in what it all comes to.
    fn conclude(&mut self) {
        let verdict = Verdict::of(self);
        let headline = self.words.track_headline(self, &verdict);
        let open = Unsettled::of(&verdict, self);
        let answer = verdict.answer();
        let because = verdict.because(self);
        let not_shown = Verdict::not_shown(self);
        self.remarks = self.words.track_remarks(self);
        self.verdict = answer;
        self.exit_status = status_of(answer);
        if self.input.catch_rows_unread > 0 {
            self.exit_status = ExitStatus::Undecided;
        }
        self.verdict_because = each(&because, |reason| self.words.verdict_reason(self, reason));
        self.verdict_because_codes = because;
        self.not_shown = each(&not_shown, |one| self.words.not_shown(one));
        self.not_shown_codes = not_shown;
        if answer == OutcomeAnswer::Undecided {
            self.undecided_because = headline.longest();
            self.undecided_because_code = open;
        }
        self.headline = headline;
    }
}

/// 0 where nothing in the log is against a loaded rule, 1 where something is, 3 where that is not settled.
fn status_of(answer: OutcomeAnswer) -> ExitStatus {
    match answer {
        OutcomeAnswer::NothingAgainst => ExitStatus::Unrestricted,
        OutcomeAnswer::Against => ExitStatus::Restricted,
        OutcomeAnswer::Undecided => ExitStatus::Undecided,
    }
}

/// Leaves an outcome open that rests on a file which was no longer valid.
fn expire(outcome: &mut Outcome, expired: Option<Timestamp>) {
    if let Some(until) = expired {
        outcome.answer = OutcomeAnswer::Undecided;
        outcome.because.insert(0, OutcomeReason::FileExpired { until });
    }
}

/// What a document is drawn up from, and in whose words.
#[derive(Clone, Copy)]
struct Assembly<'a> {
    report: &'a AuditReport<'a>,
    words: &'a dyn Words,
}

impl<'a> Assembly<'a> {
    fn shown(&self, position: Position) -> ShownPlace {
        let is_hidden = self.report.trimmed.is_some_and(|trimmed| trimmed.hides(position));
        ShownPlace((!is_hidden).then_some(position))
    }

    fn moment(&self, moment: &LoggedMoment) -> MomentDocument {
        MomentDocument { time: moment.time, place: self.shown(moment.position), between: moment.between }
    }

    fn at_fix(&self, fix: &LoggedFix) -> MomentDocument {
        self.moment(&LoggedMoment { position: fix.position, time: fix.time, between: None })
    }

    fn quality(&self) -> QualityDocument<'a> {
        let quality = &self.report.audit.quality;
        let [duplicates, out_of_order, spike_count, cold_start, zero_island, stale, untimed] = quality.counts;
        let suspects: Vec<_> = quality.suspects.iter().map(|one| self.suspect(one)).collect();
        QualityDocument {
            duplicates,
            out_of_order,
            spike_count,
            spikes: suspects.iter().filter(|one| one.kind == Suspicion::Spike).copied().collect(),
            gap_count: quality.gap_count,
            gaps: quality.gaps.iter().map(|one| self.gap(one)).collect(),
            without_time: quality.without_time,
            cold_start,
            zero_island,
            stale,
            untimed,
            pauses: quality.pauses,
            unplaced: quality.order.unplaced,
            lost: quality.order.lost,
            lost_trips: quality.lost_trips,
            suspects,
            order: &quality.order,
            on_land: quality.on_land.as_ref().map(|found| self.on_land(found)),
        }
    }

    fn on_land(&self, found: &'a OnLand) -> OnLandDocument<'a> {
        OnLandDocument {
            coasts: &found.coasts,
            fixes: found.fixes,
            of: found.of,
            legs: found.legs,
            first: found.first.as_ref().map(|first| self.moment(first)),
        }
    }

    fn suspect(&self, one: &SuspectFix) -> SuspectDocument {
        SuspectDocument {
            line: one.fix.place.line,
            kind: one.suspicion,
            time: one.fix.time,
            place: self.shown(one.fix.position),
            needed_kn: one.needed_kn,
        }
    }

    fn gap(&self, one: &'a Gap) -> GapDocument<'a> {
        GapDocument {
            from: self.at_fix(&one.before),
            to: self.at_fix(&one.after),
            after_line: one.before.place.line,
            seconds: one.seconds,
            distance: one.metres,
            reach: one.reach(&self.report.audit.settings),
            impossible: one.impossible,
            between_trips: one.between_trips,
            open_end: one.open,
            gap: one,
        }
    }

    fn visit(&self, one: &'a Visit) -> VisitDocument<'a> {
        let zone = self.zone_of(one);
        let rule = zone.map(|zone| zone.rule.summary(&zone.file.catalogue));
        let (own_answer, outcome, rows) = self.outcome(one, zone);
        VisitDocument {
            zone_id: &one.zone.0,
            zone_name: zone.map_or(&one.zone.0, |zone| &zone.name),
            certainty: one.certainty,
            entered: self.moment(&one.entered()),
            left: self.moment(&one.left()),
            certain_s: one.certain_s,
            possible_s: one.possible_s,
            deepest: one.deepest,
            deepest_uncertainty_95: one.deepest_uncertainty_95,
            path: one.path,
            speed_kn: one.speeds.map(SpeedDocument::from),
            evidence: one.evidence,
            off_the_way: one.off_the_way,
            gaps: one.gaps,
            suspect: one.is_suspect,
            stops: one.stops.iter().map(|stop| self.stop(stop)).collect(),
            crossings: &one.crossings,
            began_at: one.course.began_at,
            ended_at: one.course.ended_at,
            in_force: one.in_force,
            in_force_because: each(&one.in_force_because, |reason| self.words.track_reason(reason)),
            in_force_because_codes: &one.in_force_because,
            binds: one.binds,
            binds_because: each(&one.binds_because, |reason| self.words.track_reason(reason)),
            binds_because_codes: &one.binds_because,
            restricts_nothing: zone.is_some_and(|zone| zone.rule.restricts_nothing()),
            displaced_by: one.displaced_by.iter().map(|zone| zone.0.as_str()).collect(),
            outcome: OutcomeDocument {
                answer: outcome.answer,
                because: each(&outcome.because, |reason| self.words.outcome_reason(reason)),
                because_codes: outcome.because,
                not_shown: each(&outcome.not_shown, |one| self.words.not_shown(one)),
                not_shown_codes: outcome.not_shown,
                catches: rows,
                in_force_certain_s: one.in_force_certain_s,
                in_force_possible_s: one.in_force_possible_s,
                binds_certain_s: one.binds_certain_s,
                binds_possible_s: one.binds_possible_s,
            },
            conditions: one.conditions.iter().map(|found| self.condition(found)).collect(),
            movement: each(&one.movement, |motion| self.words.motion(motion)),
            movement_codes: &one.movement,
            take_rule: rule.as_ref().map(|rule| self.words.rule_summary(rule)),
            take_rule_code: rule,
            source: zone.map(|zone| VisitSourceDocument {
                instrument: &zone.source.instrument,
                clause: zone.source.clause.as_deref(),
            }),
            proofread: zone.and_then(|zone| zone.proofread.as_ref()),
            zone_file: zone.map(|zone| ZoneFileDocument::from(&*zone.file)),
            course: one.course,
            own_answer,
            zone,
            zone_number: one.zone_number,
        }
    }

    fn stop(&self, one: &Stop) -> StopDocument {
        StopDocument { from: self.moment(&one.from), seconds: one.seconds }
    }

    /// The answer about a visit without its catches, what came of it with them, and the rows of those that bear on it.
    fn outcome(&self, visit: &Visit, zone: Option<&Zone>) -> (OutcomeAnswer, Outcome, Vec<u64>) {
        let open = Outcome::undecided;
        let of_zone = |zone: &Zone| Outcome::of(visit, &zone.rule, &self.report.audit.settings);
        let mut outcome = zone.map_or_else(open, of_zone);
        if let Some(zone) = zone.filter(|zone| visit.binds != Tristate::No && !zone.rule.restricts_nothing())
        {
            expire(&mut outcome, self.expired(zone, visit.left().time));
        }
        let own = outcome.answer;
        let mut rows = Vec::new();
        for caught in self.report.catches.unwrap_or_default().iter().filter(|one| one.is_of(visit)) {
            let mut of_catch = caught.outcome_in(visit.zone_number);
            if of_catch.answer == OutcomeAnswer::Against {
                expire(&mut of_catch, zone.and_then(|zone| self.expired(zone, visit.left().time)));
            }
            if of_catch != Outcome::default() {
                rows.push(caught.entry.row);
            }
            outcome.add_catch(&of_catch);
        }
        (own, outcome, rows)
    }

    /// Until when the file of a zone was valid, if it no longer was at that time of the log.
    fn expired(&self, zone: &Zone, time: Option<Timestamp>) -> Option<Timestamp> {
        let time = time.or(self.report.audit.quality.last_time);
        zone.file.valid_until.filter(|until| time.is_some_and(|time| time >= *until))
    }

    /// What came of a catch; nothing is surely against the rule of a file that was no longer valid.
    fn outcome_of_catch(&self, found: &CatchFinding) -> Outcome {
        let mut outcome = found.outcome();
        let zones = self.report.zones.zones();
        let numbers = found
            .made_in
            .iter()
            .map(|one| one.zone_number)
            .chain(found.carried.iter().map(|one| one.zone_number));
        let expired = numbers
            .filter_map(|number| zones.get(number))
            .find_map(|zone| self.expired(zone, found.entry.time));
        if outcome.answer == OutcomeAnswer::Against {
            expire(&mut outcome, expired);
        }
        outcome
    }

    /// The zone of a visit; none if number and name do not go together.
    fn zone_of(&self, visit: &Visit) -> Option<&'a Zone> {
        self.report.zones.zones().get(visit.zone_number).filter(|zone| zone.id == visit.zone)
    }

    fn crossings(&self) -> Vec<CrossingDocument<'a>> {
        let audit = self.report.audit;
        let mut visits = vec![None; audit.crossings.len()];
        for (number, visit) in audit.visits.iter().enumerate().rev() {
            for crossing in &visit.crossings {
                if let Some(of_crossing) = visits.get_mut(*crossing) {
                    *of_crossing = Some(number);
                }
            }
        }
        audit.crossings.iter().zip(visits).map(|(one, visit)| self.crossing(one, visit)).collect()
    }

    /// The zone of a crossing is that of its visit, which is sure, else the first of its name: files may share one.
    fn crossing(&self, one: &'a Crossing, visit: Option<usize>) -> CrossingDocument<'a> {
        let of_visit = visit.and_then(|number| self.zone_of(self.report.audit.visits.get(number)?));
        let by_name = || self.report.zones.zones().iter().find(|zone| zone.id == one.zone);
        CrossingDocument {
            zone_id: &one.zone.0,
            direction: one.direction,
            at: self.moment(&one.at),
            zone: of_visit.or_else(by_name),
            visit,
        }
    }

    fn closest(&self, one: &'a ClosestApproach) -> ClosestDocument<'a> {
        let zones = self.report.zones.zones();
        let zone_number = zones.iter().position(|zone| zone.id == one.zone);
        ClosestDocument {
            zone_id: &one.zone.0,
            zone_name: zone_number
                .and_then(|number| zones.get(number))
                .map_or(&one.zone.0, |zone| &zone.name),
            signed_distance: one.signed_distance,
            uncertainty_95: one.uncertainty_95,
            at: self.moment(&one.at),
            crossable: one.crossable.map(|one| self.crossable(one)),
            zone_number,
        }
    }

    fn crossable(&self, one: CrossablePoint) -> CrossableDocument {
        let place = self.shown(one.position);
        CrossableDocument {
            signed_distance: one.signed_distance,
            place,
            bearing_true_deg: place.0.is_some().then(|| one.bearing.degrees()),
        }
    }

    fn caught(&self, found: &'a CatchFinding) -> CatchDocument<'a> {
        let over = found.bags.iter().filter(|bag| bag.surely_over() || bag.perhaps_over());
        let counted = over.map(|note| Reason::CountsAgainstBag { note: note.clone() });
        let carried = found.carried.iter().map(CarriedFinding::reason);
        let mut said = Said::default();
        said.reasons(found.because.iter().cloned(), self.words);
        said.conditions(&found.conditions, self.words);
        said.remedies(&found.settle, self.words);
        said.reasons(counted.chain(carried), self.words);
        let mut said = said.once();
        let known = found.position.position();
        let place = known.map_or(ShownPlace(None), |position| self.shown(position));
        if known.is_some() && place.0.is_none() {
            // figures in full precision would give the withheld place away
            said.codes.clear();
        }
        let contradicted = if let CatchPosition::Contradicted { given, logged, .. } = found.position {
            Some(ContradictedDocument { row: self.shown(given), track: self.shown(logged) })
        } else {
            None
        };
        CatchDocument {
            contradicted,
            row: found.entry.row,
            asked: Some(&found.entry.asked),
            time: found.entry.time,
            place,
            answer: found.answer,
            because: said.texts,
            because_codes: said.codes,
            carried: found.carried.iter().map(|one| self.carried(one)).collect(),
            outcome: self.outcome_of_catch(found),
        }
    }

    fn carried(&self, found: &'a CarriedFinding) -> CarriedDocument<'a> {
        let mut said = Said::default();
        said.reasons([found.reason()].into_iter(), self.words);
        said.conditions(&found.conditions, self.words);
        said.remedies(&found.settle, self.words);
        CarriedDocument {
            zone_id: &found.zone.0,
            answer: found.allowed,
            because: said.texts,
            because_codes: said.codes,
        }
    }

    fn condition(&self, found: &'a ConditionFinding) -> ConditionDocument<'a> {
        ConditionDocument {
            condition: self.words.crossing_condition(&found.condition),
            condition_code: &found.condition,
            met: found.met,
            because: joined(&found.because, "; ", |reason| self.words.condition_reason(*reason)),
            because_codes: &found.because,
        }
    }

    fn settings(&self) -> SettingsDocument {
        let settings = &self.report.audit.settings;
        SettingsDocument {
            uncertainty_95: settings.uncertainty.radius_95(),
            uncertainty_source: match settings.uncertainty.source() {
                UncertaintySource::Given => "given",
                UncertaintySource::Assumed => "assumed",
            },
            metres_per_hdop: settings.metres_per_hdop,
            top_speed_kn: settings.top_speed_kn,
            top_speed_source: if self.report.audit.quality.order.shown_kn.is_some() {
                "shown"
            } else if settings.top_speed_given {
                "given"
            } else {
                "assumed"
            },
            dates_doubtful: settings.dates_doubtful,
            gap_after_s: settings.gap_after_s,
            linger_s: settings.merge_within_s,
            stop_below_kn: settings.stop_below_kn,
            access: settings.access,
        }
    }
}

/// Texts, and what they say as values, in one order.
#[derive(Default)]
struct Said<'a> {
    texts: Vec<String>,
    codes: Vec<SaidCode<'a>>,
}

impl<'a> Said<'a> {
    fn reasons(&mut self, reasons: impl Iterator<Item = Reason>, words: &dyn Words) {
        for reason in reasons {
            self.say(words.track_reason(&reason), SaidCode::Reason(reason));
        }
    }

    fn conditions(&mut self, conditions: &'a [Condition], words: &dyn Words) {
        for one in conditions {
            self.say(words.condition(one), SaidCode::Condition(one));
        }
    }

    fn remedies(&mut self, remedies: &'a [Remedy], words: &dyn Words) {
        for one in remedies {
            self.say(words.track_remedy(one), SaidCode::Remedy(one));
        }
    }

    fn say(&mut self, text: String, code: SaidCode<'a>) {
        self.texts.push(text);
        self.codes.push(code);
    }

    /// Each text once.
    fn once(self) -> Self {
        let mut known = HashSet::new();
        let both = self.texts.into_iter().zip(self.codes).filter(|(text, _)| known.insert(text.clone()));
        let (texts, codes) = both.unzip();
        Self { texts, codes }
    }
}

impl From<Speeds> for SpeedDocument {
    fn from(speeds: Speeds) -> Self {
        Self { min: speeds.min_kn, mean: speeds.mean_kn, max: speeds.max_kn }
    }
}

impl<'a> From<&'a ZoneFile> for ZoneFileDocument<'a> {
    fn from(file: &'a ZoneFile) -> Self {
        Self {
            path: &file.path,
            sha256: &file.sha256,
            title: file.title.as_deref(),
            edition: file.edition.as_deref(),
            valid_until: file.valid_until,
        }
    }
}
