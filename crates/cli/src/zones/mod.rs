//! `takeline zones …`: what is done with zone files themselves.

mod draft;
mod names;
mod prepare;
mod run;

pub(crate) use run::{ZonesArguments, name, run};
