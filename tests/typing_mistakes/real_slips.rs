//! Slips that were printed in laws and notices (trade notes of the project, section 2.2), and remedies that must be right.

use takeline::RingChange;
use takeline_drafting::check::{Against, FindingKind, Repair, Severity, check};

use crate::{checked, codes, kinds, typed};

const fn at(degrees: f64, minutes: f64) -> f64 {
    degrees + minutes / 60.0
}

/// The corners of *The Edges*, 50 CFR 622.34, from memory; a public notice of 2011 gave them in the order NW, NE, SW, SE.
const THE_EDGES: [(f64, f64); 4] = [
    (at(28.0, 51.0), -at(85.0, 16.0)),
    (at(28.0, 51.0), -at(85.0, 4.0)),
    (at(28.0, 14.0), -at(84.0, 54.0)),
    (at(28.0, 14.0), -at(84.0, 42.0)),
];

/// Its area of 1,338 km² was computed for the trade notes from the published corners.
#[test]
fn the_bow_tie_of_a_notice_gets_the_order_that_encloses_1338_km2() {
    let found = checked(&typed(&[&THE_EDGES]));
    let crossing = found.findings.iter().find(|finding| finding.kind.code() == "edges-cross").unwrap();
    assert_eq!(crossing.severity, Severity::Error);
    let [Repair::Ring { change: RingChange::Rows { first: 3, second: 4 }, area_m2: Some(area_m2) }] =
        crossing.repairs[..]
    else {
        panic!("{:?}", crossing.repairs);
    };
    assert!((area_m2 / 1e6 - 1338.0).abs() < 2.0, "{area_m2}");
    assert!(crossing.spot.line.is_some_and(|line| line > 5), "{:?}", crossing.spot);
}

/// Steamboat Lumps, 50 CFR 622.34, from memory: a stored copy of its table starts at B. Of the box of 366 km² a triangle is left.
#[test]
fn the_lost_row_of_a_table_is_seen_and_put_back() {
    let rest = [
        (at(28.0, 14.0), -at(84.0, 37.0)),
        (at(28.0, 3.0), -at(84.0, 37.0)),
        (at(28.0, 3.0), -at(84.0, 48.0)),
    ];
    let found = checked(&typed(&[&rest]));
    let missing = found.findings.iter().find(|finding| finding.kind == FindingKind::CornerMissing).unwrap();
    assert_eq!(missing.severity, Severity::Warning);
    let [Repair::Insert { after: 3, at: corner, area_m2: Some(area_m2) }] = missing.repairs[..] else {
        panic!("{:?}", missing.repairs);
    };
    assert!((corner.latitude().degrees() - at(28.0, 14.0)).abs() < 1e-9);
    assert!((corner.longitude().degrees() + at(84.0, 48.0)).abs() < 1e-9);
    assert!((area_m2 / 1e6 - 366.0).abs() < 2.0, "{area_m2}");
}

/// 97.420 hectares "or thereby" are printed for Loch Crinan, SSI 2005/304, whose own corners enclose 111.986 hectares.
#[test]
fn a_printed_area_that_contradicts_its_corners_is_an_error() {
    let published = crate::sound::all().into_iter().find(|zone| zone.name == "scot-loch-crinan").unwrap();
    let text = published.file.to_string();
    let held = |against: Against| check("typed.json", text.as_bytes(), &[], None, &against);
    let wrong = held(Against { area_m2: Some(974_200.0), ..Against::default() });
    assert!(codes(&wrong).contains(&"area-differs"), "{:?}", codes(&wrong));
    let right = held(Against {
        // perimeter and area by GeographicLib: `tests/data/regulations/zones/computed.csv`
        area_m2: Some(1_119_855.6),
        perimeter_m: Some(4_298.5),
        corners: Some(4),
        near: Some(takeline::Position::from_degrees(56.1, -5.57).unwrap()),
        ..Against::default()
    });
    assert_eq!(right.count(Severity::Error), 0, "{:?}", codes(&right));
    let far = takeline::Position::from_degrees(57.1, -5.57).unwrap();
    let wrong =
        held(Against { corners: Some(5), near: Some(far), perimeter_m: Some(4_400.0), ..Against::default() });
    for code in ["corners-differ", "not-near", "perimeter-differs"] {
        assert!(codes(&wrong).contains(&code), "{code}: {:?}", codes(&wrong));
    }
    let none = held(Against { zone: Some("another".to_owned()), corners: Some(4), ..Against::default() });
    assert!(codes(&none).contains(&"no-such-zone"));
}

#[test]
fn neighbours_that_nearly_share_a_border_are_told_once_each() {
    let west = [(45.10, -30.20), (45.10, -30.15), (45.12, -30.15), (45.12, -30.20)];
    // its western border is 8 m and 0 m off the other's eastern one
    let east = [(45.10, -30.1499), (45.10, -30.10), (45.12, -30.10), (45.12, -30.15)];
    let found = checked(&typed(&[&west, &east]));
    let shared: Vec<_> = kinds(&found).filter(|kind| kind.code() == "nearly-shared").collect();
    assert_eq!(shared.len(), 2, "{shared:?}");
    let apart = [(45.10, -30.15), (45.10, -30.10), (45.12, -30.10), (45.12, -30.15)];
    assert!(!codes(&checked(&typed(&[&west, &apart]))).contains(&"nearly-shared"));
    assert!(codes(&checked(&typed(&[&west, &west]))).contains(&"same-line"));
}

#[test]
fn no_remedy_is_offered_where_none_is_plain() {
    // two digits wrong in two vertices: nothing small mends it
    let tangle = [
        (45.10, -30.20),
        (45.12, -30.10),
        (45.11, -30.18),
        (45.13, -30.12),
        (45.10, -30.11),
        (45.13, -30.19),
    ];
    let found = checked(&typed(&[&tangle]));
    let crossing = found.findings.iter().find(|finding| finding.kind.code() == "edges-cross").unwrap();
    assert!(crossing.repairs.len() <= 1, "{:?}", crossing.repairs);
}

/// Twenty thousand zones; fewer in a debug build, whose loading alone takes longer.
#[test]
fn thousands_of_zones_are_checked_in_seconds() {
    let count: usize =
        std::env::var("TAKELINE_CHECKED_ZONES").ok().and_then(|n| n.parse().ok()).unwrap_or(1500);
    let side = 150;
    let rings: Vec<[(f64, f64); 4]> = (0..count)
        .map(|at| {
            #[expect(clippy::cast_precision_loss, reason = "some thousands")]
            let (row, column) = ((at / side) as f64, (at % side) as f64);
            let (lat, lon) = (40.0 + row * 0.02, -30.0 + column * 0.02);
            [(lat, lon), (lat, lon + 0.02), (lat + 0.02, lon + 0.02), (lat + 0.02, lon)]
        })
        .collect();
    let rings: Vec<&[(f64, f64)]> = rings.iter().map(|ring| &ring[..]).collect();
    let file = typed(&rings);
    let begun = std::time::Instant::now();
    let found = checked(&file);
    println!("{count} zones checked in {:.2} s", begun.elapsed().as_secs_f64());
    assert_eq!(found.zones, Some(count));
    assert_eq!(found.count(Severity::Warning), 0, "{:?}", found.findings.first());
    assert!(begun.elapsed().as_secs() < 60);
}
