//! A row of a catch log, where its fish was caught and how well that is known, and what is found about it.

use jiff::Timestamp;

use crate::geodesic::{direct, inverse};
use crate::rule::{Access, Circumstances, Condition, Gear};
use crate::track::leg::{Leg, Stray};
use crate::track::logged_fix::uncertainty_of;
use crate::track::{BagNote, Certainty, LoggedFix, NoPosition, Reason, Remedy, TrackSettings};
use crate::zone::ZoneId;
use crate::{
    AccuracyKind, DateDoubt, HorizontalUncertainty, Metres, Position, PrintedPrecision, TakeAnswer, Tristate,
};

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
    /// The zones whose rules bound it where and when it was caught, or may have.
    pub made_in: Vec<MadeIn>,
    /// Zones through which it was carried afterwards and whose rule says something about that, in the order of the set. Where
    /// it may not be aboard in one of them, `answer` is release, and where that is not settled, undecided: a fish that may
    /// be kept where it was caught is not one to keep.
    pub carried: Vec<CarriedFinding>,
    /// Whether it might be kept but for where it was carried.
    pub is_lowered_by_carrying: bool,
}

/// A zone whose rule bound a fish where and when it was caught, or may have, and what that says of keeping it.
#[derive(Debug, Clone, PartialEq, Eq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct MadeIn {
    /// The zone.
    pub zone: ZoneId,
    /// Its place among the zones of the set.
    pub zone_number: usize,
    /// Whether its rule let the fish be kept, bags counted; undecided where the rule perhaps did not bind.
    pub allowed: Tristate,
    /// Whether nothing at all may be taken there.
    pub nothing_may_be_taken: bool,
}

/// A zone that a kept fish was carried into after it was caught, and what its rule says about that.
///
/// Zones that let it be aboard without any condition are not reported.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
#[cfg_attr(not(feature = "test-util"), non_exhaustive)]
pub struct CarriedFinding {
    /// The zone.
    pub zone: ZoneId,
    /// Its place among the zones of the set.
    pub zone_number: usize,
    /// Its name.
    pub zone_name: String,
    /// Whether the boat was inside for sure.
    pub certainty: Certainty,
    /// From when the rule spoke of it: when the boat came in, or within the doubt of the line, or the rule into force; where it
    /// was in before, when it was caught. None if nothing says when.
    pub entered: Option<Timestamp>,
    /// When it was last inside, or within the doubt.
    pub left: Option<Timestamp>,
    /// How many times it came in; the one reported is the one that the rule is hardest on, the earliest of those.
    pub times: u32,
    /// Whether the fish was allowed aboard: yes under conditions; undecided is "cannot tell".
    pub allowed: Tristate,
    /// Why.
    pub because: Vec<Reason>,
    /// What had to be met; a log of positions cannot tell whether all of it was.
    pub conditions: Vec<Condition>,
    /// What would settle it.
    pub settle: Vec<Remedy>,
}

impl CarriedFinding {
    /// Returns the whole of it as one reason.
    #[must_use]
    pub fn reason(&self) -> Reason {
        Reason::CarriedInto {
            zone: self.zone_name.clone(),
            entered: self.entered,
            certainty: self.certainty,
            because: self.because.clone(),
        }
    }
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
        if !contradict(fixes(), (given, time), (own_m, &settings.track)) {
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
        let farthest_off = nearest(clock_s(time)).or_else(|| nearest(0.0));
        farthest_off.map_or(Self::Unknown { before, after }, |(_, contradicted)| contradicted)
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
        let within = uncertainty(*position, time, (near, settings));
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

/// One row of a catch log, as somebody wrote it.
#[derive(Debug, Clone, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct CatchEntry {
    /// The row of the log, as its reader counts (the line, counted from 1).
    pub row: u64,
    /// When, if the row says so.
    pub time: Option<Timestamp>,
    /// Where, if the row says so.
    pub position: Option<Position>,
    /// How finely that position was written, if its reader knows: what its digits leave open is a doubt of it.
    pub precision: Option<PrintedPrecision>,
    /// The fish by the name that was written.
    pub asked: String,
    /// How many; 1 where the row does not say.
    pub count: u32,
    /// Length in centimetres, of each of them.
    pub length_cm: Option<f64>,
    /// Whether it was kept; none where the row does not say.
    pub kept: Option<bool>,
    /// With what.
    pub gear: Option<String>,
    /// With what on the hook.
    pub bait: Option<String>,
    /// Who caught it; where no row says, all rows are one person's.
    pub person: Option<String>,
}

impl CatchEntry {
    /// Returns whether the date of its time may be wrong ([`DateDoubt`]): then what was in force is not known.
    #[must_use]
    pub fn is_date_doubtful(&self) -> bool {
        self.time.is_some_and(|time| DateDoubt::of(time).is_some())
    }

    /// Makes a row with a name and nothing else known of it.
    #[must_use]
    pub fn named(row: u64, asked: &str) -> Self {
        Self {
            row,
            time: None,
            position: None,
            precision: None,
            asked: asked.to_owned(),
            count: 1,
            length_cm: None,
            kept: None,
            gear: None,
            bait: None,
            person: None,
        }
    }

    /// How well its own position is known, 95 %.
    pub(super) fn own_uncertainty(&self, settings: &TrackSettings) -> HorizontalUncertainty {
        match self.precision.map(PrintedPrecision::as_the_finer) {
            Some(printed) => settings.uncertainty.with_rounding(printed.north_south(), printed.east_west()),
            None => settings.uncertainty,
        }
    }

    /// Whether it may be aboard after the catch.
    pub(super) fn may_be_aboard(&self) -> bool {
        self.kept != Some(false)
    }

    /// What is known about the fishing. Numbers are counted apart, row by row.
    pub(super) fn circumstances(&self, settings: &CatchSettings) -> Circumstances {
        Circumstances {
            gear: self.gear.clone().map(Gear),
            bait: self.bait.clone(),
            access: settings.access,
            length_cm: self.length_cm,
            count: None,
        }
    }
}

/// How a catch log is joined and judged.
#[derive(Debug, Clone, Copy, PartialEq)]
#[cfg_attr(feature = "serde", derive(serde::Serialize))]
pub struct CatchSettings {
    /// How the track is read.
    pub track: TrackSettings,
    /// From where the fishing was, if that is known.
    pub access: Option<Access>,
    /// Two fixes farther apart than this, in seconds, give no position between them.
    pub interpolate_within_s: f64,
    /// How far a length may be off, in centimetres.
    pub measuring_error_cm: f64,
}

impl CatchSettings {
    /// Seconds between two fixes up to which a position is taken from the way between them (common practice, no source).
    pub const INTERPOLATE_WITHIN_S: f64 = 60.0;
    /// How well a fish is measured afloat, in centimetres (common practice, no source).
    pub const MEASURING_ERROR_CM: f64 = 0.3;

    /// The same without figures that cannot be, the usual ones in their place.
    pub(super) fn with_possible_figures(mut self) -> Self {
        self.track = self.track.with_possible_figures();
        let usual = Self::default();
        if !self.interpolate_within_s.is_finite() || self.interpolate_within_s < 0.0 {
            self.interpolate_within_s = usual.interpolate_within_s;
        }
        if !self.measuring_error_cm.is_finite() || self.measuring_error_cm < 0.0 {
            self.measuring_error_cm = usual.measuring_error_cm;
        }
        self
    }
}

impl Default for CatchSettings {
    fn default() -> Self {
        Self {
            track: TrackSettings::default(),
            access: None,
            interpolate_within_s: Self::INTERPOLATE_WITHIN_S,
            measuring_error_cm: Self::MEASURING_ERROR_CM,
        }
    }
}

/// A time in whole minutes is good to so many seconds, both ways.
const MINUTE_S: f64 = 60.0;
/// Any other time is good to so many: most clocks count whole ones.
const CLOCK_S: f64 = 1.0;
/// Fixes so many seconds from a row tell where the boat was within its minute.
const HELD_WITHIN_S: f64 = 2.0 * MINUTE_S;

/// Whether a time is in whole minutes.
pub(super) fn is_whole(time: Timestamp) -> bool {
    time.as_second() % 60 == 0 && time.subsec_nanosecond() == 0
}

/// To how many seconds a row's time is good, both ways.
pub(super) fn clock_s(time: Timestamp) -> f64 {
    if is_whole(time) { MINUTE_S } else { CLOCK_S }
}

/// The believed fixes near rows in whole minutes, in the order of time.
#[derive(Debug, Default)]
pub(super) struct MinuteFixes {
    fixes: Vec<LoggedFix>,
    /// The times of suspect fixes near such rows.
    doubted: Vec<Timestamp>,
}

impl MinuteFixes {
    /// Holds a fix if a row lies near; `times` are those of the rows in whole minutes, earliest first.
    pub(super) fn push(&mut self, fix: &LoggedFix, times: &[Timestamp]) {
        if fix.time.is_some_and(|made| is_near_one(made, times)) {
            self.fixes.push(*fix);
        }
    }

    /// Holds the time of a suspect fix, if a row lies near.
    pub(super) fn doubt(&mut self, fix: &LoggedFix, times: &[Timestamp]) {
        self.doubted.extend(fix.time.filter(|made| is_near_one(*made, times)));
    }

    /// Whether a suspect fix was made within the minute of a row, where its time is in whole minutes.
    pub(super) fn is_doubted(&self, time: Option<Timestamp>) -> bool {
        let Some(time) = time.filter(|time| is_whole(*time)) else { return false };
        self.doubted.iter().any(|made| seconds(*made, time).abs() <= MINUTE_S)
    }

    /// The fixes within a row's minute, and one on each side of it, where the row's time is in whole minutes.
    pub(super) fn about(&self, time: Option<Timestamp>) -> &[LoggedFix] {
        let Some(time) = time.filter(|time| is_whole(*time)) else { return &[] };
        let after_s = |fix: &LoggedFix| fix.time.map_or(0.0, |made| seconds(time, made));
        let first = self.fixes.partition_point(|fix| after_s(fix) <= -MINUTE_S).saturating_sub(1);
        let last = self.fixes.partition_point(|fix| after_s(fix) < MINUTE_S);
        let about = &self.fixes[first..self.fixes.len().min(last + 1)];
        // neighbours that belong to another row are no neighbours of this one
        let near = |fix: &&LoggedFix| after_s(fix).abs() <= HELD_WITHIN_S;
        let skipped = about.iter().take_while(|fix| !near(fix)).count();
        let taken = about.iter().skip(skipped).take_while(near).count();
        &about[skipped..skipped + taken]
    }
}

/// Whether one of some times, earliest first, lies near another.
fn is_near_one(made: Timestamp, times: &[Timestamp]) -> bool {
    let next = times.partition_point(|time| *time < made);
    let near = [next.checked_sub(1), Some(next)].into_iter().flatten().filter_map(|at| times.get(at));
    near.map(|time| seconds(made, *time).abs()).any(|apart_s| apart_s <= HELD_WITHIN_S)
}

/// Whether the fixes say of every moment within the row's doubt of time that the boat cannot have been at a place then.
///
/// A fix that is too far from the place rules out all moments from which the top speed does not bring the boat there.
pub(super) fn contradict(
    fixes: impl Iterator<Item = LoggedFix>,
    (given, time): (Position, Timestamp),
    (own_m, settings): (f64, &TrackSettings),
) -> bool {
    let within_s = clock_s(time);
    let ruled_out = |fix: LoggedFix| {
        let (from, to) = fix.made_between()?;
        let doubt_m = own_m + uncertainty_of(&fix, settings).radius_95().metres();
        let left_m = inverse(given, fix.position).distance_m - doubt_m;
        let away_s = left_m / settings.top_speed_m_per_s();
        Some((seconds(time, to) - away_s, seconds(time, from) + away_s))
    };
    let mut spans: Vec<(f64, f64)> = fixes.filter_map(ruled_out).filter(|(from, to)| from < to).collect();
    spans.sort_by(|one, other| one.0.total_cmp(&other.0));
    let mut open_from_s = -within_s;
    for (from_s, to_s) in spans {
        if from_s >= open_from_s {
            return false;
        }
        open_from_s = open_from_s.max(to_s);
        if open_from_s > within_s {
            return true;
        }
    }
    false
}

/// How well a place at a row's time tells where the boat was within a minute of it; none without fixes.
pub(super) fn uncertainty(
    position: Position,
    time: Timestamp,
    (fixes, settings): (&[LoggedFix], &TrackSettings),
) -> Option<HorizontalUncertainty> {
    let to_m = |place: Position| inverse(position, place).distance_m;
    let doubt_m = |fix: &LoggedFix| uncertainty_of(fix, settings).radius_95().metres();
    let mut radius_m = 0.0_f64;
    for pair in fixes.windows(2) {
        let leg = Leg::between(pair[0], pair[1], 0);
        let doubts_m = (doubt_m(&pair[0]), doubt_m(&pair[1]));
        let stray = Stray::of(&leg, (doubts_m.0 + doubts_m.1, None), settings);
        let from_s = seconds(time, pair[0].time?);
        let span_s = seconds(pair[0].time?, pair[1].time?);
        let share = |at_s: f64| if span_s > 0.0 { ((at_s - from_s) / span_s).clamp(0.0, 1.0) } else { 0.5 };
        let (low, high) = (share(-MINUTE_S), share(MINUTE_S));
        let off_m =
            if low < 0.5 && high > 0.5 { stray.most_m() } else { stray.at_m(low).max(stray.at_m(high)) };
        let farthest_m = to_m(leg.at(low)).max(to_m(leg.at(high)));
        radius_m = radius_m.max(farthest_m + off_m + doubts_m.0.max(doubts_m.1));
    }
    for (end, sign) in [(fixes.first()?, 1.0), (fixes.last()?, -1.0)] {
        let unlogged_s = sign * seconds(time, end.time?) + MINUTE_S;
        if unlogged_s > 0.0 {
            let reach_m = settings.top_speed_m_per_s() * unlogged_s;
            radius_m = radius_m.max(to_m(end.position) + doubt_m(end) + reach_m);
        }
    }
    let radius_m = radius_m.min(HorizontalUncertainty::LARGEST_95_M);
    HorizontalUncertainty::given(radius_m, AccuracyKind::P95).ok()
}
