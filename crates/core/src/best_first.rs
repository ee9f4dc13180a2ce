//! A search that takes the most promising part first: what a branch and bound waits with.
//!
//! A signed distance changes by no more than the way made (it is 1-Lipschitz), so that one look bounds what a whole part can
//! hold. Whoever takes the part with the greatest bound, halves it and hands the halves back has found the greatest value
//! once no bound is greater than the best look so far: nothing is missed between looks.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

/// Parts that are still to be looked into, the one with the greatest bound first.
///
/// For a least value hand in negative bounds. Among equal bounds the order is any, but the same each time.
#[derive(Debug)]
pub(crate) struct BestFirst<P>(BinaryHeap<Bounded<P>>);

#[derive(Debug)]
struct Bounded<P> {
    bound: f64,
    part: P,
}

impl<P> BestFirst<P> {
    /// Begins with the whole.
    pub(crate) fn with(bound: f64, whole: P) -> Self {
        Self(BinaryHeap::from([Bounded { bound, part: whole }]))
    }

    pub(crate) fn push(&mut self, bound: f64, part: P) {
        self.0.push(Bounded { bound, part });
    }

    /// Takes out the part with the greatest bound, and the bound.
    pub(crate) fn pop(&mut self) -> Option<(f64, P)> {
        self.0.pop().map(|Bounded { bound, part }| (bound, part))
    }

    /// The most that any part still waiting can hold; none if nothing waits.
    pub(crate) fn greatest_bound(&self) -> Option<f64> {
        self.0.peek().map(|largest| largest.bound)
    }
}

impl<P> PartialEq for Bounded<P> {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl<P> Eq for Bounded<P> {}

impl<P> PartialOrd for Bounded<P> {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl<P> Ord for Bounded<P> {
    fn cmp(&self, other: &Self) -> Ordering {
        self.bound.total_cmp(&other.bound)
    }
}

#[cfg(test)]
mod tests {
    use super::BestFirst;

    #[test]
    fn parts_come_out_by_their_bounds_the_greatest_first() {
        let mut waiting = BestFirst::with(2.0, "whole");
        for (bound, part) in [(-1.0, "last"), (f64::INFINITY, "open"), (3.0, "half")] {
            waiting.push(bound, part);
        }
        assert_eq!(waiting.greatest_bound(), Some(f64::INFINITY));
        let order: Vec<&str> = std::iter::from_fn(|| waiting.pop()).map(|(_, part)| part).collect();
        assert_eq!(order, ["open", "half", "whole", "last"]);
        assert_eq!(waiting.greatest_bound(), None);
    }
}
