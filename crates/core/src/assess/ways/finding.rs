//! The values that ways are told in.

use strum::{IntoStaticStr, VariantNames};

use crate::coded::coded;
use crate::rule::Condition;
use crate::zone::ZoneId;
use crate::{Metres, Position, Tristate, TrueBearing};

/// The nearest place, by a straight way, where no loaded zone that binds now closes or limits the water, all doubt counted.
///
/// All zones together: beside an adjoining reserve the nearest line leads from one into the other, and this does not. Asked again
/// at [`Self::to`] with the same uncertainty, the water is neither closed nor limited, nor undecided.
///
/// # Units
///
/// Metres along the geodesic; degrees from true north at the start.
///
/// # Accuracy
///
/// The shortest such way to 0.5 m, or 0.01 % if that is more; the place is clear by 5 cm more than the doubt. Clear water that is
/// narrower than 25 cm, twice the doubt taken off, is overlooked (`tests/ways_out.rs`).
///
/// # Edge cases
///
/// Where another rule surely displaces one that closes the water, the water there is clear if the other restricts nothing.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct WayOut {
    /// How far.
    #[cfg_attr(feature = "serde", serde(rename = "distance_m"))]
    pub distance: Metres,
    /// 95 % uncertainty of where the way starts: that of the fix.
    #[cfg_attr(feature = "serde", serde(rename = "uncertainty_95_m"))]
    pub uncertainty_95: Metres,
    /// In which direction.
    #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
    pub bearing: TrueBearing,
    /// Where that is.
    pub to: Position,
    /// The zones that one gets clear of: those that bind or may bind at the fix.
    pub leaves: Vec<ZoneId>,
    /// Whether the way keeps off land.
    pub over_land: OverLand,
    /// Whether the place is enclosed by closed or limited water, as a hole in a reserve is: clear, but no way leads on from it.
    pub pocket: bool,
    /// A way in another direction that is as short to 1 m, if there is one.
    pub tie: Option<OtherWay>,
    /// If the search ended before it was sure that this is the nearest such place: none is nearer than this.
    #[cfg_attr(feature = "serde", serde(rename = "none_nearer_than_m"))]
    pub none_nearer_than: Option<Metres>,
    /// How long it takes, in seconds, at the speed asked about; none if none was.
    pub seconds: Option<f64>,
}

/// Another way that is as short.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct OtherWay {
    /// How far.
    #[cfg_attr(feature = "serde", serde(rename = "distance_m"))]
    pub distance: Metres,
    /// In which direction.
    #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
    pub bearing: TrueBearing,
    /// Where that is.
    pub to: Position,
}

/// What lies along the bow, on a geodesic that begins on a heading; nothing is looked for beyond land or 100 km.
///
/// # Units
///
/// Metres along the way.
///
/// # Accuracy
///
/// Lines to 1 cm; of a zone that is less than 1 cm across on the way nothing is told. The clear place as in [`WayOut`].
///
/// # Edge cases
///
/// A heading is not a course made good: wind and stream set a boat off it.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct OnHeading {
    /// The heading.
    #[cfg_attr(feature = "serde", serde(rename = "heading_true_deg"))]
    pub heading: TrueBearing,
    /// To the first line, as drawn, of a zone that restricts something and binds or may bind; none if no line is met.
    #[cfg_attr(feature = "serde", serde(rename = "boundary_m"))]
    pub boundary: Option<Metres>,
    /// The zone of that line.
    pub boundary_of: Option<ZoneId>,
    /// To the first place that is clear of all such zones, doubt counted: zero if the fix is; none if no place is, or none was
    /// found before the search ended ([`Self::none_nearer_than`]).
    #[cfg_attr(feature = "serde", serde(rename = "clear_m"))]
    pub clear: Option<Metres>,
    /// If the search for a clear place ended before the land or 100 km: none is nearer than this, and beyond it nothing is known.
    #[cfg_attr(feature = "serde", serde(rename = "none_nearer_than_m"))]
    pub none_nearer_than: Option<Metres>,
    /// To the first coast or shore; none if none is met.
    #[cfg_attr(feature = "serde", serde(rename = "land_m"))]
    pub land: Option<Metres>,
    /// Whether it meets land within [`Self::looked_to`].
    pub over_land: OverLand,
    /// Zones that are entered before the clear place, or as far as was looked if there is none; each once, in order.
    pub crosses: Vec<ZoneId>,
    /// How far all lines on the way are told.
    #[cfg_attr(feature = "serde", serde(rename = "looked_to_m"))]
    pub looked_to: Metres,
}

/// The straight way home, and what it crosses.
///
/// # Units
///
/// Metres along the geodesic.
///
/// # Accuracy
///
/// As [`OnHeading`].
///
/// # Edge cases
///
/// Zones whose rule restricts nothing, does not bind the access or is not in force are left out; a zone that another displaces on
/// the way is listed all the same, and so is one that is crossed twice, twice. Lines count as they are drawn; a zone of which nobody
/// knows the place is not listed, though the way may lead through it.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct WayHome {
    /// How far.
    #[cfg_attr(feature = "serde", serde(rename = "distance_m"))]
    pub distance: Metres,
    /// In which direction it begins.
    #[cfg_attr(feature = "serde", serde(rename = "bearing_true_deg"))]
    pub bearing: TrueBearing,
    /// The place asked about.
    pub to: Position,
    /// What it crosses, in order; what the fix is in already begins at 0 m.
    pub crosses: Vec<Crossing>,
    /// To the first coast or shore on it; none if it meets none.
    #[cfg_attr(feature = "serde", serde(rename = "land_m"))]
    pub land: Option<Metres>,
    /// Whether it meets land.
    pub over_land: OverLand,
    /// How far all lines on the way are told.
    #[cfg_attr(feature = "serde", serde(rename = "looked_to_m"))]
    pub looked_to: Metres,
    /// How long it takes, in seconds, at the speed asked about; none if none was.
    pub seconds: Option<f64>,
}

/// A zone that a way crosses.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct Crossing {
    /// The zone.
    #[cfg_attr(feature = "serde", serde(rename = "zone_id"))]
    pub zone: ZoneId,
    /// Its name.
    pub name: String,
    /// Where the way comes in.
    #[cfg_attr(feature = "serde", serde(rename = "from_m"))]
    pub from: Metres,
    /// Where it leaves.
    #[cfg_attr(feature = "serde", serde(rename = "to_m"))]
    pub to: Metres,
    /// Whether its rule binds there: now, and for this way of fishing.
    pub binds: Tristate,
    /// How one may cross.
    pub passage: Vec<Condition>,
}

/// Whether a way leads over land.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum OverLand {
    /// It meets a coast that was given, or the shore of a zone. A way out never does.
    Yes,
    /// It meets none of the coasts that were given, and comes no nearer to them than they and the fix may be off, but where it
    /// begins. Land that they do not draw is not known.
    No,
    /// No coast was given that comes near it, or it passes one so closely that it may lead over its land.
    Unknown,
}

/// Why there is no way out to tell.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(tag = "code", rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum NoWayOut {
    /// Nobody knows where a zone lies, so no place is surely clear of it.
    PlaceUnknown {
        /// The zone.
        zone: String,
    },
    /// The nearest clear place is farther than was searched, or there is none; no land is in the way.
    FartherThan {
        /// So far, in metres.
        searched_m: f64,
    },
    /// The fix is on land by the coast that was given, farther in than all doubt: no way begins there.
    OnLand,
    /// The fishing is from the shore: ways out lead over water.
    OnFoot,
    /// No straight way to clear water keeps off the land: a coast that was given, or the shores of zones.
    NoStraightWay {
        /// So far was searched, in metres.
        searched_m: f64,
    },
    /// The zones here are so intricate that the search was ended before it had found one.
    TooIntricate,
}

coded!(NoWayOut);
