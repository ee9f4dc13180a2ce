use super::*;

/// A square reserve of the isle with its north side on the parallel of a place and 2 km to the south of it.
fn south_of(place: Position) -> ZoneSet {
    let (north, west) = (place.latitude().degrees(), place.longitude().degrees() - 0.02);
    let (south, east) = (north - 0.018, west + 0.04);
    let file = format!(
        r#"{{ "type": "FeatureCollection",
          "takeline": {{ "format": "takeline.zones/1", "title": "Marrowick", "edition": "1", "datum": "WGS 84",
                         "time_zone": "UTC", "taxa": [], "groups": [] }},
          "features": [ {{ "type": "Feature", "id": "sallow-cove",
            "geometry": {{ "type": "Polygon", "coordinates":
              [[[{west}, {north}], [{west}, {south}], [{east}, {south}], [{east}, {north}], [{west}, {north}]]] }},
            "properties": {{ "name": "Sallow Cove", "edges": "rhumb", "take": "none",
                             "source": {{ "instrument": "Marrowick Waters Order" }} }} }} ] }}"#
    );
    ZoneSet::new(zone_file::read("marrowick.json", file.as_bytes()).unwrap().zones)
}

/// Case 49 of the job's list: two bearings 8° apart make a position that is some 500 m long, and no answer near a line.
#[test]
fn a_shallow_cut_near_a_line_is_undecided() {
    // 0.57° is what makes the 95 % ellipse of two exact marks at 1 km 500 m long: 2 · 2.448 · 1 km · σ / (√2 sin 4°)
    let lines =
        [-4.0, 4.0].map(|deg| bearing_from(cove(), &mark("mark", go(cove(), deg, 1000.0), 0.0), 0.578));
    let crossed = cross(&lines, None).unwrap();
    assert!((2.0 * crossed.ellipse.semi_major.metres() - 500.0).abs() < 10.0, "{:?}", crossed.ellipse);
    assert!(has(&crossed, ProblemCode::CutTooShallow));
    for (line_away_m, side) in [(100.0, Containment::Undecided), (1000.0, Containment::Outside)] {
        let answers =
            crossed.assess(&south_of(go(cove(), 180.0, line_away_m)), &Question::default(), None).unwrap();
        assert_eq!(answers.len(), 1);
        assert_eq!(answers[0].zones[0].containment, side);
        let undecided = CrossedPosition::water_of(&answers) == WaterStatus::Undecided;
        assert_eq!(undecided, side == Containment::Undecided);
    }
    // a good cut by the same compass settles it
    let square =
        [0.0, 90.0].map(|deg| bearing_from(cove(), &mark("mark", go(cove(), deg, 1000.0), 0.0), 0.578));
    let crossed = cross(&square, None).unwrap();
    let answers = crossed.assess(&south_of(go(cove(), 180.0, 100.0)), &Question::default(), None).unwrap();
    assert_eq!(answers[0].zones[0].containment, Containment::Outside);
}

/// The circle of an angle and a bearing meet on both sides of a zone's line: closed or open, nobody can tell.
#[test]
fn two_positions_on_two_sides_are_undecided() {
    let left = mark("left", shifted(cove(), [-600.0, 0.0]), 2.0);
    let right = mark("right", shifted(cove(), [600.0, 0.0]), 2.0);
    let side = mark("side", shifted(cove(), [1300.0, -100.0]), 2.0);
    let angle = LineOfPosition::horizontal_angle(left, right, 60.0, 0.1).unwrap();
    let lines = [angle, bearing(&side, 75.0, 0.2)];
    let crossed = cross(&lines, None).unwrap();
    assert_eq!(crossed.others.len(), 1, "{crossed:?}");
    let (one, other) = (crossed.position, crossed.others[0]);
    let middle = go(one, azimuth_deg(one, other), apart_m(one, other) / 2.0);
    let zones = south_of(middle);
    let open = crossed.assess(&zones, &Question::default(), None).unwrap();
    assert_eq!(open.len(), 2);
    let waters = [open[0].water, open[1].water];
    assert!(waters.contains(&WaterStatus::Closed) && waters.contains(&WaterStatus::Unzoned), "{waters:?}");
    assert_eq!(CrossedPosition::water_of(&open), WaterStatus::Undecided);
    // with a place that is near one of them it is settled
    for (near, water) in [(one, waters[0]), (other, waters[1])] {
        let said = cross(&lines, Some(near)).unwrap();
        let answers = said.assess(&zones, &Question::default(), None).unwrap();
        assert_eq!(CrossedPosition::water_of(&answers), water);
        assert_eq!(answers.len(), 1);
    }
    assert_eq!(CrossedPosition::water_of(&[]), WaterStatus::Undecided);
}
