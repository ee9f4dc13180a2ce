//! How many fish were kept up to a moment, by whom and on which day.

use std::collections::BTreeMap;

use jiff::Timestamp;
use jiff::civil::Date;

/// Whose fish: a person by folded name; none for the boat, or where no row names anybody.
pub(super) type Who = Option<String>;

/// Fish that count against one limit.
#[derive(Debug, Clone)]
pub(super) struct Counted {
    pub(super) row: usize,
    /// Whose; none where that is not known though others are named.
    pub(super) who: Option<Who>,
    pub(super) at: Option<(Timestamp, Date)>,
    pub(super) count: u64,
    /// Whether it is sure that they count.
    pub(super) sure: bool,
}

/// Counts up to and including one moment.
#[derive(Debug, Clone, Copy, Default)]
struct Mark {
    time: Timestamp,
    day: Date,
    sure: u64,
    all: u64,
}

/// All that counts against one limit, by person and time.
#[derive(Debug, Default)]
pub(super) struct Ledger {
    by_who: BTreeMap<Who, Vec<Mark>>,
    /// Fish without a time, or of nobody knows whom, by whom as far as that is known.
    floating: BTreeMap<Option<Who>, u64>,
    all: u64,
    own: BTreeMap<usize, Counted>,
}

/// How many others count beside a row: surely before its moment, surely up to it, and at most up to it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Others {
    pub(super) before: u64,
    pub(super) sure: u64,
    pub(super) at_most: u64,
}

impl Ledger {
    pub(super) fn of(counted: &[Counted]) -> Self {
        let mut ledger = Self::default();
        for one in counted {
            ledger.all += one.count;
            ledger.own.insert(one.row, one.clone());
            match (&one.who, one.at) {
                (Some(who), Some((time, day))) => {
                    let sure = if one.sure { one.count } else { 0 };
                    ledger.by_who.entry(who.clone()).or_default().push(Mark {
                        time,
                        day,
                        sure,
                        all: one.count,
                    });
                }
                (who, _) => *ledger.floating.entry(who.clone()).or_default() += one.count,
            }
        }
        for marks in ledger.by_who.values_mut() {
            marks.sort_by_key(|mark| mark.time);
            let mut run = (0, 0);
            for mark in marks {
                run = (run.0 + mark.sure, run.1 + mark.all);
                (mark.sure, mark.all) = run;
            }
        }
        ledger
    }

    /// Counts the others beside a row. `each_day`: the limit is for a day; else fish of earlier days perhaps count.
    pub(super) fn others(&self, subject: &Counted, each_day: bool) -> Others {
        let own = self.own.get(&subject.row);
        let own_all = own.map_or(0, |own| own.count);
        let (Some(who), Some((time, day))) = (&subject.who, subject.at) else {
            return Others { before: 0, sure: 0, at_most: self.all - own_all };
        };
        let own_sure = own.filter(|own| own.sure).map_or(0, |own| own.count);
        let empty = Vec::new();
        let marks = self.by_who.get(who).unwrap_or(&empty);
        let upto = |end: usize| end.checked_sub(1).map_or((0, 0), |at| (marks[at].sure, marks[at].all));
        let start_of_day = upto(marks.partition_point(|mark| mark.day < day));
        let before = upto(marks.partition_point(|mark| mark.time < time));
        let till_now = upto(marks.partition_point(|mark| mark.time <= time));
        let floating: u64 = [None, Some(who.clone())].iter().filter_map(|who| self.floating.get(who)).sum();
        let from = if each_day { start_of_day.1 } else { 0 };
        Others {
            before: before.0.saturating_sub(start_of_day.0),
            sure: till_now.0 - start_of_day.0 - own_sure,
            at_most: till_now.1 - from - own_all + floating,
        }
    }
}
