//! Reads positions and single coordinates from text.

use std::str::FromStr;

use super::error::{Axis, ParsePositionError, ParsePositionErrorKind as Kind, PositionWarning, Refusal};
use super::format::PrintedPrecision;
use super::place::{Angle, Position, Shape};
use super::repair;
use super::tokens::{self, Token, TokenKind};
use crate::{InvalidCoordinate, Latitude, Longitude};

/// A position read from text.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ParsedPosition {
    /// The position, as printed: the datum of the text is not known here and nothing was shifted.
    pub position: Position,
    /// What was read with a doubt; empty in the ordinary case.
    pub warnings: Vec<PositionWarning>,
    /// Half of the last printed digit on each axis.
    pub precision: PrintedPrecision,
}

/// A latitude read from text.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ParsedLatitude {
    /// The latitude.
    pub latitude: Latitude,
    /// What was read with a doubt; empty in the ordinary case.
    pub warnings: Vec<PositionWarning>,
    /// Half of the last printed digit, in degrees of latitude.
    pub half_digit_deg: f64,
}

/// A longitude read from text.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct ParsedLongitude {
    /// The longitude.
    pub longitude: Longitude,
    /// What was read with a doubt; empty in the ordinary case.
    pub warnings: Vec<PositionWarning>,
    /// Half of the last printed digit, in degrees of longitude.
    pub half_digit_deg: f64,
}

impl Position {
    /// Reads a latitude and a longitude from one text.
    ///
    /// Three forms are read, mixed or not: decimal degrees (`45.1175`), degrees and decimal minutes (`45°07.05′`),
    /// and degrees, minutes and seconds (`45°07′03″`). Marks tell the last two apart: `32°51.30′` is 51.30 minutes,
    /// `32°51′30″` is 51 minutes 30 seconds, 370 m away. Without marks the point decides: `32 51.30` is degrees and
    /// minutes, `32 51 30` has seconds. A corrupted degree sign (`ø`, `<>`, and `?` before marked minutes) is read.
    ///
    /// Hemispheres are letters or words before or after their coordinate, in which case either coordinate may come
    /// first, or signs. Without either, only decimal degrees are read, latitude first; minutes without a hemisphere
    /// are refused, because many texts leave out the W. Commas, semicolons, slashes or blanks separate; a comma is
    /// read as a decimal comma where it cannot be a separator.
    ///
    /// # Edge cases
    ///
    /// A longitude without a letter may run to 360 (`182.5` is 177.5° W); with a letter, to 180. `-0 30 00` is south
    /// or west. A text of more than 200 characters is refused. A swap of two numbers that are both latitudes, such
    /// as 40 and 30, cannot be seen here.
    ///
    /// # Errors
    ///
    /// [`ParsePositionError`] names the piece, the reason, and the readings the text may have had.
    /// Nothing is guessed: a text with two readings is refused.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Position;
    /// let landing = Position::parse("45°07.05'N 030°07.30'W")?;
    /// assert_eq!(landing.position.to_string(), "45°07.050′N 030°07.300′W");
    /// assert!(landing.warnings.is_empty());
    /// assert_eq!(Position::parse("45 07 03 N, 30 07 18 W")?.position, landing.position);
    ///
    /// let error = Position::parse("45°07.05'N 030°07.30'").unwrap_err();
    /// assert_eq!(error.readings(), ["45°07.05′N, 030°07.30′E", "45°07.05′N, 030°07.30′W"]);
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    pub fn parse(text: &str) -> Result<ParsedPosition, ParsePositionError> {
        measured(text).and_then(|()| read_position(text)).map_err(|refusal| refusal.into_error(text))
    }

    /// Reads a latitude and a longitude from two texts, as two arguments of a command give them.
    ///
    /// Prefer this to [`Latitude::parse`] and [`Longitude::parse`] where both texts are at hand: a hemisphere that
    /// only one of the two has is judged, and the hint that the two may be swapped can be given.
    ///
    /// # Errors
    ///
    /// As [`Position::parse`]; also if the first text is a longitude.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Position;
    /// let landing = Position::parse_pair("45 07.05", "-30 07.30")?;
    /// assert_eq!(landing.position.to_string(), "45°07.050′N 030°07.300′W");
    /// assert!(Position::parse_pair("30.12 W", "45.11 N").is_err());
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    pub fn parse_pair(latitude: &str, longitude: &str) -> Result<ParsedPosition, ParsePositionError> {
        let shapes = coordinate(latitude).and_then(|first| Ok((first, coordinate(longitude)?)));
        let (first, second) = shapes.map_err(|refusal| refusal.into_error(""))?;
        if first.axis() == Some(Axis::Longitude) {
            let kind = Kind::WrongHemisphere { piece: first.piece.clone(), axis: Axis::Latitude };
            return Err(Refusal::of_pair(kind, first, second).into_error(""));
        }
        judge(first, second).map(|read| read.parsed).map_err(|refusal| refusal.into_error(""))
    }
}

impl Latitude {
    /// Reads one latitude, in any form that [`Position::parse`] reads.
    ///
    /// # Errors
    ///
    /// [`ParsePositionError`]; in particular degrees and minutes with neither a letter nor a sign are refused.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Latitude;
    /// assert_eq!(Latitude::parse("45°07'30\"S")?.latitude.degrees(), -45.125);
    /// assert!(Latitude::parse("30.12 W").is_err());
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    pub fn parse(text: &str) -> Result<ParsedLatitude, ParsePositionError> {
        let (latitude, angle) = one(text, Axis::Latitude, latitude_of)?;
        Ok(ParsedLatitude {
            latitude,
            warnings: angle.warning.into_iter().collect(),
            half_digit_deg: angle.half_digit_deg,
        })
    }
}

impl Longitude {
    /// Reads one longitude, in any form that [`Position::parse`] reads.
    ///
    /// # Errors
    ///
    /// [`ParsePositionError`]; in particular degrees and minutes with neither a letter nor a sign are refused.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Longitude;
    /// assert_eq!(Longitude::parse("-0 30 00")?.longitude.degrees(), -0.5);
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    pub fn parse(text: &str) -> Result<ParsedLongitude, ParsePositionError> {
        let (longitude, angle) = one(text, Axis::Longitude, longitude_of)?;
        Ok(ParsedLongitude {
            longitude,
            warnings: angle.warning.into_iter().collect(),
            half_digit_deg: angle.half_digit_deg,
        })
    }
}

impl FromStr for Position {
    type Err = ParsePositionError;

    /// Reads a position where no doubt is taken: a text that [`Position::parse`] reads with a warning is an error
    /// that offers the position to type instead.
    ///
    /// How many digits the text has is lost: for a fix read it with [`Position::parse`] and [`crate::Fix::typed`].
    fn from_str(text: &str) -> Result<Self, Self::Err> {
        let parsed = Self::parse(text)?;
        match parsed.warnings.into_iter().next() {
            None => Ok(parsed.position),
            Some(warning) => Err(ParsePositionError::new(
                Kind::ReadWithDoubt { warning },
                vec![parsed.position.to_decimal_degrees(6)],
            )),
        }
    }
}

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
        hint.push_str("; a point number may have run into it: ");
        hint.push_str(&[point_number, rest].join(" | "));
    }
    Kind::OutOfRange { axis, piece: shape.piece.clone(), range, hint }
}
