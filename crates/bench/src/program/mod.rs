//! The program as a process of its own, against what its work cannot do without.

mod feed;
mod here;
mod run_all;
mod threads;
mod track;

pub(crate) use run_all::run;
