//! From the pieces of a text to the outline of a zone.

use takeline::{
    Arc, ArcSense, EdgeLine, EdgeModel, Latitude, Longitude, Metres, PartSpec, Position, RingSpec,
};

use super::finding::{DraftFinding, Question};
use crate::law_text::{Bound, Piece, PrintedPoint, Quantity, Role, SideWords};

/// Degrees on either side of a half turn within which the shorter way round is not plain.
const NEAR_HALF_TURN_DEG: f64 = 10.0;

/// What a text draws.
#[derive(Debug, Default)]
pub(super) struct Outline {
    /// The corners; of a circle, its centre.
    pub(super) points: Vec<PrintedPoint>,
    /// For each corner the side that leaves it.
    pub(super) sides: Vec<OutlineSide>,
    /// The radius, of a circle.
    pub(super) circle: Option<Quantity>,
    /// The text lists the first corner again at the end.
    pub(super) repeats_first: bool,
    pub(super) findings: Vec<DraftFinding>,
    pub(super) questions: Vec<Question>,
}

/// A side of an outline.
#[derive(Debug, Clone, Default)]
pub(super) struct OutlineSide {
    pub(super) words: SideWords,
    pub(super) centre: Option<PrintedPoint>,
    pub(super) arc: Option<Arc>,
    /// How it runs, if the text says so.
    pub(super) model: Option<EdgeModel>,
}

impl Outline {
    pub(super) fn of(pieces: &[Piece]) -> Self {
        let bounds: Vec<&Bound> = pieces
            .iter()
            .filter_map(|piece| if let Piece::Bound(bound) = piece { Some(bound) } else { None })
            .collect();
        let mut outline = if bounds.is_empty() { Self::run(pieces) } else { Self::boxed(pieces, &bounds) };
        outline.models();
        outline
    }

    /// Corners and what stands between them.
    fn run(pieces: &[Piece]) -> Self {
        let mut outline = Self::default();
        let mut next = OutlineSide::default();
        let mut of_all = SideWords::default();
        for piece in pieces {
            match piece {
                Piece::Side(words) => {
                    if next.words.bearing_deg.is_some()
                        && words.bearing_deg.is_some()
                        && !outline.points.is_empty()
                    {
                        outline.findings.push(DraftFinding::SideWithoutPoint { line: words.line });
                    }
                    merge(&mut next.words, words);
                }
                Piece::Point(point) if point.role == Role::Centre => {
                    if let Some(spare) = next.centre.replace(point.clone()) {
                        outline.left_over(&spare);
                    }
                }
                Piece::Point(point) => {
                    let side = std::mem::take(&mut next);
                    if outline.points.is_empty() {
                        of_all = side.words.clone();
                        next.centre = side.centre;
                    } else {
                        outline.sides.push(side);
                    }
                    outline.points.push(point.clone());
                }
                Piece::Bound(_) | Piece::Statement(_) => {}
            }
        }
        outline.close(next, &of_all);
        outline
    }

    fn close(&mut self, last: OutlineSide, of_all: &SideWords) {
        let radius = last.words.radius.clone().or_else(|| of_all.radius.clone());
        match (self.points.as_slice(), &last.centre, radius) {
            ([], Some(centre), Some(radius)) => {
                self.points.push(centre.clone());
                self.circle = Some(radius);
                return;
            }
            ([_], None, Some(radius)) => {
                self.circle = Some(radius);
                return;
            }
            _ => {}
        }
        if let (Some(centre), false) = (&last.centre, last.words.arc) {
            self.left_over(&centre.clone());
        }
        self.sides.push(last);
        if self.points.len() > 3
            && let [first, .., again] = self.points.as_slice()
            && first.position == again.position
        {
            self.points.pop();
            self.repeats_first = true;
            // what leads to the repeated corner closes the ring
            let closing = self.sides.pop().unwrap_or_default();
            if let Some(side) = self.sides.last_mut() {
                merge(&mut side.words, &closing.words);
            }
        }
        let general = |side: &SideWords| !side.rhumb && !side.geodesic && !side.arc && side.shore.is_none();
        for side in &mut self.sides {
            if general(&side.words) {
                side.words.rhumb = of_all.rhumb && of_all.bearing_deg.is_none();
                side.words.geodesic = of_all.geodesic;
            }
        }
    }

    fn left_over(&mut self, point: &PrintedPoint) {
        self.findings.push(DraftFinding::PointsLeftOver { line: point.line, text: point.text.clone() });
    }

    /// The corners of a box, north-west first, counterclockwise.
    fn boxed(pieces: &[Piece], bounds: &[&Bound]) -> Self {
        let mut outline = Self::default();
        for piece in pieces {
            if let Piece::Point(point) = piece {
                outline.left_over(point);
            }
        }
        let fault =
            |outline: &mut Self, fault: String| outline.findings.push(DraftFinding::BoxIncomplete { fault });
        let mut of = |side: char| {
            let mut found = bounds.iter().filter(|bound| bound.side == side);
            let one = found.next();
            if one.is_none() || found.next().is_some() {
                fault(&mut outline, format!("the {side} side is missing or given twice"));
            }
            one.copied()
        };
        let sides = (of('N'), of('S'), of('E'), of('W'));
        let (Some(north), Some(south), Some(east), Some(west)) = sides else { return outline };
        let lat = |bound: &Bound| Latitude::parse(&bound.text).map(|read| read.latitude.degrees());
        let lon = |bound: &Bound| Longitude::parse(&bound.text).map(|read| read.longitude.degrees());
        if let (Ok(north), Ok(south), Ok(east), Ok(west)) = (lat(north), lat(south), lon(east), lon(west)) {
            let width = clockwise_deg(west, east);
            if north <= south || width <= 0.0 || width >= 180.0 {
                fault(
                    &mut outline,
                    "its north is not north of its south, or its east not east of its west".to_owned(),
                );
            }
        }
        for (latitude, longitude) in [(north, west), (south, west), (south, east), (north, east)] {
            let text = format!("{}, {}", latitude.text, longitude.text);
            match Position::parse(&text) {
                Ok(parsed) => outline.points.push(PrintedPoint {
                    line: latitude.line,
                    text,
                    label: None,
                    position: parsed.position,
                    precision: parsed.precision,
                    doubts: parsed.warnings.iter().map(ToString::to_string).collect(),
                    role: Role::Vertex,
                }),
                Err(error) => fault(&mut outline, error.to_string()),
            }
        }
        let words =
            SideWords { line: north.line, rhumb: true, bearing_step_deg: 1.0, ..SideWords::default() };
        outline.sides = vec![OutlineSide { words, ..OutlineSide::default() }; outline.points.len()];
        outline
    }

    /// How each side runs.
    fn models(&mut self) {
        let corners: Vec<Position> = self.points.iter().map(|point| point.position).collect();
        for (i, side) in self.sides.iter_mut().enumerate() {
            let (Some(from), Some(to)) = (corners.get(i), corners.get((i + 1) % corners.len().max(1))) else {
                continue;
            };
            if let Some(shore) = &side.words.shore {
                let _ = shore;
                self.questions.push(Question::Coast { line: side.words.line });
            } else if side.words.arc {
                match arc(side, (*from, *to)) {
                    Ok((arc, turn_is_stated)) => {
                        side.arc = Some(arc);
                        side.model = Some(EdgeModel::Arc(arc));
                        if !turn_is_stated {
                            self.questions.push(Question::ArcTurn { line: side.words.line });
                        }
                    }
                    Err(missing) => {
                        self.findings.push(DraftFinding::ArcIncomplete { line: side.words.line, missing });
                    }
                }
            } else if side.words.geodesic {
                side.model = Some(EdgeModel::Geodesic);
            } else if side.words.rhumb {
                side.model = Some(EdgeModel::RhumbLine);
            }
        }
    }

    /// The zone's only part.
    pub(super) fn part(&self, unsaid: EdgeModel) -> Option<PartSpec> {
        if let (Some(radius), Some(centre)) = (&self.circle, self.points.first()) {
            return Some(PartSpec::Circle {
                centre: centre.position,
                radius: Metres::new(radius.metres).ok()?,
            });
        }
        let vertices = self.points.iter().map(|point| point.position).collect();
        let edges = self.sides.iter().map(|side| side.model.unwrap_or(unsaid)).collect();
        Some(PartSpec::Polygon {
            exterior: RingSpec { vertices, edges, sides: Vec::new() },
            holes: Vec::new(),
        })
    }
}

fn arc(side: &OutlineSide, (from, to): (Position, Position)) -> Result<(Arc, bool), &'static str> {
    let centre = side.centre.as_ref().ok_or("centre")?.position;
    let radius = side.words.radius.as_ref().ok_or("radius")?;
    let radius = Metres::new(radius.metres).map_err(|_| "radius")?;
    let bearing = |place: Position| {
        EdgeLine::between(centre, place, EdgeModel::Geodesic).map(|line| line.initial_bearing().degrees())
    };
    let (Ok(start), Ok(end)) = (bearing(from), bearing(to)) else { return Err("centre") };
    let turn = clockwise_deg(start, end);
    let is_plain = (turn - 180.0).abs() > NEAR_HALF_TURN_DEG;
    let clockwise = side.words.clockwise.or_else(|| is_plain.then_some(turn < 180.0)).ok_or("turn")?;
    let sense = if clockwise { ArcSense::Clockwise } else { ArcSense::Counterclockwise };
    Ok((Arc { centre, radius, sense }, side.words.clockwise.is_some()))
}

/// How far one bearing, or longitude, lies clockwise, or east, of another: 0 to 360 degrees.
pub(super) fn clockwise_deg(from: f64, to: f64) -> f64 {
    let turn = (to - from) % 360.0;
    if turn < 0.0 { turn + 360.0 } else { turn }
}

/// Adds what more is said of a side.
fn merge(side: &mut SideWords, more: &SideWords) {
    let SideWords {
        line,
        rhumb,
        geodesic,
        parallel,
        bearing_deg,
        bearing_step_deg,
        distance,
        arc,
        circle,
        radius,
        clockwise,
        shore,
    } = more.clone();
    side.line = if side.line == 0 { line } else { side.line };
    side.rhumb |= rhumb;
    side.geodesic |= geodesic;
    side.arc |= arc;
    side.circle |= circle;
    side.parallel = side.parallel.or(parallel);
    if side.bearing_deg.is_none() {
        side.bearing_deg = bearing_deg;
        side.bearing_step_deg = bearing_step_deg;
    }
    side.distance = side.distance.take().or(distance);
    side.radius = side.radius.take().or(radius);
    side.clockwise = side.clockwise.or(clockwise);
    side.shore = side.shore.take().or(shore);
}
