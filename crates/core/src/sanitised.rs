//! Text from elsewhere made sanitised: no name of a file may move a cursor, break a line or turn other words around.

use std::borrow::Cow;

/// Returns whether a character could drive a terminal, break a line or change the direction of what stands around it.
///
/// These are the control characters (Unicode category Cc), the line and paragraph separators U+2028 and U+2029, and the
/// twelve explicit formatting characters of bidirectional text.
///
/// # References
///
/// Unicode Standard Annex 9, *Unicode Bidirectional Algorithm*, section 2, and Unicode Technical Report 36, *Unicode
/// Security Considerations*.
///
/// # Examples
///
/// ```
/// use takeline::sanitised::is_harmful;
/// assert!(is_harmful('\u{1b}') && is_harmful('\u{202e}') && is_harmful('\n'));
/// assert!(!is_harmful('é') && !is_harmful('א') && !is_harmful(' '));
/// ```
#[must_use]
pub const fn is_harmful(letter: char) -> bool {
    // char::is_control is not const
    let is_control = matches!(letter, '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}');
    let is_separator = matches!(letter, '\u{2028}' | '\u{2029}');
    let turns = matches!(letter, '\u{061c}' | '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    is_control || is_separator || turns
}

/// Returns one line of text: line breaks and tabs become blanks, other harmful characters the replacement character U+FFFD.
///
/// # Examples
///
/// ```
/// assert_eq!(takeline::sanitised::line("cod\u{1b}[2J\nbass\u{202e}"), "cod\u{fffd}[2J bass\u{fffd}");
/// ```
#[must_use]
pub fn line(text: &str) -> Cow<'_, str> {
    replaced(text, is_harmful, |letter| match letter {
        '\n' | '\t' => ' ',
        _ => char::REPLACEMENT_CHARACTER,
    })
}

/// Returns text whose lines stay as they are: as [`line()`], but a line feed is kept.
#[must_use]
pub fn lines(text: &str) -> Cow<'_, str> {
    replaced(
        text,
        |letter| letter != '\n' && is_harmful(letter),
        |letter| match letter {
            '\t' => ' ',
            _ => char::REPLACEMENT_CHARACTER,
        },
    )
}

/// Returns the same JSON with every harmful character written as an escape, so that nothing is lost and nothing is done.
///
/// # Edge cases
///
/// `json` has to be JSON. Control characters below U+0020 are escapes there already or are blanks between its parts; all
/// others can only stand in texts, where an escape means the same.
///
/// # Examples
///
/// ```
/// let json = takeline::sanitised::json("{\n\"name\": \"bass\u{202e}\"}");
/// assert_eq!(json, "{\n\"name\": \"bass\\u202e\"}");
/// assert_eq!(serde_json::from_str::<serde_json::Value>(&json)?["name"], "bass\u{202e}");
/// # Ok::<(), serde_json::Error>(())
/// ```
#[must_use]
pub fn json(json: &str) -> Cow<'_, str> {
    let is_escaped = |letter: char| letter >= ' ' && is_harmful(letter);
    if !json.contains(is_escaped) {
        return Cow::Borrowed(json);
    }
    let mut escaped = String::with_capacity(json.len() + 16);
    for letter in json.chars() {
        if is_escaped(letter) {
            // all of them lie below U+10000, so that one escape is enough
            escaped.extend(format!("\\u{:04x}", u32::from(letter)).chars());
        } else {
            escaped.push(letter);
        }
    }
    Cow::Owned(escaped)
}

fn replaced(text: &str, is_replaced: impl Fn(char) -> bool, by: impl Fn(char) -> char) -> Cow<'_, str> {
    if !text.contains(&is_replaced) {
        return Cow::Borrowed(text);
    }
    Cow::Owned(text.chars().map(|letter| if is_replaced(letter) { by(letter) } else { letter }).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_control_character_of_unicode_is_harmful() {
        for letter in (0..=0x10_ffff).filter_map(char::from_u32) {
            assert!(!letter.is_control() || is_harmful(letter), "U+{:04X}", u32::from(letter));
            assert!(!is_harmful(letter) || u32::from(letter) < 0x1_0000);
        }
    }

    #[test]
    fn json_reads_the_same_afterwards() {
        let every: String = (0..=0x3000).filter_map(char::from_u32).collect();
        let json = serde_json::to_string_pretty(&vec![every.clone()]).unwrap();
        let escaped = super::json(&json);
        assert!(!escaped.chars().any(|letter| letter != '\n' && is_harmful(letter)));
        assert_eq!(serde_json::from_str::<Vec<String>>(&escaped).unwrap(), [every]);
    }

    #[test]
    fn lines_are_kept_where_they_may_be() {
        assert_eq!(lines("a\n\tb\r\u{85}"), "a\n b\u{fffd}\u{fffd}");
        assert!(matches!(lines("a\nb"), Cow::Borrowed(_)));
    }
}
