//! A place on the ellipsoid, and a coordinate as it was written: its parts, their shape, and what they make.

use super::error::{Axis, ParsePositionErrorKind as Kind, PositionWarning};
use super::tokens::{Mark, Number, Token, TokenKind};
use crate::{InvalidCoordinate, Latitude, Longitude};

/// A place on the surface of the WGS 84 ellipsoid.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Position {
    #[cfg_attr(feature = "serde", serde(rename = "latitude_deg"))]
    latitude: Latitude,
    #[cfg_attr(feature = "serde", serde(rename = "longitude_deg"))]
    longitude: Longitude,
}

impl Position {
    /// Makes a position; the two types keep the order from being swapped.
    #[must_use]
    pub const fn new(latitude: Latitude, longitude: Longitude) -> Self {
        Self { latitude, longitude }
    }

    /// Makes a position from degrees, latitude first, longitude −180 to 360.
    ///
    /// # Errors
    ///
    /// [`InvalidCoordinate`] if either number is not finite or out of range.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::Position;
    /// let sallow_cove = Position::from_degrees(45.1182, -30.1217)?;
    /// assert_eq!(sallow_cove.longitude().degrees(), -30.1217);
    /// assert!(Position::from_degrees(-123.0, 37.0).is_err());
    /// # Ok::<(), takeline::InvalidCoordinate>(())
    /// ```
    pub fn from_degrees(latitude_deg: f64, longitude_deg: f64) -> Result<Self, InvalidCoordinate> {
        Ok(Self::new(
            Latitude::from_degrees(latitude_deg)?,
            Longitude::from_degrees_either_way(longitude_deg)?,
        ))
    }

    /// Returns the latitude.
    #[must_use]
    pub const fn latitude(self) -> Latitude {
        self.latitude
    }

    /// Returns the longitude.
    #[must_use]
    pub const fn longitude(self) -> Longitude {
        self.longitude
    }
}

/// One printed number of a coordinate with its mark.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Part {
    pub(super) number: Number,
    pub(super) mark: Option<Mark>,
    /// Nothing stands between this number and the mark before it.
    glued: bool,
    piece: String,
}

/// A coordinate as printed: its words, sign, hemisphere and one to three numbers, not yet checked.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Shape {
    pub(super) piece: String,
    pub(super) axis_word: Option<Axis>,
    /// True for a minus, false for a plus.
    pub(super) sign: Option<bool>,
    /// One letter, or two that were both printed.
    pub(super) hemispheres: Vec<char>,
    pub(super) parts: Vec<Part>,
}

/// The angle of a coordinate, before it is told latitude from longitude.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Angle {
    pub(super) degrees: f64,
    /// Half of the last printed digit, in degrees.
    pub(super) half_digit_deg: f64,
    pub(super) warning: Option<PositionWarning>,
}

const PART_NAMES: [&str; 3] = ["degrees", "minutes", "seconds"];
const UNITS_DEG: [f64; 3] = [1.0, 1.0 / 60.0, 1.0 / 3600.0];

impl Shape {
    /// Reads all of `tokens` as one coordinate: words, sign, numbers with marks, words.
    pub(super) fn read(text: &str, tokens: &[Token]) -> Result<Self, Kind> {
        let piece = piece_of(text, tokens);
        let mut shape =
            Self { piece, axis_word: None, sign: None, hemispheres: Vec::new(), parts: Vec::new() };
        let mut rest = shape.words(tokens)?;
        if let [Token { kind: TokenKind::Sign { negative }, .. }, after @ ..] = rest {
            shape.sign = Some(*negative);
            rest = after;
        }
        rest = shape.numbers(text, rest);
        if shape.parts.is_empty() {
            return Err(Kind::NotACoordinate { piece: shape.piece });
        }
        rest = shape.words(rest)?;
        match rest {
            [] => Ok(shape),
            [Token { kind: TokenKind::Sign { .. }, .. }, ..] => Err(Kind::SignInside { piece: shape.piece }),
            _ => Err(Kind::NotACoordinate { piece: shape.piece }),
        }
    }

    /// Takes hemisphere and axis words off the front: one of each kind, in any order.
    fn words<'t>(&mut self, tokens: &'t [Token]) -> Result<&'t [Token], Kind> {
        let mut rest = tokens;
        let mut hemisphere_here = false;
        while let [token, after @ ..] = rest {
            match &token.kind {
                TokenKind::Hemisphere(letter) if !hemisphere_here => {
                    hemisphere_here = true;
                    self.hemispheres.push(*letter);
                }
                TokenKind::AxisWord(axis) if self.axis_word.is_none() => self.axis_word = Some(*axis),
                TokenKind::Hemisphere(_) | TokenKind::AxisWord(_) => {
                    return Err(Kind::NotACoordinate { piece: self.piece.clone() });
                }
                TokenKind::Number(_)
                | TokenKind::Mark(_)
                | TokenKind::Sign { .. }
                | TokenKind::Comma { .. }
                | TokenKind::Break
                | TokenKind::Colon => break,
            }
            rest = after;
        }
        Ok(rest)
    }

    /// Takes up to three numbers with their marks off the front.
    fn numbers<'t>(&mut self, text: &str, tokens: &'t [Token]) -> &'t [Token] {
        let mut rest = tokens;
        let mut before = None;
        while self.parts.len() < 3 {
            let from = match rest {
                [Token { kind: TokenKind::Colon, .. }, after @ ..] if !self.parts.is_empty() => after,
                _ => rest,
            };
            let [Token { kind: TokenKind::Number(number), .. }, after @ ..] = from else { break };
            let (mark, next) = match after {
                [Token { kind: TokenKind::Mark(mark), .. }, next @ ..] => (Some(*mark), next),
                _ => (None, after),
            };
            let taken = from.len() - next.len();
            let piece = piece_of(text, from.get(..taken).unwrap_or_default());
            let start = from.first().map(|token| token.start);
            let glued = before.is_some() && before == start;
            before = from.get(taken.saturating_sub(1)).map(|token| token.end);
            self.parts.push(Part { number: number.clone(), mark, glued, piece });
            rest = next;
        }
        rest
    }

    /// True if the coordinate is nothing but numbers and perhaps a sign.
    pub(super) fn is_bare(&self) -> bool {
        self.hemispheres.is_empty()
            && self.axis_word.is_none()
            && self.parts.iter().all(|part| part.mark.is_none())
    }

    /// The axis that the coordinate names; of two that disagree, the hemisphere's.
    pub(super) fn axis(&self) -> Option<Axis> {
        self.hemispheres.first().map(|letter| axis_of(*letter)).or(self.axis_word)
    }

    /// Checks everything that does not depend on the other coordinate, and works out the signed angle.
    pub(super) fn angle(&self, axis: Axis) -> Result<Angle, Kind> {
        self.check_hemisphere(axis)?;
        self.check_marks()?;
        for (index, part) in self.parts.iter().enumerate() {
            self.check_part(index, part)?;
        }
        let magnitude: f64 =
            self.parts.iter().zip(UNITS_DEG).rev().map(|(part, unit)| part.number.value() * unit).sum();
        let last = self.parts.len().saturating_sub(1);
        let unit = UNITS_DEG.get(last).copied().unwrap_or(1.0);
        let decimals = i32::try_from(self.parts.last().map_or(0, |part| part.number.decimals())).unwrap_or(0);
        Ok(Angle {
            degrees: if self.is_negative() { 0.0 - magnitude } else { magnitude },
            half_digit_deg: 0.5 * unit * 0.1_f64.powi(decimals),
            warning: self.decimal_degrees_marked_as_seconds().or_else(|| self.seconds_without_mark()),
        })
    }

    fn is_negative(&self) -> bool {
        match self.hemispheres.first() {
            Some(letter) => matches!(letter, 'S' | 'W'),
            None => self.sign == Some(true),
        }
    }

    fn check_hemisphere(&self, axis: Axis) -> Result<(), Kind> {
        let piece = || self.piece.clone();
        if self.hemispheres.len() > 1 {
            return Err(Kind::TwoHemispheres { piece: piece() });
        }
        if self.sign.is_some() && !self.hemispheres.is_empty() {
            return Err(Kind::SignAndHemisphere { piece: piece() });
        }
        let meant = self.axis_word.unwrap_or(axis);
        if self.hemispheres.iter().any(|letter| axis_of(*letter) != meant) {
            return Err(Kind::WrongHemisphere { piece: piece(), axis: meant });
        }
        if meant != axis {
            return Err(Kind::TwoOfAKind { piece: piece(), axis: meant });
        }
        Ok(())
    }

    /// Marks must run degrees, minutes, seconds; a number without a mark takes its turn.
    fn check_marks(&self) -> Result<(), Kind> {
        if self.decimal_degrees_marked_as_seconds().is_some() {
            return Ok(());
        }
        for (index, part) in self.parts.iter().enumerate() {
            let fits = match part.mark {
                None => true,
                Some(Mark::Degree) => index == 0,
                Some(Mark::Minute) => index == 1,
                Some(Mark::Second) => index == 2,
                Some(Mark::Doubtful) => {
                    let next = self.parts.get(1).and_then(|next| next.mark);
                    if index != 0 || next != Some(Mark::Minute) {
                        return Err(Kind::UnreadableMark { piece: self.piece.clone() });
                    }
                    true
                }
            };
            if !fits {
                return Err(Kind::MarkOutOfTurn { piece: part.piece.clone() });
            }
        }
        Ok(())
    }

    /// `120.60483 ″`: three or more decimals and one number, so it can only be decimal degrees (a federal text prints it).
    fn decimal_degrees_marked_as_seconds(&self) -> Option<PositionWarning> {
        match self.parts.as_slice() {
            [only] if only.mark == Some(Mark::Second) && only.number.decimals() >= 3 => {
                Some(PositionWarning::SecondsMarkOnDegrees { piece: only.piece.clone() })
            }
            _ => None,
        }
    }

    /// `24′21 N`: seconds without their mark, or 24.21′ without its point, as some texts print 24′.21.
    fn seconds_without_mark(&self) -> Option<PositionWarning> {
        match self.parts.as_slice() {
            [_, minutes, seconds] if minutes.mark.is_some() && seconds.mark.is_none() && seconds.glued => {
                let piece = [minutes.piece.as_str(), seconds.piece.as_str()].concat();
                (seconds.number.decimals() == 0).then_some(PositionWarning::SecondsWithoutMark { piece })
            }
            _ => None,
        }
    }

    fn check_part(&self, index: usize, part: &Part) -> Result<(), Kind> {
        let piece = || part.piece.clone();
        if part.number.behind_point && part.number.decimals() == 0 && part.mark.is_none() {
            return Err(Kind::StrayPoint { piece: self.piece.clone() });
        }
        if index + 1 < self.parts.len() && part.number.decimals() > 0 {
            return Err(Kind::DecimalsBeforeLast { piece: piece() });
        }
        if index == 0 {
            if part.number.whole_digits() > 3 {
                return Err(Kind::RunTogether { piece: piece() });
            }
            return Ok(());
        }
        let name = PART_NAMES.get(index).copied().unwrap_or("degrees");
        if part.number.value() >= 60.0 {
            return Err(Kind::SixtyOrMore { part: name, piece: piece() });
        }
        if part.number.whole_digits() > 2 {
            return Err(Kind::TooManyDigits { part: name, piece: piece() });
        }
        Ok(())
    }
}

pub(super) const fn axis_of(letter: char) -> Axis {
    match letter {
        'N' | 'S' => Axis::Latitude,
        _ => Axis::Longitude,
    }
}

fn piece_of(text: &str, tokens: &[Token]) -> String {
    let (Some(first), Some(last)) = (tokens.first(), tokens.last()) else { return String::new() };
    text.get(first.start..last.end).unwrap_or_default().to_owned()
}
