//! Whatever adds doubt widens the search: the zones that are looked at never decide the verdict.

use proptest::prelude::*;

use super::assess_tests::{at, fix, polygon, square, zone};
use super::{Assessment, Question, WaterStatus};
use crate::geodesic::direct;
use crate::zone::{Datum, Extent, Zone, ZoneSet};
use crate::{ArcSense, Boundary, EdgeModel, Metres, PartSpec, Position, RingSpec};

/// A zone of four arcs about a centre, whose vertices lie off the printed circle by a share of its radius.
fn wheel(id: &str, centre: Position, radius_m: f64, off_share: f64) -> Zone {
    let radius = Metres::new(radius_m).unwrap();
    let arc = EdgeModel::Arc(crate::Arc { centre, radius, sense: ArcSense::Clockwise });
    let vertices = [0.0, 90.0, 180.0, 270.0].map(|deg| direct(centre, deg, radius_m * (1.0 + off_share)));
    let exterior = RingSpec { vertices: vertices.to_vec(), edges: vec![arc; 4], sides: Vec::new() };
    zone(id, Extent::Known(Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap()))
}

fn both_ways(zones: &ZoneSet, position: Position, p95_m: f64) -> (Assessment, Assessment) {
    let here = fix(position, p95_m);
    let all = Question { all_zones: true, ..Question::default() };
    (zones.assess(&here, &Question::default()), zones.assess(&here, &all))
}

#[test]
fn an_arc_that_misses_its_circle_is_looked_at_although_another_line_is_nearer() {
    let wheel = wheel("wheel", at(0.0, 0.0), 22_224.0, 400.0 / 22_224.0);
    let beside = polygon(&square(at(-0.01, 0.207_3), 2_000.0), EdgeModel::Geodesic);
    let zones = ZoneSet::new(vec![wheel, zone("beside", Extent::Known(beside))]);
    let (near, all) = both_ways(&zones, at(0.0, 0.205_73), 1.0);
    assert_eq!(all.water, WaterStatus::Undecided);
    assert_eq!(near.water, WaterStatus::Undecided);
}

fn nasty(number: usize, place: (f64, f64), sizes: (f64, f64), kind: u8) -> Zone {
    let corner = at(place.0, place.1);
    let side_m = 10.0_f64.powf(sizes.0);
    let id = format!("z{number}");
    let square = |model| zone(&id, Extent::Known(polygon(&square(corner, side_m), model)));
    match kind % 6 {
        0 => square(EdgeModel::Unstated),
        1 => Zone { datum: Datum::Unstated, ..square(EdgeModel::RhumbLine) },
        2 => Zone {
            line_uncertainty: Metres::new(10.0_f64.powf(sizes.1)).unwrap(),
            ..square(EdgeModel::Geodesic)
        },
        3 => wheel(&id, corner, side_m, 0.018),
        4 => {
            let somewhere_in = Some(polygon(&self::square(corner, side_m), EdgeModel::PlateCarree));
            zone(&id, Extent::Unknown { somewhere_in, reason: "plan missing".to_owned() })
        }
        _ => square(EdgeModel::Geodesic),
    }
}

fn sets() -> impl Strategy<Value = Vec<Zone>> {
    let one = ((44.8..45.4_f64, -30.5..-29.7_f64), (1.5..4.5_f64, 0.0..3.7_f64), 0_u8..6);
    prop::collection::vec(one, 1..12).prop_map(|zones| {
        let built = zones.into_iter().enumerate();
        built.map(|(number, (place, sizes, kind))| nasty(number, place, sizes, kind)).collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn the_verdict_is_the_same_whichever_zones_are_listed(
        zones in sets(), lat in 44.7..45.5_f64, lon in -30.6..-29.6_f64, log_doubt in 0.0..3.5_f64,
    ) {
        let zones = ZoneSet::new(zones);
        let (near, all) = both_ways(&zones, at(lat, lon), 10.0_f64.powf(log_doubt));
        prop_assert_eq!(near.water, all.water);
        prop_assert_eq!(&near.water_because, &all.water_because);
        let told = |answer: &Assessment| {
            let mut told: Vec<_> = answer.zones.iter()
                .filter(|one| one.containment != super::Containment::Outside)
                .map(|one| (one.id.clone(), one.containment, one.binds)).collect();
            told.sort_by(|a, b| a.0.cmp(&b.0));
            told
        };
        prop_assert_eq!(told(&near), told(&all));
        let nearest = |answer: &Assessment| answer.zones.iter()
            .filter_map(|one| one.signed_distance).map(|one| one.metres().abs()).fold(f64::INFINITY, f64::min);
        prop_assert_eq!(nearest(&near).to_bits(), nearest(&all).to_bits(), "the nearest line that is known");
    }
}
