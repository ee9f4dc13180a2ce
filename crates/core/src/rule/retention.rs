//! Whether one zone's rule lets a fish be kept.

use std::fmt;

use super::allowance::{self, Clash};
use super::fit::Fit;
use super::{
    Access, Allowance, Catalogue, Circumstances, Permit, Ruling, Take, TakeRule, TaxonId, TaxonSet, When,
};
use crate::Tristate;

/// Answers whether a time rule holds at the moment asked about, and why.
pub type InForce<'a> = &'a dyn Fn(&When) -> (Tristate, Vec<String>);

/// What a rule is asked with: the names of the file, what is known about the fishing, and the moment.
#[derive(Clone, Copy)]
pub struct Inquiry<'a> {
    /// Fish and their names.
    pub catalogue: &'a Catalogue,
    /// What is known about the fishing.
    pub circumstances: &'a Circumstances,
    /// Whether a time rule holds at the moment asked about.
    pub in_force: InForce<'a>,
    /// Whether no rule that is loaded knows the word for the gear in use: such a word is asked back, never held against a
    /// list that it is not on.
    pub gear_is_unknown: bool,
}

impl fmt::Debug for Inquiry<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Inquiry").field("circumstances", self.circumstances).finish_non_exhaustive()
    }
}

/// The fish a rule is asked about.
#[derive(Clone, Copy)]
pub(super) enum Subject<'a> {
    /// A taxon of the catalogue.
    Known(&'a TaxonId),
    /// A name that the catalogue does not know.
    Unknown,
}

impl Subject<'_> {
    fn among(self, set: Option<&TaxonSet>, inquiry: &Inquiry<'_>) -> Tristate {
        match (self, set) {
            (_, None) => Tristate::Yes,
            (Self::Known(taxon), Some(set)) => inquiry.catalogue.contains(set, taxon),
            (Self::Unknown, Some(_)) => Tristate::Undecided,
        }
    }

    pub(super) fn name(self, inquiry: &Inquiry<'_>) -> String {
        match self {
            Self::Known(taxon) => inquiry.catalogue.display_name(taxon),
            Self::Unknown => "this fish".to_owned(),
        }
    }
}

impl Ruling {
    /// Allowed, without limits, for this reason.
    #[must_use]
    pub fn yes(because: impl Into<String>) -> Self {
        Self::of(Tristate::Yes, because.into())
    }

    /// Not allowed, for this reason.
    #[must_use]
    pub fn no(because: impl Into<String>) -> Self {
        Self::of(Tristate::No, because.into())
    }

    /// Not settled, for this reason; this would settle it.
    #[must_use]
    pub fn undecided(because: impl Into<String>, settle: impl Into<String>) -> Self {
        Self { settle: vec![settle.into()], ..Self::of(Tristate::Undecided, because.into()) }
    }

    pub(super) fn of(allowed: Tristate, because: String) -> Self {
        Self {
            allowed,
            because: vec![because],
            conditions: Vec::new(),
            settle: Vec::new(),
            within: Allowance::default(),
            otherwise: Vec::new(),
            surely: None,
        }
    }

    /// Returns every set of limits under which it is allowed; keeping to one of them is enough.
    pub(super) fn ways(&self) -> Vec<Allowance> {
        [std::slice::from_ref(&self.within), &self.otherwise].concat()
    }

    /// As [`Self::ways`], without limits that only may hold.
    pub(super) fn sure_ways(&self) -> Vec<Allowance> {
        self.surely.clone().unwrap_or_else(|| self.ways())
    }

    pub(super) fn set_ways(&mut self, ways: Vec<Allowance>) {
        self.surely = None;
        let mut ways = ways.into_iter();
        self.within = ways.next().unwrap_or_default();
        self.otherwise = ways.collect();
    }

    /// Says each thing once, in the order in which it was first said.
    pub(super) fn once(mut self) -> Self {
        for list in [&mut self.because, &mut self.conditions, &mut self.settle] {
            say_once(list);
        }
        self
    }

    /// Leaves nothing but the reasons: a refusal has no conditions and no limits.
    pub(super) fn refused(because: Vec<String>) -> Self {
        Self { because, ..Self::no("") }.once()
    }
}

pub(super) fn say_once(list: &mut Vec<String>) {
    let mut said = std::collections::HashSet::new();
    list.retain(|text| said.insert(text.clone()));
}

/// How one permit answers.
struct Answer<'a> {
    permit: &'a Permit,
    among: Tristate,
    timing: Tristate,
    timing_because: Vec<String>,
    fit: Fit,
}

impl<'a> Answer<'a> {
    fn of(permit: &'a Permit, subject: Subject<'_>, inquiry: &Inquiry<'_>) -> Self {
        let among = subject.among(permit.taxa.as_ref(), inquiry);
        let (timing, timing_because) = (inquiry.in_force)(&permit.when);
        let fit = permit.limits.fit(inquiry);
        Self { permit, among, timing, timing_because, fit }
    }

    /// Whether the permit speaks of this fish at this moment.
    fn speaks(&self) -> Tristate {
        self.among.and(self.timing)
    }

    fn allows(&self) -> Tristate {
        self.speaks().and(self.fit.answer())
    }

    fn clause(&self) -> String {
        self.permit.clause.as_ref().map_or_else(String::new, |clause| format!(" ({clause})"))
    }

    /// Says what is not settled about whether the permit speaks, and what would settle it.
    fn doubts(&self, subject: Subject<'_>, inquiry: &Inquiry<'_>, ruling: &mut Ruling) {
        if self.among == Tristate::Undecided
            && let Some(set) = &self.permit.taxa
        {
            say_which(set, subject, inquiry, ruling);
        }
        if self.timing == Tristate::Undecided {
            let why = self.timing_because.join("; ");
            ruling.because.push(format!("whether the rule holds now is not settled: {why}{}", self.clause()));
            ruling.settle.push(format!("find out whether the rule holds now: {why}"));
        }
        ruling.because.extend(self.fit.unsettled.iter().cloned());
        ruling.settle.extend(self.fit.settle.iter().cloned());
    }
}

fn say_which(set: &TaxonSet, subject: Subject<'_>, inquiry: &Inquiry<'_>, ruling: &mut Ruling) {
    let name = subject.name(inquiry);
    let set_name = inquiry.catalogue.set_name(set);
    let Subject::Known(taxon) = subject else {
        ruling.because.push(format!("whether {name} is among {set_name} is not settled"));
        return;
    };
    let (with, without) = inquiry.catalogue.divided(set, taxon);
    let names = |ids: &[&TaxonId]| {
        let names: Vec<String> = ids.iter().map(|id| inquiry.catalogue.display_name(id)).collect();
        if names.is_empty() { "none that the file lists".to_owned() } else { names.join(", ") }
    };
    ruling.because.push(format!(
        "only some of {name} is among {set_name}: {} is, {} is not",
        names(&with),
        names(&without)
    ));
    ruling.settle.push(format!("say which: {}", names(&[with, without].concat())));
}

impl TakeRule {
    /// Returns whether the rule lets this fish be kept, why, and under which conditions.
    ///
    /// Facts that were given are held against the limits: one that breaks a limit gives no, with the reason. Facts
    /// that nobody gave (gear, bait, length, number) become conditions. What no one on the water can see to (whether
    /// the rule is in force, which of several species it is, from where the rule counts) stays undecided.
    ///
    /// # Edge cases
    ///
    /// A length exactly on the limit is allowed, with the condition to measure again. A bag of 0 allows none. A rule
    /// that does not bind somebody's access allows; where the access is not known, the answer is undecided unless the
    /// rule allows the fish without limits.
    #[must_use]
    pub fn keep(&self, inquiry: &Inquiry<'_>, taxon: &TaxonId) -> Ruling {
        self.judge(inquiry, Subject::Known(taxon))
    }

    /// Returns whether the rule lets a fish be kept whose name several taxa bear.
    ///
    /// The answer that all of them share, conditions united; undecided where they differ, with the taxa listed on
    /// either side. None at all is a name that the file does not know: see [`Self::keep_unknown`].
    #[must_use]
    pub fn keep_any_of(&self, inquiry: &Inquiry<'_>, taxa: &[TaxonId]) -> Ruling {
        match taxa {
            [] => self.keep_unknown(inquiry, &[]),
            [taxon] => self.keep(inquiry, taxon),
            several => self.keep_each_of(inquiry, several),
        }
    }

    /// Returns whether the rule lets a fish be kept whose name the file does not know.
    ///
    /// No where nothing may be taken whatever it is; yes where the rule does not bind the access given; else
    /// undecided, with the names that were perhaps meant.
    #[must_use]
    pub fn keep_unknown(&self, inquiry: &Inquiry<'_>, suggestions: &[String]) -> Ruling {
        let mut ruling = self.judge(inquiry, Subject::Unknown);
        if ruling.allowed == Tristate::No {
            if self.take == Take::Nothing {
                ruling.because = vec!["nothing may be taken here, whatever it is".to_owned()];
            }
            return ruling;
        }
        if self.binding(inquiry.circumstances.access) == Tristate::No {
            return ruling;
        }
        if ruling.allowed == Tristate::Yes && self.limits.iter().all(|limit| limit.taxa.is_none()) {
            // nothing in the rule asked which fish it is
            ruling.because = vec!["the rule lets any fish be kept, whatever it is".to_owned()];
            return ruling;
        }
        if ruling.allowed == Tristate::Yes {
            ruling.because.clear();
        }
        ruling.allowed = Tristate::Undecided;
        ruling.because.insert(0, "the zone file does not know that name".to_owned());
        ruling.settle.insert(0, asked_again(suggestions));
        ruling.set_ways(Vec::new());
        ruling.once()
    }

    pub(super) fn judge(&self, inquiry: &Inquiry<'_>, subject: Subject<'_>) -> Ruling {
        let bound = self.binding(inquiry.circumstances.access);
        if bound == Tristate::No {
            return Ruling::yes(format!("the rule binds only fishing {}", access_names(&self.binds)));
        }
        let mut ruling = self.permitted(inquiry, subject);
        for limit in &self.limits {
            if ruling.allowed != Tristate::No {
                ruling = limited(ruling, &Answer::of(limit, subject, inquiry), subject, inquiry);
            }
        }
        if ruling.allowed != Tristate::No {
            ruling.conditions.extend(self.conditions.iter().cloned());
        }
        if bound == Tristate::Undecided {
            ruling = self.perhaps_unbound(ruling);
        }
        ruling.once()
    }

    pub(crate) fn binding(&self, access: Option<Access>) -> Tristate {
        match access {
            _ if self.binds.is_empty() => Tristate::Yes,
            Some(access) => self.binds.contains(&access).into(),
            None => Tristate::Undecided,
        }
    }

    /// The answer where nobody said from where the fishing is and the rule binds only some.
    fn perhaps_unbound(&self, mut ruling: Ruling) -> Ruling {
        if ruling.allowed == Tristate::Yes
            && ruling.conditions.is_empty()
            && ruling.ways() == [Allowance::default()]
        {
            return ruling;
        }
        if ruling.allowed == Tristate::Yes {
            ruling.because.clear();
        }
        ruling.allowed = Tristate::Undecided;
        let who = access_names(&self.binds);
        ruling.because.insert(0, format!("the rule binds only fishing {who}, and from where is not said"));
        ruling.settle.insert(0, "say from where: boat, shore or diving".to_owned());
        // Somebody whom the rule does not bind is under none of its limits.
        ruling.set_ways(Vec::new());
        ruling
    }

    fn permitted(&self, inquiry: &Inquiry<'_>, subject: Subject<'_>) -> Ruling {
        let name = subject.name(inquiry);
        match &self.take {
            Take::Nothing => Ruling::no("nothing may be taken here"),
            Take::Anything => Ruling::yes("the rule does not restrict what may be taken"),
            Take::AllExcept(set) => {
                let except = inquiry.catalogue.set_name(set);
                match subject.among(Some(set), inquiry) {
                    Tristate::Yes => {
                        Ruling::no(format!("{name} is among what may not be taken here: {except}"))
                    }
                    Tristate::No => Ruling::yes(format!("anything but {except} may be taken here")),
                    Tristate::Undecided => {
                        let mut ruling =
                            Ruling::of(Tristate::Undecided, format!("{except} may not be taken here"));
                        say_which(set, subject, inquiry, &mut ruling);
                        ruling
                    }
                }
            }
            Take::Only(permits) => {
                let answers: Vec<_> =
                    permits.iter().map(|permit| Answer::of(permit, subject, inquiry)).collect();
                self.by_permits(&answers, subject, inquiry)
            }
        }
    }

    fn by_permits(&self, answers: &[Answer<'_>], subject: Subject<'_>, inquiry: &Inquiry<'_>) -> Ruling {
        let allowed = Tristate::any(answers.iter().map(Answer::allows));
        if allowed == Tristate::No {
            return Ruling::refused(self.refusals(answers, subject, inquiry));
        }
        let name = subject.name(inquiry);
        let mut ruling = Ruling { because: Vec::new(), ..Ruling::of(allowed, String::new()) };
        let mut conditions = Vec::new();
        let mut ways = Vec::new();
        let mut clash = None;
        for answer in answers.iter().filter(|answer| answer.allows() == allowed) {
            match Allowance::of(&answer.permit.limits) {
                Ok(way) => ways.push(way),
                Err(why) => {
                    clash = Some(why);
                    continue;
                }
            }
            if allowed == Tristate::Yes {
                ruling.because.push(format!("{name} may be taken here{}", answer.clause()));
                ruling.because.extend(answer.timing_because.iter().cloned());
            } else {
                answer.doubts(subject, inquiry, &mut ruling);
            }
            ruling.because.extend(answer.fit.met.iter().cloned());
            conditions.push(answer.fit.conditions.clone());
        }
        if let (true, Some(clash)) = (ways.is_empty(), clash) {
            return Ruling::no(clash.between("the limits of one permission"));
        }
        ruling.conditions = alternatives(&conditions);
        ruling.set_ways(allowance::distinct(ways));
        ruling
    }

    fn refusals(&self, answers: &[Answer<'_>], subject: Subject<'_>, inquiry: &Inquiry<'_>) -> Vec<String> {
        let name = subject.name(inquiry);
        let mut because = Vec::new();
        for answer in answers.iter().filter(|answer| answer.among != Tristate::No) {
            if answer.timing == Tristate::No {
                let why = answer.timing_because.join("; ");
                let why = if why.is_empty() { why } else { format!(": {why}") };
                because
                    .push(format!("the permission for {name} is not in force now{why}{}", answer.clause()));
            } else {
                because.extend(answer.fit.against.iter().map(|why| format!("{why}{}", answer.clause())));
            }
        }
        if because.is_empty() {
            let only = self.describe(inquiry.catalogue);
            because.push(format!("{name} is not among what may be taken here: {only}"));
        }
        because
    }
}

/// What a limit makes of a fish that may be taken so far.
fn limited(mut ruling: Ruling, limit: &Answer<'_>, subject: Subject<'_>, inquiry: &Inquiry<'_>) -> Ruling {
    let speaks = limit.speaks();
    if speaks == Tristate::No {
        return ruling;
    }
    let breaks = limit.fit.answer();
    if speaks == Tristate::Yes && breaks == Tristate::No {
        let why = limit.fit.against.iter().map(|why| format!("{why}{}", limit.clause()));
        return Ruling::refused(why.collect());
    }
    ruling.conditions.extend(limit.fit.conditions.iter().cloned());
    ruling.because.extend(limit.fit.met.iter().cloned());
    if breaks != Tristate::Yes {
        // Either it is not settled whether the limit holds, or whether it is kept.
        ruling.allowed = ruling.allowed.and(Tristate::Undecided);
        ruling.because.extend(
            limit.fit.against.iter().map(|why| format!("{why}, if the limit holds{}", limit.clause())),
        );
        limit.doubts(subject, inquiry, &mut ruling);
        return ruling;
    }
    if speaks == Tristate::Undecided {
        // keeping to the stricter of both is enough either way
        let text = "a limit may or may not hold here; keeping to it is enough either way";
        ruling.because.push(format!("{text}{}", limit.clause()));
    }
    bounded(ruling, limit, speaks)
}

/// Narrows the limits that an answer carries by one that holds, or may hold.
fn bounded(mut ruling: Ruling, limit: &Answer<'_>, speaks: Tristate) -> Ruling {
    let narrowed = |ways: &[Allowance]| {
        let own = Allowance::of(&limit.permit.limits);
        own.and_then(|own| allowance::ways_of_both(ways, &[own]))
    };
    let sure = ruling.sure_ways();
    let sure = if speaks == Tristate::Yes { narrowed(&sure) } else { Ok(sure) };
    let strict = narrowed(&ruling.ways());
    let unsettled = |mut ruling: Ruling, clash: Clash, names: &str, settle: String| {
        ruling.allowed = ruling.allowed.and(Tristate::Undecided);
        ruling.because.push(clash.between(names));
        ruling.settle.push(settle);
        ruling
    };
    match (sure, strict) {
        (Err(clash), _) | (_, Err(clash)) if clash.is_open() => {
            let settle = clash.settle().unwrap_or_default().to_owned();
            unsettled(ruling, clash, "the permission and a limit of the same rule", settle)
        }
        (Err(clash), _) => Ruling::no(clash.between("the permission and a limit of the same rule")),
        (Ok(sure), Err(clash)) => {
            ruling.set_ways(sure);
            let names = "the permission and a limit that may or may not hold";
            unsettled(
                ruling,
                clash,
                names,
                format!("find out whether that limit holds now{}", limit.clause()),
            )
        }
        (Ok(sure), Ok(strict)) => {
            ruling.set_ways(strict);
            ruling.surely = (sure != ruling.ways()).then_some(sure);
            ruling
        }
    }
}

/// Returns what has to be met where one of several permissions is enough.
fn alternatives(lists: &[Vec<String>]) -> Vec<String> {
    if lists.iter().any(Vec::is_empty) {
        return Vec::new();
    }
    let Some(first) = lists.first() else { return Vec::new() };
    let mut shared: Vec<String> =
        first.iter().filter(|text| lists.iter().all(|list| list.contains(text))).cloned().collect();
    let rest =
        |list: &Vec<String>| list.iter().filter(|text| !shared.contains(text)).cloned().collect::<Vec<_>>();
    let mut ways: Vec<String> = lists.iter().map(|list| rest(list).join(", ")).collect();
    say_once(&mut ways);
    if ways.iter().any(String::is_empty) {
        return shared;
    }
    if let [_] = ways.as_slice() {
        return first.clone();
    }
    shared.push(format!("either {}", ways.join("; or ")));
    shared
}

fn asked_again(suggestions: &[String]) -> String {
    if suggestions.is_empty() {
        return "use a name, scientific name or FAO code that the zone file lists".to_owned();
    }
    format!("did you mean: {}? ask again with that name", suggestions.join(", "))
}

pub(super) fn access_names(binds: &[Access]) -> String {
    let names: Vec<&str> = binds
        .iter()
        .map(|access| match access {
            Access::Boat => "from a boat",
            Access::Shore => "from the shore",
            Access::Diving => "by diving",
        })
        .collect();
    names.join(" or ")
}
