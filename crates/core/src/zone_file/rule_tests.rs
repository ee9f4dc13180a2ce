use serde_json::{Value, json};

use super::test_files::*;
use super::*;
use crate::Tristate;
use crate::rule::{Access, BagPer, Measure};
use crate::rule::{Bait, Possession, Take};
use crate::zone::Status;

#[test]
fn a_permit_with_everything_is_read() {
    let permit = json!({ "taxa": ["bait-fish"], "except": ["sprat"], "when": { "weekdays": ["sunday"] },
        "gear": { "only": ["hand net", { "kind": "hook and line", "max_lines": 1, "max_hooks": 3 }], "not": ["trap"] },
        "bait": { "not": ["sand eel"] }, "bag": { "count": 5, "per": "person-day" },
        "size": { "min_cm": 12.5, "measure": "fork-length" }, "conditions": ["landed whole"], "clause": "4(2)" });
    let found = loaded(&with("take", json!({ "only": [permit] })));
    let Take::Only(permits) = &found.zones[0].rule.take else { panic!("only") };
    let permit = &permits[0];
    assert_eq!(permit.taxa.as_ref().expect("a set").except.len(), 1);
    assert_eq!((permit.limits.gear.len(), permit.limits.gear[1].max_hooks), (2, Some(3)));
    assert_eq!(permit.limits.bait, Some(Bait::Not(vec!["sand eel".to_owned()])));
    assert!(permit.limits.bag.is_some_and(|bag| bag.count == 5 && bag.per == BagPer::PersonDay));
    assert!(permit.limits.size.as_ref().is_some_and(|size| size.measure == Measure::ForkLength));
    assert_eq!(permit.clause.as_deref(), Some("4(2)"));
}

#[test]
fn gear_and_bait_of_the_zone_hold_for_every_fish() {
    let mut file = with("gear", json!({ "only": ["hook and line"] }));
    file["features"][0]["properties"]["take"] = json!("anything");
    let found = loaded(&file);
    let limit = &found.zones[0].rule.limits[0];
    assert!(limit.taxa.is_none() && limit.limits.gear.len() == 1);
    file["features"][0]["properties"]["take"] = json!("none");
    assert_eq!(loaded(&file).warnings[0].kind, WarningKind::NoEffect);
}

#[test]
fn possession_crossing_binding_and_overrides_are_read() {
    let mut file = with("possession", json!("while-crossing"));
    let properties = &mut file["features"][0]["properties"];
    properties["crossing"] =
        json!({ "allowed": true, "gear_state": "stowed", "min_speed_kn": 3, "continuous": true });
    properties["binds"] = json!(["boat", "diving"]);
    properties["overrides"] = json!([{ "zone": "outer-bank", "clause": "12" }]);
    properties["may_change_by_notice"] = json!(true);
    properties["status"] = json!("proposed");
    let found = loaded(&file);
    let zone = &found.zones[0];
    assert_eq!(zone.rule.possession, Possession::WhileCrossing);
    let passage = zone.rule.passage.as_ref().expect("is there");
    assert_eq!((passage.allowed, passage.anchoring), (Tristate::Yes, Tristate::Undecided));
    assert!(passage.continuous);
    assert_eq!(zone.rule.binds, [Access::Boat, Access::Diving]);
    assert_eq!(zone.overrides[0].zone.0, "outer-bank");
    assert_eq!(zone.status, Status::Proposed);
    // tricky case 52: nothing offline can know of a closure by notice
    assert!(zone.may_change_by_notice);
    assert_eq!(found.warnings[0].kind, WarningKind::ZoneElsewhere);
}

/// The fault names file and feature, and tells what `told` says.
fn faults_tell(member: &str, value: &Value, told: &str) {
    let text = refused(&with(member, value.clone()));
    assert!(text.contains(told), "{told}\nis not in\n{text}");
    assert!(text.starts_with("marrowick.json: feature 1 \"sallow-cove\", "), "{text}");
}

#[test]
fn faults_of_take_name_member_value_and_mend() {
    for (member, value, told) in [
        ("take", json!("nothing"), "take: \"nothing\" cannot be read here; write \"take\": \"none\""),
        ("take", json!({ "only": [] }), "only: is an empty list; write \"take\": \"none\""),
        ("take", json!({ "only": "sprat" }), "only: \"sprat\" cannot be read here; write a list"),
        ("take", json!({}), "says neither \"only\" nor \"all_except\""),
        (
            "take",
            json!({ "only": ["sprat"], "all_except": ["sprat"] }),
            "says both \"only\" and \"all_except\"",
        ),
        ("take", json!({ "only": [{ "except": ["sprat"] }] }), "\"except\" needs \"taxa\" beside it"),
        (
            "take",
            json!({ "only": [{ "taxa": ["sprat"], "except": ["bait-fish"] }] }),
            "\"bait-fish\" is a group; name taxa here",
        ),
        ("take", json!({ "only": [7] }), "only > entry 1: 7 cannot be read here; write an id in quotes"),
    ] {
        faults_tell(member, &value, told);
    }
}

#[test]
fn faults_of_limits_name_member_value_and_mend() {
    for (member, value, told) in [
        ("limits", json!([{ "taxa": ["sprat"] }]), "limits > entry 1: sets no limit; add gear"),
        (
            "limits",
            json!([{ "bag": { "count": -1, "per": "day" } }]),
            "bag > count: -1 cannot be read here; write how many",
        ),
        (
            "limits",
            json!([{ "bag": { "count": 1, "per": "day" } }]),
            "per: \"day\" is not one of \"person-day\"",
        ),
        (
            "limits",
            json!([{ "size": { "min_cm": 40, "max_cm": 30 } }]),
            "allows nothing: at least 40 cm and at most 30 cm",
        ),
        ("limits", json!([{ "size": { "min_cm": -4 } }]), "min_cm: -4 is too small; write centimetres"),
        ("limits", json!([{ "size": {} }]), "says neither \"min_cm\" nor \"max_cm\""),
        (
            "limits",
            json!([{ "size": { "min_cm": 4, "measure": "whole" } }]),
            "measure: \"whole\" is not one of \"total-length\"",
        ),
    ] {
        faults_tell(member, &value, told);
    }
}

#[test]
fn faults_of_the_rest_name_member_value_and_mend() {
    for (member, value, told) in [
        ("gear", json!({ "only": [] }), "gear > only: is an empty list"),
        ("gear", json!({}), "gear: says neither"),
        ("gear", json!({ "only": [{ "kinds": "x" }] }), "\"kind\" is missing"),
        ("bait", json!({ "only": ["a"], "not": ["b"] }), "bait: says both"),
        ("possession", json!("no"), "possession: \"no\" is not one of \"unstated\", \"allowed\""),
        ("crossing", json!({ "allowed": "yes" }), "allowed: \"yes\" cannot be read here; write true, false"),
        ("binds", json!([]), "binds: is an empty list; leave it out"),
        (
            "binds",
            json!(["kayak"]),
            "binds > entry 1: \"kayak\" is not one of \"boat\", \"shore\", \"diving\"",
        ),
        ("conditions", json!("one"), "conditions: \"one\" cannot be read here; write a list of texts"),
        ("conditions", json!(["a", null]), "conditions > entry 2: null cannot be read"),
        ("overrides", json!([{ "zone": "a" }]), "\"clause\" is missing; cite the clause"),
        ("overrides", json!([{ "zone": "sallow-cove", "clause": "1" }]), "a zone cannot displace itself"),
        ("source", json!({ "instrument": "  " }), "source > instrument: is empty"),
        ("source", json!({}), "source: \"instrument\" is missing; name the law"),
        (
            "source",
            json!({ "instrument": "a", "retrieved": "May" }),
            "retrieved: \"May\" cannot be read here; write year",
        ),
        ("line_uncertainty_m", json!(-1), "line_uncertainty_m: -1 is too small"),
        ("line_uncertainty_m", json!(1e9), "line_uncertainty_m: 1000000000 is too large"),
        ("on_the_line", json!("out"), "on_the_line: \"out\" is not one of \"inside\", \"outside\""),
        ("status", json!("in force"), "status: \"in force\" is not one of \"in-force\""),
    ] {
        faults_tell(member, &value, told);
    }
}

#[test]
fn take_and_source_have_to_be_there() {
    assert!(
        refused(&without("/features/0/properties", "take")).contains("\"take\" is missing; write \"take\"")
    );
    assert!(
        refused(&without("/features/0/properties", "source")).contains("\"source\" is missing; name the law")
    );
    assert!(refused(&without("/features/0", "properties")).contains("\"properties\" is missing"));
}

#[test]
fn faults_of_the_catalogue_are_told() {
    let twice = json!([{ "id": "sprat" }, { "id": "sprat" }]);
    let text = refused(&with_header("taxa", twice));
    assert!(text.contains("takeline > taxa > entry 2: the id \"sprat\" is given twice"), "{text}");
    let text = refused(&with_header("taxa", json!([{ "id": "sprat", "parent": "clupea" }])));
    assert!(text.contains("entry 1 > parent: no taxon and no group has the id \"clupea\"; add it"), "{text}");
    let text = refused(&with_header("groups", json!([{ "id": "bait-fish", "members": ["sprot"] }])));
    assert!(text.contains("groups > entry 1 > members > entry 1: no taxon"), "{text}");
    let text = refused(&with_header(
        "groups",
        json!([{ "id": "bait-fish" }, { "id": "sprat", "members": ["sprat"] }]),
    ));
    assert!(text.contains("\"members\" is missing"), "{text}");
    assert!(text.contains("entry 2: the id \"sprat\" is given twice"), "{text}");
    let text = refused(&with_header("taxa", json!([{ "id": "sprat", "names": [{ "txt": "x" }] }, 5])));
    assert!(text.contains("taxa > entry 2: 5 cannot be read here"), "{text}");
    assert!(
        text.contains("names > entry 1: the member \"txt\" has no meaning here; did you mean \"text\"?"),
        "{text}"
    );
}

/// What the rules themselves find wrong comes with the place in the file too.
#[test]
fn circles_and_gear_both_allowed_and_forbidden_are_told() {
    let round = json!([{ "id": "a", "members": ["b"] }, { "id": "b", "members": ["a"] }]);
    let text = refused(&with_header("groups", round));
    assert!(text.contains("takeline: group \"a\": "), "{text}");
    let text = refused(&with("gear", json!({ "only": ["trap"], "not": ["trap"] })));
    assert!(
        text.contains("feature 1 \"sallow-cove\": limit 1: trap is both allowed and forbidden; take it out"),
        "{text}"
    );
}
