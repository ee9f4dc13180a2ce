//! Circle, chi-square and compass: the parts of a crossed position that have closed forms or tables of their own.

use super::ellipse::{Symmetric, probability_beyond};
use crate::landmark::Landmark;
use crate::magnetic::MagneticVariation;
use crate::transit::{CrossError, LineOfPosition};
use crate::{Arcminutes, MagneticBearing, Position};

fn circle(long: f64, short: f64) -> f64 {
    Symmetric { east: long * long, both: 0.0, north: short * short }.circle_95().metres()
}

/// Limits: 1.96 σ of a normal error along a line, √(−2 ln 0.05) σ of a circular one; seven digits of each.
#[test]
fn the_circle_is_exact_in_its_limits() {
    assert!((circle(1.0, 1.0) - (-2.0 * 0.05_f64.ln()).sqrt()).abs() < 1e-6, "{}", circle(1.0, 1.0));
    assert!((circle(1.0, 0.0) - 1.959_963_985).abs() < 1e-6, "{}", circle(1.0, 0.0));
    assert!((circle(1.0, 1e-6) - 1.959_963_985).abs() < 1e-6);
    assert!((circle(30.0, 30.0) / circle(1.0, 1.0) - 30.0).abs() < 1e-6);
    assert!(circle(0.0, 0.0).abs() < 1e-300);
}

/// A second way: the share within a circle integrated round it, 1/(2π s) ∮ (1 − exp(−R² q/2)) / q dθ with
/// q = cos² + sin²/s², is 95 % to 2e-6 for every ratio of the axes.
#[test]
fn the_circle_holds_its_share() {
    for hundredths in 2..=100_u32 {
        let ratio = f64::from(hundredths) / 100.0;
        let radius = circle(1.0, ratio);
        let steps = 20_000_u32;
        let mean: f64 = (0..steps)
            .map(|step| {
                let (sin, cos) = (std::f64::consts::TAU * f64::from(step) / f64::from(steps)).sin_cos();
                let q = cos * cos + sin * sin / (ratio * ratio);
                (1.0 - (-radius * radius * q / 2.0).exp()) / q
            })
            .sum::<f64>()
            / f64::from(steps);
        assert!((mean / ratio - 0.95).abs() < 2e-6, "{ratio}: {}", mean / ratio);
    }
}

/// 95 % points of chi-square, three decimals: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.4 (from memory).
#[test]
fn chi_square_agrees_with_its_table() {
    let table = [3.841, 5.991, 7.815, 9.488, 11.070, 12.592, 14.067, 15.507, 16.919, 18.307];
    for (degrees, point) in (1..).zip(table) {
        assert!(probability_beyond(point - 0.0006, degrees) > 0.05, "{degrees}");
        assert!(probability_beyond(point + 0.0006, degrees) < 0.05, "{degrees}");
    }
    assert!((probability_beyond(0.0, 0) - 1.0).abs() < 1e-15);
    assert!((probability_beyond(0.0, 5) - 1.0).abs() < 1e-15);
}

#[test]
fn the_ellipse_points_along_its_long_axis() {
    // 3 m along 030°, 1 m across
    let (sin, cos) = 30.0_f64.to_radians().sin_cos();
    let turned = Symmetric {
        east: 9.0 * sin * sin + cos * cos,
        both: 8.0 * sin * cos,
        north: 9.0 * cos * cos + sin * sin,
    };
    let ellipse = turned.ellipse_95();
    assert!((ellipse.major_bearing.degrees() - 30.0).abs() < 1e-9);
    assert!((ellipse.semi_major.metres() / ellipse.semi_minor.metres() - 3.0).abs() < 1e-9);
    let [east, north] = turned.on_ellipse(0.0);
    assert!((east - 3.0 * sin).abs() < 1e-9 && (north - 3.0 * cos).abs() < 1e-9);
    let [east, north] = turned.on_ellipse(90.0);
    assert!((east - cos).abs() < 1e-9 && (north + sin).abs() < 1e-9);
}

/// 13° of variation counted to the east, and its error in quadrature: 3 and 4 make 5.
#[test]
fn a_compass_bearing_takes_the_variation_and_its_error() {
    let variation = MagneticVariation {
        degrees: -13.0,
        standard_error: Arcminutes::new(4.0 * 60.0).unwrap(),
        time: "2026-07-01T12:00Z".parse().unwrap(),
    };
    let beacon = Landmark::at("beacon", Position::from_degrees(45.1252, -30.1310).unwrap());
    let seen = MagneticBearing::from_degrees(5.0).unwrap();
    let line = LineOfPosition::compass(beacon.clone(), seen, variation, 3.0).unwrap();
    let LineOfPosition::Bearing { bearing, standard_error_deg, .. } = line else { panic!("a bearing") };
    assert!((bearing.degrees() - 352.0).abs() < 1e-9);
    assert!((standard_error_deg - 5.0).abs() < 1e-12);
    for bad in [0.0, -3.0, 44.99, f64::NAN] {
        let error = LineOfPosition::compass(beacon.clone(), seen, variation, bad).unwrap_err();
        assert!(matches!(error, CrossError::StandardError { .. }), "{error}");
    }
}
