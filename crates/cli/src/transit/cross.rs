//! `takeline transit cross`: lines of position as they are typed, where they cross, and what may be kept there.

use jiff::Timestamp;
use takeline::landmark::Landmark;
use takeline::magnetic::variation;
use takeline::rule::{Access, Circumstances};
use takeline::transit::{LineOfPosition, RangeLine, cross};
use takeline::{MagneticBearing, Question, TrueBearing};
use takeline_report::{CrossDocument, CrossReport, ExitStatus, Units, transit_cross_text};

use super::arguments::CrossArguments;
use super::marks::{Marks, eye, position};
use super::outputs;
use crate::arguments::Format;
use crate::clock::FixTime;
use crate::failure::Stop;
use crate::{plausibility, species, zone_files};

/// Answers `takeline transit cross`.
pub(crate) fn run(asked: &CrossArguments, units: Units) -> Result<ExitStatus, Stop> {
    let time = FixTime::or_now(asked.time.as_ref());
    let lines = lines(asked, time)?;
    let about = asked.about.as_deref().map(|typed| position("--about", typed)).transpose()?;
    let crossed = cross(&lines, about).map_err(|error| Stop::Usage(error.to_string()))?;
    outputs::refuse_to_print_over(&asked.zones, asked.coasts.coast.iter().chain(&asked.landmarks))?;
    let zones = zone_files::load(&asked.zones, &asked.coasts)?;
    let crossed = crossed.held_against(&lines, zones.coasts());
    species::check(&asked.species, &zones)?;
    plausibility::refuse_slip("where the lines cross", &zones, crossed.position)?;
    // small craft are what this is for, as for a single fix
    let circumstances = Circumstances { access: Some(Access::Boat), ..Circumstances::default() };
    let mut question = Question::default().under(circumstances);
    question.species.clone_from(&asked.species);
    let assessments = crossed.assess(&zones, &question, time);
    let assessments = assessments.map_err(|error| Stop::Usage(error.to_string()))?;
    let found = CrossReport { lines: &lines, crossed: &crossed, assessments: &assessments };
    let words = asked.form.format.words(units);
    let document = CrossDocument::new(found, &words).with_coasts(zones.coasts());
    let document =
        if FixTime::is_by_clock(asked.time.as_ref()) { document.with_time_by_clock() } else { document };
    match asked.form.format {
        Format::Human => {
            let text = transit_cross_text(&document, asked.form.screen.width());
            outputs::print(&asked.form.shown(&text))?;
        }
        Format::Json => outputs::print_json(&document)?,
    }
    Ok(document.exit_status)
}

/// Reads every line of position that was typed.
pub(crate) fn lines(asked: &CrossArguments, time: Option<Timestamp>) -> Result<Vec<LineOfPosition>, Stop> {
    let words = LineWords { asked, marks: Marks::open(asked.landmarks.as_deref())?, time };
    let transits = asked.in_line.iter().map(|typed| words.transit(typed));
    let bearings = asked.bearing.iter().map(|typed| words.bearing(typed));
    let angles = asked.angle.iter().map(|typed| words.angle(typed));
    transits.chain(bearings).chain(angles).collect()
}

struct LineWords<'a> {
    asked: &'a CrossArguments,
    marks: Marks,
    time: Option<Timestamp>,
}

impl LineWords<'_> {
    fn mark(&self, option: &str, typed: &str) -> Result<Landmark, Stop> {
        self.marks.get(option, typed, self.asked.mark_error_m)
    }

    fn transit(&self, typed: &str) -> Result<LineOfPosition, Stop> {
        let [front, rear] = parts("--in-line", typed, "FRONT; REAR")?;
        let line = RangeLine::through(self.mark("--in-line", front)?, self.mark("--in-line", rear)?)
            .map_err(|error| Stop::Usage(format!("--in-line: {error}")))?;
        Ok(LineOfPosition::Transit { line, eye: eye(&self.asked.eye)? })
    }

    fn bearing(&self, typed: &str) -> Result<LineOfPosition, Stop> {
        let [mark, bearing] = parts("--bearing", typed, "MARK; 123 magnetic")?;
        let mark = self.mark("--bearing", mark)?;
        let refused = || {
            Stop::Usage(format!(
                "--bearing: “{bearing}” is not a bearing; write degrees and which north, as in 123 magnetic or 110 true: the two differ by the variation"
            ))
        };
        let digits =
            bearing.find(|letter: char| letter == '°' || letter.is_whitespace() || "TtMm".contains(letter));
        let (degrees, north) = digits.map(|end| bearing.split_at(end)).ok_or_else(refused)?;
        let degrees: f64 = degrees.trim().parse().map_err(|_| refused())?;
        if degrees.is_nan() {
            return Err(refused());
        }
        if !(0.0..=360.0).contains(&degrees) {
            return Err(Stop::Usage(format!("--bearing: {degrees} is outside 0 to 360 degrees")));
        }
        let standard_error_deg = self.asked.bearing_error_deg;
        let usage = |error: &dyn std::fmt::Display| Stop::Usage(format!("--bearing: {error}"));
        match north.trim().trim_start_matches('°').trim().to_ascii_lowercase().as_str() {
            "true" | "t" => Ok(LineOfPosition::Bearing {
                mark,
                bearing: TrueBearing::from_degrees(degrees).map_err(|error| usage(&error))?,
                standard_error_deg,
            }),
            "magnetic" | "m" => {
                let time = self.time.ok_or_else(|| {
                    Stop::Usage(
                        "--bearing: a magnetic bearing needs --time, because the variation changes".into(),
                    )
                })?;
                let variation = variation(mark.position, time).map_err(|error| {
                    Stop::Unreadable(format!("--bearing: {error}; give the bearing true"))
                })?;
                let bearing = MagneticBearing::from_degrees(degrees).map_err(|error| usage(&error))?;
                LineOfPosition::compass(mark, bearing, variation, standard_error_deg)
                    .map_err(|error| usage(&error))
            }
            _ => Err(refused()),
        }
    }

    fn angle(&self, typed: &str) -> Result<LineOfPosition, Stop> {
        let [left, right, angle] = parts("--angle", typed, "LEFT; RIGHT; 43.5")?;
        let angle_deg: f64 =
            angle.trim().trim_end_matches('°').trim().parse().map_err(|_| {
                Stop::Usage(format!("--angle: “{}” is not a number of degrees", angle.trim()))
            })?;
        Ok(LineOfPosition::HorizontalAngle {
            left: self.mark("--angle", left)?,
            right: self.mark("--angle", right)?,
            angle_deg,
            standard_error_deg: self.asked.angle_error_deg,
        })
    }
}

/// The parts between semicolons, as many as are wanted.
fn parts<'t, const N: usize>(option: &str, typed: &'t str, form: &str) -> Result<[&'t str; N], Stop> {
    let parts: Vec<&str> = typed.split(';').map(str::trim).collect();
    let whole = parts.iter().all(|part| !part.is_empty());
    parts
        .try_into()
        .ok()
        .filter(|_| whole)
        .ok_or_else(|| Stop::Usage(format!("{option}: “{typed}” has to be of the form \"{form}\"")))
}
