//! A point of a GPX file: its elements, and the fix that they make.

use jiff::Timestamp;
use quick_xml::XmlVersion;
use quick_xml::events::BytesStart;
use quick_xml::events::attributes::Attribute;
use takeline::track::{LogPlace, LoggedFix, UnplacedRecord};
use takeline::{AccuracyKind, HorizontalUncertainty, Latitude, Longitude, Position};

use crate::accuracy_name::{Meaning, accuracy, looks_like_an_accuracy};
use crate::instant::{ReadTime, TimeReader};
use crate::notes::{Notes, Zone, note_time, shown};
use crate::{LogItem, LogNoteKind, Waypoint, number};

/// A point that is being read.
#[derive(Debug)]
pub(super) struct Point {
    pub(super) kind: PointKind,
    place: LogPlace,
    /// None if it cannot be read, which was told already.
    position: Option<Position>,
    time: Option<Timestamp>,
    has_time_element: bool,
    uncertainty: Option<HorizontalUncertainty>,
    /// Whether something looks like an accuracy that is read under no such name.
    has_unread_accuracy: bool,
    /// Whether the point itself says that there was no fix.
    is_void: bool,
    hdop: Option<f64>,
    speed_m_per_s: Option<f64>,
    name: Option<String>,
    /// What an accuracy means whose name does not say it.
    unstated: AccuracyKind,
}

impl Point {
    #[inline]
    pub(super) fn open(
        kind: PointKind,
        place: LogPlace,
        position: Option<Position>,
        unstated: AccuracyKind,
    ) -> Self {
        Self {
            kind,
            place,
            position,
            time: None,
            has_time_element: false,
            uncertainty: None,
            has_unread_accuracy: false,
            is_void: false,
            hdop: None,
            speed_m_per_s: None,
            name: None,
            unstated,
        }
    }

    /// Takes the text of one of the point's elements; no text if there was too much of it.
    pub(super) fn take(
        &mut self,
        element: Element,
        text: Option<&str>,
        (notes, times): (&mut Notes, &mut TimeReader),
    ) {
        match element {
            Element::Time => self.take_time(text, notes, times),
            Element::Hdop => self.hdop = self.figure("hdop", text, notes).filter(|hdop| *hdop > 0.0),
            Element::Speed => self.speed_m_per_s = self.figure("speed", text, notes),
            Element::Name => {
                self.name = text.map(str::trim).filter(|name| !name.is_empty()).map(str::to_owned);
            }
            // GPX 1.1, fixType: none means that the receiver had no fix
            Element::Fix => self.is_void = text.is_some_and(|text| text.trim() == "none"),
            Element::UnreadAccuracy => {
                self.has_unread_accuracy |= text.is_none_or(|text| !text.trim().is_empty());
            }
            Element::Accuracy(meaning) => {
                let read_m = self.figure("accuracy", text, notes);
                let kind = match meaning {
                    Meaning::Stated(kind) => kind,
                    Meaning::Unstated => self.unstated,
                };
                let given = read_m.and_then(|metres| notes.uncertainty(metres, kind, self.place));
                // of two accuracies the wider one
                if given.map(HorizontalUncertainty::radius_95)
                    > self.uncertainty.map(HorizontalUncertainty::radius_95)
                {
                    self.uncertainty = given;
                }
            }
            Element::Gpx
            | Element::Track
            | Element::Segment
            | Element::Route
            | Element::Point(_)
            | Element::InPoint
            | Element::Other => {}
        }
    }

    fn take_time(&mut self, text: Option<&str>, notes: &mut Notes, times: &mut TimeReader) {
        if self.has_time_element {
            self.time = None;
            notes.tell_once(LogNoteKind::TimeUnreadable, self.place, || {
                "the point has two times; it was read without time".to_owned()
            });
            return;
        }
        self.has_time_element = true;
        let read = text.map_or(ReadTime::Unreadable, |text| times.read(text.as_bytes()));
        let text = text.unwrap_or_default().as_bytes();
        self.time = note_time(read, (text, Zone::Utc), self.place, notes);
    }

    /// A number that is not negative; none, with a note, for anything else.
    fn figure(&self, what: &str, text: Option<&str>, notes: &mut Notes) -> Option<f64> {
        let value = text.and_then(number::read).filter(|value| *value >= 0.0);
        let is_empty = text.is_some_and(|text| text.trim().is_empty());
        if value.is_none() && !is_empty {
            notes.tell_once(Notes::unusable(what), self.place, || {
                format!(
                    "{what} \"{}\" is not a number of 0 or more; the fix was read without it",
                    shown(text.unwrap_or_default().as_bytes())
                )
            });
        }
        value
    }

    /// The point as it stands; none for a named or planned place without a position.
    pub(super) fn finish(&mut self, notes: &mut Notes) -> Option<LogItem> {
        let record = UnplacedRecord { time: self.time, place: self.place };
        let Some(position) = self.position else {
            return (self.kind == PointKind::Track).then_some(LogItem::Unplaced(record));
        };
        if self.is_void && self.kind == PointKind::Track {
            notes.tell_once(LogNoteKind::FixVoid, self.place, || {
                "the point says the receiver had no fix; it was not used".to_owned()
            });
            return Some(LogItem::Unplaced(record));
        }
        let is_track = self.kind == PointKind::Track;
        if is_track && notes.is_next_to_no_fix(self.hdop, self.uncertainty, self.place) {
            return Some(LogItem::Unplaced(record));
        }
        if self.has_unread_accuracy && self.uncertainty.is_none() {
            notes.tell_once(LogNoteKind::AccuracyUnreadable, self.place, || {
                "something in the point looks like an accuracy but was not read; if it is one, in metres, call it hacc_68, hacc_95 or hacc_rms; if not, take it out"
                    .to_owned()
            });
        }
        if self.kind == PointKind::Waypoint {
            return Some(LogItem::Waypoint(Waypoint {
                position,
                uncertainty: self.uncertainty,
                time: self.time,
                name: self.name.take(),
                place: self.place,
            }));
        }
        let is_planned = self.kind == PointKind::Route;
        let read = LoggedFix {
            position,
            time: self.time,
            uncertainty: self.uncertainty,
            hdop: self.hdop,
            speed_m_per_s: self.speed_m_per_s,
            time_between: None,
            jump_kn: None,
            place: self.place,
        };
        Some(if is_planned { LogItem::RoutePoint(read) } else { LogItem::Fix(read) })
    }
}

/// Reads the position of a point from its attributes; the error is the reason for a note.
pub(super) fn position(tag: &BytesStart) -> Result<Position, String> {
    let (mut lat, mut lon) = (None, None);
    for attribute in tag.attributes().with_checks(false) {
        let attribute = attribute.map_err(|error| format!("the attributes cannot be read ({error})"))?;
        let (slot, name) = match attribute.key.as_ref() {
            "lat" => (&mut lat, "lat"),
            "lon" => (&mut lon, "lon"),
            _ => continue,
        };
        if slot.replace(degrees(&attribute, name)?).is_some() {
            return Err(format!("{name} is given twice"));
        }
    }
    let lat_deg = lat.ok_or("lat is missing")?;
    let lon_deg = lon.ok_or("lon is missing")?;
    let latitude = Latitude::from_degrees(lat_deg).map_err(|error| error.to_string())?;
    let longitude = Longitude::from_degrees_either_way(lon_deg).map_err(|error| error.to_string())?;
    Ok(Position::new(latitude, longitude))
}

fn degrees(attribute: &Attribute, name: &str) -> Result<f64, String> {
    if let Some(value) = number::read(&attribute.value) {
        return Ok(value);
    }
    let text =
        attribute.normalized_value(XmlVersion::Implicit1_0).map_err(|error| format!("{name}: {error}"))?;
    number::read(&text).ok_or_else(|| {
        let hint = if text.contains(',') { "; write a decimal point, not a comma" } else { "" };
        format!("{name} \"{}\" is not a number of degrees{hint}", shown(text.as_bytes()))
    })
}

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
