//! What is known about the fishing, held against one permission's limits.

use super::allowance::{only_with, same_gear};
use super::naming;
use super::{Bag, Bait, Catalogue, Gear, GearAllowance, Inquiry, Limits, Measure, NameMatch, Size};
use crate::Tristate;

/// Lengths that differ by less than this count as equal, in centimetres: far below any ruler, above rounding.
const SAME_LENGTH_CM: f64 = 1e-6;

/// How the facts lie against some limits. What nobody said becomes a condition and leaves the answer open to yes.
#[derive(Debug, Default)]
pub(super) struct Fit {
    /// Facts that were given and break a limit.
    pub(super) against: Vec<String>,
    /// Facts that were given and keep to a limit.
    pub(super) met: Vec<String>,
    /// Facts that were given and cannot be held against a limit.
    pub(super) unsettled: Vec<String>,
    /// What would settle those.
    pub(super) settle: Vec<String>,
    /// What is left to meet.
    pub(super) conditions: Vec<String>,
}

impl Fit {
    /// No if a fact breaks a limit, undecided if one cannot be compared, else yes (under the conditions).
    pub(super) fn answer(&self) -> Tristate {
        if !self.against.is_empty() {
            Tristate::No
        } else if self.unsettled.is_empty() {
            Tristate::Yes
        } else {
            Tristate::Undecided
        }
    }
}

impl Limits {
    /// Holds the facts against these limits.
    pub(super) fn fit(&self, inquiry: &Inquiry<'_>) -> Fit {
        let (known, catalogue) = (inquiry.circumstances, inquiry.catalogue);
        let mut fit = Fit::default();
        match &known.gear {
            Some(given) if inquiry.gear_is_unknown => self.ask_back(given, &mut fit),
            given => self.fit_gear(given.as_ref(), &mut fit),
        }
        if let Some(rule) = &self.bait {
            fit_bait(rule, known.bait.as_deref(), catalogue, &mut fit);
        }
        if let Some(size) = &self.size {
            fit_size(size, known.length_cm, &mut fit);
        }
        if let Some(bag) = &self.bag {
            fit_bag(*bag, known.count, &mut fit);
        }
        fit.conditions.extend(self.conditions.iter().cloned());
        fit
    }

    fn fit_gear(&self, given: Option<&Gear>, fit: &mut Fit) {
        match given {
            None => {
                if !self.gear.is_empty() {
                    fit.conditions.push(only_with(&self.gear));
                }
                fit.conditions.extend(self.gear_forbidden.iter().map(|gear| format!("not with {gear}")));
            }
            Some(given) => {
                self.fit_forbidden(given, fit);
                if !self.gear.is_empty() {
                    self.fit_allowed(given, fit);
                }
            }
        }
    }

    /// A word that no rule knows may mean any gear that this one names.
    fn ask_back(&self, given: &Gear, fit: &mut Fit) {
        let allowed = self.gear.iter().map(|one| one.kind.0.as_str());
        let mut kinds: Vec<&str> =
            allowed.chain(self.gear_forbidden.iter().map(|gear| gear.0.as_str())).collect();
        if kinds.is_empty() {
            return;
        }
        kinds.dedup();
        fit.unsettled.push(format!("no loaded zone file knows the gear “{given}”"));
        fit.settle.push(format!("say which gear: {}, or another that a zone file names", kinds.join(", ")));
    }

    fn fit_allowed(&self, given: &Gear, fit: &mut Fit) {
        let allowed: Vec<_> = self.gear.iter().filter(|one| same_gear(&one.kind, given)).collect();
        if !allowed.is_empty() {
            fit.met.push(format!("{given} is among the gear allowed"));
            let bounded = |one: &&&GearAllowance| {
                one.max_lines.is_some() || one.max_hooks.is_some() || one.note.is_some()
            };
            // Two allowances of one kind are alternatives: one without numbers leaves nothing to meet.
            if allowed.iter().all(|one| bounded(&one)) {
                let texts: Vec<String> = allowed.iter().map(ToString::to_string).collect();
                fit.conditions.push(format!("with {}", texts.join("; or ")));
            }
        } else if let Some(near) = self.gear.iter().find(|one| naming::may_mean(&given.0, &one.kind.0)) {
            fit.unsettled
                .push(format!("the rule allows {}; whether {given} counts is not settled", near.kind));
            fit.settle.push(format!("say whether {given} means {}", near.kind));
        } else {
            let kinds: Vec<&str> = self.gear.iter().map(|one| one.kind.0.as_str()).collect();
            fit.against.push(format!("{given} is not among the gear allowed: {}", kinds.join(", ")));
        }
    }

    fn fit_forbidden(&self, given: &Gear, fit: &mut Fit) {
        for forbidden in &self.gear_forbidden {
            if same_gear(forbidden, given) {
                fit.against.push(format!("{given} is forbidden"));
            } else if naming::may_mean(&given.0, &forbidden.0) {
                fit.unsettled
                    .push(format!("{forbidden} is forbidden; whether {given} counts is not settled"));
                fit.settle.push(format!("say whether {given} means {forbidden}"));
            } else {
                fit.met.push(format!("{given} is not the forbidden {forbidden}"));
            }
        }
    }
}

fn fit_bait(rule: &Bait, given: Option<&str>, catalogue: &Catalogue, fit: &mut Fit) {
    let Some(given) = given else {
        fit.conditions.push(rule.to_string());
        return;
    };
    let (Bait::Only(listed) | Bait::Not(listed)) = rule;
    let among = Tristate::any(listed.iter().map(|one| same_bait(given, one, catalogue)));
    let allowed = if matches!(rule, Bait::Only(_)) { among } else { among.negated() };
    match allowed {
        Tristate::Yes => fit.met.push(format!("{given} keeps to the bait rule: {rule}")),
        Tristate::No => fit.against.push(format!("{given} breaks the bait rule: {rule}")),
        Tristate::Undecided => {
            fit.unsettled.push(format!("the bait rule is: {rule}; whether {given} counts is not settled"));
            fit.settle.push(format!("say whether {given} means {}", listed.join(" or ")));
        }
    }
}

/// Whether a bait that somebody named is one that the rule names; other names of the same fish count.
fn same_bait(given: &str, listed: &str, catalogue: &Catalogue) -> Tristate {
    if naming::key(given) == naming::key(listed) {
        return Tristate::Yes;
    }
    if let (NameMatch::Taxa(given), NameMatch::Taxa(listed)) =
        (catalogue.resolve(given), catalogue.resolve(listed))
    {
        let shared = given.iter().filter(|taxon| listed.contains(taxon)).count();
        return match shared {
            0 => Tristate::No,
            n if n == given.len() => Tristate::Yes,
            _ => Tristate::Undecided,
        };
    }
    if naming::may_mean(given, listed) { Tristate::Undecided } else { Tristate::No }
}

fn fit_size(size: &Size, given: Option<f64>, fit: &mut Fit) {
    let Some(length) = given else {
        if size.min_cm.is_some() || size.max_cm.is_some() {
            fit.conditions.push(size.to_string());
        }
        return;
    };
    if !length.is_finite() || length < 0.0 {
        fit.unsettled.push(format!("a length of {length} cm is none"));
        fit.settle.push("give the length of the fish in centimetres".to_owned());
        return;
    }
    let measure = &size.measure;
    if size.min_cm.is_some_and(|min| length < min - SAME_LENGTH_CM)
        || size.max_cm.is_some_and(|max| length > max + SAME_LENGTH_CM)
    {
        fit.against.push(format!("{length} cm is not within the size allowed: {size}"));
        return;
    }
    fit.met.push(format!("{length} cm is within the size allowed: {size}"));
    fit.conditions.push(match measure {
        Measure::Unstated => measure.to_string(),
        Measure::Other(_) => format!("the length given is {measure}"),
        Measure::TotalLength | Measure::ForkLength | Measure::CarapaceLength | Measure::ShellWidth => {
            format!("the length given is the {measure}")
        }
    });
    let on = |limit: Option<f64>| limit.is_some_and(|limit| (length - limit).abs() <= SAME_LENGTH_CM);
    if on(size.min_cm) || on(size.max_cm) {
        fit.conditions.push(format!("{length} cm is exactly on the limit; measure again"));
    }
}

fn fit_bag(bag: Bag, given: Option<u32>, fit: &mut Fit) {
    match given {
        _ if bag.count == 0 => fit.against.push("none may be kept".to_owned()),
        None => fit.conditions.push(bag.to_string()),
        Some(count) if count > bag.count => fit.against.push(format!("{count} kept is too many: {bag}")),
        Some(count) => fit.met.push(format!("{count} kept, this one included, of {bag}")),
    }
}
