//! Cuts a text into a latitude and a longitude, and says what the two mean together.

use super::coordinate::Shape;
use super::error::{Axis, ParsePositionErrorKind as Kind, PositionWarning};
use super::parse::ParsedPosition;
use super::refusal::Refusal;
use super::single::{in_range, latitude_of, longitude_of, out_of_range, tokens_of, with_decimal_commas};
use super::tokens::{Token, TokenKind};
use super::{Position, precision::PrintedPrecision, repair};

/// A pair of shapes that reads.
pub(super) struct Read {
    pub(super) parsed: ParsedPosition,
    written: String,
}

/// Reads a position by trying every place where the text may be cut into two coordinates.
///
/// One way that works is taken; two ways that work, or one that works beside one that only lacks a hemisphere, are
/// an ambiguity. Tokens are at most 32, so the work is bounded.
pub(super) fn read_position(text: &str) -> Result<ParsedPosition, Refusal> {
    let tokens = tokens_of(text)?;
    let mut ways = Vec::new();
    let mut rivals = false;
    for separator in separators(&tokens) {
        let (Some(left), Some(right)) = (tokens.get(..separator), tokens.get(separator + 1..)) else {
            continue;
        };
        if let (Some(left), Some(right)) = (with_decimal_commas(left), with_decimal_commas(right)) {
            let way = read_two(text, &left, &right);
            rivals |= way.as_ref().is_err_and(|refusal| {
                matches!(refusal.kind, Kind::MissingHemisphere { .. } | Kind::Uneven { .. })
            });
            ways.push(way);
        }
    }
    let mut alone = None;
    if let Some(merged) = with_decimal_commas(&tokens) {
        // the later cut first: of two equal complaints the one after the hemisphere letter is the natural one
        for cut in (1..merged.len()).rev() {
            let (left, right) = merged.split_at(cut);
            let way = read_two(text, left, right);
            rivals |=
                way.as_ref().is_err_and(|refusal| matches!(refusal.kind, Kind::MissingHemisphere { .. }));
            ways.push(way);
        }
        alone = Some(read_alone(text, &merged));
        rivals |= is_one_with_two_hemispheres(text, &merged);
    }
    settle(text, ways, alone, rivals)
}

pub(super) fn read_two(text: &str, left: &[Token], right: &[Token]) -> Result<Read, Refusal> {
    let first = Shape::read(text, left)?;
    let second = Shape::read(text, right)?;
    judge(first, second)
}

pub(super) fn read_alone(text: &str, tokens: &[Token]) -> Result<(), Kind> {
    let shape = Shape::read(text, tokens)?;
    shape.angle(shape.axis().unwrap_or(Axis::Latitude)).map(|_| ())
}

/// `N45 07 W` may be 45° N 7° W, or 45°07′ with one letter too many.
fn is_one_with_two_hemispheres(text: &str, tokens: &[Token]) -> bool {
    Shape::read(text, tokens).is_ok_and(|mut shape| {
        let contradicts = shape.hemispheres.len() > 1;
        shape.hemispheres.clear();
        contradicts && shape.angle(shape.axis_word.unwrap_or(Axis::Latitude)).is_ok()
    })
}

/// Chooses among the ways a text was cut, or says why none will do.
pub(super) fn settle(
    text: &str,
    ways: Vec<Result<Read, Refusal>>,
    alone: Option<Result<(), Kind>>,
    rivals: bool,
) -> Result<ParsedPosition, Refusal> {
    let piece = text.trim().to_owned();
    let mut reads: Vec<Read> = Vec::new();
    let mut refusals = Vec::new();
    for way in ways {
        match way {
            Ok(read) => reads.push(read),
            Err(refusal) => refusals.push(refusal),
        }
    }
    let reads_alone = matches!(alone, Some(Ok(())));
    match (reads.len(), reads_alone) {
        (0, true) => Err(Kind::OnlyOne { piece }.into()),
        (0, false) => {
            refusals.extend(alone.and_then(Result::err).map(Refusal::from));
            let heaviest = refusals.iter().map(|refusal| refusal.kind.weight()).max();
            let told = refusals.into_iter().find(|refusal| Some(refusal.kind.weight()) == heaviest);
            match told {
                Some(refusal) if refusal.kind.weight() > 0 => Err(refusal),
                _ => Err(Kind::NotAPair { piece }.into()),
            }
        }
        (1, false) if !rivals => reads.pop().map(|read| read.parsed).ok_or_else(|| Kind::Empty.into()),
        _ => {
            let offers = reads.into_iter().map(|read| read.written).collect();
            Err(Refusal { kind: Kind::Ambiguous { piece }, offers, shapes: None })
        }
    }
}

/// The places of the tokens that may separate the two coordinates.
///
/// A semicolon or slash, and a comma with a blank beside it, can be nothing else. A comma between two digits may,
/// but only if it is the only one: of several, all are decimal commas.
pub(super) fn separators(tokens: &[Token]) -> Vec<usize> {
    let glued = |token: &Token| token.kind == TokenKind::Comma { glued: true };
    let lone = tokens.iter().filter(|token| glued(token)).count() == 1;
    let sure = tokens
        .iter()
        .enumerate()
        .filter(|(_, token)| matches!(token.kind, TokenKind::Comma { glued: false } | TokenKind::Break))
        .map(|(index, _)| index);
    let sure: Vec<usize> = sure.collect();
    if !sure.is_empty() || !lone {
        return sure;
    }
    tokens.iter().position(glued).into_iter().collect()
}

/// Says what two coordinates mean together, or why they do not.
pub(super) fn judge(first: Shape, second: Shape) -> Result<Read, Refusal> {
    match judged(&first, &second) {
        Ok(read) => Ok(read),
        Err(kind) => Err(Refusal::of_pair(kind, first, second)),
    }
}

pub(super) fn judged(first: &Shape, second: &Shape) -> Result<Read, Kind> {
    let uneven = first.parts.len() != second.parts.len();
    if uneven && first.is_bare() && second.is_bare() {
        let count = first.parts.len() + second.parts.len();
        return Err(Kind::Uneven { piece: format!("{} {}", first.piece, second.piece), count });
    }
    let (first_axis, second_axis) = axes(first, second);
    let first_angle = first.angle(first_axis)?;
    if let (Some(axis), Some(same)) = (first.axis(), second.axis())
        && axis == same
    {
        second.angle(axis)?;
        return Err(Kind::TwoOfAKind { piece: second.piece.clone(), axis });
    }
    let second_angle = second.angle(second_axis)?;
    let hemisphere_warnings = check_hemispheres((first, first_axis), (second, second_axis))?;
    in_range(first, first_axis, &first_angle)?;
    in_range(second, second_axis, &second_angle)?;
    let written = [(first, first_axis), (second, second_axis)]
        .map(|(shape, axis)| repair::readings(shape, axis, false).into_iter().next().unwrap_or_default())
        .join(", ");
    let mut warnings: Vec<PositionWarning> =
        [&first_angle, &second_angle].into_iter().filter_map(|angle| angle.warning.clone()).collect();
    warnings.extend(hemisphere_warnings);
    let (latitude, latitude_shape, longitude, longitude_shape) = match first_axis {
        Axis::Latitude => (first_angle, first, second_angle, second),
        Axis::Longitude => (second_angle, second, first_angle, first),
    };
    let position = Position::new(
        latitude_of(latitude_shape, &latitude).map_err(|_| out_of_range(latitude_shape, Axis::Latitude))?,
        longitude_of(longitude_shape, &longitude)
            .map_err(|_| out_of_range(longitude_shape, Axis::Longitude))?,
    );
    let precision =
        PrintedPrecision::new(position.latitude(), latitude.half_digit_deg, longitude.half_digit_deg);
    Ok(Read { parsed: ParsedPosition { position, warnings, precision }, written })
}

/// Which of two coordinates is the latitude: as their words say, else the first.
pub(super) fn axes(first: &Shape, second: &Shape) -> (Axis, Axis) {
    let first_axis = first.axis().or(second.axis().map(Axis::other)).unwrap_or(Axis::Latitude);
    (first_axis, first_axis.other())
}

pub(super) fn check_hemispheres(
    first: (&Shape, Axis),
    second: (&Shape, Axis),
) -> Result<Vec<PositionWarning>, Kind> {
    let mut warnings = Vec::new();
    for ((shape, axis), (other, _)) in [(first, second), (second, first)] {
        if !shape.hemispheres.is_empty() {
            continue;
        }
        let missing = || Kind::MissingHemisphere { piece: shape.piece.clone(), axis };
        match (shape.sign, other.hemispheres.is_empty()) {
            (None, false) => return Err(missing()),
            (None, true) if shape.parts.len() > 1 && other.sign.is_none() => return Err(missing()),
            (Some(_), false) => {
                warnings.push(PositionWarning::SignBesideLetter { piece: shape.piece.clone() });
            }
            _ => {}
        }
    }
    Ok(warnings)
}
