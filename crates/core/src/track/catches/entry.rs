use jiff::Timestamp;

use crate::rule::{Access, Circumstances, Gear};
use crate::track::TrackSettings;
use crate::{HorizontalUncertainty, Position, PrintedPrecision};

/// One row of a catch log, as somebody wrote it.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct CatchEntry {
    /// The row of the log, as its reader counts (the line, counted from 1).
    pub row: u64,
    /// When, if the row says so.
    pub time: Option<Timestamp>,
    /// Whether the date of that time may be wrong: then what was in force is not known.
    pub is_date_doubtful: bool,
    /// Where, if the row says so.
    pub position: Option<Position>,
    /// How finely that position was written, if its reader knows: what its digits leave open is a doubt of it.
    pub precision: Option<PrintedPrecision>,
    /// The fish by the name that was written.
    pub asked: String,
    /// How many; 1 where the row does not say.
    pub count: u32,
    /// Length in centimetres, of each of them.
    pub length_cm: Option<f64>,
    /// Whether it was kept; none where the row does not say.
    pub kept: Option<bool>,
    /// With what.
    pub gear: Option<String>,
    /// With what on the hook.
    pub bait: Option<String>,
    /// Who caught it; where no row says, all rows are one person's.
    pub person: Option<String>,
}

impl CatchEntry {
    /// Makes a row with a name and nothing else known of it.
    #[must_use]
    pub fn named(row: u64, asked: &str) -> Self {
        Self {
            row,
            time: None,
            is_date_doubtful: false,
            position: None,
            precision: None,
            asked: asked.to_owned(),
            count: 1,
            length_cm: None,
            kept: None,
            gear: None,
            bait: None,
            person: None,
        }
    }

    /// How well its own position is known, 95 %.
    pub(super) fn own_uncertainty(&self, settings: &TrackSettings) -> HorizontalUncertainty {
        match self.precision.map(PrintedPrecision::as_the_finer) {
            Some(printed) => settings.uncertainty.with_rounding(printed.north_south(), printed.east_west()),
            None => settings.uncertainty,
        }
    }

    /// Whether it may be aboard after the catch.
    pub(super) fn may_be_aboard(&self) -> bool {
        self.kept != Some(false)
    }

    /// What is known about the fishing. Numbers are counted apart, row by row.
    pub(super) fn circumstances(&self, settings: &CatchSettings) -> Circumstances {
        Circumstances {
            gear: self.gear.clone().map(Gear),
            bait: self.bait.clone(),
            access: settings.access,
            length_cm: self.length_cm,
            count: None,
        }
    }
}

/// How a catch log is joined and judged.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct CatchSettings {
    /// How the track is read.
    pub track: TrackSettings,
    /// From where the fishing was, if that is known.
    pub access: Option<Access>,
    /// Two fixes farther apart than this, in seconds, give no position between them.
    pub interpolate_within_s: f64,
    /// How far a length may be off, in centimetres.
    pub measuring_error_cm: f64,
}

impl CatchSettings {
    /// Seconds between two fixes up to which a position is taken from the way between them (common practice, no source).
    pub const INTERPOLATE_WITHIN_S: f64 = 60.0;
    /// How well a fish is measured afloat, in centimetres (common practice, no source).
    pub const MEASURING_ERROR_CM: f64 = 0.3;
}

impl Default for CatchSettings {
    fn default() -> Self {
        Self {
            track: TrackSettings::default(),
            access: None,
            interpolate_within_s: Self::INTERPOLATE_WITHIN_S,
            measuring_error_cm: Self::MEASURING_ERROR_CM,
        }
    }
}
