//! Fixes as a log holds them.

use jiff::Timestamp;
use takeline::Position;
use takeline::track::{LogPlace, LoggedFix};

/// A fix that says where and when, and nothing else.
pub(crate) fn logged(position: Position, time: Timestamp) -> LoggedFix {
    LoggedFix {
        position,
        time: Some(time),
        uncertainty: None,
        hdop: None,
        speed_m_per_s: None,
        time_between: None,
        jump_kn: None,
        place: LogPlace::default(),
    }
}
