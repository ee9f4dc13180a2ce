use jiff::Timestamp;

use super::minute;
use super::{BagNote, CarriedFinding, CatchEntry, CatchSettings};
use crate::geodesic::{direct, inverse};
use crate::rule::Condition;
use crate::track::leg::Leg;
use crate::track::logged_fix::uncertainty_of;
use crate::track::stray::Stray;
use crate::track::{LoggedFix, NoPosition, Reason, Remedy, TrackSettings};
use crate::{AccuracyKind, HorizontalUncertainty, Metres, Position, TakeAnswer, Tristate};

/// Where a fish was caught, and how that is known.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize), serde(rename_all = "kebab-case"))]
#[non_exhaustive]
pub enum CatchPosition {
    /// The row says so itself.
    Given(Position),
    /// A fix of the track has that very time.
    Fix(LoggedFix),
    /// On the geodesic between two fixes of the track, by even speed.
    Between {
        /// The place.
        position: Position,
        /// The last fix before.
        before: LoggedFix,
        /// The first fix after.
        after: LoggedFix,
    },
    /// The row says so itself, but its track was elsewhere at that time: one of the two is wrong, and the place is not known.
    Contradicted {
        /// What the row says.
        given: Position,
        /// Where the track has the boat: at that time, or at the nearest fix where it is not between two.
        logged: Position,
        /// The metres between the two.
        #[cfg_attr(feature = "serde", serde(rename = "apart_m"))]
        apart: Metres,
        /// The most that doubts and top speed allow.
        #[cfg_attr(feature = "serde", serde(rename = "reach_m"))]
        reach: Metres,
    },
    /// Not known.
    Unknown {
        /// The last fix before, if there is one.
        before: Option<LoggedFix>,
        /// The first fix after, if there is one.
        after: Option<LoggedFix>,
    },
}

/// What is found about one row of a catch log.
#[derive(Debug, Clone)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct CatchFinding {
    /// The row.
    pub entry: CatchEntry,
    /// Where, and how that is known.
    pub position: CatchPosition,
    /// How well, 95 %; none where there is no position.
    pub uncertainty: Option<HorizontalUncertainty>,
    /// What the rules let be done with it, then and there; undecided is "cannot tell", never a breach.
    pub answer: TakeAnswer,
    /// Why.
    pub because: Vec<Reason>,
    /// What had to be met for it.
    pub conditions: Vec<Condition>,
    /// What would settle it.
    pub settle: Vec<Remedy>,
    /// How it counted against each bag limit.
    pub bags: Vec<BagNote>,
    /// Zones through which it was carried afterwards and whose rule says something about that, in the order of the set. Where
    /// it may not be aboard in one of them, `answer` is release, and where that is not settled, undecided: a fish that may
    /// be kept where it was caught is not one to keep.
    pub carried: Vec<CarriedFinding>,
    /// Whether it might be kept but for where it was carried.
    pub is_lowered_by_carrying: bool,
}

impl CatchFinding {
    /// Adds where it was carried; what may be kept is lowered by that.
    pub(super) fn carried_as(mut self, carried: Vec<CarriedFinding>) -> Self {
        let may_be_kept = matches!(self.answer, TakeAnswer::Keep | TakeAnswer::Unzoned);
        let reasons = |allowed: Tristate| -> Vec<Reason> {
            carried.iter().filter(|one| one.allowed == allowed).map(CarriedFinding::reason).collect()
        };
        let (forbidden, unsettled) = (reasons(Tristate::No), reasons(Tristate::Undecided));
        self.is_lowered_by_carrying = may_be_kept && !(forbidden.is_empty() && unsettled.is_empty());
        if may_be_kept && !forbidden.is_empty() {
            self.answer = TakeAnswer::Release;
            self.because.splice(0..0, forbidden);
        } else if may_be_kept && !unsettled.is_empty() {
            self.answer = TakeAnswer::Undecided;
            self.because.splice(0..0, unsettled);
            let settle = carried.iter().filter(|one| one.allowed == Tristate::Undecided);
            self.settle.extend(settle.flat_map(|one| one.settle.clone()));
        }
        self.carried = carried;
        self
    }
}

impl CatchPosition {
    /// Returns the place, if it is known.
    #[must_use]
    pub fn position(&self) -> Option<Position> {
        match self {
            Self::Given(position) | Self::Between { position, .. } => Some(*position),
            Self::Fix(fix) => Some(fix.position),
            Self::Contradicted { .. } | Self::Unknown { .. } => None,
        }
    }

    /// Finds the place at a time between two neighbouring fixes.
    pub(super) fn at(
        time: Timestamp,
        (before, after): (Option<LoggedFix>, Option<LoggedFix>),
        settings: &CatchSettings,
    ) -> Self {
        if let Some(fix) = [after, before].into_iter().flatten().find(|fix| fix.time == Some(time)) {
            return Self::Fix(fix);
        }
        let unknown = Self::Unknown { before, after };
        let (Some(before), Some(after)) = (before, after) else { return unknown };
        let (Some(from), Some(to)) = (before.time, after.time) else { return unknown };
        let span_s = seconds(from, to);
        if span_s > settings.interpolate_within_s || span_s <= 0.0 {
            return unknown;
        }
        let line = inverse(before.position, after.position);
        let way_m = line.distance_m * seconds(from, time) / span_s;
        let position = direct(before.position, line.azimuth_start_deg, way_m);
        Self::Between { position, before, after }
    }

    /// Takes the place that a row says itself, if the boat can have been there by its track: by the fixes before and after, and
    /// by those about a time in whole minutes, which is taken to be good to a minute, for that is how people write them.
    pub(super) fn given(
        (given, entry): (Position, &CatchEntry),
        ((before, after), near): ((Option<LoggedFix>, Option<LoggedFix>), &[LoggedFix]),
        settings: &CatchSettings,
    ) -> Self {
        let Some(time) = entry.time else { return Self::Given(given) };
        let own_m = entry.own_uncertainty(&settings.track).radius_95().metres();
        let fixes = || [before, after].into_iter().flatten().chain(near.iter().copied());
        if !minute::contradict(fixes(), (given, time), (own_m, &settings.track)) {
            return Self::Given(given);
        }
        let too_far = |clock_s: f64, fix: LoggedFix| {
            let (from, to) = fix.made_between()?;
            let apart_s = seconds(time, to).max(seconds(from, time)).max(0.0);
            let doubt_m = own_m + uncertainty_of(&fix, &settings.track).radius_95().metres();
            let reach_m = settings.track.top_speed_m_per_s() * (apart_s + clock_s) + doubt_m;
            let apart_m = inverse(given, fix.position).distance_m;
            (apart_m > reach_m).then_some((
                apart_s,
                Self::Contradicted {
                    given,
                    logged: fix.position,
                    apart: Metres::computed(apart_m),
                    reach: Metres::computed(reach_m),
                },
            ))
        };
        let nearest = |clock_s: f64| {
            let contradicted = fixes().filter_map(|fix| too_far(clock_s, fix));
            contradicted.min_by(|(one_s, _), (other_s, _)| one_s.total_cmp(other_s))
        };
        // where no fix does alone what all do together, the one at that time tells best
        let told = nearest(minute::clock_s(time)).or_else(|| nearest(0.0));
        told.map_or(Self::Unknown { before, after }, |(_, contradicted)| contradicted)
    }

    /// How well the place is known: that of the worse fix, and between two fixes how far off the straight way the boat can
    /// have been at that time, however near to each other they are. None where there is no place, or where no boat makes
    /// that way. About a time in whole minutes, also where it went within a minute of it, by the fixes `near` it.
    pub(super) fn uncertainty(
        &self,
        entry: &CatchEntry,
        near: &[LoggedFix],
        settings: &TrackSettings,
    ) -> Option<HorizontalUncertainty> {
        let own = self.at_its_time(entry, settings)?;
        let (Self::Fix(LoggedFix { position, .. }) | Self::Between { position, .. }, Some(time)) =
            (self, entry.time)
        else {
            return Some(own);
        };
        let within = minute::uncertainty(*position, time, (near, settings));
        let is_wider =
            |within: &HorizontalUncertainty| within.radius_95().metres() > own.radius_95().metres();
        Some(within.filter(is_wider).unwrap_or(own))
    }

    fn at_its_time(&self, entry: &CatchEntry, settings: &TrackSettings) -> Option<HorizontalUncertainty> {
        match self {
            Self::Given(_) => Some(entry.own_uncertainty(settings)),
            Self::Fix(fix) => Some(uncertainty_of(fix, settings)),
            Self::Between { before, after, .. } => {
                let doubts_m = [before, after].map(|fix| uncertainty_of(fix, settings).radius_95().metres());
                let spare_m = doubts_m[0] + doubts_m[1];
                let stray = Stray::of(&Leg::between(*before, *after, 0), (spare_m, None), settings);
                if stray.is_too_fast() {
                    return None;
                }
                let (from, to) = (before.time?, after.time?);
                let share = entry.time.map(|time| seconds(from, time) / seconds(from, to));
                let off_m = share.map_or(stray.most_m(), |share| stray.at_m(share));
                let radius_m = doubts_m[0].max(doubts_m[1]) + off_m;
                HorizontalUncertainty::given(radius_m, AccuracyKind::P95).ok()
            }
            Self::Contradicted { .. } | Self::Unknown { .. } => None,
        }
    }

    /// Why there is no position, and what would help.
    pub(super) fn reasons(&self, entry: &CatchEntry, settings: &CatchSettings) -> (Reason, Remedy) {
        if let Self::Contradicted { reach, .. } = self {
            let (reach_m, top_speed_kn) = (reach.metres(), settings.track.top_speed_kn);
            return (Reason::ContradictsTrack { reach_m, top_speed_kn }, Remedy::MendTheRow);
        }
        let Some(time) = entry.time else {
            return (Reason::NeitherTimeNorPosition, Remedy::SayWhenOrWhere);
        };
        (Reason::NoPosition { why: self.missing_at(time, entry, settings) }, Remedy::SayWhere)
    }

    fn missing_at(&self, time: Timestamp, entry: &CatchEntry, settings: &CatchSettings) -> NoPosition {
        let (before, after) = match self {
            Self::Unknown { before, after } => (*before, *after),
            Self::Between { before, after, .. } => (Some(*before), Some(*after)),
            Self::Given(_) | Self::Fix(_) | Self::Contradicted { .. } => (None, None),
        };
        let times = (before.and_then(|fix| fix.time), after.and_then(|fix| fix.time));
        let within_s = settings.interpolate_within_s;
        let can_be_made = before.zip(after).is_some_and(|(before, after)| {
            let between = Self::Between { position: before.position, before, after };
            between.at_its_time(entry, &settings.track).is_some()
        });
        match times {
            (Some(from), Some(to)) if seconds(from, to) <= within_s && can_be_made => {
                NoPosition::OnlySuspectFixes
            }
            (Some(from), Some(to)) if seconds(from, to) <= within_s => NoPosition::FixesTooFarApart,
            (Some(from), Some(to)) => {
                NoPosition::NothingLogged { gap_s: seconds(from, to), from, to, within_s }
            }
            (Some(last), None) => NoPosition::TrackEnded { before_s: seconds(last, time) },
            (None, Some(first)) => NoPosition::TrackBegins { after_s: seconds(time, first) },
            (None, None) => NoPosition::NoTimedFix,
        }
    }
}

pub(super) fn seconds(from: Timestamp, to: Timestamp) -> f64 {
    to.duration_since(from).as_secs_f64()
}
