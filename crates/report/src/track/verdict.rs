use takeline::binding::ZoneHere;
use takeline::track::{Certainty, Visit};
use takeline::zone::{Extent, Misreading, Zone};
use takeline::{TakeAnswer, Tristate};

use super::AuditReport;
use super::headline;
use super::log_state::{self, MostlySuspect};
use crate::ExitStatus;

/// What the whole track comes to, worst thing that is known first.
#[derive(Debug, Clone)]
pub(crate) enum Verdict<'a> {
    /// There is nothing to judge.
    NoFix,
    /// Most fixes of the log cannot be believed.
    MostlySuspect(MostlySuspect),
    /// Some or all of it far from every zone, though one slip in writing positions down would explain that.
    Misread(Misreading),
    /// Surely inside zones whose rules surely bound the boat.
    Certain(Vec<&'a Visit>),
    /// Perhaps inside, or surely inside but perhaps not bound by the rule.
    Undecided(Vec<&'a Visit>),
    /// A zone whose line is not known may have been anywhere.
    LineUnknown(&'a Zone),
    /// Positions could not be read, and nobody knows how long the boat was elsewhere: the log has no times, or they stand at
    /// an end of it without one, or hours from everything else.
    PositionsLost,
    /// The log jumps as no boat does: one side of the jump is wrong, and nobody knows which.
    Torn,
    /// An accuracy that the log states cannot be read, so that no place is surely outside.
    AccuracyUnread,
    /// Inside, or perhaps inside, zones whose rules surely did not bind: not in force, displaced, or for other ways of fishing;
    /// or which restrict nothing.
    NotBound(Vec<&'a Visit>),
    /// Never inside.
    Never,
}

impl<'a> Verdict<'a> {
    pub(crate) fn of(report: &AuditReport<'a>) -> Self {
        let audit = report.audit;
        if audit.quality.fixes == 0 {
            return Self::NoFix;
        }
        if let Some(doubt) = MostlySuspect::of(&audit.quality) {
            // one slip tells more of why than that most of it jumps
            let misreading = log_state::misreading(report);
            return misreading.map_or(Self::MostlySuspect(doubt), Self::Misread);
        }
        let undecided: Vec<_> = audit.visits.iter().filter(|visit| report.may_restrict(visit)).collect();
        let is_certain =
            |visit: &&Visit| visit.certainty == Certainty::Certain && visit.binds == Tristate::Yes;
        let certain: Vec<_> = undecided.iter().copied().filter(is_certain).collect();
        if !certain.is_empty() {
            return Self::Certain(certain);
        }
        if !undecided.is_empty() {
            return Self::Undecided(undecided);
        }
        if let Some(zone) = line_unknown(report) {
            return Self::LineUnknown(zone);
        }
        if audit.quality.without_time > 0 && report.notes.iter().any(|note| note.leaves_out) {
            return Self::PositionsLost;
        }
        if audit.quality.order.lost + audit.quality.lost_trips > 0 {
            return Self::PositionsLost;
        }
        if let Some(misreading) = log_state::misreading(report) {
            return Self::Misread(misreading);
        }
        if audit.quality.impossible_gaps > 0 {
            return Self::Torn;
        }
        if log_state::has_unread_accuracy(report) {
            return Self::AccuracyUnread;
        }
        let idle: Vec<_> = audit.visits.iter().collect();
        if idle.is_empty() { Self::Never } else { Self::NotBound(idle) }
    }

    fn exit_status(&self) -> ExitStatus {
        match self {
            Self::Certain(_) => ExitStatus::Restricted,
            Self::NoFix
            | Self::MostlySuspect(_)
            | Self::Misread(_)
            | Self::Undecided(_)
            | Self::LineUnknown(_)
            | Self::Torn
            | Self::AccuracyUnread
            | Self::PositionsLost => ExitStatus::Undecided,
            Self::NotBound(_) | Self::Never => ExitStatus::Unrestricted,
        }
    }
}

/// Why nothing is settled by a track, in at most three sentences: the first lines of its text. Empty where it is settled.
///
/// # Edge cases
///
/// Catches are not asked: a track may be settled where a catch is not.
#[must_use]
pub fn track_undecided_because(report: &AuditReport<'_>) -> Vec<String> {
    let verdict = Verdict::of(report);
    if verdict.exit_status() == ExitStatus::Undecided {
        headline::sentences(report, &verdict)
    } else {
        Vec::new()
    }
}

/// What somebody who reads no further than the first lines has to know of the log, one sentence or two each: pauses between
/// trips, several boats, dates that may be wrong. Empty for a plain log.
#[must_use]
pub fn track_remarks(report: &AuditReport<'_>) -> Vec<String> {
    log_state::first_remarks(report)
}

/// A zone that may be anywhere, may have bound the boat during the log, and of which the audit says nothing.
fn line_unknown<'a>(report: &AuditReport<'a>) -> Option<&'a Zone> {
    let unsaid = |zone: &Zone| report.audit.visits.iter().all(|visit| visit.zone != zone.id);
    let found =
        placed_nowhere(report).into_iter().find(|(zone, binds)| *binds != Tristate::No && unsaid(zone));
    found.map(|(zone, _)| zone)
}

/// The zones that may be anywhere, each with whether its rule may have bound the boat at a time of the log.
pub(crate) fn placed_nowhere<'a>(report: &AuditReport<'a>) -> Vec<(&'a Zone, Tristate)> {
    let zones = report.zones;
    let anywhere = |zone: &Zone| matches!(zone.extent, Extent::Unknown { somewhere_in: None, .. });
    let numbered = zones.zones().iter().enumerate().filter(|(_, zone)| anywhere(zone));
    numbered.map(|(number, zone)| (zone, may_have_bound(report, number))).collect()
}

fn may_have_bound(report: &AuditReport<'_>, number: usize) -> Tristate {
    let settings = &report.audit.settings;
    let quality = &report.audit.quality;
    // whatever may displace it may be elsewhere
    let here = [ZoneHere { number, inside: Tristate::Undecided }];
    let span = quality.first_time.zip(quality.last_time).filter(|_| !settings.dates_doubtful);
    let has_all_times = quality.without_time == 0;
    let binding: Vec<Tristate> = if let Some((from, to)) = span.filter(|_| has_all_times) {
        let spans = report.zones.binding_spans(&here, from, to, settings.access);
        spans.iter().flat_map(|span| &span.zones).map(|zone| zone.binds).collect()
    } else {
        let found = report.zones.binding_zones(&here, None, settings.access);
        found.iter().map(|zone| zone.binds).collect()
    };
    let restricts = report.zones.zones().get(number).is_none_or(|zone| !zone.rule.restricts_nothing());
    Tristate::any(binding).and(restricts.into())
}

/// Returns the exit status of one track.
///
/// Undecided (3) if most fixes cannot be believed. Else, of the visits: restricted (1) if the boat was surely inside a zone at a
/// time when its rule surely bound it and restricts something; else undecided (3) if it may have been inside such a zone that may have bound it, if there is
/// no fix, or if positions were lost in a log without times; else 0.
/// Of the catches: undecided (3) if one is, else restricted (1) if one has to go back. The worse of both counts.
#[must_use]
pub fn track_exit_status(report: &AuditReport<'_>) -> ExitStatus {
    let any = |answer| report.catches.iter().any(|caught| caught.answer == answer);
    let of_catches = if any(TakeAnswer::Undecided) {
        ExitStatus::Undecided
    } else if any(TakeAnswer::Release) {
        ExitStatus::Restricted
    } else {
        ExitStatus::Unrestricted
    };
    Verdict::of(report).exit_status().worst(of_catches)
}
