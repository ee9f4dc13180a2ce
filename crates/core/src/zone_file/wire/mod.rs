//! The zone file as it is written: one Rust type for each object of the format.
//!
//! The reader reads these types, the JSON Schema is made from them, and whatever writes zone files fills them in.
//! Every member is a [`Slot`]: it may be missing, read, or wrong. Member names in the file are the field names.

mod file;
mod geometry;
mod take;

pub use crate::geojson_text::{Slot, TextOr, Vocabulary, WireObject, Word, YesNo};
pub use file::{
    WireEffective, WireFeature, WireFile, WireGroup, WireHeader, WireName, WireOverride, WireProofread,
    WireProperties, WireSource, WireTaxon,
};
pub use geometry::{
    Along, WireAimingPoint, WireArc, WireArcRuns, WireArea, WireBox, WireEdge, WireEdges, WireExtent,
    WireGeometry, WirePosition, WirePublished, WireRuns, WireSide, WireUnknownGeometry,
};
pub use take::{
    TakeWord, WireBag, WireBait, WireCrossing, WireGear, WireGearKind, WireLimit, WireMeasure, WireSize,
    WireTake, WireTakeObject, WireWords,
};
pub use take::{
    WireAnnualWindow, WireDateRange, WireHours, WireNth, WireNthWeekday, WireSun, WireSunPlace, WireWhen,
};
