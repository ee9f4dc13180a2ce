//! The evaluation on invented zones about 45°07'N 030°07'W, and the laws of the index.

use std::sync::Arc;

use approx::assert_abs_diff_eq;
use proptest::prelude::*;

use super::{Assumption, Containment, Displacing, Question, Remedy, TakeAnswer, Warning, WaterStatus};
use crate::geodesic::{direct, inverse};
use crate::rule::{AnnualWindow, MissingTime, Possession, Take, TakeRule, When, WindowEnds};
use crate::zone::{Datum, Effective, Extent, LineBelongs, Source, Status, Zone, ZoneFile, ZoneId, ZoneSet};
use crate::{
    AccuracyKind, Boundary, EdgeModel, Fix, HorizontalUncertainty, Metres, PartSpec, Position, RingSpec,
    Tristate, binding,
};

pub(super) fn at(lat: f64, lon: f64) -> Position {
    Position::from_degrees(lat, lon).unwrap()
}

pub(super) fn fix(position: Position, p95_m: f64) -> Fix {
    let given = || HorizontalUncertainty::given(p95_m, AccuracyKind::P95).unwrap();
    Fix {
        position,
        uncertainty: if p95_m > 0.0 { given() } else { HorizontalUncertainty::exact() },
        time: Some("2026-07-01T12:00Z".parse().unwrap()),
    }
}

fn no_take() -> TakeRule {
    TakeRule {
        take: Take::Nothing,
        limits: Vec::new(),
        possession: Possession::Unstated,
        passage: None,
        binds: Vec::new(),
        conditions: Vec::new(),
    }
}

pub(super) fn zone(id: &str, extent: Extent) -> Zone {
    Zone {
        id: ZoneId(id.to_owned()),
        name: id.to_owned(),
        extent,
        line_uncertainty: Metres::ZERO,
        datum: Datum::Wgs84,
        datum_is_of_the_file: true,
        line_belongs: LineBelongs::ToZone,
        time_zone: jiff::tz::TimeZone::UTC,
        status: Status::InForce,
        effective: Effective::default(),
        when: When::Always,
        rule: no_take(),
        overrides: Vec::new(),
        source: Source::default(),
        proofread: None,
        may_change_by_notice: false,
        as_published: Vec::new(),
        file: Arc::new(ZoneFile::default()),
    }
}

fn ring(corners: &[Position], model: EdgeModel) -> RingSpec {
    RingSpec { vertices: corners.to_vec(), edges: vec![model; corners.len()], sides: Vec::new() }
}

pub(super) fn polygon(corners: &[Position], model: EdgeModel) -> Boundary {
    Boundary::build(&[PartSpec::Polygon { exterior: ring(corners, model), holes: vec![] }]).unwrap()
}

/// A square with its south-west corner at a place and sides of so many metres along meridians and geodesics.
pub(super) fn square(corner: Position, side_m: f64) -> Vec<Position> {
    let north_west = direct(corner, 0.0, side_m);
    let south_east = direct(corner, 90.0, side_m);
    vec![corner, south_east, direct(south_east, 0.0, side_m), north_west]
}

fn square_zone(id: &str, corner: Position, side_m: f64) -> Zone {
    zone(id, Extent::Known(polygon(&square(corner, side_m), EdgeModel::Geodesic)))
}

fn asking(species: &str) -> Question {
    Question { species: vec![species.to_owned()], ..Question::default() }
}

#[test]
fn a_fix_38_m_outside_5_m_outside_and_38_m_inside_a_square_of_1_km_with_10_m_of_doubt() {
    let corner = at(45.11, -30.12);
    let zones = ZoneSet::new(vec![square_zone("square", corner, 1_000.0)]);
    let west_side = direct(corner, 0.0, 500.0);
    for (offset_m, side) in
        [(38.0, Containment::Outside), (5.0, Containment::Undecided), (-38.0, Containment::Inside)]
    {
        let here = direct(west_side, 270.0, offset_m);
        let answer = zones.assess(&fix(here, 10.0), &Question::default());
        let finding = &answer.zones[0];
        assert_eq!(finding.containment, side);
        assert_abs_diff_eq!(finding.signed_distance.unwrap().metres(), offset_m, epsilon = 1e-3);
        assert_abs_diff_eq!(finding.uncertainty_95.metres(), 10.0, epsilon = 1e-9);
    }
}

#[test]
fn what_has_no_time_says_why_in_every_place_that_hangs_on_it() {
    let season = |id: &str| {
        let mut seasonal = square_zone(id, at(45.11, -30.12), 1_000.0);
        seasonal.when = When::Yearly(AnnualWindow { from: (5, 1), to: (8, 31), ends: WindowEnds::Included });
        seasonal
    };
    let mut edition = season("edition");
    edition.when = When::Always;
    edition.effective.from = Some("2026-01-01T00:00Z".parse().unwrap());
    let zones = ZoneSet::new(vec![season("season"), edition]);
    let inside = direct(at(45.11, -30.12), 45.0, 500.0);
    for missing_time in [MissingTime::NotGiven, MissingTime::Doubted, MissingTime::LogDoubted] {
        let question = Question { missing_time, ..asking("bass") };
        let found = zones.assess(&Fix { time: None, ..fix(inside, 10.0) }, &question);
        assert_eq!(found.water, WaterStatus::Undecided);
        for zone in &found.zones {
            assert_eq!(
                zone.in_force_because,
                [binding::Reason::NoTime { missing: missing_time }],
                "{}",
                zone.name
            );
        }
        assert_eq!(found.settle, [Remedy::SayTheTime { missing: missing_time }]);
        let told = format!("{found:?}");
        for other in [MissingTime::NotGiven, MissingTime::Doubted, MissingTime::LogDoubted] {
            assert_eq!(told.contains(&format!("missing: {other:?}")), other == missing_time, "{told}");
        }
    }
}

#[test]
fn a_fix_exactly_on_an_edge_or_vertex_is_inside_and_says_so() {
    let corner = at(45.11, -30.12);
    let zones = ZoneSet::new(vec![square_zone("square", corner, 1_000.0)]);
    for here in [corner, direct(corner, 0.0, 400.0)] {
        let answer = zones.assess(&fix(here, 0.0), &Question::default());
        assert_eq!(answer.zones[0].containment, Containment::Inside);
        assert!(answer.zones[0].on_the_line);
        assert_eq!(answer.water, WaterStatus::Closed);
    }
    let mut outside = square_zone("square", corner, 1_000.0);
    outside.line_belongs = LineBelongs::Outside;
    let answer = ZoneSet::new(vec![outside]).assess(&fix(corner, 0.0), &Question::default());
    assert_eq!(answer.zones[0].containment, Containment::Outside);
}

#[test]
fn a_fix_4_m_outside_with_5_m_of_doubt_is_undecided_and_the_move_settles_it() {
    let corner = at(45.11, -30.12);
    let zones = ZoneSet::new(vec![square_zone("square", corner, 1_000.0)]);
    let here = direct(direct(corner, 0.0, 500.0), 270.0, 4.0);
    let answer = zones.assess(&fix(here, 5.0), &asking("sprat"));
    assert_eq!(answer.water, WaterStatus::Undecided);
    assert_eq!(answer.take[0].answer, TakeAnswer::Undecided);
    let found = answer.settling_move.unwrap();
    assert!(found.distance.metres() >= 1.0 && found.distance.metres() <= 4.0, "{found:?}");
    let again = zones.assess(&fix(found.to, 5.0), &Question::default());
    assert_eq!(again.water, WaterStatus::Unzoned);
    assert_eq!(again.zones[0].containment, Containment::Outside);
}

#[test]
fn two_zones_share_an_edge_and_a_fix_on_it_is_in_both() {
    let corner = at(45.11, -30.12);
    let east = direct(corner, 90.0, 1_000.0);
    let mut left = square(corner, 1_000.0);
    let right = square(east, 1_000.0);
    (left[1], left[2]) = (right[0], right[3]);
    let pair = [("left", &left), ("right", &right)]
        .map(|(id, corners)| zone(id, Extent::Known(polygon(corners, EdgeModel::Geodesic))));
    let zones = ZoneSet::new(pair.to_vec());
    let answer = zones.assess(&fix(direct(east, 0.0, 300.0), 0.0), &Question::default());
    assert_eq!(answer.zones.len(), 2);
    assert!(answer.zones.iter().all(|finding| finding.containment == Containment::Inside));
}

#[test]
fn a_boat_in_a_pocket_smaller_than_its_doubt_is_undecided() {
    let outer = square(at(45.10, -30.14), 3_000.0);
    let pocket = square(at(45.11, -30.125), 20.0);
    let boundary = Boundary::build(&[PartSpec::Polygon {
        exterior: ring(&outer, EdgeModel::Geodesic),
        holes: vec![ring(&pocket, EdgeModel::Geodesic)],
    }])
    .unwrap();
    let zones = ZoneSet::new(vec![zone("around", Extent::Known(boundary))]);
    let middle = direct(direct(at(45.11, -30.125), 0.0, 10.0), 90.0, 10.0);
    assert_eq!(zones.assess(&fix(middle, 15.0), &Question::default()).water, WaterStatus::Undecided);
    assert_eq!(zones.assess(&fix(middle, 5.0), &Question::default()).water, WaterStatus::Unzoned);
}

#[test]
fn unstated_edges_of_38_nm_are_undecided_between_their_readings() {
    let along = 0.763_3; // degrees of longitude: 38 nm at 34°N
    let corners = [at(34.0, -30.0), at(34.0, -30.0 + along), at(33.5, -30.0 + along), at(33.5, -30.0)];
    let zones = ZoneSet::new(vec![zone("long", Extent::Known(polygon(&corners, EdgeModel::Unstated)))]);
    let here = direct(at(34.0, -30.0 + along / 2.0), 0.0, 30.0);
    let answer = zones.assess(&fix(here, 5.0), &Question::default());
    assert_eq!(answer.water, WaterStatus::Undecided);
    let gap = answer.zones[0].reading_gap.unwrap();
    assert!(gap.sides_differ);
    // trade.md 2.3: 66 m over 38 nm at 34° (computed there)
    assert_abs_diff_eq!(gap.gap.metres(), 66.0, epsilon = 1.0);
    // beyond both readings by more than the fix's doubt it is decided
    let beyond = direct(at(34.0, -30.0 + along / 2.0), 0.0, 66.0 + 40.0);
    assert_eq!(zones.assess(&fix(beyond, 5.0), &Question::default()).water, WaterStatus::Unzoned);
}

#[test]
fn a_zone_without_a_line_is_undecided_in_its_area_and_outside_far_from_it() {
    let area = polygon(&square(at(45.10, -30.14), 3_000.0), EdgeModel::Geodesic);
    let unknown =
        |somewhere_in| Extent::Unknown { somewhere_in, reason: "see plan, not supplied".to_owned() };
    let zones = ZoneSet::new(vec![zone("planned", unknown(Some(area)))]);
    assert_eq!(
        zones.assess(&fix(at(45.11, -30.13), 5.0), &Question::default()).water,
        WaterStatus::Undecided
    );
    assert_eq!(zones.assess(&fix(at(46.0, -30.13), 5.0), &Question::default()).water, WaterStatus::Unzoned);
    let anywhere = ZoneSet::new(vec![zone("planned", unknown(None))]);
    assert_eq!(
        anywhere.assess(&fix(at(-46.0, 130.0), 5.0), &Question::default()).water,
        WaterStatus::Undecided
    );
}

#[test]
fn a_zone_around_the_pole_and_one_smaller_than_the_doubt() {
    let cap: Vec<Position> = (0..6).map(|corner| at(70.0, f64::from(corner) * 60.0 - 180.0)).collect();
    let zones = ZoneSet::new(vec![
        zone("cap", Extent::Known(polygon(&cap, EdgeModel::RhumbLine))),
        square_zone("speck", at(45.11, -30.12), 20.0),
    ]);
    assert_eq!(zones.assess(&fix(at(89.9, 12.0), 5.0), &Question::default()).water, WaterStatus::Closed);
    assert_eq!(zones.assess(&fix(at(90.0, 0.0), 5.0), &Question::default()).water, WaterStatus::Closed);
    assert_eq!(zones.assess(&fix(at(69.9, 33.0), 5.0), &Question::default()).water, WaterStatus::Unzoned);
    let on_speck = direct(direct(at(45.11, -30.12), 0.0, 10.0), 90.0, 10.0);
    assert_eq!(zones.assess(&fix(on_speck, 15.0), &Question::default()).water, WaterStatus::Undecided);
}

#[test]
fn an_unstated_datum_adds_200_m_of_doubt_and_says_so() {
    let mut unstated = square_zone("square", at(45.11, -30.12), 1_000.0);
    unstated.datum = Datum::Unstated;
    let here = direct(direct(at(45.11, -30.12), 0.0, 500.0), 270.0, 150.0);
    let answer = ZoneSet::new(vec![unstated]).assess(&fix(here, 5.0), &Question::default());
    assert_eq!(answer.water, WaterStatus::Undecided);
    assert!(answer.zones[0].assumed.contains(&Assumption::Datum { uncertainty_95_m: 200.0 }));
    assert!(answer.settle.iter().any(|one| one.code() == "find-out-the-datum"), "{:?}", answer.settle);
}

#[test]
fn a_displaced_zone_counts_no_more_and_the_citation_is_given() {
    let mut over = square_zone("over", at(45.11, -30.12), 1_000.0);
    over.rule.take = Take::Anything;
    over.overrides =
        vec![crate::zone::Override { zone: ZoneId("under".to_owned()), clause: "article 7".to_owned() }];
    let under = square_zone("under", at(45.105, -30.13), 3_000.0);
    let zones = ZoneSet::new(vec![over, under]);
    let both = zones.assess(&fix(direct(at(45.11, -30.12), 45.0, 500.0), 5.0), &asking("sprat"));
    // nothing is restricted where a rule that restricts nothing displaces the one that does
    assert_eq!(both.water, WaterStatus::Unzoned);
    assert_eq!(both.take[0].answer, TakeAnswer::Keep);
    let by = Displacing { zone: "over".to_owned(), clause: "article 7".to_owned() };
    assert!(both.zones.iter().any(|finding| finding.displaced_by == std::slice::from_ref(&by)));
    let only_under = zones.assess(&fix(at(45.106, -30.129), 5.0), &asking("sprat"));
    assert_eq!(only_under.water, WaterStatus::Closed);
}

#[test]
fn nothing_loaded_is_said_and_is_no_permission() {
    let answer = ZoneSet::new(Vec::new()).assess(&fix(at(45.0, -30.0), 5.0), &asking("sprat"));
    assert_eq!(answer.water, WaterStatus::Undecided);
    assert_eq!(answer.take[0].answer, TakeAnswer::Undecided);
    assert_eq!(answer.warnings, [Warning::NoZones]);
    let off = Question::default().keeping_off(Metres::new(100.0).unwrap());
    let answer = ZoneSet::default().assess(&fix(at(45.0, -30.0), 5.0), &off);
    let verdict = answer.verdict();
    assert_eq!(verdict.standoff_kept, Some(Tristate::Undecided));
    assert!(!verdict.is_settled() && matches!(verdict.undecided[0], crate::Undecided::Zones));
    assert_eq!(verdict.warnings, [Warning::NoZones]);
}

/// A clock that nobody has set, a count of weeks that began anew, and a digit too many say nothing about a season.
#[test]
fn a_time_that_cannot_be_right_opens_no_closure() {
    let mut season = square_zone("nursery", at(45.11, -30.12), 1_000.0);
    season.when = When::Yearly(AnnualWindow { from: (5, 1), to: (8, 31), ends: WindowEnds::Included });
    let zones = ZoneSet::new(vec![season]);
    for time in ["1970-01-01T00:00:05Z", "2006-12-01T12:00:00Z", "2120-12-01T12:00:00Z"] {
        let fix = fix(at(45.11, -30.12), 5.0).at(time.parse().unwrap());
        let answer = zones.assess(&fix, &Question::default());
        assert_eq!(answer.water, WaterStatus::Undecided, "{time}");
        assert!(answer.warnings.iter().any(|warning| warning.code().ends_with("-doubted")), "{answer:?}");
        assert!(answer.settle.iter().any(|remedy| remedy.code() == "say-the-time"), "{answer:?}");
    }
}

#[test]
fn the_sign_of_a_standoff_does_not_count() {
    let zones = ZoneSet::new(vec![square_zone("square", at(45.11, -30.12), 1_000.0)]);
    let off = Question::default().keeping_off(Metres::new(-50_000.0).unwrap());
    let answer = zones.assess(&fix(at(45.15, -30.12), 5.0), &off);
    assert_eq!(answer.standoff_kept, Some(Tristate::No));
    let inside = Question { standoff: Some(Metres::new(-50.0).unwrap()), ..Question::default() };
    let answer = zones.assess(&fix(at(45.11, -30.12), 5.0), &inside);
    assert_eq!(answer.standoff_kept, Some(Tristate::No));
}

#[test]
fn a_standoff_is_kept_broken_or_undecided() {
    let corner = at(45.11, -30.12);
    let zones = ZoneSet::new(vec![square_zone("square", corner, 1_000.0)]);
    let asked = Question { standoff: Some(Metres::new(50.0).unwrap()), ..Question::default() };
    for (offset_m, kept) in [(70.0, Tristate::Yes), (52.0, Tristate::Undecided), (20.0, Tristate::No)] {
        let here = direct(direct(corner, 0.0, 500.0), 270.0, offset_m);
        assert_eq!(zones.assess(&fix(here, 10.0), &asked).standoff_kept, Some(kept), "at {offset_m} m");
    }
}

/// Many squares over a patch of sea, some overlapping.
fn scattered() -> impl Strategy<Value = Vec<Zone>> {
    let one = (44.8..45.4_f64, -30.5..-29.7_f64, 1.3..4.3_f64);
    proptest::collection::vec(one, 1..40).prop_map(|places| {
        places
            .into_iter()
            .enumerate()
            .map(|(number, (lat, lon, log_side))| {
                square_zone(&format!("z{number}"), at(lat, lon), 10.0_f64.powf(log_side))
            })
            .collect()
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn the_indexed_answer_equals_the_answer_from_every_zone(
        zones in scattered(), lat in 44.7..45.5_f64, lon in -30.6..-29.6_f64, doubt_m in 0.0..3_000.0_f64,
    ) {
        let set = ZoneSet::new(zones);
        let here = fix(at(lat, lon), doubt_m);
        let indexed = set.assess(&here, &Question::default());
        let full = set.assess(&here, &Question { all_zones: true, ..Question::default() });
        prop_assert_eq!(indexed.water, full.water);
        let not_outside = |answer: &super::Assessment| -> Vec<String> {
            let mut ids: Vec<String> = answer.zones.iter()
                .filter(|finding| finding.containment != Containment::Outside)
                .map(|finding| finding.id.to_string()).collect();
            ids.sort();
            ids
        };
        prop_assert_eq!(not_outside(&indexed), not_outside(&full));
        prop_assert_eq!(&indexed.zones[0].id, &full.zones[0].id, "the nearest line");
    }

    #[test]
    fn a_fix_farther_out_than_its_doubt_is_never_inside_or_undecided(
        zones in scattered(), lat in 44.7..45.5_f64, lon in -30.6..-29.6_f64, doubt_m in 0.1..3_000.0_f64,
    ) {
        let set = ZoneSet::new(zones);
        let answer = set.assess(&fix(at(lat, lon), doubt_m), &Question { all_zones: true, ..Question::default() });
        for finding in &answer.zones {
            let distance_m = finding.signed_distance.unwrap().metres();
            let expected = if distance_m > doubt_m {
                Containment::Outside
            } else if distance_m < -doubt_m {
                Containment::Inside
            } else {
                Containment::Undecided
            };
            prop_assert_eq!(finding.containment, expected);
        }
    }

    #[test]
    fn a_settling_move_settles_when_asked_again(
        zones in scattered(), lat in 44.7..45.5_f64, lon in -30.6..-29.6_f64, doubt_m in 1.0..300.0_f64,
    ) {
        let set = ZoneSet::new(zones);
        let here = fix(at(lat, lon), doubt_m);
        let answer = set.assess(&here, &Question::default());
        if let Some(found) = answer.settling_move {
            let leg = inverse(here.position, found.to);
            prop_assert!((leg.distance_m - found.distance.metres()).abs() < 1e-6);
            let there = Fix { position: found.to, ..here };
            let again = set.assess(&there, &Question::default());
            prop_assert_eq!(again.water, found.water_there);
            prop_assert!(again.zones.iter().all(|finding| finding.containment != Containment::Undecided));
        }
    }
}
