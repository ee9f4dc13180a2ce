use takeline::transit::{CompassPoint, Told};
use takeline::{Tristate, ZoneSet};

use super::test_fixtures::*;
use super::{
    CalibrationDocument, CrossDocument, CrossReport, FindDocument, TransitDocument, transit_calibrate_text,
    transit_cross_text, transit_find_text, transit_geojson, transit_gpx, transit_sketch_svg,
    transit_sketch_text, transit_text,
};
use crate::figures::Units;
use crate::figures_tests::assert_units;
use crate::here::test_fixtures as here;
use crate::json_page;
use crate::words::{English, EnglishIn};

const ALL: [Units; 3] = [Units::Metric, Units::Nautical, Units::Us];

#[test]
fn checks_sketches_and_waypoints_are_in_the_units_asked_for() {
    let zones = ZoneSet::new(vec![zone()]);
    for report in every_report() {
        for units in ALL {
            let words = EnglishIn(units);
            let document = TransitDocument::new(&report, &words);
            for width in [40, 100] {
                assert_units(units, &transit_text(&document, width));
            }
            assert_units(units, &transit_sketch_text(&document, &zones, 60));
            assert_units(units, &transit_sketch_svg(&document, &zones));
            assert_units(units, &transit_gpx(&document).unwrap());
            let features = json_page(&transit_geojson(&document)).unwrap();
            let metric = TransitDocument::new(&report, &English);
            assert_eq!(features, json_page(&transit_geojson(&metric)).unwrap(), "{units:?}");
        }
    }
}

#[test]
fn searches_calibrations_and_crossings_are_in_the_units_asked_for() {
    let (zone, question) = (zone(), pair_question());
    let pairs = vec![pair(Tristate::Yes, 59.0), pair(Tristate::No, -12.0), pair(Tristate::Undecided, 3.0)];
    let sides = [side(CompassPoint::North, pairs), side(CompassPoint::East, vec![])];
    let (lines, report) = (lines(), clear());
    let crossed = [crossed(), crossed_twice()];
    for units in ALL {
        let words = EnglishIn(units);
        assert_units(units, &transit_find_text(&FindDocument::new(&question, &zone, &sides, &words), 60));
        for told in [Told::BothMarks, Told::OnlyWhereTheFixesLie, Told::Nothing] {
            let calibration = calibration(told);
            for corrected in [None, Some(&report)] {
                let document = CalibrationDocument::new(&calibration, corrected, &words);
                assert_units(units, &transit_calibrate_text(&document, 60));
            }
        }
        for crossed in &crossed {
            let found = CrossReport { lines: &lines, crossed, assessments: &[here::closed()] };
            assert_units(units, &transit_cross_text(&CrossDocument::new(found, &words), 60));
        }
    }
}

#[test]
fn the_first_lines_of_a_check_in_each_unit() {
    let first = |units| {
        let report = clear();
        let text = transit_text(&TransitDocument::new(&report, &EnglishIn(units)), 60);
        text.lines().next().unwrap_or_default().to_owned()
    };
    assert_eq!(first(Units::Metric), "CLEARS Sallow Cove Reserve by 74 m ±15 m");
    assert_eq!(first(Units::Nautical), "CLEARS Sallow Cove Reserve by 74 m ±15 m");
    assert_eq!(first(Units::Us), "CLEARS Sallow Cove Reserve by 243 ft ±49 ft");
    let report = clear();
    let metric = TransitDocument::new(&report, &EnglishIn(Units::Metric));
    assert_eq!(transit_text(&metric, 60), transit_text(&TransitDocument::new(&report, &English), 60));
}
