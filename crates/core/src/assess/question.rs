//! What is asked about a fix.

use crate::rule::{Access, Circumstances, Gear, KnownTime, MissingTime};
use crate::track::{InvalidSpeed, METRES_PER_SECOND_IN_A_KNOT};
use crate::{ErrorEllipse, Fix, Metres, Position, TrueBearing};

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
    /// Whether the way out of closed or limited water is looked for, and to where each fish may be kept.
    pub way_out: bool,
    /// The heading along which to look, if one was given.
    pub heading: Option<TrueBearing>,
    /// The place to which one wants to go home, if one was given.
    pub home: Option<Position>,
    /// How fast the boat goes, in knots, if that was said; one that is not above zero counts as not said.
    pub speed_kn: Option<f64>,
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

    /// Asks for the nearest water that no loaded zone closes or limits, and where each fish may be kept: [`super::WayOut`].
    ///
    /// It takes up to a tenth of a second in closed water, and nothing elsewhere. Ways lead over water, so whoever fishes from the
    /// shore is told none ([`super::NoWayOut::OnFoot`]).
    #[must_use]
    pub fn finding_the_way_out(mut self) -> Self {
        self.way_out = true;
        self
    }

    /// Asks what lies along the bow: [`super::OnHeading`].
    #[must_use]
    pub fn on_heading(mut self, heading: TrueBearing) -> Self {
        self.heading = Some(heading);
        self
    }

    /// Asks what the straight way to a place crosses: [`super::WayHome`].
    #[must_use]
    pub fn going_home(mut self, home: Position) -> Self {
        self.home = Some(home);
        self
    }

    /// Says how fast the boat goes, to tell how long a way takes.
    ///
    /// # Errors
    ///
    /// [`InvalidSpeed`] if it is not a finite number of knots above zero.
    pub fn at_speed_kn(mut self, knots: f64) -> Result<Self, InvalidSpeed> {
        if !knots.is_finite() || knots <= 0.0 {
            return Err(InvalidSpeed { knots });
        }
        self.speed_kn = Some(knots);
        Ok(self)
    }

    /// How far off shores are looked at, in metres: as far as ways lead, and moves.
    pub(super) fn looks_for_land_m(&self) -> f64 {
        if self.asks_for_ways() { 50_000.0 } else { 5_000.0 }
    }

    /// Whether it asks for any way.
    pub(super) fn asks_for_ways(&self) -> bool {
        self.way_out || self.heading.is_some() || self.home.is_some()
    }

    /// Whether the fishing is from the shore, so that no way over water is one.
    pub(super) fn is_on_foot(&self) -> bool {
        self.circumstances.access == Some(Access::Shore)
    }

    /// How long a way takes, in seconds; none where no speed was said.
    pub(super) fn seconds_for(&self, way_m: f64) -> Option<f64> {
        let speed_kn = self.speed_kn.filter(|knots| knots.is_finite() && *knots > 0.0);
        speed_kn.map(|speed_kn| way_m / (speed_kn * METRES_PER_SECOND_IN_A_KNOT))
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
