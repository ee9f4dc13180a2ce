//! Numbers as people read them: whole metres, and never more digits than the doubt allows.
//!
//! Number and unit hold together by a no-break space, which [`crate::lines`] turns into a plain one after wrapping.

use takeline::{Metres, Position};

/// The step that figures with this doubt are rounded to, in metres: two digits of the doubt, and never below 1 m.
fn step_m(doubt: Metres) -> f64 {
    let magnitude = doubt.metres().abs().max(1.0).log10().floor();
    10_f64.powf(magnitude - 1.0).max(1.0)
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

/// Writes a distance without its sign, as exactly as `doubt` allows: `38 m`, `1240 m`, `12.4 km`.
pub(crate) fn distance(length: Metres, doubt: Metres) -> String {
    rounded(length.metres().abs(), step_m(doubt))
}

/// Writes a 95 % doubt: `±10 m`, and at least `±1 m`, because whole metres are all that is shown.
pub(crate) fn doubt(doubt: Metres) -> String {
    format!("±{}", rounded(doubt.metres().max(1.0), step_m(doubt)))
}

/// Writes a distance without its sign beside its doubt: `38 m ±10 m`.
pub(crate) fn distance_with_doubt(length: Metres, uncertainty: Metres) -> String {
    format!("{} {}", distance(length, uncertainty), doubt(uncertainty))
}

/// Writes how far to go, rounded up to whole metres so that the move is never too short.
pub(crate) fn move_length(length: Metres) -> String {
    const ROUNDING_NOISE_M: f64 = 1e-6;
    rounded((length.metres() - ROUNDING_NOISE_M).ceil().max(0.0), 1.0)
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

#[cfg(test)]
mod tests {
    use super::*;

    fn metres(value: f64) -> Metres {
        Metres::new(value).unwrap()
    }

    #[test]
    fn a_distance_has_no_more_digits_than_its_doubt_allows() {
        for (length, uncertainty, expected) in [
            (38.4, 10.0, "38 m ±10 m"),
            (-38.4, 8.11, "38 m ±8 m"),
            (1237.0, 137.0, "1240 m ±140 m"),
            (1237.0, 99.0, "1237 m ±99 m"),
            (40.0, 1500.0, "0 m ±1500 m"),
            (12_345.0, 10.0, "12.3 km ±10 m"),
            (123_456.0, 12_345.0, "123 km ±12 km"),
            (4_611_300.0, 10.0, "4611 km ±10 m"),
            (0.2, 0.0, "0 m ±1 m"),
        ] {
            let text = distance_with_doubt(metres(length), metres(uncertainty));
            assert_eq!(text.replace('\u{a0}', " "), expected);
        }
    }

    #[test]
    fn a_move_is_rounded_up() {
        assert_eq!(move_length(metres(13.2)), "14\u{a0}m");
        assert_eq!(move_length(metres(14.000_000_001)), "14\u{a0}m");
    }

    #[test]
    fn minutes_carry_into_degrees() {
        let near_46 = Position::from_degrees(45.999_999_9, -30.000_000_1).unwrap();
        assert_eq!(position(near_46), "46°00.000'N 030°00.000'W");
        let marrowick = Position::from_degrees(45.1182, -30.1217).unwrap();
        assert_eq!(position(marrowick), "45°07.092'N 030°07.302'W");
    }
}
