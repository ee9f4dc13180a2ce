//! GeoJSON files read strictly: what the readers of all our files share.
//!
//! A reader walks a document with a [`Log`], which keeps every fault with its place. Nothing here knows what a feature
//! means; `zone_file` and `landmark_file` do.

mod document;
mod fault;
#[cfg(test)]
pub(crate) mod hostile_json;
#[cfg(feature = "schema")]
mod json_schema;
mod log;
mod slot;
mod strict_json;
mod values;

pub use fault::{Fault, FaultKind, FeatureRef, FileWarning, Place, VertexRef, WarningKind};
pub use slot::{Slot, TextOr, Vocabulary, WireObject, Word, YesNo};
pub use strict_json::{NotJson, untrusted_json};

pub(crate) use document::{
    Coordinates, FeatureText, LonLat, collection, feature_id, hexadecimal, id_in, id_text, is_feature, json,
    needed_id, reference_system, refuse_duplicate, sha256,
};
pub(crate) use fault::{FAULT_LIMIT, Refusal, write_faults};
#[cfg(feature = "schema")]
pub(crate) use json_schema::remarks;
pub(crate) use log::{Log, nearest, shown, shown_text};
pub(crate) use slot::{is_remark, wire_object};
pub(crate) use strict_json::{BYTE_ORDER_MARK, MOST_BYTES, is_small_enough, parse as strict_json, too_large};
pub(crate) use values::{datum, digits, plain_date, position};
