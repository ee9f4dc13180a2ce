//! What an audit of a track and its catches can say.

use jiff::Timestamp;
use jiff::civil::date;

use super::parts::{bag, midnight};
use crate::rule::Condition;
use crate::track::{
    BagNote, BagUnknown, Certainty, ConditionReason, Direction, Evidence, Motion, NoPosition, NotShown,
    OpenEnd, OutcomeAnswer, OutcomeReason,
};
use crate::zone::ZoneId;
use crate::{Metres, assess, binding, rule, track};

/// Motions of a boat, of every kind.
#[must_use]
pub fn motions() -> Vec<Motion> {
    let (duration_s, top_speed_kn) = (480.0, 12.0);
    vec![
        Motion::Slow { below_kn: 1.0, duration_s },
        Motion::Steady { speed_kn: 2.6, duration_s },
        Motion::LooksLikeDriftOrRest { below_kn: 1.0, least_s: 300.0 },
        Motion::NoPlaceBeforeFirstFix { duration_s, top_speed_kn },
        Motion::NoPlaceAfterLastFix { duration_s, top_speed_kn },
        Motion::RepeatsOnePlace { duration_s },
    ]
}

/// What a track says of conditions of crossing, of every kind.
#[must_use]
pub fn condition_reasons() -> Vec<ConditionReason> {
    vec![
        ConditionReason::SlowerFor { duration_s: 45.0 },
        ConditionReason::LongestStop { duration_s: 95.0 },
        ConditionReason::CanHaveStopped { duration_s: 31.0 },
        ConditionReason::CanHaveBeenSlow { duration_s: 90.0 },
        ConditionReason::InsideNotSettled,
        ConditionReason::NotAllLogged,
        ConditionReason::BindingNotSettled,
        ConditionReason::PerhapsAshore,
        ConditionReason::AtTheShore { duration_s: 1_200.0 },
        ConditionReason::Wandered { way: Metres::computed(23_000.0), duration_s: Some(21_600.0) },
        ConditionReason::OverOneSide { apart: Metres::computed(45.0) },
        ConditionReason::NotGettingOn { duration_s: 1_800.0 },
        ConditionReason::LogWithinZone,
        ConditionReason::WentThrough { way: Metres::computed(1_200.0) },
        ConditionReason::NotShownByTrack,
        ConditionReason::NotShownByPlan,
    ]
}

/// Answers about visits, catches and trips.
#[must_use]
pub fn outcome_answers() -> Vec<OutcomeAnswer> {
    vec![OutcomeAnswer::NothingAgainst, OutcomeAnswer::Undecided, OutcomeAnswer::Against]
}

/// Why outcomes of visits and catches are as they are, of every kind.
#[must_use]
pub fn outcome_reasons() -> Vec<OutcomeReason> {
    let clause = || Some("clause 4".to_owned());
    let asked = || "pollack".to_owned();
    let condition = || Condition::MaxStop { stop_min: 10.0 };
    let row = 3;
    vec![
        OutcomeReason::RestrictsNothing,
        OutcomeReason::NotInForce,
        OutcomeReason::DisplacedThen,
        OutcomeReason::OtherAccess,
        OutcomeReason::NotBound,
        OutcomeReason::PerhapsAshore { duration_s: 1_200.0 },
        OutcomeReason::CrossingAllowed { clause: clause() },
        OutcomeReason::SomethingMayBeTaken,
        OutcomeReason::CrossingForbidden { clause: clause() },
        OutcomeReason::CrossingUnsaid,
        OutcomeReason::CrossingUnsettled { clause: clause() },
        OutcomeReason::PerhapsOutside,
        OutcomeReason::PerhapsNotBound,
        OutcomeReason::FishingIsAllowed,
        OutcomeReason::TermKept {
            condition: condition(),
            because: vec![ConditionReason::CanHaveStopped { duration_s: 31.0 }],
        },
        OutcomeReason::TermBroken {
            condition: condition(),
            because: vec![ConditionReason::LongestStop { duration_s: 840.0 }],
        },
        OutcomeReason::TermUnsettled {
            condition: condition(),
            because: vec![
                ConditionReason::CanHaveStopped { duration_s: 720.0 },
                ConditionReason::NotAllLogged,
            ],
        },
        OutcomeReason::PerhapsNotCrossing { because: ConditionReason::NotGettingOn { duration_s: 1_800.0 } },
        OutcomeReason::TooLittleToBeSure {
            deepest: Metres::computed(11.0),
            uncertainty_95: Metres::computed(10.0),
            duration_s: Some(3.0),
        },
        OutcomeReason::FileExpired { until: Timestamp::UNIX_EPOCH },
        OutcomeReason::Kept { row, asked: asked() },
        OutcomeReason::Carried { row, asked: asked() },
        OutcomeReason::CatchUnsettled { row, asked: asked() },
        OutcomeReason::KeptUnsaid { row, asked: asked() },
        OutcomeReason::PutBackWhereNothingMayBeTaken { row, asked: asked() },
    ]
}

/// What a log does not show, of every kind.
#[must_use]
pub fn not_shown() -> Vec<NotShown> {
    let (from, to) = (Timestamp::UNIX_EPOCH, midnight().timestamp());
    vec![
        NotShown::WhatWasDone,
        NotShown::GearState { words: "rods unstrung, hooks off the line".to_owned() },
        NotShown::Law { text: "landing on the beach counts as crossing".to_owned() },
        NotShown::Anchoring,
        NotShown::Gap { from, to, duration_s: 720.0 },
        NotShown::Gaps { count: 3 },
        NotShown::Term { condition: Condition::MaxStop { stop_min: 10.0 } },
        NotShown::When,
    ]
}

/// Reasons why a track tells no position of a catch, of every kind.
#[must_use]
pub fn missing_positions() -> Vec<NoPosition> {
    let (from, to) = (Timestamp::UNIX_EPOCH, midnight().timestamp());
    vec![
        NoPosition::OnlySuspectFixes,
        NoPosition::FixesTooFarApart,
        NoPosition::NothingLogged { gap_s: 1_200.0, from, to, within_s: 60.0 },
        NoPosition::TrackEnded { before_s: 90.0 },
        NoPosition::TrackBegins { after_s: 90.0 },
        NoPosition::NoTimedFix,
    ]
}

/// What a log leaves open about a bag, of every kind.
#[must_use]
pub fn bag_unknowns() -> Vec<BagUnknown> {
    vec![
        BagUnknown::Day,
        BagUnknown::Person,
        BagUnknown::OthersOfTheDay,
        BagUnknown::OthersOfTheTrip,
        BagUnknown::StillAboard,
    ]
}

/// Reasons of visits and catches, of every kind.
#[must_use]
pub fn track_reasons() -> Vec<track::Reason> {
    use track::Reason;
    let zone = || "Sallow Cove".to_owned();
    let because = || vec![Reason::from(rule::Reason::AboardForbidden)];
    let entered =
        |entered, certainty| Reason::CarriedInto { zone: zone(), entered, certainty, because: because() };
    let note = BagNote {
        zone: ZoneId("gannet-bank".to_owned()),
        zone_number: 2,
        zone_name: "Gannet Bank".to_owned(),
        clause: Some("clause 10(1)".to_owned()),
        bag: bag(),
        person: None,
        day: Some(date(2026, 6, 3)),
        first: 9,
        last: 11,
        at_most: 11,
        not_known: bag_unknowns(),
    };
    let by = || assess::Displacing { zone: zone(), clause: "clause 6".to_owned() };
    let mut reasons: Vec<Reason> =
        missing_positions().into_iter().map(|why| Reason::NoPosition { why }).collect();
    reasons.extend([
        Reason::from(rule::Reason::NothingMayBeTaken),
        Reason::from(binding::Reason::SeasonsNotFollowed),
        Reason::from(assess::Reason::NoZoneApplies),
        Reason::RuleChanged,
        Reason::Displaced { by: by(), is_sure: true },
        Reason::Displaced { by: by(), is_sure: false },
        entered(Some(midnight().timestamp()), Certainty::Certain),
        entered(None, Certainty::Possible),
        Reason::CountsAgainstBag { note },
        Reason::RowAtNullIsland,
        Reason::ContradictsTrack { reach_m: 1_240.0, top_speed_kn: 12.0 },
        Reason::NeitherTimeNorPosition,
        Reason::LengthNearLimit { length_cm: 41.9, error_cm: 0.3 },
        Reason::BindingUnsettled { zone: zone() },
        Reason::SeveralBoats,
        Reason::KeptUnsaid,
        Reason::BeforeOrAfterUnknown,
        Reason::PerhapsNeverInside,
    ]);
    reasons
}

/// Remedies of catches, of every kind.
#[must_use]
pub fn track_remedies() -> Vec<track::Remedy> {
    use track::Remedy;
    vec![
        Remedy::from(rule::Remedy::GiveLength),
        Remedy::from(assess::Remedy::GetAFix),
        Remedy::MendTheRow,
        Remedy::SayWhenOrWhere,
        Remedy::SayWhere,
        Remedy::MeasureAgain,
        Remedy::SayWhatWasKept,
        Remedy::SayWhetherKept,
        Remedy::GiveLogOfThatBoat,
    ]
}

/// What a visit can be known from.
#[must_use]
pub fn evidences() -> Vec<Evidence> {
    vec![Evidence::Gap, Evidence::BetweenFixes, Evidence::Fixes]
}

/// How sure it can be that the boat was inside.
#[must_use]
pub fn certainties() -> Vec<Certainty> {
    vec![Certainty::Possible, Certainty::Certain]
}

/// Ways over a line.
#[must_use]
pub fn directions() -> Vec<Direction> {
    vec![Direction::In, Direction::Out]
}

/// Ends of a gap that nobody knows, of every kind.
#[must_use]
pub fn open_ends() -> Vec<OpenEnd> {
    vec![OpenEnd::BeforeTheFirst, OpenEnd::AfterTheLast, OpenEnd::Repeats]
}
