//! `takeline transit check`: do these two marks show the line.

use jiff::Timestamp;
use takeline::transit::{Drift, RangeLine, Stretch, TransitQuestion, WorkingArea};
use takeline::{Metres, Position, TrueBearing};
use takeline_report::{ExitStatus, TextOptions, transit_exit_status, transit_json, transit_text};

use super::arguments::CheckArguments;
use super::marks::{eye, length, position, range_line};
use super::outputs;
use crate::arguments::{FixTime, Format};
use crate::stop::Stop;
use crate::zone_files;

/// Answers `takeline transit check`.
pub(crate) fn run(asked: &CheckArguments) -> Result<ExitStatus, Stop> {
    let line = range_line(&asked.pair)?;
    let question = question(asked, &line)?;
    outputs::refuse_to_overwrite(asked)?;
    let zones = zone_files::load(&asked.zones)?;
    let report = line.check(&zones, &question);
    outputs::write_files(asked, &report, &zones)?;
    match asked.form.format {
        Format::Human => {
            let options =
                TextOptions { width: usize::from(asked.form.width), time_by_clock: asked.time.is_none() };
            outputs::print(&transit_text(&report, &options))?;
        }
        Format::Json => outputs::print_json(&transit_json(&report))?,
    }
    Ok(transit_exit_status(&report))
}

/// What was asked about the line.
fn question(asked: &CheckArguments, line: &RangeLine) -> Result<TransitQuestion, Stop> {
    let launch = asked.launch.as_deref().map(|typed| position("--launch", typed)).transpose()?;
    let heading = asked.heading.map(|degrees| bearing("--heading", degrees)).transpose()?;
    let area = area(asked, launch.zip(heading))?;
    let towards = asked.drift_towards.map(|degrees| bearing("--drift-towards", degrees)).transpose()?;
    Ok(TransitQuestion {
        stretch: stretch(asked, line, &area)?,
        eye: eye(&asked.eye)?,
        area,
        drift: Drift { speed_kn: asked.drift_kn, towards },
        launch,
        heading,
        time: asked.time.map_or_else(|| Some(Timestamp::now()), FixTime::timestamp),
    })
}

fn area(asked: &CheckArguments, course: Option<(Position, TrueBearing)>) -> Result<WorkingArea, Stop> {
    let half_width_m = asked.half_width_m.unwrap_or(WorkingArea::ASSUMED_HALF_WIDTH_M);
    let half_width = length("--half-width-m", Metres::non_negative(half_width_m))?;
    if !asked.corner.is_empty() {
        let corners: Result<Vec<_>, Stop> =
            asked.corner.iter().map(|typed| position("--corner", typed)).collect();
        return WorkingArea::polygon(corners?).map_err(|error| {
            Stop::Usage(format!("--corner: {error}; give three corners or more, in order"))
        });
    }
    if let Some((course_m, (launch, heading))) = asked.course_m.zip(course) {
        let course = length("--course-m", Metres::non_negative(course_m))?;
        return WorkingArea::along_course(launch, heading, course, half_width)
            .map_err(|error| Stop::Usage(format!("--course-m: {error}")));
    }
    Ok(WorkingArea::Strip { half_width })
}

/// The stretch as given, else what the working area has of the line.
fn stretch(asked: &CheckArguments, line: &RangeLine, area: &WorkingArea) -> Result<Stretch, Stop> {
    let found = match (asked.near_m, asked.far_m, area) {
        (Some(near_m), Some(far_m), _) => {
            let near = length("--near-m", Metres::new(near_m))?;
            Stretch::new(near, length("--far-m", Metres::new(far_m))?)
        }
        (_, _, WorkingArea::Within(boundary)) => line.stretch_within(boundary),
        (_, _, WorkingArea::Strip { .. }) => {
            return Err(Stop::Usage(
                "say where you use the marks: --near-m and --far-m (metres from the front mark), or --corner three times \
                 or more, or --launch, --heading and --course-m"
                    .into(),
            ));
        }
    };
    found.map_err(|error| Stop::Usage(error.to_string()))
}

fn bearing(option: &str, degrees: f64) -> Result<TrueBearing, Stop> {
    TrueBearing::from_degrees(degrees).map_err(|error| Stop::Usage(format!("{option}: {error}")))
}
