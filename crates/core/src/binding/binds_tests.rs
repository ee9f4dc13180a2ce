//! Overrides in order, in circles and between files; and a second way to the answer.

use jiff::civil::Weekday;
use proptest::prelude::*;

use super::test_fixtures::{over, set, zone, zone_of};
use super::{BindingZone, ZoneHere};
use crate::Tristate::{self, No, Undecided, Yes};
use crate::rule::{Access, When};
use crate::zone::{Status, Zone, ZoneSet};

fn inside(zones: &ZoneSet, answers: &[Tristate]) -> Vec<BindingZone> {
    let here: Vec<ZoneHere> =
        answers.iter().enumerate().map(|(number, inside)| ZoneHere { number, inside: *inside }).collect();
    zones.binding_zones(&here, None, Some(Access::Boat))
}

fn binds(zones: &ZoneSet, answers: &[Tristate]) -> Vec<Tristate> {
    inside(zones, answers).iter().map(|one| one.binds).collect()
}

fn for_the_shore(zone: Zone) -> Zone {
    let mut zone = zone;
    zone.rule.binds = vec![Access::Shore];
    zone
}

#[test]
fn a_rule_that_binds_displaces_the_one_it_cites_and_cites_its_clause() {
    let zones = set([zone("reserve"), over(zone("lane"), &["reserve"])]);
    let found = inside(&zones, &[Yes, Yes]);
    assert_eq!((found[0].binds, found[0].displaced, found[1].binds), (No, Yes, Yes));
    assert_eq!(found[0].displaced_by[0].by, 1);
    assert_eq!(found[0].displaced_by[0].clause, "clause on reserve");
    assert_eq!(found[0].displaced_by[0].certainty, Yes);
}

#[test]
fn a_rule_that_does_not_bind_the_access_displaces_nothing() {
    let zones = set([zone("reserve"), for_the_shore(over(zone("lane"), &["reserve"]))]);
    assert_eq!(binds(&zones, &[Yes, Yes]), [Yes, No]);
}

#[test]
fn a_rule_that_is_no_law_out_of_season_or_elsewhere_displaces_nothing() {
    let lane = || over(zone("lane"), &["reserve"]);
    let repealed = Zone { status: Status::Repealed, ..lane() };
    assert_eq!(binds(&set([zone("reserve"), repealed]), &[Yes, Yes]), [Yes, No]);
    let never = Zone { when: When::Weekdays(vec![Weekday::Saturday]), ..lane() };
    let moment = Some("2026-07-01T10:00Z".parse().unwrap());
    let here = [0, 1].map(|number| ZoneHere { number, inside: Yes });
    let found = set([zone("reserve"), never]).binding_zones(&here, moment, None);
    assert_eq!((found[0].binds, found[1].binds), (Yes, No));
    assert_eq!(binds(&set([zone("reserve"), lane()]), &[Yes, No]), [Yes, No]);
}

#[test]
fn a_displaced_rule_displaces_nothing() {
    // lane over reserve over nursery: the reserve is gone, so the nursery stands
    let chain = [zone("nursery"), over(zone("reserve"), &["nursery"]), over(zone("lane"), &["reserve"])];
    assert_eq!(binds(&set(chain.clone()), &[Yes, Yes, Yes]), [Yes, No, Yes]);
    let turned = chain.into_iter().rev();
    assert_eq!(binds(&set(turned), &[Yes, Yes, Yes]), [Yes, No, Yes]);
}

#[test]
fn a_boat_perhaps_in_the_lane_is_perhaps_under_the_reserve() {
    let zones = set([zone("reserve"), over(zone("lane"), &["reserve"])]);
    let found = inside(&zones, &[Yes, Undecided]);
    assert_eq!((found[0].binds, found[0].displaced, found[1].binds), (Undecided, Undecided, Undecided));
    assert_eq!(found[0].displaced_by[0].certainty, Undecided);
}

#[test]
fn two_rules_that_displace_each_other_stay_undecided_and_neither_vanishes() {
    let zones = set([over(zone("a"), &["b"]), over(zone("b"), &["a"])]);
    assert_eq!(binds(&zones, &[Yes, Yes]), [Undecided, Undecided]);
    assert_eq!(zones.override_circles(), [[0, 1]]);
    // outside one of them there is no circle
    assert_eq!(binds(&zones, &[Yes, No]), [Yes, No]);
}

#[test]
fn what_hangs_on_a_circle_is_undecided_and_what_breaks_it_decides() {
    let circle = [over(zone("a"), &["b", "below"]), over(zone("b"), &["c"]), over(zone("c"), &["a"])];
    let with_below = circle.iter().cloned().chain([zone("below")]);
    assert_eq!(binds(&set(with_below), &[Yes; 4]), [Undecided; 4]);
    let broken = circle.into_iter().chain([zone("below"), over(zone("breaker"), &["c"])]);
    assert_eq!(binds(&set(broken), &[Yes; 5]), [Yes, No, No, No, Yes]);
}

#[test]
fn circles_are_told_in_the_order_in_which_they_displace_once_each() {
    let zones = set([
        over(zone("a"), &["b"]),
        over(zone("b"), &["c"]),
        over(zone("c"), &["a"]),
        over(zone("d"), &["e"]),
        over(zone("e"), &["d"]),
        over(zone("alone"), &["a", "d"]),
        over(zone("self"), &["self"]),
    ]);
    let circles = zones.override_circles();
    assert_eq!(circles.len(), 3, "{circles:?}");
    for circle in circles {
        for (at, number) in circle.iter().enumerate() {
            let next = circle[(at + 1) % circle.len()];
            let cites = &zones.zones()[*number].overrides;
            assert!(cites.iter().any(|cited| cited.zone == zones.zones()[next].id), "{circles:?}");
        }
    }
    assert!(
        set([zone("a"), over(zone("b"), &["a"]), over(zone("c"), &["a", "b"])]).override_circles().is_empty()
    );
}

#[test]
fn an_override_means_its_own_file_first_then_the_one_other_file_that_has_the_id() {
    let elsewhere = [zone_of("two", "reserve"), over(zone("lane"), &["reserve"])];
    assert_eq!(binds(&set(elsewhere.clone()), &[Yes, Yes]), [No, Yes]);
    let own_too = elsewhere.clone().into_iter().chain([zone("reserve")]);
    assert_eq!(binds(&set(own_too), &[Yes, Yes, Yes]), [Yes, Yes, No]);
    // nobody can say which of two other files is meant
    let either = elsewhere.into_iter().chain([zone_of("three", "reserve")]);
    assert_eq!(binds(&set(either), &[Yes, Yes, Yes]), [Undecided, Yes, Undecided]);
}

#[test]
fn an_override_of_a_zone_that_is_not_loaded_does_nothing() {
    let zones = set([over(zone("lane"), &["far away"])]);
    assert_eq!(binds(&zones, &[Yes]), [Yes]);
    assert!(zones.override_circles().is_empty());
}

#[test]
fn a_long_chain_is_settled_in_one_pass_whatever_its_order() {
    let count = 20_000;
    let link = |at: usize| over(zone(&format!("z{at}")), &[&format!("z{}", at + 1)]);
    let zones = set((0..count).map(link).rev());
    let found = binds(&zones, &vec![Yes; count]);
    let expected = (0..count).rev().map(|at| if at % 2 == 0 { Yes } else { No });
    assert!(found.into_iter().eq(expected));
}

/// The same answer by trying out every way in which what is not known may be: yes or no for each.
///
/// For sets without circles, where every way of being has one answer.
fn by_trying_out(zones: &ZoneSet, known: &[Tristate]) -> Vec<Tristate> {
    let open: Vec<usize> = (0..known.len()).filter(|at| known[*at] == Undecided).collect();
    let ways = (0..1_u32 << open.len()).map(|way| {
        let mut facts: Vec<Tristate> = known.to_vec();
        for (bit, at) in open.iter().enumerate() {
            facts[*at] = (way >> bit & 1 == 1).into();
        }
        binds(zones, &facts)
    });
    let ways: Vec<Vec<Tristate>> = ways.collect();
    (0..known.len())
        .map(|at| match ways.iter().map(|way| way[at]).collect::<Vec<_>>() {
            all if all.iter().all(|one| *one == Yes) => Yes,
            all if all.iter().all(|one| *one == No) => No,
            _ => Undecided,
        })
        .collect()
}

fn tristate() -> impl Strategy<Value = Tristate> {
    prop_oneof![Just(Yes), Just(No), Just(Undecided)]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2_000))]

    /// A decided answer holds in every way in which the undecided may turn out.
    #[test]
    fn what_is_decided_holds_however_the_rest_turns_out(
        known in prop::collection::vec(tristate(), 6),
        cited in prop::collection::vec(prop::bool::weighted(0.3), 15),
    ) {
        let mut pairs = (0..6).flat_map(|over| (0..over).map(move |under| (over, under)));
        let links: Vec<(usize, usize)> =
            cited.iter().filter_map(|cites| pairs.next().filter(|_| *cites)).collect();
        let one = |number: usize| {
            let under: Vec<String> =
                links.iter().filter(|(over, _)| *over == number).map(|(_, under)| format!("z{under}")).collect();
            over(zone(&format!("z{number}")), &under.iter().map(String::as_str).collect::<Vec<_>>())
        };
        let zones = set((0..6).map(one));
        prop_assert!(zones.override_circles().is_empty());
        let sure = by_trying_out(&zones, &known);
        for (found, sure) in binds(&zones, &known).into_iter().zip(sure) {
            prop_assert!(found == Undecided || found == sure, "{found:?} where it is {sure:?}");
        }
    }
}
