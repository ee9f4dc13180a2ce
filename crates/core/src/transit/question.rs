//! What is asked about a range line.

use jiff::Timestamp;

use super::{Eye, TransitError};
use crate::geodesic::direct;
use crate::{
    Boundary, EdgeModel, GeodesicSegment, InvalidBoundary, Metres, PartSpec, Position, RingSpec, TrueBearing,
};

/// The part of a range line that is used, as distances from the front mark.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Stretch {
    #[cfg_attr(feature = "serde", serde(rename = "near_m"))]
    near: Metres,
    #[cfg_attr(feature = "serde", serde(rename = "far_m"))]
    far: Metres,
}

impl Stretch {
    /// Longest stretch, in metres: nobody in a small craft sees marks from farther away.
    pub const LONGEST_M: f64 = 100_000.0;

    /// Makes a stretch.
    ///
    /// # Errors
    ///
    /// [`TransitError::NoStretch`] unless 0 < near < far ≤ 100 km.
    pub fn new(near: Metres, far: Metres) -> Result<Self, TransitError> {
        let (near_m, far_m) = (near.metres(), far.metres());
        if near_m > 0.0 && near_m < far_m && far_m <= Self::LONGEST_M {
            return Ok(Self { near, far });
        }
        Err(TransitError::NoStretch { near_m, far_m })
    }

    /// Returns the distance from the front mark to its near end.
    #[must_use]
    pub fn near(self) -> Metres {
        self.near
    }

    /// Returns the distance from the front mark to its far end.
    #[must_use]
    pub fn far(self) -> Metres {
        self.far
    }

    /// Returns the distance from the front mark to its middle.
    #[must_use]
    pub fn middle(self) -> Metres {
        Metres::computed(self.near.metres().midpoint(self.far.metres()))
    }

    /// Returns how long it is.
    #[must_use]
    pub fn length(self) -> Metres {
        Metres::computed(self.far.metres() - self.near.metres())
    }
}

/// The water that somebody who uses the marks may be in.
#[derive(Debug, Clone)]
pub enum WorkingArea {
    /// On both sides of the stretch, so far.
    Strip {
        /// How far.
        half_width: Metres,
    },
    /// Inside this boundary.
    Within(Boundary),
}

impl WorkingArea {
    /// How far on both sides of the stretch the area reaches where nobody says, in metres (common practice, no source).
    pub const ASSUMED_HALF_WIDTH_M: f64 = 500.0;

    /// The area inside these corners, joined by geodesics.
    ///
    /// # Errors
    ///
    /// [`InvalidBoundary`] if they make no ring.
    pub fn polygon(corners: Vec<Position>) -> Result<Self, InvalidBoundary> {
        let edges = vec![EdgeModel::Geodesic; corners.len()];
        let exterior = RingSpec { vertices: corners, edges, sides: Vec::new() };
        Boundary::build(&[PartSpec::Polygon { exterior, holes: Vec::new() }]).map(Self::Within)
    }

    /// The area that somebody covers who leaves a launch on a heading: so long, and so far on both sides.
    ///
    /// # Errors
    ///
    /// [`InvalidBoundary`] if length or width are no area.
    pub fn along_course(
        launch: Position,
        heading: TrueBearing,
        length: Metres,
        half_width: Metres,
    ) -> Result<Self, InvalidBoundary> {
        let end = direct(launch, heading.degrees(), length.metres());
        let heading_there = GeodesicSegment::between(launch, end).final_bearing().degrees();
        let beside =
            |place, heading: f64, turn_deg: f64| direct(place, heading + turn_deg, half_width.metres());
        Self::polygon(vec![
            beside(launch, heading.degrees(), -90.0),
            beside(end, heading_there, -90.0),
            beside(end, heading_there, 90.0),
            beside(launch, heading.degrees(), 90.0),
        ])
    }
}

impl Default for WorkingArea {
    fn default() -> Self {
        Self::Strip { half_width: Metres::computed(Self::ASSUMED_HALF_WIDTH_M) }
    }
}

/// How the boat is carried.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Drift {
    /// Speed over the ground, in knots; above zero.
    pub speed_kn: f64,
    /// Where to; none: straight across the line, which is the least time.
    #[cfg_attr(feature = "serde", serde(rename = "towards_true_deg"))]
    pub towards: Option<TrueBearing>,
}

impl Default for Drift {
    /// Half a knot straight across the line (common practice, no source).
    fn default() -> Self {
        Self { speed_kn: 0.5, towards: None }
    }
}

/// What is asked about a range line.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct TransitQuestion {
    /// The part of the line that will be used.
    pub stretch: Stretch,
    /// Whether land at the ends of the stretch is left out, where a coast of the set is sure of it: for a stretch that nobody gave,
    /// as one that a working area has of the line. The land is told either way.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub leave_out_land: bool,
    /// The observer's eye.
    pub eye: Eye,
    /// The water that the answer is about.
    #[cfg_attr(feature = "serde", serde(skip))]
    pub area: WorkingArea,
    /// How the boat is carried.
    pub drift: Drift,
    /// Where the boat is launched.
    pub launch: Option<Position>,
    /// The way it goes from there.
    #[cfg_attr(feature = "serde", serde(rename = "heading_true_deg"))]
    pub heading: Option<TrueBearing>,
    /// When the marks will be used; none: no sun, no seasons, no variation.
    pub time: Option<Timestamp>,
    /// Whether that is the hour of use, so that the sun is asked about; a clock that is read the evening before says only
    /// which day's variation and season count.
    pub hour_is_known: bool,
}

impl TransitQuestion {
    /// Asks about a stretch, with everything else as usual.
    #[must_use]
    pub fn about(stretch: Stretch) -> Self {
        Self {
            stretch,
            leave_out_land: false,
            eye: Eye::default(),
            area: WorkingArea::default(),
            drift: Drift::default(),
            launch: None,
            heading: None,
            time: None,
            hour_is_known: true,
        }
    }
}
