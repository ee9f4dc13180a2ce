//! The water of a working area, by what it is and by what the marks look like from it.

use super::curves::{OnPlane, Plane};
use super::rings::{Drawn, Rings};
use super::slabs::{Patch, patches, slabs};
use crate::Position;
use crate::geodesic::{ECCENTRICITY_2, EQUATORIAL_RADIUS_M};
use crate::transit::{Eye, Look, RangeLine, Side, Stretch, TransitQuestion, WorkingArea};
use crate::zone::ZoneSet;

/// Areas of the working area, in square metres on the ellipsoid, and the same drawn.
///
/// The marks are taken to stand where they are said to. A zone's unstated edges are read as geodesics.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ViewedWater {
    /// The side on which the rear mark shows inside the zone, which the sentence for the angler says.
    pub inside: Side,
    /// The whole working area.
    pub area_m2: f64,
    /// Inside a zone, and the marks look clear of it: the rear mark shows to the other side.
    pub false_clear_open_m2: f64,
    /// Inside a zone, and the marks look in line, because the eye sees no opening yet.
    pub false_clear_in_line_m2: f64,
    /// Inside a zone, and the marks say so.
    pub inside_and_seen_m2: f64,
    /// Inside no zone, but the marks say inside.
    pub forgone_m2: f64,
    /// Inside no zone, and the marks look in line.
    pub open_in_line_m2: f64,
    /// Inside no zone, and the marks look clear.
    pub open_and_clear_m2: f64,
    /// Rings around the water of the two false-safe kinds, the water on the left of each; the first position is not said
    /// again at the end. Parts under 1 m² are left out.
    pub false_clear: Vec<Vec<Position>>,
    /// Rings around the water given away, likewise.
    pub forgone: Vec<Vec<Position>>,
}

impl ViewedWater {
    /// Returns the area inside a zone from which the marks do not say inside, in square metres.
    #[must_use]
    pub fn false_clear_m2(&self) -> f64 {
        self.false_clear_open_m2 + self.false_clear_in_line_m2
    }

    fn none(inside: Side) -> Self {
        Self {
            inside,
            area_m2: 0.0,
            false_clear_open_m2: 0.0,
            false_clear_in_line_m2: 0.0,
            inside_and_seen_m2: 0.0,
            forgone_m2: 0.0,
            open_in_line_m2: 0.0,
            open_and_clear_m2: 0.0,
            false_clear: Vec::new(),
            forgone: Vec::new(),
        }
    }

    /// The area that a patch belongs to.
    fn part(&mut self, patch: &Patch) -> &mut f64 {
        match (patch.in_zone, patch.look) {
            (true, Look::InLine) => &mut self.false_clear_in_line_m2,
            (false, Look::InLine) => &mut self.open_in_line_m2,
            (true, Look::RearShows(side)) if side == self.inside => &mut self.inside_and_seen_m2,
            (false, Look::RearShows(side)) if side == self.inside => &mut self.forgone_m2,
            (true, Look::RearShows(_)) => &mut self.false_clear_open_m2,
            (false, Look::RearShows(_)) => &mut self.open_and_clear_m2,
        }
    }
}

/// What the water is measured for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Looking<'a> {
    pub(crate) line: &'a RangeLine,
    pub(crate) zones: &'a ZoneSet,
    /// Places in the set of the zones that count.
    pub(crate) counted: &'a [usize],
    pub(crate) stretch: Stretch,
    pub(crate) area: &'a WorkingArea,
    pub(crate) eye: Eye,
    /// The side on which the rear mark shows inside.
    pub(crate) inside: Side,
}

impl RangeLine {
    /// Measures the water of the working area by what it is and by what the marks look like from it, all zones counted.
    ///
    /// Stretch, area and eye are the question's; `inside` is the side on which the rear mark shows inside.
    ///
    /// # Units
    ///
    /// Square metres on WGS 84.
    ///
    /// # Accuracy
    ///
    /// Within 0.01 % of the working area where that lies within 20 km of the marks (`tests/false_clear.rs` counts a grid;
    /// `water_tests.rs` has closed forms). The curves on which the eye begins to see an opening are those of the plane, off
    /// by the square of the distance over the Earth's radius: one part in 100 000 at 20 km, 2 in 10 000 at 100 km.
    ///
    /// # Edge cases
    ///
    /// The area may lie between the marks or behind them; what the eye sees there counts. Water in several zones counts
    /// once. A zone whose line is not known counts as none. An area that reaches thousands of kilometres from the marks is
    /// measured roughly.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::transit::{RangeLine, Side, Stretch, TransitQuestion};
    /// use takeline::{Metres, Position, ZoneSet, landmark::Landmark};
    ///
    /// let beacon = Landmark::at("beacon", Position::from_degrees(45.1252, -30.1310)?);
    /// let pine = Landmark::at("pine", Position::from_degrees(45.1255, -30.1120)?);
    /// let line = RangeLine::through(beacon, pine)?;
    /// let stretch = Stretch::new(Metres::new(500.0)?, Metres::new(2500.0)?)?;
    /// let water = line.look_at_water(&ZoneSet::new(vec![]), &TransitQuestion::about(stretch), Side::Right);
    /// // 2 km, 500 m on either side; without a zone nothing is false-safe, and the half on the right is given away
    /// assert_eq!(water.area_m2.round(), 2_000_000.0);
    /// assert_eq!(water.false_clear_m2(), 0.0);
    /// assert!(water.forgone_m2 > 990_000.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    ///
    /// # References
    ///
    /// Inscribed angles: Euclid, Elements III, 21. Geodesic parallel coordinates: Gauss (1827).
    #[must_use]
    pub fn look_at_water(&self, zones: &ZoneSet, question: &TransitQuestion, inside: Side) -> ViewedWater {
        let counted: Vec<usize> = (0..zones.zones().len()).collect();
        let TransitQuestion { stretch, eye, area, .. } = question;
        let counted = counted.as_slice();
        looked_at(&Looking { line: self, zones, counted, stretch: *stretch, area, eye: *eye, inside })
    }
}

/// Measures the water of a working area.
pub(crate) fn looked_at(looking: &Looking<'_>) -> ViewedWater {
    let mut water = ViewedWater::none(looking.inside);
    let Some(plane) = Plane::of(looking) else { return water };
    let curvature = curvature_at(looking.line.front().position);
    let (mut false_clear, mut forgone) = (Rings::default(), Rings::default());
    for slab in slabs(&plane) {
        let ends_m = (slab.from_m, slab.to_m);
        let patches = patches(&plane, &slab);
        for patch in &patches {
            let patch_m2 = area_m2(patch, ends_m, curvature);
            water.area_m2 += patch_m2;
            *water.part(patch) += patch_m2;
        }
        let drawn = |is_meant: &dyn Fn(&Patch) -> bool| {
            let of =
                |patch: &Patch| Drawn { begins_m: patch.ends_m(ends_m.0), ends_m: patch.ends_m(ends_m.1) };
            patches.iter().filter(|patch| is_meant(patch)).map(of).collect()
        };
        let says_inside = |patch: &Patch| patch.look == Look::RearShows(looking.inside);
        false_clear.add(ends_m, drawn(&|patch| patch.in_zone && !says_inside(patch)));
        forgone.add(ends_m, drawn(&|patch| !patch.in_zone && says_inside(patch)));
    }
    let positions = |rings: Rings| {
        let position = |ring: Vec<OnPlane>| ring.into_iter().map(|at| plane.position(at)).collect();
        rings.finish().into_iter().map(position).collect()
    };
    water.false_clear = positions(false_clear);
    water.forgone = positions(forgone);
    water
}

/// Area of a patch, by three-point Gauss–Legendre along the line; across it is exact.
fn area_m2(patch: &Patch, (from_m, to_m): (f64, f64), curvature: f64) -> f64 {
    const NODES: [(f64, f64); 3] =
        [(-0.774_596_669_241_483_4, 5.0), (0.0, 8.0), (0.774_596_669_241_483_4, 5.0)];
    let (middle_m, half_m) = (f64::midpoint(from_m, to_m), (to_m - from_m) / 2.0);
    // geodesics square to the line draw together by cos(y/R), of which this is the integral
    let true_m = |off_m: f64| (off_m * curvature).sin() / curvature;
    let width_m = |node: f64| {
        let (left_m, right_m) = patch.ends_m(middle_m + node * half_m);
        true_m(right_m) - true_m(left_m)
    };
    NODES.iter().map(|(node, weight)| weight / 18.0 * width_m(*node)).sum::<f64>() * 2.0 * half_m
}

/// One over the radius of the sphere that bends as the ellipsoid does at a place: √(1 / (M·N)).
fn curvature_at(place: Position) -> f64 {
    let sin = place.latitude().radians().sin();
    let squeeze = 1.0 - ECCENTRICITY_2 * sin * sin;
    squeeze / (EQUATORIAL_RADIUS_M * (1.0 - ECCENTRICITY_2).sqrt())
}
