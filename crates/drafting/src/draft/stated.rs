//! What a text states of its boundary, held to the coordinates.

use takeline::{Boundary, EdgeLine, EdgeModel, Position};

use super::finding::DraftFinding;
use super::outline::{Outline, OutlineSide, clockwise_deg};
use crate::law_text::{Piece, PrintedPoint, Statement};

/// A stated length or radius may be off by so much of itself (common practice, no source: real good ones are off by 0.4 %, real
/// bad ones by 6 and 9 %).
const LENGTH_SHARE: f64 = 0.02;
/// The same of an area; and of one that is said to be approximate (both common practice, no source).
const AREA_SHARE: f64 = 0.01;
const APPROXIMATE_AREA_SHARE: f64 = 0.05;
/// A stated bearing may be off by so many degrees besides its own digits (common practice, no source).
const BEARING_DEG: f64 = 0.5;
/// A course in words, such as "westerly", may be off by so many degrees (common practice, no source).
const TOWARDS_DEG: f64 = 50.0;
/// The last corner may be the first again, copied wrongly, where it is nearer to it than this share of the shortest other side
/// (common practice, no source).
const NEAR_SHARE: f64 = 0.2;

/// Everything that the text contradicts itself in, but what is only seen when the boundary is built.
pub(super) fn contradictions(outline: &Outline, pieces: &[Piece]) -> Vec<DraftFinding> {
    let mut found = labels(&outline.points);
    found.extend(corners(outline, pieces));
    for (i, side) in outline.sides.iter().enumerate() {
        let ends = (outline.points.get(i), outline.points.get((i + 1) % outline.points.len().max(1)));
        if let (Some(from), Some(to)) = ends {
            found.extend(side_findings(side, (from, to)));
        }
    }
    for point in &outline.points {
        let doubts = point.doubts.iter().map(|doubt| DraftFinding::PointInDoubt {
            line: point.line,
            text: point.text.clone(),
            doubt: doubt.clone(),
        });
        found.extend(doubts);
    }
    found.extend(coarse(&outline.points));
    found.extend(nearly_closes(&outline.points));
    found
}

/// The count of a name: `3` and `C` are third.
fn ordinal(label: &str) -> Option<(bool, usize)> {
    if let Ok(number) = label.parse::<usize>() {
        return Some((true, number));
    }
    let mut letters = label.chars();
    let (Some(letter), None) = (letters.next(), letters.next()) else { return None };
    let letter = letter.to_ascii_uppercase();
    letter.is_ascii_uppercase().then(|| (false, letter as usize - 'A' as usize + 1))
}

/// A row that was lost shows in the names.
fn labels(points: &[PrintedPoint]) -> Vec<DraftFinding> {
    let named: Vec<(&PrintedPoint, &String, (bool, usize))> = points
        .iter()
        .filter_map(|point| point.label.as_ref().and_then(|label| Some((point, label, ordinal(label)?))))
        .collect();
    let mut found = Vec::new();
    let unnamed = points.iter().find(|point| point.label.is_none());
    if let (Some(point), true) = (unnamed, points.iter().any(|point| point.label.is_some())) {
        found.push(DraftFinding::LabelMissing { line: point.line, text: point.text.clone() });
    }
    if let Some((point, label, (_, count))) = named.first()
        && *count > 1
    {
        found.push(DraftFinding::LabelsStart { line: point.line, label: (*label).clone() });
    }
    for pair in named.windows(2) {
        let [(_, before, (_, one)), (point, label, (_, next))] = pair else { continue };
        let (line, before, label) = (point.line, (*before).clone(), (*label).clone());
        if *next > one + 1 {
            found.push(DraftFinding::LabelsGap { line, before, label });
        } else if *next != one + 1 {
            found.push(DraftFinding::LabelsRepeat { line, before, label });
        }
    }
    found
}

fn corners(outline: &Outline, pieces: &[Piece]) -> Vec<DraftFinding> {
    let listed = outline.points.len();
    let counted = listed + usize::from(outline.repeats_first);
    let stated = pieces.iter().filter_map(Piece::statement).filter_map(|statement| {
        let Statement::Corners { line, count } = statement else { return None };
        let differs = *count != listed && *count != counted;
        differs.then_some(DraftFinding::CornersDiffer { line: *line, stated: *count, listed })
    });
    stated.collect()
}

/// A last corner that nearly closes the ring.
fn nearly_closes(points: &[PrintedPoint]) -> Option<DraftFinding> {
    let [first, .., last] = points else { return None };
    let length = |pair: &[PrintedPoint]| {
        distance_m(pair[0].position, pair[1].position, EdgeModel::RhumbLine).map(|(m, _)| m)
    };
    let shortest = points.windows(2).filter_map(length).fold(f64::INFINITY, f64::min);
    let (found_m, _) = distance_m(last.position, first.position, EdgeModel::RhumbLine)?;
    let is_same = |one: f64, other: f64| (one - other).abs() < 1e-9;
    let shares = is_same(first.position.latitude().degrees(), last.position.latitude().degrees())
        || is_same(first.position.longitude().degrees(), last.position.longitude().degrees());
    let is_near = points.len() > 3 && shares && found_m < NEAR_SHARE * shortest;
    is_near.then(|| DraftFinding::NearlyCloses { line: last.line, text: last.text.clone(), found_m })
}

/// How far the digits leave a point open, in metres.
fn open_m(point: &PrintedPoint) -> f64 {
    point.precision.north_south().metres().hypot(point.precision.east_west().metres())
}

fn distance_m(from: Position, to: Position, model: EdgeModel) -> Option<(f64, f64)> {
    let line = EdgeLine::between(from, to, model).ok()?;
    Some((line.length().metres(), line.initial_bearing().degrees()))
}

fn side_findings(side: &OutlineSide, (from, to): (&PrintedPoint, &PrintedPoint)) -> Vec<DraftFinding> {
    let mut found = Vec::new();
    let line = if side.words.line == 0 { to.line } else { side.words.line };
    let open = open_m(from) + open_m(to);
    let model =
        if side.model == Some(EdgeModel::Geodesic) { EdgeModel::Geodesic } else { EdgeModel::RhumbLine };
    let drawn = distance_m(from.position, to.position, model);
    if let (Some(stated), Some((found_m, _)), false) = (&side.words.distance, drawn, side.words.arc)
        && let stated_m = stated.nearest_m(found_m)
        && (found_m - stated_m).abs() > LENGTH_SHARE * stated_m + open
    {
        found.push(DraftFinding::LengthDiffers { line, stated: stated.text.clone(), stated_m, found_m });
    }
    if let (Some(stated_deg), Some((length_m, found_deg))) = (side.words.bearing_deg, drawn) {
        let off = (clockwise_deg(stated_deg + 180.0, found_deg) - 180.0).abs();
        let may_be =
            BEARING_DEG + side.words.bearing_step_deg / 2.0 + (open / length_m).min(1.0).asin().to_degrees();
        if off > may_be {
            found.push(DraftFinding::BearingDiffers { line, stated_deg, found_deg });
        }
    }
    if let (Some(stated_deg), Some((length_m, found_deg))) = (side.words.towards_deg, drawn) {
        let off = (clockwise_deg(stated_deg + 180.0, found_deg) - 180.0).abs();
        if off > TOWARDS_DEG + (open / length_m).min(1.0).asin().to_degrees() {
            found.push(DraftFinding::BearingDiffers { line, stated_deg, found_deg });
        }
    }
    if let Some(parallel) = side.words.parallel {
        let (one, other) = (from.precision, to.precision);
        let is_along = if parallel {
            let off = (from.position.latitude().degrees() - to.position.latitude().degrees()).abs();
            off <= one.latitude_half_digit_deg() + other.latitude_half_digit_deg()
        } else {
            let off = (from.position.longitude().degrees() - to.position.longitude().degrees()).abs();
            off.min(360.0 - off) <= one.longitude_half_digit_deg() + other.longitude_half_digit_deg()
        };
        if !is_along {
            found.push(DraftFinding::NotAlong { line, parallel });
        }
    }
    found.extend(radius(side, (from, to), line));
    found
}

fn radius(side: &OutlineSide, (from, to): (&PrintedPoint, &PrintedPoint), line: usize) -> Vec<DraftFinding> {
    let (Some(centre), Some(stated)) = (&side.centre, &side.words.radius) else { return Vec::new() };
    let ends = [from, to].into_iter().filter_map(|end| {
        let (found_m, _) = distance_m(centre.position, end.position, EdgeModel::Geodesic)?;
        let open = open_m(end) + open_m(centre);
        let stated_m = stated.nearest_m(found_m);
        let differs = (found_m - stated_m).abs() > LENGTH_SHARE * stated_m + open;
        differs.then(|| DraftFinding::RadiusDiffers { line, stated: stated.text.clone(), stated_m, found_m })
    });
    ends.collect()
}

/// Points whose last digit is worth ten times that of most others.
fn coarse(points: &[PrintedPoint]) -> Vec<DraftFinding> {
    let mut steps: Vec<f64> = points.iter().map(|point| point.precision.latitude_half_digit_deg()).collect();
    steps.sort_by(f64::total_cmp);
    let Some(usual) = steps.get(steps.len() / 2).copied() else { return Vec::new() };
    let is_coarse = |point: &&PrintedPoint| {
        let precision = point.precision;
        precision.latitude_half_digit_deg().max(precision.longitude_half_digit_deg()) > 9.0 * usual
    };
    let found: Vec<&PrintedPoint> = points.iter().filter(is_coarse).collect();
    if found.len() * 2 > points.len() {
        return Vec::new();
    }
    found
        .into_iter()
        .map(|point| DraftFinding::CoarserThanOthers { line: point.line, text: point.text.clone() })
        .collect()
}

/// The areas that the text states, held to the boundary.
pub(super) fn areas(boundary: &Boundary, outline: &Outline, pieces: &[Piece]) -> Vec<DraftFinding> {
    let found_m2 = boundary.area_m2();
    // corners that are off by their last digit move half the line outwards at most
    let coarsest = outline.points.iter().map(open_m).fold(0.0, f64::max);
    let open = 0.5 * boundary.perimeter().metres() * coarsest;
    let statements = || pieces.iter().filter_map(Piece::statement);
    let stated = statements().filter_map(|statement| {
        let Statement::Area { line, text, readings_m2 } = statement else { return None };
        let is_approximate = statements().filter_map(Statement::approximate).any(|(other, _)| other == *line);
        let share = if is_approximate { APPROXIMATE_AREA_SHARE } else { AREA_SHARE };
        let off = |(m2, half): &(f64, f64)| (found_m2 - m2).abs() - (share * m2).max(*half) - open;
        let nearest = readings_m2.iter().min_by(|one, other| off(one).total_cmp(&off(other)))?;
        let (line, stated, stated_m2) = (*line, text.clone(), nearest.0);
        (off(nearest) > 0.0).then_some(DraftFinding::AreaDiffers { line, stated, stated_m2, found_m2 })
    });
    stated.collect()
}
