//! Dates and seasons that cannot be meant, and editions that are over.

use jiff::civil::{Date, Weekday};
use jiff::tz::TimeZone;
use jiff::{Timestamp, ToSpan};
use takeline::rule::{AnnualWindow, When};
use takeline::zone::{Status, Zone};
use takeline::zone_file::LoadedFile;

use super::{Finding, FindingKind, Repair, SourceMember, Spot};

/// Now, as far as it is known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Today {
    /// The instant.
    pub now: Timestamp,
    /// The day, anywhere on Earth the latest that it can be.
    pub latest_day: Date,
}

impl Today {
    /// Takes an instant; somewhere on Earth it may be the next day already.
    #[must_use]
    pub fn at(now: Timestamp) -> Self {
        let latest = now.checked_add(14.hours()).unwrap_or(now);
        Self { now, latest_day: TimeZone::UTC.to_datetime(latest).date() }
    }
}

/// Days before its end on which an edition is said to run out.
const RUNS_OUT_HOURS: i64 = 30 * 24;

fn member(path: &[&str]) -> Vec<String> {
    path.iter().map(|word| (*word).to_owned()).collect()
}

/// What the head of a file shows.
pub(super) fn of_file(loaded: &LoadedFile, today: Option<Today>, found: &mut Vec<Finding>) {
    let spot = |path: &[&str]| Spot { member: member(path), ..Spot::default() };
    if loaded.file.edition.is_none() {
        let kind = FindingKind::SourceIncomplete(vec![SourceMember::Edition]);
        found.push(Finding::at(kind, spot(&["takeline"])));
    }
    let Some(today) = today else { return };
    if let Some(until) = loaded.file.valid_until {
        let soon = today.now.checked_add(RUNS_OUT_HOURS.hours()).unwrap_or(today.now);
        let kind = if until <= today.now {
            Some(FindingKind::EditionExpired(until))
        } else {
            (until <= soon).then_some(FindingKind::EditionRunsOut(until))
        };
        found.extend(kind.map(|kind| Finding::at(kind, spot(&["takeline", "valid_until"]))));
    }
    found.extend(loaded.issued.and_then(|day| in_future(day, today, spot(&["takeline", "issued"]))));
}

fn in_future(day: Date, today: Today, spot: Spot) -> Option<Finding> {
    if day <= today.latest_day {
        return None;
    }
    let exchanged = Date::new(day.year(), day.day(), day.month()).ok();
    let repairs =
        exchanged.filter(|other| *other <= today.latest_day).map(Repair::Date).into_iter().collect();
    Some(Finding::new(FindingKind::DateInFuture(day), spot, repairs))
}

/// What the dates of a zone show.
pub(super) fn of_zone(zone: &Zone, spot: &Spot, today: Option<Today>, found: &mut Vec<Finding>) {
    let at = |path: &[&str]| Spot { member: member(path), ..spot.clone() };
    let missing: Vec<SourceMember> = [
        zone.source.clause.is_none().then_some(SourceMember::Clause),
        zone.source.retrieved.is_none().then_some(SourceMember::Retrieved),
    ]
    .into_iter()
    .flatten()
    .collect();
    if !missing.is_empty() {
        found.push(Finding::at(FindingKind::SourceIncomplete(missing), at(&["source"])));
    }
    if let (Some(day), Some(today)) = (zone.source.retrieved, today) {
        found.extend(in_future(day, today, at(&["source", "retrieved"])));
    }
    if let (Some(record), Some(today)) = (&zone.proofread, today) {
        found.extend(in_future(record.on, today, at(&["proofread", "on"])));
    }
    let over = zone.effective.until.filter(|until| today.is_some_and(|today| *until <= today.now));
    if let Some(until) = over.filter(|_| zone.status == Status::InForce) {
        found.push(Finding::at(FindingKind::RuleOver(until), at(&["effective"])));
    }
    if never(&zone.when) || outside_effective(zone) {
        found.push(Finding::at(FindingKind::NeverInForce, at(&["when"])));
    }
    windows(&zone.when, &mut |window| found.extend(exchanged(window, at(&["when"]))));
}

/// Whether dates of a rule lie wholly outside the time in which its edition has effect.
#[expect(clippy::wildcard_enum_match_arm, reason = "what is not plain is not judged")]
fn outside_effective(zone: &Zone) -> bool {
    let first = |day: Date| day.to_zoned_datetime(zone.time_zone.clone()).ok().map(|zoned| zoned.timestamp());
    let outside = |from: Date, to: Date| {
        let ends_before = to.tomorrow().ok().and_then(first).zip(zone.effective.from);
        let begins_after = first(from).zip(zone.effective.until);
        ends_before.is_some_and(|(end, from)| end <= from)
            || begins_after.is_some_and(|(begin, until)| begin >= until)
    };
    match &zone.when {
        When::Dates(range) => outside(range.from, range.to),
        When::Days(days) => !days.is_empty() && days.iter().all(|day| outside(*day, *day)),
        _ => false,
    }
}

/// Whether no instant can be in it; no where that is not plain.
#[expect(clippy::wildcard_enum_match_arm, reason = "what is not plain is not judged")]
fn never(when: &When) -> bool {
    match when {
        When::Days(days) => days.is_empty(),
        When::Weekdays(days) => days.is_empty(),
        When::Any(of) => of.iter().all(never),
        When::All(of) => of.iter().any(never) || never_together(of),
        When::Not(of) => **of == When::Always,
        _ => false,
    }
}

/// Whether windows of the year, or days of the week, of which all have to hold, have no day in common.
#[expect(clippy::wildcard_enum_match_arm, reason = "what is not plain is not judged")]
fn never_together(all: &[When]) -> bool {
    let (mut days_of_year, mut days_of_week) = ([true; 372], [true; 7]);
    for when in all {
        match when {
            When::Yearly(window) => {
                let place = |(month, day): (i8, i8)| {
                    usize::try_from(i32::from(month - 1) * 31 + i32::from(day) - 1).unwrap_or_default()
                };
                let (from, to) = (place(window.from), place(window.to));
                for (day, holds) in days_of_year.iter_mut().enumerate() {
                    *holds &= if from <= to { (from..=to).contains(&day) } else { day >= from || day <= to };
                }
            }
            When::Weekdays(days) => {
                let listed = |at: usize| days.iter().any(|day| day_number(*day) == at);
                days_of_week.iter_mut().enumerate().for_each(|(at, holds)| *holds &= listed(at));
            }
            _ => {}
        }
    }
    !days_of_year.contains(&true) || !days_of_week.contains(&true)
}

fn day_number(day: Weekday) -> usize {
    usize::try_from(day.to_monday_zero_offset()).unwrap_or_default()
}

#[expect(clippy::wildcard_enum_match_arm, reason = "other conditions have no window of the year")]
fn windows(when: &When, see: &mut impl FnMut(AnnualWindow)) {
    match when {
        When::Yearly(window) => see(*window),
        When::All(of) | When::Any(of) => of.iter().for_each(|when| windows(when, see)),
        When::Not(of) => windows(of, see),
        _ => {}
    }
}

/// A season that ends with a month but begins some days into January, while with day and month exchanged it begins with a month:
/// 01-05 to 08-31. Or one of a few days that would be one of some months, from the first of a month to the last: 01-05 to 01-09.
fn exchanged(window: AnnualWindow, spot: Spot) -> Option<Finding> {
    let (from, to) = (window.from, window.to);
    let swapped = |(month, day): (i8, i8)| (day <= 12 && day != month).then_some((day, month));
    let begins_a_month = |(_, day): (i8, i8)| day == 1;
    let ends_a_month = |(month, day): (i8, i8)| {
        day >= Date::constant(2023, 1, 1).with().month(month).build().map_or(31, Date::days_in_month)
    };
    let other = swapped(from).filter(|other| begins_a_month(*other))?;
    if begins_a_month(from) {
        return None;
    }
    let from_alone = ends_a_month(to) && swapped(to).is_none();
    let both = swapped(to).filter(|to| begins_a_month(*to) && other.0 < to.0);
    (from_alone || both.is_some()).then(|| {
        let repairs =
            [Some(Repair::MonthDay(other.0, other.1)), both.map(|(month, day)| Repair::MonthDay(month, day))];
        let repairs = repairs.into_iter().flatten().collect();
        Finding::new(FindingKind::DayMonth { written: from }, spot, repairs)
    })
}

#[cfg(test)]
mod tests {
    use takeline::rule::WindowEnds;

    use super::*;

    fn season(from: (i8, i8), to: (i8, i8)) -> AnnualWindow {
        AnnualWindow { from, to, ends: WindowEnds::Included }
    }

    #[test]
    fn day_and_month_exchanged_are_seen_where_the_exchange_makes_sense() {
        let is_odd = |from, to| exchanged(season(from, to), Spot::default()).is_some();
        assert!(is_odd((1, 5), (8, 31)), "1 May to 31 August");
        assert!(is_odd((1, 5), (1, 9)), "1 May to 1 September");
        for (from, to) in
            [((5, 1), (8, 31)), ((12, 1), (2, 15)), ((1, 1), (3, 31)), ((1, 5), (8, 14)), ((3, 12), (6, 30))]
        {
            assert!(!is_odd(from, to), "{from:?} {to:?}");
        }
    }

    #[test]
    fn windows_without_a_common_day_are_never() {
        let summer = When::Yearly(season((6, 1), (8, 31)));
        let winter = When::Yearly(season((12, 1), (2, 28)));
        let late = When::Yearly(season((8, 31), (9, 2)));
        assert!(never(&When::All(vec![summer.clone(), winter.clone()])));
        assert!(!never(&When::All(vec![summer.clone(), late])));
        assert!(!never(&When::Any(vec![summer, winter])));
        let (one, other) = (When::Weekdays(vec![Weekday::Monday]), When::Weekdays(vec![Weekday::Sunday]));
        assert!(never(&When::All(vec![one.clone(), other])));
        assert!(!never(&one));
    }
}
