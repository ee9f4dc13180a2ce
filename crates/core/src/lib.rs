//! Which side of a marine-protected-area line a small craft is on, and what may be kept there.
//!
//! From the bytes of a zone file and a fix of a receiver to a verdict:
//!
//! ```
//! use takeline::{AccuracyKind, Fix, HorizontalUncertainty, Position, Question, WaterStatus, ZoneSet};
//!
//! # let bytes = std::fs::read("../../demo-data/zones/marrowick.json")?;
//! let zones = ZoneSet::from_geojson("marrowick.json", &bytes)?;
//! let accuracy = HorizontalUncertainty::given(5.0, AccuracyKind::P68)?;
//! let fix = Fix::new(Position::from_degrees(45.1170, -30.1190)?, accuracy).at("2026-07-01T05:30:00Z".parse()?);
//! let answer = zones.assess(&fix, &Question::default().fish("sprat"));
//! let verdict = answer.verdict();
//!
//! assert_eq!(verdict.water, WaterStatus::Closed);
//! assert_eq!(verdict.binding[0].id.to_string(), "sallow-cove");
//! assert!(verdict.is_settled());
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```
//!
//! Values in, values out: no printing, no clock, no network, no files, no `unsafe`. Every question is answered yes, no or
//! undecided ([`Tristate`], [`Containment`]), every distance to a line comes with its 95 % uncertainty, and every answer names its source.
//!
//! # Where is what?
//!
//! | you want | you ask | you get |
//! |---|---|---|
//! | zones from a file | [`ZoneSet::from_geojson`], or [`zone_file::read`] for several files | [`ZoneSet`], with [warnings](ZoneSet::warnings); or [every fault](zone_file::LoadZonesError), each with a way to mend it |
//! | a fix from a text that somebody typed | [`Position::parse`], then [`Fix::typed`] | a [`Fix`] that counts the digits that are missing |
//! | where am I, what may I keep here | [`ZoneSet::assess`] with a [`Fix`] and a [`Question`] | [`Assessment`]; in brief, its [`Verdict`] |
//! | a boat followed live | [`ZoneSet::assess`] for now; [`track::Auditor::push`], fix by fix, for the trip: some fixes later, when it is sure which of them to believe | [`track::TrackEvent`]s |
//! | a trip looked at afterwards | [`track::Auditor::finish`] | [`track::Audit`]: visits, crossings, gaps, how sure each is |
//! | the fish of that trip | [`track::CatchJoin`] | [`track::CatchFinding`]s |
//! | do two marks in line show the boundary | `transit::RangeLine::check` | `transit::TransitReport` |
//! | which two marks would | `transit::find_pairs` with [`landmark`]s | `transit::SidePairs` |
//! | where land is by a survey | [`coast::read`] or [`Coast::from_lines`], then [`Coast::is_on_land`] | [`Coast`]: land, nearest point, the stretch between two places |
//! | what the law says, apart from any place | [`zone::Zone::rule`], [`mod@rule`] | [`rule::TakeRule`], [`rule::Catalogue`] |
//! | the shape of a zone | [`zone::Extent`], [`Boundary`] | distances, sides, nearest points |
//!
//! [`ZoneSet`] and [`track::Auditor`] own what they need and are `Send`, `Sync` and `'static`: an app keeps them as state. A
//! clone of a [`ZoneSet`] shares its zones.
//!
//! # Units and accuracy
//!
//! Lengths are [`Metres`] along the ellipsoid WGS 84, signed distances are negative inside; angles are degrees, [bearings](TrueBearing)
//! clockwise from true north; instants are [`jiff::Timestamp`]s. Latitude comes before longitude, everywhere but in GeoJSON. The
//! geometry itself is good to 1 mm within 100 km; what a distance is worth is its `uncertainty_95`, which counts the fix, the
//! line, the datum and how edges may be read.
//!
//! A receiver's accuracy means different things on different platforms: say which with [`AccuracyKind`], and leave it out
//! ([`HorizontalUncertainty::assumed`]) where none was given. Where a platform does not say what its figure means, take
//! [`AccuracyKind::P68`], which is the cautious reading. A [verdict](Verdict) carries the warnings of its answer: show them.
//!
//! # Features
//!
//! | feature | default | adds |
//! |---|---|---|
//! | `tzdb` | yes | the time zones of the world, inside the program. Without it a zone file may name UTC only, and any other name is refused |
//! | `transit` | yes | the `transit` module: marks in line |
//! | `serde` | | `Serialize` for the results of `assess`, tracks, catches and transits and the types that they are made of: `kebab-case` words, units in the names of keys |
//! | `geo` | | conversions to and from `geo-types`: `Position` and `Point`, the outline of a zone as a `MultiPolygon` within a tolerance, a boundary from a `Polygon` or `MultiPolygon` |
//! | `schema` | | `zone_file::json_schema`, for editors |
//!
//! # What it cannot know
//!
//! **Not an instrument of navigation.** It knows the zones that you load and no others: [`WaterStatus::Unzoned`] means that none
//! of them applies, never that fishing is lawful. Rules change, by notice also overnight; the text of the law and the local
//! officers decide. It knows neither depth nor rocks, neither wind nor tide: weather and cold water kill. Treat undecided as
//! no: do not fish, do not keep the fish, and show what would settle it.

mod angle;
pub mod assess;
mod best_first;
pub mod binding;
mod boundary;
pub mod coast;
mod coded;
mod date_doubt;
mod fix;
#[cfg(feature = "geo")]
mod geo_interop;
mod geodesic;
mod geojson_text;
mod golden_section;
pub mod landmark;
pub mod landmark_file;
mod length;
pub mod magnetic;
mod once;
mod position;
pub mod prepared;
pub mod rule;
pub mod sanitised;
#[cfg(any(test, feature = "test-util"))]
pub mod test_util;
pub mod track;
#[cfg(feature = "transit")]
pub mod transit;
mod tristate;
pub mod zone;
pub mod zone_file;

pub use angle::{Arcminutes, InvalidCoordinate, Latitude, Longitude, MagneticBearing, TrueBearing};
pub use assess::{
    Assessment, ClearingMove, Containment, CrossablePoint, NearestPoint, NearestSide, Question, ReadingGap,
    TakeAnswer, TakeFinding, Undecided, Verdict, WaterStatus, ZoneFinding,
};
pub use boundary::{
    Arc, ArcSense, Boundary, BoundaryCursor, BoundaryFault, EdgeLine, EdgeModel, EdgeReading, HowFar,
    InvalidBoundary, Located, OutlineRun, PartSpec, PositionText, RingChange, RingRepair, RingSpec, Side,
    SideKind, Stray, corners_off, is_one_digit_off,
};
pub use coast::Coast;
pub use date_doubt::DateDoubt;
pub use fix::{AccuracyKind, ErrorEllipse, Fix, HorizontalUncertainty, UncertaintySource};
#[cfg(feature = "geo")]
pub use geo_interop::{InvalidPolygon, NoOutline};
#[cfg(feature = "geo")]
pub use geo_types;
pub use geodesic::{GeodesicSegment, RhumbLine};
/// Dates, times and time zones, in the version that this library speaks.
pub use jiff;
pub use length::{InvalidLength, Metres, NauticalMiles};
pub use position::{
    Axis, ParsePositionError, ParsePositionErrorKind, ParsedLatitude, ParsedLongitude, ParsedPosition,
    Position, PositionWarning, PrintedPrecision, widest_step_deg,
};
pub use tristate::Tristate;
pub use zone::ZoneSet;
