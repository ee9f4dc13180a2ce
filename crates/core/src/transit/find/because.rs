//! Why a pair ranks as it does, in short sentences with figures.

use super::stretch_margin::Verdict;
use super::zones::CountedZones;
use crate::transit::{FoundPair, ProblemCode, ZoneSide};
use crate::{Metres, Tristate};

/// What the sentences speak of besides the pair.
#[derive(Debug, Clone, Copy)]
pub(super) struct Told<'a> {
    pub(super) side: &'a ZoneSide,
    pub(super) verdict: &'a Verdict,
    pub(super) zones: &'a CountedZones<'a>,
}

/// The sentences: for a pair that does not clear, that first; then what speaks for it, the best share first. What can go
/// wrong with its marks stands among its problems.
pub(super) fn reasons(pair: &FoundPair, told_of: Told<'_>) -> Vec<String> {
    let score = pair.score;
    let mut ranked = vec![
        (score.sharpness, sharpness(pair)),
        (score.robustness, robustness(pair)),
        (score.coverage, coverage(pair, told_of.side)),
        (score.visibility, visibility(pair)),
    ];
    if pair.margin.metres() > 0.0 {
        ranked.push((
            score.margin,
            format!("gives away a strip {} wide on the mean", told(pair.forgone.metres())),
        ));
    }
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut reasons = vec![clearance(pair, told_of.verdict, told_of.zones)];
    reasons.extend(ranked.into_iter().map(|(_, reason)| reason));
    reasons
        .extend(told_of.zones.anywhere.iter().map(|zone| format!("nobody knows where {} lies", zone.name)));
    reasons
}

/// Below 10 m a figure keeps one digit.
fn told(metres: f64) -> String {
    if metres.abs() < 9.95 { format!("{metres:.1} m") } else { Metres::computed(metres).to_string() }
}

fn clearance(pair: &FoundPair, verdict: &Verdict, zones: &CountedZones<'_>) -> String {
    let worst = &verdict.worst;
    let zone = zones.zones.get(worst.zone).map_or("the zone", |counted| &counted.zone.name);
    let (away, doubt) = (Metres::computed(worst.away_m), told(worst.doubt_m));
    let signed_m = worst.signed_m;
    if worst.margin_m() > 0.0 {
        let margin = told(worst.margin_m());
        return format!("keeps {margin} clear of {zone} at worst, doubt ±{doubt} counted");
    }
    if pair.clears == Tristate::No && signed_m < 0.0 {
        return format!(
            "runs {} inside {zone} at worst, {away} from the front mark, doubt ±{doubt}",
            told(-signed_m)
        );
    }
    let side = if signed_m < 0.0 { "inside" } else { "outside" };
    format!(
        "does not surely clear {zone}: {} {side} at worst, {away} from the front mark, doubt ±{doubt}",
        told(signed_m.abs())
    )
}

fn sharpness(pair: &FoundPair) -> String {
    match pair.offset_at_threshold {
        Some(offset) => format!("the eye sees {} off at the far end", told(offset.metres())),
        None => "the eye never sees the line left at the far end".to_owned(),
    }
}

fn robustness(pair: &FoundPair) -> String {
    format!(
        "the marks' places put the line off by ±{} at the far end",
        told(pair.line_uncertainty_95.metres())
    )
}

fn coverage(pair: &FoundPair, side: &ZoneSide) -> String {
    format!("serves {:.0} % of the {} of the side within range", 100.0 * pair.covers, side.length)
}

fn visibility(pair: &FoundPair) -> String {
    let has = |code| pair.problems.iter().any(|problem| problem.code == code);
    let (front, rear) = (&pair.line.front().name, &pair.line.rear().name);
    if has(ProblemCode::FrontHidesRear) {
        format!("{front} hides {rear} over part of the stretch")
    } else if has(ProblemCode::BelowHorizon) {
        "a mark is below the horizon at the far end".to_owned()
    } else if has(ProblemCode::HeightNotGiven) {
        format!("whether {rear} shows over {front} is not known")
    } else {
        format!("{rear} shows over {front} all along")
    }
}
