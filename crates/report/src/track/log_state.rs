//! What the state of the log itself does to the answer.

use takeline::track::{Gap, Quality, Suspicion};
use takeline::zone::Misreading;

use super::{TrackDocument, TrackNote, VisitDocument};

/// Why a log settles nothing, whatever its visits say.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct MostlySuspect {
    pub(crate) suspects: u64,
    pub(crate) fixes: u64,
    /// The commonest kind.
    pub(crate) worst: Suspicion,
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

/// Silence of so many seconds may be the time between two trips, if whoever was there says so.
const LONG_SILENCE_S: f64 = 6.0 * 3600.0;

impl<'a> TrackDocument<'a> {
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
        use takeline::track::Certainty::Certain;
        self.settings.dates_doubtful && visits.iter().all(|visit| visit.certainty == Certain)
    }
}
