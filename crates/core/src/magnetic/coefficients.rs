//! The model's numbers, read from the file that its makers publish. See README.md beside it for source and licence.

use std::sync::LazyLock;

/// One spherical harmonic of the field: its size at the epoch in nT, and how that changes in nT a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Term {
    pub(super) degree: u8,
    pub(super) order: u8,
    pub(super) cosine_nt: f64,
    pub(super) sine_nt: f64,
    pub(super) cosine_rate_nt: f64,
    pub(super) sine_rate_nt: f64,
}

/// The model in force.
pub(super) static TERMS: LazyLock<Vec<Term>> = LazyLock::new(|| {
    // the head of the file and its last rows are no terms; a test counts what is left
    include_str!("WMM2025.COF").lines().filter_map(term).collect()
});

fn term(line: &str) -> Option<Term> {
    let [degree, order, cosine, sine, cosine_rate, sine_rate] =
        line.split_ascii_whitespace().collect::<Vec<_>>()[..]
    else {
        return None;
    };
    Some(Term {
        degree: degree.parse().ok()?,
        order: order.parse().ok()?,
        cosine_nt: cosine.parse().ok()?,
        sine_nt: sine.parse().ok()?,
        cosine_rate_nt: cosine_rate.parse().ok()?,
        sine_rate_nt: sine_rate.parse().ok()?,
    })
}
