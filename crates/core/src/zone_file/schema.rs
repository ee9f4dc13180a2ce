//! The JSON Schema of the format, made from the wire types.

use serde_json::Value;

use super::wire::WireFile;

/// Returns the JSON Schema (draft 2020-12) of a zone file, for editors that check and complete while one types.
///
/// It is looser than [`super::read()`], which also checks ids, dates, datums and geometry.
///
/// # Examples
///
/// ```
/// let schema = takeline::zone_file::json_schema();
/// assert_eq!(schema["properties"]["type"]["const"], "FeatureCollection");
/// ```
#[must_use]
pub fn json_schema() -> Value {
    schemars::schema_for!(WireFile).to_value()
}
