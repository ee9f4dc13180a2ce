//! A refusal on its way to the user, and the readings it offers.

use std::collections::BTreeSet;

use super::coordinate::Shape;
use super::error::{Axis, ParsePositionError, ParsePositionErrorKind as Kind};
use super::pair::{axes, read_position};
use super::repair;
use super::single::{is_one_coordinate, needs_letter};

/// More readings than a person would compare.
const MOST_READINGS: usize = 8;

/// A refusal that still holds the shapes, so that readings can be offered.
#[derive(Debug)]
pub(super) struct Refusal {
    pub(super) kind: Kind,
    pub(super) offers: Vec<String>,
    pub(super) shapes: Option<Box<(Shape, Shape)>>,
}

impl Refusal {
    pub(super) fn of_pair(kind: Kind, first: Shape, second: Shape) -> Self {
        Self { kind, offers: Vec::new(), shapes: Some(Box::new((first, second))) }
    }

    /// Adds the readings that themselves read without a doubt.
    ///
    /// `text` is the whole text of a pair, from which a reading may be made; empty for a single coordinate.
    pub(super) fn into_error(self, text: &str) -> ParsePositionError {
        let mut offers = self.offers;
        if matches!(self.kind, Kind::SignInside { .. }) {
            offers.extend(with_separator_before_sign(text));
        }
        if let Some(shapes) = &self.shapes {
            let (first, second) = shapes.as_ref();
            offers.extend(pair_readings(first, second));
            if matches!(self.kind, Kind::OutOfRange { .. })
                && first.axis().is_none()
                && second.axis().is_none()
            {
                offers.extend(pair_readings(second, first));
            }
        }
        let mut seen = BTreeSet::new();
        let readable = |offer: &String| {
            read_position(offer).is_ok_and(|parsed| parsed.warnings.is_empty()) || is_one_coordinate(offer)
        };
        offers.retain(|offer| seen.insert(offer.clone()) && readable(offer));
        offers.truncate(MOST_READINGS);
        ParsePositionError::new(self.kind, offers)
    }
}

impl From<Kind> for Refusal {
    fn from(kind: Kind) -> Self {
        Self { kind, offers: Vec::new(), shapes: None }
    }
}

/// The readings of two coordinates together.
fn pair_readings(first: &Shape, second: &Shape) -> Vec<String> {
    let (first_axis, second_axis) = axes(first, second);
    let letters = [first, second].iter().any(|shape| !shape.hemispheres.is_empty());
    let needs = |shape: &Shape, other: &Shape| letters || (needs_letter(shape) && other.sign.is_none());
    let each = |shape: &Shape, axis: Axis, other: &Shape| {
        repair::readings(shape, axis, needs(shape, other) || repair::is_run_together(shape))
    };
    let seconds = each(second, second_axis, first);
    each(first, first_axis, second)
        .iter()
        .flat_map(|first| seconds.iter().map(move |second| format!("{first}, {second}")))
        .collect()
}

/// `45.1-30.1` with a comma before every sign that stands inside.
fn with_separator_before_sign(text: &str) -> Option<String> {
    let inner = text.char_indices().skip(1).find(|(_, character)| matches!(character, '-' | '−' | '–'))?;
    let (left, right) = text.split_at_checked(inner.0)?;
    Some(format!("{left}, {right}"))
}
