//! What links plot and map: for each fix drawn, where it lies on both and what to say of it.

use takeline::track::TrackPoint;

use super::report::TrackReport;
use super::words;
use crate::figures;
use crate::lines::sanitised;

/// Thousands of fixes are drawn; the words for them are put together here, so that the script needs to know nothing.
///
/// A JSON list of `[map x, map y, plot x, plot y, words]`, plot x and y null where no line was near.
pub(super) fn points(
    report: &TrackReport<'_>,
    on_map: &[(f64, f64)],
    on_plot: &[Option<(f64, f64)>],
) -> serde_json::Value {
    let tenth = |value: f64| (value * 10.0).round() / 10.0;
    let rows = report.audit.sketch.iter().zip(on_map).zip(on_plot).map(|((point, map), plot)| {
        let (x, y) = plot.map_or((None, None), |(x, y)| (Some(tenth(x)), Some(tenth(y))));
        serde_json::json!([tenth(map.0), tenth(map.1), x, y, said_of(report, point)])
    });
    serde_json::Value::Array(rows.collect())
}

fn said_of(report: &TrackReport<'_>, point: &TrackPoint) -> String {
    let time = point.fix.time.map_or_else(
        || format!("line {} of the log", point.fix.place.line),
        |time| {
            let zone = report.time_zone();
            format!("{} {}", words::clock(time, &zone), words::zone_name(&zone, time))
        },
    );
    let distance = point.nearest.map_or_else(
        || "no line within 20\u{a0}km".to_owned(),
        |line| {
            let side = if line.signed_distance.metres() < 0.0 { "inside" } else { "outside" };
            let name = report.zones.zones().get(line.zone_number).map_or("a zone", |zone| zone.name.as_str());
            let how_far = figures::distance_with_doubt(line.signed_distance, line.uncertainty_95);
            format!("{how_far} {side} the line of {}", sanitised(name))
        },
    );
    format!(
        "{time}: {distance}; {}; {}",
        words::standing(point.standing),
        figures::position(point.fix.position)
    )
}
