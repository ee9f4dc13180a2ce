//! Random times at which a rule is in force.

use jiff::civil::{Date, Time, Weekday};
use jiff::{Timestamp, ToSpan};
use takeline::Position;
use takeline::rule::{
    AnnualWindow, DateRange, Hours, NthWeekday, SunEvent, SunHours, SunPlace, SunTime, When, WindowEnds,
};

use crate::Dice;

/// The first instant of the year that random seasons and times lie in.
///
/// # Panics
///
/// Never: the text is a good one.
#[must_use]
pub fn first_instant() -> Timestamp {
    "2026-01-01T00:00:00Z".parse().expect("a good instant")
}

/// A random instant of that year, often on a full hour or at midnight.
///
/// # Panics
///
/// Never: the year lies well within what a timestamp holds.
pub fn instant(dice: &mut Dice) -> Timestamp {
    let minutes = i64::try_from(dice.below(365 * 24 * 60)).expect("minutes of a year");
    let minutes = match dice.below(4) {
        0 => minutes - minutes % 60,
        1 => minutes - minutes % (24 * 60),
        _ => minutes,
    };
    let seconds = if dice.chance(0.5) { 0 } else { i64::try_from(dice.below(60)).expect("below 60") };
    first_instant().checked_add((minutes * 60 + seconds).seconds()).expect("an instant of that year")
}

fn whole<T: TryFrom<usize>>(dice: &mut Dice, (low, high): (usize, usize)) -> T
where
    T::Error: std::fmt::Debug,
{
    T::try_from(low + dice.below(high - low + 1)).expect("a small number")
}

fn date(dice: &mut Dice) -> Date {
    jiff::civil::date(2026, whole(dice, (1, 12)), whole(dice, (1, 28)))
}

fn clock(dice: &mut Dice) -> Time {
    jiff::civil::time(whole(dice, (0, 23)), dice.one_of(&[0, 0, 30, 17]), 0, 0)
}

fn ends(dice: &mut Dice) -> WindowEnds {
    dice.one_of(&[WindowEnds::Included, WindowEnds::Included, WindowEnds::Excluded, WindowEnds::Unstated])
}

fn weekday(dice: &mut Dice) -> Weekday {
    Weekday::from_monday_zero_offset(whole(dice, (0, 6))).expect("one of seven")
}

fn sun_time(dice: &mut Dice, event: SunEvent) -> SunTime {
    SunTime { event, offset_minutes: dice.one_of(&[0, 0, 30, -60]) }
}

/// A random set of instants; `depth` says how far sets may be made of others. The sun's are those of a place.
pub fn when(dice: &mut Dice, depth: usize, sun_at: Position) -> When {
    let kinds = if depth == 0 { 9 } else { 12 };
    match dice.below(kinds) {
        0 => When::Always,
        1 => {
            let (one, two) = (date(dice), date(dice));
            When::Dates(DateRange { from: one.min(two), to: one.max(two), ends: ends(dice) })
        }
        2 => When::Days((0..=dice.below(3)).map(|_| date(dice)).collect()),
        3 => {
            let (from, to) = (date(dice), date(dice));
            When::Yearly(AnnualWindow {
                from: (from.month(), from.day()),
                to: (to.month(), to.day()),
                ends: ends(dice),
            })
        }
        4 => When::Weekdays((0..=dice.below(3)).map(|_| weekday(dice)).collect()),
        5 => When::NthWeekday(NthWeekday {
            nth: dice.one_of(&[1, 2, 3, -1]),
            weekday: weekday(dice),
            month: None,
            then_days: dice.one_of(&[0, 0, 2]),
        }),
        6 => {
            let (from, to) = (clock(dice), clock(dice));
            if from == to { When::Always } else { When::Hours(Hours { from, to }) }
        }
        7 => {
            let (from, to) = if dice.chance(0.5) {
                (SunEvent::Sunset, SunEvent::Sunrise)
            } else {
                (SunEvent::CivilDawn, SunEvent::CivilDusk)
            };
            let at = SunPlace { name: "Marrowick".to_owned(), position: sun_at };
            When::Sun(SunHours { from: sun_time(dice, from), to: sun_time(dice, to), at })
        }
        8 => When::Unknowable("when the quota is taken".to_owned()),
        9 => When::All((0..=dice.below(2)).map(|_| when(dice, depth - 1, sun_at)).collect()),
        10 => When::Any((0..=dice.below(2)).map(|_| when(dice, depth - 1, sun_at)).collect()),
        _ => When::Not(Box::new(when(dice, depth - 1, sun_at))),
    }
}
