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
    /// None: nobody knows whose.
    by_who: BTreeMap<Option<Who>, Vec<Mark>>,
    /// Fish without a time, likewise.
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

/// One person's fish up to a moment.
#[derive(Debug, Clone, Copy, Default)]
struct Upto {
    /// Sure ones of the day, before the moment.
    sure_before: u64,
    /// Sure ones of the day, those of the moment included.
    sure: u64,
    /// All of earlier days.
    all_earlier: u64,
    /// All, those of the moment included.
    all: u64,
}

impl Ledger {
    pub(super) fn of(counted: &[Counted]) -> Self {
        let mut ledger = Self::default();
        for one in counted {
            ledger.all += one.count;
            ledger.own.insert(one.row, one.clone());
            match one.at {
                Some((time, day)) => {
                    let sure = if one.sure && one.who.is_some() { one.count } else { 0 };
                    let marks = ledger.by_who.entry(one.who.clone()).or_default();
                    marks.push(Mark { time, day, sure, all: one.count });
                }
                None => *ledger.floating.entry(one.who.clone()).or_default() += one.count,
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
        let (Some(_), Some((time, day))) = (&subject.who, subject.at) else {
            return Others { before: 0, sure: 0, at_most: self.all - own_all };
        };
        let own_sure = own.filter(|own| own.sure).map_or(0, |own| own.count);
        let his = self.upto(subject.who.as_ref(), time, day);
        let anybodys = self.upto(None, time, day);
        let of_earlier_days = if each_day { his.all_earlier + anybodys.all_earlier } else { 0 };
        let floating: u64 = [&None, &subject.who].into_iter().filter_map(|who| self.floating.get(who)).sum();
        Others {
            before: his.sure_before,
            sure: his.sure - own_sure,
            at_most: his.all + anybodys.all - of_earlier_days - own_all + floating,
        }
    }

    fn upto(&self, who: Option<&Who>, time: Timestamp, day: Date) -> Upto {
        let Some(marks) = self.by_who.get(&who.cloned()) else { return Upto::default() };
        let run = |end: usize| end.checked_sub(1).map_or((0, 0), |at| (marks[at].sure, marks[at].all));
        let earlier = run(marks.partition_point(|mark| mark.day < day));
        let before = run(marks.partition_point(|mark| mark.time < time));
        let till_now = run(marks.partition_point(|mark| mark.time <= time));
        Upto {
            sure_before: before.0 - earlier.0,
            sure: till_now.0 - earlier.0,
            all_earlier: earlier.1,
            all: till_now.1,
        }
    }
}
