//! What the first lines say of ways, to somebody with wet hands.

use takeline::assess::{NoWayOut, OnHeading, OverLand, WayHome, WayOut};
use takeline::{Assessment, ClearingMove, Position, TakeAnswer, TrueBearing, WaterStatus};

use super::test_fixtures::{closed, fish, metres, near_the_line, outside};
use super::{HereDocument, here_brief, here_text};
use crate::Units;
use crate::words::{English, Words};

struct Nautical;

impl Words for Nautical {
    fn units(&self) -> Units {
        Units::Nautical
    }
}

fn there() -> Position {
    Position::from_degrees(45.1121, -30.1217).unwrap()
}

fn bearing(degrees: f64) -> TrueBearing {
    TrueBearing::from_degrees(degrees).unwrap()
}

fn way_out(over_land: OverLand) -> WayOut {
    WayOut {
        distance: metres(1397.0),
        uncertainty_95: metres(10.0),
        bearing: bearing(304.0),
        to: there(),
        leaves: vec![],
        over_land,
        pocket: false,
        tie: None,
        none_nearer_than: None,
        seconds: Some(1980.0),
    }
}

fn way_home(land_m: Option<f64>) -> WayHome {
    WayHome {
        distance: metres(2865.0),
        bearing: bearing(90.0),
        to: there(),
        crosses: vec![],
        land: land_m.map(metres),
        over_land: if land_m.is_some() { OverLand::Yes } else { OverLand::No },
        looked_to: metres(2865.0),
        seconds: Some(2220.0),
    }
}

fn on_heading(clear_m: Option<f64>, none_nearer_m: Option<f64>) -> OnHeading {
    OnHeading {
        heading: bearing(270.0),
        boundary: Some(metres(788.0)),
        boundary_of: None,
        clear: clear_m.map(metres),
        none_nearer_than: none_nearer_m.map(metres),
        land: None,
        over_land: OverLand::Unknown,
        crosses: vec![],
        looked_to: metres(100_000.0),
    }
}

fn leaving(over_land: OverLand) -> Assessment {
    Assessment { looked_for_way_out: true, way_out: Some(way_out(over_land)), ..closed() }
}

fn brief(assessment: &Assessment) -> String {
    here_brief(&HereDocument::of(assessment, &English), 40)
}

fn whole(assessment: &Assessment) -> String {
    let text = here_text(&HereDocument::of(assessment, &English), 40);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_way_out_that_may_meet_land_says_so_in_three_lines_too() {
    let says = |over_land| brief(&leaving(over_land));
    assert!(
        says(OverLand::No).contains("Way out: 1397 m toward 304° true, 33 min\n"),
        "{}",
        says(OverLand::No)
    );
    let unknown = says(OverLand::Unknown);
    assert!(unknown.contains("Out 1397 m 304° true, 33 min; land?\n"), "{unknown}");
    // with room for it in full
    let wide = here_brief(&HereDocument::of(&leaving(OverLand::Unknown), &English), 70);
    assert!(wide.contains("Way out: 1397 m toward 304° true, 33 min; look out for land\n"), "{wide}");
    // and behind the water, where fish and bow take the other lines, never without
    let with_fish = Assessment {
        take: vec![fish("cod", TakeAnswer::Release)],
        on_heading: Some(on_heading(Some(1309.0), None)),
        ..leaving(OverLand::Unknown)
    };
    for width in 20..=80 {
        let text = here_brief(&HereDocument::of(&with_fish, &English), width);
        assert!(!text.contains("out 1397 m") || text.contains("land"), "{width}: {text}");
    }
}

#[test]
fn the_minutes_stay_where_other_units_are_longer() {
    let way = WayOut {
        distance: metres(788.0),
        bearing: bearing(180.0),
        seconds: Some(600.0),
        ..way_out(OverLand::No)
    };
    let assessment = Assessment { way_out: Some(way), ..leaving(OverLand::No) };
    let text = here_brief(&HereDocument::of(&assessment, &Nautical), 40);
    assert!(text.contains("Way out: 4.26 cables, 180° true, 10 min\n"), "{text}");
}

#[test]
fn the_way_home_is_told_in_three_lines_and_land_in_it_comes_first() {
    let home = |land_m| Assessment { way_home: Some(way_home(land_m)), ..leaving(OverLand::No) };
    assert!(brief(&home(None)).contains("Home: 2865 m toward 090° true, 37 min\n"), "{}", brief(&home(None)));
    let over_the_isle = home(Some(1299.0));
    let text = brief(&over_the_isle);
    assert!(text.contains("Home: land in 1299 m; 2865 m 090° true\n"), "{text}");
    assert_eq!(text.lines().count(), 3);
    let text = whole(&over_the_isle);
    assert!(
        text.contains("way home: the straight way meets land after 1299 m; 2865 m toward 090° true"),
        "{text}"
    );
    // the beach on which one lands is no land in the way; nor is home where one stands
    assert!(!brief(&home(Some(2850.0))).contains("land"), "{}", brief(&home(Some(2850.0))));
    let here =
        Assessment { way_home: Some(WayHome { distance: metres(0.3), ..way_home(None) }), ..outside() };
    assert!(!brief(&here).contains("Home"));
    // also where there is nothing to leave
    assert!(brief(&Assessment { way_home: Some(way_home(None)), ..outside() }).contains("Home: 2865 m"));
}

#[test]
fn clear_water_that_was_not_found_in_time_is_undecided() {
    let ahead = |clear_m, none_m| Assessment { on_heading: Some(on_heading(clear_m, none_m)), ..closed() };
    let early = ahead(None, Some(7498.7));
    assert!(brief(&early).contains("On 270° true: undecided past 7498 m\n"), "{}", brief(&early));
    let text = whole(&early);
    assert!(text.contains("no clear water within 7498 m, undecided beyond"), "{text}");
    let to_the_end = whole(&ahead(None, None));
    assert!(to_the_end.contains("no clear water within 100 km"), "{to_the_end}");
    assert!(!to_the_end.contains("undecided beyond"));
}

#[test]
fn whoever_is_on_foot_is_told_why_there_is_no_way_out_below_the_first_lines() {
    let ashore = Assessment { looked_for_way_out: true, no_way_out: Some(NoWayOut::OnFoot), ..closed() };
    assert!(!brief(&ashore).contains("ay out"), "{}", brief(&ashore));
    assert!(brief(&ashore).contains("Sallow Cove Reserve"));
    assert!(whole(&ashore).contains("way out: none on foot: it would lead over water"));
}

#[test]
fn a_move_that_is_the_way_out_carries_its_word_about_land() {
    let moving = |over_land| Assessment {
        looked_for_way_out: true,
        way_out: Some(way_out(over_land)),
        settling_move: Some(ClearingMove {
            distance: metres(1397.0),
            bearing: bearing(304.0),
            to: there(),
            water_there: WaterStatus::Unzoned,
        }),
        ..near_the_line()
    };
    assert!(brief(&moving(OverLand::Unknown)).contains("Move 1397 m toward 304° true; mind land\n"));
    assert!(brief(&moving(OverLand::No)).contains("To settle: move 1397 m toward 304° true\n"));
}

#[test]
fn a_way_that_may_not_be_the_shortest_says_so_plainly() {
    let way = WayOut { none_nearer_than: Some(metres(812.7)), ..way_out(OverLand::No) };
    let text = whole(&Assessment { way_out: Some(way), ..leaving(OverLand::No) });
    assert!(text.contains("there may be a shorter one, but none shorter than 812 m"), "{text}");
    assert!(text.contains("land: none in the way, by the coast loaded"), "{text}");
}

#[test]
fn no_list_of_what_settles_it_begins_with_or() {
    for remedy in takeline::test_util::samples::remedies() {
        let text = English.remedy(&remedy);
        assert!(!text.to_lowercase().starts_with("or "), "{text}");
    }
}
