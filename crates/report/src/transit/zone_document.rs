use serde::Serialize;
use takeline::transit::{LinePoint, Meeting, Sensitivity, Side, ViewedWater, ZoneOnLine};
use takeline::{Arcminutes, Position};

use super::parts::{PlaceDocument, metres, number};
use super::words;
use crate::here::{FileDocument, SourceDocument, answer};

/// One zone with respect to the stretch.
#[derive(Debug, Clone, Serialize)]
pub struct ZoneOnLineDocument<'a> {
    /// Identifier.
    pub id: &'a str,
    /// Name.
    pub name: &'a str,
    /// Whether the stretch keeps outside, the doubt counted: `yes`, `no` or `undecided`.
    pub clears: &'static str,
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
    pub meetings: Vec<MeetingDocument>,
    /// `left` or `right`: where the rear mark shows inside; null if on both sides or not known.
    pub rear_shows_inside: Option<&'static str>,
    /// Whether its rule is in force at the time asked about.
    pub in_force: &'static str,
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
            clears: answer(zone.clears),
            worst: point(zone.worst),
            closest: point(zone.closest),
            near: point(zone.near),
            middle: point(zone.middle),
            far: point(zone.far),
            meetings: zone.meetings.iter().map(MeetingDocument::from).collect(),
            rear_shows_inside: zone.inside.map(Side::word),
            in_force: answer(zone.in_force),
            source: SourceDocument::of(&zone.source, &zone.file),
            zone_file: FileDocument::from(&*zone.file),
        }
    }
}

/// A point of the stretch with respect to one zone.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LinePointDocument {
    /// Distance from the front mark.
    pub distance_from_front_m: Option<f64>,
    /// Where that is.
    pub position: PlaceDocument,
    /// Distance to the nearest point of the boundary, negative inside.
    pub signed_distance_m: Option<f64>,
    /// 95 % uncertainty of it.
    pub uncertainty_95_m: Option<f64>,
    /// Signed distance less doubt; above zero is surely outside.
    pub margin_m: Option<f64>,
    /// The nearest point of the boundary.
    pub nearest: PlaceDocument,
}

impl From<LinePoint> for LinePointDocument {
    fn from(point: LinePoint) -> Self {
        Self {
            distance_from_front_m: metres(point.distance_from_front),
            position: point.position.into(),
            signed_distance_m: metres(point.signed_distance),
            uncertainty_95_m: metres(point.uncertainty_95),
            margin_m: metres(point.margin()),
            nearest: point.nearest.into(),
        }
    }
}

/// Where the stretch meets a boundary.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct MeetingDocument {
    /// `enters`, `leaves` or `touches`, going away from the marks.
    pub what: &'static str,
    /// Distance from the front mark.
    pub distance_from_front_m: Option<f64>,
    /// Where that is.
    pub position: PlaceDocument,
    /// Angle between line and boundary, 0 to 90.
    pub angle_deg: Option<f64>,
}

impl From<&Meeting> for MeetingDocument {
    fn from(meeting: &Meeting) -> Self {
        Self {
            what: words::meets(meeting.what),
            distance_from_front_m: metres(meeting.distance_from_front),
            position: meeting.position.into(),
            angle_deg: number(meeting.angle_deg),
        }
    }
}

/// How sharply the marks show the line at one distance.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct SensitivityDocument {
    /// Distance from the front mark.
    pub distance_from_front_m: Option<f64>,
    /// Where that is.
    pub position: PlaceDocument,
    /// Minutes of arc that the marks open for each metre off the line.
    pub arcmin_per_m: Option<f64>,
    /// Distance off the line at which the eye sees it; null: never.
    pub offset_at_threshold_m: Option<f64>,
    /// How far the marks' places put the line off, 95 %.
    pub line_uncertainty_95_m: Option<f64>,
    /// Seconds until the drift has carried the boat so far off; null: never.
    pub seconds_at_drift: Option<f64>,
    /// Whether the rear mark shows above the front mark; null without both heights.
    pub rear_above_front: Option<bool>,
    /// By how much, negative if below; null without both heights.
    pub rear_over_front_arcmin: Option<f64>,
}

impl From<&Sensitivity> for SensitivityDocument {
    fn from(at: &Sensitivity) -> Self {
        let arcmin = |angle: Arcminutes| number(angle.arcmin());
        Self {
            distance_from_front_m: metres(at.distance_from_front),
            position: at.position.into(),
            arcmin_per_m: arcmin(at.arcmin_per_m),
            offset_at_threshold_m: at.offset_at_threshold.and_then(metres),
            line_uncertainty_95_m: metres(at.line_uncertainty_95),
            seconds_at_drift: at.seconds_to_threshold.and_then(number),
            rear_above_front: at.rear_above_front,
            rear_over_front_arcmin: at.rear_over_front.and_then(arcmin),
        }
    }
}

/// The water of the working area, in square metres.
#[derive(Debug, Clone, Serialize)]
pub struct WaterDocument {
    /// `left` or `right`: where the rear mark shows inside.
    pub rear_shows_inside: &'static str,
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
    pub false_safe_rings: Vec<Vec<PlaceDocument>>,
    /// Rings around the water given away.
    pub given_away_rings: Vec<Vec<PlaceDocument>>,
}

impl WaterDocument {
    pub(super) fn of(water: &ViewedWater, threshold: Arcminutes) -> Self {
        let rings = |rings: &[Vec<Position>]| {
            rings.iter().map(|ring| ring.iter().copied().map(PlaceDocument::from).collect()).collect()
        };
        Self {
            rear_shows_inside: water.inside.word(),
            threshold_arcmin: number(threshold.arcmin()),
            area_m2: number(water.area_m2),
            false_safe_m2: number(water.false_clear_m2()),
            false_safe_clear_m2: number(water.false_clear_open_m2),
            false_safe_in_line_m2: number(water.false_clear_in_line_m2),
            inside_and_seen_m2: number(water.inside_and_seen_m2),
            given_away_m2: number(water.forgone_m2),
            open_in_line_m2: number(water.open_in_line_m2),
            open_and_clear_m2: number(water.open_and_clear_m2),
            false_safe_rings: rings(&water.false_clear),
            given_away_rings: rings(&water.forgone),
        }
    }
}
