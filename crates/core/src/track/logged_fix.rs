use jiff::Timestamp;

use crate::{Fix, HorizontalUncertainty, Position, UncertaintySource};

/// One fix of a log, as it stands there.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LoggedFix {
    /// Where.
    pub position: Position,
    /// When, if the log says so.
    pub time: Option<Timestamp>,
    /// How well, if the log says so in metres.
    pub uncertainty: Option<HorizontalUncertainty>,
    /// Horizontal dilution of precision, if the log has it: no metres, but metres can be estimated from it.
    pub hdop: Option<f64>,
    /// Speed over the ground that the receiver itself measured, in metres per second.
    pub speed_m_per_s: Option<f64>,
    /// From when to when it was made, where no time of its own says so: its time then is a guess, for the order of fixes
    /// alone, and without one it was made at some moment in there.
    pub time_between: Option<(Timestamp, Timestamp)>,
    /// Where the log as a whole leaves open whether the boat was there at all: the speed in knots that a step next to it would
    /// have needed, infinite where nothing tells how long it took. [`super::LogOrder`] sets it.
    pub jump_kn: Option<f64>,
    /// Where in the log it stands.
    pub place: LogPlace,
}

impl LoggedFix {
    /// A fix of which only the place is known.
    #[must_use]
    pub fn new(position: Position) -> Self {
        Self {
            position,
            time: None,
            uncertainty: None,
            hdop: None,
            speed_m_per_s: None,
            time_between: None,
            jump_kn: None,
            place: LogPlace::default(),
        }
    }

    /// The same at an instant.
    #[must_use]
    pub fn at(self, time: Timestamp) -> Self {
        Self { time: Some(time), ..self }
    }

    /// Returns the earliest and the latest moment at which it can have been made; none if nothing says when.
    #[must_use]
    pub fn made_between(&self) -> Option<(Timestamp, Timestamp)> {
        self.time_between.or(self.time.zip(self.time))
    }
}

impl From<Fix> for LoggedFix {
    /// A fix as a receiver gives it live, for an [`Auditor`](super::Auditor). An uncertainty that was only assumed is left to
    /// the settings of the audit.
    fn from(fix: Fix) -> Self {
        let given = fix.uncertainty.source() == UncertaintySource::Given;
        let uncertainty = given.then_some(fix.uncertainty);
        Self { time: fix.time, uncertainty, ..Self::new(fix.position) }
    }
}

/// A record of a log that tells no usable place: the boat was somewhere all the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct UnplacedRecord {
    /// When, if the record says so.
    pub time: Option<Timestamp>,
    /// Where in the log it stands.
    pub place: LogPlace,
}

/// Where in a log something stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub struct LogPlace {
    /// Line, counted from 1.
    pub line: u64,
    /// Byte from the start of the (unpacked) log, counted from 0.
    pub byte: u64,
    /// Stretch without a stated break (track and segment), counted from 0.
    pub stretch: u32,
}
