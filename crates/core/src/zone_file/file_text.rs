//! The text of a file walked without reading it: where its features stand, and in which line anything else does.

use super::Place;
use crate::geojson_text::BYTE_ORDER_MARK;

/// The text of a collection, taken apart.
#[derive(Debug)]
pub(super) struct FeatureTexts<'t> {
    /// The text without its features: their list is empty.
    pub(super) frame: Vec<u8>,
    /// The text of each.
    pub(super) features: Vec<&'t [u8]>,
}

/// Takes a text apart; none if it is not plainly a collection. Nothing of what is found is known to be JSON.
pub(super) fn feature_texts(bytes: &[u8]) -> Option<FeatureTexts<'_>> {
    let mut scan = Scan { bytes, at: 0 };
    scan.expect(b'{')?;
    loop {
        let name = scan.text()?;
        scan.expect(b':')?;
        if name == b"features" && scan.peek()? == b'[' {
            break;
        }
        scan.skip_value()?;
        scan.expect(b',')?;
    }
    scan.expect(b'[')?;
    let begins = scan.at;
    let mut features = Vec::new();
    if scan.peek()? != b']' {
        loop {
            scan.peek().filter(|byte| *byte == b'{')?;
            let from = scan.at;
            scan.skip_value()?;
            features.push(&bytes[from..scan.at]);
            if scan.peek()? == b']' {
                break;
            }
            scan.expect(b',')?;
        }
    }
    let frame = [&bytes[..begins], &bytes[scan.at..]].concat();
    Some(FeatureTexts { frame, features })
}

/// The lines of a file, and the places of its features: says where in the text something is that was found in its values.
///
/// # Examples
///
/// ```
/// use takeline::zone_file::{FeatureRef, Place, TextLines};
///
/// let lines = TextLines::of(b"{ \"features\": [\n { \"id\": \"cove\",\n \"properties\": { \"take\": \"none\" } } ] }");
/// let mut place = Place::default();
/// place.feature = Some(FeatureRef { number: 1, id: None });
/// assert_eq!(lines.line(&place), Some(2));
/// place.member = vec!["take".to_owned()];
/// assert_eq!(lines.line(&place), Some(3));
/// ```
#[derive(Debug)]
pub struct TextLines<'t> {
    bytes: &'t [u8],
    /// Where each line ends.
    ends: Vec<usize>,
    /// Where each feature begins.
    features: Vec<usize>,
}

/// One step into a value.
#[derive(Debug, Clone, Copy)]
enum Step<'s> {
    Member(&'s str),
    Entry(usize),
}

impl<'t> TextLines<'t> {
    /// Takes a text that is JSON; of other texts nothing is found.
    #[must_use]
    pub fn of(bytes: &'t [u8]) -> Self {
        let bytes = bytes.strip_prefix(BYTE_ORDER_MARK).unwrap_or(bytes);
        let ends = bytes.iter().enumerate().filter(|(_, byte)| **byte == b'\n').map(|(at, _)| at).collect();
        let mut scan = Scan { bytes, at: 0 };
        let mut features = Vec::new();
        if scan.step(Step::Member("features")).is_some() && scan.expect(b'[').is_some() {
            while scan.peek().is_some_and(|byte| byte != b']') {
                features.push(scan.at);
                if scan.skip_value().is_none() || scan.expect(b',').is_none() {
                    break;
                }
            }
        }
        Self { bytes, ends, features }
    }

    /// Returns the line of a place, counted from 1: that of the innermost of its members that is found. None where there is no
    /// such feature, and of a place outside all features where there is no such member.
    #[must_use]
    pub fn line(&self, place: &Place) -> Option<usize> {
        let at = match &place.feature {
            Some(feature) => {
                let from = *self.features.get(feature.number.checked_sub(1)?)?;
                self.vertex(from, place).or_else(|| self.member(from, &place.member)).unwrap_or(from)
            }
            None => self.walk(0, place.member.iter().map(|word| step(word)))?,
        };
        Some(self.ends.partition_point(|end| *end < at) + 1)
    }

    fn vertex(&self, feature: usize, place: &Place) -> Option<usize> {
        let entry = |number: usize| Step::Entry(number.saturating_sub(1));
        let found = place.vertex?;
        let way = [Step::Member("geometry"), Step::Member("coordinates")].into_iter();
        let vertex = found.vertex.map(|(vertex, _)| entry(vertex));
        self.walk(feature, way.chain(found.part.map(entry)).chain([entry(found.ring)]).chain(vertex))
    }

    /// A member of a feature or, as the reader leaves that out, of its properties; else the one about it.
    fn member(&self, feature: usize, member: &[String]) -> Option<usize> {
        (1..=member.len()).rev().find_map(|count| {
            let steps = || member[..count].iter().map(|word| step(word));
            let inside = [Step::Member("properties")].into_iter().chain(steps());
            self.walk(feature, inside).or_else(|| self.walk(feature, steps()))
        })
    }

    fn walk<'s>(&self, from: usize, steps: impl Iterator<Item = Step<'s>>) -> Option<usize> {
        let mut scan = Scan { bytes: self.bytes, at: from };
        for step in steps {
            scan.step(step)?;
        }
        scan.peek()?;
        Some(scan.at)
    }
}

fn step(word: &str) -> Step<'_> {
    let entry = word.strip_prefix("entry ").and_then(|number| number.parse::<usize>().ok());
    entry.map_or(Step::Member(word), |number| Step::Entry(number.saturating_sub(1)))
}

/// A place in a text that may be JSON.
#[derive(Debug)]
struct Scan<'t> {
    bytes: &'t [u8],
    at: usize,
}

impl<'t> Scan<'t> {
    /// The next byte that is no white space; it is not passed.
    fn peek(&mut self) -> Option<u8> {
        loop {
            let byte = *self.bytes.get(self.at)?;
            if !matches!(byte, b' ' | b'\n' | b'\r' | b'\t') {
                return Some(byte);
            }
            self.at += 1;
        }
    }

    fn expect(&mut self, byte: u8) -> Option<()> {
        self.peek().filter(|found| *found == byte)?;
        self.at += 1;
        Some(())
    }

    /// A text in quotes, as it is written; passed.
    fn text(&mut self) -> Option<&'t [u8]> {
        self.expect(b'"')?;
        let from = self.at;
        self.skip_text()?;
        Some(&self.bytes[from..self.at - 1])
    }

    /// Passes the rest of a text and the quote that ends it.
    fn skip_text(&mut self) -> Option<()> {
        loop {
            match self.bytes.get(self.at)? {
                b'"' => {
                    self.at += 1;
                    return Some(());
                }
                b'\\' => self.at += 2,
                _ => self.at += 1,
            }
        }
    }

    /// Passes a value: an object or a list to its end, anything else to where it must end.
    fn skip_value(&mut self) -> Option<()> {
        let mut depth = 0_usize;
        self.peek()?;
        loop {
            match *self.bytes.get(self.at)? {
                b'"' => {
                    self.at += 1;
                    self.skip_text()?;
                    if depth == 0 {
                        return Some(());
                    }
                }
                b'{' | b'[' => {
                    depth += 1;
                    self.at += 1;
                }
                b'}' | b']' => {
                    if depth == 0 {
                        return Some(());
                    }
                    depth -= 1;
                    self.at += 1;
                    if depth == 0 {
                        return Some(());
                    }
                }
                b',' if depth == 0 => return Some(()),
                _ => self.at += 1,
            }
        }
    }
    /// Goes to a member or an entry of the value here.
    fn step(&mut self, step: Step<'_>) -> Option<()> {
        match step {
            Step::Member(name) => {
                self.expect(b'{')?;
                while self.text()? != name.as_bytes() {
                    self.expect(b':')?;
                    self.skip_value()?;
                    self.expect(b',')?;
                }
                self.expect(b':')
            }
            Step::Entry(number) => {
                self.expect(b'[')?;
                for _ in 0..number {
                    self.skip_value()?;
                    self.expect(b',')?;
                }
                self.peek().filter(|byte| *byte != b']').map(|_| ())
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::{FeatureRef, VertexRef};
    use super::*;

    fn taken_apart(text: &str) -> Option<(String, Vec<&str>)> {
        let found = feature_texts(text.as_bytes())?;
        let features = found.features.iter().map(|text| std::str::from_utf8(text).unwrap()).collect();
        Some((String::from_utf8(found.frame).unwrap(), features))
    }

    #[test]
    fn features_are_found_whatever_stands_about_them() {
        let text = r#"{ "a": [1, "]\"}", {"features": [{}]}], "b":-1.5e3 , "features" : [ {"x":"}]"} , {"y":[{}]} ] , "c": null }"#;
        let (frame, features) = taken_apart(text).unwrap();
        assert_eq!(features, [r#"{"x":"}]"}"#, r#"{"y":[{}]}"#]);
        assert_eq!(
            frame,
            r#"{ "a": [1, "]\"}", {"features": [{}]}], "b":-1.5e3 , "features" : [] , "c": null }"#
        );
        assert_eq!(taken_apart(r#"{"features":[]}"#).unwrap().1.len(), 0);
    }

    #[test]
    fn what_is_not_plainly_a_collection_is_left_alone() {
        for text in [
            "",
            "{",
            "[]",
            "{}",
            r#"{"features":{}}"#,
            r#"{"features":[1]}"#,
            r#"{"features":[{}"#,
            r#"{"features":[{},]}"#,
            r#"{"features":[{} {}]}"#,
            r#"{"features":[{"#,
            r#"{"a":1}"#,
            r#"{"a":"\"#,
            r#"{"features":[{"a":"}]}"#,
        ] {
            assert!(feature_texts(text.as_bytes()).is_none(), "{text}");
        }
    }

    const FILE: &str = "{ \"type\": \"FeatureCollection\",\n \"takeline\": { \"a\": [1,\n 2] },\n \"features\": [\n { \"id\": \"x\",\n \"geometry\": { \"coordinates\": [[[1, 2],\n [3, 4]]] },\n \"properties\": {\n \"when\": { \"any\": [ 1,\n 2 ] } } },\n {}\n] }";

    fn place(feature: Option<usize>, member: &[&str]) -> Place {
        Place {
            feature: feature.map(|number| FeatureRef { number, id: None }),
            member: member.iter().map(|word| (*word).to_owned()).collect(),
            ..Place::default()
        }
    }

    #[test]
    fn lines_of_features_members_and_vertices_are_found() {
        for mark in ["", "\u{feff}"] {
            let text = format!("{mark}{FILE}");
            let lines = TextLines::of(text.as_bytes());
            let line = |feature: Option<usize>, member: &[&str]| lines.line(&place(feature, member));
            let vertex = Some(VertexRef { part: None, ring: 1, vertex: Some((2, 2)) });
            assert_eq!(lines.line(&Place { vertex, ..place(Some(1), &[]) }), Some(7));
            assert_eq!(line(Some(2), &[]), Some(11));
            assert_eq!(line(Some(1), &["when", "any", "entry 2"]), Some(10));
            assert_eq!(line(Some(1), &["when", "nothing"]), Some(9));
            assert_eq!(line(None, &["takeline", "a", "entry 2"]), Some(3));
            assert_eq!(line(Some(3), &[]), None);
        }
        assert_eq!(TextLines::of(b"no JSON").line(&place(Some(1), &[])), None);
    }
}
