//! Rules in English: why a fish may be kept, under which conditions, and what would settle it.

use std::collections::HashSet;

use takeline::Tristate;
use takeline::rule::{
    Access, Allowance, Bag, BagPer, Bait, Clash, Condition, GearAllowance, LimitsOf, Measure, PermitSummary,
    Reason, Remedy, RuleSummary, SetNames, Size, TakeSummary,
};

use super::{Words, joined};
use crate::figures;

const CROSSING_UNSAID: &str = "the zone file does not say how you may cross; ask first";
const ABOARD_WHILE_CROSSING: &str = "fish caught elsewhere may be on board only while crossing";
const ABOARD_UNSAID: &str = "the zone file does not say whether fish caught elsewhere may be on board";

#[expect(clippy::too_many_lines, reason = "one line for each reason")]
pub(super) fn reason(words: &(impl Words + ?Sized), reason: &Reason) -> String {
    let named = |fish: &Option<String>| words.fish(fish.as_deref());
    match reason {
        Reason::NothingMayBeTaken => "nothing may be taken here".into(),
        Reason::NothingWhateverItIs => "nothing may be taken here, whatever fish it is".into(),
        Reason::AnythingWhateverItIs => "any fish may be kept here, whatever fish it is".into(),
        Reason::NameUnknown => "that name is not in the zone file".into(),
        Reason::BindsOnly { access } => format!("the rule is only for fishing {}", words.access(access)),
        Reason::BindsOnlyAccessUnsaid { access } => {
            format!("the rule is only for fishing {}, and how you fish was not given", words.access(access))
        }
        Reason::TakeUnrestricted => "the rule does not restrict what may be taken".into(),
        Reason::AmongExceptions { fish, except } => {
            format!("{} is one of the fish that may not be taken here: {}", named(fish), words.set(except))
        }
        Reason::AnythingBut { except } => format!("anything except {} may be taken here", words.set(except)),
        Reason::ExceptionsForbidden { except } => format!("{} may not be taken here", words.set(except)),
        Reason::MayBeTaken { fish } => format!("{} may be taken here", named(fish)),
        Reason::Time { reason } => words.time_reason(reason),
        Reason::PermissionNotInForce { fish, why } => {
            let why = joined(why, "; ", |why| words.time_reason(why));
            let why = if why.is_empty() { why } else { format!(": {why}") };
            format!("{} may be taken at set times only, and not now{why}", named(fish))
        }
        Reason::NotAmongPermitted { fish, rule } => {
            format!("{} may not be taken here: {}", named(fish), words.rule_summary(rule))
        }
        Reason::MembershipUnsettled { fish, set } => {
            format!("it is undecided whether {} counts as {}", named(fish), words.set(set))
        }
        Reason::OnlySomeAmong { fish, set, with, without } => format!(
            "only some fish called {} count as {}: these do: {}; these do not: {}",
            named(fish),
            words.set(set),
            listed(with),
            listed(without)
        ),
        Reason::HoldingUnsettled { why } => {
            let why = joined(why, "; ", |why| words.time_reason(why));
            format!("it is undecided whether the rule is in force now: {why}")
        }
        Reason::TheseMayBeKept { fish } => format!("may be kept: {}", fish.join(", ")),
        Reason::TheseMayNotBeKept { fish } => format!("may not be kept: {}", fish.join(", ")),
        Reason::TheseAreUnsettled { fish } => format!("undecided: {}", fish.join(", ")),
        Reason::LimitMayHold => {
            "a limit may or may not apply here; if you keep to it, both cases are covered".into()
        }
        Reason::IfLimitHolds { reason } => format!("{}, if the limit applies", words.rule_reason(reason)),
        Reason::ByClause { reason, clause } => format!("{} ({clause})", words.rule_reason(reason)),
        Reason::Clash { clash, between } => clashing(*clash, between),
        Reason::GearUnknown { given } => format!("no loaded zone file names the gear “{given}”"),
        Reason::GearAllowed { given } => format!("{given} is allowed gear"),
        Reason::GearPerhapsAllowed { given, allowed } => {
            format!("the rule allows {allowed}; it is undecided whether that includes {given}")
        }
        Reason::GearNotAllowed { given, allowed } => {
            let allowed = joined(allowed, ", ", ToString::to_string);
            format!("{given} is not allowed; the rule allows {allowed}")
        }
        Reason::GearForbidden { given } => format!("{given} is forbidden"),
        Reason::GearPerhapsForbidden { given, forbidden } => {
            format!("{forbidden} is forbidden; it is undecided whether that includes {given}")
        }
        Reason::GearNotForbidden { given, forbidden } => {
            format!("{forbidden} is forbidden, but {given} is something else")
        }
        Reason::BaitKept { given, rule } => format!("{given} keeps to the bait rule: {}", words.bait(rule)),
        Reason::BaitBroken { given, rule } => format!("{given} breaks the bait rule: {}", words.bait(rule)),
        Reason::BaitUnsettled { given, rule } => {
            format!("the bait rule is: {}; it is undecided whether {given} keeps to it", words.bait(rule))
        }
        Reason::SizeCannotBeMeant { .. } => "the size that the rule states cannot be right".into(),
        Reason::LengthInvalid { length_cm } => format!("{length_cm} cm cannot be the length of a fish"),
        Reason::LengthOutside { length_cm, size } => {
            format!("{length_cm} cm is outside the size allowed: {}", words.size(size))
        }
        Reason::LengthWithin { length_cm, size } => {
            format!("{length_cm} cm is within the size allowed: {}", words.size(size))
        }
        Reason::NoneMayBeKept => "none may be kept".into(),
        Reason::TooMany { count, bag } => format!("{count} is too many: {}", words.bag(bag)),
        Reason::CountWithin { count, bag } => {
            format!("this makes {count}, of {}", words.bag(bag))
        }
        Reason::AboardAllowed => "fish caught elsewhere may be on board".into(),
        Reason::AboardForbidden => "no fish at all may be on board here".into(),
        Reason::AboardWhileCrossing => ABOARD_WHILE_CROSSING.into(),
        Reason::AboardWhileCrossingForbidden => {
            format!("{ABOARD_WHILE_CROSSING}, and crossing is not allowed")
        }
        Reason::AboardWhileCrossingUnsaid => format!("{ABOARD_WHILE_CROSSING}; {CROSSING_UNSAID}"),
        Reason::AboardAsTake => "only fish that may be taken here may be on board".into(),
        Reason::AboardUnsaid => ABOARD_UNSAID.into(),
        Reason::AboardUnsaidButTakeable => format!("{ABOARD_UNSAID}; this fish could be taken here"),
        Reason::OfZone { zone, reason } => format!("{} ({zone})", words.rule_reason(reason)),
        Reason::ZoneMayApply { zone, because } => {
            let why = joined(because, "; ", |reason| words.rule_reason(reason));
            format!("it is undecided whether {zone} applies here; if it does: {why}")
        }
        other => other.code().to_owned(),
    }
}

/// Names in a row.
fn listed(names: &[String]) -> String {
    if names.is_empty() { "none in the zone file".to_owned() } else { names.join(", ") }
}

fn limits_of(between: &LimitsOf) -> String {
    match between {
        LimitsOf::OnePermission => "the limits of one permission".into(),
        LimitsOf::PermissionAndLimit => "the permission and a limit of the same rule".into(),
        LimitsOf::PermissionAndPossibleLimit => "the permission and a limit that may or may not apply".into(),
        LimitsOf::FishOfOneName => "the rules for the fish with that name".into(),
        LimitsOf::Zones(zones) => zones.join(" and "),
        other => <&str>::from(other).to_owned(),
    }
}

fn clashing(clash: Clash, between: &LimitsOf) -> String {
    let names = limits_of(between);
    match clash {
        Clash::Sizes => format!("the sizes allowed by {names} do not overlap"),
        Clash::Gear => format!("no gear is allowed by {}", all_of(between)),
        Clash::Bait => format!("no bait is allowed by {}", all_of(between)),
        Clash::BaitWords => {
            format!("no bait is named by {}, unless different words mean the same bait", all_of(between))
        }
        Clash::TooMany => format!("{names} allow it in too many different ways to compare"),
        other => <&str>::from(other).to_owned(),
    }
}

/// "both a and b" of two, "a and b and c together" of more.
fn all_of(between: &LimitsOf) -> String {
    let names = limits_of(between);
    let zones = if let LimitsOf::Zones(zones) = between { zones.len() } else { 0 };
    if zones > 2 {
        format!("{names} together")
    } else if zones == 2
        || matches!(between, LimitsOf::PermissionAndLimit | LimitsOf::PermissionAndPossibleLimit)
    {
        format!("both {names}")
    } else {
        names
    }
}

pub(super) fn condition(words: &(impl Words + ?Sized), condition: &Condition) -> String {
    match condition {
        Condition::OnlyWith { gear } => {
            format!("only with {}", joined(gear, "; or ", |gear| words.gear(gear)))
        }
        Condition::With { gear } => format!("with {}", joined(gear, "; or ", |gear| words.gear(gear))),
        Condition::NotWith { gear } => format!("not with {gear}"),
        Condition::Bait { rule } => words.bait(rule),
        Condition::Size { size } => words.size(size),
        Condition::Bag { bag } => words.bag(bag),
        Condition::MeasuredAs { measure: Measure::Unstated } => words.measure(&Measure::Unstated),
        Condition::MeasuredAs { measure: measure @ Measure::Other(_) } => {
            format!("the length given is {}", words.measure(measure))
        }
        Condition::MeasuredAs { measure } => format!("the length given is the {}", words.measure(measure)),
        Condition::OnTheLimit { length_cm } => {
            format!("{length_cm} cm is exactly on the limit; measure again")
        }
        Condition::Law { text } => text.clone(),
        Condition::Either { ways } => {
            let way = |way: &Vec<Condition>| joined(way, ", ", |one| words.condition(one));
            format!("either {}", joined(ways, "; or ", way))
        }
        Condition::AllZonesTogether { ways } => {
            let way = |way: &Allowance| joined(&way.conditions(), "; ", |one| words.condition(one));
            format!("all zones together: {}", joined(ways, ", or ", way))
        }
        Condition::OfZone { zone, condition } => format!("{} ({zone})", words.condition(condition)),
        Condition::OfFish { fish, condition } => format!("{fish}: {}", words.condition(condition)),
        Condition::Crossing { allowed, clause } => crossing(*allowed, clause.as_deref()),
        Condition::CrossingUnsaid => CROSSING_UNSAID.into(),
        Condition::GearState { words } => format!("your gear while crossing: “{words}”"),
        Condition::KeepGoing => "keep going from one side to the other".into(),
        Condition::MinSpeed { speed_kn } => {
            format!("at {} or more", figures::least_speed(words.units(), *speed_kn))
        }
        Condition::MaxStop { stop_min } => format!("no stop longer than {stop_min} min"),
        Condition::Anchoring { allowed } => match allowed {
            Tristate::Yes => "anchoring is allowed".into(),
            Tristate::No => "no anchoring".into(),
            Tristate::Undecided => "the zone file does not say whether you may anchor; ask first".into(),
        },
        Condition::NoAnchoringOnTheWay => "no anchoring on the way".into(),
        other => other.code().to_owned(),
    }
}

fn crossing(allowed: Tristate, clause: Option<&str>) -> String {
    let clause = clause.map_or_else(String::new, |clause| format!(" ({clause})"));
    match allowed {
        Tristate::Yes => format!("crossing without fishing is allowed{clause}"),
        Tristate::No => format!("crossing is not allowed{clause}"),
        Tristate::Undecided => format!("it is undecided whether you may cross; ask first{clause}"),
    }
}

pub(super) fn remedy(words: &(impl Words + ?Sized), remedy: &Remedy) -> String {
    match remedy {
        Remedy::FindOutWhetherItHolds { why } => {
            let why = joined(why, "; ", |why| words.time_reason(why));
            format!("find out whether the rule is in force now: {why}")
        }
        Remedy::FindOutWhetherLimitHolds { clause } => {
            let clause = clause.as_ref().map_or_else(String::new, |clause| format!(" ({clause})"));
            format!("find out whether that limit applies now{clause}")
        }
        Remedy::SayWhichFish { fish } => format!("say which fish: {}", listed(fish)),
        Remedy::SayWhichOfThatName => "say which of the fish with that name it is".into(),
        Remedy::UseAListedName => "check the spelling, or use another name, the scientific name or the FAO code, as the zone file has it".into(),
        Remedy::DidYouMean { names } => {
            format!("did you mean {}? ask again with that name", names.join(" or "))
        }
        Remedy::SayAccess => "say how you fish: from a boat, from the shore or by diving".into(),
        Remedy::SayWhichGear { named } => {
            let named = joined(named, ", ", ToString::to_string);
            format!("name your gear: {named}, or other gear that a zone file names")
        }
        Remedy::SayWhetherGearMeans { given, named } => format!("if {given} is the same gear as {named}, ask again with that word"),
        Remedy::SayWhetherBaitMeans { given, named } => {
            format!("if {given} is the same bait as {}, ask again with that word", named.join(" or "))
        }
        Remedy::SayWhichBait => "name your bait in the words of the zone file".into(),
        Remedy::GiveLength => "give the length of the fish".into(),
        Remedy::ReadTheRule => "read the rule itself".into(),
        Remedy::AskHowToCross => "ask the authority how you may cross".into(),
        Remedy::AskWhetherToCross => "ask the authority whether and how you may cross".into(),
        Remedy::AskAboutFishAboard => "ask the authority whether fish caught elsewhere may be on board here".into(),
        Remedy::SettleWhichApply => "find out which of these zones and limits apply here".into(),
        Remedy::SettleWhetherZoneApplies { zone } => format!("find out whether {zone} applies here"),
        Remedy::OfZone { zone, remedy } => format!("{} ({zone})", words.rule_remedy(remedy)),
        other => other.code().to_owned(),
    }
}

pub(super) fn summary(words: &(impl Words + ?Sized), rule: &RuleSummary) -> String {
    let mut parts = vec![match &rule.take {
        TakeSummary::Nothing => "nothing may be taken".to_owned(),
        TakeSummary::Anything => "anything may be taken".to_owned(),
        TakeSummary::AnythingWithinLimits => "anything may be taken, within limits".to_owned(),
        TakeSummary::AnythingBut { except } => format!("anything except {}", words.set(except)),
        TakeSummary::Only { permits } => {
            let mut permits: Vec<String> =
                permits.iter().map(|permit| permit_in_short(words, permit)).collect();
            // long lists of names may differ only in what is not shown
            let mut said = HashSet::new();
            permits.retain(|permit| said.insert(permit.clone()));
            format!("only {}", permits.join(", "))
        }
        other => <&str>::from(other).to_owned(),
    }];
    parts
        .extend(rule.gear.iter().map(|kinds| format!("{} only", joined(kinds, " or ", ToString::to_string))));
    if !rule.binds.is_empty() {
        parts.push(format!("only for fishing {}", words.access(&rule.binds)));
    }
    parts.join("; ")
}

fn permit_in_short(words: &(impl Words + ?Sized), permit: &PermitSummary) -> String {
    let fish = permit.fish.as_ref().map_or_else(|| "any fish".to_owned(), |set| words.set(set));
    if permit.at_set_times { format!("{fish} at set times") } else { fish }
}

pub(super) fn set(names: &SetNames) -> String {
    let listed = if names.listed.is_empty() { "nothing".to_owned() } else { shortened(&names.listed) };
    if names.except.is_empty() {
        return listed;
    }
    format!("{listed} (but not {})", shortened(&names.except))
}

/// Lists at most six names; says how many more there are.
fn shortened(names: &[String]) -> String {
    const SHOWN: usize = 6;
    match names.split_at_checked(SHOWN) {
        Some((shown, more)) if !more.is_empty() => format!("{} and {} more", shown.join(", "), more.len()),
        _ => names.join(", "),
    }
}

pub(super) fn access(access: &[Access]) -> String {
    joined(access, " or ", |access| {
        match access {
            Access::Boat => "from a boat",
            Access::Shore => "from the shore",
            Access::Diving => "by diving",
        }
        .to_owned()
    })
}

pub(super) fn bag(bag: Bag) -> String {
    if bag.count == 0 {
        return "none may be kept".to_owned();
    }
    let per = match bag.per {
        BagPer::PersonDay => "per person per day",
        BagPer::BoatDay => "per boat per day",
        BagPer::PersonTrip => "per person per trip",
        BagPer::BoatTrip => "per boat per trip",
        BagPer::PersonAtOnce => "per person at any time, fish from earlier days included",
        BagPer::BoatAtOnce => "per boat at any time, fish from earlier days included",
    };
    format!("at most {} {per}", bag.count)
}

pub(super) fn size(words: &(impl Words + ?Sized), size: &Size) -> String {
    let measure = words.measure(&size.measure);
    let how = match (size.min_cm, size.max_cm) {
        (Some(_), None) => "at least ",
        (None, Some(_)) => "at most ",
        (Some(_), Some(_)) | (None, None) => "",
    };
    let sizes = figures::fish_sizes(words.units(), size.min_cm, size.max_cm, " to ");
    format!("{how}{}, {measure}", sizes.as_deref().unwrap_or("any length"))
}

pub(super) fn measure(measure: &Measure) -> String {
    match measure {
        Measure::TotalLength => "total length".to_owned(),
        Measure::ForkLength => "fork length".to_owned(),
        Measure::CarapaceLength => "carapace length".to_owned(),
        Measure::ShellWidth => "shell width".to_owned(),
        Measure::Other(words) => format!("measured as “{words}”"),
        Measure::Unstated => "the rule does not say how it is measured".to_owned(),
    }
}

pub(super) fn bait(bait: &Bait) -> String {
    match bait {
        Bait::Only(listed) if listed.is_empty() => "no bait".to_owned(),
        Bait::Only(listed) => format!("only {} as bait", listed.join(", ")),
        Bait::Not(listed) => format!("no {} as bait", listed.join(", no ")),
    }
}

pub(super) fn gear(gear: &GearAllowance) -> String {
    let counted = |n: u32, noun: &str| format!("{n} {noun}{}", if n == 1 { "" } else { "s" });
    let lines = gear.max_lines.map(|n| counted(n, counted_noun(gear)));
    let hooks = gear.max_hooks.map(|n| counted(n, "hook"));
    let numbers = lines.into_iter().chain(hooks).collect::<Vec<_>>().join(", ");
    let numbers = if numbers.is_empty() { numbers } else { format!(": at most {numbers}") };
    let note = gear.note.as_ref().map_or_else(String::new, |note| format!(" ({note})"));
    format!("{}{numbers}{note}", gear.kind)
}

/// What the number counts, from the last word of the kind: lines, unless the gear is of another sort.
fn counted_noun(gear: &GearAllowance) -> &'static str {
    const NOUNS: [&str; 6] = ["net", "pot", "trap", "rod", "creel", "spear"];
    NOUNS.into_iter().find(|noun| gear.kind.is_a(noun)).unwrap_or("line")
}
