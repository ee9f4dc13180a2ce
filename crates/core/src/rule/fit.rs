//! What is known about the fishing, held against one permission's limits.

use super::allowance::same_gear;
use super::{
    Bag, Bait, Catalogue, Condition, Gear, GearAllowance, Inquiry, Limits, NameMatch, Reason, Remedy, Size,
    naming,
};
use crate::Tristate;

/// Lengths that differ by less than this count as equal, in centimetres: far below any ruler, above rounding.
const SAME_LENGTH_CM: f64 = 1e-6;

/// How the facts lie against some limits. What nobody said becomes a condition and leaves the answer open to yes.
#[derive(Debug, Default)]
pub(super) struct Fit {
    /// Facts that were given and break a limit.
    pub(super) against: Vec<Reason>,
    /// Facts that were given and keep to a limit.
    pub(super) met: Vec<Reason>,
    /// Facts that were given and cannot be held against a limit.
    pub(super) unsettled: Vec<Reason>,
    /// What would settle those.
    pub(super) settle: Vec<Remedy>,
    /// What is left to meet.
    pub(super) conditions: Vec<Condition>,
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
        fit.conditions.extend(Condition::of_law(&self.conditions));
        fit
    }

    fn fit_gear(&self, given: Option<&Gear>, fit: &mut Fit) {
        match given {
            None => {
                if !self.gear.is_empty() {
                    fit.conditions.push(Condition::OnlyWith { gear: self.gear.clone() });
                }
                let forbidden = self.gear_forbidden.iter();
                fit.conditions.extend(forbidden.map(|gear| Condition::NotWith { gear: gear.clone() }));
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
        let allowed = self.gear.iter().map(|one| &one.kind);
        let mut named: Vec<Gear> = allowed.chain(&self.gear_forbidden).cloned().collect();
        if named.is_empty() {
            return;
        }
        named.dedup();
        fit.unsettled.push(Reason::GearUnknown { given: given.clone() });
        fit.settle.push(Remedy::SayWhichGear { named });
    }

    fn fit_allowed(&self, given: &Gear, fit: &mut Fit) {
        let allowed: Vec<_> = self.gear.iter().filter(|one| same_gear(&one.kind, given)).collect();
        if !allowed.is_empty() {
            fit.met.push(Reason::GearAllowed { given: given.clone() });
            let bounded = |one: &&&GearAllowance| {
                one.max_lines.is_some() || one.max_hooks.is_some() || one.note.is_some()
            };
            // Two allowances of one kind are alternatives: one without numbers leaves nothing to meet.
            if allowed.iter().all(|one| bounded(&one)) {
                fit.conditions.push(Condition::With { gear: allowed.into_iter().cloned().collect() });
            }
        } else if let Some(near) = self.gear.iter().find(|one| naming::may_mean(&given.0, &one.kind.0)) {
            let (given, named) = (given.clone(), near.kind.clone());
            fit.unsettled.push(Reason::GearPerhapsAllowed { given: given.clone(), allowed: named.clone() });
            fit.settle.push(Remedy::SayWhetherGearMeans { given, named });
        } else {
            let allowed = self.gear.iter().map(|one| one.kind.clone()).collect();
            fit.against.push(Reason::GearNotAllowed { given: given.clone(), allowed });
        }
    }

    fn fit_forbidden(&self, given: &Gear, fit: &mut Fit) {
        for forbidden in &self.gear_forbidden {
            let (given, forbidden) = (given.clone(), forbidden.clone());
            if same_gear(&forbidden, &given) {
                fit.against.push(Reason::GearForbidden { given });
            } else if naming::may_mean(&given.0, &forbidden.0) {
                let (named, meant) = (forbidden.clone(), given.clone());
                fit.unsettled.push(Reason::GearPerhapsForbidden { given, forbidden });
                fit.settle.push(Remedy::SayWhetherGearMeans { given: meant, named });
            } else {
                fit.met.push(Reason::GearNotForbidden { given, forbidden });
            }
        }
    }
}

fn fit_bait(rule: &Bait, given: Option<&str>, catalogue: &Catalogue, fit: &mut Fit) {
    let Some(given) = given else {
        fit.conditions.push(Condition::Bait { rule: rule.clone() });
        return;
    };
    let (Bait::Only(listed) | Bait::Not(listed)) = rule;
    let among = Tristate::any(listed.iter().map(|one| same_bait(given, one, catalogue)));
    let allowed = if matches!(rule, Bait::Only(_)) { among } else { among.negated() };
    let named = listed.clone();
    let (given, rule) = (given.to_owned(), rule.clone());
    match allowed {
        Tristate::Yes => fit.met.push(Reason::BaitKept { given, rule }),
        Tristate::No => fit.against.push(Reason::BaitBroken { given, rule }),
        Tristate::Undecided => {
            fit.settle.push(Remedy::SayWhetherBaitMeans { given: given.clone(), named });
            fit.unsettled.push(Reason::BaitUnsettled { given, rule });
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
    // a zone made by hand holds it as easily as any other; one that was read does not
    if size.min_cm.into_iter().chain(size.max_cm).any(|cm| !cm.is_finite()) {
        fit.unsettled.push(Reason::SizeCannotBeMeant { size: size.clone() });
        fit.settle.push(Remedy::ReadTheRule);
        return;
    }
    let Some(length_cm) = given else {
        if size.min_cm.is_some() || size.max_cm.is_some() {
            fit.conditions.push(Condition::Size { size: size.clone() });
        }
        return;
    };
    if !length_cm.is_finite() || length_cm < 0.0 {
        fit.unsettled.push(Reason::LengthInvalid { length_cm });
        fit.settle.push(Remedy::GiveLength);
        return;
    }
    let is_short = size.min_cm.is_some_and(|min| length_cm < min - SAME_LENGTH_CM);
    if is_short || size.max_cm.is_some_and(|max| length_cm > max + SAME_LENGTH_CM) {
        fit.against.push(Reason::LengthOutside { length_cm, size: size.clone() });
        return;
    }
    fit.met.push(Reason::LengthWithin { length_cm, size: size.clone() });
    fit.conditions.push(Condition::MeasuredAs { measure: size.measure.clone() });
    let on = |limit: Option<f64>| limit.is_some_and(|limit| (length_cm - limit).abs() <= SAME_LENGTH_CM);
    if on(size.min_cm) || on(size.max_cm) {
        fit.conditions.push(Condition::OnTheLimit { length_cm });
    }
}

fn fit_bag(bag: Bag, given: Option<u32>, fit: &mut Fit) {
    match given {
        _ if bag.count == 0 => fit.against.push(Reason::NoneMayBeKept),
        None => fit.conditions.push(Condition::Bag { bag }),
        Some(count) if count > bag.count => fit.against.push(Reason::TooMany { count, bag }),
        Some(count) => fit.met.push(Reason::CountWithin { count, bag }),
    }
}
