//! What lies between two fixes: held to boats whose true way is known, and logged only now and then.

use proptest::prelude::*;

use super::test_tracks::{at, audit, fix, zone};
use super::{Audit, Certainty, Evidence, LoggedFix, TrackSettings, Visit};
use crate::geodesic::{direct, inverse};
use crate::rule::Passage;
use crate::zone::ZoneSet;
use crate::{Position, Tristate};

const HOME: (f64, f64) = (45.11, -30.12);
/// Metres in a second at 12 kn.
const TOP_M_PER_S: f64 = 12.0 * 1852.0 / 3600.0;

/// A square of 1 km with its north-west corner at home.
fn square() -> ZoneSet {
    let home = at(HOME.0, HOME.1);
    let south = direct(home, 180.0, 1_000.0);
    let corners = vec![south, direct(south, 90.0, 1_000.0), direct(home, 90.0, 1_000.0), home];
    ZoneSet::new(vec![zone("square", corners, None)])
}

/// A place so many metres east and north of its north-west corner.
fn spot(east_m: f64, north_m: f64) -> Position {
    direct(direct(at(HOME.0, HOME.1), 90.0, east_m), 0.0, north_m)
}

fn every(places: &[Position], step: usize) -> Vec<LoggedFix> {
    let seconds = |at: usize| f64::from(u32::try_from(at).unwrap());
    places.iter().enumerate().step_by(step).map(|(at, place)| fix(*place, seconds(at), 3.0)).collect()
}

fn told(fixes: &[LoggedFix]) -> Audit {
    audit(&square(), fixes, TrackSettings::default())
}

fn only(found: &Audit) -> &Visit {
    let [visit] = found.visits.as_slice() else { panic!("{:#?}", found.visits) };
    visit
}

/// Round the corner, 8 m off, at 5 m/s, a place each second.
fn round_the_corner() -> Vec<Position> {
    let up = (0..40).map(|second| spot(-8.0, -192.0 + 5.0 * f64::from(second)));
    let along = (0..40).map(|second| spot(-8.0 + 5.0 * f64::from(second), 8.0));
    up.chain(along).collect()
}

#[test]
fn a_boat_that_rounds_a_corner_is_never_surely_inside_however_seldom_it_was_logged() {
    assert!(
        told(&every(&round_the_corner(), 1))
            .visits
            .iter()
            .all(|visit| visit.certainty == Certainty::Possible)
    );
    for step in [2, 5, 10, 15, 20, 30] {
        for first in 0..step {
            let found = told(&every(&round_the_corner()[first..], step));
            let sure = found.visits.iter().find(|visit| visit.certainty == Certainty::Certain);
            assert!(sure.is_none(), "{step} s, from {first}: {sure:#?}");
        }
    }
}

#[test]
fn a_suspect_fix_deep_inside_is_told_although_the_way_beside_the_line_makes_a_visit_too() {
    let places: Vec<_> = (0..400).map(|second| spot(-40.0, -800.0 + 0.5 * f64::from(second))).collect();
    let mut fixes = every(&places, 20);
    assert!(only(&told(&fixes)).off_the_way.is_some());
    // 400 m from the west side, 300 m from the south side
    fixes.insert(10, fix(spot(400.0, -700.0), 190.0, 3.0));
    let found = told(&fixes);
    let visit = only(&found);
    assert_eq!((visit.certainty, visit.evidence), (Certainty::Possible, Evidence::Fixes));
    assert!(visit.is_suspect && visit.off_the_way.is_none(), "{visit:#?}");
    assert!((visit.deepest.unwrap().metres() - 300.0).abs() < 1.0, "{visit:#?}");
    // a fix that is believed within the doubt of the line says more
    fixes.push(fix(spot(-1.0, -600.0), 400.0, 3.0));
    fixes.push(fix(spot(-1.0, -600.5), 420.0, 3.0));
    let found = told(&fixes);
    assert!(!only(&found).is_suspect, "{:#?}", found.visits);
}

#[test]
fn between_fixes_20_s_apart_the_boat_can_have_been_61_m_off_its_way() {
    // 40 m off the west side, hardly moving: there and back are 74 m with 3 m of doubt, and 20 s at 12 kn are 123 m
    let places: Vec<_> = (0..200).map(|second| spot(-40.0, -500.0 + 0.01 * f64::from(second))).collect();
    assert!(told(&every(&places, 1)).visits.is_empty());
    assert!(told(&every(&places, 10)).visits.is_empty());
    let found = told(&every(&places, 20));
    let visit = only(&found);
    assert_eq!((visit.certainty, visit.evidence), (Certainty::Possible, Evidence::BetweenFixes));
    assert_eq!((visit.binds, visit.certain_s), (Tristate::Undecided, Some(0.0)));
    let off = visit.off_the_way.unwrap();
    assert!((off.seconds - 20.0).abs() < 1e-9 && (off.reach.metres() - 61.7).abs() < 0.1, "{off:?}");
    // in each of nine legs 20 s less 74 m of way there and back, rounded outwards to 1/64 of a leg
    let longest_s = 9.0 * (20.0 - 74.0 / TOP_M_PER_S);
    let possible_s = visit.possible_s.unwrap();
    assert!((longest_s..longest_s * 1.25).contains(&possible_s), "{possible_s}, not {longest_s}");
    // the depth that is told is that of the straight line, with all that lies between in its doubt
    assert!((visit.deepest.unwrap().metres() + 40.0).abs() < 0.1);
    assert!(visit.deepest_uncertainty_95.metres() > 61.0);
    // neither a way nor a stop is made of it
    assert_eq!((visit.path.metres(), visit.stops.len(), visit.speeds), (0.0, 0, None));
}

#[test]
fn no_single_second_between_two_fixes_decides() {
    let pair = |seconds: f64, off_m: f64| {
        told(&[fix(spot(-off_m, -500.0), 0.0, 3.0), fix(spot(-off_m, -501.0), seconds, 3.0)])
    };
    for seconds in [20.0, 29.0, 30.0, 31.0, 40.0] {
        let half_m = TOP_M_PER_S * seconds / 2.0;
        assert_eq!(pair(seconds, half_m - 2.0).visits.len(), 1, "{seconds}");
        assert_eq!(pair(seconds, half_m + 8.0).visits.len(), 0, "{seconds}");
    }
}

#[test]
fn a_known_top_speed_narrows_what_lies_between() {
    let places: Vec<_> = (0..100).map(|second| spot(-40.0, -500.0 + 0.5 * f64::from(second))).collect();
    let fixes = every(&places, 20);
    let at_speed = |knots: f64| {
        let settings = TrackSettings::default().with_top_speed_kn(knots).unwrap();
        audit(&square(), &fixes, settings).visits.len()
    };
    assert_eq!([12.0, 8.0, 6.0, 3.0].map(at_speed), [1, 1, 0, 0]);
}

#[test]
fn the_points_of_a_plan_are_joined_by_straight_ways() {
    let plan = |fixes: &[LoggedFix]| {
        audit(&square(), fixes, TrackSettings { is_plan: true, ..TrackSettings::default() }).visits
    };
    assert!(plan(&[fix(spot(-10.0, 0.0), 0.0, 3.0), fix(spot(-10.0, -100.0), 25.0, 3.0)]).is_empty());
    let across = [spot(-50.0, -500.0), spot(1_050.0, -500.0)];
    let across = plan(&across.map(|place| LoggedFix { time: None, ..fix(place, 0.0, 3.0) }));
    assert_eq!(across[0].certainty, Certainty::Certain);
}

#[test]
fn between_fixes_inside_that_need_more_than_the_top_speed_nothing_is_certain() {
    // 150 m in 20 s are 14.6 kn: believed, but not a way that is known
    let fixes: Vec<_> = (0..5)
        .map(|step| fix(spot(200.0, -800.0 + 150.0 * f64::from(step)), 20.0 * f64::from(step), 3.0))
        .collect();
    let found = told(&fixes);
    let visit = only(&found);
    // at its fixes it is
    assert_eq!((visit.certainty, visit.certain_s), (Certainty::Certain, Some(0.0)));
    assert!((visit.possible_s.unwrap() - 80.0).abs() < 0.1);
    let slower: Vec<_> = (0..5)
        .map(|step| fix(spot(200.0, -800.0 + 100.0 * f64::from(step)), 20.0 * f64::from(step), 3.0))
        .collect();
    assert!((only(&told(&slower)).certain_s.unwrap() - 80.0).abs() < 0.1);
}

#[test]
fn gaps_one_after_another_beside_a_zone_are_one_visit() {
    // a fix a minute, 100 to 130 m off: 185 m can be reached in each
    let places: Vec<_> = (0..3_600)
        .map(|second| {
            spot(-115.0 + 15.0 * (f64::from(second) / 500.0).sin(), -800.0 + 0.1 * f64::from(second))
        })
        .collect();
    let found = told(&every(&places, 60));
    let visit = only(&found);
    assert_eq!((visit.evidence, visit.certainty, visit.gaps), (Evidence::Gap, Certainty::Possible, 59));
    assert!(
        (found.gap_path.metres() - 360.0).abs() < 40.0 && found.path.metres() == 0.0,
        "{:?}",
        found.gap_path
    );
    // seen 300 m off in between it is two
    let mut there_and_back = every(&places, 60);
    for away in &mut there_and_back[25..30] {
        away.position = direct(away.position, 270.0, 200.0);
    }
    assert_eq!(told(&there_and_back).visits.len(), 2);
}

#[test]
fn a_boat_that_lay_still_beside_a_zone_was_logged_all_the_while() {
    // an hour at one place, 60 m off, a fix each second: no more than 3 m in reach
    let mut fixes: Vec<_> =
        (0..3_600).map(|second| fix(spot(-60.0, -500.0), f64::from(second), 3.0)).collect();
    fixes.extend(
        (0..10).map(|second| {
            fix(spot(-60.0, -500.0 + 0.3 * f64::from(second)), 3_600.0 + f64::from(second), 3.0)
        }),
    );
    assert!(told(&fixes).visits.is_empty());
}

#[test]
fn repeats_of_a_fix_that_is_still_held_back_belong_to_its_visit() {
    // the receiver freezes at the third fix inside, for ten minutes, and nothing follows
    let into = (0..6).map(|second| fix(spot(-8.0 + 5.0 * f64::from(second), -500.0), f64::from(second), 3.0));
    let frozen = (6..600).map(|second| fix(spot(17.0, -500.0), f64::from(second), 3.0));
    let found = told(&into.chain(frozen).collect::<Vec<_>>());
    let visit = only(&found);
    assert_eq!((visit.certainty, visit.is_suspect), (Certainty::Certain, false));
    // and it may have been there all the while
    assert!((visit.possible_s.unwrap() - 597.0).abs() < 3.0, "{:?}", visit.possible_s);
    assert!((visit.in_force_possible_s.unwrap() - 597.0).abs() < 5.0, "{:?}", visit.in_force_possible_s);
}

#[test]
fn a_clock_that_is_set_back_inside_leaves_conditions_of_crossing_open() {
    let passage = Passage {
        allowed: Tristate::Yes,
        gear_state: None,
        continuous: true,
        min_speed_kn: None,
        max_stop_min: None,
        anchoring: Tristate::No,
        conditions: Vec::new(),
        clause: None,
    };
    let mut zones = square().zones().to_vec();
    zones[0].rule.passage = Some(passage);
    let zones = ZoneSet::new(zones);
    let met = |back_s: f64| {
        let at = |step: u32| {
            let seconds = f64::from(step) - if step < 100 { 0.0 } else { back_s };
            fix(spot(-100.0 + 3.0 * f64::from(step), -500.0), seconds, 3.0)
        };
        let found = audit(&zones, &(0..200).map(at).collect::<Vec<_>>(), TrackSettings::default());
        found.visits.iter().map(|visit| visit.conditions[0].met).collect::<Vec<_>>()
    };
    assert_eq!(met(0.0), [Tristate::Yes]);
    assert!(met(50.0).iter().all(|met| *met == Tristate::Undecided), "{:?}", met(50.0));
}

#[test]
fn a_fix_after_a_gap_tells_no_more_of_its_depth_than_its_own() {
    // 10 m off with 15 m of doubt, after a gap in which 185 m could be reached
    let fixes = [0.0, 60.0, 61.0].map(|seconds| fix(spot(-10.0, -500.0 + seconds / 10.0), seconds, 15.0));
    let found = told(&fixes);
    let visit = only(&found);
    assert_eq!((visit.evidence, visit.certainty, visit.gaps), (Evidence::Fixes, Certainty::Possible, 1));
    assert!((visit.deepest.unwrap().metres() + 10.0).abs() < 0.1, "{:?}", visit.deepest);
}

/// A boat that goes as it likes, never faster than 12 kn, a place each second.
fn wander(start: (f64, f64), turns: &[(f64, f64, u32)]) -> Vec<Position> {
    let mut here = spot(start.0, start.1);
    let mut places = vec![here];
    for (bearing, m_per_s, seconds) in turns {
        for _ in 0..*seconds {
            here = direct(here, *bearing, *m_per_s);
            places.push(here);
        }
    }
    places
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(1_000))]

    /// Whatever the spacing: where the true boat was inside, the log of it has a perhaps at least at that time, and where the
    /// log says "certain", the true boat was inside at some time.
    #[test]
    fn a_thinned_log_never_knows_more_than_the_boat_did(
        start in (-150.0..150.0_f64, -150.0..150.0_f64),
        turns in proptest::collection::vec((0.0..360.0_f64, 0.0..6.17_f64, 1_u32..25), 3..14),
        step in 1_usize..40,
    ) {
        let places = wander(start, &turns);
        let fixes = every(&places, step);
        let found = told(&fixes);
        let zones = square();
        let boundary = zones.zones()[0].extent.area().unwrap();
        let last = (places.len() - 1) / step * step;
        let mut was_inside = false;
        for (second, place) in places[..=last].iter().enumerate() {
            if boundary.locate(*place).signed_distance.metres() >= 0.0 {
                continue;
            }
            was_inside = true;
            let time = fix(*place, f64::from(u32::try_from(second).unwrap()), 3.0).time;
            let is_held = found.visits.iter().flat_map(|visit| &visit.ruled).any(|part| part.from <= time && time <= part.to);
            prop_assert!(is_held, "{second} s, a fix each {step} s: {:#?}", found.visits);
        }
        let sure = found.visits.iter().any(|visit| visit.certainty == Certainty::Certain);
        prop_assert!(!sure || was_inside, "{:#?}", found.visits);
    }

    /// The bound that is used holds for every place between: no place that can be had at a moment, at top speed from both
    /// fixes, lies farther from the straight way's place at that moment than is told.
    #[test]
    fn a_stray_is_bounded_at_every_moment(
        length_m in 0.0..185.0_f64,
        seconds in 1.0..30.0_f64,
        share in 0.0..1.0_f64,
        bearing in 0.0..360.0_f64,
        away in 0.0..1.0_f64,
    ) {
        let (from, to) = (spot(0.0, 0.0), spot(0.0, length_m));
        let leg = super::leg::Leg::between(fix(from, 0.0, 0.1), fix(to, seconds, 0.1), 0);
        let stray = super::leg::Stray::of(&leg, (0.0, None), &TrackSettings::default());
        let place = direct(from, bearing, away * TOP_M_PER_S * seconds * share);
        let on_m = inverse(place, to).distance_m;
        let can_be = on_m <= TOP_M_PER_S * seconds * (1.0 - share);
        let off_m = inverse(place, leg.at(share)).distance_m;
        prop_assert!(!can_be || off_m <= stray.at_m(share) + 0.01, "{off_m} {stray:?}");
    }
}
