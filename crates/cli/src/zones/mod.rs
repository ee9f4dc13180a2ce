//! `takeline zones …`: what is done with zone files themselves.

mod check;
mod compare;
mod draft;
mod export;
mod import;
mod list;
mod names;
mod overwriting;
mod prepare;
mod run;
mod show;

pub(crate) use run::{ZonesArguments, name, run};
