//! Mistakes that people make when they type a zone from a law, each made in real zones and in those of Marrowick: every one is an
//! error, a warning, or changes a figure that the law prints too and that is read back.
//!
//! NOT FOR NAVIGATION OR COMPLIANCE: `tests/data/regulations/zones` holds one stored state of each text.
//!
//! The first mistakes are those that were tried in a review of version 0.1.0; eleven of them loaded without a word. The table of
//! `docs/zone-mistakes.md` is written by `UPDATE_MISTAKES=1 cargo test -p takeline-drafting --test typing_mistakes`.
#![expect(clippy::unwrap_used, reason = "tests: panics fail them")]
#![expect(clippy::print_stdout, reason = "the table is what the page quotes")]

use std::fmt::Write;

use serde_json::{Value, json};
use takeline::Position;
use takeline::zone_file;
use takeline_drafting::check::{Against, Checked, FindingKind, Severity, Today, check};
use takeline_drafting::survey::ZoneSurvey;

#[path = "typing_mistakes/mistakes.rs"]
mod mistakes;
#[path = "typing_mistakes/page.rs"]
mod page;
#[path = "typing_mistakes/real_slips.rs"]
mod real_slips;
#[path = "typing_mistakes/sound.rs"]
mod sound;

use mistakes::MISTAKES;
use sound::{Sound, all, others};

/// The day on which the dates of all files are past.
pub(crate) fn today() -> Today {
    Today::at("2026-11-27T12:00:00Z".parse().unwrap())
}

pub(crate) fn checked(file: &Value) -> Checked {
    let text = serde_json::to_string_pretty(file).unwrap();
    check("typed.json", text.as_bytes(), &[], Some(today()), &Against::default())
}

/// How a mistake comes to light.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Light {
    /// Such a mistake cannot be made here.
    NotHere,
    Error(&'static str),
    Warning(&'static str),
    /// A figure that the law prints too.
    Figure(&'static str),
    Nowhere,
}

fn light(sound: &Sound, wrong: &Value) -> Light {
    let found = checked(wrong);
    let gravest = found.findings.first().filter(|finding| finding.severity > Severity::Note);
    match gravest.map(|finding| (finding.severity, finding.kind.code())) {
        Some((Severity::Error, code)) => Light::Error(code),
        Some((_, code)) => Light::Warning(code),
        None => figure(sound, wrong).map_or(Light::Nowhere, Light::Figure),
    }
}

/// The first figure read back that is another than in the sound file, by more than a law's digits hide.
fn figure(sound: &Sound, wrong: &Value) -> Option<&'static str> {
    let zone = |file: &Value| {
        let loaded = zone_file::read("typed.json", file.to_string().as_bytes()).unwrap();
        loaded.zones[sound.feature].clone()
    };
    let (right, wrong) = (zone(&sound.file), zone(wrong));
    let [before, after] = [&right, &wrong].map(|zone| ZoneSurvey::of(zone).unwrap().unwrap());
    let corners = |survey: &ZoneSurvey| survey.rings().map(|ring| ring.sides.len()).sum::<usize>();
    let places = |survey: &ZoneSurvey| -> Vec<Position> {
        survey.rings().flat_map(|ring| ring.sides.iter().map(|side| side.from)).collect()
    };
    // a hundredth of a minute is what most laws print
    let printed = |place: &Position| {
        let hundredths = |degrees: f64| (degrees * 6000.0).round();
        (hundredths(place.latitude().degrees()), hundredths(place.longitude().degrees()))
    };
    let differ = || places(&before).iter().map(printed).ne(places(&after).iter().map(printed));
    if right.when != wrong.when {
        Some("season")
    } else if corners(&before) != corners(&after) {
        Some("corners")
    } else if (after.area_m2 / before.area_m2 - 1.0).abs() > 0.02 {
        Some("area")
    } else {
        differ().then_some("point")
    }
}

#[test]
fn sound_files_raise_nothing_above_a_note() {
    for sound in all().into_iter().chain(others()) {
        let found = checked(&sound.file);
        assert!(found.zones.is_some(), "{}: {:#?}", sound.name, found.findings);
        let grave: Vec<_> = found.findings.iter().filter(|one| one.severity > Severity::Note).collect();
        assert!(grave.is_empty(), "{}: {grave:#?}", sound.name);
    }
}

#[test]
fn every_typing_mistake_comes_to_light() {
    let zones = all();
    assert!(zones.iter().filter(|zone| zone.is_real).count() >= 10, "ten real zones");
    let mut rows = Vec::new();
    let (mut found, mut figures) = (0, 0);
    for (name, make) in MISTAKES {
        let mut row = Vec::new();
        for sound in &zones {
            let wrong = make(sound);
            let light = wrong.map_or(Light::NotHere, |wrong| light(sound, &wrong));
            assert_ne!(light, Light::Nowhere, "{name} in {}", sound.name);
            found += usize::from(matches!(light, Light::Error(_) | Light::Warning(_)));
            figures += usize::from(matches!(light, Light::Figure(_)));
            row.push(light);
        }
        assert!(row.iter().any(|light| *light != Light::NotHere), "{name} was never made");
        rows.push((*name, row));
    }
    println!("{found} are errors or warnings, {figures} show by a figure");
    let names: Vec<&str> = zones.iter().map(|zone| zone.name.as_str()).collect();
    page::hold(&names, &rows, (found, figures));
}

pub(crate) fn codes(found: &Checked) -> Vec<&'static str> {
    found.findings.iter().map(|finding| finding.kind.code()).collect()
}

pub(crate) fn kinds(found: &Checked) -> impl Iterator<Item = &FindingKind> {
    found.findings.iter().map(|finding| &finding.kind)
}

pub(crate) fn line(text: &mut String, line: &str) {
    writeln!(text, "{line}").unwrap();
}

/// A file with one ring, of latitude and longitude, as people type it.
pub(crate) fn typed(rings: &[&[(f64, f64)]]) -> Value {
    let features = rings.iter().enumerate().map(|(at, ring)| {
        let mut places: Vec<Value> = ring.iter().map(|(lat, lon)| json!([lon, lat])).collect();
        places.push(places[0].clone());
        json!({ "type": "Feature", "id": format!("zone-{}", at + 1),
            "geometry": { "type": "Polygon", "coordinates": [places] },
            "properties": { "edges": "rhumb", "take": "none",
                "source": { "instrument": "Order", "clause": "1", "retrieved": "2026-05-01" } } })
    });
    json!({ "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "edition": "1", "datum": "WGS 84", "time_zone": "UTC" },
        "features": features.collect::<Vec<_>>() })
}
