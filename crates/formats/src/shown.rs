//! Pieces of a log in messages: short, and without characters that move a cursor.

use takeline::sanitised::is_harmful;

/// The most characters of a log that a message repeats.
const MOST_CHARACTERS: usize = 40;

/// Makes a piece of a log fit for a message.
pub(crate) fn shown(piece: &[u8]) -> String {
    // four bytes hold any character: a piece of many megabytes is not walked through
    let head = &piece[..piece.len().min(4 * (MOST_CHARACTERS + 1))];
    let text = String::from_utf8_lossy(head);
    let mut kept: String = text
        .trim()
        .chars()
        .take(MOST_CHARACTERS)
        .map(|c| if is_harmful(c) { '\u{fffd}' } else { c })
        .collect();
    if text.trim().chars().count() > MOST_CHARACTERS {
        kept.push('…');
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::shown;

    #[test]
    fn long_pieces_are_cut_and_control_characters_replaced() {
        assert_eq!(shown(b" 45.1\x1b[2J "), "45.1\u{fffd}[2J");
        assert_eq!(shown(&vec![b'x'; 1_000_000]).chars().count(), 41);
        assert_eq!(shown(&[0xff, b'a']), "\u{fffd}a");
        assert_eq!(shown("\u{202e}a".as_bytes()), "\u{fffd}a");
    }
}
