//! The takeline command.
fn main() {}
