//! A zone file with its index: reads the zones that are asked for, and no others.

use std::sync::Arc;

use super::index::{Index, IndexedFeature, Unfit, overridden};
use crate::Metres;
use crate::zone::{Zone, ZoneFile};
use crate::zone_file::{self, LoadZonesError, LoadedFile};

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
