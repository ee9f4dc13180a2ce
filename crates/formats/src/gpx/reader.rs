use std::io::Read;

use quick_xml::events::{BytesRef, BytesStart, Event};
use quick_xml::{Error as XmlError, Reader};
use takeline::AccuracyKind;
use takeline::track::LogPlace;

use super::plain::PlainPoint;
use super::point::{self, Element, Names, Point, PointKind};
use crate::instant::TimeReader;
use crate::notes::{Notes, shown};
use crate::source::{Fault, Source};
use crate::{LogItem, LogNoteKind, ReadLogErrorKind};

/// The deepest nesting; the schemas need six levels, and extensions a few more.
const MOST_LEVELS: usize = 64;
/// The longest text of a time, a number or a name, in bytes.
pub(super) const MOST_TEXT_BYTES: usize = 256;

/// Walks over a GPX file point by point.
#[expect(clippy::struct_excessive_bools, reason = "each is a fact of its own about where the walk stands")]
pub(crate) struct GpxReader<R: Read> {
    xml: Reader<Source<R>>,
    buffer: Vec<u8>,
    open: Vec<Element>,
    has_root: bool,
    point: Option<Point>,
    plain: PlainPoint,
    /// Whether the point was read to its end, and waits behind the notes on what is inside it.
    is_whole: bool,
    /// Whether the XML parser stands behind a tag, and not inside a text that it has begun.
    is_behind_tag: bool,
    text: Text,
    /// Number of the stretch that points belong to.
    stretch: u32,
    /// A track, segment or route has begun: the next point starts a new stretch, unless it is the first.
    at_break: bool,
    has_points: bool,
    unstated: AccuracyKind,
    notes: Notes,
    times: TimeReader,
    names: Names,
}

/// Text of an element, as far as it is kept.
#[derive(Debug, Default)]
struct Text {
    kept: String,
    is_too_long: bool,
}

impl Text {
    fn clear(&mut self) {
        self.kept.clear();
        self.is_too_long = false;
    }

    fn push(&mut self, piece: &str) {
        if self.kept.len() + piece.len() > MOST_TEXT_BYTES {
            self.is_too_long = true;
        } else {
            self.kept.push_str(piece);
        }
    }

    fn whole(&self) -> Option<&str> {
        (!self.is_too_long).then_some(self.kept.as_str())
    }
}

type Step = Result<Option<LogItem>, ReadLogErrorKind>;

impl<R: Read> GpxReader<R> {
    pub(crate) fn new(source: Source<R>, unstated: AccuracyKind) -> Self {
        Self {
            xml: Reader::from_reader(source),
            buffer: Vec::new(),
            open: Vec::with_capacity(MOST_LEVELS),
            has_root: false,
            point: None,
            plain: PlainPoint::default(),
            is_whole: false,
            is_behind_tag: false,
            text: Text::default(),
            stretch: 0,
            at_break: false,
            has_points: false,
            unstated,
            notes: Notes::default(),
            times: TimeReader::default(),
            names: Names::default(),
        }
    }

    pub(crate) fn source(&self) -> &Source<R> {
        self.xml.get_ref()
    }

    /// Reads on to the next point or note; none at the end.
    pub(crate) fn next_item(&mut self) -> Result<Option<LogItem>, Fault> {
        if let Some(note) = self.notes.next() {
            return Ok(Some(LogItem::Note(note)));
        }
        if self.is_whole || self.reads_plain_point() {
            if let Some(note) = self.notes.next() {
                return Ok(Some(LogItem::Note(note)));
            }
            return Ok(self.finish_point());
        }
        let mut buffer = std::mem::take(&mut self.buffer);
        let read = self.read_on(&mut buffer);
        self.buffer = buffer;
        match read {
            Ok(None) => {
                self.notes.sum_up();
                Ok(self.notes.next().map(LogItem::Note))
            }
            other => other.map_err(|kind| self.xml.get_mut().fault_here(kind)),
        }
    }

    fn read_on(&mut self, buffer: &mut Vec<u8>) -> Step {
        loop {
            buffer.clear();
            self.xml.get_mut().begin_token();
            let event = match self.xml.read_event_into(buffer) {
                Ok(event) => event,
                Err(error) => return Err(self.blame(error)),
            };
            self.is_behind_tag = matches!(event, Event::Start(_) | Event::Empty(_) | Event::End(_));
            let item = match event {
                Event::Start(tag) => self.start(&tag)?,
                Event::Empty(tag) => match self.start(&tag)? {
                    None => self.end(),
                    item => item,
                },
                Event::End(_) => self.end(),
                Event::Text(text) => self.text(&text),
                Event::CData(text) => self.text(&text),
                Event::GeneralRef(reference) => {
                    self.reference(&reference)?;
                    None
                }
                Event::DocType(doctype) if doctype.contains('[') => return Err(ReadLogErrorKind::Doctype),
                Event::Decl(declaration) => {
                    self.encoding(declaration.encoding().and_then(Result::ok).as_deref())?;
                    None
                }
                Event::Eof => return self.finish().map(|()| None),
                Event::DocType(_) | Event::Comment(_) | Event::PI(_) => None,
            };
            if item.is_some() {
                return Ok(item);
            }
            if let Some(note) = self.notes.next() {
                return Ok(Some(LogItem::Note(note)));
            }
            if self.reads_plain_point() {
                let note = self.notes.next().map(LogItem::Note);
                return Ok(note.or_else(|| self.finish_point()));
            }
        }
    }

    /// Reads a point that has the plain form to its end; false, and nothing is read, for any other.
    ///
    /// The XML parser does not see such a point, which would leave it as it came to it: behind a tag, in the same element.
    #[inline]
    fn reads_plain_point(&mut self) -> bool {
        if !self.is_behind_tag || !matches!(self.open.last(), Some(Element::Segment | Element::Track)) {
            return false;
        }
        let Some(position) = self.plain.scan(self.xml.get_ref().unread(), &mut self.names) else {
            return false;
        };
        let range = self.plain.range.clone();
        let [before, inside] = self.plain.line_feeds;
        let source = self.xml.get_mut();
        source.skip_counted(range.start, before);
        source.begin_token();
        self.begin_stretch(PointKind::Track);
        let place = self.place();
        let point = self.point.insert(Point::open(PointKind::Track, place, Some(position), self.unstated));
        let bytes = self.xml.get_ref().unread();
        for (element, text) in self.plain.texts() {
            let text = bytes.get(text.start - range.start..text.end - range.start);
            let text = text.and_then(|text| std::str::from_utf8(text).ok());
            point.take(element, text, (&mut self.notes, &mut self.times));
        }
        self.xml.get_mut().skip_counted(range.len(), inside);
        self.is_whole = true;
        true
    }

    /// Gives out the point that was read to its end.
    #[inline]
    fn finish_point(&mut self) -> Option<LogItem> {
        self.is_whole = false;
        let item = self.point.as_mut()?.finish(&mut self.notes);
        self.point = None;
        item
    }

    fn start(&mut self, tag: &BytesStart) -> Step {
        if self.open.len() >= MOST_LEVELS {
            return Err(ReadLogErrorKind::TooDeep { limit: MOST_LEVELS });
        }
        check_references(tag.attributes_raw())?;
        let local_name = tag.local_name();
        let name = local_name.as_ref();
        let element = match self.open.last() {
            Some(parent) => Element::of(*parent, name, &mut self.names),
            None => self.root(tag, name)?,
        };
        self.open.push(element);
        match element {
            Element::Track | Element::Segment | Element::Route => self.at_break = true,
            Element::Point(kind) => self.open_point(kind, tag),
            Element::Gpx | Element::InPoint | Element::Other => {}
            Element::Time
            | Element::Hdop
            | Element::Speed
            | Element::Name
            | Element::Fix
            | Element::Accuracy(_)
            | Element::UnreadAccuracy => self.text.clear(),
        }
        self.take_attributes(tag);
        Ok(None)
    }

    fn root(&mut self, tag: &BytesStart, name: &str) -> Result<Element, ReadLogErrorKind> {
        if self.has_root {
            let problem = "a second document begins here; split the file";
            return Err(ReadLogErrorKind::Xml { problem: problem.to_owned() });
        }
        self.has_root = true;
        if name != "gpx" {
            return Err(ReadLogErrorKind::NotGpx { root: shown(name.as_bytes()) });
        }
        let version =
            tag.attributes().with_checks(false).flatten().find(|each| each.key.as_ref() == "version");
        if !version.is_some_and(|version| matches!(version.value.trim(), "1.0" | "1.1")) {
            let place = self.place();
            let text = "the file does not say whether it is GPX 1.0 or 1.1; it was read as GPX 1.1";
            self.notes.tell(LogNoteKind::VersionUnknown, place, text);
        }
        Ok(Element::Gpx)
    }

    fn place(&mut self) -> LogPlace {
        let source = self.xml.get_mut();
        LogPlace { line: source.token_line(), byte: source.token_byte(), stretch: self.stretch }
    }

    /// Whether a stretch of points begins with this one.
    fn begin_stretch(&mut self, kind: PointKind) -> bool {
        if kind == PointKind::Waypoint {
            return false;
        }
        let is_new = std::mem::take(&mut self.at_break);
        if is_new && self.has_points {
            self.stretch = self.stretch.saturating_add(1);
        }
        self.has_points = true;
        is_new
    }

    fn open_point(&mut self, kind: PointKind, tag: &BytesStart) {
        if self.begin_stretch(kind) && kind == PointKind::Route {
            let place = self.place();
            let text = "a route is a plan, not a record of where the boat was; its points are not fixes";
            self.notes.tell(LogNoteKind::RouteIsAPlan, place, text);
        }
        let place = self.place();
        let position = point::position(tag);
        if let Err(reason) = &position {
            let text = format!("{reason}; the point was left out");
            self.notes.tell(LogNoteKind::PositionUnreadable, place, text);
        }
        self.point = Some(Point::open(kind, place, position.ok(), self.unstated));
    }

    /// Accuracies that stand in attributes of a point or of what is inside it.
    fn take_attributes(&mut self, tag: &BytesStart) {
        let Some(point) = &mut self.point else { return };
        for attribute in tag.attributes().with_checks(false).flatten() {
            let key = attribute.key;
            let name = key.local_name();
            if !matches!(name.as_ref(), "lat" | "lon")
                && let Some(element) = self.names.accuracy(name.as_ref())
            {
                point.take(element, Some(attribute.value.as_ref()), (&mut self.notes, &mut self.times));
            }
        }
    }

    fn end(&mut self) -> Option<LogItem> {
        let element = self.open.pop()?;
        if element.holds_text() {
            if let Some(point) = &mut self.point {
                point.take(element, self.text.whole(), (&mut self.notes, &mut self.times));
            }
            return None;
        }
        if let Element::Point(_) = element {
            return self.finish_point();
        }
        None
    }

    fn text(&mut self, text: &str) -> Option<LogItem> {
        match self.open.last() {
            Some(element) if element.holds_text() => self.text.push(text),
            None if !text.bytes().all(|byte| byte.is_ascii_whitespace() || byte == 0) => {
                let place = self.place();
                self.notes.tell_once(LogNoteKind::TextOutside, place, || {
                    format!("text outside the document was left out: {}", shown(text.as_bytes()))
                });
            }
            _ => {}
        }
        None
    }

    fn reference(&mut self, reference: &BytesRef) -> Result<(), ReadLogErrorKind> {
        let undefined = || ReadLogErrorKind::UndefinedEntity { entity: shown(reference.as_bytes()) };
        let character = match reference.resolve_char_ref() {
            Ok(Some(character)) => character,
            Ok(None) => predefined(reference).ok_or_else(undefined)?,
            Err(_) => return Err(undefined()),
        };
        self.text(character.encode_utf8(&mut [0; 4]));
        Ok(())
    }

    /// Encodings that begin with ASCII are read as far as that goes; nothing else in a GPX file is a number.
    fn encoding(&mut self, declared: Option<&str>) -> Result<(), ReadLogErrorKind> {
        let Some(declared) = declared else { return Ok(()) };
        let lower = declared.to_ascii_lowercase();
        if matches!(lower.as_str(), "utf-8" | "utf8" | "us-ascii" | "ascii") {
            return Ok(());
        }
        let extends_ascii = ["iso-8859", "iso8859", "iso_8859", "windows-125", "cp125", "latin", "koi8"];
        if !extends_ascii.iter().any(|begin| lower.starts_with(begin)) {
            let problem = format!("the file says that its encoding is {}", shown(declared.as_bytes()));
            return Err(ReadLogErrorKind::Encoding { problem });
        }
        self.xml.get_mut().read_ascii_only();
        let place = self.place();
        let text =
            format!("the encoding is {}: letters beyond ASCII were read as ?", shown(declared.as_bytes()));
        self.notes.tell(LogNoteKind::TextNotUtf8, place, text);
        Ok(())
    }

    fn finish(&mut self) -> Result<(), ReadLogErrorKind> {
        match self.open.last() {
            None if self.has_root => Ok(()),
            None => Err(ReadLogErrorKind::Xml { problem: "there is no element".to_owned() }),
            Some(element) => Err(ReadLogErrorKind::CutOff { element: element.words().to_owned() }),
        }
    }

    fn blame(&mut self, error: XmlError) -> ReadLogErrorKind {
        match error {
            XmlError::Io(error) => self
                .xml
                .get_mut()
                .take_fault()
                .unwrap_or_else(|| ReadLogErrorKind::Unreadable(std::io::Error::other(error.to_string()))),
            XmlError::Encoding(_) => {
                ReadLogErrorKind::Encoding { problem: "some bytes are not UTF-8".to_owned() }
            }
            XmlError::Syntax(_)
            | XmlError::IllFormed(_)
            | XmlError::InvalidAttr(_)
            | XmlError::Escape(_)
            | XmlError::Namespace(_) => ReadLogErrorKind::Xml { problem: long_shown(&error.to_string()) },
        }
    }
}

/// A message of the parser, which may repeat a whole tag of the file.
fn long_shown(text: &str) -> String {
    let head: String = text.chars().take(160).collect();
    let mut kept = takeline::sanitised::line(&head).into_owned();
    if head.len() < text.len() {
        kept.push('…');
    }
    kept
}

/// The five entities that XML itself defines.
fn predefined(name: &str) -> Option<char> {
    match name {
        "amp" => Some('&'),
        "lt" => Some('<'),
        "gt" => Some('>'),
        "apos" => Some('\''),
        "quot" => Some('"'),
        _ => None,
    }
}

/// Refuses an undefined entity in attributes, of which the parser knows nothing.
fn check_references(attributes: &str) -> Result<(), ReadLogErrorKind> {
    let mut rest = attributes;
    while let Some((_, after)) = rest.split_once('&') {
        let name = after.split_once(';').map_or(after, |(name, _)| name);
        let is_known = name.starts_with('#') || predefined(name).is_some();
        if !is_known {
            return Err(ReadLogErrorKind::UndefinedEntity { entity: shown(name.as_bytes()) });
        }
        rest = after;
    }
    Ok(())
}
