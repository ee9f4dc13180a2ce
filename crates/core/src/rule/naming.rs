//! How names are compared: letters and digits only, without case, accents and simple plurals.

/// Longest name that is looked at, in characters; no fish in the ASFIS list has half as many.
pub(super) const LONGEST_NAME: usize = 120;

/// How alike two names have to be before one is offered for the other, 0 to 1 (common practice, no source):
/// one wrong letter in three, two in five.
const ALIKE: f64 = 0.6;

/// What a name scores that holds the asked one as a whole word ("cod" in "black cod").
const HOLDS_THE_WORD: f64 = 0.75;

/// How alike a word has to be to count as a slip of the pen of another (common practice, no source).
const SLIP: f64 = 0.8;

/// At most so many names are offered.
const MOST_SUGGESTIONS: usize = 3;

/// Reduces a name to lower-case letters and digits: no accents, hyphens, spaces or other marks.
///
/// Accents are folded for the Latin letters of Latin-1 and Latin Extended-A and for letters followed by combining
/// marks; other scripts are only put in lower case.
pub(crate) fn folded(name: &str) -> String {
    let mut plain = String::with_capacity(name.len());
    for letter in name.chars().flat_map(char::to_lowercase) {
        push_plain(letter, &mut plain);
    }
    plain
}

fn push_plain(letter: char, plain: &mut String) {
    match letter {
        'à'..='å' | 'ā' | 'ă' | 'ą' => plain.push('a'),
        'ç' | 'ć' | 'ĉ' | 'ċ' | 'č' => plain.push('c'),
        'ð' | 'ď' | 'đ' => plain.push('d'),
        'è'..='ë' | 'ē' | 'ĕ' | 'ė' | 'ę' | 'ě' => plain.push('e'),
        'ĝ' | 'ğ' | 'ġ' | 'ģ' => plain.push('g'),
        'ĥ' | 'ħ' => plain.push('h'),
        'ì'..='ï' | 'ĩ' | 'ī' | 'ĭ' | 'į' | 'ı' => plain.push('i'),
        'ĵ' => plain.push('j'),
        'ķ' => plain.push('k'),
        'ĺ' | 'ļ' | 'ľ' | 'ŀ' | 'ł' => plain.push('l'),
        'ñ' | 'ń' | 'ņ' | 'ň' => plain.push('n'),
        'ò'..='ö' | 'ø' | 'ō' | 'ŏ' | 'ő' => plain.push('o'),
        'ŕ' | 'ŗ' | 'ř' => plain.push('r'),
        'ś' | 'ŝ' | 'ş' | 'š' | 'ș' => plain.push('s'),
        'ţ' | 'ť' | 'ŧ' | 'ț' => plain.push('t'),
        'ù'..='ü' | 'ũ' | 'ū' | 'ŭ' | 'ů' | 'ű' | 'ų' => plain.push('u'),
        'ŵ' => plain.push('w'),
        'ý' | 'ÿ' | 'ŷ' => plain.push('y'),
        'ź' | 'ż' | 'ž' => plain.push('z'),
        'æ' => plain.push_str("ae"),
        'œ' => plain.push_str("oe"),
        'ß' => plain.push_str("ss"),
        'þ' => plain.push_str("th"),
        other if other.is_alphanumeric() => plain.push(other),
        _ => {}
    }
}

/// Returns the words of a name, each folded and without a plural s.
pub(super) fn words(name: &str) -> Vec<String> {
    name.split(|c: char| c.is_whitespace() || c == '-' || c == '_' || c == '/')
        .map(key)
        .filter(|word| !word.is_empty())
        .collect()
}

/// Returns the one form under which gear and bait words are the same: folded, without a plural s.
pub(super) fn key(name: &str) -> String {
    let name = folded(name);
    match name.strip_suffix('s') {
        Some(stem) if stem.chars().count() >= 3 && !stem.ends_with(['s', 'u', 'i']) => stem.to_owned(),
        _ => name,
    }
}

/// Returns a folded name and the singulars that it may be the plural of.
pub(super) fn forms(folded: &str) -> Vec<String> {
    let mut forms = vec![folded.to_owned()];
    let Some(stem) = folded.strip_suffix('s') else { return forms };
    if stem.chars().count() < 3 || stem.ends_with(['s', 'u', 'i']) {
        return forms;
    }
    forms.push(stem.to_owned());
    if let Some(short) = folded.strip_suffix("es")
        && ["s", "x", "z", "ch", "sh", "o"].iter().any(|end| short.ends_with(end))
    {
        forms.push(short.to_owned());
    }
    if let Some(short) = folded.strip_suffix("ies") {
        forms.push(format!("{short}y"));
    }
    if let Some(short) = folded.strip_suffix("ves") {
        forms.push(format!("{short}f"));
        forms.push(format!("{short}fe"));
    }
    forms
}

/// Whether a word that somebody gave may mean a word of the law without being it: a slip of the pen, or a kind of it
/// ("gill net" where the law says "net"). Never true of two words that are the same.
pub(super) fn may_mean(given: &str, listed: &str) -> bool {
    let (given_key, listed_key) = (key(given), key(listed));
    if given_key == listed_key || given_key.is_empty() || listed_key.is_empty() {
        return false;
    }
    let given_words = words(given);
    let listed_words = words(listed);
    likeness(&given_key, &listed_key) >= SLIP
        || (!listed_words.is_empty() && listed_words.iter().all(|word| given_words.contains(word)))
}

/// Returns at most three of the names, those most like the asked one first; none that is not alike enough.
pub(super) fn suggestions<'a>(asked: &str, names: impl Iterator<Item = &'a str>) -> Vec<String> {
    let asked_forms = forms(&folded(asked));
    let mut scored: Vec<(f64, &str)> = Vec::new();
    for name in names {
        let score = suggestion_score(&asked_forms, name);
        if score >= ALIKE && !scored.iter().any(|(_, other)| folded(other) == folded(name)) {
            scored.push((score, name));
        }
    }
    // A stable sort: names that are alike to the same degree keep the order of the file.
    scored.sort_by(|one, other| other.0.total_cmp(&one.0));
    scored.into_iter().take(MOST_SUGGESTIONS).map(|(_, name)| name.to_owned()).collect()
}

fn suggestion_score(asked_forms: &[String], name: &str) -> f64 {
    let whole = folded(name);
    let alike = asked_forms.iter().map(|asked| likeness(asked, &whole)).fold(0.0, f64::max);
    let holds_word = words(name).iter().any(|word| asked_forms.contains(word));
    if holds_word { alike.max(HOLDS_THE_WORD) } else { alike }
}

/// Returns how alike two folded names are, 0 to 1: Damerau–Levenshtein distance over the longer length.
fn likeness(one: &str, other: &str) -> f64 {
    let (one_len, other_len) = (one.chars().count(), other.chars().count());
    // Lengths that differ this much cannot reach the cut-off; this spares the distance for most of a long list.
    if one_len.min(other_len) * 5 < one_len.max(other_len) * 3 {
        return 0.0;
    }
    strsim::normalized_damerau_levenshtein(one, other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn folding_drops_case_accents_hyphens_and_spaces() {
        for written in ["Sand-Eel", "sand eel", "SANDEEL", "sánd\u{2011}eel", "sa\u{301}nd  eel"] {
            assert_eq!(folded(written), "sandeel", "{written}");
        }
        assert_eq!(folded("Œil-de-bœuf"), "oeildeboeuf");
        assert_eq!(folded("Łosoś"), "losos");
        assert_eq!(folded(" \u{0} … "), "");
    }

    #[test]
    fn plurals_are_simple_ones() {
        for (plural, singular) in [
            ("eels", "eel"),
            ("wrasses", "wrasse"),
            ("basses", "bass"),
            ("crayfishes", "crayfish"),
            ("octopuses", "octopus"),
            ("wolves", "wolf"),
            ("blennies", "blenny"),
        ] {
            assert!(forms(plural).contains(&singular.to_owned()), "{plural}");
        }
        assert_eq!(forms("bass"), ["bass"]);
        assert_eq!(forms("octopus"), ["octopus"]);
    }

    #[test]
    fn a_kind_of_net_may_mean_net_but_a_pot_does_not() {
        assert!(may_mean("gill net", "nets"));
        assert!(may_mean("hook and lime", "hook and line"));
        assert!(!may_mean("nets", "net"));
        assert!(!may_mean("pot", "hook and line"));
        assert!(!may_mean("gill net", "drift net"));
    }
}
