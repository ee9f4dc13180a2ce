//! The English of the audit of a track: the first lines, the state of the log, visits, and catches. Text, row, page, JSON and
//! tables all ask [`super::Words`] for it.

pub(super) mod catches;
pub(super) mod headline;
pub(super) mod log;
pub(super) mod outcomes;
pub(super) mod visits;
