//! What the document of a log is drawn up from, and what its views ask of that: the audit and its catches, the log, the zones,
//! and which positions are withheld.

use takeline::track::{Audit, CatchFinding, Certainty, Quality, Reason, TrackPoint, TrackSettings, VisitEnd};
use takeline::zone::ZoneSet;
use takeline::{GeodesicSegment, Metres, Position, Tristate};

use super::{GapDocument, ShownPlace, TrackDocument, VisitDocument};

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
    /// Rows of that list that could not be read, so that nothing is known of those fish.
    pub catch_rows_unread: u64,
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

impl VisitDocument<'_> {
    /// What its first and its last moment are called: at an end of the log nobody saw the boat come in or go out.
    pub(crate) fn end_labels(&self) -> (&'static str, &'static str) {
        let is_certain = self.certainty == Certainty::Certain;
        let first = match (self.course.came_in, is_certain) {
            _ if self.began_at == VisitEnd::Shore => "began at the shore",
            (true, _) => "entered",
            (false, true) => "log begins inside",
            (false, false) => "log begins there",
        };
        let last = match (self.course.went_out, is_certain) {
            _ if self.ended_at == VisitEnd::Shore => "ended at the shore",
            (true, _) => "left",
            (false, true) => "log ends inside",
            (false, false) => "log ends there",
        };
        (first, last)
    }

    /// What the reasons are called for which its rule bound the boat or not: where it did, that it was displaced holds for a part.
    pub(crate) fn binds_label(&self) -> &'static str {
        let is_displaced = |reason: &Reason| matches!(reason, Reason::Displaced { .. });
        if self.binds == Tristate::Yes && self.binds_because_codes.iter().any(is_displaced) {
            "for part of the time"
        } else {
            "because"
        }
    }
}

impl<'a> TrackDocument<'a> {
    /// The zones that the track was held against.
    pub(crate) fn zones(&self) -> &'a ZoneSet {
        self.report.zones
    }

    /// The state of the log, as the audit found it.
    pub(crate) fn audited_quality(&self) -> &'a Quality {
        &self.report.audit.quality
    }

    /// How the track was read, as the audit has it.
    pub(crate) fn audit_settings(&self) -> &'a TrackSettings {
        &self.report.audit.settings
    }

    /// Whether the file holds a plan, not a trip that was made.
    pub(crate) fn is_plan(&self) -> bool {
        self.input.kind == InputKind::Plan
    }

    /// Whether the position is withheld.
    pub(crate) fn hides(&self, position: Position) -> bool {
        self.report.trimmed.is_some_and(|trimmed| trimmed.hides(position))
    }

    /// The position, unless it is withheld.
    pub(crate) fn shown(&self, position: Position) -> ShownPlace {
        ShownPlace((!self.hides(position)).then_some(position))
    }

    /// Whether there was a list of catches, be it empty.
    pub(crate) fn has_catch_log(&self) -> bool {
        self.report.catches.is_some()
    }

    /// The outline of the water that can have been reached in a gap, as so many positions.
    pub(crate) fn outline(&self, gap: &GapDocument<'_>, corners: u32) -> Vec<Position> {
        gap.gap.reachable_outline(&self.report.audit.settings, corners)
    }

    /// The way for drawings, cut where positions are withheld.
    pub(crate) fn shown_way(&self) -> Vec<TrackPoint> {
        let mut is_broken = false;
        let mut points = self.report.audit.sketch.clone();
        points.retain_mut(|point| {
            let is_shown = !self.hides(point.fix.position);
            point.after_break |= is_shown && is_broken;
            is_broken = !is_shown;
            is_shown
        });
        points
    }
}
