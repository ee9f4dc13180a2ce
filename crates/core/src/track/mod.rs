//! Where was I: a logged track against a set of zones.
//!
//! The engine takes one fix after another and gives events; an audit of a whole file is the same engine run to its end.

mod afloat;
mod audit;
mod auditor;
#[cfg(test)]
mod auditor_tests;
#[cfg(test)]
mod believed_tests;
mod catches;
mod cleaning;
mod course;
#[cfg(test)]
mod doubted_times_tests;
mod gap;
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
mod outcome;
mod over_land;
mod pace;
mod presence;
mod reason;
mod repeats;
mod ruling;
#[cfg(test)]
mod ruling_tests;
mod settings;
mod shore;
#[cfg(test)]
mod shore_tests;
mod slowness;
mod stay;
#[cfg(test)]
mod stray_tests;
mod terms;
#[cfg(test)]
mod test_tracks;
#[cfg(test)]
mod visits_tests;
mod watch;
mod watch_steps;
mod watchlist;
#[cfg(test)]
mod watchlist_tests;
mod whole_log;

pub use crate::date_doubt::is_of_a_set_clock;
pub use audit::{
    Audit, ClosestApproach, ConditionFinding, Crossing, Gap, LoggedMoment, MisreadFix, NearLine, OffTheWay,
    OnLand, Quality, RuledTime, Speeds, Stop, SuspectFix, TrackEvent, TrackPoint, Visit, VisitSpan,
};
pub use auditor::Auditor;
pub use catches::{
    CarriedFinding, CatchEntry, CatchFinding, CatchJoin, CatchPosition, CatchSettings, MadeIn,
};
pub use course::{Course, DeepFixes, VisitEnd};
pub use log_order::{ClockSeam, LogOrder, OrderFindings, OrderedLog};
pub use logged_fix::{LogPlace, LoggedFix, UnplacedRecord};
pub use outcome::{NotShown, Outcome, OutcomeAnswer, OutcomeReason};
pub use reason::{
    BagNote, BagUnknown, Certainty, ConditionReason, Direction, Evidence, Motion, NoPosition, OpenEnd,
    Reason, Remedy, Suspicion,
};
pub use settings::{InvalidSpeed, METRES_PER_SECOND_IN_A_KNOT, TrackSettings};
