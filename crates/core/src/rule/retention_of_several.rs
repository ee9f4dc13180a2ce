//! One name, several fish: the answer that all of them share, or which of them it hangs on.

use super::allowance;
use super::{Allowance, Condition, Inquiry, LimitsOf, Reason, Remedy, Ruling, TakeRule, TaxonId};
use crate::Tristate;

impl TakeRule {
    pub(super) fn keep_each_of(&self, inquiry: &Inquiry<'_>, taxa: &[TaxonId]) -> Ruling {
        let name = |taxon: &TaxonId| inquiry.catalogue.display_name(taxon);
        let each: Vec<(String, Ruling)> = taxa.iter().map(|t| (name(t), self.keep(inquiry, t))).collect();
        let all_yes = each.iter().all(|(_, ruling)| ruling.allowed == Tristate::Yes);
        if all_yes {
            return all_kept(each);
        }
        if each.iter().all(|(_, ruling)| ruling.allowed == Tristate::No) {
            return Ruling::refused(each.into_iter().flat_map(|(_, ruling)| ruling.because).collect());
        }
        let mut ruling = Ruling::of(Tristate::Undecided, Vec::new());
        for answer in [Tristate::Yes, Tristate::No, Tristate::Undecided] {
            let fish: Vec<String> =
                each.iter().filter(|(_, r)| r.allowed == answer).map(|(name, _)| name.clone()).collect();
            if !fish.is_empty() {
                ruling.because.push(match answer {
                    Tristate::Yes => Reason::TheseMayBeKept { fish },
                    Tristate::No => Reason::TheseMayNotBeKept { fish },
                    Tristate::Undecided => Reason::TheseAreUnsettled { fish },
                });
            }
        }
        let fish: Vec<String> = each.iter().map(|(name, _)| name.clone()).collect();
        let alike = each.iter().all(|(_, ruling)| ruling.allowed == Tristate::Undecided);
        if !alike {
            ruling.settle.push(Remedy::SayWhichFish { fish });
        }
        for (name, one) in each.into_iter().filter(|(_, one)| one.allowed != Tristate::No) {
            if one.allowed == Tristate::Undecided {
                ruling.because.extend(one.because);
                ruling.settle.extend(one.settle);
            }
            ruling.conditions.extend(one.conditions.into_iter().map(of_fish(&name)));
        }
        ruling.once()
    }
}

/// A condition for one fish of the name.
fn of_fish(fish: &str) -> impl Fn(Condition) -> Condition + '_ {
    |condition| Condition::OfFish { fish: fish.to_owned(), condition: Box::new(condition) }
}

/// All taxa that bear the name may be kept: conditions that they do not share carry the name of their taxon.
fn all_kept(each: Vec<(String, Ruling)>) -> Ruling {
    let mut ways = Ok(vec![Allowance::default()]);
    let mut sure = Ok(vec![Allowance::default()]);
    let mut ruling = Ruling::of(Tristate::Yes, Vec::new());
    let shared = each.first().map(|(_, one)| one.conditions.clone()).unwrap_or_default();
    let shared: Vec<Condition> = shared
        .into_iter()
        .filter(|condition| each.iter().all(|(_, one)| one.conditions.contains(condition)))
        .collect();
    ruling.conditions.clone_from(&shared);
    for (name, one) in each {
        ways = ways.and_then(|ways| allowance::ways_of_both(&ways, &one.ways()));
        sure = sure.and_then(|sure| allowance::ways_of_both(&sure, &one.sure_ways()));
        ruling.because.extend(one.because);
        let own = one.conditions.into_iter().filter(|condition| !shared.contains(condition));
        ruling.conditions.extend(own.map(of_fish(&name)));
    }
    match ways {
        Ok(ways) => {
            ruling.set_ways(ways);
            ruling.surely = sure.ok().filter(|sure| *sure != ruling.ways());
        }
        Err(clash) => {
            ruling.allowed = Tristate::Undecided;
            ruling.because.push(Reason::Clash { clash, between: LimitsOf::FishOfOneName });
            ruling.settle.push(Remedy::SayWhichOfThatName);
        }
    }
    ruling.once()
}
