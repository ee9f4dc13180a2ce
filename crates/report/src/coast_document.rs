//! The coasts that an answer went by.

use jiff::civil::Date;
use serde::Serialize;
use takeline::UncertaintySource;
use takeline::coast::Coast;

/// A coast, and how well it is known.
#[derive(Debug, Clone, Copy, Serialize)]
pub struct CoastDocument<'a> {
    /// The path as given, or as a zone file names it.
    pub path: &'a str,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: &'a str,
    /// Its title, or null.
    pub title: Option<&'a str>,
    /// The day of the survey, or null.
    pub date: Option<Date>,
    /// Who surveyed it, or null.
    pub source: Option<&'a str>,
    /// Its licence, or null.
    pub licence: Option<&'a str>,
    /// How far off its lines may lie, 95 %, datum included.
    pub uncertainty_95_m: f64,
    /// `given` or `assumed`.
    pub uncertainty_source: UncertaintySource,
}

impl<'a> CoastDocument<'a> {
    /// Draws up each of these coasts.
    #[must_use]
    pub fn all(coasts: &'a [Coast]) -> Vec<Self> {
        coasts.iter().map(Self::from).collect()
    }
}

impl<'a> From<&'a Coast> for CoastDocument<'a> {
    fn from(coast: &'a Coast) -> Self {
        Self {
            path: &coast.path,
            sha256: &coast.sha256,
            title: coast.title.as_deref(),
            date: coast.date,
            source: coast.source.as_deref(),
            licence: coast.licence.as_deref(),
            uncertainty_95_m: coast.uncertainty.metres(),
            uncertainty_source: coast.uncertainty_source,
        }
    }
}
