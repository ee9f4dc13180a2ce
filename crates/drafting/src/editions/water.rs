//! Water that a zone gained and lost, measured and drawn.

use takeline::{Boundary, Position};

use super::sheet::{Piece, Sheet, less, outline};

/// How closely what was gained and lost has to account for the two areas, as a share of the greater one; else neither is told.
const PROMISED_SHARE: f64 = 1e-4;

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
    /// Lines are drawn to 5 mm, pieces of less than 1 cm mean width are left out, and what comes out has to account for the areas
    /// of the two boundaries to 0.01 %. Against areas of GeographicLib: `water_tests.rs`.
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
        let (before, after) = (outline(old).ok()?, outline(new).ok()?);
        let sheet = Sheet::about(before.iter().chain(&after));
        let (before, after) = (sheet.lay(&before), sheet.lay(&after));
        let (before, after): (Vec<&Piece>, Vec<&Piece>) = (before.iter().collect(), after.iter().collect());
        let (gained, lost) = (less(&after, &before), less(&before, &after));
        let water = Self {
            gained_m2: gained.area_m2,
            lost_m2: lost.area_m2,
            gained: gained.pieces,
            lost: lost.pieces,
        };
        water.adds_up(old.area_m2(), new.area_m2()).then_some(water)
    }

    fn adds_up(&self, old_m2: f64, new_m2: f64) -> bool {
        let missed_m2 = (self.gained_m2 - self.lost_m2) - (new_m2 - old_m2);
        missed_m2.abs() <= PROMISED_SHARE * old_m2.max(new_m2) + 1.0
    }
}
