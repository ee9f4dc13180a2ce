//! Water that a zone gained and lost, measured and drawn.

use geo::{Area, BooleanOps, BoundingRect, MultiPolygon, Polygon};
use takeline::{Boundary, Position};

use super::plane::Plane;

/// How closely what was gained and lost has to account for the two areas, as a share of the greater one; else neither is told.
const PROMISED_SHARE: f64 = 1e-4;
/// Pieces of less than this, in m², are not drawn.
const LEAST_DRAWN_M2: f64 = 1.0;

/// Water gained and lost.
#[derive(Debug, Clone, PartialEq, Default)]
#[non_exhaustive]
pub struct Water {
    /// What is in it now and was not, in m² on the ellipsoid.
    pub gained_m2: f64,
    /// What was in it and is not any more, in m² on the ellipsoid.
    pub lost_m2: f64,
    /// The pieces gained, each an outer ring and the holes in it, for drawing; the first position is not said again at the end.
    pub gained: Vec<Vec<Vec<Position>>>,
    /// The pieces lost, likewise.
    pub lost: Vec<Vec<Vec<Position>>>,
}

impl Water {
    /// Measures what a boundary gained and lost; none where that cannot be measured, as about a pole.
    ///
    /// # Units
    ///
    /// Square metres on WGS 84; unstated edges in their geodesic reading.
    ///
    /// # Accuracy
    ///
    /// Lines are drawn to 5 mm, and what comes out has to account for the areas of the two boundaries to 0.01 %. Against areas
    /// of GeographicLib: `water_tests.rs`.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Boundary, Metres, PartSpec, Position};
    /// use takeline_drafting::editions::Water;
    ///
    /// let circle = |radius_m| -> Result<_, Box<dyn std::error::Error>> {
    ///     let centre = Position::from_degrees(45.1575, -30.0550)?;
    ///     Ok(Boundary::build(&[PartSpec::Circle { centre, radius: Metres::new(radius_m)? }])?)
    /// };
    /// let water = Water::between(&circle(150.0)?, &circle(200.0)?).expect("no pole is near");
    /// assert!((water.gained_m2 - 54_978.0).abs() < 10.0 && water.lost_m2 == 0.0);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn between(old: &Boundary, new: &Boundary) -> Option<Self> {
        let middle = old.outlines().first()?.first().copied()?;
        let plane = Plane::about(middle);
        let (before, after) = (plane.shape(old).ok()?, plane.shape(new).ok()?);
        let (gained, lost) = (less(&after, &before), less(&before, &after));
        let water = Self {
            gained_m2: gained.unsigned_area(),
            lost_m2: lost.unsigned_area(),
            gained: plane.rings(&drawn(gained)),
            lost: plane.rings(&drawn(lost)),
        };
        water.adds_up(old.area_m2(), new.area_m2()).then_some(water)
    }

    fn adds_up(&self, old_m2: f64, new_m2: f64) -> bool {
        let missed_m2 = (self.gained_m2 - self.lost_m2) - (new_m2 - old_m2);
        missed_m2.abs() <= PROMISED_SHARE * old_m2.max(new_m2) + 1.0
    }
}

/// What is in one shape and not in the other.
pub(super) fn less(one: &MultiPolygon, other: &MultiPolygon) -> MultiPolygon {
    // of shapes far apart nothing is lost to the grid on which they are cut
    let apart = match (one.bounding_rect(), other.bounding_rect()) {
        (Some(one), Some(other)) => {
            one.max().x < other.min().x
                || other.max().x < one.min().x
                || one.max().y < other.min().y
                || other.max().y < one.min().y
        }
        _ => true,
    };
    if apart { one.clone() } else { one.difference(other) }
}

/// The pieces that are worth drawing.
pub(super) fn drawn(shape: MultiPolygon) -> MultiPolygon {
    shape.into_iter().filter(|piece: &Polygon| piece.unsigned_area() >= LEAST_DRAWN_M2).collect()
}
