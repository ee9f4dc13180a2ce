//! Words and figures that the answers about marks share.

use takeline::transit::{Meets, Severity, Side, ZoneOnLine};
use takeline::{Arcminutes, Metres, UncertaintySource};

use crate::figures;

/// Square metres in a hectare; from here on the area is given in both.
const HECTARE_M2: f64 = 10_000.0;

/// Writes a place on the line as its distance from the front mark, in whole metres.
pub(super) fn along(distance_from_front: Metres) -> String {
    figures::distance(distance_from_front, Metres::ZERO)
}

/// Writes a short length, to a tenth of a metre below ten metres: what the eye sees can be finer than a fix.
pub(super) fn short_length(length: Metres) -> String {
    let metres = length.metres().abs();
    if metres < 9.95 { format!("{}\u{a0}m", tenths(metres)) } else { figures::distance(length, Metres::ZERO) }
}

/// Writes a small angle without its sign, in minutes of arc: `2.6′` below ten minutes, whole ones above.
pub(super) fn minutes_of_arc(angle: Arcminutes) -> String {
    let arcmin = angle.arcmin().abs();
    if arcmin < 0.095 {
        format!("{arcmin:.2}′")
    } else if arcmin < 9.95 {
        format!("{}′", tenths(arcmin))
    } else {
        format!("{arcmin:.0}′")
    }
}

/// Writes a number to a tenth, whole ones without the zero.
fn tenths(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or_else(|| text.clone(), str::to_owned)
}

/// Writes an area to three digits, with hectares beside it from one hectare on.
pub(super) fn area(square_metres: f64) -> String {
    if square_metres > 0.0 && square_metres < 1.0 {
        return "less than 1\u{a0}m²".into();
    }
    let digits = three_digits(square_metres);
    if square_metres < HECTARE_M2 {
        return format!("{digits:.0}\u{a0}m²");
    }
    let hectares = digits / HECTARE_M2;
    let decimals = if hectares < 10.0 { 2 } else { usize::from(hectares < 100.0) };
    format!("{digits:.0}\u{a0}m² ({hectares:.decimals$}\u{a0}ha)")
}

fn three_digits(value: f64) -> f64 {
    if value < 1.0 {
        return 0.0;
    }
    let step = 10_f64.powf(value.log10().floor() - 2.0).max(1.0);
    (value / step).round() * step
}

/// Writes a short time: seconds up to two minutes, then minutes, then hours.
pub(super) fn seconds(seconds: f64) -> String {
    if seconds < 120.0 {
        format!("{seconds:.0}\u{a0}s")
    } else if seconds < 7200.0 {
        format!("{:.0}\u{a0}min", seconds / 60.0)
    } else {
        format!("{:.0}\u{a0}h", seconds / 3600.0)
    }
}

/// Writes a variation with its direction: `12.3° W`.
pub(super) fn variation(degrees_east: f64) -> String {
    format!("{:.1}°\u{a0}{}", degrees_east.abs(), if degrees_east < 0.0 { 'W' } else { 'E' })
}

pub(super) fn given_or_assumed(source: UncertaintySource) -> &'static str {
    match source {
        UncertaintySource::Given => "given",
        UncertaintySource::Assumed => "assumed",
    }
}

pub(super) fn meets(what: Meets) -> &'static str {
    match what {
        Meets::Enters => "enters",
        Meets::Leaves => "leaves",
        Meets::Touches => "touches",
    }
}

/// The word for a side, so that nobody misreads it.
pub(super) fn loud(side: Side) -> &'static str {
    match side {
        Side::Left => "LEFT",
        Side::Right => "RIGHT",
    }
}

/// Left or right of a signed distance, to the right positive; none where whole decimetres show none.
pub(super) fn to_the_side(to_the_right: Metres) -> String {
    const LEAST_SHOWN_M: f64 = 0.05;
    let metres = to_the_right.metres();
    if metres.abs() < LEAST_SHOWN_M {
        return "0\u{a0}m".into();
    }
    let side = if metres > 0.0 { Side::Right } else { Side::Left };
    format!("{} to the {}", short_length(to_the_right), side.word())
}

/// How many there are of a thing: `1 warning`, `2 warnings`.
pub(super) fn counted(count: usize, what: &str) -> String {
    format!("{count} {what}{}", if count == 1 { "" } else { "s" })
}

/// The least margin of a zone, in metres; none if its line is not known or the figure is none.
pub(super) fn margin_m(zone: &ZoneOnLine) -> Option<f64> {
    zone.worst.map(|worst| worst.margin().metres()).filter(|margin_m| margin_m.is_finite())
}

/// The zone with the least margin among those whose line is known.
pub(super) fn tightest(zones: &[ZoneOnLine]) -> Option<&ZoneOnLine> {
    let known = zones.iter().filter_map(|zone| Some((margin_m(zone)?, zone)));
    known.min_by(|(one, _), (other, _)| one.total_cmp(other)).map(|(_, zone)| zone)
}

pub(super) const SEVERITIES: [Severity; 3] = [Severity::Error, Severity::Warning, Severity::Note];

#[cfg(test)]
mod tests {
    use super::*;

    fn metres(value: f64) -> Metres {
        Metres::new(value).unwrap()
    }

    #[test]
    fn an_area_has_three_digits_and_hectares_from_one_on() {
        for (square_metres, expected) in [
            (0.0, "0 m²"),
            (0.4, "less than 1 m²"),
            (12.4, "12 m²"),
            (1234.4, "1230 m²"),
            (9999.0, "10000 m²"),
            (52_340.0, "52300 m² (5.23 ha)"),
            (345_678.0, "346000 m² (34.6 ha)"),
            (3_412_345.0, "3410000 m² (341 ha)"),
        ] {
            assert_eq!(area(square_metres).replace('\u{a0}', " "), expected);
        }
    }

    #[test]
    fn short_lengths_angles_and_times_have_digits_that_make_sense() {
        assert_eq!(short_length(metres(1.94)), "1.9\u{a0}m");
        assert_eq!(short_length(metres(9.96)), "10\u{a0}m");
        let angle = |arcmin| minutes_of_arc(Arcminutes::new(arcmin).unwrap());
        assert_eq!([0.031, 2.58, 9.97, -31.4].map(angle), ["0.03′", "2.6′", "10′", "31′"]);
        assert_eq!(
            [7.6, 119.0, 600.0, 8000.0].map(seconds).join(" "),
            "8\u{a0}s 119\u{a0}s 10\u{a0}min 2\u{a0}h"
        );
        assert_eq!([-12.34, 0.5].map(variation).join(" "), "12.3°\u{a0}W 0.5°\u{a0}E");
    }

    #[test]
    fn a_signed_distance_becomes_a_side() {
        assert_eq!(to_the_side(metres(12.0)), "12\u{a0}m to the right");
        assert_eq!(to_the_side(metres(-2.34)), "2.3\u{a0}m to the left");
        assert_eq!(to_the_side(metres(-0.01)), "0\u{a0}m");
    }
}
