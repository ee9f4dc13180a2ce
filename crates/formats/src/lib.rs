//! Track logs in: GPX 1.0 and 1.1, NMEA 0183 and CSV, each as it stands or packed with gzip.
//!
//! [`TrackReader`] tells the format from the content and gives one [`LogItem`] after another: fixes, waypoints, and notes
//! on what was read with a doubt or left out. Memory stays the same for a log of any length, and no input makes it panic.
//!
//! [`GpxDocument`] writes lines and places as GPX 1.1.
//!
//! Nothing is cleaned here. A spike, a repeated fix, a fix at 0, 0 and a clock that runs backwards are passed on as they
//! stand; judging them is for whoever asks where the boat was.

mod accuracy_name;
mod csv_track;
mod error;
mod gpx;
mod instant;
mod item;
mod nmea;
mod notes;
mod number;
mod source;
#[cfg(test)]
mod split_reads_tests;
mod track_reader;

pub use csv_track::{
    CutRow, FixColumn, PlaceColumns, fix_column, fix_date_and_time, fix_separator, unread_accuracy_mend,
};
pub use error::{ReadLogError, ReadLogErrorKind};
pub use gpx::{GpxDocument, GpxLine, GpxPoint, xml_letters};
pub use item::{LogItem, LogNote, LogNoteKind, Waypoint};
pub use track_reader::{LogFormat, ReadOptions, TrackReader};
