//! `takeline zones export`: zones, or a line that keeps a distance from them, for other programs.

use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::io::Write as _;
use std::num::NonZero;
use std::path::PathBuf;

use clap::{Args, ValueEnum};
use takeline::zone::{Extent, Zone, ZoneSet};
use takeline::{Boundary, Metres};
use takeline_drafting::standoff::{StandOff, StandOffSide, StandOffWanted};
use takeline_gis::export::{
    Drawn, GpxKind, LineDoubt, Notation, Shape, Sheet, corners_csv, csv, geojson, gpx, kml, line_doubt,
};
use takeline_report::{
    CAUTIONS, ExitStatus, Exported, ExportedStandOff, effect_sentence, exported_text, json_page,
    left_open_sentence, line_doubt_sentence, not_law, outline_sentences, standoff_sentence,
};

use super::overwriting::OverwriteArguments;
use crate::arguments::{Format, ZONES_HELP};
use crate::coasts::CoastArguments;
use crate::failure::Stop;
use crate::kept_file::{StandardOutput, refuse_overwriting};
use crate::quantities::{count, metres, metres_above_zero};
use crate::screen::ScreenArguments;
use crate::zone_files;

const EXPORT_EXAMPLE: &str = "\
Writes zones, or a line that keeps a distance from all of them together, for
plotters, maps and tables. A stand-off line is never nearer than asked for, and
farther by no more than the tolerance; along a shore, or a side that nobody has
supplied, it is left open. What the line of a zone may itself be off is not
counted.

Examples (Marrowick is invented):
  takeline zones export demo-data/zones/marrowick.json --to geojson \\
    --out zones.geojson
  takeline zones export demo-data/zones/marrowick.json --to gpx \\
    --zone sallow-cove --standoff-m 200 --max-points 50 --tolerance-m 5 \\
    --out line.gpx

Exit status: 0 written, 1 written without zones whose line is not known,
2 typed wrongly, 3 refused, unreadable or not written.";

/// How far a line may leave a zone's own line, where nobody says, in metres.
const ZONE_TOLERANCE_M: f64 = 1.0;
/// How much farther than asked for a stand-off line may run, where nobody says, in metres.
const STANDOFF_TOLERANCE_M: f64 = 0.1;

#[derive(Debug, Args)]
#[command(after_help = EXPORT_EXAMPLE)]
pub(super) struct ExportArguments {
    #[arg(value_name = "PATH", help = ZONES_HELP)]
    pub(super) paths: Vec<PathBuf>,

    /// Same as PATH
    #[arg(long = "zones", value_name = "PATH")]
    pub(super) zones: Vec<PathBuf>,

    /// Format of the file
    #[arg(long, value_enum, value_name = "FORMAT")]
    to: To,

    /// File to write
    #[arg(long, value_name = "FILE")]
    out: PathBuf,

    /// Take this zone only, by its id; may be given several times
    #[arg(long = "zone", value_name = "ID")]
    ids: Vec<String>,

    /// Write a line so far outside the zones; below zero: inside them
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = metres)]
    standoff_m: Option<f64>,

    /// Give longer lines in pieces of so many points
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = count)]
    max_points: Option<NonZero<usize>>,

    /// How far the line may be off for fewer points [default: 0.1 for a stand-off, else 1]
    #[arg(long, value_name = "N", allow_negative_numbers = true, value_parser = metres_above_zero)]
    tolerance_m: Option<f64>,

    /// Notation of the table
    #[arg(long, value_enum, value_name = "NOTATION", default_value = "ddm")]
    notation: NotationName,

    /// What lines are in GPX
    #[arg(long, value_enum, value_name = "KIND", default_value = "track")]
    gpx_as: GpxKindName,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    format: Format,

    #[command(flatten)]
    coasts: CoastArguments,

    #[command(flatten)]
    overwriting: OverwriteArguments,

    #[command(flatten)]
    screen: ScreenArguments,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum To {
    /// GPX 1.1
    Gpx,
    /// KML 2.2
    Kml,
    /// RFC 7946
    Geojson,
    /// A row for each point
    Csv,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum NotationName {
    /// Decimal degrees
    Dd,
    /// Degrees and minutes
    Ddm,
    /// Degrees, minutes and seconds
    Dms,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
enum GpxKindName {
    /// To be looked at
    Track,
    /// To be followed
    Route,
}

impl To {
    fn name(self) -> &'static str {
        match self {
            Self::Gpx => "GPX 1.1",
            Self::Kml => "KML 2.2",
            Self::Geojson => "GeoJSON",
            Self::Csv => "CSV",
        }
    }
}

/// The zones that were asked for.
struct Chosen<'z> {
    known: Vec<(&'z Zone, &'z Boundary)>,
    unknown: Vec<&'z Zone>,
}

impl<'z> Chosen<'z> {
    fn zones(&self) -> impl Iterator<Item = &'z Zone> {
        self.known.iter().map(|(zone, _)| *zone)
    }

    /// Zones that are no law, with what they are instead.
    fn not_law(&self) -> impl Iterator<Item = (&'z Zone, &'static str)> {
        self.zones().filter_map(|zone| Some((zone, not_law(zone.status)?)))
    }
}

/// Answers `takeline zones export`.
pub(super) fn export(asked: &ExportArguments) -> Result<ExitStatus, Stop> {
    let places = [&asked.paths[..], &asked.zones].concat();
    let files = zone_files::paths(&places)?;
    let read = files.iter().chain(&asked.coasts.coast).map(PathBuf::as_path);
    let out = ("--out", asked.out.as_path());
    refuse_overwriting(read, [out])?;
    asked.overwriting.refuse(out)?;
    let zones = zone_files::load(&places, &asked.coasts)?;
    let chosen = chosen(&zones, &asked.ids)?;
    let wanted = wanted(asked)?;
    let kept = wanted.as_ref().map(|wanted| standoff(&chosen, wanted)).transpose()?;
    let line = kept.as_ref().zip(wanted.as_ref());
    let doubts = doubts(&chosen)?;
    let sheet = sheet(asked, &chosen, (line, &doubts))?;
    let text = written(asked, &sheet, &chosen, line.is_some())?;
    asked.overwriting.write(out, text.as_bytes())?;
    let status = if chosen.unknown.is_empty() { ExitStatus::Unrestricted } else { ExitStatus::Restricted };
    let exported = Exported {
        schema: "takeline.zones-export/1",
        path: asked.out.display().to_string(),
        format: asked.to.name(),
        lines: sheet.drawn.len(),
        points: points(asked, &sheet, &text, line.is_some()),
        zones: chosen.known.iter().map(|(zone, _)| zone.id.to_string()).collect(),
        unknown: chosen.unknown.iter().map(|zone| zone.id.to_string()).collect(),
        not_law: chosen.not_law().map(|(zone, _)| zone.id.to_string()).collect(),
        unresolved: doubts.unresolved.into_iter().map(str::to_owned).collect(),
        line_doubt_m: doubts.most.line_m,
        readings_apart_m: doubts.most.readings_apart_m,
        standoff: line.map(|(kept, wanted)| ExportedStandOff::of(kept, wanted)),
        remarks: sheet.remarks.clone(),
        exit_status: status.code(),
    };
    let text = match asked.format {
        Format::Human => exported_text(&exported, line, asked.screen.width()),
        Format::Json => format!("{}\n", json_page(&exported)?),
    };
    let mut out = StandardOutput::new();
    out.write_all(text.as_bytes())?;
    out.finish()?;
    Ok(status)
}

/// How many points were written: of a table of corners its rows.
fn points(asked: &ExportArguments, sheet: &Sheet, text: &str, is_line: bool) -> usize {
    if asked.to == To::Csv && !is_line && asked.max_points.is_none() {
        return text.lines().filter(|row| !row.starts_with('#')).count().saturating_sub(1);
    }
    sheet.drawn.iter().flat_map(|drawn| drawn.shape.lines()).map(|line| line.len()).sum()
}

fn chosen<'z>(zones: &'z ZoneSet, ids: &[String]) -> Result<Chosen<'z>, Stop> {
    for id in ids {
        if !zones.zones().iter().any(|zone| zone.id.0 == *id) {
            let known: Vec<String> = zones.zones().iter().map(|zone| zone.id.to_string()).collect();
            return Err(Stop::Usage(format!("no zone has the id “{id}”\n  there are: {}", known.join(", "))));
        }
    }
    let mut chosen = Chosen { known: Vec::new(), unknown: Vec::new() };
    for zone in zones.zones().iter().filter(|zone| ids.is_empty() || ids.contains(&zone.id.0)) {
        match &zone.extent {
            Extent::Known(boundary) => chosen.known.push((zone, boundary)),
            Extent::Unknown { .. } => chosen.unknown.push(zone),
        }
    }
    if chosen.known.is_empty() {
        return Err(Stop::Unreadable(
            "no zone that was asked for has a known line: nothing was written".into(),
        ));
    }
    Ok(chosen)
}

fn wanted(asked: &ExportArguments) -> Result<Option<StandOffWanted>, Stop> {
    let Some(standoff_m) = asked.standoff_m else { return Ok(None) };
    let length = |metres: f64| Metres::non_negative(metres).map_err(|error| Stop::Usage(error.to_string()));
    let side = if standoff_m < 0.0 { StandOffSide::Inside } else { StandOffSide::Outside };
    Ok(Some(StandOffWanted {
        distance: length(standoff_m.abs())?,
        side,
        tolerance: length(asked.tolerance_m.unwrap_or(STANDOFF_TOLERANCE_M))?,
        most_points: asked.max_points,
    }))
}

fn standoff(chosen: &Chosen<'_>, wanted: &StandOffWanted) -> Result<StandOff, Stop> {
    let boundaries: Vec<&Boundary> = chosen.known.iter().map(|(_, boundary)| *boundary).collect();
    StandOff::of(&boundaries, wanted).map_err(|error| {
        let mut text = format!("there is no such stand-off line: {error}");
        if let Some(source) = std::error::Error::source(&error) {
            // a string takes whatever is written into it
            let _written = write!(text, ": {source}");
        }
        Stop::Unreadable(format!(
            "{text}\n  nothing was written; try fewer zones with --zone, or another distance"
        ))
    })
}

fn sheet(
    asked: &ExportArguments,
    chosen: &Chosen<'_>,
    (line, doubts): (Option<(&StandOff, &StandOffWanted)>, &Doubts<'_>),
) -> Result<Sheet, Stop> {
    let (title, drawn) = match line {
        Some((kept, wanted)) => standoff_lines(chosen, kept, wanted),
        None => ("Zones".to_owned(), outlines(asked, chosen)?),
    };
    let mut remarks: Vec<String> = CAUTIONS.map(str::to_owned).to_vec();
    let not_law: Vec<String> = chosen.not_law().map(|(zone, instead)| named_not_law(zone, instead)).collect();
    if !not_law.is_empty() {
        remarks.push(format!("NOT LAW as the zone file has it: {}.", not_law.join(", ")));
    }
    if let Some((kept, wanted)) = line {
        remarks.extend(standoff_remarks(kept, wanted));
    } else {
        let tolerance_m = asked.tolerance_m.unwrap_or(ZONE_TOLERANCE_M);
        remarks.extend(outline_sentences(tolerance_m, doubts.most.readings_apart_m, &doubts.unresolved));
    }
    remarks.extend(line_doubt_sentence(doubts.most.line_m));
    if !chosen.unknown.is_empty() {
        let ids: Vec<String> = chosen.unknown.iter().map(|zone| zone.id.to_string()).collect();
        remarks
            .push(format!("Not in this file, because nobody has supplied their line: {}.", ids.join(", ")));
    }
    remarks.extend(sources(chosen));
    Ok(Sheet { title, remarks, drawn })
}

fn standoff_remarks(kept: &StandOff, wanted: &StandOffWanted) -> Vec<String> {
    vec![
        standoff_sentence(kept, wanted),
        left_open_sentence(kept),
        format!(
            "Water between two lines that is narrower than {:.0} m may not be shown. The line knows no land: it may run over it.",
            kept.narrowest_shown.metres().ceil()
        ),
    ]
}

/// What the lines of the zones may be off, which no line counts.
struct Doubts<'z> {
    /// The most of all zones.
    most: LineDoubt,
    /// The ids of zones with sides that nobody has supplied.
    unresolved: Vec<&'z str>,
}

fn doubts<'z>(chosen: &Chosen<'z>) -> Result<Doubts<'z>, Stop> {
    let mut most = LineDoubt::default();
    let mut unresolved = Vec::new();
    for (zone, boundary) in &chosen.known {
        let of_zone = line_doubt(zone, boundary).map_err(|error| {
            Stop::Unreadable(format!("zone {} cannot be measured: {error}\n  nothing was written", zone.id))
        })?;
        most.line_m = most.line_m.max(of_zone.line_m);
        most.readings_apart_m = most.readings_apart_m.max(of_zone.readings_apart_m);
        if of_zone.unresolved_sides > 0 {
            unresolved.push(zone.id.0.as_str());
        }
    }
    Ok(Doubts { most, unresolved })
}

/// The id of a zone, with what it is instead of law.
fn named_not_law(zone: &Zone, instead: &str) -> String {
    format!("{} ({instead})", zone.id)
}

/// The files that it was made from, and the instruments.
fn sources(chosen: &Chosen<'_>) -> Vec<String> {
    let zones = || chosen.zones();
    let file = |zone: &Zone| {
        let edition = zone
            .file
            .edition
            .as_ref()
            .map_or("no edition stated".into(), |edition| format!("edition {edition}"));
        format!("Made from {}, {edition}, SHA-256 {}.", zone.file.path, zone.file.sha256)
    };
    let files: BTreeSet<String> = zones().map(file).collect();
    let instruments: BTreeSet<&str> = zones().map(|zone| zone.source.instrument.as_str()).collect();
    let instruments: Vec<&str> = instruments.into_iter().filter(|name| !name.is_empty()).collect();
    let law = (!instruments.is_empty()).then(|| format!("The law: {}.", instruments.join("; ")));
    files.into_iter().chain(law).collect()
}

fn standoff_lines(chosen: &Chosen<'_>, kept: &StandOff, wanted: &StandOffWanted) -> (String, Vec<Drawn>) {
    let side = match wanted.side {
        StandOffSide::Outside => "outside",
        StandOffSide::Inside => "inside",
    };
    let ids: Vec<String> = chosen.known.iter().map(|(zone, _)| zone.id.to_string()).collect();
    let distance_m = wanted.distance.metres();
    let drawn = kept.lines.iter().enumerate().map(|(number, line)| Drawn {
        name: format!("{distance_m} m {side} {:02}", number + 1),
        description: format!("{distance_m} m {side} {}.", ids.join(", ")),
        properties: vec![
            ("kind", "stand-off".to_owned()),
            ("standoff_m", distance_m.to_string()),
            ("side", side.to_owned()),
            ("zones", ids.join(" ")),
        ],
        shape: Shape::Line(line.all_the_way().collect()),
    });
    (format!("{distance_m} m {side} {}", ids.join(", ")), drawn.collect())
}

fn outlines(asked: &ExportArguments, chosen: &Chosen<'_>) -> Result<Vec<Drawn>, Stop> {
    let tolerance = Metres::new(asked.tolerance_m.unwrap_or(ZONE_TOLERANCE_M))
        .map_err(|error| Stop::Usage(error.to_string()))?;
    let mut drawn = Vec::new();
    for (zone, _) in &chosen.known {
        let areas = zone.outline(tolerance).map_err(|error| {
            Stop::Unreadable(format!("zone {} cannot be drawn: {error}\n  nothing was written", zone.id))
        })?;
        let one = |shape| drawn_zone(zone, shape);
        match asked.max_points.map(NonZero::get) {
            None => drawn.push(one(Shape::Areas(areas))),
            Some(most) if most < 2 => {
                return Err(Stop::Usage("a line has 2 points at least: --max-points".into()));
            }
            Some(most) => {
                let lines = Shape::Areas(areas).lines();
                drawn.extend(
                    lines.iter().flat_map(|line| pieces(line, most)).map(|line| one(Shape::Line(line))),
                );
            }
        }
    }
    Ok(drawn)
}

fn drawn_zone(zone: &Zone, shape: Shape) -> Drawn {
    let mut properties = vec![("kind", "zone".to_owned()), ("zone_id", zone.id.to_string())];
    let mut description = format!("{}. {}.", zone.name, zone.source.instrument);
    let mut name = zone.id.to_string();
    if let Some(instead) = not_law(zone.status) {
        name = named_not_law(zone, instead);
        description = format!("NOT LAW: {instead}. {description}");
        properties.push(("not_law", instead.to_owned()));
    }
    if let Some(effect) = effect_sentence(zone) {
        description = format!("{description} {effect}");
    }
    Drawn { name, description, properties, shape }
}

/// A line in pieces of so many points, each of which begins where the one before ends.
fn pieces<T: Clone>(line: &[T], most: usize) -> Vec<Vec<T>> {
    let mut pieces = Vec::new();
    let mut at = 0;
    while at + 1 < line.len() {
        let end = (at + most).min(line.len());
        pieces.push(line[at..end].to_vec());
        at = end - 1;
    }
    pieces
}

fn written(
    asked: &ExportArguments,
    sheet: &Sheet,
    chosen: &Chosen<'_>,
    is_line: bool,
) -> Result<String, Stop> {
    let notation = match asked.notation {
        NotationName::Dd => Notation::DecimalDegrees,
        NotationName::Ddm => Notation::DegreesMinutes,
        NotationName::Dms => Notation::DegreesMinutesSeconds,
    };
    let kind = match asked.gpx_as {
        GpxKindName::Track => GpxKind::Track,
        GpxKindName::Route => GpxKind::Route,
    };
    let unwritten = |error: &dyn std::fmt::Display| Stop::Unreadable(format!("nothing was written: {error}"));
    match asked.to {
        To::Gpx => gpx(sheet, kind).map_err(|error| unwritten(&error)),
        To::Kml => kml(sheet).map_err(|error| unwritten(&error)),
        To::Geojson => Ok(format!("{}\n", json_page(&geojson(sheet))?)),
        To::Csv if is_line || asked.max_points.is_some() => {
            csv(sheet, notation).map_err(|error| unwritten(&error))
        }
        To::Csv => {
            let zones: Vec<&Zone> = chosen.zones().collect();
            corners_csv(sheet, &zones, notation).map_err(|error| unwritten(&error))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::pieces;

    #[test]
    fn pieces_begin_where_the_one_before_ends() {
        assert_eq!(pieces(&[1, 2, 3, 4, 5], 3), [vec![1, 2, 3], vec![3, 4, 5]]);
        assert_eq!(pieces(&[1, 2, 3, 1], 3), [vec![1, 2, 3], vec![3, 1]]);
        assert_eq!(pieces(&[1, 2], 10), [vec![1, 2]]);
    }
}
