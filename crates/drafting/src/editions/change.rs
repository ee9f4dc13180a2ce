//! What changed, as data.

use jiff::Timestamp;
use jiff::civil::Date;
use strum::{IntoStaticStr, VariantNames};
use takeline::Metres;
use takeline::rule::{
    Access, Bag, Bait, CommonName, Condition, Gear, GearAllowance, Possession, RuleSummary, Size, When,
};
use takeline::zone::{Datum, Effective, LineBelongs, Override, Proofread, Status, ZoneId};

/// What something was and what it is now.
#[derive(Debug, Clone, PartialEq)]
pub struct FromTo<T> {
    /// In the old edition.
    pub from: T,
    /// In the new one.
    pub to: T,
}

impl<T: PartialEq + Clone> FromTo<T> {
    /// What changed; none if nothing did.
    pub(super) fn of(from: &T, to: &T) -> Option<Self> {
        (from != to).then(|| Self { from: from.clone(), to: to.clone() })
    }
}

/// What a change does to somebody who fishes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
pub enum Effect {
    /// Less is allowed than before, and nothing more.
    Stricter,
    /// It cannot be told, or one thing became stricter and another looser: read both.
    Undecided,
    /// More is allowed than before by this rule, and nothing less.
    Looser,
    /// It says where a rule is from or what things are called, not what may be done.
    Reference,
}

impl Effect {
    /// Returns its stable code, in kebab case.
    #[must_use]
    pub fn code(self) -> &'static str {
        self.into()
    }
}

/// Which permission or limit a change is of.
#[derive(Debug, Clone, PartialEq, Eq)]
#[non_exhaustive]
pub struct PermitOf {
    /// The names of its fish, as people see them; none: any fish.
    pub fish: Option<Vec<String>>,
    /// Whether it is a limit on what may be taken anyway, and not a permission to take.
    pub is_limit: bool,
}

/// One change of what a zone says, or of what is said of it.
///
/// # Edge cases
///
/// Lists are compared whatever their order, and texts whatever their blanks.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[non_exhaustive]
pub enum Change {
    /// Its identifier.
    Id(FromTo<ZoneId>),
    /// Its name.
    Name(FromTo<String>),
    /// Whether it is law.
    Status(FromTo<Status>),
    /// From when until when it has effect.
    Effective(FromTo<Effective>),
    /// When it is in force.
    Season(FromTo<When>),
    /// What may be taken at all, in short.
    Take(FromTo<RuleSummary>),
    /// Fish that may no longer be taken, and fish that may be taken now.
    Fish {
        /// Of which permission or limit; none: of what the zone excepts.
        of: Option<PermitOf>,
        /// Fish that are newly in the set.
        added: Vec<String>,
        /// Fish that are no longer in it.
        removed: Vec<String>,
    },
    /// A permission or a limit that is new.
    PermitAdded {
        /// Which.
        of: PermitOf,
    },
    /// A permission or a limit that is gone.
    PermitRemoved {
        /// Which.
        of: PermitOf,
    },
    /// When a permission or a limit holds.
    PermitTimes(PermitOf, FromTo<When>),
    /// How many may be kept.
    Bag(PermitOf, FromTo<Option<Bag>>),
    /// How long they have to be.
    Size(PermitOf, FromTo<Option<Size>>),
    /// The gear that alone is allowed; empty: any.
    Gear(PermitOf, FromTo<Vec<GearAllowance>>),
    /// The gear that is forbidden.
    GearForbidden(PermitOf, FromTo<Vec<Gear>>),
    /// Bait.
    Bait(PermitOf, FromTo<Option<Bait>>),
    /// Conditions of a permission or a limit, in the law's words.
    PermitConditions(PermitOf, FromTo<Vec<String>>),
    /// The clause of a permission or a limit.
    PermitClause(PermitOf, FromTo<Option<String>>),
    /// Fish caught elsewhere.
    Possession(FromTo<Possession>),
    /// Crossing without fishing; empty: the file does not say.
    Crossing(FromTo<Vec<Condition>>),
    /// Whom it binds; empty: everybody.
    Binds(FromTo<Vec<Access>>),
    /// Conditions of the zone, in the law's words.
    Conditions(FromTo<Vec<String>>),
    /// Rules of other zones that it displaces.
    Overrides(FromTo<Vec<Override>>),
    /// Whether it may be closed or opened by notice.
    ByNotice(FromTo<bool>),
    /// Whether the line itself belongs to it.
    OnTheLine(FromTo<LineBelongs>),
    /// The uncertainty of the line.
    LineUncertainty(FromTo<Metres>),
    /// The datum of its coordinates.
    Datum(FromTo<Datum>),
    /// The time zone of its dates and hours.
    TimeZone(FromTo<Option<String>>),
    /// The words of the law that are quoted.
    QuotedText(FromTo<Option<String>>),
    /// The instrument.
    Instrument(FromTo<String>),
    /// The clause.
    Clause(FromTo<Option<String>>),
    /// Where it was read.
    Url(FromTo<Option<String>>),
    /// Its positions in the law's own notation.
    AsPublished {
        /// How many texts are new or gone.
        count: usize,
        /// The first text that only one edition has, in the old one and in the new one.
        first: FromTo<Option<String>>,
    },
    /// Who read it against the printed law.
    Proofread(FromTo<Option<Proofread>>),
    /// When it was read.
    Retrieved(FromTo<Option<Date>>),
    /// The licence of the text or data.
    Licence(FromTo<Option<String>>),
    /// The title of the file.
    FileTitle(FromTo<Option<String>>),
    /// The edition of the file.
    FileEdition(FromTo<Option<String>>),
    /// The day on which the file was issued.
    FileIssued(FromTo<Option<Date>>),
    /// Who publishes the file.
    FilePublisher(FromTo<Option<String>>),
    /// Until when the file holds.
    ValidUntil(FromTo<Option<Timestamp>>),
    /// The licence of the file.
    FileLicence(FromTo<Option<String>>),
    /// A fish that the file newly knows.
    FishAdded {
        /// Its name.
        fish: String,
    },
    /// A fish that the file no longer knows: nobody can ask about it by name.
    FishRemoved {
        /// Its name.
        fish: String,
    },
    /// What a fish is called.
    FishNames {
        /// Its name.
        fish: String,
        /// Its names.
        names: FromTo<Vec<CommonName>>,
    },
    /// The code of the FAO, or what a fish is a kind of.
    FishRecord {
        /// Its name.
        fish: String,
    },
    /// Which fish belong to a group.
    GroupMembers {
        /// The group.
        group: String,
        /// Fish that are newly in it.
        added: Vec<String>,
        /// Fish that are no longer in it.
        removed: Vec<String>,
    },
    /// A group that the file newly knows.
    GroupAdded {
        /// The group.
        group: String,
    },
    /// A group that the file no longer knows.
    GroupRemoved {
        /// The group.
        group: String,
    },
    /// What a group is called.
    GroupNames {
        /// The group.
        group: String,
        /// Its names.
        names: FromTo<Vec<CommonName>>,
    },
}

impl Change {
    /// Returns the stable code of its kind, in kebab case.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.into()
    }
}

/// A change, and what it does.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Told {
    /// The change.
    pub change: Change,
    /// What it does to somebody who fishes.
    pub effect: Effect,
}

impl Told {
    pub(super) const fn new(change: Change, effect: Effect) -> Self {
        Self { change, effect }
    }
}
