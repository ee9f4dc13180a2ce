//! Positions of other datums and projections brought to WGS 84 with PROJ, never without saying how and how well.
//!
//! The only crate that links PROJ, whose source and registry of coordinate systems it builds in; it needs cmake, a C++ compiler and the
//! `sqlite3` program to be built. PROJ's grid files are not part of it and no network is used: where only a grid would be
//! exact, PROJ chooses the next best operation, and its stated accuracy counts. See `docs/decisions/0023-other-formats.md`.

#[cfg(test)]
mod control_points_tests;

use proj::Proj;
use thiserror::Error;

/// Where results are: WGS 84, as its registry has it.
const WGS_84: &str = "EPSG:4326";
/// The longest description of a coordinate system that is read; those of real files have some thousand letters.
const LONGEST: usize = 64 * 1024;

/// A way from one coordinate system to WGS 84.
///
/// # Examples
///
/// ```
/// use takeline_reproject::ToWgs84;
///
/// // EPSG Guidance Note 7-2, Lambert Azimuthal Equal Area: 50°N 5°E
/// let etrs_laea = ToWgs84::from_crs("EPSG:3035")?;
/// let there = etrs_laea.bring(3_962_799.45, 2_999_718.85)?;
/// assert!((there.latitude_deg - 50.0).abs() < 1e-7 && (there.longitude_deg - 5.0).abs() < 1e-7);
/// assert!(there.accuracy_m <= 1.0); // ETRS89 and WGS 84
/// # Ok::<(), takeline_reproject::ReprojectError>(())
/// ```
#[derive(Debug)]
pub struct ToWgs84 {
    way: Proj,
}

/// A position that was brought to WGS 84.
#[derive(Debug, Clone, PartialEq)]
pub struct Brought {
    /// Longitude, in degrees east.
    pub longitude_deg: f64,
    /// Latitude, in degrees north.
    pub latitude_deg: f64,
    /// The operation that PROJ chose here, in the words of its registry; it may be another one elsewhere.
    pub operation: String,
    /// The accuracy that the registry states for it, in metres. It does not say how often that holds. Read it as one standard deviation
    /// along each axis, so that 2.45 times as much holds 95 times in 100: of forty points of Ordnance Survey, which the one
    /// operation of OSGB 36 without a grid file brings over with 2 m stated, 26 lie within 2 m, 39 within 4.9, the last within 5.
    pub accuracy_m: f64,
}

/// Why something cannot be brought to WGS 84.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum ReprojectError {
    /// It is no description of a coordinate system.
    #[error("{0} is no coordinate system that PROJ knows")]
    UnknownCrs(String),
    /// The operation fails there.
    #[error("{x}, {y} cannot be brought to WGS 84 from there: {reason}")]
    Outside {
        /// The first number.
        x: String,
        /// The second number.
        y: String,
        /// What PROJ says.
        reason: String,
    },
    /// PROJ knows no operation whose accuracy is stated.
    #[error("PROJ knows no operation from there to WGS 84 whose accuracy is stated: {0}")]
    NoAccuracy(String),
}

impl ToWgs84 {
    /// Finds the operations from a coordinate system to WGS 84.
    ///
    /// `definition` is a code, `"EPSG:27700"`, or well-known text as a `.prj` file has it. Strings of PROJ's own are refused,
    /// because they can name files.
    ///
    /// # Errors
    ///
    /// [`ReprojectError::UnknownCrs`] where it is neither, or PROJ cannot read it.
    pub fn from_crs(definition: &str) -> Result<Self, ReprojectError> {
        let definition = definition.trim();
        let unknown = || ReprojectError::UnknownCrs(shortened(definition));
        if definition.len() > LONGEST || !(is_code(definition) || is_well_known_text(definition)) {
            return Err(unknown());
        }
        let way = Proj::new_known_crs(definition, WGS_84, None).map_err(|_| unknown())?;
        Ok(Self { way })
    }

    /// Brings one position to WGS 84: easting and northing, or longitude and latitude in degrees, in this order whatever the axes of the
    /// coordinate system are.
    ///
    /// # Errors
    ///
    /// [`ReprojectError`] where it lies outside of what the operation is for, and where the best that PROJ has is a guess
    /// (which it calls *ballpark*) or states no accuracy.
    pub fn bring(&self, x: f64, y: f64) -> Result<Brought, ReprojectError> {
        let outside = |reason: String| ReprojectError::Outside { x: x.to_string(), y: y.to_string(), reason };
        let (longitude_deg, latitude_deg) =
            self.way.convert((x, y)).map_err(|error| outside(error.to_string()))?;
        if !(longitude_deg.is_finite() && latitude_deg.is_finite()) {
            return Err(outside("it is off the map".into()));
        }
        // only after a conversion PROJ says which of its operations it used
        let used = self.way.proj_info();
        let operation = without_axes(&used.description.unwrap_or_default());
        let is_guess = operation.to_lowercase().contains("ballpark");
        if is_guess || !(used.accuracy.is_finite() && used.accuracy >= 0.0) {
            return Err(ReprojectError::NoAccuracy(operation));
        }
        Ok(Brought { longitude_deg, latitude_deg, operation, accuracy_m: used.accuracy })
    }
}

/// An operation in words, without the steps that only exchange longitude and latitude.
fn without_axes(words: &str) -> String {
    words.split(" + ").filter(|step| !step.starts_with("axis order change")).collect::<Vec<_>>().join(" + ")
}

/// `EPSG:27700`, `ESRI:102100`.
fn is_code(definition: &str) -> bool {
    definition.split_once(':').is_some_and(|(authority, code)| {
        let plain =
            |text: &str| !text.is_empty() && text.chars().all(|letter| letter.is_ascii_alphanumeric());
        plain(authority) && plain(code)
    })
}

/// `PROJCS["…`.
fn is_well_known_text(definition: &str) -> bool {
    definition.split_once('[').is_some_and(|(keyword, rest)| {
        let keyword = keyword.trim_end();
        let is_word = keyword.chars().all(|letter| letter.is_ascii_alphanumeric() || letter == '_');
        !keyword.is_empty() && is_word && rest.trim_start().starts_with('"')
    })
}

fn shortened(definition: &str) -> String {
    const SHOWN: usize = 80;
    let shown: String = definition.chars().take(SHOWN).collect();
    if definition.chars().count() > SHOWN { format!("{shown}…") } else { shown }
}
