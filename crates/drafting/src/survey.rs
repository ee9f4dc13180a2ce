//! Zones measured side by side, the way a law describes them: vertices, lengths, bearings, areas.

use std::collections::{HashMap, HashSet};

use takeline::zone::Extent;
use takeline::{
    Boundary, BoundaryFault, EdgeLine, EdgeModel, InvalidBoundary, Metres, PartSpec, Position, RingSpec,
    Side, SideKind, TrueBearing,
};

/// The measures of one zone.
///
/// # Examples
///
/// ```
/// use takeline_drafting::survey::ZoneSurvey;
///
/// let bytes = std::fs::read("../../demo-data/zones/marrowick.json")?;
/// let loaded = takeline::zone_file::read("marrowick.json", &bytes)?;
/// let survey = ZoneSurvey::of(&loaded.zones[0])?.expect("its line is known");
/// assert!(survey.area_m2 > 1.0e6);
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
pub struct ZoneSurvey {
    /// Its parts, in the order of the file.
    pub parts: Vec<PartSurvey>,
    /// The area of the whole zone, what parts share counted once, in m²; the geodesic reading of unstated edges.
    pub area_m2: f64,
    /// The length of its outline, holes and circles too; what parts share is left out, and so is a cut along 180°.
    pub perimeter: Metres,
    /// The box that holds it.
    pub extent: GeoBox,
}

/// The measures of one part.
#[derive(Debug, Clone)]
pub enum PartSurvey {
    /// A ring, and the holes in it.
    Polygon {
        /// The outer ring.
        exterior: RingSurvey,
        /// Its holes.
        holes: Vec<RingSurvey>,
    },
    /// A whole circle.
    Circle {
        /// Its centre.
        centre: Position,
        /// Its radius.
        radius: Metres,
        /// What it encloses, in m².
        area_m2: f64,
    },
}

/// The measures of one ring.
#[derive(Debug, Clone)]
pub struct RingSurvey {
    /// Its sides, in the order of the file; the last one closes the ring.
    pub sides: Vec<SideSurvey>,
    /// What it encloses by itself, in m².
    pub area_m2: f64,
    /// Its length.
    pub perimeter: Metres,
}

/// The measures of one side.
#[derive(Debug, Clone)]
pub struct SideSurvey {
    /// The vertex it leaves.
    pub from: Position,
    /// The vertex it leads to.
    pub to: Position,
    /// How it runs.
    pub model: EdgeModel,
    /// What it is.
    pub side: Side,
    /// Its length; of an unstated one, that of the geodesic.
    pub length: Metres,
    /// The true bearing in which it leaves its first vertex.
    pub leaves_on: TrueBearing,
    /// The true bearing in which it arrives at its last vertex.
    pub arrives_on: TrueBearing,
    /// How far its readings are apart at most; zero where the file says how it runs.
    pub readings_apart: Metres,
}

/// A box in latitude and longitude; across 180° the west is the greater number.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GeoBox {
    /// Its south, in degrees.
    pub south_deg: f64,
    /// Its west, in degrees from -180 to 180.
    pub west_deg: f64,
    /// Its north, in degrees.
    pub north_deg: f64,
    /// Its east, in degrees from -180 to 180.
    pub east_deg: f64,
}

impl ZoneSurvey {
    /// Measures a zone; none where its line is not known.
    ///
    /// # Errors
    ///
    /// [`InvalidBoundary`] where a single ring of it is no boundary; a zone that was read from a file has none.
    pub fn of(zone: &takeline::zone::Zone) -> Result<Option<Self>, InvalidBoundary> {
        match &zone.extent {
            Extent::Known(boundary) => Self::of_boundary(boundary).map(Some),
            Extent::Unknown { .. } => Ok(None),
        }
    }

    /// Measures a boundary.
    ///
    /// # Errors
    ///
    /// As [`ZoneSurvey::of`].
    pub fn of_boundary(boundary: &Boundary) -> Result<Self, InvalidBoundary> {
        let parts = boundary.parts().iter().map(PartSurvey::of).collect::<Result<_, _>>()?;
        let outlines = boundary.outlines();
        let closed = outlines.iter().flat_map(|ring| ring.iter().chain(ring.first()));
        let extent = GeoBox::about(closed).with_poles(boundary);
        Ok(Self { parts, area_m2: boundary.area_m2(), perimeter: boundary.outline_length(), extent })
    }

    /// How many corners its outline has.
    ///
    /// Sides that parts share are no part of it; where that is a cut along 180°, nor are the ends of the cut, if the sides run
    /// straight on there.
    #[must_use]
    pub fn corners(&self) -> usize {
        let sides: Vec<&SideSurvey> = self.rings().flat_map(|ring| &ring.sides).collect();
        if self.parts.len() < 2 {
            return sides.len();
        }
        let ways: HashSet<[PlaceKey; 2]> = sides.iter().map(|side| [key(side.from), key(side.to)]).collect();
        let is_shared = |side: &SideSurvey| ways.contains(&[key(side.to), key(side.from)]);
        let (shared, outer): (Vec<&SideSurvey>, Vec<&SideSurvey>) =
            sides.into_iter().partition(|side| is_shared(side));
        let cut: HashSet<PlaceKey> = shared
            .iter()
            .map(|side| side.from)
            .filter(|place| place.longitude().degrees().abs() >= 180.0)
            .map(key)
            .collect();
        let arrives: HashMap<PlaceKey, f64> =
            outer.iter().map(|side| (key(side.to), side.arrives_on.degrees())).collect();
        let runs_on = |side: &SideSurvey| {
            arrives.get(&key(side.from)).is_some_and(|arrives_deg| {
                let turn_deg = side.leaves_on.degrees() - arrives_deg;
                within_half_a_turn(turn_deg).abs() < STRAIGHT_ON_DEG
            })
        };
        outer.iter().filter(|side| !(cut.contains(&key(side.from)) && runs_on(side))).count()
    }

    /// How many of its sides follow a shore that nobody has supplied: only their chords are measured.
    #[must_use]
    pub fn chords(&self) -> usize {
        let sides = self.rings().flat_map(|ring| &ring.sides);
        sides.filter(|side| side.side.kind == SideKind::Unresolved).count()
    }

    /// All its rings, outer ones before their holes, in the order of the file.
    pub fn rings(&self) -> impl Iterator<Item = &RingSurvey> {
        self.parts.iter().flat_map(|part| match part {
            PartSurvey::Polygon { exterior, holes } => {
                std::iter::once(exterior).chain(holes).collect::<Vec<_>>()
            }
            PartSurvey::Circle { .. } => Vec::new(),
        })
    }
}

impl PartSurvey {
    fn of(part: &PartSpec) -> Result<Self, InvalidBoundary> {
        match part {
            PartSpec::Polygon { exterior, holes } => Ok(Self::Polygon {
                exterior: RingSurvey::of(exterior)?,
                holes: holes.iter().map(RingSurvey::of).collect::<Result<_, _>>()?,
            }),
            PartSpec::Circle { centre, radius } => Ok(Self::Circle {
                centre: *centre,
                radius: *radius,
                area_m2: Boundary::build(std::slice::from_ref(part))?.area_m2(),
            }),
        }
    }
}

impl RingSurvey {
    /// Measures one ring.
    ///
    /// # Errors
    ///
    /// [`InvalidBoundary`] where it crosses itself or encloses nothing.
    pub fn of(ring: &RingSpec) -> Result<Self, InvalidBoundary> {
        let alone = PartSpec::Polygon { exterior: ring.clone(), holes: Vec::new() };
        let boundary = Boundary::build(&[alone])?;
        Ok(Self {
            sides: sides_of(ring).collect(),
            area_m2: boundary.area_m2(),
            perimeter: boundary.perimeter(),
        })
    }
}

/// The sides of a ring, sound or not: those that can be drawn at all, in the order of the file.
pub fn sides_of(ring: &RingSpec) -> impl Iterator<Item = SideSurvey> {
    let repeats = ring.vertices.len() > 1 && ring.vertices.first() == ring.vertices.last();
    let count = ring.vertices.len() - usize::from(repeats);
    let vertices = &ring.vertices[..count];
    (0..count).filter_map(move |at| {
        let (from, to) = (vertices[at], vertices[(at + 1) % count]);
        let model = ring.edges.get(at).copied().unwrap_or(EdgeModel::Unstated);
        let side = ring.sides.get(at).cloned().unwrap_or_default();
        SideSurvey::between((from, to), model, side).ok()
    })
}

/// How far the readings of sides that nobody states are apart at most, in metres; zero where all sides are stated.
pub(crate) fn readings_apart_m(parts: &[PartSpec]) -> f64 {
    let rings = parts.iter().flat_map(|part| match part {
        PartSpec::Polygon { exterior, holes } => std::iter::once(exterior).chain(holes).collect::<Vec<_>>(),
        PartSpec::Circle { .. } => Vec::new(),
    });
    let unstated = rings.flat_map(sides_of).filter(|side| matches!(side.model, EdgeModel::Unstated));
    unstated.map(|side| side.readings_apart.metres()).fold(0.0, f64::max)
}

impl SideSurvey {
    /// Measures one side.
    ///
    /// # Errors
    ///
    /// [`BoundaryFault`] where no boundary could have such a side.
    pub fn between(
        (from, to): (Position, Position),
        model: EdgeModel,
        side: Side,
    ) -> Result<Self, BoundaryFault> {
        let line = EdgeLine::between(from, to, model)?;
        Ok(Self {
            from,
            to,
            model,
            side,
            length: line.length(),
            leaves_on: line.initial_bearing(),
            arrives_on: line.final_bearing(),
            readings_apart: line.readings_apart(),
        })
    }
}

impl GeoBox {
    /// The smallest box about positions that follow each other, none half way round the Earth from the one before.
    ///
    /// Of no positions, the whole Earth.
    #[must_use]
    pub fn about<'p>(positions: impl IntoIterator<Item = &'p Position>) -> Self {
        let mut lats = (f64::INFINITY, f64::NEG_INFINITY);
        let mut lons = (f64::INFINITY, f64::NEG_INFINITY);
        let mut before: Option<f64> = None;
        let mut turns = 0.0;
        for position in positions {
            let (lat, lon) = (position.latitude().degrees(), position.longitude().degrees());
            // counted on across 180°, so that a box does not run round the Earth
            let step = before.map_or(0.0, |before| lon - before);
            turns -= (step / 360.0).round();
            before = Some(lon);
            let lon = lon + 360.0 * turns;
            lats = (lats.0.min(lat), lats.1.max(lat));
            lons = (lons.0.min(lon), lons.1.max(lon));
        }
        if before.is_none() || lons.1 - lons.0 >= 360.0 {
            let (south_deg, north_deg) = if before.is_none() { (-90.0, 90.0) } else { lats };
            return Self { south_deg, west_deg: -180.0, north_deg, east_deg: 180.0 };
        }
        let (west_deg, east_deg) = (within_half_a_turn(lons.0), within_half_a_turn(lons.1));
        Self { south_deg: lats.0, west_deg, north_deg: lats.1, east_deg }
    }

    /// As wide and high as a zone about a pole is.
    fn with_poles(self, boundary: &Boundary) -> Self {
        let holds = |lat: f64| {
            let pole = Position::from_degrees(lat, 0.0).ok();
            pole.is_some_and(|pole| boundary.locate(pole).signed_distance.metres() <= 0.0)
        };
        let mut wider = self;
        if holds(90.0) {
            wider = Self { north_deg: 90.0, west_deg: -180.0, east_deg: 180.0, ..wider };
        }
        if holds(-90.0) {
            wider = Self { south_deg: -90.0, west_deg: -180.0, east_deg: 180.0, ..wider };
        }
        wider
    }
}

/// Sides that turn by less, in degrees, run straight on: what is rounded where a zone is cut bends them by less.
const STRAIGHT_ON_DEG: f64 = 1.0;

/// Tells places apart; 180° is -180°.
type PlaceKey = (u64, u64);

fn key(place: Position) -> PlaceKey {
    let (lat, lon) = (place.latitude().degrees() + 0.0, place.longitude().degrees() + 0.0);
    (lat.to_bits(), if lon <= -180.0 { 180.0_f64 } else { lon }.to_bits())
}

/// An angle of less than one turn and a half, in degrees from -180 to 180.
pub(crate) fn within_half_a_turn(angle_deg: f64) -> f64 {
    if angle_deg > 180.0 {
        angle_deg - 360.0
    } else if angle_deg < -180.0 {
        angle_deg + 360.0
    } else {
        angle_deg
    }
}

#[cfg(test)]
mod tests {
    use approx::assert_relative_eq;
    use takeline::zone_file;

    use super::*;

    fn place(lat: f64, lon: f64) -> Position {
        Position::from_degrees(lat, lon).unwrap()
    }

    #[test]
    fn boxes_run_across_180_degrees() {
        let about = GeoBox::about(&[place(-16.0, 179.5), place(-17.0, -179.5), place(-16.5, 179.0)]);
        assert_eq!(about, GeoBox { south_deg: -17.0, west_deg: 179.0, north_deg: -16.0, east_deg: -179.5 });
        let about = GeoBox::about(&[place(45.0, -30.1), place(45.1, -30.2)]);
        assert_relative_eq!(about.west_deg, -30.2, epsilon = 1e-9);
        assert_relative_eq!(about.east_deg, -30.1, epsilon = 1e-9);
    }

    /// A ring along 80° N, and a box at 180° cut in two as RFC 7946 (3.1.9) asks.
    #[test]
    fn a_zone_about_a_pole_and_one_that_is_cut_are_measured_whole() {
        let ring = |corners: &[(f64, f64)]| {
            let vertices: Vec<Position> = corners.iter().map(|(lat, lon)| place(*lat, *lon)).collect();
            let edges = vec![EdgeModel::RhumbLine; vertices.len()];
            let exterior = RingSpec { vertices, edges, sides: Vec::new() };
            PartSpec::Polygon { exterior, holes: Vec::new() }
        };
        let survey = |parts: &[PartSpec]| ZoneSurvey::of_boundary(&Boundary::build(parts).unwrap()).unwrap();
        let about_pole: Vec<(f64, f64)> = (0..12).map(|at| (80.0, 30.0 * f64::from(at) - 170.0)).collect();
        let extent = survey(&[ring(&about_pole)]).extent;
        assert_relative_eq!(extent.south_deg, 80.0, epsilon = 1e-9);
        assert_eq!((extent.north_deg, extent.west_deg, extent.east_deg), (90.0, -180.0, 180.0));
        let whole = survey(&[ring(&[(-17.0, 179.9), (-17.0, -179.9), (-16.9, -179.9), (-16.9, 179.9)])]);
        let west = ring(&[(-17.0, 179.9), (-17.0, 180.0), (-16.9, 180.0), (-16.9, 179.9)]);
        let cut = |top: f64| {
            let east = ring(&[(-17.0, -180.0), (-17.0, -179.9), (top, -179.9), (-16.9, -180.0)]);
            survey(&[west.clone(), east])
        };
        let plain = cut(-16.9);
        assert_eq!((whole.corners(), plain.corners()), (4, 4));
        assert_relative_eq!(plain.perimeter.metres(), whole.perimeter.metres(), epsilon = 0.01);
        assert_relative_eq!(plain.extent.west_deg, 179.9, epsilon = 1e-9);
        assert_relative_eq!(plain.extent.east_deg, -179.9, epsilon = 1e-9);
        assert_eq!(cut(-16.8).corners(), 5, "it turns at the cut");
    }

    /// The perimeter and area of Western Sambo by GeographicLib's Planimeter: `tests/data/zones`, `computed.csv`.
    #[test]
    fn sides_of_a_real_zone_add_up_to_its_perimeter() {
        let ring = RingSpec {
            vertices: vec![
                place(24.561_666_666_7, -81.68),
                place(24.480_833_333_3, -81.698_333_333_3),
                place(24.475, -81.728_333_333_3),
                place(24.558_333_333_3, -81.718_333_333_3),
            ],
            edges: vec![EdgeModel::Geodesic; 4],
            sides: Vec::new(),
        };
        let survey = RingSurvey::of(&ring).unwrap();
        let summed: f64 = survey.sides.iter().map(|side| side.length.metres()).sum();
        assert_relative_eq!(summed, 25_440.222, epsilon = 0.001);
        assert_relative_eq!(survey.perimeter.metres(), summed, epsilon = 0.001);
        assert_relative_eq!(survey.area_m2, 30_750_666.0, epsilon = 1.0);
    }

    #[test]
    fn every_zone_of_marrowick_is_measured() {
        for name in ["marrowick.json", "harbour-board.json", "shore-waters.json"] {
            let path = format!("{}/../../demo-data/zones/{name}", env!("CARGO_MANIFEST_DIR"));
            for zone in zone_file::read(name, &std::fs::read(path).unwrap()).unwrap().zones {
                let Some(survey) = ZoneSurvey::of(&zone).unwrap() else { continue };
                let sides: f64 =
                    survey.rings().flat_map(|ring| &ring.sides).map(|side| side.length.metres()).sum();
                assert!(sides <= survey.perimeter.metres() + 0.01, "{name} {}", zone.id);
                assert!(survey.extent.south_deg < survey.extent.north_deg, "{}", zone.id);
            }
        }
    }
}
