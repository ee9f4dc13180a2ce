//! `takeline transit cross`: where lines of position cross, and what may be kept there.

use takeline::Question;
use takeline::rule::{Access, Circumstances};
use takeline::transit::cross;
use takeline_report::words::English;
use takeline_report::{CrossDocument, CrossReport, ExitStatus, TextOptions, transit_cross_text};

use super::arguments::CrossArguments;
use super::line_words;
use super::marks::position;
use super::outputs;
use crate::arguments::{FixTime, Format};
use crate::failure::Stop;
use crate::plausibility;
use crate::zone_files;

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
    let found = CrossReport { lines: &lines, crossed: &crossed, assessments: &assessments };
    let document = CrossDocument::new(found, &English);
    let time_by_clock = asked.time.is_none();
    let document = if time_by_clock { document.with_time_by_clock() } else { document };
    match asked.form.format {
        Format::Human => {
            let options = TextOptions { width: usize::from(asked.form.width), time_by_clock };
            outputs::print(&transit_cross_text(&document, &options, &English))?;
        }
        Format::Json => outputs::print_json(&document)?,
    }
    Ok(document.exit_status)
}
