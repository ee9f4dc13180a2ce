//! A fix as its log has it, its uncertainty, and that of positions written with few digits.

use jiff::Timestamp;

use super::TrackSettings;
use crate::geodesic::{DEGREE_M, distance_m};
use crate::{AccuracyKind, Fix, HorizontalUncertainty, Metres, Position, UncertaintySource, widest_step_deg};

/// A placed time may be off by so many seconds and still tell where a boat was: that of a clock of whole seconds.
pub(super) const DATED_WITHIN_S: f64 = 2.0;

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
    /// the settings of the audit, unless missing digits make it wider than what is assumed.
    fn from(fix: Fix) -> Self {
        let is_known = fix.uncertainty.source() == UncertaintySource::Given
            || fix.uncertainty.radius_95().metres() > HorizontalUncertainty::ASSUMED_95_M;
        let uncertainty = is_known.then_some(fix.uncertainty);
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

/// Fewer places than so many may stand on a grid by chance.
const PLACES_THAT_SHOW: usize = 5;

/// The widest step, in degrees, on which the positions of a log stand, but for one in ten; none where they have digits enough, or are too few to
/// tell.
pub(super) fn step_deg(fixes: &[LoggedFix]) -> Option<f64> {
    let mut places = Vec::new();
    for fix in fixes {
        if !places.contains(&fix.position) {
            places.push(fix.position);
        }
        if places.len() == PLACES_THAT_SHOW {
            break;
        }
    }
    if places.len() < PLACES_THAT_SHOW {
        return None;
    }
    let all: Vec<Position> = fixes.iter().map(|fix| fix.position).collect();
    widest_step_deg(&all)
}

/// The accuracy of a fix with what the digits of its log leave open.
pub(super) fn with_digits(
    uncertainty: HorizontalUncertainty,
    fix: &LoggedFix,
    settings: &TrackSettings,
) -> HorizontalUncertainty {
    let Some(step_deg) = settings.digits_step_deg else { return uncertainty };
    let north_south_m = step_deg / 2.0 * DEGREE_M;
    let east_west_m = north_south_m * fix.position.latitude().degrees().to_radians().cos().max(0.0);
    uncertainty.with_rounding(Metres::computed(north_south_m), Metres::computed(east_west_m))
}

#[cfg(test)]
mod few_digits_tests {
    use super::*;
    use crate::track::LogOrder;
    use crate::track::logged_fix::uncertainty_of;
    use crate::track::test_tracks::{at, fix};

    fn ordered(places: &[(f64, f64)]) -> (Option<f64>, f64) {
        let mut order = LogOrder::new(TrackSettings::default());
        for (number, (lat_deg, lon_deg)) in (0_i32..).zip(places) {
            let one = fix(at(*lat_deg, *lon_deg), 1000.0 * f64::from(number), 10.0);
            order.push(LoggedFix { uncertainty: None, ..one });
        }
        let log = order.finish();
        assert_eq!(log.findings.digits_step_deg, log.settings.digits_step_deg);
        (log.settings.digits_step_deg, uncertainty_of(&log.boats[0][0], &log.settings).radius_95().metres())
    }

    #[test]
    fn one_fine_fix_among_many_coarse_ones_does_not_refine_them() {
        let coarse = |step: u32| (45.1 + f64::from(step) * 0.01, -30.1 - f64::from(step) * 0.01);
        let mut places: Vec<(f64, f64)> = (0..30).map(coarse).collect();
        places.push((45.123_456, -30.123_456));
        assert!(ordered(&places).0.is_some());
    }

    #[test]
    fn few_digits_are_a_doubt_of_every_fix() {
        let row = |of: &dyn Fn(f64) -> (f64, f64)| ordered(&[0.0, 1.0, 2.0, 3.0, 4.0].map(of));
        // half a step of 0.001 degrees is 55.6 m north and 39.4 m east at 45 degrees (WGS 84), 10 m are assumed beside them
        let (step_deg, metres) = row(&|n| (45.0, -30.295 + n * 0.001));
        assert_eq!(step_deg, Some(0.001));
        assert!((68.0..70.0).contains(&metres), "{metres}");
        // 0.1 minutes are 0.5 * 185.2 m north
        let (step_deg, metres) = row(&|n| (45.0 + 7.1 / 60.0, -(30.0 + (17.0 + n / 10.0) / 60.0)));
        assert!((step_deg.unwrap() - 1.0 / 600.0).abs() < 1e-12);
        assert!((112.0..116.0).contains(&metres), "{metres}");
        assert_eq!(row(&|n| (45.0, n)).0, Some(1.0));
        assert_eq!(row(&|n| (45.0, n + 0.0001)).0, Some(0.0001));
        // one coordinate with more digits is enough
        let (step_deg, metres) = row(&|n| (45.0, -30.295 + n * 0.001 + 0.000_01));
        assert_eq!(step_deg, None);
        assert!((metres - 10.0).abs() < 1e-9, "{metres}");
        assert_eq!(row(&|n| (45.0 + n * 1.1e-5, -30.295)).0, None);
        assert_eq!(row(&|n| (45.0 + n / 60_000.0, -30.0)).0, None);
    }

    #[test]
    fn a_few_places_tell_nothing_of_their_digits() {
        let four = [0.0, 1.0, 2.0, 3.0, 3.0, 3.0].map(|n| (45.0, -30.295 + n * 0.001));
        assert_eq!(ordered(&four).0, None);
    }
}
