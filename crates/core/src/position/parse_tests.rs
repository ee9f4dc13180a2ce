#![expect(clippy::float_cmp, reason = "a decimal number read is the very double that the literal is")]

use approx::assert_abs_diff_eq;
use proptest::prelude::*;

use crate::{Latitude, Longitude, ParsePositionErrorKind as Kind, Position, PositionWarning};

fn read(text: &str) -> (f64, f64) {
    let position = Position::parse(text).unwrap_or_else(|error| panic!("{text}: {error}")).position;
    (position.latitude().degrees(), position.longitude().degrees())
}

fn refused(text: &str) -> (String, Vec<String>) {
    let error = Position::parse(text).expect_err(text);
    (error.to_string(), error.readings().to_vec())
}

#[test]
fn minutes_of_60_or_more_are_refused_with_the_carry_offered() {
    let (text, readings) = refused("33°61.2'N 120°00.0'W");
    assert!(text.starts_with("the minutes “61.2'” are 60 or more"), "{text}");
    assert_eq!(readings, ["34°01.2′N, 120°00.0′W"]);
    assert_eq!(refused("33°59'60.0\"N 120°W").1, ["34°00′00.0″N, 120°W"]);
    assert_eq!(refused("33°60'60.0\"N 120°W").1, ["34°01′00.0″N, 120°W"]);
    // 90° is the last latitude there is: no reading may go past it
    assert_eq!(refused("90°60.0'N 120°W").1, Vec::<String>::new());
}

#[test]
fn hemispheres_that_lack_or_clash_are_refused_with_the_reason() {
    for (text, piece) in [
        ("45°07.05'N 030°07.30'", "“030°07.30'” has no hemisphere; write E or W after it"),
        ("-120.6 W, 34.1 N", "“-120.6 W” has both a sign and a hemisphere"),
        ("S45.1N, 30.1W", "“S45.1N” names two hemispheres"),
        (
            "57°30' North longitude, 5°30' West longitude",
            "“57°30' North longitude” has a hemisphere that a longitude cannot have",
        ),
    ] {
        assert!(refused(text).0.contains(piece), "{text}: {}", refused(text).0);
        assert!(!refused(text).1.is_empty(), "{text}: the readings are offered");
    }
    let west_on_a_latitude = Latitude::parse("30.1 W").unwrap_err();
    assert!(matches!(west_on_a_latitude.kind(), Kind::WrongHemisphere { .. }));
}

#[test]
fn a_swap_is_named_where_it_can_be_seen_and_only_there() {
    let (text, readings) = refused("-120.60483, 34.17333");
    assert!(text.contains("latitude and longitude may be swapped"), "{text}");
    assert!(readings.contains(&"34.17333°N, 120.60483°W".to_owned()), "{readings:?}");
    // both are latitudes: nothing can be seen from the text alone
    assert_eq!(read("40, 30"), (40.0, 30.0));
}

#[test]
fn a_seconds_mark_on_decimal_degrees_is_read_with_a_warning() {
    let read = Position::parse("34.17333 ″ N, 120.60483 ″ W").unwrap();
    assert_eq!(read.position.longitude().degrees(), -120.60483);
    assert!(matches!(
        read.warnings.as_slice(),
        [PositionWarning::SecondsMarkOnDegrees { .. }, PositionWarning::SecondsMarkOnDegrees { .. }]
    ));
    let error = "34.17333 ″ N, 120.60483 ″ W".parse::<Position>().unwrap_err();
    assert_eq!(error.readings(), ["34.173330°N 120.604830°W"]);
}

#[test]
fn a_point_number_fused_to_the_latitude_is_named() {
    let (text, readings) = refused("134.17333 N, 120.60483 W");
    assert!(text.contains("1 | 34.17333"), "{text}");
    assert_eq!(readings, ["34.17333°N, 120.60483°W"]);
}

#[test]
fn corrupted_degree_signs_are_read_only_where_they_can_be_nothing_else() {
    let (latitude_deg, longitude_deg) = read("38?23.20'S, 174°46.50'E");
    assert!((latitude_deg + 38.0 + 23.20 / 60.0).abs() < 1e-12);
    assert!((longitude_deg - 174.0 - 46.50 / 60.0).abs() < 1e-12);
    assert_abs_diff_eq!(read("35ø09.18'S, 174ø10'E").0, -35.153, epsilon = 1e-12);
    let (text, readings) = refused("2830 8003");
    assert!(text.contains("“2830” may be degrees and minutes run together"), "{text}");
    assert!(readings.contains(&"28°30′N, 80°03′W".to_owned()));
    assert!(refused("57°3−30'N, 5°30'W").0.contains("sign"));
}

#[test]
fn decimal_minutes_and_seconds_are_told_apart_by_mark_or_point() {
    for (minutes, seconds) in [
        ("32°51.30'N 120°00.00'W", "32°51'30\"N 120°00'00\"W"),
        ("32 51.30 N 120 00.00 W", "32 51 30 N 120 00 00 W"),
    ] {
        let apart_deg = read(seconds).0 - read(minutes).0;
        // 0.5 − 0.3 minutes; 370 m at 1852 m a minute
        assert_abs_diff_eq!(apart_deg * 60.0, 0.2, epsilon = 1e-9);
    }
}

#[test]
fn seconds_without_a_mark_behind_a_minute_mark_are_read_with_a_warning() {
    let read = Position::parse("29°24′21 N, 178°06′45 W").unwrap();
    assert!(matches!(read.warnings.first(), Some(PositionWarning::SecondsWithoutMark { .. })));
    // the printed form with its point: ship reporting boundary, tests/data/regulations
    let printed = Position::parse("29° 24′.21 N, 178° 06′.45 W").unwrap();
    assert!(printed.warnings.is_empty());
    assert_eq!(printed.position.to_degrees_minutes(), "29°24.210′N 178°06.450′W");
}

#[test]
fn a_minus_on_zero_degrees_is_kept_and_zero_has_no_sign() {
    assert_eq!(read("-0 30 00, -0 15 00"), (-0.5, -0.25));
    assert_eq!(Latitude::parse("-0 30 00").unwrap().latitude.degrees(), -0.5);
    assert!(read("0°S, 0°W").0.is_sign_positive());
}

#[test]
fn single_coordinates_need_a_letter_or_a_sign_once_they_have_minutes() {
    assert_eq!(Latitude::parse("45,1175").unwrap().latitude.degrees(), 45.1175);
    assert_eq!(Longitude::parse("182.5").unwrap().longitude.degrees(), -177.5);
    let error = Longitude::parse("30 07.30").unwrap_err();
    assert_eq!(error.readings(), ["30°07.30′E", "30°07.30′W"]);
    assert!(Latitude::parse("45.1, 30.1").is_err());
    assert!(Longitude::parse("182.5 W").is_err());
    assert!(Latitude::parse("134.17333").unwrap_err().to_string().contains("1 | 34.17333"));
}

#[test]
fn two_arguments_are_judged_together() {
    assert!(Position::parse_pair("45.1 N", "30.1").is_err());
    assert!(Position::parse_pair("30.1 W", "45.1 N").is_err());
    assert!(Position::parse_pair("45.1 N 30.1 W", "").is_err());
    let read = Position::parse_pair("45,1175", "-30,1217").unwrap();
    assert_eq!(read.position.longitude().degrees(), -30.1217);
}

/// Half of the last printed digit, as lengths along the meridian. Source: the sizes that mariners go by, 1′ of
/// latitude = 1852 m; 1′ ±926 m, 0.1′ ±93 m, 0.01′ ±9.3 m, 1″ ±15 m, 0.001′ ±0.9 m, 0.001° ±56 m, 0.00001° ±0.6 m.
/// Within 1 %: the meridian minute runs from 1843 to 1862 m; the last digit of the source is rounded.
#[test]
fn precision_is_half_of_the_last_printed_digit() {
    for (text, expected_m, within_m) in [
        ("45°07'N 030°W", 926.0, 9.0),
        ("45°07.1'N 030°W", 93.0, 1.0),
        ("45°07.12'N 030°W", 9.3, 0.1),
        ("45°07'12\"N 030°W", 15.0, 0.6),
        ("45°07.123'N 030°W", 0.9, 0.06),
        ("45.123, 30", 56.0, 1.0),
        ("45.12345, 30", 0.6, 0.06),
    ] {
        let half_digit = Position::parse(text).unwrap().precision.north_south().metres();
        assert!((half_digit - expected_m).abs() <= within_m, "{text}: {half_digit} m");
    }
}

#[test]
fn unprintable_characters_do_not_reach_the_message() {
    let (text, _) = refused("45.1 N \u{1b}[31m 30.1 W");
    assert!(text.starts_with("“\\u{1b}” cannot be part of a position"), "{text}");
    assert!(!refused("45.1 N\n").0.contains('\n'));
}

#[test]
fn text_that_is_too_long_is_refused_before_it_is_cut() {
    let (text, _) = refused(&"1".repeat(201));
    assert!(text.contains("longer than 200 characters"));
    assert!(refused(&"9".repeat(200)).0.contains("only one") || !refused(&"9".repeat(200)).0.is_empty());
    assert!(Position::parse(&"' ".repeat(1_000_000)).is_err());
}

/// Texts made of the pieces that positions are written with: far more of them read than of random characters.
fn scrambled_position() -> impl Strategy<Value = String> {
    let piece = prop::sample::select(vec![
        "45",
        "07.05",
        "030",
        "7",
        "60",
        "134.17",
        "2830",
        "0",
        "°",
        "′",
        "'",
        "″",
        "\"",
        "''",
        "?",
        "ø",
        "<>",
        "deg",
        "deg.",
        "d",
        "m",
        "s",
        "N",
        "S",
        "E",
        "W",
        "north",
        "west",
        "lat",
        "longitude",
        "-",
        "−",
        "+",
        ",",
        ";",
        "/",
        ":",
        ".",
        " ",
        " ",
        " ",
        " ",
    ]);
    prop::collection::vec(piece, 0..16).prop_map(|pieces| pieces.concat())
}

fn check_any_text(text: &str) -> Result<(), TestCaseError> {
    if let Err(error) = Latitude::parse(text) {
        for reading in error.readings() {
            prop_assert!(Latitude::parse(reading).is_ok(), "offered {} for latitude {}", reading, text);
        }
    }
    if let Err(error) = Longitude::parse(text) {
        for reading in error.readings() {
            prop_assert!(Longitude::parse(reading).is_ok(), "offered {} for longitude {}", reading, text);
        }
    }
    if let Err(error) = Position::parse_pair(text, "-30.1217") {
        for reading in error.readings() {
            prop_assert!(Position::parse(reading).is_ok(), "offered {} for latitude {}", reading, text);
        }
    }
    match Position::parse(text) {
        Ok(read) => {
            prop_assert!(read.position.latitude().degrees().abs() <= 90.0);
            prop_assert!(read.position.longitude().degrees().abs() <= 180.0);
            prop_assert!(read.precision.latitude_half_digit_deg() > 0.0);
        }
        Err(error) => {
            prop_assert!(!error.to_string().chars().any(char::is_control));
            for reading in error.readings() {
                prop_assert!(
                    Position::parse(reading).is_ok_and(|read| read.warnings.is_empty()),
                    "offered {} for {}",
                    reading,
                    text
                );
            }
        }
    }
    Ok(())
}

proptest! {
    #[test]
    fn any_text_is_read_within_range_or_refused(text in "\\PC*") {
        check_any_text(&text)?;
    }

    #[test]
    fn any_scrambled_position_is_read_within_range_or_refused_with_readings_that_read(text in scrambled_position()) {
        check_any_text(&text)?;
    }
}
