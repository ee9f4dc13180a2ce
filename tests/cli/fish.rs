//! What may be kept: lists, limits, names, and several zones together.

use super::*;

const INSIDE_THE_REACH: &str = "INSIDE Lantern Reach by 393 m ±10 m";

#[test]
fn one_that_is_listed_may_be_kept_within_its_limits() {
    let answer = ask(LANTERN_REACH, NOON, &["--species", "sprat"]);
    let first = [
        "RESTRICTED WATER: only bait fish, squid",
        "KEEP sprat 8 cm+, up to 40; see below",
        INSIDE_THE_REACH,
    ];
    answer.says("limited", 1, first).is_off("lantern-reach", -393.444_755);
    let limits = &answer.fish()["limits"];
    assert_eq!(limits["bags"], serde_json::json!([{ "count": 40, "per": "person-day" }]));
    assert_eq!(limits["sizes"][0]["min_cm"], 8.0);
    assert_eq!(limits["gear"].as_array().unwrap().len(), 2);
    assert!(answer.fish_texts("conditions").contains("kept whole until landed"));
}

#[test]
fn one_that_is_not_listed_goes_back() {
    let answer = ask(LANTERN_REACH, NOON, &["--species", "pollack"]);
    let first = [
        "RESTRICTED WATER: 393 m ±10 m in Lanter…",
        "RELEASE pollack: not allowed here",
        "Way out: 404 m toward 090° true",
    ];
    answer.says("limited", 1, first);
    assert!(answer.fish_texts("because").contains("may not be taken here: only"));
    assert_eq!(answer.fish()["possession"], "no", "only fish that may be taken here may be on board");
}

#[test]
fn a_name_of_two_fish_is_undecided_only_where_the_answers_differ() {
    let whitebait = ask(LANTERN_REACH, NOON, &["--species", "whitebait"]);
    whitebait.says(
        "limited",
        3,
        [
            "RESTRICTED WATER: inside by 393 m ±10 m",
            "UNDECIDED whitebait: do not keep it",
            "To settle: say which fish: sprat",
        ],
    );
    let settle = whitebait.fish_texts("settle");
    assert!(settle.contains("Sprattus sprattus") && settle.contains("Clupea harengus"), "{settle}");
    let rock_cod = |position| ask(position, NOON, &["--species", "rock cod"]);
    assert_eq!(rock_cod(LANTERN_REACH).fish()["answer"], "release");
    assert_eq!(rock_cod(OLD_HAVEN).fish()["answer"], "undecided");
    assert!(rock_cod(OLD_HAVEN).fish_texts("settle").contains("Helicolenus dactylopterus"));
}

#[test]
fn a_misspelt_name_is_asked_back_and_never_guessed() {
    ask(LANTERN_REACH, NOON, &["--species", "sprta"]).says(
        "limited",
        3,
        [
            "RESTRICTED WATER: inside by 393 m ±10 m",
            "UNDECIDED sprta: do not keep it",
            "To settle: did you mean sprat? ask again",
        ],
    );
}

#[test]
fn other_names_young_names_scientific_names_and_codes_are_the_same_fish() {
    for (position, names) in [
        (LANTERN_REACH, &["Brisling", "SPR", "Sprattus sprattus", "sprats", "pilchard", "launce"][..]),
        (OLD_HAVEN, &["cod", "codling", "COD", "gadus morhua"]),
    ] {
        for name in names {
            assert_eq!(ask(position, NOON, &["--species", name]).fish()["answer"], "keep", "{name}");
        }
    }
}

#[test]
fn two_zones_of_one_file_bind_together() {
    let both = |fish| ask("45.0750 -30.1150", NOON, &["--species", fish]);
    let mackerel = both("mackerel");
    let first = [
        "RESTRICTED WATER: rules of 2 zones",
        "KEEP mackerel 20 cm+, up to 6; see below",
        "INSIDE Gannet Bank by 394 m ±10 m",
    ];
    mackerel.says("limited", 1, first).is_off("gannet-bank", -393.719_517);
    mackerel.is_off("petrel-ground", -393.719_517);
    let limits = &mackerel.fish()["limits"];
    assert_eq!(limits["bags"], serde_json::json!([{ "count": 6, "per": "person-day" }]));
    // {2 lines or hand net} and {1 line with 3 hooks or trap}: what both allow
    let gear = limits["gear"].as_array().unwrap();
    assert_eq!(gear.len(), 1);
    assert_eq!(gear[0]["kind"], "hook and line");
    assert_eq!((gear[0]["max_lines"].as_u64(), gear[0]["max_hooks"].as_u64()), (Some(1), Some(3)));
    for only_in_one in ["pollack", "bass"] {
        assert_eq!(both(only_in_one).fish()["answer"], "release", "{only_in_one}");
    }
}

#[test]
fn two_zones_of_two_authorities_bind_together() {
    let both = |more: &[&str]| ask("45.1120 -30.1925", NOON, &[&["--species", "sprat"], more].concat());
    let sprat = both(&[]);
    assert_eq!(sprat.fish()["answer"], "keep");
    sprat.is_off("lantern-reach", -196.732_685).is_off("board-roads", -196.732_685);
    assert_eq!(sprat.fish()["limits"]["bags"][0]["count"], 25, "the other file calls it brisling");
    let net = both(&["--gear", "hand net"]);
    assert_eq!(net.fish()["answer"], "release");
    assert!(net.fish_texts("because").contains("Board Roads"), "{}", net.fish());
}

#[test]
fn a_rule_that_another_displaces_is_printed_with_its_citation_and_does_not_bind() {
    let answer = ask("45.1130 -30.1825", NOON, &["--species", "mackerel"]);
    answer.says(
        "limited",
        1,
        [
            "RESTRICTED WATER: Lantern Lane",
            "KEEP mackerel, up to 20, if: see below",
            "INSIDE Lantern Lane by 197 m ±10 m",
        ],
    );
    let displaced = "displaced here by Lantern Lane (clause 6(2))";
    assert_eq!(texts(&answer.zone("lantern-reach")["displaced_by"]), displaced);
    assert!(answer.unwrapped().contains(displaced), "{}", answer.text);
}

#[test]
fn gear_is_held_against_its_limits() {
    let sound = |gear| ask("45.0425 -30.1175", NOON, &["--species", "cod", "--gear", gear]);
    let line = sound("hook and line");
    assert_eq!(line.fish()["answer"], "keep");
    assert!(line.fish_texts("conditions").contains("1 line, 2 hooks"), "{}", line.fish());
    assert_eq!(sound("gill net").fish()["answer"], "release");
    assert_eq!(sound("trap").fish()["answer"], "release");
}

#[test]
fn a_bait_rule_binds_whom_it_names() {
    let flats = |more: &[&str]| ask("45.0425 -30.0575", NOON, &[&["--species", "bass"], more].concat());
    let unsaid = flats(&[]);
    assert_eq!(unsaid.fish()["answer"], "keep");
    assert!(unsaid.fish_texts("conditions").contains("sand eel"), "{}", unsaid.fish());
    assert_eq!(flats(&["--bait", "squid"]).fish()["answer"], "keep");
    // launce is another name of the sand eel
    let launce = flats(&["--bait", "launce"]);
    let first =
        ["RESTRICTED WATER: 833 m ±10 m in Launce", "  Flats", "RELEASE bass caught here: wrong bait"];
    launce.says("limited", 1, first);
    let shore = ask("45.0425 -30.0575", NOON, &["--bait", "launce", "--access", "shore"]);
    assert_eq!((shore.json["water"].as_str(), shore.status), (Some("no-loaded-zone"), 0));
    assert_eq!(shore.text.lines().nth(1), Some("Does not bind you: Launce Flats"));
}

#[test]
fn what_nothing_offline_can_know_is_undecided() {
    let answer = ask(OLD_HAVEN, NOON, &["--species", "mackerel"]);
    assert_eq!((answer.fish()["answer"].as_str(), answer.status), (Some("undecided"), 3));
    assert!(answer.fish_texts("because").contains("quota"), "{}", answer.fish());
}

#[test]
fn lengths_and_numbers_are_held_against_size_and_bag() {
    let haven = |more: &[&str]| {
        let answer = ask(OLD_HAVEN, NOON, &[&["--species", "cod"], more].concat());
        answer.fish()["answer"].as_str().unwrap().to_owned()
    };
    assert_eq!(haven(&["--length-cm", "34.9"]), "release");
    assert_eq!(haven(&["--length-cm", "35", "--count", "3"]), "keep");
    assert_eq!(haven(&["--length-cm", "40", "--count", "4"]), "release");
}
