//! The file of coefficients is read whole.

use super::field::TERMS;

#[test]
fn all_ninety_terms_are_there_in_order() {
    let wanted: Vec<(u8, u8)> = (1..=12).flat_map(|n| (0..=n).map(move |m| (n, m))).collect();
    let read: Vec<(u8, u8)> = TERMS.iter().map(|term| (term.degree, term.order)).collect();
    assert_eq!(read, wanted);
    assert_eq!(read.len(), 90);
}

/// Sums of the four columns of the published file, taken with awk; each column has one decimal.
#[test]
fn the_columns_have_the_sums_of_the_published_file() {
    let sum = |pick: fn(&super::field::Term) -> f64| TERMS.iter().map(pick).sum::<f64>();
    for (got, wanted) in [
        (sum(|term| term.cosine_nt), -26_454.1),
        (sum(|term| term.sine_nt), 487.8),
        (sum(|term| term.cosine_rate_nt), -27.7),
        (sum(|term| term.sine_rate_nt), -55.0),
    ] {
        assert!((got - wanted).abs() < 1e-6, "{got} for {wanted}");
    }
}

#[test]
fn a_term_of_order_zero_has_no_sine() {
    for term in TERMS.iter().filter(|term| term.order == 0) {
        assert_eq!((term.sine_nt, term.sine_rate_nt), (0.0, 0.0), "{term:?}");
    }
}
