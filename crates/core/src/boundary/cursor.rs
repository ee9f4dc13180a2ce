//! A boundary asked from one place to the next.

use super::candidates::Trail;
use super::whole::Foot;
use super::{Boundary, HowFar, Located, Off};
use crate::Position;
use crate::geodesic::{Surface, Vector, surface};

/// Asks a boundary about places that follow each other, as those of a track do, in less time than [`Boundary::locate`].
///
/// A cursor remembers which edges were near. No distance changes faster than the boat moves, so for as long as the nearest
/// of them is nearer than any other can have come, nothing is searched. A jump costs one search, as without a cursor.
///
/// # Accuracy
///
/// The same answers: the same side, and distances within 1 nm, whatever the order of places.
///
/// # Examples
///
/// ```
/// use takeline::{Boundary, EdgeModel, PartSpec, Position, RingSpec};
/// let corners = [(45.12, -30.14), (45.12, -30.12), (45.10, -30.12), (45.10, -30.14)];
/// let vertices = corners.iter().map(|(lat, lon)| Position::from_degrees(*lat, *lon)).collect::<Result<Vec<_>, _>>()?;
/// let exterior = RingSpec { vertices, edges: vec![EdgeModel::RhumbLine; 4], sides: Vec::new() };
/// let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }])?;
/// let mut cursor = boundary.cursor();
/// for step in 0..100 {
///     let place = Position::from_degrees(45.11, -30.15 + f64::from(step) * 1e-4)?;
///     let metres = cursor.how_far(place).signed_distance.metres();
///     assert!((metres - boundary.locate(place).signed_distance.metres()).abs() < 1e-9);
/// }
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct BoundaryCursor<'a> {
    boundary: &'a Boundary,
    trails: Trails,
}

/// Which edges of one boundary were near, under each reading of them; that boundary is handed in with every question.
#[derive(Debug, Clone)]
pub(crate) struct Trails(Vec<Trail>);

impl Boundary {
    /// A cursor that has been nowhere yet.
    #[must_use]
    pub fn cursor(&self) -> BoundaryCursor<'_> {
        BoundaryCursor { boundary: self, trails: self.no_trails() }
    }

    /// Trails that lead nowhere yet.
    pub(crate) fn no_trails(&self) -> Trails {
        Trails(self.trails())
    }
}

impl BoundaryCursor<'_> {
    /// As [`Boundary::locate`].
    pub fn locate(&mut self, position: Position) -> Located {
        let here = surface(position);
        self.boundary.off(position, &here, &mut self.trails.0).located_from(position, &here)
    }

    /// As [`Boundary::how_far`].
    pub fn how_far(&mut self, position: Position) -> HowFar {
        self.how_far_from(position, &surface(position))
    }

    /// As [`Self::how_far`], for a position that is in earth-centred axes already.
    pub(crate) fn how_far_from(&mut self, position: Position, here: &Surface) -> HowFar {
        self.boundary.off(position, here, &mut self.trails.0).far
    }
}

impl Trails {
    /// How far a position is from the boundary of these trails, and the nearest point of its line, where its edges run one way
    /// only and that point is not on a circle.
    pub(crate) fn how_far_and_foot(
        &mut self,
        boundary: &Boundary,
        position: Position,
        here: &Surface,
    ) -> (HowFar, Option<Vector>) {
        let Off { far, foot } = boundary.off(position, here, &mut self.0);
        let foot = match foot {
            Foot::Point(foot) if self.0.len() == 1 => Some(foot),
            Foot::Point(_) | Foot::OnCircle(_) => None,
        };
        (far, foot)
    }
}
