//! `takeline zones …`: what is done with zone files themselves.

mod compare;
mod names;
mod prepare;
mod run;

pub(crate) use run::{ZonesArguments, name, run};
