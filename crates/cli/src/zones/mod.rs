//! `takeline zones …`: what is done with zone files themselves.

mod export;
mod import;
mod list;
mod draft;
mod check;
mod names;
mod prepare;
mod run;
mod show;

pub(crate) use run::{ZonesArguments, name, run};
