//! Rules in English: why a fish may be kept, under which conditions, and what would settle it.

use std::collections::HashSet;

use takeline::Tristate;
use takeline::rule::{
    Access, Allowance, Bag, BagPer, Bait, Clash, Condition, GearAllowance, LimitsOf, Measure, PermitSummary,
    Reason, Remedy, RuleSummary, SetNames, Size, TakeSummary,
};

use super::{Words, joined};
use crate::figures;

const CROSSING_UNSAID: &str = "the zone file does not say how one may cross; ask before you do";
const ABOARD_WHILE_CROSSING: &str = "fish caught elsewhere may be aboard only while crossing";
const ABOARD_UNSAID: &str = "the zone file does not say whether fish caught elsewhere may be aboard";

#[expect(clippy::too_many_lines, reason = "one line for each reason")]
pub(super) fn reason(words: &(impl Words + ?Sized), reason: &Reason) -> String {
    let named = |fish: &Option<String>| words.fish(fish.as_deref());
    match reason {
        Reason::NothingMayBeTaken => "nothing may be taken here".into(),
        Reason::NothingWhateverItIs => "nothing may be taken here, whatever it is".into(),
        Reason::AnythingWhateverItIs => "the rule lets any fish be kept, whatever it is".into(),
        Reason::NameUnknown => "the zone file does not know that name".into(),
        Reason::BindsOnly { access } => format!("the rule binds only fishing {}", words.access(access)),
        Reason::BindsOnlyAccessUnsaid { access } => {
            format!("the rule binds only fishing {}, and from where is not said", words.access(access))
        }
        Reason::TakeUnrestricted => "the rule does not restrict what may be taken".into(),
        Reason::AmongExceptions { fish, except } => {
            format!("{} is among what may not be taken here: {}", named(fish), words.set(except))
        }
        Reason::AnythingBut { except } => format!("anything but {} may be taken here", words.set(except)),
        Reason::ExceptionsForbidden { except } => format!("{} may not be taken here", words.set(except)),
        Reason::MayBeTaken { fish } => format!("{} may be taken here", named(fish)),
        Reason::Time { reason } => words.time_reason(reason),
        Reason::PermissionNotInForce { fish, why } => {
            let why = joined(why, "; ", |why| words.time_reason(why));
            let why = if why.is_empty() { why } else { format!(": {why}") };
            format!("the permission for {} is not in force now{why}", named(fish))
        }
        Reason::NotAmongPermitted { fish, rule } => {
            format!("{} is not among what may be taken here: {}", named(fish), words.rule_summary(rule))
        }
        Reason::MembershipUnsettled { fish, set } => {
            format!("whether {} is among {} is not settled", named(fish), words.set(set))
        }
        Reason::OnlySomeAmong { fish, set, with, without } => format!(
            "only some of {} is among {}: {} is, {} is not",
            named(fish),
            words.set(set),
            listed(with),
            listed(without)
        ),
        Reason::HoldingUnsettled { why } => {
            let why = joined(why, "; ", |why| words.time_reason(why));
            format!("whether the rule holds now is not settled: {why}")
        }
        Reason::TheseMayBeKept { fish } => format!("may be kept: {}", fish.join(", ")),
        Reason::TheseMayNotBeKept { fish } => format!("may not be kept: {}", fish.join(", ")),
        Reason::TheseAreUnsettled { fish } => format!("not settled: {}", fish.join(", ")),
        Reason::LimitMayHold => "a limit may or may not hold here; keeping to it is enough either way".into(),
        Reason::IfLimitHolds { reason } => format!("{}, if the limit holds", words.rule_reason(reason)),
        Reason::ByClause { reason, clause } => format!("{} ({clause})", words.rule_reason(reason)),
        Reason::Clash { clash, between } => clashing(*clash, between),
        Reason::GearUnknown { given } => format!("no loaded zone file knows the gear “{given}”"),
        Reason::GearAllowed { given } => format!("{given} is among the gear allowed"),
        Reason::GearPerhapsAllowed { given, allowed } => {
            format!("the rule allows {allowed}; whether {given} counts is not settled")
        }
        Reason::GearNotAllowed { given, allowed } => {
            let allowed = joined(allowed, ", ", ToString::to_string);
            format!("{given} is not among the gear allowed: {allowed}")
        }
        Reason::GearForbidden { given } => format!("{given} is forbidden"),
        Reason::GearPerhapsForbidden { given, forbidden } => {
            format!("{forbidden} is forbidden; whether {given} counts is not settled")
        }
        Reason::GearNotForbidden { given, forbidden } => format!("{given} is not the forbidden {forbidden}"),
        Reason::BaitKept { given, rule } => format!("{given} keeps to the bait rule: {}", words.bait(rule)),
        Reason::BaitBroken { given, rule } => format!("{given} breaks the bait rule: {}", words.bait(rule)),
        Reason::BaitUnsettled { given, rule } => {
            format!("the bait rule is: {}; whether {given} counts is not settled", words.bait(rule))
        }
        Reason::SizeCannotBeMeant { .. } => "the size that the rule states cannot be meant".into(),
        Reason::LengthInvalid { length_cm } => format!("a length of {length_cm} cm is none"),
        Reason::LengthOutside { length_cm, size } => {
            format!("{length_cm} cm is not within the size allowed: {}", words.size(size))
        }
        Reason::LengthWithin { length_cm, size } => {
            format!("{length_cm} cm is within the size allowed: {}", words.size(size))
        }
        Reason::NoneMayBeKept => "none may be kept".into(),
        Reason::TooMany { count, bag } => format!("{count} kept is too many: {}", words.bag(bag)),
        Reason::CountWithin { count, bag } => {
            format!("{count} kept, this one included, of {}", words.bag(bag))
        }
        Reason::AboardAllowed => "fish caught elsewhere may be aboard".into(),
        Reason::AboardForbidden => "no fish at all may be aboard here".into(),
        Reason::AboardWhileCrossing => ABOARD_WHILE_CROSSING.into(),
        Reason::AboardWhileCrossingForbidden => {
            format!("{ABOARD_WHILE_CROSSING}, and crossing is not allowed")
        }
        Reason::AboardWhileCrossingUnsaid => format!("{ABOARD_WHILE_CROSSING}; {CROSSING_UNSAID}"),
        Reason::AboardAsTake => "only what may be taken here may be aboard".into(),
        Reason::AboardUnsaid => ABOARD_UNSAID.into(),
        Reason::AboardUnsaidButTakeable => format!("{ABOARD_UNSAID}; this fish could be taken here"),
        Reason::OfZone { zone, reason } => format!("{} ({zone})", words.rule_reason(reason)),
        Reason::ZoneMayApply { zone, because } => {
            let why = joined(because, "; ", |reason| words.rule_reason(reason));
            format!("whether {zone} applies here is not settled; if it does: {why}")
        }
        other => other.code().to_owned(),
    }
}

/// Names in a row.
fn listed(names: &[String]) -> String {
    if names.is_empty() { "none that the file lists".to_owned() } else { names.join(", ") }
}

fn limits_of(between: &LimitsOf) -> String {
    match between {
        LimitsOf::OnePermission => "the limits of one permission".into(),
        LimitsOf::PermissionAndLimit => "the permission and a limit of the same rule".into(),
        LimitsOf::PermissionAndPossibleLimit => "the permission and a limit that may or may not hold".into(),
        LimitsOf::FishOfOneName => "the rules for the fish of that name".into(),
        LimitsOf::Zones(zones) => zones.join(" and "),
        other => <&str>::from(other).to_owned(),
    }
}

fn clashing(clash: Clash, between: &LimitsOf) -> String {
    let names = limits_of(between);
    match clash {
        Clash::Sizes => format!("the sizes that {names} allow do not overlap"),
        Clash::Gear => format!("no gear is allowed by {}", all_of(between)),
        Clash::Bait => format!("no bait is allowed by {}", all_of(between)),
        Clash::BaitWords => {
            format!("no bait is named by {}, unless words that differ mean the same", all_of(between))
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
        Condition::GearState { words } => format!("state of the gear while crossing: “{words}”"),
        Condition::KeepGoing => "keep going from one side to the other".into(),
        Condition::MinSpeed { speed_kn } => {
            format!("not slower than {}", figures::least_speed(words.units(), *speed_kn))
        }
        Condition::MaxStop { stop_min } => format!("no stop longer than {stop_min} min"),
        Condition::Anchoring { allowed } => match allowed {
            Tristate::Yes => "anchoring is allowed".into(),
            Tristate::No => "no anchoring".into(),
            Tristate::Undecided => "whether one may anchor is not said; ask before you do".into(),
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
        Tristate::Undecided => format!("whether one may cross is not settled; ask before you do{clause}"),
    }
}

pub(super) fn remedy(words: &(impl Words + ?Sized), remedy: &Remedy) -> String {
    match remedy {
        Remedy::FindOutWhetherItHolds { why } => {
            let why = joined(why, "; ", |why| words.time_reason(why));
            format!("find out whether the rule holds now: {why}")
        }
        Remedy::FindOutWhetherLimitHolds { clause } => {
            let clause = clause.as_ref().map_or_else(String::new, |clause| format!(" ({clause})"));
            format!("find out whether that limit holds now{clause}")
        }
        Remedy::SayWhichFish { fish } => format!("say which: {}", listed(fish)),
        Remedy::SayWhichOfThatName => "say which of the fish of that name it is".into(),
        Remedy::UseAListedName => "use a name, scientific name or FAO code that the zone file lists".into(),
        Remedy::DidYouMean { names } => {
            format!("did you mean: {}? ask again with that name", names.join(", "))
        }
        Remedy::SayAccess => "say from where: boat, shore or diving".into(),
        Remedy::SayWhichGear { named } => {
            let named = joined(named, ", ", ToString::to_string);
            format!("say which gear: {named}, or another that a zone file names")
        }
        Remedy::SayWhetherGearMeans { given, named } => format!("say whether {given} means {named}"),
        Remedy::SayWhetherBaitMeans { given, named } => {
            format!("say whether {given} means {}", named.join(" or "))
        }
        Remedy::SayWhichBait => "say which bait is on the hook, in the words of the zone files".into(),
        Remedy::GiveLength => "give the length of the fish in centimetres".into(),
        Remedy::ReadTheRule => "read the text of the rule".into(),
        Remedy::AskHowToCross => "ask how one may cross".into(),
        Remedy::AskWhetherToCross => "ask whether and how one may cross".into(),
        Remedy::AskAboutFishAboard => "ask whether fish caught elsewhere may be aboard here".into(),
        Remedy::SettleWhichApply => "settle which of these zones and limits apply here".into(),
        Remedy::SettleWhetherZoneApplies { zone } => format!("settle whether {zone} applies here"),
        Remedy::OfZone { zone, remedy } => format!("{} ({zone})", words.rule_remedy(remedy)),
        other => other.code().to_owned(),
    }
}

pub(super) fn summary(words: &(impl Words + ?Sized), rule: &RuleSummary) -> String {
    let mut parts = vec![match &rule.take {
        TakeSummary::Nothing => "nothing may be taken".to_owned(),
        TakeSummary::Anything => "anything may be taken".to_owned(),
        TakeSummary::AnythingWithinLimits => "anything may be taken, within limits".to_owned(),
        TakeSummary::AnythingBut { except } => format!("anything but {}", words.set(except)),
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
        parts.push(format!("binds only fishing {}", words.access(&rule.binds)));
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
        BagPer::PersonAtOnce => "per person at any moment, fish of earlier days counted too",
        BagPer::BoatAtOnce => "per boat at any moment, fish of earlier days counted too",
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
