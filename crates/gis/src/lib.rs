//! Zones from the files of geographic information systems, and lines for them.
//!
//! Everything here works on bytes and values: it prints nothing and reads no file, no network and no clock.

pub mod export;
