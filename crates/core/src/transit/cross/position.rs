//! Position from two or more lines of position.

use super::ellipse::{Symmetric, probability_beyond};
use super::line::{FARTHEST_M, ON_A_MARK_M};
use super::solve::{NoSolution, Solution, moved, solve};
use super::start;
use crate::fix::RAYLEIGH_95;
use crate::geodesic::inverse;
use crate::landmark::Landmark;
use crate::transit::{
    CrossError, CrossedPosition, LineName, LineOfPosition, Problem, ProblemReason, problem,
};
use crate::{ErrorEllipse, HorizontalUncertainty, Metres, Position, TrueBearing};

/// More lines than anybody takes of one place.
const MOST_LINES: usize = 24;
/// Solutions nearer to each other than this are one, in metres.
const ONE_PLACE_M: f64 = 0.05;
/// Below this cut a position is warned of, in degrees (common practice, no source).
const SHALLOW_DEG: f64 = 30.0;
/// Above this share of the distance to the nearest mark, lines are too curved over one standard deviation for an ellipse.
const CURVED_SHARE: f64 = 0.2;
/// Two lines meet if their residuals are no more than this: rounding, not error.
const MEETS_CHI_SQUARE: f64 = 1e-6;
/// What a residual may grow by before a place fits worse: chi-square of two degrees of freedom, 95 %.
const AS_WELL_CHI_SQUARE: f64 = 5.991_464_547_107_98;

/// Finds the position where lines of position cross, and how well they tell it.
///
/// Each line is weighted by its doubt where it is crossed: a bearing by its standard error and by what its mark's place does
/// to it, a transit by eye and marks at that distance, an angle by both marks. Lines that share a mark err together so far.
/// A line is followed only on the side it was taken from: before the front mark, before the mark of a bearing, with the left
/// mark to the left.
///
/// Where the lines meet at several places, the one nearest to `near` is chosen, otherwise the best fit; the rest are given
/// as others, and a warning says so if `near` does not tell them apart.
///
/// # Units
///
/// Metres on WGS 84, degrees.
///
/// # Accuracy
///
/// The position within 1 mm of the exact crossing, up to 89° of latitude (`tests/lines_of_position.rs`). Ellipse, drms and
/// circle are those of the lines taken as straight, within 5 % of the spread of drawn observations while one standard
/// deviation stays small against the distance to the marks; beyond a fifth of it a warning says so, and ellipse and circle
/// are grown until they hold every place that observations off by as much would have given (docs/accuracy.md).
///
/// # Edge cases
///
/// Redundant lines that do not meet within their errors grow the ellipse by their residual, and are told. Marks in line with
/// each other and the observer give a shallow cut or none.
///
/// # Errors
///
/// [`CrossError`] for fewer than two lines, figures that no observation has, and lines that run along each other or do not
/// cross before their marks.
///
/// # Examples
///
/// ```
/// use takeline::{Metres, Position, TrueBearing, landmark::Landmark, transit::{LineOfPosition, cross}};
///
/// // two bearings at 1 km, ±3°, square to each other, marks known exactly: 74 m
/// let mark = |name, lat, lon| -> Result<Landmark, takeline::InvalidCoordinate> {
///     let exact = Metres::ZERO;
///     Ok(Landmark { position_error_95: exact, ..Landmark::at(name, Position::from_degrees(lat, lon)?) })
/// };
/// let beacon = LineOfPosition::bearing(mark("beacon", 45.1290, -30.1200)?, TrueBearing::from_degrees(0.0)?, 3.0)?;
/// let pine = LineOfPosition::bearing(mark("pine", 45.1200, -30.1073)?, TrueBearing::from_degrees(90.0)?, 3.0)?;
/// let crossed = cross(&[beacon, pine], None)?;
/// assert_eq!(crossed.drms.metres().round(), 74.0);
/// assert_eq!(crossed.angle_of_cut_deg.round(), 90.0);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # References
///
/// Weighted least squares of observation equations, iterated (Gauss 1821); propagation of the covariance (Jᵀ C⁻¹ J)⁻¹.
pub fn cross(lines: &[LineOfPosition], near: Option<Position>) -> Result<CrossedPosition, CrossError> {
    check(lines)?;
    let (fitting, told_apart) = fitting(places(lines, near)?, near, lines.len() - 2);
    let mut doubts = fitting.iter().map(|place| Doubt::of(place, lines));
    let Some((chosen, doubt)) = fitting.first().zip(doubts.next()) else {
        return Err(no_crossing(lines));
    };
    let others: Vec<Position> = fitting[1..].iter().map(|place| place.position).collect();
    let others_radius_95: Vec<Metres> = doubts.map(|doubt| doubt.radius_95).collect();
    // lines through one mark, and others that all but run along each other, leave a doubt that is none of a position
    let widest_m =
        others_radius_95.iter().map(|radius| radius.metres()).fold(doubt.radius_95.metres(), f64::max);
    if widest_m > HorizontalUncertainty::LARGEST_95_M {
        return Err(CrossError::Parallel { lines: names(lines) });
    }
    let problems = problems(lines, chosen, &doubt, (&others, told_apart));
    Ok(CrossedPosition {
        position: chosen.position,
        ellipse: doubt.ellipse,
        drms: doubt.covariance.drms(),
        radius_95: doubt.radius_95,
        angle_of_cut_deg: chosen.angle_of_cut_deg(),
        residuals: chosen.residuals.clone(),
        agree: doubt.agree,
        others,
        others_radius_95,
        problems,
    })
}

/// The places that fit as well as the best, the nearest to `near` first or else the best, and whether `near` tells the first
/// from the others.
fn fitting(mut places: Vec<Solution>, near: Option<Position>, redundant: usize) -> (Vec<Solution>, bool) {
    let best = places.iter().map(|place| place.chi_square).fold(f64::INFINITY, f64::min);
    places.retain(|place| {
        place.chi_square <= best + AS_WELL_CHI_SQUARE
            || probability_beyond(place.chi_square, redundant) >= 0.05
    });
    let away_m = |place: &Solution| near.map_or(0.0, |near| inverse(near, place.position).distance_m);
    // with two lines all fit equally, so their order is that of latitude rather than of the lines
    let fit = |place: &Solution| if redundant == 0 { 0.0 } else { place.chi_square };
    let latitude = |place: &Solution| place.position.latitude().degrees();
    let order = |a: &Solution, b: &Solution| {
        let by_distance = away_m(a).total_cmp(&away_m(b));
        by_distance.then(fit(a).total_cmp(&fit(b))).then(latitude(a).total_cmp(&latitude(b)))
    };
    places.sort_by(order);
    let told_apart = near.is_some()
        && matches!(places.as_slice(), [first, second, ..] if away_m(second) > 2.0 * away_m(first));
    (places, told_apart)
}

fn check(lines: &[LineOfPosition]) -> Result<(), CrossError> {
    for line in lines {
        line.check()?;
    }
    if lines.len() < 2 {
        return Err(CrossError::TooFewLines { given: lines.len() });
    }
    if lines.len() > MOST_LINES {
        return Err(CrossError::TooManyLines { given: lines.len(), most: MOST_LINES });
    }
    Ok(())
}

fn names(lines: &[LineOfPosition]) -> Vec<LineName> {
    lines.iter().map(LineOfPosition::name).collect()
}

fn no_crossing(lines: &[LineOfPosition]) -> CrossError {
    // metres to whole kilometres, for the sentence only
    CrossError::NoCrossing { lines: names(lines), most_km: 100 }
}

/// Every place, once, where the lines meet as well as they do anywhere about it.
fn places(lines: &[LineOfPosition], near: Option<Position>) -> Result<Vec<Solution>, CrossError> {
    let mut found: Vec<Solution> = Vec::new();
    // lines that are parallel wherever one looks
    let mut parallel = true;
    let mut search = |starts: Vec<Position>, found: &mut Vec<Solution>| {
        for start in starts {
            match solve(lines, start, None) {
                Ok(place) if is_crossing(&place) => {
                    let known =
                        |other: &Solution| inverse(other.position, place.position).distance_m < ONE_PLACE_M;
                    if !found.iter().any(known) {
                        found.push(place);
                    }
                }
                Ok(_) | Err(NoSolution::Diverged | NoSolution::NotConverged) => parallel = false,
                Err(NoSolution::Parallel) => {}
            }
        }
    };
    search(start::crossings(lines).into_iter().chain(near).collect(), &mut found);
    if found.is_empty() {
        search(start::rings(lines), &mut found);
    }
    if !found.is_empty() {
        return Ok(found);
    }
    Err(if parallel { CrossError::Parallel { lines: names(lines) } } else { no_crossing(lines) })
}

fn is_crossing(place: &Solution) -> bool {
    let meets = place.looks.len() > 2 || place.chi_square < MEETS_CHI_SQUARE;
    meets && place.is_before_marks() && place.nearest_mark_m() > ON_A_MARK_M
}

/// How well a place is known.
struct Doubt {
    covariance: Symmetric,
    agree: bool,
    /// Longest standard deviation against the distance to the nearest mark.
    share: f64,
    ellipse: ErrorEllipse,
    radius_95: Metres,
}

impl Doubt {
    fn of(place: &Solution, lines: &[LineOfPosition]) -> Self {
        let redundant = lines.len() - 2;
        let agree = redundant == 0 || probability_beyond(place.chi_square, redundant) >= 0.05;
        // a good meeting by chance is no reason to believe more than was said of each line
        let grown = if agree { 1.0 } else { (place.chi_square / count(redundant)).max(1.0) };
        let covariance = place.covariance.scaled(grown);
        let share = covariance.longest() / place.nearest_mark_m();
        let (mut ellipse, mut radius_95) = (covariance.ellipse_95(), covariance.circle_95());
        if share > CURVED_SHARE {
            let (reached, widest_m) = reached(place, lines, covariance);
            let farthest_m =
                reached.iter().map(|[east_m, north_m]| east_m.hypot(*north_m)).fold(0.0, f64::max);
            radius_95 = Metres::computed(radius_95.metres().max(farthest_m));
            // lines spread with the distance from their marks
            ellipse.semi_minor = Metres::computed(ellipse.semi_minor.metres().max(widest_m));
            ellipse = around(ellipse, &reached);
        }
        Self { covariance, agree, share, ellipse, radius_95 }
    }
}

fn count(of: usize) -> f64 {
    u32::try_from(of).map_or(f64::MAX, f64::from)
}

/// Where the position would lie, in metres east and north of the one found, had the lines been off by as much as the ellipse
/// of 95 % stands for, each way round it; and the longest of the short half axes there.
///
/// The places inside hold 95 % of all positions that such errors give, however curved the lines are. Lines that no longer
/// cross leave it open as far as marks are seen.
fn reached(place: &Solution, lines: &[LineOfPosition], covariance: Symmetric) -> (Vec<[f64; 2]>, f64) {
    const WAYS: u32 = 48;
    let ways = (0..WAYS).map(|way| 360.0 / f64::from(WAYS) * f64::from(way));
    let mut widest_m = 0.0_f64;
    let reached = ways.map(|angle_deg| {
        let shift = covariance.on_ellipse(angle_deg).map(|metres| RAYLEIGH_95 * metres);
        let straight_m = shift[0].hypot(shift[1]);
        let errors = place.errors_for(shift);
        let solved = solve(lines, moved(place.position, shift), Some(&errors))
            .or_else(|_| solve(lines, place.position, Some(&errors)));
        let away_m = match solved {
            Ok(other) if other.is_before_marks() => {
                widest_m = widest_m.max(other.covariance.ellipse_95().semi_minor.metres());
                return offset_of(place.position, other.position);
            }
            // on the near side of the marks it is stuck at them, and no farther away than they are
            Ok(_) | Err(NoSolution::NotConverged) => straight_m.max(place.nearest_mark_m()),
            Err(NoSolution::Diverged | NoSolution::Parallel) => FARTHEST_M,
        };
        shift.map(|metres| metres / straight_m.max(1e-9) * away_m)
    });
    let reached = reached.collect();
    (reached, widest_m)
}

/// Metres east and north from one position to another.
fn offset_of(from: Position, to: Position) -> [f64; 2] {
    let way = inverse(from, to);
    let (sin, cos) = way.azimuth_start_deg.to_radians().sin_cos();
    [way.distance_m * sin, way.distance_m * cos]
}

/// The smallest of some ellipses with the axes' directions of this one that hold it and all places, in metres east and north.
fn around(ellipse: ErrorEllipse, places: &[[f64; 2]]) -> ErrorEllipse {
    /// The farther the long axis reaches beyond the farthest place, the less the short one has to make up for.
    const BEYOND: [f64; 5] = [1.02, 1.05, 1.1, 1.2, 1.42];
    let (sin, cos) = ellipse.major_bearing.degrees().to_radians().sin_cos();
    let turned = |place: &[f64; 2]| {
        let [east_m, north_m] = *place;
        (east_m * sin + north_m * cos, east_m * cos - north_m * sin)
    };
    let (semi_major_m, semi_minor_m) = (ellipse.semi_major.metres(), ellipse.semi_minor.metres());
    let longest_m = places.iter().map(|place| turned(place).0.abs()).fold(semi_major_m, f64::max);
    let axes_m = |beyond: f64| -> (f64, f64) {
        let long_m = beyond * longest_m;
        let needed_m = |place: &[f64; 2]| -> f64 {
            let (along_m, across_m) = turned(place);
            across_m.abs() / (1.0 - (along_m / long_m).powi(2)).sqrt()
        };
        (long_m, places.iter().map(needed_m).fold(semi_minor_m, f64::max))
    };
    let smallest = BEYOND.map(axes_m).into_iter().min_by(|a, b| (a.0 * a.1).total_cmp(&(b.0 * b.1)));
    let (long_m, short_m) = smallest.unwrap_or((semi_major_m, semi_minor_m));
    // where the short axis has to grow beyond the long one, a circle does
    let (semi_major, semi_minor) = (Metres::computed(long_m.max(short_m)), Metres::computed(short_m));
    ErrorEllipse { semi_major, semi_minor, ..ellipse }
}

fn problems(
    lines: &[LineOfPosition],
    chosen: &Solution,
    doubt: &Doubt,
    (others, told_apart): (&[Position], bool),
) -> Vec<Problem> {
    let found = [
        disagreement(lines, chosen, doubt),
        others.first().map(|other| two_positions(chosen.position, *other, told_apart)),
        shallow_cut(chosen.angle_of_cut_deg()),
        large_ellipse(doubt),
    ];
    let mut problems: Vec<Problem> = found.into_iter().flatten().chain(of_marks(lines)).collect();
    problems.sort_by_key(|problem| problem.severity);
    problems
}

/// What is to be said of each mark, once.
fn of_marks(lines: &[LineOfPosition]) -> Vec<Problem> {
    // nobody says on which day the lines were taken
    marks_of(lines).into_iter().flat_map(|mark| problem::problems_of(mark, None)).collect()
}

/// The marks of lines, each once.
pub(super) fn marks_of(lines: &[LineOfPosition]) -> Vec<&Landmark> {
    let mut marks: Vec<&Landmark> = Vec::new();
    for mark in lines.iter().map(LineOfPosition::marks).flat_map(|(one, other)| [Some(one), other]) {
        marks.extend(mark.filter(|mark| !marks.contains(mark)));
    }
    marks
}

fn disagreement(lines: &[LineOfPosition], chosen: &Solution, doubt: &Doubt) -> Option<Problem> {
    if doubt.agree {
        return None;
    }
    let farthest = chosen.residuals.iter().zip(lines).max_by(|a, b| a.0.total_cmp(b.0));
    Some(Problem::warning(match farthest {
        Some((&residual, line)) if lines.len() > 3 => {
            ProblemReason::LinesDisagree { farthest: line.name(), residual }
        }
        _ => ProblemReason::ThreeLinesDisagree,
    }))
}

fn two_positions(chosen: Position, other: Position, told_apart: bool) -> Problem {
    let between = inverse(chosen, other);
    let reason = ProblemReason::TwoPositionsFit {
        distance_m: between.distance_m,
        bearing: TrueBearing::wrapping(between.azimuth_start_deg),
        told_apart,
    };
    if told_apart { Problem::note(reason) } else { Problem::warning(reason) }
}

fn shallow_cut(angle_of_cut_deg: f64) -> Option<Problem> {
    let reason = ProblemReason::CutTooShallow { angle_of_cut_deg, least_deg: SHALLOW_DEG };
    (angle_of_cut_deg < SHALLOW_DEG).then(|| Problem::warning(reason))
}

fn large_ellipse(doubt: &Doubt) -> Option<Problem> {
    let reason = ProblemReason::EllipseTooLarge { share: doubt.share };
    (doubt.share > CURVED_SHARE).then(|| Problem::warning(reason))
}
