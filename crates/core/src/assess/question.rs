//! What is asked about a fix.

use crate::rule::{Access, Circumstances, Gear, KnownTime, MissingTime};
use crate::{ErrorEllipse, Fix, Metres};

/// What is asked about a fix.
///
/// The default asks where the boat is and what the water is under; each method adds to it.
///
/// # Examples
///
/// ```
/// use takeline::rule::Access;
/// use takeline::{Metres, Question};
///
/// let question = Question::default()
///     .fish("sprat")
///     .fish("sand eel")
///     .with_gear("hook and line")
///     .by(Access::Boat)
///     .keeping_off(Metres::non_negative(50.0)?);
/// assert_eq!(question.species, ["sprat", "sand eel"]);
/// # Ok::<(), takeline::InvalidLength>(())
/// ```
#[derive(Debug, Clone, Default)]
#[non_exhaustive]
pub struct Question {
    /// Fish by name, as typed.
    pub species: Vec<String>,
    /// What is known about the fishing.
    pub circumstances: Circumstances,
    /// The distance to keep outside every zone, if one was asked for.
    pub standoff: Option<Metres>,
    /// Whether every zone is listed, or only those that matter here.
    pub all_zones: bool,
    /// The ellipse that holds the true position 95 times in 100, where one is known beside the circle of the fix.
    ///
    /// What then counts for each zone is how much nearer to its line a place of the ellipse lies than the fix: a boat that
    /// knows well how far it is off a line, and badly where along it, is told that it is outside.
    pub ellipse_95: Option<ErrorEllipse>,
    /// Why the fix has no time, where it has none; it is given as the reason for what is then undecided.
    pub missing_time: MissingTime,
}

impl Question {
    /// Asks whether one more fish may be kept here, by its name as an angler says it.
    ///
    /// A name that fits two fish, or none, is answered with a question and never guessed.
    #[must_use]
    pub fn fish(mut self, name: impl Into<String>) -> Self {
        self.species.push(name.into());
        self
    }

    /// Says all that is known about the fishing, in place of what was said before.
    #[must_use]
    pub fn under(mut self, circumstances: Circumstances) -> Self {
        self.circumstances = circumstances;
        self
    }

    /// Says which gear is in use, in words as a zone file has them.
    #[must_use]
    pub fn with_gear(mut self, gear: impl Into<String>) -> Self {
        self.circumstances.gear = Some(Gear(gear.into()));
        self
    }

    /// Says from where the fishing is done: some rules bind boats and not the shore, or the other way round.
    #[must_use]
    pub fn by(mut self, access: Access) -> Self {
        self.circumstances.access = Some(access);
        self
    }

    /// Asks whether so much distance is kept outside every zone that restricts something; its sign does not count.
    #[must_use]
    pub fn keeping_off(mut self, standoff: Metres) -> Self {
        self.standoff = Some(standoff);
        self
    }

    /// Lists every zone in the answer, however far off.
    #[must_use]
    pub fn listing_all_zones(mut self) -> Self {
        self.all_zones = true;
        self
    }

    /// Gives the ellipse that holds the true position 95 times in 100, beside the circle of the fix.
    #[must_use]
    pub fn within_ellipse(mut self, ellipse_95: ErrorEllipse) -> Self {
        self.ellipse_95 = Some(ellipse_95);
        self
    }

    /// Says why the fix has no time.
    #[must_use]
    pub fn without_time_because(mut self, missing_time: MissingTime) -> Self {
        self.missing_time = missing_time;
        self
    }

    /// The distance to keep, whatever sign it was given.
    pub(super) fn standoff(&self) -> Option<Metres> {
        self.standoff.map(|standoff| Metres::computed(standoff.metres().abs()))
    }

    /// The time of a fix, or why it has none.
    pub(super) fn time_of(&self, fix: &Fix) -> KnownTime {
        fix.time.ok_or(self.missing_time)
    }
}
