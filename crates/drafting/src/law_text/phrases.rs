//! Lengths, bearings, sides and statements in the words of a law.

use std::sync::LazyLock;

use regex::{Captures, Regex};

use super::line::{AreaUnit, Quantity, SideWords, Statement};

/// The first of the characters that stand where something was read that is no coordinate; they are for private use.
const FIRST_TAKEN: u32 = 0xE000;
/// No line holds more numbers than this.
const MOST_TAKEN: usize = 1000;

const NUMBER: &str = r"(?P<number>\d{1,3}(?:[, ]\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?|one half|half|one|two|three|four|five|six|ten|twelve)";

fn compiled(pattern: &str) -> Regex {
    #[expect(clippy::expect_used, reason = "the patterns are constants, and a test compiles each")]
    Regex::new(pattern).expect("a sound pattern")
}

static AREA: LazyLock<Regex> = LazyLock::new(|| {
    compiled(&format!(
        r"(?i)\b{NUMBER}[\s-]*(?P<unit>(?:square|sq\.?)\s*(?:nautical\s+miles?|kilomet(?:re|er)s?|met(?:re|er)s?|miles?|nm|nmi|km|mi|m)\b|km2\b|km²|nm2\b|nm²|nmi2\b|nmi²|m2\b|m²|hectares?\b|ha\b|acres?\b)"
    ))
});
static LENGTH: LazyLock<Regex> = LazyLock::new(|| {
    compiled(&format!(
        r"(?i)(?:\ba\s+)?\b{NUMBER}[\s-]*(?P<unit>nautical\s+miles?|sea\s+miles?|nmi|nm|n\.m\.|statute\s+miles?|miles?|kilomet(?:re|er)s?|km|met(?:re|er)s?|m|feet|ft|yards?)\b"
    ))
});
static BEARING: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\b(?P<number>\d{1,3}(?:\.\d+)?)\s*(?:°|º|degrees?|deg\.?)?\s*(?:\(?\s*(?P<kind>true|magnetic|t|mag)\b\s*\)?)",
    )
});
static BEARING_BEFORE: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\b(?:bearing(?:\s+of)?|thence(?:\s+on)?(?:\s+a\s+bearing\s+of)?)\s+(?P<number>\d{1,3}(?:\.\d+)?)\s*(?:°|º|degrees?|deg\.?)\s*(?P<after>\w+|$)",
    )
});
static DUE: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\b(?:due|true)\s+(?P<quarter>north|south|east|west)\b|\b(?P<quarter2>north|south|east|west)\s+true\b",
    )
});
static CORNERS: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\b(?P<number>\d{1,3}|three|four|five|six|seven|eight|nine|ten|eleven|twelve)\s+(?:\w+\s+)?(?:points|corners|vertices|positions|coordinates)\b",
    )
});
static DATUM: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\b(?:WGS[\s-]?(?:19)?84|NAD[\s-]?(?:19)?(?:83|27)|GDA[\s-]?(?:94|2020)|AGD[\s-]?(?:66|84)|ETRS[\s-]?(?:19)?89|ED[\s-]?(?:19)?50|OSGB[\s-]?(?:19)?36|NZGD[\s-]?(?:2000|49)|World Geodetic System(?: of)? 1984|North American Datum(?: of)? (?:1983|1927))",
    )
});
static APPROXIMATE: LazyLock<Regex> = LazyLock::new(|| {
    compiled(r"(?i)\b(approximately|approximate|approx\.?|generally|more or less|or thereby|about)\b")
});
static SHORE: LazyLock<Regex> = LazyLock::new(|| {
    compiled(
        r"(?i)\b(mean (?:high|low) water(?: springs?| mark| springs? mark| spring tides?)?|(?:high|low) water mark|mhwm?s?|mlwm?s?|surf ?line|shore ?line|coast ?line|mangrove line|shore|coast)\b",
    )
});

/// What the words of a stretch of text say.
#[derive(Debug, Default)]
pub(super) struct Said {
    /// The text, with a character for private use where numbers were read.
    pub(super) text: String,
    /// What these stand for.
    taken: Vec<String>,
    pub(super) side: SideWords,
    pub(super) statements: Vec<Statement>,
    /// A side that cannot be read, and why.
    pub(super) refused: Option<String>,
}

/// Whether a line holds a character that stands for something else here.
pub(super) fn is_for_private_use(one: char) -> bool {
    ('\u{E000}'..='\u{F8FF}').contains(&one)
}

/// Reads the words of a line, but not its positions.
pub(super) fn said(line: usize, text: &str) -> Said {
    let mut said = Said { text: text.to_owned(), ..Said::default() };
    said.side.line = line;
    said.side.bearing_step_deg = 1.0;
    said.statements(line);
    said.lengths();
    said.bearings();
    said.kinds();
    said
}

impl Said {
    fn take(&mut self, pattern: &Regex, mut read: impl FnMut(&mut SideWords, &Captures<'_>, &str) -> bool) {
        let before = self.text.clone();
        let (side, taken) = (&mut self.side, &mut self.taken);
        let replaced = pattern.replace_all(&before, |found: &Captures<'_>| {
            let whole = found.get(0).map_or("", |whole| whole.as_str());
            let after = found.get(0).map_or("", |whole| before.get(whole.end()..).unwrap_or_default());
            if taken.len() < MOST_TAKEN && read(side, found, after) {
                taken.push(whole.to_owned());
                let sign =
                    u32::try_from(taken.len() - 1).ok().and_then(|at| char::from_u32(FIRST_TAKEN + at));
                sign.unwrap_or('?').to_string()
            } else {
                whole.to_owned()
            }
        });
        self.text = replaced.into_owned();
    }

    /// A part of the text with everything in its place again.
    pub(super) fn expanded(&self, part: &str) -> String {
        let mut text = part.to_owned();
        // what was taken later may hold what was taken before
        for (at, taken) in self.taken.iter().enumerate().rev() {
            let sign = u32::try_from(at).ok().and_then(|at| char::from_u32(FIRST_TAKEN + at));
            text = sign.map_or(text.clone(), |sign| text.replace(sign, taken));
        }
        text
    }

    fn statements(&mut self, line: usize) {
        let mut found = Vec::new();
        self.take(&AREA, |_, area, _| {
            let Some((value, half)) = number(&area["number"]) else { return false };
            let unit = area_unit(&area["unit"]).square_metres();
            let text = area[0].to_owned();
            found.push(Statement::Area { line, text, m2: value * unit, half_digit_m2: half * unit });
            true
        });
        self.take(&DATUM, |_, name, _| {
            found.push(Statement::Datum { line, name: name[0].to_owned() });
            true
        });
        self.take(&CORNERS, |_, corners, _| {
            let Some((value, _)) = number(&corners["number"]) else { return false };
            #[expect(
                clippy::cast_possible_truncation,
                clippy::cast_sign_loss,
                reason = "at most three digits"
            )]
            found.push(Statement::Corners { line, count: value as usize });
            true
        });
        if let Some(word) = APPROXIMATE.find(&self.text) {
            found.push(Statement::Approximate { line, word: word.as_str().to_lowercase() });
        }
        self.statements = found;
    }

    fn lengths(&mut self) {
        let lower = self.text.to_lowercase();
        let is_round = lower.contains("radius") || lower.contains("diameter") || lower.contains("within");
        let is_diameter = lower.contains("diameter");
        self.take(&LENGTH, |side, length, after| {
            // 07.05 m N is minutes
            let is_minutes = length["unit"].eq_ignore_ascii_case("m")
                && after.trim_start().starts_with(|next: char| "NSEWnsew".contains(next));
            let Some(quantity) =
                quantity(length, if is_diameter { 0.5 } else { 1.0 }).filter(|_| !is_minutes)
            else {
                return false;
            };
            let slot = if is_round { &mut side.radius } else { &mut side.distance };
            slot.get_or_insert(quantity);
            true
        });
    }

    fn bearings(&mut self) {
        let mut is_magnetic = false;
        let read = |side: &mut SideWords, printed: &str| {
            let Some((degrees, half)) = number(printed).filter(|(degrees, _)| *degrees <= 360.0) else {
                return false;
            };
            side.bearing_deg = Some(degrees);
            side.bearing_step_deg = 2.0 * half;
            true
        };
        self.take(&BEARING, |side, bearing, _| {
            is_magnetic |= bearing["kind"].to_lowercase().starts_with('m');
            read(side, &bearing["number"])
        });
        self.take(&BEARING_BEFORE, |side, bearing, _| {
            // a coordinate follows its degrees with minutes or a hemisphere
            let after = bearing["after"].to_lowercase();
            let is_coordinate = after.starts_with(|next: char| next.is_ascii_digit())
                || matches!(&*after, "n" | "s" | "e" | "w" | "north" | "south" | "east" | "west");
            !is_coordinate && read(side, &bearing["number"])
        });
        self.take(&DUE, |side, due, _| {
            let quarter = due.name("quarter").or(due.name("quarter2")).map_or("", |found| found.as_str());
            let degrees = match &*quarter.to_lowercase() {
                "north" => 0.0,
                "east" => 90.0,
                "south" => 180.0,
                _ => 270.0,
            };
            side.bearing_deg = Some(degrees);
            side.rhumb = true;
            true
        });
        if is_magnetic {
            let text = "a magnetic bearing needs the year and the variation that the law means; write the true bearing";
            self.refused = Some(text.to_owned());
        }
    }

    fn kinds(&mut self) {
        let lower = self.text.to_lowercase();
        let has = |words: &[&str]| words.iter().any(|word| lower.contains(word));
        let side = &mut self.side;
        let has_parallel = has(&["along the parallel", "along a parallel", "parallel of latitude"]);
        let has_meridian = has(&["along the meridian", "along a meridian", "meridian of longitude"]);
        if has_parallel || has_meridian {
            side.parallel = Some(has_parallel);
            side.rhumb = true;
        }
        side.rhumb |= has(&["rhumb", "loxodrom"]);
        side.geodesic = has(&["geodesic", "great circle", "great-circle"]);
        side.arc = compiled_once_arc().is_match(&lower) && !has(&["straight line arc"]);
        side.circle = has(&["circle"]) && !side.arc && !side.geodesic;
        side.circle |= side.radius.is_some() && !side.arc;
        let anti = has(&["counterclockwise", "counter-clockwise", "anticlockwise", "anti-clockwise"]);
        side.clockwise = if anti { Some(false) } else { has(&["clockwise"]).then_some(true) };
        if has(&["along", "follow"]) && !has_parallel && !has_meridian {
            side.shore = SHORE.find(&self.text).map(|found| found.as_str().to_lowercase());
        }
    }
}

fn compiled_once_arc() -> &'static Regex {
    static ARC: LazyLock<Regex> = LazyLock::new(|| compiled(r"\barc\b|part of (?:a|the) circle"));
    &ARC
}

/// A number as printed, and half of its last digit.
fn number(text: &str) -> Option<(f64, f64)> {
    let word = match &*text.to_lowercase() {
        "one half" | "half" => Some(0.5),
        "one" => Some(1.0),
        "two" => Some(2.0),
        "three" => Some(3.0),
        "four" => Some(4.0),
        "five" => Some(5.0),
        "six" => Some(6.0),
        "seven" => Some(7.0),
        "eight" => Some(8.0),
        "nine" => Some(9.0),
        "ten" => Some(10.0),
        "eleven" => Some(11.0),
        "twelve" => Some(12.0),
        _ => None,
    };
    if let Some(value) = word {
        return Some((value, 0.0));
    }
    let plain: String = text.chars().filter(|one| !matches!(one, ',' | ' ')).collect();
    let decimals = plain.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let half = 0.5 * 10.0_f64.powi(-i32::try_from(decimals).ok()?);
    Some((plain.parse().ok()?, half))
}

fn quantity(found: &Captures<'_>, times: f64) -> Option<Quantity> {
    let (value, half) = number(&found["number"])?;
    let unit = found["unit"].to_lowercase();
    let metres = match unit.split_whitespace().next().unwrap_or_default() {
        "nautical" | "sea" | "nmi" | "nm" | "n.m." => 1852.0,
        "statute" | "mile" | "miles" => 1609.344,
        "feet" | "ft" => 0.3048,
        "yard" | "yards" => 0.9144,
        kilo if kilo.starts_with('k') => 1000.0,
        _ => 1.0,
    };
    let text = found[0].trim().to_owned();
    Some(Quantity { text, metres: value * metres * times, half_digit_m: half * metres * times })
}

fn area_unit(unit: &str) -> AreaUnit {
    let unit = unit.to_lowercase();
    if unit.contains("nautical") || unit.contains("nm") {
        AreaUnit::SquareNauticalMiles
    } else if unit.contains('k') {
        AreaUnit::SquareKilometres
    } else if unit.starts_with('h') {
        AreaUnit::Hectares
    } else if unit.starts_with('a') {
        AreaUnit::Acres
    } else if unit.contains("mi") {
        AreaUnit::SquareMiles
    } else {
        AreaUnit::SquareMetres
    }
}
