//! Reasons, warnings and remedies in few words, for the first lines of `here`, in English.

use takeline::assess::{Reason, Remedy, Warning};
use takeline::rule::{self, BagPer, Clash, MissingTime};

use super::Words;
use crate::figures;

/// Why a fish has to go back, in a few words, the longest first and the last in ten columns or so; none where the reason is none
/// of going back.
#[expect(clippy::wildcard_enum_match_arm, reason = "other reasons are none of going back")]
pub(super) fn refusal(words: &(impl Words + ?Sized), reason: &Reason) -> Option<[String; 2]> {
    match reason {
        Reason::NothingWhichever { .. } | Reason::ClosedWhichever { .. } | Reason::ZoneCloses { .. } => {
            Some(both("closed", "closed"))
        }
        Reason::NotKeptWhichever { .. } => Some(both("not allowed here", "not allowed")),
        Reason::Rule { reason } => refusal_of_rule(words, reason),
        _ => None,
    }
}

fn both(long: &str, short: &str) -> [String; 2] {
    [long.to_owned(), short.to_owned()]
}

#[expect(clippy::wildcard_enum_match_arm, reason = "other reasons are none of going back")]
fn refusal_of_rule(words: &(impl Words + ?Sized), reason: &rule::Reason) -> Option<[String; 2]> {
    use rule::Reason;
    let of = |min, max| figures::fish_sizes(words.units(), min, max, "").unwrap_or_default();
    Some(match reason {
        Reason::NothingMayBeTaken | Reason::NothingWhateverItIs => both("closed", "closed"),
        Reason::AmongExceptions { .. }
        | Reason::ExceptionsForbidden { .. }
        | Reason::NotAmongPermitted { .. }
        | Reason::TheseMayNotBeKept { .. } => both("not allowed here", "not allowed"),
        Reason::PermissionNotInForce { .. } => both("not allowed now", "not now"),
        Reason::GearNotAllowed { given, .. } | Reason::GearForbidden { given } => {
            [format!("{given} not allowed"), "wrong gear".to_owned()]
        }
        Reason::BaitBroken { given, .. } => [format!("{given} not allowed as bait"), "wrong bait".to_owned()],
        Reason::LengthOutside { length_cm, size } => match (size.min_cm, size.max_cm) {
            (Some(min), _) if *length_cm < min => {
                [format!("under {}", of(Some(min), None)), "too small".to_owned()]
            }
            (_, Some(max)) => [format!("over {}", of(None, Some(max))), "too big".to_owned()],
            _ => both("wrong size", "wrong size"),
        },
        Reason::NoneMayBeKept => both("none may be kept", "keep none"),
        Reason::TooMany { bag, .. } => {
            [format!("more than {}{}", bag.count, per(bag.per)), "over bag".to_owned()]
        }
        Reason::Clash { clash, .. } => match clash {
            Clash::Sizes => both("no size suits all zones", "zones clash"),
            Clash::Gear => both("no gear suits all zones", "zones clash"),
            Clash::Bait | Clash::BaitWords => both("no bait suits all zones", "zones clash"),
            _ => return None,
        },
        Reason::OfZone { reason, .. } | Reason::ByClause { reason, .. } | Reason::IfLimitHolds { reason } => {
            return refusal_of_rule(words, reason);
        }
        Reason::ZoneMayApply { because, .. } => {
            return because.iter().find_map(|reason| refusal_of_rule(words, reason));
        }
        _ => return None,
    })
}

fn per(per: BagPer) -> &'static str {
    match per {
        BagPer::PersonDay => " a day",
        BagPer::BoatDay => " a day, whole boat",
        BagPer::PersonTrip => " a trip",
        BagPer::BoatTrip => " a trip, whole boat",
        BagPer::PersonAtOnce => " at any time",
        BagPer::BoatAtOnce => " on the boat",
    }
}

/// A warning that changes the answer, the longest first and the last in eleven columns.
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the rest has no shorter words than those of the full answer"
)]
pub(super) fn warning_in_short(words: &(impl Words + ?Sized), warning: &Warning) -> [String; 2] {
    match warning {
        Warning::EditionExpired { until, .. } => {
            [format!("zones expired {}", words.until(until).replace(" 24:00", "")), "old zones".to_owned()]
        }
        Warning::FarFromEveryZone { distance_m } => [
            format!("zones {} off; check fix", figures::far(words.units(), *distance_m)),
            "far off".to_owned(),
        ],
        Warning::OnLand { inland_m, .. } => [
            format!("on land, {} in; check fix", figures::short_in_sentence(words.units(), *inland_m)),
            "on land".to_owned(),
        ],
        Warning::FewDigits { north_south_m, east_west_m, .. } => {
            let [north_south, east_west] =
                [north_south_m, east_west_m].map(|off_m| figures::roughly_up(words.units(), *off_m));
            [format!("few digits: {north_south} N-S, {east_west} E-W"), "few digits".to_owned()]
        }
        Warning::WeekCountDoubted { .. } | Warning::YearDoubted { .. } => {
            both("clock doubtful, time not used", "bad clock")
        }
        _ => [words.warning(warning), "see below".to_owned()],
    }
}

/// What settles an answer in few words, the longest first and the last in twenty columns.
#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the rest has no shorter words than those of the full answer"
)]
pub(super) fn remedy_in_short(remedy: &Remedy) -> Vec<String> {
    let one = |text: &str| vec![text.to_owned()];
    match remedy {
        Remedy::BetterFix { .. } => one("get a better fix"),
        Remedy::MoreDigits => one("give more digits"),
        Remedy::LoadZones => one("load zone files"),
        Remedy::GetAFix => one("wait for a fix"),
        Remedy::WasItMeant { latitude_deg, longitude_deg, .. } => {
            vec![
                format!("did you mean {latitude_deg:.4} {longitude_deg:.4}?"),
                "check the position".to_owned(),
            ]
        }
        Remedy::GetTheLine { zone } => {
            vec![format!("get the boundary of {zone}"), "get its boundary".to_owned()]
        }
        Remedy::FindOutTheDatum { zone, .. } => {
            vec![format!("find out the datum of {zone}"), "find out its datum".to_owned()]
        }
        Remedy::GetTheCoast { zone, .. } => {
            vec![format!("get the coast of {zone}"), "get its coast".to_owned()]
        }
        Remedy::FindOutHowEdgesRun { .. } => {
            vec!["find out how its edges run".to_owned(), "find how edges run".to_owned()]
        }
        Remedy::WriteTheRule { zone } => {
            vec![format!("write the rule of {zone} into its file"), "write its rule".to_owned()]
        }
        Remedy::AskWhetherInForce { zone } => {
            vec![format!("ask whether {zone} is in force"), "ask if in force".to_owned()]
        }
        Remedy::SayTheTime { missing: MissingTime::NotGiven } => one("give the time"),
        Remedy::SayTheTime { missing: MissingTime::Doubted } => one("give the true time"),
        Remedy::SayTheTime { missing: MissingTime::LogDoubted } => one("find the true dates"),
        Remedy::SayAccess => one("say how you fish"),
        Remedy::Rule { remedy } => rule_remedy_in_short(remedy),
        _ => one("see the full answer"),
    }
}

#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the rest has no shorter words than those of the full answer"
)]
fn rule_remedy_in_short(remedy: &rule::Remedy) -> Vec<String> {
    use rule::Remedy;
    let last = match remedy {
        Remedy::SayWhichFish { .. } | Remedy::SayWhichOfThatName => "say which fish",
        Remedy::UseAListedName => "use another name",
        Remedy::DidYouMean { .. } => "check the name",
        Remedy::SayAccess => "say how you fish",
        Remedy::SayWhichGear { .. } | Remedy::SayWhetherGearMeans { .. } => "name your gear",
        Remedy::SayWhetherBaitMeans { .. } | Remedy::SayWhichBait => "name your bait",
        Remedy::GiveLength => "give the length",
        Remedy::ReadTheRule => "read the rule",
        Remedy::AskHowToCross | Remedy::AskWhetherToCross => "ask how to cross",
        Remedy::AskAboutFishAboard => "ask the authority",
        Remedy::FindOutWhetherItHolds { .. } | Remedy::FindOutWhetherLimitHolds { .. } => "ask if in force",
        Remedy::OfZone { remedy, .. } => return rule_remedy_in_short(remedy),
        _ => "see the full answer",
    };
    let common_name = |name: &String| name.split(" (").next().unwrap_or(name).to_owned();
    let first = match remedy {
        Remedy::SayWhichFish { fish } if !fish.is_empty() => {
            let names: Vec<String> = fish.iter().map(common_name).collect();
            let mut different = names.clone();
            different.sort_unstable();
            different.dedup();
            (different.len() == names.len()).then(|| format!("say {}", names.join(" or ")))
        }
        Remedy::DidYouMean { names } => Some(format!("did you mean {}?", names.join(" or "))),
        Remedy::UseAListedName => Some("check the spelling, or use another name".to_owned()),
        Remedy::SayWhichGear { .. } => Some("name gear as the zone file has it".to_owned()),
        _ => None,
    };
    first.into_iter().chain([last.to_owned()]).collect()
}
