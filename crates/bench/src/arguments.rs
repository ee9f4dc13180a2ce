//! What is typed.

use std::path::PathBuf;
use std::process::ExitCode;

use clap::{Args, Parser, Subcommand, ValueEnum};

use crate::hot_paths::HotPath;

/// Workloads made from a seed, timed against other ways to the same answer
#[derive(Debug, Parser)]
#[command(name = "takeline-bench", version)]
pub(crate) struct Arguments {
    #[command(subcommand)]
    pub(crate) mode: Mode,
}

#[derive(Debug, Subcommand)]
pub(crate) enum Mode {
    /// Write workloads: zones.geojson, fixes.csv and track.gpx, each in its own folder
    Generate(GenerateArguments),
    /// Distances, sides, answers, audits and the index
    Engine(EngineArguments),
    /// Track logs read
    Readers(ReaderArguments),
    /// The program as a process of its own
    Program(ProgramArguments),
    /// Shapes that are hard: large zones, combs, very many zones
    Shapes(Passes),
    /// Do one small piece of work, for an instruction counter
    Counted {
        /// Which
        #[arg(value_enum)]
        path: HotPath,
    },
    /// Say how much memory something takes, in a process of its own
    #[command(hide = true)]
    Held {
        #[arg(value_enum)]
        what: Held,
        file: PathBuf,
    },
}

#[derive(Debug, Args)]
pub(crate) struct GenerateArguments {
    /// Folder to write into; it is made where it is missing
    #[arg(value_name = "DIR")]
    pub(crate) folder: PathBuf,

    /// Which workloads
    #[arg(long, value_enum, value_delimiter = ',', default_value = "W1,W2,W3,W4")]
    pub(crate) only: Vec<Name>,

    /// Multiplies the number of zones and of fixes, not of vertices; from 0.0001 to 10
    #[arg(long, value_name = "S", default_value_t = 1.0, value_parser = scale)]
    pub(crate) scale: f64,

    /// The same seed gives the same files
    #[arg(long, value_name = "N", default_value_t = 1)]
    pub(crate) seed: u64,
}

#[derive(Debug, Args)]
pub(crate) struct EngineArguments {
    /// Folders of workloads
    #[arg(value_name = "DIR", required = true)]
    pub(crate) folders: Vec<PathBuf>,

    #[command(flatten)]
    pub(crate) passes: Passes,

    /// Fixes of each workload whose distance and sides are held to the exact ones
    #[arg(long, value_name = "N", default_value_t = 200, value_parser = clap::value_parser!(u32).range(1..))]
    pub(crate) sample: u32,
}

#[derive(Debug, Args)]
pub(crate) struct ReaderArguments {
    /// A log in GPX
    #[arg(value_name = "FILE.gpx")]
    pub(crate) gpx: PathBuf,

    /// A log in CSV: lat,lon,unix
    #[arg(value_name = "FILE.csv")]
    pub(crate) csv: PathBuf,

    #[command(flatten)]
    pub(crate) passes: Passes,
}

#[derive(Debug, Args)]
pub(crate) struct ProgramArguments {
    /// The program `takeline`, built for release
    #[arg(value_name = "PROGRAM")]
    pub(crate) program: PathBuf,

    /// Folders of workloads; W2 and W4 are used
    #[arg(value_name = "DIR", required = true)]
    pub(crate) folders: Vec<PathBuf>,

    #[command(flatten)]
    pub(crate) passes: Passes,
}

#[derive(Debug, Args)]
pub(crate) struct Passes {
    /// How often everything is measured, in turns; the median counts
    #[arg(id = "passes", long = "passes", value_name = "N", default_value_t = 5)]
    #[arg(value_parser = clap::value_parser!(u32).range(1..=1000))]
    count: u32,
}

impl Passes {
    pub(crate) fn passes(&self) -> usize {
        usize::try_from(self.count).unwrap_or(1)
    }
}

/// The workloads.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Name {
    /// One zone of 40 vertices
    #[value(name = "W1")]
    W1,
    /// 1,000 zones of 200
    #[value(name = "W2")]
    W2,
    /// One zone of 100,000
    #[value(name = "W3")]
    W3,
    /// 20,000 zones of 50
    #[value(name = "W4")]
    W4,
}

/// What is loaded to see how much memory it takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Held {
    /// Our index of a zone file's polygons
    Index,
    /// The tree over edges in degrees
    DegreesTree,
    /// A zone file read whole
    ZoneFile,
}

fn scale(text: &str) -> Result<f64, String> {
    let read: Option<f64> = text.parse().ok();
    read.filter(|scale| (0.0001..=10.0).contains(scale))
        .ok_or_else(|| "write a number from 0.0001 to 10".into())
}

/// Prints what clap has to say: help and version are no mistakes.
pub(crate) fn answer(refusal: &clap::Error) -> ExitCode {
    let is_mistake = refusal.use_stderr();
    // whoever closed the stream does not want to know
    drop(refusal.print());
    if is_mistake { ExitCode::from(2) } else { ExitCode::SUCCESS }
}
