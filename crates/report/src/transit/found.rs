//! The answer of `transit find` as one document, and its text. `docs/json-output.md` describes each key.

use jiff::civil::Date;
use serde::Serialize;
use takeline::coast::Coast;
use takeline::landmark::Landmark;
use takeline::transit::{
    FoundPair, PairQuestion, PairReason, PairScore, Severity, Side, SideName, SidePairs,
};
use takeline::zone::{Extent, Proofread, Zone};
use takeline::{Position, SideKind, Tristate};

use super::parts::{EyeDocument, ProblemDocument, metres, number};
use super::phrases;
use super::text::{clears_word, not_checked};
use crate::coast_document::CoastDocument;
use crate::exit_status::ExitStatus;
use crate::figures;
use crate::here::{FileDocument, SourceDocument, bear_in_mind, source};
use crate::lines::Page;
use crate::words::{Spoken, Words, each};

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
    pub launch: Position,
    /// How far from the launch the marks are to be used.
    pub range_m: Option<f64>,
    /// Nearest and farthest distance from the front mark at which a pair is used.
    pub reach_m: [Option<f64>; 2],
    /// The eye.
    pub eye: EyeDocument,
    /// The day that the marks will be used, `YYYY-MM-DD`, or null.
    pub day: Option<Date>,
    /// The sides within range.
    pub sides: Vec<FoundSideDocument<'a>>,
    /// The coasts that marks and lines were held against.
    pub coasts: Vec<CoastDocument<'a>>,
    /// What no check of marks can know.
    pub not_checked: [&'static str; 4],
    /// What no answer can know.
    pub cautions: [&'static str; 4],
    /// 0 or 3.
    pub exit_status: ExitStatus,
    #[serde(skip)]
    pub(super) question: &'a PairQuestion,
    #[serde(skip)]
    pub(super) in_zone: &'a Zone,
    /// The words of its texts.
    #[serde(skip)]
    pub(super) words: Spoken<'a>,
}

/// The zone to keep out of.
#[derive(Debug, Clone, Serialize)]
pub struct FoundZoneDocument<'a> {
    /// Identifier.
    pub id: &'a str,
    /// Name.
    pub name: &'a str,
    /// What its other sides are, which no boat crosses and for which no pair is sought: `shore`, `unresolved`, both or none.
    pub sides_left_out: Vec<SideKind>,
    /// The law.
    pub source: SourceDocument<'a>,
    /// Who read the zone against the printed law, or null.
    pub proofread: Option<&'a Proofread>,
    /// The file.
    pub zone_file: FileDocument<'a>,
}

/// One side of the zone.
#[derive(Debug, Clone, Serialize)]
pub struct FoundSideDocument<'a> {
    /// What it is called.
    pub name: String,
    /// The same as data.
    pub name_code: SideName,
    /// What it is: `open` or `mouth`.
    pub kind: SideKind,
    /// How long the part within range is.
    pub length_m: Option<f64>,
    /// Its corners, in order.
    pub corners: &'a [Position],
    /// Whether any pair keeps clear: `yes`, `no` or `undecided`.
    pub clears: Tristate,
    /// Its pairs, the best first.
    pub pairs: Vec<FoundPairDocument<'a>>,
    #[serde(skip)]
    pub(super) found: &'a SidePairs,
}

/// One pair.
#[derive(Debug, Clone, Serialize)]
pub struct FoundPairDocument<'a> {
    /// Its place, counted from 1.
    pub rank: usize,
    /// The mark nearer to the observer.
    pub front: &'a Landmark,
    /// The mark farther away.
    pub rear: &'a Landmark,
    /// Bearing of the marks from the middle of its stretch.
    pub bearing_true_deg: Option<f64>,
    /// Distance between the marks.
    pub separation_m: Option<f64>,
    /// The part of the line that runs along the side.
    pub stretch_m: [Option<f64>; 2],
    /// `yes`, `no` or `undecided`.
    pub clears: Tristate,
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
    pub rear_shows_inside: Option<Side>,
    /// What ranks it.
    pub score: PairScoreDocument,
    /// Why it ranks so, the best reason first.
    pub because: Vec<String>,
    /// The same as data.
    pub because_codes: &'a [PairReason],
    /// What is wrong with it.
    pub problems: Vec<ProblemDocument<'a>>,
    #[serde(skip)]
    pub(super) found: &'a FoundPair,
}

/// What ranks a pair, each from 0 to 1.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct PairScoreDocument {
    /// The shares.
    #[serde(flatten)]
    pub score: PairScore,
    /// Their product, by which pairs are ranked.
    pub whole: Option<f64>,
}

impl<'a> FindDocument<'a> {
    /// Draws up the pairs found for the sides of a zone, the texts in these words, with the keys of schema
    /// `takeline.transit-find/1`.
    ///
    /// The exit status is 0 if each side within range has a pair that keeps clear, else 3. A search never restricts anybody,
    /// so it is never 1. No side within range is 3: nothing was answered.
    ///
    /// # Units
    ///
    /// Metres and degrees, as each key says; full precision. What is not known is null, and so is a number that is none.
    #[must_use]
    pub fn new(
        question: &'a PairQuestion,
        zone: &'a Zone,
        sides: &'a [SidePairs],
        words: &'a dyn Words,
    ) -> Self {
        let sides: Vec<FoundSideDocument<'_>> =
            sides.iter().map(|side| FoundSideDocument::of(side, words)).collect();
        let is_answered = !sides.is_empty() && sides.iter().all(FoundSideDocument::is_served);
        Self {
            schema: "takeline.transit-find/1",
            takeline_version: env!("CARGO_PKG_VERSION"),
            zone: zone.into(),
            launch: question.launch,
            range_m: metres(question.range),
            reach_m: [metres(question.reach.near()), metres(question.reach.far())],
            eye: question.eye.into(),
            day: question.day,
            sides,
            coasts: Vec::new(),
            not_checked: words.transit_limits(),
            cautions: words.cautions(),
            exit_status: if is_answered { ExitStatus::Unrestricted } else { ExitStatus::Undecided },
            question,
            in_zone: zone,
            words: Spoken(words),
        }
    }

    /// Lists the coasts that the answer went by.
    #[must_use]
    pub fn with_coasts(mut self, coasts: &'a [Coast]) -> Self {
        self.coasts = CoastDocument::all(coasts);
        self
    }
}

impl<'a> From<&'a Zone> for FoundZoneDocument<'a> {
    fn from(zone: &'a Zone) -> Self {
        Self {
            id: &zone.id.0,
            name: &zone.name,
            sides_left_out: sides_left_out(zone),
            source: SourceDocument::of(&zone.source, &zone.file),
            proofread: zone.proofread.as_ref(),
            zone_file: FileDocument::from(&*zone.file),
        }
    }
}

/// The kinds of a zone's sides that no boat crosses.
fn sides_left_out(zone: &Zone) -> Vec<SideKind> {
    // of a zone whose line is not known no sides are sought
    let runs = match &zone.extent {
        Extent::Known(boundary) => boundary.outline_runs(),
        Extent::Unknown { .. } => Vec::new(),
    };
    let has = |kind: &SideKind| runs.iter().any(|run| run.kind == *kind);
    [SideKind::Shore, SideKind::Unresolved].into_iter().filter(has).collect()
}

impl<'a> FoundSideDocument<'a> {
    fn of(side: &'a SidePairs, words: &dyn Words) -> Self {
        let ranked = side.pairs.iter().enumerate();
        let pairs: Vec<FoundPairDocument<'_>> =
            ranked.map(|(place, pair)| FoundPairDocument::of(place + 1, pair, words)).collect();
        let undecided = side.pairs.iter().any(|pair| pair.clears == Tristate::Undecided);
        let clears = match (pairs.iter().any(FoundPairDocument::serves), undecided) {
            (true, _) => Tristate::Yes,
            (false, true) => Tristate::Undecided,
            (false, false) => Tristate::No,
        };
        Self {
            name: words.zone_side(&side.side.name),
            name_code: side.side.name,
            kind: side.side.kind,
            length_m: metres(side.side.length),
            corners: &side.side.corners,
            clears,
            pairs,
            found: side,
        }
    }

    /// Whether any of its pairs surely keeps clear and can be used.
    pub(super) fn is_served(&self) -> bool {
        self.clears == Tristate::Yes
    }
}

impl<'a> FoundPairDocument<'a> {
    fn of(rank: usize, pair: &'a FoundPair, words: &dyn Words) -> Self {
        Self {
            rank,
            front: pair.line.front(),
            rear: pair.line.rear(),
            bearing_true_deg: number(pair.line.bearing_at(pair.stretch.middle()).degrees()),
            separation_m: metres(pair.line.separation()),
            stretch_m: [metres(pair.stretch.near()), metres(pair.stretch.far())],
            clears: pair.clears,
            margin_m: metres(pair.margin),
            given_away_m: metres(pair.forgone),
            offset_at_threshold_m: pair.offset_at_threshold.and_then(metres),
            line_uncertainty_95_m: metres(pair.line_uncertainty_95),
            covers: number(pair.covers),
            rear_shows_inside: pair.inside,
            score: PairScoreDocument { score: pair.score, whole: number(pair.score.whole()) },
            because: each(&pair.because, |reason| words.pair_reason(reason)),
            because_codes: &pair.because,
            problems: ProblemDocument::all(&pair.problems, words),
            found: pair,
        }
    }

    /// Whether it surely keeps clear and can be used.
    pub(super) fn serves(&self) -> bool {
        let is_useless = self.problems.iter().any(|problem| problem.severity == Severity::Error);
        self.clears == Tristate::Yes && !is_useless
    }
}

/// Returns the pairs found as plain text, without colour, wrapped.
///
/// The first three lines name the best pair, how it bears and keeps clear, and which sides have none. The wording is for
/// people and may change; scripts read the document.
///
/// # Accuracy
///
/// Distances are rounded to whole metres.
#[must_use]
pub fn transit_find_text(document: &FindDocument<'_>, width: usize) -> String {
    let mut page = Page::new(width);
    head(&mut page, document);
    asked(&mut page, document);
    for side in &document.sides {
        one_side(&mut page, side, document.words);
    }
    not_checked(&mut page, &[], document.not_checked);
    bear_in_mind(&mut page, document.words);
    page.finish()
}

fn head(page: &mut Page, document: &FindDocument<'_>) {
    let (zone, words) = (document.zone.name, document.words);
    let Some((side, pair)) = best(document) else {
        page.fitted(&[
            format!("NO usable pair for {zone}"),
            "NO usable pair found".into(),
            "NO usable pair".into(),
        ]);
        page.fitted(&served(document));
        page.fitted(&["Use a GPS fix, or look for other marks".into(), "Use a GPS fix".into()]);
        return;
    };
    let (rear, front) = (&pair.line.rear().name, &pair.line.front().name);
    page.fitted(&[format!("BEST: {rear} over {front}"), format!("{rear} over {front}")]);
    let bearing = document.words.bearing(bearing(pair));
    let spare = phrases::along(words, pair.margin);
    page.fitted(&[
        format!("They bear {bearing}; {spare} to spare; {}", side.name),
        format!("{}: {bearing}, {spare} to spare", phrases::capital(&side.name)),
        format!("They bear {bearing}; {spare} to spare"),
        format!("They bear {bearing}"),
        bearing.clone(),
    ]);
    page.fitted(&served(document));
}

/// The best pair of all sides that surely keeps clear.
fn best<'d>(document: &'d FindDocument<'_>) -> Option<(&'d FoundSideDocument<'d>, &'d FoundPair)> {
    let clear = |side: &'d FoundSideDocument<'_>| {
        let pair = side.pairs.iter().find(|pair| pair.serves())?;
        Some((side, pair.found))
    };
    let rank = |pair: &FoundPair| pair.score.whole();
    document.sides.iter().filter_map(clear).max_by(|(_, one), (_, other)| rank(one).total_cmp(&rank(other)))
}

/// Which sides have no pair.
fn served(document: &FindDocument<'_>) -> Vec<String> {
    let without = document.sides.iter().filter(|side| !side.is_served());
    let without: Vec<&str> = without.map(|side| side.name.as_str()).collect();
    let all = document.sides.len();
    match (all, without.len()) {
        (0, _) => vec!["No side of the zone is in range".into(), "No side in range".into()],
        (1, 0) => vec!["The one side in range has a pair".into(), "It has a pair".into()],
        (_, 0) => vec![format!("All {all} sides in range have a pair"), format!("All {all} have one")],
        (_, few) => vec![
            format!("NO pair for the {}", without.join(" or the ")),
            format!("{few} of {all} sides have NO pair"),
            format!("{few} of {all}: NO pair"),
        ],
    }
}

fn bearing(pair: &FoundPair) -> takeline::TrueBearing {
    pair.line.bearing_at(pair.stretch.middle())
}

fn asked(page: &mut Page, document: &FindDocument<'_>) {
    let (question, zone, words) = (document.question, document.in_zone, document.words);
    page.heading("ASKED");
    page.field("zone", &zone.name);
    if let Some(left_out) = left_out(&document.zone.sides_left_out) {
        page.field("left out", left_out);
    }
    page.field("launch", &figures::position(question.launch));
    page.field("range", &format!("{} from the launch", phrases::along(words, question.range)));
    let (near, far) =
        (phrases::along(words, question.reach.near()), phrases::along(words, question.reach.far()));
    page.field("marks used from", &format!("{near} to {far} away"));
    let (height, threshold) = (
        figures::mark_height(words.units(), question.eye.height(), true),
        phrases::minutes_of_arc(question.eye.threshold()),
    );
    page.field("eye", &format!("{height} above the water; notices a gap of {threshold} (minutes of arc)"));
    let day = question.day.map_or_else(|| "not given".into(), |day| day.to_string());
    page.field("day", &day);
    source(page, (&zone.source, zone.proofread.as_ref()), &zone.file, document.words);
}

/// Which sides need no marks.
fn left_out(sides: &[SideKind]) -> Option<&'static str> {
    match (sides.contains(&SideKind::Shore), sides.contains(&SideKind::Unresolved)) {
        (false, false) => None,
        (true, false) => Some("its shore, which no boat crosses"),
        (false, true) => Some("its sides along the coast that nobody has supplied"),
        (true, true) => {
            Some("its shore, which no boat crosses, and its sides along the coast that nobody has supplied")
        }
    }
}

fn one_side(page: &mut Page, side: &FoundSideDocument<'_>, words: Spoken<'_>) {
    let mouth = if side.kind == SideKind::Mouth { ", across a mouth" } else { "" };
    let length = phrases::along(words, side.found.side.length);
    page.heading(&format!("{}, {length} long{mouth}", side.name.to_uppercase()));
    if side.pairs.is_empty() {
        page.field("pairs", "no usable pair");
    } else if !side.is_served() {
        page.field("pairs", "none is sure to keep you outside; do not use those below");
    }
    for pair in &side.pairs {
        one_pair(page, pair, words);
    }
}

fn one_pair(page: &mut Page, document: &FoundPairDocument<'_>, words: Spoken<'_>) {
    let pair = document.found;
    let (rear, front) = (&pair.line.rear().name, &pair.line.front().name);
    page.paragraph("  ", &format!("{}. {rear} over {front}", document.rank));
    let detail = |page: &mut Page, text: &str| page.paragraph("    ", text);
    let margin = phrases::along(words, pair.margin);
    let spare =
        if pair.margin.metres() < 0.0 { format!("{margin} short") } else { format!("{margin} to spare") };
    let margin = format!("{}: {spare}", clears_word(pair.clears));
    detail(page, &margin);
    let (bears, apart) = (words.bearing(bearing(pair)), phrases::along(words, pair.line.separation()));
    detail(page, &format!("bearing {bears}, marks {apart} apart"));
    let (near, far) = (phrases::along(words, pair.stretch.near()), phrases::along(words, pair.stretch.far()));
    detail(page, &format!("used from {near} to {far} from the front mark"));
    if let Some(inside) = pair.inside {
        detail(page, &format!("inside: rear mark to the {}", phrases::loud(words, inside)));
    }
    for problem in super::headline::problems(&document.problems) {
        detail(page, &format!("{}: {}", problem.severity_word, problem.sentence()));
    }
    for because in &document.because {
        detail(page, &format!("- {}", phrases::held(because)));
    }
}
