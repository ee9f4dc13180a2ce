//! `--units`: what people are shown changes, what programs read does not.

use std::fs;

use super::{marrowick, takeline};

const LOG: &str = "time,lat,lon\n2026-07-25T06:30:00Z,45.1215,-30.1217\n2026-07-25T06:31:00Z,45.1213,-30.1217\n\
                   2026-07-25T06:32:00Z,45.1211,-30.1217\n";

#[test]
fn here_is_shown_in_the_units_asked_for_and_json_is_not() {
    let folder = marrowick();
    let ask = |more: &[&str]| {
        let mut arguments = vec!["here", "45.1215", "-30.1217", "--zones", "marrowick.geojson"];
        arguments.extend(["--time", "2026-07-25T06:30:00Z", "--accuracy-m", "10", "--standoff-m", "500"]);
        arguments.extend(more);
        takeline(folder.path(), &arguments, "")
    };
    let metric = ask(&[]);
    assert_eq!(ask(&["--units", "metric"]).out, metric.out);
    assert!(metric.out.contains("278 m ±16 m"), "{}", metric.out);
    let nautical = ask(&["--units", "nautical"]).out;
    assert!(nautical.contains("1.50 ±0.09 cables"), "{nautical}");
    let us = ask(&["--units", "us"]);
    assert!(us.out.contains("911 ft ±53 ft") && !us.out.contains(" m "), "{}", us.out);
    assert_eq!(us.status, metric.status);
    let json = ask(&["--format", "json"]).out;
    assert_eq!(ask(&["--format", "json", "--units", "us"]).out, json);
}

#[test]
fn a_track_is_shown_in_the_units_asked_for_and_its_data_are_not() {
    let folder = marrowick();
    fs::write(folder.path().join("log.csv"), LOG).unwrap();
    let ask = |more: &[&str], name: &str| {
        let mut arguments = vec!["track", "log.csv", "--zones", "marrowick.geojson"];
        let [csv, map, page] = ["csv", "geojson", "html"].map(|end| format!("{name}.{end}"));
        arguments.extend(["--csv", &csv, "--geojson", &map, "--html", &page]);
        arguments.extend(more);
        let out = takeline(folder.path(), &arguments, "").out;
        [out, csv, map, page].map(|text| fs::read_to_string(folder.path().join(&text)).unwrap_or(text))
    };
    let [text, rows, features, page] = ask(&[], "metric");
    assert!(text.contains("top speed: 12.0 kn") && page.contains("Metres to the nearest boundary"), "{text}");
    let [us_text, us_rows, us_features, us_page] = ask(&["--units", "us"], "us");
    assert!(us_text.contains("top speed: 13.8 mph") && !us_text.contains("0 kn"), "{us_text}");
    assert!(us_text.contains(" --units us"), "{us_text}");
    assert!(us_page.contains("Feet to the nearest boundary"));
    assert_eq!([us_rows, us_features], [rows, features]);
    let [json, _, _, json_page] = ask(&["--format", "json"], "metric");
    let [us_json, _, _, us_json_page] = ask(&["--format", "json", "--units", "us"], "us");
    assert_eq!(us_json.replace(" --units us", ""), json);
    assert_eq!([us_json_page, json_page], [us_page, page]);
}

#[test]
fn marks_are_shown_in_the_units_asked_for_wherever_the_option_stands() {
    let folder = marrowick();
    let check = ["transit", "check", "--front", "45.1252 -30.1310", "--rear", "45.1252 -30.1350"];
    let stretch = [
        "--near-m",
        "500",
        "--far-m",
        "2000",
        "--zones",
        "marrowick.geojson",
        "--time",
        "2026-07-25T06:30:00Z",
    ];
    let ask = |before: &[&str], after: &[&str]| {
        let arguments = [before, &check, &stretch, after].concat();
        takeline(folder.path(), &arguments, "")
    };
    let us = ask(&["--units", "us"], &[]);
    assert!(
        us.out.contains(" yd") && us.out.contains("for each foot off") && us.out.contains(" mph"),
        "{} {}",
        us.out,
        us.err
    );
    assert_eq!(ask(&[], &["--units", "us"]).out, us.out);
    let json = ask(&[], &["--format", "json"]).out;
    assert_eq!(ask(&[], &["--format", "json", "--units", "us"]).out, json);
    let refused = ask(&["--units", "furlongs"], &[]);
    assert!(refused.status == 2 && refused.err.contains("metric, nautical or us"), "{}", refused.err);
}
