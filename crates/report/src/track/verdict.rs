//! What a whole track comes to: the state of its log first, then its visits; and the first lines that say so.

use jiff::Timestamp;
use takeline::Tristate;
use takeline::binding::ZoneHere;
use takeline::rule::Condition;
use takeline::track::{
    Certainty, ConditionReason, Gap, NotShown, OutcomeAnswer, OutcomeReason, Quality, Suspicion,
};
use takeline::zone::{Extent, Misreading, Slip, Zone};

use super::{CatchDocument, OnLandDocument, TrackDocument, TrackNote, VisitDocument};

/// What the whole track comes to, worst thing that is known first.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub enum Verdict<'d> {
    /// There is nothing to judge.
    NoFix,
    /// Most fixes of the log cannot be believed.
    MostlySuspect(MostlySuspect),
    /// Most of it lies on land, so that it is in doubt where the boat was.
    OnLand(&'d OnLandDocument<'d>),
    /// Some or all of it far from every zone, though one slip in writing positions down would explain that.
    Misread(Misreading),
    /// Something that the log shows is against a loaded rule.
    Against(Judged<'d>),
    /// Something may be.
    Undecided(Judged<'d>),
    /// A zone whose line is not known may have been anywhere.
    LineUnknown(&'d Zone),
    /// Positions could not be read, and nobody knows how long the boat was elsewhere: the log has no times, or they stand at
    /// an end of it without one, or hours from everything else.
    PositionsLost,
    /// The log jumps as no boat does: one side of the jump is wrong, and nobody knows which.
    Torn,
    /// An accuracy that the log states cannot be read, so that no place is surely outside.
    AccuracyUnread,
    /// So many rows of the catch log could not be read.
    CatchesUnread(u64),
    /// A zone file was no longer valid when the log was made.
    Expired(&'d Zone),
    /// Inside, or perhaps inside, and nothing that the log shows is against the rules.
    NothingAgainst(Vec<&'d VisitDocument<'d>>),
    /// Never inside.
    Never,
}

/// The visits, by themselves, and the catches that decide a verdict.
#[derive(Debug, Clone, Default)]
pub struct Judged<'d> {
    /// Visits, in the order in which they began.
    pub visits: Vec<&'d VisitDocument<'d>>,
    /// Catches, in the order of their log.
    pub catches: Vec<&'d CatchDocument<'d>>,
}

impl<'d> Judged<'d> {
    fn of(document: &'d TrackDocument<'_>, answer: OutcomeAnswer) -> Option<Self> {
        let found = Self {
            visits: document.visits.iter().filter(|visit| visit.own_answer == answer).collect(),
            catches: document.catches.iter().filter(|caught| caught.outcome.answer == answer).collect(),
        };
        (!found.visits.is_empty() || !found.catches.is_empty()).then_some(found)
    }
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
        if let Some(found) = document.quality.on_land.as_ref().filter(|found| 2 * found.fixes > found.of) {
            return Self::OnLand(found);
        }
        if let Some(found) = Judged::of(document, OutcomeAnswer::Against) {
            return Self::Against(found);
        }
        if let Some(found) = Judged::of(document, OutcomeAnswer::Undecided) {
            return Self::Undecided(found);
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
        if document.input.catch_rows_unread > 0 {
            return Self::CatchesUnread(document.input.catch_rows_unread);
        }
        if let Some(zone) = document.expired_files().first() {
            return Self::Expired(zone);
        }
        let visits: Vec<_> = document.visits.iter().collect();
        if visits.is_empty() { Self::Never } else { Self::NothingAgainst(visits) }
    }

    pub(super) fn answer(&self) -> OutcomeAnswer {
        match self {
            Self::Against(_) => OutcomeAnswer::Against,
            Self::NoFix
            | Self::MostlySuspect(_)
            | Self::OnLand(_)
            | Self::Misread(_)
            | Self::Undecided(_)
            | Self::LineUnknown(_)
            | Self::Torn
            | Self::AccuracyUnread
            | Self::CatchesUnread(_)
            | Self::Expired(_)
            | Self::PositionsLost => OutcomeAnswer::Undecided,
            Self::NothingAgainst(_) | Self::Never => OutcomeAnswer::NothingAgainst,
        }
    }

    /// Why, each thing once.
    pub(super) fn because(&self, document: &TrackDocument<'_>) -> Vec<VerdictReason> {
        let mut reasons: Vec<VerdictReason> = Vec::new();
        let (visits, catches) = match self {
            Self::Against(found) | Self::Undecided(found) => {
                (found.visits.as_slice(), found.catches.as_slice())
            }
            Self::NothingAgainst(visits) => (visits.as_slice(), [].as_slice()),
            Self::Never => return vec![VerdictReason::NeverInside],
            Self::NoFix
            | Self::MostlySuspect(_)
            | Self::OnLand(_)
            | Self::Misread(_)
            | Self::LineUnknown(_)
            | Self::PositionsLost
            | Self::Torn
            | Self::AccuracyUnread
            | Self::CatchesUnread(_)
            | Self::Expired(_) => {
                let why = Unsettled::of(self, document);
                return why.map(|why| VerdictReason::Log { why }).into_iter().collect();
            }
        };
        let mut say = |reason: VerdictReason| match reasons.iter_mut().find(|known| known.is_like(&reason)) {
            Some(known) if reason.duration_s() > known.duration_s() => *known = reason,
            Some(_) => {}
            None => reasons.push(reason),
        };
        for visit in visits {
            for reason in visit.outcome.because_codes.iter().filter(|reason| !is_of_a_catch(reason)) {
                let (zone_id, reason) = (visit.zone_id.to_owned(), reason.clone());
                say(VerdictReason::Visit { zone_id, reason });
            }
        }
        for reason in catches.iter().flat_map(|caught| &caught.outcome.because) {
            say(VerdictReason::Catch { reason: reason.clone() });
        }
        reasons
    }

    /// What bears on it and the log does not show, each thing once.
    pub(super) fn not_shown(document: &TrackDocument<'_>) -> Vec<NotShown> {
        let mut not_shown = vec![NotShown::WhatWasDone];
        let bound = || document.visits.iter().filter(|visit| visit.may_restrict());
        let visits = bound().flat_map(|visit| &visit.outcome.not_shown_codes);
        for one in visits.filter(|one| !matches!(one, NotShown::Gaps { .. })) {
            if !not_shown.contains(one) {
                not_shown.push(one.clone());
            }
        }
        // what was done between two trips is not judged, and not shown either if the boat may have stayed there meanwhile
        let is_during =
            |gap: &Gap| gap.open.is_none() && bound().any(|visit| visit.spans(gap) && visit.gaps > 0);
        let gaps: Vec<&Gap> =
            document.report.audit.quality.gaps.iter().filter(|gap| is_during(gap)).collect();
        let timed = |gap: &Gap| gap.before.time.zip(gap.after.time).zip(gap.seconds);
        match gaps.as_slice() {
            [] => {}
            [gap] if timed(gap).is_some() => {
                not_shown.extend(timed(gap).map(|((from, to), duration_s)| NotShown::Gap {
                    from,
                    to,
                    duration_s,
                }));
            }
            several => not_shown.push(NotShown::Gaps { count: several.len() as u64 }),
        }
        if document.is_plan() {
            not_shown.push(NotShown::When);
        }
        not_shown
    }
}

impl VisitDocument<'_> {
    /// Whether a gap meets the time of it.
    fn spans(&self, gap: &Gap) -> bool {
        gap.before.time <= self.left.time && self.entered.time <= gap.after.time
    }
}

/// Whether a reason stands for a catch, which has its own place.
fn is_of_a_catch(reason: &OutcomeReason) -> bool {
    matches!(
        reason,
        OutcomeReason::Kept { .. }
            | OutcomeReason::Carried { .. }
            | OutcomeReason::CatchUnsettled { .. }
            | OutcomeReason::KeptUnsaid { .. }
            | OutcomeReason::PutBackWhereNothingMayBeTaken { .. }
    )
}

/// Why a verdict is as it is, as a value: `{ "code": "visit", … }`.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")]
#[non_exhaustive]
pub enum VerdictReason {
    /// What came of a visit.
    Visit {
        /// The zone.
        zone_id: String,
        /// Why.
        reason: OutcomeReason,
    },
    /// What came of a catch.
    Catch {
        /// Why.
        reason: OutcomeReason,
    },
    /// The state of the log.
    Log {
        /// That.
        why: Unsettled,
    },
    /// Never inside a loaded zone.
    NeverInside,
}

impl VerdictReason {
    /// Whether both say the same of the same term of the same zone, be it for another time.
    fn is_like(&self, other: &Self) -> bool {
        let (Self::Visit { zone_id, reason }, Self::Visit { zone_id: other_zone, reason: other_reason }) =
            (self, other)
        else {
            return self == other;
        };
        let codes =
            |because: &[ConditionReason]| because.iter().map(ConditionReason::code).collect::<Vec<_>>();
        zone_id == other_zone
            && match (term_of(reason), term_of(other_reason)) {
                (Some((condition, because)), Some((other_condition, other_because))) => {
                    reason.code() == other_reason.code()
                        && condition == other_condition
                        && codes(because) == codes(other_because)
                }
                _ => reason == other_reason,
            }
    }

    /// How long what it says lasted, in seconds.
    fn duration_s(&self) -> f64 {
        let Self::Visit { reason, .. } = self else { return 0.0 };
        let because = term_of(reason).map(|(_, because)| because).unwrap_or_default();
        because.iter().filter_map(|reason| duration_of(*reason)).fold(0.0, f64::max)
    }
}

fn term_of(reason: &OutcomeReason) -> Option<(&Condition, &[ConditionReason])> {
    if let OutcomeReason::TermKept { condition, because }
    | OutcomeReason::TermBroken { condition, because }
    | OutcomeReason::TermUnsettled { condition, because } = reason
    {
        Some((condition, because))
    } else {
        None
    }
}

fn duration_of(reason: ConditionReason) -> Option<f64> {
    if let ConditionReason::SlowerFor { duration_s }
    | ConditionReason::LongestStop { duration_s }
    | ConditionReason::CanHaveStopped { duration_s }
    | ConditionReason::CanHaveBeenSlow { duration_s }
    | ConditionReason::NotGettingOn { duration_s } = reason
    {
        Some(duration_s)
    } else if let ConditionReason::Wandered { duration_s, .. } = reason {
        duration_s
    } else {
        None
    }
}

/// Why a track settles nothing, as a value: `{ "code": "mostly-suspect", … }`.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
#[serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")]
#[non_exhaustive]
pub enum Unsettled {
    /// There is no fix.
    NoFix,
    /// Most fixes cannot be believed.
    MostlySuspect {
        /// How many are suspect.
        suspects: u64,
        /// Of so many.
        fixes: u64,
        /// The commonest kind.
        kind: Suspicion,
    },
    /// Most of it lies on land by the coasts that were given.
    MostlyOnLand {
        /// How many fixes lie there.
        fixes: u64,
        /// Of so many.
        of: u64,
    },
    /// Far from every zone, though one slip in writing positions down would explain that.
    Misread {
        /// The slip.
        slip: Slip,
        /// How far from every zone.
        distance_m: f64,
    },
    /// Perhaps inside, or perhaps not bound by the rule.
    MayHaveBeenBound {
        /// Places in `visits`, counted from 0.
        visits: Vec<usize>,
    },
    /// What may be done with a catch, or was, is not settled.
    CatchesOpen {
        /// Rows of the catch log.
        rows: Vec<u64>,
    },
    /// A zone whose line is not known may have been anywhere.
    LineUnknown {
        /// The zone.
        zone_id: String,
    },
    /// Positions could not be read, and nobody knows how long the boat was elsewhere.
    PositionsLost,
    /// The log jumps as no boat does.
    Torn,
    /// An accuracy that the log states cannot be read.
    AccuracyUnread,
    /// Rows of the catch log could not be read.
    CatchesUnread {
        /// How many.
        rows: u64,
    },
    /// A zone file was no longer valid when the log was made.
    ZoneFileExpired {
        /// Its path.
        path: String,
        /// Until when it was valid.
        until: Option<Timestamp>,
    },
}

impl Unsettled {
    /// None where the verdict settles it.
    pub(super) fn of(verdict: &Verdict<'_>, document: &TrackDocument<'_>) -> Option<Self> {
        Some(match verdict {
            Verdict::NoFix => Self::NoFix,
            Verdict::MostlySuspect(MostlySuspect { suspects, fixes, worst }) => {
                Self::MostlySuspect { suspects: *suspects, fixes: *fixes, kind: *worst }
            }
            Verdict::OnLand(found) => Self::MostlyOnLand { fixes: found.fixes, of: found.of },
            Verdict::Misread(misreading) => {
                Self::Misread { slip: misreading.slip, distance_m: misreading.distance.metres() }
            }
            Verdict::Undecided(open) if open.visits.is_empty() => {
                Self::CatchesOpen { rows: open.catches.iter().map(|caught| caught.row).collect() }
            }
            Verdict::Undecided(open) => {
                let open = &open.visits;
                let is_open = |visit: &VisitDocument<'_>| open.iter().any(|one| std::ptr::eq(*one, visit));
                let numbered = document.visits.iter().enumerate();
                let visits = numbered.filter(|(_, visit)| is_open(visit)).map(|(number, _)| number);
                Self::MayHaveBeenBound { visits: visits.collect() }
            }
            Verdict::LineUnknown(zone) => Self::LineUnknown { zone_id: zone.id.0.clone() },
            Verdict::PositionsLost => Self::PositionsLost,
            Verdict::Torn => Self::Torn,
            Verdict::AccuracyUnread => Self::AccuracyUnread,
            Verdict::CatchesUnread(rows) => Self::CatchesUnread { rows: *rows },
            Verdict::Expired(zone) => {
                Self::ZoneFileExpired { path: zone.file.path.clone(), until: zone.file.valid_until }
            }
            Verdict::Against(_) | Verdict::NothingAgainst(_) | Verdict::Never => return None,
        })
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

    /// A zone of each file that was no longer valid at the end of the log.
    pub(crate) fn expired_files(&self) -> Vec<&'a Zone> {
        let mut found: Vec<&Zone> = Vec::new();
        let Some(last) = self.input.last_time.filter(|_| !self.is_plan()) else { return found };
        for zone in self.zones().zones() {
            let is_expired = zone.file.valid_until.is_some_and(|until| last >= until);
            if is_expired && found.iter().all(|known| known.file != zone.file) {
                found.push(zone);
            }
        }
        found
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

/// Why a log settles nothing, whatever its visits say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MostlySuspect {
    /// How many are suspect.
    pub suspects: u64,
    /// Of so many.
    pub fixes: u64,
    /// The commonest kind.
    pub worst: Suspicion,
}

impl MostlySuspect {
    /// Half of the fixes or more are suspect; repeats of the same fix say nothing twice, and a receiver that repeats one
    /// place to the end of a log, or fixes without a time in its gaps, make it doubtful only where there is next to nothing
    /// else.
    pub(super) fn of(quality: &Quality) -> Option<Self> {
        let [duplicates, wrong @ .., stale, untimed] = quality.counts;
        let idle = stale + untimed;
        let fixes = quality.fixes.saturating_sub(duplicates);
        let wrong: u64 = wrong.iter().sum();
        let is_mostly =
            wrong > 0 && 2 * wrong >= fixes || wrong + idle > 0 && 10 * (wrong + idle) >= 9 * fixes;
        let counted = Suspicion::ALL.into_iter().zip(quality.counts).skip(1);
        let (worst, _) = counted.max_by_key(|(_, count)| *count)?;
        is_mostly.then_some(Self { suspects: wrong + idle, fixes, worst })
    }
}

/// The first lines of the text, each in several lengths, the longest first.
#[derive(Debug, Clone, Default)]
pub struct Headline {
    /// What it comes to.
    pub first: Vec<String>,
    /// What came of the catches, if there were any.
    pub catches: Option<String>,
    /// The same in several lengths, the longest first; empty without catches.
    pub catches_in_short: Vec<String>,
    /// When, which zone, or why.
    pub second: Vec<String>,
    /// How sure, or what would settle it.
    pub third: Third,
}

/// The third line.
#[derive(Debug, Clone)]
pub enum Third {
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

/// Silence of so many seconds may be the time between two trips, if whoever was there says so.
const LONG_SILENCE_S: f64 = 6.0 * 3600.0;

impl<'a> TrackDocument<'a> {
    /// The verdict and what happened in one sentence, as the first lines have it.
    #[must_use]
    pub fn verdict_sentence(&self) -> String {
        self.words.verdict_sentence(&self.headline)
    }

    /// Whether the time between two trips, which is not judged, lies within a visit.
    pub(crate) fn has_pause(&self, visit: &VisitDocument<'_>) -> bool {
        let is_within =
            |gap: &Gap| visit.entered.time <= gap.before.time && gap.after.time <= visit.left.time;
        let mut gaps = self.report.audit.quality.gaps.iter();
        visit.gaps > 0 && gaps.any(|gap| gap.between_trips && is_within(gap))
    }

    /// The longest gap within a visit, if it is so long.
    pub(crate) fn long_silence(&self, visit: &VisitDocument<'_>) -> Option<&'a Gap> {
        let gaps = self.report.audit.quality.gaps.iter();
        let within = gaps.filter(|gap| {
            !gap.between_trips
                && gap.open.is_none()
                && gap.before.time <= visit.left.time
                && visit.entered.time <= gap.after.time
        });
        let seconds = |gap: &Gap| gap.seconds.unwrap_or(0.0);
        let longest = within.max_by(|one, other| seconds(one).total_cmp(&seconds(other)));
        longest.filter(|gap| seconds(gap) >= LONG_SILENCE_S)
    }

    /// How positions of the log were likely meant that are far from every zone, if one slip explains that.
    pub(crate) fn misreading(&self) -> Option<Misreading> {
        self.report.audit.quality.misread.map(|misread| misread.misreading)
    }

    /// The first note of a kind.
    pub(crate) fn note(&self, code: &str) -> Option<&'a TrackNote> {
        self.notes.iter().find(|note| note.code == code)
    }

    /// Whether the log states an accuracy that says nothing, so that nobody knows how sure its places are.
    pub(crate) fn has_unread_accuracy(&self) -> bool {
        self.note("accuracy-unreadable").is_some()
    }

    /// The note that the times of the log have no offset from UTC, if they have none.
    pub(crate) fn zone_unknown(&self) -> Option<&'a TrackNote> {
        self.note("time-zone-unknown")
    }

    /// The commonest kind of thing that left a position out, and how many were lost by it.
    pub(crate) fn worst_loss(&self) -> Option<(&'static str, u64)> {
        let of_code =
            |code| self.notes.iter().filter(|note| note.code == code).map(|note| note.count).sum::<u64>();
        let lost = self.notes.iter().filter(|note| note.leaves_out);
        lost.map(|note| (note.code, of_code(note.code))).max_by_key(|(_, count)| *count)
    }

    /// Whether nothing but the doubt about the log's dates leaves it open.
    pub(crate) fn is_open_for_its_dates(&self, visits: &[&VisitDocument<'_>]) -> bool {
        self.settings.dates_doubtful && visits.iter().all(|visit| visit.certainty == Certainty::Certain)
    }
}
