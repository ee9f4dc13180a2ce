//! The first three lines: may I keep it, how sure, why.

use takeline::rule::Condition;
use takeline::{
    Assessment, ClearingMove, Containment, TakeAnswer, TakeFinding, Tristate, WaterStatus, ZoneFinding,
};

use super::deciding::{binds, deciding_zone};
use crate::figures;
use crate::lines::Page;
use crate::words::Words;

/// Writes the first three lines. Where something is undecided, what settles it is one of them.
pub(crate) fn head(page: &mut Page, assessment: &Assessment, words: &dyn Words) {
    let zone = deciding_zone(assessment);
    let settle = settle_first(assessment, words);
    let verdict = match settle {
        Some(_) => verdict_with_measure(assessment, zone, words),
        None => verdict(assessment, zone, words),
    };
    page.fitted(&verdict);
    if assessment.take.is_empty() {
        match &settle {
            Some(settle) => page.paragraph("", settle),
            None => page.fitted(&place(assessment, zone, words)),
        }
    } else {
        page.fitted(&fish(assessment, zone, words));
    }
    match &settle {
        Some(settle) if !assessment.take.is_empty() => page.paragraph("", settle),
        Some(_) => page.fitted(&place(assessment, zone, words)),
        None if is_on_a_border(assessment, zone) => page.fitted(&["INSIDE one or the other".to_owned()]),
        None => page.fitted(&measure(zone)),
    }
    if assessment.standoff_kept.is_some() && !assessment.take.is_empty() {
        page.fitted(&standoff(assessment, words));
    }
}

/// The water, and why or what it means.
pub(crate) fn verdict(assessment: &Assessment, zone: Option<&ZoneFinding>, words: &dyn Words) -> Vec<String> {
    match assessment.water {
        WaterStatus::Closed => vec!["CLOSED WATER: nothing may be taken here".into()],
        WaterStatus::Restricted => limited(assessment, zone, words),
        WaterStatus::Unzoned if is_open(assessment) => vec!["No loaded rule restricts you here".into()],
        WaterStatus::Unzoned => vec!["No loaded zone applies here".into()],
        WaterStatus::Undecided => undecided(assessment, words),
    }
}

/// Closed water although the side of each closed zone is open: it is inside one or another of them.
fn is_on_a_border(assessment: &Assessment, zone: Option<&ZoneFinding>) -> bool {
    let is_open = |zone: &ZoneFinding| zone.containment == Containment::Undecided;
    assessment.water == WaterStatus::Closed && zone.is_some_and(is_open)
}

/// The closed zones on whose border it is.
fn on_the_border(assessment: &Assessment) -> Vec<String> {
    let may_close = |zone: &&ZoneFinding| zone.nothing_may_be_taken && zone.binds != Tristate::No;
    let names: Vec<&str> = assessment.zones.iter().filter(may_close).map(|zone| zone.name.as_str()).collect();
    vec![format!("On the border: {}", names.join("; ")), format!("On the border of {} zones", names.len())]
}

/// Whether a zone applies whose rule restricts nothing.
fn is_open(assessment: &Assessment) -> bool {
    assessment.zones.iter().any(|zone| zone.binds == Tristate::Yes && zone.restricts_nothing)
}

fn limited(assessment: &Assessment, zone: Option<&ZoneFinding>, words: &dyn Words) -> Vec<String> {
    let together = assessment.zones.iter().filter(|zone| binds(zone)).count();
    if together > 1 {
        return vec![format!("LIMITED WATER: rules of {together} zones bind")];
    }
    let rule = zone.map(|zone| format!("LIMITED WATER: {}", words.rule_summary(&zone.take_rule)));
    // with a fish on the second line, the zone is named nowhere else
    let name = zone.filter(|_| !assessment.take.is_empty());
    let name = name.map(|zone| format!("LIMITED WATER: {}", zone.name));
    rule.into_iter().chain(name).chain(["LIMITED WATER: rules bind what you keep".into()]).collect()
}

fn undecided(assessment: &Assessment, words: &dyn Words) -> Vec<String> {
    let opening = undecided_opening(assessment);
    let reasoned = assessment.water_because.first().map(|why| format!("{opening}; {}", words.reason(why)));
    let bare = if may_any_be_kept(assessment) { "UNDECIDED WATER: keep only as said" } else { KEEP_NOTHING };
    reasoned.into_iter().chain([bare.into()]).collect()
}

const KEEP_NOTHING: &str = "UNDECIDED: do not keep what you catch";

/// A fish may be kept in undecided water where every side of the line allows it; then no line may forbid it.
fn undecided_opening(assessment: &Assessment) -> &'static str {
    if may_any_be_kept(assessment) { "UNDECIDED WATER" } else { "UNDECIDED: do not keep" }
}

/// Whether the answer about any fish is to keep it.
pub(crate) fn may_any_be_kept(assessment: &Assessment) -> bool {
    assessment.take.iter().any(|finding| finding.answer == TakeAnswer::Keep)
}

/// The water with the distance, where the other two lines are needed for fish and for what settles them.
fn verdict_with_measure(
    assessment: &Assessment,
    zone: Option<&ZoneFinding>,
    words: &dyn Words,
) -> Vec<String> {
    let measured = zone.and_then(|zone| Some((zone, zone.signed_distance?)));
    let Some((zone, distance)) = measured else { return verdict(assessment, zone, words) };
    let figures = figures::distance_with_doubt(distance, zone.uncertainty_95);
    let line = match assessment.water {
        WaterStatus::Closed => format!("CLOSED WATER: {}", side_by(zone, &figures)),
        WaterStatus::Restricted => format!("LIMITED WATER: {}", side_by(zone, &figures)),
        WaterStatus::Unzoned => format!("No loaded zone applies here; {figures}"),
        WaterStatus::Undecided => {
            format!("{}; {}", undecided_opening(assessment), undecided_by(zone, &figures))
        }
    };
    let mut lines = vec![line];
    lines.extend(verdict(assessment, Some(zone), words));
    lines
}

fn side_by(zone: &ZoneFinding, figures: &str) -> String {
    format!("{} by {figures}", containment_word(zone.containment))
}

fn undecided_by(zone: &ZoneFinding, figures: &str) -> String {
    match zone.containment {
        Containment::Inside => figures.replacen(" ±", " in, ±", 1),
        Containment::Outside => figures.replacen(" ±", " out, ±", 1),
        Containment::Undecided => format!("line {figures}"),
    }
}

/// The word for a side. The same three everywhere.
pub(crate) fn containment_word(containment: Containment) -> &'static str {
    match containment {
        Containment::Inside => "inside",
        Containment::Outside => "outside",
        Containment::Undecided => "undecided",
    }
}

/// The zone that the answer hangs on, or the stand-off where one was asked for.
fn place(assessment: &Assessment, zone: Option<&ZoneFinding>, words: &dyn Words) -> Vec<String> {
    if assessment.standoff_kept.is_some() {
        return standoff(assessment, words);
    }
    let Some(zone) = zone else {
        return vec!["No zone is near; other rules may apply".into(), "Other rules may apply".into()];
    };
    if is_on_a_border(assessment, Some(zone)) {
        return on_the_border(assessment);
    }
    let name = &zone.name;
    match (zone.containment, zone.in_force) {
        (Containment::Outside, _) if is_far(zone) => vec!["No zone within 100 km: check the fix".into()],
        (Containment::Outside, _) => vec![format!("Nearest: {name}")],
        (Containment::Undecided, _) => match zone.nearest {
            Some(nearest) => vec![format!("Line {}: {name}", nearest.bearing)],
            None => vec![format!("Undecided: {name}")],
        },
        (Containment::Inside, Tristate::Yes) if zone.binds == Tristate::Yes && zone.restricts_nothing => {
            vec![format!("Restricts nothing: {name}")]
        }
        (Containment::Inside, Tristate::Yes) if assessment.water == WaterStatus::Unzoned => {
            vec![format!("Does not bind you: {name}")]
        }
        (Containment::Inside, Tristate::Yes) => in_force_here(assessment, name),
        (Containment::Inside, Tristate::No) => vec![format!("Not in force now: {name}")],
        (Containment::Inside, Tristate::Undecided) => vec![format!("In force or not: {name}")],
    }
}

/// So far from the nearest loaded zone that the fix or the zones are probably not the ones that were meant.
fn is_far(zone: &ZoneFinding) -> bool {
    zone.signed_distance.is_some_and(|distance| distance.metres() > 100_000.0)
}

fn in_force_here(assessment: &Assessment, first: &str) -> Vec<String> {
    let here = assessment.zones.iter().filter(|zone| binds(zone));
    let others: Vec<_> = here.map(|zone| zone.name.as_str()).filter(|name| *name != first).collect();
    if others.is_empty() {
        return vec![format!("In force: {first}")];
    }
    let together = 1 + others.len();
    vec![format!("In force: {first}; {}", others.join("; ")), format!("In force, 1 of {together}: {first}")]
}

fn standoff(assessment: &Assessment, words: &dyn Words) -> Vec<String> {
    let kept = match assessment.standoff_kept {
        Some(Tristate::Yes) => return vec!["Stand-off kept".into()],
        Some(Tristate::No) => "Stand-off NOT kept",
        Some(Tristate::Undecided) | None => "Stand-off UNDECIDED",
    };
    let Some(why) = assessment.standoff_because.first() else {
        let zone = assessment.zones.first().map_or("", |zone| zone.name.as_str());
        return vec![format!("{kept}: {zone}")];
    };
    let named = why.zone().map(|zone| format!("{kept}: {zone}"));
    std::iter::once(format!("{kept}: {}", words.reason(why))).chain(named).collect()
}

/// How far the line is, on which side, how sure and in which direction.
pub(crate) fn measure(zone: Option<&ZoneFinding>) -> Vec<String> {
    let Some(zone) = zone else { return vec!["Nearest line: none is loaded near here".into()] };
    let Some(distance) = zone.signed_distance else {
        return vec![match zone.containment {
            Containment::Undecided => "UNDECIDED: its line is not known here".into(),
            Containment::Inside => "INSIDE; its line is not known here".into(),
            Containment::Outside => "OUTSIDE of where its line may be".into(),
        }];
    };
    let word = containment_word(zone.containment).to_uppercase();
    let figures = figures::distance_with_doubt(distance, zone.uncertainty_95);
    if zone.on_the_line {
        return vec![format!("{word}: on the line, {}", figures::doubt(zone.uncertainty_95))];
    }
    let bearing = zone.nearest.map(|nearest| nearest.bearing);
    match zone.containment {
        Containment::Inside | Containment::Outside => {
            let with = bearing.map(|bearing| format!("{word} by {figures}, line {bearing}"));
            with.into_iter().chain([format!("{word} by {figures}")]).collect()
        }
        Containment::Undecided => {
            let with = bearing.map(|bearing| format!("{word}: line {figures}, {bearing}"));
            with.into_iter().chain([format!("{word}: line {figures}")]).collect()
        }
    }
}

/// What settles the first undecided thing; none if everything is settled.
fn settle_first(assessment: &Assessment, words: &dyn Words) -> Option<String> {
    let water =
        assessment.water == WaterStatus::Undecided || assessment.standoff_kept == Some(Tristate::Undecided);
    let fish = assessment.take.iter().find(|finding| finding.answer == TakeAnswer::Undecided);
    if !water && fish.is_none() {
        return None;
    }
    if let Some(first) = &assessment.settle_first {
        return Some(format!("To settle: {}", words.remedy(first)));
    }
    if water && let Some(way) = assessment.settling_move {
        return Some(format!("To settle: {}", move_words(way)));
    }
    let of_fish = fish.and_then(|finding| finding.settle.first());
    let first = if water {
        assessment.settle.first().or(of_fish)
    } else {
        of_fish.or_else(|| assessment.settle.first())
    };
    Some(first.map_or_else(
        || "To settle: nothing known here will do".into(),
        |first| format!("To settle: {}", words.remedy(first)),
    ))
}

/// The move in words; where it does not lead out of every zone it says so.
pub(crate) fn move_words(way: ClearingMove) -> String {
    let go = format!("move {} toward {}", figures::move_length(way.distance), way.bearing);
    match way.water_there {
        WaterStatus::Unzoned => go,
        WaterStatus::Closed => format!("{go}, which is surely closed water"),
        WaterStatus::Restricted => format!("{go}, which is surely limited water"),
        WaterStatus::Undecided => format!("{go}, which is still undecided"),
    }
}

/// The fish on one line: verdict first, so that a long name is what gets cut.
pub(crate) fn fish(assessment: &Assessment, zone: Option<&ZoneFinding>, words: &dyn Words) -> Vec<String> {
    match assessment.take.as_slice() {
        [one] => one_fish(one, assessment.water, zone, words),
        several => several_fish(several),
    }
}

fn one_fish(
    finding: &TakeFinding,
    water: WaterStatus,
    zone: Option<&ZoneFinding>,
    words: &dyn Words,
) -> Vec<String> {
    let asked = &finding.asked;
    match finding.answer {
        TakeAnswer::Keep if finding.conditions.is_empty() => vec![format!("KEEP {asked}")],
        TakeAnswer::Keep => {
            let figures = keep_figures(finding).map(|figures| {
                [format!("KEEP {asked} if {figures}; see below"), format!("KEEP {asked} if {figures}, …")]
            });
            let plain = [
                format!("KEEP {asked}, if the conditions hold"),
                format!("KEEP if conditions hold: {asked}"),
            ];
            figures.into_iter().flatten().chain(plain).collect()
        }
        TakeAnswer::Release => {
            // where the first line says why, this one says whose rule it is
            let because = finding.because.first().filter(|_| water != WaterStatus::Closed);
            let because = because.map(|reason| words.reason(reason));
            // the zone that the water hangs on may be another one than those that refuse the fish
            let refusing = match (finding.refused_by.as_slice(), finding.refused_by_one_of.as_slice()) {
                ([], []) => zone.map(|zone| zone.name.clone()).filter(|_| water == WaterStatus::Closed),
                ([], zones) => Some(zones.join(" or ")),
                (zones, _) => Some(zones.join(", ")),
            };
            let why = because.into_iter().chain(refusing).chain(finding.refused_by.first().cloned());
            let reasoned = why.map(|why| format!("RELEASE {asked}: {why}"));
            reasoned.chain([format!("RELEASE {asked}")]).collect()
        }
        TakeAnswer::Undecided => {
            vec![format!("UNDECIDED {asked}: do not keep it"), format!("UNDECIDED, do not keep: {asked}")]
        }
        TakeAnswer::Unzoned => vec![format!("NO LOADED ZONE speaks of {asked}")],
    }
}

/// Size and bag in a few words, where there is one of each at most; the whole of it stands further down.
fn keep_figures(finding: &TakeFinding) -> Option<String> {
    // one of several ways to keep it would read as the only one
    if finding.conditions.iter().any(Condition::is_alternative) {
        return None;
    }
    let (sizes, bags) = (finding.within.sizes.as_slice(), finding.within.bags.as_slice());
    let size = match sizes {
        [] => None,
        [size] => Some(match (size.min_cm, size.max_cm) {
            (Some(min), Some(max)) => format!("{min}-{max} cm"),
            (Some(min), None) => format!("{min} cm up"),
            (None, Some(max)) => format!("{max} cm down"),
            (None, None) => return None,
        }),
        _ => return None,
    };
    let bag = match bags {
        [] => None,
        [bag] => Some(format!("{} max", bag.count)),
        _ => return None,
    };
    let figures: Vec<_> = size.into_iter().chain(bag).collect();
    (!figures.is_empty()).then(|| figures.join(", "))
}

const HARSHEST_FIRST: [TakeAnswer; 4] =
    [TakeAnswer::Release, TakeAnswer::Undecided, TakeAnswer::Keep, TakeAnswer::Unzoned];

fn several_fish(findings: &[TakeFinding]) -> Vec<String> {
    let mut named = Vec::new();
    let mut counted = Vec::new();
    for answer in HARSHEST_FIRST {
        let names: Vec<_> = findings
            .iter()
            .filter(|finding| finding.answer == answer)
            .map(|finding| &*finding.asked)
            .collect();
        if !names.is_empty() {
            named.push(format!("{} {}", take_answer_word(answer), names.join(", ")));
            counted.push(format!("{} {}", take_answer_word(answer), names.len()));
        }
    }
    let conditional =
        |finding: &TakeFinding| finding.answer == TakeAnswer::Keep && !finding.conditions.is_empty();
    let pointer = if findings.iter().any(conditional) { "; see below" } else { "" };
    vec![
        format!("{}{pointer}", named.join("; ")),
        format!("{}; see below", counted.join("; ")),
        counted.join("; "),
    ]
}

/// Returns the word for an answer about a fish: `KEEP`, `RELEASE`, `UNDECIDED` or `NO LOADED ZONE`.
#[must_use]
pub fn take_answer_word(answer: TakeAnswer) -> &'static str {
    match answer {
        TakeAnswer::Keep => "KEEP",
        TakeAnswer::Release => "RELEASE",
        TakeAnswer::Undecided => "UNDECIDED",
        TakeAnswer::Unzoned => "NO LOADED ZONE",
    }
}
