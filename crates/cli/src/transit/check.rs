//! `takeline transit check`: do these two marks show the line.

use takeline::transit::{Drift, RangeLine, Stretch, TransitQuestion, TransitReport, WorkingArea};
use takeline::zone::ZoneSet;
use takeline::{Metres, Position, TrueBearing};
use takeline_report::words::{English, EnglishIn, Words};
use takeline_report::{ExitStatus, TransitDocument, Units, transit_text};

use super::arguments::CheckArguments;
use super::find::NO_LAUNCH;
use super::marks::{eye, length, position, range_line};
use super::outputs;
use crate::arguments::Format;
use crate::clock::FixTime;
use crate::failure::Stop;
use crate::{plausibility, zone_files};

/// Answers `takeline transit check`.
pub(crate) fn run(asked: &CheckArguments, units: Units) -> Result<ExitStatus, Stop> {
    let line = range_line(&asked.pair)?;
    let question = question(asked, &line)?;
    outputs::refuse_to_overwrite(asked)?;
    let zones = zone_files::load(&asked.zones, &asked.coasts)?;
    plausibility::refuse_slip("--front", &zones, line.front().position)?;
    if let Some(launch) = question.launch {
        plausibility::refuse_slip("--launch", &zones, launch)?;
    }
    let report = line.check(&zones, &question);
    let shown_in = EnglishIn(units);
    let shown = document((&report, &zones), &shown_in, asked);
    outputs::write_files(asked, &shown, (&report, &zones))?;
    match asked.form.format {
        Format::Human => {
            let text = transit_text(&shown, asked.form.screen.width());
            outputs::print(&asked.form.shown(&text))?;
        }
        Format::Json => outputs::print_json(&document((&report, &zones), &English, asked))?,
    }
    Ok(shown.exit_status)
}

fn document<'a>(
    (report, zones): (&'a TransitReport, &'a ZoneSet),
    words: &'a dyn Words,
    asked: &CheckArguments,
) -> TransitDocument<'a> {
    let document = TransitDocument::new(report, words).with_coasts(zones.coasts());
    if FixTime::is_by_clock(asked.time.as_ref()) { document.with_time_by_clock() } else { document }
}

/// What was asked about the line.
fn question(asked: &CheckArguments, line: &RangeLine) -> Result<TransitQuestion, Stop> {
    let launch = asked.launch.as_deref().map(|typed| position("--launch", typed)).transpose()?;
    let heading = asked.heading.map(|degrees| bearing("--heading", degrees)).transpose()?;
    if heading.is_some() && launch.is_none() {
        return Err(Stop::Usage(NO_LAUNCH.into()));
    }
    let area = area(asked, launch.zip(heading))?;
    let towards = asked.drift_towards.map(|degrees| bearing("--drift-towards", degrees)).transpose()?;
    Ok(TransitQuestion {
        stretch: stretch(asked, line, &area)?,
        leave_out_land: asked.near_m.is_none(),
        eye: eye(&asked.eye)?,
        area,
        drift: Drift { speed_kn: asked.drift_kn, towards },
        launch,
        heading,
        time: FixTime::or_now(asked.time.as_ref()),
        hour_is_known: asked.time.is_some(),
    })
}

fn area(asked: &CheckArguments, course: Option<(Position, TrueBearing)>) -> Result<WorkingArea, Stop> {
    let half_width_m = asked.half_width_m.unwrap_or(WorkingArea::ASSUMED_HALF_WIDTH_M);
    let half_width = length_of_area("--half-width-m", half_width_m)?;
    if matches!(asked.corner.len(), 1 | 2) {
        let given = asked.corner.len();
        return Err(Stop::Usage(format!(
            "--corner: {given} corners make no area; give three or more, in order"
        )));
    }
    if !asked.corner.is_empty() {
        let corners: Result<Vec<_>, Stop> =
            asked.corner.iter().map(|typed| position("--corner", typed)).collect();
        return WorkingArea::polygon(corners?).map_err(|error| {
            let error = error.to_string();
            let reason = error.trim_start_matches("part 0, ring 0: ");
            Stop::Usage(format!("--corner: {reason}; give three corners or more, in order"))
        });
    }
    if let Some((course_m, (launch, heading))) = asked.course_m.zip(course) {
        let course = length_of_area("--course-m", course_m)?;
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

/// A length or width of the working area; nobody works in more than the longest stretch.
fn length_of_area(option: &str, metres: f64) -> Result<Metres, Stop> {
    let found = length(option, Metres::non_negative(metres))?;
    if metres > Stretch::LONGEST_M {
        let most_km = Stretch::LONGEST_M / 1000.0;
        return Err(Stop::Usage(format!("{option}: {metres} m is more than {most_km} km; give metres")));
    }
    Ok(found)
}

fn bearing(option: &str, degrees: f64) -> Result<TrueBearing, Stop> {
    TrueBearing::from_degrees(degrees).map_err(|error| Stop::Usage(format!("{option}: {error}")))
}
