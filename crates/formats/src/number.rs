//! Plain decimal numbers, read without detours.

/// Powers of ten that a double holds exactly.
const EXACT_TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19, 1e20, 1e21, 1e22,
];
/// Digits that always fit a whole number below 2⁵³, which a double holds exactly.
const EXACT_DIGITS: usize = 15;

/// Reads a plain decimal at the start of `bytes`; returns it with the number of bytes used.
///
/// Right to the last bit: both parts of the one division are exact (W. D. Clinger, *How to read floating point numbers
/// accurately*, 1990). None if there is no digit, or more than 15 of them.
#[expect(clippy::cast_precision_loss, reason = "fifteen digits fit the 53 bits of a double")]
pub(crate) fn scan_plain(bytes: &[u8]) -> Option<(f64, usize)> {
    let sign = usize::from(matches!(bytes.first(), Some(b'-' | b'+')));
    let mut whole: u64 = 0;
    let mut at = sign;
    while let Some(digit) = digit_at(bytes, at) {
        if at - sign >= EXACT_DIGITS {
            return None;
        }
        whole = whole * 10 + digit;
        at += 1;
    }
    let mut digits = at - sign;
    let mut decimals = 0;
    if bytes.get(at) == Some(&b'.') {
        at += 1;
        while let Some(digit) = digit_at(bytes, at) {
            if digits >= EXACT_DIGITS {
                return None;
            }
            whole = whole * 10 + digit;
            at += 1;
            digits += 1;
            decimals += 1;
        }
    }
    if digits == 0 {
        return None;
    }
    let magnitude = whole as f64 / EXACT_TENS[decimals];
    Some((if bytes[0] == b'-' { -magnitude } else { magnitude }, at))
}

fn digit_at(bytes: &[u8], at: usize) -> Option<u64> {
    let digit = bytes.get(at)?.wrapping_sub(b'0');
    (digit < 10).then_some(u64::from(digit))
}

/// Reads a whole text as a finite decimal number, with white space around it and an exponent allowed.
///
/// None for anything else, names such as `NaN` and `inf` among them.
pub(crate) fn read(text: &str) -> Option<f64> {
    let text = text.trim();
    if let Some((value, used)) = scan_plain(text.as_bytes())
        && used == text.len()
    {
        return Some(value);
    }
    let is_numeric = |byte: u8| matches!(byte, b'0'..=b'9' | b'+' | b'-' | b'.' | b'e' | b'E');
    if !text.bytes().all(is_numeric) {
        return None;
    }
    text.parse().ok().filter(|value: &f64| value.is_finite())
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::{read, scan_plain};

    proptest! {
        #[test]
        fn plain_decimals_are_what_the_standard_library_reads(whole in -400_i32..400, digits in "[0-9]{0,12}") {
            let text = format!("{whole}.{digits}");
            prop_assert_eq!(scan_plain(text.as_bytes()), Some((text.parse().unwrap(), text.len())));
        }

        #[test]
        fn any_text_is_a_finite_number_or_none(text in ".{0,40}") {
            prop_assert!(read(&text).is_none_or(f64::is_finite));
        }
    }

    #[test]
    fn names_of_no_number_are_none() {
        for text in ["", "-", ".", "NaN", "inf", "-infinity", "1e999", "4 5", "45,1", "0x2d", "45.1.2", "1e"]
        {
            assert_eq!(read(text), None, "{text}");
        }
    }

    #[test]
    fn unusual_forms_are_read() {
        let cases = [
            ("+45.", 45.0),
            (".5", 0.5),
            (" 1e-05\n", 1e-5),
            ("-0", 0.0),
            ("45.12345678901234567890", 45.123_456_789_012_345),
        ];
        for (text, value) in cases {
            assert_eq!(read(text), Some(value), "{text}");
        }
    }
}
