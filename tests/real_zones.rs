//! Real boundaries, read from laws and open data, held to an independent computation and to published figures.
//!
//! NOT FOR NAVIGATION OR COMPLIANCE: `tests/data/regulations/zones` holds one stored state of each text.
//!
//! `real_zones/independent.rs` is the other opinion: it shares nothing with the library but the ellipsoid and the
//! crate that solves single geodesics, which `tests/reference.rs` holds to published values. The largest differences
//! are printed, and docs/accuracy.md quotes them:
//!
//! ```text
//! cargo test -p takeline --test real_zones -- --nocapture
//! ```
#![expect(
    clippy::panic,
    clippy::float_cmp,
    reason = "tests: exact where the input is exact, and panics fail them"
)]
#![expect(clippy::print_stdout, reason = "the differences seen are what docs/accuracy.md quotes")]

#[path = "real_zones/agreement.rs"]
mod agreement;
#[path = "real_zones/edge_models.rs"]
mod edge_models;
#[path = "real_zones/far_and_wide.rs"]
mod far_and_wide;
#[path = "real_zones/figures.rs"]
mod figures;
#[path = "real_zones/independent.rs"]
mod independent;
#[path = "real_zones/islands.rs"]
mod islands;
#[path = "real_zones/regulations.rs"]
mod regulations;
#[path = "real_zones/scatter.rs"]
mod scatter;
#[path = "real_zones/shores.rs"]
mod shores;
