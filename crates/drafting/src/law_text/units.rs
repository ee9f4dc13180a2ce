//! Units behind numbers, and the quantities that they make.

use std::sync::LazyLock;

use regex::Regex;

use super::line::Quantity;
use super::number::{Number, Reading, number_at};
use super::patterns::compiled;

const SEA_M: f64 = 1852.0;
const LAND_M: f64 = 1609.344;
/// A cable is a tenth of a nautical mile, or 720 feet in the United States.
const CABLES_M: [f64; 2] = [185.2, 219.456];
/// A league is three miles, of the sea or of the land.
const LEAGUES_M: [f64; 2] = [3.0 * SEA_M, 3.0 * LAND_M];

static LENGTH: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"^[\s\u{a0}\-‐‑]*(?P<unit>(?i:n\.\s?m(?:i)?\.)|(?:(?i:nautical\s+miles?|sea\s+miles?|statute\s+miles?|land\s+miles?|n\.?\s*miles?|nmi?|miles?|mi|kilomet(?:re|er)s?|kms?|met(?:re|er)s?|feet|foot|ft|yards?|yds?|cable\s+lengths?|cables?|fathoms?|leagues?)|M|m)\b)",
    )
});
static AREA: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)^[\s\u{a0}\-‐‑]*(?P<unit>(?:square|sq\.?)\s*(?:nautical\s+miles?|kilomet(?:re|er)s?|met(?:re|er)s?|miles?|nmi?|kms?|mi|m)\b|km2\b|km²|km\^2|nm2\b|nm²|nmi2\b|nmi²|m2\b|m²|m\^2|hectares?\b|ha\b|acres?\b)",
    )
});

/// How many metres a unit is; of several, nobody can tell which is meant.
fn metres(unit: &str) -> Vec<f64> {
    let lower = unit.to_lowercase();
    if unit == "M" {
        return vec![SEA_M, 1.0];
    }
    let first = lower.split_whitespace().next().unwrap_or_default();
    match first.trim_end_matches('.') {
        "statute" | "land" => vec![LAND_M],
        "mile" | "miles" | "mi" => vec![SEA_M, LAND_M],
        "feet" | "foot" | "ft" => vec![0.3048],
        "yard" | "yards" | "yd" | "yds" => vec![0.9144],
        "cable" | "cables" => CABLES_M.to_vec(),
        "fathom" | "fathoms" => vec![1.8288],
        "league" | "leagues" => LEAGUES_M.to_vec(),
        kilo if kilo.starts_with('k') => vec![1000.0],
        metre if metre.starts_with("met") || metre == "m" => vec![1.0],
        _ => vec![SEA_M],
    }
}

fn square_metres(unit: &str) -> Vec<f64> {
    let unit = unit.to_lowercase();
    if unit.contains("nautical") || unit.contains("nm") {
        vec![SEA_M * SEA_M]
    } else if unit.contains('k') {
        vec![1.0e6]
    } else if unit.starts_with('h') {
        vec![1.0e4]
    } else if unit.starts_with('a') {
        vec![4_046.856_422_4]
    } else if unit.contains("mi") {
        vec![LAND_M * LAND_M, SEA_M * SEA_M]
    } else {
        vec![1.0]
    }
}

fn times(number: &Number, units: &[f64]) -> Vec<Reading> {
    let each = number
        .readings
        .iter()
        .flat_map(|(value, half)| units.iter().map(move |unit| (value * unit, half * unit)));
    each.filter(|(value, _)| value.is_finite()).collect()
}

/// A number, or `a` in the sense of one.
fn counted(text: &str) -> Option<Number> {
    number_at(text).or_else(|| {
        let len = ["a ", "an ", "A ", "An "].into_iter().find(|one| text.starts_with(one))?.trim_end().len();
        Some(Number { len, readings: vec![(1.0, 0.0)], has_digits: false })
    })
}

/// Reads a length at the start of a text: how many bytes it takes, and what it is.
pub(super) fn length_at(text: &str) -> Option<(usize, Quantity)> {
    let number = counted(text)?;
    let rest = text.get(number.len..)?;
    let unit = LENGTH.captures(rest)?;
    let whole = unit.get(0)?;
    let after = rest.get(whole.end()..)?;
    // 07.05 m N and 07 m 05 s are minutes; m2 and m² are areas
    let is_m = unit["unit"].eq_ignore_ascii_case("m");
    let next = after.trim_start().chars().next();
    let is_minutes = is_m && next.is_some_and(|next| "NSEW°′″".contains(next) || next.is_ascii_digit());
    let readings = times(&number, &metres(&unit["unit"]));
    if is_minutes || after.starts_with(['²', '^']) || readings.is_empty() {
        return None;
    }
    let len = number.len + whole.end();
    let quantity = Quantity {
        text: text.get(..len)?.trim().to_owned(),
        metres: readings[0].0,
        half_digit_m: readings[0].1,
        readings_m: readings.iter().map(|(value, _)| *value).collect(),
    };
    Some(again(text, len, quantity))
}

/// A length that is said again in brackets, in another unit: where the two agree it is one, else nobody can tell which is right.
fn again(text: &str, len: usize, mut quantity: Quantity) -> (usize, Quantity) {
    let behind = text.get(len..).unwrap_or_default();
    let Some(inner) = behind.trim_start().strip_prefix('(') else { return (len, quantity) };
    let lead = inner
        .trim_start_matches(|one: char| one.is_whitespace())
        .trim_start_matches("or ")
        .trim_start_matches("about ");
    let Some((taken, other)) = bracketed(lead) else { return (len, quantity) };
    let len = text.len() - lead.len() + taken;
    let agrees =
        |one: f64, two: f64| (one - two).abs() <= 0.02 * one + quantity.half_digit_m + other.half_digit_m;
    let both: Vec<f64> = quantity
        .readings_m
        .iter()
        .copied()
        .filter(|one| other.readings_m.iter().any(|two| agrees(*one, *two)))
        .collect();
    if both.is_empty() {
        quantity.readings_m.extend(other.readings_m);
    } else {
        quantity.metres = both[0];
        quantity.readings_m = both;
    }
    text.get(..len).unwrap_or_default().trim().clone_into(&mut quantity.text);
    (len, quantity)
}

/// A length and the bracket behind it.
fn bracketed(text: &str) -> Option<(usize, Quantity)> {
    let number = number_at(text)?;
    let rest = text.get(number.len..)?;
    let unit = LENGTH.captures(rest)?;
    let len = number.len + unit.get(0)?.end();
    let behind = text.get(len..)?;
    let closed = behind.trim_start().strip_prefix(')')?;
    let readings = times(&number, &metres(&unit["unit"]));
    let (metres, half_digit_m) = *readings.first()?;
    let readings_m = readings.iter().map(|(value, _)| *value).collect();
    let text_of = text.get(..len)?.to_owned();
    Some((text.len() - closed.len(), Quantity { text: text_of, metres, half_digit_m, readings_m }))
}

/// Reads an area at the start of a text: how many bytes it takes, its text, and what it may be in m².
pub(super) fn area_at(text: &str) -> Option<(usize, String, Vec<Reading>)> {
    let number = number_at(text)?;
    let unit = AREA.captures(text.get(number.len..)?)?;
    let len = number.len + unit.get(0)?.end();
    let readings = times(&number, &square_metres(&unit["unit"]));
    (!readings.is_empty()).then_some((len, text.get(..len)?.to_owned(), readings))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn readings(text: &str) -> Vec<f64> {
        length_at(text).map(|(_, found)| found.readings_m).unwrap_or_default()
    }

    /// The nautical mile is 1852 m (ISO 80000-3, from memory), the statute mile 1609.344 m and the yard 0.9144 m (international yard
    /// and pound agreement of 1959, from memory).
    #[test]
    fn lengths_have_every_reading_that_their_unit_leaves_open() {
        for (text, expected) in [
            ("1.5 nm of", vec![2778.0]),
            ("1 1/2 nautical miles", vec![2778.0]),
            ("2 N.M. of", vec![3704.0]),
            ("2 n.mi. of", vec![3704.0]),
            ("2 n miles of", vec![3704.0]),
            ("half-mile", vec![926.0, 804.672]),
            ("2 miles", vec![3704.0, 3218.688]),
            ("12 M centred", vec![22224.0, 12.0]),
            ("12 m centred", vec![12.0]),
            ("07.05 m N", vec![]),
            ("2,619 m to", vec![2619.0, 2.619]),
            ("150 m (492 ft) of", vec![150.0]),
            ("150 m (600 ft) of", vec![150.0, 182.88]),
            ("1,000 m (1 km)", vec![1000.0]),
            ("500 yards", vec![457.2]),
            ("a nautical mile", vec![1852.0]),
            ("60.25 nm radius", vec![111_583.0]),
            ("20 m2", vec![]),
            ("30 cm", vec![]),
        ] {
            assert_eq!(readings(text), expected, "{text}");
        }
        assert_eq!(area_at("485 hectares").unwrap().2, [(4_850_000.0, 5000.0)]);
        assert_eq!(area_at("twenty square kilometres").unwrap().2, [(20.0e6, 0.0)]);
        assert_eq!(area_at("20 m deep"), None);
    }
}
