//! A fix: where a receiver says the boat is, how well, and when.

use jiff::Timestamp;

use crate::{InvalidLength, Metres, ParsedPosition, Position, PrintedPrecision, TrueBearing};

/// What a receiver's accuracy figure means. Platforms differ.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum AccuracyKind {
    /// Radius that holds 68 % of fixes; also the cautious reading of a figure without a kind.
    #[default]
    P68,
    /// Two-dimensional root mean square.
    Rms,
    /// Radius that holds 95 % of fixes.
    P95,
}

impl AccuracyKind {
    /// What to multiply a figure of this kind by to get a 95 % radius.
    ///
    /// For a circular normal error of standard deviation σ on each axis the radius that holds a share p is
    /// σ √(−2 ln(1 − p)) (the Rayleigh distribution), and the root mean square is σ √2.
    ///
    /// # Accuracy
    ///
    /// Exact for a circular normal error; real errors of small receivers are neither circular nor independent.
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::AccuracyKind;
    /// // 5 m as 68 %, RMS and 95 % radius: 8.1, 8.7 and 5.0 m at 95 %
    /// assert!((5.0 * AccuracyKind::P68.to_95_percent() - 8.11).abs() < 0.01);
    /// assert!((5.0 * AccuracyKind::Rms.to_95_percent() - 8.65).abs() < 0.01);
    /// assert_eq!(AccuracyKind::P95.to_95_percent(), 1.0);
    /// ```
    #[must_use]
    pub fn to_95_percent(self) -> f64 {
        match self {
            Self::P68 => RAYLEIGH_95 / (-2.0 * 0.32_f64.ln()).sqrt(),
            Self::Rms => RAYLEIGH_95 / std::f64::consts::SQRT_2,
            Self::P95 => 1.0,
        }
    }
}

/// Radius of the circle that holds 95 % of a circular normal error, in standard deviations: √(−2 ln 0.05).
pub(crate) const RAYLEIGH_95: f64 = 2.447_746_830_680_816;

/// Half of the width that holds 95 % of a normal error, in standard deviations.
pub(crate) const NORMAL_95: f64 = 1.959_963_984_540_054;

/// Where an uncertainty comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(feature = "serde", serde(rename_all = "kebab-case"))]
pub enum UncertaintySource {
    /// The caller gave it; it is taken as given.
    Given,
    /// Nobody gave one; the default was used and has to be called assumed.
    Assumed,
}

/// An ellipse about a position.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct ErrorEllipse {
    /// Half of the long axis.
    #[cfg_attr(feature = "serde", serde(rename = "semi_major_m"))]
    pub semi_major: Metres,
    /// Half of the short axis.
    #[cfg_attr(feature = "serde", serde(rename = "semi_minor_m"))]
    pub semi_minor: Metres,
    /// Direction of the long axis, 0 ≤ b < 180.
    #[cfg_attr(feature = "serde", serde(rename = "major_bearing_true_deg"))]
    pub major_bearing: TrueBearing,
}

/// The radius around a fix that holds the true position 95 times in 100.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct HorizontalUncertainty {
    #[cfg_attr(feature = "serde", serde(rename = "radius_95_m"))]
    radius_95: Metres,
    source: UncertaintySource,
    zero_was_given: bool,
}

impl HorizontalUncertainty {
    /// The 95 % radius used where no accuracy was given, in metres (common practice, no source).
    pub const ASSUMED_95_M: f64 = 10.0;

    /// The largest 95 % radius that is taken, in metres: a position known no better than to a sixth of the way from the
    /// equator to a pole is none, and a greater figure is a slip or a code for "unknown".
    pub const LARGEST_95_M: f64 = 1_000_000.0;

    /// Turns a receiver's figure into a 95 % radius.
    ///
    /// # Edge cases
    ///
    /// 0 is what receivers write when they do not know: it counts as not given, so the answer is [`Self::assumed`], and
    /// [`Self::zero_was_given`] tells. An exact place that is no fix, such as a corner of a zone, is [`Self::exact`].
    ///
    /// # Errors
    ///
    /// [`InvalidLength`] if the figure is not finite, is negative (some platforms say "invalid" that way) or gives more
    /// than [`Self::LARGEST_95_M`].
    pub fn given(accuracy_m: f64, kind: AccuracyKind) -> Result<Self, InvalidLength> {
        let accuracy_m = Metres::non_negative(accuracy_m)?.metres();
        if accuracy_m <= 0.0 {
            return Ok(Self { zero_was_given: true, ..Self::assumed() });
        }
        let radius_m = accuracy_m * kind.to_95_percent();
        if radius_m > Self::LARGEST_95_M {
            let reason = "cannot be the accuracy of a fix: at most 1000 km (95 %) is accepted; leave it out if it is not known";
            return Err(InvalidLength { value: accuracy_m, reason });
        }
        let radius_95 = Metres::non_negative(radius_m)?;
        Ok(Self { radius_95, source: UncertaintySource::Given, zero_was_given: false })
    }

    /// A place that is known exactly, because nobody measured it: a corner of a zone, a point on a chart.
    #[must_use]
    pub fn exact() -> Self {
        Self { radius_95: Metres::ZERO, source: UncertaintySource::Given, zero_was_given: false }
    }

    /// Returns whether an accuracy of 0 was given, which counts as none.
    #[must_use]
    pub fn zero_was_given(self) -> bool {
        self.zero_was_given
    }

    /// The same where an accuracy of 0 was written, which counts as none.
    #[must_use]
    pub fn with_zero_given(self) -> Self {
        Self { zero_was_given: true, ..self }
    }

    /// The same about a position that was rounded, which may be off by so much on either axis: in quadrature.
    #[must_use]
    pub fn with_rounding(self, north_south: Metres, east_west: Metres) -> Self {
        let rounding_m = north_south.metres().hypot(east_west.metres());
        Self { radius_95: Metres::computed(self.radius_95.metres().hypot(rounding_m)), ..self }
    }

    /// The same about a position that was written with so many digits, where these say less than the uncertainty; none where they
    /// say enough.
    ///
    /// Nobody knows how such a position was rounded: the true one may be anywhere within half a step on either axis. Both
    /// coordinates count as written to the finer of the two, because programs and people leave out zeros at the end.
    #[must_use]
    pub fn with_coarser_digits(self, printed: PrintedPrecision) -> Option<Self> {
        let printed = printed.as_the_finer();
        let (north_south, east_west) = (printed.north_south(), printed.east_west());
        let is_coarser = north_south.metres().max(east_west.metres()) > self.radius_95.metres();
        is_coarser.then(|| self.with_rounding(north_south, east_west))
    }

    /// The default of [`Self::ASSUMED_95_M`], called assumed.
    #[must_use]
    pub fn assumed() -> Self {
        Self {
            radius_95: Metres::computed(Self::ASSUMED_95_M),
            source: UncertaintySource::Assumed,
            zero_was_given: false,
        }
    }

    /// Returns the 95 % radius.
    #[must_use]
    pub fn radius_95(self) -> Metres {
        self.radius_95
    }

    /// Returns whether the figure was given or assumed.
    #[must_use]
    pub fn source(self) -> UncertaintySource {
        self.source
    }
}

/// Where the boat is, how well that is known, and when (if that is known).
///
/// # Examples
///
/// ```
/// use takeline::{AccuracyKind, Fix, HorizontalUncertainty, Position};
///
/// let position = Position::from_degrees(45.1170, -30.1190)?;
/// let uncertainty = HorizontalUncertainty::given(5.0, AccuracyKind::P68)?; // as receivers state it, in metres
/// let fix = Fix::new(position, uncertainty).at("2026-07-01T05:30:00Z".parse()?);
/// assert!(fix.time.is_some());
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, Copy, PartialEq)]
#[non_exhaustive]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct Fix {
    /// The position the receiver gives.
    pub position: Position,
    /// How well it is known.
    pub uncertainty: HorizontalUncertainty,
    /// The instant, or none where the input had none: rules with a season are then undecided.
    pub time: Option<Timestamp>,
}

impl Fix {
    /// A fix at a place that somebody typed or printed: what its digits leave open counts as uncertainty where the accuracy is
    /// assumed, or was given as 0.
    ///
    /// # Edge cases
    ///
    /// Both coordinates count as written to the finer of the two, because zeros at the end are left out. An accuracy that was
    /// given is taken as given. Warnings of the text are not in the fix: show them ([`ParsedPosition::warnings`]).
    ///
    /// # Examples
    ///
    /// ```
    /// use takeline::{Fix, HorizontalUncertainty, Position};
    /// // a tenth of a degree: the boat may be kilometres away
    /// let typed = Position::parse("45.1 -30.1")?;
    /// let fix = Fix::typed(&typed, HorizontalUncertainty::assumed());
    /// assert!(fix.uncertainty.radius_95().metres() > 6_000.0);
    /// # Ok::<(), takeline::ParsePositionError>(())
    /// ```
    #[must_use]
    pub fn typed(place: &ParsedPosition, uncertainty: HorizontalUncertainty) -> Self {
        let counted = match uncertainty.source() {
            UncertaintySource::Assumed => uncertainty.with_coarser_digits(place.precision),
            UncertaintySource::Given => None,
        };
        Self::new(place.position, counted.unwrap_or(uncertainty))
    }

    /// A fix without a time: what a season, an hour or an edition decides is then undecided.
    #[must_use]
    pub fn new(position: Position, uncertainty: HorizontalUncertainty) -> Self {
        Self { position, uncertainty, time: None }
    }

    /// The same at an instant.
    #[must_use]
    pub fn at(self, time: Timestamp) -> Self {
        self.at_time(Some(time))
    }

    /// The same at an instant that may not be known.
    #[must_use]
    pub fn at_time(self, time: Option<Timestamp>) -> Self {
        Self { time, ..self }
    }
}
