//! In which zones a place lies, on the plane of longitude and latitude: an interval tree for each zone, behind a tree of boxes.

use geo::indexed::IntervalTreeMultiPolygon;
use geo::{Contains, Coord, LineString, MultiPolygon, Polygon};
use rstar::RTree;
use rstar::primitives::{GeomWithData, Rectangle};

type ZoneBox = GeomWithData<Rectangle<[f64; 2]>, usize>;

/// All zones.
pub(crate) struct IntervalTrees {
    boxes: RTree<ZoneBox>,
    zones: Vec<IntervalTreeMultiPolygon<f64>>,
}

impl IntervalTrees {
    pub(crate) fn new(rings: &[Vec<Coord>]) -> Self {
        let boxes = rings.iter().zip(0..).map(|(ring, number)| box_about(ring, number)).collect();
        let zone = |ring: &Vec<Coord>| {
            let polygon = Polygon::new(LineString::new(ring.clone()), vec![]);
            IntervalTreeMultiPolygon::new(&MultiPolygon::new(vec![polygon]))
        };
        Self { boxes: RTree::bulk_load(boxes), zones: rings.iter().map(zone).collect() }
    }

    /// How many zones hold a place.
    pub(crate) fn holding(&self, at: &Coord) -> usize {
        let about = self.boxes.locate_all_at_point([at.x, at.y]);
        about.filter(|zone| self.zones[zone.data].contains(at)).count()
    }
}

fn box_about(ring: &[Coord], number: usize) -> ZoneBox {
    let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for at in ring {
        (low, high) = ([low[0].min(at.x), low[1].min(at.y)], [high[0].max(at.x), high[1].max(at.y)]);
    }
    GeomWithData::new(Rectangle::from_corners(low, high), number)
}
