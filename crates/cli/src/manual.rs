//! Shell completions and manual pages, made from what the command line is parsed with, so that they never say less.

use std::fs;
use std::path::{Path, PathBuf};

use clap::{Args, Command, CommandFactory};
use clap_complete::Shell;
use takeline_report::ExitStatus;

use crate::arguments::Arguments;
use crate::failure::{Stop, io_in_words, say};
use crate::kept_file::{StandardOutput, write_whole};

const PROGRAM: &str = "takeline";

const COMPLETIONS_EXAMPLE: &str = "\
Examples:
  takeline completions bash > takeline.bash
  takeline completions zsh > _takeline
  takeline completions fish > takeline.fish

For bash put `source takeline.bash`, with the path of that file, into ~/.bashrc;
for zsh the file belongs into a folder of $fpath, for fish into
~/.config/fish/completions.";

const MANUAL_EXAMPLE: &str = "\
Examples:
  takeline manual transit check > transit-check.1
  takeline manual --dir man/man1

`man -l transit-check.1` shows one; `man takeline-here` finds those in the folder
man1 of a folder of $MANPATH.";

#[derive(Debug, Args)]
#[command(after_help = COMPLETIONS_EXAMPLE)]
pub(crate) struct CompletionsArguments {
    /// The shell
    #[arg(value_enum)]
    shell: Shell,
}

#[derive(Debug, Args)]
#[command(after_help = MANUAL_EXAMPLE)]
pub(crate) struct ManualArguments {
    /// The command whose page is written, such as: transit check [default: that of the whole program]
    #[arg(value_name = "COMMAND")]
    command: Vec<String>,

    /// Write the pages of all commands into this folder
    #[arg(long, value_name = "DIR", conflicts_with = "command")]
    dir: Option<PathBuf>,
}

/// Answers `takeline completions`.
pub(crate) fn completions(asked: &CompletionsArguments) -> Result<ExitStatus, Stop> {
    let mut script = Vec::new();
    clap_complete::generate(asked.shell, &mut Arguments::command(), "takeline", &mut script);
    print(&script)
}

/// Answers `takeline manual`.
pub(crate) fn manual(asked: &ManualArguments) -> Result<ExitStatus, Stop> {
    let mut program = Arguments::command();
    // gives each command its whole name and the options that hold for all of them
    program.build();
    if let Some(folder) = &asked.dir {
        return write_all(folder, &program);
    }
    let mut command = &program;
    for name in &asked.command {
        command = command.find_subcommand(name).ok_or_else(|| {
            let known: Vec<&str> = subcommands(command).map(Command::get_name).collect();
            let known = if known.is_empty() { "no others below it".to_owned() } else { known.join(", ") };
            Stop::Usage(format!("there is no command “{name}”: there are {known}"))
        })?;
    }
    print(&page(command)?)
}

fn print(bytes: &[u8]) -> Result<ExitStatus, Stop> {
    let mut out = StandardOutput::new();
    std::io::Write::write_all(&mut out, bytes)?;
    out.finish()?;
    Ok(ExitStatus::Unrestricted)
}

/// The commands below one that somebody calls.
fn subcommands(command: &Command) -> impl Iterator<Item = &Command> {
    command.get_subcommands().filter(|command| !command.is_hide_set() && command.get_name() != "help")
}

/// The page of one command; its name joins the words that call it: `takeline-transit-check`.
fn page(command: &Command) -> Result<Vec<u8>, Stop> {
    let mut bytes = Vec::new();
    // what holds for every command has its values explained on the page of the program
    let is_below = command.get_name() != PROGRAM;
    let of_all = |name: &str| matches!(name, "units" | "color");
    let command = command.clone().mut_args(|arg| {
        if is_below && of_all(arg.get_id().as_str()) { arg.hide_possible_values(true) } else { arg }
    });
    clap_mangen::Man::new(command.clone()).render(&mut bytes)?;
    Ok(with_values(&command, &String::from_utf8_lossy(&bytes)).into_bytes())
}

/// A page with the values of options in its synopsis: [--units UNITS].
fn with_values(command: &Command, page: &str) -> String {
    let valued = command.get_arguments().filter(|arg| arg.get_action().takes_values());
    valued.filter_map(|arg| Some((arg.get_long()?, arg.get_value_names()?))).fold(
        page.to_owned(),
        |page, (long, values)| {
            let option = format!(r"\fB\-\-{}\fR", long.replace('-', r"\-"));
            let value = values.iter().map(|value| value.replace('-', r"\-")).collect::<Vec<_>>().join(" ");
            let [optional, needed] = [["[", "]"], ["<", ">"]].map(|[open, close]| {
                (format!("{open}{option}{close}"), format!(r"{open}{option} \fI{value}\fR{close}"))
            });
            page.replace(&optional.0, &optional.1).replace(&needed.0, &needed.1)
        },
    )
}

fn write_all(folder: &Path, program: &Command) -> Result<ExitStatus, Stop> {
    fs::create_dir_all(folder).map_err(|error| {
        Stop::Unreadable(format!(
            "{} cannot be made: {}\n  check the place and its permissions",
            folder.display(),
            io_in_words(&error)
        ))
    })?;
    let mut waiting = vec![program];
    let mut written = 0;
    while let Some(command) = waiting.pop() {
        let name = command.get_display_name().unwrap_or_else(|| command.get_name());
        let text = String::from_utf8_lossy(&page(command)?).into_owned();
        write_whole(&folder.join(format!("{name}.1")), &text).map_err(Stop::Unreadable)?;
        written += 1;
        waiting.extend(subcommands(command));
    }
    say(&format!("{}: {written} manual pages written", folder.display()));
    Ok(ExitStatus::Unrestricted)
}
