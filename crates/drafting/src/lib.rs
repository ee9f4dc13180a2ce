//! From the text of a law to a zone file that one can trust, and what is to be known of a zone file besides its answers.
//!
//! [`law_text`] reads the text of a law, and [`draft`] makes a zone file of it. [`check`] finds what is wrong with a file, or may be;
//! [`survey`] measures zones side by side, the way a law describes them; [`proofreading`] records who read a zone against the law;
//! [`editions`] compares two; [`catalogue`] holds a folder of zone files to what was written down of it. [`standoff`] draws lines that keep a distance from
//! zones. Everything here works on bytes and values: it prints nothing and reads no file, no network and no clock.

pub mod catalogue;
pub mod check;
pub mod draft;
pub mod editions;
pub mod law_text;
pub mod proofreading;
pub mod standoff;
pub mod survey;
