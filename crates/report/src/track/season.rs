//! Many tracks taken together.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BTreeSet};

use takeline::Metres;
use takeline::track::{Certainty, OutcomeAnswer};

use super::TrackDocument;
use crate::lines::Page;
use crate::words::Words;

/// Many tracks taken together: for each zone how near they came and how often they went in.
///
/// The order in which tracks are added makes no difference.
#[derive(Debug, Clone, Default)]
pub struct Season {
    tracks: u64,
    /// Tracks of which nothing is settled, whatever was found.
    unsettled: u64,
    plans: u64,
    /// How many logs there were, those that could not be read among them; 0 if nobody said.
    logs: u64,
    zones: BTreeMap<(String, String), ZoneTally>,
    /// How many have nothing against a loaded rule, plans among them.
    clear: u64,
    /// How many have something against one.
    against: u64,
    /// The others, with their first lines: what is against a rule, then what is not settled.
    stand_out: BTreeSet<(Reverse<OutcomeAnswer>, String, String)>,
}

/// What many tracks did at one zone.
#[derive(Debug, Clone, Copy, Default)]
#[non_exhaustive]
pub struct ZoneTally {
    /// Certain visits.
    pub entered: u64,
    /// Possible visits.
    pub possible: u64,
    /// The nearest that one came without a visit, and the uncertainty of that, 95 %.
    pub closest: Option<(Metres, Metres)>,
}

impl Season {
    /// Adds one track; a plan is none.
    pub fn add(&mut self, document: &TrackDocument<'_>) {
        if document.verdict == OutcomeAnswer::NothingAgainst {
            self.clear += 1;
        } else {
            let first = document.headline.first.first().cloned().unwrap_or_default();
            self.against += u64::from(document.verdict == OutcomeAnswer::Against);
            let first = if document.is_plan() && !first.contains("plan") {
                format!("{first} (a plan)")
            } else {
                first
            };
            self.stand_out.insert((Reverse(document.verdict), document.input.path.to_owned(), first));
        }
        if document.is_plan() {
            self.plans += 1;
            return;
        }
        self.tracks += 1;
        self.unsettled += u64::from(!document.undecided_because.is_empty());
        for visit in document.visits.iter().filter(|visit| visit.may_restrict()) {
            let tally = self.tally(visit.zone_name, visit.zone_id);
            match visit.certainty {
                Certainty::Certain => tally.entered += 1,
                Certainty::Possible => tally.possible += 1,
            }
        }
        for near in &document.closest_approach {
            let tally = self.tally(near.zone_name, near.zone_id);
            let nearer = tally.closest.is_none_or(|(closest, _)| near.signed_distance < closest);
            if nearer {
                tally.closest = Some((near.signed_distance, near.uncertainty_95));
            }
        }
    }

    /// Says how many logs there were, so that those which are missing are told.
    #[must_use]
    pub fn of_logs(self, logs: u64) -> Self {
        Self { logs, ..self }
    }

    /// How many logs could not be read, so that they are not in the figures.
    fn unread(&self) -> u64 {
        self.logs.saturating_sub(self.tracks + self.plans)
    }

    fn tally(&mut self, name: &str, id: &str) -> &mut ZoneTally {
        self.zones.entry((name.to_owned(), id.to_owned())).or_default()
    }

    /// Returns one line for each zone, nicest first: never entered before entered, wide berths before narrow ones; then, last on the
    /// screen, what stands out, with something against a rule before what is not settled, and how many logs there were of each kind.
    #[must_use]
    pub fn text(&self, width: usize, words: &dyn Words) -> String {
        let mut page = Page::new(width);
        let logs = self.logs.max(self.tracks + self.plans);
        page.heading(&format!("ALL {logs} LOGS"));
        for reservation in words.season_reservations(self.unread(), self.plans, self.unsettled) {
            page.paragraph("  ", &reservation);
        }
        let mut zones: Vec<_> = self.zones.iter().collect();
        let berth = |tally: &ZoneTally| tally.closest.map_or(0.0, |(closest, _)| closest.metres());
        zones.sort_by(|(_, one), (_, other)| {
            let visits = |tally: &ZoneTally| (tally.entered, tally.possible);
            visits(one).cmp(&visits(other)).then(berth(other).total_cmp(&berth(one)))
        });
        for ((name, _), tally) in zones {
            page.field(name, &words.season_zone(tally, self.tracks));
        }
        // of no track nothing is known, least of all that it kept clear
        if self.zones.is_empty() && self.tracks > 0 {
            page.paragraph("  ", &words.season_without_zones());
        }
        page.heading("WHAT STANDS OUT");
        for (_, path, first) in &self.stand_out {
            page.field(path, first);
        }
        let open = logs.saturating_sub(self.against + self.clear);
        page.paragraph("  ", &words.season_counts(logs, [self.against, open, self.clear]));
        page.finish()
    }
}
