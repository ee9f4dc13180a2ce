//! When a rule holds: the same times written in two ways, and times that lie in others.

use jiff::Timestamp;
use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;
use takeline::rule::{AnnualWindow, When, WindowEnds};

use super::change::Effect;
use super::effect::by_growth;

/// The span over which two time zones are compared: from the beginning of 1970 to that of 2100, in seconds of Unix time.
const COMPARED_S: (i64, i64) = (0, 4_102_444_800);

/// The same times, written in one way: lists in order and without repeats, nothing wrapped that says nothing.
pub(super) fn plain(when: &When) -> When {
    match when {
        When::Days(days) => When::Days(in_order(days.clone(), |day: &Date| *day)),
        When::Weekdays(days) => {
            let days = in_order(days.clone(), |day: &Weekday| day.to_monday_zero_offset());
            if days.len() == 7 { When::Always } else { When::Weekdays(days) }
        }
        When::Yearly(AnnualWindow { from: (1, 1), to: (12, 31), ends: WindowEnds::Included }) => When::Always,
        When::All(members) => {
            let mut members =
                flattened(
                    members,
                    |member| {
                        if let When::All(members) = member { Ok(members) } else { Err(member) }
                    },
                );
            members.retain(|member| *member != When::Always);
            if members.is_empty() { When::Always } else { alone_or(members, When::All) }
        }
        When::Any(members) => {
            let members =
                flattened(
                    members,
                    |member| {
                        if let When::Any(members) = member { Ok(members) } else { Err(member) }
                    },
                );
            if members.contains(&When::Always) { When::Always } else { alone_or(members, When::Any) }
        }
        When::Not(member) => {
            let member = plain(member);
            if let When::Not(twice) = member { *twice } else { When::Not(Box::new(member)) }
        }
        When::Always
        | When::Dates(_)
        | When::Yearly(_)
        | When::NthWeekday(_)
        | When::Hours(_)
        | When::Sun(_)
        | When::Unknowable(_) => when.clone(),
    }
}

fn in_order<T, K: Ord>(mut list: Vec<T>, key: impl Fn(&T) -> K) -> Vec<T> {
    list.sort_by_key(|one| key(one));
    list.dedup_by_key(|one| key(one));
    list
}

/// Members in one order, each once, those that are lists of the same kind taken apart.
fn flattened(members: &[When], list: impl Fn(When) -> Result<Vec<When>, When>) -> Vec<When> {
    let members =
        members.iter().map(plain).flat_map(|member| list(member).unwrap_or_else(|member| vec![member]));
    // their own text is an order as good as any other
    in_order(members.collect(), |member: &When| format!("{member:?}"))
}

fn alone_or(members: Vec<When>, several: impl Fn(Vec<When>) -> When) -> When {
    match <[When; 1]>::try_from(members) {
        Ok([only]) => only,
        Err(members) => several(members),
    }
}

/// Whether nobody can know offline when it holds.
pub(super) fn is_unknowable(when: &When) -> bool {
    match when {
        When::Unknowable(_) => true,
        When::All(members) | When::Any(members) => members.iter().any(is_unknowable),
        When::Not(member) => is_unknowable(member),
        When::Always
        | When::Dates(_)
        | When::Days(_)
        | When::Yearly(_)
        | When::Weekdays(_)
        | When::NthWeekday(_)
        | When::Hours(_)
        | When::Sun(_) => false,
    }
}

/// What a rule does that holds longer, or for less long.
pub(super) fn of_times(from: &When, to: &When) -> Effect {
    // what nobody can know may have been, or may be, always or never
    if is_unknowable(from) || is_unknowable(to) {
        return Effect::Undecided;
    }
    by_growth(covers(to, from), covers(from, to))
}

/// Whether all the times of one lie in another, as far as that can be seen.
fn covers(wide: &When, narrow: &When) -> bool {
    match (wide, narrow) {
        (When::Always, _) => true,
        (When::Yearly(wide), When::Yearly(narrow)) => {
            let known = |ends| matches!(ends, WindowEnds::Included | WindowEnds::Excluded);
            let wraps = wide.to < wide.from || narrow.to < narrow.from;
            known(wide.ends)
                && wide.ends == narrow.ends
                && !wraps
                && wide.from <= narrow.from
                && narrow.to <= wide.to
        }
        (When::Dates(wide), When::Dates(narrow)) => {
            wide.ends == narrow.ends
                && wide.ends != WindowEnds::Unstated
                && wide.from <= narrow.from
                && narrow.to <= wide.to
        }
        (When::Days(wide), When::Days(narrow)) => narrow.iter().all(|day| wide.contains(day)),
        (When::Weekdays(wide), When::Weekdays(narrow)) => narrow.iter().all(|day| wide.contains(day)),
        (When::Hours(wide), When::Hours(narrow)) => {
            let wraps = wide.to <= wide.from || narrow.to <= narrow.from;
            !wraps && wide.from <= narrow.from && narrow.to <= wide.to
        }
        (When::Any(members), narrow) => members.iter().any(|wide| wide == narrow || covers(wide, narrow)),
        (wide, When::All(members)) => members.iter().any(|narrow| wide == narrow || covers(wide, narrow)),
        _ => wide == narrow,
    }
}

/// Whether two time zones give the same clock, however they are called.
pub(super) fn is_one_clock(one: &TimeZone, other: &TimeZone) -> bool {
    if one == other {
        return true;
    }
    let (begin, end) = (Timestamp::from_second(COMPARED_S.0), Timestamp::from_second(COMPARED_S.1));
    let (Ok(begin), Ok(end)) = (begin, end) else { return false };
    let changes = |zone: &TimeZone| -> Vec<_> {
        let following = zone.following(begin).take_while(|change| change.timestamp() < end);
        following.map(|change| (change.timestamp(), change.offset())).collect()
    };
    one.to_offset(begin) == other.to_offset(begin) && changes(one) == changes(other)
}
