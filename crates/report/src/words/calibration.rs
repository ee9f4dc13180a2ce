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
            "going by the fixes alone, {front} is {} of its stated position, and {rear} {}",
            offset(*front_to_the_right_m, *front_uncertainty_95_m),
            offset(*rear_to_the_right_m, *rear_uncertainty_95_m)
        ),
        CalibrationReason::BothMarksOff { front, rear } => {
            format!("no error in {front} alone or {rear} alone explains the fixes: both are out of place")
        }
        CalibrationReason::OtherMarkOff { mark, other } => {
            format!("no error in {mark} alone explains the fixes, so {other} is out of place")
        }
        CalibrationReason::OneMarkOff { mark, other, to_the_right_m, uncertainty_95_m } => format!(
            "{mark} is {} of its stated position, if {other} is where it should be",
            offset(*to_the_right_m, *uncertainty_95_m)
        ),
        CalibrationReason::StatedErrorsTooSmall { times } => format!(
            "that is more than the stated uncertainties of the marks allow; away from the fixes they are taken to be {times:.1} times \
             as large"
        ),
        CalibrationReason::FixesTellNothing {
            distance_from_front_m,
            to_the_right_m,
            uncertainty_95_m,
            stated_uncertainty_95_m,
        } => format!(
            "the fixes are too rough to help: they put the line {} of the stated one at {}, and the stated positions already give it \
             there to ±{}",
            offset(*to_the_right_m, *uncertainty_95_m),
            figures::whole(units, *distance_from_front_m),
            figures::whole_up(units, *stated_uncertainty_95_m)
        ),
        CalibrationReason::FixesScatter { times } => format!(
            "the fixes scatter more than their accuracy and the eye allow, so their uncertainty was taken to be {times:.1} times as large"
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
        [number] => format!("fix {number} was not used: it is {why}"),
        _ => format!("fixes {} were not used: they are {why}", list(&unused.numbers)),
    }
}

fn why_unused(words: &(impl Words + ?Sized), unused: &UnusedFixes) -> Cow<'static, str> {
    let limit = |kilometres: f64| figures::limit(words.units(), kilometres);
    let why = match unused.why {
        UnusedFix::Between => "between the marks, where you cannot see them in line",
        UnusedFix::Behind => "behind the rear mark; if you were there, front and rear are swapped",
        UnusedFix::TooFarAway => {
            return format!("more than {} from the front mark; check latitude and longitude", limit(100.0))
                .into();
        }
        UnusedFix::TooCoarse => {
            return format!("accurate to no better than {}, which says nothing about the line", limit(1.0))
                .into();
        }
        UnusedFix::NeverOpens => "so far out that the marks look in line from anywhere",
        UnusedFix::Opened => {
            "so far from the line that the marks are open by more than 3 degrees, even after allowing three times their uncertainty; \
             check the fix and the marks"
        }
        UnusedFix::Outlier if unused.numbers.len() == 1 => {
            "an outlier, more than five standard deviations from the line that the other fixes agree on"
        }
        UnusedFix::Outlier => {
            "outliers, more than five standard deviations from the line that the other fixes agree on"
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
        if either_explains { "which mark is out of place" } else { "how far each mark is out of place" }
    };
    match reason {
        CalibrationReason::OneFixCannotTell { either_explains, distance_from_front_m } => format!(
            "one fix cannot show {}, only where the line passes at {}",
            what(*either_explains),
            whole(*distance_from_front_m)
        ),
        CalibrationReason::FixesTooNear { either_explains, covered_m } => format!(
            "the fixes lie within {} of one another along the line, so they cannot show {}",
            whole(*covered_m),
            what(*either_explains)
        ),
        CalibrationReason::FixesTooFew { either_explains, covered_m, separation_m } => format!(
            "the fixes cannot show {}: over the {} along the line that they cover they are too few or too coarse for \
             marks {} apart",
            what(*either_explains),
            whole(*covered_m),
            whole(*separation_m)
        ),
        CalibrationReason::TakeFurtherFixes { front, ways } => format!(
            "to place both marks, take fixes as good as these, more than five minutes apart: {} (distances from {front})",
            joined(ways, ", or ", |way| further(words, way))
        ),
        CalibrationReason::NoFixesWouldTell => {
            "no fixes from a small craft would show which mark is out of place; better positions \
             of the marks would, from a chart, an aerial picture or a receiver held at them"
                .into()
        }
        CalibrationReason::TakeMoreFixes { fixes } => format!(
            "about {fixes} more fixes as good as these there, more than five minutes apart, or fewer and better \
             ones, would tell more than the stated positions do"
        ),
        CalibrationReason::TakeBetterFixes => {
            "only better fixes would tell more than the stated positions do".into()
        }
        CalibrationReason::FixesCountAsFewer { fixes, independent, together_m } => format!(
            "the {fixes} fixes count as only {independent}, because fixes within five minutes of one another share their \
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
    let agrees = if is_stated_line { "; within that uncertainty it is the stated line" } else { "" };
    format!("the real line passes {said}{agrees}")
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
