//! What is written, whatever the format.

use takeline::Position;
use takeline::geo_types::MultiPolygon;

/// What one file holds.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sheet {
    /// What it is about.
    pub title: String,
    /// What has to be known of it: what it is not, what it was made from, how far it may be off. One sentence or more each.
    pub remarks: Vec<String>,
    /// Its lines and areas.
    pub drawn: Vec<Drawn>,
}

/// A line or an area with its name.
#[derive(Debug, Clone, PartialEq)]
pub struct Drawn {
    /// What it is called.
    pub name: String,
    /// What it is.
    pub description: String,
    /// What other programs may sort by: names of properties and their values.
    pub properties: Vec<(&'static str, String)>,
    /// Where it is.
    pub shape: Shape,
}

/// Where something is.
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// A line through places; one that comes back to its beginning says that place again.
    Line(Vec<Position>),
    /// Areas in longitude and latitude, as [`takeline::Boundary::to_multi_polygon`] gives them.
    Areas(MultiPolygon),
}

impl Shape {
    /// Its lines: itself, or every ring of its areas, closed.
    #[must_use]
    pub fn lines(&self) -> Vec<Vec<Position>> {
        match self {
            Self::Line(places) => vec![places.clone()],
            Self::Areas(areas) => {
                let rings =
                    areas.iter().flat_map(|area| std::iter::once(area.exterior()).chain(area.interiors()));
                let place = |at: &takeline::geo_types::Coord| {
                    Position::from_degrees(at.y, takeline::Longitude::wrapping(at.x).degrees()).ok()
                };
                rings.map(|ring| ring.coords().filter_map(place).collect()).collect()
            }
        }
    }
}
