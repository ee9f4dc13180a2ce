//! What is land, what is near, and what lies between.

use proptest::prelude::*;

use super::test_coasts::{ISLE, islands, isle, line, metres, place, star};
use super::{Coast, CoastLine, InvalidCoast, LineKind, NoStretch};
use crate::geodesic::{direct, distance_m, inverse};
use crate::{Position, Tristate};

fn coast(lines: Vec<CoastLine>) -> Coast {
    Coast::from_lines(lines, metres(10.0)).expect("is sound")
}

#[test]
fn land_is_inside_and_within_the_uncertainty_nothing_is_known() {
    for listed in [ISLE.to_vec(), ISLE.iter().rev().copied().collect()] {
        let coast = coast(vec![CoastLine::island(line(&listed))]);
        assert!(coast.oddities().is_empty());
        assert_eq!(coast.is_on_land(place(45.115, -30.12)), Tristate::Yes);
        assert_eq!(coast.is_on_land(place(45.115, -30.15)), Tristate::No);
        assert_eq!(coast.is_on_land(place(-45.0, 149.0)), Tristate::No);
        let beach = place(45.115, -30.14);
        for (bearing_deg, off_m, wanted) in [
            (90.0, 9.9, Tristate::Undecided),
            (90.0, 10.1, Tristate::Yes),
            (270.0, 9.9, Tristate::Undecided),
            (270.0, 10.1, Tristate::No),
        ] {
            let there = direct(beach, bearing_deg, off_m);
            assert_eq!(coast.is_on_land(there), wanted, "{off_m} m off on {bearing_deg}");
            let (away, nearest) = coast.nearest(there).expect("has lines");
            assert!((away.metres() - off_m).abs() < 1e-3, "{away:?}");
            assert!(distance_m(nearest, beach) < 0.05);
        }
    }
}

#[test]
fn a_hole_is_water_and_an_isle_in_it_land() {
    let lake = [(45.11, -30.13), (45.12, -30.13), (45.12, -30.11), (45.11, -30.11)];
    let islet = [(45.114, -30.122), (45.116, -30.122), (45.116, -30.118), (45.114, -30.118)];
    let coast = coast(vec![
        CoastLine::island(line(&ISLE)),
        CoastLine::lake(line(&lake)),
        CoastLine::island(line(&islet)),
    ]);
    assert_eq!(coast.is_on_land(place(45.105, -30.12)), Tristate::Yes);
    assert_eq!(coast.is_on_land(place(45.112, -30.125)), Tristate::No);
    // an islet given as a ring of its own within the outer ring may as well be a pond, but here the lake is taken out
    assert_eq!(coast.is_on_land(place(45.115, -30.12)), Tristate::Yes);
    assert!(coast.oddities().is_empty(), "{:?}", coast.oddities());
}

#[test]
fn a_closed_line_within_land_leaves_land_undecided() {
    let pond = [(45.11, -30.13), (45.12, -30.13), (45.12, -30.11), (45.11, -30.11)];
    let coast = coast(vec![CoastLine::island(line(&ISLE)), CoastLine::island(line(&pond))]);
    assert_eq!(coast.is_on_land(place(45.115, -30.12)), Tristate::Undecided);
    assert_eq!(coast.oddities().len(), 1);
    assert!(coast.oddities()[0].text.contains("shore of a lake"));
}

#[test]
fn a_hole_outside_or_across_its_ring_leaves_its_water_undecided() {
    let outside = [(45.11, -30.09), (45.12, -30.09), (45.12, -30.08), (45.11, -30.08)];
    let across = [(45.11, -30.11), (45.12, -30.11), (45.12, -30.08), (45.11, -30.08)];
    for lake in [outside, across] {
        let coast = coast(vec![CoastLine::island(line(&ISLE)), CoastLine::lake(line(&lake))]);
        assert_eq!(coast.is_on_land(place(45.115, -30.085)), Tristate::Undecided);
        assert_eq!(coast.is_on_land(place(45.115, -30.135)), Tristate::Yes);
        assert_eq!(coast.oddities().len(), 1, "{:?}", coast.oddities());
    }
}

#[test]
fn of_an_open_line_nobody_knows_the_land() {
    let shore = CoastLine::open(line(&[(45.10, -30.30), (45.10, -30.20)]));
    let coast = coast(vec![shore, CoastLine::island(line(&ISLE))]);
    assert_eq!(coast.is_on_land(place(45.11, -30.25)), Tristate::Undecided);
    assert_eq!(coast.is_on_land(place(45.09, -30.25)), Tristate::Undecided);
    assert_eq!(coast.is_on_land(place(45.115, -30.12)), Tristate::Yes);
    // from here to the isle no line is passed, so this is the water that the isle lies in
    assert_eq!(coast.is_on_land(place(45.115, -30.145)), Tristate::No);
}

/// A figure of eight: both loops are undecided about the crossing, what lies farther off than either reaches is not.
#[test]
fn a_ring_that_crosses_itself_is_kept_and_undecided_where_it_may_be_wrong() {
    // a large square with a small loop at its north-east corner that turns the other way
    let knot = [
        (45.10, -30.14),
        (45.13, -30.14),
        (45.13, -30.10),
        (45.135, -30.098),
        (45.135, -30.10),
        (45.13, -30.098),
        (45.10, -30.10),
    ];
    for listed in [knot.to_vec(), knot.iter().rev().copied().collect()] {
        let coast = coast(vec![CoastLine::island(line(&listed))]);
        assert_eq!(coast.oddities().len(), 1, "{:?}", coast.oddities());
        assert!(coast.oddities()[0].text.contains("meets itself near"), "{:?}", coast.oddities());
        assert_eq!(coast.is_on_land(place(45.134, -30.099)), Tristate::Undecided);
        assert_eq!(coast.is_on_land(place(45.115, -30.12)), Tristate::Yes);
        assert_eq!(coast.is_on_land(place(45.115, -30.15)), Tristate::No);
    }
    let eight = [(45.10, -30.14), (45.13, -30.10), (45.13, -30.14), (45.10, -30.10)];
    let coast = coast(vec![CoastLine::island(line(&eight))]);
    for there in [(45.103, -30.12), (45.127, -30.12)] {
        assert_ne!(coast.is_on_land(place(there.0, there.1)), Tristate::No, "{there:?}");
    }
}

#[test]
fn what_is_no_line_is_refused_and_what_encloses_nothing_is_a_line() {
    assert_eq!(Coast::from_lines(vec![], metres(1.0)).unwrap_err(), InvalidCoast::Empty);
    let here = place(45.1, -30.1);
    for positions in [vec![], vec![here], vec![here, here, here]] {
        let refused = Coast::from_lines(vec![CoastLine::open(positions)], metres(1.0)).unwrap_err();
        assert!(refused.to_string().starts_with("line 1: "), "{refused}");
    }
    let far = Coast::from_lines(vec![CoastLine::open(line(&[(0.0, 0.0), (0.0, 180.0)]))], metres(1.0));
    assert!(matches!(far, Err(InvalidCoast::Line { line: 0, .. })), "{far:?}");
    let spike = coast(vec![CoastLine::island(line(&[(45.1, -30.1), (45.1, -30.2)]))]);
    assert_eq!(spike.lines()[0].kind, LineKind::Open);
    assert_eq!(spike.is_on_land(place(45.11, -30.15)), Tristate::Undecided);
}

#[test]
fn across_180_degrees_and_round_a_pole_land_is_inside() {
    let isle = coast(vec![CoastLine::island(line(&[
        (-17.0, 179.9),
        (-16.9, 180.0),
        (-17.0, -179.9),
        (-17.1, -180.0),
    ]))]);
    for lon in [179.95, 180.0, -180.0, -179.95] {
        assert_eq!(isle.is_on_land(place(-17.0, lon)), Tristate::Yes, "{lon}");
    }
    assert_eq!(isle.is_on_land(place(-17.0, 179.8)), Tristate::No);
    assert_eq!(isle.is_on_land(place(-17.0, 0.0)), Tristate::No);
    let cap: Vec<(f64, f64)> = (0..36).map(|at| (-70.0, f64::from(at) * 10.0 - 180.0)).collect();
    let cap = coast(vec![CoastLine::island(line(&cap))]);
    assert_eq!(cap.is_on_land(place(-90.0, 0.0)), Tristate::Yes);
    assert_eq!(cap.is_on_land(place(-80.0, 77.0)), Tristate::Yes);
    assert_eq!(cap.is_on_land(place(-60.0, 77.0)), Tristate::No);
}

#[test]
fn between_two_places_the_coast_goes_the_shorter_way() {
    let coast = isle();
    let (near_west, near_south) = (place(45.11, -30.1401), place(45.0999, -30.13));
    let stretch = coast.between(near_west, near_south, metres(50.0)).expect("is there");
    assert_eq!(stretch.len(), 3, "{stretch:?}");
    assert_eq!(stretch[1], place(45.10, -30.14));
    assert!(distance_m(stretch[0], near_west) < 20.0 && distance_m(stretch[2], near_south) < 20.0);
    let back = coast.between(near_south, near_west, metres(50.0)).expect("is there");
    assert_eq!(back, stretch.iter().rev().copied().collect::<Vec<_>>());
    // from the east side over the north to the west: past where the ring begins, wherever that is
    let round =
        coast.between(place(45.125, -30.0999), place(45.12, -30.1401), metres(50.0)).expect("is there");
    assert_eq!(round[1..3], [place(45.13, -30.10), place(45.13, -30.14)], "{round:?}");
}

#[test]
fn between_is_refused_where_it_is_not_plain() {
    let coast = isle();
    let (west, east) = (place(45.115, -30.14), place(45.115, -30.10));
    assert!(matches!(coast.between(west, east, metres(5.0)), Err(NoStretch::EquallyLong { .. })));
    let far = coast.between(west, place(45.2, -30.1), metres(50.0)).unwrap_err();
    assert!(far.to_string().contains("farther than 50 m"), "{far}");
    let two = Coast::from_lines(
        vec![
            CoastLine::island(line(&ISLE)),
            CoastLine::open(line(&[(45.1, -30.2), (45.2, -30.2), (45.2, -30.3)])),
        ],
        metres(5.0),
    )
    .expect("is sound");
    assert_eq!(two.between(west, place(45.15, -30.2), metres(5.0)), Err(NoStretch::DifferentLines));
    let along = two.between(place(45.2, -30.25), place(45.15, -30.2), metres(100.0)).expect("is there");
    assert_eq!(along.len(), 3);
    assert_eq!(along[1], place(45.2, -30.2));
    let same = two.between(place(45.15, -30.2), place(45.15, -30.2), metres(5.0)).expect("is there");
    assert_eq!(same.len(), 1);
}

proptest! {
    /// Against the radius of a star at the bearing: between its rays it is a triangle, near enough a plane one at this size.
    #[test]
    fn a_star_holds_what_lies_within_its_rays(
        lat in -88.0..88.0_f64, lon in -180.0..180.0_f64,
        rays_m in prop::collection::vec(300.0..3_000.0_f64, 3..60),
        bearing_deg in 0.0..360.0_f64, out in 0.05..2.0_f64,
    ) {
        let centre = place(lat, lon);
        prop_assume!(rays_m.len() > 3);
        let rays = u32::try_from(rays_m.len()).expect("few");
        let turn_deg = 360.0 / f64::from(rays);
        let number = (0..rays).rfind(|number| f64::from(*number) * turn_deg <= bearing_deg).unwrap_or(0);
        let first = f64::from(number);
        let (one_m, other_m) = (rays_m[number as usize], rays_m[(number as usize + 1) % rays_m.len()]);
        let (before, after) = ((bearing_deg - first * turn_deg).to_radians(), ((first + 1.0) * turn_deg - bearing_deg).to_radians());
        let rim_m = one_m * other_m * (before + after).sin() / (one_m * before.sin() + other_m * after.sin());
        let coast = Coast::from_lines(vec![CoastLine::island(star(centre, &rays_m))], metres(0.0)).expect("is sound");
        let off_m = rim_m * out;
        prop_assume!((off_m - rim_m).abs() > 0.1);
        let wanted = Tristate::from(off_m < rim_m);
        prop_assert_eq!(coast.is_on_land(direct(centre, bearing_deg, off_m)), wanted);
    }

    /// Whatever the order of the vertices, what is said for sure agrees with counting crossings in the plane.
    #[test]
    fn tangled_rings_are_never_wrong_for_sure(
        corners in prop::collection::vec((0.0..1.0_f64, 0.0..1.0_f64), 3..9),
        asked in prop::collection::vec((-0.2..1.2_f64, -0.2..1.2_f64), 20),
    ) {
        let at = |(north, east): (f64, f64)| (45.10 + north * 0.03, -30.14 + east * 0.04);
        let ring: Vec<(f64, f64)> = corners.iter().map(|corner| at(*corner)).collect();
        let coast = Coast::from_lines(vec![CoastLine::island(line(&ring))], metres(5.0)).expect("is sound");
        for there in asked {
            let there = at(there);
            let said = coast.is_on_land(place(there.0, there.1));
            if said != Tristate::Undecided {
                prop_assert_eq!(said == Tristate::Yes, is_odd(&ring, there), "at {:?}", there);
            }
        }
    }
}

/// Whether a line to the north crosses the ring an odd number of times, in the plane of latitude and longitude.
fn is_odd(ring: &[(f64, f64)], at: (f64, f64)) -> bool {
    let mut is_odd = false;
    for (from, to) in ring.iter().zip(ring.iter().cycle().skip(1)) {
        if (from.1 > at.1) != (to.1 > at.1) {
            let crossing = from.0 + (to.0 - from.0) * (at.1 - from.1) / (to.1 - from.1);
            is_odd ^= crossing > at.0;
        }
    }
    is_odd
}

/// Natural Earth's islands: what is inside by crossings in the plane is land, unless it is near the line, by 1 km here.
#[test]
fn real_islands_hold_their_land() {
    let islands = islands();
    let lines = islands.iter().map(|(_, ring)| CoastLine::island(ring.clone())).collect();
    let coast = Coast::from_lines(lines, metres(1_000.0)).expect("is sound");
    let odd: Vec<usize> = coast.oddities().iter().map(|oddity| oddity.line).collect();
    println!("{:?}", coast.oddities());
    assert!(odd.len() < 6, "{odd:?}");
    let mut chance = crate::test_util::Chance::new(12);
    let (mut sure, mut asked, mut on_land) = (0, 0, 0);
    for (id, ring) in &islands {
        let middle = ring[0].longitude().degrees();
        let plane: Vec<(f64, f64)> = ring
            .iter()
            .map(|vertex| {
                (
                    vertex.latitude().degrees(),
                    middle + crate::angle::wrap_degrees(vertex.longitude().degrees() - middle),
                )
            })
            .collect();
        let bounds = |of: fn(&(f64, f64)) -> f64| {
            plane.iter().map(of).fold((f64::MAX, f64::MIN), |(low, high), at| (low.min(at), high.max(at)))
        };
        let (lats, lons) = (bounds(|at| at.0), bounds(|at| at.1));
        for _ in 0..300 {
            let at = (
                chance.between(lats.0 - 0.2, lats.1 + 0.2).min(89.0),
                chance.between(lons.0 - 0.2, lons.1 + 0.2),
            );
            let said = coast
                .is_on_land(Position::from_degrees(at.0, crate::angle::wrap_degrees(at.1)).expect("a place"));
            asked += 1;
            let is_elsewhere = islands.iter().filter(|(other, _)| other != id).any(|_| false);
            if said != Tristate::Undecided && !is_elsewhere {
                sure += 1;
                on_land += usize::from(said == Tristate::Yes);
                let here = is_odd(&plane, at);
                let elsewhere = said == Tristate::Yes && !here && on_another(&islands, id, at);
                assert!(elsewhere || (said == Tristate::Yes) == here, "{id} at {at:?}: {said:?}");
            }
        }
    }
    println!("{sure} of {asked} sure, {on_land} on land");
    assert!(sure > asked * 3 / 4 && on_land > asked / 5);
}

fn on_another(islands: &[(String, Vec<Position>)], id: &str, at: (f64, f64)) -> bool {
    islands.iter().filter(|(other, _)| other != id).any(|(_, ring)| {
        let plane: Vec<(f64, f64)> = ring
            .iter()
            .map(|vertex| {
                (
                    vertex.latitude().degrees(),
                    at.1 + crate::angle::wrap_degrees(vertex.longitude().degrees() - at.1),
                )
            })
            .collect();
        is_odd(&plane, at)
    })
}

#[test]
fn the_nearest_of_a_real_island_is_near_and_on_it() {
    let (_, ring) = islands().swap_remove(0);
    let coast = Coast::from_lines(vec![CoastLine::island(ring.clone())], metres(100.0)).expect("is sound");
    for vertex in ring.iter().step_by(500) {
        let there = direct(*vertex, 40.0, 700.0);
        let (away, nearest) = coast.nearest(there).expect("has lines");
        assert!(away.metres() <= 700.0 + 1e-3);
        assert!((inverse(there, nearest).distance_m - away.metres()).abs() < 1e-3);
    }
}

#[test]
fn a_corner_that_pokes_through_a_side_turns_no_land_into_sea() {
    let at = |(north, east): (f64, f64)| (45.10 + north * 0.03, -30.14 + east * 0.04);
    let corners = [
        (0.592_672_584_612_315_4, 0.498_511_157_293_842_7),
        (0.606_512_163_738_941_6, 0.496_582_530_264_669_64),
        (0.252_931_174_363_691_7, 0.599_987_106_322_457_3),
        (0.0, 0.335_067_946_267_350_1),
        (0.359_372_293_276_039_4, 0.708_490_132_465_172_5),
        (0.702_899_432_233_833_3, 0.747_981_082_694_472),
        (0.812_723_522_817_360_5, 0.847_011_045_059_075_9),
    ];
    let ring: Vec<(f64, f64)> = corners.into_iter().map(at).collect();
    let coast = Coast::from_lines(vec![CoastLine::island(line(&ring))], metres(5.0)).expect("is sound");
    let (lat, lon) = at((0.669_879_646_495_27, 0.691_193_980_906_909_6));
    assert_eq!(coast.is_on_land(place(lat, lon)), Tristate::Yes);
}
