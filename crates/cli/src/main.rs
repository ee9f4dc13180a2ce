//! The takeline command: where am I, what may I keep here.
//!
//! Arguments, files and exit status; the answers come from the library. Data goes to standard output, talk to standard
//! error.

mod arguments;
mod batch;
#[cfg_attr(not(test), expect(dead_code, reason = "the command that reads catch logs comes with tracks"))]
mod catches;
mod far;
mod fix_rows;
mod here;
mod stop;
mod zone_files;

use std::process::ExitCode;

use clap::Parser;
use takeline_report::ExitStatus;

use arguments::{Arguments, Command};
use stop::Stop;

fn main() -> ExitCode {
    ExitCode::from(run().code())
}

fn run() -> ExitStatus {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(refusal) => return arguments::answer(&refusal),
    };
    let outcome = match &arguments.command {
        Command::Here(asked) => here::run(asked),
    };
    outcome.unwrap_or_else(Stop::tell)
}
