//! The water of all zones together, against a count of cells: boxes of parallels and meridians anywhere on the Earth, whose areas
//! a formula gives that shares nothing with the plane.

use takeline::rule::Take;
use takeline::test_util::Chance;
use takeline::zone::{Extent, Zone};
use takeline::{Boundary, EdgeModel, Longitude, PartSpec, Position, RingSpec};

use super::{SetWater, Water, compare};

/// A longitude from -180° to 180°.
fn wrapped(lon: f64) -> f64 {
    Longitude::wrapping(lon).degrees()
}

/// A longitude from 0° to 360°.
fn turned(lon: f64) -> f64 {
    let signed = wrapped(lon);
    if signed < 0.0 { signed + 360.0 } else { signed }
}

/// South, west, width and height, in degrees; the west from -180 to 180.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Box {
    south: f64,
    west: f64,
    width: f64,
    height: f64,
}

fn place(lat: f64, lon: f64) -> Position {
    let lon = if lon >= 180.0 { lon - 360.0 } else { lon };
    Position::from_degrees(lat, lon).unwrap()
}

fn part(one: &Box) -> PartSpec {
    let (north, east) = (one.south + one.height, one.west + one.width);
    let vertices =
        vec![place(one.south, one.west), place(one.south, east), place(north, east), place(north, one.west)];
    let exterior = RingSpec { edges: vec![EdgeModel::RhumbLine; 4], vertices, sides: Vec::new() };
    PartSpec::Polygon { exterior, holes: Vec::new() }
}

fn boundary(boxes: &[Box]) -> Boundary {
    Boundary::build(&boxes.iter().map(part).collect::<Vec<_>>()).unwrap()
}

/// The area between two parallels over so many degrees of longitude, on WGS 84: Snyder (1987), eq. 3-12 in its logarithmic form,
/// times half the square of the equatorial radius.
fn band_m2(south: f64, north: f64, width: f64) -> f64 {
    const A_M: f64 = 6_378_137.0;
    const F: f64 = 1.0 / 298.257_223_563;
    let e2 = F * (2.0 - F);
    let e = e2.sqrt();
    let q = |lat: f64| {
        let s = lat.to_radians().sin();
        (1.0 - e2) * (s / (1.0 - e2 * s * s) - ((1.0 - e * s) / (1.0 + e * s)).ln() / (2.0 * e))
    };
    A_M * A_M / 2.0 * (q(north) - q(south)) * width.to_radians()
}

fn covers(one: &Box, lat: f64, lon: f64) -> bool {
    let east = turned(lon - one.west);
    lat > one.south && lat < one.south + one.height && east > 0.0 && east < one.width
}

/// What lies in some boxes and in none of the others, counted cell by cell.
fn counted_m2(boxes: &[Box], others: &[Box]) -> f64 {
    let all = || boxes.iter().chain(others);
    let sorted = |mut list: Vec<f64>| {
        list.sort_by(f64::total_cmp);
        list.dedup();
        list
    };
    let lats = sorted(all().flat_map(|one| [one.south, one.south + one.height]).collect());
    let round = turned;
    let lons = all().flat_map(|one| [round(one.west), round(one.west + one.width)]);
    let lons = sorted(lons.chain([0.0, 360.0]).collect());
    let mut area_m2 = 0.0;
    for lat in lats.windows(2) {
        for lon in lons.windows(2) {
            let (y, x) = (f64::midpoint(lat[0], lat[1]), f64::midpoint(lon[0], lon[1]));
            let within = |list: &[Box]| list.iter().any(|one| covers(one, y, x));
            if within(boxes) && !within(others) {
                area_m2 += band_m2(lat[0], lat[1], lon[1] - lon[0]);
            }
        }
    }
    area_m2
}

/// Middles about which boxes are drawn: both sides of 180°, half way round, near the poles, at one place.
const MIDDLES: [(f64, f64); 8] = [
    (-16.5, 180.0),
    (51.0, 0.0),
    (51.0, 180.0),
    (45.1, -30.1),
    (88.9, 100.0),
    (-89.5, -179.9),
    (0.0, 90.0),
    (0.0, -90.0),
];

fn drawn(chance: &mut Chance, size_deg: f64) -> Box {
    let (lat, lon) = MIDDLES[chance.below(MIDDLES.len())];
    // on a coarse grid, so that sides often lie upon each other
    let step = |value: f64| (value / size_deg * 8.0).round() * size_deg / 8.0;
    let height = step(chance.between(0.2, 1.0) * size_deg).max(size_deg / 8.0);
    let south = (lat + step(chance.between(-1.0, 1.0) * size_deg)).clamp(-89.99, 89.99 - height);
    let west = lon + step(chance.between(-2.0, 2.0) * size_deg);
    let west = wrapped(west);
    Box { south, west, width: step(chance.between(0.2, 2.0) * size_deg).max(size_deg / 8.0), height }
}

fn zone(id: usize, one: &Box, take: Take) -> Zone {
    Zone::new(format!("zone-{id}"), "Zone", Extent::Known(boundary(&[*one])), take.into())
}

#[track_caller]
fn assert_near(found_m2: f64, counted_m2: f64, all_m2: f64, what: &str) {
    // lines are drawn to 5 mm: a box of 100 m has a ten thousandth of its area along them
    let allowed_m2 = 1e-7 * all_m2 + 2e-4 * counted_m2 + 2.0;
    assert!((found_m2 - counted_m2).abs() <= allowed_m2, "{what}: {found_m2} m² for {counted_m2} m²");
}

/// At full size: `TAKELINE_EDITIONS=20000 cargo test --release -p takeline-drafting all_zones_together`.
#[test]
fn water_of_all_zones_together_is_that_of_counted_cells() {
    let rounds: usize = std::env::var("TAKELINE_EDITIONS").map_or(60, |count| count.parse().unwrap());
    let mut chance = Chance::new(180);
    for number in 0..rounds {
        let size_deg = [0.01, 0.08, 0.64][chance.below(3)];
        let count = 1 + chance.below(14);
        let old: Vec<Box> = (0..count).map(|_| drawn(&mut chance, size_deg)).collect();
        let mut new = old.clone();
        for one in &mut new {
            match chance.below(3) {
                0 => *one = drawn(&mut chance, size_deg),
                // a line that moves by less than it is printed counts as the same, and near a pole a degree is short
                1 if one.south.abs() > 80.0 => one.south -= size_deg / 8.0 * one.south.signum(),
                1 => one.west = wrapped(one.west + size_deg / 8.0),
                _ => {}
            }
        }
        new.truncate(1 + chance.below(count));
        let closed = |at: usize| if at.is_multiple_of(3) { Take::Anything } else { Take::Nothing };
        let zones = |boxes: &[Box]| -> Vec<Zone> {
            boxes.iter().enumerate().map(|(at, one)| zone(at, one, closed(at))).collect()
        };
        let only = |boxes: &[Box]| -> Vec<Box> {
            boxes.iter().enumerate().filter(|(at, _)| !at.is_multiple_of(3)).map(|(_, one)| *one).collect()
        };
        let (before, now) = (zones(&old), zones(&new));
        let found: SetWater = compare(&before, &now).water.unwrap();
        let (old, new) = (only(&old), only(&new));
        let all_m2 = counted_m2(&old, &[]) + counted_m2(&new, &[]);
        assert_near(found.newly_closed_m2, counted_m2(&new, &old), all_m2, &format!("{number}, closed"));
        let opened_m2 = found.no_longer_closed_m2.unwrap();
        assert_near(opened_m2, counted_m2(&old, &new), all_m2, &format!("{number}, open"));
    }
}

/// One zone of many parts, some of which moved, came or went, on both sides of 180° and half way round from there.
#[test]
fn water_of_a_zone_with_parts_all_over_the_earth_is_that_of_counted_cells() {
    let mut chance = Chance::new(31);
    for number in 0..40 {
        let mut old: Vec<Box> = Vec::new();
        for (lat, lon) in MIDDLES {
            let size_deg = 0.05;
            for at in 0..=chance.below(6) {
                let west = lon + 2.0 * size_deg * f64::from(u32::try_from(at).unwrap()) - 0.07;
                let west = wrapped(west);
                old.push(Box { south: lat - 0.02, west, width: size_deg, height: 0.04 });
            }
        }
        let mut new = old.clone();
        for one in &mut new {
            if chance.below(2) == 0 {
                one.west = wrapped(one.west + chance.between(-0.01, 0.01));
                one.height *= chance.between(0.5, 1.0);
            }
        }
        let _ = new.swap_remove(chance.below(new.len()));
        let water = Water::between(&boundary(&old), &boundary(&new)).unwrap();
        let all_m2 = counted_m2(&old, &[]);
        assert_near(water.gained_m2, counted_m2(&new, &old), all_m2, &format!("{number}, gained"));
        assert_near(water.lost_m2, counted_m2(&old, &new), all_m2, &format!("{number}, lost"));
    }
}

/// The zone "fiji" of the finding has no part in what is told half way round from it.
#[test]
fn a_zone_across_180_degrees_does_not_count_where_another_zone_went() {
    let far = Box { south: 51.0, west: 0.0, width: 0.1, height: 0.1 };
    let across = Box { south: -17.0, west: 179.9, width: 0.2, height: 0.1 };
    let ring = |corners: [(f64, f64); 4]| {
        let vertices = corners.iter().map(|(lat, lon)| place(*lat, *lon)).collect();
        let exterior = RingSpec { vertices, edges: vec![EdgeModel::RhumbLine; 4], sides: Vec::new() };
        Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }]).unwrap()
    };
    // it begins on the other side of 180°, and a corner moved by 0.001°
    let moved = ring([(-17.0, -179.9), (-16.9, -179.9), (-16.9, 179.9), (-17.0, 179.901)]);
    let new = [Zone::new("zone-1", "Zone", Extent::Known(moved), Take::Nothing.into())];
    let old = [zone(0, &far, Take::Nothing), zone(1, &across, Take::Nothing)];
    let water = compare(&old, &new).water.unwrap();
    let gone_m2 = band_m2(51.0, 51.1, 0.1);
    let opened_m2 = water.no_longer_closed_m2.unwrap();
    // a triangle of half of 0.001° by 0.1°
    let sliver_m2 = band_m2(-17.0, -16.9, 0.001) / 2.0;
    assert!(water.newly_closed_m2 < 1.0, "{}", water.newly_closed_m2);
    assert!((opened_m2 / (gone_m2 + sliver_m2) - 1.0).abs() < 1e-4, "{opened_m2}");
}

/// Where zones go round the whole Earth, there is no gap to cut it in.
#[test]
fn a_band_round_the_earth_that_grew_is_measured_once() {
    let band = |height: f64| -> Vec<Zone> {
        let at = |number: usize| {
            let west = [-140.0, -50.0, 40.0, 130.0][number];
            zone(number, &Box { south: 50.0, west, width: 100.0, height }, Take::Nothing)
        };
        (0..4).map(at).collect()
    };
    let (old, new) = (band(0.2), band(0.3));
    let water = compare(&old, &new).water.unwrap();
    let ring_m2 = band_m2(50.2, 50.3, 360.0);
    assert!((water.newly_closed_m2 / ring_m2 - 1.0).abs() < 1e-6, "{} {ring_m2}", water.newly_closed_m2);
    assert!(water.no_longer_closed_m2.unwrap() < 1.0);
}

/// A zone about a pole is not measured: no figure is told in place of it.
#[test]
fn a_zone_about_a_pole_leaves_no_figure() {
    let cap = |lat: f64| {
        let vertices = [0.0, 90.0, 180.0, -90.0].map(|lon| place(lat, lon)).to_vec();
        let exterior = RingSpec { vertices, edges: vec![EdgeModel::RhumbLine; 4], sides: Vec::new() };
        Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }]).unwrap()
    };
    let of = |boundary| [Zone::new("cap", "Cap", Extent::Known(boundary), Take::Nothing.into())];
    let (old, new) = (of(cap(80.0)), of(cap(81.0)));
    let comparison = compare(&old, &new);
    assert!(comparison.water.is_none() && comparison.changed[0].line().unwrap().water.is_none());
    // but one that lies elsewhere does not keep the others from being measured
    let one = Box { south: 45.0, west: -30.0, width: 0.1, height: 0.1 };
    let [cap_zone] = of(cap(80.0));
    let old = [cap_zone.clone(), zone(1, &one, Take::Nothing)];
    let water = compare(&old, std::slice::from_ref(&cap_zone)).water.unwrap();
    assert!((water.no_longer_closed_m2.unwrap() / band_m2(45.0, 45.1, 0.1) - 1.0).abs() < 1e-6);
}

/// Both took minutes and more while every ring was held to every other, and every zone to every other.
#[test]
fn a_thousand_parts_and_two_thousand_new_ids_are_compared_in_seconds() {
    let begins = std::time::Instant::now();
    let square = |number: usize, by: f64| {
        let (row, column) = (f64::from(u32::try_from(number / 40).unwrap()), number % 40);
        let west = -30.0 + 0.01 * f64::from(u32::try_from(column).unwrap()) + by;
        Box { south: 45.0 + 0.01 * row, west, width: 0.005, height: 0.005 }
    };
    let squares =
        |count: usize, by: f64| -> Vec<Box> { (0..count).map(|number| square(number, by)).collect() };
    let (old, new) = (boundary(&squares(1000, 0.0)), boundary(&squares(1000, 1e-5)));
    let change = super::LineChange::between(&old, &new).unwrap();
    assert_eq!((change.moved.len(), change.added.len(), change.rings_added.len()), (4000, 0, 0));
    assert!(change.moved.iter().all(|moved| moved.by.metres() < 1.0));
    let zones = |from: usize| -> Vec<Zone> {
        let boxes = squares(2000, 0.0);
        boxes.iter().enumerate().map(|(at, one)| zone(from + at, one, Take::Nothing)).collect()
    };
    let (old, new) = (zones(0), zones(5000));
    let comparison = compare(&old, &new);
    assert_eq!((comparison.changed.len(), comparison.added.len()), (2000, 0));
    assert!(comparison.changed.iter().all(|zone| zone.line().is_none()));
    let took = begins.elapsed();
    assert!(took.as_secs() < 60, "{took:?}");
}
