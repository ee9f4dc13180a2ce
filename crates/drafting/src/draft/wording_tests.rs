//! Wordings that were once read as another shape, or not at all, each with what it means; the places are invented.

use super::*;

fn drafted(text: &str) -> Draft {
    draft(
        text,
        &DraftRequest {
            id: "wording".to_owned(),
            instrument: Some("x".to_owned()),
            nothing_may_be_taken: true,
            ..DraftRequest::default()
        },
    )
}

fn properties(made: &Draft) -> serde_json::Value {
    let value: serde_json::Value = serde_json::from_str(made.file.as_deref().unwrap_or("null")).unwrap();
    value["features"][0]["properties"].clone()
}

/// Metres: the nautical mile is 1852 m, the yard 0.9144 m, the fathom 1.8288 m (from memory).
#[test]
fn a_radius_is_read_whole_or_refused() {
    for (said, radius_m) in [
        ("within 1.5 nm of", Some(2778.0)),
        ("within 1 1/2 nautical miles of", Some(2778.0)),
        ("within one and a half nautical miles of", Some(2778.0)),
        ("within twenty-five metres of", Some(25.0)),
        ("within a radius of .5 nautical miles of", Some(926.0)),
        ("in a circle with radius = 0,5 nautical miles centred on", Some(926.0)),
        ("in a circle, radius (1,25 km), centre", Some(1250.0)),
        ("in a circle, radius (1/2 nautical mile), centre", Some(926.0)),
        ("in a circle of 2 km in diameter about", Some(1000.0)),
        ("within 500 yards of", Some(457.2)),
        ("within 150 m (492 ft) of", Some(150.0)),
        ("within 1.000 m of", None),
        ("within 2,500 m of", None),
        ("within a radius of 2 M of", None),
        ("within 2 miles of", None),
        ("within 5 cables of", None),
        ("within 150 m (600 ft) of", None),
        ("of the wreck, 300 m long, in a circle of radius 2 km about", None),
        ("in a ring between radius 2 km and radius 3 km about", None),
        ("in a semicircle of radius 1 km north of", None),
        ("outside a circle of radius 2 km about", None),
        ("in a sector of radius 1 km, from 000° true to 090° true, centred on", None),
    ] {
        let made = drafted(&format!("WGS 84\nAll waters {said} 45°12.00′ N 030°06.00′ W"));
        let found = properties(&made)["radius_m"].as_f64();
        assert!(
            found
                .zip(radius_m)
                .map_or(found.is_none() && radius_m.is_none(), |(one, other)| (one - other).abs() < 1e-9),
            "{said}: {found:?} {:?} {:?}",
            made.findings,
            made.text.lines
        );
    }
}

/// The area settles which mile is meant: π r² of half a nautical mile is 2.694 km², of half a statute mile 2.034 km².
#[test]
fn an_area_settles_which_mile_is_meant() {
    for (area, radius_m) in [("2.694", 926.0), ("2.034", 804.672)] {
        let made = drafted(&format!(
            "WGS 84\nThe waters within half a mile of 45°12.00′ N 030°06.00′ W, {area} km²"
        ));
        assert_eq!(properties(&made)["radius_m"], radius_m, "{:?}", made.findings);
    }
}

const BEFORE: &str = "WGS 84 rhumb lines\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W";
const AFTER: &str = "C 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W";

#[test]
fn an_arc_turns_as_it_is_said_or_is_refused() {
    let about = "a circle of radius 926 m centred on 45°11.50′ N 030°04.00′ W to";
    for (said, turn) in [
        ("clockwise along the arc of", Some("clockwise")),
        ("anti clockwise along the arc of", Some("counterclockwise")),
        ("in a counter clockwise direction along the arc of", Some("counterclockwise")),
        ("contra-clockwise along the arc of", Some("counterclockwise")),
        ("anti–clockwise along the arc of", Some("counterclockwise")),
        ("not clockwise along the arc of", None),
        ("along the major arc of", None),
        ("by the longer arc of", None),
        ("along a curve of", None),
        ("along a segment of", None),
        ("along the circumference of", None),
        ("against the clock, curving to the right, along an arc of", None),
    ] {
        let made = drafted(&format!("{BEFORE} thence {said} {about}\n{AFTER}"));
        let found = properties(&made)["edges"][1]["arc"]["turn"].as_str().map(str::to_owned);
        assert_eq!(found.as_deref(), turn, "{said}: {:?} {:?}", made.findings, made.text.lines);
    }
    let twice = "clockwise along an arc of radius 1000 m centred on latitude 45°11.50′ North and longitude 30°04.00′ West to";
    let made = drafted(&format!("{BEFORE} thence {twice}\n{AFTER}"));
    assert!(made.findings.iter().any(|finding| finding.code() == "radius-differs"), "{:?}", made.findings);
}

#[test]
fn what_is_said_of_a_side_is_held_or_told() {
    for (said, code) in [
        ("thence 30 cables south to", "length-differs"),
        ("thence westerly to", "bearing-differs"),
        ("thence along the shore; thence due south to", "side-without-point"),
        ("thence for 1,852 m, for 1,852 m to", "side-unclear"),
        ("thence by a geodesic, a rhumb line, to", "side-unclear"),
    ] {
        let made = drafted(&format!("{BEFORE} {said}\n{AFTER}"));
        assert!(made.findings.iter().any(|finding| finding.code() == code), "{said}: {:?}", made.findings);
        assert_eq!(made.file, None, "{said}");
    }
}

#[test]
fn a_text_of_several_zones_or_lost_corners_is_refused() {
    let rows = "45°12.00′ N 030°06.00′ W\n45°12.00′ N 030°04.00′ W\n45°11.00′ N 030°04.00′ W";
    let other = "45°22.00′ N 030°06.00′ W\n45°22.00′ N 030°04.00′ W\n45°21.00′ N 030°04.00′ W";
    let first = "45°12.00′ N 030°06.00′ W";
    for text in [
        format!("Area One\n{rows}\nArea Two\n{other}"),
        format!("{rows}\n{first}\n{other}"),
        format!("{rows}\nLatitude Longitude\n{other}"),
        format!(
            "(a) the waters within 300 metres of the beacon at {first}, and\n(b) the area joining\n{other}"
        ),
        format!("Excluding the waters within 100 m of {first}, the area\n{other}"),
        format!("{rows}\nthe north end of Otter Rock\n{other}"),
        format!("{rows}\nNM 7890 12340 thence by rhumb line to A"),
        format!("{rows}\nNM7890012340"),
        format!("{rows}\nthence to the western end of the breakwater"),
        format!("A {first}\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD the beacon"),
        format!("{rows}\nthence to the point of beginning 45°12.50′ N 030°06.00′ W"),
        format!("thence to the centre of the breakwater at {first}\n{other}"),
        format!(
            "A {first} thence east along latitude 45°12.00′ N to longitude 030°04.00′ W thence south to 45°11.00′ N\n{other}"
        ),
        "Latitude N Longitude W\n45 06.60 30 07.80\n45 66.60 30 06.60\n45 07.50 30 06.60\n45 07.50 30 07.80"
            .to_owned(),
        format!("{rows}\nN44°1O′ and W171°5O′"),
    ] {
        let made = drafted(&format!("WGS 84, rhumb lines\n{text}"));
        assert_eq!(made.file, None, "{text}");
    }
}

#[test]
fn datums_are_one_or_keep_the_file_back() {
    let rows = "45°12.00′ N 030°06.00′ W\n45°12.00′ N 030°04.00′ W\n45°11.00′ N 030°04.00′ W";
    for (named, is_written) in [
        ("North American Datum of 1983 (NAD 83)", true),
        ("World Geodetic System 1984 (WGS84)", true),
        ("Tokyo Datum", false),
        ("Pulkovo 1942", false),
        ("Datum: Amersfoort", false),
        ("European Datum (1st Adjustment 1950)", false),
        ("Ordnance Survey of Great Britain 1936 Datum", false),
        ("WGS 72", false),
    ] {
        let text = format!("Rhumb lines ({named})\n{rows}");
        assert_eq!(drafted(&text).file.is_some(), is_written, "{named}");
        let asked =
            DraftRequest { id: "d".to_owned(), datum: Some("NAD83".to_owned()), ..DraftRequest::default() };
        assert_eq!(draft(&text, &asked).file.is_some(), named.starts_with("North"), "{named}");
    }
}

#[test]
fn kinds_of_lines_hold_for_the_whole_list_wherever_they_stand() {
    let rows = "45°12.00′ N 030°06.00′ W\n45°12.00′ N 030°04.00′ W\n45°11.00′ N 030°04.00′ W";
    for (text, edges) in [
        (format!("{rows}\nAll lines are rhumb lines."), Some("rhumb")),
        (format!("Geodesic lines joining\n{rows}"), Some("geodesic")),
        (format!("Rhumb lines, not great circles, joining\n{rows}"), None),
        (format!("Rhumb lines or geodesics joining\n{rows}"), None),
        (format!("AB is a rhumb line, BC a geodesic\n{rows}"), None),
    ] {
        let made = drafted(&format!("WGS 84\n{text}"));
        let found = properties(&made)["edges"].as_str().map(str::to_owned);
        assert_eq!(found.as_deref(), edges, "{text}: {:?}", made.findings);
    }
}

/// Texts that say, outside of their rows, that the shape is another than the rows alone would give. Each has to be refused, or to be
/// told with a finding: none may pass for understood.
const SAID_ELSEWHERE: &[&str] = &[
    "WGS 84, rhumb lines\nInner zone | Outer zone\n45°12.00′ N 030°06.00′ W | 45°13.00′ N 030°07.00′ W\n45°12.00′ N 030°04.00′ W | 45°13.00′ N 030°03.00′ W\n45°11.00′ N 030°04.00′ W | 45°10.00′ N 030°03.00′ W\n45°11.00′ N 030°06.00′ W | 45°10.00′ N 030°07.00′ W",
    "WGS 84, rhumb lines\nWinter line; Summer line\n45°12.00′ N 030°06.00′ W; 45°12.50′ N 030°06.50′ W\n45°12.00′ N 030°04.00′ W; 45°12.50′ N 030°03.50′ W\n45°11.00′ N 030°04.00′ W; 45°10.50′ N 030°03.50′ W",
    "WGS 84, rhumb lines. Positions in degrees and minutes (DD.MM):\n45.12 N 30.06 W\n45.12 N 30.04 W\n45.11 N 30.04 W",
    "WGS 84, rhumb lines. Lat/Long in DD.MMSS:\n45.1200 N 30.0600 W\n45.1200 N 30.0400 W\n45.1100 N 30.0400 W",
    "WGS 84, rhumb lines\nLatitude N (degrees, minutes) | Longitude W (degrees, minutes)\n45.1250 | 30.0650\n45.1250 | 30.0450\n45.1150 | 30.0450",
    "WGS 84, rhumb lines\nLatitude N (minutes) | Longitude W (minutes)\n45.1250 | 30.0650\n45.1250 | 30.0450\n45.1150 | 30.0450",
    "WGS 84, rhumb lines. Seconds are decimals of a minute.\n45°12′50″ N 30°06′25″ W\n45°12′50″ N 30°04′25″ W\n45°11′50″ N 30°04′25″ W",
    "WGS 84, rhumb lines. Longitudes count from Paris.\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W",
    "WGS 84, rhumb lines (longitudes from Ferro).\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W",
    "Rhumb lines. Before use on a WGS 84 receiver convert these positions.\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W",
    "Rhumb lines.\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W\nTo obtain WGS 84 positions, apply the corrections of Notice 7.",
    "Rhumb lines.\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W\nThe list will be put into WGS 84 in 2030.",
    "WGS 84, rhumb lines.\nAll waters of Gull Bay inside a line drawn from\nA 45°12.00′ N 030°06.00′ W to\nB 45°12.00′ N 030°04.00′ W to\nC 45°11.00′ N 030°04.00′ W.",
    "WGS 84, rhumb lines.\nAll waters of the Tern River lying above a line joining\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W",
    "WGS 84, rhumb lines.\nAll Marrowick waters are closed, saving those enclosed by the lines joining\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W",
    "WGS 84, rhumb lines.\nFishing is forbidden throughout Marrowick; it is allowed solely in the area joining\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W",
    "WGS 84. The waters enclosed by rhumb lines joining the following points:\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W\nThe reserve includes Gull Cove.",
    "WGS 84. The waters enclosed by rhumb lines joining the following points:\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W\nThis Order does not extend to the waters of Gull Cove.",
    "WGS 84. The waters enclosed by rhumb lines joining the following points:\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W\nThe reserve stops at the harbour wall.",
    "WGS 84. The waters enclosed by rhumb lines joining the following points:\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W\nBetween B and C the boundary is the foreshore.",
    "WGS 84. The waters enclosed by rhumb lines joining the following points:\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W\nSide CD: MLWS.",
    "WGS 84. Rhumb lines. From Gull Head to\n45°12.00′ N 030°06.00′ W to\n45°12.00′ N 030°04.00′ W to\n45°11.00′ N 030°04.00′ W to\nOtter Head.",
    "WGS 84. The waters enclosed by rhumb lines joining the following points:\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W\nE 45°11.20′ N 030°06.50′ W\nF 45°11.50′ N 030°07.00′ W\nE and F are leading marks.",
    "WGS 84. Rhumb lines joining points with odd numbers:\n1. 45°12.00′ N 030°06.00′ W\n2. 45°12.00′ N 030°05.00′ W\n3. 45°12.00′ N 030°04.00′ W\n4. 45°11.00′ N 030°04.00′ W\n5. 45°11.00′ N 030°06.00′ W",
    "WGS 84. All waters within 500 metres of the pipeline that begins at\n45°12.00′ N 030°06.00′ W",
    "WGS 84. A circle of radius 500 m touching\n45°12.00′ N 030°06.00′ W",
    "WGS 84. Out of the circle with radius 500 m centred on 45°12.00′ N 030°06.00′ W",
    "WGS 84. The waters within 500 m of the line from 45°12.00′ N 030°06.00′ W",
    "WGS 84. In this Part a nautical mile means 1,609 metres.\nA circle of radius 2 nautical miles centred on 45°12.00′ N 030°06.00′ W",
    "WGS 84\nThe lines joining the points are anything but rhumb lines.\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W",
    "WGS 84\nRhumb lines join A with B and C with D.\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W",
    "WGS 84.\nRhumb lines, but AB is the shortest line.\nA 45°12.00′ N 030°06.00′ W\nB 45°12.00′ N 030°04.00′ W\nC 45°11.00′ N 030°04.00′ W\nD 45°11.00′ N 030°06.00′ W",
    "WGS 84, rhumb lines.\n45.20, 30.10\n45.20, 30.06\n45.18, 30.06\nAll latitudes are south.",
];

#[test]
fn what_prose_says_of_a_shape_is_not_passed_over() {
    for text in SAID_ELSEWHERE {
        let made = drafted(text);
        assert!(made.file.is_none() || !made.findings.is_empty(), "{text}");
    }
}
