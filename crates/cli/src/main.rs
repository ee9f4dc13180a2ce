//! The takeline command: where am I, what may I keep here, and where was I.
//!
//! Arguments, files and exit status; the answers come from the library. Data goes to standard output, talk to standard
//! error.

mod accuracy;
mod arguments;
mod batch;
mod bounded;
mod catches;
mod clock;
mod coasts;
mod failure;
mod fix_rows;
mod here;
mod kept_file;
mod log_reading;
mod manual;
mod ordered_workers;
mod plausibility;
mod progress;
mod quantities;
mod refusal;
mod screen;
mod settings;
mod species;
mod track;
mod transit;
mod trip;
mod words_meant;
mod zone_files;
mod zone_words;
mod zones;

use std::process::ExitCode;

use clap::Parser;
use takeline_report::{ExitStatus, Units};

use arguments::{Arguments, Command, UnitsName};
use failure::Stop;

fn main() -> ExitCode {
    ExitCode::from(run().code())
}

fn run() -> ExitStatus {
    let words = match zone_words::sorted(std::env::args_os().collect()) {
        Ok(words) => words,
        Err((command, reason)) => return Stop::Usage(reason).tell(command),
    };
    let mut arguments = match Arguments::try_parse_from(&words) {
        Ok(arguments) => arguments,
        Err(refusal) => return refusal::answer(&refusal, &words),
    };
    if let Err(stop) = arguments.use_settings() {
        return stop.tell("settings");
    }
    let units = arguments.units.map(Units::from).unwrap_or_default();
    let (command, outcome) = match &arguments.command {
        Command::Here(asked) => ("here", here::run(asked, units)),
        Command::Track(asked) => ("track", track::run(asked, arguments.units.unwrap_or(UnitsName::Metric))),
        Command::Transit(asked) => (transit::name(asked), transit::run(asked, units)),
        Command::Zones(asked) => (zones::name(asked), zones::run(asked, units)),
        Command::Settings(_) => ("settings", settings::show(arguments.settings.as_deref())),
        Command::Completions(asked) => ("completions", manual::completions(asked)),
        Command::Manual(asked) => ("manual", manual::manual(asked)),
    };
    outcome.unwrap_or_else(|stop| stop.tell(command))
}
