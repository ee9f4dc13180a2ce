//! Whole workloads, made from a seed and timed against other ways to the same answer in one run.
//!
//! `takeline-bench generate` writes the workloads; `engine`, `readers`, `program` and `shapes` print tables in Markdown, each
//! figure with what it must be; `counted` is run by an instruction counter. `docs/performance.md` says what is measured and how.

#![expect(clippy::print_stdout, reason = "figures are what it is for")]
#![expect(clippy::cast_precision_loss, reason = "counts of fixes, of edges and of bytes become figures")]

mod arguments;
mod child;
mod engine;
mod failure;
mod generate;
mod goal;
mod hot_paths;
mod memory;
mod peers;
mod program;
mod readers;
mod rounds;
mod sample_log;
mod shapes;
mod sheet;
mod workload;

use std::process::ExitCode;

use clap::Parser;

use arguments::{Arguments, Mode};
use failure::Failure;

fn main() -> ExitCode {
    let arguments = match Arguments::try_parse() {
        Ok(arguments) => arguments,
        Err(refusal) => return arguments::answer(&refusal),
    };
    match run(&arguments.mode) {
        Ok(()) => ExitCode::SUCCESS,
        Err(failure) => failure.tell(),
    }
}

fn run(mode: &Mode) -> Result<(), Failure> {
    match mode {
        Mode::Generate(asked) => generate::run(asked),
        Mode::Engine(asked) => engine::run(asked),
        Mode::Readers(asked) => readers::run(asked),
        Mode::Program(asked) => program::run(asked),
        Mode::Shapes(asked) => shapes::run(asked.passes()),
        Mode::Counted { path } => hot_paths::run(*path),
        Mode::Held { what, file } => memory::held(*what, file),
    }
}
