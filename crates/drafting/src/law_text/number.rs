//! Numbers as laws print them: digits with either decimal mark, grouped or not, fractions, and words.

/// One thing that a number may mean, and half of its last digit.
pub(super) type Reading = (f64, f64);

/// A number at the start of a text.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Number {
    /// How many bytes of the text it takes.
    pub(super) len: usize,
    /// What it may mean: `1,852` may be a thousand and more, or not quite two. Never empty.
    pub(super) readings: Vec<Reading>,
    /// Written with digits.
    pub(super) has_digits: bool,
}

const SMALL: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] =
    ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];
const TIMES: [(&str, f64); 3] = [("hundred", 100.0), ("thousand", 1000.0), ("million", 1.0e6)];
const PARTS: [(&str, f64); 12] = [
    ("half", 2.0),
    ("halves", 2.0),
    ("third", 3.0),
    ("thirds", 3.0),
    ("quarter", 4.0),
    ("quarters", 4.0),
    ("fourth", 4.0),
    ("fourths", 4.0),
    ("eighth", 8.0),
    ("eighths", 8.0),
    ("tenth", 10.0),
    ("tenths", 10.0),
];
const SIGNS: [(char, f64); 7] =
    [('½', 0.5), ('¼', 0.25), ('¾', 0.75), ('⅓', 1.0 / 3.0), ('⅔', 2.0 / 3.0), ('⅛', 0.125), ('⅕', 0.2)];

/// Whether a word is part of a number.
pub(super) fn is_number_word(word: &str) -> bool {
    SMALL.contains(&word)
        || (!word.is_empty() && TENS.contains(&word))
        || TIMES.iter().any(|(one, _)| *one == word)
        || matches!(word, "half" | "halves" | "quarter" | "quarters" | "dozen" | "score")
}

/// Whether a character begins or belongs to a number.
pub(super) fn is_number_sign(one: char) -> bool {
    one.is_numeric()
}

/// Reads the number that a text begins with: all of it, or nothing.
pub(super) fn number_at(text: &str) -> Option<Number> {
    let first = text.chars().next()?;
    let begins_with_digit = first.is_ascii_digit()
        || (matches!(first, '.' | ',') && text[1..].starts_with(|one: char| one.is_ascii_digit()));
    let found = if begins_with_digit || SIGNS.iter().any(|(sign, _)| *sign == first) {
        in_digits(text)
    } else {
        in_words(text)
    }?;
    // what follows closely belongs to it, and then nobody knows
    let after = text.get(found.len..)?;
    let is_whole = !after.starts_with(|one: char| one.is_numeric())
        && !after
            .strip_prefix(['.', ',', '/', '\'', '’', ':'])
            .is_some_and(|rest| rest.starts_with(|one: char| one.is_ascii_digit()));
    is_whole.then_some(found)
}

fn is_blank(one: char) -> bool {
    matches!(one, ' ' | '\t' | '\u{a0}' | '\u{202f}' | '\u{2009}')
}

/// How long the digits at the start are, with the marks that join them.
fn token(text: &str) -> &str {
    let bytes: Vec<(usize, char)> = text.char_indices().collect();
    let mut end = 0;
    for (i, (at, one)) in bytes.iter().enumerate() {
        let next_is_digit = bytes.get(i + 1).is_some_and(|(_, next)| next.is_ascii_digit());
        if one.is_ascii_digit() || (matches!(one, '.' | ',' | '\'' | '’') && next_is_digit) {
            end = at + one.len_utf8();
        } else {
            break;
        }
    }
    text.get(..end).unwrap_or_default()
}

fn in_digits(text: &str) -> Option<Number> {
    let whole = token(text);
    let mut len = whole.len();
    let mut readings = if whole.is_empty() { Vec::new() } else { readings(whole)? };
    // groups of three after blanks: 3 150 may be one number, or two
    if !whole.is_empty() && whole.len() <= 3 && whole.bytes().all(|one| one.is_ascii_digit()) {
        let mut joined = whole.to_owned();
        let mut last = String::new();
        while let Some(rest) = text.get(len..).and_then(|rest| rest.strip_prefix(is_blank)) {
            let group = token(rest);
            let digits = group.split(['.', ',']).next().unwrap_or_default();
            if digits.len() != 3 || group.contains(['\'', '’']) {
                break;
            }
            joined.push_str(group);
            group.clone_into(&mut last);
            len = text.len() - rest.len() + group.len();
            if group.len() > 3 {
                break;
            }
        }
        if !last.is_empty() {
            readings = plain(&joined).into_iter().collect();
            if !last.starts_with('0') {
                readings.extend(plain(&last));
            }
        }
    }
    let (fraction, taken) = fraction(text.get(len..)?, whole.is_empty());
    if let Some(fraction) = fraction {
        len += taken;
        if readings.is_empty() {
            readings.push((0.0, 0.0));
        }
        for reading in &mut readings {
            *reading = (reading.0 + fraction, 0.0);
        }
    } else if text.get(len..)?.trim_start_matches(is_blank).starts_with('/') {
        // 1/2: the token was its upper part
        let (value, taken) = proper(text)?;
        (len, readings) = (taken, vec![(value, 0.0)]);
    }
    if let Some((times, taken)) = multiplier(text.get(len..)?) {
        len += taken;
        readings = readings.iter().map(|(value, half)| (value * times, half * times)).collect();
    }
    (!readings.is_empty()).then_some(Number { len, readings, has_digits: true })
}

/// What one token of digits may mean.
fn readings(token: &str) -> Option<Vec<Reading>> {
    let marks: Vec<char> = token.chars().filter(|one| !one.is_ascii_digit()).collect();
    let parts: Vec<&str> = token.split(|one: char| !one.is_ascii_digit()).collect();
    let grouped = |parts: &[&str]| {
        parts.first().is_some_and(|first| (1..=3).contains(&first.len()))
            && parts.iter().skip(1).all(|part| part.len() == 3)
    };
    let joined = |parts: &[&str]| plain(&parts.concat());
    match marks.as_slice() {
        [] => Some(vec![plain(token)?]),
        ['\'' | '’', ..] => (grouped(&parts) && marks.iter().all(|mark| matches!(mark, '\'' | '’')))
            .then(|| joined(&parts).map(|one| vec![one]))?,
        [_] => {
            let decimal = plain(&token.replace(',', "."))?;
            let may_be_grouped = grouped(&parts) && !token.starts_with('0');
            let mut found = Vec::new();
            if may_be_grouped {
                found.push(joined(&parts)?);
            }
            if may_be_grouped && marks == ['.'] {
                found.insert(0, decimal);
            } else {
                found.push(decimal);
            }
            Some(found)
        }
        [first, .., last] if first == last => (grouped(&parts) && marks.iter().all(|mark| mark == first))
            .then(|| joined(&parts).map(|one| vec![one]))?,
        [group, .., _] => {
            let (decimals, whole) = parts.split_last()?;
            let is_sound = grouped(whole) && marks[..marks.len() - 1].iter().all(|mark| mark == group);
            is_sound.then(|| plain(&format!("{}.{decimals}", whole.concat())).map(|one| vec![one]))?
        }
    }
}

/// Digits with at most one point.
fn plain(text: &str) -> Option<Reading> {
    let text = text.replace(',', ".");
    let decimals = text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let half = 0.5 * 10.0_f64.powi(-i32::try_from(decimals).ok()?);
    let value: f64 = format!("0{text}").parse().ok()?;
    value.is_finite().then_some((value, half))
}

/// A fraction behind a whole number (`1½`, `1 1/2`, `2 and a half`), or alone where it is the first.
fn fraction(text: &str, is_first: bool) -> (Option<f64>, usize) {
    let trimmed = text.trim_start_matches(|one: char| is_blank(one) || one == '-');
    let gap = text.len() - trimmed.len();
    if let Some((sign, value)) =
        trimmed.chars().next().and_then(|one| SIGNS.iter().find(|(sign, _)| *sign == one))
    {
        return (Some(*value), gap + sign.len_utf8());
    }
    if is_first {
        return (None, 0);
    }
    if gap > 0
        && let Some((value, taken)) = proper(trimmed)
    {
        return (Some(value), gap + taken);
    }
    let words = words(text);
    match and_part(&words) {
        Some((value, count)) => (Some(value), words.get(count - 1).map_or(0, |(_, end)| *end)),
        None => (None, 0),
    }
}

/// `1/2`, `3/4`: below one, as laws print parts.
fn proper(text: &str) -> Option<(f64, usize)> {
    let upper = text.bytes().take_while(u8::is_ascii_digit).count();
    let rest =
        text.get(upper..)?.trim_start_matches(is_blank).strip_prefix('/')?.trim_start_matches(is_blank);
    let lower = rest.bytes().take_while(u8::is_ascii_digit).count();
    let (over, under): (f64, f64) = (text.get(..upper)?.parse().ok()?, rest.get(..lower)?.parse().ok()?);
    let is_part =
        upper <= 2 && over > 0.0 && over < under && [2.0, 3.0, 4.0, 5.0, 8.0, 10.0, 16.0].contains(&under);
    is_part.then_some((over / under, text.len() - rest.len() + lower))
}

fn multiplier(text: &str) -> Option<(f64, usize)> {
    let (word, end) = words(text).into_iter().next()?;
    let (_, times) = TIMES.iter().find(|(name, _)| *name == word)?;
    Some((*times, end))
}

/// The words at the start of a text, in lower case, each with where it ends; blanks and hyphens stand between.
fn words(text: &str) -> Vec<(String, usize)> {
    let mut found = Vec::new();
    let mut at = 0;
    while found.len() < 16 {
        let Some(rest) = text.get(at..) else { break };
        let word_start = rest.trim_start_matches(|one: char| is_blank(one) || matches!(one, '-' | '‐' | '‑'));
        let word: String = word_start.chars().take_while(|one| one.is_alphabetic()).collect();
        if word.is_empty() {
            break;
        }
        at = text.len() - word_start.len() + word.len();
        found.push((word.to_lowercase(), at));
    }
    found
}

fn part(word: &str) -> Option<f64> {
    PARTS.iter().find(|(name, _)| *name == word).map(|(_, under)| 1.0 / under)
}

/// `and a half`, `and three quarters`: its value and how many words it takes.
fn and_part(words: &[(String, usize)]) -> Option<(f64, usize)> {
    let word = |at: usize| words.get(at).map(|(word, _)| word.as_str());
    if word(0) != Some("and") {
        return None;
    }
    let count = match word(1)? {
        "a" | "one" => 1.0,
        other => small(other)?,
    };
    Some((count * part(word(2)?)?, 3))
}

fn small(word: &str) -> Option<f64> {
    let at = SMALL.iter().position(|one| *one == word)?;
    u8::try_from(at).ok().map(f64::from)
}

fn tens(word: &str) -> Option<f64> {
    let at = TENS.iter().position(|one| !one.is_empty() && *one == word)?;
    u8::try_from(at).ok().map(|at| f64::from(at) * 10.0)
}

/// A number in words: `twenty-five`, `one and a half`, `three quarters of a`, `two hundred`.
fn in_words(text: &str) -> Option<Number> {
    let words = words(text);
    let word = |at: usize| words.get(at).map(|(word, _)| word.as_str());
    let end = |at: usize| words.get(at).map_or(0, |(_, end)| *end);
    let made =
        |value: f64, last: usize| Number { len: end(last), readings: vec![(value, 0.0)], has_digits: false };
    let of_one = |value: f64, last: usize| {
        // half a mile, a quarter of a mile, half of one mile
        let more = match (word(last + 1), word(last + 2)) {
            (Some("of"), Some("a" | "an" | "one")) => 2,
            (Some("a" | "an"), _) => 1,
            _ => 0,
        };
        made(value, last + more)
    };
    let is_article = matches!(word(0), Some("a" | "one"));
    let named = word(usize::from(is_article))?;
    // a third alone is an ordinal
    if let Some(value) = part(named).filter(|_| is_article || matches!(named, "half" | "quarter")) {
        return Some(of_one(value, usize::from(is_article)));
    }
    let (value, next) = whole(&words)?;
    if let Some(under) = word(next).and_then(part) {
        return Some(of_one(value * under, next));
    }
    if let Some((more, count)) = and_part(words.get(next..)?) {
        return Some(made(value + more, next + count - 1));
    }
    Some(made(value, next - 1))
}

/// A whole number in words, and the place of the word behind it.
fn whole(words: &[(String, usize)]) -> Option<(f64, usize)> {
    let word = |at: usize| words.get(at).map(|(word, _)| word.as_str());
    let (mut total, mut group, mut at) = (0.0, 0.0, 0);
    // what may follow: 2 anything, 1 only ones (after tens), 0 only hundred and thousand
    let mut open = 2;
    if word(0) == Some("a") && word(1).is_some_and(|next| TIMES.iter().any(|(name, _)| *name == next)) {
        (group, at, open) = (1.0, 1, 0);
    }
    while let Some(one) = word(at) {
        if let Some(value) =
            small(one).filter(|value| open == 2 || (open == 1 && (1.0..10.0).contains(value)))
        {
            (group, open) = (group + value, 0);
        } else if let Some(value) = tens(one).filter(|_| open == 2) {
            (group, open) = (group + value, 1);
        } else if let Some((name, times)) = TIMES.iter().find(|(name, _)| *name == one && at > 0) {
            if *name == "hundred" {
                group *= times;
            } else {
                total += group * times;
                group = 0.0;
            }
            open = 2;
        } else {
            // one hundred and fifty
            let goes_on = one == "and"
                && open == 2
                && at > 0
                && word(at + 1).is_some_and(|next| small(next).or(tens(next)).is_some());
            if !goes_on {
                break;
            }
        }
        at += 1;
    }
    (at > 0 && (at > 1 || word(0) != Some("a"))).then_some((total + group, at))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn values(text: &str) -> Vec<f64> {
        number_at(text)
            .map(|found| found.readings.iter().map(|(value, _)| *value).collect())
            .unwrap_or_default()
    }

    #[test]
    fn numbers_are_read_whole_or_not_at_all() {
        for (text, expected) in [
            ("150 m", vec![150.0]),
            ("0.5 nm", vec![0.5]),
            (".5 nm", vec![0.5]),
            ("0,5 nm", vec![0.5]),
            ("1,25 km", vec![1.25]),
            ("1½ nm", vec![1.5]),
            ("½ nm", vec![0.5]),
            ("1 ½ nm", vec![1.5]),
            ("1/2 nm", vec![0.5]),
            ("1 1/2 nm", vec![1.5]),
            ("1-1/2 nm", vec![1.5]),
            ("2,619 m", vec![2619.0, 2.619]),
            ("2.500 m", vec![2.5, 2500.0]),
            ("0.593 m", vec![0.593]),
            ("1 000 m", vec![1000.0]),
            ("3 150 metre", vec![3150.0, 150.0]),
            ("10 000 000 m", vec![10_000_000.0]),
            ("1'000 m", vec![1000.0]),
            ("1,234.5 m", vec![1234.5]),
            ("1.234,5 m", vec![1234.5]),
            ("1,234,567 m", vec![1_234_567.0]),
            ("5 hundred m", vec![500.0]),
            ("4.85 million", vec![4_850_000.0]),
            ("2 and a half nm", vec![2.5]),
            ("3.2.1", vec![]),
            ("2008/317", vec![]),
            ("twenty-five metres", vec![25.0]),
            ("one and a half nm", vec![1.5]),
            ("one and one half nm", vec![1.5]),
            ("three-quarters of a nautical mile", vec![0.75]),
            ("half a mile", vec![0.5]),
            ("a quarter mile", vec![0.25]),
            ("one half nautical mile", vec![0.5]),
            ("one hundred and fifty m", vec![150.0]),
            ("two thousand three hundred m", vec![2300.0]),
            ("one thousand and thirty six metres", vec![1036.0]),
            ("a hundred metres", vec![100.0]),
            ("thirteen points", vec![13.0]),
            ("of", vec![]),
            ("and", vec![]),
        ] {
            assert_eq!(values(text), expected, "{text}");
        }
        let long = "9".repeat(400);
        assert_eq!(number_at(&long), None, "no finite number");
        assert_eq!(&"1 1/2 nm"[number_at("1 1/2 nm").unwrap().len..], " nm");
        assert_eq!(&"half a mile"[number_at("half a mile").unwrap().len..], " mile");
    }
}
