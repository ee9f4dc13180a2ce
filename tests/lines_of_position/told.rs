use super::*;

fn three() -> [Landmark; 3] {
    [-50.0, 10.0, 80.0].map(|deg| mark("mark", go(cove(), deg, 1500.0), 10.0))
}

#[test]
fn a_blunder_in_one_of_three_bearings() {
    for blunder_deg in [0.0, 15.0] {
        let [a, b, c] = three();
        let off = azimuth_deg(cove(), c.position) + blunder_deg;
        let lines = [bearing_from(cove(), &a, 2.0), bearing_from(cove(), &b, 2.0), bearing(&c, off, 2.0)];
        let crossed = cross(&lines, None).unwrap();
        assert_eq!(crossed.agree, blunder_deg == 0.0);
        assert_eq!(has(&crossed, ProblemCode::LinesDisagree), blunder_deg > 0.0);
        if blunder_deg > 0.0 {
            // the ellipse is grown by the misfit, so the true place is not left out for being sure of too much
            let grown = cross(&lines[..2], None).unwrap();
            assert!(crossed.drms.metres() > grown.drms.metres());
            assert!(apart_m(crossed.position, cove()) < crossed.radius_95.metres());
        }
    }
}

/// A mean of agreeing lines is better than any two of them, never by more than they say.
#[test]
fn a_third_line_makes_the_ellipse_smaller() {
    let [a, b, c] = three().map(|one| bearing_from(cove(), &one, 2.0));
    let two = cross(&[a.clone(), b.clone()], None).unwrap();
    let all = cross(&[a, b, c], None).unwrap();
    assert!(all.drms < two.drms && all.radius_95 < two.radius_95);
}

/// Trade rule: an observer on the circle through three marks sees both angles wherever on it he is.
#[test]
fn a_place_on_the_danger_circle() {
    let centre = cove();
    let on_circle = |deg: f64| go(centre, deg, 1000.0);
    let [left, middle, right] = [-60.0, 0.0, 60.0].map(|deg| mark("mark", on_circle(deg), 0.0));
    let cut_at = |place: Position, middle: &Landmark| {
        let lines = [angle_from(place, &left, middle, 0.02), angle_from(place, middle, &right, 0.02)];
        let crossed = cross(&lines, Some(place)).map_err(|error| error.to_string())?;
        println!("cut {:.2}°, drms {:.0} m", crossed.angle_of_cut_deg, crossed.drms.metres());
        Ok::<_, String>((has(&crossed, ProblemCode::CutTooShallow), crossed.angle_of_cut_deg))
    };
    // on it the lines run along each other: refused, or warned of
    assert!(
        cut_at(on_circle(183.0), &middle).is_err_and(|error| error.contains("another mark"))
            || cut_at(on_circle(183.0), &middle).is_ok_and(|(shallow, cut_deg)| shallow && cut_deg < 0.1)
    );
    let (shallow, cut_deg) = cut_at(go(centre, 183.0, 1060.0), &middle).unwrap();
    assert!(shallow && cut_deg < 5.0);
    // with the middle mark nearer than the others the same place is well fixed: the circles cut at 120°, which is 60°
    // (angle at the middle mark on the observer's side, and both angles seen, less half a turn)
    let (shallow, cut_deg) = cut_at(on_circle(180.0), &mark("near", centre, 0.0)).unwrap();
    assert!(!shallow && (cut_deg - 60.0).abs() < 0.1, "{cut_deg}");
}

/// The circle of an angle and the boundary of a bearing meet twice before the marks.
fn twice() -> ([LineOfPosition; 2], [Position; 2]) {
    let left = mark("left", shifted(cove(), [-600.0, 0.0]), 5.0);
    let right = mark("right", shifted(cove(), [600.0, 0.0]), 5.0);
    let side = mark("side", shifted(cove(), [1800.0, -200.0]), 5.0);
    let angle = LineOfPosition::horizontal_angle(left, right, 60.0, 0.3).unwrap();
    let lines = [angle, bearing(&side, 80.0, 1.0)];
    let crossed = cross(&lines, None).unwrap();
    let other = *crossed.others.first().expect("two positions");
    (lines, [crossed.position, other])
}

#[test]
fn two_positions_and_which_is_near() {
    let (lines, [one, other]) = twice();
    let unsaid = cross(&lines, None).unwrap();
    assert!(unsaid.is_ambiguous() && has(&unsaid, ProblemCode::TwoPositionsFit));
    assert!(apart_m(one, other) > 500.0);
    for (near, expected) in [(one, one), (other, other)] {
        let said = cross(&lines, Some(go(near, 45.0, 80.0))).unwrap();
        assert!(apart_m(said.position, expected) < 1e-3);
        assert_eq!(said.others.len(), 1);
        assert!(!said.is_ambiguous());
        let note = said.problems.iter().find(|problem| problem.code() == ProblemCode::TwoPositionsFit);
        assert_eq!(note.unwrap().severity, Severity::Note);
    }
    // half-way between both, near says nothing
    let between = go(one, azimuth_deg(one, other), apart_m(one, other) * 0.48);
    assert!(cross(&lines, Some(between)).unwrap().is_ambiguous());
}

#[test]
fn a_bearing_is_no_back_bearing() {
    let (ahead, side) =
        (mark("ahead", go(cove(), 0.0, 1000.0), 5.0), mark("side", go(cove(), 90.0, 1000.0), 5.0));
    let right = cross(&[bearing(&ahead, 0.0, 2.0), bearing(&side, 90.0, 2.0)], None).unwrap();
    assert!(apart_m(right.position, cove()) < 1.0);
    let error = cross(&[bearing(&ahead, 180.0, 2.0), bearing(&side, 90.0, 2.0)], None).unwrap_err();
    assert!(matches!(error, CrossError::NoCrossing { .. }), "{error}");
    // the front mark of a transit is before the rear one, and the left mark of an angle to the left
    let rear = mark("rear", go(cove(), 0.0, 1600.0), 5.0);
    let side = bearing(&side, 90.0, 2.0);
    assert!(cross(&[transit(&ahead, &rear), side.clone()], None).is_ok());
    assert!(cross(&[transit(&rear, &ahead), side.clone()], None).is_err());
}

#[test]
fn what_gives_no_position() {
    let [a, b, _] = three();
    let first = bearing_from(cove(), &a, 2.0);
    for given in [0, 1] {
        let error = cross(&vec![first.clone(); given], None).unwrap_err();
        assert!(error.to_string().contains("take"), "{error}");
        assert_eq!(error, CrossError::TooFewLines { given });
    }
    // the same line twice, the same mark on two bearings, and parallel bearings of two marks
    let error = cross(&[first.clone(), first.clone()], None).unwrap_err();
    assert!(matches!(error, CrossError::Parallel { .. }), "{error}");
    for parallel in
        [[bearing(&a, 10.0, 2.0), bearing(&a, 14.0, 2.0)], [bearing(&a, 30.0, 2.0), bearing(&b, 30.0, 2.0)]]
    {
        let error = cross(&parallel, None).unwrap_err();
        assert!(error.to_string().contains("another mark"), "{error}");
    }
    assert!(matches!(cross(&vec![first; 25], None), Err(CrossError::TooManyLines { given: 25, most: 24 })));
}

#[test]
fn figures_that_no_observation_has() {
    let [a, b, _] = three();
    let north = TrueBearing::from_degrees(0.0).unwrap();
    for error_deg in [0.0, -1.0, 45.0, f64::NAN, f64::INFINITY] {
        assert!(LineOfPosition::bearing(a.clone(), north, error_deg).is_err());
        assert!(LineOfPosition::horizontal_angle(a.clone(), b.clone(), 40.0, error_deg).is_err());
        // the fields are public, so crossing looks again
        let unchecked =
            LineOfPosition::Bearing { mark: a.clone(), bearing: north, standard_error_deg: error_deg };
        let error = cross(&[unchecked, bearing(&b, 30.0, 2.0)], None).unwrap_err();
        assert!(matches!(error, CrossError::StandardError { .. }), "{error}");
    }
    for angle_deg in [0.0, 180.0, -5.0, 200.0, f64::NAN] {
        assert!(LineOfPosition::horizontal_angle(a.clone(), b.clone(), angle_deg, 1.0).is_err());
    }
    let error = LineOfPosition::horizontal_angle(a.clone(), a, 40.0, 1.0).unwrap_err();
    assert!(matches!(error, CrossError::OnePlace { .. }), "{error}");
}
