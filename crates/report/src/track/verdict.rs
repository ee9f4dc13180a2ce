use takeline::track::{Certainty, Visit};
use takeline::zone::{Extent, Misreading, Zone};
use takeline::{Kleene, TakeAnswer};

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
            return Self::MostlySuspect(doubt);
        }
        let undecided: Vec<_> = audit.visits.iter().filter(|visit| report.may_restrict(visit)).collect();
        let is_certain = |visit: &&Visit| visit.certainty == Certainty::Certain && visit.binds == Kleene::Yes;
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

/// A zone that may be anywhere and of which the audit says nothing.
fn line_unknown<'a>(report: &AuditReport<'a>) -> Option<&'a Zone> {
    let anywhere = |zone: &&Zone| matches!(zone.extent, Extent::Unknown { somewhere_in: None, .. });
    let unsaid = |zone: &&Zone| report.audit.visits.iter().all(|visit| visit.zone != zone.id);
    report.zones.zones().iter().filter(anywhere).find(unsaid)
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
