//! One coordinate by itself: its text, its range, and the reasons for refusing it.

use super::coordinate::{Angle, Shape};
use super::error::{Axis, ParsePositionError, ParsePositionErrorKind as Kind};
use super::refusal::Refusal;
use super::repair;
use super::tokens::{self, Token, TokenKind};
use crate::{InvalidCoordinate, Latitude, Longitude};

/// The longest text that is looked at, in characters.
const MOST_CHARACTERS: usize = 200;

pub(super) fn measured(text: &str) -> Result<(), Refusal> {
    if text.chars().nth(MOST_CHARACTERS).is_some() {
        return Err(Kind::TooLong { limit: MOST_CHARACTERS }.into());
    }
    Ok(())
}

pub(super) fn tokens_of(text: &str) -> Result<Vec<Token>, Kind> {
    let tokens = tokens::cut(text)?;
    if tokens.is_empty() {
        return Err(Kind::Empty);
    }
    if !tokens.iter().any(|token| matches!(token.kind, TokenKind::Number(_))) {
        return Err(Kind::NoNumber { piece: text.trim().to_owned() });
    }
    Ok(tokens)
}

/// Reads a text as one coordinate; every comma in it has to be a decimal comma.
pub(super) fn coordinate(text: &str) -> Result<Shape, Refusal> {
    measured(text)?;
    let tokens = tokens_of(text)?;
    let merged =
        with_decimal_commas(&tokens).ok_or_else(|| Kind::NotACoordinate { piece: text.trim().to_owned() })?;
    Ok(Shape::read(text, &merged)?)
}

pub(super) fn is_one_coordinate(text: &str) -> bool {
    coordinate(text).is_ok_and(|shape| {
        let axis = shape.axis().unwrap_or(Axis::Latitude);
        shape.angle(axis).is_ok_and(|angle| angle.warning.is_none() && in_range(&shape, axis, &angle).is_ok())
    })
}

/// Joins every number, comma, number into one number; none if a separator is left over.
pub(super) fn with_decimal_commas(tokens: &[Token]) -> Option<Vec<Token>> {
    let mut merged: Vec<Token> = Vec::with_capacity(tokens.len());
    let mut rest = tokens;
    while let [token, after @ ..] = rest {
        rest = after;
        match (&token.kind, after) {
            (TokenKind::Comma { glued: true }, [fraction, more @ ..]) => {
                let Some(Token { kind: TokenKind::Number(number), end, .. }) = merged.last_mut() else {
                    return None;
                };
                let TokenKind::Number(decimals) = &fraction.kind else { return None };
                if number.decimals() > 0 || decimals.decimals() > 0 {
                    return None;
                }
                number.text = format!("{}.{}", number.text, decimals.text);
                *end = fraction.end;
                rest = more;
            }
            (TokenKind::Comma { .. } | TokenKind::Break, _) => return None,
            _ => merged.push(token.clone()),
        }
    }
    Some(merged)
}

pub(super) fn one<T>(
    text: &str,
    axis: Axis,
    make: impl Fn(&Shape, &Angle) -> Result<T, InvalidCoordinate>,
) -> Result<(T, Angle), ParsePositionError> {
    let shape = coordinate(text).map_err(|refusal| refusal.into_error(""))?;
    let read = |shape: &Shape| -> Result<(T, Angle), Kind> {
        let angle = shape.angle(axis)?;
        if needs_letter(shape) {
            return Err(Kind::MissingHemisphere { piece: shape.piece.clone(), axis });
        }
        let value = make(shape, &angle).map_err(|_| out_of_range(shape, axis))?;
        Ok((value, angle))
    };
    read(&shape).map_err(|kind| {
        let offers = repair::readings(&shape, axis, needs_letter(&shape) || repair::is_run_together(&shape));
        Refusal { kind, offers, shapes: None }.into_error("")
    })
}

/// Minutes printed with neither a letter nor a sign: the W of a western longitude may have been left out.
pub(super) fn needs_letter(shape: &Shape) -> bool {
    shape.hemispheres.is_empty() && shape.sign.is_none() && shape.parts.len() > 1
}

pub(super) fn in_range(shape: &Shape, axis: Axis, angle: &Angle) -> Result<(), Kind> {
    let made = match axis {
        Axis::Latitude => latitude_of(shape, angle).map(|_| ()),
        Axis::Longitude => longitude_of(shape, angle).map(|_| ()),
    };
    made.map_err(|_| out_of_range(shape, axis))
}

pub(super) fn latitude_of(_: &Shape, angle: &Angle) -> Result<Latitude, InvalidCoordinate> {
    Latitude::from_degrees(angle.degrees)
}

/// A longitude with a letter runs to 180; one without may be counted to 360.
pub(super) fn longitude_of(shape: &Shape, angle: &Angle) -> Result<Longitude, InvalidCoordinate> {
    if shape.hemispheres.is_empty() {
        return Longitude::from_degrees_either_way(angle.degrees);
    }
    Longitude::from_degrees(angle.degrees)
}

pub(super) fn out_of_range(shape: &Shape, axis: Axis) -> Kind {
    let range = match axis {
        Axis::Latitude => "-90 to 90",
        Axis::Longitude if shape.hemispheres.is_empty() => "-180 to 360",
        Axis::Longitude => "180 W to 180 E",
    };
    let value = shape.parts.first().map_or(0.0, |part| part.number.value());
    let mut hint = String::new();
    if axis == Axis::Latitude && value <= 180.0 && shape.hemispheres.is_empty() {
        hint.push_str("; latitude and longitude may be swapped");
    }
    if let Some((point_number, rest)) = repair::fused_point_number(shape, axis) {
        hint.push_str("; a point number may be fused to it: ");
        hint.push_str(&[point_number, rest].join(" | "));
    }
    Kind::OutOfRange { axis, piece: shape.piece.clone(), range, hint }
}
