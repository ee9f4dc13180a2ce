//! `GeoPackage`: one layer of features (OGC 12-128r19).

use rusqlite::limits::Limit;
use rusqlite::types::ValueRef;
use rusqlite::{Connection, MAIN_DB, OptionalExtension, Row};
use serde_json::{Number, Value};
use takeline::zone_file::MOST_ZONES;

use super::fault::ImportFault;
use super::layer::{Layer, SourceFeature, StatedSystem};
use super::note::Notes;
use super::source::Source;
use super::well_known_binary;

/// The longest value of a row, in bytes.
const LONGEST_VALUE: i32 = 64 * 1024 * 1024;
/// The most steps of the database; some thousand layers of real files take fewer.
const MOST_STEPS: i32 = 200_000_000;
/// The tables that every `GeoPackage` has and that are read.
const TABLES: [&str; 3] = ["gpkg_contents", "gpkg_geometry_columns", "gpkg_spatial_ref_sys"];
const MEND: &str = "write the GeoPackage again from the program that made it";

/// A layer, as the table of contents has it.
struct Contents {
    table: String,
    shape_column: String,
    system: i64,
}

/// Reads the one layer of features, or the one that is asked for.
pub(super) fn read(source: &Source) -> Result<Layer, ImportFault> {
    let database = open(&source.bytes)?;
    let contents = contents(&database, source.layer.as_deref())?;
    let system = system_of(&database, contents.system)?;
    let mut notes = Notes::default();
    let features = rows(&database, &contents, (source.bytes.len(), &mut notes))?;
    Ok(Layer { system, is_straight_in_lonlat: false, features, notes })
}

fn broken(error: &rusqlite::Error) -> ImportFault {
    ImportFault::whole(format!("the GeoPackage cannot be read: {error}"), MEND)
}

/// The file may come from anywhere: it is opened in memory, for reading, and nothing in it is run.
fn open(bytes: &[u8]) -> Result<Connection, ImportFault> {
    let mut database = Connection::open_in_memory().map_err(|error| broken(&error))?;
    database.set_limit(Limit::SQLITE_LIMIT_LENGTH, LONGEST_VALUE).map_err(|error| broken(&error))?;
    database
        .deserialize_read_exact(MAIN_DB, bytes, bytes.len(), true)
        .and_then(|()| database.execute_batch("PRAGMA trusted_schema = OFF; PRAGMA cell_size_check = ON;"))
        .map_err(|error| broken(&error))?;
    // what is asked of it ends, whatever the file makes of it
    database.progress_handler(MOST_STEPS, Some(|| true));
    TABLES.iter().try_for_each(|table| is_plain_table(&database, table))?;
    Ok(database)
}

fn contents(database: &Connection, asked: Option<&str>) -> Result<Contents, ImportFault> {
    let layers = layers(database).map_err(|error| broken(&error))?;
    let names: Vec<&str> = layers.iter().map(|layer| layer.table.as_str()).collect();
    let listed = names.join(", ");
    let found = match asked {
        Some(asked) => layers.iter().position(|layer| layer.table == asked).ok_or_else(|| {
            ImportFault::whole(format!("it has no layer {asked:?}"), format!("its layers: {listed}"))
        })?,
        None if layers.len() == 1 => 0,
        None => {
            let mend = "say which with --layer NAME, one after another";
            return Err(ImportFault::whole(
                format!("it has {} layers of features: {listed}", layers.len()),
                mend,
            ));
        }
    };
    let layer = layers.into_iter().nth(found).ok_or_else(|| ImportFault::whole("it has no layer", MEND))?;
    is_plain_table(database, &layer.table)?;
    Ok(layer)
}

fn layers(database: &Connection) -> rusqlite::Result<Vec<Contents>> {
    let mut statement = database.prepare(
        "SELECT c.table_name, g.column_name, g.srs_id FROM gpkg_contents c JOIN gpkg_geometry_columns g ON g.table_name = c.table_name \
         WHERE c.data_type = 'features' ORDER BY c.table_name",
    )?;
    let rows = statement.query_map((), |row| {
        Ok(Contents { table: row.get(0)?, shape_column: row.get(1)?, system: row.get(2)? })
    })?;
    rows.collect()
}

/// A view or a table of another kind could be made to run for ever.
fn is_plain_table(database: &Connection, table: &str) -> Result<(), ImportFault> {
    // names are the same in capitals; a column that is computed could be made to run for ever too
    let found: Option<(String, String, i64)> = database
        .query_row(
            "SELECT type, sql, (SELECT count(*) FROM pragma_table_xinfo(?1) WHERE hidden <> 0) FROM sqlite_schema \
             WHERE name = ?1 COLLATE NOCASE AND type IN ('table', 'view')",
            [table],
            |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
        )
        .optional()
        .map_err(|error| broken(&error))?;
    let is_plain = found.is_some_and(|(kind, sql, computed)| {
        kind == "table" && computed == 0 && !sql.to_uppercase().starts_with("CREATE VIRTUAL")
    });
    if is_plain {
        return Ok(());
    }
    Err(ImportFault::whole(
        format!("{table:?} in it is no plain table"),
        "save the layer as a GeoPackage of its own",
    ))
}

/// The coordinate system by the file's own list: 0 and -1 are undefined ones.
fn system_of(database: &Connection, id: i64) -> Result<StatedSystem, ImportFault> {
    if matches!(id, 0 | -1) {
        return Ok(StatedSystem::Unstated);
    }
    let found: Option<(String, i64, String)> = database
        .query_row(
            "SELECT organization, organization_coordsys_id, definition FROM gpkg_spatial_ref_sys WHERE srs_id = ?1",
            [id],
            |row| Ok((row.get(0)?, row.get(1)?, row.get(2)?)),
        )
        .optional()
        .map_err(|error| broken(&error))?;
    match found {
        Some((organization, code, _)) if organization.eq_ignore_ascii_case("EPSG") => {
            Ok(StatedSystem::Named(format!("EPSG:{code}")))
        }
        Some((.., definition)) => Ok(StatedSystem::Named(definition)),
        None => Err(ImportFault::whole(
            format!("it uses the coordinate system {id}, and does not say which that is"),
            MEND,
        )),
    }
}

fn rows(
    database: &Connection,
    contents: &Contents,
    (most_bytes, notes): (usize, &mut Notes),
) -> Result<Vec<SourceFeature>, ImportFault> {
    let table = contents.table.replace('"', "\"\"");
    let mut statement =
        database.prepare(&format!("SELECT * FROM \"{table}\"")).map_err(|error| broken(&error))?;
    let names: Vec<String> = statement.column_names().into_iter().map(str::to_owned).collect();
    let mut rows = statement.query(()).map_err(|error| broken(&error))?;
    let mut features = Vec::new();
    let mut bytes = 0_usize;
    while let Some(row) = rows.next().map_err(|error| broken(&error))? {
        let place = format!("row {}", features.len() + 1);
        bytes = bytes.saturating_add(length_of(row, names.len())?);
        // what is there once cannot be larger than the file; and a zone file holds no more zones
        if bytes > most_bytes || features.len() > MOST_ZONES {
            let text = "its rows hold more than a file of its size can, or more zones than a zone file";
            return Err(ImportFault::at(&place, text, "split it by region, or write it again"));
        }
        features.push(feature(row, (&names, contents), notes, place)?);
    }
    Ok(features)
}

/// How long its texts and shapes are.
fn length_of(row: &Row, columns: usize) -> Result<usize, ImportFault> {
    let length = |at: usize| {
        row.get_ref(at).map(|value| match value {
            ValueRef::Text(bytes) | ValueRef::Blob(bytes) => bytes.len(),
            ValueRef::Null | ValueRef::Integer(_) | ValueRef::Real(_) => 0,
        })
    };
    (0..columns).map(length).sum::<rusqlite::Result<usize>>().map_err(|error| broken(&error))
}

fn feature(
    row: &Row,
    (names, contents): (&[String], &Contents),
    notes: &mut Notes,
    place: String,
) -> Result<SourceFeature, ImportFault> {
    let mut feature = SourceFeature::default();
    for (at, name) in names.iter().enumerate() {
        let value = row.get_ref(at).map_err(|error| broken(&error))?;
        if name.eq_ignore_ascii_case(&contents.shape_column) {
            match value {
                ValueRef::Null => {}
                ValueRef::Blob(blob) => {
                    let (shape, extra) = well_known_binary::read(blob, contents.system, &place)?;
                    feature.shape = shape;
                    notes.count_lost("heights", extra.heights);
                    notes.count_lost("measures", extra.measures);
                }
                ValueRef::Integer(_) | ValueRef::Real(_) | ValueRef::Text(_) => {
                    return Err(ImportFault::at(&place, "its shape is no shape", MEND));
                }
            }
        } else if let Some(value) = value_of(value, notes) {
            feature.attributes.push((name.clone(), value));
        }
    }
    feature.place = place;
    Ok(feature)
}

fn value_of(value: ValueRef, notes: &mut Notes) -> Option<Value> {
    match value {
        ValueRef::Null => None,
        ValueRef::Integer(number) => Some(Value::from(number)),
        ValueRef::Real(number) => Number::from_f64(number).map(Value::Number),
        ValueRef::Text(text) => Some(Value::from(String::from_utf8_lossy(text).as_ref())),
        ValueRef::Blob(_) => {
            notes.count_lost("values that are neither text nor number", 1);
            None
        }
    }
}
