//! Bytes of a log: hashed as they come, unpacked, cut into lines and tokens, with their places.

mod block;
mod hashing;
mod unpacked;

pub(crate) use block::{Fault, LineSpan, Source};
