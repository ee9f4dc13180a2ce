//! One of each kind of reason, condition, remedy and warning, so that it can be shown that all of them have words.

use jiff::civil::{Weekday, date, time};
use jiff::{Timestamp, ZonedDateTime};

use crate::assess::{Assumption, Warning};
use crate::rule::{
    Access, Allowance, AnnualWindow, Bag, BagPer, Bait, Clash, Condition, Gear, GearAllowance, Hours,
    LimitsOf, Measure, MissingTime, PermitSummary, RuleSummary, SetNames, Size, SunEvent, SunHours, SunMiss,
    SunPlace, SunSpan, SunTime, TakeSummary, TimeReason, When, WindowEnds,
};
use crate::track::{
    BagNote, BagUnknown, Certainty, ConditionReason, Direction, Evidence, Motion, NoPosition, OpenEnd,
};
use crate::zone::{Slip, Status, ZoneId};
#[cfg(feature = "transit")]
use crate::{Metres, TrueBearing, transit};
use crate::{Position, Tristate, WaterStatus, assess, binding, rule, track};

fn texts(texts: &[&str]) -> Vec<String> {
    texts.iter().map(|text| (*text).to_owned()).collect()
}

fn gear(kind: &str) -> Gear {
    Gear(kind.to_owned())
}

fn lines() -> GearAllowance {
    GearAllowance { kind: gear("hook and line"), max_lines: Some(1), max_hooks: Some(2), note: None }
}

fn sets() -> SetNames {
    SetNames { listed: texts(&["sprat", "sand smelt"]), except: texts(&["bass"]) }
}

fn size() -> Size {
    Size { min_cm: Some(20.0), max_cm: Some(30.0), measure: Measure::TotalLength }
}

fn bag() -> Bag {
    Bag { count: 10, per: BagPer::PersonDay }
}

fn bait() -> Bait {
    Bait::Only(texts(&["mussel", "lugworm"]))
}

fn season() -> When {
    When::Yearly(AnnualWindow { from: (5, 1), to: (8, 31), ends: WindowEnds::Included })
}

fn no_time() -> Vec<TimeReason> {
    vec![TimeReason::NoTime { missing: MissingTime::NotGiven }]
}

fn midnight() -> ZonedDateTime {
    let local = date(2026, 10, 1).at(0, 0, 0, 0);
    jiff::tz::TimeZone::UTC.to_timestamp(local).unwrap_or_default().to_zoned_datetime(jiff::tz::TimeZone::UTC)
}

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

/// Reasons of answers about a fix, of every kind.
#[must_use]
pub fn reasons() -> Vec<assess::Reason> {
    use assess::Reason;
    let zone = || "Sallow Cove".to_owned();
    let zones = || texts(&["Sallow Cove", "Gannet Bank"]);
    let why = || "see plan MP2, not supplied".to_owned();
    vec![
        Reason::NoZoneApplies,
        Reason::ZoneCloses { zone: zone() },
        Reason::ZoneRestricts { zone: zone(), rule: rule_summaries().remove(4) },
        Reason::ZoneRestrictsNothing { zone: zone() },
        Reason::PlaceUnknown { zone: zone(), why: why() },
        Reason::PlaceUnknownNear { zone: zone(), why: why(), least_m: 40.0 },
        Reason::LineUnknown { zone: zone() },
        Reason::LineWithinDoubt { zone: zone(), signed_distance_m: -4.0, uncertainty_95_m: 9.2 },
        Reason::WithinStandoff { zone: zone(), signed_distance_m: -4.0, uncertainty_95_m: 9.2 },
        Reason::WithinStandoff { zone: zone(), signed_distance_m: 4.0, uncertainty_95_m: 9.2 },
        Reason::InForceUnsettled {
            zone: zone(),
            why: vec![binding::Reason::NoTime { missing: MissingTime::NotGiven }],
        },
        Reason::AccessUnsaid { zone: zone() },
        Reason::DisplacementUnsettled { zone: zone() },
        Reason::ClosedWhichever { zones: zones() },
        Reason::NothingWhichever { zones: zones() },
        Reason::NotKeptWhichever { zones: zones() },
        Reason::FarFromEveryZone { distance_m: 4_611_300.0, slip: Slip::Exchanged },
        Reason::NullIsland,
        Reason::NothingLoaded,
        Reason::Rule { reason: rule::Reason::NothingMayBeTaken },
    ]
}

/// Remedies of answers about a fix, of every kind.
#[must_use]
pub fn remedies() -> Vec<assess::Remedy> {
    use assess::Remedy;
    let zone = || "Sallow Cove".to_owned();
    let slips =
        [Slip::LongitudeSign, Slip::LatitudeSign, Slip::BothSigns, Slip::Exchanged, Slip::ExchangedAndSign];
    let meant = |slip| Remedy::WasItMeant { latitude_deg: 45.11, longitude_deg: -30.12, slip, zone: zone() };
    let places = [WaterStatus::Closed, WaterStatus::Restricted, WaterStatus::Unzoned, WaterStatus::Undecided];
    let way = |water_there| Remedy::Move { distance_m: 14.0, bearing_true_deg: 225.0, water_there };
    let mut remedies: Vec<Remedy> = slips.into_iter().map(meant).chain(places.into_iter().map(way)).collect();
    remedies.extend([
        Remedy::BetterFix { uncertainty_95_m: 4.0 },
        Remedy::MoreDigits,
        Remedy::GetAFix,
        Remedy::LoadZones,
        Remedy::GetTheLine { zone: zone() },
        Remedy::FindOutTheDatum { zone: zone(), uncertainty_95_m: 200.0 },
        Remedy::FindOutHowEdgesRun { zone: zone(), apart_m: 48.9 },
        Remedy::AskWhetherInForce { zone: zone() },
        Remedy::SayTheTime { missing: MissingTime::NotGiven },
        Remedy::SayAccess,
        Remedy::Rule { remedy: rule::Remedy::GiveLength },
    ]);
    remedies
}

/// Warnings of every kind.
#[must_use]
pub fn warnings() -> Vec<Warning> {
    let zone = || "Sallow Cove".to_owned();
    vec![
        Warning::NoZones,
        Warning::ZeroAccuracy { uncertainty_95_m: 10.0, is_assumed: true },
        Warning::EditionExpired {
            path: "marrowick.json".to_owned(),
            edition: Some("2026-1".to_owned()),
            until: midnight(),
        },
        Warning::MayChangeByNotice { zone: zone() },
        Warning::DatumUnstated { zone: zone() },
        Warning::NoTimeGiven,
        Warning::FarFromEveryZone { distance_m: 250_000.0 },
        Warning::FewDigits { north_south_m: 560.0, east_west_m: 394.0, is_counted: true },
        Warning::FewDigits { north_south_m: 56.0, east_west_m: 39.4, is_counted: false },
        Warning::WeekCountDoubted { time: midnight().timestamp(), later: midnight().timestamp() },
        Warning::YearDoubted { time: midnight().timestamp() },
    ]
}

/// Assumptions of every kind.
#[must_use]
pub fn assumptions() -> Vec<Assumption> {
    vec![Assumption::FixAccuracy { uncertainty_95_m: 10.0 }, Assumption::Datum { uncertainty_95_m: 200.0 }]
}

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
        ConditionReason::InsideNotSettled,
        ConditionReason::NotAllLogged,
        ConditionReason::BindingNotSettled,
        ConditionReason::NotShownByTrack,
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

/// What can be wrong with marks, of every kind.
#[cfg(feature = "transit")]
#[must_use]
#[expect(clippy::too_many_lines, reason = "one of each kind")]
pub fn transit_problems() -> Vec<transit::ProblemReason> {
    use transit::{CarriedBy, LineName, PlaceOfUse, ProblemReason, Side};
    let (front, rear) = (|| "Day Beacon".to_owned(), || "Lone Pine".to_owned());
    let (mark, zone) = (rear, || "Sallow Cove".to_owned());
    let time = midnight().timestamp();
    let bearing = TrueBearing::wrapping(268.0);
    let outside = crate::magnetic::OutsideMagneticModel { time, model: "WMM2025" };
    let (separation_m, far_m, line_uncertainty_95_m) = (1495.0, 3000.0, 27.4);
    let parts_m = || vec![[200.0, 910.0], [4000.0, 5000.0]];
    let mut problems = Vec::new();
    for place in [PlaceOfUse::WorkingArea, PlaceOfUse::Course] {
        problems.push(ProblemReason::MarksSwapped { place, front: front(), rear: rear() });
        problems.push(ProblemReason::BetweenMarks { place, front: front(), rear: rear() });
    }
    for carried_by in [CarriedBy::Drift, CarriedBy::Heading] {
        problems.push(ProblemReason::ObliqueToDrift { carried_by, bearing, angle_deg: 12.0 });
    }
    for whole_stretch in [true, false] {
        problems.push(ProblemReason::FrontBeforeRear { front: front(), rear: rear(), whole_stretch });
    }
    for comment in [None, Some("a tree can fall".to_owned())] {
        problems.push(ProblemReason::MarkMovable { mark: mark(), comment });
    }
    for told_apart in [true, false] {
        problems.push(ProblemReason::TwoPositionsFit { distance_m: 1200.0, bearing, told_apart });
    }
    for farthest in [
        LineName::Transit { front: front(), rear: rear() },
        LineName::Bearing { mark: mark() },
        LineName::HorizontalAngle { left: front(), right: rear() },
    ] {
        problems.push(ProblemReason::LinesDisagree { farthest, residual: 3.2 });
    }
    problems.extend([
        ProblemReason::PerhapsSwapped { front: front(), rear: rear() },
        ProblemReason::MarksNeverOpen { separation_m, far_m },
        ProblemReason::PlacesTooUncertain { separation_m, far_m, line_uncertainty_95_m },
        ProblemReason::MarksTooClose { separation_m, far_m, line_uncertainty_95_m },
        ProblemReason::PairTooUncertain {
            front: front(),
            rear: rear(),
            separation_m,
            far_m,
            line_uncertainty_95_m,
        },
        ProblemReason::FrontHidesRear { front: front(), rear: rear() },
        ProblemReason::FrontHidesRearInPart { front: front(), rear: rear(), parts_m: parts_m() },
        ProblemReason::BelowHorizon { mark: mark(), eye_height_m: 0.9 },
        ProblemReason::BelowHorizonInPart { mark: mark(), eye_height_m: 0.9, parts_m: parts_m() },
        ProblemReason::BelowHorizonAtFarEnd { mark: mark(), distance_m: 12_400.0 },
        ProblemReason::HeightNotGiven { mark: mark() },
        ProblemReason::PairHeightNotGiven { mark: mark() },
        ProblemReason::CrossesObliquely { zone: zone(), angle_deg: 20.0, distance_from_front_m: 640.0 },
        ProblemReason::RunsObliquely {
            zone: zone(),
            angle_deg: 35.0,
            near_signed_distance_m: 300.0,
            far_signed_distance_m: -4.0,
        },
        ProblemReason::SunInTheEyes { time, bearing, altitude_deg: 8.0 },
        ProblemReason::SunBehind { time, bearing, altitude_deg: 8.0 },
        ProblemReason::Dark { time },
        ProblemReason::MarkNeverConfirmed { mark: mark() },
        ProblemReason::MarkLongUnconfirmed { mark: mark(), last_confirmed: date(2024, 6, 21) },
        ProblemReason::ErrorAssumed { mark: mark(), uncertainty_95_m: 10.0 },
        ProblemReason::FalseClear { clear_m2: 89_000.0, in_line_m2: 4620.0 },
        ProblemReason::StillInLine { in_line_m2: 4620.0 },
        ProblemReason::HiddenWaterUnknown,
        ProblemReason::ZoneOnBothSides { zone: zone() },
        ProblemReason::ZoneOnTheOtherSide { zone: zone(), than: "Gannet Bank".to_owned() },
        ProblemReason::PairHasZoneBeyond {
            zone: zone(),
            front: front(),
            rear: rear(),
            rear_shows: Side::Left,
        },
        ProblemReason::CutByAnotherZone { zone: zone() },
        ProblemReason::ZoneLineNotKnown { zone: zone(), why: "see plan MP2, not supplied".to_owned() },
        ProblemReason::ZoneAnywhere { zone: zone() },
        ProblemReason::LaunchInsideZone { zone: zone(), to_cross: vec![Condition::KeepGoing] },
        ProblemReason::NoZoneLoaded,
        ProblemReason::MarkLikelyMisread { mark: mark(), distance_m: 5_400_000.0, slip: Slip::LongitudeSign },
        ProblemReason::NoZoneNear { within_m: transit::NEAR_M },
        ProblemReason::VariationNotKnown { outside },
        ProblemReason::TerrainNotChecked,
        ProblemReason::CutTooShallow { angle_of_cut_deg: 17.0, least_deg: 30.0 },
        ProblemReason::ThreeLinesDisagree,
        ProblemReason::EllipseTooLarge { share: 0.4 },
    ]);
    problems
}

/// Why lines do not keep clear, of every kind.
#[cfg(feature = "transit")]
#[must_use]
pub fn clears_reasons() -> Vec<transit::ClearsReason> {
    use transit::ClearsReason;
    let zone = || "Sallow Cove".to_owned();
    let (uncertainty_95_m, distance_from_front_m) = (31.0, 2990.0);
    let within_doubt = |signed_distance_m| ClearsReason::WithinDoubt {
        zone: zone(),
        signed_distance_m,
        uncertainty_95_m,
        distance_from_front_m,
    };
    vec![
        ClearsReason::LineNotKnown { zone: zone() },
        ClearsReason::Enters { zone: zone(), distance_from_front_m: 640.0 },
        ClearsReason::RunsInside {
            zone: zone(),
            signed_distance_m: -96.0,
            uncertainty_95_m,
            distance_from_front_m,
        },
        within_doubt(12.0),
        within_doubt(-12.0),
        ClearsReason::Problem { problem: transit::ProblemReason::NoZoneLoaded },
    ]
}

/// What follows from fixes on a line, of every kind.
#[cfg(feature = "transit")]
#[must_use]
#[expect(clippy::too_many_lines, reason = "one of each kind")]
pub fn calibration_reasons() -> Vec<transit::CalibrationReason> {
    use transit::{CalibrationReason, FurtherFixes, LineOffset, UnusedFix, UnusedFixes};
    let (front, rear) = (|| "Day Beacon".to_owned(), || "Lone Pine".to_owned());
    let offset = |along_m, right_m| LineOffset {
        distance_from_front: Metres::computed(along_m),
        to_the_right: Metres::computed(right_m),
        uncertainty_95: Metres::computed(3.1),
    };
    let (to_the_right_m, uncertainty_95_m) = (-20.4, 4.2);
    let (covered_m, distance_from_front_m) = (42.0, 800.0);
    let mut reasons = Vec::new();
    for either_explains in [true, false] {
        reasons.push(CalibrationReason::OneFixCannotTell { either_explains, distance_from_front_m });
        reasons.push(CalibrationReason::FixesTooNear { either_explains, covered_m });
        reasons.push(CalibrationReason::FixesTooFew { either_explains, covered_m, separation_m: 1495.0 });
    }
    for (why, numbers) in [
        (UnusedFix::Between, vec![1]),
        (UnusedFix::Behind, vec![2, 3]),
        (UnusedFix::TooFarAway, vec![4]),
        (UnusedFix::TooCoarse, vec![5]),
        (UnusedFix::NeverOpens, vec![6]),
        (UnusedFix::Opened, vec![7]),
        (UnusedFix::Outlier, vec![8]),
        (UnusedFix::Outlier, vec![8, 10, 11, 12]),
    ] {
        reasons.push(CalibrationReason::NotUsed { unused: UnusedFixes { numbers, why } });
    }
    let farther = FurtherFixes { fixes: 4, distance_from_front_m: 2400.0, or_farther: true };
    let nearer = FurtherFixes { fixes: 3, distance_from_front_m: 150.0, or_farther: false };
    reasons.extend([
        CalibrationReason::LinePasses {
            front: front(),
            at: vec![offset(800.0, 12.0)],
            is_stated_line: false,
        },
        CalibrationReason::LinePasses {
            front: front(),
            at: vec![offset(600.0, 8.4), offset(2600.0, -0.2)],
            is_stated_line: true,
        },
        CalibrationReason::MarksStand {
            front: front(),
            front_to_the_right_m: 0.4,
            front_uncertainty_95_m: 3.1,
            rear: rear(),
            rear_to_the_right_m: -19.6,
            rear_uncertainty_95_m: 4.7,
        },
        CalibrationReason::BothMarksOff { front: front(), rear: rear() },
        CalibrationReason::OtherMarkOff { mark: rear(), other: front() },
        CalibrationReason::OneMarkOff { mark: rear(), other: front(), to_the_right_m, uncertainty_95_m },
        CalibrationReason::StatedErrorsTooSmall { times: 3.4 },
        CalibrationReason::FixesTellNothing {
            distance_from_front_m,
            to_the_right_m,
            uncertainty_95_m,
            stated_uncertainty_95_m: 18.0,
        },
        CalibrationReason::TakeFurtherFixes { front: front(), ways: vec![farther, nearer] },
        CalibrationReason::NoFixesWouldTell,
        CalibrationReason::TakeMoreFixes { fixes: 12 },
        CalibrationReason::TakeBetterFixes,
        CalibrationReason::FixesCountAsFewer { fixes: 30, independent: 12, together_m: 100.0 },
        CalibrationReason::FixesScatter { times: 1.7 },
    ]);
    reasons
}

/// Why pairs of marks rank as they do, of every kind.
#[cfg(feature = "transit")]
#[must_use]
pub fn pair_reasons() -> Vec<transit::PairReason> {
    use transit::PairReason;
    let (front, rear) = (|| "Day Beacon".to_owned(), || "Lone Pine".to_owned());
    let zone = || "Sallow Cove".to_owned();
    let (uncertainty_95_m, distance_from_front_m) = (31.0, 2990.0);
    let not_surely = |signed_distance_m| PairReason::NotSurelyClear {
        zone: zone(),
        signed_distance_m,
        uncertainty_95_m,
        distance_from_front_m,
    };
    vec![
        PairReason::KeepsClear { zone: zone(), margin_m: 59.0, uncertainty_95_m },
        PairReason::RunsInside {
            zone: zone(),
            signed_distance_m: -96.0,
            uncertainty_95_m,
            distance_from_front_m,
        },
        not_surely(12.0),
        not_surely(-12.0),
        PairReason::EyeSees { offset_m: 4.9 },
        PairReason::EyeNeverSees,
        PairReason::MarksPutLineOff { uncertainty_95_m },
        PairReason::ServesSide { share: 0.93, length_m: 2596.0 },
        PairReason::FrontHidesRear { front: front(), rear: rear() },
        PairReason::MarkBelowHorizon,
        PairReason::HeightsNotKnown { front: front(), rear: rear() },
        PairReason::RearShows { front: front(), rear: rear() },
        PairReason::GivesAway { width_m: 96.0 },
        PairReason::ZoneAnywhere { zone: zone() },
    ]
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use strum::VariantNames;

    use super::*;
    use crate::track::Suspicion;

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
        use transit::{CalibrationReason, ClearsReason, PairReason, ProblemCode, ProblemReason, UnusedFix};
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
}
