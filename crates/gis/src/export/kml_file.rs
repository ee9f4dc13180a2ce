//! KML 2.2 (OGC 07-147r2).

use std::io;

use geo::{Coord, LineString, Polygon};
use quick_xml::Writer;
use quick_xml::events::{BytesDecl, BytesText, Event};
use takeline_formats::xml_letters;

use super::map_plane::{cut_areas, cut_line, rounded};
use super::{Drawn, Shape, Sheet};

const NAMESPACE: &str = "http://www.opengis.net/kml/2.2";

type Xml = Writer<Vec<u8>>;

/// Returns KML 2.2: a placemark for each line or area, cut at 180°, on the surface of the sea.
///
/// # Errors
///
/// [`io::Error`] if the text cannot be written, which memory never refuses.
pub fn kml(sheet: &Sheet) -> io::Result<String> {
    let mut writer = Writer::new_with_indent(Vec::new(), b' ', 2);
    writer.write_event(Event::Decl(BytesDecl::new("1.0", Some("UTF-8"), None)))?;
    writer.create_element("kml").with_attribute(("xmlns", NAMESPACE)).write_inner_content(|writer| {
        writer.create_element("Document").write_inner_content(|writer| {
            text(writer, "name", &sheet.title)?;
            text(writer, "description", &sheet.remarks.join(" | "))?;
            sheet.drawn.iter().try_for_each(|drawn| placemark(writer, drawn))
        })?;
        Ok(())
    })?;
    String::from_utf8(writer.into_inner()).map_err(io::Error::other)
}

fn placemark(writer: &mut Xml, drawn: &Drawn) -> io::Result<()> {
    writer.create_element("Placemark").write_inner_content(|writer| {
        text(writer, "name", &drawn.name)?;
        text(writer, "description", &drawn.description)?;
        if !drawn.properties.is_empty() {
            writer.create_element("ExtendedData").write_inner_content(|writer| {
                drawn.properties.iter().try_for_each(|(key, content)| {
                    let data = writer.create_element("Data").with_attribute(("name", *key));
                    data.write_inner_content(|writer| text(writer, "value", content)).map(|_| ())
                })
            })?;
        }
        shape(writer, &drawn.shape)
    })?;
    Ok(())
}

fn shape(writer: &mut Xml, shape: &Shape) -> io::Result<()> {
    writer.create_element("MultiGeometry").write_inner_content(|writer| match shape {
        Shape::Line(places) => cut_line(places).iter().try_for_each(|line| {
            let element = writer.create_element("LineString");
            element.write_inner_content(|writer| on_the_sea(writer, line)).map(|_| ())
        }),
        Shape::Areas(areas) => cut_areas(areas).iter().try_for_each(|area| polygon(writer, area)),
    })?;
    Ok(())
}

fn polygon(writer: &mut Xml, area: &Polygon) -> io::Result<()> {
    writer.create_element("Polygon").write_inner_content(|writer| {
        text(writer, "tessellate", "1")?;
        ring(writer, "outerBoundaryIs", area.exterior())?;
        area.interiors().iter().try_for_each(|hole| ring(writer, "innerBoundaryIs", hole))
    })?;
    Ok(())
}

fn ring(writer: &mut Xml, element: &str, ring: &LineString) -> io::Result<()> {
    writer.create_element(element).write_inner_content(|writer| {
        let element = writer.create_element("LinearRing");
        element.write_inner_content(|writer| coordinates(writer, &ring.0)).map(|_| ())
    })?;
    Ok(())
}

fn on_the_sea(writer: &mut Xml, line: &[Coord]) -> io::Result<()> {
    text(writer, "tessellate", "1")?;
    coordinates(writer, line)
}

fn coordinates(writer: &mut Xml, places: &[Coord]) -> io::Result<()> {
    let tuple = |place: &Coord| {
        let [lon_deg, lat_deg] = rounded(place);
        format!("{lon_deg},{lat_deg}")
    };
    text(writer, "coordinates", &places.iter().map(tuple).collect::<Vec<_>>().join(" "))
}

fn text(writer: &mut Xml, element: &str, content: &str) -> io::Result<()> {
    writer.create_element(element).write_text_content(BytesText::new(&xml_letters(content)))?;
    Ok(())
}
