//! Range lines held to tables, closed forms and random draws that the library has no part in.

#![expect(clippy::unwrap_used, reason = "a test that cannot read its data has to fail")]

#[path = "transits/clear_lines.rs"]
mod clear_lines;
#[path = "transits/closed_forms.rs"]
mod closed_forms;
#[path = "transits/computed.rs"]
mod computed;
#[path = "transits/monte_carlo.rs"]
mod monte_carlo;
#[path = "transits/what_the_eye_sees.rs"]
mod what_the_eye_sees;
