//! However many threads read a file, it is the same file: zones, warnings and faults, and their order.

use serde_json::{Value, json};

use super::read::{read_in_order, read_sound};
use super::test_files::{both_ways, smallest, square};
use super::{LoadZonesError, read};

/// A file of so many zones, each changed by its number.
fn file_of(count: usize, change: impl Fn(usize, &mut Value)) -> String {
    let mut file = smallest();
    let first = file["features"][0].clone();
    let features = (0..count).map(|number| {
        let mut feature = first.clone();
        feature["id"] = json!(format!("cove-{number}"));
        for at in 0..5 {
            let place = &mut feature["geometry"]["coordinates"][0][at];
            let east_deg = f64::from(u32::try_from(number).unwrap()) * 0.01;
            place[0] = json!(place[0].as_f64().unwrap() + east_deg);
        }
        change(number, &mut feature);
        feature
    });
    file["features"] = features.collect();
    file.to_string()
}

/// Zones of every kind that loads, some with warnings of their own and some with those that are told together.
fn nasty(number: usize, feature: &mut Value) {
    match number % 9 {
        0 => feature["geometry"]["coordinates"][0][1] = feature["geometry"]["coordinates"][0][2].clone(),
        1 => feature["properties"]["datum"] = json!("unknown"),
        2 => feature["properties"]["edges"] = json!("unstated"),
        3 => {
            feature["geometry"] = json!({ "type": "Point", "coordinates": [-30, 45.5, 3] });
            feature["properties"]["radius_m"] = json!(150);
        }
        4 => {
            feature["geometry"] = Value::Null;
            feature["properties"]["geometry_unknown"] = json!({ "reason": "plan 2 is missing" });
        }
        5 => {
            feature["properties"]["overrides"] =
                json!([{ "zone": format!("cove-{}", number + 1), "clause": "4" }]);
        }
        6 => feature["properties"]["overrides"] = json!([{ "zone": "elsewhere", "clause": "4" }]),
        7 => {
            let part = square()["coordinates"].clone();
            feature["geometry"] =
                json!({ "type": "MultiPolygon", "coordinates": [part, [[[1, 2], [2, 2, 0], [2, 3]]]] });
        }
        _ => feature["id"] = json!(number),
    }
}

#[test]
fn any_number_of_threads_reads_the_same_file() {
    let file = file_of(200, nasty);
    let in_order = read_in_order("marrowick.json", file.as_bytes(), &[]).unwrap();
    assert!(in_order.warnings.len() > 60, "{}", in_order.warnings.len());
    for threads in [1, 2, 3, 8] {
        let found = read_sound("marrowick.json", file.as_bytes(), (threads, &[])).expect("a sound file");
        assert_eq!(format!("{found:?}"), format!("{in_order:?}"), "{threads} threads");
    }
}

#[test]
fn more_warnings_than_are_listed_are_the_same_ones() {
    let repeat = |_: usize, feature: &mut Value| {
        feature["geometry"]["coordinates"][0][1] = feature["geometry"]["coordinates"][0][2].clone();
    };
    let file = file_of(1_100, repeat);
    let in_order = read_in_order("marrowick.json", file.as_bytes(), &[]).unwrap().warnings;
    let found = read_sound("marrowick.json", file.as_bytes(), (3, &[])).expect("a sound file").warnings;
    assert_eq!(in_order.len(), 1_001);
    assert_eq!(found, in_order);
}

#[test]
fn faults_of_several_features_come_in_the_order_of_the_file() {
    let file = file_of(90, |number, feature| {
        nasty(number, feature);
        if number % 20 == 13 {
            feature["properties"]["take"] = json!("nothing at all");
            feature["geometry"]["coordinates"] = json!([[[-30.1, "45"], [200, 45]]]);
        }
    });
    let refused: LoadZonesError = read("marrowick.json", file.as_bytes()).unwrap_err();
    let numbers: Vec<usize> =
        refused.faults.iter().filter_map(|fault| Some(fault.place.feature.as_ref()?.number)).collect();
    assert!(numbers.is_sorted() && numbers.contains(&14) && numbers.contains(&74), "{numbers:?}");
    assert_eq!(Err(refused), both_ways(&file).map(|_| ()));
}

#[test]
fn what_only_the_whole_file_shows_is_refused() {
    let ring_of_overrides = |number: usize, feature: &mut Value| {
        feature["properties"]["overrides"] =
            json!([{ "zone": format!("cove-{}", (number + 1) % 3), "clause": "4" }]);
    };
    let twice = |number: usize, feature: &mut Value| feature["id"] = json!(format!("cove-{}", number % 7));
    let circle = both_ways(&file_of(3, ring_of_overrides)).unwrap_err();
    assert!(circle.to_string().contains("displace one another in a circle"), "{circle}");
    let twice = both_ways(&file_of(8, twice)).unwrap_err();
    assert!(twice.to_string().contains("the id \"cove-0\" is used by feature 1 too"), "{twice}");
}

#[test]
fn texts_that_are_nearly_sound_are_refused_as_ever() {
    let sound = file_of(2, |_, _| {});
    let broken = [
        sound.replacen("\"type\":\"Feature\"", "\"type\":\"Feature\",\"type\":\"Feature\"", 1),
        sound.replacen("\"type\":\"Polygon\"", "\"type\":\"Polygon\",\"coordinates\":[]", 1),
        sound.replacen("\"features\":[", "\"features\":[],\"features\":[", 1),
        sound.replacen("\"features\":[", "\"features\":[{},", 1),
        sound.replacen("45.11", "4\u{665}.11", 1),
        sound.replacen("45.11", "NaN", 1),
        sound.replacen("45.11", "1e999", 1),
        sound.replacen("45.11", "95.11", 1),
        sound.replacen("45.11", "45.11,1,2", 1),
        sound.replacen("[-30.13", "[[-30.13", 1),
        sound.replacen("{\"type\":\"FeatureCollection\"", "{\"type\":\"Feature\"", 1),
        format!("{sound}]"),
        sound[..sound.len() - 2].to_owned(),
        sound.replace("Sallow Cove", "Sallow \u{7} Cove"),
    ];
    for file in broken {
        assert!(both_ways(&file).is_err(), "{file}");
    }
    let with_a_mark = format!("\u{feff}{sound}");
    let read = read_sound("marrowick.json", with_a_mark.as_bytes(), (2, &[])).expect("a sound file");
    assert_eq!(read.zones.len(), 2);
}
