use std::sync::Arc;

use takeline::track::{
    Audit, CatchEntry, CatchFinding, CatchPosition, Certainty, LogPlace, LoggedFix, NearLine, Quality,
    TrackPoint, TrackSettings,
};
use takeline::zone::{Zone, ZoneId};
use takeline::{Boundary, EdgeModel, Metres, PartSpec, Position, RingSpec, TakeAnswer, ZoneSet};

use super::PageError;
use super::page::CONTENT_POLICY;
use super::trip::marrowick_trip;
use crate::figures::Units;
use crate::figures_tests::assert_units;
use crate::words::{English, EnglishIn};
use crate::{AuditInput, AuditReport, InputKind, TrackDocument, TrimmedEnds};

fn report<'a>(zones: &'a ZoneSet, audit: &'a Audit) -> AuditReport<'a> {
    let sha256 = Some("00ff".to_owned());
    AuditReport {
        input: AuditInput { path: "trips/morning.gpx".to_owned(), sha256, kind: InputKind::Log },
        audit,
        zones,
        notes: vec![],
        catches: None,
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
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; corners.len()] };
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
fn every_crossing_on_the_map_has_its_row_and_every_row_its_number() {
    let (zones, audit) = marrowick_trip().unwrap();
    assert_eq!(audit.crossings.len(), 2);
    let page = track_page(&report(&zones, &audit)).unwrap();
    let (map, rest) = page.split_once("</svg>").unwrap();
    for number in 1..=audit.crossings.len() {
        assert_eq!(occurrences(map, &format!("href=\"#crossing-{number}\"")), 1);
        assert_eq!(occurrences(rest, &format!("<tr id=\"crossing-{number}\">")), 1);
    }
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
    assert!(page.contains("up to 188 m ±10 m inside in reach"));
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
    assert!(page.contains("No visit to a loaded zone"));
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
    assert!(page.contains("id=\"plot\"") && page.contains("lacks times"));
    assert!(!page.contains("NaN") && !page.contains("inf"), "every number is finite");
}

#[test]
fn a_track_and_a_zone_over_180_degrees_are_drawn_in_one_piece() {
    let corners = [(-17.01, 179.98), (-17.01, -179.98), (-16.99, -179.98), (-16.99, 179.98)];
    let zones = ZoneSet::new(vec![zone("Over the date line", &corners)]);
    let sketch = vec![point(-17.0, 179.97, None), point(-17.0, -179.97, None)];
    let page = track_page(&report(&zones, &Audit { sketch, ..empty() })).unwrap();
    assert!(page.contains("180°00'"), "the meridian of 180° is named");
    let (_, ring) = page.split_once("class=\"line hue0\"").unwrap();
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
    // worked out by `openssl dgst -sha256 -binary page.js | base64`; the browser refuses the script if this is stale
    assert!(!CONTENT_POLICY.contains("SCRIPT_HASH"));
    assert!(!include_str!("page.js").contains('\r'));
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
