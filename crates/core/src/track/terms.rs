//! The terms on which a zone may be crossed, and what a track says of each.

use jiff::Timestamp;

use super::pace::{SLOWNESS_SHOWN_S, SLOWNESS_THAT_COUNTS_S, STOP_THAT_COUNTS_S, Slownesses};
use super::slowness::Slowness;
use super::{Certainty, ConditionFinding, ConditionReason, RuledTime, TrackSettings, Visit};
use crate::Tristate;
use crate::rule::{Condition, Passage};

/// What is known of a visit beside the visit itself.
#[derive(Debug)]
pub(super) struct Known {
    pub(super) slow: Slownesses,
    /// Whether not all of it was logged.
    pub(super) had_gap: bool,
}

/// Holds a visit to each term of a passage. A term is asked only of the time in which the rule bound the boat; it is broken only where
/// the rule surely did and the boat was surely inside.
pub(super) fn held_to(
    passage: Option<&Passage>,
    visit: &Visit,
    known: Known,
    settings: &TrackSettings,
) -> Vec<ConditionFinding> {
    let Some(passage) = passage else { return Vec::new() };
    let Known { slow, had_gap } = known;
    let stop = slow.stop;
    let times = Times {
        visit,
        had_gap,
        had_pause: slow.had_pause,
        is_plan: settings.is_plan,
        perhaps: joined(&visit.ruled, |part| part.binds != Tristate::No),
        surely: joined(&visit.ruled, |part| part.binds == Tristate::Yes),
    };
    let mut findings = Vec::new();
    if let Some(speed_kn) = passage.min_speed_kn {
        findings.push(times.speed(Condition::MinSpeed { speed_kn }, slow.slow.as_ref()));
    }
    if let Some(stop_min) = passage.max_stop_min {
        findings.push(times.stop(Condition::MaxStop { stop_min }, stop.as_ref(), 60.0 * stop_min));
    }
    if passage.continuous {
        // a longest stop that is stated governs stops
        let stops = passage
            .max_stop_min
            .is_none()
            .then(|| times.stop(Condition::KeepGoing, stop.as_ref(), STOP_THAT_COUNTS_S));
        findings.push(times.keeping_going(stops));
    }
    let not_shown = |condition: Condition| ConditionFinding {
        condition,
        met: Tristate::Undecided,
        because: vec![ConditionReason::NotShownByTrack],
    };
    let gear = passage.gear_state.iter().map(|words| Condition::GearState { words: words.clone() });
    let others = passage.conditions.iter().map(|text| Condition::Law { text: text.clone() });
    findings.extend(gear.chain(others).map(not_shown));
    findings
}

/// Times without a break through which an answer holds; none where a part has no times.
fn joined(parts: &[RuledTime], holds: impl Fn(&RuledTime) -> bool) -> Option<Vec<(Timestamp, Timestamp)>> {
    let held = parts.iter().filter(|part| holds(part)).map(|part| part.from.zip(part.to));
    let mut held: Vec<(Timestamp, Timestamp)> = held.collect::<Option<_>>()?;
    // what is known of suspect fixes stands before the rest
    held.sort_unstable();
    let mut times: Vec<(Timestamp, Timestamp)> = Vec::new();
    for (from, to) in held {
        match times.last_mut() {
            Some((_, last)) if *last >= from => *last = (*last).max(to),
            _ => times.push((from, to)),
        }
    }
    Some(times)
}

/// The times of a visit in which the rule may have bound the boat, and surely did.
struct Times<'v> {
    visit: &'v Visit,
    had_gap: bool,
    /// Whether the time between two trips was left out.
    had_pause: bool,
    is_plan: bool,
    perhaps: Option<Vec<(Timestamp, Timestamp)>>,
    surely: Option<Vec<(Timestamp, Timestamp)>>,
}

/// How long a boat can have been slow at most, and surely was.
struct Figures {
    most_s: f64,
    /// While the rule perhaps bound it.
    sure_s: f64,
    /// While the rule surely bound it.
    bound_s: f64,
    /// Whether it was slow, or can have been, while it may have lain ashore.
    perhaps_ashore: bool,
    /// How long it surely was slow then.
    ashore_s: f64,
    /// How long it was slow at a stretch while it was launched or landed.
    at_the_shore_s: f64,
}

/// Spans of time.
type Spans<'s> = &'s [(Timestamp, Timestamp)];

impl Times<'_> {
    fn stop(&self, condition: Condition, slow: Option<&Slowness>, limit_s: f64) -> ConditionFinding {
        let figures = self.times(slow).map(|(slow, perhaps, surely)| Figures {
            most_s: slow.longest_possible_s(perhaps),
            sure_s: slow.longest_sure_s(perhaps),
            bound_s: slow.longest_sure_s(surely),
            perhaps_ashore: slow.is_perhaps_ashore(),
            ashore_s: slow.ashore_s(),
            at_the_shore_s: slow.at_the_shore_s,
        });
        let seen = |duration_s| ConditionReason::LongestStop { duration_s };
        let most = |duration_s| ConditionReason::CanHaveStopped { duration_s };
        self.finding(condition, (figures, limit_s, limit_s), (seen, most))
    }

    /// Keeping on from one side to the other: no stop that counts, and a way that plainly leads through.
    fn keeping_going(&self, stops: Option<ConditionFinding>) -> ConditionFinding {
        let (met, mut because) =
            stops.map_or((Tristate::Yes, Vec::new()), |found| (found.met, found.because));
        if self.is_plan {
            let because = vec![ConditionReason::NotShownByPlan];
            return ConditionFinding { condition: Condition::KeepGoing, met: Tristate::Undecided, because };
        }
        let bound_s = self.visit.binds_possible_s.or(self.visit.possible_s);
        let not_through = self.visit.course.not_through(bound_s);
        let met = if let (Some(why), true) = (not_through, met != Tristate::No) {
            because.insert(0, why);
            Tristate::Undecided
        } else {
            met
        };
        if met == Tristate::Yes && because.is_empty() {
            because.push(ConditionReason::WentThrough { way: self.visit.course.way });
        }
        ConditionFinding { condition: Condition::KeepGoing, met, because }
    }

    fn speed(&self, condition: Condition, slow: Option<&Slowness>) -> ConditionFinding {
        let figures = self.times(slow).map(|(slow, perhaps, surely)| Figures {
            most_s: slow.longest_possible_s(perhaps),
            sure_s: slow.all_sure_s(perhaps),
            bound_s: slow.all_sure_s(surely),
            perhaps_ashore: slow.is_perhaps_ashore(),
            ashore_s: slow.ashore_s(),
            at_the_shore_s: slow.at_the_shore_s,
        });
        let seen = |duration_s| ConditionReason::SlowerFor { duration_s };
        let most = |duration_s| ConditionReason::CanHaveBeenSlow { duration_s };
        self.finding(condition, (figures, SLOWNESS_THAT_COUNTS_S, SLOWNESS_SHOWN_S), (seen, most))
    }

    fn times<'s>(&'s self, slow: Option<&'s Slowness>) -> Option<(&'s Slowness, Spans<'s>, Spans<'s>)> {
        let slow = slow.filter(|slow| slow.is_known())?;
        Some((slow, self.perhaps.as_deref()?, self.surely.as_deref()?))
    }

    fn finding(
        &self,
        condition: Condition,
        (figures, broken_s, kept_s): (Option<Figures>, f64, f64),
        (seen, most): (impl Fn(f64) -> ConditionReason, impl Fn(f64) -> ConditionReason),
    ) -> ConditionFinding {
        let launched_s = figures.as_ref().map_or(0.0, |figures| figures.at_the_shore_s);
        let (met, mut because) = match figures {
            None if self.is_plan => (Tristate::Undecided, vec![ConditionReason::NotShownByPlan]),
            None => (Tristate::Undecided, vec![ConditionReason::NotAllLogged]),
            Some(Figures { bound_s, .. }) if bound_s > broken_s => (Tristate::No, vec![seen(bound_s)]),
            Some(Figures { most_s, sure_s, ashore_s, .. })
                if most_s <= kept_s && sure_s.max(ashore_s) <= broken_s =>
            {
                let mut because = vec![most(most_s)];
                because.extend(self.had_pause.then_some(ConditionReason::NotAllLogged));
                (Tristate::Yes, because)
            }
            Some(Figures { most_s, sure_s, perhaps_ashore, .. }) => {
                let mut because =
                    if sure_s > broken_s { vec![seen(sure_s), self.unsure()] } else { vec![most(most_s)] };
                because.extend(self.had_gap.then_some(ConditionReason::NotAllLogged));
                because.extend(perhaps_ashore.then_some(ConditionReason::PerhapsAshore));
                (Tristate::Undecided, because)
            }
        };
        let is_worth_saying = met != Tristate::No && launched_s > kept_s;
        because.extend(is_worth_saying.then_some(ConditionReason::AtTheShore { duration_s: launched_s }));
        ConditionFinding { condition, met, because }
    }

    /// Why a term that the boat did not keep is not surely broken.
    fn unsure(&self) -> ConditionReason {
        if self.visit.certainty == Certainty::Possible {
            ConditionReason::InsideNotSettled
        } else {
            ConditionReason::BindingNotSettled
        }
    }
}
