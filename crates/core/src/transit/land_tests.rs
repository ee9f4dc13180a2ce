//! Lines, marks and positions against a coast laid out where plain arithmetic puts it.

use super::land::{afloat, over_land_m, problem_of_mark, problem_of_position};
use super::{Problem, ProblemCode, ProblemReason, RangeLine, Severity, Stretch, TransitQuestion};
use crate::coast::{Coast, CoastLine};
use crate::geodesic::direct;
use crate::landmark::Landmark;
use crate::zone::{Extent, ZoneSet};
use crate::{Boundary, EdgeModel, Metres, PartSpec, Position, RingSpec, Side, SideKind, Tristate};

/// A place so far east and north of a beach of Marrowick, by two geodesics.
fn at(east_m: f64, north_m: f64) -> Position {
    let start = Position::from_degrees(45.1167, -30.1167).unwrap();
    direct(direct(start, 0.0, north_m), 90.0, east_m)
}

/// Squares of land, each by its south-west and north-east corner, known to 10 m.
fn coast(squares: &[[(f64, f64); 2]]) -> Coast {
    let island = |[(west, south), (east, north)]: &[(f64, f64); 2]| {
        CoastLine::island(vec![at(*west, *south), at(*east, *south), at(*east, *north), at(*west, *north)])
    };
    Coast::from_lines(squares.iter().map(island).collect(), Metres::computed(10.0)).unwrap()
}

/// Land about the marks that ends 200 m before the front mark, and an islet across the line from 600 m to 700 m.
fn two_isles() -> Coast {
    coast(&[[(-500.0, -200.0), (500.0, 2_000.0)], [(-80.0, -700.0), (80.0, -600.0)]])
}

fn mark(name: &str, position: Position) -> Landmark {
    Landmark { position_error_95: Metres::computed(3.0), ..Landmark::at(name, position) }
}

/// Marks on the north–south axis, the observer to the south of both.
fn line() -> RangeLine {
    RangeLine::through(mark("front", at(0.0, 0.0)), mark("rear", at(0.0, 1_000.0))).unwrap()
}

fn stretch(near_m: f64, far_m: f64) -> Stretch {
    Stretch::new(Metres::computed(near_m), Metres::computed(far_m)).unwrap()
}

fn given(near_m: f64, far_m: f64) -> TransitQuestion {
    TransitQuestion::about(stretch(near_m, far_m))
}

fn not_given(near_m: f64, far_m: f64) -> TransitQuestion {
    TransitQuestion { leave_out_land: true, ..given(near_m, far_m) }
}

/// A reserve across the line from 300 m to 500 m, its north side so.
fn zones(north: SideKind, coasts: Vec<Coast>) -> ZoneSet {
    let vertices = vec![at(-400.0, -500.0), at(400.0, -500.0), at(400.0, -300.0), at(-400.0, -300.0)];
    let mut sides = vec![Side::default(); 4];
    sides[2] = north.into();
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; 4], sides };
    let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    let file = br#"{ "type": "FeatureCollection",
      "takeline": { "format": "takeline.zones/1", "title": "Test", "edition": "1", "datum": "WGS 84",
                    "time_zone": "UTC", "taxa": [], "groups": [] },
      "features": [ { "type": "Feature", "id": "reserve",
        "geometry": { "type": "Polygon", "coordinates": [[[-30.12, 45.1], [-30.11, 45.1], [-30.11, 45.11], [-30.12, 45.1]]] },
        "properties": { "name": "Reserve", "edges": "geodesic", "take": "none",
                        "source": { "instrument": "Marrowick Waters Order" } } } ] }"#;
    let mut zone = crate::zone_file::read("test.json", file).unwrap().zones.remove(0);
    zone.extent = Extent::Known(boundary);
    ZoneSet::new(vec![zone]).with_coasts(coasts)
}

fn about_land(problems: &[Problem]) -> Vec<&Problem> {
    problems.iter().filter(|problem| problem.code() == ProblemCode::LineOverLand).collect()
}

#[test]
fn land_is_told_where_the_coast_is_sure_of_it() {
    // the coast is known to 10 m, so it is sure of what lies 10 m within
    let parts = over_land_m(&line(), stretch(50.0, 2_000.0), &[two_isles()]);
    let expected = [[50.0, 190.0], [610.0, 690.0]];
    assert_eq!(parts.len(), 2, "{parts:?}");
    for (part, expected) in parts.iter().flatten().zip(expected.iter().flatten()) {
        assert!((part - expected).abs() < 1.1, "{parts:?}");
    }
    assert!(over_land_m(&line(), stretch(200.0, 600.0), &[two_isles()]).is_empty());
    assert!(over_land_m(&line(), stretch(50.0, 2_000.0), &[]).is_empty());
}

#[test]
fn each_look_agrees_with_the_coast_itself() {
    let coast = two_isles();
    let parts = over_land_m(&line(), stretch(1.0, 1_000.0), std::slice::from_ref(&coast));
    for step in 2..1_000 {
        let away_m = f64::from(step);
        let is_told = parts.iter().any(|[from_m, to_m]| (*from_m..*to_m).contains(&away_m));
        let is_near_an_end = parts.iter().flatten().any(|end_m| (end_m - away_m).abs() < 2.0);
        let is_land = coast.is_on_land(line().at(Metres::computed(away_m))) == Tristate::Yes;
        assert!(is_near_an_end || is_told == is_land, "at {away_m} m");
    }
}

#[test]
fn a_stretch_that_was_given_holds_and_its_land_is_told() {
    let report = line().check(&zones(SideKind::Open, vec![two_isles()]), &given(50.0, 2_000.0));
    assert_eq!(report.question.stretch, stretch(50.0, 2_000.0));
    let [problem] = about_land(&report.problems)[..] else { panic!("{:?}", report.problems) };
    let ProblemReason::OverLandInPart { parts_m } = &problem.reason else { panic!("{problem:?}") };
    assert_eq!((problem.severity, parts_m.len()), (Severity::Warning, 2));
    // a pair that leads through the zone is not clear, with a coast or without
    assert_eq!(report.clears, Tristate::No);
}

#[test]
fn a_stretch_that_nobody_gave_begins_at_the_water() {
    let report = line().check(&zones(SideKind::Open, vec![two_isles()]), &not_given(50.0, 650.0));
    let (near_m, far_m) = (report.question.stretch.near().metres(), report.question.stretch.far().metres());
    assert!((near_m - 190.0).abs() < 1.1 && (far_m - 610.0).abs() < 1.1, "{near_m} to {far_m}");
    let [problem] = about_land(&report.problems)[..] else { panic!("{:?}", report.problems) };
    assert_eq!(problem.severity, Severity::Note);
    assert!(matches!(&problem.reason, ProblemReason::LandLeftOut { parts_m } if parts_m.len() == 2));
    assert_eq!(report.clears, Tristate::No, "the zone lies in the water that is left");
}

#[test]
fn land_in_between_stays_part_of_the_stretch() {
    // the islet covers most of the zone that the line meets; the zone counts as a whole
    let islet = coast(&[[(-80.0, -520.0), (80.0, -280.0)]]);
    let report = line().check(&zones(SideKind::Open, vec![islet]), &not_given(50.0, 2_000.0));
    assert_eq!((report.clears, report.question.stretch), (Tristate::No, stretch(50.0, 2_000.0)));
    assert_eq!(about_land(&report.problems)[0].severity, Severity::Warning);
}

#[test]
fn where_all_is_land_nothing_is_clear() {
    let isle = coast(&[[(-500.0, -5_000.0), (500.0, 2_000.0)]]);
    for question in [given(600.0, 2_000.0), not_given(600.0, 2_000.0)] {
        let with = |coasts| line().check(&zones(SideKind::Open, coasts), &question);
        assert_eq!(with(Vec::new()).clears, Tristate::Yes);
        let report = with(vec![isle.clone()]);
        assert_eq!(report.clears, Tristate::Undecided);
        assert!(report.problems[0].reason == ProblemReason::OverLand, "{:?}", report.problems);
    }
}

#[test]
fn only_what_is_surely_land_is_left_out() {
    // 10 m of doubt: a spit 15 m wide is sure nowhere
    let spit = coast(&[[(-500.0, -65.0), (500.0, -50.0)]]);
    let report = line().check(&zones(SideKind::Open, vec![spit]), &not_given(55.0, 2_000.0));
    assert_eq!(report.question.stretch, stretch(55.0, 2_000.0));
    assert!(about_land(&report.problems).is_empty());
    let whole = stretch(1.0, 9.0);
    assert_eq!(afloat(whole, &[[1.0, 9.0]]), (whole, Vec::new()));
}

#[test]
fn a_shore_that_the_line_comes_over_is_told_and_changes_no_answer() {
    let report = |north| line().check(&zones(north, vec![]), &given(50.0, 450.0));
    let (open, shore) = (report(SideKind::Open), report(SideKind::Shore));
    assert_eq!((open.clears, shore.clears), (Tristate::No, Tristate::No));
    let (open, shore) = (&open.zones[0], &shore.zones[0]);
    assert_eq!((open.meetings[0].side, shore.meetings[0].side), (SideKind::Open, SideKind::Shore));
    let (near_open, near_shore) = (open.near.unwrap(), shore.near.unwrap());
    assert_eq!((near_open.nearest_side, near_shore.nearest_side), (SideKind::Open, SideKind::Shore));
    assert!((near_open.margin().metres() - near_shore.margin().metres()).abs() < 1e-9);
}

#[test]
fn marks_in_the_water_are_told_unless_they_belong_there() {
    let isles = [two_isles()];
    let told = |position: Position, kind: Option<&str>| {
        let mark = Landmark { kind: kind.map(str::to_owned), ..mark("pine", position) };
        problem_of_mark(&mark, &isles).map(|problem| problem.reason)
    };
    let sea = at(0.0, -450.0);
    let found = told(sea, Some("tree"));
    let Some(ProblemReason::MarkInWater { mark: name, distance_m }) = found else { panic!("{found:?}") };
    // 150 m to the islet, 250 m to the isle
    assert!(name == "pine" && (distance_m - 150.0).abs() < 0.5, "{distance_m}");
    assert!(told(sea, None).is_some());
    for kind in ["withy", "Skerry", "buoy", "port-hand buoy"] {
        assert_eq!(told(sea, Some(kind)), None, "{kind}");
    }
    assert_eq!(told(at(0.0, 500.0), Some("tree")), None);
    assert_eq!(told(at(0.0, -205.0), Some("tree")), None, "5 m off a coast that is known to 10 m");
    let pine = mark("pine", sea);
    assert_eq!(problem_of_mark(&pine, &[]), None);
    // what one coast does not draw another may
    let other = coast(&[[(-50.0, -500.0), (50.0, -400.0)]]);
    let [isles] = isles;
    assert_eq!(problem_of_mark(&pine, &[isles, other]), None);
}

#[test]
fn a_position_is_on_land_only_where_that_is_sure() {
    let isles = [two_isles()];
    let told = |north_m, radius_m| {
        problem_of_position(at(0.0, north_m), Metres::computed(radius_m), &isles)
            .map(|problem| problem.reason)
    };
    let found = told(100.0, 100.0);
    let Some(ProblemReason::PositionOnLand { distance_m }) = found else { panic!("{found:?}") };
    assert!((distance_m - 300.0).abs() < 0.5, "{distance_m}");
    assert_eq!(told(100.0, 400.0), None);
    assert_eq!(told(-400.0, 10.0), None);
}
