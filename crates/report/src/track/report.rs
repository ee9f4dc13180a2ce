//! What the answer about a log is drawn up from: the audit and its catches, and what stands beside them.

use takeline::track::{Audit, CatchFinding};
use takeline::zone::ZoneSet;
use takeline::{GeodesicSegment, Metres, Position};

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
    /// Catches, judged where and when they were made, in the order of their list; none without such a list.
    pub catches: Option<&'a [CatchFinding]>,
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
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum InputKind {
    /// A trip that was made.
    #[default]
    Log,
    /// A plan: the file holds routes only.
    Plan,
}

/// Something that the reader of the log had to say.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
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
