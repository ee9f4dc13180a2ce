//! One of each kind of reason, condition, remedy and warning, so that it can be shown that all of them have words.

mod answers;
#[cfg(feature = "transit")]
mod marks;
mod parts;
mod rules;
#[cfg(test)]
mod samples_tests;
mod tracks;

pub use answers::*;
#[cfg(feature = "transit")]
pub use marks::*;
pub use rules::*;
pub use tracks::*;
