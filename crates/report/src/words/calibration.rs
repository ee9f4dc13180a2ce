//! What follows from fixes taken on a line, in English.

use std::borrow::Cow;

use takeline::transit::{CalibrationReason, FurtherFixes, LineOffset, Side, UnusedFix, UnusedFixes};

use super::{Words, joined};
use crate::figures::{self, Units};

pub(super) fn reason(words: &(impl Words + ?Sized), reason: &CalibrationReason) -> String {
    let units = words.units();
    let offset = |right_m: f64, doubt_m: f64| offset(words, right_m, doubt_m);
    match reason {
        CalibrationReason::LinePasses { front, at, is_stated_line } => {
            line_passes(words, front, at, *is_stated_line)
        }
        CalibrationReason::MarksStand {
            front,
            front_to_the_right_m,
            front_uncertainty_95_m,
            rear,
            rear_to_the_right_m,
            rear_uncertainty_95_m,
        } => format!(
            "by the fixes alone {front} stands {} of where it is said to, and {rear} {}",
            offset(*front_to_the_right_m, *front_uncertainty_95_m),
            offset(*rear_to_the_right_m, *rear_uncertainty_95_m)
        ),
        CalibrationReason::BothMarksOff { front, rear } => {
            format!("no error of {front} alone or of {rear} alone explains the fixes: both are off")
        }
        CalibrationReason::OtherMarkOff { mark, other } => {
            format!("no error of {mark} alone explains the fixes, so {other} is off")
        }
        CalibrationReason::OneMarkOff { mark, other, to_the_right_m, uncertainty_95_m } => format!(
            "{mark} stands {} of where it is said to, if {other} is where it is said to",
            offset(*to_the_right_m, *uncertainty_95_m)
        ),
        CalibrationReason::StatedErrorsTooSmall { times } => format!(
            "the stated errors of the marks do not explain that; away from the fixes they are taken as {times:.1} times as \
             large"
        ),
        CalibrationReason::FixesTellNothing {
            distance_from_front_m,
            to_the_right_m,
            uncertainty_95_m,
            stated_uncertainty_95_m,
        } => format!(
            "the fixes tell nothing: they put the line {} of the stated one at {}, and the stated places give it \
             there to ±{}",
            offset(*to_the_right_m, *uncertainty_95_m),
            figures::whole(units, *distance_from_front_m),
            figures::whole_up(units, *stated_uncertainty_95_m)
        ),
        CalibrationReason::FixesScatter { times } => format!(
            "the fixes scatter more than their accuracy and the eye allow; their doubt was taken as {times:.1} times as large"
        ),
        CalibrationReason::NotUsed { unused } => words.unused_fixes(unused),
        CalibrationReason::OneFixCannotTell { .. }
        | CalibrationReason::FixesTooNear { .. }
        | CalibrationReason::FixesTooFew { .. }
        | CalibrationReason::TakeFurtherFixes { .. }
        | CalibrationReason::NoFixesWouldTell
        | CalibrationReason::TakeMoreFixes { .. }
        | CalibrationReason::TakeBetterFixes
        | CalibrationReason::FixesCountAsFewer { .. } => what_fixes_lack(words, reason),
        other => other.code().to_owned(),
    }
}

pub(super) fn unused(words: &(impl Words + ?Sized), unused: &UnusedFixes) -> String {
    let why = why_unused(words, unused);
    match unused.numbers[..] {
        [number] => format!("fix {number} is not used: it is {why}"),
        _ => format!("fixes {} are not used: they are {why}", list(&unused.numbers)),
    }
}

fn why_unused(words: &(impl Words + ?Sized), unused: &UnusedFixes) -> Cow<'static, str> {
    let limit = |kilometres: f64| figures::limit(words.units(), kilometres);
    let why = match unused.why {
        UnusedFix::Between => "between the marks, where they cannot be seen in line",
        UnusedFix::Behind => {
            "behind the rear mark; if that is where they were seen, front and rear are swapped"
        }
        UnusedFix::TooFarAway => {
            return format!("more than {} from the front mark; check latitude and longitude", limit(100.0))
                .into();
        }
        UnusedFix::TooCoarse => {
            return format!("known no better than to {}, which tells nothing about a line", limit(1.0))
                .into();
        }
        UnusedFix::NeverOpens => {
            "so far out that the eye never sees the marks open, so they look in line everywhere"
        }
        UnusedFix::Opened => {
            "so far off that the marks stand open by more than 3 degrees there, three times their doubt counted; check the \
             fix and the marks"
        }
        UnusedFix::Outlier if unused.numbers.len() == 1 => {
            "an outlier, more than five standard deviations off the line that the other fixes agree on"
        }
        UnusedFix::Outlier => {
            "outliers, more than five standard deviations off the line that the other fixes agree on"
        }
        other => other.code(),
    };
    why.into()
}

/// Writes rising numbers as `2, 4 to 7 and 9`.
fn list(numbers: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for &number in numbers {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => runs.push((number, number)),
        }
    }
    let texts: Vec<String> = runs
        .into_iter()
        .flat_map(|(first, last)| match last - first {
            0 => vec![first.to_string()],
            1 => vec![first.to_string(), last.to_string()],
            _ => vec![format!("{first} to {last}")],
        })
        .collect();
    match texts.split_last() {
        Some((last, before)) if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        _ => texts.concat(),
    }
}

/// What fixes cannot tell, how many they count as, and what would tell more.
#[expect(clippy::wildcard_enum_match_arm, reason = "the kinds of one subject; `reason` names all kinds")]
fn what_fixes_lack(words: &(impl Words + ?Sized), reason: &CalibrationReason) -> String {
    let whole = |length_m: f64| figures::whole(words.units(), length_m);
    let what = |either_explains: bool| {
        if either_explains { "which mark is off" } else { "how far each mark is off" }
    };
    match reason {
        CalibrationReason::OneFixCannotTell { either_explains, distance_from_front_m } => format!(
            "one fix cannot tell {}, only where the line passes at {}",
            what(*either_explains),
            whole(*distance_from_front_m)
        ),
        CalibrationReason::FixesTooNear { either_explains, covered_m } => format!(
            "the fixes lie within {} of one another along the line, so they cannot tell {}",
            whole(*covered_m),
            what(*either_explains)
        ),
        CalibrationReason::FixesTooFew { either_explains, covered_m, separation_m } => format!(
            "the fixes cannot tell {}: over the {} along the line that they cover they are too few or too coarse for \
             marks {} apart",
            what(*either_explains),
            whole(*covered_m),
            whole(*separation_m)
        ),
        CalibrationReason::TakeFurtherFixes { front, ways } => format!(
            "to tell both marks, take fixes as good as these, each more than five minutes after the one before: {} \
             (distances from {front})",
            joined(ways, ", or ", |way| further(words, way))
        ),
        CalibrationReason::NoFixesWouldTell => {
            "no fixes from a small craft would tell the marks apart there; better places \
             of the marks would, from a chart, an aerial picture or a receiver held at them"
                .into()
        }
        CalibrationReason::TakeMoreFixes { fixes } => format!(
            "about {fixes} more fixes as good as these there, each more than five minutes after the one before, or fewer \
             and better ones, would tell more than the stated places do"
        ),
        CalibrationReason::TakeBetterFixes => {
            "only better fixes would tell more than the stated places do".into()
        }
        CalibrationReason::FixesCountAsFewer { fixes, independent, together_m } => format!(
            "{fixes} fixes count as {independent} in the doubt, for fixes within five minutes of one another share their \
             error; without a time, so do fixes within {} or three times their radius along the line",
            whole(*together_m)
        ),
        other => other.code().to_owned(),
    }
}

fn further(words: &(impl Words + ?Sized), way: &FurtherFixes) -> String {
    let or = if way.or_farther { "farther out" } else { "nearer" };
    format!("{} more at {} or {or}", way.fixes, figures::whole(words.units(), way.distance_from_front_m))
}

fn line_passes(
    words: &(impl Words + ?Sized),
    front: &str,
    at: &[LineOffset],
    is_stated_line: bool,
) -> String {
    let place = |at: &LineOffset| figures::whole(words.units(), at.distance_from_front.metres());
    let passes = |at: &LineOffset| offset(words, at.to_the_right.metres(), at.uncertainty_95.metres());
    let said = match at {
        [near, far] => format!(
            "{} of the stated line at {} from {front}, and {} at {}",
            passes(near),
            place(near),
            passes(far),
            place(far)
        ),
        places => joined(places, "; ", |at| {
            format!("{} of the stated line at {} from {front}", passes(at), place(at))
        }),
    };
    let agrees = if is_stated_line { "; within that doubt it is the stated line" } else { "" };
    format!("the line shown passes {said}{agrees}")
}

/// Writes an offset with its doubt: `20 m ±4 m to the right`.
fn offset(words: &(impl Words + ?Sized), to_the_right_m: f64, uncertainty_95_m: f64) -> String {
    let units = words.units();
    let doubt_m = if units == Units::Metric { uncertainty_95_m.max(1.0) } else { uncertainty_95_m };
    let [offset, doubt] = figures::with_doubt_up(units, to_the_right_m, doubt_m);
    if figures::is_nothing(&offset) {
        return format!("{offset} ±{doubt} to either side");
    }
    let side = if to_the_right_m > 0.0 { Side::Right } else { Side::Left };
    format!("{offset} ±{doubt} to the {}", words.left_or_right(side))
}
