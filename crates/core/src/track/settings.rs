//! How a track is read: accuracy, top speed, gaps and stops.

use crate::rule::Access;
use crate::{HorizontalUncertainty, Metres};

/// Metres per second in one knot (1852 m an hour).
pub const METRES_PER_SECOND_IN_A_KNOT: f64 = 1852.0 / 3600.0;

/// A speed that cannot be.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[error("{knots} kn is not a speed above zero; leave it out if it is not known")]
#[non_exhaustive]
pub struct InvalidSpeed {
    /// The speed, in knots.
    pub knots: f64,
}

/// How a track is read. Every figure is printed in the report that used it.
///
/// # Edge cases
///
/// A figure that cannot be, such as a speed of −1 or NaN, counts as not given: an [`super::Auditor`] takes the usual one.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct TrackSettings {
    /// The accuracy of fixes that bring none of their own.
    pub uncertainty: HorizontalUncertainty,
    /// 95 % metres per unit of horizontal dilution of precision; none: dilution is not turned into metres.
    pub metres_per_hdop: Option<f64>,
    /// The greatest speed the boat can plausibly have made, in knots, for what it could have reached unlogged.
    pub top_speed_kn: f64,
    /// Whether that speed was given, or is the default and has to be called assumed.
    pub top_speed_given: bool,
    /// The top speed that was given, where the log shows more: what may lie between fixes is then asked of what the log shows,
    /// and what is certain of what was given.
    pub given_top_speed_kn: Option<f64>,
    /// Whether the dates of the log may be wrong as a whole: a receiver whose count of weeks began anew. What is in force
    /// at a time of the log is then not known.
    pub dates_doubtful: bool,
    /// Whether the fixes are points of a plan: then the straight way between them is the way, though it has no times.
    pub is_plan: bool,
    /// Beyond so many seconds between two fixes the boat may have been elsewhere than on the line between them.
    pub gap_after_s: f64,
    /// Silence of so many seconds and more lies between two trips, wherever its ends lie; none: nobody told, and only hours
    /// before another stretch of the log or at another place do.
    pub new_trip_after_s: Option<f64>,
    /// A leg longer than this between two fixes without times may have been made in any time and any way; none: the log has
    /// times, or nobody looked. [`super::LogOrder`] sets it.
    #[cfg_attr(feature = "serde", serde(rename = "longest_untimed_leg_m"))]
    pub longest_untimed_leg: Option<Metres>,
    /// The step, in degrees, of the last digit of the log's positions, if they have few: the boat was anywhere within half of
    /// it, north and east, beside the accuracy. [`super::LogOrder`] sets it.
    pub digits_step_deg: Option<f64>,
    /// Stays outside shorter than this, in seconds, do not end a visit while the boat is near.
    pub merge_within_s: f64,
    /// Slower than this, in knots, is a stop.
    pub stop_below_kn: f64,
    /// From where the fishing was; none: a rule that binds only some ways of fishing is undecided.
    pub access: Option<Access>,
}

impl TrackSettings {
    /// Top speed where none is given, in knots (common practice, no source).
    pub const ASSUMED_TOP_SPEED_KN: f64 = 12.0;
    /// Seconds between fixes from which on there is a gap (common practice, no source).
    pub const GAP_AFTER_S: f64 = 30.0;
    /// Seconds outside that do not end a visit (common practice, no source).
    pub const LINGER_S: f64 = 300.0;
    /// Speed below which a boat has stopped, in knots (common practice, no source).
    pub const STOP_BELOW_KN: f64 = 0.5;

    /// Takes a top speed as given.
    ///
    /// # Errors
    ///
    /// [`InvalidSpeed`] if it is not a finite number above zero.
    pub fn with_top_speed_kn(mut self, knots: f64) -> Result<Self, InvalidSpeed> {
        if !(knots.is_finite() && knots > 0.0) {
            return Err(InvalidSpeed { knots });
        }
        self.top_speed_kn = knots;
        self.top_speed_given = true;
        Ok(self)
    }

    /// The same without figures that cannot be, which a field holds as easily as others: the usual ones in their place, and a
    /// top speed is then none that was given.
    pub(in crate::track) fn with_possible_figures(mut self) -> Self {
        let usual = Self::default();
        let is_above_zero = |figure: f64| figure.is_finite() && figure > 0.0;
        if !is_above_zero(self.top_speed_kn) {
            (self.top_speed_kn, self.top_speed_given) = (usual.top_speed_kn, false);
        }
        self.given_top_speed_kn = self.given_top_speed_kn.filter(|knots| is_above_zero(*knots));
        self.metres_per_hdop = self.metres_per_hdop.filter(|metres| is_above_zero(*metres));
        self.new_trip_after_s = self.new_trip_after_s.filter(|seconds| is_above_zero(*seconds));
        self.digits_step_deg = self.digits_step_deg.filter(|degrees| is_above_zero(*degrees));
        let figures = [
            (&mut self.gap_after_s, usual.gap_after_s),
            (&mut self.merge_within_s, usual.merge_within_s),
            (&mut self.stop_below_kn, usual.stop_below_kn),
        ];
        for (figure, usual) in figures {
            if !figure.is_finite() || *figure < 0.0 {
                *figure = usual;
            }
        }
        self
    }

    /// The speed, in knots, that the boat is known not to pass: the one that was given, whatever the log shows elsewhere; else
    /// what the log shows, and no less than the assumed one by a factor for wind and waves.
    pub(super) fn known_top_speed_kn(&self, over_assumed: f64) -> f64 {
        if self.top_speed_given {
            self.given_top_speed_kn.unwrap_or(self.top_speed_kn)
        } else {
            self.top_speed_kn.max(over_assumed * Self::ASSUMED_TOP_SPEED_KN)
        }
    }

    /// The top speed in metres per second.
    #[must_use]
    pub fn top_speed_m_per_s(&self) -> f64 {
        self.top_speed_kn * METRES_PER_SECOND_IN_A_KNOT
    }
}

impl Default for TrackSettings {
    fn default() -> Self {
        Self {
            uncertainty: HorizontalUncertainty::assumed(),
            metres_per_hdop: None,
            top_speed_kn: Self::ASSUMED_TOP_SPEED_KN,
            top_speed_given: false,
            given_top_speed_kn: None,
            dates_doubtful: false,
            is_plan: false,
            gap_after_s: Self::GAP_AFTER_S,
            new_trip_after_s: None,
            longest_untimed_leg: None,
            digits_step_deg: None,
            merge_within_s: Self::LINGER_S,
            stop_below_kn: Self::STOP_BELOW_KN,
            access: None,
        }
    }
}
