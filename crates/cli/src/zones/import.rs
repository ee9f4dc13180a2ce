//! `takeline zones import`: a zone file from a file of a geographic information system.

use std::io::Write;
use std::path::{Path, PathBuf};

use clap::Args;
use takeline::zone_file;
use takeline_gis::import::{self as gis, Format as Source, Imported, Mapping, NoteKind, Reproject};
use takeline_report::{
    ExitStatus, ImportDocument, ImportInputDocument, ImportNoteDocument, OperationDocument,
    ReprojectedDocument, import_text, json_page,
};

use super::overwriting::OverwriteArguments;
use crate::arguments::Format;
use crate::bounded::read_whole;
use crate::failure::Stop;
use crate::kept_file::{StandardOutput, refuse_overwriting};
use crate::screen::ScreenArguments;

/// The longest mapping file, in bytes.
const LONGEST_MAP: usize = 1024 * 1024;

const IMPORT_EXAMPLE: &str = "\
Nothing that the file does not say is guessed. A zone whose rule it does not
state is undecided until you write the rule; the first lines say what has to be
filled in. Compare the new file with the law before you use it. A mapping to
start from is zones/template-import-map.toml.

Example (Marrowick is invented):
  takeline zones import demo-data/gis/reserves.csv --from EPSG:4326 \\
    --out reserves.json

Exit status: 0 written, 1 written and something needs your eyes, 2 typed wrongly,
3 refused, and nothing is written.";

#[derive(Debug, Args)]
#[command(after_help = IMPORT_EXAMPLE)]
pub(super) struct ImportArguments {
    /// File to import: .geojson, .kml, .kmz, .gpx, .shp (with .dbf and .prj beside it), .zip, .gpkg, .wkt or .csv
    #[arg(value_name = "FILE")]
    file: PathBuf,

    /// Zone file to write
    #[arg(long, value_name = "FILE")]
    out: PathBuf,

    /// Which attribute is which member of a zone: a file like zones/template-import-map.toml
    #[arg(long, value_name = "FILE")]
    map: Option<PathBuf>,

    /// Coordinate system of the positions, if the file does not say it: EPSG:4326, EPSG:27700
    #[arg(long, value_name = "CRS")]
    from: Option<String>,

    /// Layer to read, of a file that has several (.gpkg)
    #[arg(long, value_name = "NAME")]
    layer: Option<String>,

    /// Text for people or JSON for programs
    #[arg(long, value_enum, value_name = "FORMAT", default_value = "human")]
    format: Format,

    #[command(flatten)]
    overwriting: OverwriteArguments,

    #[command(flatten)]
    screen: ScreenArguments,
}

/// Answers `takeline zones import`.
pub(super) fn import(asked: &ImportArguments) -> Result<ExitStatus, Stop> {
    let beside = ["dbf", "prj", "cpg"].map(|ending| asked.file.with_extension(ending));
    let read = [&asked.file].into_iter().chain(&asked.map).chain(&beside).map(PathBuf::as_path);
    let out = ("--out", asked.out.as_path());
    refuse_overwriting(read, [out])?;
    asked.overwriting.refuse(out)?;
    let source = source(asked, &beside)?;
    let mapping = asked.map.as_deref().map(mapping).transpose()?.unwrap_or_default();
    let imported =
        gis::import(&source, &mapping, asked.from.as_deref(), way_to_wgs_84()).map_err(|error| {
            Stop::Unreadable(format!(
                "{error}\n  nothing is written, because a zone left out would read as open water"
            ))
        })?;
    asked.overwriting.write(out, &imported.bytes)?;
    let (document, status) = document(asked, imported);
    let text = match asked.format {
        Format::Human => import_text(&document, asked.screen.width()),
        Format::Json => format!("{}\n", json_page(&document)?),
    };
    let mut out = StandardOutput::new();
    out.write_all(text.as_bytes())?;
    out.finish()?;
    Ok(status)
}

fn source(asked: &ImportArguments, beside: &[PathBuf; 3]) -> Result<gis::Source, Stop> {
    let mut source =
        gis::Source::new(asked.file.display().to_string(), read_whole(&asked.file, zone_file::MOST_BYTES)?);
    source.layer.clone_from(&asked.layer);
    if Source::of_name(&source.label) == Some(Source::Shapefile) {
        let [dbf, prj, cpg] = beside;
        (source.dbf, source.prj, source.cpg) = (if_there(dbf)?, if_there(prj)?, if_there(cpg)?);
    }
    Ok(source)
}

/// A file beside another, in small letters or in capitals.
fn if_there(path: &Path) -> Result<Option<Vec<u8>>, Stop> {
    let capitals = path.extension().map(|ending| path.with_extension(ending.to_ascii_uppercase()));
    let there = [Some(path.to_owned()), capitals].into_iter().flatten().find(|path| path.is_file());
    there.map(|path| read_whole(&path, zone_file::MOST_BYTES)).transpose()
}

fn mapping(path: &Path) -> Result<Mapping, Stop> {
    let refuse =
        |why: String| Stop::Unreadable(format!("{} is no mapping that can be used: {why}", path.display()));
    let text =
        String::from_utf8(read_whole(path, LONGEST_MAP)?).map_err(|error| refuse(error.to_string()))?;
    text.parse().map_err(|error: gis::InvalidMapping| refuse(error.to_string()))
}

/// How positions of other datums and projections come to WGS 84, in builds that can do it.
#[cfg(feature = "reproject")]
#[expect(clippy::unnecessary_wraps, reason = "other builds have none")]
fn way_to_wgs_84() -> Option<Reproject<'static>> {
    use takeline_reproject::{Brought, ToWgs84};
    Some(&|definition| {
        let way = ToWgs84::from_crs(definition).map_err(|error| error.to_string())?;
        Ok(Box::new(move |[x, y]| {
            let Brought { longitude_deg, latitude_deg, operation, accuracy_m } =
                way.bring(x, y).map_err(|error| error.to_string())?;
            Ok(gis::Brought { lon_lat_deg: [longitude_deg, latitude_deg], operation, accuracy_m })
        }))
    })
}

/// This build cannot do it, and says so.
#[cfg(not(feature = "reproject"))]
fn way_to_wgs_84() -> Option<Reproject<'static>> {
    None
}

fn document(asked: &ImportArguments, imported: Imported) -> (ImportDocument, ExitStatus) {
    let notes = |kind: NoteKind| -> Vec<ImportNoteDocument> {
        let of_kind = imported.notes.iter().filter(|note| note.kind == kind);
        of_kind
            .map(|note| ImportNoteDocument {
                place: Some(note.place.clone()).filter(|place| !place.is_empty()),
                text: note.text.clone(),
            })
            .collect()
    };
    let status = if imported.notes.is_empty() { ExitStatus::Unrestricted } else { ExitStatus::Restricted };
    let document = ImportDocument {
        schema: "takeline.zones-import/1",
        input: ImportInputDocument {
            path: asked.file.display().to_string(),
            format: imported.format.name(),
            features: imported.features,
        },
        out: asked.out.display().to_string(),
        zones: imported.zones,
        fill_in: notes(NoteKind::FillIn),
        changed: notes(NoteKind::Changed),
        lost: notes(NoteKind::Lost),
        warnings: notes(NoteKind::Warning),
        datum: imported.datum,
        reprojected: imported.reprojected.map(|by| ReprojectedDocument {
            from: by.from,
            operations: by
                .operations
                .into_iter()
                .map(|(name, stated_accuracy_m)| OperationDocument { name, stated_accuracy_m })
                .collect(),
        }),
        exit_status: status.code(),
    };
    (document, status)
}
