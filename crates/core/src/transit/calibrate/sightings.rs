//! Which fixes are used, how good each of them is, and which of them count as one.

use jiff::Timestamp;

use crate::fix::{NORMAL_95, RAYLEIGH_95};
use crate::transit::{Eye, RangeLine, Stretch, UnusedFix};
use crate::{Arcminutes, Fix, Metres, Position};

/// Fixes within this time share their error, in seconds: errors of small receivers hold on for minutes.
const TOGETHER_S: i64 = 300;
/// Fixes without a time within this of one another along the line count as one, in metres (common practice, no source:
/// somewhat more than five minutes of drift at half a knot).
pub(super) const TOGETHER_M: f64 = 100.0;
/// And within so many times their 95 % radius, where that is more.
const TOGETHER_RADII: f64 = 3.0;
/// Marks opened farther than this, the doubt counted, are never taken to be in line, in minutes of arc (common
/// practice, no source).
const GREATEST_OPENING_ARCMIN: f64 = 180.0;
/// How many times over the stated doubt of the line is counted there: stated places are often worse than they say
/// (common practice, no source).
const DOUBT_COUNTED: f64 = 3.0;
/// A fix that is known no better than this tells nothing, in metres at 95 % (common practice, no source).
const GREATEST_RADIUS_M: f64 = 1_000.0;
/// No fix counts as better than this across the line, as a standard deviation in metres, lest one outweighs all others.
const LEAST_SIGMA_M: f64 = 0.1;
/// How many standard deviations off the others a fix is an outlier (common practice, no source).
const OUTLIER_SIGMAS: f64 = 5.0;
/// Below this number no fix is called an outlier.
const LEAST_FOR_OUTLIERS: usize = 5;
/// So many fixes at most show where the others lie; of more, every second, third or so.
const MOST_FOR_OUTLIERS: usize = 300;

/// A fix taken while the marks were seen in line.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Sighting {
    /// Its place in the list given.
    pub(super) number: usize,
    position: Position,
    time: Option<Timestamp>,
    radius_95_m: f64,
    pub(super) along_m: f64,
    pub(super) across_m: f64,
    /// Standard deviation across the line: receiver and eye.
    pub(super) sigma_m: f64,
    /// Fixes of one group share their error.
    pub(super) group: usize,
    /// 1 / (size of its group · σ²).
    pub(super) weight: f64,
}

/// The fixes that are used and those that are not.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Sightings {
    /// From near to far.
    pub(super) used: Vec<Sighting>,
    /// By their place in the list given.
    pub(super) unused: Vec<(usize, UnusedFix)>,
    /// How many groups there are.
    pub(super) independent: usize,
}

impl Sightings {
    pub(super) fn collect(line: &RangeLine, fixes: &[Fix], eye: Eye) -> Self {
        let (mut used, mut unused) = (Vec::new(), Vec::new());
        for (number, fix) in fixes.iter().enumerate() {
            match Sighting::of(line, (number, fix), eye) {
                Ok(sighting) => used.push(sighting),
                Err(why) => unused.push((number, why)),
            }
        }
        // one order whatever the order given, so that sums come out the same to the last digit
        used.sort_by(|one, other| {
            let along = one.along_m.total_cmp(&other.along_m);
            along.then(one.across_m.total_cmp(&other.across_m)).then(one.time.cmp(&other.time))
        });
        unused.extend(take_outliers(&mut used));
        unused.sort_by_key(|&(number, _)| number);
        let independent = group(&mut used);
        let mut sizes = vec![0; independent];
        for one in &used {
            sizes[one.group] += 1;
        }
        for one in &mut used {
            one.weight = 1.0 / (count(sizes[one.group]) * one.sigma_m * one.sigma_m);
        }
        Self { used, unused, independent }
    }

    /// Distances of the nearest, the middle and the farthest; fewer if there are fewer.
    pub(super) fn shown_at_m(&self) -> Vec<f64> {
        let last = self.used.len().saturating_sub(1);
        let mut places = vec![0, last / 2, last];
        places.dedup();
        places.into_iter().filter_map(|place| self.used.get(place)).map(|one| one.along_m).collect()
    }

    /// Distance of the middle one.
    pub(super) fn middle_m(&self) -> f64 {
        self.used.get(self.used.len().saturating_sub(1) / 2).map_or(0.0, |one| one.along_m)
    }

    /// From the nearest to the farthest, along the line.
    pub(super) fn stretch_m(&self) -> f64 {
        let at = |one: Option<&Sighting>| one.map_or(0.0, |one| one.along_m);
        at(self.used.last()) - at(self.used.first())
    }

    /// Middle 95 % radius of the fixes used.
    pub(super) fn usual_radius_95_m(&self) -> f64 {
        median(self.used.iter().map(|one| one.radius_95_m).collect())
    }
}

impl Sighting {
    fn of(line: &RangeLine, (number, fix): (usize, &Fix), eye: Eye) -> Result<Self, UnusedFix> {
        let radius_95_m = fix.uncertainty.radius_95().metres();
        if line.seen_from(fix.position).front_distance.metres() > Stretch::LONGEST_M {
            return Err(UnusedFix::TooFarAway);
        }
        if radius_95_m > GREATEST_RADIUS_M {
            return Err(UnusedFix::TooCoarse);
        }
        let place = line.place(fix.position);
        let along = place.distance_from_front;
        if along.metres() <= -line.separation().metres() {
            return Err(UnusedFix::Behind);
        }
        if along.metres() <= 0.0 {
            return Err(UnusedFix::Between);
        }
        let across_m = place.to_the_right.metres();
        let doubt_m = DOUBT_COUNTED * line.uncertainty_95(along).metres() + radius_95_m;
        let opened = line.offset_for(along, Arcminutes::computed(GREATEST_OPENING_ARCMIN));
        if opened.is_some_and(|opened| across_m.abs() > opened.metres() + doubt_m) {
            return Err(UnusedFix::Opened);
        }
        let sigma_m = sigma_m(line, along.metres(), radius_95_m, eye).ok_or(UnusedFix::NeverOpens)?;
        let (position, time) = (fix.position, fix.time);
        let along_m = along.metres();
        Ok(Self { number, position, time, radius_95_m, along_m, across_m, sigma_m, group: 0, weight: 0.0 })
    }
}

/// Standard deviation of one fix across the line: the receiver's, and the eye's threshold taken as a 95 % half width.
///
/// None where the eye never sees the marks open.
pub(super) fn sigma_m(line: &RangeLine, along_m: f64, radius_95_m: f64, eye: Eye) -> Option<f64> {
    let eye_95_m = line.offset_for(Metres::computed(along_m), eye.threshold())?.metres();
    Some((radius_95_m / RAYLEIGH_95).hypot(eye_95_m / NORMAL_95).max(LEAST_SIGMA_M))
}

/// Takes out the fixes that lie coarsely off the line that the others agree on.
///
/// The line is that of the median slope over all pairs, each pair weighing as much as it is long (after Theil 1950, Sen
/// 1968 and Jaeckel 1972), so that nearly half of the fixes may be wrong; the scale is the median absolute deviation.
fn take_outliers(used: &mut Vec<Sighting>) -> Vec<(usize, UnusedFix)> {
    if used.len() < LEAST_FOR_OUTLIERS {
        return Vec::new();
    }
    let (slope, level_m) = resistant_line(used);
    let off_m = |one: &Sighting| (one.across_m - level_m - slope * one.along_m).abs();
    let usual_m = 1.4826 * median(used.iter().map(off_m).collect());
    let is_outlier = |one: &Sighting| off_m(one) > OUTLIER_SIGMAS * one.sigma_m.max(usual_m);
    let outliers =
        used.iter().filter(|one| is_outlier(one)).map(|one| (one.number, UnusedFix::Outlier)).collect();
    used.retain(|one| !is_outlier(one));
    outliers
}

fn resistant_line(used: &[Sighting]) -> (f64, f64) {
    let some: Vec<&Sighting> = used.iter().step_by(used.len().div_ceil(MOST_FOR_OUTLIERS)).collect();
    let mut slopes = Vec::new();
    for (place, far) in some.iter().enumerate() {
        for near in &some[..place] {
            let apart_m = far.along_m - near.along_m;
            if apart_m > 1.0 {
                slopes.push(((far.across_m - near.across_m) / apart_m, apart_m));
            }
        }
    }
    slopes.sort_by(|one, other| one.0.total_cmp(&other.0));
    let half_m = slopes.iter().map(|pair| pair.1).sum::<f64>() / 2.0;
    let mut passed_m = 0.0;
    let middle = slopes.iter().find(|pair| {
        passed_m += pair.1;
        passed_m >= half_m
    });
    let slope = middle.map_or(0.0, |pair| pair.0);
    (slope, median(used.iter().map(|one| one.across_m - slope * one.along_m).collect()))
}

/// A count as a number to reckon with.
#[expect(clippy::cast_precision_loss, reason = "counts of fixes stay far below 2^53")]
pub(super) fn count(of: usize) -> f64 {
    of as f64
}

fn median(mut of: Vec<f64>) -> f64 {
    of.sort_by(f64::total_cmp);
    let at = |place: usize| of.get(place).copied().unwrap_or(0.0);
    at(of.len().saturating_sub(1) / 2).midpoint(at(of.len() / 2))
}

/// Numbers the groups of fixes that share their error; returns how many there are.
///
/// Fixes are one if they lie within five minutes of the first of their group. Fixes without a time are one with the
/// fix with a time that lies nearest along the line, if it is near enough, and otherwise with one another. The same place
/// to the last digit at two times is one fix that the receiver repeated.
fn group(used: &mut [Sighting]) -> usize {
    let mut by_time: Vec<usize> = (0..used.len()).filter(|&place| used[place].time.is_some()).collect();
    by_time.sort_by_key(|&place| used[place].time);
    let mut groups = 0;
    let mut first: Option<Timestamp> = None;
    for &place in &by_time {
        // fixes of one place stand next to each other, the earliest first
        let before = place.checked_sub(1).map(|before| used[before]);
        if let Some(same) = before.filter(|one| one.time.is_some() && one.position == used[place].position) {
            used[place].group = same.group;
            continue;
        }
        let after =
            |first: Timestamp| used[place].time.map_or(0, |time| time.as_second() - first.as_second());
        if first.is_none_or(|first| after(first) > TOGETHER_S) {
            first = used[place].time;
            groups += 1;
        }
        used[place].group = groups - 1;
    }
    group_without_time(used, groups)
}

fn group_without_time(used: &mut [Sighting], mut groups: usize) -> usize {
    let mut first_m: Option<f64> = None;
    for place in 0..used.len() {
        if used[place].time.is_some() {
            continue;
        }
        let along_m = used[place].along_m;
        let together_m = TOGETHER_M.max(TOGETHER_RADII * used[place].radius_95_m);
        if let Some(timed) = nearest_with_time(used, place, together_m) {
            used[place].group = timed.group;
            continue;
        }
        if first_m.is_none_or(|first_m| along_m - first_m > together_m) {
            first_m = Some(along_m);
            groups += 1;
        }
        used[place].group = groups - 1;
    }
    groups
}

/// The sighting with a time that lies nearest along the line; sightings are in order of their distance.
fn nearest_with_time(used: &[Sighting], place: usize, within_m: f64) -> Option<&Sighting> {
    let apart_m = |one: &Sighting| (one.along_m - used[place].along_m).abs();
    let first = |of: &mut dyn Iterator<Item = &'_ Sighting>| -> Option<usize> {
        of.take_while(|one| apart_m(one) <= within_m).position(|one| one.time.is_some())
    };
    let before = first(&mut used[..place].iter().rev()).map(|steps| &used[place - 1 - steps]);
    let after = first(&mut used[place + 1..].iter()).map(|steps| &used[place + 1 + steps]);
    before.into_iter().chain(after).min_by(|one, other| apart_m(one).total_cmp(&apart_m(other)))
}
