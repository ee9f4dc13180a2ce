//! `takeline transit cross`: where lines of position cross, and what may be kept there.

use takeline::Question;
use takeline::rule::{Access, Circumstances};
use takeline::transit::cross;
use takeline_report::{
    CrossReport, ExitStatus, HereDocument, TextOptions, transit_cross_exit_status, transit_cross_json,
    transit_cross_text,
};

use super::arguments::CrossArguments;
use super::marks::position;
use super::{line_words, outputs};
use crate::arguments::{FixTime, Format};
use crate::failure::Stop;
use crate::{plausibility, zone_files};

/// Answers `takeline transit cross`.
pub(crate) fn run(asked: &CrossArguments) -> Result<ExitStatus, Stop> {
    let time = FixTime::or_now(asked.time);
    let lines = line_words::lines(asked, time)?;
    let about = asked.about.as_deref().map(|typed| position("--about", typed)).transpose()?;
    let crossed = cross(&lines, about).map_err(|error| Stop::Usage(error.to_string()))?;
    outputs::refuse_to_print_over(&asked.zones, &asked.landmarks)?;
    let zones = zone_files::load(&asked.zones)?;
    plausibility::refuse_slip("where the lines cross", &zones, crossed.position)?;
    // small craft are what this is for, as for a single fix
    let circumstances = Circumstances { access: Some(Access::Boat), ..Circumstances::default() };
    let mut question = Question::default().under(circumstances);
    question.species.clone_from(&asked.species);
    let assessments = crossed.assess(&zones, &question, time);
    let assessments = assessments.map_err(|error| Stop::Usage(error.to_string()))?;
    let report = CrossReport { lines: &lines, crossed: &crossed, assessments: &assessments };
    match asked.form.format {
        Format::Human => {
            let options =
                TextOptions { width: usize::from(asked.form.width), time_by_clock: asked.time.is_none() };
            outputs::print(&transit_cross_text(&report, &options))?;
        }
        Format::Json => {
            let mut document = transit_cross_json(&report);
            if asked.time.is_none() {
                document.here = document.here.into_iter().map(HereDocument::with_time_by_clock).collect();
            }
            outputs::print_json(&document)?;
        }
    }
    Ok(transit_cross_exit_status(&crossed, &assessments))
}
