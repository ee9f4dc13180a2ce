//! `takeline transit cross`: where lines of position cross, and what may be kept there.

use jiff::Timestamp;
use takeline::Question;
use takeline::transit::cross;
use takeline_report::{
    CrossReport, ExitStatus, TextOptions, transit_cross_exit_status, transit_cross_json, transit_cross_text,
};

use super::arguments::CrossArguments;
use super::line_words;
use super::marks::position;
use super::outputs;
use crate::arguments::{FixTime, Format};
use crate::stop::Stop;
use crate::zone_files;

/// Answers `takeline transit cross`.
pub(crate) fn run(asked: &CrossArguments) -> Result<ExitStatus, Stop> {
    let time = asked.time.map_or_else(|| Some(Timestamp::now()), FixTime::timestamp);
    let lines = line_words::lines(asked, time)?;
    let about = asked.about.as_deref().map(|typed| position("--about", typed)).transpose()?;
    let crossed = cross(&lines, about).map_err(|error| Stop::Usage(error.to_string()))?;
    let zones = zone_files::load(&asked.zones)?;
    let question = Question { species: asked.species.clone(), ..Question::default() };
    let assessments = crossed.assess(&zones, &question, time);
    let assessments = assessments.map_err(|error| Stop::Usage(error.to_string()))?;
    let report = CrossReport { lines: &lines, crossed: &crossed, assessments: &assessments };
    match asked.form.format {
        Format::Human => {
            let options =
                TextOptions { width: usize::from(asked.form.width), time_by_clock: asked.time.is_none() };
            outputs::print(&transit_cross_text(&report, &options))?;
        }
        Format::Json => outputs::print_json(&transit_cross_json(&report))?,
    }
    Ok(transit_cross_exit_status(&crossed, &assessments))
}
