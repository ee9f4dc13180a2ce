use std::sync::Arc;

use jiff::tz::TimeZone;
use sha2::{Digest, Sha256};
use takeline::track::{
    Audit, CatchEntry, CatchFinding, CatchPosition, Certainty, LogPlace, LoggedFix, NearLine, Quality,
    TrackPoint, TrackSettings,
};
use takeline::zone::{Zone, ZoneId};
use takeline::{Boundary, EdgeModel, Metres, PartSpec, Position, RingSpec, TakeAnswer, ZoneSet};

use super::page::CONTENT_POLICY;
use super::trip::marrowick_trip;
use super::{Backdrop, IndexRow, PageError, track_page_over, trip_index};
use crate::figures::Units;
use crate::figures_tests::assert_units;
use crate::words::{English, EnglishIn, Words};
use crate::{AuditInput, AuditReport, InputKind, TrackDocument, TrimmedEnds};

fn report<'a>(zones: &'a ZoneSet, audit: &'a Audit) -> AuditReport<'a> {
    let sha256 = Some("00ff".to_owned());
    AuditReport {
        input: AuditInput { path: "trips/morning.gpx".to_owned(), sha256, kind: InputKind::Log },
        audit,
        zones,
        notes: vec![],
        catches: None,
        catch_rows_unread: 0,
        command: String::new(),
        trimmed: None,
    }
}

fn track_page(report: &AuditReport<'_>) -> Result<String, PageError> {
    super::track_page(&TrackDocument::of(report, &English))
}

fn empty() -> Audit {
    Audit {
        settings: TrackSettings::default(),
        quality: Quality::default(),
        crossings: vec![],
        visits: vec![],
        closest_approaches: vec![],
        path: Metres::ZERO,
        gap_path: Metres::ZERO,
        sketch: vec![],
    }
}

fn point(latitude_deg: f64, longitude_deg: f64, time: Option<&str>) -> TrackPoint {
    let fix = LoggedFix {
        position: Position::from_degrees(latitude_deg, longitude_deg).unwrap(),
        time: time.map(|time| time.parse().unwrap()),
        uncertainty: None,
        hdop: None,
        speed_m_per_s: None,
        time_between: None,
        jump_kn: None,
        place: LogPlace::default(),
    };
    TrackPoint { fix, standing: None, nearest: None, after_break: false }
}

/// A zone of Marrowick, moved to other corners and under another name.
fn zone(name: &str, corners: &[(f64, f64)]) -> Zone {
    let (zones, _) = marrowick_trip().unwrap();
    let vertices = corners.iter().map(|(lat, lon)| Position::from_degrees(*lat, *lon).unwrap()).collect();
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; corners.len()], sides: Vec::new() };
    let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    Zone {
        id: ZoneId("moved".into()),
        name: name.into(),
        extent: takeline::zone::Extent::Known(boundary),
        ..zones.zones()[0].clone()
    }
}

fn occurrences(page: &str, of: &str) -> usize {
    page.matches(of).count()
}

#[test]
fn the_same_report_makes_the_same_bytes() {
    let (zones, audit) = marrowick_trip().unwrap();
    let (zones_again, audit_again) = marrowick_trip().unwrap();
    assert_eq!(
        track_page(&report(&zones, &audit)).unwrap(),
        track_page(&report(&zones_again, &audit_again)).unwrap()
    );
}

#[test]
fn nothing_is_fetched_from_anywhere() {
    let (zones, audit) = marrowick_trip().unwrap();
    let page = track_page(&report(&zones, &audit)).unwrap();
    for outside in ["src=", "@import", "<link", "http:", "https:", "//cdn", "<iframe", "<object", "fetch("] {
        assert!(!page.contains(outside), "the page holds {outside}");
    }
}

#[test]
fn one_series_of_numbers_serves_map_list_and_table() {
    let (zones, audit) = marrowick_trip().unwrap();
    assert_eq!(audit.crossings.len(), 2);
    let document = report(&zones, &audit);
    let document = TrackDocument::of(&document, &English);
    let page = super::track_page(&document).unwrap();
    let (map, rest) = page.split_once("<figcaption>").unwrap();
    for (number, crossing) in document.crossings.iter().enumerate() {
        let visit = crossing.visit.unwrap() + 1;
        let label = format!("{visit} {}", English.direction(crossing.direction));
        let (_, linked) = map.split_once(&format!("href=\"#visit-{visit}\"><text")).unwrap();
        assert!(linked.contains(&format!(">{label}</text>")), "{label} is not on the map");
        let (_, row) = rest.split_once(&format!("<tr id=\"crossing-{}\">", number + 1)).unwrap();
        assert!(
            row.starts_with(&format!("<th scope=\"row\"><a href=\"#visit-{visit}\">{label}</a>")),
            "{label}"
        );
        assert_eq!(occurrences(&page, &format!("id=\"visit-{visit}\"")), 1);
    }
}

#[test]
fn zones_are_drawn_by_what_they_mean_at_the_time_of_the_trip() {
    let corners = [(45.10, -30.14), (45.10, -30.10), (45.13, -30.10), (45.13, -30.14)];
    let times = ["2026-07-25T05:30:00Z", "2026-07-25T06:30:00Z"];
    let sketch = vec![point(45.11, -30.13, Some(times[0])), point(45.12, -30.11, Some(times[1]))];
    let quality = Quality {
        fixes: 2,
        first_time: Some(times[0].parse().unwrap()),
        last_time: Some(times[1].parse().unwrap()),
        ..Quality::default()
    };
    let audit = Audit { sketch, quality, ..empty() };
    let closed = zone("Cove", &corners);
    let of = |id: &str| {
        let (zones, _) = marrowick_trip().unwrap();
        let own = zones.zones().iter().find(|zone| zone.id.0 == id).unwrap().clone();
        Zone { extent: closed.extent.clone(), ..own }
    };
    for (zone, label) in [
        (closed.clone(), "closed"),
        (of("lantern-reach"), "restricted"),
        (of("nursery-bank"), "closed"),
        (of("winter-hollow"), "not in force"),
        (of("haven-2019"), "no longer law"),
        (of("tern-deep"), "not yet law"),
    ] {
        let name = zone.name.clone();
        let zones = ZoneSet::new(vec![zone]);
        let page = track_page(&report(&zones, &audit)).unwrap();
        assert!(page.contains(&format!("<title>{name}: {label}</title>")), "{name} is not {label}");
        assert!(page.contains(&format!(">{label}</text>")), "{name} has no label {label}");
    }
    let page = track_page(&report(&ZoneSet::new(vec![of("regatta-roads")]), &audit)).unwrap();
    // a Saturday by the clock of the isle: from 08:00, which the trip does not reach
    assert!(page.contains("not in force") && !page.contains("Closed: nothing"), "by the hour");
}

#[test]
fn a_time_is_given_once_and_utc_only_where_it_differs() {
    let (zones, audit) = marrowick_trip().unwrap();
    let page = track_page(&report(&zones, &audit)).unwrap();
    assert_eq!(zones.zones()[0].time_zone.iana_name(), Some("Atlantic/Azores"));
    let (_, visits) = page.split_once("<section id=\"visits\">").unwrap();
    let (visits, _) = visits.split_once("<section id=\"quality\">").unwrap();
    assert!(
        !visits.contains(" UTC)</span>") && !visits.contains(">2026-07"),
        "the isle's clock is UTC on that day"
    );
    let east: Vec<Zone> = zones
        .zones()
        .iter()
        .map(|zone| Zone { time_zone: TimeZone::fixed(jiff::tz::offset(2)), ..zone.clone() })
        .collect();
    let east = ZoneSet::new(east);
    let page = track_page(&report(&east, &audit)).unwrap();
    assert!(page.contains("</time><span class=\"fine\"> (05:30:00 UTC)</span>"), "UTC stands beside it");
}

#[test]
fn catches_have_letters_on_map_list_and_table() {
    let (zones, audit) = marrowick_trip().unwrap();
    let place = audit.sketch[40].fix.position;
    let caught: Vec<CatchFinding> = (2..4)
        .map(|row| CatchFinding {
            entry: CatchEntry::named(row, "pollack"),
            position: CatchPosition::Given(place),
            uncertainty: None,
            answer: TakeAnswer::Release,
            because: vec![],
            conditions: vec![],
            settle: vec![],
            bags: vec![],
            made_in: vec![],
            carried: vec![],
            is_lowered_by_carrying: false,
        })
        .collect();
    let page = track_page(&AuditReport { catches: Some(&caught), ..report(&zones, &audit) }).unwrap();
    assert!(page.contains("Catches: 2 not settled") || page.contains("Catches: 2 kept against a rule"));
    for letter in ["A", "B"] {
        assert_eq!(occurrences(&page, &format!("<tr id=\"catch-{letter}\">")), 1);
        assert!(page.contains(&format!("<b>{letter}</b> pollack: <strong>RELEASE</strong>")));
    }
    assert!(page.contains(">A–B</text>"), "both of one place share a label");
    assert!(!page.contains("not on the map"));
    let trimmed = Some(TrimmedEnds::of(&audit, Metres::new(30.0).unwrap()));
    let at_end: Vec<CatchFinding> = caught
        .into_iter()
        .map(|one| CatchFinding { position: CatchPosition::Given(audit.sketch[0].fix.position), ..one })
        .collect();
    let bare = Audit { visits: vec![], crossings: vec![], ..audit };
    let withheld =
        track_page(&AuditReport { catches: Some(&at_end), trimmed, ..report(&zones, &bare) }).unwrap();
    assert!(!withheld.contains("class=\"caught\" d="), "a withheld place is not marked");
    assert_eq!(occurrences(&withheld, "not on the map"), 2);
}

#[test]
fn a_backdrop_is_clipped_drawn_and_named_and_moves_nothing() {
    let (zones, audit) = marrowick_trip().unwrap();
    let report = report(&zones, &audit);
    let document = TrackDocument::of(&report, &English);
    let coast = br#"{ "type": "FeatureCollection", "features": [ { "type": "Feature", "properties": {}, "geometry":
        { "type": "Polygon", "coordinates": [[[-40, 45.12], [-20, 45.12], [-20, 60], [-40, 60], [-40, 45.12]]] } } ] }"#;
    let backdrop = Backdrop::read("coast.geojson", coast).unwrap();
    let page = track_page_over(&document, std::slice::from_ref(&backdrop)).unwrap();
    let (_, path) = page.split_once("class=\"backdrop area\"").unwrap();
    let (_, data) = path.split_once("d=\"").unwrap();
    let (data, _) = data.split_once('"').unwrap();
    let numbers = data.split(|letter: char| !(letter.is_ascii_digit() || letter == '.' || letter == '-'));
    let numbers: Vec<f64> = numbers.filter_map(|number| number.parse().ok()).collect();
    assert!(numbers.len() == 8 && numbers.iter().all(|number| number.abs() < 900.0), "{data}");
    assert!(page.contains("coast.geojson</span>, drawn only: no answer uses it"));
    assert!(page.contains(backdrop.sha256()));
    let bare = super::track_page(&document).unwrap();
    let frame = |page: &str| page.split_once("id=\"map\"").unwrap().1.split_once('>').unwrap().0.to_owned();
    assert_eq!(frame(&page), frame(&bare), "the frame follows the trip");
}

#[test]
fn a_coast_is_drawn_as_a_backdrop_is_and_named_with_its_doubt() {
    let (zones, audit) = marrowick_trip().unwrap();
    let place = |lat, lon| Position::from_degrees(lat, lon).unwrap();
    let ring = vec![place(45.0, -40.0), place(45.0, -20.0), place(46.0, -20.0), place(46.0, -40.0)];
    let lines = vec![takeline::coast::CoastLine::island(ring)];
    let coast = takeline::Coast::from_lines(lines, Metres::new(12.0).unwrap()).unwrap();
    let zones = zones.with_coasts(vec![coast]);
    let report = report(&zones, &audit);
    let page = super::track_page(&TrackDocument::of(&report, &English)).unwrap();
    assert_eq!(page.matches("class=\"backdrop area\"").count(), 1);
    assert!(page.contains("(±12\u{a0}m)") && page.contains("<h3>Coast</h3>"));
}

#[test]
fn a_bad_backdrop_names_file_feature_and_what_mends_it() {
    let feature = |geometry: &str| {
        format!(
            r#"{{ "type": "FeatureCollection", "features": [ {{ "type": "Feature", "id": "isle", "properties": {{}}, "geometry": {geometry} }} ] }}"#
        )
    };
    for (text, said) in [
        ("{".to_owned(), "coast.geojson: it is not JSON"),
        ("{}".to_owned(), "coast.geojson: it is not GeoJSON"),
        (r#"{ "type": "FeatureCollection" }"#.to_owned(), "its \"features\" are not a list"),
        (feature("null"), "it has no line and no polygon"),
        (
            feature(r#"{ "type": "LineString", "coordinates": [[-30, 45], [-30, 95]] }"#),
            "coast.geojson: feature 1 (id \"isle\"): [-30, 95] is not a place",
        ),
        (
            feature(r#"{ "type": "LineString", "coordinates": [[-30, 45]] }"#),
            "feature 1 (id \"isle\"): a line or ring of it has fewer than two points",
        ),
        (
            feature(r#"{ "type": "LineString", "coordinates": [["a", 45]] }"#),
            "feature 1 (id \"isle\"): it cannot be read",
        ),
    ] {
        let error = Backdrop::read("coast.geojson", text.as_bytes()).unwrap_err().to_string();
        assert!(error.contains(said), "{error}");
    }
}

#[test]
fn the_index_puts_what_stands_out_first_in_the_words_of_the_pages() {
    let (zones, audit) = marrowick_trip().unwrap();
    let bare = Audit { visits: vec![], crossings: vec![], ..audit.clone() };
    let mut rows = Vec::new();
    for (audit, path) in [(&bare, "b.gpx"), (&audit, "a.gpx")] {
        let own = AuditReport {
            input: AuditInput { path: path.to_owned(), sha256: None, kind: InputKind::Log },
            ..report(&zones, audit)
        };
        let document = TrackDocument::of(&own, &English);
        let verdict = super::top::verdict(&document).0;
        assert!(super::track_page(&document).unwrap().contains(&format!("<h1>{verdict}</h1>")));
        rows.push((verdict, IndexRow::of(&document).with_page(Some(format!("{path}.html")))));
    }
    let page = trip_index(&rows.iter().map(|(_, row)| row.clone()).collect::<Vec<_>>());
    let places: Vec<usize> = rows.iter().map(|(verdict, _)| page.find(verdict.as_str()).unwrap()).collect();
    assert!(places[0] > places[1], "the trip inside a zone stands first");
    assert!(page.contains("href=\"./a.gpx.html\"") && page.contains("Sallow Cove Reserve"));
    for outside in ["src=", "@import", "<link", "http:", "https:", "<script", "href=\"/", ".."] {
        assert!(!page.contains(outside), "the index holds {outside}");
    }
    assert!(page.replace('\u{a0}', " ").contains("<h1>2 trips</h1>") && page.contains("No catch log."));
}

#[test]
fn the_index_tells_a_zone_entered_from_one_that_was_perhaps() {
    let (zones, audit) = marrowick_trip().unwrap();
    let mut perhaps = audit.clone();
    for visit in &mut perhaps.visits {
        visit.certainty = Certainty::Possible;
    }
    let page =
        |audit: &Audit| trip_index(&[IndexRow::of(&TrackDocument::of(&report(&zones, audit), &English))]);
    let cell = |name: &str| format!("data-label=\"Zones entered, or perhaps\">{name}");
    assert!(page(&audit).contains(&cell("Sallow Cove Reserve")));
    assert!(page(&perhaps).contains(&cell("perhaps Sallow Cove Reserve")));
}

#[test]
fn each_visit_has_one_tag_in_and_one_out_and_no_meaning_stands_without_its_name() {
    let (zones, audit) = marrowick_trip().unwrap();
    let mut wandering = audit.clone();
    let own = wandering.visits[0].crossings.clone();
    for _ in 0..4 {
        for number in &own {
            wandering.visits[0].crossings.push(wandering.crossings.len());
            wandering.crossings.push(audit.crossings[*number].clone());
        }
    }
    let page = track_page(&report(&zones, &wandering)).unwrap().replace('\u{a0}', " ");
    let (_, map) = page.split_once("id=\"map\"").unwrap();
    let (map, _) = map.split_once("</svg>").unwrap();
    let tags = [">1 in</text>", ">1 out</text>"].map(|tag| occurrences(map, tag));
    assert!(tags.iter().all(|tags| *tags <= 1) && tags.iter().sum::<usize>() == 1, "{tags:?}");
    assert!(occurrences(map, "class=\"spot\"") > 4, "the others are dots");
    let alone = "<g class=\"all\"><text class=\"meaning\"";
    assert!(map.contains("Sallow Cove Reserve</text>") && !map.contains(alone));
}

#[test]
fn hundreds_of_visits_lie_folded_below_the_map() {
    let (zones, audit) = marrowick_trip().unwrap();
    let mut visits = audit.visits.clone();
    for visit in &mut visits {
        visit.binds = takeline::Tristate::No;
    }
    let mut loud = audit.visits[0].clone();
    loud.conditions[0].condition = takeline::rule::Condition::KeepGoing;
    loud.conditions[0].met = takeline::Tristate::No;
    let quiet: Vec<_> = visits.iter().cycle().take(299).cloned().collect();
    let visits = quiet.into_iter().chain([loud]).collect();
    let page = track_page(&report(&zones, &Audit { visits, ..audit })).unwrap();
    assert_eq!(occurrences(&page, "<article"), 300);
    assert_eq!(occurrences(&page, "<details open>"), 1, "the one that stands out");
    assert!(page.contains("299 visits with nothing against the rule"));
    let (before_map, _) = page.split_once("id=\"map\"").unwrap();
    assert!(!before_map.contains("<article"));
    assert!(page.find("id=\"visit-300\"").unwrap() < page.find("id=\"visit-1\"").unwrap());
}

#[test]
fn every_visit_says_where_its_rule_stands_and_what_was_assumed() {
    let (zones, audit) = marrowick_trip().unwrap();
    let page = track_page(&report(&zones, &audit)).unwrap().replace('\u{a0}', " ");
    assert_eq!(occurrences(&page, "<article"), audit.visits.len());
    for part in [
        "Marrowick Waters Order 2024",
        "clause 3",
        "2026, second",
        "±10 m",
        "12.0 kn, assumed",
        "00ff",
        &zones.zones()[0].file.sha256,
        env!("CARGO_PKG_VERSION"),
    ] {
        assert!(page.contains(part), "the page lacks {part}");
    }
    for caution in crate::CAUTIONS {
        assert!(page.contains(caution));
    }
}

#[test]
fn no_word_of_the_page_accuses_or_acquits() {
    let (zones, audit) = marrowick_trip().unwrap();
    let page = track_page(&report(&zones, &audit)).unwrap().to_lowercase();
    let words: Vec<&str> = page.split(|letter: char| !letter.is_alphabetic()).collect();
    for word in
        ["legal", "illegal", "safe", "violation", "offence", "guilty", "trolling", "fishing", "poaching"]
    {
        assert!(!words.contains(&word), "the page says {word}");
    }
}

#[test]
fn what_a_gap_allowed_is_not_put_as_what_was() {
    let (zones, audit) = marrowick_trip().unwrap();
    let page = track_page(&report(&zones, &audit)).unwrap().replace('\u{a0}', " ");
    assert!(page.contains("up to 188 m ±10 m inside within reach"));
    assert!(page.contains("Not known: nothing was logged."));
}

#[test]
fn hostile_text_stays_text() {
    let hostile = "<script>alert(1)</script>\"'&\u{202e}";
    let (zones, mut audit) = marrowick_trip().unwrap();
    let mut zones: Vec<Zone> = zones.zones().to_vec();
    zones[0].name = hostile.into();
    zones[0].source.instrument = hostile.into();
    zones[0].source.url = Some("javascript:alert(1)".into());
    let mut file = (*zones[0].file).clone();
    file.path = hostile.into();
    file.edition = Some(hostile.into());
    zones[0].file = Arc::new(file);
    audit.visits[0].conditions[0].condition = takeline::rule::Condition::Law { text: hostile.into() };
    let zones = ZoneSet::new(zones);
    let caught = [CatchFinding {
        entry: CatchEntry::named(2, hostile),
        position: CatchPosition::Unknown { before: None, after: None },
        uncertainty: None,
        answer: TakeAnswer::Keep,
        because: vec![],
        conditions: vec![takeline::rule::Condition::Law { text: hostile.into() }],
        settle: vec![],
        bags: vec![],
        made_in: vec![],
        carried: vec![],
        is_lowered_by_carrying: false,
    }];
    let page = track_page(&AuditReport {
        input: AuditInput { path: hostile.into(), sha256: Some(hostile.into()), kind: InputKind::Log },
        catches: Some(&caught),
        ..report(&zones, &audit)
    })
    .unwrap();
    assert_eq!(occurrences(&page, "<script"), 1, "only the page's own script");
    assert!(page.contains("&lt;script&gt;alert(1)"));
    assert!(!page.contains('\u{202e}'), "nothing turns text around");
    assert!(!page.contains("href=\"javascript"));
}

#[test]
fn a_track_that_visited_nothing_says_so() {
    let (zones, _) = marrowick_trip().unwrap();
    let sketch = vec![
        point(45.30, -30.30, Some("2026-07-25T05:30:00Z")),
        point(45.31, -30.30, Some("2026-07-25T05:50:00Z")),
    ];
    let quality = Quality { fixes: 2, ..Quality::default() };
    let page = track_page(&report(&zones, &Audit { sketch, quality, ..empty() })).unwrap();
    assert!(page.contains("The track shows no visit to a loaded zone"));
    assert!(page.contains("<h1>Never inside a loaded zone"));
    assert!(page.contains("id=\"map\""));
    assert!(page.contains("so there is no plot"));
}

#[test]
fn an_empty_track_makes_a_page_without_a_map() {
    let page = track_page(&report(&ZoneSet::new(vec![]), &empty())).unwrap();
    assert!(!page.contains("id=\"map\""));
    assert!(page.contains("there is no map"));
}

#[test]
fn a_log_without_times_is_drawn_along_its_fixes() {
    let (zones, _) = marrowick_trip().unwrap();
    let near = |distance_m: f64| {
        Some(NearLine {
            zone_number: 0,
            signed_distance: Metres::new(distance_m).unwrap(),
            uncertainty_95: Metres::new(10.0).unwrap(),
        })
    };
    let sketch = vec![
        TrackPoint { nearest: near(-50.0), standing: Some(Certainty::Certain), ..point(45.12, -30.12, None) },
        TrackPoint { nearest: near(30.0), ..point(45.12, -30.116, None) },
    ];
    let page = track_page(&report(&zones, &Audit { sketch, ..empty() })).unwrap();
    assert!(page.contains("id=\"plot\"") && page.contains("has no times"));
    assert!(!page.contains("NaN") && !page.contains("inf"), "every number is finite");
}

#[test]
fn a_track_and_a_zone_over_180_degrees_are_drawn_in_one_piece() {
    let corners = [(-17.01, 179.98), (-17.01, -179.98), (-16.99, -179.98), (-16.99, 179.98)];
    let zones = ZoneSet::new(vec![zone("Over the date line", &corners)]);
    let sketch = vec![point(-17.0, 179.97, None), point(-17.0, -179.97, None)];
    let page = track_page(&report(&zones, &Audit { sketch, ..empty() })).unwrap();
    assert!(page.contains("180°00'"), "the meridian of 180° is named");
    let (_, ring) = page.split_once("class=\"line closed\"").unwrap();
    let (_, data) = ring.split_once("d=\"").unwrap();
    let (data, _) = data.split_once('"').unwrap();
    let numbers: Vec<f64> = data
        .split(|letter: char| !(letter.is_ascii_digit() || letter == '.' || letter == '-'))
        .filter_map(|number| number.parse().ok())
        .collect();
    assert!(numbers.len() >= 8 && numbers.iter().all(|number| number.abs() < 2000.0), "torn: {data}");
}

#[test]
fn an_audit_of_other_zones_is_refused() {
    let (_, audit) = marrowick_trip().unwrap();
    let others = ZoneSet::new(vec![]);
    let refused = track_page(&report(&others, &audit)).unwrap_err();
    assert_eq!(refused, PageError::UnknownZone { zone: ZoneId("sallow-cove".into()) });

    let (zones, mut audit) = marrowick_trip().unwrap();
    audit.visits[0].crossings = vec![7];
    let refused = track_page(&report(&zones, &audit)).unwrap_err();
    assert_eq!(
        refused.to_string(),
        "a visit to zone sallow-cove names crossing 7 of 2; give the audit as it was made"
    );
}

#[test]
fn the_policy_names_the_script() {
    // the browser refuses the script if this is stale; base 64 after RFC 4648, section 4
    const DIGITS: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    let script = include_str!("page.js");
    let digest = Sha256::digest(script.as_bytes());
    let mut text = String::new();
    for group in digest.chunks(3) {
        let bits =
            group.iter().fold(0_u32, |bits, byte| bits << 8 | u32::from(*byte)) << (8 * (3 - group.len()));
        for place in 0..=group.len() {
            text.push(char::from(DIGITS[(bits >> (18 - 6 * place)) as usize & 63]));
        }
    }
    assert!(CONTENT_POLICY.contains(&format!("'sha256-{text}='")), "write sha256-{text}= into the policy");
    assert!(!script.contains('\r'));
}

#[test]
fn no_page_is_drawn_of_a_plan_or_of_a_visit_at_a_withheld_place() {
    let (zones, audit) = marrowick_trip().unwrap();
    let mut plan = report(&zones, &audit);
    plan.input.kind = InputKind::Plan;
    assert_eq!(track_page(&plan).unwrap_err(), PageError::Plan);
    let trimmed = Some(TrimmedEnds::of(&audit, Metres::new(100_000.0).unwrap()));
    let withheld = AuditReport { trimmed, ..report(&zones, &audit) };
    assert_eq!(track_page(&withheld).unwrap_err(), PageError::Withheld);
}

#[test]
fn a_page_shows_no_withheld_place() {
    let (zones, mut audit) = marrowick_trip().unwrap();
    // what it visited at its ends would leave no page at all
    audit.visits.clear();
    audit.crossings.clear();
    let trimmed = TrimmedEnds::of(&audit, Metres::new(30.0).unwrap());
    let whole = track_page(&report(&zones, &audit)).unwrap();
    let page = track_page(&AuditReport { trimmed: Some(trimmed), ..report(&zones, &audit) }).unwrap();
    let first = crate::figures::position(audit.sketch[0].fix.position);
    assert!(whole.contains(&first) && !page.contains(&first), "{first}");
}

#[test]
fn the_page_is_in_the_units_asked_for() {
    let (zones, audit) = marrowick_trip().unwrap();
    for units in [Units::Metric, Units::Nautical, Units::Us] {
        let words = EnglishIn(units);
        let page = super::track_page(&TrackDocument::of(&report(&zones, &audit), &words)).unwrap();
        assert_units(units, &page);
    }
}
