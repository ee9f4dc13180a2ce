use std::collections::BTreeMap;

use takeline::Metres;
use takeline::track::Certainty;

use super::TrackDocument;
use crate::figures;
use crate::lines::Page;

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
    zones: BTreeMap<(String, String), Tally>,
}

#[derive(Debug, Clone, Copy, Default)]
struct Tally {
    entered: u64,
    possible: u64,
    closest: Option<(Metres, Metres)>,
}

impl Season {
    /// Adds one track; a plan is none.
    pub fn add(&mut self, document: &TrackDocument<'_>) {
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

    /// What is not in the figures, or not to be relied on.
    fn reservations(&self) -> Vec<String> {
        let unread = self.logs.saturating_sub(self.tracks + self.plans);
        let told = [
            (unread, "unreadable, and not counted"),
            (self.plans, "of routes only, and not counted"),
            (self.unsettled, "not settled: that no visit was found there says nothing"),
        ];
        let counted = told.into_iter().filter(|(count, _)| *count > 0);
        let sentence = |(count, what)| match count {
            1 => format!("1 log is {what}"),
            _ => format!("{count} logs are {what}"),
        };
        counted.map(sentence).collect()
    }

    fn tally(&mut self, name: &str, id: &str) -> &mut Tally {
        self.zones.entry((name.to_owned(), id.to_owned())).or_default()
    }

    /// Returns one line for each zone, nicest first: never entered before entered, wide berths before narrow ones.
    #[must_use]
    pub fn text(&self, width: usize) -> String {
        let mut page = Page::new(width);
        page.heading(&format!("ALL {} TRACKS", self.tracks));
        for reservation in self.reservations() {
            page.paragraph("  ", &reservation);
        }
        let mut zones: Vec<_> = self.zones.iter().collect();
        let berth = |tally: &Tally| tally.closest.map_or(0.0, |(closest, _)| closest.metres());
        zones.sort_by(|(_, one), (_, other)| {
            let visits = |tally: &Tally| (tally.entered, tally.possible);
            visits(one).cmp(&visits(other)).then(berth(other).total_cmp(&berth(one)))
        });
        for ((name, _), tally) in zones {
            page.field(name, &self.sentence(tally));
        }
        // of no track nothing is known, least of all that it kept clear
        if self.zones.is_empty() && self.tracks > 0 {
            page.paragraph("  ", "no loaded zone within 20 km of any of them");
        }
        page.finish()
    }

    fn sentence(&self, tally: &Tally) -> String {
        let closest = tally.closest.filter(|_| tally.entered + tally.possible == 0);
        let mut parts: Vec<String> = closest
            .map(|(closest, doubt)| format!("closest {}", figures::distance_with_doubt(closest, doubt)))
            .into_iter()
            .collect();
        let visits = if tally.entered == 1 { "visit" } else { "visits" };
        parts.push(format!("{} certain {visits} in {} tracks", tally.entered, self.tracks));
        if tally.possible > 0 {
            parts.push(format!("{} possible, not settled", tally.possible));
        }
        parts.join("; ")
    }
}
