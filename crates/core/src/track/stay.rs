//! When the boat was surely or perhaps inside a zone, in the order of the log.

use jiff::Timestamp;

use super::Certainty;

/// A point in the order of a log: how many fixes went before, and the share of the way to the next one.
///
/// The order stays one where there are no times, or where a clock was set back.
#[derive(Debug, Clone, Copy, PartialEq, PartialOrd)]
pub(super) struct Along {
    fix: u64,
    share: f64,
}

impl Along {
    pub(super) fn at_fix(fix: u64) -> Self {
        Self { fix, share: 0.0 }
    }

    /// A share of the way from a fix to the next; all of it is the next fix.
    pub(super) fn after_fix(fix: u64, share: f64) -> Self {
        if share >= 1.0 { Self::at_fix(fix.saturating_add(1)) } else { Self { fix, share: share.max(0.0) } }
    }
}

/// One end of a stay.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct End {
    pub(super) along: Along,
    pub(super) time: Option<Timestamp>,
    /// From when to when it was, where the time is placed and not measured.
    pub(super) between: Option<(Timestamp, Timestamp)>,
}

impl End {
    /// The earliest and the latest moment that it can have been.
    pub(super) fn made_between(&self) -> Option<(Timestamp, Timestamp)> {
        self.between.or(self.time.zip(self.time))
    }
}

/// A time inside, without a break; at one fix both ends are the same.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Stay {
    pub(super) from: End,
    pub(super) to: End,
}

impl Stay {
    /// The part of it that lies in another one.
    fn within(&self, other: Self) -> Self {
        Self {
            from: if self.from.along < other.from.along { other.from } else { self.from },
            to: if other.to.along < self.to.along { other.to } else { self.to },
        }
    }

    /// Whether another stay begins or ends in the middle of it, or one of these times lies there.
    fn is_shaken(&self, other: Self, changes: &[Timestamp]) -> bool {
        let begins_or_ends =
            [other.from, other.to].iter().any(|end| self.from.along < end.along && end.along < self.to.along);
        let is_in = |time: &Timestamp| {
            let made = self.from.made_between().zip(self.to.made_between());
            made.is_some_and(|((from, _), (_, to))| from.min(to) < *time && *time < from.max(to))
        };
        begins_or_ends || changes.iter().any(is_in)
    }
}

/// Stays in the order of the log, none of which touches the next, so that they grow with what happens and not with the
/// length of the log.
#[derive(Debug, Clone, Default)]
struct Joined(Vec<Stay>);

impl Joined {
    fn push(&mut self, stay: Stay) {
        match self.0.last_mut() {
            Some(last) if stay.from.along <= last.to.along => {
                if last.to.along < stay.to.along {
                    last.to = stay.to;
                }
            }
            _ => self.0.push(stay),
        }
    }

    fn holds(&self, from: Along, to: Along) -> bool {
        let next = self.0.partition_point(|stay| stay.to.along < to);
        self.0.get(next).is_some_and(|stay| stay.from.along <= from)
    }

    /// The ends strictly between two points.
    fn ends_between(&self, from: Along, to: Along) -> impl Iterator<Item = End> + '_ {
        let first = self.0.partition_point(|stay| stay.to.along <= from);
        let near = self.0[first..].iter().take_while(move |stay| stay.from.along < to);
        near.flat_map(|stay| [stay.from, stay.to]).filter(move |end| from < end.along && end.along < to)
    }
}

/// When the boat was perhaps inside, and when it surely was, which is part of it.
#[derive(Debug, Clone, Default)]
pub(super) struct Stays {
    possible: Joined,
    certain: Joined,
    /// The part of the certain stays that is sure even if the boat left the straight way: its fixes, and all times at which
    /// it cannot have come as far as the line.
    firm: Joined,
}

impl Stays {
    pub(super) fn push(&mut self, stay: Stay, certainty: Certainty) {
        self.possible.push(stay);
        if certainty == Certainty::Certain {
            self.certain.push(stay);
        }
    }

    /// Marks a part of a certain stay as sure even if the boat left the straight way.
    pub(super) fn be_firm(&mut self, stay: Stay) {
        self.firm.push(stay);
    }

    /// Adds a possible stay, and the time since the last one with it.
    pub(super) fn go_on(&mut self, stay: Stay) {
        let from = self.possible.0.last().map_or(stay.from, |last| last.to);
        self.possible.push(Stay { from, to: stay.to });
    }

    pub(super) fn possible(&self) -> &[Stay] {
        &self.possible.0
    }

    /// A piece of a possible stay in parts that are certain throughout or not at all, in order; single fixes that are
    /// certain stand for themselves. `changes` are the times at which the rule changes.
    ///
    /// Between two fixes inside, the straight way tells that the boat stayed, and not when it was out if it did not. So
    /// where anything changes over a time in which it can have left, that time is no more than possible.
    pub(super) fn parts_of(&self, piece: Stay, changes: &[Timestamp]) -> Vec<(Stay, Certainty)> {
        let (from, to) = (piece.from.along, piece.to.along);
        let mut parts = Vec::new();
        let mut begins = piece.from;
        let first = self.certain.0.partition_point(|stay| stay.to.along < from);
        for certain in self.certain.0[first..].iter().take_while(|stay| stay.from.along <= to) {
            let sure = certain.within(piece);
            if begins.along < sure.from.along {
                parts.push((Stay { from: begins, to: sure.from }, Certainty::Possible));
            }
            self.push_sure(&mut parts, (certain, sure), changes);
            begins = sure.to;
        }
        if begins.along < to || parts.is_empty() {
            parts.push((Stay { from: begins, to: piece.to }, Certainty::Possible));
        }
        parts
    }

    /// The part `sure` of a certain stay, cut where something changes between two firm times.
    fn push_sure(
        &self,
        parts: &mut Vec<(Stay, Certainty)>,
        (certain, sure): (&Stay, Stay),
        changes: &[Timestamp],
    ) {
        let first = self.firm.0.partition_point(|stay| stay.to.along < sure.from.along);
        let firm_before = self.firm.0[..first].last().filter(|firm| certain.from.along <= firm.to.along);
        let mut loose_from = firm_before.map_or(certain.from, |firm| firm.to);
        let mut begins = sure.from;
        let mut is_firm = false;
        let next_firm = self.firm.0[first..].iter().take_while(|stay| stay.from.along <= certain.to.along);
        for next in next_firm.map(Some).chain([None]) {
            let loose = Stay { from: loose_from, to: next.map_or(certain.to, |next| next.from) };
            let shaken = loose.within(sure);
            if shaken.from.along < shaken.to.along && loose.is_shaken(sure, changes) {
                if begins.along < shaken.from.along || is_firm {
                    parts.push((Stay { from: begins, to: shaken.from }, Certainty::Certain));
                }
                parts.push((shaken, Certainty::Possible));
                begins = shaken.to;
            }
            is_firm = next.is_some();
            if sure.to.along < loose.to.along {
                break;
            }
            loose_from = next.map_or(certain.to, |next| next.to);
        }
        if begins.along < sure.to.along
            || sure.from.along == sure.to.along
            || self.firm.holds(begins.along, begins.along)
        {
            parts.push((Stay { from: begins, to: sure.to }, Certainty::Certain));
        }
    }

    /// How surely the boat was inside all through a time in which no stay begins or ends.
    pub(super) fn over(&self, from: Along, to: Along) -> Option<Certainty> {
        if self.certain.holds(from, to) {
            Some(Certainty::Certain)
        } else {
            self.possible.holds(from, to).then_some(Certainty::Possible)
        }
    }

    /// The ends of all stays strictly between two points.
    pub(super) fn ends_between(&self, from: Along, to: Along) -> impl Iterator<Item = End> + '_ {
        self.possible.ends_between(from, to).chain(self.certain.ends_between(from, to))
    }
}
