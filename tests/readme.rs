//! The examples in README.md and docs/ are true: each block marked `console` is run and its output compared, letter by letter.
//!
//! In a block, `$ takeline …` (or `$ cargo run --release -- …`, which means the same) is a command, the lines below it are
//! what it writes: first to standard output, then to standard error. `| head -N` keeps the first N lines, a backslash at
//! the end of a line carries on, and `$ echo $?` shows the exit status of the command before (`$ echo ${PIPESTATUS[0]}` where
//! that had a pipe). Commands run at the root of the repository without zones of the user's own.

#![expect(clippy::unwrap_used, reason = "a test whose program or page is not there has failed")]

use std::fs;
use std::path::{Path, PathBuf};

use assert_cmd::Command;

/// How a command may begin.
const PROGRAM: [&str; 2] = ["takeline ", "cargo run --release -- "];

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

/// One command of a page, with what the page says it writes.
#[derive(Debug)]
struct Example {
    page: String,
    line: usize,
    command: String,
    expected: Vec<String>,
}

/// The examples of one page.
fn examples(page: &str, text: &str) -> Vec<Example> {
    let mut found: Vec<Example> = Vec::new();
    let mut fence: Option<bool> = None;
    for (index, line) in text.lines().enumerate() {
        let marks = line.trim_start().strip_prefix("```");
        match (fence, marks) {
            (None, Some(kind)) => fence = Some(kind.trim() == "console"),
            (Some(_), Some(_)) => fence = None,
            (Some(true), None) => add_line(&mut found, (page, index + 1), line),
            (Some(false) | None, None) => {}
        }
    }
    found
}

fn add_line(found: &mut Vec<Example>, (page, number): (&str, usize), line: &str) {
    if let Some(command) = line.strip_prefix("$ ") {
        let (page, command) = (page.to_owned(), command.to_owned());
        found.push(Example { page, line: number, command, expected: Vec::new() });
        return;
    }
    let last = found.last_mut().expect("a console block begins with a command");
    match last.command.strip_suffix('\\') {
        Some(begun) => last.command = format!("{begun}{}", line.trim_start()),
        None => last.expected.push(line.to_owned()),
    }
}

/// Splits as a shell does, as far as the pages need: blanks, double and single quotes.
fn words(command: &str) -> Vec<String> {
    let mut words = Vec::new();
    let mut word: Option<String> = None;
    let mut quote = None;
    for letter in command.chars() {
        match (quote, letter) {
            (Some(open), _) if open == letter => quote = None,
            (None, '"' | '\'') => {
                quote = Some(letter);
                word.get_or_insert_default();
            }
            (None, ' ') => words.extend(word.take()),
            (Some(_) | None, _) => word.get_or_insert_default().push(letter),
        }
    }
    assert!(quote.is_none(), "a quote is left open: {command}");
    words.extend(word);
    words
}

/// Runs a command and returns what it writes, and its exit status.
fn run(command: &str) -> (Vec<String>, i32) {
    let (command, head) = match command.split_once(" | head -") {
        Some((command, lines)) => (command, lines.parse().expect("head takes a number")),
        None => (command, usize::MAX),
    };
    let arguments = PROGRAM.iter().find_map(|program| command.strip_prefix(program));
    assert!(arguments.is_some(), "not a command of ours: {command}");
    let arguments = words(arguments.unwrap());
    let is_question = arguments.first().is_some_and(|word| word == "here");
    assert!(!is_question || arguments.iter().any(|word| word == "--time"), "without --time: {command}");
    let output = Command::new(env!("CARGO_BIN_EXE_takeline"))
        .args(&arguments)
        .current_dir(root())
        .env_remove("TAKELINE_ZONES")
        .env("XDG_CONFIG_HOME", root().join("no-such-folder"))
        .output()
        .unwrap();
    let [out, err] = [output.stdout, output.stderr].map(|stream| String::from_utf8(stream).unwrap());
    (out.lines().take(head).chain(err.lines()).map(str::to_owned).collect(), output.status.code().unwrap())
}

/// Runs the examples of a page in order; returns how many commands of the program there were.
fn hold(page: &str, text: &str) -> usize {
    let mut status = None;
    let mut commands = 0;
    let mut how_to_show_it = "";
    for example in examples(page, text) {
        let written = if example.command.starts_with("echo ") {
            assert_eq!(example.command, how_to_show_it, "{page}, line {}", example.line);
            vec![status.map(|status: i32| status.to_string()).expect("a command stands before echo")]
        } else {
            commands += 1;
            how_to_show_it =
                if example.command.contains(" | ") { "echo ${PIPESTATUS[0]}" } else { "echo $?" };
            let (written, ended_with) = run(&example.command);
            status = Some(ended_with);
            written
        };
        let (page, line, command) = (&example.page, example.line, &example.command);
        let as_text = |lines: &[String]| lines.join("\n");
        let (written, expected) = (as_text(&written), as_text(&example.expected));
        assert!(
            written == expected,
            "{page}, line {line}: {command}\nthe page says:\n{expected}\nthe program writes:\n{written}"
        );
    }
    commands
}

/// Every page below a folder.
fn pages(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            pages(&path, found);
        } else if path.extension().is_some_and(|extension| extension == "md") {
            found.push(path);
        }
    }
}

#[test]
fn the_examples_in_the_readme_are_what_the_program_writes() {
    let text = fs::read_to_string(root().join("README.md")).unwrap();
    let commands = hold("README.md", &text);
    assert!(commands >= 8, "only {commands} examples were found");
}

#[test]
fn the_examples_in_docs_are_what_the_program_writes() {
    let mut found = Vec::new();
    pages(&root().join("docs"), &mut found);
    found.sort();
    assert!(found.len() >= 3, "{found:?}");
    for page in found {
        hold(&page.display().to_string(), &fs::read_to_string(&page).unwrap());
    }
}

#[test]
fn words_are_split_as_a_shell_does() {
    assert_eq!(words(r#"here "45°06.9'N" 'a b'  x"#), ["here", "45°06.9'N", "a b", "x"]);
}

#[test]
fn only_console_blocks_are_read() {
    let text = "```sh\n$ takeline no\n```\n```console\n$ takeline here \\\n    45 -30\nwritten\n```\n$ takeline no\n";
    let found = examples("page", text);
    assert_eq!(found.len(), 1);
    assert_eq!((found[0].command.as_str(), found[0].expected.len()), ("takeline here 45 -30", 1));
}
