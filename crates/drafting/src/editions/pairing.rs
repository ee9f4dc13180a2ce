//! Which zone of one edition became which of the other.

use std::cmp::Reverse;
use std::collections::HashMap;

use rstar::primitives::GeomWithData;
use rstar::{AABB, RTree};
use takeline::Boundary;
use takeline::zone::{Extent, Zone};

use super::line::is_within_m;
use super::reach::box_of_line;

/// Lines that are nowhere farther apart than this, in metres, may be those of one zone under another id (common practice, no
/// source).
const SAME_LINE_M: f64 = 10.0;
/// How far the boxes of such lines may be apart, on a unit sphere: four times as far on the Earth.
const SAME_BOX: f64 = 4.0 * SAME_LINE_M / 6_371_000.0;
/// So many zones with boxes alike are looked at for each zone, those that are the most alike.
const MOST_ALIKE: usize = 200;

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
        let mut candidates = self.alike(old, new);
        candidates.sort_by_key(|(likeness, one, other)| (Reverse(*likeness), *one, *other));
        let (mut is_old_paired, mut is_new_paired) = (vec![false; old.len()], vec![false; new.len()]);
        for (_, one, other) in candidates {
            if !is_old_paired[one] && !is_new_paired[other] && same_line(&old[one], &new[other]) {
                self.pairs.push((one, other));
                (is_old_paired[one], is_new_paired[other]) = (true, true);
            }
        }
        self.only_old.retain(|at| !is_old_paired[*at]);
        self.only_new.retain(|at| !is_new_paired[*at]);
    }

    /// Zones left over that may have one line, and how much else speaks for their being the same.
    fn alike(&self, old: &[Zone], new: &[Zone]) -> Vec<(u8, usize, usize)> {
        let mut unknown: HashMap<(&str, &str), Vec<usize>> = HashMap::new();
        let mut boxes: Vec<GeomWithData<[f64; 6], usize>> = Vec::new();
        for at in &self.only_new {
            match &new[*at].extent {
                Extent::Known(boundary) => boxes.push(GeomWithData::new(box_of_line(boundary), *at)),
                Extent::Unknown { reason, .. } => {
                    unknown.entry((&new[*at].name, reason)).or_default().push(*at);
                }
            }
        }
        let boxes = RTree::bulk_load(boxes);
        let mut candidates = Vec::new();
        for one in &self.only_old {
            let mut near: Vec<usize> = match &old[*one].extent {
                Extent::Known(boundary) => {
                    let about = box_of_line(boundary);
                    let about = AABB::from_corners(
                        about.map(|value| value - SAME_BOX),
                        about.map(|value| value + SAME_BOX),
                    );
                    boxes.locate_in_envelope(about).map(|found| found.data).collect()
                }
                Extent::Unknown { reason, .. } => {
                    unknown.get(&(old[*one].name.as_str(), reason.as_str())).cloned().unwrap_or_default()
                }
            };
            near.sort_unstable();
            let mut alike: Vec<(u8, usize, usize)> =
                near.into_iter().map(|other| (likeness(&old[*one], &new[other]), *one, other)).collect();
            alike.sort_by_key(|(likeness, _, other)| (Reverse(*likeness), *other));
            // so many lines upon each other are told apart by what else they say, or not at all
            alike.truncate(MOST_ALIKE);
            candidates.extend(alike);
        }
        candidates
    }
}

fn same_file_name(one: &Zone, other: &Zone) -> bool {
    file_name(&one.file.path) == file_name(&other.file.path)
}

/// The name of a file without its folder.
pub(super) fn file_name(path: &str) -> &str {
    path.rsplit(['/', '\\']).next().unwrap_or(path)
}

/// Whether two zones have one line; of those whose lines are not known, name and reason were compared before.
fn same_line(one: &Zone, other: &Zone) -> bool {
    match (&one.extent, &other.extent) {
        (Extent::Known(before), Extent::Known(now)) => {
            let (before_m2, now_m2) = (before.area_m2(), now.area_m2());
            let is_as_large = (before_m2 - now_m2).abs() <= 0.1 * before_m2.max(now_m2);
            let is_near = |one: &Boundary, other: &Boundary| is_within_m(one, other, SAME_LINE_M);
            is_as_large && is_near(before, now) && is_near(now, before)
        }
        (Extent::Unknown { .. }, Extent::Unknown { .. }) => true,
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
