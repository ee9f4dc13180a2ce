//! What a track says about the conditions of crossing a zone, and what it cannot say.

use super::movement::{Moved, duration_words};
use super::{ConditionFinding, TrackSettings};
use crate::Tristate;
use crate::rule::Passage;

/// A stop of a boat that should go on without stopping, in seconds, that no wave or paddle stroke explains (common
/// practice, no source).
const STOP_THAT_COUNTS_S: f64 = 60.0;
/// Time below a least speed, in seconds, that no wave or paddle stroke explains (common practice, no source).
const SLOWNESS_THAT_COUNTS_S: f64 = 30.0;

/// Tests each condition of a passage; the gear is named as what a track cannot tell.
///
/// Where the boat was only perhaps inside, nothing is called broken: the condition may not have bound it at all.
pub(super) fn tested(
    passage: Option<&Passage>,
    moved: &Moved,
    (certain, had_gap): (bool, bool),
) -> Vec<ConditionFinding> {
    let Some(passage) = passage else { return Vec::new() };
    let mut findings = Vec::new();
    let longest_stop_s =
        moved.stops(TrackSettings::STOP_BELOW_KN).iter().map(|stop| stop.seconds).fold(0.0, f64::max);
    let mut test = |condition: String, broken: bool, because: String| {
        let met = if broken && certain {
            Tristate::No
        } else if broken || had_gap || !moved.is_known() {
            Tristate::Undecided
        } else {
            Tristate::Yes
        };
        let unseen = match met {
            Tristate::Undecided if broken => "; whether the boat was inside is not settled",
            Tristate::Undecided => "; not all of the way was logged",
            Tristate::Yes | Tristate::No => "",
        };
        findings.push(ConditionFinding { condition, met, because: format!("{because}{unseen}") });
    };
    if let Some(knots) = passage.min_speed_kn {
        let slow_s = moved.seconds_below(knots);
        let because = format!("slower than that for {}", duration_words(slow_s));
        test(format!("not slower than {knots} kn"), slow_s > SLOWNESS_THAT_COUNTS_S, because);
    }
    let stopped = format!("longest stop {}", duration_words(longest_stop_s));
    if let Some(minutes) = passage.max_stop_min {
        test(format!("no stop longer than {minutes} min"), longest_stop_s > 60.0 * minutes, stopped.clone());
    }
    if passage.continuous {
        let stops = longest_stop_s > STOP_THAT_COUNTS_S;
        test("no stopping or anchoring on the way".to_owned(), stops, stopped);
    }
    let untold = |condition: String| ConditionFinding {
        condition,
        met: Tristate::Undecided,
        because: "a track cannot tell".to_owned(),
    };
    findings.extend(passage.gear_state.iter().map(|words| untold(format!("state of the gear: “{words}”"))));
    findings.extend(passage.conditions.iter().map(|words| untold(words.clone())));
    findings
}
