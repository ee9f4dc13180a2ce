//! What the reference rows do not reach: the field as a gradient of one potential, poles, heights, no level field.

use proptest::prelude::*;

use super::harmonics::NorthEastDown;
use super::{MagneticField, UnknownField, field};
use crate::geodesic::{Vector, surface};
use crate::{Metres, Position};

const TIME: &str = "2027-07-02T12:00:00Z";

fn field_at(latitude_deg: f64, longitude_deg: f64, height_m: f64) -> MagneticField {
    let position = Position::from_degrees(latitude_deg, longitude_deg).unwrap();
    field(position, Metres::new(height_m).unwrap(), TIME.parse().unwrap()).unwrap()
}

/// The field in earth-centred axes, in which the way a pole is named makes no difference.
fn earth_centred(latitude_deg: f64, longitude_deg: f64, height_m: f64) -> Vector {
    let axes = surface(Position::from_degrees(latitude_deg, longitude_deg).unwrap());
    let field = field_at(latitude_deg, longitude_deg, height_m);
    axes.north * field.north_nt() + axes.east * field.east_nt() - axes.up * field.down_nt()
}

/// Rounding of a sum of 180 parts of some 10 000 nT: about 1e-10 nT.
const ROUNDING_NT: f64 = 1e-8;

#[test]
fn a_pole_has_one_field_by_whichever_meridian_it_is_named() {
    for latitude in [90.0, -90.0] {
        let first = earth_centred(latitude, 0.0, 0.0);
        for longitude in [-180.0, -123.4, 12.0, 90.0, 179.9] {
            let gap = (earth_centred(latitude, longitude, 0.0) - first).norm();
            assert!(gap < ROUNDING_NT, "{latitude} {longitude}: {gap} nT");
        }
        // the field changes by less than 0.05 nT over a metre (3F/r), so by less than 1e-5 over 0.1 mm
        let beside = earth_centred(latitude.signum() * (90.0 - 1e-9), 33.0, 0.0);
        assert!((beside - first).norm() < 1e-5);
    }
}

#[test]
fn the_two_names_of_180_degrees_are_one_place() {
    for latitude in [-71.0, 0.0, 45.0] {
        assert_eq!(field_at(latitude, 180.0, 0.0), field_at(latitude, -180.0, 0.0));
    }
}

/// The Earth has no current or magnet between the ground and 850 km in the model: the line integral round a small closed
/// path is zero, and what flows out of a small box is what flows in. Both fail if a slope or a P / sin θ is wrong.
#[test]
fn the_field_has_neither_curl_nor_source() {
    let step_m = 500.0;
    for (latitude, longitude) in [(45.1, -30.1), (-77.0, 166.0), (0.0, 0.0), (89.0, 20.0), (-3.0, 179.9)] {
        let axes = surface(Position::from_degrees(latitude, longitude).unwrap());
        let at = |offset: Vector| {
            let place = crate::geodesic::from_earth_centred(axes.point + axes.up * 20_000.0 + offset);
            let ground = surface(place);
            let height = (axes.point + axes.up * 20_000.0 + offset - ground.point).dot(ground.up);
            earth_centred(place.latitude().degrees(), place.longitude().degrees(), height)
        };
        let slope = |along: Vector| (at(along * step_m) - at(along * -step_m)) * (0.5 / step_m);
        let [by_north, by_east, by_up] = [axes.north, axes.east, axes.up].map(slope);
        let source = by_north.dot(axes.north) + by_east.dot(axes.east) + by_up.dot(axes.up);
        let curls = [
            by_north.dot(axes.east) - by_east.dot(axes.north),
            by_east.dot(axes.up) - by_up.dot(axes.east),
            by_up.dot(axes.north) - by_north.dot(axes.up),
        ];
        // single slopes are about 0.02 nT/m; the next order of the step is 60 F h² / 6 r³ for a dipole, 6e-10 nT/m, and a
        // few times that with the higher degrees
        for value in [source].into_iter().chain(curls) {
            assert!(value.abs() < 5e-9, "{latitude} {longitude}: {value} nT/m");
        }
    }
}

#[test]
fn a_height_out_of_reach_is_refused() {
    let place = Position::from_degrees(45.125, -30.11).unwrap();
    let ask = |height_m: f64| field(place, Metres::new(height_m).unwrap(), TIME.parse().unwrap());
    assert!(ask(-1_000.0).is_ok());
    assert!(ask(850_000.0).is_ok());
    let error = ask(-6_400_000.0).unwrap_err();
    assert!(matches!(error, UnknownField::Height { .. }));
    assert_eq!(
        error.to_string(),
        "the field is not known -6400000 m above the ellipsoid: WMM2025 reaches from -1000 m to 850000 m"
    );
    let error = field(place, Metres::ZERO, "2030-01-01T00:00:00Z".parse().unwrap()).unwrap_err();
    assert_eq!(
        error.to_string(),
        "the variation is not known on 2030-01-01T00:00:00Z: WMM2025 holds from 2025-01-01 until the end of 2029"
    );
}

#[test]
fn without_a_level_field_what_has_no_answer_gives_none() {
    let rate = NorthEastDown { north: 3.0, east: -4.0, down: 5.0 };
    let straight_down = NorthEastDown { north: 0.0, east: 0.0, down: 57_000.0 };
    let pole = MagneticField::of_components(straight_down, rate);
    assert_eq!((pole.horizontal_nt(), pole.declination_deg(), pole.inclination_deg()), (0.0, 0.0, 90.0));
    assert_eq!(pole.declination_rate_deg_per_year(), None);
    assert_eq!(pole.horizontal_rate_nt_per_year(), None);
    assert_eq!(pole.inclination_rate_deg_per_year(), None);
    assert_eq!(pole.total_rate_nt_per_year(), Some(5.0));
    let nothing = MagneticField::of_components(NorthEastDown::default(), rate);
    assert_eq!(nothing.total_rate_nt_per_year(), None);
}

proptest! {
    #[test]
    fn every_place_has_a_finite_field(
        latitude in -90.0..=90.0_f64, longitude in -180.0..=180.0_f64, height in -1_000.0..=850_000.0_f64,
    ) {
        let field = field_at(latitude, longitude, height);
        // the core's field lies between 22 000 and 68 000 nT at sea level (common knowledge, no source), and falls with height
        prop_assert!((12_000.0..70_000.0).contains(&field.total_nt()), "{}", field.total_nt());
        prop_assert!(field.declination_deg().abs() <= 180.0);
        prop_assert!(field.declination_rate_deg_per_year().is_some());
    }
}
