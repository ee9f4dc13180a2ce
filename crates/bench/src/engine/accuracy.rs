//! How right distances and sides are, held to what is worked out without the library.

use takeline::Position;

use crate::goal::Goal;
use crate::peers::{DegreesTree, Truth};
use crate::sheet;
use crate::workload::Workload;

/// Farther from the nearest line than this, in metres, nothing is held to the truth here.
const FAR_M: f64 = 50_000.0;
/// On the line there is no side.
const ON_THE_LINE_M: f64 = 0.001;

/// The largest error in metres, and the sides that were wrong.
#[derive(Debug, Default)]
struct Worst {
    error_m: f64,
    wrong_sides: u32,
}

impl Worst {
    fn see(&mut self, found_m: f64, true_m: f64) {
        self.error_m = self.error_m.max((found_m.abs() - true_m).abs());
    }
}

pub(super) fn measure(workload: &Workload, sample: u32) {
    let truth = Truth::new(&workload.rings);
    let degrees = DegreesTree::new(&workload.rings);
    let boundaries = workload.boundaries();
    let every = (workload.fixes.len() / sample as usize).max(1);
    let mut cursor = workload.zones.cursor();
    let (mut with, mut without, mut peer) = (Worst::default(), Worst::default(), Worst::default());
    let mut held = 0;
    for (number, at) in workload.fixes.iter().enumerate() {
        let Ok(position) = Position::from_degrees(at.y, at.x) else { continue };
        // asked about all of them, so that it has what it remembers of those before
        let by_cursor_m = cursor.nearest(position).map_or(f64::NAN, |(_, far)| far.signed_distance.metres());
        if number % every != every / 2 {
            continue;
        }
        let about = truth.about(at);
        if about.away_m > FAR_M {
            continue;
        }
        held += 1;
        let signed_m =
            |zone: usize| boundaries[zone].map(|line| line.how_far(position).signed_distance.metres());
        let by_itself_m = about.zones.iter().filter_map(|(zone, _)| signed_m(*zone));
        with.see(by_cursor_m, about.away_m);
        without.see(by_itself_m.fold(f64::INFINITY, |best_m, m| best_m.min(m.abs())), about.away_m);
        peer.see(degrees.away_m(at), about.away_m);
        if about.away_m > ON_THE_LINE_M {
            let holding = &cursor.holding(position).surely;
            for (zone, is_inside) in &about.zones {
                with.wrong_sides += u32::from(holding.contains(zone) != *is_inside);
                without.wrong_sides += u32::from(signed_m(*zone).is_none_or(|m| (m < 0.0) != *is_inside));
            }
        }
    }
    rows((&workload.name, held), [&with, &without], &peer);
}

fn rows((of, held): (&str, u32), [with, without]: [&Worst; 2], peer: &Worst) {
    let metres = |worst: &Worst| format!("{:.1e} m", worst.error_m);
    for (how, worst) in [("cursor in track order", with), ("each boundary by itself", without)] {
        let what = format!("largest error in µm of {held} fixes, {how}");
        let goal = Some(Goal::at_most(10.0));
        sheet::row((of, &what), &metres(worst), &metres(peer), (worst.error_m * 1e6, goal));
        let what = format!("wrong sides of {held} fixes, {how}");
        let judged = (f64::from(worst.wrong_sides), Some(Goal::at_most(0.0)));
        sheet::row((of, &what), &worst.wrong_sides.to_string(), "–", judged);
    }
}
