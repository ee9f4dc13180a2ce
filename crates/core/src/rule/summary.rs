//! A take rule in short, as data.

use strum::{IntoStaticStr, VariantNames};

use super::{Access, Catalogue, Gear, Permit, SetNames, Take, TakeRule, When};
use crate::once::say_once;

/// A rule in short: a headline, not the rule. Times, sizes and bags are only hinted at, conditions are left out.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct RuleSummary {
    /// What may be taken.
    #[cfg_attr(feature = "serde", serde(flatten))]
    pub take: TakeSummary,
    /// Kinds of gear with which alone it may be taken: of each list one is enough.
    pub gear: Vec<Vec<Gear>>,
    /// Whom it binds by access; empty: everybody.
    pub binds: Vec<Access>,
}

/// What may be taken, in short.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum TakeSummary {
    /// Nothing.
    Nothing,
    /// Anything.
    Anything,
    /// Anything, within limits.
    AnythingWithinLimits,
    /// Anything but these.
    AnythingBut {
        /// They.
        except: SetNames,
    },
    /// Only these.
    Only {
        /// They, each with whether it holds at set times only.
        permits: Vec<PermitSummary>,
    },
}

/// A permission in short.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct PermitSummary {
    /// Which fish; none: every fish.
    pub fish: Option<SetNames>,
    /// Whether at set times only.
    pub at_set_times: bool,
}

impl TakeRule {
    /// Returns the rule in short.
    #[must_use]
    pub fn summary(&self, catalogue: &Catalogue) -> RuleSummary {
        let take = match &self.take {
            Take::Nothing => TakeSummary::Nothing,
            Take::Anything if self.limits.is_empty() => TakeSummary::Anything,
            Take::Anything => TakeSummary::AnythingWithinLimits,
            Take::AllExcept(set) => TakeSummary::AnythingBut { except: catalogue.set_names(set) },
            Take::Only(permits) if permits.is_empty() => TakeSummary::Nothing,
            Take::Only(permits) => TakeSummary::Only { permits: only(permits, catalogue) },
        };
        let mut gear = Vec::new();
        if let Take::Only(permits) = &self.take {
            gear.extend(common_gear(permits));
        }
        for limit in self.limits.iter().filter(|limit| limit.taxa.is_none() && limit.when == When::Always) {
            gear.extend(common_gear(std::slice::from_ref(limit)));
        }
        say_once(&mut gear);
        RuleSummary { take, gear, binds: self.binds.clone() }
    }
}

fn only(permits: &[Permit], catalogue: &Catalogue) -> Vec<PermitSummary> {
    let short = |permit: &Permit| PermitSummary {
        fish: permit.taxa.as_ref().map(|set| catalogue.set_names(set)),
        at_set_times: permit.when != When::Always,
    };
    let mut short: Vec<PermitSummary> = permits.iter().map(short).collect();
    say_once(&mut short);
    short
}

/// The kinds of gear that all permits name alike, if they name any.
fn common_gear(permits: &[Permit]) -> Option<Vec<Gear>> {
    let kinds =
        |permit: &Permit| permit.limits.gear.iter().map(|gear| gear.kind.clone()).collect::<Vec<Gear>>();
    let first = kinds(permits.first()?);
    let alike = !first.is_empty() && permits.iter().all(|permit| kinds(permit) == first);
    alike.then_some(first)
}
