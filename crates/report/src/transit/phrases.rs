//! Names cut and sentences closed, figures with their units, and short phrases that the answers about marks share.

use takeline::landmark::Landmark;
use takeline::transit::{Meets, Problem, ProblemReason, Side, TransitReport, ZoneOnLine};
use takeline::{Arcminutes, Metres, UncertaintySource};

use crate::figures;
use crate::lines::sanitised;
use crate::words::Spoken;

/// Letters of a name in a title or a sentence; the list of marks has the whole name.
const LONGEST_NAME: usize = 48;

/// A length of our own making.
pub(super) fn metres(metres: f64) -> Metres {
    Metres::new(metres).unwrap_or(Metres::ZERO)
}

/// Makes a name sanitised and not too long for its line.
pub(super) fn name(name: &str) -> String {
    cut_name(name, LONGEST_NAME)
}

/// Cuts a name to at most so many letters.
pub(super) fn cut_name(name: &str, longest: usize) -> String {
    let name = sanitised(name);
    if name.chars().count() <= longest {
        return name.into_owned();
    }
    let kept: String = name.chars().take(longest.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

/// Holds numbers and their units together in a sentence of the library, which has plain spaces.
pub(super) fn held(text: &str) -> String {
    const UNITS: [&str; 17] = [
        "m", "km", "m²", "ha", "kn", "min", "s", "%", "cables", "nm", "nm²", "ft", "yd", "mi", "mph", "sq",
        "acres",
    ];
    let is_unit = |word: &str| UNITS.contains(&word.trim_end_matches([',', '.', ':', ';', ')']));
    let mut words = text.split(' ');
    let mut held = words.next().unwrap_or_default().to_owned();
    for word in words {
        let space = if held.ends_with(|letter: char| letter.is_ascii_digit()) && is_unit(word) {
            '\u{a0}'
        } else {
            ' '
        };
        held.push(space);
        held.push_str(word);
    }
    held
}

/// Writes what the library says of a problem as a sentence, with a capital and a full stop, numbers held to their units.
pub(super) fn sentence(text: &str) -> String {
    let text = held(text.trim());
    let stop = if text.is_empty() || text.ends_with(['.', '!', '?', '”', '"']) { "" } else { "." };
    format!("{}{stop}", capital(&text))
}

/// Writes a text with a capital letter first.
pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    let first: String = letters.next().map_or_else(String::new, |first| first.to_uppercase().collect());
    format!("{first}{}", letters.as_str())
}

/// Writes a place on the line as its distance from the front mark, in metric units in whole metres.
pub(super) fn along(words: Spoken<'_>, distance_from_front: Metres) -> String {
    figures::distance(words.units(), distance_from_front, Metres::ZERO)
}

/// Writes a short length, to a tenth below ten metres or feet: what the eye sees can be finer than a fix.
pub(super) fn short_length(words: Spoken<'_>, length: Metres) -> String {
    figures::short_length(words.units(), length)
}

/// Writes a small angle without its sign, in minutes of arc: `2.6′` below ten minutes, whole ones above, degrees from two on.
pub(super) fn minutes_of_arc(angle: Arcminutes) -> String {
    let degrees = angle.arcmin().abs() / 60.0;
    if degrees < 2.0 { format!("{}′", arcmin(angle)) } else { format!("{degrees:.1}°") }
}

/// The same without the sign of the minute.
pub(super) fn arcmin(angle: Arcminutes) -> String {
    let arcmin = angle.arcmin().abs();
    if arcmin < 0.095 {
        format!("{arcmin:.2}")
    } else if arcmin < 9.95 {
        tenths(arcmin)
    } else {
        format!("{arcmin:.0}")
    }
}

/// Writes a number to a tenth, whole ones without the zero.
fn tenths(value: f64) -> String {
    let text = format!("{value:.1}");
    text.strip_suffix(".0").map_or_else(|| text.clone(), str::to_owned)
}

/// Writes an area in one unit, square metres below a hectare, hectares above.
pub(super) fn area(words: Spoken<'_>, square_metres: f64) -> String {
    words.area(square_metres).replace(' ', "\u{a0}")
}

/// Writes a short time: seconds up to two minutes, then minutes, then hours.
pub(super) fn seconds(seconds: f64) -> String {
    if seconds < 1.0 {
        "less than 1\u{a0}s".into()
    } else if seconds < 120.0 {
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

/// How well the place of a mark is known: `±2 m (95 %), given`.
pub(super) fn known_to(words: Spoken<'_>, mark: &Landmark) -> String {
    let doubt = short_length(words, mark.position_error_95);
    format!("±{doubt} (95\u{a0}%), {}", given_or_assumed(mark.position_error_source))
}

pub(super) fn given_or_assumed(source: UncertaintySource) -> &'static str {
    match source {
        UncertaintySource::Given => "given",
        UncertaintySource::Assumed => "assumed",
    }
}

pub(super) fn meets(what: Meets) -> &'static str {
    what.code()
}

/// The word for a side, so that nobody misreads it.
pub(super) fn loud(words: Spoken<'_>, side: Side) -> String {
    words.left_or_right(side).to_uppercase()
}

/// Left or right of a signed distance, to the right positive, and its doubt; no side where the distance is shown as nothing.
pub(super) fn to_the_side(words: Spoken<'_>, to_the_right: Metres, doubt: Metres) -> [String; 2] {
    let [offset, doubt] = figures::short_with_doubt(words.units(), to_the_right, doubt);
    if figures::is_nothing(&offset) {
        return [offset, doubt];
    }
    let to = if to_the_right > Metres::ZERO { Side::Right } else { Side::Left };
    [format!("{offset} to the {}", words.left_or_right(to)), doubt]
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

/// The parts of the stretch, in metres from the front mark, from near to far and apart from one another.
pub(super) fn hidden_parts(report: &TransitReport) -> Vec<[f64; 2]> {
    let stretch = report.question.stretch;
    let whole = [stretch.near().metres(), stretch.far().metres()];
    let mut parts: Vec<[f64; 2]> = Vec::new();
    for Problem { reason, .. } in &report.problems {
        if matches!(reason, ProblemReason::FrontHidesRear { .. } | ProblemReason::BelowHorizon { .. }) {
            parts.push(whole);
        } else if let ProblemReason::FrontHidesRearInPart { parts_m, .. }
        | ProblemReason::BelowHorizonInPart { parts_m, .. } = reason
        {
            parts.extend(parts_m);
        }
    }
    parts.sort_by(|[one, _], [other, _]| one.total_cmp(other));
    let mut apart: Vec<[f64; 2]> = Vec::new();
    for [from_m, to_m] in parts {
        match apart.last_mut() {
            Some([_, last_m]) if from_m <= *last_m => *last_m = last_m.max(to_m),
            _ => apart.push([from_m, to_m]),
        }
    }
    apart
}

/// Where the marks can be seen in line, if not all along the stretch: `from 381 m to 1400 m`; none where they can be all along it or
/// nowhere.
pub(super) fn parts_seen(report: &TransitReport, words: Spoken<'_>) -> Option<String> {
    let hidden = hidden_parts(report);
    if hidden.is_empty() {
        return None;
    }
    let stretch = report.question.stretch;
    let mut from_m = stretch.near().metres();
    let mut seen: Vec<[f64; 2]> = Vec::new();
    for [hidden_from_m, hidden_to_m] in hidden {
        if hidden_from_m > from_m {
            seen.push([from_m, hidden_from_m]);
        }
        from_m = from_m.max(hidden_to_m);
    }
    if stretch.far().metres() > from_m {
        seen.push([from_m, stretch.far().metres()]);
    }
    let part = |[from_m, to_m]: &[f64; 2]| {
        format!("from {} to {}", along(words, metres(*from_m)), along(words, metres(*to_m)))
    };
    (!seen.is_empty()).then(|| seen.iter().map(part).collect::<Vec<_>>().join(" and "))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::words::English;

    #[test]
    fn a_sentence_has_a_capital_and_a_full_stop_and_a_long_name_is_cut() {
        assert_eq!(sentence("the pine can move"), "The pine can move.");
        assert_eq!(sentence("Zones lie on both sides."), "Zones lie on both sides.");
        assert_eq!(sentence(""), "");
        assert_eq!(sentence("off by 12 m, ±3 m"), "Off by 12\u{a0}m, ±3\u{a0}m.");
        assert_eq!(cut_name("Sallow Point Day Beacon", 12), "Sallow Poin…");
        assert_eq!(area(Spoken(&English), 184_000.0), "18\u{a0}ha");
    }

    #[test]
    fn short_lengths_angles_and_times_have_digits_that_make_sense() {
        assert_eq!(short_length(Spoken(&English), metres(1.94)), "1.9\u{a0}m");
        assert_eq!(short_length(Spoken(&English), metres(9.96)), "10\u{a0}m");
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
        let to_the_side = |right_m| {
            let [offset, _] = to_the_side(Spoken(&English), metres(right_m), metres(1.0));
            offset
        };
        assert_eq!(to_the_side(12.0), "12\u{a0}m to the right");
        assert_eq!(to_the_side(-2.34), "2.3\u{a0}m to the left");
        assert_eq!(to_the_side(-0.01), "0\u{a0}m");
    }
}
