//! Two editions as a whole.

use std::collections::HashMap;
use std::sync::Arc;

use strum::{IntoStaticStr, VariantNames};
use takeline::rule::Take;
use takeline::zone::{Extent, Status, Zone, ZoneFile};
use takeline::{Boundary, Metres};

use super::change::{Effect, Told};
use super::divided::{self, Division};
use super::files::{self, FileChange};
use super::fish::TwoCatalogues;
use super::line::LineChange;
use super::pairing::Pairing;
use super::rules;
use super::set_water::{SetWater, Sides};

/// What a zone does to its water, whenever it is in force.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
pub enum ZoneWater {
    /// Nothing may be taken, at some time at least.
    Closed,
    /// Something is restricted.
    Limited,
    /// Nothing is restricted.
    Unrestricted,
    /// It is no law: proposed, not commenced or repealed.
    NoLaw,
}

impl ZoneWater {
    /// What a zone does to its water.
    #[must_use]
    pub fn of(zone: &Zone) -> Self {
        if zone.status != Status::InForce {
            return Self::NoLaw;
        }
        let takes_nothing = match &zone.rule.take {
            Take::Nothing => true,
            Take::Only(permits) => permits.is_empty(),
            Take::AllExcept(_) | Take::Anything => false,
        };
        if takes_nothing {
            Self::Closed
        } else if zone.rule.restricts_nothing() {
            Self::Unrestricted
        } else {
            Self::Limited
        }
    }

    /// Returns its stable code, in kebab case.
    #[must_use]
    pub fn code(self) -> &'static str {
        self.into()
    }
}

/// What became of where a zone lies.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub enum ExtentChange {
    /// The line is the same.
    Same,
    /// The line changed.
    Line(Box<LineChange>),
    /// The line was not known, and is.
    BecameKnown,
    /// The line was known, and is not any more.
    BecameUnknown,
    /// It is not known in either edition, but something else is said of it.
    StillUnknown,
}

/// A zone that both editions have, and what changed of it.
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct ZoneChange<'a> {
    /// As it was.
    pub old: &'a Zone,
    /// As it is.
    pub new: &'a Zone,
    /// Where it lies.
    pub extent: ExtentChange,
    /// Everything else.
    pub changes: Vec<Told>,
}

impl<'a> ZoneChange<'a> {
    fn between(old: &'a Zone, new: &'a Zone, catalogues: &TwoCatalogues<'_>) -> Option<Self> {
        let extent = extent_change(&old.extent, &new.extent);
        let changes = rules::compare(old, new, catalogues);
        let is_same = matches!(extent, ExtentChange::Same) && changes.is_empty();
        (!is_same).then_some(Self { old, new, extent, changes })
    }

    /// How the line changed, where both editions have one.
    #[must_use]
    pub fn line(&self) -> Option<&LineChange> {
        match &self.extent {
            ExtentChange::Line(line) => Some(line),
            ExtentChange::Same
            | ExtentChange::BecameKnown
            | ExtentChange::BecameUnknown
            | ExtentChange::StillUnknown => None,
        }
    }

    /// Whether some change has this effect.
    #[must_use]
    pub fn has(&self, effect: Effect) -> bool {
        self.changes.iter().any(|told| told.effect == effect)
    }
}

/// Two editions, compared.
///
/// # Examples
///
/// ```
/// use takeline_drafting::editions::compare;
///
/// let read = |name: &str| -> Result<_, Box<dyn std::error::Error>> {
///     let bytes = std::fs::read(format!("../../demo-data/{name}"))?;
///     Ok(takeline::zone_file::read(name, &bytes)?.zones)
/// };
/// let marrowick = read("zones/marrowick.json")?;
/// assert!(compare(&marrowick, &marrowick).is_same());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone)]
#[non_exhaustive]
pub struct Comparison<'a> {
    /// Zones that only the new edition has, in its order.
    pub added: Vec<&'a Zone>,
    /// Zones that only the old edition has, in its order.
    pub removed: Vec<&'a Zone>,
    /// Zones of both editions that changed, in the order of the old one.
    pub changed: Vec<ZoneChange<'a>>,
    /// Zones that were split and joined.
    pub divisions: Vec<Division<'a>>,
    /// What changed of the files.
    pub files: Vec<FileChange>,
    /// Water of all zones together; none where it could not be measured.
    pub water: Option<SetWater>,
    /// How many zones are the same in both.
    pub unchanged: usize,
}

impl Comparison<'_> {
    /// Whether nothing differs.
    #[must_use]
    pub fn is_same(&self) -> bool {
        self.added.is_empty() && self.removed.is_empty() && self.changed.is_empty() && self.files.is_empty()
    }
}

/// Compares the zones of two editions.
///
/// Zones are matched by their ids; those left over by their lines, where these are nowhere more than 10 m apart. The order of
/// zones, parts, rings and lists, where a ring starts and which way it runs is no change.
///
/// # Accuracy
///
/// Vertices to 0.1 mm; areas as [`super::Water::between`].
///
/// # Edge cases
///
/// Comments and what else answers do not use are not compared, and what means the same is no change: lists in another order,
/// other blanks, another name of one clock or datum, times written in another way. Edges of which the file does not say how they run are read as
/// geodesics for the water, and [`LineChange::is_one_reading`] says so. Where a zone lies about a pole, no water is measured.
#[must_use]
pub fn compare<'a>(old: &'a [Zone], new: &'a [Zone]) -> Comparison<'a> {
    let pairing = Pairing::of(old, new);
    let pairs: Vec<(&'a Zone, &'a Zone)> =
        pairing.pairs.iter().map(|(one, two)| (&old[*one], &new[*two])).collect();
    let mut catalogues: HashMap<[*const ZoneFile; 2], TwoCatalogues<'_>> = HashMap::new();
    let mut change = |one: &'a Zone, two: &'a Zone| {
        let of_files = catalogues
            .entry([Arc::as_ptr(&one.file), Arc::as_ptr(&two.file)])
            .or_insert_with(|| TwoCatalogues::of(&one.file.catalogue, &two.file.catalogue));
        ZoneChange::between(one, two, of_files)
    };
    let changed: Vec<ZoneChange<'_>> = pairs.iter().filter_map(|(one, two)| change(one, two)).collect();
    let removed: Vec<&Zone> = pairing.only_old.iter().map(|at| &old[*at]).collect();
    let added: Vec<&Zone> = pairing.only_new.iter().map(|at| &new[*at]).collect();
    let moved = || changed.iter().filter(|change| change.line().is_some_and(|line| line.same_to.is_none()));
    let old_moved: Vec<&Zone> = removed.iter().copied().chain(moved().map(|change| change.old)).collect();
    let new_moved: Vec<&Zone> = added.iter().copied().chain(moved().map(|change| change.new)).collect();
    let touched = || {
        changed.iter().filter(|change| {
            // a line may be the same as closely as it is printed, and close a strip all the same
            let is_apart = |apart: Metres| apart.metres() > SAME_M;
            let lines = change.line().is_some_and(|line| line.same_to.is_none_or(is_apart));
            let known = matches!(change.extent, ExtentChange::BecameKnown | ExtentChange::BecameUnknown);
            lines || known || ZoneWater::of(change.old) != ZoneWater::of(change.new)
        })
    };
    let old_touched = removed.iter().copied().chain(touched().map(|change| change.old)).collect();
    let new_touched = added.iter().copied().chain(touched().map(|change| change.new)).collect();
    let water = SetWater::between(
        &Sides { touched: old_touched, all: old },
        &Sides { touched: new_touched, all: new },
    );
    Comparison {
        divisions: divided::find(&old_moved, &new_moved),
        files: files::compare(&pairs, old, new),
        water,
        unchanged: pairs.len() - changed.len(),
        added,
        removed,
        changed,
    }
}

/// Lines no farther apart than this, in metres, close no water that anybody could tell.
const SAME_M: f64 = 0.1;

fn extent_change(old: &Extent, new: &Extent) -> ExtentChange {
    match (old, new) {
        (Extent::Known(old), Extent::Known(new)) => LineChange::between(old, new)
            .map_or(ExtentChange::Same, |line| ExtentChange::Line(Box::new(line))),
        (Extent::Known(_), Extent::Unknown { .. }) => ExtentChange::BecameUnknown,
        (Extent::Unknown { .. }, Extent::Known(_)) => ExtentChange::BecameKnown,
        (
            Extent::Unknown { somewhere_in, reason },
            Extent::Unknown { somewhere_in: now_in, reason: now_reason },
        ) => {
            if reason == now_reason && same_somewhere(somewhere_in.as_ref(), now_in.as_ref()) {
                ExtentChange::Same
            } else {
                ExtentChange::StillUnknown
            }
        }
    }
}

fn same_somewhere(one: Option<&Boundary>, other: Option<&Boundary>) -> bool {
    match (one, other) {
        (Some(one), Some(other)) => LineChange::between(one, other).is_none(),
        (None, None) => true,
        _ => false,
    }
}
