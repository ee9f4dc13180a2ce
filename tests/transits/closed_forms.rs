//! Twenty cases with answers in closed form, within one per cent, and the figures of the trade that they are known by.
//!
//! Source of the forms: the plane geometry of two marks. An observer y off the line and D from the front mark sees marks S
//! apart under φ = atan(y/D) − atan(y/(D+S)); errors e of the marks move the line by √((e·(D+S)/S)² + (e·D/S)²); from a
//! height h the horizon lies at √(2Rh/(1−k)).

use takeline::landmark::Landmark;
use takeline::transit::{Eye, RangeLine};
use takeline::{Arcminutes, GeodesicSegment, Metres, Position, TrueBearing};

fn metres(value: f64) -> Metres {
    Metres::new(value).unwrap()
}

/// Marks so far apart on a bearing, each known to so many metres.
fn marks(separation_m: f64, error_m: f64) -> RangeLine {
    let front = Position::from_degrees(45.12, -30.13).unwrap();
    let bearing = TrueBearing::from_degrees(73.0).unwrap();
    let rear = GeodesicSegment::leaving(front, bearing, metres(separation_m)).unwrap().to();
    let mark = |name, position| {
        let mut mark = Landmark::at(name, position);
        mark.position_error_95 = metres(error_m);
        mark
    };
    RangeLine::through(mark("front", front), mark("rear", rear)).unwrap()
}

fn within_one_per_cent(what: &str, found: f64, expected: f64) {
    assert!((found / expected - 1.0).abs() < 0.01, "{what}: {found} is not within 1 % of {expected}");
}

#[test]
fn twenty_pairs_open_and_wander_as_plain_geometry_says() {
    let separations_m = [60.0, 100.0, 300.0, 1000.0];
    let distances_m = [300.0, 800.0, 1000.0, 3000.0, 8000.0];
    let mut cases = 0;
    for separation_m in separations_m {
        for away_m in distances_m {
            cases += 1;
            let line = marks(separation_m, 4.0);
            let away = metres(away_m);
            let off_m = away_m / 200.0;
            let seen = line.seen_from(line.beside(away, metres(off_m)));
            let plane = (off_m / away_m).atan() - (off_m / (away_m + separation_m)).atan();
            let what = format!("S = {separation_m}, D = {away_m}");
            within_one_per_cent(&what, seen.rear_from_front.radians(), plane);
            let product_m2 = away_m * (away_m + separation_m);
            within_one_per_cent(&what, line.arcmin_per_metre(away).radians(), separation_m / product_m2);
            let (of_front_m, of_rear_m) =
                (4.0 * (away_m + separation_m) / separation_m, 4.0 * away_m / separation_m);
            within_one_per_cent(&what, line.uncertainty_95(away).metres(), of_front_m.hypot(of_rear_m));
            let seen_at = line.offset_for(away, Arcminutes::new(5.0).unwrap());
            if let Some(seen_at) = seen_at {
                let there = line.seen_from(line.beside(away, seen_at));
                within_one_per_cent(&what, there.rear_from_front.arcmin(), 5.0);
            }
        }
    }
    assert_eq!(cases, 20);
}

/// The table of trade.md section 5 (computed there by φ = y·S / (D·(D+S)) and printed to two digits).
#[test]
fn the_offsets_of_the_trades_table_come_out() {
    let table = [
        (100.0, 1000.0, [3.2, 9.6, 16.0, 32.0], 0.31),
        (300.0, 1000.0, [1.3, 3.8, 6.3, 13.0], 0.79),
        (500.0, 1000.0, [0.9, 2.6, 4.4, 8.7], 1.15),
        (300.0, 3000.0, [9.6, 29.0, 48.0, 96.0], 0.10),
        (1000.0, 3000.0, [3.5, 10.0, 17.0, 35.0], 0.29),
    ];
    for (separation_m, away_m, offsets_m, rate) in table {
        let line = marks(separation_m, 10.0);
        let away = metres(away_m);
        for (arcmin, expected) in [1.0, 3.0, 5.0, 10.0].into_iter().zip(offsets_m) {
            let found = line.offset_for(away, Arcminutes::new(arcmin).unwrap()).unwrap().metres();
            // two printed digits: 5 in the third
            let tolerance = if expected < 10.0 { 0.06 } else { 0.6 };
            assert!(
                (found - expected).abs() < tolerance,
                "S = {separation_m}, {arcmin}′: {found}, not {expected}"
            );
        }
        assert!((line.arcmin_per_metre(away).arcmin() - rate).abs() < 0.006, "S = {separation_m}");
    }
}

/// trade.md section 5, "the hidden killer": ±149 m, ±55 m, and ±22 m where the marks are as far apart as they are off.
#[test]
fn ten_metres_on_each_mark_move_the_line_as_the_trade_says() {
    for (separation_m, away_m, expected) in
        [(100.0, 1000.0, 149.0), (300.0, 1000.0, 55.0), (1000.0, 1000.0, 22.0)]
    {
        let found = marks(separation_m, 10.0).uncertainty_95(metres(away_m)).metres();
        assert!((found - expected).abs() < 0.5, "S = {separation_m}: {found}, not {expected}");
    }
}

/// trade.md section 5, checklist 7: from 0.9 m with k = 0.13.
#[test]
fn the_curved_water_hides_what_the_trade_says() {
    let eye = Eye::default();
    assert!((eye.horizon().metres() - 3600.0).abs() < 50.0);
    for (away_m, hidden_m) in [(6000.0, 0.4), (8000.0, 1.3), (10_000.0, 2.8), (15_000.0, 8.8)] {
        let found = eye.hidden_height(metres(away_m)).metres();
        assert!((found - hidden_m).abs() < 0.05, "{away_m} m: {found}, not {hidden_m}");
    }
}

/// Where a front mark of 10 m hides a rear mark of 20 m that stands 1000 m behind it, from 0.9 m: level lines of sight cross
/// where 9.1/D = 19.1/(D+1000), so at 910 m without curvature; curvature lowers the rear mark by S/2R' more: some metres.
#[test]
fn the_rear_mark_comes_out_over_the_front_mark_where_the_lines_of_sight_cross() {
    let eye = Eye::default();
    let shows = |away_m: f64| {
        let front = eye.sight(metres(10.0), metres(away_m)).elevation;
        eye.sight(metres(20.0), metres(away_m + 1000.0)).elevation > front
    };
    assert!(!shows(900.0) && shows(925.0));
}
