//! One row, bags left out.

use jiff::Timestamp;

use super::{CatchEntry, CatchFinding, CatchPosition, CatchSettings};
use crate::assess::{Applying, AskedFish, FishNames, applying};
use crate::rule::{Circumstances, KnownTime, MissingTime, Ruling, TakeRule};
use crate::track::logged_fix::is_zero_island;
use crate::track::{LoggedFix, Reason, Remedy};
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
        entry.is_date_doubtful.then_some(MissingTime::Doubted)
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
