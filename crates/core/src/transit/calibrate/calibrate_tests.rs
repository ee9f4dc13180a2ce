use jiff::Timestamp;

use super::fit::{MarksOffset, StraightFit, Support, chi_square_95};
use super::reason::by_reason;
use super::sightings::Sightings;
use crate::landmark::Landmark;
use crate::transit::{CalibrationError, Eye, RangeLine, UnusedFix};
use crate::{AccuracyKind, Fix, HorizontalUncertainty, Metres, Position};

fn line() -> RangeLine {
    let front = Landmark::at("the beacon", Position::from_degrees(45.1252, -30.1310).unwrap());
    let rear = Landmark::at("the lone pine", Position::from_degrees(45.1252, -30.1259).unwrap());
    RangeLine::through(front, rear).unwrap()
}

/// A fix known to 5 m, so far along and to the right, so many seconds after some instant.
fn fix(along_m: f64, right_m: f64, second: Option<i64>) -> Fix {
    let position = line().beside(Metres::new(along_m).unwrap(), Metres::new(right_m).unwrap());
    let uncertainty = HorizontalUncertainty::given(5.0, AccuracyKind::P95).unwrap();
    let time = second.map(|second| Timestamp::from_second(1_780_000_000 + second).unwrap());
    Fix { position, uncertainty, time }
}

fn collected(fixes: &[Fix]) -> Sightings {
    Sightings::collect(&line(), fixes, Eye::default())
}

/// Where the line through two points of the plane crosses a line square to the stated one, by crossing two lines given
/// as a·x + b·y = c (Cramer), so apart from the formula under test.
fn crossed_on_the_plane(separation: f64, front: f64, rear: f64, away: f64) -> f64 {
    // the stated line runs along x, from the rear mark at −S through the front mark at 0
    let (x1, y1, x2, y2) = (-separation, rear, 0.0, front);
    let (a1, b1) = (y2 - y1, x1 - x2);
    let c1 = a1 * x1 + b1 * y1;
    let (a2, b2, c2) = (1.0, 0.0, away);
    (a1 * c2 - a2 * c1) / (a1 * b2 - a2 * b1)
}

#[test]
fn offsets_agree_with_crossing_two_lines_on_the_plane() {
    let mut seen = 0;
    for separation_m in [30.0, 400.0, 2500.0] {
        for (front_m, rear_m) in [(20.0, 0.0), (0.0, 20.0), (-7.0, 13.0), (11.0, 11.0)] {
            let mut marks = MarksOffset::stated(&line());
            (marks.separation_m, marks.front_m, marks.rear_m) = (separation_m, front_m, rear_m);
            for away_m in [-separation_m, 0.0, 50.0, 800.0, 6000.0] {
                let expected = crossed_on_the_plane(separation_m, front_m, rear_m, away_m);
                // both are a few operations on doubles of up to 10⁴
                assert!((marks.offset_m(away_m) - expected).abs() < 1e-9, "{separation_m} {away_m}");
                seen += 1;
            }
        }
    }
    assert_eq!(seen, 60);
}

#[test]
fn quantiles_agree_with_the_handbook() {
    // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4, upper critical values, 0.05 (from memory); the
    // approximation of Wilson and Hilferty promises 3 % here, and half a per cent from five degrees of freedom
    for (degrees, published, share) in
        [(1, 3.841, 0.03), (2, 5.991, 0.03), (5, 11.070, 0.005), (10, 18.307, 0.005), (30, 43.773, 0.005)]
    {
        let found = chi_square_95(degrees);
        assert!((found / published - 1.0).abs() < share, "{degrees}: {found}");
    }
}

#[test]
fn stated_doubt_is_that_of_the_line() {
    let (line, stated) = (line(), MarksOffset::stated(&line()));
    for away_m in [0.0, 300.0, 2000.0] {
        let expected = line.uncertainty_95(Metres::new(away_m).unwrap()).metres();
        assert!((stated.uncertainty_95_m(away_m) - expected).abs() < 1e-6);
    }
    assert!(stated.both_m2.abs() < 1e-6, "errors of two landmarks are independent: {}", stated.both_m2);
}

#[test]
fn further_sightings_weigh_as_if_they_had_been_there() {
    let near = collected(&[fix(300.0, 0.0, None), fix(500.0, 1.0, None), fix(900.0, 1.0, None)]);
    let all = collected(&[
        fix(300.0, 0.0, None),
        fix(500.0, 1.0, None),
        fix(900.0, 1.0, None),
        fix(1500.0, 0.0, None),
    ]);
    let expected = Support::of(&all.used);
    let merged = Support::of(&near.used).with(all.used[3].weight, all.used[3].along_m);
    for at_m in [-400.0, 0.0, 1000.0] {
        let (one, other) = (merged.variance_m2(at_m), expected.variance_m2(at_m));
        assert!((one / other - 1.0).abs() < 1e-9, "{one} {other}");
    }
}

#[test]
fn a_line_without_noise_is_found_again() {
    // y = 20·(D + S)/S: the front mark 20 m to the right
    let separation_m = line().separation().metres();
    let fixes: Vec<Fix> = [200.0, 400.0, 700.0, 1100.0]
        .map(|away_m| fix(away_m, 20.0 * (away_m + separation_m) / separation_m, None))
        .to_vec();
    let sightings = collected(&fixes);
    let fit = StraightFit::through(&sightings.used, sightings.independent);
    let marks = fit.marks(separation_m);
    // the places are exact to a micrometre, carried to the marks
    assert!((marks.front_m - 20.0).abs() < 1e-4 && marks.rear_m.abs() < 1e-4, "{marks:?}");
    let front = fit.one_mark(&sightings.used, |at_m| 1.0 + at_m / separation_m);
    let rear = fit.one_mark(&sightings.used, |at_m| -at_m / separation_m);
    assert!(front.explains && (front.offset_m - 20.0).abs() < 1e-4);
    assert!(!rear.explains);
}

#[test]
fn fixes_within_five_minutes_are_one() {
    let at = |seconds: &[i64]| {
        let fixes: Vec<Fix> =
            (500_u32..).zip(seconds).map(|(away, &second)| fix(f64::from(away), 0.0, Some(second))).collect();
        collected(&fixes).independent
    };
    assert_eq!(at(&[0, 60, 300]), 1);
    assert_eq!(at(&[0, 301]), 2);
    assert_eq!(at(&[301, 0, 150]), 2, "in any order");
    // an hour at one fix a second starts a group with every 301st
    let hour: Vec<i64> = (0..3600).collect();
    assert_eq!(at(&hour), 12);
}

#[test]
fn fixes_without_a_time_are_one_within_a_hundred_metres() {
    let at = |places: &[f64]| {
        let fixes: Vec<Fix> = places.iter().map(|&away_m| fix(away_m, 0.0, None)).collect();
        collected(&fixes).independent
    };
    assert_eq!(at(&[500.0, 560.0, 599.0]), 1);
    assert_eq!(at(&[500.0, 601.0]), 2);
    let mixed = [fix(500.0, 0.0, Some(0)), fix(570.0, 0.0, None), fix(800.0, 0.0, None)];
    assert_eq!(collected(&mixed).independent, 2, "the one near a fix with a time joins it");
}

#[test]
fn a_repeated_place_is_one_fix() {
    let fixes = [0, 400, 800].map(|second| fix(500.0, 3.0, Some(second)));
    assert_eq!(collected(&fixes).independent, 1);
}

#[test]
fn many_fixes_of_five_minutes_weigh_as_one() {
    let one = collected(&[fix(500.0, 0.0, Some(0))]);
    let many: Vec<Fix> = (0..100).map(|second| fix(500.0, 0.0, Some(second))).collect();
    let many = collected(&many);
    let (one, many) = (Support::of(&one.used), Support::of(&many.used));
    assert!((one.weight / many.weight - 1.0).abs() < 1e-9);
}

#[test]
fn outliers_go_and_good_fixes_stay() {
    // 20 near, 3 far on one sloping line: the far ones are few, and right
    let mut fixes: Vec<Fix> =
        (0..20).map(|n| fix(300.0 + f64::from(n), 6.0 + f64::from(n % 3), None)).collect();
    fixes.extend([1500.0, 1510.0, 1520.0].map(|away_m| fix(away_m, 30.0, None)));
    assert_eq!(collected(&fixes).unused, []);
    fixes.insert(7, fix(310.0, 45.0, None));
    assert_eq!(collected(&fixes).unused, [(7, UnusedFix::Outlier)]);
}

#[test]
fn unused_fixes_are_listed_by_reason() {
    let unused = [
        (0, UnusedFix::Behind),
        (1, UnusedFix::Outlier),
        (2, UnusedFix::Outlier),
        (3, UnusedFix::Outlier),
        (5, UnusedFix::Outlier),
        (6, UnusedFix::Outlier),
    ];
    let [front, rear] = ["Day Beacon", "Lone Pine"].map(str::to_owned);
    let error =
        CalibrationError::NoUsableFix { front, rear, fixes: 7, unused: by_reason(&unused) }.to_string();
    assert!(error.ends_with("Lone Pine: 1 behind, 5 outlier"), "{error}");
}
