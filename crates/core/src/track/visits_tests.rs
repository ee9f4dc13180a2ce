//! Visits against what dense sampling of the same ways finds, and against closed forms.

use jiff::SignedDuration;
use proptest::prelude::*;

use super::test_tracks::{HOME, at, audit, fix, noon, since_noon, strip, zone};
use super::{Audit, Certainty, Evidence, LoggedFix, TrackSettings, VisitSpan};
use crate::geodesic::{direct, inverse};
use crate::zone::{Extent, Zone, ZoneSet};
use crate::{Boundary, EdgeModel, PartSpec, Position, RingSpec, Tristate};

/// A strip of one kilometre with its west side through home.
fn wide_strip() -> Zone {
    zone("strip", strip(at(HOME.0, HOME.1), 1_000.0), None)
}

/// So many metres east of home; west where negative.
fn east(metres: f64) -> Position {
    direct(at(HOME.0, HOME.1), 90.0, metres)
}

#[test]
fn a_visit_that_begins_and_ends_inside_holds_every_fix_although_the_boat_slipped_out_between() {
    let zones = ZoneSet::new(vec![wide_strip()]);
    // ten minutes at 50 m inside, but for one fix 22 m outside
    let fixes: Vec<LoggedFix> = (0..=60)
        .map(|step| {
            let seconds = f64::from(step) * 10.0;
            let place = east(if step == 24 { -22.0 } else { 50.0 });
            // a boat afloat never gives the same digits for long
            fix(direct(place, 0.0, 0.01 * f64::from(step)), seconds, 3.0)
        })
        .collect();
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!((found.visits.len(), found.crossings.len()), (1, 2));
    let visit = &found.visits[0];
    assert_eq!(visit.certainty, Certainty::Certain);
    assert_eq!((visit.entered().time, visit.left().time), (Some(noon(0.0)), Some(noon(600.0))));
}

#[test]
fn the_last_fix_of_a_straight_approach_is_the_closest() {
    let zones = ZoneSet::new(vec![wide_strip()]);
    // 2.5 m/s straight at the line, and the log ends 2003 m off it
    let fixes: Vec<LoggedFix> = (0..=400)
        .map(|second| fix(east(-3003.0 + 2.5 * f64::from(second)), f64::from(second), 5.0))
        .collect();
    let found = audit(&zones, &fixes, TrackSettings::default());
    let closest = &found.closest_approaches[0];
    // east() goes along a geodesic that is square to the line, so its metres are the distance
    assert!((closest.signed_distance.metres() - 2003.0).abs() < 0.1, "{}", closest.signed_distance);
    assert_eq!(closest.at.time, Some(noon(400.0)));
}

#[test]
fn a_zone_known_only_to_lie_in_an_area_has_no_depth_and_no_distance() {
    let mut somewhere = wide_strip();
    let Extent::Known(area) = somewhere.extent else { panic!("made with a boundary") };
    somewhere.extent = Extent::Unknown { somewhere_in: Some(area), reason: "plan missing".to_owned() };
    let zones = ZoneSet::new(vec![somewhere]);
    let through: Vec<LoggedFix> = (0..=200)
        .map(|step| fix(east(-300.0 + 10.0 * f64::from(step)), 4.0 * f64::from(step), 5.0))
        .collect();
    let found = audit(&zones, &through, TrackSettings::default());
    assert_eq!(found.visits.len(), 1);
    let visit = &found.visits[0];
    assert_eq!((visit.certainty, visit.deepest, visit.crossings.len()), (Certainty::Possible, None, 0));
    let past: Vec<LoggedFix> = through[..10].to_vec();
    let found = audit(&zones, &past, TrackSettings::default());
    assert!(found.visits.is_empty() && found.closest_approaches.is_empty());
    assert!(found.sketch.iter().all(|point| point.nearest.is_none()));
}

#[test]
fn a_log_without_times_has_no_durations() {
    let zones = ZoneSet::new(vec![wide_strip()]);
    let mut fixes: Vec<LoggedFix> = (0..20).map(|step| fix(east(10.0 * f64::from(step)), 0.0, 5.0)).collect();
    for one in &mut fixes {
        one.time = None;
    }
    let found = audit(&zones, &fixes, TrackSettings::default());
    let visit = &found.visits[0];
    assert_eq!((visit.certain_s, visit.possible_s), (None, None));
}

#[test]
fn what_lay_between_two_fixes_that_no_boat_joins_stays_possible() {
    let zones = ZoneSet::new(vec![wide_strip()]);
    let at_speed = |metres_apart: f64, seconds: f64| {
        let far = -100.0 + metres_apart;
        // ten fixes and more on both sides: neither is a few that were cut off from the rest
        let steps = || (0..12).map(f64::from);
        let before = steps().map(|step| (-210.0 + 10.0 * step, 5.0 * step));
        let after = steps().map(|step| (far + 10.0 * step, 55.0 + seconds + 5.0 * step));
        let fixes = before.chain(after).map(|(metres, seconds)| fix(east(metres), seconds, 5.0));
        audit(&zones, &fixes.collect::<Vec<_>>(), TrackSettings::default())
    };
    // 60 km in ten minutes are 194 kn: the zone lies right between
    let found = at_speed(60_000.0, 600.0);
    assert!(found.quality.gaps[0].impossible);
    assert!(found.gap_path.metres() < 1e-9, "nobody made that way: {:?}", found.gap_path);
    assert_eq!(found.visits.len(), 1, "{:?}", found.visits);
    assert_eq!((found.visits[0].certainty, found.visits[0].evidence), (Certainty::Possible, Evidence::Gap));
    // and from 100 m off the boat can have gone in before it came away to the west in whatever manner
    let found = at_speed(-60_000.0, 600.0);
    assert!(found.quality.gaps[0].impossible);
    assert_eq!(found.visits.len(), 1, "{:?}", found.visits);
}

#[test]
fn a_gap_that_ends_inside_was_perhaps_spent_inside_until_its_end() {
    let zones = ZoneSet::new(vec![wide_strip()]);
    let fixes =
        [(-320.0, 0.0), (-310.0, 5.0), (-300.0, 10.0), (100.0, 310.0), (110.0, 315.0), (120.0, 320.0)]
            .map(|(metres, seconds)| fix(east(metres), seconds, 5.0));
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!(found.visits.len(), 1, "{:#?}", found.visits);
    let visit = &found.visits[0];
    // 300 m at 12 kn, 6.173 m/s, are 48.6 s; the rest of 300 s may have been inside, and 10 s were
    assert!((visit.possible_s.unwrap() - (300.0 - 48.6 + 10.0)).abs() < 0.2, "{:?}", visit.possible_s);
    assert_eq!(visit.evidence, Evidence::Fixes);
    assert!((since_noon(visit.entered().time) - 58.6).abs() < 0.2);
    assert_eq!(visit.left().time, Some(noon(320.0)));
}

#[test]
fn a_gap_that_just_touches_a_zone_does_not_end_before_it_begins() {
    let zones = ZoneSet::new(vec![wide_strip()]);
    let settings = TrackSettings::default().with_top_speed_kn(3600.0 / 1852.0 * 2.0).unwrap();
    // out and back at 2 m/s in 100 s reaches 100 m; the doubts of two fixes spare 10 m of the way
    for off_m in [96.0, 99.9, 100.1, 102.0, 104.8] {
        let place = east(-off_m);
        let fixes = [0.0, 1.0, 2.0, 102.0, 103.0, 104.0]
            .map(|seconds| fix(direct(place, 0.0, 0.001 * seconds), seconds, 5.0));
        let found = audit(&zones, &fixes, settings);
        assert_eq!(found.visits.len(), 1, "{off_m}");
        let visit = &found.visits[0];
        assert!(visit.entered().time <= visit.left().time, "{off_m}: {:?}", visit.span);
    }
}

/// A square of some degrees off home, and 600 fixes a minute apart, 120 m outside its west side.
fn beside_a_square(degrees: f64) -> (ZoneSet, Vec<LoggedFix>) {
    let (south, west) = (HOME.0 - degrees / 2.0, HOME.1);
    let corners =
        [(south, west), (south, west + degrees), (south + degrees, west + degrees), (south + degrees, west)];
    let vertices: Vec<Position> = corners.iter().map(|(lat, lon)| at(*lat, *lon)).collect();
    let exterior =
        RingSpec { vertices: vertices.clone(), edges: vec![EdgeModel::PlateCarree; 4], sides: Vec::new() };
    let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    let square = Zone { extent: Extent::Known(boundary), ..zone("square", vertices, None) };
    let start = direct(at(HOME.0, west), 270.0, 120.0);
    let fixes = (0..600).map(|minute| {
        // up and down along a kilometre
        let along_m = 100.0 * f64::from((minute % 20_i32 - 10).abs());
        fix(direct(start, 0.0, along_m), 60.0 * f64::from(minute), 5.0)
    });
    (ZoneSet::new(vec![square]), fixes.collect())
}

#[test]
fn a_fix_a_minute_beside_a_large_square_takes_time_for_the_fixes_not_for_the_square() {
    let took = |degrees: f64| {
        let (zones, fixes) = beside_a_square(degrees);
        let began = std::time::Instant::now();
        let found = audit(&zones, &fixes, TrackSettings::default());
        assert_eq!(found.quality.gap_count, 599);
        assert!(!found.visits.is_empty());
        began.elapsed().as_secs_f64()
    };
    // eight times the outline took more than four times as long before
    let (small_s, large_s) = (took(0.5), took(4.0));
    println!("600 fixes a minute apart: {small_s:.2} s beside 0.5°, {large_s:.2} s beside 4°");
    assert!(large_s < 3.0 * small_s + 1.0, "{small_s} s and {large_s} s");
}

#[test]
fn the_greatest_depth_of_a_gap_is_never_understated() {
    // a pocket of 60 m, 700 m off to the side, that a coarse grid over the ellipse falls past
    let pocket = direct(east(0.0), 20.0, 700.0);
    let corners: Vec<Position> =
        [45.0, 135.0, 225.0, 315.0].map(|bearing| direct(pocket, bearing, 42.0)).to_vec();
    let zones = ZoneSet::new(vec![zone("pocket", corners, None)]);
    let fixes = [(-20.0, 0.0), (-10.0, 5.0), (0.0, 10.0), (10.0, 310.0), (20.0, 315.0), (30.0, 320.0)]
        .map(|(metres, seconds)| fix(east(metres), seconds, 5.0));
    let found = audit(&zones, &fixes, TrackSettings::default());
    let deepest_m = found.visits[0].deepest.unwrap().metres();
    // the middle of a square whose corners lie 42 m off is 42/√2 = 29.7 m from its sides
    assert!((29.69..30.3).contains(&deepest_m), "{deepest_m}");
}

/// What a dense sampling of the straight lines finds of one zone.
#[derive(Debug, Default)]
struct Sampled {
    certain_s: f64,
    possible_s: f64,
    span: Option<VisitSpan>,
    changes: u32,
}

/// A place on the way at each step, with the doubt that counts there: the greater of the two fixes', and so much more for
/// being possible.
fn sampled(boundary: &Boundary, fixes: &[LoggedFix], (step_s, more_m): (f64, f64)) -> Sampled {
    let mut found = Sampled::default();
    let mut last = (false, false);
    for pair in fixes.windows(2) {
        let line = inverse(pair[0].position, pair[1].position);
        let span_s = pair[1].time.unwrap().duration_since(pair[0].time.unwrap()).as_secs_f64();
        let radius_m = |fix: &LoggedFix| fix.uncertainty.unwrap().radius_95().metres();
        let doubt_m = radius_m(&pair[0]).max(radius_m(&pair[1]));
        let mut passed_s = step_s / 2.0;
        while passed_s < span_s {
            let place = direct(pair[0].position, line.azimuth_start_deg, line.distance_m * passed_s / span_s);
            let signed_m = boundary.locate(place).signed_distance.metres();
            let now = (signed_m < -doubt_m, signed_m <= doubt_m + more_m);
            found.certain_s += if now.0 { step_s } else { 0.0 };
            found.possible_s += if now.1 { step_s } else { 0.0 };
            found.changes += u32::from(now.0 != last.0) + u32::from(now.1 != last.1);
            last = now;
            if signed_m <= 0.0 {
                let passed = SignedDuration::try_from_secs_f64(passed_s).unwrap();
                let time = pair[0].time.unwrap().checked_add(passed).ok();
                let at = super::LoggedMoment { position: place, time, between: None };
                found.span.get_or_insert(VisitSpan::at(at)).include(at);
            }
            passed_s += step_s;
        }
    }
    found
}

/// A walk of legs of five seconds, three at least, that begins so many metres east of home.
fn walk(start_m: f64, turns: &[(f64, u32, f64)]) -> Vec<LoggedFix> {
    let mut here = east(start_m);
    let mut fixes = vec![fix(here, 0.0, 5.0)];
    for (bearing, legs, p95_m) in turns {
        for _ in 0..*legs {
            here = direct(here, *bearing, 10.0);
            let seconds = 5.0 * f64::from(u32::try_from(fixes.len()).unwrap());
            fixes.push(fix(here, seconds, *p95_m));
        }
    }
    fixes
}

fn sum(found: &Audit, seconds: impl Fn(&super::Visit) -> Option<f64>) -> f64 {
    found.visits.iter().map(|visit| seconds(visit).unwrap()).sum()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    /// Tracks that begin inside, end inside, slip out and back: certain and possible seconds are those of a dense sampling
    /// where the straight way is the way, no visit ends before it begins, and every place that was inside lies between the
    /// two. Of a trip that was made no more is certain, and more is possible: what lies 15.5 m farther off at most, half of
    /// the 5 s between two fixes at 12 kn.
    #[test]
    fn visits_are_what_a_dense_sampling_of_the_ways_finds(
        start_m in -80.0..380.0_f64,
        turns in proptest::collection::vec((0.0..360.0_f64, 1_u32..25, 1.0..20.0_f64), 2..12),
    ) {
        let strip_zone = zone("strip", strip(at(HOME.0, HOME.1), 300.0), None);
        let zones = ZoneSet::new(vec![strip_zone]);
        let fixes = walk(start_m, &turns);
        let plan = audit(&zones, &fixes, TrackSettings { is_plan: true, ..TrackSettings::default() });
        let found = audit(&zones, &fixes, TrackSettings::default());
        let boundary = zones.zones()[0].extent.area().unwrap();
        let by_sampling = sampled(boundary, &fixes, (0.05, 0.0));
        let with_strays = sampled(boundary, &fixes, (0.05, 15.5));
        let allowed_s = 0.05 * f64::from(by_sampling.changes + 2);
        let (certain_s, possible_s) = (sum(&plan, |visit| visit.certain_s), sum(&plan, |visit| visit.possible_s));
        prop_assert!((certain_s - by_sampling.certain_s).abs() <= allowed_s, "{certain_s} {by_sampling:?}");
        prop_assert!((possible_s - by_sampling.possible_s).abs() <= allowed_s, "{possible_s} {by_sampling:?}");
        prop_assert!(sum(&found, |visit| visit.certain_s) <= certain_s + 1e-6);
        let at_most_s = sum(&found, |visit| visit.possible_s);
        let most_s = with_strays.possible_s + 0.05 * f64::from(with_strays.changes + 2);
        // a reach is rounded outwards to 1/64 of a leg
        let rounded_s = 5.0 / 32.0 * f64::from(u32::try_from(fixes.len()).unwrap());
        prop_assert!(possible_s <= at_most_s + 1e-6 && at_most_s <= most_s + rounded_s, "{at_most_s} {with_strays:?}");
        if let Some(inside) = by_sampling.span {
            let first = found.visits.iter().map(|visit| visit.entered().time).min().unwrap();
            let last = found.visits.iter().map(|visit| visit.left().time).max().unwrap();
            prop_assert!(since_noon(first) <= since_noon(inside.entered().time) + 1e-3);
            prop_assert!(since_noon(last) >= since_noon(inside.left().time) - 1e-3);
        }
        for visit in &found.visits {
            prop_assert!(visit.entered().time <= visit.left().time);
            prop_assert!(visit.certain_s <= visit.possible_s);
        }
        for fix in &fixes {
            let inside = boundary.locate(fix.position).signed_distance.metres() < 0.0;
            let held = found.visits.iter().any(|visit| visit.entered().time <= fix.time && fix.time <= visit.left().time);
            prop_assert!(!inside || held, "{fix:?}");
        }
    }

    /// The nearest place of the whole way, found to 0.1 m however the boat turns.
    #[test]
    fn the_closest_approach_is_that_of_a_dense_sampling(
        start_m in -3_000.0..-900.0_f64,
        turns in proptest::collection::vec((0.0..360.0_f64, 1_u32..25, 1.0..20.0_f64), 2..12),
    ) {
        let zones = ZoneSet::new(vec![wide_strip()]);
        let fixes = walk(start_m, &turns);
        let found = audit(&zones, &fixes, TrackSettings::default());
        prop_assume!(found.visits.is_empty());
        let boundary = zones.zones()[0].extent.area().unwrap();
        let mut least_m = f64::INFINITY;
        for pair in fixes.windows(2) {
            let line = inverse(pair[0].position, pair[1].position);
            for step in 0..=100 {
                let place = direct(pair[0].position, line.azimuth_start_deg, line.distance_m * f64::from(step) / 100.0);
                least_m = least_m.min(boundary.locate(place).signed_distance.metres());
            }
        }
        let told_m = found.closest_approaches[0].signed_distance.metres();
        prop_assert!(told_m >= least_m - 1e-3 && told_m <= least_m + 0.1, "{told_m} {least_m}");
    }

    /// The deepest place of the whole way, found to 0.1 m between fixes too, wherever they lie on it.
    #[test]
    fn the_deepest_place_is_that_of_a_dense_sampling(
        from_m in -100.0..120.0_f64,
        legs in proptest::collection::vec((30.0..150.0_f64, 60.0..120.0_f64), 2..7),
    ) {
        let zones = ZoneSet::new(vec![zone("strip", strip(at(HOME.0, HOME.1), 300.0), None)]);
        let mut here = east(from_m);
        let mut fixes = vec![fix(here, 0.0, 5.0)];
        for (length_m, bearing) in legs {
            here = direct(here, bearing, length_m);
            let seconds = 30.0 * f64::from(u32::try_from(fixes.len()).unwrap());
            fixes.push(fix(here, seconds, 5.0));
        }
        // along the straight way: what the boat may have strayed to is another matter
        let settings = TrackSettings { is_plan: true, ..TrackSettings::default() };
        let found = audit(&zones, &fixes, settings);
        let boundary = zones.zones()[0].extent.area().unwrap();
        let mut deepest_m = f64::NEG_INFINITY;
        for pair in fixes.windows(2) {
            let line = inverse(pair[0].position, pair[1].position);
            for step in 0..=200 {
                let place = direct(pair[0].position, line.azimuth_start_deg, line.distance_m * f64::from(step) / 200.0);
                deepest_m = deepest_m.max(-boundary.locate(place).signed_distance.metres());
            }
        }
        prop_assume!(deepest_m > 20.0);
        let told_m = found.visits.iter().map(|visit| visit.deepest.unwrap().metres()).fold(f64::NEG_INFINITY, f64::max);
        // a step of the sampling is up to 0.75 m
        prop_assert!(told_m >= deepest_m - 0.1 && told_m <= deepest_m + 0.4, "{told_m} {deepest_m}");
    }

    /// With gaps at random, no visit ends before it begins, and nothing certain comes of a gap.
    #[test]
    fn gaps_at_random_make_no_visit_that_ends_before_it_begins(
        start_m in -200.0..400.0_f64,
        turns in proptest::collection::vec((0.0..360.0_f64, 1_u32..25, 1.0..20.0_f64), 2..12),
        gaps in proptest::collection::vec((0_usize..200, 31_i64..1_000), 1..5),
        top_kn in 4.0..20.0_f64,
    ) {
        let zones = ZoneSet::new(vec![zone("strip", strip(at(HOME.0, HOME.1), 300.0), None)]);
        let mut fixes = walk(start_m, &turns);
        let settings = TrackSettings::default().with_top_speed_kn(top_kn).unwrap();
        let without = audit(&zones, &fixes, settings);
        for (after, seconds) in gaps {
            let from = after % fixes.len() + 1;
            for fix in fixes.iter_mut().skip(from) {
                fix.time = fix.time.map(|time| time.checked_add(SignedDuration::from_secs(seconds)).unwrap());
            }
        }
        let found = audit(&zones, &fixes, settings);
        for visit in &found.visits {
            prop_assert!(visit.entered().time <= visit.left().time, "{:?}", visit.span);
            prop_assert!(visit.certain_s <= visit.possible_s);
        }
        // a gap takes nothing away from what was possible
        let possible = |found: &Audit| sum(found, |visit| visit.possible_s);
        prop_assert!(possible(&found) >= possible(&without) - 11.0 * 5.0);
        let certain = |found: &Audit| found.visits.iter().any(|visit| visit.certainty == Certainty::Certain);
        prop_assert!(without.visits.is_empty() || !found.visits.is_empty());
        prop_assert!(certain(&without) || !certain(&found));
    }
}

#[test]
fn far_off_behind_a_gap_a_visit_goes_on_for_as_long_as_the_boat_can_have_been_in_the_zone() {
    let zones = ZoneSet::new(vec![wide_strip()]);
    // 40 minutes at 12 kn and back are 7.4 km
    let fixes: Vec<LoggedFix> =
        (0..4).map(|number| fix(east(-3_000.0), f64::from(number) * 2_400.0, 5.0)).collect();
    let found = audit(&zones, &fixes, TrackSettings::default());
    assert_eq!((found.visits.len(), found.visits[0].certainty), (1, Certainty::Possible));
    assert_eq!(found.visits[0].gaps, 3);
    // one fix, and no visit
    let found = audit(&zones, &[fix(east(-15_000.0), 0.0, 5.0)], TrackSettings::default());
    let away_m = found.closest_approaches[0].signed_distance.metres();
    assert!(found.visits.is_empty() && (away_m - 15_000.0).abs() < 1.0, "{away_m}");
}

#[test]
fn a_track_of_one_fix_is_one_moment() {
    let zones = ZoneSet::new(vec![wide_strip()]);
    let found = audit(&zones, &[fix(east(100.0), 0.0, 5.0)], TrackSettings::default());
    let visit = &found.visits[0];
    assert_eq!((visit.certainty, visit.binds), (Certainty::Certain, Tristate::Yes));
    assert_eq!((visit.entered(), visit.certain_s), (visit.left(), Some(0.0)));
    assert_eq!(visit.entered().time, Some(noon(0.0)));
}
