use std::sync::Arc;

use approx::assert_abs_diff_eq;

use super::super::assess_tests::{at, fix, polygon, square, zone};
use super::super::{Remedy, Warning};
use super::{NoWayOut, OverLand};
use crate::coast::{Coast, CoastLine};
use crate::geodesic::{direct, inverse};
use crate::rule::{
    Access, Catalogue, Limits, Passage, Permit, Take, TakeRule, Taxon, TaxonId, TaxonSet, When,
};
use crate::zone::{Extent, Override, Zone, ZoneFile, ZoneId, ZoneSet};
use crate::{
    Boundary, Containment, EdgeModel, Fix, Metres, PartSpec, Position, Question, RingSpec, Side, SideKind,
    Tristate, TrueBearing, WaterStatus,
};

/// What a place has to be clear by beyond the doubt, in metres.
const SPARE_M: f64 = 0.05;

/// A corner with a square of 1 km to its north and east, as [`square`] draws it.
fn corner() -> Position {
    at(45.0, -30.0)
}

fn known(id: &str, corners: &[Position]) -> Zone {
    zone(id, Extent::Known(polygon(corners, EdgeModel::Geodesic)))
}

/// A rectangle from a corner: so far east and so far north.
fn box_of(corner: Position, (east_m, north_m): (f64, f64)) -> Vec<Position> {
    let east = direct(corner, 90.0, east_m);
    vec![corner, east, direct(east, 0.0, north_m), direct(corner, 0.0, north_m)]
}

fn within(corner: Position, (east_m, north_m): (f64, f64)) -> Position {
    direct(direct(corner, 90.0, east_m), 0.0, north_m)
}

fn asking() -> Question {
    Question::default().finding_the_way_out()
}

fn circle(id: &str, centre: Position, radius_m: f64) -> Zone {
    let radius = Metres::computed(radius_m);
    zone(id, Extent::Known(Boundary::build(&[PartSpec::Circle { centre, radius }]).unwrap()))
}

#[test]
fn out_of_a_square_the_way_leads_over_its_nearest_side_by_the_doubt() {
    let zones = ZoneSet::new(vec![known("one", &square(corner(), 1000.0))]);
    let here = fix(within(corner(), (200.0, 500.0)), 10.0);
    let answer = zones.assess(&here, &asking().at_speed_kn(3.0).unwrap());
    let way = answer.way_out.unwrap();
    assert_abs_diff_eq!(way.distance.metres(), 210.0 + SPARE_M, epsilon = 0.02);
    assert_abs_diff_eq!(way.bearing.degrees(), 270.0, epsilon = 0.5);
    assert_abs_diff_eq!(way.uncertainty_95.metres(), 10.0, epsilon = 1e-9);
    assert_eq!((way.leaves, way.over_land), (vec![ZoneId("one".into())], OverLand::Unknown));
    assert_eq!((way.pocket, way.tie, way.none_nearer_than), (false, None, None));
    // 3 kn are 5556 m an hour
    assert_abs_diff_eq!(way.seconds.unwrap(), way.distance.metres() * 3600.0 / 5556.0, epsilon = 1e-9);
}

#[test]
fn beside_another_reserve_the_way_leads_to_open_water_and_not_into_the_neighbour() {
    let west = known("west", &box_of(corner(), (1000.0, 1000.0)));
    let east = known("east", &box_of(within(corner(), (1000.0, 0.0)), (1000.0, 1000.0)));
    let zones = ZoneSet::new(vec![west, east]);
    let here = fix(within(corner(), (980.0, 300.0)), 5.0);
    let way = zones.assess(&here, &asking()).way_out.unwrap();
    assert_abs_diff_eq!(way.bearing.degrees(), 180.0, epsilon = 1.0);
    assert_abs_diff_eq!(way.distance.metres(), 305.0 + SPARE_M, epsilon = 0.05);
}

#[test]
fn a_slit_that_is_narrower_than_the_doubt_is_no_way_out() {
    let way_by = |slit_m: f64| {
        let west = known("west", &box_of(corner(), (1000.0, 1000.0)));
        let east = known("east", &box_of(within(corner(), (1000.0 + slit_m, 0.0)), (1000.0, 1000.0)));
        let here = fix(within(corner(), (950.0, 400.0)), 5.0);
        ZoneSet::new(vec![west, east]).assess(&here, &asking()).way_out.unwrap().distance.metres()
    };
    assert_abs_diff_eq!(way_by(0.001), 405.0 + SPARE_M, epsilon = 0.1);
    assert_abs_diff_eq!(way_by(9.9), 405.0 + SPARE_M, epsilon = 0.1);
    assert_abs_diff_eq!(way_by(11.0), 55.0 + SPARE_M, epsilon = 0.1);
}

#[test]
fn where_two_ways_are_as_short_the_other_is_told_too() {
    let here = fix(within(corner(), (500.0, 100.0)), 5.0);
    let canal = known("canal", &box_of(corner(), (1000.0, 200.0)));
    let way = ZoneSet::new(vec![canal]).assess(&here, &asking()).way_out.unwrap();
    let tie = way.tie.unwrap();
    assert_abs_diff_eq!(way.distance.metres(), 105.0 + SPARE_M, epsilon = 0.05);
    assert_abs_diff_eq!(tie.distance.metres(), 105.0 + SPARE_M, epsilon = 0.05);
    let apart_deg = (way.bearing.degrees() - tie.bearing.degrees()).abs();
    assert_abs_diff_eq!(apart_deg, 180.0, epsilon = 2.0);
    // at its centre a circle is as far on every bearing
    let disc = ZoneSet::new(vec![circle("disc", corner(), 300.0)]);
    let way = disc.assess(&fix(corner(), 5.0), &asking()).way_out.unwrap();
    assert_abs_diff_eq!(way.distance.metres(), 305.0 + SPARE_M, epsilon = 0.5);
    assert!(way.tie.is_some());
}

/// A square of 2 km with a hole of 100 m in its middle.
fn with_a_hole() -> Zone {
    let ring = |vertices: Vec<Position>| RingSpec {
        edges: vec![EdgeModel::Geodesic; vertices.len()],
        vertices,
        sides: Vec::new(),
    };
    let part = PartSpec::Polygon {
        exterior: ring(box_of(corner(), (2000.0, 2000.0))),
        holes: vec![ring(box_of(within(corner(), (950.0, 950.0)), (100.0, 100.0)))],
    };
    zone("holed", Extent::Known(Boundary::build(&[part]).unwrap()))
}

#[test]
fn a_way_that_ends_in_a_hole_says_so() {
    let zones = ZoneSet::new(vec![with_a_hole()]);
    let way_from = |east_m: f64, doubt_m: f64| {
        let here = fix(within(corner(), (east_m, 1000.0)), doubt_m);
        zones.assess(&here, &asking()).way_out.unwrap()
    };
    let into_the_hole = way_from(900.0, 5.0);
    assert!(into_the_hole.pocket);
    assert_abs_diff_eq!(into_the_hole.distance.metres(), 55.0 + SPARE_M, epsilon = 0.05);
    assert_abs_diff_eq!(into_the_hole.bearing.degrees(), 90.0, epsilon = 1.0);
    assert!(!way_from(100.0, 5.0).pocket);
    // a hole that the doubt fills is no way out
    let past_the_hole = way_from(900.0, 60.0);
    assert!(!past_the_hole.pocket);
    assert_abs_diff_eq!(past_the_hole.distance.metres(), 960.0 + SPARE_M, epsilon = 0.2);
}

#[test]
fn a_fix_on_the_line_leaves_by_the_doubt() {
    let zones = ZoneSet::new(vec![known("one", &square(corner(), 1000.0))]);
    let here = fix(within(corner(), (500.0, 0.0)), 10.0);
    let answer = zones.assess(&here, &asking());
    assert_eq!(answer.water, WaterStatus::Undecided);
    let way = answer.way_out.unwrap();
    assert_abs_diff_eq!(way.distance.metres(), 10.0 + SPARE_M, epsilon = 0.05);
    let there = Fix { position: way.to, ..here };
    assert_eq!(zones.assess(&there, &asking()).water, WaterStatus::Unzoned);
}

#[test]
fn outside_of_all_zones_there_is_nothing_to_leave() {
    let zones = ZoneSet::new(vec![known("one", &square(corner(), 1000.0))]);
    let answer = zones.assess(&fix(within(corner(), (-200.0, 500.0)), 10.0), &asking());
    assert_eq!((answer.way_out, answer.no_way_out), (None, None));
}

#[test]
fn a_lane_whose_rule_displaces_the_reserve_is_a_way_out_of_it() {
    let reserve = known("reserve", &box_of(corner(), (2000.0, 2000.0)));
    let mut lane = known("lane", &box_of(within(corner(), (1000.0, 500.0)), (100.0, 1000.0)));
    lane.rule = TakeRule::from(Take::Anything);
    lane.overrides = vec![Override { zone: ZoneId("reserve".into()), clause: "clause 6".into() }];
    let here = fix(within(corner(), (900.0, 1000.0)), 5.0);
    let zones = ZoneSet::new(vec![reserve, lane]);
    let way = zones.assess(&here, &asking()).way_out.unwrap();
    // surely inside the lane
    assert_abs_diff_eq!(way.distance.metres(), 105.0 + SPARE_M, epsilon = 0.05);
    let there = Fix { position: way.to, ..here };
    assert_eq!(zones.assess(&there, &asking()).water, WaterStatus::Unzoned);
}

#[test]
fn what_lies_nobody_knows_where_cannot_be_left() {
    let nowhere = zone("plan", Extent::Unknown { somewhere_in: None, reason: "plan missing".into() });
    let name = nowhere.name.clone();
    let zones = ZoneSet::new(vec![known("one", &square(corner(), 1000.0)), nowhere]);
    let answer = zones.assess(&fix(within(corner(), (200.0, 500.0)), 10.0), &asking());
    assert_eq!((answer.way_out, answer.no_way_out), (None, Some(NoWayOut::PlaceUnknown { zone: name })));
}

#[test]
fn what_lies_nobody_knows_where_is_left_only_where_another_rule_displaces_it() {
    let mut nowhere = zone("plan", Extent::Unknown { somewhere_in: None, reason: "plan missing".into() });
    nowhere.rule = TakeRule::from(Take::Nothing);
    let mut lane = known("lane", &box_of(within(corner(), (1000.0, 0.0)), (500.0, 1000.0)));
    lane.rule = TakeRule::from(Take::Anything);
    lane.overrides = vec![Override { zone: ZoneId("plan".into()), clause: "clause 6".into() }];
    let here = fix(within(corner(), (800.0, 500.0)), 5.0);
    let way = ZoneSet::new(vec![nowhere.clone(), lane.clone()]).assess(&here, &asking()).way_out.unwrap();
    assert_abs_diff_eq!(way.distance.metres(), 205.0 + SPARE_M, epsilon = 0.1);
    // where the lane's own rule is displaced in turn, there is no such place, and the search ends
    let mut above = known("above", &box_of(corner(), (3000.0, 3000.0)));
    above.overrides = vec![Override { zone: ZoneId("lane".into()), clause: "clause 7".into() }];
    let answer = ZoneSet::new(vec![nowhere, lane, above]).assess(&here, &asking());
    assert!(matches!(answer.no_way_out, Some(NoWayOut::PlaceUnknown { .. })), "{:?}", answer.way_out);
}

#[test]
fn along_the_bow_lie_the_line_the_neighbour_and_the_clear_water() {
    let west = known("west", &box_of(corner(), (1000.0, 1000.0)));
    let east = known("east", &box_of(within(corner(), (1000.0, 0.0)), (500.0, 1000.0)));
    let zones = ZoneSet::new(vec![west, east]);
    let here = fix(within(corner(), (800.0, 500.0)), 5.0);
    let ahead = |bearing_deg: f64| {
        let question = Question::default().on_heading(TrueBearing::wrapping(bearing_deg));
        zones.assess(&here, &question).on_heading.unwrap()
    };
    let eastward = ahead(90.0);
    // 500 m farther north meridians are nearer to each other by 8e-5: 0.06 m of 700 m
    assert_abs_diff_eq!(eastward.boundary.unwrap().metres(), 200.0, epsilon = 0.03);
    assert_abs_diff_eq!(eastward.clear.unwrap().metres(), 705.0 + SPARE_M, epsilon = 0.07);
    assert_eq!(eastward.crosses, [ZoneId("east".into())]);
    assert_eq!(eastward.boundary_of, Some(ZoneId("west".into())));
    let westward = ahead(270.0);
    assert_abs_diff_eq!(westward.clear.unwrap().metres(), 805.0 + SPARE_M, epsilon = 0.07);
    assert_eq!((westward.crosses, westward.land), (vec![], None));
    // from outside the line ahead is that of the zone one comes into
    let question = Question::default().on_heading(TrueBearing::wrapping(90.0));
    let outside = zones.assess(&fix(within(corner(), (-300.0, 500.0)), 5.0), &question).on_heading.unwrap();
    assert_abs_diff_eq!(outside.boundary.unwrap().metres(), 300.0, epsilon = 0.03);
    assert_eq!(outside.boundary_of, Some(ZoneId("west".into())));
    assert_abs_diff_eq!(outside.clear.unwrap().metres(), 0.0, epsilon = 1e-9);
}

#[test]
fn a_zone_of_half_a_metre_on_the_bow_is_not_stepped_over() {
    let thin = known("thin", &box_of(within(corner(), (3000.0, 0.0)), (0.5, 1000.0)));
    let zones = ZoneSet::new(vec![thin]);
    let question = Question::default().on_heading(TrueBearing::wrapping(90.0));
    let ahead = zones.assess(&fix(within(corner(), (0.0, 500.0)), 5.0), &question).on_heading.unwrap();
    assert_abs_diff_eq!(ahead.boundary.unwrap().metres(), 3000.0, epsilon = 0.5);
}

#[test]
fn the_way_home_tells_what_it_crosses_and_how_one_may() {
    let mut reserve = known("reserve", &box_of(within(corner(), (500.0, 0.0)), (1000.0, 1000.0)));
    reserve.rule.passage = Some(Passage {
        allowed: Tristate::Yes,
        gear_state: None,
        continuous: true,
        min_speed_kn: None,
        max_stop_min: None,
        anchoring: Tristate::Undecided,
        conditions: Vec::new(),
        clause: None,
    });
    let home = within(corner(), (2000.0, 500.0));
    let here = fix(within(corner(), (0.0, 500.0)), 5.0);
    let question = Question::default().going_home(home).at_speed_kn(2.0).unwrap();
    let way = ZoneSet::new(vec![reserve]).assess(&here, &question).way_home.unwrap();
    assert_abs_diff_eq!(way.distance.metres(), inverse(here.position, home).distance_m, epsilon = 1e-6);
    assert_eq!(way.crosses.len(), 1);
    // meridians meet, 500 m farther north by 8e-5
    assert_abs_diff_eq!(way.crosses[0].from.metres(), 500.0, epsilon = 0.05);
    assert_abs_diff_eq!(way.crosses[0].to.metres(), 1500.0, epsilon = 0.13);
    assert_eq!(way.crosses[0].binds, Tristate::Yes);
    assert!(!way.crosses[0].passage.is_empty());
    assert!(way.seconds.is_some() && way.land.is_none());
}

/// Water where sprat may be kept and nothing else.
fn only_sprat(mut zone: Zone) -> Zone {
    let taxon = |name: &str| Taxon::named(name, &format!("Species {name}"), &[name]);
    let catalogue = Catalogue { taxa: ["sprat", "cod"].map(taxon).to_vec(), groups: Vec::new() };
    zone.file = Arc::new(ZoneFile { catalogue, ..ZoneFile::default() });
    let sprat = TaxonSet { taxa: vec![TaxonId("sprat".into())], ..TaxonSet::default() };
    let permit = Permit { taxa: Some(sprat), when: When::Always, limits: Limits::default(), clause: None };
    zone.rule.take = Take::Only(vec![permit]);
    zone
}

#[test]
fn the_way_to_keep_a_fish_leads_through_water_that_is_limited_to_others() {
    let sanctuary = known("sanctuary", &box_of(corner(), (1000.0, 1000.0)));
    let about = only_sprat(known("about", &box_of(within(corner(), (-1000.0, 0.0)), (1000.0, 1000.0))));
    let file = about.file.clone();
    let zones = ZoneSet::new(vec![Zone { file, ..sanctuary }, about]);
    let here = fix(within(corner(), (200.0, 500.0)), 5.0);
    let answer = zones.assess(&here, &asking().fish("sprat").fish("cod"));
    let out = answer.way_out.unwrap();
    assert_abs_diff_eq!(out.distance.metres(), 505.0 + SPARE_M, epsilon = 0.05);
    let to_keep = |at: usize| answer.take[at].way_to_keep.as_ref().unwrap();
    assert_abs_diff_eq!(to_keep(0).distance.metres(), 205.0 + SPARE_M, epsilon = 0.05);
    assert_eq!(to_keep(0).leaves, [ZoneId("sanctuary".into())]);
    assert_abs_diff_eq!(to_keep(1).distance.metres(), 505.0 + SPARE_M, epsilon = 0.05);
}

/// A reserve of 1 km before a beach that is its east side.
fn before_a_beach() -> Zone {
    let vertices = box_of(corner(), (1000.0, 1000.0));
    let kinds = [SideKind::Open, SideKind::Shore, SideKind::Open, SideKind::Open];
    let exterior = RingSpec {
        edges: vec![EdgeModel::Geodesic; 4],
        sides: kinds.into_iter().map(Side::from).collect(),
        vertices,
    };
    let part = PartSpec::Polygon { exterior, holes: vec![] };
    zone("cove", Extent::Known(Boundary::build(&[part]).unwrap()))
}

#[test]
fn off_the_beach_the_way_out_leads_out_to_sea_and_not_up_the_beach() {
    let zones = ZoneSet::new(vec![before_a_beach()]);
    let way_from =
        |east_m: f64| zones.assess(&fix(within(corner(), (east_m, 400.0)), 5.0), &asking()).way_out;
    // 42 m off the beach and before the water's edge; from 3 m up the sand the way comes off the land within the doubt of 5 m, so on
    // the long side of the triangle of 3, 4 and 5
    let slant_deg = 0.6_f64.asin().to_degrees();
    for (east_m, off_south_deg) in [(958.0, 0.0), (999.0, 0.0), (1003.0, slant_deg)] {
        let way = way_from(east_m).unwrap();
        assert_abs_diff_eq!(way.bearing.degrees(), 180.0 + off_south_deg, epsilon = 1.0);
        let across_m = way.distance.metres() * off_south_deg.to_radians().cos();
        assert_abs_diff_eq!(across_m, 405.0 + SPARE_M, epsilon = 1.0);
        assert_eq!(way.over_land, OverLand::Unknown);
    }
    // where the shore is near, the bow meets it
    let question = Question::default().on_heading(TrueBearing::wrapping(90.0));
    let ahead = zones.assess(&fix(within(corner(), (900.0, 400.0)), 5.0), &question).on_heading.unwrap();
    assert_abs_diff_eq!(ahead.land.unwrap().metres(), 100.0, epsilon = 0.1);
    assert_eq!((ahead.clear, ahead.over_land), (None, OverLand::Yes));
}

/// A closed line of an isle, land on its left: so many metres east and north.
fn isle(corner: Position, size: (f64, f64)) -> Coast {
    let isle = CoastLine::island(box_of(corner, size));
    Coast::from_lines(vec![isle], Metres::computed(0.0)).unwrap()
}

#[test]
fn an_isle_in_the_way_is_gone_past_or_another_way_is_told() {
    let reserve = known("reserve", &box_of(corner(), (1000.0, 1000.0)));
    let here = fix(within(corner(), (200.0, 500.0)), 5.0);
    // a wall of an isle along the west side, 300 m north and south of the boat
    let coast = isle(within(corner(), (50.0, 200.0)), (50.0, 600.0));
    let zones = ZoneSet::new(vec![reserve]);
    assert_eq!(zones.assess(&here, &asking()).way_out.unwrap().over_land, OverLand::Unknown);
    let zones = zones.with_coasts(vec![coast]);
    let way = zones.assess(&here, &asking()).way_out.unwrap();
    assert_eq!(way.over_land, OverLand::No);
    // past the corner of the isle at 100 m east and 800 m north; or south
    let turned_deg = (way.bearing.degrees() - 270.0).abs();
    assert!(turned_deg > 71.0 && way.distance.metres() > 505.0, "{way:?}");
    assert!(way.tie.is_some());
    let inland = fix(within(corner(), (75.0, 500.0)), 5.0);
    assert_eq!(zones.assess(&inland, &asking()).no_way_out, Some(NoWayOut::OnLand));
    let home = Question::default().going_home(within(corner(), (-100.0, 500.0)));
    let way_home = zones.assess(&here, &home).way_home.unwrap();
    assert_abs_diff_eq!(way_home.land.unwrap().metres(), 100.0, epsilon = 0.05);
    assert_eq!(way_home.over_land, OverLand::Yes);
}

#[test]
fn in_a_lagoon_no_straight_way_keeps_off_the_land() {
    let reserve = known("reserve", &box_of(corner(), (1000.0, 1000.0)));
    let walls = [
        box_of(within(corner(), (300.0, 300.0)), (400.0, 20.0)),
        box_of(within(corner(), (300.0, 680.0)), (400.0, 20.0)),
        box_of(within(corner(), (300.0, 310.0)), (20.0, 380.0)),
        box_of(within(corner(), (680.0, 310.0)), (20.0, 380.0)),
    ];
    let lines = walls.into_iter().map(CoastLine::island).collect();
    let coast = Coast::from_lines(lines, Metres::computed(0.0)).unwrap();
    let zones = ZoneSet::new(vec![reserve]).with_coasts(vec![coast]);
    let answer = zones.assess(&fix(within(corner(), (500.0, 500.0)), 5.0), &asking());
    assert!(matches!(answer.no_way_out, Some(NoWayOut::NoStraightWay { .. })), "{:?}", answer.way_out);
}

#[test]
fn a_speed_that_cannot_be_is_refused() {
    for knots in [0.0, -1.0, f64::NAN, f64::INFINITY] {
        assert!(Question::default().at_speed_kn(knots).is_err());
    }
}

#[test]
fn in_a_water_that_is_shore_all_round_land_is_the_reason_without_a_coast_too() {
    let shore = || Side::from(SideKind::Shore);
    let vertices = box_of(corner(), (1000.0, 1000.0));
    let sides = vec![shore(), shore(), shore(), shore()];
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; 4], sides };
    let lagoon = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    let zones = ZoneSet::new(vec![zone("lagoon", Extent::Known(lagoon))]);
    let answer = zones.assess(&fix(within(corner(), (500.0, 500.0)), 5.0), &asking());
    assert_eq!(answer.way_out, None);
    assert!(matches!(answer.no_way_out, Some(NoWayOut::NoStraightWay { .. })), "{:?}", answer.no_way_out);
}

#[test]
fn from_a_place_that_was_likely_not_meant_nothing_is_told_of_ways() {
    let question = Question::default().on_heading(TrueBearing::wrapping(90.0)).going_home(corner());
    let nothing_loaded = ZoneSet::new(vec![]).assess(&fix(corner(), 5.0), &question);
    assert_eq!((nothing_loaded.on_heading, nothing_loaded.way_home), (None, None));
    let zones = ZoneSet::new(vec![known("one", &square(corner(), 1000.0))]);
    let mirrored = at(corner().latitude().degrees(), -corner().longitude().degrees());
    let misread = zones.assess(&fix(mirrored, 5.0), &question);
    assert!(misread.misreading.is_some());
    assert_eq!((misread.on_heading, misread.way_home), (None, None));
    assert!(zones.assess(&fix(corner(), 5.0), &question).on_heading.is_some());
}

#[test]
fn a_side_that_nobody_supplied_far_away_does_not_stand_in_the_way_of_a_move() {
    let one = known("one", &box_of(corner(), (200.0, 200.0)));
    // 300 m to the north; its far side, 4 km off and 8 km long, is unresolved
    let vertices = box_of(within(corner(), (-4000.0, 500.0)), (8000.0, 4500.0));
    let kinds = [SideKind::Open, SideKind::Open, SideKind::Unresolved, SideKind::Open];
    let sides = kinds.into_iter().map(Side::from).collect();
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; 4], sides };
    let north = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    let zones = ZoneSet::new(vec![one, zone("north", Extent::Known(north))]);
    let answer = zones.assess(&fix(within(corner(), (100.0, -2.0)), 5.0), &Question::default());
    assert!(answer.settling_move.is_some(), "{:?}", answer.water_because);
}

/// Found by trying: beside a side that may be off by 389 m, with no other near, it was "undecided" and "more than 99 %" inside.
#[test]
fn what_a_side_may_be_off_counts_in_the_chance_of_being_inside() {
    let sides = vec![SideKind::Unresolved.into(), Side::default(), Side::default(), Side::default()];
    let vertices = box_of(corner(), (778.0, 3000.0));
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; 4], sides };
    let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    let zones = ZoneSet::new(vec![zone("strand", Extent::Known(boundary))]);
    let answer = zones.assess(&fix(within(corner(), (389.0, 130.0)), 10.0), &asking());
    let chance = answer.zones[0].inside_probability.unwrap();
    assert_eq!(answer.zones[0].containment, Containment::Undecided);
    assert!((0.3..0.7).contains(&chance), "{chance}");
}

/// A square of 1 km whose east side follows a coast that nobody has supplied, so that it may be off by 500 m.
fn along_a_missing_coast() -> Zone {
    let unresolved = Side { level: Some("mean high water".into()), ..SideKind::Unresolved.into() };
    let sides = vec![Side::default(), unresolved, Side::default(), Side::default()];
    let vertices = box_of(corner(), (1000.0, 1000.0));
    let exterior = RingSpec { vertices, edges: vec![EdgeModel::Geodesic; 4], sides };
    let boundary = Boundary::build(&[PartSpec::Polygon { exterior, holes: vec![] }]).unwrap();
    zone("strand", Extent::Known(boundary))
}

#[test]
fn beside_a_side_that_nobody_supplied_the_move_that_settles_it_is_the_way_out() {
    let zones = ZoneSet::new(vec![along_a_missing_coast()]);
    // also where another side is the nearest: 100 m off the south side and 400 m off the coast
    for (east_m, north_m) in [(900.0, 450.0), (700.0, 400.0), (600.0, 100.0)] {
        let here = fix(within(corner(), (east_m, north_m)), 5.0);
        let answer = zones.assess(&here, &asking());
        assert_eq!(answer.water, WaterStatus::Undecided);
        let (way, settling) = (answer.way_out.unwrap(), answer.settling_move.unwrap());
        assert_eq!((settling.distance, settling.bearing, settling.to), (way.distance, way.bearing, way.to));
        assert_eq!(settling.water_there, WaterStatus::Unzoned);
        let moves = answer.settle.iter().filter(|one| matches!(one, Remedy::Move { .. }));
        assert_eq!((moves.count(), answer.settle.first()), (1, Some(&Remedy::from(settling))));
        let there = zones.assess(&Fix { position: settling.to, ..here }, &asking());
        assert_eq!(there.water, WaterStatus::Unzoned);
    }
}

#[test]
fn beside_a_side_that_nobody_supplied_the_coast_is_asked_for_and_no_reading_of_edges() {
    let zones = ZoneSet::new(vec![along_a_missing_coast()]);
    for (east_m, north_m) in [(900.0, 450.0), (600.0, 100.0)] {
        let answer = zones.assess(&fix(within(corner(), (east_m, north_m)), 5.0), &Question::default());
        let coast = answer.settle.iter().find_map(|remedy| {
            let Remedy::GetTheCoast { zone, level, uncertainty_95_m } = remedy else { return None };
            Some((zone.as_str(), level.as_deref(), *uncertainty_95_m))
        });
        let (zone, level, off_m) = coast.unwrap_or_else(|| panic!("{:?}", answer.settle));
        assert_eq!((zone, level), ("strand", Some("mean high water")));
        assert_abs_diff_eq!(off_m, 500.0, epsilon = 0.1);
        assert!(!answer.settle.iter().any(|one| matches!(one, Remedy::FindOutHowEdgesRun { .. })));
    }
    // 5 m off the side over open water, and far from the coast, a fix does it
    let answer = zones.assess(&fix(within(corner(), (100.0, 5.0)), 10.0), &Question::default());
    assert_eq!(answer.water, WaterStatus::Undecided);
    assert!(!answer.settle.iter().any(|one| matches!(one, Remedy::GetTheCoast { .. })));
}

#[test]
fn whoever_fishes_from_the_shore_is_told_no_way_over_water() {
    let zones = ZoneSet::new(vec![before_a_beach()]);
    let ashore = asking().by(Access::Shore).fish("sprat");
    let on_the_beach = fix(within(corner(), (999.0, 400.0)), 5.0);
    let answer = zones.assess(&on_the_beach, &ashore);
    assert_eq!((answer.way_out, answer.no_way_out), (None, Some(NoWayOut::OnFoot)));
    assert!(answer.take.iter().all(|fish| fish.way_to_keep.is_none()));
    // where the side is open the move that a boat could make is none either
    let at_the_corner = fix(within(corner(), (998.0, 2.0)), 5.0);
    assert!(zones.assess(&at_the_corner, &asking()).settling_move.is_some());
    assert_eq!(zones.assess(&at_the_corner, &ashore).settling_move, None);
    // and in open water there is nothing to leave
    let outside = zones.assess(&fix(within(corner(), (-500.0, 400.0)), 5.0), &ashore);
    assert_eq!((outside.way_out, outside.no_way_out), (None, None));
}

#[test]
fn a_look_ahead_that_ended_early_says_how_far_it_is_known() {
    // a bow that keeps half a metre inside the south side for 90 km needs more looks than there are
    let strip = known("strip", &box_of(corner(), (90_000.0, 1000.0)));
    let zones = ZoneSet::new(vec![strip]);
    let east = within(corner(), (90_000.0, 0.0));
    let bearing = inverse(within(corner(), (100.0, 0.0)), east).azimuth_start_deg;
    let on_the_line = fix(within(corner(), (100.0, 0.0)), 0.3);
    let question = Question::default().on_heading(TrueBearing::wrapping(bearing));
    let ahead = zones.assess(&on_the_line, &question).on_heading.unwrap();
    let none_nearer_m = ahead.none_nearer_than.unwrap().metres();
    assert_eq!(ahead.clear, None);
    assert!((1_000.0..89_900.0).contains(&none_nearer_m), "{none_nearer_m}");
    // where all of it was seen nothing is left open
    let within_a_square = ZoneSet::new(vec![known("wide", &box_of(corner(), (120_000.0, 1000.0)))]);
    let here = fix(within(corner(), (100.0, 500.0)), 5.0);
    let question = Question::default().on_heading(TrueBearing::wrapping(90.0));
    let ahead = within_a_square.assess(&here, &question).on_heading.unwrap();
    assert_eq!(ahead.none_nearer_than, None);
}

#[test]
fn that_it_is_on_land_is_the_first_of_the_warnings() {
    let coast = isle(within(corner(), (400.0, 400.0)), (200.0, 200.0));
    let zone = Zone { datum: crate::zone::Datum::Unstated, ..known("one", &square(corner(), 1000.0)) };
    let zones = ZoneSet::new(vec![zone]).with_coasts(vec![coast]);
    let answer = zones.assess(&fix(within(corner(), (500.0, 500.0)), 5.0), &Question::default());
    assert!(answer.warnings.len() > 1, "{:?}", answer.warnings);
    assert!(matches!(answer.warnings.first(), Some(Warning::OnLand { .. })), "{:?}", answer.warnings);
}
