//! What is shown in each unit, read back, against what it stands for.

use takeline::test_util::samples;
use takeline::{Metres, Position};

use super::figures::*;
use crate::here::test_fixtures as here;
use crate::track::test_fixtures as track;
use crate::words::{English, EnglishIn, Words};
use crate::{
    HereDocument, TrackDocument, here_text, json_page, track_csv_rows, track_features, track_page,
    track_row_text, track_text,
};

const ALL: [Units; 3] = [Units::Metric, Units::Nautical, Units::Us];

fn metres(value: f64) -> Metres {
    Metres::new(value).unwrap()
}

/// Lengths from centimetres to beyond 100 nautical miles, and some at the edges of units.
fn lengths_m() -> Vec<f64> {
    let even = (0..180).map(|power| 0.04 * 1.1_f64.powi(power));
    let edges = [0.0, 0.5, 9.95, 185.2, 304.8, 1609.344, 1852.0, 10_000.0, 100_000.0];
    even.chain(edges.into_iter().flat_map(|edge| [edge - 0.01, edge, edge + 0.01])).map(f64::abs).collect()
}

/// A figure as read: its number, how long its unit is, and the step of its last digit, in metres.
#[derive(Debug, Clone, Copy)]
struct Read {
    metres: f64,
    unit_m: f64,
    last_digit_m: f64,
}

fn read(figure: &str) -> Read {
    let figure = figure.replace('\u{a0}', " ");
    let (number, unit) = figure.trim_start_matches('±').split_once(' ').unwrap();
    let unit_m = match unit {
        "m" => 1.0,
        "km" => 1000.0,
        "cables" => 185.2,
        "nm" => 1852.0,
        "ft" => 0.3048,
        "yd" => 0.9144,
        "mi" => 1609.344,
        other => panic!("{other} in {figure}"),
    };
    let decimals = number.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let last_digit_m = unit_m * 0.1_f64.powi(i32::try_from(decimals).unwrap());
    Read { metres: number.parse::<f64>().unwrap() * unit_m, unit_m, last_digit_m }
}

/// Two digits of a doubt, or the last digit shown where that is more.
fn step_m(doubt_m: f64, shown: Read) -> f64 {
    let digits_m = if doubt_m > 0.0 {
        10_f64.powf((doubt_m / shown.unit_m).log10().floor() - 1.0) * shown.unit_m
    } else {
        0.0
    };
    digits_m.max(shown.last_digit_m)
}

#[test]
fn what_is_shown_is_what_it_stands_for_to_one_step() {
    for units in ALL {
        for length_m in lengths_m() {
            for doubt_m in lengths_m() {
                let (length, doubt) = (metres(-length_m), metres(doubt_m));
                let shown = read(&distance(units, length, doubt));
                let beside = read(&doubt_of(units, length, doubt));
                let case = format!("{units:?} {length_m} ±{doubt_m}: {shown:?} {beside:?}");
                let close = 0.5 * step_m(doubt_m, shown) * (1.0 + 1e-9);
                assert!((shown.metres - length_m).abs() <= close, "{case}");
                let least_m = beside.last_digit_m.max(doubt_m);
                assert!((beside.metres - least_m).abs() <= step_m(doubt_m, beside), "{case}");
                if units != Units::Metric {
                    assert!((shown.unit_m - beside.unit_m).abs() < 1e-9, "{case}");
                }
            }
        }
    }
}

#[test]
fn what_is_within_its_doubt_is_never_shown_beyond_it() {
    for units in ALL {
        for length_m in lengths_m() {
            for doubt_m in lengths_m().into_iter().filter(|doubt_m| *doubt_m >= length_m) {
                let (length, doubt) = (metres(length_m), metres(doubt_m));
                let pairs = [
                    [distance(units, length, doubt), doubt_of(units, length, doubt)],
                    short_with_doubt(units, length, doubt),
                    short_pair(units, length_m, doubt_m),
                    with_doubt_up(units, length_m, doubt_m),
                    to_digits_of_doubt(units, length_m, doubt_m),
                ];
                for pair in pairs {
                    let [length, doubt] = [&pair[0], &pair[1]].map(|figure| read(figure).metres);
                    assert!(length <= doubt * (1.0 + 1e-9), "{units:?} {length_m} ±{doubt_m}: {pair:?}");
                }
            }
        }
    }
}

#[test]
fn what_is_beyond_its_doubt_is_not_shown_within_it() {
    for units in ALL {
        for length_m in lengths_m() {
            // a doubt below what is shown at all is shown as one step
            for doubt_m in lengths_m().into_iter().filter(|doubt_m| *doubt_m >= 20.0 && *doubt_m <= length_m)
            {
                let (length, doubt) = (metres(length_m), metres(doubt_m));
                let [shown, beside] = [distance(units, length, doubt), doubt_of(units, length, doubt)];
                let holds = read(&shown).metres >= read(&beside).metres * (1.0 - 1e-9);
                assert!(holds, "{units:?} {length_m} ±{doubt_m}: {shown} {beside}");
            }
        }
    }
}

#[test]
fn a_move_is_never_shown_shorter_and_a_better_fix_never_coarser() {
    for units in ALL {
        for length_m in lengths_m() {
            for figure in [move_length(units, metres(length_m)), move_in_sentence(units, length_m)] {
                let shown = read(&figure);
                assert!(shown.metres >= length_m - 2e-6, "{units:?} {length_m} {figure}");
                assert!(
                    shown.metres - length_m <= shown.last_digit_m.max(1.0) + 1e-6,
                    "{units:?} {length_m} {figure}"
                );
            }
            let shown = read(&whole_down(units, length_m));
            assert!(shown.metres <= length_m + 2e-6, "{units:?} {length_m} {shown:?}");
            let kilometres = length_m / 1000.0;
            if units != Units::Metric {
                assert!(read(&limit(units, kilometres)).metres <= length_m + 2e-6, "{units:?} {length_m}");
            }
        }
    }
}

#[test]
fn lengths_in_sentences_are_what_they_stand_for() {
    for units in ALL {
        for length_m in lengths_m() {
            let figures =
                [whole(units, length_m), length(units, length_m), short_in_sentence(units, length_m)];
            for figure in figures {
                let shown = read(&figure);
                let close = shown.last_digit_m / 2.0 * (1.0 + 1e-9);
                assert!((shown.metres - length_m).abs() <= close, "{units:?} {length_m} {figure}");
            }
        }
    }
}

#[test]
fn a_distance_has_no_more_digits_than_its_doubt_allows() {
    for (length, uncertainty, expected) in [
        (38.4, 10.0, ["38 m ±10 m", "38 m ±10 m", "126 ft ±33 ft"]),
        (-38.4, 8.11, ["38 m ±8 m", "38 m ±8 m", "126 ft ±27 ft"]),
        (1237.0, 137.0, ["1240 m ±140 m", "6.68 ±0.74 cables", "1350 ±150 yd"]),
        (1237.0, 99.0, ["1237 m ±99 m", "6.68 ±0.53 cables", "1350 ±110 yd"]),
        (40.0, 1500.0, ["0 m ±1500 m", "0.2 ±8.1 cables", "0 ±1600 yd"]),
        (12_345.0, 10.0, ["12.3 km ±10 m", "6.67 ±0.01 nm", "7.67 ±0.01 mi"]),
        (123_456.0, 12_345.0, ["123 km ±12 km", "66.7 ±6.7 nm", "76.7 ±7.7 mi"]),
        (4_611_300.0, 10.0, ["4611 km ±10 m", "2490 ±1 nm", "2865 ±1 mi"]),
        (0.2, 0.0, ["0 m ±1 m", "0 m ±1 m", "1 ft ±1 ft"]),
    ] {
        let shown = ALL.map(|units| plain(&distance_with_doubt(units, metres(length), metres(uncertainty))));
        assert_eq!(shown, expected);
    }
}

/// 5.1 m to spare read 10 m where the step is 10 m.
#[test]
fn a_margin_is_never_shown_larger_than_it_is() {
    for (margin_m, doubt_m, metric) in [(5.1, 150.0, "0 m"), (16.9, 16.0, "16 m"), (129.0, 150.0, "120 m")] {
        let (spare, doubt) = (Metres::new(margin_m).unwrap(), Metres::new(doubt_m).unwrap());
        assert_eq!(plain(&margin(Units::Metric, spare, doubt)), metric);
    }
    let us = margin(Units::Us, Metres::new(5.1).unwrap(), Metres::new(1.0).unwrap());
    assert_eq!(plain(&us), "16 ft", "16.7 ft");
}

#[test]
fn how_far_something_may_be_off_is_rounded_up_to_two_digits() {
    for (length, expected) in [
        (394.0, ["400 m", "2.2 cables", "440 yd"]),
        (7.2, ["8 m", "8 m", "24 ft"]),
        (5_560.0, ["5600 m", "3.1 nm", "3.5 mi"]),
        (55_288.0, ["56 km", "30 nm", "35 mi"]),
        (556_600.0, ["560 km", "310 nm", "350 mi"]),
    ] {
        assert_eq!(ALL.map(|units| roughly_up(units, length)), expected);
    }
}

#[test]
fn a_move_is_rounded_up() {
    assert_eq!(ALL.map(|units| plain(&move_length(units, metres(13.2)))), ["14 m", "14 m", "44 ft"]);
    assert_eq!(move_length(Units::Metric, metres(14.000_000_001)), "14\u{a0}m");
    assert_eq!(move_length(Units::Metric, metres(12_340.2)), "12.4\u{a0}km");
    assert_eq!(move_length(Units::Us, metres(30.48)), "100\u{a0}ft");
}

#[test]
fn minutes_carry_into_degrees() {
    let near_46 = Position::from_degrees(45.999_999_9, -30.000_000_1).unwrap();
    assert_eq!(position(near_46), "46°00.000'N 030°00.000'W");
    let marrowick = Position::from_degrees(45.1182, -30.1217).unwrap();
    assert_eq!(position(marrowick), "45°07.092'N 030°07.302'W");
}

#[test]
fn scale_bars_are_round_in_their_units() {
    for (most, expected) in [(1234.0, 1000.0), (2500.0, 2000.0), (0.07, 0.05), (9.9, 5.0)] {
        assert!((round_length(most) - expected).abs() < 1e-9, "{most}");
    }
    let labels =
        |widest_m: f64| ALL.map(|units| scale_bars(units, widest_m).map(|(_, label)| label).join(" "));
    assert_eq!(labels(1234.0), ["1000 m 0.5 nm", "5 cables 0.5 nm", "1000 yd 0.5 mi"]);
    assert_eq!(labels(100.0), ["100 m 0.05 nm", "100 m 0.05 nm", "200 ft 0.05 mi"]);
    assert_eq!(labels(34_000.0)[0], "20 km 10 nm");
    for units in ALL {
        for (length_m, _) in scale_bars(units, 777.0) {
            assert!(length_m <= 777.0 && length_m > 150.0, "{units:?} {length_m}");
        }
    }
}

#[test]
fn an_area_has_one_unit_and_no_more_digits_than_make_sense() {
    for (area_m2, expected) in [
        (0.0, ["none", "none", "none"]),
        (0.05, ["less than 1 m²", "less than 1 m²", "less than 1 sq ft"]),
        (12.4, ["12 m²", "12 m²", "133 sq ft"]),
        (1234.4, ["1230 m²", "1230 m²", "13300 sq ft"]),
        (9_994.0, ["9990 m²", "9990 m²", "2.5 acres"]),
        (9_999.0, ["1.0 ha", "1.0 ha", "2.5 acres"]),
        (52_340.0, ["5.2 ha", "5.2 ha", "13 acres"]),
        (99_800.0, ["10 ha", "10 ha", "25 acres"]),
        (345_678.0, ["35 ha", "35 ha", "85 acres"]),
        (12_344_000.0, ["1230 ha", "3.60 nm²", "3050 acres"]),
        (f64::NAN, ["not known", "not known", "not known"]),
    ] {
        assert_eq!(ALL.map(|units| area(units, area_m2)), expected);
    }
}

#[test]
fn figures_of_sentences_have_two_digits_of_their_doubt() {
    let digits = |doubt_m: f64| ALL.map(|units| two_digits(units, doubt_m));
    assert_eq!(digits(364.1), ["360 m", "2.0 cables", "400 yd"]);
    assert_eq!(digits(9.6), ["10 m", "10 m", "31 ft"]);
    assert_eq!(
        [38.2, 12_420.0, f64::INFINITY].map(|m| length(Units::Metric, m)),
        ["38 m", "12.4 km", "inf km"]
    );
    assert_eq!([4.26, 9.96].map(|m| short_in_sentence(Units::Metric, m)), ["4.3 m", "10 m"]);
    assert_eq!([0.6, 4.26].map(|m| short_in_sentence(Units::Us, m)), ["2 ft", "14 ft"]);
    assert_eq!(ALL.map(|units| limit(units, 100.0)), ["100 km", "53.9 nm", "62.1 mi"]);
    assert_eq!(ALL.map(|units| limit(units, 20.0)), ["20 km", "10.7 nm", "12.4 mi"]);
    assert_eq!(ALL.map(|units| limit(units, 1.0)), ["1 km", "5.39 cables", "1093 yd"]);
    assert_eq!(ALL.map(|units| height(units, 2.5)), ["2.5 m", "2.5 m", "8.2 ft"]);
    assert_eq!(
        ALL.map(|units| plain(&mark_height(units, metres(400.0), true))),
        ["400 m", "400 m", "1312 ft"]
    );
    assert!(ALL.map(|units| whole(units, f64::INFINITY)).iter().all(|figure| figure.starts_with("inf ")));
}

#[test]
fn speeds_are_in_knots_or_miles_an_hour_and_a_least_one_stays_the_laws() {
    assert_eq!(ALL.map(|units| plain(&speed(units, 2.61))), ["2.6 kn", "2.6 kn", "3.0 mph"]);
    assert_eq!(ALL.map(|units| speed_below(units, 1.0)), ["1 kn", "1 kn", "1.2 mph"]);
    assert_eq!(ALL.map(|units| least_speed(units, 3.0)), ["3 kn", "3 kn", "3 kn (3.5 mph)"]);
    assert_eq!(ALL.map(|units| assumed_speed(units, 12.0)), ["12 kn", "12 kn", "14 mph"]);
}

#[test]
fn a_size_of_fish_stays_the_laws_and_inches_beside_it_keep_within_it() {
    let us = |min_cm, max_cm| fish_sizes(Units::Us, min_cm, max_cm, " to ").unwrap();
    assert_eq!(us(Some(8.0), None), "8 cm (3.2 in)");
    assert_eq!(us(None, Some(8.0)), "8 cm (3.1 in)");
    assert_eq!(us(Some(20.0), Some(30.5)), "20 to 30.5 cm (7.9 to 12.0 in)");
    assert_eq!(us(Some(20.1), Some(20.2)), "20.1 to 20.2 cm");
    assert_eq!(us(Some(2.54), Some(2.54)), "2.54 to 2.54 cm (1.0 to 1.0 in)");
    assert_eq!(fish_sizes(Units::Nautical, Some(8.0), None, "-").unwrap(), "8 cm");
    assert_eq!(fish_sizes(Units::Us, None, None, "-"), None);
    let inches =
        |text: String| text.split_once('(').unwrap().1.trim_end_matches(" in)").parse::<f64>().unwrap();
    for tenths in 1..2500 {
        let cm = f64::from(tenths) / 10.0;
        let (least, most) = (inches(us(Some(cm), None)) * 2.54, inches(us(None, Some(cm))) * 2.54);
        assert!(least >= cm - 1e-9 && least < cm + 0.255, "{cm}");
        assert!(most <= cm + 1e-9 && most > cm - 0.255, "{cm}");
    }
}

/// Figures with a metric unit in a text, and speeds in knots; sizes of fish in centimetres are the law's.
pub(crate) fn metric_figures(text: &str) -> Vec<String> {
    const UNITS: [&str; 6] = ["m", "km", "m²", "ha", "kn", "metres"];
    let text = text.replace(['\u{a0}', '\n', '<', '>'], " ");
    let words: Vec<&str> = text.split_whitespace().collect();
    let is_metric = |word: &str| {
        let unit = word.trim_matches(|letter: char| !letter.is_alphanumeric() && letter != '²');
        UNITS.contains(&unit)
    };
    let is_number = |word: &str| word.ends_with(|letter: char| letter.is_ascii_digit());
    let followed = words.windows(2).filter(|pair| is_number(pair[0]) && is_metric(pair[1]));
    followed.map(|pair| pair.join(" ")).collect()
}

/// Fails where a text in US units has a figure in others, or one in nautical units has kilometres.
pub(crate) fn assert_units(units: Units, text: &str) {
    let found = metric_figures(text);
    match units {
        Units::Metric => {}
        Units::Nautical => {
            let far: Vec<_> = found.iter().filter(|figure| figure.contains("km")).collect();
            assert!(far.is_empty(), "{far:?} in:\n{text}");
        }
        Units::Us => {
            // a law's speed stays in knots, with miles an hour beside it
            let others: Vec<_> =
                found.iter().filter(|figure| !text.contains(&format!("{figure} ("))).collect();
            assert!(others.is_empty(), "{others:?} in:\n{text}");
        }
    }
}

#[test]
fn metric_figures_are_seen() {
    assert_eq!(metric_figures("by 38\u{a0}m ±10\u{a0}m, 1 min"), ["38 m", "±10 m,"]);
    assert!(metric_figures("by 38 ft, 2 marks").is_empty());
}

/// The words for one of each thing that the library says.
fn every_text(words: &dyn Words) -> Vec<String> {
    let mut texts = Vec::new();
    texts.extend(samples::reasons().iter().map(|one| words.reason(one)));
    texts.extend(samples::remedies().iter().map(|one| words.remedy(one)));
    texts.extend(samples::warnings().iter().map(|one| words.warning(one)));
    texts.extend(samples::assumptions().iter().map(|one| words.assumption(*one)));
    texts.extend(samples::conditions().iter().map(|one| words.condition(one)));
    texts.extend(samples::rule_reasons().iter().map(|one| words.rule_reason(one)));
    texts.extend(samples::rule_remedies().iter().map(|one| words.rule_remedy(one)));
    texts.extend(samples::track_reasons().iter().map(|one| words.track_reason(one)));
    texts.extend(samples::motions().iter().map(|one| words.motion(one)));
    texts.extend(samples::transit_problems().iter().map(|one| words.transit_problem(one)));
    texts.extend(samples::clears_reasons().iter().map(|one| words.clears_reason(one)));
    texts.extend(samples::calibration_reasons().iter().map(|one| words.calibration_reason(one)));
    texts.extend(samples::pair_reasons().iter().map(|one| words.pair_reason(one)));
    texts.push(words.season_without_zones());
    texts.extend(words.page_limits());
    texts.extend(words.track_limits());
    texts.extend(words.cautions().map(str::to_owned));
    texts.extend(words.transit_limits().map(str::to_owned));
    texts
}

#[test]
fn every_text_is_in_the_units_asked_for() {
    let english = every_text(&English);
    assert_eq!(english, every_text(&EnglishIn(Units::Metric)));
    for units in ALL {
        for text in every_text(&EnglishIn(units)) {
            assert_units(units, &text);
        }
    }
    assert!(english.iter().any(|text| !metric_figures(text).is_empty()));
}

#[test]
fn here_and_track_and_its_page_are_in_the_units_asked_for() {
    use takeline::track::{Certainty, Evidence};
    let assessments = [
        here::closed(),
        here::outside(),
        here::near_the_line(),
        here::season_unknown(),
        here::line_unknown(),
    ];
    let zones = track::zones();
    let visits = [
        track::visit(Certainty::Certain, Evidence::Fixes),
        track::visit(Certainty::Possible, Evidence::Gap),
        track::visit(Certainty::Possible, Evidence::BetweenFixes),
    ];
    let audits = [track::far_away(), track::never(), track::with(visits.into())];
    for units in ALL {
        let words = EnglishIn(units);
        for assessment in &assessments {
            for width in [40, 120] {
                assert_units(units, &here_text(&HereDocument::of(assessment, &words), width));
            }
        }
        for audit in &audits {
            let report = track::report(audit, &zones);
            let document = TrackDocument::of(&report, &words);
            assert_units(units, &track_text(&document, 100));
            assert_units(units, &track_row_text(&document));
            assert_units(units, &track_page(&document).unwrap());
            let metric = TrackDocument::of(&report, &English);
            assert_eq!(track_csv_rows(&document).unwrap(), track_csv_rows(&metric).unwrap());
            let features = |document| json_page(&track_features(document)).unwrap();
            assert_eq!(features(&document), features(&metric));
        }
    }
}
