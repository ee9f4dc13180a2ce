//! Messages that may come by the million: the first are told, the rest is counted.

use takeline::zone_file::Fault;

use crate::failure::say;

/// The most messages of one sort that are told.
pub(crate) const MOST: u64 = 20;
/// The most faults of a file that is refused.
const MOST_FAULTS: usize = 20;

/// Messages of one sort.
#[derive(Debug)]
pub(crate) struct Talk {
    /// What they are, in the plural: "rows that could not be read".
    sort: String,
    count: u64,
}

impl Talk {
    pub(crate) fn about(sort: impl Into<String>) -> Self {
        Self { sort: sort.into(), count: 0 }
    }

    /// Says one of them, if not too many were said.
    pub(crate) fn say(&mut self, text: impl FnOnce() -> String) {
        self.count += 1;
        if self.count <= MOST {
            say(&text());
        }
    }

    /// Counts some that are not worth saying, because too many were said before them.
    pub(crate) fn count(&mut self, more: u64) {
        self.count += more;
    }

    /// Says how many were only counted.
    pub(crate) fn finish(self) {
        let more = self.count.saturating_sub(MOST);
        if more > 0 {
            say(&format!("… and {more} more {}", self.sort));
        }
    }
}

/// Says what is wrong or odd about one file.
pub(crate) fn say_all<T>(sort: impl Into<String>, all: &[T], text: impl Fn(&T) -> String) {
    let mut talk = Talk::about(sort);
    for one in all {
        talk.say(|| text(one));
    }
    talk.finish();
}

/// The first faults of a file that was refused, one on each line: what is wrong is mostly wrong in one way.
pub(crate) fn first_faults(path: &str, faults: &[Fault], more: usize) -> String {
    let listed = faults.iter().take(MOST_FAULTS).map(|fault| format!("{path}: {fault}"));
    let mut lines: Vec<String> = listed.collect();
    let rest = more + faults.len().saturating_sub(MOST_FAULTS);
    if rest > 0 {
        lines.push(format!("{path}: … and {rest} more faults"));
    }
    lines.join("\n")
}
