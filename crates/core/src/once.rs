//! Lists that say each thing once.

use std::collections::HashSet;
use std::fmt::Debug;

/// Lists no longer than this are compared pair by pair.
const FEW: usize = 32;

/// Keeps the first of equal values, in order.
pub(crate) fn say_once<T: PartialEq + Debug>(list: &mut Vec<T>) {
    if list.len() > FEW {
        // what is the same reads the same
        let mut said = HashSet::new();
        list.retain(|one| said.insert(format!("{one:?}")));
        return;
    }
    let mut at = 1;
    while at < list.len() {
        if list[..at].contains(&list[at]) {
            list.remove(at);
        } else {
            at += 1;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_value_is_said_once_and_in_order_however_many_there_are() {
        let mut few = vec![3, 1, 3, 2, 1];
        say_once(&mut few);
        assert_eq!(few, [3, 1, 2]);
        let mut many: Vec<usize> = (0..500).map(|number| number % 100).collect();
        say_once(&mut many);
        assert_eq!(many, (0..100).collect::<Vec<_>>());
    }
}
