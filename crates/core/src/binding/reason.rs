//! Why a zone's rule is in force or not, as data. The words stand elsewhere.

use jiff::ZonedDateTime;
use strum::{IntoStaticStr, VariantNames};

use crate::coded::coded;
use crate::rule::{MissingTime, TimeReason};
use crate::zone::Status;

/// Why a zone's rule is in force or not, and when that changes. Times are in the zone's own time.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum Reason {
    /// It is not law.
    NotLaw {
        /// What it is instead.
        status: Status,
    },
    /// This edition does not yet have effect.
    BeforeEdition {
        /// The first instant at which it has.
        from: ZonedDateTime,
    },
    /// This edition has effect no more.
    AfterEdition {
        /// The first instant at which it has none.
        until: ZonedDateTime,
    },
    /// No time is known.
    NoTime {
        /// Why not.
        missing: MissingTime,
    },
    /// What its seasons and hours say.
    Season {
        /// That.
        reason: TimeReason,
    },
    /// In force until then.
    InForceUntil {
        /// The first instant at which it is not, or this is not settled.
        until: ZonedDateTime,
    },
    /// Not in force until then.
    NotInForceUntil {
        /// The first instant at which it is, or this is not settled.
        until: ZonedDateTime,
    },
    /// Not in force again in this edition.
    NotInForceAgain {
        /// The first instant after this edition.
        until: ZonedDateTime,
    },
    /// Not settled until then.
    OpenUntil {
        /// The first instant at which it is settled.
        until: ZonedDateTime,
    },
    /// Seasons are not followed for more than 400 days.
    SeasonsNotFollowed,
}

coded!(Reason);

impl From<TimeReason> for Reason {
    /// No time is the same reason, whether an edition or a season asks for it.
    fn from(reason: TimeReason) -> Self {
        if let TimeReason::NoTime { missing } = reason {
            return Self::NoTime { missing };
        }
        Self::Season { reason }
    }
}
