//! A cursor over a set gives what every zone of it says by itself.

use proptest::prelude::*;

use super::ZoneSet;
use super::test_sets::set_of;
use crate::Position;
use crate::geodesic::direct;

/// A box in thousandths of a degree from 45° N 030° W, and how its edges run.
type Drawn = ((i16, i16), (u8, u8), u8);

fn feature(number: usize, ((south, west), (high, wide), model): Drawn) -> String {
    let deg = |from: f64, thousandths: f64| from + thousandths / 1000.0;
    let (south, west) = (deg(45.0, f64::from(south)), deg(-30.0, f64::from(west)));
    let (north, east) = (deg(south, f64::from(high) + 1.0), deg(west, f64::from(wide) + 1.0));
    let edges = ["geodesic", "rhumb", "lonlat"][usize::from(model % 3)];
    // a fourth of them are known to lie somewhere in the box only
    let geometry = format!(
        r#"{{"type":"Polygon","coordinates":[[[{west},{south}],[{east},{south}],[{east},{north}],[{west},{north}],[{west},{south}]]]}}"#
    );
    let (geometry, said) = if model % 4 == 3 {
        let said = format!(
            r#""geometry_unknown":{{"reason":"plan missing","somewhere_in":{{"bbox":[{west},{south},{east},{north}]}}}}"#
        );
        ("null".to_owned(), said)
    } else {
        (geometry, format!(r#""edges":"{edges}""#))
    };
    format!(
        r#"{{"type":"Feature","id":"z{number}","geometry":{geometry},"properties":{{"name":"Z{number}",{said},"take":"none","source":{{"instrument":"Marrowick Order"}}}}}}"#
    )
}

fn set(drawn: &[Drawn]) -> ZoneSet {
    set_of(drawn.iter().enumerate().map(|(number, drawn)| feature(number, *drawn)))
}

fn drawn() -> impl Strategy<Value = Drawn> {
    let near = prop_oneof![4 => (-60_i16..60, -60_i16..60), 1 => (-4000_i16..4000, -4000_i16..4000)];
    (near, any::<(u8, u8)>(), any::<u8>())
}

fn step() -> impl Strategy<Value = (f64, f64)> {
    let metres = prop_oneof![8 => 0.0..30.0_f64, 3 => 30.0..3_000.0_f64, 1 => 3_000.0..400_000.0_f64];
    (0.0..360.0_f64, metres)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(120))]

    #[test]
    fn a_cursor_over_a_set_says_what_its_zones_say(
        drawn in proptest::collection::vec(drawn(), 0..40),
        steps in proptest::collection::vec((step(), any::<bool>(), any::<bool>()), 1..120),
    ) {
        let zones = set(&drawn);
        let mut cursor = zones.cursor();
        let mut place = Position::from_degrees(45.0, -30.0).unwrap();
        for ((bearing_deg, metres), asks_side, asks_nearest) in steps {
            place = direct(place, bearing_deg, metres);
            let known: Vec<_> = zones
                .zones()
                .iter()
                .enumerate()
                .filter_map(|(number, zone)| match &zone.extent {
                    super::Extent::Known(boundary) => Some((number, boundary.how_far(place))),
                    super::Extent::Unknown { .. } => None,
                })
                .collect();
            if asks_nearest {
                let away_m = |far: &crate::HowFar| far.signed_distance.metres().abs();
                let expected_m = known.iter().map(|(_, far)| away_m(far)).reduce(f64::min);
                let found = cursor.nearest(place);
                let found_m = found.as_ref().map(|(_, far)| away_m(far));
                prop_assert_eq!(found_m.is_some(), expected_m.is_some());
                let (found_m, expected_m) = (found_m.unwrap_or(0.0), expected_m.unwrap_or(0.0));
                prop_assert!((found_m - expected_m).abs() < 1e-6, "{} for {} at {:?}", found_m, expected_m, place);
            }
            if asks_side {
                let sure = |(number, far): &(usize, crate::HowFar)| (far.greatest.metres() <= 0.0).then_some(*number);
                let surely: Vec<usize> = known.iter().filter_map(sure).collect();
                prop_assert_eq!(&cursor.holding(place).surely, &surely);
            }
        }
    }
}
