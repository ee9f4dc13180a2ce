//! Limits of several rules that hold together: the smallest bag, the narrowest size, the gear that all allow.

use std::collections::BTreeSet;

use super::{Allowance, Bag, Bait, Clash, Gear, GearAllowance, Limits, Remedy, Size, naming};

/// Ways of being allowed that are followed at most; beyond that the answer is undecided.
const MOST_WAYS: usize = 128;

impl Clash {
    /// Whether it proves nothing: what was not compared, or not understood, might be allowed by all.
    pub(super) fn is_open(self) -> bool {
        matches!(self, Self::BaitWords | Self::TooMany)
    }

    /// What would settle it, where it is open.
    pub(super) fn settle(self) -> Option<Remedy> {
        match self {
            Self::BaitWords => Some(Remedy::SayWhichBait),
            Self::TooMany => Some(Remedy::ReadTheRule),
            Self::Sizes | Self::Gear | Self::Bait => None,
        }
    }
}

impl Allowance {
    pub(super) fn of(limits: &Limits) -> Result<Self, Clash> {
        let gear = (!limits.gear.is_empty()).then(|| limits.gear.clone());
        Self {
            bags: limits.bag.into_iter().collect(),
            sizes: limits.size.clone().into_iter().collect(),
            gear,
            gear_forbidden: limits.gear_forbidden.clone(),
            bait: limits.bait.clone().into_iter().collect(),
        }
        .in_order()
    }

    /// Returns the limits that hold where both hold.
    pub(super) fn and(&self, other: &Self) -> Result<Self, Clash> {
        let gear = match (&self.gear, &other.gear) {
            (Some(one), Some(two)) => Some(shared_gear(one, two)),
            (one, two) => one.clone().or_else(|| two.clone()),
        };
        Self {
            bags: [&self.bags[..], &other.bags].concat(),
            sizes: [&self.sizes[..], &other.sizes].concat(),
            gear,
            gear_forbidden: [&self.gear_forbidden[..], &other.gear_forbidden].concat(),
            bait: [&self.bait[..], &other.bait].concat(),
        }
        .in_order()
    }

    /// Puts equal limits into equal form, so that the order in which they were met does not show.
    fn in_order(mut self) -> Result<Self, Clash> {
        self.bags = smallest_bags(self.bags);
        self.sizes = narrowest_sizes(self.sizes)?;
        self.gear_forbidden.sort_by_cached_key(|gear| (naming::key(&gear.0), gear.clone()));
        self.gear_forbidden.dedup_by_key(|gear| naming::key(&gear.0));
        if let Some(gear) = &mut self.gear {
            let forbidden = &self.gear_forbidden;
            gear.retain(|one| !forbidden.iter().any(|no| same_gear(no, &one.kind)));
            *gear = widest(std::mem::take(gear));
            if gear.is_empty() {
                return Err(Clash::Gear);
            }
        }
        self.bait.sort();
        self.bait.dedup();
        bait_clash(&self.bait).map_or(Ok(self), Err)
    }
}

/// Why no bait is left: every bait of a list of those allowed is forbidden by another rule, or no bait is on every list.
fn bait_clash(rules: &[Bait]) -> Option<Clash> {
    let keys = |listed: &[String]| listed.iter().map(|bait| naming::key(bait)).collect::<BTreeSet<_>>();
    let forbidden: BTreeSet<String> = rules
        .iter()
        .filter_map(|rule| if let Bait::Not(listed) = rule { Some(keys(listed)) } else { None })
        .flatten()
        .collect();
    let allowed: Vec<BTreeSet<String>> = rules
        .iter()
        .filter_map(|rule| if let Bait::Only(listed) = rule { Some(keys(listed)) } else { None })
        .filter(|listed| !listed.is_empty())
        .map(|listed| listed.difference(&forbidden).cloned().collect())
        .collect();
    if allowed.iter().any(BTreeSet::is_empty) {
        return Some(Clash::Bait);
    }
    let shared = allowed.iter().cloned().reduce(|one, other| one.intersection(&other).cloned().collect());
    shared.is_some_and(|shared| shared.is_empty()).then_some(Clash::BaitWords)
}

/// The allowances in a fixed order, without those that another one covers: any one of them is enough.
fn widest(mut gear: Vec<GearAllowance>) -> Vec<GearAllowance> {
    gear.sort();
    gear.dedup();
    let redundant = |at: usize| {
        let beats = |other: usize| {
            other != at && covers(&gear[other], &gear[at]) && (other < at || !covers(&gear[at], &gear[other]))
        };
        (0..gear.len()).any(beats)
    };
    let kept: Vec<bool> = (0..gear.len()).map(|at| !redundant(at)).collect();
    gear.into_iter().zip(kept).filter_map(|(one, keep)| keep.then_some(one)).collect()
}

/// Whether an allowance lets everything be used that another does, so that the other adds nothing beside it.
fn covers(wide: &GearAllowance, narrow: &GearAllowance) -> bool {
    let no_lower = |wide: Option<u32>, narrow: Option<u32>| match (wide, narrow) {
        (None, _) => true,
        (Some(wide), Some(narrow)) => wide >= narrow,
        (Some(_), None) => false,
    };
    same_gear(&wide.kind, &narrow.kind)
        && no_lower(wide.max_lines, narrow.max_lines)
        && no_lower(wide.max_hooks, narrow.max_hooks)
        && (wide.note.is_none() || wide.note == narrow.note)
}

/// Whether two words for gear are the same but for case, accents, spaces and a plural s.
pub(super) fn same_gear(one: &Gear, other: &Gear) -> bool {
    naming::key(&one.0) == naming::key(&other.0)
}

fn smallest_bags(mut bags: Vec<Bag>) -> Vec<Bag> {
    bags.sort_by_key(|bag| (bag.per, bag.count));
    bags.dedup_by_key(|bag| bag.per);
    bags
}

fn narrowest_sizes(sizes: Vec<Size>) -> Result<Vec<Size>, Clash> {
    let mut narrowed: Vec<Size> = Vec::new();
    for size in sizes {
        match narrowed.iter_mut().find(|known| known.measure == size.measure) {
            None => narrowed.push(size),
            Some(known) => {
                known.min_cm = both(known.min_cm, size.min_cm, f64::max);
                known.max_cm = both(known.max_cm, size.max_cm, f64::min);
            }
        }
    }
    narrowed.sort_by(|one, other| one.measure.cmp(&other.measure));
    let empty = |size: &Size| matches!((size.min_cm, size.max_cm), (Some(min), Some(max)) if min > max);
    if narrowed.iter().any(empty) { Err(Clash::Sizes) } else { Ok(narrowed) }
}

fn both<T: Copy>(one: Option<T>, other: Option<T>, pick: impl Fn(T, T) -> T) -> Option<T> {
    match (one, other) {
        (Some(one), Some(other)) => Some(pick(one, other)),
        (one, other) => one.or(other),
    }
}

fn shared_gear(one: &[GearAllowance], other: &[GearAllowance]) -> Vec<GearAllowance> {
    let mut shared = Vec::new();
    for mine in one {
        for theirs in other.iter().filter(|theirs| same_gear(&mine.kind, &theirs.kind)) {
            shared.push(GearAllowance {
                kind: mine.kind.clone().min(theirs.kind.clone()),
                max_lines: both(mine.max_lines, theirs.max_lines, u32::min),
                max_hooks: both(mine.max_hooks, theirs.max_hooks, u32::min),
                note: both_notes(mine.note.as_deref(), theirs.note.as_deref()),
            });
        }
    }
    shared
}

/// Joins the notes of both, each once and in alphabetical order.
fn both_notes(one: Option<&str>, other: Option<&str>) -> Option<String> {
    const SEPARATOR: &str = " + ";
    let mut notes: Vec<&str> = one.into_iter().chain(other).flat_map(|text| text.split(SEPARATOR)).collect();
    notes.sort_unstable();
    notes.dedup();
    (!notes.is_empty()).then(|| notes.join(SEPARATOR))
}

/// Returns the ways in which both are allowed: every pair that can hold together.
///
/// The clash of the first pair if none can; one that proves nothing before one that does.
pub(super) fn ways_of_both(one: &[Allowance], other: &[Allowance]) -> Result<Vec<Allowance>, Clash> {
    if one.len().saturating_mul(other.len()) > MOST_WAYS {
        return Err(Clash::TooMany);
    }
    let mut clash = None;
    let mut ways = Vec::new();
    for (mine, theirs) in one.iter().flat_map(|mine| other.iter().map(move |theirs| (mine, theirs))) {
        match mine.and(theirs) {
            Ok(way) => ways.push(way),
            Err(why) => {
                let proves_less = clash.is_none_or(|known: Clash| !known.is_open() && why.is_open());
                clash = if proves_less { Some(why) } else { clash };
            }
        }
    }
    match clash {
        Some(clash) if ways.is_empty() => Err(clash),
        _ => Ok(distinct(ways)),
    }
}

/// Returns the ways in a fixed order, each once; ways that differ in nothing but gear become one.
pub(super) fn distinct(ways: Vec<Allowance>) -> Vec<Allowance> {
    let mut kept: Vec<Allowance> = Vec::new();
    for way in ways {
        let like = |known: &&mut Allowance| {
            Allowance { gear: None, ..(*known).clone() } == Allowance { gear: None, ..way.clone() }
        };
        match kept.iter_mut().find(like) {
            None => kept.push(way),
            Some(known) => known.gear = either_gear(known.gear.take(), way.gear),
        }
    }
    kept.sort_by(|one, other| one.partial_cmp(other).unwrap_or(std::cmp::Ordering::Equal));
    kept
}

fn either_gear(
    one: Option<Vec<GearAllowance>>,
    other: Option<Vec<GearAllowance>>,
) -> Option<Vec<GearAllowance>> {
    Some(widest([one?, other?].concat()))
}
