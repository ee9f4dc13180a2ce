//! The program, run in a folder of its own with no settings and no zones but those that a test names.

use std::path::Path;

use assert_cmd::Command;

pub(crate) struct Outcome {
    pub(crate) status: i32,
    pub(crate) out: String,
    pub(crate) err: String,
}

/// Runs it; `zones` is what its environment names.
#[track_caller]
pub(crate) fn run(folder: &Path, zones: Option<&Path>, arguments: &[&str], input: &str) -> Outcome {
    let mut command = Command::new(env!("CARGO_BIN_EXE_takeline"));
    command.args(arguments).current_dir(folder).env("XDG_CONFIG_HOME", folder.join("config"));
    match zones {
        Some(zones) => command.env("TAKELINE_ZONES", zones),
        None => command.env_remove("TAKELINE_ZONES"),
    };
    let output = command.write_stdin(input).output().expect("the program starts");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("what it writes is text");
    Outcome {
        status: output.status.code().expect("nothing ends it from without"),
        out: text(output.stdout),
        err: text(output.stderr),
    }
}
