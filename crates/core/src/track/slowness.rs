//! When a boat can have been slow and when it surely was, asked of the times in which a rule bound it.

use jiff::Timestamp;

use super::pace::Span;

/// Times that overlap in each of which the boat can have been slow, none longer than this.
#[derive(Debug, Clone, Copy)]
pub(super) struct Chain {
    pub(super) span: Span,
    pub(super) longest_s: f64,
}

/// When a boat can have been slow, and when it surely was.
#[derive(Debug)]
pub(super) struct Slowness {
    /// None where that is not known.
    pub(super) began: Option<Timestamp>,
    /// The longest of the times that are too short to matter, in seconds.
    pub(super) short_s: f64,
    pub(super) chains: Vec<Chain>,
    /// Nothing that may have been ashore.
    pub(super) sure: Vec<Span>,
    /// Whether it was slow, or can have been for so long that it matters, while it may have been ashore.
    pub(super) perhaps_ashore: bool,
    /// How long it was slow without a break, where it is taken to have been launched or landed, in seconds.
    pub(super) at_the_shore_s: f64,
    /// How long it surely was slow, ashore or not, while it may have been ashore, in seconds.
    pub(super) ashore_s: f64,
}

impl Slowness {
    pub(super) fn is_known(&self) -> bool {
        self.began.is_some()
    }

    fn spans(&self, times: &[(Timestamp, Timestamp)]) -> Vec<Span> {
        let Some(began) = self.began else { return Vec::new() };
        let seconds = |time: Timestamp| time.duration_since(began).as_secs_f64();
        times.iter().map(|(from, to)| Span { from_s: seconds(*from), to_s: seconds(*to) }).collect()
    }

    /// The longest that it can have been slow without a break in one of these times, in seconds. Of times that are too short to matter
    /// the longest counts, whenever that was.
    pub(super) fn longest_possible_s(&self, times: &[(Timestamp, Timestamp)]) -> f64 {
        let spans = self.spans(times);
        let over = |chain: &Chain| {
            let longest = spans.iter().map(|span| chain.span.common_s(*span)).fold(0.0, f64::max);
            longest.min(chain.longest_s)
        };
        let kept = self.chains.iter().map(over).fold(0.0, f64::max);
        kept.max(self.short_s)
    }

    /// The longest that it surely was, without a break, in one of these times, in seconds.
    pub(super) fn longest_sure_s(&self, times: &[(Timestamp, Timestamp)]) -> f64 {
        self.sure_s(times).fold(0.0, f64::max)
    }

    /// How long it surely was in these times, taken together, in seconds.
    pub(super) fn all_sure_s(&self, times: &[(Timestamp, Timestamp)]) -> f64 {
        // the sum of nothing is −0
        self.sure_s(times).sum::<f64>() + 0.0
    }

    /// Whether it was slow while it may have been ashore.
    pub(super) fn is_perhaps_ashore(&self) -> bool {
        self.perhaps_ashore
    }

    pub(super) fn ashore_s(&self) -> f64 {
        self.ashore_s
    }

    fn sure_s(&self, times: &[(Timestamp, Timestamp)]) -> impl Iterator<Item = f64> {
        let spans = self.spans(times);
        self.sure.iter().flat_map(move |sure| {
            let common: Vec<f64> = spans.iter().map(|span| sure.common_s(*span)).collect();
            common
        })
    }
}
