use jiff::civil::Date;

use crate::rule::Bag;
use crate::track::BagUnknown;
use crate::zone::ZoneId;

/// How a row counted against one bag limit.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct BagNote {
    /// The zone whose limit it is.
    pub zone: ZoneId,
    /// Its place among the zones of the set.
    pub zone_number: usize,
    /// Its name.
    pub zone_name: String,
    /// The clause of the limit.
    pub clause: Option<String>,
    /// The limit.
    pub bag: Bag,
    /// Whose fish were counted; none: the boat's, or those of the one person that all rows are about.
    pub person: Option<String>,
    /// The local day of the zone; none where the row has no time.
    pub day: Option<Date>,
    /// The first fish of this row (and of others of the same moment), counted from 1.
    pub first: u64,
    /// The last one, likewise: so many there were for sure when this row is counted.
    pub last: u64,
    /// So many there were at most, fish counted of which it is not known whether they count.
    pub at_most: u64,
    /// What the log does not tell.
    pub not_known: Vec<BagUnknown>,
}

impl BagNote {
    /// Whether there were surely more than the limit.
    #[must_use]
    pub fn surely_over(&self) -> bool {
        self.last > u64::from(self.bag.count)
    }

    /// Whether there were perhaps more than the limit.
    #[must_use]
    pub fn perhaps_over(&self) -> bool {
        self.at_most > u64::from(self.bag.count)
    }
}
