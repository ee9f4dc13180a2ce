//! Packed sources: KMZ, and Shapefiles in one zip file. What comes out is bounded, whatever the file says of itself.

use std::io::{Cursor, Read};

use zip::ZipArchive;

use super::fault::ImportFault;
use super::source::Source;

/// The most bytes that one packed source may unpack to.
const MOST_UNPACKED: u64 = 256 * 1024 * 1024;
/// The most files in it that are looked at.
const MOST_FILES: usize = 10_000;

/// A packed file, and how many bytes may still come out of it.
struct Packed<'b> {
    archive: ZipArchive<Cursor<&'b [u8]>>,
    left: u64,
}

/// The KML inside a KMZ: `doc.kml`, or the first that ends so.
pub(super) fn kml_inside(bytes: &[u8]) -> Result<Vec<u8>, ImportFault> {
    let mut packed = Packed::open(bytes)?;
    let kml = packed.names_ending(".kml");
    let first = kml.iter().find(|name| name.eq_ignore_ascii_case("doc.kml")).or_else(|| kml.first());
    let first = first.cloned().ok_or_else(|| {
        ImportFault::whole("there is no .kml file in it", "pack a .kml file, or import that itself")
    })?;
    packed.unpack(&first)
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
        let same = names.iter().find(|name| name[..name.len() - ending.len()] == *stem);
        same.map(|name| packed.unpack(name)).transpose()
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
        Ok(Self { archive, left: MOST_UNPACKED })
    }

    fn names_ending(&self, ending: &str) -> Vec<String> {
        let is_hidden = |name: &str| name.rsplit('/').next().is_some_and(|name| name.starts_with('.'));
        let ends = |name: &str| {
            let start = name.len().saturating_sub(ending.len());
            name.get(start..).is_some_and(|end| end.eq_ignore_ascii_case(ending)) && !is_hidden(name)
        };
        // a name that cannot be read is not one of these
        let names = self.archive.file_names().filter_map(Result::ok);
        let mut names: Vec<String> =
            names.filter(|name| ends(name)).map(std::borrow::Cow::into_owned).collect();
        names.sort();
        names
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
        file.take(self.left + 1).read_to_end(&mut bytes).map_err(|error| damaged(&error))?;
        let unpacked = u64::try_from(bytes.len()).unwrap_or(u64::MAX);
        if unpacked > self.left {
            return Err(ImportFault::whole(
                format!("{name} in it unpacks to more than {} MiB", MOST_UNPACKED / 1024 / 1024),
                "split it, and import only the parts that you need",
            ));
        }
        self.left -= unpacked;
        Ok(bytes)
    }
}
