//! What a search for pairs is asked and gives, what ranks a pair, and why it ranks as it does.
//!
//! The scales of the shares are common practice, no source: each is the figure at which half of the share is left.

use strum::{IntoStaticStr, VariantNames};

use super::stretch_margin::Verdict;
use super::zones::CountedZones;
use crate::coded::coded;
use crate::transit::{CompassPoint, Eye, Problem, ProblemCode, RangeLine, Side, Stretch};
use crate::{Metres, Position, SideKind, Tristate};

/// What is searched for.
#[derive(Debug, Clone)]
pub struct PairQuestion {
    /// Where the boat is launched.
    pub launch: Position,
    /// How far from the launch the marks are to be used.
    pub range: Metres,
    /// Nearest and farthest distance from the front mark at which a pair is used.
    pub reach: Stretch,
    /// The observer's eye.
    pub eye: Eye,
    /// The zone to keep out of, by its place in the set.
    pub zone_number: usize,
    /// How many pairs of each side are wanted.
    pub at_most: usize,
    /// The day that the marks will be used, for how long ago they were confirmed.
    pub day: Option<jiff::civil::Date>,
}

/// A side of a zone that a boat can cross and that lies within range: edges that run nearly one way.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ZoneSide {
    /// What it is called.
    pub name: SideName,
    /// What it is: open water, or the inner end of it. A shore is no side to keep out of, nor is one that nobody has supplied.
    pub kind: SideKind,
    /// Its corners, in order with the zone on the left, the part within range only; at most 2 km apart.
    pub corners: Vec<Position>,
    /// How long that part is.
    #[cfg_attr(feature = "serde", serde(rename = "length_m"))]
    pub length: Metres,
}

/// What a side of a zone is called: the north side, or the second one of several that look north.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct SideName {
    /// Where it looks, out of the zone.
    pub faces: CompassPoint,
    /// Which of several that look there, counted from 1; none if it is the only one.
    pub number: Option<usize>,
}

/// The pairs found for one side, the best first.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct SidePairs {
    /// The side.
    pub side: ZoneSide,
    /// Pairs, the best first; empty if no pair serves it.
    pub pairs: Vec<FoundPair>,
}

/// One pair of landmarks.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct FoundPair {
    /// Its line.
    pub line: RangeLine,
    /// The part of the line that runs along the side.
    pub stretch: Stretch,
    /// Whether that part keeps outside every zone, the doubt counted.
    pub clears: Tristate,
    /// Least margin over the stretch: signed distance less doubt; negative if it does not clear.
    #[cfg_attr(feature = "serde", serde(rename = "margin_m"))]
    pub margin: Metres,
    /// Mean distance of the stretch from the side: what is given away for each metre of side; negative if it runs inside.
    #[cfg_attr(feature = "serde", serde(rename = "given_away_m"))]
    pub forgone: Metres,
    /// How far off the line at the far end the eye sees it; none: it never does.
    #[cfg_attr(feature = "serde", serde(rename = "offset_at_threshold_m"))]
    pub offset_at_threshold: Option<Metres>,
    /// How far the marks put the line off at the far end, 95 %.
    #[cfg_attr(feature = "serde", serde(rename = "line_uncertainty_95_m"))]
    pub line_uncertainty_95: Metres,
    /// Length of the stretch as a share of that of the side, 0 to 1.
    pub covers: f64,
    /// The side to which the rear mark shows inside.
    #[cfg_attr(feature = "serde", serde(rename = "rear_shows_inside"))]
    pub inside: Option<Side>,
    /// The shares that make its rank.
    pub score: PairScore,
    /// Why it ranks so: whether it clears, then the best reason first, then cautions.
    pub because: Vec<PairReason>,
    /// What is wrong with it.
    pub problems: Vec<Problem>,
}

/// Why a pair ranks as it does. Marks and zones are given by their names, distances along the line from the front mark.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum PairReason {
    /// It keeps clear of every zone, the doubt counted.
    KeepsClear {
        /// The zone with the least margin.
        zone: String,
        /// That margin, in metres.
        margin_m: f64,
        /// The doubt that it counts, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// It surely runs inside a zone.
    RunsInside {
        /// The zone.
        zone: String,
        /// The distance to its boundary at the worst place, in metres; negative inside.
        signed_distance_m: f64,
        /// The doubt of that, 95 %, in metres.
        uncertainty_95_m: f64,
        /// Where that is, in metres.
        distance_from_front_m: f64,
    },
    /// Whether it keeps clear of a zone is not sure.
    NotSurelyClear {
        /// The zone.
        zone: String,
        /// The distance to its boundary at the worst place, in metres; negative inside.
        signed_distance_m: f64,
        /// The doubt of that, 95 %, in metres.
        uncertainty_95_m: f64,
        /// Where that is, in metres.
        distance_from_front_m: f64,
    },
    /// The eye sees at the far end that the line is left.
    EyeSees {
        /// From so far off, in metres.
        offset_m: f64,
    },
    /// The eye never sees at the far end that the line is left.
    EyeNeverSees,
    /// The places of the marks put the line off at the far end.
    MarksPutLineOff {
        /// By so much, 95 %, in metres.
        uncertainty_95_m: f64,
    },
    /// It serves a part of the side.
    ServesSide {
        /// So much of it, 0 to 1.
        share: f64,
        /// How long the side is, in metres.
        length_m: f64,
    },
    /// The front mark hides the rear mark over part of the stretch.
    FrontHidesRear {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
    },
    /// A mark is below the horizon at the far end.
    MarkBelowHorizon,
    /// Whether the rear mark shows over the front mark is not known.
    HeightsNotKnown {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
    },
    /// The rear mark shows over the front mark all along.
    RearShows {
        /// The front mark.
        front: String,
        /// The rear mark.
        rear: String,
    },
    /// It gives water away along the side.
    GivesAway {
        /// So wide a strip on the mean, in metres.
        width_m: f64,
    },
    /// Nobody knows where a zone lies.
    ZoneAnywhere {
        /// The zone.
        zone: String,
    },
}

coded!(PairReason);

/// What ranks a pair: each share runs from 0 to 1, and the rank is their product.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct PairScore {
    /// Clear of the zone, and not much farther away than it has to be.
    pub margin: f64,
    /// The eye sees soon that the line is left.
    pub sharpness: f64,
    /// The marks' places hold the line still.
    pub robustness: f64,
    /// Both marks are seen, the rear one over the front one, and will be there.
    pub visibility: f64,
    /// Share of the side that is served.
    pub coverage: f64,
}

impl PairScore {
    /// Returns the rank, 0 to 1.
    #[must_use]
    pub fn whole(&self) -> f64 {
        self.margin * self.sharpness * self.robustness * self.visibility * self.coverage
    }
}

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

/// Water given away that halves the share of the margin, in metres.
const GIVEN_AWAY_HALF_M: f64 = 250.0;
/// Offset at the far end, as the eye sees it, that halves the share of sharpness, in metres.
const OFFSET_HALF_M: f64 = 20.0;
/// Doubt of the line at the far end that halves the share of robustness, in metres.
const DOUBT_HALF_M: f64 = 50.0;

/// What the shares are made from; lengths in metres.
#[derive(Debug, Clone, Copy)]
pub(super) struct Figures {
    pub(super) given_away_m: f64,
    pub(super) offset_at_far_m: f64,
    pub(super) line_doubt_at_far_m: f64,
    pub(super) visibility: f64,
    pub(super) covers: f64,
}

impl Figures {
    /// The shares of a pair that clears.
    pub(super) fn score(self) -> PairScore {
        let half_at = |figure_m: f64, half_m: f64| 1.0 / (1.0 + figure_m.max(0.0) / half_m);
        PairScore {
            margin: half_at(self.given_away_m, GIVEN_AWAY_HALF_M),
            sharpness: half_at(self.offset_at_far_m, OFFSET_HALF_M),
            robustness: half_at(self.line_doubt_at_far_m, DOUBT_HALF_M),
            visibility: self.visibility,
            coverage: self.covers,
        }
    }
}
