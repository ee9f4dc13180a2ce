//! What a word was probably meant as: an option that is spelt nearly so, a zone file, a unit.

use std::path::Path;

use clap::Command;
use takeline::Position;

use crate::quantities;

/// How alike a word has to be to be offered, 0 to 1 (common practice, no source).
const ALIKE: f64 = 0.6;

/// Words that people try, and the option that does it.
const OTHER_WORDS: [(&str, &str); 10] = [
    ("bag", "count"),
    ("kept", "count"),
    ("number", "count"),
    ("fish", "species"),
    ("size", "length"),
    ("speed", "top-speed"),
    ("date", "time"),
    ("at", "time"),
    ("map", "html"),
    ("page", "html"),
];

/// Whether a word is an option by its looks, as against a coordinate or the name of standard input.
pub(crate) fn is_option(word: &str) -> bool {
    match word.as_bytes() {
        [b'-', b'-', ..] => true,
        [b'-', second, ..] => second.is_ascii_alphabetic(),
        _ => false,
    }
}

/// The option of a command that was probably meant, with its dashes.
pub(crate) fn option_meant(command: &Command, word: &str) -> Option<String> {
    let typed = word.trim_start_matches('-').to_lowercase().replace('_', "-");
    let shown = command.get_arguments().filter(|argument| !argument.is_hide_set());
    let names = shown.flat_map(|argument| {
        let aliases = argument.get_visible_aliases().into_iter().flatten();
        argument.get_long().into_iter().chain(aliases)
    });
    let names: Vec<&str> = names.collect();
    let other = OTHER_WORDS.iter().find(|(word, _)| *word == typed).map(|(_, option)| *option);
    if let Some(option) = other.filter(|option| names.contains(option)) {
        return Some(format!("--{option}"));
    }
    nearest(&typed, &names).map(|name| format!("--{name}"))
}

/// The name that a word is nearly spelt as.
pub(crate) fn nearest<'n>(word: &str, names: &[&'n str]) -> Option<&'n str> {
    let likeness = |name: &str| strsim::normalized_damerau_levenshtein(word, name);
    let nearest = names.iter().copied().max_by(|one, other| likeness(one).total_cmp(&likeness(other)))?;
    (likeness(nearest) >= ALIKE).then_some(nearest)
}

/// Why words are not a position, where it can be seen from one of them: a path, or a unit that was torn off its number.
pub(crate) fn not_of_a_position(words: &[&str]) -> Option<String> {
    words.iter().find_map(|word| {
        if let Some(unit) = quantities::unit(word) {
            return Some(format!(
                "\"{word}\" is one word too many; write a number and its unit in one word: 6{unit}"
            ));
        }
        let is_path = word.contains(['/', '\\']) || (!is_of_a_position(word) && Path::new(word).exists());
        is_path.then(|| format!("\"{word}\" is not part of a position; for a zone file write --zones {word}"))
    })
}

/// Options that take a position, which goes into quotes where it has a blank in it.
const POSITION_OPTIONS: [&str; 5] = ["--launch", "--front", "--rear", "--corner", "--about"];

/// That the position behind an option lacks its quotes: of two words only the first belongs to the option.
pub(crate) fn unquoted_position<'w>(words: impl IntoIterator<Item = &'w str>) -> Option<String> {
    let words: Vec<&str> = words.into_iter().collect();
    words.windows(3).find_map(|three| {
        let (option, one, other) = (three[0], three[1], three[2]);
        let is_half = is_of_a_position(one) && is_of_a_position(other) && Position::parse(one).is_err();
        let is_torn = POSITION_OPTIONS.contains(&option)
            && is_half
            && Position::parse(&format!("{one}, {other}")).is_ok();
        is_torn.then(|| format!("put the position behind {option} into quotes: {option} \"{one} {other}\""))
    })
}

/// Whether every sign of a word may stand in a coordinate.
pub(crate) fn is_of_a_position(word: &str) -> bool {
    const SIGNS: &str = " \t.,;:+-−°º'’′\"”″NSEWnsew";
    !word.is_empty() && word.chars().all(|letter| letter.is_ascii_digit() || SIGNS.contains(letter))
}
