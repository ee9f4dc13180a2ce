//! Packed sources: KMZ, and Shapefiles in one zip file. What comes out is bounded, whatever the file says of itself.

use std::io::{Cursor, Read};

use takeline::zone_file::MOST_BYTES;
use zip::ZipArchive;

use super::fault::ImportFault;
use super::source::Source;

/// The most bytes that each file in it may unpack to, as many as a file that is not packed may have.
const MOST_UNPACKED: u64 = MOST_BYTES as u64;
/// The most files in it that are looked at.
const MOST_FILES: usize = 10_000;

/// A packed file, and the names in it, but for those that systems put beside each.
struct Packed<'b> {
    archive: ZipArchive<Cursor<&'b [u8]>>,
    names: Vec<String>,
}

/// The KML inside a KMZ: `doc.kml`, or the only one that ends so; and what else is in it, which does not come over.
pub(super) fn kml_inside(bytes: &[u8]) -> Result<(Vec<u8>, Vec<String>), ImportFault> {
    let mut packed = Packed::open(bytes)?;
    let kml = packed.names_ending(".kml");
    let main: Vec<String> = kml.iter().filter(|name| name.eq_ignore_ascii_case("doc.kml")).cloned().collect();
    let name = match (main.as_slice(), kml.as_slice()) {
        ([name], _) | ([], [name]) => name.clone(),
        (_, []) => {
            return Err(ImportFault::whole(
                "there is no .kml file in it",
                "pack a .kml file, or import that itself",
            ));
        }
        _ => {
            return Err(ImportFault::whole(
                format!(
                    "there are {} .kml files in it, and which is meant nobody says: {}",
                    kml.len(),
                    kml.join(", ")
                ),
                "unpack it and import each .kml file",
            ));
        }
    };
    let others = packed.names.iter().filter(|other| **other != name && !other.ends_with('/'));
    let others = others.cloned().collect();
    Ok((packed.unpack(&name)?, others))
}

/// The one Shapefile inside a zip file.
pub(super) fn shapefile_inside(source: &Source) -> Result<Source, ImportFault> {
    let mut packed = Packed::open(&source.bytes)?;
    let shapes = packed.names_ending(".shp");
    let [shape] = shapes.as_slice() else {
        return Err(ImportFault::whole(
            format!("there are {} files named *.shp in it", shapes.len()),
            "pack exactly one Shapefile, or unpack it and import each .shp",
        ));
    };
    let stem = &shape[..shape.len() - ".shp".len()];
    let bytes = packed.unpack(shape)?;
    let mut beside = |ending: &str| -> Result<Option<Vec<u8>>, ImportFault> {
        let names = packed.names_ending(ending);
        let mut same = names.iter().filter(|name| name[..name.len() - ending.len()] == *stem);
        match (same.next(), same.next()) {
            (Some(one), Some(other)) => Err(ImportFault::whole(
                format!("{one} and {other} in it may mean the same"),
                "pack exactly one Shapefile, or unpack it and import each .shp",
            )),
            (one, _) => one.map(|name| packed.unpack(name)).transpose(),
        }
    };
    Ok(Source {
        label: source.label.clone(),
        bytes,
        dbf: beside(".dbf")?,
        prj: beside(".prj")?,
        cpg: beside(".cpg")?,
        layer: None,
    })
}

impl<'b> Packed<'b> {
    fn open(bytes: &'b [u8]) -> Result<Self, ImportFault> {
        let archive = ZipArchive::new(Cursor::new(bytes)).map_err(|error| {
            ImportFault::whole(
                format!("it is no zip file that can be read: {error}"),
                "pack it again, without a password",
            )
        })?;
        if archive.len() > MOST_FILES {
            return Err(ImportFault::whole(
                format!("it packs {} files; at most {MOST_FILES} are looked at", archive.len()),
                "unpack it and import the file that you need",
            ));
        }
        let unclear = |what: &str| {
            ImportFault::whole(format!("{what}, so that nobody knows what is in it"), "pack it again")
        };
        if archive.has_duplicate_names() {
            return Err(unclear("two files in it have the same name"));
        }
        let names = archive.file_names().map(|name| name.map(std::borrow::Cow::into_owned));
        let names = names.collect::<Result<Vec<String>, _>>();
        let mut names = names.map_err(|_| unclear("the name of a file in it cannot be read"))?;
        // what macOS puts beside every file
        names.retain(|name| name.rsplit('/').next().is_some_and(|name| !name.starts_with("._")));
        names.sort();
        Ok(Self { archive, names })
    }

    fn names_ending(&self, ending: &str) -> Vec<String> {
        let ends = |name: &&String| {
            let start = name.len().saturating_sub(ending.len());
            name.get(start..).is_some_and(|end| end.eq_ignore_ascii_case(ending))
        };
        self.names.iter().filter(ends).cloned().collect()
    }

    fn unpack(&mut self, name: &str) -> Result<Vec<u8>, ImportFault> {
        let damaged = |error: &dyn std::fmt::Display| {
            ImportFault::whole(
                format!("{name} in it cannot be unpacked: {error}"),
                "pack it again, without a password",
            )
        };
        let file = self.archive.by_name(name).map_err(|error| damaged(&error))?;
        let mut bytes = Vec::new();
        file.take(MOST_UNPACKED + 1).read_to_end(&mut bytes).map_err(|error| damaged(&error))?;
        let unpacked = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
        if unpacked > MOST_UNPACKED {
            return Err(ImportFault::whole(
                format!("{name} in it unpacks to more than {} MiB", MOST_UNPACKED / 1024 / 1024),
                "split it, and import only the parts that you need",
            ));
        }
        Ok(bytes)
    }
}
