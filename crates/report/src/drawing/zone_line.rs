//! The outline of a zone by what its sides are: a line to keep off, the shore, and sides that nobody has supplied.

use maud::{Markup, html};
use takeline::{Boundary, SideKind};

use super::chart::{PathData, thinned};
use super::frame::Frame;

/// The way about a zone, and its parts by what they are.
#[derive(Debug, Default)]
pub(crate) struct ZoneLine {
    /// All of it, closed, to be filled.
    pub(crate) area: String,
    /// What a boat can cross.
    pub(crate) open: String,
    pub(crate) shore: String,
    pub(crate) unresolved: String,
}

impl ZoneLine {
    /// What the frame shows of a boundary; none if it shows nothing of it.
    pub(crate) fn of(boundary: &Boundary, frame: &Frame) -> Option<Self> {
        let mut area = PathData::default();
        for ring in boundary.outlines() {
            let ring = frame.chain(&ring);
            if frame.shows(&ring) {
                area.add(&thinned(&ring), true);
            }
        }
        if area.is_empty() {
            return None;
        }
        let area = area.into_text();
        if !boundary.has_sides() {
            return Some(Self { open: area.clone(), area, ..Self::default() });
        }
        let [mut open, mut shore, mut unresolved] = [(); 3].map(|()| PathData::default());
        for run in boundary.outline_runs() {
            let way = frame.chain(&run.positions);
            let path = match run.kind {
                SideKind::Open | SideKind::Mouth => &mut open,
                SideKind::Shore => &mut shore,
                SideKind::Unresolved => &mut unresolved,
            };
            if frame.shows(&way) {
                path.add(&thinned(&way), run.is_closed);
            }
        }
        let [open, shore, unresolved] = [open, shore, unresolved].map(PathData::into_text);
        Some(Self { area, open, shore, unresolved })
    }

    /// The strokes: the shore as a coast is drawn, and only the rest as a line to keep off.
    pub(crate) fn strokes(&self, class: &str, line_known: bool) -> Markup {
        html! {
            @if !self.shore.is_empty() { path .shore d=(self.shore) {} }
            @if !self.open.is_empty() { path .{ "line " (class) } .unknown[!line_known] d=(self.open) {} }
            @if !self.unresolved.is_empty() { path .{ "line unresolved " (class) } d=(self.unresolved) {} }
        }
    }
}

/// What a legend has to explain of the sides that a drawing shows.
pub(crate) fn keys<'l>(mut lines: impl Iterator<Item = &'l ZoneLine> + Clone) -> Markup {
    let has_shore = lines.clone().any(|line| !line.shore.is_empty());
    let has_unresolved = lines.any(|line| !line.unresolved.is_empty());
    html! {
        @if has_shore {
            li { (key("shore")) " shore of a zone: no boat crosses it" }
        }
        @if has_unresolved {
            li { (key("line unresolved")) " side “along the coast” that nobody has supplied: undecided near it" }
        }
    }
}

fn key(class: &str) -> Markup {
    html! {
        svg .swatch viewBox="0 0 24 16" width="24" height="16" aria-hidden="true" {
            path .(class) d="M1 10L8 6L15 9L23 5" {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use takeline::{EdgeModel, PartSpec, Position, RingSpec, Side};

    fn at(latitude_deg: f64, longitude_deg: f64) -> Position {
        Position::from_degrees(latitude_deg, longitude_deg).unwrap()
    }

    fn strokes(kinds: [SideKind; 4]) -> (ZoneLine, String) {
        let corners = vec![at(45.10, -30.14), at(45.10, -30.12), at(45.12, -30.12), at(45.12, -30.14)];
        let frame = Frame::about(&corners).unwrap();
        let sides = kinds.map(Side::from).to_vec();
        let exterior = RingSpec { vertices: corners, edges: vec![EdgeModel::Geodesic; 4], sides };
        let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
        let line = ZoneLine::of(&boundary, &frame).unwrap();
        let drawn = line.strokes("closed", true).into_string();
        (line, drawn)
    }

    #[test]
    fn a_beach_is_no_line_to_keep_off() {
        let (line, drawn) = strokes([SideKind::Open, SideKind::Shore, SideKind::Unresolved, SideKind::Mouth]);
        assert!(line.area.ends_with('Z') && !line.open.contains('Z'));
        assert!(line.shore.matches('M').count() == 1 && !line.shore.contains('Z'), "{}", line.shore);
        for class in ["class=\"shore\"", "class=\"line closed\"", "class=\"line unresolved closed\""] {
            assert_eq!(drawn.matches(class).count(), 1, "{drawn}");
        }
        let legend = keys(std::iter::once(&line)).into_string();
        assert!(legend.contains("no boat crosses it") && legend.contains("nobody has supplied"));
    }

    #[test]
    fn a_zone_over_open_water_is_one_closed_line() {
        let (line, drawn) = strokes([SideKind::Open; 4]);
        assert_eq!(line.open, line.area);
        assert_eq!(drawn.matches("<path").count(), 1);
        assert!(keys(std::iter::once(&line)).into_string().is_empty());
    }
}
