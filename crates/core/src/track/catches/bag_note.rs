use std::fmt;

use jiff::civil::Date;

use crate::rule::Bag;
use crate::zone::ZoneId;

/// How a row counted against one bag limit.
#[derive(Debug, Clone, PartialEq, Eq)]
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
    pub not_known: Vec<String>,
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

impl fmt::Display for BagNote {
    /// Writes "the 11th of at most 10 per person per day in Gannet Bank (clause 10(1))".
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.surely_over() && self.perhaps_over() {
            write!(f, "perhaps as many as {}, surely {}, of {}", self.at_most, self.last, self.bag)?;
        } else if self.first >= self.last {
            write!(f, "the {} of {}", ordinal(self.last), self.bag)?;
        } else {
            write!(f, "the {} to {} of {}", ordinal(self.first), ordinal(self.last), self.bag)?;
        }
        write!(f, " in {}", self.zone_name)?;
        if let Some(clause) = &self.clause {
            write!(f, " ({clause})")?;
        }
        self.person.as_ref().map_or(Ok(()), |person| write!(f, ", {person}"))
    }
}

fn ordinal(number: u64) -> String {
    let end = match (number % 100, number % 10) {
        (11..=13, _) => "th",
        (_, 1) => "st",
        (_, 2) => "nd",
        (_, 3) => "rd",
        _ => "th",
    };
    format!("{number}{end}")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ordinals_read_as_people_say_them() {
        let said: Vec<String> = [1, 2, 3, 4, 11, 12, 13, 21, 101, 111].map(ordinal).into();
        assert_eq!(said, ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "101st", "111th"]);
    }
}
