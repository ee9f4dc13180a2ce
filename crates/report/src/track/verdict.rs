use takeline::binding::ZoneHere;
use takeline::track::Certainty;
use takeline::zone::{Extent, Misreading, Zone};
use takeline::{TakeAnswer, Tristate};

use super::log_state::MostlySuspect;
use super::{CatchDocument, TrackDocument, VisitDocument};
use crate::ExitStatus;

/// What the whole track comes to, worst thing that is known first.
#[derive(Debug, Clone)]
pub(crate) enum Verdict<'d> {
    /// There is nothing to judge.
    NoFix,
    /// Most fixes of the log cannot be believed.
    MostlySuspect(MostlySuspect),
    /// Some or all of it far from every zone, though one slip in writing positions down would explain that.
    Misread(Misreading),
    /// Surely inside zones whose rules surely bound the boat.
    Certain(Vec<&'d VisitDocument<'d>>),
    /// Perhaps inside, or surely inside but perhaps not bound by the rule.
    Undecided(Vec<&'d VisitDocument<'d>>),
    /// A zone whose line is not known may have been anywhere.
    LineUnknown(&'d Zone),
    /// Positions could not be read, and nobody knows how long the boat was elsewhere: the log has no times, or they stand at
    /// an end of it without one, or hours from everything else.
    PositionsLost,
    /// The log jumps as no boat does: one side of the jump is wrong, and nobody knows which.
    Torn,
    /// An accuracy that the log states cannot be read, so that no place is surely outside.
    AccuracyUnread,
    /// Inside, or perhaps inside, zones whose rules surely did not bind: not in force, displaced, or for other ways of fishing;
    /// or which restrict nothing.
    NotBound(Vec<&'d VisitDocument<'d>>),
    /// Never inside.
    Never,
}

impl<'d> Verdict<'d> {
    pub(super) fn of(document: &'d TrackDocument<'_>) -> Self {
        let quality = &document.report.audit.quality;
        if quality.fixes == 0 {
            return Self::NoFix;
        }
        if let Some(doubt) = MostlySuspect::of(quality) {
            // one slip tells more of why than that most of it jumps
            let misreading = document.misreading();
            return misreading.map_or(Self::MostlySuspect(doubt), Self::Misread);
        }
        let undecided: Vec<_> = document.visits.iter().filter(|visit| visit.may_restrict()).collect();
        let is_certain = |visit: &&VisitDocument<'_>| {
            visit.certainty == Certainty::Certain && visit.binds == Tristate::Yes
        };
        let certain: Vec<_> = undecided.iter().copied().filter(is_certain).collect();
        if !certain.is_empty() {
            return Self::Certain(certain);
        }
        if !undecided.is_empty() {
            return Self::Undecided(undecided);
        }
        if let Some(zone) = line_unknown(document) {
            return Self::LineUnknown(zone);
        }
        if quality.without_time > 0 && document.notes.iter().any(|note| note.leaves_out) {
            return Self::PositionsLost;
        }
        if quality.order.lost + quality.lost_trips > 0 {
            return Self::PositionsLost;
        }
        if let Some(misreading) = document.misreading() {
            return Self::Misread(misreading);
        }
        if quality.impossible_gaps > 0 {
            return Self::Torn;
        }
        if document.has_unread_accuracy() {
            return Self::AccuracyUnread;
        }
        let idle: Vec<_> = document.visits.iter().collect();
        if idle.is_empty() { Self::Never } else { Self::NotBound(idle) }
    }

    pub(super) fn exit_status(&self) -> ExitStatus {
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

/// A zone that may be anywhere, may have bound the boat during the log, and of which the audit says nothing.
fn line_unknown<'a>(document: &TrackDocument<'a>) -> Option<&'a Zone> {
    let unsaid = |zone: &Zone| document.visits.iter().all(|visit| visit.zone_id != zone.id.0);
    let found =
        document.placed_nowhere().into_iter().find(|(zone, binds)| *binds != Tristate::No && unsaid(zone));
    found.map(|(zone, _)| zone)
}

impl<'a> TrackDocument<'a> {
    /// The zones that may be anywhere, each with whether its rule may have bound the boat at a time of the log.
    pub(crate) fn placed_nowhere(&self) -> Vec<(&'a Zone, Tristate)> {
        let anywhere = |zone: &Zone| matches!(zone.extent, Extent::Unknown { somewhere_in: None, .. });
        let numbered = self.zones().zones().iter().enumerate().filter(|(_, zone)| anywhere(zone));
        numbered.map(|(number, zone)| (zone, self.may_have_bound(number))).collect()
    }

    fn may_have_bound(&self, number: usize) -> Tristate {
        let zones = self.zones();
        let settings = &self.report.audit.settings;
        // whatever may displace it may be elsewhere
        let here = [ZoneHere { number, inside: Tristate::Undecided }];
        let span = self.input.first_time.zip(self.input.last_time).filter(|_| !settings.dates_doubtful);
        let has_all_times = self.quality.without_time == 0;
        let binding: Vec<Tristate> = if let Some((from, to)) = span.filter(|_| has_all_times) {
            let spans = zones.binding_spans(&here, from, to, settings.access);
            spans.iter().flat_map(|span| &span.zones).map(|zone| zone.binds).collect()
        } else {
            let found = zones.binding_zones(&here, None, settings.access);
            found.iter().map(|zone| zone.binds).collect()
        };
        let restricts = zones.zones().get(number).is_none_or(|zone| !zone.rule.restricts_nothing());
        Tristate::any(binding).and(restricts.into())
    }
}

/// What the catches come to: undecided if one is, else restricted if one has to go back.
pub(super) fn exit_status_of_catches(catches: &[CatchDocument<'_>]) -> ExitStatus {
    let any = |answer| catches.iter().any(|caught| caught.answer == answer);
    if any(TakeAnswer::Undecided) {
        ExitStatus::Undecided
    } else if any(TakeAnswer::Release) {
        ExitStatus::Restricted
    } else {
        ExitStatus::Unrestricted
    }
}

/// The first lines of the text, each in several lengths, the longest first.
#[derive(Debug, Clone, Default)]
pub(crate) struct Headline {
    /// What it comes to.
    pub(crate) first: Vec<String>,
    /// What came of the catches, if there were any.
    pub(crate) catches: Option<String>,
    /// When, which zone, or why.
    pub(crate) second: Vec<String>,
    /// How sure, or what would settle it.
    pub(crate) third: Third,
}

/// The third line.
#[derive(Debug, Clone)]
pub(crate) enum Third {
    /// One more thing to know, cut where it is too long.
    Fact(String),
    /// What would settle it, never cut.
    Settle(String),
}

impl Default for Third {
    fn default() -> Self {
        Self::Fact(String::new())
    }
}

impl Headline {
    /// The lines but for that of the catches, each in its longest form.
    pub(crate) fn longest(&self) -> Vec<String> {
        let (Third::Fact(third) | Third::Settle(third)) = &self.third;
        self.first.iter().take(1).chain(self.second.iter().take(1)).chain([third]).cloned().collect()
    }
}
