//! Plain decimal numbers, read without detours.

/// Powers of ten that a double holds exactly.
const EXACT_TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19, 1e20, 1e21, 1e22,
];
/// Digits that always fit a whole number below 2⁵³, which a double holds exactly.
const EXACT_DIGITS: usize = 15;
/// Twice so many are fewer than that.
const SHORT_DIGITS: usize = 7;
/// Powers of ten for so many decimals.
const WHOLE_TENS: [u64; SHORT_DIGITS + 1] = [1, 10, 100, 1_000, 10_000, 100_000, 1_000_000, 10_000_000];

/// Reads a plain decimal at the start of `bytes`; returns it with the number of bytes used.
///
/// Right to the last bit: both parts of the one division are exact (W. D. Clinger, *How to read floating point numbers
/// accurately*, 1990). None if there is no digit, or more than 15 of them.
#[inline]
pub(crate) fn scan_plain(bytes: &[u8]) -> Option<(f64, usize)> {
    if let Some(short) = scan_short(bytes) { Some(short) } else { scan_digit_by_digit(bytes) }
}

/// As [`scan_plain`], for up to seven digits before the point and up to seven behind it, with something behind them.
#[inline]
fn scan_short(bytes: &[u8]) -> Option<(f64, usize)> {
    let sign = usize::from(matches!(bytes.first()?, b'-' | b'+'));
    let mut whole = 0;
    let mut at = sign;
    while let Some(digit) = digit_at(bytes, at) {
        whole = whole * 10 + digit;
        at += 1;
        if at - sign > SHORT_DIGITS {
            return None;
        }
    }
    if at == sign || bytes.get(at) != Some(&b'.') {
        return None;
    }
    let eight = bytes.get(at + 1..at + 9)?;
    let (decimals, used) = leading_digits(u64::from_le_bytes(eight.try_into().ok()?));
    let value = decimal(whole * WHOLE_TENS.get(used)? + decimals, used, bytes[0] == b'-');
    Some((value, at + 1 + used))
}

/// The digits with which eight bytes begin, as one number, and how many they are.
///
/// All at once: bytes to digits, digits to pairs, pairs to fours, fours to eight; the first byte is the lowest of the word.
#[inline]
fn leading_digits(word: u64) -> (u64, usize) {
    const EACH: u64 = 0x0101_0101_0101_0101;
    let values = word ^ (0x30 * EACH);
    // a byte above 9 gets its highest bit set, here or by the sum; a carry can only spoil bytes behind it
    let others = (values | values.wrapping_add(0x76 * EACH)) & (0x80 * EACH);
    let used = others.trailing_zeros() / 8;
    let Some(digits) = values.checked_shl(64 - used * 8) else { return (0, 0) };
    let pairs = digits.wrapping_mul(10).wrapping_add(digits >> 8);
    let first_and_third = (pairs & 0x0000_00FF_0000_00FF).wrapping_mul(100 + (1_000_000 << 32));
    let second_and_fourth = ((pairs >> 16) & 0x0000_00FF_0000_00FF).wrapping_mul(1 + (10_000 << 32));
    (first_and_third.wrapping_add(second_and_fourth) >> 32, used as usize)
}

#[expect(clippy::cast_precision_loss, reason = "fifteen digits fit the 53 bits of a double")]
#[inline]
fn decimal(digits: u64, decimals: usize, is_negative: bool) -> f64 {
    let magnitude = digits.cast_signed() as f64 / EXACT_TENS[decimals];
    if is_negative { -magnitude } else { magnitude }
}

#[inline(never)]
fn scan_digit_by_digit(bytes: &[u8]) -> Option<(f64, usize)> {
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
    Some((decimal(whole, decimals, bytes[0] == b'-'), at))
}

#[inline]
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

    use super::{leading_digits, read, scan_digit_by_digit, scan_plain, scan_short};

    proptest! {
        #[test]
        fn plain_decimals_are_what_the_standard_library_reads(whole in -400_i32..400, digits in "[0-9]{0,12}") {
            let text = format!("{whole}.{digits}");
            prop_assert_eq!(scan_plain(text.as_bytes()), Some((text.parse().unwrap(), text.len())));
        }

        #[test]
        fn every_way_reads_the_nearest_double(text in "[+-]?[0-9]{0,9}\\.?[0-9]{0,9}[,\"x.e0-9 ]{0,9}") {
            let number = text.len() - text.trim_start_matches(['+', '-']).trim_start_matches(|c: char| c.is_ascii_digit()).len();
            let rest = &text[number..];
            let decimals = rest.strip_prefix('.').map_or(0, |rest| {
                1 + rest.len() - rest.trim_start_matches(|c: char| c.is_ascii_digit()).len()
            });
            let used = number + decimals;
            let digits = text[..used].bytes().filter(u8::is_ascii_digit).count();
            let expected = (1..=15).contains(&digits).then(|| (text[..used].parse::<f64>().unwrap().to_bits(), used));
            let bits = |read: Option<(f64, usize)>| read.map(|(value, used)| (value.to_bits(), used));
            prop_assert_eq!(bits(scan_plain(text.as_bytes())), expected);
            prop_assert_eq!(bits(scan_digit_by_digit(text.as_bytes())), expected);
            if let Some(short) = scan_short(text.as_bytes()) {
                prop_assert_eq!(bits(Some(short)), expected);
            }
        }

        #[test]
        fn eight_bytes_begin_with_as_many_digits_as_they_say(bytes in any::<[u8; 8]>(), digits in "[0-9]{0,8}") {
            for bytes in [bytes, std::array::from_fn(|at| *digits.as_bytes().get(at).unwrap_or(&bytes[at]))] {
                let used = bytes.iter().take_while(|byte| byte.is_ascii_digit()).count();
                let value = bytes[..used].iter().fold(0, |sum, digit| sum * 10 + u64::from(digit - b'0'));
                prop_assert_eq!(leading_digits(u64::from_le_bytes(bytes)), (value, used));
            }
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
