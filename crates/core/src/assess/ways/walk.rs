//! A way walked by what is known of it: how far it surely is to what one looks for.

/// How a walk ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in super::super) enum Walk {
    /// Nothing of what was looked for is on the way.
    ToTheEnd,
    /// It is here, in metres along the way, and was not yet at the place before.
    Stopped { before_m: f64, at_m: f64 },
    /// It took too many looks; so far the way is known.
    GaveUp { at_m: f64 },
}

/// Walks from one place of a way to another, in metres along it, until what is left becomes negative.
///
/// `left_m` says how far what is looked for surely is from a place; it changes by no more than the way made, so that much is
/// walked at a time, but no less than `least_step_m`: what is on the way for less may be stepped over. It says nothing when no
/// more looks may be had.
pub(in super::super) fn walk(
    (from_m, to_m): (f64, f64),
    least_step_m: f64,
    mut left_m: impl FnMut(f64) -> Option<f64>,
) -> Walk {
    let (mut before_m, mut at_m) = (from_m, from_m);
    loop {
        let Some(left_m) = left_m(at_m) else { return Walk::GaveUp { at_m } };
        if left_m < 0.0 {
            return Walk::Stopped { before_m, at_m };
        }
        if at_m >= to_m {
            return Walk::ToTheEnd;
        }
        before_m = at_m;
        at_m = (at_m + left_m.max(least_step_m)).min(to_m);
    }
}

/// Where something begins that is not so at the first of two places and is at the second, to within so many metres; so there.
pub(in super::super) fn begins_m(
    (mut low_m, mut high_m): (f64, f64),
    to_m: f64,
    is_so: impl Fn(f64) -> bool,
) -> f64 {
    while high_m - low_m > to_m {
        let middle_m = low_m.midpoint(high_m);
        if is_so(middle_m) {
            high_m = middle_m;
        } else {
            low_m = middle_m;
        }
    }
    high_m
}

#[cfg(test)]
mod tests {
    use approx::assert_abs_diff_eq;

    use super::{Walk, begins_m, walk};

    #[test]
    fn a_walk_ends_where_what_is_looked_for_begins() {
        let wall = |at_m: f64| Some(100.0 - at_m);
        let Walk::Stopped { before_m, at_m } = walk((0.0, 500.0), 0.25, wall) else { unreachable!() };
        assert!(before_m <= 100.0 && at_m > 100.0 && at_m <= 100.25, "{before_m} {at_m}");
        assert_abs_diff_eq!(begins_m((before_m, at_m), 1e-3, |at_m| at_m > 100.0), 100.0, epsilon = 1e-3);
        assert_eq!(walk((0.0, 99.0), 0.25, wall), Walk::ToTheEnd);
        assert_eq!(walk((101.0, 200.0), 0.25, wall), Walk::Stopped { before_m: 101.0, at_m: 101.0 });
        assert_eq!(walk((0.0, 500.0), 0.25, |_| None), Walk::GaveUp { at_m: 0.0 });
    }
}
