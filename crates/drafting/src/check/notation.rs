//! In which notation coordinates were printed, and what does not fit it.

use takeline::Position;

/// A step of a notation: 1 of its last digit, in degrees, and whether it counts decimals of a degree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Grid {
    pub(super) step_deg: f64,
    is_decimal: bool,
}

/// Of a step, how far off a coordinate may be and still fit: of any coordinates one in fifty fits by chance.
const FIT: f64 = 0.01;
/// Metres in a degree of latitude: 60 minutes of 1852 m, within 1 %.
pub(super) const DEGREE_M: f64 = 111_120.0;

/// From coarse to fine.
fn grids() -> impl Iterator<Item = Grid> {
    let decimal = |digits: i32| Grid { step_deg: 10.0_f64.powi(-digits), is_decimal: true };
    let minutes = |digits: i32| Grid { step_deg: 10.0_f64.powi(-digits) / 60.0, is_decimal: false };
    let seconds = |digits: i32| Grid { step_deg: 10.0_f64.powi(-digits) / 3600.0, is_decimal: false };
    let mut all: Vec<Grid> =
        (0..=6).map(decimal).chain((0..=4).map(minutes)).chain((0..=2).map(seconds)).collect();
    all.sort_by(|one, other| other.step_deg.total_cmp(&one.step_deg));
    all.into_iter()
}

impl Grid {
    fn fits(self, value_deg: f64) -> bool {
        let steps = value_deg / self.step_deg;
        (steps - steps.round()).abs() <= FIT
    }

    fn holds(self, place: Position) -> bool {
        coordinates(place).into_iter().all(|value| self.fits(value))
    }

    /// The coarsest grid on which all places lie.
    pub(super) fn of(places: &[Position]) -> Option<Self> {
        grids().find(|grid| places.iter().all(|place| grid.holds(*place)))
    }

    /// Half a step, in metres of latitude.
    pub(super) fn half_m(self) -> f64 {
        0.5 * self.step_deg * DEGREE_M
    }
}

fn coordinates(place: Position) -> [f64; 2] {
    [place.latitude().degrees(), place.longitude().degrees()]
}

/// The one vertex that is written in decimals of a degree while all others lie on whole minutes or seconds or their decimals, and
/// cannot have been written in decimals of a degree themselves.
pub(super) fn odd_one_out(places: &[Position]) -> Option<usize> {
    /// A hundredth of a minute, and a little less: on finer grids others may lie by chance.
    const FINEST_DEG: f64 = 0.99e-2 / 60.0;
    /// Decimals of a degree that people type.
    const TYPED: Grid = Grid { step_deg: 1e-5, is_decimal: true };
    if places.len() < 4 {
        return None;
    }
    let mut coarse = grids().filter(|grid| !grid.is_decimal && grid.step_deg >= FINEST_DEG);
    coarse.find_map(|grid| {
        let mut off = places.iter().enumerate().filter(|(_, place)| !grid.holds(**place));
        let (at, odd) = off.next()?;
        let is_only = off.next().is_none();
        let others = places.iter().enumerate().filter(|(other, _)| *other != at);
        let others = others.filter(|(_, place)| !TYPED.holds(**place)).count();
        (is_only && TYPED.holds(*odd) && others * 2 >= places.len() - 1).then_some(at)
    })
}

/// How many coordinates there are, those of one tenth of a degree counted once, if all their decimals are below .60 and no more
/// than people type.
pub(super) fn all_below_sixty<'p>(places: impl Iterator<Item = &'p Position>) -> Option<usize> {
    const TYPED: Grid = Grid { step_deg: 1e-4, is_decimal: true };
    let mut tenths: Vec<(usize, i64)> = Vec::new();
    for place in places {
        for (axis, value) in coordinates(*place).into_iter().enumerate() {
            if value.abs().fract() >= 0.6 || !TYPED.fits(value) {
                return None;
            }
            #[expect(clippy::cast_possible_truncation, reason = "tenths of at most 180 degrees")]
            tenths.push((axis, (value * 10.0).floor() as i64));
        }
    }
    tenths.sort_unstable();
    tenths.dedup();
    Some(tenths.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(lat: f64, lon: f64) -> Position {
        Position::from_degrees(lat, lon).unwrap()
    }

    fn minutes(d: f64, m: f64) -> f64 {
        d + m / 60.0
    }

    #[test]
    fn the_notation_is_the_coarsest_that_fits() {
        let step = |places: &[Position]| Grid::of(places).map(|grid| grid.step_deg);
        assert_eq!(step(&[at(45.113, -30.127)]), Some(0.001));
        assert_eq!(step(&[at(minutes(24.0, 33.7), -minutes(81.0, 40.8))]), Some(0.1 / 60.0));
        assert_eq!(step(&[at(56.0 + 6.0 / 60.0 + 16.0 / 3600.0, -5.5)]), Some(1.0 / 3600.0));
        assert_eq!(step(&[at(24.123_456_78, -81.987_654_32)]), None);
    }

    #[test]
    fn a_vertex_typed_in_decimals_among_minutes_stands_out() {
        let mut ring = vec![
            at(minutes(24.0, 33.71), -minutes(81.0, 40.82)),
            at(minutes(24.0, 28.85), -minutes(81.0, 41.97)),
            at(minutes(24.0, 28.51), -minutes(81.0, 43.73)),
            at(minutes(24.0, 33.52), -minutes(81.0, 43.11)),
        ];
        assert_eq!(odd_one_out(&ring), None);
        ring[2] = at(24.2851, -81.4373);
        assert_eq!(odd_one_out(&ring), Some(2));
        // decimals of a degree throughout are no mixture
        let decimals = [at(45.1, -30.1), at(45.1, -30.2), at(45.2, -30.2), at(45.2137, -30.1)];
        assert_eq!(odd_one_out(&decimals), None);
    }

    #[test]
    fn decimals_below_sixty_are_counted_by_tenths() {
        assert_eq!(all_below_sixty([at(45.11, -30.12), at(45.12, -30.25)].iter()), Some(3));
        assert_eq!(all_below_sixty([at(45.11, -30.72)].iter()), None);
        assert_eq!(all_below_sixty([at(24.561_666_67, -81.5)].iter()), None);
    }
}
