//! Answers about Marrowick, made by hand, that the tests of text and JSON share.

use std::sync::Arc;

use takeline::assess::{Reason, Remedy};
use takeline::rule::{
    self, Allowance, Bag, BagPer, Bait, Condition, Gear, GearAllowance, Measure, MissingTime, PermitSummary,
    RuleSummary, SetNames, Size, TakeSummary,
};
use takeline::zone::{Source, ZoneFile, ZoneId, ZoneSummary};
use takeline::{
    AccuracyKind, Assessment, ClearingMove, Containment, CrossablePoint, Fix, HorizontalUncertainty, Metres,
    NearestPoint, NearestSide, Position, SideKind, TakeAnswer, TakeFinding, Tristate, TrueBearing,
    WaterStatus, ZoneFinding, binding,
};

pub(crate) fn metres(value: f64) -> Metres {
    Metres::new(value).unwrap()
}

pub(crate) fn texts(texts: &[&str]) -> Vec<String> {
    texts.iter().map(|text| (*text).to_owned()).collect()
}

fn in_short(take: TakeSummary) -> RuleSummary {
    RuleSummary { take, gear: vec![], binds: vec![] }
}

pub(crate) fn fix(accuracy_m: f64) -> Fix {
    let position = Position::from_degrees(45.1182, -30.1217).unwrap();
    let uncertainty = HorizontalUncertainty::given(accuracy_m, AccuracyKind::P95).unwrap();
    Fix::new(position, uncertainty).at("2026-07-25T06:30:00Z".parse().unwrap())
}

/// The no-take reserve at Sallow Cove; the distance is negative inside.
pub(crate) fn sallow_cove(containment: Containment, signed_distance_m: f64) -> ZoneFinding {
    ZoneFinding {
        zone: Arc::new(sallow_cove_itself()),
        containment,
        on_the_line: false,
        signed_distance: Some(metres(signed_distance_m)),
        uncertainty_95: metres(10.0),
        assumed: vec![],
        inside_probability: Some(if signed_distance_m < 0.0 { 0.999_999 } else { 1e-9 }),
        nearest: Some(NearestPoint {
            position: Position::from_degrees(45.118_441_8, -30.121_358_3).unwrap(),
            bearing: TrueBearing::from_degrees(45.0).unwrap(),
        }),
        nearest_side: Some(NearestSide { kind: SideKind::Open, level: None }),
        crossable: Some(CrossablePoint {
            signed_distance: metres(signed_distance_m),
            position: Position::from_degrees(45.118_441_8, -30.121_358_3).unwrap(),
            bearing: TrueBearing::from_degrees(45.0).unwrap(),
        }),
        reading_gap: None,
        in_force: Tristate::Yes,
        in_force_because: vec![binding::Reason::InForceUntil {
            until: "2026-10-01T00:00:00+00:00[UTC]".parse().unwrap(),
        }],
        access: Tristate::Yes,
        displaced: Tristate::No,
        binds: containment.into(),
        displaced_by: vec![],
        perhaps_displaced_by: vec![],
    }
}

fn sallow_cove_itself() -> ZoneSummary {
    ZoneSummary {
        id: ZoneId("sallow-cove".into()),
        name: "Sallow Cove Reserve".into(),
        take_rule: in_short(TakeSummary::Nothing),
        conditions: texts(&["no anchoring on the eelgrass"]),
        passage: vec![Condition::Law { text: "\"lines inboard and hooks bare\" (clause 9)".into() }],
        nothing_may_be_taken: true,
        restricts_nothing: false,
        time_zone: jiff::tz::TimeZone::UTC,
        source: Source {
            instrument: "Marrowick Reserves Order 2019".into(),
            clause: Some("clause 4(2)".into()),
            retrieved: Some("2026-03-01".parse().unwrap()),
            ..Source::default()
        },
        proofread: None,
        file: Arc::new(ZoneFile {
            path: "marrowick.geojson".into(),
            sha256: "0123456789abcdef".repeat(4),
            edition: Some("2026-1".into()),
            ..ZoneFile::default()
        }),
    }
}

/// The same under another name.
pub(crate) fn named(name: &str, finding: ZoneFinding) -> ZoneFinding {
    let zone = Arc::new(ZoneSummary { name: name.to_owned(), ..ZoneSummary::clone(&finding.zone) });
    ZoneFinding { zone, ..finding }
}

/// The reserve where only bait fish may be taken.
pub(crate) fn lantern_reach() -> ZoneFinding {
    let itself = ZoneSummary {
        id: ZoneId("lantern-reach".into()),
        name: "Lantern Reach".into(),
        take_rule: in_short(TakeSummary::Only {
            permits: vec![PermitSummary {
                fish: Some(SetNames { listed: texts(&["sprat", "herring"]), except: vec![] }),
                at_set_times: false,
            }],
        }),
        nothing_may_be_taken: false,
        conditions: vec![],
        passage: vec![],
        ..sallow_cove_itself()
    };
    ZoneFinding { zone: Arc::new(itself), ..sallow_cove(Containment::Inside, -212.0) }
}

pub(crate) fn fish(asked: &str, answer: TakeAnswer) -> TakeFinding {
    TakeFinding {
        asked: asked.into(),
        answer,
        because: vec![],
        conditions: vec![],
        settle: vec![],
        refused_by: vec![],
        refused_by_one_of: vec![],
        possession: Tristate::Undecided,
        possession_because: vec![],
        possession_conditions: vec![],
        within: Allowance::default(),
        otherwise: vec![],
        way_to_keep: None,
    }
}

/// A sprat that may be kept, under every kind of limit.
pub(crate) fn sprat() -> TakeFinding {
    let within = Allowance {
        bags: vec![Bag { count: 20, per: BagPer::PersonDay }],
        sizes: vec![Size { min_cm: Some(8.0), max_cm: None, measure: Measure::TotalLength }],
        gear: Some(vec![GearAllowance {
            kind: Gear("hook and line".into()),
            max_lines: Some(1),
            max_hooks: None,
            note: None,
        }]),
        gear_forbidden: vec![Gear("gill net".into())],
        bait: vec![Bait::Not(texts(&["sand eel"]))],
    };
    TakeFinding {
        conditions: within.conditions(),
        because: vec![Reason::Rule { reason: rule::Reason::MayBeTaken { fish: Some("sprat".into()) } }],
        possession: Tristate::Yes,
        within,
        ..fish("sprat", TakeAnswer::Keep)
    }
}

pub(crate) fn assessment(water: WaterStatus, zones: Vec<ZoneFinding>) -> Assessment {
    Assessment {
        fix: fix(10.0),
        water,
        water_because: vec![],
        zones,
        take: vec![],
        settling_move: None,
        settle_first: None,
        settle: vec![],
        standoff_kept: None,
        standoff_because: vec![],
        misreading: None,
        closed_by_one_of: vec![],
        looked_for_way_out: false,
        way_out: None,
        no_way_out: None,
        on_heading: None,
        way_home: None,
        warnings: vec![],
    }
}

pub(crate) fn closed() -> Assessment {
    assessment(WaterStatus::Closed, vec![sallow_cove(Containment::Inside, -38.0)])
}

pub(crate) fn outside() -> Assessment {
    assessment(WaterStatus::Unzoned, vec![sallow_cove(Containment::Outside, 38.0)])
}

/// Four metres outside with a doubt of ten: a move of 14 m away from the line settles it.
pub(crate) fn near_the_line() -> Assessment {
    let zone = ZoneFinding { inside_probability: Some(0.216), ..sallow_cove(Containment::Undecided, 4.0) };
    Assessment {
        water_because: vec![Reason::LineWithinDoubt {
            zone: "Sallow Cove Reserve".into(),
            signed_distance_m: 4.0,
            uncertainty_95_m: 10.0,
        }],
        settling_move: Some(ClearingMove {
            distance: metres(13.4),
            bearing: TrueBearing::from_degrees(225.0).unwrap(),
            to: Position::from_degrees(45.118_114, -30.121_82).unwrap(),
            water_there: WaterStatus::Unzoned,
        }),
        settle: vec![Remedy::Move {
            distance_m: 14.0,
            bearing_true_deg: 225.0,
            water_there: WaterStatus::Unzoned,
        }],
        ..assessment(WaterStatus::Undecided, vec![zone])
    }
}

/// Surely inside, the time not known, so that a season cannot be read.
pub(crate) fn season_unknown() -> Assessment {
    let zone = ZoneFinding {
        in_force: Tristate::Undecided,
        in_force_because: vec![binding::Reason::NoTime { missing: MissingTime::NotGiven }],
        binds: Tristate::Undecided,
        ..sallow_cove(Containment::Inside, -300.0)
    };
    Assessment {
        fix: fix(10.0).at_time(None),
        settle: vec![Remedy::SayTheTime { missing: MissingTime::NotGiven }],
        ..assessment(WaterStatus::Undecided, vec![zone])
    }
}

/// The line is on a plan that nobody supplied.
pub(crate) fn line_unknown() -> Assessment {
    let zone = ZoneFinding {
        signed_distance: None,
        inside_probability: None,
        nearest: None,
        ..sallow_cove(Containment::Undecided, 0.0)
    };
    Assessment {
        water_because: vec![Reason::PlaceUnknown {
            zone: "Sallow Cove Reserve".into(),
            why: "the line is on plan MP2, which was not supplied".into(),
        }],
        settle: vec![Remedy::GetTheLine { zone: "Sallow Cove Reserve".into() }],
        ..assessment(WaterStatus::Undecided, vec![zone])
    }
}
