//! What a law can say, and why a rule answers or is in force as it does.

use jiff::civil::{Weekday, date, time};

use super::parts::{bag, bait, gear, lines, midnight, no_time, season, sets, size, texts};
use crate::rule::{
    Access, Allowance, Bait, Clash, Condition, Hours, LimitsOf, Measure, MissingTime, PermitSummary,
    RuleSummary, Size, SunEvent, SunHours, SunMiss, SunPlace, SunSpan, SunTime, TakeSummary, TimeReason,
    When,
};
use crate::zone::Status;
use crate::{Position, Tristate, binding, rule};

/// Rules in short, of every kind.
#[must_use]
pub fn rule_summaries() -> Vec<RuleSummary> {
    let takes = vec![
        TakeSummary::Nothing,
        TakeSummary::Anything,
        TakeSummary::AnythingWithinLimits,
        TakeSummary::AnythingBut { except: sets() },
        TakeSummary::Only { permits: vec![PermitSummary { fish: Some(sets()), at_set_times: true }] },
    ];
    let with = |take| RuleSummary { take, gear: vec![vec![gear("hand net")]], binds: vec![Access::Boat] };
    takes.into_iter().map(with).collect()
}

/// Reasons of rules, of every kind.
#[must_use]
#[expect(clippy::too_many_lines, reason = "one of each kind")]
pub fn rule_reasons() -> Vec<rule::Reason> {
    use rule::Reason;
    let fish = || Some("sprat".to_owned());
    let inner = || Box::new(Reason::NothingMayBeTaken);
    let clashes = [Clash::Sizes, Clash::Gear, Clash::Bait, Clash::BaitWords, Clash::TooMany];
    let between = [
        LimitsOf::OnePermission,
        LimitsOf::PermissionAndLimit,
        LimitsOf::PermissionAndPossibleLimit,
        LimitsOf::FishOfOneName,
        LimitsOf::Zones(texts(&["Sallow Cove", "Gannet Bank"])),
    ];
    let clash = |(clash, between): (Clash, LimitsOf)| Reason::Clash { clash, between };
    let mut reasons: Vec<Reason> = clashes.into_iter().zip(between).map(clash).collect();
    reasons.extend([
        Reason::NothingMayBeTaken,
        Reason::NothingWhateverItIs,
        Reason::AnythingWhateverItIs,
        Reason::NameUnknown,
        Reason::BindsOnly { access: vec![Access::Shore, Access::Diving] },
        Reason::BindsOnlyAccessUnsaid { access: vec![Access::Boat] },
        Reason::TakeUnrestricted,
        Reason::AmongExceptions { fish: fish(), except: sets() },
        Reason::AnythingBut { except: sets() },
        Reason::ExceptionsForbidden { except: sets() },
        Reason::MayBeTaken { fish: fish() },
        Reason::Time { reason: TimeReason::ListedDay { date: date(2026, 6, 3) } },
        Reason::PermissionNotInForce { fish: fish(), why: no_time() },
        Reason::NotAmongPermitted { fish: None, rule: rule_summaries().remove(0) },
        Reason::MembershipUnsettled { fish: None, set: sets() },
        Reason::OnlySomeAmong {
            fish: Some("tuna".to_owned()),
            set: sets(),
            with: texts(&["albacore"]),
            without: texts(&[]),
        },
        Reason::HoldingUnsettled { why: no_time() },
        Reason::TheseMayBeKept { fish: texts(&["cod"]) },
        Reason::TheseMayNotBeKept { fish: texts(&["potato cod"]) },
        Reason::TheseAreUnsettled { fish: texts(&["cod"]) },
        Reason::LimitMayHold,
        Reason::IfLimitHolds { reason: inner() },
        Reason::ByClause { reason: inner(), clause: "clause 4(2)".to_owned() },
        Reason::GearUnknown { given: gear("rod") },
        Reason::GearAllowed { given: gear("hand net") },
        Reason::GearPerhapsAllowed { given: gear("hook and lime"), allowed: gear("hook and line") },
        Reason::GearNotAllowed { given: gear("pot"), allowed: vec![gear("hook and line"), gear("hand net")] },
        Reason::GearForbidden { given: gear("net") },
        Reason::GearPerhapsForbidden { given: gear("gill net"), forbidden: gear("net") },
        Reason::GearNotForbidden { given: gear("pot"), forbidden: gear("net") },
        Reason::BaitKept { given: "mussel".to_owned(), rule: bait() },
        Reason::BaitBroken { given: "sand eel".to_owned(), rule: bait() },
        Reason::BaitUnsettled { given: "worm".to_owned(), rule: bait() },
        Reason::SizeCannotBeMeant {
            size: Size { min_cm: Some(-1.0), max_cm: None, measure: Measure::Unstated },
        },
        Reason::LengthInvalid { length_cm: -1.0 },
        Reason::LengthOutside { length_cm: 19.0, size: size() },
        Reason::LengthWithin { length_cm: 21.5, size: size() },
        Reason::NoneMayBeKept,
        Reason::TooMany { count: 11, bag: bag() },
        Reason::CountWithin { count: 3, bag: bag() },
        Reason::AboardAllowed,
        Reason::AboardForbidden,
        Reason::AboardWhileCrossing,
        Reason::AboardWhileCrossingForbidden,
        Reason::AboardWhileCrossingUnsaid,
        Reason::AboardAsTake,
        Reason::AboardUnsaid,
        Reason::AboardUnsaidButTakeable,
        Reason::OfZone { zone: "Gannet Bank".to_owned(), reason: inner() },
        Reason::ZoneMayApply { zone: "Sallow Cove".to_owned(), because: vec![Reason::NothingMayBeTaken] },
    ]);
    reasons
}

/// Conditions of every kind.
#[must_use]
pub fn conditions() -> Vec<Condition> {
    let inner = || Box::new(Condition::Bag { bag: bag() });
    let way = Allowance { bags: vec![bag()], sizes: vec![size()], ..Allowance::default() };
    vec![
        Condition::OnlyWith { gear: vec![lines()] },
        Condition::With { gear: vec![lines()] },
        Condition::NotWith { gear: gear("gill net") },
        Condition::Bait { rule: Bait::Not(texts(&["sand eel"])) },
        Condition::Size { size: size() },
        Condition::Bag { bag: bag() },
        Condition::MeasuredAs { measure: Measure::ForkLength },
        Condition::OnTheLimit { length_cm: 20.0 },
        Condition::Law { text: "return by noon".to_owned() },
        Condition::Either {
            ways: vec![
                vec![Condition::OnlyWith { gear: vec![lines()] }],
                vec![Condition::Bag { bag: bag() }],
            ],
        },
        Condition::AllZonesTogether { ways: vec![way] },
        Condition::OfZone { zone: "Gannet Bank".to_owned(), condition: inner() },
        Condition::OfFish { fish: "cod".to_owned(), condition: inner() },
        Condition::Crossing { allowed: Tristate::Yes, clause: Some("clause 9".to_owned()) },
        Condition::CrossingUnsaid,
        Condition::GearState { words: "lines inboard and hooks bare".to_owned() },
        Condition::KeepGoing,
        Condition::MinSpeed { speed_kn: 3.0 },
        Condition::MaxStop { stop_min: 2.5 },
        Condition::Anchoring { allowed: Tristate::No },
        Condition::NoAnchoringOnTheWay,
    ]
}

/// Remedies of rules, of every kind.
#[must_use]
pub fn rule_remedies() -> Vec<rule::Remedy> {
    use rule::Remedy;
    vec![
        Remedy::FindOutWhetherItHolds { why: no_time() },
        Remedy::FindOutWhetherLimitHolds { clause: Some("clause 4(2)".to_owned()) },
        Remedy::SayWhichFish { fish: texts(&["cod", "potato cod"]) },
        Remedy::SayWhichOfThatName,
        Remedy::UseAListedName,
        Remedy::DidYouMean { names: texts(&["sprat"]) },
        Remedy::SayAccess,
        Remedy::SayWhichGear { named: vec![gear("hook and line")] },
        Remedy::SayWhetherGearMeans { given: gear("gill net"), named: gear("net") },
        Remedy::SayWhetherBaitMeans { given: "worm".to_owned(), named: texts(&["lugworm", "ragworm"]) },
        Remedy::SayWhichBait,
        Remedy::GiveLength,
        Remedy::ReadTheRule,
        Remedy::AskHowToCross,
        Remedy::AskWhetherToCross,
        Remedy::AskAboutFishAboard,
        Remedy::SettleWhichApply,
        Remedy::SettleWhetherZoneApplies { zone: "Sallow Cove".to_owned() },
        Remedy::OfZone { zone: "Sallow Cove".to_owned(), remedy: Box::new(Remedy::SayAccess) },
    ]
}

/// Reasons of days and hours, of every kind.
#[must_use]
pub fn time_reasons() -> Vec<TimeReason> {
    let date = date(2026, 6, 3);
    let (time, hours) =
        (time(12, 30, 0, 0), Hours { from: time(22, 0, 0, 0), to: jiff::civil::Time::midnight() });
    let set = season;
    let noon = date.at(12, 0, 0, 0);
    let sun = |misses| {
        let position = Position::from_degrees(45.125, -30.11).ok()?;
        let hours = SunHours {
            from: SunTime { event: SunEvent::Sunset, offset_minutes: -30 },
            to: SunTime { event: SunEvent::Sunrise, offset_minutes: 0 },
            at: SunPlace { name: "Marrowick Chapel".to_owned(), position },
        };
        let span = Some(SunSpan { from: noon, until: noon });
        Some(TimeReason::Sun { at: noon, within: Tristate::Yes, hours, span, misses })
    };
    let misses = vec![
        SunMiss::DoesNotSet,
        SunMiss::DoesNotRise,
        SunMiss::TwilightDoesNotEnd,
        SunMiss::TwilightDoesNotBegin,
    ];
    let mut reasons = vec![
        TimeReason::Unknowable { words: "when the quota is taken".to_owned() },
        TimeReason::CannotBeMeant { fault: "list of days is empty; name at least one".to_owned() },
        TimeReason::NoTime { missing: MissingTime::LogDoubted },
        TimeReason::ListedDay { date },
        TimeReason::UnlistedDay { date },
        TimeReason::CountedWeekday { date },
        TimeReason::OtherWeekday { date, set: When::Weekdays(vec![Weekday::Saturday]) },
        TimeReason::CountedDay { date, set: set() },
        TimeReason::UncountedDay { date, set: set() },
        TimeReason::DayWithin { date, set: set() },
        TimeReason::DayOutside { date, set: set() },
        TimeReason::EndDay { date, set: set() },
        TimeReason::HourWithin { time, hours },
        TimeReason::HourOutside { time, hours },
        TimeReason::SunOutOfReach { year: 9000 },
    ];
    reasons.extend([sun(Vec::new()), sun(misses)].into_iter().flatten());
    reasons
}

/// Reasons for being in force, of every kind.
#[must_use]
pub fn in_force_reasons() -> Vec<binding::Reason> {
    use binding::Reason;
    let mut reasons: Vec<Reason> = [Status::Proposed, Status::NotCommenced, Status::Repealed]
        .into_iter()
        .map(|status| Reason::NotLaw { status })
        .collect();
    reasons.extend([
        Reason::BeforeEdition { from: midnight() },
        Reason::AfterEdition { until: midnight() },
        Reason::NoTime { missing: MissingTime::Doubted },
        Reason::Season { reason: TimeReason::DayWithin { date: date(2026, 6, 3), set: season() } },
        Reason::InForceUntil { until: midnight() },
        Reason::NotInForceUntil { until: midnight() },
        Reason::NotInForceAgain { until: midnight() },
        Reason::OpenUntil { until: midnight() },
        Reason::SeasonsNotFollowed,
    ]);
    reasons
}
