//! Sets of zones for tests, read from features as files hold them.

use super::ZoneSet;
use crate::zone_file;

/// The zones of a file of these features; none of none.
pub(crate) fn set_of(features: impl Iterator<Item = String>) -> ZoneSet {
    let features: Vec<String> = features.collect();
    if features.is_empty() {
        return ZoneSet::new(Vec::new());
    }
    let file = format!(
        r#"{{"type":"FeatureCollection","takeline":{{"format":"takeline.zones/1","datum":"WGS 84","time_zone":"UTC"}},"features":[{}]}}"#,
        features.join(",")
    );
    ZoneSet::new(zone_file::read("drawn.json", file.as_bytes()).unwrap().zones)
}
