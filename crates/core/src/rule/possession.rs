//! Fish caught elsewhere, and how one may cross.

use super::{Condition, Inquiry, Limits, Passage, Possession, Reason, Remedy, Ruling, TakeRule, TaxonId};
use crate::Tristate;

impl TakeRule {
    /// Returns whether a fish that was caught elsewhere may be aboard here; carrying is another matter than taking.
    ///
    /// `taxa` are those that the name may mean; none is a name that the file does not know. How the fish was caught
    /// does not count here, so gear and bait are left out; sizes and bags count where only what may be taken here may
    /// be aboard.
    #[must_use]
    pub fn possess(&self, inquiry: &Inquiry<'_>, taxa: &[TaxonId]) -> Ruling {
        let bound = self.binding(inquiry.circumstances.access);
        if bound == Tristate::No {
            return Ruling::yes(Reason::BindsOnly { access: self.binds.clone() });
        }
        let mut ruling = match self.possession {
            Possession::Allowed => Ruling::yes(Reason::AboardAllowed),
            Possession::Forbidden => Ruling::no(Reason::AboardForbidden),
            Possession::WhileCrossing => self.aboard_while_crossing(),
            Possession::AsTake => self.aboard_as_take(inquiry, taxa),
            Possession::Unstated => {
                let taking = self.as_carried().keep_any_of(inquiry, taxa);
                if taking.allowed == Tristate::Yes {
                    Ruling { because: vec![Reason::AboardUnsaidButTakeable], ..taking }
                } else {
                    Ruling::undecided(Reason::AboardUnsaid, Remedy::AskAboutFishAboard)
                }
            }
        };
        if bound == Tristate::Undecided && !(ruling.allowed == Tristate::Yes && ruling.conditions.is_empty())
        {
            ruling.allowed = Tristate::Undecided;
            ruling.because.insert(0, Reason::BindsOnlyAccessUnsaid { access: self.binds.clone() });
            ruling.settle.insert(0, Remedy::SayAccess);
            ruling.set_ways(Vec::new());
        }
        ruling.once()
    }

    fn aboard_while_crossing(&self) -> Ruling {
        match self.passage.as_ref().map(|passage| (passage, passage.allowed)) {
            Some((passage, Tristate::Yes)) => {
                Ruling { conditions: passage.to_cross(), ..Ruling::yes(Reason::AboardWhileCrossing) }
            }
            Some((_, Tristate::No)) => Ruling::no(Reason::AboardWhileCrossingForbidden),
            Some((passage, Tristate::Undecided)) => {
                let unsettled = Ruling::undecided(Reason::AboardWhileCrossing, Remedy::AskWhetherToCross);
                Ruling { conditions: passage.to_cross(), ..unsettled }
            }
            None => Ruling::undecided(Reason::AboardWhileCrossingUnsaid, Remedy::AskHowToCross),
        }
    }

    fn aboard_as_take(&self, inquiry: &Inquiry<'_>, taxa: &[TaxonId]) -> Ruling {
        let mut ruling = self.as_carried().keep_any_of(inquiry, taxa);
        ruling.because.insert(0, Reason::AboardAsTake);
        ruling
    }

    /// Returns the rule without what bears on the catching alone, and binding everybody: that is asked apart.
    fn as_carried(&self) -> Self {
        let without = |limits: &mut Limits| {
            limits.gear.clear();
            limits.gear_forbidden.clear();
            limits.bait = None;
        };
        let mut rule = Self { binds: Vec::new(), ..self.clone() };
        for limit in &mut rule.limits {
            without(&mut limit.limits);
        }
        if let super::Take::Only(permits) = &mut rule.take {
            for permit in permits {
                without(&mut permit.limits);
            }
        }
        rule
    }

    /// Returns what one must do to cross without fishing.
    #[must_use]
    pub fn to_cross(&self) -> Vec<Condition> {
        self.passage.as_ref().map_or_else(|| vec![Condition::CrossingUnsaid], Passage::to_cross)
    }
}

impl Passage {
    /// Returns what one must do to cross; the state of the gear in the law's own words.
    ///
    /// Words such as "stowed" mean different things in different laws, so they are quoted and never put otherwise.
    #[must_use]
    pub fn to_cross(&self) -> Vec<Condition> {
        let mut to_cross = vec![Condition::Crossing { allowed: self.allowed, clause: self.clause.clone() }];
        if self.allowed != Tristate::No {
            let gear_state = self.gear_state.iter();
            to_cross.extend(gear_state.map(|words| Condition::GearState { words: words.clone() }));
            to_cross.extend(self.continuous.then_some(Condition::KeepGoing));
            to_cross.extend(self.min_speed_kn.map(|speed_kn| Condition::MinSpeed { speed_kn }));
            to_cross.extend(self.max_stop_min.map(|stop_min| Condition::MaxStop { stop_min }));
            to_cross.push(match self.anchoring {
                Tristate::Undecided if self.continuous => Condition::NoAnchoringOnTheWay,
                allowed @ (Tristate::Yes | Tristate::No | Tristate::Undecided) => {
                    Condition::Anchoring { allowed }
                }
            });
        }
        to_cross.extend(Condition::of_law(&self.conditions));
        to_cross
    }
}
