//! Positions as the law prints them, beside the vertices or instead of them.

use serde_json::{Value, json};

use super::test_files::*;
use crate::zone::Extent;

/// The square of the smallest file, in degrees and minutes.
const SQUARE: [&str; 4] =
    ["45°06.60′N 030°07.80′W", "45°06.60′N 030°06.60′W", "45°07.50′N 030°06.60′W", "45°07.50′N 030°07.80′W"];

fn published(texts: &[&str]) -> Value {
    with("as_published", json!(texts))
}

fn without_geometry(texts: &[&str]) -> Value {
    let mut file = published(texts);
    file["features"][0]["geometry"] = Value::Null;
    file
}

fn codes(file: &Value) -> Vec<&'static str> {
    loaded(file).warnings.iter().map(|warning| warning.kind.code()).collect()
}

#[test]
fn texts_that_agree_are_kept_with_the_zone() {
    let file = loaded(&published(&SQUARE));
    assert_eq!(file.warnings, []);
    let kept = &file.zones[0].as_published;
    assert_eq!(kept.iter().map(|one| one.text.as_str()).collect::<Vec<_>>(), SQUARE);
    assert_eq!(
        kept.iter().map(|one| (one.part, one.ring, one.vertex)).collect::<Vec<_>>(),
        [(1, 1, 1), (1, 1, 2), (1, 1, 3), (1, 1, 4)]
    );
}

#[test]
fn a_vertex_that_contradicts_its_text_is_a_fault_that_shows_both() {
    let mut texts = SQUARE;
    texts[2] = "45°07.60′N 030°06.60′W";
    let text = refused(&published(&texts));
    assert!(text.contains("as_published > entry 3"), "{text}");
    assert!(text.contains("“45°07.60′N") || text.contains("\"45°07.60′N 030°06.60′W\""), "{text}");
    assert!(text.contains("45.1266667°N 030.1100000°W"), "{text}");
    assert!(text.contains("vertex 3 is 45.1250000°N 030.1100000°W, 185 m from there"), "{text}");
}

/// Zeros at the end are no doubt: 24.50 is no 24.5 ± 0.05.
#[test]
fn whole_degrees_in_a_file_leave_nothing_open() {
    let ring = json!([[-30, 45], [-29, 45], [-29, 46]]);
    let mut file = with_ring(&ring);
    file["features"][0]["properties"]["as_published"] = json!(["45°18′N 30°W", "45°N 29°W", "46°N 29°W"]);
    assert!(refused(&file).contains("entry 1"), "{}", refused(&file));
}

#[test]
fn a_vertex_within_the_digits_printed_is_a_warning() {
    let mut texts = SQUARE;
    texts[2] = "45°07.5′N 030°06.6′W";
    assert!(codes(&published(&texts)).is_empty());
    let mut file = published(&texts);
    file["features"][0]["geometry"]["coordinates"][0][2] = json!([-30.1105, 45.125]);
    assert_eq!(codes(&file), ["published-differs"]);
    file["features"][0]["geometry"]["coordinates"][0][2] = json!([-30.1125, 45.125]);
    assert!(refused(&file).contains("entry 3"));
}

#[test]
fn a_ring_is_made_from_text_alone() {
    let boundary = |file: &Value| match &loaded(file).zones[0].extent {
        Extent::Known(boundary) => boundary.area_m2(),
        Extent::Unknown { .. } => 0.0,
    };
    let drawn = boundary(&without_geometry(&SQUARE));
    assert!((drawn - boundary(&smallest())).abs() < 1.0, "{drawn}");
    let mut circle = without_geometry(&["45°06.60′N 030°07.80′W"]);
    circle["features"][0]["properties"]["radius_m"] = json!(400);
    circle["features"][0]["properties"]["edges"] = Value::Null;
    assert!((boundary(&circle) - std::f64::consts::PI * 160_000.0).abs() < 10.0);
}

#[test]
fn what_text_alone_cannot_give_is_refused() {
    assert!(refused(&without_geometry(&[])).contains("is an empty list"));
    assert!(refused(&without_geometry(&SQUARE[..2])).contains("2 different vertices"));
    let unread = refused(&without_geometry(&["57°3−30'N 5°30'W", SQUARE[1], SQUARE[2]]));
    assert!(unread.contains("is not read as a position") && unread.contains("stands inside"), "{unread}");
    let mut gap = without_geometry(&SQUARE);
    gap["features"][0]["properties"]["as_published"][3] = json!({ "text": SQUARE[3], "vertex": 5 });
    assert!(refused(&gap).contains("is not counted without a gap"));
    let mut shifted = without_geometry(&SQUARE);
    shifted["features"][0]["properties"]["as_published"][3] = json!({ "text": SQUARE[3], "datum": "NAD 27" });
    assert!(refused(&shifted).contains("NAD 27"));
    let mut both = without_geometry(&SQUARE);
    both["features"][0]["properties"]["geometry_unknown"] = json!({ "reason": "plan 2" });
    assert_eq!(codes(&both), ["undecided-everywhere"], "the texts alone are kept");
}

#[test]
fn parts_and_holes_are_made_from_text() {
    let mut file = without_geometry(&SQUARE);
    let list = file["features"][0]["properties"]["as_published"].as_array_mut().unwrap();
    for (i, text) in ["45°06.8′N 030°07.2′W", "45°06.8′N 030°07.0′W", "45°07′N 030°07.0′W"].iter().enumerate()
    {
        list.push(json!({ "text": text, "ring": 2, "vertex": i + 1, "point": format!("H{i}") }));
    }
    for (i, text) in ["46°N 30°W", "46°N 29°59′W", "46°01′N 29°59′W"].iter().enumerate() {
        list.push(json!({ "text": text, "part": 2, "vertex": i + 1 }));
    }
    let loaded = loaded(&file);
    let Extent::Known(boundary) = &loaded.zones[0].extent else { panic!("is drawn") };
    assert_eq!(boundary.parts().len(), 2);
    assert_eq!(loaded.zones[0].as_published[4].point.as_deref(), Some("H0"));
}

#[test]
fn entries_for_no_vertex_or_for_one_twice_are_faults() {
    let mut five = SQUARE.to_vec();
    five.push(SQUARE[0]);
    assert_eq!(loaded(&published(&five)).warnings, [], "the repeated first vertex has a text, too");
    five.push(SQUARE[0]);
    assert!(refused(&published(&five)).contains("vertex 6 is not in the geometry"));
    let twice = with("as_published", json!([SQUARE[0], { "text": SQUARE[0], "vertex": 1 }]));
    assert!(refused(&twice).contains("is for the same vertex as entry 1"));
    let zero = with("as_published", json!([{ "text": SQUARE[0], "vertex": 0 }]));
    assert!(refused(&zero).contains("0 counts nothing"));
}

#[test]
fn a_datum_of_the_text_leaves_room_for_the_shift() {
    let entry = |text: &str| with("as_published", json!([{ "text": text, "datum": "NAD 27" }]));
    assert_eq!(loaded(&entry("45°06.70′N 030°07.80′W")).warnings, []);
    assert!(refused(&entry("45°16.60′N 030°07.80′W")).contains("entry 1"));
}

#[test]
fn a_doubt_of_a_text_is_told_where_it_makes_the_ring() {
    let mut texts = SQUARE;
    texts[0] = "45.1100 ″ N, 30.1300 ″ W";
    assert!(codes(&published(&texts)).is_empty());
    assert_eq!(codes(&without_geometry(&texts)), ["published-in-doubt"; 2]);
}

#[test]
fn texts_alone_count_for_the_size_of_a_file() {
    let far = ["0°N 0°W", "0°N 120°W", "60°N 120°W"];
    let file = without_geometry(&far);
    let line = loaded(&file).line_length.metres();
    assert!(line > 20_000_000.0, "{line}");
}
