//! The index itself: what it holds, how it is written, and when it is not taken.

use std::sync::Arc;

use serde::de::IgnoredAny;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

use super::near_zones::Lies;
use crate::Metres;
use crate::geojson_text::{BYTE_ORDER_MARK, hexadecimal};
use crate::zone::{Zone, ZoneFile};
use crate::zone_file::{self, LoadZonesError, LoadedFile};

/// What every index begins with; the last byte is the version of its form.
///
/// Raise it whenever an index made before would tell something else than one made now: its members, the boxes, the warnings.
const MAGIC: &[u8; 16] = b"takeline-index\n\x02";
/// Bytes of a SHA-256.
const HASH: usize = 32;
/// The most bytes of an index that are looked at: as many as of a zone file.
pub const MOST_INDEX_BYTES: usize = zone_file::MOST_BYTES;

/// Why an index is not used. The zone file is read in the ordinary way then.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum Unfit {
    /// It is not of the form that this version writes.
    #[error("it is not an index that this version of takeline can read")]
    OtherForm,
    /// It was written by another version, which may have read the file otherwise.
    #[error("it was made by takeline {0}")]
    OtherVersion(String),
    /// Its checksum does not fit.
    #[error("it is damaged or incomplete")]
    Damaged,
    /// It was made from other bytes.
    #[error("the zone file was changed since it was made")]
    OtherSource,
    /// It says of a zone what the zone file does not.
    #[error("it does not match what the zone file holds")]
    Contradicted,
}

/// What one zone file holds and where, for exactly its bytes.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Index {
    /// The version of takeline that wrote it.
    pub(super) version: String,
    /// Length and SHA-256 of the zone file.
    source_length: usize,
    source_sha256: [u8; HASH],
    /// About how long all lines are together, in metres.
    pub(super) line_length_m: f64,
    /// What is odd about the file, in words.
    pub(super) warnings: Vec<String>,
    /// Its features, in file order.
    pub(super) features: Vec<IndexedFeature>,
}

/// Where a feature stands in the file, and what it can matter to.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(super) struct IndexedFeature {
    /// Its first byte, counted from 0, and how many there are.
    pub(super) start: usize,
    pub(super) length: usize,
    pub(super) id: String,
    /// Ids of the zones whose rules it displaces.
    pub(super) overrides: Vec<String>,
    pub(super) lies: Lies,
}

impl IndexedFeature {
    pub(super) fn end(&self) -> usize {
        self.start.saturating_add(self.length)
    }
}

/// A zone file that was read, and its index.
#[derive(Debug)]
#[non_exhaustive]
pub struct PreparedZones {
    /// The file, read in the ordinary way.
    pub loaded: LoadedFile,
    /// The bytes of its index.
    pub index: Vec<u8>,
}

/// Reads a zone file as [`zone_file::read`] does, and makes its index.
///
/// # Errors
///
/// Those of [`zone_file::read`]: of a file with a fault there is no index.
///
/// # Examples
///
/// ```
/// use takeline::prepared::{Index, Unfit, prepare};
/// let file = br#"{ "type": "FeatureCollection",
///   "takeline": { "format": "takeline.zones/1", "datum": "WGS 84" },
///   "features": [ { "type": "Feature", "id": "sallow-cove",
///     "geometry": { "type": "Point", "coordinates": [-30.13, 45.11] },
///     "properties": { "radius_m": 900, "take": "none", "source": { "instrument": "Marrowick Order 3" } } } ] }"#;
/// let made = prepare("marrowick.json", file)?;
/// assert!(Index::of(&made.index, file).is_ok());
/// // a blank more, and it is not taken
/// let changed = [file.as_slice(), b" "].concat();
/// assert_eq!(Index::of(&made.index, &changed), Err(Unfit::OtherSource));
/// # Ok::<(), takeline::zone_file::LoadZonesError>(())
/// ```
pub fn prepare(path_label: &str, bytes: &[u8]) -> Result<PreparedZones, LoadZonesError> {
    let loaded = zone_file::read(path_label, bytes)?;
    // a file that was read has as many as zones; an index without them is refused, never believed
    let places =
        feature_places(bytes).filter(|places| places.len() == loaded.zones.len()).unwrap_or_default();
    let features = places.into_iter().zip(&loaded.zones).map(|((start, length), zone)| IndexedFeature {
        start,
        length,
        id: zone.id.0.clone(),
        overrides: overridden(zone),
        lies: Lies::of(zone),
    });
    let index = Index {
        version: env!("CARGO_PKG_VERSION").to_owned(),
        source_length: bytes.len(),
        source_sha256: Sha256::digest(bytes).into(),
        line_length_m: loaded.line_length.metres(),
        warnings: loaded.warnings.iter().map(ToString::to_string).collect(),
        features: features.collect(),
    };
    let index = index.written();
    Ok(PreparedZones { loaded, index })
}

/// Ids of the zones whose rules a zone displaces.
pub(super) fn overridden(zone: &Zone) -> Vec<String> {
    zone.overrides.iter().map(|one| one.zone.0.clone()).collect()
}

impl Index {
    /// Takes an index from its bytes, for a zone file of these bytes.
    ///
    /// # Errors
    ///
    /// [`Unfit`], unless it is whole, of this version, and made from exactly this file.
    ///
    /// # Edge cases
    ///
    /// The checksum finds damage, not malice. An index that is false and yet whole is refused where it leaves out a feature of
    /// the file, and where it contradicts the zones that are read by it; it may take some tens of times its own size in memory,
    /// and does so only for the file that it names.
    pub fn of(index: &[u8], source: &[u8]) -> Result<Self, Unfit> {
        let found = Self::read(index, source)?;
        if !found.is_consistent(source) {
            return Err(Unfit::Contradicted);
        }
        Ok(found)
    }

    /// Whether bytes begin as an index of some version does.
    #[must_use]
    pub fn is_begun_by(bytes: &[u8]) -> bool {
        bytes.starts_with(&MAGIC[..MAGIC.len() - 1])
    }

    /// Whether bytes are an index of which next to nothing was written: the first bytes of every index, or none.
    #[must_use]
    pub fn is_hardly_begun_by(bytes: &[u8]) -> bool {
        MAGIC[..MAGIC.len() - 1].starts_with(bytes)
    }

    /// Puts it together with the zone file that it is of, under the name that answers give the file.
    #[must_use]
    pub fn with_source(self, path_label: &str, source: Vec<u8>) -> PreparedFile {
        PreparedFile::new(self, path_label.to_owned(), source)
    }

    /// SHA-256 of the zone file, in lower-case hexadecimal.
    #[must_use]
    pub fn source_sha256(&self) -> String {
        hexadecimal(&self.source_sha256)
    }

    /// Magic, checksum of all that follows, then the members.
    pub(super) fn written(&self) -> Vec<u8> {
        // postcard writes any value of these types into a vector; what is empty is refused when it is read
        let members = postcard::to_allocvec(self).unwrap_or_default();
        [MAGIC.as_slice(), &Sha256::digest(&members), &members].concat()
    }

    fn read(index: &[u8], source: &[u8]) -> Result<Self, Unfit> {
        let rest = index.strip_prefix(MAGIC.as_slice()).ok_or(Unfit::OtherForm)?;
        let (checksum, members) = rest.split_at_checked(HASH).ok_or(Unfit::Damaged)?;
        if *checksum != *Sha256::digest(members) {
            return Err(Unfit::Damaged);
        }
        let (version, rest) = postcard::take_from_bytes::<String>(members).map_err(|_| Unfit::Damaged)?;
        if version != env!("CARGO_PKG_VERSION") {
            return Err(Unfit::OtherVersion(version));
        }
        // before anything is made of the rest
        let (made_from, _) =
            postcard::take_from_bytes::<(usize, [u8; HASH])>(rest).map_err(|_| Unfit::Damaged)?;
        if made_from != (source.len(), Sha256::digest(source).into()) {
            return Err(Unfit::OtherSource);
        }
        match postcard::take_from_bytes::<Self>(members) {
            Ok((found, [])) => Ok(found),
            Ok(_) | Err(_) => Err(Unfit::Damaged),
        }
    }

    /// Whether its features are a whole list in the file: nothing but a comma between two of them, and the list begins before the
    /// first and ends behind the last.
    fn is_consistent(&self, source: &[u8]) -> bool {
        let (Some(first), Some(last)) = (self.features.first(), self.features.last()) else { return false };
        let between = |from, to| source.get(from..to).map(<[u8]>::trim_ascii);
        self.features.len() <= zone_file::MOST_ZONES
            && self.features.iter().all(|feature| feature.length > 0)
            && self.features.windows(2).all(|pair| between(pair[0].end(), pair[1].start) == Some(b","))
            && between(0, first.start).is_some_and(|head| head.ends_with(b"["))
            && between(last.end(), source.len()).is_some_and(|tail| tail.starts_with(b"]"))
            && (0.0..f64::INFINITY).contains(&self.line_length_m)
    }
}

/// A zone file and the index that fits it.
#[derive(Debug)]
pub struct PreparedFile {
    index: Index,
    path_label: String,
    source: Vec<u8>,
    /// What holds for the whole file, once it was read; one for all zones.
    file: Option<Arc<ZoneFile>>,
}

impl PreparedFile {
    pub(super) fn new(index: Index, path_label: String, source: Vec<u8>) -> Self {
        Self { index, path_label, source, file: None }
    }

    /// The name that answers give the file.
    #[must_use]
    pub fn path_label(&self) -> &str {
        &self.path_label
    }

    /// SHA-256 of the zone file, in lower-case hexadecimal.
    #[must_use]
    pub fn sha256(&self) -> String {
        self.index.source_sha256()
    }

    /// How many zones the file has.
    #[must_use]
    pub fn zone_count(&self) -> usize {
        self.index.features.len()
    }

    /// About how long all its lines are together, as [`LoadedFile::line_length`] says.
    #[must_use]
    pub fn line_length(&self) -> Metres {
        Metres::computed(self.index.line_length_m)
    }

    /// What is odd about the file: the words of each of [`LoadedFile::warnings`].
    #[must_use]
    pub fn warnings(&self) -> &[String] {
        &self.index.warnings
    }

    pub(super) fn features(&self) -> &[IndexedFeature] {
        &self.index.features
    }

    /// Reads zones by their places in the file, which are in order and at least one.
    pub(super) fn read(&mut self, numbers: &[usize]) -> Result<Vec<Zone>, Unfit> {
        let text = self.with_only(numbers).ok_or(Unfit::Contradicted)?;
        let read = zone_file::read(&self.path_label, &text).map_err(|_| Unfit::Contradicted)?;
        let features = numbers.iter().filter_map(|number| self.index.features.get(*number));
        if read.zones.len() != numbers.len()
            || !features.zip(&read.zones).all(|(told, zone)| fits(told, zone))
        {
            return Err(Unfit::Contradicted);
        }
        let sha256 = || self.index.source_sha256();
        let file =
            self.file.get_or_insert_with(|| Arc::new(ZoneFile { sha256: sha256(), ..(*read.file).clone() }));
        let of_the_file = |zone| Zone { file: Arc::clone(file), ..zone };
        Ok(read.zones.into_iter().map(of_the_file).collect())
    }

    /// Reads the whole file in the ordinary way.
    pub(super) fn read_whole(&self) -> Result<LoadedFile, LoadZonesError> {
        zone_file::read(&self.path_label, &self.source)
    }

    /// The text of the file with these features alone: all else stands as it stood.
    fn with_only(&self, numbers: &[usize]) -> Option<Vec<u8>> {
        let (first, last) = (self.index.features.first()?, self.index.features.last()?);
        let mut text = self.source.get(..first.start)?.to_vec();
        for (written, number) in numbers.iter().enumerate() {
            let feature = self.index.features.get(*number)?;
            if written > 0 {
                text.push(b',');
            }
            text.extend_from_slice(self.source.get(feature.start..feature.end())?);
        }
        text.extend_from_slice(self.source.get(last.end()..)?);
        Some(text)
    }
}

/// Whether an index tells of a zone what was read.
fn fits(told: &IndexedFeature, zone: &Zone) -> bool {
    told.id == zone.id.0 && told.overrides == overridden(zone) && told.lies.is_true_of(zone)
}

/// The first byte of each feature of a feature collection, counted from 0, and how many bytes it has, in order.
///
/// For text that was read as a zone file; of other text it finds something or nothing.
pub(super) fn feature_places(bytes: &[u8]) -> Option<Vec<(usize, usize)>> {
    let mark = if bytes.starts_with(BYTE_ORDER_MARK) { BYTE_ORDER_MARK.len() } else { 0 };
    let mut text = Text { bytes, at: mark };
    text.take(b'{')?;
    loop {
        let name: String = text.value()?;
        text.take(b':')?;
        if name == "features" {
            break;
        }
        text.value::<IgnoredAny>()?;
        text.take(b',')?;
    }
    text.take(b'[')?;
    let mut found = Vec::new();
    while text.next()? != b']' {
        let start = text.at;
        text.value::<IgnoredAny>()?;
        found.push((start, text.at - start));
        if text.next()? == b',' {
            text.at += 1;
        }
    }
    Some(found)
}

/// JSON, and how far it was read.
struct Text<'a> {
    bytes: &'a [u8],
    at: usize,
}

impl Text<'_> {
    /// The next byte that is no blank, without going past it.
    fn next(&mut self) -> Option<u8> {
        let rest = self.bytes.get(self.at..)?;
        self.at += rest.iter().position(|byte| !matches!(byte, b' ' | b'\t' | b'\n' | b'\r'))?;
        self.bytes.get(self.at).copied()
    }

    /// Goes past one mark.
    fn take(&mut self, mark: u8) -> Option<()> {
        (self.next()? == mark).then(|| self.at += 1)
    }

    /// Reads one value and goes past it.
    fn value<T: for<'de> Deserialize<'de>>(&mut self) -> Option<T> {
        self.next()?;
        let mut values = serde_json::Deserializer::from_slice(self.bytes.get(self.at..)?).into_iter::<T>();
        let value = values.next()?.ok()?;
        self.at += values.byte_offset();
        Some(value)
    }
}

#[cfg(test)]
mod feature_places_tests {
    use super::*;

    fn found(text: &str) -> Option<Vec<&str>> {
        let places = feature_places(text.as_bytes())?;
        Some(places.into_iter().map(|(start, length)| &text[start..start + length]).collect())
    }

    #[test]
    fn features_are_found_wherever_the_list_stands_and_whatever_is_in_them() {
        let odd = r#"{"a":"]},[\"{\\","b":[{"features":[7]}]}"#;
        let first =
            format!("{{\"features\" :\t[ {odd}\n,\r\n{{}} , 7,null ] , \"type\": \"FeatureCollection\"}}");
        assert_eq!(found(&first).unwrap(), [odd, "{}", "7", "null"]);
        let last =
            format!("\u{feff}\n{{\"bbox\":[1,2.5e3],\"n\":-1,\"x\":{odd},\"f\\u0065atures\":[{odd}]}}");
        assert_eq!(found(&last).unwrap(), [odd]);
        assert_eq!(found("{\"features\":[]}").unwrap(), Vec::<&str>::new());
    }

    #[test]
    fn text_that_is_no_collection_has_none() {
        for text in [
            "",
            "{",
            "[]",
            "{}",
            "{\"a\":1}",
            "{\"features\":7}",
            "{\"features\":[",
            "{\"features\":[{}",
            "{\"a\" 1}",
        ] {
            assert_eq!(found(text), None, "{text}");
        }
    }
}
