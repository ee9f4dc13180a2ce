//! What could have been reached while nothing was logged.

use super::{Gap, TrackSettings};
use crate::geodesic::{direct, inverse};
use crate::{Metres, Position};

impl Gap {
    /// How far from its straight way the boat can have been at most, in metres, at the plausible top speed.
    ///
    /// The places that can be reached and left again in time lie in an ellipse about both fixes, whose sum of distances is
    /// the way that the top speed allows. None without times, or where even the straight way was too long.
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
        let half_major_m = settings.top_speed_m_per_s() * self.seconds? / 2.0;
        let focal_m = self.metres.metres() / 2.0;
        (half_major_m >= focal_m)
            .then(|| (half_major_m, (half_major_m * half_major_m - focal_m * focal_m).sqrt()))
    }
}
