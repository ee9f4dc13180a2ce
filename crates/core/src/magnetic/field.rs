//! The field of the World Magnetic Model: coefficients, the years for which they hold, and the field at a place.

use std::sync::LazyLock;

use jiff::Timestamp;

use super::OutsideMagneticModel;
use super::harmonics::{NorthEastDown, field_and_rate};
use crate::{Metres, Position};

/// Heights above the ellipsoid for which the model's makers give it out (from memory of their report).
const LOWEST_M: f64 = -1_000.0;
const HIGHEST_M: f64 = 850_000.0;

/// The magnetic field of the Earth's core at a place and time, and how it changes.
///
/// The axes are those of the ellipsoid: true north, east, and down along its normal. At a pole, where every direction is
/// south or north, true north is that of the meridian by which the position names the pole.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MagneticField {
    field_nt: NorthEastDown,
    rate_nt: NorthEastDown,
}

/// Why there is no field for a place and time.
#[derive(Debug, Clone, Copy, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum UnknownField {
    /// The time is outside the model's life.
    #[error(transparent)]
    Time(#[from] OutsideMagneticModel),
    /// The height is outside the model's reach.
    #[error("the field is not known {} m above the ellipsoid: WMM2025 reaches from -1000 m to 850000 m", .height.metres())]
    Height {
        /// The height asked for.
        height: Metres,
    },
}

/// Returns the magnetic field at a height above the ellipsoid.
///
/// # Units
///
/// Nanotesla, degrees, and both by year.
///
/// # Accuracy
///
/// The model is evaluated to better than 1e-6 nT (`tests/reference/wmm2025.rs`). The true field differs from the model by
/// 89 nT (east) to 141 nT (down), one standard error, on the mean of the Earth (from memory of the makers' report, and as
/// the Python package pygeomag 1.1.0 has it); for the direction see [`variation`](super::variation()).
///
/// # Errors
///
/// [`UnknownField`] before 2025-01-01T00:00:00Z, from 2030-01-01T00:00:00Z on, and for a height below −1 km or above
/// 850 km.
///
/// # Examples
///
/// ```
/// use takeline::{Metres, Position, magnetic};
///
/// let chapel = Position::from_degrees(45.1250, -30.1100)?;
/// let field = magnetic::field(chapel, Metres::ZERO, "2026-08-03T10:00:00Z".parse()?)?;
/// assert_eq!(format!("{:.2}° {:.0} nT", field.declination_deg(), field.total_nt()), "-9.09° 46887 nT");
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
///
/// # References
///
/// NOAA NCEI and BGS, *The US/UK World Magnetic Model for 2025–2030: Technical Report*, doi:10.25923/prbc-s316.
pub fn field(position: Position, height: Metres, time: Timestamp) -> Result<MagneticField, UnknownField> {
    if !(LOWEST_M..=HIGHEST_M).contains(&height.metres()) {
        return Err(UnknownField::Height { height });
    }
    Ok(field_within_reach(position, height, time)?)
}

/// The height has been looked at, or is that of the sea.
pub(super) fn field_within_reach(
    position: Position,
    height: Metres,
    time: Timestamp,
) -> Result<MagneticField, OutsideMagneticModel> {
    let years =
        years_of_life(time).ok_or(OutsideMagneticModel { time, model: super::MagneticVariation::MODEL })?;
    let (field_nt, rate_nt) = field_and_rate(&TERMS, position, height.metres(), years);
    Ok(MagneticField { field_nt, rate_nt })
}

impl MagneticField {
    #[cfg(test)]
    pub(super) fn of_components(field_nt: NorthEastDown, rate_nt: NorthEastDown) -> Self {
        Self { field_nt, rate_nt }
    }

    /// Returns the part towards true north (X), in nT.
    #[must_use]
    pub fn north_nt(self) -> f64 {
        self.field_nt.north
    }

    /// Returns the part towards east (Y), in nT.
    #[must_use]
    pub fn east_nt(self) -> f64 {
        self.field_nt.east
    }

    /// Returns the part straight down (Z), in nT.
    #[must_use]
    pub fn down_nt(self) -> f64 {
        self.field_nt.down
    }

    /// Returns the size of the level part (H), in nT: what turns a compass needle.
    #[must_use]
    pub fn horizontal_nt(self) -> f64 {
        self.field_nt.north.hypot(self.field_nt.east)
    }

    /// Returns the size of the whole field (F), in nT.
    #[must_use]
    pub fn total_nt(self) -> f64 {
        self.horizontal_nt().hypot(self.field_nt.down)
    }

    /// Returns the angle from true north to the level part (D), in degrees, east positive, −180 to 180.
    ///
    /// Zero at a magnetic pole itself, where there is no level part.
    #[must_use]
    pub fn declination_deg(self) -> f64 {
        self.field_nt.east.atan2(self.field_nt.north).to_degrees()
    }

    /// Returns the dip of the field below the level (I), in degrees, down positive.
    #[must_use]
    pub fn inclination_deg(self) -> f64 {
        self.field_nt.down.atan2(self.horizontal_nt()).to_degrees()
    }

    /// Returns the yearly change of the part towards true north, in nT a year.
    #[must_use]
    pub fn north_rate_nt_per_year(self) -> f64 {
        self.rate_nt.north
    }

    /// Returns the yearly change of the part towards east, in nT a year.
    #[must_use]
    pub fn east_rate_nt_per_year(self) -> f64 {
        self.rate_nt.east
    }

    /// Returns the yearly change of the part straight down, in nT a year.
    #[must_use]
    pub fn down_rate_nt_per_year(self) -> f64 {
        self.rate_nt.down
    }

    /// Returns the yearly change of the level part's size, in nT a year; none at a magnetic pole itself.
    #[must_use]
    pub fn horizontal_rate_nt_per_year(self) -> Option<f64> {
        let (field, rate) = (self.field_nt, self.rate_nt);
        finite((field.north * rate.north + field.east * rate.east) / self.horizontal_nt())
    }

    /// Returns the yearly change of the whole field's size, in nT a year; none where there is no field.
    #[must_use]
    pub fn total_rate_nt_per_year(self) -> Option<f64> {
        let (field, rate) = (self.field_nt, self.rate_nt);
        let along = field.north * rate.north + field.east * rate.east + field.down * rate.down;
        finite(along / self.total_nt())
    }

    /// Returns the yearly change of the declination, in degrees a year; none at a magnetic pole itself.
    #[must_use]
    pub fn declination_rate_deg_per_year(self) -> Option<f64> {
        let (field, rate) = (self.field_nt, self.rate_nt);
        let across = (field.north * rate.east - field.east * rate.north) / self.horizontal_nt();
        finite((across / self.horizontal_nt()).to_degrees())
    }

    /// Returns the yearly change of the inclination, in degrees a year; none at a magnetic pole itself.
    #[must_use]
    pub fn inclination_rate_deg_per_year(self) -> Option<f64> {
        let total_nt = self.total_nt();
        let across = self.horizontal_nt() * self.rate_nt.down
            - self.field_nt.down * self.horizontal_rate_nt_per_year()?;
        finite((across / total_nt / total_nt).to_degrees())
    }
}

/// A quotient, if there is one.
fn finite(quotient: f64) -> Option<f64> {
    quotient.is_finite().then_some(quotient)
}

/// One spherical harmonic of the field: its size at the epoch in nT, and how that changes in nT a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Term {
    pub(super) degree: u8,
    pub(super) order: u8,
    pub(super) cosine_nt: f64,
    pub(super) sine_nt: f64,
    pub(super) cosine_rate_nt: f64,
    pub(super) sine_rate_nt: f64,
}

/// The model in force.
pub(super) static TERMS: LazyLock<Vec<Term>> = LazyLock::new(|| {
    // the head of the file and its last rows are no terms; a test counts what is left
    include_str!("WMM2025.COF").lines().filter_map(term).collect()
});

fn term(line: &str) -> Option<Term> {
    let [degree, order, cosine, sine, cosine_rate, sine_rate] =
        line.split_ascii_whitespace().collect::<Vec<_>>()[..]
    else {
        return None;
    };
    Some(Term {
        degree: degree.parse().ok()?,
        order: order.parse().ok()?,
        cosine_nt: cosine.parse().ok()?,
        sine_nt: sine.parse().ok()?,
        cosine_rate_nt: cosine_rate.parse().ok()?,
        sine_rate_nt: sine_rate.parse().ok()?,
    })
}

/// The first instant of each year of the model's life, and of the year after it, in seconds since 1970.
///
/// 2028 is the only leap year among them.
const EPOCH_YEARS: [i64; 6] =
    [1_735_689_600, 1_767_225_600, 1_798_761_600, 1_830_297_600, 1_861_920_000, 1_893_456_000];

/// Returns the years since 2025.0, or nothing outside 2025-01-01T00:00:00Z to 2030-01-01T00:00:00Z.
///
/// The first instant belongs to the life, the last does not. The fraction of a year is that of its own days, 365 or 366.
pub(super) fn years_of_life(time: Timestamp) -> Option<f64> {
    let mut whole_years = 0.0;
    for year in EPOCH_YEARS.windows(2) {
        let [start, end] = *year else { return None };
        if (start..end).contains(&time.as_second()) {
            let into_s = to_f64(time.as_second() - start) + f64::from(time.subsec_nanosecond()) * 1e-9;
            return Some(whole_years + into_s / to_f64(end - start));
        }
        whole_years += 1.0;
    }
    None
}

#[expect(clippy::cast_precision_loss, reason = "seconds of a year are far below 2^53")]
fn to_f64(seconds: i64) -> f64 {
    seconds as f64
}
