//! The engine: distances and sides, answers, audits, the index, and how right the distances are.

mod accuracy;
mod index;
mod long_edges;
mod run_all;
mod speed;

pub(crate) use run_all::run;
