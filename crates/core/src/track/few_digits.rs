//! Positions that were written with few digits: the boat was anywhere within half a step of the last one.

use super::{LoggedFix, TrackSettings};
use crate::geodesic::DEGREE_M;
use crate::{HorizontalUncertainty, Metres, Position, widest_step_deg};

/// Fewer places than so many may stand on a grid by chance.
const PLACES_THAT_SHOW: usize = 5;

/// The widest step, in degrees, on which the positions of a log stand, but for one in ten; none where they have digits enough, or are too few to
/// tell.
pub(super) fn step_deg(fixes: &[LoggedFix]) -> Option<f64> {
    let mut places = Vec::new();
    for fix in fixes {
        if !places.contains(&fix.position) {
            places.push(fix.position);
        }
        if places.len() == PLACES_THAT_SHOW {
            break;
        }
    }
    if places.len() < PLACES_THAT_SHOW {
        return None;
    }
    let all: Vec<Position> = fixes.iter().map(|fix| fix.position).collect();
    widest_step_deg(&all)
}

/// The accuracy of a fix with what the digits of its log leave open.
pub(super) fn with_digits(
    uncertainty: HorizontalUncertainty,
    fix: &LoggedFix,
    settings: &TrackSettings,
) -> HorizontalUncertainty {
    let Some(step_deg) = settings.digits_step_deg else { return uncertainty };
    let north_south_m = step_deg / 2.0 * DEGREE_M;
    let east_west_m = north_south_m * fix.position.latitude().degrees().to_radians().cos().max(0.0);
    uncertainty.with_rounding(Metres::computed(north_south_m), Metres::computed(east_west_m))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::track::LogOrder;
    use crate::track::logged_fix::uncertainty_of;
    use crate::track::test_tracks::{at, fix};

    fn ordered(places: &[(f64, f64)]) -> (Option<f64>, f64) {
        let mut order = LogOrder::new(TrackSettings::default());
        for (number, (lat_deg, lon_deg)) in (0_i32..).zip(places) {
            let one = fix(at(*lat_deg, *lon_deg), 1000.0 * f64::from(number), 10.0);
            order.push(LoggedFix { uncertainty: None, ..one });
        }
        let log = order.finish();
        assert_eq!(log.findings.digits_step_deg, log.settings.digits_step_deg);
        (log.settings.digits_step_deg, uncertainty_of(&log.boats[0][0], &log.settings).radius_95().metres())
    }

    #[test]
    fn one_fine_fix_among_many_coarse_ones_does_not_refine_them() {
        let coarse = |step: u32| (45.1 + f64::from(step) * 0.01, -30.1 - f64::from(step) * 0.01);
        let mut places: Vec<(f64, f64)> = (0..30).map(coarse).collect();
        places.push((45.123_456, -30.123_456));
        assert!(ordered(&places).0.is_some());
    }

    #[test]
    fn few_digits_are_a_doubt_of_every_fix() {
        let row = |of: &dyn Fn(f64) -> (f64, f64)| ordered(&[0.0, 1.0, 2.0, 3.0, 4.0].map(of));
        // half a step of 0.001 degrees is 55.6 m north and 39.4 m east at 45 degrees (WGS 84), 10 m are assumed beside them
        let (step_deg, metres) = row(&|n| (45.0, -30.295 + n * 0.001));
        assert_eq!(step_deg, Some(0.001));
        assert!((68.0..70.0).contains(&metres), "{metres}");
        // 0.1 minutes are 0.5 * 185.2 m north
        let (step_deg, metres) = row(&|n| (45.0 + 7.1 / 60.0, -(30.0 + (17.0 + n / 10.0) / 60.0)));
        assert!((step_deg.unwrap() - 1.0 / 600.0).abs() < 1e-12);
        assert!((112.0..116.0).contains(&metres), "{metres}");
        assert_eq!(row(&|n| (45.0, n)).0, Some(1.0));
        assert_eq!(row(&|n| (45.0, n + 0.0001)).0, Some(0.0001));
        // one coordinate with more digits is enough
        let (step_deg, metres) = row(&|n| (45.0, -30.295 + n * 0.001 + 0.000_01));
        assert_eq!(step_deg, None);
        assert!((metres - 10.0).abs() < 1e-9, "{metres}");
        assert_eq!(row(&|n| (45.0 + n * 1.1e-5, -30.295)).0, None);
        assert_eq!(row(&|n| (45.0 + n / 60_000.0, -30.0)).0, None);
    }

    #[test]
    fn a_few_places_tell_nothing_of_their_digits() {
        let four = [0.0, 1.0, 2.0, 3.0, 3.0, 3.0].map(|n| (45.0, -30.295 + n * 0.001));
        assert_eq!(ordered(&four).0, None);
    }
}
