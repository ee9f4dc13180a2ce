//! Figures and names as the card has them.

use takeline::transit::Seen;
use takeline::{Arcminutes, Metres};

use crate::figures;
use crate::lines::harmless;

/// Letters of a name in a title or a sentence; the list of marks has the whole name.
const LONGEST_NAME: usize = 48;

/// A length of our own making.
pub(super) fn metres(metres: f64) -> Metres {
    Metres::new(metres).unwrap_or(Metres::ZERO)
}

/// A name, made harmless and not too long for its line.
pub(super) fn name(name: &str) -> String {
    cut_name(name, LONGEST_NAME)
}

/// A name of at most so many letters.
pub(super) fn cut_name(name: &str, longest: usize) -> String {
    let name = harmless(name);
    if name.chars().count() <= longest {
        return name.into_owned();
    }
    let kept: String = name.chars().take(longest.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

/// A length without doubt: with a decimal below 10 m, or a step of 1 m would be most of it.
pub(super) fn short_length(length: Metres) -> String {
    let length_m = length.metres().abs();
    if length_m < 9.95 { format!("{length_m:.1}\u{a0}m") } else { figures::distance(length, Metres::ZERO) }
}

/// Whole minutes of arc, and a decimal below ten.
pub(super) fn arc(angle: Arcminutes) -> String {
    let arcmin = angle.arcmin().abs();
    if arcmin < 9.95 { format!("{arcmin:.1}") } else { format!("{arcmin:.0}") }
}

/// How far the marks are open: `17 minutes of arc`.
pub(super) fn opening(seen: &Seen) -> String {
    format!("{}\u{a0}minutes of arc", arc(seen.rear_from_front))
}

/// An area: square metres below a hectare, hectares above.
pub(super) fn area(area_m2: f64) -> String {
    const SQUARE_METRES_PER_HECTARE: f64 = 10_000.0;
    let hectares = area_m2 / SQUARE_METRES_PER_HECTARE;
    if hectares < 1.0 {
        format!("{area_m2:.0}\u{a0}m²")
    } else if hectares < 10.0 {
        format!("{hectares:.1}\u{a0}ha")
    } else {
        format!("{hectares:.0}\u{a0}ha")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn small_lengths_and_areas_keep_a_digit() {
        assert_eq!(short_length(metres(1.84)), "1.8\u{a0}m");
        assert_eq!(short_length(metres(9.97)), "10\u{a0}m");
        assert_eq!(area(9_400.0), "9400\u{a0}m²");
        assert_eq!(area(34_000.0), "3.4\u{a0}ha");
    }

    #[test]
    fn a_long_name_is_cut() {
        assert_eq!(cut_name("Sallow Point Day Beacon", 12), "Sallow Poin…");
    }
}
