//! That there is a sample of every kind.

use std::collections::BTreeSet;

use strum::VariantNames;

use super::answers::{assumptions, missing_ways_out, reasons, remedies, warnings};
use super::rules::{conditions, in_force_reasons, rule_reasons, rule_remedies, rule_summaries, time_reasons};
use super::tracks::{
    bag_unknowns, certainties, condition_reasons, directions, evidences, missing_positions, motions,
    not_shown, open_ends, outcome_answers, outcome_reasons, track_reasons, track_remedies,
};
use crate::assess::{Assumption, NoWayOut, Warning};
use crate::rule::{Clash, Condition, LimitsOf, TakeSummary, TimeReason};
use crate::track::{
    BagUnknown, Certainty, ConditionReason, Direction, Evidence, Motion, NoPosition, NotShown, OpenEnd,
    OutcomeAnswer, OutcomeReason, Suspicion,
};
use crate::{assess, binding, rule, track};

/// That the samples are of every kind that there is.
fn all_kinds<T>(samples: &[T], code: impl Fn(&T) -> &'static str, kinds: &[&'static str]) {
    let sampled: BTreeSet<&str> = samples.iter().map(code).collect();
    assert_eq!(sampled, kinds.iter().copied().collect::<BTreeSet<&str>>());
}

#[test]
fn there_is_a_sample_of_every_kind() {
    all_kinds(&rule_reasons(), rule::Reason::code, rule::Reason::VARIANTS);
    all_kinds(&conditions(), Condition::code, Condition::VARIANTS);
    all_kinds(&rule_remedies(), rule::Remedy::code, rule::Remedy::VARIANTS);
    all_kinds(&time_reasons(), TimeReason::code, TimeReason::VARIANTS);
    all_kinds(&in_force_reasons(), binding::Reason::code, binding::Reason::VARIANTS);
    all_kinds(&reasons(), assess::Reason::code, assess::Reason::VARIANTS);
    all_kinds(&remedies(), assess::Remedy::code, assess::Remedy::VARIANTS);
    all_kinds(&warnings(), Warning::code, Warning::VARIANTS);
    all_kinds(&assumptions(), Assumption::code, Assumption::VARIANTS);
    all_kinds(&missing_ways_out(), NoWayOut::code, NoWayOut::VARIANTS);
    all_kinds(&rule_summaries(), |rule| (&rule.take).into(), TakeSummary::VARIANTS);
    let clash = |reason: &rule::Reason| {
        let rule::Reason::Clash { clash, between } = reason else { return None };
        Some((*clash, between.clone()))
    };
    let clashes: Vec<(Clash, LimitsOf)> = rule_reasons().iter().filter_map(clash).collect();
    all_kinds(&clashes, |(clash, _)| clash.into(), Clash::VARIANTS);
    all_kinds(&clashes, |(_, between)| between.into(), LimitsOf::VARIANTS);
}

#[test]
fn there_is_a_sample_of_every_kind_that_a_track_has() {
    all_kinds(&motions(), Motion::code, Motion::VARIANTS);
    all_kinds(&condition_reasons(), ConditionReason::code, ConditionReason::VARIANTS);
    all_kinds(&outcome_answers(), OutcomeAnswer::code, OutcomeAnswer::VARIANTS);
    all_kinds(&outcome_reasons(), OutcomeReason::code, OutcomeReason::VARIANTS);
    all_kinds(&not_shown(), NotShown::code, NotShown::VARIANTS);
    all_kinds(&missing_positions(), NoPosition::code, NoPosition::VARIANTS);
    all_kinds(&bag_unknowns(), BagUnknown::code, BagUnknown::VARIANTS);
    all_kinds(&track_reasons(), track::Reason::code, track::Reason::VARIANTS);
    all_kinds(&track_remedies(), track::Remedy::code, track::Remedy::VARIANTS);
    all_kinds(&evidences(), Evidence::code, Evidence::VARIANTS);
    all_kinds(&certainties(), Certainty::code, Certainty::VARIANTS);
    all_kinds(&directions(), Direction::code, Direction::VARIANTS);
    all_kinds(&open_ends(), OpenEnd::code, OpenEnd::VARIANTS);
    all_kinds(&Suspicion::ALL, Suspicion::code, Suspicion::VARIANTS);
}

#[cfg(feature = "transit")]
#[test]
fn there_is_a_sample_of_every_reason_about_marks() {
    use super::marks::{calibration_reasons, clears_reasons, pair_reasons, transit_problems};
    use crate::transit::{
        CalibrationReason, ClearsReason, PairReason, ProblemCode, ProblemReason, UnusedFix,
    };
    all_kinds(&transit_problems(), ProblemReason::code, ProblemReason::VARIANTS);
    all_kinds(&transit_problems(), |problem| problem.problem_code().into(), ProblemCode::VARIANTS);
    all_kinds(&clears_reasons(), ClearsReason::code, ClearsReason::VARIANTS);
    all_kinds(&calibration_reasons(), CalibrationReason::code, CalibrationReason::VARIANTS);
    all_kinds(&pair_reasons(), PairReason::code, PairReason::VARIANTS);
    let why = |reason: &CalibrationReason| {
        let CalibrationReason::NotUsed { unused } = reason else { return None };
        Some(unused.why)
    };
    let unused: Vec<UnusedFix> = calibration_reasons().iter().filter_map(why).collect();
    all_kinds(&unused, UnusedFix::code, UnusedFix::VARIANTS);
}
