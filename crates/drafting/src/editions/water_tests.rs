//! Water gained and lost, against areas that were not made here.

use approx::assert_relative_eq;
use takeline::test_util::Chance;
use takeline::{Boundary, EdgeModel, GeodesicSegment, Metres, PartSpec, Position, RingSpec};

use super::{LineChange, Water};

fn place(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

fn polygon(vertices: Vec<Position>, edge: EdgeModel) -> Boundary {
    let edges = vec![edge; vertices.len()];
    let exterior = RingSpec { vertices, edges, sides: Vec::new() };
    Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }]).unwrap()
}

fn a_box([south, west, north, east]: [f64; 4]) -> Boundary {
    let corners = vec![place(south, west), place(south, east), place(north, east), place(north, west)];
    polygon(corners, EdgeModel::RhumbLine)
}

/// Values: `tests/data/editions`, GeographicLib. Promised are 0.1 %; the lines are drawn to 5 mm, which on the smallest
/// triangle (100 m) is less than that.
#[test]
fn water_gained_and_lost_is_that_of_geographiclib() {
    let text = include_str!("../../../../tests/data/editions/planimeter.csv");
    let ring = |text: &str| {
        let vertex = |text: &str| {
            let (lat, lon) = text.split_once(' ').unwrap();
            place(lat.parse().unwrap(), lon.parse().unwrap())
        };
        polygon(text.split(';').map(vertex).collect(), EdgeModel::Geodesic)
    };
    let mut rows = 0;
    for row in text.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let water = Water::between(&ring(cells[1]), &ring(cells[2])).unwrap();
        let (gained_m2, lost_m2): (f64, f64) = (cells[3].parse().unwrap(), cells[4].parse().unwrap());
        println!("{row:.2}: {:.2e} {:.2e}", water.gained_m2 / gained_m2 - 1.0, water.lost_m2 / lost_m2 - 1.0);
        assert_relative_eq!(water.gained_m2, gained_m2, max_relative = 1e-3);
        assert_relative_eq!(water.lost_m2, lost_m2, max_relative = 1e-3);
        rows += 1;
    }
    assert_eq!(rows, 12);
}

/// The difference of two boxes of parallels and meridians is a box, whose area the library measures in another way.
#[test]
fn a_box_that_grew_gained_a_box() {
    for (old, new, between) in [
        ([45.10, -30.14, 45.12, -30.12], [45.10, -30.14, 45.13, -30.12], [45.12, -30.14, 45.13, -30.12]),
        ([-16.8, 179.9, -16.6, -179.9], [-16.8, 179.9, -16.6, -179.8], [-16.8, -179.9, -16.6, -179.8]),
        // the two begin on either side of 180°
        ([-16.8, -179.9, -16.6, -179.8], [-16.8, 179.9, -16.6, -179.8], [-16.8, 179.9, -16.6, -179.9]),
        ([60.0, 2.0, 62.0, 8.0], [60.0, 1.5, 62.0, 8.0], [60.0, 1.5, 62.0, 2.0]),
        ([83.0, 10.0, 84.0, 40.0], [83.0, 10.0, 84.5, 40.0], [84.0, 10.0, 84.5, 40.0]),
    ] {
        let water = Water::between(&a_box(old), &a_box(new)).unwrap();
        assert_relative_eq!(water.gained_m2, a_box(between).area_m2(), max_relative = 1e-5);
        assert!(water.lost_m2 < 1e-6 * water.gained_m2, "{}", water.lost_m2);
        assert_eq!((water.gained.len(), water.lost.len()), (1, 0));
    }
}

#[test]
fn pieces_for_drawing_lie_where_the_water_is() {
    let (old, new) = (a_box([45.10, -30.14, 45.12, -30.12]), a_box([45.11, -30.15, 45.13, -30.13]));
    let water = Water::between(&old, &new).unwrap();
    for (pieces, area_m2) in [(&water.gained, water.gained_m2), (&water.lost, water.lost_m2)] {
        let drawn: f64 =
            pieces.iter().map(|piece| polygon(piece[0].clone(), EdgeModel::PlateCarree).area_m2()).sum();
        assert_relative_eq!(drawn, area_m2, max_relative = 1e-4);
    }
    for corner in water.gained.iter().flatten().flatten() {
        assert!(new.locate(*corner).signed_distance.metres() < 0.01, "{corner:?}");
        assert!(old.locate(*corner).signed_distance.metres() > -0.01, "{corner:?}");
    }
}

/// A star about a place: corners at rising bearings, at drawn distances.
fn star(centre: Position, radius_m: f64, chance: &mut Chance) -> Boundary {
    let corners = 3 + chance.below(9);
    let mut bearing_deg = 0.0;
    let mut vertices = Vec::new();
    for _ in 0..corners {
        bearing_deg += 360.0 / f64::from(u32::try_from(corners).unwrap());
        let away_m = Metres::new(radius_m * chance.between(0.4, 1.0)).unwrap();
        let bearing = takeline::TrueBearing::from_degrees(bearing_deg % 360.0).unwrap();
        vertices.push(GeodesicSegment::leaving(centre, bearing, away_m).unwrap().to());
    }
    let edge = [EdgeModel::Geodesic, EdgeModel::RhumbLine, EdgeModel::PlateCarree][chance.below(3)];
    polygon(vertices, edge)
}

/// At full size: `TAKELINE_EDITIONS=20000 cargo test --release -p takeline-drafting random_pairs`.
#[test]
fn of_random_pairs_gained_less_lost_is_the_difference_of_the_areas() {
    let pairs: usize = std::env::var("TAKELINE_EDITIONS").map_or(120, |count| count.parse().unwrap());
    let mut chance = Chance::new(13);
    for number in 0..pairs {
        let centre = place(chance.between(-80.0, 80.0), chance.between(-180.0, 180.0));
        let radius_m = 10_f64.powf(chance.between(2.0, 5.3));
        let old = star(centre, radius_m, &mut chance);
        let new = star(centre, radius_m, &mut chance);
        let water = Water::between(&old, &new).unwrap_or_else(|| panic!("pair {number} is not measured"));
        let (old_m2, new_m2) = (old.area_m2(), new.area_m2());
        let missed_m2 = water.gained_m2 - water.lost_m2 - (new_m2 - old_m2);
        assert!(missed_m2.abs() <= 1e-3 * old_m2.min(new_m2), "pair {number}: {missed_m2} m²");
    }
}

/// The islands that a boundary takes as they are, from `tests/data/natural-earth`.
fn islands() -> Vec<Vec<Position>> {
    let text = include_str!("../../../../tests/data/natural-earth/ne_10m_islands.geojson");
    let file: serde_json::Value = serde_json::from_str(text).unwrap();
    let ring = |feature: &serde_json::Value| -> Vec<Position> {
        let ring = feature["geometry"]["coordinates"][0].as_array().unwrap();
        let vertex = |at: &serde_json::Value| place(at[1].as_f64().unwrap(), at[0].as_f64().unwrap());
        ring[..ring.len() - 1].iter().map(vertex).collect()
    };
    let rings: Vec<_> = file["features"].as_array().unwrap().iter().map(ring).collect();
    assert_eq!(rings.len(), 9);
    rings
}

#[test]
fn islands_moved_by_ten_metres_are_found_moved_by_ten_metres() {
    let mut measured = 0;
    for ring in islands() {
        let north = takeline::TrueBearing::from_degrees(0.0).unwrap();
        let ten = Metres::new(10.0).unwrap();
        let shifted: Vec<Position> =
            ring.iter().map(|at| GeodesicSegment::leaving(*at, north, ten).unwrap().to()).collect();
        let build = |vertices: &[Position]| {
            let edges = vec![EdgeModel::Geodesic; vertices.len()];
            let exterior = RingSpec { vertices: vertices.to_vec(), edges, sides: Vec::new() };
            Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }])
        };
        // some coasts touch themselves, and no boundary takes them
        let (Ok(old), Ok(new)) = (build(&ring), build(&shifted)) else { continue };
        let change = LineChange::between(&old, &new).unwrap();
        // Vanua Levu has a vertex at 180° and again at -180°, which is one
        let next = ring.iter().cycle().skip(1);
        let apart = |pair: &(&Position, &Position)| {
            GeodesicSegment::between(*pair.0, *pair.1).length().metres() > 1e-3
        };
        assert_eq!(change.moved.len(), ring.iter().zip(next).filter(apart).count());
        assert!(change.added.is_empty() && change.removed.is_empty() && change.same_to.is_none());
        for moved in &change.moved {
            assert_relative_eq!(moved.by.metres(), 10.0, epsilon = 1e-6);
            assert_eq!(moved.from.vertex, moved.to.vertex);
        }
        // a coast that rounding has laid nearly onto itself may be a little farther from where it was
        let apart_m = change.apart.metres();
        assert!(apart_m > 8.0 && apart_m < 10.1, "{apart_m}");
        let water = change.water.unwrap();
        assert!(water.gained_m2 > 0.0 && (water.gained_m2 / water.lost_m2 - 1.0).abs() < 0.02);
        measured += 1;
    }
    assert!(measured >= 5, "{measured}");
}
