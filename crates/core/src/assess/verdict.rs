//! An assessment in brief: what a small screen shows first.

use super::{Assessment, Reason, TakeAnswer, TakeFinding, Warning, WaterStatus, ZoneFinding};
use crate::Tristate;

/// An assessment in brief, without a word of any language: what the water is under, by which zones, and what is open.
///
/// It borrows from the [`Assessment`], which holds the reasons, the sources and what would settle the open questions.
///
/// # Examples
///
/// See the front page of this crate.
#[derive(Debug, Clone)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Verdict<'a> {
    /// What the water is under. [`WaterStatus::Unzoned`] means that no loaded zone applies: never that anything is lawful, and
    /// never that it is safe.
    pub water: WaterStatus,
    /// Zones whose rules surely bind here and restrict something, those that close the water first, nearest line first.
    pub binding: Vec<&'a ZoneFinding>,
    /// Where every place that the fix may mean lies in one or another of several closed zones: those, nearest line first. The
    /// water is then closed, whichever of them the boat is in.
    pub one_of: Vec<&'a ZoneFinding>,
    /// Whether the distance that was asked for is kept to every zone; none if none was asked for.
    pub standoff_kept: Option<Tristate>,
    /// What is to be known about the data that the answer rests on: an edition past its date, a datum that nobody stated, …
    pub warnings: &'a [Warning],
    /// What is not decided. It may leave the water undecided, or only add to what surely binds.
    pub undecided: Vec<Undecided<'a>>,
}

/// A question that what is known does not settle.
#[derive(Debug, Clone, Copy)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "open", content = "about", rename_all = "kebab-case"))]
pub enum Undecided<'a> {
    /// Whether the position is where the boat is: a slip explains it better, or it is what receivers write without one.
    Position,
    /// Whether any zone holds the place: none is loaded.
    Zones,
    /// On which side of the line of this zone the boat is, or where the line is.
    Side(&'a ZoneFinding),
    /// Whether the rule of this zone is in force at the time of the fix.
    InForce(&'a ZoneFinding),
    /// Whether the rule of this zone binds this way of fishing.
    Access(&'a ZoneFinding),
    /// Whether the rule of another zone displaces this one's here.
    Displacement(&'a ZoneFinding),
    /// Whether this fish may be kept.
    Fish(&'a TakeFinding),
    /// Whether the distance that was asked for is kept to every zone.
    Standoff,
}

impl Verdict<'_> {
    /// Returns whether nothing that was asked is left open: the water, each fish, the distance to keep.
    ///
    /// In closed water it stays settled although it is open whether other zones bind too: nothing may be taken, whatever they say.
    ///
    /// Whether a fish caught elsewhere may be aboard is another matter: [`TakeFinding::possession`].
    #[must_use]
    pub fn is_settled(&self) -> bool {
        let changes_nothing = |open: &Undecided<'_>| self.water == WaterStatus::Closed && open.is_of_a_zone();
        self.water != WaterStatus::Undecided && self.undecided.iter().all(changes_nothing)
    }
}

impl Undecided<'_> {
    /// Whether it is about what leaves it open whether the rule of a zone binds.
    fn is_of_a_zone(&self) -> bool {
        match self {
            Self::Side(_) | Self::InForce(_) | Self::Access(_) | Self::Displacement(_) => true,
            Self::Zones | Self::Position | Self::Fish(_) | Self::Standoff => false,
        }
    }
}

impl Assessment {
    /// Returns the answer in brief, for a small screen or for a program to act on.
    ///
    /// # Edge cases
    ///
    /// An undecided water or fish is to be treated as closed: do not fish, do not keep it. A doubted position decides nothing:
    /// the water is then undecided and the first open question is [`Undecided::Position`].
    ///
    /// # Examples
    ///
    /// See the front page of this crate.
    #[must_use]
    pub fn verdict(&self) -> Verdict<'_> {
        let restricting = || self.zones.iter().filter(|zone| !zone.restricts_nothing);
        let mut binding: Vec<&ZoneFinding> =
            restricting().filter(|zone| zone.binds == Tristate::Yes).collect();
        binding.sort_by_key(|zone| !zone.nothing_may_be_taken);
        let one_of: Vec<&ZoneFinding> =
            self.closed_by_one_of.iter().filter_map(|place| self.zones.get(*place)).collect();
        let open = restricting().filter(|zone| zone.binds == Tristate::Undecided);
        let is_doubted = self.water_because.iter().any(Reason::doubts_the_position);
        let position = is_doubted.then_some(Undecided::Position);
        let fish = self.take.iter().filter(|fish| fish.answer == TakeAnswer::Undecided);
        let standoff = (self.standoff_kept == Some(Tristate::Undecided)).then_some(Undecided::Standoff);
        let nothing_loaded = self.water_because.contains(&Reason::NothingLoaded).then_some(Undecided::Zones);
        let undecided = nothing_loaded
            .into_iter()
            .chain(position)
            .chain(open.flat_map(ZoneFinding::open_questions))
            .chain(fish.map(Undecided::Fish))
            .chain(standoff)
            .collect();
        Verdict {
            water: self.water,
            binding,
            one_of,
            standoff_kept: self.standoff_kept,
            warnings: &self.warnings,
            undecided,
        }
    }
}

impl ZoneFinding {
    /// What leaves it open whether its rule binds.
    fn open_questions(&self) -> impl Iterator<Item = Undecided<'_>> {
        let questions = [
            (self.containment.into(), Undecided::Side(self)),
            (self.in_force, Undecided::InForce(self)),
            (self.access, Undecided::Access(self)),
            (self.displaced, Undecided::Displacement(self)),
        ];
        questions.into_iter().filter(|(answer, _)| *answer == Tristate::Undecided).map(|(_, open)| open)
    }
}
