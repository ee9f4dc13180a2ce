//! The zone file that comes of a source.

use std::collections::{BTreeMap, BTreeSet, HashMap, HashSet};
use std::fmt::Write;

use serde_json::{Map, Value, json};
use sha2::{Digest, Sha256};
use takeline::zone_file::{self, MOST_VERTICES, MOST_ZONES};

use super::coordinate_system::{Reproject, System, called_otherwise, cannot_bring, unusable};
use super::fault::{ImportError, ImportFault};
use super::layer::{Area, Layer, SourceFeature, StatedSystem};
use super::mapping::Mapping;
use super::members::{self, Said, attribute, text_of};
use super::note::{Note, NoteKind, Notes};
use super::place::{Placed, Placer, ZoneShape};
use super::source::{Format, Source};
use super::{csv_reader, geojson_reader, gpx_reader, kml_reader, packed, shapefile_reader, wkt_reader};

/// A zone file that was made of a source.
#[derive(Debug, Clone, PartialEq)]
pub struct Imported {
    /// The zone file; it loads as it is.
    pub bytes: Vec<u8>,
    /// What the source is.
    pub format: Format,
    /// How many zones it has.
    pub zones: usize,
    /// How many features the source has.
    pub features: usize,
    /// The datum that the zone file names; none: nobody states one.
    pub datum: Option<String>,
    /// How positions were brought to WGS 84; none: they are as they were.
    pub reprojected: Option<ReprojectedBy>,
    /// What must be filled in, what was changed, what was lost, and what the reader of zone files warns of.
    pub notes: Vec<Note>,
}

/// How positions were brought to WGS 84.
#[derive(Debug, Clone, PartialEq)]
pub struct ReprojectedBy {
    /// The coordinate system of the source.
    pub from: String,
    /// The operations that were used, and the accuracy stated for each in metres.
    pub operations: Vec<(String, f64)>,
}

/// One zone that is being put together.
struct NewZone {
    id: String,
    /// The places of its features in the source.
    places: Vec<String>,
    said: Said,
    placed: Placed,
    /// Attributes that nothing maps and that are not the same for all its features.
    differing: BTreeSet<String>,
}

/// Makes a zone file of a source.
///
/// `from` names the coordinate system where the source does not state it, or states it wrongly. Positions in degrees on WGS 84 or
/// on a datum that lies within 2 m of it are kept as they are; for all others `reproject` has to find a way. How sides run is
/// `"lonlat"` for GeoJSON, which says so (RFC 7946, 3.1.1), and `"unstated"` otherwise, unless the mapping says it.
///
/// Features with the same mapped id are united into one zone of several parts, whose vertices stay as they are: a zone is the union of its parts.
/// A rule that the source does not state is undecided: nothing may be taken, at times that nobody can know.
///
/// # Errors
///
/// [`ImportError`] lists what cannot be used, with its place. Of such a source nothing is imported.
///
/// # Examples
///
/// ```
/// use takeline_gis::import::{Mapping, Source, import};
///
/// let wkt = "POLYGON ((-30.13 45.11, -30.11 45.11, -30.11 45.125, -30.13 45.125, -30.13 45.11))";
/// let source = Source::new("cove.wkt", wkt.into());
/// let imported = import(&source, &Mapping::default(), Some("EPSG:4326"), None)?;
/// let loaded = takeline::zone_file::read("cove.json", &imported.bytes).expect("it loads at once");
/// assert_eq!(loaded.zones.len(), 1);
/// # Ok::<(), takeline_gis::import::ImportError>(())
/// ```
pub fn import(
    source: &Source,
    mapping: &Mapping,
    from: Option<&str>,
    reproject: Option<Reproject>,
) -> Result<Imported, ImportError> {
    let refuse = |fault: ImportFault| ImportError::of(&source.label, vec![fault]);
    let format = source.format().map_err(refuse)?;
    if let Some(layer) = source.layer.as_deref().filter(|_| format != Format::GeoPackage) {
        let text = format!("{} has no layers, and {layer:?} is asked for", format.name());
        return Err(refuse(ImportFault::whole(text, "leave --layer out")));
    }
    let mut layer = read(source, format).map_err(refuse)?;
    size(&layer).map_err(refuse)?;
    members::tell_apart(&mut layer.features, &mut layer.notes);
    fields_exist(&layer, mapping).map_err(refuse)?;
    let stated = stated(&mut layer, from);
    if let Some((name, datum)) = called_otherwise(&stated) {
        layer.notes.changed(
            "",
            format!("the coordinate system is called {name:?}; the datum that it gives, {datum}, counts"),
        );
    }
    let (datum, bring, foreign) = match System::of(&stated) {
        System::Degrees(datum) => (datum, None, None),
        System::Unusable(why) => return Err(refuse(unusable(&why))),
        System::Foreign { definition, name } => {
            let bring = reproject.ok_or_else(|| refuse(cannot_bring(&name)))?;
            let bring = bring(&definition).map_err(|why| refuse(no_way(&name, &why)))?;
            (Some("WGS 84".to_owned()), Some(bring), Some(name))
        }
    };
    let mut placer = Placer { format, mapping, bring, used: BTreeMap::new() };
    let zones = zones(&mut layer, &mut placer, &source.label)
        .map_err(|faults| ImportError::of(&source.label, faults))?;
    let reprojected =
        foreign.map(|from| ReprojectedBy { from, operations: placer.used.into_iter().collect() });
    let head = Head { source, format, mapping, datum: datum.as_deref(), reprojected: reprojected.as_ref() };
    let is_lonlat = layer.is_straight_in_lonlat && reprojected.is_none();
    add_notes(&zones, (&head, is_lonlat), &mut layer.notes);
    let bytes = head.written(&zones, is_lonlat);
    check(&source.label, &bytes, (&zones, &mut layer.notes))?;
    Ok(Imported {
        bytes,
        format,
        zones: zones.len(),
        features: layer.features.len(),
        datum,
        reprojected,
        notes: layer.notes.in_order(),
    })
}

fn read(source: &Source, format: Format) -> Result<Layer, ImportFault> {
    match format {
        Format::GeoJson => geojson_reader::read(source),
        Format::Kml => kml_reader::read(&source.bytes),
        Format::Kmz => {
            let (kml, others) = packed::kml_inside(&source.bytes)?;
            let mut layer = kml_reader::read(&kml)?;
            for name in others {
                layer.notes.lost("", format!("{name}, which is packed with the KML"));
            }
            Ok(layer)
        }
        Format::Gpx => gpx_reader::read(&source.bytes),
        Format::Shapefile => shapefile_reader::read(source),
        Format::PackedShapefile => shapefile_reader::read(&packed::shapefile_inside(source)?),
        #[cfg(feature = "geopackage")]
        Format::GeoPackage => super::geopackage_reader::read(source),
        #[cfg(not(feature = "geopackage"))]
        Format::GeoPackage => Err(ImportFault::whole(
            "this build does not read GeoPackage",
            "install takeline with it (cargo install --path crates/cli --features geopackage; needs a C compiler), or save the layer as GeoJSON",
        )),
        Format::Wkt => wkt_reader::read(source),
        Format::Csv => csv_reader::read(source),
    }
}

/// No more than a zone file may hold.
fn size(layer: &Layer) -> Result<(), ImportFault> {
    let vertices: usize = layer.features.iter().map(|feature| feature.shape.count()).sum();
    let zones = layer.features.len();
    if zones == 0 {
        return Err(ImportFault::whole(
            "there is nothing in it that could be a zone",
            "look whether it is the right file",
        ));
    }
    if zones > MOST_ZONES || vertices > MOST_VERTICES {
        return Err(ImportFault::whole(
            format!(
                "it has {zones} features and {vertices} vertices; a zone file holds {MOST_ZONES} zones and {MOST_VERTICES} vertices"
            ),
            "split it by region",
        ));
    }
    Ok(())
}

/// A field of the mapping that no feature has is a slip of the pen.
fn fields_exist(layer: &Layer, mapping: &Mapping) -> Result<(), ImportFault> {
    let names: HashSet<String> = layer
        .features
        .iter()
        .flat_map(|feature| &feature.attributes)
        .map(|(name, _)| name.to_lowercase())
        .collect();
    let unknown = mapping.fields.iter().find(|(_, field)| !names.contains(&field.to_lowercase()));
    let Some((member, field)) = unknown else { return Ok(()) };
    let mut known: Vec<String> = names.into_iter().collect();
    known.sort();
    Err(ImportFault::whole(
        format!("the mapping takes {member} from the attribute {field:?}, and no feature has it"),
        format!("the attributes of the source: {}", known.join(", ")),
    ))
}

/// What the source states, or what `from` says instead.
fn stated(layer: &mut Layer, from: Option<&str>) -> StatedSystem {
    let Some(from) = from else { return layer.system.clone() };
    let by_hand = StatedSystem::Named(from.to_owned());
    if layer.system != StatedSystem::Unstated && System::of(&layer.system) != System::of(&by_hand) {
        let said = match &layer.system {
            StatedSystem::Named(name) => name.chars().take(80).collect(),
            StatedSystem::ByFormat | StatedSystem::Unstated => "WGS 84, by its format".to_owned(),
        };
        layer.notes.changed(
            "",
            format!(
                "the source says that its positions are in {said}; they are read as {from}, as --from says"
            ),
        );
    }
    by_hand
}

fn no_way(name: &str, why: &str) -> ImportFault {
    ImportFault::whole(
        format!("its positions are in {name}, and cannot be brought to WGS 84: {why}"),
        "say the coordinate system by its code with --from, such as --from EPSG:27700",
    )
}

/// All zones, those of one id united.
fn zones(layer: &mut Layer, placer: &mut Placer, label: &str) -> Result<Vec<NewZone>, Vec<ImportFault>> {
    let ids = ids(layer, placer.mapping).map_err(|fault| vec![fault])?;
    let mut zones: Vec<NewZone> = Vec::new();
    let mut of_id: HashMap<String, usize> = HashMap::new();
    let mut faults = Vec::new();
    for (feature, id) in layer.features.iter().zip(ids) {
        let made = zone(feature, id, placer, (label, &mut layer.notes));
        let united = made.and_then(|made| {
            let Some(made) = made else { return Ok(()) };
            if let Some(at) = of_id.get(&made.id) {
                return zones[*at].unite(made);
            }
            of_id.insert(made.id.clone(), zones.len());
            zones.push(made);
            Ok(())
        });
        faults.extend(united.err());
    }
    if zones.is_empty() && faults.is_empty() {
        faults.push(ImportFault::whole("all its features are left out", "look at leave_out in the mapping"));
    }
    if faults.is_empty() { Ok(zones) } else { Err(faults) }
}

fn zone(
    feature: &SourceFeature,
    id: String,
    placer: &mut Placer,
    (label, notes): (&str, &mut Notes),
) -> Result<Option<NewZone>, ImportFault> {
    let Some(placed) = placer.place(feature, notes)? else { return Ok(None) };
    let said = members::read(feature, placer.mapping, (label, notes))?;
    let places = vec![feature.place.clone()];
    Ok(Some(NewZone { id, places, said, placed, differing: BTreeSet::new() }))
}

/// Ids beside the attributes, where those of zones come from elsewhere.
const UNUSED_IDS: &str = "ids of features, which the ids of zones do not come from";

/// The ids: as mapped; else those of the source, where each has one of its own; else numbers.
fn ids(layer: &mut Layer, mapping: &Mapping) -> Result<Vec<String>, ImportFault> {
    let notes = &mut layer.notes;
    if let Some(field) = mapping.fields.get("id") {
        let id = |feature: &SourceFeature| {
            let id = attribute(feature, field).map(|id| text_of(id, (&feature.place, notes)));
            id.ok_or_else(|| {
                ImportFault::at(
                    &feature.place,
                    format!("its attribute {field:?}, which is the id, is blank"),
                    "fill it in in the source, or map another attribute",
                )
            })
        };
        let ids = layer.features.iter().map(id).collect();
        notes.count_lost(UNUSED_IDS, layer.features.iter().filter(|feature| feature.id.is_some()).count());
        return ids;
    }
    let guessed = layer.features.iter().map(|feature| {
        let id = feature.id.clone().map(Value::from);
        let id = id.as_ref().or_else(|| attribute(feature, "id"));
        id.map(|id| text_of(id, (&feature.place, notes))).filter(|id| !id.is_empty())
    });
    let guessed: Option<Vec<String>> = guessed.collect();
    let mut seen = HashSet::new();
    if let Some(ids) = guessed.filter(|ids| ids.iter().all(|id| seen.insert(id.clone()))) {
        return Ok(ids);
    }
    notes.count_lost(UNUSED_IDS, layer.features.iter().filter(|feature| feature.id.is_some()).count());
    notes.changed("", "zones are numbered, because the source has no id for each; map one with [fields] id");
    Ok((1..=layer.features.len()).map(|number| format!("zone-{number}")).collect())
}

impl NewZone {
    /// Adds the parts of another feature with the same id.
    fn unite(&mut self, other: Self) -> Result<(), ImportFault> {
        let place = other.places.concat();
        let differ = |what: &str| {
            ImportFault::at(
                &place,
                format!("it has the id {:?}, as {} has, and {what}", self.id, self.places.concat()),
                "map another attribute as id, or mend the source",
            )
        };
        if self.said.properties != other.said.properties {
            let names = other.said.properties.keys().chain(self.said.properties.keys());
            let odd = names
                .into_iter()
                .find(|name| self.said.properties.get(*name) != other.said.properties.get(*name));
            return Err(differ(&format!("another {}", odd.map_or("content", String::as_str))));
        }
        match (&mut self.placed.shape, other.placed.shape) {
            (ZoneShape::Areas(areas), ZoneShape::Areas(more)) => areas.extend(more),
            _ => return Err(differ("only areas can be united")),
        }
        let of_one = |one: &Map<String, Value>, others: &Map<String, Value>| -> Vec<String> {
            one.iter()
                .filter(|(name, value)| others.get(*name) != Some(*value))
                .map(|(name, _)| name.clone())
                .collect()
        };
        self.differing.extend(of_one(&self.said.others, &other.said.others));
        self.differing.extend(of_one(&other.said.others, &self.said.others));
        self.said.others.retain(|name, _| !self.differing.contains(name));
        self.placed.doubt_95_m = self.placed.doubt_95_m.max(other.placed.doubt_95_m);
        self.places.extend(other.places);
        Ok(())
    }
}

/// What holds for the whole new file.
struct Head<'h> {
    source: &'h Source,
    format: Format,
    mapping: &'h Mapping,
    datum: Option<&'h str>,
    reprojected: Option<&'h ReprojectedBy>,
}

impl Head<'_> {
    fn written(&self, zones: &[NewZone], is_lonlat: bool) -> Vec<u8> {
        let mut head = Map::new();
        head.insert("format".into(), zone_file::FORMAT.into());
        head.extend(self.mapping.file.clone());
        head.entry("title").or_insert_with(|| format!("imported from {}", self.source.label).into());
        if let Some(datum) = self.datum {
            head.insert("datum".into(), datum.into());
        }
        head.insert("x-import".into(), self.about());
        let features: Vec<Value> = zones.iter().map(|zone| zone.written(is_lonlat)).collect();
        let file = json!({ "type": "FeatureCollection", "takeline": head, "features": features });
        let mut bytes = format!("{file:#}").into_bytes();
        bytes.push(b'\n');
        bytes
    }

    fn about(&self) -> Value {
        let mut sha256 = String::new();
        for byte in Sha256::digest(&self.source.bytes) {
            // writing to a text does not fail
            let _written = write!(sha256, "{byte:02x}");
        }
        let mut about = json!({ "from": self.source.label, "sha256": sha256, "format": self.format.name() });
        if let (Some(by), Some(about)) = (self.reprojected, about.as_object_mut()) {
            let operations = by
                .operations
                .iter()
                .map(|(name, accuracy_m)| json!({ "operation": name, "stated_accuracy_m": accuracy_m }));
            about.insert("coordinate_system".into(), by.from.as_str().into());
            about.insert("operations".into(), operations.collect());
        }
        about
    }
}

impl NewZone {
    fn written(&self, is_lonlat: bool) -> Value {
        let mut properties = self.said.properties.clone();
        let edges = if is_lonlat { "lonlat" } else { "unstated" };
        let geometry = match &self.placed.shape {
            ZoneShape::Unknown => {
                properties.insert(
                    "geometry_unknown".into(),
                    json!({ "reason": "the file that this zone was imported from has no shape for it" }),
                );
                Value::Null
            }
            ZoneShape::Centre([lon, lat]) => json!({ "type": "Point", "coordinates": [lon, lat] }),
            ZoneShape::Areas(areas) => {
                properties.entry("edges").or_insert_with(|| edges.into());
                written_areas(areas)
            }
        };
        let doubt_m = self.placed.doubt_95_m;
        if doubt_m > 0.0 {
            let own_m = properties.get("line_uncertainty_m").and_then(Value::as_f64).unwrap_or(0.0);
            properties.insert("line_uncertainty_m".into(), to_centimetres(own_m.hypot(doubt_m)).into());
        }
        if !self.said.missing.is_empty() {
            properties.insert("x-fill-in".into(), self.said.missing.clone().into());
        }
        if !self.said.others.is_empty() {
            properties.insert("x-source".into(), self.said.others.clone().into());
        }
        json!({ "type": "Feature", "id": self.id, "geometry": geometry, "properties": properties })
    }
}

fn written_areas(areas: &[Area]) -> Value {
    let rings = |area: &Area| -> Value {
        std::iter::once(&area.exterior).chain(&area.holes).map(|ring| json!(ring)).collect()
    };
    match areas {
        [area] => json!({ "type": "Polygon", "coordinates": rings(area) }),
        areas => json!({ "type": "MultiPolygon", "coordinates": areas.iter().map(rings).collect::<Value>() }),
    }
}

/// Up, so that a doubt is not made smaller.
fn to_centimetres(metres: f64) -> f64 {
    (metres * 100.0).ceil() / 100.0
}

fn counted(zones: usize) -> String {
    if zones == 1 { "1 zone".to_owned() } else { format!("{zones} zones") }
}

fn add_notes(zones: &[NewZone], (head, is_lonlat): (&Head, bool), notes: &mut Notes) {
    let lacking = |what: &str| zones.iter().filter(|zone| zone.said.missing.contains(&what)).count();
    let (rules, sources) = (lacking("take"), lacking("source"));
    if rules > 0 {
        let rules = counted(rules);
        notes.add(NoteKind::FillIn, "", format!("take, what may be taken: of {rules} the source states no rule; until you write it, every answer about them is undecided"));
    }
    if sources > 0 {
        notes.add(
            NoteKind::FillIn,
            "",
            format!("source, the law: of {} the source names none", counted(sources)),
        );
    }
    if head.datum.is_none() {
        notes.add(NoteKind::FillIn, "", "datum: the source states none, which adds 200 m of uncertainty; say it with --from if you know it");
    }
    let has_unstated = zones.iter().any(|zone| {
        matches!(zone.placed.shape, ZoneShape::Areas(_)) && !zone.said.properties.contains_key("edges")
    });
    if has_unstated && !is_lonlat {
        notes.add(
            NoteKind::FillIn,
            "",
            format!("edges, how sides run: {} does not say it; written as unstated, so that every reading counts as uncertainty", head.format.name()),
        );
    }
    for zone in zones {
        add_notes_of(zone, notes);
    }
    let others: HashSet<&String> = zones.iter().flat_map(|zone| zone.said.others.keys()).collect();
    if !others.is_empty() {
        let mut names: Vec<&str> = others.into_iter().map(String::as_str).collect();
        names.sort_unstable();
        notes.changed(
            "",
            format!(
                "attributes that nothing maps are kept in x-source, where no answer reads them: {}",
                names.join(", ")
            ),
        );
    }
    if let Some(by) = head.reprojected {
        notes.changed("", format!("positions are brought from {} to WGS 84; the accuracy stated for that is in line_uncertainty_m", by.from));
    }
}

/// What has to be said of one zone.
fn add_notes_of(zone: &NewZone, notes: &mut Notes) {
    if zone.places.len() > 1 {
        notes.changed(
            &zone.id,
            format!("one zone of {} features with its id: {}", zone.places.len(), zone.places.join(", ")),
        );
    }
    if !zone.differing.is_empty() {
        let names: Vec<&str> = zone.differing.iter().map(String::as_str).collect();
        notes.lost(
            &zone.id,
            format!("attributes that differ among the features of the zone: {}", names.join(", ")),
        );
    }
    if zone.placed.shape == ZoneShape::Unknown {
        notes.add(
            NoteKind::FillIn,
            &zone.id,
            "its boundary: the source has no shape for it, so it is undecided everywhere",
        );
    }
}

/// Reads the new file as every command will.
fn check(label: &str, bytes: &[u8], (zones, notes): (&[NewZone], &mut Notes)) -> Result<(), ImportError> {
    let place_of = |place: &zone_file::Place| {
        let number = place.feature.as_ref().and_then(|feature| feature.number.checked_sub(1));
        number.and_then(|at| zones.get(at)).map_or_else(String::new, |zone| zone.places.join(", "))
    };
    match zone_file::read(label, bytes) {
        Ok(loaded) => {
            for warning in &loaded.warnings {
                notes.add(NoteKind::Warning, &place_of(&warning.place), warning.text.clone());
            }
            Ok(())
        }
        Err(refused) => {
            let faults = refused.faults.iter().map(|fault| {
                ImportFault::at(
                    &place_of(&fault.place),
                    format!("as a zone it would be refused: {}{}", fault.place, fault.text),
                    &fault.mend,
                )
            });
            Err(ImportError::of(label, faults.collect()))
        }
    }
}
