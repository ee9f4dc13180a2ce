//! From the pieces of a text to the outline of a zone.

use takeline::{
    Arc, ArcSense, EdgeLine, EdgeModel, Latitude, Longitude, Metres, PartSpec, Position, RingSpec,
};

use super::finding::{DraftFinding, Question, SideFault};
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
    /// The line that says how wide the circle is.
    pub(super) circle_line: usize,
    /// A radius that is said before the first corner, with its line (0: none) and its centre.
    pub(super) round: Option<Quantity>,
    pub(super) round_line: usize,
    pub(super) round_centre: Option<PrintedPoint>,
    /// The ring came back to its first corner.
    pub(super) closed: bool,
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
        let first_line = pieces.iter().find_map(Piece::point).map_or(0, |point| point.line);
        for piece in pieces {
            match piece {
                Piece::Side(words) if words.of_all => {
                    of_all.rhumb |= words.rhumb;
                    of_all.geodesic |= words.geodesic;
                    of_all.line = words.line;
                }
                Piece::Side(words) => {
                    // a heading above the list speaks of all sides
                    if outline.points.is_empty() && words.line < first_line {
                        of_all.rhumb |= words.rhumb;
                        of_all.geodesic |= words.geodesic;
                    }
                    outline.add(&mut next.words, words);
                }
                Piece::Point(point) if point.role == Role::Centre => {
                    if let Some(spare) = next.centre.replace(point.clone()) {
                        outline.left_over(&spare);
                    }
                }
                Piece::Point(point) => outline.corner(point, &mut next),
                Piece::Bound(_) | Piece::Statement(_) => {}
            }
        }
        outline.close(next, &of_all);
        outline
    }

    fn unclear(&mut self, line: usize, fault: SideFault) {
        let finding = DraftFinding::SideUnclear { line, fault };
        if !self.findings.contains(&finding) {
            self.findings.push(finding);
        }
    }

    /// Adds what more is said of a side.
    fn add(&mut self, side: &mut SideWords, words: &SideWords) {
        // a second leg begins before the first came to a point
        if side.legs + words.legs > 1 || (side.bearing_deg.is_some() && words.bearing_deg.is_some()) {
            self.findings.push(DraftFinding::SideWithoutPoint { line: words.line });
        } else if merge(side, words) || words.twice {
            self.unclear(words.line, SideFault::Twice);
        }
    }

    /// Takes in a corner, and what was said of the side that leads to it.
    fn corner(&mut self, point: &PrintedPoint, next: &mut OutlineSide) {
        let side = std::mem::take(next);
        let mut point = point.clone();
        if let Some(first) = self.points.first().cloned() {
            if self.closed {
                self.findings.push(DraftFinding::SeveralZones { line: point.line });
                self.closed = false;
            }
            match side.words.returns.as_deref() {
                Some("") if first.position != point.position => {
                    let (line, text) = (point.line, point.text.clone());
                    self.findings.push(DraftFinding::ClosingDiffers {
                        line,
                        text,
                        first: first.text.clone(),
                    });
                }
                Some(name) if !name.is_empty() => {
                    let label = point.label.get_or_insert_with(|| name.to_owned());
                    if label != name {
                        self.findings.push(DraftFinding::SideWithoutPoint { line: side.words.line });
                    }
                }
                _ => {}
            }
            self.closed = first.position == point.position && self.points.len() > 2;
            self.sides.push(side);
        } else {
            self.before_first(&side);
            // what stands before the first corner on its own line may be of the side that leaves it
            let mut words = SideWords { line: side.words.line, ..SideWords::default() };
            (words.rhumb, words.geodesic) = (side.words.rhumb, side.words.geodesic);
            next.words = words;
        }
        self.points.push(point);
    }

    /// What is said of a side before there is a corner that it could leave.
    fn before_first(&mut self, side: &OutlineSide) {
        let words = &side.words;
        let line = words.line;
        if words.radius.is_some() || words.circle || side.centre.is_some() {
            self.round = self.round.take().or_else(|| words.radius.clone());
            self.round_line = line.max(1);
            self.round_centre.clone_from(&side.centre);
        }
        let is_said = words.distance.is_some()
            || words.bearing_deg.is_some()
            || words.towards_deg.is_some()
            || words.parallel.is_some()
            || words.shore.is_some()
            || words.arc
            || words.clockwise.is_some();
        if is_said {
            self.unclear(line, SideFault::BeforeFirst);
        }
    }

    fn close(&mut self, last: OutlineSide, of_all: &SideWords) {
        let mut last = last;
        let radius = last.words.radius.clone().or_else(|| self.round.clone());
        let is_arc = last.words.arc;
        let centre = last.centre.clone().or_else(|| self.round_centre.take());
        match (self.points.as_slice(), &centre, radius) {
            ([], Some(centre), Some(radius)) if !is_arc => {
                self.points.push(centre.clone());
                self.round(radius, &last.words);
                return;
            }
            ([_], None, Some(radius)) if !is_arc => {
                self.round(radius, &last.words);
                return;
            }
            _ => {}
        }
        if self.round_line > 0 && !self.points.is_empty() {
            self.unclear(self.round_line, SideFault::RoundWithCorners);
        }
        if last.centre.is_none()
            && let Some(centre) = centre
        {
            self.left_over(&centre);
        }
        self.returns(&mut last);
        self.sides.push(last);
        if self.points.len() > 3
            && let [first, .., again] = self.points.as_slice()
            && first.position == again.position
        {
            self.points.pop();
            self.repeats_first = true;
            // what leads to the repeated corner closes the ring
            let closing = self.sides.pop().unwrap_or_default();
            if let Some(mut side) = self.sides.pop() {
                self.add(&mut side.words, &closing.words);
                side.centre = side.centre.or(closing.centre);
                self.sides.push(side);
            }
        }
        self.hold(of_all);
    }

    /// A circle: nothing else may be said of it.
    fn round(&mut self, radius: Quantity, words: &SideWords) {
        if words.distance.is_some()
            || words.bearing_deg.is_some()
            || words.towards_deg.is_some()
            || words.shore.is_some()
            || words.clockwise.is_some()
        {
            self.unclear(words.line, SideFault::BesideRound);
        }
        self.circle_line = if self.round_line > 0 { self.round_line } else { words.line };
        self.circle = Some(radius);
    }

    /// The last side goes back to the first corner, or the one it names is wanting.
    fn returns(&mut self, last: &mut OutlineSide) {
        let Some(name) = last.words.returns.as_deref().filter(|name| !name.is_empty()) else { return };
        let first = self.points.first().map(|point| point.label.as_deref());
        let is_first = match first {
            Some(Some(label)) => label == name,
            Some(None) => matches!(name, "1" | "A"),
            None => true,
        };
        if !is_first {
            self.findings.push(DraftFinding::SideWithoutPoint { line: last.words.line });
        }
    }

    /// Holds what is said of each side to itself and to what is said of all.
    fn hold(&mut self, of_all: &SideWords) {
        let mut faults = Vec::new();
        let mut spare = Vec::new();
        if of_all.rhumb && of_all.geodesic {
            faults.push((of_all.line.max(1), SideFault::BothKinds));
        }
        for side in &mut self.sides {
            let words = &mut side.words;
            let own_kind = words.rhumb || words.geodesic;
            let own_geodesic = words.geodesic;
            let is_general = !words.rhumb && !words.geodesic && !words.arc && words.shore.is_none();
            if is_general {
                (words.rhumb, words.geodesic) = (of_all.rhumb, of_all.geodesic);
            }
            if words.rhumb && (words.geodesic || (of_all.geodesic && !of_all.rhumb)) {
                faults.push((words.line.max(1), SideFault::BothKinds));
            }
            if !words.arc && (words.radius.is_some() || words.circle) {
                faults.push((words.line, SideFault::RoundWithCorners));
            }
            if !words.arc && words.clockwise.is_some() {
                faults.push((words.line, SideFault::TurnWithoutArc));
            }
            if words.arc && words.distance.is_some() {
                faults.push((words.line, SideFault::BesideRound));
            }
            // a shore or an arc is no line of one bearing
            let has_course = words.parallel.is_some() || words.bearing_deg.is_some();
            // a list may end each row with “a rhumb line to”, and put an arc between two
            let is_straight = has_course || (own_kind && !words.arc) || (own_geodesic && words.arc);
            if (words.arc && (words.shore.is_some() || is_straight)) || (words.shore.is_some() && is_straight)
            {
                faults.push((words.line, SideFault::Twice));
            }
            if !words.arc {
                spare.extend(side.centre.clone());
            }
        }
        for (line, fault) in faults {
            self.unclear(line, fault);
        }
        for centre in spare {
            self.left_over(&centre);
        }
    }

    fn left_over(&mut self, point: &PrintedPoint) {
        self.findings.push(DraftFinding::PointsLeftOver { line: point.line, text: point.text.clone() });
    }

    /// What a box has no place for: its sides are parallels and meridians.
    fn beside_box(&mut self, pieces: &[Piece]) {
        for piece in pieces {
            match piece {
                Piece::Point(point) => self.left_over(point),
                Piece::Side(words) => {
                    let more =
                        SideWords { rhumb: false, parallel: None, legs: 0, of_all: false, ..words.clone() };
                    if !more.is_empty() {
                        self.unclear(words.line, SideFault::Twice);
                    }
                }
                Piece::Bound(_) | Piece::Statement(_) => {}
            }
        }
    }

    /// The corners of a box, north-west first, counterclockwise.
    fn boxed(pieces: &[Piece], bounds: &[&Bound]) -> Self {
        let mut outline = Self::default();
        outline.beside_box(pieces);
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
    let line = |place: Position| EdgeLine::between(centre, place, EdgeModel::Geodesic);
    let (Ok(to_start), Ok(to_end)) = (line(from), line(to)) else { return Err("centre") };
    // the ends of the arc say which of several readings is meant
    let radius = Metres::new(radius.nearest_m(to_start.length().metres())).map_err(|_| "radius")?;
    let (start, end) = (to_start.initial_bearing().degrees(), to_end.initial_bearing().degrees());
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

/// Adds what more is said of a side; true if something is said twice.
fn merge(side: &mut SideWords, more: &SideWords) -> bool {
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
        towards_deg,
        of_all: _,
        legs,
        returns,
        apart: _,
        twice,
    } = more.clone();
    let both = |one: bool, other: bool| one && other;
    let is_twice = both(side.distance.is_some(), distance.is_some())
        || both(side.radius.is_some(), radius.is_some())
        || both(side.arc, arc)
        || both(side.circle, circle)
        || both(side.shore.is_some(), shore.is_some())
        || both(side.towards_deg.is_some(), towards_deg.is_some())
        || both(side.clockwise.is_some(), clockwise.is_some())
        || both(side.returns.is_some(), returns.is_some());
    side.line = if side.line == 0 { line } else { side.line };
    side.rhumb |= rhumb;
    side.geodesic |= geodesic;
    side.arc |= arc;
    side.circle |= circle;
    side.legs += legs;
    side.twice |= twice || is_twice;
    side.parallel = side.parallel.or(parallel);
    if side.bearing_deg.is_none() {
        side.bearing_deg = bearing_deg;
        side.bearing_step_deg = bearing_step_deg;
    }
    side.distance = side.distance.take().or(distance);
    side.radius = side.radius.take().or(radius);
    side.clockwise = side.clockwise.or(clockwise);
    side.shore = side.shore.take().or(shore);
    side.towards_deg = side.towards_deg.or(towards_deg);
    side.returns = side.returns.take().or(returns);
    is_twice
}
