//! What came of visits, of catches and of the whole trip, in English: what a rule asks, what the log shows of it, and what it does not
//! show.

use takeline::rule::Condition;
use takeline::track::{ConditionReason, NotShown, OutcomeAnswer, OutcomeReason};

use crate::figures;
use crate::track::times::{minute, plain_span};
use crate::track::{TrackDocument, Unsettled, VerdictReason};
use crate::words::{Words, joined};

pub(crate) const fn answer(answer: OutcomeAnswer) -> &'static str {
    match answer {
        OutcomeAnswer::NothingAgainst => "nothing against the rule",
        OutcomeAnswer::Against => "against the rule",
        OutcomeAnswer::Undecided => "not settled",
    }
}

#[expect(clippy::too_many_lines, reason = "one arm for each reason")]
pub(crate) fn reason(words: &(impl Words + ?Sized), reason: &OutcomeReason) -> String {
    match reason {
        OutcomeReason::RestrictsNothing => "its rule restricts nothing".into(),
        OutcomeReason::NotInForce => "its rule was not in force then".into(),
        OutcomeReason::DisplacedThen => "another zone's rule displaced it then".into(),
        OutcomeReason::OtherAccess => "its rule is for other ways of fishing".into(),
        OutcomeReason::NotBound => "its rule did not bind the boat at any moment".into(),
        OutcomeReason::CrossingAllowed { clause } => format!("a boat may cross{}", cited(clause.as_ref())),
        OutcomeReason::SomethingMayBeTaken => "something may be taken there, so a boat may be there".into(),
        OutcomeReason::CrossingForbidden { clause } => {
            format!("no boat may be there, not even to cross{}", cited(clause.as_ref()))
        }
        OutcomeReason::CrossingUnsaid => {
            "the zone file does not say whether a boat may be there: ask, and add \"crossing\" to the zone"
                .into()
        }
        OutcomeReason::CrossingUnsettled { clause } => {
            format!("the zone file leaves it open whether a boat may be there{}", cited(clause.as_ref()))
        }
        OutcomeReason::PerhapsOutside => "the boat may never have been inside".into(),
        OutcomeReason::PerhapsNotBound => "the rule may not have bound the boat then".into(),
        OutcomeReason::FishingIsAllowed => {
            "something may be taken there, and a boat that fishes is not crossing".into()
        }
        OutcomeReason::TermKept { condition, because } => {
            format!("kept: {}", term(words, condition, because))
        }
        OutcomeReason::TermBroken { condition, because } => {
            format!("not kept: {}", term(words, condition, because))
        }
        OutcomeReason::TermUnsettled { condition, because } => {
            format!("not settled: {}", term(words, condition, because))
        }
        OutcomeReason::PerhapsNotCrossing { because } => words.condition_reason(*because),
        OutcomeReason::TooLittleToBeSure { deepest, uncertainty_95, duration_s } => {
            let depth = figures::distance_with_doubt(words.units(), *deepest, *uncertainty_95);
            let time =
                duration_s.map_or_else(String::new, |duration_s| format!(" for {}", plain_span(duration_s)));
            format!("{} inside{time}: too little to be sure, the fixes may be off", figures::plain(&depth))
        }
        OutcomeReason::PerhapsAshore { duration_s } => {
            format!("{} at the shore: it may have lain on the beach, not afloat", plain_span(*duration_s))
        }
        OutcomeReason::FileExpired { until } => {
            format!("the zone file was valid until {}: get the current one", minute(*until))
        }
        OutcomeReason::Kept { row, asked } => {
            format!("{} was kept and had to go back", fish(*row, asked))
        }
        OutcomeReason::Carried { row, asked } => {
            format!("{} was carried where it may not be on board", fish(*row, asked))
        }
        OutcomeReason::CatchUnsettled { row, asked } => {
            format!("whether {} might be kept is not settled", fish(*row, asked))
        }
        OutcomeReason::KeptUnsaid { row, asked } => {
            format!("{} had to go back; the row does not say whether it was kept", fish(*row, asked))
        }
        OutcomeReason::PutBackWhereNothingMayBeTaken { row, asked } => format!(
            "{} was put back where nothing may be taken; whether fishing there and putting the fish back is against the rule \
             is not settled",
            fish(*row, asked)
        ),
        other => other.code().to_owned(),
    }
}

fn cited(clause: Option<&String>) -> String {
    clause.map_or_else(String::new, |clause| format!(" ({clause})"))
}

fn fish(row: u64, asked: &str) -> String {
    let asked = if asked.is_empty() { "a fish" } else { asked };
    format!("{asked} (line {row})")
}

fn term(words: &(impl Words + ?Sized), condition: &Condition, because: &[ConditionReason]) -> String {
    let why = joined(because, "; ", |reason| words.condition_reason(*reason));
    format!("{} ({why})", words.crossing_condition(condition))
}

pub(crate) fn not_shown(words: &(impl Words + ?Sized), not_shown: &NotShown) -> String {
    match not_shown {
        NotShown::WhatWasDone => "gear, lines and fish".into(),
        NotShown::GearState { words } => format!("whether your gear was: “{words}”"),
        NotShown::Law { text } => format!("“{text}”"),
        NotShown::Anchoring => "whether the boat anchored".into(),
        NotShown::Gap { from, duration_s, .. } => {
            format!("where the boat was in the {} gap from {}", plain_span(*duration_s), minute(*from))
        }
        NotShown::Gaps { count: 1 } => "where the boat was in a gap of the log".into(),
        NotShown::Gaps { count } => format!("where the boat was in {count} gaps of the log"),
        NotShown::Term { condition } => words.crossing_condition(condition),
        NotShown::When => "when you will go, and whether you do".into(),
        other => other.code().to_owned(),
    }
}

pub(crate) fn verdict_reason(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    reason: &VerdictReason,
) -> String {
    match reason {
        VerdictReason::Visit { zone_id, reason } => {
            let visit = document.visits.iter().find(|visit| visit.zone_id == zone_id);
            let name = visit.map_or(zone_id.as_str(), |visit| visit.zone_name);
            format!("{name}: {}", words.outcome_reason(reason))
        }
        VerdictReason::Catch { reason } => words.outcome_reason(reason),
        VerdictReason::Log { why } => log(why).to_owned(),
        VerdictReason::NeverInside => "never inside a loaded zone".to_owned(),
    }
}

/// What the state of a log leaves open.
const fn log(why: &Unsettled) -> &'static str {
    match why {
        Unsettled::NoFix => "there is no fix in the log",
        Unsettled::MostlySuspect { .. } => "most fixes of the log cannot be right",
        Unsettled::MostlyOnLand { .. } => "most fixes of the log lie on land",
        Unsettled::Misread { .. } => "positions of the log were probably not meant as they are written",
        Unsettled::MayHaveBeenBound { .. } => "a visit is not settled",
        Unsettled::CatchesOpen { .. } => "a catch is not settled",
        Unsettled::LineUnknown { .. } => "it is not known where a zone is",
        Unsettled::PositionsLost => "positions of the log could not be read",
        Unsettled::Torn => "the log jumps as no boat does",
        Unsettled::CatchesUnread { .. } => "rows of the catch log could not be read",
        Unsettled::ZoneFileExpired { .. } => "a zone file was no longer valid when the log was made",
        Unsettled::AccuracyUnread => "the log states an accuracy that cannot be read",
    }
}
