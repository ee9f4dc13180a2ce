//! The first lines: where was I, when, how sure.

use takeline::track::{Certainty, Evidence};
use takeline::{TakeAnswer, Tristate, UncertaintySource};

use super::log;
use crate::figures;
use crate::track::times::{minute, span};
use crate::track::{ClosestDocument, Headline, MomentDocument, Third, TrackDocument, Verdict, VisitDocument};
use crate::words::Words;

/// The first three lines, and one for the catches if there are any.
pub(crate) fn headline(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    verdict: &Verdict<'_>,
) -> Headline {
    let (second, third) = further(words, document, verdict);
    Headline { first: first(words, document, verdict), catches: catches(words, document), second, third }
}

fn settled_by(way: &str) -> Third {
    Third::Settle(format!("To settle: {way}"))
}

/// The first line, longest form first.
fn first(words: &(impl Words + ?Sized), document: &TrackDocument<'_>, verdict: &Verdict<'_>) -> Vec<String> {
    match verdict {
        Verdict::NoFix => vec!["UNDECIDED: there is no fix in this log".into()],
        Verdict::MostlySuspect(_) => vec!["UNDECIDED: most fixes cannot be believed".into()],
        Verdict::Misread(misreading) => log::misread_first(words, document, misreading),
        Verdict::Torn => vec!["UNDECIDED: the log jumps as no boat does".into()],
        Verdict::AccuracyUnread => vec!["UNDECIDED: its accuracy cannot be read".into()],
        Verdict::Certain(visits) if document.is_plan() => {
            planned(visits, ["This plan would cross", "Plan would cross"])
        }
        Verdict::Undecided(visits) if document.is_plan() => {
            planned(visits, ["UNDECIDED: this plan may cross", "UNDECIDED: may cross"])
        }
        Verdict::Certain(visits) => certain(visits),
        Verdict::Undecided(visits) => undecided(visits),
        Verdict::LineUnknown(zone) => vec![
            format!("UNDECIDED: nobody told where {} lies", zone.name),
            "UNDECIDED: a zone's line is not known".into(),
        ],
        Verdict::PositionsLost => vec!["UNDECIDED: positions could not be read".into()],
        Verdict::NotBound(visits) => not_bound(document, visits),
        Verdict::Never => never(words, document),
    }
}

fn not_bound(document: &TrackDocument<'_>, visits: &[&VisitDocument<'_>]) -> Vec<String> {
    let names = names(visits).join("; ");
    let sure = visits.iter().any(|visit| visit.certainty == Certainty::Certain);
    let side = match (document.is_plan(), sure) {
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

fn planned(visits: &[&VisitDocument<'_>], verbs: [&str; 2]) -> Vec<String> {
    let names = names(visits).join(" and ");
    verbs.iter().map(|verb| format!("{verb} {names}")).collect()
}

fn certain(visits: &[&VisitDocument<'_>]) -> Vec<String> {
    let names = names(visits);
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
fn long(visits: &[&VisitDocument<'_>]) -> String {
    let sum = |seconds: fn(&VisitDocument<'_>) -> Option<f64>| {
        visits.iter().map(|visit| seconds(visit)).sum::<Option<f64>>()
    };
    let Some(whole_s) = sum(|visit| visit.certain_s) else { return String::new() };
    let in_force_s = sum(|visit| visit.outcome.in_force_certain_s).unwrap_or(whole_s);
    let bound_s = sum(|visit| visit.outcome.binds_certain_s).unwrap_or(in_force_s);
    if bound_s < in_force_s - 0.5 {
        // another rule displaced it for the rest
        return match bound_s {
            seconds if seconds <= 0.0 => " at a fix while bound".to_owned(),
            seconds => format!(" for {} while bound", span(seconds)),
        };
    }
    match in_force_s {
        seconds if seconds <= 0.0 && visits.iter().any(|visit| visit.gaps > 1) => " at fixes".to_owned(),
        seconds if seconds <= 0.0 => " at one fix".to_owned(),
        seconds if seconds < whole_s - 0.5 => format!(" for {} in force", span(seconds)),
        seconds => format!(" for {}", span(seconds)),
    }
}

fn undecided(visits: &[&VisitDocument<'_>]) -> Vec<String> {
    let names = names(visits);
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

fn never(words: &(impl Words + ?Sized), document: &TrackDocument<'_>) -> Vec<String> {
    let Some(closest) = document.closest_approach.first() else {
        let what = if document.is_plan() {
            "This plan crosses no loaded zone"
        } else {
            "Never inside a loaded zone"
        };
        return vec![what.into()];
    };
    let figures =
        figures::distance_with_doubt(words.units(), closest.signed_distance, closest.uncertainty_95);
    if document.is_plan() {
        return vec![
            format!("This plan crosses no loaded zone; closest {figures}"),
            format!("Crosses none; closest {figures}"),
        ];
    }
    vec![
        format!("Never inside a loaded zone; closest {figures}: {}", closest.zone_name),
        format!("Never inside; closest {figures}"),
    ]
}

fn seconds(known: Option<f64>) -> f64 {
    known.unwrap_or(0.0)
}

/// Names of the zones of these visits, each once, longest certain time first.
fn names<'v>(visits: &[&'v VisitDocument<'_>]) -> Vec<&'v str> {
    let mut sorted = visits.to_vec();
    sorted.sort_by(|one, other| seconds(other.certain_s).total_cmp(&seconds(one.certain_s)));
    let mut names: Vec<&str> = Vec::new();
    for visit in sorted {
        let name = visit.zone_name;
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

/// The second line, longest form first, and the third: when or which zone, and how sure or what settles it.
fn further(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    verdict: &Verdict<'_>,
) -> (Vec<String>, Third) {
    match verdict {
        Verdict::NoFix => {
            let why = log::why_no_fix(document);
            let (second, way) =
                why.unwrap_or_else(|| (vec!["Nothing was judged".into()], "give a log that has positions"));
            (second, settled_by(way))
        }
        Verdict::Misread(misreading) => {
            let (second, way) = log::misread_further(document, misreading);
            (second, settled_by(&way))
        }
        Verdict::Torn => (
            log::torn_second(words, document.audited_quality()),
            settled_by(
                "find out which side of the jump is wrong, or --top-speed-kn if the boat is that fast",
            ),
        ),
        Verdict::AccuracyUnread => (
            vec!["So nobody knows how near it came".into()],
            settled_by("write it in metres from 0 up, as in 40.5, or leave it empty"),
        ),
        Verdict::MostlySuspect(doubt) => {
            (log::suspect_second(words, *doubt), settled_by(log::suspect_settle(doubt.worst)))
        }
        Verdict::Certain(visits) | Verdict::NotBound(visits) if document.is_plan() => {
            (vec!["A plan, not a trip that was made".into()], deepest(words, visits))
        }
        Verdict::Certain(visits) => (when(visits), deepest(words, visits)),
        Verdict::NotBound(visits) => {
            let why = visits.iter().find_map(|visit| visit.binds_because.first());
            (why.map_or_else(|| when(visits), |why| vec![why.clone()]), deepest(words, visits))
        }
        Verdict::Undecided(visits) if document.is_open_for_its_dates(visits) => {
            let why = if document.zone_unknown().is_some() {
                "The times of the log have no offset from UTC"
            } else {
                "The dates of the log may be wrong"
            };
            (vec![why.into()], settle(words, document, visits))
        }
        Verdict::Undecided(visits) => (at_most(words, document, visits), settle(words, document, visits)),
        Verdict::LineUnknown(zone) => {
            (vec![zone.name.clone()], settled_by("a zone file that says where its line runs"))
        }
        Verdict::PositionsLost => {
            (log::lost_second(document.audited_quality()), settled_by("mend the places under READING"))
        }
        Verdict::Never => match document.closest_approach.first() {
            Some(closest) => (vec![format!("Nearest: {}", closest.zone_name)], near_when(closest)),
            None => (
                vec![format!("No loaded zone within {}", figures::limit(words.units(), 20.0))],
                Third::Fact("Check that these are the zones".into()),
            ),
        },
    }
}

fn when(visits: &[&VisitDocument<'_>]) -> Vec<String> {
    match visits {
        [visit] => match from_to(&visit.entered, &visit.left) {
            Some(span) => vec![span],
            None => vec!["When is not known: a log without times".into(), "When is not known".into()],
        },
        several => {
            let first = several.iter().find_map(|visit| visit.entered.time);
            let with = first.map(|first| format!("{} visits, first {}", several.len(), minute(first)));
            with.into_iter().chain([format!("{} visits", several.len())]).collect()
        }
    }
}

/// Writes a span of time for a heading: `2026-07-25 06:31 to 06:43 UTC`.
fn from_to(from: &MomentDocument, to: &MomentDocument) -> Option<String> {
    let (from, to) = (from.time?, to.time?);
    let day = |time: jiff::Timestamp| time.strftime("%Y-%m-%d").to_string();
    let end = if day(from) == day(to) { to.strftime("%H:%M") } else { to.strftime("%m-%d %H:%M") };
    Some(format!("{} to {end} UTC", from.strftime("%Y-%m-%d %H:%M")))
}

fn near_when(closest: &ClosestDocument<'_>) -> Third {
    Third::Fact(closest.at.time.map_or_else(|| "When is not known".into(), minute))
}

fn deepest(words: &(impl Words + ?Sized), visits: &[&VisitDocument<'_>]) -> Third {
    let depth_m =
        |visit: &VisitDocument<'_>| visit.deepest.map_or(f64::NEG_INFINITY, takeline::Metres::metres);
    let deepest = visits.iter().max_by(|one, other| depth_m(one).total_cmp(&depth_m(other)));
    Third::Fact(deepest.map_or_else(String::new, |visit| {
        let depth = words.depth(visit);
        if visits.iter().all(|other| other.zone_id == visit.zone_id) {
            format!("Deepest: {depth}")
        } else {
            format!("Deepest: {depth}, {}", visit.zone_name)
        }
    }))
}

fn at_most(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    visits: &[&VisitDocument<'_>],
) -> Vec<String> {
    let longest =
        visits.iter().max_by(|one, other| seconds(one.possible_s).total_cmp(&seconds(other.possible_s)));
    let Some(visit) = longest else { return vec![String::new()] };
    let silence = document.long_silence(visit).filter(|_| visit.evidence == Evidence::Gap);
    if let Some(silence) = silence {
        // hours ashore are no hours perhaps inside; the figure that matters is how long nothing is known
        return vec![log::silence_words(silence)];
    }
    if visit.evidence == Evidence::Gap && visit.possible_s.is_none() {
        let times = if visits.len() > 1 { format!("{} times; ", visits.len()) } else { String::new() };
        return vec![
            format!("{times}How long is not known, in a gap of the log"),
            "How long is not known".into(),
        ];
    }
    let most = words.possible_span(visit);
    let many =
        if visits.len() > 1 { format!("{} times, at most {most} each", visits.len()) } else { String::new() };
    let one = match visit.evidence {
        Evidence::Gap => format!("At most {most}, in a gap of the log"),
        Evidence::BetweenFixes => match visit.off_the_way {
            Some(off) => format!("At most {most}, between fixes {} apart", span(off.seconds)),
            None => format!("At most {most}, between two fixes"),
        },
        Evidence::Fixes if visit.suspect => format!("At most {most}, by suspect fixes alone"),
        Evidence::Fixes => format!("At most {most}; {}", words.depth(visit)),
    };
    if many.is_empty() { vec![one, format!("At most {most}")] } else { vec![many, format!("At most {most}")] }
}

/// What would settle the first visit that is not.
fn settle(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    visits: &[&VisitDocument<'_>],
) -> Third {
    let settings = document.audit_settings();
    let open = visits.iter().find(|visit| visit.certainty == Certainty::Possible);
    let way = match open {
        Some(visit) if visit.suspect => "another log; these fixes are suspect".into(),
        Some(visit)
            if visit.evidence == Evidence::Gap
                && document.long_silence(visit).is_some_and(|gap| gap.may_be_pause) =>
        {
            "if you were ashore meanwhile, --new-trip-after-h 6".into()
        }
        Some(visit) if (is_in_reach_only(visit) || visit.gaps > 0) && !settings.top_speed_given => {
            let assumed = figures::assumed_speed(words.units(), settings.top_speed_kn);
            format!("give --top-speed-kn ({assumed} is assumed)")
        }
        Some(visit) if visit.evidence == Evidence::BetweenFixes && !document.is_plan() => {
            "a log with more fixes".into()
        }
        Some(visit) if visit.evidence == Evidence::Gap => {
            "a log without this gap, from another device".into()
        }
        Some(_) if settings.digits_step_deg.is_some() => "a log with more digits".into(),
        Some(_)
            if settings.uncertainty.source() == UncertaintySource::Assumed
                && document.audited_quality().without_accuracy > 0 =>
        {
            let assumed = figures::whole(words.units(), settings.uncertainty.radius_95().metres());
            format!("give --accuracy-m ({assumed} is assumed where the log has none)")
        }
        None if settings.dates_doubtful && document.zone_unknown().is_some() => {
            "write the log's times with their offset from UTC".into()
        }
        None if settings.dates_doubtful => "find out the true dates of the log".into(),
        None if document.is_plan() => "say when you mean to go, and ask again there and then".into(),
        None if visits.iter().any(|visit| visit.possible_s.is_none()) => "a log with times".into(),
        None if visits.iter().any(|visit| visit.in_force == Tristate::Undecided) => {
            "find out whether it was in force, see below".into()
        }
        None if settings.access.is_none() && visits.iter().any(|visit| binds_some(document, visit)) => {
            "give --access boat, shore or diving".into()
        }
        Some(_) | None => "nothing in this log will do".into(),
    };
    settled_by(&way)
}

/// Whether nothing but the top speed lets the boat have been inside.
fn is_in_reach_only(visit: &VisitDocument<'_>) -> bool {
    visit.evidence == Evidence::Gap || visit.off_the_way.is_some()
}

/// Whether the rule of a visit, or one that displaces it, binds only some ways of fishing.
fn binds_some(document: &TrackDocument<'_>, visit: &VisitDocument<'_>) -> bool {
    let displacing =
        document.zones().zones().iter().filter(|zone| visit.displaced_by.contains(&zone.id.0.as_str()));
    visit.zone.into_iter().chain(displacing).any(|zone| !zone.rule.binds.is_empty())
}

/// Catches by answer, harshest first.
fn catches(words: &(impl Words + ?Sized), document: &TrackDocument<'_>) -> Option<String> {
    let counted: Vec<String> =
        [TakeAnswer::Release, TakeAnswer::Undecided, TakeAnswer::Keep, TakeAnswer::Unzoned]
            .into_iter()
            .map(|answer| {
                let such = || document.catches.iter().filter(move |caught| caught.answer == answer);
                (
                    such().count(),
                    such().filter(|caught| caught.is_lowered_by_carrying).count(),
                    words.take_answer(answer),
                )
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
