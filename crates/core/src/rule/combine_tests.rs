//! Several zones at once.

use proptest::prelude::*;

use super::test_fixtures::*;
use super::{
    Allowance, Bag, BagPer, Circumstances, Clash, Condition, Gear, GearAllowance, Limits, LimitsOf, Measure,
    Reason, Ruling, Size, TakeRule, ZoneRuling, combine, naming,
};
use crate::Tristate::{self, No, Undecided, Yes};

fn keep(rule: &TakeRule, name: &str) -> Ruling {
    ask(&Circumstances::default(), |inquiry| rule.keep(inquiry, &id(name)))
}

fn zone(name: &'static str, applies: Tristate, ruling: Ruling) -> ZoneRuling<'static> {
    ZoneRuling { zone: name, applies, ruling }
}

fn both(one: Ruling, other: Ruling) -> Ruling {
    combine(&[zone("Sallow Cove", Yes, one), zone("Gannet Bank", Yes, other)])
}

#[test]
fn overlap_is_the_most_restrictive() {
    let ab = only(set(&["sprat", "bass"]), bag(10, BagPer::PersonDay));
    let bc = only(set(&["bass", "cod"]), bag(4, BagPer::PersonDay));
    let answer = |name| both(keep(&ab, name), keep(&bc, name));
    assert_eq!(answer("sprat").allowed, No);
    assert_eq!(answer("cod").allowed, No);
    let bass = answer("bass");
    let at_most = |count, zone: &str| Condition::OfZone {
        zone: zone.to_owned(),
        condition: Box::new(Condition::Bag { bag: Bag { count, per: BagPer::PersonDay } }),
    };
    assert_eq!(bass.allowed, Yes);
    assert_eq!(bass.within.bags, [Bag { count: 4, per: BagPer::PersonDay }]);
    assert_eq!(
        bass.conditions,
        [
            Condition::AllZonesTogether { ways: vec![bass.within.clone()] },
            at_most(10, "Sallow Cove"),
            at_most(4, "Gannet Bank")
        ]
    );
    let of_the_cove = |why: &Reason| matches!(why, Reason::OfZone { zone, .. } if zone == "Sallow Cove");
    assert!(answer("cod").because.iter().all(of_the_cove));
}

#[test]
fn gear_of_one_and_fish_of_the_other_hold_together() {
    let finfish = only(group(&["finfish"], &[]), gear(vec![hook_and_line(Some(2), None)]));
    let pelagic = only(group(&["pelagic-finfish"], &[]), Limits::default());
    let mackerel = both(keep(&finfish, "mackerel"), keep(&pelagic, "mackerel"));
    assert_eq!(mackerel.allowed, Yes);
    assert_eq!(mackerel.within.gear, Some(vec![hook_and_line(Some(2), None)]));
    assert_eq!(both(keep(&finfish, "bass"), keep(&pelagic, "bass")).allowed, No);
}

#[test]
fn sizes_and_gear_with_nothing_in_common_refuse_with_the_reason() {
    let long = anything(vec![permit(set(&["bass"]), size(Some(40.0), None, Measure::TotalLength))]);
    let short = anything(vec![permit(set(&["bass"]), size(None, Some(35.0), Measure::TotalLength))]);
    let ruling = both(keep(&long, "bass"), keep(&short, "bass"));
    assert_eq!(ruling.allowed, No);
    let between = LimitsOf::Zones(vec!["Sallow Cove".into(), "Gannet Bank".into()]);
    assert_eq!(ruling.because, [Reason::Clash { clash: Clash::Sizes, between }]);
    let by_fork = anything(vec![permit(set(&["bass"]), size(None, Some(35.0), Measure::ForkLength))]);
    assert_eq!(both(keep(&long, "bass"), keep(&by_fork, "bass")).within.sizes.len(), 2);
    let line = only(set(&["bass"]), gear(vec![hook_and_line(None, None)]));
    let net = GearAllowance { kind: Gear("hand net".into()), ..hook_and_line(None, None) };
    let netted = only(set(&["bass"]), gear(vec![net.clone()]));
    assert_eq!(both(keep(&line, "bass"), keep(&netted, "bass")).allowed, No);
    let either = only(set(&["bass"]), gear(vec![net, hook_and_line(None, None)]));
    assert_eq!(both(keep(&line, "bass"), keep(&either, "bass")).allowed, Yes);
}

#[test]
fn a_zone_that_only_may_apply_raises_a_doubt_and_no_refusal() {
    let nothing = || Ruling::no(Reason::NothingMayBeTaken);
    let free = || Ruling::yes(Reason::TakeUnrestricted);
    let answer =
        |applies, ruling| combine(&[zone("Gannet Bank", Yes, free()), zone("Sallow Cove", applies, ruling)]);
    assert_eq!(answer(Undecided, nothing()).allowed, Undecided);
    assert_eq!(answer(No, nothing()).allowed, Yes);
    assert_eq!(answer(Yes, nothing()).allowed, No);
    assert_eq!(answer(Undecided, free()).allowed, Yes);
    let doubt = answer(Undecided, nothing());
    let because = vec![Reason::NothingMayBeTaken];
    assert!(doubt.because.contains(&Reason::ZoneMayApply { zone: "Sallow Cove".into(), because }));
    assert_eq!(combine(&[]).allowed, Yes);
}

#[test]
fn limits_that_clash_only_with_a_doubtful_zone_stay_undecided() {
    let sized = |min_cm, max_cm| Allowance {
        sizes: vec![Size { min_cm, max_cm, measure: Measure::TotalLength }],
        ..Allowance::default()
    };
    let long = Ruling { within: sized(Some(40.0), None), ..Ruling::yes(Reason::TakeUnrestricted) };
    let short = Ruling { within: sized(None, Some(30.0)), ..Ruling::yes(Reason::TakeUnrestricted) };
    let together = combine(&[zone("Gannet Bank", Yes, long), zone("Sallow Cove", Undecided, short)]);
    assert_eq!(together.allowed, Undecided);
    assert!(!together.settle.is_empty());
}

fn tristate() -> impl Strategy<Value = Tristate> {
    prop_oneof![Just(Yes), Just(No), Just(Undecided)]
}

fn a_yield() -> impl Strategy<Value = Allowance> {
    let measure = prop_oneof![Just(Measure::TotalLength), Just(Measure::ForkLength)];
    let size = (proptest::option::of(0_u8..40), proptest::option::of(20_u8..60), measure).prop_map(
        |(min, max, measure)| Size { min_cm: min.map(f64::from), max_cm: max.map(f64::from), measure },
    );
    let per = prop_oneof![Just(BagPer::PersonDay), Just(BagPer::BoatDay)];
    let bag = (1_u32..9, per).prop_map(|(count, per)| Bag { count, per });
    let kind = prop_oneof![Just("hook and line"), Just("Hook-and-Lines"), Just("pot"), Just("net")];
    let gear = (kind, proptest::option::of(1_u32..4)).prop_map(|(kind, max_lines)| GearAllowance {
        kind: Gear(kind.into()),
        max_lines,
        max_hooks: None,
        note: None,
    });
    let gears = proptest::option::of(proptest::collection::vec(gear, 1..3));
    let sizes = proptest::option::of(size);
    (proptest::option::of(bag), sizes, gears, any::<bool>()).prop_map(|(bag, size, gear, no_nets)| {
        let limits = Limits {
            bag,
            size,
            gear: gear.unwrap_or_default(),
            gear_forbidden: if no_nets { vec![Gear("nets".into())] } else { vec![] },
            ..Limits::default()
        };
        Allowance::of(&limits).unwrap_or_default()
    })
}

fn ruling() -> impl Strategy<Value = Ruling> {
    (tristate(), proptest::collection::vec(a_yield(), 1..3)).prop_map(|(allowed, ways)| {
        let mut ruling = Ruling { allowed, ..Ruling::yes(Reason::TakeUnrestricted) };
        if allowed != No {
            ruling.set_ways(super::allowance::distinct(ways));
        }
        ruling
    })
}

/// What has to be the same whatever the order: the answer and the limits, alternatives included. Which of two
/// spellings of one gear is shown may hang on the order.
fn essence(ruling: &Ruling) -> (Tristate, Vec<Allowance>) {
    let mut ways = ruling.ways();
    for way in &mut ways {
        for allowance in way.gear.iter_mut().flatten() {
            allowance.kind = Gear(naming::key(&allowance.kind.0));
        }
        for kind in &mut way.gear_forbidden {
            *kind = Gear(naming::key(&kind.0));
        }
        way.gear_forbidden.sort();
    }
    ways.sort_by(|one, other| one.partial_cmp(other).unwrap());
    (ruling.allowed, ways)
}

proptest! {
    #[test]
    fn combining_does_not_hang_on_the_order(
        mut zones in proptest::collection::vec((tristate(), ruling()), 0..4), turn in 0_usize..4,
    ) {
        let all = |zones: &[(Tristate, Ruling)]| {
            let zones: Vec<_> = zones.iter().map(|(applies, ruling)| zone("a", *applies, ruling.clone())).collect();
            combine(&zones)
        };
        let straight = all(&zones);
        let by = turn % zones.len().max(1);
        zones.rotate_left(by);
        prop_assert_eq!(essence(&straight), essence(&all(&zones)));
        zones.reverse();
        prop_assert_eq!(essence(&straight), essence(&all(&zones)));
    }

    #[test]
    fn zones_that_apply_combine_in_any_grouping(a in ruling(), b in ruling(), c in ruling()) {
        let left = both(both(a.clone(), b.clone()), c.clone());
        let right = both(a, both(b, c));
        prop_assert_eq!(essence(&left), essence(&right));
    }

    #[test]
    fn another_zone_never_allows_more(a in ruling(), applies in tristate(), b in ruling()) {
        let alone = combine(&[zone("a", Yes, a.clone())]).allowed;
        let with = combine(&[zone("a", Yes, a), zone("b", applies, b)]).allowed;
        prop_assert!(with == alone || with == No || (with == Undecided && alone == Yes));
    }

    #[test]
    fn kleene_laws(a in tristate(), b in tristate(), c in tristate()) {
        prop_assert_eq!(a.and(b), b.and(a));
        prop_assert_eq!(a.or(b), b.or(a));
        prop_assert_eq!(a.and(b).and(c), a.and(b.and(c)));
        prop_assert_eq!(a.or(b).or(c), a.or(b.or(c)));
        prop_assert_eq!(a.and(b).negated(), a.negated().or(b.negated()));
        prop_assert_eq!(a.or(b).negated(), a.negated().and(b.negated()));
        prop_assert_eq!(a.and(b.or(c)), a.and(b).or(a.and(c)));
        prop_assert_eq!(a.negated().negated(), a);
    }
}
