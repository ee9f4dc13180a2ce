//! GPX 1.1 out: waypoints, routes and tracks without times, for a handheld receiver or a plotter.

use std::io;

use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesText, Event};
use takeline::Position;
use takeline::sanitised;

const NAMESPACE: &str = "http://www.topografix.com/GPX/1/1";
const CREATOR: &str = concat!("takeline ", env!("CARGO_PKG_VERSION"));

/// A GPX 1.1 document to be written.
///
/// # Accuracy
///
/// Coordinates have eight decimals of a degree, about a millimetre.
///
/// # Examples
///
/// ```
/// use takeline::Position;
/// use takeline_formats::{GpxDocument, GpxPoint};
///
/// let landing = GpxPoint::new(Position::from_degrees(45.1175, -30.1217)?, "LANDING");
/// let document = GpxDocument { name: "Marrowick".into(), waypoints: vec![landing], ..GpxDocument::default() };
/// assert!(document.written()?.contains("<wpt lat=\"45.11750000\" lon=\"-30.12170000\">"));
/// # Ok::<(), Box<dyn std::error::Error>>(())
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GpxDocument {
    /// What the file is about.
    pub name: String,
    /// What has to be known of it.
    pub description: String,
    /// Places by themselves.
    pub waypoints: Vec<GpxPoint>,
    /// Lines to be followed.
    pub routes: Vec<GpxLine>,
    /// Lines to be looked at.
    pub tracks: Vec<GpxLine>,
}

/// A line of a GPX document.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct GpxLine {
    /// What it is called; small receivers show few letters.
    pub name: String,
    /// What has to be known of it.
    pub description: String,
    /// Its points in order.
    pub points: Vec<GpxPoint>,
}

/// A place of a GPX document.
#[derive(Debug, Clone, PartialEq)]
pub struct GpxPoint {
    /// Where it is.
    pub position: Position,
    /// What it is called.
    pub name: Option<String>,
    /// What has to be known of it.
    pub description: Option<String>,
}

type Xml = Writer<Vec<u8>>;

impl GpxPoint {
    /// A named place.
    pub fn new(position: Position, name: impl Into<String>) -> Self {
        Self { position, name: Some(name.into()), description: None }
    }

    /// The same with a description.
    #[must_use]
    pub fn described(self, description: impl Into<String>) -> Self {
        Self { description: Some(description.into()), ..self }
    }
}

impl From<Position> for GpxPoint {
    fn from(position: Position) -> Self {
        Self { position, name: None, description: None }
    }
}

impl GpxDocument {
    /// Returns the document as text.
    ///
    /// # Errors
    ///
    /// [`io::Error`] if the text cannot be written, which memory never refuses.
    pub fn written(&self) -> io::Result<String> {
        let mut writer = Writer::new_with_indent(Vec::new(), b' ', 2);
        writer.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
        writer
            .create_element("gpx")
            .with_attributes([("version", "1.1"), ("creator", CREATOR), ("xmlns", NAMESPACE)])
            .write_inner_content(|writer| {
                writer.create_element("metadata").write_inner_content(|writer| {
                    text(writer, "name", &self.name)?;
                    text(writer, "desc", &self.description)
                })?;
                self.waypoints.iter().try_for_each(|place| point(writer, "wpt", place))?;
                self.routes.iter().try_for_each(|line| route(writer, line))?;
                self.tracks.iter().try_for_each(|line| track(writer, line))
            })?;
        String::from_utf8(writer.into_inner()).map_err(io::Error::other)
    }
}

fn route(writer: &mut Xml, line: &GpxLine) -> io::Result<()> {
    writer.create_element("rte").write_inner_content(|writer| {
        text(writer, "name", &line.name)?;
        text(writer, "desc", &line.description)?;
        line.points.iter().try_for_each(|place| point(writer, "rtept", place))
    })?;
    Ok(())
}

fn track(writer: &mut Xml, line: &GpxLine) -> io::Result<()> {
    writer.create_element("trk").write_inner_content(|writer| {
        text(writer, "name", &line.name)?;
        text(writer, "desc", &line.description)?;
        writer.create_element("trkseg").write_inner_content(|writer| {
            line.points.iter().try_for_each(|place| point(writer, "trkpt", place))
        })?;
        Ok(())
    })?;
    Ok(())
}

fn point(writer: &mut Xml, element: &str, place: &GpxPoint) -> io::Result<()> {
    let latitude = format!("{:.8}", place.position.latitude().degrees());
    let mut longitude = format!("{:.8}", place.position.longitude().degrees());
    // the schema has longitudes from -180 to less than 180
    if longitude == "180.00000000" {
        longitude.insert(0, '-');
    }
    let element = writer
        .create_element(element)
        .with_attributes([("lat", latitude.as_str()), ("lon", longitude.as_str())]);
    if place.name.is_none() && place.description.is_none() {
        element.write_empty()?;
        return Ok(());
    }
    element.write_inner_content(|writer| {
        place.name.iter().try_for_each(|name| text(writer, "name", name))?;
        place.description.iter().try_for_each(|description| text(writer, "desc", description))
    })?;
    Ok(())
}

fn text(writer: &mut Xml, element: &str, content: &str) -> io::Result<()> {
    let content = xml_letters(content);
    writer.create_element(element).write_text_content(BytesText::new(&content))?;
    Ok(())
}

/// What XML 1.0 lets stand in a text at all, on one line; marks of markup are escaped by the writers.
///
/// # Examples
///
/// ```
/// assert_eq!(takeline_formats::xml_letters("cod\u{1b}\u{ffff}\nbass"), "cod\u{fffd}\u{fffd} bass");
/// ```
#[must_use]
pub fn xml_letters(content: &str) -> String {
    let plain = content.replace('\u{a0}', " ");
    sanitised::line(&plain)
        .chars()
        .map(|letter| if matches!(letter, '\u{fffe}' | '\u{ffff}') { '\u{fffd}' } else { letter })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// GPX 1.1, `longitudeType`: from -180 to less than 180.
    #[test]
    fn the_meridian_of_180_degrees_is_written_west() {
        for lon_deg in [180.0, -180.0, 179.999_999_999] {
            let there = GpxPoint::from(Position::from_degrees(-16.8, lon_deg).unwrap());
            let document = GpxDocument { waypoints: vec![there], ..GpxDocument::default() };
            let text = document.written().unwrap();
            assert!(text.contains("lon=\"-180.00000000\""), "{text}");
        }
    }
}
