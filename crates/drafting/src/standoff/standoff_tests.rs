//! Stand-off lines of invented, real and nasty zones, held to the library's own distance at random places.
//!
//! At full size: `TAKELINE_STANDOFF=10000 cargo test --release -p takeline-drafting standoff -- --nocapture`.

use std::fs;
use std::time::Instant;

use takeline::zone::Extent;
use takeline::{
    Boundary, EdgeModel, GeodesicSegment, InvalidBoundary, Longitude, Metres, PartSpec, Position, RingSpec,
    Side, SideKind,
};

use super::complete::missed;
use super::level::{Level, leaving, part_of};
use super::{NoStandOff, StandOff, StandOffLine, StandOffSide, StandOffWanted};

const NAUTICAL_MILE_M: f64 = 1852.0;

/// How many random places are tried on each line.
fn places() -> usize {
    std::env::var("TAKELINE_STANDOFF").ok().and_then(|count| count.parse().ok()).unwrap_or(200)
}

fn is_full_size() -> bool {
    places() >= 10_000
}

fn place(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

fn wanted(distance_m: f64, side: StandOffSide) -> StandOffWanted {
    StandOffWanted {
        distance: Metres::new(distance_m).unwrap(),
        side,
        tolerance: Metres::new(0.1).unwrap(),
        most_points: None,
    }
}

fn zones_of(path: &str) -> Vec<(String, Boundary)> {
    let path = format!("{}/../../{path}", env!("CARGO_MANIFEST_DIR"));
    let loaded = takeline::zone_file::read(&path, &fs::read(&path).unwrap()).unwrap();
    let known = loaded.zones.into_iter().filter_map(|zone| match zone.extent {
        Extent::Known(boundary) => Some((zone.id.to_string(), boundary)),
        Extent::Unknown { .. } => None,
    });
    known.collect()
}

/// The distance on a side, as its own definition has it.
fn distance_m(boundary: &Boundary, side: StandOffSide, at: Position) -> f64 {
    let far = boundary.how_far(at);
    match side {
        StandOffSide::Outside => far.least.metres(),
        StandOffSide::Inside => -far.greatest.metres(),
    }
}

/// The farthest that random places on the lines are off the distance wanted, in metres: nearer, farther.
fn off(
    kept: &StandOff,
    boundary: &Boundary,
    (distance, side): (f64, StandOffSide),
    random: &mut fastrand::Rng,
) -> (f64, f64) {
    let legs: Vec<GeodesicSegment> = kept
        .lines
        .iter()
        .flat_map(|line| {
            let all: Vec<Position> = line.all_the_way().collect();
            all.windows(2).map(|pair| GeodesicSegment::between(pair[0], pair[1])).collect::<Vec<_>>()
        })
        .collect();
    let mut worst = (0.0_f64, 0.0_f64);
    for _ in 0..places() {
        let leg = legs[random.usize(..legs.len())];
        let at = part_of(&leg, random.f64()).unwrap();
        let beyond_m = distance_m(boundary, side, at) - distance;
        worst = (worst.0.max(-beyond_m), worst.1.max(beyond_m));
    }
    worst
}

/// The lengths, in metres, of sides whose level no line keeps to: from places square off them that are at the distance and have
/// more room beyond than a line has to show.
fn left_out_m(kept: &StandOff, boundary: &Boundary, (distance, side): (f64, StandOffSide)) -> f64 {
    const STEP_M: f64 = 25.0;
    let at_m = distance + 0.05;
    let level = Level { boundary, side, at_m };
    let points: Vec<Vec<Position>> = kept.lines.iter().map(|line| line.all_the_way().collect()).collect();
    let mut left_out = 0.0;
    for ring in boundary.outlines() {
        for (from, to) in ring.iter().zip(ring.iter().cycle().skip(1)) {
            let way = GeodesicSegment::between(*from, *to);
            let steps = (way.length().metres() / STEP_M).floor();
            for step in (1..).map(f64::from).take_while(|step| *step < steps) {
                let on = part_of(&way, step / steps).unwrap();
                let square =
                    |turn: f64, by_m: f64| leaving(on, way.initial_bearing().degrees() + turn, by_m).unwrap();
                for turn in [-90.0, 90.0] {
                    let place = square(turn, at_m);
                    let is_level = level.beyond_m(place).abs() < 0.02;
                    let has_room = level.beyond_m(square(turn, at_m + kept.narrowest_shown.metres())) > 0.0;
                    if is_level && has_room && !points.iter().any(|line| is_near(line, place)) {
                        left_out += way.length().metres() / steps;
                    }
                }
            }
        }
    }
    left_out
}

/// Whether a place is within a metre of a line, on a plane about the place.
fn is_near(line: &[Position], place: Position) -> bool {
    let (lat, lon) = (place.latitude().degrees(), place.longitude().degrees());
    let flat = |at: Position| {
        let east = Longitude::wrapping(at.longitude().degrees() - lon).degrees() * lat.to_radians().cos();
        geo::Coord { x: 111_195.0 * east, y: 111_195.0 * (at.latitude().degrees() - lat) }
    };
    line.windows(2).any(|pair| {
        let leg = geo::Line::new(flat(pair[0]), flat(pair[1]));
        geo::Distance::distance(&geo::Euclidean, &leg, &geo::Point::new(0.0, 0.0)) < 1.0
    })
}

/// What is found when a line leaves something out: a closed line without one of its sides, and none at all.
#[test]
fn a_line_that_leaves_a_side_out_is_found_out() {
    let square = polygon(&SQUARE, &[]);
    for side in [StandOffSide::Outside, StandOffSide::Inside] {
        let kept = StandOff::of(&[&square], &wanted(200.0, side)).unwrap();
        let level = Level { boundary: &square, side, at_m: 200.0 };
        let searched =
            |lines: &[StandOffLine]| missed(&level, lines, (0.1, kept.narrowest_shown.metres()), |_| true);
        assert_eq!(searched(&kept.lines), None, "{side:?}");
        assert!(searched(&[]).is_some(), "{side:?}");
        let mut cut = kept.lines.clone();
        cut[0].is_closed = false;
        let half = cut[0].positions.len() / 2;
        cut[0].positions.truncate(half);
        assert!(searched(&cut).is_some(), "{side:?}");
    }
}

/// Random rings of few corners, as islands and as lagoons: no side of theirs goes without its line.
#[test]
fn no_side_goes_without_its_line() {
    let mut random = fastrand::Rng::with_seed(31);
    let mut tried = 0;
    let rounds = if is_full_size() { 400 } else { 16 };
    for round in 0..rounds {
        let corners = random.usize(3..9);
        let reach_deg = [0.012, 0.025][random.usize(0..2)];
        let mut turns: Vec<f64> = (0..corners).map(|_| random.f64() * std::f64::consts::TAU).collect();
        turns.sort_by(f64::total_cmp);
        let ring: Vec<(f64, f64)> = turns
            .into_iter()
            .map(|turn| {
                (reach_deg * (0.2 + 0.8 * random.f64()).max(f64::from(u8::from(round % 2 == 0))), turn)
            })
            .map(|(far, turn)| (45.0 + far * turn.sin(), -30.0 + far * turn.cos() * 1.414))
            .collect();
        let sea = [(44.95, -30.08), (44.95, -29.92), (45.05, -29.92), (45.05, -30.08)];
        let specs =
            [(ring_of(&ring, &[]), StandOffSide::Inside), (ring_of(&ring, &[]), StandOffSide::Outside)];
        let lagoon = (ring_of(&sea, &[&ring]), StandOffSide::Outside);
        for (boundary, side) in specs.into_iter().chain([lagoon]) {
            let Ok(boundary) = boundary else { continue }; // it crosses itself
            for distance in [20.0, 200.0, 500.0] {
                let kept = match StandOff::of(&[&boundary], &wanted(distance, side)) {
                    Ok(kept) => kept,
                    Err(NoStandOff::NowhereInside) => continue,
                    Err(error) => panic!("round {round} {side:?} {distance}: {error}"),
                };
                let left_out_m = left_out_m(&kept, &boundary, (distance, side));
                assert!(left_out_m == 0.0, "round {round} {side:?} {distance}: {left_out_m} m");
                tried += 1;
            }
        }
    }
    assert!(tried > 4 * rounds, "{tried}");
}

fn ring_of(corners: &[(f64, f64)], holes: &[&[(f64, f64)]]) -> Result<Boundary, InvalidBoundary> {
    let holes = holes.iter().map(|hole| ring(hole)).collect();
    Boundary::build(&[PartSpec::Polygon { exterior: ring(corners), holes }])
}

fn hold(name: &str, boundary: &Boundary, random: &mut fastrand::Rng) {
    for side in [StandOffSide::Outside, StandOffSide::Inside] {
        for distance in [50.0, 200.0, NAUTICAL_MILE_M] {
            let began = Instant::now();
            let kept = match StandOff::of(&[boundary], &wanted(distance, side)) {
                Ok(kept) => kept,
                Err(NoStandOff::NowhereInside) if side == StandOffSide::Inside => continue,
                Err(NoStandOff::AlongShoresOnly) if boundary.has_sides() => continue,
                Err(error) => panic!("{name} {side:?} {distance}: {error}"),
            };
            let took = began.elapsed();
            let (nearer, farther) = off(&kept, boundary, (distance, side), random);
            println!(
                "{name} {side:?} {distance} m: lines {}, points {}, left out {}, nearer {nearer:.4} m, farther {farther:.4} m, {took:.1?}",
                kept.lines.len(),
                kept.points(),
                kept.left_out.len(),
            );
            assert!(nearer <= 0.003 && farther <= 0.103, "{name} {side:?} {distance}: {nearer} {farther}");
        }
    }
}

#[test]
fn no_place_on_a_line_of_any_zone_of_marrowick_is_off_its_distance() {
    let mut random = fastrand::Rng::with_seed(13);
    for file in ["marrowick.json", "harbour-board.json", "shore-waters.json"] {
        for (id, boundary) in zones_of(&format!("demo-data/zones/{file}")) {
            hold(&id, &boundary, &mut random);
        }
    }
}

#[derive(serde::Deserialize)]
struct Features {
    features: Vec<Feature>,
}

#[derive(serde::Deserialize)]
struct Feature {
    properties: Properties,
    geometry: Geometry,
}

#[derive(serde::Deserialize)]
struct Properties {
    id: String,
    radius_m: Option<f64>,
}

#[derive(serde::Deserialize)]
#[serde(tag = "type", content = "coordinates")]
enum Geometry {
    Point([f64; 2]),
    Polygon(Vec<Vec<[f64; 2]>>),
}

fn features(path: &str) -> Vec<Feature> {
    let path = format!("{}/../../tests/data/{path}", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_slice::<Features>(&fs::read(path).unwrap()).unwrap().features
}

/// The arcs of CORAL SHIPREP (15 CFR 922, subpart W, appendix E) by the vertex they leave, as in `tests/real_zones/regulations.rs`:
/// centre and radius in nautical miles.
const CORAL_ARCS: [(usize, (f64, f64), f64); 2] = [
    (8, (23.0 + 3.61 / 60.0, -(161.0 + 55.22 / 60.0)), 60.25),
    (18, (28.0 + 25.23 / 60.0, -(178.0 + 19.51 / 60.0)), 60.17),
];

/// A zone of the texts, every edge that is no arc unstated.
fn of_text(feature: &Feature) -> Boundary {
    let part = match &feature.geometry {
        Geometry::Point([lon, lat]) => PartSpec::Circle {
            centre: place(*lat, *lon),
            radius: Metres::new(feature.properties.radius_m.unwrap()).unwrap(),
        },
        Geometry::Polygon(rings) => {
            assert_eq!(rings.len(), 1);
            // RFC 7946 has longitudes from -180 to 180, these run on across
            let vertices: Vec<Position> = rings[0]
                .iter()
                .skip(1)
                .map(|[lon, lat]| place(*lat, Longitude::wrapping(*lon).degrees()))
                .collect();
            let mut ring =
                RingSpec { edges: vec![EdgeModel::Unstated; vertices.len()], vertices, sides: Vec::new() };
            if feature.properties.id == "us-coralshiprep" {
                // clockwise in the order of the text; a file turns its rings as it likes
                with_arcs(&mut ring, takeline::ArcSense::Clockwise);
                let as_read = PartSpec::Polygon { exterior: ring.clone(), holes: Vec::new() };
                if Boundary::build(&[as_read]).is_err() {
                    with_arcs(&mut ring, takeline::ArcSense::Counterclockwise);
                }
            }
            PartSpec::Polygon { exterior: ring, holes: Vec::new() }
        }
    };
    Boundary::build(&[part]).unwrap()
}

fn with_arcs(ring: &mut RingSpec, sense: takeline::ArcSense) {
    ring.edges = vec![EdgeModel::RhumbLine; ring.vertices.len()];
    let count = ring.vertices.len();
    for (_, (lat, lon), radius_nm) in CORAL_ARCS {
        let centre = place(lat, lon);
        let radius_m = radius_nm * NAUTICAL_MILE_M;
        let is_on =
            |at: Position| (GeodesicSegment::between(centre, at).length().metres() - radius_m).abs() < 500.0;
        // the file runs counterclockwise or clockwise: the edge is the one both of whose ends lie on the circle
        let from = (0..count)
            .find(|at| is_on(ring.vertices[*at]) && is_on(ring.vertices[(at + 1) % count]))
            .unwrap();
        let radius = Metres::new(radius_m).unwrap();
        ring.edges[from] = EdgeModel::Arc(takeline::Arc { centre, radius, sense });
    }
}

#[test]
fn nor_of_any_real_zone() {
    let mut random = fastrand::Rng::with_seed(14);
    let mut zones = 0;
    for file in ["scotland", "us_florida_keys", "us_other", "us_smz_boxes"] {
        for feature in features(&format!("regulations/zones/{file}.geojson")) {
            hold(&feature.properties.id, &of_text(&feature), &mut random);
            zones += 1;
        }
    }
    assert_eq!(zones, 21);
}

/// An island of Natural Earth, straight in longitude and latitude: what crosses or touches itself is sorted out on that plate first.
fn island(feature: &Feature) -> Boundary {
    let Geometry::Polygon(rings) = &feature.geometry else { panic!("an island is a polygon") };
    // unrolled across 180°
    let mut lon_before = rings[0][0][0];
    let ring: geo::LineString = rings[0]
        .iter()
        .map(|[lon, lat]| {
            let lon = lon + 360.0 * ((lon_before - lon) / 360.0).round();
            lon_before = lon;
            geo::Coord { x: lon, y: *lat }
        })
        .collect();
    let sound = geo::unary_union(&[geo::Polygon::new(ring, Vec::new())]);
    let parts: Vec<PartSpec> = sound
        .iter()
        .filter(|polygon| geo::Area::unsigned_area(*polygon) > 1e-9)
        .map(|polygon| {
            let ring = |line: &geo::LineString| {
                let vertices: Vec<Position> = line
                    .coords()
                    .skip(1)
                    .map(|at| place(at.y, Longitude::wrapping(at.x).degrees()))
                    .collect();
                RingSpec { edges: vec![EdgeModel::PlateCarree; vertices.len()], vertices, sides: Vec::new() }
            };
            PartSpec::Polygon {
                exterior: ring(polygon.exterior()),
                holes: polygon.interiors().iter().map(ring).collect(),
            }
        })
        .collect();
    Boundary::build(&parts).unwrap()
}

#[test]
fn nor_of_islands_of_thousands_of_vertices_and_one_across_180_degrees() {
    let mut random = fastrand::Rng::with_seed(15);
    for feature in features("natural-earth/ne_10m_islands.geojson") {
        let id = &feature.properties.id;
        if id == "vanua-levu" || is_full_size() {
            hold(id, &island(&feature), &mut random);
        }
    }
}

/// An inlet with uneven shores, as narrow in places as twice the distance: whether the line goes in is a matter of decimetres. Without
/// walking along the level some of these have no line: half way between two places is nothing of it.
#[test]
fn inlets_that_are_about_as_wide_as_twice_the_distance_are_kept_off() {
    const METRE_DEG: f64 = 1.0 / 111_195.0;
    let mut random = fastrand::Rng::with_seed(21);
    for inlet in 0..40 {
        // the shores as metres north and east of the mouth, from its west side in and out again
        let half_m = 200.0 + 5.0 * random.f64();
        let mut shore = |side: f64| -> Vec<(f64, f64)> {
            let bends = (0..12).map(f64::from).map(|step| 150.0 * step);
            bends.map(|north| (north, side * (half_m + 8.0 * (random.f64() - 0.5)))).collect()
        };
        let (west, mut east) = (shore(-1.0), shore(1.0));
        east.reverse();
        let land = [(3000.0, 2500.0), (3000.0, -2500.0), (0.0, -2500.0)];
        let corners: Vec<(f64, f64)> = west.into_iter().chain([(1900.0, 0.0)]).chain(east).collect();
        let outline: Vec<(f64, f64)> = corners.into_iter().chain([(0.0, 2500.0)]).chain(land).collect();
        let place = |&(north_m, east_m): &(f64, f64)| {
            (45.0 + north_m * METRE_DEG, -30.0 + east_m * METRE_DEG / 45_f64.to_radians().cos())
        };
        let mut boundary: Vec<(f64, f64)> = outline.iter().map(place).collect();
        boundary.reverse();
        hold(&format!("inlet {inlet}"), &polygon(&boundary, &[]), &mut random);
    }
}

fn ring(corners: &[(f64, f64)]) -> RingSpec {
    RingSpec {
        vertices: corners.iter().map(|(lat, lon)| place(*lat, *lon)).collect(),
        edges: vec![EdgeModel::Geodesic; corners.len()],
        sides: Vec::new(),
    }
}

fn polygon(corners: &[(f64, f64)], holes: &[&[(f64, f64)]]) -> Boundary {
    ring_of(corners, holes).unwrap()
}

const SQUARE: [(f64, f64); 4] = [(45.10, -30.14), (45.10, -30.12), (45.12, -30.12), (45.12, -30.14)];
const HOLE: [(f64, f64); 4] = [(45.105, -30.135), (45.115, -30.135), (45.115, -30.125), (45.105, -30.125)];
/// A bay open to the south.
const BAY: [(f64, f64); 8] = [
    (45.10, -30.14),
    (45.10, -30.135),
    (45.115, -30.135),
    (45.115, -30.125),
    (45.10, -30.125),
    (45.10, -30.12),
    (45.12, -30.12),
    (45.12, -30.14),
];

/// Whether a place lies inside what lines enclose, by the lines that it has to its east.
fn is_enclosed(kept: &StandOff, at: Position) -> bool {
    let (lat, lon) = (at.latitude().degrees(), at.longitude().degrees());
    let mut crossings = 0;
    for line in &kept.lines {
        let all: Vec<Position> = line.all_the_way().collect();
        for pair in all.windows(2) {
            let [one, two] =
                [pair[0], pair[1]].map(|end| (end.latitude().degrees(), end.longitude().degrees()));
            if (one.0 > lat) != (two.0 > lat)
                && lon < one.1 + (lat - one.0) / (two.0 - one.0) * (two.1 - one.1)
            {
                crossings += 1;
            }
        }
    }
    crossings % 2 == 1
}

/// Every place about a zone is on the side of the line that its distance says, but for the narrow water that is not shown.
#[test]
fn what_is_nearer_than_the_line_and_what_is_farther_are_told_apart_everywhere() {
    let mut random = fastrand::Rng::with_seed(16);
    let shapes = [polygon(&SQUARE, &[]), polygon(&SQUARE, &[&HOLE]), polygon(&BAY, &[])];
    for (number, boundary) in shapes.iter().enumerate() {
        for side in [StandOffSide::Outside, StandOffSide::Inside] {
            for distance in [30.0, 150.0, 350.0, 390.0, 500.0, NAUTICAL_MILE_M] {
                let kept = match StandOff::of(&[boundary], &wanted(distance, side)) {
                    Ok(kept) => kept,
                    Err(NoStandOff::NowhereInside) => continue,
                    Err(error) => panic!("{number} {side:?} {distance}: {error}"),
                };
                let blind_m = kept.narrowest_shown.metres();
                for _ in 0..500 {
                    let at = place(45.05 + 0.12 * random.f64(), -30.21 + 0.16 * random.f64());
                    let off_m = distance_m(boundary, side, at);
                    let is_beyond = is_enclosed(&kept, at) == (side == StandOffSide::Inside);
                    assert!(
                        !is_beyond || off_m >= distance - 0.5,
                        "{number} {side:?} {distance}: {at} is {off_m}"
                    );
                    assert!(
                        is_beyond || off_m <= distance + blind_m,
                        "{number} {side:?} {distance}: {at} is {off_m}"
                    );
                }
            }
        }
    }
}

/// 0.01° of longitude at 45.1° are 787.3 m, 0.015° of latitude 1667 m: at 350 m the line goes into the bay, at 400 m it does not.
#[test]
fn a_line_goes_into_a_bay_as_long_as_there_is_room() {
    let bay = polygon(&BAY, &[]);
    let goes_in = |distance: f64| {
        let kept = StandOff::of(&[&bay], &wanted(distance, StandOffSide::Outside)).unwrap();
        let is_in_the_bay = |at: &Position| {
            at.latitude().degrees() > 45.102
                && at.latitude().degrees() < 45.115
                && (at.longitude().degrees() + 30.13).abs() < 0.005
        };
        assert_eq!(kept.lines.len(), 1);
        kept.lines[0].positions.iter().any(is_in_the_bay)
    };
    assert!(goes_in(350.0) && !goes_in(400.0));
}

/// A line round a hole, outside the zone: 300 m from a hole of 787 m by 1111 m leaves a closed line in it, 400 m does not.
#[test]
fn a_hole_has_a_line_of_its_own_outside() {
    let holed = polygon(&SQUARE, &[&HOLE]);
    let lines = |distance: f64| {
        StandOff::of(&[&holed], &wanted(distance, StandOffSide::Outside)).unwrap().lines.len()
    };
    assert_eq!((lines(300.0), lines(400.0)), (2, 1));
}

/// Two zones 157 m apart, one to the east of the other: one line about both, and each by itself inside; where they share a border
/// there is one line inside, too.
#[test]
fn zones_are_joined() {
    let west = polygon(&SQUARE, &[]);
    let apart = polygon(&[(45.10, -30.118), (45.10, -30.10), (45.12, -30.10), (45.12, -30.118)], &[]);
    let beside = polygon(&[(45.10, -30.12), (45.10, -30.10), (45.12, -30.10), (45.12, -30.12)], &[]);
    let lines =
        |other: &Boundary, side| StandOff::of(&[&west, other], &wanted(100.0, side)).unwrap().lines.len();
    assert_eq!((lines(&apart, StandOffSide::Outside), lines(&apart, StandOffSide::Inside)), (1, 2));
    assert_eq!((lines(&beside, StandOffSide::Outside), lines(&beside, StandOffSide::Inside)), (1, 1));
}

#[test]
fn a_zone_across_180_degrees_has_a_line_as_others_do_and_one_by_a_pole_none() {
    let mut random = fastrand::Rng::with_seed(17);
    let across = polygon(&[(-17.0, 179.9), (-17.0, -179.9), (-16.8, -179.9), (-16.8, 179.9)], &[]);
    hold("across 180°", &across, &mut random);
    let far_north = polygon(&[(84.0, 179.0), (84.0, -179.0), (84.2, -179.0), (84.2, 179.0)], &[]);
    hold("far north", &far_north, &mut random);
    // what is straight in longitude and latitude would lie inside it
    let polar = polygon(&[(89.0, 0.0), (89.0, 90.0), (89.0, 180.0), (89.0, -90.0)], &[]);
    let refused = StandOff::of(&[&polar], &wanted(200.0, StandOffSide::Outside)).unwrap_err();
    assert_eq!(refused, NoStandOff::NearPole);
}

/// A reserve before a beach on its east: the line ends open on both sides of the beach, and says so.
#[test]
fn a_shore_has_no_line() {
    for kind in [SideKind::Shore, SideKind::Unresolved] {
        let mut exterior = ring(&SQUARE);
        exterior.sides = [SideKind::Open, kind, SideKind::Open, SideKind::Open].map(Side::from).to_vec();
        let reserve = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
        for side in [StandOffSide::Outside, StandOffSide::Inside] {
            let kept = StandOff::of(&[&reserve], &wanted(100.0, side)).unwrap();
            assert!(kept.lines.len() == 1 && !kept.lines[0].is_closed, "{kind:?} {side:?}");
            assert_eq!(kept.left_out.iter().map(|left| left.along).collect::<Vec<_>>(), [kind], "{side:?}");
            for at in &kept.lines[0].positions {
                let crossable_m = reserve.locate_crossable(*at).unwrap().signed_distance.metres().abs();
                assert!((99.9..=100.2).contains(&crossable_m), "{kind:?} {side:?}: {at} {crossable_m}");
            }
        }
        let all_shore = {
            let mut exterior = ring(&SQUARE);
            exterior.sides = vec![Side::from(kind); 4];
            Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap()
        };
        let refused = StandOff::of(&[&all_shore], &wanted(100.0, StandOffSide::Outside)).unwrap_err();
        assert_eq!(refused, NoStandOff::AlongShoresOnly);
    }
}

#[test]
fn a_line_of_few_points_is_given_in_pieces_that_follow_each_other() {
    let square = polygon(&SQUARE, &[]);
    let few =
        StandOffWanted { most_points: std::num::NonZero::new(20), ..wanted(200.0, StandOffSide::Outside) };
    let kept = StandOff::of(&[&square], &few).unwrap();
    assert!(kept.lines.len() > 2 && kept.lines.iter().all(|line| (2..=20).contains(&line.positions.len())));
    for pair in kept.lines.windows(2) {
        assert_eq!(pair[0].positions.last(), pair[1].positions.first());
    }
    assert_eq!(kept.lines[0].positions.first(), kept.lines.last().unwrap().positions.last());
    // a coarser line needs fewer, and still comes no nearer
    let coarse =
        StandOffWanted { tolerance: Metres::new(20.0).unwrap(), ..wanted(200.0, StandOffSide::Outside) };
    let coarse = StandOff::of(&[&square], &coarse).unwrap();
    assert!(coarse.points() < 30 && coarse.nearest.metres() > 199.99 && coarse.farthest.metres() < 220.01);
}

#[test]
fn what_cannot_be_drawn_is_refused() {
    let square = polygon(&SQUARE, &[]);
    let refused = |distance, side| StandOff::of(&[&square], &wanted(distance, side)).unwrap_err();
    assert_eq!(refused(2000.0, StandOffSide::Inside), NoStandOff::NowhereInside);
    assert!(matches!(refused(0.5, StandOffSide::Outside), NoStandOff::Distance(_)));
    assert_eq!(refused(2.5e6, StandOffSide::Outside), NoStandOff::TooWide);
    assert_eq!(StandOff::of(&[], &wanted(100.0, StandOffSide::Outside)).unwrap_err(), NoStandOff::NoZone);
    let cap = PartSpec::Circle { centre: place(45.0, -30.0), radius: Metres::new(3.0e6).unwrap() };
    let cap = Boundary::build(&[cap]).unwrap();
    let refused = StandOff::of(&[&cap], &wanted(100.0, StandOffSide::Outside)).unwrap_err();
    assert_eq!(refused, NoStandOff::TooWide);
}
