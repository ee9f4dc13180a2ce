//! One name, several fish: the answer that all of them share, or which of them it hangs on.

use super::allowance;
use super::{Allowance, Inquiry, Ruling, TakeRule, TaxonId};
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
        let mut ruling = Ruling { because: Vec::new(), ..Ruling::of(Tristate::Undecided, String::new()) };
        for (answer, said) in [
            (Tristate::Yes, "may be kept"),
            (Tristate::No, "may not be kept"),
            (Tristate::Undecided, "not settled"),
        ] {
            let names: Vec<&str> =
                each.iter().filter(|(_, r)| r.allowed == answer).map(|(name, _)| name.as_str()).collect();
            if !names.is_empty() {
                ruling.because.push(format!("{said}: {}", names.join(", ")));
            }
        }
        let names: Vec<String> = each.iter().map(|(name, _)| name.clone()).collect();
        let alike = each.iter().all(|(_, ruling)| ruling.allowed == Tristate::Undecided);
        if !alike {
            ruling.settle.push(format!("say which: {}", names.join(", ")));
        }
        for (name, one) in each.into_iter().filter(|(_, one)| one.allowed != Tristate::No) {
            if one.allowed == Tristate::Undecided {
                ruling.because.extend(one.because);
                ruling.settle.extend(one.settle);
            }
            ruling.conditions.extend(one.conditions.iter().map(|condition| format!("{name}: {condition}")));
        }
        ruling.once()
    }
}

/// All taxa that bear the name may be kept: conditions that they do not share carry the name of their taxon.
fn all_kept(each: Vec<(String, Ruling)>) -> Ruling {
    let mut ways = Ok(vec![Allowance::default()]);
    let mut sure = Ok(vec![Allowance::default()]);
    let mut ruling = Ruling { because: Vec::new(), ..Ruling::of(Tristate::Yes, String::new()) };
    let shared: Vec<String> = each.first().map(|(_, one)| one.conditions.clone()).unwrap_or_default();
    let shared: Vec<String> = shared
        .into_iter()
        .filter(|condition| each.iter().all(|(_, one)| one.conditions.contains(condition)))
        .collect();
    ruling.conditions.clone_from(&shared);
    for (name, one) in each {
        ways = ways.and_then(|ways| allowance::ways_of_both(&ways, &one.ways()));
        sure = sure.and_then(|sure| allowance::ways_of_both(&sure, &one.sure_ways()));
        ruling.because.extend(one.because);
        let own = one.conditions.into_iter().filter(|condition| !shared.contains(condition));
        ruling.conditions.extend(own.map(|condition| format!("{name}: {condition}")));
    }
    match ways {
        Ok(ways) => {
            ruling.set_ways(ways);
            ruling.surely = sure.ok().filter(|sure| *sure != ruling.ways());
        }
        Err(clash) => {
            ruling.allowed = Tristate::Undecided;
            ruling.because.push(clash.between("the rules for the fish of that name"));
            ruling.settle.push("say which of the fish of that name it is".to_owned());
        }
    }
    ruling.once()
}
