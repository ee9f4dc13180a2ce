//! Where was I: a logged track against a set of zones.

mod logged_fix;

pub use logged_fix::{LogPlace, LoggedFix};
