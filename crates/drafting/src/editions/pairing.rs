//! Which zone of one edition became which of the other.

use std::collections::HashMap;

use takeline::Boundary;
use takeline::zone::{Extent, Zone};

use super::line::LineChange;
use crate::survey::GeoBox;

/// Lines that are nowhere farther apart than this, in metres, may be those of one zone under another id (common practice, no
/// source).
const SAME_LINE_M: f64 = 10.0;

/// Zones that became each other, by their places in the two editions; and those that are left.
#[derive(Debug, Default)]
pub(super) struct Pairing {
    pub(super) pairs: Vec<(usize, usize)>,
    pub(super) only_old: Vec<usize>,
    pub(super) only_new: Vec<usize>,
}

impl Pairing {
    /// By id first; then, of those left, by one line.
    pub(super) fn of(old: &[Zone], new: &[Zone]) -> Self {
        let mut of_id: HashMap<&str, Vec<usize>> = HashMap::new();
        for (at, zone) in new.iter().enumerate() {
            of_id.entry(zone.id.0.as_str()).or_default().push(at);
        }
        let mut found = Self::default();
        for (at, zone) in old.iter().enumerate() {
            let left = of_id.get_mut(zone.id.0.as_str()).filter(|left| !left.is_empty());
            let Some(left) = left else {
                found.only_old.push(at);
                continue;
            };
            // several files may use one id
            let likely = left.iter().position(|other| same_file_name(zone, &new[*other])).unwrap_or(0);
            found.pairs.push((at, left.remove(likely)));
        }
        found.only_new = of_id.into_values().flatten().collect();
        found.only_new.sort_unstable();
        found.rename(old, new);
        found.pairs.sort_unstable();
        found
    }

    /// Pairs what is left under another id, where the line is the same.
    fn rename(&mut self, old: &[Zone], new: &[Zone]) {
        let boxes: Vec<(usize, Option<GeoBox>)> =
            self.only_new.iter().map(|at| (*at, box_of(&new[*at]))).collect();
        let mut candidates: Vec<(u8, usize, usize)> = Vec::new();
        for one in &self.only_old {
            let about = box_of(&old[*one]);
            let near = boxes.iter().filter(|(_, other)| alike(about, *other));
            for (other, _) in near {
                if same_line(&old[*one], &new[*other]) {
                    candidates.push((likeness(&old[*one], &new[*other]), *one, *other));
                }
            }
        }
        candidates.sort_by_key(|(likeness, one, other)| (std::cmp::Reverse(*likeness), *one, *other));
        for (_, one, other) in candidates {
            if self.only_old.contains(&one) && self.only_new.contains(&other) {
                self.pairs.push((one, other));
                self.only_old.retain(|at| *at != one);
                self.only_new.retain(|at| *at != other);
            }
        }
    }
}

fn same_file_name(one: &Zone, other: &Zone) -> bool {
    let name = |zone: &Zone| zone.file.path.rsplit(['/', '\\']).next().map(str::to_owned);
    name(one) == name(other)
}

fn boundary(zone: &Zone) -> Option<&Boundary> {
    match &zone.extent {
        Extent::Known(boundary) => Some(boundary),
        Extent::Unknown { .. } => None,
    }
}

fn box_of(zone: &Zone) -> Option<GeoBox> {
    let outlines = boundary(zone)?.outlines();
    Some(GeoBox::about(outlines.iter().flatten()))
}

/// Whether two boxes are so much alike that it is worth looking at what is in them.
fn alike(one: Option<GeoBox>, other: Option<GeoBox>) -> bool {
    const ALIKE_DEG: f64 = 0.01;
    match (one, other) {
        (Some(one), Some(other)) => {
            // near a pole and at 180° longitudes say little
            (one.south_deg - other.south_deg).abs() < ALIKE_DEG
                && (one.north_deg - other.north_deg).abs() < ALIKE_DEG
        }
        (None, None) => true,
        _ => false,
    }
}

/// Whether two zones have one line; those whose lines are not known, one name and one reason.
fn same_line(one: &Zone, other: &Zone) -> bool {
    match (&one.extent, &other.extent) {
        (Extent::Known(before), Extent::Known(now)) => {
            let close = (before.area_m2() - now.area_m2()).abs() <= 0.1 * before.area_m2().max(now.area_m2());
            close
                && LineChange::between(before, now).is_none_or(|change| change.apart.metres() <= SAME_LINE_M)
        }
        (Extent::Unknown { reason, .. }, Extent::Unknown { reason: other_reason, .. }) => {
            one.name == other.name && reason == other_reason
        }
        _ => false,
    }
}

/// How much else speaks for two zones with one line being the same.
fn likeness(one: &Zone, other: &Zone) -> u8 {
    let points = [
        (one.name == other.name, 8),
        (one.status == other.status, 4),
        (one.rule == other.rule, 2),
        (one.source.instrument == other.source.instrument, 1),
    ];
    points.into_iter().filter_map(|(holds, points)| holds.then_some(points)).sum()
}
