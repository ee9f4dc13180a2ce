//! What is wrong with a file, or only odd about it.

use std::fmt;

use crate::BoundaryFault;

/// How many faults of a file are kept; the rest is only counted.
pub(crate) const FAULT_LIMIT: usize = 1000;

/// Everything that is wrong with a file that was refused.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Refusal {
    /// Every fault that was found, in file order, up to [`FAULT_LIMIT`].
    pub(crate) faults: Vec<Fault>,
    /// How many more there were.
    pub(crate) more: usize,
}

/// Writes one line for each fault: file, place, what is wrong, how to mend it.
pub(crate) fn write_faults(
    f: &mut fmt::Formatter<'_>,
    path: &str,
    (faults, more): (&[Fault], usize),
) -> fmt::Result {
    for (i, fault) in faults.iter().enumerate() {
        let newline = if i == 0 { "" } else { "\n" };
        write!(f, "{newline}{path}: {fault}")?;
    }
    if more > 0 {
        write!(f, "\n{path}: {more} more faults are not listed")?;
    }
    Ok(())
}

/// One fault of a file.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct Fault {
    /// Where it is.
    pub place: Place,
    /// What sort of fault it is.
    pub kind: FaultKind,
    /// What is wrong, with the value that is.
    pub text: String,
    /// How to mend it.
    pub mend: String,
    /// What is wrong with the boundary, where it is one that was refused. Vertices in it count from 1, as the file lists them.
    pub boundary: Option<Box<BoundaryFault>>,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.place, self.text)?;
        if self.mend.is_empty() { Ok(()) } else { write!(f, "; {}", self.mend) }
    }
}

/// Something odd that does not keep a file from loading.
#[derive(Debug, Clone, PartialEq)]
#[non_exhaustive]
pub struct FileWarning {
    /// Where it is.
    pub place: Place,
    /// What sort of oddity it is.
    pub kind: WarningKind,
    /// What is odd and what follows from it.
    pub text: String,
}

impl fmt::Display for FileWarning {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}{}", self.place, self.text)
    }
}

/// Where in a file something is. Everything is counted from 1, as people count.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
#[non_exhaustive]
pub struct Place {
    /// The feature.
    pub feature: Option<FeatureRef>,
    /// The members that lead to it, from the outside in, with entries of lists as "entry 2". Empty: the whole.
    pub member: Vec<String>,
    /// The vertex.
    pub vertex: Option<VertexRef>,
    /// Line and column, where the text is not JSON.
    pub line_column: Option<(usize, usize)>,
}

/// A feature of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FeatureRef {
    /// Which one, counted from 1.
    pub number: usize,
    /// Its id, if it has one.
    pub id: Option<String>,
}

/// A place in a geometry, counted from 1 as the file lists it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct VertexRef {
    /// The polygon of a multipolygon.
    pub part: Option<usize>,
    /// The ring; 1 is the outer one.
    pub ring: usize,
    /// The vertex, and how many the ring lists.
    pub vertex: Option<(usize, usize)>,
}

impl fmt::Display for Place {
    /// Writes `feature 1 "sallow-cove", geometry, ring 1, vertex 3 (of 5): `, or nothing for the whole file.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut words = Vec::new();
        if let Some((line, column)) = self.line_column {
            words.push(format!("line {line} column {column}"));
        }
        if let Some(feature) = &self.feature {
            words.push(feature.to_string());
        }
        if !self.member.is_empty() {
            words.push(self.member.join(" > "));
        }
        if let Some(vertex) = self.vertex {
            words.push(vertex.to_string());
        }
        if words.is_empty() { Ok(()) } else { write!(f, "{}: ", words.join(", ")) }
    }
}

impl fmt::Display for FeatureRef {
    /// Writes `feature 1 "sallow-cove"`.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "feature {}", self.number)?;
        self.id.as_ref().map_or(Ok(()), |id| write!(f, " \"{id}\""))
    }
}

impl fmt::Display for VertexRef {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some(part) = self.part {
            write!(f, "part {part}, ")?;
        }
        write!(f, "ring {}", self.ring)?;
        self.vertex.map_or(Ok(()), |(vertex, of)| write!(f, ", vertex {vertex} (of {of})"))
    }
}

/// What sort of fault it is. [`FaultKind::code`] is stable.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum FaultKind {
    /// The bytes are not JSON that is read here.
    NotJson,
    /// It is JSON, but no zone file.
    NotAZoneFile,
    /// It is JSON, but no landmark file.
    NotALandmarkFile,
    /// It is JSON, but no coast.
    NotACoast,
    /// A member that is needed is not there.
    MissingMember,
    /// A member that the format does not know.
    UnknownMember,
    /// A value of the wrong form or out of range.
    WrongValue,
    /// An id that nothing in the file has.
    UnknownId,
    /// An id that two things have.
    DuplicateId,
    /// Two members that contradict each other.
    Contradiction,
    /// The name of no time zone.
    TimeZone,
    /// A datum that is not read as it stands.
    Datum,
    /// A coordinate that no place has, or a geometry of the wrong form.
    Geometry,
    /// A boundary that encloses nothing or contradicts itself.
    Boundary,
    /// Conditions nested too deep.
    TooDeep,
    /// More of something than is read.
    TooLarge,
    /// Taxa or groups that contradict each other, or a rule that excludes everything.
    Rule,
}

impl FaultKind {
    /// Returns the code of this kind for machines.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::NotJson => "not-json",
            Self::NotAZoneFile => "not-a-zone-file",
            Self::NotALandmarkFile => "not-a-landmark-file",
            Self::NotACoast => "not-a-coast",
            Self::MissingMember => "missing-member",
            Self::UnknownMember => "unknown-member",
            Self::WrongValue => "wrong-value",
            Self::UnknownId => "unknown-id",
            Self::DuplicateId => "duplicate-id",
            Self::Contradiction => "contradiction",
            Self::TimeZone => "time-zone",
            Self::Datum => "datum",
            Self::Geometry => "geometry",
            Self::Boundary => "boundary",
            Self::TooDeep => "too-deep",
            Self::TooLarge => "too-large",
            Self::Rule => "rule",
        }
    }
}

/// What sort of oddity it is. [`WarningKind::code`] is stable.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum WarningKind {
    /// No datum: every place is in doubt by the size of a datum shift.
    DatumUnstated,
    /// Dates or hours without a time zone: read as UTC.
    TimeZoneMissing,
    /// A zone that may be anywhere: every answer is undecided.
    UndecidedEverywhere,
    /// A vertex given twice running: read once.
    RepeatedVertex,
    /// A vertex where an aiming point is.
    AimingPointOnLine,
    /// A member that has no effect here.
    NoEffect,
    /// A zone in another file whose rule this one displaces.
    ZoneElsewhere,
    /// Members that the format does not know, in a file where they may stand.
    UnknownMember,
    /// Landmarks without a name: the id is used.
    NameMissing,
    /// Landmarks without a position error: one is assumed.
    PositionErrorAssumed,
    /// Points with a third coordinate: it is not used.
    ThirdCoordinate,
    /// Ids that stand among the properties: they are read from there.
    IdInProperties,
    /// Landmarks that stand in one place.
    SamePlace,
    /// A landmark or vertex far from all others that would stand near them with its numbers swapped, of the other sign, or with
    /// another digit.
    FarFromOthers,
    /// Geometries that are neither lines nor polygons: passed over.
    PassedOver,
    /// A ring that does not end where it begins: closed.
    UnclosedRing,
    /// A coast without an uncertainty: one is assumed.
    UncertaintyAssumed,
    /// A line that contradicts itself or another: land and sea about it are undecided.
    LandUndecided,
    /// A side that follows a coast which was not given, or not near it: near it no side is certain.
    CoastNotFollowed,
    /// A straight side that is the shore, while the coast runs elsewhere.
    ChordAlongShore,
    /// A zone that was changed after it was proofread.
    ProofreadVoid,
    /// The text of a vertex that was read with a doubt.
    PublishedInDoubt,
    /// A vertex that is not what its text says, though within the digits that are printed.
    PublishedDiffers,
    /// A zone so small or so large that its numbers are surely in other units, or of another place.
    OutOfProportion,
    /// Warnings that are only counted.
    MoreWarnings,
}

impl WarningKind {
    /// Returns the code of this kind for machines.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::DatumUnstated => "datum-unstated",
            Self::TimeZoneMissing => "time-zone-missing",
            Self::UndecidedEverywhere => "undecided-everywhere",
            Self::RepeatedVertex => "repeated-vertex",
            Self::AimingPointOnLine => "aiming-point-on-line",
            Self::NoEffect => "no-effect",
            Self::ZoneElsewhere => "zone-elsewhere",
            Self::UnknownMember => "unknown-member",
            Self::NameMissing => "name-missing",
            Self::PositionErrorAssumed => "position-error-assumed",
            Self::ThirdCoordinate => "third-coordinate",
            Self::IdInProperties => "id-in-properties",
            Self::SamePlace => "same-place",
            Self::FarFromOthers => "far-from-others",
            Self::PassedOver => "passed-over",
            Self::UnclosedRing => "unclosed-ring",
            Self::UncertaintyAssumed => "uncertainty-assumed",
            Self::LandUndecided => "land-undecided",
            Self::CoastNotFollowed => "coast-not-followed",
            Self::ChordAlongShore => "chord-along-shore",
            Self::ProofreadVoid => "proofread-void",
            Self::PublishedInDoubt => "published-in-doubt",
            Self::PublishedDiffers => "published-differs",
            Self::OutOfProportion => "out-of-proportion",
            Self::MoreWarnings => "more-warnings",
        }
    }
}
