//! Draws up the document of a track from an audit and what stands beside it.

use takeline::track::{
    ClosestApproach, ConditionFinding, Crossing, Gap, LoggedFix, LoggedMoment, OffTheWay, OrderFindings,
    Speeds, SuspectFix, Suspicion, Visit,
};
use takeline::zone::{Zone, ZoneFile};
use takeline::{Position, UncertaintySource};

use super::verdict::Verdict;
use super::{
    AuditReport, CatchAnswer, CatchDocument, ClosestDocument, ConditionDocument, ContradictedDocument,
    CrossingDocument, GapDocument, Headline, InputDocument, MomentDocument, OffTheWayDocument, OrderDocument,
    OutcomeDocument, QualityDocument, SettingsDocument, ShownPlace, SpeedDocument, StopDocument,
    SuspectDocument, TrackDocument, VisitDocument, VisitSourceDocument, ZoneFileDocument,
};
use crate::ExitStatus;
use crate::cautions::CAUTIONS;
use crate::html_page::each_once;
use crate::words::track as words;
use crate::words::{English, Words, each};

impl<'a> TrackDocument<'a> {
    /// Draws up all that is to be said of a track.
    ///
    /// # Units
    ///
    /// Metres, degrees, seconds, knots; full precision.
    ///
    /// # Edge cases
    ///
    /// Withheld positions are left out of all of it; there are no durations in a log without times.
    ///
    /// The exit status is undecided (3) if most fixes cannot be believed. Else, of the visits: restricted (1) if the boat was
    /// surely inside a zone at a time when its rule surely bound it and restricts something; else undecided (3) if it may have
    /// been inside such a zone that may have bound it, if there is no fix, or if positions were lost in a log without times;
    /// else 0. Of the catches: undecided (3) if one is, else restricted (1) if one has to go back. The worse of both counts.
    #[must_use]
    pub fn of(report: &'a AuditReport<'a>) -> Self {
        let audit = report.audit;
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
            },
            quality: quality(report),
            visits: audit.visits.iter().map(|one| visit(report, one)).collect(),
            crossings: crossings(report),
            closest_approach: audit.closest_approaches.iter().map(|one| closest(report, one)).collect(),
            catches: report.catches.iter().flatten().map(|one| caught(report, one)).collect(),
            path: audit.path,
            gap_path: audit.gap_path,
            settings: settings(report),
            zone_files: each_once(report.zones.zones().iter().map(|zone| &*zone.file))
                .into_iter()
                .map(ZoneFileDocument::from)
                .collect(),
            notes: &report.notes,
            command: &report.command,
            trimmed_ends: report.trimmed.map(|trimmed| trimmed.radius()),
            limits: words::TRACK_LIMITS,
            cautions: CAUTIONS,
            exit_status: ExitStatus::Undecided,
            undecided_because: Vec::new(),
            headline: Headline::default(),
            remarks: Vec::new(),
            report,
        };
        document.conclude();
        document
    }

    /// Fills in what it all comes to.
    fn conclude(&mut self) {
        let verdict = Verdict::of(self);
        let headline = words::headline(self, &verdict);
        let of_the_track = verdict.exit_status();
        self.remarks = words::first_remarks(self);
        self.exit_status = of_the_track.worst(super::verdict::exit_status_of_catches(&self.catches));
        if of_the_track == ExitStatus::Undecided {
            self.undecided_because = headline.longest();
        }
        self.headline = headline;
    }
}

fn shown(report: &AuditReport<'_>, position: Position) -> ShownPlace {
    let is_hidden = report.trimmed.is_some_and(|trimmed| trimmed.hides(position));
    ShownPlace((!is_hidden).then_some(position))
}

fn moment(report: &AuditReport<'_>, moment: &LoggedMoment) -> MomentDocument {
    MomentDocument { time: moment.time, place: shown(report, moment.position), between: moment.between }
}

fn at_fix(report: &AuditReport<'_>, fix: &LoggedFix) -> MomentDocument {
    moment(report, &LoggedMoment { position: fix.position, time: fix.time, between: None })
}

fn quality<'a>(report: &AuditReport<'a>) -> QualityDocument<'a> {
    let quality = &report.audit.quality;
    let [duplicates, out_of_order, spike_count, cold_start, zero_island, stale, untimed] = quality.counts;
    let suspects: Vec<_> = quality.suspects.iter().map(|one| suspect(report, one)).collect();
    QualityDocument {
        duplicates,
        out_of_order,
        spike_count,
        spikes: suspects.iter().filter(|one| one.kind == Suspicion::Spike).copied().collect(),
        gap_count: quality.gap_count,
        gaps: quality.gaps.iter().map(|one| gap(report, one)).collect(),
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
        order: OrderDocument::from(&quality.order),
    }
}

impl From<&OrderFindings> for OrderDocument {
    fn from(order: &OrderFindings) -> Self {
        Self {
            newest_first: order.newest_first,
            unordered: order.unordered,
            stretches_moved: order.stretches_moved,
            stretches_repeated: order.stretches_repeated,
            boats: order.boats,
            times_placed: order.times_placed,
            times_taken: order.times_taken,
            times_all_the_same: order.times_all_the_same,
            shown_kn: order.shown_kn,
            digits_step_deg: order.digits_step_deg,
        }
    }
}

fn suspect(report: &AuditReport<'_>, one: &SuspectFix) -> SuspectDocument {
    SuspectDocument {
        line: one.fix.place.line,
        kind: one.suspicion,
        time: one.fix.time,
        place: shown(report, one.fix.position),
        needed_kn: one.needed_kn,
    }
}

fn gap<'a>(report: &AuditReport<'a>, one: &'a Gap) -> GapDocument<'a> {
    GapDocument {
        from: at_fix(report, &one.before),
        to: at_fix(report, &one.after),
        after_line: one.before.place.line,
        seconds: one.seconds,
        distance: one.metres,
        reach: one.reach(&report.audit.settings),
        impossible: one.impossible,
        between_trips: one.between_trips,
        open_end: one.open,
        gap: one,
    }
}

fn visit<'a>(report: &AuditReport<'a>, one: &'a Visit) -> VisitDocument<'a> {
    let zone = zone_of(report, one);
    VisitDocument {
        zone_id: &one.zone.0,
        zone_name: zone.map_or(&one.zone.0, |zone| &zone.name),
        certainty: one.certainty,
        entered: moment(report, &one.entered()),
        left: moment(report, &one.left()),
        certain_s: one.certain_s,
        possible_s: one.possible_s,
        deepest: one.deepest,
        deepest_uncertainty_95: one.deepest_uncertainty_95,
        path: one.path,
        speed_kn: one.speeds.map(SpeedDocument::from),
        evidence: one.evidence,
        off_the_way: one.off_the_way.map(OffTheWayDocument::from),
        gaps: one.gaps,
        suspect: one.is_suspect,
        stops: one
            .stops
            .iter()
            .map(|stop| StopDocument { from: moment(report, &stop.from), seconds: stop.seconds })
            .collect(),
        crossings: &one.crossings,
        in_force: one.in_force,
        in_force_because: each(&one.in_force_because, |reason| English.track_reason(reason)),
        binds: one.binds,
        binds_because: each(&one.binds_because, |reason| English.track_reason(reason)),
        restricts_nothing: zone.is_some_and(|zone| zone.rule.restricts_nothing()),
        displaced_by: one.displaced_by.iter().map(|zone| zone.0.as_str()).collect(),
        outcome: OutcomeDocument {
            in_force_certain_s: one.in_force_certain_s,
            in_force_possible_s: one.in_force_possible_s,
            binds_certain_s: one.binds_certain_s,
            binds_possible_s: one.binds_possible_s,
        },
        conditions: one.conditions.iter().map(ConditionDocument::from).collect(),
        movement: one.movement.iter().map(words::motion).collect(),
        movement_codes: &one.movement,
        take_rule: zone.map(|zone| English.rule_summary(&zone.rule.summary(&zone.file.catalogue))),
        source: zone.map(|zone| VisitSourceDocument {
            instrument: &zone.source.instrument,
            clause: zone.source.clause.as_deref(),
        }),
        zone_file: zone.map(|zone| ZoneFileDocument::from(&*zone.file)),
        zone,
        zone_number: one.zone_number,
    }
}

/// The zone of a visit; none if number and name do not go together.
fn zone_of<'a>(report: &AuditReport<'a>, visit: &Visit) -> Option<&'a Zone> {
    report.zones.zones().get(visit.zone_number).filter(|zone| zone.id == visit.zone)
}

fn crossings<'a>(report: &AuditReport<'a>) -> Vec<CrossingDocument<'a>> {
    let audit = report.audit;
    let mut visits = vec![None; audit.crossings.len()];
    for (number, visit) in audit.visits.iter().enumerate().rev() {
        for crossing in &visit.crossings {
            if let Some(of_crossing) = visits.get_mut(*crossing) {
                *of_crossing = Some(number);
            }
        }
    }
    audit.crossings.iter().zip(visits).map(|(one, visit)| crossing(report, one, visit)).collect()
}

/// The zone of a crossing is that of its visit, which is sure, else the first of its name: files may share one.
fn crossing<'a>(report: &AuditReport<'a>, one: &'a Crossing, visit: Option<usize>) -> CrossingDocument<'a> {
    let of_visit = visit.and_then(|number| zone_of(report, report.audit.visits.get(number)?));
    let by_name = || report.zones.zones().iter().find(|zone| zone.id == one.zone);
    CrossingDocument {
        zone_id: &one.zone.0,
        direction: one.direction,
        at: moment(report, &one.at),
        zone: of_visit.or_else(by_name),
        visit,
    }
}

fn closest<'a>(report: &AuditReport<'a>, one: &'a ClosestApproach) -> ClosestDocument<'a> {
    let zones = report.zones.zones();
    let zone_number = zones.iter().position(|zone| zone.id == one.zone);
    ClosestDocument {
        zone_id: &one.zone.0,
        zone_name: zone_number.and_then(|number| zones.get(number)).map_or(&one.zone.0, |zone| &zone.name),
        signed_distance: one.signed_distance,
        uncertainty_95: one.uncertainty_95,
        at: moment(report, &one.at),
        zone_number,
    }
}

fn caught<'a>(report: &AuditReport<'_>, one: &'a CatchAnswer) -> CatchDocument<'a> {
    let contradicted = one.contradicted.map(|(given, logged)| ContradictedDocument {
        row: shown(report, given),
        track: shown(report, logged),
    });
    CatchDocument {
        contradicted,
        row: one.row,
        asked: one.asked.as_deref(),
        time: one.time,
        place: one.position.map_or(ShownPlace(None), |position| shown(report, position)),
        answer: one.answer,
        because: &one.because,
        carried: &one.carried,
        is_lowered_by_carrying: one.is_lowered_by_carrying,
    }
}

fn settings(report: &AuditReport<'_>) -> SettingsDocument {
    let settings = &report.audit.settings;
    SettingsDocument {
        uncertainty_95: settings.uncertainty.radius_95(),
        uncertainty_source: match settings.uncertainty.source() {
            UncertaintySource::Given => "given",
            UncertaintySource::Assumed => "assumed",
        },
        metres_per_hdop: settings.metres_per_hdop,
        top_speed_kn: settings.top_speed_kn,
        top_speed_source: if report.audit.quality.order.shown_kn.is_some() {
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
        access: settings.access.map(words::access),
    }
}

impl<'a> From<&'a ConditionFinding> for ConditionDocument<'a> {
    fn from(found: &'a ConditionFinding) -> Self {
        let because: Vec<String> = found.because.iter().copied().map(words::condition_reason).collect();
        Self {
            condition: words::crossing_condition(&found.condition),
            condition_code: &found.condition,
            met: found.met,
            because: because.join("; "),
            because_codes: &found.because,
        }
    }
}

impl From<OffTheWay> for OffTheWayDocument {
    fn from(off: OffTheWay) -> Self {
        Self { seconds: off.seconds, reach: off.reach }
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
        }
    }
}
