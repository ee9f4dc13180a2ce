//! Files that would fill the memory are refused with a sentence that says the limit and how to mend it.

use super::{MOST_BYTES, MOST_ZONES, read};

fn file(features: &str) -> String {
    format!(
        r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","datum":"WGS 84"}},"features":[{features}]}}"#
    )
}

#[track_caller]
fn expect_too_large(bytes: &[u8], words: &str) {
    let refused = read("many.json", bytes).unwrap_err();
    assert_eq!(refused.faults.len(), 1, "{refused}");
    assert_eq!(refused.faults[0].kind.code(), "too-large");
    let text = refused.to_string();
    assert!(text.contains(words) && text.contains("split the file"), "{text}");
}

fn boxes(count: usize, side_deg: f64) -> String {
    let one = |number: usize| {
        format!(
            r#"{{"type":"Feature","id":"z{number}","geometry":{{"type":"Polygon","coordinates":[[[0,0],[{side_deg},0],[{side_deg},{side_deg}],[0,{side_deg}],[0,0]]]}},"properties":{{"name":"z","edges":"rhumb","take":"none","source":{{"instrument":"Test"}}}}}}"#
        )
    };
    (0..count).map(one).collect::<Vec<_>>().join(",")
}

#[test]
fn a_file_of_too_many_zones_is_refused() {
    expect_too_large(file(&boxes(MOST_ZONES + 1, 0.001)).as_bytes(), "holds 100001 zones; at most 100000");
}

/// 600 squares of 30° are about 8 million kilometres of line in 150 kB of text.
#[test]
fn a_file_of_too_long_lines_is_refused() {
    expect_too_large(file(&boxes(600, 30.0)).as_bytes(), "km long together; at most 1000000 km");
}

#[test]
fn a_file_of_too_many_vertices_is_refused() {
    let ring = "[0.0001,0],[0,0.0001],".repeat(1_000_001);
    let feature = format!(
        r#"{{"type":"Feature","id":"z","geometry":{{"type":"Polygon","coordinates":[[{ring}[0,0]]]}},"properties":{{}}}}"#
    );
    expect_too_large(file(&feature).as_bytes(), "holds 2000003 vertices; at most 2000000");
}

#[test]
fn a_file_of_too_many_values_or_bytes_is_refused_unread() {
    expect_too_large("[],".repeat(8_000_000).as_bytes(), "counted as 4; at most 8000000");
    expect_too_large(&vec![b' '; MOST_BYTES + 1], "is larger than 64 MiB");
}

/// The leanest zones that there are: told from the bytes, before the tree of values fills the memory.
#[test]
fn a_million_zones_are_refused_unread() {
    let zone = r#"{"type":"Feature","id":"1","geometry":null,"properties":{}},"#;
    expect_too_large(zone.repeat(1_000_000).as_bytes(), "counted as 4; at most 8000000");
}
