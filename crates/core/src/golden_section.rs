//! Where a value with one valley is least.

/// The share of a span that each step keeps: one over the golden ratio.
const KEPT: f64 = 0.618_033_988_749_894_8;

/// Looks for the place between two at which a value with one valley is least, until it is known to `tolerance`; returns the best
/// place looked at, and the value there. The two ends are not looked at.
///
/// Each step keeps a fixed share of the span and costs one look (J. Kiefer, *Sequential minimax search for a maximum*, 1953).
pub(crate) fn least((low, high): (f64, f64), tolerance: f64, value: impl Fn(f64) -> f64) -> (f64, f64) {
    let look = |at: f64| (at, value(at));
    let (mut low, mut high) = (low, high);
    let (mut left, mut right) = (look(high - KEPT * (high - low)), look(low + KEPT * (high - low)));
    let mut best = if right.1 < left.1 { right } else { left };
    while high - low > tolerance {
        let next = if left.1 < right.1 {
            (high, right) = (right.0, left);
            left = look(high - KEPT * (high - low));
            left
        } else {
            (low, left) = (left.0, right);
            right = look(low + KEPT * (high - low));
            right
        };
        if next.1 < best.1 {
            best = next;
        }
    }
    best
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::least;

    #[test]
    fn the_bottom_of_a_parabola_is_found() {
        let (at, value) = least((-3.0, 10.0), 1e-6, |x| (x - 2.5).powi(2) + 1.0);
        assert_abs_diff_eq!(at, 2.5, epsilon = 1e-5);
        assert_abs_diff_eq!(value, 1.0, epsilon = 1e-9);
    }

    #[test]
    fn a_valley_at_an_end_is_come_near_to() {
        assert!(least((0.0, 1.0), 1e-6, |x| x).0 < 1e-6);
        assert!(least((0.0, 1.0), 1e-6, |x| -x).0 > 1.0 - 1e-6);
        assert_abs_diff_eq!(least((2.0, 2.0), 1e-6, |x| x).0, 2.0);
    }
}
