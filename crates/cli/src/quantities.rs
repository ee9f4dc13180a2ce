//! Lengths, speeds, angles and counts as they are typed after an option: a number, and a unit where somebody gives one.
//!
//! A bare number is in the unit that the option is named after. What may mean two things is refused with how to write it.

use std::num::NonZero;

/// Metres in one international foot, inch and yard: the foot is 0.3048 m exactly (Refinement of Values for the Yard and the
/// Pound, Federal Register 24 FR 5348, 1959).
const FOOT_M: f64 = 0.3048;
const INCH_M: f64 = 0.0254;
const YARD_M: f64 = 0.9144;
/// Metres in one international nautical mile (First International Extraordinary Hydrographic Conference, Monaco, 1929).
const NAUTICAL_MILE_M: f64 = 1852.0;
/// Metres in one statute mile: 5280 international feet.
const STATUTE_MILE_M: f64 = 1609.344;

/// A unit: how it may be written, the first way first, and how many of the base unit it is.
type Unit = (&'static [&'static str], f64);

const LENGTHS: [Unit; 10] = [
    // a tenth of a nautical mile, as answers in nautical units have it
    (&["cable", "cables"], NAUTICAL_MILE_M / 10.0),
    (&["m", "metre", "metres", "meter", "meters"], 1.0),
    (&["cm", "centimetre", "centimetres", "centimeter", "centimeters"], 0.01),
    (&["mm", "millimetre", "millimetres", "millimeter", "millimeters"], 0.001),
    (&["km", "kilometre", "kilometres", "kilometer", "kilometers"], 1000.0),
    (&["ft", "foot", "feet"], FOOT_M),
    (&["in", "inch", "inches"], INCH_M),
    (&["yd", "yard", "yards"], YARD_M),
    (&["nm", "nmi", "nautical mile", "nautical miles"], NAUTICAL_MILE_M),
    (&["mi", "statute mile", "statute miles"], STATUTE_MILE_M),
];

/// In metres an hour, of which every one of them is a whole number or has three places.
const SPEEDS: [Unit; 4] = [
    (&["kn", "kt", "kts", "knot", "knots"], NAUTICAL_MILE_M),
    (&["mph", "mi/h"], STATUTE_MILE_M),
    (&["m/s", "mps"], 3600.0),
    (&["km/h", "kmh", "kph"], 1000.0),
];

const HOURS: [Unit; 2] = [(&["h", "hour", "hours"], 1.0), (&["min", "minute", "minutes"], 1.0 / 60.0)];

const DEGREES: [Unit; 1] = [(&["°", "deg", "degree", "degrees"], 1.0)];

/// A sort of quantity.
struct Sort {
    units: &'static [Unit],
    /// What an example has: "30 ft".
    example: &'static str,
    /// How two of them are written: "such as 12cm or 4in".
    such_as: &'static str,
    /// What may mean two things, and how it is written instead.
    ambiguous: &'static [(&'static [&'static str], &'static str)],
}

const LENGTH: Sort = Sort {
    units: &LENGTHS,
    example: "m, cm, mm, km, ft, in, yd, nm (nautical miles), cables and mi (statute miles), as in 30ft",
    such_as: "such as 12cm or 4in",
    ambiguous: &[
        (
            &["M", "mile", "miles"],
            "may be nautical or statute miles: write nm for nautical miles, mi for statute miles, m for metres",
        ),
        (&["'", "’", "′"], "may be feet or minutes: write ft for feet"),
        (&["\"", "”", "″", "''"], "may be inches or seconds: write in for inches"),
    ],
};

const SPEED: Sort = Sort {
    units: &SPEEDS,
    example: "kn, mph, m/s and km/h, as in 8mph",
    such_as: "such as 8mph or 7kn",
    ambiguous: &[(&["m", "M", "km", "k"], "is not a speed, or not plainly one: write kn, mph, m/s or km/h")],
};

const TIME: Sort = Sort {
    units: &HOURS,
    example: "h and min, as in 6h",
    such_as: "such as 6h or 90min",
    ambiguous: &[(&["m", "M"], "may be minutes or months: write min")],
};

const ANGLE: Sort =
    Sort { units: &DEGREES, example: "° and deg", such_as: "such as 43.5deg", ambiguous: &[] };

/// Reads a number, and says in plain words why a text is none.
pub(crate) fn number(text: &str) -> Result<f64, String> {
    refuse_endless(text)?;
    if let Some(number) = plain(text) {
        return Ok(number);
    }
    let (figure, unit) = figure_and_unit(text);
    match (plain(figure), unit) {
        (Some(_), unit) if !unit.is_empty() => Err(format!("write {figure}, without a unit")),
        _ => Err(not_a_number(figure)),
    }
}

/// Reads a length in metres: a bare number is metres.
pub(crate) fn metres(text: &str) -> Result<f64, String> {
    quantity(text, &LENGTH, "m")
}

/// As [`metres`], and above zero.
pub(crate) fn metres_above_zero(text: &str) -> Result<f64, String> {
    positive(metres(text)?)
}

/// A longer fish than this is a slip of the pen or of the unit, in centimetres (common practice, no source).
const LONGEST_FISH_CM: f64 = 500.0;

/// Reads the length of a fish in centimetres, above zero: a bare number is centimetres.
pub(crate) fn fish_length_cm(text: &str) -> Result<f64, String> {
    let length_cm = positive(quantity(text, &LENGTH, "cm")?)?;
    if length_cm > LONGEST_FISH_CM {
        return Err(format!(
            "that would be {:.0} m: is that the fish? Write its length as 42cm or 16in",
            length_cm / 100.0
        ));
    }
    Ok(length_cm)
}

/// The shortest way to write the unit that a word is, if it is one of length, speed or time.
pub(crate) fn unit(word: &str) -> Option<&'static str> {
    let lower = word.to_lowercase();
    let units = LENGTHS.iter().chain(&SPEEDS).chain(&HOURS);
    let found = units.map(|(names, _)| names).find(|names| names.contains(&lower.as_str()));
    found.and_then(|names| names.first().copied())
}

/// Reads a speed in knots, above zero: a bare number is knots.
pub(crate) fn knots_above_zero(text: &str) -> Result<f64, String> {
    positive(quantity(text, &SPEED, "kn")?)
}

/// Reads a time in hours: a bare number is hours.
pub(crate) fn hours(text: &str) -> Result<f64, String> {
    quantity(text, &TIME, "h")
}

/// Reads an angle in degrees.
pub(crate) fn degrees(text: &str) -> Result<f64, String> {
    quantity(text, &ANGLE, "°")
}

/// As [`degrees`], and above zero.
pub(crate) fn degrees_above_zero(text: &str) -> Result<f64, String> {
    positive(degrees(text)?)
}

/// The points of the compass, from north by 22.5°.
const POINTS: [&str; 16] =
    ["N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"];

/// Reads a heading in degrees true, 0 to 360; what else a heading is given in is told how to write it.
pub(crate) fn heading(text: &str) -> Result<f64, String> {
    let upper = text.trim().to_uppercase();
    let point = POINTS.iter().zip(0_u16..).find(|(name, _)| **name == upper);
    if let Some((_, number)) = point {
        let degrees = f64::from(number) * 22.5;
        return Err(format!("a point of the compass: write degrees true, {degrees}"));
    }
    let (_, unit) = figure_and_unit(&upper);
    let north = unit.trim_start_matches('°').trim();
    if matches!(north, "M" | "MAG" | "MAGNETIC" | "DEG M" | "DEG MAGNETIC") {
        return Err("a magnetic heading, and degrees true are wanted: add the variation if it is east, take it off if it \
                    is west; `takeline transit check` tells what it is here"
            .to_owned());
    }
    let is_true = matches!(north, "T" | "TRUE" | "DEG T" | "DEG TRUE");
    let bare = if is_true { upper.trim_end_matches(unit) } else { text };
    let degrees = degrees(bare).map_err(|reason| match reason.strip_prefix(NO_NUMBER) {
        Some(_) => "not a heading: write degrees true, such as 270".to_owned(),
        None => reason,
    })?;
    if (0.0..=360.0).contains(&degrees) {
        return Ok(degrees);
    }
    Err("not a heading: write degrees true, 0 to 360".to_owned())
}

/// Reads a number above zero.
pub(crate) fn above_zero(text: &str) -> Result<f64, String> {
    positive(number(text)?)
}

/// Reads a whole number from `least` to `most`.
pub(crate) fn whole(text: &str, (least, most): (u32, u32)) -> Result<u32, String> {
    let found = text.trim().parse::<u32>().ok().filter(|count| (least..=most).contains(count));
    found.ok_or_else(|| format!("write a whole number from {least} to {most}"))
}

/// Reads how many there are of something, at least one.
pub(crate) fn count(text: &str) -> Result<NonZero<usize>, String> {
    let found = whole(text, (1, 1_000_000))?;
    Ok(usize::try_from(found).ok().and_then(NonZero::new).unwrap_or(NonZero::<usize>::MIN))
}

fn positive(number: f64) -> Result<f64, String> {
    if number.is_finite() && number > 0.0 { Ok(number) } else { Err("has to be above zero".into()) }
}

fn plain(text: &str) -> Option<f64> {
    text.trim().parse().ok().filter(|number: &f64| number.is_finite())
}

/// Refuses what reads as a number and is none that anything has: nan, inf, 1e999.
fn refuse_endless(text: &str) -> Result<(), String> {
    let is_endless = text.trim().parse().is_ok_and(|number: f64| !number.is_finite());
    if is_endless { Err("not a finite number: write it in figures, as in 12.5".to_owned()) } else { Ok(()) }
}

/// The text up to its last digit, and what stands after that.
fn figure_and_unit(text: &str) -> (&str, &str) {
    let text = text.trim();
    let is_of_figure = |letter: char| letter.is_ascii_digit() || letter == '.';
    let end = text.rfind(is_of_figure).map_or(0, |at| at + 1);
    let (figure, unit) = text.split_at(end);
    (figure, unit.trim())
}

/// That a text is no number at all.
const NO_NUMBER: &str = "not a number";

fn not_a_number(figure: &str) -> String {
    let groups: Vec<&str> = figure.trim_start_matches(['-', '+']).split(',').collect();
    let is_digits = |group: &&str| !group.is_empty() && group.bytes().all(|byte| byte.is_ascii_digit());
    if let [whole, rest @ ..] = groups.as_slice()
        && !rest.is_empty()
        && groups.iter().all(is_digits)
    {
        let is_thousands = whole.len() <= 3 && *whole != "0" && rest.iter().all(|group| group.len() == 3);
        let joined = figure.replace(',', "");
        if is_thousands {
            return match rest {
                [part] => {
                    format!("a comma may be read in two ways: write {joined}, or {whole}.{part} with a point")
                }
                _ => format!("write {joined}, without commas"),
            };
        }
        if let [part] = rest {
            let sign = if figure.starts_with('-') { "-" } else { "" };
            return format!("write {sign}{whole}.{part}, with a point");
        }
    }
    NO_NUMBER.to_owned()
}

/// Reads a quantity in the unit that is written `base`.
fn quantity(text: &str, sort: &Sort, base: &str) -> Result<f64, String> {
    refuse_endless(text)?;
    if let Some(number) = plain(text) {
        return Ok(number);
    }
    let (figure, written) = figure_and_unit(text);
    let Some(number) = plain(figure) else {
        let reason = not_a_number(figure);
        return Err(if reason == NO_NUMBER {
            format!("{NO_NUMBER}: write it with its unit, {}", sort.such_as)
        } else {
            reason
        });
    };
    if let Some((_, mend)) = sort.ambiguous.iter().find(|(units, _)| units.contains(&written)) {
        return Err(format!("{written} {mend}"));
    }
    let lower = written.to_lowercase();
    // a capital M before a unit makes a million of it, and nobody means that
    if lower == "mm" && written != "mm" {
        return Err(format!(
            "{written} is not a unit here: write mm for millimetres, m for metres or nm for nautical miles"
        ));
    }
    let one = |name: &str| {
        let found = sort.units.iter().find(|(names, _)| names.contains(&name));
        found.map(|(_, size)| *size)
    };
    let size = one(&lower)
        .ok_or_else(|| format!("the unit “{written}” is not known: known are {}", sort.example))?;
    let size_of_base = one(base).unwrap_or(1.0);
    Ok(converted(number, size, size_of_base))
}

/// Converts, without the last digits that conversion makes up: 0.29 m is 29 cm, and not a hair less.
fn converted(number: f64, size: f64, size_of_base: f64) -> f64 {
    const KEPT: f64 = 1e9;
    if size.to_bits() == size_of_base.to_bits() {
        return number;
    }
    let converted = number * (size / size_of_base);
    let rounded = (converted * KEPT).round() / KEPT;
    // a very large number has no such places, a very small one no others
    if rounded.is_finite() && converted.abs() > 1e-3 { rounded } else { converted }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The foot of 0.3048 m, the inch of 2.54 cm, the yard of 0.9144 m and the mile of 1609.344 m: NIST Special Publication 811
    /// (2008), appendix B.8. The nautical mile of 1852 m: the same, and the SI Brochure, 8th edition, table 8.
    #[test]
    fn each_unit_is_what_its_definition_says() {
        for (text, metres_) in [
            ("10", 10.0),
            ("10 m", 10.0),
            ("10m", 10.0),
            ("30ft", 9.144),
            ("1 foot", 0.3048),
            ("4in", 0.1016),
            ("0.5nm", 926.0),
            ("1NM", 1852.0),
            ("2.5 cables", 463.0),
            ("2 nautical miles", 3704.0),
            ("1mi", 1609.344),
            ("100 yards", 91.44),
            ("12cm", 0.12),
            ("1.5 km", 1500.0),
            ("-3 ft", -0.9144),
            ("1e2m", 100.0),
        ] {
            assert_eq!(metres(text), Ok(metres_), "{text}");
        }
        for (text, cm) in [("30", 30.0), ("4in", 10.16), ("0.29 m", 29.0), ("290mm", 29.0), ("1ft", 30.48)] {
            assert_eq!(fish_length_cm(text), Ok(cm), "{text}");
        }
        for (text, knots) in [("12", 12.0), ("12kn", 12.0), ("1852m/s", 3600.0), ("18.52 km/h", 10.0)] {
            assert_eq!(knots_above_zero(text), Ok(knots), "{text}");
        }
        // 8 miles an hour of 1609.344 m: 8 × 1609.344 ÷ 1852 = 6.951 809 935…
        assert!((knots_above_zero("8mph").unwrap() - 6.951_809_935_2).abs() < 1e-9);
        assert_eq!(hours("90 min"), Ok(1.5));
        assert_eq!(degrees("43.5°"), Ok(43.5));
    }

    #[test]
    fn a_heading_is_in_degrees_true_and_whatever_else_is_told_how_to_write_it() {
        for text in ["270", "270°", "270 deg", "270T", "270 true", "270° T", "270.0"] {
            assert_eq!(heading(text), Ok(270.0), "{text}");
        }
        for (text, mend) in [
            ("270 magnetic", "add the variation if it is east"),
            ("270M", "add the variation if it is east"),
            ("270°m", "add the variation if it is east"),
            ("NW", "write degrees true, 315"),
            ("sse", "write degrees true, 157.5"),
            ("north", "write degrees true, such as 270"),
            ("361", "degrees true, 0 to 360"),
            ("-10", "degrees true, 0 to 360"),
            ("27,5", "write 27.5, with a point"),
        ] {
            let reason = heading(text).unwrap_err();
            assert!(reason.contains(mend), "{text}: {reason}");
        }
    }

    #[test]
    fn what_may_mean_two_things_is_refused_with_how_to_write_it() {
        for (text, mend) in [
            ("0.1M", "write nm"),
            ("1 mile", "mi for statute miles"),
            ("6'", "write ft"),
            ("4\"", "write in"),
            ("4″", "write in"),
            ("10 chains", "“chains” is not known: known are m, cm"),
            ("600MM", "write mm for millimetres"),
            ("600Mm", "write mm for millimetres"),
            ("5ft 10in", "not a number: write it with its unit, such as 12cm or 4in"),
            ("5,5m", "write 5.5, with a point"),
            ("1,500m", "write 1500, or 1.500"),
            ("1,500,000", "write 1500000"),
            ("inf", "not a finite number"),
            ("1e999", "not a finite number"),
            ("nan m", "not a number"),
            ("", "not a number"),
            ("m", "not a number"),
            ("ten", "not a number"),
        ] {
            let reason = metres(text).unwrap_err();
            assert!(reason.contains(mend), "{text}: {reason}");
        }
        assert!(knots_above_zero("8m").unwrap_err().contains("write kn, mph, m/s or km/h"));
        assert!(knots_above_zero("0kn").unwrap_err().contains("above zero"));
        assert!(number("5m").unwrap_err().contains("write 5, without a unit"));
    }
}
