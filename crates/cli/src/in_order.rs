//! Work shared by all cores, results taken in order. Why it is made by hand: `docs/decisions/0009-many-tracks.md`.

use std::collections::BTreeMap;
use std::num::NonZero;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc;
use std::thread;

use crate::stop::Stop;

/// Does `work` on 0, 1, 2 … below `count` on all cores, and gives each result to `take` in that order.
///
/// Where `take` stops, work that has not begun is not begun.
pub(crate) fn in_order<R: Send>(
    count: usize,
    work: impl Fn(usize) -> R + Sync,
    mut take: impl FnMut(R) -> Result<(), Stop>,
) -> Result<(), Stop> {
    let cores = thread::available_parallelism().map_or(1, NonZero::get);
    let next = AtomicUsize::new(0);
    thread::scope(|scope| {
        let (sender, receiver) = mpsc::sync_channel(cores);
        for _ in 0..cores.min(count) {
            let (sender, next, work) = (sender.clone(), &next, &work);
            scope.spawn(move || {
                loop {
                    let number = next.fetch_add(1, Ordering::Relaxed);
                    if number >= count || sender.send((number, work(number))).is_err() {
                        break;
                    }
                }
            });
        }
        drop(sender);
        let mut early = BTreeMap::new();
        let mut due = 0;
        for (number, result) in receiver {
            early.insert(number, result);
            while let Some(result) = early.remove(&due) {
                take(result)?;
                due += 1;
            }
        }
        Ok(())
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn results_come_in_order_whoever_is_ready_first() {
        let mut taken = Vec::new();
        let slow_first = |number: usize| {
            thread::sleep(std::time::Duration::from_millis(if number == 0 { 30 } else { 0 }));
            number
        };
        let done = in_order(50, slow_first, |number| {
            taken.push(number);
            Ok(())
        });
        assert!(done.is_ok());
        assert_eq!(taken, (0..50).collect::<Vec<_>>());
    }

    #[test]
    fn a_reader_that_has_seen_enough_stops_the_work() {
        let begun = AtomicUsize::new(0);
        let work = |number: usize| {
            begun.fetch_add(1, Ordering::Relaxed);
            number
        };
        let stopped = in_order(100_000, work, |_| Err(Stop::Usage("enough".into())));
        assert!(stopped.is_err());
        assert!(begun.load(Ordering::Relaxed) < 100_000);
    }
}
