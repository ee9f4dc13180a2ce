use serde::Serialize;
use takeline::transit::{LinePoint, Meeting, Side, ViewedWater, ZoneOnLine};
use takeline::{Arcminutes, Position, Tristate};

use super::parts::{metres, number};
use crate::here::{FileDocument, SourceDocument};

/// One zone with respect to the stretch.
#[derive(Debug, Clone, Serialize)]
pub struct ZoneOnLineDocument<'a> {
    /// Identifier.
    pub id: &'a str,
    /// Name.
    pub name: &'a str,
    /// Whether the stretch keeps outside, the doubt counted: `yes`, `no` or `undecided`.
    pub clears: Tristate,
    /// The point with the least margin; null if the line of the zone is not known.
    pub worst: Option<LinePointDocument>,
    /// The point with the least signed distance.
    pub closest: Option<LinePointDocument>,
    /// The near end.
    pub near: Option<LinePointDocument>,
    /// The middle.
    pub middle: Option<LinePointDocument>,
    /// The far end.
    pub far: Option<LinePointDocument>,
    /// Where the stretch meets its boundary, from near to far.
    pub meetings: &'a [Meeting],
    /// `left` or `right`: where the rear mark shows inside; null if on both sides or not known.
    pub rear_shows_inside: Option<Side>,
    /// Whether its rule is in force at the time asked about.
    pub in_force: Tristate,
    /// The law.
    pub source: SourceDocument<'a>,
    /// The file.
    pub zone_file: FileDocument<'a>,
}

impl<'a> From<&'a ZoneOnLine> for ZoneOnLineDocument<'a> {
    fn from(zone: &'a ZoneOnLine) -> Self {
        let point = |point: Option<LinePoint>| point.map(LinePointDocument::from);
        Self {
            id: &zone.id.0,
            name: &zone.name,
            clears: zone.clears,
            worst: point(zone.worst),
            closest: point(zone.closest),
            near: point(zone.near),
            middle: point(zone.middle),
            far: point(zone.far),
            meetings: &zone.meetings,
            rear_shows_inside: zone.inside,
            in_force: zone.in_force,
            source: SourceDocument::of(&zone.source, &zone.file),
            zone_file: FileDocument::from(&*zone.file),
        }
    }
}

/// A point of the stretch with respect to one zone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LinePointDocument {
    /// The point.
    #[serde(flatten)]
    pub point: LinePoint,
    /// Signed distance less doubt; above zero is surely outside.
    pub margin_m: Option<f64>,
}

impl From<LinePoint> for LinePointDocument {
    fn from(point: LinePoint) -> Self {
        Self { point, margin_m: metres(point.margin()) }
    }
}

/// The water of the working area, in square metres.
#[derive(Debug, Clone, Serialize)]
pub struct WaterDocument<'a> {
    /// `left` or `right`: where the rear mark shows inside.
    pub rear_shows_inside: Side,
    /// Smallest opening that the eye was taken to see.
    pub threshold_arcmin: Option<f64>,
    /// The whole working area.
    pub area_m2: Option<f64>,
    /// Inside a zone, from where the marks do not say so: the two below together.
    pub false_safe_m2: Option<f64>,
    /// Inside a zone, and the marks look clear of it.
    pub false_safe_clear_m2: Option<f64>,
    /// Inside a zone, and the marks look in line.
    pub false_safe_in_line_m2: Option<f64>,
    /// Inside a zone, and the marks say so.
    pub inside_and_seen_m2: Option<f64>,
    /// Inside no zone, but the marks say inside.
    pub given_away_m2: Option<f64>,
    /// Inside no zone, and the marks look in line.
    pub open_in_line_m2: Option<f64>,
    /// Inside no zone, and the marks look clear.
    pub open_and_clear_m2: Option<f64>,
    /// Rings around the false-safe water, each a list of corners.
    pub false_safe_rings: &'a [Vec<Position>],
    /// Rings around the water given away.
    pub given_away_rings: &'a [Vec<Position>],
}

impl<'a> WaterDocument<'a> {
    pub(super) fn of(water: &'a ViewedWater, threshold: Arcminutes) -> Self {
        Self {
            rear_shows_inside: water.inside,
            threshold_arcmin: number(threshold.arcmin()),
            area_m2: number(water.area_m2),
            false_safe_m2: number(water.false_clear_m2()),
            false_safe_clear_m2: number(water.false_clear_open_m2),
            false_safe_in_line_m2: number(water.false_clear_in_line_m2),
            inside_and_seen_m2: number(water.inside_and_seen_m2),
            given_away_m2: number(water.forgone_m2),
            open_in_line_m2: number(water.open_in_line_m2),
            open_and_clear_m2: number(water.open_and_clear_m2),
            false_safe_rings: &water.false_clear,
            given_away_rings: &water.forgone,
        }
    }
}
