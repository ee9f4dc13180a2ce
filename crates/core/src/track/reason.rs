//! What a track shows of a visit, as values: words are made of them elsewhere.

/// How the boat moved during a part of a visit, or what a time at an end of the log was taken for; never what for.
#[derive(Debug, Clone, Copy, PartialEq, strum::IntoStaticStr, strum::VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")
)]
#[non_exhaustive]
pub enum Motion {
    /// Slower than a boat under way.
    Slow {
        /// The speed that it stayed below, in knots.
        below_kn: f64,
        /// For how long, in seconds.
        duration_s: f64,
    },
    /// Under way.
    Steady {
        /// The mean speed, in knots.
        speed_kn: f64,
        /// For how long, in seconds.
        duration_s: f64,
    },
    /// Slow for so long that it looks like drifting with a line down, and like resting: an inference, not a fact.
    LooksLikeDriftOrRest {
        /// The speed that it stayed below, in knots.
        below_kn: f64,
        /// For how long at least that has to be, in seconds.
        least_s: f64,
    },
    /// The log had begun, and tells no place to believe before the first fix.
    NoPlaceBeforeFirstFix {
        /// For how long, in seconds.
        duration_s: f64,
        /// The top speed within which the boat may have been anywhere, in knots.
        top_speed_kn: f64,
    },
    /// The log goes on, and tells no place to believe after the last fix.
    NoPlaceAfterLastFix {
        /// For how long, in seconds.
        duration_s: f64,
        /// The top speed within which the boat may have been anywhere, in knots.
        top_speed_kn: f64,
    },
    /// The end of the log repeats one place: the boat lay there, or the receiver stood still.
    RepeatsOnePlace {
        /// For how long, in seconds.
        duration_s: f64,
    },
}

/// A condition of crossing a zone.
#[derive(Debug, Clone, PartialEq, strum::IntoStaticStr, strum::VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")
)]
#[non_exhaustive]
pub enum CrossingCondition {
    /// Never slower than this.
    NotSlower {
        /// The least speed, in knots.
        than_kn: f64,
    },
    /// No stop longer than this.
    NoLongerStop {
        /// The longest stop, in minutes.
        than_min: f64,
    },
    /// No stopping or anchoring on the way.
    NoStopping,
    /// The gear has to be in a state.
    GearState {
        /// In the words of the zone file.
        text: String,
    },
    /// Any other.
    Other {
        /// In the words of the zone file.
        text: String,
    },
}

/// Why a condition of crossing was met, or not, or why that is not known.
#[derive(Debug, Clone, Copy, PartialEq, strum::IntoStaticStr, strum::VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[cfg_attr(
    feature = "serde",
    derive(serde::Serialize),
    serde(tag = "code", rename_all = "kebab-case", rename_all_fields = "snake_case")
)]
#[non_exhaustive]
pub enum ConditionReason {
    /// So long the boat was slower than the least speed.
    SlowerFor {
        /// In seconds.
        duration_s: f64,
    },
    /// So long was the longest stop.
    LongestStop {
        /// In seconds.
        duration_s: f64,
    },
    /// The boat was perhaps never inside.
    InsideNotSettled,
    /// Not all of the way was logged.
    NotAllLogged,
    /// The rule perhaps did not bind the boat.
    BindingNotSettled,
    /// A track does not show it.
    NotShownByTrack,
}

/// Gives each of these types its stable code.
macro_rules! code {
    ($($named:ty),* $(,)?) => { $(
        impl $named {
            /// Returns the stable code, kebab-case, as documents have it.
            #[must_use]
            pub fn code(&self) -> &'static str {
                self.into()
            }
        }
    )* };
}
code!(Motion, CrossingCondition, ConditionReason);

#[cfg(any(test, feature = "test-util"))]
impl Motion {
    /// One of each, for tests.
    #[must_use]
    pub fn samples() -> Vec<Self> {
        let (duration_s, top_speed_kn) = (480.0, 12.0);
        vec![
            Self::Slow { below_kn: 1.0, duration_s },
            Self::Steady { speed_kn: 2.6, duration_s },
            Self::LooksLikeDriftOrRest { below_kn: 1.0, least_s: 300.0 },
            Self::NoPlaceBeforeFirstFix { duration_s, top_speed_kn },
            Self::NoPlaceAfterLastFix { duration_s, top_speed_kn },
            Self::RepeatsOnePlace { duration_s },
        ]
    }
}

#[cfg(any(test, feature = "test-util"))]
impl CrossingCondition {
    /// One of each, for tests.
    #[must_use]
    pub fn samples() -> Vec<Self> {
        vec![
            Self::NotSlower { than_kn: 2.0 },
            Self::NoLongerStop { than_min: 10.0 },
            Self::NoStopping,
            Self::GearState { text: "lines inboard and bare".to_owned() },
            Self::Other { text: "launching from the beach counts as crossing".to_owned() },
        ]
    }
}

#[cfg(any(test, feature = "test-util"))]
impl ConditionReason {
    /// One of each, for tests.
    #[must_use]
    pub fn samples() -> Vec<Self> {
        vec![
            Self::SlowerFor { duration_s: 45.0 },
            Self::LongestStop { duration_s: 95.0 },
            Self::InsideNotSettled,
            Self::NotAllLogged,
            Self::BindingNotSettled,
            Self::NotShownByTrack,
        ]
    }
}

#[cfg(test)]
mod tests {
    use strum::VariantNames;

    use super::*;

    #[test]
    fn the_samples_hold_each_code_once() {
        let codes: Vec<&str> = Motion::samples().iter().map(Motion::code).collect();
        assert_eq!(codes, Motion::VARIANTS);
        let codes: Vec<&str> = CrossingCondition::samples().iter().map(CrossingCondition::code).collect();
        assert_eq!(codes, CrossingCondition::VARIANTS);
        let codes: Vec<&str> = ConditionReason::samples().iter().map(ConditionReason::code).collect();
        assert_eq!(codes, ConditionReason::VARIANTS);
    }
}
