//! The datums that laws name.

use std::sync::LazyLock;

use regex::Regex;

use super::patterns::compiled;

/// A datum at the start of a text, with what commonly stands about its name.
static NAMED: LazyLock<Regex> = LazyLock::new(|| {
    let name = r"(?:WGS[\s-]?(?:19)?84|World\s+Geodetic\s+(?:System|Survey|Datum)(?:\s+of)?,?\s+(?:19)?84|NAD[\s-]?(?:19)?(?:83|27)|North\s+American\s+Datum(?:\s+of)?,?\s+(?:1983|1927)|GDA[\s-]?(?:(?:19)?94|2020)|Geocentric\s+Datum\s+of\s+Australia(?:\s+of)?,?\s+(?:1994|2020)|AGD[\s-]?(?:19)?(?:66|84)|Australian\s+Geodetic\s+Datum(?:\s+of)?,?\s+(?:1966|1984)|ETRS[\s-]?(?:19)?89|European\s+Terrestrial\s+Reference\s+System(?:\s+of)?,?\s+(?:19)?89|ED[\s-]?(?:19)?50|European\s+Datum(?:\s+of)?,?\s+(?:19)?50|OSGB[\s-]?(?:19)?36|NZGD[\s-]?(?:2000|(?:19)?49)|New\s+Zealand\s+Geodetic\s+Datum(?:\s+of)?,?\s+(?:2000|1949))";
    compiled(&format!(
        r"(?i)^(?:(?:geodetic\s+|horizontal\s+)?datum\s*(?:is|:|of|=|used\s+is)?\s*(?:the\s+)?)?(?P<name>{name})\b(?:\s*\(\s*(?P<again>{name})\s*\))?(?:\s+(?:geodetic\s+|horizontal\s+)?datum\b)?"
    ))
});

/// A word that says that a datum is named here.
static HINT: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)^(?:datums?|spheroid|ellipsoid|geodetic\s+(?:reference\s+)?(?:system|survey)|reference\s+system|chart\s+datum|ordnance\s+datum)\b|^(?:WGS|NAD|GDA|AGD|ETRS|ETRF|ITRF|OSGB|NZGD|PZ|GRS|SAD|PSAD|SIRGAS|CGCS|JGD|KGD|RGF|CH1903|EPSG|NTF|ED)[\s-]?\d{1,4}\b|^(?:WGS|NAD|GDA|AGD|ETRS|OSGB|NZGD)\b|^(?:Pulkovo|Amersfoort|Tokyo|Clarke|Bessel|Krass?ows?k[iy]|Everest|Hayford|Airy)\b",
    )
});

/// Reads a datum that is known at the start of a text: its length, its name, and the name in brackets behind it.
pub(super) fn named(text: &str) -> Option<(usize, String, Option<String>)> {
    let found = NAMED.captures(text)?;
    let part = |name: &str| found.name(name).map(|part| spelled(part.as_str()));
    Some((found.get(0)?.end(), part("name")?, part("again")))
}

/// Words by which a sentence that names a datum may say that the coordinates are in another.
static LIMITED: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\b(?:not|no|never|nor|but|before|after|until|unless|when|if|once|later|then|will|would|may|must|should|can|could|was|were|had|use[ds]?|using|apply|applied|corrections?|convert\w*|conversion|transform\w*|obtain\w*|receivers?|charts?|gps|plot\w*|notice|differ\w*|shift\w*|put|near\w*|equal\w*|assum\w*|other|old\w*|former\w*|previous\w*|to|than|instead|taken|based|similar)\b",
    )
});

/// Whether the sentence that names WGS 84 plainly says that the coordinates are in it.
pub(super) fn is_plain(line: &str) -> bool {
    let is_bracket = |part: &str| {
        part.split_once(')').is_some_and(|(inside, _)| {
            named(inside.trim()).is_some_and(|(len, ..)| len == inside.trim().len())
        })
    };
    if line.split('(').skip(1).any(is_bracket) {
        return true;
    }
    let named_in =
        |sentence: &&str| sentence.char_indices().any(|(at, _)| sentence.get(at..).and_then(named).is_some());
    let line = line
        .replace("referred to ", "")
        .replace("refer to ", "")
        .replace("based on", "")
        .replace("relate to ", "");
    line.split(['.', ';']).filter(named_in).all(|sentence| !LIMITED.is_match(sentence))
}

/// A datum that nobody here knows, in the words about it.
pub(super) fn unknown(before: &str, text: &str) -> Option<(usize, String)> {
    let found = HINT.find(text)?;
    let is_name = |word: &&str| {
        word.starts_with(|one: char| one.is_uppercase() || one.is_ascii_digit() || one == '(')
            && word.len() > 1
    };
    // a bracket that is closed, or a sentence that ends, is of something else
    let is_closed = |word: &&str| word.ends_with([')', '.', ';', ',']);
    let mut lead: Vec<&str> = before
        .split_whitespace()
        .rev()
        .take_while(|word| is_name(word) && !is_closed(word))
        .take(4)
        .collect();
    lead.reverse();
    let behind = text.get(found.end()..).unwrap_or_default();
    let ends = behind.find(['\n', ';']).unwrap_or(behind.len());
    let after: Vec<&str> = behind
        .get(..ends)
        .unwrap_or_default()
        .split_whitespace()
        .take_while(|word| is_name(word) || matches!(*word, "of" | ":" | "is" | "="))
        .take(4)
        .collect();
    let name = [lead.join(" "), found.as_str().to_owned(), after.join(" ")].join(" ").replace(" :", ":");
    Some((
        found.end(),
        name.trim().trim_end_matches([',', '.', ';', ':', ')']).trim_start_matches('(').to_owned(),
    ))
}

/// The short name of a datum that has a long one; other names as they are printed.
fn spelled(name: &str) -> String {
    let plain: String = name.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_uppercase();
    let digits: String =
        plain.chars().rev().take_while(char::is_ascii_digit).collect::<Vec<_>>().into_iter().rev().collect();
    let short = if digits.len() == 4 && digits.starts_with("19") { digits[2..].to_owned() } else { digits };
    let is = |start: &str| plain.starts_with(start);
    let family = if is("WGS") || is("WORLD") {
        "WGS "
    } else if is("NAD") || is("NORTHAMERICAN") {
        "NAD "
    } else if is("GDA") || is("GEOCENTRIC") {
        "GDA"
    } else if is("AGD") || is("AUSTRALIAN") {
        "AGD"
    } else if is("ETRS") || is("EUROPEANTERR") {
        "ETRS"
    } else if is("ED") || is("EUROPEAN") {
        "ED"
    } else if is("OSGB") {
        "OSGB"
    } else {
        "NZGD"
    };
    format!("{family}{short}")
}

/// What is the same for two names of one datum.
pub(crate) fn same_datum(one: &str, other: &str) -> bool {
    let key = |name: &str| {
        // only a name that is known as a whole has a shorter one
        let name = named(name.trim())
            .filter(|(len, ..)| *len == name.trim().len())
            .map_or_else(|| name.to_owned(), |(_, name, _)| name);
        name.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_uppercase()
    };
    key(one) == key(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn names_of_one_datum_are_one_name() {
        for (text, expected) in [
            ("WGS84 datum", "WGS 84"),
            ("WGS 1984)", "WGS 84"),
            ("World Geodetic System 1984 (WGS84)", "WGS 84"),
            ("World Geodetic System of 1984", "WGS 84"),
            ("North American Datum of 1983 (NAD 83)", "NAD 83"),
            ("NAD-27", "NAD 27"),
            ("Datum: GDA2020", "GDA2020"),
            ("GDA1994", "GDA94"),
            ("European Datum 1950", "ED50"),
            ("NZGD 49", "NZGD49"),
        ] {
            assert_eq!(named(text).map(|(_, name, _)| name).as_deref(), Some(expected), "{text}");
        }
        assert!(same_datum("North American Datum of 1983", "NAD83"));
        assert!(!same_datum("NAD 83", "NAD 27"));
        assert!(!same_datum("WGS 84", "WGS 84) Clarke 1866"));
    }

    #[test]
    fn others_are_told_by_the_words_about_them() {
        for (before, text, expected) in [
            ("(Tokyo ", "Datum)", "Tokyo Datum"),
            ("", "Datum: Amersfoort", "Datum: Amersfoort"),
            ("", "WGS72", "WGS72"),
            ("on the ", "Pulkovo 1942", "Pulkovo 1942"),
            ("Great Britain 1936 ", "Datum", "Great Britain 1936 Datum"),
        ] {
            assert_eq!(unknown(before, text).map(|(_, name)| name).as_deref(), Some(expected), "{text}");
        }
        assert_eq!(unknown("", "edge"), None);
    }
}
