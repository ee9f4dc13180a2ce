//! Where the sun stands, against an independent library.

use approx::assert_abs_diff_eq;
use jiff::Timestamp;

use super::sun_direction;
use crate::Position;

/// Computed with `PyEphem`; versions and settings in the README beside it.
const EPHEM_DIRECTIONS: &str = include_str!("../../../../tests/data/sun/ephem_directions.csv");

/// The theory behind ours claims 0.0003° (NREL/TP-560-34302), and the other library's is cut about as short. Both take UTC
/// for UT1, and a difference of seconds in ΔT moves the sun by 0.00001° a second. The largest gap found is 0.00014°; the rest
/// is room for a later edition of either library. For a sun beside a mark a tenth of a degree would do.
const TOLERANCE_DEG: f64 = 0.001;

fn at(text: &str) -> Timestamp {
    text.parse().unwrap()
}

#[test]
fn directions_agree_with_ephem_at_12_places() {
    let (mut worst_across, mut worst_altitude) = (0.0_f64, 0.0_f64);
    let mut compared = 0;
    for row in EPHEM_DIRECTIONS.lines().skip(1) {
        let [_, latitude, longitude, utc, azimuth, altitude] = row.split(',').collect::<Vec<_>>()[..] else {
            panic!("bad row {row}")
        };
        let [latitude, longitude, azimuth, altitude]: [f64; 4] =
            [latitude, longitude, azimuth, altitude].map(|text| text.parse().unwrap());
        let found = sun_direction(Position::from_degrees(latitude, longitude).unwrap(), at(utc)).unwrap();
        let turn = (found.azimuth.degrees() - azimuth).abs();
        // on the sky, not on the compass: high up, a degree of azimuth is little
        let across = turn.min(360.0 - turn) * altitude.to_radians().cos();
        let gap = (found.altitude_deg - altitude).abs();
        assert!(across <= TOLERANCE_DEG && gap <= TOLERANCE_DEG, "{row}: found {found:?}");
        worst_across = worst_across.max(across);
        worst_altitude = worst_altitude.max(gap);
        compared += 1;
    }
    println!("{compared} rows, largest gap {worst_across:.6}° across, {worst_altitude:.6}° of altitude");
    assert_eq!(compared, 108);
}

/// The example worked in I. Reda and A. Andreas, NREL/TP-560-34302: 17 October 2003, 12:30:30 at UTC−7, 39.742476° N
/// 105.1786° W, 1830 m: zenith angle 50.11162° with refraction, azimuth 194.34024° (figures from memory). Ours is without
/// refraction, which at 40° of altitude and 820 hPa is 0.016° (cot 40° arc minutes, for less air); 0.02° cover it.
#[test]
fn the_published_example_comes_out() {
    let golden = Position::from_degrees(39.742_476, -105.178_6).unwrap();
    let found = sun_direction(golden, at("2003-10-17T19:30:30Z")).unwrap();
    assert_abs_diff_eq!(found.azimuth.degrees(), 194.340_24, epsilon = 0.001);
    assert!((90.0 - found.altitude_deg - 50.111_62).abs() < 0.02, "{found:?}");
}

#[test]
fn years_beyond_the_theory_have_no_sun() {
    let chapel = Position::from_degrees(45.125, -30.11).unwrap();
    assert_eq!(sun_direction(chapel, Timestamp::MIN), None);
    assert_eq!(sun_direction(chapel, Timestamp::MAX), None);
    assert!(sun_direction(chapel, at("1900-01-01T00:00:00Z")).is_some());
}

#[test]
fn a_pole_has_a_sun_too() {
    for latitude in [90.0, -90.0] {
        let found = sun_direction(Position::from_degrees(latitude, 0.0).unwrap(), at("2026-06-21T12:00:00Z"))
            .unwrap();
        // the sun's declination at the solstice is the obliquity, 23.44° (Astronomical Almanac, from memory)
        assert_abs_diff_eq!(found.altitude_deg, 23.44 * latitude.signum(), epsilon = 0.02);
    }
}
