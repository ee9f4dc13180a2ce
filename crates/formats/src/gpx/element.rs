use crate::accuracy_name::{Meaning, accuracy, looks_like_an_accuracy};

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
    /// What looks like an accuracy, and does not say plainly what it is.
    UnreadAccuracy,
    /// What kind of fix it is, a child of the point.
    Fix,
    /// Anything else inside a point, such as extensions.
    InPoint,
    /// Anything else.
    Other,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum PointKind {
    Track,
    Route,
    Waypoint,
}

/// The names of a log that were looked at for an accuracy: nearly always the same few, point after point.
#[derive(Debug, Default)]
pub(super) struct Names {
    known: Vec<(Box<str>, Option<Element>)>,
}

impl Names {
    /// More names than the points of a log have; beyond them each is looked at anew.
    const MOST: usize = 24;
    /// The longest name that is remembered, in bytes.
    const MOST_BYTES: usize = 64;

    /// An accuracy by its name, of an element or of an attribute; none for all else.
    pub(super) fn accuracy(&mut self, name: &str) -> Option<Element> {
        if let Some((_, element)) = self.known.iter().find(|(known, _)| **known == *name) {
            return *element;
        }
        let element = Element::of_accuracy(name);
        if self.known.len() < Self::MOST && name.len() <= Self::MOST_BYTES {
            self.known.push((name.into(), element));
        }
        element
    }
}

impl Element {
    /// Tells an element from its parent and its name without prefix.
    pub(super) fn of(parent: Self, name: &str, names: &mut Names) -> Self {
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
            (Self::Point(_), "ele" | "name" | "sat") => Self::InPoint,
            (Self::Point(_), "fix") => Self::Fix,
            (Self::Point(_) | Self::InPoint, _) => names.accuracy(name).unwrap_or(Self::InPoint),
            _ => Self::Other,
        }
    }

    fn of_accuracy(name: &str) -> Option<Self> {
        let read = accuracy(name).map(Self::Accuracy);
        read.or_else(|| looks_like_an_accuracy(name).then_some(Self::UnreadAccuracy))
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
            Self::Fix => "fix",
            Self::Accuracy(_) | Self::UnreadAccuracy | Self::InPoint => "extensions",
        }
    }

    /// Whether the text inside matters.
    pub(super) fn holds_text(self) -> bool {
        matches!(
            self,
            Self::Time
                | Self::Hdop
                | Self::Speed
                | Self::Name
                | Self::Accuracy(_)
                | Self::UnreadAccuracy
                | Self::Fix
        )
    }
}
