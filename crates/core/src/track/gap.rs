//! What could have been reached while nothing was logged.

use jiff::Timestamp;

use super::presence::PAUSE_S;
use super::{Gap, LoggedFix, OpenEnd, TrackSettings};
use crate::geodesic::{direct, inverse};
use crate::{Metres, Position};

/// A boat whose receiver repeats one place to the end of a log most likely lay there: it is looked for within what it can
/// have made in so many seconds, twenty minutes, and no farther (common practice, no source).
const REPEATS_REACH_S: f64 = 1_200.0;
/// A gap whose length nobody knows is looked at as if it had taken so many seconds, an hour (common practice, no source).
const UNKNOWN_S: f64 = 3_600.0;
/// The way through it is taken to be at most so many times the straight one, if that is more.
const UNKNOWN_WAY: f64 = 2.0;

/// What is said of a gap in the first lines, so that many of one kind do not keep another out of the list.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub(super) enum GapKind {
    /// At an end of the log.
    Open,
    /// Between two trips.
    Pause,
    /// No boat can have made it.
    Impossible,
    /// So long that the boat may have been ashore.
    Long,
    /// Any other.
    Short,
}

impl Gap {
    /// What lies between two fixes: neither impossible nor the time between two trips.
    pub(super) fn between(before: &LoggedFix, after: &LoggedFix) -> Self {
        // where times are placed it may have been longer than they say
        let made = before.made_between().zip(after.made_between());
        Self {
            before: *before,
            after: *after,
            seconds: made.map(|((from, _), (_, to))| to.duration_since(from).as_secs_f64()),
            metres: Metres::computed(inverse(before.position, after.position).distance_m),
            impossible: false,
            between_trips: false,
            may_be_pause: false,
            open: None,
        }
    }

    /// A time without a place to believe, of which only one end is known.
    pub(super) fn at_an_end(fix: &LoggedFix, (from, to): (Timestamp, Timestamp), open: OpenEnd) -> Self {
        Self {
            open: Some(open),
            ..Self::between(
                &LoggedFix { time: Some(from), time_between: None, jump_kn: None, ..*fix },
                &LoggedFix { time: Some(to), time_between: None, jump_kn: None, ..*fix },
            )
        }
    }

    /// How far from its straight way the boat can have been at most, in metres, at the plausible top speed.
    ///
    /// The places that can be reached and left again in time lie in an ellipse about both fixes, whose sum of distances is
    /// the way that the top speed allows. None where even the straight way was too long.
    ///
    /// # Edge cases
    ///
    /// Where nobody knows how long it was, the way is taken to be twice the straight one at most, and where another stretch
    /// of the log begins or one of the fixes has a time, that of an hour if it is more. Where one end of it is not known, a
    /// circle about the other, of the way that the top speed allows; a receiver that repeats one place to the end of the log
    /// is taken to have been within twenty minutes of it.
    #[must_use]
    pub fn reach(&self, settings: &TrackSettings) -> Option<Metres> {
        let (_, half_minor_m) = self.ellipse(settings)?;
        Some(Metres::computed(half_minor_m))
    }

    /// The outline of the water that can have been reached, as so many positions; empty where [`Gap::reach`] is none.
    ///
    /// # Accuracy
    ///
    /// Plane geometry about the middle of the gap: within 0.1 % for gaps up to 100 km.
    #[must_use]
    pub fn reachable_outline(&self, settings: &TrackSettings, points: u32) -> Vec<Position> {
        let Some((half_major_m, half_minor_m)) = self.ellipse(settings) else { return Vec::new() };
        let line = inverse(self.before.position, self.after.position);
        let middle = direct(self.before.position, line.azimuth_start_deg, line.distance_m / 2.0);
        let along_deg = inverse(middle, self.after.position).azimuth_start_deg;
        (0..points)
            .map(|point| {
                let turn = f64::from(point) * std::f64::consts::TAU / f64::from(points);
                let (across_m, along_m) = (half_minor_m * turn.sin(), half_major_m * turn.cos());
                direct(middle, along_deg + across_m.atan2(along_m).to_degrees(), along_m.hypot(across_m))
            })
            .collect()
    }

    /// Half axes in metres.
    pub(super) fn ellipse(&self, settings: &TrackSettings) -> Option<(f64, f64)> {
        let top_m_per_s = settings.top_speed_m_per_s();
        if let Some(open) = self.open {
            let seconds = self.seconds.unwrap_or(0.0).max(0.0);
            let longest_s = if open == OpenEnd::Repeats { REPEATS_REACH_S } else { f64::INFINITY };
            let radius_m = top_m_per_s * seconds.min(longest_s);
            return Some((radius_m, radius_m));
        }
        let half_major_m = match self.seconds {
            Some(seconds) => top_m_per_s * seconds / 2.0,
            None => self.unknown_way_m(top_m_per_s) / 2.0,
        };
        let focal_m = self.metres.metres() / 2.0;
        (half_major_m >= focal_m)
            .then(|| (half_major_m, (half_major_m * half_major_m - focal_m * focal_m).sqrt()))
    }

    /// The longest way through it that is looked at, where nobody knows how long it took, in metres.
    fn unknown_way_m(&self, top_m_per_s: f64) -> f64 {
        let straight_m = UNKNOWN_WAY * self.metres.metres();
        let has_time = self.before.made_between().is_some() || self.after.made_between().is_some();
        if has_time || self.before.place.stretch != self.after.place.stretch {
            straight_m.max(top_m_per_s * UNKNOWN_S)
        } else {
            straight_m
        }
    }

    /// The longest way through it that is looked at, in metres.
    pub(super) fn longest_way_m(&self, settings: &TrackSettings) -> f64 {
        let roamed_m = settings.top_speed_m_per_s() * self.seconds.unwrap_or(0.0).max(0.0);
        let allowed_m = self.ellipse(settings).map_or(roamed_m, |(half_major_m, _)| 2.0 * half_major_m);
        allowed_m.max(self.metres.metres())
    }

    pub(super) fn kind(&self) -> GapKind {
        match self.open {
            Some(_) => GapKind::Open,
            None if self.between_trips => GapKind::Pause,
            None if self.impossible => GapKind::Impossible,
            None if self.seconds >= Some(PAUSE_S) => GapKind::Long,
            None => GapKind::Short,
        }
    }

    /// Whether it is told as a gap: a few seconds at an end of the log are looked at, and are none to tell of.
    pub(super) fn is_told(&self, settings: &TrackSettings) -> bool {
        self.open.is_none() || self.seconds > Some(settings.gap_after_s)
    }
}
