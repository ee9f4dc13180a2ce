//! What the loaded rule asks of a boat in a zone, and what a log shows of it: against the rule, nothing against it, or not settled.
//!
//! Only presence and the terms of crossing are asked of positions. How a boat moved, taken for what it was moving for, never changes an
//! answer.

use jiff::Timestamp;
use strum::{IntoStaticStr, VariantNames};

use super::{CatchFinding, Certainty, ConditionFinding, ConditionReason, TrackSettings, Visit};
use crate::coded::coded;
use crate::rule::{Condition, Passage, TakeRule};
use crate::{Metres, TakeAnswer, Tristate};

/// Whether something that a log shows is against a loaded rule.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, Default, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
pub enum OutcomeAnswer {
    /// Nothing that it shows is.
    #[default]
    NothingAgainst,
    /// What it shows does not settle that.
    Undecided,
    /// Something is.
    Against,
}

/// Why an outcome is as it is.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum OutcomeReason {
    /// The rule restricts nothing.
    RestrictsNothing,
    /// The rule was not in force.
    NotInForce,
    /// Another zone's rule displaced it.
    DisplacedThen,
    /// The rule is for other ways of fishing.
    OtherAccess,
    /// The rule did not bind the boat at any moment, for several of these reasons.
    NotBound,
    /// The rule lets a boat cross.
    CrossingAllowed {
        /// The clause that says so.
        clause: Option<String>,
    },
    /// Something may be taken there, so a boat may be there.
    SomethingMayBeTaken,
    /// The rule lets no boat be there.
    CrossingForbidden {
        /// The clause that says so.
        clause: Option<String>,
    },
    /// The file does not say whether a boat may be there.
    CrossingUnsaid,
    /// The file leaves open whether a boat may be there.
    CrossingUnsettled {
        /// The clause that it names.
        clause: Option<String>,
    },
    /// The boat was perhaps never inside.
    PerhapsOutside,
    /// The boat was inside; perhaps the rule did not bind it then.
    PerhapsNotBound,
    /// Whoever fishes there as the rule lets them is not held to the terms of crossing.
    FishingIsAllowed,
    /// A term of crossing was kept, as far as a log shows.
    TermKept {
        /// The term.
        condition: Condition,
        /// What the log shows of it.
        because: Vec<ConditionReason>,
    },
    /// A term of crossing was not kept.
    TermBroken {
        /// The term.
        condition: Condition,
        /// What the log shows of it.
        because: Vec<ConditionReason>,
    },
    /// Whether a term of crossing was kept is not settled.
    TermUnsettled {
        /// The term.
        condition: Condition,
        /// What the log shows of it.
        because: Vec<ConditionReason>,
    },
    /// The boat was so long about it that a log cannot say whether it was crossing.
    PerhapsNotCrossing {
        /// What the log shows of it.
        because: ConditionReason,
    },
    /// The boat was so little inside, or so shortly, that the errors of its fixes may explain it.
    TooLittleToBeSure {
        /// How deep.
        #[cfg_attr(feature = "serde", serde(rename = "deepest_m"))]
        deepest: Metres,
        /// 95 % uncertainty of that.
        #[cfg_attr(feature = "serde", serde(rename = "uncertainty_95_m"))]
        uncertainty_95: Metres,
        /// Seconds surely inside; none where that is not known.
        duration_s: Option<f64>,
    },
    /// The boat was so long at the shore, where it may have lain on the beach, and too little off it to be surely inside.
    PerhapsAshore {
        /// Seconds at the shore.
        duration_s: f64,
    },
    /// The file of the zone was valid until then, and nobody knows whether its rules still hold.
    FileExpired {
        /// That instant.
        until: Timestamp,
    },
    /// A fish that had to go back was kept.
    Kept {
        /// The row of the catch log.
        row: u64,
        /// The fish, as written.
        asked: String,
    },
    /// A fish was carried where it may not be on board.
    Carried {
        /// The row of the catch log.
        row: u64,
        /// The fish, as written.
        asked: String,
    },
    /// Whether a fish might be kept is not settled.
    CatchUnsettled {
        /// The row of the catch log.
        row: u64,
        /// The fish, as written.
        asked: String,
    },
    /// A fish had to go back, and nothing says whether it was kept.
    KeptUnsaid {
        /// The row of the catch log.
        row: u64,
        /// The fish, as written.
        asked: String,
    },
    /// A fish was put back where nothing may be taken; whether that fishing is against the rule is not settled.
    PutBackWhereNothingMayBeTaken {
        /// The row of the catch log.
        row: u64,
        /// The fish, as written.
        asked: String,
    },
}

/// Something that bears on the rule, and that a log does not show.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum NotShown {
    /// Gear, lines and fish.
    WhatWasDone,
    /// The state that the gear has to be in.
    GearState {
        /// In the law's own words.
        words: String,
    },
    /// What else the law asks.
    Law {
        /// In its own words.
        text: String,
    },
    /// Whether a boat was anchored.
    Anchoring,
    /// Where the boat was while nothing was logged.
    Gap {
        /// From when.
        from: Timestamp,
        /// Until when.
        to: Timestamp,
        /// For how long, in seconds.
        duration_s: f64,
    },
    /// Where the boat was in several gaps of the log.
    Gaps {
        /// How many.
        count: u64,
    },
    /// Whether a term of crossing will be kept, in a plan.
    Term {
        /// The term.
        condition: Condition,
    },
    /// When a plan will be made.
    When,
}

coded!(OutcomeAnswer, OutcomeReason, NotShown);

/// What came of a visit or of a catch.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Outcome {
    /// Whether something that the log shows is against the rule.
    pub answer: OutcomeAnswer,
    /// Why, what decides first.
    pub because: Vec<OutcomeReason>,
    /// What bears on it and is not shown.
    pub not_shown: Vec<NotShown>,
}

impl Outcome {
    /// What came of a visit to a zone of which no rule is known: nobody can say.
    #[must_use]
    pub fn undecided() -> Self {
        Self { answer: OutcomeAnswer::Undecided, ..Self::default() }
    }

    /// What came of a visit to a zone of this rule, catches left out ([`Self::add_catch`]); `settings` are those of the audit.
    #[must_use]
    pub fn of(visit: &Visit, rule: &TakeRule, settings: &TrackSettings) -> Self {
        let mut outcome = Self::default();
        if rule.restricts_nothing() {
            outcome.because.push(OutcomeReason::RestrictsNothing);
            return outcome;
        }
        if visit.binds == Tristate::No {
            outcome.because.push(why_not_bound(visit, rule));
            return outcome;
        }
        outcome.not_shown.push(NotShown::WhatWasDone);
        outcome.not_shown.extend((visit.gaps > 0).then_some(NotShown::Gaps { count: visit.gaps }));
        let takeable = rule.lets_something_be_taken();
        match rule.passage.as_ref().map(|passage| (passage.allowed, passage)) {
            Some((Tristate::Yes, passage)) => {
                outcome.because.push(OutcomeReason::CrossingAllowed { clause: passage.clause.clone() });
                outcome.held_to_terms((visit, passage), takeable, settings);
            }
            Some((Tristate::No, passage)) => {
                let answer = presence(visit, takeable);
                let unsure =
                    (answer == OutcomeAnswer::Against).then(|| too_little(visit, settings)).flatten();
                if let Some(reason) = unsure {
                    outcome.add(OutcomeAnswer::Undecided, reason);
                    outcome.because.push(OutcomeReason::CrossingForbidden { clause: passage.clause.clone() });
                } else {
                    outcome.add(answer, OutcomeReason::CrossingForbidden { clause: passage.clause.clone() });
                }
                outcome.because.extend(doubts(visit));
                if takeable != Tristate::No {
                    outcome.because.push(OutcomeReason::FishingIsAllowed);
                }
            }
            Some((Tristate::Undecided, passage)) => {
                let clause = passage.clause.clone();
                outcome.add(OutcomeAnswer::Undecided, OutcomeReason::CrossingUnsettled { clause });
                outcome.because.extend(doubts(visit));
            }
            None if takeable == Tristate::Yes => outcome.because.push(OutcomeReason::SomethingMayBeTaken),
            None => {
                outcome.add(OutcomeAnswer::Undecided, OutcomeReason::CrossingUnsaid);
                outcome.because.extend(doubts(visit));
            }
        }
        outcome
    }

    fn add(&mut self, answer: OutcomeAnswer, reason: OutcomeReason) {
        self.answer = self.answer.max(answer);
        self.because.push(reason);
    }

    /// Adds what came of a fish that was caught or carried there.
    pub fn add_catch(&mut self, caught: &Self) {
        if caught.answer > self.answer {
            // what decides stands first
            self.because.splice(0..0, caught.because.iter().cloned());
        } else {
            self.because.extend(caught.because.iter().cloned());
        }
        self.answer = self.answer.max(caught.answer);
    }

    fn held_to_terms(
        &mut self,
        (visit, passage): (&Visit, &Passage),
        takeable: Tristate,
        settings: &TrackSettings,
    ) {
        let mut is_fishing = false;
        let mut terms = Vec::new();
        for ConditionFinding { condition, met, because } in visit.conditions.iter().cloned() {
            if let Condition::GearState { words } = condition {
                self.not_shown.push(NotShown::GearState { words });
                continue;
            }
            if let Condition::Law { text } = condition {
                self.not_shown.push(NotShown::Law { text });
                continue;
            }
            match met {
                Tristate::Yes => {
                    terms.push((
                        OutcomeAnswer::NothingAgainst,
                        OutcomeReason::TermKept { condition, because },
                    ));
                }
                Tristate::No => {
                    is_fishing |= takeable != Tristate::No;
                    let answer = if takeable == Tristate::No {
                        OutcomeAnswer::Against
                    } else {
                        OutcomeAnswer::Undecided
                    };
                    terms.push((answer, OutcomeReason::TermBroken { condition, because }));
                }
                Tristate::Undecided if settings.is_plan => {
                    self.not_shown.push(NotShown::Term { condition });
                }
                Tristate::Undecided => {
                    let reason = OutcomeReason::TermUnsettled { condition, because };
                    terms.push((OutcomeAnswer::Undecided, reason));
                }
            }
        }
        if takeable == Tristate::No && !passage.continuous && !settings.is_plan {
            terms.extend(not_crossing(visit, passage));
        }
        let goes_on = visit
            .conditions
            .iter()
            .any(|found| found.condition == Condition::KeepGoing && found.met == Tristate::Yes);
        if passage.anchoring == Tristate::No && !goes_on {
            self.not_shown.push(NotShown::Anchoring);
        }
        // what decides stands first
        terms.sort_by_key(|(answer, _)| std::cmp::Reverse(*answer));
        leave_open_if_unsure(&mut terms, visit, settings);
        for (answer, reason) in terms {
            self.answer = self.answer.max(answer);
            self.because.push(reason);
        }
        if is_fishing {
            self.because.push(OutcomeReason::FishingIsAllowed);
        }
        if self.answer != OutcomeAnswer::NothingAgainst {
            // that one may cross is no more than the start of it
            self.because.rotate_left(1);
            self.because.extend(doubts(visit));
        }
    }
}

impl CatchFinding {
    /// What came of this catch, wherever it was made and carried. A fish that was put back is never against a rule by itself.
    #[must_use]
    pub fn outcome(&self) -> Outcome {
        let carried = Tristate::all(self.carried.iter().map(|one| one.allowed));
        let made = match self.answer {
            TakeAnswer::Keep | TakeAnswer::Unzoned => Tristate::Yes,
            TakeAnswer::Release => Tristate::No,
            TakeAnswer::Undecided => Tristate::Undecided,
        };
        let no_take = self.made_in.iter().any(|one| one.nothing_may_be_taken);
        self.outcome_of((made, carried, self.is_lowered_by_carrying), no_take)
    }

    /// Whether it was made or carried during a visit, as far as its time tells.
    #[must_use]
    pub fn is_of(&self, visit: &Visit) -> bool {
        let within = |time: Option<Timestamp>| {
            let span = visit.entered().time.zip(visit.left().time);
            time.zip(span).is_none_or(|(time, (from, to))| from <= time && time <= to)
        };
        let number = visit.zone_number;
        self.made_in.iter().any(|one| one.zone_number == number) && within(self.entry.time)
            || self.carried.iter().any(|one| one.zone_number == number && within(one.entered))
    }

    /// What came of it in one zone, by its place among those of the set; nothing if it was neither made nor carried there.
    #[must_use]
    pub fn outcome_in(&self, zone_number: usize) -> Outcome {
        let made = self.made_in.iter().find(|one| one.zone_number == zone_number);
        let carried = self.carried.iter().find(|one| one.zone_number == zone_number);
        let allowed = (
            made.map_or(Tristate::Yes, |one| one.allowed),
            carried.map_or(Tristate::Yes, |one| one.allowed),
            made.is_none(),
        );
        self.outcome_of(allowed, made.is_some_and(|one| one.nothing_may_be_taken))
    }

    fn outcome_of(&self, (made, carried, is_carried): (Tristate, Tristate, bool), no_take: bool) -> Outcome {
        let mut outcome = Outcome::default();
        let (row, asked) = (self.entry.row, self.entry.asked.clone());
        let both = made.and(carried);
        match (self.entry.kept, both) {
            (Some(false), _) if no_take => {
                let reason = OutcomeReason::PutBackWhereNothingMayBeTaken { row, asked };
                outcome.add(OutcomeAnswer::Undecided, reason);
            }
            (Some(false), _) | (_, Tristate::Yes) => {}
            (Some(true), Tristate::No) => {
                let is_carried = is_carried || made != Tristate::No;
                let reason = if is_carried {
                    OutcomeReason::Carried { row, asked }
                } else {
                    OutcomeReason::Kept { row, asked }
                };
                outcome.add(OutcomeAnswer::Against, reason);
            }
            (None, Tristate::No) => {
                outcome.add(OutcomeAnswer::Undecided, OutcomeReason::KeptUnsaid { row, asked });
            }
            (_, Tristate::Undecided) => {
                outcome.add(OutcomeAnswer::Undecided, OutcomeReason::CatchUnsettled { row, asked });
            }
        }
        outcome
    }
}

/// Whether being there is against a rule that lets no boat cross.
fn presence(visit: &Visit, takeable: Tristate) -> OutcomeAnswer {
    if takeable == Tristate::No && visit.binds == Tristate::Yes {
        OutcomeAnswer::Against
    } else {
        OutcomeAnswer::Undecided
    }
}

/// Why it is not settled that a boat was crossing at all, where it has not to keep going and nothing may be taken.
fn not_crossing(visit: &Visit, passage: &Passage) -> Option<(OutcomeAnswer, OutcomeReason)> {
    let bound_s = visit.binds_possible_s.or(visit.possible_s);
    let because = visit.course.not_crossing(bound_s, passage.max_stop_min.is_some())?;
    Some((OutcomeAnswer::Undecided, OutcomeReason::PerhapsNotCrossing { because }))
}

/// Leaves terms open that were not kept, where it is not sure that the boat was inside.
fn leave_open_if_unsure(
    terms: &mut Vec<(OutcomeAnswer, OutcomeReason)>,
    visit: &Visit,
    settings: &TrackSettings,
) {
    let is_broken = terms.iter().any(|(answer, _)| *answer == OutcomeAnswer::Against);
    let Some(reason) = is_broken.then(|| too_little(visit, settings)).flatten() else { return };
    for (answer, _) in terms.iter_mut() {
        *answer = (*answer).min(OutcomeAnswer::Undecided);
    }
    terms.insert(0, (OutcomeAnswer::Undecided, reason));
}

/// Why it is not sure that the boat was inside, however sure single fixes are; a plan has no errors.
fn too_little(visit: &Visit, settings: &TrackSettings) -> Option<OutcomeReason> {
    // what was spent at the shore may have been spent on it
    let at_shore_s = visit.course.at_shore_s;
    let afloat = |seconds: Option<f64>| seconds.map(|seconds| (seconds - at_shore_s).max(0.0));
    let is_sure = settings.is_plan || {
        let is_whole_log = !visit.course.came_in && !visit.course.went_out;
        visit.deep.are_proof((afloat(visit.certain_s), afloat(visit.possible_s)), is_whole_log)
    };
    if !is_sure && at_shore_s > 0.0 && visit.certain_s.is_some_and(|certain_s| at_shore_s > certain_s / 2.0) {
        return Some(OutcomeReason::PerhapsAshore { duration_s: at_shore_s });
    }
    (!is_sure).then(|| OutcomeReason::TooLittleToBeSure {
        deepest: visit.deepest.unwrap_or(Metres::ZERO),
        uncertainty_95: visit.deepest_uncertainty_95,
        duration_s: visit.certain_s,
    })
}

fn doubts(visit: &Visit) -> Option<OutcomeReason> {
    match (visit.binds, visit.certainty) {
        (Tristate::Yes, _) => None,
        (_, Certainty::Possible) => Some(OutcomeReason::PerhapsOutside),
        (_, Certainty::Certain) => Some(OutcomeReason::PerhapsNotBound),
    }
}

fn why_not_bound(visit: &Visit, rule: &TakeRule) -> OutcomeReason {
    if visit.in_force == Tristate::No {
        OutcomeReason::NotInForce
    } else if !visit.displaced_by.is_empty() {
        OutcomeReason::DisplacedThen
    } else if !rule.binds.is_empty() {
        OutcomeReason::OtherAccess
    } else {
        OutcomeReason::NotBound
    }
}
