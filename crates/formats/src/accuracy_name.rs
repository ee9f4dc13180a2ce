//! Names under which elements, attributes and columns tell how well a position is known.

use takeline::AccuracyKind;

/// What the name of an accuracy says about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Meaning {
    Stated(AccuracyKind),
    Unstated,
}

/// Names under which extensions and columns give a horizontal accuracy in metres. Common practice, no source: there is no standard.
///
/// Capitals, `_`, `-` and `.` do not count.
pub(crate) fn accuracy(name: &str) -> Option<Meaning> {
    if name.len() > 24 || !name.is_ascii() {
        return None;
    }
    let mut plain = [0_u8; 24];
    let mut length = 0;
    for byte in name.bytes().filter(|byte| !matches!(byte, b'_' | b'-' | b'.')) {
        plain[length] = byte.to_ascii_lowercase();
        length += 1;
    }
    match &plain[..length] {
        b"accuracy"
        | b"hacc"
        | b"haccuracy"
        | b"horacc"
        | b"horizontalaccuracy"
        | b"accuracym"
        | b"haccm" => Some(Meaning::Unstated),
        b"accuracy68" | b"accuracyp68" | b"hacc68" => Some(Meaning::Stated(AccuracyKind::P68)),
        b"accuracy95" | b"accuracyp95" | b"hacc95" | b"horizontalaccuracy95" => {
            Some(Meaning::Stated(AccuracyKind::P95))
        }
        b"accuracyrms" | b"haccrms" | b"hrms" | b"drms" => Some(Meaning::Stated(AccuracyKind::Rms)),
        _ => None,
    }
}

/// Words in the names of what tells how well a position is known (common practice, no source).
const WORDS_OF_ACCURACY: [&str; 25] = [
    "acc",
    "accuracym",
    "accm",
    "hacc",
    "haccuracy",
    "horacc",
    "epe",
    "ehpe",
    "eph",
    "hpe",
    "cep",
    "rms",
    "hrms",
    "drms",
    "2drms",
    "sigma",
    "err",
    "error",
    "errorm",
    "radius",
    "herror",
    "herr",
    "poserr",
    "poserror",
    "stdev",
];
/// Parts of words that say so wherever they stand.
const PARTS_OF_WORDS: [&str; 4] = ["accuracy", "precision", "uncertainty", "horizontalacc"];
/// Words that make them tell of something else: heights, speeds, directions, times.
const WORDS_OF_OTHER_THINGS: [&str; 24] = [
    "v",
    "alt",
    "altitude",
    "ele",
    "elevation",
    "height",
    "speed",
    "bearing",
    "course",
    "heading",
    "time",
    "clock",
    "kind",
    "type",
    "source",
    "x",
    "z",
    "y",
    "message",
    "code",
    "text",
    "flag",
    "turn",
    "status",
];
/// Beginnings of words that do the same.
const BEGINNINGS_OF_OTHER_THINGS: [&str; 7] =
    ["vert", "vacc", "speed", "bearing", "course", "heading", "time"];

/// Whether a name may be that of a horizontal accuracy that is read under no such name.
///
/// Words end at blanks, signs, and where a capital follows a small letter.
pub(crate) fn looks_like_an_accuracy(name: &str) -> bool {
    let mut words = vec![String::new()];
    let mut was_small = false;
    for letter in name.chars().take(60) {
        if !letter.is_alphanumeric() || (was_small && letter.is_uppercase()) {
            words.push(String::new());
        }
        was_small = letter.is_lowercase();
        if let Some(word) = words.last_mut().filter(|_| letter.is_alphanumeric()) {
            word.push(letter.to_ascii_lowercase());
        }
    }
    let without_digits = |word: &String| word.trim_end_matches(|c: char| c.is_ascii_digit()).to_owned();
    let words: Vec<String> = words.iter().map(without_digits).collect();
    let is_one = |word: &String| {
        WORDS_OF_ACCURACY.contains(&word.as_str()) || PARTS_OF_WORDS.iter().any(|part| word.contains(part))
    };
    let is_other = |word: &String| {
        let begins = BEGINNINGS_OF_OTHER_THINGS.iter().any(|other| word.starts_with(other));
        begins || WORDS_OF_OTHER_THINGS.contains(&word.as_str())
    };
    words.iter().any(is_one) && !words.iter().any(is_other)
}
