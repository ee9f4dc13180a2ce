//! What a calibration found, in sentences.

use super::fit::{MarksOffset, StraightFit, Support};
use super::from_fixes::told_within_m;
use super::sightings::{Sightings, TOGETHER_M, Unused, sigma_m};
use crate::fix::NORMAL_95;
use crate::transit::{Eye, MarkError, RangeLine, Side, Told};

/// Numbers of further fixes that are tried, in this order.
const FURTHER: [usize; 10] = [2, 3, 4, 6, 8, 12, 16, 24, 32, 48];
/// Distances at which they are tried, in steps of this, in metres.
const STEP_M: f64 = 50.0;
/// And up to this, in metres: farther out a small craft sees few marks.
const FARTHEST_M: f64 = 10_000.0;

/// Everything that the sentences speak of.
#[derive(Debug)]
pub(super) struct Findings<'a> {
    pub(super) line: &'a RangeLine,
    pub(super) eye: Eye,
    pub(super) sightings: &'a Sightings,
    pub(super) fit: StraightFit,
    pub(super) stated: MarksOffset,
    /// What the stated errors were multiplied by.
    pub(super) factor: f64,
    pub(super) marks: MarksOffset,
    pub(super) told: Told,
}

/// Says what follows, the most important first.
pub(super) fn because(found: &Findings<'_>, front: &MarkError, rear: &MarkError) -> Vec<String> {
    let mut said = Vec::new();
    match found.told {
        Told::BothMarks => {
            said.push(found.where_it_passes());
            said.push(found.both_marks());
            said.extend(found.one_mark(front, rear));
        }
        Told::OnlyWhereTheFixesLie => {
            said.push(found.where_it_passes());
            said.push(found.cannot_tell(front, rear));
            said.extend(found.one_mark(front, rear));
            said.extend(found.errors_too_small());
            said.push(found.what_would_settle());
        }
        Told::Nothing => {
            said.push(found.nothing());
            said.push(found.what_would_tell());
        }
    }
    said.extend(found.how_many_count());
    said.extend(found.rough());
    said.extend(reasons(&found.sightings.unused));
    said
}

/// Says which fixes are not used and why, one sentence for each reason.
pub(super) fn reasons(unused: &[(usize, Unused)]) -> Vec<String> {
    let mut kinds: Vec<Unused> = Vec::new();
    for &(_, why) in unused {
        if !kinds.contains(&why) {
            kinds.push(why);
        }
    }
    let sentence = |why: Unused| {
        let numbers: Vec<usize> =
            unused.iter().filter(|one| one.1 == why).map(|&(number, _)| number + 1).collect();
        match numbers[..] {
            [number] => format!("fix {number} is not used: it is {}", why.reason()),
            _ => format!("fixes {} are not used: they are {}", list(&numbers), why.reason_for_many()),
        }
    };
    kinds.into_iter().map(sentence).collect()
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

/// Writes an offset with its doubt: `20 m ±4 m to the right`.
fn offset(to_the_right_m: f64, uncertainty_95_m: f64) -> String {
    let (metres, doubt) = (to_the_right_m.abs().round(), uncertainty_95_m.ceil().max(1.0));
    match Side::of(to_the_right_m) {
        Some(side) if metres > 0.0 => format!("{metres:.0} m ±{doubt:.0} m to the {}", side.word()),
        _ => format!("0 m ±{doubt:.0} m to either side"),
    }
}

/// Whether an offset is more than its doubt.
fn is_off(to_the_right_m: f64, uncertainty_95_m: f64) -> bool {
    to_the_right_m.abs() > uncertainty_95_m
}

impl Findings<'_> {
    fn names(&self) -> (&str, &str) {
        (&self.line.front().name, &self.line.rear().name)
    }

    fn where_it_passes(&self) -> String {
        let mut places = self.sightings.shown_at_m();
        if self.sightings.stretch_m() < TOGETHER_M {
            places = vec![self.sightings.middle_m()];
        } else if places.len() > 2 {
            places.remove(1);
        }
        let doubt_m = |at_m: f64| self.marks.uncertainty_95_m(at_m);
        let passes = |&at_m: &f64| offset(self.marks.offset_m(at_m), doubt_m(at_m));
        let texts: Vec<String> = places.iter().map(passes).collect();
        let said = match (&places[..], &texts[..]) {
            ([near_m, far_m], [near, far]) => format!(
                "{near} of the stated line at {near_m:.0} m from {}, and {far} at {far_m:.0} m",
                self.names().0
            ),
            _ => format!(
                "{} of the stated line at {:.0} m from {}",
                texts.concat(),
                self.sightings.middle_m(),
                self.names().0
            ),
        };
        let is_new = places.iter().any(|&at_m| is_off(self.marks.offset_m(at_m), doubt_m(at_m)));
        let agrees = if is_new { "" } else { "; within that doubt it is the stated line" };
        format!("the line shown passes {said}{agrees}")
    }

    fn both_marks(&self) -> String {
        let (front, rear) = self.names();
        let stands = |at_m: f64| offset(self.marks.offset_m(at_m), self.marks.uncertainty_95_m(at_m));
        let (at_front, at_rear) = (stands(0.0), stands(-self.line.separation().metres()));
        format!("by the fixes alone {front} stands {at_front} of where it is said to, and {rear} {at_rear}")
    }

    fn one_mark(&self, front_alone: &MarkError, rear_alone: &MarkError) -> Vec<String> {
        let (front, rear) = self.names();
        if !front_alone.explains && !rear_alone.explains {
            return vec![format!(
                "no error of {front} alone or of {rear} alone explains the fixes: both are off"
            )];
        }
        let says = |mark: &str, other: &str, error: &MarkError| {
            if !error.explains {
                return format!("no error of {mark} alone explains the fixes, so {other} is off");
            }
            let stands = offset(error.to_the_right.metres(), error.uncertainty_95.metres());
            format!("{mark} stands {stands} of where it is said to, if {other} is where it is said to")
        };
        vec![says(rear, front, rear_alone), says(front, rear, front_alone)]
    }

    fn cannot_tell(&self, front: &MarkError, rear: &MarkError) -> String {
        let what =
            if front.explains && rear.explains { "which mark is off" } else { "how far each mark is off" };
        let stretch_m = self.sightings.stretch_m();
        let at_m = self.sightings.middle_m();
        if self.sightings.used.len() == 1 {
            return format!("one fix cannot tell {what}, only where the line passes at {at_m:.0} m");
        }
        if stretch_m < at_m / 2.0 {
            return format!(
                "the fixes lie within {stretch_m:.0} m of one another along the line, so they cannot tell {what}"
            );
        }
        format!(
            "the fixes cannot tell {what}: over the {stretch_m:.0} m along the line that they cover they are too few or \
             too coarse for marks {:.0} m apart",
            self.line.separation().metres()
        )
    }

    /// Says if the stated errors of the marks cannot both be right.
    fn errors_too_small(&self) -> Option<String> {
        let at_m = self.fit.support.distance_m;
        let doubt_m = NORMAL_95 * self.fit.support.variance_m2(at_m).sqrt();
        let stated_m = self.stated.uncertainty_95_m(at_m);
        if !is_off(self.fit.offset_m(at_m), doubt_m.hypot(stated_m)) {
            return None;
        }
        Some(format!(
            "the stated errors of the marks do not explain that; away from the fixes they are taken as {:.1} times as large",
            self.factor
        ))
    }

    fn nothing(&self) -> String {
        let at_m = self.fit.support.distance_m;
        let doubt_m = NORMAL_95 * self.fit.support.variance_m2(at_m).sqrt();
        format!(
            "the fixes tell nothing: they put the line {} of the stated one at {at_m:.0} m, and the stated places \
             give it there to ±{:.0} m",
            offset(self.fit.offset_m(at_m), doubt_m),
            self.stated.uncertainty_95_m(at_m).ceil()
        )
    }

    fn what_would_settle(&self) -> String {
        let middle_m = self.fit.support.distance_m;
        let steps = |from_m: f64| std::iter::successors(Some(from_m), |at_m| Some(at_m + STEP_M));
        let nearer: Vec<f64> = steps(STEP_M).take_while(|&at_m| at_m < middle_m).collect();
        let nearer: Vec<f64> = nearer.into_iter().rev().collect();
        let first_m = (middle_m / STEP_M).ceil() * STEP_M;
        let farther: Vec<f64> = steps(first_m).take_while(|&at_m| at_m <= FARTHEST_M).collect();
        let take = |(fixes, at_m): (usize, f64), or: &str| format!("{fixes} more at {at_m:.0} m or {or}");
        let ways: Vec<String> = [(farther, "farther out"), (nearer, "nearer")]
            .into_iter()
            .filter_map(|(places, or)| Some(take(self.further(&places, 3.0 * middle_m)?, or)))
            .collect();
        if ways.is_empty() {
            return String::from(
                "no fixes from a small craft would tell the marks apart there; better places of the marks would, from a \
                 chart, an aerial picture or a receiver held at them",
            );
        }
        format!(
            "to tell both marks, take fixes as good as these, each more than five minutes after the one before: {} \
             (distances from {})",
            ways.join(", or "),
            self.names().0
        )
    }

    /// How many further fixes, and at which of some places, would tell both marks: few if some place within `usual_m`
    /// does, else at any.
    fn further(&self, places: &[f64], usual_m: f64) -> Option<(usize, f64)> {
        let within = |most_m: f64| {
            let place = |fixes: usize| {
                let mut near = places.iter().copied().filter(|&at_m| at_m <= most_m);
                near.find(|&at_m| self.would_tell(fixes, at_m)).map(|at_m| (fixes, at_m))
            };
            FURTHER.into_iter().find_map(place)
        };
        within(usual_m).or_else(|| within(FARTHEST_M))
    }

    fn would_tell(&self, fixes: usize, at_m: f64) -> bool {
        let Some(weight) = self.weight_of_one(at_m) else { return false };
        let support: Support = self.fit.support.with(super::fit::count(fixes) * weight, at_m);
        let is_told = |mark, at_m: f64| NORMAL_95 * support.variance_m2(at_m).sqrt() <= told_within_m(mark);
        is_told(self.line.front(), 0.0) && is_told(self.line.rear(), -self.line.separation().metres())
    }

    /// Weight of one more fix as good as the others.
    fn weight_of_one(&self, at_m: f64) -> Option<f64> {
        let sigma_m = sigma_m(self.line, at_m, self.sightings.usual_radius_95_m(), self.eye)?;
        let sigma_m = sigma_m * self.fit.widening();
        Some(1.0 / (sigma_m * sigma_m))
    }

    fn what_would_tell(&self) -> String {
        let at_m = self.fit.support.distance_m;
        let wanted_m = self.stated.uncertainty_95_m(at_m) / NORMAL_95;
        let missing = 1.0 / (wanted_m * wanted_m) - self.fit.support.weight;
        match self.weight_of_one(at_m).map(|weight| (missing / weight).ceil() + 1.0) {
            Some(fixes) if fixes < 100.0 => format!(
                "about {fixes:.0} more fixes as good as these there, each more than five minutes after the one before, or \
                 fewer and better ones, would tell more than the stated places do"
            ),
            _ => String::from("only better fixes would tell more than the stated places do"),
        }
    }

    fn how_many_count(&self) -> Option<String> {
        let Sightings { used, independent, .. } = self.sightings;
        (*independent < used.len()).then(|| {
            format!(
                "{} fixes count as {independent} in the doubt, for fixes within five minutes of one another share their \
                 error; without a time, so do fixes within {TOGETHER_M:.0} m or three times their radius along the line",
                used.len()
            )
        })
    }

    fn rough(&self) -> Option<String> {
        self.fit.is_rough().then(|| {
            format!(
                "the fixes scatter more than their accuracy and the eye allow; their doubt was taken as {:.1} times as large",
                self.fit.widening()
            )
        })
    }
}
