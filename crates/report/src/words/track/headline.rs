//! The first lines: is anything against a rule, what happened, and what is to be known of that.

use takeline::rule::Condition;
use takeline::track::{Certainty, ConditionReason, Evidence, OutcomeAnswer, OutcomeReason, VisitEnd};
use takeline::zone::Zone;
use takeline::{Tristate, UncertaintySource};
use textwrap::core::display_width;

use super::log;
use crate::figures;
use crate::lines::cut;
use crate::track::times::{counted, minute, plain_span, span, way};
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
    let counted = catches(document);
    let catches = counted.first().cloned();
    Headline { first: first(words, document, verdict), catches, catches_in_short: counted, second, third }
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
            other => other.replace("AGAINST A RULE", "Against a rule").replace("NOT SETTLED", "Not settled"),
        };
        (plain, rest)
    });
    let rest: Vec<String> = rest.iter().map(|line| line.trim_end_matches('.').to_owned()).collect();
    let text = std::iter::once(first).chain(rest).collect::<Vec<_>>().join(". ").replace("?. ", "? ");
    if text.ends_with('?') { text } else { format!("{}.", text.trim_end_matches('.')) }
}

/// The verdict of a trip whose log shows something against a loaded rule; the same words at every width.
const AGAINST: &str = "AGAINST A RULE";

/// The verdict where a zone file was no longer valid.
const OUT_OF_DATE: &str = "NOT SETTLED: the zone file had expired";

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
        Verdict::OnLand(_) => vec![
            "NOT SETTLED: most of this log lies on land".into(),
            "NOT SETTLED: most of it is on land".into(),
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
        Verdict::CatchesUnread(rows) => {
            vec![format!("NOT SETTLED: {} not read", counted(*rows, "catch row", "catch rows"))]
        }
        Verdict::Expired(_) => vec![OUT_OF_DATE.into()],
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
    let first = what.first().map_or_else(|| AGAINST.to_owned(), |what| format!("{AGAINST}: {what}"));
    let both = (what.len() > 1).then(|| format!("{AGAINST}: {}", what.join(", ")));
    both.into_iter().chain([first]).collect()
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
            OutcomeReason::FileExpired { .. } => return vec![OUT_OF_DATE.into()],
            OutcomeReason::TooLittleToBeSure { .. } | OutcomeReason::PerhapsAshore { .. } => {
                return vec![
                    format!("NOT SETTLED: may have been inside {name}"),
                    format!("NOT SETTLED: perhaps in {name}"),
                ];
            }
            OutcomeReason::PerhapsNotCrossing { .. } => return was_that_crossing(name),
            OutcomeReason::TermUnsettled { because, .. } if because.iter().any(is_of_the_course) => {
                return was_that_crossing(name);
            }
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
    let may_fish = |reason: &OutcomeReason| matches!(reason, OutcomeReason::FishingIsAllowed);
    if sure.outcome.because_codes.iter().any(may_fish) {
        return vec![
            format!("NOT SETTLED: {name}: fishing there, or only crossing?"),
            "NOT SETTLED: fishing, or only crossing?".into(),
        ];
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

fn was_that_crossing(name: &str) -> Vec<String> {
    vec![format!("NOT SETTLED: was that crossing {name}?"), "NOT SETTLED: was that crossing?".into()]
}

/// Why a catch is not settled, in less than forty columns.
#[expect(clippy::wildcard_enum_match_arm, reason = "no other reason leaves a catch open")]
fn catch_in_short(reason: &OutcomeReason) -> Option<&'static str> {
    match reason {
        OutcomeReason::PutBackWhereNothingMayBeTaken { .. } => Some("Put back where nothing may be taken"),
        OutcomeReason::KeptUnsaid { .. } => Some("Was it kept? The row does not say"),
        OutcomeReason::CatchUnsettled { .. } => Some("Whether it might be kept is open"),
        OutcomeReason::FileExpired { .. } => Some("The zone file had expired"),
        _ => None,
    }
}

/// Until when the file of a zone was valid, and what to do.
fn expired(words: &(impl Words + ?Sized), name: &str, zone: &Zone) -> (Vec<String>, Third) {
    let until = zone.file.valid_until.map_or_else(String::new, |until| {
        // the end of a day is that day
        words.until(&until.to_zoned_datetime(zone.time_zone.clone())).replace(" 24:00", "")
    });
    (
        vec![format!("{name}: zone file valid until {until} only"), format!("Valid until {until} only")],
        settled_by("get the current zone file"),
    )
}

/// Whether a reason is that the boat did not plainly go through.
fn is_of_the_course(reason: &ConditionReason) -> bool {
    matches!(
        reason,
        ConditionReason::Wandered { .. }
            | ConditionReason::OverOneSide { .. }
            | ConditionReason::NotGettingOn { .. }
            | ConditionReason::LogWithinZone
    )
}

/// How a boat went that did not plainly go through, with the zone and without.
#[expect(clippy::wildcard_enum_match_arm, reason = "no other reason is of the course")]
fn course_in_short(words: &(impl Words + ?Sized), name: &str, reason: ConditionReason) -> Vec<String> {
    let what = match reason {
        ConditionReason::Wandered { way: inside, duration_s } => {
            let time =
                duration_s.map_or_else(String::new, |duration_s| format!(" in {}", plain_span(duration_s)));
            format!("{} to and fro{time}", way(words.units(), inside))
        }
        ConditionReason::NotGettingOn { duration_s } => {
            format!("{} without getting on", plain_span(duration_s))
        }
        ConditionReason::OverOneSide { .. } => "in and out over one side".to_owned(),
        ConditionReason::LogWithinZone => "log begins and ends inside".to_owned(),
        other => words.condition_reason(other),
    };
    let short = what.chars().next().map_or_else(String::new, |first| first.to_uppercase().collect());
    let rest: String = what.chars().skip(1).collect();
    vec![format!("{name}: {what}"), format!("{short}{rest}")]
}

/// Clauses as one sentence: those after the first do not begin with a capital.
fn in_one<'c>(clauses: impl Iterator<Item = &'c str>) -> String {
    let begun = |(number, clause): (usize, &str)| {
        let mut letters = clause.chars();
        match letters.next() {
            Some(first) if number > 0 => first.to_lowercase().chain(letters).collect(),
            _ => clause.to_owned(),
        }
    };
    clauses.enumerate().map(begun).collect::<Vec<String>>().join("; ")
}

/// What was done in which zone, each zone once, in one clause: `Crossed Sallow Cove Reserve twice, 30 min each`.
fn happened(document: &TrackDocument<'_>, visits: &[&VisitDocument<'_>]) -> Vec<String> {
    let names = names(visits);
    let mut clauses = Vec::new();
    for name in &names {
        let of_zone: Vec<_> = visits.iter().copied().filter(|visit| visit.zone_name == *name).collect();
        clauses.push(clause(document, name, &of_zone));
    }
    let mut lines = vec![in_one(clauses.iter().map(|one| one.long.as_str()))];
    if let [one] = clauses.as_slice() {
        lines.push(one.brief.clone());
        let why = not_bound_why(visits);
        lines.extend((!why.is_empty()).then(|| format!("{}{why}", names.join(" "))));
    } else {
        lines.push(in_one(clauses.iter().map(|one| one.brief.as_str())));
        let longest = clauses.iter().filter_map(|one| one.longest_s).max_by(f64::total_cmp);
        let longest = longest.filter(|longest| *longest > 0.0 && !document.is_plan());
        let longest = longest.map_or_else(String::new, |longest| format!(", up to {}", span(longest)));
        let is_crossing = clauses.iter().all(|one| one.verb == "Crossed");
        let verb = if is_crossing { "Crossed" } else { "In" };
        lines.push(format!("{verb} {} zones{longest}: {}", names.len(), names.join(", ")));
        lines.push(format!("{verb} {}{longest}", names.join(", ")));
        lines.push(format!("{verb} {} zones{longest}", names.len()));
    }
    lines
}

/// The clause for one zone, long and brief.
#[expect(clippy::too_many_lines, reason = "one form for each way of having been there")]
fn clause(document: &TrackDocument<'_>, name: &str, visits: &[&VisitDocument<'_>]) -> Clause {
    let certain: Vec<_> =
        visits.iter().copied().filter(|visit| visit.certainty == Certainty::Certain).collect();
    let is = |code: fn(&OutcomeReason) -> bool| {
        visits.iter().all(|visit| visit.outcome.because_codes.iter().any(code))
    };
    let may_cross = is(|reason| matches!(reason, OutcomeReason::CrossingAllowed { .. }));
    let is_crossing = || may_cross && certain.iter().all(|visit| visit.course.is_crossing());
    let at_shore = by_shore(&certain).filter(|_| !certain.is_empty() && !document.is_plan() && is_crossing());
    let verb = if document.is_plan() {
        if certain.is_empty() { "This plan may cross" } else { "This plan would cross" }
    } else if certain.is_empty() {
        "Perhaps in"
    } else if is_crossing() {
        at_shore.map_or("Crossed", |(verb, _)| verb)
    } else if may_cross && certain.iter().all(|visit| visit.course.came_in && visit.course.went_out) {
        "In and out of"
    } else {
        "Inside"
    };
    let counted: &[&VisitDocument<'_>] = if certain.is_empty() { visits } else { &certain };
    let times = match counted.len() {
        1 => String::new(),
        _ if at_shore.is_some_and(|(_, over)| over == OUT_AND_IN) => String::new(),
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
        (Some(longest), _) if verb == "Crossed" || at_shore.is_some() => format!(" in {}", span(longest)),
        (Some(longest), _) => format!(", {}", span(longest)),
        (None, _) => String::new(),
    };
    let long = if document.is_plan() { String::new() } else { long };
    let over = at_shore.map_or("", |(_, over)| over);
    let why = not_bound_why(visits);
    let spans = longest.filter(|longest| *longest > 0.0 && !document.is_plan()).map(|longest| {
        let most = if certain.is_empty() { "at most " } else { "" };
        let up_to =
            if shortest.is_some_and(|shortest| span(shortest) != span(longest)) { "up to " } else { "" };
        match counted.len() {
            1 => format!("{most}{}", span(longest)),
            several => format!("{several} × {most}{up_to}{}", span(longest)),
        }
    });
    // how long it was is worth more than the end of a name
    let brief = match spans.filter(|_| why.is_empty()) {
        Some(spans) => {
            let verb = at_shore.map_or(verb, |(_, over)| if over == OUT_AND_IN { "Crossed" } else { verb });
            let room = LEAST_COLUMNS.saturating_sub(display_width(verb) + display_width(&spans) + 3);
            let name = if display_width(name) > room { cut(room, name) } else { name.to_owned() };
            format!("{verb} {name}, {spans}")
        }
        None => format!("{verb} {name}{times}{why}"),
    };
    Clause { long: format!("{verb} {name}{over}{times}{long}{why}"), brief, verb, longest_s: longest }
}

const OUT_AND_IN: &str = ", crossed out and in";

/// What to call crossings that begin or end at the shore, before the name of the zone and after it; none where any does not.
fn by_shore(visits: &[&VisitDocument<'_>]) -> Option<(&'static str, &'static str)> {
    let is = |ends: (VisitEnd, VisitEnd)| {
        move |visit: &&&VisitDocument<'_>| (visit.began_at, visit.ended_at) == ends
    };
    let out = visits.iter().filter(is((VisitEnd::Shore, VisitEnd::Crossing))).count();
    let home = visits.iter().filter(is((VisitEnd::Crossing, VisitEnd::Shore))).count();
    match (out, home) {
        _ if out + home < visits.len() => None,
        (_, 0) => Some(("Launched inside", ", crossed out")),
        (0, _) => Some(("Landed inside", ", crossed in")),
        (1, 1) => Some(("Launched and landed inside", OUT_AND_IN)),
        (_, _) => None,
    }
}

/// What was done in one zone.
struct Clause {
    long: String,
    /// In so many columns as a line has at least, if it is about the time.
    brief: String,
    verb: &'static str,
    longest_s: Option<f64>,
}

/// Lines are as wide as this at least.
const LEAST_COLUMNS: usize = 40;

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
    (vec![format!("{because}{more}"), short], Third::Settle(format!("Because: {why}")))
}

/// Why it is not settled, where the boat surely was inside or a catch leaves it open; and what settles it.
#[expect(clippy::wildcard_enum_match_arm, reason = "the others say nothing of what to do")]
#[expect(clippy::too_many_lines, reason = "one answer for each way of being undecided")]
fn unsettled_further(
    words: &(impl Words + ?Sized),
    document: &TrackDocument<'_>,
    found: &Judged<'_>,
) -> (Vec<String>, Third) {
    let visits = found.visits.as_slice();
    let Some(first) = visits.first() else {
        let caught = found.catches.first();
        let why = caught.and_then(|caught| caught.outcome.because.first());
        let short = why.and_then(catch_in_short).map(str::to_owned);
        let why = why.map_or_else(String::new, |reason| words.outcome_reason(reason));
        return (std::iter::once(why).chain(short).collect(), settled_by("see under CATCHES"));
    };
    if visits.iter().all(|visit| visit.certainty == Certainty::Possible) {
        return (at_most(words, document, visits), settle(words, document, visits));
    }
    let sure = visits.iter().copied().find(|visit| visit.certainty == Certainty::Certain).unwrap_or(first);
    for reason in &sure.outcome.because_codes {
        if let OutcomeReason::TooLittleToBeSure { deepest, uncertainty_95, duration_s } = reason {
            let depth = figures::distance_with_doubt(words.units(), *deepest, *uncertainty_95);
            let time = duration_s.map_or_else(String::new, |duration_s| format!(" for {}", span(duration_s)));
            let second = vec![
                format!("{depth} inside{time}: too little to be sure"),
                format!("{depth} inside{time}: too little"),
                format!("{depth} inside{time}"),
            ];
            return (second, settled_by("a log with more exact fixes, as from a second device"));
        }
        if let OutcomeReason::PerhapsAshore { duration_s } = reason {
            let time = span(*duration_s);
            let second = vec![
                format!("{}: {time} at the shore, perhaps on the beach", sure.zone_name),
                format!("{time} at the shore, perhaps ashore"),
            ];
            return (second, settled_by("was it afloat then, or on the beach?"));
        }
        if let (OutcomeReason::FileExpired { .. }, Some(zone)) = (reason, sure.zone) {
            return expired(words, sure.zone_name, zone);
        }
        let of_the_course = match reason {
            OutcomeReason::PerhapsNotCrossing { because } => Some(*because),
            OutcomeReason::TermUnsettled { because, .. } => because.iter().copied().find(is_of_the_course),
            _ => None,
        };
        if let Some(because) = of_the_course {
            let way = "ask whether the law calls that crossing";
            return (course_in_short(words, sure.zone_name, because), settled_by(way));
        }
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
            OutcomeReason::FishingIsAllowed => {
                let name = sure.zone_name;
                return (
                    vec![
                        format!("{name}: a boat may be there only to fish"),
                        "A boat may be there only to fish".into(),
                    ],
                    settled_by("say what was done there; a log does not show it"),
                );
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
#[expect(clippy::too_many_lines, reason = "one arm for each verdict")]
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
        Verdict::OnLand(found) => {
            let (fixes, of) = (found.fixes, found.of);
            let second = vec![
                format!("{fixes} of {of} fixes lie on land by {}", found.coasts.join(" and ")),
                format!("{fixes} of {of} fixes lie on land"),
            ];
            (second, settled_by("was this a car, or is the datum or a sign of the log wrong?"))
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
        Verdict::CatchesUnread(_) => (
            vec![
                "What the rest of the log shows is against no loaded rule".into(),
                "The rest: nothing against a loaded rule".into(),
            ],
            settled_by("mend these rows of the catch log; the messages say how"),
        ),
        Verdict::Expired(zone) => {
            let name = zone.file.title.as_deref().unwrap_or(&zone.file.path);
            expired(words, name, zone)
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
        Some(visit) if visit.deepest.is_none() => format!("get the boundary of {}", visit.zone_name),
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

/// Catches by what came of them, what matters first: long, and for a narrow screen.
fn catches(document: &TrackDocument<'_>) -> Vec<String> {
    let count = |answer| document.catches.iter().filter(|caught| caught.outcome.answer == answer).count();
    let [against, open, fine] =
        [OutcomeAnswer::Against, OutcomeAnswer::Undecided, OutcomeAnswer::NothingAgainst].map(count);
    if against + open + fine == 0 {
        return Vec::new();
    }
    let said = |words: [&str; 3]| {
        let counted = [against, open, fine].into_iter().zip(words).filter(|(count, _)| *count > 0);
        counted.map(|(count, word)| format!("{count} {word}")).collect::<Vec<_>>().join(", ")
    };
    vec![
        format!("Catches: {}", said(["kept against a rule", "not settled", "fine"])),
        format!("Catches: {}", said(["against a rule", "not settled", "fine"])),
        format!("Caught: {}", said(["against", "not settled", "fine"])),
        format!("{} against, {} not settled", against, open),
    ]
}
