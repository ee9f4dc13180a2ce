//! Landmarks whose places look odd beside those of the others.

use rstar::RTree;
use rstar::primitives::GeomWithData;

use super::WarningKind;
use crate::Position;
use crate::geodesic::{Vector, surface};
use crate::geojson_text::{Log, shown_text};

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
            format!("less than {SAME_PLACE_M} m apart and perhaps one and the same: {}", listed(&pairs));
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
        let text = format!("far from all other landmarks, perhaps by a slip: {}", listed(&slips));
        log.warn(WarningKind::FarFromOthers, text);
    }
}

/// What may have been meant instead, with the slip that hides it.
fn slips_of(position: Position) -> Vec<(&'static str, Position)> {
    let (latitude_deg, longitude_deg) = (position.latitude().degrees(), position.longitude().degrees());
    let others = [
        ("latitude and longitude may be swapped", longitude_deg, latitude_deg),
        ("the longitude may lack its minus, or have one too many", latitude_deg, -longitude_deg),
        ("the latitude may lack its minus, or have one too many", -latitude_deg, longitude_deg),
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
