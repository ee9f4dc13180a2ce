//! What a time without a log does to the watch of a zone: a gap, or the pause between two trips.

use super::logged_fix::uncertainty_of;
use super::open_visit::{Closed, Near};
use super::reach::GapLook;
use super::stay::{Along, End, Stay};
use super::watch::{LegEvents, Watch};
use super::{Certainty, Evidence, Gap, LoggedFix, LoggedMoment, TrackSettings};
use crate::geodesic::surface;
use crate::{Fix, Metres, Position};

impl Watch {
    /// A gap before a fix: what could have been reached in it, if that touches the zone at all.
    pub(super) fn pass_gap(&mut self, gap: &Gap, settings: &TrackSettings, number: u64) -> LegEvents {
        let mut done = LegEvents::default();
        self.stray_in(gap, settings);
        let Some(boundary) = self.zone.extent.area() else { return done };
        let fixes = [gap.before, gap.after].map(|logged| Fix {
            position: logged.position,
            uncertainty: uncertainty_of(&logged, settings),
            time: logged.time,
        });
        let doubts_m =
            fixes.map(|fix| fix.uncertainty.radius_95().metres() + self.line_doubt_m + self.closure_error_m);
        let is_in = fixes.map(|fix| {
            let measured = self.measured_from(&fix, &boundary.how_far(fix.position));
            self.standing_at(&measured).is_some()
        });
        let is_in = (is_in[0], is_in[1]);
        let look = GapLook { gap, settings, number, is_in, spare_m: (doubts_m[0], doubts_m[1]) };
        let Some(reached) = look.reach(boundary, &self.outline) else {
            if let Some(open) = &mut self.open {
                open.gap_outside(gap.seconds.unwrap_or(0.0));
            }
            return done;
        };
        let instant = |(position, time): (Position, _)| LoggedMoment {
            position,
            time,
            between: gap.before.time.zip(gap.after.time),
        };
        let ends = [instant(reached.first), instant(reached.last)];
        let doubt_m = doubts_m[0].max(doubts_m[1]);
        if self.open.is_none() {
            self.open_at(Near { distance_m: reached.deepest_m, doubt_m, at: ends[0] }, Evidence::Gap);
            // nothing was measured at the place where it began
            (self.quiet_until_m, self.firm_until_m) = (f64::NEG_INFINITY, f64::NEG_INFINITY);
            self.shallow_until_m = f64::NEG_INFINITY;
            done.entered = Some((Certainty::Possible, ends[0]));
        }
        if let Some(open) = &mut self.open {
            open.gap(gap.seconds.map(|_| reached.longest_s), reached.stay, ends);
            open.remark(gap, settings);
            open.gaps += u64::from(gap.is_told(settings));
            if open.evidence == Evidence::Gap && reached.deepest_m < open.deepest.distance_m {
                open.deepest = Near { distance_m: reached.deepest_m, doubt_m, at: ends[0] };
            }
        }
        if let Some(history) = &mut self.history {
            history.push(reached.stay, Certainty::Possible);
        }
        done
    }

    /// Keeps how far off its straight way the boat can have been in a gap.
    fn stray_in(&mut self, gap: &Gap, settings: &TrackSettings) {
        let anywhere_m = || settings.top_speed_m_per_s() * gap.seconds.unwrap_or(0.0).max(0.0);
        self.strayed_m = gap.reach(settings).map_or_else(anywhere_m, Metres::metres);
    }

    /// The time between two trips: only in a zone that holds both ends of it may the boat have stayed all the while.
    pub(super) fn pass_pause(&mut self, gap: &Gap, after: &Fix, number: u64) -> Option<Closed> {
        let held_after = self
            .measure((after, &surface(after.position)))
            .is_some_and(|measured| self.standing_at(&measured).is_some());
        if self.standing.is_none() || !held_after {
            return self.close();
        }
        let between = gap.before.time.zip(gap.after.time);
        let ends = [gap.before, gap.after].map(|fix| LoggedMoment {
            position: fix.position,
            time: fix.time,
            between,
        });
        let end = |along, fix: &LoggedFix| End { along, time: fix.time, between: fix.time_between };
        let stay = Stay {
            from: end(Along::at_fix(number), &gap.before),
            to: end(Along::after_fix(number, 1.0), &gap.after),
        };
        if let Some(open) = &mut self.open {
            open.gap(gap.seconds, stay, ends);
            open.gaps += 1;
        }
        if let Some(history) = &mut self.history {
            history.push(stay, Certainty::Possible);
        }
        None
    }
}
