//! Zone files made at random: every sort of line, far and near, beside poles and the antimeridian. All are invented.

use serde_json::{Value, json};
use takeline::Position;
use takeline_test_util::Dice;
use takeline_test_util::earth::{direct, position};

/// Up to three files about one place.
pub(crate) struct RandomFiles {
    pub(crate) texts: Vec<String>,
    centre: Position,
    /// Places on lines, in the middle of zones, and at their corners.
    places: Vec<Position>,
}

fn at(place: Position) -> Value {
    json!([place.longitude().degrees(), place.latitude().degrees()])
}

impl RandomFiles {
    pub(crate) fn make(dice: &mut Dice) -> Self {
        let lat_deg = match dice.below(8) {
            0 => dice.one_of(&[89.95, -89.95, 90.0, -90.0]),
            1 => dice.between(-0.1, 0.1),
            _ => dice.between(-75.0, 75.0),
        };
        let lon_deg = if dice.chance(0.3) {
            dice.one_of(&[180.0, -179.999, -90.0, 0.0, 90.0])
        } else {
            dice.between(-180.0, 180.0)
        };
        let mut made = Self { texts: Vec::new(), centre: position(lat_deg, lon_deg), places: Vec::new() };
        let files = 1 + dice.below(3);
        for file in 0..files {
            let zones = 1 + dice.below(40);
            let features: Vec<Value> =
                (0..zones).map(|number| made.feature(dice, (file, files), (number, zones))).collect();
            let mut header = json!({ "format": "takeline.zones/1", "title": format!("File {file}"), "edition": "1",
                "taxa": [{ "id": "cod", "scientific": "Gadus morhua", "names": ["cod"] },
                         { "id": format!("local-{file}"), "scientific": "Gadus morhua", "names": [format!("local {file}")] }],
                "groups": [] });
            if dice.chance(0.8) {
                header["datum"] = json!("WGS 84");
            }
            if dice.chance(0.8) {
                header["time_zone"] = json!("UTC");
            }
            if dice.chance(0.2) {
                header["valid_until"] = json!("2026-01-01");
            }
            let text = json!({ "type": "FeatureCollection", "takeline": header, "features": features });
            let text = if dice.chance(0.5) { text.to_string() } else { format!("\u{feff}{text:#}\n") };
            made.texts.push(text);
        }
        made
    }

    /// A place near a zone, far from all, or written down wrongly.
    pub(crate) fn fix(&self, dice: &mut Dice) -> Position {
        let from = if self.places.is_empty() { self.centre } else { dice.one_of(&self.places) };
        let off_m = match dice.below(8) {
            0 => dice.log_between(20_000.0, 19_000_000.0),
            1 | 2 => dice.log_between(200.0, 200_000.0),
            _ => dice.log_between(0.01, 200.0),
        };
        let near = direct(from, dice.between(0.0, 360.0), off_m);
        let (lat_deg, lon_deg) = (near.latitude().degrees(), near.longitude().degrees());
        let slips =
            [(-lat_deg, lon_deg), (lat_deg, -lon_deg), (-lat_deg, -lon_deg), (lon_deg, lat_deg), (0.0, 0.0)];
        if dice.chance(0.8) {
            return near;
        }
        let (lat_deg, lon_deg) = dice.one_of(&slips);
        Position::from_degrees(lat_deg, lon_deg).unwrap_or(near)
    }

    fn feature(
        &mut self,
        dice: &mut Dice,
        (file, files): (usize, usize),
        (number, zones): (usize, usize),
    ) -> Value {
        let spot = self.spot(dice);
        let (geometry, mut properties) = self.extent(dice, spot);
        properties["name"] = json!(format!("Zone {file}-{number}"));
        properties["source"] = json!({ "instrument": dice.one_of(&["Order 1", "Order 2"]) });
        properties["take"] =
            dice.one_of(&[json!("none"), json!("none"), json!("anything"), json!({ "all_except": ["cod"] })]);
        if dice.chance(0.3) {
            properties["line_uncertainty_m"] = json!(dice.one_of(&[3.0, 60.0, 5_000.0]));
        }
        if dice.chance(0.1) {
            properties["datum"] = json!(dice.one_of(&["ETRS89", "WGS 84"]));
        }
        if dice.chance(0.2) {
            properties["binds"] = json!(["shore"]);
        }
        if dice.chance(0.2) {
            properties["when"] = json!({ "yearly": { "from": "05-01", "to": "08-31", "ends": "included" } });
        }
        if dice.chance(0.1) {
            properties["may_change_by_notice"] = json!(true);
        }
        if dice.chance(0.2) {
            properties["gear"] = json!({ "not": [dice.one_of(&["trap", "gill net"])] });
        }
        if dice.chance(0.07) {
            // mostly further down the file, so that there are few circles; now and then in another file
            let other = if dice.chance(0.8) { file } else { dice.below(files) };
            let under = if dice.chance(0.9) { number + 1 + dice.below(3) } else { dice.below(zones) };
            if (other, under) != (file, number) {
                properties["overrides"] =
                    json!([{ "zone": id(other, under), "clause": format!("clause {number}") }]);
            }
        }
        json!({ "type": "Feature", "id": id(file, number), "geometry": geometry, "properties": properties })
    }

    /// Mostly within some kilometres, sometimes anywhere.
    fn spot(&mut self, dice: &mut Dice) -> Position {
        let off_m = match dice.below(5) {
            0 | 1 => dice.log_between(10_000.0, 15_000_000.0),
            2 | 3 => dice.log_between(1_000.0, 300_000.0),
            _ => dice.log_between(10.0, 20_000.0),
        };
        let spot = direct(self.centre, dice.between(0.0, 360.0), off_m);
        self.places.push(spot);
        spot
    }

    fn extent(&mut self, dice: &mut Dice, spot: Position) -> (Value, Value) {
        let size_m = dice.log_between(50.0, 30_000.0);
        let corners = |count: usize, size_m: f64, turn_deg: f64| -> Vec<Position> {
            let step_deg = 360.0 / f64::from(u8::try_from(count).unwrap_or(3));
            let bearing = |corner: usize| turn_deg + step_deg * f64::from(u8::try_from(corner).unwrap_or(0));
            (0..count).map(|corner| direct(spot, bearing(corner), size_m)).collect()
        };
        let polygon = |ring: &[Position]| {
            let ring: Vec<Value> = ring.iter().map(|corner| at(*corner)).collect();
            json!({ "type": "Polygon", "coordinates": [ring] })
        };
        match dice.below(12) {
            0..=2 => {
                self.places.push(direct(spot, 70.0, size_m));
                (json!({ "type": "Point", "coordinates": at(spot) }), json!({ "radius_m": size_m }))
            }
            3 => {
                let ring = corners(4, size_m, 0.0);
                let printed_m = size_m * dice.between(0.99, 1.01);
                let arc =
                    json!({ "arc": { "centre": at(spot), "radius_m": printed_m, "turn": "clockwise" } });
                (polygon(&ring), json!({ "edges": [arc, arc, arc, arc] }))
            }
            4 => {
                let reason = json!({ "reason": "plan missing" });
                let area = polygon(&corners(3, size_m, 10.0));
                let within = json!({ "reason": "plan missing", "somewhere_in": area });
                let unknown = if dice.chance(0.15) { reason } else { within };
                (Value::Null, json!({ "geometry_unknown": unknown }))
            }
            5 => {
                let ring = corners(3, size_m * 8.0, dice.between(0.0, 120.0));
                self.places.extend(&ring);
                (polygon(&ring), json!({ "edges": "unstated" }))
            }
            _ => {
                let ring = corners(3 + dice.below(4), size_m, dice.between(0.0, 90.0));
                self.places.extend(&ring);
                (polygon(&ring), json!({ "edges": dice.one_of(&["rhumb", "geodesic", "lonlat"]) }))
            }
        }
    }
}

/// Ids of the first zones of all files are the same.
fn id(file: usize, number: usize) -> String {
    if number < 3 { format!("zone-{number}") } else { format!("zone-{file}-{number}") }
}
