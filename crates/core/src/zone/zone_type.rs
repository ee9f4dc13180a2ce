use std::fmt;
use std::sync::Arc;

use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;

use super::{Datum, Proofread, PublishedVertex};
use crate::rule::{Catalogue, Condition, RuleSummary, Take, TakeRule, When};
use crate::{Boundary, Metres};

/// Identifier of a zone, unique within its file.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ZoneId(pub String);

impl fmt::Display for ZoneId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Where a zone lies.
#[derive(Debug, Clone)]
pub enum Extent {
    /// Inside this boundary.
    Known(Boundary),
    /// Somewhere near: nobody may be called outside there.
    Unknown {
        /// The area inside which every answer is undecided; none: everywhere.
        somewhere_in: Option<Boundary>,
        /// Why it is not known ("see plan MP2, not supplied").
        reason: String,
    },
}

/// Whether somebody exactly on the line counts as inside.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum LineBelongs {
    /// The line belongs to the zone; also the cautious reading where the text does not say.
    #[default]
    ToZone,
    /// The text says that the line itself is outside.
    Outside,
}

/// Whether the instrument is law at all.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum Status {
    /// It is.
    #[default]
    InForce,
    /// It is only proposed.
    Proposed,
    /// It is made but has not commenced.
    NotCommenced,
    /// It has been repealed.
    Repealed,
}

/// The span in which an edition of a rule has effect; open where none is given.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Effective {
    /// First instant.
    pub from: Option<Timestamp>,
    /// First instant after.
    pub until: Option<Timestamp>,
}

/// Another zone's rule that this one displaces, with the text that says so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Override {
    /// The zone whose rule yields.
    pub zone: ZoneId,
    /// The clause that says so; always printed.
    pub clause: String,
}

/// Where a rule comes from.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Source {
    /// The law, order or notice.
    pub instrument: String,
    /// The clause in it.
    pub clause: Option<String>,
    /// The words of the law.
    pub quoted_text: Option<String>,
    /// Where it was read.
    pub url: Option<String>,
    /// When it was read.
    pub retrieved: Option<Date>,
    /// The licence of the text or data.
    pub licence: Option<String>,
}

/// The file a zone was read from.
#[derive(Debug, Clone, PartialEq, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ZoneFile {
    /// The path or label that the caller gave.
    pub path: String,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: String,
    /// Its title.
    pub title: Option<String>,
    /// Its edition.
    pub edition: Option<String>,
    /// The instant from which its makers no longer vouch for it.
    pub valid_until: Option<Timestamp>,
    /// Its licence.
    pub licence: Option<String>,
    /// The day it was issued.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub issued: Option<Date>,
    /// Who publishes it.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub publisher: Option<String>,
    /// Its fish.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub catalogue: Catalogue,
}

/// A zone with its rule.
#[derive(Debug, Clone)]
pub struct Zone {
    /// Identifier.
    pub id: ZoneId,
    /// Name.
    pub name: String,
    /// Where it lies.
    pub extent: Extent,
    /// 95 % uncertainty of the line itself, datum not counted.
    pub line_uncertainty: Metres,
    /// The datum its coordinates are given in.
    pub datum: Datum,
    /// Whether that is what its file says, or leaves open, for all its zones: they then share what it may be off. What a
    /// zone says of itself its neighbour may not share.
    pub datum_is_of_the_file: bool,
    /// Whether the line belongs to it.
    pub line_belongs: LineBelongs,
    /// The time zone its dates and hours are in.
    pub time_zone: TimeZone,
    /// Whether it is law.
    pub status: Status,
    /// When this edition of it has effect.
    pub effective: Effective,
    /// When its rule is in force.
    pub when: When,
    /// What it says.
    pub rule: TakeRule,
    /// Rules that it displaces.
    pub overrides: Vec<Override>,
    /// Where it comes from.
    pub source: Source,
    /// Who read it against the printed law, if anybody did.
    pub proofread: Option<Proofread>,
    /// Whether it may be closed or opened by notice, which nothing offline can know.
    pub may_change_by_notice: bool,
    /// Its vertices in the law's own notation, in the order of its file; empty where the file does not have them.
    pub as_published: Vec<PublishedVertex>,
    /// The file it was read from.
    pub file: Arc<ZoneFile>,
}

impl Zone {
    /// What its line and its datum add to the doubt of a distance to it, 95 %, in metres.
    pub(crate) fn line_doubt_m(&self) -> f64 {
        self.line_uncertainty.metres().hypot(self.datum.uncertainty_95().metres())
    }

    /// A zone that is in force at all times, with a line that belongs to it and has no doubt of its own, in WGS 84, with dates
    /// in UTC, from no file and no source.
    ///
    /// Set what differs, and [`Zone::source`] in any case: every answer prints it.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::rule::Take;
    /// use takeline::zone::{Extent, Zone};
    /// use takeline::{Boundary, Metres, PartSpec, Position, ZoneSet};
    ///
    /// let centre = Position::from_degrees(45.1170, -30.1190)?;
    /// let boundary = Boundary::build(&[PartSpec::Circle { centre, radius: Metres::new(200.0)? }])?;
    /// let mut zone = Zone::new("sallow-cove", "Sallow Cove", Extent::Known(boundary), Take::Nothing.into());
    /// zone.source.instrument = "Marrowick Waters Order".to_owned();
    /// let zones = ZoneSet::new(vec![zone]);
    /// # Ok::<(), Box<dyn std::error::Error>>(())
    /// ```
    #[must_use]
    pub fn new(id: impl Into<String>, name: impl Into<String>, extent: Extent, rule: TakeRule) -> Self {
        Self {
            id: ZoneId(id.into()),
            name: name.into(),
            extent,
            line_uncertainty: Metres::ZERO,
            datum: Datum::Wgs84,
            datum_is_of_the_file: false,
            line_belongs: LineBelongs::ToZone,
            time_zone: TimeZone::UTC,
            status: Status::InForce,
            effective: Effective::default(),
            when: When::Always,
            rule,
            overrides: Vec::new(),
            source: Source::default(),
            proofread: None,
            may_change_by_notice: false,
            as_published: Vec::new(),
            file: Arc::default(),
        }
    }
}

/// What an answer says of a zone wherever the fix is: drawn up once, and shared by all answers about it.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct ZoneSummary {
    /// The zone.
    pub id: ZoneId,
    /// Its name.
    pub name: String,
    /// The rule in short.
    pub take_rule: RuleSummary,
    /// Conditions of the zone that hold whatever the fish.
    pub conditions: Vec<String>,
    /// How one may cross, in the law's words where it has any.
    pub passage: Vec<Condition>,
    /// Whether the rule says nothing may be taken.
    pub nothing_may_be_taken: bool,
    /// Whether the rule restricts nothing at all.
    pub restricts_nothing: bool,
    /// The time zone in which its days and hours are meant.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub time_zone: TimeZone,
    /// Where the rule comes from.
    pub source: Source,
    /// Who read the zone against the printed law, if anybody did.
    pub proofread: Option<Proofread>,
    /// The file it was read from.
    pub file: Arc<ZoneFile>,
}

impl From<&Zone> for ZoneSummary {
    fn from(zone: &Zone) -> Self {
        Self {
            id: zone.id.clone(),
            name: zone.name.clone(),
            take_rule: zone.rule.summary(&zone.file.catalogue),
            conditions: zone.rule.conditions.clone(),
            passage: zone.rule.to_cross(),
            nothing_may_be_taken: zone.rule.take == Take::Nothing,
            restricts_nothing: zone.rule.restricts_nothing(),
            time_zone: zone.time_zone.clone(),
            source: zone.source.clone(),
            proofread: zone.proofread.clone(),
            file: zone.file.clone(),
        }
    }
}
