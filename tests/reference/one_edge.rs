//! A boundary in which one edge is what is asked about.

use takeline::{
    Boundary, EdgeModel, GeodesicSegment, Located, Metres, PartSpec, Position, RingSpec, TrueBearing,
};

/// Two triangles on the same edge A–B, one to its left, one to its right.
///
/// For a position on the far side of A–B from a triangle, A–B is the triangle's nearest edge; for one on the near
/// side another edge may be nearer. So the larger of the two distances is the distance to A–B, whichever side the
/// position is on, and the triangle with the smaller signed distance is on the position's side.
pub(crate) struct OneEdge {
    left: Boundary,
    right: Boundary,
}

impl OneEdge {
    /// The third vertex stands off the middle of the geodesic by a share of the length; it has to be more than the
    /// edge's own bulge.
    pub(crate) fn new(a: Position, b: Position, model: EdgeModel, share: f64) -> Self {
        let chord = GeodesicSegment::between(a, b);
        let half = Metres::new(chord.length().metres() / 2.0).expect("a length");
        let middle = GeodesicSegment::leaving(a, chord.initial_bearing(), half).expect("not negative");
        let triangle = |turn_deg: f64| {
            let across_deg = (middle.final_bearing().degrees() + turn_deg) % 360.0;
            let across = TrueBearing::from_degrees(across_deg).expect("a bearing");
            let off = Metres::new(chord.length().metres() * share).expect("a length");
            let apex = GeodesicSegment::leaving(middle.to(), across, off).expect("not negative").to();
            let exterior = RingSpec {
                vertices: vec![a, b, apex],
                edges: vec![model, EdgeModel::Geodesic, EdgeModel::Geodesic],
                sides: Vec::new(),
            };
            Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).expect("a triangle")
        };
        Self { left: triangle(270.0), right: triangle(90.0) }
    }

    /// Where a position lies with respect to the edge: what the farther triangle says.
    pub(crate) fn locate(&self, place: Position) -> Located {
        let (left, right) = (self.left.locate(place), self.right.locate(place));
        if left.signed_distance.metres().abs() > right.signed_distance.metres().abs() { left } else { right }
    }

    /// Whether a position lies to the right of the edge.
    pub(crate) fn is_right(&self, place: Position) -> bool {
        self.right.locate(place).signed_distance.metres() < self.left.locate(place).signed_distance.metres()
    }
}
