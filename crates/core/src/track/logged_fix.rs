use jiff::Timestamp;

use super::TrackSettings;
use super::few_digits::with_digits;
use crate::geodesic::distance_m;
use crate::{AccuracyKind, Fix, HorizontalUncertainty, Position, UncertaintySource};

/// One fix of a log, as it stands there.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
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
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct UnplacedRecord {
    /// When, if the record says so.
    pub time: Option<Timestamp>,
    /// Where in the log it stands.
    pub place: LogPlace,
}

/// Where in a log something stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LogPlace {
    /// Line, counted from 1.
    pub line: u64,
    /// Byte from the start of the (unpacked) log, counted from 0.
    pub byte: u64,
    /// Stretch without a stated break (track and segment), counted from 0.
    pub stretch: u32,
}

/// Fixes within so many metres of each other are at one place: receivers that stand still flicker in the last digit (common
/// practice, no source).
const ONE_PLACE_M: f64 = 0.05;
/// Whether a fix tells nothing of its accuracy.
pub(super) fn has_no_accuracy(fix: &LoggedFix, settings: &TrackSettings) -> bool {
    fix.uncertainty.is_none() && settings.metres_per_hdop.zip(fix.hdop).is_none()
}

/// The accuracy of a fix: its own, or what its dilution of precision makes, or the track's; and what few digits leave open.
pub(super) fn uncertainty_of(fix: &LoggedFix, settings: &TrackSettings) -> HorizontalUncertainty {
    let by_dilution = || {
        let metres = settings.metres_per_hdop? * fix.hdop?;
        HorizontalUncertainty::given(metres, AccuracyKind::P95).ok()
    };
    with_digits(fix.uncertainty.or_else(by_dilution).unwrap_or(settings.uncertainty), fix, settings)
}

/// Seconds from one fix to another; none if either has no time.
pub(super) fn seconds_between(from: &LoggedFix, to: &LoggedFix) -> Option<f64> {
    Some(to.time?.duration_since(from.time?).as_secs_f64())
}

/// Whether a position is 0, 0, which receivers write where they have none.
pub(super) fn is_zero_island(position: Position) -> bool {
    position.latitude().degrees().abs() < 1e-6 && position.longitude().degrees().abs() < 1e-6
}

/// Whether two fixes are at one place as no boat afloat is for minutes.
pub(super) fn is_one_place(one: &LoggedFix, other: &LoggedFix) -> bool {
    let north_deg = one.position.latitude().degrees() - other.position.latitude().degrees();
    let east_deg = one.position.longitude().degrees() - other.position.longitude().degrees();
    // what is not near in degrees is not asked about
    let is_near = north_deg.abs() < 1e-6 && east_deg.abs() < 1e-4;
    is_near && distance_m(one.position, other.position) <= ONE_PLACE_M
}
