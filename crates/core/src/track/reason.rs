//! What a track shows of a visit, and why rules bound a boat and what became of its fish, as values: words are made of them
//! elsewhere.

use jiff::Timestamp;
use strum::{IntoStaticStr, VariantNames};

use super::{BagNote, Certainty};
use crate::coded::{coded, takes_up};
use crate::{assess, binding, rule};

/// How the boat moved during a part of a visit, or what a time at an end of the log was taken for; never what for.
#[derive(Debug, Clone, Copy, PartialEq, IntoStaticStr, VariantNames)]
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

/// Why a condition of crossing was met, or not, or why that is not known.
#[derive(Debug, Clone, Copy, PartialEq, IntoStaticStr, VariantNames)]
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

/// Why a visit or a catch is answered as it is.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[non_exhaustive]
pub enum Reason {
    /// What a rule says.
    Rule {
        /// That.
        reason: rule::Reason,
    },
    /// Why a rule is in force or not.
    InForce {
        /// That.
        reason: binding::Reason,
    },
    /// What the answer about a fix says.
    Fix {
        /// That.
        reason: assess::Reason,
    },
    /// The rule came into force or went out of it while the visit went on.
    RuleChanged,
    /// The rule of another zone displaces this one's, or may.
    Displaced {
        /// Its name and the clause that says so.
        by: assess::Displacing,
        /// Whether it surely does.
        is_sure: bool,
    },
    /// The fish was carried into a zone.
    CarriedInto {
        /// The zone's name.
        zone: String,
        /// From when the rule spoke of it; none if nothing says when.
        entered: Option<Timestamp>,
        /// Whether the boat was inside for sure.
        certainty: Certainty,
        /// What the rule says of it.
        because: Vec<Reason>,
    },
    /// The fish counts against a bag.
    CountsAgainstBag {
        /// How.
        note: BagNote,
    },
    /// In words.
    Text {
        /// They.
        text: String,
    },
}

impl From<&str> for Reason {
    fn from(text: &str) -> Self {
        Self::Text { text: text.to_owned() }
    }
}

/// What would settle an open answer about a catch.
#[derive(Debug, Clone, PartialEq, IntoStaticStr, VariantNames)]
#[strum(serialize_all = "kebab-case")]
#[non_exhaustive]
pub enum Remedy {
    /// What would settle what a rule leaves open.
    Rule {
        /// That.
        remedy: rule::Remedy,
    },
    /// What would settle the answer about a fix.
    Fix {
        /// That.
        remedy: assess::Remedy,
    },
    /// In words.
    Text {
        /// They.
        text: String,
    },
}

impl From<&str> for Remedy {
    fn from(text: &str) -> Self {
        Self::Text { text: text.to_owned() }
    }
}

takes_up!(Reason: Rule { reason: rule::Reason }, Fix { reason: assess::Reason }, Text { text: String });
takes_up!(Remedy: Rule { remedy: rule::Remedy }, Fix { remedy: assess::Remedy }, Text { text: String });
coded!(Motion, ConditionReason, Reason, Remedy);

#[cfg(test)]
mod tests {
    use strum::VariantNames;

    use super::*;

    #[test]
    fn the_samples_hold_each_code_once() {
        let codes: Vec<&str> = Motion::samples().iter().map(Motion::code).collect();
        assert_eq!(codes, Motion::VARIANTS);
        let codes: Vec<&str> = ConditionReason::samples().iter().map(ConditionReason::code).collect();
        assert_eq!(codes, ConditionReason::VARIANTS);
    }
}
