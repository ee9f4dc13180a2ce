//! The invented fish and rules of the isle of Marrowick, in the shapes that real rules have.

use super::{
    Access, Bag, BagPer, Bait, Catalogue, Circumstances, CommonName, Gear, GearAllowance, Group, GroupId,
    Inquiry, Limits, Measure, Passage, Permit, Possession, Size, Take, TakeRule, Taxon, TaxonId, TaxonSet,
    TimeReason, Timing, When,
};
use crate::Tristate;

pub(super) fn id(text: &str) -> TaxonId {
    TaxonId(text.to_owned())
}

pub(super) fn set(ids: &[&str]) -> TaxonSet {
    TaxonSet { taxa: ids.iter().map(|one| id(one)).collect(), ..TaxonSet::default() }
}

pub(super) fn group(ids: &[&str], except: &[&str]) -> TaxonSet {
    let groups = ids.iter().map(|one| GroupId((*one).to_owned())).collect();
    TaxonSet { groups, except: except.iter().map(|one| id(one)).collect(), ..TaxonSet::default() }
}

pub(super) fn catalogue() -> Catalogue {
    let below = |parent: &str, taxon: Taxon| Taxon { parent: Some(id(parent)), ..taxon };
    let named = |name: &str, members: TaxonSet| Group {
        id: GroupId(name.to_owned()),
        names: vec![CommonName { text: name.replace('-', " "), region: None }],
        members,
    };
    Catalogue {
        taxa: vec![
            Taxon::named("sprat", "Sprattus sprattus", &["sprat", "brisling"]),
            Taxon::named("sand-smelt", "Atherina presbyter", &["sand smelt"]),
            Taxon::named("sand-eel", "Ammodytes tobianus", &["sand eel", "lance"]),
            Taxon::named("bass", "Dicentrarchus labrax", &["bass", "sea bass"]),
            Taxon::named("mackerel", "Scomber scombrus", &["mackerel"]),
            Taxon::named("tuna", "Thunnus", &["tuna"]),
            below("tuna", Taxon::named("albacore", "Thunnus alalunga", &["albacore"])),
            below("tuna", Taxon::named("bluefin", "Thunnus thynnus", &["bluefin tuna"])),
            Taxon::named("cod", "Gadus morhua", &["cod", "codling", "rockling cod"]),
            Taxon::named("potato-cod", "Epinephelus tukula", &["potato cod", "cod"]),
            Taxon::named("lobster", "Homarus gammarus", &["lobster"]),
            Taxon::named("wrasse", "Labrus bergylta", &["wrasse"]),
        ],
        groups: vec![
            named("bait-fish", set(&["sprat", "sand-smelt", "sand-eel"])),
            named(
                "pelagic-finfish",
                TaxonSet { taxa: set(&["mackerel", "tuna"]).taxa, ..group(&["bait-fish"], &[]) },
            ),
            named(
                "finfish",
                TaxonSet {
                    taxa: set(&["bass", "cod", "potato-cod", "wrasse"]).taxa,
                    ..group(&["pelagic-finfish"], &[])
                },
            ),
        ],
    }
}

pub(super) fn rule(take: Take) -> TakeRule {
    TakeRule {
        take,
        limits: Vec::new(),
        possession: Possession::Unstated,
        passage: None,
        binds: Vec::new(),
        conditions: Vec::new(),
    }
}

pub(super) fn permit(taxa: TaxonSet, limits: Limits) -> Permit {
    Permit { taxa: Some(taxa), when: When::Always, limits, clause: None }
}

pub(super) fn only(taxa: TaxonSet, limits: Limits) -> TakeRule {
    rule(Take::Only(vec![permit(taxa, limits)]))
}

pub(super) fn anything(limits: Vec<Permit>) -> TakeRule {
    TakeRule { limits, ..rule(Take::Anything) }
}

pub(super) fn hook_and_line(max_lines: Option<u32>, max_hooks: Option<u32>) -> GearAllowance {
    GearAllowance { kind: Gear("hook and line".to_owned()), max_lines, max_hooks, note: None }
}

pub(super) fn gear(kinds: Vec<GearAllowance>) -> Limits {
    Limits { gear: kinds, ..Limits::default() }
}

pub(super) fn bag(count: u32, per: BagPer) -> Limits {
    Limits { bag: Some(Bag { count, per }), ..Limits::default() }
}

pub(super) fn size(min_cm: Option<f64>, max_cm: Option<f64>, measure: Measure) -> Limits {
    Limits { size: Some(Size { min_cm, max_cm, measure }), ..Limits::default() }
}

pub(super) fn passage(gear_state: &str) -> Passage {
    Passage {
        allowed: Tristate::Yes,
        gear_state: Some(gear_state.to_owned()),
        continuous: false,
        min_speed_kn: None,
        max_stop_min: None,
        anchoring: Tristate::Undecided,
        conditions: Vec::new(),
        clause: None,
    }
}

/// Closed times stand for themselves: `Unknowable("closed")` is not in force, any other `Unknowable` is unsettled.
#[expect(clippy::wildcard_enum_match_arm, reason = "the stand-in tells only two sorts apart")]
pub(super) fn in_force(when: &When) -> Timing {
    let unknowable = |words: &str| vec![TimeReason::Unknowable { words: words.to_owned() }];
    let (answer, because) = match when {
        When::Unknowable(text) if text == "closed" => (Tristate::No, unknowable("the season is over")),
        When::Unknowable(text) => (Tristate::Undecided, unknowable(text)),
        _ => (Tristate::Yes, Vec::new()),
    };
    Timing { answer, because }
}

pub(super) fn closed() -> When {
    When::Unknowable("closed".to_owned())
}

pub(super) fn ask<T>(circumstances: &Circumstances, answer: impl FnOnce(&Inquiry<'_>) -> T) -> T {
    let catalogue = catalogue();
    answer(&Inquiry { catalogue: &catalogue, circumstances, in_force: &in_force, gear_is_unknown: false })
}

pub(super) fn from(access: Access) -> Circumstances {
    Circumstances { access: Some(access), ..Circumstances::default() }
}

pub(super) fn with_gear(kind: &str) -> Circumstances {
    Circumstances { gear: Some(Gear(kind.to_owned())), ..Circumstances::default() }
}

pub(super) fn long(length_cm: f64) -> Circumstances {
    Circumstances { length_cm: Some(length_cm), ..Circumstances::default() }
}

pub(super) fn no_sand_eel_from_boats() -> TakeRule {
    let bait = Some(Bait::Not(vec!["sand eel".to_owned()]));
    let limit =
        Permit { taxa: None, when: When::Always, limits: Limits { bait, ..Limits::default() }, clause: None };
    TakeRule { limits: vec![limit], binds: vec![Access::Boat], ..rule(Take::AllExcept(set(&["bass"]))) }
}
