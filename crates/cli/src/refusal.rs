//! What cannot be understood of a command line, in plain words: what it is, and how it is written.

use std::ffi::OsString;

use clap::error::{ContextKind, ContextValue, ErrorKind};
use clap::{Command, CommandFactory};
use takeline_report::ExitStatus;

use crate::arguments::Arguments;
use crate::failure::Stop;
use crate::words_meant::{is_option, nearest, not_of_a_position, option_meant, unquoted_position};

/// Where somebody is who has not said so: how a position is given.
const SAY_WHERE: &str = "say where you are: takeline here 45.1182 -30.1217";

/// Prints what clap has to say and returns what it means: help and version are no mistakes.
pub(crate) fn answer(refusal: &clap::Error, words: &[OsString]) -> ExitStatus {
    if refusal.use_stderr() {
        let mut program = Arguments::command();
        program.build();
        let (command, name) = called(&program, words);
        if let Some(reason) = (Refused { refusal, command, words }).reason() {
            return Stop::Usage(reason).tell(&name);
        }
    }
    let printed = refusal.print().is_ok();
    if refusal.use_stderr() || !printed { ExitStatus::Usage } else { ExitStatus::Unrestricted }
}

/// The command that is called, and the words that call it.
fn called<'p>(program: &'p Command, words: &[OsString]) -> (&'p Command, String) {
    let mut command = program;
    let mut names: Vec<&str> = Vec::new();
    for word in words.iter().skip(1).filter_map(|word| word.to_str()) {
        if let Some(below) = command.find_subcommand(word) {
            names.push(below.get_name());
            command = below;
        }
    }
    (command, names.join(" "))
}

struct Refused<'a> {
    refusal: &'a clap::Error,
    command: &'a Command,
    words: &'a [OsString],
}

impl Refused<'_> {
    /// Why, in our words; none where clap's own say it well.
    #[expect(clippy::wildcard_enum_match_arm, reason = "clap says the rest well enough")]
    fn reason(&self) -> Option<String> {
        if let Some(reason) = unquoted_position(self.words.iter().filter_map(|word| word.to_str())) {
            return Some(reason);
        }
        match self.refusal.kind() {
            ErrorKind::UnknownArgument => Some(self.unknown(&self.text(ContextKind::InvalidArg)?)),
            ErrorKind::InvalidValue => self.value(),
            ErrorKind::ValueValidation => self.not_read(),
            ErrorKind::MissingRequiredArgument => self.missing(),
            ErrorKind::ArgumentConflict => self.conflict(),
            ErrorKind::InvalidSubcommand => self.no_command(),
            _ => None,
        }
    }

    #[expect(clippy::wildcard_enum_match_arm, reason = "the rest is no text")]
    fn text(&self, kind: ContextKind) -> Option<String> {
        match self.refusal.get(kind)? {
            ContextValue::String(text) => Some(text.clone()),
            ContextValue::Strings(texts) => Some(texts.join(", ")),
            ContextValue::StyledStr(text) => Some(text.to_string()),
            _ => None,
        }
    }

    fn texts(&self, kind: ContextKind) -> Vec<String> {
        match self.refusal.get(kind) {
            Some(ContextValue::String(text)) => vec![text.clone()],
            Some(ContextValue::Strings(texts)) => texts.clone(),
            _ => Vec::new(),
        }
    }

    /// An option that there is not, or a word where none is looked for.
    fn unknown(&self, word: &str) -> String {
        if !is_option(word) {
            return format!("“{word}” is one word too many: nothing stands there without an option");
        }
        let word = word.split('=').next().unwrap_or(word);
        match option_meant(self.command, word) {
            Some(meant) => format!("there is no option {word}; did you mean {meant}?"),
            None => format!("there is no option {word}"),
        }
    }

    /// The option as it was typed: by one of its other names, perhaps.
    fn typed(&self, argument: &str) -> String {
        let name =
            argument.split([' ', '=']).next().unwrap_or(argument).trim_matches(['<', '>', '[', ']', '.']);
        let long = name.trim_start_matches('-');
        let is_typed = |name: &str| {
            let option = format!("--{name}");
            self.words.iter().filter_map(|word| word.to_str()).any(|word| {
                word.strip_prefix(&option).is_some_and(|rest| rest.is_empty() || rest.starts_with('='))
            })
        };
        let known = self.command.get_arguments().find(|known| known.get_long() == Some(long));
        let other = known.and_then(clap::Arg::get_all_aliases).into_iter().flatten();
        let other = other.into_iter().find(|alias| is_typed(alias));
        other.filter(|_| !is_typed(long)).map_or_else(|| name.to_owned(), |alias| format!("--{alias}"))
    }

    /// A value that is missing, or none of those that there are.
    fn value(&self) -> Option<String> {
        let argument = self.text(ContextKind::InvalidArg)?;
        let option = self.typed(&argument);
        let value = self.text(ContextKind::InvalidValue).unwrap_or_default();
        let known = self.texts(ContextKind::ValidValue);
        let known = or(&known);
        if value.is_empty() {
            let (_, wanted) = argument.split_once(' ').unwrap_or(("", "<VALUE>"));
            let wanted = wanted.trim_matches(['<', '>', '[', ']', '.']);
            return Some(if known.is_empty() {
                format!("{option} lacks its value: write {option} {wanted}")
            } else {
                format!("{option} lacks its value: write {known} after it")
            });
        }
        (!known.is_empty()).then(|| format!("{option}: “{value}” is not one of its values: write {known}"))
    }

    /// A value that its reader refuses, with the reader's own words.
    fn not_read(&self) -> Option<String> {
        let argument = self.text(ContextKind::InvalidArg)?;
        let value = self.text(ContextKind::InvalidValue).unwrap_or_default();
        if !argument.starts_with("--") {
            // what was typed where a position or a log is looked for
            return is_option(&value).then(|| self.swallowed(&value));
        }
        let reason = std::error::Error::source(self.refusal)?;
        Some(format!("{} {value}: {reason}", self.typed(&argument)))
    }

    /// An option where a part of the position is looked for: one that there is not, or one behind a word too many.
    fn swallowed(&self, word: &str) -> String {
        let name = word.split('=').next().unwrap_or(word);
        if self.option(name).is_none() {
            return self.unknown(word);
        }
        let bare = self.bare_words(word);
        let surplus = bare.get(2).map_or_else(String::new, |surplus| format!("“{surplus}” is "));
        not_of_a_position(&bare).unwrap_or_else(|| {
            format!("{surplus}one word too many before {name}: give latitude and longitude")
        })
    }

    /// The option of that name, by any of its names.
    fn option(&self, name: &str) -> Option<&clap::Arg> {
        let long = name.strip_prefix("--")?;
        self.command.get_arguments().find(|known| {
            let other = known.get_all_aliases().into_iter().flatten().any(|alias| alias == long);
            other || known.get_long() == Some(long)
        })
    }

    /// The words that belong to no option, up to this one.
    fn bare_words(&self, end: &str) -> Vec<&str> {
        let mut words = self.words.iter().filter_map(|word| word.to_str());
        let mut bare = Vec::new();
        // the words before the command are options with their values
        words.by_ref().find(|word| *word == self.command.get_name());
        while let Some(word) = words.next() {
            if word == end && bare.len() > 2 {
                break;
            }
            if !is_option(word) {
                bare.push(word);
            } else if self.option(word).is_some_and(|option| option.get_action().takes_values()) {
                words.next();
            }
        }
        bare
    }

    fn missing(&self) -> Option<String> {
        let missing = self.texts(ContextKind::InvalidArg);
        if missing.iter().any(|one| one.contains("LAT")) {
            return Some(SAY_WHERE.to_owned());
        }
        if self.command.get_name() == "track" && missing.iter().any(|one| one.contains("FILE")) {
            return Some("name a log: takeline track trip.gpx".to_owned());
        }
        let plain: Vec<String> = missing.iter().map(|one| one.replace(['<', '>'], "")).collect();
        (!plain.is_empty()).then(|| format!("this is missing: {}", plain.join(", ")))
    }

    fn conflict(&self) -> Option<String> {
        let one = self.text(ContextKind::InvalidArg)?;
        let others = self.texts(ContextKind::PriorArg);
        let is_position = |argument: &str| argument.contains("LAT") || argument.contains("LON");
        if is_position(&one) || others.iter().any(|other| is_position(other)) {
            return Some("give a position, or --fixes: the two do not go together".to_owned());
        }
        let one_typed = self.typed(&one);
        let others: Vec<String> = others.iter().map(|other| self.typed(other)).collect();
        if others.is_empty() || others.contains(&one_typed) {
            return Some(format!("{one_typed} is given twice: give it once"));
        }
        Some(format!("{one_typed} and {} do not go together: give one of them", others.join(", ")))
    }

    fn no_command(&self) -> Option<String> {
        let word = self.text(ContextKind::InvalidSubcommand)?;
        let known: Vec<&str> = self.command.get_subcommands().map(Command::get_name).collect();
        Some(match nearest(&word.to_lowercase(), &known) {
            Some(meant) => format!("there is no command {word}; did you mean {meant}?"),
            None => format!("there is no command {word}: there are {}", known.join(", ")),
        })
    }
}

/// Words in a row, the last behind an "or".
pub(crate) fn or(words: &[String]) -> String {
    match words {
        [] => String::new(),
        [one] => one.clone(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
    }
}
