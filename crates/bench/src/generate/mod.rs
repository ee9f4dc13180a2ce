//! Workloads from a seed: zones, fixes and a log.

mod files;
mod layout;
mod ring;
mod voyage;
mod write_all;

pub(crate) use write_all::run;
