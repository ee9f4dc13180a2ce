//! The water of a working area, by what it is and by what the marks look like from it.

use geo::algorithm::bool_ops::OpType;
use geo::{Area, BoundingRect, Polygon, Rect, Simplify};

use super::line_plane::{LinePlane, Shape, Surroundings, parted, without_holes, without_slivers};
use crate::Position;
use crate::transit::{Eye, RangeLine, Side, Stretch, TransitQuestion, WorkingArea};
use crate::zone::{Extent, ZoneSet};

/// How closely areas are promised, as a share of the working area.
pub(crate) const PROMISED_SHARE: f64 = 1e-4;
/// Rings round less water than this, in square metres, are not drawn.
const LEAST_DRAWN_M2: f64 = 1.0;
/// Corners are left out of a ring where that moves it by no more than this, in metres.
const DRAWN_TO_M: f64 = 0.02;

/// Areas of the working area, in square metres on the ellipsoid, and the same drawn.
///
/// The marks are taken to stand where they are said to. A zone's unstated edges are read as geodesics. Areas that could not be
/// worked out are NaN, all of them, and nothing is drawn.
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
    /// again at the end. No ring has a hole: water round an island comes in several. Parts under 1 m² are left out.
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

    /// As large everywhere: nothing, or not known.
    fn all(inside: Side, area_m2: f64) -> Self {
        Self {
            inside,
            area_m2,
            false_clear_open_m2: area_m2,
            false_clear_in_line_m2: area_m2,
            inside_and_seen_m2: area_m2,
            forgone_m2: area_m2,
            open_in_line_m2: area_m2,
            open_and_clear_m2: area_m2,
            false_clear: Vec::new(),
            forgone: Vec::new(),
        }
    }

    /// Whether the parts make up the whole, as closely as areas are promised.
    fn adds_up(&self) -> bool {
        let parts_m2 = self.false_clear_m2()
            + self.inside_and_seen_m2
            + self.forgone_m2
            + self.open_in_line_m2
            + self.open_and_clear_m2;
        (parts_m2 - self.area_m2).abs() <= PROMISED_SHARE * self.area_m2 + 1.0
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
    /// by the square of the distance over the Earth's radius: one part in 100 000 at 20 km, 2 in 10 000 at 100 km. They are
    /// drawn to 2 mm.
    ///
    /// # Edge cases
    ///
    /// The area may lie between the marks or behind them; what the eye sees there counts. Water in several zones counts
    /// once. A zone whose line is not known counts as none. Water less than a millimetre wide on the mean counts as none.
    /// All areas are NaN where the working area reaches more than 2000 km from the front mark, where the plane of the line
    /// shows it more than 1 % too large or too small, and where its parts do not make up the whole.
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
    measured(looking).unwrap_or_else(|| ViewedWater::all(looking.inside, f64::NAN))
}

/// Water of one look, in a zone and in none.
struct BothSides {
    in_zone: Shape,
    open: Shape,
}

/// None where the plane shows the area badly, or its parts do not make up the whole.
fn measured(looking: &Looking<'_>) -> Option<ViewedWater> {
    let Looking { line, inside, .. } = looking;
    let plane = LinePlane::of(line);
    let area = working_area(plane, looking)?;
    let Some(bounds) = area.bounding_rect() else { return Some(ViewedWater::all(*inside, 0.0)) };
    let zones = zones(plane, looking, bounds);
    let in_zone = parted(&area, &zones, OpType::Intersection);
    let open = parted(&area, &zones, OpType::Difference);
    let opened = |side| plane.opened(side, looking.eye, bounds);
    let (shows_inside, shows_outside) = (opened(*inside), opened(inside.other()));
    let part =
        |by: &Shape, how| BothSides { in_zone: parted(&in_zone, by, how), open: parted(&open, by, how) };
    let says_inside = part(&shows_inside, OpType::Intersection);
    let says_outside = part(&shows_outside, OpType::Intersection);
    // the two lie on either side of the line
    let either = Shape::new(shows_inside.iter().chain(&shows_outside).cloned().collect());
    let in_line = part(&either, OpType::Difference);
    let area_m2 = |shape: &Shape| plane.area_m2(&without_slivers(shape.clone()));
    let water = ViewedWater {
        inside: *inside,
        area_m2: area_m2(&area),
        false_clear_open_m2: area_m2(&says_outside.in_zone),
        false_clear_in_line_m2: area_m2(&in_line.in_zone),
        inside_and_seen_m2: area_m2(&says_inside.in_zone),
        forgone_m2: area_m2(&says_inside.open),
        open_in_line_m2: area_m2(&in_line.open),
        open_and_clear_m2: area_m2(&says_outside.open),
        false_clear: drawn(plane, parted(&in_zone, &shows_inside, OpType::Difference)),
        forgone: drawn(plane, says_inside.open),
    };
    water.adds_up().then_some(water)
}

fn working_area(plane: LinePlane<'_>, looking: &Looking<'_>) -> Option<Shape> {
    match looking.area {
        WorkingArea::Strip { half_width } => {
            Some(LinePlane::strip((looking.stretch.near(), looking.stretch.far()), *half_width))
        }
        WorkingArea::Within(boundary) => plane.whole(boundary),
    }
}

/// The counted zones in and about the area, as one shape.
fn zones(plane: LinePlane<'_>, looking: &Looking<'_>, bounds: Rect) -> Shape {
    let around = Surroundings::of(plane, bounds);
    let counted = looking.counted.iter().filter_map(|number| looking.zones.zones().get(*number));
    let known = counted.filter_map(|zone| match &zone.extent {
        Extent::Known(boundary) => Some(boundary),
        Extent::Unknown { .. } => None,
    });
    Shape::new(known.filter(|zone| around.meets(zone)).flat_map(|zone| around.rings(zone)).collect())
}

/// Rings round the water of a shape, without holes.
fn drawn(plane: LinePlane<'_>, shape: Shape) -> Vec<Vec<Position>> {
    let parts = without_holes(without_slivers(shape));
    let large = parts.into_iter().filter(|part| part.unsigned_area() >= LEAST_DRAWN_M2);
    let ring = |part: Polygon| {
        let part = with_fewer_corners(part);
        let corners = part.exterior().coords().skip(1);
        corners.map(|at| plane.position(*at)).collect()
    };
    large.map(ring).collect()
}

/// A part without the corners that nobody would miss; as it is where that would change how much water it shows.
fn with_fewer_corners(part: Polygon) -> Polygon {
    const KEPT_SHARE: f64 = 1e-4;
    let plain = part.simplify(DRAWN_TO_M);
    let (area_m2, plain_m2) = (part.unsigned_area(), plain.unsigned_area());
    if (plain_m2 - area_m2).abs() <= KEPT_SHARE * area_m2 { plain } else { part }
}
