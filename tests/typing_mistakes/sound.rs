//! The zones in which mistakes are made, as sound files.

use serde_json::{Value, json};

/// A sound file and the feature of it in which mistakes are made.
#[derive(Debug, Clone)]
pub(crate) struct Sound {
    pub(crate) name: String,
    pub(crate) is_real: bool,
    pub(crate) file: Value,
    pub(crate) feature: usize,
    /// Whether its coordinates are printed in minutes.
    pub(crate) in_minutes: bool,
}

const REAL: &[(&str, &str)] = &[
    ("us_florida_keys", "fknms-western-sambo"),
    ("us_florida_keys", "fknms-tortugas-north"),
    ("us_florida_keys", "fknms-tortugas-south"),
    ("us_florida_keys", "fknms-spa-alligator-reef"),
    ("us_florida_keys", "fknms-spa-carysfort"),
    ("us_florida_keys", "fknms-spa-cheeca-rocks"),
    ("us_other", "farallones-wsapz1"),
    ("us_other", "wa-yrca"),
    ("scotland", "scot-east-mingulay"),
    ("scotland", "scot-loch-crinan"),
    ("us_smz_boxes", "us-smz-kiawah-reef"),
    ("us_smz_boxes", "us-smz-ten-mile-reef"),
];

const DEMO: &[&str] = &["lantern-reach", "nursery-bank", "gannet-bank", "plover-sound", "northern-parallels"];

/// The circle of 50 CFR about the wreck of the Monitor: 15 CFR 922.60, of which `tests/data/regulations` holds the centre.
const CIRCLE: (&str, &str) = ("us_other", "us-monitor");

fn root(path: &str) -> String {
    format!("{}/../../{path}", env!("CARGO_MANIFEST_DIR"))
}

fn read(path: &str) -> Value {
    serde_json::from_slice(&std::fs::read(root(path)).unwrap()).unwrap()
}

/// The geometry that a published text gives, in a file of ours with a season; the datum is ours, where the text has none.
fn real(source: &str, id: &str) -> Sound {
    let published = read(&format!("tests/data/regulations/zones/{source}.geojson"));
    let features = published["features"].as_array().unwrap();
    let feature = features.iter().find(|feature| feature["properties"]["id"] == id).unwrap();
    let mut properties = json!({ "name": feature["properties"]["name"], "take": "none", "edges": "geodesic",
        "when": { "yearly": { "from": "05-01", "to": "08-31" } },
        "source": { "instrument": feature["properties"]["citation"], "clause": "as cited", "retrieved": "2026-05-01" } });
    if feature["geometry"]["type"] == "Point" {
        properties["radius_m"] = json!(804.672); // half a statute mile, as the text implies by its diameter of one
        properties.as_object_mut().unwrap().remove("edges");
    }
    let file = json!({ "type": "FeatureCollection",
        "takeline": { "format": "takeline.zones/1", "edition": "1", "datum": "WGS 84", "time_zone": "UTC" },
        "features": [ { "type": "Feature", "id": id, "geometry": feature["geometry"], "properties": properties } ] });
    let in_minutes = id != "farallones-wsapz1" && feature["geometry"]["type"] != "Point";
    Sound { name: id.to_owned(), is_real: true, file, feature: 0, in_minutes }
}

fn demo(id: &str) -> Sound {
    let file = read("demo-data/zones/marrowick.json");
    let feature = file["features"].as_array().unwrap().iter().position(|one| one["id"] == id).unwrap();
    Sound { name: id.to_owned(), is_real: false, file, feature, in_minutes: false }
}

pub(crate) fn all() -> Vec<Sound> {
    let real = REAL.iter().chain([&CIRCLE]).map(|(source, id)| real(source, id));
    real.chain(DEMO.iter().map(|id| demo(id))).collect()
}

/// The other texts of which `tests/data/regulations` holds the points. No mistakes are made in them.
pub(crate) fn others() -> Vec<Sound> {
    const BOXES: [&str; 5] =
        ["paradise-reef", "pawleys-island-reef", "georgetown-reef", "capers-reef", "edisto-offshore-reef"];
    let boxes = BOXES.map(|name| real("us_smz_boxes", &format!("us-smz-{name}")));
    // two of its sides are the shore, which the source does not give
    let mut lamlash = real("scotland", "scot-lamlash-bay");
    let shore = json!({ "side": "unresolved", "level": "mean high water mark, ordinary spring tides" });
    lamlash.file["features"][0]["properties"]["edges"] =
        json!(["geodesic", shore, "geodesic", "geodesic", shore]);
    [real("us_florida_keys", "fknms-atba-keys"), coral(), lamlash].into_iter().chain(boxes).collect()
}

/// Rhumb lines, and two arcs about points of the text; its ring is the published one turned round.
fn coral() -> Sound {
    let mut coral = real("us_other", "us-coralshiprep");
    let published = read("tests/data/regulations/zones/us_other.geojson");
    let features = published["features"].as_array().unwrap();
    let feature = features.iter().find(|one| one["properties"]["id"] == "us-coralshiprep").unwrap();
    let arcs = feature["properties"]["arcs"].as_array().unwrap();
    let corners = feature["properties"]["edges"].as_array().unwrap().len();
    let edges = (0..corners).map(|at| {
        // the side from point k to the next of the text is, turned round, the one that leaves that next point
        let leaves = (corners - at) % corners;
        let arc = arcs.iter().find(|arc| arc["to_vertex"] == leaves);
        arc.map_or(json!("rhumb"), |arc| {
            let radius_m = arc["radius_nm"].as_f64().unwrap() * 1852.0;
            json!({ "arc": { "centre": arc["centre"], "radius_m": radius_m, "turn": "counterclockwise" } })
        })
    });
    coral.file["features"][0]["properties"]["edges"] = edges.collect();
    coral
}

impl Sound {
    /// The file with one ring changed; none where the zone is no polygon, or the change changes nothing.
    pub(crate) fn with_ring(&self, change: impl FnOnce(&mut Vec<[f64; 2]>)) -> Option<Value> {
        let listed = self.file["features"][self.feature]["geometry"]["coordinates"][0].as_array()?;
        let mut ring: Vec<[f64; 2]> = listed
            .iter()
            .map(|place| Some([place[0].as_f64()?, place[1].as_f64()?]))
            .collect::<Option<_>>()?;
        ring.pop();
        let before = ring.clone();
        change(&mut ring);
        let is_same = |(one, other): (&[f64; 2], &[f64; 2])| {
            (one[0] - other[0]).abs() < 1e-7 && (one[1] - other[1]).abs() < 1e-7
        };
        if ring.len() == before.len() && ring.iter().zip(&before).all(is_same) {
            return None;
        }
        ring.push(*ring.first()?);
        Some(self.with_coordinates(json!([ring])))
    }

    pub(crate) fn with_coordinates(&self, coordinates: Value) -> Value {
        let mut file = self.file.clone();
        file["features"][self.feature]["geometry"]["coordinates"] = coordinates;
        file
    }

    pub(crate) fn properties(&self) -> &Value {
        &self.file["features"][self.feature]["properties"]
    }

    pub(crate) fn with_property(&self, name: &str, value: Value) -> Value {
        let mut file = self.file.clone();
        file["features"][self.feature]["properties"][name] = value;
        file
    }

    pub(crate) fn is_circle(&self) -> bool {
        self.file["features"][self.feature]["geometry"]["type"] == "Point"
    }
}
