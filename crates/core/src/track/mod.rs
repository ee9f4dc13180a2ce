//! Where was I: a logged track against a set of zones.
//!
//! The engine takes one fix after another and gives events; an audit of a whole file is the same engine run to its end.

mod audit;
mod auditor;
#[cfg(test)]
mod auditor_tests;
mod catches;
mod cleaning;
mod conditions;
mod gap;
mod leg;
mod log_order;
#[cfg(test)]
mod log_order_tests;
mod logged_fix;
mod movement;
mod placed_time;
mod reach;
mod settings;
mod shown_speed;
mod sketch;
mod watch;

pub use audit::{
    Audit, Certainty, ClosestApproach, ConditionFinding, Crossing, Direction, Evidence, Gap, Instant,
    NearLine, Quality, Speeds, Stop, SuspectFix, Suspicion, TrackEvent, TrackPoint, Visit,
};
pub use auditor::Auditor;
pub use catches::{
    BagNote, CarriedFinding, CatchEntry, CatchFinding, CatchJoin, CatchPosition, CatchSettings,
};
pub use log_order::{LogOrder, OrderFindings, OrderedLog};
pub use logged_fix::{LogPlace, LoggedFix};
pub use settings::{METRES_PER_SECOND_IN_A_KNOT, TrackSettings};
