//! A landmark: something on shore that an angler can see, and how well its place and height are known.

use std::fmt;

use jiff::civil::Date;

use crate::{Metres, Position, PrintedPrecision, UncertaintySource};

/// Identifier of a landmark, unique within its file.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct LandmarkId(pub String);

impl fmt::Display for LandmarkId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// Something on shore that is seen from the water and whose place is known.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Landmark {
    /// Identifier.
    pub id: LandmarkId,
    /// What people call it.
    pub name: String,
    /// What it is: beacon, spire, tree.
    pub kind: Option<String>,
    /// Where it stands.
    pub position: Position,
    /// How far off that may be: half of the width of the interval that holds 95 % in any one direction.
    ///
    /// A 95 % radius may be given as it stands, which is the cautious reading.
    #[cfg_attr(feature = "serde", serde(rename = "position_error_95_m"))]
    pub position_error_95: Metres,
    /// Whether that was given or assumed.
    pub position_error_source: UncertaintySource,
    /// Height of the part that is seen above mean sea level.
    #[cfg_attr(feature = "serde", serde(rename = "height_m"))]
    pub height: Option<Metres>,
    /// Whether it stays where it is: a chapel does, a withy or a crane does not.
    pub fixed: Option<bool>,
    /// The day somebody last saw it stand there.
    pub last_confirmed: Option<Date>,
    /// What else its file says about it.
    pub comment: Option<String>,
}

impl Landmark {
    /// What a place is taken to be off by where nobody says, 95 %, in metres: a landmark read off a web map or a chart
    /// (common practice, no source).
    pub const ASSUMED_POSITION_ERROR_95_M: f64 = 10.0;

    /// Makes a landmark of which only name and place are known.
    ///
    /// Its position error is [`Self::ASSUMED_POSITION_ERROR_95_M`], called assumed.
    #[must_use]
    pub fn at(name: &str, position: Position) -> Self {
        Self {
            id: LandmarkId(name.to_owned()),
            name: name.to_owned(),
            kind: None,
            position,
            position_error_95: Metres::computed(Self::ASSUMED_POSITION_ERROR_95_M),
            position_error_source: UncertaintySource::Assumed,
            height: None,
            fixed: None,
            last_confirmed: None,
            comment: None,
        }
    }

    /// The same at a place that was printed with so many digits: where these leave open more than the assumed error, that is
    /// part of its own.
    #[must_use]
    pub fn at_printed(name: &str, position: Position, precision: PrintedPrecision) -> Self {
        let precision = precision.as_the_finer();
        let (north_south_m, east_west_m) = (precision.north_south().metres(), precision.east_west().metres());
        let mut landmark = Self::at(name, position);
        if north_south_m.max(east_west_m) > Self::ASSUMED_POSITION_ERROR_95_M {
            let error_m = Self::ASSUMED_POSITION_ERROR_95_M.hypot(north_south_m.hypot(east_west_m));
            landmark.position_error_95 = Metres::computed(error_m);
        }
        landmark
    }
}
