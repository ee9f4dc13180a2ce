//! What is wrong with a zone file, and what may be: every fault that keeps it from loading, and every doubt about one that loads.
//!
//! [`check`] works on bytes. What it finds are values with stable codes ([`FindingKind::code`]), each with its place; words for
//! people are the business of whoever shows them. `docs/zone-findings.md` lists the codes.

mod against;
mod conformance;
mod figures;
mod file;
mod finding;
mod listed;
mod neighbours;
mod notation;
mod shape;
mod times;

pub use against::Against;
pub use file::{Checked, check, hold_to_manifest};
pub use finding::{Finding, FindingKind, Repair, Severity, SourceMember, Spot};
pub use times::Today;
