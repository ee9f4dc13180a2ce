//! Fish caught elsewhere, and how one may cross.

use super::retention::access_names;
use super::{Inquiry, Limits, Passage, Possession, Ruling, TakeRule, TaxonId};
use crate::Tristate;

/// What is printed where the file has no passage at all.
const NO_PASSAGE: &str = "the zone file does not say how one may cross; ask before you do";

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
            return Ruling::yes(format!("the rule binds only fishing {}", access_names(&self.binds)));
        }
        let mut ruling = match self.possession {
            Possession::Allowed => Ruling::yes("fish caught elsewhere may be aboard"),
            Possession::Forbidden => Ruling::no("no fish at all may be aboard here"),
            Possession::WhileCrossing => self.aboard_while_crossing(),
            Possession::AsTake => self.aboard_as_take(inquiry, taxa),
            Possession::Unstated => {
                let unsaid = "the zone file does not say whether fish caught elsewhere may be aboard";
                let taking = self.as_carried().keep_any_of(inquiry, taxa);
                if taking.allowed == Tristate::Yes {
                    let because = vec![format!("{unsaid}; this fish could be taken here")];
                    Ruling { because, ..taking }
                } else {
                    Ruling::undecided(unsaid, "ask whether fish caught elsewhere may be aboard here")
                }
            }
        };
        if bound == Tristate::Undecided && !(ruling.allowed == Tristate::Yes && ruling.conditions.is_empty())
        {
            ruling.allowed = Tristate::Undecided;
            let who = access_names(&self.binds);
            ruling
                .because
                .insert(0, format!("the rule binds only fishing {who}, and from where is not said"));
            ruling.settle.insert(0, "say from where: boat, shore or diving".to_owned());
            ruling.set_ways(Vec::new());
        }
        ruling.once()
    }

    fn aboard_while_crossing(&self) -> Ruling {
        let because = "fish caught elsewhere may be aboard only while crossing";
        match self.passage.as_ref().map(|passage| (passage, passage.allowed)) {
            Some((passage, Tristate::Yes)) => {
                Ruling { conditions: passage.sentences(), ..Ruling::yes(because) }
            }
            Some((_, Tristate::No)) => Ruling::no(format!("{because}, and crossing is not allowed")),
            Some((passage, Tristate::Undecided)) => {
                let unsettled = Ruling::undecided(because, "ask whether and how one may cross");
                Ruling { conditions: passage.sentences(), ..unsettled }
            }
            None => Ruling::undecided(format!("{because}; {NO_PASSAGE}"), "ask how one may cross"),
        }
    }

    fn aboard_as_take(&self, inquiry: &Inquiry<'_>, taxa: &[TaxonId]) -> Ruling {
        let mut ruling = self.as_carried().keep_any_of(inquiry, taxa);
        ruling.because.insert(0, "only what may be taken here may be aboard".to_owned());
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

    /// Returns what one must do to cross without fishing, one sentence each.
    #[must_use]
    pub fn passage_sentences(&self) -> Vec<String> {
        self.passage.as_ref().map_or_else(|| vec![NO_PASSAGE.to_owned()], Passage::sentences)
    }
}

impl Passage {
    /// Returns what one must do to cross, one sentence each; the state of the gear in the law's own words.
    ///
    /// Words such as "stowed" mean different things in different laws, so they are quoted and never put otherwise.
    #[must_use]
    pub fn sentences(&self) -> Vec<String> {
        let clause = self.clause.as_ref().map_or_else(String::new, |clause| format!(" ({clause})"));
        let mut said = vec![match self.allowed {
            Tristate::Yes => format!("crossing without fishing is allowed{clause}"),
            Tristate::No => format!("crossing is not allowed{clause}"),
            Tristate::Undecided => format!("whether one may cross is not settled; ask before you do{clause}"),
        }];
        if self.allowed == Tristate::No {
            said.extend(self.conditions.iter().cloned());
            return said;
        }
        said.extend(
            self.gear_state.iter().map(|state| format!("state of the gear while crossing: “{state}”")),
        );
        if self.continuous {
            said.push("keep going from one side to the other".to_owned());
        }
        said.extend(self.min_speed_kn.map(|speed| format!("not slower than {speed} kn")));
        said.extend(self.max_stop_min.map(|minutes| format!("no stop longer than {minutes} min")));
        said.push(match self.anchoring {
            Tristate::Yes => "anchoring is allowed".to_owned(),
            Tristate::No => "no anchoring".to_owned(),
            Tristate::Undecided if self.continuous => "no anchoring on the way".to_owned(),
            Tristate::Undecided => "whether one may anchor is not said; ask before you do".to_owned(),
        });
        said.extend(self.conditions.iter().cloned());
        said
    }
}
