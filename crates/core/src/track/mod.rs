//! Where was I: a logged track against a set of zones.
//!
//! The engine takes one fix after another and gives events; an audit of a whole file is the same engine run to its end.

mod audit;
mod auditor;
#[cfg(test)]
mod auditor_tests;
#[cfg(test)]
mod believed_tests;
mod catches;
mod cleaning;
#[cfg(test)]
mod doubted_times_tests;
mod due;
mod few_digits;
mod gap;
mod gap_depth;
mod jumps;
#[cfg(test)]
mod jumps_tests;
mod leg;
mod log_order;
#[cfg(test)]
mod log_order_tests;
mod logged_fix;
mod movement;
mod open_visit;
mod placed_time;
mod presence;
mod reach;
mod reason;
mod repeats;
mod ruling;
#[cfg(test)]
mod ruling_tests;
mod settings;
mod shown_speed;
mod sketch;
mod stay;
mod stray;
#[cfg(test)]
mod stray_tests;
#[cfg(test)]
mod test_tracks;
mod unplaced;
mod visit_span;
#[cfg(test)]
mod visits_tests;
mod watch;
mod watch_gap;
mod watch_leg;
mod watchlist;
#[cfg(test)]
mod watchlist_tests;

pub use audit::{
    Audit, Certainty, ClosestApproach, ConditionFinding, Crossing, Direction, Evidence, Gap, LoggedMoment,
    MisreadFix, NearLine, OffTheWay, OpenEnd, Quality, RuledTime, Speeds, Stop, SuspectFix, Suspicion,
    TrackEvent, TrackPoint, Visit,
};
pub use auditor::Auditor;
pub use catches::{
    BagNote, CarriedFinding, CatchEntry, CatchFinding, CatchJoin, CatchPosition, CatchSettings,
};
pub use log_order::{ClockSeam, LogOrder, OrderFindings, OrderedLog};
pub use logged_fix::{LogPlace, LoggedFix, UnplacedRecord};
pub use presence::is_of_a_set_clock;
pub use reason::{BagUnknown, ConditionReason, Motion, NoPosition, Reason, Remedy};
pub use settings::{METRES_PER_SECOND_IN_A_KNOT, TrackSettings};
pub use visit_span::VisitSpan;
