//! Where: sides, distances and their doubt, lines of every kind.

use super::*;

#[test]
fn the_launch_beach_lies_in_the_no_take_water_and_crossing_it_is_described() {
    let answer = ask(BEACH, NOON, &[]);
    // 10 m of the fix are assumed, and the shore may be 5 m off where it is drawn, which counts in full
    let first = [
        "CLOSED WATER: nothing may be taken here",
        "INSIDE Sallow Cove Reser… by 157 m ±15 m",
        "Way out: 1248 m, 309° true; mind land",
    ];
    answer.says("closed", 1, first).is_off("sallow-cove", -157.372_405);
    let zone = answer.zone("sallow-cove");
    assert_eq!(zone["source"]["instrument"], "Marrowick Waters Order 2024");
    assert_eq!(zone["source"]["clause"], "clause 3");
    let passage = texts(&zone["passage"]);
    assert!(passage.contains("“rods unstrung, hooks off the line, and all of it below the gunwale”"));
    assert!(passage.contains("count as crossing"), "{passage}");
    // with a fish on board that may have been caught elsewhere, that is said before anything else is
    ask(BEACH, NOON, &["--species", "sprat"]).says(
        "closed",
        1,
        ["CLOSED WATER: 157 m ±15 m in Sallow", "  Cove Reserve", "RELEASE sprat caught here: closed"],
    );
}

#[test]
fn four_metres_from_the_line_with_eight_of_doubt_is_undecided_with_a_move() {
    let doubt = ["--accuracy-m", "8", "--accuracy-kind", "p95"];
    let answer = ask("45.1150 -30.169949", NOON, &doubt);
    let first = [
        "UNDECIDED: do not keep; edge 4 m ±8 m",
        "To settle: move 5 m toward 090° true",
        "Boundary 270° true: Lantern Reach",
    ];
    answer.says("undecided", 3, first).is_off("lantern-reach", 4.013_137);
    assert_eq!(answer.zone("lantern-reach")["containment"], "undecided");
    assert_eq!(answer.json["settling_move"]["water_there"], "no-loaded-zone");
    // 8 m at 95 % is a sigma of 8/2.4477 = 3.268 m in any direction; Φ(−4.013/3.268) = 0.1097 (normal table)
    let inside = answer.zone("lantern-reach")["inside_probability"].as_f64().unwrap();
    assert!((inside - 0.1097).abs() < 0.001, "{inside}");
}

#[test]
fn a_fish_that_may_be_kept_on_either_side_is_not_forbidden_by_the_doubt() {
    let near = |fish| {
        let more = ["--accuracy-m", "8", "--accuracy-kind", "p95", "--species", fish];
        ask("45.1150 -30.169949", NOON, &more)
    };
    near("sprat").says(
        "undecided",
        3,
        [
            "UNDECIDED WATER: edge 4 m ±8 m",
            "KEEP sprat 8 cm+, up to 40; see below",
            "To settle: move 5 m toward 090° true",
        ],
    );
    near("bass").says(
        "undecided",
        3,
        [
            "UNDECIDED: do not keep; edge 4 m ±8 m",
            "UNDECIDED bass: do not keep it",
            "To settle: move 5 m toward 090° true",
        ],
    );
}

#[test]
fn the_pocket_in_ring_shoal_is_outside_and_its_ring_inside() {
    // the lines to the west and to the east are equally far; the one that comes first along the ring is told
    let first =
        ["No loaded zone applies here", "Nearest: Ring Shoal", "OUTSIDE by 393 m ±10 m, edge 270° true"];
    ask("45.1150 -30.0550", NOON, &[]).says("no-loaded-zone", 0, first).is_off("ring-shoal", 393.444_755);
    assert_eq!(ask("45.1150 -30.0650", NOON, &[]).json["water"], "closed");
}

#[test]
fn a_circle_ends_where_its_radius_does() {
    // along the parallel through the centre: 102.220 m and 196.576 m from it (geographiclib)
    let inside = ask("45.1575 -30.0537", NOON, &[]);
    assert_eq!(inside.json["water"], "closed");
    inside.is_off("curlew-pinnacle", -47.780_322);
    let outside = ask("45.1575 -30.0525", NOON, &[]);
    assert_eq!(outside.json["water"], "no-loaded-zone");
    outside.is_off("curlew-pinnacle", 46.576_305);
    // 150 m east of the centre, to 7 digits of longitude (8 mm)
    let edge = ask("45.1575 -30.0530923", NOON, &[]);
    edge.says(
        "undecided",
        3,
        [
            "UNDECIDED: do not keep; edge 0 m ±10 m",
            edge.text.lines().nth(1).unwrap(),
            edge.text.lines().nth(2).unwrap(),
        ],
    );
    assert!(edge.zone("curlew-pinnacle")["signed_distance_m"].as_f64().unwrap().abs() < 0.008);
}

#[test]
fn an_arc_runs_at_its_radius() {
    // 1480.0006 m and 1520.0043 m from the centre on the bearing 045° (geographiclib). The ends of the arc are printed
    // to 7 digits, up to 8 mm off the radius, so the arc between them may be 8 mm off too.
    let distance = |position| {
        let answer = ask(position, NOON, &["--accuracy-m", "2"]);
        (answer.json["water"].clone(), answer.zone("fulmar-bight")["signed_distance_m"].as_f64().unwrap())
    };
    let (water, inside_m) = distance("45.079416 -30.0567088");
    assert_eq!(water, "limited");
    assert!((inside_m + 19.9994).abs() < 0.008, "{inside_m}");
    let (water, outside_m) = distance("45.0796705 -30.0563495");
    assert_eq!(water, "no-loaded-zone");
    assert!((outside_m - 20.0043).abs() < 0.008, "{outside_m}");
}

#[test]
fn a_parallel_is_no_geodesic() {
    // The geodesic between the corners passes 7.602 m north of the parallel at the middle (geographiclib). A fix 5 m
    // north of the parallel is inside the box that follows it, and would be outside along the geodesic.
    let answer = ask("45.22004499 -30.1250", NOON, &["--accuracy-m", "1"]);
    assert_eq!(answer.json["water"], "limited");
    answer.is_off("northern-parallels", -5.0);
}

#[test]
fn edges_that_the_text_leaves_open_cost_their_gap() {
    // the northern edge as geodesic runs 19.462 m north of the parallel at its middle (geographiclib)
    let answer = ask("45.0151 -30.1", NOON, &["--accuracy-m", "2", "--species", "bass"]);
    assert_eq!((answer.json["water"].as_str(), answer.status), (Some("undecided"), 3));
    let zone = answer.zone("southern-straights");
    assert_eq!(zone["readings_differ_about_side"], true);
    // the readings differ across the line, a little less than along the meridian; 1 cm covers that
    assert!((zone["reading_gap_m"].as_f64().unwrap() - 19.462).abs() < 0.01, "{zone}");
}

#[test]
fn outside_everything_no_loaded_zone_applies() {
    let answer = ask(OPEN_WATER, NOON, &["--species", "cod"]);
    let first = [
        "No loaded zone applies here",
        "No loaded rule on cod here",
        "OUTSIDE by 7224 m ±10 m, edge 180° true",
    ];
    answer.says("no-loaded-zone", 0, first).is_off("northern-parallels", 7_223.905);
    assert_eq!(answer.fish()["answer"], "no-loaded-zone");
}

#[test]
fn a_line_on_a_plan_that_nobody_has_is_undecided_near_it() {
    let answer = ask("45.1875 -30.0600", NOON, &[]);
    answer.says(
        "undecided",
        3,
        [
            "UNDECIDED: do not keep what you catch",
            "To settle: get the boundary of Kelp",
            "  Garden from its law or its authority",
        ],
    );
    assert!(answer.unwrapped().contains("see plan 4"), "{}", answer.text);
    assert!(answer.zone("kelp-garden")["signed_distance_m"].is_null());
    // a kilometre beyond the box that surely holds it
    assert_eq!(ask("45.1875 -30.0300", NOON, &[]).json["water"], "no-loaded-zone");
}

#[test]
fn a_proposed_zone_and_a_repealed_edition_bind_nobody() {
    let answer = ask("45.1875 -30.1175", NOON, &["--species", "cod"]);
    assert_eq!((answer.json["water"].as_str(), answer.status), (Some("no-loaded-zone"), 0));
    assert_eq!(answer.zone("tern-deep")["containment"], "inside");
    assert_eq!(answer.zone("tern-deep")["in_force"], "no");
    assert!(answer.text.contains("it is only proposed"));
    let haven = ask(OLD_HAVEN, NOON, &["--species", "codling"]);
    assert_eq!(haven.json["water"], "limited");
    assert_eq!(haven.zone("haven-2019")["in_force"], "no");
    assert!(texts(&haven.json["warnings"]).contains("may be changed by a notice"));
}

#[test]
fn all_lists_every_zone_nearest_line_first() {
    assert_eq!(ask(OPEN_WATER, NOON, &[]).zone_ids(), ["northern-parallels"]);
    let answer = ask(OPEN_WATER, NOON, &["--all"]);
    assert_eq!(answer.zone_ids().len(), 24);
    assert!(answer.zone_ids().contains(&"board-roads"), "all files are listed");
    let distances: Vec<_> = answer.json["zones"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|zone| zone["signed_distance_m"].as_f64())
        .map(f64::abs)
        .collect();
    assert_eq!(distances.len(), 23, "one line is not known");
    assert!(distances.is_sorted(), "{distances:?}");
}

#[test]
fn a_launch_in_the_south_is_typed_like_any_other() {
    let home = ask(BEACH, NOON, &["--launch", "-45.1170 -30.1190"]).json["way_home"].clone();
    assert_eq!(home["to"]["latitude_deg"], -45.117);
}
