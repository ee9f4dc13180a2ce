//! Points in the plain form that nearly all logs have, scanned straight from the bytes.
//!
//! What is scanned here is a small part of XML in which nothing can be meant otherwise: no references, no comments, no
//! attributes but `lat` and `lon`, nothing but ASCII. Everything else, broken points and those that lie across two blocks
//! among them, is left to the XML parser, so that there is one reading of a log and not two.

use std::ops::Range;

use takeline::{Latitude, Longitude, Position};

use super::point::{Element, Names, PointKind};
use super::reader::MOST_TEXT_BYTES;
use crate::number;

/// The most elements of one point whose text matters.
const MOST_TEXTS: usize = 6;
/// The deepest nesting inside a point.
const MOST_LEVELS: usize = 8;
const TAG: &[u8] = b"<trkpt";

/// A point of a track, and where its parts lie in the bytes that were scanned.
///
/// One is used again and again: copying it would take longer than the scan.
#[derive(Debug)]
pub(super) struct PlainPoint {
    /// From the sign that opens its tag to behind the one that closes its last.
    pub(super) range: Range<usize>,
    /// Line feeds before that, and inside.
    pub(super) line_feeds: [u64; 2],
    /// Each with its first byte and the one behind its last.
    texts: [(Element, u32, u32); MOST_TEXTS],
    texts_used: usize,
}

impl Default for PlainPoint {
    fn default() -> Self {
        Self { range: 0..0, line_feeds: [0; 2], texts: [(Element::Other, 0, 0); MOST_TEXTS], texts_used: 0 }
    }
}

impl PlainPoint {
    /// Scans white space and one point at the beginning of `bytes`, and gives its position; none for any other form, and where
    /// the bytes end before it.
    pub(super) fn scan(&mut self, bytes: &[u8], names: &mut Names) -> Option<Position> {
        let mut scan = Scan { bytes, at: 0, line_feeds: 0 };
        scan.pass_blank();
        self.range.start = scan.at;
        self.line_feeds[0] = std::mem::take(&mut scan.line_feeds);
        self.texts_used = 0;
        scan.pass(TAG)?;
        let position = scan.position()?;
        if scan.pass(b"/>").is_none() {
            scan.pass(b">")?;
            self.elements(&mut scan, names)?;
        }
        self.range.end = scan.at;
        self.line_feeds[1] = scan.line_feeds;
        Some(position)
    }

    /// The elements whose text matters, in their order, with where it lies.
    pub(super) fn texts(&self) -> impl Iterator<Item = (Element, Range<usize>)> {
        self.texts
            .iter()
            .take(self.texts_used)
            .map(|(element, from, to)| (*element, *from as usize..*to as usize))
    }

    /// Everything up to behind the end of the point.
    fn elements(&mut self, scan: &mut Scan, names: &mut Names) -> Option<()> {
        let mut open: [&[u8]; MOST_LEVELS] = [&[]; MOST_LEVELS];
        let mut level: usize = 0;
        loop {
            scan.pass_blank();
            scan.pass(b"<")?;
            if scan.pass(b"/").is_some() {
                let Some(outer) = level.checked_sub(1) else { return scan.pass(b"trkpt>") };
                scan.pass(open[outer])?;
                scan.pass(b">")?;
                level = outer;
                continue;
            }
            let name = scan.name()?;
            let parent = if level == 0 { Element::Point(PointKind::Track) } else { Element::InPoint };
            let element = match (level, name) {
                (0, b"time") => Element::Time,
                _ => Element::of(parent, local(name)?, names),
            };
            if element == Element::InPoint && scan.begins_element() {
                *open.get_mut(level)? = name;
                level += 1;
                continue;
            }
            let text = scan.text()?;
            scan.pass(b"</")?;
            scan.pass(name)?;
            scan.pass(b">")?;
            if element.holds_text() {
                self.keep(element, text)?;
            }
        }
    }

    fn keep(&mut self, element: Element, text: Range<usize>) -> Option<()> {
        if text.len() > MOST_TEXT_BYTES {
            return None;
        }
        *self.texts.get_mut(self.texts_used)? =
            (element, text.start.try_into().ok()?, text.end.try_into().ok()?);
        self.texts_used += 1;
        Some(())
    }
}

/// The name without its prefix; none for a name that XML does not know.
fn local(name: &[u8]) -> Option<&str> {
    let mut parts = name.split(|byte| *byte == b':');
    let (first, second, none) = (parts.next()?, parts.next(), parts.next());
    let local = second.unwrap_or(first);
    if none.is_some() || local.is_empty() {
        return None;
    }
    std::str::from_utf8(local).ok()
}

struct Scan<'a> {
    bytes: &'a [u8],
    at: usize,
    line_feeds: u64,
}

impl<'a> Scan<'a> {
    #[inline]
    fn next(&self) -> Option<u8> {
        self.bytes.get(self.at).copied()
    }

    #[inline]
    fn pass(&mut self, expected: &[u8]) -> Option<()> {
        self.bytes.get(self.at..)?.starts_with(expected).then(|| self.at += expected.len())
    }

    #[inline]
    fn pass_blank(&mut self) {
        while let Some(byte @ (b' ' | b'\n' | b'\r' | b'\t')) = self.next() {
            self.at += 1;
            self.line_feeds += u64::from(byte == b'\n');
        }
    }

    #[inline]
    fn pass_while(&mut self, belongs: impl Fn(u8) -> bool) -> Range<usize> {
        let from = self.at;
        while self.next().is_some_and(&belongs) {
            self.at += 1;
        }
        from..self.at
    }

    /// Both attributes of the point, in either order.
    fn position(&mut self) -> Option<Position> {
        let (lat_deg, lon_deg) = if let Some(lat_deg) = self.coordinate(b"lat=") {
            (lat_deg, self.coordinate(b"lon=")?)
        } else {
            let lon_deg = self.coordinate(b"lon=")?;
            (self.coordinate(b"lat=")?, lon_deg)
        };
        self.pass_blank();
        let latitude = Latitude::from_degrees(lat_deg).ok()?;
        let longitude = Longitude::from_degrees_either_way(lon_deg).ok()?;
        Some(Position::new(latitude, longitude))
    }

    /// White space and one attribute with a plain decimal in it.
    fn coordinate(&mut self, name: &[u8]) -> Option<f64> {
        let before = (self.at, self.line_feeds);
        self.pass_blank();
        if self.at == before.0 || self.pass(name).is_none() {
            (self.at, self.line_feeds) = before;
            return None;
        }
        let quote = self.next().filter(|byte| matches!(byte, b'"' | b'\''))?;
        let (value, used) = number::scan_plain(&self.bytes[self.at + 1..])?;
        self.at += 1 + used;
        self.pass(&[quote])?;
        Some(value)
    }

    /// A name and the sign that closes its tag.
    fn name(&mut self) -> Option<&'a [u8]> {
        if !self.next()?.is_ascii_alphabetic() {
            return None;
        }
        let is_of_name = |byte: u8| byte.is_ascii_alphanumeric() || matches!(byte, b'_' | b'-' | b'.' | b':');
        let name = self.pass_while(is_of_name);
        self.pass(b">")?;
        Some(&self.bytes[name])
    }

    /// Text up to the next tag.
    fn text(&mut self) -> Option<Range<usize>> {
        let text = self.pass_while(|byte| matches!(byte, b' '..=b'~' if byte != b'<' && byte != b'&'));
        (self.next() == Some(b'<')).then_some(text)
    }

    /// Whether the next thing behind white space is the beginning of an element.
    fn begins_element(&mut self) -> bool {
        let before = (self.at, self.line_feeds);
        self.pass_blank();
        let begins =
            self.next() == Some(b'<') && self.bytes.get(self.at + 1).is_some_and(|byte| *byte != b'/');
        if !begins {
            (self.at, self.line_feeds) = before;
        }
        begins
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn texts(point: &str) -> Option<Vec<String>> {
        let mut plain = PlainPoint::default();
        plain.scan(point.as_bytes(), &mut Names::default())?;
        assert_eq!(plain.range.end, point.len());
        Some(plain.texts().map(|(_, range)| point[range].to_owned()).collect())
    }

    #[test]
    fn common_forms_are_scanned_without_the_parser() {
        let time = "2026-05-01T06:30:00Z";
        for (point, expected) in [
            ("<trkpt lat=\"45.1\" lon=\"-30.1\"/>", vec![]),
            (
                " \r\n<trkpt lon='-30' lat='45' >\n<ele>1</ele>\n<time>2026-05-01T06:30:00Z</time>\n</trkpt>",
                vec![time],
            ),
            (
                "<trkpt lat=\"45.1\" lon=\"-30.1\"><time>2026-05-01T06:30:00Z</time><extensions><a:TPX> <a:hr>97</a:hr>\
                 <a:hAcc>4</a:hAcc></a:TPX></extensions></trkpt>",
                vec![time, "4"],
            ),
        ] {
            let expected = expected.into_iter().map(str::to_owned).collect();
            assert_eq!(texts(point), Some(expected), "{point}");
        }
    }

    #[test]
    fn other_forms_are_left_to_the_parser() {
        for point in [
            "<trkpt lat=\"45.1\" lon=\"-30.1\"><time>2026-05-01T06:30:00Z</time>",
            "<trkpt lat=\"91\" lon=\"-30.1\"/>",
            "<trkpt lat=\"45.1\"/>",
            "<trkpt lat=\"45.1\" lon=\"-30.1\" hacc=\"4\"/>",
            "<trkpt lat=\"45.1\" lon=\"-30.1\"><!-- --></trkpt>",
            "<trkpt lat=\"45.1\" lon=\"-30.1\"><ele>&#49;</ele></trkpt>",
            "<trkpt lat=\"45.1\" lon=\"-30.1\"><name>é</name></trkpt>",
            "<trkpt lat=\"45.1\" lon=\"-30.1\"><ele>1</hdop></trkpt>",
            "<trkpt lat=\"45.1\" lon=\"-30.1\"><x a='1'>1</x></trkpt>",
            "<trkpt lat=\"45.1\" lon=\"-30.1\">text</trkpt>",
            "<trkpt lat=\"45.1\" lon=\"-30.1\"></trkseg>",
            "<trkpts lat=\"45.1\" lon=\"-30.1\"></trkpts>",
            "<rtept lat=\"45.1\" lon=\"-30.1\"></rtept>",
        ] {
            assert_eq!(texts(point), None, "{point}");
        }
    }
}
