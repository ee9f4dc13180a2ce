//! What holds of every answer, whatever marks, stretch, zones, eye and time.

use proptest::prelude::*;

use super::scene_tests::zones;
use crate::geodesic::direct;
use crate::landmark::Landmark;
use crate::transit::{Eye, LinePoint, RangeLine, Stretch, TransitQuestion, TransitReport, WorkingArea};
use crate::zone::{Extent, ZoneSet};
use crate::{Arcminutes, Boundary, EdgeModel, Metres, PartSpec, Position, RingSpec, Tristate, TrueBearing};

/// Places anywhere, poles and 180° more often than chance has it.
fn anywhere() -> impl Strategy<Value = Position> {
    let latitude = prop_oneof![-90.0..=90.0_f64, Just(90.0), Just(-90.0), 89.9..90.0_f64, -0.01..0.01_f64];
    let longitude = prop_oneof![-180.0..180.0_f64, Just(180.0), 179.99..180.0_f64, -180.0..-179.99_f64];
    (latitude, longitude).prop_map(|(lat, lon)| Position::from_degrees(lat, lon).unwrap())
}

fn boundary(centre: Position, size_m: f64, sides: u32, model: EdgeModel) -> Option<Boundary> {
    if sides < 3 {
        let radius = Metres::new(size_m.min(500_000.0)).unwrap();
        return Boundary::build(&[PartSpec::Circle { centre, radius }]).ok();
    }
    let step_deg = 360.0 / f64::from(sides);
    let vertices: Vec<Position> =
        (0..sides).map(|side| direct(centre, -step_deg * f64::from(side) - 7.0, size_m)).collect();
    let edges = vec![model; vertices.len()];
    Boundary::build(&[PartSpec::Polygon {
        exterior: RingSpec { vertices, edges, sides: Vec::new() },
        holes: vec![],
    }])
    .ok()
}

fn zone_set(boundaries: Vec<Boundary>) -> ZoneSet {
    let pattern = zones(&[&[(0.0, 0.0), (9.0, 0.0), (9.0, 9.0)]]).zones()[0].clone();
    let zone = |boundary| {
        let mut zone = pattern.clone();
        zone.extent = Extent::Known(boundary);
        zone
    };
    ZoneSet::new(boundaries.into_iter().map(zone).collect())
}

fn assert_sound(report: &TransitReport) {
    let finite = |point: &LinePoint| {
        let figures = [point.distance_from_front, point.signed_distance, point.uncertainty_95];
        assert!(figures.iter().all(|figure| figure.metres().is_finite()), "{point:?}");
        assert!(point.uncertainty_95.metres() >= 0.0);
    };
    let stretch = report.question.stretch;
    for zone in &report.zones {
        let points = [zone.worst, zone.closest, zone.near, zone.middle, zone.far];
        points.iter().flatten().for_each(finite);
        if let (Some(worst), Some(closest)) = (zone.worst, zone.closest) {
            for point in [worst, closest] {
                let away = point.distance_from_front;
                assert!(stretch.near() <= away && away <= stretch.far());
            }
            // the least margin is no more than the margin where the distance is least
            let tolerance_m = 0.05_f64.max(worst.margin().metres().abs() / 1000.0);
            assert!(worst.margin().metres() <= closest.margin().metres() + tolerance_m);
            let ends =
                [zone.near, zone.middle, zone.far].map(|point| point.unwrap().signed_distance.metres());
            let tolerance_m = 0.05_f64.max(closest.signed_distance.metres().abs() / 1000.0) + 1.0;
            assert!(ends.iter().all(|end_m| closest.signed_distance.metres() <= end_m + tolerance_m));
            if zone.clears == Tristate::Yes {
                assert!(
                    worst.margin().metres() > 0.0 && zone.meetings.iter().all(|m| m.angle_deg.is_finite())
                );
                assert!(zone.meetings.is_empty());
            }
            if zone.clears == Tristate::No {
                assert!(closest.signed_distance.metres() < 0.0);
            }
        }
    }
    if report.clears == Tristate::Yes {
        assert!(report.zones.iter().all(|zone| zone.clears == Tristate::Yes));
    } else {
        assert!(!report.clears_because.is_empty());
    }
    if let Some(water) = &report.water {
        let of_kinds = water.false_clear_m2() + water.inside_and_seen_m2 + water.forgone_m2;
        let all = of_kinds + water.open_in_line_m2 + water.open_and_clear_m2;
        assert!(all.is_finite() && (all - water.area_m2).abs() <= 1e-6 * water.area_m2.abs() + 1e-6);
    }
    let figures = format!("{:?} {:?}", report.problems, report.clears_because);
    assert!(!figures.contains("NaN") && !figures.contains("inf"), "{figures}");
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn every_answer_is_sound(
        (front, toward, separation_m) in (anywhere(), 0.0..360.0_f64, 0.6..60_000.0_f64),
        (near_m, length_m, half_m) in (0.1..20_000.0_f64, 0.5..60_000.0_f64, 0.5..5000.0_f64),
        (error_m, eye_m, threshold) in (0.0..50.0_f64, 0.0..30.0_f64, 0.01..599.0_f64),
        shapes in prop::collection::vec(
            (0.0..360.0_f64, 0.0..40_000.0_f64, 10.0..14.5_f64, 2_u32..9, 0..4_usize), 0..4),
        minute in prop::option::of(0_i64..2_000_000),
    ) {
        let mark = |name: &str, position, height_m| {
            let mut mark = Landmark::at(name, position);
            mark.position_error_95 = Metres::new(error_m).unwrap();
            mark.height = Some(Metres::new(height_m).unwrap());
            mark
        };
        let rear = mark("rear", direct(front, toward, separation_m), error_m);
        let line = RangeLine::through(mark("front", front, 50.0 - error_m), rear).unwrap();
        let stretch = Stretch::new(Metres::new(near_m).unwrap(), Metres::new(near_m + length_m).unwrap()).unwrap();
        let models =
            [EdgeModel::Geodesic, EdgeModel::RhumbLine, EdgeModel::PlateCarree, EdgeModel::Unstated];
        let boundaries = shapes.into_iter().filter_map(|(turn_deg, off_m, size, sides, model)| {
            // 2^10 to 2^14.5 thousandths of the Earth's meridian: 20 m to 1000 km
            let size_m = 20.0 * ((size - 10.0) / 4.5 * 50_000.0_f64.ln()).exp();
            boundary(direct(front, turn_deg, off_m), size_m, sides, models[model])
        });
        let zones = zone_set(boundaries.collect());
        let mut asked = TransitQuestion::about(stretch);
        asked.eye = Eye::new(Metres::new(eye_m).unwrap(), Arcminutes::new(threshold).unwrap()).unwrap();
        asked.area = WorkingArea::Strip { half_width: Metres::new(half_m).unwrap() };
        asked.launch = Some(direct(front, toward + 100.0, 900.0));
        asked.heading = Some(TrueBearing::from_degrees(toward).unwrap());
        asked.time = minute.map(|minute| jiff::Timestamp::from_second(1_750_000_000 + 60 * minute).unwrap());
        assert_sound(&line.check(&zones, &asked));
    }
}
