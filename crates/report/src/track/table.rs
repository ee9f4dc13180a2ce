//! Visits as rows of a table (RFC 4180).

use jiff::Timestamp;
use takeline::Metres;
use takeline::track::OutcomeAnswer;

use super::{MomentDocument, SpeedDocument, TrackDocument, VisitDocument};
use crate::here::answer;
use crate::written::table_cell;

/// The columns, in order. `docs/track-output.md` describes each of them; new ones are added at the end.
pub const TRACK_CSV_COLUMNS: [&str; 34] = [
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
    "undecided_because",
    "outcome",
    "verdict",
];

/// Returns the table of one or more tracks, header first: one row per visit, lines ending as RFC 4180 wants them. A track without
/// a visit that is not settled, or has a catch against a rule, gets one row without a number of a visit, which says so.
///
/// # Errors
///
/// None in practice: a table in memory can be written.
pub fn track_csv<'a>(
    documents: impl IntoIterator<Item = &'a TrackDocument<'a>>,
) -> Result<String, csv::Error> {
    let mut table = written(&[TRACK_CSV_COLUMNS.map(str::to_owned).to_vec()])?;
    for document in documents {
        table.push_str(&track_csv_rows(document)?);
    }
    Ok(table)
}

/// Returns the rows of one track, without the header; the empty text where it is settled and there is no visit.
///
/// # Errors
///
/// As [`track_csv`].
pub fn track_csv_rows(document: &TrackDocument<'_>) -> Result<String, csv::Error> {
    let because = document.undecided_because.join(". ");
    let visits = document.visits.iter().enumerate();
    let mut rows: Vec<_> = visits.map(|(number, visit)| row(document, number + 1, visit, &because)).collect();
    if rows.is_empty() && document.verdict != OutcomeAnswer::NothingAgainst {
        rows.push(row_without_a_visit(document, &because));
    }
    written(&rows)
}

/// What a track without a visit comes to: a table without its row would read as a clean one.
fn row_without_a_visit(document: &TrackDocument<'_>, because: &str) -> Vec<String> {
    let cell = |column: &str| match column {
        "track" => table_cell(document.input.path),
        "track_sha256" => document.input.sha256.unwrap_or_default().to_owned(),
        "takeline_version" => document.takeline_version.to_owned(),
        "undecided_because" => table_cell(because),
        "verdict" => document.verdict.code().to_owned(),
        _ => String::new(),
    };
    TRACK_CSV_COLUMNS.map(cell).to_vec()
}

fn written(rows: &[Vec<String>]) -> Result<String, csv::Error> {
    let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
    for row in rows {
        writer.write_record(row)?;
    }
    let bytes = writer.into_inner().map_err(csv::IntoInnerError::into_error)?;
    Ok(String::from_utf8_lossy(&bytes).into_owned())
}

fn row(document: &TrackDocument<'_>, number: usize, visit: &VisitDocument<'_>, because: &str) -> Vec<String> {
    let seconds = |seconds: Option<f64>| seconds.map_or_else(String::new, |seconds| seconds.to_string());
    let speed = |pick: fn(SpeedDocument) -> f64| {
        visit.speed_kn.map_or_else(String::new, |speeds| pick(speeds).to_string())
    };
    let metres = |length: Metres| length.metres().to_string();
    let mut row = vec![
        table_cell(document.input.path),
        document.input.sha256.unwrap_or_default().to_owned(),
        number.to_string(),
        table_cell(visit.zone_id),
        table_cell(visit.zone_name),
        visit.certainty.code().to_owned(),
        visit.evidence.code().to_owned(),
        answer(visit.in_force).to_owned(),
    ];
    row.extend(moment(&visit.entered));
    row.extend(moment(&visit.left));
    row.extend([
        seconds(visit.certain_s),
        seconds(visit.possible_s),
        visit.deepest.map_or_else(String::new, metres),
        metres(visit.deepest_uncertainty_95),
        metres(visit.path),
        speed(|speeds| speeds.min),
        speed(|speeds| speeds.mean),
        speed(|speeds| speeds.max),
        visit.crossings.len().to_string(),
        visit.stops.len().to_string(),
        visit.zone_file.map_or_else(String::new, |file| table_cell(file.path)),
        visit.zone_file.map_or_else(String::new, |file| file.sha256.to_owned()),
        document.takeline_version.to_owned(),
        answer(visit.binds).to_owned(),
        seconds(visit.outcome.in_force_certain_s),
        seconds(visit.outcome.in_force_possible_s),
        visit.displaced_by.join(" "),
        table_cell(because),
        visit.outcome.answer.code().to_owned(),
        document.verdict.code().to_owned(),
    ]);
    row
}

/// Time, latitude and longitude; the place is empty where it is withheld. No more digits than anybody can know: a millisecond and
/// a centimetre.
fn moment(moment: &MomentDocument) -> [String; 3] {
    let shown = moment.place.0;
    [
        moment.time.map_or_else(String::new, |time| to_the_millisecond(time).to_string()),
        shown.map_or_else(String::new, |position| to_the_centimetre(position.latitude().degrees())),
        shown.map_or_else(String::new, |position| to_the_centimetre(position.longitude().degrees())),
    ]
}

fn to_the_millisecond(time: Timestamp) -> Timestamp {
    Timestamp::from_millisecond(time.as_millisecond()).unwrap_or(time)
}

/// Degrees with at most seven decimals, without zeros at the end.
fn to_the_centimetre(degrees: f64) -> String {
    let rounded = (degrees * 1e7).round() / 1e7;
    // −0 would read as a side of the equator
    (rounded + 0.0).to_string()
}
