//! What a source holds, before anything is said about rules: shapes with attributes.

use serde_json::Value;

use super::fault::ImportFault;
use super::note::Notes;

/// The numbers of a position as the source has them: easting or longitude first.
pub(super) type Xy = [f64; 2];

/// Everything that one source holds.
#[derive(Debug)]
pub(super) struct Layer {
    /// What the source says its numbers are.
    pub(super) system: StatedSystem,
    /// Whether the format says that sides are straight in longitude and latitude.
    pub(super) is_straight_in_lonlat: bool,
    pub(super) features: Vec<SourceFeature>,
    pub(super) notes: Notes,
}

/// What a source says of its coordinates.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum StatedSystem {
    /// WGS 84, because the format knows no other.
    ByFormat,
    /// A name, a code or well-known text.
    Named(String),
    /// Nothing.
    Unstated,
}

/// One feature.
#[derive(Debug, Default)]
pub(super) struct SourceFeature {
    /// "feature 3", as people count.
    pub(super) place: String,
    /// An id beside the attributes.
    pub(super) id: Option<String>,
    /// Attributes in the order of the source.
    pub(super) attributes: Vec<(String, Value)>,
    pub(super) shape: Shape,
}

/// What a feature looks like; all empty: nothing.
#[derive(Debug, Default, Clone, PartialEq)]
pub(super) struct Shape {
    pub(super) areas: Vec<Area>,
    pub(super) lines: Vec<Line>,
    pub(super) points: Vec<Xy>,
}

/// A ring and its holes.
#[derive(Debug, Default, Clone, PartialEq)]
pub(super) struct Area {
    pub(super) exterior: Vec<Xy>,
    pub(super) holes: Vec<Vec<Xy>>,
}

/// A line, which may be a ring.
#[derive(Debug, Default, Clone, PartialEq)]
pub(super) struct Line {
    pub(super) positions: Vec<Xy>,
    /// Whether it means a ring even where its end is not its beginning, as of a route or a track.
    pub(super) is_meant_closed: bool,
}

impl Shape {
    /// How many positions it has.
    pub(super) fn count(&self) -> usize {
        let areas = self.areas.iter().flat_map(|area| std::iter::once(&area.exterior).chain(&area.holes));
        let lines = self.lines.iter().map(|line| &line.positions);
        areas.chain(lines).map(Vec::len).sum::<usize>() + self.points.len()
    }
}

/// A number of text.
pub(super) fn number(place: &str, what: &str, text: &str) -> Result<f64, ImportFault> {
    let read = text.trim().parse::<f64>().ok().filter(|number| number.is_finite());
    read.ok_or_else(|| {
        ImportFault::at(
            place,
            format!("{what} {text:?} is not a number"),
            "write decimal degrees, or metres of the grid, with a decimal point",
        )
    })
}
