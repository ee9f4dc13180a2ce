use jiff::Timestamp;
use takeline::track::{Audit, Visit};
use takeline::zone::{Zone, ZoneId, ZoneSet};
use takeline::{GeodesicSegment, Metres, Position, TakeAnswer, Tristate};

/// What a track can never show; printed with every report.
pub const TRACK_LIMITS: [&str; 4] = [
    "A track shows where the receiver was, not what was done: gear, lines and fish are not in it.",
    "Between two fixes, and in a gap, the boat may have been anywhere that its top speed lets it reach.",
    "Times are those of the log; a wrong clock in the device is not seen.",
    "Possible means not settled, and is nothing against anybody.",
];

/// An audit and all that is printed beside it.
#[derive(Debug, Clone)]
pub struct AuditReport<'a> {
    /// The log.
    pub input: AuditInput,
    /// What was found.
    pub audit: &'a Audit,
    /// The zones that it was held against.
    pub zones: &'a ZoneSet,
    /// What the reader of the log had to say, in the order of the log.
    pub notes: Vec<TrackNote>,
    /// Catches, judged where and when they were made, in the order of their list.
    pub catches: Vec<CatchAnswer>,
    /// The command that makes this report again.
    pub command: String,
    /// The ends of the track, if their positions are withheld.
    pub trimmed: Option<TrimmedEnds>,
}

/// The log that was read.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct AuditInput {
    /// The path as given, or `-` for standard input.
    pub path: String,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: Option<String>,
    /// Whether it tells of a trip or of a plan.
    pub kind: InputKind,
}

/// What a log tells of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum InputKind {
    /// A trip that was made.
    #[default]
    Log,
    /// A plan: the file holds routes only.
    Plan,
}

/// Something that the reader of the log had to say.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TrackNote {
    /// Line of the log, counted from 1.
    pub line: u64,
    /// The kind of thing, for programs.
    pub code: &'static str,
    /// The same in words.
    pub text: String,
    /// How many places it stands for.
    pub count: u64,
    /// Whether a position may have been lost.
    pub leaves_out: bool,
}

/// One row of a catch log, judged.
#[derive(Debug, Clone, PartialEq)]
pub struct CatchAnswer {
    /// Line of the catch log, counted from 1.
    pub row: u64,
    /// The fish as written, or none.
    pub asked: Option<String>,
    /// When it was caught.
    pub time: Option<Timestamp>,
    /// Where: as written, or from the track.
    pub position: Option<Position>,
    /// Where the row says that it was, and where its track has the boat then, if the one contradicts the other.
    pub contradicted: Option<(Position, Position)>,
    /// The answer there and then.
    pub answer: TakeAnswer,
    /// Why, one sentence each.
    pub because: Vec<String>,
    /// Zones that it was carried through afterwards and whose rule says something about that.
    pub carried: Vec<CarriedAnswer>,
    /// Whether it might be kept but for where it was carried.
    pub is_lowered_by_carrying: bool,
}

/// A zone that a fish was carried through.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CarriedAnswer {
    /// The zone.
    pub zone: ZoneId,
    /// Whether the fish was allowed aboard there; yes under conditions.
    pub allowed: Tristate,
    /// Why, conditions included.
    pub because: Vec<String>,
}

/// Circles about both ends of a track inside which no position is given away.
///
/// A boat that has made less than so many metres of way is still inside the circle, so the first and the last metres
/// of way are withheld with it, and so is every later pass by the launch.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TrimmedEnds {
    ends: Option<(Position, Position)>,
    radius: Metres,
}

impl TrimmedEnds {
    /// Withholds what lies within `radius` of the first or the last point of the track.
    #[must_use]
    pub fn of(audit: &Audit, radius: Metres) -> Self {
        let ends = audit.sketch.first().zip(audit.sketch.last());
        Self { ends: ends.map(|(first, last)| (first.fix.position, last.fix.position)), radius }
    }

    /// Returns how far from the ends positions are withheld.
    #[must_use]
    pub fn radius(&self) -> Metres {
        self.radius
    }

    /// Returns whether this position is withheld; all are where the track has no ends.
    #[must_use]
    pub fn hides(&self, position: Position) -> bool {
        let within = |end| GeodesicSegment::between(end, position).length() <= self.radius;
        self.ends.is_none_or(|(first, last)| within(first) || within(last))
    }
}

impl<'a> AuditReport<'a> {
    /// The position, unless it is withheld.
    pub(crate) fn shown(&self, position: Position) -> Option<Position> {
        (!self.hides(position)).then_some(position)
    }

    /// Whether the position is withheld.
    pub(crate) fn hides(&self, position: Position) -> bool {
        self.trimmed.is_some_and(|trimmed| trimmed.hides(position))
    }

    /// The zone of a visit.
    pub(crate) fn zone_of(&self, visit: &Visit) -> Option<&'a Zone> {
        self.zones.zones().get(visit.zone_number).filter(|zone| zone.id == visit.zone)
    }

    /// Whether a rule may have restricted the boat at some moment of a visit: it may have bound it, and restricts something.
    pub(crate) fn may_restrict(&self, visit: &Visit) -> bool {
        visit.binds != Tristate::No && !self.is_free(visit)
    }

    /// Whether the rule of a visit's zone restricts nothing at all.
    pub(crate) fn is_free(&self, visit: &Visit) -> bool {
        self.zone_of(visit).is_some_and(|zone| zone.rule.restricts_nothing())
    }

    /// The name of the zone of a visit, else its identifier.
    pub(crate) fn zone_name<'v>(&self, visit: &'v Visit) -> &'v str
    where
        'a: 'v,
    {
        self.zone_of(visit).map_or(&visit.zone.0, |zone| &zone.name)
    }

    /// The name of a zone that is known by its identifier only.
    pub(crate) fn name_of<'v>(&self, id: &'v ZoneId) -> &'v str
    where
        'a: 'v,
    {
        self.zones.zones().iter().find(|zone| zone.id == *id).map_or(&id.0, |zone| &zone.name)
    }

    /// The files that the zones were read from, each once, in the order of the zones.
    pub(crate) fn zone_files(&self) -> Vec<&'a takeline::zone::ZoneFile> {
        let mut files: Vec<&takeline::zone::ZoneFile> = Vec::new();
        for zone in self.zones.zones() {
            if !files.iter().any(|file| file.path == zone.file.path && file.sha256 == zone.file.sha256) {
                files.push(&zone.file);
            }
        }
        files
    }
}
