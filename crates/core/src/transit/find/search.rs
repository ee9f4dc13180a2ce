//! The search of all pairs of landmarks for those that show the sides of a zone.

use super::found::{Figures, Judged, reasons};
use super::marks::problems;
use super::pair::{Asked, NEARLY_M, PlaneMark, PlanePair, pair_on_side};
use super::side::{PlaneSide, named, sides_within};
use super::stretch_margin::{Held, Verdict};
use super::zones::{CountedZone, CountedZones, Span};
use crate::coast::Coast;
use crate::landmark::Landmark;
use crate::transit::land;
use crate::transit::plane::{Plane, plane_error_m};
use crate::transit::{
    FoundPair, NEAR_M, PairQuestion, Problem, ProblemReason, RangeLine, Side, SidePairs, Stretch,
    TransitError, ZoneSide,
};
use crate::zone::ZoneSet;
use crate::{Metres, Tristate};

/// Marks farther than this behind the farthest front mark are not looked at, in metres.
const FARTHEST_REAR_M: f64 = 100_000.0;
/// Greatest range, in metres: beyond it the plane's error is no longer small.
const GREATEST_RANGE_M: f64 = 100_000.0;
/// Ranks on the plane are those on the ellipsoid to within this share: separations differ by d²/6R² of themselves.
const RANK_SLACK: f64 = 1e-3;
/// So many pairs that do not clear are held against the zones, to find those that nearly do.
const MOST_NEARLY: usize = 400;

/// Searches all ordered pairs of landmarks for those that show the sides of a zone, the best first.
///
/// A side is a run of edges that a boat can cross and that stay within 20 degrees of one way; circles have several. It ends where
/// the shore begins, or a side that nobody has supplied. Only what lies within range of
/// the launch counts. For each side every ordered pair is judged whose line, carried seaward from the front mark, runs
/// within 30 degrees of the side, outside of it, along a third of it or more, at distances in reach and in range. Pairs
/// that do not clear stand behind those that do, by how little they miss, and only where too few clear. A pair is held
/// against every zone of the set that may be law, not only the one asked about.
///
/// # Units
///
/// Metres on the ellipsoid.
///
/// # Accuracy
///
/// Margins within 0.3 m of the least over the stretch (`tests/find_pairs.rs`, `check_margin`); a pair is said to clear
/// only if it is shown for every point of the stretch, with steps no longer than the margin allows. Stretch, coverage and water given away are measured on a plane
/// about the launch, within d³/3R² at a distance d: 7 cm at 20 km.
///
/// # Edge cases
///
/// The launch may lie inside the zone. A side that no pair serves has an empty list. Landmarks may be given in any order:
/// ties go by identifier. Marks whose errors are more than a fifth of their separation never rank, nor marks that are
/// never seen. Of a zone with more than 32 sides the longest are taken. Where a zone of the set may be anywhere, no pair is
/// said to clear, and the pairs are ranked by the zones that are known.
///
/// # Errors
///
/// [`TransitError`] if there is no such zone, its line is not known, none of its sides can be crossed or is in range, or the range is no range.
///
/// # References
///
/// The scales of the shares are common practice without a source; the formulas stand in `find/found.rs`.
pub fn find_pairs(
    zones: &ZoneSet,
    landmarks: &[Landmark],
    question: &PairQuestion,
) -> Result<Vec<SidePairs>, TransitError> {
    let range_m = question.range.metres();
    if !(range_m > 0.0 && range_m <= GREATEST_RANGE_M) {
        let reason = "m is not a possible range around a launch: give more than 0, up to 100 000";
        return Err(TransitError::Figure { what: "range", value: range_m, reason });
    }
    let plane = Plane::about(question.launch);
    let counted = CountedZones::new(zones, question.zone_number, plane)?;
    let asked_zone = &counted.zones[0];
    let sides = sides_within(asked_zone.boundary, plane, range_m);
    if sides.is_empty() {
        let zone = asked_zone.zone.name.clone();
        return Err(match asked_zone.boundary.locate_crossable(question.launch) {
            Some(nearest) => {
                let nearest_m = nearest.signed_distance.metres().abs();
                let has_shore = asked_zone.boundary.has_sides();
                TransitError::NoSideInRange { zone, range_m, nearest_m, has_shore }
            }
            None => TransitError::NoSideToCross { zone },
        });
    }
    let marks = marks_in_reach(landmarks, plane, question);
    let threshold_tangent = question.eye.threshold().radians().tan();
    let asked = Asked { question, zone_doubt_m: asked_zone.doubt_m, threshold_tangent };
    let search = Search { zones: &counted, marks: &marks, asked };
    let found = sides.iter().zip(named(&sides, plane)).map(|(plane, side)| {
        let mut pairs = search.along(OnSide { plane, named: &side });
        for pair in &mut pairs {
            about_land(pair, zones.coasts());
        }
        SidePairs { side, pairs }
    });
    Ok(found.collect())
}

/// Adds what coasts say of a pair.
fn about_land(pair: &mut FoundPair, coasts: &[Coast]) {
    let marks = [pair.line.front(), pair.line.rear()];
    let of_marks = marks.into_iter().filter_map(|mark| land::problem_of_mark(mark, coasts));
    let parts_m = land::over_land_m(&pair.line, pair.stretch, coasts);
    let of_line = land::problem_of_line(pair.stretch, &parts_m);
    let found: Vec<Problem> = of_marks.chain(of_line).collect();
    pair.problems.extend(found);
    pair.problems.sort_by_key(|problem| problem.severity);
}

/// The landmarks that can be part of a pair, in an order that does not hang on the order given.
fn marks_in_reach<'a>(
    landmarks: &'a [Landmark],
    plane: Plane,
    question: &PairQuestion,
) -> Vec<PlaneMark<'a>> {
    let farthest_m = question.range.metres() + question.reach.far().metres() + FARTHEST_REAR_M;
    let mut marks: Vec<PlaneMark<'_>> = landmarks
        .iter()
        .map(|landmark| PlaneMark::new(landmark, plane, question))
        .filter(|mark| mark.at.norm_m() <= farthest_m)
        .collect();
    let place = |mark: &PlaneMark<'_>| (mark.at.east_m, mark.at.north_m);
    marks.sort_by(|a, b| {
        let by_name = (&a.landmark.id, &a.landmark.name).cmp(&(&b.landmark.id, &b.landmark.name));
        let (a, b) = (place(a), place(b));
        by_name.then(a.0.total_cmp(&b.0)).then(a.1.total_cmp(&b.1))
    });
    marks
}

/// What stays the same from side to side.
struct Search<'a> {
    zones: &'a CountedZones<'a>,
    marks: &'a [PlaneMark<'a>],
    asked: Asked<'a>,
}

/// One side, on the plane and with its name.
#[derive(Clone, Copy)]
struct OnSide<'a> {
    plane: &'a PlaneSide,
    named: &'a ZoneSide,
}

impl Search<'_> {
    /// The pairs of one side, the best first.
    fn along(&self, side: OnSide<'_>) -> Vec<FoundPair> {
        let at_most = self.asked.question.at_most;
        if at_most == 0 {
            return Vec::new();
        }
        let mut candidates = self.candidates(side.plane);
        candidates.sort_unstable_by(|a, b| {
            b.rank.total_cmp(&a.rank).then((a.front, a.rear).cmp(&(b.front, b.rear)))
        });
        let mut clearing: Vec<FoundPair> = Vec::new();
        let mut missing: Vec<&PlanePair> = Vec::new();
        for candidate in &candidates {
            if clearing.len() >= at_most
                && candidate.rank * (1.0 + RANK_SLACK) < clearing[at_most - 1].score.whole()
            {
                break;
            }
            match self.clearing(candidate, side) {
                Some(pair) => {
                    let at = clearing.partition_point(|other| other.score.whole() >= pair.score.whole());
                    clearing.insert(at, pair);
                }
                None => missing.push(candidate),
            }
        }
        clearing.truncate(at_most);
        if clearing.len() < at_most {
            let wanted = at_most - clearing.len();
            clearing.extend(self.nearly(missing, side, wanted));
        }
        clearing
    }

    fn candidates(&self, side: &PlaneSide) -> Vec<PlanePair> {
        let count = self.marks.len();
        let mut candidates = Vec::new();
        for front in 0..count {
            for rear in 0..count {
                if front != rear {
                    candidates.extend(pair_on_side(side, self.marks, (front, rear), &self.asked));
                }
            }
        }
        candidates
    }

    /// The pair, if it clears; the plane refuses those that miss by more than its error.
    fn clearing(&self, candidate: &PlanePair, side: OnSide<'_>) -> Option<FoundPair> {
        let slack_m = self.plane_slack_m(candidate);
        if candidate.margin_at_most_m < -slack_m || self.lies_in_another(candidate, slack_m) {
            return None;
        }
        self.judged(candidate, side, 0.0)
            .filter(|pair| pair.margin.metres() > 0.0 && pair.clears != Tristate::No)
    }

    /// Pairs that miss by little, those that miss least first.
    fn nearly(&self, mut missing: Vec<&PlanePair>, side: OnSide<'_>, wanted: usize) -> Vec<FoundPair> {
        missing.sort_by(|a, b| b.margin_at_most_m.total_cmp(&a.margin_at_most_m));
        let mut found: Vec<FoundPair> = Vec::new();
        for candidate in missing.into_iter().take(MOST_NEARLY) {
            let at_most_m = candidate.margin_at_most_m + self.plane_slack_m(candidate);
            let least_m = found.get(wanted - 1).map_or(-NEARLY_M, |last| last.margin.metres());
            if at_most_m < least_m {
                break;
            }
            if let Some(pair) = self.judged(candidate, side, least_m) {
                let margin_m = pair.margin.metres();
                found.insert(found.partition_point(|other| other.margin.metres() >= margin_m), pair);
            }
        }
        found.truncate(wanted);
        found
    }

    /// Whether the stretch lies in another zone than the one asked about, at one of five places on the plane.
    fn lies_in_another(&self, candidate: &PlanePair, slack_m: f64) -> bool {
        let (front, rear) = (&self.marks[candidate.front], &self.marks[candidate.rear]);
        let seaward = front.at.minus(rear.at).unit();
        let length_m = candidate.far_m - candidate.near_m;
        (0..=4_u8).any(|quarters| {
            let away_m = candidate.near_m + length_m * f64::from(quarters) / 4.0;
            let place = front.at.plus(seaward, away_m);
            self.zones.zones[1..].iter().any(|counted| counted.line_known && counted.holds(place, slack_m))
        })
    }

    /// How far the margin on the plane may be off; a drawn arc may miss the line by half a metre besides.
    fn plane_slack_m(&self, candidate: &PlanePair) -> f64 {
        let marks = [candidate.front, candidate.rear].map(|mark| self.marks[mark].at.norm_m());
        1.0 + 2.0 * plane_error_m(self.asked.question.range.metres().max(marks[0]).max(marks[1]))
    }

    fn judged(&self, candidate: &PlanePair, side: OnSide<'_>, least_margin_m: f64) -> Option<FoundPair> {
        let (front, rear) = (&self.marks[candidate.front], &self.marks[candidate.rear]);
        let line = RangeLine::through(front.landmark.clone(), rear.landmark.clone()).ok()?;
        let (near, far) = (Metres::computed(candidate.near_m), Metres::computed(candidate.far_m));
        let stretch = Stretch::new(near, far).ok()?;
        let seaward = front.at.minus(rear.at).unit();
        let ends = [near, far].map(|away| front.at.plus(seaward, away.metres()));
        let eye = self.asked.question.eye;
        let held = Held { line: &line, stretch, eye, span: Span::around(ends) };
        let verdict = held.verdict(self.zones, least_margin_m);
        if verdict.worst.margin_m() < least_margin_m {
            return None;
        }
        // the observer looks shoreward, so what is on the left of the way seaward is on his right
        let zone_is_right = seaward.to_the_right().dot(side.plane.outward) > 0.0;
        let inside = if zone_is_right { Side::Right } else { Side::Left };
        let mut pair = self.figures(candidate, &held, &verdict);
        pair.inside = Some(inside);
        pair.problems.extend(self.zones_on_both_sides(&held, inside));
        pair.problems.extend(self.zones_anywhere());
        pair.problems.sort_by_key(|problem| problem.severity);
        pair.because = reasons(&pair, Judged { side: side.named, verdict: &verdict, zones: self.zones });
        Some(pair)
    }

    fn figures(&self, candidate: &PlanePair, held: &Held<'_>, verdict: &Verdict) -> FoundPair {
        let far = held.stretch.far();
        let offset = held.line.offset_for(far, held.eye.threshold());
        let uncertainty = held.line.uncertainty_95(far);
        let figures = Figures {
            given_away_m: candidate.given_away_m,
            offset_at_far_m: offset.map_or(f64::INFINITY, Metres::metres),
            line_doubt_at_far_m: uncertainty.metres(),
            visibility: candidate.visibility,
            covers: candidate.covers,
        };
        let mut score = figures.score();
        if verdict.worst.margin_m() <= 0.0 {
            score.margin = 0.0;
        }
        FoundPair {
            line: held.line.clone(),
            stretch: held.stretch,
            clears: verdict.clears,
            margin: Metres::computed(verdict.worst.margin_m()),
            forgone: Metres::computed(candidate.given_away_m),
            offset_at_threshold: offset,
            line_uncertainty_95: uncertainty,
            covers: candidate.covers,
            inside: None,
            score,
            because: Vec::new(),
            problems: problems(held.line, held.stretch, self.asked.question),
        }
    }

    fn zones_anywhere(&self) -> impl Iterator<Item = Problem> {
        let anywhere = self.zones.anywhere.iter();
        anywhere.map(|zone| Problem::warning(ProblemReason::ZoneAnywhere { zone: zone.name.clone() }))
    }

    /// Zones alongside the stretch on the other side than the side that is kept out of.
    fn zones_on_both_sides(&self, held: &Held<'_>, inside: Side) -> Option<Problem> {
        let (near_m, far_m) = (held.stretch.near().metres(), held.stretch.far().metres());
        let alongside = |counted: &CountedZone<'_>, away_m: f64| {
            let look = held.look(0, counted, away_m);
            let place = held.line.place(look.nearest);
            look.signed_m.abs() <= NEAR_M
                && (near_m..=far_m).contains(&place.distance_from_front.metres())
                && Side::of(place.to_the_right.metres()) == Some(inside.other())
        };
        let looks = (0..=8_u8).map(|eighths| near_m + (far_m - near_m) * f64::from(eighths) / 8.0);
        let other = self.zones.zones.iter().find(|counted| {
            counted.at_least_away_m(&held.span) <= NEAR_M
                && looks.clone().any(|away_m| alongside(counted, away_m))
        })?;
        Some(Problem::warning(ProblemReason::PairHasZoneBeyond {
            zone: other.zone.name.clone(),
            front: held.line.front().name.clone(),
            rear: held.line.rear().name.clone(),
            rear_shows: inside.other(),
        }))
    }
}
