//! The zones as their texts give them: vertices in the published order, and how the text joins them.

use std::collections::BTreeMap;

use serde::Deserialize;
use takeline::{Arc, ArcSense, Boundary, EdgeModel, Metres, NauticalMiles, PartSpec, Position, RingSpec};

use crate::independent::{Course, Edge, Ellipsoid, Outline, Point};

/// A row of `vertices.csv`.
#[derive(Debug, Deserialize)]
struct VertexRow {
    zone_id: String,
    lat_deg: f64,
    lon_deg: f64,
    edge_to_next_point: String,
}

/// A row of `computed.csv`.
#[derive(Debug, Deserialize)]
pub(crate) struct Computed {
    pub(crate) zone_id: String,
    pub(crate) kind: String,
    pub(crate) vertices: Option<usize>,
    pub(crate) perimeter_geodesic_m: f64,
    pub(crate) area_geodesic_m2: f64,
    pub(crate) perimeter_rhumb_m: Option<f64>,
    pub(crate) area_rhumb_m2: Option<f64>,
    pub(crate) area_lonlat_straight_m2: Option<f64>,
}

/// A zone of the texts.
#[derive(Debug)]
pub(crate) struct Zone {
    pub(crate) id: String,
    pub(crate) vertices: Vec<Point>,
    /// How the text joins each vertex to the next.
    pub(crate) texts: Vec<String>,
}

fn rows<Row: serde::de::DeserializeOwned>(table: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_reader(table.as_bytes());
    reader.deserialize().map(|row| row.expect("the row has the columns of its type")).collect()
}

pub(crate) fn computed() -> Vec<Computed> {
    let table: Vec<Computed> = rows(include_str!("../data/regulations/zones/computed.csv"));
    assert_eq!(table.len(), 21);
    table
}

/// All zones but the circle, whose only row is its centre.
pub(crate) fn polygons() -> Vec<Zone> {
    let table: Vec<VertexRow> = rows(include_str!("../data/regulations/zones/vertices.csv"));
    assert_eq!(table.len(), 128);
    let mut zones: BTreeMap<String, Zone> = BTreeMap::new();
    for row in table.into_iter().filter(|row| row.zone_id != "us-monitor") {
        let zone = zones.entry(row.zone_id.clone()).or_insert_with(|| Zone {
            id: row.zone_id,
            vertices: vec![],
            texts: vec![],
        });
        zone.vertices.push((as_published(row.lat_deg), as_published(row.lon_deg)));
        zone.texts.push(row.edge_to_next_point);
    }
    assert_eq!(zones.len(), 20);
    zones.into_values().collect()
}

/// The number that the text gives. The table prints 10 decimals of a degree, 6 µm; all texts have thousandths of a
/// minute, whole seconds or five decimals of a degree, and all of these are whole thousandths of a second.
fn as_published(degrees: f64) -> f64 {
    (degrees * 3_600_000.0).round() / 3_600_000.0
}

pub(crate) fn zone(id: &str) -> Zone {
    polygons().into_iter().find(|zone| zone.id == id).expect("a zone of the table")
}

/// Centre and radius of the Monitor sanctuary: one mile across (15 CFR 922.60), a statute mile of 1609.344 m.
pub(crate) const MONITOR: (Point, f64) = ((35.006_39, -75.408_89), 804.672);

/// The arcs of CORAL SHIPREP (15 CFR 922, subpart W, appendix E) by the vertex they leave: centre and radius. The
/// text does not say which way they turn; the area lies within, so both turn clockwise in the published order: past
/// the east end of Nihoa and past the west end of Kure.
pub(crate) const CORAL_ARCS: [(usize, Point, f64); 2] = [
    (8, (23.0 + 3.61 / 60.0, -(161.0 + 55.22 / 60.0)), 60.25),
    (18, (28.0 + 25.23 / 60.0, -(178.0 + 19.51 / 60.0)), 60.17),
];

pub(crate) fn position((lat_deg, lon_deg): Point) -> Position {
    let turns = (lon_deg / 360.0).round();
    Position::from_degrees(lat_deg, lon_deg - 360.0 * turns).expect("a position")
}

/// The edge model of the library for a course.
pub(crate) fn model(course: Course) -> EdgeModel {
    match course {
        Course::Geodesic => EdgeModel::Geodesic,
        Course::Rhumb => EdgeModel::RhumbLine,
        Course::LonLat => EdgeModel::PlateCarree,
        Course::Bend { centre, clockwise } => {
            let arc = CORAL_ARCS.iter().find(|(_, arc_centre, _)| *arc_centre == centre);
            let radius_m = arc.expect("an arc of the table").2 * NauticalMiles::METRES;
            EdgeModel::Arc(Arc {
                centre: position(centre),
                radius: Metres::new(radius_m).expect("a radius"),
                sense: if clockwise { ArcSense::Clockwise } else { ArcSense::Counterclockwise },
            })
        }
    }
}

impl Zone {
    /// The courses its text leaves open: one where it says how the edges run, all three where it does not.
    pub(crate) fn courses_by_text(&self) -> Vec<Vec<Course>> {
        let all = |course| vec![course; self.vertices.len()];
        match self.texts[0].as_str() {
            "geodesic" => vec![all(Course::Geodesic)],
            "parallels and meridians" => vec![all(Course::Rhumb)],
            "rhumb line" => {
                let mut courses = all(Course::Rhumb);
                for (vertex, centre, _) in CORAL_ARCS {
                    assert!(self.texts[vertex].starts_with("arc"), "{}", self.texts[vertex]);
                    courses[vertex] = Course::Bend { centre, clockwise: true };
                }
                vec![courses]
            }
            _ => vec![all(Course::Geodesic), all(Course::Rhumb), all(Course::LonLat)],
        }
    }

    pub(crate) fn boundary(&self, courses: &[Course]) -> Boundary {
        let edges = courses.iter().map(|course| model(*course)).collect();
        boundary(&self.vertices, edges)
    }

    pub(crate) fn outline(&self, earth: &Ellipsoid, courses: &[Course]) -> Outline {
        let count = self.vertices.len();
        let edge =
            |at: usize| Edge::new(earth, self.vertices[at], self.vertices[(at + 1) % count], courses[at]);
        Outline::new(earth, (0..count).map(edge).collect())
    }
}

/// A boundary of one ring.
pub(crate) fn boundary(vertices: &[Point], edges: Vec<EdgeModel>) -> Boundary {
    let vertices = vertices.iter().map(|vertex| position(*vertex)).collect();
    let exterior = RingSpec { vertices, edges, sides: Vec::new() };
    Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).expect("the ring is sound")
}

pub(crate) fn circle((centre, radius_m): (Point, f64)) -> Boundary {
    let radius = Metres::new(radius_m).expect("a radius");
    Boundary::build(&[PartSpec::Circle { centre: position(centre), radius }]).expect("the circle is sound")
}
