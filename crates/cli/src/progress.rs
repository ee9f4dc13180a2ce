//! How far the work is, for whoever watches a terminal: a line that goes away again and never gets into what is written.

use std::env;
use std::io::{self, BufRead, IsTerminal};
use std::sync::Mutex;
use std::sync::mpsc::{self, RecvTimeoutError, Sender};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressState, ProgressStyle};

/// Work that is done sooner shows nothing.
const SHOWN_AFTER: Duration = Duration::from_secs(1);
const DRAWN_EVERY: Duration = Duration::from_millis(500);
/// No colours: there are none to switch off.
const WITH_END: &str = "[{bar:20}] {msg}{left}";
const WITHOUT_END: &str = "{msg}";

/// The line that is on the terminal now.
static SHOWN: Mutex<Option<ProgressBar>> = Mutex::new(None);

/// How far the work is.
#[derive(Debug)]
pub(crate) struct Progress {
    bar: ProgressBar,
    /// Shows the line after a while, unless the other end is dropped before.
    shower: Option<(Sender<()>, JoinHandle<()>)>,
}

impl Progress {
    /// Begins work of so much, or of nobody knows how much; `words` say what is done. Nothing shows where standard error is no terminal.
    pub(crate) fn of(length: Option<u64>, words: &'static str) -> Self {
        let bar = ProgressBar::with_draw_target(length, ProgressDrawTarget::hidden());
        let bar = bar.with_style(style(length)).with_message(words);
        let (is_done, hears_done) = mpsc::channel();
        let shown = bar.clone();
        let show = move || {
            if hears_done.recv_timeout(SHOWN_AFTER) == Err(RecvTimeoutError::Timeout) {
                shown.set_draw_target(ProgressDrawTarget::stderr());
                shown.enable_steady_tick(DRAWN_EVERY);
            }
        };
        if is_watched() {
            set_shown(Some(bar.clone()));
            // where no thread can be started, nothing shows
            if let Ok(shower) = thread::Builder::new().spawn(show) {
                return Self { bar, shower: Some((is_done, shower)) };
            }
        }
        Self { bar, shower: None }
    }

    /// Work that shows nothing of how far it is.
    pub(crate) fn unseen() -> Self {
        Self { bar: ProgressBar::hidden(), shower: None }
    }

    /// More is done; `words` say what is done by now.
    pub(crate) fn add(&self, more: u64, words: impl FnOnce() -> String) {
        if self.shower.is_some() {
            self.bar.set_message(words());
            self.bar.inc(more);
        }
    }

    /// Says what is done now.
    pub(crate) fn turn_to(&self, words: &'static str) {
        self.bar.set_message(words);
    }

    /// An input that counts what is read from it.
    pub(crate) fn counts(&self, input: Box<dyn BufRead>) -> Box<dyn BufRead> {
        if self.shower.is_some() { Box::new(self.bar.wrap_read(input)) } else { input }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((is_done, shower)) = self.shower.take() {
            drop(is_done);
            // one that failed shows nothing
            drop(shower.join());
            self.bar.finish_and_clear();
            set_shown(None);
        }
    }
}

/// Writes to the terminal with the line out of the way. What is written in there must not come here again.
pub(crate) fn beside_progress<T>(write: impl FnOnce() -> T) -> T {
    let shown = SHOWN.lock().ok().and_then(|shown| shown.clone());
    match shown {
        Some(bar) => bar.suspend(write),
        None => write(),
    }
}

/// Whether somebody sees standard error, on a terminal that can take a line back.
fn is_watched() -> bool {
    io::stderr().is_terminal() && env::var_os("TERM").is_none_or(|kind| kind != "dumb")
}

fn set_shown(bar: Option<ProgressBar>) {
    if let Ok(mut shown) = SHOWN.lock() {
        *shown = bar;
    }
}

fn style(length: Option<u64>) -> ProgressStyle {
    let template = if length.is_some() { WITH_END } else { WITHOUT_END };
    // the templates are ours, and sound
    let style = ProgressStyle::with_template(template).unwrap_or_else(|_| ProgressStyle::default_bar());
    style.progress_chars("=> ").with_key("left", |state: &ProgressState, line: &mut dyn std::fmt::Write| {
        // a line that cannot be put together is not shown
        let _written = line.write_str(&left(state));
    })
}

fn left(state: &ProgressState) -> String {
    let is_under_way = state.pos() > 0 && state.len().is_some_and(|length| state.pos() < length);
    if is_under_way { about(state.eta()) } else { String::new() }
}

/// How long yet, in words: no more exactly than anybody can know.
fn about(left: Duration) -> String {
    let seconds = left.as_secs();
    match seconds {
        0..=1 => ", a moment left".to_owned(),
        2..=99 => format!(", about {seconds} s left"),
        100..=7_199 => format!(", about {} min left", seconds.div_ceil(60)),
        _ => format!(", about {} h left", seconds.div_ceil(3_600)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn how_long_yet_is_said_in_round_words() {
        let said = |seconds| about(Duration::from_secs(seconds));
        assert_eq!(said(0), ", a moment left");
        assert_eq!(said(42), ", about 42 s left");
        assert_eq!(said(125), ", about 3 min left");
        assert_eq!(said(7_300), ", about 3 h left");
    }

    #[test]
    fn the_templates_are_sound() {
        for template in [WITH_END, WITHOUT_END] {
            assert!(ProgressStyle::with_template(template).is_ok(), "{template}");
        }
    }
}
