//! Invented fish lists in the shapes that real name lists have.

use proptest::prelude::*;

use super::{Catalogue, CommonName, Group, GroupId, NameMatch, Taxon, TaxonId, TaxonSet};
use crate::Tristate;

fn id(text: &str) -> TaxonId {
    TaxonId(text.to_owned())
}

fn set(taxa: &[&str], groups: &[&str], except: &[&str]) -> TaxonSet {
    TaxonSet {
        taxa: taxa.iter().map(|t| id(t)).collect(),
        groups: groups.iter().map(|g| GroupId((*g).to_owned())).collect(),
        except: except.iter().map(|t| id(t)).collect(),
    }
}

fn group(name: &str, members: TaxonSet) -> Group {
    let names = vec![CommonName { text: name.replace('-', " "), region: None }];
    Group { id: GroupId(name.to_owned()), names, members }
}

fn below(parent: &str, mut taxon: Taxon) -> Taxon {
    taxon.parent = Some(id(parent));
    taxon
}

fn coded(code: &str, mut taxon: Taxon) -> Taxon {
    taxon.fao = Some(code.to_owned());
    taxon
}

fn in_region(region: &str, mut taxon: Taxon) -> Taxon {
    for name in &mut taxon.names {
        name.region = Some(region.to_owned());
    }
    taxon
}

/// Scientific names and FAO codes SPR, COD, ELE as the ASFIS list has them (from memory); the rest is arranged.
fn catalogue() -> Catalogue {
    Catalogue {
        taxa: vec![
            coded("SPR", Taxon::named("sprat", "Sprattus sprattus", &["sprat", "brisling"])),
            Taxon::named("sebastes", "Sebastes", &["redfish"]),
            below(
                "sebastes",
                in_region("east", Taxon::named("golden", "Sebastes norvegicus", &["rockfish"])),
            ),
            below("sebastes", Taxon::named("beaked", "Sebastes mentella", &["beaked redfish"])),
            in_region("west", Taxon::named("striped", "Morone saxatilis", &["rockfish", "striped bass"])),
            coded("COD", Taxon::named("atlantic-cod", "Gadus morhua", &["Atlantic cod", "codling"])),
            Taxon::named("sablefish", "Anoplopoma fimbria", &["sablefish", "black cod"]),
            coded("ELE", Taxon::named("eel", "Anguilla anguilla", &["eel", "elver", "glass eel"])),
            Taxon::named("sand-eel", "Ammodytes tobianus", &["sand eel", "lançon"]),
        ],
        groups: vec![
            group("bait-fish", set(&["sprat", "sand-eel"], &[], &[])),
            group("round-fish", set(&["sebastes", "atlantic-cod"], &["bait-fish"], &["beaked", "sand-eel"])),
        ],
    }
}

fn found(name: &str) -> Vec<String> {
    match catalogue().resolve(name) {
        NameMatch::Taxa(taxa) => taxa.into_iter().map(|taxon| taxon.0).collect(),
        NameMatch::Unknown { suggestions } => panic!("{name} is unknown, suggested {suggestions:?}"),
    }
}

fn suggested(name: &str) -> Vec<String> {
    match catalogue().resolve(name) {
        NameMatch::Unknown { suggestions } => suggestions,
        NameMatch::Taxa(taxa) => panic!("{name} was taken for {taxa:?}"),
    }
}

#[test]
fn names_match_without_case_accents_hyphens_spaces_and_plurals() {
    for written in ["sprat", "SPRAT", " Sprats ", "brisling", "Sprattus sprattus", "sprattus-sprattus", "spr"]
    {
        assert_eq!(found(written), ["sprat"], "{written}");
    }
    for written in ["sandeel", "Sand-Eels", "sand  eel", "lancon", "LANÇON", "sand-eel"] {
        assert_eq!(found(written), ["sand-eel"], "{written}");
    }
}

#[test]
fn a_code_is_exactly_three_letters_and_may_be_a_name_too() {
    assert_eq!(found("cod"), ["atlantic-cod"]);
    assert_eq!(found("ELE"), ["eel"]);
    assert!(!suggested("ELE1").contains(&"ELE".to_owned()));
    assert!(matches!(catalogue().resolve("C-O-D"), NameMatch::Unknown { .. }));
}

#[test]
fn an_alias_of_several_taxa_gives_them_all_in_file_order() {
    assert_eq!(found("rockfish"), ["golden", "striped"]);
    let there = catalogue().resolve_in("rockfish", Some("West"));
    assert_eq!(there, NameMatch::Taxa(vec![id("striped")]));
    let elsewhere = catalogue().resolve_in("rockfish", Some("Marrowick"));
    assert_eq!(elsewhere, NameMatch::Taxa(vec![id("golden"), id("striped")]));
}

#[test]
fn a_group_gives_its_members_and_a_genus_everything_below_it() {
    assert_eq!(found("bait fish"), ["sprat", "sand-eel"]);
    assert_eq!(found("round-fish"), ["sprat", "sebastes", "golden", "atlantic-cod"]);
    assert_eq!(found("Sebastes"), ["sebastes", "golden", "beaked"]);
    assert_eq!(found("codlings"), ["atlantic-cod"]);
    assert_eq!(found("elver"), ["eel"]);
}

#[test]
fn an_unknown_name_is_never_taken_for_its_neighbour() {
    assert_eq!(suggested("sprta"), ["sprat"]);
    assert_eq!(suggested("strped bass").first().map(String::as_str), Some("striped bass"));
    assert!(suggested("black").contains(&"black cod".to_owned()));
    assert!(suggested("zzzzqqq").is_empty());
}

#[test]
fn suggestions_are_at_most_three_and_resolve() {
    for typo in ["redfsh", "sand el", "coddling", "eal", "Sebastes mentela", "bait fsh"] {
        let names = suggested(typo);
        assert!((1..=3).contains(&names.len()), "{typo}: {names:?}");
        assert!(names.iter().all(|name| !found(name).is_empty()), "{typo}: {names:?}");
    }
}

#[test]
fn empty_long_and_odd_input_is_unknown() {
    let long = "sprat".repeat(50);
    for odd in ["", "   ", "---", "\u{0}", "🐟", long.as_str(), "\u{301}"] {
        assert!(suggested(odd).is_empty(), "{odd:?}");
    }
}

#[test]
fn membership_runs_through_groups_and_parents_and_exceptions_win() {
    let fish = catalogue();
    let round = set(&[], &["round-fish"], &[]);
    assert_eq!(fish.contains(&round, &id("golden")), Tristate::Yes);
    assert_eq!(fish.contains(&round, &id("sprat")), Tristate::Yes);
    assert_eq!(fish.contains(&round, &id("beaked")), Tristate::No);
    assert_eq!(fish.contains(&round, &id("sand-eel")), Tristate::No);
    assert_eq!(fish.contains(&round, &id("eel")), Tristate::No);
    // A genus of which one species is taken out, or only one is listed, is neither in nor out.
    assert_eq!(fish.contains(&round, &id("sebastes")), Tristate::Undecided);
    assert_eq!(fish.contains(&set(&["golden"], &[], &[]), &id("sebastes")), Tristate::Undecided);
    assert_eq!(fish.contains(&set(&["sebastes"], &[], &["sebastes"]), &id("golden")), Tristate::No);
    assert_eq!(fish.contains(&TaxonSet::default(), &id("sprat")), Tristate::No);
    assert_eq!(fish.contains(&round, &id("never heard of")), Tristate::Undecided);
}

#[test]
fn circles_come_to_an_end_and_are_faults() {
    let mut fish = catalogue();
    fish.groups.push(group("one", set(&["eel"], &["two"], &[])));
    fish.groups.push(group("two", set(&[], &["one"], &[])));
    fish.taxa.push(below("b", Taxon::named("a", "", &["a"])));
    fish.taxa.push(below("a", Taxon::named("b", "", &["b"])));
    assert_eq!(fish.contains(&set(&[], &["two"], &[]), &id("eel")), Tristate::Yes);
    assert_eq!(fish.contains(&set(&[], &["two"], &[]), &id("a")), Tristate::No);
    assert_eq!(fish.resolve("a"), NameMatch::Taxa(vec![id("a"), id("b")]));
    let faults: Vec<String> = fish.faults().iter().map(ToString::to_string).collect();
    assert_eq!(faults.len(), 2, "{faults:#?}");
    assert!(faults[0].contains("parents lead in a circle"), "{faults:#?}");
    assert!(faults[1].contains("groups lead in a circle"), "{faults:#?}");
}

#[test]
fn faults_say_where_what_and_how_to_mend() {
    assert!(catalogue().faults().is_empty());
    let mut fish = catalogue();
    fish.taxa.push(coded("SPRT", Taxon::named("sprat", "", &[])));
    fish.taxa.push(below("sebaste", Taxon::named("deep", "", &[])));
    fish.groups.push(group("more", set(&["spratt"], &["bait-fsh"], &["ghost"])));
    let faults = fish.faults();
    let places: Vec<&str> = faults.iter().map(|fault| fault.place.as_str()).collect();
    assert_eq!(faults.len(), 6, "{faults:#?}");
    assert_eq!(places[0], "taxon \"sprat\"");
    assert!(faults[1].what.contains("SPRT"));
    assert!(faults[2].mend.contains("\"sebastes\""));
    assert!(faults[3].mend.contains("\"sprat\""));
    assert!(faults[5].mend.contains("\"bait-fish\""));
}

#[test]
fn a_long_chain_of_groups_and_parents_does_no_harm() {
    let mut fish = Catalogue::default();
    for n in 0..20_000 {
        let next = format!("g{}", n + 1);
        fish.groups.push(group(&format!("g{n}"), set(&[], &[next.as_str()], &[])));
        fish.taxa.push(below(&format!("t{}", n + 1), Taxon::named(&format!("t{n}"), "", &[])));
    }
    fish.groups.push(group("g20000", set(&["t0"], &[], &[])));
    fish.taxa.push(Taxon::named("t20000", "", &[]));
    assert_eq!(fish.contains(&set(&[], &["g0"], &[]), &id("t0")), Tristate::Yes);
    assert!(fish.faults().is_empty());
}

#[test]
fn names_shown_to_people() {
    let fish = catalogue();
    assert_eq!(fish.display_name(&id("sprat")), "sprat (Sprattus sprattus)");
    assert_eq!(fish.display_name(&id("ghost")), "ghost");
    let names = fish.set_names(&set(&["sprat"], &["round-fish"], &["eel"]));
    assert_eq!((names.listed, names.except), (vec!["round fish".into(), "sprat".into()], vec!["eel".into()]));
}

proptest! {
    #[test]
    fn no_input_panics_and_no_suggestion_is_a_match(name in "\\PC{0,40}") {
        if let NameMatch::Unknown { suggestions } = catalogue().resolve(&name) {
            prop_assert!(suggestions.len() <= 3);
        }
    }

    #[test]
    fn a_set_and_its_exceptions_never_both_hold(pick in 0_usize..9, listed in 0_usize..9) {
        let fish = catalogue();
        let (one, other) = (&fish.taxa[pick].id, &fish.taxa[listed].id);
        let with = TaxonSet { taxa: vec![other.clone()], ..TaxonSet::default() };
        let without = TaxonSet { except: vec![one.clone()], ..with.clone() };
        prop_assert_eq!(fish.contains(&without, one), Tristate::No);
        if one == other {
            prop_assert_ne!(fish.contains(&with, one), Tristate::No);
        }
    }
}
