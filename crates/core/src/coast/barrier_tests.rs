//! Where ways meet lines, against sampling and plane geometry.

use proptest::prelude::*;

use super::test_coasts::{islands, isle, line, metres, place, star};
use super::{Barrier, Coast, CoastLine, NoCrossing};
use crate::Position;
use crate::geodesic::{direct, inverse, surface};

fn barrier(coast: &Coast, about: Position) -> Barrier<'_> {
    Barrier::new(&[coast], &[], (about, 0.0), 200_000.0)
}

/// Distance in metres of a place on the way from the coast, without the index's help.
fn off_m(coast: &Coast, from: Position, bearing_deg: f64, way_m: f64) -> f64 {
    coast.nearest(direct(from, bearing_deg, way_m)).map_or(f64::INFINITY, |(away, _)| away.metres())
}

#[test]
fn a_way_meets_the_beach_where_it_lies() {
    let coast = isle();
    let from = place(45.115, -30.16);
    let barrier = barrier(&coast, from);
    let met_m = barrier.met_at_m(from, 90.0, 10_000.0).expect("meets the west side");
    assert!(off_m(&coast, from, 90.0, met_m) < 1e-3);
    // 0.02 degrees of longitude at 45.115 N are 1575 m (WGS 84, worked out with Karney's inverse)
    assert!((met_m - inverse(from, place(45.115, -30.14)).distance_m).abs() < 0.2, "{met_m}");
    assert_eq!(barrier.met_at_m(from, 90.0, met_m - 0.01), None);
    assert_eq!(barrier.met_at_m(from, 270.0, 100_000.0), None);
}

#[test]
fn to_touch_a_vertex_is_to_meet_it() {
    let coast = isle();
    let corner = place(45.13, -30.14);
    for (from, side) in
        [(place(45.12, -30.18), "aside"), (place(45.20, -30.14), "north"), (place(45.0, -30.3), "far")]
    {
        let barrier = barrier(&coast, from);
        let to_corner = inverse(from, corner);
        let met_m = barrier.met_at_m(from, to_corner.azimuth_start_deg, 200_000.0).expect(side);
        assert!(
            (met_m - to_corner.distance_m).abs() < 2e-3 || side == "far",
            "{side}: {met_m} {}",
            to_corner.distance_m
        );
    }
}

#[test]
fn a_boat_on_the_beach_leaves_seaward_and_crosses_no_land() {
    let coast = isle(); // known to 10 m
    let beach = place(45.115, -30.14);
    for inland_m in [0.0, 0.5, 9.0] {
        let from = direct(beach, 90.0, inland_m);
        let barrier = barrier(&coast, from);
        assert_eq!(barrier.met_at_m(from, 270.0, 50_000.0), None, "{inland_m} m inland, to sea");
        assert_eq!(barrier.met_at_m(from, 260.0, 50_000.0), None, "{inland_m} m inland, to sea");
        assert_eq!(barrier.met_at_m(from, 90.0, 50_000.0), Some(0.0), "{inland_m} m inland, over the isle");
        assert_eq!(
            barrier.met_at_m(from, 0.0, 100.0),
            if inland_m > 0.0 { Some(0.0) } else { barrier.met_at_m(from, 0.0, 100.0) }
        );
        assert!(!barrier.covers((250.0, 290.0), 1e6));
    }
    let inland = direct(beach, 90.0, 10.5);
    let inland_barrier = barrier(&coast, inland);
    assert_eq!(inland_barrier.met_at_m(inland, 270.0, 50_000.0), Some(0.0));
    assert!(inland_barrier.covers((0.0, 360.0), 0.0));
    let afloat = direct(beach, 270.0, 5.0);
    let afloat_barrier = barrier(&coast, afloat);
    assert!((afloat_barrier.met_at_m(afloat, 90.0, 50_000.0).expect("the beach") - 5.0).abs() < 1e-3);
    assert_eq!(afloat_barrier.met_at_m(afloat, 270.0, 50_000.0), None);
}

/// A cove: launching from its head, the way out is clear, and the headland beside it is met.
#[test]
fn what_lies_beyond_the_launch_counts() {
    let cove = [
        (45.10, -30.14),
        (45.114, -30.14),
        (45.114, -30.135),
        (45.116, -30.135),
        (45.116, -30.14),
        (45.13, -30.14),
        (45.13, -30.10),
        (45.10, -30.10),
    ];
    let coast = Coast::from_lines(vec![CoastLine::island(line(&cove))], metres(10.0)).expect("is sound");
    let from = direct(place(45.115, -30.135), 90.0, 3.0);
    let barrier = barrier(&coast, from);
    assert_eq!(barrier.met_at_m(from, 270.0, 20_000.0), None);
    let met_m = barrier.met_at_m(from, 315.0, 20_000.0).expect("the cove's north side");
    assert!((100.0..250.0).contains(&met_m), "{met_m}");
    assert!(barrier.covers((310.0, 320.0), 300.0));
    assert!(!barrier.covers((265.0, 275.0), 1e6));
}

#[test]
fn shore_sides_of_zones_are_crossed_from_land_only() {
    // the shore runs south, land on its left, to the east
    let shore = NoCrossing {
        positions: line(&[(45.13, -30.14), (45.10, -30.14)]),
        has_land_on_left: true,
        uncertainty_m: 20.0,
    };
    let beach = place(45.115, -30.14);
    for (off, bearing_deg, wanted) in [
        (15.0, 270.0, None),
        (15.0, 90.0, Some(0.0)),
        (0.0, 270.0, None),
        (0.0, 90.0, Some(0.0)),
        (30.0, 270.0, Some(0.0)),
    ] {
        let from = direct(beach, 90.0, off);
        let barrier = Barrier::new(&[], std::slice::from_ref(&shore), (from, 0.0), 100_000.0);
        assert_eq!(barrier.met_at_m(from, bearing_deg, 5_000.0), wanted, "{off} m inland on {bearing_deg}");
    }
    // of an open line nobody knows the side: it is crossed from neither
    let unknown = NoCrossing { has_land_on_left: false, ..shore };
    for bearing_deg in [90.0, 270.0] {
        let from = direct(beach, bearing_deg + 180.0, 5.0);
        let barrier = Barrier::new(&[], std::slice::from_ref(&unknown), (from, 0.0), 100_000.0);
        assert!((barrier.met_at_m(from, bearing_deg, 5_000.0).expect("meets it") - 5.0).abs() < 1e-3);
        let on_it = Barrier::new(&[], std::slice::from_ref(&unknown), (beach, 0.0), 100_000.0);
        assert_eq!(on_it.met_at_m(beach, bearing_deg, 5_000.0), Some(0.0));
    }
    assert!(Barrier::new(&[], &[], (beach, 0.0), 1_000.0).is_empty());
}

#[test]
fn lines_that_cannot_be_are_left_out() {
    let point =
        NoCrossing { positions: vec![place(45.1, -30.1)], has_land_on_left: true, uncertainty_m: 1.0 };
    let shore = NoCrossing { positions: line(&[(45.13, -30.14), (45.10, -30.14)]), ..point.clone() };
    let from = place(45.115, -30.15);
    let barrier = Barrier::new(&[], &[point, shore], (from, 0.0), 100_000.0);
    assert!(barrier.met_at_m(from, 90.0, 5_000.0).is_some());
    assert_eq!(barrier.met_at_m(from, 270.0, f64::NAN), None);
    assert!(!barrier.covers((f64::NAN, 3.0), 1e9));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// The place told lies on the line, and nothing is met before: sampled every hundredth of the way, no sample lies on the other
    /// side, and all are as far from the line as the nearest point says. Anywhere, over all sizes.
    #[test]
    fn the_first_meeting_is_on_the_line_and_none_is_before(
        lat in -89.0..89.0_f64, lon in -180.0..180.0_f64,
        rays in prop::collection::vec(0.3..1.0_f64, 5..80),
        size in 1.5..5.0_f64, bearing_deg in 0.0..360.0_f64, away in 1.01..3.0_f64, aim_deg in -50.0..50.0_f64,
    ) {
        let size_m = 10.0_f64.powf(size);
        let rays_m: Vec<f64> = rays.iter().map(|ray| ray * size_m).collect();
        let centre = place(lat, lon);
        let coast = Coast::from_lines(vec![CoastLine::island(star(centre, &rays_m))], metres(0.0)).expect("is sound");
        let from = direct(centre, bearing_deg, away * size_m);
        let aim_deg = inverse(from, centre).azimuth_start_deg + aim_deg;
        let barrier = barrier(&coast, from);
        let way_m = 6.0 * size_m;
        let met_m = barrier.met_at_m(from, aim_deg, way_m);
        if let Some(met_m) = met_m {
            prop_assert!(off_m(&coast, from, aim_deg, met_m) < 1e-3 + 1e-8 * met_m, "{} m off", off_m(&coast, from, aim_deg, met_m));
        }
        let clear_m = met_m.unwrap_or(way_m);
        for step in 0..200 {
            let at = direct(from, aim_deg, clear_m * f64::from(step) / 200.0);
            prop_assert!(coast.strands().times_on_land(surface(at).point) == Some(0), "on land at {}", step);
        }
        // and a narrow sector that is covered has every way in it meet by then
        for width_deg in [0.001, 0.1, 1.0, 10.0] {
            for beyond_m in [size_m, 2.0 * size_m, 4.0 * size_m] {
                let sector = (aim_deg - width_deg, aim_deg + width_deg);
                if barrier.covers(sector, beyond_m) {
                    for step in 0..=20 {
                        let on = sector.0 + (sector.1 - sector.0) * f64::from(step) / 20.0;
                        prop_assert!(barrier.met_at_m(from, on, beyond_m).is_some(), "{} of {:?}", on, sector);
                    }
                } else if width_deg < 0.01 && met_m.is_some_and(|met_m| met_m < 0.5 * beyond_m) {
                    // a sector that narrow is told apart wherever the line is met well before, but for its edges
                    let ways = [-1.2, 0.0, 1.2].map(|turn| barrier.met_at_m(from, aim_deg + turn * width_deg, beyond_m));
                    prop_assert!(ways.iter().any(|way| way.is_none_or(|way_m| way_m > 0.5 * beyond_m)), "{:?}", ways);
                }
            }
        }
    }
}

/// Real coasts, ways of up to 100 km from places off them.
#[test]
fn ways_about_real_islands_meet_them_where_they_lie() {
    let mut chance = crate::test_util::Chance::new(7);
    let (mut met, mut asked) = (0, 0);
    for (id, ring) in islands() {
        let coast = Coast::from_lines(vec![CoastLine::island(ring.clone())], metres(0.0)).expect("is sound");
        for _ in 0..25 {
            let from = direct(
                ring[chance.below(ring.len())],
                chance.between(0.0, 360.0),
                chance.between(10.0, 20_000.0),
            );
            if coast.strands().times_on_land(surface(from).point) != Some(0) {
                continue;
            }
            let barrier = barrier(&coast, from);
            let bearing_deg = chance.between(0.0, 360.0);
            let found_m = barrier.met_at_m(from, bearing_deg, 100_000.0);
            asked += 1;
            if let Some(found_m) = found_m {
                met += 1;
                let off_m = off_m(&coast, from, bearing_deg, found_m);
                assert!(off_m < 1e-3, "{id}: {off_m} m off after {found_m} m");
            }
            for step in 1..100 {
                let at = direct(from, bearing_deg, found_m.unwrap_or(100_000.0) * f64::from(step) / 100.0);
                let times = coast.strands().times_on_land(surface(at).point);
                assert!(matches!(times, Some(0) | None), "{id}: on land on the way");
            }
        }
    }
    println!("{met} of {asked} ways met a coast");
    assert!(met > 30 && asked - met > 5);
}

/// Twenty thousand vertices: how long it takes is printed, not judged.
#[test]
fn a_coast_of_twenty_thousand_vertices_is_quick() {
    let mut chance = crate::test_util::Chance::new(3);
    let rays_m: Vec<f64> = (0..20_000).map(|_| chance.between(4_900.0, 5_000.0)).collect();
    let centre = place(45.115, -30.12);
    let now = std::time::Instant::now();
    let coast =
        Coast::from_lines(vec![CoastLine::island(star(centre, &rays_m))], metres(5.0)).expect("is sound");
    println!("built in {:?}", now.elapsed());
    let from = direct(centre, 200.0, 6_000.0);
    let now = std::time::Instant::now();
    let barrier = barrier(&coast, from);
    println!("barrier in {:?}", now.elapsed());
    let now = std::time::Instant::now();
    let covered = barrier.covers((10.0, 30.0), 2_000.0);
    println!("first sector in {:?}: {covered}", now.elapsed());
    let now = std::time::Instant::now();
    let covered = (0..1_000)
        .filter(|at| barrier.covers((f64::from(*at) * 0.36, f64::from(*at) * 0.36 + 1.0), 8_000.0))
        .count();
    println!("sector in {:?}, {covered} covered", now.elapsed() / 1_000);
    let now = std::time::Instant::now();
    let met =
        (0..1_000).filter(|at| barrier.met_at_m(from, f64::from(*at) * 0.36, 100_000.0).is_some()).count();
    println!("way in {:?}, {met} met", now.elapsed() / 1_000);
    let now = std::time::Instant::now();
    let on_land = (0..1_000)
        .filter(|at| {
            coast.is_on_land(direct(centre, f64::from(*at), 5.0 * f64::from(*at) + 1_000.0))
                == crate::Tristate::Yes
        })
        .count();
    println!("land in {:?}, {on_land} on it", now.elapsed() / 1_000);
    assert!((150..400).contains(&met) && on_land > 700);
}
