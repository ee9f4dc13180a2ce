use super::*;

const PLACES: [(f64, f64); 9] = [
    (45.1182, -30.1217),
    (-41.3, 174.8),
    (0.0, 0.0),
    (0.001, 179.9999),
    (-17.2, -179.9998),
    (51.0, 180.0),
    (89.0, 12.0),
    (-89.0, -150.0),
    (70.0, 179.995),
];

/// Marks around a place, near and far, and a transit through it.
fn all_lines(place: Position, turn_deg: f64) -> Vec<LineOfPosition> {
    let landmark = |deg: f64, metres| mark("mark", go(place, turn_deg + deg, metres), 10.0);
    let [a, b, c] = [landmark(-50.0, 1500.0), landmark(-5.0, 2400.0), landmark(55.0, 900.0)];
    let far = landmark(100.0, 9000.0);
    let (front, rear) = (landmark(20.0, 1200.0), landmark(20.0, 3000.0));
    vec![
        transit(&front, &rear),
        bearing_from(place, &a, 2.0),
        angle_from(place, &a, &b, 0.5),
        bearing_from(place, &far, 2.0),
        angle_from(place, &b, &c, 0.5),
    ]
}

/// Exact observations give the place back to 1 mm: every pair and triple of kinds, everywhere, in four directions. The
/// azimuths are GeographicLib's, which computes to nanometres; the millimetre is the promise.
#[test]
fn come_back_from_exact_observations() {
    let mut tried = 0;
    let mut worst_m = 0.0_f64;
    for (lat, lon) in PLACES {
        let place = at(lat, lon);
        for turn_deg in [0.0, 90.0, 195.0, 300.0] {
            let lines = all_lines(place, turn_deg);
            for set in 1_u32..32 {
                if set.count_ones() < 2 {
                    continue;
                }
                let chosen: Vec<LineOfPosition> =
                    (0..5).filter(|bit| set & (1 << bit) != 0).map(|bit| lines[bit].clone()).collect();
                let crossed = cross(&chosen, Some(go(place, 77.0, 40.0)))
                    .unwrap_or_else(|error| panic!("{lat} {lon} {turn_deg} {set:05b}: {error}"));
                let off_m = apart_m(crossed.position, place);
                assert!(off_m < 1e-3, "{lat} {lon} {turn_deg} {set:05b}: {off_m} m off");
                assert!(crossed.agree && crossed.residuals.iter().all(|residual| *residual < 1e-3));
                worst_m = worst_m.max(off_m);
                tried += 1;
            }
        }
    }
    assert_eq!(tried, 9 * 4 * 26);
    println!("worst {worst_m:.1e} m");
}

/// Without a place given as near, the true one is the position or one of the others.
#[test]
fn are_among_the_positions_that_fit() {
    for (lat, lon) in PLACES {
        let place = at(lat, lon);
        for turn_deg in [0.0, 90.0, 195.0, 300.0] {
            let lines = all_lines(place, turn_deg);
            for (one, other) in [(0, 1), (0, 2), (1, 2), (1, 3), (2, 4), (3, 4)] {
                let crossed = cross(&[lines[one].clone(), lines[other].clone()], None).unwrap();
                let all = std::iter::once(&crossed.position).chain(&crossed.others);
                let closest_m = all.map(|found| apart_m(*found, place)).fold(f64::INFINITY, f64::min);
                assert!(closest_m < 1e-3, "{lat} {lon} {turn_deg} {one} {other}: {closest_m}");
                assert_eq!(crossed.is_ambiguous(), !crossed.others.is_empty());
                assert_eq!(crossed.others.len(), crossed.others_radius_95.len());
            }
        }
    }
}

#[test]
fn the_order_of_the_lines_does_not_matter() {
    let lines = all_lines(cove(), 30.0);
    // off by some errors each, so that there is something to weigh
    let lines: Vec<LineOfPosition> = lines
        .into_iter()
        .enumerate()
        .map(|(number, line)| match line {
            LineOfPosition::Bearing { mark, bearing: seen, standard_error_deg } => {
                bearing(&mark, seen.degrees() + if number == 1 { 1.1 } else { -0.8 }, standard_error_deg)
            }
            other @ (LineOfPosition::Transit { .. } | LineOfPosition::HorizontalAngle { .. }) => other,
        })
        .collect();
    let there = cross(&lines, None).unwrap();
    let mut turned: Vec<LineOfPosition> = lines.iter().rev().cloned().collect();
    for _ in 0..turned.len() {
        turned.rotate_left(1);
        let again = cross(&turned, None).unwrap();
        assert!(apart_m(there.position, again.position) < 1e-3);
        assert!((there.drms.metres() - again.drms.metres()).abs() < 1e-3);
        assert!((there.radius_95.metres() - again.radius_95.metres()).abs() < 1e-3);
    }
}
