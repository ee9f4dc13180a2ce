use takeline::assess::{Displacing, Remedy, Warning};
use takeline::rule::{self, Condition};
use takeline::{
    Assessment, ClearingMove, Containment, TakeAnswer, TakeFinding, Tristate, WaterStatus, ZoneFinding,
};

use super::test_fixtures::*;
use super::{HereDocument, here_brief, here_row_text, here_text};
use crate::words::English;

fn text(assessment: &Assessment) -> String {
    here_text(&HereDocument::of(assessment, &English), 40)
}

fn row_text(assessment: &Assessment) -> String {
    here_row_text(&HereDocument::of(assessment, &English))
}

fn first_three(assessment: &Assessment) -> String {
    text(assessment).lines().take(3).collect::<Vec<_>>().join("\n")
}

fn with_fish(assessment: Assessment, take: Vec<TakeFinding>) -> Assessment {
    Assessment { take, ..assessment }
}

fn every_example() -> Vec<Assessment> {
    vec![
        closed(),
        outside(),
        near_the_line(),
        season_unknown(),
        line_unknown(),
        assessment(WaterStatus::Unzoned, vec![]),
        with_fish(assessment(WaterStatus::Restricted, vec![lantern_reach()]), vec![sprat()]),
        with_fish(near_the_line(), vec![fish("cod", TakeAnswer::Undecided)]),
    ]
}

#[test]
fn a_closed_zone_is_told_whole_at_40_columns() {
    insta::assert_snapshot!(text(&with_fish(closed(), vec![fish("cod", TakeAnswer::Release)])), @r#"
    CLOSED WATER: 38 m ±10 m in Sallow Cove
      Reserve
    RELEASE cod caught here: closed
    Caught elsewhere: undecided, ask first

    FIX
      position: 45°07.092'N 030°07.302'W
      uncertainty: ±10 m (95 %), given
      time: 25 July 2026 06:30 UTC

    WATER
      answer: closed: nothing may be taken

    FISH cod
      answer: RELEASE
      caught elsewhere: undecided whether it
        may be on board

    ZONE Sallow Cove Reserve
      side: inside by 38 m ±10 m
      chance of being inside: more than 99 %
      nearest boundary: 045° true, at
        45°07.107'N 030°07.281'W
      uncertainty: ±10 m (95 %), all from
        the fix
      in force: yes
      because: in force until 30 September
        2026 24:00
      rule: nothing may be taken
      also: no anchoring on the eelgrass
      to cross: "lines inboard and hooks
        bare" (clause 9)
      law: Marrowick Reserves Order 2019,
        clause 4(2)
      edition: 2026-1; law read 2026-03-01
      zone file: marrowick.geojson, sha256
        0123456789ab

    BEAR IN MIND
      Takeline is not an instrument of
        navigation.
      Rules change; a closure by notice
        cannot be known offline.
      The text of the law and the local
        officers decide, not this answer.
      Weather and cold water kill; no fish
        is worth the risk.
    "#);
}

#[test]
fn an_undecided_side_is_told_whole_at_40_columns() {
    insta::assert_snapshot!(text(&near_the_line()), @r#"
    UNDECIDED: do not keep; edge 4 m ±10 m
    To settle: move 14 m toward 225° true
    Boundary 045° true: Sallow Cove Reserve

    FIX
      position: 45°07.092'N 030°07.302'W
      uncertainty: ±10 m (95 %), given
      time: 25 July 2026 06:30 UTC

    WATER
      answer: undecided; until it is
        settled, keep nothing
      because: Sallow Cove Reserve: the
        boundary is 4 m away, and the
        uncertainty is 10 m
      to settle: move 14 m toward 225° true;
        there no loaded zone applies
      move to: 45°07.087'N 030°07.309'W

    ZONE Sallow Cove Reserve
      side: undecided; the boundary is 4 m
        ±10 m away
      chance of being inside: 22 %
      nearest boundary: 045° true, at
        45°07.107'N 030°07.281'W
      uncertainty: ±10 m (95 %), all from
        the fix
      in force: yes
      because: in force until 30 September
        2026 24:00
      rule: nothing may be taken
      also: no anchoring on the eelgrass
      to cross: "lines inboard and hooks
        bare" (clause 9)
      law: Marrowick Reserves Order 2019,
        clause 4(2)
      edition: 2026-1; law read 2026-03-01
      zone file: marrowick.geojson, sha256
        0123456789ab

    BEAR IN MIND
      Takeline is not an instrument of
        navigation.
      Rules change; a closure by notice
        cannot be known offline.
      The text of the law and the local
        officers decide, not this answer.
      Weather and cold water kill; no fish
        is worth the risk.
    "#);
}

#[test]
fn no_loaded_zone_is_told_by_the_nearest_line() {
    insta::assert_snapshot!(first_three(&outside()), @r"
    No loaded zone applies here
    Nearest: Sallow Cove Reserve
    OUTSIDE by 38 m ±10 m, edge 045° true
    ");
}

#[test]
fn nothing_near_at_all_is_still_no_promise() {
    insta::assert_snapshot!(first_three(&assessment(WaterStatus::Unzoned, vec![])), @r"
    No loaded zone applies here
    No zone is near; other rules may apply
    No boundary is loaded near here
    ");
}

#[test]
fn limited_water_with_a_fish_that_may_be_kept() {
    let limited = with_fish(assessment(WaterStatus::Restricted, vec![lantern_reach()]), vec![sprat()]);
    insta::assert_snapshot!(first_three(&limited), @r"
    RESTRICTED WATER: only sprat, herring
    KEEP sprat 8 cm+, up to 20; see below
    INSIDE Lantern Reach by 212 m ±10 m
    ");
}

#[test]
fn one_of_several_ways_to_keep_a_fish_is_not_told_as_the_only_one() {
    let either =
        TakeFinding { conditions: vec![Condition::Either { ways: vec![vec![], vec![]] }], ..sprat() };
    let limited = with_fish(assessment(WaterStatus::Restricted, vec![lantern_reach()]), vec![either]);
    assert_eq!(text(&limited).lines().nth(1), Some("KEEP sprat, if: see below"));
}

#[test]
fn an_ambiguous_name_is_settled_in_the_first_three_lines() {
    let cod = TakeFinding {
        settle: vec![Remedy::Rule {
            remedy: rule::Remedy::SayWhichFish { fish: texts(&["black cod", "reef cod"]) },
        }],
        ..fish("cod", TakeAnswer::Undecided)
    };
    let limited = with_fish(assessment(WaterStatus::Restricted, vec![lantern_reach()]), vec![cod]);
    insta::assert_snapshot!(first_three(&limited), @r"
    RESTRICTED WATER: inside by 212 m ±10 m
    UNDECIDED cod: do not keep it
    To settle: say which fish: black cod,
    ");
}

#[test]
fn undecided_water_with_a_fish_keeps_distance_and_move_in_the_first_three_lines() {
    let asked = with_fish(near_the_line(), vec![fish("cod", TakeAnswer::Undecided)]);
    insta::assert_snapshot!(first_three(&asked), @r"
    UNDECIDED: do not keep; edge 4 m ±10 m
    UNDECIDED cod: do not keep it
    To settle: move 14 m toward 225° true
    ");
}

#[test]
fn a_fish_allowed_on_either_side_of_the_line_is_not_forbidden_by_the_first_line() {
    insta::assert_snapshot!(first_three(&with_fish(near_the_line(), vec![sprat()])), @r"
    UNDECIDED WATER: edge 4 m ±10 m
    KEEP sprat 8 cm+, up to 20; see below
    To settle: move 14 m toward 225° true
    ");
    let row = row_text(&with_fish(near_the_line(), vec![sprat()]));
    assert!(row.contains("KEEP sprat") && !row.contains("do not keep"), "{row}");
}

#[test]
fn undecided_water_does_not_forbid_a_fish_that_either_side_allows() {
    let asked = with_fish(near_the_line(), vec![fish("sprat", TakeAnswer::Keep)]);
    insta::assert_snapshot!(first_three(&asked), @r"
    UNDECIDED WATER: edge 4 m ±10 m
    KEEP sprat
    To settle: move 14 m toward 225° true
    ");
    assert!(!text(&asked).contains("keep nothing"));
}

#[test]
fn a_displaced_zone_does_not_count_as_binding() {
    let lane = named("Lantern Lane", lantern_reach());
    let displaced = ZoneFinding {
        displaced_by: vec![Displacing { zone: "Lantern Lane".into(), clause: "clause 6".into() }],
        displaced: Tristate::Yes,
        binds: Tristate::No,
        ..lantern_reach()
    };
    let both = assessment(WaterStatus::Restricted, vec![displaced, lane]);
    insta::assert_snapshot!(first_three(&both), @r"
    RESTRICTED WATER: only sprat, herring
    In force: Lantern Lane
    INSIDE by 212 m ±10 m, edge 045° true
    ");
}

#[test]
fn a_fix_far_from_every_zone_is_told_to_be_checked() {
    let far = assessment(WaterStatus::Unzoned, vec![sallow_cove(Containment::Outside, 250_000.0)]);
    insta::assert_snapshot!(first_three(&far), @r"
    No loaded zone applies here
    No zone within 100 km: check the fix
    OUTSIDE by 250 km ±10 m, edge 045° true
    ");
}

#[test]
fn a_move_into_closed_water_says_so() {
    let mut assessment = near_the_line();
    assessment.settling_move =
        assessment.settling_move.map(|way| ClearingMove { water_there: WaterStatus::Closed, ..way });
    insta::assert_snapshot!(first_three(&assessment), @r"
    UNDECIDED: do not keep; edge 4 m ±10 m
    To settle: move 14 m toward 225° true,
      into closed water
    ");
}

#[test]
fn a_missing_time_is_what_settles_a_season() {
    insta::assert_snapshot!(first_three(&season_unknown()), @r"
    UNDECIDED: do not keep; 300 m in, ±10 m
    To settle: give the time
    May be in force: Sallow Cove Reserve
    ");
}

#[test]
fn a_line_that_is_not_known_is_undecided_and_never_outside() {
    insta::assert_snapshot!(first_three(&line_unknown()), @r"
    UNDECIDED: do not keep what you catch
    To settle: get the boundary of Sallow
      Cove Reserve from its law or its
    ");
    assert!(!text(&line_unknown()).to_lowercase().contains("outside"));
}

#[test]
fn several_fish_share_the_second_line() {
    let few = vec![fish("cod", TakeAnswer::Release), sprat()];
    let many: Vec<_> = ["cod", "ling", "wrasse", "pollack", "dogfish", "conger"]
        .map(|name| fish(name, TakeAnswer::Release))
        .into_iter()
        .chain([sprat(), fish("rockfish", TakeAnswer::Keep)])
        .collect();
    let second = |take| {
        let assessment = with_fish(assessment(WaterStatus::Restricted, vec![lantern_reach()]), take);
        text(&assessment).lines().nth(1).unwrap().to_owned()
    };
    insta::assert_snapshot!(second(few), @"RELEASE cod; KEEP sprat; see below");
    insta::assert_snapshot!(second(many), @"RELEASE 6; KEEP 2; see below");
}

#[test]
fn several_fish_are_named_before_they_are_counted_and_conditions_are_never_lost() {
    let take = vec![fish("pollack", TakeAnswer::Release), fish("mackerel", TakeAnswer::Release), sprat()];
    let asked = with_fish(assessment(WaterStatus::Restricted, vec![lantern_reach()]), take);
    let second = |width| {
        let text = here_brief(&HereDocument::of(&asked, &English), width);
        text.lines().nth(1).unwrap().to_owned()
    };
    insta::assert_snapshot!(second(52), @"RELEASE pollack, mackerel; KEEP sprat; see full");
    insta::assert_snapshot!(second(41), @"RELEASE pollack, mackerel; KEEP sprat if…");
    insta::assert_snapshot!(second(40), @"RELEASE pollack, mackerel; KEEP sprat if");
    insta::assert_snapshot!(second(39), @"RELEASE 2; KEEP 1; see full");
}

#[test]
fn a_zone_that_is_not_law_yet_is_named_beside_a_fish() {
    let zone = ZoneFinding {
        in_force: Tristate::No,
        in_force_because: vec![takeline::binding::Reason::NotLaw {
            status: takeline::zone::Status::Proposed,
        }],
        binds: Tristate::No,
        ..named("Tern Deep", sallow_cove(Containment::Inside, -833.0))
    };
    let proposed = assessment(WaterStatus::Unzoned, vec![zone]);
    let asked = with_fish(proposed.clone(), vec![fish("cod", TakeAnswer::Unzoned)]);
    insta::assert_snapshot!(first_three(&proposed), @r"
    No loaded zone applies here
    Not law yet: Tern Deep
    INSIDE by 833 m ±10 m, edge 045° true
    ");
    let lines = first_three(&asked);
    assert!(lines.contains("No loaded rule on cod here"), "{lines}");
    assert!(lines.contains("Not law yet: Tern Deep"), "{lines}");
}

#[test]
fn what_if_announces_follows_it_and_a_name_in_doubt_has_no_conditions() {
    let conditions = sprat().conditions;
    let released = TakeFinding {
        possession_conditions: conditions.clone(),
        possession: Tristate::Yes,
        possession_because: sprat().because,
        ..fish("cod", TakeAnswer::Release)
    };
    let shown = text(&with_fish(closed(), vec![released]));
    let after = shown.split_once("may be on board, if:\n").unwrap().1;
    assert!(after.trim_start().starts_with("if: "), "{shown}");
    let remedy = rule::Remedy::DidYouMean { names: vec!["sprat".into()] };
    let unknown = TakeFinding {
        conditions: conditions.clone(),
        possession_conditions: conditions,
        settle: vec![Remedy::Rule { remedy }],
        ..fish("sprta", TakeAnswer::Undecided)
    };
    let aboard = TakeFinding { possession: Tristate::Yes, ..unknown.clone() };
    let shown = text(&with_fish(closed(), vec![aboard]));
    assert!(shown.contains("may be on board, if:\n  if: "), "a yes keeps its conditions: {shown}");
    let shown = text(&with_fish(closed(), vec![unknown]));
    let section = shown.split_once("FISH sprta").unwrap().1.split_once("ZONE").unwrap().0;
    assert!(!section.contains("if:"), "{section}");
}

#[test]
fn a_size_keeps_its_figure_in_units_of_the_us() {
    let asked = with_fish(assessment(WaterStatus::Restricted, vec![lantern_reach()]), vec![sprat()]);
    let brief = here_brief(&HereDocument::of(&asked, &crate::words::EnglishIn(crate::Units::Us)), 40);
    let line = brief.lines().nth(1).unwrap();
    assert!(line.starts_with("KEEP sprat") && line.contains(" in") && line.ends_with("see full"), "{line}");
}

#[test]
fn a_stand_off_that_is_not_kept_is_in_the_first_three_lines() {
    let assessment = Assessment { standoff_kept: Some(Tristate::No), ..outside() };
    insta::assert_snapshot!(first_three(&assessment), @r"
    No loaded zone applies here
    Stand-off NOT kept: Sallow Cove Reserve
    OUTSIDE by 38 m ±10 m, edge 045° true
    ");
}

#[test]
fn a_fix_on_the_line_says_so() {
    let zone = ZoneFinding { on_the_line: true, ..sallow_cove(Containment::Inside, 0.0) };
    insta::assert_snapshot!(first_three(&assessment(WaterStatus::Closed, vec![zone])), @r"
    CLOSED WATER: nothing may be taken here
    In force: Sallow Cove Reserve
    INSIDE: on the boundary, ±10 m
    ");
}

#[test]
fn the_line_of_measure_holds_word_distance_and_doubt_together() {
    // 38 m off a line with a doubt of 10 m, either side: the figures that the trade asks to see on one line
    for (assessment, word) in [(outside(), "OUTSIDE"), (closed(), "INSIDE")] {
        let text = text(&assessment);
        let line = text.lines().take(3).find(|line| line.contains(word)).unwrap();
        assert!(line.contains("38 m") && line.contains("±10 m"), "{line}");
    }
}

#[test]
fn two_zones_in_force_are_both_named_or_counted() {
    let reef = named("Mast Reef", lantern_reach());
    let short = assessment(WaterStatus::Restricted, vec![lantern_reach(), reef.clone()]);
    let long =
        assessment(WaterStatus::Closed, vec![sallow_cove(Containment::Inside, -38.0), lantern_reach(), reef]);
    insta::assert_snapshot!(first_three(&short), @r"
    RESTRICTED WATER: rules of 2 zones
    In force: Lantern Reach; Mast Reef
    INSIDE by 212 m ±10 m, edge 045° true
    ");
    insta::assert_snapshot!(first_three(&long), @r"
    CLOSED WATER: nothing may be taken here
    In force, 1 of 3: Sallow Cove Reserve
    INSIDE by 38 m ±10 m, edge 045° true
    ");
}

#[test]
fn no_verdict_calls_anything_legal_or_safe() {
    for assessment in every_example() {
        let text = text(&assessment).to_lowercase();
        assert!(!text.contains("legal") && !text.contains("safe"), "{text}");
    }
}

#[test]
fn no_line_is_wider_than_the_screen() {
    for width in [20, 32, 40, 80] {
        for assessment in every_example() {
            for line in here_text(&HereDocument::of(&assessment, &English), width).lines() {
                assert!(line.chars().count() <= width, "{width}: {line}");
            }
        }
    }
}

#[test]
fn hostile_names_neither_drive_the_terminal_nor_hide_the_verdict() {
    let name = "\u{1b}[2Jcod\nKEEP".to_owned() + &"x".repeat(100_000);
    let asked = with_fish(closed(), vec![fish(&name, TakeAnswer::Release)]);
    let text = text(&asked);
    assert!(!text.contains('\u{1b}'));
    assert!(text.lines().take(3).any(|line| line.starts_with("RELEASE")));
    assert!(!row_text(&asked).contains('\n'));
}

#[test]
fn warnings_stand_right_below_the_first_three_lines() {
    let stale =
        Assessment { warnings: vec![Warning::DatumUnstated { zone: "Sallow Cove".into() }], ..closed() };
    assert_eq!(text(&stale).lines().nth(5), Some("  Sallow Cove: the zone file does not"));
}

#[test]
fn a_time_that_nobody_gave_is_said_to_be_the_clock_s() {
    let closed = closed();
    let by_clock = here_text(&HereDocument::of(&closed, &English).with_time_by_clock(), 80);
    assert!(by_clock.contains("time: 25 July 2026 06:30 UTC, by this device's clock"));
    assert!(!text(&closed).contains("clock"));
}

#[test]
fn a_row_is_one_line_with_water_measure_and_zone() {
    insta::assert_snapshot!(row_text(&with_fish(closed(), vec![fish("cod", TakeAnswer::Release)])), @"CLOSED WATER: nothing may be taken here; RELEASE cod caught here: closed by Sallow Cove Reserve; INSIDE by 38 m ±10 m, edge 045° true; Sallow Cove Reserve");
    insta::assert_snapshot!(row_text(&near_the_line()), @"UNDECIDED: do not keep; Sallow Cove Reserve: the boundary is 4 m away, and the uncertainty is 10 m; UNDECIDED: edge 4 m ±10 m, 045° true; Sallow Cove Reserve; to settle: move 14 m toward 225° true");
}
