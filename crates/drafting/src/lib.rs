//! From the text of a law to a zone file that one can trust, and what is to be known of a zone file besides its answers.
//!
//! [`survey`] measures zones side by side, the way a law describes them; [`editions`] compares two editions. Everything here works on bytes and values: it prints
//! nothing and reads no file, no network and no clock.

pub mod editions;
pub mod survey;
