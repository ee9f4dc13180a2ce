//! Which side of a marine-protected-area line a small craft is on, and what may be kept there.
//!
//! Values in, values out: no printing, no clock, no network, no files. Every question is answered yes, no or
//! undecided ([`Tristate`], [`Containment`]), every number carries its 95 % uncertainty, and every answer names its source.
//!
//! **Not an instrument of navigation.** Rules change; the text of the law and the local officers decide. Weather and
//! cold water kill.

mod angle;
mod assess;
mod best_first;
pub mod binding;
mod boundary;
mod fix;
mod geodesic;
mod geojson_text;
pub mod landmark;
pub mod landmark_file;
mod length;
pub mod magnetic;
mod position;
pub mod prepared;
pub mod rule;
pub mod sanitised;
#[cfg(any(test, feature = "test-util"))]
pub mod test_util;
pub mod track;
pub mod transit;
mod tristate;
pub mod zone;
pub mod zone_file;

pub use angle::{Arcminutes, InvalidCoordinate, Latitude, Longitude, MagneticBearing, TrueBearing};
pub use assess::{
    Assessment, ClearingMove, Containment, NearestPoint, Question, ReadingGap, TakeAnswer, TakeFinding,
    WaterStatus, ZoneFinding,
};
pub use boundary::{
    Arc, ArcSense, Boundary, BoundaryCursor, BoundaryFault, EdgeModel, EdgeReading, HowFar, InvalidBoundary,
    Located, PartSpec, PositionText, RingSpec, UncrossedOrder,
};
pub use fix::{AccuracyKind, ErrorEllipse, Fix, HorizontalUncertainty, UncertaintySource};
pub use geodesic::{GeodesicSegment, RhumbLine};
pub use length::{InvalidLength, Metres, NauticalMiles};
pub use position::{
    Axis, ParsePositionError, ParsePositionErrorKind, ParsedLatitude, ParsedLongitude, ParsedPosition,
    Position, PositionWarning, PrintedPrecision, widest_step_deg,
};
pub use tristate::Tristate;
pub use zone::ZoneSet;
