//! The water of a working area, by what it is and by what the marks look like from it.

use super::{Eye, RangeLine, Side, Stretch, WorkingArea};
use crate::Position;
use crate::zone::ZoneSet;

/// Areas of the working area, in square metres on the ellipsoid, and the same drawn.
///
/// The marks are taken to stand where they are said to. A zone's unstated edges are read as geodesics.
#[derive(Debug, Clone, PartialEq)]
pub struct LookedAtWater {
    /// The side on which the rear mark shows inside the zone, which the sentence for the angler says.
    pub inside: Side,
    /// The whole working area.
    pub area_m2: f64,
    /// Inside a zone, and the marks look clear of it: the rear mark shows to the other side.
    pub false_safe_clear_m2: f64,
    /// Inside a zone, and the marks look in line, because the eye sees no opening yet.
    pub false_safe_in_line_m2: f64,
    /// Inside a zone, and the marks say so.
    pub inside_and_seen_m2: f64,
    /// Inside no zone, but the marks say inside.
    pub given_away_m2: f64,
    /// Inside no zone, and the marks look in line.
    pub open_in_line_m2: f64,
    /// Inside no zone, and the marks look clear.
    pub open_and_clear_m2: f64,
    /// Rings around the water of the two false-safe kinds.
    pub false_safe: Vec<Vec<Position>>,
    /// Rings around the water given away.
    pub given_away: Vec<Vec<Position>>,
}

impl LookedAtWater {
    /// Returns the area inside a zone from which the marks do not say inside, in square metres.
    #[must_use]
    pub fn false_safe_m2(&self) -> f64 {
        self.false_safe_clear_m2 + self.false_safe_in_line_m2
    }
}

/// What the water is measured for.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Looking<'a> {
    pub(crate) line: &'a RangeLine,
    pub(crate) zones: &'a ZoneSet,
    /// Places in the set of the zones that count.
    pub(crate) counted: &'a [usize],
    pub(crate) stretch: Stretch,
    pub(crate) area: &'a WorkingArea,
    pub(crate) eye: Eye,
    /// The side on which the rear mark shows inside.
    pub(crate) inside: Side,
}

/// Measures the water of a working area.
pub(crate) fn looked_at(looking: &Looking<'_>) -> LookedAtWater {
    // the strips are measured by the room's next commit
    LookedAtWater {
        inside: looking.inside,
        area_m2: 0.0,
        false_safe_clear_m2: 0.0,
        false_safe_in_line_m2: 0.0,
        inside_and_seen_m2: 0.0,
        given_away_m2: 0.0,
        open_in_line_m2: 0.0,
        open_and_clear_m2: 0.0,
        false_safe: Vec::new(),
        given_away: Vec::new(),
    }
}
