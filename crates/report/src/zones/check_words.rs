//! The words of what was found in a zone file.

#![expect(
    clippy::wildcard_enum_match_arm,
    reason = "each function has the words of some kinds, and passes the others on"
)]

use takeline::{Position, RingChange, sanitised};
use takeline_drafting::check::{Finding, FindingKind, Repair, SourceMember};

use crate::figures::{Units, length};

const M2_IN_NM2: f64 = 1852.0 * 1852.0;

/// What was found, as a sentence without a capital.
pub(super) fn text(finding: &Finding) -> String {
    match &finding.kind {
        FindingKind::Fault(fault) => fault_text(fault),
        FindingKind::MoreFaults(count) => format!("{count} more faults are not listed; mend these first"),
        FindingKind::Odd(warning) => warning.text.clone(),
        kind => shape_text(kind)
            .or_else(|| figure_text(kind))
            .or_else(|| time_text(kind))
            .unwrap_or_else(|| conformance_text(kind).to_owned()),
    }
}

/// The reader's text; what it offers stands among the repairs.
fn fault_text(fault: &takeline::zone_file::Fault) -> String {
    match fault.boundary.as_deref() {
        Some(takeline::BoundaryFault::SelfCrossing { other, near, .. }) => format!(
            "the edge that leaves it crosses the edge that leaves vertex {other} near {near}: a digit, a sign or the order of the rows is wrong"
        ),
        _ => fault.text.clone(),
    }
}

fn shape_text(kind: &FindingKind) -> Option<String> {
    Some(match kind {
        FindingKind::CornerOff { slight } => format!(
            "every other side runs along a parallel or a meridian, and one digit of this corner or the one beside it makes their side slant{}",
            if *slight { ", and hardly at all" } else { "; it may be meant so" }
        ),
        FindingKind::CornerMissing => {
            "a row may be missing after this vertex: every other side runs along a parallel or a meridian, and the side that leaves it cuts a corner off"
                .to_owned()
        }
        FindingKind::OtherNotation => {
            "is written in decimals of a degree, while all others of its ring are whole minutes or seconds or parts of them: minutes may have been typed as decimals"
                .to_owned()
        }
        FindingKind::MinutesAsDecimals { one_in, coordinates } => format!(
            "all decimals lie below .60, as minutes do ({coordinates} coordinates, those within a tenth of a degree counted once; by chance about 1 file in {one_in:.0}): compare one point with the law, in case 24°33.70' was typed as 24.3370"
        ),
        FindingKind::PrintedPrecision { half_m, coarsest_half_m } => {
            let half = short(*half_m);
            match coarsest_half_m {
                Some(coarsest_m) => format!(
                    "its coordinates are not printed alike: the last digit means {half} either way, that of the coarsest vertex {}",
                    short(*coarsest_m)
                ),
                None => format!(
                    "the last printed digit of its coordinates means {half} either way; if the law calls them approximate, write that as \"line_uncertainty_m\""
                ),
            }
        }
        FindingKind::SidesUnstated { apart_m } => format!(
            "the side that leaves it does not say how it runs, and its readings are {} apart; answers count that as uncertainty until \"edges\" says it",
            short(*apart_m)
        ),
        FindingKind::NearlyShared { other, apart_m, overlaps } => format!(
            "its side runs along {}, {} off: {}; if both laws mean one line, give both the same vertices",
            quoted(other),
            short(*apart_m),
            if *overlaps { "the two overlap by that sliver" } else { "a sliver of water lies between them" }
        ),
        FindingKind::NeighboursLeft { zones } => format!(
            "{zones} of its zones were not held against those beside them, because too many lie near each other: check them in smaller files"
        ),
        FindingKind::SameLine { other } => format!("has the same line as {}", quoted(other)),
        _ => return None,
    })
}

fn figure_text(kind: &FindingKind) -> Option<String> {
    Some(match kind {
        FindingKind::OutOfProportion { area_m2, median_m2: Some(median_m2) } => format!(
            "encloses {}, and half the zones of the file more than {}: compare its units and degrees with the law",
            area(*area_m2),
            area(*median_m2)
        ),
        FindingKind::OutOfProportion { area_m2, median_m2: None } => format!(
            "encloses {}, which is like no zone that we know of: compare its units, signs and degrees with the law",
            area(*area_m2)
        ),
        FindingKind::AreaDiffers { found_m2, said_m2 } => format!(
            "encloses {}, not {} ({:+.1} %; 1 % is let pass)",
            area(*found_m2),
            area(*said_m2),
            100.0 * (found_m2 / said_m2 - 1.0)
        ),
        FindingKind::PerimeterDiffers { found_m, said_m } => format!(
            "is {} round, not {} ({:+.1} %; 1 % is let pass)",
            short(*found_m),
            short(*said_m),
            100.0 * (found_m / said_m - 1.0)
        ),
        FindingKind::ChordsOnly { sides } => format!(
            "cannot be held to its area or perimeter: {} along a shore that nobody has supplied, so only a chord of it is known; give the coast with --coast",
            if *sides == 1 { "1 side runs".to_owned() } else { format!("{sides} sides run") }
        ),
        FindingKind::CornersDiffer { found, said } => format!("has {found} corners, not {said}"),
        FindingKind::NotNear { distance_m, allowed_m } => format!(
            "is {} from the place that was given; up to {} would pass",
            short(*distance_m),
            short(*allowed_m)
        ),
        FindingKind::LineNotKnown => {
            "its line is not known, so nothing of it can be held against what was given".to_owned()
        }
        FindingKind::NoSuchZone => {
            "there is no such zone, or more than one, to hold against what was given; name one with --zone, by its id".to_owned()
        }
        _ => return None,
    })
}

fn time_text(kind: &FindingKind) -> Option<String> {
    Some(match kind {
        FindingKind::SourceIncomplete(missing) => {
            let missing: Vec<String> = missing.iter().map(|member| format!("\"{}\"", SourceMember::word(*member))).collect();
            format!("does not say {}; with it, others can find the law again", missing.join(" and "))
        }
        FindingKind::PublishedIncomplete { without } => format!(
            "{} no text in \"as_published\", where the others have one: nothing holds {} to the law",
            if *without == 1 { "1 vertex has" } else { "some vertices have" },
            if *without == 1 { "it" } else { "these" }
        ),
        FindingKind::PublishedNotShifted { datum } => format!(
            "has a vertex with just the figures that the law prints in {}: shift them to the datum of the file, or name that datum in the file",
            quoted(datum)
        ),
        FindingKind::RuleNotStated => format!(
            "is a draft without a rule, and every answer about it is undecided: {}",
            takeline::rule::WRITE_THE_RULE
        ),
        FindingKind::Manifest(difference) => super::list::difference_words(difference),
        FindingKind::EditionExpired(until) => {
            format!("its makers vouched for this edition until {until}: get the next one")
        }
        FindingKind::EditionRunsOut(until) => {
            format!("its makers vouch for this edition until {until}, and no longer")
        }
        FindingKind::RuleOver(until) => format!("the rule had effect until {until} and is over"),
        FindingKind::DateInFuture(day) => format!("{day} is still to come"),
        FindingKind::DayMonth { written: (month, day) } => {
            format!("the season begins on day {day} of month {month}; day and month may be exchanged")
        }
        FindingKind::NeverInForce => {
            "this rule is in force at no time: its times have nothing in common with each other, or with \"effective\"".to_owned()
        }
        FindingKind::NamesUnused(ids) => {
            const SHOWN: usize = 8;
            let list: Vec<String> = ids.iter().take(SHOWN).map(|id| quoted(id)).collect();
            let rest = ids.len().saturating_sub(SHOWN);
            let more = if rest > 0 { format!(" and {rest} more") } else { String::new() };
            format!("no rule and no group names {}{more}", list.join(", "))
        }
        _ => return None,
    })
}

fn conformance_text(kind: &FindingKind) -> &'static str {
    match kind {
        FindingKind::Winding => {
            "winds the other way than RFC 7946 asks for (outer rings to the left, holes to the right); here both ways are read, other programs may turn it inside out"
        }
        FindingKind::AcrossAntimeridian => {
            "crosses 180° in one piece, where RFC 7946 would cut it; here it is read, other programs may draw it round the Earth"
        }
        FindingKind::RingNotClosed => {
            "its first position is not repeated at its end, as RFC 7946 asks; here it is closed, other programs may refuse it"
        }
        FindingKind::ReferenceSystem => {
            "RFC 7946 knows no \"crs\"; write \"datum\" in \"takeline\", and leave this out"
        }
        FindingKind::Heights => "has positions with a third number, which is not used",
        _ => "something was found that these words do not know",
    }
}

/// What would mend it, as an offer.
pub(super) fn repair(repair: &Repair) -> String {
    match repair {
        Repair::Words(words) => words.clone(),
        Repair::Ring { change, area_m2 } => match area_m2 {
            Some(area_m2) => {
                format!("{change}, it would enclose {}: hold that against the law", area(*area_m2))
            }
            None => change.to_string(),
        },
        Repair::Insert { after, at, area_m2 } => {
            let encloses =
                area_m2.map_or(String::new(), |area_m2| format!(", and it would enclose {}", area(area_m2)));
            format!(
                "with a vertex after vertex {after}, at {}, it would be whole{encloses}: look for that row in the law",
                place(*at)
            )
        }
        Repair::Date(day) => format!("with day and month exchanged it is {day}"),
        Repair::MonthDay(month, day) => format!("with day and month exchanged it is \"{month:02}-{day:02}\""),
        _ => "compare it with the law".to_owned(),
    }
}

/// A code for what would mend it.
pub(super) fn repair_code(repair: &Repair) -> &'static str {
    match repair {
        Repair::Ring { change, .. } => RingChange::code(change),
        Repair::Insert { .. } => "insert-vertex",
        Repair::Date(_) | Repair::MonthDay(..) => "day-month",
        _ => "words",
    }
}

fn place(at: Position) -> String {
    format!("{:.5} {:.5}", at.latitude().degrees(), at.longitude().degrees())
}

fn quoted(id: &str) -> String {
    format!("\"{}\"", sanitised::line(id))
}

fn short(length_m: f64) -> String {
    if length_m < 10.0 { format!("{length_m:.1} m") } else { length(Units::Metric, length_m) }
}

/// An area in the units that laws print.
fn area(area_m2: f64) -> String {
    // five digits that count
    let rounded = |value: f64| {
        let decimals = (0..6).find(|decimals| value.abs() * 10_f64.powi(*decimals) >= 1e4).unwrap_or(6);
        format!("{value:.*}", usize::try_from(decimals).unwrap_or_default())
    };
    if area_m2.abs() < 1e4 {
        return format!("{area_m2:.0} m²");
    }
    let (km2, nm2) = (area_m2 / 1e6, area_m2 / M2_IN_NM2);
    format!("{} km² ({} square nautical miles)", rounded(km2), rounded(nm2))
}
