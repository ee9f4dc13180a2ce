//! `takeline transit`: marks in line.

mod arguments;
mod calibrate;
mod check;
mod cross;
mod find;
mod marks;
mod outputs;
mod run;

pub(crate) use arguments::TransitArguments;
pub(crate) use run::{name, run};
