//! XML as a tree, small and strict: KML and GPX read it.
//!
//! A file that ends in the middle, closes what it did not open, or uses an entity that nobody defined is a fault, never a shorter file.

use quick_xml::events::{BytesRef, BytesStart, Event};
use quick_xml::{Reader, XmlVersion};

use super::fault::ImportFault;
use super::source::text;

/// How deep elements may be nested.
const DEEPEST: usize = 64;
/// The most elements of a file, each taking some hundred bytes of memory.
const MOST_ELEMENTS: usize = 1_000_000;
/// The most attributes of an element; the reader holds each against all before it.
const MOST_ATTRIBUTES: usize = 256;

/// One element.
#[derive(Debug, Default)]
pub(super) struct Element {
    /// Its name without a prefix.
    pub(super) name: String,
    pub(super) attributes: Vec<(String, String)>,
    /// All text directly in it.
    pub(super) text: String,
    pub(super) children: Vec<Element>,
}

impl Element {
    /// Its children of a name.
    pub(super) fn all<'e, 'n>(&'e self, name: &'n str) -> impl Iterator<Item = &'e Self> + use<'e, 'n> {
        self.children.iter().filter(move |child| child.name == name)
    }

    /// Its first child of a name.
    pub(super) fn first(&self, name: &str) -> Option<&Self> {
        self.children.iter().find(|child| child.name == name)
    }

    /// The text of its first child of a name; none where that is blank.
    pub(super) fn text_of(&self, name: &str) -> Option<&str> {
        self.first(name).map(|child| child.text.trim()).filter(|text| !text.is_empty())
    }

    /// Its only child of a name.
    pub(super) fn only(&self, name: &str, place: &str) -> Result<Option<&Self>, ImportFault> {
        let mut named = self.all(name);
        match (named.next(), named.next()) {
            (_, Some(_)) => Err(ImportFault::at(
                place,
                format!("a {} has several elements {name:?}, and one is meant", self.name),
                "delete all but the right one in the source",
            )),
            (first, None) => Ok(first),
        }
    }

    pub(super) fn attribute(&self, name: &str) -> Option<&str> {
        self.attributes.iter().find(|(known, _)| known == name).map(|(_, value)| value.as_str())
    }
}

/// Elements that are open, and what came before.
struct Tree {
    open: Vec<Element>,
    root: Option<Element>,
    count: usize,
}

/// Reads a whole file.
pub(super) fn parse(bytes: &[u8]) -> Result<Element, ImportFault> {
    let mut reader = Reader::from_str(text(bytes)?);
    let mut tree = Tree { open: Vec::new(), root: None, count: 0 };
    loop {
        let event =
            reader.read_event().map_err(|error| broken(reader.error_position(), &error.to_string()))?;
        let at = reader.buffer_position();
        match event {
            Event::Start(tag) => tree.start(&tag, at)?,
            Event::Empty(tag) => {
                tree.start(&tag, at)?;
                tree.end();
            }
            Event::End(_) => tree.end(),
            Event::Text(text) => tree.text(&text),
            Event::CData(text) => tree.text(&text),
            Event::GeneralRef(reference) => tree.text(character(&reference, at)?.encode_utf8(&mut [0; 4])),
            Event::DocType(doctype) if doctype.contains('[') => {
                return Err(broken(at, "it defines entities of its own, which are not read"));
            }
            Event::Decl(_) | Event::DocType(_) | Event::Comment(_) | Event::PI(_) => {}
            Event::Eof => return tree.finish(at),
        }
    }
}

impl Tree {
    fn start(&mut self, tag: &BytesStart, at: u64) -> Result<(), ImportFault> {
        self.count += 1;
        if self.open.len() >= DEEPEST || self.count > MOST_ELEMENTS {
            return Err(broken(at, "it has too many elements, or they are nested too deep"));
        }
        if self.open.is_empty() && self.root.is_some() {
            return Err(broken(at, "it goes on after its last element"));
        }
        if tag.attributes().with_checks(false).take(MOST_ATTRIBUTES + 1).count() > MOST_ATTRIBUTES {
            return Err(broken(at, &format!("an element has more than {MOST_ATTRIBUTES} attributes")));
        }
        let attributes = tag.attributes().map(|attribute| {
            let attribute = attribute.map_err(|error| broken(at, &error.to_string()))?;
            let value = attribute
                .normalized_value(XmlVersion::Implicit1_0)
                .map_err(|error| broken(at, &error.to_string()))?;
            Ok((attribute.key.as_ref().to_owned(), value.into_owned()))
        });
        let attributes = attributes.collect::<Result<_, ImportFault>>()?;
        let name = tag.local_name().as_ref().to_owned();
        self.open.push(Element { name, attributes, ..Element::default() });
        Ok(())
    }

    fn end(&mut self) {
        let Some(done) = self.open.pop() else { return }; // the reader itself refuses an end without a start
        match self.open.last_mut() {
            Some(parent) => parent.children.push(done),
            None => self.root = Some(done),
        }
    }

    fn text(&mut self, text: &str) {
        if let Some(element) = self.open.last_mut() {
            element.text.push_str(text);
        }
    }

    fn finish(self, at: u64) -> Result<Element, ImportFault> {
        match self.open.last() {
            Some(open) => Err(broken(at, &format!("it ends inside <{}>", open.name))),
            None => self.root.ok_or_else(|| broken(at, "there is no element in it")),
        }
    }
}

fn character(reference: &BytesRef, at: u64) -> Result<char, ImportFault> {
    let undefined = || broken(at, &format!("nobody defines &{};", &**reference));
    if let Ok(Some(character)) = reference.resolve_char_ref() {
        return Ok(character);
    }
    match &**reference {
        "amp" => Ok('&'),
        "lt" => Ok('<'),
        "gt" => Ok('>'),
        "quot" => Ok('"'),
        "apos" => Ok('\''),
        _ => Err(undefined()),
    }
}

fn broken(at: u64, text: &str) -> ImportFault {
    ImportFault::whole(
        format!("at byte {at} it is not XML that can be read: {text}"),
        "save it again from the program that made it",
    )
}
