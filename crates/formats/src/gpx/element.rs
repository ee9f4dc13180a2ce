use takeline::AccuracyKind;

/// What an open element is, as far as a track log is concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Element {
    /// The outermost element.
    Gpx,
    Track,
    Segment,
    Route,
    Point(PointKind),
    Time,
    Hdop,
    /// Speed of GPX 1.0, a child of the point, in metres per second.
    Speed,
    Name,
    /// A radius in metres, and what it means.
    Accuracy(Meaning),
    /// Anything else inside a point, such as extensions.
    InPoint,
    /// Anything else.
    Other,
}

/// What the name of an accuracy says about it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Meaning {
    Stated(AccuracyKind),
    Unstated,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum PointKind {
    Track,
    Route,
    Waypoint,
}

impl Element {
    /// Tells an element from its parent and its name without prefix.
    pub(super) fn of(parent: Self, name: &str) -> Self {
        match (parent, name) {
            (Self::Gpx, "trk") => Self::Track,
            (Self::Gpx, "rte") => Self::Route,
            (Self::Gpx, "wpt") => Self::Point(PointKind::Waypoint),
            (Self::Track, "trkseg") => Self::Segment,
            (Self::Track | Self::Segment, "trkpt") => Self::Point(PointKind::Track),
            (Self::Route, "rtept") => Self::Point(PointKind::Route),
            (Self::Point(_), "time") => Self::Time,
            (Self::Point(_), "hdop") => Self::Hdop,
            (Self::Point(_), "speed") => Self::Speed,
            (Self::Point(PointKind::Waypoint), "name") => Self::Name,
            (Self::Point(_), "ele" | "name" | "sat" | "fix") => Self::InPoint,
            (Self::Point(_) | Self::InPoint, _) => accuracy(name).map_or(Self::InPoint, Self::Accuracy),
            _ => Self::Other,
        }
    }

    /// The name for a message.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::Gpx | Self::Other => "gpx",
            Self::Track => "trk",
            Self::Segment => "trkseg",
            Self::Route => "rte",
            Self::Point(PointKind::Track) => "trkpt",
            Self::Point(PointKind::Route) => "rtept",
            Self::Point(PointKind::Waypoint) => "wpt",
            Self::Time => "time",
            Self::Hdop => "hdop",
            Self::Speed => "speed",
            Self::Name => "name",
            Self::Accuracy(_) | Self::InPoint => "extensions",
        }
    }

    /// Whether the text inside matters.
    pub(super) fn holds_text(self) -> bool {
        matches!(self, Self::Time | Self::Hdop | Self::Speed | Self::Name | Self::Accuracy(_))
    }
}

/// Names under which extensions and columns give a horizontal accuracy in metres. Common practice, no source: there is no standard.
///
/// Capitals, `_`, `-` and `.` do not count.
pub(crate) fn accuracy(name: &str) -> Option<Meaning> {
    if name.len() > 24 || !name.is_ascii() {
        return None;
    }
    let mut plain = [0_u8; 24];
    let mut length = 0;
    for byte in name.bytes().filter(|byte| !matches!(byte, b'_' | b'-' | b'.')) {
        plain[length] = byte.to_ascii_lowercase();
        length += 1;
    }
    match &plain[..length] {
        b"accuracy"
        | b"hacc"
        | b"haccuracy"
        | b"horacc"
        | b"horizontalaccuracy"
        | b"accuracym"
        | b"haccm" => Some(Meaning::Unstated),
        b"accuracy68" | b"accuracyp68" | b"hacc68" => Some(Meaning::Stated(AccuracyKind::P68)),
        b"accuracy95" | b"accuracyp95" | b"hacc95" | b"horizontalaccuracy95" => {
            Some(Meaning::Stated(AccuracyKind::P95))
        }
        b"accuracyrms" | b"haccrms" | b"hrms" | b"drms" => Some(Meaning::Stated(AccuracyKind::Rms)),
        _ => None,
    }
}
