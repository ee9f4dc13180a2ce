//! Numbers as people read them, in the units that they asked for, and never more digits than the doubt allows.
//!
//! This is the one place where a number gets its unit. Number and unit hold together by a no-break space, which
//! [`crate::lines`] turns into a plain one after wrapping; what becomes part of a sentence of [`crate::words`] has a plain one at
//! once, see [`plain`].
//!
//! A figure and its doubt are rounded to one step, in one unit, so that what is shown never reads as the reverse of what is so:
//! a distance below its doubt is never shown above it. Only in metric units a distance of 10 km and more stands in kilometres
//! beside a doubt in metres.

use takeline::{Metres, NauticalMiles, Position};

/// The units of lengths, speeds and areas that people are shown. JSON, CSV and GeoJSON have metres, knots and square metres,
/// whatever these are.
///
/// The foot is the international one, 0.3048 m exactly, the yard three of them, the mile the statute mile of 1760 yards, and the
/// acre 4840 square yards (international yard and pound agreement of 1959; NIST SP 811, 2008, appendix B.6). A cable is a tenth of
/// a nautical mile, which is 1852 m exactly.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[non_exhaustive]
pub enum Units {
    /// Metres and kilometres, knots, square metres and hectares.
    #[default]
    Metric,
    /// Metres below a cable, cables below a nautical mile, nautical miles (`nm`) above; knots. Areas are metric below a square
    /// nautical mile.
    Nautical,
    /// Feet below 1000, yards below a statute mile, miles above; miles an hour; square feet and acres.
    Us,
}

/// A unit of length.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Unit {
    Metre,
    Cable,
    NauticalMile,
    Foot,
    Yard,
    Mile,
}

const FOOT_M: f64 = 0.3048;
const YARD_M: f64 = 3.0 * FOOT_M;
const MILE_M: f64 = 1760.0 * YARD_M;
const CABLE_M: f64 = NauticalMiles::METRES / 10.0;
const ACRE_M2: f64 = 4840.0 * YARD_M * YARD_M;
const HECTARE_M2: f64 = 10_000.0;
const INCH_CM: f64 = 2.54;
/// What arithmetic leaves on a whole step, which is no reason to round up or down by one more, in metres.
const ROUNDING_NOISE_M: f64 = 1e-6;

impl Unit {
    /// The unit for lengths of which the largest is so long.
    fn of(units: Units, largest_m: f64) -> Self {
        let ladder: &[(f64, Self)] = match units {
            Units::Metric => &[],
            Units::Nautical => &[(NauticalMiles::METRES, Self::NauticalMile), (CABLE_M, Self::Cable)],
            Units::Us => &[(MILE_M, Self::Mile), (1000.0 * FOOT_M, Self::Yard), (0.0, Self::Foot)],
        };
        let from = |(least_m, _): &&(f64, Self)| largest_m.abs() >= *least_m;
        let least = if units == Units::Us { Self::Foot } else { Self::Metre };
        ladder.iter().find(from).map_or(least, |(_, unit)| *unit)
    }

    const fn metres(self) -> f64 {
        match self {
            Self::Metre => 1.0,
            Self::Cable => CABLE_M,
            Self::NauticalMile => NauticalMiles::METRES,
            Self::Foot => FOOT_M,
            Self::Yard => YARD_M,
            Self::Mile => MILE_M,
        }
    }

    const fn symbol(self) -> &'static str {
        match self {
            Self::Metre => "m",
            Self::Cable => "cables",
            // the brochure of the SI and charts write M, which reads as a metre or a mile; people write and type nm
            Self::NauticalMile => "nm",
            Self::Foot => "ft",
            Self::Yard => "yd",
            Self::Mile => "mi",
        }
    }

    /// The least step shown where the largest length is so many of this unit.
    fn least_step(self, largest: f64) -> f64 {
        match self {
            Self::Metre | Self::Foot | Self::Yard => 1.0,
            Self::NauticalMile | Self::Mile if largest >= 100.0 => 1.0,
            Self::NauticalMile | Self::Mile if largest >= 10.0 => 0.1,
            Self::Cable | Self::NauticalMile | Self::Mile => 0.01,
        }
    }
}

/// Which way a figure is rounded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Rounding {
    Nearest,
    Up,
    Down,
}

/// A unit, and the step of it that figures are rounded to.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Scale {
    unit: Unit,
    step: f64,
}

impl Scale {
    /// The scale for lengths up to this one that have this doubt: two digits of the doubt, and never below the least step.
    fn of(units: Units, largest_m: f64, doubt_m: f64) -> Self {
        let unit = Unit::of(units, largest_m);
        let doubt = doubt_m.abs() / unit.metres();
        let two_digits =
            if doubt > 0.0 && doubt.is_finite() { 10_f64.powf(doubt.log10().floor() - 1.0) } else { 0.0 };
        Self { unit, step: two_digits.max(unit.least_step(largest_m.abs() / unit.metres())) }
    }

    /// The scale for tenths of metres and feet, for what is short.
    const fn tenths(unit: Unit) -> Self {
        Self { unit, step: 0.1 }
    }

    fn step_m(self) -> f64 {
        self.step * self.unit.metres()
    }

    /// How many steps a length is.
    fn steps(self, length_m: f64, rounding: Rounding) -> f64 {
        let (length_m, step_m) = (length_m.abs(), self.step_m());
        match rounding {
            Rounding::Nearest => (length_m / step_m).round(),
            Rounding::Up => ((length_m - ROUNDING_NOISE_M) / step_m).ceil().max(0.0),
            Rounding::Down => ((length_m + ROUNDING_NOISE_M) / step_m).floor(),
        }
    }

    /// Writes a length without its sign.
    fn write(self, length_m: f64, rounding: Rounding) -> String {
        let decimals = if self.step > 0.5 {
            0
        } else if self.step > 0.05 {
            1
        } else {
            2
        };
        let value = self.steps(length_m, rounding) * self.step;
        format!("{value:.decimals$}\u{a0}{}", self.unit.symbol())
    }

    /// Writes a doubt, at least one step of it.
    fn write_doubt(self, doubt_m: f64, rounding: Rounding) -> String {
        self.write(doubt_m.abs().max(self.step_m()), rounding)
    }
}

/// The step that figures with this doubt are rounded to, in metres: two digits of the doubt, and never below 1 m.
fn step_m(doubt_m: f64) -> f64 {
    10_f64.powf(doubt_m.abs().max(1.0).log10().floor() - 1.0).max(1.0)
}

/// Writes a length rounded to `step_m`; kilometres from 10 km on, and whole ones from 100 km on.
fn rounded(length_m: f64, step_m: f64) -> String {
    let whole = (length_m / step_m).round() * step_m;
    if whole < 10_000.0 {
        return format!("{whole:.0}\u{a0}m");
    }
    let decimals = usize::from(step_m < 1000.0 && whole < 100_000.0);
    format!("{:.decimals$}\u{a0}km", whole / 1000.0)
}

/// With plain spaces, for the sentences of [`crate::words`].
pub(crate) fn plain(figure: &str) -> String {
    figure.replace('\u{a0}', " ")
}

/// Writes a distance without its sign, as exactly as `doubt` allows: `38 m`, `1240 m`, `12.4 km`.
///
/// The unit is that of [`doubt_of`] for the same two.
pub(crate) fn distance(units: Units, length: Metres, doubt: Metres) -> String {
    distance_beside(units, length, doubt, length)
}

/// Writes a margin as exactly as `doubt` allows, and never more than it is.
pub(crate) fn margin(units: Units, margin: Metres, doubt: Metres) -> String {
    let (margin_m, doubt_m) = (margin.metres().max(0.0), doubt.metres());
    if units == Units::Metric {
        let step_m = step_m(doubt_m);
        return rounded((margin_m / step_m).floor() * step_m, step_m);
    }
    Scale::of(units, margin_m.max(doubt_m.abs()), doubt_m).write(margin_m, Rounding::Down)
}

/// Writes a distance as [`distance`] does, in the unit of a longer one that stands beside it.
pub(crate) fn distance_beside(units: Units, length: Metres, doubt: Metres, longest: Metres) -> String {
    let (length_m, doubt_m) = (length.metres(), doubt.metres());
    if units == Units::Metric {
        return rounded(length_m.abs(), step_m(doubt_m));
    }
    let largest_m = longest.metres().abs().max(length_m.abs()).max(doubt_m.abs());
    Scale::of(units, largest_m, doubt_m).write(length_m, Rounding::Nearest)
}

/// Writes a 95 % doubt that stands alone: `±10 m`, and at least one step of what is shown.
pub(crate) fn doubt(units: Units, doubt: Metres) -> String {
    doubt_of(units, doubt, doubt)
}

/// Writes the 95 % doubt of a length that is shown beside it, in its unit: `±10 m`, and at least one step.
pub(crate) fn doubt_of(units: Units, length: Metres, doubt: Metres) -> String {
    let (length_m, doubt_m) = (length.metres(), doubt.metres());
    if units == Units::Metric {
        return format!("±{}", rounded(doubt_m.max(1.0), step_m(doubt_m)));
    }
    let scale = Scale::of(units, length_m.abs().max(doubt_m.abs()), doubt_m);
    format!("±{}", scale.write_doubt(doubt_m, Rounding::Nearest))
}

/// Writes a distance without its sign beside its doubt: `38 m ±10 m`; a longer unit stands there once: `2.12 ±0.05 cables`.
pub(crate) fn distance_with_doubt(units: Units, length: Metres, uncertainty: Metres) -> String {
    let (distance, doubt) = (distance(units, length, uncertainty), doubt_of(units, length, uncertainty));
    let shared = [Unit::Cable, Unit::NauticalMile, Unit::Yard, Unit::Mile].into_iter().find_map(|unit| {
        let number = distance.strip_suffix(unit.symbol())?.strip_suffix('\u{a0}')?;
        doubt.ends_with(unit.symbol()).then_some(number)
    });
    format!("{} {doubt}", shared.unwrap_or(&distance))
}

/// Writes how far to go, rounded up so that the move is never too short.
pub(crate) fn move_length(units: Units, length: Metres) -> String {
    let length_m = length.metres();
    if units == Units::Metric {
        let whole_m = (length_m - ROUNDING_NOISE_M).ceil().max(0.0);
        let step_m = if whole_m < 10_000.0 {
            1.0
        } else if whole_m < 100_000.0 {
            100.0
        } else {
            1000.0
        };
        return rounded((whole_m / step_m).ceil() * step_m, 1.0);
    }
    Scale::of(units, length_m, 0.0).write(length_m, Rounding::Up)
}

/// Writes a short length, to a tenth below ten of its unit: what the eye sees can be finer than a fix.
pub(crate) fn short_length(units: Units, length: Metres) -> String {
    short(units, length.metres().abs()).unwrap_or_else(|| distance(units, length, Metres::ZERO))
}

/// A tenth of a metre or a foot; none from ten of them on.
fn short(units: Units, length_m: f64) -> Option<String> {
    let unit = Unit::of(units, 0.0);
    let value = length_m / unit.metres();
    (value < 9.95).then(|| format!("{}\u{a0}{}", tenths(value), unit.symbol()))
}

/// Writes a short length with its doubt in the same unit, to the same tenths or wholes: `2.4 m`, `±1.2 m`.
///
/// Metric figures have a tenth below ten metres, each for itself.
pub(crate) fn short_with_doubt(units: Units, length: Metres, doubt: Metres) -> [String; 2] {
    if units == Units::Metric {
        return [short_length(units, length), format!("±{}", short_length(units, doubt))];
    }
    let (length_m, doubt_m) = (length.metres().abs(), doubt.metres().abs());
    let largest_m = length_m.max(doubt_m);
    let unit = Unit::of(units, largest_m);
    let is_short = matches!(unit, Unit::Metre | Unit::Foot) && largest_m / unit.metres() < 9.95;
    let scale = if is_short { Scale::tenths(unit) } else { Scale::of(units, largest_m, doubt_m) };
    [scale.write(length_m, Rounding::Nearest), format!("±{}", scale.write_doubt(doubt_m, Rounding::Nearest))]
}

/// Writes a height in a sentence, or what each unit of dilution stands for, as it was given: `2.5 m`, `8.2 ft`. Heights are no
/// cables.
pub(crate) fn height(units: Units, height_m: f64) -> String {
    if units == Units::Us { format!("{} ft", tenths(height_m / FOOT_M)) } else { format!("{height_m} m") }
}

/// Writes the height of a mark over the water, in whole metres or feet, below ten to a tenth where `finely`.
pub(crate) fn mark_height(units: Units, height: Metres, finely: bool) -> String {
    let units = if units == Units::Nautical { Units::Metric } else { units };
    if units == Units::Us && height.metres() >= 1000.0 * FOOT_M {
        return Scale { unit: Unit::Foot, step: 1.0 }.write(height.metres(), Rounding::Nearest);
    }
    if finely { short_length(units, height) } else { distance(units, height, Metres::ZERO) }
}

/// Writes metres or feet to a tenth, whole ones too: `5.0 m`, `16.4 ft`.
pub(crate) fn tenth(units: Units, length_m: f64) -> String {
    Scale::tenths(Unit::of(units, 0.0)).write(length_m, Rounding::Nearest)
}

/// The short unit for what is told for each of it, in metres, and its name: a metre, or a foot.
pub(crate) fn short_unit(units: Units) -> (f64, &'static str) {
    if units == Units::Us { (FOOT_M, "foot") } else { (1.0, "metre") }
}

/// The unit for the axis of a plot over so many metres: its length in metres, and its name in the plural.
pub(crate) fn axis_unit(units: Units, range_m: f64) -> (f64, &'static str) {
    match units {
        Units::Metric => (1.0, "Metres"),
        Units::Nautical if range_m < 10.0 * CABLE_M => (1.0, "Metres"),
        Units::Nautical => (CABLE_M, "Cables"),
        Units::Us if range_m < 3.0 * MILE_M => (FOOT_M, "Feet"),
        Units::Us => (YARD_M, "Yards"),
    }
}

/// The two scale bars of a map: the longest round lengths that are no longer than this one, in metres, with their labels.
pub(crate) fn scale_bars(units: Units, widest_m: f64) -> [(f64, String); 2] {
    let miles = |symbol: &str| {
        let miles = round_length(widest_m / NauticalMiles::METRES);
        (miles * NauticalMiles::METRES, format!("{} {symbol}", trimmed(miles)))
    };
    let of = |unit: Unit| {
        let count = round_length(widest_m / unit.metres());
        (count * unit.metres(), format!("{} {}", trimmed(count), unit.symbol()))
    };
    let metres = || {
        let metres = round_length(widest_m);
        let label = if metres >= 10_000.0 {
            format!("{:.0} km", metres / 1000.0)
        } else {
            format!("{} m", trimmed(metres))
        };
        (metres, label)
    };
    match units {
        Units::Metric => [metres(), miles(Unit::NauticalMile.symbol())],
        Units::Nautical => {
            [if widest_m < CABLE_M { metres() } else { of(Unit::Cable) }, miles(Unit::NauticalMile.symbol())]
        }
        Units::Us => [of(if widest_m < MILE_M / 2.0 { Unit::Foot } else { Unit::Yard }), of(Unit::Mile)],
    }
}

/// The longest round length (1, 2 or 5 times a power of ten) that is not longer than `most`.
pub(crate) fn round_length(most: f64) -> f64 {
    let power = 10_f64.powf(most.log10().floor());
    [5.0, 2.0].into_iter().map(|step| step * power).find(|length| *length <= most).unwrap_or(power)
}

/// A round number without trailing zeros.
fn trimmed(value: f64) -> String {
    let text = format!("{value:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

/// Writes a number to a tenth, whole ones without the zero.
fn tenths(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or_else(|| text.clone(), str::to_owned)
}

// lengths in sentences, with plain spaces; one that is none is written as well

/// Writes a length in a sentence, in metric units in whole metres however long.
pub(crate) fn whole(units: Units, length_m: f64) -> String {
    sentence(units, length_m, Rounding::Nearest)
}

/// The same, rounded up.
pub(crate) fn whole_up(units: Units, length_m: f64) -> String {
    sentence(units, length_m, Rounding::Up)
}

fn sentence(units: Units, length_m: f64, rounding: Rounding) -> String {
    if units == Units::Metric {
        let whole_m = match rounding {
            Rounding::Nearest => length_m,
            Rounding::Up => length_m.ceil(),
            Rounding::Down => length_m.floor(),
        };
        return format!("{whole_m:.0} m");
    }
    plain(&Scale::of(units, length_m, 0.0).write(length_m, rounding))
}

/// Writes in a sentence how far something may be off, rounded up to two digits; in metric units kilometres from 10 km on.
pub(crate) fn roughly_up(units: Units, length_m: f64) -> String {
    let unit = match units {
        Units::Metric if length_m < 10_000.0 => (1.0, "m"),
        Units::Metric => (1000.0, "km"),
        Units::Nautical | Units::Us => {
            let unit = Unit::of(units, length_m);
            (unit.metres(), unit.symbol())
        }
    };
    let (unit_m, symbol) = unit;
    let value = length_m.abs() / unit_m;
    if !value.is_finite() || value <= 0.0 {
        return whole_up(units, length_m);
    }
    // of less than ten metres or feet no part, of other units a tenth
    let least = if matches!(symbol, "m" | "ft" | "yd") { 1.0 } else { 0.1 };
    let step = 10_f64.powf(value.log10().floor() - 1.0).max(least);
    let rounded = (value / step - ROUNDING_NOISE_M).ceil() * step;
    let decimals = usize::from(step < 0.5);
    format!("{rounded:.decimals$} {symbol}")
}

/// Writes how far to go in a sentence, rounded up.
pub(crate) fn move_in_sentence(units: Units, length_m: f64) -> String {
    sentence(units, length_m - if units == Units::Metric { ROUNDING_NOISE_M } else { 0.0 }, Rounding::Up)
}

/// Writes how good something has to be at the worst, rounded down.
pub(crate) fn whole_down(units: Units, length_m: f64) -> String {
    sentence(units, length_m, Rounding::Down)
}

/// Writes a length in a sentence: in metric units whole metres, and kilometres with one digit from 10 km on.
pub(crate) fn length(units: Units, length_m: f64) -> String {
    if units != Units::Metric {
        return sentence(units, length_m, Rounding::Nearest);
    }
    if length_m.abs() < 9_999.5 { format!("{length_m:.0} m") } else { format!("{:.1} km", length_m / 1000.0) }
}

/// The same with one digit below ten metres or feet.
pub(crate) fn short_in_sentence(units: Units, length_m: f64) -> String {
    match short(units, length_m.abs()) {
        Some(_) if units == Units::Metric => format!("{length_m:.1} m"),
        Some(short) => plain(&short),
        None => length(units, length_m),
    }
}

/// Writes a short length with its doubt in a sentence, in one unit outside metric ones.
pub(crate) fn short_pair(units: Units, length_m: f64, doubt_m: f64) -> [String; 2] {
    if units == Units::Metric {
        return [short_in_sentence(units, length_m.abs()), short_in_sentence(units, doubt_m)];
    }
    let metres = |length_m: f64| Metres::new(length_m).unwrap_or(Metres::ZERO);
    short_with_doubt(units, metres(length_m), metres(doubt_m))
        .map(|figure| plain(figure.trim_start_matches('±')))
}

/// Writes a distance and its doubt, which is rounded up, in a sentence and in one unit.
pub(crate) fn with_doubt_up(units: Units, length_m: f64, doubt_m: f64) -> [String; 2] {
    let length_m = length_m.abs();
    if units == Units::Metric {
        return [whole(units, length_m), whole_up(units, doubt_m)];
    }
    let scale = Scale::of(units, length_m.max(doubt_m.abs()), doubt_m);
    [scale.write(length_m, Rounding::Nearest), scale.write_doubt(doubt_m, Rounding::Up)]
        .map(|figure| plain(&figure))
}

/// Whether a figure is shown as nothing.
pub(crate) fn is_nothing(figure: &str) -> bool {
    !figure.contains(|letter: char| matches!(letter, '1'..='9'))
}

/// Writes a distance and its doubt in a sentence, both to two digits of the doubt, in metric units in metres however far.
pub(crate) fn to_digits_of_doubt(units: Units, length_m: f64, doubt_m: f64) -> [String; 2] {
    if units == Units::Metric {
        let step_m = step_m(doubt_m);
        return [length_m, doubt_m]
            .map(|length_m| format!("{} m", (length_m.abs() / step_m).round() * step_m));
    }
    let scale = Scale::of(units, length_m.abs().max(doubt_m.abs()), doubt_m);
    [scale.write(length_m, Rounding::Nearest), scale.write_doubt(doubt_m, Rounding::Nearest)]
        .map(|figure| plain(&figure))
}

/// Writes a place on a line, as its distance from the front mark, in a sentence.
pub(crate) fn along(units: Units, distance_from_front_m: f64) -> String {
    let length_m = distance_from_front_m.abs();
    whole(units, if units == Units::Metric { length_m.round() } else { length_m })
}

/// Writes a doubt to two digits in a sentence.
pub(crate) fn two_digits(units: Units, doubt_m: f64) -> String {
    let [_, doubt] = to_digits_of_doubt(units, 0.0, doubt_m);
    doubt
}

/// Writes a long way in whole kilometres, nautical miles or miles.
pub(crate) fn far(units: Units, length_m: f64) -> String {
    let whole = |unit: Unit| plain(&Scale { unit, step: 1.0 }.write(length_m, Rounding::Nearest));
    match units {
        Units::Metric => format!("{:.0} km", length_m / 1000.0),
        Units::Nautical => whole(Unit::NauticalMile),
        Units::Us => whole(Unit::Mile),
    }
}

/// Writes a round number of kilometres that something is beyond or not within, in other units rounded down to stay true.
pub(crate) fn limit(units: Units, kilometres: f64) -> String {
    let length_m = kilometres * 1000.0;
    if units == Units::Metric {
        return format!("{kilometres:.0} km");
    }
    let scale = Scale::of(units, length_m, 0.0);
    let scale = if scale.unit == Unit::NauticalMile || scale.unit == Unit::Mile {
        Scale { step: 0.1, ..scale }
    } else {
        scale
    };
    plain(&scale.write(length_m, Rounding::Down))
}

/// The same with a no-break space.
pub(crate) fn held_limit(units: Units, kilometres: f64) -> String {
    limit(units, kilometres).replace(' ', "\u{a0}")
}

/// Writes a speed with one decimal: `2.6 kn`, `3.0 mph`.
pub(crate) fn speed(units: Units, speed_kn: f64) -> String {
    if units == Units::Us {
        return format!("{:.1}\u{a0}mph", miles_an_hour(speed_kn));
    }
    format!("{speed_kn:.1}\u{a0}kn")
}

/// Writes a speed that somebody may give, which is assumed: `12 kn`, `14 mph`.
pub(crate) fn assumed_speed(units: Units, speed_kn: f64) -> String {
    if units == Units::Us {
        format!("{:.0} mph", miles_an_hour(speed_kn))
    } else {
        format!("{speed_kn:.0} kn")
    }
}

/// Writes a round speed that something stays under: `1 kn`, `1.2 mph`.
pub(crate) fn speed_below(units: Units, speed_kn: f64) -> String {
    if units == Units::Us {
        return format!("{:.1} mph", up_to_a_tenth(miles_an_hour(speed_kn)));
    }
    format!("{speed_kn:.0} kn")
}

/// Writes the least speed that a law asks for, as the law has it, beside it what is surely enough in other units.
pub(crate) fn least_speed(units: Units, speed_kn: f64) -> String {
    if units == Units::Us {
        return format!("{speed_kn} kn ({:.1} mph)", up_to_a_tenth(miles_an_hour(speed_kn)));
    }
    format!("{speed_kn} kn")
}

fn miles_an_hour(speed_kn: f64) -> f64 {
    speed_kn * NauticalMiles::METRES / MILE_M
}

/// Up to a tenth, but for what arithmetic leaves.
fn up_to_a_tenth(value: f64) -> f64 {
    (value * 10.0 - 1e-9).ceil() / 10.0
}

fn down_to_a_tenth(value: f64) -> f64 {
    (value * 10.0 + 1e-9).floor() / 10.0
}

/// Writes the least and the most centimetres that a law allows, as the law has them, joined by `between` if there are both; in US
/// units the inches beside them lie within what is allowed: `8 cm (3.2 in)`.
pub(crate) fn fish_sizes(
    units: Units,
    min_cm: Option<f64>,
    max_cm: Option<f64>,
    between: &str,
) -> Option<String> {
    let least_in = min_cm.map(|cm| up_to_a_tenth(cm / INCH_CM));
    let most_in = max_cm.map(|cm| down_to_a_tenth(cm / INCH_CM));
    let range = |one: Option<String>, other: Option<String>| match (one, other) {
        (Some(one), Some(other)) => Some(format!("{one}{between}{other}")),
        (one, other) => one.or(other),
    };
    let in_law = range(min_cm.map(|cm| cm.to_string()), max_cm.map(|cm| cm.to_string()))?;
    // a range of less than a tenth of an inch has none within it
    let is_empty = least_in.zip(most_in).is_some_and(|(least, most)| least > most);
    let inches = |value: f64| format!("{value:.1}");
    match range(least_in.map(inches), most_in.map(inches)) {
        Some(inches) if units == Units::Us && !is_empty => Some(format!("{in_law} cm ({inches} in)")),
        _ => Some(format!("{in_law} cm")),
    }
}

/// The same in inches alone; none in units in which the law's centimetres are shown alone, or where no tenth of an inch is within
/// what is allowed.
pub(crate) fn fish_sizes_in_units(
    units: Units,
    min_cm: Option<f64>,
    max_cm: Option<f64>,
    between: &str,
) -> Option<String> {
    let both = fish_sizes(units, min_cm, max_cm, between)?;
    let (_, inches) = both.split_once(" (")?;
    inches.strip_suffix(')').map(str::to_owned)
}

/// Writes an area, given in square metres, in one unit and in a sentence: `4620 m²` below a hectare, `15 ha` above.
pub(crate) fn area(units: Units, area_m2: f64) -> String {
    const SQUARE_MILE_M2: f64 = NauticalMiles::METRES * NauticalMiles::METRES;
    const SQUARE_FOOT_M2: f64 = FOOT_M * FOOT_M;
    if !area_m2.is_finite() {
        return "not known".into();
    }
    if area_m2 <= 0.0 {
        return "none".into();
    }
    match units {
        Units::Nautical if area_m2 >= SQUARE_MILE_M2 => {
            let miles = area_m2 / SQUARE_MILE_M2;
            let decimals = if miles < 9.995 { 2 } else { usize::from(miles < 99.95) };
            format!("{miles:.decimals$} nm²")
        }
        Units::Metric | Units::Nautical => area_in(area_m2, (1.0, "m²"), (HECTARE_M2, "ha")),
        Units::Us => area_in(area_m2, (SQUARE_FOOT_M2, "sq ft"), (ACRE_M2, "acres")),
    }
}

/// Writes an area in the smaller unit below one of the larger.
fn area_in(area_m2: f64, (small_m2, small): (f64, &str), (large_m2, large): (f64, &str)) -> String {
    let (smaller, larger) = (area_m2 / small_m2, area_m2 / large_m2);
    if smaller < 1.0 {
        format!("less than 1 {small}")
    } else if three_digits(smaller) * small_m2 < large_m2 {
        format!("{:.0} {small}", three_digits(smaller))
    } else if larger < 9.95 {
        format!("{larger:.1} {large}")
    } else {
        format!("{:.0} {large}", three_digits(larger))
    }
}

fn three_digits(value: f64) -> f64 {
    let step = 10_f64.powf(value.log10().floor() - 2.0).max(1.0);
    (value / step).round() * step
}

/// Writes a position in degrees and thousandths of a minute (1.9 m): `45°07.092'N 030°07.302'W`.
pub(crate) fn position(position: Position) -> String {
    let latitude = minutes(position.latitude().degrees(), 2, ['N', 'S']);
    let longitude = minutes(position.longitude().degrees(), 3, ['E', 'W']);
    format!("{latitude} {longitude}")
}

fn minutes(degrees: f64, digits: usize, [positive, negative]: [char; 2]) -> String {
    // whole thousandths first, so that 59.9996' carries into the degrees and never prints as 60.000'
    let thousandths = (degrees.abs() * 60_000.0).round();
    let whole = (thousandths / 60_000.0).floor();
    let rest = (thousandths - whole * 60_000.0) / 1000.0;
    let hemisphere = if degrees < 0.0 { negative } else { positive };
    format!("{whole:0digits$.0}°{rest:06.3}'{hemisphere}")
}
