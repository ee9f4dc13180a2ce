//! Why a pair ranks as it does, as data.

use super::stretch_margin::Verdict;
use super::zones::CountedZones;
use crate::Tristate;
use crate::transit::{FoundPair, PairReason, ProblemCode, ZoneSide};

/// What the reasons speak of besides the pair.
#[derive(Debug, Clone, Copy)]
pub(super) struct Judged<'a> {
    pub(super) side: &'a ZoneSide,
    pub(super) verdict: &'a Verdict,
    pub(super) zones: &'a CountedZones<'a>,
}

/// The reasons: whether it clears, then what speaks for it, the best share first. What can go wrong with its marks stands among
/// its problems.
pub(super) fn reasons(pair: &FoundPair, judged: Judged<'_>) -> Vec<PairReason> {
    let score = pair.score;
    let serves = PairReason::ServesSide { share: pair.covers, length_m: judged.side.length.metres() };
    let off_by = PairReason::MarksPutLineOff { uncertainty_95_m: pair.line_uncertainty_95.metres() };
    let mut ranked = vec![
        (score.sharpness, sharpness(pair)),
        (score.robustness, off_by),
        (score.coverage, serves),
        (score.visibility, visibility(pair)),
    ];
    if pair.margin.metres() > 0.0 {
        ranked.push((score.margin, PairReason::GivesAway { width_m: pair.forgone.metres() }));
    }
    ranked.sort_by(|a, b| b.0.total_cmp(&a.0));
    let mut reasons = vec![clearance(pair, judged.verdict, judged.zones)];
    reasons.extend(ranked.into_iter().map(|(_, reason)| reason));
    let anywhere = judged.zones.anywhere.iter();
    reasons.extend(anywhere.map(|zone| PairReason::ZoneAnywhere { zone: zone.name.clone() }));
    reasons
}

fn clearance(pair: &FoundPair, verdict: &Verdict, zones: &CountedZones<'_>) -> PairReason {
    let worst = &verdict.worst;
    // the zone asked about stands first, and there always is that one
    let zone = zones.zones.get(worst.zone).or(zones.zones.first());
    let zone = zone.map(|counted| counted.zone.name.clone()).unwrap_or_default();
    let (signed_distance_m, uncertainty_95_m) = (worst.signed_m, worst.doubt_m);
    let distance_from_front_m = worst.away_m;
    if worst.margin_m() > 0.0 {
        let margin_m = worst.margin_m();
        return PairReason::KeepsClear { zone, margin_m, uncertainty_95_m };
    }
    if pair.clears == Tristate::No && signed_distance_m < 0.0 {
        return PairReason::RunsInside { zone, signed_distance_m, uncertainty_95_m, distance_from_front_m };
    }
    PairReason::NotSurelyClear { zone, signed_distance_m, uncertainty_95_m, distance_from_front_m }
}

fn sharpness(pair: &FoundPair) -> PairReason {
    pair.offset_at_threshold
        .map_or(PairReason::EyeNeverSees, |offset| PairReason::EyeSees { offset_m: offset.metres() })
}

fn visibility(pair: &FoundPair) -> PairReason {
    let has = |code| pair.problems.iter().any(|problem| problem.code() == code);
    let (front, rear) = (pair.line.front().name.clone(), pair.line.rear().name.clone());
    if has(ProblemCode::FrontHidesRear) {
        PairReason::FrontHidesRear { front, rear }
    } else if has(ProblemCode::BelowHorizon) {
        PairReason::MarkBelowHorizon
    } else if has(ProblemCode::HeightNotGiven) {
        PairReason::HeightsNotKnown { front, rear }
    } else {
        PairReason::RearShows { front, rear }
    }
}
