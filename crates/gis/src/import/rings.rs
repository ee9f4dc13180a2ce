//! Which rings of a Shapefile are areas and which holes in them: those that run clockwise are areas, and which hole is in which the file
//! does not say (ESRI Shapefile Technical Description, 1998, "Polygon").

use super::fault::ImportFault;
use super::layer::{Area, Xy};
use super::note::Notes;

/// The most steps of holding rings against each other, some seconds of work.
const MOST_STEPS: usize = 2_000_000_000;
/// What it costs to remember that a ring lies in another.
const REMEMBERED: usize = 500;
/// How many vertices of a ring are looked at.
const LOOKED_AT: usize = 9;

/// A ring, its longitudes running on over 180°, as far as it is of degrees.
struct Ring {
    /// As the file has it.
    given: Vec<Xy>,
    plane: Vec<Xy>,
    /// South-west and north-east corner on the plane.
    low: Xy,
    high: Xy,
    /// How much it encloses on the plane, below zero where it runs clockwise.
    area: f64,
}

/// Makes areas of rings.
///
/// Refused are rings that run the wrong way where that decides whether something is a hole.
pub(super) fn areas(rings: Vec<Vec<Xy>>, notes: &mut Notes, place: &str) -> Result<Vec<Area>, ImportFault> {
    let rings: Vec<Ring> = rings.into_iter().map(Ring::of).collect();
    let mut left = MOST_STEPS;
    let mut around = Vec::with_capacity(rings.len());
    for (at, ring) in rings.iter().enumerate() {
        let others = rings.iter().enumerate().filter(|(other, _)| *other != at);
        let mut holders = Vec::new();
        for (other, holder) in others {
            if ring.is_inside(holder, &mut left).ok_or_else(|| too_many(place))? {
                holders.push(other);
            }
        }
        around.push(holders);
    }
    let is_area = |at: usize| rings[at].area <= 0.0;
    // a hole in no area runs the wrong way, and then nobody knows what a ring in it is
    let is_stray = |at: usize| !is_area(at) && !around[at].iter().any(|holder| is_area(*holder));
    if let Some(at) = (0..rings.len()).find(|at| around[*at].iter().any(|holder| is_stray(*holder))) {
        return Err(wound_wrongly(place, &rings[at]));
    }
    let mut areas = Vec::new();
    let mut area_of = vec![None; rings.len()];
    for at in (0..rings.len()).filter(|at| is_area(*at) || is_stray(*at)) {
        tell(at, (is_stray(at), &around, &is_area), (notes, place));
        area_of[at] = Some(areas.len());
        areas.push(Area { exterior: rings[at].given.clone(), holes: Vec::new() });
    }
    for at in (0..rings.len()).filter(|at| area_of[*at].is_none()) {
        // of several areas inside one another, the innermost has the hole
        let holders = around[at].iter().copied().filter(|holder| is_area(*holder));
        let innermost = holders.min_by(|a, b| rings[*a].area.abs().total_cmp(&rings[*b].area.abs()));
        if let Some(area) = innermost.and_then(|holder| area_of[holder]) {
            areas[area].holes.push(rings[at].given.clone());
        }
    }
    Ok(areas)
}

/// Notes what is odd about an area.
fn tell(
    at: usize,
    (is_stray, around, is_area): (bool, &[Vec<usize>], &dyn Fn(usize) -> bool),
    (notes, place): (&mut Notes, &str),
) {
    if is_stray {
        notes.changed(
            place,
            "a ring that runs as a hole does, counter-clockwise, lies in no other: it is read as an area",
        );
        return;
    }
    let holes = around[at].iter().filter(|holder| !is_area(**holder)).count();
    if around[at].len() > 2 * holes {
        notes.changed(
            place,
            "a ring lies inside another and runs the same way: it is read as a part and leaves no hole; look whether it was meant as one",
        );
    }
}

fn wound_wrongly(place: &str, inner: &Ring) -> ImportFault {
    let [x, y] = inner.given.first().copied().unwrap_or_default();
    ImportFault::at(
        place,
        format!(
            "the ring that begins at {x}, {y} lies in one that runs counter-clockwise, as only holes do: whether it is a hole nobody can know"
        ),
        "write the Shapefile again from a program that keeps to its format: areas clockwise, holes counter-clockwise",
    )
}

fn too_many(place: &str) -> ImportFault {
    ImportFault::at(place, "it has too many rings to say which lies in which", "split it into several shapes")
}

impl Ring {
    fn of(given: Vec<Xy>) -> Self {
        let plane = run_on(&given);
        let fold = |pick: fn(f64, f64) -> f64, start: f64| {
            plane.iter().fold([start; 2], |[x, y], [px, py]| [pick(x, *px), pick(y, *py)])
        };
        let (low, high) = (fold(f64::min, f64::INFINITY), fold(f64::max, f64::NEG_INFINITY));
        let sides = plane.iter().zip(plane.iter().cycle().skip(1));
        // from a corner of its own, so that little is lost to rounding
        let [ox, oy] = plane.first().copied().unwrap_or_default();
        let twice = sides.map(|([ax, ay], [bx, by])| (ax - ox) * (by - oy) - (bx - ox) * (ay - oy));
        let area = twice.sum::<f64>() / 2.0;
        Self { given, plane, low, high, area }
    }

    /// Whether it lies in another that it does not cross: most of its vertices do, since some may touch, and of many a few are looked at;
    /// none where that takes too long.
    fn is_inside(&self, around: &Self, left: &mut usize) -> Option<bool> {
        let turns = ((around.low[0] + around.high[0] - self.low[0] - self.high[0]) / 720.0).round();
        let shift = if self.is_of_degrees() && around.is_of_degrees() { turns * 360.0 } else { 0.0 };
        let apart = |axis: usize, shift: f64| {
            self.high[axis] + shift < around.low[axis] || self.low[axis] + shift > around.high[axis]
        };
        if apart(0, shift) || apart(1, 0.0) {
            *left = left.checked_sub(1)?;
            return Some(false);
        }
        *left = left.checked_sub(LOOKED_AT.saturating_mul(around.plane.len()).saturating_add(1))?;
        let looked_at: Vec<&Xy> =
            self.plane.iter().step_by(self.plane.len().div_ceil(LOOKED_AT).max(1)).collect();
        let inside = looked_at.iter().filter(|[x, y]| is_around(&around.plane, [x + shift, *y])).count();
        let is_inside = inside * 2 > looked_at.len();
        *left = left.checked_sub(if is_inside { REMEMBERED } else { 0 })?;
        Some(is_inside)
    }

    fn is_of_degrees(&self) -> bool {
        is_of_degrees(&self.plane)
    }
}

/// Whether numbers may be longitude and latitude; metres of a grid hardly ever are.
fn is_of_degrees(ring: &[Xy]) -> bool {
    ring.iter().all(|[x, y]| x.abs() <= 720.0 && y.abs() <= 90.0)
}

/// Longitudes that run on over 180°; as they are where the ring does not come back to its beginning then, round a pole.
fn run_on(ring: &[Xy]) -> Vec<Xy> {
    if !is_of_degrees(ring) {
        return ring.to_vec();
    }
    let mut turns = 0.0;
    let mut before: Option<f64> = None;
    let mut plane = Vec::with_capacity(ring.len());
    for [x, y] in ring {
        let step = before.map_or(0.0, |before| x - before);
        if step > 180.0 {
            turns -= 360.0;
        } else if step < -180.0 {
            turns += 360.0;
        }
        before = Some(*x);
        plane.push([x + turns, *y]);
    }
    if turns == 0.0 { plane } else { ring.to_vec() }
}

/// Whether a ring runs round a place, on the plane of its numbers.
fn is_around(ring: &[Xy], [x, y]: Xy) -> bool {
    let sides = ring.iter().zip(ring.iter().cycle().skip(1));
    let crossed = sides
        .filter(|([ax, ay], [bx, by])| (*ay > y) != (*by > y) && x < ax + (y - ay) * (bx - ax) / (by - ay));
    crossed.count() % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::import::NoteKind;

    /// A square, counter-clockwise.
    fn square(west: f64, south: f64, size: f64) -> Vec<Xy> {
        let (east, north) = (west + size, south + size);
        let turned = |x: f64| if x > 180.0 { x - 360.0 } else { x };
        [[west, south], [east, south], [east, north], [west, north], [west, south]]
            .map(|[x, y]| [turned(x), y])
            .to_vec()
    }

    fn reversed(mut ring: Vec<Xy>) -> Vec<Xy> {
        ring.reverse();
        ring
    }

    fn holes(rings: Vec<Vec<Xy>>) -> Result<(Vec<usize>, usize), ImportFault> {
        let mut notes = Notes::default();
        let areas = areas(rings, &mut notes, "shape 1")?;
        let changed = notes.in_order().iter().filter(|note| note.kind == NoteKind::Changed).count();
        Ok((areas.iter().map(|area| area.holes.len()).collect(), changed))
    }

    #[test]
    fn holes_are_those_that_run_the_other_way_inside_an_area() {
        let (outer, inner) = (square(-30.0, 45.0, 4.0), square(-29.0, 46.0, 1.0));
        assert_eq!(holes(vec![reversed(outer.clone()), inner.clone()]), Ok((vec![1], 0)));
        // over 180°, as the globe has it and the plane has not
        let (over, in_it) = (square(178.0, 45.0, 4.0), square(179.5, 46.0, 1.0));
        assert_eq!(holes(vec![reversed(over.clone()), in_it]), Ok((vec![1], 0)));
        // the hole lies wholly on the other side
        assert_eq!(holes(vec![reversed(over), square(181.0, 46.0, 0.5)]), Ok((vec![1], 0)));
        // an isle in the hole is an area again
        let isle = reversed(square(-28.8, 46.2, 0.2));
        assert_eq!(holes(vec![reversed(outer.clone()), inner.clone(), isle]), Ok((vec![1, 0], 0)));
        // the same way inside: told
        assert_eq!(holes(vec![reversed(outer), reversed(inner)]), Ok((vec![0, 0], 1)));
    }

    #[test]
    fn rings_that_run_the_wrong_way_are_areas_only_where_nothing_lies_in_them() {
        let (outer, inner) = (square(-30.0, 45.0, 4.0), square(-29.0, 46.0, 1.0));
        assert_eq!(holes(vec![outer.clone()]), Ok((vec![0], 1)));
        for wrong in [vec![outer.clone(), reversed(inner.clone())], vec![outer, inner]] {
            let refused = holes(wrong).unwrap_err();
            assert!(refused.text.contains("whether it is a hole nobody can know"), "{refused}");
        }
    }

    #[test]
    fn rings_without_number_end_soon() {
        let many = (0..60_000).map(|at| square(0.0, 0.0, 10.0 + f64::from(at) * 1e-4)).collect();
        assert!(holes(many).is_err());
    }
}
