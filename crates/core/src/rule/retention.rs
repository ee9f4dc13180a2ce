//! Whether one zone's rule lets a fish be kept.

use std::fmt;

use super::allowance;
use super::fit::Fit;
use super::reason::Clash;
use super::{
    Access, Allowance, Catalogue, Circumstances, Condition, LimitsOf, Permit, Reason, Remedy, Ruling, Take,
    TakeRule, TaxonId, TaxonSet, TimeReason, Timing, When,
};
use crate::Tristate;
use crate::once::say_once;

/// Answers whether a time rule holds at the moment asked about, and why.
pub type InForce<'a> = &'a dyn Fn(&When) -> Timing;

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

    /// Its name as people should see it; none where the catalogue does not know it.
    pub(super) fn name(self, inquiry: &Inquiry<'_>) -> Option<String> {
        match self {
            Self::Known(taxon) => Some(inquiry.catalogue.display_name(taxon)),
            Self::Unknown => None,
        }
    }
}

impl Ruling {
    /// Allowed, without limits, for this reason.
    #[must_use]
    pub fn yes(because: Reason) -> Self {
        Self::of(Tristate::Yes, vec![because])
    }

    /// Not allowed, for this reason.
    #[must_use]
    pub fn no(because: Reason) -> Self {
        Self::of(Tristate::No, vec![because])
    }

    /// Not settled, for this reason; this would settle it.
    #[must_use]
    pub fn undecided(because: Reason, settle: Remedy) -> Self {
        Self { settle: vec![settle], ..Self::of(Tristate::Undecided, vec![because]) }
    }

    pub(super) fn of(allowed: Tristate, because: Vec<Reason>) -> Self {
        Self {
            allowed,
            because,
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
        say_once(&mut self.because);
        say_once(&mut self.conditions);
        say_once(&mut self.settle);
        self
    }

    /// Leaves nothing but the reasons: a refusal has no conditions and no limits.
    pub(super) fn refused(because: Vec<Reason>) -> Self {
        Self::of(Tristate::No, because).once()
    }
}

/// How one permit answers.
struct Answer<'a> {
    permit: &'a Permit,
    among: Tristate,
    timing: Tristate,
    timing_because: Vec<TimeReason>,
    fit: Fit,
}

impl<'a> Answer<'a> {
    fn of(permit: &'a Permit, subject: Subject<'_>, inquiry: &Inquiry<'_>) -> Self {
        let among = subject.among(permit.taxa.as_ref(), inquiry);
        let Timing { answer: timing, because: timing_because } = (inquiry.in_force)(&permit.when);
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

    fn clause(&self) -> Option<&'a String> {
        self.permit.clause.as_ref()
    }

    /// Says what is not settled about whether the permit speaks, and what would settle it.
    fn doubts(&self, subject: Subject<'_>, inquiry: &Inquiry<'_>, ruling: &mut Ruling) {
        if self.among == Tristate::Undecided
            && let Some(set) = &self.permit.taxa
        {
            say_which(set, subject, inquiry, ruling);
        }
        if self.timing == Tristate::Undecided {
            let why = &self.timing_because;
            ruling.because.push(Reason::HoldingUnsettled { why: why.clone() }.by(self.clause()));
            ruling.settle.push(Remedy::FindOutWhetherItHolds { why: why.clone() });
        }
        ruling.because.extend(self.fit.unsettled.iter().cloned());
        ruling.settle.extend(self.fit.settle.iter().cloned());
    }
}

fn say_which(set: &TaxonSet, subject: Subject<'_>, inquiry: &Inquiry<'_>, ruling: &mut Ruling) {
    let fish = subject.name(inquiry);
    let set_names = inquiry.catalogue.set_names(set);
    let Subject::Known(taxon) = subject else {
        ruling.because.push(Reason::MembershipUnsettled { fish, set: set_names });
        return;
    };
    let (with, without) = inquiry.catalogue.divided(set, taxon);
    let names =
        |ids: &[&TaxonId]| ids.iter().map(|id| inquiry.catalogue.display_name(id)).collect::<Vec<_>>();
    let (with, without) = (names(&with), names(&without));
    let either = [&with[..], &without].concat();
    ruling.because.push(Reason::OnlySomeAmong { fish, set: set_names, with, without });
    ruling.settle.push(Remedy::SayWhichFish { fish: either });
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
                ruling.because = vec![Reason::NothingWhateverItIs];
            }
            return ruling;
        }
        if self.binding(inquiry.circumstances.access) == Tristate::No {
            return ruling;
        }
        if ruling.allowed == Tristate::Yes && self.limits.iter().all(|limit| limit.taxa.is_none()) {
            // nothing in the rule asked which fish it is
            ruling.because = vec![Reason::AnythingWhateverItIs];
            return ruling;
        }
        if ruling.allowed == Tristate::Yes {
            ruling.because.clear();
        }
        ruling.allowed = Tristate::Undecided;
        ruling.because.insert(0, Reason::NameUnknown);
        ruling.settle.insert(0, asked_again(suggestions));
        ruling.set_ways(Vec::new());
        ruling.once()
    }

    pub(super) fn judge(&self, inquiry: &Inquiry<'_>, subject: Subject<'_>) -> Ruling {
        let bound = self.binding(inquiry.circumstances.access);
        if bound == Tristate::No {
            return Ruling::yes(Reason::BindsOnly { access: self.binds.clone() });
        }
        let mut ruling = self.permitted(inquiry, subject);
        for limit in &self.limits {
            if ruling.allowed != Tristate::No {
                ruling = limited(ruling, &Answer::of(limit, subject, inquiry), subject, inquiry);
            }
        }
        if ruling.allowed != Tristate::No {
            ruling.conditions.extend(Condition::of_law(&self.conditions));
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
        ruling.because.insert(0, Reason::BindsOnlyAccessUnsaid { access: self.binds.clone() });
        ruling.settle.insert(0, Remedy::SayAccess);
        // Somebody whom the rule does not bind is under none of its limits.
        ruling.set_ways(Vec::new());
        ruling
    }

    fn permitted(&self, inquiry: &Inquiry<'_>, subject: Subject<'_>) -> Ruling {
        match &self.take {
            Take::Nothing => Ruling::no(Reason::NothingMayBeTaken),
            Take::Anything => Ruling::yes(Reason::TakeUnrestricted),
            Take::AllExcept(set) => {
                let except = inquiry.catalogue.set_names(set);
                match subject.among(Some(set), inquiry) {
                    Tristate::Yes => {
                        Ruling::no(Reason::AmongExceptions { fish: subject.name(inquiry), except })
                    }
                    Tristate::No => Ruling::yes(Reason::AnythingBut { except }),
                    Tristate::Undecided => {
                        let because = vec![Reason::ExceptionsForbidden { except }];
                        let mut ruling = Ruling::of(Tristate::Undecided, because);
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
        let fish = subject.name(inquiry);
        let mut ruling = Ruling::of(allowed, Vec::new());
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
                ruling.because.push(Reason::MayBeTaken { fish: fish.clone() }.by(answer.clause()));
                let time = |reason: &TimeReason| Reason::Time { reason: reason.clone() };
                ruling.because.extend(answer.timing_because.iter().map(time));
            } else {
                answer.doubts(subject, inquiry, &mut ruling);
            }
            ruling.because.extend(answer.fit.met.iter().cloned());
            conditions.push(answer.fit.conditions.clone());
        }
        if let (true, Some(clash)) = (ways.is_empty(), clash) {
            return Ruling::no(Reason::Clash { clash, between: LimitsOf::OnePermission });
        }
        ruling.conditions = alternatives(&conditions);
        ruling.set_ways(allowance::distinct(ways));
        ruling
    }

    fn refusals(&self, answers: &[Answer<'_>], subject: Subject<'_>, inquiry: &Inquiry<'_>) -> Vec<Reason> {
        let fish = subject.name(inquiry);
        let mut because = Vec::new();
        for answer in answers.iter().filter(|answer| answer.among != Tristate::No) {
            if answer.timing == Tristate::No {
                let why = answer.timing_because.clone();
                because.push(Reason::PermissionNotInForce { fish: fish.clone(), why }.by(answer.clause()));
            } else {
                because.extend(answer.fit.against.iter().map(|why| why.clone().by(answer.clause())));
            }
        }
        if because.is_empty() {
            because.push(Reason::NotAmongPermitted { fish, rule: self.summary(inquiry.catalogue) });
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
        let why = limit.fit.against.iter().map(|why| why.clone().by(limit.clause()));
        return Ruling::refused(why.collect());
    }
    ruling.conditions.extend(limit.fit.conditions.iter().cloned());
    ruling.because.extend(limit.fit.met.iter().cloned());
    if breaks != Tristate::Yes {
        // Either it is not settled whether the limit holds, or whether it is kept.
        ruling.allowed = ruling.allowed.and(Tristate::Undecided);
        let if_it_holds =
            |why: &Reason| Reason::IfLimitHolds { reason: Box::new(why.clone()) }.by(limit.clause());
        ruling.because.extend(limit.fit.against.iter().map(if_it_holds));
        limit.doubts(subject, inquiry, &mut ruling);
        return ruling;
    }
    if speaks == Tristate::Undecided {
        // keeping to the stricter of both is enough either way
        ruling.because.push(Reason::LimitMayHold.by(limit.clause()));
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
    let unsettled = |mut ruling: Ruling, clash: Clash, between: LimitsOf, settle: Option<Remedy>| {
        ruling.allowed = ruling.allowed.and(Tristate::Undecided);
        ruling.because.push(Reason::Clash { clash, between });
        ruling.settle.extend(settle);
        ruling
    };
    match (sure, strict) {
        (Err(clash), _) | (_, Err(clash)) if clash.is_open() => {
            unsettled(ruling, clash, LimitsOf::PermissionAndLimit, clash.settle())
        }
        (Err(clash), _) => Ruling::no(Reason::Clash { clash, between: LimitsOf::PermissionAndLimit }),
        (Ok(sure), Err(clash)) => {
            ruling.set_ways(sure);
            let settle = Remedy::FindOutWhetherLimitHolds { clause: limit.clause().cloned() };
            unsettled(ruling, clash, LimitsOf::PermissionAndPossibleLimit, Some(settle))
        }
        (Ok(sure), Ok(strict)) => {
            ruling.set_ways(strict);
            ruling.surely = (sure != ruling.ways()).then_some(sure);
            ruling
        }
    }
}

/// Returns what has to be met where one of several permissions is enough.
fn alternatives(lists: &[Vec<Condition>]) -> Vec<Condition> {
    if lists.iter().any(Vec::is_empty) {
        return Vec::new();
    }
    let Some(first) = lists.first() else { return Vec::new() };
    let mut shared: Vec<Condition> =
        first.iter().filter(|one| lists.iter().all(|list| list.contains(one))).cloned().collect();
    let rest =
        |list: &Vec<Condition>| list.iter().filter(|one| !shared.contains(one)).cloned().collect::<Vec<_>>();
    let mut ways: Vec<Vec<Condition>> = lists.iter().map(rest).collect();
    say_once(&mut ways);
    if ways.iter().any(Vec::is_empty) {
        return shared;
    }
    if let [_] = ways.as_slice() {
        return first.clone();
    }
    shared.push(Condition::Either { ways });
    shared
}

fn asked_again(suggestions: &[String]) -> Remedy {
    if suggestions.is_empty() {
        return Remedy::UseAListedName;
    }
    Remedy::DidYouMean { names: suggestions.to_vec() }
}
