//! Work shared by several threads, results taken in order. Why it is made by hand: `docs/decisions/0009-many-tracks.md`.

use std::io;
use std::num::NonZero;
use std::ops::ControlFlow;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{self, Receiver, Sender, SyncSender};
use std::sync::{Arc, Mutex};
use std::thread;

use crate::failure::Stop;

/// How many jobs may be done before their turn, for each thread.
const AHEAD_OF_TURN: usize = 8;
/// How many results of one job may wait for their turn.
const WAITING: usize = 8;

/// Where a job puts its results, one after another; it ends when told that nobody wants any more.
pub(crate) type Give<'a, R> = &'a mut dyn FnMut(R) -> ControlFlow<()>;

/// The threads that were asked for; else one for each core.
pub(crate) fn threads_or_cores(asked: Option<NonZero<usize>>) -> NonZero<usize> {
    asked.or_else(|| thread::available_parallelism().ok()).unwrap_or(NonZero::<usize>::MIN)
}

/// Does `work` on each job on so many threads, and gives all results to `take` in the order of the jobs, whoever is ready first.
///
/// However many jobs there are, few are read ahead, and the results of few wait. The next job is read on a thread of its own,
/// so that results are taken while it is not there yet. With one thread all happens on the caller's. Where `take` stops, work
/// that has not begun is not begun.
///
/// # Errors
///
/// What `take` stops with; [`Stop::Unreadable`] where no thread can be started.
pub(crate) fn in_order<J: Send, R: Send>(
    threads: NonZero<usize>,
    jobs: impl Iterator<Item = J> + Send,
    work: impl Fn(J, Give<'_, R>) -> ControlFlow<()> + Sync,
    mut take: impl FnMut(R) -> Result<(), Stop>,
) -> Result<(), Stop> {
    if threads.get() == 1 {
        for job in jobs {
            one_by_one(job, &work, &mut take)?;
        }
        return Ok(());
    }
    let is_over = AtomicBool::new(false);
    thread::scope(|scope| {
        let (turns, taken) = mpsc::sync_channel(AHEAD_OF_TURN * threads.get());
        let (to_do, waiting) = mpsc::channel();
        let waiting = Arc::new(Mutex::new(waiting));
        let mut failure = None;
        let mut begun = 0;
        for _ in 0..threads.get() {
            let (waiting, work, is_over) = (Arc::clone(&waiting), &work, &is_over);
            match thread::Builder::new().spawn_scoped(scope, move || work_off(&waiting, work, is_over)) {
                Ok(_) => begun += 1,
                Err(error) => failure = Some(error),
            }
        }
        drop(waiting);
        if let Some(error) = failure.filter(|_| begun == 0) {
            return Err(no_thread(&error));
        }
        let reader = thread::Builder::new().spawn_scoped(scope, move || hand_out(jobs, &turns, &to_do));
        reader.map_err(|error| no_thread(&error))?;
        let done = taken.into_iter().flatten().try_for_each(take);
        is_over.store(true, Ordering::Relaxed);
        done
    })
}

fn one_by_one<J, R>(
    job: J,
    work: impl Fn(J, Give<'_, R>) -> ControlFlow<()>,
    take: &mut impl FnMut(R) -> Result<(), Stop>,
) -> Result<(), Stop> {
    let mut done = Ok(());
    // why it ended early stands in `done`
    let _ended = work(job, &mut |result| {
        done = take(result);
        if done.is_ok() { ControlFlow::Continue(()) } else { ControlFlow::Break(()) }
    });
    done
}

/// Gives each job a turn and then to whoever is free, until nobody takes turns any more. No more jobs wait than there are turns.
fn hand_out<J, R>(
    jobs: impl Iterator<Item = J>,
    turns: &SyncSender<Receiver<R>>,
    to_do: &Sender<(J, SyncSender<R>)>,
) {
    for job in jobs {
        let (results, turn) = mpsc::sync_channel(WAITING);
        if turns.send(turn).is_err() || to_do.send((job, results)).is_err() {
            return;
        }
    }
}

/// Takes one job after another, until there are no more or nobody wants their results.
fn work_off<J, R>(
    waiting: &Mutex<Receiver<(J, SyncSender<R>)>>,
    work: impl Fn(J, Give<'_, R>) -> ControlFlow<()>,
    is_over: &AtomicBool,
) {
    loop {
        let next = waiting.lock().map(|waiting| waiting.recv());
        let Ok(Ok((job, results))) = next else { return };
        if is_over.load(Ordering::Relaxed) {
            return;
        }
        let mut give = |result| match results.send(result) {
            Ok(()) => ControlFlow::Continue(()),
            Err(_) => ControlFlow::Break(()),
        };
        if work(job, &mut give).is_break() {
            return;
        }
    }
}

fn no_thread(error: &io::Error) -> Stop {
    Stop::Unreadable(format!("no thread can be started: {error}\n  try --threads 1"))
}

#[cfg(test)]
mod tests {
    use std::sync::atomic::AtomicUsize;
    use std::time::Duration;

    use super::*;

    fn threads(count: usize) -> NonZero<usize> {
        NonZero::new(count).unwrap()
    }

    #[test]
    fn results_come_in_order_whoever_is_ready_first() {
        for count in [1, 2, 8] {
            let mut taken = Vec::new();
            let slow_first = |number: usize, give: Give<'_, (usize, u8)>| {
                thread::sleep(Duration::from_millis(if number == 0 { 30 } else { 0 }));
                // more of them than may wait
                (0..20).try_for_each(|part| give((number, part)))
            };
            let done = in_order(threads(count), 0..50, slow_first, |result| {
                taken.push(result);
                Ok(())
            });
            assert!(done.is_ok());
            let expected: Vec<_> =
                (0..50).flat_map(|number| (0..20).map(move |part| (number, part))).collect();
            assert_eq!(taken, expected, "{count} threads");
        }
    }

    #[test]
    fn a_reader_that_has_seen_enough_stops_the_work() {
        for count in [1, 2, 8] {
            let begun = AtomicUsize::new(0);
            let work = |number: usize, give: Give<'_, usize>| {
                begun.fetch_add(1, Ordering::Relaxed);
                give(number)
            };
            let stopped = in_order(threads(count), 0..100_000, work, |_| Err(Stop::Usage("enough".into())));
            assert!(stopped.is_err());
            assert!(begun.load(Ordering::Relaxed) < 1_000, "{count} threads");
        }
    }

    #[test]
    fn few_results_wait_for_the_first() {
        let begun = AtomicUsize::new(0);
        let most_ahead = AtomicUsize::new(0);
        let work = |number: usize, give: Give<'_, usize>| {
            let so_far = begun.fetch_add(1, Ordering::Relaxed);
            if number == 0 {
                thread::sleep(Duration::from_millis(50));
                most_ahead.store(begun.load(Ordering::Relaxed), Ordering::Relaxed);
            }
            give(so_far)
        };
        assert!(in_order(threads(2), 0..100_000, work, |_| Ok(())).is_ok());
        // those whose turn is kept, the one that is taken, and those in hand
        assert!(most_ahead.load(Ordering::Relaxed) <= 2 * AHEAD_OF_TURN + 2);
    }

    #[test]
    fn results_are_taken_while_the_next_job_is_not_there_yet() {
        let (told, hears) = mpsc::channel();
        let hears = Mutex::new(hears);
        // the second job comes only once the result of the first was taken
        let jobs = (0..2).inspect(|number| {
            if *number == 1 {
                hears.lock().unwrap().recv_timeout(Duration::from_secs(20)).unwrap();
            }
        });
        for count in [1, 2] {
            let done = in_order(
                threads(count),
                jobs.clone(),
                |number, give| give(number),
                |_: usize| {
                    told.send(()).unwrap();
                    Ok(())
                },
            );
            assert!(done.is_ok());
            while hears.lock().unwrap().try_recv().is_ok() {}
        }
    }
}
