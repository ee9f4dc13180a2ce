//! A coast: its lines, what they say of land, and how well they are known.

use std::fmt;
use std::sync::Arc;

use jiff::civil::Date;

use crate::boundary::{Strand, StrandKind, StrandOddity, Strands, TOUCH_M};
use crate::geodesic::{distance_m, surface};
use crate::{
    BoundaryFault, Latitude, Longitude, Metres, Position, PositionText, Tristate, UncertaintySource,
};

/// The straight distance within which the strand of a nearest point is looked for, in metres.
const ON_STRAND_M: f64 = 0.01;
/// Two ways round an island of which the longer is less than so much longer are about equally long.
const CLEARLY_LONGER: f64 = 1.1;

/// Where land is, by a survey: closed lines with land inside, lakes in them, and open lines.
///
/// A handle: a clone shares the lines and costs next to nothing. What a coast says is no law and moves no boundary.
///
/// # Examples
///
/// ```
/// use takeline::coast::{Coast, CoastLine};
/// use takeline::{Metres, Position, Tristate};
/// let place = |lat, lon| Position::from_degrees(lat, lon);
/// let isle = vec![place(45.10, -30.14)?, place(45.10, -30.10)?, place(45.13, -30.10)?, place(45.13, -30.14)?];
/// let coast = Coast::from_lines(vec![CoastLine::island(isle)], Metres::non_negative(10.0)?)?;
/// assert_eq!(coast.is_on_land(place(45.115, -30.12)?), Tristate::Yes);
/// assert_eq!(coast.is_on_land(place(45.115, -30.15)?), Tristate::No);
/// assert_eq!(coast.is_on_land(place(45.115, -30.14005)?), Tristate::Undecided); // 4 m off the beach, known to 10 m
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Coast {
    /// A title for people.
    pub title: Option<String>,
    /// The day of the survey.
    pub date: Option<Date>,
    /// Who surveyed it, or where it is from.
    pub source: Option<String>,
    /// The licence of the data.
    pub licence: Option<String>,
    /// The path or label that the caller gave; empty if it is from no file.
    pub path: String,
    /// SHA-256 of the bytes of the file, in lower-case hexadecimal; empty if it is from no file.
    pub sha256: String,
    /// How far off its lines may lie, 95 %, datum included.
    pub uncertainty: Metres,
    /// Whether somebody said so, or it is [`Coast::ASSUMED_UNCERTAINTY_95_M`].
    pub uncertainty_source: UncertaintySource,
    pub(super) drawn: Arc<Drawn>,
}

#[derive(Debug)]
pub(super) struct Drawn {
    lines: Vec<CoastLine>,
    strands: Strands,
    oddities: Vec<CoastOddity>,
    has_open_lines: bool,
}

/// A place as a coast has it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct SeenFromCoast {
    /// Metres from the line.
    pub(crate) away_m: f64,
    pub(crate) is_on_land: Tristate,
    uncertainty_m: f64,
}

impl SeenFromCoast {
    /// How far inland a place is, in metres, that is so by more than it may itself be off and the coast as well; none of any other.
    ///
    /// Both are counted in full: fixes may all be off to one side, as by a wrong datum, and so may a coast.
    pub(crate) fn surely_inland_m(self, doubt_m: f64) -> Option<f64> {
        let is_sure = self.is_on_land == Tristate::Yes && self.away_m > self.uncertainty_m + doubt_m;
        is_sure.then_some(self.away_m)
    }

    /// How far off a place in the water is; 0 of any other.
    pub(crate) fn in_water_m(self) -> f64 {
        if self.is_on_land == Tristate::No { self.away_m } else { 0.0 }
    }
}

/// One line of a coast, its vertices joined by geodesics.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct CoastLine {
    /// Its vertices; of a closed line the first is not said again at the end, and land lies on the left once it is in a [`Coast`].
    pub positions: Vec<Position>,
    /// What it says of land.
    pub kind: LineKind,
}

/// What a line says of land.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum LineKind {
    /// Open: land lies on one side of it, and nobody says on which.
    Open,
    /// Closed, with land inside.
    Island,
    /// Closed, with water inside: a lake or lagoon of the island listed last before it.
    Lake,
}

/// What is odd about a line of a coast.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct CoastOddity {
    /// Which line it is, counted from 0.
    pub line: usize,
    /// What is odd and what follows from it.
    pub text: String,
}

/// Lines of which no coast can be made.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum InvalidCoast {
    /// There are no lines.
    #[error("a coast needs at least one line")]
    Empty,
    /// A line of the wrong form.
    #[error("line {}: {fault}", .line + 1)]
    Line {
        /// Which line, counted from 0.
        line: usize,
        /// Which of its vertices, counted from 0, if it is one.
        vertex: Option<usize>,
        /// What is wrong.
        fault: BoundaryFault,
    },
}

/// Why there is no stretch of coast between two places.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum NoStretch {
    /// A place is too far from the coast.
    #[error("{place} lies {away:.0} m from the coast, farther than {within}", away = .away.metres())]
    TooFar {
        /// The place.
        place: PositionText,
        /// How far it is off.
        away: Metres,
        /// How far it may be.
        within: Metres,
    },
    /// The places are nearest to different lines.
    #[error("the two places lie on different lines of the coast; give places on one and the same")]
    DifferentLines,
    /// Both ways round an island are about equally long.
    #[error(
        "the coast is {one} long one way round and {other} the other, so which is meant is not plain; \
         give a place between, and ask twice"
    )]
    EquallyLong {
        /// The one way round.
        one: Metres,
        /// The other way round.
        other: Metres,
    },
}

impl CoastLine {
    /// An open line.
    #[must_use]
    pub fn open(positions: Vec<Position>) -> Self {
        Self { positions, kind: LineKind::Open }
    }

    /// A closed line with land inside. The first position may or may not be repeated at the end; either winding.
    #[must_use]
    pub fn island(positions: Vec<Position>) -> Self {
        Self { positions, kind: LineKind::Island }
    }

    /// A closed line with water inside, in the island listed last before it.
    #[must_use]
    pub fn lake(positions: Vec<Position>) -> Self {
        Self { positions, kind: LineKind::Lake }
    }

    fn into_strand(mut self, uncertainty_m: f64) -> Strand {
        let kind = match self.kind {
            LineKind::Open => StrandKind::Open,
            LineKind::Island => StrandKind::Island,
            LineKind::Lake => StrandKind::Lake,
        };
        if kind != StrandKind::Open
            && self.positions.len() > 1
            && self.positions.first() == self.positions.last()
        {
            self.positions.pop();
        }
        Strand { positions: self.positions, kind, uncertainty_m }
    }
}

impl From<Strand> for CoastLine {
    fn from(strand: Strand) -> Self {
        let kind = match strand.kind {
            StrandKind::Open | StrandKind::LandOnLeft => LineKind::Open,
            StrandKind::Island => LineKind::Island,
            StrandKind::Lake => LineKind::Lake,
        };
        Self { positions: strand.positions, kind }
    }
}

impl Coast {
    /// What is taken for the uncertainty of a coast that says nothing of it, 95 %, in metres: half a millimetre on a map of 1 : 100 000
    /// (common practice, no source).
    pub const ASSUMED_UNCERTAINTY_95_M: f64 = 50.0;

    /// Makes a coast from lines, and says how far off they may lie, 95 %.
    ///
    /// A line that meets itself, a lake outside its island and the like are kept, and told by [`Coast::oddities`]: nothing
    /// is said of land near them.
    ///
    /// # Errors
    ///
    /// [`InvalidCoast`] if there are no lines, or one has fewer than two vertices, or an edge that spans half the Earth.
    pub fn from_lines(lines: Vec<CoastLine>, uncertainty: Metres) -> Result<Self, InvalidCoast> {
        if lines.is_empty() {
            return Err(InvalidCoast::Empty);
        }
        let uncertainty = Metres::computed(uncertainty.metres().abs());
        let mut strands: Vec<Strand> =
            lines.into_iter().map(|line| line.into_strand(uncertainty.metres())).collect();
        let (indexed, oddities) = Strands::build(&mut strands)
            .map_err(|(line, vertex, fault)| InvalidCoast::Line { line, vertex, fault })?;
        let lines: Vec<CoastLine> = strands.into_iter().map(CoastLine::from).collect();
        let has_open_lines = lines.iter().any(|line| line.kind == LineKind::Open);
        let oddities = oddities.into_iter().map(|(line, oddity)| CoastOddity::new(line, oddity)).collect();
        let drawn = Drawn { lines, strands: indexed, oddities, has_open_lines };
        Ok(Self {
            title: None,
            date: None,
            source: None,
            licence: None,
            path: String::new(),
            sha256: String::new(),
            uncertainty,
            uncertainty_source: UncertaintySource::Given,
            drawn: Arc::new(drawn),
        })
    }

    /// Whether a position is on the land that this coast draws.
    ///
    /// Undecided within the uncertainty of a line, near lines that contradict themselves, and where the nearest line is an open one,
    /// of which nobody knows the land's side. *No* says that none of this land is there; of land that this coast does not draw it knows
    /// nothing.
    #[must_use]
    pub fn is_on_land(&self, position: Position) -> Tristate {
        self.see(position).is_on_land
    }

    /// How far off the line a position is, and whether on land.
    pub(crate) fn see(&self, position: Position) -> SeenFromCoast {
        let here = surface(position);
        let seen = |away: Metres, is_on_land| SeenFromCoast {
            away_m: away.metres(),
            is_on_land,
            uncertainty_m: self.uncertainty.metres(),
        };
        let strands = &self.drawn.strands;
        let Some((away, nearest)) = strands.nearest(position, &here) else {
            return seen(Metres::ZERO, Tristate::Undecided);
        };
        if away <= self.uncertainty {
            return seen(away, Tristate::Undecided);
        }
        let is_on_land = match strands.times_on_land(here.point) {
            None => Tristate::Undecided,
            Some(times) if times > 0 => Tristate::Yes,
            Some(_) if self.drawn.has_open_lines && self.is_on_open_line(nearest) => Tristate::Undecided,
            Some(_) => Tristate::No,
        };
        seen(away, is_on_land)
    }

    /// Whether the line at a place on the coast is an open one, or may be.
    fn is_on_open_line(&self, place: Position) -> bool {
        let near = self.drawn.strands.nearest_strand(surface(place).point, ON_STRAND_M);
        near.is_none_or(|near| self.drawn.lines[near.strand].kind == LineKind::Open)
    }

    /// The nearest point of the coast and how far it is, on the ellipsoid: within 1 mm up to 100 km and 1 cm at any distance.
    ///
    /// There always is one: a coast without lines cannot be made.
    #[must_use]
    pub fn nearest(&self, position: Position) -> Option<(Metres, Position)> {
        self.drawn.strands.nearest(position, &surface(position))
    }

    /// What to call it: its title, or the path of its file.
    #[must_use]
    pub fn name(&self) -> &str {
        self.title.as_deref().unwrap_or(&self.path)
    }

    /// Its south-western and north-eastern corners: the smallest span of latitudes and of longitudes that holds every vertex.
    ///
    /// Where it crosses 180° the west is the greater number. Edges may bulge over it, and about a pole it has every longitude but the
    /// widest gap.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::coast::{Coast, CoastLine};
    /// use takeline::{Metres, Position};
    /// let place = |lat, lon| Position::from_degrees(lat, lon);
    /// let spit = CoastLine::open(vec![place(-17.0, 179.5)?, place(-16.5, -179.75)?]);
    /// let (south_west, north_east) = Coast::from_lines(vec![spit], Metres::non_negative(10.0)?)?.corners();
    /// assert_eq!((south_west, north_east), (place(-17.0, 179.5)?, place(-16.5, -179.75)?));
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn corners(&self) -> (Position, Position) {
        let places = || self.drawn.lines.iter().flat_map(|line| &line.positions);
        let latitudes_deg = || places().map(|place| place.latitude().degrees());
        let (south_deg, north_deg) =
            (latitudes_deg().fold(90.0, f64::min), latitudes_deg().fold(-90.0, f64::max));
        let mut longitudes_deg: Vec<f64> = places().map(|place| place.longitude().degrees()).collect();
        longitudes_deg.sort_by(f64::total_cmp);
        let (first, last) = (longitudes_deg.first().copied(), longitudes_deg.last().copied());
        let (mut west_deg, mut east_deg) = (first.unwrap_or(-180.0), last.unwrap_or(180.0));
        let mut widest_deg = 360.0 - (east_deg - west_deg);
        for gap in longitudes_deg.windows(2) {
            if gap[1] - gap[0] > widest_deg {
                (widest_deg, east_deg, west_deg) = (gap[1] - gap[0], gap[0], gap[1]);
            }
        }
        let corner =
            |lat_deg, lon_deg| Position::new(Latitude::computed(lat_deg), Longitude::wrapping(lon_deg));
        (corner(south_deg, west_deg), corner(north_deg, east_deg))
    }

    /// Its lines, for pictures, in the order given; closed ones have land on their left.
    #[must_use]
    pub fn lines(&self) -> &[CoastLine] {
        &self.drawn.lines
    }

    /// What is odd about its lines.
    #[must_use]
    pub fn oddities(&self) -> &[CoastOddity] {
        &self.drawn.oddities
    }

    pub(super) fn strands(&self) -> &Strands {
        &self.drawn.strands
    }

    /// The coast from the place on it nearest to `one` to that nearest to `other`: these two places and all vertices between.
    ///
    /// Round an island it goes the shorter way.
    ///
    /// # Errors
    ///
    /// [`NoStretch`] if a place lies farther than `within` from the coast, if the two are nearest to different lines, or if both ways
    /// round are about equally long (the longer less than a tenth longer).
    pub fn between(
        &self,
        one: Position,
        other: Position,
        within: Metres,
    ) -> Result<Vec<Position>, NoStretch> {
        let strands = &self.drawn.strands;
        let found = |place: Position| {
            let (away, nearest) = self.nearest(place).unwrap_or((Metres::computed(f64::MAX), place));
            let near = strands.nearest_strand(surface(nearest).point, ON_STRAND_M);
            near.filter(|_| away <= within).ok_or(NoStretch::TooFar {
                place: PositionText(place),
                away,
                within,
            })
        };
        let (from, to) = (found(one)?, found(other)?);
        if from.strand != to.strand {
            return Err(NoStretch::DifferentLines);
        }
        let line = &self.drawn.lines[from.strand];
        let (forward_m, back_m) = strands.lengths_between_m(&from, &to);
        let is_forward = if line.kind == LineKind::Open {
            from.is_before(&to)
        } else {
            let (shorter_m, longer_m) = (forward_m.min(back_m), forward_m.max(back_m));
            if longer_m < CLEARLY_LONGER * shorter_m {
                return Err(NoStretch::EquallyLong {
                    one: Metres::computed(forward_m),
                    other: Metres::computed(back_m),
                });
            }
            forward_m < back_m
        };
        let (first, last) = if is_forward { (&from, &to) } else { (&to, &from) };
        let mut stretch = vec![strands.foot_of(first)];
        let count = line.positions.len();
        // from the edge of the one to that of the other, past the end of a closed line if the first is the later one
        let is_round = first.edge > last.edge || (first.edge == last.edge && !first.is_before(last));
        let edges = if is_round { last.edge + count - first.edge } else { last.edge - first.edge };
        stretch.extend((1..=edges).map(|on| line.positions[(first.edge + on) % count]));
        stretch.push(strands.foot_of(last));
        stretch.dedup_by(|next, before| distance_m(*next, *before) <= TOUCH_M);
        if !is_forward {
            stretch.reverse();
        }
        Ok(stretch)
    }
}

impl CoastOddity {
    fn new(line: usize, oddity: StrandOddity) -> Self {
        Self { line, text: OddityText(oddity).to_string() }
    }
}

struct OddityText(StrandOddity);

impl fmt::Display for OddityText {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.0 {
            StrandOddity::MeetsItself(near) => {
                let near = PositionText(near);
                write!(f, "meets itself near {near}, so land and sea are undecided about there; as a line it counts")
            }
            StrandOddity::LakeAstray => f.write_str(
                "a hole crosses its outer ring or lies outside it, so land and sea are undecided about it; as a line it counts",
            ),
            StrandOddity::WithinLand => f.write_str(
                "a closed line lies within other land and may be the shore of a lake, so land and sea are undecided about it",
            ),
            StrandOddity::NoArea => {
                f.write_str("encloses nothing, so it counts as a line with land on no known side")
            }
            StrandOddity::TooWide => {
                f.write_str("encloses nearly half of the Earth, so land and sea are undecided about it")
            }
        }
    }
}
