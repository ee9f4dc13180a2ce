//! `tests/data/marks/transits_computed.csv` and `horizon.csv`, to their stated digits.

use std::collections::HashMap;

use takeline::landmark::Landmark;
use takeline::transit::{Eye, RangeLine};
use takeline::{Arcminutes, GeodesicSegment, Metres, NauticalMiles, Position};

const FOLDER: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../tests/data/marks/");

type Row = HashMap<String, f64>;

fn rows(file: &str) -> Vec<Row> {
    let mut reader = csv::Reader::from_path(format!("{FOLDER}{file}")).unwrap();
    let names = reader.headers().unwrap().clone();
    let row = |record: csv::StringRecord| {
        let fields = names.iter().zip(record.iter()).filter(|(_, text)| !text.is_empty());
        fields.map(|(name, text)| (name.to_owned(), text.parse().unwrap())).collect()
    };
    reader.records().map(|record| row(record.unwrap())).collect()
}

fn place(row: &Row, what: &str) -> Position {
    Position::from_degrees(row[&format!("lat_{what}_deg")], row[&format!("lon_{what}_deg")]).unwrap()
}

fn hold(case: f64, (what, found, expected): (&str, f64, f64), tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "case {case}, {what}: {found} is not {expected}");
}

#[test]
fn computed_transits_agree_to_their_stated_digits() {
    let rows = rows("transits_computed.csv");
    assert_eq!(rows.len(), 10);
    for row in rows {
        let (front, rear, observer) = (place(&row, "front"), place(&row, "rear"), place(&row, "obs"));
        let line = RangeLine::through(Landmark::at("front", front), Landmark::at("rear", rear)).unwrap();
        let seen = line.seen_from(observer);
        let on_line = line.place(observer);
        let case = row["case"];
        // half a unit of the last printed place each
        hold(case, ("front_rear_m", line.separation().metres(), row["front_rear_m"]), 5e-4);
        hold(case, ("obs_front_m", seen.front_distance.metres(), row["obs_front_m"]), 5e-4);
        hold(case, ("front bearing", seen.front_bearing.degrees(), row["azi_obs_to_front_deg"]), 5e-7);
        let to_rear = GeodesicSegment::between(observer, rear).initial_bearing();
        hold(case, ("rear bearing", to_rear.degrees(), row["azi_obs_to_rear_deg"]), 5e-7);
        hold(case, ("opening", seen.rear_from_front.arcmin(), row["rear_minus_front_arcmin"]), 5e-5);
        hold(case, ("cross-track", -on_line.to_the_right.metres(), row["cross_track_m"]), 5e-5);
        let one_minute = line.offset_for(seen.front_distance, Arcminutes::new(1.0).unwrap()).unwrap();
        hold(case, ("offset for 1′", one_minute.metres(), row["offset_for_1_arcmin_m"]), 5e-4);
        let back = GeodesicSegment::between(front, rear).final_bearing();
        hold(case, ("azimuth at the rear mark", back.degrees(), row["reverse_azi_at_rear_deg"]), 5e-7);
    }
}

#[test]
fn the_horizon_lies_where_the_handbooks_have_it() {
    // the handbooks' constants differ among themselves by 2.3 % (2.07 to 2.12 √m); ours is 2.071 √m with k = 0.13
    let rows = rows("horizon.csv");
    assert_eq!(rows.len(), 20);
    for row in rows {
        let eye = Eye::new(Metres::new(row["height_m"]).unwrap(), Arcminutes::new(1.0).unwrap()).unwrap();
        let horizon = NauticalMiles::from(eye.horizon()).nautical_miles();
        let constants =
            ["nm_2.07_sqrt_m", "nm_2.08_sqrt_m", "nm_2.12_sqrt_m", "nm_1.169_sqrt_ft", "nm_1.17_sqrt_ft"];
        let printed: Vec<f64> = constants.iter().map(|name| row[*name]).collect();
        let least = printed.iter().copied().fold(f64::INFINITY, f64::min);
        let most = printed.iter().copied().fold(0.0, f64::max);
        // one per cent on either side of the handbooks' span: refraction is a convention
        assert!(horizon > least * 0.99 && horizon < most * 1.01, "{horizon} nm from {} m", row["height_m"]);
    }
}
