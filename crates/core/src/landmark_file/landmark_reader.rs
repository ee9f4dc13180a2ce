//! Reads one feature: a landmark with its place, its height and how well they are known.

use std::collections::BTreeMap;
use std::ops::RangeInclusive;

use jiff::civil::Date;
use rstar::RTree;
use rstar::primitives::GeomWithData;
use serde_json::{Map, Value};

use super::read::WireLandmark;
use super::{FaultKind, WarningKind};
use crate::geodesic::{Vector, surface};
use crate::geojson_text::{
    Log, Slot, WireObject, feature_id, id_text, is_feature, is_remark, nearest, needed_id, position, shown,
    shown_text,
};
use crate::landmark::{Landmark, LandmarkId};
use crate::{Metres, Position, PrintedPrecision, UncertaintySource, widest_step_deg};

/// Heights outside are surely slips of the pen: no mark stands lower, and none that is seen from a small craft higher.
const HEIGHTS_M: RangeInclusive<f64> = -10.0..=2000.0;
/// Larger errors are surely slips of the pen.
const ERRORS_M: RangeInclusive<f64> = 0.0..=100_000.0;

const POINT_MEND: &str =
    "write where it stands: \"geometry\": { \"type\": \"Point\", \"coordinates\": [longitude, latitude] }";

/// Members of properties that the format does not know, with how many features have each.
#[derive(Debug, Default)]
pub(super) struct Unknown(BTreeMap<String, usize>);

impl Unknown {
    fn note(&mut self, wire: &WireLandmark) {
        // a GIS may have moved the id here, which is read elsewhere
        for key in wire.other().keys().filter(|key| !is_remark(key) && *key != "id") {
            *self.0.entry(key.clone()).or_default() += 1;
        }
    }

    /// Warns once for all: a GIS adds members to every feature.
    pub(super) fn tell(&self, log: &mut Log) {
        const SHOWN: usize = 8;
        if self.0.is_empty() {
            return;
        }
        let line = |(key, features): (&String, &usize)| {
            let count = if *features == 1 { "1 feature".to_owned() } else { format!("{features} features") };
            let near =
                nearest(key, WireLandmark::KEYS).first().map(|near| format!("; did you mean \"{near}\"?"));
            format!("{} ({count}{})", shown_text(key), near.unwrap_or_default())
        };
        let list = self.0.iter().take(SHOWN).map(line).collect::<Vec<_>>().join(", ");
        let rest = self.0.len().saturating_sub(SHOWN);
        let more = if rest > 0 { format!(" and {rest} more") } else { String::new() };
        log.warn(
            WarningKind::UnknownMember,
            format!("these members of \"properties\" have no meaning here, and no effect: {list}{more}"),
        );
    }
}

/// The id of a feature, from where a GIS may have put it if need be. Nothing is reported here.
pub(super) fn landmark_id(feature: &Value) -> Option<String> {
    let own = feature.get("id").filter(|own| !own.is_null());
    if own.is_some() { feature_id(feature) } else { feature.pointer("/properties/id").and_then(id_text) }
}

/// Reads one feature; none if there is no landmark to be made of it, and then a fault says so.
pub(super) fn landmark(log: &mut Log, feature: &Value, unknown: &mut Unknown) -> Option<Landmark> {
    let Some(members) = feature.as_object().filter(|members| is_feature(members)) else {
        let text = format!("{} is not a feature", shown(feature));
        log.fault(FaultKind::NotALandmarkFile, text, "write { \"type\": \"Feature\", \"id\": …, … }");
        return None;
    };
    let id = checked_id(log, members, landmark_id(feature));
    misplaced_members(log, members);
    let place = log.within("geometry", |log| point(log, members.get("geometry")));
    let properties = members.get("properties").map_or(Slot::Missing, Slot::<WireLandmark>::from_value);
    let mend = "write what is known of it: \"properties\": { \"name\": …, \"height_m\": …, \"position_error_m\": … }";
    let wire = log.given("properties", &properties, mend).cloned().unwrap_or_default();
    unknown.note(&wire);
    let said = said(log, &wire);
    let id = id?;
    let position = place?;
    Some(Landmark {
        name: said.name.unwrap_or_else(|| id.clone()),
        id: LandmarkId(id),
        kind: said.kind,
        position,
        position_error_95: said.error.unwrap_or_else(|| assumed_error(position)),
        position_error_source: source_of(said.error),
        height: said.height,
        fixed: said.fixed,
        last_confirmed: said.last_confirmed,
        comment: said.comment,
    })
}

/// The id; a fault if there is none, or two.
fn checked_id(log: &mut Log, members: &Map<String, Value>, id: Option<String>) -> Option<String> {
    let own = members.get("id").filter(|own| !own.is_null());
    let moved = members.get("properties").and_then(|properties| properties.get("id")).and_then(id_text);
    match (own.and_then(id_text), moved) {
        (Some(own), Some(moved)) if own != moved => {
            let text =
                format!("the id is {}, but in \"properties\" it is {}", shown_text(&own), shown_text(&moved));
            log.fault(FaultKind::Contradiction, text, "keep the right one, beside \"type\"");
        }
        (None, Some(_)) if own.is_none() => log.warn_together(WarningKind::IdInProperties),
        (None, _) => return needed_id(log, members, "lone-pine"),
        (Some(_), _) => {}
    }
    id
}

/// Other programs may add members to a feature, but one of ours there would silently have no effect.
fn misplaced_members(log: &mut Log, members: &Map<String, Value>) {
    let ours = |key: &&String| WireLandmark::KEYS.contains(&key.as_str()) && !is_remark(key);
    for key in members.keys().filter(ours) {
        let text = format!("\"{key}\" stands beside \"properties\", where it has no effect");
        log.fault(FaultKind::UnknownMember, text, "move it into \"properties\"");
    }
}

/// Where a landmark stands; a third coordinate is left out.
fn point(log: &mut Log, geometry: Option<&Value>) -> Option<Position> {
    let Some(geometry) = geometry.filter(|geometry| !geometry.is_null()) else {
        log.fault(
            FaultKind::Geometry,
            "is missing, so it is not known where the landmark stands",
            POINT_MEND,
        );
        return None;
    };
    let kind = geometry.get("type").and_then(Value::as_str);
    if kind != Some("Point") {
        let text = kind.map_or_else(
            || format!("{} is not a point", shown(geometry)),
            |kind| format!("a {} is not a point", shown_text(kind)),
        );
        let mend = match kind {
            Some("MultiPoint") => "write one feature for each point",
            Some("Polygon" | "MultiPolygon" | "LineString" | "MultiLineString") => {
                "write the one point that people see, as a Point: the ridge, the tip, the mast"
            }
            _ => POINT_MEND,
        };
        log.fault(FaultKind::Geometry, text, mend);
        return None;
    }
    let Some(coordinates) = geometry.get("coordinates") else {
        log.fault(FaultKind::Geometry, "the point has no \"coordinates\"", POINT_MEND);
        return None;
    };
    if coordinates.as_array().is_some_and(|numbers| numbers.len() == 3) {
        log.warn_together(WarningKind::ThirdCoordinate);
    }
    position(coordinates)
        .map_err(|(text, mend)| {
            log.within("coordinates", |log| log.fault(FaultKind::Geometry, text, mend));
        })
        .ok()
}

/// What the properties of a landmark say.
#[derive(Debug)]
struct Said {
    name: Option<String>,
    kind: Option<String>,
    /// None where the file says none.
    error: Option<Metres>,
    height: Option<Metres>,
    fixed: Option<bool>,
    last_confirmed: Option<Date>,
    comment: Option<String>,
}

fn said(log: &mut Log, wire: &WireLandmark) -> Said {
    if wire.name.is_missing() {
        log.warn_together(WarningKind::NameMissing);
    }
    Said {
        name: log.text("name", &wire.name),
        kind: log.text("kind", &wire.kind),
        error: position_error(log, &wire.position_error_m),
        height: metres(log, "height_m", &wire.height_m, HEIGHTS_M),
        fixed: log.given("fixed", &wire.fixed, "write true or false, without quotes").copied(),
        last_confirmed: log.date("last_confirmed", &wire.last_confirmed),
        comment: log.text("comment", &wire.comment),
    }
}

/// The error that is stated; none if there is none.
fn position_error(log: &mut Log, slot: &Slot<f64>) -> Option<Metres> {
    if slot.is_missing() {
        log.warn_together(WarningKind::PositionErrorAssumed);
        return None;
    }
    let given = metres(log, "position_error_m", slot, ERRORS_M);
    Some(given.unwrap_or(Metres::computed(Landmark::ASSUMED_POSITION_ERROR_95_M)))
}

fn source_of(stated: Option<Metres>) -> UncertaintySource {
    if stated.is_some() { UncertaintySource::Given } else { UncertaintySource::Assumed }
}

/// The error that is assumed of a place; more where its coordinates have few digits.
fn assumed_error(position: Position) -> Metres {
    match widest_step_deg(&[position]) {
        Some(step_deg) => {
            let precision = PrintedPrecision::on_step(position, step_deg);
            Landmark::at_printed("", position, precision).position_error_95
        }
        None => Metres::computed(Landmark::ASSUMED_POSITION_ERROR_95_M),
    }
}

/// A length in metres within bounds.
fn metres(log: &mut Log, name: &str, slot: &Slot<f64>, bounds: RangeInclusive<f64>) -> Option<Metres> {
    let (least, most) = (bounds.start(), bounds.end());
    let plain = format!("write metres as a number from {least} to {most}; a foot is 0.3048 m");
    match slot {
        Slot::Missing => None,
        Slot::Given(given) if bounds.contains(given) => Metres::new(**given).ok(),
        Slot::Given(given) => {
            let text = format!("{given} is outside {least} to {most}");
            log.within(name, |log| log.fault(FaultKind::WrongValue, text, plain));
            None
        }
        Slot::Wrong(value) => {
            let quoted = value.as_str().and_then(|text| text.trim().parse::<f64>().ok());
            let mend = quoted.filter(|number| number.is_finite()).map_or_else(
                || format!("{plain}; leave it out if it is not known"),
                |number| format!("write it without quotes: {number}"),
            );
            log.within(name, |log| log.wrong(value, &mend));
            None
        }
    }
}

/// Landmarks nearer to each other than this may be one and the same, in metres.
const SAME_PLACE_M: f64 = 0.5;
/// Farther than this from the middle of the others, a slip is looked for, in metres: nobody sees two marks so far apart.
const FAR_M: f64 = 100_000.0;
/// A slip is told where mending it brings a landmark nearer to the others by this factor.
const NEARER_BY: f64 = 10.0;
/// How many pairs or landmarks a warning names.
const SHOWN: usize = 5;

/// Warns of landmarks in one place, and of such that only a slip can have put so far away. `places` have their ids.
pub(super) fn odd_places(log: &mut Log, places: &[(&str, Position)]) {
    let points: Vec<Vector> = places.iter().map(|(_, position)| surface(*position).point).collect();
    same_place(log, places, &points);
    far_from_others(log, places, &points);
}

fn same_place(log: &mut Log, places: &[(&str, Position)], points: &[Vector]) {
    let mut before: RTree<GeomWithData<[f64; 3], &str>> = RTree::new();
    let mut pairs = Vec::new();
    for ((id, _), point) in places.iter().zip(points) {
        let here = point.to_array();
        let near = before.nearest_neighbor_iter_with_distance_2(here).next();
        if let Some((other, distance_2)) = near
            && distance_2 < SAME_PLACE_M * SAME_PLACE_M
        {
            pairs.push(format!("{} and {}", shown_text(other.data), shown_text(id)));
        }
        before.insert(GeomWithData::new(here, *id));
    }
    if !pairs.is_empty() {
        let text =
            format!("less than {SAME_PLACE_M} m apart, so perhaps the same landmark: {}", listed(&pairs));
        log.warn(WarningKind::SamePlace, text);
    }
}

/// One landmark among many with its numbers swapped, or without its minus, stands on another coast, in silence.
fn far_from_others(log: &mut Log, places: &[(&str, Position)], points: &[Vector]) {
    let Some(middle) = middle(points) else { return };
    let off_m = |position: Position| (surface(position).point - middle).norm();
    let mut slips = Vec::new();
    for (id, position) in places {
        let far_m = off_m(*position);
        let mended = |(_, other): &(&str, Position)| off_m(*other) * NEARER_BY < far_m;
        if far_m > FAR_M
            && let Some((slip, _)) = slips_of(*position).into_iter().find(mended)
        {
            slips.push(format!("{} ({slip})", shown_text(id)));
        }
    }
    if !slips.is_empty() {
        let text = format!("far from all other landmarks, perhaps by a slip of the pen: {}", listed(&slips));
        log.warn(WarningKind::FarFromOthers, text);
    }
}

/// What may have been meant instead, with the slip that hides it.
fn slips_of(position: Position) -> Vec<(&'static str, Position)> {
    let (latitude_deg, longitude_deg) = (position.latitude().degrees(), position.longitude().degrees());
    let others = [
        ("latitude and longitude may be swapped", longitude_deg, latitude_deg),
        ("the longitude may lack its minus sign, or have one too many", latitude_deg, -longitude_deg),
        ("the latitude may lack its minus sign, or have one too many", -latitude_deg, longitude_deg),
    ];
    let place = |(slip, latitude_deg, longitude_deg)| {
        Position::from_degrees(latitude_deg, longitude_deg).ok().map(|position| (slip, position))
    };
    others.into_iter().filter_map(place).collect()
}

/// The middle in each earth-centred axis, which a few slips do not move; none for less than three points.
fn middle(points: &[Vector]) -> Option<Vector> {
    let half = points.len() / 2;
    let axis = |of: fn(&Vector) -> f64| {
        let mut numbers: Vec<f64> = points.iter().map(of).collect();
        numbers.sort_by(f64::total_cmp);
        numbers.get(half).copied()
    };
    let found = Vector::new(axis(|point| point.x)?, axis(|point| point.y)?, axis(|point| point.z)?);
    (points.len() >= 3).then_some(found)
}

fn listed(entries: &[String]) -> String {
    let rest = entries.len().saturating_sub(SHOWN);
    let more = if rest > 0 { format!(" and {rest} more") } else { String::new() };
    format!("{}{more}", entries.iter().take(SHOWN).map(String::as_str).collect::<Vec<_>>().join(", "))
}
