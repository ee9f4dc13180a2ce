//! `takeline here`: one fix, or many.

use std::io::Write;
use std::path::{Path, PathBuf};

use takeline::rule::{Circumstances, Gear};
use takeline::{
    Axis, Fix, HorizontalUncertainty, Metres, ParsePositionError, ParsePositionErrorKind, ParsedPosition,
    Position, Question, TrueBearing,
};
use takeline_report::{ExitStatus, HereDocument, Units, here_brief, here_text, json_page};

use crate::arguments::{AccessName, Format, HereArguments};
use crate::batch::Batch;
use crate::clock::FixTime;
use crate::failure::{Stop, say};
use crate::fix_rows::RowDefaults;
use crate::kept_file::{StandardOutput, refuse_overwriting};
use crate::ordered_workers::threads_or_cores;
use crate::screen::refuse_brief_json;
use crate::words_meant::{is_of_a_position, not_of_a_position};
use crate::{accuracy, species, zone_files};

/// Answers `takeline here`.
pub(crate) fn run(asked: &HereArguments, units: Units) -> Result<ExitStatus, Stop> {
    let mut out = StandardOutput::new();
    let status = match &asked.fixes {
        Some(source) => many(asked, units, (source, &mut out)),
        None => one(asked, units, &mut out),
    }?;
    out.finish()?;
    Ok(status)
}

fn one(asked: &HereArguments, units: Units, out: &mut impl Write) -> Result<ExitStatus, Stop> {
    refuse_brief_json(asked.brief, asked.format.unwrap_or(Format::Human))?;
    let question = question(asked)?;
    let time = FixTime::or_now(asked.time.as_ref());
    let printed = position(asked)?;
    let given = uncertainty(asked)?;
    let (uncertainty, remark) = accuracy::with_typed_rounding(given, printed.precision);
    let fix = Fix::new(printed.position, uncertainty).at_time(time);
    refuse_to_overwrite(asked)?;
    let question = question.finding_the_way_out();
    let zones = zone_files::load_for((&asked.zones, &asked.coasts), &fix, &question)?;
    species::check(&asked.species, &zones)?;
    let mut assessment = zones.assess(&fix, &question);
    accuracy::tell(&mut assessment, remark, uncertainty != given);
    let words = asked.format.unwrap_or(Format::Human).words(units);
    let document = HereDocument::of(&assessment, &words);
    let document =
        if FixTime::is_by_clock(asked.time.as_ref()) { document.with_time_by_clock() } else { document };
    write(&document, asked, out)?;
    Ok(document.exit_status)
}

fn many(
    asked: &HereArguments,
    units: Units,
    (source, out): (&Path, &mut StandardOutput),
) -> Result<ExitStatus, Stop> {
    let question = question(asked)?;
    let defaults = RowDefaults {
        uncertainty: uncertainty(asked)?,
        accuracy_kind: accuracy::kind(asked.accuracy_kind),
        time: asked.time.as_ref().and_then(FixTime::timestamp),
    };
    refuse_to_overwrite(asked)?;
    let zones = zone_files::load(&asked.zones, &asked.coasts)?;
    species::check(&asked.species, &zones)?;
    let batch = Batch {
        question,
        defaults,
        format: asked.format.unwrap_or(Format::Json),
        words: asked.format.unwrap_or(Format::Json).words(units),
        threads: threads_or_cores(asked.threads),
        zones,
    };
    batch.run(source, out)
}

/// Refuses standard output that goes into a file which is read.
fn refuse_to_overwrite(asked: &HereArguments) -> Result<(), Stop> {
    let zones = zone_files::paths(&asked.zones)?;
    let read = zones.iter().chain(&asked.coasts.coast).chain(&asked.fixes);
    refuse_overwriting(read.map(PathBuf::as_path), [])
}

fn write(document: &HereDocument<'_>, asked: &HereArguments, out: &mut impl Write) -> Result<(), Stop> {
    match asked.format.unwrap_or(Format::Human) {
        Format::Human => {
            let text = if asked.brief { here_brief } else { here_text };
            let text = text(document, asked.screen.width());
            out.write_all(asked.screen.shown(&text).as_bytes())?;
        }
        Format::Json => writeln!(out, "{}", json_page(document)?)?,
    }
    Ok(())
}

fn question(asked: &HereArguments) -> Result<Question, Stop> {
    let standoff = asked.standoff_m.map(Metres::non_negative).transpose();
    let mut question = Question::default().under(Circumstances {
        gear: asked.gear.clone().map(Gear),
        bait: asked.bait.clone(),
        access: Some(asked.access.unwrap_or(AccessName::Boat).into()),
        length_cm: asked.length_cm,
        count: asked.count,
    });
    question.species.clone_from(&asked.species);
    question.standoff = standoff.map_err(|error| Stop::Usage(format!("--standoff-m: {error}")))?;
    question.all_zones = asked.all;
    question.way_out = asked.way_out;
    let heading = asked.heading.map(TrueBearing::from_degrees).transpose();
    question.heading = heading.map_err(|error| Stop::Usage(format!("--heading: {error}")))?;
    let home = asked.launch.as_deref().map(|text| crate::transit::position("--launch", text)).transpose()?;
    question.home = home;
    if let Some(knots) = asked.speed_kn {
        question =
            question.at_speed_kn(knots).map_err(|error| Stop::Usage(format!("--speed-kn: {error}")))?;
    }
    Ok(question)
}

fn uncertainty(asked: &HereArguments) -> Result<HorizontalUncertainty, Stop> {
    if asked.accuracy_m.is_none() && asked.accuracy_kind.is_some() && asked.fixes.is_none() {
        return Err(Stop::Usage("--accuracy-kind needs --accuracy-m beside it".into()));
    }
    accuracy::uncertainty(asked.accuracy_m, asked.accuracy_kind)
}

/// Why a text is no position; a coordinate beyond the last is told how far they go.
fn no_position(error: &ParsePositionError) -> String {
    let said = error.to_string();
    let ParsePositionErrorKind::OutOfRange { axis, range, .. } = error.kind() else { return said };
    let most = match axis {
        Axis::Latitude => 90,
        Axis::Longitude => 180,
    };
    said.replace(&format!(" is outside {range}"), &format!(": a {axis} is at most {most}°"))
}

fn position(asked: &HereArguments) -> Result<ParsedPosition, Stop> {
    let words = asked.latitude.iter().chain(&asked.longitude).chain(&asked.surplus);
    let words: Vec<&str> = words.map(String::as_str).collect();
    if let Some(reason) = not_of_a_position(&words) {
        return Err(Stop::Usage(reason));
    }
    let has_hemisphere = |word: &&str| word.contains(['N', 'S', 'E', 'W', 'n', 's', 'e', 'w']);
    if words.len() > 2 && words.iter().all(|word| is_of_a_position(word)) && words.iter().any(has_hemisphere)
    {
        return Err(Stop::Usage(format!(
            "put a position with blanks in it into quotes: takeline here \"{}\"",
            words.join(" ").replace('"', "″")
        )));
    }
    if let Some(surplus) = asked.surplus.first() {
        return Err(Stop::Usage(format!(
            "\"{surplus}\" is one word too many: give latitude and longitude, and nothing after them"
        )));
    }
    let latitude = asked.latitude.as_deref().unwrap_or_default();
    let text = match &asked.longitude {
        // the comma keeps the two apart, whatever blanks are inside them
        Some(longitude) => format!("{}, {longitude}", latitude.trim_end_matches(',')),
        None => latitude.to_owned(),
    };
    let parsed = Position::parse(&text).map_err(|error| Stop::Usage(no_position(&error)))?;
    for warning in &parsed.warnings {
        say(&format!("position: warning: {warning}"));
    }
    Ok(parsed)
}
