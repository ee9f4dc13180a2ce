//! `takeline transit find`: which pairs of landmarks show the sides of a zone.

use jiff::tz::TimeZone;
use takeline::transit::{PairQuestion, Stretch, TransitError, find_pairs};
use takeline::zone::{Extent, Zone, ZoneSet};
use takeline::{Metres, Position};
use takeline_report::{ExitStatus, FindDocument, Units, transit_find_text};

use super::arguments::FindArguments;
use super::marks::{self, eye, length, position};
use super::outputs;
use crate::arguments::Format;
use crate::clock::FixTime;
use crate::failure::Stop;
use crate::{plausibility, zone_files};

/// That nobody says where the trip begins.
pub(super) const NO_LAUNCH: &str =
    "say where you launch: --launch \"45.1170 -30.1190\", or launch = \"45.1170 -30.1190\" in your settings";

/// Answers `takeline transit find`.
pub(crate) fn run(asked: &FindArguments, units: Units) -> Result<ExitStatus, Stop> {
    let launch = asked.launch.as_deref().ok_or_else(|| Stop::Usage(NO_LAUNCH.into()))?;
    let launch = position("--launch", launch)?;
    let near = length("--near-m", Metres::new(asked.near_m))?;
    let reach = Stretch::new(near, length("--far-m", Metres::new(asked.far_m))?)
        .map_err(|error| Stop::Usage(error.to_string()))?;
    let eye = eye(&asked.eye)?;
    outputs::refuse_to_print_over(&asked.zones, asked.coasts.coast.iter().chain([&asked.landmarks]))?;
    let landmarks = marks::load(&asked.landmarks)?;
    let zones = zone_files::load(&asked.zones, &asked.coasts)?;
    plausibility::refuse_slip("--launch", &zones, launch)?;
    let time = FixTime::or_now(asked.time.as_ref());
    let question = PairQuestion {
        launch,
        range: length("--range-m", Metres::new(asked.range_m))?,
        reach,
        eye,
        zone_number: zone_number(asked, &zones, launch)?,
        at_most: usize::from(asked.at_most),
        day: time.map(|time| TimeZone::UTC.to_datetime(time).date()),
    };
    let found = find_pairs(&zones, &landmarks.landmarks, &question).map_err(|error| {
        // asked rightly, and nothing was found out
        let is_open = matches!(
            error,
            TransitError::NoSideInRange { .. }
                | TransitError::NoSideToCross { .. }
                | TransitError::LineNotKnown { .. }
        );
        let reason = error.to_string();
        if is_open { Stop::Unreadable(reason) } else { Stop::Usage(reason) }
    })?;
    let zone = &zones.zones()[question.zone_number];
    let words = asked.form.format.words(units);
    let document = FindDocument::new(&question, zone, &found, &words).with_coasts(zones.coasts());
    match asked.form.format {
        Format::Human => {
            let text = transit_find_text(&document, asked.form.screen.width());
            outputs::print(&asked.form.shown(&text))?;
        }
        Format::Json => outputs::print_json(&document)?,
    }
    Ok(document.exit_status)
}

/// The zone that was named, else the one whose line is nearest to the launch.
fn zone_number(asked: &FindArguments, zones: &ZoneSet, launch: Position) -> Result<usize, Stop> {
    if let Some(id) = &asked.zone {
        return zone_with(id, zones);
    }
    let distance_m = |zone: &Zone| match &zone.extent {
        Extent::Known(boundary) => Some(boundary.locate(launch).signed_distance.metres().abs()),
        Extent::Unknown { .. } => None,
    };
    let known =
        zones.zones().iter().enumerate().filter_map(|(number, zone)| Some((number, distance_m(zone)?)));
    let nearest = known.min_by(|(_, a), (_, b)| a.total_cmp(b));
    nearest
        .map(|(number, _)| number)
        .ok_or_else(|| Stop::Unreadable("no zone with a known boundary was loaded".into()))
}

/// The zone with an id; ids are unique within a file only.
fn zone_with(id: &str, zones: &ZoneSet) -> Result<usize, Stop> {
    let all = || zones.zones().iter().enumerate();
    let found: Vec<(usize, &Zone)> = all().filter(|(_, zone)| zone.id.0 == id).collect();
    match found.as_slice() {
        [(number, _)] => Ok(*number),
        [] => {
            let ids: Vec<&str> = all().map(|(_, zone)| zone.id.0.as_str()).collect();
            Err(Stop::Usage(format!("--zone: there is no zone “{id}”; the ids are {}", ids.join(", "))))
        }
        several => {
            let files: Vec<&str> = several.iter().map(|(_, zone)| zone.file.path.as_str()).collect();
            let files = files.join(" and ");
            Err(Stop::Usage(format!(
                "--zone: “{id}” is a zone of {files}; give --zones with one of them only"
            )))
        }
    }
}
