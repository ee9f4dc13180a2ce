//! The variation at sea, its standard error, its life, and bearings through it.

use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;

use super::variation::standard_error;
use super::{field, variation};
use crate::{Arcminutes, Metres, Position, TrueBearing};

/// 180°: a compass points anywhere.
const ANYWHERE: Arcminutes = Arcminutes::computed(180.0 * 60.0);

fn at(text: &str) -> Timestamp {
    text.parse().unwrap()
}

fn place(latitude_deg: f64, longitude_deg: f64) -> Position {
    Position::from_degrees(latitude_deg, longitude_deg).unwrap()
}

#[test]
fn a_date_outside_the_models_life_is_refused() {
    let chapel = place(45.125, -30.11);
    let (first, after) = (at("2025-01-01T00:00:00Z"), at("2030-01-01T00:00:00Z"));
    let instant = SignedDuration::from_nanos(1);
    for time in [first, after - instant] {
        assert_eq!(variation(chapel, time).unwrap().time(), time);
    }
    for time in [first - instant, after, at("2020-06-01T00:00:00Z"), Timestamp::MIN, Timestamp::MAX] {
        let error = variation(chapel, time).unwrap_err();
        assert_eq!((error.time, error.model), (time, "WMM2025"));
    }
    assert_eq!(
        variation(chapel, after).unwrap_err().to_string(),
        "the variation is not known on 2030-01-01T00:00:00Z: WMM2025 holds from 2025-01-01 until the end of 2029"
    );
}

/// √(0.26² + (5417 / H)²) worked out apart from the program (figures of the formula from memory).
#[test]
fn the_standard_error_grows_as_the_level_field_falls() {
    for (horizontal_nt, degrees) in
        [(27_000.0, 0.328_4), (6_000.0, 0.939_5), (2_000.0, 2.721_0), (50.0, 108.340_3)]
    {
        let got = standard_error(horizontal_nt).arcmin() / 60.0;
        assert!((got - degrees).abs() < 0.000_1, "{horizontal_nt} nT: {got}°");
    }
    for horizontal_nt in [0.0, 1e-300, 1.0, 30.0] {
        assert_eq!(standard_error(horizontal_nt), ANYWHERE);
    }
}

/// 85.8° N 139° E at 2025.0, where the level field is 25 nT: the magnetic pole, near enough.
#[test]
fn at_a_magnetic_pole_there_is_a_variation_that_says_it_is_worth_nothing() {
    let found = variation(place(85.8, 139.0), at("2025-01-01T00:00:00Z")).unwrap();
    assert!(found.degrees_east().is_finite());
    assert_eq!(found.standard_error(), ANYWHERE);
}

/// The surface of the sea is −107 m to 86 m from the ellipsoid (EGM2008, from memory).
#[test]
fn the_height_of_the_sea_does_not_matter() {
    let time = at("2027-03-01T00:00:00Z");
    let mut worst = 0.0_f64;
    for latitude in -17..=17 {
        for longitude in -18..=18 {
            let place = place(5.0 * f64::from(latitude), 10.0 * f64::from(longitude));
            let sea = variation(place, time).unwrap();
            let standard_error_deg = sea.standard_error().arcmin() / 60.0;
            for height in [-110.0, 110.0] {
                let other = field(place, Metres::new(height).unwrap(), time).unwrap().declination_deg();
                worst = worst.max((other - sea.degrees_east()).abs() / standard_error_deg);
            }
        }
    }
    println!("110 m of height move the variation by at most {worst} of its standard error");
    assert!(worst < 0.01, "{worst}");
}

proptest! {
    #[test]
    fn a_bearing_comes_back_through_the_variation(
        latitude in -90.0..=90.0_f64, longitude in -180.0..=180.0_f64, bearing_deg in 0.0..360.0_f64,
    ) {
        let found = variation(place(latitude, longitude), at("2026-08-03T10:00:00Z")).unwrap();
        let bearing = TrueBearing::from_degrees(bearing_deg).unwrap();
        let magnetic = found.to_magnetic(bearing);
        let back = found.to_true(magnetic).degrees();
        let gap = (back - bearing_deg).abs();
        // two roundings of a number below 540
        prop_assert!(gap.min(360.0 - gap) < 1e-12, "{bearing_deg} came back as {back}");
        let turned = (bearing_deg - magnetic.degrees() - found.degrees_east()) % 360.0;
        prop_assert!(turned.abs().min(360.0 - turned.abs()) < 1e-12, "east variation is taken off");
    }
}
