//! Visits as rows of a table (RFC 4180).

use takeline::Metres;
use takeline::track::{Instant, Visit};

use super::{AuditReport, words};
use crate::here::answer;

/// The columns, in order. `docs/track-output.md` describes each of them; new ones are added at the end.
pub const TRACK_CSV_COLUMNS: [&str; 31] = [
    "track",
    "track_sha256",
    "visit",
    "zone_id",
    "zone_name",
    "certainty",
    "evidence",
    "in_force",
    "entered_time",
    "entered_latitude_deg",
    "entered_longitude_deg",
    "left_time",
    "left_latitude_deg",
    "left_longitude_deg",
    "certain_s",
    "possible_s",
    "deepest_m",
    "deepest_uncertainty_95_m",
    "path_m",
    "speed_min_kn",
    "speed_mean_kn",
    "speed_max_kn",
    "crossings",
    "stops",
    "zone_file",
    "zone_file_sha256",
    "takeline_version",
    "binds",
    "in_force_certain_s",
    "in_force_possible_s",
    "displaced_by",
];

/// Returns the table of one or more tracks, header first: one row per visit, lines ending as RFC 4180 wants them.
///
/// # Errors
///
/// None in practice: a table in memory can be written.
pub fn track_csv<'a>(reports: impl IntoIterator<Item = &'a AuditReport<'a>>) -> Result<String, csv::Error> {
    let mut table = written(&[TRACK_CSV_COLUMNS.map(str::to_owned).to_vec()])?;
    for report in reports {
        table.push_str(&track_csv_rows(report)?);
    }
    Ok(table)
}

/// Returns the rows of one track, without the header; the empty text where there is no visit.
///
/// # Errors
///
/// As [`track_csv`].
pub fn track_csv_rows(report: &AuditReport<'_>) -> Result<String, csv::Error> {
    let visits = report.audit.visits.iter().enumerate();
    written(&visits.map(|(number, visit)| row(report, number + 1, visit)).collect::<Vec<_>>())
}

fn written(rows: &[Vec<String>]) -> Result<String, csv::Error> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    for row in rows {
        writer.write_record(row)?;
    }
    let bytes = writer.into_inner().map_err(csv::IntoInnerError::into_error)?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn row(report: &AuditReport<'_>, number: usize, visit: &Visit) -> Vec<String> {
    let seconds = |seconds: Option<f64>| seconds.map_or_else(String::new, |seconds| seconds.to_string());
    let displaced_by: Vec<&str> = visit.displaced_by.iter().map(|zone| zone.0.as_str()).collect();
    let speed = |pick: fn(&takeline::track::Speeds) -> f64| {
        visit.speeds.as_ref().map_or_else(String::new, |speeds| pick(speeds).to_string())
    };
    let metres = |length: Metres| length.metres().to_string();
    let zone_file = report.zone_of(visit).map(|zone| &zone.file);
    let mut row = vec![
        report.input.path.clone(),
        report.input.sha256.clone().unwrap_or_default(),
        number.to_string(),
        visit.zone.0.clone(),
        report.zone_name(visit).to_owned(),
        words::certainty(visit.certainty).to_owned(),
        words::evidence(visit.evidence).to_owned(),
        answer(visit.in_force).to_owned(),
    ];
    row.extend(moment(report, &visit.entered()));
    row.extend(moment(report, &visit.left()));
    row.extend([
        seconds(visit.certain_s),
        seconds(visit.possible_s),
        visit.deepest.map_or_else(String::new, metres),
        metres(visit.deepest_uncertainty_95),
        metres(visit.path),
        speed(|speeds| speeds.min_kn),
        speed(|speeds| speeds.mean_kn),
        speed(|speeds| speeds.max_kn),
        visit.crossings.len().to_string(),
        visit.stops.len().to_string(),
        zone_file.map_or_else(String::new, |file| file.path.clone()),
        zone_file.map_or_else(String::new, |file| file.sha256.clone()),
        env!("CARGO_PKG_VERSION").to_owned(),
        answer(visit.binds).to_owned(),
        seconds(visit.in_force_certain_s),
        seconds(visit.in_force_possible_s),
        displaced_by.join(" "),
    ]);
    row
}

/// Time, latitude and longitude; the place is empty where it is withheld.
fn moment(report: &AuditReport<'_>, instant: &Instant) -> [String; 3] {
    let shown = report.shown(instant.position);
    [
        instant.time.map_or_else(String::new, |time| time.to_string()),
        shown.map_or_else(String::new, |position| position.latitude().degrees().to_string()),
        shown.map_or_else(String::new, |position| position.longitude().degrees().to_string()),
    ]
}
