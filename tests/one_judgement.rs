//! One judgement of what binds: a fix, a track of that one fix, a catch at it and the judgement itself agree.
//!
//! Zones are invented, near each other, touching, nested, overlapping and displacing each other. The number of questions is
//! that of `TAKELINE_JUDGEMENTS`, 400 without it; at full size:
//!
//!     TAKELINE_JUDGEMENTS=100000 cargo test --release -p takeline --test one_judgement -- --nocapture

#![expect(clippy::unwrap_used, reason = "a test whose zones cannot be made has failed")]

use std::env;

use jiff::{SignedDuration, Timestamp};
use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use serde_json::{Value, json};
use takeline::binding::ZoneHere;
use takeline::rule::{Access, Circumstances};
use takeline::track::{
    Auditor, CatchEntry, CatchJoin, CatchSettings, Certainty, LogPlace, LoggedFix, TrackSettings,
};
use takeline::zone::ZoneSet;
use takeline::{
    AccuracyKind, Assessment, Containment, Fix, HorizontalUncertainty, Position, Question, Tristate,
    zone_file,
};

/// Corners of a zone, by column and row of a grid of about 80 by 110 m, so that zones often share borders.
type Cell = (u8, u8, u8, u8);

/// One zone as drawn: its cells, its rule, its season, whom it binds, the later zones that it displaces, and what its four sides are.
type Drawn = (Cell, u8, u8, u8, u8, [u8; 4]);

const WEST_DEG: f64 = -30.13;
const SOUTH_DEG: f64 = 45.10;
const STEP_DEG: f64 = 0.001;

/// What a side is: open water for every other zone, and now and then a shore, a mouth, or nothing that anybody supplied.
fn side(number: u8) -> Value {
    match number % 16 {
        0 | 1 => json!({ "runs": "rhumb", "side": "shore" }),
        2 => json!({ "runs": "rhumb", "side": "shore", "uncertainty_m": 8 }),
        3 => json!({ "runs": "rhumb", "side": "shore", "uncertainty_m": 3, "land_m": 0 }),
        4 => json!({ "runs": "rhumb", "side": "unresolved" }),
        5 => json!({ "runs": "rhumb", "side": "unresolved", "uncertainty_m": 30 }),
        6 => json!({ "runs": "rhumb", "side": "mouth" }),
        7 => json!({ "runs": "rhumb", "side": "open", "uncertainty_m": 12 }),
        _ => json!("rhumb"),
    }
}

fn feature(number: usize, (cell, rule, season, binds, displaces, sides): Drawn, count: usize) -> Value {
    let (column, row, wide, high) = cell;
    let lon = |cells: u8| WEST_DEG + STEP_DEG * f64::from(cells);
    let lat = |cells: u8| SOUTH_DEG + STEP_DEG * f64::from(cells);
    let (west, east, south, north) = (lon(column), lon(column + wide), lat(row), lat(row + high));
    let ring = [[west, south], [east, south], [east, north], [west, north]];
    let take =
        [json!("none"), json!({ "only": ["cod"] }), json!({ "all_except": ["cod"] }), json!("anything")];
    let mut properties = json!({ "take": take[usize::from(rule % 4)], "edges": "rhumb", "possession": "allowed",
                                 "source": { "instrument": "Marrowick Order" } });
    if sides[0] < 128 {
        properties["edges"] = sides.map(side).into();
    }
    match season % 4 {
        0 => properties["when"] = json!({ "hours": { "from": "10:00", "to": "12:00" } }),
        1 => properties["when"] = json!({ "unknowable": "when the wardens say so" }),
        _ => {}
    }
    match binds % 4 {
        0 => properties["binds"] = json!(["shore"]),
        1 => properties["binds"] = json!(["boat", "diving"]),
        _ => {}
    }
    let under: Vec<Value> = (number + 1..count)
        .filter(|other| displaces >> (other - number - 1) & 1 == 1)
        .map(|other| json!({ "zone": format!("z{other}"), "clause": "clause 6" }))
        .collect();
    if !under.is_empty() {
        properties["overrides"] = json!(under);
    }
    json!({ "type": "Feature", "id": format!("z{number}"),
            "geometry": { "type": "Polygon", "coordinates": [ring] }, "properties": properties })
}

fn set(drawn: &[Drawn]) -> ZoneSet {
    let features: Vec<Value> =
        drawn.iter().enumerate().map(|(number, one)| feature(number, *one, drawn.len())).collect();
    let file = json!({
        "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "datum": "WGS 84", "time_zone": "UTC", "taxa": [{ "id": "cod" }] },
        "features": features,
    });
    ZoneSet::new(zone_file::read("drawn.json", file.to_string().as_bytes()).unwrap().zones)
}

fn drawn() -> impl Strategy<Value = Vec<Drawn>> {
    let cell = (0_u8..6, 0_u8..6, 1_u8..5, 1_u8..5);
    // few citations, so that not everything is displaced
    let displaces = (any::<u8>(), any::<u8>()).prop_map(|(one, other)| one & other);
    prop::collection::vec((cell, any::<u8>(), any::<u8>(), any::<u8>(), displaces, any::<[u8; 4]>()), 1..5)
}

#[derive(Debug, Clone, Copy)]
struct Asked {
    fix: Fix,
    access: Option<Access>,
}

fn asked() -> impl Strategy<Value = Asked> {
    // every other one on the lines of the grid or within a doubt of them
    let along =
        || prop_oneof![0.0..10.0_f64, (0_u8..11, -0.05..0.05_f64).prop_map(|(at, off)| f64::from(at) + off)];
    let access = prop_oneof![
        Just(Some(Access::Boat)),
        Just(Some(Access::Shore)),
        Just(Some(Access::Diving)),
        Just(None)
    ];
    let instant =
        prop_oneof![Just("2026-07-01T09:00Z"), Just("2026-07-01T11:00Z"), Just("2026-07-01T12:00Z")];
    (along(), along(), 1.0..12.0_f64, instant, access).prop_map(|(column, row, p95_m, instant, access)| {
        let position =
            Position::from_degrees(SOUTH_DEG + STEP_DEG * row, WEST_DEG + STEP_DEG * column).unwrap();
        let uncertainty = HorizontalUncertainty::given(p95_m, AccuracyKind::P95).unwrap();
        // not in whole minutes: of a catch these are good to a minute only, and are asked of where the boat was in it
        let time = instant.parse::<Timestamp>().unwrap() + SignedDuration::from_millis(1);
        Asked { fix: Fix::new(position, uncertainty).at(time), access }
    })
}

fn here(zones: &ZoneSet, asked: Asked, all_zones: bool) -> Assessment {
    let circumstances = Circumstances { access: asked.access, ..Circumstances::default() };
    let mut question = Question::default().fish("cod").under(circumstances);
    question.all_zones = all_zones;
    zones.assess(&asked.fix, &question)
}

fn logged(asked: Asked) -> LoggedFix {
    LoggedFix {
        position: asked.fix.position,
        time: asked.fix.time,
        time_between: None,
        jump_kn: None,
        uncertainty: Some(asked.fix.uncertainty),
        hdop: None,
        speed_m_per_s: None,
        place: LogPlace::default(),
    }
}

fn inside(side: Containment) -> Tristate {
    side.into()
}

/// Side, force and binding of each zone that the fix may be inside of, by the answer about the fix.
fn told(answer: &Assessment) -> Vec<(String, Tristate, Tristate, Tristate, Tristate)> {
    let matters = answer.zones.iter().filter(|one| one.containment != Containment::Outside);
    let mut told: Vec<_> = matters
        .map(|one| (one.id.0.clone(), inside(one.containment), one.in_force, one.displaced, one.binds))
        .collect();
    told.sort_by(|a, b| a.0.cmp(&b.0));
    told
}

fn agree(zones: &ZoneSet, asked: Asked) -> Result<(), TestCaseError> {
    let (near, all) = (here(zones, asked, false), here(zones, asked, true));
    prop_assert_eq!(near.water, all.water);
    prop_assert_eq!(near.take[0].answer, all.take[0].answer);
    prop_assert_eq!(told(&near), told(&all));
    judged(zones, asked, &all)?;
    tracked(zones, asked, &all)?;
    caught(zones, asked, &all)
}

/// The judgement itself.
fn judged(zones: &ZoneSet, asked: Asked, answer: &Assessment) -> Result<(), TestCaseError> {
    let number = |id: &str| zones.zones().iter().position(|zone| zone.id.0 == id).unwrap();
    let here: Vec<ZoneHere> = answer
        .zones
        .iter()
        .map(|one| ZoneHere { number: number(&one.id.0), inside: inside(one.containment) })
        .collect();
    let bound = zones.binding_zones(&here, asked.fix.time, asked.access);
    for (one, bound) in answer.zones.iter().zip(&bound) {
        prop_assert_eq!(
            (one.in_force, one.displaced, one.binds),
            (bound.in_force, bound.displaced, bound.binds)
        );
    }
    let time = asked.fix.time.unwrap();
    let spans = zones.binding_spans(&here, time, time, asked.access);
    let over: Vec<Tristate> = spans.last().unwrap().zones.iter().map(|one| one.binds).collect();
    prop_assert_eq!(over, bound.iter().map(|one| one.binds).collect::<Vec<_>>());
    Ok(())
}

/// A track of one fix: a visit for each zone that the fix may be inside of, certain where it surely is.
fn tracked(zones: &ZoneSet, asked: Asked, answer: &Assessment) -> Result<(), TestCaseError> {
    let mut auditor = Auditor::new(zones, TrackSettings::default());
    auditor.push(logged(asked));
    let audit = auditor.finish();
    let mut visited: Vec<(String, Tristate, Tristate)> = audit
        .visits
        .iter()
        .map(|visit| {
            let side =
                if visit.certainty == Certainty::Certain { Tristate::Yes } else { Tristate::Undecided };
            (visit.zone.0.clone(), side, visit.in_force)
        })
        .collect();
    visited.sort_by(|a, b| a.0.cmp(&b.0));
    let told: Vec<_> =
        told(answer).into_iter().map(|(id, side, in_force, ..)| (id, side, in_force)).collect();
    prop_assert_eq!(visited, told);
    Ok(())
}

/// A catch at the fix; a catch log does not say from where.
fn caught(zones: &ZoneSet, asked: Asked, answer: &Assessment) -> Result<(), TestCaseError> {
    if asked.access.is_some() {
        return Ok(());
    }
    let entry = CatchEntry { time: asked.fix.time, ..CatchEntry::named(2, "cod") };
    let mut join = CatchJoin::new(zones, vec![entry], CatchSettings::default());
    join.push(&logged(asked));
    let found = join.finish();
    prop_assert_eq!(
        found[0].answer,
        answer.take[0].answer,
        "{:?} {:?}",
        &found[0].because,
        &answer.take[0].because
    );
    Ok(())
}

#[test]
fn a_fix_a_track_of_one_fix_a_catch_and_the_judgement_agree() {
    const PER_SET: u32 = 10;
    let questions: u32 = env::var("TAKELINE_JUDGEMENTS").map_or(400, |size| size.parse().unwrap());
    let sets = questions.div_ceil(PER_SET);
    let config = Config { cases: sets, failure_persistence: None, ..Config::default() };
    let asked = prop::collection::vec(asked(), PER_SET as usize);
    let outcome = TestRunner::new(config).run(&(drawn(), asked), |(drawn, asked)| {
        let zones = set(&drawn);
        asked.into_iter().try_for_each(|asked| agree(&zones, asked))
    });
    if let Err(failure) = outcome {
        panic!("{failure}");
    }
    println!("{} questions over {sets} sets of zones: all agree", sets * PER_SET);
}
