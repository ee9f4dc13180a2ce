//! One finding: what it is, how grave, where, and what would mend it.

use jiff::Timestamp;
use jiff::civil::Date;
use takeline::zone_file::{Fault, FaultKind, FeatureRef, FileWarning, Place, VertexRef, WarningKind};
use takeline::{BoundaryFault, Position, RingChange};

use crate::catalogue::Difference;

/// How grave a finding is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Severity {
    /// Worth knowing; sound files have such.
    Note,
    /// Somebody should look at it with the law beside.
    Warning,
    /// The file is refused, or contradicts what it was held against.
    Error,
}

impl Severity {
    /// Returns the word of the contract.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// Where a finding is; everything counts from 1.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Spot {
    /// The feature.
    pub feature: Option<usize>,
    /// Its id.
    pub zone_id: Option<String>,
    /// The members that lead to it.
    pub member: Vec<String>,
    /// The polygon, in a multipolygon.
    pub part: Option<usize>,
    /// The ring; 1 is the outer one.
    pub ring: Option<usize>,
    /// The vertex.
    pub vertex: Option<usize>,
    /// The line in the file.
    pub line: Option<usize>,
    /// The column, where the text is not JSON.
    pub column: Option<usize>,
}

impl From<&Place> for Spot {
    fn from(place: &Place) -> Self {
        Self {
            feature: place.feature.as_ref().map(|feature| feature.number),
            zone_id: place.feature.as_ref().and_then(|feature| feature.id.clone()),
            member: place.member.clone(),
            part: place.vertex.and_then(|vertex| vertex.part),
            ring: place.vertex.map(|vertex| vertex.ring),
            vertex: place.vertex.and_then(|vertex| vertex.vertex).map(|(vertex, _)| vertex),
            line: place.line_column.map(|(line, _)| line),
            column: place.line_column.map(|(_, column)| column),
        }
    }
}

impl Spot {
    /// The same place in the words of the reader.
    pub(super) fn place(&self) -> Place {
        let mut place = Place::default();
        place.feature = self.feature.map(|number| FeatureRef { number, id: self.zone_id.clone() });
        place.member.clone_from(&self.member);
        // how many the ring lists makes no difference to where one of them stands
        let vertex = self.vertex.map(|vertex| (vertex, vertex));
        place.vertex = self.ring.map(|ring| VertexRef { part: self.part, ring, vertex });
        place
    }
}

/// What would mend a finding.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum Repair {
    /// In the words of the reader.
    Words(String),
    /// A change of vertices, counted from 1, with the area in m² that the ring would then enclose, where it was built.
    Ring {
        /// What to change.
        change: RingChange,
        /// What the ring would then enclose, in m².
        area_m2: Option<f64>,
    },
    /// A vertex that is missing after this one.
    Insert {
        /// After which vertex, counted from 1.
        after: usize,
        /// Where.
        at: Position,
        /// What the ring would then enclose, in m².
        area_m2: Option<f64>,
    },
    /// A date with day and month exchanged.
    Date(Date),
    /// A day of the year with day and month exchanged.
    MonthDay(i8, i8),
}

/// What can be missing of a source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum SourceMember {
    /// The edition of the file.
    Edition,
    /// The clause.
    Clause,
    /// The day it was read.
    Retrieved,
}

impl SourceMember {
    /// Returns the name of the member in the file.
    #[must_use]
    pub const fn word(self) -> &'static str {
        match self {
            Self::Edition => "edition",
            Self::Clause => "clause",
            Self::Retrieved => "retrieved",
        }
    }
}

/// What was found.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub enum FindingKind {
    /// A fault for which the file is refused.
    Fault(Fault),
    /// Faults that are only counted.
    MoreFaults(usize),
    /// What the reader finds odd.
    Odd(FileWarning),
    /// The only side of a ring of parallels and meridians that slants, by one digit of one of its ends.
    CornerOff {
        /// Whether it slants so slightly that it was hardly meant to.
        slight: bool,
    },
    /// A ring of parallels and meridians that lacks one corner.
    CornerMissing,
    /// A vertex written in another way than all others of its ring.
    OtherNotation,
    /// All decimals lie below .60, as minutes do.
    MinutesAsDecimals {
        /// How likely that is for decimals of a degree: one in so many.
        one_in: f64,
        /// How many coordinates were counted, those near each other once.
        coordinates: usize,
    },
    /// How finely the coordinates are printed.
    PrintedPrecision {
        /// Half of the last printed digit, in metres.
        half_m: f64,
        /// Half of the last digit of the vertex that is printed most coarsely, where that is fifty times as much.
        coarsest_half_m: Option<f64>,
    },
    /// Sides whose course is not stated, so that their readings are apart.
    SidesUnstated {
        /// How far at most, in metres.
        apart_m: f64,
    },
    /// An area out of all proportion to the rest of the file, or to any zone.
    OutOfProportion {
        /// Its area in m².
        area_m2: f64,
        /// The median of the file in m², if it was held against that.
        median_m2: Option<f64>,
    },
    /// A side that runs along a neighbour's boundary without being the same.
    NearlyShared {
        /// The neighbour.
        other: String,
        /// How far off a vertex is, in metres.
        apart_m: f64,
        /// Whether it lies in the neighbour's water.
        overlaps: bool,
    },
    /// The same line as another zone.
    SameLine {
        /// The other zone.
        other: String,
    },
    /// Neighbours that were not compared, because there are too many corners near other zones.
    NeighboursLeft {
        /// How many zones were not held against those beside them.
        zones: usize,
    },
    /// Vertices of a zone whose others have the text of the law beside them.
    PublishedIncomplete {
        /// How many have none.
        without: usize,
    },
    /// A vertex that has just the figures of a text in another datum, though it should have been shifted.
    PublishedNotShifted {
        /// The datum of the text.
        datum: String,
    },
    /// A zone whose rule nobody has written yet: a draft.
    RuleNotStated,
    /// How a folder differs from its manifest.
    Manifest(Difference),
    /// Members of the source that are not given.
    SourceIncomplete(Vec<SourceMember>),
    /// An edition that its makers no longer vouch for.
    EditionExpired(Timestamp),
    /// An edition that they will not vouch for much longer.
    EditionRunsOut(Timestamp),
    /// A rule that is over.
    RuleOver(Timestamp),
    /// A day that is still to come, where that cannot be.
    DateInFuture(Date),
    /// Day and month that may have been exchanged.
    DayMonth {
        /// Month and day as written.
        written: (i8, i8),
    },
    /// A rule that is in force at no time.
    NeverInForce,
    /// Fish or groups that no rule of the file names.
    NamesUnused(Vec<String>),
    /// A ring that winds the other way than RFC 7946 asks for.
    Winding,
    /// An edge across 180° that RFC 7946 would have cut.
    AcrossAntimeridian,
    /// A ring whose first position is not repeated at its end.
    RingNotClosed,
    /// A member `crs`, which RFC 7946 took out.
    ReferenceSystem,
    /// Positions with heights.
    Heights,
    /// An area other than the law or chart says.
    AreaDiffers {
        /// Of the zone, in m².
        found_m2: f64,
        /// As said, in m².
        said_m2: f64,
    },
    /// A perimeter other than said.
    PerimeterDiffers {
        /// Of the zone, in metres.
        found_m: f64,
        /// As said, in metres.
        said_m: f64,
    },
    /// An area or a perimeter that cannot be held to what is said: of sides along a shore that nobody has supplied only the
    /// chords are known.
    ChordsOnly {
        /// How many sides that are.
        sides: usize,
    },
    /// Another number of corners than said.
    CornersDiffer {
        /// Of the zone.
        found: usize,
        /// As said.
        said: usize,
    },
    /// Not near the place that was said.
    NotNear {
        /// How far off, in metres.
        distance_m: f64,
        /// How far off it may be, in metres.
        allowed_m: f64,
    },
    /// What was said is of a zone whose line is not known.
    LineNotKnown,
    /// What was said is of one zone, and there is no such one.
    NoSuchZone,
}

impl FindingKind {
    /// Returns the code of this kind for machines. Codes are stable: new ones may be added.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Fault(fault) => fault_code(fault),
            Self::MoreFaults(_) => "more-faults",
            Self::Odd(warning) => warning.kind.code(),
            Self::CornerOff { .. } => "corner-off",
            Self::CornerMissing => "corner-missing",
            Self::OtherNotation => "other-notation",
            Self::MinutesAsDecimals { .. } => "minutes-as-decimals",
            Self::PrintedPrecision { .. } => "printed-precision",
            Self::SidesUnstated { .. } => "sides-unstated",
            Self::OutOfProportion { .. } => "out-of-proportion",
            Self::NearlyShared { .. } => "nearly-shared",
            Self::SameLine { .. } => "same-line",
            Self::NeighboursLeft { .. } => "neighbours-not-compared",
            Self::PublishedIncomplete { .. } => "published-incomplete",
            Self::PublishedNotShifted { .. } => "published-not-shifted",
            Self::RuleNotStated => "rule-not-stated",
            Self::Manifest(difference) => difference.code(),
            Self::SourceIncomplete(_) => "source-incomplete",
            Self::EditionExpired(_) => "edition-expired",
            Self::EditionRunsOut(_) => "edition-runs-out",
            Self::RuleOver(_) => "rule-over",
            Self::DateInFuture(_) => "date-in-future",
            Self::DayMonth { .. } => "day-month-exchanged",
            Self::NeverInForce => "never-in-force",
            Self::NamesUnused(_) => "names-unused",
            Self::Winding => "rfc7946-winding",
            Self::AcrossAntimeridian => "rfc7946-antimeridian",
            Self::RingNotClosed => "rfc7946-closure",
            Self::ReferenceSystem => "rfc7946-crs",
            Self::Heights => "rfc7946-heights",
            Self::AreaDiffers { .. } => "area-differs",
            Self::PerimeterDiffers { .. } => "perimeter-differs",
            Self::ChordsOnly { .. } => "chords-only",
            Self::CornersDiffer { .. } => "corners-differ",
            Self::NotNear { .. } => "not-near",
            Self::LineNotKnown => "line-not-known",
            Self::NoSuchZone => "no-such-zone",
        }
    }

    fn severity(&self) -> Severity {
        match self {
            Self::Fault(_)
            | Self::MoreFaults(_)
            | Self::AreaDiffers { .. }
            | Self::PerimeterDiffers { .. }
            | Self::CornersDiffer { .. }
            | Self::NotNear { .. }
            | Self::Manifest(Difference::Missing(_))
            | Self::LineNotKnown
            | Self::NoSuchZone => Severity::Error,
            Self::Odd(warning) if warning.kind == WarningKind::ZoneElsewhere => Severity::Note,
            Self::MinutesAsDecimals { one_in, .. } if *one_in < 100.0 => Severity::Note,
            Self::NearlyShared { apart_m, .. } if *apart_m > NEARLY_SHARED_M => Severity::Note,
            Self::Odd(_)
            | Self::CornerOff { slight: true }
            | Self::CornerMissing
            | Self::OtherNotation
            | Self::MinutesAsDecimals { .. }
            | Self::OutOfProportion { .. }
            | Self::NearlyShared { .. }
            | Self::RuleNotStated
            | Self::PublishedIncomplete { .. }
            | Self::PublishedNotShifted { .. }
            | Self::Manifest(_)
            | Self::ChordsOnly { .. }
            | Self::EditionExpired(_)
            | Self::EditionRunsOut(_)
            | Self::DateInFuture(_)
            | Self::DayMonth { .. }
            | Self::NeverInForce => Severity::Warning,
            Self::CornerOff { slight: false }
            | Self::PrintedPrecision { .. }
            | Self::SidesUnstated { .. }
            | Self::SameLine { .. }
            | Self::NeighboursLeft { .. }
            | Self::SourceIncomplete(_)
            | Self::RuleOver(_)
            | Self::NamesUnused(_)
            | Self::Winding
            | Self::AcrossAntimeridian
            | Self::RingNotClosed
            | Self::ReferenceSystem
            | Self::Heights => Severity::Note,
        }
    }
}

/// Sides that run farther apart may be meant so. A rule of thumb: common practice, no source.
const NEARLY_SHARED_M: f64 = 50.0;

fn fault_code(fault: &Fault) -> &'static str {
    match (fault.kind, fault.boundary.as_deref()) {
        (FaultKind::Boundary, Some(boundary)) => boundary_code(boundary),
        (kind, _) => kind.code(),
    }
}

#[expect(clippy::wildcard_enum_match_arm, reason = "the others are rare and share a code")]
fn boundary_code(fault: &BoundaryFault) -> &'static str {
    match fault {
        BoundaryFault::SelfCrossing { .. } => "edges-cross",
        BoundaryFault::RepeatedVertex { .. } => "vertex-passed-twice",
        BoundaryFault::RingsCross { .. } => "rings-cross",
        BoundaryFault::TooFewVertices(_) => "too-few-vertices",
        BoundaryFault::EdgeCount { .. } => "edge-count",
        BoundaryFault::ArcMissesVertex { .. } => "arc-misses-vertex",
        BoundaryFault::Nesting(_) => "hole-outside",
        BoundaryFault::TooSmall { .. } | BoundaryFault::NoArea => "no-area",
        _ => FaultKind::Boundary.code(),
    }
}

/// One finding.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Finding {
    /// What was found.
    pub kind: FindingKind,
    /// How grave it is.
    pub severity: Severity,
    /// Where.
    pub spot: Spot,
    /// What would mend it; several where it is open which. None is offered that is not plausible.
    pub repairs: Vec<Repair>,
}

impl Finding {
    /// A finding with what would mend it.
    #[must_use]
    pub fn new(kind: FindingKind, spot: Spot, repairs: Vec<Repair>) -> Self {
        Self { severity: kind.severity(), kind, spot, repairs }
    }

    pub(super) fn at(kind: FindingKind, spot: Spot) -> Self {
        Self::new(kind, spot, Vec::new())
    }
}
