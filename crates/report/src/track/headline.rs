//! The first lines: where was I, when, how sure.

use takeline::track::{Certainty, ClosestApproach, Evidence, Visit};
use takeline::{TakeAnswer, Tristate, UncertaintySource};

use super::verdict::Verdict;
use super::words;
use super::{AuditReport, InputKind, log_state};
use crate::figures;
use crate::lines::Page;
use crate::words::{English, Words};

/// Writes the first three lines, and one for the catches if there are any.
pub(crate) fn head(page: &mut Page, report: &AuditReport<'_>) {
    let verdict = Verdict::of(report);
    page.fitted(&first(report, &verdict));
    if let Some(catches) = catches(report) {
        page.fitted(&[catches]);
    }
    let (second, third) = further(report, &verdict);
    page.fitted(&second);
    if third.starts_with(SETTLE) {
        page.paragraph("", &third);
    } else {
        page.fitted(&[third]);
    }
    for remark in log_state::first_remarks(report) {
        page.paragraph("", &remark);
    }
}

const SETTLE: &str = "To settle: ";

/// The first line, longest form first.
pub(crate) fn first(report: &AuditReport<'_>, verdict: &Verdict<'_>) -> Vec<String> {
    match verdict {
        Verdict::NoFix => vec!["UNDECIDED: there is no fix in this log".into()],
        Verdict::MostlySuspect(_) => vec!["UNDECIDED: most fixes cannot be believed".into()],
        Verdict::Misread(misreading) => log_state::misread_first(report, misreading),
        Verdict::Torn => vec!["UNDECIDED: the log jumps as no boat does".into()],
        Verdict::AccuracyUnread => vec!["UNDECIDED: its accuracy cannot be read".into()],
        Verdict::Certain(visits) if is_plan(report) => {
            planned(report, visits, ["This plan would cross", "Plan would cross"])
        }
        Verdict::Undecided(visits) if is_plan(report) => {
            planned(report, visits, ["UNDECIDED: this plan may cross", "UNDECIDED: may cross"])
        }
        Verdict::Certain(visits) => certain(report, visits),
        Verdict::Undecided(visits) => undecided(report, visits),
        Verdict::LineUnknown(zone) => vec![
            format!("UNDECIDED: nobody told where {} lies", zone.name),
            "UNDECIDED: a zone's line is not known".into(),
        ],
        Verdict::PositionsLost => vec!["UNDECIDED: positions could not be read".into()],
        Verdict::NotBound(visits) => not_bound(report, visits),
        Verdict::Never => never(report),
    }
}

fn not_bound(report: &AuditReport<'_>, visits: &[&Visit]) -> Vec<String> {
    let names = names(report, visits).join("; ");
    let sure = visits.iter().any(|visit| visit.certainty == Certainty::Certain);
    let side = match (is_plan(report), sure) {
        (true, true) => "This plan would cross",
        (true, false) => "This plan may cross",
        (false, true) => "Inside",
        (false, false) => "Perhaps inside",
    };
    if visits.iter().all(|visit| visit.in_force == Tristate::No) {
        return vec![format!("{side} {names}, not in force then"), format!("{side}, none in force: {names}")];
    }
    if visits.iter().any(|visit| visit.binds != Tristate::No) {
        return vec![
            format!("{side} {names}: no loaded rule restricts"),
            format!("{side}, no rule restricts: {names}"),
        ];
    }
    vec![format!("{side} {names}, not bound by its rule"), format!("{side}, no rule bound: {names}")]
}

fn is_plan(report: &AuditReport<'_>) -> bool {
    report.input.kind == InputKind::Plan
}

fn planned(report: &AuditReport<'_>, visits: &[&Visit], verbs: [&str; 2]) -> Vec<String> {
    let names = names(report, visits).join(" and ");
    verbs.iter().map(|verb| format!("{verb} {names}")).collect()
}

fn certain(report: &AuditReport<'_>, visits: &[&Visit]) -> Vec<String> {
    let names = names(report, visits);
    let [name] = names.as_slice() else {
        // times in zones that overlap must not be added up
        return vec![
            format!("Inside {}, certain", names.join(" and ")),
            format!("Inside {} zones, certain", names.len()),
        ];
    };
    let long = long(visits);
    vec![format!("Inside {name}{long}, certain"), format!("Inside{long}, certain: {name}")]
}

/// For how long the boat was inside while the rule was in force and bound it.
fn long(visits: &[&Visit]) -> String {
    let sum =
        |seconds: fn(&Visit) -> Option<f64>| visits.iter().map(|visit| seconds(visit)).sum::<Option<f64>>();
    let Some(whole_s) = sum(|visit| visit.certain_s) else { return String::new() };
    let in_force_s = sum(|visit| visit.in_force_certain_s).unwrap_or(whole_s);
    let bound_s = sum(|visit| visit.binds_certain_s).unwrap_or(in_force_s);
    if bound_s < in_force_s - 0.5 {
        // another rule displaced it for the rest
        return match bound_s {
            seconds if seconds <= 0.0 => " at a fix while bound".to_owned(),
            seconds => format!(" for {} while bound", words::span(seconds)),
        };
    }
    match in_force_s {
        seconds if seconds <= 0.0 && visits.iter().any(|visit| visit.gaps > 1) => " at fixes".to_owned(),
        seconds if seconds <= 0.0 => " at one fix".to_owned(),
        seconds if seconds < whole_s - 0.5 => format!(" for {} in force", words::span(seconds)),
        seconds => format!(" for {}", words::span(seconds)),
    }
}

fn undecided(report: &AuditReport<'_>, visits: &[&Visit]) -> Vec<String> {
    let names = names(report, visits);
    let name = names.join(" or ");
    let certain = visits.iter().filter(|visit| visit.certainty == Certainty::Certain);
    let certain: Vec<_> = certain.collect();
    if certain.iter().any(|visit| visit.in_force == Tristate::Yes) {
        return vec![
            format!("UNDECIDED: inside {name}, perhaps not bound by it"),
            format!("UNDECIDED: bound or not: {name}"),
        ];
    }
    if !certain.is_empty() {
        return vec![
            format!("UNDECIDED: inside {name}, perhaps not in force"),
            format!("UNDECIDED: in force or not: {name}"),
        ];
    }
    vec![format!("UNDECIDED: may have been inside {name}"), format!("UNDECIDED: perhaps in {name}")]
}

fn never(report: &AuditReport<'_>) -> Vec<String> {
    let Some(closest) = report.audit.closest_approaches.first() else {
        let what =
            if is_plan(report) { "This plan crosses no loaded zone" } else { "Never inside a loaded zone" };
        return vec![what.into()];
    };
    let figures = figures::distance_with_doubt(closest.signed_distance, closest.uncertainty_95);
    if is_plan(report) {
        return vec![
            format!("This plan crosses no loaded zone; closest {figures}"),
            format!("Crosses none; closest {figures}"),
        ];
    }
    vec![
        format!("Never inside a loaded zone; closest {figures}: {}", report.name_of(&closest.zone)),
        format!("Never inside; closest {figures}"),
    ]
}

fn seconds(known: Option<f64>) -> f64 {
    known.unwrap_or(0.0)
}

/// Names of the zones of these visits, each once, longest certain time first.
fn names<'v>(report: &AuditReport<'v>, visits: &[&'v Visit]) -> Vec<&'v str> {
    let mut sorted = visits.to_vec();
    sorted.sort_by(|one, other| seconds(other.certain_s).total_cmp(&seconds(one.certain_s)));
    let mut names: Vec<&str> = Vec::new();
    for visit in sorted {
        let name = report.zone_name(visit);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// The second line, longest form first, and the third: when or which zone, and how sure or what settles it.
fn further(report: &AuditReport<'_>, verdict: &Verdict<'_>) -> (Vec<String>, String) {
    match verdict {
        Verdict::NoFix => {
            let why = log_state::why_no_fix(&report.notes);
            let (second, settle) =
                why.unwrap_or_else(|| (vec!["Nothing was judged".into()], "give a log that has positions"));
            (second, format!("{SETTLE}{settle}"))
        }
        Verdict::Misread(misreading) => {
            let (second, settle) = log_state::misread_further(report, misreading);
            (second, format!("{SETTLE}{settle}"))
        }
        Verdict::Torn => (
            log_state::torn_second(&report.audit.quality),
            format!(
                "{SETTLE}find out which side of the jump is wrong, or --top-speed-kn if the boat is that fast"
            ),
        ),
        Verdict::AccuracyUnread => (
            vec!["So nobody knows how near it came".into()],
            format!("{SETTLE}write it in metres from 0 up, as in 40.5, or leave it empty"),
        ),
        Verdict::MostlySuspect(doubt) => (doubt.second(), format!("{SETTLE}{}", doubt.settle())),
        Verdict::Certain(visits) | Verdict::NotBound(visits) if is_plan(report) => {
            (vec!["A plan, not a trip that was made".into()], deepest(report, visits))
        }
        Verdict::Certain(visits) => (when(visits), deepest(report, visits)),
        Verdict::NotBound(visits) => {
            let why = visits.iter().find_map(|visit| visit.binds_because.first());
            (why.map_or_else(|| when(visits), |why| vec![English.track_reason(why)]), deepest(report, visits))
        }
        Verdict::Undecided(visits) if is_open_for_its_dates(report, visits) => {
            let why = if log_state::is_zone_unknown(report) {
                "The times of the log have no offset from UTC"
            } else {
                "The dates of the log may be wrong"
            };
            (vec![why.into()], settle(report, visits))
        }
        Verdict::Undecided(visits) => (at_most(report, visits), settle(report, visits)),
        Verdict::LineUnknown(zone) => {
            (vec![zone.name.clone()], format!("{SETTLE}a zone file that says where its line runs"))
        }
        Verdict::PositionsLost => {
            (log_state::lost_second(&report.audit.quality), format!("{SETTLE}mend the places under READING"))
        }
        Verdict::Never => match report.audit.closest_approaches.first() {
            Some(closest) => {
                (vec![format!("Nearest: {}", report.name_of(&closest.zone))], near_when(closest))
            }
            None => (vec!["No loaded zone within 20 km".into()], "Check that these are the zones".into()),
        },
    }
}

fn when(visits: &[&Visit]) -> Vec<String> {
    match visits {
        [visit] => match words::from_to(&visit.entered(), &visit.left()) {
            Some(stretch) => vec![stretch],
            None => vec!["When is not known: a log without times".into(), "When is not known".into()],
        },
        several => {
            let first = several.iter().find_map(|visit| visit.entered().time);
            let with = first.map(|first| format!("{} visits, first {}", several.len(), words::minute(first)));
            with.into_iter().chain([format!("{} visits", several.len())]).collect()
        }
    }
}

fn near_when(closest: &ClosestApproach) -> String {
    closest.at.time.map_or_else(|| "When is not known".into(), words::minute)
}

fn deepest(report: &AuditReport<'_>, visits: &[&Visit]) -> String {
    let depth_m = |visit: &Visit| visit.deepest.map_or(f64::NEG_INFINITY, takeline::Metres::metres);
    let deepest = visits.iter().max_by(|one, other| depth_m(one).total_cmp(&depth_m(other)));
    deepest.map_or_else(String::new, |visit| {
        let depth = depth(visit);
        if visits.iter().all(|other| other.zone == visit.zone) {
            format!("Deepest: {depth}")
        } else {
            format!("Deepest: {depth}, {}", report.zone_name(visit))
        }
    })
}

/// Nearer to the line than this, in metres, no side is told: sides are right to 0.1 mm.
const ON_THE_LINE_M: f64 = 1e-4;

/// How deep, in words.
pub(crate) fn depth(visit: &Visit) -> String {
    let Some(deepest) = visit.deepest else { return "not known, nor is the zone's place".into() };
    let figures = figures::distance_with_doubt(deepest, visit.deepest_uncertainty_95);
    if visit.evidence == Evidence::Gap {
        format!("up to {figures} inside in reach")
    } else if visit.off_the_way.is_some() {
        format!("{figures}, outside but in reach")
    } else if deepest.metres().abs() < ON_THE_LINE_M {
        format!("{figures}, on the line")
    } else if deepest.metres() < 0.0 {
        format!("{figures}, outside but in doubt")
    } else {
        format!("{figures} inside")
    }
}

/// Whether nothing but the doubt about the log's dates leaves it open.
fn is_open_for_its_dates(report: &AuditReport<'_>, visits: &[&Visit]) -> bool {
    let is_certain = |visit: &&Visit| visit.certainty == Certainty::Certain;
    report.audit.settings.dates_doubtful && visits.iter().all(is_certain)
}

fn at_most(report: &AuditReport<'_>, visits: &[&Visit]) -> Vec<String> {
    let longest =
        visits.iter().max_by(|one, other| seconds(one.possible_s).total_cmp(&seconds(other.possible_s)));
    let Some(visit) = longest else { return vec![String::new()] };
    let silence = log_state::long_silence(report, visit).filter(|_| visit.evidence == Evidence::Gap);
    if let Some(silence) = silence {
        // hours ashore are no hours perhaps inside; the figure that matters is how long nothing is known
        return vec![log_state::silence_words(silence)];
    }
    if visit.evidence == Evidence::Gap && visit.possible_s.is_none() {
        let times = if visits.len() > 1 { format!("{} times; ", visits.len()) } else { String::new() };
        return vec![
            format!("{times}How long is not known, in a gap of the log"),
            "How long is not known".into(),
        ];
    }
    let span = words::possible_span(visit);
    let many =
        if visits.len() > 1 { format!("{} times, at most {span} each", visits.len()) } else { String::new() };
    let one = match visit.evidence {
        Evidence::Gap => format!("At most {span}, in a gap of the log"),
        Evidence::BetweenFixes => match visit.off_the_way {
            Some(off) => format!("At most {span}, between fixes {} apart", words::span(off.seconds)),
            None => format!("At most {span}, between two fixes"),
        },
        Evidence::Fixes if visit.is_suspect => format!("At most {span}, by suspect fixes alone"),
        Evidence::Fixes => format!("At most {span}; {}", depth(visit)),
    };
    if many.is_empty() { vec![one, format!("At most {span}")] } else { vec![many, format!("At most {span}")] }
}

/// What would settle the first visit that is not.
pub(crate) fn settle(report: &AuditReport<'_>, visits: &[&Visit]) -> String {
    let settings = &report.audit.settings;
    let open = visits.iter().find(|visit| visit.certainty == Certainty::Possible);
    let way = match open {
        Some(visit) if visit.is_suspect => "another log; these fixes are suspect".into(),
        Some(visit) if visit.evidence == Evidence::Gap && log_state::may_be_ashore(report, visit) => {
            "if you were ashore meanwhile, --new-trip-after-h 6".into()
        }
        Some(visit) if (is_in_reach_only(visit) || visit.gaps > 0) && !settings.top_speed_given => {
            format!("give --top-speed-kn ({:.0} kn is assumed)", settings.top_speed_kn)
        }
        Some(visit) if visit.evidence == Evidence::BetweenFixes && !is_plan(report) => {
            "a log with more fixes".into()
        }
        Some(visit) if visit.evidence == Evidence::Gap => {
            "a log without this gap, from another device".into()
        }
        Some(_) if settings.digits_step_deg.is_some() => "a log with more digits".into(),
        Some(_)
            if settings.uncertainty.source() == UncertaintySource::Assumed
                && report.audit.quality.without_accuracy > 0 =>
        {
            format!(
                "give --accuracy-m ({:.0} m is assumed where the log has none)",
                settings.uncertainty.radius_95().metres()
            )
        }
        None if settings.dates_doubtful && log_state::is_zone_unknown(report) => {
            "write the log's times with their offset from UTC".into()
        }
        None if settings.dates_doubtful => "find out the true dates of the log".into(),
        None if is_plan(report) => "say when you mean to go, and ask again there and then".into(),
        None if visits.iter().any(|visit| !words::is_timed(visit)) => "a log with times".into(),
        None if visits.iter().any(|visit| visit.in_force == Tristate::Undecided) => {
            "find out whether it was in force, see below".into()
        }
        None if settings.access.is_none() && visits.iter().any(|visit| binds_some(report, visit)) => {
            "give --access boat, shore or diving".into()
        }
        Some(_) | None => "nothing in this log will do".into(),
    };
    format!("{SETTLE}{way}")
}

/// Whether nothing but the top speed lets the boat have been inside.
fn is_in_reach_only(visit: &Visit) -> bool {
    visit.evidence == Evidence::Gap || visit.off_the_way.is_some()
}

/// Whether the rule of a visit, or one that displaces it, binds only some ways of fishing.
fn binds_some(report: &AuditReport<'_>, visit: &Visit) -> bool {
    let displacing = report.zones.zones().iter().filter(|zone| visit.displaced_by.contains(&zone.id));
    report.zone_of(visit).into_iter().chain(displacing).any(|zone| !zone.rule.binds.is_empty())
}

/// Catches by answer, harshest first.
pub(crate) fn catches(report: &AuditReport<'_>) -> Option<String> {
    let counted: Vec<String> = [
        (TakeAnswer::Release, "RELEASE"),
        (TakeAnswer::Undecided, "UNDECIDED"),
        (TakeAnswer::Keep, "KEEP"),
        (TakeAnswer::Unzoned, "NO LOADED ZONE"),
    ]
    .into_iter()
    .map(|(answer, word)| {
        let such = || report.catches.iter().filter(move |caught| caught.answer == answer);
        (such().count(), such().filter(|caught| caught.is_lowered_by_carrying).count(), word)
    })
    .filter(|(count, ..)| *count > 0)
    .map(|(count, carried, word)| match carried {
        0 => format!("{count} {word}"),
        _ if carried == count => format!("{count} {word} (as carried)"),
        _ => format!("{count} {word} ({carried} as carried)"),
    })
    .collect();
    (!counted.is_empty()).then(|| format!("Catches: {}", counted.join(", ")))
}

/// The second line in its longest form, for a row.
pub(crate) fn second(report: &AuditReport<'_>, verdict: &Verdict<'_>) -> String {
    further(report, verdict).0.swap_remove(0)
}

/// The first three lines in their longest form.
pub(crate) fn sentences(report: &AuditReport<'_>, verdict: &Verdict<'_>) -> Vec<String> {
    let (mut second, third) = further(report, verdict);
    vec![first(report, verdict).swap_remove(0), second.swap_remove(0), third]
}
