//! Where boundaries lie, roughly: boxes about them in a space of three dimensions, where nothing runs round the Earth and no
//! pole is special.

use rstar::primitives::{GeomWithData, Rectangle};
use rstar::{AABB, RTree};
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, Position};

/// The direction of a position from the middle of a unit sphere.
pub(super) fn direction(position: Position) -> [f64; 3] {
    let (sine, cosine) = position.latitude().degrees().to_radians().sin_cos();
    let (east_sine, east_cosine) = position.longitude().degrees().to_radians().sin_cos();
    [cosine * east_cosine, cosine * east_sine, sine]
}

fn corners(line: &[Position]) -> ([f64; 3], [f64; 3]) {
    let (mut low, mut high) = ([f64::INFINITY; 3], [f64::NEG_INFINITY; 3]);
    for position in line {
        for (axis, value) in direction(*position).into_iter().enumerate() {
            low[axis] = low[axis].min(value);
            high[axis] = high[axis].max(value);
        }
    }
    (low, high)
}

/// A box for each ring of a boundary; together they hold all its water.
///
/// What a ring encloses is the smaller side, which rises over the box of its line by less than a quarter of the square of the
/// box's diagonal: of a cap that is a sixteenth, and of a half of the Earth an eighth.
fn boxes(boundary: &Boundary) -> Vec<Rectangle<[f64; 3]>> {
    let of_ring = |line: &Vec<Position>| {
        let (low, high) = corners(line);
        let diagonal_squared: f64 = (0..3).map(|axis| (high[axis] - low[axis]).powi(2)).sum();
        // the last term is for the line between the places where it is drawn
        let rise = diagonal_squared / 4.0 + 1e-7;
        Rectangle::from_corners(low.map(|value| value - rise), high.map(|value| value + rise))
    };
    boundary.outlines().iter().filter(|line| !line.is_empty()).map(of_ring).collect()
}

/// The boundary inside which a zone lies, or may lie.
pub(super) fn surrounds(zone: &Zone) -> Option<&Boundary> {
    match &zone.extent {
        Extent::Known(boundary) => Some(boundary),
        Extent::Unknown { somewhere_in, .. } => somewhere_in.as_ref(),
    }
}

/// Zones by the water that they may hold.
#[derive(Debug)]
pub(super) struct ByReach {
    boxes: RTree<GeomWithData<Rectangle<[f64; 3]>, usize>>,
}

impl ByReach {
    pub(super) fn of<'z>(zones: impl IntoIterator<Item = &'z Zone>) -> Self {
        let of_zone = |(at, zone): (usize, &'z Zone)| {
            let boxes = surrounds(zone).map(boxes).unwrap_or_default();
            boxes.into_iter().map(move |one| GeomWithData::new(one, at))
        };
        Self { boxes: RTree::bulk_load(zones.into_iter().enumerate().flat_map(of_zone).collect()) }
    }

    /// Whether one of them may share water with a boundary.
    pub(super) fn may_meet(&self, boundary: &Boundary) -> bool {
        self.boxes.size() > 0 && !self.near(boundary).is_empty()
    }

    /// Those that may share water with a boundary, in their order.
    pub(super) fn near(&self, boundary: &Boundary) -> Vec<usize> {
        let mut found: Vec<usize> = boxes(boundary)
            .iter()
            .flat_map(|one| {
                let about = AABB::from_corners(one.lower(), one.upper());
                self.boxes.locate_in_envelope_intersecting(about).map(|other| other.data)
            })
            .collect();
        found.sort_unstable();
        found.dedup();
        found
    }
}

/// The box of a whole line: nearly the same for lines that are nearly the same, wherever their rings begin.
pub(super) fn box_of_line(boundary: &Boundary) -> [f64; 6] {
    let outlines = boundary.outlines();
    let (low, high) = corners(&outlines.concat());
    [low[0], low[1], low[2], high[0], high[1], high[2]]
}
