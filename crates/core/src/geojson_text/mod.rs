//! GeoJSON files read strictly: what the readers of all our files share.
//!
//! A reader walks a document with a [`Log`], which keeps every fault with its place. Nothing here knows what a feature
//! means; `zone_file` and `landmark_file` do.

mod date_text;
mod datum_name;
mod document;
mod fault;
mod feature_text;
#[cfg(test)]
pub(crate) mod hostile_json;
#[cfg(feature = "schema")]
mod json_schema;
mod limits;
mod log;
mod position_reader;
mod slot;
mod strict_json;
mod wire_object;

pub use fault::{Fault, FaultKind, FeatureRef, FileWarning, Place, VertexRef, WarningKind};
pub use slot::{Slot, TextOr, Vocabulary, Word, YesNo};
pub use wire_object::WireObject;

pub(crate) use date_text::{digits, plain_date};
pub(crate) use datum_name::datum;
pub(crate) use document::{
    collection, feature_id, hexadecimal, id_text, is_feature, json, needed_id, reference_system,
    refuse_duplicate, sha256,
};
pub(crate) use fault::{FAULT_LIMIT, Refusal, write_faults};
pub(crate) use feature_text::{Coordinates, FeatureText, LonLat, id_in};
#[cfg(feature = "schema")]
pub(crate) use json_schema::remarks;
pub(crate) use limits::{MOST_BYTES, is_small_enough, too_large};
pub(crate) use log::{Log, nearest, shown, shown_text};
pub(crate) use position_reader::position;
pub(crate) use strict_json::{BYTE_ORDER_MARK, parse as strict_json};
pub(crate) use wire_object::{is_remark, wire_object};
