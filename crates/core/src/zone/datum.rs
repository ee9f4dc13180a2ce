use crate::Metres;

/// The datum that the coordinates of a zone are given in.
///
/// Only datums that agree with WGS 84 to about 2 m are read as they stand; others are refused when a file is loaded,
/// because the core transforms nothing.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Datum {
    /// WGS 84.
    Wgs84,
    /// Another datum that agrees with WGS 84 to about 2 m (NAD 83, GDA94, GDA2020, ETRS89 and their like), by name.
    NearWgs84(String),
    /// Nobody says.
    Unstated,
}

impl Datum {
    /// How far the datum may put a line from where WGS 84 has it, 95 %.
    ///
    /// # Units
    ///
    /// Metres: 0 for WGS 84; 2 for its near relatives (common practice, no source; NAD 83 and WGS 84 differ by one to
    /// two metres today); 200 where the datum is unstated, the size of the larger shifts of national datums
    /// (common practice, no source).
    #[must_use]
    pub fn uncertainty_95(&self) -> Metres {
        Metres::computed(match self {
            Self::Wgs84 => 0.0,
            Self::NearWgs84(_) => 2.0,
            Self::Unstated => 200.0,
        })
    }
}
