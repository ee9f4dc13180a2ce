//! Contenders that take turns, so that a busy machine hits all of them alike.

use rustix::time::{ClockId, Timespec, clock_gettime};

/// Seconds that each contender took in each round.
#[derive(Debug)]
pub(crate) struct Rounds(Vec<Vec<f64>>);

impl Rounds {
    /// Runs all contenders one after the other, and that so many times. Each says itself how many seconds it took.
    pub(crate) fn run(passes: usize, contenders: &mut [&mut dyn FnMut() -> f64]) -> Self {
        let mut seconds = vec![Vec::with_capacity(passes); contenders.len()];
        for _ in 0..passes {
            for (contender, seconds) in contenders.iter_mut().zip(&mut seconds) {
                seconds.push(contender());
            }
        }
        Self(seconds)
    }

    /// As [`Self::run`], where a contender may fail.
    pub(crate) fn try_run<E>(
        passes: usize,
        contenders: &mut [&mut dyn FnMut() -> Result<f64, E>],
    ) -> Result<Self, E> {
        let mut seconds = vec![Vec::with_capacity(passes); contenders.len()];
        for _ in 0..passes {
            for (contender, seconds) in contenders.iter_mut().zip(&mut seconds) {
                seconds.push(contender()?);
            }
        }
        Ok(Self(seconds))
    }

    /// The median of one contender's seconds.
    pub(crate) fn seconds(&self, contender: usize) -> f64 {
        self.0.get(contender).map_or(f64::NAN, |seconds| median(seconds.clone()))
    }

    /// The median of what one contender took over what another took in the same round.
    pub(crate) fn ratio(&self, own: usize, peer: usize) -> f64 {
        let (Some(own), Some(peer)) = (self.0.get(own), self.0.get(peer)) else { return f64::NAN };
        median(own.iter().zip(peer).map(|(own, peer)| own / peer).collect())
    }
}

fn median(mut figures: Vec<f64>) -> f64 {
    figures.sort_by(f64::total_cmp);
    figures.get(figures.len() / 2).copied().unwrap_or(f64::NAN)
}

/// Seconds that this thread has spent on a processor: what others do meanwhile does not count.
pub(crate) fn cpu_seconds() -> f64 {
    let Timespec { tv_sec, tv_nsec } = clock_gettime(ClockId::ThreadCPUTime);
    tv_sec as f64 + tv_nsec as f64 * 1e-9
}

/// Seconds of processor time that some work of this thread takes.
pub(crate) fn seconds_of<T>(work: impl FnOnce() -> T) -> f64 {
    let started = cpu_seconds();
    std::hint::black_box(work());
    cpu_seconds() - started
}
