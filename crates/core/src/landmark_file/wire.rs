//! The landmark file as it is written.

use crate::geojson_text::{Slot, wire_object};

wire_object! {
    /// What holds for the whole file.
    pub(super) WireHeader {
        /// Always "takeline.landmarks/1".
        format: String,
        /// A title for people.
        title: String,
        /// Which edition this is.
        edition: String,
        /// The datum of all coordinates, like "WGS 84".
        datum: String,
        /// The licence of the file.
        licence: String,
        /// Who publishes it.
        publisher: String,
    }
}

wire_object! {
    /// What a landmark says.
    pub(super) WireLandmark {
        /// What people call it.
        name: String,
        /// What it is: beacon, spire, tree.
        kind: String,
        /// Height of the part that is seen above mean sea level, in metres.
        height_m: f64,
        /// How far off its place may be, 95 %, in metres.
        position_error_m: f64,
        /// Whether it stays where it is.
        fixed: bool,
        /// The day somebody last saw it stand there, like "2026-05-01".
        last_confirmed: String,
        /// What else there is to say.
        comment: String,
    }
}
