//! Twenty rules in the shapes that real rules have, and the awkward cases.

use super::test_fixtures::*;
use super::{
    Access, Bag, BagPer, Bait, Circumstances, Condition, Gear, GearAllowance, Limits, Measure, NameMatch,
    Permit, PermitSummary, Possession, Reason, Remedy, RuleSummary, Ruling, SetNames, Take, TakeRule,
    TakeSummary, When,
};
use crate::Tristate::{self, No, Undecided, Yes};

fn keep(rule: &TakeRule, known: &Circumstances, name: &str) -> Ruling {
    ask(known, |inquiry| match inquiry.catalogue.resolve(name) {
        NameMatch::Taxa(taxa) => rule.keep_any_of(inquiry, &taxa),
        NameMatch::Unknown { suggestions } => rule.keep_unknown(inquiry, &suggestions),
    })
}

fn possess(rule: &TakeRule, name: &str) -> Ruling {
    ask(&Circumstances::default(), |inquiry| match inquiry.catalogue.resolve(name) {
        NameMatch::Taxa(taxa) => rule.possess(inquiry, &taxa),
        NameMatch::Unknown { .. } => rule.possess(inquiry, &[]),
    })
}

fn limit(limits: Limits) -> Permit {
    Permit { taxa: None, when: When::Always, limits, clause: None }
}

fn timed(taxa: &[&str], when: When) -> TakeRule {
    rule(Take::Only(vec![Permit { when, ..permit(set(taxa), Limits::default()) }]))
}

/// Five queries of each of the twenty rules of M11: what is known, the name asked, the answer.
type Query = (Circumstances, &'static str, Tristate);

fn plain(queries: [(&'static str, Tristate); 5]) -> Vec<Query> {
    queries.into_iter().map(|(name, answer)| (Circumstances::default(), name, answer)).collect()
}

#[expect(clippy::too_many_lines, reason = "a table")]
fn rules_of_kinds() -> Vec<(&'static str, TakeRule, Vec<Query>)> {
    vec![
        (
            "nothing",
            rule(Take::Nothing),
            plain([("sprat", No), ("lobster", No), ("tuna", No), ("cod", No), ("sprta", No)]),
        ),
        (
            "listed species",
            only(set(&["sprat", "sand-smelt"]), Limits::default()),
            plain([
                ("brisling", Yes),
                ("sand smelts", Yes),
                ("bass", No),
                ("lobster", No),
                ("sprta", Undecided),
            ]),
        ),
        (
            "listed group but one",
            only(group(&["bait-fish"], &["sand-eel"]), Limits::default()),
            plain([("sprat", Yes), ("sand eel", No), ("lance", No), ("bait fish", Undecided), ("cod", No)]),
        ),
        (
            "genus in a nested group",
            only(group(&["finfish"], &[]), Limits::default()),
            plain([("albacore", Yes), ("tuna", Yes), ("sprat", Yes), ("cod", Yes), ("lobster", No)]),
        ),
        (
            "all but one species",
            rule(Take::AllExcept(set(&["bluefin"]))),
            plain([
                ("albacore", Yes),
                ("bluefin tuna", No),
                ("tuna", Undecided),
                ("cod", Yes),
                ("xyzzy", Undecided),
            ]),
        ),
        (
            "anything",
            anything(vec![]),
            plain([("sprat", Yes), ("lobster", Yes), ("cod", Yes), ("tuna", Yes), ("nothing known", Yes)]),
        ),
        (
            "out of season",
            timed(&["lobster"], closed()),
            plain([("lobster", No), ("sprat", No), ("cod", No), ("tuna", No), ("lobter", No)]),
        ),
        (
            "until a quota is taken",
            timed(&["mackerel"], When::Unknowable("when the quota is taken".into())),
            plain([
                ("mackerel", Undecided),
                ("sprat", No),
                ("cod", No),
                ("tuna", No),
                ("makerel", Undecided),
            ]),
        ),
        (
            "two seasons, one open",
            rule(Take::Only(vec![
                Permit { when: closed(), ..permit(set(&["bass"]), Limits::default()) },
                permit(set(&["mackerel"]), Limits::default()),
            ])),
            plain([("bass", No), ("mackerel", Yes), ("cod", No), ("wrasse", No), ("basss", Undecided)]),
        ),
        (
            "possession barred, take of listed fish",
            TakeRule { possession: Possession::Forbidden, ..only(set(&["wrasse"]), Limits::default()) },
            plain([("wrasse", Yes), ("wrasses", Yes), ("bass", No), ("lobster", No), ("cod", No)]),
        ),
    ]
}

#[expect(clippy::too_many_lines, reason = "a table")]
fn rules_of_manner() -> Vec<(&'static str, TakeRule, Vec<Query>)> {
    let net = |kind: &str| Gear(kind.to_owned());
    let known = Circumstances::default;
    let baited = |bait: &str| Circumstances { bait: Some(bait.into()), ..from(Access::Boat) };
    let kept = |count| Circumstances { count: Some(count), ..known() };
    let forbid = Limits { gear_forbidden: vec![net("net")], ..Limits::default() };
    vec![
        (
            "one line, two hooks",
            only(group(&["finfish"], &[]), gear(vec![hook_and_line(Some(1), Some(2))])),
            vec![
                (known(), "bass", Yes),
                (with_gear("Hook-and-line"), "bass", Yes),
                (with_gear("hand net"), "bass", No),
                (with_gear("hook and lime"), "bass", Undecided),
                (with_gear("hook and line"), "lobster", No),
            ],
        ),
        (
            "no nets",
            anything(vec![limit(forbid)]),
            vec![
                (known(), "bass", Yes),
                (with_gear("nets"), "bass", No),
                (with_gear("gill net"), "bass", Undecided),
                (with_gear("hook and line"), "bass", Yes),
                (with_gear("pot"), "lobster", Yes),
            ],
        ),
        (
            "bait as the trigger, from boats",
            no_sand_eel_from_boats(),
            vec![
                (from(Access::Shore), "bass", Yes),
                (from(Access::Boat), "bass", No),
                (baited("lance"), "cod", No),
                (baited("mackerel"), "cod", Yes),
                (known(), "mackerel", Undecided),
            ],
        ),
        (
            "only divers bound",
            TakeRule { binds: vec![Access::Diving], ..rule(Take::Nothing) },
            vec![
                (from(Access::Diving), "lobster", No),
                (from(Access::Boat), "lobster", Yes),
                (from(Access::Shore), "lobster", Yes),
                (known(), "lobster", Undecided),
                (from(Access::Diving), "lobstre", No),
            ],
        ),
        (
            "shortest length",
            anything(vec![Permit {
                taxa: Some(set(&["bass"])),
                ..limit(size(Some(40.0), None, Measure::TotalLength))
            }]),
            vec![
                (known(), "bass", Yes),
                (long(39.9), "bass", No),
                (long(40.0), "bass", Yes),
                (long(20.0), "cod", Yes),
                (long(f64::NAN), "bass", Undecided),
            ],
        ),
        (
            "slot of lengths",
            only(set(&["lobster"]), size(Some(9.0), Some(13.0), Measure::CarapaceLength)),
            vec![
                (long(8.9), "lobster", No),
                (long(9.0), "lobster", Yes),
                (long(13.1), "lobster", No),
                (known(), "lobster", Yes),
                (long(10.0), "sprat", No),
            ],
        ),
        (
            "bag",
            anything(vec![limit(bag(5, BagPer::PersonDay))]),
            vec![
                (known(), "bass", Yes),
                (kept(5), "bass", Yes),
                (kept(6), "bass", No),
                (kept(0), "bass", Yes),
                (kept(6), "unheard of", No),
            ],
        ),
        (
            "bag of none for one fish",
            anything(vec![Permit { taxa: Some(set(&["wrasse"])), ..limit(bag(0, BagPer::PersonDay)) }]),
            plain([("wrasse", No), ("bass", Yes), ("cod", Yes), ("finfish", Undecided), ("lobster", Yes)]),
        ),
        (
            "one by hand line, another by pot",
            rule(Take::Only(vec![
                permit(set(&["mackerel"]), gear(vec![hook_and_line(Some(3), None)])),
                permit(
                    set(&["lobster"]),
                    gear(vec![GearAllowance { kind: net("pot"), ..hook_and_line(None, None) }]),
                ),
            ])),
            vec![
                (with_gear("pots"), "lobster", Yes),
                (with_gear("pot"), "mackerel", No),
                (with_gear("hook and line"), "mackerel", Yes),
                (with_gear("hook and line"), "lobster", No),
                (known(), "lobster", Yes),
            ],
        ),
        (
            "limit that may not hold",
            anything(vec![Permit {
                when: When::Unknowable("by notice".into()),
                ..limit(size(Some(30.0), None, Measure::ForkLength))
            }]),
            vec![
                (known(), "bass", Yes),
                (long(31.0), "bass", Yes),
                (long(29.0), "bass", Undecided),
                (long(30.0), "cod", Yes),
                (known(), "bas", Yes),
            ],
        ),
    ]
}

#[test]
fn twenty_rules_answer_five_queries_each() {
    let rules = [rules_of_kinds(), rules_of_manner()].concat();
    assert_eq!(rules.len(), 20);
    for (shape, rule, queries) in rules {
        assert_eq!(queries.len(), 5, "{shape}");
        for (known, name, answer) in queries {
            let ruling = keep(&rule, &known, name);
            assert_eq!(ruling.allowed, answer, "{shape}: {name}, {known:?}: {ruling:#?}");
            assert!(!ruling.because.is_empty(), "{shape}: {name}");
            assert_eq!(ruling.settle.is_empty(), answer != Undecided, "{shape}: {name}: {ruling:#?}");
            assert!(answer != No || ruling.conditions.is_empty(), "{shape}: {name}: {ruling:#?}");
        }
    }
}

#[test]
fn facts_that_nobody_gave_become_conditions_and_given_ones_reasons() {
    let one_line = gear(vec![hook_and_line(Some(1), Some(2))]);
    let limits =
        Limits { bag: bag(10, BagPer::PersonDay).bag, conditions: vec!["return by noon".into()], ..one_line };
    let rule = only(set(&["bass"]), limits);
    let unsaid = keep(&rule, &Circumstances::default(), "bass").conditions;
    let (ten, noon) =
        (Bag { count: 10, per: BagPer::PersonDay }, || Condition::Law { text: "return by noon".into() });
    let lines = || vec![hook_and_line(Some(1), Some(2))];
    assert_eq!(unsaid, [Condition::OnlyWith { gear: lines() }, Condition::Bag { bag: ten }, noon()]);
    let said = Circumstances { count: Some(3), ..with_gear("hook and line") };
    let ruling = keep(&rule, &said, "bass");
    assert_eq!(ruling.conditions, [Condition::With { gear: lines() }, noon()]);
    assert!(ruling.because.contains(&Reason::CountWithin { count: 3, bag: ten }));
}

#[test]
fn either_of_two_permissions_is_enough() {
    let pot = GearAllowance { kind: Gear("pot".into()), ..hook_and_line(None, None) };
    let rule = rule(Take::Only(vec![
        permit(set(&["lobster"]), Limits { bag: bag(2, BagPer::PersonDay).bag, ..gear(vec![pot]) }),
        permit(set(&["lobster"]), bag(1, BagPer::PersonDay)),
    ]));
    let ruling = keep(&rule, &Circumstances::default(), "lobster");
    let with_pot = || Condition::OnlyWith {
        gear: vec![GearAllowance { kind: Gear("pot".into()), ..hook_and_line(None, None) }],
    };
    let at_most = |count| Condition::Bag { bag: Bag { count, per: BagPer::PersonDay } };
    let ways = vec![vec![with_pot(), at_most(2)], vec![at_most(1)]];
    assert_eq!(ruling.conditions, [Condition::Either { ways }]);
    assert_eq!(ruling.otherwise.len(), 1);
    let many = Circumstances { count: Some(2), ..Circumstances::default() };
    assert_eq!(keep(&rule, &many, "lobster").conditions, [with_pot()]);
}

#[test]
fn bait_adrift_inside_a_closed_zone_is_the_callers_doubt_and_stays_undecided() {
    // The hull is outside, the bait perhaps not: whether the zone applies is undecided, and so is the answer.
    let ruling = keep(&rule(Take::Nothing), &Circumstances::default(), "bass");
    let zone = super::ZoneRuling { zone: "Sallow Cove", applies: Undecided, ruling };
    let together = super::combine(&[zone]);
    assert_eq!(together.allowed, Undecided);
    assert_eq!(together.settle, [Remedy::SettleWhetherZoneApplies { zone: "Sallow Cove".into() }]);
}

#[test]
fn an_ambiguous_name_is_undecided_only_where_the_answers_differ() {
    let ruling = keep(&only(set(&["potato-cod"]), Limits::default()), &Circumstances::default(), "cod");
    assert_eq!(ruling.allowed, Undecided);
    let (potato_cod, cod) = ("potato cod (Epinephelus tukula)".to_owned(), "cod (Gadus morhua)".to_owned());
    assert_eq!(
        ruling.because,
        [
            Reason::TheseMayBeKept { fish: vec![potato_cod.clone()] },
            Reason::TheseMayNotBeKept { fish: vec![cod.clone()] }
        ]
    );
    assert_eq!(ruling.settle, [Remedy::SayWhichFish { fish: vec![cod, potato_cod] }]);
    let both = only(set(&["potato-cod", "cod"]), bag(3, BagPer::BoatDay));
    let ruling = keep(&both, &Circumstances::default(), "cod");
    assert_eq!((ruling.allowed, ruling.conditions.len()), (Yes, 1));
    assert_eq!(keep(&rule(Take::Nothing), &Circumstances::default(), "cod").allowed, No);
}

#[test]
fn a_group_but_one_member_and_a_juvenile_name() {
    let rule = only(group(&["finfish"], &["bluefin"]), Limits::default());
    let tuna = keep(&rule, &Circumstances::default(), "Thunnus");
    assert_eq!(tuna.allowed, Undecided);
    let which = |fish: &[&str]| {
        let fish = fish.iter().map(|name| (*name).to_owned()).collect();
        Remedy::SayWhichFish { fish }
    };
    let (albacore, bluefin) = ("albacore (Thunnus alalunga)", "bluefin tuna (Thunnus thynnus)");
    assert_eq!(tuna.settle, [which(&["tuna (Thunnus)", albacore, bluefin]), which(&[albacore, bluefin])]);
    assert_eq!(keep(&rule, &Circumstances::default(), "codling").allowed, Yes);
}

#[test]
fn a_catch_from_outside_and_a_launch_inside_a_possession_ban() {
    let ban = TakeRule { possession: Possession::Forbidden, ..rule(Take::Nothing) };
    assert_eq!(possess(&ban, "bass").allowed, No);
    let through = TakeRule {
        possession: Possession::WhileCrossing,
        passage: Some(passage("not in the water")),
        ..rule(Take::Nothing)
    };
    let ruling = possess(&through, "bass");
    assert_eq!(ruling.allowed, Yes);
    assert!(ruling.conditions.contains(&Condition::GearState { words: "not in the water".into() }));
    assert_eq!(keep(&through, &Circumstances::default(), "bass").allowed, No);
    assert_eq!(possess(&rule(Take::Nothing), "bass").allowed, Undecided);
}

#[test]
fn carrying_is_apart_from_taking() {
    let reserve = TakeRule { possession: Possession::Allowed, ..rule(Take::Nothing) };
    assert_eq!(keep(&reserve, &Circumstances::default(), "lobster").allowed, No);
    assert_eq!(possess(&reserve, "lobster").allowed, Yes);
    assert_eq!(possess(&reserve, "no such fish").allowed, Yes);
    let as_take = TakeRule { possession: Possession::AsTake, ..only(set(&["sprat"]), Limits::default()) };
    assert_eq!(possess(&as_take, "sprat").allowed, Yes);
    assert_eq!(possess(&as_take, "bass").allowed, No);
    let unstated = only(set(&["sprat"]), gear(vec![hook_and_line(None, None)]));
    assert_eq!(possess(&unstated, "sprat").allowed, Yes);
    assert!(possess(&unstated, "sprat").conditions.is_empty());
    assert_eq!(possess(&unstated, "bass").allowed, Undecided);
}

#[test]
fn a_possession_limit_counts_the_fish_of_yesterday() {
    let rule = anything(vec![limit(bag(4, BagPer::PersonAtOnce))]);
    let ruling = keep(&rule, &Circumstances::default(), "bass");
    assert_eq!(ruling.conditions, [Condition::Bag { bag: Bag { count: 4, per: BagPer::PersonAtOnce } }]);
    let cooler = Circumstances { count: Some(5), ..Circumstances::default() };
    assert_eq!(keep(&rule, &cooler, "bass").allowed, No);
}

/// A size that is not a number was kept by every fish.
#[test]
fn a_size_that_is_no_number_lets_nothing_be_kept() {
    for (min, max) in [(Some(f64::NAN), None), (Some(10.0), Some(f64::INFINITY))] {
        let rule = anything(vec![limit(size(min, max, Measure::TotalLength))]);
        for circumstances in [long(1.0), long(45.0), Circumstances::default()] {
            assert_eq!(keep(&rule, &circumstances, "bass").allowed, Undecided);
        }
    }
}

#[test]
fn a_length_on_the_limit_and_fork_against_total_length() {
    let rule = anything(vec![limit(size(Some(40.0), None, Measure::TotalLength))]);
    let ruling = keep(&rule, &long(40.0), "bass");
    assert_eq!(ruling.allowed, Yes);
    assert_eq!(
        ruling.conditions,
        [Condition::MeasuredAs { measure: Measure::TotalLength }, Condition::OnTheLimit { length_cm: 40.0 }]
    );
    let fork = anything(vec![limit(size(Some(40.0), None, Measure::ForkLength))]);
    let of_fork = super::Size { min_cm: Some(40.0), max_cm: None, measure: Measure::ForkLength };
    let unmeasured = keep(&fork, &Circumstances::default(), "bass").conditions;
    assert_eq!(unmeasured, [Condition::Size { size: of_fork }]);
    let unsaid = anything(vec![limit(size(Some(40.0), None, Measure::Unstated))]);
    let measured = keep(&unsaid, &long(45.0), "bass").conditions;
    assert_eq!(measured, [Condition::MeasuredAs { measure: Measure::Unstated }]);
}

#[test]
fn a_slip_of_the_pen_is_asked_back_and_never_answered() {
    let rule = only(set(&["sprat"]), Limits::default());
    let ruling = keep(&rule, &Circumstances::default(), "sprta");
    assert_eq!(ruling.settle, [Remedy::DidYouMean { names: vec!["sprat".into()] }]);
    let ruling = keep(&rule, &Circumstances::default(), "xyzzy");
    assert_eq!(ruling.settle, [Remedy::UseAListedName]);
    let nothing = keep(&super::test_fixtures::rule(Take::Nothing), &Circumstances::default(), "xyzzy");
    assert_eq!(nothing.because, [Reason::NothingWhateverItIs]);
}

#[test]
fn three_states_of_gear_are_three_conditions() {
    let states = ["not in the water", "inoperative and inboard", "un-rigged when anchored"];
    let said: Vec<Vec<Condition>> = states.iter().map(|state| passage(state).to_cross()).collect();
    for (state, to_cross) in states.iter().zip(&said) {
        assert!(to_cross.contains(&Condition::GearState { words: (*state).to_owned() }));
    }
    assert!(said[0] != said[1] && said[1] != said[2] && said[0] != said[2]);
    assert_eq!(rule(Take::Nothing).to_cross(), [Condition::CrossingUnsaid]);
    let timed = super::Passage {
        continuous: true,
        min_speed_kn: Some(3.0),
        max_stop_min: Some(2.5),
        ..passage("stowed")
    };
    let to_cross = timed.to_cross();
    assert!(to_cross.contains(&Condition::MinSpeed { speed_kn: 3.0 }));
    assert!(to_cross.contains(&Condition::MaxStop { stop_min: 2.5 }));
}

#[test]
fn rules_in_short() {
    let fish = catalogue();
    let names = |listed: &[&str]| SetNames {
        listed: listed.iter().map(|name| (*name).to_owned()).collect(),
        except: Vec::new(),
    };
    let short = |take| RuleSummary { take, gear: Vec::new(), binds: Vec::new() };
    let permits = |listed: &[&str], at_set_times| {
        let permits = vec![PermitSummary { fish: Some(names(listed)), at_set_times }];
        short(TakeSummary::Only { permits })
    };
    let but = |listed: &[&str]| short(TakeSummary::AnythingBut { except: names(listed) });
    assert_eq!(rule(Take::Nothing).summary(&fish), short(TakeSummary::Nothing));
    assert_eq!(
        only(set(&["sprat", "sand-smelt"]), Limits::default()).summary(&fish),
        permits(&["sprat", "sand smelt"], false)
    );
    let lines = || limit(gear(vec![hook_and_line(None, None)]));
    // said by two limits, told once
    let rule = TakeRule { limits: vec![lines(), lines()], ..rule(Take::AllExcept(set(&["lobster"]))) };
    let line_only = vec![vec![Gear("hook and line".into())]];
    assert_eq!(rule.summary(&fish), RuleSummary { gear: line_only, ..but(&["lobster"]) });
    let from_boats = RuleSummary { binds: vec![Access::Boat], ..but(&["bass"]) };
    assert_eq!(no_sand_eel_from_boats().summary(&fish), from_boats);
    assert_eq!(timed(&["bass"], closed()).summary(&fish), permits(&["bass"], true));
}

#[test]
fn faults_of_a_rule_say_where_what_and_how_to_mend() {
    let fish = catalogue();
    let sound = rules_of_kinds().into_iter().chain(rules_of_manner());
    for (shape, rule, _) in sound {
        assert!(rule.faults(&fish).is_empty(), "{shape}");
    }
    let nets = GearAllowance { kind: Gear("nets".into()), ..hook_and_line(None, None) };
    let both = Limits { gear_forbidden: vec![Gear("net".into())], ..gear(vec![nets]) };
    let broken = TakeRule {
        limits: vec![
            limit(size(Some(50.0), Some(40.0), Measure::TotalLength)),
            limit(size(Some(f64::NAN), None, Measure::Unstated)),
            limit(both),
        ],
        passage: Some(super::Passage { min_speed_kn: Some(-3.0), ..passage("stowed") }),
        ..only(set(&["spratt"]), Limits::default())
    };
    let faults: Vec<String> = broken.faults(&fish).iter().map(ToString::to_string).collect();
    assert_eq!(faults.len(), 5, "{faults:#?}");
    assert!(faults[0].starts_with("permission 1: the file has no taxon \"spratt\"; did you mean \"sprat\""));
    assert!(faults[1].starts_with("limit 1: "), "{faults:#?}");
    assert!(faults[3].contains("both allowed and forbidden"), "{faults:#?}");
}

#[test]
fn a_rule_that_does_not_bind_lets_an_unknown_name_be() {
    let divers = TakeRule { binds: vec![Access::Diving], ..rule(Take::Nothing) };
    assert_eq!(keep(&divers, &from(Access::Boat), "xyzzy").allowed, Yes);
    assert_eq!(keep(&divers, &Circumstances::default(), "xyzzy").allowed, Undecided);
}

#[test]
fn bait_goes_by_any_name_of_the_fish() {
    let rule = anything(vec![limit(Limits {
        bait: Some(Bait::Only(vec!["sand eel".into()])),
        ..Limits::default()
    })]);
    let baited = |bait: &str| Circumstances { bait: Some(bait.into()), ..Circumstances::default() };
    assert_eq!(keep(&rule, &baited("Lance"), "bass").allowed, Yes);
    assert_eq!(keep(&rule, &baited("lugworm"), "bass").allowed, No);
    assert_eq!(keep(&rule, &baited("bait fish"), "bass").allowed, Undecided);
    let rule_on_bait = Condition::Bait { rule: Bait::Only(vec!["sand eel".into()]) };
    assert_eq!(keep(&rule, &Circumstances::default(), "bass").conditions, [rule_on_bait]);
}
