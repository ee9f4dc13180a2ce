//! GeographicLib's polygon tests: `tests/CMakeLists.txt`, `tests/polygontest.cpp`, `man/Planimeter.pod`.

use serde::Deserialize;
use takeline::{
    Boundary, BoundaryFault, EdgeModel, GeodesicSegment, InvalidBoundary, Metres, PartSpec, Position,
    RingSpec,
};

use crate::{Largest, bearing, position};

#[derive(Debug, Deserialize)]
struct File {
    cases: Vec<Case>,
}

#[derive(Debug, Deserialize)]
struct Case {
    name: String,
    edges: String,
    #[serde(default)]
    points: Vec<[f64; 2]>,
    #[serde(default)]
    legs: Vec<[f64; 2]>,
    perimeter_m: Option<f64>,
    area_m2: Option<f64>,
    tol_area_m2: Option<f64>,
    tol_perimeter_m: Option<f64>,
}

/// What becomes of a case here.
#[derive(Debug)]
enum Here {
    /// Built; area and perimeter have to agree.
    Agrees,
    /// Not a boundary; has to be refused for this.
    Refused(fn(&BoundaryFault) -> bool),
    /// Not asked, with the reason.
    Skipped(&'static str),
}

fn here(name: &str) -> Here {
    match name.split(' ').next().unwrap_or_default() {
        "Planimeter4" => Here::Skipped("a line that is not closed; closed it is Planimeter3"),
        "MGRS" => Here::Skipped("its corners are UTM eastings and northings, which the core does not read"),
        // there and back over the pole: the first and the last vertex are 1 nm apart
        "Planimeter6" => Here::Refused(|fault| *fault == BoundaryFault::NoArea),
        // longitudes 0, 180 and 360: the third vertex is the first; see `planimeter_arctic_circle` below
        "Planimeter11" | "Planimeter12" => Here::Refused(|fault| *fault == BoundaryFault::TooFewVertices(2)),
        // twice and three times round the pole: a zone is inside once
        "Planimeter13" | "Planimeter21" => {
            Here::Refused(|fault| matches!(fault, BoundaryFault::RepeatedVertex { .. }))
        }
        _ => Here::Agrees,
    }
}

fn cases() -> Vec<Case> {
    let text = include_str!("../data/geographiclib/planimeter.json");
    let file: File = serde_json::from_str(text).expect("the file has the keys of its type");
    assert_eq!(file.cases.len(), 14);
    file.cases
}

impl Case {
    fn vertices(&self) -> Vec<Position> {
        if self.legs.is_empty() {
            return self.points.iter().map(|[lat, lon]| position(*lat, *lon)).collect();
        }
        let mut vertices = vec![position(0.0, 0.0)];
        for [azimuth_deg, length_m] in &self.legs {
            let length = Metres::new(*length_m).expect("a length");
            let from = vertices[vertices.len() - 1];
            let leg = GeodesicSegment::leaving(from, bearing(*azimuth_deg), length).expect("not negative");
            vertices.push(leg.to());
        }
        vertices
    }

    fn model(&self) -> EdgeModel {
        match self.edges.as_str() {
            "geodesic" => EdgeModel::Geodesic,
            "rhumb" => EdgeModel::RhumbLine,
            other => panic!("edges {other:?} in {}", self.name),
        }
    }
}

fn build(vertices: Vec<Position>, model: EdgeModel) -> Result<Boundary, InvalidBoundary> {
    let edges = vec![model; vertices.len()];
    Boundary::build(&[PartSpec::Polygon {
        exterior: RingSpec { vertices, edges, sides: Vec::new() },
        holes: vec![],
    }])
}

/// Tolerance of the area: the file's own, and 1e-13 of the area for what a sum of thousands of double-precision
/// pieces loses. Perimeters are printed to 0.1 mm or better, Wyoming's parallels are pieces within 0.05 mm.
#[test]
fn planimeter_rings_agree() {
    let (mut area, mut perimeter, mut built) = (Largest::default(), Largest::default(), 0);
    for case in cases().iter().filter(|case| matches!(here(&case.name), Here::Agrees)) {
        let boundary = build(case.vertices(), case.model()).expect("a boundary");
        let mut backwards = case.vertices();
        backwards.reverse();
        let reversed = build(backwards, case.model()).expect("a boundary");
        built += 1;
        if let (Some(area_m2), Some(tolerance_m2)) = (case.area_m2, case.tol_area_m2) {
            // Planimeter counts a clockwise ring as the rest of the Earth; a boundary encloses the smaller area
            for found in [&boundary, &reversed] {
                let allowed_m2 = tolerance_m2 + 1e-13 * area_m2;
                area.take((found.area_m2() - area_m2) / allowed_m2, &case.name);
                println!("{}: area off by {:.3e} m2", case.name, found.area_m2() - area_m2);
            }
        }
        if let Some(perimeter_m) = case.perimeter_m {
            perimeter.take(
                (boundary.perimeter().metres() - perimeter_m) / case.tol_perimeter_m.unwrap_or(1.0),
                &case.name,
            );
        }
    }
    assert_eq!(built, 7);
    area.hold("planimeter, area, share of the allowed", 1.0);
    // Planimeter3 is printed to the centimetre
    perimeter.hold("planimeter, perimeter, m", 0.005);
}

/// One circuit of Planimeter21, from the file's note: 39433884866571.4277 m².
#[test]
fn planimeter_once_round_the_pole() {
    let cases = cases();
    let three_times = cases.iter().find(|case| case.name.starts_with("Planimeter21")).expect("in the file");
    let boundary = build(three_times.vertices()[..3].to_vec(), EdgeModel::Geodesic).expect("a boundary");
    let mut area = Largest::default();
    area.take(boundary.area_m2() - 39_433_884_866_571.43, "one circuit");
    let mut side = Largest::default();
    side.take(boundary.perimeter().metres() / 3.0 - 8_420_705.409_571_782, "one side");
    // the note prints 1e-4 m2; a sum of 2 km pieces loses up to 1e-13 of the area
    area.hold("planimeter, once round the pole, m2", 4.0);
    side.hold("planimeter, one side of it, m", 1e-6);
}

/// Planimeter11 has vertices half a turn apart, where which way an edge runs is not settled; with a vertex added to
/// each half its answers can be asked for: area and perimeter of the arctic circle as a parallel.
#[test]
fn planimeter_arctic_circle() {
    let cases = cases();
    let circle = cases.iter().find(|case| case.name.starts_with("Planimeter11")).expect("in the file");
    let lat_deg = circle.points[0][0];
    let corners = |lons: &[f64]| lons.iter().map(|lon_deg| position(lat_deg, *lon_deg)).collect();
    let half_turns = build(corners(&[0.0, 180.0, 90.0]), EdgeModel::RhumbLine).expect_err("half a turn");
    assert_eq!(half_turns.fault, BoundaryFault::AmbiguousEdge);
    let boundary = build(corners(&[0.0, 90.0, 180.0, 270.0]), EdgeModel::RhumbLine).expect("a boundary");
    let (mut area, mut perimeter) = (Largest::default(), Largest::default());
    area.take(boundary.area_m2() - circle.area_m2.expect("an area"), "arctic circle");
    perimeter.take(boundary.perimeter().metres() - circle.perimeter_m.expect("a perimeter"), "arctic circle");
    // the file's 1 m2 and 1e-13 of the area for the sum of pieces
    area.hold("planimeter, arctic circle, m2", 1.0 + 2.2);
    perimeter.hold("planimeter, arctic circle, perimeter, m", 1e-4);
}

#[test]
fn planimeter_what_is_no_boundary_is_refused() {
    let (mut refused, mut skipped) = (0, 0);
    for case in &cases() {
        match here(&case.name) {
            Here::Refused(right_fault) => {
                let error = build(case.vertices(), case.model()).expect_err("not a boundary");
                println!("{}: {error}", case.name);
                assert!(right_fault(&error.fault), "{} refused as: {error}", case.name);
                refused += 1;
            }
            Here::Skipped(reason) => {
                println!("{} is skipped: {reason}", case.name);
                skipped += 1;
            }
            Here::Agrees => {}
        }
    }
    assert_eq!((refused, skipped), (5, 2));
}
