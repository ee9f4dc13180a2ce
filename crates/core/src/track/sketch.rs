//! A track thin enough to draw, however long the log.

use super::TrackPoint;

/// More points than this are thinned to half, evenly in the order of the log.
const MOST_POINTS: usize = 4_096;

/// Points kept for drawing: every fix at first, then every second, fourth, … as the log grows; breaks and changes of
/// standing always.
#[derive(Debug, Default)]
pub(super) struct Sketch {
    points: Vec<TrackPoint>,
    stride_bits: u32,
    seen: u64,
    last: Option<TrackPoint>,
}

impl Sketch {
    pub(super) fn push(&mut self, point: TrackPoint) {
        let changed = self.last.is_some_and(|last| last.standing != point.standing);
        let room = self.points.len() < 4 * MOST_POINTS;
        let turn = self.seen.is_multiple_of(1 << self.stride_bits);
        self.seen += 1;
        self.last = Some(point);
        if turn || (room && (changed || point.after_break)) {
            self.points.push(point);
        }
        if turn && self.points.len() > MOST_POINTS {
            self.thin();
        }
    }

    fn thin(&mut self) {
        let mut number = 0;
        let mut standing = None;
        self.points.retain(|point| {
            number += 1;
            let keep = number % 2 == 1 || point.after_break || point.standing != standing;
            standing = point.standing;
            keep
        });
        self.stride_bits += 1;
    }

    pub(super) fn into_points(mut self) -> Vec<TrackPoint> {
        let drawn = self.points.last().map(|point| point.fix.place);
        self.points.extend(self.last.filter(|last| Some(last.fix.place) != drawn));
        self.points
    }
}
