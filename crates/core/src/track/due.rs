//! When a zone that the boat is not in can matter next.

/// More than two distances to one line can be out by against each other, in metres.
pub(super) const SPARE_M: f64 = 0.02;

/// The way, jumps and gaps counted, before which nothing can come of a zone that the boat is not in, in metres.
///
/// A signed distance, under each reading, changes by no more than the way made.
#[derive(Debug, Clone, Copy)]
pub(super) struct Due {
    /// Before the boat can be within the doubt of the line: what fixes and straying add has to be taken off it.
    change_m: f64,
    /// Before it can be nearer than ever.
    extreme_m: f64,
}

/// A step as a zone sees it that the boat is not in, in metres.
#[derive(Debug, Clone, Copy)]
#[expect(clippy::struct_field_names, reason = "the unit ends the name of every bare number")]
pub(super) struct Approach {
    /// The way made up to its end, jumps and gaps counted.
    pub(super) way_m: f64,
    /// How long it is; nothing where it was jumped.
    pub(super) length_m: f64,
    /// What the doubts of its fixes, and what the boat can have left it by, add to the way.
    pub(super) reach_m: f64,
}

impl Due {
    /// At once.
    pub(super) const NOW: Self = Self { change_m: f64::NEG_INFINITY, extreme_m: f64::NEG_INFINITY };

    /// From a place where the line, its doubt taken off, is `off_m` away under the nearest reading, and `signed_m` as it is told;
    /// nearer than ever is nearer than `floor_m`.
    pub(super) fn from_place(way_m: f64, off_m: f64, (signed_m, floor_m): (f64, f64)) -> Self {
        Self { change_m: way_m + off_m - SPARE_M, extreme_m: way_m + signed_m - floor_m - SPARE_M }
    }

    /// Whether a step can do anything.
    pub(super) fn has_come(self, step: Approach) -> bool {
        step.way_m + step.reach_m >= self.change_m || step.way_m >= self.extreme_m
    }

    /// The way before which nothing has to be asked, but for what a step adds to it.
    pub(super) fn soonest_m(self) -> f64 {
        self.change_m.min(self.extreme_m)
    }

    /// Put off by the box about the zone, doubts counted, that is so far off the end of a step: if it is so far off that the
    /// step itself does nothing either.
    pub(super) fn put_off_by_box(&mut self, box_m: f64, floor_m: f64, step: Approach) {
        let on_the_step_m = box_m - step.length_m - SPARE_M;
        if box_m > 0.0 && on_the_step_m > step.reach_m && on_the_step_m > floor_m {
            let by_box = Self::from_place(step.way_m, box_m, (box_m, floor_m));
            self.change_m = self.change_m.max(by_box.change_m);
            self.extreme_m = self.extreme_m.max(by_box.extreme_m);
        }
    }
}
