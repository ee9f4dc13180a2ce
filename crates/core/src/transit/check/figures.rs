//! Lengths as sentences have them: no more digits than they are known to.

/// The step that a figure of this size, or with this doubt, is rounded to, in metres: two digits of it, and never below 1 m.
pub(super) fn step_m(size_m: f64) -> f64 {
    10_f64.powf(size_m.abs().max(1.0).log10().floor() - 1.0).max(1.0)
}

/// Rounds a length that is found by steps, or is a doubt, to two digits, up or down as asked, in metres.
pub(super) fn rounded_m(metres: f64, way: fn(f64) -> f64) -> f64 {
    let step_m = step_m(metres);
    way(metres / step_m) * step_m
}

#[cfg(test)]
mod tests {
    use super::{rounded_m, step_m};

    #[test]
    fn figures_have_two_digits_and_whole_metres() {
        let words = |figures: &[f64]| figures.iter().map(f64::to_string).collect::<Vec<_>>().join(" ");
        let nearest = [364.1, 9.6, 118.0].map(|metres| rounded_m(metres, f64::round));
        assert_eq!(words(&nearest), "360 10 120");
        assert_eq!(words(&[rounded_m(364.1, f64::ceil), rounded_m(109.0, f64::floor)]), "370 100");
        assert_eq!(words(&[0.2, 46.0, 118.0, 2462.0].map(step_m)), "1 1 10 100");
    }
}
