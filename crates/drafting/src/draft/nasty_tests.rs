//! Clean texts with one nasty phrase more, in every place: nothing that may change a shape is passed over.
//!
//! `TAKELINE_NASTY=1` tries every place; else each phrase is tried in every twenty-third.

use super::*;
use crate::law_text::Outcome;

/// Texts that are drafted without a word, with the corners that each has; invented.
const CLEAN: [(&str, usize); 6] = [
    (include_str!("../../../../demo-data/law/otter-ledge.txt"), 4),
    (
        "Sallow Cove Order\n\nThe area bounded by rhumb lines joining the points (WGS 84)\n45°06.60′ N 30°07.80′ W\n45°06.60′ N 30°06.60′ W\n45°07.50′ N 30°06.60′ W\n45°07.50′ N 30°07.80′ W\n\nNo person may fish there.",
        4,
    ),
    (
        "Spindle Rock Order (WGS 84)\n\nfrom point A, 45°12.00′ N 30°06.00′ W,\nby a rhumb line to point B, 45°12.00′ N 30°04.00′ W;\nthence clockwise along the arc of a circle of radius 926 m centred on 45°11.50′ N 30°04.00′ W to\npoint C, 45°11.00′ N 30°04.00′ W;\nthence by a rhumb line to point A.",
        3,
    ),
    (
        "Teal Bight Order (WGS 84)\nThe waters within 1.5 nautical miles of 45°12.00′ N 30°06.00′ W.\nNo person may fish there.",
        1,
    ),
    (
        "Heron Strand Order (WGS 84)\nThe area is bounded on the north by 45°12.00′ N; on the south by 45°11.00′ N; on the east by 30°04.00′ W; and on the west by 30°06.00′ W.\nNo person may fish there.",
        4,
    ),
    (
        "Tern Deep Order (WGS 84)\nbeginning at 45°12.00′ N, 30°06.00′ W; thence due east to 45°12.00′ N, 30°04.00′ W; thence due south for 1,852 m to 45°11.00′ N, 30°04.00′ W; thence to the point of beginning.",
        3,
    ),
];

/// Phrases after which no text may be drafted in silence, wherever they stand.
const EVERYWHERE: &[&str] = &[
    "landward of the line",
    "seaward of the line",
    "shoreward",
    "outside the line",
    "outside a circle",
    "beyond 2 km of",
    "beyond the line",
    "except the waters within",
    "excepting",
    "excluding the area bounded by",
    "exclusive of",
    "other than",
    "apart from the area",
    "save for the creek",
    "less the creek",
    "which is not part of the boundary",
    "is not included",
    "does not form part of the zone",
    "points marked * are not part of the boundary",
    "aiming at the light",
    "semicircle",
    "semi-circle",
    "a semi circle",
    "sector",
    "a sector from 000° true to 090° true",
    "quadrant",
    "a ring between radius 2 km and radius 3 km",
    "annulus",
    "northern half of a circle",
    "the northern half of",
    "one quarter of",
    "arc",
    "arcs of circles",
    "along an arc",
    "major arc",
    "a curve of radius 926 m",
    "curving to the right",
    "segment of a circle",
    "circumference of a circle",
    "concave to the west",
    "convex",
    "ellipse",
    "oval",
    "buffer of 100 m",
    "within 2 km of",
    "within 2 km of the line joining",
    "within a distance of",
    "within half a mile of",
    "at a distance of 1 km from",
    "north of",
    "south of the line",
    "east of",
    "to the west of",
    "northwards of",
    "on the northern side of",
    "either side of",
    "on each side of",
    "on both sides",
    "together with the waters",
    "as well as",
    "also",
    "in addition to",
    "plus the area",
    "and also the area bounded by",
    "and the area enclosed by",
    "and the waters within",
    "the second area",
    "three zones",
    "the following areas",
    "two parts",
    "excludes",
    "omitting the rock",
    "a circle of radius 500 m",
    "a radius of 150 m",
    "(swinging radius 150 m)",
    "300 m in diameter",
    "diameter",
    "centred on the light",
    "centre of the wreck",
    "perpendicular to",
    "equidistant from",
    "median line",
    "midway between",
    "halfway",
    "20 m depth contour",
    "the 20 metre isobath",
    "depths",
    "contour",
    "substitute",
    "for A substitute",
    "is replaced by",
    "delete",
    "instead of",
    "in place of B and instead of C",
    "intersection",
    "where it intersects",
    "prolongation of",
    "offset",
    "eastings",
    "northings",
    "UTM zone 25",
    "NM 7890 12340",
    "NM7890012340",
    "magnetic",
    "grid bearing",
    "the shore",
    "the mean high water mark",
    "the mainland",
    "upstream of the bridge",
    "downstream",
    "adjoining",
    "NAD 27",
    "European Datum 1950",
    "Tokyo Datum",
    "(Tokyo Datum)",
    "Pulkovo 1942",
    "Datum: Amersfoort",
    "Clarke 1866 spheroid",
    "Bessel ellipsoid",
    "Ordnance Survey of Great Britain 1936 Datum",
    "WGS 72",
    "ED50",
    "Geodetic Datum of 1949",
    "five sides",
    "five corners",
    "thirteen points",
    "twenty square kilometres",
    "an area of 20 km²",
    "not clockwise",
    "counter clockwise",
    "anti–clockwise",
    "contra-clockwise",
    "anticlockwise",
    "ccw",
    "in reverse order",
    "not rhumb lines",
    "great circles, not rhumb lines",
    "perpendicularly",
];

/// Phrases that say something of a line only beside coordinates: in headings and prose they may stand.
const BESIDE: &[&str] = &[
    "north",
    "southern",
    "due north for 3 km",
    "thence 045° true",
    "on a bearing of 123°",
    "30 cables",
    "12 miles",
    "5 nautical miles",
    "12 M",
    "1 1/2 nautical miles",
    "twenty-five metres",
    "1.000 m",
    "one and a half miles",
    "3 leagues",
    "2 fathoms",
    "½ mile",
    "seven",
    "17",
    "3.14",
    "R2",
    "Fl.5s",
    "note 4",
    "12 50",
    "45°",
    "6′",
    "W",
    "N",
    "major",
    "minor",
    "longer",
    "left",
    "right",
    "each",
    "both",
    "neither",
    "or",
    "not",
    "without",
    "between",
    "through",
    "around",
    "along the river",
    "along the boundary of the harbour",
    "following the bank",
    "follows the breakwater",
    "via the buoy",
    "across the bay",
    "near",
    "opposite",
    "inside",
    "the other",
    "another",
    "respectively",
    "alternatively",
    "the north end of Otter Rock",
    "Otter Rock",
    "thence to Otter Rock",
    "to the western end of the breakwater",
    "the mouth of the creek",
    "thence along the creek",
    "D the beacon",
    "Area Two",
    "Zone B",
    "Part 2",
    "edge",
    "limit",
    "12 nautical mile limit",
    "channel",
    "tangent",
    "at an angle",
    "bearing",
    "true",
    "extended to",
    "produced",
    "shifted",
    "amended to read",
    "corrected",
    "half",
    "end",
    "middle",
    "last",
    "parallel to the road",
    "high",
    "low",
    "*",
    "†",
    "hence",
];

/// Phrases that are understood: the outline is the clean one, because they are held to it, or it has what they say.
const UNDERSTOOD: &[(&str, &str)] = &[
    ("along the shore", "along"),
    ("by the coast", "along"),
    ("along the mean high water mark", "along"),
    ("geodesics", "geodesic"),
    ("a geodesic line", "geodesic"),
    ("a great circle", "geodesic"),
    ("rhumb lines", "rhumb"),
    ("All lines are rhumb lines.", "rhumb"),
    ("due west", "rhumb"),
    ("along the parallel", "rhumb"),
    ("along the meridian to", "rhumb"),
    ("easterly", ""),
    ("westward", ""),
    ("thence westerly", ""),
    ("thence northerly to", ""),
    ("in a north-westerly direction", ""),
    ("270° true", ""),
    ("circle", ""),
    ("clockwise", ""),
    ("radius", ""),
    ("thence to", ""),
    ("Schedule", ""),
    ("the area", ""),
    ("centre of the circle", ""),
    ("straight", ""),
    ("the centre", ""),
    ("(b) the waters", ""),
    ("first", ""),
    ("along", ""),
    ("WGS 84", ""),
    ("World Geodetic System 1984 (WGS 84)", ""),
    ("the following points", ""),
    ("beginning at", ""),
    ("straight line", ""),
];

fn request() -> DraftRequest {
    DraftRequest {
        id: "nasty".to_owned(),
        instrument: Some("x".to_owned()),
        nothing_may_be_taken: true,
        ..DraftRequest::default()
    }
}

/// What is written, and whether a line is told of.
fn told(made: &Draft, line: usize) -> bool {
    let of_line = |finding: &DraftFinding| format!("{finding:?}").contains(&format!("line: {line},"));
    made.text.lines.get(line - 1).is_some_and(|line| line.outcome == Outcome::WordsWithNumbers)
        || made.findings.iter().any(of_line)
}

/// The part of the file that says where the zone is.
fn outline(file: &str) -> serde_json::Value {
    let value: serde_json::Value = serde_json::from_str(file).unwrap();
    let mut feature = value["features"][0].clone();
    // the note of an arc quotes its centre, with the words inside it
    for edge in feature["properties"]["edges"].as_array_mut().into_iter().flatten() {
        if edge["arc"].is_object() {
            edge["arc"]["note"] = serde_json::Value::Null;
        }
    }
    serde_json::json!([
        feature["geometry"],
        feature["properties"]["edges"],
        feature["properties"]["radius_m"],
        value["takeline"]["datum"]
    ])
}

/// The text with a phrase at each place between two words, and on a line by itself; with the line of the phrase, counted from 1.
fn with(text: &str, phrase: &str) -> Vec<(String, usize)> {
    let mut made = Vec::new();
    let lines: Vec<&str> = text.lines().collect();
    for (i, line) in lines.iter().enumerate() {
        let mut put = |new: String| {
            let mut all: Vec<String> = lines.iter().map(|&line| line.to_owned()).collect();
            all[i] = new;
            made.push((all.join("\n"), i + 1));
        };
        let mut places: Vec<usize> = line.match_indices(' ').map(|(at, _)| at).collect();
        places.extend([0, line.len()]);
        for at in places {
            put(format!("{} {phrase} {}", &line[..at], &line[at..]));
        }
        let mut all = lines.clone();
        all.insert(i, phrase);
        made.push((all.join("\n"), i + 1));
    }
    made.push((format!("{text}\n{phrase}"), lines.len() + 1));
    made
}

#[test]
fn clean_texts_are_drafted_without_a_word() {
    for (text, points) in CLEAN {
        let made = draft(text, &request());
        assert_eq!(
            (made.points, made.findings.as_slice()),
            (points, [].as_slice()),
            "{text}\n{:#?}",
            made.text.lines
        );
        assert!(made.file.is_some(), "{text}\n{:#?}", made.text.lines);
    }
}

/// Whether the lines of a text with a phrase more say something that the file does not, and nobody is told.
fn is_wrong(text: &str, clean: &serde_json::Value, line: usize, means: Option<&str>) -> bool {
    let made = draft(text, &request());
    let Some(file) = &made.file else { return false };
    if told(&made, line) {
        return false;
    }
    let lines: Vec<&str> = text.lines().collect();
    let mut rows = lines.iter().enumerate().filter(|(_, line)| line.contains('°')).map(|(at, _)| at + 1);
    let first = rows.next().unwrap_or_default();
    let last = rows.next_back().unwrap_or(first);
    let is_beside = (first..=last).contains(&line) || lines[line - 1].trim_start().starts_with("thence");
    let found = outline(file);
    match means {
        None => true,
        Some("beside") => is_beside || found != *clean,
        Some(word) => {
            found[0] != clean[0]
                || (found != *clean && (word.is_empty() || !found.to_string().contains(word)))
        }
    }
}

#[test]
fn no_nasty_phrase_is_passed_over() {
    let stride = if std::env::var_os("TAKELINE_NASTY").is_some() { 1 } else { 23 };
    let mut tried = 0;
    let mut wrong = Vec::new();
    for (text, _) in CLEAN {
        let clean = outline(draft(text, &request()).file.as_ref().unwrap());
        let everywhere = EVERYWHERE.iter().map(|phrase| (*phrase, None));
        let beside = BESIDE.iter().map(|phrase| (*phrase, Some("beside")));
        let understood = UNDERSTOOD.iter().map(|(phrase, means)| (*phrase, Some(*means)));
        for (i, (phrase, means)) in everywhere.chain(beside).chain(understood).enumerate() {
            for (changed, line) in with(text, phrase).into_iter().skip(i % stride).step_by(stride) {
                tried += 1;
                if is_wrong(&changed, &clean, line, means) {
                    let shown = changed.lines().nth(line - 1).unwrap_or_default();
                    wrong.push(format!("“{phrase}” in line {line}: {shown}"));
                }
            }
        }
    }
    assert!(EVERYWHERE.len() + BESIDE.len() >= 200, "{}", EVERYWHERE.len() + BESIDE.len());
    assert!(wrong.is_empty(), "{} of {tried}:\n{}", wrong.len(), wrong.join("\n"));
}
