//! Two rings side by side: which vertex became which.

use takeline::{Arc, ArcSense, EdgeModel, GeodesicSegment, Position, RingSpec, Side};

/// Rings up to so many vertices are turned against each other in every way; of longer ones only the likely ways are tried.
const ALL_TURNS_TRIED: usize = 64;
/// Runs of vertices are matched one by one while no more pairs than this have to be looked at.
const MOST_PAIRS: usize = 4_000_000;
/// Positions closer than this, in degrees, are the same: 0.1 mm, the noise of a longitude that was written beyond 180°.
const SAME_DEG: f64 = 1e-9;

/// A ring without repeats of a vertex, counterclockwise, with the numbers that its vertices have in the file.
#[derive(Debug, Clone)]
pub(super) struct Laid {
    pub(super) vertices: Vec<Corner>,
}

/// A vertex of a ring, with the side that leaves it as the ring is laid.
#[derive(Debug, Clone)]
pub(super) struct Corner {
    /// Its place in the file, from 1.
    pub(super) number: usize,
    pub(super) position: Position,
    pub(super) edge: EdgeModel,
    pub(super) side: Side,
}

/// One step along two rings: the vertex of one, of the other, or of both.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Step {
    Both(usize, usize),
    OnlyOld(usize),
    OnlyNew(usize),
}

pub(super) fn same_place(one: Position, other: Position) -> bool {
    let apart = |one: f64, other: f64| (one - other).abs();
    let lon = apart(one.longitude().degrees(), other.longitude().degrees());
    apart(one.latitude().degrees(), other.latitude().degrees()) < SAME_DEG
        && lon.min((360.0 - lon).abs()) < SAME_DEG
}

impl Laid {
    pub(super) fn of(ring: &RingSpec) -> Self {
        let corner = |(at, position): (usize, &Position)| Corner {
            number: at + 1,
            position: *position,
            edge: ring.edges.get(at).copied().unwrap_or(EdgeModel::Unstated),
            side: ring.sides.get(at).cloned().unwrap_or_default(),
        };
        let mut vertices: Vec<Corner> = Vec::with_capacity(ring.vertices.len());
        for corner in ring.vertices.iter().enumerate().map(corner) {
            match vertices.last_mut() {
                // the edge between the two has no length
                Some(last) if same_place(last.position, corner.position) => {
                    (last.edge, last.side) = (corner.edge, corner.side);
                }
                _ => vertices.push(corner),
            }
        }
        while vertices.len() > 1 && same_place(vertices[0].position, vertices[vertices.len() - 1].position) {
            vertices.pop();
        }
        let laid = Self { vertices };
        if laid.doubled_area() < 0.0 { laid.turned_round() } else { laid }
    }

    /// Twice the area on a map of longitude and latitude, counterclockwise positive.
    fn doubled_area(&self) -> f64 {
        let mut lon_deg = 0.0;
        let mut places = Vec::with_capacity(self.vertices.len());
        let mut before: Option<f64> = None;
        for corner in &self.vertices {
            let own = corner.position.longitude().degrees();
            lon_deg += before.map_or(0.0, |before| short_way_deg(own - before));
            before = Some(own);
            places.push((lon_deg, corner.position.latitude().degrees()));
        }
        let after = places.iter().cycle().skip(1);
        let first_lat = places.first().map_or(0.0, |first| first.1);
        let pairs = places.iter().zip(after);
        pairs.map(|(one, two)| one.0 * (two.1 - first_lat) - two.0 * (one.1 - first_lat)).sum()
    }

    fn turned_round(self) -> Self {
        let count = self.vertices.len();
        let turned = |at: usize| {
            // the side that leaves a vertex is now the one that led to it
            let (corner, before) = (&self.vertices[at], &self.vertices[(at + count - 1) % count]);
            Corner { edge: other_way(before.edge), side: before.side.clone(), ..corner.clone() }
        };
        Self { vertices: (0..count).rev().map(turned).collect() }
    }

    fn position(&self, at: usize) -> Position {
        self.vertices[at % self.vertices.len()].position
    }

    /// Whether another ring is the same, whichever vertex it starts with.
    pub(super) fn is_same(&self, other: &Self) -> bool {
        let count = self.vertices.len();
        let starts = (0..count).filter(|at| same_place(self.position(0), other.position(*at)));
        count == other.vertices.len()
            && starts.into_iter().any(|start| {
                (0..count).all(|at| {
                    let (one, two) = (&self.vertices[at], &other.vertices[(start + at) % count]);
                    same_place(one.position, two.position) && one.edge == two.edge && one.side == two.side
                })
            })
    }

    /// The steps along both rings, in order; vertices that both have come together, and of the rest as many as can.
    pub(super) fn steps(&self, new: &Self) -> Vec<Step> {
        let (old_count, new_count) = (self.vertices.len(), new.vertices.len());
        if old_count == 0 || new_count == 0 {
            let old = (0..old_count).map(Step::OnlyOld);
            return old.chain((0..new_count).map(Step::OnlyNew)).collect();
        }
        let anchors = self.anchors(new);
        match anchors.first() {
            Some(first) => self.between_anchors(new, &anchors, *first),
            None => self.turned_against(new),
        }
    }

    /// Vertices that both have once, in an order that goes round both.
    fn anchors(&self, new: &Self) -> Vec<(usize, usize)> {
        let mut places: std::collections::HashMap<(i64, i64), Vec<usize>> = std::collections::HashMap::new();
        for (at, corner) in new.vertices.iter().enumerate() {
            places.entry(key(corner.position)).or_default().push(at);
        }
        let count = new.vertices.len();
        let mut pairs: Vec<(usize, usize)> = Vec::new();
        for (at, corner) in self.vertices.iter().enumerate() {
            if let Some([only]) = places.get(&key(corner.position)).map(Vec::as_slice) {
                pairs.push((at, *only));
            }
        }
        let Some(first) = pairs.first().copied() else { return Vec::new() };
        // as seen from the first of them, both rings go on from there
        let turned: Vec<usize> = pairs.iter().map(|(_, new)| (new + count - first.1) % count).collect();
        longest_rising(&turned).into_iter().map(|at| pairs[at]).collect()
    }

    fn between_anchors(&self, new: &Self, anchors: &[(usize, usize)], first: (usize, usize)) -> Vec<Step> {
        let (old_count, new_count) = (self.vertices.len(), new.vertices.len());
        let mut steps = Vec::with_capacity(old_count.max(new_count));
        for (at, anchor) in anchors.iter().enumerate() {
            let next = anchors.get(at + 1).copied().unwrap_or((first.0 + old_count, first.1 + new_count));
            let next =
                (next.0.max(anchor.0 + 1), if next.1 <= anchor.1 { next.1 + new_count } else { next.1 });
            steps.push(Step::Both(anchor.0, anchor.1));
            let old: Vec<usize> = (anchor.0 + 1..next.0).map(|at| at % old_count).collect();
            let new_run: Vec<usize> = (anchor.1 + 1..next.1).map(|at| at % new_count).collect();
            steps.extend(self.run(new, &old, &new_run).0);
        }
        steps
    }

    /// Rings that share no vertex, turned so that their vertices are as near to each other as can be.
    fn turned_against(&self, new: &Self) -> Vec<Step> {
        let (old_count, new_count) = (self.vertices.len(), new.vertices.len());
        let starts: Vec<usize> = if new_count <= ALL_TURNS_TRIED && old_count <= ALL_TURNS_TRIED {
            (0..new_count).collect()
        } else {
            let away = |at: &usize| roughly_m(self.position(0), new.position(*at));
            (0..new_count).min_by(|one, two| away(one).total_cmp(&away(two))).into_iter().collect()
        };
        let old: Vec<usize> = (0..old_count).collect();
        let tried = starts.into_iter().map(|start| {
            let turned: Vec<usize> = (0..new_count).map(|at| (start + at) % new_count).collect();
            self.run(new, &old, &turned)
        });
        tried.min_by(|one, two| one.1.total_cmp(&two.1)).map_or_else(Vec::new, |best| best.0)
    }

    /// Matches a run of vertices with another in order, as many as can be, as near as can be; and how far they are in all.
    fn run(&self, new: &Self, old: &[usize], other: &[usize]) -> (Vec<Step>, f64) {
        let away = |old: usize, other: usize| roughly_m(self.position(old), new.position(other));
        if old.len() == other.len() {
            let steps = old.iter().zip(other).map(|(old, new)| Step::Both(*old, *new)).collect();
            return (steps, old.iter().zip(other).map(|(old, new)| away(*old, *new)).sum());
        }
        let only =
            || old.iter().map(|at| Step::OnlyOld(*at)).chain(other.iter().map(|at| Step::OnlyNew(*at)));
        if old.is_empty() || other.is_empty() || old.len().saturating_mul(other.len()) > MOST_PAIRS {
            return (only().collect(), f64::INFINITY);
        }
        if old.len() < other.len() {
            let (chosen, far_m) =
                nearest_in_order(old.len(), other.len(), |short, long| away(old[short], other[long]));
            let mut steps = Vec::with_capacity(other.len());
            let mut next = 0;
            for (long, new) in other.iter().enumerate() {
                if chosen.get(next) == Some(&long) {
                    steps.push(Step::Both(old[next], *new));
                    next += 1;
                } else {
                    steps.push(Step::OnlyNew(*new));
                }
            }
            return (steps, far_m);
        }
        let (chosen, far_m) =
            nearest_in_order(other.len(), old.len(), |short, long| away(old[long], other[short]));
        let mut steps = Vec::with_capacity(old.len());
        let mut next = 0;
        for (long, old) in old.iter().enumerate() {
            if chosen.get(next) == Some(&long) {
                steps.push(Step::Both(*old, other[next]));
                next += 1;
            } else {
                steps.push(Step::OnlyOld(*old));
            }
        }
        (steps, far_m)
    }
}

/// For each of the shorter run the place in the longer one, in order, so that they are as near as can be in all.
fn nearest_in_order(short: usize, long: usize, away_m: impl Fn(usize, usize) -> f64) -> (Vec<usize>, f64) {
    // best[s][l]: the first s of the short run within the first l of the long one
    let mut best = vec![vec![0.0_f64; long + 1]];
    for s in 1..=short {
        let mut row = vec![f64::INFINITY; long + 1];
        for l in s..=long {
            row[l] = row[l - 1].min(best[s - 1][l - 1] + away_m(s - 1, l - 1));
        }
        best.push(row);
    }
    let (mut s, mut l) = (short, long);
    let mut chosen = Vec::with_capacity(short);
    while s > 0 {
        if l > s && best[s][l - 1] <= best[s][l] {
            l -= 1;
        } else {
            (s, l) = (s - 1, l - 1);
            chosen.push(l);
        }
    }
    chosen.reverse();
    (chosen, best[short][long])
}

/// The places of a longest subsequence that rises (Fredman 1975).
fn longest_rising(values: &[usize]) -> Vec<usize> {
    let mut ends: Vec<usize> = Vec::new();
    let mut before: Vec<Option<usize>> = vec![None; values.len()];
    for at in 0..values.len() {
        let length = ends.partition_point(|end| values[*end] < values[at]);
        before[at] = length.checked_sub(1).map(|shorter| ends[shorter]);
        if length == ends.len() {
            ends.push(at);
        } else {
            ends[length] = at;
        }
    }
    let mut chain: Vec<usize> = std::iter::successors(ends.last().copied(), |at| before[*at]).collect();
    chain.reverse();
    chain
}

/// A position as a whole number of the smallest difference that counts.
#[expect(
    clippy::cast_possible_truncation,
    reason = "360° in these units is far below the limits of the type"
)]
pub(super) fn key(position: Position) -> (i64, i64) {
    let lon = (position.longitude().degrees() / SAME_DEG).round() as i64;
    let half_turn = (180.0 / SAME_DEG).round() as i64;
    let lat = (position.latitude().degrees() / SAME_DEG).round() as i64;
    (lat, if lon == -half_turn { half_turn } else { lon })
}

fn short_way_deg(difference_deg: f64) -> f64 {
    difference_deg - (difference_deg / 360.0).round() * 360.0
}

/// How far two places are from each other, roughly, for choosing between them.
pub(super) fn roughly_m(one: Position, other: Position) -> f64 {
    const METRES_PER_DEGREE: f64 = 111_195.0;
    let (from, to) = (one.latitude().degrees(), other.latitude().degrees());
    let east = short_way_deg(other.longitude().degrees() - one.longitude().degrees());
    let east = east * f64::midpoint(from, to).to_radians().cos();
    METRES_PER_DEGREE * (to - from).hypot(east)
}

/// How far a vertex moved.
pub(super) fn moved(from: Position, to: Position) -> GeodesicSegment {
    GeodesicSegment::between(from, to)
}

/// How an edge runs when it is followed the other way.
fn other_way(edge: EdgeModel) -> EdgeModel {
    match edge {
        EdgeModel::Arc(arc) => EdgeModel::Arc(Arc {
            sense: match arc.sense {
                ArcSense::Clockwise => ArcSense::Counterclockwise,
                ArcSense::Counterclockwise => ArcSense::Clockwise,
            },
            ..arc
        }),
        EdgeModel::Geodesic | EdgeModel::RhumbLine | EdgeModel::PlateCarree | EdgeModel::Unstated => edge,
    }
}
