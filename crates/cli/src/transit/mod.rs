//! `takeline transit`: marks in line.

mod arguments;
mod calibrate;
mod check;
mod cross;
mod find;
mod marks;
mod outputs;
mod run;

pub(crate) use arguments::{EyeArguments, TransitArguments, TransitCommand};
pub(crate) use marks::position;
pub(crate) use run::{name, run};
