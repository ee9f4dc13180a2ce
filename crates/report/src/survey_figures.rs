//! Figures to be laid beside those of a law: lengths, areas and bearings in the units that laws print, positions in their notations.
//!
//! They have the digits that tell a slip from a rounding, not those that a fix deserves; so `--units` changes nothing here.

use takeline::{NauticalMiles, Position};

const HECTARE_M2: f64 = 1e4;
const SQUARE_KILOMETRE_M2: f64 = 1e6;
const SQUARE_MILE_M2: f64 = NauticalMiles::METRES * NauticalMiles::METRES;
/// A position is written with as many digits as bring it within this of itself, in degrees: 2 cm.
const NEAR_ENOUGH_DEG: f64 = 1.8e-7;

/// A length in metres and in nautical miles: `5432.1 m`, `2.933 nm`.
pub(crate) fn lengths(length_m: f64) -> [String; 2] {
    let decimals = usize::from(length_m < 100_000.0);
    [
        format!("{}\u{a0}m", grouped(length_m, decimals)),
        format!("{}\u{a0}nm", grouped(length_m / NauticalMiles::METRES, 3)),
    ]
}

/// An area in m², ha, km² and square nautical miles, each with the digits that tell a slip from a rounding.
pub(crate) fn areas(area_m2: f64) -> [String; 4] {
    let in_unit = |unit_m2: f64, symbol: &str| {
        let value = area_m2 / unit_m2;
        let decimals = if value >= 10_000.0 {
            0
        } else if value >= 100.0 {
            2
        } else if value >= 1.0 {
            4
        } else {
            6
        };
        format!("{}\u{a0}{symbol}", grouped(value, decimals))
    };
    [
        format!("{}\u{a0}m²", grouped(area_m2, 0)),
        in_unit(HECTARE_M2, "ha"),
        in_unit(SQUARE_KILOMETRE_M2, "km²"),
        in_unit(SQUARE_MILE_M2, "nm²"),
    ]
}

/// A true bearing from 0 up to 360 degrees, with three digits before the point: `090.00°`.
pub(crate) fn bearing(degrees: f64) -> String {
    let hundredths = (degrees * 100.0).round();
    let hundredths = if hundredths >= 36_000.0 { 0.0 } else { hundredths };
    format!("{:06.2}°", hundredths / 100.0)
}

/// Digits in groups of three, from 10 000 on.
fn grouped(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    let (whole, rest) = text.split_once('.').map_or((text.as_str(), ""), |(whole, rest)| (whole, rest));
    let mut digits = String::new();
    for (number, digit) in whole.chars().enumerate() {
        if number > 0 && whole.len() > 4 && (whole.len() - number).is_multiple_of(3) {
            digits.push('\u{a0}');
        }
        digits.push(digit);
    }
    if rest.is_empty() { digits } else { format!("{digits}.{rest}") }
}

/// How positions are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Notation {
    /// Decimal degrees: `45.11820°N`.
    DecimalDegrees,
    /// Degrees and decimal minutes: `45°07.092′N`.
    DecimalMinutes,
    /// Degrees, minutes and seconds: `45°07′05.5″N`.
    Seconds,
}

/// A notation with as many decimals as a list of positions needs, the same for all of them: columns are compared by eye.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Printed {
    notation: Notation,
    decimals: usize,
}

impl Notation {
    /// Least and most decimals.
    const fn decimals(self) -> (usize, usize) {
        match self {
            Self::DecimalDegrees => (4, 7),
            Self::DecimalMinutes => (2, 5),
            Self::Seconds => (0, 3),
        }
    }

    /// How many of its smallest unit make a degree.
    const fn per_degree(self) -> f64 {
        match self {
            Self::DecimalDegrees => 1.0,
            Self::DecimalMinutes => 60.0,
            Self::Seconds => 3600.0,
        }
    }

    /// With the fewest decimals that bring every position to within 2 cm.
    pub(crate) fn for_all<'p>(self, positions: &(impl Iterator<Item = &'p Position> + Clone)) -> Printed {
        let (least, most) = self.decimals();
        let is_near = |decimals: usize| {
            let steps = self.per_degree() * power_of_ten(decimals);
            let off = |degrees: f64| ((degrees * steps).round() / steps - degrees).abs();
            positions.clone().all(|position| {
                off(position.latitude().degrees()) < NEAR_ENOUGH_DEG
                    && off(position.longitude().degrees()) < NEAR_ENOUGH_DEG
            })
        };
        let decimals = (least..most).find(|decimals| is_near(*decimals)).unwrap_or(most);
        Printed { notation: self, decimals }
    }
}

fn power_of_ten(decimals: usize) -> f64 {
    (0..decimals).fold(1.0, |power, _| power * 10.0)
}

impl Printed {
    /// Latitude and longitude.
    pub(crate) fn position(self, position: Position) -> [String; 2] {
        [
            self.coordinate(position.latitude().degrees(), 2, ['N', 'S']),
            self.coordinate(position.longitude().degrees(), 3, ['E', 'W']),
        ]
    }

    fn coordinate(self, degrees: f64, digits: usize, [positive, negative]: [char; 2]) -> String {
        let letter = if degrees < 0.0 { negative } else { positive };
        let decimals = self.decimals;
        let power = power_of_ten(decimals);
        // whole steps first, so that 59.9996′ carries into the degrees and is never written as 60.000′
        let steps = (degrees.abs() * self.notation.per_degree() * power).round();
        let units = steps / power;
        let width = if decimals == 0 { 2 } else { decimals + 3 };
        match self.notation {
            Notation::DecimalDegrees => format!("{units:.decimals$}°{letter}"),
            Notation::DecimalMinutes => {
                let whole = (steps / (60.0 * power)).floor();
                let minutes = (steps - whole * 60.0 * power) / power;
                format!("{whole:0digits$.0}°{minutes:0width$.decimals$}′{letter}")
            }
            Notation::Seconds => {
                let all_minutes = (steps / (60.0 * power)).floor();
                let seconds = (steps - all_minutes * 60.0 * power) / power;
                let whole = (all_minutes / 60.0).floor();
                let minutes = all_minutes - whole * 60.0;
                format!("{whole:0digits$.0}°{minutes:02.0}′{seconds:0width$.decimals$}″{letter}")
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn at(latitude_deg: f64, longitude_deg: f64) -> Position {
        Position::from_degrees(latitude_deg, longitude_deg).unwrap()
    }

    fn written(notation: Notation, places: &[Position]) -> Vec<[String; 2]> {
        let printed = notation.for_all(&places.iter());
        places.iter().map(|place| printed.position(*place)).collect()
    }

    /// Degrees worked out by hand from the texts.
    #[test]
    fn positions_come_back_in_the_digits_that_they_were_printed_with() {
        let places = [at(24.561_666_666_7, -81.68), at(24.480_833_333_3, -81.698_333_333_3)];
        assert_eq!(
            written(Notation::DecimalMinutes, &places),
            [["24°33.70′N", "081°40.80′W"], ["24°28.85′N", "081°41.90′W"]]
        );
        let places = [at(-16.505_277_777_8, 179.999_722_222_2)];
        assert_eq!(written(Notation::Seconds, &places), [["16°30′19″S", "179°59′59″E"]]);
        let places = [at(45.083_497_3, -30.07)];
        assert_eq!(written(Notation::DecimalDegrees, &places), [["45.0834973°N", "30.0700000°W"]]);
    }

    #[test]
    fn nothing_is_ever_written_as_sixty() {
        let places = [at(45.999_999_99, -29.999_999_99)];
        assert_eq!(written(Notation::DecimalMinutes, &places), [["46°00.00′N", "030°00.00′W"]]);
        assert_eq!(written(Notation::Seconds, &places), [["46°00′00″N", "030°00′00″W"]]);
    }

    #[test]
    fn lengths_areas_and_bearings_are_in_the_units_of_laws() {
        assert_eq!(lengths(18_520.0), ["18\u{a0}520.0\u{a0}m", "10.000\u{a0}nm"]);
        assert_eq!(
            areas(30_750_666.0),
            ["30\u{a0}750\u{a0}666\u{a0}m²", "3075.07\u{a0}ha", "30.7507\u{a0}km²", "8.9655\u{a0}nm²"]
        );
        assert_eq!([bearing(90.0), bearing(359.999), bearing(7.125)], ["090.00°", "000.00°", "007.13°"]);
    }
}
