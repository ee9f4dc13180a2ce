//! A take rule in a few words.

use super::retention::{access_names, say_once};
use super::{Catalogue, Permit, Take, TakeRule, When};

impl TakeRule {
    /// Returns the rule in a few words: "nothing may be taken", "only sprat, sand smelt", "anything but lobster;
    /// hook and line only".
    ///
    /// A headline, not the rule: times, sizes and bags are only hinted at, conditions are left out.
    #[must_use]
    pub fn describe(&self, catalogue: &Catalogue) -> String {
        let mut parts = vec![match &self.take {
            Take::Nothing => "nothing may be taken".to_owned(),
            Take::Anything if self.limits.is_empty() => "anything may be taken".to_owned(),
            Take::Anything => "anything may be taken, within limits".to_owned(),
            Take::AllExcept(set) => format!("anything but {}", catalogue.set_name(set)),
            Take::Only(permits) => only(permits, catalogue),
        }];
        if let Take::Only(permits) = &self.take
            && let Some(gear) = common_gear(permits)
        {
            parts.push(gear);
        }
        for limit in self.limits.iter().filter(|limit| limit.taxa.is_none() && limit.when == When::Always) {
            parts.extend(common_gear(std::slice::from_ref(limit)));
        }
        if !self.binds.is_empty() {
            parts.push(format!("binds only fishing {}", access_names(&self.binds)));
        }
        say_once(&mut parts);
        parts.join("; ")
    }
}

fn only(permits: &[Permit], catalogue: &Catalogue) -> String {
    if permits.is_empty() {
        return "nothing may be taken".to_owned();
    }
    let mut names: Vec<String> = permits
        .iter()
        .map(|permit| {
            let set =
                permit.taxa.as_ref().map_or_else(|| "any fish".to_owned(), |set| catalogue.set_name(set));
            if permit.when == When::Always { set } else { format!("{set} at set times") }
        })
        .collect();
    say_once(&mut names);
    format!("only {}", names.join(", "))
}

/// Returns "hook and line only" if all permits name the same kinds of gear.
fn common_gear(permits: &[Permit]) -> Option<String> {
    let kinds = |permit: &Permit| -> Vec<String> {
        permit.limits.gear.iter().map(|gear| gear.kind.0.clone()).collect()
    };
    let first = kinds(permits.first()?);
    let alike = !first.is_empty() && permits.iter().all(|permit| kinds(permit) == first);
    alike.then(|| format!("{} only", first.join(" or ")))
}
