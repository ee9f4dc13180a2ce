//! One example of every code of a comparison, from files that differ in everything, for the page of codes.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Value, json};
use strum::VariantNames;
use takeline::zone::Zone;
use takeline::zone_file;
use takeline_drafting::editions::{Change, Effect, LineFact, ZoneWater, compare};

use super::compare_line::line_fact;
use super::compare_words::change;
use crate::words::English;

/// One table of the page: what it is about, where its codes stand, and each code with an example in words.
pub(crate) struct CodeTable {
    pub(crate) name: &'static str,
    pub(crate) stands_under: &'static str,
    pub(crate) rows: BTreeMap<&'static str, String>,
}

fn zones(file: &Value) -> Vec<Zone> {
    zone_file::read("edition.json", file.to_string().as_bytes()).unwrap().zones
}

fn demo(name: &str) -> Value {
    let path = format!("{}/../../demo-data/{name}", env!("CARGO_MANIFEST_DIR"));
    serde_json::from_slice(&std::fs::read(path).unwrap()).unwrap()
}

/// A small file with a zone of everything, in one of two editions.
fn edition(is_new: bool) -> Value {
    let either = |old: Value, new: Value| if is_new { new } else { old };
    let limit = |with: Value| {
        let mut limit = json!({ "taxa": ["cod"], "bag": { "count": 3, "per": "person-day" } });
        limit.as_object_mut().unwrap().extend(with.as_object().unwrap().clone());
        limit
    };
    let square = |lat: f64| json!([[[-30.2, lat], [-30.1, lat], [-30.1, lat + 0.1], [-30.2, lat + 0.1]]]);
    let two = json!([square(45.1), square(45.3)]);
    json!({
        "type": "FeatureCollection",
        "takeline": {
            "format": "takeline.zones/1", "datum": "WGS 84", "time_zone": either(json!("UTC"), json!("Atlantic/Azores")),
            "title": either(json!("Waters"), json!("Waters of Marrowick")),
            "publisher": either(json!("Harbour Board"), json!("Marrowick Waters")),
            "issued": either(json!("2025-05-01"), json!("2026-05-01")),
            "licence": either(json!("CC0-1.0"), json!("CC-BY-4.0")),
            "taxa": either(
                json!([{ "id": "cod", "names": ["cod"], "fao": "COD" }, { "id": "bass", "names": ["bass"] }]),
                json!([{ "id": "cod", "names": ["cod"] }, { "id": "squid", "names": ["squid"] }]),
            ),
            "groups": either(
                json!([{ "id": "white", "names": ["white fish"], "members": ["cod"] }, { "id": "old", "members": ["bass"] }]),
                json!([{ "id": "white", "names": ["whitefish"], "members": ["cod"] }, { "id": "new", "members": ["squid"] }]),
            )
        },
        "features": [ {
            "type": "Feature", "id": "lantern-reach",
            "properties": {
                "name": "Lantern Reach", "edges": "rhumb", "take": { "only": either(json!(["cod", "bass"]), json!(["cod", { "taxa": ["squid"] }])) },
                "limits": [ limit(either(
                    json!({ "when": { "yearly": { "from": "05-01", "to": "08-31" } }, "gear": { "not": ["net"] }, "bait": { "only": ["worm"] },
                        "conditions": ["by day"], "clause": "4" }),
                    json!({ "when": { "yearly": { "from": "05-01", "to": "07-31" } }, "gear": { "not": ["net", "pot"] }, "bait": { "not": ["worm"] },
                        "conditions": ["by night"], "clause": "5" }),
                )) ],
                "as_published": either(json!(["45.1 N 30.2 W"]), json!(["45°06.0′N 30°12.0′W"])),
                "proofread": { "by": ["A. B."], "on": either(json!("2025-06-03"), json!("2026-06-03")) },
                "source": {
                    "instrument": either(json!("Marrowick Order 3"), json!("Marrowick Order 7")), "clause": "2",
                    "url": either(json!("library, shelf 3"), json!("library, shelf 4")),
                    "retrieved": either(json!("2025-05-02"), json!("2026-05-02")),
                    "licence": either(json!("CC0-1.0"), json!("CC-BY-4.0"))
                }
            },
            "geometry": either(json!({ "type": "Polygon", "coordinates": square(45.1) }), json!({ "type": "MultiPolygon", "coordinates": two }))
        }, {
            "type": "Feature", "id": "owl-roads",
            "properties": { "take": "none", "edges": "geodesic", "source": { "instrument": "Marrowick Order 3" } },
            "geometry": { "type": "Polygon", "coordinates": [[[0, 80], [90, 80], [180, 80], [-90, either(json!(80), json!(81))]]] }
        }, {
            "type": "Feature", "id": "kelp-garden",
            "properties": {
                "take": "none", "source": { "instrument": "Marrowick Order 3" },
                "geometry_unknown": { "reason": either(json!("see plan 2"), json!("see plan 3")), "somewhere_in": { "bbox": [-30.2, 45.6, -30.1, 45.7] } }
            },
            "geometry": null
        } ]
    })
}

/// All tables of a comparison.
pub(crate) fn tables() -> [CodeTable; 4] {
    let (mut changes, mut lines) = (BTreeMap::new(), BTreeMap::new());
    let demos = [demo("editions/marrowick-2025.json"), demo("zones/marrowick.json")];
    let pairs = [
        [edition(false), edition(true)],
        [demos[0].clone(), demos[1].clone()],
        [demos[1].clone(), demos[0].clone()],
    ];
    for [old, new] in pairs {
        let (old, new) = (zones(&old), zones(&new));
        let comparison = compare(&old, &new);
        let of_zones = comparison.changed.iter().flat_map(|zone| &zone.changes);
        for told in of_zones.chain(comparison.files.iter().flat_map(|file| &file.changes)) {
            changes.entry(told.change.code()).or_insert_with(|| change(&English, &told.change).text());
        }
        for told in comparison.changed.iter().flat_map(takeline_drafting::editions::ZoneChange::line_told) {
            lines.entry(told.fact.code()).or_insert_with(|| line_fact(&English, &told.fact));
        }
    }
    let effects = [
        (Effect::Stricter, "less is allowed than before, and nothing more"),
        (Effect::Undecided, "it cannot be compared, or one thing became stricter and another looser"),
        (Effect::Looser, "more is allowed by this rule than before, and nothing less"),
        (Effect::Reference, "it says where a rule is from, or what things are called"),
    ];
    let waters = [
        (ZoneWater::Closed, "nothing may be taken, at some time at least"),
        (ZoneWater::Limited, "something is restricted"),
        (ZoneWater::Unrestricted, "nothing is restricted"),
        (ZoneWater::NoLaw, "proposed, not commenced or repealed"),
    ];
    let tables = [
        CodeTable {
            name: "Changes between two editions",
            stands_under: "They stand in `rules_codes` and `changes_codes`.",
            rows: changes,
        },
        CodeTable { name: "Changes of a line", stands_under: "They stand in `line_codes`.", rows: lines },
        CodeTable {
            name: "Effects of changes",
            stands_under: "They stand in `effect`, and in `line_effects`, `rules_effects` and `changes_effects`. Nothing is called stricter or looser that is not proved.",
            rows: effects.iter().map(|(effect, words)| (effect.code(), (*words).to_owned())).collect(),
        },
        CodeTable {
            name: "What a zone does to its water",
            stands_under: "They stand in `water` of a zone that came or went.",
            rows: waters.iter().map(|(water, words)| (water.code(), (*words).to_owned())).collect(),
        },
    ];
    let all = [Change::VARIANTS, LineFact::VARIANTS, Effect::VARIANTS, ZoneWater::VARIANTS];
    for (table, all) in tables.iter().zip(all) {
        let all: BTreeSet<&str> = all.iter().copied().collect();
        let found: BTreeSet<&str> = table.rows.keys().copied().collect();
        let missing: Vec<_> = all.symmetric_difference(&found).collect();
        assert!(missing.is_empty(), "{}: no example of {missing:?}", table.name);
    }
    tables
}
