//! One row held against the rules, bags left out: where its fish was caught, and where it was carried.

use jiff::Timestamp;

use super::{CarriedFinding, CatchEntry, CatchFinding, CatchPosition, CatchSettings, MadeIn};
use crate::assess::{Applying, AskedFish, FishNames, applying};
use crate::once::say_once;
use crate::rule::{Circumstances, KnownTime, MissingTime, Possession, Ruling, Take, TakeRule};
use crate::track::logged_fix::is_zero_island;
use crate::track::{BagNote, Certainty, LoggedFix, Reason, Remedy, RuledTime, Visit};
use crate::zone::{Zone, ZoneSet};
use crate::{Fix, Question, TakeAnswer, Tristate};

/// A row with its answer so far, and the zones that count it.
pub(super) struct Judged<'a> {
    pub(super) finding: CatchFinding,
    pub(super) circumstances: Circumstances,
    pub(super) applying: Vec<Applying<'a>>,
    /// Why its date says nothing about a season, if it does not.
    pub(super) undated: Option<MissingTime>,
}

impl Judged<'_> {
    /// A time, or why it is not known: a date that may be wrong says nothing about a season.
    pub(super) fn known(&self, time: Option<Timestamp>) -> KnownTime {
        self.undated.map_or_else(|| time.ok_or(MissingTime::NotGiven), Err)
    }

    /// What a rule says about this fish at its time.
    pub(super) fn ruled(&self, names: &FishNames<'_>, zone: &Zone, rule: &TakeRule) -> Ruling {
        let entry = &self.finding.entry;
        let time = self.known(entry.time);
        let fish = AskedFish { asked: &entry.asked, circumstances: &self.circumstances, time };
        names.keep(zone, rule, fish)
    }
}

/// Judges a row where its fish was caught; `near` are the fixes about a time in whole minutes.
pub(super) fn judge<'a>(
    zones: &'a ZoneSet,
    settings: &CatchSettings,
    (entry, position, near): (CatchEntry, CatchPosition, &[LoggedFix]),
) -> Judged<'a> {
    let mut circumstances = entry.circumstances(settings);
    let uncertainty = position.uncertainty(&entry, near, &settings.track);
    let undated = undated(&entry, settings);
    let mut finding = CatchFinding {
        position,
        uncertainty,
        answer: TakeAnswer::Undecided,
        because: Vec::new(),
        conditions: Vec::new(),
        settle: Vec::new(),
        bags: Vec::new(),
        made_in: Vec::new(),
        carried: Vec::new(),
        is_lowered_by_carrying: false,
        entry,
    };
    if finding.entry.position.is_some_and(is_zero_island) {
        finding.because.push(Reason::RowAtNullIsland);
    }
    let place = finding.position.position().zip(uncertainty);
    let Some((position, uncertainty)) = place else {
        let (why, settle) = finding.position.reasons(&finding.entry, settings);
        finding.position = unknown(&finding.position);
        finding.because.push(why);
        finding.settle.push(settle);
        return Judged { finding, circumstances, applying: Vec::new(), undated };
    };
    let fix = Fix { position, uncertainty, time: finding.entry.time.filter(|_| undated.is_none()) };
    let applying = applying(zones, &fix, &circumstances);
    if answer(zones, &fix, (&circumstances, settings), &mut finding) {
        // a length that settles nothing is as good as none wherever else the rule is asked
        circumstances.length_cm = None;
    }
    Judged { finding, circumstances, applying, undated }
}

/// The zones whose rules bound a fish where it was caught, each with what it says, bags counted.
pub(super) fn made_in(zones: &ZoneSet, names: &FishNames<'_>, judged: &Judged<'_>) -> Vec<MadeIn> {
    let numbered = |zone: &Zone| zones.zones().iter().position(|other| std::ptr::eq(other, zone));
    let of_zone = |one: &Applying<'_>| {
        let zone_number = numbered(one.zone)?;
        let notes = || judged.finding.bags.iter().filter(|note| note.zone_number == zone_number);
        let may_be_kept = allowed(judged.finding.answer) == Tristate::Yes;
        let by_bag = if may_be_kept {
            // another permission may allow what one does not
            Tristate::Yes
        } else if notes().any(BagNote::surely_over) {
            Tristate::No
        } else if notes().any(BagNote::perhaps_over) {
            Tristate::Undecided
        } else {
            Tristate::Yes
        };
        let says = judged.ruled(names, one.zone, &one.zone.rule).allowed.and(by_bag);
        Some(MadeIn {
            zone: one.zone.id.clone(),
            zone_number,
            allowed: one.applies.negated().or(says),
            nothing_may_be_taken: one.zone.rule.take == Take::Nothing,
        })
    };
    judged.applying.iter().filter_map(of_zone).collect()
}

/// A place that no boat can have reached is none.
fn unknown(position: &CatchPosition) -> CatchPosition {
    match position {
        CatchPosition::Between { before, after, .. } => {
            CatchPosition::Unknown { before: Some(*before), after: Some(*after) }
        }
        CatchPosition::Given(_)
        | CatchPosition::Fix(_)
        | CatchPosition::Contradicted { .. }
        | CatchPosition::Unknown { .. } => *position,
    }
}

/// Why the date of a row says nothing about a season, if it does not: its own year, or the dates of its log.
fn undated(entry: &CatchEntry, settings: &CatchSettings) -> Option<MissingTime> {
    if settings.track.dates_doubtful {
        Some(MissingTime::LogDoubted)
    } else {
        entry.is_date_doubtful().then_some(MissingTime::Doubted)
    }
}

/// Fills in the answer; returns whether the length is too near to a limit for it.
fn answer(
    zones: &ZoneSet,
    fix: &Fix,
    (circumstances, settings): (&Circumstances, &CatchSettings),
    finding: &mut CatchFinding,
) -> bool {
    let asked = finding.entry.asked.clone();
    let ask = |length_cm: Option<f64>| {
        let circumstances = Circumstances { length_cm, ..circumstances.clone() };
        let missing_time = undated(&finding.entry, settings).unwrap_or_default();
        let species = vec![asked.clone()];
        let question = Question { species, circumstances, missing_time, ..Question::default() };
        zones.assess(fix, &question)
    };
    let mut whole = ask(circumstances.length_cm);
    let Some(take) = whole.take.pop() else { return false };
    finding.answer = take.answer;
    finding.because.extend(take.because.into_iter().map(Reason::from));
    finding.conditions = take.conditions;
    finding.settle = take.settle.into_iter().map(Remedy::from).collect();
    if take.answer == TakeAnswer::Undecided {
        finding.settle.extend(whole.settle.into_iter().map(Remedy::from));
        say_once(&mut finding.settle);
    }
    let error_cm = settings.measuring_error_cm;
    let Some(length_cm) = circumstances.length_cm.filter(|_| error_cm > 0.0) else { return false };
    let differs = [(length_cm - error_cm).max(0.0), length_cm + error_cm]
        .into_iter()
        .any(|length_cm| ask(Some(length_cm)).take.first().is_some_and(|other| other.answer != take.answer));
    if differs {
        finding.answer = TakeAnswer::Undecided;
        finding.because.insert(0, Reason::LengthNearLimit { length_cm, error_cm });
        finding.settle.insert(0, Remedy::MeasureAgain);
    }
    differs
}

/// An answer as a value of three, for combining; no zone at all allows.
pub(super) fn allowed(answer: TakeAnswer) -> Tristate {
    match answer {
        TakeAnswer::Keep | TakeAnswer::Unzoned => Tristate::Yes,
        TakeAnswer::Release => Tristate::No,
        TakeAnswer::Undecided => Tristate::Undecided,
    }
}

/// Finds where one row's fish was carried: which visits, or parts of them, came after the catch.
///
/// Where neither the row nor the log says when, every visit may have.
pub(super) fn carried(
    zones: &ZoneSet,
    names: &FishNames<'_>,
    judged: &Judged<'_>,
    visits: &[Visit],
) -> Vec<CarriedFinding> {
    let entry = &judged.finding.entry;
    if !entry.may_be_aboard() {
        return Vec::new();
    }
    let mut found: Vec<CarriedFinding> = Vec::new();
    for visit in visits {
        let zone = &zones.zones()[visit.zone_number];
        if zone.rule.possession == Possession::Allowed || was_caught_in(judged, (zone, visit)) {
            continue;
        }
        let parts = visit.ruled.iter().filter_map(|part| one_part(names, judged, (zone, visit), part));
        let hardest = parts.reduce(|one, other| if is_harder(&other, &one) { other } else { one });
        let Some(one) = hardest else { continue };
        match found.iter_mut().find(|other| other.zone_number == one.zone_number) {
            Some(other) => other.also(one),
            None => found.push(one),
        }
    }
    found.sort_by_key(|one| one.zone_number);
    found
}

/// Whether the fish was caught during a visit to a zone that applied then: that is a matter of its rule on taking.
///
/// Unless the rule did not apply at the catch (outside its doubt, displaced, not yet in force) and may do so before the boat
/// leaves.
fn was_caught_in(judged: &Judged<'_>, (zone, visit): (&Zone, &Visit)) -> bool {
    let Some(caught) = judged.finding.entry.time else { return false };
    let was_there = visit.entered().time.is_some_and(|entered| entered <= caught);
    let is_elsewhere = judged.finding.position.position().is_some()
        && !judged.applying.iter().any(|one| std::ptr::eq(one.zone, zone));
    was_there && !is_elsewhere
}

/// What the rule says of the fish aboard in a part of a visit; none if that was before the catch, or the rule did not bind,
/// or lets it be aboard without conditions.
fn one_part(
    names: &FishNames<'_>,
    judged: &Judged<'_>,
    (zone, visit): (&Zone, &Visit),
    part: &RuledTime,
) -> Option<CarriedFinding> {
    let (entry, circumstances) = (&judged.finding.entry, &judged.circumstances);
    // with a date that may be wrong nobody knows which was first
    let caught = entry.time.filter(|_| !entry.is_date_doubtful());
    let is_after = part.to.zip(caught).is_none_or(|(to, caught)| to > caught);
    if !is_after || part.binds == Tristate::No {
        return None;
    }
    let is_dated = entry.time.is_some() && part.to.is_some() && !entry.is_date_doubtful();
    let from = part.from.max(caught);
    let asked = |time: Option<Timestamp>| {
        names.possess(zone, AskedFish { asked: &entry.asked, circumstances, time: judged.known(time) })
    };
    let rulings = [asked(from), asked(part.to)];
    let ruling = rulings.into_iter().max_by_key(|ruling| hardness(ruling.allowed))?;
    let certainty =
        if part.inside == Tristate::Yes && is_dated { Certainty::Certain } else { Certainty::Possible };
    let mut carried = CarriedFinding {
        zone: zone.id.clone(),
        zone_number: visit.zone_number,
        zone_name: zone.name.clone(),
        certainty,
        entered: from,
        left: visit.left().time,
        times: 1,
        allowed: ruling.allowed,
        because: ruling.because.into_iter().map(Reason::from).collect(),
        conditions: ruling.conditions,
        settle: ruling.settle.into_iter().map(Remedy::from).collect(),
    };
    if part.binds == Tristate::Undecided && part.inside == Tristate::Yes && carried.allowed == Tristate::No {
        carried.allowed = Tristate::Undecided;
        carried.because.push(Reason::BindingUnsettled { zone: zone.name.clone() });
    }
    carried.soften(entry.kept, is_dated);
    (carried.allowed != Tristate::Yes || !carried.conditions.is_empty()).then_some(carried)
}

impl CarriedFinding {
    /// The fish may have been aboard another boat of the same log.
    pub(super) fn by_some_boat(&mut self) {
        self.certainty = Certainty::Possible;
        if self.allowed == Tristate::No {
            self.allowed = Tristate::Undecided;
        }
        self.because.push(Reason::SeveralBoats);
        self.settle.push(Remedy::GiveLogOfThatBoat);
    }

    /// Nothing is made of what is not sure.
    fn soften(&mut self, kept: Option<bool>, is_dated: bool) {
        if self.allowed != Tristate::Yes && kept.is_none() {
            self.allowed = Tristate::Undecided;
            self.because.push(Reason::KeptUnsaid);
            self.settle.push(Remedy::SayWhetherKept);
        }
        if self.allowed == Tristate::No && self.certainty == Certainty::Possible {
            self.allowed = Tristate::Undecided;
        }
        if !is_dated {
            self.because.push(Reason::BeforeOrAfterUnknown);
        } else if self.certainty == Certainty::Possible {
            self.because.push(Reason::PerhapsNeverInside);
        }
    }

    /// Counts one more time; keeps the one that the rule is harder on.
    fn also(&mut self, other: Self) {
        let times = self.times.saturating_add(1);
        if is_harder(&other, self) {
            *self = other;
        }
        self.times = times;
    }
}

fn is_harder(one: &CarriedFinding, other: &CarriedFinding) -> bool {
    let key = |carried: &CarriedFinding| (hardness(carried.allowed), carried.certainty);
    key(one) > key(other)
}

fn hardness(allowed: Tristate) -> u8 {
    match allowed {
        Tristate::Yes => 0,
        Tristate::Undecided => 1,
        Tristate::No => 2,
    }
}
