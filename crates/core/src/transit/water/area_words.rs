//! Areas in words.

const HECTARE_M2: f64 = 10_000.0;

/// Writes an area in one unit: square metres below a hectare, hectares above, to two or three digits.
///
/// # Units
///
/// Takes square metres.
///
/// # Accuracy
///
/// To three digits below a hectare, to a tenth below ten hectares, to a whole hectare below a thousand, then to three
/// digits: fishing water is not surveyed more closely.
///
/// # Edge cases
///
/// Nothing is `none`; what is no number is `not known`.
///
/// # Examples
///
/// ```
/// use takeline::transit::area_in_words;
///
/// assert_eq!(area_in_words(4_623.0), "4620 m²");
/// assert_eq!(area_in_words(152_340.0), "15 ha");
/// ```
#[must_use]
pub fn area_in_words(area_m2: f64) -> String {
    let hectares = area_m2 / HECTARE_M2;
    if !area_m2.is_finite() {
        "not known".into()
    } else if area_m2 <= 0.0 {
        "none".into()
    } else if area_m2 < 1.0 {
        "less than 1 m²".into()
    } else if three_digits(area_m2) < HECTARE_M2 {
        format!("{:.0} m²", three_digits(area_m2))
    } else if hectares < 9.95 {
        format!("{hectares:.1} ha")
    } else {
        format!("{:.0} ha", three_digits(hectares))
    }
}

fn three_digits(value: f64) -> f64 {
    let step = 10_f64.powf(value.log10().floor() - 2.0).max(1.0);
    (value / step).round() * step
}

#[cfg(test)]
mod tests {
    use super::area_in_words;

    #[test]
    fn an_area_has_one_unit_and_no_more_digits_than_make_sense() {
        for (area_m2, expected) in [
            (0.0, "none"),
            (0.4, "less than 1 m²"),
            (12.4, "12 m²"),
            (1234.4, "1230 m²"),
            (9_994.0, "9990 m²"),
            (9_999.0, "1.0 ha"),
            (52_340.0, "5.2 ha"),
            (99_800.0, "10 ha"),
            (345_678.0, "35 ha"),
            (12_344_000.0, "1230 ha"),
            (f64::NAN, "not known"),
        ] {
            assert_eq!(area_in_words(area_m2), expected);
        }
    }
}
