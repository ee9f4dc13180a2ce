//! CSV: one row for each vertex, with the zone it belongs to; or one row for each zone, with well-known text.

use std::collections::{HashMap, HashSet};

use csv::{Reader, StringRecord};
use serde_json::Value;
use takeline::Position;
use takeline::zone_file::MOST_ZONES;

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
/// Columns of the tables that `takeline zones export` writes which are of the vertices.
const OF_VERTICES: [&str; 7] = ["vertex", "point", "lat_deg", "lon_deg", "side_runs", "side_is", "radius_m"];

const MEND: &str =
    "begin with a row of names: zone, lat, lon (and part, ring where a zone has several), or zone and wkt";

/// The rows, and how many lines stand before the row of names.
struct Rows<'t> {
    reader: Reader<&'t [u8]>,
    before: u64,
}

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
    let mut notes = Notes::default();
    let mut rows = Rows::of(source.text()?, &mut notes);
    let names = rows.names()?;
    let features = if let Some(text) = column(&names, &TEXTS)? {
        rows_of_text(&mut rows, &names, text, &mut notes)?
    } else {
        let columns = Columns::of(names)?;
        columns.tell_lost(&mut notes);
        rows_of_vertices(&mut rows, &columns)?
    };
    Ok(Layer { system: StatedSystem::Unstated, is_straight_in_lonlat: false, features, notes })
}

impl<'t> Rows<'t> {
    /// Lines that begin with `#` are remarks before the row of names only: behind it they may be zones (RFC 4180 knows no remarks).
    fn of(text: &'t str, notes: &mut Notes) -> Self {
        let (mut table, mut before, mut remarks) = (text, 0, 0);
        while let Some((line, rest)) = table.split_once('\n') {
            let is_remark = line.starts_with('#');
            if !is_remark && !line.trim().is_empty() {
                break;
            }
            (table, before, remarks) = (rest, before + 1, remarks + usize::from(is_remark));
        }
        notes.count_lost("remarks before the row of names, lines that begin with #", remarks);
        let reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(table.as_bytes());
        Self { reader, before }
    }

    /// The names of the columns, each given once.
    fn names(&mut self) -> Result<Vec<String>, ImportFault> {
        let names = self.reader.headers().map_err(|error| broken(&error, self.before))?.clone();
        let mut seen = HashSet::new();
        match names.iter().find(|name| !name.is_empty() && !seen.insert(name.to_lowercase())) {
            Some(twice) => Err(ImportFault::at(
                &format!("line {}", self.before + 1),
                format!("the column {twice:?} is given twice"),
                "give one of them another name",
            )),
            None => Ok(names.iter().map(str::to_owned).collect()),
        }
    }

    /// The next row, and its line.
    fn next(&mut self) -> Result<Option<(StringRecord, String)>, ImportFault> {
        let mut row = StringRecord::new();
        if !self.reader.read_record(&mut row).map_err(|error| broken(&error, self.before))? {
            return Ok(None);
        }
        let line = row.position().map_or(0, |position| position.line() + self.before);
        Ok(Some((row, format!("line {line}"))))
    }
}

fn broken(error: &csv::Error, before: u64) -> ImportFault {
    let line =
        error.position().map_or_else(String::new, |position| format!("line {}", position.line() + before));
    let what = if let csv::ErrorKind::UnequalLengths { expected_len, len, .. } = error.kind() {
        format!("the row has {len} cells, and the row of names has {expected_len}")
    } else {
        format!("the row cannot be read: {error}")
    };
    ImportFault::at(&line, what, MEND)
}

/// What a cell says: an apostrophe before what a spreadsheet would run is none of it (`takeline zones export` puts it there).
fn said(cell: &str) -> Value {
    Value::from(crate::export::with_nothing_put_before(cell))
}

/// Refuses more zones than a zone file holds before they fill the memory.
fn refuse_too_many(count: usize, place: &str) -> Result<(), ImportFault> {
    if count <= MOST_ZONES {
        return Ok(());
    }
    let text = format!("it has more than {MOST_ZONES} zones, the most that a zone file holds");
    Err(ImportFault::at(place, text, "split it by region"))
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
        let others = others.filter(|(_, name)| !is_of_vertices(name));
        let cells = others.filter_map(|(at, name)| row.get(at).map(|cell| (name, cell)));
        cells.filter(|(_, cell)| !cell.is_empty()).map(|(name, cell)| (name.clone(), said(cell))).collect()
    }

    fn tell_lost(&self, notes: &mut Notes) {
        for name in self.names.iter().filter(|name| is_of_vertices(name)) {
            notes.lost("", format!("the column {name:?}, which is of the vertices"));
        }
    }
}

fn is_of_vertices(name: &str) -> bool {
    OF_VERTICES.contains(&name.to_lowercase().as_str())
}

fn rows_of_text(
    rows: &mut Rows,
    names: &[String],
    text: usize,
    notes: &mut Notes,
) -> Result<Vec<SourceFeature>, ImportFault> {
    let mut features = Vec::new();
    while let Some((row, place)) = rows.next()? {
        refuse_too_many(features.len(), &place)?;
        let shape = shape_of(row.get(text).unwrap_or_default(), notes, &place)?;
        let cells =
            names.iter().zip(&row).enumerate().filter(|(at, (_, cell))| *at != text && !cell.is_empty());
        let attributes = cells.map(|(_, (name, cell))| (name.clone(), said(cell))).collect();
        features.push(SourceFeature { place, id: None, attributes, shape });
    }
    Ok(features)
}

/// A zone whose rows are being read, and the part and ring they are in.
struct Growing {
    zone: String,
    /// The part and ring of the row before, and all that there were.
    at: (String, String),
    seen: HashSet<(String, String)>,
    /// Which area each part is.
    parts: HashMap<String, usize>,
    feature: SourceFeature,
}

fn rows_of_vertices(rows: &mut Rows, columns: &Columns) -> Result<Vec<SourceFeature>, ImportFault> {
    let mut done: Vec<SourceFeature> = Vec::new();
    let mut seen: HashSet<String> = HashSet::new();
    let mut growing: Option<Growing> = None;
    while let Some((row, place)) = rows.next()? {
        let cell = |at: Option<usize>| at.and_then(|at| row.get(at)).unwrap_or_default().to_owned();
        let (zone, part, ring) = (cell(columns.zone), cell(columns.part), cell(columns.ring));
        if growing.as_ref().is_none_or(|growing| growing.zone != zone) {
            refuse_too_many(seen.len(), &place)?;
            if !seen.insert(zone.clone()) {
                return Err(ImportFault::at(
                    &place,
                    format!("the zone {zone:?} goes on here, after rows of another"),
                    "put all rows of a zone one after another, in the order of its vertices",
                ));
            }
            let feature = SourceFeature {
                place: place.clone(),
                attributes: columns.attributes(&row),
                ..Default::default()
            };
            let new = Growing::of(zone, feature);
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
    fn of(zone: String, feature: SourceFeature) -> Self {
        let at = (String::new(), String::new());
        Self { zone, at, seen: HashSet::new(), parts: HashMap::new(), feature }
    }

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
        let at = (part, ring);
        let is_new = self.seen.is_empty() || at != self.at;
        if is_new && !self.seen.insert(at.clone()) {
            return Err(ImportFault::at(
                place,
                format!(
                    "the ring {:?} of part {:?} of the zone {:?} goes on here, after rows of another",
                    at.1, at.0, self.zone
                ),
                "put all rows of a ring one after another, in the order of its vertices",
            ));
        }
        let areas = &mut self.feature.shape.areas;
        let area = *self.parts.entry(at.0.clone()).or_insert(areas.len());
        if area == areas.len() {
            areas.push(Area::default());
        } else if is_new {
            areas[area].holes.push(Vec::new());
        }
        self.at = at;
        let area = &mut areas[area];
        area.holes.last_mut().unwrap_or(&mut area.exterior).push(xy);
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
