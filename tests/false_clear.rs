//! Water that is inside a zone while the marks do not say so, held to a count that shares nothing with the library.
//!
//! The count lays a fine grid over a flat map (the polyconic projection about the middle of the area, whose scale is wrong by
//! less than one part in a million within 5 km), asks of each point by crossing number whether it is in the area and in a
//! zone, and takes the angle between the marks from two arc tangents. Zones and landmarks are read from the demo files as
//! plain JSON. The figures are printed, and docs/accuracy.md quotes them:
//!
//! ```text
//! cargo test -p takeline --test false_clear -- --nocapture
//! ```
#![expect(clippy::unwrap_used, reason = "a test may stop at the first surprise")]
#![expect(clippy::print_stdout, reason = "the figures seen are what docs/accuracy.md quotes")]

use std::fs;
use std::path::Path;

use serde_json::Value;
use takeline::landmark::Landmark;
use takeline::transit::{Eye, RangeLine, Side, Stretch, TransitQuestion, ViewedWater, WorkingArea};
use takeline::{Arcminutes, Metres, Position, ZoneSet, zone_file};

/// Distance between two points of the grid, in metres.
const GRID_M: f64 = 1.5;
/// The grid is turned by this, in radians, so that no row of it runs along an edge.
const GRID_TURN: f64 = 0.37;
/// What the issue asks for is 1 %. The grid itself is good to some hundredths of a per cent: a border of 10 km passes
/// 7000 cells, each misjudged by up to half of its 2.25 m² at random, which adds up to 100 m² of some 100 000 m².
const ALLOWED_PER_CENT: f64 = 0.1;

/// Latitude and longitude in degrees.
type Degrees = (f64, f64);
/// Metres east and north.
type Flat = (f64, f64);

fn demo(name: &str) -> Vec<u8> {
    fs::read(Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-data").join(name)).unwrap()
}

fn features(name: &str) -> Vec<Value> {
    let file: Value = serde_json::from_slice(&demo(name)).unwrap();
    file["features"].as_array().unwrap().clone()
}

fn degrees(longitude_first: &Value) -> Degrees {
    (longitude_first[1].as_f64().unwrap(), longitude_first[0].as_f64().unwrap())
}

fn landmark(id: &str) -> Degrees {
    let all = features("landmarks.geojson");
    degrees(&all.iter().find(|one| one["id"] == id).unwrap()["geometry"]["coordinates"])
}

fn position((latitude, longitude): Degrees) -> Position {
    Position::from_degrees(latitude, longitude).unwrap()
}

/// Where somebody may be.
#[derive(Debug, Clone)]
enum Area {
    /// So far on both sides.
    Strip(f64),
    Corners(Vec<Degrees>),
}

#[derive(Debug, Clone)]
struct Case {
    name: &'static str,
    front: Degrees,
    rear: Degrees,
    stretch_m: (f64, f64),
    area: Area,
    threshold_arcmin: f64,
    inside: Side,
}

/// A map with metres east and north of its middle.
///
/// Polyconic: each parallel is an arc of the cone that touches it, true to scale (Snyder 1987, Map Projections: A Working
/// Manual, section 18; written from its geometry).
struct Map {
    middle: Degrees,
}

impl Map {
    // WGS 84 (NGA.STND.0036 v1.0.0, table 3.1)
    const A: f64 = 6_378_137.0;
    const F: f64 = 1.0 / 298.257_223_563;

    fn flat(&self, (latitude, longitude): Degrees) -> Flat {
        let e2 = Self::F * (2.0 - Self::F);
        let (phi, lambda) = (latitude.to_radians(), (longitude - self.middle.1).to_radians());
        let prime_vertical = Self::A / (1.0 - e2 * phi.sin().powi(2)).sqrt();
        let cone = prime_vertical / phi.tan();
        let angle = lambda * phi.sin();
        // the meridian between middle and parallel, by the radius halfway: the next term is the square of the distance
        // over the Earth's radius times the flattening
        let halfway = f64::midpoint(latitude, self.middle.0).to_radians();
        let meridian = Self::A * (1.0 - e2) / (1.0 - e2 * halfway.sin().powi(2)).powf(1.5);
        let north = meridian * (latitude - self.middle.0).to_radians();
        (cone * angle.sin(), north + cone * (1.0 - angle.cos()))
    }

    /// All zones drawn with geodesic edges: rings, of which the second and later ones are holes. Every zone that any case
    /// comes near is of this kind.
    fn zones(&self) -> Vec<Vec<Vec<Flat>>> {
        let ring =
            |ring: &Value| ring.as_array().unwrap().iter().map(|corner| self.flat(degrees(corner))).collect();
        let all = features("zones/marrowick.json");
        let is_geodesic = |edge: &Value| edge == "geodesic" || edge["runs"] == "geodesic";
        let polygons = all.iter().filter(|zone| {
            let edges = &zone["properties"]["edges"];
            edges.as_array().map_or_else(|| is_geodesic(edges), |each| each.iter().all(is_geodesic))
        });
        polygons
            .map(|zone| zone["geometry"]["coordinates"].as_array().unwrap().iter().map(ring).collect())
            .collect()
    }
}

/// Crossing number: how often a ray to the east meets the ring.
fn in_ring(ring: &[Flat], (x, y): Flat) -> bool {
    let mut inside = false;
    let mut before = ring[ring.len() - 1];
    for corner in ring {
        if (corner.1 > y) != (before.1 > y) {
            let meets = corner.0 + (y - corner.1) / (before.1 - corner.1) * (before.0 - corner.0);
            inside ^= x < meets;
        }
        before = *corner;
    }
    inside
}

/// Areas by the six kinds of water, in square metres.
#[derive(Debug, Default)]
struct Counted {
    clear: f64,
    in_line: f64,
    seen: f64,
    forgone: f64,
    open_in_line: f64,
    open: f64,
}

impl Counted {
    fn false_clear(&self) -> f64 {
        self.clear + self.in_line
    }
}

/// The area as a ring on the map.
fn area_ring(case: &Case, map: &Map) -> Vec<Flat> {
    let (front, rear) = (map.flat(case.front), map.flat(case.rear));
    match &case.area {
        Area::Corners(corners) => corners.iter().map(|corner| map.flat(*corner)).collect(),
        Area::Strip(half_m) => {
            let (east, north) = (front.0 - rear.0, front.1 - rear.1);
            let separation = east.hypot(north);
            let (east, north) = (east / separation, north / separation);
            let place = |along: f64, off: f64| {
                (front.0 + along * east - off * north, front.1 + along * north + off * east)
            };
            let (near, far) = case.stretch_m;
            vec![place(near, -half_m), place(far, -half_m), place(far, *half_m), place(near, *half_m)]
        }
    }
}

fn count(case: &Case) -> Counted {
    let map = Map { middle: case.front };
    let (front, rear) = (map.flat(case.front), map.flat(case.rear));
    let area = area_ring(case, &map);
    let zones = map.zones();
    let threshold = (case.threshold_arcmin / 60.0).to_radians();
    let sign = if case.inside == Side::Right { 1.0 } else { -1.0 };
    let mut counted = Counted::default();
    each_point(&area, |point| {
        let bearing = |mark: Flat| (mark.0 - point.0).atan2(mark.1 - point.1);
        let turn = bearing(rear) - bearing(front);
        let to_the_right = turn.sin().atan2(turn.cos());
        let in_zone =
            zones.iter().any(|zone| zone.iter().filter(|ring| in_ring(ring, point)).count() % 2 == 1);
        let kind = match (in_zone, to_the_right.abs() < threshold, sign * to_the_right > 0.0) {
            (true, true, _) => &mut counted.in_line,
            (true, false, true) => &mut counted.seen,
            (true, false, false) => &mut counted.clear,
            (false, true, _) => &mut counted.open_in_line,
            (false, false, true) => &mut counted.forgone,
            (false, false, false) => &mut counted.open,
        };
        *kind += GRID_M * GRID_M;
    });
    counted
}

/// Every point of the grid that lies in the area.
fn each_point(area: &[Flat], mut visit: impl FnMut(Flat)) {
    let (sin, cos) = GRID_TURN.sin_cos();
    let turned: Vec<Flat> = area.iter().map(|(x, y)| (x * cos + y * sin, y * cos - x * sin)).collect();
    let least = |of: fn(&Flat) -> f64| turned.iter().map(of).fold(f64::INFINITY, f64::min);
    let greatest = |of: fn(&Flat) -> f64| turned.iter().map(of).fold(f64::NEG_INFINITY, f64::max);
    let (west, south) = (least(|at| at.0), least(|at| at.1));
    let (east, north) = (greatest(|at| at.0), greatest(|at| at.1));
    let mut y = south + 0.4 * GRID_M;
    while y < north {
        let mut x = west + 0.6 * GRID_M;
        while x < east {
            let point = (x * cos - y * sin, x * sin + y * cos);
            if in_ring(area, point) {
                visit(point);
            }
            x += GRID_M;
        }
        y += GRID_M;
    }
}

fn ours(case: &Case) -> ViewedWater {
    let zones = ZoneSet::new(zone_file::read("marrowick.json", &demo("zones/marrowick.json")).unwrap().zones);
    let mark = |name, at| Landmark::at(name, position(at));
    let line = RangeLine::through(mark("front", case.front), mark("rear", case.rear)).unwrap();
    let metres = |metres| Metres::new(metres).unwrap();
    let stretch = Stretch::new(metres(case.stretch_m.0), metres(case.stretch_m.1)).unwrap();
    let mut question = TransitQuestion::about(stretch);
    question.eye = Eye::new(metres(0.9), Arcminutes::new(case.threshold_arcmin).unwrap()).unwrap();
    question.area = match &case.area {
        Area::Strip(half_width) => WorkingArea::Strip { half_width: metres(*half_width) },
        Area::Corners(corners) => {
            WorkingArea::polygon(corners.iter().map(|corner| position(*corner)).collect()).unwrap()
        }
    };
    line.look_at_water(&zones, &question, case.inside)
}

/// Prints one figure beside its count and returns by how many per cent it is off.
fn compared(case: &str, what: &str, ours_m2: f64, counted_m2: f64) -> f64 {
    let per_cent = if counted_m2 == 0.0 { 0.0 } else { (ours_m2 / counted_m2 - 1.0) * 100.0 };
    println!("{case:<58} {what:<12} {ours_m2:>10.0} m² {counted_m2:>10.0} counted {per_cent:>+8.3} %");
    per_cent.abs()
}

fn agrees(case: &Case) -> (ViewedWater, Counted) {
    let (water, counted) = (ours(case), count(case));
    let figures = [
        ("false-safe", water.false_clear_m2(), counted.false_clear()),
        ("… clear", water.false_clear_open_m2, counted.clear),
        ("… in line", water.false_clear_in_line_m2, counted.in_line),
        ("seen inside", water.inside_and_seen_m2, counted.seen),
        ("given away", water.forgone_m2, counted.forgone),
        ("open in line", water.open_in_line_m2, counted.open_in_line),
        ("open", water.open_and_clear_m2, counted.open),
    ];
    for (what, ours_m2, counted_m2) in figures {
        let off = compared(case.name, what, ours_m2, counted_m2);
        // a narrow band has much border for little water, and the grid is not good to a thousandth of it: kinds of water
        // that take up less than a twentieth of the area are held to the area instead
        let large = counted_m2 > 0.05 * water.area_m2;
        let off_m2 = (ours_m2 - counted_m2).abs();
        let holds = if large { off < ALLOWED_PER_CENT } else { off_m2 < 1e-4 * water.area_m2 };
        assert!(holds, "{}: {what} {ours_m2} m², counted {counted_m2} m²", case.name);
    }
    (water, counted)
}

/// A case that has false-safe water worth counting.
fn agrees_on_false_safe(case: &Case) {
    let (water, counted) = agrees(case);
    assert!(counted.false_clear() > 0.02 * water.area_m2, "{}: {counted:?}", case.name);
    let per_cent = (water.false_clear_m2() / counted.false_clear() - 1.0).abs() * 100.0;
    assert!(per_cent < ALLOWED_PER_CENT, "{}: {per_cent} %", case.name);
}

#[test]
fn mast_over_beacon_cuts_the_corner_of_nursery_bank() {
    agrees_on_false_safe(&Case {
        name: "mast over beacon, corner of Nursery Bank",
        front: landmark("day-beacon"),
        rear: landmark("mast"),
        stretch_m: (3000.0, 6000.0),
        area: Area::Strip(500.0),
        threshold_arcmin: 5.0,
        inside: Side::Right,
    });
}

#[test]
fn mast_over_pine_runs_through_winter_hollow() {
    agrees_on_false_safe(&Case {
        name: "mast over pine, through Winter Hollow",
        front: landmark("lone-pine"),
        rear: landmark("mast"),
        stretch_m: (2000.0, 5000.0),
        area: Area::Strip(700.0),
        threshold_arcmin: 5.0,
        inside: Side::Right,
    });
}

#[test]
fn pine_over_mast_runs_through_two_zones_that_overlap() {
    agrees_on_false_safe(&Case {
        name: "pine over mast, Gannet Bank and Petrel Ground",
        front: landmark("mast"),
        rear: landmark("lone-pine"),
        stretch_m: (1500.0, 5000.0),
        area: Area::Strip(800.0),
        threshold_arcmin: 3.0,
        inside: Side::Left,
    });
}

/// Mast and perch lead along the south edge of Lantern Reach, but inside; the lane in it counts once.
#[test]
fn mast_over_perch_runs_inside_lantern_reach() {
    agrees_on_false_safe(&Case {
        name: "mast over perch, ragged area off Lantern Reach",
        front: landmark("perch"),
        rear: landmark("mast"),
        stretch_m: (2500.0, 4800.0),
        area: Area::Corners(vec![
            (45.1010, -30.1640),
            (45.1180, -30.1660),
            (45.1120, -30.1800),
            (45.1240, -30.1930),
            (45.1030, -30.1980),
            (45.1070, -30.1830),
        ]),
        threshold_arcmin: 5.0,
        inside: Side::Left,
    });
}

/// On the map the line lies on the north edge of Sallow Cove to half a metre. But the two marks stand 30 m apart, and
/// the eye takes a band for the line that is 200 m wide on either side at 2 km.
#[test]
fn two_posts_thirty_metres_apart_look_good_on_a_map_only() {
    let case = Case {
        name: "bad pair: posts 30 m apart on the edge of Sallow Cove",
        front: (45.1240, -30.1165),
        rear: (45.1240, -30.116_118_6),
        stretch_m: (100.0, 2600.0),
        area: Area::Strip(500.0),
        threshold_arcmin: 5.0,
        inside: Side::Right,
    };
    let map = Map { middle: case.front };
    let (east, north) = map.flat(case.rear);
    assert!((east.hypot(north) - 30.0).abs() < 0.1, "{east} {north}");
    agrees_on_false_safe(&case);
    let water = ours(&case);
    assert!(water.false_clear_in_line_m2 > 0.99 * water.false_clear_m2(), "{water:?}");
}

/// Between the marks the angle is near half a turn, and the side still tells.
#[test]
fn beacon_over_perch_is_asked_about_from_between_the_two() {
    agrees_on_false_safe(&Case {
        name: "beacon over perch, from between them",
        front: landmark("perch"),
        rear: landmark("day-beacon"),
        stretch_m: (100.0, 200.0),
        area: Area::Corners(vec![
            (45.1085, -30.1420),
            (45.1090, -30.1190),
            (45.1245, -30.1210),
            (45.1275, -30.1300),
            (45.1235, -30.1450),
        ]),
        threshold_arcmin: 5.0,
        inside: Side::Left,
    });
}

/// The good pair: the line keeps 100 m north of Sallow Cove, so nothing is false-safe and that much is given away.
#[test]
fn pine_over_beacon_gives_water_away_and_hides_none() {
    let (water, counted) = agrees(&Case {
        name: "good pair: pine over beacon, north of Sallow Cove",
        front: landmark("day-beacon"),
        rear: landmark("lone-pine"),
        stretch_m: (100.0, 1500.0),
        area: Area::Strip(500.0),
        threshold_arcmin: 5.0,
        inside: Side::Right,
    });
    assert!(water.false_clear_m2() < 1e-9 && counted.false_clear() < 1e-9, "{water:?}");
    assert!(water.false_clear.is_empty() && water.forgone.len() == 1, "{water:?}");
}
