use super::*;

/// One standard deviation of a position from two bearings of marks at the same distance: d·σ·√2 / sin cut.
/// The figures are those of the job's notes for ±3° at 1 km; they round to whole metres, hence 1 %.
#[test]
fn two_bearings_have_their_known_drms() {
    for (cut_deg, published_m) in [(90.0, 74.0), (60.0, 86.0), (30.0, 148.0), (15.0, 286.0)] {
        let crossed = cross(&two_bearings(cove(), cut_deg, 3.0), None).unwrap();
        let drms = crossed.drms.metres();
        assert!((drms / published_m - 1.0).abs() < 0.01, "{cut_deg}: {drms} for {published_m}");
        let formula = 1000.0 * 3.0_f64.to_radians() * 2.0_f64.sqrt() / cut_deg.to_radians().sin();
        // north turns by 0.009° over 1 km at 45°, and with it lines of constant bearing
        assert!((drms / formula - 1.0).abs() < 5e-4, "{cut_deg}: {drms} for {formula}");
        assert!((crossed.angle_of_cut_deg - cut_deg).abs() < 0.02);
        assert!(apart_m(crossed.position, cove()) < 1e-3);
        assert_eq!(has(&crossed, ProblemCode::CutTooShallow), cut_deg < 29.9);
    }
}

/// Axes of the ellipse of two equal bearings, d·σ / (√2 sin ½cut) and d·σ / (√2 cos ½cut), the long one towards the
/// middle between the marks: from the eigenvectors of the sum of two projections.
#[test]
fn two_bearings_have_their_ellipse() {
    for cut_deg in [90.0, 60.0, 30.0, 8.0_f64] {
        let crossed = cross(&two_bearings(cove(), cut_deg, 0.5), None).unwrap();
        let sigma_m = 1000.0 * 0.5_f64.to_radians() / 2.0_f64.sqrt();
        let half = (cut_deg / 2.0).to_radians();
        let quantile = 2.447_746_8;
        let ellipse = crossed.ellipse;
        assert!((ellipse.semi_major.metres() / (quantile * sigma_m / half.sin()) - 1.0).abs() < 1e-3);
        assert!((ellipse.semi_minor.metres() / (quantile * sigma_m / half.cos()) - 1.0).abs() < 1e-3);
        if cut_deg < 89.0 {
            assert!((ellipse.major_bearing.degrees() - (40.0 + cut_deg / 2.0)).abs() < 0.05);
        }
    }
}

/// A transit's doubt is known in closed form ([`RangeLine::uncertainty_95`]); with an exact bearing square to it nothing
/// else is left across the line.
#[test]
fn a_transit_weighs_what_marks_and_eye_make_it() {
    let front = mark("beacon", go(cove(), 0.0, 1000.0), 10.0);
    let rear = mark("pine", go(cove(), 0.0, 1100.0), 10.0);
    let side = mark("chapel", go(cove(), 90.0, 1000.0), 0.0);
    let crossed = cross(&[transit(&front, &rear), bearing_from(cove(), &side, 0.01)], None).unwrap();
    // ±149 m for 10 m on marks 100 m apart at 1 km, and 5′ of the eye (16 m): the job's notes
    let marks_m = (10.0_f64.powi(2) * 11.0_f64.powi(2) + 10.0_f64.powi(2) * 10.0_f64.powi(2)).sqrt();
    let eye_m = (5.0 / 60.0_f64).to_radians() * 1000.0 * 1100.0 / 100.0;
    let expected_m = marks_m.hypot(eye_m);
    let across_m = crossed.ellipse.semi_major.metres() / 2.447_746_8 * 1.959_964;
    assert!((across_m / expected_m - 1.0).abs() < 2e-3, "{across_m} for {expected_m}");
    assert!((crossed.ellipse.major_bearing.degrees() - 90.0).abs() < 0.1);
}

/// Tienstra's formula for the resection by three marks, as in textbooks of surveying (from memory): with the angles A, B,
/// C of the triangle of marks and α, β, γ those that the observer sees opposite to them, P = `ΣKᵢMᵢ / ΣKᵢ`,
/// K₁ = 1 / (cot A − cot α). Computed on the plane about the middle mark; over 2 km plane and ellipsoid differ by
/// about 0.1 mm, hence the centimetre.
#[test]
fn resection_agrees_with_tienstra() {
    let middle = cove();
    for (left_at, right_at, left_angle, right_angle) in [
        ([-900.0, 250.0], [1100.0, -150.0], 41.3_f64, 37.2_f64),
        ([-1200.0, -200.0], [700.0, 150.0], 62.0, 28.4),
        ([-600.0, 10.0], [800.0, 300.0], 25.0, 71.7),
    ] {
        let marks = [left_at, [0.0, 0.0], right_at];
        let angles = [right_angle, 360.0 - left_angle - right_angle, left_angle];
        let expected = tienstra(marks, angles);
        let [left, right] = [left_at, right_at].map(|place| mark("side", shifted(middle, place), 0.0));
        let centre = mark("middle", middle, 0.0);
        let lines = [
            LineOfPosition::horizontal_angle(left, centre.clone(), left_angle, 0.1).unwrap(),
            LineOfPosition::horizontal_angle(centre, right, right_angle, 0.1).unwrap(),
        ];
        let crossed = cross(&lines, None).unwrap();
        let found = east_north(middle, crossed.position);
        let off_m = (found[0] - expected[0]).hypot(found[1] - expected[1]);
        assert!(off_m < 0.01, "{found:?} for {expected:?}");
        assert!(crossed.others.is_empty(), "the shared mark is no position: {:?}", crossed.others);
    }
}

fn tienstra(marks: [[f64; 2]; 3], seen_deg: [f64; 3]) -> [f64; 2] {
    let cot = |radians: f64| radians.cos() / radians.sin();
    let k = [0, 1, 2].map(|this| {
        let [here, next, last] = [0, 1, 2].map(|step| marks[(this + step) % 3]);
        let towards = |to: [f64; 2]| (to[0] - here[0]).atan2(to[1] - here[1]);
        // signed alike all round, so that a middle mark nearer to the observer than the others is right too
        1.0 / (cot(towards(last) - towards(next)) - cot(seen_deg[this].to_radians()))
    });
    let sum: f64 = k.iter().sum();
    [0, 1].map(|axis| (0..3).map(|i| k[i] * marks[i][axis]).sum::<f64>() / sum)
}

/// The places that see a chord under one angle lie on a circle of radius chord / (2 sin angle) through both ends (Euclid
/// III.20 and 21). On the plane about the left mark; 1 km on the ellipsoid differs from it by less than 0.1 mm.
#[test]
fn an_angle_puts_the_position_on_its_circle() {
    let left = mark("left", cove(), 0.0);
    let right = mark("right", shifted(cove(), [800.0, 0.0]), 0.0);
    for angle_deg in [20.0, 55.0, 90.0, 130.0_f64] {
        for share in [0.3, 0.8] {
            // between the chord and the circle's tangent at the left mark
            let bearing_deg = 270.0 + share * (180.0 - angle_deg);
            let lines = [
                LineOfPosition::horizontal_angle(left.clone(), right.clone(), angle_deg, 0.2).unwrap(),
                bearing(&left, bearing_deg, 1.0),
            ];
            let crossed = cross(&lines, None).unwrap();
            let [east, north] = east_north(cove(), crossed.position);
            let radius = 400.0 / angle_deg.to_radians().sin();
            let centre_north = -400.0 / angle_deg.to_radians().tan();
            let off = (east - 400.0).hypot(north - centre_north) - radius;
            assert!(off.abs() < 1e-3, "{angle_deg}: {off} m off the circle");
            assert!(north < 0.0, "the left mark is to the left only from the south");
            assert!(crossed.others.is_empty(), "the line meets the circle at the mark again: no position");
        }
    }
}
