//! CSV: one row for each vertex, with the zone it belongs to; or one row for each zone, with well-known text.

use csv::{Reader, StringRecord};
use serde_json::Value;
use takeline::Position;

use super::fault::ImportFault;
use super::layer::{Area, Layer, SourceFeature, StatedSystem, Xy};
use super::note::Notes;
use super::source::Source;
use super::wkt_reader::shape_of;

/// Names of columns, in small letters.
const LATITUDES: [&str; 6] = ["lat", "latitude", "latitude_deg", "y", "northing", "north"];
const LONGITUDES: [&str; 8] = ["lon", "lng", "long", "longitude", "longitude_deg", "x", "easting", "east"];
const ZONES: [&str; 5] = ["zone", "zone_id", "zone id", "id", "name"];
const PARTS: [&str; 1] = ["part"];
const RINGS: [&str; 1] = ["ring"];
const TEXTS: [&str; 4] = ["wkt", "geometry", "geom", "the_geom"];

const MEND: &str =
    "begin with a row of names: zone, lat, lon (and part, ring where a zone has several), or zone and wkt";

/// Where the columns are that make the shape.
struct Columns {
    names: Vec<String>,
    zone: Option<usize>,
    latitude: usize,
    longitude: usize,
    part: Option<usize>,
    ring: Option<usize>,
}

/// Reads all rows.
pub(super) fn read(source: &Source) -> Result<Layer, ImportFault> {
    let mut reader = csv::ReaderBuilder::new()
        .trim(csv::Trim::All)
        .comment(Some(b'#'))
        .from_reader(source.text()?.as_bytes());
    let names: Vec<String> =
        reader.headers().map_err(|error| broken(&error))?.iter().map(str::to_owned).collect();
    let mut notes = Notes::default();
    let features = match column(&names, &TEXTS)? {
        Some(text) => rows_of_text(&mut reader, &names, text, &mut notes)?,
        None => rows_of_vertices(&mut reader, &Columns::of(names)?)?,
    };
    Ok(Layer { system: StatedSystem::Unstated, is_straight_in_lonlat: false, features, notes })
}

fn broken(error: &csv::Error) -> ImportFault {
    let line = error.position().map_or_else(String::new, |position| format!("line {}", position.line()));
    ImportFault::at(&line, format!("the row cannot be read: {error}"), MEND)
}

/// The one column that bears one of the names.
fn column(names: &[String], known: &[&str]) -> Result<Option<usize>, ImportFault> {
    let is_one = |name: &String| known.contains(&name.to_lowercase().as_str());
    let mut found = (0..names.len()).filter(|at| is_one(&names[*at]));
    match (found.next(), found.next()) {
        (Some(first), Some(second)) => Err(ImportFault::at(
            "line 1",
            format!("the columns {:?} and {:?} may mean the same", names[first], names[second]),
            "give one of them another name",
        )),
        (first, _) => Ok(first),
    }
}

impl Columns {
    fn of(names: Vec<String>) -> Result<Self, ImportFault> {
        let needed = |known: &[&str], what: &str| {
            column(&names, known)?
                .ok_or_else(|| ImportFault::at("line 1", format!("there is no column of {what}"), MEND))
        };
        let (latitude, longitude) = (needed(&LATITUDES, "latitudes")?, needed(&LONGITUDES, "longitudes")?);
        // an id is the better name of a zone than its name
        let mut zone = None;
        for known in ZONES {
            zone = zone.or(column(&names, &[known])?);
        }
        let (part, ring) = (column(&names, &PARTS)?, column(&names, &RINGS)?);
        Ok(Self { names, zone, latitude, longitude, part, ring })
    }

    /// Attributes: what makes no shape.
    fn attributes(&self, row: &StringRecord) -> Vec<(String, Value)> {
        let makes_shape = [Some(self.latitude), Some(self.longitude), self.part, self.ring];
        let others = self.names.iter().enumerate().filter(|(at, _)| !makes_shape.contains(&Some(*at)));
        let cells = others.filter_map(|(at, name)| row.get(at).map(|cell| (name, cell)));
        cells
            .filter(|(_, cell)| !cell.is_empty())
            .map(|(name, cell)| (name.clone(), Value::from(cell)))
            .collect()
    }
}

fn rows_of_text(
    reader: &mut Reader<&[u8]>,
    names: &[String],
    text: usize,
    notes: &mut Notes,
) -> Result<Vec<SourceFeature>, ImportFault> {
    let mut features = Vec::new();
    for row in reader.records() {
        let row = row.map_err(|error| broken(&error))?;
        let place = line_of(&row);
        let shape = shape_of(row.get(text).unwrap_or_default(), notes, &place)?;
        let cells =
            names.iter().zip(&row).enumerate().filter(|(at, (_, cell))| *at != text && !cell.is_empty());
        let attributes = cells.map(|(_, (name, cell))| (name.clone(), Value::from(cell))).collect();
        features.push(SourceFeature { place, id: None, attributes, shape });
    }
    Ok(features)
}

/// A zone whose rows are being read, and the part and ring they are in.
struct Growing {
    zone: String,
    part: String,
    ring: String,
    feature: SourceFeature,
}

fn rows_of_vertices(
    reader: &mut Reader<&[u8]>,
    columns: &Columns,
) -> Result<Vec<SourceFeature>, ImportFault> {
    let mut done: Vec<SourceFeature> = Vec::new();
    let mut seen: Vec<String> = Vec::new();
    let mut growing: Option<Growing> = None;
    for row in reader.records() {
        let row = row.map_err(|error| broken(&error))?;
        let place = line_of(&row);
        let cell = |at: Option<usize>| at.and_then(|at| row.get(at)).unwrap_or_default().to_owned();
        let (zone, part, ring) = (cell(columns.zone), cell(columns.part), cell(columns.ring));
        if growing.as_ref().is_none_or(|growing| growing.zone != zone) {
            if seen.contains(&zone) {
                return Err(ImportFault::at(
                    &place,
                    format!("the zone {zone:?} goes on here, after rows of another"),
                    "put all rows of a zone one after another, in the order of its vertices",
                ));
            }
            seen.push(zone.clone());
            let feature = SourceFeature {
                place: place.clone(),
                attributes: columns.attributes(&row),
                ..Default::default()
            };
            let new = Growing { zone, part: String::new(), ring: String::new(), feature };
            done.extend(growing.replace(new).map(|growing| growing.feature));
        }
        let xy = xy_of((cell(Some(columns.latitude)), cell(Some(columns.longitude))), &place)?;
        if let Some(growing) = &mut growing {
            growing.add(xy, (part, ring), &columns.attributes(&row), &place)?;
        }
    }
    done.extend(growing.map(|growing| growing.feature));
    Ok(done)
}

impl Growing {
    fn add(
        &mut self,
        xy: Xy,
        (part, ring): (String, String),
        attributes: &[(String, Value)],
        place: &str,
    ) -> Result<(), ImportFault> {
        if attributes != self.feature.attributes {
            return Err(ImportFault::at(
                place,
                format!("this row of the zone {:?} says other things of it than its first", self.zone),
                "say the same in all rows of a zone; delete columns that are of the vertices",
            ));
        }
        let areas = &mut self.feature.shape.areas;
        if areas.is_empty() || part != self.part {
            areas.push(Area::default());
        } else if ring != self.ring
            && let Some(area) = areas.last_mut()
        {
            area.holes.push(Vec::new());
        }
        (self.part, self.ring) = (part, ring);
        if let Some(area) = areas.last_mut() {
            area.holes.last_mut().unwrap_or(&mut area.exterior).push(xy);
        }
        Ok(())
    }
}

/// Two plain numbers, or a latitude and a longitude in one of the forms that are printed.
fn xy_of((latitude, longitude): (String, String), place: &str) -> Result<Xy, ImportFault> {
    if let (Ok(y), Ok(x)) = (latitude.parse::<f64>(), longitude.parse::<f64>())
        && x.is_finite()
        && y.is_finite()
    {
        return Ok([x, y]);
    }
    let read = Position::parse_pair(&latitude, &longitude).map_err(|error| {
        ImportFault::at(
            place,
            format!("{latitude:?}, {longitude:?}: {error}"),
            "write decimal degrees, or degrees and minutes with letters",
        )
    })?;
    Ok([read.position.longitude().degrees(), read.position.latitude().degrees()])
}

fn line_of(row: &StringRecord) -> String {
    row.position().map_or_else(String::new, |position| format!("line {}", position.line()))
}
