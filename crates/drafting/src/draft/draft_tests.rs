use takeline::zone::Extent;
use takeline::zone_file;

use super::*;
use crate::law_text::Outcome;

const DATA: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/data/regulations/zones");

fn request() -> DraftRequest {
    DraftRequest {
        id: "sallow-cove".to_owned(),
        instrument: Some("Marrowick Order 3".to_owned()),
        nothing_may_be_taken: true,
        ..DraftRequest::default()
    }
}

fn codes(made: &Draft) -> Vec<&'static str> {
    made.findings.iter().map(DraftFinding::code).collect()
}

fn drafted(text: &str) -> Draft {
    draft(text, &request())
}

fn file(made: &Draft) -> serde_json::Value {
    let refused: Vec<_> =
        made.text.lines.iter().filter(|line| matches!(line.outcome, Outcome::Refused { .. })).collect();
    let text = made.file.as_ref().unwrap_or_else(|| panic!("{:#?} {refused:#?}", made.findings));
    serde_json::from_str(text).unwrap()
}

/// The decimal vertices of `vertices.csv` for one zone, in the published order: worked out without our parser.
fn vertices_of(id: &str) -> Vec<(String, String)> {
    let text = std::fs::read_to_string(format!("{DATA}/vertices.csv")).unwrap();
    let header: Vec<String> = text.lines().next().unwrap().split(',').map(str::to_owned).collect();
    let column = |name: &str| header.iter().position(|one| one == name).unwrap();
    let (lat, lon) = (column("lat_deg"), column("lon_deg"));
    let rows = text.lines().skip(1).filter(|line| line.split(',').next() == Some(id));
    rows.map(|line| {
        let parts: Vec<&str> = line.split(',').collect();
        (parts[lat].to_owned(), parts[lon].to_owned())
    })
    .collect()
}

/// The text of a real zone as a law prints it: a row for each point, arcs between them.
fn text_of(properties: &serde_json::Value, row: impl Fn(usize, &str, &str) -> String) -> String {
    let mut text = String::new();
    let points = properties["coordinates_as_published"].as_array().unwrap();
    for (i, point) in points.iter().enumerate() {
        let (lat, lon) = (point[0].as_str().unwrap(), point[1].as_str().unwrap());
        text.push_str(&row(i + 1, lat, lon));
        text.push('\n');
        for arc in properties["arcs"].as_array().into_iter().flatten().filter(|arc| arc["from_vertex"] == i) {
            let centre = &arc["centre_as_published"];
            let (lat, lon) = (centre[0].as_str().unwrap(), centre[1].as_str().unwrap());
            let nm = &arc["radius_nm"];
            let arc = format!("An arc with a {nm} nm radius clockwise centered at (21) {lat}, {lon}\n");
            text.push_str(&arc);
        }
    }
    text
}

fn real_zones() -> Vec<serde_json::Value> {
    let files = ["us_florida_keys", "us_other", "us_smz_boxes", "scotland"];
    let features = files.iter().flat_map(|name| {
        let text = std::fs::read_to_string(format!("{DATA}/{name}.geojson")).unwrap();
        let value: serde_json::Value = serde_json::from_str(&text).unwrap();
        value["features"].as_array().unwrap().clone()
    });
    features.map(|feature| feature["properties"].clone()).collect()
}

/// Source of the zones: `tests/data/regulations/zones/README.md`.
#[test]
fn real_zones_are_drafted_from_their_published_text() {
    let mut drafted_zones = 0;
    for properties in real_zones() {
        let id = properties["id"].as_str().unwrap();
        if properties["coordinates_as_published"].is_null() {
            continue;
        }
        let rows: [fn(usize, &str, &str) -> String; 4] = [
            |_, lat, lon| format!("{lat}, {lon}"),
            |i, lat, lon| format!("({i}) {lat}, {lon};"),
            |i, lat, lon| format!("{i}\t{lat}\t{lon}"),
            |i, lat, lon| format!("{i}. thence to {lat} {lon}"),
        ];
        for (form, row) in rows.iter().enumerate() {
            // signed decimals have no letters by which columns without separators could be told apart
            let made = drafted(&text_of(&properties, row));
            let written = file(&made);
            let ring = written["features"][0]["geometry"]["coordinates"][0].as_array().unwrap();
            let expected = vertices_of(id);
            assert_eq!(ring.len(), expected.len() + 1, "{id}, form {form}");
            for (vertex, (lat, lon)) in ring.iter().zip(&expected) {
                let found = (
                    format!("{:.10}", vertex[1].as_f64().unwrap()),
                    format!("{:.10}", vertex[0].as_f64().unwrap()),
                );
                assert_eq!(found, (lat.clone(), lon.clone()), "{id}, form {form}");
            }
            let loaded = zone_file::read(id, made.file.as_ref().unwrap().as_bytes()).unwrap();
            assert_eq!(loaded.zones[0].as_published.len(), expected.len(), "{id}");
        }
        drafted_zones += 1;
    }
    assert!(drafted_zones >= 18, "{drafted_zones}");
}

/// 50 CFR 622.182(a)(1): boxes between parallels and meridians, in the words of the file `us_smz_boxes.geojson`.
#[test]
fn real_boxes_are_drafted_from_their_bounds() {
    let mut boxes = 0;
    for properties in real_zones() {
        let id = properties["id"].as_str().unwrap();
        if !id.starts_with("us-smz") {
            continue;
        }
        let written = file(&drafted(properties["edge_text"].as_str().unwrap()));
        let feature = &written["features"][0];
        assert_eq!(feature["properties"]["edges"], "rhumb", "{id}");
        let ring = feature["geometry"]["coordinates"][0].as_array().unwrap();
        for (vertex, (lat, lon)) in ring.iter().zip(vertices_of(id)) {
            assert_eq!(
                (
                    format!("{:.10}", vertex[1].as_f64().unwrap()),
                    format!("{:.10}", vertex[0].as_f64().unwrap())
                ),
                (lat, lon),
                "{id}"
            );
        }
        boxes += 1;
    }
    assert_eq!(boxes, 7);
}

/// 15 CFR part 922, subpart W, appendix E: two arcs; the second closes the ring. Radii are checked in `computed.csv`.
#[test]
fn a_real_boundary_with_arcs_is_drafted() {
    let zones = real_zones();
    let properties = zones.iter().find(|one| one["id"] == "us-coralshiprep").unwrap();
    let made = drafted(&text_of(properties, |i, lat, lon| format!("({i}) {lat}, {lon}; a rhumb line to")));
    let edges = &file(&made)["features"][0]["properties"]["edges"];
    assert_eq!(edges[0], "rhumb");
    for (edge, nm) in [(8, 60.25), (18, 60.17)] {
        let arc = &edges[edge]["arc"];
        assert!((arc["radius_m"].as_f64().unwrap() - nm * 1852.0).abs() < 1e-6, "{arc}");
    }
    // the ends of each arc lie nearly opposite each other, and the text does not say the way round
    let silent = text_of(properties, |i, lat, lon| format!("({i}) {lat}, {lon}")).replace("clockwise", "");
    assert_eq!((codes(&drafted(&silent)), drafted(&silent).file), (vec!["arc-incomplete"; 2], None));
}

/// 15 CFR 922.60: a circle of one mile in diameter, 0.593 square nautical miles (0.785 square miles).
#[test]
fn a_real_circle_is_drafted_and_its_area_agrees() {
    let made = drafted(
        "a vertical water column one mile in diameter, the center of which is at the following coordinates: 35.00639, -75.40889\n\
         an area of 0.593 square nautical miles (0.785 sq. mi.)",
    );
    let properties = file(&made)["features"][0]["properties"].clone();
    assert!((properties["radius_m"].as_f64().unwrap() - 804.672).abs() < 1e-9);
    assert_eq!(codes(&made), Vec::<&str>::new());
}

/// SSI 2005/304: "97.420 hectares or thereby", while its corners enclose 112; its side lengths are right.
#[test]
fn a_published_area_that_contradicts_its_corners_is_found() {
    let zones = real_zones();
    let properties = zones.iter().find(|one| one["id"] == "scot-loch-crinan").unwrap();
    let rows = text_of(properties, |_, lat, lon| format!("{lat} {lon}"));
    let made = drafted(&format!("{rows}an area of 97.420 hectares or thereby"));
    assert_eq!((codes(&made), made.file.is_some()), (vec!["area-differs"], false));
    let lengths = ["1036", "860", "1058", "1320"];
    let sides =
        text_of(properties, |i, lat, lon| format!("{lat} {lon} thence for {} metres to", lengths[i - 1]));
    assert_eq!(codes(&drafted(&sides)), Vec::<&str>::new());
    let slip = sides.replacen("05°33'22\"", "05°36'22\"", 1);
    assert!(codes(&drafted(&slip)).contains(&"length-differs"), "a slip of 3'");
    let despite = draft(
        &format!("{rows}an area of 97.420 hectares"),
        &DraftRequest { despite_contradictions: true, ..request() },
    );
    assert!(file(&despite)["features"][0]["properties"]["note"].as_str().unwrap().contains("area-differs"));
}

/// The four corners of The Edges (50 CFR 622.34), in the order NW, NE, SW, SE of a public notice. The coordinates are from
/// memory; that the right order encloses 1,338 km² is from a computation made for this project with another program.
#[test]
fn corners_out_of_order_are_refused_with_the_exchange_that_mends() {
    let text = "28°51′N 85°16′W\n28°51′N 85°04′W\n28°14′N 84°54′W\n28°14′N 84°42′W";
    let made = drafted(text);
    assert!(made.file.is_none());
    let [DraftFinding::CrossesItself { repairs, .. }] = made.findings.as_slice() else {
        panic!("{:?}", made.findings)
    };
    assert!(
        repairs
            .iter()
            .any(|(one, other, m2)| matches!((one.as_str(), other.as_str()), ("1", "2") | ("3", "4"))
                && (m2 / 1e6 - 1338.0).abs() < 1.0),
        "{repairs:?}"
    );
}

/// A row lost in a copy: the names begin at B, and four points are three. Steamboat Lumps, 50 CFR 622.34, from memory.
#[test]
fn a_lost_row_is_found() {
    let rows = ["A 28°14′ N 84°48′ W", "B 28°14′ N 84°37′ W", "C 28°03′ N 84°37′ W", "D 28°03′ N 84°48′ W"];
    assert_eq!(codes(&drafted(&rows.join("\n"))), Vec::<&str>::new());
    assert_eq!(codes(&drafted(&rows[1..].join("\n"))), ["labels-start"]);
    let gap = [rows[0], rows[2], rows[3]].join("\n");
    assert_eq!(
        codes(&drafted(&format!("joining the following four points:\n{gap}"))),
        ["labels-gap", "corners-differ"]
    );
    let repeat = [rows[0], rows[1], "B 28°03′ N 84°37′ W", rows[3]].join("\n");
    assert!(codes(&drafted(&repeat)).contains(&"labels-repeat"));
}

/// "Due east for 200 nautical miles" between coordinates 217.7 apart, "due east for 3 km" between 3,189 m, and the good case of a
/// radius of 3,000 m with ends at 3,012 and 3,002 m: figures of New Zealand notices; the coordinates here are made to them, from
/// lengths of a degree on the WGS 84 ellipsoid (at 40° of latitude 85,393.9 m of longitude).
#[test]
fn words_and_numbers_that_disagree_are_found() {
    let east_of = |metres: f64| metres / 85_393.9;
    let square = |metres: f64, said: &str| {
        let lon = -30.0 + east_of(metres);
        format!(
            "40.00000 N, 30.00000 W, thence due east for {said} to\n40.00000 N, {:.5} W\n39.90000 N, {:.5} W",
            -lon, -lon
        )
    };
    for (metres, said, is_bad) in [
        (217.7 * 1852.0, "200 nautical miles", true),
        (217.7 * 1852.0, "217.7 nautical miles", false),
        (3189.0, "3 km", true),
        (3012.0, "3,000 m", false),
    ] {
        let made = drafted(&square(metres, said));
        let expected: &[&str] = if is_bad { &["length-differs"] } else { &[] };
        assert_eq!(codes(&made), expected, "{said}: {:?}", made.findings);
    }
    let bearing = "40.00000 N, 30.00000 W, thence 075° true for 1 km to\n40.00000 N, 29.98829 W\n39.90000 N, 29.98829 W";
    assert_eq!(codes(&drafted(bearing)), ["bearing-differs"]);
    let along = "40.00000 N, 30.00000 W, thence along the parallel to\n40.01000 N, 29.98829 W\n39.90000 N, 29.98829 W";
    assert_eq!(codes(&drafted(along)), ["not-along"]);
    // an arc whose ends are 3,012 and 3,002 m from its centre; the radius in the file has to fit the library, too
    let east = |metres: f64| 30.0 - east_of(metres);
    let arc = format!(
        "40.00000 N, {:.5} W; thence clockwise along an arc of a circle of 3,000 m radius centred on 40.00000 N, 30.00000 W to\n\
         39.97297 N, 30.00000 W\n40.00000 N, 30.00000 W",
        east(3012.0)
    );
    let made = drafted(&arc);
    assert!(!codes(&made).contains(&"radius-differs"), "{:?}", made.findings);
    let bad = arc.replace("3,000 m", "2,500 m");
    assert!(codes(&drafted(&bad)).contains(&"radius-differs"));
}

#[test]
fn what_the_text_does_not_say_is_asked_and_the_file_is_cautious() {
    let text = "45°06.60′ N 30°07.80′ W\n45°06.60′ N 30°06.60′ W, thence along the shore to\n45°07.50′ N 30°06.60′ W";
    let made = draft(text, &DraftRequest { id: "sallow-cove".to_owned(), ..DraftRequest::default() });
    let asked: Vec<_> = made.questions.iter().map(Question::code).collect();
    assert_eq!(asked, ["coast", "edges", "datum", "on-the-line", "take", "time-zone", "instrument"]);
    let loaded = zone_file::read("draft", made.file.as_ref().unwrap().as_bytes()).unwrap();
    assert_eq!(loaded.zones[0].rule.take, takeline::rule::Take::Nothing);
    assert!(matches!(loaded.zones[0].when, takeline::rule::When::Unknowable(_)), "no rule is stated");
    let told = |warning: &zone_file::FileWarning| warning.kind == zone_file::WarningKind::TimeZoneMissing;
    assert!(!loaded.warnings.iter().any(told), "it has no dates: {:?}", loaded.warnings);
    assert!(matches!(&loaded.zones[0].extent, Extent::Known(boundary) if boundary.has_sides()));
    let nad27 = drafted("NAD 27\n45°06.60′ N 30°07.80′ W\n45°06.60′ N 30°06.60′ W\n45°07.50′ N 30°06.60′ W");
    assert_eq!((codes(&nad27), nad27.file), (vec!["not-loadable"], None));
}

#[test]
fn a_refused_line_keeps_the_file_back() {
    let made = drafted(
        "45°06.60′ N 30°07.80′ W\n45°06.60′ N 30°06.60′ W\n45°07.50′ N 30°06.60′ W\n57°3−30'N 5°30'W",
    );
    assert_eq!((made.refused_lines(), made.file), (1, None));
    let repeats = drafted(
        "1 45°06.60′ N 30°07.80′ W\n2 45°06.60′ N 30°06.60′ W\n3 45°07.50′ N 30°06.60′ W\n4 45°06.60′ N 30°07.80′ W",
    );
    assert_eq!((repeats.points, codes(&repeats)), (3, vec![]), "the first corner again closes the ring");
}
