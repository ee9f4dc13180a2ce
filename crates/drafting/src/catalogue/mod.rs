//! What is known of a folder of zone files: the manifest that it keeps, and how the files differ from it.

mod manifest;

pub use manifest::{Difference, FILE_NAME, Manifest, ManifestEntry, ManifestError, SCHEMA};
