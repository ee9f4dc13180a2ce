//! Why marks make no line, and why a question about one makes no sense.

/// Why two marks make no range line, or a question about one makes no sense.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
#[non_exhaustive]
pub enum TransitError {
    /// Front and rear mark are the same place.
    #[error("{front} and {rear} stand in the same place, so they show no line; give two different marks")]
    OnePlace {
        /// Name of the front mark.
        front: String,
        /// Name of the rear mark.
        rear: String,
    },
    /// Nobody sees both.
    #[error(
        "{front} and {rear} are {separation_m:.0} m apart, too far to be seen together; check the two positions"
    )]
    TooFarApart {
        /// Name of the front mark.
        front: String,
        /// Name of the rear mark.
        rear: String,
        /// How far apart they are.
        separation_m: f64,
    },
    /// The stretch does not run from a near to a farther distance beyond the front mark.
    #[error(
        "the stretch from {} m to {} m is not possible: both are measured from the front mark, away from the rear mark; the near end has to be above zero, and the far end beyond it and no more than 100000 m{}",
        (near_m * 10.0).round() / 10.0,
        (far_m * 10.0).round() / 10.0,
        if *.near_m <= 0.0 { "; between the two marks there is no transit" } else { "" }
    )]
    NoStretch {
        /// The near end, as given.
        near_m: f64,
        /// The far end, as given.
        far_m: f64,
    },
    /// The line does not pass through the water where it is to be used.
    #[error(
        "the line through {front} and {rear} does not pass through the working area{}",
        if *.beyond_the_rear_mark {
            format!(", which lies beyond {rear}; swap front and rear")
        } else {
            "; check the marks and the area".to_owned()
        }
    )]
    MissesArea {
        /// Name of the front mark.
        front: String,
        /// Name of the rear mark.
        rear: String,
        /// Whether the area lies on the far side of the rear mark.
        beyond_the_rear_mark: bool,
    },
    /// A figure about the eye, the drift or the area that cannot be.
    #[error("{what} {value} {reason}")]
    Figure {
        /// What it is the figure of.
        what: &'static str,
        /// The figure.
        value: f64,
        /// What is wrong with it.
        reason: &'static str,
    },
    /// No zone of that number.
    #[error("there is no zone {number} in a set of {zones}; they count from 0")]
    NoSuchZone {
        /// The number asked for.
        number: usize,
        /// How many zones there are.
        zones: usize,
    },
    /// Nobody knows where the line runs that marks are sought for.
    #[error("the boundary of {zone} is not known ({reason}), so no marks can be found for it")]
    LineNotKnown {
        /// Name of the zone.
        zone: String,
        /// Why it is not known.
        reason: String,
    },
    /// No side of the zone can be crossed afloat.
    #[error(
        "a boat can cross no side of {zone}: all of it is shore, or a side that nobody has supplied, so no marks are needed; \
         if it has a side over open water, the zone file has to say so"
    )]
    NoSideToCross {
        /// Name of the zone.
        zone: String,
    },
    /// No side that a boat can cross is within range of the launch.
    #[error(
        "no part of the boundary of {zone}{} is within {range_m:.0} m of the launch; its nearest point is {nearest_m:.0} m away",
        if *.has_shore { " that a boat can cross" } else { "" }
    )]
    NoSideInRange {
        /// Name of the zone.
        zone: String,
        /// How far was looked.
        range_m: f64,
        /// How far the nearest point of such a side is.
        nearest_m: f64,
        /// Whether the zone has sides that no boat crosses, which may lie nearer.
        has_shore: bool,
    },
}
