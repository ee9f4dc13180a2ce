//! What a refused coordinate may have meant. These are offers; none is ever taken for the user.

use super::error::Axis;
use super::place::Shape;
use super::tokens::Mark;

/// The numbers of a coordinate, degrees first, as text.
type Parts = Vec<String>;

/// At most this many readings of one coordinate; more would be guessing.
const MOST_READINGS: usize = 4;

/// The readings of a coordinate on `axis`, each written with marks and a hemisphere letter.
pub(super) fn readings(shape: &Shape, axis: Axis, letter_needed: bool) -> Vec<String> {
    let letters = letters(shape, axis, letter_needed);
    let numbers = numbers(shape, axis);
    numbers
        .iter()
        .flat_map(|parts| letters.iter().map(|letter| written(parts, *letter)))
        .take(MOST_READINGS)
        .collect()
}

/// The hemispheres a coordinate may lie in.
fn letters(shape: &Shape, axis: Axis, letter_needed: bool) -> Vec<char> {
    let [positive, negative] = axis.letters();
    if let [letter] = shape.hemispheres.as_slice()
        && axis.letters().contains(letter)
        && shape.sign.is_none()
    {
        return vec![*letter];
    }
    match (shape.sign, shape.hemispheres.is_empty()) {
        (Some(true), true) => vec![negative],
        (Some(false), true) => vec![positive],
        (None, true) if !letter_needed => vec![positive],
        _ => vec![positive, negative],
    }
}

/// The numbers as printed where they are sound, else what they may have been.
fn numbers(shape: &Shape, axis: Axis) -> Vec<Parts> {
    let printed: Parts = shape.parts.iter().map(|part| part.number.text.clone()).collect();
    let dangling_minute_mark =
        shape.parts.iter().enumerate().any(|(index, part)| index > 0 && part.mark == Some(Mark::Second));
    match printed.as_slice() {
        [only] if is_run_together(shape) => run_apart(only),
        [_] => {
            let mut readings = vec![printed.clone()];
            readings.extend(fused_point_number(shape, axis).map(|(_, rest)| vec![rest]));
            readings
        }
        [degrees, minutes] if !dangling_minute_mark => vec![carried(degrees, minutes, None)],
        [degrees, minutes, seconds] => vec![carried(degrees, minutes, Some(seconds))],
        _ => Vec::new(),
    }
}

/// `2830` as 28 30 and `283015` as 28 30 15: the last whole digits in pairs.
fn run_apart(number: &str) -> Vec<Parts> {
    let point = number.find('.').unwrap_or(number.len());
    let cut = |digits_from_end: usize| point.checked_sub(digits_from_end);
    let slice = |from: usize, to: usize| number.get(from..to).unwrap_or_default().to_owned();
    match point {
        4 | 5 => {
            cut(2).map(|minutes| vec![slice(0, minutes), slice(minutes, number.len())]).into_iter().collect()
        }
        6 | 7 => cut(4)
            .map(|minutes| {
                vec![slice(0, minutes), slice(minutes, minutes + 2), slice(minutes + 2, number.len())]
            })
            .into_iter()
            .collect(),
        _ => Vec::new(),
    }
}

/// `134.17333` as 34.17333: a row number fused to the degrees in a copied table.
///
/// Only where the number as printed is beyond the range, and what is left is not.
pub(super) fn fused_point_number(shape: &Shape, axis: Axis) -> Option<(String, String)> {
    let limit = match axis {
        Axis::Latitude => 90.0,
        Axis::Longitude => 180.0,
    };
    let [only] = shape.parts.as_slice() else { return None };
    let (point_number, rest) = only.number.text.split_at_checked(1)?;
    let beyond = only.number.whole_digits() == 3 && only.number.value() > limit;
    let fits = !rest.starts_with('0') && rest.parse::<f64>().is_ok_and(|left| left <= limit);
    (beyond && fits).then(|| (point_number.to_owned(), rest.to_owned()))
}

/// True for `2830`: more digits than degrees have.
pub(super) fn is_run_together(shape: &Shape) -> bool {
    shape.parts.first().is_some_and(|part| part.number.whole_digits() > 3)
}

/// Carries 60 or more minutes or seconds into the next part; leaves sound parts as they are printed.
fn carried(degrees: &str, minutes: &str, seconds: Option<&str>) -> Parts {
    let (seconds, minute_carry) = match seconds {
        Some(seconds) => {
            let (text, carry) = below_sixty(seconds, 0);
            (Some(text), carry)
        }
        None => (None, 0),
    };
    let (minutes, degree_carry) = below_sixty(minutes, minute_carry);
    let degrees = match degrees.parse::<u32>() {
        Ok(whole) if degree_carry > 0 => format!("{:02}", whole.saturating_add(degree_carry)),
        _ => degrees.to_owned(),
    };
    [degrees, minutes].into_iter().chain(seconds).collect()
}

/// Adds a carry to a printed number and takes one sixty off if it reaches that, keeping the decimals as printed.
fn below_sixty(number: &str, add: u32) -> (String, u32) {
    let point = number.find('.').unwrap_or(number.len());
    let (whole, decimals) = number.split_at(point);
    let Ok(printed) = whole.parse::<u32>() else { return (number.to_owned(), 0) };
    let sum = printed.saturating_add(add);
    match sum.checked_sub(60) {
        Some(left) => (format!("{left:02}{decimals}"), 1),
        None if add > 0 => (format!("{sum:02}{decimals}"), 0),
        None => (number.to_owned(), 0),
    }
}

fn written(parts: &[String], letter: char) -> String {
    let marks = ["°", "′", "″"];
    let mut text: String = parts.iter().zip(marks).flat_map(|(part, mark)| [part.as_str(), mark]).collect();
    text.push(letter);
    text
}
