//! `takeline zones …`: what is done with zone files themselves.

mod check;
mod names;
mod prepare;
mod run;

pub(crate) use run::{ZonesArguments, name, run};
