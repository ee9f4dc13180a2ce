//! Why the rules bound a boat and what became of its fish, as data. The words stand elsewhere.

use jiff::Timestamp;
use strum::{IntoStaticStr, VariantNames};

use super::{BagNote, Certainty};
use crate::{assess, binding, rule};

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

impl Reason {
    /// Returns the stable word for the kind of reason, in kebab case.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.into()
    }
}

impl From<String> for Reason {
    fn from(text: String) -> Self {
        Self::Text { text }
    }
}

impl From<&str> for Reason {
    fn from(text: &str) -> Self {
        Self::Text { text: text.to_owned() }
    }
}

impl From<rule::Reason> for Reason {
    fn from(reason: rule::Reason) -> Self {
        Self::Rule { reason }
    }
}

impl From<assess::Reason> for Reason {
    fn from(reason: assess::Reason) -> Self {
        Self::Fix { reason }
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

impl Remedy {
    /// Returns the stable word for the kind of remedy, in kebab case.
    #[must_use]
    pub fn code(&self) -> &'static str {
        self.into()
    }
}

impl From<String> for Remedy {
    fn from(text: String) -> Self {
        Self::Text { text }
    }
}

impl From<&str> for Remedy {
    fn from(text: &str) -> Self {
        Self::Text { text: text.to_owned() }
    }
}

impl From<rule::Remedy> for Remedy {
    fn from(remedy: rule::Remedy) -> Self {
        Self::Rule { remedy }
    }
}

impl From<assess::Remedy> for Remedy {
    fn from(remedy: assess::Remedy) -> Self {
        Self::Fix { remedy }
    }
}
