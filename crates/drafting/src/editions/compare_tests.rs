//! Whole files compared: the demo, and files that say the same in another order.

use serde_json::Value;
use takeline::zone::Zone;
use takeline::zone_file;

use super::{Change, Comparison, Division, Effect, ExtentChange, compare};

fn demo(name: &str) -> Value {
    let path = format!("{}/../../demo-data/{name}", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap()
}

fn zones(file: &Value) -> Vec<Zone> {
    zone_file::read("edition.json", file.to_string().as_bytes()).unwrap().zones
}

/// A box south-west of the isle with this rule, in a file with two fish.
fn edition(properties: &Value) -> Vec<Zone> {
    edition_of(&serde_json::json!([[[-30.2, 45.1], [-30.1, 45.1], [-30.1, 45.2], [-30.2, 45.2]]]), properties)
}

fn edition_of(rings: &Value, properties: &Value) -> Vec<Zone> {
    let mut own = serde_json::json!({
        "name": "Lantern Reach", "edges": "rhumb", "take": "anything", "source": { "instrument": "Marrowick Order 3" }
    });
    for (key, value) in properties.as_object().unwrap() {
        own[key] = value.clone();
    }
    zones(&serde_json::json!({
        "type": "FeatureCollection",
        "takeline": {
            "format": "takeline.zones/1", "datum": "WGS 84", "time_zone": "UTC",
            "taxa": [ { "id": "cod", "names": ["cod"] }, { "id": "bass", "names": ["bass"] } ]
        },
        "features": [ {
            "type": "Feature", "id": "lantern-reach", "properties": own,
            "geometry": { "type": "Polygon", "coordinates": rings }
        } ]
    }))
}

#[test]
fn the_same_file_in_another_order_is_the_same() {
    for name in ["zones/marrowick.json", "zones/shore-waters.json", "zones/harbour-board.json"] {
        let file = demo(name);
        let mut other = file.clone();
        other["features"].as_array_mut().unwrap().reverse();
        for feature in other["features"].as_array_mut().unwrap() {
            turned(feature);
        }
        let (old, new) = (zones(&file), zones(&other));
        let comparison = compare(&old, &new);
        assert!(comparison.is_same(), "{name}: {:?}", comparison.changed);
        assert_eq!(comparison.unchanged, old.len());
    }
}

/// Begins each ring with its third vertex, and walks rings of one kind of edge the other way.
fn turned(feature: &mut Value) {
    let is_alike = feature["properties"]["edges"].is_string();
    let rings = feature.pointer_mut("/geometry/coordinates").and_then(Value::as_array_mut);
    let Some(rings) = rings.filter(|list| list[0].is_array()) else { return };
    for ring in rings {
        let ring = ring.as_array_mut().unwrap();
        // edges of its own go with their vertices, so such a ring stays
        if is_alike {
            if ring.first() == ring.last() {
                ring.pop();
            }
            ring.rotate_left(2);
            ring.reverse();
        }
    }
}

#[test]
fn longitudes_beyond_180_degrees_are_no_change() {
    let ring = |west: f64, east: f64| {
        serde_json::json!([[[west, -17.0], [east, -17.0], [east, -16.0], [west, -16.0]]])
    };
    let none = serde_json::json!({});
    let (old, new) = (edition_of(&ring(179.5, -179.7), &none), edition_of(&ring(179.5, 180.3), &none));
    assert!(compare(&old, &new).is_same());
}

fn codes(comparison: &Comparison<'_>) -> Vec<(String, &'static str, Effect)> {
    let told = comparison.changed.iter().flat_map(|zone| {
        zone.changes.iter().map(|told| (zone.new.id.0.clone(), told.change.code(), told.effect))
    });
    let of_files = comparison.files.iter().flat_map(|file| {
        file.changes.iter().map(|told| ("file".to_owned(), told.change.code(), told.effect))
    });
    told.chain(of_files).collect()
}

/// The two editions of the demo hold every sort of change; `demo-data/editions/README.md` lists them.
#[test]
fn the_demo_holds_every_sort_of_change() {
    let (old, new) = (zones(&demo("editions/marrowick-2025.json")), zones(&demo("zones/marrowick.json")));
    let comparison = compare(&old, &new);
    let ids = |zones: &[&Zone]| zones.iter().map(|zone| zone.id.0.clone()).collect::<Vec<_>>();
    assert_eq!(ids(&comparison.added), ["gannet-bank", "petrel-ground", "regatta-roads", "launce-flats"]);
    let removed = ["two-banks", "regatta-roads-west", "regatta-roads-east", "heron-flats"];
    assert_eq!(ids(&comparison.removed), removed);
    assert!(matches!(&comparison.divisions[..], [
        Division::Split { from, into },
        Division::Joined { from: parts, into: whole },
    ] if from.id.0 == "two-banks" && into.len() == 2 && parts.len() == 2 && whole.id.0 == "regatta-roads"));
    let codes = codes(&comparison);
    let has = |zone: &str, code: &str, effect: Effect| {
        assert!(codes.contains(&(zone.to_owned(), code, effect)), "{zone} {code} {effect:?} in {codes:#?}");
    };
    for (zone, code, effect) in [
        ("plover-sound", "id", Effect::Reference),
        ("plover-sound", "name", Effect::Reference),
        ("sallow-cove", "crossing", Effect::Stricter),
        ("sallow-cove", "quoted-text", Effect::Undecided),
        ("lantern-reach", "permit-added", Effect::Looser),
        ("lantern-reach", "fish", Effect::Looser),
        ("lantern-reach", "gear", Effect::Stricter),
        ("lantern-reach", "size", Effect::Stricter),
        ("lantern-reach", "conditions", Effect::Undecided),
        ("lantern-lane", "overrides", Effect::Undecided),
        ("lantern-lane", "fish", Effect::Stricter),
        ("nursery-bank", "season", Effect::Stricter),
        ("nursery-bank", "possession", Effect::Stricter),
        ("winter-hollow", "take", Effect::Looser),
        ("ring-shoal", "crossing", Effect::Looser),
        ("owl-roads", "binds", Effect::Stricter),
        ("haven-2019", "status", Effect::Looser),
        ("haven-2019", "effective", Effect::Looser),
        ("haven-2025", "by-notice", Effect::Undecided),
        ("haven-2025", "bag", Effect::Stricter),
        ("haven-2025", "clause", Effect::Reference),
        ("northern-parallels", "on-the-line", Effect::Looser),
        ("fulmar-bight", "line-uncertainty", Effect::Undecided),
        ("southern-straights", "datum", Effect::Undecided),
        ("file", "file-edition", Effect::Reference),
        ("file", "valid-until", Effect::Reference),
        ("file", "fish-names", Effect::Undecided),
        ("file", "fish-added", Effect::Reference),
        ("file", "group-members", Effect::Undecided),
    ] {
        has(zone, code, effect);
    }
}

#[test]
fn the_lines_of_the_demo_moved_as_its_readme_says() {
    let (old, new) = (zones(&demo("editions/marrowick-2025.json")), zones(&demo("zones/marrowick.json")));
    let comparison = compare(&old, &new);
    let of = |id: &str| comparison.changed.iter().find(|zone| zone.new.id.0 == id).unwrap();
    let line = |id: &str| of(id).line().unwrap();
    let reach = line("lantern-reach");
    assert_eq!((reach.moved.len(), reach.added.len(), reach.removed.len()), (4, 0, 0));
    let water = reach.water.as_ref().unwrap();
    // 0.002° of longitude by 0.017° of latitude at 45.1° N: 157 m by 1890 m, by hand
    assert!(
        (water.gained_m2 / 297_500.0 - 1.0).abs() < 0.01 && (water.lost_m2 / 297_500.0 - 1.0).abs() < 0.01
    );
    assert_eq!(line("lantern-lane").removed.len(), 1);
    assert_eq!(line("ring-shoal").rings_added.len(), 1);
    assert!(line("owl-roads").same_to.is_some(), "{:?}", line("owl-roads").apart);
    let circle = &line("curlew-pinnacle").circles[0];
    assert!((circle.moved.metres() - 15.7).abs() < 0.1 && circle.radius.from.metres() < 120.5);
    assert_eq!(line("northern-parallels").edges.len(), 4);
    assert_eq!(line("sallow-cove").sides.len(), 1);
    assert!(matches!(of("kelp-garden").extent, ExtentChange::BecameUnknown));
    let all = comparison.water.as_ref().unwrap();
    assert!(all.no_longer_closed_m2 > Some(3.0e6), "Winter Hollow opened: {:?}", all.no_longer_closed_m2);
    // nobody knows any more where the Kelp Garden lies, so none of its old water may be called open
    let kelp = takeline::Position::from_degrees(45.1875, -30.0600).unwrap();
    assert!(all.no_longer_closed.iter().all(|piece| {
        piece[0].iter().all(|at| takeline::GeodesicSegment::between(*at, kelp).length().metres() > 3000.0)
    }));
}

/// 11 km of a side, 0.00006° of longitude farther: the digits of the old edition leave that open, and the strip is closed.
#[test]
fn a_line_that_is_the_same_as_closely_as_it_is_printed_may_close_water() {
    let east = |lon: f64| serde_json::json!([[[-30.0, 45.0], [lon, 45.0], [lon, 45.1], [-30.0, 45.1]]]);
    let of = |lon: f64| edition_of(&east(lon), &serde_json::json!({ "take": "none" }));
    let (old, new) = (of(-29.9), of(-29.899_94));
    let comparison = compare(&old, &new);
    let line = comparison.changed[0].line().unwrap();
    let gained_m2 = line.water.as_ref().unwrap().gained_m2;
    assert!(line.same_to.is_some() && (50_000.0..55_000.0).contains(&gained_m2), "{line:?}");
    let closed_m2 = comparison.water.as_ref().unwrap().newly_closed_m2;
    assert!((closed_m2 - gained_m2).abs() < 0.001 * gained_m2, "{closed_m2} m²");
}

/// A side along 45° N 20° long: as a geodesic it runs 48.7 km north of the rhumb line (GeographicLib, by a reviewer).
#[test]
fn no_sum_is_given_where_a_side_may_be_read_in_ways_far_apart() {
    let ring = serde_json::json!([[[-50.0, 45.0], [-50.0, 44.0], [-30.0, 44.0], [-30.0, 45.0]]]);
    let of = |edges: &str| edition_of(&ring, &serde_json::json!({ "take": "none", "edges": edges }));
    assert!(compare(&of("rhumb"), &of("unstated")).water.is_none());
    assert!(compare(&of("rhumb"), &of("geodesic")).water.is_some());
}

#[test]
fn only_what_is_proved_is_called_looser() {
    let rule = |text: &str| edition(&serde_json::from_str(text).unwrap());
    let bag = |count, per: &str| {
        format!(r#"{{ "limits": [ {{ "taxa": ["cod"], "bag": {{ "count": {count}, "per": "{per}" }} }} ] }}"#)
    };
    let yearly = |to: &str| {
        format!(r#"{{ "take": "none", "when": {{ "yearly": {{ "from": "05-01", "to": "{to}" }} }} }}"#)
    };
    let cases = [
        (bag(5, "person-day"), bag(3, "person-day"), Effect::Stricter),
        (bag(3, "person-day"), bag(5, "person-day"), Effect::Looser),
        (bag(5, "person-day"), bag(9, "boat-day"), Effect::Undecided),
        (bag(0, "person-day"), bag(9, "boat-day"), Effect::Looser),
        (yearly("08-31"), yearly("07-31"), Effect::Looser),
        (yearly("02-28"), yearly("03-31"), Effect::Undecided),
        (yearly("08-31"), r#"{ "take": "none" }"#.into(), Effect::Stricter),
        (
            r#"{ "take": { "only": ["cod"] } }"#.into(),
            r#"{ "take": { "only": ["bass"] } }"#.into(),
            Effect::Undecided,
        ),
        (
            r#"{ "take": { "only": ["cod"] } }"#.into(),
            r#"{ "take": { "all_except": ["bass"] } }"#.into(),
            Effect::Undecided,
        ),
        (
            r#"{ "take": { "all_except": ["cod"] } }"#.into(),
            r#"{ "take": { "all_except": ["cod", "bass"] } }"#.into(),
            Effect::Stricter,
        ),
        (r#"{ "possession": "as-take" }"#.into(), "{}".into(), Effect::Undecided),
    ];
    for (old, new, effect) in cases {
        let (before, now) = (rule(&old), rule(&new));
        let comparison = compare(&before, &now);
        let told: Vec<Effect> = comparison.changed[0].changes.iter().map(|told| told.effect).collect();
        assert_eq!(told, [effect], "{old} to {new}: {:?}", comparison.changed[0].changes);
    }
}

#[test]
fn a_rule_that_displaces_another_is_never_called_stricter_for_being_in_force_longer() {
    let lane = |to: &str| {
        let mut file = demo("zones/marrowick.json");
        let features = file["features"].as_array_mut().unwrap();
        let lane = features.iter_mut().find(|zone| zone["id"] == "lantern-lane").unwrap();
        lane["properties"]["when"] = serde_json::json!({ "yearly": { "from": "05-01", "to": to } });
        zones(&file)
    };
    let (old, new) = (lane("07-31"), lane("08-31"));
    let comparison = compare(&old, &new);
    let [told] = &comparison.changed[0].changes[..] else { panic!("{:?}", comparison.changed) };
    assert!(matches!(told.change, Change::Season(_)) && told.effect == Effect::Undecided);
}

#[test]
fn one_vertex_removed_and_another_added_are_not_a_ring_of_moves() {
    let none = serde_json::json!({});
    let old =
        serde_json::json!([[[-30.2, 45.1], [-30.15, 45.09], [-30.1, 45.1], [-30.1, 45.2], [-30.2, 45.2]]]);
    let new =
        serde_json::json!([[[-30.2, 45.1], [-30.1, 45.1], [-30.1, 45.2], [-30.15, 45.21], [-30.2, 45.2]]]);
    let (old, new) = (edition_of(&old, &none), edition_of(&new, &none));
    let comparison = compare(&old, &new);
    let line = comparison.changed[0].line().unwrap();
    assert_eq!((line.moved.len(), line.added.len(), line.removed.len()), (0, 1, 1));
    assert_eq!((line.added[0].vertex, line.removed[0].vertex), (4, 2));
}

/// What means the same in other words is no change.
#[test]
fn what_means_the_same_is_no_change() {
    let rule = |text: &str| edition(&serde_json::from_str(text).unwrap());
    let when = |text: &str| format!(r#"{{ "when": {text} }}"#);
    let limit = |text: &str| format!(r#"{{ "limits": [ {{ "taxa": ["cod"], {text} }} ] }}"#);
    let source = |text: &str| {
        format!(r#"{{ "source": {{ "instrument": "Marrowick Order 3", "quoted_text": "{text}" }} }}"#)
    };
    let published = |list: &str| format!(r#"{{ "as_published": [ {list} ] }}"#);
    let cases = [
        (
            when(r#"{ "days": ["2026-05-01", "2026-05-02"] }"#),
            when(r#"{ "days": ["2026-05-02", "2026-05-01"] }"#),
        ),
        (when(r#"{ "weekdays": ["sunday", "monday"] }"#), when(r#"{ "weekdays": ["monday", "sunday"] }"#)),
        (when(r#"{ "yearly": { "from": "01-01", "to": "12-31" } }"#), "{}".into()),
        (
            when(
                r#"{ "any": [ { "hours": { "from": "08:00", "to": "09:00" } }, { "days": ["2026-05-01"] } ] }"#,
            ),
            when(
                r#"{ "any": [ { "days": ["2026-05-01"] }, { "hours": { "from": "08:00", "to": "09:00" } } ] }"#,
            ),
        ),
        (
            limit(r#""bait": { "only": ["mussel", "worm"] }"#),
            limit(r#""bait": { "only": ["worm", "mussel"] }"#),
        ),
        (limit(r#""gear": { "not": ["net", "pot"] }"#), limit(r#""gear": { "not": ["pot", "net"] }"#)),
        (r#"{ "datum": "NAD 83" }"#.into(), r#"{ "datum": "NAD83" }"#.into()),
        (r#"{ "time_zone": "UTC" }"#.into(), r#"{ "time_zone": "Etc/UTC" }"#.into()),
        (source("no  fishing"), source("no fishing")),
        (published(r#""45.1 N 30.2 W""#), published(r#"{ "text": "45.1 N  30.2 W", "vertex": 1 }"#)),
        (
            r#"{ "binds": ["boat", "shore"], "conditions": ["a", "b"] }"#.into(),
            r#"{ "binds": ["shore", "boat"], "conditions": ["b", "a"] }"#.into(),
        ),
    ];
    for (old, new) in cases {
        let (before, now) = (rule(&old), rule(&new));
        let comparison = compare(&before, &now);
        assert!(comparison.is_same(), "{old} to {new}: {:?}", comparison.changed[0].changes);
    }
}

/// What matters to somebody who fishes, or who keeps the file, is told.
#[test]
fn what_matters_is_told() {
    let rule = |text: &str| edition(&serde_json::from_str(text).unwrap());
    let proofread = |by: &str| {
        format!(
            r#"{{ "proofread": {{ "by": ["A. B.", "{by}"], "on": "2026-06-03", "against": "Order of 2024" }} }}"#
        )
    };
    let crossing = |allowed: bool| {
        format!(r#"{{ "crossing": {{ "allowed": {allowed}, "gear_state": "stowed", "continuous": true }} }}"#)
    };
    let cases = [
        (proofread("C. D."), proofread("E. F."), "proofread", Effect::Reference),
        ("{}".into(), proofread("E. F."), "proofread", Effect::Reference),
        (
            r#"{ "as_published": ["45.1 N 30.2 W"] }"#.into(),
            r#"{ "as_published": ["45 06.0 N 30 12.0 W"] }"#.into(),
            "as-published",
            Effect::Reference,
        ),
        (crossing(true), crossing(false), "crossing", Effect::Stricter),
        (crossing(false), crossing(true), "crossing", Effect::Looser),
        ("{}".into(), crossing(false), "crossing", Effect::Undecided),
        (
            "{}".into(),
            r#"{ "when": { "unknowable": "this is a draft" } }"#.into(),
            "season",
            Effect::Undecided,
        ),
        (
            r#"{ "time_zone": "UTC" }"#.into(),
            r#"{ "time_zone": "Atlantic/Azores" }"#.into(),
            "time-zone",
            Effect::Undecided,
        ),
        (r#"{ "datum": "NAD 83" }"#.into(), r#"{ "datum": "GDA94" }"#.into(), "datum", Effect::Undecided),
    ];
    for (old, new, code, effect) in cases {
        let (before, now) = (rule(&old), rule(&new));
        let comparison = compare(&before, &now);
        let told: Vec<_> =
            comparison.changed[0].changes.iter().map(|told| (told.change.code(), told.effect)).collect();
        assert_eq!(told, [(code, effect)], "{old} to {new}");
    }
}

#[test]
fn issue_and_publisher_of_a_file_are_told_even_where_no_zone_lives_on() {
    let file = |id: &str, issued: &str, publisher: &str, lat: f64| {
        zones(&serde_json::json!({
            "type": "FeatureCollection",
            "takeline": {
                "format": "takeline.zones/1", "datum": "WGS 84", "issued": issued, "publisher": publisher
            },
            "features": [ {
                "type": "Feature", "id": id,
                "properties": { "edges": "rhumb", "take": "none", "source": { "instrument": "Marrowick Order 3" } },
                "geometry": { "type": "Polygon", "coordinates":
                    [[[-30.2, lat], [-30.1, lat], [-30.1, lat + 0.1], [-30.2, lat + 0.1]]] }
            } ]
        }))
    };
    let old = file("owl-roads", "2025-05-01", "Harbour Board", 45.1);
    for new in [
        file("owl-roads", "2026-05-01", "Marrowick Waters", 45.1),
        file("heron-flats", "2026-05-01", "Marrowick Waters", 45.5),
    ] {
        let comparison = compare(&old, &new);
        let told: Vec<_> = comparison.files[0].changes.iter().map(|told| told.change.code()).collect();
        assert_eq!(told, ["file-issued", "file-publisher"]);
    }
}

/// Edges stated in another way along one line are no change of what may be done; those that nobody stated are.
#[test]
fn edges_that_are_stated_in_another_way_along_one_line_do_nothing() {
    let with = |edges: &str| edition_of(&small_box(), &serde_json::json!({ "edges": edges }));
    let effects = |old: &str, new: &str| {
        let (before, now) = (with(old), with(new));
        let comparison = compare(&before, &now);
        let told = comparison.changed[0].line_told();
        told.iter().map(|told| (told.fact.code(), told.effect)).collect::<Vec<_>>()
    };
    let same = ("same-as-printed", Effect::Reference);
    assert_eq!(effects("rhumb", "geodesic"), [same, ("edges-restated", Effect::Reference)]);
    // 300 m of side: the readings are less than a millimetre apart
    assert_eq!(effects("unstated", "geodesic"), [same, ("edges-restated", Effect::Reference)]);
    let long = |edges: &str| edition(&serde_json::json!({ "edges": edges }));
    let (before, now) = (long("unstated"), long("geodesic"));
    let comparison = compare(&before, &now);
    let told = comparison.changed[0].line_told();
    assert!(
        told.iter().any(|told| told.effect == Effect::Undecided || told.fact.code() == "same-as-printed")
    );
}

/// 300 m by 400 m, printed to 0.0001°.
fn small_box() -> Value {
    serde_json::json!([[[-30.2, 45.1], [-30.1963, 45.1], [-30.1963, 45.1037], [-30.2, 45.1037]]])
}

#[test]
fn ten_sides_that_became_shore_are_one_fact() {
    let side = |side: &str| {
        let edges: Vec<Value> =
            (0..4).map(|_| serde_json::json!({ "runs": "rhumb", "side": side })).collect();
        edition_of(&small_box(), &serde_json::json!({ "edges": edges }))
    };
    let (before, now) = (side("open"), side("shore"));
    let comparison = compare(&before, &now);
    let told = comparison.changed[0].line_told();
    let restated = told.iter().find(|told| told.fact.code() == "sides-restated").unwrap();
    assert_eq!(restated.effect, Effect::Undecided);
    assert!(matches!(&restated.fact, super::LineFact::SidesRestated { at, .. } if at.len() == 4));
}
