//! How long a fix takes, in track order, against other ways and against distance and side alone.

use std::hint::black_box;

use fastrand::Rng;
use geo::Coord;
use takeline::track::{Auditor, TrackSettings};
use takeline::{Fix, HorizontalUncertainty, Position, Question, ZoneSet};

use super::run_all::{ByWorkload, goal_of};
use crate::goal::Goal;
use crate::peers::{DegreesTree, IntervalTrees};
use crate::rounds::{Rounds, seconds_of};
use crate::sample_log::logged;
use crate::sheet::{self, time};
use crate::workload::Workload;

/// Side and metres, over the tree in degrees.
const METRES: ByWorkload = [(0.36, 0.15), (0.40, 0.21), (0.45, 0.23), (0.38, 0.20)];
/// The side alone, over interval trees.
const SIDE: ByWorkload = [(0.8, 0.4), (0.6, 0.3), (0.2, 0.1), (0.6, 0.3)];

pub(super) fn measure(workload: &Workload, passes: usize) {
    let (fixes, zones) = (&workload.fixes, &workload.zones);
    let trees = (DegreesTree::new(&workload.rings), IntervalTrees::new(&workload.rings));
    let places: Vec<Position> = positions(fixes);
    let rounds = Rounds::run(
        passes,
        &mut [
            &mut || degrees_and_inside(&trees, fixes),
            &mut || metres_and_side(zones, &places),
            &mut || inside_only(&trees.1, fixes),
            &mut || side_only(zones, &places),
            &mut || assess(zones, &places),
            &mut || audit(workload, &places),
        ],
    );
    let count = fixes.len() as f64;
    let row = |what: &str, own: usize, peer: usize, goal: Option<Goal>| {
        let a_fix = |contender| time(rounds.seconds(contender) / count);
        let judged = (rounds.ratio(own, peer), goal);
        sheet::row((&workload.name, what), &a_fix(own), &a_fix(peer), judged);
    };
    row("side and metres, over nearest edge in degrees", 1, 0, goal_of(workload, &METRES));
    row("side alone, over interval trees on the plane", 3, 2, goal_of(workload, &SIDE));
    row("`assess` without fish, over our side and metres", 4, 1, Some(Goal::at_most(2.0)));
    row("audit, over our side and metres", 5, 1, Some(Goal::at_most(3.0)));
    without_order(workload, &trees, passes);
}

/// The same questions where the place before is of no help: fixes in any order, and a cursor for each.
fn without_order(workload: &Workload, trees: &(DegreesTree, IntervalTrees), passes: usize) {
    let zones = &workload.zones;
    let mut fixes = workload.fixes.clone();
    Rng::with_seed(7).shuffle(&mut fixes);
    fixes.truncate(200_000);
    let places = positions(&fixes);
    let rounds = Rounds::run(
        passes,
        &mut [
            &mut || degrees_and_inside(trees, &fixes),
            &mut || metres_and_side(zones, &places),
            &mut || each_by_itself(zones, &places),
        ],
    );
    let a_fix = |contender| time(rounds.seconds(contender) / fixes.len() as f64);
    let goal = (workload.name == "W2").then(|| Goal::at_most(1.0).stretch(0.5));
    let what = format!("side and metres, {} fixes shuffled", fixes.len());
    sheet::row((&workload.name, &what), &a_fix(1), &a_fix(0), (rounds.ratio(1, 0), goal));
    let what = "the same, a new cursor for each fix";
    sheet::row((&workload.name, what), &a_fix(2), &a_fix(0), (rounds.ratio(2, 0), None));
}

fn degrees_and_inside((edges, inside): &(DegreesTree, IntervalTrees), fixes: &[Coord]) -> f64 {
    seconds_of(|| fixes.iter().map(|at| edges.away_m(black_box(at)) + inside.holding(at) as f64).sum::<f64>())
}

fn inside_only(inside: &IntervalTrees, fixes: &[Coord]) -> f64 {
    seconds_of(|| fixes.iter().map(|at| inside.holding(black_box(at))).sum::<usize>())
}

fn metres_and_side(zones: &ZoneSet, places: &[Position]) -> f64 {
    seconds_of(|| {
        let mut cursor = zones.cursor();
        let ask = |at: &Position| {
            let at = *black_box(at);
            let away_m = cursor.nearest(at).map_or(0.0, |(_, far)| far.signed_distance.metres());
            away_m + cursor.holding(at).surely.len() as f64
        };
        places.iter().map(ask).sum::<f64>()
    })
}

fn each_by_itself(zones: &ZoneSet, places: &[Position]) -> f64 {
    seconds_of(|| {
        let ask = |at: &Position| {
            let mut cursor = zones.cursor();
            let away_m = cursor.nearest(*black_box(at)).map_or(0.0, |(_, far)| far.signed_distance.metres());
            away_m + cursor.holding(*at).surely.len() as f64
        };
        places.iter().map(ask).sum::<f64>()
    })
}

fn side_only(zones: &ZoneSet, places: &[Position]) -> f64 {
    seconds_of(|| {
        let mut cursor = zones.cursor();
        places.iter().map(|at| cursor.holding(*black_box(at)).surely.len()).sum::<usize>()
    })
}

fn assess(zones: &ZoneSet, places: &[Position]) -> f64 {
    let (question, uncertainty) = (Question::default(), HorizontalUncertainty::assumed());
    seconds_of(|| {
        for at in places {
            let fix = Fix::new(*at, uncertainty);
            black_box(zones.assess(black_box(&fix), &question));
        }
    })
}

fn audit(workload: &Workload, places: &[Position]) -> f64 {
    seconds_of(|| {
        let mut auditor = Auditor::new(&workload.zones, TrackSettings::default());
        for (at, made) in places.iter().zip(&workload.times) {
            black_box(auditor.push(logged(*at, *made)));
        }
        auditor.finish()
    })
}

/// Positions of ours. Those of a workload were all found good when it was read.
fn positions(fixes: &[Coord]) -> Vec<Position> {
    fixes.iter().filter_map(|at| Position::from_degrees(at.y, at.x).ok()).collect()
}
