//! What a log gives: fixes, waypoints, and notes about both.

use jiff::Timestamp;
use takeline::track::{LogPlace, LoggedFix, UnplacedRecord};
use takeline::{HorizontalUncertainty, Position};

/// One thing read from a log.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum LogItem {
    /// A fix of a track: a record that the boat was there.
    Fix(LoggedFix),
    /// A record of a track that tells no usable place: unreadable, void, or not measured. The boat was somewhere all the same.
    ///
    /// Damaged sentences of NMEA 0183 count as one such record from the tenth in a row on: fewer are about a second of a log.
    Unplaced(UnplacedRecord),
    /// A point of a route: a plan of where to go, not a record of having been there.
    RoutePoint(LoggedFix),
    /// A waypoint of a GPX file: a named place, not a record of having been there.
    Waypoint(Waypoint),
    /// Something that was read with a doubt, or left out. A note about a fix comes after the fix.
    Note(LogNote),
}

/// A named place in a GPX file.
#[derive(Debug, Clone, PartialEq)]
pub struct Waypoint {
    /// Where it is.
    pub position: Position,
    /// How well, if the file says so in metres.
    pub uncertainty: Option<HorizontalUncertainty>,
    /// When it was set, if the file says so.
    pub time: Option<Timestamp>,
    /// Its name as it stands in the file, at most 256 bytes; anybody may have written it.
    pub name: Option<String>,
    /// Where in the log it stands; the stretch is that of the points before it.
    pub place: LogPlace,
}

/// Something about a log that whoever reads the answer should know.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LogNote {
    /// Where: the line (and the byte) of the point, sentence or row; of the last one for a note that sums up.
    pub place: LogPlace,
    /// What kind of thing.
    pub kind: LogNoteKind,
    /// The same in words: a fragment, lower case, no full stop.
    pub text: String,
    /// How many points, sentences or rows the note stands for. A kind that may hold for every fix is told at its first
    /// place with 1, and summed up at the end of the log for all others.
    pub count: u64,
}

/// Kinds of notes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[non_exhaustive]
pub enum LogNoteKind {
    /// A point without a usable position; left out.
    PositionUnreadable,
    /// A position that was read, but could be meant otherwise.
    PositionDoubtful,
    /// A row of a table that is no fix; left out.
    RowUnreadable,
    /// An empty element of time; the fix has no time.
    TimeEmpty,
    /// A time that cannot be read; the fix has no time.
    TimeUnreadable,
    /// A time without a zone, in a format whose standard says that times are in UTC; read so.
    TimeWithoutZone,
    /// A time without an offset from UTC, in a table: read as if in UTC, for the time between fixes alone.
    TimeZoneUnknown,
    /// A time before 1990, which a clock shows that was not set; in a log with other times it is none.
    ClockNotSet,
    /// A time of day without a date; the fix has no time.
    TimeWithoutDate,
    /// A date so old that the receiver's count of weeks may have started anew; read as it stands.
    DateSuspicious,
    /// A sentence whose checksum does not fit; left out.
    ChecksumWrong,
    /// A sentence without a checksum, in a log that has none; read.
    ChecksumMissing,
    /// A sentence that is damaged; left out.
    SentenceUnreadable,
    /// A fix that the receiver itself called void; left out.
    FixVoid,
    /// A position that was reckoned, typed in or simulated, not measured; left out.
    FixNotMeasured,
    /// Sentences of one instant that give different positions; the one with the best sentence was taken.
    PositionsDisagree,
    /// A dilution of precision or a speed that is no usable number; the fix goes without.
    FigureUnusable,
    /// An accuracy that was stated and is no usable number of metres; the fix goes without.
    AccuracyUnreadable,
    /// A column that was not read.
    ColumnIgnored,
    /// A route: a plan, not a record. Its points are no fixes; each route is a stretch of its own.
    RouteIsAPlan,
    /// An accuracy of 0, which receivers write when they do not know it; the fix goes without.
    AccuracyZero,
    /// A file that does not say that it is GPX 1.0 or 1.1; read as 1.1.
    VersionUnknown,
    /// Text in another encoding than UTF-8, of which only the ASCII characters were read.
    TextNotUtf8,
    /// Text behind the end of the document; left out.
    TextOutside,
}

impl LogNoteKind {
    /// Returns the name of the kind in machine-readable output; names are added, never changed.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::PositionUnreadable => "position-unreadable",
            Self::PositionDoubtful => "position-doubtful",
            Self::RowUnreadable => "row-unreadable",
            Self::TimeEmpty => "time-empty",
            Self::TimeUnreadable => "time-unreadable",
            Self::TimeWithoutZone => "time-without-zone",
            Self::TimeZoneUnknown => "time-zone-unknown",
            Self::ClockNotSet => "clock-not-set",
            Self::TimeWithoutDate => "time-without-date",
            Self::DateSuspicious => "date-suspicious",
            Self::ChecksumWrong => "checksum-wrong",
            Self::ChecksumMissing => "checksum-missing",
            Self::SentenceUnreadable => "sentence-unreadable",
            Self::FixVoid => "fix-void",
            Self::FixNotMeasured => "fix-not-measured",
            Self::PositionsDisagree => "positions-disagree",
            Self::FigureUnusable => "figure-unusable",
            Self::AccuracyUnreadable => "accuracy-unreadable",
            Self::ColumnIgnored => "column-ignored",
            Self::RouteIsAPlan => "route-is-a-plan",
            Self::AccuracyZero => "accuracy-zero",
            Self::VersionUnknown => "version-unknown",
            Self::TextNotUtf8 => "text-not-utf-8",
            Self::TextOutside => "text-outside",
        }
    }

    /// Returns whether a position may have been lost: the boat may have been somewhere that no fix of the log tells.
    #[must_use]
    pub const fn leaves_out(self) -> bool {
        matches!(
            self,
            Self::PositionUnreadable
                | Self::RowUnreadable
                | Self::ChecksumWrong
                | Self::SentenceUnreadable
                | Self::FixVoid
                | Self::FixNotMeasured
                | Self::TextOutside
        )
    }
}
