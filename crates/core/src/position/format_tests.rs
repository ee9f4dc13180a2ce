use proptest::prelude::*;

use crate::Position;

fn at(latitude_deg: f64, longitude_deg: f64) -> Position {
    Position::from_degrees(latitude_deg, longitude_deg).unwrap()
}

#[test]
fn the_three_forms_of_sallow_cove() {
    // 45.1182° is 45°07.092′ is 45°07′05.52″; 30.1217° is 30°07.302′ is 30°07′18.12″ (arithmetic by hand)
    let cove = at(45.1182, -30.1217);
    assert_eq!(cove.to_decimal_degrees(4), "45.1182°N 030.1217°W");
    assert_eq!(cove.to_degrees_minutes(), "45°07.092′N 030°07.302′W");
    assert_eq!(cove.to_degrees_minutes_seconds(), "45°07′05.5″N 030°07′18.1″W");
    assert_eq!(cove.to_string(), cove.to_degrees_minutes());
}

#[test]
fn what_rounds_to_sixty_is_carried() {
    let below = at(44.0 + 59.9996 / 60.0, -(179.0 + 59.9996 / 60.0));
    assert_eq!(below.to_degrees_minutes(), "45°00.000′N 180°00.000′W");
    let below = at(44.0 + 59.0 / 60.0 + 59.96 / 3600.0, 9.0 + 7.0 / 60.0 + 59.96 / 3600.0);
    assert_eq!(below.to_degrees_minutes_seconds(), "45°00′00.0″N 009°08′00.0″E");
    assert_eq!(at(44.99996, 9.99996).to_decimal_degrees(4), "45.0000°N 010.0000°E");
}

#[test]
fn poles_antimeridian_and_zero() {
    assert_eq!(at(90.0, 180.0).to_string(), "90°00.000′N 180°00.000′E");
    assert_eq!(at(-90.0, -180.0).to_string(), "90°00.000′S 180°00.000′W");
    assert_eq!(at(-0.0, -0.000_000_1).to_string(), "00°00.000′N 000°00.000′E");
    assert_eq!(at(-0.000_000_1, 0.0).to_degrees_minutes_seconds(), "00°00′00.0″N 000°00′00.0″E");
    assert_eq!(at(-0.4, 0.0).to_decimal_degrees(0), "00°N 000°E");
    assert_eq!(at(5.5, 0.5).to_decimal_degrees(usize::MAX), "05.500000000000°N 000.500000000000°E");
}

#[test]
fn a_width_pads_the_text_form() {
    assert_eq!(format!("{:>26}|", at(45.0, -30.0)), "  45°00.000′N 030°00.000′W|");
}

proptest! {
    /// Half of the last printed digit, and a part in 10¹² for the arithmetic.
    #[test]
    fn what_is_printed_reads_back_within_half_a_digit(
        latitude_deg in -90.0..=90.0_f64,
        longitude_deg in -180.0..=180.0_f64,
    ) {
        let position = at(latitude_deg, longitude_deg);
        for (text, half_digit_deg) in [
            (position.to_decimal_degrees(5), 0.000_005),
            (position.to_decimal_degrees(9), 0.000_000_000_5),
            (position.to_degrees_minutes(), 0.0005 / 60.0),
            (position.to_degrees_minutes_seconds(), 0.05 / 3600.0),
        ] {
            let read = Position::parse(&text).unwrap();
            prop_assert!(read.warnings.is_empty());
            prop_assert!((read.position.latitude().degrees() - latitude_deg).abs() <= half_digit_deg + 1e-12);
            prop_assert!((read.position.longitude().degrees() - longitude_deg).abs() <= half_digit_deg + 1e-12);
            prop_assert!((read.precision.latitude_half_digit_deg() / half_digit_deg - 1.0).abs() < 1e-9);
            let again = Position::parse(&text).unwrap().position;
            prop_assert_eq!(again.to_degrees_minutes(), read.position.to_degrees_minutes());
        }
    }
}
