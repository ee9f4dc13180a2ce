//! The mistakes. Each takes a sound file and gives it back with the mistake in it; none where it cannot be made.

use serde_json::{Value, json};

use crate::sound::Sound;

type Mistake = fn(&Sound) -> Option<Value>;

/// The vertex in which a mistake is made: not the first one, which stands twice.
const AT: usize = 2;

pub(crate) const MISTAKES: &[(&str, Mistake)] = &[
    ("latitude and longitude of one vertex exchanged", |zone| zone.with_ring(|ring| ring[AT].reverse())),
    ("a digit: 0.3' of latitude, 0.5 km", |zone| moved(zone, 1, 0.3, 0.005)),
    ("a digit: 1' of longitude, 1 to 2 km", |zone| moved(zone, 0, 1.0, 0.02)),
    ("a digit: 3' of latitude, 5.5 km", |zone| moved(zone, 1, 3.0, 0.05)),
    ("a digit: a whole degree", |zone| zone.with_ring(|ring| ring[AT][1] += 1.0)),
    ("a vertex left out", |zone| {
        zone.with_ring(|ring| {
            ring.remove(AT);
        })
    }),
    ("minutes typed as decimals, in all points", |zone| {
        in_minutes(zone)?
            .with_ring(|ring| ring.iter_mut().flatten().for_each(|value| *value = decimals(*value)))
    }),
    ("minutes typed as decimals, in one point", |zone| {
        in_minutes(zone)?.with_ring(|ring| ring[AT] = ring[AT].map(decimals))
    }),
    ("33.70' read as 33' 70\"", |zone| {
        in_minutes(zone)?.with_ring(|ring| ring[AT][1] = tenths_as_seconds(ring[AT][1]))
    }),
    ("a decimal comma in a latitude", |zone| comma(zone, 1)),
    ("a decimal comma in a longitude", |zone| comma(zone, 0)),
    ("a radius in nautical miles", |zone| radius(zone, 1852.0)),
    ("a radius in kilometres", |zone| radius(zone, 1000.0)),
    ("day and month exchanged in a season", |zone| {
        let is_dated = zone.properties()["when"]["yearly"]["from"] == "05-01";
        is_dated.then(|| zone.with_property("when", json!({ "yearly": { "from": "01-05", "to": "08-31" } })))
    }),
    ("the sign of one longitude lost", |zone| zone.with_ring(|ring| ring[AT][0] *= -1.0)),
    ("the sign of one latitude wrong", |zone| zone.with_ring(|ring| ring[AT][1] *= -1.0)),
    ("the signs of all longitudes lost", |zone| {
        zone.with_ring(|ring| ring.iter_mut().for_each(|place| place[0] *= -1.0))
    }),
    ("latitude and longitude of all points exchanged", |zone| {
        zone.with_ring(|ring| ring.iter_mut().for_each(|place| place.reverse()))
    }),
    ("two rows exchanged", |zone| zone.with_ring(|ring| ring.swap(AT, AT + 1))),
    ("a row typed twice, in place of the one after it", |zone| {
        zone.with_ring(|ring| ring[AT] = ring[AT - 1])
    }),
    ("two digits of the degrees exchanged", |zone| {
        zone.with_ring(|ring| {
            let whole = ring[AT][1].trunc();
            ring[AT][1] += (whole % 10.0) * 10.0 + (whole / 10.0).trunc() - whole;
        })
    }),
    ("the decimal point lost", |zone| zone.with_ring(|ring| ring[AT][1] = (ring[AT][1] * 10_000.0).round())),
    ("positions typed as text", |zone| {
        let mut file = zone.with_ring(|ring| ring[AT][0] += 0.001)?;
        let place = &mut file["features"][zone.feature]["geometry"]["coordinates"][0][AT];
        *place = json!(["81 41.90 W", "24 28.85 N"]);
        Some(file)
    }),
    ("a line instead of a polygon", |zone| {
        let mut file = zone.with_ring(|ring| ring[AT][0] += 0.001)?;
        let geometry = &mut file["features"][zone.feature]["geometry"];
        *geometry = json!({ "type": "LineString", "coordinates": geometry["coordinates"][0] });
        Some(file)
    }),
    ("a datum that is not read", |zone| Some(zone.with_property("datum", json!("NAD 27")))),
    ("a date that is still to come: 2026-01-12 as 2026-12-01", |zone| {
        let mut source = zone.properties()["source"].clone();
        source["retrieved"] = json!("2026-12-01");
        Some(zone.with_property("source", source))
    }),
    ("a fish that the file does not define", |zone| {
        Some(zone.with_property("take", json!({ "only": ["no-such-fish"] })))
    }),
];

fn in_minutes(zone: &Sound) -> Option<&Sound> {
    zone.in_minutes.then_some(zone)
}

/// One coordinate of a vertex off, in minutes or, where those are printed, in decimals of a degree.
fn moved(zone: &Sound, axis: usize, minutes: f64, degrees: f64) -> Option<Value> {
    let by = if zone.in_minutes { minutes / 60.0 } else { degrees };
    zone.with_ring(|ring| ring[AT][axis] += by)
}

/// 24°33.70' typed as 24.3370.
fn decimals(value: f64) -> f64 {
    let typed = value.trunc() + value.fract() * 0.6;
    (typed * 1e7).round() / 1e7
}

/// 24°33.70' read as 24°33'70".
fn tenths_as_seconds(value: f64) -> f64 {
    let minutes = value.abs().fract() * 60.0;
    let hundredths = (minutes.fract() * 100.0).round();
    (value.abs().trunc() + minutes.trunc() / 60.0 + hundredths / 3600.0).copysign(value)
}

/// `24,48` makes two numbers of one, and the third is taken for a height.
fn comma(zone: &Sound, axis: usize) -> Option<Value> {
    let mut file = zone.with_ring(|ring| ring[AT][0] += 1e-6)?;
    let place = &mut file["features"][zone.feature]["geometry"]["coordinates"][0][AT];
    let [lon, lat] = [place[0].as_f64()?, place[1].as_f64()?];
    let halves = |value: f64| [value.trunc(), (value.abs().fract() * 10_000.0).round()];
    let numbers =
        if axis == 1 { [lon, halves(lat)[0], halves(lat)[1]] } else { [halves(lon)[0], halves(lon)[1], lat] };
    *place = json!(numbers);
    Some(file)
}

fn radius(zone: &Sound, unit_m: f64) -> Option<Value> {
    let given_m = zone.properties()["radius_m"].as_f64()?;
    zone.is_circle().then(|| zone.with_property("radius_m", json!(given_m / unit_m)))
}
