//! The JSON of `transit find`. `docs/json-output.md` describes each key.

use serde::Serialize;
use takeline::Tristate;
use takeline::transit::{FoundPair, PairScore, Side, SidePairs};
use takeline::zone::Zone;

use super::FindReport;
use super::exit::{is_served, transit_find_exit_status};
use super::parts::{EyeDocument, MarkDocument, PlaceDocument, ProblemDocument, metres, number, problems};
use super::text::TRANSIT_LIMITS;
use crate::cautions::CAUTIONS;
use crate::here::{FileDocument, SourceDocument, answer};

/// The pairs found, schema `takeline.transit-find/1`.
#[derive(Debug, Clone, Serialize)]
pub struct FindDocument<'a> {
    /// `takeline.transit-find/1`.
    pub schema: &'static str,
    /// Version of the program.
    pub takeline_version: &'static str,
    /// The zone to keep out of.
    pub zone: FoundZoneDocument<'a>,
    /// Where the boat is launched.
    pub launch: PlaceDocument,
    /// How far from the launch the marks are to be used.
    pub range_m: Option<f64>,
    /// Nearest and farthest distance from the front mark at which a pair is used.
    pub reach_m: [Option<f64>; 2],
    /// The eye.
    pub eye: EyeDocument,
    /// The day that the marks will be used, `YYYY-MM-DD`, or null.
    pub day: Option<String>,
    /// The sides within range.
    pub sides: Vec<FoundSideDocument<'a>>,
    /// What no check of marks can know.
    pub not_checked: [&'static str; 4],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0 or 3.
    pub exit_status: u8,
}

/// The zone to keep out of.
#[derive(Debug, Clone, Serialize)]
pub struct FoundZoneDocument<'a> {
    /// Identifier.
    pub id: &'a str,
    /// Name.
    pub name: &'a str,
    /// The law.
    pub source: SourceDocument<'a>,
    /// The file.
    pub zone_file: FileDocument<'a>,
}

/// One side of the zone.
#[derive(Debug, Clone, Serialize)]
pub struct FoundSideDocument<'a> {
    /// What it is called.
    pub name: &'a str,
    /// How long the part within range is.
    pub length_m: Option<f64>,
    /// Its corners, in order.
    pub corners: Vec<PlaceDocument>,
    /// Whether any pair keeps clear: `yes`, `no` or `undecided`.
    pub clears: &'static str,
    /// Its pairs, the best first.
    pub pairs: Vec<FoundPairDocument<'a>>,
}

/// One pair.
#[derive(Debug, Clone, Serialize)]
pub struct FoundPairDocument<'a> {
    /// Its place, counted from 1.
    pub rank: usize,
    /// The mark nearer to the observer.
    pub front: MarkDocument<'a>,
    /// The mark farther away.
    pub rear: MarkDocument<'a>,
    /// Bearing of the marks from the middle of its stretch.
    pub bearing_true_deg: Option<f64>,
    /// Distance between the marks.
    pub separation_m: Option<f64>,
    /// The part of the line that runs along the side.
    pub stretch_m: [Option<f64>; 2],
    /// `yes`, `no` or `undecided`.
    pub clears: &'static str,
    /// Least margin: signed distance less doubt.
    pub margin_m: Option<f64>,
    /// Mean distance of the stretch from the side.
    pub given_away_m: Option<f64>,
    /// How far off the line at the far end the eye sees it; null: never.
    pub offset_at_threshold_m: Option<f64>,
    /// How far the marks put the line off at the far end, 95 %.
    pub line_uncertainty_95_m: Option<f64>,
    /// Share of the side that the stretch serves, 0 to 1.
    pub covers: Option<f64>,
    /// `left` or `right`: where the rear mark shows inside; or null.
    pub rear_shows_inside: Option<&'static str>,
    /// What ranks it.
    pub score: PairScoreDocument,
    /// Why it ranks so, the best reason first.
    pub because: &'a [String],
    /// What is wrong with it.
    pub problems: Vec<ProblemDocument<'a>>,
}

/// What ranks a pair, each from 0 to 1.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct PairScoreDocument {
    /// Clear of the zone, and not much farther away than it has to be.
    pub margin: Option<f64>,
    /// The eye sees soon that the line is left.
    pub sharpness: Option<f64>,
    /// The marks' places hold the line still.
    pub robustness: Option<f64>,
    /// Both marks are seen, the rear one over the front one, and will be there.
    pub visibility: Option<f64>,
    /// Share of the side that is served.
    pub coverage: Option<f64>,
    /// Their product, by which pairs are ranked.
    pub whole: Option<f64>,
}

/// Returns the pairs found as a document with the keys of schema `takeline.transit-find/1`.
///
/// # Units
///
/// Metres and degrees, as each key says; full precision. What is not known is null, and so is a number that is none.
#[must_use]
pub fn transit_find_json<'a>(report: &FindReport<'a>) -> FindDocument<'a> {
    let question = report.question;
    FindDocument {
        schema: "takeline.transit-find/1",
        takeline_version: env!("CARGO_PKG_VERSION"),
        zone: report.zone.into(),
        launch: question.launch.into(),
        range_m: metres(question.range),
        reach_m: [metres(question.reach.near()), metres(question.reach.far())],
        eye: question.eye.into(),
        day: question.day.map(|day| day.to_string()),
        sides: report.sides.iter().map(FoundSideDocument::from).collect(),
        not_checked: TRANSIT_LIMITS,
        cautions: CAUTIONS,
        exit_status: transit_find_exit_status(report.sides).code(),
    }
}

impl<'a> From<&'a Zone> for FoundZoneDocument<'a> {
    fn from(zone: &'a Zone) -> Self {
        Self {
            id: &zone.id.0,
            name: &zone.name,
            source: SourceDocument::of(&zone.source, &zone.file),
            zone_file: FileDocument::from(&*zone.file),
        }
    }
}

impl<'a> From<&'a SidePairs> for FoundSideDocument<'a> {
    fn from(side: &'a SidePairs) -> Self {
        let undecided = side.pairs.iter().any(|pair| pair.clears == Tristate::Undecided);
        let clears = match (is_served(side), undecided) {
            (true, _) => Tristate::Yes,
            (false, true) => Tristate::Undecided,
            (false, false) => Tristate::No,
        };
        let ranked = side.pairs.iter().enumerate();
        Self {
            name: &side.side.name,
            length_m: metres(side.side.length),
            corners: side.side.corners.iter().copied().map(PlaceDocument::from).collect(),
            clears: answer(clears),
            pairs: ranked.map(|(place, pair)| FoundPairDocument::of(place + 1, pair)).collect(),
        }
    }
}

impl<'a> FoundPairDocument<'a> {
    fn of(rank: usize, pair: &'a FoundPair) -> Self {
        Self {
            rank,
            front: pair.line.front().into(),
            rear: pair.line.rear().into(),
            bearing_true_deg: number(pair.line.bearing_at(pair.stretch.middle()).degrees()),
            separation_m: metres(pair.line.separation()),
            stretch_m: [metres(pair.stretch.near()), metres(pair.stretch.far())],
            clears: answer(pair.clears),
            margin_m: metres(pair.margin),
            given_away_m: metres(pair.forgone),
            offset_at_threshold_m: pair.offset_at_threshold.and_then(metres),
            line_uncertainty_95_m: metres(pair.line_uncertainty_95),
            covers: number(pair.covers),
            rear_shows_inside: pair.inside.map(Side::word),
            score: pair.score.into(),
            because: &pair.because,
            problems: problems(&pair.problems),
        }
    }
}

impl From<PairScore> for PairScoreDocument {
    fn from(score: PairScore) -> Self {
        Self {
            margin: number(score.margin),
            sharpness: number(score.sharpness),
            robustness: number(score.robustness),
            visibility: number(score.visibility),
            coverage: number(score.coverage),
            whole: number(score.whole()),
        }
    }
}
