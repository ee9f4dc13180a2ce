//! The first lines: is anything against a rule, what happened, and what is to be known of that.

use takeline::rule::Condition;
use takeline::track::{Certainty, ConditionReason, Evidence, OutcomeReason};
use takeline::{TakeAnswer, Tristate, UncertaintySource};

use super::log;
use crate::figures;
use crate::track::times::{counted, minute, span};
use crate::track::{
    CatchDocument, ClosestDocument, Headline, Judged, MomentDocument, Third, TrackDocument, Verdict,
    VisitDocument,
};
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

/// One sentence of the first two lines, or of all three where the third tells more.
pub(crate) fn sentence(headline: &Headline) -> String {
    let mut lines = headline.longest();
    lines.retain(|line| !line.is_empty());
    let (first, rest) = lines.split_first().map_or((String::new(), &[][..]), |(first, rest)| {
        let plain = match first.as_str() {
            NOTHING_AGAINST => "Nothing in this log is against a loaded rule".to_owned(),
            other => other
                .replace("AGAINST A LOADED RULE", "Against a loaded rule")
                .replace("NOT SETTLED", "Not settled"),
        };
        (plain, rest)
    });
    let rest: Vec<String> = rest.iter().map(|line| line.trim_end_matches('.').to_owned()).collect();
    let text = std::iter::once(first).chain(rest).collect::<Vec<_>>().join(". ");
    format!("{}.", text.trim_end_matches('.'))
}

/// The verdict of a trip that keeps to the rules, as far as its log shows.
const NOTHING_AGAINST: &str = "NOTHING AGAINST A LOADED RULE";

/// The first line, longest form first.
fn first(words: &(impl Words + ?Sized), document: &TrackDocument<'_>, verdict: &Verdict<'_>) -> Vec<String> {
    match verdict {
        Verdict::NoFix => vec!["NOT SETTLED: there is no fix in this log".into()],
        Verdict::MostlySuspect(_) => vec![
            "NOT SETTLED: most fixes cannot be right".into(),
            "NOT SETTLED: most fixes look wrong".into(),
        ],
        Verdict::Misread(misreading) => log::misread_first(words, document, misreading),
        Verdict::Torn => vec![
            "NOT SETTLED: the log jumps as no boat does".into(),
            "NOT SETTLED: no boat jumps like this".into(),
        ],
        Verdict::AccuracyUnread => vec![
            "NOT SETTLED: its accuracy cannot be read".into(),
            "NOT SETTLED: accuracy cannot be read".into(),
        ],
        Verdict::Against(found) => against(document, found),
        Verdict::Undecided(found) => undecided(document, found),
        Verdict::LineUnknown(zone) => vec![
            format!("NOT SETTLED: it is not known where {} is", zone.name),
            "NOT SETTLED: a boundary is not known".into(),
        ],
        Verdict::PositionsLost => {
            vec!["NOT SETTLED: positions could not be read".into(), "NOT SETTLED: positions not read".into()]
        }
        Verdict::NothingAgainst(_) => vec![NOTHING_AGAINST.into()],
        Verdict::Never => never(words, document),
    }
}

/// What is against a rule, in a word or two.
fn against(document: &TrackDocument<'_>, found: &Judged<'_>) -> Vec<String> {
    let of_visit = if document.is_plan() {
        (!found.visits.is_empty()).then(|| format!("would cross {}", names(&found.visits).join(" and ")))
    } else {
        found.visits.first().and_then(|visit| what_of_visit(visit))
    };
    let of_catch = found.catches.first().and_then(|caught| what_of_catch(caught));
    let what = of_visit.into_iter().chain(of_catch).collect::<Vec<_>>();
    let first = what.first().map(|what| format!("AGAINST A LOADED RULE: {what}"));
    let both = (what.len() > 1).then(|| format!("AGAINST A LOADED RULE: {}", what.join(", ")));
    let short = what.first().map(|what| format!("AGAINST A RULE: {what}"));
    let last = short.is_none().then(|| "AGAINST A LOADED RULE".to_owned());
    both.into_iter().chain(first).chain(short).chain(last).collect()
}

#[expect(clippy::wildcard_enum_match_arm, reason = "no other reason is against a rule")]
fn what_of_visit(visit: &VisitDocument<'_>) -> Option<String> {
    visit.outcome.because_codes.iter().find_map(|reason| match reason {
        OutcomeReason::TermBroken { because, .. } => because.iter().find_map(|why| match why {
            ConditionReason::LongestStop { duration_s } => Some(format!("stopped {}", span(*duration_s))),
            ConditionReason::SlowerFor { duration_s } => Some(format!("too slow for {}", span(*duration_s))),
            _ => None,
        }),
        OutcomeReason::CrossingForbidden { .. } => {
            let bound_s = visit.outcome.binds_certain_s.filter(|seconds| *seconds > 0.0);
            Some(bound_s.map_or_else(
                || "inside at a fix".to_owned(),
                |seconds| format!("inside for {}", span(seconds)),
            ))
        }
        _ => None,
    })
}

#[expect(clippy::wildcard_enum_match_arm, reason = "no other reason is against a rule")]
fn what_of_catch(caught: &CatchDocument<'_>) -> Option<String> {
    caught.outcome.because.iter().find_map(|reason| match reason {
        OutcomeReason::Kept { asked, .. } => Some(format!("kept {asked}")),
        OutcomeReason::Carried { asked, .. } => Some(format!("carried {asked}")),
        _ => None,
    })
}

#[expect(
    clippy::wildcard_enum_match_arm,
    reason = "the others have the words of a visit that is not settled"
)]
#[expect(clippy::too_many_lines, reason = "one line for each way of being undecided")]
fn undecided(document: &TrackDocument<'_>, found: &Judged<'_>) -> Vec<String> {
    let Some(visit) = found.visits.first() else {
        let count = counted(found.catches.len() as u64, "catch", "catches");
        return vec![format!("NOT SETTLED: what the rules say of {count}"), format!("NOT SETTLED: {count}")];
    };
    let names = names(&found.visits);
    let name = names.join(" or ");
    if found.visits.iter().all(|visit| visit.certainty == Certainty::Possible) {
        if document.is_plan() {
            return vec![
                format!("NOT SETTLED: this plan may cross {name}"),
                format!("NOT SETTLED: may cross {name}"),
            ];
        }
        return vec![
            format!("NOT SETTLED: may have been inside {name}"),
            format!("NOT SETTLED: perhaps in {name}"),
        ];
    }
    let sure = found.visits.iter().find(|visit| visit.certainty == Certainty::Certain).unwrap_or(visit);
    if document.is_plan() && sure.binds != Tristate::Yes {
        return vec![
            format!("NOT SETTLED: this plan may cross {name}"),
            format!("NOT SETTLED: may cross {name}"),
        ];
    }
    let name = sure.zone_name;
    for reason in &sure.outcome.because_codes {
        match reason {
            OutcomeReason::TermUnsettled { condition: Condition::MinSpeed { .. }, .. } => {
                return vec![
                    format!("NOT SETTLED: perhaps too slow in {name}"),
                    "NOT SETTLED: perhaps too slow".into(),
                ];
            }
            OutcomeReason::TermUnsettled { .. } => {
                return vec![
                    format!("NOT SETTLED: perhaps stopped too long in {name}"),
                    "NOT SETTLED: perhaps stopped too long".into(),
                ];
            }
            OutcomeReason::TermBroken { .. } => {
                return vec![
                    format!("NOT SETTLED: crossing {name}, or fishing there"),
                    "NOT SETTLED: crossing, or fishing there".into(),
                ];
            }
            _ => {}
        }
    }
    if sure.binds == Tristate::Yes {
        let there = if document.is_plan() { "Would cross" } else { "Inside" };
        return vec![
            format!("NOT SETTLED: {} {name}; may a boat be there?", there.to_lowercase()),
            "NOT SETTLED: may a boat be there?".into(),
        ];
    }
    let (long, short) = if sure.in_force == Tristate::Yes {
        ("perhaps not bound by it", "bound or not")
    } else {
        ("perhaps not in force", "in force or not")
    };
    vec![format!("NOT SETTLED: inside {name}, {long}"), format!("NOT SETTLED: {short}: {name}")]
}

/// What was done in which zone, each zone once, in one clause: `Crossed Sallow Cove Reserve twice, 30 min each`.
fn happened(document: &TrackDocument<'_>, visits: &[&VisitDocument<'_>]) -> Vec<String> {
    let names = names(visits);
    let mut clauses = Vec::new();
    for name in &names {
        let of_zone: Vec<_> = visits.iter().copied().filter(|visit| visit.zone_name == *name).collect();
        clauses.push(clause(document, name, &of_zone));
    }
    let mut lines = vec![clauses.iter().map(|(long, _)| long.clone()).collect::<Vec<_>>().join("; ")];
    if let [(_, short)] = clauses.as_slice() {
        lines.push(short.clone());
        let why = not_bound_why(visits);
        lines.extend((!why.is_empty()).then(|| format!("{}{why}", names.join(" "))));
    } else {
        lines.push(clauses.iter().map(|(_, short)| short.clone()).collect::<Vec<_>>().join("; "));
        lines.push(format!("In {} zones: {}", names.len(), names.join(", ")));
        lines.push(format!("In {}", names.join(", ")));
        lines.push(format!("In {} zones", names.len()));
    }
    lines
}

/// The clause for one zone, long and short.
fn clause(document: &TrackDocument<'_>, name: &str, visits: &[&VisitDocument<'_>]) -> (String, String) {
    let certain: Vec<_> =
        visits.iter().copied().filter(|visit| visit.certainty == Certainty::Certain).collect();
    let is = |code: fn(&OutcomeReason) -> bool| {
        visits.iter().all(|visit| visit.outcome.because_codes.iter().any(code))
    };
    let may_cross = is(|reason| matches!(reason, OutcomeReason::CrossingAllowed { .. }));
    let verb = match (document.is_plan(), may_cross) {
        (true, _) if certain.is_empty() => "This plan may cross",
        (true, _) => "This plan would cross",
        (false, true) if !certain.is_empty() => "Crossed",
        (false, _) if certain.is_empty() => "Perhaps in",
        (false, _) => "Inside",
    };
    let counted: &[&VisitDocument<'_>] = if certain.is_empty() { visits } else { &certain };
    let times = match counted.len() {
        1 => String::new(),
        2 => " twice".to_owned(),
        several => format!(" {several} times"),
    };
    let seconds = |visit: &VisitDocument<'_>| {
        if certain.is_empty() { visit.possible_s } else { visit.certain_s }
    };
    let longest = counted.iter().filter_map(|visit| seconds(visit)).max_by(f64::total_cmp);
    let shortest = counted.iter().filter_map(|visit| seconds(visit)).min_by(f64::total_cmp);
    let long = match (longest, shortest) {
        (Some(longest), _) if longest <= 0.0 => String::new(),
        (Some(longest), _) if certain.is_empty() => format!(", at most {}", span(longest)),
        (Some(longest), Some(shortest)) if counted.len() > 1 => {
            if span(longest) == span(shortest) {
                format!(", {} each", span(longest))
            } else {
                format!(", {} to {}", span(shortest), span(longest))
            }
        }
        (Some(longest), _) if verb == "Inside" => format!(" for {}", span(longest)),
        (Some(longest), _) => format!(" in {}", span(longest)),
        (None, _) => String::new(),
    };
    let long = if document.is_plan() { String::new() } else { long };
    let why = not_bound_why(visits);
    (format!("{verb} {name}{times}{long}{why}"), format!("{verb} {name}{times}{why}"))
}

/// Why a zone's rule did not bind at any visit, if it did not.
fn not_bound_why(visits: &[&VisitDocument<'_>]) -> &'static str {
    let all = |code: fn(&OutcomeReason) -> bool| {
        visits.iter().all(|visit| visit.outcome.because_codes.iter().any(code))
    };
    if all(|reason| matches!(reason, OutcomeReason::NotInForce)) {
        ", not in force then"
    } else if all(|reason| matches!(reason, OutcomeReason::DisplacedThen)) {
        ", displaced then"
    } else if all(|reason| matches!(reason, OutcomeReason::OtherAccess)) {
        ", for other ways of fishing"
    } else {
        ""
    }
}

/// What is to be said of a trip with nothing against a rule: terms kept, or what a log does not show.
fn nothing_against_third(document: &TrackDocument<'_>, visits: &[&VisitDocument<'_>]) -> Third {
    let any = |code: fn(&OutcomeReason) -> bool| {
        visits.iter().any(|visit| visit.outcome.because_codes.iter().any(code))
    };
    let fact = if document.is_plan() {
        "A plan, not a trip"
    } else if any(|reason| matches!(reason, OutcomeReason::TermKept { .. })) {
        if visits.iter().any(|visit| document.has_pause(visit)) {
            "Terms kept while it was logged"
        } else {
            "Terms kept, as far as a log shows"
        }
    } else if any(|reason| matches!(reason, OutcomeReason::CrossingAllowed { .. })) {
        "A log does not show gear, lines or fish"
    } else if any(|reason| matches!(reason, OutcomeReason::SomethingMayBeTaken)) {
        "Fish may be taken there, within limits"
    } else if any(|reason| matches!(reason, OutcomeReason::RestrictsNothing)) {
        "Its rule restricts nothing"
    } else {
        return when(visits).into_iter().next().map_or_else(Third::default, Third::Fact);
    };
    Third::Fact(fact.to_owned())
}

/// Which zone, when, and what its rule asks.
#[expect(clippy::wildcard_enum_match_arm, reason = "the others say nothing of what to do")]
fn against_further(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    found: &Judged<'_>,
) -> (Vec<String>, Third) {
    let more = (found.visits.len() + found.catches.len()).saturating_sub(1);
    let more = if more > 0 { format!(", and {more} more below") } else { String::new() };
    if let Some(visit) = found.visits.first() {
        let name = visit.zone_name;
        let when = from_to(&visit.entered, &visit.left).map(|when| format!("{name}, {when}{more}"));
        let day = visit.entered.time.map(|time| format!("{name}, {}{more}", time.strftime("%Y-%m-%d")));
        let second = when.into_iter().chain(day).chain([format!("{name}{more}"), name.to_owned()]).collect();
        let asked = visit.outcome.because_codes.iter().find_map(|reason| match reason {
            OutcomeReason::TermBroken { condition, .. } => {
                Some(format!("Its rule: {}", words.crossing_condition(condition)))
            }
            OutcomeReason::CrossingForbidden { .. } => Some("Its rule lets no boat be there".to_owned()),
            _ => None,
        });
        let third = if document.is_plan() { Some("A plan, not a trip".to_owned()) } else { asked };
        return (second, Third::Fact(third.unwrap_or_default()));
    }
    let Some(caught) = found.catches.first() else { return (vec![String::new()], Third::default()) };
    let because = caught.outcome.because.first().map(|reason| words.outcome_reason(reason));
    let because = because.unwrap_or_default();
    let short = caught.time.map_or_else(|| because.clone(), |time| format!("Caught {}", minute(time)));
    let why = caught.because.first().cloned().unwrap_or_default();
    (vec![format!("{because}{more}"), short], Third::Fact(format!("Because: {why}")))
}

/// Why it is not settled, where the boat surely was inside or a catch leaves it open; and what settles it.
#[expect(clippy::wildcard_enum_match_arm, reason = "the others say nothing of what to do")]
fn unsettled_further(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    found: &Judged<'_>,
) -> (Vec<String>, Third) {
    let visits = found.visits.as_slice();
    let Some(first) = visits.first() else {
        let caught = found.catches.first();
        let why = caught.and_then(|caught| caught.outcome.because.first());
        let why = why.map_or_else(String::new, |reason| words.outcome_reason(reason));
        return (vec![why], settled_by("see under CATCHES"));
    };
    if visits.iter().all(|visit| visit.certainty == Certainty::Possible) {
        return (at_most(words, document, visits), settle(words, document, visits));
    }
    let sure = visits.iter().copied().find(|visit| visit.certainty == Certainty::Certain).unwrap_or(first);
    for reason in &sure.outcome.because_codes {
        match reason {
            OutcomeReason::TermUnsettled { because, .. } | OutcomeReason::TermBroken { because, .. } => {
                let why = because.first().map(|reason| words.condition_reason(*reason)).unwrap_or_default();
                let second = vec![format!("{}: {why}", sure.zone_name), why];
                let way = match reason {
                    OutcomeReason::TermBroken { .. } => "say what was done there; a log does not show it",
                    _ if because.contains(&ConditionReason::PerhapsAshore) => {
                        "was it afloat then, or on the beach?"
                    }
                    _ if because.contains(&ConditionReason::NotAllLogged) => {
                        "a log with times and without gaps there"
                    }
                    _ => "a log with more fixes, or more exact ones",
                };
                return (second, settled_by(way));
            }
            OutcomeReason::CrossingUnsaid if sure.binds == Tristate::Yes => {
                let name = sure.zone_name;
                return (
                    vec![
                        format!("The zone file does not say so of {name}"),
                        "The zone file does not say".into(),
                    ],
                    settled_by("find out, and add \"crossing\" to the zone in its file"),
                );
            }
            OutcomeReason::CrossingUnsettled { .. } if sure.binds == Tristate::Yes => {
                let name = sure.zone_name;
                return (
                    vec![
                        format!("The zone file leaves it open for {name}"),
                        "The zone file leaves it open".into(),
                    ],
                    settled_by("ask the office that made the rule"),
                );
            }
            _ => {}
        }
    }
    (at_most(words, document, visits), settle(words, document, visits))
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
                why.unwrap_or_else(|| (vec!["Nothing was judged".into()], "give a log with positions"));
            (second, settled_by(way))
        }
        Verdict::Misread(misreading) => {
            let (second, way) = log::misread_further(document, misreading);
            (second, settled_by(&way))
        }
        Verdict::Torn => (
            log::torn_second(words, document.audited_quality()),
            settled_by(
                "find out which side of the jump is wrong, or give --top-speed if the boat is that fast",
            ),
        ),
        Verdict::AccuracyUnread => (
            vec!["So it is not known how near it came".into()],
            settled_by("write it in metres from 0 up, as in 40.5, or leave it empty"),
        ),
        Verdict::MostlySuspect(doubt) => {
            (log::suspect_second(words, *doubt), settled_by(log::suspect_settle(doubt.worst)))
        }
        Verdict::Against(found) => against_further(words, document, found),
        Verdict::NothingAgainst(visits) => {
            (happened(document, visits), nothing_against_third(document, visits))
        }
        Verdict::Undecided(found)
            if !found.visits.is_empty() && document.is_open_for_its_dates(&found.visits) =>
        {
            let why = if document.zone_unknown().is_some() {
                "The times of the log have no offset from UTC"
            } else {
                "The dates of the log may be wrong"
            };
            (vec![why.into()], settle(words, document, &found.visits))
        }
        Verdict::Undecided(found) => unsettled_further(words, document, found),
        Verdict::LineUnknown(zone) => {
            (vec![zone.name.clone()], settled_by("a zone file that says where its boundary runs"))
        }
        Verdict::PositionsLost => (
            log::lost_second(document.audited_quality()),
            settled_by("correct the places listed under READING"),
        ),
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
        Some(visit) if visit.suspect => "another log: these fixes are suspect".into(),
        Some(visit)
            if visit.evidence == Evidence::Gap
                && document.long_silence(visit).is_some_and(|gap| gap.may_be_pause) =>
        {
            "if you were ashore meanwhile, --new-trip-after-h 6".into()
        }
        Some(visit) if (is_in_reach_only(visit) || visit.gaps > 0) && !settings.top_speed_given => {
            let assumed = figures::assumed_speed(words.units(), settings.top_speed_kn);
            format!("give --top-speed ({assumed} is assumed)")
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
            format!("give --accuracy ({assumed} is assumed where the log has none)")
        }
        None if settings.dates_doubtful && document.zone_unknown().is_some() => {
            "write the log's times with their offset from UTC".into()
        }
        None if settings.dates_doubtful => "find out the true dates of the log".into(),
        None if document.is_plan() => "say when you mean to go, and ask again when you are there".into(),
        None if visits.iter().any(|visit| visit.possible_s.is_none()) => "a log with times".into(),
        None if visits.iter().any(|visit| visit.in_force == Tristate::Undecided) => {
            "find out whether it was in force, see below".into()
        }
        None if settings.access.is_none() && visits.iter().any(|visit| binds_some(document, visit)) => {
            "give --access boat, shore or diving".into()
        }
        Some(_) | None => return Third::Settle("Nothing in this log can settle it".into()),
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
